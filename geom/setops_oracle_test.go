package geom_test

import (
	"math"
	"testing"

	sf "github.com/peterstace/simplefeatures/geom"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// oracleArea returns the area of an operation of the independent library on fine chords.
func oracleArea(t *rapid.T, op func(a, b sf.Geometry) (sf.Geometry, error), a, b geom.Region, tol float64) (float64, bool) {
	g, err := op(oraclePolygon(a, tol), oraclePolygon(b, tol))
	if err != nil {
		return 0, false // the library gives up on some inputs
	}
	return g.Area(), true
}

// TestBooleansAgainstOracle: the areas of ever finer chorded shapes come as near to ours as
// the chords to the arcs. The area between an arc and its chords is below their sagitta
// times their length.
func TestBooleansAgainstOracle(t *testing.T) {
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		a, b := genPlaced().Draw(t, "a"), genPlaced().Draw(t, "b")
		for _, c := range []struct {
			op     operation
			oracle func(a, b sf.Geometry) (sf.Geometry, error)
		}{{union, sf.Union}, {difference, sf.Difference}, {intersection, sf.Intersection}} {
			rs, err := c.op.do([]geom.Region{a}, []geom.Region{b})
			if err != nil {
				t.Fatal(err)
			}
			length := perimeterOf([]geom.Region{a, b})
			for _, tol := range []float64{1e-2, 1e-3, 1e-4} {
				want, ok := oracleArea(t, c.oracle, a, b, tol)
				if !ok {
					continue
				}
				compared++
				if d := math.Abs(areaOf(rs) - want); d > tol*length+1e-7 {
					t.Fatalf("%s: area %.9g, by chords of sagitta %g %.9g\na = %#v\nb = %#v",
						c.op.name, areaOf(rs), tol, want, dump([]geom.Region{a}), dump([]geom.Region{b}))
				}
			}
		}
	})
	if compared < 100 {
		t.Errorf("the oracle answered only %d times", compared)
	}
}
