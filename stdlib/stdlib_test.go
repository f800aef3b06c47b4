// Each pack is read together with sites, and finds in them what it is there to find.

package stdlib_test

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lampwarden/checker"
	"lampwarden/lang"
	"lampwarden/stdlib"
)

// withPack loads a site that uses a pack and proves the pack's requirements; it gives the verdicts by name.
func withPack(t *testing.T, pack, with, path string) map[string]checker.Verdict {
	t.Helper()
	p, err := lang.Load([]string{path, write(t, "use.lamp", `use "`+pack+`" `+with)})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Diagnostics) > 0 {
		var b strings.Builder
		_ = p.WriteDiagnostics(&b, false)
		t.Fatal(b.String())
	}
	opt := checker.Options{Only: []int{}, NoFindings: true}
	for i := range p.Site.Requirements {
		if strings.HasPrefix(p.Site.Requirements[i].Name, pack+" pack: ") {
			opt.Only = append(opt.Only, i)
		}
	}
	rep, err := checker.Prove(context.Background(), p.Site, opt)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]checker.Verdict{}
	for _, o := range rep.Outcomes {
		out[p.Site.Requirements[o.Requirement].Name] = o.Verdict
	}
	return out
}

// write makes a file in a folder of its own.
func write(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// site writes a small site.
func site(t *testing.T, text string) string { return write(t, "site.lamp", text) }

func TestNames(t *testing.T) {
	if got := stdlib.Names(); !slices.Equal(got, []string{"alarm", "alarm_flicker", "escape", "fault", "flicker"}) {
		t.Errorf("got %v", got)
	}
	if _, ok := stdlib.Text("../README"); ok {
		t.Error("a pack outside the folder was found")
	}
}

func TestEscapeHoldsInTheGuesthouse(t *testing.T) {
	got := withPack(t, "escape", "", "../examples/guesthouse/guesthouse.lamp")
	if len(got) != 7 {
		t.Errorf("%d requirements: %v", len(got), got)
	}
	for name, v := range got {
		if v != checker.Proved {
			t.Errorf("%s: %s", name, v)
		}
	}
}

// The failed supply takes the only lamp of the route with it.
func TestEscapeFailsOnTheFailedSupply(t *testing.T) {
	got := withPack(t, "escape", "", site(t, `site "s"
supply mains
area hall : escape
circuit spots in hall { dims  fed by mains }
presence pir in hall
alarm fire
mode fire_alarm { while fire  all circuits full }
mode welcome { while presence in hall  spots at 60 % }
precedence fire_alarm > welcome
`))
	for name, v := range got {
		if v != checker.Fails {
			t.Errorf("%s: %s", name, v)
		}
	}
	if len(got) != 5 {
		t.Errorf("%d requirements", len(got))
	}
}

func TestFlicker(t *testing.T) {
	for rhythm, want := range map[string]checker.Verdict{
		"250 ms on, 250 ms off": checker.Proved, // 2 Hz
		"100 ms on, 150 ms off": checker.Fails,  // 4 Hz
	} {
		got := withPack(t, "flicker", "", site(t, `site "s"
area hall
circuit spots in hall { dims }
alarm fire
mode fire_alarm { while fire, off delay 2 s  flash all circuits, `+rhythm+` }
assume changes of fire at least 2 s apart
`))
		if v := got["flicker pack: few flashes in any second (hall)"]; v != want || len(got) != 1 {
			t.Errorf("%s: %v, want %s", rhythm, got, want)
		}
	}
}

// The parameters are read: four flashes a second are let through where five are asked for, and another alarm counts.
func TestParameters(t *testing.T) {
	path := site(t, `site "s"
supply grid
area hall, attic : escape
area cellar
circuit spots in hall { dims }
circuit beam in attic { switches }
presence pir in hall
alarm smoke
mode alarm_flash { while smoke, off delay 2 s  flash all circuits, 100 ms on, 150 ms off }
assume changes of smoke at least 2 s apart
`)
	got := withPack(t, "flicker", "with flashes = 5", path)
	if v := got["flicker pack: few flashes in any second (flashes = 5) (hall)"]; v != checker.Proved || len(got) != 2 {
		t.Errorf("got %v", got)
	}
	got = withPack(t, "escape", "with fire_input = smoke, mains_supply = grid, share = 50 %", path)
	if len(got) != 5 {
		t.Errorf("got %v", got)
	}
	for name, v := range got {
		if v != checker.Fails {
			t.Errorf("%s: %s", name, v)
		}
	}
}

// An alarm counts as its detectors sense it: one whose panel forgets to latch it is none.
func TestAlarm(t *testing.T) {
	const building = `site "s"
area hall : escape
circuit spots in hall { dims }
presence pir in hall
button key in hall
alarm smoke latched until tap key
mode walk { while presence in hall  spots at 60 % }
`
	for text, want := range map[string]checker.Verdict{
		"mode smoke_alarm { while smoke  spots full }\nprecedence smoke_alarm > walk\n":               checker.Proved,
		"mode smoke_alarm { while smoke, on delay 8 s  spots full }\nprecedence smoke_alarm > walk\n": checker.Fails, // later than 5 s
		"mode smoke_alarm { while smoke  spots full }\nprecedence walk > smoke_alarm\n":               checker.Fails,
	} {
		got := withPack(t, "alarm", "with alarm_input = smoke", site(t, building+text))
		if v := got["alarm pack: lights the way out (alarm_input = smoke)"]; v != want || len(got) != 2 {
			t.Errorf("%s: %v, want %s", text, got, want)
		}
	}
}

// Fast flashing counts only while the alarm is raised.
func TestAlarmFlicker(t *testing.T) {
	for what, want := range map[string]checker.Verdict{"fire": checker.Fails, "late": checker.Proved} {
		got := withPack(t, "alarm_flicker", "", site(t, `site "s"
area hall
circuit spots in hall { dims }
alarm fire
switch late in hall
mode flashing { while `+what+` and not was_fire  flash spots, 100 ms on, 100 ms off }
mode was_fire { while fire and late }
mode fire_alarm { while fire and late  spots full }
precedence fire_alarm > flashing
assume changes of fire at least 2 s apart
assume changes of late at least 2 s apart
`))
		if v := got["alarm_flicker pack: few flashes in any second (hall)"]; v != want || len(got) != 1 {
			t.Errorf("%s: %v, want %s", what, got, want)
		}
	}
}

// Only a light with a system failure level is there without the controller and its bus.
func TestFault(t *testing.T) {
	for level, want := range map[string]checker.Verdict{"system failure level full": checker.Proved, "": checker.Fails, "system failure level off": checker.Fails} {
		got := withPack(t, "fault", "", site(t, `site "s"
supply mains
battery ups { charged by mains }
controller { fed by ups  reacts within 300 ms }
area hall : escape
circuit spots in hall { dims  fed by ups  `+level+` }
alarm fire
mode fire_alarm { while fire  all circuits full }
assume changes of fire at least 2 s apart
`))
		if len(got) != 2 {
			t.Errorf("%d requirements", len(got))
		}
		for name, v := range got {
			if v != want {
				t.Errorf("%q: %s: %s, want %s", level, name, v, want)
			}
		}
	}
}
