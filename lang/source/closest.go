package source

// Spelling suggestions: the closest known name.

import "strings"

// Closest returns the candidate that a misspelt name was most likely meant to be, or "" if none is close. It
// counts single-letter slips (one letter missing, added, or two neighbours swapped; a wrong letter counts a little
// more, wrong case little) by the optimal string alignment distance (Damerau 1964), and accepts about one slip for
// each three letters, less in words of one or two. Of equally close candidates the first in the list wins.
func Closest(name string, candidates []string) string {
	best, bestCost := "", tolerance(len([]rune(name)))+1
	for _, c := range candidates {
		if c == name || c == "" {
			continue
		}
		if cost := slips(name, c); cost < bestCost {
			best, bestCost = c, cost
		}
	}
	return best
}

// tolerance is the greatest cost that is accepted in a name of n letters.
func tolerance(n int) int {
	switch n {
	case 1:
		return wrongCase
	case 2:
		return slip
	}
	return slip*((n+2)/3) + wrongLetter - slip
}

// The costs of slips.
const (
	slip        = 4
	wrongLetter = 5
	wrongCase   = 1
)

// slips is the weighted optimal string alignment distance.
func slips(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, above, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range row {
		above[j] = slip * j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = slip * i
		for j := 1; j <= len(y); j++ {
			row[j] = min(above[j]+slip, row[j-1]+slip, above[j-1]+swap(x[i-1], y[j-1]))
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+slip)
			}
		}
		before, above, row = above, row, before
	}
	return above[len(y)]
}

func swap(a, b rune) int {
	switch {
	case a == b:
		return 0
	case strings.EqualFold(string(a), string(b)):
		return wrongCase
	}
	return wrongLetter
}
