// Circuit schedules: circuits that stand in the rows of a table.

package resolve

import (
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// Schedules are the tables that site files name, by the declaration that does.
type Schedules map[*syntax.ScheduleDecl]Schedule

// Schedule is a table as text, or why there is none.
type Schedule struct {
	File    *source.File
	Problem string // such as "no such file", "" if there is a file
}

// schedule is a declaration with its table and the columns that it asks for.
type schedule struct {
	decl  *syntax.ScheduleDecl
	table *table
	cols  map[*syntax.Str]int
	// circuits gives the circuit of each row, None where the row gave none.
	circuits []site.CircuitID
}

// readSchedule reads the table of a declaration and enters its circuits.
func (r *resolver) readSchedule(d *syntax.ScheduleDecl) {
	r.at[d] = len(r.site.Circuits)
	s := &schedule{decl: d, cols: map[*syntax.Str]int{}}
	r.schedules = append(r.schedules, s)
	if !r.openSchedule(s) {
		r.lost = true
		return
	}
	ok := s.table.whole
	var name *syntax.NameColumn
	for _, it := range d.Items {
		if h := headerOf(it); h != nil {
			i, found := r.column(s.table, h.Value, h.Span)
			s.cols[h] = i
			if !found {
				ok = false
				s.cols[h] = -1
			}
		}
		if it.Name != nil && name == nil {
			name = it.Name
		}
	}
	if name == nil {
		e := r.errorf(source.NoTitle, d.Path.Span, "nothing tells the names of the circuits")
		e.Suggestion = "write `name` and the header of a column"
	}
	if name == nil || s.cols[name.Header] < 0 {
		r.lost = true
		return
	}
	if len(s.table.rows) == 0 && ok {
		r.errorf(source.BadSchedule, s.table.header[0].span, "the schedule has a header but no rows")
	}
	r.nameRows(s, name)
	r.lost = r.lost || !ok
}

// openSchedule finds the table; false if there is none, which has been reported.
func (r *resolver) openSchedule(s *schedule) bool {
	if !GoodPath(s.decl.Path.Value) {
		e := r.errorf(source.BadPath, s.decl.Path.Span, "this path does not stay in the folder of the site file")
		e.Suggestion = "write the path of a file there, such as `\"schedule.csv\"` or `\"tables/schedule.csv\"`"
		return false
	}
	text, known := r.tables[s.decl]
	switch {
	case !known:
		text.Problem = "there is no folder here to read it from"
		fallthrough
	case text.Problem != "":
		r.errorf(source.FileNotRead, s.decl.Path.Span, "the schedule %s cannot be read: %s", s.decl.Path.Raw, text.Problem)
		return false
	}
	s.table = r.readTable(text.File)
	return s.table != nil
}

// GoodPath tells whether a path leads to a file in a folder or in those in it: with `/` between its parts, and no `..`.
func GoodPath(path string) bool {
	return fs.ValidPath(path) && path != "." && !strings.ContainsAny(path, "\\:\x00")
}

// headerOf gives the header that an item asks for, or nil.
func headerOf(it *syntax.ScheduleItem) *syntax.Str {
	for _, c := range []*syntax.NameColumn{it.Name, it.Area, it.FedBy} {
		if c != nil {
			return c.Header
		}
	}
	for _, c := range []*syntax.ChoiceColumn{it.Dims, it.Switches} {
		if c != nil {
			return c.Header
		}
	}
	for _, c := range []*syntax.QuantityColumn{it.Power, it.Fade} {
		if c != nil {
			return c.Header
		}
	}
	return nil
}

// nameRows enters a circuit for each row.
func (r *resolver) nameRows(s *schedule, col *syntax.NameColumn) {
	if len(col.Means) > 0 {
		r.errorf(source.WrongWord, col.Means[0].Span, "the name of a circuit is what the cell says")
	}
	for _, row := range s.table.rows {
		c := row[s.cols[col.Header]]
		id := site.CircuitID(site.None)
		if name := r.legalName(c, col); name != "" && r.spend(1, c.span) {
			id = site.CircuitID(len(r.site.Circuits))
			r.site.Circuits = append(r.site.Circuits, newCircuit(name, c.span))
			r.declareCell(c, name, int(id))
		} else {
			r.lost = true
		}
		s.circuits = append(s.circuits, id)
	}
}

// declareCell is declare for a name in a cell.
func (r *resolver) declareCell(c cell, name string, id int) {
	if old := r.names[name]; old != nil && old.kind != kindBroken {
		d := r.errorf(source.DuplicateName, c.span, "the name `%s` is already taken", name)
		relate(d, old.span, "it is %s, declared here", r.describe(old))
		if name != c.text {
			d.Notes = append(d.Notes, fmt.Sprintf("the cell says `%s`", c.text))
		}
		return
	}
	r.declare(&syntax.Ident{Node: syntax.Node{Span: c.span}, Name: name}, kindCircuit, id)
}

var (
	nameForm    = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_]*$`)
	nameRest    = regexp.MustCompile(`^[A-Za-z0-9_]*$`)
	otherInName = regexp.MustCompile(`[^A-Za-z0-9_]+`)
)

// legalName turns the text of a cell into a name by the rules of its column. It gives "" for what has been reported.
func (r *resolver) legalName(c cell, col *syntax.NameColumn) string {
	if !r.namingRule(col) {
		return ""
	}
	name := c.text
	if col.Other != nil {
		name = strings.Trim(otherInName.ReplaceAllString(name, col.Other.Value), col.Other.Value)
	}
	switch {
	case c.text == "" || name == "":
		r.errorf(source.BadCell, c.span, "this cell gives no name")
		return ""
	case col.Prefix != nil:
		name = col.Prefix.Value + name
	}
	reserved := slices.Contains(syntax.Reserved(), name)
	if nameForm.MatchString(name) && !reserved {
		return name
	}
	d := r.errorf(source.BadCell, c.span, "`%s` is not a name of the language", name)
	relate(d, col.Span, "names come from this column")
	first := name[0]
	switch {
	case reserved:
		d.Suggestion = fmt.Sprintf("write `, prefix \"c_\"` behind the column's header: `%s` is a word of the language", name)
	case otherInName.MatchString(name):
		d.Suggestion = "write `, other characters \"_\"` behind the column's header, if `_` may stand for them"
	case first == '_' || '0' <= first && first <= '9':
		d.Suggestion = "write `, prefix \"c_\"` behind the column's header: a name starts with a letter"
	}
	return ""
}

// namingRule checks the rules themselves.
func (r *resolver) namingRule(col *syntax.NameColumn) bool {
	ok := true
	if p := col.Prefix; p != nil && !nameForm.MatchString(p.Value) {
		r.errorf(source.BadCell, p.Span, "a prefix has letters, digits and `_`, and starts with a letter")
		ok = false
	}
	if o := col.Other; o != nil && !nameRest.MatchString(o.Value) {
		r.errorf(source.BadCell, o.Span, "what stands for other characters has letters, digits and `_` only")
		ok = false
	}
	return ok
}
