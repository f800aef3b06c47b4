package syntax

// Printing generators, faults, and the requirement forms of settling, returning and energy.

func (n *GeneratorItem) print() string {
	if n.Backs != nil {
		return "backs " + n.Backs.Name
	}
	return "starts within " + n.StartsWithin.print()
}

func (n *FaultWord) print() string {
	switch {
	case n.Word == "fails":
		return "fails to start"
	case n.Value != "":
		return n.Word + " " + n.Value
	}
	return n.Word
}

func (n *FaultAtom) print() string {
	switch n.Word {
	case "bus":
		return "control bus lost"
	case "failure":
		return "lamp failure"
	}
	return "controller " + n.Word
}

func (n *Even) print() string {
	text := "even with "
	if n.N != nil {
		text += "any " + n.N.print() + " of: "
	}
	for i, f := range n.Faults {
		if i > 0 {
			text += ", "
		}
		text += fixed(f.print())
	}
	return text
}

func (n *CanReturn) print() string {
	return "can always return to " + n.P.print() + " within " + n.D.print()
}

func (n *BatteryLasts) print() string {
	return "battery " + n.Battery.Name + " lasts at least " + n.D.print()
}

func (n *EnergyOf) print() string {
	return "energy of " + n.Targets.print() + " per " + n.D.print() + " at most " + n.Most.print()
}
