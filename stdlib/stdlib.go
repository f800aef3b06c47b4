// Package stdlib holds requirement packs: ready-made requirements in the language itself, embedded as texts. A pack
// names inputs and tags that a site has to have; it says which in its head. For now a pack is used by giving its text
// as one more file of a site.
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
