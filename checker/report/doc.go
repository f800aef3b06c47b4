// Package report renders what a proof run or a rehearsal found: text for people, JSON for programs.
//
// Duty. A report says what was decided, shows for each failure the story that breaks the requirement (wall-clock
// stamps, cause, each light that changed, which mode won, which lost and where that is written), what the verdicts
// rest on, and the cautions. It decides nothing: every fact comes from checker.Report or from an interpreter's
// timeline.
//
// Method. A timeline is first told as data (Story, story.go): the steps that matter to the circuits and modes in
// question, with circuits that change in the same way for the same reason taken together. What the resolver made for
// itself is told as what it stands for: a circuit that is the colour of a light only with that light (colour.go), a plant
// mode as what the generator, the late return or the sensor does (plant.go), the rungs of daylight that follow close on
// each other as one rise or fall (input.go), a condition on a sum as the sum with its terms (sums.go). Figures that are
// added up here (energy.go, sums.go, hunting.go) explain a verdict; they never make one. The renderers (text.go,
// json.go) only lay that data out, so they cannot differ in substance. Text is at most Options.Width columns wide;
// all names go through source.Escape, so that no site file can steer a terminal. Nothing depends on the order of a
// map, on time, or on the machine, unless Options.Stats asks for figures.
//
// Naming key: a teller knows the site's words and places; an entry is one step of a story; a mark is an entry that says
// what the story comes to; a hue is the colour of a light around a step; a phrase is a condition on one sum; a page is
// text being laid out.
package report
