package checker_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"strings"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/certify"
	"lampwarden/lang/site"
)

// TestEnergyIsConfirmedByClaims: in an outage the hall goes down to 10 %, half a minute at full after each movement but not
// longer, and the store is dark. That the battery lasts hangs on one claim about each; without one it is not confirmed, and no claim counts for another site.
func TestEnergyIsConfirmedByClaims(t *testing.T) {
	const text = `
site "Two rooms in the dark"
supply mains
battery spare { capacity 100 Wh  charged by mains }
area hall area store
circuit hall_lamp in hall { dims 1 % to 100 %  power 100 W  fed by spare }
circuit store_lamp in store { dims 1 % to 100 %  power 100 W  fed by spare }
presence hall_pir in hall
switch at_work in store
mode work { while at_work and mains live  hall_lamp full  store_lamp full }
mode outage { while mains lost  hall_lamp at 10 % }
require "it lasts" { battery spare lasts at least 5 h }
`
	s := load(t, text)
	prove := func(s *site.Site) (out []string) {
		t.Helper()
		rep, err := checker.Prove(context.Background(), s, checker.Options{NoFindings: true, Workers: 1, Certify: func(c *checker.Certificate) error {
			var b bytes.Buffer
			err := c.Write(&b, "test")
			out = append(out, b.String())
			return err
		}})
		if err != nil || rep.Outcomes[0].Verdict != checker.Proved {
			t.Fatalf("%v, %v", err, rep.Outcomes)
		}
		return out
	}
	confirm := func(s *site.Site, certificates []string) (certify.Status, error) {
		var results []*certify.Result
		for _, c := range certificates {
			r, err := certify.Check(context.Background(), s, strings.NewReader(c))
			if err != nil {
				return certify.Status{}, err
			}
			results = append(results, r)
		}
		return certify.Coverage(s, results)[0], nil
	}
	certificates := prove(s)
	if got, err := confirm(s, certificates); err != nil || !got.Confirmed {
		t.Errorf("%v, %+v", err, got)
	}
	if len(certificates) < 2 {
		t.Fatalf("%d claims", len(certificates))
	}
	if got, err := confirm(s, nil); err != nil || got.Confirmed || !strings.Contains(got.Reason, "a run may use up to") {
		t.Errorf("without claims: %v, %+v", err, got)
	}
	bright := load(t, strings.Replace(text, "hall_lamp at 10 %", "hall_lamp full", 1))
	for _, c := range certificates {
		if strings.Contains(c, "\nclaim 0 ") {
			forged := forge(bright, c)
			if got, err := confirm(bright, []string{forged}); err == nil {
				t.Errorf("confirmed for a bright hall: %+v\n%s", got, forged)
			}
		}
	}
}

// forge makes a certificate speak of another site, with a fitting checksum.
func forge(s *site.Site, text string) string {
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	for i, l := range lines {
		switch f := strings.Fields(l); f[0] {
		case "site":
			lines[i] = "site " + site.Fingerprint(s)
		case "requirement":
			lines[i] = "requirement " + f[1] + " " + site.Fingerprint(&s.Requirements[0])
		}
	}
	last := len(lines) - 1
	body := strings.Join(lines[:last], "\n") + "\n"
	f := strings.Fields(lines[last])
	return body + fmt.Sprintf("end %s %s %x\n", f[1], f[2], sha256.Sum256([]byte(body)))
}
