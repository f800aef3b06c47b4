package source

// The codes of names and their meaning, m to z.

func nameCodesMtoZ() []CodeInfo {
	return []CodeInfo{
		{
			Code:  ModeCycle,
			Title: "Modes that depend on each other in a circle",
			Explanation: "Each mode steps after the modes that it names, because it reads their new state; so there must be a " +
				"first. In a trigger or its `if`, `was (...)` reads a mode as it was before this reaction and makes " +
				"no dependency.",
			Example: `switch a, b
mode left { while a and not right }
mode right { while b and not left }
`,
		},
		{
			Code:        ModeNeverStarts,
			Title:       "A mode that nothing makes active",
			Explanation: "A mode has a `while` condition, or something that starts it, or states.",
			Example: `area hall
circuit spots in hall { dims }
mode light { spots full }
`,
		},
		{
			Code:  NoChange,
			Title: "A step that changes nothing",
			Explanation: "A step of a scenario gives an input its other value, and `given` names inputs that are away from " +
				"rest at the start. What changes nothing is a slip in the story.",
			Example: `alarm fire
scenario "twice" {
    at 12:00 fire raised
    at 12:01 fire raised
}
`,
		},
		{
			Code:  NoPresence,
			Title: "An area without a presence input",
			Explanation: "`presence in hall` is true while some presence input of the area is; an area that has none is never " +
				"occupied. A template takes only areas with one if it says `with presence`.",
			Example: `area hall
mode light { while presence in hall }
`,
		},
		{
			Code:  NoStart,
			Title: "A scenario that never begins",
			Explanation: "A scenario starts at its `start`, or else one minute before its first step. One that has neither has " +
				"no beginning.",
			Example: `alarm fire
scenario "calm" { expect not fire }
`,
		},
		{
			Code:        NoTitle,
			Title:       "A requirement or scenario without a name",
			Explanation: "Reports speak of requirements and scenarios by the name in quotes, so it is not empty.",
			Example: `alarm fire
require "" { never fire }
`,
		},
		{
			Code:  NotOneInput,
			Title: "More than one input where one is wanted",
			Explanation: "`lasts at least` in an assumption, `given` and each step of a scenario speak of one input: its " +
				"event, its value, or `not` its value. In an area with several presence inputs, name one of them.",
			Example: `alarm fire, smoke
assume fire or smoke lasts at least 2 s
`,
		},
		{
			Code:  PackTwice,
			Title: "A requirement pack used twice alike",
			Explanation: "A pack may be used several times, each time with other parameters, such as two fire inputs. Used twice " +
				"with the same ones it would say everything twice.",
			Example: `area hall : escape
circuit spots in hall { dims }
alarm fire
supply mains
use "escape"
use "escape" with response = 5 s
`,
		},
		{
			Code:  PrecedenceCycle,
			Title: "A precedence that runs in a circle",
			Explanation: "Precedence says who wins. If it ran in a circle, a mode would win over itself. All `precedence` " +
				"lines of a site count together.",
			Example: `switch a, b
mode left { while a }
mode right { while b }
precedence left > right
precedence right > left
`,
		},
		{
			Code:        PresenceNowhere,
			Title:       "A presence input in no area",
			Explanation: "A presence input tells of somebody in an area, so it has one.",
			Example: `presence pir
`,
		},
		{
			Code:  SameInstant,
			Title: "Two changes at one instant",
			Explanation: "At an instant at most one input changes, and none at the start-up itself. Let some time pass between " +
				"the steps of a scenario, be it a millisecond: `22:00:00.001`.",
			Example: `alarm fire, smoke
scenario "both" {
    at 12:00 fire raised
    at 12:00 smoke raised
}
`,
		},
		{
			Code:  SiteTooLarge,
			Title: "A site that expands beyond all bounds",
			Explanation: "Templates and quantifiers are written out for every area and circuit. A site may have 6000 modes and " +
				"four million conditions and places of circuits in settings, all written out. Name a group or one " +
				"area instead of `all circuits` where that is what is meant, or describe the building in parts.",
			Example: hugeSite(),
		},
		{
			Code:        StageOrder,
			Title:       "`first` in the middle of a sequence",
			Explanation: "A sequence begins with `first` and goes on with `then`.",
			Example: `area hall
circuit spots in hall { dims }
alarm fire
mode alarm_light {
    while fire
    first for 2 s spots off
    first spots full
}
`,
		},
		{
			Code:  UnknownName,
			Title: "A name that nothing has",
			Explanation: "Every name is declared somewhere in the files of the site; where does not matter. A state belongs to " +
				"its mode, and a template has an instance only in the areas that it is for.",
			Example: `alarm fire
mode alarm_light { while fier }
`,
		},
		{
			Code:        UnknownPack,
			Title:       "There is no such requirement pack",
			Explanation: "`use` takes a requirement pack of the standard library by its name in quotes.",
			Example: `use "escpe"
`,
		},
		{
			Code:  UnknownParameter,
			Title: "A pack has no such parameter",
			Explanation: "The parameters that a use of a pack may set are those that the pack declares, each with the value that it " +
				"has otherwise.",
			Example: `area hall : escape
circuit spots in hall { dims }
alarm fire
supply mains
use "escape" with respnse = 3 s
`,
		},
		{
			Code:        UnknownStage,
			Title:       "A stage that the mode does not have",
			Explanation: "Stages are counted from 1, in written order.",
			Example: `area hall
circuit spots in hall { dims }
alarm fire
mode alarm_light {
    while fire
    first for 2 s spots off
    then spots full
}
require "later" { alarm_light in stage 3 is possible }
`,
		},
		{
			Code:        UnknownTimeZone,
			Title:       "A time zone that does not exist",
			Explanation: "Time zones have the names of the IANA time zone database, such as \"Europe/Dublin\".",
			Example: `site "House" { time zone "Europe/Dublni" }
`,
		},
		{
			Code:  UnreachableState,
			Title: "A state that no transition leads to",
			Explanation: "A mode begins in its first state. A state that cannot be reached from there by transitions is never " +
				"taken.",
			Example: `area hall
button key in hall
mode keypad {
    states auto, bright, film
    on tap key: auto -> bright -> auto
}
`,
		},
		{
			Code:  WasNotHere,
			Title: "`was` where a condition has to last",
			Explanation: "`was (...)` compares with the moment before a reaction. It belongs to what happens at an instant: " +
				"the triggers of a mode and their `if`. A `while` condition, a case of a setting, a requirement and " +
				"an expectation are read all the time.",
			Example: `alarm fire, smoke
mode alarm_light { while fire and not was (smoke) }
`,
		},
		{
			Code:  WrongFile,
			Title: "A declaration in the wrong kind of file",
			Explanation: "A requirement pack declares parameters, constants, assumptions and requirements, and nothing else, so that " +
				"it adds nothing to a building. The files of a site declare no parameters; they set those of a pack with `use`.",
			Example: `parameter response = 5 s
`,
		},
		{
			Code:  WrongKind,
			Title: "A thing of the wrong kind",
			Explanation: "The name is declared, but as something that makes no sense at this place: a circuit where an area is " +
				"wanted, an area as a condition, a tap on an alarm.",
			Example: `area hall
alarm fire
circuit spots in fire { dims }
`,
		},
		{
			Code:  WrongWord,
			Title: "Words that do not fit the thing",
			Explanation: "What can be said depends on the kind: an alarm is raised or clear, a contact open or closed, a " +
				"switch on or off, a supply live or lost, a bell rings, a circuit is lit, off or at a level.",
			Example: `contact window
mode light { while window raised }
`,
		},
		{
			Code:        ZeroDuration,
			Title:       "A duration of nothing",
			Explanation: "Every duration is longer than 0. To say that there is no delay, fade or length, leave it out.",
			Example: `alarm fire
mode alarm_light { while fire, off delay 0 s }
`,
		},
	}
}
