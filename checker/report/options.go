// Options of the renderers.

package report

// Options of the text and JSON renderers. The zero value is plain text of 80 columns without figures.
type Options struct {
	Width int  // columns of text; 0: 80; never less than 40
	Color bool // style the verdicts for a terminal
	Quiet bool // only what needs attention, and one closing line
	Stats bool // what the run cost; such output is not the same on every run
}

func (o Options) width() int {
	switch {
	case o.Width == 0:
		return 80
	case o.Width < 40:
		return 40
	}
	return o.Width
}
