package geom_test

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func kindOf(err error) geom.ViolationKind {
	var v *geom.Violation
	if errors.As(err, &v) {
		return v.Kind
	}
	return 0
}

func TestLoopViolations(t *testing.T) {
	tests := []struct {
		name string
		v    []float64
		want geom.ViolationKind
		at   r2.Point
	}{
		{"square", []float64{0, 0, 0, 4, 0, 0, 4, 4, 0, 0, 4, 0}, 0, pt(0, 0)},
		{"clockwise square", []float64{0, 0, 0, 0, 4, 0, 4, 4, 0, 4, 0, 0}, 0, pt(0, 0)},
		// The sides (0,0)-(4,4) and (4,0)-(0,3) cross where x = y and y = 3 - 3x/4, x = 12/7.
		{"bow tie", []float64{0, 0, 0, 4, 4, 0, 4, 0, 0, 0, 3, 0}, geom.SelfCrossing, pt(12./7, 12./7)},
		{"vertex on a side", []float64{0, 0, 0, 4, 0, 0, 4, 4, 0, 2, 0, 0, 0, 4, 0}, geom.SelfTouching, pt(2, 0)},
		{"spike", []float64{0, 0, 0, 4, 0, 0, 4, 4, 0, 4, 2, 0, 0, 2, 0}, geom.SelfTouching, pt(4, 2)},
		// The half circle over 0..4 bulges down to y = -2; the line at y = -1 runs through it.
		{"arc through a side", []float64{0, 0, 1, 4, 0, 0, 6, -1, 0, -2, -1, 0}, geom.SelfCrossing, pt(2+math.Sqrt(3), -1)},
		{"lens", []float64{0, 0, 0.5, 4, 0, 0.5}, 0, pt(0, 0)},
		{"no area", []float64{0, 0, 0.5, 4, 0, -0.5}, geom.NoArea, pt(0, 0)},
		{"figure of eight without net area", []float64{0, 0, 0, 40, 40, 0, 40, 0, 0, 0, 40, 0}, geom.SelfCrossing, pt(20, 20)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			err := mustLoop(t, tt.v...).Validate()
			if kindOf(err) != tt.want {
				t.Fatalf("got %v, want kind %v", err, tt.want)
			}
			var v *geom.Violation
			if errors.As(err, &v) && tt.want != geom.NoArea {
				alt := pt(2-math.Sqrt(3), -1) // the arc's other crossing
				if dist(v.At, tt.at) > 1e-9 && dist(v.At, alt) > 1e-9 {
					t.Errorf("at %v, want %v", v.At, tt.at)
				}
			}
		})
	}
}

func TestNewLoopRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		name string
		v    []geom.Vertex
		want geom.ViolationKind
	}{
		{"nothing", nil, geom.TooFewVertices},
		{"one point", []geom.Vertex{{P: pt(1, 1)}}, geom.TooFewVertices},
		{"two points, two lines", []geom.Vertex{{P: pt(1, 1)}, {P: pt(2, 1)}}, geom.TooFewVertices},
		{"the same point thrice", []geom.Vertex{{P: pt(1, 1)}, {P: pt(1, 1), Bulge: 1}, {P: pt(1, 1+1e-10)}}, geom.TooFewVertices},
		{"NaN", []geom.Vertex{{P: pt(nan, 0)}, {P: pt(1, 0)}, {P: pt(0, 1)}}, geom.BadCoordinate},
		{"infinite", []geom.Vertex{{P: pt(0, 0)}, {P: pt(inf, 0)}, {P: pt(0, 1)}}, geom.BadCoordinate},
		{"too far", []geom.Vertex{{P: pt(0, 0)}, {P: pt(1.1e7, 0)}, {P: pt(0, 1)}}, geom.BadCoordinate},
		{"arc too far", []geom.Vertex{{P: pt(0, 0), Bulge: 1e5}, {P: pt(1e3, 0)}, {P: pt(0, 1)}}, geom.BadCoordinate},
		{"bulge NaN", []geom.Vertex{{P: pt(0, 0), Bulge: nan}, {P: pt(1, 0)}, {P: pt(0, 1)}}, geom.BadBulge},
		{"bulge infinite", []geom.Vertex{{P: pt(0, 0), Bulge: inf}, {P: pt(1, 0)}, {P: pt(0, 1)}}, geom.BadBulge},
	}
	for _, tt := range tests {
		l, err := geom.NewLoop(tt.v)
		if kindOf(err) != tt.want || !l.IsEmpty() {
			t.Errorf("%s: got %v and %v, want %v", tt.name, l, err, tt.want)
		}
	}
}

func TestRegionViolations(t *testing.T) {
	plate := geom.Rectangle(pt(0, 0), 20, 20)
	c := func(x, y, r float64) geom.Loop { return geom.Circle(pt(x, y), r) }
	tests := []struct {
		name  string
		outer geom.Loop
		holes []geom.Loop
		want  geom.ViolationKind
	}{
		{"holes in place", plate, []geom.Loop{c(-5, 0, 2), c(5, 0, 2)}, 0},
		{"empty", geom.Loop{}, nil, 0},
		{"hole without plate", geom.Loop{}, []geom.Loop{c(0, 0, 1)}, geom.EmptyOuter},
		{"hole outside", plate, []geom.Loop{c(30, 0, 2)}, geom.HoleOutside},
		{"hole over the edge", plate, []geom.Loop{c(10, 0, 2)}, geom.HoleCrosses},
		{"hole touching the edge", plate, []geom.Loop{c(8, 0, 2)}, geom.HoleTouching},
		{"hole touching the edge from outside", plate, []geom.Loop{c(12, 0, 2)}, geom.HoleOutside},
		{"hole as large as the plate", plate, []geom.Loop{plate}, geom.HoleTouching},
		{"holes overlapping", plate, []geom.Loop{c(-1, 0, 2), c(1, 0, 2)}, geom.HoleCrosses},
		{"holes touching", plate, []geom.Loop{c(-2, 0, 2), c(2, 0, 2)}, geom.HoleTouching},
		{"hole in hole", plate, []geom.Loop{c(0, 0, 5), c(0, 0, 2)}, geom.HoleInHole},
		{"hole round hole", plate, []geom.Loop{c(0, 0, 2), c(0, 0, 5)}, geom.HoleInHole},
		{"plate that crosses itself", mustLoop(t, 0, 0, 0, 4, 4, 0, 4, 0, 0, 0, 3, 0), nil, geom.SelfCrossing},
	}
	for _, tt := range tests {
		if _, err := geom.NewRegion(tt.outer, tt.holes...); kindOf(err) != tt.want {
			t.Errorf("%s: got %v, want %v", tt.name, err, tt.want)
		}
	}
}

// TestGeneratedShapesAreValid keeps the generators honest, and Validate from crying wolf.
func TestGeneratedShapesAreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := genPlaced().Draw(t, "region")
		if err := r.Validate(); err != nil {
			for l := range r.Loops() {
				t.Logf("%v", l.Vertices())
			}
			t.Fatal(err)
		}
	})
}
