package lexicon

// Examples of codes as they are shown.

import (
	"strings"

	"lampwarden/lang/source"
)

// maxExample bounds the lines of an example that is shown; those made to be too long are not.
const maxExample = 24

// shown gives the lines of an example that can be shown. As line ends mean nothing in the language, lines that are too
// long are broken at a blank.
func shown(example string) ([]string, bool) {
	var out []string
	for _, l := range strings.Split(strings.TrimRight(example, "\n"), "\n") {
		for columns(l) > width-4 {
			at := lastBlank(l, width-4)
			if at == 0 || len(out) > maxExample {
				return nil, false
			}
			out = append(out, source.Escape(strings.TrimRight(l[:at], " ")))
			l = "        " + strings.TrimLeft(l[at:], " ")
		}
		out = append(out, source.Escape(l))
	}
	return out, example != "" && len(out) <= maxExample
}

// lastBlank gives the place of the last blank before the column at which a line may be broken: two blanks if there are,
// as they part clauses, and none in a text in quotes or a comment; 0 if there is none.
func lastBlank(line string, column int) int {
	one, two := 0, 0
	quoted := false
	indent := len(line) - len(strings.TrimLeft(line, " "))
	for i := 0; i < min(column+1, len(line)); i++ {
		switch c := line[i]; {
		case c == '"':
			quoted = !quoted
		case c == '#' && !quoted:
			return 0
		case c == ' ' && !quoted && i > indent:
			one = i
			if line[i-1] == ' ' {
				two = i
			}
		}
	}
	if two > 0 {
		return two
	}
	return one
}
