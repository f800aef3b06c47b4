// Shrink: a site of which something is to be shown, made smaller as long as it still shows it.

package sitegen

import "lampwarden/lang/site"

// Shrink makes a site smaller while keep says of each smaller one that it still shows what matters (two checkers that
// differ on it, say). It tries to leave out requirements, modes, inputs, circuits, supplies, bands, assumptions and
// dates, then parts of modes, then features of circuits, then parts of conditions, and to make durations shorter; what
// keep accepts stays, and it begins anew until nothing more can go. Every site that keep sees is valid (Check), and is
// its own to change. s is not changed. The result is the same for the same answers of keep.
//
// Ids change as tables get shorter; names do not.
func Shrink(s *site.Site, keep func(*site.Site) bool) *site.Site {
	for {
		smaller := s
		for _, list := range edits {
			smaller = shrinkBy(smaller, list, keep)
		}
		if smaller == s {
			return s
		}
		s = smaller
	}
}

// edit changes a site; a site that is not valid after it is dropped.
type edit func(*site.Site)

// edits lists, coarse ones first, what may make a site smaller. Each list is made from the site as it is; an edit of it
// names places by their ids and is applied to a copy.
var edits = []func(*site.Site) []edit{
	dropThings, dropParts, dropFeatures, dropFromRequirements, dropConditions, shorten,
}

// shrinkBy tries the edits of a list. When one is kept the list is made anew, and goes on at the place of the one that
// was kept: the edits before it were refused a moment ago.
func shrinkBy(s *site.Site, list func(*site.Site) []edit, keep func(*site.Site) bool) *site.Site {
	for i, es := 0, list(s); i < len(es); {
		c := Clone(s)
		es[i](c)
		if Check(c) == nil && sensible(c) && keep(Clone(c)) {
			s, es = c, list(c)
			continue
		}
		i++
	}
	return s
}

// sensible refuses what Check allows but no site file can say: requirements of energy that nothing draws, sums of nothing.
func sensible(s *site.Site) bool {
	ok := true
	for i := range s.Requirements {
		ok = ok && (s.Requirements[i].Form != site.Energy || len(s.Requirements[i].Draws) > 0)
	}
	eachSlot(s, func(e **site.Expr) {
		(*e).Walk(func(x *site.Expr) {
			switch x.Op {
			case site.OpSum:
				ok = ok && len(x.Terms) > 0
			case site.OpAnd, site.OpOr, site.OpAtMost, site.OpAtLeast:
				ok = ok && len(x.Kids) > 0
			}
		})
	})
	return ok
}

// without leaves out the i-th element; the rest moves to a new slice.
func without[T any](xs []T, i int) []T {
	return append(append([]T(nil), xs[:i]...), xs[i+1:]...)
}

// renumber leaves the id gone out of a list and moves those behind it.
func renumber[T ~int](ids []T, gone T) []T {
	var out []T
	for _, id := range ids {
		if id != gone {
			out = append(out, moved(id, gone))
		}
	}
	return out
}

// moved gives what an id is once another one has gone. None stays.
func moved[T ~int](id, gone T) T {
	if id > gone {
		return id - 1
	}
	return id
}

// lost is moved, and None for the id itself.
func lost[T ~int](id, gone T) T {
	if id == gone {
		return site.None
	}
	return moved(id, gone)
}
