package certify

import (
	"context"
	"io"
	"sync"

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
	return For(s).Check(ctx, r)
}

// Site is a site for which certificates are confirmed, of which what they all need is worked out once.
type Site struct {
	site  *site.Site
	print func() string
}

// For prepares a site. It may be used by several goroutines.
func For(s *site.Site) *Site {
	return &Site{s, sync.OnceValue(func() string { return site.Fingerprint(s) })}
}

// Check confirms a certificate as the function of this name does.
func (s *Site) Check(ctx context.Context, r io.Reader) (*Result, error) {
	c, err := read(r)
	if err != nil {
		return nil, err
	}
	dated, err := s.dated(c)
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

// dated checks a certificate's fingerprints and gives the site on its date.
func (s *Site) dated(c *certificate) (*site.Site, error) {
	all := s.site
	switch {
	case c.site != s.print():
		return nil, reject(0, "it speaks of another site, or of another version of this one")
	case c.index >= len(all.Requirements):
		return nil, reject(0, "there is no requirement %d", c.index)
	case c.requirement != site.Fingerprint(&all.Requirements[c.index]):
		return nil, reject(0, "it speaks of another requirement than %s", all.Requirements[c.index].Name)
	case len(all.Dates) == 0 && c.date != site.None:
		return nil, reject(0, "the site has no dates")
	case len(all.Dates) == 0:
		return all, nil
	case c.date < 0 || c.date >= len(all.Dates):
		return nil, reject(0, "the site has %d dates, and this certificate names none of them", len(all.Dates))
	}
	return all.OnDate(c.date), nil
}
