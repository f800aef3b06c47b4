// Formulas as text, close to how the catalogues print them.

package formula

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Parse reads a formula. Atoms are words in small letters; the operators are ! & | -> G F U W (future), Y O H S (past), up,
// C with a number, true, false, last. A bound stands behind its operator: [<d] [<=d] [=d] [>d] [>=d], d a whole number or
// one of the names in times. Unary operators bind closest, then U W S, then &, |, ->. The error has the place as a column.
func Parse(text string, times map[string]int64) (*Formula, error) {
	p := &parser{text: text, times: times}
	p.next()
	f := p.implication()
	if p.err == nil && p.token != "" {
		p.fail("an operator or the end")
	}
	return f, p.err
}

type parser struct {
	text  string
	times map[string]int64
	at    int // behind the token
	token string
	err   error
}

var symbols = []string{"->", "<=", ">=", "!", "&", "|", "(", ")", "[", "]", "<", ">", "="}

// next reads the next token; "" at the end.
func (p *parser) next() {
	for p.at < len(p.text) && p.text[p.at] == ' ' {
		p.at++
	}
	rest := p.text[p.at:]
	p.token = ""
	for _, s := range symbols {
		if strings.HasPrefix(rest, s) {
			p.token = s
			p.at += len(s)
			return
		}
	}
	n := strings.IndexFunc(rest, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if n < 0 {
		n = len(rest)
	}
	if n == 0 && rest != "" {
		p.fail("an operator, an atom or a bracket")
		return
	}
	p.token = rest[:n]
	p.at += n
}

// fail keeps the first error.
func (p *parser) fail(want string) {
	if p.err == nil {
		p.err = fmt.Errorf("column %d: %q where %s was expected", p.at-len(p.token)+1, p.token, want)
	}
}

// accept takes the token if it is one of these.
func (p *parser) accept(tokens ...string) (string, bool) {
	if p.err != nil || !slices.Contains(tokens, p.token) {
		return "", false
	}
	t := p.token
	p.next()
	return t, true
}

func (p *parser) expect(token string) {
	if _, ok := p.accept(token); !ok {
		p.fail(strconv.Quote(token))
	}
}

func (p *parser) implication() *Formula {
	a := p.disjunction()
	if _, ok := p.accept("->"); ok {
		return either(negation(a), p.implication())
	}
	return a
}

func (p *parser) disjunction() *Formula {
	a := p.conjunction()
	for {
		if _, ok := p.accept("|"); !ok {
			return a
		}
		a = either(a, p.conjunction())
	}
}

func (p *parser) conjunction() *Formula {
	a := p.binary()
	for {
		if _, ok := p.accept("&"); !ok {
			return a
		}
		a = both(a, p.binary())
	}
}

func (p *parser) binary() *Formula {
	a := p.unary()
	t, ok := p.accept("U", "W", "S")
	if !ok {
		return a
	}
	in := p.bound()
	b := p.binary()
	switch t {
	case "U":
		return untilIn(in, a, b)
	case "W":
		return weakUntil(in, a, b)
	}
	return sinceIn(in, a, b)
}

func (p *parser) unary() *Formula {
	t, ok := p.accept("!", "G", "F", "O", "H", "Y", "C", "up", "(", "true", "false", "last")
	if !ok {
		return p.name()
	}
	switch t {
	case "!":
		return negation(p.unary())
	case "G":
		in := p.bound()
		return globally(in, p.unary())
	case "F":
		in := p.bound()
		return eventually(in, p.unary())
	case "O":
		in := p.bound()
		return once(in, p.unary())
	case "H":
		in := p.bound()
		return soFar(in, p.unary())
	case "Y":
		return before(p.unary())
	case "up":
		return rise(p.unary())
	case "C":
		n := int(p.number())
		in := p.bound()
		return &Formula{op: count, n: n, in: in, kids: []*Formula{p.unary()}}
	case "(":
		f := p.implication()
		p.expect(")")
		return f
	case "last":
		return &Formula{op: last}
	}
	return &Formula{op: constant, atom: t}
}

func (p *parser) name() *Formula {
	if p.token == "" || !unicode.IsLower(rune(p.token[0])) {
		p.fail("an atom, a unary operator or a bracket")
		return truth()
	}
	f := &Formula{op: atom, atom: p.token}
	p.next()
	return f
}

// number is a whole number or one of the named times.
func (p *parser) number() int64 {
	n, ok := p.times[p.token]
	if !ok {
		var err error
		if n, err = strconv.ParseInt(p.token, 10, 64); err != nil || n < 0 {
			p.fail("a whole number, or the name of a time")
			return 0
		}
	}
	p.next()
	return n
}

func (p *parser) bound() Bound {
	if _, ok := p.accept("["); !ok {
		return always
	}
	rel, ok := p.accept("<", "<=", "=", ">", ">=")
	if !ok {
		p.fail("one of < <= = > >=")
		return always
	}
	d := p.number()
	p.expect("]")
	switch rel {
	case "<":
		return Bound{Hi: d, HiOpen: true}
	case "<=":
		return Bound{Hi: d}
	case "=":
		return Bound{Lo: d, Hi: d}
	case ">":
		return Bound{Lo: d, LoOpen: true, Hi: -1}
	}
	return Bound{Lo: d, Hi: -1}
}
