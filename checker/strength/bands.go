// Mutants of the parts of the day.

package strength

import "lampwarden/lang/site"

// bands shifts both ends of every band by an hour, or by half its length if it is shorter than two.
func (b *builder) bands() {
	for i := range b.s.Bands {
		id := site.BandID(i)
		bd := &b.s.Bands[i]
		by := anHour
		if bd.FromSun == nil && bd.ToSun == nil {
			by = min(by, ((bd.To-bd.From)%site.Day+site.Day)%site.Day/2)
		}
		k := b.rule(BandRule, bd.Span, "", "band "+bd.Name)
		k.touches = touch{bands: []site.BandID{id}}
		if bd.Holidays == site.AnyDay || bd.From+by < bd.To {
			k.add("begins "+by.String()+" later", "", func(s *site.Site) { shift(&s.Bands[id].From, &s.Bands[id].FromSun, by) })
		}
		k.add("ends "+by.String()+" earlier", "", func(s *site.Site) { shift(&s.Bands[id].To, &s.Bands[id].ToSun, -by) })
	}
}

// shift moves an end of a band, by the clock or by the sun.
func shift(at *site.Millis, sun **site.SunTime, by site.Millis) {
	if *sun != nil {
		t := **sun
		t.Offset += by
		*sun = &t
		return
	}
	*at = ((*at+by)%site.Day + site.Day) % site.Day
}
