// Energy requirements: "the battery lasts at least D", "the energy per D is at most E".
//
// What a run uses is a sum over many circuits and a long time, so it is bounded circuit by circuit. For each circuit the
// highest level that it can have some time after the outage began (or at any time, if the requirement knows no outage)
// is a question of reachability with a small slice; the times are steps of a staircase: at once, after a minute, and so
// on. The sum of power times the stairs bounds every run: if it is within the limit, the requirement is proved. If not, a
// run that breaks it is looked for: one with a power above the average that the limit allows, kept up so long as the
// requirement speaks of. The interpreter adds up what such a run really uses. Where neither works the verdict is
// undecided, with the bound.

package checker

import (
	"context"
	"fmt"
	"math/big"

	"lampwarden/checker/machine"
	"lampwarden/checker/observe"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
)

// stairs are the times after which the levels of the circuits are asked for again.
var stairs = [...]site.Millis{0, 2_000, 60_000, 5 * 60_000, 30 * 60_000}

// energy decides one energy requirement.
type energy struct {
	p   *prover
	req *site.Requirement
	// rests are the resting levels of each circuit of Draws; top[k][i] is the index in rests[i] of the highest
	// that it is known to have after stairs[k].
	rests [][]site.Level
	top   [][]int
	stats Stats
	why   string
	more  bool

	index  int // of the requirement
	claims int // certified so far
}

// decideEnergy gives the verdict on the requirement with the index.
func (p *prover) decideEnergy(ctx context.Context, index int) (out Outcome, again bool, err error) {
	r := &p.site.Requirements[index]
	e := &energy{p: p, req: r, index: index}
	for _, d := range r.Draws {
		e.rests = append(e.rests, p.site.Rests(d.Circuit))
	}
	for range e.steps() {
		row := make([]int, len(r.Draws))
		for i := range row {
			row[i] = len(e.rests[i]) - 1
		}
		e.top = append(e.top, row)
	}
	ok, err := e.bounded(ctx)
	if err != nil {
		return out, false, err
	}
	if ok {
		return Outcome{Verdict: Proved, Stats: e.stats}, false, nil
	}
	ce, err := e.witness(ctx)
	switch {
	case err != nil:
		return out, false, err
	case ce != nil:
		return Outcome{Verdict: Fails, Counterexample: ce, Stats: e.stats}, false, nil
	}
	return Outcome{Reason: e.reason(), Stats: e.stats}, e.more, nil
}

// reason says how far it got.
func (e *energy) reason() string {
	most := new(big.Rat).SetFrac(e.bound(), big.NewInt(3_600_000*int64(site.Full)*1000))
	text := fmt.Sprintf("a run may use up to %s Wh, by adding up what each circuit can use, and no run was found that uses more than the limit", most.FloatString(2))
	if e.why != "" {
		text += " (" + e.why + ")"
	}
	return text
}

// steps gives the stairs that count.
func (e *energy) steps() []site.Millis {
	if e.req.During == nil {
		return stairs[:1]
	}
	n := 0
	for n < len(stairs) && (n == 0 || stairs[n] < e.req.D) {
		n++
	}
	return stairs[:n]
}

// limit is the limit in milliwatt milliseconds times Full.
func (e *energy) limit() *big.Int {
	l := big.NewInt(e.req.Limit)
	return l.Mul(l, big.NewInt(3_600_000*int64(site.Full)))
}

// bound is what any run uses at most, in the same unit.
func (e *energy) bound() *big.Int {
	sum, steps := new(big.Int), e.steps()
	for k := range steps {
		end := e.req.D
		if k+1 < len(steps) {
			end = steps[k+1]
		}
		power := new(big.Int).Mul(big.NewInt(e.req.Standing), big.NewInt(int64(site.Full)))
		for i, d := range e.req.Draws {
			power.Add(power, new(big.Int).Mul(big.NewInt(d.Weight), big.NewInt(int64(e.rests[i][e.top[k][i]]))))
		}
		sum.Add(sum, power.Mul(power, big.NewInt(int64(end-steps[k]))))
	}
	return sum
}

func (e *energy) within() bool { return e.bound().Cmp(e.limit()) <= 0 }

// bounded lowers the stairs, the latest first, as they count most, until the bound is within the limit or there is
// nothing left to lower. What stays undecided stays high.
func (e *energy) bounded(ctx context.Context) (bool, error) {
	steps := e.steps()
	for k := len(steps) - 1; k >= 0; k-- {
		for i := range e.req.Draws {
			for e.top[k][i] > 0 && !e.within() {
				can, err := e.reaches(ctx, i, e.rests[i][e.top[k][i]-1]+1, steps[k])
				if err != nil {
					return false, err
				}
				if can {
					break
				}
				e.top[k][i]--
			}
		}
	}
	return e.within(), nil
}

// reaches asks whether circuit i of the draws can be at level or above so long after the outage began.
func (e *energy) reaches(ctx context.Context, i int, level site.Level, after site.Millis) (bool, error) {
	r := e.req
	high := &site.Expr{Op: site.OpLight, Circuit: r.Draws[i].Circuit, Lo: level, Hi: site.Full}
	obs := observe.Goal(high)
	var given []*site.Expr
	if r.During != nil {
		obs, given = observe.Later(r.During, high, after), []*site.Expr{r.During}
	}
	a, err := e.ask(ctx, observe.Piece{Observer: obs, Given: given})
	if err == nil && a.state == safe {
		err = e.p.certify(e.index, e.claims, 0, &Claim{r.Draws[i].Circuit, level, after}, &a)
		e.claims++
	}
	return a.state != safe, err
}

func (e *energy) ask(ctx context.Context, pc observe.Piece) (answer, error) {
	a, err := e.p.decide(ctx, question{piece: pc, goal: machine.NoGoal(), faults: e.req.Faults, atMost: e.req.AtMost})
	e.stats.Add(a.stats)
	if a.state == undecided {
		e.why, e.more = e.p.reason(&a), e.more || a.more
	}
	return a, err
}

// witness looks for a run that uses too much.
func (e *energy) witness(ctx context.Context) (*trace.Counterexample, error) {
	r := e.req
	if r.D == 0 {
		return nil, nil
	}
	// The least sum of the draws with which the average is above the limit.
	need := new(big.Int).Div(e.limit(), big.NewInt(int64(r.D)))
	need.Sub(need, new(big.Int).Mul(big.NewInt(r.Standing), big.NewInt(int64(site.Full))))
	need.Add(need, big.NewInt(1))
	if !need.IsInt64() {
		return nil, nil
	}
	high := &site.Expr{Op: site.OpSum, Terms: r.Draws, Need: max(0, need.Int64()), Up: true}
	during := r.During
	if during == nil {
		during = &site.Expr{Op: site.OpTrue}
	}
	both := &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{during, high}}
	for _, o := range []observe.Observer{observe.Later(during, high, 0), observe.LastsAtMost(both, r.D)} {
		a, err := e.ask(ctx, observe.Piece{Observer: o})
		if err != nil || a.state != reached {
			if err != nil {
				return nil, err
			}
			continue
		}
		ce, err := trace.BuildWhole(a.site, a.path, a.focus, rehearse.FromMillis(r.D), trace.Requirement(a.site, r))
		if err == nil {
			return ce, nil
		} // this run does not use too much; the next may
	}
	return nil, nil
}
