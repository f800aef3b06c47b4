// Package source holds what every later stage needs to speak about text:
// files, spans, and diagnostics with codes, labelled related places, notes
// and suggestions.
//
// A span is a pair of byte offsets and a file id. Lines and columns appear
// only when a diagnostic is rendered. The package imports nothing of ours.
package source

import (
	"sort"
	"unicode/utf8"
)

// FileID names one file of a Set. The zero value means "no file".
type FileID int32

// Span is a half-open range of bytes [Start, End) in one file. The zero Span
// points nowhere.
type Span struct {
	File       FileID
	Start, End int32
}

// IsZero reports whether the span points nowhere.
func (s Span) IsZero() bool { return s.File == 0 }

// To returns the smallest span that covers s and t, which are in one file.
func (s Span) To(t Span) Span {
	if s.IsZero() {
		return t
	}
	if t.IsZero() || t.File != s.File {
		return s
	}
	return Span{s.File, min(s.Start, t.Start), max(s.End, t.End)}
}

// File is one named text.
type File struct {
	ID    FileID
	Name  string // as the user gave it
	Text  string
	lines []int32 // byte offset of each line's start
}

// Set is the files of one run, in the order they were added.
type Set struct{ files []*File }

// Add puts a file in the set and returns it.
func (s *Set) Add(name, text string) *File {
	f := &File{ID: FileID(len(s.files) + 1), Name: name, Text: text, lines: []int32{0}}
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' {
			f.lines = append(f.lines, int32(i+1))
		}
	}
	s.files = append(s.files, f)
	return f
}

// File returns the file with the id, or nil.
func (s *Set) File(id FileID) *File {
	if s == nil || id < 1 || int(id) > len(s.files) {
		return nil
	}
	return s.files[id-1]
}

// Position is a place as a person reads it: line and column from 1, the
// column counted in characters.
type Position struct {
	File      string
	Line, Col int
}

// Position tells where a span starts. ok is false for a span of no file.
func (s *Set) Position(sp Span) (p Position, ok bool) {
	f := s.File(sp.File)
	if f == nil {
		return Position{}, false
	}
	line, col := f.LineCol(sp.Start)
	return Position{f.Name, line, col}, true
}

// LineCol gives line and column (from 1, in characters) of a byte offset.
func (f *File) LineCol(off int32) (line, col int) {
	if off > int32(len(f.Text)) {
		off = int32(len(f.Text))
	}
	i := sort.Search(len(f.lines), func(i int) bool { return f.lines[i] > off }) - 1
	return i + 1, utf8.RuneCountInString(f.Text[f.lines[i]:off]) + 1
}

// Line returns the text of a line (from 1) without its line end.
func (f *File) Line(n int) string {
	if n < 1 || n > len(f.lines) {
		return ""
	}
	start, end := f.lines[n-1], int32(len(f.Text))
	if n < len(f.lines) {
		end = f.lines[n] - 1
	}
	t := f.Text[start:end]
	if len(t) > 0 && t[len(t)-1] == '\r' {
		t = t[:len(t)-1]
	}
	return t
}
