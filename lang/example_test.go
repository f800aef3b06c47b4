package lang_test

import (
	"fmt"
	"os"

	"lampwarden/lang"
)

func ExampleLoadText() {
	p := lang.LoadText("house.lamp", `
		area hall
		circuit spots in hall { dims }
		presence pir in hall
		mode welcome { while presence in hall, off delay 5 min  spots at 60 % }
		require "the hall is lit" { whenever presence in hall then within 1 s spots lit }
	`)
	s := p.Site
	m := s.Modes[0]
	fmt.Println(m.Name, "while", s.ExprText(m.Cond), "and", m.OffDelay, "longer")
	fmt.Println(s.Requirements[0].Name+":", s.ExprText(s.Requirements[0].B), "within", s.Requirements[0].D)
	// Output:
	// welcome while presence in hall and 5 min longer
	// the hall is lit: spots lit within 1 s
}

func ExampleLoadText_mistake() {
	p := lang.LoadText("house.lamp", "alarm fire\nmode alarm_light { while fier }\n")
	fmt.Println(p.Site == nil)
	_ = p.WriteDiagnostics(os.Stdout, false)
	// Output:
	// true
	// house.lamp:2:26: error[unknown-name]: nothing is named `fier`
	//    2 | mode alarm_light { while fier }
	//      |                          ^^^^
	//   try: did you mean `fire`?
}

func ExampleLoad() {
	p, err := lang.Load([]string{"../examples/guesthouse"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Site.Name, "without mistakes:", !p.Diagnostics.HasErrors())
	_, err = lang.Load([]string{"nowhere"})
	fmt.Println(err)
	// Output:
	// Saltmarsh House without mistakes: true
	// nowhere: no such file or folder
}
