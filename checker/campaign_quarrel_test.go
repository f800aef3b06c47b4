// Campaign: a site on which two checkers disagree is made as small as it can be and written out.

package checker_test

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"time"

	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
)

// shrinkingTime bounds how long one site is made smaller.
const shrinkingTime = 3 * time.Minute

// quarrel is a disagreement with the small site that shows it.
type quarrel struct {
	seed uint64
	kind string // of the sample
	what disagreement
	file string // "": it could not be written, and why stands in the text
	text string // of the file
}

func (q quarrel) String() string {
	at := q.file
	if at == "" {
		at = "\n" + q.text
	}
	return fmt.Sprintf("DISAGREEMENT seed %d (%s): %s: %s", q.seed, q.kind, q.what, at)
}

// settle shrinks the sample's site as long as a disagreement of the same kind persists, and writes it. It is looked at the
// same way each time, but that the answers of a shrunk site are its own.
func (c *campaign) settle(x sample, d disagreement) *quarrel {
	until := time.Now().Add(shrinkingTime)
	x.findings = strings.HasPrefix(d.kind, "finding") || strings.HasPrefix(d.kind, "replay of finding")
	x.solver = strings.HasPrefix(d.kind, "solver")
	last := d
	smaller := sitegen.Shrink(x.site(), func(s *site.Site) bool {
		if time.Now().After(until) {
			return false
		}
		wrong := c.lookAt(x, s).wrong
		i := slices.IndexFunc(wrong, func(w disagreement) bool { return w.kind == d.kind })
		if i >= 0 {
			last = wrong[i]
		}
		return i >= 0
	})
	q := &quarrel{seed: x.seed, kind: x.kind, what: last}
	q.text = fmt.Sprintf("# Seed %d, a site of the kind %q with the options%s, made smaller.\n%s\n%s", x.seed, x.kind, optionsText(x.opt),
		commented("Disagreement: "+last.String()), sitegen.Print(smaller))
	if err := os.MkdirAll(c.dir, 0o777); err != nil {
		q.text += commented(err.Error())
		return q
	}
	file := filepath.Join(c.dir, fmt.Sprintf("seed-%d.lamp", x.seed))
	if err := os.WriteFile(file, []byte(q.text), 0o666); err != nil {
		q.text += commented(err.Error())
		return q
	}
	q.file = file
	return q
}

// optionsText gives the options that are set.
func optionsText(o sitegen.Options) (out string) {
	for _, v := range []reflect.Value{reflect.ValueOf(o), reflect.ValueOf(o.Features)} {
		for i := range v.NumField() {
			if f := v.Type().Field(i); !f.Anonymous && !v.Field(i).IsZero() {
				out += fmt.Sprintf(" %s %v", f.Name, v.Field(i))
			}
		}
	}
	return out
}

func commented(text string) string {
	return "# " + strings.ReplaceAll(strings.TrimSpace(text), "\n", "\n# ")
}

// found lists the quarrels by their seeds.
func (c *campaign) found() []quarrel {
	slices.SortFunc(c.quarrels, func(a, b quarrel) int {
		if a.seed < b.seed {
			return -1
		}
		return 1
	})
	return c.quarrels
}
