// Package lang reads site files: text to a resolved site.
//
// It is the small public face of the packages below it. Text becomes a syntax
// tree (lang/syntax), the trees of all files together become one site
// (lang/resolve), and what is wrong on the way becomes diagnostics with places
// (lang/source). The site itself is plain data (lang/site); its meaning is
// fixed in lang/SEMANTICS.md and the language is shown in lang/LANGUAGE.md.
package lang

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lampwarden/lang/resolve"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
	"lampwarden/stdlib"
)

// Ext is how the names of site files end.
const Ext = ".lamp"

// Project is what was read: one site, however many files it stands in.
type Project struct {
	// Site is nil if one of the diagnostics is an error.
	Site *site.Site
	// Sources has the files and then the requirement packs and circuit schedules that they use, for rendering
	// diagnostics and places.
	Sources *source.Set
	// Files has the syntax tree of each file, in order.
	Files []*syntax.File
	// Diagnostics is everything that was found, in canonical order.
	Diagnostics source.Diagnostics
}

// Load reads files and folders as one site. A folder means the files in it
// whose names end in ".lamp", sorted by name, without its sub-folders; a file
// that is named twice is read once.
//
// The error tells what cannot be read at all: a path that does not exist, a
// folder without site files, no paths. What is wrong inside a file is in the
// diagnostics.
func Load(paths []string) (*Project, error) {
	names, err := expand(paths)
	if err != nil {
		return nil, err
	}
	set := &source.Set{}
	for _, name := range names {
		text, err := readFile(name)
		if err != nil {
			return nil, err
		}
		set.Add(name, text)
	}
	return build(set, len(names), onDisk()), nil
}

// LoadText reads one text as a whole site. The name stands in the places of
// diagnostics. The text cannot name circuit schedules.
func LoadText(name, text string) *Project { return LoadTextIn(nil, name, text) }

// LoadTextIn is LoadText for a text that stands in a folder, where the circuit
// schedules are that it names.
func LoadTextIn(folder fs.FS, name, text string) *Project {
	set := &source.Set{}
	set.Add(name, text)
	return build(set, 1, inMemory(folder))
}

// WriteDiagnostics writes what was found with its source lines, in colour if
// asked.
func (p *Project) WriteDiagnostics(w io.Writer, color bool) error {
	return source.Renderer{Set: p.Sources, Color: color}.Write(w, p.Diagnostics)
}

func build(set *source.Set, n int, beside *folders) *Project {
	defer beside.done()
	p := &Project{Sources: set}
	readable := true
	for id := 1; id <= n; id++ {
		f, ds := syntax.Parse(set.File(source.FileID(id)))
		p.Files = append(p.Files, f)
		p.Diagnostics = append(p.Diagnostics, ds...)
		readable = readable && !slices.ContainsFunc(ds, unread)
	}
	if readable {
		s, ds := resolve.ResolveAll(p.Files, p.packs(), p.schedules(beside))
		p.Diagnostics = append(p.Diagnostics, withoutFollowers(p.Files, p.Diagnostics, ds)...)
		p.Site = s
	}
	p.Diagnostics = p.Diagnostics.Sorted()
	if p.Diagnostics.HasErrors() {
		p.Site = nil
	}
	return p
}

// packs reads the requirement packs that the files use, each once. Their texts join the sources after the files.
func (p *Project) packs() resolve.Packs {
	out := resolve.Packs{Names: stdlib.Names(), Files: map[string]*syntax.File{}}
	for _, f := range p.Files {
		for _, d := range f.Decls {
			u, ok := d.(*syntax.UseDecl)
			if !ok || out.Files[u.Pack.Value] != nil {
				continue
			}
			if text, ok := stdlib.Text(u.Pack.Value); ok {
				pack, ds := syntax.Parse(p.Sources.Add("stdlib/"+u.Pack.Value+Ext, text))
				out.Files[u.Pack.Value] = pack
				p.Diagnostics = append(p.Diagnostics, ds...)
			}
		}
	}
	return out
}

// unread tells that a part of a file was not read at all, so that looking for
// the meaning of names would only make follow-on reports.
func unread(d source.Diagnostic) bool {
	return d.Code == source.NotText || d.Code == source.TooLarge || d.Code == source.TooMany || d.Code == source.EmptyFile
}

// withoutFollowers leaves out reports on the meaning of declarations whose
// structure had to be guessed after a parse error: they would speak of the
// guess. A wrong unit or value leaves the structure as it is; there only reports
// that compare values are left out.
func withoutFollowers(files []*syntax.File, parse, meaning source.Diagnostics) source.Diagnostics {
	guessed, values := map[syntax.Decl]bool{}, map[syntax.Decl]bool{}
	for _, d := range parse {
		switch d.Code {
		case source.UnexpectedText, source.UnknownWord, source.ReservedWord:
			guessed[declAt(files, d.Span)] = true
		case source.BadNumber, source.BadTime:
			values[declAt(files, d.Span)] = true
		}
	}
	return slices.DeleteFunc(meaning, func(d source.Diagnostic) bool {
		at := declAt(files, d.Span)
		return at != nil && (guessed[at] || values[at] && comparesValues(d.Code))
	})
}

// comparesValues tells whether a report may only follow from the stand-in for a
// wrong value.
func comparesValues(c source.Code) bool {
	switch c {
	case source.BadCount, source.BadRange, source.EmptyBand, source.FlashTooLong, source.NoChange,
		source.SameInstant, source.UnknownStage:
		return true
	}
	return false
}

// declAt finds the declaration that a place is in, or nil.
func declAt(files []*syntax.File, sp source.Span) syntax.Decl {
	for _, f := range files {
		if f.Source.ID != sp.File {
			continue
		}
		for _, d := range f.Decls {
			if in := d.Place(); in.Start <= sp.Start && sp.Start <= in.End {
				return d
			}
		}
	}
	return nil
}

// expand turns folders into their site files.
func expand(paths []string) ([]string, error) {
	if len(paths) == 0 {
		return nil, errors.New("no site file is given")
	}
	var out []string
	done := map[string]bool{}
	for _, path := range paths {
		names := []string{path}
		info, err := os.Stat(path)
		if err != nil {
			return nil, pathError(path, err)
		}
		if info.IsDir() {
			if names, err = siteFiles(path); err != nil {
				return nil, err
			}
		}
		for _, name := range names {
			if key := filepath.Clean(name); !done[key] {
				done[key] = true
				out = append(out, name)
			}
		}
	}
	return out, nil
}

// siteFiles lists the site files of a folder, sorted by name.
func siteFiles(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, pathError(dir, err)
	}
	var out []string
	for _, e := range entries {
		if e.IsDir() || !strings.HasSuffix(e.Name(), Ext) {
			continue
		}
		name := filepath.Join(dir, e.Name())
		switch info, err := os.Stat(name); {
		case err != nil:
			return nil, pathError(name, err)
		case info.IsDir(): // behind a link
		case !info.Mode().IsRegular(): // reading from a pipe might never end; one that is named itself is read
			return nil, fmt.Errorf("%s: it is no regular file", name)
		default:
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: no site file (*%s) in this folder", dir, Ext)
	}
	return out, nil
}

// readFile reads little more of a file than the parser takes, so that a wrong
// path to something huge does no harm; the parser then refuses the file.
func readFile(name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", pathError(name, err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, syntax.MaxSize+1))
	if err != nil {
		return "", pathError(name, err)
	}
	return string(text), nil
}

// pathError says in plain words why a path cannot be read.
func pathError(path string, err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: no such file or folder", path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: no permission to read it", path)
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return fmt.Errorf("%s: %w", path, err)
}
