package source

// The codes of the sun, dates, holidays and the change of clocks. They are reported by lang/resolve, bad-date by lang/syntax
// too, and stand in alphabetical order.

// Codes of time; timeCodes explains each.
const (
	BadDate          Code = "bad-date"
	BadYear          Code = "bad-year"
	BandPastMidnight Code = "band-past-midnight"
	NoHolidays       Code = "no-holidays"
	NoPlace          Code = "no-place"
	NotAtMidnight    Code = "not-at-midnight"
	SunNotHere       Code = "sun-not-here"
)

func timeCodes() []CodeInfo {
	return []CodeInfo{
		{BadDate, "not a date",
			"A date is a day and a month that has it, as in `21 June` or `25 Dec`. `29 February` is one only where the year may have it.",
			sunSite() + "scenario \"a short night\" { on 31 June  start 22:00 }\n"},
		{BadYear, "a year without times of the sun",
			"The year of a site says for which dates the sun is looked up, and from which year on the changes of clocks. Before 1900 " +
				"clocks showed the time of their own town, and nobody knows the clocks of the far future.",
			`site "House" { year 1815 }
`},
		{BandPastMidnight, "a band on workdays or holidays that runs past midnight",
			"Whether a day is a holiday is decided at midnight. A band that hangs on holidays and ran past midnight would be on two days at once, " +
				"of which one may be a holiday and the other not. Write a band up to `24:00` and another from `00:00` on.",
			"holidays\nband late 22:00 to 05:30 on Mon to Fri except holidays\n"},
		{NoHolidays, "holidays that the site does not speak of",
			"`on holidays` and `except holidays` have a meaning only where the controller knows of holidays. The declaration `holidays` says so, with the " +
				"dates or without.",
			"band office_hours 08:00 to 18:00 on Mon to Fri except holidays\n"},
		{NoPlace, "times of the sun without a place or a time zone",
			"When the sun sets is a matter of where the site is, and what clocks show then is a matter of its time zone. So a site with " +
				"`sunset` in it names both.",
			`site "House" { time zone "Europe/Dublin" }
band night_time dusk to dawn
`},
		{NotAtMidnight, "a holiday that begins in the middle of a day",
			"Whether a day is a holiday is decided at midnight, when the date changes.",
			"holidays\nscenario \"a late holiday\" { start 12:00  at 13:00 holiday }\n"},
		{SunNotHere, "a time by the sun where only a clock time can stand",
			"Bands begin and end, and modes start, end and change, at `sunset` and the like. A scenario tells one course of events at times " +
				"that it chooses itself; on its date (`on 21 June`) the sun does the rest.",
			sunSite() + "scenario \"a short night\" { start sunset }\n"},
	}
}

// sunSite is a site whose night goes by the sun.
func sunSite() string {
	return "site \"House\" { place 53.27 N, 9.05 W  time zone \"Europe/Dublin\" }\nband night_time dusk to dawn\n"
}
