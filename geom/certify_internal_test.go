package geom

import (
	"testing"

	"github.com/golang/geo/r2"
)

// TestCertify: a result with a part or a hole too many or too few, or shifted by 1e-6 mm, contradicts
// its operands; the right one and one moved by less than the reach do not. Of a ring of
// 10 mm outside and 4 mm inside and a disc of 2 mm in it.
func TestCertify(t *testing.T) {
	o, far := r2.Point{}, r2.Point{X: 30}
	ring := RegionOf(Circle(o, 10), Circle(o, 4))
	disc := RegionOf(Circle(o, 2))
	in := func(w windings) bool { return w.a > 0 }
	for _, c := range []struct {
		name string
		rs   []Region
		ok   bool
	}{
		{"right", []Region{ring, disc}, true},
		{"moved by 1e-8", []Region{ring.Transform(Pose2{Shift: r2.Point{Y: 1e-8}}), disc}, true},
		{"moved by 1e-6", []Region{ring.Transform(Pose2{Shift: r2.Point{Y: 1e-6}}), disc}, false},
		{"hole filled", []Region{RegionOf(Circle(o, 10))}, false},
		{"disc missing", []Region{ring}, false},
		{"ring missing", []Region{disc}, false},
		{"nothing", nil, false},
		{"one too many", []Region{ring, disc, RegionOf(Circle(far, 1))}, false},
	} {
		ar := newArrangement(weldFor(30), 16)
		for _, r := range []Region{ring, disc} {
			ar.addRegion(r, windings{a: 1})
		}
		if at, ok := ar.certify(c.rs, in, certifyMany); ok != c.ok {
			t.Errorf("%s: certified %v (at %v), want %v", c.name, ok, at, c.ok)
		}
		ar.release()
	}
}

// TestCornersCutOff: every corner of the square of 1 mm is cut off by 0.8e-9 mm, less
// than the weld distance, over a length of 1.13e-9 mm, more than that. Once such a loop counted as straight throughout, and the
// hole it made was lost in silence. 4·4 - 1 = 15 mm².
func TestCornersCutOff(t *testing.T) {
	const c = 0.8e-9
	v := []Vertex{}
	for _, p := range [][2]float64{{c, 0}, {1 - c, 0}, {1, c}, {1, 1 - c}, {1 - c, 1}, {c, 1}, {0, 1 - c}, {0, c}} {
		v = append(v, Vertex{P: r2.Point{X: p[0], Y: p[1]}})
	}
	l, err := NewLoop(v)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Difference([]Region{RegionOf(Rectangle(r2.Point{X: 0.5, Y: 0.5}, 4, 4))}, []Region{RegionOf(l)})
	if err != nil || len(got) != 1 || len(got[0].Holes) != 1 || got[0].Area() > 15+1e-8 || got[0].Area() < 15-1e-8 {
		t.Errorf("%v, %v: want one region of 15 mm² with a hole", got, err)
	}
}
