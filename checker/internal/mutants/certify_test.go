package mutants

// Bugs of what confirms certificates.
var certifyMutants = []mutant{
	{name: "certify/strictness", breaks: "a sum of a strict and a weak bound is weak", file: "certify/zone.go",
		old: "if a&b&1 == 1 {", new: "if (a|b)&1 == 1 {", run: "TestZonesPointByPoint"},
	{name: "certify/inclusion-reversed", breaks: "a zone counts as within those that are within it", file: "certify/zone.go",
		old: "		if b > o.at[i] {", new: "		if b < o.at[i] {", run: "TestZonesPointByPoint"},
	{name: "certify/no-time-passes", breaks: "no time need pass after a step", file: "certify/zone.go",
		old: "		z.at[i] = z.at[i].strict()\n", new: "", run: "TestZonesPointByPoint"},
	{name: "certify/start-ups", breaks: "only the start-up with every input at rest must be in the set", file: "certify/closure.go",
		old: "range []bool{false, true} {", new: "range []bool{false} {", run: "TestBreachesAreSeen"},
	{name: "certify/zones-ignored", breaks: "a set with the state, whatever the zone, counts as closed", file: "certify/arrive.go",
		old: "if e != nil && slices.ContainsFunc(e.zones, next.within) {", new: "if e != nil {", run: "TestBreachesAreSeen"},
	{name: "certify/due-sets", breaks: "timers that are due together are not fired together", file: "certify/steps.go",
		old: "	if ok {\n		return k.eachDue(e, is,", new: "	if ok && due == 0 {\n		return k.eachDue(e, is,", run: "TestBreachesAreSeen"},
	{name: "certify/breach-let-through", breaks: "a step that breaks the requirement is let through", file: "certify/steps.go",
		old: "		if x.broken {\n			return k.bad(e, c, x.state)\n		}\n", new: "", run: "TestBreachesAreSeen"},
	{name: "certify/left-out", breaks: "any input may be left out", file: "certify/leftout.go",
		old: "if !out || !m.strikes(id) {", new: "if true || !out || !m.strikes(id) {", run: "TestGrownSets"},
	{name: "certify/free-never-decides", breaks: "a free mode asks only where no kept mode does", file: "certify/request.go",
		old: "if !slices.ContainsFunc(top, func(a ask) bool { return m.site.Precedence.Outranks(a.id, f.id) }) {", new: "if len(top) == 0 {", run: "TestBreachesAreSeen"},
	{name: "certify/precedence-reversed", breaks: "the mode below wins", file: "certify/request.go",
		old: "return m.site.Precedence.Outranks(b.id, a.id) })", new: "return m.site.Precedence.Outranks(a.id, b.id) })", run: "TestBreachesAreSeen"},
	{name: "certify/part-lost", breaks: "of a part that is a disjunction only the last part is asked", file: "certify/parts.go",
		old: "			out = append(out, multiply(k)...)", new: "			out = multiply(k)", run: "TestPartsAreTheWhole"},
	{name: "certify/at-the-deadline", breaks: "'until' looks at a moment that is not the last at its deadline", file: "certify/observe.go",
		old: "last := i == len(moments)-1; last &&", new: "last := i == 0; last &&", run: "TestObserversByHand"},
}
