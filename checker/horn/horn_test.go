package horn

import (
	"errors"
	"strings"
	"testing"

	"lampwarden/lang/site"
)

// lamp is a site with one lamp that a switch lights within a second.
func lampSite() *site.Site {
	input := &site.Expr{Op: site.OpInput}
	lit := &site.Expr{Op: site.OpLight, Lo: 1, Hi: site.Full}
	return &site.Site{
		Name:       "one lamp",
		Controller: site.Controller{FedBy: site.None, ReactsWithin: 1000},
		Areas:      []site.Area{{Name: "hall", Parent: site.None}},
		Circuits:   []site.Circuit{{Name: "lamp", Min: 1, Max: site.Full, FedBy: site.None}},
		Inputs:     []site.Input{{Name: "go", Kind: site.Switch, Area: site.None}},
		Modes: []site.Mode{{Name: "on", Area: site.None, Cond: input, States: []site.State{{Stages: []site.Stage{{
			Settings: []site.Setting{{Circuits: []site.CircuitID{0}, Cases: []site.Case{{Level: site.Full}}}}}}}}}},
		StepOrder:  []site.ModeID{0},
		Precedence: site.Precedence{Above: [][]bool{{false}}, Equal: [][]site.Rule{{site.NoRule}}},
		Requirements: []site.Requirement{
			{Name: "in time", Form: site.Whenever, A: input, B: lit, D: 1000, Until: &site.Expr{Op: site.OpNot, Kids: []*site.Expr{input}}},
			{Name: "too soon", Form: site.Whenever, A: input, B: lit, D: 999},
		},
	}
}

func written(t *testing.T, s *site.Site, r int) string {
	t.Helper()
	var b strings.Builder
	if err := Write(&b, s, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestNamesStayInComments: a name can not end the comment that it stands in, nor be anything else.
func TestNamesStayInComments(t *testing.T) {
	plain := lampSite()
	strange := lampSite()
	const name = "x\n(assert false)\r\u2028|\"; \u202e(exit)\x00"
	strange.Name, strange.Circuits[0].Name, strange.Inputs[0].Name, strange.Modes[0].Name = name, name, name, name
	strange.Requirements[0].Name = name
	code := func(text string) string {
		var out []string
		for line := range strings.Lines(text) {
			for _, r := range line {
				if r > '~' || r < ' ' && r != '\n' {
					t.Errorf("a character %q in %q", r, line)
				}
			}
			if !strings.HasPrefix(line, ";") {
				out = append(out, line)
			}
		}
		return strings.Join(out, "")
	}
	if a, b := code(written(t, plain, 0)), code(written(t, strange, 0)); a != b {
		t.Errorf("names change the script:\n%s\n%s", a, b)
	}
}

// TestBeyond: what is not covered is refused, with its place, and nothing is written.
func TestBeyond(t *testing.T) {
	byTheSun := lampSite()
	byTheSun.Dates = []site.SunDate{{Name: "21 June"}}
	byTheSun.Bands = []site.Band{{Name: "dark", FromSun: &site.SunTime{Event: site.Sunset}, To: 1}}
	byTheSun.Modes[0].Cond = &site.Expr{Op: site.OpBand}
	trigger := lampSite()
	trigger.Dates = byTheSun.Dates
	trigger.Modes[0] = site.Mode{Kind: site.Latch, Starts: []site.Trigger{{Sun: &site.SunTime{}}}, States: trigger.Modes[0].States}
	returns, energy := lampSite(), lampSite()
	returns.Requirements[0] = site.Requirement{Form: site.CanReturn, P: &site.Expr{Op: site.OpTrue}}
	energy.Requirements[0] = site.Requirement{Form: site.Energy}
	for _, c := range []struct {
		site *site.Site
		want string
	}{
		{byTheSun, "a band by the sun, on a site without a date, is not covered"},
		{trigger, "a trigger by the sun, on a site without a date, is not covered"},
		{returns, `a requirement "can always return" is not covered`},
		{energy, "a requirement of energy is not covered"},
	} {
		var b strings.Builder
		var beyond *BeyondError
		if err := Write(&b, c.site, 0); !errors.As(err, &beyond) || err.Error() != c.want || b.Len() > 0 {
			t.Errorf("got %v and %d bytes, want %s", err, b.Len(), c.want)
		}
		if err := WriteUnrolled(&b, c.site, 0, 1); !errors.As(err, &beyond) || b.Len() > 0 {
			t.Errorf("unrolled: got %v and %d bytes, want %s", err, b.Len(), c.want)
		}
	}
}
