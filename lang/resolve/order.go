// The order in which modes step: each after all modes that it names.

package resolve

import (
	"container/heap"
	"slices"
	"strings"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// stepOrder puts the modes in dependency order, those of the plant first and in
// written order where nothing else decides (Kahn 1962, with a heap), or reports
// each circle. (A plant mode names only plant modes.)
func (r *resolver) stepOrder() {
	n := len(r.site.Modes)
	if n > maxModes {
		return
	}
	names := make(graph, n) // names[m]: the modes that m names
	for m, deps := range r.deps {
		for on := range deps {
			names[m] = append(names[m], on)
		}
		slices.Sort(names[m])
	}
	circles := names.circles()
	for _, c := range circles {
		r.modeCycle(c)
	}
	if len(circles) == 0 {
		r.site.StepOrder = kahn(names, func(m site.ModeID) bool { return r.site.Modes[m].Plant })
	}
}

func (r *resolver) modeCycle(path []site.ModeID) {
	last := path[len(path)-1]
	sp := r.deps[last][path[0]]
	if len(path) == 1 {
		d := r.errorf(source.ModeCycle, sp, "the mode `%s` depends on itself", r.modeName(path[0]))
		d.Suggestion = "in a trigger or its `if`, `was (...)` reads a mode as it was before"
		return
	}
	d := r.errorf(source.ModeCycle, sp, "modes depend on each other in a circle: %s", r.pathText(path, " needs "))
	for i, m := range path {
		next := path[(i+1)%len(path)]
		relate(d, r.deps[m][next], "`%s` names `%s`", r.modeName(m), r.modeName(next))
	}
	d.Notes = append(d.Notes, "each mode steps after those that it names, so there has to be a first")
	d.Suggestion = "in a trigger or its `if`, `was (...)` reads a mode as it was before and makes no dependency"
}

func (r *resolver) modeName(m site.ModeID) string { return r.site.Modes[m].Name }

// pathText shows a circle: "a needs b needs a".
func (r *resolver) pathText(path []site.ModeID, between string) string {
	var b strings.Builder
	for _, m := range path {
		b.WriteString("`" + r.modeName(m) + "`" + between)
	}
	b.WriteString("`" + r.modeName(path[0]) + "`")
	return b.String()
}

// kahn orders a graph without circles: successors first, among those that are
// ready the ones that go first, ties by number.
func kahn(g graph, first func(site.ModeID) bool) []site.ModeID {
	waiting := make([]int, len(g))
	before := make(graph, len(g))
	ready := &modeHeap{first: first}
	for m, on := range g {
		waiting[m] = len(on)
		for _, o := range on {
			before[o] = append(before[o], site.ModeID(m))
		}
		if len(on) == 0 {
			heap.Push(ready, site.ModeID(m))
		}
	}
	out := make([]site.ModeID, 0, len(g))
	for ready.Len() > 0 {
		m := heap.Pop(ready).(site.ModeID)
		out = append(out, m)
		for _, b := range before[m] {
			if waiting[b]--; waiting[b] == 0 {
				heap.Push(ready, b)
			}
		}
	}
	return out
}

// modeHeap is a heap for container/heap: those that go first, then the least.
type modeHeap struct {
	ids   []site.ModeID
	first func(site.ModeID) bool
}

func (h modeHeap) Len() int { return len(h.ids) }
func (h modeHeap) Less(i, j int) bool {
	a, b := h.ids[i], h.ids[j]
	if f := h.first(a); f != h.first(b) {
		return f
	}
	return a < b
}
func (h modeHeap) Swap(i, j int) { h.ids[i], h.ids[j] = h.ids[j], h.ids[i] }
func (h *modeHeap) Push(x any)   { h.ids = append(h.ids, x.(site.ModeID)) }
func (h *modeHeap) Pop() any {
	last := h.ids[len(h.ids)-1]
	h.ids = h.ids[:len(h.ids)-1]
	return last
}
