package lexicon

// Blocks of code, and the marks that say how each is tested.

import "strings"

// Sample is a block of code. For the word "lamp" the marks are these, and a comment in the first line tells people the
// same ("# Proved."):
//
//	(none)         the text has no errors, and its scenarios meet their expectations
//	head           the site that stands before every other sample that does not begin with `site`; there is one
//	proves         moreover every requirement in it holds
//	fails "NAME"   the requirement NAME fails, and any other holds
//	finds CODE     moreover the built-in checks find that, and nothing else
//	error CODE     the text gives that one diagnostic
//	pack           the sample is a requirement pack; the next sample may use it as "example"
//
// Other words are "csv" with a file name, for a file that samples read, "ebnf" for grammar and "words" for
// the reserved words.
type Sample struct {
	Word    string // "lamp"
	Mark    string // "fails"
	Arg     string // the name after the mark, without its quotes
	Text    string
	Line    int // of its first line
	Chapter *Chapter
	Entry   *Entry // nil in the introduction of a chapter
}

func newSample(p Piece) Sample {
	word, rest, _ := strings.Cut(strings.TrimSpace(p.Info), " ")
	mark, arg, _ := strings.Cut(strings.TrimSpace(rest), " ")
	return Sample{
		Word: word, Mark: mark, Arg: strings.Trim(strings.TrimSpace(arg), `"`),
		Text: strings.Join(p.Lines, "\n") + "\n", Line: p.Line,
	}
}
