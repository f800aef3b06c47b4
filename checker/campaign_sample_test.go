// Campaign: which site a seed stands for.

package checker_test

import (
	"math/rand/v2"

	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
)

// sample is a site of the campaign and how it is looked at.
type sample struct {
	seed     uint64
	kind     string
	opt      sitegen.Options
	findings bool // the findings are compared, too
	solver   bool // a solver is asked, too
	states   int  // zones of one search of the engine; more are undecided. The oracle's first look has half as many again.
}

// Half of the time would go into the tenth of the sites that are too large for either, so most are given up early.
const (
	fewStates  = 1000
	manyStates = 4000 // of every fourth site

	solverShare = 200 // one site in so many is given to a solver, which takes as long as hundreds of sites
)

// kinds are the sorts of sites with their share in a hundred. Most are small, so that all questions about them can be
// decided by brute force and many of them fit into an hour; the last two are those of the default tests.
var kinds = []struct {
	name  string
	share int
	opt   func(*rand.Rand) sitegen.Options
}{
	{"small", 36, func(*rand.Rand) sitegen.Options { return small(2) }},
	{"small with one feature", 30, func(r *rand.Rand) sitegen.Options {
		o := small(1)
		focus[r.IntN(len(focus))](&o)
		return o
	}},
	{"small with everything", 20, func(r *rand.Rand) sitegen.Options {
		o := sitegen.Everything()
		o.MaxModes, o.MaxCircuits, o.MaxInputs, o.MaxUnits, o.WeekPercent = 1+r.IntN(2), 1, 1, 1+r.IntN(2), 15
		return o
	}},
	{"default", 11, func(*rand.Rand) sitegen.Options { return sitegen.Options{} }},
	{"everything", 3, func(*rand.Rand) sitegen.Options { return sitegen.Everything() }},
}

// small gives options for sites of one circuit, with all forms of requirements.
func small(inputs int) sitegen.Options {
	all := sitegen.Everything()
	return sitegen.Options{MaxModes: 2, MaxCircuits: 1, MaxInputs: inputs, MaxUnits: 2, Forms: all.Forms, WeekPercent: 15}
}

// focus are the features, each nearly certain in a site that is about it.
var focus = []func(*sitegen.Options){
	func(o *sitegen.Options) { o.DaylightPercent = 100 },
	func(o *sitegen.Options) { o.DaylightPercent, o.SightPercent = 100, 100 },
	func(o *sitegen.Options) { o.ColourPercent = 100 },
	func(o *sitegen.Options) { o.ColourPercent, o.LevelsPercent, o.CutPercent = 100, 100, 60 },
	func(o *sitegen.Options) { o.GeneratorPercent = 100 },
	func(o *sitegen.Options) { o.ReturnPercent, o.GeneratorPercent = 100, 30 },
	func(o *sitegen.Options) { o.BatteryPercent = 100 },
	func(o *sitegen.Options) { o.DownPercent = 100 },
	func(o *sitegen.Options) { o.DownPercent, o.LevelsPercent = 100, 100 },
	func(o *sitegen.Options) { o.CutPercent, o.LevelsPercent = 100, 100 },
	func(o *sitegen.Options) { o.PlantPercent = 100 },
	func(o *sitegen.Options) { o.FailurePercent, o.FaultPercent, o.CutPercent = 100, 100, 50 },
	func(o *sitegen.Options) { o.SumPercent, o.MaxCircuits = 50, 2 },
	func(o *sitegen.Options) { o.ClockPercent, o.JumpPercent = 100, 100 },
	func(o *sitegen.Options) { o.ClockPercent, o.CalendarPercent = 100, 100 },
	func(o *sitegen.Options) { o.ClockPercent, o.SunPercent = 100, 100 },
	func(o *sitegen.Options) { o.ClockPercent, o.WeekPercent = 100, 100 },
	func(o *sitegen.Options) { o.Forms = []site.Form{site.Energy} },
	func(o *sitegen.Options) { o.Forms = []site.Form{site.CanReturn} },
	func(o *sitegen.Options) { o.Forms = []site.Form{site.Settles} },
}

// sampleOf gives the sample of a seed.
func sampleOf(seed uint64) sample {
	r := rand.New(rand.NewPCG(seed, 0x63616d70))
	x := sample{seed: seed, findings: seed%6 == 0, solver: seed%solverShare == 0, states: fewStates}
	if seed%4 == 3 {
		x.states = manyStates
	}
	at := r.IntN(100)
	for _, k := range kinds {
		if at -= k.share; at < 0 {
			x.kind, x.opt = k.name, k.opt(r)
			return x
		}
	}
	panic("the shares of the kinds are not a hundred")
}

func (x sample) site() *site.Site { return sitegen.Generate(x.seed, x.opt) }
