// Each observer at its boundaries, by hand from lang/SEMANTICS.md, section 5.

package observe

import "testing"

func TestGoalAndRise(t *testing.T) {
	playAll(t, Goal(letter(0)), []played{
		{"never", []point{at(0, ""), at(5, ""), at(9, "")}, none},
		{"at start-up", []point{at(0, "a")}, 0},
		{"at an instant only", []point{at(0, ""), at(5, "a", "")}, 5},
		{"after an instant only", []point{at(0, ""), at(5, "", "a")}, 5},
	})
	playAll(t, Rise(letter(0)), []played{
		{"true at start-up rises", []point{at(0, "a")}, 0},
		{"after the instant", []point{at(0, ""), at(5, "", "a")}, 5},
		{"never", []point{at(0, ""), at(5, "", "")}, none},
	})
	playAll(t, None(), []played{{"nothing", []point{at(0, ""), at(1, "")}, none}})
}

// TestWhenever: a is the cause, b the answer, D is 10.
func TestWhenever(t *testing.T) {
	playAll(t, Whenever(letter(0), letter(1), 10), []played{
		{"no cause", []point{at(0, ""), at(50, "")}, none},
		{"answered at exactly D", []point{at(0, ""), at(5, "a"), at(15, "ab"), at(50, "")}, none},
		{"answered one later", []point{at(0, ""), at(5, "a"), at(16, "ab")}, 15},
		{"answered after D, in the same reaction", []point{at(0, ""), at(5, "a"), at(15, "a", "ab")}, none},
		{"answered at the instant of D only", []point{at(0, ""), at(5, "a"), at(15, "ab", "a"), at(50, "a")}, none},
		{"the run ends before D", []point{at(0, ""), at(5, "a"), at(14, "a")}, none},
		{"true at start-up is a rise", []point{at(0, "a"), at(30, "a")}, 10},
		{"answer in the moment of the rise", []point{at(0, ""), at(5, "ab"), at(50, "a")}, none},
		{"an answer before the rise does not count", []point{at(0, ""), at(3, "b"), at(5, "a"), at(50, "a")}, 15},
		{"an answer in the moment before the rise does not count", []point{at(0, ""), at(5, "b", "a"), at(50, "a")}, 15},
		{"staying true is no rise", []point{at(0, ""), at(5, "ab"), at(6, "a"), at(50, "a")}, none},
		{"two causes, one answer", []point{at(0, ""), at(5, "a"), at(6, ""), at(7, "a"), at(15, "b"), at(50, "")}, none},
		{"the first of two causes counts", []point{at(0, ""), at(5, "a"), at(6, ""), at(7, "a"), at(16, "b")}, 15},
		{"a cause after an answer has a deadline of its own", []point{at(0, ""), at(5, "a"), at(8, "b"), at(9, "a"), at(18, "a"), at(30, "a")}, 19},
		{"a cause at the instant at which the last is answered", []point{at(0, ""), at(5, "a"), at(8, "b", "a"), at(30, "a")}, 18},
		{"it rises again in the reaction of its deadline, too late", []point{at(0, ""), at(5, "a"), at(6, ""), at(15, "a", ""), at(50, "")}, 15},
	})
	playAll(t, Whenever(letter(0), letter(1), 0), []played{
		{"D = 0, in the moment", []point{at(0, ""), at(5, "ab", "")}, none},
		{"D = 0, after the instant of the rise", []point{at(0, ""), at(5, "a", "b"), at(9, "")}, none},
		{"D = 0, at the instant before the rise", []point{at(0, ""), at(5, "b", "a")}, 5},
		{"D = 0, later", []point{at(0, ""), at(5, "a"), at(6, "b")}, 5},
	})
}

// TestWheneverUntil: a is the cause, b must hold from 10 on, c ends it.
func TestWheneverUntil(t *testing.T) {
	playAll(t, WheneverUntil(letter(0), letter(1), letter(2), 10), []played{
		{"b at exactly D and on", []point{at(0, ""), at(5, "a"), at(15, "ab"), at(90, "ab")}, none},
		{"b one later", []point{at(0, ""), at(5, "a"), at(16, "ab")}, 15},
		{"b comes and goes before D", []point{at(0, ""), at(5, "ab"), at(6, "a"), at(9, "ab"), at(11, "a"), at(15, "ab"), at(50, "ab")}, none},
		{"at D only the state after the reaction counts", []point{at(0, ""), at(5, "ab"), at(15, "a", "ab"), at(50, "ab")}, none},
		{"b ends at D", []point{at(0, ""), at(5, "ab"), at(15, "ab", "a")}, 15},
		{"b fails at an instant after D", []point{at(0, ""), at(5, "ab"), at(20, "a", "ab")}, 20},
		{"c at exactly D", []point{at(0, ""), at(5, "a"), at(15, "ac", "a"), at(50, "a")}, none},
		{"c one after D", []point{at(0, ""), at(5, "a"), at(16, "c")}, 15},
		{"c in the moment in which b ends", []point{at(0, ""), at(5, "ab"), at(30, "c"), at(50, "")}, none},
		{"c in the moment after that", []point{at(0, ""), at(5, "ab"), at(30, "a", "c")}, 30},
		{"c at the rise", []point{at(0, ""), at(5, "ac"), at(50, "a")}, none},
		{"c before the rise does not count", []point{at(0, ""), at(5, "c", "a"), at(50, "a")}, 15},
		{"c for both of two causes", []point{at(0, ""), at(5, "a"), at(6, ""), at(12, "a"), at(14, "ac"), at(50, "a")}, none},
		{"a cause after c has a deadline of its own", []point{at(0, ""), at(5, "a"), at(6, "c"), at(7, "a"), at(50, "a")}, 17},
		{"the first of two causes counts", []point{at(0, ""), at(5, "a"), at(6, ""), at(12, "a"), at(50, "a")}, 15},
	})
	playAll(t, WheneverUntil(letter(0), letter(1), letter(2), 0), []played{
		{"D = 0, b from the reaction on", []point{at(0, ""), at(5, "a", "ab"), at(50, "ab")}, none},
		{"D = 0, b not after the reaction", []point{at(0, ""), at(5, "ab", "a")}, 5},
		{"D = 0, until later", []point{at(0, ""), at(5, "ab"), at(9, "a")}, 9},
	})
}

// TestWheneverFor: a is the cause, b must come within 10 and last 5.
func TestWheneverFor(t *testing.T) {
	o := WheneverFor(letter(0), letter(1), nil, 10, 5)
	playAll(t, o, []played{
		{"b for exactly E from the rise", []point{at(0, ""), at(5, "ab"), at(10, "a"), at(50, "a")}, none},
		{"b one too short, and none later", []point{at(0, ""), at(5, "ab"), at(9, "a"), at(50, "a")}, 15},
		{"b from exactly D", []point{at(0, ""), at(5, "a"), at(15, "ab"), at(20, "a"), at(50, "")}, none},
		{"b from one later", []point{at(0, ""), at(5, "a"), at(16, "ab"), at(50, "ab")}, 15},
		{"b from D on, one too short", []point{at(0, ""), at(5, "a"), at(15, "ab"), at(19, "a")}, 19},
		{"b ends at the instant of its very end", []point{at(0, ""), at(5, "ab"), at(10, "a", "ab"), at(11, ""), at(50, "")}, none},
		{"a second try in time", []point{at(0, ""), at(5, "ab"), at(7, "a"), at(14, "ab"), at(19, "a"), at(50, "a")}, none},
		{"a second try, too short and too late for a third", []point{at(0, ""), at(5, "ab"), at(7, "a"), at(14, "ab"), at(18, "a"), at(50, "ab")}, 18},
		{"b before the rise counts from the rise", []point{at(0, "b"), at(5, "ab"), at(9, "")}, none}, // the run ends before D
		{"and is too short then", []point{at(0, "b"), at(5, "ab"), at(9, ""), at(50, "")}, 15},
		{"one stretch serves two causes", []point{at(0, ""), at(5, "a"), at(6, ""), at(8, "a"), at(12, "ab"), at(17, ""), at(50, "")}, none},
		{"a stretch before the second cause does not serve it", []point{at(0, ""), at(5, "ab"), at(7, "b"), at(8, "ab"), at(11, "a"), at(50, "a")}, 18},
		{"overlapping: the first is broken, the second is not", []point{at(0, ""), at(5, "a"), at(6, ""), at(12, "a"), at(16, "ab"), at(40, "ab")}, 15},
	})
	playAll(t, WheneverFor(letter(0), letter(1), letter(2), 10, 5), []played{
		{"c ends the need to come", []point{at(0, ""), at(5, "a"), at(15, "c"), at(50, "")}, none},
		{"c one too late", []point{at(0, ""), at(5, "a"), at(16, "c")}, 15},
		{"c ends the need to last", []point{at(0, ""), at(5, "a"), at(15, "ab"), at(17, "c"), at(50, "")}, none},
		{"c at the rise", []point{at(0, ""), at(5, "ac"), at(50, "a")}, none},
		{"c in the moment after b ended", []point{at(0, ""), at(5, "a"), at(15, "ab"), at(17, "a", "c")}, 17},
	})
	playAll(t, WheneverFor(letter(0), letter(1), nil, 0, 5), []played{
		{"D = 0, b at once and long enough", []point{at(0, ""), at(5, "a", "ab"), at(10, ""), at(50, "")}, none},
		{"D = 0, b not at once", []point{at(0, ""), at(5, "a"), at(6, "ab")}, 5},
		{"D = 0, b too short", []point{at(0, ""), at(5, "ab"), at(9, "a")}, 9},
	})
}

func TestLasts(t *testing.T) {
	playAll(t, LastsAtMost(letter(0), 10), []played{
		{"exactly D", []point{at(0, ""), at(5, "a"), at(15, ""), at(50, "")}, none},
		{"one longer", []point{at(0, ""), at(5, "a"), at(16, "")}, 15}, // it is still true after the reaction at D
		{"ends at the instant of D", []point{at(0, ""), at(5, "a"), at(15, "a", ""), at(50, "")}, none},
		{"a gap of a moment", []point{at(0, ""), at(5, "a"), at(12, "", "a"), at(22, ""), at(50, "")}, none},
		{"a gap at D itself", []point{at(0, ""), at(5, "a"), at(15, "", "a"), at(25, ""), at(50, "")}, none},
		{"from start-up", []point{at(0, "a"), at(50, "")}, 10},
		{"an instant", []point{at(0, ""), at(5, "a", ""), at(50, "")}, none},
	})
	playAll(t, LastsAtLeast(letter(0), 10), []played{
		{"exactly D", []point{at(0, ""), at(5, "a"), at(15, ""), at(50, "")}, none},
		{"one shorter", []point{at(0, ""), at(5, "a"), at(14, "")}, 14},
		{"an instant", []point{at(0, ""), at(5, "a", "")}, 5},
		{"a gap at D, and again too short", []point{at(0, ""), at(5, "a"), at(15, "", "a"), at(24, "")}, 24},
		{"a gap before D", []point{at(0, ""), at(5, "a"), at(14, "", "a")}, 14},
		{"the run ends first", []point{at(0, ""), at(5, "a"), at(9, "a")}, none},
		{"from start-up", []point{at(0, "a"), at(9, "")}, 9},
	})
	playAll(t, LastsAtMost(letter(0), 0), []played{
		{"D = 0, an instant", []point{at(0, ""), at(5, "a", ""), at(6, "")}, none},
		{"D = 0, longer", []point{at(0, ""), at(5, "", "a")}, 5},
	})
	playAll(t, LastsAtLeast(letter(0), 0), []played{{"D = 0", []point{at(0, ""), at(5, "a", ""), at(6, "", "a"), at(7, "")}, none}})
}

// TestAtMostTimes: of any three rises the last is 10 or more after the first.
func TestAtMostTimes(t *testing.T) {
	playAll(t, AtMostTimes(letter(0), 2, 10), []played{
		{"three, exactly D apart", []point{at(0, ""), at(5, "a"), at(6, ""), at(10, "a"), at(11, ""), at(15, "a")}, none},
		{"three, one less than D apart", []point{at(0, ""), at(5, "a"), at(6, ""), at(10, "a"), at(11, ""), at(14, "a")}, 14},
		{"the window slides", []point{at(0, ""), at(5, "a"), at(6, ""), at(13, "a"), at(14, ""), at(16, "a"), at(17, ""), at(20, "a")}, 20},
		{"each pair far apart", []point{at(0, ""), at(5, "a"), at(6, ""), at(7, "a"), at(8, ""), at(17, "a"), at(18, ""), at(19, "a")}, none},
		{"staying true is one rise", []point{at(0, "a"), at(3, "a"), at(5, "a", "a"), at(7, "a")}, none},
		{"at start-up, at an instant, after it", []point{at(0, "a", ""), at(5, "a", ""), at(9, "", "a")}, 9},
		{"two rises in one reaction need a moment between", []point{at(0, "a"), at(3, "", "a"), at(4, "a", ""), at(5, "a", "")}, 5},
	})
	playAll(t, AtMostTimes(letter(0), 0, 10), []played{
		{"N = 0: none at all", []point{at(0, ""), at(5, "a", "")}, 5},
		{"N = 0, without", []point{at(0, ""), at(50, "")}, none},
	})
	playAll(t, AtMostTimes(letter(0), 1, 0), []played{{"D = 0", []point{at(0, "a", ""), at(1, "", "a"), at(2, "")}, none}})
	playAll(t, AtMostTimes(letter(0), 1, 10), []played{
		{"N = 1, exactly D apart", []point{at(0, "a", ""), at(10, "a", ""), at(20, "a", "")}, none},
		{"N = 1, one less", []point{at(0, "a", ""), at(10, "a", ""), at(19, "a", "")}, 19},
	})
}

func TestOnlyAfter(t *testing.T) {
	playAll(t, OnlyAfter(letter(0), letter(1), nil), []played{
		{"first b, then a", []point{at(0, ""), at(5, "b"), at(6, "a")}, none},
		{"in the same moment", []point{at(0, "ab")}, none},
		{"a first", []point{at(0, ""), at(5, "a", "b")}, 5},
		{"a without b", []point{at(0, "a")}, 0},
	})
	playAll(t, OnlyAfter(letter(0), letter(1), letter(2)), []played{
		{"b, then c, then a", []point{at(0, "b"), at(5, "c"), at(6, "a")}, 6},
		{"b and c in one moment: c counts first", []point{at(0, "b"), at(5, "bc"), at(6, "a")}, none},
		{"a with c", []point{at(0, "b"), at(5, "ac")}, 5},
		{"b again after c", []point{at(0, "b"), at(5, "c"), at(6, "b"), at(7, "a")}, none},
	})
}
