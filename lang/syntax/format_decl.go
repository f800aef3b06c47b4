package syntax

// Printing declarations other than modes.

import "strings"

func fixed(s string) string   { return strings.ReplaceAll(s, " ", glue) }
func unfixed(s string) string { return strings.ReplaceAll(s, glue, " ") }

func (n *Str) print() string      { return fixed(n.Raw) }
func (n *Clock) print() string    { return n.Raw }
func (n *Duration) print() string { return fixed(n.Raw) }
func (n *Percent) print() string  { return fixed(n.Raw) }
func (n *Power) print() string    { return fixed(n.Raw) }
func (n *Energy) print() string   { return fixed(n.Raw) }
func (n *Degrees) print() string  { return fixed(n.Raw) }
func (n *Int) print() string      { return n.Raw }
func (n *Ident) print() string    { return n.Name }

func (n *Level) print() string {
	if n.Percent != nil {
		return n.Percent.print() + n.Colour.behind()
	}
	return n.Word + n.Colour.behind()
}

// asked is the level as a setting asks for it.
func (n *Level) asked() string {
	if n.Percent != nil {
		return "at " + n.print()
	}
	return n.print()
}

// printable is a node with a text of its own.
type printable interface{ print() string }

func join[T printable](items []T, by string) string {
	var out []string
	for _, it := range items {
		out = append(out, it.print())
	}
	return strings.Join(out, by)
}

// decl prints one declaration.
func (p *printer) decl(d Decl) {
	switch n := d.(type) {
	case *SiteDecl:
		p.optional("site "+n.Name.print(), n.Span.Start, n.Name.Span.End, n.Span.End, items(n.Items))
	case *SupplyDecl:
		p.plain(&n.Node, "supply", join(n.Names, ", "), "supply")
	case *BatteryDecl:
		p.optional("battery "+n.Name.Name, n.Span.Start, n.Name.Span.End, n.Span.End, items(n.Items))
	case *GeneratorDecl:
		p.optional("generator "+n.Name.Name, n.Span.Start, n.Name.Span.End, n.Span.End, items(n.Items))
	case *ControllerDecl:
		p.block("controller", n.Span.Start, n.Span.Start, n.Span.End, items(n.Items))
	case *AreaDecl:
		text := "area " + join(n.Names, ", ") + inAreas(n.In)
		if len(n.Tags) > 0 {
			text += " : " + join(n.Tags, ", ")
		}
		p.plain(&n.Node, text, "", "")
	case *CircuitDecl:
		p.optional(n.Word+" "+join(n.Names, ", ")+" in "+n.Area.Name, n.Span.Start, n.Area.Span.End, n.Span.End, items(n.Items))
	case *GroupDecl:
		p.plain(&n.Node, "group "+n.Name.Name+" =", join(n.Members, ", "), "")
	case *InputDecl:
		p.input(n)
	case *DaylightDecl:
		p.daylight(n)
	case *CurveDecl:
		p.curve(n)
	case *BandDecl:
		p.plain(&n.Node, "band "+n.Name.Name, n.From.print()+" to "+n.To.print()+onDays(n.Days), "band")
	case *CoverDecl:
		p.plain(&n.Node, "bands "+join(n.Bands, ", ")+" cover the day", "", "")
	case *ModeDecl:
		p.mode(n)
	case *PrecedenceDecl:
		p.plain(&n.Node, "precedence "+join(n.Modes, " > "), "", "")
	case *EqualsDecl:
		p.plain(&n.Node, "equals "+join(n.Modes, ", ")+": "+n.Rule, "", "")
	case *AssumeDecl:
		p.plain(&n.Node, "assume "+n.print(), "", "")
	case *RequireDecl:
		p.require(n)
	case *ScenarioDecl:
		p.scenario(n)
	case *ScheduleDecl:
		p.schedule(n)
	case *JoinDecl:
		p.plain(&n.Node, "join "+join(n.Areas, ", ")+" while "+n.While.print(), "", "")
	default:
		p.more(d)
	}
}

func (p *printer) plain(n *Node, head, tail, class string) {
	p.add(line{head: head, tail: tail, class: class, start: n.Span.Start, end: n.Span.End})
}

// optional is a block whose braces are left out when there is nothing in them.
func (p *printer) optional(head string, start, headEnd, end int32, its []item) {
	if len(its) == 0 {
		p.add(line{head: head, start: start, end: end})
		return
	}
	p.block(head, start, headEnd, end, its)
}

// property is an entry of a simple body.
type property interface {
	printable
	node() *Node
}

func (n *Node) node() *Node { return n }

func items[T property](list []T) []item {
	var out []item
	for _, it := range list {
		out = append(out, single(it.print(), it.node()))
	}
	return out
}

func (n *SiteItem) print() string {
	if n.Latitude != nil {
		return "place " + n.Latitude.print() + ", " + n.Longitude.print()
	}
	if n.Year != nil {
		return "year " + n.Year.print()
	}
	return "time zone " + n.TimeZone.print()
}

func (n *BatteryItem) print() string {
	switch {
	case n.Capacity != nil:
		return "capacity " + n.Capacity.print()
	case n.Usable != nil:
		return "usable " + n.Usable.print()
	case n.Standing != nil:
		return "standing load " + n.Standing.print()
	case n.Recharge != nil:
		return "recharge " + n.Recharge.print()
	}
	return "charged by " + n.ChargedBy.Name
}

func (n *ControllerItem) print() string {
	switch {
	case n.FedBy != nil:
		return "fed by " + n.FedBy.Name
	case n.StartsWithin != nil:
		return "starts within " + n.StartsWithin.print()
	case n.Restart != "":
		return "restart " + n.Restart + " modes"
	}
	return "reacts within " + n.ReactsWithin.print()
}

func (n *CircuitItem) print() string {
	switch {
	case n.Dims != nil && n.Dims.Min != nil:
		return "dims " + n.Dims.Min.print() + " to " + n.Dims.Max.print()
	case n.Dims != nil:
		return "dims"
	case n.Switches:
		return "switches"
	case n.Power != nil:
		return "power " + n.Power.print()
	case n.FedBy != nil:
		return "fed by " + n.FedBy.Name
	case n.Adds != nil:
		return "adds " + n.Adds.print()
	case n.Tunable != nil:
		return n.Tunable.print()
	case n.Colour:
		return "colour"
	case n.Fail != nil:
		return "system failure level " + n.Fail.print()
	case n.PowerOn != nil:
		return "power on level " + n.PowerOn.print()
	case n.ReturnsAfter != nil:
		return "returns after " + n.ReturnsAfter.print()
	}
	return "fade " + n.Fade.print()
}

func (p *printer) input(n *InputDecl) {
	tail := join(n.Names, ", ")
	if n.Area != nil {
		tail += " in " + n.Area.Name
	}
	if n.Latched != nil {
		tail += " latched until " + n.Latched.print()
	}
	p.plain(&n.Node, n.Kind, tail, "input")
}

func (n *ModeRef) print() string {
	if n.Area != nil {
		return n.Name.Name + " in " + n.Area.Name
	}
	return n.Name.Name
}

func (n *ForEach) print() string {
	text := "for each area " + n.Var.Name + inAreas(n.In...)
	if len(n.Tags) > 0 {
		text += " tagged " + join(n.Tags, " or ")
	}
	if n.Presence {
		text += " with presence"
	}
	if n.Circuits {
		text += " with circuits"
	}
	if n.Daylight {
		text += " with daylight"
	}
	return text
}

func (n *AssumeDecl) print() string {
	switch {
	case n.Spacing != nil:
		word := "changes of "
		if n.Spacing.Word == "taps" {
			word = "taps on "
		}
		return word + join(n.Spacing.Inputs, ", ") + " at least " + n.Spacing.D.print() + " apart"
	case n.AtMost != nil:
		return "at most " + n.AtMost.N.print() + " of " + join(n.AtMost.Inputs, ", ")
	case n.Steady:
		return "no change of clocks"
	case n.Never != nil:
		return "never " + n.Never.print()
	}
	return n.Dwell.Cond.print() + " lasts at least " + n.Dwell.D.print()
}
