// Faults: what may fail where a requirement says `even with`, or in a scenario. A fault is a level input of kind
// Failure, which exists only if it is named somewhere. Which faults there are is known when requirements and scenarios
// have been resolved; then they are put into the site (feeds.go, stuck.go).

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// faultTable has the inputs of all faults that are named.
type faultTable struct {
	failed    map[site.CircuitID]site.InputID
	stuckOn   map[site.InputID]site.InputID
	stuckOff  map[site.InputID]site.InputID
	stuck     map[site.InputID]site.InputID // a button or bell
	noStart   map[site.SupplyID]site.InputID
	bus, down site.InputID // or None
}

func newFaultTable() faultTable {
	return faultTable{
		failed:   map[site.CircuitID]site.InputID{},
		stuckOn:  map[site.InputID]site.InputID{},
		stuckOff: map[site.InputID]site.InputID{},
		stuck:    map[site.InputID]site.InputID{},
		noStart:  map[site.SupplyID]site.InputID{},
		bus:      site.None,
		down:     site.None,
	}
}

// addFault makes the input of a fault.
func (r *resolver) addFault(name string, sp source.Span) site.InputID {
	r.site.Inputs = append(r.site.Inputs, site.Input{Name: name, Kind: site.Failure, Area: site.None, Fault: true, Span: sp})
	return site.InputID(len(r.site.Inputs) - 1)
}

// faultOf finds the fault of a thing in a table, or makes it.
func faultOf[K comparable](r *resolver, table map[K]site.InputID, key K, name string, sp source.Span) site.InputID {
	in, ok := table[key]
	if !ok {
		in = r.addFault(name, sp)
		table[key] = in
	}
	return in
}

// faultExpr is the condition that a fault is there.
func (r *resolver) faultExpr(in site.InputID) *site.Expr {
	return &site.Expr{Op: site.OpInput, Input: in, Span: r.site.Inputs[in].Span}
}

// wordFault gives the input of a fault that has words of its own.
func (r *resolver) wordFault(a *syntax.FaultAtom) site.InputID {
	in, name := &r.faults.down, "controller down"
	if a.Word == "bus" {
		in, name = &r.faults.bus, "control bus lost"
	}
	if *in == site.None {
		*in = r.addFault(name, a.Span)
	}
	return *in
}

// namedFault gives the input of a fault of something: `hall_spots failed`, `hall_pir stuck on`, `diesel fails to start`.
func (r *resolver) namedFault(a *syntax.NameAtom) (site.InputID, bool) {
	switch {
	case len(a.In) > 0:
		r.errorf(source.WrongWord, a.Span, "a fault is of one thing, named by its own name")
		return site.None, false
	case a.Fault.Word == "failed":
		return r.failedCircuit(a)
	case a.Numbers != nil:
		r.errorf(source.WrongKind, a.Numbers.Span, "only a row of circuits has numbers")
		return site.None, false
	case a.Fault.Word == "fails":
		s := r.find(a.Name, kindGenerator)
		if s == nil {
			return site.None, false
		}
		return faultOf(r, r.faults.noStart, site.SupplyID(s.id), s.name+" fails to start", a.Span), true
	}
	return r.stuckInput(a)
}

func (r *resolver) failedCircuit(a *syntax.NameAtom) (site.InputID, bool) {
	s := r.find(a.Name, kindCircuit, kindOutput, kindGroup)
	ids, ok := r.circuitsOfRef(s, a.Numbers)
	if !ok {
		return site.None, false
	}
	if len(ids) != 1 {
		d := r.errorf(source.NotAFault, a.Span, "`%s` is several circuits, which do not fail together", s.name)
		relate(d, s.span, "declared here")
		d.Suggestion = "name one of them, or write `lamp failure`, which is of any one that the requirement speaks of"
		return site.None, false
	}
	return r.circuitFault(ids[0], a.Span), true
}

func (r *resolver) circuitFault(id site.CircuitID, sp source.Span) site.InputID {
	return faultOf(r, r.faults.failed, id, r.site.Circuits[id].Name+" failed", sp)
}

// stuckInput is an input that sticks: a level input at one value, a button or bell so that nothing is heard of it.
func (r *resolver) stuckInput(a *syntax.NameAtom) (site.InputID, bool) {
	s := r.find(a.Name, kindInput)
	if s == nil {
		return site.None, false
	}
	id := site.InputID(s.id)
	event := r.site.Inputs[id].Kind.IsEvent()
	switch {
	case event && a.Fault.Value != "":
		d := r.errorf(source.WrongWord, a.Span, "`%s` is %s, which has no value to stick at", s.name, r.describe(s))
		relate(d, s.span, "declared here")
		d.Suggestion = "write `" + s.name + " stuck`: nothing is heard of it"
		return site.None, false
	case !event && a.Fault.Value == "":
		d := r.errorf(source.WrongWord, a.Span, "this does not say at which value `%s` sticks", s.name)
		relate(d, s.span, "declared here")
		d.Suggestion = "write `" + s.name + " stuck on` or `" + s.name + " stuck off`"
		return site.None, false
	}
	table := map[string]map[site.InputID]site.InputID{"": r.faults.stuck, "on": r.faults.stuckOn, "off": r.faults.stuckOff}[a.Fault.Value]
	name := r.site.Inputs[id].Name + " stuck"
	if a.Fault.Value != "" {
		name += " " + a.Fault.Value
	}
	return faultOf(r, table, id, name, a.Span), true
}

// faultAtom is a fault as a condition: in a requirement that bears it, and in scenarios.
func (r *resolver) faultAtom(sc scope, a syntax.Atom) *site.Expr {
	if sc.use != useRequirement && sc.use != useExpectation && sc.use != useStep {
		d := r.errorf(source.FaultNotHere, a.Place(), "a fault cannot stand in %s", sc.use)
		d.Notes = append(d.Notes, "the controller does not know that something has failed; faults belong to requirements and scenarios")
		return poison(a.Place())
	}
	in, ok := site.InputID(site.None), false
	switch a := a.(type) {
	case *syntax.NameAtom:
		in, ok = r.namedFault(a)
	case *syntax.FaultAtom:
		switch a.Word {
		case "failure":
			d := r.errorf(source.FaultNotHere, a.Span, "`lamp failure` stands only after `even with`")
			d.Suggestion = "name the circuit, such as `hall_spots failed`"
		case "restart":
			d := r.errorf(source.FaultNotHere, a.Span, "a restart has no length, so it cannot stand in %s", sc.use)
			d.Suggestion = "write `controller down`"
		default:
			in, ok = r.wordFault(a), true
		}
	}
	if !ok {
		return poison(a.Place())
	}
	if sc.use == useRequirement && !sc.even.bears(in, r) {
		name := r.site.Inputs[in].Name
		d := r.errorf(source.UnlistedFault, a.Place(), "this requirement does not reckon with `%s`, so it is never so", name)
		d.Suggestion = "add `even with " + name + "` to the requirement"
		return poison(a.Place())
	}
	return &site.Expr{Op: site.OpInput, Input: in, Span: a.Place()}
}
