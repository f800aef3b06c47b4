// Standard output, watched: a result that nobody gets must not look like success.

package main

import (
	"errors"
	"io"
	"io/fs"
)

// stream notes the first error of a writer. Everything that a command prints goes through one.
type stream struct {
	w   io.Writer
	err error
}

// Write implements io.Writer.
func (s *stream) Write(p []byte) (int, error) {
	n, err := s.w.Write(p)
	if err != nil && s.err == nil {
		s.err = err
	}
	return n, err
}

// Unwrap gives the writer itself.
func (s *stream) Unwrap() io.Writer { return s.w }

// plainly gives the cause of an error without the name of the call that it came from.
func plainly(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}
