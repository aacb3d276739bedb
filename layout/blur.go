package layout

import "dryfit/shapes"

// Blur is uncertainty in plan. A body may be moved as a whole (float of screws in
// their holes, a part set by hand), and its edge may lie elsewhere than drawn (the cut
// of a plate, the real size of a part). Every term is a dimension:
//
//   - 0 ± radius, with coefficient 1;
//   - a size, with coefficient 0.5 and its nominal half taken off in the constant, so
//     that the nominal blur is always 0.
//
// The worst case of a gap between two bodies is then its nominal value less both
// blurs at worst, the shared movements left out.

// rideBlur adds the movements of a body to the blur of its own edge.
func rideBlur(rides []*shapes.Dim, own Form) (Form, []*shapes.Dim) {
	if len(rides) == 0 {
		return own, nil
	}
	out := Form{Const: own.Const, Terms: make([]Term, 0, len(rides)+len(own.Terms))}
	for _, d := range rides {
		out = out.Plus(d, 1)
	}
	for _, t := range own.Terms {
		out = out.Plus(t.Dim, t.Coef)
	}
	return out, rides
}

// sizeBlur is the blur of the edge of a part that is length by width: half the
// tolerance of the one that is less sure, or of one that nobody gave. The two act in different directions, so they
// do not add up.
func sizeBlur(sizes ...*shapes.Dim) Form {
	var most *shapes.Dim
	for _, d := range sizes {
		if d != nil && (most == nil || !most.Missing && (d.Missing || d.Plus+d.Minus > most.Plus+most.Minus)) {
			most = d
		}
	}
	if most == nil || !most.Missing && most.Plus+most.Minus <= 0 {
		return Form{}
	}
	return Form{Const: -most.Value / 2}.Plus(most, 0.5)
}

// edgeBlur is the blur of an edge that is cut or routed to 0 ± tolerance.
func edgeBlur(d *shapes.Dim) Form {
	if d == nil {
		return Form{}
	}
	return Form{Const: -d.Value}.Plus(d, 1)
}

// bodyBlur is the blur of the edge of a part's body.
func bodyBlur(b *shapes.Body) Form {
	switch {
	case b == nil:
		return Form{}
	case b.Edge != nil:
		return edgeBlur(b.Edge)
	case b.Shape == shapes.CanBody:
		return sizeBlur(b.Diameter, b.Length)
	}
	return sizeBlur(b.Length, b.Width)
}

// float is half the play of a screw in its hole, as a movement 0 ± play/2.
func float(name string, hole, screw float64) *shapes.Dim {
	return assumed(name, 0, max(0, (hole-screw)/2))
}
