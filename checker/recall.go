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

// kept is a decided answer in a cache. How the path of a reached one looks follows from its labels.
type kept struct {
	State  state
	Labels []uint64 `json:",omitempty"`
	Cost   int      `json:",omitempty"`
	Timed  bool     `json:",omitempty"`
	Jumps  bool     `json:",omitempty"`
	Stats  Stats
}

// recall takes the answer on a form from the cache. A certificate needs the states that were found, which are not kept.
func (p *prover) recall(form string, sys *machine.System, a *answer) bool {
	if p.opt.Cache == nil || p.opt.Certify != nil {
		return false
	}
	b, ok := p.opt.Cache.Get(form)
	var k kept
	if !ok || json.Unmarshal(b, &k) != nil {
		return false
	}
	*a = answer{state: k.State, labels: k.Labels, cost: k.Cost, timed: k.Timed, jumps: k.Jumps, stats: k.Stats}
	switch {
	case k.State == safe, k.State == undecided && k.Jumps:
	case k.State == reached:
		path, err := sys.Replay(k.Labels)
		if err != nil {
			return false
		}
		a.path = path
	default:
		return false
	}
	a.stats.Recalled, a.stats.Spared = 1, k.Stats.Transitions
	return true
}

// keep puts a decided answer into the cache.
func (p *prover) keep(form string, a *answer) {
	if p.opt.Cache == nil || a.state == undecided && !a.jumps {
		return
	}
	b, err := json.Marshal(kept{State: a.state, Labels: a.labels, Cost: a.cost, Timed: a.timed, Jumps: a.jumps, Stats: a.stats})
	if err == nil {
		p.opt.Cache.Put(form, b)
	}
}
