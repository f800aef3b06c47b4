package syntax

// Printing conditions.

func (n *Expr) print() string    { return join(n.Terms, " with ") }
func (n *OrExpr) print() string  { return join(n.Terms, " or ") }
func (n *AndExpr) print() string { return join(n.Terms, " and ") }

func (n *NotExpr) print() string {
	switch {
	case n.Not != nil:
		return "not " + n.Not.print()
	case n.Paren != nil:
		return "(" + n.Paren.print() + ")"
	}
	return n.Atom.print()
}

func (n *PresenceAtom) print() string { return "presence in " + n.Area.Name }
func (n *VacatedAtom) print() string  { return "vacated " + n.Area.Name }
func (n *WasAtom) print() string      { return "was (" + n.Cond.print() + ")" }
func (n *AreaAtom) print() string     { return "area " + n.Area.Name + " " + n.State }

func (n *GestureAtom) print() string {
	switch n.Gesture {
	case "double", "triple":
		return n.Gesture + " tap " + n.Button.Name
	case "long":
		return "long press " + n.Button.Name
	case "release":
		return "release " + n.Button.Name
	}
	return "tap " + n.Button.Name
}

func (n *QuantAtom) print() string {
	text := n.Quant.print()
	if n.Circuits != nil {
		return text + " " + n.Circuits.print(n.Quant)
	}
	return text + " " + n.Areas.print(n.Quant)
}

func (n *Quant) print() string {
	if n.N != nil {
		return "at " + n.Word + " " + n.N.print()
	}
	return n.Word
}

// plural tells whether the thing counted stands in the plural.
func (n *Quant) plural() bool { return n.N != nil && n.N.Value != 1 }

func (n *CircuitRange) print(q *Quant) string {
	text := "circuit"
	if q.plural() {
		text = "circuits"
	}
	if n.Places != nil {
		text += " in " + n.Places.print()
	}
	return text + except(n.Except) + " " + n.Light.print()
}

func (n *AreaRange) print(q *Quant) string {
	text := "area"
	if q.plural() {
		text = "areas"
	}
	if len(n.Tags) > 0 {
		text = join(n.Tags, " or ") + " " + text
	}
	return text + inAreas(n.In...) + except(n.Except) + " " + n.State
}

func except[T printable](names []T) string {
	if len(names) == 0 {
		return ""
	}
	return " except " + enumerate(names)
}

func (n *NameAtom) print() string {
	text := n.Name.Name
	if n.Numbers != nil {
		text += n.Numbers.print()
	}
	for _, in := range n.In {
		text += " in " + in.Name
	}
	switch {
	case n.Stage != nil:
		text += " in stage " + n.Stage.print()
	case n.State != "":
		text += " " + n.State
	case n.Fault != nil:
		text += " " + n.Fault.print()
	case n.Light != nil:
		text += " " + n.Light.print()
	}
	return text
}

func (n *LightState) print() string {
	switch n.Word {
	case "":
		return "between " + n.Between.Lo.print() + " and " + n.Between.Hi.print()
	case "lit", "off", "red", "amber", "yellow", "green", "cyan", "blue", "magenta", "white":
		return n.Word
	case "full":
		return "at full"
	case "at", "above", "below":
		return n.Word + " " + n.Level.print() + n.hysteresis()
	}
	return "at " + n.Word + " " + n.Level.print() + n.hysteresis()
}
