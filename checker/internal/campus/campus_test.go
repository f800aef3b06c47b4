package campus

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang"
	"lampwarden/lang/site"
)

var (
	write  = flag.String("write", "", "a folder into which a campus is written")
	rooms  = flag.Int("rooms", 1000, "its rooms")
	kindsN = flag.Int("types", 40, "its types of rooms")
	reqs   = flag.Int("requirements", 60, "its requirements, each for all rooms")
	seed   = flag.Uint64("seed", 1, "its seed")
)

// TestWrite writes a campus if asked to: go test ./checker/internal/campus -run Write -write DIR -rooms 1000.
func TestWrite(t *testing.T) {
	if *write == "" {
		t.Skip("no folder was named with -write")
	}
	put(t, *write, Options{Seed: *seed, Rooms: *rooms, Types: *kindsN, Requirements: *reqs})
}

func put(t *testing.T, dir string, o Options) {
	t.Helper()
	if err := os.MkdirAll(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	for name, text := range Files(o) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// TestCampusIsASite: what is written is a site without errors, with what was asked for, the same each time.
func TestCampusIsASite(t *testing.T) {
	o := Options{Seed: 3, Rooms: 30, Types: 7, Requirements: 6}
	if diff := cmp.Diff(Files(o), Files(o)); diff != "" {
		t.Error(diff)
	}
	dir := t.TempDir()
	put(t, dir, o)
	p, err := lang.Load([]string{dir})
	if err != nil {
		t.Fatal(err)
	}
	if p.Site == nil {
		t.Fatalf("%v", p.Diagnostics)
	}
	if n := len(p.Site.Circuits); n != 3*o.Rooms+1 {
		t.Errorf("%d circuits", n)
	}
	escape, presences := 0, 0
	for i := range p.Site.Areas {
		if p.Site.Areas[i].HasTag("escape") {
			escape++
		}
	}
	for _, in := range p.Site.Inputs {
		if in.Kind == site.Presence {
			presences++
		}
	}
	if escape == 0 || presences != o.Rooms || len(p.Site.Requirements) != o.Rooms*o.Requirements {
		t.Errorf("%d escape routes, %d presences, %d requirements", escape, presences, len(p.Site.Requirements))
	}
}
