package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
)

// tg writes tags: group codes and values in turn.
func tg(codesAndValues ...any) string {
	var b strings.Builder
	for i := 0; i+1 < len(codesAndValues); i += 2 {
		fmt.Fprintf(&b, "%v\n%v\n", codesAndValues[i], codesAndValues[i+1])
	}
	return b.String()
}

func section(name string, things ...string) string {
	return tg(0, "SECTION", 2, name) + strings.Join(things, "") + tg(0, "ENDSEC")
}

// dxf is a file of nothing but things that draw.
func dxf(things ...string) string { return section("ENTITIES", things...) + tg(0, "EOF") }

// dxfIn is a file with a unit in its header.
func dxfIn(units int, things ...string) string {
	return section("HEADER", tg(9, "$INSUNITS", 70, units)) + dxf(things...)
}

func line(x0, y0, x1, y1 float64) string {
	return tg(0, "LINE", 8, "0", 10, x0, 20, y0, 30, 0, 11, x1, 21, y1, 31, 0)
}

func arc(x, y, r, from, to float64) string {
	return tg(0, "ARC", 8, "0", 10, x, 20, y, 40, r, 50, from, 51, to)
}

func circle(x, y, d float64) string { return tg(0, "CIRCLE", 8, "0", 10, x, 20, y, 40, d/2) }

// lw is an LWPOLYLINE; v holds x, y and bulge of each corner.
func lw(flags int, v ...float64) string {
	var s strings.Builder
	s.WriteString(tg(0, "LWPOLYLINE", 8, "0", 90, len(v)/3, 70, flags))
	for i := 0; i+2 < len(v); i += 3 {
		s.WriteString(tg(10, v[i], 20, v[i+1], 42, v[i+2]))
	}
	return s.String()
}

// old is the same as a POLYLINE with vertices.
func old(flags int, v ...float64) string {
	s := tg(0, "POLYLINE", 8, "0", 66, 1, 70, flags, 10, 0, 20, 0, 30, 0)
	for i := 0; i+2 < len(v); i += 3 {
		s += tg(0, "VERTEX", 8, "0", 10, v[i], 20, v[i+1], 30, 0, 42, v[i+2])
	}
	return s + tg(0, "SEQEND", 8, "0")
}

// box60 is the outline that most files hold: 60 x 40 mm, the corner at the origin.
func box60() string {
	return line(0, 0, 60, 0) + line(60, 0, 60, 40) + line(60, 40, 0, 40) + line(0, 40, 0, 0)
}

// quarterTurn is the bulge of a quarter turn, tan(90°/4) = √2 - 1.
const quarterTurn = math.Sqrt2 - 1

// round60 are corners of the same box with corner radii of 5 mm, counter-clockwise. Its
// area is 2400 - (4-π)·25 = 2378.5398.
func round60() []float64 {
	const q = quarterTurn
	return []float64{5, 0, 0, 55, 0, q, 60, 5, 0, 60, 35, q, 55, 40, 0, 5, 40, q, 0, 35, 0, 0, 5, q}
}

const round60Area = 2400 - (4-math.Pi)*25

// A holeWant is a round hole: centre, diameter, and the diameter of a countersink or 0.
type holeWant struct{ x, y, d, sunk float64 }

// want is an outline known beforehand. Box is lo x, lo y, hi x, hi y. Area is that of the
// part with its holes taken off.
type want struct {
	box    [4]float64
	area   float64
	within float64 // mm, and mm² for 1/100 of the perimeter; 0: 1e-6
	round  []holeWant
	other  int // openings that are not round
}

func disc(d float64) float64 { return math.Pi * d * d / 4 }

// square60 is the plain box with round holes.
func square60(holes ...holeWant) want {
	w := want{box: [4]float64{0, 0, 60, 40}, area: 2400, round: holes}
	for _, h := range holes {
		w.area -= disc(h.d)
	}
	return w
}

func mustRead(t *testing.T, name, text string, opt Options) (*Drawing, *Report) {
	t.Helper()
	d, r, err := Read(name, []byte(text), opt)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return d, r
}

// one reads a file that holds one part and compares it.
func one(t *testing.T, name, text string, opt Options, w want) (*Part, *Report) {
	t.Helper()
	d, r := mustRead(t, name, text, opt)
	if len(d.Parts) != 1 {
		for _, p := range d.Parts {
			t.Log(p)
		}
		t.Fatalf("%d parts, want 1", len(d.Parts))
	}
	compare(t, &d.Parts[0], w)
	return &d.Parts[0], r
}

func compare(t *testing.T, p *Part, w want) {
	t.Helper()
	tol := w.within
	if tol == 0 {
		tol = 1e-6
	}
	b := p.Box()
	for i, v := range [4]float64{b.Lo.X, b.Lo.Y, b.Hi.X, b.Hi.Y} {
		if math.Abs(v-w.box[i]) > tol {
			t.Errorf("box %.6f %.6f %.6f %.6f, want %v", b.Lo.X, b.Lo.Y, b.Hi.X, b.Hi.Y, w.box)
			break
		}
	}
	if math.Abs(p.Area()-w.area) > 100*tol {
		t.Errorf("area %.6f, want %.6f", p.Area(), w.area)
	}
	if p.Closed() && p.Fault != "" {
		t.Errorf("fault: %s", p.Fault)
	}
	other := 0
	var round []Hole
	for _, h := range p.Holes {
		if h.Round() {
			round = append(round, h)
		} else {
			other++
		}
	}
	if len(round) != len(w.round) || other != w.other {
		t.Errorf("%d round and %d other holes, want %d and %d: %v", len(round), other, len(w.round), w.other, p.Holes)
		return
	}
	for _, v := range w.round {
		found := false
		for _, h := range round {
			found = found || h.Center.Sub(r2.Point{X: v.x, Y: v.y}).Norm() <= tol &&
				math.Abs(h.Diameter-v.d) <= tol && math.Abs(h.Countersink()-v.sunk) <= tol
		}
		if !found {
			t.Errorf("no hole of %g (countersink %g) at (%g, %g) among %v", v.d, v.sunk, v.x, v.y, round)
		}
	}
}

func count(list []Count, what string) int {
	for _, c := range list {
		if c.What == what {
			return c.N
		}
	}
	return 0
}
