package lexicon

// Looking words up.

import (
	"slices"
	"strings"
	"unicode"

	"lampwarden/lang/source"
)

// Answer is what is known of a word. It is empty if nothing is; Near then has words that may have been meant.
type Answer struct {
	Word    string
	Entries []*Entry // that have the word in their heading
	Inside  []*Entry // others that explain it, or that use it in what they explain
	Codes   []Code
	Near    []string
}

// Code is a code with what it is the code of.
type Code struct {
	Kind string // "diagnostic" or "finding"
	source.CodeInfo
}

// Found tells that something is known.
func (a *Answer) Found() bool { return len(a.Entries)+len(a.Inside)+len(a.Codes) > 0 }

// maxNear bounds the words that are offered instead of an unknown one.
const maxNear = 5

// Look finds a word, several words in a row, or a code. Small and capital letters count as alike if nothing is found
// else; so do a number and the N that stands for one in a heading.
func (b *Book) Look(word string) *Answer {
	a := &Answer{Word: strings.Join(strings.Fields(word), " ")}
	for _, same := range []func(x, y string) bool{equal, strings.EqualFold} {
		for _, e := range b.Entries() {
			switch {
			case slices.ContainsFunc(e.Terms, func(t string) bool { return same(t, a.Word) || same(t, withN(a.Word)) }):
				a.Entries = append(a.Entries, e)
			case slices.ContainsFunc(e.Words, func(t string) bool { return same(t, a.Word) }) || e.hasPart(a.Word, same):
				a.Inside = append(a.Inside, e)
			}
		}
		for _, g := range b.Groups {
			for _, c := range g.Codes {
				if same(string(c.Code), a.Word) {
					a.Codes = append(a.Codes, Code{g.Kind, c})
				}
			}
		}
		if a.Found() {
			return a
		}
	}
	a.Near = b.near(a.Word)
	return a
}

func equal(x, y string) bool { return x == y }

// withN writes N for a word that is a number: "at most 3 times" as "at most N times".
func withN(text string) string {
	words := strings.Fields(text)
	for i, w := range words {
		if strings.IndexFunc(w, func(r rune) bool { return !unicode.IsDigit(r) }) < 0 {
			words[i] = "N"
		}
	}
	return strings.Join(words, " ")
}

// hasPart tells that the word is one of several in a row that the entry explains.
func (e *Entry) hasPart(word string, same func(x, y string) bool) bool {
	for _, t := range slices.Concat(e.Terms, e.Words) {
		if slices.ContainsFunc(strings.Fields(t), func(p string) bool { return same(p, word) }) {
			return true
		}
	}
	return false
}

// Known lists all that can be looked up: words, then codes.
func (b *Book) Known() []string {
	var out []string
	for _, e := range b.Entries() {
		out = append(append(out, e.Terms...), e.Words...)
	}
	for _, g := range b.Groups {
		for _, c := range g.Codes {
			out = append(out, string(c.Code))
		}
	}
	return out
}

// near lists what may have been meant: the closest in spelling, then what the word is a part of.
func (b *Book) near(word string) []string {
	known := b.Known()
	var out []string
	add := func(s string) {
		if s != "" && len(out) < maxNear && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	left := slices.Clone(known)
	for range 3 {
		c := source.Closest(word, left)
		add(c)
		left = slices.DeleteFunc(left, func(s string) bool { return s == c })
	}
	if len(word) < 3 {
		return out
	}
	for _, s := range known {
		if strings.Contains(strings.ToLower(s), strings.ToLower(word)) {
			add(s)
		}
	}
	return out
}
