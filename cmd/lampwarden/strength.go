// prove --strength: which rules some requirement depends on.

package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"lampwarden/checker"
	"lampwarden/checker/report"
	"lampwarden/checker/strength"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// proveStrength surveys a site and writes the result. That rules go unnoticed is no failure: the exit status says only
// whether the survey was finished.
func (f *proveFlags) proveStrength(cmd *cobra.Command, s *site.Site, sources *source.Set, opt checker.Options) error {
	if opt.Only != nil || f.folder != "" || f.part.Of > 0 || f.stats {
		return &exit{exitInput, errors.New("--strength looks at the whole site: it takes no --only, --certificate, --part or --stats")}
	}
	progress := newProgress(cmd.ErrOrStderr())
	progress.things = "changes of rules"
	opt.Progress = progress.show
	rep, err := checker.Strength(cmd.Context(), s, opt, strength.Options{})
	progress.clear()
	if err != nil {
		return &exit{exitInternal, fmt.Errorf("internal error: %w", err)}
	}
	d := report.TellStrength(rep, sources)
	if err := f.output.write(cmd.OutOrStdout(), d, f.options(cmd)); err != nil {
		return &exit{exitInternal, err}
	}
	if rep.Stopped {
		return &exit{exitUndecided, errors.New("stopped before all changes were tried")}
	}
	return nil
}
