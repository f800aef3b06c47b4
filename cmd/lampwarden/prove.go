// The command prove.

package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"lampwarden/checker"
	"lampwarden/checker/report"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// proveFlags are the flags of prove.
type proveFlags struct {
	output
	only      []string
	stats     bool
	maxStates int
	maxMemory size
	maxTime   time.Duration
	folder    string // of certificates
	noCache   bool
	strength  bool
	part      share
	answers   string // folder of a part's answers
}

func newProve() *cobra.Command {
	var f proveFlags
	cmd := &cobra.Command{
		Use:   "prove FILE...",
		Short: "Prove every requirement, or show the shortest story that breaks it",
		Long: "Prove decides every requirement of a site over every order and timing of events,\n" +
			"and the built-in checks: light that nothing decides, modes and settings without\n" +
			"effect, hours in no band, requirements that say nothing. The files together\n" +
			"describe one site; a folder stands for the .lamp files in it.",
		Example: "  lampwarden prove examples/guesthouse\n" +
			"  lampwarden prove site.lamp --only \"escape routes reach full output on fire\"\n" +
			"  lampwarden prove site.lamp --output json --limit-time 30s\n" +
			"  lampwarden prove site.lamp --output smt2 --only \"full on fire\" | z3 -in",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return f.run(cmd, args) },
	}
	f.maxMemory = 2_000_000_000
	f.addFlags(cmd.Flags())
	addExport(cmd.Flags())
	cmd.Flags().StringArrayVar(&f.only, "only", nil, "prove only the requirement of this `name`, or all its instances, without the built-in checks (repeatable)")
	cmd.Flags().BoolVar(&f.stats, "stats", false, "show what the proof cost")
	cmd.Flags().BoolVar(&f.strength, "strength", false, "change one rule at a time, and say which rules no requirement depends on: a survey, status 0 whatever it finds, 3 if --limit-time stopped it")
	cmd.Flags().StringVar(&f.folder, "certificate", "", "write each proof into this `folder`, for confirm to check")
	cmd.Flags().Var(&f.part, "part", "do one of several parts, such as 3/8, for merge to put together")
	cmd.Flags().StringVar(&f.answers, "answers", "", "the `folder` in which a part keeps what it finds out")
	cmd.Flags().BoolVar(&f.noCache, "no-cache", false, "search everything anew, without the answers of earlier runs")
	cmd.Flags().IntVar(&f.maxStates, "limit-states", 0, "stop a question after so many zones; 0: no limit")
	cmd.Flags().Var(&f.maxMemory, "limit-memory", "stop at this much memory for zones, such as 500 MB; 0 B: no limit")
	cmd.Flags().DurationVar(&f.maxTime, "limit-time", 2*time.Minute, "stop after this time, such as 30s; 0: no limit")
	return cmd
}

func (f *proveFlags) run(cmd *cobra.Command, args []string) error {
	if err := f.check(); err != nil {
		return err
	}
	s, sources, err := load(args, cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	opt := checker.Options{Limits: checker.Limits{States: f.maxStates, Memory: int64(f.maxMemory), Time: f.maxTime}}
	if opt.Only, err = pick(s, f.only); err != nil {
		return err
	}
	if f.format == smt2 {
		return f.export(cmd, s, sources, opt.Only)
	}
	if f.strength {
		return f.proveStrength(cmd, s, sources, opt)
	}
	opt.NoFindings = opt.Only != nil
	if f.part.Of > 0 {
		return f.provePart(cmd, s, opt)
	}
	var out *folder
	if f.folder != "" {
		if out, err = newFolder(f.folder); err != nil {
			return &exit{exitInput, err}
		}
		opt.Certify = out.certificate
	}
	if !f.noCache {
		defer useCache(&opt, cmd.ErrOrStderr())()
	}
	if f.maxMemory > 0 { // what is garbage must not make twice as much of it
		defer debug.SetMemoryLimit(debug.SetMemoryLimit(int64(f.maxMemory)/4*5 + 128<<20))
	}
	progress := newProgress(cmd.ErrOrStderr())
	opt.Progress = progress.show
	ctx, done := interruptible(cmd.Context())
	defer done()
	rep, err := checker.Prove(ctx, s, opt)
	progress.clear()
	if err != nil {
		return unproved(err)
	}
	rep.Sources = sources
	if out != nil {
		if err := out.runs(rep); err != nil {
			return err
		}
	}
	return f.write(cmd, rep)
}

// unproved is the error for a run that came to no report: a contradiction within, or something that could not be written.
func unproved(err error) error {
	if e := (*exit)(nil); errors.As(err, &e) {
		return e
	}
	return &exit{exitInternal, fmt.Errorf("internal error: %w", err)}
}

func (f *proveFlags) check() error {
	if f.maxStates < 0 || f.maxTime < 0 {
		return &exit{exitInput, fmt.Errorf("a limit cannot be negative")}
	}
	if f.format == smt2 {
		return nil
	}
	return f.output.check()
}

// write writes the report and turns its verdict into the exit status.
func (f *proveFlags) write(cmd *cobra.Command, rep *checker.Report) error {
	ro := f.options(cmd)
	ro.Stats = f.stats
	d := report.Tell(rep, ro)
	if err := f.output.write(cmd.OutOrStdout(), d, ro); err != nil {
		return &exit{exitInternal, err}
	}
	switch {
	case rep.Cancelled:
		return &exit{exitUndecided, errors.New("stopped before everything was decided")}
	case d.Verdict == "fails":
		return &exit{exitFails, nil}
	case d.Verdict == "undecided":
		return &exit{exitUndecided, nil}
	}
	return nil
}

// pick finds the requirements of the given names, each once and in the site's order; nil for no names. The name that
// is written before "for each" means all its instances.
func pick(s *site.Site, names []string) ([]int, error) {
	var out []int
	var known []string
	found := map[string]bool{}
	for i := range s.Requirements {
		name := s.Requirements[i].Name
		all := written(s, name)
		known = append(known, name, all)
		found[name], found[all] = true, true
		if slices.Contains(names, name) || slices.Contains(names, all) {
			out = append(out, i)
		}
	}
	for _, name := range names {
		if !found[name] {
			return nil, &exit{exitInput, unknown("requirement", name, known)}
		}
	}
	return out, nil
}

// written is the name of an instance's requirement as it stands in the file: "the hold ends" for "the hold ends
// (lounge)".
func written(s *site.Site, name string) string {
	i := strings.LastIndex(name, " (")
	if i > 0 && strings.HasSuffix(name, ")") && s.AreaNamed(name[i+2:len(name)-1]) != site.None {
		return name[:i]
	}
	return name
}

// unknown is the error for a name that is none of those known.
func unknown(kind, name string, known []string) error {
	text := fmt.Sprintf("no %s is named %q", kind, source.Escape(name))
	switch closest := source.Closest(name, known); {
	case closest != "":
		text += fmt.Sprintf("; did you mean %q?", source.Escape(closest))
	case len(known) == 0:
		text += fmt.Sprintf("; the site has no %ss", kind)
	}
	return fmt.Errorf("%s", text)
}

// progress shows how far a run is, on a terminal only.
type progress struct {
	w      io.Writer
	last   time.Time
	some   bool
	things string // that are counted
}

func newProgress(w io.Writer) *progress {
	if !isTerminal(w) {
		w = nil
	}
	return &progress{w: w, last: time.Now(), things: "questions"}
}

// show rewrites the line, a few times a second.
func (p *progress) show(done, total int) {
	if p.w == nil || time.Since(p.last) < 200*time.Millisecond {
		return
	}
	p.last, p.some = time.Now(), true
	fmt.Fprintf(p.w, "\r%d of %d %s decided ", done, total, p.things)
}

// clear takes the line away.
func (p *progress) clear() {
	if p.some {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
