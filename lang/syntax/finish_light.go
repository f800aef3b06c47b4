package syntax

// Values of light that is measured.

import "lampwarden/lang/source"

// maxLux is more than the sun gives; the colour temperatures are those of lamps, with room to spare.
const (
	maxLux    = 1_000_000
	minKelvin = 1000
	maxKelvin = 10_000
)

func one(string) int64 { return 1 }

func (f *finisher) kelvin(n *Kelvin) {
	before := f.bad
	f.bad = false
	n.Value = f.scaled(n.Span, n.Raw, one, 1_000_000)
	if !f.bad && (n.Value < minKelvin || n.Value > maxKelvin) {
		f.wrong(source.BadNumber, n.Span, "from 1000 K to 10000 K", "`%s` is not the colour temperature of a lamp", clip(n.Raw))
	}
	n.Value = min(max(n.Value, minKelvin), maxKelvin)
	f.bad = f.bad || before
}
