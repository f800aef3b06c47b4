package source

// The codes of structure: rows of circuits, areas in areas, lights in turn. They are reported by lang/resolve and stand in alphabetical order.

// Codes of structure; structureCodes explains each.
const (
	AreaCycle     Code = "area-cycle"
	ModeNotHere   Code = "mode-not-here"
	TurnTooLong   Code = "turn-too-long"
	UnknownNumber Code = "unknown-number"
)

func structureCodes() []CodeInfo {
	return []CodeInfo{
		{AreaCycle, "an area that lies in itself",
			"An area may lie in another one, which may lie in a third, and so on; in the end there is one that lies in none.",
			"area hall in house\narea house in hall\n"},
		{ModeNotHere, "a mode where only the plant is seen",
			"An alarm is latched by its panel, which is no part of the controller: the reset can speak of inputs and bands, but not " +
				"of modes.",
			`button key
mode night { starts on tap key }
alarm fire latched until night
`},
		{TurnTooLong, "lights in turn that outlast their stage",
			"`for 3 s` before lights in turn is the length of the whole; the last circuit has to have its turn before it ends.",
			`area stairs
lamps step[1..8] in stairs { dims }
alarm fire
mode way_out { while fire  first for 3 s light step in turn, 500 ms apart  then all circuits full }
`},
		{UnknownNumber, "a number that the row does not have",
			"`lamps spot[1..16] in hall` declares sixteen circuits, `spot[1]` to `spot[16]`. Only these can be named.",
			`area hall
lamps spot[1..16] in hall { dims }
alarm fire
mode alert { while fire  spot[17] full }
`},
	}
}
