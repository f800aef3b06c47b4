package source

// The codes of names and their meaning, a to l.

func nameCodesAtoL() []CodeInfo {
	return []CodeInfo{
		{
			Code:  BadCount,
			Title: "A count that makes no sense",
			Explanation: "A count has to leave something open: a flash happens at least once, `at least 3` needs at least " +
				"three to choose from, `at least 0` is always so, and `at most 0 times` is written `never`.",
			Example: `area hall
circuit spots in hall { dims }
require "two lights" { always at least 2 circuits in hall lit }
`,
		},
		{
			Code:  BadRange,
			Title: "A range of light without sense",
			Explanation: "A range runs from less to more. The least lit level of a circuit is above 0 %, since every circuit " +
				"can be off anyway. No light is above 100 % or below 0 %.",
			Example: `area hall
circuit spots in hall { dims 80 % to 20 % }
`,
		},
		{
			Code:  ClauseConflict,
			Title: "Two clauses that exclude each other",
			Explanation: "A mode follows a condition (`while`), or starts and ends on triggers (`starts`, `ends`, `at`, " +
				"`for`), or has states of its own (`states`); it is one of the three. A pulse has no on delay and no " +
				"off delay. A circuit either dims or switches, and a switched one has no fade.",
			Example: `alarm fire
mode signal {
    while fire, pulse 30 s, off delay 5 s
}
`,
		},
		{
			Code:  DuplicateClause,
			Title: "Something is given twice",
			Explanation: "Each property of a declaration, and each clause that a mode has once, is given at most once, so that " +
				"none is overruled in silence.",
			Example: `area hall
circuit spots in hall { dims  power 5 W  power 6 W }
`,
		},
		{
			Code:  DuplicateName,
			Title: "A name that is already taken",
			Explanation: "Areas, circuits, groups, inputs, bands, modes and supplies share one name space, so that a name " +
				"means the same thing everywhere. States of one mode, and the names in quotes of requirements and of " +
				"scenarios, are different too.",
			Example: `area hall
alarm hall
`,
		},
		{
			Code:  EmptyBand,
			Title: "A band without length",
			Explanation: "A band runs from its first time of day up to, not including, its second. One that ends when it " +
				"begins would never hold.",
			Example: `band noon 12:00 to 12:00
`,
		},
		{
			Code:  EmptySelection,
			Title: "Words that choose nothing",
			Explanation: "A tag that no area carries, an area without circuits or an `except` that takes out everything would " +
				"make a setting or a requirement that speaks of nothing, and so seems to hold. That is nearly always " +
				"a slip.",
			Example: `area hall : escape
circuit spots in hall { dims }
alarm fire
mode alarm_light {
    while fire
    circuits in escpe areas full
}
`,
		},
		{
			Code:  EndlessStage,
			Title: "A stage that hides the next one",
			Explanation: "A stage without a length stays until the mode ends, so only the last stage of a sequence can do " +
				"without. A flash that is counted gives its stage a length.",
			Example: `area hall
circuit spots in hall { dims }
alarm fire
mode alarm_light {
    while fire
    first spots at 50 %
    then spots full
}
`,
		},
		{
			Code:  EqualsConflict,
			Title: "A rule for equals that contradicts",
			Explanation: "`equals` decides between modes of which none outranks the other. Two modes have one rule, and modes " +
				"that the precedence puts one above the other have none.",
			Example: `switch a, b
mode low { while a }
mode high { while b }
precedence high > low
equals low, high: highest
`,
		},
		{
			Code:  EventNotHere,
			Title: "An event where a condition has to last",
			Explanation: "An event such as a tap is true at its instant only. A `while` condition, a case of a setting and a " +
				"condition given at the start are read for as long as they last. Start and end a mode on the event " +
				"instead.",
			Example: `area hall
button key in hall
mode light { while tap key }
`,
		},
		{
			Code:  FlashConflict,
			Title: "Flashes that do not go together",
			Explanation: "All flashes of one stage share one rhythm, and a counted flash gives its stage the length, which " +
				"then has no other one. A flash between off and off shows nothing.",
			Example: `area hall
circuit spots, wall in hall { dims }
alarm fire
mode alarm_light {
    while fire
    flash spots, 500 ms on, 500 ms off
    flash wall, 1 s on, 1 s off
}
`,
		},
		{
			Code:  FlashTooLong,
			Title: "A flash with too many parts",
			Explanation: "A flash with an end is followed part by part, so its on and off parts in one stage are bounded. A " +
				"flash without end costs nothing: let the mode's end cut it off.",
			Example: `area hall
circuit spots in hall { dims }
alarm fire
mode alarm_light {
    while fire
    first for 2 h flash spots, 500 ms on, 500 ms off
    then spots full
}
`,
		},
		{
			Code:        GroupCycle,
			Title:       "A group that holds itself",
			Explanation: "A group may list other groups, but not itself, be it by way of others.",
			Example: `group left = right
group right = left
`,
		},
		{
			Code:  LightNotHere,
			Title: "A mode that looks at light",
			Explanation: "Modes make light and do not see it; only requirements and expectations speak of light. Name the " +
				"modes, inputs and bands that make the light instead.",
			Example: `area hall
circuit spots in hall { dims }
mode echo { while spots lit }
`,
		},
		{
			Code:        ListedTwice,
			Title:       "A name that stands twice in a list",
			Explanation: "A second mention in the same list adds nothing, so it is likely that another name was meant.",
			Example: `band day 07:00 to 22:00
band late 22:00 to 07:00
bands day, late, day cover the day
`,
		},
	}
}
