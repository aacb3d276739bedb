package render_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/render"
)

// No label lies on another label or on a line that is not its own: over every case, on
// both papers, and with a crowd of findings.
func TestNoOverlaps(t *testing.T) {
	eachSheet(t, func(t *testing.T, _ drawn, s render.Sheet, _ []byte) {
		for _, c := range render.Overlaps(s.List) {
			t.Error(c)
		}
	})
}

// A crowd: thirty findings of different figures round the stack. Labels may then lie on
// thin lines, but never on each other.
func TestCrowdedLabelsStayApart(t *testing.T) {
	c := newCraft()
	var o layout.Outcome
	o.Rule, o.Status = "body-gap", layout.Judged
	for i := range 30 {
		f := faults()[0].Findings[0]
		f.Verdict = layout.Verdict(2 + i%3)
		f.Measured += float64(i)
		a := float64(i) * 0.7
		f.A.X, f.A.Y = 20*math.Cos(a), 20*math.Sin(a)
		f.B = f.A
		f.B.X += 3
		o.Findings = append(o.Findings, f)
	}
	for _, p := range papers {
		sheets, err := render.Sheets(c.asm, []layout.Outcome{o}, render.Options{Paper: p})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range sheets {
			for _, c := range render.Overlaps(s.List) {
				if c.Both {
					t.Errorf("%s %s: %v", p, s.Name, c)
				}
			}
		}
	}
}

func TestOverlapsFindsThem(t *testing.T) {
	head := func(id string) render.Head { return render.Head{Layer: render.Outline, ID: id} }
	text := func(id string, x, y float64) render.Text {
		return render.Text{Head: head(id), At: r2.Point{X: x, Y: y}, Size: 2.5, S: "HHH"}
	}
	for _, c := range []struct {
		name  string
		items []render.Item
		want  int
	}{
		{"two texts on one spot", []render.Item{text("a", 10, 10), text("b", 11, 10.5)}, 1},
		{"two texts of one ID are still two labels", []render.Item{text("a", 10, 10), text("a", 11, 10.5)}, 1},
		{"texts a line apart", []render.Item{text("a", 10, 10), text("b", 10, 14)}, 0},
		{"line through a text", []render.Item{text("a", 10, 10), render.Line{Head: head("b"), A: r2.Point{X: 0, Y: 9}, B: r2.Point{X: 50, Y: 9}}}, 1},
		{"its own line", []render.Item{text("a", 10, 10), render.Line{Head: head("a"), A: r2.Point{X: 0, Y: 9}, B: r2.Point{X: 50, Y: 9}}}, 0},
		{"line under a text", []render.Item{text("a", 10, 10), render.Line{Head: head("b"), A: r2.Point{X: 0, Y: 11.5}, B: r2.Point{X: 50, Y: 11.5}}}, 0},
		{"circle round a text", []render.Item{text("a", 10, 10), render.Circle{Head: head("b"), C: r2.Point{X: 12, Y: 9}, R: 20}}, 0},
		{"circle through a text", []render.Item{text("a", 10, 10), render.Circle{Head: head("b"), C: r2.Point{X: 12, Y: 29}, R: 20}}, 1},
		{"a balloon on a mark", []render.Item{
			render.Balloon{Head: head("a"), At: r2.Point{X: 10, Y: 10}, Dot: r2.Point{X: 10, Y: 10}, No: 1},
			render.Mark{Head: head("b"), At: r2.Point{X: 12, Y: 10}, No: 2, Verdict: layout.Fail}}, 1},
	} {
		got := 0
		for _, k := range render.Overlaps(render.List{W: 100, H: 100, Items: c.items}) {
			if c.name == "a balloon on a mark" && !k.Both {
				continue
			}
			got++
		}
		if got != c.want {
			t.Errorf("%s: %d clashes, want %d", c.name, got, c.want)
		}
	}
}
