// Files that are written: whole or not at all, whatever goes wrong. Results that nobody gets.

package main

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
)

// content is what a folder holds: the text of each file by name.
func content(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		text, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			text = []byte(err.Error())
		}
		out[e.Name()] = string(text)
	}
	return out
}

func TestWriteWhole(t *testing.T) {
	full := errors.New("full")
	for _, c := range []struct {
		name string
		fill func(io.Writer) error
		want string
	}{
		{"well", func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }, "new"},
		{"nothing to write", func(io.Writer) error { return nil }, ""},
		{"an error at once", func(io.Writer) error { return full }, "old"},
		{"an error in the middle", func(w io.Writer) error { _, _ = io.WriteString(w, "ne"); return full }, "old"},
		{"a file that is closed too early", func(w io.Writer) error { _, _ = io.WriteString(w, "ne"); return w.(*os.File).Close() }, "old"},
	} {
		t.Run(c.name, func(t *testing.T) {
			name := filepath.Join(t.TempDir(), "x.lamp")
			if err := os.WriteFile(name, []byte("old"), 0o640); err != nil {
				t.Fatal(err)
			}
			if err := writeWhole(name, nil, c.fill); (err == nil) != (c.want != "old") {
				t.Error(err)
			}
			if got := content(t, filepath.Dir(name)); len(got) != 1 || got["x.lamp"] != c.want {
				t.Errorf("the folder has %q", got)
			}
		})
	}
	if err := writeWhole(filepath.Join(t.TempDir(), "none", "x"), nil, func(io.Writer) error { return nil }); !errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
}

// A link stays a link, permissions stay; what is not as it was read is left alone.
func TestReplace(t *testing.T) {
	for _, c := range []struct {
		name, old, text string
		prepare         func(file, link string) error
		want, says      string
	}{
		{"well", "old", "newer", nil, "newer", ""},
		{"already so", "new", "old", nil, "old", ""},
		{"changed meanwhile", "was", "new", nil, "old", "changed by something else"},
		{"longer meanwhile", "ol", "ne", nil, "old", "changed by something else"},
		{"gone meanwhile", "old", "new", func(file, _ string) error { return os.Remove(file) }, "", "no such file"},
		{"links in a ring", "old", "new", func(file, link string) error {
			return errors.Join(os.Remove(file), os.Symlink(link, file))
		}, "", "too many"},
	} {
		t.Run(c.name, func(t *testing.T) {
			file, folder := filepath.Join(t.TempDir(), "x.lamp"), t.TempDir()
			link := filepath.Join(folder, "link.lamp")
			if err := errors.Join(os.WriteFile(file, []byte("old"), 0o600), os.Chmod(file, 0o604), os.Symlink(file, link)); err != nil {
				t.Fatal(err)
			}
			if c.prepare != nil {
				if err := c.prepare(file, link); err != nil {
					t.Fatal(err)
				}
			}
			err := replace(link, c.old, c.text)
			if (err != nil) != (c.says != "") || err != nil && !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v, want %q", err, c.says)
			}
			if to, err := os.Readlink(link); err != nil || to != file {
				t.Errorf("the link leads to %q, %v", to, err)
			}
			if c.want == "" {
				return
			}
			if got := content(t, filepath.Dir(file)); len(got) != 1 || got["x.lamp"] != c.want {
				t.Errorf("the folder has %q", got)
			}
			if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o604 {
				t.Errorf("%v, %v", info.Mode(), err)
			}
		})
	}
}

// A write-protected file is not replaced behind the back of whoever protected it.
func TestReplaceProtected(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("root may write everything")
	}
	name := file(t, "site   \"x\"\n")
	if err := os.Chmod(name, 0o400); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := lampwarden(t.Context(), "format", "--write", name)
	if code != exitOutput || stdout != "" || !strings.Contains(stderr, "permission denied") {
		t.Errorf("exit status %d, %q, %q", code, stdout, stderr)
	}
}

// ugly is a long text that format would change.
func ugly() string { return "site   \"x\"\n" + strings.Repeat("#"+strings.Repeat("x", 70)+"\n", 1500) }

// On a full disk no file is lost, nothing is left behind, and the exit status says so.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=256k"); err != nil {
		t.Skip("a small disk cannot be mounted here:", err)
	}
	defer syscall.Unmount(dir, syscall.MNT_DETACH)
	site := filepath.Join(dir, "a.lamp")
	text := ugly()
	if err := os.WriteFile(site, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	filler, err := os.Create(filepath.Join(dir, "filler"))
	if err != nil {
		t.Fatal(err)
	}
	for _, err := filler.Write(make([]byte, 4096)); err == nil; {
		_, err = filler.Write(make([]byte, 4096))
	}
	filler.Close()
	code, stdout, stderr := execute(t, "format", "--write", site)
	if code != exitOutput || stdout != "" || !strings.Contains(stderr, "no space left on device") {
		t.Errorf("format: exit status %d, %q, %q", code, stdout, stderr)
	}
	good := file(t, small)
	code, _, stderr = execute(t, "prove", "--no-cache", good, "--certificate", filepath.Join(dir, "proofs"))
	if code != exitOutput && code != exitInput || !strings.Contains(stderr, "no space left on device") {
		t.Errorf("prove: exit status %d, %q", code, stderr)
	}
	if err := os.Truncate(filepath.Join(dir, "filler"), 0); err != nil {
		t.Fatal(err)
	}
	got := content(t, dir)
	delete(got, "filler")
	delete(got, "proofs") // a folder
	if len(got) != 1 || got["a.lamp"] != text {
		t.Errorf("the disk has %d files, the site is whole: %v", len(got), got["a.lamp"] == text)
	}
	if proofs, err := os.ReadDir(filepath.Join(dir, "proofs")); err == nil && slices.ContainsFunc(proofs, func(e fs.DirEntry) bool { return strings.HasPrefix(e.Name(), unfinished) }) {
		t.Errorf("half a certificate is left: %v", proofs)
	}
	if code, _, stderr := execute(t, "format", "--write", site); code != exitProved {
		t.Errorf("with room again: exit status %d, %q", code, stderr)
	}
}

// A result that cannot be written is no success, whatever it says.
func TestFullOutput(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip(err)
	}
	defer full.Close()
	good, bad := file(t, small), file(t, failing)
	for _, args := range [][]string{
		{"prove", good}, {"prove", bad, "--output", "json"}, {"prove", good, "--limit-states", "1", "--no-cache"}, {"rehearse", bad, "well"}, {"format", good},
		{"format", "--check", file(t, "site   \"x\"\n")}, {"lexicon", "mode"}, {"lexicon"}, {"--help"}, {"prove", "--help"}, {"--version"},
	} {
		cmd := command(t, args...)
		var messages bytes.Buffer
		cmd.Stdout, cmd.Stderr = full, &messages
		_ = cmd.Run()
		if code := cmd.ProcessState.ExitCode(); code != exitOutput || messages.String() != "lampwarden: the result could not be written: no space left on device\n" {
			t.Errorf("%v: exit status %d, %q", args, code, messages.String())
		}
	}
	cmd := command(t, "prove", file(t, "site \"x\"\nmode {\n"))
	cmd.Stderr = full
	if _ = cmd.Run(); cmd.ProcessState.ExitCode() != exitOutput {
		t.Errorf("messages that cannot be written: %v", cmd.ProcessState)
	}
}

// Files are never seen half written: proofs that run while a file is laid out again and again read it as one or the other.
func TestReadWhileWritten(t *testing.T) {
	path := file(t, small)
	pretty, code := "", 0
	if code, pretty, _ = lampwarden(t.Context(), "format", path); code != exitProved {
		t.Fatal(code)
	}
	flat := strings.ReplaceAll(small, " in hall", "   in   hall")
	if err := os.WriteFile(path, []byte(flat), 0o644); err != nil {
		t.Fatal(err)
	}
	var writer, readers sync.WaitGroup
	stop := make(chan struct{})
	writer.Go(func() {
		texts := []string{flat, pretty}
		for i := 0; ; i++ {
			select {
			case <-stop:
				return
			default:
			}
			if err := replace(path, texts[i%2], texts[(i+1)%2]); err != nil {
				t.Error(err)
				return
			}
		}
	})
	for range 4 {
		readers.Go(func() {
			for range 10 {
				if code, _, stderr := lampwarden(t.Context(), "prove", "--no-cache", "--quiet", path); code != exitProved {
					t.Errorf("exit status %d, %q", code, stderr)
				}
			}
		})
	}
	readers.Wait()
	close(stop)
	writer.Wait()
	if got := content(t, filepath.Dir(path)); len(got) != 1 {
		t.Errorf("the folder has %d files", len(got))
	}
}
