package source

// The codes of structure: rows of circuits, areas in areas. They are reported by lang/resolve and stand in alphabetical order.

// Codes of structure; structureCodes explains each.
const (
	AreaCycle     Code = "area-cycle"
	UnknownNumber Code = "unknown-number"
)

func structureCodes() []CodeInfo {
	return []CodeInfo{
		{AreaCycle, "an area that lies in itself",
			"An area may lie in another one, which may lie in a third, and so on; in the end there is one that lies in none.",
			"area hall in house\narea house in hall\n"},
		{UnknownNumber, "a number that the row does not have",
			"`lamps spot[1..16] in hall` declares sixteen circuits, `spot[1]` to `spot[16]`. Only these can be named.",
			`area hall
lamps spot[1..16] in hall { dims }
alarm fire
mode alert { while fire  spot[17] full }
`},
	}
}
