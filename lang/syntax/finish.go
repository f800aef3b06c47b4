package syntax

// Finishing a parsed declaration: spans instead of token positions, values of literals, and what the grammar leaves
// open.

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"lampwarden/lang/source"

	"github.com/alecthomas/participle/v2/lexer"
)

type finisher struct {
	p    *parser
	toks []token
	bad  bool // a value is wrong
	hole bool // a part is missing
}

// finish completes the declaration in place. It reports wrong values, and lets a value that could be meant stand for
// each, so that what else is wrong with the declaration comes to light as well; it gives false if a part is missing.
func (f *finisher) finish(d Decl) bool {
	f.walk(reflect.ValueOf(d))
	return !f.hole
}

var nodeType = reflect.TypeFor[Node]()

// walk visits every node, children first.
func (f *finisher) walk(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			f.walk(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			f.walk(v.Index(i))
		}
	case reflect.Struct:
		if v.Type() == nodeType {
			f.place(v.Addr().Interface().(*Node))
			return
		}
		for i := range v.NumField() {
			f.walk(v.Field(i))
		}
		f.value(v.Addr().Interface())
	}
}

// place turns token indices into a span.
func (f *finisher) place(n *Node) {
	first := min(n.Pos.Line, len(f.toks)-1)
	last := max(min(n.EndPos.Line, len(f.toks))-1, first)
	n.Span = f.p.at(int(f.toks[first].start), int(f.toks[last].end))
	n.Pos, n.EndPos = lexer.Position{}, lexer.Position{}
}

func (f *finisher) value(node any) {
	switch n := node.(type) {
	case *Str:
		n.Value = unquote(n.Raw)
	case *Clock:
		if n.Name = named(n.Raw); n.Name == "" {
			f.clock(n)
		}
	case *Date:
		f.date(n)
	case *ConstantDecl:
		f.notSun(n.Name, n.Value)
	case *ParameterDecl:
		f.notSun(n.Name, n.Default.Literal)
	case *Duration:
		if n.Name = named(n.Raw); n.Name != "" {
			return
		}
		n.Raw = spaced(n.Raw)
		n.Millis = f.scaled(n.Span, n.Raw, durationUnit, maxDuration)
	case *Percent:
		if n.Name = named(n.Raw); n.Name != "" {
			return
		}
		n.Raw = spaced(n.Raw)
		n.Hundredths = int32(f.scaled(n.Span, n.Raw, func(string) int64 { return 100 }, 100*100))
	case *Power:
		n.Raw = spaced(n.Raw)
		n.Milliwatts = f.scaled(n.Span, n.Raw, powerUnit, maxQuantity)
	case *Energy:
		n.Raw = spaced(n.Raw)
		n.MilliwattHour = f.scaled(n.Span, n.Raw, powerUnit, maxQuantity)
	case *Lux:
		if n.Name = named(n.Raw); n.Name != "" {
			return
		}
		n.Raw = spaced(n.Raw)
		n.Value = f.scaled(n.Span, n.Raw, one, maxLux)
	case *Kelvin:
		if n.Name = named(n.Raw); n.Name != "" {
			return
		}
		n.Raw = spaced(n.Raw)
		f.kelvin(n)
	case *KelvinStep:
		n.Raw = spaced(n.Raw)
		n.Value = f.scaled(n.Span, n.Raw, one, maxKelvin)
	case *Degrees:
		n.Raw = spaced(n.Raw)
		f.degrees(n)
	case *Int:
		if n.Name = named(n.Raw); n.Name == "" {
			f.whole(n)
		}
	case *FlashSetting:
		first, last := n.Terms[0], n.Terms[len(n.Terms)-1]
		if k := len(n.Except); k > 0 {
			last = n.Except[k-1]
		}
		n.Targets = &Targets{Node: Node{Span: first.Span.To(last.Span)}, Terms: n.Terms, Except: n.Except}
		n.Terms, n.Except = nil, nil
	case *SiteItem:
		f.axes(n)
	case *Case:
		f.level(n)
	}
}

// named gives a literal's text if it is the name of a constant, else "".
func named(raw string) string {
	if isLetter(raw[0]) {
		return raw
	}
	return ""
}

// The greatest values: a duration of a year, and a million kW or kWh.
const (
	maxDuration = 366 * 24 * 60 * 60 * 1000
	maxQuantity = 1_000_000_000_000
	maxWhole    = 1_000_000
)

func durationUnit(unit string) int64 {
	switch unit {
	case "s":
		return 1000
	case "min":
		return 60 * 1000
	case "h":
		return 60 * 60 * 1000
	}
	return 1
}

// powerUnit gives the milliwatts (or milliwatt-hours) in a unit.
func powerUnit(unit string) int64 {
	switch unit[0] {
	case 'k':
		return 1_000_000
	case 'W':
		return 1000
	}
	return 1
}

// spaced puts exactly one space between number and unit.
func spaced(raw string) string {
	i := strings.IndexFunc(raw, func(r rune) bool { return r != '.' && (r < '0' || r > '9') })
	if i < 0 {
		return raw
	}
	return raw[:i] + " " + strings.TrimLeft(raw[i:], " \t")
}

func unquote(raw string) string {
	return strings.NewReplacer(`\\`, `\`, `\"`, `"`).Replace(raw[1 : len(raw)-1])
}

func (f *finisher) wrong(code source.Code, sp source.Span, try, format string, args ...any) {
	f.bad = true
	f.p.report(source.Diagnostic{Code: code, Span: sp, Message: fmt.Sprintf(format, args...), Suggestion: try})
}

// scaled reads a number with a unit as a whole number of the smallest unit.
func (f *finisher) scaled(sp source.Span, raw string, factor func(unit string) int64, most int64) int64 {
	number, unit, _ := strings.Cut(raw, " ")
	whole, part, _ := strings.Cut(number, ".")
	part = strings.TrimRight(part, "0")
	by := factor(unit)
	n, err := strconv.ParseInt(whole, 10, 64)
	if err != nil || n > most/by {
		f.wrong(source.BadNumber, sp, "", "`%s` is more than can be meant here; the most is %d %s", clip(raw), most/by, unit)
		return most
	}
	n *= by
	rest := by
	for _, c := range part {
		if rest%10 != 0 {
			f.wrong(source.BadNumber, sp, "", "`%s` is finer than can be told apart; the least step is %s %s", clip(raw), step(by), unit)
			return n + 1
		}
		rest /= 10
		n += int64(c-'0') * rest
	}
	if n > most {
		f.wrong(source.BadNumber, sp, "", "`%s` is more than can be meant here; the most is %d %s", clip(raw), most/by, unit)
		return most
	}
	return n
}

// step is 1/by as a decimal number.
func step(by int64) string { return strconv.FormatFloat(1/float64(by), 'f', -1, 64) }

func (f *finisher) whole(n *Int) {
	v, err := strconv.Atoi(n.Raw)
	if err != nil || v > maxWhole {
		f.wrong(source.BadNumber, n.Span, "", "`%s` is not a whole number of at most %d", clip(n.Raw), maxWhole)
		n.Value, n.Raw = maxWhole, strconv.Itoa(maxWhole)
		return
	}
	n.Value, n.Raw = v, strconv.Itoa(v)
}

// clock reads H:MM, H:MM:SS or H:MM:SS.fff.
func (f *finisher) clock(n *Clock) {
	main, frac, hasFrac := strings.Cut(n.Raw, ".")
	parts := strings.Split(main, ":")
	ok := len(parts) <= 3 && len(parts[0]) <= 2 && len(frac) <= 3 && (!hasFrac || len(parts) == 3)
	var v [3]int64
	for i := 0; ok && i < len(parts); i++ {
		x, err := strconv.Atoi(parts[i])
		ok = err == nil && (i == 0 || len(parts[i]) == 2) && x < [...]int{25, 60, 60}[i]
		v[i] = int64(x)
	}
	millis := int64(0)
	if ok && frac != "" {
		x, err := strconv.Atoi((frac + "00")[:3])
		ok = err == nil
		millis = int64(x)
	}
	t := ((v[0]*60+v[1])*60+v[2])*1000 + millis
	const day = 24 * 60 * 60 * 1000
	if !ok || t > day {
		f.wrong(source.BadTime, n.Span, "HH:MM, HH:MM:SS or HH:MM:SS.mmm, from 00:00 to 24:00",
			"`%s` is not a time of day", clip(n.Raw))
		return
	}
	n.Millis = t % day
	if len(parts[0]) == 1 {
		n.Raw = "0" + n.Raw
	}
}

func (f *finisher) degrees(n *Degrees) {
	number, axis, _ := strings.Cut(n.Raw, " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || v > 180 {
		f.wrong(source.BadNumber, n.Span, "", "`%s` is not a latitude or longitude", clip(n.Raw))
		return
	}
	if axis == "S" || axis == "W" {
		v = -v
	}
	n.Value, n.Axis = v, axis
}

// axes checks that a place is a latitude and then a longitude.
func (f *finisher) axes(n *SiteItem) {
	if n.Latitude == nil || f.bad {
		return
	}
	if a := n.Latitude.Axis; a != "N" && a != "S" || n.Latitude.Value > 90 || n.Latitude.Value < -90 {
		f.wrong(source.WrongUnit, n.Latitude.Span, "such as `53.27 N`", "`%s` is not a latitude", clip(n.Latitude.Raw))
	}
	if a := n.Longitude.Axis; a != "E" && a != "W" {
		f.wrong(source.WrongUnit, n.Longitude.Span, "such as `9.05 W`", "`%s` is not a longitude", clip(n.Longitude.Raw))
	}
}

// level settles `COND off` and `COND on`: the grammar takes the word for the state of the condition's last name
// (`cleaning off`), but when no level follows it is the level.
func (f *finisher) level(c *Case) {
	if c.Level != nil || c.Ramp != nil {
		return
	}
	if c.When != nil {
		if last := lastName(c.When); last != nil && (last.State == "off" || last.State == "on") {
			end, word := c.When.Span.End, last.State
			last.State = ""
			trim(c.When, end, end-int32(len(word)), f.p.file.Text)
			sp := f.p.at(int(end)-len(word), int(end))
			c.Level = &Level{Node: Node{Span: sp}, Word: word}
			return
		}
	}
	at := int(c.Span.End)
	f.hole = true
	f.wrong(source.UnexpectedText, f.p.at(at, at), "`off`, `full` or a percentage such as `40 %`",
		"this case asks for no level")
}

// lastName gives the atom that ends the expression, if it is a name.
func lastName(e *Expr) *NameAtom {
	last := e.Terms[len(e.Terms)-1]
	and := last.Terms[len(last.Terms)-1]
	not := and.Terms[len(and.Terms)-1]
	for not.Not != nil {
		not = not.Not
	}
	n, _ := not.Atom.(*NameAtom)
	return n
}

// trim ends the spans along the expression's right edge before the word that was taken off.
func trim(e *Expr, end, wordAt int32, text string) {
	before := int32(len(strings.TrimRight(text[:wordAt], " \t\r\n")))
	cut := func(n *Node) {
		if n.Span.End == end {
			n.Span.End = before
		}
	}
	cut(&e.Node)
	last := e.Terms[len(e.Terms)-1]
	cut(&last.Node)
	and := last.Terms[len(last.Terms)-1]
	cut(&and.Node)
	not := and.Terms[len(and.Terms)-1]
	cut(&not.Node)
	for not.Not != nil {
		not = not.Not
		cut(&not.Node)
	}
	cut(&not.Atom.(*NameAtom).Node)
}
