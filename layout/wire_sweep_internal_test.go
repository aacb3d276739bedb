package layout

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/shapes"
)

// 3 mm up to 3 inch, 5 at 5 inch, 8 from 7 inch; in between 4 at 4 inch and 6.5 at 6.
func TestSweepNeed(t *testing.T) {
	for inch, want := range map[float64]float64{2: 3, 3: 3, 4: 4, 5: 5, 6: 6.5, 7: 8, 10: 8} {
		if got := SweepNeed(25.4 * inch); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g inch: %g, want %g", inch, got, want)
		}
	}
}

// A disc of radius 50 round the origin that sweeps heights 10 to 14, 12 and 14 at rest; a bundle
// 2 thick, with no slack, so that it lies straight. A prop of 100 mm is 3.937 inch and needs that.
func TestDiscGap(t *testing.T) {
	r := &Rotor{Radius: Fixed(50), Lo: Fixed(12), Hi: Fixed(14), SweptLo: Fixed(10), SweptHi: Fixed(14)}
	a := &Assembly{Rotors: []*Rotor{r}}
	c := &Circuit{OD: &shapes.Dim{Value: 2}}
	for _, q := range []struct {
		a, b r3.Vector
		want float64
	}{
		{r3.Vector{X: 60, Y: -30, Z: 12}, r3.Vector{X: 60, Y: 30, Z: 12}, 9}, // beside it: 60 - 50 - 1
		{r3.Vector{X: -80, Z: 3}, r3.Vector{X: 80, Z: 3}, 8},                 // under it, to the blades at rest: 12 - 3 - 1
		{r3.Vector{X: -80, Z: 18}, r3.Vector{X: 80, Z: 18}, 3},               // over it, at full flex: 18 - 1 - 14
	} {
		s := &Stretch{A: q.a, B: q.b, Hi: q.b.Sub(q.a).Norm(), circuit: c}
		if gap, _ := a.DiscGap(s, r); math.Abs(gap.Nominal()-q.want) > 1e-6 {
			t.Errorf("%v to %v: %g, want %g", q.a, q.b, gap.Nominal(), q.want)
		}
	}
}

// A bundle 2 thick lies 6 high on a plate whose top is 5 and can move by 10. Amid a plate that
// reaches 30 to all sides it cannot go below 5. Where the edge is 6 away it can, by
// √(10² − 6²) = 8: down to 6 − 8 − 1 = −3. A plate over it from 9 up holds it at 9.
func TestConfine(t *testing.T) {
	plate := func(half, bottom, top float64) *Plate {
		g := []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{}, 2*half, 2*half))}
		return &Plate{Component: &Component{ID: "plates.p"}, Outline: g, Solid: g, Bottom: Fixed(bottom), Top: Fixed(top)}
	}
	for _, q := range []struct {
		plates []*Plate
		lo, hi float64
	}{
		{nil, -5, 17},
		{[]*Plate{plate(30, 2, 5)}, 5, 17},
		{[]*Plate{plate(6, 2, 5)}, -3, 17},
		{[]*Plate{plate(30, 2, 5), plate(30, 9, 11)}, 5, 9},
	} {
		a := &Assembly{Plates: q.plates}
		if lo, hi := a.confine(r2.Point{}, 0, 6, 6, 10, 1, 1); math.Abs(lo-q.lo) > 1e-9 || math.Abs(hi-q.hi) > 1e-9 {
			t.Errorf("%d plates: %g to %g, want %g to %g", len(q.plates), lo, hi, q.lo, q.hi)
		}
	}
}

// TestBeyondADisc: 50 of a lead of 2 between places 40 apart bulge 15. From the axis of a disc of 20, 80 off their middle, they are
// √(20² + 80²) = 82.46 away: (2·82.46 - 40)/2 = 62.46, less 15, 20 and 1, leaves 26.46, well below the true 44. Where the
// disc may lie 2 further, 24.46.
func TestBeyondADisc(t *testing.T) {
	s := &Stretch{Hi: 50, B: r3.Vector{X: 40}, circuit: &Circuit{OD: &shapes.Dim{Value: 2}}}
	r := &Rotor{At: r2.Point{X: 20, Y: 80}, Radius: Fixed(20)}
	for _, q := range []struct {
		need, off float64
		want      bool
	}{{26.4, 0, true}, {26.5, 0, false}, {24.4, 2, true}, {24.5, 2, false}} {
		r.Place = &shapes.Dim{Plus: q.off, Minus: q.off}
		if got := s.Beyond(r, q.need); got != q.want {
			t.Errorf("%+v: %v", q, got)
		}
	}
}

// TestHeightOfWiresSideBySide: of a stretch in four pieces the last two are 1.8 high, where wires lie side by side; the others are as high as
// the bundle of 4.6 is thick.
func TestHeightOfWiresSideBySide(t *testing.T) {
	s := &Stretch{flat: []float64{0, 0, 1.8, 1.8}}
	for _, q := range []struct{ from, to, want float64 }{{0, 0.25, 2.3}, {0.25, 0.75, 2.3}, {0.5, 1, 0.9}, {0.75, 1, 0.9}, {0, 1, 2.3}} {
		if got := s.high(q.from, q.to, 2.3); math.Abs(got-q.want) > 1e-12 {
			t.Errorf("from %g to %g: %g, want %g", q.from, q.to, got, q.want)
		}
	}
	r := &Route{Legs: []Leg{{Kind: LegAlong}, {Kind: LegDrop}, {Kind: LegLeave}}}
	r.flatten(len(r.Legs)-1, -1, 1.8)
	r.flatten(0, 1, 1.2) // it begins on a plate: nothing leaves a pad there
	for i, want := range []float64{0, 1.8, 1.8} {
		if got := r.Legs[i].Flat; math.Abs(got-want) > 1e-12 {
			t.Errorf("leg %d: %g, want %g", i, got, want)
		}
	}
}

// TestSurplusOfAPackLead: an own lead of 220 with 30 behind its plug, on a straight way of 146 with 5 of slack: 99 are left over, and the plug
// can swing. A lead of 80 between ties at 70 and 90 leaves nothing over, and ties so near hold its plug; at 60 and 100 they do not.
func TestSurplusOfAPackLead(t *testing.T) {
	for _, q := range []struct {
		hung, lo, hi, more float64
		hangs              bool
	}{{220, 0, 146, 99, true}, {80, 70, 90, 0, false}, {80, 60, 100, 0, true}, {80, 100, 146, 0, false}} {
		c := &Circuit{Mate: &shapes.Part{}, Hung: &shapes.Dim{Value: q.hung}, Slack: &shapes.Dim{Value: 5}, OD: &shapes.Dim{Value: 4}}
		r := &Route{Length: 146, Legs: []Leg{{Kind: LegAlong, Path: line(r2.Point{}, r2.Point{X: 146}), Length: 146}}}
		s := newTrack(r).stretch(c, q.lo, q.hi)
		if math.Abs(s.Surplus()-q.more) > 1e-9 || s.Hangs != q.hangs {
			t.Errorf("%+v: %g left over, hangs %v", q, s.Surplus(), s.Hangs)
		}
	}
}
