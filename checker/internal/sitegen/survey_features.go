// What features a site has, for Constructs.

package sitegen

import (
	"fmt"

	"lampwarden/lang/site"
)

func surveyFeatures(s *site.Site, add func(bool, string)) {
	if d := s.Controller.Down; d != nil {
		add(s.Controller.Keeps, "down:keeps")
		add(!s.Controller.Keeps, "down:forgets")
		add(d.Op == site.OpMode, "down:boots")
	}
	for _, j := range s.Jumps {
		add(j.By > 0, "jump:forward")
		add(j.By < 0, "jump:back")
	}
	for i := range s.Dates {
		for _, b := range s.OnDate(i).Bands {
			add(b.Void, "sun:void-band")
			add(b.FromSun != nil && !b.Void, "sun:from")
			add(b.ToSun != nil && !b.Void, "sun:to")
		}
		for _, m := range s.OnDate(i).Modes {
			for _, t := range m.Starts {
				add(t.Sun != nil && !t.Void, "sun:trigger")
				add(t.Void, "sun:void-trigger")
			}
		}
	}
	for i := range s.Circuits {
		c := &s.Circuits[i]
		add(c.Dead != nil && c.Dead.Op == site.OpMode, "circuit:returns")
		add(c.FedBy != site.None && s.Supplies[max(c.FedBy, 0)].Dead != nil, "circuit:generator")
		add(c.Cut != nil, "circuit:cut")
		add(c.Fail != nil, "circuit:fail")
		add(c.PowerOn != nil, "circuit:power-on")
		add(c.Fail != nil && c.Dead != nil && s.Controller.Down != nil, "circuit:fail-dead-down")
		add(c.SeenAfter > 0, "circuit:seen")
		add(c.Colour, "circuit:colour")
		add(c.Colour && c.Fade > 0, "circuit:colour-fades")
		add(c.Colour && c.PowerOn != nil, "circuit:colour-power-on")
		add(c.Dead != nil && c.FedBy != site.None && s.Supplies[max(c.FedBy, 0)].Battery, "circuit:flat")
	}
	for i := range s.Modes {
		m := &s.Modes[i]
		add(m.Plant, fmt.Sprintf("plant:%d", m.Kind))
		add(m.Plant && m.OnDelay > 0, "plant:on-delay")
		add(m.Plant && m.OffDelay > 0, "plant:off-delay")
		for _, e := range modeExprs(m) {
			for _, other := range e.Modes() {
				add(s.Modes[other].Plant && !m.Plant, "reads-plant")
			}
		}
	}
}
