package ebnf

// Lines of a production.

import "strings"

// layout writes a production on one line if it fits, else with a line for each alternative; lines that are still too
// long are broken between parts.
func layout(name string, alternatives []string, width int) string {
	one := name + " = " + strings.Join(alternatives, " | ") + " ;"
	if len(one) <= width {
		return one + "\n"
	}
	if len(alternatives) == 1 {
		return broken(name+" = ", "    ", alternatives[0]+" ;", width)
	}
	out := name + " =\n"
	for i, a := range alternatives {
		lead := "  | "
		if i == 0 {
			lead = "    "
		}
		if i == len(alternatives)-1 {
			a += " ;"
		}
		out += broken(lead, "        ", a, width)
	}
	return out
}

// broken writes parts parted by blanks into lines. An opening bracket stays with what follows it, a closing one with what
// stands before. Remarks and texts in quotes have blanks too; these may be breaks like any other, as the notation allows.
func broken(first, next, text string, width int) string {
	var b strings.Builder
	line, some := first, false
	for _, part := range glued(strings.Fields(text)) {
		if some && len(line)+1+len(part) > width {
			b.WriteString(line + "\n")
			line, some = next, false
		}
		if some {
			line += " "
		}
		line += part
		some = true
	}
	b.WriteString(line + "\n")
	return b.String()
}

// glued puts brackets to their neighbours.
func glued(parts []string) []string {
	var out []string
	open := false
	for _, p := range parts {
		if n := len(out) - 1; n >= 0 && (open || strings.Contains(" ] } ) ; ", " "+p+" ")) {
			out[n] += " " + p
		} else {
			out = append(out, p)
		}
		open = strings.Contains(" [ { ( ", " "+p+" ")
	}
	return out
}
