// Forms tell apart what differs in one thing: a field that the form leaves out would let two different questions share one answer.

package machine

import (
	"strings"
	"testing"

	"lampwarden/checker/observe"
	"lampwarden/lang"
)

const apartSite = `
site "s" { time zone "Europe/Dublin" }
supply mains
controller { fed by mains  reacts within 100 ms }
area hall
circuit spots in hall { dims 5 % to 100 %  fed by mains  fade 1 s  system failure level 40 %  power on level 20 % }
circuit signs in hall { switches  fed by mains }
presence pir, other in hall
switch work
button key
band evening 18:00 to 22:00
mode walk { while pir, on delay 2 s, off delay 3 s  spots at 60 % }
mode ring { while other, pulse 4 s  spots: evening 30 %, otherwise 50 %  signs full }
mode night {
	starts on tap key if not work, at 22:30
	ends on double tap key
	for 9 s
	first for 5 s spots at 10 %
	then flash spots at 90 % 3 times, 2 s on, 1 s off, signs full
	then spots ramp to 70 % over 6 s
}
mode scene {
	states calm, low, high
	on long press key: calm -> low -> high
	after 8 s if work: low -> calm
	after 7 s: high -> calm
	in low: spots at 15 %
	in high: spots at 80 %
}
precedence night > walk
precedence night > ring
equals walk, ring: latest
equals night, scene: highest
equals walk, scene: highest
equals ring, scene: highest
assume changes of work at least 11 s apart
assume pir lasts at least 12 s
assume at most 1 of pir, other
require "r" { whenever pir then within 20 s spots at least 40 % for 13 s until work or signs lit }
`

// formOf compiles the first question of a site's requirement and writes its form.
func formOf(t *testing.T, text string) string {
	t.Helper()
	p := lang.LoadText("test.lamp", text)
	if p.Site == nil {
		var b strings.Builder
		if err := p.WriteDiagnostics(&b, false); err != nil {
			t.Fatal(err)
		}
		t.Fatalf("%s\n%s", text, b.String())
	}
	o := observe.Pieces(&p.Site.Requirements[0])[0].Observer
	sys, err := New(NewSlice(p.Site, Setters(p.Site), Question{Exprs: o.Exprs}), o, NoGoal())
	if err != nil {
		t.Fatal(err)
	}
	return sys.Form()
}

func TestFormsTellApart(t *testing.T) {
	form := formOf(t, apartSite)
	if renamed := strings.NewReplacer("walk", "walking", "spots", "ceiling", "pir", "eye").Replace(apartSite); formOf(t, renamed) != form {
		t.Error("names are part of the form")
	}
	for _, e := range [][2]string{
		{"reacts within 100 ms", "reacts within 200 ms"}, {"dims 5 %", "dims 50 %"}, {"fade 1 s", "fade 2 s"},
		{"system failure level 40 %", "system failure level 50 %"}, {"system failure level 40 %  ", ""},
		{"power on level 20 %", "power on level 50 %"}, {"signs in hall { switches", "signs in hall { dims"},
		{"on delay 2 s", "on delay 1 s"}, {"off delay 3 s", "off delay 2 s"}, {"pulse 4 s", "pulse 3 s"}, {"on delay 2 s, off delay 3 s", "pulse 3 s"},
		{"18:00", "18:30"}, {"to 22:00", "to 22:10"}, {"22:30", "22:40"}, {"at 22:30", "at 22:30 on Mon"}, {"if not work", "if work"}, {"double tap", "triple tap"},
		{"\tfor 9 s", "\tfor 8 s"}, {"for 5 s", "for 4 s"}, {"3 times", "2 times"}, {"2 s on", "3 s on"}, {"1 s off", "2 s off"},
		{"flash spots at 90 % 3 times, 2 s on, 1 s off, signs full", "spots at 90 %, flash signs 3 times, 2 s on, 1 s off"}, {"over 6 s", "over 5 s"}, {"ramp to 70 %", "ramp to 30 %"}, {"at 10 %", "at 45 %"},
		{"evening 30 %", "work 30 %"}, {"otherwise 50 %", "otherwise 10 %"}, {"calm -> low -> high", "calm -> high -> low"},
		{"after 8 s if work", "after 8 s"}, {"after 8 s", "after 6 s"}, {"after 7 s: high -> calm", "after 7 s: high -> low"}, {"in low: spots at 15 %", "in low: spots at 85 %"},
		{"precedence night > walk", "equals night, walk: highest"}, {"walk, ring: latest", "walk, ring: highest"}, {"equals night, scene: highest", "precedence night > scene"},
		{"at least 11 s apart", "at least 10 s apart"}, {"lasts at least 12 s", "lasts at least 11 s"}, {"assume pir lasts", "assume other lasts"},
		{"assume at most 1 of pir, other", ""}, {"changes of work", "changes of other"},
		{"whenever pir", "whenever other"}, {"within 20 s", "within 19 s"}, {"at least 40 %", "at least 45 %"}, {"for 13 s", "for 12 s"}, {" for 13 s", ""},
		{"until work or", "until work and"}, {"signs lit", "signs off"}, {"spots at least 40 %", "signs lit"},
	} {
		text := strings.Replace(apartSite, e[0], e[1], 1)
		if text == apartSite {
			t.Errorf("%q is not in the site", e[0])
		} else if formOf(t, text) == form {
			t.Errorf("%q instead of %q has the same form", e[1], e[0])
		}
	}
}
