package certify

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/site"
)

// play tells an observer of steps and gives where it may be then, as place[.count], with + and the timers that start in the last
// step; x if it was broken on the way. A step is [due timers][!]:moment,moment; ! is a cause; the letters a, b, c are the
// expressions that are true at a moment.
func play(o observer, steps ...string) string {
	states, broken := []obsState{{}}, false
	var out []string
	for _, step := range steps {
		head, tail, _ := strings.Cut(step, ":")
		due := [2]bool{strings.Contains(head, "0"), strings.Contains(head, "1")}
		var moments []truth
		for _, m := range strings.Split(tail, ",") {
			var t truth
			for i, letter := range "abc" {
				if strings.ContainsRune(m, letter) {
					t |= 1 << i
				}
			}
			moments = append(moments, t)
		}
		var next []obsState
		out = nil
		for _, s := range states {
			run := o.timers(s)
			for _, n := range o.next(s, [2]bool{due[0] && run[0], due[1] && run[1]}, strings.Contains(head, "!"), moments) {
				if n.broken {
					broken = true
					continue
				}
				text := fmt.Sprint(n.state.place)
				if n.state.count > 0 {
					text += fmt.Sprintf(".%d", n.state.count)
				}
				for i, f := range n.fresh {
					if f {
						text += fmt.Sprintf("+%d", i)
					}
				}
				if !slices.Contains(next, n.state) {
					next, out = append(next, n.state), append(out, text)
				}
			}
		}
		states = next
	}
	slices.Sort(out)
	if broken {
		out = append(out, "x")
	}
	return strings.Join(out, " ")
}

// Traces worked out by hand from lang/SEMANTICS.md, section 5.
func TestObserversByHand(t *testing.T) {
	three := make([]*site.Expr, 3)
	for i := range three {
		three[i] = inputExpr(site.InputID(i))
	}
	noUntil := []*site.Expr{three[0], three[1], nil}
	form := func(f site.Form, n int, d, e site.Millis, exprs []*site.Expr) observer {
		return newObserver(part{form: f, exprs: exprs, d: [2]site.Millis{d, e}, n: n})
	}
	whenever := form(site.Whenever, 0, 10, 0, noUntil)
	atOnce := form(site.Whenever, 0, 0, 0, noUntil)
	until := form(site.Whenever, 0, 10, 0, three) // b: what must not be
	untilAtOnce := form(site.Whenever, 0, 0, 0, three)
	lasting := form(site.Whenever, 0, 10, 5, noUntil)
	lastingUntil := form(site.Whenever, 0, 10, 5, three)
	atMost := form(site.LastsAtMost, 0, 10, 0, three[:1])
	atMostNothing := form(site.LastsAtMost, 0, 0, 0, three[:1])
	atLeast := form(site.LastsAtLeast, 0, 10, 0, three[:1])
	twice := form(site.AtMostTimes, 2, 10, 0, three[:1])
	never := form(site.AtMostTimes, 0, 10, 0, three[:1])
	after := form(site.OnlyAfter, 0, 0, 0, three)
	settles := form(site.Settles, 0, 10, 0, three[:1])
	settlesAtOnce := form(site.Settles, 0, 0, 0, three[:1])
	for _, c := range []struct {
		name  string
		o     observer
		steps string
		want  string
	}{
		{"never: only at the instant", form(site.Never, 0, 0, 0, three[:1]), ": :a,", "x"},
		{"never", form(site.Possible, 0, 0, 0, three[:1]), ": :b", "0"},

		{"a rise at start-up", whenever, "!:a", "1+0"},
		{"answered at the rise, B from before", whenever, ":b :ab", "0"},
		{"answered at the deadline", whenever, ":a 0:ab", "0"},
		{"answered by the instant at the deadline", whenever, ":a 0:ab,a", "0"},
		{"not answered", whenever, ":a 0:a", "x"},
		{"a later rise has no deadline of its own while one is open", whenever, ":a : :a", "1"},
		{"what stays true rises once", whenever, ":a :ab :a", "0"},
		{"a rise after the answer of the same reaction", whenever, ": :b,a", "1+0"},
		{"answered at the deadline, and a new rise", whenever, ":a : 0:b,a", "1+0"},
		{"no time: answered by what is after", atOnce, ": :a,ab", "0"},
		{"no time: not answered", atOnce, ": :a,a", "x"},

		{"B may come and go before the deadline", until, ":a :a :ab", "1"},
		{"at the deadline only what is after counts", until, ":a 0:b,", "2"},
		{"B gone at the deadline", until, ":a 0:b", "x"},
		{"B gone later, at an instant", until, ":a 0: :b,", "x"},
		{"C in time", until, ":a :bc :b", "0"},
		{"C at the deadline's instant", until, ":a 0:bc,b", "0"},
		{"C and then B gone", until, ":a 0: :c, :b", "0"},
		{"C at the rise", until, ":ac 0:b", "0"},
		{"C before the rise of the same reaction", until, ": :c,a", "1+0"},
		{"no time: B gone at the rise", untilAtOnce, ": :ab", "x"},
		{"no time: B gone at the rise's instant alone", untilAtOnce, ": :ab,a", "2"},

		{"any rise or none is followed", lasting, ":a", "0 1+0"},
		{"B from before the rise counts from the rise", lasting, ":b :ab", "0 3+0+1"},
		{"B begins at the deadline", lasting, ":a 0:ab", "0 4+1"},
		{"B has not begun at the deadline", lasting, ":a 0:a", "0 x"},
		{"B of the instant alone", lasting, ":a 0:ab,a", "0 x"},
		{"B ends too soon, with time for another", lasting, ":a :ab :a", "0 1"},
		{"begun anew in one reaction", lasting, ":a :ab :a,ab", "0 3+1"},
		{"D has passed while B lasts", lasting, ":a :ab 0:ab", "0 4"},
		{"B ends just as it has lasted", lasting, ":a :ab 0:ab 1:a", "0"},
		{"B ends too soon and too late for another", lasting, ":a :ab 0:ab :a", "0 x"},
		{"it has lasted before D has passed", lasting, ":a :ab 1:a", "0"},
		{"until C: no longer needed", lastingUntil, ":a :ab :ac", "0"},
		{"until C: at the deadline", lastingUntil, ":a 0:ac", "0"},
		{"until C: too late", lastingUntil, ":a :ab 0:ab :a,ac", "0 x"},

		{"lasts: ends at the limit", atMost, ":a 0:", "0"},
		{"lasts: interrupted at the limit", atMost, ":a 0:,a", "1+0"},
		{"lasts: too long", atMost, ":a 0:a", "x"},
		{"lasts no time: the instant alone", atMostNothing, ": :a,", "0"},
		{"lasts no time: longer", atMostNothing, ": :a", "x"},

		{"at least: ends before", atLeast, ":a :", "x"},
		{"at least: ends just then", atLeast, ":a 0:", "0"},
		{"at least: goes on", atLeast, ":a 0:a :", "0"},
		{"at least: an instant", atLeast, ": :a,", "x"},
		{"at least: ends just then and rises again", atLeast, ":a 0:,a", "1+0"},
		{"at least: is interrupted later", atLeast, ":a 0:a :,a :", "x"},

		{"times: each rise may be the first", twice, ":a : :a", "0 1.1+0 1.2"},
		{"times: a third one", twice, ":a : :a : :a", "0 1.1+0 1.2 x"},
		{"times: a third one just D after the first", twice, ":a : :a : 0:a", "0 1.1+0"},
		{"times: none is allowed", never, ": :a", "0 x"},

		{"only after: before", after, ": :a", "x"},
		{"only after: at the same moment", after, ": :ab", "1"},
		{"only after: earlier", after, ":b : :a", "1"},
		{"only after: R since", after, ":b :c :a", "x"},
		{"only after: R counts before Q", after, ":bc :a", "1"},
		{"only after: Q at the instant, R after it", after, ":b,c :a", "x"},

		{"settles: start-up is a cause", settles, "!:a", "0+0"},
		{"settles: change within D and at D", settles, "!: :a 0:", "1"},
		{"settles: change later", settles, "!: 0: :a", "x"},
		{"settles: change with its cause", settles, "!: 0: !:a", "0+0"},
		{"settles: change later and back in one reaction", settles, "!: 0: :a,", "x"},
		{"settles: a cause as D passes", settles, "!: 0!:a", "0+0"},
		{"settles: no time", settlesAtOnce, "!:a", "1"},
	} {
		if got := play(c.o, strings.Fields(c.steps)...); got != c.want {
			t.Errorf("%s: %s gives %q, want %q", c.name, c.steps, got, c.want)
		}
	}
}
