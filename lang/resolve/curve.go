// Curves of colour temperature over the day.
//
// A curve goes straight from point to point, round midnight too. It is told in steps: each piece is a band of its own, in which
// the colour temperature is a multiple of the step, or that of a point.

package resolve

import (
	"cmp"
	"fmt"
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// defaultKelvinStep is the step of a curve that does not say.
const defaultKelvinStep = 100

// maxPieces bounds the pieces of a curve, each of which is a band.
const maxPieces = 200

// curve is a declared curve. Its bands are made when it is used first.
type curve struct {
	name   string
	pieces []piece
	made   bool
	span   source.Span
}

// piece is a part of the day with one colour temperature.
type piece struct {
	from   site.Millis
	kelvin site.Level
	band   site.BandID
}

// curvePoint is a written point.
type curvePoint struct {
	at     site.Millis
	kelvin int64
}

// bounds gives the least and the greatest colour temperature.
func (c *curve) bounds() (lo, hi site.Level) {
	byKelvin := func(a, b piece) int { return cmp.Compare(a.kelvin, b.kelvin) }
	return slices.MinFunc(c.pieces, byKelvin).kelvin, slices.MaxFunc(c.pieces, byKelvin).kelvin
}

func (r *resolver) curveDecl(d *syntax.CurveDecl) {
	var points []curvePoint
	sure := true
	for i, p := range d.Points {
		at, okAt := r.clock(p.At)
		k, okK := r.kelvin(p.Kelvin)
		if !okAt || !okK {
			sure = false
			continue
		}
		if i > 0 && sure && at <= points[i-1].at {
			e := r.errorf(source.BadRange, p.Span, "the points of a curve stand in the order of the day, from 00:00 on")
			relate(e, d.Points[i-1].Span, "this one is not before it")
			sure = false
		}
		points = append(points, curvePoint{at, int64(k)})
	}
	step := int64(defaultKelvinStep)
	if d.Step != nil {
		if step = d.Step.Value; step == 0 {
			r.errorf(source.BadCount, d.Step.Span, "a step is more than 0 K")
			return
		}
	}
	if !sure {
		return
	}
	pieces := curvePieces(points, step)
	if len(pieces) > maxPieces {
		at := d.Name.Span
		if d.Step != nil {
			at = d.Step.Span
		}
		e := r.errorf(source.BadCount, at, "with such steps the curve has %d pieces; the most is %d", len(pieces), maxPieces)
		e.Suggestion = "write larger steps, such as `in steps of 100 K`"
		return
	}
	r.curves[r.at[d]].pieces = pieces
}

// curvePieces cuts the curve where it is midway between two steps, to the minute.
func curvePieces(points []curvePoint, step int64) []piece {
	var out []piece
	add := func(at site.Millis, kelvin int64) {
		p := piece{from: at % site.Day, kelvin: site.Level(kelvin)}
		if n := len(out); n > 0 && out[n-1].from == p.from {
			out[n-1] = p
			return
		}
		out = append(out, p)
	}
	for i, a := range points {
		b := points[(i+1)%len(points)]
		if i == len(points)-1 {
			b.at += site.Day
		}
		add(a.at, a.kelvin)
		was := a.kelvin
		for _, k := range gridBetween(a.kelvin, b.kelvin, step) {
			const minute = 60_000
			part := site.Millis(was+k-2*a.kelvin) * (b.at - a.at) / site.Millis(2*(b.kelvin-a.kelvin))
			at := (a.at + part + minute/2) / minute * minute
			if at < b.at {
				add(max(at, a.at), k)
			}
			was = k
		}
	}
	slices.SortStableFunc(out, func(a, b piece) int { return cmp.Compare(a.from, b.from) })
	return mergePieces(out)
}

// gridBetween lists the multiples of the step between two values, and the second value, on the way from the first to it.
func gridBetween(from, to, step int64) []int64 {
	var out []int64
	for k := min(from, to)/step*step + step; k < max(from, to); k += step {
		out = append(out, k)
	}
	if from > to {
		slices.Reverse(out)
	}
	if from != to {
		out = append(out, to)
	}
	return out
}

// mergePieces drops a piece that begins with the next one, and one that is like the piece before it, round midnight too.
func mergePieces(list []piece) []piece {
	var out []piece
	for i, p := range list {
		if i+1 < len(list) && list[i+1].from == p.from || len(out) > 0 && out[len(out)-1].kelvin == p.kelvin {
			continue
		}
		out = append(out, p)
	}
	if n := len(out); n > 1 && out[0].kelvin == out[n-1].kelvin {
		out = out[1:]
	}
	return out
}

// piecesOf gives the pieces of a curve with their bands.
func (r *resolver) piecesOf(c *curve) []piece {
	if c.made {
		return c.pieces
	}
	c.made = true
	seen := map[site.Level]int{}
	for _, p := range c.pieces {
		seen[p.kelvin]++
	}
	for i := range c.pieces {
		p := &c.pieces[i]
		name := fmt.Sprintf("%s %d K", c.name, p.kelvin)
		if seen[p.kelvin] > 1 {
			name += " from " + p.from.Clock()
		}
		p.band = site.BandID(len(r.site.Bands))
		r.site.Bands = append(r.site.Bands, site.Band{Name: name, From: p.from, To: c.pieces[(i+1)%len(c.pieces)].from, Span: c.span})
	}
	return c.pieces
}
