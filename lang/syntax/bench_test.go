package syntax_test

// How fast files are read.

import (
	"os"
	"strings"
	"testing"
)

func BenchmarkParse(b *testing.B) {
	text, err := os.ReadFile("../../examples/guesthouse/guesthouse.lamp")
	if err != nil {
		b.Fatal(err)
	}
	big := strings.Repeat(string(text), 20)
	b.SetBytes(int64(len(big)))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, ds := parse("guesthouse.lamp", big); len(ds) > 0 {
			b.Fatal(len(ds), "diagnostics")
		}
	}
}
