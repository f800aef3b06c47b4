// The output smt2 of prove: questions for a solver, in place of answers.

package main

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"lampwarden/checker/horn"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

const smt2 = "smt2"

// addExport says in the help of --output that prove has this form as well.
func addExport(f *pflag.FlagSet) {
	f.Lookup("output").Usage = "form of the result: text or json; or smt2: write the questions as scripts for a solver, and prove nothing"
}

// export writes the requirements, all if only is nil, as SMT-LIB scripts to standard output, and proves nothing. A requirement
// that falls into parts makes several scripts; between any two stands (reset).
func (f *proveFlags) export(cmd *cobra.Command, s *site.Site, sources *source.Set, only []int) error {
	if f.folder != "" || f.part.Of > 0 {
		return &exit{exitInput, errors.New("--output smt2 proves nothing: leave out --certificate and --part")}
	}
	if only == nil {
		for i := range s.Requirements {
			only = append(only, i)
		}
	}
	var out bytes.Buffer
	for _, i := range only {
		scripts, err := questions(s, i)
		var beyond *horn.BeyondError
		switch {
		case errors.As(err, &beyond):
			place := ""
			if p, ok := sources.Position(beyond.Span); ok {
				place = p.String() + ": "
			}
			fmt.Fprintf(cmd.ErrOrStderr(), "%sno script for %q: %v\n", place, source.Escape(s.Requirements[i].Name), err)
		case err != nil:
			return &exit{exitInternal, err}
		}
		for _, text := range scripts {
			if out.Len() > 0 {
				out.WriteString("(reset)\n")
			}
			out.Write(text)
		}
	}
	if out.Len() == 0 {
		return &exit{exitInput, errors.New("there is no requirement that --output smt2 can write")}
	}
	if _, err := out.WriteTo(cmd.OutOrStdout()); err != nil {
		return &exit{exitInternal, err}
	}
	return nil
}

// questions writes the scripts of one requirement, all or none.
func questions(s *site.Site, requirement int) (scripts [][]byte, err error) {
	for _, q := range horn.Parts(s, requirement) {
		var b bytes.Buffer
		if err := q.Write(&b, s); err != nil {
			return nil, err
		}
		scripts = append(scripts, b.Bytes())
	}
	return scripts, nil
}
