// Campaign: one site in all hands.

package checker_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"runtime/debug"
	"strings"
	"time"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
)

const (
	campaignPatience = 60 * time.Second // for one site; what is open then is counted, not compared
	rehearsals       = 2                // random runs of each site
	rehearsedEvents  = 12               // of each run
)

// lookAt decides a site as the sample says. A panic is a disagreement like any other.
func (run *campaign) lookAt(x sample, s *site.Site) (c *comparison) {
	ctx, cancel := context.WithTimeout(context.Background(), campaignPatience)
	defer cancel()
	c = newComparison(s)
	c.ctx, c.prove, c.limits, c.states = ctx, run.prove, checker.Limits{States: x.states}, x.states*3/2
	defer func() {
		if r := recover(); r != nil {
			c.disagree(fmt.Sprintf("panic %v", r), "%s", debug.Stack())
		}
	}()
	c.run(x.findings)
	if c.report == nil {
		return c
	}
	c.replay()
	c.rehearse(x.seed)
	if x.solver {
		c.solve()
	}
	return c
}

// replay plays every run that the engine shows once more.
func (c *comparison) replay() {
	for i := range c.report.Outcomes {
		o := &c.report.Outcomes[i]
		if o.Counterexample == nil {
			continue
		}
		r := &c.site.Requirements[o.Requirement]
		kind := fmt.Sprintf("replay of form %d", r.Form)
		j, err := c.judge(o.Counterexample, r)
		switch {
		case err != nil:
			c.disagree(kind, "%s is %v: %v", r.Name, o.Verdict, err)
		case r.Form == site.CanReturn: // no single run decides it
		case o.Verdict == checker.Fails && !j.Broken || o.Verdict == checker.IsPossible && !j.Witness:
			c.disagree(kind, "%s is %v, but its run shows %+v", r.Name, o.Verdict, j)
		}
		c.count["runs replayed"]++
	}
	for _, f := range c.report.Findings {
		if f.Counterexample == nil {
			continue
		}
		if _, err := c.judge(f.Counterexample, nil); err != nil {
			c.disagree("replay of finding "+f.Code, "%s: %v", f.Message, err)
		}
		c.count["runs of findings replayed"]++
	}
}

// judge plays a run of the engine on the site as it is on the run's date.
func (c *comparison) judge(ce *trace.Counterexample, r *site.Requirement) (rehearse.Judgement, error) {
	s := c.site
	for i := range s.Dates {
		if s.Dates[i].Name == ce.Timeline.Site.Date {
			s = s.OnDate(i)
			break
		}
	}
	if len(s.Dates) > 0 {
		return rehearse.Judgement{}, errors.New("the run has no date of the site")
	}
	tl, err := rehearse.Run(s, ce.Script)
	if err != nil || r == nil {
		return rehearse.Judgement{}, err
	}
	return rehearse.Judge(s, tl, r)
}

// rehearse plays random runs, none of which may break what the engine has proved.
func (c *comparison) rehearse(seed uint64) {
	rng := rand.New(rand.NewPCG(seed, 7))
	for range rehearsals {
		s := c.site
		if n := len(s.Dates); n > 0 {
			s = s.OnDate(rng.IntN(n))
		}
		var which *site.Requirement // whose faults may strike
		if n := len(s.Requirements); n > 0 {
			which = &s.Requirements[rng.IntN(n)]
		}
		sc, err := rehearse.RandomScriptFor(s, which, rng, rehearsedEvents)
		if err != nil {
			c.disagree("rehearsal", "no script: %v", err)
			return
		}
		tl, err := rehearse.Run(s, sc)
		if err != nil {
			c.disagree("rehearsal", "a random script cannot be played: %v", err)
			return
		}
		c.count["rehearsals"]++
		c.judgeAll(s, tl)
	}
}

func (c *comparison) judgeAll(s *site.Site, tl *rehearse.Timeline) {
	for i := range c.report.Outcomes {
		o := &c.report.Outcomes[i]
		r := &s.Requirements[o.Requirement]
		j, err := rehearse.Judge(s, tl, r)
		if err != nil || o.Verdict == checker.Undecided || j.Branching {
			continue // more faults than it counts with; nothing to hold against it
		}
		c.count["rehearsed verdicts"]++
		if contradicts(o.Verdict, j) {
			c.disagree(fmt.Sprintf("rehearsal of form %d", r.Form), "%s is %v, but a random run shows %+v\n%s", r.Name, o.Verdict, j,
				scriptText(tl.Script))
		}
	}
}

// scriptText gives a run in a few lines.
func scriptText(sc rehearse.Script) string {
	var b strings.Builder
	fmt.Fprintf(&b, "start-up at %v with %v, jumps %v\n", sc.Start, sc.Initial, sc.Jumps)
	fmt.Fprintf(&b, "events %+v\nmoves %+v\nchoices %+v\nend %v", sc.Events, sc.Moves, sc.Choices, sc.End)
	return b.String()
}
