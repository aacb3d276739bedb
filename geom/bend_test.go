package geom_test

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// TestBendRoundCorner: from (-20, 3) to (3, -20) round the corner (0, 0) of a square, at a clearance of 1 mm, with
// bends of 5 mm. The disc that covers the corner touches the circle of 1 mm about it on the bisector, so its
// middle is C = -(5 - 1)·(1, 1)/√2. The path is a tangent, an arc and a tangent:
//
//	d = |(-20, 3) - C|, each tangent √(d² - 5²)
//	the arc: the angle between both ends at C, less acos(5/d) at either
func TestBendRoundCorner(t *testing.T) {
	const clearance, bend = 1.0, 5.0
	square := geom.Rectangle(pt(-50, -50), 100, 100)
	f := field(t, clearance, square)
	a, b := pt(-20, 3), pt(3, -20)
	p := mustPath(t, f, a, b, geom.PathOptions{Bend: bend})
	c := pt(-1, -1).Mul((bend - clearance) / math.Sqrt2)
	ca, cb := a.Sub(c), b.Sub(c)
	d := math.Hypot(ca.X, ca.Y)
	tangent := math.Sqrt(d*d - bend*bend)
	turn := math.Atan2(ca.Y, ca.X) - math.Atan2(cb.Y, cb.X) // over the corner, at 45°: 161.3° + 71.3°
	arc := turn - 2*math.Acos(bend/d)
	wantLength(t, p, 2*tangent+bend*arc)
	if len(p.Segs) != 3 || p.Segs[0].IsArc() || !p.Segs[1].IsArc() || p.Segs[2].IsArc() {
		t.Fatalf("not a tangent, an arc and a tangent: %v", p.Segs)
	}
	nearly(t, "radius", p.Segs[1].Radius(), bend, 1e-6)
	nearly(t, "turn", math.Abs(p.Segs[1].Sweep().Radians()), arc, 1e-6)
	if q := p.Segs[1].Center(); !samePlace(q, c, 1e-6) {
		t.Errorf("the arc is about %v, want %v", q, c)
	}
	checkBends(t, p, bend)
	clearOf(t, p, []geom.Region{geom.RegionOf(square)}, clearance)
	// Without a bend radius it is the arc of 1 mm about the corner itself: shorter.
	plain := mustPath(t, f, a, b, geom.PathOptions{})
	da := math.Hypot(a.X, a.Y)
	wantLength(t, plain, 2*math.Sqrt(da*da-1)+math.Atan2(a.Y, a.X)-math.Atan2(b.Y, b.X)-2*math.Acos(1/da))
	if !(plain.Length < p.Length) {
		t.Errorf("with bends %v, without %v", p.Length, plain.Length)
	}
}

// TestBendTwoCorners: across the upper side of a square from (-20, -5) on its left to (20, -5) on its right; by
// symmetry both corners of (±10, 0) get a disc. Its middle lies on the middle of the plain bend, which is not the
// bisector: the plain path at the clearance 1 runs from the tangent of (-20, -5) to level.
//
//	plain: the tangent leaves (-20, -5), 10 left and 5 below the corner, √125 away, at the angle atan2(5, 10) + asin(1/√125),
//	so the bend turns from there to level, and its middle is normal to half of that
//	disc: middle (-10, 0) + n·(1 - 3), radius 3
//	with bends: tangents from (-20, -5) to that disc, along the level line y = C.y + 3 between both
func TestBendTwoCorners(t *testing.T) {
	const clearance, bend = 1.0, 3.0
	f := field(t, clearance, geom.Rectangle(pt(0, -50), 20, 100))
	a, b := pt(-20, -5), pt(20, -5)
	p := mustPath(t, f, a, b, geom.PathOptions{Bend: bend})
	rise := math.Atan2(5, 10) + math.Asin(1/math.Sqrt(125))
	sn, cs := math.Sincos(rise / 2)
	n := pt(-sn, cs) // left of the direction of travel half way round
	c := pt(-10, 0).Add(n.Mul(clearance - bend))
	ca := c.Sub(a)
	d := math.Hypot(ca.X, ca.Y)
	steep := math.Atan2(ca.Y, ca.X) + math.Asin(bend/d)
	wantLength(t, p, 2*(math.Sqrt(d*d-bend*bend)+bend*steep-c.X))
	checkBends(t, p, bend)
}

// TestBendNone: what bends wide enough anyway is left alone, and what cannot is an error.
func TestBendNone(t *testing.T) {
	// A disc of 6 mm at a clearance of 1: bends of 7 mm.
	f := field(t, 1, geom.Circle(pt(0, 0), 6))
	for _, bend := range []float64{0, 1, 7} {
		p := mustPath(t, f, pt(-20, 0), pt(20, 0), geom.PathOptions{Bend: bend})
		// Tangents of √(400 - 49), and π less twice acos(7/20).
		wantLength(t, p, 2*math.Sqrt(351)+7*(math.Pi-2*math.Acos(7./20)))
	}
	// Straight on: no bend at all.
	p := mustPath(t, f, pt(-20, 10), pt(20, 10), geom.PathOptions{Bend: 1e3})
	wantLength(t, p, 40)
	// A start so near the corner that every disc of 50 mm over it would cover the start.
	g := field(t, 1, geom.Rectangle(pt(-50, -50), 100, 100))
	_, err := g.Path(pt(-2, 1.5), pt(1.5, -2), geom.PathOptions{Bend: 50})
	var none *geom.NoBend
	if !errors.As(err, &none) || none.Bend != 50 || !samePlace(none.At, r2.Point{}, 1e-6) {
		t.Errorf("error %v", err)
	}
}
