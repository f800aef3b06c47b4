// Variables of a state: cells, choices of one of several, heights on a ladder.

package horn

import "fmt"

// cell is a variable of the state, Bool or Real.
type cell int

// sort of a cell.
type sort uint8

const (
	isBool sort = iota
	isReal
)

func (s sort) String() string { return [...]string{"Bool", "Real"}[s] }

type cellInfo struct {
	name  string
	sort  sort
	about string // for the comment
	// forced tells of a Real that it is a timer of the site: what is left until it is due, 0 while it does not
	// run. Time does not pass it.
	forced bool
}

// state gives the value of each cell.
type state []term

func (s state) clone() state { return append(state{}, s...) }

func (e *encoder) cell(s sort, about string) cell {
	e.cells = append(e.cells, cellInfo{name: fmt.Sprintf("v%d", len(e.cells)), sort: s, about: about})
	return cell(len(e.cells) - 1)
}

func (e *encoder) flag(about string) cell { return e.cell(isBool, about) }

// timer makes a timer of the site. It counts down.
func (e *encoder) timer(about string) cell {
	c := e.cell(isReal, about)
	e.cells[c].forced = true
	return c
}

// countdown makes a timer that time may pass: it stops at 0.
func (e *encoder) countdown(about string) cell { return e.cell(isReal, about) }

// passed is a countdown after a delay.
func (e *encoder) passed(c cell, st state, d term) term {
	return e.ite(e.lt(d, st[c]), e.sub(st[c], d), e.zero)
}

// initial is the state before start-up.
func (e *encoder) initial() state {
	st := make(state, len(e.cells))
	for i, c := range e.cells {
		if c.sort == isReal {
			st[i] = e.zero
		}
	}
	return st
}

// choice is one of several: exactly one of the terms is true.
type choice []term

// only is the choice of i among n.
func only(i, n int) choice {
	c := make(choice, n)
	c[i] = yes
	return c
}

// finite is a variable with values 0..n-1, in binary digits.
type finite struct {
	n    int
	bits []cell
}

func (e *encoder) finite(n int, about string) finite {
	f := finite{n: n}
	for k := 1; k < n; k *= 2 {
		f.bits = append(f.bits, e.flag(fmt.Sprintf("%s, digit %d", about, len(f.bits))))
	}
	return f
}

// get reads the variable.
func (e *encoder) get(f finite, st state) choice {
	bits := make([]term, len(f.bits))
	for i, c := range f.bits {
		bits[i] = st[c]
	}
	return e.decode(bits, f.n)
}

// decode gives the choice that binary digits stand for.
func (e *encoder) decode(bits []term, n int) choice {
	out := make(choice, n)
	for v := range out {
		lits := make([]term, len(bits))
		for i, x := range bits {
			if lits[i] = x; v>>i&1 == 0 {
				lits[i] = e.not(x)
			}
		}
		out[v] = e.and(lits...)
	}
	return out
}

// put writes the variable.
func (e *encoder) put(f finite, st state, c choice) {
	for i, bit := range f.bits {
		var on []term
		for v, x := range c {
			if v>>i&1 == 1 {
				on = append(on, x)
			}
		}
		st[bit] = e.or(on...)
	}
}

// mix is "if c then x else y" of choices.
func (e *encoder) mix(c term, x, y choice) choice {
	out := make(choice, len(x))
	for i := range out {
		out[i] = e.either(c, x[i], y[i])
	}
	return out
}

// height is a number 0..n on a ladder: height[i] tells whether it is more than i. A greater one has the bits of a
// lesser one, so that the greatest of several is a disjunction, and "between two" is told bit by bit.
type height []term

// at gives the height i on a ladder of n rungs above 0.
func at(i, n int) height {
	h := make(height, n)
	for k := range i {
		h[k] = yes
	}
	return h
}

func (e *encoder) equalHeights(x, y height) term {
	same := make([]term, len(x))
	for i := range x {
		same[i] = e.iff(x[i], y[i])
	}
	return e.and(same...)
}

func (e *encoder) pick(c term, x, y height) height {
	out := make(height, len(x))
	for i := range out {
		out[i] = e.either(c, x[i], y[i])
	}
	return out
}

// is tells whether a height is i.
func (e *encoder) is(h height, i int) term {
	out := []term{}
	if i > 0 {
		out = append(out, h[i-1])
	}
	if i < len(h) {
		out = append(out, e.not(h[i]))
	}
	return e.and(out...)
}

// heightCells are the cells of a height.
type heightCells []cell

func (e *encoder) heightCells(n int, about string) heightCells {
	out := make(heightCells, n)
	for i := range out {
		out[i] = e.flag(fmt.Sprintf("%s, above rung %d", about, i))
	}
	return out
}

func (h heightCells) get(st state) height {
	out := make(height, len(h))
	for i, c := range h {
		out[i] = st[c]
	}
	return out
}

func (h heightCells) put(st state, v height) {
	for i, c := range h {
		st[c] = v[i]
	}
}
