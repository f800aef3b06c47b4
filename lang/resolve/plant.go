// Modes that nobody writes: parts of the plant that a condition reads, such as the hysteresis of a sensor.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// addMode gives a mode that the resolver makes its place. It may be called at any time before the order of the modes is
// settled; its conditions may be filled in later. A mode that asks for nothing has one state without stages.
func (r *resolver) addMode(m site.Mode) site.ModeID {
	m.Area = site.None
	if len(m.States) == 0 {
		m.States = []site.State{{Span: m.Span}}
	}
	id := site.ModeID(len(r.site.Modes))
	r.site.Modes = append(r.site.Modes, m)
	r.growDeps()
	return id
}

// growDeps keeps the table of dependencies as long as that of the modes.
func (r *resolver) growDeps() {
	for len(r.deps) < len(r.site.Modes) {
		r.deps = append(r.deps, nil)
	}
}

// needs notes that a mode names another one.
func (r *resolver) needs(m, on site.ModeID, sp source.Span) {
	if r.deps[m] == nil {
		r.deps[m] = map[site.ModeID]source.Span{}
	}
	if _, ok := r.deps[m][on]; !ok {
		r.deps[m][on] = sp
	}
}

// needsOf notes the dependencies of a mode on those that a condition of its own names.
func (r *resolver) needsOf(m site.ModeID, e *site.Expr) {
	for _, on := range e.Modes() {
		r.needs(m, on, e.Span)
	}
}
