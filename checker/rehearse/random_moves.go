// Random moves of lamps between two reactions.

package rehearse

import (
	"cmp"
	"slices"

	"lampwarden/lang/site"
)

// moves draws moves of lamps strictly between the last reaction and the next one.
func (d *dice) moves(next Nanos) error {
	last := d.last()
	if next-last < 2 {
		return nil
	}
	var moves []Move
	for i, l := range d.now.circuits {
		for range 2 {
			if l.moving && d.chance(2) {
				moves = append(moves, Move{At: d.between(last, next), Circuit: site.CircuitID(i)})
			}
		}
	}
	slices.SortStableFunc(moves, func(a, b Move) int { return cmp.Compare(a.At, b.At) })
	for _, mv := range moves {
		l := d.now.circuits[mv.Circuit]
		if !l.moving {
			continue
		}
		mv.Level = d.onTheWay(mv.Circuit, l)
		after, err := d.move(d.now, mv)
		if err != nil {
			return err
		}
		d.now = after
		d.script.Moves = append(d.script.Moves, mv)
	}
	return nil
}

// between draws a time strictly between two, often next to one of them.
func (d *dice) between(last, next Nanos) Nanos {
	switch d.rng.IntN(4) {
	case 0:
		return last + 1
	case 1:
		return next - 1
	}
	return last + 1 + Nanos(d.rng.Int64N(int64(next-last-1)))
}

// onTheWay draws a level further on towards the aim, often the aim itself.
func (d *dice) onTheWay(c site.CircuitID, l circuitState) site.Level {
	if jumps(&d.s.Circuits[c], min(l.level, l.aim), max(l.level, l.aim)) || d.chance(3) {
		return l.aim
	}
	if l.aim > l.level {
		return l.level + 1 + site.Level(d.rng.IntN(int(l.aim-l.level)))
	}
	return l.level - 1 - site.Level(d.rng.IntN(int(l.level-l.aim)))
}
