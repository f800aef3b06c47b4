// Reports on random runs of random sites: every step and every failure has words, and none is too wide.

package report

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
)

func TestRandomReports(t *testing.T) {
	o := sitegen.Everything()
	o.Requirements = 4
	told, parts := 0, map[string]int{}
	for seed := range uint64(150) {
		rng := rand.New(rand.NewPCG(seed, 17))
		s := sitegen.Generate(seed, o)
		whole := s
		if n := len(s.Dates); n > 0 {
			s = s.OnDate(rng.IntN(n))
		}
		rep := &checker.Report{Site: whole}
		for i := range s.Requirements {
			r := &s.Requirements[i]
			sc, err := rehearse.RandomScriptFor(s, r, rng, 25)
			if err != nil {
				t.Fatal(err)
			}
			tl, err := rehearse.Run(s, sc)
			if err != nil {
				t.Fatal(err)
			}
			j, err := rehearse.Judge(s, tl, r)
			if err != nil {
				t.Fatal(err)
			}
			if j.Broken || j.Witness {
				rep.Outcomes = append(rep.Outcomes, checker.Outcome{Requirement: i, Verdict: checker.Fails,
					Counterexample: &trace.Counterexample{Script: sc, Timeline: tl, Judgement: j, Clock: true}})
			}
			st := newTeller(whole, nil).story(tl, focus{}, sc.End)
			told += len(st.Entries)
			p := newPage(Options{})
			st.write(p, false, nil)
			checkWords(t, seed, s, p.b.String(), 80)
		}
		if len(rep.Outcomes) > 0 {
			checkReport(t, seed, rep, parts)
		}
	}
	for _, part := range []string{"forbidden", "not in time", "not kept", "too long", "too short", "too often", "too soon", "unsettled", "too much"} {
		if parts[part] == 0 {
			t.Errorf("no failure of the kind %q comes up: %v", part, parts)
		}
	}
	if told < 10_000 {
		t.Errorf("only %d steps are told", told)
	}
}

// checkReport checks a whole report in text and JSON.
func checkReport(t *testing.T, seed uint64, rep *checker.Report, parts map[string]int) {
	t.Helper()
	d := Tell(rep, Options{})
	for _, width := range []int{40, 80} {
		var b bytes.Buffer
		if err := d.Text(&b, Options{Width: width}); err != nil {
			t.Fatal(err)
		}
		checkWords(t, seed, rep.Site, b.String(), width)
	}
	if err := d.JSON(&bytes.Buffer{}); err != nil {
		t.Fatal(err)
	}
	for _, q := range d.Requirements {
		parts[q.Failure.Part]++
		// What the report adds up is what the interpreter found to be too much.
		if e := q.Failure.Energy; e != nil && (e.Used < e.Limit || e.Used > e.Limit+1) {
			t.Errorf("seed %d: %s: %+v", seed, q.Name, e)
		}
	}
}

// checkWords: nothing lacks words, and no colour stands as a lamp of its own.
func checkWords(t *testing.T, seed uint64, s *site.Site, text string, width int) {
	t.Helper()
	checkText(t, text, width)
	for _, bad := range []string{"operator", "%!", "<nil>", "towards no colour"} {
		if strings.Contains(text, bad) {
			t.Errorf("seed %d: %q in\n%s", seed, bad, text)
		}
	}
	for i := range s.Circuits {
		if c := &s.Circuits[i]; c.Colour && strings.Contains(text, "  "+c.Name+": ") {
			t.Errorf("seed %d: the colour %s stands as a lamp:\n%s", seed, c.Name, text)
		}
	}
}
