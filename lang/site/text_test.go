package site_test

import (
	"testing"

	"lampwarden/lang"
	"lampwarden/lang/site"
)

const house = `
area hall, stairs : escape
area room
circuit spots, wall in hall { dims 2 % to 80 % }
circuit leds in stairs { dims }
circuit bed, floor in room { switches }
group pair = spots, bed
presence pir in hall
presence a_pir, b_pir in room
button key in room
alarm fire
contact window in room
switch cleaning
bell door
supply mains
band day 07:00 to 22:00
mode welcome for each area a with presence { while presence in a  circuits in a full }
mode pad { states auto, film  on tap key: auto -> film  on double tap key: -> auto }
output siren, gong
daylight hall_lux in hall
area lab
circuit bench, glow in lab { dims  adds 100 lux  colour  tunable 2700 K to 6500 K }
group tinted = bench, glow
curve daylight_white = 06:00 2700 K, 12:00 4000 K
mode bench_light { while cleaning  bench at 50 % }
mode show { while fire  first for 2 s spots full  then spots off }
`

// TestExprText: what is written so is shown so, but for the second text where
// one is given.
func TestExprText(t *testing.T) {
	for _, c := range [][2]string{
		{"fire and not day", ""},
		{"(fire or day) and not (day and cleaning)", ""},
		{"fire or day and cleaning", "fire or (day and cleaning)"},
		{"fire or (day and cleaning)", ""},
		{"(fire or day) with cleaning", "(fire or day) and cleaning"},
		{"fire raised or fire clear", "fire or not fire"},
		{"window open", ""},
		{"window closed", ""},
		{"not window open", "window closed"},
		{"mains lost or mains live", ""},
		{"cleaning off", "not cleaning"},
		{"presence in hall", ""},
		{"pir", ""},
		{"vacated room", ""},
		{"not presence in room", "vacated room"},
		{"tap key or double tap key or triple tap key or long press key", ""},
		{"door rings", ""},
		{"welcome", ""},
		{"not welcome", ""},
		{"welcome in hall", ""},
		{"pad in film", ""},
		{"show in stage 2", ""},
		{"spots at full", ""},
		{"spots at 80 %", "spots at full"},
		{"bed at 100 %", "bed at full"},
		{"spots off", ""},
		{"spots lit", ""},
		{"spots at 30 %", ""},
		{"spots at 0.25 %", ""},
		{"spots above 10 %", ""},
		{"spots below 10 %", ""},
		{"spots at least 5 %", ""},
		{"spots at most 5 %", ""},
		{"spots between 5 % and 20 %", ""},
		{"pair lit", ""},
		{"every circuit in pair lit", "pair lit"},
		{"any circuit in pair lit", ""},
		{"no circuit in pair lit", ""},
		{"every circuit at full", ""},
		{"no circuit lit", ""},
		{"every circuit in escape areas at full", ""},
		{"any circuit in hall off", ""},
		{"area hall lit", ""},
		{"area hall dark", ""},
		{"daylight in hall below 120 lux", ""},
		{"hall_lux above 120 lux or not daylight in hall at least 500 lux", "daylight in hall at least 120 lux or daylight in hall below 500 lux"},
		{"hall_lux below 120 lux hysteresis 40 lux", "daylight in hall below 120 lux hysteresis 40 lux"},
		{"daylight in hall above 160 lux hysteresis 40 lux", "hall_lux above 160 lux hysteresis 40 lux"},
		{"illuminance of lab at least 20 lux", ""},
		{"illuminance of hall between 20 lux and 50 lux and fire", ""},
		{"not illuminance of lab above 20 lux", ""},
		{"bench red", ""},
		{"not glow above 3000 K", ""},
		{"tinted at 2700 K", ""},
		{"every circuit in lab blue", "tinted blue"},
		{"any circuit in lab below 3000 K or fire", "any circuit in tinted below 3000 K or fire"},
		{"no circuit at least 3000 K", "no circuit in tinted at least 3000 K"},
		{"at most 1 circuit in tinted between 2800 K and 3000 K", "at most 1 circuits in tinted between 2800 K and 3000 K"},
		{"bench at daylight_white", ""},
		{"siren on", ""},
		{"siren off and gong on", ""},
		{"not gong on", ""},
		{"at most 2 circuits lit", ""},
		{"at most 1 circuit in pair lit", "at most 1 circuits in pair lit"},
		{"at most 1 circuits in hall lit", ""},
		{"at least 2 circuits in escape areas off", ""},
	} {
		written, want := c[0], c[1]
		if want == "" {
			want = written
		}
		p := lang.LoadText("test.lamp", house+"require \"r\" { never ("+written+") }")
		if p.Site == nil {
			t.Errorf("%s: refused: %v", written, p.Diagnostics)
			continue
		}
		if got := p.Site.ExprText(p.Site.Requirements[0].P); got != want {
			t.Errorf("%s is shown as %q, want %q", written, got, want)
		}
	}
}

// TestExprTextReadsBack: the text of a condition, read again, is shown the same.
func TestExprTextReadsBack(t *testing.T) {
	p, err := lang.Load([]string{"../../examples/guesthouse/guesthouse.lamp"})
	if err != nil || p.Site == nil {
		t.Fatal(err, p)
	}
	head := p.Files[0].Source.Text
	n := 0
	for i := range p.Site.Requirements {
		q := &p.Site.Requirements[i]
		for _, e := range []*site.Expr{q.P, q.A, q.B, q.Until} {
			if e == nil {
				continue
			}
			n++
			text := p.Site.ExprText(e)
			again := lang.LoadText("again.lamp", head+"\nrequire \"once more\" { never ("+text+") }")
			if again.Site == nil {
				t.Errorf("%q cannot be read again: %v", text, again.Diagnostics)
				continue
			}
			last := again.Site.Requirements[len(again.Site.Requirements)-1]
			if got := again.Site.ExprText(last.P); got != text {
				t.Errorf("%q is shown as %q when read again", text, got)
			}
		}
	}
	if n < 30 {
		t.Errorf("only %d conditions", n)
	}
}

func TestTimesAndLevels(t *testing.T) {
	for m, want := range map[site.Millis]string{0: "0 s", 300: "300 ms", 1500: "1500 ms", 90_000: "90 s", 120_000: "2 min", 7_200_000: "2 h"} {
		if got := m.String(); got != want {
			t.Errorf("%d is %q, want %q", int64(m), got, want)
		}
	}
	for m, want := range map[site.Millis]string{0: "00:00", 25_200_000: "07:00", 79_205_000: "22:00:05", 79_205_250: "22:00:05.250",
		site.Day + 60_000: "00:01", -60_000: "23:59"} {
		if got := m.Clock(); got != want {
			t.Errorf("%d is %q, want %q", int64(m), got, want)
		}
	}
	for l, want := range map[site.Level]string{0: "0 %", 1: "0.01 %", 50: "0.5 %", 1025: "10.25 %", site.Full: "100 %"} {
		if got := l.String(); got != want {
			t.Errorf("%d is %q, want %q", int32(l), got, want)
		}
	}
}

func TestDays(t *testing.T) {
	for d, want := range map[site.Days]string{0: "every day", 127: "every day", 1: "Mon", 0b0011111: "Mon to Fri", 0b1100000: "Sat, Sun",
		0b1110001: "Fri to Mon", 0b1000001: "Sun, Mon", 0b0010101: "Mon, Wed, Fri", 0b0100111: "Mon to Wed, Sat", 0b1000000: "Sun"} {
		if got := d.String(); got != want {
			t.Errorf("%07b is %q, want %q", d, got, want)
		}
	}
	for m, want := range map[site.Millis]string{0: "Mon 00:00", 4*site.Day + 79_205_000: "Fri 22:00:05", site.Week + 60_000: "Mon 00:01",
		-60_000: "Sun 23:59"} {
		if got := m.WeekClock(); got != want {
			t.Errorf("%d is %q, want %q", int64(m), got, want)
		}
	}
}

func TestLookUps(t *testing.T) {
	s := lang.LoadText("test.lamp", house).Site
	if got := s.CircuitsText([]site.CircuitID{1, 0}); got != "circuits in hall" {
		t.Errorf("the hall's circuits are %q", got)
	}
	if got := s.CircuitsText([]site.CircuitID{0, 2}); got != "spots and leds" {
		t.Errorf("two circuits are %q", got)
	}
	if s.ChangeText(s.InputNamed("pir"), true) != "pir senses presence" || s.ChangeText(s.InputNamed("mains"), true) != "mains lost" {
		t.Error("changes of inputs have other words")
	}
	if got := s.Instances("welcome"); len(got) != 2 || s.ModeNamed("welcome in room") != got[1] {
		t.Errorf("instances %v", got)
	}
	if s.ModeNamed("gone") != site.None || s.CircuitNamed("gone") != site.None || s.InputNamed("gone") != site.None ||
		s.AreaNamed("gone") != site.None || s.BandNamed("gone") != site.None || s.ScenarioNamed("gone") != nil {
		t.Error("something is found that is not there")
	}
	if m := &s.Modes[s.ModeNamed("pad")]; m.StateNamed("film") != 1 || m.StateNamed("") != site.None {
		t.Error("states are not found by name")
	}
}

// TestExprTextOfAreasInAreas: an outer area is found by all that lies in it.
func TestExprTextOfAreasInAreas(t *testing.T) {
	const outer = `
area house
area office in house : quiet
area desk in office
circuit lamp in office { dims }
circuit porch in house { dims }
circuit task in desk { dims }
presence office_pir in office
presence desk_pir in desk
presence house_pir in house
`
	for _, text := range []string{"presence in desk", "presence in office", "vacated office", "presence in house", "office_pir", "area office lit",
		"area office dark", "every circuit in office at full", "any circuit in office at 5 %"} {
		p := lang.LoadText("test.lamp", outer+"require \"r\" { never ("+text+") }")
		if p.Site == nil {
			t.Fatalf("%s: refused: %v", text, p.Diagnostics)
		}
		if got := p.Site.ExprText(p.Site.Requirements[0].P); got != text {
			t.Errorf("%s is shown as %q", text, got)
		}
	}
}
