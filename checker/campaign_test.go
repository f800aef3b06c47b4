// Brute force at scale: random sites of every construct of the language, the engine against all that can contradict it.
//
//	go test ./checker -run 'Campaign$' -campaign=1h -timeout 0 -v
//
// Each seed alone says which site it is, of which size, and how it is looked at; so a seed that disagrees does so again
// with -campaign-first=SEED -campaign-sites=1. Without the flags a slice of a few seconds runs, so that the code
// stays alive. Ctrl-C ends a campaign with its counts.

package checker_test

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"lampwarden/checker"
)

var (
	campaignFor   = flag.Duration("campaign", 0, "how long the campaign of random sites lasts")
	campaignFirst = flag.Uint64("campaign-first", 0, "seed of its first site")
	campaignSites = flag.Uint64("campaign-sites", 0, "it ends after so many sites")
	campaignDir   = flag.String("campaign-dir", "testdata/campaign", "where sites on which two checkers disagree are written")
	campaignTalk  = flag.Duration("campaign-progress", 2*time.Minute, "time between two lines that tell how far it is")
)

// sliceOfCampaign is the number of sites where no campaign is asked for.
const sliceOfCampaign = 120

// TestCampaign runs until its time is over, its sites are done, or it is interrupted.
func TestCampaign(t *testing.T) {
	c := &campaign{first: *campaignFirst, sites: *campaignSites, dir: *campaignDir, talk: *campaignTalk, workers: runtime.GOMAXPROCS(0),
		prove: checker.Prove, most: 30, out: os.Stdout}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	end := time.Now().Add(*campaignFor)
	if last, ok := t.Deadline(); ok && *campaignFor > 0 && last.Add(-time.Minute).Before(end) {
		end = last.Add(-time.Minute)
		t.Logf("the time limit of the test (-timeout) ends the campaign at %s", end.Format(time.TimeOnly))
	}
	switch {
	case *campaignFor > 0:
		var cancel context.CancelFunc
		ctx, cancel = context.WithDeadline(ctx, end)
		defer cancel()
	case c.sites == 0:
		c.sites, c.talk = sliceOfCampaign, 0
	}
	total := c.run(ctx)
	fmt.Print(total.text())
	for _, d := range c.found() {
		t.Errorf("%s", d)
	}
	total.enough(t)
}

// campaign is one run over seeds.
type campaign struct {
	first, sites uint64 // sites 0: no end
	dir          string
	talk         time.Duration // 0: no lines on the way
	workers      int
	prove        prover // the engine
	most         int    // it ends after so many disagreements
	out          io.Writer

	mu       sync.Mutex
	total    tally
	quarrels []quarrel
}

// run looks at one seed after the other until ctx ends. The sites at work then are still finished.
func (c *campaign) run(ctx context.Context) *tally {
	c.total = newTally()
	var next atomic.Uint64
	var workers sync.WaitGroup
	for range c.workers {
		workers.Go(func() {
			for ctx.Err() == nil && !c.over() {
				i := next.Add(1) - 1
				if c.sites > 0 && i >= c.sites {
					return
				}
				c.look(c.first + i)
			}
		})
	}
	done, silent := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(silent)
		c.tellProgress(done)
	}()
	workers.Wait()
	close(done)
	<-silent
	return &c.total
}

// over tells whether there are disagreements enough.
func (c *campaign) over() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.quarrels) >= c.most
}

// tellProgress prints a line now and then.
func (c *campaign) tellProgress(done <-chan struct{}) {
	if c.talk <= 0 {
		return
	}
	for tick := time.NewTicker(c.talk); ; {
		select {
		case <-done:
			tick.Stop()
			return
		case <-tick.C:
			c.mu.Lock()
			line := c.total.line(len(c.quarrels))
			c.mu.Unlock()
			fmt.Fprintln(c.out, line)
		}
	}
}

// look decides one site in all hands and keeps what came of it.
func (c *campaign) look(seed uint64) {
	sample := sampleOf(seed)
	start := time.Now()
	got := c.lookAt(sample, sample.site())
	spent := time.Since(start)
	var q *quarrel
	if len(got.wrong) > 0 {
		q = c.settle(sample, got.wrong[0])
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.total.add(sample, got, spent)
	if q != nil {
		c.quarrels = append(c.quarrels, *q)
		fmt.Fprintln(c.out, q)
	}
}
