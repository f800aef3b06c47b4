// Answers that are remembered over several runs, on sites that differ little.

package checker

import (
	"crypto/sha256"
	"fmt"
)

// memory holds the answers of many runs of Prove by a digest of the canonical form (machine.System.Form) and of what the search
// was allowed to spend. What is looked up is just what the search would find by itself, so that no verdict hangs on the
// order in which runs come, or on how many go on at a time.
type memory struct{ forms forms }

// formKey is the key under which the answer on a system is remembered.
func (p *prover) formKey(form string) string {
	if p.opt.memory == nil {
		return form
	}
	sum := sha256.Sum256([]byte(form))
	return fmt.Sprintf("%s%d %d %d %d %t", sum[:], p.budget, p.work, p.opt.work, p.opt.Limits.States, p.brief)
}

// forget lets go of what a remembered answer has of its own site.
func (p *prover) forget(a *answer) {
	if p.opt.memory != nil {
		a.site, a.path = nil, nil
	}
}
