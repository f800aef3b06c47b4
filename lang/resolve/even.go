// The faults that a requirement bears: `even with any 1 of: ...`.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// evenSet is what a requirement bears.
type evenSet struct {
	listed map[site.InputID]source.Span
	order  []site.InputID
	lamps  bool // lamp failure: of every circuit that the requirement speaks of
}

// even resolves `even with`; nil if there is none. sure is false if something was reported.
func (r *resolver) even(sc scope, e *syntax.Even) (set *evenSet, sure bool) {
	set, sure = &evenSet{listed: map[site.InputID]source.Span{}}, true
	if e == nil {
		return set, true
	}
	for _, a := range e.Faults {
		if f, ok := a.(*syntax.FaultAtom); ok && f.Word == "failure" {
			if set.lamps {
				r.errorf(source.ListedTwice, f.Span, "`lamp failure` is listed twice")
			}
			set.lamps = true
			continue
		}
		in, ok := r.listedFault(sc, a)
		if !ok {
			sure = false
			continue
		}
		if at, ok := set.listed[in]; ok {
			relate(r.errorf(source.ListedTwice, a.Place(), "`%s` is listed twice", r.site.Inputs[in].Name), at, "first listed here")
			continue
		}
		set.listed[in] = a.Place()
		set.order = append(set.order, in)
	}
	return set, sure
}

// listedFault finds the input of an entry of `even with`: a fault, a lost mains supply or a flat battery.
func (r *resolver) listedFault(sc scope, a syntax.Atom) (site.InputID, bool) {
	switch a := a.(type) {
	case *syntax.FaultAtom:
		return r.wordFault(a), true
	case *syntax.NameAtom:
		s := r.names[a.Name.Name]
		switch {
		case a.Fault != nil:
			return r.namedFault(a)
		case s != nil && (s.kind == kindSupply && a.State == "lost" || s.kind == kindBattery && a.State == "flat"):
			if e := r.nameAtom(sc, a); e.Op == site.OpInput {
				return e.Input, true
			}
			return site.None, false
		case s == nil || s.kind == kindBroken:
			r.find(a.Name, kindInput, kindSupply, kindBattery, kindGenerator, kindCircuit, kindOutput)
			return site.None, false
		}
	}
	d := r.errorf(source.NotAFault, a.Place(), "this is no fault")
	d.Notes = append(d.Notes, "faults are: `mains lost`, `ups flat`, `controller restart`, `control bus lost`, `lamp failure`, "+
		"`hall_spots failed`, `hall_pir stuck on`, `hall_pir stuck off`, `bed_key stuck`, `diesel fails to start`")
	return site.None, false
}

// bears tells whether a requirement lists the fault, or it is a lamp's and the requirement lists lamp failure.
func (e *evenSet) bears(in site.InputID, r *resolver) bool {
	if e == nil {
		return false
	}
	if _, ok := e.listed[in]; ok {
		return true
	}
	for c, f := range r.faults.failed {
		if f == in && e.lamps {
			return !r.site.Circuits[c].Output
		}
	}
	return false
}

// bear puts the faults into the requirement, whose conditions are known by now.
func (r *resolver) bear(q *site.Requirement, set *evenSet, e *syntax.Even, sure bool) {
	if e == nil {
		return
	}
	q.Faults, q.AtMost = set.order, 1
	if set.lamps {
		listed := map[site.InputID]bool{}
		for _, in := range q.Faults {
			listed[in] = true
		}
		for _, c := range r.spokenOf(q) {
			if in := r.circuitFault(c, e.Span); !listed[in] {
				q.Faults = append(q.Faults, in)
			}
		}
	}
	if e.N == nil {
		if len(e.Faults) > 1 {
			d := r.errorf(source.BadCount, e.Span, "this does not say how many of the faults may be there at a time")
			d.Suggestion = "write `even with any 1 of: ...`"
		}
		return
	}
	n, ok := r.count(e.N)
	q.AtMost = n
	switch {
	case !ok || !sure:
	case n < 1:
		d := r.errorf(source.BadCount, e.N.Span, "any 0 of the faults is none")
		d.Suggestion = "leave `even with` out"
	case n > len(q.Faults):
		r.errorf(source.BadCount, e.N.Span, "there are only %d faults to choose from, never %d", len(q.Faults), n)
	}
}

// spokenOf lists the lights that the requirement speaks of; all of the site if it speaks of none.
func (r *resolver) spokenOf(q *site.Requirement) []site.CircuitID {
	spoken := make([]bool, len(r.site.Circuits))
	say := func(id site.CircuitID) {
		if c := &r.site.Circuits[id]; c.Colour {
			id = c.Light
		}
		spoken[id] = true
	}
	failed := map[site.InputID]site.CircuitID{}
	for c, in := range r.faults.failed {
		failed[in] = c
	}
	for _, e := range []*site.Expr{q.P, q.A, q.B, q.Until, q.Q, q.Since} {
		e.Walk(func(x *site.Expr) {
			switch c, ok := failed[x.Input]; {
			case x.Op == site.OpLight:
				say(x.Circuit)
			case x.Op == site.OpInput && ok:
				say(c)
			}
			for _, t := range x.Terms {
				say(t.Circuit)
			}
		})
	}
	for _, t := range q.Draws {
		say(t.Circuit)
	}
	var out []site.CircuitID
	for i, yes := range spoken {
		if yes && !r.site.Circuits[i].Output {
			out = append(out, site.CircuitID(i))
		}
	}
	if out == nil {
		return r.lamps()
	}
	return out
}
