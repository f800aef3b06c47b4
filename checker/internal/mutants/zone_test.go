package mutants

// Bugs of the zones.
var zoneMutants = []mutant{
	{name: "zone/strictness", breaks: "a sum of a strict and a weak bound is weak", file: "zone/bound.go",
		old: "s := a + b - (a|b)&1", new: "s := a + b - a&b&1", run: "TestAdd", args: "-rapid.nofailfile"},
	{name: "zone/too-coarse", breaks: "extrapolation takes a clock at its largest constant for one beyond it", file: "zone/extra.go",
		old: "above := -b[i].Value() > li", new: "above := -b[i].Value() >= li", run: "TestExtraLU", args: "-rapid.nofailfile"},
	{name: "zone/lu-mixed", breaks: "extrapolation compares an upper bound with the wrong constant", file: "zone/extra.go",
		old: "above || d.Value() > li ||", new: "above || d.Value() > u[i] ||", run: "TestExtraLU", args: "-rapid.nofailfile"},
	{name: "zone/not-closed", breaks: "a zone is not closed after extrapolation", file: "zone/extra.go",
		old: "	if changed {\n		z.Close()\n	}\n	return changed", new: "	return changed", run: "TestExtraLU", args: "-rapid.nofailfile"},
	{name: "zone/alu", breaks: "the cover test of aLU is strict where it must not be", file: "zone/extra.go",
		old: "if zx >= LE(-ux) &&", new: "if zx > LE(-ux) &&", run: "TestCoveredALU", args: "-rapid.nofailfile"},
	{name: "zone/inclusion-reversed", breaks: "a zone includes the zones that include it", file: "zone/ops.go",
		old: "		if x > b[i] {\n			return false", new: "		if x < b[i] {\n			return false", run: "TestHullAndIncludes", args: "-rapid.nofailfile"},
	{name: "zone/no-time-passes", breaks: "no time need pass after a reaction", file: "zone/ops.go",
		old: "		z.B[i] &^= 1\n", new: "", run: "TestDelay", args: "-rapid.nofailfile"},
	{name: "zone/reset", breaks: "a clock that is reset keeps its old differences on one side", file: "zone/ops.go",
		old: "		b[i*n+j] = b[j]\n		b[j*n+i] = b[j*n]\n	}\n	b[i*n+i] = zeroLE\n}\n\n// Free", new: "		b[i*n+j] = b[j]\n	}\n	b[i*n+i] = zeroLE\n}\n\n// Free", run: "TestResetAndFree", args: "-rapid.nofailfile"},
	{name: "zone/guard-not-closed", breaks: "a guard does not tighten the other bounds of its own clock", file: "zone/ops.go",
		old: "if kj > rowK[j] {", new: "if kj >= rowK[j] {", run: "TestConstrain", args: "-rapid.nofailfile"},
	{name: "zone/never-empty", breaks: "a strict contradiction leaves a point", file: "zone/ops.go",
		old: "if Add(b[j*n+i], bound) < zeroLE {", new: "if Add(b[j*n+i], bound) < LT(0) {", run: "TestConstrain", args: "-rapid.nofailfile"},
}
