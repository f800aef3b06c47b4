// Names of declarations that could not be read.

package resolve

import (
	"slices"
	"strings"

	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// declareBroken enters the names that broken declarations would have given, as
// names of unknown kind, and notes of which kinds things may be missing.
func (r *resolver) declareBroken(f *syntax.File) {
	r.siteBroken = r.siteBroken || f.Faulty
	for _, id := range f.Broken {
		if k, ok := brokenKind(f.Source, id.Span); ok {
			r.unsure[k] = true
		}
		if r.names[id.Name] == nil {
			r.names[id.Name] = &symbol{name: id.Name, kind: kindBroken, span: id.Span}
		}
	}
}

// brokenKind tells from the word before a broken declaration's name what it
// declares; a further name of a list follows the first and tells nothing new.
func brokenKind(f *source.File, name source.Span) (kind, bool) {
	before := strings.TrimRight(f.Text[:name.Start], " \t\r\n")
	word := before[strings.LastIndexAny(before, " \t\r\n}")+1:]
	kinds := map[string]kind{
		"supply": kindSupply, "battery": kindBattery, "generator": kindGenerator, "area": kindArea, "circuit": kindCircuit, "lamps": kindCircuit, "group": kindGroup,
		"presence": kindInput, "button": kindInput, "contact": kindInput, "switch": kindInput, "alarm": kindInput,
		"bell": kindInput, "band": kindBand, "mode": kindMode, "output": kindOutput, "notice": kindOutput, "days": kindDays,
		"constant": kindConstant, "daylight": kindSensor, "curve": kindCurve,
	}
	k, ok := kinds[word]
	if !ok && !strings.HasSuffix(before, ",") { // a misspelt word
		k, ok = kinds[source.Closest(word, mapKeys(kinds))]
	}
	return k, ok
}

func mapKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
