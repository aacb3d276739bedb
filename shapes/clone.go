package shapes

import (
	"reflect"
	"strings"

	"dryfit/geom"
)

// copyAs returns a deep copy under another name. A dimension that two fields share stays
// shared in the copy; the sources of the figures stay what they are.
func (p *Part) copyAs(name string) *Part {
	c := copier{from: p.Name, to: name, dims: map[*Dim]*Dim{}}
	out := new(Part)
	c.copy(reflect.ValueOf(out).Elem(), reflect.ValueOf(p).Elem())
	out.Name = name
	return out
}

type copier struct {
	from, to string
	dims     map[*Dim]*Dim
}

func (c *copier) dim(d *Dim) *Dim {
	if d == nil {
		return nil
	}
	if done := c.dims[d]; done != nil {
		return done
	}
	out := *d
	if rest, ok := strings.CutPrefix(d.Name, c.from+" "); ok {
		out.Name = c.to + " " + rest
	}
	c.dims[d] = &out
	return &out
}

// copy fills dst from src. Loops cannot change once made, so they are shared.
func (c *copier) copy(dst, src reflect.Value) {
	switch src.Kind() {
	case reflect.Pointer:
		if src.IsNil() {
			return
		}
		switch old := src.Interface().(type) {
		case *Dim:
			dst.Set(reflect.ValueOf(c.dim(old)))
		case *geom.Loop:
			dst.Set(src)
		default:
			dst.Set(reflect.New(src.Type().Elem()))
			c.copy(dst.Elem(), src.Elem())
		}
	case reflect.Slice:
		if src.IsNil() {
			return
		}
		dst.Set(reflect.MakeSlice(src.Type(), src.Len(), src.Len()))
		for i := range src.Len() {
			c.copy(dst.Index(i), src.Index(i))
		}
	case reflect.Struct:
		if src.Type() == reflect.TypeFor[geom.Loop]() {
			dst.Set(src)
			return
		}
		for i := range src.NumField() {
			c.copy(dst.Field(i), src.Field(i))
		}
	default:
		dst.Set(src)
	}
}
