// Copies: of expressions, as no node of a site is shared, and of whole sites.

package sitegen

import (
	"reflect"

	"lampwarden/lang/site"
)

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

// Clone copies a site with all that it points to.
func Clone(s *site.Site) *site.Site {
	return deep(reflect.ValueOf(s)).Interface().(*site.Site)
}

// deep copies plain data: structs, slices, arrays and pointers without rings.
func deep(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(deep(v.Elem()))
		}
	case reflect.Slice:
		if !v.IsNil() {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
			for i := range v.Len() {
				out.Index(i).Set(deep(v.Index(i)))
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if out.Field(i).CanSet() {
				out.Field(i).Set(deep(v.Field(i)))
			}
		}
	}
	return out
}
