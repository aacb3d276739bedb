package geom

import (
	"math"
	"slices"
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

// TestCertifyThreads: a square of 3000 mm whose lower and upper sides both have a piece of 2e-9 mm, less than the weld distance of 3e-9 mm, from x = 1500 on. The
// line at x = 1500 + 1e-9 passes no strand; the pieces left out must count, or it would find the inside missing. The second loop
// has 5 such pieces in a row on either side.
func TestCertifyThreads(t *testing.T) {
	in := func(w windings) bool { return w.a > 0 }
	for _, n := range []int{1, 5} {
		const step = 2e-9
		var v []Vertex
		add := func(x, y float64) { v = append(v, Vertex{P: r2.Point{X: x, Y: y}}) }
		add(0, 0)
		for i := range n + 1 {
			add(1500+float64(i)*step, 0)
		}
		add(3000, 0)
		add(3000, 3000)
		for i := range n + 1 {
			add(1500+float64(n-i)*step, 3000)
		}
		add(0, 3000)
		l, err := NewLoop(v)
		if err != nil {
			t.Fatal(err)
		}
		ar := newArrangement(weldFor(3000), 16)
		ar.addRegion(RegionOf(l), windings{a: 1})
		if len(ar.threads) != 2*n {
			t.Fatalf("%d pieces left out, want %d", len(ar.threads), 2*n)
		}
		for i := range n {
			x := 1500 + (float64(i)+0.5)*step
			ar.pass([]float64{x}, []Region{RegionOf(l)})
			if p, differ := ar.differ(x, ar.events, in); differ {
				t.Errorf("right, on the line %.12g: they differ at %v", x, p)
			}
			ar.pass([]float64{x}, nil)
			if _, differ := ar.differ(x, ar.events, in); !differ {
				t.Errorf("nothing, on the line %.12g: they do not differ", x)
			}
		}
		ar.release()
	}
}

// TestCertifyBeside: a fault counts from half the reach on. Of a square of 2 mm, a sliver around x = 1 is missing
// that is 2·besideReach - 2 weld distances wide, or 2 more than that.
func TestCertifyBeside(t *testing.T) {
	in := func(w windings) bool { return w.a > 0 }
	square := RegionOf(Rectangle(r2.Point{X: 1, Y: 1}, 2, 2))
	w := weldFor(2)
	for _, c := range []struct {
		width float64
		ok    bool
	}{{2*besideReach - 2, true}, {2*besideReach + 2, false}} {
		h := c.width * w / 2
		left := RegionOf(Rectangle(r2.Point{X: (1 - h) / 2, Y: 1}, 1-h, 2))
		right := RegionOf(Rectangle(r2.Point{X: (3 + h) / 2, Y: 1}, 1-h, 2))
		ar := newArrangement(w, 16)
		ar.addRegion(square, windings{a: 1})
		rs := []Region{left, right}
		ar.pass([]float64{1}, rs)
		p, differ := ar.differ(1, ar.events, in)
		if !differ || p.X != 1 {
			t.Fatalf("%g wide: nothing differs on its middle", c.width)
		}
		if found := ar.beside(p, rs, in); found == c.ok {
			t.Errorf("%g weld distances wide: found again beside it %v", c.width, found)
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

// TestLoopOverShallow: an arc of 131 m radius over an upright chord of 2 mm, 3.8147e-6 mm high (bulge times
// half the chord), is passed twice by the line half way up, 1/√2 of half the chord to either side of its middle,
// as a parabola is.
func TestLoopOverShallow(t *testing.T) {
	const h = 0x1p-18
	l, err := NewLoop([]Vertex{{P: r2.Point{Y: -1}, Bulge: 0.1}, {P: r2.Point{Y: 1}, Bulge: h}})
	if err != nil {
		t.Fatal(err)
	}
	ys := func(x float64) (out []float64) {
		for _, e := range l.over(x, nil) {
			out = append(out, e.y)
		}
		slices.Sort(out)
		return out
	}
	// The upper and lower half of the arc, since the other arc lies at x >= 0.
	for _, x := range []float64{-h / 2, -h / 4, -h * 15 / 16} {
		want := math.Sqrt(1 + x/h) // height h·(1 - y²) at y
		got := ys(x)
		if len(got) != 2 || math.Abs(got[0]+want) > 1e-6 || math.Abs(got[1]-want) > 1e-6 {
			t.Errorf("at %g: %v, want ±%g", x, got, want)
		}
	}
	if got := ys(-1.01 * h); len(got) != 0 {
		t.Errorf("beyond the arc: %v", got)
	}
}
