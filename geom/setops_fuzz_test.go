package geom_test

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// drawer turns fuzz bytes into shapes. Coordinates come in quarters of a millimetre, so
// that the fuzzer finds touching and collinear cases by itself.
type drawer struct{ data []byte }

func (d *drawer) byte() byte {
	if len(d.data) == 0 {
		return 0
	}
	b := d.data[0]
	d.data = d.data[1:]
	return b
}

func (d *drawer) coord() float64 { return float64(int8(d.byte())) / 4 }

func (d *drawer) size() float64 { return float64(d.byte()%64+1) / 4 }

func (d *drawer) point() r2.Point { return pt(d.coord(), d.coord()) }

// loop draws a loop: often a simple one, sometimes any chain of lines and arcs.
func (d *drawer) loop() geom.Loop {
	switch k := d.byte() % 6; k {
	case 0:
		return geom.Rectangle(d.point(), d.size(), d.size())
	case 1:
		return geom.Circle(d.point(), d.size())
	case 2:
		return geom.Capsule(d.point(), d.point(), d.size())
	case 3:
		return geom.RoundedRectangle(d.point(), d.size()+2, d.size()+2, 0.5)
	case 4:
		return geom.RegularPolygon(d.point(), d.size(), 3+int(d.byte()%6), 0)
	default:
		v := make([]geom.Vertex, 2+d.byte()%7)
		for i := range v {
			v[i].P = d.point()
			if b := d.byte(); b%2 == 0 {
				v[i].Bulge = float64(int8(b)) / 64
			}
		}
		l, err := geom.NewLoop(v)
		if err != nil {
			return geom.Loop{}
		}
		return l
	}
}

// set draws up to three regions. Some are turned by an angle that is no multiple of 90°,
// and moved by less than a grid step.
func (d *drawer) set() (rs []geom.Region, valid bool) {
	valid = true
	for range 1 + d.byte()%3 {
		outer := d.loop()
		var holes []geom.Loop
		for range d.byte() % 3 {
			holes = append(holes, d.loop())
		}
		r := geom.RegionOf(outer, holes...)
		switch d.byte() % 8 {
		case 0:
			r = r.Transform(geom.Pose2{Turn: s1.Angle(float64(d.byte()) / 40)})
		case 1:
			r = r.Transform(geom.Pose2{Shift: pt(math.Pow(10, -float64(d.byte()%16)), 0)})
		}
		if r.IsEmpty() {
			continue
		}
		valid = valid && r.Validate() == nil
		rs = append(rs, r)
	}
	return rs, valid
}

func (d *drawer) points() []r2.Point {
	var ps []r2.Point
	for i := range 12 {
		a, b := float64(i)*2.399963, float64(i)*2.9
		ps = append(ps, pt(b*math.Cos(a), b*math.Sin(a)).Add(pt(d.coord()/8, d.coord()/8)))
	}
	return ps
}

// named checks that an error is a *Failure with a place and a reason.
func named(t *testing.T, err error) {
	t.Helper()
	var f *geom.Failure
	if !errors.As(err, &f) || f.Op == "" || f.Why == "" || math.IsNaN(f.At.X+f.At.Y) {
		t.Fatalf("error %v is no *Failure with operation, place and reason", err)
	}
}

// FuzzBoolean: on valid operands the three operations agree with each other and with the
// operands point by point; on any others they return.
func FuzzBoolean(f *testing.F) {
	f.Add([]byte{0})
	f.Add([]byte{0, 0, 0, 0, 7, 7, 0, 7, 0, 0, 8, 0, 7, 7, 0, 7})                                 // squares with a common edge
	f.Add([]byte{0, 1, 0, 0, 7, 0, 7, 0, 1, 16, 0, 7, 0, 7})                                      // tangent circles
	f.Add([]byte{1, 1, 0, 0, 31, 1, 1, 0, 0, 15, 7, 3, 8, 8, 9, 9, 0, 7, 0, 2, 0, 0, 40, 0, 9})   // a ring
	f.Add([]byte{0, 5, 4, 0, 0, 0, 40, 0, 32, 40, 40, 0, 0, 40, 64, 20, 20, 1, 0, 0, 1, 0, 0, 9}) // arcs
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 200 {
			t.Skip("long")
		}
		d := &drawer{data}
		a, okA := d.set()
		b, okB := d.set()
		if !okA || !okB {
			for _, op := range []operation{union, difference, intersection} {
				if rs, err := op.do(a, b); err != nil {
					named(t, err)
				} else {
					checkShape(t, op.name, rs)
				}
			}
			return
		}
		checkBooleans(t, a, b, d.points())
	})
}

// FuzzOffset: on valid operands the boundary of the result lies at the distance asked for,
// and the way back encloses or is enclosed; on any others it returns.
func FuzzOffset(f *testing.F) {
	f.Add([]byte{0})
	f.Add([]byte{4, 0, 0, 0, 0, 40, 40, 0, 7})
	f.Add([]byte{252, 0, 1, 0, 0, 31, 1, 1, 0, 0, 15, 7})
	f.Add([]byte{250, 0, 5, 6, 0, 0, 1, 40, 0, 1, 40, 16, 1, 16, 16, 1, 16, 40, 1, 0, 40, 1, 0, 7})
	f.Add([]byte{9, 1, 3, 8, 8, 40, 20, 0, 7, 2, 240, 240, 9, 9, 6, 0, 7})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 200 {
			t.Skip("long")
		}
		d := &drawer{data}
		r := d.coord() / 4
		if d.byte()%4 == 3 {
			r += 1 / math.Pi
		}
		if r == 0 {
			r = 0.5
		}
		a, ok := d.set()
		if !ok {
			if rs, err := geom.Offset(a, r); err != nil {
				named(t, err)
			} else {
				for _, q := range rs {
					if !(q.Area() > 0) {
						t.Fatalf("region of area %g", q.Area())
					}
				}
			}
			return
		}
		checkOffset(t, a, r, d.points())
	})
}
