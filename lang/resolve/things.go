// Second pass: the site itself, its supplies, areas, inputs and bands.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// things fills the tables of everything but modes. Areas come first, as all
// else refers to them.
func (r *resolver) things() {
	for _, d := range r.decls {
		if d, ok := d.(*syntax.AreaDecl); ok {
			r.area(d)
		}
	}
	r.nestAreas()
	single := map[string]source.Span{}
	for _, d := range r.decls {
		switch d := d.(type) {
		case *syntax.SiteDecl:
			r.siteDecl(d, single)
		case *syntax.ControllerDecl:
			r.controller(d, single)
		case *syntax.BatteryDecl:
			r.battery(d)
		case *syntax.GeneratorDecl:
			r.generator(d)
		case *syntax.CircuitDecl:
			r.circuit(d)
		case *syntax.InputDecl:
			r.input(d)
		case *syntax.CurveDecl:
			r.curveDecl(d)
		case *syntax.DaylightDecl:
			r.daylightDecl(d)
		case *syntax.BandDecl:
			r.band(d)
		case *syntax.CoverDecl:
			r.cover(d)
		}
	}
	r.fillSchedules()
	r.groups()
	r.index()
	r.seenLight()
}

func (r *resolver) siteDecl(d *syntax.SiteDecl, single seen) {
	if !r.first(single, "the site", d.Name.Span) {
		return
	}
	r.site.Name, r.site.Span = d.Name.Value, d.Name.Span
	given := seen{}
	for _, it := range d.Items {
		switch {
		case it.Latitude != nil && r.first(given, "the place", it.Span):
			r.site.HasPlace, r.site.Latitude, r.site.Longitude = true, it.Latitude.Value, it.Longitude.Value
		case it.TimeZone != nil && r.first(given, "the time zone", it.Span):
			r.timeZone(it.TimeZone)
		case it.Year != nil && r.first(given, "the year", it.Span):
			r.year(it.Year)
		}
	}
}

func (r *resolver) controller(d *syntax.ControllerDecl, single seen) {
	if !r.first(single, "the controller", d.Span) {
		return
	}
	c := &r.site.Controller
	c.Span = d.Span
	given := seen{}
	for _, it := range d.Items {
		switch {
		case it.FedBy != nil && r.first(given, "`fed by`", it.Span):
			c.FedBy = r.feedNamed(it.FedBy)
		case it.ReactsWithin != nil && r.first(given, "`reacts within`", it.Span):
			c.ReactsWithin = r.duration(it.ReactsWithin)
		case it.StartsWithin != nil && r.first(given, "`starts within`", it.Span):
			r.power.boot = r.duration(it.StartsWithin)
		case it.Restart != "" && r.first(given, "`restart`", it.Span):
			c.Keeps = it.Restart == "keeps"
		}
	}
}

func (r *resolver) area(d *syntax.AreaDecl) {
	var tags []string
	given := map[string]source.Span{}
	for _, t := range d.Tags {
		if at, ok := given[t.Name]; ok {
			relate(r.errorf(source.ListedTwice, t.Span, "the tag `%s` is given twice", t.Name), at, "first given here")
			continue
		}
		given[t.Name] = t.Span
		tags = append(tags, t.Name)
	}
	parent := r.parentOf(d)
	for i := range d.Names {
		a := &r.site.Areas[r.at[d]+i]
		a.Tags, a.Parent = append([]string(nil), tags...), parent
	}
}

func (r *resolver) input(d *syntax.InputDecl) {
	area := site.AreaID(site.None)
	switch {
	case d.Area != nil:
		if s := r.find(d.Area, kindArea); s != nil {
			area = site.AreaID(s.id)
		} else {
			r.unsure[kindInput] = true
		}
	case d.Kind == "presence":
		e := r.errorf(source.PresenceNowhere, d.Span, "a presence input is in an area")
		e.Suggestion = "write `presence " + d.Names[0].Name + " in AREA`"
		r.unsure[kindInput] = true
	}
	for i := range d.Names {
		r.site.Inputs[r.at[d]+i].Area = area
	}
}

func (r *resolver) band(d *syntax.BandDecl) {
	b := &r.site.Bands[r.at[d]]
	var okFrom, okTo bool
	b.From, b.FromSun, okFrom = r.dayTime(d.From)
	b.To, b.ToSun, okTo = r.dayTime(d.To)
	b.Days, b.Holidays = r.daysOf(d.Days)
	if okFrom && okTo && b.FromSun == nil && b.ToSun == nil {
		r.withinADay(d, b)
	}
	if okFrom && okTo && b.From == b.To && sameSun(b.FromSun, b.ToSun) {
		e := r.errorf(source.EmptyBand, d.From.Span.To(d.To.Span), "the band `%s` has no length: it ends when it begins", d.Name.Name)
		e.Notes = append(e.Notes, "for the whole day write no band; a band that runs past midnight ends before it begins, as in `22:00 to 05:30`")
	}
}

func (r *resolver) cover(d *syntax.CoverDecl) {
	c := site.Cover{Span: d.Span}
	listed := seen{}
	for _, id := range d.Bands {
		s := r.find(id, kindBand)
		if s != nil && r.notListed(listed, id) {
			c.Bands = append(c.Bands, site.BandID(s.id))
		}
	}
	r.site.Covers = append(r.site.Covers, c)
}

// notListed reports a name that stands twice in a list, and tells whether it
// stands there for the first time.
func (r *resolver) notListed(listed seen, id *syntax.Ident) bool {
	return r.notListedAs(listed, id.Name, id.Span)
}

func (r *resolver) notListedAs(listed seen, text string, sp source.Span) bool {
	if at, ok := listed[text]; ok {
		relate(r.errorf(source.ListedTwice, sp, "`%s` is listed twice", text), at, "first listed here")
		return false
	}
	listed[text] = sp
	return true
}
