// What a story uses: the sum over its circuits, in watt-hours.

package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Energy is what was used in the stretch in which a requirement on energy is broken.
type Energy struct {
	Used     int64        `json:"usedMilliwattHours"`
	Limit    int64        `json:"limitMilliwattHours"`
	Standing int64        `json:"standingLoadMilliwattHours"`
	Circuits []EnergyTerm `json:"circuits"`        // the greatest first; those that used nothing are left out
	Power    int64        `json:"powerMilliwatts"` // at the end of the stretch
}

// EnergyTerm is the share of one circuit.
type EnergyTerm struct {
	Circuit string `json:"circuit"`
	Used    int64  `json:"usedMilliwattHours"`
}

// unitsPerMilliwattHour: a milliwatt, at a level of one hundredth of a per cent, for a nanosecond.
const unitsPerMilliwattHour = 3.6e12 * float64(site.Full)

// energy adds up what a stretch of a run used. Levels count as the requirement counts them: rounded up to a resting level,
// and unchanged between two steps.
func (t *teller) energy(tl *rehearse.Timeline, r *site.Requirement, from, to rehearse.Nanos) *Energy {
	out := &Energy{Limit: r.Limit, Circuits: []EnergyTerm{}}
	sum := float64(r.Standing) * float64(site.Full) * float64(to-from)
	out.Standing = int64(math.Round(sum / unitsPerMilliwattHour))
	power := r.Standing * int64(site.Full)
	for _, d := range r.Draws {
		rests := t.s.Rests(d.Circuit)
		used := 0.0
		for i := range tl.Steps {
			begin, end := max(from, tl.Steps[i].At), to
			if i+1 < len(tl.Steps) {
				end = min(to, tl.Steps[i+1].At)
			}
			l := d.Weight * int64(site.Round(rests, tl.Level(i, d.Circuit), true))
			if begin < end {
				used += float64(l) * float64(end-begin)
			}
			if begin < end && end == to {
				power += l
			}
		}
		sum += used
		if mwh := int64(math.Round(used / unitsPerMilliwattHour)); mwh > 0 {
			out.Circuits = append(out.Circuits, EnergyTerm{t.circuit(d.Circuit), mwh})
		}
	}
	slices.SortStableFunc(out.Circuits, func(a, b EnergyTerm) int { return int(b.Used - a.Used) })
	out.Used, out.Power = int64(math.Round(sum/unitsPerMilliwattHour)), power/int64(site.Full)
	return out
}

// line says who used how much.
func (e *Energy) line() string {
	const most = 6
	var words []string
	rest, n := int64(0), 0
	for i, c := range e.Circuits {
		if i >= most && len(e.Circuits) > most+1 {
			rest, n = rest+c.Used, n+1
			continue
		}
		words = append(words, c.Circuit+" "+wattHours(c.Used))
	}
	if n > 0 {
		words = append(words, fmt.Sprintf("%d more circuits %s", n, wattHours(rest)))
	}
	if e.Standing > 0 {
		words = append(words, "the standing load "+wattHours(e.Standing))
	}
	if len(words) == 0 {
		words = []string{"nothing"}
	}
	return fmt.Sprintf("Used in this time: %s. At the end the load is %s.", joined(words), watts(e.Power))
}

// tooMuch says in a sentence that too much energy was used.
func (t *teller) tooMuch(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) string {
	since, at, took := moment(tl, j.Since), moment(tl, shownAt(j)), span(shownAt(j)-j.Since)
	if r.During == nil {
		return fmt.Sprintf("From %s to %s, in %s, more than %s was used. No more may be used in any %s.",
			since, at, took, wattHours(r.Limit), r.D)
	}
	text := fmt.Sprintf("This came true at %s: %s. By %s, after %s, ", since, t.expr(r.During), at, took)
	if b := t.batteryOf(r); b != "" {
		return text + fmt.Sprintf("the %s of battery %s are used up. It has to last %s.", wattHours(r.Limit), b, r.D)
	}
	return text + fmt.Sprintf("more than %s was used, which is all that may be used in %s while it lasts.", wattHours(r.Limit), r.D)
}

// roundUp rounds a length of time to whole milliseconds, upwards.
func roundUp(d rehearse.Nanos) rehearse.Nanos {
	return (d + rehearse.Milli - 1) / rehearse.Milli * rehearse.Milli
}

// energyText gives the lines of a requirement on energy.
func (t *teller) energyText(r *site.Requirement) []string {
	if b := t.batteryOf(r); b != "" {
		return []string{fmt.Sprintf("battery %s lasts at least %s", b, r.D),
			fmt.Sprintf("(on %s, from each time that this comes true: %s)", wattHours(r.Limit), t.expr(r.During))}
	}
	text := fmt.Sprintf("energy of %s per %s at most %s", t.drawsText(r), r.D, wattHours(r.Limit))
	if r.During != nil {
		return []string{text, "from each time that this comes true, while it lasts: " + t.expr(r.During)}
	}
	return []string{text}
}

// batteryOf names the battery that a requirement is about: it speaks of its usable capacity and of what it feeds. Else "".
func (t *teller) batteryOf(r *site.Requirement) string {
	for i := range t.s.Supplies {
		b := &t.s.Supplies[i]
		if r.During == nil || !b.Battery || b.Capacity == 0 || b.Standing != r.Standing || usable(b) != r.Limit {
			continue
		}
		feeds := func(d site.Term) bool { return t.s.Circuits[d.Circuit].FedBy == site.SupplyID(i) }
		if !slices.ContainsFunc(r.Draws, func(d site.Term) bool { return !feeds(d) }) {
			return source.Escape(b.Name)
		}
	}
	return ""
}

// usable is the usable capacity in milliwatt-hours, rounded down.
func usable(b *site.Supply) int64 {
	share := b.Usable
	if share == 0 {
		share = site.Full
	}
	return int64(float64(b.Capacity) * float64(share) / float64(site.Full))
}

// drawsText names what a requirement on energy speaks of: a supply, or circuits.
func (t *teller) drawsText(r *site.Requirement) string {
	var ids []site.CircuitID
	for _, d := range r.Draws {
		ids = append(ids, d.Circuit)
	}
	if f := t.feedOfAll(ids); f != "" {
		return f
	}
	return t.circuits(ids)
}

// feedOfAll names the supply that feeds these circuits and no other one that has a power; "" if there is none.
func (t *teller) feedOfAll(ids []site.CircuitID) string {
	if len(ids) == 0 {
		return ""
	}
	feed := t.s.Circuits[ids[0]].FedBy
	if feed == site.None {
		return ""
	}
	for i := range t.s.Circuits {
		c := &t.s.Circuits[i]
		if in := slices.Contains(ids, site.CircuitID(i)); in && c.FedBy != feed || !in && c.FedBy == feed && c.Power > 0 {
			return ""
		}
	}
	return source.Escape(t.s.Supplies[feed].Name)
}

// wattHours gives an energy in milliwatt-hours as the language writes it: "480 Wh", "11.65 Wh".
func wattHours(mwh int64) string { return thousandths(mwh, 2) + " Wh" }

// watts gives a power in milliwatts: "54 W".
func watts(mw int64) string { return thousandths(mw, 3) + " W" }

// thousandths gives a number of thousandths with at most so many digits after the point.
func thousandths(n int64, digits int) string {
	text := strconv.FormatFloat(float64(n)/1000, 'f', digits, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}
