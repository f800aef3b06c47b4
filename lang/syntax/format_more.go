package syntax

// Printing days of the week, outputs, constants and packs.

import "strings"

func (p *printer) more(d Decl) {
	switch n := d.(type) {
	case *DaysDecl:
		p.plain(&n.Node, "days "+n.Name.Name, "= "+n.Days.print(), "days")
	case *HolidaysDecl:
		p.plain(&n.Node, strings.TrimRight("holidays "+join(n.Dates, ", "), " "), "", "")
	case *OutputDecl:
		p.plain(&n.Node, "output", join(n.Names, ", "), "output")
	case *NoticeDecl:
		p.plain(&n.Node, "notice "+n.Name.Name, n.Text.print(), "notice")
	case *ConstantDecl:
		p.plain(&n.Node, "constant "+n.Name.Name, "= "+n.Value.print(), "constant")
	case *ParameterDecl:
		p.plain(&n.Node, "parameter "+n.Name.Name, "= "+n.Default.print(), "parameter")
	case *UseDecl:
		text := "use " + n.Pack.print()
		if len(n.Args) > 0 {
			text += " with " + join(n.Args, ", ")
		}
		p.plain(&n.Node, text, "", "")
	}
}

func (n *Weekday) print() string { return n.Word }

func (n *DayRange) print() string {
	if n.To != nil {
		return n.From.Word + " to " + n.To.Word
	}
	return n.From.Word
}

func (n *Days) print() string {
	text := join(n.Ranges, ", ")
	switch {
	case n.Holidays:
		return "holidays"
	case n.Name != nil:
		text = n.Name.Name
	}
	if n.Except {
		text += " except holidays"
	}
	return text
}

// Text gives the days as the language writes them.
func (n *Days) Text() string { return n.print() }

// onDays prints ` on DAYS`, or nothing if there are none.
func onDays(n *Days) string {
	if n == nil {
		return ""
	}
	return " on " + n.print()
}

func (n *Literal) print() string {
	switch {
	case n.Duration != nil:
		return n.Duration.print()
	case n.Percent != nil:
		return n.Percent.print()
	case n.Clock != nil:
		return n.Clock.print()
	case n.Lux != nil:
		return n.Lux.print()
	case n.Kelvin != nil:
		return n.Kelvin.print()
	}
	return n.Int.print()
}

func (n *Value) print() string {
	if n.Name != nil {
		return n.Name.Name
	}
	return n.Literal.print()
}

// Text gives the value as the language writes it.
func (n *Value) Text() string { return plainText(n.print()) }

// plainText is a printed text as others may show it.
func plainText(printed string) string { return strings.ReplaceAll(printed, glue, " ") }

func (n *Argument) print() string { return n.Name.Name + " = " + n.Value.print() }

func (n *Ramp) print() string { return "ramp to " + n.Level.print() + " over " + n.Over.print() }

func (n *Start) print() string {
	if n.Day != nil {
		return "start " + n.Day.Word + " " + n.At.print()
	}
	return "start " + n.At.print()
}
