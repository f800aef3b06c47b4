// A report as JSON.

package report

import (
	"bytes"
	"encoding/json"
	"io"
)

// JSON writes a report for programs: the Document, indented, with a line end.
func (d *Document) JSON(w io.Writer) error { return writeJSON(w, d) }

// writeJSON leaves no tag in a text that may stand in a page: "<" is written as its escape, which means the same.
func writeJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	_, err := w.Write(bytes.ReplaceAll(b.Bytes(), []byte("<"), []byte(`\u003c`)))
	return err
}
