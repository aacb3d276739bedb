package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func TestSweepSlideByHand(t *testing.T) {
	z := r1.Interval{Lo: 0, Hi: 2}
	disc := geom.Upright{Plan: []geom.Region{geom.RegionOf(geom.Circle(pt(0, 0), 3))}, Z: z}
	area := func(b geom.Body) float64 {
		sum := 0.0
		for _, r := range b.(geom.Upright).Plan {
			sum += r.Area()
		}
		return sum
	}
	one := func(b geom.Body, along r3.Vector) geom.Body {
		t.Helper()
		out, err := geom.SweepSlide(b, along, 0)
		if err != nil || len(out) != 1 {
			t.Fatalf("SweepSlide: %v, %v", out, err)
		}
		return out[0]
	}
	// A disc that slides by 10 sweeps a slot: π·9 + 10·6.
	slot := one(disc, vec(6, 8, 0))
	nearly(t, "slot", area(slot), 9*math.Pi+60, 1e-6)
	if got := slot.(geom.Upright).Z; got != z {
		t.Errorf("height %v", got)
	}
	// A ring of radii 5 and 2 that slides by 1: the outer disc gains 10·1; the hole becomes
	// what both holes share, a lens of two discs of radius 2, their middles 1 apart:
	// 2·4·acos(1/4) - (1/2)·√15.
	ring := geom.Upright{Plan: []geom.Region{geom.RegionOf(geom.Circle(pt(0, 0), 5), geom.Circle(pt(0, 0), 2))}, Z: z}
	lens := 8*math.Acos(0.25) - math.Sqrt(15)/2
	nearly(t, "ring", area(one(ring, vec(1, 0, 0))), 25*math.Pi+10-lens, 1e-6)
	// Straight up.
	if got := one(ring, vec(0, 0, 3)).(geom.Upright).Z; got != (r1.Interval{Lo: 0, Hi: 5}) {
		t.Errorf("up: %v", got)
	}
	if got := one(ring, vec(0, 0, -3)).(geom.Upright).Z; got != (r1.Interval{Lo: -3, Hi: 2}) {
		t.Errorf("down: %v", got)
	}
	// A ball becomes a rod: its side 3 over the x axis at x = 5.
	ball := must(geom.NewSphere(vec(0, 0, 0), 1))
	rod := one(ball, vec(10, 0, 0))
	nearly(t, "rod", geom.DistanceBodies(rod, must(geom.NewSphere(vec(5, 4, 0), 0))).Dist, 3, 1e-9)
	// A cube of side 2 along its diagonal (4,4,0): its edge passes the point (3, -1, 0) at
	// (x, y) = (1, -1) + s(1, 1): distance |(2, 0)| · sin 45° = √2.
	cube := must(geom.NewBox(vec(2, 2, 2), geom.Pose3{}))
	nearly(t, "cube", geom.DistanceBodies(one(cube, vec(4, 4, 0)), must(geom.NewSphere(vec(3, -1, 0), 0))).Dist, math.Sqrt2, 1e-9)
	// Along its axis a cylinder grows longer: from -1..1 to -1..6 (turned: along x).
	p := geom.RotY(90 * s1.Degree)
	cyl := one(must(geom.NewCylinder(2, 2, p)), vec(5, 0, 0))
	if b := cyl.Bound(); math.Abs(b.Lo.X+1) > 1e-12 || math.Abs(b.Hi.X-6) > 1e-12 {
		t.Errorf("cylinder: %v", b)
	}
	for _, bad := range []r3.Vector{{X: math.NaN()}, {Y: math.Inf(1)}, {Z: 2e7}} {
		if out, err := geom.SweepSlide(cube, bad, 1); err == nil {
			t.Errorf("slide along %v: %v", bad, out)
		}
	}
	if _, err := geom.SweepSlide(ring, vec(1, 0, 1), 0); err == nil {
		t.Error("a slope without a tolerance")
	}
}

// Every place of the moving body lies in the sweep, and every point of the sweep lies
// within the tolerance of a place.
func checkCover(t *rapid.T, sweep []geom.Body, place func(s float64) geom.Body, probe r3.Vector, tol float64) {
	// The distance from a probe to the sweep against the least over many places.
	ball := must(geom.NewSphere(probe, 0))
	got := math.Inf(1)
	for _, b := range sweep {
		got = min(got, geom.SeparationBodies(b, ball))
	}
	const n = 200
	want, prev, step := math.Inf(1), math.NaN(), 0.0
	for i := 0; i <= n; i++ {
		d := geom.SeparationBodies(place(float64(i)/n), ball)
		want = min(want, d)
		if i > 0 {
			step = max(step, math.Abs(d-prev))
		}
		prev = d
	}
	if got > want+1e-6 {
		t.Fatalf("the sweep is %v away, a place of the body %v", got, want)
	}
	// Between two samples the distance may dip by the most it changed, and a little.
	if got < want-tol-2*step-1e-6 {
		t.Fatalf("the sweep is %v away, the body %v: more than %v beyond it", got, want, tol)
	}
}

func TestSweepSlideCovers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		along := genVector(8).Draw(t, "along")
		probe := genVector(25).Draw(t, "probe")
		const tol = 0.05
		if rapid.Bool().Draw(t, "upright") {
			u := geom.Upright{Plan: []geom.Region{concavePlan(10).Draw(t, "plan")}, Z: r1.Interval{Lo: 0, Hi: 3}}
			if rapid.Bool().Draw(t, "level") {
				along.Z = 0
			}
			sweep, err := geom.SweepSlide(u, along, tol)
			if err != nil {
				t.Fatal(err)
			}
			checkCover(t, sweep, func(s float64) geom.Body {
				return u.Transform(geom.Pose2{Shift: pt(along.X*s, along.Y*s)}, along.Z*s)
			}, probe, tol)
			return
		}
		k := genSolid(10, 5).Draw(t, "k").body
		sweep, err := geom.SweepSlide(k, along, tol)
		if err != nil {
			t.Fatal(err)
		}
		checkCover(t, sweep, func(s float64) geom.Body { return must(k.Transform(geom.Shift3(along.Mul(s)))) }, probe, 0)
	})
}

func TestSweepTiltCovers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := genSolid(10, 5).Draw(t, "k").body
		axis, dir := genVector(5).Draw(t, "axis"), genVector(1).Draw(t, "dir")
		if dir == (r3.Vector{}) {
			dir.Z = 1
		}
		from := s1.Angle(genNumber(-90, 90).Draw(t, "from")) * s1.Degree
		to := from + s1.Angle(genNumber(-60, 60).Draw(t, "turn"))*s1.Degree
		tol := genNumber(0.05, 1).Draw(t, "tol")
		parts, err := geom.SweepTilt(k, axis, dir, from, to, tol)
		if err != nil {
			t.Fatal(err)
		}
		sweep := make([]geom.Body, len(parts))
		for i := range parts {
			sweep[i] = parts[i]
		}
		checkCover(t, sweep, func(s float64) geom.Body {
			return must(k.Transform(geom.Rotation3(axis, dir, from+s1.Angle(float64(to-from)*s))))
		}, genVector(25).Draw(t, "probe"), tol)
	})
}

func TestSweepTiltErrors(t *testing.T) {
	k := must(geom.NewBox(vec(1, 1, 1), geom.Pose3{}))
	for name, f := range map[string]func() ([]geom.Convex, error){
		"no axis":      func() ([]geom.Convex, error) { return geom.SweepTilt(k, vec(0, 0, 0), vec(0, 0, 0), 0, 1, 1) },
		"no tolerance": func() ([]geom.Convex, error) { return geom.SweepTilt(k, vec(0, 0, 0), vec(0, 0, 1), 0, 1, 0) },
		"no angle": func() ([]geom.Convex, error) {
			return geom.SweepTilt(k, vec(0, 0, 0), vec(0, 0, 1), 0, s1.Angle(math.NaN()), 1)
		},
		"too many steps": func() ([]geom.Convex, error) { return geom.SweepTilt(k, vec(900, 0, 0), vec(0, 0, 1), 0, 3, 1e-3) },
	} {
		if out, err := f(); err == nil {
			t.Errorf("%s: %d parts, no error", name, len(out))
		}
	}
	if out, err := geom.SweepTilt(geom.Convex{}, vec(0, 0, 0), vec(0, 0, 1), 0, 1, 1); err != nil || len(out) != 0 {
		t.Errorf("nothing tilted: %v, %v", out, err)
	}
}

// A disc band: 5 and 1 under it, 2 and 3 over it.
func TestDiscBand(t *testing.T) {
	b := geom.DiscBand(vec(1, 2, 30), 60, 5, 2, 3, 1)
	want := geom.Box{Lo: vec(-59, -58, 24), Hi: vec(61, 62, 35)}
	if got := b.Bound(); got.Lo.Sub(want.Lo).Norm() > 1e-12 || got.Hi.Sub(want.Hi).Norm() > 1e-12 {
		t.Errorf("bound %v, want %v", got, want)
	}
	for _, bad := range []geom.Upright{
		geom.DiscBand(vec(0, 0, 0), -1, 0, 0, 0, 0),
		geom.DiscBand(vec(0, math.NaN(), 0), 1, 0, 0, 0, 0),
		geom.DiscBand(vec(0, 0, 0), 1, 0, 0, -1, 0),
	} {
		if !bad.IsEmpty() {
			t.Errorf("%v is not empty", bad)
		}
	}
}
