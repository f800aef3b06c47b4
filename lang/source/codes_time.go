package source

// The codes of the sun, holidays and the change of clocks. They are reported by lang/resolve and stand in alphabetical order.

// Codes of time; timeCodes explains each.
const (
	BadYear Code = "bad-year"
)

func timeCodes() []CodeInfo {
	return []CodeInfo{
		{BadYear, "a year without times of the sun",
			"The year of a site says for which dates the sun is looked up, and from which year on the changes of clocks. Before 1900 " +
				"clocks showed the time of their own town, and nobody knows the clocks of the far future.",
			`site "House" { year 1815 }
`},
	}
}
