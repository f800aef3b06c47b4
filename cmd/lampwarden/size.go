// A flag for an amount of memory: "500 MB", "2GiB".

package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// size is an amount of memory in bytes; it is a pflag.Value.
type size int64

// String gives the amount in the largest unit that shows it exactly.
func (s *size) String() string {
	for _, u := range []struct {
		name string
		n    int64
	}{{"GB", 1e9}, {"MB", 1e6}, {"kB", 1e3}} {
		if n := int64(*s); n != 0 && n%u.n == 0 {
			return fmt.Sprintf("%d %s", n/u.n, u.name)
		}
	}
	return fmt.Sprintf("%d B", int64(*s))
}

// Set reads an amount: a number and B, kB, MB, GB, KiB, MiB or GiB.
func (s *size) Set(text string) error {
	t := strings.TrimSpace(text)
	i := strings.IndexFunc(t, func(r rune) bool { return (r < '0' || r > '9') && r != '.' })
	if i < 0 {
		return fmt.Errorf("%q has no unit: expected an amount such as 500 MB", text)
	}
	n, err := strconv.ParseFloat(t[:i], 64)
	unit, ok := map[string]float64{"B": 1, "kB": 1e3, "MB": 1e6, "GB": 1e9,
		"KiB": 1 << 10, "MiB": 1 << 20, "GiB": 1 << 30}[strings.TrimSpace(t[i:])]
	if err != nil || !ok {
		return fmt.Errorf("%q is no amount of memory: expected a number and B, kB, MB, GB, KiB, MiB or GiB", text)
	}
	if n *= unit; n < 1 || n > math.MaxInt64/2 {
		return fmt.Errorf("%q is out of range", text)
	}
	*s = size(n)
	return nil
}

// Type names the kind of value in the help text.
func (s *size) Type() string { return "size" }
