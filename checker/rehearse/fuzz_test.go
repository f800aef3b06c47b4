// Fuzzing: no scenario, whatever it says, makes a rehearsal panic, hang or fill the memory.

package rehearse_test

import (
	"runtime/debug"
	"runtime/metrics"
	"strings"
	"testing"
	"time"

	"lampwarden/checker/rehearse"
	"lampwarden/lang"
)

// stage is the site that the scenarios of FuzzScenario play on: something of every kind that takes time.
const stage = `site "Stage" { place 53.27 N, 9.05 W  time zone "Europe/Dublin"  year 2026 }
supply mains
battery b { capacity 100 Wh  charged by mains }
controller { fed by mains  starts within 20 s  reacts within 1 s }
area hall area yard
circuit a in hall { dims fade 2 s fed by mains power 20 W adds 100 lux }
circuit c in hall { switches fed by b power 10 W }
circuit d in yard { dims }
daylight sensor in hall
presence pir in hall
button k in hall
contact door
switch s
alarm fire
band night 22:00 to 06:00
band twilit sunset to sunrise
mode flashes { while fire  flash c, 0.5 s on, 0.5 s off }
mode welcome { while presence in hall, on delay 2 s, off delay 5 min  a at 60 % }
mode story { starts on tap k  ends on long press k  first for 10 s a ramp to full over 8 s then for 5 s d at 5 % then d full }
mode steps { states auto, up, down  on s on: auto -> up  after 3 min: up -> down  at 07:00: down -> auto  in up: d at 40 % in down: d off }
mode bright { while night or twilit and door open  keep hall at 200 lux in 4 steps }
precedence flashes > story > steps > welcome > bright
`

var scenes = []string{
	"at 12:00 fire raised\nexpect c lit", "start Mon 23:59\ngiven s on, mains lost\nat 23:59:30 tap k\nexpect d at full within 20 s\nat 00:10 mains live",
	"on 21 June\nstart 04:00\nat 04:10 presence in hall\nexpect a at 60 % within 5 s\nat 04:11 vacated hall\nexpect a off within 6 min",
	"start 00:00\nat 00:00:00.001 fire raised\nexpect c off within 24 h", "at 12:00 daylight in hall 300 lux\nexpect illuminance of hall at least 200 lux within 1 h",
	"start Sun 01:30\non 29 March\nat 01:40 s on\nat 03:10 s off\nexpect steps in down within 99 h", "at 12:00 fire raised\nat 12:00:00.001 s on", "start 22:00\nexpect not (a lit or c lit)\nexpect every circuit in hall off",
}

// TestScenes: what the fuzzing starts with are scenarios that can be played.
func TestScenes(t *testing.T) {
	for i, body := range scenes {
		p := lang.LoadText("scene.lamp", stage+"scenario \"x\" {\n"+body+"\n}\n")
		if p.Site == nil {
			var b strings.Builder
			_ = p.WriteDiagnostics(&b, false)
			t.Errorf("scene %d: %s", i, b.String())
			continue
		}
		if _, _, err := rehearse.Rehearse(p.Site, &p.Site.Scenarios[0]); err != nil {
			t.Errorf("scene %d: %v", i, err)
		}
	}
}

// FuzzScenario: what stands in the braces of a scenario.
func FuzzScenario(f *testing.F) {
	for _, s := range scenes {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, body string) {
		if len(body) > 4000 {
			t.Skip()
		}
		text := stage + "scenario \"x\" {\n" + body + "\n}\n"
		p := lang.LoadText("fuzz.lamp", text)
		if p.Site == nil {
			return
		}
		const most = 2 << 30 // a run of many weeks keeps up to 1.2 GB (maxKept)
		defer debug.SetMemoryLimit(debug.SetMemoryLimit(most / 2))
		watch := time.AfterFunc(2*time.Minute, func() { panic("it took more than two minutes with\n" + text) })
		defer watch.Stop()
		for i := range p.Site.Scenarios {
			sc := &p.Site.Scenarios[i]
			tl, xs, err := rehearse.Rehearse(p.Site, sc)
			if err != nil {
				if strings.TrimSpace(err.Error()) == "" {
					t.Error("an error without words")
				}
				continue
			}
			expected := 0
			for _, st := range sc.Steps {
				if st.Expect != nil {
					expected++
				}
			}
			if len(tl.Steps) == 0 || len(xs) != expected {
				t.Errorf("%d steps, %d of %d expectations", len(tl.Steps), len(xs), expected)
			}
		}
		sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
		if metrics.Read(sample); sample[0].Value.Uint64() > most {
			t.Errorf("the heap has %d MB with\n%s", sample[0].Value.Uint64()>>20, text)
		}
	})
}
