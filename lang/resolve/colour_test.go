package resolve_test

// Colours and curves, as they come out in the site.

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/site"

	"pgregory.net/rapid"
)

const tinted = `
area lounge : cosy
area porch
supply mains
circuit rgb in lounge { dims  colour  fed by mains  fade 2 s }
circuit white_a in lounge { dims  tunable 2700 K to 6500 K }
circuit both[1..2] in porch { dims  colour  tunable 2200 K to 4000 K }
circuit plain in porch { dims }
group mixed = rgb, white_a, plain
output siren
alarm fire
switch key
band evening 17:00 to 22:00
constant warm = 2700 K
curve noon_white = 06:00 2700 K, 12:00 3000 K, 18:00 2700 K
`

// settingsText shows the settings of the first mode.
func settingsText(s *site.Site) string {
	var out []string
	for _, set := range s.Modes[0].States[0].Stages[0].Settings {
		var cases []string
		for _, c := range set.Cases {
			text := c.Level.String()
			if s.Circuits[set.Circuits[0]].Colour {
				if text = fmt.Sprint(int(c.Level)); c.Level < site.LeastKelvin {
					text = site.Colours[c.Level]
				}
			}
			if c.When != nil {
				text = shape(s, c.When) + " " + text
			}
			if c.Over > 0 {
				text += " over " + c.Over.String()
			}
			cases = append(cases, text)
		}
		flash := ""
		if set.Flashing {
			flash = "flash "
		}
		out = append(out, flash+circuitNames(s, set.Circuits)+": "+strings.Join(cases, ", "))
	}
	return strings.Join(out, "; ")
}

// TestColourSettings: a setting with a colour is one of levels and one of colours; circuits that do not know the colour are
// passed over, and where no colour is told the companion is not asked.
func TestColourSettings(t *testing.T) {
	for text, want := range map[string]string{
		"rgb at 5 % red":                                         "rgb: 5 %; rgb colour: red",
		"white_a full 4000 K":                                    "white_a: 100 %; white_a colour: 4000",
		"white_a full by warm, rgb off":                          "white_a: 100 %; white_a colour: 2700; rgb: 0 %",
		"all circuits full blue":                                 "rgb white_a both[1] both[2] plain: 100 %; rgb colour: blue; both[1] colour both[2] colour: blue",
		"circuits in porch at 5 % 3000 K":                        "both[1] both[2] plain: 5 %; both[1] colour both[2] colour: 3000",
		"mixed at 5 % white":                                     "rgb white_a plain: 5 %; rgb colour: white",
		"rgb ramp to 80 % green over 3 min":                      "rgb: 80 % over 3 min; rgb colour: green over 3 min",
		"flash rgb, both[1] at 50 % blue, 400 ms on, 600 ms off": "flash rgb both[1]: 50 %; rgb colour: blue; both[1] colour: blue",
		"white_a: evening 5 % 2700 K, key off, otherwise full 4000 K": "white_a: evening 5 %, key 0 %, 100 %; " +
			"white_a colour: evening 2700, not(key) 4000",
		"mixed: evening 5 % red, key ramp to 20 % over 2 s, fire 7 % 3000 K, otherwise full": "rgb white_a plain: evening 5 %, key 20 % over 2 s, " +
			"fire 7 %, 100 %; rgb colour: evening red; white_a colour: and(fire not(evening) not(key)) 3000",
		"both: evening full 2700 K, key 5 % amber, otherwise off": "both[1] both[2]: evening 100 %, key 5 %, 0 %; " +
			"both[1] colour both[2] colour: evening 2700, key amber",
		"white_a at 30 % by noon_white": "white_a: 30 %; white_a colour: noon_white 2800 K from 07:00 2800, noon_white 2900 K from 09:00 2900, " +
			"noon_white 3000 K 3000, noon_white 2900 K from 13:00 2900, noon_white 2800 K from 15:00 2800, noon_white 2700 K 2700",
	} {
		s := must(t, tinted+"mode m { while fire  "+text+" }")
		got := settingsText(s)
		if got != want {
			t.Errorf("%s:\n got %s\nwant %s", text, got, want)
		}
		checkSite(t, s)
	}
	s := must(t, tinted+"mode m { while fire  light both in turn, 1 s apart, at 5 % red  then keep lounge at 100 lux 3000 K }\n"+
		"circuit adder in lounge { dims  adds 90 lux  tunable 2700 K to 4000 K }\ndaylight lounge_lux in lounge")
	stages := s.Modes[0].States[0].Stages
	if got := circuitNames(s, stages[1].Settings[len(stages[1].Settings)-1].Circuits); got != "both[1] colour both[2] colour" {
		t.Errorf("in turn, the colours are those of %s", got)
	}
	if last := stages[2].Settings; len(last) != 2 || circuitNames(s, last[1].Circuits) != "adder colour" || last[1].Cases[0].Level != 3000 {
		t.Errorf("what is kept has the settings %+v", last)
	}
}

func TestCompanions(t *testing.T) {
	s := must(t, tinted+`mode m { while fire  all circuits off }
require "r" { never any circuit lit }`)
	var got []string
	for i := range s.Circuits {
		if c := &s.Circuits[i]; c.Colour {
			got = append(got, fmt.Sprintf("%s of %s, fade %s, dead %t", c.Name, s.Circuits[c.Light].Name, c.Fade, c.Dead != nil))
		}
	}
	want := []string{"rgb colour of rgb, fade 2 s, dead true", "white_a colour of white_a, fade 0 s, dead false",
		"both[1] colour of both[1], fade 0 s, dead false", "both[2] colour of both[2], fade 0 s, dead false"}
	if !slices.Equal(got, want) {
		t.Errorf("companions\n%s", strings.Join(got, "\n"))
	}
	if n := len(s.Modes[0].States[0].Stages[0].Settings[0].Circuits) + len(s.Requirements[0].P.Kids[0:]); n != 5+5 {
		t.Errorf("all circuits are %d", n)
	}
}

func TestColourAtoms(t *testing.T) {
	for text, want := range map[string]string{
		"rgb red":                                "and(rgb:1-10000 rgb colour:1-1)",
		"white_a at 2700 K":                      "and(white_a:1-10000 white_a colour:2700-2700)",
		"white_a above warm":                     "and(white_a:1-10000 white_a colour:2701-10000)",
		"both[2] below 3000 K":                   "and(both[2]:1-10000 both[2] colour:1000-2999)",
		"white_a at least 3000 K":                "and(white_a:1-10000 white_a colour:3000-10000)",
		"white_a at most 3000 K":                 "and(white_a:1-10000 white_a colour:1000-3000)",
		"white_a between 3000 K and 4000 K":      "and(white_a:1-10000 white_a colour:3000-4000)",
		"both white":                             "and(and(both[1]:1-10000 both[1] colour:8-8) and(both[2]:1-10000 both[2] colour:8-8))",
		"any circuit in cosy areas above 3000 K": "or(and(white_a:1-10000 white_a colour:3001-10000))",
		"no circuit red": "not(or(and(rgb:1-10000 rgb colour:1-1) and(both[1]:1-10000 both[1] colour:1-1) " +
			"and(both[2]:1-10000 both[2] colour:1-1)))",
		"every circuit in porch except plain blue": "and(and(both[1]:1-10000 both[1] colour:6-6) and(both[2]:1-10000 both[2] colour:6-6))",
		"at least 1 circuit in mixed red":          "least1(and(rgb:1-10000 rgb colour:1-1))",
		"white_a at noon_white": "and(white_a:1-10000 or(and(noon_white 2800 K from 07:00 white_a colour:2800-2800) " +
			"and(noon_white 2900 K from 09:00 white_a colour:2900-2900) and(noon_white 3000 K white_a colour:3000-3000) " +
			"and(noon_white 2900 K from 13:00 white_a colour:2900-2900) and(noon_white 2800 K from 15:00 white_a colour:2800-2800) and(noon_white 2700 K white_a colour:2700-2700)))",
	} {
		s := must(t, tinted+"require \"r\" { never "+text+" }")
		if got := shape(s, s.Requirements[0].P); got != want {
			t.Errorf("%s:\n got %s\nwant %s", text, got, want)
		}
		checkSite(t, s)
	}
}

// TestCurves: the bands of a curve are the whole day, and what they say is nowhere further from the straight line than half a
// step, and what half a minute makes.
func TestCurves(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		times := rapid.SliceOfNDistinct(rapid.IntRange(0, 95), 2, 5, rapid.ID).Draw(rt, "times")
		slices.Sort(times)
		step := rapid.SampledFrom([]int{100, 250, 1000}).Draw(rt, "step")
		var points []string
		var kelvin []int
		for i, at := range times {
			kelvin = append(kelvin, rapid.IntRange(10, 45).Draw(rt, fmt.Sprint("kelvin", i))*100)
			points = append(points, fmt.Sprintf("%02d:%02d %d K", at/4, at%4*15, kelvin[i]))
		}
		s, ds := load(fmt.Sprintf("area a\ncircuit c in a { tunable 1000 K to 10000 K }\nalarm fire\ncurve w = %s in steps of %d K\nmode m { while fire  c full by w }",
			strings.Join(points, ", "), step))
		if s == nil {
			rt.Fatal(ds)
		}
		checkSite(t, s)
		cases := s.Modes[0].States[0].Stages[0].Settings[1].Cases
		at := rapid.IntRange(0, 24*60-1).Draw(rt, "minute")
		now, n := 0, 0
		for _, c := range cases {
			if c.When == nil || s.Bands[c.When.Band].Holds(site.Millis(at)*60_000) {
				now, n = int(c.Level), n+1
			}
		}
		if n != 1 {
			rt.Fatalf("%d bands hold", n)
		}
		i := len(times) - 1
		for i > 0 && times[i]*15 > at {
			i--
		}
		from, to := times[i]*15, times[(i+1)%len(times)]*15
		a, b := kelvin[i], kelvin[(i+1)%len(times)]
		if at < times[0]*15 {
			from, to, a, b = times[len(times)-1]*15, times[0]*15, kelvin[len(times)-1], kelvin[0]
		}
		span, part := (to-from+24*60)%(24*60), (at-from+24*60)%(24*60)
		line := float64(a) + float64(b-a)*float64(part)/float64(span)
		slack := float64(step)/2 + float64(max(b-a, a-b))/float64(span)
		if d := float64(now) - line; d > slack || d < -slack {
			rt.Fatalf("%d K at minute %d, the line is at %.0f K, which is more than %.0f K away", now, at, line, slack)
		}
	})
}
