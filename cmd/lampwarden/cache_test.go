package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestAnswersAreKept: the second run of a proof searches nothing, says the same, and believes no damaged answer.
func TestAnswersAreKept(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	site := filepath.Join("..", "..", "examples", "flat")
	prove := func(args ...string) (out, messages string) {
		t.Helper()
		code, out, messages := execute(t, append([]string{"prove", site}, args...)...)
		if code != exitProved {
			t.Fatalf("status %d: %s", code, messages)
		}
		return out, messages
	}
	recalled := regexp.MustCompile(`Searches\s+answered\s+from\s+an\s+earlier\s+run:\s+\d+`)
	first, _ := prove()
	if out, _ := prove("--stats"); !recalled.MatchString(out) {
		t.Errorf("nothing was recalled:\n%s", out)
	}
	if out, _ := prove("--stats", "--no-cache"); recalled.MatchString(out) {
		t.Errorf("recalled though it must not:\n%s", out)
	}
	if second, _ := prove(); second != first {
		t.Errorf("the second run says\n%s\nand the first said\n%s", second, first)
	}
	files, err := filepath.Glob(filepath.Join(os.Getenv("XDG_CACHE_HOME"), "lampwarden", "*.answer"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no answers were kept (%v)", err)
	}
	for _, f := range files {
		if err := os.WriteFile(f, []byte("safe, believe me"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	out, messages := prove()
	if out != first || !strings.Contains(messages, "damaged and not used") {
		t.Errorf("with damaged answers:\n%s\n%s", out, messages)
	}
	if _, messages := prove(); messages != "" {
		t.Errorf("damaged answers were not replaced: %s", messages)
	}
}
