// A bound on the memory and the time of a piece of a test, really asserted.

package checker_test

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync/atomic"
	"testing"
	"time"
)

// liveHeap is the memory of what the last collection found alive, in bytes.
func liveHeap() int64 {
	sample := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(sample)
	return int64(sample[0].Value.Uint64())
}

// peakWhile runs f and gives the most that was alive on the heap meanwhile. The collector is told to keep the process below
// half the bound, so that it looks again and again where more than that is held.
func peakWhile(bound int64, f func()) int64 {
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(bound / 2))
	var peak atomic.Int64
	look := func() { peak.Store(max(peak.Load(), liveHeap())) }
	done, looked := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(looked)
		for tick := time.NewTicker(time.Millisecond); ; {
			select {
			case <-tick.C:
				look()
			case <-done:
				tick.Stop()
				return
			}
		}
	}()
	f()
	close(done)
	<-looked
	look()
	return peak.Load()
}

// within runs f and fails if the heap grows past the bound, or stops the test with all stacks if f takes longer than d.
func within(t testing.TB, bound int64, d time.Duration, what string, f func()) {
	t.Helper()
	watch := time.AfterFunc(d, func() {
		debug.SetTraceback("all")
		panic(fmt.Sprintf("it took more than %v with\n%s", d, what))
	})
	defer watch.Stop()
	if peak := peakWhile(bound, f); peak > bound {
		t.Errorf("the heap grew to %d MB, bound %d MB, with\n%s", peak>>20, bound>>20, what)
	}
}

// TestPeakIsSeen: the measure sees what is live, and not what has been garbage for long.
func TestPeakIsSeen(t *testing.T) {
	const mb = 1 << 20
	runtime.GC()
	base := liveHeap()
	bound := base + 64*mb
	var kept [][]byte
	live := peakWhile(bound, func() {
		for range 96 {
			kept = append(kept, make([]byte, mb))
		}
	})
	runtime.KeepAlive(kept)
	kept = nil
	runtime.GC()
	garbage := peakWhile(bound, func() {
		for range 4000 {
			kept = [][]byte{make([]byte, mb)}
		}
	})
	if live <= bound || garbage > base+1000*mb { // a collection counts what is made during it
		t.Errorf("96 MB live show as %d MB; 1 MB live with 4000 MB of garbage shows as %d MB", (live-base)/mb, (garbage-base)/mb)
	}
}
