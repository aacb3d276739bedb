package geom_test

import (
	"fmt"
	"testing"

	"github.com/golang/geo/r1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func genBody(size, place float64) *rapid.Generator[geom.Body] {
	return rapid.Custom(func(t *rapid.T) geom.Body {
		z := genNumber(-place, place).Draw(t, "z")
		switch rapid.IntRange(0, 9).Draw(t, "kind") {
		case 0:
			return geom.Upright{Z: r1.Interval{Lo: 0, Hi: 1}} // no plan
		case 1, 2, 3:
			at := geom.Pose2{Shift: genPoint(place).Draw(t, "at")}
			return geom.Upright{
				Plan: []geom.Region{concavePlan(size).Draw(t, "plan").Transform(at)},
				Z:    r1.Interval{Lo: z, Hi: z + genNumber(0, size).Draw(t, "height")},
			}
		case 4, 5:
			at := geom.Pose2{Shift: genPoint(place).Draw(t, "at")}
			return geom.Upright{
				Plan: []geom.Region{geom.RegionOf(convexPlan(size).Draw(t, "plan").Transform(at))},
				Z:    r1.Interval{Lo: z, Hi: z + genNumber(0, size).Draw(t, "height")},
			}
		}
		return genSolid(size, place).Draw(t, "solid").body
	})
}

func TestPairsAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bodies := rapid.SliceOfN(genBody(6, 12), 0, 12).Draw(t, "bodies")
		if len(bodies) > 2 {
			bodies[1] = nil
			bodies[2] = bodies[0] // coincident
		}
		limit := genNumber(0, 4).Draw(t, "limit")
		var want []geom.Pair
		for i := range bodies {
			for j := i + 1; j < len(bodies); j++ {
				if bodies[i] == nil || bodies[j] == nil {
					continue
				}
				if g := geom.DistanceBodies(bodies[i], bodies[j]); g.Dist <= limit {
					want = append(want, geom.Pair{I: i, J: j, Gap: g})
				}
			}
		}
		got := geom.PairsCloser(bodies, limit)
		if len(got) != len(want) {
			t.Fatalf("%d pairs, want %d:\n%v\n%v", len(got), len(want), got, want)
		}
		for k := range got {
			if got[k] != want[k] {
				t.Fatalf("pair %d: %+v, want %+v", k, got[k], want[k])
			}
		}
		k := 0
		geom.EachCloser(bodies, limit, func(i, j int, d float64) bool {
			if k >= len(want) || want[k].I != i || want[k].J != j {
				t.Fatalf("EachCloser: pair %d is %d, %d", k, i, j)
			}
			if e := d - max(0, want[k].Gap.Dist); e > 1e-6 || e < -1e-6 {
				t.Fatalf("EachCloser: %d, %d at %v, want %v", i, j, d, want[k].Gap.Dist)
			}
			k++
			return true
		})
		if k != len(want) {
			t.Fatalf("EachCloser: %d pairs, want %d", k, len(want))
		}
	})
}

// Discs of radius 5 and height 2 in a row, 12 from middle to middle: 2 apart.
func TestPairsByHand(t *testing.T) {
	var bodies []geom.Body
	for i := range 4 {
		bodies = append(bodies, geom.Upright{
			Plan: []geom.Region{geom.RegionOf(geom.Circle(pt(12*float64(i), 0), 5))},
			Z:    r1.Interval{Lo: 0, Hi: 2},
		})
	}
	// A cube that stands on the last one: it touches.
	p := geom.Shift3(vec(36, 0, 3))
	bodies = append(bodies, must(geom.NewBox(vec(2, 2, 2), p)))
	got := fmt.Sprint()
	for _, p := range geom.PairsCloser(bodies, 2) {
		got += fmt.Sprintf("%d-%d %.6f; ", p.I, p.J, p.Gap.Dist)
	}
	if want := "0-1 2.000000; 1-2 2.000000; 2-3 2.000000; 3-4 0.000000; "; got != want {
		t.Errorf("pairs: %s\nwant   %s", got, want)
	}
	if n := len(geom.PairsCloser(bodies, 0)); n != 1 {
		t.Errorf("%d pairs touch, want 1", n)
	}
}

func TestDistancesDoNotAllocate(t *testing.T) {
	plate := geom.Body(plateWithHole(t))
	disc := geom.Body(geom.Upright{Plan: []geom.Region{geom.RegionOf(geom.Circle(pt(0, 0), 3))}, Z: r1.Interval{Lo: 1, Hi: 5}})
	tilt := geom.RotX(0.5)
	box := geom.Body(must(geom.NewBox(vec(5, 4, 3), tilt)))
	cyl := geom.Body(must(geom.NewCylinder(1, 8, geom.RotY(0.3))))
	rod := geom.Body(must(geom.NewCapsule(vec(1, 2, 3), vec(4, 5, 6), 1)))
	bodies := []geom.Body{plate, disc, box, cyl, rod}
	for i, a := range bodies {
		for j, b := range bodies {
			if n := testing.AllocsPerRun(20, func() { geom.SeparationBodies(a, b) }); n != 0 {
				t.Errorf("separation of %d and %d: %v allocations", i, j, n)
			}
			if geom.SeparationBodies(a, b) == 0 {
				continue // depths are measured below
			}
			if n := testing.AllocsPerRun(20, func() { geom.DistanceBodies(a, b) }); n != 0 {
				t.Errorf("distance of %d and %d: %v allocations", i, j, n)
			}
		}
	}
	for _, p := range [][2]geom.Body{{box, box}, {rod, rod}, {box, rod}, {disc, disc}} {
		if n := testing.AllocsPerRun(20, func() { geom.DistanceBodies(p[0], p[1]) }); n != 0 {
			t.Errorf("depth of %T and %T: %v allocations", p[0], p[1], n)
		}
	}
}
