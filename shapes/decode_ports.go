package shapes

import (
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/shapes/read"
)

// Port returns the port called name, nil if the part has none.
func (p *Part) Port(name string) *Port {
	for i := range p.Ports {
		if p.Ports[i].Name == name {
			return &p.Ports[i]
		}
	}
	return nil
}

// ports reads the sockets, slots and buttons of a part. A port of an inherited name is
// changed key by key; `none` drops it.
func (d *decoder) ports(f *read.Fields, p *Part) {
	for _, e := range f.Named("ports") {
		at := -1
		for i := range p.Ports {
			if p.Ports[i].Name == e.Key {
				at = i
			}
		}
		if e.Value.Raw() == "none" {
			if at < 0 {
				d.ds.At(e.Value, "there is no port "+e.Key+" to drop", "", "")
				continue
			}
			p.Ports = append(p.Ports[:at:at], p.Ports[at+1:]...)
			continue
		}
		port := Port{Name: e.Key}
		if at >= 0 {
			port = p.Ports[at]
		}
		port.Pos = e.KeyPos
		if !d.port(e.Value, &port) {
			continue
		}
		if at >= 0 {
			p.Ports[at] = port
		} else {
			p.Ports = append(p.Ports, port)
		}
	}
	// By name: the order of keys in a file means nothing.
	slices.SortFunc(p.Ports, func(a, b Port) int { return strings.Compare(a.Name, b.Name) })
}

func (d *decoder) port(n *read.Node, port *Port) bool {
	f := d.ds.Fields(n, "a port")
	if !f.OK() {
		return false
	}
	before := d.ds.Count()
	port.Plug = d.connector(f, "plug", port.Plug)
	port.Button = f.Bool("button", port.Button)
	port.Card = f.Bool("card", port.Card)
	port.Upward = f.Bool("up", port.Upward)
	port.Reach = f.Bool("reach", port.Reach)
	if f.Has("face") {
		port.Face = d.face(f)
	}
	edge := f.Enum("edge", "", "front", "back", "left", "right")
	at := f.Get("at")
	switch {
	case edge != "" && at != nil:
		d.ds.At(at, "a port lies on an `edge:` or `at:` a point, not both", "", "an edge port is placed by `along:`")
	case edge != "":
		port.Edge = edge
	case at != nil:
		if v, ok := d.pair(at, OffsetMM()); ok {
			port.At, port.Edge, port.Along = v, "", 0
		}
	}
	if n := f.Get("along"); n != nil {
		if v, ok := ParsePlain(d.ds, n, OffsetMM()); ok {
			port.Along = v
		}
		if port.Edge == "" {
			d.ds.At(n, "`along:` needs `edge:`", "edge: left", "")
		}
	}
	if n := f.Get("facing"); n != nil {
		if v, ok := ParsePlain(d.ds, n, AngleDeg()); ok {
			port.Facing = v
		}
		if port.Edge != "" {
			d.ds.At(n, "a port on an edge faces straight out", "", "delete `facing:`, or use `at:` in place of `edge:`")
		}
	}
	d.dim(f, "axis", &port.Axis, OffsetMM().Between(-20, 50))
	d.dim(f, "overhang", &port.Overhang, OffsetMM().Between(-50, 50))
	if n := f.Get("pins"); n != nil {
		d.pins(n, port)
	}
	f.Done()
	if d.ds.Count() > before {
		return false
	}
	d.nameDim(port.Axis, port.Name+" axis")
	d.nameDim(port.Overhang, port.Name+" overhang")
	switch {
	case port.Edge == "" && at == nil && port.At == (r2.Point{}) && !port.Upward && !port.Button:
		d.ds.At(n, "a port needs `edge:` or `at:`", "edge: left", "front is where the part's arrow points")
		return false
	case port.Plug == "" && !port.Button && !port.Card:
		d.ds.At(n, "a port needs `plug:`, `card: true` or `button: true`", "plug: usb-c", "")
		return false
	}
	return true
}

func (d *decoder) nameDim(dim *Dim, what string) {
	if dim != nil {
		dim.Name = d.name + " " + what
	}
}

// placePorts puts the edge ports on their edges. It runs when the size is known.
//
// The edge is that of the part's box in plan. `along:` counts from the middle of the
// edge: forwards (x) on the left and right edges, to the left (y) on the front and back
// ones.
func placePorts(p *Part) {
	b := p.Body
	if b == nil {
		return
	}
	lo, hi := r2.Point{}, r2.Point{}
	switch {
	case b.Outline != nil:
		box := b.Outline.Bound()
		lo, hi = box.Lo, box.Hi
	case b.Shape == CanBody && b.Diameter != nil:
		hi = r2.Point{X: b.Diameter.Value / 2, Y: b.Diameter.Value / 2}
		lo = hi.Mul(-1)
	case b.Length != nil && b.Width != nil:
		hi = r2.Point{X: b.Length.Value / 2, Y: b.Width.Value / 2}
		lo = hi.Mul(-1)
	}
	mid := lo.Add(hi).Mul(0.5)
	for i := range p.Ports {
		port := &p.Ports[i]
		switch port.Edge {
		case "front":
			port.At, port.Facing = r2.Point{X: hi.X, Y: mid.Y + port.Along}, 0
		case "left":
			port.At, port.Facing = r2.Point{X: mid.X + port.Along, Y: hi.Y}, 90
		case "back":
			port.At, port.Facing = r2.Point{X: lo.X, Y: mid.Y + port.Along}, 180
		case "right":
			port.At, port.Facing = r2.Point{X: mid.X + port.Along, Y: lo.Y}, 270
		}
	}
}
