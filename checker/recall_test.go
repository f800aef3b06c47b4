package checker_test

import (
	"context"
	"encoding/json"
	"strings"
	"sync"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/internal/sitegen"

	"github.com/google/go-cmp/cmp"
)

// memory is a cache in memory that counts.
type memory struct {
	sync.Mutex
	kept      map[string][]byte
	hit, miss int
}

func (m *memory) Get(form string) ([]byte, bool) {
	m.Lock()
	defer m.Unlock()
	b, ok := m.kept[form]
	if ok {
		m.hit++
	} else {
		m.miss++
	}
	return b, ok
}

func (m *memory) Put(form string, answer []byte) {
	m.Lock()
	defer m.Unlock()
	m.kept[form] = answer
}

// TestRecalledAnswersAreTheSame: on random sites the second run gives the same verdicts and counterexamples, step by step.
func TestRecalledAnswersAreTheSame(t *testing.T) {
	c := &memory{kept: map[string][]byte{}}
	for seed := range uint64(25) {
		s := sitegen.Generate(seed, sitegen.Everything())
		var told [2]string
		for i := range told {
			rep, err := checker.Prove(context.Background(), s, checker.Options{Limits: bounds, Workers: 1, Cache: c})
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			for k := range rep.Outcomes {
				rep.Outcomes[k].Stats = checker.Stats{}
			}
			b, err := json.Marshal([]any{rep.Outcomes, rep.Findings})
			if err != nil {
				t.Fatal(err)
			}
			told[i] = string(b)
		}
		if diff := cmp.Diff(told[0], told[1]); diff != "" {
			t.Errorf("seed %d: %s\n%s", seed, diff, sitegen.Print(s))
		}
	}
	if c.hit < 80 {
		t.Errorf("only %d answers were recalled", c.hit)
	}
}

// TestAnEditAsksOnlyWhatItTouches: after one mode of one room is changed, the other rooms' answers stand.
func TestAnEditAsksOnlyWhatItTouches(t *testing.T) {
	const room = `
area NAME
circuit lamp_NAME in NAME { dims 1 % to 100 % }
presence sensor_NAME in NAME
mode work_NAME {
    while presence in NAME, off delay 10 min
    lamp_NAME 80 %
}
require "lit NAME" {
    whenever presence in NAME then within 1 s lamp_NAME above 50 % until not presence in NAME
}
`
	text := "site \"Two rooms\"\n" + strings.ReplaceAll(room, "NAME", "north") +
		strings.ReplaceAll(strings.ReplaceAll(room, "NAME", "south"), "10 min", "20 min")
	c := &memory{kept: map[string][]byte{}}
	run := func(text string) {
		t.Helper()
		c.hit, c.miss = 0, 0
		if _, err := checker.Prove(context.Background(), load(t, text), checker.Options{Cache: c, NoFindings: true}); err != nil {
			t.Fatal(err)
		}
	}
	run(text)
	run(text)
	if c.hit == 0 || c.miss != 0 {
		t.Errorf("again: %d recalled, %d asked", c.hit, c.miss)
	}
	all := c.hit
	run(strings.Replace(text, "off delay 20 min", "off delay 25 min", 1))
	if c.hit == 0 || c.miss == 0 || c.hit+c.miss != all {
		t.Errorf("after an edit of one room: %d recalled, %d asked of %d", c.hit, c.miss, all)
	}
}
