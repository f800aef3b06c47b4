// The canonical form tells systems apart.

package machine

import (
	"reflect"
	"slices"
	"testing"

	"lampwarden/checker/explore"
	"lampwarden/checker/observe"
)

// TestFormKnowsEveryField lists the fields of what a search reads, each with whether the form writes it. A new field
// makes the test fail: whoever adds it says here that Form writes it, or why it need not.
func TestFormKnowsEveryField(t *testing.T) {
	const written, found, scratch = "written", "follows from what is written, or names parts", "working memory"
	for _, c := range []struct {
		of     any
		fields map[string]string
	}{
		{System{}, map[string]string{"site": found, "sl": found, "goal": written, "levels": written, "order": written, "events": written,
			"segs": written, "modes": written, "byID": found, "latest": written, "lamps": written, "sights": written, "reqs": written,
			"down": written, "assume": written, "charges": found, "obs": written, "caused": written, "exprs": written, "obsCk": written, "events2": written,
			"clocked": written, "weekly": written, "period": written, "jumps": written, "shorter": written, "clocks": written, "unit": written, "tooManyBranches": scratch, "Quick": "follows from the slice and the observer",
			"relaxed": "chosen by the search", "cooling": "chosen by the search", "horizon": written, "scratch": scratch}},
		{modeInfo{}, map[string]string{"id": written, "def": written, "cond": written, "starts": written, "ends": written, "leave": written,
			"after": written, "hasAfter": written, "seqs": written, "phased": written, "latest": written, "locCk": written, "phaseCk": written}},
		{trigger{}, map[string]string{"on": written, "guard": written, "at": written, "days": written, "void": written}},
		{transition{}, map[string]string{"trigger": written, "after": written, "to": written}},
		{phase{}, map[string]string{"stage": written, "off": written, "dur": written, "next": written, "sig": "used up in join", "first": "for certificates only"}},
		{lamp{}, map[string]string{"id": found, "cuts": written, "paces": written, "reach": written, "colour": written, "light": written, "free": written,
			"req": written, "ck": written, "visited": written}},
		{pace{}, map[string]string{"over": written, "t": written, "soft": written}},
		{reach{}, map[string]string{"dead": written, "cut": written, "fail": written, "powerOn": written}},
		{sight{}, map[string]string{"id": found, "reach": written, "req": written, "ck": written}},
		{request{}, map[string]string{"id": found, "askers": written, "free": written, "freeMask": written, "ambiguous": written, "now": scratch, "was": scratch}},
		{asker{}, map[string]string{"mode": written, "sets": written}},
		{setting{}, map[string]string{"index": written, "flashing": written, "cases": written}},
		{levelCase{}, map[string]string{"when": written, "level": written, "over": written}},
		{node{}, map[string]string{"op": written, "kids": written, "n": written, "id": written, "state": written, "mask": written, "segs": written,
			"terms": written, "need": written}},
		{term{}, map[string]string{"id": written, "counts": written, "weight": written}},
		{assumption{}, map[string]string{"Assumption": written, "clocked": written, "ck": written}},
		{event{}, map[string]string{"input": written, "level": written, "gesture": written}},
		{segment{}, map[string]string{"from": written, "len": written}},
		{clock{}, map[string]string{"kind": written, "id": written}},
		{causeTable{}, map[string]string{"events": written, "segs": written}},
		{Goal{}, map[string]string{"Ambiguous": written, "Win": written}},
		{observe.Observer{}, map[string]string{"Name": written, "N": written, "Exprs": written, "React": "told by Name, N and D", "Timers": "told by Name", "D": written,
			"Causes": written, "Calm": "told by Name", "Quick": written, "Began": written}},
	} {
		typ := reflect.TypeOf(c.of)
		var have []string
		for i := range typ.NumField() {
			have = append(have, typ.Field(i).Name)
			if c.fields[typ.Field(i).Name] == "" {
				t.Errorf("%s.%s: does Form write it?", typ.Name(), typ.Field(i).Name)
			}
		}
		for f := range c.fields {
			if !slices.Contains(have, f) {
				t.Errorf("%s has no field %s any more", typ.Name(), f)
			}
		}
	}
}

// TestFormsOfRandomSites: the form of a system is the same when it is compiled again, and two systems of one form have
// the same initial states.
func TestFormsOfRandomSites(t *testing.T) {
	seen := map[string][][]byte{}
	shared := 0
	eachSystem(t, 150, func(seed uint64, s *System) {
		again, err := New(s.sl, s.obs, s.goal)
		if err != nil || again.Form() != s.Form() {
			t.Fatalf("seed %d: another form of the same slice (%v)", seed, err)
		}
		keys := initialKeys(s)
		if old, ok := seen[s.Form()]; ok {
			shared++
			if !reflect.DeepEqual(old, keys) {
				t.Errorf("seed %d: two systems of one form start differently", seed)
			}
		}
		seen[s.Form()] = keys
	})
	if shared == 0 || len(seen) < 100 {
		t.Errorf("%d forms, %d met again", len(seen), shared)
	}
}

func initialKeys(s *System) (keys [][]byte) {
	s.Initial(func(x explore.Succ) bool {
		keys = append(keys, slices.Clone(x.Key))
		return len(keys) < 50
	})
	return keys
}
