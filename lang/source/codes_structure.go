package source

// The codes of structure: rows of circuits. They are reported by lang/resolve and stand in alphabetical order.

// Codes of structure; structureCodes explains each.
const (
	UnknownNumber Code = "unknown-number"
)

func structureCodes() []CodeInfo {
	return []CodeInfo{
		{UnknownNumber, "a number that the row does not have",
			"`lamps spot[1..16] in hall` declares sixteen circuits, `spot[1]` to `spot[16]`. Only these can be named.",
			`area hall
lamps spot[1..16] in hall { dims }
alarm fire
mode alert { while fire  spot[17] full }
`},
	}
}
