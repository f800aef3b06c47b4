// Answers kept between runs.

package checker

import (
	"encoding/json"

	"lampwarden/checker/machine"
)

// Cache keeps answers between runs, each under what exactly was asked. checker/cache keeps them in a folder.
type Cache interface {
	// Get gives what was put for the same form, byte for byte, by the same program.
	Get(form string) (answer []byte, ok bool)
	Put(form string, answer []byte)
}

// kept is an answer in a cache. How the path of a reached one looks follows from its labels.
type kept struct {
	State  state
	Labels []uint64 `json:",omitempty"`
	Cost   int      `json:",omitempty"`
	Timed  bool     `json:",omitempty"`
	Jumps  bool     `json:",omitempty"`
	Why    string   `json:",omitempty"`
	Far    string   `json:",omitempty"`
	Stats  Stats
}

// recall takes the answer on a form from the cache. A certificate needs the states that were found, which are not kept.
func (p *prover) recall(form string, sys *machine.System, a *answer) bool {
	if p.opt.Cache == nil || p.opt.Certify != nil {
		return false
	}
	b, ok := p.opt.Cache.Get(form)
	if !ok && p.opt.Merge {
		b, ok = p.opt.Cache.Get(p.open(form))
	}
	var k kept
	if !ok || json.Unmarshal(b, &k) != nil {
		return false
	}
	*a = answer{state: k.State, labels: k.Labels, cost: k.Cost, timed: k.Timed, jumps: k.Jumps, why: k.Why, far: k.Far, stats: k.Stats}
	if k.State == reached {
		path, err := sys.Replay(k.Labels)
		if err != nil {
			return false
		}
		a.path = path
	}
	a.stats.Recalled, a.stats.Spared = 1, k.Stats.Transitions
	return k.State <= reached
}

// keep puts an answer into the cache; one that a limit left open only for a later merge.
func (p *prover) keep(form string, a *answer) {
	if p.opt.Cache == nil {
		return
	}
	if a.state == undecided && !a.jumps {
		if p.opt.Share.Of == 0 {
			return
		}
		form = p.open(form)
	}
	b, err := json.Marshal(kept{State: a.state, Labels: a.labels, Cost: a.cost, Timed: a.timed, Jumps: a.jumps, Why: a.why, Far: a.far, Stats: a.stats})
	if err == nil {
		p.opt.Cache.Put(form, b)
	}
}

// open is what an answer on a form is kept under that a limit left open. Short tries have limits of their own.
func (p *prover) open(form string) string {
	if p.brief {
		return form + "\x00left open by a short try"
	}
	return form + "\x00left open"
}
