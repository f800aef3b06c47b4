// Loading sites for the tests.

package checker_test

import (
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"lampwarden/lang"
	"lampwarden/lang/site"
)

// load reads a site written in the test, which must be without errors.
func load(t testing.TB, text string) *site.Site {
	t.Helper()
	return loaded(t, lang.LoadText("test.lamp", text)).Site
}

// loadPaths reads site files.
func loadPaths(t testing.TB, paths ...string) *lang.Project {
	t.Helper()
	p, err := lang.Load(paths)
	if err != nil {
		t.Fatal(err)
	}
	return loaded(t, p)
}

func loaded(t testing.TB, p *lang.Project) *lang.Project {
	t.Helper()
	if p.Site == nil {
		var b strings.Builder
		_ = p.WriteDiagnostics(&b, false)
		t.Fatal(b.String())
	}
	return p
}

// eachSeed calls f with n seeds from the first on, on as many goroutines as there are processors.
func eachSeed(first, n uint64, f func(seed uint64)) {
	var next atomic.Uint64
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for {
				i := next.Add(1) - 1
				if i >= n {
					return
				}
				f(first + i)
			}
		})
	}
	wg.Wait()
}
