// The command rehearse.

package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"lampwarden/checker/rehearse"
	"lampwarden/checker/report"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

func newRehearse() *cobra.Command {
	var f output
	cmd := &cobra.Command{
		Use:   "rehearse FILE [SCENARIO]...",
		Short: "Play scenarios and hold their expectations against what happens",
		Long: "Rehearse plays the named scenarios of a site, all of them if none is named, and\n" +
			"shows what every light does, and why. FILE may be a folder; it stands for the\n" +
			".lamp files in it. With --output json each scenario is a document of its own,\n" +
			"one after the other.",
		Example: "  lampwarden rehearse examples/guesthouse \"a quiet night\"",
		Args:    cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.check(); err != nil {
				return err
			}
			s, sources, err := load(args[:1], cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			scenarios, err := scenariosNamed(s, args[1:])
			if err != nil {
				return err
			}
			return f.rehearse(cmd, s, sources, scenarios)
		},
	}
	f.addFlags(cmd.Flags())
	return cmd
}

func (f *output) rehearse(cmd *cobra.Command, s *site.Site, sources *source.Set, scenarios []*site.Scenario) error {
	unmet := 0
	for i, sc := range scenarios {
		tl, xs, err := rehearse.Rehearse(s, sc)
		if err != nil {
			return &exit{exitInput, fmt.Errorf("scenario %q: %w", source.Escape(sc.Name), err)}
		}
		if i > 0 && f.format == "text" {
			fmt.Fprintln(cmd.OutOrStdout())
		}
		d := report.TellRehearsal(sc, tl, xs, sources)
		if err := f.write(cmd.OutOrStdout(), d, f.options(cmd)); err != nil {
			return &exit{exitInternal, err}
		}
		unmet += d.Unmet
	}
	if unmet > 0 {
		return &exit{exitFails, nil}
	}
	return nil
}

// scenariosNamed finds scenarios by name; all of them for no names.
func scenariosNamed(s *site.Site, names []string) ([]*site.Scenario, error) {
	var out []*site.Scenario
	var known []string
	for i := range s.Scenarios {
		known = append(known, s.Scenarios[i].Name)
		if len(names) == 0 {
			out = append(out, &s.Scenarios[i])
		}
	}
	for _, name := range names {
		sc := s.ScenarioNamed(name)
		if sc == nil {
			return nil, &exit{exitInput, unknown("scenario", name, known)}
		}
		out = append(out, sc)
	}
	if len(out) == 0 {
		return nil, &exit{exitInput, fmt.Errorf("the site has no scenarios")}
	}
	return out, nil
}
