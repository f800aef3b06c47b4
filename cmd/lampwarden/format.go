// The command format.

package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

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
		changed := text != file.Source.Text
		differ = differ || changed
		if err := f.put(cmd.OutOrStdout(), file.Source.Name, text, changed); err != nil {
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
			return "", &exit{exitInternal, err}
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
func (f *formatFlags) put(w io.Writer, name, text string, changed bool) error {
	var err error
	switch {
	case f.check && changed:
		_, err = fmt.Fprintln(w, source.Escape(name))
	case f.check:
	case f.write && changed:
		if err := replace(name, text); err != nil {
			return &exit{exitInput, fmt.Errorf("%s", source.Escape(err.Error()))}
		}
	case f.write:
	default:
		_, err = io.WriteString(w, text)
	}
	if err != nil {
		return &exit{exitInternal, err}
	}
	return nil
}

// replace writes a file whole or not at all: to a new file beside it, which then takes its name. Links are followed,
// and the file's permissions stay.
func replace(name, text string) (err error) {
	if name, err = filepath.EvalSymlinks(name); err != nil {
		return err
	}
	info, err := os.Stat(name)
	if err != nil {
		return err
	}
	tmp, err := os.CreateTemp(filepath.Dir(name), ".format-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(tmp.Name())
		}
	}()
	if _, err = tmp.WriteString(text); err != nil {
		tmp.Close()
		return err
	}
	if err = tmp.Chmod(info.Mode().Perm()); err != nil {
		tmp.Close()
		return err
	}
	if err = tmp.Close(); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), name)
}
