package source

// The codes of the text alone, which lang/syntax reports, in alphabetical order.

import "strings"

// Codes of the text.
const (
	BadCharacter   Code = "bad-character"
	BadNumber      Code = "bad-number"
	BadTime        Code = "bad-time"
	EmptyFile      Code = "empty-file"
	MissingUnit    Code = "missing-unit"
	NotText        Code = "not-text"
	ReservedWord   Code = "reserved-word"
	TooDeep        Code = "too-deep"
	TooLarge       Code = "too-large"
	TooMany        Code = "too-many-errors"
	UnclosedBrace  Code = "unclosed-brace"
	UnclosedText   Code = "unclosed-text"
	UnexpectedText Code = "unexpected-text"
	UnknownUnit    Code = "unknown-unit"
	UnknownWord    Code = "unknown-word"
	UnopenedBrace  Code = "unopened-brace"
	WrongUnit      Code = "wrong-unit"
)

func textCodes() []CodeInfo {
	return []CodeInfo{
		{BadCharacter, "a character without meaning",
			"The language is written with letters, digits, `_` and the marks { } ( ) [ ] : , = > -> .. % # \". Any other " +
				"character may stand only in a text in quotes or in a comment.",
			"area hall; area stairs\n"},
		{BadNumber, "a number that cannot be meant",
			"A duration is a whole number of milliseconds up to a year, a percentage has at most two decimals and is " +
				"at most 100 %, and a word that starts with digits is not a name.",
			"circuit a in hall { fade 0.5 ms }\n"},
		{BadTime, "not a time of day",
			"A time of day is HH:MM, HH:MM:SS or HH:MM:SS.mmm, from 00:00 to 24:00; 24:00 is the same as 00:00.",
			"band evening 17:00 to 22:75\n"},
		{EmptyFile, "a file that declares nothing",
			"There is nothing to prove about an empty file. Perhaps the wrong file was named, or it was not saved.",
			"# nothing yet\n"},
		{MissingUnit, "a number without its unit",
			"Units are part of a number, so that `5` is never taken for seconds where minutes were meant.",
			"circuit a in hall { fade 700 }\n"},
		{NotText, "not a text file",
			"A site file is plain text in UTF-8. This one has bytes that no such text has; it may be a document of " +
				"another program, or text in another encoding.",
			"site \"Caf\xe9\"\n"},
		{ReservedWord, "a word of the language as a name",
			"Words with a meaning of their own cannot be names, so that a sentence has one reading only. The command " +
				"`lexicon` lists them.",
			"area hall, no\n"},
		{TooDeep, "parentheses too deep inside one another",
			"At most 200 parentheses and `not` may stand inside one another. A condition that needs more is better " +
				"divided among several modes.",
			"require \"a\" { never " + strings.Repeat("(", 201) + "fire" + strings.Repeat(")", 201) + " }\n"},
		{TooLarge, "a file too large",
			"A file may have 4 MiB. A site may be divided among any number of files.", ""},
		{TooMany, "too many errors",
			"After a hundred errors the rest of a file is not read: most likely it is not a site file, or one early slip " +
				"caused the others.",
			strings.Repeat("?\n", 120)},
		{UnclosedBrace, "a brace that is not closed",
			"Every `{` has its `}`. The next declaration begins before this one has ended.",
			"mode day {\n    while fire\n    all circuits full\n\nmode night { all circuits off }\n"},
		{UnclosedText, "a text without closing quotes",
			"A text stands in `\"` marks and ends on the line on which it begins. Inside it, `\\\"` stands for the mark " +
				"itself and `\\\\` for a backslash.",
			"site \"Quay 3\n"},
		{UnexpectedText, "something that does not fit here",
			"What stands here cannot follow what stands before it. The message tells what may stand here.",
			"mode day { while fire all circuits 50 }\ngroup all_of_it a, b\n"},
		{UnknownUnit, "an unknown unit",
			"Units are ms, s, min and h for durations, % for light, mW, W and kW for power, mWh, Wh and kWh for energy, and " +
				"N, S, E and W for places.",
			"circuit a in hall { fade 2 sec }\n"},
		{UnknownWord, "an unknown word",
			"A word of the language was expected here; this one is not known. Most likely it is misspelt.",
			"circut spots in hall { dims }\n"},
		{UnopenedBrace, "a closing brace too much",
			"This `}` closes nothing. Perhaps a `{` is missing before it, or one `}` is written twice.",
			"area hall\n}\n"},
		{WrongUnit, "a unit of another kind",
			"The unit tells what a number means; a duration cannot stand where a percentage is expected, and so on.",
			"circuit a in hall { fade 5 % }\n"},
	}
}
