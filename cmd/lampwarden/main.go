// Command lampwarden proves the lighting modes of a building before anything is installed.
//
// Each command has its own file here and holds no logic of its own: it reads the site (lang), runs the checker or
// the interpreter, and hands the result to checker/report. Results go to standard output, messages and progress to
// standard error. Exit status: 0 all proved; 1 a requirement or finding fails; 2 the input is wrong; 3 undecided;
// 4 internal error; 5 something could not be written.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"lampwarden/lang/source"
)

// The exit statuses.
const (
	exitProved = iota
	exitFails
	exitInput
	exitUndecided
	exitInternal
	exitOutput
)

// exit is an error that carries an exit status. Its text is a message for standard error, or empty if all is said.
type exit struct {
	code int
	err  error
}

func (e *exit) Error() string {
	if e.err == nil {
		return ""
	}
	return e.err.Error()
}

func (e *exit) Unwrap() error { return e.err }

func main() { os.Exit(run(context.Background(), os.Args[1:], os.Stdout, os.Stderr)) }

// run is the whole program; it returns the exit status.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) (code int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(stderr, "lampwarden: internal error: %s\n%s", fit(fmt.Sprint(r)), debug.Stack())
			code = exitInternal
		}
	}()
	root := newRoot()
	root.SetArgs(args)
	out := &stream{w: stdout}
	root.SetOut(out)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	if out.err != nil {
		fmt.Fprintf(stderr, "lampwarden: the result could not be written: %v\n", plainly(out.err))
		return exitOutput
	}
	if err == nil {
		return exitProved
	}
	var e *exit
	if !errors.As(err, &e) {
		e = &exit{exitInput, err} // from the command line itself
	}
	if text := e.Error(); text != "" {
		fmt.Fprintf(stderr, "lampwarden: %s\n", fit(text))
	}
	return e.code
}

// fit makes a message, which may quote a file, a path or the command line, fit for a terminal.
func fit(text string) string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = source.Escape(lines[i])
	}
	return strings.Join(lines, "\n")
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "lampwarden",
		Short: "Prove a building's lighting modes over every order and timing of events",
		Long: "Lampwarden reads a description of a building's lighting modes, proves its\n" +
			"requirements over every order and timing of events, and where one fails shows\n" +
			"the shortest story that breaks it.\n\n" +
			"Exit status: 0 all proved, 1 something fails, 2 the input is wrong, 3 undecided,\n" +
			"4 internal error, 5 something could not be written.",
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), ".FlagUsages ", ".FlagUsagesWrapped 80 "))
	root.AddCommand(newProve(), newMerge(), newConfirm(), newRehearse(), newFormat(), newLexicon())
	return root
}

func version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return info.Main.Version
	}
	return "(development)"
}
