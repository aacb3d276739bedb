package geom_test

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

func regions(l ...geom.Loop) []geom.Region {
	out := make([]geom.Region, len(l))
	for i := range l {
		out[i] = geom.RegionOf(l[i])
	}
	return out
}

func areaOf(rs []geom.Region) float64 {
	a := 0.0
	for _, r := range rs {
		a += r.Area()
	}
	return a
}

// square returns the square with the lower left corner (x, y).
func square(x, y, side float64) geom.Loop {
	return geom.Rectangle(pt(x+side/2, y+side/2), side, side)
}

type operation struct {
	name string
	do   func(a, b []geom.Region) ([]geom.Region, error)
}

var (
	union        = operation{"Union", geom.Union}
	difference   = operation{"Difference", geom.Difference}
	intersection = operation{"Intersection", geom.Intersection}
)

// TestBooleanAreas checks areas, numbers of regions, holes and vertices worked out by hand.
func TestBooleanAreas(t *testing.T) {
	// Two unit circles, centres 1 apart: the lens is two segments of the circle with the
	// sweep 2π/3 each, 2·(1/2)(2π/3 - sin 2π/3) = 2π/3 - √3/2.
	lens := 2*math.Pi/3 - math.Sqrt(3)/2
	unit, right := geom.Circle(pt(0, 0), 1), geom.Circle(pt(1, 0), 1)
	ring := []geom.Region{geom.RegionOf(geom.Circle(pt(0, 0), 3), geom.Circle(pt(0, 0), 2))}
	sq := square(0, 0, 2)
	cases := []struct {
		name            string
		op              operation
		a, b            []geom.Region
		area            float64
		n, holes, verts int
	}{
		{"lens", intersection, regions(unit), regions(right), lens, 1, 0, 2},
		// The union keeps 2π - π/3·2 = 4π/3 of each circle: less than 3/2 π, so one arc each.
		{"two circles", union, regions(unit), regions(right), 2*math.Pi - lens, 1, 0, 2},
		{"moon", difference, regions(unit), regions(right), math.Pi - lens, 1, 0, 2},
		{"square less circle at its corner", difference, regions(sq), regions(unit), 4 - math.Pi/4, 1, 0, 5},
		{"square less circle inside", difference, regions(square(-2, -2, 4)), regions(unit), 16 - math.Pi, 1, 1, 6},
		{"squares with a common edge", union, regions(sq), regions(square(2, 0, 2)), 8, 1, 0, 4},
		{"squares with part of an edge", union, regions(sq), regions(square(2, 1, 2)), 8, 1, 0, 8},
		{"squares with a common corner", union, regions(sq), regions(square(2, 2, 2)), 8, 2, 0, 8},
		{"squares with a common corner meet", intersection, regions(sq), regions(square(2, 2, 2)), 0, 0, 0, 0},
		{"squares with a common edge meet", intersection, regions(sq), regions(square(2, 0, 2)), 0, 0, 0, 0},
		{"same square", union, regions(sq), regions(sq), 4, 1, 0, 4},
		{"same square less itself", difference, regions(sq), regions(sq), 0, 0, 0, 0},
		{"same circle, other start", intersection, regions(unit), regions(unit.Transform(geom.Pose2{Turn: 1})), math.Pi, 1, 0, 2},
		{"same circle less itself, other start", difference, regions(unit), regions(unit.Transform(geom.Pose2{Turn: 1})), 0, 0, 0, 0},
		{"ring less bar", difference, ring, regions(geom.Rectangle(pt(0, 0), 10, 2)),
			// Each circle of radius r has 2·(r² asin(1/r) + √(r²-1)) within |y| < 1.
			5*math.Pi - 2*(9*math.Asin(1.0/3)+math.Sqrt(8)) + 2*(4*math.Asin(0.5)+math.Sqrt(3)), 2, 0, 8},
		{"ring and its hole", union, ring, regions(geom.Circle(pt(0, 0), 2)), 9 * math.Pi, 1, 0, 2},
		{"ring and an island", union, ring, regions(unit), 6 * math.Pi, 2, 1, 6},
		{"ring and a tangent island", union, ring, regions(geom.Circle(pt(1, 0), 1)), 6 * math.Pi, 2, 1, 6},
		{"circles that touch", union, regions(unit), regions(geom.Circle(pt(2, 0), 1)), 2 * math.Pi, 2, 0, 4},
		{"circle inside another, touching", difference, regions(geom.Circle(pt(1, 0), 2)), regions(unit), 3 * math.Pi, 1, 1, 4},
		{"circle on a square's edge", union, regions(square(-2, -4, 4)), regions(unit), 16 + math.Pi/2, 1, 0, 6},
		{"circle tangent to a square", union, regions(square(-2, -5, 4)), regions(unit), 16 + math.Pi, 2, 0, 6},
		{"one inside the other", intersection, regions(square(-5, -5, 10)), regions(unit), math.Pi, 1, 0, 2},
		{"apart", union, regions(unit), regions(geom.Circle(pt(5, 0), 1)), 2 * math.Pi, 2, 0, 4},
		{"apart meet", intersection, regions(unit), regions(geom.Circle(pt(5, 0), 1)), 0, 0, 0, 0},
		// A rounded rectangle over a plain one of the same size: four corners of (1-π/4)r².
		{"coincident edges and corners", difference, regions(geom.Rectangle(pt(0, 0), 8, 6)),
			regions(geom.RoundedRectangle(pt(0, 0), 8, 6, 2)), (4 - math.Pi) * 4, 4, 0, 12},
		{"coincident arcs", union, regions(geom.RoundedRectangle(pt(0, 0), 8, 6, 2)),
			regions(geom.Circle(pt(2, 1), 2)), 48 - (4-math.Pi)*4, 1, 0, 8},
		{"nothing", union, nil, nil, 0, 0, 0, 0},
		{"square and nothing", difference, regions(sq), nil, 4, 1, 0, 4},
	}
	for _, c := range cases {
		got, err := c.op.do(c.a, c.b)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		holes, verts := 0, 0
		for _, r := range got {
			holes += len(r.Holes)
			for l := range r.Loops() {
				verts += l.Len()
			}
		}
		if math.Abs(areaOf(got)-c.area) > 1e-9 || len(got) != c.n || holes != c.holes || verts != c.verts {
			t.Errorf("%s: %s = area %.12g, %d regions, %d holes, %d vertices; want %.12g, %d, %d, %d\n%v",
				c.name, c.op.name, areaOf(got), len(got), holes, verts, c.area, c.n, c.holes, c.verts, got)
		}
	}
}

// TestBooleanUnderTurns repeats cases with shared edges, corners and tangencies turned by
// angles that are no multiples of 90°, where nothing coincides to the last bit.
func TestBooleanUnderTurns(t *testing.T) {
	sq := square(0, 0, 2)
	for k := range 60 {
		pose := geom.Pose2{Turn: s1.Angle(0.1 * float64(k)), Shift: pt(100*float64(k), -37)}
		move := func(l geom.Loop) []geom.Region { return regions(l.Transform(pose)) }
		got, err := geom.Union(move(sq), move(square(2, 0, 2)))
		if err != nil || len(got) != 1 || got[0].Outer.Len() != 4 || math.Abs(areaOf(got)-8) > 1e-6 {
			t.Errorf("turn %d, common edge: %v, %v", k, got, err)
		}
		got, err = geom.Union(move(sq), move(square(2, 2, 2)))
		if err != nil || len(got) != 2 || math.Abs(areaOf(got)-8) > 1e-6 {
			t.Errorf("turn %d, common corner: %v, %v", k, got, err)
		}
		got, err = geom.Difference(move(geom.Circle(pt(1, 0), 2)), move(geom.Circle(pt(0, 0), 1)))
		if err != nil || len(got) != 1 || len(got[0].Holes) > 1 || math.Abs(areaOf(got)-3*math.Pi) > 1e-6 {
			t.Errorf("turn %d, tangent circles: %v, %v", k, got, err)
		}
	}
}

func TestBooleanFailures(t *testing.T) {
	bow := mustLoop(t, 0, 0, 0, 4, 4, 0, 4, 0, 0, 0, 2, 0)
	var f *geom.Failure
	if got, err := geom.Union(regions(bow), nil); !errors.As(err, &f) {
		t.Errorf("Union of a bow tie = %v, %v; want a *Failure", got, err)
	} else if f.Op != "union" || f.Why == "" || !geom.RectLoop(bow.Bound()).Contains(f.At) {
		t.Errorf("Union of a bow tie fails with %+v; want the operation, a reason and a place on it", f)
	}
	out := []geom.Region{{Outer: square(0, 0, 2), Holes: []geom.Loop{square(1, 1, 2).Reverse()}}}
	if got, err := geom.Union(out, nil); !errors.As(err, &f) {
		t.Errorf("Union with a hole beyond its outer loop = %v, %v; want a *Failure", got, err)
	}
	for _, d := range []float64{math.NaN(), math.Inf(1), -1e8} {
		if got, err := geom.Offset(regions(square(0, 0, 1)), d); !errors.As(err, &f) {
			t.Errorf("Offset by %v = %v, %v; want a *Failure", d, got, err)
		}
	}
	for _, r := range []float64{-1, math.NaN()} {
		if got, err := geom.FilletInside(regions(square(0, 0, 1)), r); !errors.As(err, &f) {
			t.Errorf("FilletInside by %v = %v, %v; want a *Failure", r, got, err)
		}
	}
}

// TestResultOrder checks the order of regions and holes and where loops start.
func TestResultOrder(t *testing.T) {
	var a []geom.Region
	for _, p := range []r2.Point{pt(8, 4), pt(0, 4), pt(4, 0), pt(0, 0)} {
		a = append(a, geom.RegionOf(square(p.X, p.Y, 2)))
	}
	got, err := geom.Union(a, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []r2.Point{pt(0, 0), pt(4, 0), pt(0, 4), pt(8, 4)}
	if len(got) != len(want) {
		t.Fatalf("got %d regions, want %d", len(got), len(want))
	}
	for i := range want {
		if got[i].Outer.Vertex(0).P != want[i] {
			t.Errorf("region %d starts at %v, want %v", i, got[i].Outer.Vertex(0).P, want[i])
		}
	}
}

// TestEdgeThroughHalfCircles covers the lower half of a round hole by a plate whose edge
// passes by the leftmost and rightmost points of the hole, above, below and through them
// by about the weld distance. Once a crossing just beyond the ends of both half circles was
// lost, and the whole hole stayed.
func TestEdgeThroughHalfCircles(t *testing.T) {
	for _, off := range []float64{0, 1e-10, 3e-10, 8e-10, 1e-9, 1.15e-9, 2e-9, 5e-9, 1e-8, 1e-7} {
		for _, sign := range []float64{1, -1} {
			for _, turn := range []s1.Angle{0, 1e-10, 2.3e-10, 1e-9, 1e-8, 0.3, math.Pi / 2} {
				hole := mustLoop(t, 0.5, 0, 1, -0.5, 0, 1).Transform(geom.Pose2{Turn: turn})
				frame := []geom.Region{geom.RegionOf(geom.Rectangle(pt(0, 0), 4, 4), hole)}
				y := sign * off
				got, err := geom.Union(frame, regions(geom.RectLoop(geom.Rect{Lo: pt(-1, -1), Hi: pt(1, y)})))
				if err != nil {
					t.Errorf("edge at %g, hole turned by %g: %v", y, float64(turn), err)
					continue
				}
				// Half the hole, less a strip of width 1 and height y.
				if want := 16 - math.Pi/8 + y; math.Abs(areaOf(got)-want) > 1e-8 {
					t.Errorf("edge at %g, hole turned by %g: area %.12g, want %.12g", y, float64(turn), areaOf(got), want)
				}
			}
		}
	}
}
