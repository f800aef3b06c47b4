// Package report renders what a proof run or a rehearsal found: text for people, JSON for programs.
//
// Duty. A report says what was decided, shows for each failure the story that breaks the requirement (wall-clock
// stamps, cause, each light that changed, which mode won, which lost and where that is written), what the verdicts
// rest on, and the cautions. It decides nothing: every fact comes from checker.Report or from an interpreter's
// timeline.
//
// Method. A timeline is first told as data (Story, story.go): the steps that matter to the circuits and modes in
// question, with circuits that change in the same way for the same reason taken together. The renderers (text.go,
// json.go) only lay that data out, so they cannot differ in substance. Text is at most Options.Width columns wide;
// all names go through source.Escape, so that no site file can steer a terminal. Nothing depends on the order of a
// map, on time, or on the machine, unless Options.Stats asks for figures.
//
// Naming key: a teller knows the site's words and places; an entry is one step of a story; a page is text being
// laid out.
package report
