package mutants

// Bugs between a path and its confirmed counterexample.
var traceMutants = []mutant{
	{name: "trace/mismatch-ignored", breaks: "a run that the interpreter does not confirm is reported", file: "trace/build.go",
		old: "	if !good {\n		return nil, &MismatchError", new: "	if !good && false {\n		return nil, &MismatchError", run: "TestMismatch"},
	{name: "trace/confirms-anything", breaks: "a requirement that the run keeps counts as broken by it", file: "trace/build.go",
		old: "return j, j.Broken || r.Form == site.Possible && j.Witness", new: "return j, true", run: "TestMismatch"},
	{name: "trace/shortened-to-nothing", breaks: "events are left out without which the run shows nothing", file: "trace/build.go",
		old: "			if j, good := ok(tl); good {\n				c.Script", new: "			if j, good := ok(tl); good || len(sc.Events) > 0 {\n				c.Script", run: "TestShortening"},
	{name: "trace/two-steps-at-once", breaks: "two steps may have the same time", file: "trace/times.go",
		old: "edge{k + 1, k, -1, -1}", new: "edge{k + 1, k, 0, -1}", run: "TestTimes"},
	{name: "trace/late-is-exact", breaks: "what must come before a time may come at it", file: "trace/times.go",
		old: "edge{j, i, c - 1, t.Clock}", new: "edge{j, i, c, t.Clock}", run: "TestTimes"},
	{name: "trace/too-few-clocks", breaks: "a contradiction is blamed on one of its clocks only", file: "trace/times.go",
		old: "			clocks |= 1 << e.clock", new: "			clocks = 1 << e.clock", run: "TestConflict.*"},
}

// Bugs of the strategy that turns searches into verdicts.
var proverMutants = []mutant{
	{name: "prover/relaxed-trusted", breaks: "a path is believed although its times contradict each other", file: "decide.go",
		old: "		if clash == 0 {", new: "		if clash == 0 || true {", pkg: ".", run: "TestOracleAgrees", args: "-oracle-first=0 -oracle-sites=1"},
	{name: "prover/conditional-refutes", breaks: "a way to the error in a slice with free modes is a failure", file: "decide.go",
		old: "			if a.state == safe {\n				a.stats.ByConditional++", new: "			if a.state != undecided {\n				a.stats.ByConditional++", pkg: ".", run: "TestOracleAgrees", args: "-oracle-first=149 -oracle-sites=1"},
	{name: "prover/limit-proves", breaks: "a search that stops at a limit proves", file: "decide.go",
		old: "case done || res.Status == explore.Exhausted && !res.BadSeen:", new: "case done || !res.BadSeen:", pkg: ".", run: "TestLimitsEndInUndecided"},
	{name: "prover/dates-dropped", breaks: "a site with the sun is proved on its first date only", file: "year.go",
		old: "	for i := range p.site.Dates {\n		s := p.date(i)", new: "	for i := range p.site.Dates[:1] {\n		s := p.date(i)", pkg: ".", run: "TestProofsOverTime"},
	{name: "prover/lengths-ignored", breaks: "dates share an answer although it hangs on how long their days are", file: "year.go",
		old: "case one.state == safe && !one.timed:", new: "case one.state == safe:", pkg: ".", run: "TestLongestDay"},
	{name: "prover/jumps-not-wanted", breaks: "a change of the clock that only lengthens a stretch is always left out", file: "decide.go",
		old: "		if sys.WantsJumps(relaxed, cooling) {", new: "		if false {", pkg: ".", run: "TestClockChanges"},
	{name: "prover/equal-whatever-the-goal", breaks: "a finding takes the answer of another setting", file: "machine/form.go",
		old: "		w.num(at, s.byID[g.Mode], g.State, g.Stage, g.Setting)\n", new: "", pkg: ".", run: "TestOracleAgrees", args: "-oracle-first=0 -oracle-sites=1"},
	{name: "prover/no-way-back", breaks: "'can always return' fails where the one way that is tried does not lead back", file: "return.go",
		old: "	case res.BadSeen:\n		a.why = whyNoWay", new: "	case res.BadSeen:\n		a.state, a.path = reached, path", pkg: ".", run: "TestOracleAgreesOnEverything", args: "-oracle-first=126 -oracle-sites=2"},
	{name: "prover/standing-load", breaks: "the standing load of a battery is left out of the bound", file: "energy.go",
		old: "		power := new(big.Int).Mul(big.NewInt(e.req.Standing), big.NewInt(int64(site.Full)))\n		for i, d := range e.req.Draws {\n			power.Add(power, new(big.Int).Mul(big.NewInt(d.Weight)", new: "		power := new(big.Int)\n		for i, d := range e.req.Draws {\n			power.Add(power, new(big.Int).Mul(big.NewInt(d.Weight)", pkg: ".", run: "TestStandingLoad"},
}

// Bugs of the interpreter, which confirms failures.
var rehearseMutants = []mutant{
	{name: "rehearse/deadline", breaks: "an answer at exactly the deadline is late", file: "rehearse/whenever.go",
		old: "	for t := rise; t < len(j.moments) && j.moments[t].at <= deadline; t++ {\n		if b[t] {", new: "	for t := rise; t < len(j.moments) && j.moments[t].at < deadline; t++ {\n		if b[t] {", run: "TestWheneverWithin"},
	{name: "rehearse/until-ignored", breaks: "'until' ends nothing", file: "rehearse/whenever.go",
		old: "		if c[t] {\n			return Judgement{} // the obligation is over\n		}\n", new: "", run: "TestWheneverUntil"},
	{name: "rehearse/window", breaks: "a rise exactly at the window's end still counts", file: "rehearse/judge.go",
		old: "if last.at-first.at < j.d {", new: "if last.at-first.at <= j.d {", run: "TestAtMostTimes"},
	{name: "rehearse/since", breaks: "'since' is ignored", file: "rehearse/judge.go",
		old: "			if r[k] {\n				from = k", new: "			if r[k] && false {\n				from = k", run: "TestOnlyAfter"},
	{name: "rehearse/on-delay", breaks: "an on delay that is due wins over the end of its condition", file: "rehearse/mode.go",
		old: "		if !cond { // fall wins, even when due", new: "		if !cond && !r.due(ms.since, m.OnDelay) {", run: "TestTimersOfIEC61131"},
	{name: "rehearse/precedence-reversed", breaks: "the mode below wins", file: "rehearse/request.go",
		old: "return p.s.Precedence.Outranks(b.Mode, a.Mode) })", new: "return p.s.Precedence.Outranks(a.Mode, b.Mode) })", run: "TestPrecedence"},
	{name: "rehearse/latest-tie", breaks: "of two modes that start together the one written first is the latest", file: "rehearse/request.go",
		old: "st.modes[a.Mode].recency >= st.modes[best.Mode].recency", new: "st.modes[a.Mode].recency > st.modes[best.Mode].recency", run: "TestLatest"},
	{name: "rehearse/chosen-anew", breaks: "the choice at an ambiguous light is made anew in each reaction", file: "rehearse/request.go",
		old: "if !slices.Equal(m, r.before.circuits[c].ambiguous) {", new: "if true {", run: "TestAmbiguity"},
	{name: "rehearse/dead-stays-lit", breaks: "a lamp without current stays as it is", file: "rehearse/lamp.go",
		old: "	case l.dead:\n		l.stand(0)\n", new: "	case l.dead:\n", run: "TestFeedLossAndReturn"},
	{name: "rehearse/spacing", breaks: "a change too early for an assumption passes", file: "rehearse/assume.go",
		old: "				w.from = max(w.from, e.last[other]+d)", new: "				w.from = max(w.from, e.last[other])", run: "TestAssumptions"},
}
