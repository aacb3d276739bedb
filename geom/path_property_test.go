package geom_test

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// scene is a drawn field: obstacles, a clearance and points that are not covered.
type scene struct {
	obstacles []geom.Region
	clearance float64
	points    []r2.Point
}

// genScene draws up to five regions of up to 12 mm reach in a square of 64 mm, and points
// clear of them.
func genScene(points int) *rapid.Generator[scene] {
	return rapid.Custom(func(t *rapid.T) scene {
		var s scene
		for range rapid.IntRange(0, 5).Draw(t, "obstacles") {
			r := genPlaced().Draw(t, "obstacle")
			s.obstacles = append(s.obstacles, r.Transform(geom.Pose2{Shift: genPoint(24).Draw(t, "place")}))
		}
		s.clearance = rapid.SampledFrom([]float64{0, 0.5, 1, genNumber(0, 4).Draw(t, "clearance")}).Draw(t, "which")
		for range points {
			p := genPoint(40).Draw(t, "point")
			if s.clear(p) < s.clearance {
				p = p.Add(pt(0, 200)) // beyond all of them
			}
			s.points = append(s.points, p)
		}
		return s
	})
}

// clear returns the distance from p to the nearest obstacle, negative inside of one.
func (s *scene) clear(p r2.Point) float64 {
	best := math.Inf(1)
	for _, r := range s.obstacles {
		best = math.Min(best, geom.DistancePoint(r, p).Dist)
	}
	return best
}

func (s *scene) field(t rapid.TB, clearance float64) *geom.Field {
	t.Helper()
	f, err := geom.NewField(s.obstacles, clearance)
	if err != nil {
		t.Fatalf("NewField: %v", err)
	}
	return f
}

// length returns the length of the path, +Inf if there is none.
func length(t rapid.TB, f *geom.Field, a, b r2.Point) float64 {
	t.Helper()
	l, err := f.Length(a, b)
	var n *geom.NoWay
	if errors.As(err, &n) {
		return math.Inf(1)
	}
	if err != nil {
		t.Fatalf("Length(%v, %v): %v", a, b, err)
	}
	return l
}

// clearOf checks that a path keeps the clearance from the obstacles: points all along it
// are looked at, and for each the depth inside the obstacle or the distance outside.
func clearOf(t rapid.TB, p geom.Path, obstacles []geom.Region, clearance float64) {
	t.Helper()
	inside := map[int]bool{}
	for _, k := range p.Inside {
		inside[k] = true
	}
	for i, s := range p.Segs {
		if inside[i] {
			continue
		}
		const n = 40
		for k := 0.0; k <= n; k++ {
			q := s.At(k / n)
			for j, r := range obstacles {
				if d := geom.DistancePoint(r, q).Dist; !(d >= clearance-1e-6) {
					t.Fatalf("segment %d (%v) comes within %.9g of obstacle %d at %v, clearance %g", i, s, d, j, q, clearance)
				}
			}
		}
	}
}

// chain is checkChain for rapid.
func chain(t rapid.TB, p geom.Path, a, b r2.Point) {
	t.Helper()
	at, sum := a, 0.0
	for _, s := range p.Segs {
		if !samePlace(s.A, at, 1e-9) || !(s.Length() >= 0) {
			t.Fatalf("segments %v do not make a chain from %v", p.Segs, a)
		}
		at, sum = s.B, sum+s.Length()
	}
	if !samePlace(at, b, 2e-9) || !(math.Abs(sum-p.Length) <= 1e-6) || !(p.Length >= math.Hypot(b.X-a.X, b.Y-a.Y)) {
		t.Fatalf("path %v from %v to %v", p, a, b)
	}
}

func TestPathKeepsClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genScene(2).Draw(t, "scene")
		f := s.field(t, s.clearance)
		a, b := s.points[0], s.points[1]
		p, err := f.Path(a, b, geom.PathOptions{})
		var n *geom.NoWay
		if errors.As(err, &n) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		chain(t, p, a, b)
		clearOf(t, p, s.obstacles, s.clearance)
		if l := length(t, f, a, b); math.Abs(l-p.Length) > 1e-12*l {
			t.Fatalf("Length %.17g, Path.Length %.17g", l, p.Length)
		}
		if len(s.obstacles) == 0 && math.Abs(p.Length-math.Hypot(b.X-a.X, b.Y-a.Y)) > 1e-12 {
			t.Fatalf("without obstacles the path is %g long", p.Length)
		}
	})
}

// TestPathMonotone: one more obstacle, or a larger clearance, never shortens a path.
func TestPathMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genScene(2).Draw(t, "scene")
		a, b := s.points[0], s.points[1]
		full := length(t, s.field(t, s.clearance), a, b)
		less := length(t, s.field(t, s.clearance/2), a, b)
		if less > full+1e-6 {
			t.Fatalf("%g at clearance %g, %g at half of it", full, s.clearance, less)
		}
		if len(s.obstacles) > 0 {
			s.obstacles = s.obstacles[1:]
			if less := length(t, s.field(t, s.clearance), a, b); less > full+1e-6 {
				t.Fatalf("%g with, %g without the first obstacle", full, less)
			}
		}
	})
}

func TestPathSymmetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genScene(2).Draw(t, "scene")
		a, b := s.points[0], s.points[1]
		f := s.field(t, s.clearance)
		l := length(t, f, a, b)
		if m := length(t, f, b, a); !(math.Abs(l-m) <= 1e-9 || l == m) {
			t.Fatalf("%.12g there, %.12g back", l, m)
		}
		// The tangents of all posts at once are those found one by one.
		g := s.field(t, s.clearance)
		g.Prepare()
		if m := length(t, g, a, b); !(math.Abs(l-m) <= 1e-9 || l == m) {
			t.Fatalf("%.12g, prepared %.12g", l, m)
		}
	})
}

func TestPathRigidMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genScene(2).Draw(t, "scene")
		move := genPose().Draw(t, "move")
		a, b := s.points[0], s.points[1]
		l := length(t, s.field(t, s.clearance), a, b)
		m := scene{clearance: s.clearance}
		for _, r := range s.obstacles {
			m.obstacles = append(m.obstacles, r.Transform(move))
		}
		got := length(t, m.field(t, s.clearance), move.Apply(a), move.Apply(b))
		if l == got || math.Abs(l-got) <= 1e-6 {
			return
		}
		// A gap as wide as the slack may be open in one place and shut in the other.
		lo := length(t, s.field(t, math.Max(0, s.clearance-1e-6)), a, b)
		hi := length(t, s.field(t, s.clearance+2e-6), a, b)
		if !(got >= lo-1e-6 && got <= hi+1e-6) {
			t.Fatalf("%.12g, moved %.12g; %.12g and %.12g at a little less and more clearance", l, got, lo, hi)
		}
	})
}

func TestPathTriangle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genScene(3).Draw(t, "scene")
		f := s.field(t, s.clearance)
		ac := length(t, f, s.points[0], s.points[2])
		ab, bc := length(t, f, s.points[0], s.points[1]), length(t, f, s.points[1], s.points[2])
		if ac > ab+bc+1e-6 {
			t.Fatalf("%g direct, %g + %g by way of a third point", ac, ab, bc)
		}
		p, err := f.Path(s.points[0], s.points[2], geom.PathOptions{Via: s.points[1:2]})
		if math.IsInf(ab+bc, 1) {
			if err == nil {
				t.Fatal("a path by way of a point that cannot be reached")
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		chain(t, p, s.points[0], s.points[2])
		if math.Abs(p.Length-ab-bc) > 1e-9 {
			t.Fatalf("by way of a point %.12g, legs %.12g + %.12g", p.Length, ab, bc)
		}
	})
}

// TestNoWayGap: with all clearances lowered to a little less than half of the gap, or as
// far as the gap lacks, there is a way, and with a little more there is none.
func TestNoWayGap(t *testing.T) {
	blocked, solid := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		// A start within a ring of discs and other shapes, with gaps here and there.
		var s scene
		n := rapid.IntRange(4, 9).Draw(t, "n")
		for k := range n {
			sn, cs := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			d := genNumber(12, 20).Draw(t, "d")
			l := genLoop().Draw(t, "loop")
			s.obstacles = append(s.obstacles, geom.RegionOf(l).Transform(geom.Pose2{Turn: genTurn(t), Shift: pt(d*cs, d*sn)}))
		}
		a, b := pt(0, 0), pt(60, 3)
		s.clearance = math.Min(s.clear(a), genNumber(1, 8).Draw(t, "clearance"))
		_, err := s.field(t, s.clearance).Path(a, b, geom.PathOptions{})
		var w *geom.NoWay
		if err == nil {
			return
		}
		if !errors.As(err, &w) {
			t.Fatal(err)
		}
		blocked++
		if w.Solid {
			solid++
			t.Fatalf("loops are no rings, but %v", err)
		}
		if d := math.Hypot(w.At[0].X-w.At[1].X, w.At[0].Y-w.At[1].Y); math.Abs(d-w.Gap) > 1e-9 || w.Need != 2*s.clearance {
			t.Fatalf("%+v", w)
		}
		for k, q := range w.At {
			if d := geom.DistancePoint(s.obstacles[w.Of[k]], q).Dist; math.Abs(d) > 1e-6 {
				t.Fatalf("side %d at %v lies %g from the boundary of obstacle %d", k, q, d, w.Of[k])
			}
		}
		if lo := w.Gap/2 - 1e-6; lo >= 2e-6 && math.IsInf(length(t, s.field(t, lo), a, b), 1) {
			t.Fatalf("no way at the clearance %g, half of the gap: %v", lo, err)
		}
		if hi := w.Gap/2 + 1e-6; hi <= s.clearance && !math.IsInf(length(t, s.field(t, hi), a, b), 1) {
			t.Fatalf("a way at the clearance %g, more than half of the gap: %v", hi, err)
		}
	})
	if blocked == 0 {
		t.Error("no scene was blocked")
	}
}

// TestPathBend: with a bend radius the path has no tighter arc, does not kink, keeps clear,
// and is no shorter than the plain path and no longer than that at the larger clearance.
func TestPathBend(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genScene(2).Draw(t, "scene")
		r := genNumber(0.5, 8).Draw(t, "bend")
		f := s.field(t, s.clearance)
		a, b := s.points[0], s.points[1]
		plain := length(t, f, a, b)
		wide := math.Inf(1)
		if c := math.Max(r, s.clearance); s.clear(a) >= c && s.clear(b) >= c {
			wide = length(t, s.field(t, c), a, b)
		}
		p, err := f.Path(a, b, geom.PathOptions{Bend: r})
		var noBend *geom.NoBend
		var noWay *geom.NoWay
		switch {
		case errors.As(err, &noWay) && math.IsInf(plain, 1), errors.As(err, &noBend) && math.IsInf(wide, 1):
			return
		case err != nil:
			t.Fatal(err)
		}
		chain(t, p, a, b)
		clearOf(t, p, s.obstacles, s.clearance)
		if !(p.Length >= plain-1e-6 && p.Length <= wide+1e-6) {
			t.Fatalf("%.9g; %.9g without the bend radius, %.9g at the larger clearance", p.Length, plain, wide)
		}
		checkBends(t, p, r)
	})
}

// checkBends checks radii and tangents. Joints may turn by what a path turns at a corner
// that does not count as a bend.
func checkBends(t rapid.TB, p geom.Path, r float64) {
	t.Helper()
	for i, s := range p.Segs {
		if s.Length() < 1e-5 {
			continue
		}
		if s.IsArc() && s.Radius() < r-1e-5 && math.Abs(s.Sweep().Radians()) > 1e-4 {
			t.Fatalf("arc of radius %g turns %g, bend radius %g", s.Radius(), s.Sweep().Radians(), r)
		}
		if i > 0 && p.Segs[i-1].Length() > 1e-5 {
			if k := angleBetween(p.Segs[i-1].Tangent(1), s.Tangent(0)); k > 2e-4 {
				t.Fatalf("a kink of %g between segments %d and %d: %v", k, i-1, i, p.Segs)
			}
		}
	}
}

// TestTree: joins all terminals, each path as long as the shortest between its ends, and no
// other spanning tree of six terminals' pairs is shorter: exchange any path for any pair that
// joins the two parts again.
func TestTree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genScene(rapid.IntRange(1, 6).Draw(t, "terminals")).Draw(t, "scene")
		f := s.field(t, s.clearance)
		tree, err := f.Tree(s.points, geom.PathOptions{})
		n := len(s.points)
		d := func(i, j int) float64 { return length(t, f, s.points[i], s.points[j]) }
		if err != nil {
			var w *geom.NoWay
			if !errors.As(err, &w) {
				t.Fatal(err)
			}
			return
		}
		if len(tree.Paths) != n-1 {
			t.Fatalf("%d paths for %d terminals", len(tree.Paths), n)
		}
		for k, e := range tree.Ends {
			chain(t, tree.Paths[k], s.points[e[0]], s.points[e[1]])
			if math.Abs(tree.Paths[k].Length-d(e[0], e[1])) > 1e-9 {
				t.Fatalf("path %v is %g long, the shortest is %g", e, tree.Paths[k].Length, d(e[0], e[1]))
			}
			// Without path k the terminals fall into two parts; no pair across is nearer.
			part := make([]int, n)
			for i := range part {
				part[i] = i
			}
			for range n {
				for m, g := range tree.Ends {
					if m != k {
						lo := min(part[g[0]], part[g[1]])
						part[g[0]], part[g[1]] = lo, lo
					}
				}
			}
			for i := range n {
				for j := range i {
					if part[i] != part[j] && d(i, j) < tree.Paths[k].Length-1e-9 {
						t.Fatalf("path %v is longer than one from %d to %d", e, i, j)
					}
				}
			}
		}
	})
}

// TestNearestPath: the least of all pairs.
func TestNearestPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := genScene(5).Draw(t, "scene")
		f := s.field(t, s.clearance)
		starts, ends := s.points[:2], s.points[2:]
		want := math.Inf(1)
		for _, a := range starts {
			for _, b := range ends {
				want = math.Min(want, length(t, f, a, b))
			}
		}
		p, err := f.Nearest(starts, ends, geom.PathOptions{})
		if err != nil {
			if !math.IsInf(want, 1) {
				t.Fatal(err)
			}
			return
		}
		if math.Abs(p.Length-want) > 1e-9 {
			t.Fatalf("%.12g, the nearest pair is %.12g apart", p.Length, want)
		}
	})
}
