// Each requirement form at its exact boundary (lang/SEMANTICS.md section 5).

package rehearse

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// bench is a site with nothing but inputs: a run is then what the script says, and requirements speak of the inputs.
type bench struct {
	s          *site.Site
	a, b, c    site.InputID
	key        site.InputID
	A, B, C, K *site.Expr
}

func newBench() bench {
	b := newBuilder()
	x := bench{a: b.input("a", site.Switch), b: b.input("b", site.Switch), c: b.input("c", site.Switch), key: b.input("key", site.Button)}
	x.A, x.B, x.C, x.K = isIn(x.a), isIn(x.b), isIn(x.c), tapped(x.key, site.Tap)
	x.s = b.done()
	return x
}

// change is one input change in a compact form: +a, -a, or a tap, at nanoseconds.
func (x bench) events(changes ...any) []Event {
	var out []Event
	for i := 0; i < len(changes); i += 2 {
		at, what := Nanos(changes[i].(int)), changes[i+1].(string)
		ins := map[byte]site.InputID{'a': x.a, 'b': x.b, 'c': x.c, 'k': x.key}
		out = append(out, Event{At: at, Input: ins[what[1]], Value: what[0] == '+'})
	}
	return out
}

// ms is a number of milliseconds in nanoseconds, for events.
const ms = int(Milli)

// verdict is the part of a judgement that most tests look at.
type verdict struct {
	Broken bool
	At     Nanos
	Since  Nanos
	Part   Part
}

func (x bench) judge(t *testing.T, r site.Requirement, end int, initial []site.InputID, changes ...any) Judgement {
	t.Helper()
	tl := mustRun(t, x.s, Script{Initial: initial, Events: x.events(changes...), End: Nanos(end)})
	return mustJudge(t, tl, &r)
}

func (x bench) want(t *testing.T, name string, r site.Requirement, want verdict, end int, changes ...any) {
	t.Helper()
	j := x.judge(t, r, end, nil, changes...)
	if d := cmp.Diff(want, verdict{j.Broken, j.At, j.Since, j.Part}); d != "" {
		t.Errorf("%s (-want +got):\n%s", name, d)
	}
}

var kept = verdict{}

func TestNeverAlways(t *testing.T) {
	x := newBench()
	never := site.Requirement{Form: site.Never, P: and(x.A, x.B)}
	x.want(t, "never", never, verdict{true, 5, 5, Forbidden}, 9, 3, "+a", 5, "+b")
	x.want(t, "never in turn", never, kept, 9, 3, "+a", 4, "-a", 5, "+b")
	always := site.Requirement{Form: site.Always, P: not(x.A)}
	x.want(t, "always", always, verdict{true, 3, 3, Forbidden}, 9, 3, "+a")
	instant := site.Requirement{Form: site.Never, P: and(x.K, x.A)}
	x.want(t, "an event at its instant", instant, verdict{true, 4, 4, Forbidden}, 9, 3, "+a", 4, "+k")
	x.want(t, "an event too early", instant, kept, 9, 2, "+k", 3, "+a")
	if j := x.judge(t, never, 9, []site.InputID{x.a, x.b}); !j.Broken || j.At != 0 {
		t.Errorf("at start-up: %+v", j)
	}
}

func TestWheneverWithin(t *testing.T) {
	x := newBench()
	r := site.Requirement{Form: site.Whenever, A: x.A, B: x.B, D: 5}
	a, d := 1*ms, 6*ms
	late := verdict{true, Nanos(d), Nanos(a), NotInTime}
	x.want(t, "exactly D is in time", r, kept, 20*ms, a, "+a", d, "+b")
	x.want(t, "one nanosecond later is not", r, late, 20*ms, a, "+a", d+1, "+b")
	x.want(t, "a run that ends before the deadline breaks nothing", r, kept, d-1, a, "+a")
	x.want(t, "one that reaches it does", r, late, d, a, "+a")
	x.want(t, "B true at the rise", r, kept, 20*ms, a-1, "+b", a, "+a", a+1, "-b")
	x.want(t, "B gone before the rise", r, late, 20*ms, a-2, "+b", a-1, "-b", a, "+a")
	x.want(t, "each rise counts", r, verdict{true, Nanos(d + 4), Nanos(a + 4), NotInTime}, 20*ms,
		a, "+a", a+1, "+b", a+2, "-b", a+3, "-a", a+4, "+a")
	r.B = x.K
	x.want(t, "an event is in time at its instant", r, kept, 20*ms, a, "+a", d, "+k")
	r.A, r.B, r.D = x.K, x.B, 0
	x.want(t, "D 0: at the same instant", r, verdict{true, 3, 3, NotInTime}, 9, 3, "+k")
	x.want(t, "D 0: already there", r, kept, 9, 2, "+b", 3, "+k")
}

func TestStartUpRises(t *testing.T) {
	x := newBench()
	r := site.Requirement{Form: site.Whenever, A: x.A, B: x.B, D: 5}
	j := x.judge(t, r, 9*ms, []site.InputID{x.a})
	want := Judgement{Broken: true, Triggered: true, At: 5 * Milli, Since: 0, Deadline: 5 * Milli, Part: NotInTime,
		False: []*site.Expr{x.B}}
	if d := cmp.Diff(want, j); d != "" {
		t.Error(d)
	}
	if j := x.judge(t, r, 9*ms, []site.InputID{x.a, x.b}); j.Broken || !j.Triggered {
		t.Errorf("%+v", j)
	}
	if j := x.judge(t, r, 9*ms, nil); j.Broken || j.Triggered {
		t.Errorf("vacuous: %+v", j)
	}
	least := site.Requirement{Form: site.LastsAtLeast, P: x.A, D: 5}
	if j := x.judge(t, least, 9*ms, []site.InputID{x.a}, 5*ms-1, "-a"); !j.Broken {
		t.Error("a stretch from start-up is judged")
	}
	times := site.Requirement{Form: site.AtMostTimes, P: x.A, N: 1, D: 5}
	if j := x.judge(t, times, 9*ms, []site.InputID{x.a}, 1, "-a", 5*ms-1, "+a"); !j.Broken || j.Since != 0 {
		t.Error("what is true at start-up rises there")
	}
}

func TestWheneverUntil(t *testing.T) {
	x := newBench()
	r := site.Requirement{Form: site.Whenever, A: x.A, B: x.B, Until: x.C, D: 5}
	a, d := 1*ms, 6*ms
	x.want(t, "B from exactly D on", r, kept, 20*ms, a, "+a", d, "+b")
	x.want(t, "one nanosecond late", r, verdict{true, Nanos(d), Nanos(a), NotInTime}, 20*ms, a, "+a", d+1, "+b")
	x.want(t, "B may come and go before a + D", r, kept, 20*ms, a, "+a", a+1, "+b", a+2, "-b", d, "+b")
	x.want(t, "but not be gone at a + D", r, verdict{true, Nanos(d), Nanos(a), NotInTime}, 20*ms, a, "+a", a+1, "+b", d, "-b")
	x.want(t, "nor later", r, verdict{true, Nanos(d + 1), Nanos(a), NotKept}, 20*ms, a, "+a", a+1, "+b", d+1, "-b")
	x.want(t, "the earlier rise is broken first", r, verdict{true, Nanos(d), Nanos(a), NotInTime}, 20*ms,
		a, "+a", a+1, "-a", a+2, "+a", d+1, "+b")
	x.want(t, "C before the deadline ends it", r, kept, 20*ms, a, "+a", d-1, "+c", d, "-c")
	x.want(t, "C at the deadline ends it", r, kept, 20*ms, a, "+a", d, "+c")
	x.want(t, "C after the deadline is too late", r, verdict{true, Nanos(d), Nanos(a), NotInTime}, 20*ms, a, "+a", d+1, "+c")
	x.want(t, "C before B goes", r, kept, 20*ms, a, "+a", a+1, "+b", d+1, "+c", d+2, "-b")
	x.want(t, "C true at the rise", r, kept, 20*ms, a-1, "+c", a, "+a")
	x.want(t, "C gone before the rise", r, verdict{true, Nanos(d), Nanos(a), NotInTime}, 20*ms, a-2, "+c", a-1, "-c", a, "+a")
	x.want(t, "the run ends before the deadline", r, kept, d-1, a, "+a")
	r.Until = x.K
	x.want(t, "an event ends it at its instant", r, kept, 20*ms, a, "+a", d, "+k")
	r.Until, r.B = x.C, or(x.B, x.K)
	x.want(t, "at a + D only the state after the reaction counts", r, verdict{true, Nanos(d), Nanos(a), NotInTime}, 20*ms,
		a, "+a", d, "+k")
	r.B = and(x.B, not(x.K))
	x.want(t, "and later its instant too", r, verdict{true, Nanos(d + 1), Nanos(a), NotKept}, 20*ms,
		a, "+a", a+1, "+b", d, "+k", d+1, "+k")
	// A new rise starts with a fresh D.
	r.B = x.B
	x.want(t, "a new rise after C", r, kept, 20*ms, a, "+a", a+1, "+c", a+2, "-c", a+3, "-a", a+4, "+a", d+4, "+b")
}

func TestWheneverFor(t *testing.T) {
	x := newBench()
	r := site.Requirement{Form: site.Whenever, A: x.A, B: x.B, D: 5, E: 10}
	a, d, e := 1*ms, 6*ms, 10*ms
	x.want(t, "from exactly D for exactly E", r, kept, 40*ms, a, "+a", d, "+b", d+e, "-b")
	x.want(t, "one nanosecond short", r, verdict{true, Nanos(d + e - 1), Nanos(a), NotKept}, 40*ms, a, "+a", d, "+b", d+e-1, "-b")
	x.want(t, "one nanosecond late", r, verdict{true, Nanos(d), Nanos(a), NotInTime}, 40*ms, a, "+a", d+1, "+b")
	x.want(t, "too short, then again in time", r, kept, 40*ms, a, "+a", a+1, "+b", a+2, "-b", d, "+b", d+e, "-b")
	x.want(t, "too short, known at the deadline", r, verdict{true, Nanos(d), Nanos(a), NotKept}, 40*ms, a, "+a", a+1, "+b", a+2, "-b")
	x.want(t, "B counts from the rise", r, verdict{true, Nanos(a + e - 1), Nanos(a), NotKept}, 40*ms, a-1, "+b", a, "+a", a+e-1, "-b")
	x.want(t, "and in full from there", r, kept, 40*ms, a-1, "+b", a, "+a", a+e, "-b")
	x.want(t, "not decided at the run's end", r, kept, d+e-1, a, "+a", d, "+b")
	r.Until = x.C
	x.want(t, "C ends the need", r, kept, 40*ms, a, "+a", d, "+b", d+1, "+c", d+2, "-b")
	x.want(t, "C after B has gone is too late", r, verdict{true, Nanos(d + 1), Nanos(a), NotKept}, 40*ms, a, "+a", d, "+b", d+1, "-b", d+2, "+c")
	x.want(t, "C in time without any B", r, kept, 40*ms, a, "+a", d, "+c")
	x.want(t, "C too late without any B", r, verdict{true, Nanos(d), Nanos(a), NotInTime}, 40*ms, a, "+a", d+1, "+c")
	r.Until, r.B = nil, and(x.B, not(x.K))
	x.want(t, "a gap of one instant is a gap", r, verdict{true, Nanos(d + 1), Nanos(a), NotKept}, 40*ms, a, "+a", d, "+b", d+1, "+k")
}

func TestStretches(t *testing.T) {
	x := newBench()
	most := site.Requirement{Form: site.LastsAtMost, P: x.A, D: 5}
	a := 1 * ms
	x.want(t, "at most: exactly D", most, kept, 20*ms, a, "+a", a+5*ms, "-a")
	x.want(t, "at most: one nanosecond longer", most, verdict{true, Nanos(a + 5*ms), Nanos(a), TooLong}, 20*ms, a, "+a", a+5*ms+1, "-a")
	x.want(t, "at most: cut by the end at D", most, kept, a+5*ms, a, "+a")
	x.want(t, "at most: cut by the end after D", most, verdict{true, Nanos(a + 5*ms), Nanos(a), TooLong}, a+5*ms+1, a, "+a")
	least := site.Requirement{Form: site.LastsAtLeast, P: x.A, D: 5}
	x.want(t, "at least: exactly D", least, kept, 20*ms, a, "+a", a+5*ms, "-a")
	x.want(t, "at least: one nanosecond shorter", least, verdict{true, Nanos(a + 5*ms - 1), Nanos(a), TooShort}, 20*ms, a, "+a", a+5*ms-1, "-a")
	x.want(t, "at least: cut by the end", least, kept, a+1, a, "+a")
	least.P = x.K
	x.want(t, "an event lasts no time", least, verdict{true, 3, 3, TooShort}, 9, 3, "+k")
	most.P, most.D = x.K, 0
	x.want(t, "which is not longer than 0", most, kept, 9, 3, "+k")
}

func TestAtMostTimes(t *testing.T) {
	x := newBench()
	// Source: WCAG 2.x success criterion 2.3.1, no more than three flashes in any one second; the window is half open, so
	// the fourth rise a full second after the first is allowed.
	r := site.Requirement{Form: site.AtMostTimes, P: x.A, N: 3, D: 1000}
	rises := func(fourth int) []any {
		return []any{10, "+a", 20, "-a", 300 * ms, "+a", 400 * ms, "-a", 600 * ms, "+a", 700 * ms, "-a", 10 + fourth, "+a"}
	}
	x.want(t, "exactly D after the first", r, kept, 3000*ms, rises(1000*ms)...)
	x.want(t, "one nanosecond sooner", r, verdict{true, Nanos(10 + 1000*ms - 1), 10, TooOften}, 3000*ms, rises(1000*ms-1)...)
	r.P = x.K
	x.want(t, "events rise one by one", r, verdict{true, 4, 1, TooOften}, 9, 1, "+k", 2, "+k", 3, "+k", 4, "+k")
}

func TestOnlyAfter(t *testing.T) {
	x := newBench()
	r := site.Requirement{Form: site.OnlyAfter, P: x.A, Q: x.B}
	x.want(t, "without Q", r, verdict{true, 3, 0, TooSoon}, 9, 3, "+a")
	x.want(t, "Q earlier", r, kept, 9, 1, "+b", 2, "-b", 3, "+a")
	x.want(t, "Q later", r, verdict{true, 3, 0, TooSoon}, 9, 3, "+a", 4, "+b")
	r.Q = x.K
	x.want(t, "Q an event", r, kept, 9, 1, "+k", 3, "+a")
	r.P = x.K
	x.want(t, "at the same moment", r, kept, 9, 3, "+k")
	r.P, r.Q, r.Since = x.A, x.B, x.C
	x.want(t, "Q not since R", r, verdict{true, 5, 5, TooSoon}, 9, 1, "+b", 2, "-b", 3, "+c", 5, "+a")
	x.want(t, "Q not since R, which is over", r, verdict{true, 6, 3, TooSoon}, 9, 1, "+b", 2, "-b", 3, "+c", 5, "-c", 6, "+a")
	x.want(t, "Q while R lasts, true to its end", r, kept, 9, 1, "+c", 2, "+b", 3, "-c", 4, "-b", 5, "+a")
	x.want(t, "Q over before R ends", r, verdict{true, 5, 3, TooSoon}, 9, 1, "+c", 2, "+b", 3, "-b", 4, "-c", 5, "+a")
	x.want(t, "R never: since start-up", r, kept, 9, 1, "+b", 2, "-b", 5, "+a")
	r.Q, r.Since = x.K, x.K
	x.want(t, "at one moment R counts before Q", r, kept, 9, 1, "+k", 2, "+a")
}

func TestPossible(t *testing.T) {
	x := newBench()
	r := site.Requirement{Form: site.Possible, P: and(x.A, x.K)}
	if j := x.judge(t, r, 9, nil, 2, "+a", 3, "+k"); !j.Witness || j.Broken || j.At != 3 {
		t.Errorf("%+v", j)
	}
	if j := x.judge(t, r, 9, nil, 2, "+a"); j.Witness || j.Broken {
		t.Errorf("%+v", j)
	}
}

// The parts that are responsible.
func TestBlame(t *testing.T) {
	x := newBench()
	both := and(x.A, or(x.B, x.C), not(x.K))
	for name, tt := range map[string]struct {
		expr    *site.Expr
		initial []site.InputID
		want    []*site.Expr
	}{
		"false and":      {both, []site.InputID{x.a}, []*site.Expr{x.B, x.C}},
		"true and":       {both, []site.InputID{x.a, x.c}, []*site.Expr{x.A, x.C, both.Kids[2]}},
		"not and":        {not(and(x.A, x.B)), []site.InputID{x.b}, []*site.Expr{x.A}},
		"too many":       {&site.Expr{Op: site.OpAtMost, N: 1, Kids: []*site.Expr{x.A, x.B, x.C}}, []site.InputID{x.a, x.c}, []*site.Expr{x.A, x.C}},
		"few enough":     {&site.Expr{Op: site.OpAtMost, N: 2, Kids: []*site.Expr{x.A, x.B, x.C}}, []site.InputID{x.a, x.c}, []*site.Expr{x.B}},
		"too few":        {&site.Expr{Op: site.OpAtLeast, N: 2, Kids: []*site.Expr{x.A, x.B, x.C}}, []site.InputID{x.a}, []*site.Expr{x.B, x.C}},
		"single literal": {x.A, nil, []*site.Expr{x.A}},
	} {
		tl := mustRun(t, x.s, Script{Initial: tt.initial})
		if d := cmp.Diff(tt.want, tl.after(0).blame(tt.expr)); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

// Moves are moments: a light that passes through a range has risen and fallen there.
func TestMovesAreMoments(t *testing.T) {
	s, c, full, _, _ := dimmer()
	never := site.Requirement{Form: site.Never, P: light(c, 2000, 8000)}
	events := []Event{turn(sec, full, true)}
	tl := mustRun(t, s, Script{End: 9 * sec, Events: events})
	if mustJudge(t, tl, &never).Broken {
		t.Error("the lamp jumped")
	}
	tl = mustRun(t, s, Script{End: 9 * sec, Events: events, Moves: []Move{{sec + 7, c, 5000}}})
	if j := mustJudge(t, tl, &never); !j.Broken || j.At != sec+7 {
		t.Errorf("the lamp passed: %+v", j)
	}
	// Full within 1 s of the switch, exactly: T is 300 ms + 700 ms.
	r := site.Requirement{Form: site.Whenever, A: isIn(full), B: light(c, site.Full, site.Full), Until: not(isIn(full)), D: 1000}
	if j := mustJudge(t, tl, &r); j.Broken {
		t.Errorf("%+v", j)
	}
	if r.D = 999; !mustJudge(t, tl, &r).Broken {
		t.Error("one millisecond less is broken")
	}
}
