// Paths of every kind: what cannot be read is told in one line, soon, and nothing else happens.

package main

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"
)

func TestOddPaths(t *testing.T) {
	for _, c := range []struct {
		name    string
		prepare func(dir string) (path string, err error)
		says    string
	}{
		{"a pipe in a folder", func(dir string) (string, error) {
			return dir, syscall.Mkfifo(filepath.Join(dir, "a.lamp"), 0o600)
		}, "a.lamp: it is no regular file"},
		{"links in a ring", func(dir string) (string, error) {
			a, b := filepath.Join(dir, "a.lamp"), filepath.Join(dir, "b.lamp")
			return a, errors.Join(os.Symlink(b, a), os.Symlink(a, b))
		}, "too many levels of symbolic links"},
		{"a folder with links in a ring", func(dir string) (string, error) {
			a, b := filepath.Join(dir, "a.lamp"), filepath.Join(dir, "b.lamp")
			return dir, errors.Join(os.Symlink(b, a), os.Symlink(a, b))
		}, "too many levels of symbolic links"},
		{"a link to nothing", func(dir string) (string, error) {
			return dir, os.Symlink("none", filepath.Join(dir, "a.lamp"))
		}, "no such file"},
		{"a folder that links to itself", func(dir string) (string, error) {
			return dir, os.Symlink(dir, filepath.Join(dir, "a.lamp"))
		}, "no site file"},
		{"a folder named like a file", func(dir string) (string, error) {
			return filepath.Join(dir, "a.lamp"), os.Mkdir(filepath.Join(dir, "a.lamp"), 0o700)
		}, "no site file"},
		{"a file without permission", func(dir string) (string, error) {
			if os.Geteuid() == 0 {
				return "", errors.ErrUnsupported
			}
			path := filepath.Join(dir, "a.lamp")
			return path, os.WriteFile(path, []byte(small), 0)
		}, "no permission to read it"},
		{"a terabyte of nothing", func(dir string) (string, error) {
			path := filepath.Join(dir, "a.lamp")
			return path, errors.Join(os.WriteFile(path, nil, 0o600), os.Truncate(path, 1<<40))
		}, "longer than the 4194304 bytes"},
		{"an endless device", func(string) (string, error) { return "/dev/zero", nil }, "longer than the 4194304 bytes"},
		{"a name with controls", func(dir string) (string, error) {
			return filepath.Join(dir, "a\x1b[2J\n\u202e'\"`$(id).lamp"), nil
		}, `\x1b[2J\x0a\u202e'"` + "`$(id).lamp"},
		{"a name that is not UTF-8", func(dir string) (string, error) { return filepath.Join(dir, "\xff\xfe.lamp"), nil }, `\xff\xfe.lamp`},
		{"a name that is too long", func(dir string) (string, error) { return filepath.Join(dir, strings.Repeat("x", 5000)), nil }, "file name too long"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path, err := c.prepare(t.TempDir())
			if err != nil {
				t.Skip(err)
			}
			for _, args := range [][]string{{"prove", path}, {"rehearse", path}, {"format", path}, {"format", "--write", path}} {
				code, stdout, stderr := lampwarden(t.Context(), args...)
				if code != exitInput || stdout != "" || !strings.Contains(stderr, c.says) || len(stderr) > 12_000 {
					t.Errorf("%s: exit status %d, stdout %.200q, stderr %.400q", args[0], code, stdout, stderr)
				}
				harmless(t, args[0], stderr)
			}
		})
	}
}

// A site whose file has a name of the worst kind is read, told of and rewritten like any other.
func TestOddNames(t *testing.T) {
	for _, name := range []string{"\x1b[31mred.lamp", "new\nline.lamp", "\u202etfel.lamp", "-.lamp", "--write.lamp", "$(id);`id`.lamp", "a'\"b.lamp", "\xff.lamp", "<script>.lamp"} {
		dir := t.TempDir()
		t.Chdir(dir)
		if err := os.WriteFile(name, []byte(strings.Replace(failing, "mode welcome { ", "mode welcome {   ", 1)), 0o600); err != nil {
			t.Skip(err)
		}
		for _, args := range [][]string{
			{"prove", "--no-cache", "--", name}, {"prove", "--no-cache", "--output", "json", "--", name}, {"prove", "--no-cache", dir},
			{"rehearse", "--", name}, {"format", "--check", "--", name}, {"format", "--write", "--", name},
		} {
			code, stdout, stderr := lampwarden(t.Context(), args...)
			if want := map[bool]int{false: exitFails, true: exitProved}[args[1] == "--write"]; code != want || stderr != "" {
				t.Errorf("%v: exit status %d, %q", args, code, stderr)
			}
			harmless(t, strings.Join(args, " "), stdout)
		}
		if got := content(t, dir); len(got) != 1 || strings.Contains(got[name], "{   ") {
			t.Errorf("%q: %q", name, got)
		}
	}
}

// Several runs on one file at a time do not disturb each other, also where they keep answers in one folder.
func TestRunsAtOnce(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	path := file(t, failing)
	_, want, _ := lampwarden(t.Context(), "prove", "--no-cache", path)
	var wg sync.WaitGroup
	for range 2 * runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for range 3 {
				if code, stdout, stderr := lampwarden(t.Context(), "prove", path); code != exitFails || stdout != want || stderr != "" {
					t.Errorf("exit status %d, %q\n%s", code, stderr, stdout)
				}
			}
		})
	}
	wg.Wait()
}
