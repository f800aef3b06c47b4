// Writing files whole or not at all.

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
)

// unfinished is how the names of files begin that are being written. One is left behind only if the program is killed
// meanwhile; it may be taken away.
const unfinished = ".lampwarden-"

// writeWhole writes a file whole or not at all: what fill gives goes to a new file in the same folder, which takes the name when it is
// safely on the disk. A file of that name is replaced; with permissions of nil the new one gets those that new files get, else these. If
// anything goes wrong, a full disk say, the old file stays as it was, and nothing is left behind.
func writeWhole(name string, permissions *os.FileMode, fill func(io.Writer) error) (err error) {
	first := os.FileMode(0o666)
	if permissions != nil {
		first = *permissions
	}
	beside := filepath.Join(filepath.Dir(name), unfinished+strconv.FormatUint(rand.Uint64(), 10))
	tmp, err := os.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, first)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			tmp.Close() // again, if closing it was what failed
			os.Remove(tmp.Name())
		}
	}()
	if err = fill(tmp); err != nil {
		return err
	}
	if permissions != nil {
		if err = tmp.Chmod(*permissions); err != nil {
			return err
		}
	}
	if err = tmp.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	if err = tmp.Close(); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), name)
}

// replace puts a new text in the place of an old one that was read from the file. Links are followed, so that they stay links, and the file's
// permissions stay. A file that is no longer as it was read, or that may not be written, is left alone.
func replace(name, old, text string) error {
	name, err := filepath.EvalSymlinks(name)
	if err != nil {
		return err
	}
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() {
		return fmt.Errorf("%s: it is no regular file and cannot be rewritten", name)
	}
	f, err := os.OpenFile(name, os.O_RDWR, 0) // a new name in the folder would get round a file that is write-protected
	if err != nil {
		return err
	}
	now, err := io.ReadAll(io.LimitReader(f, int64(max(len(old), len(text)))+1))
	f.Close()
	switch {
	case err != nil:
		return err
	case bytes.Equal(now, []byte(text)): // under two names it is rewritten once
		return nil
	case !bytes.Equal(now, []byte(old)):
		return fmt.Errorf("%s: it was changed by something else meanwhile and is left as it is", name)
	}
	mode := info.Mode().Perm()
	return writeWhole(name, &mode, func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	})
}
