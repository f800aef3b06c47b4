package source

// Making text safe to show: no control characters, no marks that reorder or hide text.

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Escape returns s fit to be shown on one line: control characters, line ends, marks that turn the direction of
// writing, invisible characters and bytes that are not UTF-8 are written as escapes such as \x1b and \u202e.
func Escape(s string) string {
	if isPlain(s) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		b.WriteString(escapeRune(r, s[i:i+n]))
		i += n
	}
	return b.String()
}

func isPlain(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// visible is Escape, rune by rune, with tabs as spaces and without marks that take no column.
func visible(s string) []rune {
	var out []rune
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == '\t':
			out = append(out, ' ', ' ', ' ', ' ')
		default:
			out = append(out, []rune(escapeRune(r, s[i:i+n]))...)
		}
		i += n
	}
	return out
}

func escapeRune(r rune, raw string) string {
	switch {
	case r == utf8.RuneError && len(raw) == 1:
		return fmt.Sprintf(`\x%02x`, raw[0])
	case r < ' ' || r == 0x7f:
		return fmt.Sprintf(`\x%02x`, r)
	case unicode.IsGraphic(r) && !unicode.In(r, unicode.Mn, unicode.Me) && (r == ' ' || !unicode.IsSpace(r)):
		return raw
	case r > 0xffff:
		return fmt.Sprintf(`\U%08x`, r)
	}
	return fmt.Sprintf(`\u%04x`, r)
}
