// A system and its states in the words of a certificate (package comment of checker/certify).

package machine

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"lampwarden/checker/zone"
)

// WriteHead writes what the system keeps: the lines of a certificate from "unit" to the clocks.
func (s *System) WriteHead(w io.Writer) {
	h := header{s: s, w: w}
	h.line("unit", int(s.unit))
	h.inputs()
	h.kept("band", s.sl.Bands)
	h.kept("mode", s.sl.Modes)
	h.sequences()
	for i := range s.lamps {
		l := &s.lamps[i]
		nums := []int{int(l.id)}
		for _, c := range l.cuts {
			nums = append(nums, int(c))
		}
		h.line("lamp", nums...)
	}
	h.line("request", numbers(s.sl.Requests)...)
	for _, c := range s.sl.Requests {
		if free := slices.Sorted(slices.Values(s.sl.Free[c])); len(free) > 0 {
			h.line("free", append([]int{int(c)}, numbers(free)...)...)
		}
	}
	h.line("seen", numbers(s.sl.Seen)...)
	h.times()
	h.line("horizon", int(s.horizon))
	h.clocks()
}

// header writes the lines of a head. Errors of the writer are for its owner to keep.
type header struct {
	s *System
	w io.Writer
}

// line writes a line of numbers, none if there are none.
func (h header) line(word string, ns ...int) {
	if len(ns) == 0 {
		return
	}
	b := []byte(word)
	for _, n := range ns {
		b = strconv.AppendInt(append(b, ' '), int64(n), 10)
	}
	h.w.Write(append(b, '\n'))
}

func numbers[T ~int](ids []T) (out []int) {
	for _, id := range ids {
		out = append(out, int(id))
	}
	return out
}

func (h header) kept(word string, kept []bool) {
	var ids []int
	for i, k := range kept {
		if k {
			ids = append(ids, i)
		}
	}
	h.line(word, ids...)
}

func (h header) inputs() {
	h.line("input", numbers(h.s.levels)...)
	var b strings.Builder
	for _, e := range h.s.events {
		if !e.level {
			fmt.Fprintf(&b, " %d:%d", e.input, e.gesture)
		}
	}
	if b.Len() > 0 {
		fmt.Fprintf(h.w, "event%s\n", b.String())
	}
}

func (h header) sequences() {
	for m, kept := range h.s.sl.Modes {
		if !kept {
			continue
		}
		info := &h.s.modes[h.s.byID[m]]
		for state, q := range info.seqs {
			if len(info.def.States[state].Stages) == 0 {
				continue
			}
			nums := []int{m, state}
			for _, p := range q {
				nums = append(nums, p.first)
			}
			h.line("sequence", nums...)
		}
	}
}

func (h header) times() {
	s := h.s
	if !s.clocked {
		return
	}
	cycle := "day"
	if s.weekly {
		cycle = "week"
	}
	fmt.Fprintf(h.w, "cycle %s\n", cycle)
	var from, jumps []int
	for _, g := range s.segs {
		from = append(from, int(g.from))
	}
	h.line("segment", from...)
	h.line("period", s.cycle())
	for i, kept := range s.jumps {
		if kept {
			jumps = append(jumps, i)
		}
	}
	h.line("jump", jumps...)
}

func (h header) clocks() {
	s := h.s
	for ck, c := range s.clocks {
		treat := "exact"
		if s.relaxed>>ck&1 == 1 {
			treat = "relaxed"
		} else if s.cooling>>ck&1 == 1 {
			treat = "cooling"
		}
		fmt.Fprintf(h.w, "clock %s %s\n", s.clockName(c), treat)
	}
}

func (s *System) clockName(c clock) string {
	switch c.kind {
	case dayClock:
		return "day"
	case locClock:
		return fmt.Sprintf("mode %d", s.modes[c.id].id)
	case phaseClock:
		return fmt.Sprintf("phase %d", s.modes[c.id].id)
	case lampClock:
		return fmt.Sprintf("lamp %d", s.lamps[c.id].id)
	case sightClock:
		return fmt.Sprintf("seen %d", s.sights[c.id].id)
	case obsClock:
		return fmt.Sprintf("observer %d", c.id)
	default:
		return fmt.Sprintf("assume %d", s.assumptionIndex(c.id))
	}
}

// assumptionIndex is the place of a kept assumption in the site's table.
func (s *System) assumptionIndex(i int) int {
	for k := range s.site.Assumptions {
		if &s.site.Assumptions[k] == s.assume[i].Assumption {
			return k
		}
	}
	panic("machine: an assumption that the site does not have")
}

// WriteSet writes states with their zones as each yields them, zones of one state together. The keys are those of
// system from, of equal form (Form), with the clocks treated alike.
func (s *System) WriteSet(w io.Writer, from *System, each func(yield func(key []byte, z *zone.DBM) bool)) (states, zones int) {
	f := s.newFrame()
	var last, b []byte
	each(func(key []byte, z *zone.DBM) bool {
		if states == 0 || !bytes.Equal(key, last) {
			last = append(last[:0], key...)
			s.unpack(f, key)
			for i, m := range f.rec {
				f.rec[i] = s.modes[from.byID[m]].id
			}
			b = append(s.tokens(append(b[:0], "state"...), f), '\n')
			w.Write(b)
			states++
		}
		b = append(b[:0], "zone"...)
		for _, x := range z.B {
			b = appendBound(append(b, ' '), x)
		}
		w.Write(append(b, '\n'))
		zones++
		return true
	})
	return states, zones
}

func appendBound(b []byte, x zone.Bound) []byte {
	switch {
	case x >= zone.Infinity:
		return append(b, '*')
	case x.Strict():
		b = append(b, '<')
	}
	return strconv.AppendInt(b, int64(x.Value()), 10)
}

// tokens appends the tokens of a state.
func (s *System) tokens(b []byte, f *frame) []byte {
	token := func(format string, args ...any) { b = fmt.Appendf(append(b, ' '), format, args...) }
	for _, i := range s.levels {
		if f.in[i] {
			token("i%d", i)
		}
	}
	if s.clocked {
		token("g%d", f.seg)
	}
	for m, kept := range s.sl.Modes {
		if !kept || f.loc[m] == 0 && f.ph[m] == 0 && f.aft[m] == 0 {
			continue
		}
		token("m%d=%s", m, places(int(f.loc[m]), int(f.ph[m]), int(f.aft[m])))
	}
	if len(f.rec) > 0 {
		token("r%s", strings.Trim(strings.ReplaceAll(fmt.Sprint(f.rec), " ", ","), "[]"))
	}
	for i := range s.lamps {
		id, reg, aim := s.lamps[i].id, f.reg[i], f.aim[i]
		switch {
		case aim == anyAim:
			token("c%d=%d?%d", id, reg, f.may[i])
		case aim >= 0 && f.pace[i] > 0:
			token("c%d=%d>%d@%d", id, reg, aim, f.pace[i])
		case aim >= 0:
			token("c%d=%d>%d", id, reg, aim)
		case reg > 0:
			token("c%d=%d", id, reg)
		}
	}
	for i := range s.reqs {
		if f.pick[i] >= 0 {
			token("p%d=%d", s.reqs[i].id, f.pick[i])
		}
	}
	for i := range s.sights {
		if f.tgt[i] != 0 || f.seen[i] != 0 {
			token("s%d=%d/%d", s.sights[i].id, f.tgt[i], f.seen[i])
		}
	}
	for i := range s.assume {
		if f.since[i] {
			token("a%d", s.assumptionIndex(i))
		}
	}
	for _, i := range s.charges {
		if f.full[i] {
			token("f%d", s.assumptionIndex(i))
		}
	}
	if f.down {
		token("down")
	}
	if f.leapt {
		token("leapt")
	}
	for ck := range s.clocks {
		if s.cooling&f.cool>>ck&1 == 1 {
			token("k%d", ck)
		}
	}
	previous := 0
	if f.obs.Prev {
		previous = 1
	}
	if o := places(int(f.obs.Loc), int(f.obs.Count), previous); o != "0" {
		token("o%s", o)
	}
	return b
}

// places writes numbers with points between, without zeros at the end but for the first.
func places(ns ...int) string {
	for len(ns) > 1 && ns[len(ns)-1] == 0 {
		ns = ns[:len(ns)-1]
	}
	out := make([]string, len(ns))
	for i, n := range ns {
		out[i] = strconv.Itoa(n)
	}
	return strings.Join(out, ".")
}
