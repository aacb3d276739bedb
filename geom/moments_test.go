package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"dryfit/geom"
)

func TestMomentsByHand(t *testing.T) {
	tests := []struct {
		name string
		m    geom.Moments
		want geom.Moments
	}{
		// b h, b³h/12 along x, b h³/12 along y.
		{"rectangle 6 by 2 at (10, 20)", geom.Rectangle(pt(10, 20), 6, 2).Moments(),
			geom.Moments{Area: 12, Centroid: pt(10, 20), XX: 36, YY: 4}},
		// Triangle (0,0) (3,0) (0,3): area 9/2, centroid (1, 1), ∫x² about it b³h/36 = 81/36,
		// ∫xy about it -b²h²/72 = -81/72.
		{"right triangle", mustLoop(t, 0, 0, 0, 3, 0, 0, 0, 3, 0).Moments(),
			geom.Moments{Area: 4.5, Centroid: pt(1, 1), XX: 2.25, YY: 2.25, XY: -1.125}},
		// π r², π r⁴/4.
		{"disk", geom.Circle(pt(1e3, -1e3), 2).Moments(),
			geom.Moments{Area: 4 * math.Pi, Centroid: pt(1e3, -1e3), XX: 4 * math.Pi, YY: 4 * math.Pi}},
		// Upper half disk of radius 3: centroid 4r/(3π) above the diameter; along the diameter
		// π r⁴/8, across it π r⁴/8 - A·(4r/(3π))².
		{"half disk", mustLoop(t, 3, 0, 1, -3, 0, 0).Moments(),
			geom.Moments{Area: 4.5 * math.Pi, Centroid: pt(0, 4/math.Pi), XX: math.Pi * 81 / 8, YY: math.Pi*81/8 - 4.5*math.Pi*16/(math.Pi*math.Pi)}},
		// A ring: differences of two disks.
		{"ring", region(geom.Circle(pt(0, 0), 3), geom.Circle(pt(0, 0), 1)).Moments(),
			geom.Moments{Area: 8 * math.Pi, XX: 20 * math.Pi, YY: 20 * math.Pi}},
		// Square 4 with a hole of 1 at (1, 0): area 15, centroid -1/15.
		// XX about the origin: 256/12 - (1/12 + 1), less 15·(1/15)².
		{"square with a hole", region(geom.Rectangle(pt(0, 0), 4, 4), geom.Rectangle(pt(1, 0), 1, 1)).Moments(),
			geom.Moments{Area: 15, Centroid: pt(-1./15, 0), XX: 256./12 - 13./12 - 1./15, YY: 255. / 12}},
		{"clockwise square", geom.Rectangle(pt(0, 0), 2, 2).Reverse().Moments(),
			geom.Moments{Area: -4, XX: -4. / 3, YY: -4. / 3}},
		{"clockwise region", geom.Region{Outer: geom.Rectangle(pt(0, 0), 2, 2).Reverse()}.Moments(),
			geom.Moments{Area: 4, XX: 4. / 3, YY: 4. / 3}},
		{"nothing", geom.Region{}.Moments(), geom.Moments{}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			near(t, "area", tt.m.Area, tt.want.Area, 1e-10)
			near(t, "centroid x", tt.m.Centroid.X, tt.want.Centroid.X, 1e-10)
			near(t, "centroid y", tt.m.Centroid.Y, tt.want.Centroid.Y, 1e-10)
			near(t, "XX", tt.m.XX, tt.want.XX, 1e-10)
			near(t, "YY", tt.m.YY, tt.want.YY, 1e-10)
			near(t, "XY", tt.m.XY, tt.want.XY, 1e-10)
		})
	}
}

// TestMomentsAgainstChords: the polygon of fine chords differs by at most the sagitta
// times the perimeter, weighted with the reach for higher moments.
func TestMomentsAgainstChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := genLoop().Draw(t, "loop")
		const e = 1e-4
		var v []geom.Vertex
		for _, p := range l.Flatten(e) {
			v = append(v, geom.Vertex{P: p})
		}
		m, n := l.Moments(), mustLoop2(v...).Moments()
		per := l.Perimeter()
		if math.Abs(m.Area-n.Area) > e*per {
			t.Fatalf("area %g, by chords %g", m.Area, n.Area)
		}
		reach := 24.0 // no generated loop extends farther
		if d := dist(m.Centroid, n.Centroid); d > 2*e*per*reach/math.Abs(m.Area) {
			t.Fatalf("centroids %g apart", d)
		}
		for _, d := range []float64{m.XX - n.XX, m.YY - n.YY, m.XY - n.XY} {
			if math.Abs(d) > 4*e*per*reach*reach {
				t.Fatalf("second moments %+v, by chords %+v", m, n)
			}
		}
	})
}

// TestShallowArcsKeepTheirArea: a segment of sweep 2β over a chord has the area
// r²(2β - sin 2β)/2, and for small β nearly 2/3 chord · sagitta; the relative difference is
// β²/5 to first order. This is where closed forms cancel.
func TestShallowArcsKeepTheirArea(t *testing.T) {
	for _, b := range []float64{1e-1, 1e-2, 1e-3, 1e-5, 1e-7} {
		l := mustLoop(t, 0, 0, b, 10, 0, 0)
		want := 2. / 3 * 10 * (5 * b)
		beta := 2 * math.Atan(b)
		near(t, "relative area", l.Area()/want, 1, beta*beta/5+1e-12)
		// The centroid of a flat segment is 2/5 of the sagitta from the chord.
		near(t, "centroid", l.Centroid().Y/(-0.4*5*b), 1, beta*beta+1e-9)
	}
}

// TestMomentsFarAway: moving by 10 m changes nothing but the centroid.
func TestMomentsFarAway(t *testing.T) {
	l := mustLoop(t, 0, 0, 0.3, 2, 0, 0, 2, 1, -0.2, 0, 1, 0)
	m := l.Moments()
	n := l.Transform(geom.Pose2{Shift: pt(1e4, -1e4)}).Moments()
	near(t, "area", n.Area, m.Area, 1e-10)
	near(t, "XX", n.XX, m.XX, 1e-10)
	near(t, "YY", n.YY, m.YY, 1e-10)
	near(t, "XY", n.XY, m.XY, 1e-10)
	near(t, "centroid", n.Centroid.X, m.Centroid.X+1e4, 1e-10)
}
