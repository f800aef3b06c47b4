// The sun, changes of the clock.

package sitegen

import "lampwarden/lang/site"

// sun lets ends of bands be by the sun, and gives the site two dates.
func (g *gen) sun() {
	if !g.clock || !g.some(g.o.SunPercent, "sun") {
		return
	}
	for _, name := range []string{"21 June", "21 December"} {
		d := site.SunDate{Name: name}
		noon := int(site.Day/g.grain) / 2
		rise, set := g.c.Intn(noon, "sunrise"), noon+g.c.Intn(noon, "sunset")
		d.At = [4]site.Millis{g.times(max(rise-1, 0)), g.times(rise), g.times(set), g.times(min(set+1, 2*noon-1))}
		if g.one(30, "no night") {
			d.At[site.Dawn], d.At[site.Dusk] = site.NoEvent, site.NoEvent
			if g.one(40, "no sunset") {
				d.At[site.Sunrise], d.At[site.Sunset] = site.NoEvent, site.NoEvent
			}
		}
		g.s.Dates = append(g.s.Dates, d)
	}
	for i := range g.s.Bands {
		b := &g.s.Bands[i]
		if t := g.sunTime("from the sun"); t != nil {
			b.From, b.FromSun = 0, t
		}
		if t := g.sunTime("to the sun"); t != nil {
			b.To, b.ToSun = 0, t
		}
		b.Overnight = (b.FromSun != nil || b.ToSun != nil) && g.one(50, "overnight")
	}
}

func (g *gen) times(units int) site.Millis { return g.grain * site.Millis(units) }

// sunTime gives, now and then, a time by the sun, in a site with dates.
func (g *gen) sunTime(what string) *site.SunTime {
	if len(g.s.Dates) == 0 || !g.one(50, what) {
		return nil
	}
	t := site.SunTime{Event: pick(g, []site.SunEvent{site.Sunset, site.Sunrise, site.Dusk, site.Dawn}, "sun event")}
	if g.one(30, "offset") {
		t.Offset = g.grain * site.Millis(1-2*g.c.Intn(2, "before"))
	}
	return &t
}

// jumps makes one or two changes of the clock, on the grain.
func (g *gen) jumps() {
	if !g.clock || !g.some(g.o.JumpPercent, "jumps") {
		return
	}
	for range 1 + g.c.Intn(2, "jumps") {
		by := g.grain
		if !g.week && g.one(30, "twice as far") {
			by *= 2
		}
		if g.one(50, "back") {
			by = -by
		}
		g.s.Jumps = append(g.s.Jumps, site.Jump{At: g.clockTime("jump at"), By: by})
	}
}
