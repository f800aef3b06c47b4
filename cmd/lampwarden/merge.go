// Parts of a proof, done on several machines, and the command merge that puts them together.

package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lampwarden/checker"
	"lampwarden/checker/cache"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// share is the value of --part: "3/8" is the third of eight.
type share struct{ checker.Share }

func (s *share) String() string {
	if s.Of == 0 {
		return ""
	}
	return fmt.Sprintf("%d/%d", s.Part+1, s.Of)
}

func (s *share) Type() string { return "k/n" }

// maxParts bounds how many parts there can be.
const maxParts = 10_000

func (s *share) Set(text string) error {
	a, b, ok := strings.Cut(text, "/")
	k, err1 := strconv.Atoi(a)
	n, err2 := strconv.Atoi(b)
	if !ok || err1 != nil || err2 != nil || k < 1 || k > n || n > maxParts {
		return fmt.Errorf("expected a part and how many there are, such as 3/8")
	}
	s.Share = checker.Share{Part: k - 1, Of: n}
	return nil
}

// marker is the file that says that a part is done: its name has the part, its content what it was a part of.
func marker(k, n int) string { return fmt.Sprintf("part-%d-of-%d", k, n) }

// provePart does one part of a proof and keeps its answers in a folder.
func (f *proveFlags) provePart(cmd *cobra.Command, s *site.Site, opt checker.Options) error {
	if f.answers == "" {
		return &exit{exitInput, errors.New("--part needs --answers with the folder for what the part finds out")}
	}
	if f.folder != "" {
		return &exit{exitInput, errors.New("--part and --certificate cannot stand together")}
	}
	self, err := itself()
	if err != nil {
		return &exit{exitInternal, err}
	}
	kept, err := cache.Open(f.answers, self, 1<<62)
	if err != nil {
		return &exit{exitInput, err}
	}
	opt.Cache, opt.Share = kept, f.part.Share
	ctx, done := interruptible(cmd.Context())
	defer done()
	rep, err := checker.Prove(ctx, s, opt)
	if err != nil {
		return &exit{exitInternal, fmt.Errorf("internal error: %w", err)}
	}
	if rep.Cancelled {
		return &exit{exitUndecided, errors.New("stopped before the part was done")}
	}
	name := filepath.Join(f.answers, marker(f.part.Part+1, f.part.Of))
	err = writeWhole(name, nil, func(w io.Writer) error {
		_, err := io.WriteString(w, work(s, self))
		return err
	})
	if err != nil {
		return &exit{exitOutput, fmt.Errorf("%s could not be written: %w", source.Escape(name), plainly(err))}
	}
	fmt.Fprintf(cmd.OutOrStdout(), "Part %d of %d is done; its answers are in %s.\n", f.part.Part+1, f.part.Of, source.Escape(f.answers))
	return nil
}

// work says what was proved by which program.
func work(s *site.Site, self string) string {
	return site.Fingerprint(s) + "\n" + self + "\n"
}

func newMerge() *cobra.Command {
	var f proveFlags
	var folders []string
	cmd := &cobra.Command{
		Use:   "merge FILE... --answers FOLDER...",
		Short: "Put the parts of a proof together that several machines have done",
		Long: "Merge writes the report of a proof whose parts were done by prove --part, each\n" +
			"perhaps on another machine, from the folders in which they kept their answers.\n" +
			"The report is the one that a single run would have written. The same program\n" +
			"has to do all parts and the merge.",
		Example: "  lampwarden prove site.lamp --part 1/2 --answers one\n" +
			"  lampwarden prove site.lamp --part 2/2 --answers two\n" +
			"  lampwarden merge site.lamp --answers one --answers two",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return f.merge(cmd, args, folders) },
	}
	f.addFlags(cmd.Flags())
	cmd.Flags().StringArrayVar(&folders, "answers", nil, "a `folder` of a part's answers (repeatable)")
	cmd.Flags().DurationVar(&f.maxTime, "limit-time", 2*time.Minute, "stop after this time; only what the parts did not answer takes any")
	return cmd
}

func (f *proveFlags) merge(cmd *cobra.Command, args, folders []string) error {
	if err := f.check(); err != nil {
		return err
	}
	s, sources, err := load(args, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	self, err := itself()
	if err != nil {
		return &exit{exitInternal, err}
	}
	if err := complete(folders, work(s, self)); err != nil {
		return &exit{exitInput, err}
	}
	var all union
	for _, dir := range folders {
		kept, err := cache.Open(dir, self, 1<<62)
		if err != nil {
			return &exit{exitInput, err}
		}
		all = append(all, kept)
	}
	ctx, done := interruptible(cmd.Context())
	defer done()
	rep, err := checker.Prove(ctx, s, checker.Options{Cache: all, Merge: true, Limits: checker.Limits{Time: f.maxTime}})
	if err != nil {
		return &exit{exitInternal, fmt.Errorf("internal error: %w", err)}
	}
	rep.Sources = sources
	return f.write(cmd, rep)
}

// complete tells what is missing, if all parts of the work are not there.
func complete(folders []string, work string) error {
	if len(folders) == 0 {
		return errors.New("merge needs --answers with the folders of the parts")
	}
	of, done := 0, map[int]bool{}
	for _, dir := range folders {
		names, err := filepath.Glob(filepath.Join(dir, "part-*-of-*"))
		if err != nil {
			return err
		}
		some := false
		for _, name := range names {
			var k, n int
			if _, err := fmt.Sscanf(filepath.Base(name), "part-%d-of-%d", &k, &n); err != nil || n > maxParts {
				continue
			}
			b, err := os.ReadFile(name)
			switch {
			case err != nil:
				return err
			case string(b) != work:
				return fmt.Errorf("%s is part of the proof of another site, or by another program", name)
			case of != 0 && n != of:
				return fmt.Errorf("%s is one of %d parts, others are of %d", name, n, of)
			}
			of, done[k], some = n, true, true
		}
		if !some {
			return fmt.Errorf("no part of a proof is done in %s", dir)
		}
	}
	var missing []string
	for k := 1; k <= of; k++ {
		if !done[k] {
			missing = append(missing, fmt.Sprintf("%d/%d", k, of))
		}
	}
	if len(missing) > 0 {
		return fmt.Errorf("not all parts are done: %s missing", strings.Join(missing, ", "))
	}
	return nil
}

// union is several caches that are only read.
type union []*cache.Folder

func (u union) Get(form string) ([]byte, bool) {
	for _, c := range u {
		if b, ok := c.Get(form); ok {
			return b, true
		}
	}
	return nil, false
}

func (union) Put(string, []byte) {}
