package layout

import (
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// placePorts puts the ports of all placed parts in the body frame.
func (r *resolver) placePorts() {
	said := map[string]*PortSpec{}
	for _, s := range r.b.Ports {
		said[s.Owner.ID()+"."+s.Port] = s
	}
	for _, c := range r.asm.Components {
		if c.Part == nil {
			continue
		}
		for i := range c.Part.Ports {
			port := &c.Part.Ports[i]
			spec := said[c.ID+"."+port.Name]
			if spec == nil {
				spec = r.portOfCopies(c, port.Name, said)
			}
			r.placePort(c, port, spec)
		}
	}
	sortBy(r.asm.Ports, func(p *PortPlace) string { return p.ID })
}

// portOfCopies finds what is said of the port of a mount that has one copy at each
// rotor: what is said of the mount holds for all copies.
func (r *resolver) portOfCopies(c *Component, port string, said map[string]*PortSpec) *PortSpec {
	rest, ok := strings.CutPrefix(c.ID, "mounts.")
	name, _, more := strings.Cut(rest, ".")
	if !ok || !more || !r.mounts.perRotor[name] {
		return nil
	}
	return said["mounts."+name+"."+port]
}

// placePort places one port. The mouth of an edge port lies its overhang beyond the
// edge; the plug's axis runs its height out from the face. A port that opens away from
// its face has its mouth on the axis height.
//
// Unless the build says so, a plug sits in a port in flight, but for USB sockets,
// buttons and memory cards, which are for the bench.
func (r *resolver) placePort(c *Component, port *shapes.Port, spec *PortSpec) {
	p := &PortPlace{ID: c.ID + "." + port.Name, Owner: c, Port: port, Pos: port.Pos}
	if p.Pos.IsZero() || c.Part.Source != shapes.Given {
		p.Pos = c.Pos
	}
	if port.Plug != "" && !port.Button {
		p.Plug = r.shared(port.Plug)
	}
	// A button that is not on an edge is pressed straight onto its face.
	away := port.Upward || port.Button && port.Edge == ""
	own := r2.Point{}
	if !away {
		own = bearing(port.Facing)
	}
	at := port.At
	if port.Edge != "" {
		at = at.Add(own.Mul(value(port.Overhang)))
	}
	p.Mouth = c.Pose.Apply(at)
	outUp := (port.Face == shapes.Top) != c.Flip
	face := portFace(c, outUp, away && port.Axis == nil)
	switch {
	case port.Axis != nil && outUp:
		p.Axis = face.Plus(port.Axis, 1)
	case port.Axis != nil:
		p.Axis = face.Plus(port.Axis, -1)
	default:
		p.Axis = face
	}
	if away {
		p.Up = -1
		if outUp {
			p.Up = 1
		}
	} else {
		p.Dir = clean(c.Pose.Direction(own))
	}
	p.Used = !port.Button && !port.Card && !benchOnly(p.Plug, port.Plug)
	if spec != nil {
		p.Pos = spec.Pos
		if spec.Used != nil {
			p.Used = *spec.Used
		}
		if spec.Angled != nil {
			p.Angled = *spec.Angled
		}
		if spec.Reach != nil {
			q := *port
			q.Reach = *spec.Reach
			p.Port = &q
		}
	}
	r.asm.Ports = append(r.asm.Ports, p)
}

// portFace is the height of the face that a port sits on, or with mouth that of the face
// through which it opens.
func portFace(c *Component, outUp, mouth bool) Form {
	for _, b := range c.Bodies {
		if b.Kind != PcbBody && b.Kind != PartBody {
			continue
		}
		// A block's ports count their height from its underside, as boards do from the face
		// that they sit on; one that opens away from it does so in its outer face.
		if outUp == (mouth || b.Kind == PcbBody) {
			return b.Top
		}
		return b.Bottom
	}
	return c.Base
}

// benchOnly reports whether plugs of this kind are only put in on the bench.
func benchOnly(plug *shapes.Part, name string) bool {
	family := name
	if plug != nil && plug.Plug != nil && plug.Plug.Family != "" {
		family = plug.Plug.Family
	}
	return strings.HasPrefix(strings.ToLower(family), "usb") || strings.HasPrefix(strings.ToLower(name), "usb")
}

// clean takes the rounding out of a direction that is meant along an axis.
func clean(d r2.Point) r2.Point {
	if abs(d.X) < 1e-12 {
		d.X = 0
	}
	if abs(d.Y) < 1e-12 {
		d.Y = 0
	}
	return d
}

// Reach returns how far a mated plug and its lead reach beyond the mouth of a port: of
// an angled plug if one is used and sold, and in addition the bend of a soft lead.
func (p *PortPlace) Reach() Form {
	if p.Plug == nil || p.Plug.Plug == nil {
		return Form{}
	}
	q := p.Plug.Plug
	if p.Angled && q.Angled != nil {
		return Of(q.Angled)
	}
	return Of(q.Beyond).Plus(q.Bend, 1)
}

// Corridor returns the plan of the room that a mated plug takes in front of a sideways
// port, and its lowest and highest point; ok is false for others and unknown plugs.
func (p *PortPlace) Corridor() (plan geom.Loop, lo, hi Form, ok bool) {
	if p.Up != 0 || p.Plug == nil || p.Plug.Plug == nil {
		return geom.Loop{}, Form{}, Form{}, false
	}
	q := p.Plug.Plug
	far := p.Mouth.Add(p.Dir.Mul(p.Reach().Nominal()))
	plan = geom.Bar(p.Mouth, far, value(q.Width), value(q.Width))
	return plan, p.Axis.Plus(q.Height, -0.5), p.Axis.Plus(q.Height, 0.5), !plan.IsEmpty()
}
