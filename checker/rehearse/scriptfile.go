// Runs in files: the counterexample of a requirement, to be played again by someone else.
//
// A file is text, a record to a line, fields separated by one blank, in this order (records of one kind in their own order):
//
//	lampwarden-run 1
//	site <fingerprint>                  site.Fingerprint of the site that was played: with Dates, of the one of its date
//	requirement <index> <fingerprint>
//	date <quoted name>                  only for a site with Dates
//	start <time>                        of the week; all times are nanoseconds, all others since start-up
//	initial <input>...                  left out if there are none
//	change <time> <input> 0|1           of a level input
//	event <time> <input> <gesture>      of an event input
//	move <time> <circuit> <level>
//	choice <time> <circuit> <level>
//	jump <time> <milliseconds>
//	last <time>                         the run's end
//	end <sha256 of every byte before this line, in hexadecimal>
//
// Such a file needs no trust: a run that keeps the rules and breaks the requirement shows that it can be broken, whoever wrote it.

package rehearse

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strconv"

	"lampwarden/lang/site"
)

const runForm = "lampwarden-run 1"

// maxReplayed is maxKept for runs out of files, which may come from anyone.
const maxReplayed = 4_000_000

// SavedRun is what a file of a run says.
type SavedRun struct {
	Requirement int
	Site        *site.Site // that on which it is played: with Dates, the one of its date
	Script      Script
}

// Replay plays the run and judges its requirement. An error tells why it is no run that counts for the requirement; see Run and
// Judge.
func (r *SavedRun) Replay() (Judgement, error) {
	tl, err := playWithin(r.Site, r.Script, false, maxReplayed)
	if err != nil {
		return Judgement{}, err
	}
	return Judge(r.Site, tl, &r.Site.Requirements[r.Requirement])
}

// WriteRun writes a run in which a requirement of the site is broken (or possible) as a file. The site is the one that was played
// (Timeline.Site), the requirement an index into its table.
func WriteRun(w io.Writer, s *site.Site, requirement int, sc *Script) error {
	var b bytes.Buffer
	line := func(word string, fields ...any) {
		b.WriteString(word)
		for _, f := range fields {
			fmt.Fprintf(&b, " %v", f)
		}
		b.WriteByte('\n')
	}
	line(runForm)
	line("site", site.Fingerprint(s))
	line("requirement", requirement, site.Fingerprint(&s.Requirements[requirement]))
	if s.Date != "" {
		line("date", strconv.QuoteToASCII(s.Date))
	}
	line("start", int64(sc.Start))
	if len(sc.Initial) > 0 {
		var ids []any
		for _, in := range sc.Initial {
			ids = append(ids, in)
		}
		line("initial", ids...)
	}
	for _, e := range sc.Events {
		switch {
		case s.Inputs[e.Input].Kind.IsEvent():
			line("event", int64(e.At), e.Input, uint8(e.Gesture))
		case e.Value:
			line("change", int64(e.At), e.Input, 1)
		default:
			line("change", int64(e.At), e.Input, 0)
		}
	}
	for _, m := range sc.Moves {
		line("move", int64(m.At), m.Circuit, int32(m.Level))
	}
	for _, c := range sc.Choices {
		line("choice", int64(c.At), c.Circuit, int32(c.Level))
	}
	for _, j := range sc.Jumps {
		line("jump", int64(j.At), int64(j.By))
	}
	line("last", int64(sc.End))
	line("end", sumOf(b.Bytes()))
	_, err := w.Write(b.Bytes())
	return err
}

func sumOf(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}
