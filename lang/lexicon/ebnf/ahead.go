package ebnf

// Looking ahead for what the text repeats.

import (
	"slices"

	"github.com/alecthomas/participle/v2/ebnf"
)

// saidAgain tells that what is looked ahead for says nothing new: each alternative of it is a plain list of tokens,
// and what follows begins with a list of the same tokens.
func (w *writer) saidAgain(ahead *ebnf.Expression, rest []*ebnf.Term) bool {
	want, ok := w.starts(bareTerms(ahead), nil, 0)
	if !ok {
		return false
	}
	most := 0
	for _, s := range want {
		most = max(most, len(s))
	}
	got, ok := w.starts(rest, nil, most)
	return ok && slices.EqualFunc(want, got, slices.Equal)
}

func bareTerms(e *ebnf.Expression) []*ebnf.Term {
	return []*ebnf.Term{{Group: &ebnf.SubExpression{Expr: e}}}
}

// maxStarts bounds the lists that are compared.
const maxStarts = 50

// starts lists the token lists that terms begin with, each cut off at most tokens (0: not at all). ok is false where a
// repetition comes before that, or where there are too many.
func (w *writer) starts(terms []*ebnf.Term, before [][]string, most int) (out [][]string, ok bool) {
	if before == nil {
		before = [][]string{nil}
	}
	full := func(s []string) bool { return most > 0 && len(s) >= most }
	if len(terms) == 0 || !slices.ContainsFunc(before, func(s []string) bool { return !full(s) }) {
		return before, len(before) <= maxStarts
	}
	t := terms[0]
	if t.Repetition != "" || t.Group != nil && t.Group.Lookahead != ebnf.LookaheadAssertionNone || len(before) > maxStarts {
		return nil, false
	}
	expr := w.rules[t.Name]
	if t.Group != nil {
		expr = t.Group.Expr
	}
	var next [][]string
	for _, s := range before {
		switch {
		case full(s):
			next = append(next, s)
		case expr == nil:
			next = append(next, append(slices.Clone(s), t.Literal+w.names.Tokens[t.Token]))
		default:
			for _, a := range expr.Alternatives {
				more, ok := w.starts(a.Terms, [][]string{s}, most)
				if !ok {
					return nil, false
				}
				next = append(next, more...)
			}
		}
	}
	return w.starts(terms[1:], distinct(next), most)
}

// distinct drops lists that come a second time, as kinds of tokens may have one name.
func distinct(lists [][]string) [][]string {
	var out [][]string
	for _, l := range lists {
		if !slices.ContainsFunc(out, func(o []string) bool { return slices.Equal(o, l) }) {
			out = append(out, l)
		}
	}
	return out
}
