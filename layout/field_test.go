package layout

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func straight(length float64) []r3.Vector {
	return []r3.Vector{{X: -length / 2}, {X: length / 2}}
}

func TestFieldByHand(t *testing.T) {
	for _, c := range []struct {
		name  string
		got   r3.Vector
		want  r3.Vector
		slack float64
	}{
		// 0.2·40/0.05 = 160 µT beside an endless wire; of 2 m to either side sin = 2000/√(2000² + 50²) = 0.999688.
		// Along +x, a point to the left (+y) sees the field point up.
		{"a long wire", FieldOfLead(straight(4000), 40, r3.Vector{Y: 50}), r3.Vector{Z: 159.950}, 0.001},
		// Two leads at y = ±2.5: 200·40·(1/97.5 − 1/102.5) = 8000·0.000500313 = 4.0025 µT in their plane: 0.2·40·0.005/0.1² = 4.
		{"a long pair in its plane", FieldOfPair(straight(8000), 5, 40, r3.Vector{Y: 100}), r3.Vector{Z: 4.0025}, 0.002},
		// Over it 200·I·s/(r² + s²/4) = 40000/10006.25 = 3.9975 µT, downwards: the left lead carries forwards.
		{"a long pair from above", FieldOfPair(straight(8000), 5, 40, r3.Vector{Z: 100}), r3.Vector{Z: -3.9975}, 0.002},
		// A square loop of side a: B = μ₀·I·2√2/(π·a) = 4π·100·10·2.828427/(π·100) = 113.137 µT in its middle.
		{"a square loop", FieldOfPair(straight(100), 100, 10, r3.Vector{}), r3.Vector{Z: -113.137}, 0.001},
		// On the lead, and on its axis beyond the end.
		{"on the wire", FieldOfSegment(r3.Vector{}, r3.Vector{X: 10}, r3.Vector{X: 3}, 100), r3.Vector{}, 0},
		{"behind the wire", FieldOfSegment(r3.Vector{}, r3.Vector{X: 10}, r3.Vector{X: 30}, 100), r3.Vector{}, 0},
		{"at its end", FieldOfSegment(r3.Vector{}, r3.Vector{X: 10}, r3.Vector{X: 10}, 100), r3.Vector{}, 0},
		{"no wire", FieldOfPair(nil, 5, 40, r3.Vector{}), r3.Vector{}, 0},
	} {
		if d := c.got.Sub(c.want).Norm(); !(d <= c.slack) {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
}

// TestFieldOfPairFallsWithTheSquare: twice as far a quarter, whatever the bends.
func TestFieldOfPairFallsWithTheSquare(t *testing.T) {
	near := FieldOfPair(straight(20000), 4, 30, r3.Vector{Z: 60}).Norm()
	far := FieldOfPair(straight(20000), 4, 30, r3.Vector{Z: 120}).Norm()
	if math.Abs(near/far-4) > 0.01 {
		t.Errorf("%g and %g: %g times as much, want 4", near, far, near/far)
	}
}

// TestFieldIsThatOfItsPieces: cutting a segment changes nothing.
func TestFieldIsThatOfItsPieces(t *testing.T) {
	a, m, b, p := r3.Vector{X: -3, Y: 2, Z: 1}, r3.Vector{X: 1, Y: 4, Z: 3}, r3.Vector{X: 5, Y: 6, Z: 5}, r3.Vector{X: 2, Y: -7, Z: 4}
	whole := FieldOfSegment(a, b, p, 12)
	parts := FieldOfSegment(a, m, p, 12).Add(FieldOfSegment(m, b, p, 12))
	if whole.Sub(parts).Norm() > 1e-9*whole.Norm() {
		t.Errorf("%v in one, %v in two", whole, parts)
	}
}

func TestLineOfARoute(t *testing.T) {
	// 10 straight, a quarter turn of radius 10 (length 15.708) to the left, then 5 down.
	r := &Route{Legs: []Leg{
		{Kind: LegAlong, Z0: 8, Z1: 8, Length: 10 + 5*math.Pi, Path: geom.Path{Segs: []geom.Seg{
			{A: r2.Point{}, B: r2.Point{X: 10}},
			{A: r2.Point{X: 10}, B: r2.Point{X: 20, Y: 10}, Bulge: math.Tan(math.Pi / 8)},
		}}},
		{Kind: LegDrop, At: r2.Point{X: 20, Y: 10}, Z0: 8, Z1: 3, Length: 5},
	}}
	line := r.Line()
	// Two ends of the line, nine chords of 10° each, and the foot of the drop: 2 + 9 + 1.
	if len(line) != 12 {
		t.Fatalf("%d points, want 12: %v", len(line), line)
	}
	var sum float64
	for i := 1; i < len(line); i++ {
		sum += line[i].Sub(line[i-1]).Norm()
	}
	// The nine chords: 9·2·10·sin 5° = 15.688.
	if want := 10 + 15.688 + 5; math.Abs(sum-want) > 0.001 {
		t.Errorf("%.4f long, want %.3f", sum, want)
	}
	if last := line[len(line)-1]; last != (r3.Vector{X: 20, Y: 10, Z: 3}) {
		t.Errorf("ends at %v", last)
	}
	if (*Route)(nil).Line() != nil {
		t.Error("no route has a line")
	}
}

// TestFieldAgainstIntegration: the closed form against the sum of dl × r / r³ over 4000 short
// pieces, for random segments and places at least 2 mm off them.
func TestFieldAgainstIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-60, 60)
		point := func(name string) r3.Vector {
			return r3.Vector{X: coord.Draw(t, name+"x"), Y: coord.Draw(t, name+"y"), Z: coord.Draw(t, name+"z")}
		}
		a, b, p := point("a"), point("b"), point("p")
		d := b.Sub(a)
		if d.Norm() < 1 {
			t.Skip("no length")
		}
		u := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
		if p.Sub(a.Add(d.Mul(u))).Norm() < 2 {
			t.Skip("too near")
		}
		const pieces = 4000
		var sum r3.Vector
		for i := range pieces {
			r := p.Sub(a.Add(d.Mul((float64(i) + 0.5) / pieces)))
			n := r.Norm()
			sum = sum.Add(d.Mul(1.0 / pieces).Cross(r).Mul(100 * 7 / (n * n * n))) // μ₀/4π = 100 µT·mm/A, 7 A
		}
		got := FieldOfSegment(a, b, p, 7)
		if got.Sub(sum).Norm() > 1e-3*sum.Norm()+1e-6 {
			t.Fatalf("closed %v, integrated %v", got, sum)
		}
	})
}
