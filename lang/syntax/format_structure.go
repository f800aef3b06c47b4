package syntax

// Printing structure: rows of circuits, areas in areas, lights in turn, dimmers.

// inAreas prints ` in AREA or AREA`, or nothing.
func inAreas(areas ...*Ident) string {
	if len(areas) == 0 || areas[0] == nil {
		return ""
	}
	return " in " + join(areas, " or ")
}

func (n *Ref) print() string {
	if n.Numbers != nil {
		return n.Name.Name + n.Numbers.print()
	}
	return n.Name.Name
}

// Text gives the name and the numbers as the language writes them.
func (n *Ref) Text() string { return n.print() }

func (n *Numbers) print() string {
	if n.To != nil {
		return "[" + n.From.print() + ".." + n.To.print() + "]"
	}
	return "[" + n.From.print() + "]"
}

func (n *Turn) print() string {
	text := "light "
	if n.Off {
		text = "turn off "
	}
	text += n.Targets.print() + " in turn, " + n.Apart.print() + " apart"
	if n.Level != nil {
		text += ", " + n.Level.asked()
	}
	return text
}

func (n *StateRef) print() string { return n.Ident().Name }

// item prints the clause with what it dims behind it, or below it.
func (n *DimmerClause) item() item {
	head := "dimmer on " + n.Button.Name + " from " + n.From.print() + " to " + n.To.print() + " in " + n.Steps.print() + " steps every " +
		n.Every.print()
	out := single(head, &n.Node)
	out.lines[0].end = n.Every.Span.End
	out.lines = append(out.lines, single(n.Targets.print(), &n.Targets.Node).lines...)
	out.text = head + "  " + n.Targets.print()
	return out
}
