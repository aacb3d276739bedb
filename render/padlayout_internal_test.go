package render

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

func TestNumbersAndNames(t *testing.T) {
	for _, c := range []struct {
		nos  []int
		want string
	}{{[]int{7}, "7"}, {[]int{3, 1, 2}, "1–3"}, {[]int{1, 2}, "1,2"}, {[]int{9, 4, 5, 6, 9, 2}, "2,4–6,9"}} {
		if got := numbers(c.nos); got != c.want {
			t.Errorf("%v is written %q, want %q", c.nos, got, c.want)
		}
	}
	for _, c := range []struct {
		names []string
		want  string
	}{
		{[]string{"front-left motor", "left motor"}, "motor"},
		{[]string{"esc.left", "esc.right"}, "esc"},
		{[]string{"fc", "fc"}, "fc"},
		{[]string{"fc", "gps"}, ""},
	} {
		if got := shared(c.names); got != c.want {
			t.Errorf("%v share %q, want %q", c.names, got, c.want)
		}
	}
}

// Three labels wanted at 0, 0 and 10 with 4 between them: the first two move apart by 2 each, the
// third is far enough: -2, 2, 10. All three at 0: -4, 0, 4.
func TestFanOut(t *testing.T) {
	for _, c := range []struct{ want, get []float64 }{
		{[]float64{0, 0, 10}, []float64{-2, 2, 10}},
		{[]float64{0, 0, 0}, []float64{-4, 0, 4}},
		{nil, nil},
	} {
		got := fanOut(c.want, 4)
		if !slices.EqualFunc(got, c.get, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
			t.Errorf("%v become %v, want %v", c.want, got, c.get)
		}
	}
}

// Boards with pads along their edges, at random: labels of a column stand at least 4 mm apart, none on the part, and
// no two lines cross.
func TestPanelLinesKeepApart(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for round := range 300 {
		w, h := 10+30*r.Float64(), 10+30*r.Float64()
		c := &layout.Component{ID: "board", Label: "board", Part: &shapes.Part{Name: "board"}}
		p := &padPanel{parts: []*layout.Component{c}}
		for range 1 + r.Intn(24) {
			x, y := (r.Float64()-0.5)*w, (r.Float64()-0.5)*h
			in := 0.5 + 2*r.Float64()
			switch r.Intn(4) {
			case 0:
				x = -w/2 + in
			case 1:
				x = w/2 - in
			case 2:
				y = -h/2 + in
			default:
				y = h/2 - in
			}
			term := &layout.Terminal{ID: "board.pad", Name: "pad", Owner: c, At: r2.Point{X: x, Y: y}, Pad: &shapes.Pad{Name: "pad"}}
			p.pads = append(p.pads, panelPad{term: term, wires: []panelWire{{nos: []int{1}, far: []string{"motor"}, core: coreOf("red")}}})
		}
		loop := geom.RectLoop(geom.Rect{Lo: r2.Point{X: -w / 2, Y: -h / 2}, Hi: r2.Point{X: w / 2, Y: h / 2}})
		sc := &scene{shadows: []shadow{{id: "board", body: &layout.Body{Kind: layout.PcbBody}, loops: []geom.Loop{loop}, inner: &inner{}}}}
		o := p.lay(sc, 2, true)
		if len(o.labels) != len(p.pads) {
			t.Fatalf("round %d: %d labels for %d pads", round, len(o.labels), len(p.pads))
		}
		for i := range o.labels {
			a := &o.labels[i]
			for j := range i {
				b := &o.labels[j]
				if d := a.path[3].Y - b.path[3].Y; a.right == b.right && math.Abs(d) < 4 {
					t.Errorf("round %d: two labels %.2f mm apart", round, d)
				}
				for k := 1; k < 4; k++ {
					for n := 1; n < 4; n++ {
						if crosses(geom.Seg{A: a.path[k-1], B: a.path[k]}, geom.Seg{A: b.path[n-1], B: b.path[n]}) {
							t.Errorf("round %d: two lines cross, %v and %v", round, a.path, b.path)
						}
					}
				}
			}
			if a.right != (a.path[3].X > 0) || math.Abs(a.path[3].X) < w {
				t.Errorf("round %d: a label begins at %v, the part reaches to %.2f", round, a.path[3], w)
			}
		}
	}
}
