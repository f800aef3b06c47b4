// The three sides that are held against each other on one random run: a formula on the trace of the inputs, the observers
// of the engine, the judge of the interpreter.

package formula_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lampwarden/checker/internal/formula"
	"lampwarden/checker/observe"
	"lampwarden/checker/rehearse"
	"lampwarden/lang"
	"lampwarden/lang/site"
)

const (
	milli = int64(rehearse.Milli)
	jog   = 1000 // inputs change at whole milliseconds, or this many nanoseconds off
	grain = 100  // of Trace.Dense; less than half a jog
)

// times names the times of formulas; the texts write d as 5 ms, e as 4 ms.
var times = map[string]int64{"d": 5 * milli, "e": 4 * milli, "hold": 3 * milli, "wait": 2 * milli}

// inputs are the atoms, declared in every text: four switches and a button.
var inputs = []string{"p", "q", "r", "s", "k"}

const header = `
site "Patterns" { time zone "Europe/Dublin" }
switch p, q, r, s
button k
`

func load(t *testing.T, text string) *site.Site {
	t.Helper()
	p := lang.LoadText("patterns.lamp", header+text)
	if p.Site == nil {
		var b strings.Builder
		if err := p.WriteDiagnostics(&b, false); err != nil {
			t.Fatal(err)
		}
		t.Fatalf("%s\n%s", text, b.String())
	}
	return p.Site
}

func parse(t *testing.T, text string) *formula.Formula {
	t.Helper()
	f, err := formula.Parse(text, times)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return f
}

// randomScript draws a run: some switches on at start-up, then changes, many of them a time of interest after another.
func randomScript(rng *rand.Rand, s *site.Site) rehearse.Script {
	var sc rehearse.Script
	on := make([]bool, len(s.Inputs))
	for i := range s.Inputs {
		if !s.Inputs[i].Kind.IsEvent() && rng.IntN(3) == 0 {
			on[i] = true
			sc.Initial = append(sc.Initial, site.InputID(i))
		}
	}
	at, often := int64(0), rng.IntN(len(s.Inputs))
	for range 1 + rng.IntN(12) {
		step := []int64{0, 1, 1, 2, 3, 4, 5, 7}[rng.IntN(8)]*milli + []int64{0, 0, 0, -jog, jog}[rng.IntN(5)]
		at += max(step, jog)
		in := rng.IntN(len(s.Inputs))
		if rng.IntN(2) == 0 {
			in = often
		}
		on[in] = !on[in]
		sc.Events = append(sc.Events, rehearse.Event{At: rehearse.Nanos(at), Input: site.InputID(in),
			Value: on[in] && !s.Inputs[in].Kind.IsEvent()})
	}
	sc.End = rehearse.Nanos(at + int64(rng.IntN(12))*milli + 300) // at no time of interest
	return sc
}

// traceOf writes the run down as a trace of the inputs; nothing of the checker takes part. An event is true at a moment of
// its own. So is the atom "cause", at start-up and where one of the causes changes.
func traceOf(s *site.Site, sc rehearse.Script, causes []site.InputID) formula.Trace {
	now := map[string]bool{}
	for _, in := range sc.Initial {
		now[s.Inputs[in].Name] = true
	}
	tr := formula.Trace{End: int64(sc.End)}
	add := func(at int64, extra ...string) {
		m := formula.Moment{At: at, True: map[string]bool{}}
		for a, v := range now {
			m.True[a] = v
		}
		for _, a := range extra {
			m.True[a] = true
		}
		tr.Moments = append(tr.Moments, m)
	}
	add(0, "cause")
	add(0)
	for _, ev := range sc.Events {
		name := s.Inputs[ev.Input].Name
		var cause []string
		if slices.Contains(causes, ev.Input) {
			cause = []string{"cause"}
		}
		if s.Inputs[ev.Input].Kind.IsEvent() {
			cause = append(cause, name)
		} else {
			now[name] = ev.Value
		}
		if len(cause) > 0 {
			add(int64(ev.At), cause...)
		}
		add(int64(ev.At))
	}
	return tr
}

// count of what was seen.
type tally struct{ kept, broken int }

// agree plays n random runs and fails at the first on which formula, observers and judge of the text's requirements
// (together: broken if one is) do not say the same. Both verdicts must have come up. The distances are the times of the
// formula, if it has bounds.
func agree(t *testing.T, n int, text, published string, distances ...int64) {
	t.Helper()
	s, f := load(t, text), parse(t, published)
	seen := tally{}
	for seed := range uint64(n) {
		sc := randomScript(rand.New(rand.NewPCG(seed, 77)), s)
		if err := compare(s, f, sc, distances, &seen); err != nil {
			t.Fatalf("%s\n%s\nseed %d: %v", text, published, seed, err)
		}
	}
	if seen.kept < n/50 || seen.broken < n/50 {
		t.Errorf("%s: %d runs kept it, %d broke it: too one-sided to tell anything", published, seen.kept, seen.broken)
	}
}

// compare holds the three sides against each other on one run.
func compare(s *site.Site, f *formula.Formula, sc rehearse.Script, distances []int64, seen *tally) error {
	tl, err := rehearse.Run(s, sc)
	if err != nil {
		return err
	}
	judged, observed := false, false
	var causes []site.InputID
	for i := range s.Requirements {
		r := &s.Requirements[i]
		causes = append(causes, r.Causes.Inputs...)
		j, err := rehearse.Judge(s, tl, r)
		if err != nil {
			return err
		}
		judged = judged || j.Broken
		for _, p := range observe.Pieces(r) {
			observed = observed || watch(&p.Observer, tl)
		}
	}
	tr := traceOf(s, sc, causes)
	if len(distances) > 0 {
		tr = tr.Dense(grain, distances...)
	}
	broken := !f.Holds(tr, formula.Weak)
	if judged != broken || observed != broken {
		return fmt.Errorf("broken by the formula: %v, by the judge: %v, by the observer: %v\n%+v", broken, judged, observed, sc)
	}
	if broken {
		seen.broken++
	} else {
		seen.kept++
	}
	return nil
}
