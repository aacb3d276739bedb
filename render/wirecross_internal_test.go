package render

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// way1 is a circuit's way through the given points, in stretches of one piece each at height z.
func way1(no int, z float64, pts ...r2.Point) []stretch {
	var out []stretch
	for i := 1; i < len(pts); i++ {
		out = append(out, stretch{no: no, leg: i, z: z, path: []geom.Seg{{A: pts[i-1], B: pts[i]}}})
	}
	return out
}

func p2(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }

// Two ways that cross at right angles: the lower is left out over half the width of the upper
// and the air to either side, 2/2 + 0.5 = 1.5 about the middle of its 20 mm; the upper stays
// whole.
func TestOneBridgeWhereTwoCross(t *testing.T) {
	for _, order := range [2][2]int{{0, 1}, {1, 0}} {
		z := [2]float64{5, 9}
		all := append(way1(0, z[order[0]], p2(-10, 0), p2(10, 0)), way1(1, z[order[1]], p2(0, -10), p2(0, 10))...)
		got := bridge(all, func(int) float64 { return 2 }, 0.5)
		if len(got) != 1 {
			t.Fatalf("%d bridges, want 1", len(got))
		}
		low := order[0] // the index of the stretch at height 5
		if got[0].lower != low || got[0].upper != 1-low {
			t.Errorf("lower %d, upper %d; want %d, %d", got[0].lower, got[0].upper, low, 1-low)
		}
		if len(all[1-low].cuts) != 0 || len(all[low].cuts) != 1 {
			t.Fatalf("cuts of the lower %v, of the upper %v", all[low].cuts, all[1-low].cuts)
		}
		if g := all[low].cuts[0]; math.Abs(g.from-8.5) > 1e-9 || math.Abs(g.to-11.5) > 1e-9 {
			t.Errorf("left out from %v to %v, want 8.5 to 11.5", g.from, g.to)
		}
		kept := all[low].kept()
		if len(kept) != 2 || math.Abs(kept[0][0].B.Sub(p2(0, 0)).Norm()-1.5) > 1e-9 {
			t.Errorf("kept %v", kept)
		}
	}
}

// Of two at one height the later lies over the earlier.
func TestLaterLiesOver(t *testing.T) {
	all := append(way1(0, 5, p2(-10, 0), p2(10, 0)), way1(1, 5, p2(0, -10), p2(0, 10))...)
	if got := bridge(all, func(int) float64 { return 1 }, 0.5); len(got) != 1 || got[0].lower != 0 {
		t.Errorf("%+v", got)
	}
}

// No bridge where ways touch, run along each other, end on each other, or do not meet in plan; one where
// they cross at a corner of both.
func TestWhatIsNoCrossing(t *testing.T) {
	base := []r2.Point{p2(-10, 0), p2(0, 0), p2(10, 0)}
	for _, c := range []struct {
		name string
		pts  []r2.Point
		want int
	}{
		{"touches from above", []r2.Point{p2(-5, 5), p2(0, 0), p2(5, 5)}, 0},
		{"runs along and leaves on the same side", []r2.Point{p2(-8, 5), p2(-5, 0), p2(5, 0), p2(8, 5)}, 0},
		{"ends on it", []r2.Point{p2(3, 8), p2(3, 0)}, 0},
		{"apart", []r2.Point{p2(-10, 1), p2(10, 1)}, 0},
		{"crosses at its corner", []r2.Point{p2(-4, -5), p2(0, 0), p2(2, 6)}, 1},
		{"crosses twice", []r2.Point{p2(-6, -5), p2(-6, 5), p2(6, 5), p2(6, -5)}, 2},
	} {
		all := append(way1(0, 5, base...), way1(1, 9, c.pts...)...)
		if got := bridge(all, func(int) float64 { return 1 }, 0.5); len(got) != c.want {
			t.Errorf("%s: %d bridges, want %d", c.name, len(got), c.want)
		}
	}
}

// At 30° the gap is longer: (2/2 + 0.5)/sin 30° + 2/2·cot 30° = 3 + 1.732 = 4.732 to either side.
func TestAskewCrossingHasALongerGap(t *testing.T) {
	u := p2(math.Cos(math.Pi/6), 0.5)
	all := append(way1(0, 5, p2(-20, 0), p2(20, 0)), way1(1, 9, u.Mul(-20), u.Mul(20))...)
	bridge(all, func(int) float64 { return 2 }, 0.5)
	if len(all[0].cuts) != 1 || math.Abs(all[0].cuts[0].to-all[0].cuts[0].from-2*(3+math.Sqrt(3))) > 1e-6 {
		t.Errorf("cuts %v, want one of %.3f", all[0].cuts, 2*(3+math.Sqrt(3)))
	}
}

// The same, but the upper one ends 2 mm beyond the crossing. Along the lower one its end lies (2 + 0.5 + 2/2·sin 30°)/cos 30°
// = 3.464 from the crossing; on the other side the gap is 4.732 as before.
func TestGapEndsWhereTheUpperEnds(t *testing.T) {
	u := p2(math.Cos(math.Pi/6), 0.5)
	for _, c := range []struct {
		name     string
		a, b     r2.Point
		from, to float64
	}{
		{"ends ahead", u.Mul(-20), u.Mul(2), 20 - 3 - math.Sqrt(3), 20 + 3/(math.Sqrt(3)/2)},
		{"the other way round", u.Mul(2), u.Mul(-20), 20 - 3 - math.Sqrt(3), 20 + 3/(math.Sqrt(3)/2)},
		{"ends behind", u.Mul(-2), u.Mul(20), 20 - 3/(math.Sqrt(3)/2), 20 + 3 + math.Sqrt(3)},
	} {
		all := append(way1(0, 5, p2(-20, 0), p2(20, 0)), way1(1, 9, c.a, c.b)...)
		bridge(all, func(int) float64 { return 2 }, 0.5)
		if g := all[0].cuts; len(g) != 1 || math.Abs(g[0].from-c.from) > 1e-6 || math.Abs(g[0].to-c.to) > 1e-6 {
			t.Errorf("%s: cuts %v, want %.3f to %.3f", c.name, g, c.from, c.to)
		}
	}
}

// A gap at the joint of two stretches is shared by both.
func TestGapOverAJoint(t *testing.T) {
	all := append(way1(0, 5, p2(-10, 0), p2(0.5, 0), p2(10, 0)), way1(1, 9, p2(0, -10), p2(0, 10))...)
	bridge(all, func(int) float64 { return 2 }, 0.5)
	a, b := all[0].cuts, all[1].cuts
	if len(a) != 1 || len(b) != 1 || math.Abs(a[0].from-8.5) > 1e-9 || math.Abs(b[0].to-1) > 1e-9 {
		t.Errorf("cuts %v and %v, want 8.5 to 10.5 and 0 to 1", a, b)
	}
}

// A way that runs along the other one elsewhere, and comes back to cross it, is bridged where it crosses: one goes along y = 0 from
// x = 0 to 20, turns round and crosses at (30, 0); the other lies on y = 0 from 2 to 40.
func TestCrossingAfterRunningAlong(t *testing.T) {
	all := append(way1(0, 9, p2(0, 0), p2(20, 0), p2(25, 5), p2(35, -5)), way1(1, 5, p2(2, 0), p2(40, 0))...)
	got := bridge(all, func(int) float64 { return 1 }, 0.5)
	if len(got) != 1 || got[0].at.Sub(p2(30, 0)).Norm() > 1e-9 {
		t.Errorf("%+v, want one at (30, 0)", got)
	}
}
