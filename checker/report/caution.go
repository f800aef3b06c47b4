// The cautions that belong to a report, in plain words.

package report

import "lampwarden/lang/site"

// cautions gives those that the site calls for: the general ones always, the others where it has alarms, escape
// routes, supplies or flashing.
func cautions(s *site.Site) []string {
	out := []string{
		"Proved is the logic written in the file, not the wiring, lamps, sensors or commissioning. A proof is no " +
			"certificate. Test on site, with witnesses, after every change.",
	}
	if touchesSafety(s) {
		out = append(out, "This is no life-safety device and must not be the only evidence for escape lighting, fire "+
			"alarm or intruder systems. Fire detection and alarm belong to certified equipment; lighting only follows it. "+
			"The local code and its authority prevail, and a licensed or otherwise competent designer signs.")
	}
	if hasEscape(s) {
		out = append(out, "Levels here are commands, not illuminance: escape lighting needs photometric design and "+
			"measurement. Losing a sensor, bus, clock or supply must leave the way out lit.")
	}
	if hasFlash(s) {
		out = append(out, "Flashing: keep to at most three flashes in any second at the eye, all lamps in view together, "+
			"and warn people with photosensitive epilepsy. Flashing room lights are no certified visual alarm device. "+
			"Do not flash the only lighting of an escape route.")
	}
	if hasPower(s) {
		out = append(out, "Power: what a proof says of batteries and loads rests on the figures in the file. How long a battery "+
			"really lasts depends on its age, temperature and load. Test it over its full time.")
	}
	if hasFaults(s) {
		out = append(out, "Faults: a proof reckons with those that a requirement names after \"even with\", each as a whole, and with no "+
			"others. Equipment also fails by halves, or in several places at once from one cause.")
	}
	if hasLux(s) {
		out = append(out, "Illuminance: what lamps add is the figure in the file, at every place of the area alike. That is no photometric "+
			"design. Measure on site, with new lamps and with old ones.")
	}
	return out
}

// shortCaution is for reports that leave the cautions out.
const shortCaution = "A proof is about the described logic only. It replaces no escape lighting, no fire alarm system, " +
	"no local code, no licensed practice and no test on site."

func touchesSafety(s *site.Site) bool {
	for i := range s.Inputs {
		if s.Inputs[i].Kind == site.Alarm {
			return true
		}
	}
	return hasEscape(s)
}

func hasEscape(s *site.Site) bool {
	for i := range s.Areas {
		if s.Areas[i].HasTag("escape") {
			return true
		}
	}
	return false
}

func hasPower(s *site.Site) bool { return len(s.Supplies) > 0 }

func hasFaults(s *site.Site) bool {
	for i := range s.Requirements {
		if len(s.Requirements[i].Faults) > 0 {
			return true
		}
	}
	return false
}

func hasLux(s *site.Site) bool {
	for i := range s.Circuits {
		if s.Circuits[i].Adds > 0 {
			return true
		}
	}
	return false
}

func hasFlash(s *site.Site) bool {
	for i := range s.Modes {
		for _, st := range s.Modes[i].States {
			for _, g := range st.Stages {
				if g.Flash != nil {
					return true
				}
			}
		}
	}
	return false
}
