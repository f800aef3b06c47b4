package source

// The codes of supplies and faults. They are reported by lang/resolve and stand in alphabetical order.

// Codes of supplies and faults; powerCodes explains each.
const (
	EmptyBattery  Code = "empty-battery"
	FaultNotHere  Code = "fault-not-here"
	MissingClause Code = "missing-clause"
	NeverFlat     Code = "never-flat"
	NotAFault     Code = "not-a-fault"
	UnlistedFault Code = "unlisted-fault"
)

func powerCodes() []CodeInfo {
	return []CodeInfo{
		{EmptyBattery, "a battery of no capacity",
			"A battery with a capacity runs flat when that is used up; one of `0 Wh` would always be flat. Without a capacity a " +
				"battery is taken never to run flat.",
			"supply mains\nbattery ups { capacity 0 Wh  charged by mains }\n"},
		{FaultNotHere, "a fault where it cannot stand",
			"The controller does not know that something has failed: an input that sticks looks like any other. So modes and " +
				"assumptions do not speak of faults. Requirements name the ones that they bear after `even with`, and may then " +
				"have them in their conditions; scenarios may use any.",
			`area hall
circuit spots in hall { dims }
presence pir in hall
mode light { while pir stuck on  spots full }
`},
		{MissingClause, "something that has to be said is missing",
			"A generator stands in for a mains supply (`backs`) and takes some time to run up (`starts within`). A circuit that " +
				"comes back late (`returns after`) has a feed to come back with it.",
			"supply mains\ngenerator diesel { backs mains }\n"},
		{NeverFlat, "a battery that is taken never to run flat",
			"A battery is counted on without end unless the site says what it holds (`capacity`) and when it is used (`charged by`: " +
				"while that supply is lost).",
			"supply mains\nbattery ups { capacity 600 Wh }\nrequire \"long enough\" { battery ups lasts at least 1 h }\n"},
		{NotAFault, "something that is no fault after `even with`",
			"A requirement bears what it lists after `even with`: a lost mains supply, a flat battery, a controller that restarts, a " +
				"lost control bus, a lamp that fails, an input that sticks, a generator that fails to start.",
			`area hall
circuit spots in hall { dims }
alarm fire
require "calm" { never spots lit even with fire }
`},
		{UnlistedFault, "a fault that the requirement does not list",
			"A fault strikes only where a requirement says `even with`. A condition on another fault would never hold, so that the " +
				"requirement would say nothing.",
			`area hall
circuit spots in hall { dims }
require "calm" { never spots failed and spots lit }
`},
	}
}
