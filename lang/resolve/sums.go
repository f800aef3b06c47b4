// Sums over circuits: the light that they add to an illuminance, the power that they take.
//
// An illuminance is daylight, in rungs, plus the light of lamps, a sum of weights times levels. That the two together reach a
// value is written out over the sums at which the lamps may rest: for some of these sums, the lamps give that much and the
// daylight is at least what is missing then.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// perLux is what a sum of lux times hundredths of a per cent has for each lux.
const perLux = int64(site.Full)

// The most sums that one condition is written out over, and the most that are told apart on the way there.
const (
	maxSums    = 24
	maxPartial = 4096
)

// seenLight lets the sensors see the lamps of their areas. A lamp's light is seen when the nearest sensor around it responds.
func (r *resolver) seenLight() {
	for i := range r.site.Circuits {
		c := &r.site.Circuits[i]
		if k, ok := r.sensorFor(c.Area); ok && c.Adds > 0 {
			c.SeenAfter = r.sensors[k].within
		}
	}
}

// seenBy lists what each lamp adds that the sensor sees.
func (r *resolver) seenBy(k int) []site.Term { return r.addedIn(r.sensors[k].area) }

// addedIn lists what each lamp in an area adds to its illuminance, those in areas within included.
func (r *resolver) addedIn(a site.AreaID) []site.Term {
	var out []site.Term
	for _, id := range r.circuitsIn(a) {
		if adds := r.site.Circuits[id].Adds; adds > 0 {
			out = append(out, site.Term{Circuit: id, Weight: adds})
		}
	}
	return out
}

// restsOf lists the levels at which a circuit may rest, as site.Rests does, for all circuits at one go.
func (r *resolver) restsOf(c site.CircuitID) []site.Level {
	if r.resting == nil {
		r.resting = r.allRests()
	}
	return r.resting[c]
}

func (r *resolver) allRests() [][]site.Level {
	out := make([][]site.Level, len(r.site.Circuits))
	for i := range out {
		c := &r.site.Circuits[i]
		out[i] = append(out[i], 0)
		for _, l := range []*site.Level{c.Fail, c.PowerOn} {
			if l != nil {
				out[i] = append(out[i], *l)
			}
		}
	}
	for m := range r.site.Modes {
		for _, st := range r.site.Modes[m].States {
			for _, sg := range st.Stages {
				for _, set := range sg.Settings {
					for _, c := range set.Circuits {
						for _, k := range set.Cases {
							out[c] = append(out[c], r.site.Circuits[c].Clamp(k.Level))
						}
						slices.Sort(out[c])
						out[c] = slices.Compact(out[c])
					}
				}
			}
		}
	}
	return out
}

// sums lists the values that a sum takes while all its circuits rest, ascending, the first being 0. Of very many the
// least of those that are close together stands for them, or, if up, the greatest; exact tells that there are none.
func (r *resolver) sums(terms []site.Term, up bool) (out []int64, exact bool) {
	out, exact = []int64{0}, true
	thinned := func(values []int64, n int) []int64 {
		exact = exact && len(values) <= n
		return thin(values, n, up)
	}
	for _, t := range terms {
		var next []int64
		for _, l := range r.restsOf(t.Circuit) {
			for _, s := range out {
				next = append(next, s+t.Weight*int64(l))
			}
		}
		slices.Sort(next)
		out = thinned(slices.Compact(next), maxPartial)
	}
	return thinned(out, maxSums), exact
}

// thin keeps at most n of ascending values, the first of which is 0: that one, and the least (or the greatest) in each of
// n - 1 equal steps up to the last.
func thin(values []int64, n int, up bool) []int64 {
	if len(values) <= n {
		return values
	}
	steps, last := int64(n-1), values[len(values)-1]
	kept := make([]int64, n-1)
	for i := range kept {
		kept[i] = -1
	}
	for _, v := range values[1:] {
		step := (v - 1) / ((last + steps - 1) / steps)
		if up || kept[step] < 0 {
			kept[step] = v
		}
	}
	return append(values[:1:1], slices.DeleteFunc(kept, func(v int64) bool { return v < 0 })...)
}

// total is daylight and lamps together.
type total struct {
	sensor int // with day
	day    bool
	terms  []site.Term
	seen   bool // as the sensor sees the lamps, not as they are
}

// reaches is the condition that the total is at least need, in ten-thousandths of a lux and more than 0. Where it cannot be told exactly, the
// lamps count as more than they give if over is set, else as less.
func (r *resolver) reaches(t total, need int64, over bool, sp source.Span) *site.Expr {
	if !t.day {
		return r.sumAtLeast(t, need, over, sp)
	}
	steps, exact := r.sums(t.terms, over)
	out := &site.Expr{Op: site.OpOr, Span: sp}
	for i, s := range steps {
		lamps := s
		if over && !exact && i > 0 {
			lamps = steps[i-1] + 1 // more than the step before counts as this one
		}
		if s >= need {
			if !over {
				lamps = need
			}
			out.Kids = append(out.Kids, r.sumAtLeast(t, lamps, over, sp))
			break
		}
		rung := r.rungExpr(t.sensor, (need-s+perLux-1)/perLux, sp)
		if i > 0 {
			rung = join(site.OpAnd, []*site.Expr{r.sumAtLeast(t, lamps, over, sp), rung}, sp)
		}
		out.Kids = append(out.Kids, rung)
	}
	return join(site.OpOr, out.Kids, sp)
}

func (r *resolver) sumAtLeast(t total, need int64, over bool, sp source.Span) *site.Expr {
	if !r.spend(len(t.terms)+1, sp) {
		return poison(sp)
	}
	return &site.Expr{Op: site.OpSum, Terms: slices.Clone(t.terms), Need: need, Up: over && !t.seen, Seen: t.seen, Span: sp}
}

// reads is the condition that a sensor reads at least so many lux. What it sees of lamps counts rather as more than as less:
// so a lamp that switches itself off by its own light is found.
func (r *resolver) reads(k int, lux int64, sp source.Span) *site.Expr {
	seen := r.seenBy(k)
	if len(seen) == 0 {
		return r.rungExpr(k, lux, sp)
	}
	return r.reaches(total{sensor: k, day: true, terms: seen, seen: true}, lux*perLux, true, sp)
}
