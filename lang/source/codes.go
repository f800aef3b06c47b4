package source

// The registry of diagnostic codes.

import (
	"cmp"
	"slices"
)

// Code names a kind of diagnostic. Codes are words, never renamed and never used again for something else.
type Code string

// CodeInfo explains a code. Example is a whole small file in which the code is reported; it shows the mistake
// and as little else as can be.
type CodeInfo struct {
	Code        Code
	Title       string // one line, no full stop
	Explanation string // what the rule is and why, in a few plain sentences
	Example     string
}

// LookUp gives the entry of a code.
func LookUp(code Code) (CodeInfo, bool) {
	for _, c := range Codes() {
		if c.Code == code {
			return c, true
		}
	}
	return CodeInfo{}, false
}

// Codes gives the registry in alphabetical order. Those of the text alone stand in codes_text.go, those of names
// and their meaning in codes_names.go.
func Codes() []CodeInfo {
	all := append(textCodes(), nameCodes()...)
	slices.SortFunc(all, func(a, b CodeInfo) int { return cmp.Compare(a.Code, b.Code) })
	return all
}
