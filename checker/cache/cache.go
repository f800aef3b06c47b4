// Package cache keeps the answers of searches between runs, in a folder of the user's.
//
// An answer is kept under the canonical form of what was searched (machine.System.Form): everything that a search reads. So it
// counts for any site, any room and any requirement with the same form, and an edit asks anew only what it touches. The
// name of a file is the SHA-256 of the program and the form; the form itself stands in the file and is compared as a whole, so
// that no answer rests on a hash. The program is told apart by its own content, not by a version that someone may forget to change.
//
// A file that can not be read, is cut short or was changed counts as not there; Damaged tells how many there were. Nothing that
// goes wrong here is an error: without the cache a proof only takes longer.
package cache

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync/atomic"
)

// magic starts every file.
const magic = "lampwarden answer 1\n"

// ending is that of the files' names.
const ending = ".answer"

// maxEntry bounds a file that is read, in bytes.
const maxEntry = 64 << 20

// Folder is an open cache. It serves several goroutines and, with others on the same folder, several programs.
type Folder struct {
	dir     string
	program string
	damaged atomic.Int64
}

// Open opens the cache in a folder, which it makes if need be, for the answers of a program. When the files in it have more than
// most bytes, the oldest are taken away until three quarters of that are left.
func Open(dir, program string, most int64) (*Folder, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	f := &Folder{dir: dir, program: program}
	f.trim(most)
	return f, nil
}

// trim takes away the oldest files.
func (f *Folder) trim(most int64) {
	entries, err := os.ReadDir(f.dir)
	if err != nil {
		return
	}
	var infos []fs.FileInfo
	total := int64(0)
	for _, e := range entries {
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && filepath.Ext(e.Name()) == ending {
			infos = append(infos, info)
			total += info.Size()
		}
	}
	if total <= most {
		return
	}
	slices.SortFunc(infos, func(a, b fs.FileInfo) int { return a.ModTime().Compare(b.ModTime()) })
	for _, info := range infos {
		if total <= most/4*3 {
			return
		}
		if os.Remove(filepath.Join(f.dir, info.Name())) == nil {
			total -= info.Size()
		}
	}
}

// path is where the answer on a form is kept.
func (f *Folder) path(form string) string {
	h := sha256.New()
	h.Write(binary.BigEndian.AppendUint64(nil, uint64(len(f.program))))
	h.Write([]byte(f.program))
	h.Write([]byte(form))
	return filepath.Join(f.dir, hex.EncodeToString(h.Sum(nil))+ending)
}

// Get gives what was put for the form.
func (f *Folder) Get(form string) (answer []byte, ok bool) {
	path := f.path(form)
	if info, err := os.Stat(path); err != nil {
		return nil, false
	} else if !info.Mode().IsRegular() || info.Size() > maxEntry {
		f.damaged.Add(1)
		return nil, false
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, false
	}
	answer, ok = f.open(b, form)
	if !ok {
		f.damaged.Add(1)
	}
	return answer, ok
}

// open takes a file apart: magic, SHA-256 of the rest, program, form, answer, the two in the middle with their lengths before them.
func (f *Folder) open(b []byte, form string) (answer []byte, ok bool) {
	b, ok = bytes.CutPrefix(b, []byte(magic))
	if !ok || len(b) < sha256.Size {
		return nil, false
	}
	sum := sha256.Sum256(b[sha256.Size:])
	if !bytes.Equal(sum[:], b[:sha256.Size]) {
		return nil, false
	}
	b = b[sha256.Size:]
	for _, want := range []string{f.program, form} {
		n, used := binary.Uvarint(b)
		if used <= 0 || n != uint64(len(want)) || uint64(len(b)-used) < n || string(b[used:used+len(want)]) != want {
			return nil, false
		}
		b = b[used+len(want):]
	}
	return b, true
}

// Put keeps an answer, whole or not at all.
func (f *Folder) Put(form string, answer []byte) {
	var rest []byte
	for _, s := range []string{f.program, form} {
		rest = append(binary.AppendUvarint(rest, uint64(len(s))), s...)
	}
	rest = append(rest, answer...)
	if len(rest) > maxEntry/2 {
		return
	}
	sum := sha256.Sum256(rest)
	w, err := os.CreateTemp(f.dir, ".new-*")
	if err != nil {
		return
	}
	_, err = w.Write(slices.Concat([]byte(magic), sum[:], rest))
	if closed := w.Close(); err != nil || closed != nil || os.Rename(w.Name(), f.path(form)) != nil {
		os.Remove(w.Name())
	}
}

// Damaged tells how many files could not be used.
func (f *Folder) Damaged() int { return int(f.damaged.Load()) }
