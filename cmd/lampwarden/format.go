// The command format.

package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"lampwarden/lang"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// formatFlags are the flags of format.
type formatFlags struct{ write, check bool }

func newFormat() *cobra.Command {
	var f formatFlags
	cmd := &cobra.Command{
		Use:   "format FILE...",
		Short: "Give site files their canonical layout",
		Long: "Format writes each file in the one canonical layout, with its comments, to\n" +
			"standard output. A folder stands for the .lamp files in it. The files need not\n" +
			"make a whole site, but each must be readable.",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error { return f.run(cmd, args) },
	}
	cmd.Flags().BoolVar(&f.write, "write", false, "rewrite the files in place")
	cmd.Flags().BoolVar(&f.check, "check", false, "write only the names of files that would change; exit status 1 if there are any")
	return cmd
}

func (f *formatFlags) run(cmd *cobra.Command, args []string) error {
	if f.write && f.check {
		return &exit{exitInput, fmt.Errorf("--write and --check do not go together")}
	}
	p, err := lang.Load(args)
	if err != nil {
		return &exit{exitInput, fmt.Errorf("%s", source.Escape(err.Error()))}
	}
	differ := false
	for _, file := range p.Files {
		text, err := canonical(file, p.Sources, cmd.ErrOrStderr())
		if err != nil {
			return err
		}
		differ = differ || text != file.Source.Text
		if err := f.put(cmd.OutOrStdout(), file.Source, text); err != nil {
			return err
		}
	}
	if f.check && differ {
		return &exit{exitFails, nil}
	}
	return nil
}

// canonical lays a file out. One that cannot be read is not touched; what is wrong goes to the messages.
func canonical(file *syntax.File, set *source.Set, messages io.Writer) (string, error) {
	if _, ds := syntax.Parse(file.Source); ds.HasErrors() {
		if err := (source.Renderer{Set: set, Color: colored(messages)}).Write(messages, ds); err != nil {
			return "", &exit{exitOutput, err}
		}
		return "", &exit{exitInput, nil}
	}
	text, err := syntax.Format(file)
	if err != nil {
		return "", &exit{exitInternal, fmt.Errorf("internal error: %w", err)}
	}
	return text, nil
}

// put does with a laid-out file what the flags ask for.
func (f *formatFlags) put(w io.Writer, file *source.File, text string) error {
	var err error
	switch changed := text != file.Text; {
	case f.check && changed:
		_, err = fmt.Fprintln(w, source.Escape(file.Name))
	case f.check:
	case f.write && changed:
		if err := replace(file.Name, file.Text, text); err != nil {
			return &exit{exitOutput, fmt.Errorf("%s", source.Escape(err.Error()))}
		}
	case f.write:
	default:
		if isTerminal(w) { // which might obey what stands in a text or a comment; elsewhere it goes as it is
			text = fit(text)
		}
		_, err = io.WriteString(w, text)
	}
	if err != nil {
		return &exit{exitInternal, err}
	}
	return nil
}
