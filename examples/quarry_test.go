package examples

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/render"
	"dryfit/shapes/drawing"
)

// Splines become arcs within 0.005 mm, and ends that miss each other by up to 0.001 mm are joined.
const drawnWithin = 0.006

// areaOfCubic is what a cubic sweeps as seen from the origin: half of ∫ P × P' dt, a polynomial of degree 5, for which
// Gauss's rule of three points is exact.
func areaOfCubic(c [4]r2.Point) float64 {
	sum := 0.0
	for _, g := range [3][2]float64{{0.5 - math.Sqrt(0.15), 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + math.Sqrt(0.15), 5.0 / 18}} {
		t := g[0]
		s := 1 - t
		d := c[1].Sub(c[0]).Mul(3 * s * s).Add(c[2].Sub(c[1]).Mul(6 * s * t)).Add(c[3].Sub(c[2]).Mul(3 * t * t))
		sum += g[1] * cubic(c, t).Cross(d) / 2
	}
	return sum
}

// floorArea is the area inside the edge as it is meant.
func floorArea() float64 {
	area := 2 * areaOfCubic(noseCorner) // the other corner is its mirror image, run the other way
	for _, s := range floorEdge() {
		area += s.AreaFrom(r2.Point{})
	}
	return area
}

// floorPoints are points of the edge as it is meant, some hundredths of a millimetre to a millimetre apart.
func floorPoints() []r2.Point {
	var out []r2.Point
	for _, s := range floorEdge() {
		n := 2 + int(s.Length())
		for k := range n {
			out = append(out, s.At(float64(k)/float64(n)))
		}
	}
	for k := range 101 {
		p := cubic(noseCorner, float64(k)/100)
		out = append(out, p, r2.Point{X: p.X, Y: -p.Y})
	}
	return out
}

// missOfFloor returns how far an outline and the edge as meant lie apart at worst.
func missOfFloor(l geom.Loop) float64 {
	points := floorPoints()
	worst := 0.0
	for _, p := range points {
		_, d := l.Nearest(p)
		worst = max(worst, d)
	}
	// The other way round the corners of the nose are followed by chords, 0.003 mm from the cubic at most.
	corner := make([]geom.Seg, 0, 200)
	for k := range 100 {
		a, b := cubic(noseCorner, float64(k)/100), cubic(noseCorner, float64(k+1)/100)
		corner = append(corner, geom.Seg{A: a, B: b})
	}
	edge := append(append(floorEdge(), corner...), mirrored(corner, 1, -1)...)
	for _, s := range l.Segs() {
		for k := range 8 {
			p := s.At(float64(k) / 8)
			least := math.Inf(1)
			for _, e := range edge {
				_, _, d := e.Nearest(p)
				least = min(least, d)
			}
			worst = max(worst, least)
		}
	}
	return worst
}

// What the nose corner holds, seen from (53, 13), by the closed form for cubics: 3/20·(2·P0×P1 + P0×P2 + P1×P2 + P1×P3 +
// 2·P2×P3) + 1/20·P0×P3. With (6, 0), (6, 4.5), (4.5, 6), (0, 6) that is 3/20·(54 + 36 + 15.75 + 36 + 54) + 36/20 = 31.1625:
// more than a round corner's 9π = 28.27, less than the square's 36.
func TestNoseCornerByHand(t *testing.T) {
	local := noseCorner
	for i := range local {
		local[i] = local[i].Sub(r2.Point{X: 53, Y: 13})
	}
	if a := areaOfCubic(local); math.Abs(a-31.1625) > 1e-9 {
		t.Errorf("the nose corner holds %.4f mm², want 31.1625", a)
	}
}

// TestQuarryFloorIsTrue holds the plate of the assembly, its drawing and its cut file against the outline as it is meant.
func TestQuarryFloorIsTrue(t *testing.T) {
	asm := load(t, path("quarry"), text(t, "quarry"))
	var floor *layout.Plate
	for _, p := range asm.Plates {
		if p.Name == "floor" {
			floor = p
		}
	}
	if floor == nil || len(floor.Outline) != 1 {
		t.Fatal("no floor, or not in one piece")
	}
	outer := floor.Outline[0].Outer
	if e := missOfFloor(outer); e > drawnWithin {
		t.Errorf("the plate is off by %.4f mm", e)
	}
	// Half of the tolerance all along the splines, 2 x 9 mm, and the joined ends hardly count.
	if e := math.Abs(outer.Area() - floorArea()); e > 0.05 {
		t.Errorf("its outline holds %.3f mm², want %.3f", outer.Area(), floorArea())
	}
	// The motors' pads reach 88/√2 + 9.5 to all sides.
	reach := floorReach/math.Sqrt2 + floorPad
	if b := outer.Bound(); math.Abs(b.Lo.X+reach)+math.Abs(b.Lo.Y+reach)+math.Abs(b.Hi.X-reach)+math.Abs(b.Hi.Y-reach) > 1e-3 {
		t.Errorf("it reaches from %v to %v, want ±%.3f", b.Lo, b.Hi, reach)
	}
	for _, h := range floorHoles() {
		n := 0
		for i := range floor.Holes {
			g := &floor.Holes[i]
			if g.At.Sub(h.at).Norm() > 1e-4 {
				continue
			}
			n++
			if math.Abs(g.Diameter.Value-h.d) > 1e-4 || (g.Sink != nil) != (h.sunk > 0) || g.Sink != nil && math.Abs(g.Sink.Diameter.Value-h.sunk) > 1e-4 {
				t.Errorf("%s is %.4f in diameter, sunk %v; want %v, sunk %v", g.Name, g.Diameter.Value, g.Sink, h.d, h.sunk)
			}
			if g.For == "" {
				t.Errorf("%s at %v is for nothing", g.Name, g.At)
			}
		}
		if n != 1 {
			t.Errorf("%d holes at %v, want 1", n, h.at)
		}
	}
	if len(floor.Holes) != len(floorHoles()) || len(floor.Outline[0].Holes) != len(floorHoles())+2 {
		t.Errorf("%d holes and %d openings, want %d and two slots more", len(floor.Holes), len(floor.Outline[0].Holes), len(floorHoles()))
	}
	drawnTrue(t, asm)
	cutTrue(t, asm)
}

// drawnTrue measures the outline on the floor's sheet.
func drawnTrue(t *testing.T, asm *layout.Assembly) {
	t.Helper()
	sheets, err := render.PlateSheets(asm, render.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		if s.Name != "plate-floor" {
			continue
		}
		if s.Scale != "1:1" {
			t.Fatalf("the floor is drawn at %s; these figures are for true size", s.Scale)
		}
		for _, it := range s.List.Items {
			p, ok := it.(render.Path)
			if !ok || p.ID != "plate.outline" {
				continue
			}
			l, err := geom.NewLoop(p.V)
			if err != nil {
				t.Fatal(err)
			}
			if e := math.Abs(math.Abs(l.Area()) - floorArea()); e > 0.05 {
				t.Errorf("the sheet shows %.3f mm², want %.3f", math.Abs(l.Area()), floorArea())
			}
			// On paper x is to the right and y down, off by where the origin lies: the middle of the box, as the plate's.
			c := l.Bound().Center()
			if e := missOfFloor(l.Transform(geom.Pose2{Shift: c.Mul(-1)})); e > drawnWithin {
				t.Errorf("the sheet is off by %.4f mm", e)
			}
			return
		}
	}
	t.Error("no sheet shows the floor's outline")
}

// cutTrue reads the floor's cut files back.
func cutTrue(t *testing.T, asm *layout.Assembly) {
	t.Helper()
	for _, p := range render.Profiles(asm) {
		if p.Name != "floor" {
			continue
		}
		finished := p.Finished(asm)
		for name, print := range map[string]func() ([]byte, error){"floor.dxf": finished.DXF, "floor.svg": finished.SVG} {
			data, err := print()
			if err != nil {
				t.Fatal(err)
			}
			d, _, err := drawing.Read(name, data, drawing.Options{})
			if err != nil || len(d.Parts) != 1 {
				t.Fatalf("%s: %v", name, err)
			}
			if e := missOfFloor(d.Parts[0].Outline); e > drawnWithin {
				t.Errorf("%s is off by %.4f mm", name, e)
			}
			if n := len(d.Parts[0].Holes); n != len(floorHoles())+2 {
				t.Errorf("%s holds %d openings, want %d", name, n, len(floorHoles())+2)
			}
		}
		return
	}
	t.Error("the floor has no cut file")
}
