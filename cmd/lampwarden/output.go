// Flags and streams that the commands share.

package main

import (
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lampwarden/checker/report"
)

// output is how a command writes its result.
type output struct {
	format string
	quiet  bool
}

func (o *output) addFlags(f *pflag.FlagSet) {
	f.StringVar(&o.format, "output", "text", "form of the result: text or json")
	f.BoolVar(&o.quiet, "quiet", false, "only what needs attention, and one closing line")
}

func (o *output) check() error {
	if o.format != "text" && o.format != "json" {
		return &exit{exitInput, fmt.Errorf("--output %q: expected text or json", o.format)}
	}
	return nil
}

// options gives the renderer's options for the command's standard output.
func (o *output) options(cmd *cobra.Command) report.Options {
	return report.Options{Quiet: o.quiet, Color: colored(cmd.OutOrStdout())}
}

// document is a result that can be written in both forms.
type document interface {
	Text(io.Writer, report.Options) error
	JSON(io.Writer) error
}

func (o *output) write(w io.Writer, d document, ro report.Options) error {
	if o.format == "json" {
		return d.JSON(w)
	}
	return d.Text(w, ro)
}

// colored tells whether a stream is a terminal that may get colour (https://no-color.org).
func colored(w io.Writer) bool {
	return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && isTerminal(w)
}

func isTerminal(w io.Writer) bool {
	if s, ok := w.(*stream); ok {
		w = s.Unwrap()
	}
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0 && info.Mode()&os.ModeDevice != 0
}
