// Package sitegen makes small random sites as data, checks the invariants of
// site data, and prints a site as text.
//
// Its sites are the common food of the differential tests: the interpreter,
// the engine and the brute-force oracle are run on the same sites and must
// agree. A site comes from a plain seed (Generate), or from a rapid generator
// (Sites), which shrinks a failing site towards the simplest constructs.
//
// How a site is made. Every duration is a small multiple of one grain, so that
// an oracle that counts ticks needs few of them: one second for a site without
// clock times, three or four hours for a site with clock times, so that a day
// has only eight or six units; eight or twelve hours if some of them belong to
// days of the week, so that a week has 21 or 14. Modes are made in a random dependency order,
// each one free to name those before it, which is then the site's StepOrder.
// Everything that the language can say of a mode, a circuit, an assumption or
// a requirement can come up; what can not be said in the language does not,
// so that Print gives a text with the same meaning.
//
// OpWas and events are made in triggers and guards only, as lang/SEMANTICS.md
// section 2 asks.
//
// What came to the language later is made only if the options ask for it (Features,
// Everything), each feature with a chance of its own and together with all the rest. A
// feature that is off makes no choice, so that it does not change the site of a seed.
package sitegen

import (
	"fmt"
	"math/rand/v2"

	"lampwarden/lang/site"

	"pgregory.net/rapid"
)

// Options steer what is generated. The zero value is the default.
type Options struct {
	MaxModes    int // greatest number of modes; 0: 3
	MaxCircuits int // greatest number of circuits; 0: 2
	MaxInputs   int // greatest number of inputs without supplies; 0: 3
	MaxUnits    int // greatest duration in grains; 0: 3
	// Requirements is the number of requirements; 0: 2, negative: none.
	Requirements int
	// ClockPercent is how many sites in a hundred have bands and clock times; 0: 25,
	// negative: none.
	ClockPercent int
	// WeekPercent is how many in a hundred of the sites with clock times have days of
	// the week; 0: 30, negative: none.
	WeekPercent int
	// RampPercent is how many in a hundred of the cases for lights that do not flash have a ramp
	// (in a site with ramps, which is every other one); 0: 40, negative: none.
	RampPercent int
	// OutputPercent is how many sites in a hundred have outputs that are no lights; 0: 20,
	// negative: none.
	OutputPercent int
	// ReactsPercent is how many sites in a hundred have a controller that takes time to
	// react; 0: 20, negative: none.
	ReactsPercent int
	// FadePercent is how many dimmed circuits in a hundred fade; 0: 35, negative: none.
	FadePercent int
	// Forms restricts the forms of the requirements; empty: those up to Possible.
	Forms []site.Form
	Features
}

func (o Options) filled() Options {
	def := func(p *int, v int) {
		if *p == 0 {
			*p = v
		}
		*p = max(*p, 0)
	}
	def(&o.MaxModes, 3)
	def(&o.MaxCircuits, 2)
	def(&o.MaxInputs, 3)
	def(&o.MaxUnits, 3)
	def(&o.Requirements, 2)
	def(&o.ClockPercent, 25)
	def(&o.WeekPercent, 30)
	def(&o.RampPercent, 40)
	def(&o.OutputPercent, 20)
	def(&o.ReactsPercent, 20)
	def(&o.FadePercent, 35)
	o.MaxModes, o.MaxCircuits = max(o.MaxModes, 1), max(o.MaxCircuits, 1)
	o.MaxInputs, o.MaxUnits = max(o.MaxInputs, 1), max(o.MaxUnits, 1)
	if len(o.Forms) == 0 {
		o.Forms = forms(site.Possible)
	}
	return o
}

// chooser makes the choices of a generation.
type chooser interface {
	// Intn gives a number of [0, n); what names the choice for a reader.
	Intn(n int, what string) int
}

type seeded struct{ r *rand.Rand }

func (s seeded) Intn(n int, _ string) int { return s.r.IntN(n) }

type drawn struct{ t *rapid.T }

func (d drawn) Intn(n int, what string) int { return rapid.IntRange(0, n-1).Draw(d.t, what) }

// Generate makes the site of a seed. The same seed and options give the same
// site.
func Generate(seed uint64, o Options) *site.Site {
	return generate(seeded{rand.New(rand.NewPCG(seed, 0x6c616d70))}, o, fmt.Sprintf("seed %d", seed))
}

// Sites gives a rapid generator of sites.
func Sites(o Options) *rapid.Generator[*site.Site] {
	return rapid.Custom(func(t *rapid.T) *site.Site { return generate(drawn{t}, o, "drawn") })
}

// gen is one generation under way.
type gen struct {
	c     chooser
	o     Options
	s     *site.Site
	grain site.Millis
	clock bool          // the site has clock times
	week  bool          // and days of the week
	ramps bool          // the site has ramps
	known []site.ModeID // modes that are complete: those before in StepOrder
	own   int           // modes of the controller; the plant's stand after them
	plant bool          // a plant mode is being made
	rungs []site.InputID
	fails []site.InputID // inputs that are faults
	flats []site.Assumption
}

func generate(c chooser, o Options, name string) *site.Site {
	g := &gen{c: c, o: o.filled(), grain: 1000}
	g.s = &site.Site{Name: name, Controller: site.Controller{FedBy: site.None}}
	if g.c.Intn(100, "clock") >= 100-g.o.ClockPercent {
		g.clock = true
		perDay := []site.Millis{6, 8}
		if g.week = g.one(g.o.WeekPercent, "week"); g.week {
			perDay = []site.Millis{2, 3}
		}
		g.grain = site.Day / pick(g, perDay, "units a day")
	}
	g.ramps = g.o.RampPercent > 0 && g.one(50, "ramps")
	g.areas()
	g.inputs()
	g.moreInputs()
	g.bands()
	g.sun()
	g.jumps()
	g.circuits()
	g.outputs()
	g.colours()
	g.modes()
	g.precedence()
	g.assumptions()
	g.moreAssumptions()
	g.requirements()
	return g.s
}

// one tells whether a choice with a chance of percent in a hundred is taken.
// The untaken side is the simpler one for shrinking.
func (g *gen) one(percent int, what string) bool { return g.c.Intn(100, what) >= 100-percent }

// some is one for a feature: if that is off no choice is made.
func (g *gen) some(percent int, what string) bool { return percent > 0 && g.one(percent, what) }

// units gives a duration of 1 to MaxUnits grains.
func (g *gen) units(what string) site.Millis {
	return g.grain * site.Millis(1+g.c.Intn(g.o.MaxUnits, what))
}

// clockTime gives a time of day on the grain.
func (g *gen) clockTime(what string) site.Millis {
	return g.grain * site.Millis(g.c.Intn(int(site.Day/g.grain), what))
}

// days gives a set of days, mostly not all of them, in a site with days of the week.
func (g *gen) days(what string) site.Days {
	if !g.week || !g.one(70, what) {
		return 0
	}
	return pick(g, []site.Days{
		0b0011111, // Mon to Fri
		0b1100000, // Sat, Sun
		0b0000001, // Mon
		0b1000000, // Sun
		0b0010000, // Fri
		0b0010101, // Mon, Wed, Fri
		0b1000001, // Mon, Sun
	}, what)
}

func pick[T any](g *gen, xs []T, what string) T { return xs[g.c.Intn(len(xs), what)] }

// subset gives between 1 and n of the numbers 0..n-1, ascending.
func (g *gen) subset(n int, what string) []int {
	first := g.c.Intn(n, what)
	var out []int
	for i := range n {
		if i == first || g.one(40, what) {
			out = append(out, i)
		}
	}
	return out
}

// permutation gives the numbers 0..n-1 in a random order.
func (g *gen) permutation(n int, what string) []int {
	p := make([]int, n)
	for i := range p {
		p[i] = i
	}
	for i := n - 1; i > 0; i-- {
		j := i - g.c.Intn(i+1, what)
		p[i], p[j] = p[j], p[i]
	}
	return p
}
