package rehearse_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/rehearse"
)

// sealed gives a file with the right checksum on its last line.
func sealed(text string) string {
	body := text[:strings.LastIndex(text, "end ")]
	sum := sha256.Sum256([]byte(body))
	return body + "end " + hex.EncodeToString(sum[:]) + "\n"
}

// A run comes back as it was, and is judged as it was, on random sites with every construct.
func TestRunFiles(t *testing.T) {
	o := sitegen.Everything()
	o.Requirements = 3
	broken, dated := 0, 0
	for seed := range uint64(150) {
		rng := rand.New(rand.NewPCG(seed, 5))
		whole := sitegen.Generate(seed, o)
		s := whole
		if n := len(s.Dates); n > 0 {
			s, dated = s.OnDate(rng.IntN(n)), dated+1
		}
		i := rng.IntN(len(s.Requirements))
		sc, err := rehearse.RandomScriptFor(s, &s.Requirements[i], rng, 30)
		if err != nil {
			t.Fatal(err)
		}
		tl, err := rehearse.Run(s, sc)
		if err != nil {
			t.Fatal(err)
		}
		want, err := rehearse.Judge(s, tl, &s.Requirements[i])
		if err != nil {
			t.Fatal(err)
		}
		var file bytes.Buffer
		if err := rehearse.WriteRun(&file, s, i, &sc); err != nil {
			t.Fatal(err)
		}
		got, err := rehearse.ReadRun(whole, bytes.NewReader(file.Bytes()))
		if err != nil {
			t.Fatalf("%v\n%s", err, file.String())
		}
		if d := cmp.Diff(sc, got.Script, cmpopts.EquateEmpty()); d != "" || got.Requirement != i || got.Site.Date != s.Date {
			t.Fatalf("requirement %d, date %q: %s", got.Requirement, got.Site.Date, d)
		}
		j, err := got.Replay()
		if err != nil || !cmp.Equal(j, want) {
			t.Fatalf("%+v, %v, want %+v", j, err, want)
		}
		if j.Broken {
			broken++
		}
		// Neither a change nor a cut anywhere is taken, unless it leaves all as it was.
		text := file.Bytes()
		for range 12 {
			mutant := bytes.Clone(text)
			if k := rng.IntN(len(mutant)); rng.IntN(2) == 0 {
				mutant[k] ^= 1 << rng.IntN(8)
			} else {
				mutant = mutant[:k]
			}
			if _, err := rehearse.ReadRun(whole, bytes.NewReader(mutant)); err == nil {
				t.Fatalf("taken:\n%s\ninstead of\n%s", mutant, text)
			}
		}
		// With the checksum made right it may be read, but then it is a run of this very site.
		for range 12 {
			mutant := bytes.Clone(text)
			mutant[rng.IntN(len(mutant)-70)] ^= 1 << rng.IntN(8)
			got, err := rehearse.ReadRun(whole, strings.NewReader(sealed(string(mutant))))
			if err != nil {
				continue
			}
			if _, err := got.Replay(); err == nil && got.Requirement != i {
				t.Fatalf("another requirement:\n%s", mutant)
			}
		}
	}
	if broken < 10 || dated < 5 {
		t.Errorf("%d runs broke their requirement, %d sites had dates", broken, dated)
	}
}

func TestRunFileErrors(t *testing.T) {
	s := sitegen.Generate(1, sitegen.Options{MaxModes: 2, Requirements: 2})
	other := sitegen.Generate(2, sitegen.Options{MaxModes: 2, Requirements: 2})
	var b bytes.Buffer
	if err := rehearse.WriteRun(&b, s, 0, &rehearse.Script{End: rehearse.Day}); err != nil {
		t.Fatal(err)
	}
	good := b.String()
	edit := func(old, new string) string {
		if !strings.Contains(good, old) {
			t.Fatalf("no %q in %s", old, good)
		}
		return sealed(strings.Replace(good, old, new, 1))
	}
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "line 1: expected another line"},
		{"something else", "a long story\n", `line 1: expected the line "lampwarden-run 1"`},
		{"another requirement", edit("requirement 0", "requirement 1"), "it is of another requirement"},
		{"no such requirement", edit("requirement 0", "requirement 7"), `in place of "7"`},
		{"a date", edit("start", "date \"21 June\"\nstart"), `expected a line "start ..."`},
		{"a week too late", edit("start 0", "start 604800000000000"), "expected a number from 0 to 604799999999999"},
		{"no end", strings.Replace(good, "last 86400000000000\n", "", 1), `expected a line "last ..."`},
		{"a million years", edit("last 86400000000000", "last 9000000000000000000"), "expected a number"},
		{"another form of a number", edit("last 8", "last +8"), "expected a number"},
		{"two blanks", edit("start 0", "start  0"), `a line "start" has 2 fields`},
		{"no such input", edit("last", "change 5 99 1\nlast"), `99`},
		{"checksum", strings.Replace(good, "last 8", "last 7", 1), "the checksum does not fit"},
		{"more after the end", good + "end\n", "expected nothing after the last line"},
		{"too long", good + strings.Repeat("\n", 17<<20), "more than 16777216 bytes"},
	} {
		_, err := rehearse.ReadRun(s, strings.NewReader(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	if _, err := rehearse.ReadRun(other, strings.NewReader(good)); err == nil || !strings.Contains(err.Error(), "another site") {
		t.Errorf("another site: %v", err)
	}
}
