// What may be written to a terminal.

package main

import (
	"strings"
	"testing"
	"unicode"
)

// harmless fails if a text has a character that a terminal obeys or that hides or turns text.
func harmless(t *testing.T, what, text string) {
	t.Helper()
	for i, r := range text {
		switch {
		case r == '\n':
			continue
		case r == unicode.ReplacementChar && !strings.HasPrefix(text[i:], "\ufffd"):
			t.Errorf("%s: the byte %#x is no UTF-8 in %.300q", what, text[i], text[max(0, i-100):])
		case !unicode.IsGraphic(r), unicode.In(r, unicode.Cf, unicode.Cc, unicode.Co, unicode.Zl, unicode.Zp):
			t.Errorf("%s: %U is written in %.300q", what, r, text[max(0, i-100):])
		default:
			continue
		}
		return
	}
}
