package syntax

// Printing light that is measured.

func (n *Lux) print() string    { return fixed(n.Raw) }
func (n *Kelvin) print() string { return fixed(n.Raw) }

func (n *Measure) print() string {
	switch {
	case n.Percent != nil:
		return n.Percent.print()
	case n.Lux != nil:
		return n.Lux.print()
	case n.Kelvin != nil:
		return n.Kelvin.print()
	case n.Power != nil:
		return n.Power.print()
	}
	return n.Name.Name
}

// Text gives the value as the language writes it.
func (n *Measure) Text() string { return plainText(n.print()) }

func (p *printer) daylight(n *DaylightDecl) {
	tail := n.Name.Name + " in " + n.Area.Name
	if len(n.Items) == 0 {
		p.plain(&n.Node, "daylight", tail, "input")
		return
	}
	p.block("daylight "+tail, n.Span.Start, n.Area.Span.End, n.Span.End, items(n.Items))
}

func (n *DaylightItem) print() string { return "responds within " + n.Within.print() }

func (n *DaylightAtom) print() string { return "daylight in " + n.Area.Name + " " + n.Is.print() }

func (n *IlluminanceAtom) print() string { return "illuminance of " + n.Area.Name + " " + n.Is.print() }

// Text gives the comparison as the language writes it.
func (n *LightState) Text() string { return plainText(n.print()) }

// hysteresis prints ` hysteresis 40 lux`, or nothing if there is none.
func (n *LightState) hysteresis() string {
	if n.Hysteresis == nil {
		return ""
	}
	return " hysteresis " + n.Hysteresis.print()
}

func (n *Change) print() string {
	if n.Daylight != nil {
		return n.Daylight.print()
	}
	return n.Event.print()
}

func (n *DaylightIs) print() string {
	if n.Area != nil {
		return "daylight in " + n.Area.Name + " " + n.Lux.print()
	}
	return n.Sensor.Name + " " + n.Lux.print()
}

func (n *Keep) print() string {
	text := "keep " + n.Area.Name + " at " + n.Lux.print() + n.Colour.behind()
	if n.Steps != nil {
		text += " in " + n.Steps.print() + " steps"
	}
	return text
}

func (n *KelvinStep) print() string { return fixed(n.Raw) }

func (n *Tunable) print() string { return "tunable " + n.From.print() + " to " + n.To.print() }

func (n *Colour) print() string {
	switch {
	case n.Kelvin != nil:
		return n.Kelvin.print()
	case n.By != nil:
		return "by " + n.By.Name
	}
	return n.Word
}

// Text gives the colour as the language writes it.
func (n *Colour) Text() string { return plainText(n.print()) }

// behind prints a blank and the colour, or nothing if there is none.
func (n *Colour) behind() string {
	if n == nil {
		return ""
	}
	return " " + n.print()
}

func (n *CurvePoint) print() string { return n.At.print() + glue + n.Kelvin.print() }

func (p *printer) curve(n *CurveDecl) {
	tail := "= " + join(n.Points, ", ")
	if n.Step != nil {
		tail += " in steps of " + n.Step.print()
	}
	p.plain(&n.Node, "curve "+n.Name.Name, tail, "curve")
}

func (n *PowerAtom) print() string { return "power of " + n.Targets.print() + " " + n.Is.print() }

// Text gives the targets as the language writes them.
func (n *Targets) Text() string { return plainText(n.print()) }
