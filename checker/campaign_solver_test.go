// Campaign: a solver's opinion on a few of the sites.

package checker_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"strings"
	"time"

	"lampwarden/checker"
	"lampwarden/checker/horn"
)

// solverTime is what the solver has for one requirement.
const solverTime = 3 * time.Second

// solve asks z3, if it is there, for each verdict whether the requirement holds.
func (c *comparison) solve() {
	z3, err := exec.LookPath("z3")
	if err != nil {
		c.count["solver: not installed"]++
		return
	}
	for i := range c.report.Outcomes {
		o := &c.report.Outcomes[i]
		if o.Verdict == checker.Undecided {
			continue
		}
		r := &c.site.Requirements[o.Requirement]
		kind := fmt.Sprintf("solver on form %d", r.Form)
		var script bytes.Buffer
		var beyond *horn.BeyondError
		if err := horn.Write(&script, c.site, o.Requirement); errors.As(err, &beyond) {
			c.count["solver: beyond the encoding"]++
			continue
		} else if err != nil {
			c.disagree(kind, "%s: %v", r.Name, err)
			continue
		}
		holds := o.Verdict == checker.Proved || o.Verdict == checker.Vacuous || o.Verdict == checker.Impossible
		switch said := answerOf(z3, &script); {
		case said == "sat" || said == "unsat":
			c.count["solver: "+said]++
			if holds != (said == "sat") {
				c.disagree(kind, "%s: engine %v, solver %s", r.Name, o.Verdict, said)
			}
		case said == "unknown" || said == "timeout" || said == "":
			c.count["solver: no answer in time"]++
		default:
			c.disagree(kind, "%s: the solver says %s", r.Name, said)
		}
	}
}

// answerOf gives the first line that the solver says of a script, "" if it is stopped before.
func answerOf(z3 string, script *bytes.Buffer) string {
	ctx, cancel := context.WithTimeout(context.Background(), 10*solverTime) // it counts its own time, but on a busy machine that is long
	defer cancel()
	cmd := exec.CommandContext(ctx, z3, fmt.Sprintf("-T:%d", int(solverTime.Seconds())), "-in")
	cmd.Stdin = script
	out, _ := cmd.Output() // the exit status says no more than the line
	line, _, _ := strings.Cut(string(out), "\n")
	return strings.TrimSpace(line)
}
