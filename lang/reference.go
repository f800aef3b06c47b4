package lang

import _ "embed"

//go:embed LANGUAGE.md
var reference string

// Reference gives the language reference, lang/LANGUAGE.md, which package lang/lexicon takes apart into its entries.
func Reference() string { return reference }
