// Certificates of random sites, confirmed by what shares no code with the engine.

package checker_test

import (
	"bytes"
	"context"
	"flag"
	"sync"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/certify"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
)

var (
	certifySites = flag.Uint64("certify-sites", 150, "random sites whose certificates are confirmed")
	certifyFirst = flag.Uint64("certify-first", 0, "seed of the first of them")
)

// certificates proves a site within the bounds and gives the certificates as written.
func certificates(t testing.TB, s *site.Site, opt checker.Options) (rep *checker.Report, certs [][]byte) {
	t.Helper()
	opt.NoFindings = true
	opt.Certify = func(c *checker.Certificate) error {
		var b bytes.Buffer
		if err := c.Write(&b, "test"); err != nil {
			return err
		}
		certs = append(certs, b.Bytes())
		return nil
	}
	return prove(t, s, opt), certs
}

// TestCertificatesOnceRejected: seeds of sites with everything whose certificates were rejected, with what was wrong.
func TestCertificatesOnceRejected(t *testing.T) {
	for _, seed := range []uint64{
		10034, // the checker took the place of another change of the clock for something that happens
		10180, // a controller that keeps its modes: a clock time that is due as it wakes up was not lost
	} {
		s := sitegen.Generate(seed, sitegen.Everything())
		_, certs := certificates(t, s, checker.Options{AllClocks: true, Structural: true})
		if len(certs) == 0 {
			t.Errorf("seed %d: no certificate", seed)
		}
		for _, c := range certs {
			if _, err := certify.Check(context.Background(), s, bytes.NewReader(c)); err != nil {
				t.Errorf("seed %d: %v", seed, err)
			}
		}
	}
}

// TestCertificatesAreConfirmed: whatever the engine proves, the independent checker confirms, and nothing is missing.
func TestCertificatesAreConfirmed(t *testing.T) {
	n := *certifySites
	if testing.Short() {
		n = min(n, 30)
	}
	var mu sync.Mutex
	confirmed, zones := 0, 0
	for _, opt := range []sitegen.Options{{}, sitegen.Everything()} {
		eachSeed(*certifyFirst, n/2, func(seed uint64) {
			s := sitegen.Generate(seed, opt)
			hows := []checker.Options{{}}
			if seed%3 == 0 {
				hows = append(hows, checker.Options{AllClocks: true, Structural: true})
			}
			for _, how := range hows {
				rep, certs := certificates(t, s, how)
				var results []*certify.Result
				for _, c := range certs {
					r, err := certify.Check(context.Background(), s, bytes.NewReader(c))
					if err != nil {
						t.Errorf("seed %d: %v\n%.20000s\n%s", seed, err, c, sitegen.Print(s))
						return
					}
					results = append(results, r)
				}
				covered := certify.Coverage(s, results)
				mu.Lock()
				for i := range rep.Outcomes {
					o := &rep.Outcomes[i]
					form := s.Requirements[o.Requirement].Form
					holds := o.Verdict == checker.Proved || o.Verdict == checker.Vacuous || o.Verdict == checker.Impossible
					if want := holds && form != site.CanReturn; covered[o.Requirement].Confirmed != want {
						t.Errorf("seed %d: %s is %v, confirmed: %v\n%s", seed, s.Requirements[o.Requirement].Name, o.Verdict,
							covered[o.Requirement], sitegen.Print(s))
					} else if want {
						confirmed++
					}
				}
				for _, r := range results {
					zones += r.Zones
				}
				mu.Unlock()
			}
		})
	}
	t.Logf("%d verdicts confirmed, %d zones", confirmed, zones)
	if uint64(confirmed) < n {
		t.Errorf("only %d verdicts confirmed", confirmed)
	}
}
