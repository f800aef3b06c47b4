// Campaign: what is counted.

package checker_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"lampwarden/checker/internal/sitegen"
)

// tally counts what came of the sites.
type tally struct {
	start      time.Time
	sites      int
	count      map[string]int // of verdicts, comparisons and so on
	kinds      map[string]int // sites of each kind
	spent      map[string]time.Duration
	constructs map[string]int // sites that have the construct
	wrong      int            // sites with a disagreement
	slowest    time.Duration
	slowSeed   uint64
}

func newTally() tally {
	return tally{start: time.Now(), count: map[string]int{}, kinds: map[string]int{}, spent: map[string]time.Duration{},
		constructs: map[string]int{}}
}

func (t *tally) add(x sample, c *comparison, spent time.Duration) {
	t.sites++
	t.kinds[x.kind]++
	t.spent[x.kind] += spent
	if spent > t.slowest {
		t.slowest, t.slowSeed = spent, x.seed
	}
	for k, n := range c.count {
		t.count[k] += n
	}
	for _, name := range sitegen.Constructs(c.site) {
		t.constructs[name]++
	}
	if len(c.wrong) > 0 {
		t.wrong++
	}
}

// line tells how far it is.
func (t *tally) line(quarrels int) string {
	d := time.Since(t.start)
	return fmt.Sprintf("%s: %d sites (%.1f/s), %d proved, %d fail, %d findings, %d rehearsals, %d solver answers, %d undecided, %d too big, %d disagreements",
		d.Round(time.Second), t.sites, float64(t.sites)/d.Seconds(), t.count["proved"], t.count["fails"], t.count["findings"],
		t.count["rehearsals"], t.count["solver: sat"]+t.count["solver: unsat"], t.count["undecided by the engine"],
		t.count["too big for the oracle"]+t.count["findings too big for the oracle"], quarrels)
}

// text is the whole of the counts.
func (t *tally) text() string {
	var b strings.Builder
	d := time.Since(t.start)
	fmt.Fprintf(&b, "%d sites in %s, %.1f/s; the slowest is seed %d with %s\n", t.sites, d.Round(time.Second), float64(t.sites)/d.Seconds(),
		t.slowSeed, t.slowest.Round(time.Millisecond))
	for _, k := range kinds {
		if n := t.kinds[k.name]; n > 0 {
			fmt.Fprintf(&b, "%8d sites %s, %s each\n", n, k.name, (t.spent[k.name] / time.Duration(n)).Round(time.Millisecond/10))
		}
	}
	for _, k := range slices.Sorted(maps.Keys(t.count)) {
		fmt.Fprintf(&b, "%8d %s\n", t.count[k], k)
	}
	if rare, n := t.rarest(); rare != "" {
		fmt.Fprintf(&b, "%8d constructs of the language came up, of %d; the rarest, %s, in %d sites\n", t.seen(), len(sitegen.AllConstructs()), rare, n)
	}
	fmt.Fprintf(&b, "%8d sites with a disagreement\n", t.wrong)
	return b.String()
}

func (t *tally) seen() (n int) {
	for _, name := range sitegen.AllConstructs() {
		if t.constructs[name] > 0 {
			n++
		}
	}
	return n
}

// rarest gives the construct that the fewest sites have.
func (t *tally) rarest() (name string, n int) {
	for _, x := range sitegen.AllConstructs() {
		if name == "" || t.constructs[x] < n {
			name, n = x, t.constructs[x]
		}
	}
	return name, n
}

// enough checks that the comparisons mean something: verdicts of each kind, few that nobody could decide and, in a long
// campaign, every construct.
func (t *tally) enough(tt *testing.T) {
	if t.sites < sliceOfCampaign {
		return
	}
	good := t.count["proved"] + t.count["vacuous"] + t.count["impossible"] + t.count["ways back: proved"]
	bad := t.count["fails"] + t.count["possible"] + t.count["ways back: fails"]
	open := t.count["undecided by the engine"] + t.count["too big for the oracle"] + t.count["stopped by the time limit"]
	if good < t.sites/4 || bad < t.sites/4 || open > (good+bad)/5 || t.count["rehearsals"] < t.sites || t.count["findings"] == 0 {
		tt.Errorf("too little is compared: %d hold, %d fail, %d open", good, bad, open)
	}
	if t.sites < 5000 {
		return
	}
	for _, name := range sitegen.AllConstructs() {
		if t.constructs[name] == 0 {
			tt.Errorf("no site had %s", name)
		}
	}
}
