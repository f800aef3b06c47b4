package confirm_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"lampwarden/checker"
	"lampwarden/checker/certify"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// fuzzed has a little of everything that a certificate speaks of, and a requirement that is broken.
const fuzzed = `site "Fuzzed" { time zone "Europe/Dublin" }
supply mains
controller { fed by mains  reacts within 200 ms }
area hall : escape
circuit spots in hall { dims  fed by mains  fade 700 ms }
circuit lamp in hall { switches  fed by mains }
presence pir in hall
button key in hall
alarm fire
band evening 17:00 to 23:00
mode fire_alarm { while fire  all circuits full }
mode late { starts on tap key  ends on tap key, at 23:00  lamp full }
mode welcome { while presence in hall, off delay 5 min  spots: evening 80 %, otherwise 40 % }
precedence fire_alarm > late > welcome
assume changes of fire at least 2 s apart
require "full on fire" { whenever fire and mains live then within 2 s spots at full until not fire or mains lost }
require "late ends" { never late and evening and fire and not fire }
require "not by itself" { lamp lit only after late or fire_alarm }
require "broken" { never lamp lit and evening }
require "soon broken" { whenever fire and mains live then within 500 ms spots at full until not fire or mains lost }
require "can be had" { spots at 80 % is possible }
`

// FuzzConfirm: whatever a certificate says, checking it ends, and nothing is confirmed that is broken. The fingerprints and the
// checksum are made right, as a forger would.
func FuzzConfirm(f *testing.F) {
	s := load(f, fuzzed)
	proofs, verdicts := prove(f, s, checker.Limits{})
	if len(proofs) < 3 || !slices.Contains(verdicts, checker.Fails) {
		f.Fatalf("%d certificates, verdicts %v", len(proofs), verdicts)
	}
	for _, p := range proofs {
		f.Add(p.text)
		for i := range s.Requirements {
			f.Add(strings.Replace(p.text, "\nrequirement ", "\nrequirement "+string(rune('0'+i))+" ", 1))
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		ctx, stop := context.WithTimeout(context.Background(), 5*time.Second)
		defer stop()
		begun := time.Now()
		res, err := certify.Check(ctx, s, strings.NewReader(repaired(s, text)))
		if d := time.Since(begun); d > time.Minute { // the machine may be busy
			t.Errorf("it took %v", d)
		}
		var rejected *certify.Rejected
		if err != nil && !errors.As(err, &rejected) && ctx.Err() == nil {
			t.Errorf("neither rejected nor stopped: %v", err)
		}
		if err == nil && (verdicts[res.Requirement] == checker.Fails || verdicts[res.Requirement] == checker.IsPossible) {
			t.Errorf("a broken requirement is confirmed: %s", s.Requirements[res.Requirement].Name)
		}
	})
}

// repaired makes the fingerprints and the last line right.
func repaired(s *site.Site, text string) string {
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		fields := strings.Fields(l)
		switch {
		case len(fields) == 0:
		case fields[0] == "site":
			lines[i] = "site " + site.Fingerprint(s)
		case fields[0] == "requirement" && len(fields) > 1 && len(fields[1]) == 1:
			if k := int(fields[1][0] - '0'); k >= 0 && k < len(s.Requirements) {
				lines[i] = "requirement " + fields[1] + " " + site.Fingerprint(&s.Requirements[k])
			}
		}
	}
	return sealed(strings.Join(lines, "\n"))
}

// FuzzRun: whatever a run says, playing it ends, and no requirement is broken by it that is proved.
func FuzzRun(f *testing.F) {
	s := load(f, fuzzed)
	_, verdicts := prove(f, s, checker.Limits{})
	rep, err := checker.Prove(context.Background(), s, checker.Options{NoFindings: true})
	if err != nil {
		f.Fatal(err)
	}
	for _, o := range rep.Outcomes {
		if o.Counterexample == nil {
			continue
		}
		for i := range s.Requirements {
			var b strings.Builder
			if err := rehearse.WriteRun(&b, s, i, &o.Counterexample.Script); err != nil {
				f.Fatal(err)
			}
			f.Add(b.String())
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		text = repaired(s, text)
		if i := strings.LastIndex(text, "\nend "); i >= 0 { // a run's last line has no counts
			fields := strings.Fields(text[i:])
			text = text[:i+1] + "end " + fields[len(fields)-1] + "\n"
		}
		run, err := rehearse.ReadRun(s, strings.NewReader(text))
		if err != nil {
			return
		}
		j, err := run.Replay()
		if err == nil && j.Broken && verdicts[run.Requirement] == checker.Proved {
			t.Errorf("a run breaks what is proved: %s", s.Requirements[run.Requirement].Name)
		}
	})
}
