// Package ebnf writes a grammar of participle in the notation of ISO/IEC 14977, without the commas of that standard
// between the parts of a sequence:
//
//	join-declaration = "join" name "," name { "," name } "while" condition ;
//
// The productions keep their order. Their names are those of the Go types, in small letters with hyphens, with a few
// whole words instead of short ones. What a grammar looks ahead for, which is no part of the text, stands between
// question marks, as that standard has it for remarks: `? next: ... ?` must follow there, `? not next: ... ?` must
// not. One that only says which alternative is meant, and that the text then repeats, is left out.
package ebnf

import (
	"fmt"
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2/ebnf"
)

// Names says how a grammar's own names are written.
type Names struct {
	// Tokens has a name for each kind of token that stands in the grammar.
	Tokens map[string]string
	// Leaves are productions that stand for one kind of token: they are left out, and their uses are named so.
	Leaves map[string]string
	// Words are the parts of names that are written in full: "Decl" as "declaration".
	Words map[string]string
	// Skip are productions that are left out.
	Skip []string
}

// Write gives the grammar, as participle prints it, with lines of at most width columns where that can be.
func Write(grammar string, n Names, width int) (string, error) {
	g, err := ebnf.ParseString(grammar)
	if err != nil {
		return "", fmt.Errorf("the grammar cannot be read: %w", err)
	}
	w := writer{names: n, rules: map[string]*ebnf.Expression{}}
	for _, p := range g.Productions {
		w.rules[p.Production] = p.Expression
	}
	skip := map[string]bool{}
	for _, s := range n.Skip {
		skip[s] = true
	}
	var b strings.Builder
	for _, p := range g.Productions {
		if _, leaf := n.Leaves[p.Production]; leaf || skip[p.Production] {
			continue
		}
		b.WriteString(layout(w.name(p.Production), w.alternatives(bare(p.Expression)), width))
	}
	if w.unknown != "" {
		return "", fmt.Errorf("the grammar has tokens <%s>, for which there is no name", w.unknown)
	}
	return b.String(), nil
}

// writer writes the parts of a grammar.
type writer struct {
	names   Names
	rules   map[string]*ebnf.Expression
	unknown string // a kind of token without a name
}

// name turns "WhileClause" into "while-clause".
func (w *writer) name(s string) string {
	if leaf, ok := w.names.Leaves[s]; ok {
		return leaf
	}
	var parts []string
	from := 0
	for i := 1; i <= len(s); i++ {
		if i < len(s) && (s[i] < 'A' || s[i] > 'Z') {
			continue
		}
		word := s[from:i]
		if full, ok := w.names.Words[word]; ok {
			word = full
		}
		parts = append(parts, strings.ToLower(word))
		from = i
	}
	return strings.Join(parts, "-")
}

// bare takes off parentheses that hold a whole expression.
func bare(e *ebnf.Expression) *ebnf.Expression {
	for len(e.Alternatives) == 1 && len(e.Alternatives[0].Terms) == 1 {
		t := e.Alternatives[0].Terms[0]
		if t.Group == nil || t.Group.Lookahead != ebnf.LookaheadAssertionNone || t.Repetition != "" {
			break
		}
		e = t.Group.Expr
	}
	return e
}

// alternatives gives each alternative of an expression as text, once. One that is a choice in parentheses adds its own.
func (w *writer) alternatives(e *ebnf.Expression) []string {
	var out []string
	for _, s := range e.Alternatives {
		alone := bare(&ebnf.Expression{Alternatives: []*ebnf.Sequence{s}})
		if len(alone.Alternatives) > 1 {
			out = append(out, w.alternatives(alone)...)
			continue
		}
		out = append(out, w.sequence(alone.Alternatives[0].Terms))
	}
	return once(out)
}

// once drops what comes a second time.
func once(list []string) []string {
	var out []string
	for _, s := range list {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

func (w *writer) sequence(terms []*ebnf.Term) string {
	var out []string
	for i, t := range terms {
		if g := t.Group; g != nil && g.Lookahead != ebnf.LookaheadAssertionNone {
			if text := w.ahead(g, terms[i+1:]); text != "" {
				out = append(out, text)
			}
			continue
		}
		out = append(out, w.repeated(t))
	}
	return strings.Join(out, " ")
}

// ahead writes what the grammar looks ahead for.
func (w *writer) ahead(g *ebnf.SubExpression, rest []*ebnf.Term) string {
	text := strings.Join(w.alternatives(bare(g.Expr)), " | ")
	if g.Lookahead == ebnf.LookaheadAssertionNegative {
		return "? not next: " + text + " ?"
	}
	if w.saidAgain(g.Expr, rest) {
		return ""
	}
	return "? next: " + text + " ?"
}

// repeated writes a term with its repetition.
func (w *writer) repeated(t *ebnf.Term) string {
	alone := w.alone(t)
	switch t.Repetition {
	case "?":
		return "[ " + w.inside(t) + " ]"
	case "*":
		return "{ " + w.inside(t) + " }"
	case "+":
		return alone + " { " + w.inside(t) + " }"
	}
	return alone
}

// alone writes a term without its repetition, in parentheses if it needs them.
func (w *writer) alone(t *ebnf.Term) string {
	if t.Group != nil && len(w.alternatives(bare(t.Group.Expr))) > 1 {
		return "( " + w.inside(t) + " )"
	}
	return w.inside(t)
}

// inside writes a term without its repetition and without parentheses.
func (w *writer) inside(t *ebnf.Term) string {
	switch {
	case t.Literal != "":
		return t.Literal
	case t.Token != "":
		name, ok := w.names.Tokens[t.Token]
		if !ok {
			w.unknown = t.Token
		}
		return name
	case t.Name != "":
		return w.name(t.Name)
	}
	return strings.Join(w.alternatives(bare(t.Group.Expr)), " | ")
}
