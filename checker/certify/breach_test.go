// Requirements that are broken in one particular way each, tried with a head that keeps all that it takes to see it.

package certify

import (
	"bytes"
	"context"
	"testing"

	"lampwarden/checker"
	"lampwarden/lang"
)

// breaches are sites with a requirement that is proved and lends its head to the other one, which is broken.
var breaches = []struct {
	name string
	how  checker.Options
	text string
}{
	{"two timers that are due together", checker.Options{AllClocks: true, Structural: true}, `
		switch p
		mode a { starts on p  for 5 s }
		mode b { starts on p  for 5 s }
		mode bad { states fine, hit  on not a and not b if was (a and b): fine -> hit }
		require "lends" { never bad and not bad }
		require "broken" { never bad }`},
	{"one state with clocks in another order", checker.Options{AllClocks: true, Structural: true}, `
		button j, k
		mode a { starts on tap j  for 5 s }
		mode b { starts on tap k  for 5 s }
		mode bad { states fine, hit  on not b if was (a): fine -> hit }
		require "lends" { never bad and not bad }
		require "broken" { never bad }`},
	{"the same, the other way", checker.Options{AllClocks: true, Structural: true}, `
		button j, k
		mode a { starts on tap j  for 5 s }
		mode b { starts on tap k  for 5 s }
		mode bad { states fine, hit  on not a if was (b): fine -> hit }
		require "lends" { never bad and not bad }
		require "broken" { never bad }`},
	{"an input away from rest at start-up", checker.Options{AllClocks: true, Structural: true}, `
		switch p
		assume p lasts at least 5 s
		mode soon { starts on p  for 2 s }
		mode bad { states fine, hit  on not p if soon: fine -> hit }
		require "lends" { never bad and not bad }
		require "broken" { never bad }`},
	{"a free mode that nothing outranks", checker.Options{}, `
		area hall
		circuit lamp in hall { dims }
		switch p, q
		mode mid { while p  lamp at 50 % }
		mode low { while q  lamp at 10 % }
		require "lends" { never p and lamp at 10 % and lamp above 60 % }
		require "broken" { never p and lamp at 10 % and not lamp above 60 % }`},
	{"the mode above wins", checker.Options{Structural: true}, `
		area hall
		circuit lamp in hall { dims }
		switch p, q
		mode high { while p  lamp at 50 % }
		mode low { while q  lamp at 10 % }
		precedence high > low
		require "lends" { never q and not q and p and lamp at 50 % }
		require "broken" { never q and p and lamp at 50 % }`},
}

func TestBreachesAreSeen(t *testing.T) {
	for _, b := range breaches {
		t.Run(b.name, func(t *testing.T) {
			p := lang.LoadText("breach.lamp", b.text)
			if p.Site == nil {
				t.Fatal(p.Diagnostics)
			}
			var heads []*certificate
			opt := b.how
			opt.NoFindings = true
			opt.Certify = func(c *checker.Certificate) error {
				var out bytes.Buffer
				if err := c.Write(&out, "(test)"); err != nil {
					return err
				}
				head, err := read(&out)
				heads = append(heads, head)
				return err
			}
			rep, err := checker.Prove(context.Background(), p.Site, opt)
			if err != nil || rep.Outcomes[0].Verdict != checker.Proved || rep.Outcomes[1].Verdict != checker.Fails || len(heads) != 1 {
				t.Fatalf("%v, %d heads: %+v", err, len(heads), rep.Outcomes)
			}
			for index, broken := range []bool{false, true} {
				c := *heads[0]
				c.index = index
				m, err := newModel(p.Site, &c)
				if err != nil {
					t.Fatalf("requirement %d: the head does not fit: %v", index, err)
				}
				if _, err := grow(m, 5000); (err != nil) != broken || err == errLarge {
					t.Errorf("requirement %d: %v, broken is %v", index, err, broken)
				}
			}
		})
	}
}
