package geom_test

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// pathError checks that an error of a path query is one of those that are named, and
// complete.
func pathError(t *testing.T, err error) {
	t.Helper()
	var n *geom.NoWay
	var c *geom.Covered
	var b *geom.NoBend
	switch {
	case errors.As(err, &n):
		s := n.Gap + n.Need + n.At[0].X + n.At[0].Y + n.At[1].X + n.At[1].Y
		if math.IsNaN(s) || math.IsInf(s, 0) || n.Gap < 0 || n.Gap > n.Need+1e-5 {
			t.Fatalf("%+v", n)
		}
	case errors.As(err, &c):
		if c.Why == "" || math.IsNaN(c.At.X+c.At.Y) {
			t.Fatalf("%+v", c)
		}
	case errors.As(err, &b):
		if math.IsNaN(b.At.X+b.At.Y) || !(b.Bend > 0) {
			t.Fatalf("%+v", b)
		}
	default:
		named(t, err)
	}
}

// FuzzPath: on valid obstacles paths keep clear, have the same length both ways, and where
// there is none, the gap that is named is the one that opens first; on any others queries
// return.
func FuzzPath(f *testing.F) {
	f.Add([]byte{0})
	f.Add([]byte{4, 0, 236, 0, 20, 0, 0, 0, 1, 0, 0, 15, 0, 7})                                      // a disc between the ends
	f.Add([]byte{0, 0, 236, 0, 20, 0, 0, 2, 0, 248, 8, 15, 15, 0, 7, 0, 8, 248, 15, 15, 0, 7})       // squares that touch in a corner
	f.Add([]byte{6, 0, 0, 0, 80, 0, 1, 2, 1, 40, 0, 7, 0, 7, 1, 216, 0, 7, 0, 7, 1, 0, 40, 7, 0, 7}) // posts round a start
	f.Add([]byte{0, 0, 0, 0, 20, 0, 0, 0, 1, 0, 0, 40, 1, 1, 0, 0, 30, 7})                           // a ring
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 160 {
			t.Skip("long")
		}
		d := &drawer{data}
		clearance := math.Abs(d.coord()) / 4
		if d.byte()%4 == 3 {
			clearance += 1 / math.Pi
		}
		a, b := d.point(), d.point()
		opt := geom.PathOptions{Bend: float64(d.byte()%4) * 1.5}
		obstacles, valid := d.set()
		more, valid2 := d.set()
		var keeps []geom.Keep
		for i, r := range more {
			keeps = append(keeps, geom.Keep{Region: r, Clearance: clearance * float64(i%3) / 2, Inside: d.byte()%5 == 4})
		}
		field, err := geom.NewField(obstacles, clearance, keeps...)
		if err != nil {
			named(t, err)
			return
		}
		p, err := field.Path(a, b, opt)
		if err != nil {
			pathError(t, err)
		} else {
			checkChain(t, p, a, b)
		}
		if !valid || !valid2 {
			return
		}
		all := append([]geom.Keep(nil), keeps...)
		for _, r := range obstacles {
			all = append(all, geom.Keep{Region: r, Clearance: clearance})
		}
		plain, err := field.Path(a, b, geom.PathOptions{})
		if err != nil {
			pathError(t, err)
			checkNarrowest(t, obstacles, clearance, keeps, err)
			return
		}
		checkChain(t, plain, a, b)
		keepsAll(t, p, all)
		keepsAll(t, plain, all)
		if opt.Bend > 0 && len(p.Segs) > 0 {
			if p.Length < plain.Length-1e-6 {
				t.Fatalf("%.9g with a bend radius, %.9g without", p.Length, plain.Length)
			}
			if len(p.Inside) == 0 {
				checkBends(t, p, opt.Bend)
			}
		}
		back, err := field.Length(b, a)
		if err != nil || math.Abs(back-plain.Length) > 1e-6 {
			t.Fatalf("%.12g there, %.12g back, %v", plain.Length, back, err)
		}
		l, err := field.Length(a, b)
		if err != nil || math.Abs(l-plain.Length) > 1e-12*(1+l) {
			t.Fatalf("Length %.17g, Path.Length %.17g, %v", l, plain.Length, err)
		}
		tree, err := field.Tree([]r2.Point{a, b, a.Add(b)}, geom.PathOptions{})
		if err != nil {
			pathError(t, err)
		} else if tree.Length < plain.Length-1e-6 && tree.Length < math.Hypot(b.X-a.X, b.Y-a.Y)-1e-6 {
			t.Fatalf("a tree of %g joins points %g apart", tree.Length, plain.Length)
		}
	})
}

// keepsAll checks points all along a path.
func keepsAll(t *testing.T, p geom.Path, keeps []geom.Keep) {
	t.Helper()
	inside := map[int]bool{}
	for _, k := range p.Inside {
		inside[k] = true
	}
	for i, s := range p.Segs {
		if inside[i] {
			continue
		}
		const n = 24
		for k := 0.0; k <= n; k++ {
			q := s.At(k / n)
			for j, keep := range keeps {
				d := geom.DistancePoint(keep.Region, q).Dist
				if keep.Inside {
					d = -d
				}
				if !(d >= keep.Clearance-1e-6) {
					t.Fatalf("segment %d, %v, comes within %.9g of %d, clearance %g, at %v", i, s, d, j, keep.Clearance, q)
				}
			}
		}
	}
}

// checkNarrowest lowers all clearances by a little more, and a little less, than what the gap
// lacks.
func checkNarrowest(t *testing.T, obstacles []geom.Region, clearance float64, keeps []geom.Keep, err error) {
	t.Helper()
	var n *geom.NoWay
	if !errors.As(err, &n) || n.Solid {
		return
	}
	lower := func(by float64) (*geom.Field, bool) {
		by = math.Max(0, by)
		ks := append([]geom.Keep(nil), keeps...)
		for i := range ks {
			ks[i].Clearance -= by
			if ks[i].Clearance < 2e-6 {
				return nil, false // clearances are not lowered below 0
			}
		}
		if clearance-by < 2e-6 {
			return nil, false
		}
		f, err := geom.NewField(obstacles, clearance-by, ks...)
		if err != nil {
			return nil, false
		}
		return f, true
	}
	by := (n.Need - n.Gap) / 2
	if f, ok := lower(by + 1e-6); ok {
		if _, err := f.Path(n.From, n.To, geom.PathOptions{}); err != nil {
			t.Fatalf("%+v, but with all clearances %g lower there is no way either: %v", n, by, err)
		}
	}
	if f, ok := lower(by - 1e-6); ok {
		if _, err := f.Path(n.From, n.To, geom.PathOptions{Strict: true}); err == nil {
			t.Fatalf("%+v, but with all clearances less than %g lower there is a way", n, by)
		}
	}
}
