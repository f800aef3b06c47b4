// The engine against SMT solvers: z3 on Horn clauses, cvc5 on unrolled runs. The scripts are from checker/horn, which shares
// only lang/site with the engine.

package checker_test

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"lampwarden/checker"
	"lampwarden/checker/horn"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
)

var (
	solverSites = flag.Uint64("solver-sites", 440, "random sites of which z3 is asked every verdict")
	solverFirst = flag.Uint64("solver-first", 0, "seed of the first of them")
	solverHouse = flag.Bool("solver-house", false, "ask z3 every requirement of the guest house, with more time, not only the quick ones")
)

// Bounds of a question. They are counts of a solver's own steps and no times, so that what is decided does not hang on how
// busy the machine is; two million take z3 about half a second, and 200,000 take cvc5 about one to two seconds.
const (
	z3Steps   = 2_000_000
	cvc5Steps = 200_000
)

// solver finds a solver. Without it the test is skipped, but not in continuous integration.
func solver(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	switch {
	case err == nil:
	case os.Getenv("CI") == "true":
		t.Fatalf("%s is not installed, and CI is to compare with it", name)
	default:
		t.Skipf("%s is not installed: nothing is compared with it", name)
	}
	return path
}

// answer runs a solver on a script: "sat", "unsat", "unknown", or what it complains of. It adds what it took to spent.
func answer(path string, steps int, script []byte, spent *time.Duration) string {
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Minute) // far above what the steps take
	defer cancel()
	args := []string{"-in", fmt.Sprintf("rlimit=%d", steps)}
	if strings.HasSuffix(path, "cvc5") {
		args = []string{"--lang=smt2", fmt.Sprintf("--rlimit=%d", steps)}
	}
	cmd := exec.CommandContext(ctx, path, args...)
	cmd.Stdin = bytes.NewReader(script)
	out, _ := cmd.CombinedOutput()
	if cmd.ProcessState != nil && spent != nil {
		*spent += cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	}
	switch text := strings.TrimSpace(string(out)); {
	case text == "timeout", text == "" && ctx.Err() != nil, strings.Contains(text, "resource"), strings.HasPrefix(text, "unknown"):
		return "unknown"
	default:
		return text
	}
}

// answers counts what solvers said, on many goroutines.
type answers struct {
	sync.Mutex
	count map[string]int
	times map[string]time.Duration
}

func newAnswers() *answers {
	return &answers{count: map[string]int{}, times: map[string]time.Duration{}}
}

func (c *answers) add(what string) {
	c.Lock()
	defer c.Unlock()
	c.count[what]++
}

func (c *answers) spent(what string, d time.Duration) {
	c.Lock()
	defer c.Unlock()
	c.times[what] += d
}

func (c *answers) log(t *testing.T) {
	t.Helper()
	for _, k := range slices.Sorted(maps.Keys(c.count)) {
		t.Logf("%5d %s", c.count[k], k)
	}
	for _, k := range slices.Sorted(maps.Keys(c.times)) {
		t.Logf("%6.1f s %s", c.times[k].Seconds(), k)
	}
}

// bad tells whether a verdict says that the bad (or, of a possible one, the wanted) state can be reached.
func bad(v checker.Verdict) bool { return v == checker.Fails || v == checker.IsPossible }

// ask puts a question to z3 and gives what it says: "sat", "unsat", "unknown", or what is wrong. A simpler question can only
// be answered by sat.
func ask(z3 string, s *site.Site, q horn.Question, steps int, spent *time.Duration) string {
	var b bytes.Buffer
	if err := q.Write(&b, s); err != nil {
		return err.Error()
	}
	said := answer(z3, steps, b.Bytes(), spent)
	if said == "unsat" && !q.Exact() {
		return "unknown"
	}
	return said
}

// askFirst asks several questions until one is answered.
func askFirst(z3 string, s *site.Site, qs []horn.Question, steps int, spent *time.Duration) (said string) {
	for _, q := range qs {
		if said = ask(z3, s, q, steps, spent); said != "unknown" {
			break
		}
	}
	return said
}

// askRun asks z3 for a run that breaks the requirement in no more steps than the engine's. It gives "unsat", as the Horn
// clauses do, if there is one.
func askRun(z3 string, s *site.Site, o *checker.Outcome, steps int, spent *time.Duration) string {
	var b bytes.Buffer
	if err := horn.WriteUnrolled(&b, s, o.Requirement, len(o.Counterexample.Timeline.Steps)-1); err != nil {
		return err.Error()
	}
	switch said := answer(z3, steps, b.Bytes(), spent); said {
	case "sat":
		return "unsat"
	case "unsat":
		return "that there is no run as long as the engine's"
	default:
		return said
	}
}

// together is the answer for a requirement of what was said of its parts: sat if each is, unsat if one is.
func together(parts []string) string {
	out := "sat"
	for _, said := range parts {
		switch {
		case said != "sat" && said != "unsat" && said != "unknown":
			return said
		case said == "unsat":
			out = said
		case said == "unknown" && out == "sat":
			out = said
		}
	}
	return out
}

// fits tells whether an answer of z3 is that of a verdict.
func fits(v checker.Verdict, said string) bool {
	return said == "unsat" && bad(v) || said == "sat" && !bad(v)
}

// smallSites are the random sites that solvers are asked about: every other one with whatever the language has, but for
// what checker/horn does not cover.
func smallSites(seed uint64) *site.Site {
	if seed%2 == 0 {
		return sitegen.Generate(seed, sitegen.Options{MaxModes: 2, MaxCircuits: 1, MaxInputs: 2, MaxUnits: 2})
	}
	opt := sitegen.Everything()
	opt.MaxModes, opt.MaxCircuits, opt.SunPercent = 2, 1, 0
	opt.Forms = nil
	for f := site.Never; f <= site.Settles; f++ {
		opt.Forms = append(opt.Forms, f)
	}
	return sitegen.Generate(seed, opt)
}

// TestSolverAgrees asks z3 every verdict on random sites.
func TestSolverAgrees(t *testing.T) {
	z3, c := solver(t, "z3"), newAnswers()
	n := *solverSites
	if testing.Short() {
		n = min(n, 40)
	}
	eachSeed(*solverFirst, n, func(seed uint64) {
		s := smallSites(seed)
		start := time.Now()
		rep, err := checker.Prove(context.Background(), s, checker.Options{NoFindings: true, Limits: bounds, Workers: 1})
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			return
		}
		c.spent("engine (of the clock on the wall)", time.Since(start))
		whole := true
		for i := range rep.Outcomes {
			o := &rep.Outcomes[i]
			r := &s.Requirements[o.Requirement]
			if o.Verdict == checker.Undecided {
				c.add("undecided by the engine")
				whole = false
				continue
			}
			var spent time.Duration
			said := askRandomly(z3, s, o, seed, &spent)
			if said == "unknown" && bad(o.Verdict) {
				said = askRun(z3, s, o, z3Steps, &spent)
			}
			c.spent("z3 (of a processor)", spent)
			switch {
			case fits(o.Verdict, said):
				c.add("confirmed: " + o.Verdict.String())
			case said == "unknown":
				c.add("unknown to z3: " + o.Verdict.String())
				whole = false
			default:
				t.Errorf("seed %d, %s: %v, but z3 says %s\n%s", seed, r.Name, o.Verdict, said, sitegen.Print(s))
				whole = false
			}
		}
		if whole {
			c.add("sites of which every verdict is confirmed")
		}
	})
	c.log(t)
	proved := c.count["confirmed: proved"] + c.count["confirmed: vacuous"] + c.count["confirmed: impossible"]
	failed := c.count["confirmed: fails"] + c.count["confirmed: possible"]
	if sites := c.count["sites of which every verdict is confirmed"]; sites < int(n)*15/22 || proved < int(n)/3 || failed < int(n)/3 {
		t.Errorf("too little is confirmed to mean anything: %d sites, %d that hold, %d that fail", sites, proved, failed)
	}
}

// askRandomly asks the exact question, on every third site in parts, and of what fails on every fourth the simpler ones
// as well, none of which may say that it holds.
func askRandomly(z3 string, s *site.Site, o *checker.Outcome, seed uint64, spent *time.Duration) string {
	q := horn.Question{Requirement: s.Requirements[o.Requirement]}
	if bad(o.Verdict) && seed%4 == 0 {
		if said := askFirst(z3, s, q.Guesses(s), z3Steps/4, spent); said != "unknown" {
			return said + " to a simpler question"
		}
	}
	if seed%3 > 0 {
		return ask(z3, s, q, z3Steps, spent)
	}
	var parts []string
	for _, p := range horn.Parts(s, o.Requirement) {
		parts = append(parts, ask(z3, s, p, z3Steps, spent))
	}
	return together(parts)
}

// TestSolverConfirmsRuns asks cvc5 about runs of so many steps: of a failure a run is found, not longer than the engine's, and
// for fewer steps none; of a proof there is none.
func TestSolverConfirmsRuns(t *testing.T) {
	cvc5, c := solver(t, "cvc5"), newAnswers()
	n := uint64(60)
	if testing.Short() {
		n = 10
	}
	const most = 6 // steps; longer runs take cvc5 too long
	eachSeed(*solverFirst+50_000, n, func(seed uint64) {
		s := smallSites(seed)
		rep, err := checker.Prove(context.Background(), s, checker.Options{NoFindings: true, Limits: bounds, Workers: 1})
		if err != nil {
			t.Errorf("seed %d: %v", seed, err)
			return
		}
		for i := range rep.Outcomes {
			o := &rep.Outcomes[i]
			if o.Verdict == checker.Undecided {
				continue
			}
			length := 2 // steps within which a proof is looked at
			if bad(o.Verdict) {
				length = len(o.Counterexample.Timeline.Steps) - 1 // without start-up
			}
			said := unrolled(cvc5, s, o.Requirement, min(length, most))
			switch {
			case strings.HasPrefix(said, "unknown"):
				c.add("unknown to cvc5")
			case strings.HasPrefix(said, "run") && bad(o.Verdict):
				c.add("failure: a " + said)
			case said == "none" && !bad(o.Verdict):
				c.add("proof: no run")
			case said == "none" && length > most:
				c.add("failure: the run is too long for cvc5")
			default:
				t.Errorf("seed %d, %s: %v, but cvc5 says: %s of at most %d steps\n%s", seed, s.Requirements[o.Requirement].Name, o.Verdict, said, length, sitegen.Print(s))
			}
		}
	})
	c.log(t)
	found := 0
	for k, n := range c.count {
		if strings.HasPrefix(k, "failure: a run") {
			found += n
		}
	}
	if found < int(n)/3 || c.count["proof: no run"] < int(n)/3 {
		t.Errorf("too few runs: %d failures", found)
	}
}

// unrolled asks for the shortest run of at most so many steps: "run of k steps", "none", or "unknown". An answer that a longer
// run contradicts is told as it is.
func unrolled(cvc5 string, s *site.Site, requirement, most int) string {
	for k := 0; k <= most; k++ {
		var b bytes.Buffer
		if err := horn.WriteUnrolled(&b, s, requirement, k); err != nil {
			return err.Error()
		}
		switch said := answer(cvc5, cvc5Steps, b.Bytes(), nil); said {
		case "sat":
			return fmt.Sprintf("run of %d steps", k)
		case "unsat":
		default:
			return said
		}
	}
	return "none"
}

// TestSolverConfirmsGuestHouse asks z3 every requirement of the guest house, in parts of one circuit where it falls into such.
func TestSolverConfirmsGuestHouse(t *testing.T) {
	if testing.Short() {
		t.Skip("takes half a minute")
	}
	z3, c := solver(t, "z3"), newAnswers()
	s := loadPaths(t, guesthouse).Site
	start := time.Now()
	rep, err := checker.Prove(context.Background(), s, checker.Options{NoFindings: true})
	if err != nil {
		t.Fatal(err)
	}
	c.spent("engine (of the clock on the wall)", time.Since(start))
	steps := 4_000_000
	if *solverHouse {
		steps *= 50
	}
	eachSeed(0, uint64(len(s.Requirements)), func(i uint64) {
		o := &rep.Outcomes[i]
		r, v := &s.Requirements[i], o.Verdict
		parts := horn.Parts(s, int(i))
		var said []string
		var spent time.Duration
		for _, q := range parts {
			qs := []horn.Question{q}
			if !bad(v) {
				qs = append(q.Guesses(s), q)
			}
			said = append(said, askFirst(z3, s, qs, steps, &spent))
		}
		all := together(said)
		if all == "unknown" && bad(v) {
			all = askRun(z3, s, o, steps, &spent)
		}
		c.spent("z3 (of a processor)", spent)
		switch {
		case fits(v, all):
			c.add("requirement confirmed")
		case all == "a requirement of energy is not covered":
			c.add("requirement not covered")
		case all == "unknown":
			c.add("requirement unknown to z3")
			t.Logf("%s: %v", r.Name, said)
		default:
			t.Errorf("%s: %v, but z3 says %s", r.Name, v, all)
		}
	})
	c.log(t)
	t.Logf("of %d requirements", len(s.Requirements))
	if n := c.count["requirement confirmed"]; n < houseConfirmed {
		t.Errorf("only %d requirements of the guest house are confirmed, want %d", n, houseConfirmed)
	}
}

// houseConfirmed is how many requirements of the guest house z3 confirms in the quick test, at least.
const houseConfirmed = 36
