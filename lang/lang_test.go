package lang_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang"
	"lampwarden/lang/source"
)

// write puts files in a fresh folder and returns it.
func write(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestLoadGuesthouse(t *testing.T) {
	p, err := lang.Load([]string{"../examples/guesthouse"})
	if err != nil {
		t.Fatal(err)
	}
	if p.Site == nil || len(p.Diagnostics) > 0 {
		t.Fatalf("the guest house is not accepted: %v", p.Diagnostics)
	}
	if p.Site.Name != "Saltmarsh House" {
		t.Errorf("its name is %q", p.Site.Name)
	}
}

func TestSeveralFilesMakeOneSite(t *testing.T) {
	dir := write(t, map[string]string{
		"b_modes.lamp": "mode light { while fire  spots full }",
		"a_house.lamp": "site \"House\"\narea hall\ncircuit spots in hall { dims }\nalarm fire",
		"notes.txt":    "this is no site file",
	})
	p, err := lang.Load([]string{dir, filepath.Join(dir, "a_house.lamp")})
	if err != nil {
		t.Fatal(err)
	}
	if p.Site == nil {
		t.Fatalf("refused: %v", p.Diagnostics)
	}
	if len(p.Files) != 2 || filepath.Base(p.Files[0].Source.Name) != "a_house.lamp" {
		t.Errorf("files are not read sorted and once: %d", len(p.Files))
	}
	if len(p.Site.Modes) != 1 || p.Site.Name != "House" {
		t.Errorf("the parts are not one site: %+v", p.Site)
	}
}

func TestDuplicateAcrossFiles(t *testing.T) {
	dir := write(t, map[string]string{"a.lamp": "area hall", "b.lamp": "\narea hall"})
	p, err := lang.Load([]string{dir})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Diagnostics) != 1 || p.Diagnostics[0].Code != source.DuplicateName {
		t.Fatalf("got %v", p.Diagnostics)
	}
	d := p.Diagnostics[0]
	at, _ := p.Sources.Position(d.Span)
	first, _ := p.Sources.Position(d.Related[0].Span)
	if filepath.Base(at.File) != "b.lamp" || at.Line != 2 || filepath.Base(first.File) != "a.lamp" {
		t.Errorf("reported at %v, first at %v", at, first)
	}
}

func TestUnreadablePaths(t *testing.T) {
	empty := t.TempDir()
	for _, c := range []struct {
		name  string
		paths []string
		want  string
	}{
		{"no paths", nil, "no site file is given"},
		{"missing", []string{filepath.Join(empty, "gone.lamp")}, "gone.lamp: no such file or folder"},
		{"folder without site files", []string{empty}, "no site file (*.lamp)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := lang.Load(c.paths)
			if err == nil || p != nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want an error with %q", err, c.want)
			}
		})
	}
}

func TestUnreadableTexts(t *testing.T) {
	for _, c := range []struct {
		name, text string
		code       source.Code
	}{
		{"empty", "", source.EmptyFile},
		{"blank", " \n\t# only a comment\n", source.EmptyFile},
		{"binary", "\x7fELF\x02\x01\x00\x00\xff\xfe area hall", source.NotText},
		{"not UTF-8", "area h\xe4ll", source.NotText},
		{"10 MB", strings.Repeat("area hall # one line of very many\n", 10<<20/34), source.TooLarge},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := write(t, map[string]string{"x.lamp": c.text})
			p, err := lang.Load([]string{dir})
			if err != nil {
				t.Fatal(err)
			}
			if p.Site != nil || len(p.Diagnostics) != 1 || p.Diagnostics[0].Code != c.code {
				t.Errorf("got %v, want one %s", p.Diagnostics, c.code)
			}
		})
	}
}

// TestBrokenDeclarationKeepsItsName: what depends on a broken declaration is not
// reported, and the next declaration is not hidden.
func TestBrokenDeclarationKeepsItsName(t *testing.T) {
	p := lang.LoadText("x.lamp", `
area hall : escape, , quiet
circuit spots in hall { dims  power 5 metres }
presence pir hall
alarm fire
mode one { while fire and ( }
mode two { while one and presence in hall  circuits in escape areas full }
mode three { while two and fier  spots full }
`)
	want := []source.Code{source.UnexpectedText, source.UnknownUnit, source.UnexpectedText, source.UnexpectedText, source.UnknownName}
	var got []source.Code
	for _, d := range p.Diagnostics {
		got = append(got, d.Code)
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
