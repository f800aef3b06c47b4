package lexicon

// The same for programs.

import (
	"encoding/json"
	"io"
	"strings"
)

// version is that of the form; it grows when a field is renamed or taken away.
const version = 1

type jsonAnswer struct {
	Version int         `json:"version"`
	Word    string      `json:"word"`
	Entries []jsonEntry `json:"entries"`
	Inside  [][]string  `json:"inside"` // headings of other entries that explain the word too
	Codes   []jsonCode  `json:"codes"`
	Near    []string    `json:"near"`
}

type jsonEntry struct {
	Terms    []string     `json:"terms"`
	Words    []string     `json:"words"`
	Chapter  string       `json:"chapter"`
	Purpose  string       `json:"purpose"`
	Text     string       `json:"text"` // plain, without the title
	Examples []jsonSample `json:"examples"`
}

type jsonSample struct {
	Mark string `json:"mark"`
	Arg  string `json:"arg"`
	Text string `json:"text"`
}

type jsonCode struct {
	Kind        string `json:"kind"`
	Code        string `json:"code"`
	Title       string `json:"title"`
	Explanation string `json:"explanation"`
	Example     string `json:"example"`
}

type jsonContents struct {
	Version int         `json:"version"`
	Groups  []jsonGroup `json:"groups"`
}

type jsonGroup struct {
	Title string   `json:"title"`
	Words []string `json:"words"`
}

func toJSON(e *Entry) jsonEntry {
	out := jsonEntry{Terms: e.Terms, Words: some(e.Words), Chapter: e.Chapter, Purpose: plain(e.Purpose), Examples: []jsonSample{}}
	var text []string
	for _, x := range e.Body {
		if x.Kind == Block {
			s := newSample(x)
			out.Examples = append(out.Examples, jsonSample{s.Mark, s.Arg, s.Text})
			continue
		}
		var p page
		p.piece(x)
		text = append(text, p.b.String())
	}
	out.Text = strings.Join(text, "\n")
	return out
}

// some makes an empty list of none, as programs like it.
func some[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// JSON writes what was found.
func (a *Answer) JSON(w io.Writer) error {
	out := jsonAnswer{Version: version, Word: a.Word, Entries: []jsonEntry{}, Inside: [][]string{}, Codes: []jsonCode{}, Near: some(a.Near)}
	for _, e := range a.Entries {
		out.Entries = append(out.Entries, toJSON(e))
	}
	for _, e := range a.Inside {
		out.Inside = append(out.Inside, e.Terms)
	}
	for _, c := range a.Codes {
		out.Codes = append(out.Codes, jsonCode{c.Kind, string(c.Code), c.Title, c.Explanation, c.Example})
	}
	return write(w, out)
}

// ContentsJSON writes what there is to look up, in groups.
func (b *Book) ContentsJSON(w io.Writer) error {
	out := jsonContents{Version: version, Groups: []jsonGroup{}}
	for _, c := range b.Chapters {
		g := jsonGroup{Title: c.Title}
		for _, e := range c.Entries {
			g.Words = append(g.Words, e.Terms...)
		}
		if len(g.Words) > 0 {
			out.Groups = append(out.Groups, g)
		}
	}
	for _, x := range b.Groups {
		g := jsonGroup{Title: x.Title, Words: []string{}}
		for _, c := range x.Codes {
			g.Words = append(g.Words, string(c.Code))
		}
		out.Groups = append(out.Groups, g)
	}
	return write(w, out)
}

func write(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
