// The limit of time and the end of the context, measured by the work that is done after them.

package checker_test

import (
	"context"
	"fmt"
	"strings"
	"syscall"
	"testing"
	"time"

	"lampwarden/checker"
	"lampwarden/lang/site"
)

// processorTime is what the process has used of the processors so far. Unlike the time on the clock it does not hang on
// what else the machine does.
func processorTime(t testing.TB) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Skip(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// manyPieces has requirements that can be split into very many pieces, each of many conditions.
func manyPieces(t testing.TB) *site.Site {
	var decl, parts strings.Builder
	for i := range 400 {
		fmt.Fprintf(&decl, "switch s%d, t%d\n", i, i)
		if i < 10 {
			fmt.Fprintf(&parts, "(s%d or t%d) and ", i, i)
		} else {
			fmt.Fprintf(&parts, "s%d and ", i)
		}
	}
	text := "area hall circuit lamp in hall { dims }\n" + decl.String() + "mode m { while s0 or t0  lamp full }\n"
	for i := range 40 {
		text += fmt.Sprintf("require \"r%d\" { never %s lamp lit or %s lamp off }\n", i, parts.String(), parts.String())
	}
	return load(t, text)
}

// longStory fails by one long way only, on a site with much else to play.
func longStory(t testing.TB) *site.Site {
	var b, states strings.Builder
	b.WriteString("area hall circuit lamp in hall { dims } button key\n")
	for i := range 60 {
		fmt.Fprintf(&b, "circuit b%d in hall { dims fade 1 s } mode n%d { starts on tap key  for 5 min  b%d at %d %% }\n", i, i, i, i+1)
	}
	for i := range 250 {
		fmt.Fprintf(&states, ", q%d", i)
	}
	fmt.Fprintf(&b, "mode m { states %s  on tap key: q0", states.String()[2:])
	for i := 1; i < 250; i++ {
		fmt.Fprintf(&b, " -> q%d", i)
	}
	b.WriteString("  in q249: lamp full }\nrequire \"never full\" { never lamp at full }\n")
	return load(t, b.String())
}

// TestNothingIsDoneAfterTheEnd: once the time is over, or the run is cancelled, it ends with little more work: a tenth of the
// time allowed, on two processors.
func TestNothingIsDoneAfterTheEnd(t *testing.T) {
	const allowed = 600 * time.Millisecond
	for name, s := range map[string]*site.Site{
		"one hard question": wideSite(t, 16, true), "many pieces": manyPieces(t), "a long story": longStory(t),
		"an example": loadPaths(t, guesthouse).Site,
	} {
		for _, cancels := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s, cancelled %v", name, cancels), func(t *testing.T) {
				ctx, cancel := context.WithCancel(context.Background())
				defer cancel()
				opt := checker.Options{Workers: 2}
				after := make(chan time.Duration, 1)
				over := time.AfterFunc(allowed, func() {
					after <- processorTime(t)
					if cancels {
						cancel()
					}
				})
				if !cancels {
					opt.Limits.Time = allowed
				}
				start := time.Now()
				if _, err := checker.Prove(ctx, s, opt); err != nil {
					t.Fatal(err)
				}
				if over.Stop() {
					t.Logf("done after %v", time.Since(start))
					return
				}
				used := processorTime(t) - <-after
				t.Logf("%v of work after the end", used)
				if used > 2*allowed/10 {
					t.Errorf("%v of work after the end of %v", used, allowed)
				}
			})
		}
	}
}
