package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// Generators shared by the tests of the package. Half of what they draw is snapped to a
// coarse grid, so that touching, collinear and doubled features occur all the time.

func pt(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }

// mustLoop makes a loop from x, y, bulge triples and fails the test if it cannot.
func mustLoop(t testing.TB, xyb ...float64) geom.Loop {
	t.Helper()
	if len(xyb)%3 != 0 {
		t.Fatalf("mustLoop needs x, y, bulge triples, got %d numbers", len(xyb))
	}
	v := make([]geom.Vertex, len(xyb)/3)
	for i := range v {
		v[i] = geom.Vertex{P: pt(xyb[3*i], xyb[3*i+1]), Bulge: xyb[3*i+2]}
	}
	l, err := geom.NewLoop(v)
	if err != nil {
		t.Fatalf("NewLoop(%v): %v", v, err)
	}
	return l
}

// mustRegion makes a region and fails the test if it is not valid.
func mustRegion(t testing.TB, outer geom.Loop, holes ...geom.Loop) geom.Region {
	t.Helper()
	r, err := geom.NewRegion(outer, holes...)
	if err != nil {
		t.Fatalf("NewRegion: %v", err)
	}
	return r
}

// genNumber draws a number in lo..hi, every second time on a grid of a sixteenth of the
// range.
func genNumber(lo, hi float64) *rapid.Generator[float64] {
	return rapid.Custom(func(t *rapid.T) float64 {
		if rapid.Bool().Draw(t, "grid") {
			return lo + (hi-lo)*float64(rapid.IntRange(0, 16).Draw(t, "step"))/16
		}
		return rapid.Float64Range(lo, hi).Draw(t, "number")
	})
}

// genPoint draws a point with coordinates in ±half.
func genPoint(half float64) *rapid.Generator[r2.Point] {
	return rapid.Custom(func(t *rapid.T) r2.Point {
		return pt(genNumber(-half, half).Draw(t, "x"), genNumber(-half, half).Draw(t, "y"))
	})
}

// genPose draws a rigid motion, half of them by quarter turns and grid steps.
func genPose() *rapid.Generator[geom.Pose2] {
	return rapid.Custom(func(t *rapid.T) geom.Pose2 {
		p := geom.Pose2{Mirror: rapid.Bool().Draw(t, "mirror"), Shift: genPoint(64).Draw(t, "shift")}
		if rapid.Bool().Draw(t, "quarter") {
			p.Turn = s1.Angle(float64(rapid.IntRange(-4, 4).Draw(t, "quarters")) * math.Pi / 2)
		} else {
			p.Turn = s1.Angle(rapid.Float64Range(-7, 7).Draw(t, "turn"))
		}
		return p
	})
}

// genConvex draws a convex loop about the origin with a reach of 1 to about 12 mm: circle,
// rectangle, rounded rectangle, capsule, tapered bar, regular polygon or a sharp lens of
// two arcs, turned.
func genConvex() *rapid.Generator[geom.Loop] {
	return rapid.Custom(func(t *rapid.T) geom.Loop {
		size := func(name string) float64 { return genNumber(1, 9).Draw(t, name) }
		var l geom.Loop
		switch rapid.IntRange(0, 6).Draw(t, "shape") {
		case 0:
			l = geom.Circle(pt(0, 0), size("r"))
		case 1:
			l = geom.Rectangle(pt(0, 0), size("x"), size("y"))
		case 2:
			x, y := size("x"), size("y")
			l = geom.RoundedRectangle(pt(0, 0), x, y, genNumber(0, 0.5).Draw(t, "share")*math.Min(x, y))
		case 3:
			a := genPoint(4).Draw(t, "end")
			l = geom.Capsule(a, a.Mul(-1), size("width"))
		case 4:
			l = geom.Bar(pt(-size("x"), 0), pt(size("x"), 0), size("a"), size("b"))
		case 5:
			l = geom.RegularPolygon(pt(0, 0), size("flats"), rapid.IntRange(3, 8).Draw(t, "n"), 0)
		default:
			x := size("x")
			l = mustLoop2(geom.Vertex{P: pt(-x, 0), Bulge: genNumber(0.1, 1).Draw(t, "low")},
				geom.Vertex{P: pt(x, 0), Bulge: genNumber(0, 1).Draw(t, "high")})
		}
		return l.Transform(geom.Pose2{Turn: genTurn(t)})
	})
}

func mustLoop2(v ...geom.Vertex) geom.Loop {
	l, err := geom.NewLoop(v)
	if err != nil {
		panic(err) // a generator that draws bad loops is a broken test
	}
	return l
}

func genTurn(t *rapid.T) s1.Angle {
	if rapid.Bool().Draw(t, "quarter") {
		return s1.Angle(float64(rapid.IntRange(0, 3).Draw(t, "quarters")) * math.Pi / 2)
	}
	return s1.Angle(rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn"))
}

// genStar draws a loop that is star-shaped about the origin, often concave: 3 to 9 corners
// at rising angles at 2 to 10 mm, joined by lines or by arcs that stay within the sector
// between their ends. The loop never crosses itself.
func genStar() *rapid.Generator[geom.Loop] {
	return rapid.Custom(func(t *rapid.T) geom.Loop {
		n := rapid.IntRange(3, 9).Draw(t, "corners")
		v := make([]geom.Vertex, n)
		for i := range v {
			sn, cs := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := genNumber(2, 10).Draw(t, "reach")
			v[i].P = pt(r*cs, r*sn)
		}
		for i := range v {
			if !rapid.Bool().Draw(t, "arc") {
				continue
			}
			// An arc leaves its chord by twice the angle of its bulge's tangent. It stays
			// in the sector while that angle is less than those that the chord makes with
			// the two rays at its ends.
			a, b := v[i].P, v[(i+1)%n].P
			d := b.Sub(a)
			free := math.Min(angleBetween(d, a.Mul(-1)), angleBetween(d.Mul(-1), b.Mul(-1)))
			free = math.Min(free, math.Min(math.Pi-angleBetween(d, a.Mul(-1)), math.Pi-angleBetween(d.Mul(-1), b.Mul(-1))))
			limit := math.Tan(0.9 * free / 2)
			v[i].Bulge = genNumber(-1, 1).Draw(t, "bulge") * math.Min(limit, 1)
		}
		return mustLoop2(v...)
	})
}

func angleBetween(u, v r2.Point) float64 {
	return math.Abs(math.Atan2(u.X*v.Y-u.Y*v.X, u.X*v.X+u.Y*v.Y))
}

// genLoop draws a valid loop near the origin, convex or not.
func genLoop() *rapid.Generator[geom.Loop] {
	return rapid.OneOf(genConvex(), genStar())
}

// genPlate draws a plate of 40 x 30 mm with rounded corners, up to four round holes and
// possibly a slot.
func genPlate() *rapid.Generator[geom.Region] {
	return rapid.Custom(func(t *rapid.T) geom.Region {
		outer := geom.RoundedRectangle(pt(0, 0), 40, 30, genNumber(0, 8).Draw(t, "corner"))
		var holes []geom.Loop
		for i := range rapid.IntRange(0, 4).Draw(t, "holes") {
			sx, sy := float64(i%2*2-1), float64(i/2*2-1)
			r := genNumber(0.5, 3).Draw(t, "hole")
			holes = append(holes, geom.Circle(pt(sx*10, sy*8), r))
		}
		if rapid.Bool().Draw(t, "slot") {
			holes = append(holes, geom.Capsule(pt(-4, 0), pt(4, 0), genNumber(1, 4).Draw(t, "slot width")))
		}
		return geom.RegionOf(outer, holes...)
	})
}

// genRegion draws a valid region near the origin: a plain loop, a loop with a loop of half
// its size or less cut out of it, or a plate.
func genRegion() *rapid.Generator[geom.Region] {
	return rapid.Custom(func(t *rapid.T) geom.Region {
		switch rapid.IntRange(0, 2).Draw(t, "kind") {
		case 0:
			return geom.RegionOf(genLoop().Draw(t, "loop"))
		case 1:
			// A star-shaped loop shrunk towards its centre lies inside itself.
			l := genStar().Draw(t, "outer")
			return geom.RegionOf(l, scaled(l, genNumber(0.1, 0.7).Draw(t, "scale")))
		}
		return genPlate().Draw(t, "plate")
	})
}

// genPlaced draws a region and moves it.
func genPlaced() *rapid.Generator[geom.Region] {
	return rapid.Custom(func(t *rapid.T) geom.Region {
		pose := geom.Pose2{Turn: genTurn(t), Mirror: rapid.Bool().Draw(t, "mirror"), Shift: genPoint(16).Draw(t, "shift")}
		return genRegion().Draw(t, "region").Transform(pose)
	})
}

// scaled returns the loop scaled about the origin.
func scaled(l geom.Loop, k float64) geom.Loop {
	v := l.Vertices()
	for i := range v {
		v[i].P = v[i].P.Mul(k)
	}
	return mustLoop2(v...)
}
