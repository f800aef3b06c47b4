package syntax_test

// The examples of the codes that this package reports.

import (
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func TestCodeExamples(t *testing.T) {
	for _, code := range []source.Code{
		source.BadCharacter, source.BadNumber, source.BadTime, source.EmptyFile, source.MissingUnit, source.NotText,
		source.ReservedWord, source.TooDeep, source.TooLarge, source.TooMany, source.UnclosedBrace, source.UnclosedText,
		source.UnexpectedText, source.UnknownUnit, source.UnknownWord, source.UnopenedBrace, source.WrongUnit,
	} {
		info, ok := source.LookUp(code)
		if !ok || info.Title == "" || info.Explanation == "" {
			t.Errorf("%s: not explained", code)
			continue
		}
		text := info.Example
		if code == source.TooLarge { // too large to be kept
			text = strings.Repeat("# more\n", syntax.MaxSize/7+1)
		}
		set, _, ds := parse("example.lamp", text)
		if !slices.ContainsFunc(ds, func(d source.Diagnostic) bool { return d.Code == code }) {
			t.Errorf("%s: the example gives\n%s", code, show(set, ds))
		}
	}
}
