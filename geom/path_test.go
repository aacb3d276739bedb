package geom_test

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// field makes a field of plain loops and fails the test if it cannot.
func field(t testing.TB, clearance float64, loops ...geom.Loop) *geom.Field {
	t.Helper()
	var rs []geom.Region
	for _, l := range loops {
		rs = append(rs, geom.RegionOf(l))
	}
	f, err := geom.NewField(rs, clearance)
	if err != nil {
		t.Fatalf("NewField: %v", err)
	}
	return f
}

// mustPath returns the path, checked to be a chain from a to b as long as it says.
func mustPath(t testing.TB, f *geom.Field, a, b r2.Point, opt geom.PathOptions) geom.Path {
	t.Helper()
	p, err := f.Path(a, b, opt)
	if err != nil {
		t.Fatalf("Path(%v, %v): %v", a, b, err)
	}
	checkChain(t, p, a, b)
	return p
}

// checkChain checks that the segments lead from a to b without a jump and that their
// lengths add up.
func checkChain(t testing.TB, p geom.Path, a, b r2.Point) {
	t.Helper()
	at, sum := a, 0.0
	for i, s := range p.Segs {
		if !samePlace(s.A, at, 1e-9) {
			t.Fatalf("segment %d begins at %v, the one before ended at %v", i, s.A, at)
		}
		if math.IsNaN(s.B.X + s.B.Y + s.Bulge) {
			t.Fatalf("segment %d: %v", i, s)
		}
		at = s.B
		sum += s.Length()
	}
	if !samePlace(at, b, 2e-9) {
		t.Fatalf("the path ends at %v, want %v", at, b)
	}
	if !(math.Abs(sum-p.Length) <= 1e-6) {
		t.Fatalf("segments are %.12g long, the path says %.12g", sum, p.Length)
	}
	if !(p.Length >= math.Hypot(b.X-a.X, b.Y-a.Y)) {
		t.Fatalf("length %.17g is below the straight line %.17g", p.Length, math.Hypot(b.X-a.X, b.Y-a.Y))
	}
}

func samePlace(a, b r2.Point, tol float64) bool { return math.Hypot(a.X-b.X, a.Y-b.Y) <= tol }

func wantLength(t *testing.T, p geom.Path, want float64) {
	t.Helper()
	if !(math.Abs(p.Length-want) <= 1e-6) {
		t.Errorf("length %.9f, want %.9f; %v", p.Length, want, p.Segs)
	}
}

func TestPathStraight(t *testing.T) {
	f := field(t, 2)
	p := mustPath(t, f, pt(0, 0), pt(3, 4), geom.PathOptions{})
	wantLength(t, p, 5)
	if len(p.Segs) != 1 {
		t.Errorf("segments %v, want one line", p.Segs)
	}
	// Past an obstacle whose grown edge the line just touches: disc of radius 3, clearance
	// 1, centre 4 above the line.
	f = field(t, 1, geom.Circle(pt(5, 4), 3))
	wantLength(t, mustPath(t, f, pt(0, 0), pt(10, 0), geom.PathOptions{}), 10)
	// Start and end the same.
	if p := mustPath(t, f, pt(1, 1), pt(1, 1), geom.PathOptions{}); p.Length != 0 || len(p.Segs) != 0 {
		t.Errorf("path from a point to itself: %v", p)
	}
}

// TestPathRoundDisc: from (-d, 0) to (d, 0) round a disc of radius R = r + c about the
// origin: two tangents of √(d²-R²), between them the arc that the half turn leaves after
// the angle acos(R/d) at either end.
func TestPathRoundDisc(t *testing.T) {
	for _, c := range []float64{0, 0.5, 2} {
		const r, d = 3, 10
		R := r + c
		want := 2*math.Sqrt(d*d-R*R) + R*(math.Pi-2*math.Acos(R/d))
		p := mustPath(t, field(t, c, geom.Circle(pt(0, 0), r)), pt(-d, 0), pt(d, 0), geom.PathOptions{})
		wantLength(t, p, want)
		if len(p.Segs) != 3 || math.Abs(p.Segs[1].Radius()-R) > 1e-9 {
			t.Errorf("clearance %g: segments %v, want line, arc of radius %g, line", c, p.Segs, R)
		}
	}
}

// TestPathRoundTwoDiscs: discs of grown radius R = 2 about (-5, 0) and (5, 0).
func TestPathRoundTwoDiscs(t *testing.T) {
	f := field(t, 0.5, geom.Circle(pt(-5, 0), 1.5), geom.Circle(pt(5, 0), 1.5))
	// From (-5, -2) to (5, 2): points of contact. The shortest path runs as an S: off the
	// first disc's bottom, along the crossed tangent between the discs, onto the top of the
	// second... the crossed tangent passes through the origin; its angle to the line of
	// centres is β with sin β = 2R/10 = 0.4. It leaves the first disc at the normal angle
	// -(90° - β) seen from its centre (below, to the right), so the arc from -90° is β
	// long; the same at the other end. Crossed tangent: √(100 - 16).
	β := math.Asin(0.4)
	p := mustPath(t, f, pt(-5, -2), pt(5, 2), geom.PathOptions{})
	wantLength(t, p, math.Sqrt(84)+2*2*β)
	if len(p.Segs) != 3 || !(p.Segs[0].Bulge > 0) || !(p.Segs[2].Bulge < 0) {
		t.Errorf("want a left arc, the crossed tangent and a right arc, got %v", p.Segs)
	}
	// From (-15, 0) to (15, 0) over both: two tangents of √(100-4), arcs of asin(R/10)
	// each, and the outer tangent, 10 long.
	p = mustPath(t, f, pt(-15, 0), pt(15, 0), geom.PathOptions{})
	wantLength(t, p, 2*math.Sqrt(96)+2*2*math.Asin(0.2)+10)
}

// TestPathRoundRectangle: a rectangle of 20 x 10 about the origin, from (-20, 0) to (20, 0)
// at the clearance 2. The corner arc is centred at (-10, 5); from (-20, 0), 11.18 away, the
// tangent rises by atan(5/10) + asin(2/√125), which is what the arc then turns back. Above
// lies the top edge, 20 long.
func TestPathRoundRectangle(t *testing.T) {
	rect := geom.Rectangle(pt(0, 0), 20, 10)
	φ := math.Atan(0.5) + math.Asin(2/math.Sqrt(125))
	p := mustPath(t, field(t, 2, rect), pt(-20, 0), pt(20, 0), geom.PathOptions{})
	wantLength(t, p, 2*math.Sqrt(125-4)+2*2*φ+20)
	// At clearance 0 the corners are sharp.
	p = mustPath(t, field(t, 0, rect), pt(-20, 0), pt(20, 0), geom.PathOptions{})
	wantLength(t, p, 2*math.Sqrt(125)+20)
	if len(p.Segs) != 3 {
		t.Errorf("segments %v, want three lines", p.Segs)
	}
	// From one corner of it to the opposite one, and along an edge.
	wantLength(t, mustPath(t, field(t, 0, rect), pt(-10, -5), pt(10, 5), geom.PathOptions{}), 30)
	wantLength(t, mustPath(t, field(t, 0, rect), pt(-10, 5), pt(10, 5), geom.PathOptions{}), 20)
	wantLength(t, mustPath(t, field(t, 0, rect), pt(-4, 5), pt(25, 5), geom.PathOptions{}), 29)
}

// slot is two blocks with a slot of the width w along y = 0, from x = -10 to 10, in a wall
// that reaches far up and down.
func slot(w float64) []geom.Loop {
	return []geom.Loop{
		geom.Rectangle(pt(0, 100+w/2), 20, 200),
		geom.Rectangle(pt(0, -100-w/2), 20, 200),
	}
}

func TestPathThroughSlot(t *testing.T) {
	for _, w := range []float64{6, 6 + 1e-6, 7} {
		p := mustPath(t, field(t, 3, slot(w)...), pt(-20, 0), pt(20, 0), geom.PathOptions{})
		wantLength(t, p, 40)
	}
	// A micrometre too narrow: over the top, 200 mm up. The gap is not reported, since
	// there is a way.
	p := mustPath(t, field(t, 3, slot(5.999)...), pt(-20, 0), pt(20, 0), geom.PathOptions{})
	if p.Length < 400 {
		t.Errorf("length %g through a slot that is too narrow", p.Length)
	}
	// Inside a boundary there is no way round the wall.
	f, err := geom.NewField([]geom.Region{geom.RegionOf(slot(5.999)[0]), geom.RegionOf(slot(5.999)[1])}, 3,
		geom.Keep{Region: geom.RegionOf(geom.Rectangle(pt(0, 0), 100, 300)), Clearance: 1, Inside: true})
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.Path(pt(-20, 0), pt(20, 0), geom.PathOptions{})
	n := wantNoWay(t, err, 5.999, 6)
	if n.Of != [2]int{0, 1} || math.Abs(math.Abs(n.At[0].Y)-2.9995) > 1e-6 || math.Abs(n.At[0].X) > 10+1e-6 {
		t.Errorf("gap %+v, want obstacles 0 and 1 at y = ±2.9995", n)
	}
}

func wantNoWay(t *testing.T, err error, gap, need float64) *geom.NoWay {
	t.Helper()
	var n *geom.NoWay
	if !errors.As(err, &n) {
		t.Fatalf("error %v, want a *NoWay", err)
	}
	if math.Abs(n.Gap-gap) > 1e-6 || math.Abs(n.Need-need) > 1e-6 {
		t.Fatalf("gap %.9g of %.9g, want %.9g of %.9g: %v", n.Gap, n.Need, gap, need, n)
	}
	if d := math.Hypot(n.At[0].X-n.At[1].X, n.At[0].Y-n.At[1].Y); math.Abs(d-n.Gap) > 1e-9 {
		t.Fatalf("the sides %v lie %g apart, the gap is %g", n.At, d, n.Gap)
	}
	return n
}

// TestNoWayOutOfCage: eight posts of radius 1 on a circle of radius 10 round the start, one
// of them moved out to 11. Neighbours are 2·10·sin(22.5°) = 7.65 apart in their middles,
// those beside the moved one √(100 + 121 - 220·cos 45°) = 8.0893; less two radii. The widest
// gaps, 6.0893, are the ones that would open first.
func TestNoWayOutOfCage(t *testing.T) {
	var posts []geom.Loop
	for k := range 8 {
		s, c := math.Sincos(float64(k) * math.Pi / 4)
		r := 10.0
		if k == 3 {
			r = 11
		}
		posts = append(posts, geom.Circle(pt(r*c, r*s), 1))
	}
	want := math.Sqrt(221-220*math.Cos(math.Pi/4)) - 2
	_, err := field(t, 3.2, posts...).Path(pt(0, 0), pt(30, 0), geom.PathOptions{})
	n := wantNoWay(t, err, want, 6.4)
	if n.Of != [2]int{2, 3} && n.Of != [2]int{3, 4} {
		t.Errorf("gap between %v, want 2-3 or 3-4", n.Of)
	}
	// Just below half the gap there is a way, just above there is none.
	if _, err := field(t, want/2-1e-6, posts...).Path(pt(0, 0), pt(30, 0), geom.PathOptions{}); err != nil {
		t.Errorf("at half the gap: %v", err)
	}
	_, err = field(t, want/2+1e-6, posts...).Path(pt(0, 0), pt(30, 0), geom.PathOptions{})
	wantNoWay(t, err, want, want+2e-6)
}

// TestPathNestedPocket: a ring has no gap; the pocket of a C has one.
func TestPathNestedPocket(t *testing.T) {
	ring := geom.RegionOf(geom.Circle(pt(0, 0), 10), geom.Circle(pt(0, 0), 8))
	inner := geom.RegionOf(geom.Circle(pt(0, 0), 3), geom.Circle(pt(0, 0), 2))
	f, err := geom.NewField([]geom.Region{ring, inner}, 1)
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.Path(pt(5, 0), pt(20, 0), geom.PathOptions{})
	if n := wantNoWay(t, err, 0, 2); !n.Solid || n.Of[0] != 0 {
		t.Errorf("%+v, want obstacle 0 all round", n)
	}
	_, err = f.Path(pt(0, 0), pt(5, 0), geom.PathOptions{})
	if n := wantNoWay(t, err, 0, 2); !n.Solid || n.Of[0] != 1 {
		t.Errorf("%+v, want obstacle 1 all round", n)
	}
	// Half way round inside the ring, about the inner one grown to 4: from (-6, 0) to (6, 0).
	p := mustPath(t, f, pt(-6, 0), pt(6, 0), geom.PathOptions{})
	wantLength(t, p, 2*math.Sqrt(36-16)+4*(math.Pi-2*math.Acos(4.0/6)))

	// A box of 20 x 20 with walls of 2 and a door of 3 in its right wall, at y = -1.5..1.5.
	c := mustLoop(t,
		-10, -10, 0, 10, -10, 0, 10, -1.5, 0, 8, -1.5, 0, 8, -8, 0, -8, -8, 0, -8, 8, 0, 8, 8, 0, 8, 1.5, 0, 10, 1.5, 0, 10, 10, 0, -10, 10, 0)
	wantLength(t, mustPath(t, field(t, 1.5, c), pt(0, 0), pt(20, 0), geom.PathOptions{}), 20)
	_, err = field(t, 1.6, c).Path(pt(0, 0), pt(20, 0), geom.PathOptions{})
	if n := wantNoWay(t, err, 3, 3.2); n.Of != [2]int{0, 0} || n.Solid || n.At[0].X < 8-1e-6 {
		t.Errorf("%+v, want the door of obstacle 0", n)
	}
}

func TestPathTouchingObstacles(t *testing.T) {
	// Two squares that touch in the corner at the origin leave a way through it at
	// clearance 0; two that share an edge do not.
	f := field(t, 0, geom.Rectangle(pt(-5, 5), 10, 10), geom.Rectangle(pt(5, -5), 10, 10))
	wantLength(t, mustPath(t, f, pt(-3, -4), pt(3, 4), geom.PathOptions{}), 10)
	f = field(t, 0, geom.Rectangle(pt(-5, 0), 10, 10), geom.Rectangle(pt(5, 0), 10, 10))
	wantLength(t, mustPath(t, f, pt(0, 5), pt(0, -5), geom.PathOptions{}), 30)
	// Circles that touch: the grown ones overlap, and the way leads round. From (0, -10) to
	// (0, 10) round the circle about (4, 0), grown to 5: √116 to its centre, tangents of
	// √(116 - 25) = √91, the arc is the angle seen from the centre, 2·atan2(10, 4), less
	// twice acos(5/√116)... on the far side: 2π - 2·atan2(10, 4) - 2·acos(5/√116) with the
	// angle of the ends to the centre's -x direction.
	f = field(t, 1, geom.Circle(pt(-4, 0), 4), geom.Circle(pt(4, 0), 4))
	away := 2*math.Pi - 2*math.Atan2(10, 4) - 2*math.Acos(5/math.Sqrt(116))
	wantLength(t, mustPath(t, f, pt(0, -10), pt(0, 10), geom.PathOptions{}), 2*math.Sqrt(91)+5*away)
}

func TestPathWaypoints(t *testing.T) {
	f := field(t, 0, geom.Rectangle(pt(0, 0), 4, 4))
	// Up to (0, 10) and down to (0, -10) from the left: 2·√(…): (-10,0)→(0,10) runs free,
	// (0,10)→(0,-10) goes round: √(2²+8²)·2 + 4.
	p := mustPath(t, f, pt(-10, 0), pt(0, -10), geom.PathOptions{Via: []r2.Point{pt(0, 10)}})
	wantLength(t, p, math.Sqrt(200)+2*math.Sqrt(68)+4)
	// The same point twice, and the ends as waypoints.
	p = mustPath(t, f, pt(-10, 0), pt(0, -10), geom.PathOptions{Via: []r2.Point{pt(-10, 0), pt(0, 10), pt(0, 10), pt(0, -10)}})
	wantLength(t, p, math.Sqrt(200)+2*math.Sqrt(68)+4)
}

// TestPathFromInside: a pad on a board. The board is 20 x 10 about the origin, the clearance
// 1; the pad at (0, 3) is 2 below the edge and 3 below the grown edge.
func TestPathFromInside(t *testing.T) {
	f := field(t, 1, geom.Rectangle(pt(0, 0), 20, 10), geom.Circle(pt(0, 30), 5))
	p := mustPath(t, f, pt(0, 3), pt(0, 20), geom.PathOptions{})
	wantLength(t, p, 17)
	if len(p.Inside) != 1 || p.Inside[0] != 0 || !samePlace(p.Segs[0].B, pt(0, 6), 1e-6) {
		t.Errorf("inside %v of %v, want the first, up to (0, 6)", p.Inside, p.Segs)
	}
	// Both ends inside.
	p = mustPath(t, f, pt(0, 3), pt(0, 25.5), geom.PathOptions{})
	wantLength(t, p, 22.5)
	if len(p.Inside) != 2 || p.Inside[1] != len(p.Segs)-1 {
		t.Errorf("inside %v of %d segments, want the first and the last", p.Inside, len(p.Segs))
	}
	_, err := f.Path(pt(0, 3), pt(0, 20), geom.PathOptions{Strict: true})
	var c *geom.Covered
	if !errors.As(err, &c) || c.At != pt(0, 3) {
		t.Errorf("error %v, want a *Covered at the pad", err)
	}
	// A wall above the pad keeps the near way out shut: it leaves to the other side. The pad
	// at (0, 0.1), board ±0.5, wall from y = 0.6 to 0.8: up it would cross the wall.
	f = field(t, 0.5, geom.Rectangle(pt(0, 0), 40, 1), geom.Rectangle(pt(0, 0.7), 40, 0.2))
	p = mustPath(t, f, pt(0, 0.1), pt(0, -10), geom.PathOptions{})
	wantLength(t, p, 10.1)
	// Inside a boundary, a start beyond it comes in by the nearest way.
	f, err = geom.NewField(nil, 0, geom.Keep{Region: geom.RegionOf(geom.Rectangle(pt(0, 0), 10, 10)), Clearance: 1, Inside: true})
	if err != nil {
		t.Fatal(err)
	}
	p = mustPath(t, f, pt(-500, 0), pt(3, 0), geom.PathOptions{})
	wantLength(t, p, 503)
	if len(p.Inside) != 1 || !samePlace(p.Segs[0].B, pt(-4, 0), 1e-6) {
		t.Errorf("%v, want a first segment to (-4, 0)", p)
	}
}

// TestPathOwnClearances: a zone to keep 5 from beside obstacles kept 1 from; a boundary.
func TestPathOwnClearances(t *testing.T) {
	zone := geom.Keep{Region: geom.RegionOf(geom.Circle(pt(0, 0), 1)), Clearance: 5}
	f, err := geom.NewField([]geom.Region{geom.RegionOf(geom.Circle(pt(30, 0), 1))}, 1, zone)
	if err != nil {
		t.Fatal(err)
	}
	// As round one disc: R = 6 seen from 10, R = 2 seen from 10.
	round := func(R float64) float64 { return 2*math.Sqrt(100-R*R) + R*(math.Pi-2*math.Acos(R/10)) }
	wantLength(t, mustPath(t, f, pt(-10, 0), pt(10, 0), geom.PathOptions{}), round(6))
	wantLength(t, mustPath(t, f, pt(20, 0), pt(40, 0), geom.PathOptions{}), round(2))
	// A boundary that leaves room only below: 8 up, 20 down, at its own clearance 2.
	f, err = geom.NewField(nil, 0, zone, geom.Keep{
		Region: geom.RegionOf(geom.Rectangle(pt(0, -6.05), 40, 27.9)), Clearance: 2, Inside: true}) // y -20..7.9
	if err != nil {
		t.Fatal(err)
	}
	p := mustPath(t, f, pt(-10, 0.5), pt(10, 0.5), geom.PathOptions{})
	for _, s := range p.Segs {
		if s.At(0.5).Y > 0.5 {
			t.Errorf("the path runs above, where the gap of 6.9 is less than 5 + 2: %v", p.Segs)
		}
	}
	// The narrowest gap of a boundary: above 6.9, below shut by another zone.
	f, err = geom.NewField([]geom.Region{geom.RegionOf(geom.Rectangle(pt(0, -12), 2, 21))}, 1, zone, geom.Keep{
		Region: geom.RegionOf(geom.Rectangle(pt(0, -6.05), 40, 27.9)), Clearance: 2, Inside: true})
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.Path(pt(-10, 0.5), pt(10, 0.5), geom.PathOptions{})
	if n := wantNoWay(t, err, 6.9, 7); n.Of != [2]int{1, 2} {
		t.Errorf("%+v, want zone and boundary", n)
	}
}

func TestPathBadInput(t *testing.T) {
	f := field(t, 1, geom.Circle(pt(0, 0), 1))
	for _, p := range []r2.Point{pt(math.NaN(), 0), pt(0, math.Inf(1)), pt(2e7, 0)} {
		for _, do := range []func() error{
			func() error { _, err := f.Path(p, pt(5, 5), geom.PathOptions{}); return err },
			func() error { _, err := f.Path(pt(5, 5), p, geom.PathOptions{}); return err },
			func() error { _, err := f.Length(pt(5, 5), p); return err },
			func() error {
				_, err := f.Path(pt(5, 5), pt(6, 5), geom.PathOptions{Via: []r2.Point{p}})
				return err
			},
			func() error { _, err := f.Nearest([]r2.Point{p}, []r2.Point{pt(5, 5)}, geom.PathOptions{}); return err },
			func() error { _, err := f.Tree([]r2.Point{p, pt(5, 5)}, geom.PathOptions{}); return err },
		} {
			named(t, do())
		}
	}
	for _, c := range []float64{-1, math.NaN(), math.Inf(1), 2e7} {
		_, err := geom.NewField([]geom.Region{geom.RegionOf(geom.Circle(pt(0, 0), 1))}, c)
		named(t, err)
		_, err = f.Path(pt(5, 5), pt(-5, 5), geom.PathOptions{Bend: c})
		named(t, err)
	}
	_, err := f.Nearest(nil, []r2.Point{pt(5, 5)}, geom.PathOptions{})
	named(t, err)
	// Empty regions are no obstacles.
	f, err = geom.NewField([]geom.Region{{}, {}}, 3)
	if err != nil {
		t.Fatal(err)
	}
	wantLength(t, mustPath(t, f, pt(0, 0), pt(0, 7), geom.PathOptions{}), 7)
	// A boundary that holds nothing leaves no place at all.
	f, err = geom.NewField(nil, 3, geom.Keep{Inside: true})
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.Path(pt(0, 0), pt(0, 7), geom.PathOptions{})
	var c *geom.Covered
	if !errors.As(err, &c) {
		t.Errorf("error %v, want a *Covered", err)
	}
}
