// Copies of expressions: no node of a site is shared.

package sitegen

import "lampwarden/lang/site"

func cloneExpr(e *site.Expr) *site.Expr {
	if e == nil {
		return nil
	}
	c := *e
	c.Kids = nil
	for _, k := range e.Kids {
		c.Kids = append(c.Kids, cloneExpr(k))
	}
	return &c
}

func cloneTrigger(t site.Trigger) site.Trigger {
	t.On, t.If = cloneExpr(t.On), cloneExpr(t.If)
	return t
}
