// Certificates: what a proof found, written down for checker/certify to confirm.

package checker

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"

	"lampwarden/checker/machine"
	"lampwarden/checker/zone"
	"lampwarden/lang/site"
)

// certificateForm is the first line of a certificate.
const certificateForm = "lampwarden-certificate 1"

// states yields a set of states.
type states func(yield func(key []byte, z *zone.DBM) bool)

// proof is a set of states of one system without a bad one, closed under every step.
type proof struct {
	found, sys       *machine.System // the one that was searched; the one of the question, of equal form
	relaxed, cooling uint64
	each             states
	date             int // index into Site.Dates
}

// Certificate is the proof of one part of a requirement, on one date of a site that has dates.
type Certificate struct {
	Requirement int // index into Site.Requirements
	Part, Parts int // counted from 0; how many there are (0: of an energy requirement, which has as many claims as it needs)
	Claim       *Claim
	Dated       bool
	Date        int // index into Site.Dates, of a site that has dates
	site        *site.Site
	proof       proof
}

// Claim is one step towards an energy requirement: the circuit never has the level or more, so long as During has been true for
// After (with no During: at any time).
type Claim struct {
	Circuit site.CircuitID
	Level   site.Level
	After   site.Millis
}

// Write writes the certificate in the form that the package comment of checker/certify describes; version is that of the program.
func (c *Certificate) Write(w io.Writer, version string) error {
	sum := sha256.New()
	b := bufio.NewWriterSize(io.MultiWriter(w, sum), 1<<16)
	r := &c.site.Requirements[c.Requirement]
	fmt.Fprintln(b, certificateForm)
	fmt.Fprintln(b, "version", version)
	fmt.Fprintln(b, "site", site.Fingerprint(c.site))
	fmt.Fprintln(b, "requirement", c.Requirement, site.Fingerprint(r))
	fmt.Fprintln(b, "part", c.Part, c.Parts)
	if c.Claim != nil {
		fmt.Fprintln(b, "claim", int(c.Claim.Circuit), int(c.Claim.Level), int64(c.Claim.After))
	}
	if c.Dated {
		fmt.Fprintln(b, "date", c.Date)
	}
	p := &c.proof
	p.sys.Abstract(p.relaxed, p.cooling)
	p.sys.WriteHead(b)
	states, zones := p.sys.WriteSet(b, p.found, p.each)
	if err := b.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "end %d %d %s\n", states, zones, hex.EncodeToString(sum.Sum(nil)))
	return err
}

// certify hands out the certificates of an answer on a part of a requirement, or on a claim of it.
func (p *prover) certify(requirement, part, parts int, claim *Claim, a *answer) error {
	if p.opt.Certify == nil || a.state != safe || p.site.Requirements[requirement].Form == site.CanReturn {
		return nil
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, pr := range a.proofs {
		c := &Certificate{Requirement: requirement, Part: part, Parts: parts, Claim: claim, Dated: len(p.site.Dates) > 0, Date: pr.date, site: p.site, proof: pr}
		if err := p.opt.Certify(c); err != nil {
			return err
		}
	}
	return nil
}
