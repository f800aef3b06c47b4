package syntax

// Printing circuit schedules.

func (p *printer) schedule(n *ScheduleDecl) {
	head, headEnd := "circuits from "+n.Path.print(), n.Path.Span.End
	if n.Area != nil {
		head, headEnd = head+" in "+n.Area.Name, n.Area.Span.End
	}
	p.block(head, n.Span.Start, headEnd, n.Span.End, items(n.Items))
}

func (n *ScheduleItem) print() string {
	switch {
	case n.Name != nil:
		return "name " + n.Name.print()
	case n.Area != nil:
		return "area " + n.Area.print()
	case n.FedBy != nil:
		return "fed by " + n.FedBy.print()
	case n.Dims != nil:
		return "dims " + n.Dims.print()
	case n.Switches != nil:
		return "switches " + n.Switches.print()
	case n.Power != nil:
		return "power " + n.Power.print()
	case n.Fade != nil:
		return "fade " + n.Fade.print()
	}
	return n.All.print()
}

func (n *NameColumn) print() string {
	text := n.Header.print()
	if n.Prefix != nil {
		text += ", prefix " + n.Prefix.print()
	}
	if n.Other != nil {
		text += ", other characters " + n.Other.print()
	}
	if len(n.Means) > 0 {
		text += ": " + join(n.Means, ", ")
	}
	return text
}

func (n *Meaning) print() string { return n.Text.print() + " = " + n.Name.Name }

func (n *ChoiceColumn) print() string {
	text := n.Header.print()
	if len(n.Texts) > 0 {
		text += " = " + join(n.Texts, ", ")
	}
	return text
}

func (n *QuantityColumn) print() string {
	if n.Unit != nil {
		return n.Header.print() + " in " + n.Unit.Name
	}
	return n.Header.print()
}
