// A report as JSON.

package report

import (
	"encoding/json"
	"io"
)

// JSON writes a report for programs: the Document, indented, with a line end.
func (d *Document) JSON(w io.Writer) error { return writeJSON(w, d) }

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
