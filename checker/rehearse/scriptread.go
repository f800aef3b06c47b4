// Reading a run from a file: strictly, and within bounds, as the file may come from anyone.

package rehearse

import (
	"bytes"
	"fmt"
	"io"
	"strconv"
	"strings"

	"lampwarden/lang/site"
)

// maxRunFile bounds the size of a file in bytes, longestRun its times.
const (
	maxRunFile = 16 << 20
	longestRun = 3660 * Day
)

// RunFileError says what is wrong with a file.
type RunFileError struct {
	Line   int
	Reason string
}

// Error says it with its line.
func (e *RunFileError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Reason) }

// ReadRun reads what WriteRun writes for the site, which is the whole one if it has Dates. The error is a *RunFileError, or
// that of the reader. Whether the run keeps the rules of runs is for Run to say.
func ReadRun(s *site.Site, r io.Reader) (*SavedRun, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxRunFile+1))
	if err != nil {
		return nil, err
	}
	if len(text) > maxRunFile {
		return nil, &RunFileError{1, fmt.Sprintf("the file has more than %d bytes", maxRunFile)}
	}
	p := &runReader{s: s, text: text, out: &SavedRun{Site: s}}
	p.advance()
	if p.err == nil && string(p.text[p.from:p.at-1]) != runForm {
		p.fail("expected the line %q", runForm)
	}
	if p.err == nil {
		p.advance()
	}
	p.head()
	p.script()
	p.end()
	if p.err != nil {
		return nil, p.err
	}
	return p.out, nil
}

// runReader goes through a file line by line. After an error it stands still.
type runReader struct {
	s    *site.Site
	text []byte // the whole file
	from int    // the first byte of the present line
	at   int    // the first byte after it
	line int
	word string // its first field
	rest []string
	err  error
	out  *SavedRun
}

func (p *runReader) fail(format string, args ...any) {
	if p.err == nil {
		p.err = &RunFileError{p.line, fmt.Sprintf(format, args...)}
	}
}

// advance goes to the next line.
func (p *runReader) advance() {
	p.line++
	n := bytes.IndexByte(p.text[p.at:], '\n')
	if n < 0 {
		p.fail("expected another line, ended by a line feed")
		return
	}
	p.from = p.at
	p.at += n + 1
	fields := strings.Split(string(p.text[p.from:p.at-1]), " ")
	p.word, p.rest = fields[0], fields[1:]
}

// take reads the present line's fields with f, if it has the word, and goes on. There must be so many; -1: one or more.
func (p *runReader) take(word string, count int, f func(fields []string)) (ok bool) {
	if p.err != nil || p.word != word {
		return false
	}
	if n := len(p.rest); count >= 0 && n != count || n == 0 {
		p.fail("a line %q has %d fields", word, n)
		return false
	}
	if f(p.rest); p.err != nil {
		return false
	}
	p.advance()
	return p.err == nil
}

// must is take for a line that has to be there.
func (p *runReader) must(word string, count int, f func(fields []string)) {
	if !p.take(word, count, f) {
		p.fail("expected a line %q", word+" ...")
	}
}

// number reads a whole number, written in the one way.
func (p *runReader) number(f string, least, most int64) int64 {
	n, err := strconv.ParseInt(f, 10, 64)
	if err != nil || strconv.FormatInt(n, 10) != f || n < least || n > most {
		p.fail("expected a number from %d to %d in place of %q", least, most, f)
		return least
	}
	return n
}

// id reads an index into a table of so many.
func (p *runReader) id(f string, count int) int {
	if count == 0 {
		p.fail("the site has none of these")
	}
	return int(p.number(f, 0, max(0, int64(count)-1)))
}

func (p *runReader) time(f string) Nanos       { return Nanos(p.number(f, 0, int64(longestRun))) }
func (p *runReader) input(f string) int        { return p.id(f, len(p.s.Inputs)) }
func (p *runReader) level(f string) site.Level { return site.Level(p.number(f, 0, 1<<20)) }
func (p *runReader) circuit(f string) site.CircuitID {
	return site.CircuitID(p.id(f, len(p.s.Circuits)))
}

// head reads for which site and requirement the run is.
func (p *runReader) head() {
	var fingerprint, own string
	p.must("site", 1, func(f []string) {
		if fingerprint = f[0]; len(p.s.Dates) == 0 {
			p.sameSite(p.s, fingerprint)
		}
	})
	p.must("requirement", 2, func(f []string) {
		p.out.Requirement, own = p.id(f[0], len(p.s.Requirements)), f[1]
		if p.err == nil && site.Fingerprint(&p.s.Requirements[p.out.Requirement]) != own {
			p.fail("it is of another requirement")
		}
	})
	if len(p.s.Dates) > 0 {
		p.must("date", -1, func(f []string) { p.date(strings.Join(f, " "), fingerprint) })
	}
}

func (p *runReader) sameSite(s *site.Site, fingerprint string) {
	if site.Fingerprint(s) != fingerprint {
		p.fail("it is of another site, or of another version of it")
	}
}

// date finds the site of the date that the file names. Two dates may have one name.
func (p *runReader) date(quoted, fingerprint string) {
	name, err := strconv.Unquote(quoted)
	if err != nil || strconv.QuoteToASCII(name) != quoted {
		p.fail("expected a date in quotes in place of %q", quoted)
		return
	}
	for i := range p.s.Dates {
		if p.s.Dates[i].Name == name {
			if p.out.Site = p.s.OnDate(i); site.Fingerprint(p.out.Site) == fingerprint {
				return
			}
		}
	}
	p.fail("it is of another site, or of another version of it")
}

// script reads what the environment does.
func (p *runReader) script() {
	sc := &p.out.Script
	p.must("start", 1, func(f []string) { sc.Start = Nanos(p.number(f[0], 0, int64(Week)-1)) })
	p.take("initial", -1, func(f []string) {
		for _, x := range f {
			sc.Initial = append(sc.Initial, site.InputID(p.input(x)))
		}
	})
	for p.take("change", 3, p.change) || p.take("event", 3, p.event) {
	}
	for p.take("move", 3, func(f []string) {
		sc.Moves = append(sc.Moves, Move{p.time(f[0]), p.circuit(f[1]), p.level(f[2])})
	}) {
	}
	for p.take("choice", 3, func(f []string) {
		sc.Choices = append(sc.Choices, Choice{p.time(f[0]), p.circuit(f[1]), p.level(f[2])})
	}) {
	}
	for p.take("jump", 2, func(f []string) {
		sc.Jumps = append(sc.Jumps, Jump{p.time(f[0]), site.Millis(p.number(f[1], -int64(site.Day), int64(site.Day)))})
	}) {
	}
	p.must("last", 1, func(f []string) { sc.End = p.time(f[0]) })
}

// change reads a level input's change.
func (p *runReader) change(f []string) {
	e := Event{At: p.time(f[0]), Input: site.InputID(p.input(f[1])), Value: p.number(f[2], 0, 1) == 1}
	if p.err == nil && p.s.Inputs[e.Input].Kind.IsEvent() {
		p.fail("input %d has events, no value", e.Input)
	}
	p.out.Script.Events = append(p.out.Script.Events, e)
}

// event reads an event input's event.
func (p *runReader) event(f []string) {
	e := Event{At: p.time(f[0]), Input: site.InputID(p.input(f[1])), Gesture: site.Gesture(p.number(f[2], 0, int64(site.Release)))}
	if p.err == nil && !p.s.Inputs[e.Input].Kind.IsEvent() {
		p.fail("input %d has a value, no events", e.Input)
	}
	p.out.Script.Events = append(p.out.Script.Events, e)
}

// end checks the last line.
func (p *runReader) end() {
	switch {
	case p.err != nil:
	case p.word != "end" || len(p.rest) != 1:
		p.fail("expected a line %q", "end ...")
	case p.rest[0] != sumOf(p.text[:p.from]):
		p.fail("the checksum does not fit: the file was changed or damaged")
	case p.at != len(p.text):
		p.fail("expected nothing after the last line")
	}
}
