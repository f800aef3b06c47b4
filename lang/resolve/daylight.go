// Sensors of daylight and what is asked of them.
//
// The daylight in an area is told in rungs: level inputs that are true while it is at least so many lux. Every value that
// some condition compares with makes a rung. A condition with a hysteresis reads a mode of the plant that remembers on which
// side of the two values the reading was last. So does one on a sensor that also sees lamps.

package resolve

import (
	"fmt"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// sensor is a sensor of daylight.
type sensor struct {
	name   string
	area   site.AreaID
	within site.Millis // it sees a light that has stood so long
	rungs  map[int64]site.InputID
	spaced []int // assumptions on the least time between its changes
	span   source.Span
}

// defaultResponse is how soon a sensor responds that does not say.
const defaultResponse site.Millis = 1000

func newSensor(d *syntax.DaylightDecl) sensor {
	return sensor{name: d.Name.Name, area: site.None, within: defaultResponse, rungs: map[int64]site.InputID{}, span: d.Name.Span}
}

func (r *resolver) daylightDecl(d *syntax.DaylightDecl) {
	k := r.at[d]
	given := seen{}
	for _, it := range d.Items {
		if it.Within != nil && r.first(given, "`responds within`", it.Span) {
			r.sensors[k].within = r.duration(it.Within)
		}
	}
	s := r.find(d.Area, kindArea)
	if s == nil {
		r.unsure[kindSensor] = true
		return
	}
	a := site.AreaID(s.id)
	r.sensors[k].area = a
	if old, ok := r.sensorOf[a]; ok {
		e := r.errorf(source.SensorTwice, d.Area.Span, "the area `%s` has two daylight sensors", s.name)
		relate(e, r.sensors[old].span, "this is the other one")
		e.Suggestion = "give each an area of its own: `area NAME in " + s.name + "`"
		return
	}
	r.sensorOf[a] = k
}

// ownSensor tells that a sensor stands in the area itself.
func (r *resolver) ownSensor(a site.AreaID) bool {
	_, ok := r.sensorOf[a]
	return ok
}

// sensorFor finds the sensor that serves an area: its own, or that of the nearest area around it.
func (r *resolver) sensorFor(a site.AreaID) (k int, ok bool) {
	for ; a >= 0; a = r.site.Areas[a].Parent {
		if k, ok := r.sensorOf[a]; ok {
			return k, true
		}
	}
	return 0, false
}

// areaSensor is sensorFor with a report.
func (r *resolver) areaSensor(sc scope, id *syntax.Ident) (k int, ok bool) {
	a := r.areaNamed(sc, id)
	if a == poisonArea {
		return 0, false
	}
	if k, ok = r.sensorFor(a); !ok && !r.unsure[kindSensor] {
		r.noSensor(sc, id, a)
	}
	return k, ok
}

func (r *resolver) noSensor(sc scope, id *syntax.Ident, a site.AreaID) {
	area := &r.site.Areas[a]
	d := r.errorf(source.NoSensor, id.Span, "the area `%s` has no daylight sensor", area.Name)
	relate(d, area.Span, "declared here")
	if sc.name != "" && id.Name == sc.name {
		d.Suggestion = "write `for each area " + sc.name + " ... with daylight` to leave out areas without one"
	} else {
		d.Suggestion = "declare one: `daylight NAME in " + area.Name + "`"
	}
}

// rung gives the input that is true while the daylight at a sensor is at least so many lux, 1 or more.
func (r *resolver) rung(k int, lux int64) site.InputID {
	s := &r.sensors[k]
	id, ok := s.rungs[lux]
	if !ok {
		id = site.InputID(len(r.site.Inputs))
		r.site.Inputs = append(r.site.Inputs, site.Input{Name: fmt.Sprintf("%s at least %d lux", s.name, lux), Kind: site.Daylight,
			Area: s.area, Lux: lux, Sensor: s.name, Span: s.span})
		s.rungs[lux] = id
	}
	return id
}

func (r *resolver) rungExpr(k int, lux int64, sp source.Span) *site.Expr {
	return &site.Expr{Op: site.OpInput, Input: r.rung(k, lux), Span: sp}
}

func (r *resolver) daylightAtom(sc scope, a *syntax.DaylightAtom) *site.Expr {
	k, ok := r.areaSensor(sc, a.Area)
	if !ok {
		return poison(a.Span)
	}
	return r.compare(sc, k, a.Is, a.Span)
}

func (r *resolver) sensorAtom(sc scope, a *syntax.NameAtom, s *symbol) *site.Expr {
	if len(a.In) > 0 || a.Stage != nil || a.State != "" || a.Light == nil {
		d := r.errorf(source.WrongWord, a.Span, "this cannot be said of a daylight sensor")
		relate(d, s.span, "`%s` is declared here", s.name)
		d.Suggestion = "write `" + s.name + " below 120 lux` or `" + s.name + " above 500 lux`"
		return poison(a.Span)
	}
	if r.sensors[s.id].area == site.None {
		return poison(a.Span)
	}
	return r.compare(sc, s.id, a.Light, a.Span)
}

// compare resolves what is asked of a sensor.
func (r *resolver) compare(sc scope, k int, is *syntax.LightState, sp source.Span) *site.Expr {
	if sc.use == useStep {
		d := r.errorf(source.WrongWord, sp, "a scenario tells how bright the daylight is, not what it is compared with")
		d.Suggestion = "write `" + r.sensors[k].name + " 300 lux`"
		return poison(sp)
	}
	lit := is.Word == "above" || is.Word == "least"
	if !lit && is.Word != "below" {
		d := r.errorf(source.WrongWord, is.Span, "this cannot be asked of a daylight sensor")
		d.Notes = append(d.Notes, "it can be `below 120 lux` or `above 500 lux` (which is the same as `at least 500 lux`)")
		return poison(sp)
	}
	limit, ok := r.measured(is.Level, anIlluminance)
	gap := int64(0)
	if is.Hysteresis != nil {
		var okGap bool
		gap, okGap = r.measured(is.Hysteresis, anIlluminance)
		ok = ok && okGap
	}
	if !ok || !r.canCompare(is, lit, limit, gap) {
		return poison(sp)
	}
	words := fmt.Sprintf("daylight in %s below %d lux", r.site.Areas[r.sensors[k].area].Name, limit)
	from, to := limit+gap, limit
	if lit {
		from, to = limit, limit-gap
	}
	bright := r.bright(sc, k, from, to, sp)
	if lit {
		return bright
	}
	dark := not(bright, sp)
	if gap > 0 {
		words += fmt.Sprintf(" hysteresis %d lux", gap)
	}
	dark.Label = words
	return dark
}

// canCompare refuses limits that are never passed.
func (r *resolver) canCompare(is *syntax.LightState, lit bool, limit, gap int64) bool {
	switch {
	case limit == 0:
		r.errorf(source.BadRange, is.Level.Span, "daylight is never below 0 lux")
		return false
	case lit && gap >= limit:
		d := r.errorf(source.BadRange, is.Hysteresis.Span, "with this hysteresis the reading would have to fall below 0 lux")
		d.Notes = append(d.Notes, fmt.Sprintf("`above %d lux hysteresis %d lux` ends below %d lux", limit, gap, limit-gap))
		return false
	}
	return true
}

// reading is a mode of the plant that is active while a sensor reads bright: from `from` lux on, until it reads less than
// `to` lux.
type reading struct {
	sensor   int
	from, to int64
	mode     site.ModeID
}

// bright gives the condition that a sensor reads bright. It is a rung if that is all there is to it.
func (r *resolver) bright(sc scope, k int, from, to int64, sp source.Span) *site.Expr {
	if from == to && len(r.seenBy(k)) == 0 {
		return r.rungExpr(k, from, sp)
	}
	for _, x := range r.readings {
		if x.sensor == k && x.from == from && x.to == to {
			return r.modeExpr(sc, x.mode, sp)
		}
	}
	name := fmt.Sprintf("%s above %d lux", r.sensors[k].name, from)
	if from > to {
		name += fmt.Sprintf(" hysteresis %d lux", from-to)
	}
	kind := site.Latch
	if from == to {
		kind = site.While
	}
	id := r.addMode(site.Mode{Name: name, Plant: true, Hidden: true, Kind: kind, Span: r.sensors[k].span})
	r.readings = append(r.readings, reading{sensor: k, from: from, to: to, mode: id})
	return r.modeExpr(sc, id, sp)
}

// modeExpr is the condition that a mode is active.
func (r *resolver) modeExpr(sc scope, id site.ModeID, sp source.Span) *site.Expr {
	r.dependsOn(sc, id, sp)
	return &site.Expr{Op: site.OpMode, Mode: id, Span: sp}
}
