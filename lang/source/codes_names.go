package source

// The codes of names and their meaning, which lang/resolve reports, in alphabetical order.

func nameCodes() []CodeInfo {
	return []CodeInfo{}
}
