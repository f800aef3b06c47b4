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
	maxSums    = 16
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
// least of those that are close together stands for them, or, if up, the greatest, but the sums of light that is kept stand
// for themselves; exact tells that there are not so many.
func (r *resolver) sums(terms []site.Term, up bool) (out []int64, exact bool) {
	out, exact = []int64{0}, true
	for _, t := range terms {
		var next []int64
		for _, l := range r.restsOf(t.Circuit) {
			for _, s := range out {
				next = append(next, s+t.Weight*int64(l))
			}
		}
		slices.Sort(next)
		next = slices.Compact(next)
		exact = exact && len(next) <= maxSums
		out = thin(next, maxPartial, up)
	}
	if exact {
		return out, true
	}
	few := thin(out, maxSums, up)
	kept := r.keptSums(terms)
	if len(kept) > maxSums {
		return few, false
	}
	width := stepWidth(few[len(few)-1], maxSums)
	stoodFor := func(v int64) bool { // a kept sum less than a step away, on the side that counts, will do for it
		return slices.ContainsFunc(kept, func(k int64) bool {
			return up && k >= v && k < v+width || !up && k <= v && k > v-width
		})
	}
	out = slices.Clone(kept)
	for i, v := range few {
		if i == 0 || i == len(few)-1 || !stoodFor(v) {
			out = append(out, v)
		}
	}
	slices.Sort(out)
	return slices.Compact(out), false
}

// keptSums lists the sums at which settings that keep light hold the circuits of the terms.
func (r *resolver) keptSums(terms []site.Term) []int64 {
	var out []int64
	for _, set := range r.kept {
		for _, k := range set.Cases {
			sum := int64(0)
			for _, t := range terms {
				if slices.Contains(set.Circuits, t.Circuit) {
					sum += t.Weight * int64(r.site.Circuits[t.Circuit].Clamp(k.Level))
				}
			}
			if sum > 0 {
				out = append(out, sum)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// stepWidth is the width of the equal steps up to the last value for which, with 0, n values stand.
func stepWidth(last int64, n int) int64 { return (last + int64(n) - 2) / int64(n-1) }

// thin keeps at most n of ascending values, the first of which is 0: that one, and the least (or the greatest) in each of
// n - 1 equal steps up to the last.
func thin(values []int64, n int, up bool) []int64 {
	if len(values) <= n {
		return values
	}
	width := stepWidth(values[len(values)-1], n)
	kept := make([]int64, n-1)
	for i := range kept {
		kept[i] = -1
	}
	for _, v := range values[1:] {
		step := (v - 1) / width
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
		lux := (need - s + perLux - 1) / perLux
		if !exact {
			lux = r.nearRung(t.sensor, lux, steps[len(steps)-1]/perLux/100, over)
		}
		rung := r.rungExpr(t.sensor, lux, sp)
		if i > 0 {
			rung = join(site.OpAnd, []*site.Expr{r.sumAtLeast(t, lamps, over, sp), rung}, sp)
		}
		out.Kids = append(out.Kids, rung)
	}
	return join(site.OpOr, out.Kids, sp)
}

// nearRung gives a rung that the sensor has already and that is not further than slack below the value (over) or above it, or
// the value itself: coarse sums need no finer ladder.
func (r *resolver) nearRung(k int, lux, slack int64, over bool) int64 {
	best, found := lux, false
	for have := range r.sensors[k].rungs {
		if over && have <= lux && have >= lux-slack && (!found || have > best) ||
			!over && have >= lux && have <= lux+slack && (!found || have < best) {
			best, found = have, true
		}
	}
	return best
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
