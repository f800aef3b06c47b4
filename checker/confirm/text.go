// The outcome as text of at most 80 columns, and as JSON.

package confirm

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// width of the text in columns.
const width = 80

// The styles of standings, as ECMA-48 "select graphic rendition" parameters.
var styles = map[Standing]string{Confirmed: "32", Missing: "1;33", NotConfirmed: "1;31", Broken: "1;31", Impossible: "1;31", Contradiction: "1;31"}

// JSON writes the outcome for programs; no text in it is a tag where it stands in a page.
func (o *Outcome) JSON(w io.Writer) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(o)
}

// Text writes the outcome for people; quiet leaves out what is confirmed.
func (o *Outcome) Text(w io.Writer, quiet, color bool) error {
	var b strings.Builder
	const column = 16
	for _, r := range o.Requirements {
		if quiet && r.Standing == Confirmed {
			continue
		}
		text := r.Name
		if r.Reason != "" {
			text += ": " + r.Reason
		}
		word := string(r.Standing)
		lines := wrap(text, width-column)
		pad := strings.Repeat(" ", column-len(word))
		if color {
			word = "\x1b[" + styles[r.Standing] + "m" + word + "\x1b[0m"
		}
		fmt.Fprintln(&b, word+pad+strings.Join(lines, "\n"+strings.Repeat(" ", column)))
	}
	if len(o.Refused) > 0 {
		fmt.Fprintln(&b, "\nFiles that are not accepted:")
		for _, f := range o.Refused {
			fmt.Fprintln(&b, "  - "+strings.Join(wrap(f.File+": "+f.Reason, width-4), "\n    "))
		}
	}
	if b.Len() > 0 {
		b.WriteByte('\n')
	}
	fmt.Fprintln(&b, strings.Join(wrap(o.summary(), width), "\n"))
	b.WriteByte('\n')
	fmt.Fprintln(&b, strings.Join(wrap(o.Caution, width), "\n"))
	_, err := io.WriteString(w, b.String())
	return err
}

// summary is the closing line.
func (o *Outcome) summary() string {
	text := fmt.Sprintf("%s: of %d requirements %d confirmed", o.Site, len(o.Requirements), o.count(Confirmed))
	for _, s := range []struct {
		standing Standing
		words    string
	}{
		{Broken, "broken"}, {Impossible, "impossible"}, {NotConfirmed, "not confirmed"}, {Missing, "without certificate"},
		{Contradiction, "in contradiction"},
	} {
		if n := o.count(s.standing); n > 0 {
			text += fmt.Sprintf(", %d %s", n, s.words)
		}
	}
	text += fmt.Sprintf(". Of %d files %d accepted", o.Accepted+len(o.Refused)+o.Unread, o.Accepted)
	if o.Unread > 0 {
		text += fmt.Sprintf(", %d left unchecked", o.Unread)
	}
	return text + "."
}

// wrap breaks text at blanks into lines of at most room columns; a longer word is cut.
func wrap(text string, room int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		for word != "" {
			part := word
			if utf8.RuneCountInString(part) > room {
				part = string([]rune(part)[:room])
			}
			word = word[len(part):]
			if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(part) > room {
				lines, line = append(lines, line), ""
			}
			if line != "" {
				line += " "
			}
			line += part
		}
	}
	return append(lines, line)
}
