// The registry of findings: what each built-in check looks for, and the smallest site that shows it.

package checker

import (
	"strings"

	"lampwarden/lang/source"
)

// Codes of the findings. Like those of diagnostics they are words, never renamed and never used again for something
// else; lang/SEMANTICS.md, section 6, says what each means to the letter.
const (
	CodeAmbiguous     = "ambiguous"
	CodeClockChange   = "clock-change"
	CodeHunting       = "hunting"
	CodeNeverActive   = "never-active"
	CodeNeverWins     = "never-wins"
	CodeUncovered     = "uncovered"
	CodeVacuous       = "vacuous"
	CodeVanishingBand = "vanishing-band"
)

// Codes gives the registry in alphabetical order. Each example is a whole site without errors in which the built-in
// checks find that one thing and nothing else.
func Codes() []source.CodeInfo {
	return []source.CodeInfo{
		{Code: CodeAmbiguous,
			Title: "two modes ask for different light, and nothing decides",
			Explanation: "Where no order leads from one mode to the other, installers and controllers decide by accident. " +
				"Write which one comes first (`precedence a > b`), or how equals settle it (`equals a, b: highest` or `latest`).",
			Example: exampleHead + "mode welcome { while presence in hall  spots at 60 % }\n" +
				"mode clean { while cleaning  spots full }\n"},
		{Code: CodeClockChange,
			Title: "a clock time that the change of clocks leaves out or brings twice",
			Explanation: "When clocks are put forward, the times between do not come on that day, and what should begin or end with them does not. " +
				"When they are put back, those times come twice. Choose a time outside these hours, or give the mode another end as well.",
			Example: in("53.27 N, 9.05 W", "Europe/Dublin") + "mode airing { starts at 01:30  for 10 min }\n"},
		{Code: CodeHunting,
			Title: "lamps that switch themselves by their own light",
			Explanation: "A daylight sensor sees the lamps that it switches: on in the dark they make it bright, so they go off, so it is dark. " +
				"The level at which they go off has to exceed the one at which they come on by more than what they add. Widen the hysteresis, " +
				"or turn the sensor away from them.",
			Example: exampleHead + "circuit desk in hall { dims  adds 200 lux }\ndaylight sky in hall\n" +
				"mode work { while sky below 100 lux hysteresis 50 lux  desk full }\n"},
		{Code: CodeNeverActive,
			Title: "a mode that can never become active",
			Explanation: "No order and timing of events starts it. Often a condition contradicts itself, or asks for a band that " +
				"does not hold at the clock time of the start.",
			Example: exampleHead + "band late 22:00 to 06:00\n" +
				"mode holiday { starts at 06:45 if late  for 5 min }\n"},
		{Code: CodeNeverWins,
			Title: "a setting that never decides any light",
			Explanation: "Whenever it asks, something else decides: a mode that comes before its own, or a later setting of the " +
				"same stage, which counts instead of an earlier one. Take it out, or mend the order.",
			Example: exampleHead + "mode welcome { while presence in hall  spots at 60 %  circuits in hall at 20 % }\n"},
		{Code: CodeUncovered,
			Title: "a time of day in none of the bands that are to cover the day",
			Explanation: "`bands ... cover the day` promises that one of them holds at any time. In a gap every setting that " +
				"depends on them falls silent. Move the end of one band or the start of the next.",
			Example: exampleHead + "band day 06:00 to 22:00\nband late 22:30 to 06:00\nbands day, late cover the day\n"},
		{Code: CodeVacuous,
			Title: "a requirement whose `whenever` never comes true",
			Explanation: "It holds, but only because it never has anything to say. The condition is not what was meant, or " +
				"nothing in the site can bring it about.",
			Example: exampleHead + "band day 06:00 to 18:00\nband late 20:00 to 06:00\n" +
				"require \"lit late\" { whenever day and late then within 2 s spots lit }\n"},
		{Code: CodeVanishingBand,
			Title: "a band by the sun that does not hold on some dates",
			Explanation: "In summer it may not get dark at all, and in winter not light; and an end by the sun may come to lie on the other side of the " +
				"other end. What hangs on the band is then silent for weeks, or holds all day. Use another event, or a clock time beside it.",
			Example: in("64.15 N, 21.94 W", "Atlantic/Reykjavik") + "band night_time dusk to dawn\n"},
	}
}

// in puts the head of an example at a place.
func in(place, zone string) string {
	return strings.Replace(exampleHead, "\n", " { place "+place+"  time zone \""+zone+"\" }\n", 1)
}

// exampleHead is what the examples have in common.
const exampleHead = `site "Example"
supply mains
area hall
circuit spots in hall { dims  fed by mains }
presence pir in hall
switch cleaning in hall
`

// Explain gives the registry's entry of a code.
func Explain(code string) (source.CodeInfo, bool) {
	for _, c := range Codes() {
		if string(c.Code) == code {
			return c, true
		}
	}
	return source.CodeInfo{}, false
}
