// When a feed gives no current.

package site

// FeedDead gives the condition under which the supply gives no current, nil: never. Each call makes new nodes. A
// mains supply is dead while it is lost; a battery with a capacity while it is flat and its charger is dead.
func (s *Site) FeedDead(id SupplyID) *Expr {
	if id == None {
		return nil
	}
	f := &s.Supplies[id]
	switch {
	case f.Dead != nil:
		return f.Dead.clone()
	case !f.Battery:
		return &Expr{Op: OpInput, Input: f.Health, Span: f.Span}
	case f.Capacity == 0 || f.ChargedBy == None:
		return nil
	}
	flat := &Expr{Op: OpInput, Input: f.Flat, Span: f.Span}
	charger := s.FeedDead(f.ChargedBy)
	if charger == nil {
		return nil
	}
	return &Expr{Op: OpAnd, Kids: []*Expr{flat, charger}, Span: f.Span}
}

// clone copies an expression.
func (e *Expr) clone() *Expr {
	out := *e
	out.Kids = make([]*Expr, len(e.Kids))
	for i, k := range e.Kids {
		out.Kids[i] = k.clone()
	}
	return &out
}
