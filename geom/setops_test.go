package geom_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// fataler is what testing.T and rapid.T share.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// genSet draws one to three regions. Half the time they are copies of one region on grid
// positions, so that edges, corners and arcs coincide.
func genSet() *rapid.Generator[[]geom.Region] {
	return rapid.Custom(func(t *rapid.T) []geom.Region {
		n := rapid.IntRange(1, 3).Draw(t, "regions")
		if !rapid.Bool().Draw(t, "copies") {
			var out []geom.Region
			for range n {
				out = append(out, genPlaced().Draw(t, "region"))
			}
			return out
		}
		r := genRegion().Draw(t, "region")
		var out []geom.Region
		for range n {
			pose := geom.Pose2{
				Shift: pt(float64(rapid.IntRange(-4, 4).Draw(t, "x")), float64(rapid.IntRange(-4, 4).Draw(t, "y"))),
				Turn:  s1.Angle(math.Pi / 2 * float64(rapid.IntRange(0, 3).Draw(t, "quarters"))),
			}
			out = append(out, r.Transform(pose))
		}
		return out
	})
}

// genPair draws two sets; the second is often the first one moved by grid steps.
func genPair() *rapid.Generator[[2][]geom.Region] {
	return rapid.Custom(func(t *rapid.T) [2][]geom.Region {
		a := genSet().Draw(t, "a")
		if !rapid.Bool().Draw(t, "related") {
			return [2][]geom.Region{a, genSet().Draw(t, "b")}
		}
		pose := geom.Pose2{Shift: genPoint(8).Draw(t, "shift"), Mirror: rapid.Bool().Draw(t, "mirror")}
		return [2][]geom.Region{a, moved(a, pose)}
	})
}

func moved(rs []geom.Region, p geom.Pose2) []geom.Region {
	out := make([]geom.Region, len(rs))
	for i := range rs {
		out[i] = rs[i].Transform(p)
	}
	return out
}

func perimeterOf(rs []geom.Region) float64 {
	p := 0.0
	for _, r := range rs {
		for l := range r.Loops() {
			p += l.Perimeter()
		}
	}
	return p
}

func inAny(rs []geom.Region, p r2.Point) bool {
	for _, r := range rs {
		if r.Contains(p) {
			return true
		}
	}
	return false
}

// toBoundary returns the distance from p to the nearest boundary of any region.
func toBoundary(p r2.Point, sets ...[]geom.Region) float64 {
	d := math.Inf(1)
	for _, rs := range sets {
		for _, r := range rs {
			for l := range r.Loops() {
				_, e := l.Nearest(p)
				d = math.Min(d, e)
			}
		}
	}
	return d
}

// checkShape checks what every result promises of its form.
func checkShape(t fataler, what string, rs []geom.Region) {
	t.Helper()
	for i, r := range rs {
		if !(r.Outer.Area() > 0) {
			t.Fatalf("%s: outer loop %d has area %g", what, i, r.Outer.Area())
		}
		for _, h := range r.Holes {
			if !(h.Area() < 0) {
				t.Fatalf("%s: a hole of region %d has area %g", what, i, h.Area())
			}
		}
		if i > 0 {
			p, q := rs[i-1].Outer.Vertex(0).P, r.Outer.Vertex(0).P
			if p.Y > q.Y || p.Y == q.Y && p.X > q.X {
				t.Fatalf("%s: regions %d and %d are out of order", what, i-1, i)
			}
		}
		for l := range r.Loops() {
			for _, v := range l.Vertices() {
				if !(math.Abs(v.P.X) < 1e7 && math.Abs(v.P.Y) < 1e7) || math.IsNaN(v.Bulge) {
					t.Fatalf("%s: vertex %v", what, v)
				}
			}
		}
		// Loops may touch in points, but not cross or leave their places. Slivers of
		// less than 1e-6 mm in width are too thin to tell.
		var v *geom.Violation
		if r.Area() < 1e-6*perimeterOf(rs[i:i+1]) {
			continue
		}
		if err := r.Validate(); err != nil && errors.As(err, &v) {
			if v.Kind != geom.HoleTouching && v.Kind != geom.SelfTouching && !atTip(r, v.At) {
				t.Fatalf("%s: region %d of the result: %v\n%v", what, i, err, dump(rs))
			}
		}
	}
}

// atTip reports whether p lies within 1e-2 mm of a vertex of r. Two curves that part from a
// vertex in nearly one direction may be welded there although they cross a little beside
// it: curves of radius r that stay within the weld distance of 1e-9 mm do so over
// √(8·r·1e-9), 5e-4 mm for a radius of 30 mm and 9e-3 mm for the flattest arcs here.
func atTip(r geom.Region, p r2.Point) bool {
	for l := range r.Loops() {
		for _, v := range l.Vertices() {
			if v.P.Sub(p).Norm() < 1e-2 {
				return true
			}
		}
	}
	return false
}

// dump returns the x, y, bulge triples of every loop of every region, as mustRegions takes
// them back.
func dump(rs []geom.Region) (out [][][]float64) {
	for _, r := range rs {
		var ls [][]float64
		for l := range r.Loops() {
			var xyb []float64
			for _, v := range l.Vertices() {
				xyb = append(xyb, v.P.X, v.P.Y, v.Bulge)
			}
			ls = append(ls, xyb)
		}
		out = append(out, ls)
	}
	return out
}

// sameSet checks that x and y are the same set: what one has and the other lacks has next
// to no area.
func sameSet(t fataler, what string, x, y []geom.Region, tol float64) {
	t.Helper()
	for _, p := range [2][2][]geom.Region{{x, y}, {y, x}} {
		d, err := geom.Difference(p[0], p[1])
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		if a := areaOf(d); a > tol {
			t.Fatalf("%s: sets differ by %g mm²\nx = %#v\ny = %#v", what, a, dump(x), dump(y))
		}
	}
}

// areaTol is the promised error of an area: the weld distance along the boundaries, and
// 1e-6 mm² at most for shapes of this size.
func areaTol(sets ...[]geom.Region) float64 {
	p := 0.0
	for _, rs := range sets {
		p += perimeterOf(rs)
	}
	return 4e-8 * p
}

// checkBooleans checks the three operations on a and b against each other and, point by
// point, against the operands.
func checkBooleans(t fataler, a, b []geom.Region, points []r2.Point) {
	t.Helper()
	do := func(op operation, a, b []geom.Region) []geom.Region {
		t.Helper()
		rs, err := op.do(a, b)
		if err != nil {
			t.Fatalf("%s: %v\na = %#v\nb = %#v", op.name, err, dump(a), dump(b))
		}
		checkShape(t, op.name, rs)
		return rs
	}
	u, d, e, i := do(union, a, b), do(difference, a, b), do(difference, b, a), do(intersection, a, b)
	sa, sb := do(union, a, nil), do(union, nil, b)
	tol := areaTol(a, b)
	if x := areaOf(u) + areaOf(i) - areaOf(sa) - areaOf(sb); math.Abs(x) > tol {
		t.Fatalf("area(A∪B) + area(A∩B) - area(A) - area(B) = %g\na = %#v\nb = %#v", x, dump(a), dump(b))
	}
	if x := areaOf(d) + areaOf(i) - areaOf(sa); math.Abs(x) > tol {
		t.Fatalf("area(A\\B) + area(A∩B) - area(A) = %g\na = %#v\nb = %#v", x, dump(a), dump(b))
	}
	if x := areaOf(d) + areaOf(e) + areaOf(i) - areaOf(u); math.Abs(x) > tol {
		t.Fatalf("area(A\\B) + area(B\\A) + area(A∩B) - area(A∪B) = %g\na = %#v\nb = %#v", x, dump(a), dump(b))
	}
	note := fmt.Sprintf("a = %#v\nb = %#v\n", dump(a), dump(b))
	sameSet(t, note+"A\\B ∪ A∩B = A", do(union, d, i), sa, tol)
	sameSet(t, note+"A∪B = B∪A", u, do(union, b, a), tol)
	sameSet(t, note+"A∪B ∪ A∪B", do(union, u, u), u, tol)
	for _, p := range points {
		if toBoundary(p, a, b) < 1e-6 {
			continue
		}
		ina, inb := inAny(a, p), inAny(b, p)
		for _, c := range []struct {
			name      string
			rs        []geom.Region
			got, want bool
		}{
			{"A∪B", u, inAny(u, p), ina || inb},
			{"A\\B", d, inAny(d, p), ina && !inb},
			{"B\\A", e, inAny(e, p), inb && !ina},
			{"A∩B", i, inAny(i, p), ina && inb},
		} {
			if c.got != c.want {
				t.Fatalf("%v in %s: %v, want %v\na = %#v\nb = %#v\nresult = %v", p, c.name, c.got, c.want, dump(a), dump(b), dump(c.rs))
			}
		}
	}
}

func TestBooleanProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPair().Draw(t, "sets")
		var points []r2.Point
		for range 20 {
			points = append(points, genPoint(24).Draw(t, "p"))
		}
		checkBooleans(t, p[0], p[1], points)
	})
}

func TestBooleanRigidMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPair().Draw(t, "sets")
		pose := genPose().Draw(t, "pose")
		for _, op := range []operation{union, difference, intersection} {
			x, err := op.do(p[0], p[1])
			if err != nil {
				t.Fatalf("%s: %v\na = %#v\nb = %#v", op.name, err, dump(p[0]), dump(p[1]))
			}
			y, err := op.do(moved(p[0], pose), moved(p[1], pose))
			if err != nil {
				t.Fatalf("%s after the move: %v\na = %#v\nb = %#v", op.name, err, dump(p[0]), dump(p[1]))
			}
			sameSet(t, fmt.Sprintf("%s, moved by %+v\na = %#v\nb = %#v\n", op.name, pose, dump(p[0]), dump(p[1])), moved(x, pose), y, areaTol(p[0], p[1]))
		}
	})
}

// checkOffset checks Offset(a, d) against distances to a.
func checkOffset(t fataler, a []geom.Region, d float64, points []r2.Point) {
	t.Helper()
	got, err := geom.Offset(a, d)
	if err != nil {
		t.Fatalf("Offset by %v: %v\na = %#v", d, err, dump(a))
	}
	checkShape(t, "Offset", got)
	whole, err := geom.UnionAll(a) // shared edges of the operand are no boundary
	if err != nil {
		t.Fatalf("UnionAll: %v", err)
	}
	// Every point of the new boundary lies |d| from the old one, outside or inside.
	for _, r := range got {
		for l := range r.Loops() {
			for i, s := range l.Segs() {
				for _, k := range [3]float64{0, 0.3, 0.5} {
					p := s.At(k)
					if e := toBoundary(p, whole); math.Abs(e-math.Abs(d)) > 1e-6 {
						t.Fatalf("Offset by %v: point %v of segment %d lies %.9g from the boundary\na = %#v", d, p, i, e, dump(a))
					}
					if in := inAny(whole, p); in != (d < 0) {
						t.Fatalf("Offset by %v: boundary point %v is in the operand: %v\na = %#v", d, p, in, dump(a))
					}
				}
			}
		}
	}
	for _, p := range points {
		e := toBoundary(p, whole)
		if inAny(whole, p) {
			e = -e
		}
		if math.Abs(e-d) < 1e-6 {
			continue
		}
		if in, want := inAny(got, p), e < d; in != want {
			t.Fatalf("Offset by %v: %v, which is %.9g outside the operand, is in the result: %v\na = %#v\nresult %v", d, p, e, in, dump(a), dump(got))
		}
	}
	switch back, err := geom.Offset(got, -d); {
	case err != nil:
		t.Fatalf("Offset by %v and back: %v\na = %#v", d, err, dump(a))
	default:
		outer, inner := whole, back // opening
		if d > 0 {
			outer, inner = back, whole // closing
		}
		x, err := geom.Difference(inner, outer)
		if err != nil {
			t.Fatalf("Difference after the way back: %v", err)
		}
		if areaOf(x) > areaTol(a, got) {
			t.Fatalf("Offset by %v and back: %g mm² on the wrong side\na = %#v", d, areaOf(x), dump(a))
		}
	}
}

func TestOffsetProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := genSet().Draw(t, "a")
		d := genNumber(-4, 4).Draw(t, "d")
		if math.Abs(d) < 1e-3 {
			t.Skip("next to no distance")
		}
		var points []r2.Point
		for range 20 {
			points = append(points, genPoint(28).Draw(t, "p"))
		}
		checkOffset(t, a, d, points)
	})
}

// TestOffsetSteiner checks Steiner's formula: a convex set of area A and perimeter L grows
// to A + L·d + π·d², any set without holes to no more than that, and to no less than the
// disc of radius √(A/π) + d (Brunn and Minkowski).
func TestOffsetSteiner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := genLoop().Draw(t, "loop")
		d := genNumber(0.01, 5).Draw(t, "d")
		got, err := geom.Offset(regions(l), d)
		if err != nil {
			t.Fatal(err)
		}
		steiner := l.Area() + l.Perimeter()*d + math.Pi*d*d
		low := math.Pi * math.Pow(math.Sqrt(l.Area()/math.Pi)+d, 2)
		outer := 0.0 // with the holes that arise filled
		for _, r := range got {
			outer += r.Outer.Area()
		}
		tol := 1e-7 * (1 + l.Perimeter())
		switch a := areaOf(got); {
		case l.IsConvex() && math.Abs(a-steiner) > tol:
			t.Fatalf("area %.12g, want %.12g: %#v", a, steiner, dump(regions(l)))
		case a > steiner+tol || outer < low-tol:
			t.Fatalf("area %.12g (%.12g filled) outside %.12g..%.12g: %#v", a, outer, low, steiner, dump(regions(l)))
		}
	})
}

// genNearCopy draws a motion by about the weld distance, where "the same", "touching" and
// "apart" meet.
func genNearCopy() *rapid.Generator[geom.Pose2] {
	tiny := rapid.Custom(func(t *rapid.T) float64 {
		if rapid.Bool().Draw(t, "none") {
			return 0
		}
		return rapid.Float64Range(-9, 9).Draw(t, "digit") * math.Pow(10, -float64(rapid.IntRange(7, 12).Draw(t, "power")))
	})
	return rapid.Custom(func(t *rapid.T) geom.Pose2 {
		return geom.Pose2{Shift: pt(tiny.Draw(t, "x"), tiny.Draw(t, "y")), Turn: s1.Angle(tiny.Draw(t, "turn") / 8)}
	})
}

// TestBooleanNearCopies runs the checks on sets that are nearly the same.
func TestBooleanNearCopies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := genSet().Draw(t, "a")
		b := moved(a, genNearCopy().Draw(t, "by"))
		if rapid.Bool().Draw(t, "two") {
			b = append(b, moved(a, genNearCopy().Draw(t, "and by"))...)
		}
		var points []r2.Point
		for range 10 {
			points = append(points, genPoint(24).Draw(t, "p"))
		}
		checkBooleans(t, a, b, points)
	})
}

// TestOffsetNearCopies grows and shrinks two nearly equal sets together.
func TestOffsetNearCopies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := genSet().Draw(t, "a")
		a = append(a, moved(a, genNearCopy().Draw(t, "by"))...)
		d := genNumber(-4, 4).Draw(t, "d")
		if math.Abs(d) < 1e-3 {
			t.Skip("next to no distance")
		}
		checkOffset(t, a, d, []r2.Point{genPoint(28).Draw(t, "p"), genPoint(28).Draw(t, "q")})
	})
}
