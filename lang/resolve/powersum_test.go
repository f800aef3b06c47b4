package resolve_test

// The power of circuits at a moment, as it comes out in the site.

import (
	"fmt"
	"strings"
	"testing"

	"lampwarden/lang/site"
)

const loaded = `
supply mains
battery ups { capacity 600 Wh  standing load 12 W  charged by mains }
area hall
circuit a in hall { dims  power 40 W  fed by mains }
circuit b in hall { dims  power 2.5 W  fed by mains }
circuit c in hall { switches  power 100 W  fed by ups }
group pair = a, c
alarm fire
mode m { while fire  a at 50 %, b full, c full }
`

func TestPowerOf(t *testing.T) {
	for text, want := range map[string]string{
		"always power of mains at most 30 W":                    "not up 40000 a 2500 b >= 300000001",
		"never power of mains above 30 W":                       "up 40000 a 2500 b >= 300000001",
		"never power of all circuits at least 0.1 kW":           "up 40000 a 2500 b 100000 c >= 1000000000",
		"always power of ups below 112 W":                       "not up 100000 c >= 1000000000",
		"always power of ups at most 5 W":                       "not up 100000 c >= -69999999",
		"always power of circuits in hall except c at most 1 W": "not up 40000 a 2500 b >= 10000001",
		"always power of pair and b at least 5 W":               "down 40000 a 100000 c 2500 b >= 50000000",
		"always power of a between 1 W and 5 W and fire":        "down 40000 a >= 10000000 not up 40000 a >= 50000001",
		"power of mains, ups at most 5 W is possible":           "not up 40000 a 2500 b 100000 c >= -69999999",
	} {
		s := must(t, loaded+"require \"r\" { "+text+" }")
		var got []string
		s.Requirements[0].P.Walk(func(x *site.Expr) {
			switch x.Op {
			case site.OpNot:
				got = append(got, "not")
			case site.OpSum:
				sum := map[bool]string{true: "up", false: "down"}[x.Up]
				for _, t := range x.Terms {
					sum += fmt.Sprintf(" %d %s", t.Weight, s.Circuits[t.Circuit].Name)
				}
				got = append(got, fmt.Sprintf("%s >= %d", sum, x.Need))
			}
		})
		if got := strings.Join(got, " "); got != want {
			t.Errorf("%s:\n got %s\nwant %s", text, got, want)
		}
		checkSite(t, s)
	}
}
