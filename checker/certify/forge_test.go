// A forger's best try: what the check misses in a set is put into it, until nothing is missing.

package certify

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"math/rand/v2"
	"reflect"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

var forgedSites = flag.Int("forged-sites", 40, "how many random sites to forge certificates for")

// errLarge tells that a set grew too large.
var errLarge = errors.New("the set grows too large")

// grow finds the least set that the check accepts with the choices of a certificate's head: what comes of the start-ups. The
// error says what is wrong with any set: a step that breaks the requirement, or time that is stopped.
func grow(m *model, most int) (*closure, error) {
	k := &closure{m: m, byKey: map[string]*stored{}}
	type work struct {
		e *stored
		z *zone
	}
	var queue []work
	k.missing = func(s *state, z *zone) {
		e := k.stored(s)
		if e == nil {
			e = &stored{state: s.clone()}
			e.in, e.loose = m.zoneClocks(s), m.looseClocks(s)
			k.byKey[string(s.key(nil))] = e
			k.set = append(k.set, e)
		}
		e.zones = append(e.zones, z)
		queue = append(queue, work{e, z})
	}
	if err := k.starts(context.Background()); err != nil {
		return nil, err
	}
	for n := 0; n < len(queue); n++ {
		if len(queue) > most {
			return nil, errLarge
		}
		one := *queue[n].e
		one.zones = []*zone{queue[n].z}
		if err := k.from(context.Background(), &one); err != nil {
			return nil, err
		}
	}
	k.missing = nil
	return k, nil
}

// proofsOf gives the heads of the certificates of a site with its verdicts.
func proofsOf(s *site.Site) (heads []*certificate, verdicts []checker.Verdict, err error) {
	rep, err := checker.Prove(context.Background(), s, checker.Options{NoFindings: true, Limits: checker.Limits{States: 1500},
		Certify: func(c *checker.Certificate) error {
			var b bytes.Buffer
			if err := c.Write(&b, "(test)"); err != nil {
				return err
			}
			head, err := read(&b)
			heads = append(heads, head)
			return err
		}})
	if err != nil {
		return nil, nil, err
	}
	verdicts = make([]checker.Verdict, len(s.Requirements))
	for _, o := range rep.Outcomes {
		verdicts[o.Requirement] = o.Verdict
	}
	return heads, verdicts, nil
}

// edited is the site with one small thing about its behaviour changed: a duration, a level, a rule, a condition. nil if that does
// not make a valid site.
func edited(r *rand.Rand, s *site.Site) *site.Site {
	out := sitegen.Clone(s)
	var edits []func()
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch x := v.Interface().(type) {
		case source.Span, []site.Scenario, []site.Input, []site.Area, []site.Supply, []site.SunDate:
			return
		case site.Millis:
			if x > 0 {
				edits = append(edits, func() { v.SetInt(int64(x) * int64(1+r.IntN(4)) / 2) })
			}
		case site.Level:
			edits = append(edits, func() { v.SetInt(int64([]site.Level{0, x / 2, site.Full}[r.IntN(3)])) })
		case site.Op:
			other := map[site.Op]site.Op{site.OpAnd: site.OpOr, site.OpOr: site.OpAnd, site.OpAtMost: site.OpAtLeast, site.OpAtLeast: site.OpAtMost}
			if o, ok := other[x]; ok {
				edits = append(edits, func() { v.SetUint(uint64(o)) })
			}
		case site.InputID:
			edits = append(edits, func() { v.SetInt(r.Int64N(int64(len(s.Inputs)))) })
		case *site.Expr:
			if x != nil {
				edits = append(edits, func() { v.Set(reflect.ValueOf(&site.Expr{Op: site.OpNot, Kids: []*site.Expr{x}})) })
			}
		case bool:
			edits = append(edits, func() { v.SetBool(!x) })
		}
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		}
	}
	walk(reflect.ValueOf(out).Elem())
	edits[r.IntN(len(edits))]()
	if sitegen.Check(out) != nil {
		return nil
	}
	return out
}

// The choices of a proof, taken for a site on which the requirement is broken, lead to no set that the check accepts, not even the
// one that has all that is missing. On the site of the proof they do.
func TestGrownSets(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	closed, refused, broken, large := 0, 0, 0, 0
	for seed := range uint64(*forgedSites) {
		o := sitegen.Everything()
		o.Requirements = 3
		s := sitegen.Generate(seed, o)
		if n := len(s.Dates); n > 0 {
			s = s.OnDate(int(seed) % n)
		}
		heads, _, err := proofsOf(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range heads {
			m, err := newModel(s, c)
			if err != nil {
				t.Fatalf("seed %d, requirement %d: %v", seed, c.index, err)
			}
			k, err := grow(m, 1500)
			switch {
			case err == errLarge:
				large++
			case err != nil:
				t.Fatalf("seed %d, requirement %d is proved, but: %v\n%s", seed, c.index, err, sitegen.Print(s))
			default:
				if err := k.check(context.Background()); err != nil {
					t.Fatalf("seed %d, requirement %d: a grown set is not accepted: %v", seed, c.index, err)
				}
				closed++
			}
		}
		for range 12 {
			other := edited(r, s)
			if other == nil {
				continue
			}
			own, verdicts, err := proofsOf(other)
			if err != nil { // an input was put where it makes no sense
				continue
			}
			forge(t, seed, other, append(heads, own...), verdicts, &refused, &broken, &large)
		}
	}
	t.Logf("%d grown sets closed; for broken requirements %d heads were refused, %d sets led to the breach, %d grew too large", closed, refused, broken, large)
	if closed < *forgedSites || refused < *forgedSites || broken < *forgedSites {
		t.Errorf("%d sets closed, %d heads refused, %d sets led to the breach", closed, refused, broken)
	}
}

// forge tries the heads for each requirement of a site that is broken.
func forge(t *testing.T, seed uint64, s *site.Site, heads []*certificate, verdicts []checker.Verdict, refused, broken, large *int) {
	for i, v := range verdicts {
		if v != checker.Fails && v != checker.IsPossible {
			continue
		}
		ps, ok := parts(&s.Requirements[i])
		if !ok {
			continue
		}
		accepted := map[int]bool{}
		for _, head := range heads {
			for part := range ps {
				c := *head
				c.index, c.part, c.parts = i, part, len(ps)
				m, err := newModel(s, &c)
				if err != nil {
					*refused++
					continue
				}
				switch _, err := grow(m, 1500); {
				case err == errLarge:
					*large++
				case err != nil:
					*broken++
				default:
					accepted[part] = true
				}
			}
		}
		if len(accepted) == len(ps) {
			t.Fatalf("seed %d: requirement %d is broken, but each part has a set\n%s", seed, i, sitegen.Print(s))
		}
	}
}
