// The model that a certificate speaks of: what its head keeps of the site, looked up and checked.

package certify

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// model is a part of a site, compiled. Tables of what is kept go by the place in the certificate's lists ("at"), not by the
// site's ids.
type model struct {
	site    *site.Site
	req     *site.Requirement
	c       *certificate
	watcher observer
	watched []*cond // what the observer looks at, nil: never true
	instant bool    // it reads events, so that the instant of a reaction is a moment of its own

	inputAt  []int // by id, -1 if not kept
	modeAt   []int
	events   []event // level inputs first
	wall     *wall
	modes    []mode
	order    []int // modes as they step, plant modes first
	lamps    []lampDef
	requests []request
	sights   []sightDef
	assumed  []assumption // with a clock
	few      []few        // assumptions without
	clocks   []clock
	down     *cond  // nil: the controller always runs
	atRest   *state // before start-up

	// Notes of what is read, for the checks of what is left out.
	compiled  map[*site.Expr]*cond
	reads     []*site.Expr
	leftOut   []bool // inputs that are read but not kept
	stageRead []bool // modes of which a condition reads the stage
	err       error

	room room
	wide bool // more than maxWays may come of a step: what was found is not all
}

// want notes an error if something does not hold; the first one counts.
func (m *model) want(ok bool, format string, args ...any) bool {
	if !ok && m.err == nil {
		m.err = reject(0, format, args...)
	}
	return ok
}

// newModel builds the model of a certificate and checks every choice of its head.
func newModel(s *site.Site, c *certificate) (*model, error) {
	m := &model{
		site: s, c: c, compiled: map[*site.Expr]*cond{}, leftOut: make([]bool, len(s.Inputs)), stageRead: make([]bool, len(s.Modes)),
	}
	for _, step := range []func(){
		m.takeRequirement, m.takeInputs, m.takeModes, m.takeTimes, m.takeLamps,
		m.compileModes, m.compileRequests, m.compileReach, m.compileWatched,
		m.takeSequences, m.takeAssumptions, m.takeClocks, m.checkInputs,
	} {
		if step(); m.err != nil {
			return nil, m.err
		}
	}
	m.atRest = m.blank()
	return m, nil
}

// takeRequirement finds the part that is proved.
func (m *model) takeRequirement() {
	s, c := m.site, m.c
	if !m.want(c.index < len(s.Requirements), "there is no requirement %d", c.index) {
		return
	}
	m.req = &s.Requirements[c.index]
	if m.req.Form == site.Energy {
		m.takeClaim()
		return
	}
	ps, ok := parts(m.req)
	if !m.want(ok, "%s: a requirement of this form has no certificates", m.req.Name) ||
		!m.want(len(ps) == c.parts, "%s has %d parts, not %d", m.req.Name, len(ps), c.parts) ||
		!m.want(c.part < c.parts, "there is no part %d of %d", c.part, c.parts) ||
		!m.want(c.claim == nil, "%s makes no claims about circuits", m.req.Name) {
		return
	}
	m.observes(ps[c.part])
}

// takeClaim takes the claim about a circuit that is proved.
func (m *model) takeClaim() {
	c := m.c
	if m.want(c.claim != nil, "%s is about energy, which is proved by claims", m.req.Name) &&
		m.want(int(c.claim.circuit) < len(m.site.Circuits) && c.parts == 0, "there is no such claim") {
		m.observes(c.claim.part(m.req))
	}
}

func (m *model) observes(p part) {
	m.watcher = newObserver(p)
	m.instant = m.watcher.readsEvents()
}

// takeInputs numbers what the environment may do.
func (m *model) takeInputs() {
	s, c := m.site, m.c
	m.inputAt = places(m, "input", c.inputs, len(s.Inputs))
	for _, id := range c.inputs {
		if m.err == nil {
			m.want(!s.Inputs[id].Kind.IsEvent(), "the input %s has no level", s.Inputs[id].Name)
			m.events = append(m.events, event{input: id, level: true})
		}
	}
	for _, e := range c.events {
		ok := int(e.input) < len(s.Inputs) && s.Inputs[e.input].Kind.IsEvent() && e.gesture <= site.Release
		if m.want(ok, "there is no event %d:%d", e.input, e.gesture) {
			m.events = append(m.events, e)
		}
	}
}

// takeModes numbers the modes.
func (m *model) takeModes() {
	m.modeAt = places(m, "mode", m.c.modes, len(m.site.Modes))
	if m.err != nil {
		return
	}
	for _, id := range m.c.modes {
		m.modes = append(m.modes, mode{id: id, def: &m.site.Modes[id], clock: -1, phase: -1})
	}
	for _, plants := range []bool{true, false} {
		for _, id := range m.site.StepOrder {
			if at := m.modeAt[id]; at >= 0 && m.site.Modes[id].Plant == plants {
				m.order = append(m.order, at)
			}
		}
	}
	m.want(len(m.order) == len(m.modes), "the site's order of steps does not name every mode")
}

// takeTimes cuts the clock of the day.
func (m *model) takeTimes() {
	s, c := m.site, m.c
	places(m, "band", c.bands, len(s.Bands))
	places(m, "jump", c.jumps, len(s.Jumps))
	if m.err != nil {
		return
	}
	kept := wallKept{bands: c.bands, modes: c.modes, jumps: c.jumps}
	for _, id := range c.inputs {
		kept.calendar = kept.calendar || s.Inputs[id].Kind == site.Calendar
	}
	if m.watcher.needsCauses() {
		kept.causes = m.keptCauses()
	}
	cycle := site.Day
	if c.cycle == "week" {
		cycle = site.Week
	}
	m.want(c.cycle == "" || c.cycle == "day" || c.cycle == "week", "the clock goes round in a day or a week")
	w, err := newWall(s, kept, cycle, c.segments, c.period, c.dayClock())
	if err != nil {
		m.want(false, "%v", err)
		return
	}
	m.wall = w
	m.want(len(c.jumps) == 0 || len(c.segments) > 0, "there is no clock that could jump")
}

// dayClock tells how the clock of the day is kept.
func (c *certificate) dayClock() dayClock {
	if len(c.clocks) > 0 && c.clocks[0].name == "day" {
		switch c.clocks[0].treat {
		case cooling:
			return dayClock{counts: c.horizon}
		case relaxed:
			return dayClock{}
		}
	}
	return dayClock{exact: true, counts: site.Week}
}

// keptCauses gives the causes of a Settles as far as they are kept. Fewer causes forbid more.
func (m *model) keptCauses() *site.Causes {
	out := &site.Causes{}
	for _, b := range m.req.Causes.Bands {
		if slices.Contains(m.c.bands, b) {
			out.Bands = append(out.Bands, b)
		}
	}
	for _, id := range m.req.Causes.Modes {
		if slices.Contains(m.c.modes, id) {
			out.Modes = append(out.Modes, id)
		}
	}
	return out
}

// segments is how many segments are told apart.
func (m *model) segments() int { return m.c.period }

// compileWatched compiles what the observer looks at.
func (m *model) compileWatched() {
	for _, e := range m.watcher.exprs {
		m.watched = append(m.watched, m.compile(e))
	}
}

// places gives the place in the list of each id, -1 if it is not in it.
func places[T ~int](m *model, what string, ids []T, n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = -1
	}
	for at, id := range ids {
		if m.want(int(id) < n, "there is no %s %d", what, id) {
			out[id] = at
		}
	}
	return out
}

// name looks up a name for words.
func name[T any](table []T, id int, of func(*T) string) string {
	if id < 0 || id >= len(table) {
		return fmt.Sprint(id)
	}
	return of(&table[id])
}

func (m *model) inputName(id site.InputID) string {
	return name(m.site.Inputs, int(id), func(x *site.Input) string { return x.Name })
}

func (m *model) bandName(id site.BandID) string {
	return name(m.site.Bands, int(id), func(x *site.Band) string { return x.Name })
}

func (m *model) modeName(id site.ModeID) string {
	return name(m.site.Modes, int(id), func(x *site.Mode) string { return x.Name })
}

func (m *model) circuitName(id site.CircuitID) string {
	return name(m.site.Circuits, int(id), func(x *site.Circuit) string { return x.Name })
}
