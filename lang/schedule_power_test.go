package lang_test

// Circuits of a schedule on supplies that fail.

import (
	"testing"

	"lampwarden/lang/site"
)

func TestScheduleOfSupplies(t *testing.T) {
	p := loadTable(`
generator diesel { starts within 15 s  backs mains }
circuits from "s.csv" in hall {
    name "Ref"  fed by "Board"  dims "Kind"
    returns after 5 s  system failure level 5 %  power on level off
}
`, "Ref,Kind,Board\na,yes,diesel\nb,no,mains\n").Site
	if p == nil {
		t.Fatal("refused")
	}
	for name, want := range map[string]struct {
		dead string
		fail site.Level
	}{"a": {"diesel return delay 5 s", 500}, "b": {"mains return delay 5 s", site.Full}} {
		c := &p.Circuits[p.CircuitNamed(name)]
		if got := p.ExprText(c.Dead); got != want.dead || *c.Fail != want.fail || *c.PowerOn != 0 {
			t.Errorf("%s is dead while %s, fails to %s, stands at %s", name, got, c.Fail, c.PowerOn)
		}
	}
}
