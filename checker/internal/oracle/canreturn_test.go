// The form CanReturn on random sites: where the oracle sees no way back, the
// interpreter must find none.

package oracle_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"lampwarden/checker/internal/oracle"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

func TestNoWayBack(t *testing.T) {
	_, oo := options()
	so := sitegen.Everything()
	so.Forms = []site.Form{site.CanReturn}
	count := map[oracle.Verdict]int{}
	tried := 0
	for seed := *firstSeed; seed < *firstSeed+*seeds/8; seed++ {
		s := sitegen.Generate(seed, so)
		for i := range s.Requirements {
			r := &s.Requirements[i]
			res, err := oracle.Check(context.Background(), s, r, oo)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			count[res.Verdict]++
			back, n := wayBack(t, s, r, res, seed)
			if tried += n; !back {
				continue
			}
			finer, err := oracle.CheckFiner(context.Background(), s, r, oracle.Options{MaxStates: 1_000_000}, 16)
			if back, _ := wayBack(t, s, r, finer, seed); back {
				t.Errorf("seed %d, %s: there is a way back where the oracle sees none (%v)\n%s", seed, r.Name, err, describe(s, finer))
			}
		}
	}
	t.Logf("verdicts %v, %d ways tried", count, tried)
	if *seeds >= 300 && (count[oracle.Holds] < 10 || count[oracle.Broken] < 10 || tried < 200) {
		t.Errorf("too few to tell: %v, %d ways tried", count, tried)
	}
}

// wayBack goes on at random from the end of a Broken run, and tells whether P comes in
// time, and how many ways could be played.
func wayBack(t *testing.T, s *site.Site, r *site.Requirement, res oracle.Result, seed uint64) (back bool, tried int) {
	t.Helper()
	if res.Verdict != oracle.Broken {
		return false, 0
	}
	s = dated(s, res.Date)
	rng := rand.New(rand.NewPCG(seed, 11))
	for range 60 {
		sc := script(res)
		end, within := sc.End, rehearse.FromMillis(r.D)
		sc.End += within
		sc.Events = slices.Concat(sc.Events, later(s, sc, rng, end, within))
		if sc.CheckFaults(s, r) != nil {
			continue
		}
		tl, err := rehearse.Run(s, sc)
		if err != nil { // an assumption does not allow it
			continue
		}
		tried++
		if _, ok := rehearse.Reaches(tl, r.P, end, within); ok {
			return true, tried
		}
	}
	if tried == 0 {
		t.Errorf("seed %d, %s: nothing goes on from the run\n%s", seed, r.Name, describe(s, res))
	}
	return false, tried
}

// later makes up to three changes in the time after a run.
func later(s *site.Site, sc rehearse.Script, rng *rand.Rand, end, within rehearse.Nanos) (out []rehearse.Event) {
	values := map[site.InputID]bool{}
	for _, in := range sc.Initial {
		values[in] = true
	}
	for _, e := range sc.Events {
		values[e.Input] = e.Value
	}
	var times []rehearse.Nanos
	for range rng.IntN(4) {
		at := end + rehearse.Nanos(1+rng.Int64N(int64(within)))
		if !slices.Contains(times, at) {
			times = append(times, at)
		}
	}
	slices.Sort(times)
	for _, at := range times {
		in := site.InputID(rng.IntN(len(s.Inputs)))
		e := rehearse.Event{At: at, Input: in}
		if !s.Inputs[in].Kind.IsEvent() {
			values[in] = !values[in]
			e.Value = values[in]
		} else if s.Inputs[in].Kind == site.Button {
			e.Gesture = site.Gesture(rng.IntN(4))
		}
		out = append(out, e)
	}
	return out
}
