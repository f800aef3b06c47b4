// Inputs that only count together are one.

package machine

import (
	"testing"

	"lampwarden/lang"
	"lampwarden/lang/site"
)

func TestMergedInputs(t *testing.T) {
	p := lang.LoadText("test.lamp", `
		site "s"
		area hall, stairs
		circuit spots in hall { dims }
		presence a, b, c in hall
		presence d in stairs
		presence e in stairs
		assume changes of d at least 2 s apart
		mode walk { while presence in hall or presence in stairs  spots full }
		mode dim { while (presence in hall and not e) or not (a or b or c)  spots at 10 % }
		mode pair { while a and b  spots at 20 % }
		precedence walk > dim
		precedence walk > pair
		precedence dim > pair`)
	if p.Site == nil {
		t.Fatal(p.Diagnostics)
	}
	for _, c := range []struct {
		name   string
		mode   site.ModeID
		causes []site.InputID
		want   string
	}{
		{"d is assumed about, e stands with the others", 0, nil, "a d"},
		{"e stands alone", 1, nil, "a e"},
		{"a and b must both be true", 2, nil, "a b"},
		{"changes of b alone are causes", 0, []site.InputID{1}, "a b d"},
		{"changes of all are causes", 0, []site.InputID{0, 1, 2, 4}, "a d"},
	} {
		sl := NewSlice(p.Site, Setters(p.Site), Question{Exprs: []*site.Expr{{Op: site.OpMode, Mode: c.mode}}, Causes: &site.Causes{Inputs: c.causes}})
		if got := len(sl.Causes().Inputs); c.mode == 0 && got != 5 {
			t.Errorf("%s: %d inputs can influence it, not 5", c.name, got)
		}
		got := ""
		for i, kept := range sl.Inputs {
			if kept {
				got += " " + p.Site.Inputs[i].Name
			}
		}
		if got != " "+c.want {
			t.Errorf("%s: kept%s, want %s", c.name, got, c.want)
		}
	}
}
