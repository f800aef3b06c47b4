package source

// The codes of structure: rows of circuits, areas in areas, lights in turn, alarms, schedules. They are reported by lang/resolve and stand in alphabetical order.

// Codes of structure; structureCodes explains each.
const (
	AreaCycle     Code = "area-cycle"
	BadCell       Code = "bad-cell"
	BadPath       Code = "bad-path"
	BadSchedule   Code = "bad-schedule"
	FileNotRead   Code = "file-not-read"
	UnknownColumn Code = "unknown-column"
	ModeNotHere   Code = "mode-not-here"
	TurnTooLong   Code = "turn-too-long"
	UnknownNumber Code = "unknown-number"
)

func structureCodes() []CodeInfo {
	return []CodeInfo{
		{AreaCycle, "an area that lies in itself",
			"An area may lie in another one, which may lie in a third, and so on; in the end there is one that lies in none.",
			"area hall in house\narea house in hall\n"},
		{BadCell, "a cell of a schedule that cannot be read",
			"A cell has to say what its column is for: a name of the language, an area, a number with a unit, a yes or no.",
			`# schedule.csv:
#   | Ref,Load
#   | spots,42 W
#   | wall,about 20 W
area hall
circuits from "schedule.csv" in hall { name "Ref"  power "Load" }
`},
		{BadPath, "a path that leads elsewhere",
			"A schedule stands in the folder of the site file that names it, or in a folder in it. Its path has `/` between its parts, " +
				"does not begin with one, and has no `..`.",
			`area hall
circuits from "../schedule.csv" in hall { name "Ref" }
`},
		{BadSchedule, "a schedule that is no sound table",
			"A schedule is CSV as in RFC 4180: a header that names the columns, and rows with as many cells as that, parted by commas. A cell " +
				"with a comma, a quote or a line end stands in quotes, with every quote in it written twice.",
			`# schedule.csv:
#   | Ref,Load
#   | spots,42 W,spare
area hall
circuits from "schedule.csv" in hall { name "Ref" }
`},
		{FileNotRead, "a schedule that cannot be read",
			"The path is taken from the folder of the site file. Perhaps it is misspelt, or the file is too large (more than 4 MiB).",
			`area hall
circuits from "no_such_file.csv" in hall { name "Ref" }
`},
		{UnknownColumn, "a column that the schedule does not have",
			"Columns are named as in the first line of the schedule, capital letters and all.",
			`# schedule.csv:
#   | Ref,Load
#   | spots,42 W
area hall
circuits from "schedule.csv" in hall { name "Reference"  power "Load" }
`},
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
