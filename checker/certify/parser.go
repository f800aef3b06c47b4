// Lines and fields of a certificate.

package certify

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"hash"
	"io"
	"strings"
)

// many is no limit on the number of fields.
const many = 1 << 30

// parser stands at a line. After an error it stands still.
type parser struct {
	r    *bufio.Reader
	hash hash.Hash // of the lines before the present one
	err  error
	over bool // there are no more lines

	line int // counted from 1
	text string
	word string   // its first field
	rest []string // the others
}

func newParser(r io.Reader) *parser {
	p := &parser{r: bufio.NewReaderSize(r, 1<<16), hash: sha256.New()}
	p.fetch()
	return p
}

// sum is the checksum of the lines before the present one, in hexadecimal.
func (p *parser) sum() string { return hex.EncodeToString(p.hash.Sum(nil)) }

// advance goes to the next line.
func (p *parser) advance() {
	if p.err == nil && !p.over {
		io.WriteString(p.hash, p.text)
		io.WriteString(p.hash, "\n")
		p.fetch()
	}
}

// fetch reads a line.
func (p *parser) fetch() {
	var long []byte
	p.line++
	for {
		b, err := p.r.ReadSlice('\n')
		long = append(long, b...)
		switch {
		case errors.Is(err, bufio.ErrBufferFull) && len(long) <= maxLine:
			continue
		case errors.Is(err, bufio.ErrBufferFull):
			p.fail("a line of more than %d bytes", maxLine)
		case err == io.EOF && len(long) == 0:
			p.text, p.word, p.rest, p.over = "", "", nil, true
			return
		case err == io.EOF:
			p.fail("the last line has no end")
		case err != nil:
			p.err = err
		}
		break
	}
	p.text = strings.TrimSuffix(string(long), "\n")
	fields := strings.Split(p.text, " ")
	p.word, p.rest = fields[0], fields[1:]
}

// fail notes an error at the present line; the first one counts.
func (p *parser) fail(format string, args ...any) { p.failAt(p.line, format, args...) }

func (p *parser) failAt(line int, format string, args ...any) {
	if p.err == nil {
		p.err = reject(line, format, args...)
	}
}

// need reads a line that must begin with the word and have so many fields more. It gives nil after an error.
func (p *parser) need(word string, least, most int) []string {
	if p.err == nil && (p.over || p.word != word) {
		p.fail("expected a line %q", word+" ...")
	}
	if p.err != nil {
		return nil
	}
	if n := len(p.rest); n < least || n > most {
		p.fail("a line %q has %d fields", word+" ...", n)
		return nil
	}
	for _, f := range p.rest {
		if f == "" {
			p.fail("expected one blank between fields")
			return nil
		}
	}
	out := p.rest
	p.advance()
	return out
}

// maybe is need for a line that may be missing.
func (p *parser) maybe(word string, least, most int) []string {
	if p.err != nil || p.over || p.word != word {
		return nil
	}
	return p.need(word, least, most)
}

// number reads a whole number of at most 13 digits, the previous line's if it was just read.
func (p *parser) number(f string) int {
	n, ok := number(f)
	if !ok {
		p.failAt(p.line-1, "expected a number in place of %q", f)
	}
	return n
}

// number reads a whole number written in the one way.
func number(f string) (n int, ok bool) {
	if f == "" || len(f) > 13 || len(f) > 1 && f[0] == '0' {
		return 0, false
	}
	for _, d := range []byte(f) {
		if d < '0' || d > '9' {
			return 0, false
		}
		n = n*10 + int(d-'0')
	}
	return n, true
}

// ascending reads numbers that ascend.
func ascending[T ~int | ~int32 | ~int64](p *parser, fields []string) (out []T) {
	for _, f := range fields {
		n := p.number(f)
		v := T(n)
		if k := len(out); int64(v) != int64(n) || k > 0 && v <= out[k-1] {
			p.failAt(p.line-1, "expected ascending numbers")
		}
		out = append(out, v)
	}
	return out
}
