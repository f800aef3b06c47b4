package syntax

// Printing modes.

import "strings"

func (p *printer) mode(n *ModeDecl) {
	head, headEnd := "mode "+n.Name.Name, n.Name.Span.End
	if n.Each != nil {
		head, headEnd = head+" "+n.Each.print(), n.Each.Span.End
	}
	var its []item
	for i := 0; i < len(n.Clauses); i++ {
		c := n.Clauses[i]
		it := p.clause(c)
		if c.At != nil && c.At.Arrows == nil && i+1 < len(n.Clauses) && n.Clauses[i+1].For != nil {
			i++ // `at TIME for D` is one thing
			it.text += " for " + n.Clauses[i].For.print()
			it.end = n.Clauses[i].Span.End
			it.lines[0].head, it.lines[0].end = it.text, it.end
		}
		its = append(its, it)
	}
	p.block(head, n.Span.Start, headEnd, n.Span.End, its)
}

func (p *printer) clause(c *ModeClause) item {
	switch {
	case c.While != nil:
		return single(c.While.print(), &c.Node)
	case c.Dimmer != nil:
		return c.Dimmer.item()
	case c.Starts != nil:
		return headed("starts", triggers(c.Starts.Triggers), "latch", &c.Node)
	case c.Ends != nil:
		return headed("ends", triggers(c.Ends.Triggers), "latch", &c.Node)
	case c.For != nil:
		return single("for "+c.For.print(), &c.Node)
	case c.States != nil:
		return single("states "+join(c.States.Names, ", "), &c.Node)
	case c.Change != nil:
		return single(c.Change.print(), &c.Node)
	case c.At != nil:
		return single(c.At.print(), &c.Node)
	case c.In != nil:
		return p.inState(c.In)
	}
	return p.asks(c.Asks)
}

// headed is an item of one line with a head to align.
func headed(head, tail, class string, n *Node) item {
	l := line{head: head, tail: tail, class: class, start: n.Span.Start, end: n.Span.End}
	return item{text: l.text(), lines: []line{l}, start: l.start, end: l.end}
}

func (n *WhileClause) print() string {
	text := "while " + n.Cond.print()
	for _, d := range n.Delays {
		text += ", " + d.Kind
		if d.Kind != "pulse" {
			text += " delay"
		}
		text += " " + d.D.print()
	}
	return text
}

func triggers(list []*Trigger) string {
	text := ""
	for i, t := range list {
		if i > 0 {
			text += ", "
		}
		switch {
		case t.At != nil:
			text += "at " + t.At.print() + onDays(t.Days)
		case i == 0 || list[i-1].At != nil:
			text += "on " + t.On.print()
		default:
			text += t.On.print()
		}
		text += guard(t.If)
	}
	return text
}

func guard(e *Expr) string {
	if e == nil {
		return ""
	}
	return " if " + e.print()
}

func (n *ChangeClause) print() string {
	if n.After != nil {
		return "after " + n.After.print() + guard(n.If) + ": " + n.Arrows.print()
	}
	return "on " + n.On.print() + guard(n.If) + ": " + n.Arrows.print()
}

func (n *AtClause) print() string {
	text := "at " + n.At.print() + onDays(n.Days) + guard(n.If)
	if n.Arrows != nil {
		text += ": " + n.Arrows.print()
	}
	return text
}

func (n *Arrows) print() string {
	text := "-> " + join(n.To, " -> ")
	if n.From != nil {
		text = n.From.print() + " " + text
	}
	return text
}

func (p *printer) inState(n *InClause) item {
	head := "in " + n.State.Name + ":"
	asks := p.asks(n.Asks)
	out := item{start: n.Span.Start, end: n.Span.End}
	if asks.text != "" {
		out.text = head + " " + asks.text
	}
	if len(asks.lines) == 1 && asks.lines[0].class == "" {
		out.lines = headed(head, asks.lines[0].text(), "in", &n.Node).lines
		return out
	}
	out.lines = []line{{head: head, start: n.Span.Start, end: n.State.Span.End, opens: true}}
	for _, l := range asks.lines {
		l.indent += indent
		out.lines = append(out.lines, l)
	}
	return out
}

func (p *printer) asks(n *Asks) item {
	out := item{start: n.Span.Start, end: n.Span.End}
	var texts []string
	whole := true
	for _, s := range n.Stages {
		it := p.stage(s)
		whole = whole && it.text != ""
		texts = append(texts, it.text)
		out.lines = append(out.lines, it.lines...)
	}
	if whole {
		out.text = strings.Join(texts, "  ")
	}
	return out
}

// stage prints `first for 5 s` and so on with the settings behind it, or below it if the source has them so.
func (p *printer) stage(s *Stage) item {
	out := item{start: s.Span.Start, end: s.Span.End}
	word, length := s.Word, ""
	headEnd := s.Span.Start + int32(len(word))
	if s.For != nil {
		length, headEnd = "for "+s.For.print(), s.For.Span.End
	}
	var sets []item
	for _, x := range s.Settings {
		sets = append(sets, p.setting(x))
	}
	if text, ok := p.onOneLine(s, sets); ok {
		tail := strings.TrimSpace(length + " " + text)
		out.text = strings.TrimSpace(word + " " + tail)
		l := line{head: word, tail: tail, start: out.start, end: out.end}
		if word != "" {
			l.class = "stage"
		}
		out.lines = []line{l}
		return out
	}
	in := 0
	if word != "" {
		in = indent
		out.lines = []line{{head: word, tail: length, class: "stage", start: out.start, end: headEnd, opens: true}}
	}
	for _, it := range sets {
		for _, l := range it.lines {
			l.indent += in
			out.lines = append(out.lines, l)
		}
	}
	return out
}

// onOneLine joins the settings of a stage if the source has them on one line and they fit.
func (p *printer) onOneLine(s *Stage, sets []item) (string, bool) {
	text := ""
	for i, it := range sets {
		if it.text == "" || i > 0 && (p.newlineIn(sets[i-1].end, it.start) || p.commentIn(sets[i-1].end, it.start)) {
			return "", false
		}
		if i > 0 {
			text += between(s.Settings[i-1])
		}
		text += it.text
	}
	return text, len(sets) < 2 || columns(text) <= width-4*indent
}

// between is what parts a setting from the next on its line. After cases without `otherwise` a comma would begin one
// more case.
func between(s *Setting) string {
	if n := len(s.Cases); n > 0 && !s.Cases[n-1].Otherwise {
		return "  "
	}
	return ", "
}

func (p *printer) setting(s *Setting) item {
	if s.Turn != nil {
		return single(s.Turn.print(), &s.Node)
	}
	if s.Keep != nil {
		return single(s.Keep.print(), &s.Node)
	}
	if s.Flash != nil {
		return single(s.Flash.print(), &s.Node)
	}
	if s.Ramp != nil {
		return single(s.Targets.print()+" "+s.Ramp.print(), &s.Node)
	}
	if s.Level != nil {
		return single(s.Targets.print()+" "+s.Level.asked(), &s.Node)
	}
	head := s.Targets.print() + ":"
	broken := false
	for i := 1; i < len(s.Cases); i++ {
		broken = broken || p.newlineIn(s.Cases[i-1].Span.End, s.Cases[i].Span.Start)
	}
	text := head + " " + join(s.Cases, ", ")
	if !broken && columns(text) <= width-4*indent || len(s.Cases) == 1 {
		return single(text, &s.Node)
	}
	out := item{start: s.Span.Start, end: s.Span.End}
	out.lines = []line{{head: head, start: out.start, end: s.Targets.Span.End, opens: true}}
	for i, c := range s.Cases {
		l := line{indent: indent, head: c.print(), start: c.Span.Start, end: c.Span.End}
		if i+1 < len(s.Cases) {
			l.head += ","
		}
		out.lines = append(out.lines, l)
	}
	return out
}

func (n *FlashSetting) print() string {
	text := "flash " + n.Targets.print()
	if n.Level != nil {
		text += " " + n.Level.asked()
	}
	if n.Times != nil {
		text += " " + n.Times.print() + " times"
	}
	return text + ", " + n.On.print() + " on, " + n.Off.print() + " off"
}

func (n *Case) print() string {
	head := "otherwise "
	if !n.Otherwise {
		head = n.When.print() + " "
	}
	if n.Ramp != nil {
		return head + n.Ramp.print()
	}
	return head + n.Level.print()
}

func (n *Targets) print() string {
	text := join(n.Terms, ", ")
	if len(n.Except) > 0 {
		text += " except " + enumerate(n.Except)
	}
	return text
}

// enumerate joins names as in `a, b and c`.
func enumerate[T printable](items []T) string {
	last := len(items) - 1
	if last == 0 {
		return items[0].print()
	}
	return join(items[:last], ", ") + " and " + items[last].print()
}

func (n *Target) print() string {
	switch {
	case n.All:
		return "all circuits"
	case n.Places != nil:
		return "circuits in " + n.Places.print()
	}
	return n.Ref.print()
}

func (n *Places) print() string {
	text := join(n.Names, " or ")
	if n.Tagged {
		text += " areas"
	}
	return text
}
