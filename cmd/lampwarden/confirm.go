// The command confirm.

package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"lampwarden/checker/confirm"
	"lampwarden/lang/source"
)

// confirmFlags are the flags of confirm.
type confirmFlags struct {
	output
	maxMemory size
	maxTime   time.Duration
}

func newConfirm() *cobra.Command {
	var f confirmFlags
	cmd := &cobra.Command{
		Use:   "confirm FILE... FOLDER",
		Short: "Check the certificates that prove wrote, by other means",
		Long: "Confirm checks the folder of certificates that `prove --certificate` wrote for the\n" +
			"same files. It shares no code with the search that found the proofs. A certificate\n" +
			"(.cert) is a set of states that has every start-up in it, that nothing leads out\n" +
			"of, and in which nothing is broken; a run (.run) is a story that breaks a\n" +
			"requirement, or shows one possible, and is played again. A proof may consist of\n" +
			"many certificates, and all of them must be there.\n\n" +
			"Confirmed is that a requirement follows from the files. Nothing is said of wiring,\n" +
			"lamps, sensors or commissioning.\n\n" +
			"Exit status: 0 all requirements confirmed; 1 a requirement is broken, or a file\n" +
			"is not accepted, or two say the opposite; 2 the input is wrong, or the folder has\n" +
			"no certificates; 3 some requirement has no certificate, or not all of them, or\n" +
			"the check was stopped; 4 internal error. The built-in checks of prove (ambiguous\n" +
			"light and so on) have no certificates.",
		Example: "  lampwarden prove examples/guesthouse --certificate proofs\n" +
			"  lampwarden confirm examples/guesthouse proofs",
		Args: cobra.MinimumNArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error { return f.run(cmd, args) },
	}
	f.maxMemory = 2_000_000_000
	f.addFlags(cmd.Flags())
	cmd.Flags().Var(&f.maxMemory, "limit-memory", "refuse certificates that would need more than about this much memory; 0 B: no limit")
	cmd.Flags().DurationVar(&f.maxTime, "limit-time", 10*time.Minute, "stop after this time, such as 30s; 0: no limit")
	return cmd
}

func (f *confirmFlags) run(cmd *cobra.Command, args []string) error {
	if err := f.check(); err != nil {
		return err
	}
	if f.maxTime < 0 {
		return &exit{exitInput, errors.New("a limit cannot be negative")}
	}
	folder := args[len(args)-1]
	s, _, err := load(args[:len(args)-1], cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	ctx, done := interruptible(cmd.Context())
	defer done()
	if f.maxTime > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, f.maxTime)
		defer stop()
	}
	progress := newProgress(cmd.ErrOrStderr())
	out, err := confirm.Folder(ctx, s, folder, confirm.Options{Memory: int64(f.maxMemory), Progress: progress.files})
	progress.clear()
	if err != nil {
		return &exit{exitInput, fmt.Errorf("%s: %s", source.Escape(folder), source.Escape(err.Error()))}
	}
	return f.write(cmd, out)
}

// write writes the outcome and turns its verdict into the exit status.
func (f *confirmFlags) write(cmd *cobra.Command, out *confirm.Outcome) error {
	var err error
	if w := cmd.OutOrStdout(); f.format == "json" {
		err = out.JSON(w)
	} else {
		err = out.Text(w, f.quiet, colored(w))
	}
	switch {
	case err != nil:
		return &exit{exitInternal, err}
	case out.Verdict == confirm.Fails:
		return &exit{exitFails, nil}
	case out.Unread > 0:
		return &exit{exitUndecided, errors.New("stopped before everything was checked")}
	case out.Verdict != confirm.AllConfirmed:
		return &exit{exitUndecided, nil}
	}
	return nil
}

// files rewrites the line, a few times a second.
func (p *progress) files(done, total int) {
	if p.w == nil || time.Since(p.last) < 200*time.Millisecond {
		return
	}
	p.last, p.some = time.Now(), true
	fmt.Fprintf(p.w, "\r%d of %d files checked ", done, total)
}
