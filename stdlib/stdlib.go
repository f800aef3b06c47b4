// Package stdlib holds requirement packs: ready-made requirements in the language itself, embedded as texts. A site
// takes one with `use "escape"`, and sets the parameters that the pack declares, such as the input that stands for a
// fire. The loader (package lang) reads a pack when a site uses it.
//
// Naming key: a pack's name is its file's name without the ending.
package stdlib

import (
	"embed"
	"strings"
)

//go:embed *.lamp
var packs embed.FS

// Names lists the packs in alphabetical order.
func Names() []string {
	entries, err := packs.ReadDir(".")
	if err != nil {
		return nil // an embedded root can always be read
	}
	var out []string
	for _, e := range entries {
		out = append(out, strings.TrimSuffix(e.Name(), ".lamp"))
	}
	return out
}

// Text gives the text of a pack; ok is false for a name that is none.
func Text(name string) (text string, ok bool) {
	b, err := packs.ReadFile(name + ".lamp")
	return string(b), err == nil
}
