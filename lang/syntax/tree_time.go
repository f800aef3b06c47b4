package syntax

// The syntax tree of the sun and of dates.

// DayTime is a time of day: by the sun, or by the clock; one field is set.
type DayTime struct {
	Node
	Sun   *SunTime `parser:"  @@"`
	Clock *Clock   `parser:"| @@"`
}

// SunTime is `sunset`, `sunset + 10 min` or `sunset - 30 min`; `dawn` and `dusk` are those of civil twilight.
type SunTime struct {
	Node
	Event  string    `parser:"@( 'dawn' | 'sunrise' | 'sunset' | 'dusk' )"`
	Sign   string    `parser:"( @( '+' | '-' )"` // "+", "-" or ""
	Offset *Duration `parser:"  @@ )?"`          // nil without a sign
}

// Date is a date of the year: `21 June`, `25 Dec`.
type Date struct {
	Node
	Raw   string `parser:"@Date"`
	Month int    // 1 to 12
	Day   int    // 1 to the month's last; 29 for February
}

// HolidaysDecl is `holidays 25 Dec, 26 Dec, 1 Jan`, or `holidays` alone.
type HolidaysDecl struct {
	Node
	Dates []*Date `parser:"'holidays' ( @@ ( ',' @@ )* )?"` // may be none
}

func (*HolidaysDecl) decl() {}
