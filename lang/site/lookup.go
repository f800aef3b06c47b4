// Look-ups by name and by area.

package site

// ModeNamed finds a mode or instance by its full name ("night", "welcome in
// hall"), or returns None.
func (s *Site) ModeNamed(name string) ModeID {
	for i := range s.Modes {
		if s.Modes[i].Name == name {
			return ModeID(i)
		}
	}
	return None
}

// Instances returns the instances of a template in the order of their areas.
func (s *Site) Instances(template string) []ModeID {
	var out []ModeID
	for i := range s.Modes {
		if template != "" && s.Modes[i].Template == template {
			out = append(out, ModeID(i))
		}
	}
	return out
}

// CircuitNamed finds a circuit by name, or returns None.
func (s *Site) CircuitNamed(name string) CircuitID {
	for i := range s.Circuits {
		if s.Circuits[i].Name == name {
			return CircuitID(i)
		}
	}
	return None
}

// InputNamed finds an input by name (a mains supply's health by the supply's),
// or returns None.
func (s *Site) InputNamed(name string) InputID {
	for i := range s.Inputs {
		if s.Inputs[i].Name == name {
			return InputID(i)
		}
	}
	return None
}

// AreaNamed finds an area by name, or returns None.
func (s *Site) AreaNamed(name string) AreaID {
	for i := range s.Areas {
		if s.Areas[i].Name == name {
			return AreaID(i)
		}
	}
	return None
}

// BandNamed finds a band by name, or returns None.
func (s *Site) BandNamed(name string) BandID {
	for i := range s.Bands {
		if s.Bands[i].Name == name {
			return BandID(i)
		}
	}
	return None
}

// StateNamed finds a state of a States mode by name, or returns None.
func (m *Mode) StateNamed(name string) int {
	for i := range m.States {
		if name != "" && m.States[i].Name == name {
			return i
		}
	}
	return None
}

// ScenarioNamed finds a scenario by name, or returns nil.
func (s *Site) ScenarioNamed(name string) *Scenario {
	for i := range s.Scenarios {
		if s.Scenarios[i].Name == name {
			return &s.Scenarios[i]
		}
	}
	return nil
}

// Within reports whether the area a is the area around, or lies in it.
func (s *Site) Within(a, around AreaID) bool {
	for range s.Areas { // no chain of areas is longer
		if a == around || a == None {
			break
		}
		a = s.Areas[a].Parent
	}
	return a == around
}

// CircuitsIn returns the circuits of an area and of the areas in it, in written order.
func (s *Site) CircuitsIn(a AreaID) []CircuitID {
	var out []CircuitID
	for i := range s.Circuits {
		if c := s.Circuits[i].Area; c != None && s.Within(c, a) {
			out = append(out, CircuitID(i))
		}
	}
	return out
}

// PresenceIn returns the presence inputs of an area and of the areas in it, in written order.
func (s *Site) PresenceIn(a AreaID) []InputID {
	var out []InputID
	for i := range s.Inputs {
		if in := &s.Inputs[i]; in.Kind == Presence && in.Area != None && s.Within(in.Area, a) {
			out = append(out, InputID(i))
		}
	}
	return out
}
