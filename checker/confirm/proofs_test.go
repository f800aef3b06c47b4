// Proofs and stories for the tests, as the engine finds them.

package confirm_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/certify"
	"lampwarden/lang"
	"lampwarden/lang/site"
)

// load reads a site written in the test or, given paths, from files.
func load(t testing.TB, text string, paths ...string) *site.Site {
	t.Helper()
	p, err := lang.LoadText("test.lamp", text), error(nil)
	if len(paths) > 0 {
		p, err = lang.Load(paths)
	}
	if err != nil {
		t.Fatal(err)
	}
	if p.Site == nil {
		var b strings.Builder
		_ = p.WriteDiagnostics(&b, false)
		t.Fatal(b.String())
	}
	return p.Site
}

// proof is a certificate as it stands in its file.
type proof struct {
	requirement, part, parts int
	text                     string
}

// prove proves a site and gives the certificates with the verdicts, by requirement.
func prove(t testing.TB, s *site.Site, limits checker.Limits) (proofs []proof, verdicts []checker.Verdict) {
	t.Helper()
	rep, err := checker.Prove(context.Background(), s, checker.Options{NoFindings: true, Limits: limits, Certify: func(c *checker.Certificate) error {
		var b bytes.Buffer
		err := c.Write(&b, "(test)")
		proofs = append(proofs, proof{c.Requirement, c.Part, c.Parts, b.String()})
		return err
	}})
	if err != nil {
		t.Fatal(err)
	}
	verdicts = make([]checker.Verdict, len(s.Requirements))
	for _, o := range rep.Outcomes {
		verdicts[o.Requirement] = o.Verdict
	}
	return proofs, verdicts
}

// confirms checks a text.
func confirms(s *site.Site, text string) (*certify.Result, error) {
	return certify.Check(context.Background(), s, strings.NewReader(text))
}

// sealed gives a certificate, whatever was done to it, with the counts and the checksum right.
func sealed(text string) string {
	lines := strings.SplitAfter(text, "\n")
	if n := len(lines); n > 0 && lines[n-1] == "" {
		lines = lines[:n-1]
	}
	if n := len(lines); n > 0 && strings.HasPrefix(lines[n-1], "end") {
		lines = lines[:n-1]
	}
	states, zones := 0, 0
	for _, l := range lines {
		switch word, _, _ := strings.Cut(strings.TrimSpace(l), " "); word {
		case "state":
			states++
		case "zone":
			zones++
		}
	}
	body := strings.Join(lines, "")
	sum := sha256.Sum256([]byte(body))
	return body + fmt.Sprintf("end %d %d %s\n", states, zones, hex.EncodeToString(sum[:]))
}

// retargeted is a certificate that claims to be of a part of another requirement, or of another site.
func retargeted(text string, s *site.Site, requirement, part, parts int) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		switch word, _, _ := strings.Cut(l, " "); word {
		case "site":
			lines[i] = "site " + site.Fingerprint(s)
		case "requirement":
			lines[i] = fmt.Sprintf("requirement %d %s", requirement, site.Fingerprint(&s.Requirements[requirement]))
		case "part":
			lines[i] = fmt.Sprintf("part %d %d", part, parts)
		}
	}
	return sealed(strings.Join(lines, "\n"))
}
