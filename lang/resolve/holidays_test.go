package resolve_test

// Holidays, as they come out in the site.

import (
	"testing"

	"lampwarden/lang/site"
)

const calendar = `holidays 25 Dec, 26 Dec, 1 Jan
days workdays = Mon to Fri except holidays
days closed_days = holidays
band office_hours 08:00 to 18:00 on workdays
band holiday_hours 10:00 to 16:00 on holidays
band evening 18:00 to 24:00 on Mon to Thu except holidays
`

// TestHolidays: a band or clock time on such days says in each condition whether today is a holiday.
func TestHolidays(t *testing.T) {
	s := must(t, house+calendar+`mode m { starts at 07:30 on workdays if fire, at 09:00 on closed_days  ends at 22:00 on Sat, Sun except holidays, at 23:00
    spots: office_hours 40 %, not holiday_hours 20 % }
mode n { while evening and pir  leds full }
mode o { while holiday or day  bed full }
precedence m > n > o
require "r" { never office_hours with holiday_hours }`)
	holiday := s.InputNamed("holiday")
	if holiday == site.None || s.Inputs[holiday].Kind != site.Calendar {
		t.Fatal("no input for holidays")
	}
	for name, want := range map[string]struct {
		days site.Days
		rule site.HolidayRule
	}{"office_hours": {0b0011111, site.NotHolidays}, "holiday_hours": {0, site.OnHolidays}, "evening": {0b0001111, site.NotHolidays}, "day": {0, site.AnyDay}} {
		if b := s.Bands[s.BandNamed(name)]; b.Days != want.days || b.Holidays != want.rule {
			t.Errorf("%s: days %07b, holidays %d", name, b.Days, b.Holidays)
		}
	}
	m := &s.Modes[0]
	for i, c := range []struct {
		e       *site.Expr
		holiday bool // the day on which it holds; every input else is true, each band holds
		text    string
	}{
		{m.Starts[0].If, false, "fire and not holiday"}, {m.Starts[1].If, true, "holiday"}, {m.Ends[0].If, false, "not holiday"},
		{m.States[0].Stages[0].Settings[0].Cases[0].When, false, "office_hours"},
		{s.Modes[1].Cond, false, "evening and pir"},
	} {
		got := map[bool]bool{}
		for _, today := range []bool{false, true} {
			got[today] = holds(c.e, holiday, today)
		}
		if !got[c.holiday] || got[!c.holiday] {
			t.Errorf("condition %d, %s: %v", i, s.ExprText(c.e), got)
		}
	}
	if m.Starts[0].Days != 0b0011111 || m.Starts[1].Days != 0 || m.Ends[0].Days != 0b1100000 || m.Ends[1].If != nil {
		t.Errorf("triggers %+v, %+v", m.Starts, m.Ends)
	}
	if got := s.ExprText(s.Modes[1].Cond); got != "evening and pir" {
		t.Errorf("the condition reads %q", got)
	}
	if got := s.ExprText(s.Requirements[0].P); got != "office_hours and holiday_hours" {
		t.Errorf("the requirement reads %q", got)
	}
}

// holds evaluates a condition with every input and band true, but for one input.
func holds(e *site.Expr, in site.InputID, value bool) bool {
	switch e.Op {
	case site.OpInput:
		return e.Input != in || value
	case site.OpNot:
		return !holds(e.Kids[0], in, value)
	case site.OpAnd, site.OpOr:
		for _, k := range e.Kids {
			if holds(k, in, value) == (e.Op == site.OpOr) {
				return e.Op == site.OpOr
			}
		}
		return e.Op == site.OpAnd
	}
	return true
}

// TestHolidayInAScenario: given at the start, or from a midnight on.
func TestHolidayInAScenario(t *testing.T) {
	s := must(t, house+`holidays
scenario "a" { given holiday  start 22:00  at 24:00 not holiday }`)
	sc := s.Scenarios[0]
	if h := s.InputNamed("holiday"); len(sc.Given) != 1 || sc.Given[0] != h || sc.Steps[0].Input != h || sc.Steps[0].After != 2*hour {
		t.Errorf("scenario %+v", sc)
	}
}
