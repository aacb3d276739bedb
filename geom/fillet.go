package geom

import "math"

// FilletInside rounds the concave corners of a with radius r mm, as a cutter of that
// radius leaves them when it runs round the outside: it adds the points that no circle of
// radius r outside a reaches. Gaps and holes narrower than 2r fill up; convex corners and
// all else stay. It is the closing of a by a disc: grown by r and shrunk again.
//
// It fails with a [*Failure] as [Offset] does, or if r is negative. r = 0 gives the union
// of a.
func FilletInside(a []Region, r float64) ([]Region, error) {
	return openClose("fillet inside", a, r, 1)
}

// FilletOutside rounds the convex corners of a with radius r mm: it keeps the points that
// a circle of radius r inside a reaches. Parts narrower than 2r vanish; concave corners
// stay. It is the opening of a by a disc: shrunk by r and grown again.
//
// It fails as [FilletInside] does.
func FilletOutside(a []Region, r float64) ([]Region, error) {
	return openClose("fillet outside", a, r, -1)
}

func openClose(op string, a []Region, r, sign float64) ([]Region, error) {
	if !(r >= 0 && r <= MaxCoord) {
		return nil, &Failure{Op: op, At: boundAll(a).Center(), Why: "the radius is negative, not finite or beyond 1e7 mm"}
	}
	if math.Abs(r) <= Coincident {
		return UnionAll(a)
	}
	b, err := Offset(a, sign*r)
	if err == nil {
		b, err = Offset(b, -sign*r)
	}
	if f, ok := err.(*Failure); ok {
		return nil, &Failure{Op: op, At: f.At, Why: f.Why}
	}
	return b, err
}
