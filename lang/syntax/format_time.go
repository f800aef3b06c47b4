package syntax

// Printing the sun and dates.

func (n *DayTime) print() string {
	if n.Sun != nil {
		return n.Sun.print()
	}
	return n.Clock.print()
}

func (n *SunTime) print() string {
	if n.Sign == "" {
		return n.Event
	}
	return fixed(n.Event + " " + n.Sign + " " + n.Offset.print())
}

// Text gives the time as the language writes it.
func (n *DayTime) Text() string { return unfixed(n.print()) }

func (n *Date) print() string { return fixed(n.Raw) }

// Text gives the date as the language writes it.
func (n *Date) Text() string { return unfixed(n.print()) }
