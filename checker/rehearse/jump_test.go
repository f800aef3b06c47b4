// Changes of the local clock and days of the calendar (lang/SEMANTICS.md section 1).

package rehearse

import (
	"errors"
	"strings"
	"testing"

	"lampwarden/lang/site"
)

// hours is a time of the week in hours.
func hours(h float64) Nanos { return Nanos(h * float64(3600*sec)) }

// clockSite has a band from 02:00 to 03:00, a band from 02:30 to 05:00, and latches at 02:30 and 03:00.
func clockSite() (s *site.Site, night, early site.BandID, half, three site.ModeID) {
	b := newBuilder()
	b.s.Jumps = []site.Jump{{At: 2 * shour, By: shour}, {At: 3 * shour, By: -shour}, {At: 0, By: shour}, {At: shour, By: -shour},
		{At: 0, By: 24 * shour}}
	night, early = b.band("night", 2*shour, 3*shour), b.band("early", 2*shour+30*smin, 5*shour)
	latch := func(at site.Millis, days site.Days) site.ModeID {
		return b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{{At: at, Days: days}}, For: smin})
	}
	half, three = latch(2*shour+30*smin, 0), latch(3*shour, 0)
	latch(0, sunday)
	latch(2*shour, 0)
	return b.done(), night, early, half, three
}

// starts lists when the mode becomes active.
func startsOf(tl *Timeline, m site.ModeID) (out []Nanos) {
	for _, e := range edges(tl, isOn(m)) {
		if e.on {
			out = append(out, e.at)
		}
	}
	return out
}

func TestJumps(t *testing.T) {
	const midnight, two = site.ModeID(2), site.ModeID(3)
	s, night, early, half, three := clockSite()
	for _, tt := range []struct {
		name        string
		start       Nanos
		jump        Jump
		end         Nanos
		mode        site.ModeID
		want        []Nanos
		band        site.BandID
		bandChanges []edge
	}{
		{"forward over a trigger: lost", hours(1), Jump{hours(1), shour}, hours(4), half, nil,
			night, nil},
		{"forward onto a trigger: due at the jump", hours(1), Jump{hours(1), shour}, hours(4), three, []Nanos{hours(1)},
			early, []edge{{hours(1), true}, {hours(3), false}}},
		{"the trigger of the old time is not due", hours(1), Jump{hours(1), shour}, hours(4), two, nil,
			night, nil},
		{"back over a trigger: twice", hours(2), Jump{hours(1), -shour}, hours(5), half, []Nanos{hours(0.5), hours(1.5)},
			early, []edge{{hours(0.5), true}, {hours(1), false}, {hours(1.5), true}, {hours(4), false}}},
		{"back: that of the old time comes an hour later", hours(2), Jump{hours(1), -shour}, hours(5), three, []Nanos{hours(2)},
			night, []edge{{0, true}, {hours(2), false}}},
		{"back onto a trigger: due at the jump", hours(2), Jump{hours(1), -shour}, hours(5), two, []Nanos{hours(1)},
			night, []edge{{0, true}, {hours(2), false}}},
		{"at midnight forward: the day's first hour is skipped, with its trigger", 5*Day + hours(23), Jump{hours(1), shour}, hours(3), midnight, nil,
			night, []edge{{hours(2), true}, {hours(3), false}}},
		{"back to midnight: the day begins again", 6*Day + hours(0.5), Jump{hours(0.5), -shour}, hours(3), midnight, []Nanos{hours(0.5)},
			night, []edge{{hours(2.5), true}}},
		{"a whole day left out: Saturday 00:00 is Sunday's", 4*Day + hours(23), Jump{hours(1), 24 * shour}, hours(3), midnight, []Nanos{hours(1)},
			night, []edge{{hours(3), true}}},
		{"round the week", 6*Day + hours(23), Jump{hours(1), 24 * shour}, hours(3), midnight, nil,
			night, []edge{{hours(3), true}}},
	} {
		tl := mustRun(t, s, Script{Start: tt.start, Jumps: []Jump{tt.jump}, End: tt.end})
		if got := startsOf(tl, tt.mode); !equalTimes(got, tt.want) {
			t.Errorf("%s: the mode starts at %v, want %v", tt.name, got, tt.want)
		}
		wantEdges(t, tt.name, tl, isBand(tt.band), tt.bandChanges...)
	}
}

func equalTimes(a, b []Nanos) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// Other timers are not touched, an input may change with the jump, and the step says what the clock did.
func TestJumpIsOneReaction(t *testing.T) {
	b := newBuilder()
	b.s.Jumps = []site.Jump{{At: 2 * shour, By: shour}}
	in := b.input("in", site.Switch)
	m := b.mode(site.Mode{Kind: site.While, Cond: isIn(in), OffDelay: 10 * smin})
	b.band("late", 4*shour, 5*shour)
	s := b.done()
	sc := Script{Start: hours(1), Initial: []site.InputID{in}, Jumps: []Jump{{hours(1), shour}},
		Events: []Event{turn(hours(1), in, false)}, End: hours(2)}
	tl := mustRun(t, s, sc)
	wantEdges(t, "off delay", tl, isOn(m), edge{0, true}, edge{hours(1) + 600*sec, false})
	st := tl.Steps[1]
	if st.At != hours(1) || st.TimeOfDay != hours(3) || len(st.Causes) != 2 || st.Causes[1] !=
		(Cause{Kind: ClockJumps, Clock: 2 * shour, By: shour}) || st.Event == nil {
		t.Errorf("the step of the jump: %+v", st)
	}
	if last := tl.Steps[3]; last.At != hours(2) || last.TimeOfDay != hours(4) || last.Causes[0].Kind != BandBegins {
		t.Errorf("04:00 comes an hour early: %+v", last)
	}
	for name, bad := range map[string][]Jump{
		"unknown time":   {{hours(1) + 1, shour}},
		"unknown change": {{hours(1), -shour}},
		"twice":          {{hours(1), shour}, {hours(24), shour}},
		"at start-up":    {{0, shour}},
		"after the end":  {{hours(25), shour}},
	} {
		sc.Jumps = bad
		var se *ScriptError
		if _, err := Run(s, sc); !errors.As(err, &se) || !strings.Contains(err.Error(), "clock") {
			t.Errorf("%s: %v", name, err)
		}
	}
	// A start-up at the time itself is no jump; the next day it may be.
	sc = Script{Start: hours(2), Jumps: []Jump{{hours(24), shour}}, End: hours(24)}
	if tl := mustRun(t, s, sc); tl.Steps[len(tl.Steps)-1].TimeOfDay != hours(3) {
		t.Error("a jump on the second day")
	}
}

// A day of the calendar changes only when the clock comes to show 00:00.
func TestCalendar(t *testing.T) {
	s, _, _, _, _ := clockSite()
	holiday := site.InputID(len(s.Inputs))
	s.Inputs = append(s.Inputs, site.Input{Name: "holiday", Kind: site.Calendar, Area: site.None})
	for _, tt := range []struct {
		name  string
		start Nanos
		jumps []Jump
		at    Nanos
		ok    bool
	}{
		{"at midnight", hours(23), nil, hours(1), true},
		{"a nanosecond later", hours(23), nil, hours(1) + 1, false},
		{"before", hours(23), nil, hours(1) - 1, false},
		{"a skipped midnight", hours(23), []Jump{{hours(1), shour}}, hours(1), false},
		{"the midnight that comes again", hours(0.5), []Jump{{hours(0.5), -shour}}, hours(0.5), true},
		{"the next midnight after it", hours(0.5), []Jump{{hours(0.5), -shour}}, hours(24.5), true},
		{"not by the old clock", hours(0.5), []Jump{{hours(0.5), -shour}}, hours(23.5), false},
	} {
		_, err := Run(s, Script{Start: tt.start, Jumps: tt.jumps, Events: []Event{turn(tt.at, holiday, true)}, End: hours(30)})
		var se *ScriptError
		if tt.ok != (err == nil) || !tt.ok && !errors.As(err, &se) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
	mustRun(t, s, Script{Initial: []site.InputID{holiday}, Start: hours(9)})
}

// Times by the sun: a site is played on a date; what is void never is.
func TestSun(t *testing.T) {
	b := newBuilder()
	rise, set := &site.SunTime{Event: site.Sunrise}, &site.SunTime{Event: site.Sunset, Offset: -30 * smin}
	day := b.band("day", 1, 2)
	b.s.Bands[day].FromSun, b.s.Bands[day].ToSun = rise, set
	m := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{{Sun: rise}}, Ends: []site.Trigger{{Sun: set}}})
	b.s.Dates = []site.SunDate{{Name: "20 March", At: [4]site.Millis{5 * shour, 6 * shour, 18 * shour, 19 * shour}},
		{Name: "21 December", At: [4]site.Millis{site.NoEvent, site.NoEvent, site.NoEvent, site.NoEvent}}}
	s := b.done()
	if _, err := Run(s, Script{}); err == nil || !strings.Contains(err.Error(), "date") {
		t.Errorf("a site that stands for two dates is played: %v", err)
	}
	tl := mustRun(t, s.OnDate(0), Script{End: Day})
	for name, e := range map[string]*site.Expr{"band": isBand(day), "mode": isOn(m)} {
		wantEdges(t, name, tl, e, edge{hours(6), true}, edge{hours(17.5), false})
	}
	if tl := mustRun(t, s.OnDate(1), Script{End: Week}); len(tl.Steps) != 1 {
		t.Errorf("polar night: %d steps", len(tl.Steps))
	}
}
