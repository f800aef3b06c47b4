package confirm_test

import (
	"context"
	"os"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
	"time"

	"lampwarden/checker"
	"lampwarden/checker/confirm"
)

// BenchmarkConfirm proves the guest house, without findings, and confirms the certificates. The bar: confirming takes at most 3 times
// what proving does, in time of processors, so that it does not matter what else the machine does.
func BenchmarkConfirm(b *testing.B) {
	s := load(b, "", "../../examples/guesthouse")
	dir := b.TempDir()
	proofs, _ := prove(b, s, checker.Limits{})
	for i, p := range proofs {
		if err := os.WriteFile(filepath.Join(dir, strconv.Itoa(i)+".cert"), []byte(p.text), 0o644); err != nil {
			b.Fatal(err)
		}
	}
	var proving, confirming time.Duration
	for b.Loop() {
		begun := worked(b)
		if _, err := checker.Prove(context.Background(), s, checker.Options{NoFindings: true}); err != nil {
			b.Fatal(err)
		}
		proving += worked(b) - begun
		begun = worked(b)
		out, err := confirm.Folder(context.Background(), s, dir, confirm.Options{})
		if err != nil || len(out.Refused) > 0 || out.Accepted != len(proofs) {
			b.Fatalf("%v, %+v", err, out)
		}
		confirming += worked(b) - begun
	}
	b.ReportMetric(float64(proving.Milliseconds())/float64(b.N), "ms-proof")
	b.ReportMetric(float64(confirming.Milliseconds())/float64(b.N), "ms-confirm")
	b.ReportMetric(float64(confirming)/float64(proving), "times-the-proof")
}

// worked is the time that processors have worked for this program.
func worked(b *testing.B) time.Duration {
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		b.Fatal(err)
	}
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}
