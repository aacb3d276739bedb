package render

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A hatched area is covered by lines of total length area / pitch, up to one pitch at the
// rim. A square of 20 mm less a hole of 10 mm is 300 mm²; at a pitch of 0.5 mm that is
// 600 mm of line. Every line lies inside.
func TestHatch(t *testing.T) {
	outer, hole := box(0, 0, 20, 20), box(5, 5, 15, 15)
	for _, angle := range []float64{0, 30, 45, 135} {
		sum := 0.0
		expand(Hatch{Loops: [][]geom.Vertex{outer.Vertices(), hole.Vertices()}, Angle: angle, Pitch: 0.5}, func(it Item) {
			l := it.(Line)
			sum += l.B.Sub(l.A).Norm()
			mid := l.A.Add(l.B).Mul(0.5)
			if !outer.Contains(mid) || hole.Contains(mid) {
				t.Errorf("at %v°: line through %v lies outside", angle, mid)
			}
			dir := l.B.Sub(l.A)
			sn, cs := math.Sincos(angle * math.Pi / 180)
			if off := math.Abs(dir.X*sn - dir.Y*cs); off > 1e-9 {
				t.Errorf("at %v°: line along %v", angle, dir)
			}
			if l.Layer != Section {
				t.Errorf("hatching is on layer %v", l.Layer)
			}
		})
		if math.Abs(sum-600) > 12 {
			t.Errorf("at %v°: %.1f mm of line, want 600", angle, sum)
		}
	}
	expand(Hatch{Loops: [][]geom.Vertex{outer.Vertices()}, Pitch: 0}, func(Item) { t.Error("a pitch of 0 drew something") })
}

// A dimension has its line from P to Q, extension lines that start 1 mm off the points and
// run 2 mm beyond the dimension line, and two arrowheads with their tips on P and Q.
func TestDimParts(t *testing.T) {
	d := Dim{A: r2.Point{X: 0, Y: 20}, B: r2.Point{X: 40, Y: 20}, P: r2.Point{X: 0, Y: 5}, Q: r2.Point{X: 40, Y: 5}, S: "40"}
	var lines []Line
	var tips []r2.Point
	var texts []Text
	expand(d, func(it Item) {
		switch v := it.(type) {
		case Line:
			lines = append(lines, v)
		case Path:
			tips = append(tips, v.V[0].P)
		case Text:
			texts = append(texts, v)
		}
	})
	if len(lines) != 3 || len(tips) != 2 || len(texts) != 1 {
		t.Fatalf("%d lines, %d heads, %d texts; want 3, 2, 1", len(lines), len(tips), len(texts))
	}
	if e := lines[0]; e.A.Y != 19 || e.B.Y != 3 {
		t.Errorf("extension line from %v to %v, want y 19 to 3", e.A, e.B)
	}
	if tips[0] != d.P || tips[1] != d.Q {
		t.Errorf("arrow tips at %v, want on P and Q", tips)
	}
	if b := texts[0].box(); b.Hi.Y > 5+0.1 || math.Abs(b.Center().X-20) > 1e-9 {
		t.Errorf("the text fills %v, want above the line's middle", b)
	}
	// Too short for its text: the heads turn in and the text stands beyond the end.
	s := Dim{P: r2.Point{X: 0}, Q: r2.Point{X: 2}, S: "2 tip gap"}
	s.fitText(TextWidth(s.S, small))
	if !s.Outside || !s.Moved || s.text().box().Lo.X < 2 {
		t.Errorf("a short dimension keeps its text between the heads: %+v", s)
	}
}

func TestMarksDiffer(t *testing.T) {
	if w, h := (Mark{No: 7, Verdict: 2}).size(); w < markHalf || h != markHalf {
		t.Errorf("a mark is %v x %v", w, h)
	}
	short, _ := Mark{No: 7, Verdict: 2}.size()
	long, _ := Mark{No: 777, Verdict: 2}.size()
	if long <= short {
		t.Error("a mark does not grow with its number")
	}
}
