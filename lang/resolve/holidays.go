// Holidays: an input of the calendar, and bands and clock times that hang on it.

package resolve

import (
	"time"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// declareHolidays enters the input that is true on a holiday. The dates are of no further use: any day may be one.
func (r *resolver) declareHolidays(d *syntax.HolidaysDecl) {
	listed := seen{}
	for _, date := range d.Dates {
		day := site.Date{Year: 0, Month: time.Month(date.Month), Day: date.Day}
		r.notListedAs(listed, day.InYear(), date.Span)
	}
	if r.holiday != site.None {
		e := r.errorf(source.DuplicateClause, d.Span, "the holidays are given twice")
		relate(e, r.site.Inputs[r.holiday].Span, "first given here")
		return
	}
	r.holiday = site.InputID(len(r.site.Inputs))
	name := &syntax.Ident{Node: syntax.Node{Span: d.Span}, Name: "holiday"}
	r.site.Inputs = append(r.site.Inputs, site.Input{Name: name.Name, Kind: site.Calendar, Area: site.None, Span: d.Span})
	r.declare(name, kindInput, int(r.holiday))
}

// holidayRule tells whether days hang on holidays, and reports those of a site that knows of none.
func (r *resolver) holidayRule(days *syntax.Days, rule site.HolidayRule) site.HolidayRule {
	if rule == site.AnyDay || r.holiday != site.None {
		return rule
	}
	if !r.siteBroken {
		d := r.errorf(source.NoHolidays, days.Span, "the site does not say that it has holidays")
		d.Suggestion = "declare them: `holidays 25 Dec, 26 Dec, 1 Jan`, or `holidays` alone where their dates vary"
	}
	return site.AnyDay
}

// onHoliday is the condition that the rule adds, or nil.
func (r *resolver) onHoliday(rule site.HolidayRule, sp source.Span) *site.Expr {
	today := &site.Expr{Op: site.OpInput, Input: r.holiday, Span: sp}
	switch rule {
	case site.NotHolidays:
		return not(today, sp)
	case site.OnHolidays:
		return today
	}
	return nil
}

// also adds a condition to one that may be nil.
func also(e, more *site.Expr) *site.Expr {
	switch {
	case e == nil:
		return more
	case more == nil || isPoison(e):
		return e
	}
	return &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{e, more}, Span: e.Span}
}

// bandHolds is the condition that a band holds.
func (r *resolver) bandHolds(id site.BandID, sp source.Span) *site.Expr {
	e := &site.Expr{Op: site.OpBand, Band: id, Span: sp}
	return also(e, r.onHoliday(r.site.Bands[id].Holidays, sp))
}

// withinADay reports a band that hangs on holidays and runs past midnight, where another day begins. (One that ends at
// midnight does not.)
func (r *resolver) withinADay(d *syntax.BandDecl, b *site.Band) {
	if b.Holidays == site.AnyDay || b.From < b.To || b.To == 0 || b.From == b.To {
		return
	}
	days := d.Days.Text()
	e := r.errorf(source.BandPastMidnight, d.From.Span.To(d.Days.Span), "the band `%s` runs past midnight, so that it is on two days, of which one may be a "+
		"holiday and the other not", b.Name)
	e.Suggestion = "write two bands, such as `band " + b.Name + "_evening " + d.From.Text() + " to 24:00 on " + days + "` and `band " + b.Name +
		"_morning 00:00 to " + d.To.Text() + " on ...`, and `" + b.Name + "_evening or " + b.Name + "_morning` where the band is meant"
	b.Holidays = site.AnyDay
}
