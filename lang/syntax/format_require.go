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
	switch {
	case n.Never != nil:
		return []item{single("never "+n.Never.print(), &n.Node)}
	case n.Always != nil:
		return []item{single("always "+n.Always.print(), &n.Node)}
	case n.Whenever != nil:
		return n.Whenever.items()
	case n.Times != nil:
		t := n.Times
		return []item{single("at most "+t.N.print()+" times "+t.P.print()+" within "+t.D.print(), &n.Node)}
	}
	return []item{single(n.About.print(), &n.Node)}
}

// items gives one item for each part, so that each has a line of its own.
func (n *Whenever) items() []item {
	whole := func(text string, start, end int32) item {
		return item{text: text, lines: []line{{head: text, start: start, end: end}}, start: start, end: end, tight: true}
	}
	out := []item{
		whole("whenever "+n.A.print(), n.Span.Start, n.A.Span.End),
		whole("then within "+n.D.print()+" "+n.B.print(), n.D.Span.Start, n.B.Span.End),
	}
	if n.For != nil {
		out = append(out, whole("for "+n.For.print(), n.For.Span.Start, n.For.Span.End))
	}
	if n.Until != nil {
		out = append(out, whole("until "+n.Until.print(), n.Until.Span.Start, n.Until.Span.End))
	}
	return out
}

func (n *About) print() string {
	text := n.P.print()
	switch {
	case n.Lasts != "":
		return text + " lasts at " + n.Lasts + " " + n.D.print()
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
