package certify

import (
	"context"
	"io"

	"lampwarden/lang/site"
)

// Result is what a confirmed certificate proves.
type Result struct {
	Requirement int // index into Site.Requirements
	Part, Parts int // of the requirement's parts
	Date        int // index into Site.Dates, site.None for a site without
	Version     string
	States      int
	Zones       int
	Steps       int // that were checked
	model       *model
}

// Check confirms a certificate for a site. The error is a *Rejected if it does not prove what it says, else that of the
// context or of reading.
func Check(ctx context.Context, s *site.Site, r io.Reader) (*Result, error) {
	c, err := read(r)
	if err != nil {
		return nil, err
	}
	dated, err := c.speaksOf(s)
	if err != nil {
		return nil, err
	}
	m, err := newModel(dated, c)
	if err != nil {
		return nil, err
	}
	k, err := newClosure(m)
	if err != nil {
		return nil, err
	}
	if err := k.check(ctx); err != nil {
		return nil, err
	}
	out := &Result{Requirement: c.index, Part: c.part, Parts: c.parts, Date: c.date, Version: c.version, States: len(k.set), Steps: k.steps, model: m}
	for _, e := range k.set {
		out.Zones += len(e.zones)
	}
	return out, nil
}

// speaksOf checks the fingerprints and gives the site on the certificate's date.
func (c *certificate) speaksOf(s *site.Site) (*site.Site, error) {
	switch {
	case c.site != site.Fingerprint(s):
		return nil, reject(0, "it speaks of another site, or of another version of this one")
	case c.index >= len(s.Requirements):
		return nil, reject(0, "there is no requirement %d", c.index)
	case c.requirement != site.Fingerprint(&s.Requirements[c.index]):
		return nil, reject(0, "it speaks of another requirement than %s", s.Requirements[c.index].Name)
	case len(s.Dates) == 0 && c.date != site.None:
		return nil, reject(0, "the site has no dates")
	case len(s.Dates) == 0:
		return s, nil
	case c.date < 0 || c.date >= len(s.Dates):
		return nil, reject(0, "the site has %d dates, and this certificate names none of them", len(s.Dates))
	}
	return s.OnDate(c.date), nil
}
