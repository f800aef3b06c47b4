package lang_test

// What structure is expanded to, played: every scenario of these sites has its expectations met.

import (
	"testing"

	"lampwarden/checker/rehearse"
	"lampwarden/lang"
	"lampwarden/lang/site"
)

// plays reads a site and rehearses its scenarios.
func plays(t *testing.T, text string) *site.Site {
	t.Helper()
	p := lang.LoadText("played.lamp", text)
	if p.Site == nil {
		t.Fatalf("refused: %v", p.Diagnostics)
	}
	for i := range p.Site.Scenarios {
		sc := &p.Site.Scenarios[i]
		_, xs, err := rehearse.Rehearse(p.Site, sc)
		if err != nil {
			t.Fatal(err)
		}
		if len(xs) == 0 {
			t.Errorf("%s expects nothing", sc.Name)
		}
		for _, x := range xs {
			if !x.Met {
				t.Errorf("%s: not met: %s %v", sc.Name, x, x.Why)
			}
		}
	}
	return p.Site
}

func TestStairsPlayed(t *testing.T) {
	plays(t, `
area stairs
lamps step[1..4] in stairs { dims }
button key in stairs
mode way_up {
    starts on tap key
    first light step in turn, 400 ms apart, at 60 %
    then  for 2 s step at 60 %
    then  turn off step in turn, 400 ms apart
    for 10 s
}
scenario "up" {
    at 10:00:00 tap key
    expect step[1] at 60 % and step[2..4] off
    expect step[1..3] at 60 % within 800 ms
    at 10:00:00.900 double tap key
    expect step[4] off
    at 10:00:01.300 double tap key
    expect step at 60 %
    at 10:00:04.000 double tap key       # the last step was lit at 1.2 s, so the next stage began at 1.6 s
    expect step[1..2] off and step[3..4] at 60 %
    expect step off within 800 ms
}
`)
}

func TestLatchedAlarmPlayed(t *testing.T) {
	s := plays(t, `
area hall
circuit spots in hall { dims }
button panel_reset in hall
switch bypass
band day 07:00 to 22:00
alarm fire, gas latched until tap panel_reset or bypass on and day
alarm plain
mode way_out { while fire  spots full }
mode smell { while gas  spots at 40 % }
precedence way_out > smell
scenario "latched" {
    at 10:00 fire
    expect fire sensed and fire and way_out and spots at full
    at 10:01 tap panel_reset             # there is still a fire
    expect fire raised
    at 10:02 not fire
    expect fire and not fire sensed and spots at full
    at 10:03 gas
    expect fire raised and gas raised
    at 10:04 tap panel_reset
    expect fire clear and gas raised and not way_out and spots at 40 %
}
scenario "a reset that lasts" {
    given bypass on
    at 23:00 fire
    at 23:01 not fire
    expect fire
    at 07:01 plain                       # day began, and with it the reset
    expect not fire and plain sensed
    at 07:02 fire
    expect fire
    at 07:03 not fire
    expect not fire
}
scenario "sensed at the start" {
    given fire
    at 10:00 tap panel_reset
    expect fire
    at 10:01 fire clear
    expect fire and fire raised and not fire sensed
}
`)
	m := s.Modes[s.ModeNamed("fire latched")]
	if !m.Plant || !m.Hidden || s.StepOrder[0] != s.ModeNamed("fire latched") || s.StepOrder[1] != s.ModeNamed("gas latched") {
		t.Errorf("the panel steps as %v: %+v", s.StepOrder, m)
	}
	if got := s.ExprText(m.Ends[0].On); got != "(tap panel_reset or (bypass and day)) and not fire sensed" {
		t.Errorf("it ends on %s", got)
	}
	if got := s.ExprText(s.Modes[s.ModeNamed("way_out")].Cond) + ", " + s.ExprText(s.Scenarios[0].Steps[1].Expect); got !=
		"fire, fire sensed and fire and way_out and spots at full" {
		t.Error(got)
	}
}

func TestDimmerPlayed(t *testing.T) {
	plays(t, `
area bedroom_1
circuit bed_1, bed_2 in bedroom_1 { dims }
presence pir in bedroom_1
button bed_key in bedroom_1
mode dim_bed {
    dimmer on bed_key from 10 % to 100 % in 9 steps every 300 ms
    circuits in bedroom_1
    on vacated bedroom_1: -> off
    after 2 h: -> off
    at 06:30: off -> on
}
scenario "on and off" {
    at 10:00 tap bed_key
    expect every circuit at full and dim_bed
    at 10:01 tap bed_key
    expect every circuit off and not dim_bed
    at 10:02 release bed_key
    expect every circuit off
}
scenario "up, down, up" {
    at 10:00:00 long press bed_key
    expect every circuit at 10 %
    expect bed_1 at 30 % within 600 ms
    at 10:00:00.700 release bed_key
    expect bed_1 at 30 %
    at 10:00:10 long press bed_key       # down now
    expect bed_1 at 30 %
    expect bed_1 at 10 % within 600 ms
    at 10:00:20 release bed_key          # it has stopped at the end
    expect bed_1 at 10 %
    at 10:00:30 long press bed_key       # up is all that is left
    expect bed_1 at 20 % within 300 ms
    at 10:00:30.400 long press bed_key   # the release was missed
    expect bed_1 at 10 % within 300 ms
    at 10:00:40 tap bed_key
    expect bed_1 off
}
scenario "from full" {
    at 10:00:00 tap bed_key
    at 10:00:10 long press bed_key
    expect bed_2 at full
    at 10:00:10.100 release bed_key      # before the first step
    expect bed_2 at full
    at 10:00:20 long press bed_key
    expect bed_2 at 90 % within 300 ms
    at 10:00:30 release bed_key
    expect bed_2 at 10 %
}
scenario "left alone" {
    given pir
    at 10:00 long press bed_key
    at 10:01 release bed_key
    at 12:00:59 double tap bed_key
    expect bed_1 at full
    at 12:01:01 double tap bed_key
    expect bed_1 off
    at 14:00 tap bed_key
    at 14:01 not pir
    expect bed_1 off
    at 06:30:01 pir
    expect bed_1 at full
}
`)
}
