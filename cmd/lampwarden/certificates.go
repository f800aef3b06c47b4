// The folder of certificates that prove writes and confirm reads.

package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/source"
)

// proofName is the name of a file in a folder of certificates: requirement, part and date, or a run; or of one that was being written
// when the program was killed.
var proofName = regexp.MustCompile(`^(r\d+(-p\d+(-d\d+)?\.cert|\.run)|` + regexp.QuoteMeta(unfinished) + `\d+)$`)

// folder is where certificates are written.
type folder struct{ dir string }

// newFolder makes the folder. What an earlier run wrote in it is taken away; a folder with anything else in it is refused.
func newFolder(dir string) (*folder, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, err
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	for _, e := range entries {
		if !proofName.MatchString(e.Name()) || !e.Type().IsRegular() {
			return nil, fmt.Errorf("--certificate %s: the folder has other things in it (%q); name a new or an empty one", dir, e.Name())
		}
	}
	for _, e := range entries {
		if err := os.Remove(filepath.Join(dir, e.Name())); err != nil {
			return nil, err
		}
	}
	return &folder{dir}, nil
}

// certificate writes one certificate, whole or not at all.
func (f *folder) certificate(c *checker.Certificate) error {
	name := fmt.Sprintf("r%03d-p%04d", c.Requirement, c.Part)
	if c.Dated {
		name += fmt.Sprintf("-d%03d", c.Date)
	}
	return f.write(name+".cert", func(w io.Writer) error { return c.Write(w, version()) })
}

// runs writes the run of each requirement that fails or is possible.
func (f *folder) runs(rep *checker.Report) error {
	for i := range rep.Outcomes {
		o := &rep.Outcomes[i]
		if o.Counterexample == nil {
			continue
		}
		err := f.write(fmt.Sprintf("r%03d.run", o.Requirement), func(w io.Writer) error {
			return rehearse.WriteRun(w, o.Counterexample.Timeline.Site, o.Requirement, &o.Counterexample.Script)
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// write writes a file of the folder, whole or not at all.
func (f *folder) write(name string, fill func(io.Writer) error) error {
	if err := writeWhole(filepath.Join(f.dir, name), nil, fill); err != nil {
		return &exit{exitOutput, fmt.Errorf("--certificate: %s could not be written: %w", source.Escape(filepath.Join(f.dir, name)), plainly(err))}
	}
	return nil
}
