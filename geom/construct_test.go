package geom_test

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

func TestConstructorsByHand(t *testing.T) {
	tests := []struct {
		name            string
		l               geom.Loop
		area, perimeter float64
	}{
		{"circle", geom.Circle(pt(1, 2), 3), 9 * math.Pi, 6 * math.Pi},
		{"rectangle", geom.Rectangle(pt(1, 2), 3, 4), 12, 14},
		// 10·6 less four corners of r²(1 - π/4); sides 2·(6 + 2) and a whole circle of 2.
		{"rounded rectangle", geom.RoundedRectangle(pt(0, 0), 10, 6, 2), 60 - 16 + 4*math.Pi, 16 + 4*math.Pi},
		{"rounded to a capsule", geom.RoundedRectangle(pt(0, 0), 10, 6, 3), 24 + 9*math.Pi, 8 + 6*math.Pi},
		{"rounded to a circle", geom.RoundedRectangle(pt(0, 0), 6, 6, 3), 9 * math.Pi, 6 * math.Pi},
		// Length 5, width 2.
		{"capsule", geom.Capsule(pt(0, 0), pt(3, 4), 2), 10 + math.Pi, 10 + 2*math.Pi},
		{"capsule of no length", geom.Capsule(pt(1, 1), pt(1, 1), 2), math.Pi, 2 * math.Pi},
		// Trapezoid: (2 + 8)/2 · 4; its slanted sides rise 3 over 4.
		{"tapered bar", geom.Bar(pt(0, 0), pt(4, 0), 2, 8), 20, 2 + 8 + 10},
		{"bar to a point", geom.Bar(pt(0, 0), pt(0, 4), 6, 0), 12, 6 + 10},
		// Hexagon 2 across flats: side 2/√3, area 6 · side · 1 / 2.
		{"hexagon", geom.RegularPolygon(pt(5, 5), 2, 6, 1), 6 / math.Sqrt(3), 12 / math.Sqrt(3)},
		{"square across flats", geom.RegularPolygon(pt(5, 5), 2, 4, 0), 4, 8},
		{"box", geom.RectLoop(geom.Rect{Lo: pt(1, 1), Hi: pt(3, 4)}), 6, 10},
	}
	for _, tt := range tests {
		near(t, tt.name+" area", tt.l.Area(), tt.area, 1e-12)
		near(t, tt.name+" perimeter", tt.l.Perimeter(), tt.perimeter, 1e-12)
		if err := tt.l.Validate(); err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
		if !tt.l.IsConvex() {
			t.Errorf("%s is not convex", tt.name)
		}
	}
	if b := geom.RegularPolygon(pt(0, 0), 2, 4, 0).Bound(); dist(b.Hi, pt(1, 1)) > 1e-15 {
		t.Errorf("the flat of a square lies to the right: %v", b)
	}
}

func TestConstructorsRefuse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for i, l := range []geom.Loop{
		geom.Circle(pt(0, 0), 0), geom.Circle(pt(0, 0), -1), geom.Circle(pt(0, 0), nan), geom.Circle(pt(0, 0), inf), geom.Circle(pt(nan, 0), 1),
		geom.Circle(pt(0, 0), 1.1e7), geom.Rectangle(pt(0, 0), 0, 1), geom.Rectangle(pt(0, 0), 1, nan), geom.Rectangle(pt(inf, 0), 1, 1),
		geom.RoundedRectangle(pt(0, 0), 4, 2, 1.5), geom.RoundedRectangle(pt(0, 0), 4, 2, -1), geom.RoundedRectangle(pt(0, 0), 4, 2, nan),
		geom.Capsule(pt(0, 0), pt(1, 0), 0), geom.Capsule(pt(nan, 0), pt(1, 0), 1), geom.Bar(pt(0, 0), pt(0, 0), 1, 1), geom.Bar(pt(0, 0), pt(1, 0), 0, 0),
		geom.Bar(pt(0, 0), pt(1, 0), -1, 2), geom.RegularPolygon(pt(0, 0), 1, 2, 0), geom.RegularPolygon(pt(0, 0), 1, 1<<30, 0), geom.RegularPolygon(pt(0, 0), 0, 6, 0),
		geom.RectLoop(geom.EmptyRect()), geom.RectLoop(geom.Rect{}),
	} {
		if !l.IsEmpty() {
			t.Errorf("case %d gives %v", i, l)
		}
	}
}

func TestPolygonRoundsCorners(t *testing.T) {
	sq := []r2.Point{pt(0, 0), pt(10, 0), pt(10, 10), pt(0, 10)}
	l, err := geom.Polygon(sq, []float64{2, 0, 2, 0})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area", l.Area(), 100-2*(4-math.Pi), 1e-12) // two corners lose r²(1 - π/4) each
	// An L, clockwise: the reflex corner at (5, 5) gains what the others lose.
	ell := []r2.Point{pt(0, 0), pt(0, 10), pt(5, 10), pt(5, 5), pt(10, 5), pt(10, 0)}
	l, err = geom.Polygon(ell, []float64{0, 0, 0, 3, 0, 0})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area of the L", l.Area(), 75+9*(1-math.Pi/4), 1e-12)
	if l, err = geom.Polygon(sq, []float64{5, 5, 5, 5}); err != nil {
		t.Fatal(err)
	}
	near(t, "rounded to a circle", l.Area(), 25*math.Pi, 1e-12)
	if l, err = geom.Polygon([]r2.Point{pt(0, 0), pt(0, 10), pt(10, 10), pt(10, 0)}, nil); err != nil || !(l.Area() > 0) {
		t.Errorf("clockwise points: %v, %v", l, err)
	}
	for _, tt := range []struct {
		pts   []r2.Point
		radii []float64
		want  string
	}{
		{sq, []float64{1}, "radii"},
		{sq, []float64{6, 6, 0, 0}, "side from (0, 0) to (10, 0)"},
		{sq, []float64{11, 0, 0, 0}, "corner 1"},
		{sq, []float64{-1, 0, 0, 0}, "not a length"},
		{sq, []float64{math.NaN(), 0, 0, 0}, "not a length"},
		{sq[:2], nil, "too few"},
		{[]r2.Point{pt(0, 0), pt(1, 0), pt(math.NaN(), 1)}, nil, "finite"},
		// A spike folds back on itself: no arc is tangent to both sides.
		{[]r2.Point{pt(0, 0), pt(10, 0), pt(5, 0), pt(5, 5)}, []float64{0, 1, 0, 0}, "corner 2"},
	} {
		if l, err := geom.Polygon(tt.pts, tt.radii); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("Polygon(%v, %v) = %v, %v; want an error with %q", tt.pts, tt.radii, l, err, tt.want)
		}
	}
}
