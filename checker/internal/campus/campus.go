// Package campus writes sites of any size as text: many rooms of a few dozen types, with what a large building has in common.
//
// A campus is for measuring how the cost of a proof grows. Its rooms of one type are alike but for their names, so that a proof should
// cost what the types cost; its common part (fire alarm, loss of supply, night, cleaning) is read by every room. Each requirement is written once and
// ranges over all rooms of a tag, as an integrator would write it. The same options give the same text.
package campus

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// Options say what to write.
type Options struct {
	Seed  uint64
	Rooms int
	Types int // of rooms
	// Requirements is their number, each for all rooms.
	Requirements int
}

// roomsPerFile keeps a file well below the language's limit of size.
const roomsPerFile = 500

// kind is a type of room.
type kind struct {
	n                 int
	hold              int // minutes until the light goes off in an empty room
	day, night, clean int // levels in per cent
	fade              int // hundreds of ms
	escape, slow      bool
	first             int // seconds of the first light of a signal
}

// Files gives the texts of the campus by file name.
func Files(o Options) map[string]string {
	r := rand.New(rand.NewPCG(o.Seed, 0x63616d70))
	kinds := make([]kind, o.Types)
	for i := range kinds {
		kinds[i] = kind{
			n: i, hold: 3 + r.IntN(27), day: 40 + 5*r.IntN(13), night: 3 + r.IntN(15), clean: 80 + 5*r.IntN(5), fade: 3 + r.IntN(18),
			escape: r.IntN(4) == 0, slow: r.IntN(2) == 0, first: 2 + r.IntN(20),
		}
	}
	out := map[string]string{"common.lamp": common(o, kinds), "modes.lamp": modes(kinds), "requirements.lamp": requirements(o.Requirements)}
	for from := 0; from < o.Rooms; from += roomsPerFile {
		var b strings.Builder
		for i := from; i < min(from+roomsPerFile, o.Rooms); i++ {
			kinds[i%len(kinds)].room(&b, i)
		}
		out[fmt.Sprintf("rooms_%03d.lamp", from/roomsPerFile)] = b.String()
	}
	return out
}

func common(o Options, kinds []kind) string {
	var b strings.Builder
	fmt.Fprintf(&b, `# A campus of our own invention for measurements: %d rooms of %d types, seed %d.
site "Campus"

supply mains
battery spare { charged by mains }
controller { fed by spare  reacts within 200 ms }

area core
circuit core_lamp in core { dims 1 %% to 100 %%  power 20 W  fed by spare }
alarm fire
switch cleaning in core
switch night_watch in core
`, o.Rooms, o.Types, o.Seed)
	for _, k := range kinds {
		if k.slow {
			fmt.Fprintf(&b, "alarm alarm%d\n", k.n)
		}
	}
	return b.String()
}

// room writes the things of room i: three circuits and presence.
func (k *kind) room(b *strings.Builder, i int) {
	tags := fmt.Sprintf("kind%d, room", k.n)
	if k.escape {
		tags += ", escape"
	}
	fmt.Fprintf(b, "area r%d : %s\n", i, tags)
	fmt.Fprintf(b, "circuit ceiling_%d in r%d { dims 1 %% to 100 %%  power 40 W  fed by spare  fade %d ms }\n", i, i, 100*k.fade)
	fmt.Fprintf(b, "circuit wall_%d in r%d { dims 1 %% to 100 %%  power 15 W  fed by spare  fade %d ms }\n", i, i, 100*k.fade)
	fmt.Fprintf(b, "circuit desk_%d in r%d { power 10 W  fed by mains }\n", i, i)
	fmt.Fprintf(b, "presence pir_%d in r%d\n", i, i)
}

// modes writes what the whole campus has in common, then the modes of each type, then who outranks whom.
func modes(kinds []kind) string {
	var b strings.Builder
	b.WriteString(`mode fire_alarm { while fire  all circuits full }
mode outage { while mains lost  circuits in room areas at 30 %  core_lamp full }
mode clean { while cleaning  circuits in room areas at 90 % }
mode watch { while night_watch  core_lamp at 10 % }
`)
	for _, k := range kinds {
		fmt.Fprintf(&b, "mode use%d for each area a tagged kind%d {\n    while presence in a, off delay %d min\n", k.n, k.n, k.hold)
		fmt.Fprintf(&b, "    circuits in a: night_watch %d %%, otherwise %d %%\n}\n", k.night, k.day)
		fmt.Fprintf(&b, "precedence fire_alarm > outage > clean > use%d\n", k.n)
		if k.slow {
			fmt.Fprintf(&b, "mode calm%d for each area a tagged kind%d {\n    while alarm%d\n", k.n, k.n, k.n)
			fmt.Fprintf(&b, "    first for %d s circuits in a at 60 %%\n    then circuits in a at 20 %%\n}\n", k.first)
			fmt.Fprintf(&b, "precedence clean > calm%d > use%d\n", k.n, k.n)
		}
	}
	return b.String()
}

// forms are the requirements, each for all rooms; the numbers are how late light may be and the level that counts.
var forms = []string{
	"whenever fire and mains live then within %[1]d s every circuit in a at full until not fire or mains lost",
	"whenever mains lost and not fire then within %[1]d s any circuit in a above %[2]d %% until mains live or fire",
	"whenever cleaning and mains live and not fire then within %[1]d s every circuit in a above %[2]d %% until not cleaning or mains lost or fire",
	"whenever presence in a and mains live then within %[1]d s any circuit in a lit until vacated a or mains lost",
	"fire_alarm and no circuit in a lit lasts at most %[1]d s",
	"outage and not fire and no circuit in a above %[2]d %% lasts at most %[1]d s",
}

// requirements writes so many of them.
func requirements(count int) string {
	var b strings.Builder
	for i := range count {
		fmt.Fprintf(&b, "require \"%d\" for each area a tagged room {\n    %s\n}\n", i+1, fmt.Sprintf(forms[i%len(forms)], 5+i/len(forms), 5+i/len(forms)))
	}
	return b.String()
}
