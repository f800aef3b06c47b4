// The command lexicon.

package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"lampwarden/checker"
	"lampwarden/lang"
	"lampwarden/lang/lexicon"
	"lampwarden/lang/source"
)

func newLexicon() *cobra.Command {
	var f output
	cmd := &cobra.Command{
		Use:   "lexicon [WORD]...",
		Short: "Explain a word of the language, or the code of a message",
		Long: "Lexicon prints what the language reference says of a word, or of several words in\n" +
			"a row. It knows the words, atoms and units of the language, the codes of\n" +
			"diagnostics and those of the built-in checks. Without a word it lists them all.",
		Example: "  lampwarden lexicon circuit\n" +
			"  lampwarden lexicon long press\n" +
			"  lampwarden lexicon precedence-cycle",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.check(); err != nil {
				return err
			}
			book, err := newBook()
			if err != nil {
				return &exit{exitInternal, fmt.Errorf("internal error: the language reference: %w", err)}
			}
			return f.lexicon(cmd.OutOrStdout(), book, strings.Join(args, " "))
		},
	}
	cmd.Flags().StringVar(&f.format, "output", "text", "form of the result: text or json")
	return cmd
}

// newBook reads the language reference and puts the codes beside it.
func newBook() (*lexicon.Book, error) {
	b, err := lexicon.Parse(lang.Reference())
	if err != nil {
		return nil, err
	}
	b.Groups = []lexicon.Group{
		{Title: "Diagnostics: what is wrong in a file", Kind: "diagnostic", Codes: source.Codes()},
		{Title: "Findings: what the built-in checks look for", Kind: "finding", Codes: checker.Codes()},
	}
	return b, nil
}

// lexicon writes the answer, or the contents for no word.
func (f *output) lexicon(w io.Writer, b *lexicon.Book, word string) error {
	text, json := b.Contents, b.ContentsJSON
	if word != "" {
		a := b.Look(word)
		if !a.Found() {
			return &exit{exitInput, unknownWord(a)}
		}
		text, json = a.Text, a.JSON
	}
	if f.format == "json" {
		text = json
	}
	if err := text(w); err != nil {
		return &exit{exitInternal, err}
	}
	return nil
}

// unknownWord is the error for a word that the lexicon does not have.
func unknownWord(a *lexicon.Answer) error {
	hint := "`lampwarden lexicon` lists what there is"
	if len(a.Near) > 0 {
		hint = "near: " + strings.Join(a.Near, ", ")
	}
	return fmt.Errorf("the language has no word %q; %s", source.Escape(a.Word), hint)
}
