package resolve_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/resolve"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// FuzzResolve: any text gives a sane site or at least one report, and no panic.
func FuzzResolve(f *testing.F) {
	f.Add(house)
	f.Add(sunny + lightTour)
	f.Add(powered + manyFaults)
	for _, c := range source.Codes() {
		if len(c.Example) < 4000 {
			f.Add(c.Example)
		}
	}
	for _, glob := range []string{"../../testdata/badsites/*.lamp", "../../examples/*/*.lamp", "testdata/*.lamp"} {
		files, err := filepath.Glob(glob)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range files {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(text))
			for _, part := range strings.Split(string(text), "\nmode ") {
				f.Add(house + "\nmode " + part)
			}
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<16 {
			t.Skip("long texts say nothing that short ones do not")
		}
		set := &source.Set{}
		tree, parse := syntax.Parse(set.Add("fuzz.lamp", text))
		s, ds := resolve.Resolve([]*syntax.File{tree})
		if (s == nil) != ds.HasErrors() {
			t.Fatalf("site %v with %v", s != nil, ds)
		}
		checkReports(t, ds, len(text))
		if s != nil && !parse.HasErrors() {
			checkSite(t, s)
		}
	})
}

// checkReports: each report has a registered code, a place in the text and words.
func checkReports(t *testing.T, ds source.Diagnostics, size int) {
	t.Helper()
	for _, d := range ds {
		if _, ok := source.LookUp(d.Code); !ok {
			t.Errorf("the code %q is not registered", d.Code)
		}
		spans := []source.Span{d.Span}
		for _, r := range d.Related {
			spans = append(spans, r.Span)
		}
		for _, sp := range spans {
			if sp.IsZero() || sp.Start < 0 || sp.End < sp.Start || int(sp.End) > size {
				t.Errorf("%s: the span %v is not in the text", d.Code, sp)
			}
		}
		if d.Message == "" || strings.HasSuffix(d.Message, ".") {
			t.Errorf("%s: message %q", d.Code, d.Message)
		}
	}
}

// checkSite checks the invariants that lang/site promises.
func checkSite(t *testing.T, s *site.Site) {
	t.Helper()
	n := len(s.Modes)
	order := slices.Clone(s.StepOrder)
	slices.Sort(order)
	if len(order) != n || len(slices.Compact(order)) != n {
		t.Fatalf("step order %v of %d modes", s.StepOrder, n)
	}
	at := make([]int, n)
	for i, m := range s.StepOrder {
		at[m] = i
	}
	for i := range s.Modes {
		checkMode(t, s, i, at)
	}
	for i := range s.Areas {
		for a, n := site.AreaID(i), 0; a != site.None; a, n = s.Areas[a].Parent, n+1 {
			if n > len(s.Areas) {
				t.Fatalf("the area %s lies in itself", s.Areas[i].Name)
			}
		}
	}
	for i := range s.Circuits {
		if c := &s.Circuits[i]; (c.Area < 0) != (c.Output || c.Colour) || c.Min < 1 || c.Max < c.Min || c.Max > site.Full || c.Fade < 0 {
			t.Errorf("circuit %+v", c)
		}
	}
	checkDaylight(t, s)
	checkPlant(t, s)
	for i := range s.Bands {
		b := &s.Bands[i]
		if sun := b.FromSun != nil || b.ToSun != nil; b.From == b.To && !b.Void || b.From < 0 || b.To >= site.Day ||
			sun && len(s.Dates) == 0 || !sun && (b.Void || b.Overnight) {
			t.Errorf("band %+v of %d dates", b, len(s.Dates))
		}
	}
	for i, d := range s.Dates {
		on := s.OnDate(i)
		for _, b := range on.Bands {
			if !b.Void && (b.From == b.To || b.From < 0 || b.To < 0 || b.From >= site.Day || b.To >= site.Day) {
				t.Errorf("%s: band %+v", d.Name, b)
			}
		}
	}
	for _, q := range s.Requirements {
		for _, e := range []*site.Expr{q.P, q.A, q.B, q.Until, q.Q, q.Since} {
			checkExpr(t, s, e, false)
		}
		if (q.Form == site.Whenever) != (q.A != nil) || (q.Form == site.Whenever || q.Form == site.Energy) == (q.P != nil) {
			t.Errorf("requirement %+v", q)
		}
	}
	for _, sc := range s.Scenarios {
		last := site.Millis(0)
		for _, st := range sc.Steps {
			if st.After < last {
				t.Errorf("scenario %q goes back in time", sc.Name)
			}
			last = st.After
			checkExpr(t, s, st.Expect, false)
		}
	}
}

// checkDaylight: the rungs of each sensor are one ladder, ascending.
func checkDaylight(t *testing.T, s *site.Site) {
	t.Helper()
	rungs := map[string]int{}
	for i := range s.Inputs {
		if in := &s.Inputs[i]; in.Kind == site.Daylight {
			rungs[in.Sensor]++
			if in.Lux < 1 || in.Area < 0 || in.Sensor == "" {
				t.Errorf("rung %+v", in)
			}
		}
	}
	for _, a := range s.Assumptions {
		if len(a.Inputs) == 0 {
			t.Errorf("an assumption on nothing: %+v", a)
		}
		for i, id := range a.Inputs {
			if in := &s.Inputs[id]; a.Kind == site.Ladder && (in.Kind != site.Daylight || rungs[in.Sensor] != len(a.Inputs) ||
				i > 0 && s.Inputs[a.Inputs[i-1]].Lux >= in.Lux) {
				t.Errorf("ladder %v", a.Inputs)
			}
		}
	}
}

func checkMode(t *testing.T, s *site.Site, i int, at []int) {
	t.Helper()
	m := &s.Modes[i]
	conds := []*site.Expr{m.Cond}
	for _, tr := range slices.Concat(m.Starts, m.Ends) {
		conds = append(conds, tr.On, tr.If)
	}
	for _, tr := range m.Transitions {
		conds = append(conds, tr.Trigger.On, tr.Trigger.If)
		if tr.To < 0 || tr.To >= len(m.States) || tr.From < site.None || tr.From >= len(m.States) {
			t.Errorf("%s: transition %+v", m.Name, tr)
		}
	}
	if len(m.States) == 0 || m.Kind != site.States && len(m.States) != 1 {
		t.Errorf("%s has %d states", m.Name, len(m.States))
	}
	for _, st := range m.States {
		for k, stage := range st.Stages {
			if stage.For == 0 && k < len(st.Stages)-1 {
				t.Errorf("%s: stage %d hides the next", m.Name, k)
			}
			for _, set := range stage.Settings {
				if len(set.Circuits) == 0 || len(set.Cases) == 0 || set.Flashing && stage.Flash == nil {
					t.Errorf("%s: setting %+v", m.Name, set)
				}
				for _, c := range set.Cases {
					conds = append(conds, c.When)
				}
			}
		}
	}
	for _, e := range conds {
		checkExpr(t, s, e, true)
		for _, on := range e.Modes() {
			if at[on] >= at[i] {
				t.Errorf("%s steps before %s, which it names", m.Name, s.Modes[on].Name)
			}
		}
		if e != nil {
			_ = s.ExprText(e)
		}
	}
	for j := range s.Modes {
		p := &s.Precedence
		if p.Above[i][j] && (p.Above[j][i] || p.Equal[i][j] != site.NoRule) || p.Equal[i][j] != p.Equal[j][i] {
			t.Errorf("the precedence of %s and %s contradicts itself", m.Name, s.Modes[j].Name)
		}
	}
}

// checkExpr: ids are in range, and there is no poison, no shared node, and no
// operator where it must not be.
func checkExpr(t *testing.T, s *site.Site, e *site.Expr, inMode bool) {
	t.Helper()
	visited := map[*site.Expr]bool{}
	e.Walk(func(x *site.Expr) {
		if visited[x] {
			t.Error("a node is shared")
		}
		visited[x] = true
		ok := true
		switch x.Op {
		case site.OpTrue, site.OpFalse:
			ok = false
		case site.OpNot, site.OpWas:
			ok = len(x.Kids) == 1 && (x.Op == site.OpNot || inMode)
		case site.OpInput:
			ok = x.Input >= 0 && !s.Inputs[x.Input].Kind.IsEvent()
		case site.OpEvent:
			ok = x.Input >= 0 && s.Inputs[x.Input].Kind.IsEvent()
		case site.OpState:
			ok = x.State >= 0 && x.State < len(s.Modes[x.Mode].States)
		case site.OpSum:
			ok = len(x.Terms) > 0 && x.Seen == inMode && !(x.Seen && x.Up)
		case site.OpLight:
			ok = !inMode && x.Circuit >= 0 && x.Lo >= 0 && x.Lo <= x.Hi && x.Hi <= site.Full
		}
		if !ok {
			t.Errorf("a bad node: %+v", x)
		}
	})
}
