// Days of the week (lang/SEMANTICS.md section 1), at the exact boundaries.

package rehearse

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// Sets of days.
const (
	monday    site.Days = 1
	friday    site.Days = 1 << 4
	saturday  site.Days = 1 << 5
	sunday    site.Days = 1 << 6
	monToFri  site.Days = 0x1f
	eighthDay site.Days = 1 << 7
)

// on the weekday (0 Monday) at some hours.
func dayAt(day, hours int) Nanos { return Nanos(day)*Day + Nanos(hours)*3600*sec }

// wantEdges compares when the expression changes, in times since start-up.
func wantEdges(t *testing.T, name string, tl *Timeline, e *site.Expr, want ...edge) {
	t.Helper()
	if d := cmp.Diff(want, edges(tl, e), cmp.AllowUnexported(edge{})); d != "" {
		t.Errorf("%s: %s", name, d)
	}
}

// causesAt lists the causes of the clock at a time since start-up.
func causesAt(tl *Timeline, at Nanos) []CauseKind {
	var out []CauseKind
	for _, st := range tl.Steps {
		for _, c := range st.Causes {
			if st.At == at && (c.Kind == ClockDue || c.Kind == BandBegins || c.Kind == BandEnds) {
				out = append(out, c.Kind)
			}
		}
	}
	return out
}

// TestFridayBandPastMidnight: it begins on Friday only and runs to its end on Saturday.
func TestFridayBandPastMidnight(t *testing.T) {
	b := newBuilder()
	late := b.band("late", 22*shour, 5*shour)
	b.s.Bands[late].Days = friday
	s := b.done()
	tl := mustRun(t, s, Script{End: 2 * Week})
	first := dayAt(4, 22)
	wantEdges(t, "two weeks", tl, isBand(late), edge{first, true}, edge{dayAt(5, 5), false},
		edge{first + Week, true}, edge{dayAt(5, 5) + Week, false})
	if len(tl.Steps) != 5 {
		t.Errorf("%d steps: start-up and both ends twice, nothing on the other days", len(tl.Steps))
	}
	for at, want := range map[Nanos][]CauseKind{first: {BandBegins}, dayAt(5, 5): {BandEnds}, dayAt(5, 22): nil, dayAt(6, 5): nil, dayAt(4, 5): nil} {
		if d := cmp.Diff(want, causesAt(tl, at)); d != "" {
			t.Errorf("causes at %s: %s", at, d)
		}
	}
	for start, want := range map[Nanos]bool{
		dayAt(4, 4): false, first - 1: false, first: true, dayAt(5, 0) - 1: true, dayAt(5, 0): true,
		dayAt(5, 5) - 1: true, dayAt(5, 5): false, dayAt(5, 22): false, dayAt(3, 22): false,
	} {
		if got := mustRun(t, s, Script{Start: start}).Band(0, late); got != want {
			t.Errorf("a start-up at %s of the week: the band is %t", start, got)
		}
	}
}

// TestSundayToMonday: the week goes round; a Sunday band past midnight ends on Monday, also in a run that starts there.
func TestSundayToMonday(t *testing.T) {
	b := newBuilder()
	late, dawn := b.band("late", 23*shour, shour), b.band("dawn", 0, 2*shour)
	b.s.Bands[late].Days, b.s.Bands[dawn].Days = sunday, monday
	m := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{{At: 0, Days: monday}}, For: smin})
	s := b.done()
	tl := mustRun(t, s, Script{Start: Week - 1, End: dayAt(1, 1)})
	wantEdges(t, "late", tl, isBand(late), edge{0, true}, edge{1 + dayAt(0, 1), false})
	wantEdges(t, "dawn", tl, isBand(dawn), edge{1, true}, edge{1 + dayAt(0, 2), false})
	wantEdges(t, "Monday 00:00", tl, isOn(m), edge{1, true}, edge{1 + 60*sec, false})
	if st := tl.Steps[0]; st.Weekday != 6 || st.TimeOfDay != Day-1 {
		t.Errorf("start-up on day %d at %s", st.Weekday, st.TimeOfDay)
	}
	if st := tl.Steps[1]; st.Weekday != 0 || st.TimeOfDay != 0 || st.At != 1 {
		t.Errorf("the week's first instant is on day %d at %s", st.Weekday, st.TimeOfDay)
	}
	tl = mustRun(t, s, Script{End: Week})
	wantEdges(t, "started on Monday 00:00, within the Sunday's band", tl, isBand(late), edge{0, true},
		edge{dayAt(0, 1), false}, edge{dayAt(6, 23), true})
	wantEdges(t, "a trigger of that instant has passed until the next week", tl, isOn(m), edge{Week, true})
}

// TestTriggerOnWorkdays: a trigger on Mon to Fri is not due on Saturday and Sunday.
func TestTriggerOnWorkdays(t *testing.T) {
	b := newBuilder()
	m := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{{At: 6 * shour, Days: monToFri}}, For: shour})
	s := b.done()
	tl := mustRun(t, s, Script{Start: dayAt(4, 5), End: 4 * Day})
	hour := 3600 * sec
	wantEdges(t, "Friday, then Monday", tl, isOn(m), edge{hour, true}, edge{2 * hour, false},
		edge{hour + 3*Day, true}, edge{2*hour + 3*Day, false})
	if len(tl.Steps) != 5 {
		t.Errorf("%d steps: nothing is due on Saturday or Sunday", len(tl.Steps))
	}
	p, err := newPlayer(s, dayAt(4, 6))
	if err != nil {
		t.Fatal(err)
	}
	if at, ok := p.due(); !ok || at != 3*Day {
		t.Errorf("after Friday 06:00 the next is due %s later, not on Monday", at)
	}
}

// TestTransitionsOnDays: of two transitions of one clock time each is taken on its own days.
func TestTransitionsOnDays(t *testing.T) {
	b := newBuilder()
	m := b.mode(site.Mode{Kind: site.States, States: []site.State{{Name: "rest"}, {Name: "work"}, {Name: "leisure"}},
		Transitions: []site.Transition{
			{From: site.None, To: 1, Trigger: site.Trigger{At: 8 * shour, Days: monToFri}},
			{From: site.None, To: 2, Trigger: site.Trigger{At: 8 * shour, Days: saturday | sunday}},
		}})
	tl := mustRun(t, b.done(), Script{End: Week})
	wantEdges(t, "work", tl, inState(m, 1), edge{dayAt(0, 8), true}, edge{dayAt(5, 8), false})
	wantEdges(t, "leisure", tl, inState(m, 2), edge{dayAt(5, 8), true})
}

// TestNextOverTheWeek: the next instant of a clock time is strictly later, on a day of the set.
func TestNextOverTheWeek(t *testing.T) {
	for _, tt := range []struct {
		start, at Nanos
		clock     site.Millis
		days      site.Days
		want      Nanos
	}{
		{0, 0, 0, 0, Day},
		{0, 0, 0, monday, Week},
		{0, 0, shour, monday, 3600 * sec},
		{0, 3600 * sec, shour, monday, Week + 3600*sec},
		{Week - 1, 0, 0, monday, 1},
		{Week - 1, 0, 0, sunday, 6*Day + 1},
		{dayAt(5, 0), 0, 23 * shour, friday, dayAt(6, 23)},
		{dayAt(4, 23), Week - 1, 23 * shour, friday, Week},
	} {
		if got := (clock{start: tt.start}).next(tt.at, tt.clock, tt.days); got != tt.want {
			t.Errorf("%+v: %s", tt, got)
		}
	}
}

// TestEighthDay: days that no week has are refused, not waited for.
func TestEighthDay(t *testing.T) {
	b := newBuilder()
	band := b.band("late", 22*shour, 5*shour)
	m := b.mode(site.Mode{Kind: site.Latch, Name: "m", Starts: []site.Trigger{{At: shour}}})
	s := b.done()
	mustRun(t, s, Script{End: Day})
	s.Bands[band].Days = eighthDay
	if _, err := Run(s, Script{}); err == nil || !strings.Contains(err.Error(), "late") {
		t.Errorf("a band: %v", err)
	}
	s.Bands[band].Days, s.Modes[m].Starts[0].Days = 0, eighthDay|monday
	if _, err := Run(s, Script{}); err == nil || !strings.Contains(err.Error(), `"m"`) {
		t.Errorf("a trigger: %v", err)
	}
}
