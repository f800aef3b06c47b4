// Package lexicon takes the language reference apart and looks words up in it.
//
// The reference is one text for two readers, people and this package; so it keeps to a form:
//
//   - A line "## Chapter" begins a chapter, a line "### word, word" an entry. The words of an entry's heading are what
//     it explains: words of the language, also several in a row ("long press"), or things of the text ("comment").
//   - An entry begins with what it is for. Paragraphs with a label follow: **Written.**, **Meaning.**, **Caution.**
//   - A last paragraph **Words.** lists, in backquotes, further words that the entry explains.
//   - Paragraphs, lists ("- "), tables and blocks of code between ``` marks are all that stands in it. The word after
//     the marks says what a block shows and so how it is tested; Sample has the list.
//
// Parse reads a reference into a Book; Book.Look finds a word; Answer.Text and Answer.JSON print what was found. Codes of
// diagnostics and findings come from their registries and are looked up beside the words.
package lexicon

import "lampwarden/lang/source"

// Book is a reference that was read.
type Book struct {
	Chapters []*Chapter
	// Groups are registries of codes to look up beside the words, each with its title; Parse leaves them empty.
	Groups []Group
}

// Group is a registry of codes.
type Group struct {
	Title string // "Diagnostics"
	Kind  string // "diagnostic"
	Codes []source.CodeInfo
}

// Chapter is a part of the reference.
type Chapter struct {
	Title   string
	Intro   []Piece // what stands before the first entry
	Entries []*Entry
}

// Entry explains the words of its heading.
type Entry struct {
	Terms   []string // of the heading, in written order
	Words   []string // further words, from its Words paragraph
	Chapter string
	Purpose string  // its first sentence
	Body    []Piece // without the Words paragraph
	Line    int     // of the heading, counted from 1
}

// PieceKind tells what a piece of text is.
type PieceKind uint8

// The kinds of pieces.
const (
	Paragraph PieceKind = iota
	List
	Table
	Block
)

// Piece is a paragraph, a list, a table or a block of code.
type Piece struct {
	Kind PieceKind
	// Lines has a paragraph's text as one line, a list's items, or a block's lines.
	Lines []string
	Rows  [][]string // of a table, its head first
	Info  string     // what stands after the ``` of a block
	Line  int        // where the text begins; of a block the line after the marks
}

// Samples lists all blocks of code whose info begins with the word, with the entries they stand in (nil in an
// introduction), in order.
func (b *Book) Samples(word string) []Sample {
	var out []Sample
	add := func(pieces []Piece, c *Chapter, e *Entry) {
		for _, p := range pieces {
			if p.Kind != Block {
				continue
			}
			if s := newSample(p); s.Word == word {
				s.Chapter, s.Entry = c, e
				out = append(out, s)
			}
		}
	}
	for _, c := range b.Chapters {
		add(c.Intro, c, nil)
		for _, e := range c.Entries {
			add(e.Body, c, e)
		}
	}
	return out
}

// Entries lists all entries in order.
func (b *Book) Entries() []*Entry {
	var out []*Entry
	for _, c := range b.Chapters {
		out = append(out, c.Entries...)
	}
	return out
}
