// Package resolve turns syntax trees into a site: it gives every name its
// meaning.
//
// The work is done in passes over the declarations, each in written order:
//
//  1. Names. Every declared name goes into one table, those of declarations
//     that could not be read too (as names of unknown kind), so that one
//     mistake never makes others (names.go, broken.go).
//  2. Things: areas, supplies, circuits, rows, groups, outputs, inputs, bands
//     (things.go, areas.go, joins.go, circuits.go, rows.go, schedule.go, table.go, outputs.go, days.go), and the packs that are
//     used (packs.go). Constants stand for literals everywhere (constants.go).
//  3. Modes. Templates are expanded to one mode for each area, then every
//     body is resolved: conditions with their quantifiers expanded (cond.go,
//     quant.go, light.go), triggers, transitions, sequences of settings
//     (mode.go, states.go, sequence.go, targets.go).
//  4. Assumptions, requirements and scenarios (assume.go, require.go,
//     scenario.go). Conditions may bring modes of the plant with them (plant.go), and
//     what daylight they compare makes its inputs and assumptions (daylight.go, ladder.go).
//     When all settings are known, sums of light are written out (sums.go, judged.go).
//  5. Supplies and faults. By now all faults are named (faults.go, even.go), and it is settled when circuits are dead or cut
//     and the controller is down (feeds.go, stuck.go, power.go, generator.go).
//  6. Order. The precedence is closed transitively and the modes are put in
//     dependency order (precedence.go, order.go, cycle.go). What hangs on the whole site comes last: how
//     long batteries last, and what settling requirements may wait for (causes.go).
//
// All mistakes of a site are reported together. A part that could not be
// resolved becomes a poison value, which fits everywhere and causes no
// further report. With an error there is no site.
//
// An identifier named sp is a span, sc the scope that a condition stands in.
package resolve

import (
	"time"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// Resolve gives the site that the files, taken together, describe. The
// diagnostics are in canonical order. The site is nil if one of them is an
// error; parse errors of the files, which the caller has, are not repeated.
func Resolve(files []*syntax.File) (*site.Site, source.Diagnostics) {
	return ResolveWith(files, Packs{})
}

// ResolveWith is Resolve for files that may use requirement packs.
func ResolveWith(files []*syntax.File, packs Packs) (*site.Site, source.Diagnostics) {
	return ResolveAll(files, packs, nil)
}

// ResolveAll is Resolve for files that may use requirement packs and circuit schedules.
func ResolveAll(files []*syntax.File, packs Packs, tables Schedules) (*site.Site, source.Diagnostics) {
	r := newResolver()
	r.tables = tables
	r.declareAll(files)
	r.lateCounts()
	r.things()
	r.clampStands()
	r.usePacks(packs)
	r.expandTemplates()
	r.checkJoins()
	r.latchModes()
	r.generatorModes()
	r.modeBodies()
	r.assumptions()
	r.jumps()
	r.requirements()
	r.sun()
	r.scenarios()
	r.finishLight()
	r.knownLoads()
	if !r.diagnostics().HasErrors() {
		r.feeds()
	}
	r.precedence()
	r.stepOrder()
	out := r.diagnostics()
	if out.HasErrors() {
		return nil, out
	}
	r.batteries()
	r.causes()
	return r.site, out
}

// maxItems bounds what templates and quantifiers may expand to (circuits of
// settings and nodes of conditions), so that a small file cannot fill memory.
const maxItems = 4_000_000

// maxModes bounds the square tables of the precedence.
const maxModes = 6000

// resolver holds the site under construction and what the passes share.
type resolver struct {
	site  *site.Site
	names map[string]*symbol
	list  []*symbol // names in written order, for suggestions
	decls []syntax.Decl

	literals  map[string]*syntax.Literal // of constants, while names are being declared
	late      []*syntax.Int              // numbers to be looked at when all names are known
	constants []constant                 // the values of constants and of packs' parameters
	daySets   []daySet                   // the sets of `days` declarations
	holiday   site.InputID               // true on a holiday; None if the site has none
	packs     []*packUse
	inUse     source.Span // where the pack that is being resolved is used, if one is

	at   map[syntax.Decl]int // where a declaration's things start in the table of their kind
	past map[syntax.Decl]int // and where its circuits end
	rows map[int]row         // the groups that are rows of circuits
	// circuit schedules: their texts, and what was read of them; lost tells that circuits may be missing
	tables    Schedules
	schedules []*schedule
	lost      bool
	joints    []joint
	// alarms that are latched, and which inputs are
	latches []latch
	latchOf map[site.InputID]int
	// the joins of each area and of the areas in it
	joinsBy map[site.AreaID][]int
	// where each area that lies in another one is put there
	inArea map[site.AreaID]source.Span
	modes  []*modeDecl

	curves []curve
	tints  map[site.CircuitID]tint // of the circuits that have a colour

	sensors  []sensor
	sensorOf map[site.AreaID]int                       // an area's own sensor of daylight
	readings []reading                                 // modes of the plant that read sensors
	kept     []site.Setting                            // those that keep light
	luxSteps []luxStep                                 // steps of scenarios that set the daylight
	pending  map[*site.Expr]func(over bool) *site.Expr // conditions on sums, to be written out when all settings are known
	resting  [][]site.Level                            // the levels at which each circuit may rest, once they are known

	// unsure has the kinds of which some declaration is broken: what is
	// missing among them may be in the broken one, and is not reported.
	unsure map[kind]bool
	// What each area has, areas in it included, and the tags that areas carry (index).
	presenceBy map[site.AreaID][]site.InputID
	circuitsBy map[site.AreaID][]site.CircuitID
	tags       map[string]bool
	// dependencies of each mode on others, by where they are named.
	deps []map[site.ModeID]source.Span

	zone       *time.Location // the site's, nil if it has none
	zoneGiven  bool           // though it may not exist
	siteBroken bool           // the description of the site may be in what could not be read
	sunAt      []source.Span  // where times by the sun are written
	dateOf     map[site.Date]int
	split      bool // the date before has become several
	power      supplyNotes
	faults     faultTable

	found    []*source.Diagnostic
	reported map[place]bool
	spent    int
}

// place identifies a report: a body that is resolved once for each area of a
// template says everything once.
type place struct {
	code source.Code
	span source.Span
}

func newResolver() *resolver {
	return &resolver{
		holiday:  site.None,
		site:     &site.Site{Year: plainYear, Controller: site.Controller{FedBy: site.None}},
		names:    map[string]*symbol{},
		at:       map[syntax.Decl]int{},
		past:     map[syntax.Decl]int{},
		rows:     map[int]row{},
		inArea:   map[site.AreaID]source.Span{},
		latchOf:  map[site.InputID]int{},
		literals: map[string]*syntax.Literal{},
		tints:    map[site.CircuitID]tint{},
		sensorOf: map[site.AreaID]int{},
		pending:  map[*site.Expr]func(bool) *site.Expr{},
		unsure:   map[kind]bool{},
		reported: map[place]bool{},
		power:    newSupplyNotes(),
		faults:   newFaultTable(),
	}
}

// spend counts expanded items and reports whether there is still room.
func (r *resolver) spend(n int, sp source.Span) bool {
	r.spent += n
	if r.spent <= maxItems {
		return true
	}
	if r.spent-n <= maxItems {
		r.errorf(source.SiteTooLarge, sp, "with this the templates and quantifiers of the site expand to more than %d items", maxItems)
	}
	return false
}
