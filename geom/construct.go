package geom

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// loopOf is NewLoop with the empty loop in place of an error.
func loopOf(v ...Vertex) Loop {
	l, err := NewLoop(v)
	if err != nil {
		return Loop{}
	}
	return l
}

func at(x, y, bulge float64) Vertex { return Vertex{P: r2.Point{X: x, Y: y}, Bulge: bulge} }

// quarterBulge is the bulge of a quarter turn, tan(22.5°).
const quarterBulge = math.Sqrt2 - 1

// Circle returns the circle about c, counter-clockwise from its rightmost point: two half
// turns. A radius that is not positive, or a circle beyond 1e7 mm, gives the empty loop.
func Circle(c r2.Point, r float64) Loop {
	if !(r > 0) {
		return Loop{}
	}
	return loopOf(at(c.X+r, c.Y, 1), at(c.X-r, c.Y, 1))
}

// Rectangle returns the axis-parallel rectangle about c, counter-clockwise from its lower
// left corner. A size that is not positive gives the empty loop.
func Rectangle(c r2.Point, lengthX, lengthY float64) Loop {
	return RoundedRectangle(c, lengthX, lengthY, 0)
}

// RectLoop returns the boundary of a box, the empty loop for a box without area.
func RectLoop(r Rect) Loop {
	if r.IsEmpty() || !(r.Hi.X > r.Lo.X && r.Hi.Y > r.Lo.Y) {
		return Loop{}
	}
	return loopOf(at(r.Lo.X, r.Lo.Y, 0), at(r.Hi.X, r.Lo.Y, 0), at(r.Hi.X, r.Hi.Y, 0), at(r.Lo.X, r.Hi.Y, 0))
}

// RoundedRectangle returns an axis-parallel rectangle about c whose corners are quarter
// circles. The radius may reach half the shorter side, where straight sides vanish; a
// larger or negative one, or a size that is not positive, gives the empty loop.
func RoundedRectangle(c r2.Point, lengthX, lengthY, radius float64) Loop {
	x, y := lengthX/2, lengthY/2
	if !(x > 0 && y > 0 && radius >= 0 && radius <= math.Min(x, y)*(1+1e-12)) {
		return Loop{}
	}
	if radius == 0 {
		return loopOf(at(c.X-x, c.Y-y, 0), at(c.X+x, c.Y-y, 0), at(c.X+x, c.Y+y, 0), at(c.X-x, c.Y+y, 0))
	}
	ix, iy := math.Max(0, x-radius), math.Max(0, y-radius)
	const q = quarterBulge
	return loopOf(
		at(c.X-ix, c.Y-y, 0), at(c.X+ix, c.Y-y, q),
		at(c.X+x, c.Y-iy, 0), at(c.X+x, c.Y+iy, q),
		at(c.X+ix, c.Y+y, 0), at(c.X-ix, c.Y+y, q),
		at(c.X-x, c.Y+iy, 0), at(c.X-x, c.Y-iy, q),
	)
}

// Capsule returns all points within width/2 of the line from a to b: a bar with round
// ends. If a and b coincide it is a circle. A width that is not positive gives the empty
// loop.
func Capsule(a, b r2.Point, width float64) Loop {
	r := width / 2
	d := b.Sub(a)
	n := math.Hypot(d.X, d.Y)
	if !(r > 0) {
		return Loop{}
	}
	if n <= Coincident {
		return Circle(a, r)
	}
	nx, ny := d.Y/n*r, -d.X/n*r // to the right of the way from a to b
	return loopOf(at(a.X+nx, a.Y+ny, 0), at(b.X+nx, b.Y+ny, 1), at(b.X-nx, b.Y-ny, 0), at(a.X-nx, a.Y-ny, 1))
}

// Bar returns the straight bar from a to b with flat ends, widthA wide at a and widthB at
// b. One width may be 0 (a triangle). Coinciding ends or negative widths give the empty
// loop.
func Bar(a, b r2.Point, widthA, widthB float64) Loop {
	d := b.Sub(a)
	n := math.Hypot(d.X, d.Y)
	if !(n > Coincident && widthA >= 0 && widthB >= 0 && widthA+widthB > 0) {
		return Loop{}
	}
	nx, ny := d.Y/n/2, -d.X/n/2
	return loopOf(
		at(a.X+nx*widthA, a.Y+ny*widthA, 0), at(b.X+nx*widthB, b.Y+ny*widthB, 0),
		at(b.X-nx*widthB, b.Y-ny*widthB, 0), at(a.X-nx*widthA, a.Y-ny*widthA, 0),
	)
}

// RegularPolygon returns the regular polygon of n sides about c whose inscribed circle has
// the diameter acrossFlats. With turn 0 the middle of one side lies to the right of c.
// Fewer than 3 or more than 10000 sides, or a size that is not positive, give the empty
// loop.
func RegularPolygon(c r2.Point, acrossFlats float64, n int, turn s1.Angle) Loop {
	if n < 3 || n > 10000 || !(acrossFlats > 0) {
		return Loop{}
	}
	r := acrossFlats / 2 / math.Cos(math.Pi/float64(n))
	v := make([]Vertex, n)
	for i := range v {
		sn, cs := SinCos(turn + s1.Angle((2*float64(i)-1)*math.Pi/float64(n)))
		v[i] = at(c.X+r*cs, c.Y+r*sn, 0)
	}
	return loopOf(v...)
}

// Polygon returns the polygon through the points, counter-clockwise whatever the order
// given, its corners rounded with the radii: radii[i] at pts[i], 0 for a sharp corner; nil
// leaves all sharp. It fails if the points do not make a loop, if the counts differ, or if
// the roundings do not fit along a side.
func Polygon(pts []r2.Point, radii []float64) (Loop, error) {
	if radii != nil && len(radii) != len(pts) {
		return Loop{}, fmt.Errorf("polygon of %d corners has %d corner radii: give one a corner, or none", len(pts), len(radii))
	}
	v := make([]Vertex, len(pts))
	for i, p := range pts {
		v[i] = Vertex{P: p}
	}
	sharp, err := NewLoop(v)
	if err != nil {
		return Loop{}, err
	}
	if radii == nil {
		return sharp.CCW(), nil
	}
	n := len(pts)
	used := make([]float64, n) // tangent length at each corner
	out := make([]Vertex, 0, 2*n)
	for i, p := range pts {
		r := radii[i]
		if !(r >= 0) || math.IsInf(r, 0) {
			return Loop{}, fmt.Errorf("corner %d at (%g, %g): the radius %g is not a length", i+1, p.X, p.Y, r)
		}
		in, out1 := p.Sub(pts[(i+n-1)%n]), pts[(i+1)%n].Sub(p)
		li, lo := math.Hypot(in.X, in.Y), math.Hypot(out1.X, out1.Y)
		if r == 0 || li <= Coincident || lo <= Coincident {
			out = append(out, Vertex{P: p})
			continue
		}
		// The corner turns by a; the arc touches both sides r·tan(a/2) before the corner.
		a := math.Atan2(float64(in.X*out1.Y)-float64(in.Y*out1.X), float64(in.X*out1.X)+float64(in.Y*out1.Y))
		t := r * math.Tan(math.Abs(a)/2)
		if !(t <= math.Min(li, lo)*(1+1e-12)) {
			return Loop{}, fmt.Errorf("corner %d at (%g, %g): a radius of %g mm needs %.4g mm of both sides, which are %.4g and %.4g mm long",
				i+1, p.X, p.Y, r, t, li, lo)
		}
		used[i] = t
		out = append(out,
			Vertex{P: p.Sub(in.Mul(t / li)), Bulge: math.Tan(a / 4)},
			Vertex{P: p.Add(out1.Mul(t / lo))})
	}
	for i := range pts {
		j := (i + 1) % n
		if l := dist(pts[i], pts[j]); used[i]+used[j] > l*(1+1e-12)+Coincident {
			return Loop{}, fmt.Errorf("side from (%g, %g) to (%g, %g) is %.4g mm long, the roundings at its ends need %.4g mm: make them smaller",
				pts[i].X, pts[i].Y, pts[j].X, pts[j].Y, l, used[i]+used[j])
		}
	}
	l, err := NewLoop(out)
	return l.CCW(), err
}
