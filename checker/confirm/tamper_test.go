// Certificates that were changed, by accident or on purpose.

package confirm_test

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/certify"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
)

var forgeries = flag.Int("forgeries", 3000, "how many forged certificates to try")

// scratched changes a few bytes: flips a bit, takes some out, puts some in, swaps or repeats lines.
func scratched(r *rand.Rand, text string) string {
	b := []byte(text)
	at := r.IntN(len(b))
	switch r.IntN(6) {
	case 0:
		b[at] ^= 1 << r.IntN(8)
	case 1:
		b = slices.Delete(b, at, min(len(b), at+1+r.IntN(4)))
	case 2:
		b = slices.Insert(b, at, b[r.IntN(len(b))])
	case 3:
		b = b[:at]
	default:
		lines := bytes.SplitAfter(b, []byte("\n"))
		i, j := r.IntN(len(lines)), r.IntN(len(lines))
		if r.IntN(2) == 0 {
			lines[i], lines[j] = lines[j], lines[i]
		} else {
			lines = slices.Insert(lines, i, lines[j])
		}
		b = bytes.Join(lines, nil)
	}
	return string(b)
}

// No change of a certificate is taken, whatever it is: the last line is a checksum of all others, and there is one way to
// write it.
func TestChangedCertificates(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	tried := 0
	for seed := range uint64(12) {
		s := anySite(seed)
		proofs, _ := prove(t, s, checker.Limits{States: 3000})
		for _, p := range proofs {
			if _, err := confirms(s, p.text); err != nil {
				t.Fatalf("seed %d, requirement %d: not confirmed: %v", seed, p.requirement, err)
			}
			for range 60 {
				mutant := scratched(r, p.text)
				if mutant == p.text {
					continue
				}
				tried++
				if _, err := confirms(s, mutant); err == nil {
					t.Fatalf("seed %d, requirement %d: taken:\n%s\ninstead of\n%s", seed, p.requirement, mutant, p.text)
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d changes were tried", tried)
	}
}

// anySite is a random site with every construct, on one of its dates.
func anySite(seed uint64) *site.Site {
	o := sitegen.Everything()
	o.Requirements = 4
	s := sitegen.Generate(seed, o)
	if n := len(s.Dates); n > 0 {
		s = s.OnDate(int(seed) % n)
	}
	return s
}

// A forger who also makes the checksum right gets no broken requirement confirmed, nor any that is not of the site. (What is taken
// may well differ from what was written: a set that is closed as well is a proof as well.)
func TestForgedCertificates(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	tried, taken, aimed := 0, 0, 0
	for seed := uint64(100); tried < *forgeries; seed++ {
		s := anySite(seed)
		proofs, verdicts := prove(t, s, checker.Limits{States: 2000})
		if len(proofs) == 0 {
			continue
		}
		var broken []int
		for i, v := range verdicts {
			if v == checker.Fails {
				broken = append(broken, i)
			}
		}
		confirmed := map[int]map[int]bool{} // parts of broken requirements
		for range 40 {
			p := proofs[r.IntN(len(proofs))]
			text := p.text
			if len(broken) > 0 && r.IntN(4) > 0 {
				i := broken[r.IntN(len(broken))]
				n, ok := certify.Parts(&s.Requirements[i])
				if !ok || n == 0 {
					continue
				}
				text = retargeted(text, s, i, r.IntN(n), n)
				aimed++
			}
			for range r.IntN(4) {
				text = forged(r, text)
			}
			text = sealed(text)
			if len(text) > 200_000 {
				continue
			}
			tried++
			res, err := confirms(s, text)
			if err != nil {
				continue
			}
			taken++
			switch verdicts[res.Requirement] {
			case checker.Fails, checker.IsPossible:
				if confirmed[res.Requirement] == nil {
					confirmed[res.Requirement] = map[int]bool{}
				}
				confirmed[res.Requirement][res.Part] = true
				if len(confirmed[res.Requirement]) == res.Parts {
					t.Fatalf("seed %d: requirement %d is broken, but confirmed:\n%s\n%s", seed, res.Requirement, sitegen.Print(s), text)
				}
			}
		}
	}
	t.Logf("%d tried, %d of them said to be of a broken requirement, %d taken", tried, aimed, taken)
	if aimed < tried/4 || taken == 0 {
		t.Errorf("of %d forgeries %d were aimed at a broken requirement, and %d taken", tried, aimed, taken)
	}
}

// forged changes what a certificate says in one way that a forger may hope for.
func forged(r *rand.Rand, text string) string {
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	pick := func(word string) int { // a line that begins with the word
		var at []int
		for i, l := range lines {
			if strings.HasPrefix(l, word+" ") {
				at = append(at, i)
			}
		}
		if len(at) == 0 {
			return -1
		}
		return at[r.IntN(len(at))]
	}
	heads := []string{"input", "event", "band", "mode", "sequence", "lamp", "request", "free", "seen", "cycle", "segment", "period", "jump", "horizon",
		"clock", "unit"}
	switch r.IntN(9) {
	case 0: // a state less
		if i := pick("state"); i >= 0 {
			j := i + 1
			for j < len(lines) && strings.HasPrefix(lines[j], "zone ") {
				j++
			}
			lines = slices.Delete(lines, i, j)
		}
	case 1: // a zone less
		if i := pick("zone"); i >= 0 {
			lines = slices.Delete(lines, i, i+1)
		}
	case 2, 3: // a wider or a narrower zone
		if i := pick("zone"); i >= 0 {
			fields := strings.Fields(lines[i])
			for range 1 + r.IntN(3) {
				k := 1 + r.IntN(len(fields)-1)
				fields[k] = otherBound(r, fields[k])
			}
			lines[i] = strings.Join(fields, " ")
		}
	case 4: // another state: a token more, less or changed
		if i := pick("state"); i >= 0 {
			lines[i] = otherFields(r, lines[i])
		}
	case 5, 6: // another choice
		if i := pick(heads[r.IntN(len(heads))]); i >= 0 {
			lines[i] = otherFields(r, lines[i])
		}
	case 7: // a choice less
		if i := pick(heads[r.IntN(len(heads))]); i >= 0 {
			lines = slices.Delete(lines, i, i+1)
		}
	case 8: // a clock treated otherwise
		if i := pick("clock"); i >= 0 {
			fields := strings.Fields(lines[i])
			fields[len(fields)-1] = []string{"exact", "cooling", "relaxed"}[r.IntN(3)]
			lines[i] = strings.Join(fields, " ")
		}
	}
	if r.IntN(10) == 0 {
		return scratched(r, strings.Join(lines, "\n")+"\n")
	}
	return strings.Join(lines, "\n") + "\n"
}

func otherBound(r *rand.Rand, b string) string {
	v, err := strconv.Atoi(strings.TrimPrefix(b, "<"))
	if err != nil {
		return []string{"0", "<1", "5"}[r.IntN(3)]
	}
	switch r.IntN(4) {
	case 0:
		return "*"
	case 1:
		return fmt.Sprint("<", v)
	case 2:
		return fmt.Sprint(v + r.IntN(7) - 3)
	}
	return fmt.Sprint(v)
}

// otherFields takes out, repeats, swaps or changes the number in one of a line's fields.
func otherFields(r *rand.Rand, line string) string {
	fields := strings.Fields(line)
	if len(fields) < 2 {
		return line + " i0"
	}
	k := 1 + r.IntN(len(fields)-1)
	switch r.IntN(4) {
	case 0:
		fields = slices.Delete(fields, k, k+1)
	case 1:
		fields = slices.Insert(fields, k, fields[1+r.IntN(len(fields)-1)])
	default:
		digits := func(c rune) bool { return c >= '0' && c <= '9' }
		from := strings.IndexFunc(fields[k], digits)
		if from < 0 {
			break
		}
		to := from
		for to < len(fields[k]) && digits(rune(fields[k][to])) {
			to++
		}
		n, _ := strconv.Atoi(fields[k][from:to])
		fields[k] = fields[k][:from] + fmt.Sprint(max(0, n+r.IntN(5)-2)) + fields[k][to:]
	}
	return strings.Join(fields, " ")
}
