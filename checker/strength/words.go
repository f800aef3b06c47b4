// The words of rules and changes.

package strength

import (
	"fmt"
	"strings"

	"lampwarden/lang/site"
)

// triggerText tells when a trigger fires: "on fire raised if not night", "at 07:00 on Mon to Fri".
func (b *builder) triggerText(t *site.Trigger) string {
	text := "on " + b.s.ExprText(t.On)
	switch {
	case t.Sun != nil:
		text = "at " + sunText(t.Sun)
	case t.On == nil:
		text = "at " + t.At.Clock()
	}
	if t.Days != 0 {
		text += " on " + t.Days.String()
	}
	if t.If != nil {
		text += " if " + b.s.ExprText(t.If)
	}
	return text
}

func sunText(t *site.SunTime) string {
	text := [...]string{"dawn", "sunrise", "sunset", "dusk"}[t.Event]
	switch {
	case t.Offset > 0:
		text += " + " + t.Offset.String()
	case t.Offset < 0:
		text += " - " + (-t.Offset).String()
	}
	return text
}

func flashText(f *site.Flash) string {
	text := fmt.Sprintf("flash %s on, %s off", f.On, f.Off)
	if f.Times > 0 {
		text += fmt.Sprintf(", %d times", f.Times)
	}
	return text
}

// settingText tells what a setting asks for: "bed_lights: night 10 %, otherwise 60 %".
func (b *builder) settingText(set *site.Setting) string {
	var cases []string
	for i := range set.Cases {
		cases = append(cases, b.caseText(set, i))
	}
	text := b.circuitsText(set.Circuits) + " " + strings.Join(cases, ", ")
	if set.Flashing {
		return "flash " + text
	}
	return text
}

// caseText tells one case: "night 10 %".
func (b *builder) caseText(set *site.Setting, i int) string {
	c := &set.Cases[i]
	level := b.levelText(set.Circuits[0], c.Level)
	switch {
	case c.When != nil:
		return b.s.ExprText(c.When) + " " + level
	case i > 0:
		return "otherwise " + level
	}
	return level
}

// circuitsText names circuits; of colours it names the lights.
func (b *builder) circuitsText(ids []site.CircuitID) string {
	if !b.s.Circuits[ids[0]].Colour {
		return shortened(b.s, ids)
	}
	lights := make([]site.CircuitID, len(ids))
	for i, c := range ids {
		lights[i] = b.s.Circuits[c].Light
	}
	return "colour of " + shortened(b.s, lights)
}

// shortened names circuits, the first three of a long list for which the site has no words.
func shortened(s *site.Site, ids []site.CircuitID) string {
	text := s.CircuitsText(ids)
	if len(ids) <= 4 || len(text) <= 60 {
		return text
	}
	return fmt.Sprintf("%s, %s, %s and %d more circuits", s.Circuits[ids[0]].Name, s.Circuits[ids[1]].Name, s.Circuits[ids[2]].Name, len(ids)-3)
}

// levelText gives "off", "full", "on" for an output, a percentage, or a colour.
func (b *builder) levelText(c site.CircuitID, l site.Level) string {
	cir := &b.s.Circuits[c]
	switch {
	case cir.Colour && l >= site.LeastKelvin:
		return fmt.Sprintf("%d K", l)
	case cir.Colour:
		return site.Colours[l]
	case l == 0:
		return "off"
	case cir.Output:
		return "on"
	case l == site.Full:
		return "full"
	}
	return l.String()
}
