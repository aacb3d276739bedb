package examples

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// The floor plate of the quarry craft, as it is meant: in mm, x forward, y to the left, the origin in the middle of
// the boards' square. Half of its edge follows from a few figures; the other half is its mirror image.
const (
	floorHalfLength = 59.0 // nose to middle, middle to tail
	floorHalfWidth  = 19.0 // of the body
	floorTailRadius = 6.0
	floorReach      = 88.0 // of the motors' axes, at 45° to either side
	floorArm        = 5.0  // half width of the arms
	floorPad        = 9.5  // radius under the motors
	floorFillet     = 5.0  // radius of all inside corners
)

// noseCorner is the left corner of the nose: a cubic with these control points.
var noseCorner = [4]r2.Point{{X: 59, Y: 13}, {X: 59, Y: 17.5}, {X: 57.5, Y: 19}, {X: 53, Y: 19}}

// floorArmEdge is the edge of the front left arm, from the body's left edge near the nose round the motor to the body
// again. With u along the arm and v to its left, the body's edge y = 19 cuts the arm's edges v = ±5 at u = 19√2 ∓ v; the
// wedges there are of 45° and 135°, which makes tangents of 5/tan 22.5° and 5/tan 67.5°. A fillet between an edge and
// the pad has its centre at v = ±10, 9.5 + 5 = 14.5 from the motor: √(14.5² - 10²) before it.
func floorArmEdge() []geom.Seg {
	at := func(u, v float64) r2.Point { return r2.Point{X: (u - v) / math.Sqrt2, Y: (u + v) / math.Sqrt2} }
	bulge := func(turn float64) float64 { return math.Tan(turn / 4) }
	near, far := floorFillet/math.Tan(math.Pi/8), floorFillet/math.Tan(3*math.Pi/8)
	right, left := floorHalfWidth*math.Sqrt2+floorArm, floorHalfWidth*math.Sqrt2-floorArm
	back := math.Sqrt((floorPad+floorFillet)*(floorPad+floorFillet) - 4*floorArm*floorArm)
	k := floorPad / (floorPad + floorFillet)
	beside := math.Atan2(2*floorArm, back) // of the fillet's centre, off the arm's middle as seen from the motor
	onPad := func(side float64) r2.Point { return at(floorReach-k*back, side*k*2*floorArm) }
	points := []r2.Point{
		at(right, -floorArm).Add(r2.Point{X: near}), at(right+near, -floorArm),
		at(floorReach-back, -floorArm), onPad(-1), onPad(1), at(floorReach-back, floorArm),
		at(left+far, floorArm), at(left, floorArm).Sub(r2.Point{X: far}),
	}
	turns := []float64{-3 * math.Pi / 4, 0, beside - math.Pi/2, 2*math.Pi - 2*beside, beside - math.Pi/2, 0, -math.Pi / 4}
	var out []geom.Seg
	for i, t := range turns {
		out = append(out, geom.Seg{A: points[i], B: points[i+1], Bulge: bulge(t)})
	}
	return out
}

// mirrored returns a chain under x -> -x (front to back) or y -> -y, run the other way, so that it keeps the inside on
// the same hand.
func mirrored(chain []geom.Seg, kx, ky float64) []geom.Seg {
	var out []geom.Seg
	for _, s := range chain {
		at := func(p r2.Point) r2.Point { return r2.Point{X: kx * p.X, Y: ky * p.Y} }
		out = append(out, geom.Seg{A: at(s.B), B: at(s.A), Bulge: s.Bulge})
	}
	slices.Reverse(out)
	return out
}

// floorHalf is the left half of the edge but for the nose corner, from the end of that corner to the middle of the tail.
func floorHalf() []geom.Seg {
	arm := floorArmEdge()
	rear := mirrored(arm, -1, 1)
	line := func(a, b r2.Point) geom.Seg { return geom.Seg{A: a, B: b} }
	tail := r2.Point{X: floorTailRadius - floorHalfLength, Y: floorHalfWidth}
	end := r2.Point{X: -floorHalfLength, Y: floorHalfWidth - floorTailRadius}
	out := append([]geom.Seg{line(noseCorner[3], arm[0].A)}, arm...)
	out = append(out, line(arm[len(arm)-1].B, rear[0].A))
	out = append(out, rear...)
	return append(out, line(rear[len(rear)-1].B, tail), geom.Seg{A: tail, B: end, Bulge: math.Tan(math.Pi / 8)}, line(end, r2.Point{X: -floorHalfLength}))
}

// floorEdge is the whole edge but for both nose corners, and between them the flat of the nose.
func floorEdge() []geom.Seg {
	half := floorHalf()
	nose := geom.Seg{A: r2.Point{X: 59, Y: -13}, B: r2.Point{X: 59, Y: 13}}
	return append(append([]geom.Seg{nose}, half...), mirrored(half, 1, -1)...)
}

// cubic is the point of a cubic at t.
func cubic(c [4]r2.Point, t float64) r2.Point {
	s := 1 - t
	return c[0].Mul(s * s * s).Add(c[1].Mul(3 * s * s * t)).Add(c[2].Mul(3 * s * t * t)).Add(c[3].Mul(t * t * t))
}

// floorHole is a hole of the floor: a diameter, and that of a circle round it.
type floorHole struct {
	at      r2.Point
	d, sunk float64
}

func floorHoles() []floorHole {
	var out []floorHole
	for _, sx := range []float64{1, -1} {
		for _, sy := range []float64{1, -1} {
			m := r2.Point{X: sx * floorReach / math.Sqrt2, Y: sy * floorReach / math.Sqrt2}
			out = append(out, floorHole{at: m, d: 4})
			for k := range 4 { // on a circle of 9, one of them outwards along the arm
				sn, cs := math.Sincos(float64(2*k+1) * math.Pi / 4)
				out = append(out, floorHole{at: m.Add(r2.Point{X: 4.5 * cs, Y: 4.5 * sn}), d: 2.2})
			}
			out = append(out, floorHole{at: r2.Point{X: 10 * sx, Y: 10 * sy}, d: 2.3, sunk: 4.4}, floorHole{at: r2.Point{X: 53.5 * sx, Y: 13.5 * sy}, d: 2.1})
		}
	}
	return out
}

// Slots of 16 x 4 mm across the body, for wires and to save weight.
const (
	slotAt, slotHalf, slotRadius = 24.0, 6.0, 2.0
)

// dxfWriter writes the floor as the file that came with it: drawn nose up in inches, somewhere on the page, and dirty.
type dxfWriter struct{ b strings.Builder }

func (w *dxfWriter) tags(codesAndValues ...any) {
	for i := 0; i+1 < len(codesAndValues); i += 2 {
		v := codesAndValues[i+1]
		if f, ok := v.(float64); ok {
			v = fmt.Sprintf("%.7f", f)
		}
		fmt.Fprintf(&w.b, "%3d\r\n%v\r\n", codesAndValues[i], v)
	}
}

// inches takes a point of the plate into the file.
func inches(p r2.Point) r2.Point { return r2.Point{X: 7.125 - p.Y/25.4, Y: 3.5 + p.X/25.4} }

// inPlate is the inverse of inches.
func inPlate(q r2.Point) r2.Point { return r2.Point{X: (q.Y - 3.5) * 25.4, Y: (7.125 - q.X) * 25.4} }

const drawnOn = "CUT 3MM"

// seg writes a piece of the edge as LINE or ARC.
func (w *dxfWriter) seg(s geom.Seg) {
	a, b := inches(s.A), inches(s.B)
	if !s.IsArc() {
		w.tags(0, "LINE", 8, drawnOn, 10, a.X, 20, a.Y, 30, 0.0, 11, b.X, 21, b.Y, 31, 0.0)
		return
	}
	c := inches(s.Center())
	if s.Bulge < 0 {
		a, b = b, a
	}
	deg := func(p r2.Point) float64 { return math.Atan2(p.Y-c.Y, p.X-c.X) * 180 / math.Pi }
	w.tags(0, "ARC", 8, drawnOn, 10, c.X, 20, c.Y, 30, 0.0, 40, s.Radius()/25.4, 50, deg(a), 51, deg(b))
}

func (w *dxfWriter) circle(at r2.Point, d float64) {
	c := inches(at)
	w.tags(0, "CIRCLE", 8, drawnOn, 10, c.X, 20, c.Y, 30, 0.0, 40, d/2/25.4)
}

// arcs writes a circle as two or four arcs.
func (w *dxfWriter) arcs(at r2.Point, d float64, n int) {
	c := inches(at)
	step := 360 / float64(n)
	for k := range n {
		w.tags(0, "ARC", 8, drawnOn, 10, c.X, 20, c.Y, 30, 0.0, 40, d/2/25.4, 50, 15+step*float64(k)-360, 51, 15+step*float64(k+1))
	}
}

// spline writes a cubic as a SPLINE whose knots run from 2 to 5.
func (w *dxfWriter) spline(c [4]r2.Point) {
	w.tags(0, "SPLINE", 8, drawnOn, 70, 8, 71, 3, 72, 8, 73, 4, 74, 0)
	for _, k := range []float64{2, 2, 2, 2, 5, 5, 5, 5} {
		w.tags(40, k)
	}
	for _, p := range c {
		q := inches(p)
		w.tags(10, q.X, 20, q.Y, 30, 0.0)
	}
}

// floorDXF draws the plate and all that such files bring along.
func floorDXF() []byte {
	w := &dxfWriter{}
	w.tags(999, "floor plate, 3 mm")
	// A header, but no unit in it. The extents are those of an empty page.
	w.tags(0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1015", 9, "$EXTMIN", 10, 1e20, 20, 1e20, 9, "$EXTMAX", 10, -1e20, 20, -1e20, 0, "ENDSEC")
	w.tags(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LAYER", 70, 3)
	for _, l := range []string{"0", drawnOn, "NOTES"} {
		colour := 7
		if l == "NOTES" {
			colour = -7 // switched off
		}
		w.tags(0, "LAYER", 2, l, 70, 0, 62, colour, 6, "CONTINUOUS")
	}
	w.tags(0, "ENDTAB", 0, "ENDSEC")
	// The motor's holes are a block about its first hole, drawn at half size.
	w.tags(0, "SECTION", 2, "BLOCKS", 0, "BLOCK", 8, "0", 2, "MOTOR-9", 70, 0, 10, 4.5/50.8, 20, 0.0, 30, 0.0)
	for k := range 4 {
		sn, cs := math.Sincos(float64(k) * math.Pi / 2)
		w.tags(0, "CIRCLE", 8, "0", 10, 4.5/50.8*cs, 20, 4.5/50.8*sn, 40, 2.2/2/50.8)
	}
	w.tags(0, "CIRCLE", 8, "0", 10, 0.0, 20, 0.0, 40, 2/50.8, 0, "ENDBLK", 8, "0", 0, "ENDSEC")
	w.tags(0, "SECTION", 2, "ENTITIES")
	w.tags(0, "TEXT", 8, drawnOn, 10, 5.0, 20, 0.2, 40, 0.2, 1, "FLOOR  3 MM CARBON  QTY 1")
	edge := floorEdge()
	for i, s := range edge {
		if i == 9 { // an end that misses the next by less than a thousandth
			s.B.X -= 0.0008
		}
		w.seg(s)
		switch i {
		case 1: // a line drawn twice, the other way round
			w.seg(s.Reverse())
		case 3: // one half of it once more
			w.seg(geom.Seg{A: s.At(0.25), B: s.At(0.75)})
		case 5: // and a part of a motor's pad
			w.seg(geom.Seg{A: s.At(0.5), B: s.B, Bulge: math.Tan(s.Sweep().Radians() / 8)})
		}
	}
	other := noseCorner
	for i := range other {
		other[i].Y = -other[i].Y
	}
	w.spline(noseCorner)
	w.spline(other)
	for _, m := range []float64{45, 135, 225, 315} {
		sn, cs := math.Sincos(m * math.Pi / 180)
		// The base point of the block lands on the hole that lies outwards along the arm.
		at := inches(r2.Point{X: (floorReach + 4.5) * cs, Y: (floorReach + 4.5) * sn})
		w.tags(0, "INSERT", 8, drawnOn, 2, "MOTOR-9", 10, at.X, 20, at.Y, 41, 2.0, 42, 2.0, 43, 2.0, 50, m+90)
	}
	for i, h := range floorHoles() {
		switch {
		case h.d == 4 || h.d == 2.2: // in the block
		case h.sunk > 0:
			w.arcs(h.at, h.d, 2)
			w.circle(h.at, h.sunk)
		case i%2 == 0:
			w.arcs(h.at, h.d, 4)
		default:
			w.circle(h.at, h.d)
		}
	}
	for _, x := range []float64{slotAt, -slotAt} {
		w.tags(0, "LWPOLYLINE", 8, drawnOn, 90, 5, 70, 0)
		for _, v := range [5][3]float64{{slotRadius, -slotHalf, 0}, {slotRadius, slotHalf, 1}, {-slotRadius, slotHalf, 0}, {-slotRadius, -slotHalf, 1}, {slotRadius, -slotHalf, 0}} {
			q := inches(r2.Point{X: x + v[0], Y: v[1]})
			w.tags(10, q.X, 20, q.Y, 42, v[2])
		}
	}
	// A crumb, a line that runs out over the tail, and the cutter's own test coupon of 20 x 10.
	w.seg(geom.Seg{A: r2.Point{X: -30, Y: 8}, B: r2.Point{X: -30.02, Y: 8.01}})
	w.seg(geom.Seg{A: r2.Point{X: -59, Y: 4}, B: r2.Point{X: -60.5, Y: 4}})
	coupon := geom.Rectangle(r2.Point{X: -80}, 10, 20)
	for _, s := range coupon.Segs() {
		w.seg(s)
	}
	c := inches(r2.Point{})
	w.tags(0, "LINE", 8, "NOTES", 10, c.X-4, 20, c.Y, 11, c.X+4, 21, c.Y)
	w.tags(0, "DIMENSION", 8, drawnOn, 10, c.X, 20, c.Y, 70, 0, 0, "VIEWPORT", 8, "0", 10, c.X, 20, c.Y, 40, 12.0, 41, 9.0)
	w.tags(0, "ENDSEC", 0, "EOF")
	return []byte(w.b.String())
}

// The file in the folder is the one that this generator makes:
//
//	go test ./examples -update
func TestQuarryOutlineFile(t *testing.T) {
	const name = "quarry/floor.dxf"
	want := floorDXF()
	if *update {
		if err := os.WriteFile(name, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from the generator's in line %s", name, firstUnlike(want, got))
	}
	for _, p := range []r2.Point{{}, {X: 12, Y: -40}} {
		if q := inPlate(inches(p)); q.Sub(p).Norm() > 1e-9 {
			t.Errorf("%v comes back as %v", p, q)
		}
	}
}
