// Reading the files of a site.

package main

import (
	"fmt"
	"io"

	"lampwarden/lang"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// load reads files and folders as one site. Diagnostics go to the stream for messages, all of them; with an error
// among them there is no site.
func load(args []string, messages io.Writer) (*site.Site, *source.Set, error) {
	p, err := lang.Load(args)
	if err != nil {
		return nil, nil, &exit{exitInput, fmt.Errorf("%s", source.Escape(err.Error()))}
	}
	if err := p.WriteDiagnostics(messages, colored(messages)); err != nil {
		return nil, nil, &exit{exitOutput, err}
	}
	if p.Site == nil {
		return nil, nil, &exit{exitInput, nil}
	}
	return p.Site, p.Sources, nil
}
