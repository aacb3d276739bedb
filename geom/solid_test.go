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

// A solid is a convex body of the package beside formulas of its own for it: its support
// function, and by how much a point violates its inequalities. With both, an answer is
// judged by its certificate: witness points in the bodies bound a distance from above,
// and a pair of parallel planes between them bounds it from below.
type solid struct {
	name    string
	body    geom.Convex
	reach   func(u r3.Vector) float64 // max(u·x), u a unit vector
	outside func(p r3.Vector) float64 // at most 0 within, grows like the distance
}

func vec(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

// local turns a point or direction into the frame of a pose, by the columns.
func local(p geom.Pose3, v r3.Vector) r3.Vector {
	r := p.R
	if r == ([3]r3.Vector{}) {
		return v
	}
	return vec(r[0].Dot(v), r[1].Dot(v), r[2].Dot(v))
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func solidBox(x, y, z float64, p geom.Pose3) solid {
	return solid{
		name: "box", body: must(geom.NewBox(vec(x, y, z), p)),
		reach: func(u r3.Vector) float64 {
			l := local(p, u).Abs()
			return u.Dot(p.T) + (l.X*x+l.Y*y+l.Z*z)/2
		},
		outside: func(q r3.Vector) float64 {
			l := local(p, q.Sub(p.T)).Abs()
			return max(l.X-x/2, l.Y-y/2, l.Z-z/2)
		},
	}
}

func solidCylinder(r, h float64, p geom.Pose3) solid {
	return solid{
		name: "cylinder", body: must(geom.NewCylinder(r, h, p)),
		reach: func(u r3.Vector) float64 {
			l := local(p, u)
			return u.Dot(p.T) + math.Hypot(l.X, l.Y)*r + math.Abs(l.Z)*h/2
		},
		outside: func(q r3.Vector) float64 {
			l := local(p, q.Sub(p.T))
			return max(math.Hypot(l.X, l.Y)-r, math.Abs(l.Z)-h/2)
		},
	}
}

func solidCapsule(a, b r3.Vector, r float64) solid {
	return solid{
		name: "capsule", body: must(geom.NewCapsule(a, b, r)),
		reach: func(u r3.Vector) float64 { return max(u.Dot(a), u.Dot(b)) + r },
		outside: func(q r3.Vector) float64 {
			d := b.Sub(a)
			t := 0.0
			if d.Norm2() > 0 {
				t = max(0, min(1, q.Sub(a).Dot(d)/d.Norm2()))
			}
			return q.Sub(a.Add(d.Mul(t))).Norm() - r
		},
	}
}

// solidRounded is a prism over a rectangle x by y with corners of radius r: the sum of a
// smaller rectangle and a disc.
func solidRounded(x, y, r, h float64, p geom.Pose3) solid {
	l := geom.RoundedRectangle(pt(0, 0), x, y, r)
	return solid{
		name: "rounded", body: must(geom.NewPrism(l, r1.Interval{Lo: -h / 2, Hi: h / 2}, p)),
		reach: func(u r3.Vector) float64 {
			l := local(p, u)
			return u.Dot(p.T) + math.Abs(l.X)*(x/2-r) + math.Abs(l.Y)*(y/2-r) + r*math.Hypot(l.X, l.Y) + math.Abs(l.Z)*h/2
		},
		outside: func(q r3.Vector) float64 {
			l := local(p, q.Sub(p.T)).Abs()
			return max(math.Hypot(max(0, l.X-x/2+r), max(0, l.Y-y/2+r))-r, l.Z-h/2)
		},
	}
}

// solidHull is the hull of the corners of a box that was sheared, so that it is none.
func solidHull(x, y, z, shear float64, p geom.Pose3) solid {
	var pts []r3.Vector
	for i := 0; i < 8; i++ {
		s := func(bit int) float64 { return float64(i>>bit&1)*2 - 1 }
		l := vec(s(0)*x/2+shear*s(2), s(1)*y/2, s(2)*z/2)
		pts = append(pts, p.Apply(l))
	}
	return solid{
		name: "hull", body: must(geom.NewHull(pts)),
		reach: func(u r3.Vector) float64 {
			h := math.Inf(-1)
			for _, q := range pts {
				h = max(h, u.Dot(q))
			}
			return h
		},
		outside: func(q r3.Vector) float64 {
			l := local(p, q.Sub(p.T))
			if z > 0 {
				l.X -= shear * l.Z / (z / 2)
			}
			return max(math.Abs(l.X)-x/2, math.Abs(l.Y)-y/2, math.Abs(l.Z)-z/2)
		},
	}
}

func genPose3(place float64) *rapid.Generator[geom.Pose3] {
	return rapid.Custom(func(t *rapid.T) geom.Pose3 {
		angle := func(l string) s1.Angle {
			if rapid.Bool().Draw(t, "square "+l) {
				return s1.Angle(rapid.IntRange(0, 3).Draw(t, l)) * 90 * s1.Degree
			}
			return s1.Angle(genNumber(-180, 180).Draw(t, l)) * s1.Degree
		}
		p := geom.RotZ(angle("a")).Then(geom.RotX(angle("b"))).Then(geom.RotZ(angle("c")))
		p.T = genVector(place).Draw(t, "at")
		return p
	})
}

func genVector(half float64) *rapid.Generator[r3.Vector] {
	return rapid.Custom(func(t *rapid.T) r3.Vector {
		n := genNumber(-half, half)
		return vec(n.Draw(t, "x"), n.Draw(t, "y"), n.Draw(t, "z"))
	})
}

// genSolid draws a solid of about the given size, its middle within ±place.
func genSolid(size, place float64) *rapid.Generator[solid] {
	return rapid.Custom(func(t *rapid.T) solid {
		p := genPose3(place).Draw(t, "pose")
		n := func(l string) float64 { return genNumber(size/16, size).Draw(t, l) }
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0:
			return solidBox(n("x"), n("y"), n("z"), p)
		case 1:
			return solidCylinder(n("r")/2, n("h"), p)
		case 2:
			r := p.R[2].Mul(n("h") / 2)
			return solidCapsule(p.T.Sub(r), p.T.Add(r), n("r")/2)
		case 3:
			return solidCapsule(p.T, p.T, n("r")/2)
		case 4:
			x, y := n("x"), n("y")
			return solidRounded(x, y, min(x, y)*genNumber(0.1, 0.45).Draw(t, "round"), n("h"), p)
		}
		return solidHull(n("x"), n("y"), n("z"), n("shear")/2, p)
	})
}

// checkSolids judges a gap of two solids by its certificate.
func checkSolids(t interface{ Fatalf(string, ...any) }, a, b solid, g geom.Gap3, tol float64) {
	bad := func(what string, v ...any) {
		t.Fatalf("%s and %s: %s %v\n%+v", a.name, b.name, what, v, g)
	}
	for _, v := range []float64{g.Dist, g.A.Norm(), g.B.Norm(), g.Push.Norm()} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			bad("not finite")
		}
	}
	if math.Abs(g.Push.Norm()-1) > 1e-12 {
		bad("push is not a unit vector", g.Push.Norm())
	}
	if e := g.B.Sub(g.A).Sub(g.Push.Mul(g.Dist)).Norm(); e > 1e-9+1e-15*(g.A.Norm()+g.B.Norm()) {
		bad("B - A is not Dist * Push, by", e)
	}
	// The witnesses of an overlap are less exact than its depth.
	slack := tol
	if g.Dist < 0 {
		slack *= 10
	}
	if o := a.outside(g.A); o > slack {
		bad("A is outside a by", o)
	}
	if o := b.outside(g.B); o > slack {
		bad("B is outside b by", o)
	}
	// Width of the gap between the planes across Push: b's lowest less a's highest.
	width := -b.reach(g.Push.Mul(-1)) - a.reach(g.Push)
	if math.Abs(width-g.Dist) > tol {
		bad("the planes across Push are apart by", width)
	}
	if !g.Exact {
		bad("not exact")
	}
	if g.Dist < 0 {
		// No direction may do with less.
		for _, u := range sphere {
			u = descend(a, b, u)
			if w := a.reach(u) + b.reach(u.Mul(-1)); w < -g.Dist-tol {
				bad("a shorter move", w, u)
			}
		}
	}
}

// descend improves a direction by a search of falling steps: a second method for the
// least move, with nothing in common with the one under test.
func descend(a, b solid, u r3.Vector) r3.Vector {
	h := func(u r3.Vector) float64 { return a.reach(u) + b.reach(u.Mul(-1)) }
	best := h(u)
	for step, n := 0.3, 0; step > 1e-5 && n < 300; n++ {
		x := u.Ortho()
		y := u.Cross(x)
		better := false
		for k := 0; k < 6; k++ {
			s, c := math.Sincos(float64(k) * math.Pi / 3)
			v := u.Add(x.Mul(step * c)).Add(y.Mul(step * s)).Normalize()
			if w := h(v); w < best-1e-9 {
				best, u, better = w, v, true
				break
			}
		}
		if !better {
			step /= 2
		}
	}
	return u
}

// sphere holds directions spread evenly (a Fibonacci spiral), and the axes.
var sphere = func() []r3.Vector {
	out := []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}, {X: -1}, {Y: -1}, {Z: -1}}
	const n = 40
	for i := 0; i < n; i++ {
		z := 1 - (2*float64(i)+1)/n
		s, c := math.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
		r := math.Sqrt(1 - z*z)
		out = append(out, vec(r*c, r*s, z))
	}
	return out
}()

func nearly(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.15g, want %.15g", what, got, want)
	}
}

func nearlyAt(t *testing.T, what string, got, want r3.Vector, tol float64) {
	t.Helper()
	if !(got.Sub(want).Norm() <= tol) {
		t.Errorf("%s = %v, want %v", what, got, want)
	}
}
