package mutants

// Bugs of the search.
var exploreMutants = []mutant{
	{name: "explore/cover-reversed", breaks: "a zone counts as covered by a smaller one", file: "explore/search.go",
		old: "size.within(e.size) && e.cost <= cost && includes(s.st.zone(e.node), z.B)", new: "e.size.within(size) && e.cost <= cost && includes(z.B, s.st.zone(e.node))", run: "TestCovering"},
	{name: "explore/removes-too-much", breaks: "a stored zone goes although the new one does not include it", file: "explore/search.go",
		old: "if e.size.within(size) && e.cost >= cost && includes(s.work.B, s.st.zone(e.node)) {", new: "if e.cost >= cost {", run: "TestCovering"},
	{name: "explore/bounds-forgotten", breaks: "upper bounds of the model are not told to the extrapolation", file: "explore/store.go",
		old: "to[i], to[n+i] = l[i], u[i]", new: "to[i], to[n+i] = l[i], zone.NoBound", run: "TestRandomClosed", args: "-rapid.nofailfile"},
	{name: "explore/lu-swapped", breaks: "lower and upper bounds are swapped", file: "explore/store.go",
		old: "return b[:n], b[n:]", new: "return b[n:], b[:n]", run: "TestRandomClosed", args: "-rapid.nofailfile"},
	{name: "explore/cost-ignored", breaks: "a dear zone covers a cheap one, so that the shortest story is lost", file: "explore/search.go",
		old: "size.within(e.size) && e.cost <= cost &&", new: "size.within(e.size) &&", run: "TestLaterCheaperZone"},
	{name: "explore/first-bad", breaks: "the search stops at the first bad state, be it the dearest", file: "explore/search.go",
		old: "best == s.base {", new: "best >= s.base {", run: "TestLeastCost"},
	{name: "explore/limit-is-an-end", breaks: "a search at its limit of work counts as exhausted", file: "explore/limits.go",
		old: "l.polls > l.opt.MaxTransitions {\n		return LimitWork", new: "l.polls > l.opt.MaxTransitions {\n		return Exhausted", run: "TestLimits"},
	{name: "explore/limit-ignored", breaks: "the limit of states is not kept", file: "explore/limits.go",
		old: "stored > l.opt.MaxStates {", new: "stored > 1000*l.opt.MaxStates {", run: "TestLimits"},
	{name: "explore/hull-forgets", breaks: "the rough pass does not look again at a state whose zone grew", file: "explore/hull.go",
		old: "		h.join(id, stored, x.Zone)\n		h.enqueue(id)", new: "		h.join(id, stored, x.Zone)", run: "TestRandomHull", args: "-rapid.nofailfile"},
	{name: "explore/hull-proves", breaks: "the rough pass proves what it has seen a bad state of", file: "explore/hull.go",
		old: "h.status == Exhausted && !h.bad {", new: "h.status == Exhausted {", run: "TestHullVerdicts"},
}
