package checker_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/internal/campus"
	"lampwarden/lang/site"
)

// campusOf builds a campus with 40 types of rooms and 60 requirements, each for all rooms.
func campusOf(t testing.TB, rooms int) *site.Site {
	t.Helper()
	dir := t.TempDir()
	for name, text := range campus.Files(campus.Options{Seed: 1, Rooms: rooms, Types: 40, Requirements: 60}) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return loadPaths(t, dir).Site
}

// BenchmarkCampus proves a campus whose rooms are of 40 types, with nothing kept from before and with everything kept: the
// time should grow with the rooms, and hardly with the searches.
func BenchmarkCampus(b *testing.B) {
	for _, rooms := range []int{40, 80} {
		s := campusOf(b, rooms)
		prove := func(b *testing.B, c checker.Cache) {
			rep, err := checker.Prove(context.Background(), s, checker.Options{Cache: c, NoFindings: true})
			if err != nil {
				b.Fatal(err)
			}
			for _, o := range rep.Outcomes {
				if o.Verdict != checker.Proved {
					b.Fatalf("%s: %v %s", s.Requirements[o.Requirement].Name, o.Verdict, o.Reason)
				}
			}
		}
		b.Run(fmt.Sprintf("cold/%d", rooms), func(b *testing.B) {
			for b.Loop() {
				prove(b, nil)
			}
		})
		b.Run(fmt.Sprintf("warm/%d", rooms), func(b *testing.B) {
			c := &memory{kept: map[string][]byte{}}
			prove(b, c)
			for b.Loop() {
				prove(b, c)
			}
		})
	}
}
