// Reading a certificate: strictly, so that one text has one meaning. What the numbers stand for is checked in model.go.

package certify

import (
	"fmt"
	"io"
	"strings"

	"lampwarden/lang/site"
)

// form is the first line of a certificate.
const form = "lampwarden-certificate 1"

// Bounds of what a certificate may claim, so that a broken one is an error and no allocation.
const (
	maxLine  = 1 << 20 // bytes of a line
	maxTimer = 64      // clock lines
)

// certificate is what a file says, ids unchecked.
type certificate struct {
	version     string
	site        string // fingerprints
	index       int    // of the requirement
	requirement string
	part, parts int
	claim       *claim // of an energy requirement
	date        int    // site.None if there is no such line
	unit        site.Millis
	inputs      []site.InputID
	events      []event
	bands       []site.BandID
	modes       []site.ModeID
	sequences   []sequenceLine
	lamps       []lampLine
	requests    []site.CircuitID
	free        map[site.CircuitID][]site.ModeID
	seen        []site.CircuitID
	cycle       string // "", "day" or "week"
	segments    []site.Millis
	period      int
	jumps       []int
	horizon     site.Millis
	clocks      []clockLine
	states      []stateLines
}

// event is something that the environment may do: an event input's gesture, or a level input that takes its other value.
type event struct {
	input   site.InputID
	level   bool
	gesture site.Gesture
}

type sequenceLine struct {
	mode   site.ModeID
	state  int
	firsts []int
}

type lampLine struct {
	circuit site.CircuitID
	cuts    []site.Level
}

// clockLine names a clock and how it is treated.
type clockLine struct {
	name  string // "mode 7"
	treat treatment
}

// treatment of a clock; see "Clocks" in the package comment.
type treatment uint8

const (
	exact treatment = iota
	cooling
	relaxed
)

// stateLines are a state and its zones as they stand in the file.
type stateLines struct {
	line   int
	tokens []string
	zones  [][]bound
}

// Rejected says why a certificate is not accepted. Line is where in the file, 0 if nowhere in particular.
type Rejected struct {
	Line   int
	Reason string
}

func (r *Rejected) Error() string {
	if r.Line == 0 {
		return r.Reason
	}
	return fmt.Sprintf("line %d: %s", r.Line, r.Reason)
}

func reject(line int, format string, args ...any) error {
	return &Rejected{line, fmt.Sprintf(format, args...)}
}

// read reads a certificate. Errors are *Rejected, or those of r.
func read(r io.Reader) (*certificate, error) {
	p := newParser(r)
	c := &certificate{date: site.None, free: map[site.CircuitID][]site.ModeID{}}
	p.head(c)
	for p.err == nil && p.word == "state" {
		p.state(c)
	}
	p.end(c)
	return c, p.err
}

// head reads the lines before the first state.
func (p *parser) head(c *certificate) {
	if p.text != form {
		p.fail("expected the line %q", form)
		return
	}
	p.advance()
	c.version = strings.Join(p.need("version", 1, many), " ")
	if f := p.need("site", 1, 1); f != nil {
		c.site = f[0]
	}
	if f := p.need("requirement", 2, 2); f != nil {
		c.index, c.requirement = p.number(f[0]), f[1]
	}
	if f := p.need("part", 2, 2); f != nil {
		c.part, c.parts = p.number(f[0]), p.number(f[1])
	}
	if f := p.maybe("claim", 3, 3); f != nil {
		c.claim = &claim{site.CircuitID(p.number(f[0])), site.Level(min(p.number(f[1]), int(site.Full)+1)), site.Millis(p.number(f[2]))}
	}
	if f := p.maybe("date", 1, 1); f != nil {
		c.date = p.number(f[0])
	}
	if f := p.need("unit", 1, 1); f != nil {
		c.unit = site.Millis(p.number(f[0]))
	}
	c.inputs = ascending[site.InputID](p, p.maybe("input", 1, many))
	p.events(c)
	c.bands = ascending[site.BandID](p, p.maybe("band", 1, many))
	c.modes = ascending[site.ModeID](p, p.maybe("mode", 1, many))
	for f := p.maybe("sequence", 3, many); f != nil; f = p.maybe("sequence", 3, many) {
		c.sequences = append(c.sequences, sequenceLine{site.ModeID(p.number(f[0])), p.number(f[1]), ascending[int](p, f[2:])})
	}
	for f := p.maybe("lamp", 2, many); f != nil; f = p.maybe("lamp", 2, many) {
		c.lamps = append(c.lamps, lampLine{site.CircuitID(p.number(f[0])), ascending[site.Level](p, f[1:])})
	}
	c.requests = ascending[site.CircuitID](p, p.maybe("request", 1, many))
	for f := p.maybe("free", 2, many); f != nil; f = p.maybe("free", 2, many) {
		id := site.CircuitID(p.number(f[0]))
		if c.free[id] != nil {
			p.fail("a second line for this circuit")
		}
		c.free[id] = ascending[site.ModeID](p, f[1:])
	}
	c.seen = ascending[site.CircuitID](p, p.maybe("seen", 1, many))
	p.times(c)
}

// events reads the line of the events, <input>:<gesture>, ascending.
func (p *parser) events(c *certificate) {
	for _, f := range p.maybe("event", 1, many) {
		in, g, _ := strings.Cut(f, ":")
		e := event{input: site.InputID(p.number(in)), gesture: site.Gesture(min(p.number(g), 255))}
		if k := len(c.events); k > 0 {
			if last := c.events[k-1]; last.input > e.input || last.input == e.input && last.gesture >= e.gesture {
				p.fail("expected ascending events")
			}
		}
		c.events = append(c.events, e)
	}
}

// times reads the lines from "cycle" to the clocks.
func (p *parser) times(c *certificate) {
	if f := p.maybe("cycle", 1, 1); f != nil {
		c.cycle = f[0]
		c.segments = ascending[site.Millis](p, p.need("segment", 1, many))
		if f := p.need("period", 1, 1); f != nil {
			c.period = p.number(f[0])
		}
	}
	c.jumps = ascending[int](p, p.maybe("jump", 1, many))
	if f := p.need("horizon", 1, 1); f != nil {
		c.horizon = site.Millis(p.number(f[0]))
	}
	for f := p.maybe("clock", 2, 3); f != nil; f = p.maybe("clock", 2, 3) {
		last := len(f) - 1
		cl := clockLine{name: strings.Join(f[:last], " ")}
		switch f[last] {
		case "exact":
		case "cooling":
			cl.treat = cooling
		case "relaxed":
			cl.treat = relaxed
		default:
			p.fail("expected exact, cooling or relaxed")
		}
		if c.clocks = append(c.clocks, cl); len(c.clocks) > maxTimer {
			p.fail("more than %d clocks", maxTimer)
		}
	}
}

// state reads a state with its zones.
func (p *parser) state(c *certificate) {
	s := stateLines{line: p.line, tokens: p.need("state", 0, many)}
	for p.err == nil && p.word == "zone" {
		f := p.need("zone", 1, (maxTimer+1)*(maxTimer+1))
		z := make([]bound, len(f))
		for i, x := range f {
			b, err := parseBound(x)
			if err != nil {
				p.failAt(p.line-1, "%v", err)
			}
			z[i] = b
		}
		s.zones = append(s.zones, z)
	}
	if len(s.zones) == 0 {
		p.failAt(s.line, "a state without a zone")
	}
	c.states = append(c.states, s)
}

// end reads the last line and checks its sums.
func (p *parser) end(c *certificate) {
	sum := p.sum() // of all lines before this one
	f := p.need("end", 3, 3)
	if p.err != nil {
		return
	}
	zones := 0
	for i := range c.states {
		zones += len(c.states[i].zones)
	}
	switch {
	case p.number(f[0]) != len(c.states) || p.number(f[1]) != zones:
		p.failAt(p.line-1, "it has %d states and %d zones, and says %s and %s", len(c.states), zones, f[0], f[1])
	case f[2] != sum:
		p.failAt(p.line-1, "the checksum does not fit: the certificate was changed or damaged")
	case !p.over:
		p.fail("expected nothing after the last line")
	}
}
