package syntax

// Printing requirements and scenarios.

func (p *printer) require(n *RequireDecl) {
	head, headEnd := "require "+n.Name.print(), n.Name.Span.End
	if n.Each != nil {
		head, headEnd = head+" "+n.Each.print(), n.Each.Span.End
	}
	p.block(head, n.Span.Start, headEnd, n.Span.End, n.Body.items())
}

func (n *RequireBody) items() []item {
	out := n.form()
	if n.Even != nil {
		out = append(out, part(n.Even.print(), n.Even.Span.Start, n.Even.Span.End))
	}
	return out
}

// form gives the items of the form itself.
func (n *RequireBody) form() []item {
	start := n.Span.Start
	switch {
	case n.Never != nil:
		return []item{part("never "+n.Never.print(), start, n.Never.Span.End)}
	case n.Always != nil:
		return []item{part("always "+n.Always.print(), start, n.Always.Span.End)}
	case n.Whenever != nil:
		return n.Whenever.items()
	case n.Times != nil:
		t := n.Times
		return []item{part("at most "+t.N.print()+" times "+t.P.print()+" within "+t.D.print(), start, t.Span.End)}
	case n.Return != nil:
		return []item{part(n.Return.print(), start, n.Return.Span.End)}
	case n.Battery != nil:
		return []item{part(n.Battery.print(), start, n.Battery.Span.End)}
	case n.Energy != nil:
		return []item{part(n.Energy.print(), start, n.Energy.Span.End)}
	}
	return []item{part(n.About.print(), start, n.About.Span.End)}
}

// part is a part of a requirement, which has a line of its own where the body has several.
func part(text string, start, end int32) item {
	return item{text: text, lines: []line{{head: text, start: start, end: end}}, start: start, end: end, tight: true}
}

// items gives one item for each part, so that each has a line of its own.
func (n *Whenever) items() []item {
	out := []item{
		part("whenever "+n.A.print(), n.Span.Start, n.A.Span.End),
		part("then within "+n.D.print()+" "+n.B.print(), n.D.Span.Start, n.B.Span.End),
	}
	if n.For != nil {
		out = append(out, part("for "+n.For.print(), n.For.Span.Start, n.For.Span.End))
	}
	if n.Until != nil {
		out = append(out, part("until "+n.Until.print(), n.Until.Span.Start, n.Until.Span.End))
	}
	return out
}

func (n *About) print() string {
	text := n.P.print()
	switch {
	case n.Lasts != "":
		return text + " lasts at " + n.Lasts + " " + n.D.print()
	case n.Settles != nil:
		return text + " settles within " + n.Settles.print()
	case n.Possible:
		return text + " is possible"
	}
	text += " only after " + n.Only.print()
	if n.Since != nil {
		text += " since " + n.Since.print()
	}
	return text
}

func (p *printer) scenario(n *ScenarioDecl) {
	var its []item
	for _, it := range n.Items {
		switch {
		case it.Start != nil:
			its = append(its, single(it.Start.print(), &it.Node))
		case it.Date != nil:
			its = append(its, single("on "+it.Date.print(), &it.Node))
		case it.Given != nil:
			its = append(its, single("given "+join(it.Given, ", "), &it.Node))
		case it.Step != nil:
			its = append(its, headed("at "+it.Step.At.print(), it.Step.Change.print(), "step", &it.Node))
		default:
			text := "expect " + it.Expect.P.print()
			if it.Expect.Within != nil {
				text += " within " + it.Expect.Within.print()
			}
			its = append(its, single(text, &it.Node))
		}
	}
	p.block("scenario "+n.Name.print(), n.Span.Start, n.Name.Span.End, n.Span.End, its)
}
