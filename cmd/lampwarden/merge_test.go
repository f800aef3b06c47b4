package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestPartsMakeTheWhole: the merged report of three parts is the single run's, byte for byte, for a site that holds and one
// that fails; each part answers something.
func TestPartsMakeTheWhole(t *testing.T) {
	for _, c := range []struct {
		name, path string
		args       []string
	}{
		{"flat", "../../examples/flat", nil},
		{"hut without a failure level", "../../testdata/hut-defects/02", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := c.path
			if found, _ := filepath.Glob(c.path + "*"); len(found) > 0 {
				path = found[0]
			}
			code, want, _ := execute(t, append([]string{"prove", path, "--no-cache", "--output", "json"}, c.args...)...)
			dir := t.TempDir()
			merge := []string{"merge", path, "--output", "json"}
			answers := make([]int, 3)
			for k := range answers {
				folder := filepath.Join(dir, string(rune('a'+k)))
				part := append([]string{"prove", path, "--part", string(rune('1'+k)) + "/3", "--answers", folder}, c.args...)
				if status, _, messages := execute(t, part...); status != exitProved {
					t.Fatalf("part %d: status %d: %s", k+1, status, messages)
				}
				files, err := filepath.Glob(filepath.Join(folder, "*.answer"))
				if err != nil {
					t.Fatal(err)
				}
				answers[k] = len(files)
				merge = append(merge, "--answers", folder)
			}
			merged, got, messages := execute(t, merge...)
			if got != want || merged != code {
				t.Errorf("merged: status %d, %s\n%s\nsingle: status %d\n%s", merged, messages, got, code, want)
			}
			for k, n := range answers {
				if n == 0 {
					t.Errorf("part %d answered nothing: %v", k+1, answers)
				}
			}
			status, _, messages := execute(t, merge[:len(merge)-2]...)
			if status != exitInput || !strings.Contains(messages, "3/3 missing") {
				t.Errorf("without a part: status %d, %s", status, messages)
			}
		})
	}
}

func TestPartsOfAnotherSite(t *testing.T) {
	dir := t.TempDir()
	site := filepath.Join(dir, "site.lamp")
	if err := os.WriteFile(site, []byte(small), 0o600); err != nil {
		t.Fatal(err)
	}
	one := filepath.Join(dir, "one")
	if status, _, messages := execute(t, "prove", site, "--part", "1/1", "--answers", one); status != exitProved {
		t.Fatalf("status %d: %s", status, messages)
	}
	other := edit("site \"", "site \"Another ")
	if err := os.WriteFile(site, []byte(other), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"merge", site, "--answers", one}, "another site"},
		{[]string{"merge", site}, "needs --answers"},
		{[]string{"merge", site, "--answers", dir}, "no part of a proof"},
		{[]string{"prove", site, "--part", "1/1"}, "needs --answers"},
		{[]string{"prove", site, "--part", "4/3", "--answers", one}, "such as 3/8"},
	} {
		if status, _, messages := execute(t, c.args...); status != exitInput || !strings.Contains(messages, c.want) {
			t.Errorf("%v: status %d, %s", c.args, status, messages)
		}
	}
}
