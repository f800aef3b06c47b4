// The limit of memory against what the heap really holds.

package explore_test

import (
	"context"
	"runtime"
	"testing"

	"lampwarden/checker/explore"
	"lampwarden/checker/zone"
)

// weighed is a model that looks at the live heap every so many expansions.
type weighed struct {
	explore.Model
	every, n int
	peak     int64
}

func liveHeap() int64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

func (w *weighed) Successors(key []byte, z *zone.DBM, yield func(explore.Succ) bool) {
	if w.n++; w.n%w.every == 0 {
		w.peak = max(w.peak, liveHeap())
	}
	w.Model.Successors(key, z, yield)
}

// TestMemoryLimitIsTrue: a search that stops at its limit of memory has not held more on the heap than a tenth above it, and
// its own figure is what the heap shows.
func TestMemoryLimitIsTrue(t *testing.T) {
	for _, c := range []struct {
		name  string
		model explore.Model
		cover explore.Cover
		limit int64
	}{
		{"fischer", fischer(9, 10, ">", 10), explore.ExtraLU, 12 << 20},
		{"fischer ALU", fischer(9, 10, ">", 10), explore.ALU, 12 << 20},
		{"timers", timers(4), explore.ExtraLU, 4 << 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			limit, base := c.limit, liveHeap()
			w := &weighed{Model: c.model, every: 300}
			r := explore.Run(context.Background(), w, explore.Options{MaxBytes: limit, Cover: c.cover})
			if r.Status != explore.LimitMemory {
				t.Fatalf("%v after %d zones, %d bytes", r.Status, r.Stats.Stored, r.Stats.Bytes)
			}
			live := w.peak - base
			t.Logf("limit %d kB, own figure %d kB, live heap %d kB, %d zones", limit>>10, r.Stats.Bytes>>10, live>>10, r.Stats.Stored)
			if live > limit+limit/10 {
				t.Errorf("the heap held %d kB with a limit of %d kB", live>>10, limit>>10)
			}
			if r.Stats.Bytes > limit+limit/10 {
				t.Errorf("%d kB by its own figure with a limit of %d kB", r.Stats.Bytes>>10, limit>>10)
			}
			if live < limit*6/10 {
				t.Errorf("the heap held %d kB when the limit of %d kB was said to be reached", live>>10, limit>>10)
			}
		})
	}
}
