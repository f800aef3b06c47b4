// The real-time patterns, as published and as this language says them.
//
// Source of the patterns: S. Konrad, B. H. C. Cheng, Real-time specification patterns, 2005: minimum and maximum duration,
// bounded recurrence, bounded response, bounded invariance. The formulas are those of the mappings to metric temporal logic
// in the unified catalogue (M. Autili, L. Grunske, M. Lumpe, P. Pelliccione, A. Tang, Aligning qualitative, real-time, and
// probabilistic property specification patterns, 2015; ps-patterns.wikidot.com for the maximum duration), else from memory,
// as marked. d is 5 ms, e is 4 ms.
//
// Two differences are settled on purpose and tested in defects_test.go: what the published formulas of durations say of a
// stretch that runs at the start (nothing), and whether it may end after exactly d (there it may not).

package formula_test

import "testing"

// late: s was owed for d and did not come; bad if then r comes. s at exactly d is in time: fall wins at an on delay.
const late = `
	mode late { while m in owed, on delay 5 ms }
	mode missed { states fine, struck, bad
		on late: fine -> struck
		on r: struck -> bad }
	require "x" { never m in bad or missed in bad }`

var realTime = []struct {
	name, published, text, source string
}{
	{"minimum duration, globally", "G(p | (!p W G[<d] p)) & (p -> G[<d] p)",
		`require "x" { p lasts at least 5 ms }`, "from memory; with [<d] for [<=d], and with the stretch at the start"},
	{"maximum duration, globally", "G(p | (!p W (p & F[<=d] !p))) & (p -> F[<=d] !p)",
		`require "x" { p lasts at most 5 ms }`, "unified catalogue; with the stretch at the start"},
	{"maximum duration, after q", "G(q -> G(p | (!p W (p & F[<=d] !p))) & (p -> F[<=d] !p))",
		from + `require "x" { from and p lasts at most 5 ms }`, "unified catalogue; with the stretch at q"},
	{"maximum duration, after q until r", "G(q & !r -> ((p | (!p W ((p & F[<=d] (!p | r)) | r))) W r) & (p -> F[<=d] (!p | r)))",
		scope + `require "x" { scope and p lasts at most 5 ms }`, "unified catalogue; with the stretch at q"},
	{"bounded recurrence, globally", "G(F[<=d] p)", `require "x" { not p lasts at most 5 ms }`, "from memory"},
	{"bounded recurrence, after q", "G(q -> G(F[<=d] p))", from + `require "x" { from and not p lasts at most 5 ms }`, "from memory"},
	{"bounded recurrence, after q until r", "G(q & !r -> (F[<=d] (p | r) W r))",
		scope + `require "x" { scope and not p lasts at most 5 ms }`, "from memory"},

	{"bounded existence in time, globally", "F[<=d] p", `require "x" { whenever p or not p then within 5 ms p }`,
		"unified catalogue, there with [<c]"},
	{"bounded existence in time, after q", "G(!q) | (!q U (q & F[<=d] p))", from + `require "x" { whenever from then within 5 ms p }`,
		"ours: the published one is no requirement that a run can break, see defects_test.go"},

	{"bounded response, globally", "G(p -> F[<=d] s)", `require "x" { whenever p and not s then within 5 ms s }`, "from memory"},
	{"bounded response, before r", "F r -> ((p -> (!r U[<=d] (s & !r))) U r)", `
		mode m { states fresh, owed, passed, bad
			on r: fresh -> passed
			on r: owed -> bad
			on p and not s: fresh -> owed
			on s: owed -> fresh }` + late, "from memory"},
	{"bounded response, after q", "G(q -> G(p -> F[<=d] s))",
		from + `require "x" { whenever from and p and not s then within 5 ms s }`, "from memory"},
	{"bounded response, between q and r", "G((q & !r & F r) -> ((p -> (!r U[<=d] (s & !r))) U r))", debt + late, "from memory"},
	{"bounded response, after q until r", "G(q & !r -> ((p -> (!r U[<=d] (s & !r))) W r))",
		debt + `require "x" { never m in bad }
		require "y" { whenever scope and p and not s then within 5 ms s }`, "from memory"},

	{"bounded invariance, globally", "G(p -> G[<=d] s)", `
		mode lately { while p, off delay 5 ms }
		require "x" { never lately and not s }`, "from memory"},
	{"bounded invariance, after q", "G(q -> G(p -> G[<=d] s))", from + `
		mode lately { while from and p, off delay 5 ms }
		require "x" { never lately and not s }`, "from memory"},
}

// TestRealTime: observers and judge agree with the published formulas.
func TestRealTime(t *testing.T) {
	for _, c := range realTime {
		t.Run(c.name, func(t *testing.T) { agree(t, 400, c.text, c.published, times["d"]) })
	}
}
