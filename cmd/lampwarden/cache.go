// The answers that prove keeps between runs.

package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"lampwarden/checker"
	"lampwarden/checker/cache"
)

// maxCache bounds the folder of kept answers, in bytes.
const maxCache = 256 << 20

// openCache opens the answers of this program in the user's cache folder; nil if there is none to be had.
func openCache() *cache.Folder {
	dir, err := os.UserCacheDir()
	if err != nil {
		return nil
	}
	self, err := itself()
	if err != nil {
		return nil
	}
	c, err := cache.Open(filepath.Join(dir, "lampwarden"), self, maxCache)
	if err != nil {
		return nil
	}
	return c
}

// itself is the SHA-256 of the running program.
func itself() (string, error) {
	path, err := os.Executable()
	if err != nil {
		return "", err
	}
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// useCache gives a run the kept answers. The function that it returns says at the end what was wrong with them.
func useCache(opt *checker.Options, warn io.Writer) (after func()) {
	c := openCache()
	if c == nil {
		return func() {}
	}
	opt.Cache = c
	return func() {
		if n := c.Damaged(); n > 0 {
			fmt.Fprintf(warn, "warning: %d kept answers were damaged and not used\n", n)
		}
	}
}
