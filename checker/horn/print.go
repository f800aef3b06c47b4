// Writing terms as SMT-LIB, shared nodes named by let.

package horn

import (
	"fmt"
	"slices"
	"strings"
)

// text writes a term. What is used more than once is bound by "let", all of one height together, so that the
// nesting is no deeper than the term.
func (b *bank) text(root term) string {
	uses := map[term]int{}
	height := map[term]int{}
	var visit func(t term) int
	visit = func(t term) int {
		uses[t]++
		if h, ok := height[t]; ok {
			return h
		}
		h := 0
		for _, k := range b.nodes[t].kids {
			h = max(h, visit(k)+1)
		}
		height[t] = h
		return h
	}
	top := visit(root)
	levels := make([][]term, top+1)
	for t, n := range uses {
		if n > 1 && height[t] > 0 && b.nodes[t].op != opNot {
			levels[height[t]] = append(levels[height[t]], t)
		}
	}
	names := map[term]string{}
	var out strings.Builder
	depth := 0
	for _, ts := range levels {
		if len(ts) == 0 {
			continue
		}
		slices.Sort(ts)
		out.WriteString("(let (")
		for i, t := range ts {
			if i > 0 {
				out.WriteByte(' ')
			}
			fmt.Fprintf(&out, "(x%d ", len(names)+i)
			b.write(&out, t, names)
			out.WriteByte(')')
		}
		for _, t := range ts {
			names[t] = fmt.Sprintf("x%d", len(names))
		}
		out.WriteString(")\n ")
		depth++
	}
	b.write(&out, root, names)
	out.WriteString(strings.Repeat(")", depth))
	return out.String()
}

func (b *bank) write(out *strings.Builder, t term, names map[term]string) {
	if name, ok := names[t]; ok {
		out.WriteString(name)
		return
	}
	n := &b.nodes[t]
	if len(n.kids) == 0 {
		out.WriteString(n.leaf())
		return
	}
	out.WriteByte('(')
	out.WriteString(n.op.word())
	for _, k := range n.kids {
		out.WriteByte(' ')
		b.write(out, k, names)
	}
	out.WriteByte(')')
}
