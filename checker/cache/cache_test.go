package cache

import (
	"os"
	"path/filepath"
	"testing"
)

func open(t *testing.T, dir, program string) *Folder {
	t.Helper()
	f, err := Open(dir, program, 1<<30)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func files(t *testing.T, dir string) []string {
	t.Helper()
	out, err := filepath.Glob(filepath.Join(dir, "*"+ending))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestAnswersComeBack(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	f := open(t, dir, "one")
	f.Put("form", []byte("safe"))
	if got, ok := open(t, dir, "one").Get("form"); !ok || string(got) != "safe" {
		t.Errorf("got %q, %v", got, ok)
	}
	for _, c := range []struct{ program, form string }{{"two", "form"}, {"one", "for"}, {"on", "eform"}} {
		if got, ok := open(t, dir, c.program).Get(c.form); ok {
			t.Errorf("program %q, form %q: got %q", c.program, c.form, got)
		}
	}
	if f.Damaged() != 0 {
		t.Errorf("%d damaged", f.Damaged())
	}
}

// Of an entry whose name is right and whose form is another, as if two forms had one hash, nothing is believed.
func TestTheHashAloneIsNotBelieved(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir, "one")
	f.Put("a form", []byte("safe"))
	if err := os.Rename(f.path("a form"), f.path("b form")); err != nil {
		t.Fatal(err)
	}
	if got, ok := f.Get("b form"); ok || f.Damaged() != 1 {
		t.Errorf("got %q, %v, %d damaged", got, ok, f.Damaged())
	}
}

// Any one byte changed, and any length cut, is noticed.
func TestDamageIsNoticed(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir, "one")
	f.Put("form", []byte("safe"))
	path := f.path("form")
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	check := func(b []byte) {
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		if got, ok := f.Get("form"); ok {
			t.Errorf("%q gives %q", b, got)
		}
	}
	for i := range whole {
		b := append([]byte(nil), whole...)
		b[i] ^= 1 << (i % 8)
		check(b)
		check(whole[:i])
	}
	if f.Damaged() != 2*len(whole) {
		t.Errorf("%d damaged of %d", f.Damaged(), 2*len(whole))
	}
	if os.Remove(path); os.Mkdir(path, 0o700) != nil {
		t.Fatal("no folder in its place")
	}
	if _, ok := f.Get("form"); ok {
		t.Error("a folder is an answer")
	}
}

func TestOldestAreTakenAway(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir, "one")
	for _, form := range []string{"a", "b", "c", "d"} {
		f.Put(form, make([]byte, 1000))
	}
	if other := filepath.Join(dir, "letter.txt"); os.WriteFile(other, make([]byte, 9000), 0o600) != nil {
		t.Fatal("no file")
	}
	if _, err := Open(dir, "one", 5000); err != nil || len(files(t, dir)) != 4 {
		t.Errorf("%v, %d files left of 4 that fit", err, len(files(t, dir)))
	}
	if _, err := Open(dir, "one", 3000); err != nil || len(files(t, dir)) != 2 {
		t.Errorf("%v, %d files left", err, len(files(t, dir)))
	}
	if _, err := os.Stat(filepath.Join(dir, "letter.txt")); err != nil {
		t.Error("what is not ours was taken away")
	}
}
