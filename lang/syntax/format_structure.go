package syntax

// Printing structure: rows of circuits.

func (n *Ref) print() string {
	if n.Numbers != nil {
		return n.Name.Name + n.Numbers.print()
	}
	return n.Name.Name
}

// Text gives the name and the numbers as the language writes them.
func (n *Ref) Text() string { return n.print() }

func (n *Numbers) print() string {
	if n.To != nil {
		return "[" + n.From.print() + ".." + n.To.print() + "]"
	}
	return "[" + n.From.print() + "]"
}
