// Terms: a graph of shared nodes over Bool and Real, simplified as it is built.

package horn

import (
	"encoding/binary"
	"strconv"
)

// term is a node of a bank. The zero value is false.
type term int32

const (
	no  term = 0
	yes term = 1
)

type op uint8

const (
	opNo op = iota
	opYes
	opVar
	opNum
	opNot
	opAnd
	opOr
	opIte
	opIff
	opEq
	opLe
	opLt
	opAdd
	opSub
	opImplies
	opReach // the predicate of a state
)

// word is how SMT-LIB writes an operator.
func (o op) word() string {
	return [...]string{"false", "true", "", "", "not", "and", "or", "ite", "=", "=", "<=", "<", "+", "-", "=>", "Reach"}[o]
}

type node struct {
	op   op
	kids []term
	name string // of a variable
	num  int64
}

// bank holds nodes, each once.
type bank struct {
	nodes []node
	known map[string]term
}

func newBank() *bank {
	b := &bank{known: map[string]term{}}
	b.add(node{op: opNo})
	b.add(node{op: opYes})
	return b
}

func (b *bank) add(n node) term {
	key := make([]byte, 0, 16+4*len(n.kids)+len(n.name))
	key = append(key, byte(n.op))
	key = binary.AppendVarint(key, n.num)
	for _, k := range n.kids {
		key = binary.AppendVarint(key, int64(k))
	}
	key = append(key, n.name...)
	if t, ok := b.known[string(key)]; ok {
		return t
	}
	t := term(len(b.nodes))
	b.nodes = append(b.nodes, n)
	b.known[string(key)] = t
	return t
}

func (b *bank) variable(name string) term { return b.add(node{op: opVar, name: name}) }
func (b *bank) number(n int64) term       { return b.add(node{op: opNum, num: n}) }

// value gives the number that a term is, if it is one.
func (b *bank) value(t term) (int64, bool) { return b.nodes[t].num, b.nodes[t].op == opNum }

func boolean(v bool) term {
	if v {
		return yes
	}
	return no
}

func (b *bank) not(x term) term {
	switch {
	case x == no:
		return yes
	case x == yes:
		return no
	case b.nodes[x].op == opNot:
		return b.nodes[x].kids[0]
	}
	return b.add(node{op: opNot, kids: []term{x}})
}

func (b *bank) and(xs ...term) term { return b.junction(opAnd, yes, no, xs) }
func (b *bank) or(xs ...term) term  { return b.junction(opOr, no, yes, xs) }

// junction makes a conjunction or disjunction: unit adds nothing to it, zero decides it.
func (b *bank) junction(o op, unit, zero term, xs []term) term {
	var kids []term
	has := map[term]bool{}
	var put func(xs []term) bool
	put = func(xs []term) bool {
		for _, x := range xs {
			switch {
			case x == zero || has[b.not(x)]:
				return false
			case x == unit || has[x]:
			case b.nodes[x].op == o:
				if !put(b.nodes[x].kids) {
					return false
				}
			default:
				has[x] = true
				kids = append(kids, x)
			}
		}
		return true
	}
	switch {
	case !put(xs):
		return zero
	case len(kids) == 0:
		return unit
	case len(kids) == 1:
		return kids[0]
	}
	return b.add(node{op: o, kids: kids})
}

func (b *bank) implies(x, y term) term { return b.or(b.not(x), y) }

// iff is equality of two Bool terms.
func (b *bank) iff(x, y term) term {
	switch {
	case x == y:
		return yes
	case x == yes:
		return y
	case y == yes:
		return x
	case x == no:
		return b.not(y)
	case y == no:
		return b.not(x)
	case x == b.not(y):
		return no
	case x > y:
		x, y = y, x
	}
	return b.add(node{op: opIff, kids: []term{x, y}})
}

func (b *bank) differ(x, y term) term { return b.not(b.iff(x, y)) }

// either is "if c then x else y" of Bool terms.
func (b *bank) either(c, x, y term) term {
	switch {
	case c == yes || x == y:
		return x
	case c == no:
		return y
	case x == yes || x == c:
		return b.or(c, y)
	case x == no:
		return b.and(b.not(c), y)
	case y == yes:
		return b.or(b.not(c), x)
	case y == no || y == c:
		return b.and(c, x)
	}
	return b.add(node{op: opIte, kids: []term{c, x, y}})
}

// ite is "if c then x else y" of Real terms.
func (b *bank) ite(c, x, y term) term {
	switch {
	case c == yes || x == y:
		return x
	case c == no:
		return y
	}
	return b.add(node{op: opIte, kids: []term{c, x, y}})
}

func (b *bank) eq(x, y term) term {
	return b.relation(opEq, x, y, func(m, n int64) bool { return m == n })
}
func (b *bank) le(x, y term) term {
	return b.relation(opLe, x, y, func(m, n int64) bool { return m <= n })
}
func (b *bank) lt(x, y term) term {
	return b.relation(opLt, x, y, func(m, n int64) bool { return m < n })
}

func (b *bank) relation(o op, x, y term, holds func(m, n int64) bool) term {
	m, ok := b.value(x)
	n, also := b.value(y)
	if ok && also {
		return boolean(holds(m, n))
	}
	if x == y {
		return boolean(holds(0, 0))
	}
	return b.add(node{op: o, kids: []term{x, y}})
}

func (b *bank) sub(x, y term) term {
	m, ok := b.value(x)
	n, also := b.value(y)
	switch {
	case ok && also:
		return b.number(m - n)
	case also && n == 0:
		return x
	}
	return b.add(node{op: opSub, kids: []term{x, y}})
}

func (b *bank) sum(xs ...term) term {
	total := int64(0)
	var kids []term
	for _, x := range xs {
		if n, ok := b.value(x); ok {
			total += n
			continue
		}
		kids = append(kids, x)
	}
	if total != 0 || len(kids) == 0 {
		kids = append(kids, b.number(total))
	}
	if len(kids) == 1 {
		return kids[0]
	}
	return b.add(node{op: opAdd, kids: kids})
}

// atLeast tells whether n or more of the terms are true.
func (b *bank) atLeast(n int, xs []term) term {
	if n <= 0 {
		return yes
	}
	// have[j]: at least j of those seen so far.
	have := make([]term, n+1)
	have[0] = yes
	for _, x := range xs {
		for j := n; j >= 1; j-- {
			have[j] = b.or(have[j], b.and(have[j-1], x))
		}
	}
	return have[n]
}

// leaf gives the text of a node without kids.
func (n *node) leaf() string {
	switch n.op {
	case opVar:
		return n.name
	case opNum:
		if n.num < 0 {
			return "(- " + strconv.FormatUint(uint64(-n.num), 10) + ".0)"
		}
		return strconv.FormatInt(n.num, 10) + ".0"
	}
	return n.op.word()
}
