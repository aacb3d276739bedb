package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// The oracle is an independent planar library working on polygons. Shapes with arcs are
// compared with their fine chords, shapes without arcs exactly.

func oraclePolygon(r geom.Region, tol float64) sf.Geometry {
	var rings []sf.LineString
	for l := range r.Loops() {
		pts := l.Flatten(tol)
		c := make([]float64, 0, 2*len(pts)+2)
		for _, p := range append(pts, pts[0]) {
			c = append(c, p.X, p.Y)
		}
		rings = append(rings, sf.NewLineString(sf.NewSequence(c, sf.DimXY)))
	}
	return sf.NewPolygon(rings).AsGeometry()
}

func TestDistanceAgainstOracle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := genPlaced().Draw(t, "a"), genPlaced().Draw(t, "b")
		tol, straight := 1e-3, true
		for _, r := range []geom.Region{a, b} {
			for l := range r.Loops() {
				for _, s := range l.Segs() {
					straight = straight && !s.IsArc()
				}
			}
		}
		if straight {
			tol = 0
		}
		oa, ob := oraclePolygon(a, 1e-3), oraclePolygon(b, 1e-3)
		if oa.Validate() != nil || ob.Validate() != nil {
			return // chords of thin shapes may cross
		}
		want, ok := sf.Distance(oa, ob)
		if !ok {
			t.Fatal("the oracle has no distance")
		}
		got := math.Max(0, geom.Distance(a, b).Dist)
		if math.Abs(got-want) > 2*tol+1e-9 {
			t.Fatalf("distance %.12g, oracle %.12g", got, want)
		}
		if hit := sf.Intersects(oa, ob); hit != geom.Intersects(a, b) && math.Max(got, want) > 2*tol+1e-9 {
			t.Fatalf("intersects %v, oracle %v", !hit, hit)
		}
	})
}

func TestMeasuresAgainstOracle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := genPlaced().Draw(t, "a")
		o := oraclePolygon(a, 1e-4)
		per := 0.0
		for l := range a.Loops() {
			per += l.Perimeter()
		}
		if math.Abs(o.Area()-a.Area()) > 1e-4*per {
			t.Fatalf("area %g, oracle %g", a.Area(), o.Area())
		}
		c, ok := o.Centroid().XY()
		if ok && dist(r2.Point{X: c.X, Y: c.Y}, a.Moments().Centroid) > 1e-4*per*100/a.Area() {
			t.Fatalf("centroid %v, oracle %v", a.Moments().Centroid, c)
		}
	})
}
