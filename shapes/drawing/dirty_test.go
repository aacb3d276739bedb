package drawing

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
)

// wantChanges compares the counts that a file is made for; those not named must be 0.
func wantChanges(t *testing.T, got, want Changes) {
	t.Helper()
	got.Pieces, got.MostMoved, got.LongestEnd, got.EndAt, got.CrumbsAt = 0, 0, 0, r2.Point{}, r2.Point{}
	if got != want {
		t.Errorf("changes\n%+v, want\n%+v", got, want)
	}
}

// Files that are dirty in one way each, all of the box of 60 x 40 mm with or without holes.
func TestDirtyFiles(t *testing.T) {
	plain := square60()
	rounded := want{box: plain.box, area: round60Area}
	hole := square60(holeWant{20, 20, 4, 0})
	for name, c := range map[string]struct {
		text    string
		opt     Options
		want    want
		changes Changes
	}{
		"the whole outline twice": {dxf(box60(), box60()), Options{}, plain, Changes{Doubles: 4}},
		"twice, once reversed":    {dxf(box60(), lw(1, 0, 0, 0, 0, 40, 0, 60, 40, 0, 60, 0, 0)), Options{}, plain, Changes{Doubles: 4}},
		"three times with arcs":   {dxf(lw(1, round60()...), old(1, round60()...), lw(1, round60()...)), Options{}, rounded, Changes{Doubles: 16}},
		"a hole twice":            {dxf(box60(), circle(20, 20, 4), circle(20, 20, 4)), Options{}, hole, Changes{Doubles: 2}},
		"a piece twice, reversed": {dxf(box60(), line(60, 0, 0, 0)), Options{}, plain, Changes{Doubles: 1}},
		"twice, 0.4 µm apart":     {dxf(box60(), lw(1, 0, 0.0004, 0, 60, 0.0004, 0, 60, 40.0004, 0, 0, 40.0004, 0)), Options{}, want{box: plain.box, area: 2400, within: 1e-3}, Changes{Doubles: 4, MovedEnds: 8}},
		// The short line lies on the lower side, whose middle part is then drawn twice.
		"a loose piece on the outline":      {dxf(box60(), line(10, 0, 30, 0)), Options{}, plain, Changes{OnOthers: 1, Touches: 2}},
		"a loose piece over a corner's end": {dxf(box60(), line(40, 0, 60, 0)), Options{}, plain, Changes{OnOthers: 1, Touches: 1}},
		"pieces on pieces on the outline":   {dxf(box60(), line(10, 0, 30, 0), line(50, 0, 20, 0)), Options{}, plain, Changes{OnOthers: 4, Touches: 6}},
		"an arc that lies on a circle":      {dxf(box60(), circle(20, 20, 10), arc(20, 20, 5, 20, 80)), Options{}, square60(holeWant{20, 20, 10, 0}), Changes{OnOthers: 1, Touches: 2}},
		// 20° to 250° passes the half circles' joint at 180°.
		"a long arc that lies on a circle": {dxf(box60(), circle(20, 20, 10), arc(20, 20, 5, 20, 250)), Options{}, square60(holeWant{20, 20, 10, 0}), Changes{OnOthers: 3, Touches: 4}},
		"a circle drawn as arcs, shifted":  {dxf(box60(), arc(20, 20, 5, 0, 120), arc(20, 20, 5, 120, 240), arc(20, 20, 5, 240, 360), arc(20, 20, 5, 60, 180)), Options{}, square60(holeWant{20, 20, 10, 0}), Changes{OnOthers: 2, Touches: 3, Circles: 1}},
		"an outline of overlapping lines":  {dxf(line(0, 0, 40, 0), line(20, 0, 60, 0), line(60, 0, 60, 30), line(60, 10, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0)), Options{}, plain, Changes{OnOthers: 2, Touches: 4}},
		"crumbs":                           {dxf(box60(), line(30, 20, 30.02, 20), line(31, 21, 31, 21.03), arc(50, 50, 0.004, 0, 360)), Options{}, plain, Changes{Crumbs: 4}},
		"a piece shorter than the tolerance in the chain": {dxf(line(0, 0, 60, 0), line(60, 0, 60, 0.0006), line(60, 0.0006, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0)), Options{},
			plain, Changes{Short: 1, MovedEnds: 2}},
		// Ends 0.8 µm apart and a piece of 0.6 µm between them and a third end.
		"a short piece between ends that are not quite there": {dxf(line(0, 0, 59.9994, 0), line(59.9994, 0, 60, 0), line(60.0008, 0, 60.0008, 40), line(60.0008, 40, 0, 40), line(0, 40, 0, 0)), Options{},
			want{box: plain.box, area: 2400, within: 2e-3}, Changes{Short: 1, MovedEnds: 2}},
		"a touch in the middle of a line":     {dxf(line(-5, 0, 65, 0), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0)), Options{}, plain, Changes{Touches: 2, DeadEnds: 2}},
		"overshoots at every corner":          {dxf(line(-1, 0, 61, 0), line(60, -1, 60, 41), line(61, 40, -1, 40), line(0, 41, 0, -1)), Options{}, plain, Changes{Crossings: 4, DeadEnds: 8}},
		"an overshoot of two micrometres":     {dxf(line(0, 0, 60.002, 0), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0)), Options{}, plain, Changes{Touches: 1, DeadEnds: 1}},
		"an overshoot of an arc":              {dxf(lw(0, 0, 5, 0, 0, 40, 0, 60, 40, 0, 60, 0, 0, 4, 0, 0), arc(5, 5, 5, 170, 280)), Options{}, want{box: plain.box, area: 2400 - (4-math.Pi)*25/4}, Changes{Touches: 1, Crossings: 1, DeadEnds: 3}},
		"a line that crosses a hole":          {dxf(box60(), circle(20, 20, 4), line(16, 20.5, 24, 20.5)), Options{}, hole, Changes{Crossings: 2, DeadEnds: 2, Inner: 1}},
		"a lead-in from the edge to a hole":   {dxf(box60(), circle(20, 20, 4), line(20, 0, 20, 18)), Options{}, hole, Changes{Touches: 2, Bridges: 1}},
		"a fold line from edge to edge":       {dxf(box60(), line(30, 0, 30, 40)), Options{}, plain, Changes{Touches: 2, Inner: 1}},
		"centre lines inside":                 {dxf(box60(), line(10, 20, 50, 20), line(30, 5, 30, 35)), Options{}, plain, Changes{Crossings: 1, DeadEnds: 4}},
		"a tangent line runs on past its arc": {dxf(line(5, 0, 60, 0), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 5), arc(5, 5, 5, 180, 270), line(5, 0, 2, 0)), Options{}, want{box: plain.box, area: 2400 - (4-math.Pi)*25/4}, Changes{DeadEnds: 1}},
		"overlapping rectangles are one form": {dxf(lw(1, 0, 0, 0, 60, 0, 0, 60, 20, 0, 0, 20, 0), lw(1, 0, 10, 0, 60, 10, 0, 60, 40, 0, 0, 40, 0)), Options{}, plain, Changes{OnOthers: 2, Touches: 4, Inner: 2}},
		"a gap under the tolerance":           {dxf(line(0, 0, 60, 0), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0.0009)), Options{}, plain, Changes{MovedEnds: 1}},
		"a gap closed by a wider tolerance":   {dxf(line(0, 0, 60, 0), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0.08)), Options{EndTolerance: 0.1}, plain, Changes{MovedEnds: 1}},
		"a hole of four arcs":                 {dxf(box60(), arc(20, 20, 2, 0, 90), arc(20, 20, 2, 90, 180), arc(20, 20, 2, 180, 270), arc(20, 20, 2, 270, 0)), Options{}, hole, Changes{Circles: 1}},
		"a hole of two arcs":                  {dxf(box60(), arc(20, 20, 2, 45, 225), arc(20, 20, 2, 225, 45)), Options{}, hole, Changes{}},
		"a hole of four arcs, rounded":        {dxf(box60(), arc(20.002, 20, 2, 0, 90), arc(20, 20.002, 2, 90, 180), arc(19.998, 20, 2, 180, 270), arc(20, 19.998, 2, 270, 0)), Options{EndTolerance: 0.01}, want{box: plain.box, area: 2400 - disc(4), within: 5e-3, round: hole.round}, Changes{Circles: 1, MovedEnds: 4}},
		"a countersunk hole":                  {dxf(box60(), circle(20, 20, 3.2), circle(20, 20, 6)), Options{}, square60(holeWant{20, 20, 3.2, 6}), Changes{Sunk: 1}},
		"a countersink off by 0.04":           {dxf(box60(), circle(20, 20, 3.2), circle(20.04, 20, 6)), Options{}, square60(holeWant{20, 20, 3.2, 6}), Changes{Sunk: 1}},
		"a hole with two circles round it":    {dxf(box60(), circle(20, 20, 3.2), circle(20, 20, 6), circle(20, 20, 7)), Options{}, square60(holeWant{20, 20, 3.2, 7}), Changes{Sunk: 1}},
		"loops that enclose nothing":          {dxf(box60(), lw(1, 20, 20, 0, 40, 20, 0, 40, 20.002, 0, 20, 20.002, 0)), Options{}, plain, Changes{Slivers: 1}},
		"everything at once": {dxf(box60(), box60(), line(10, 0, 30, 0), line(60, 40, 62, 40), line(30, 20, 30.02, 20), circle(20, 20, 4), line(60, 0, 0, 0), arc(20, 20, 2, 10, 50)), Options{},
			hole, Changes{Doubles: 5, OnOthers: 2, Touches: 4, DeadEnds: 1, Crumbs: 1}},
	} {
		t.Run(name, func(t *testing.T) {
			_, r := one(t, name, c.text, c.opt, c.want)
			wantChanges(t, r.Changes, c.changes)
		})
	}
}

// What does not close is told with the place and width of the gap, and the holes come
// all the same.
func TestOpenOutlines(t *testing.T) {
	holes := circle(20, 20, 3.2) + circle(40, 20, 3.2) + circle(40, 20, 6)
	ends := func(t *testing.T, p *Part, want ...OpenEnd) {
		t.Helper()
		if p.Closed() || len(p.Open) != len(want) {
			t.Fatalf("closed %v, ends %v, want %v", p.Closed(), p.Open, want)
		}
		for i, w := range want {
			g := p.Open[i]
			if g.At.Sub(w.At).Norm() > 1e-9 || g.To.Sub(w.To).Norm() > 1e-9 || math.Abs(g.Gap-w.Gap) > 1e-9 || w.Line > 0 && g.Line != w.Line {
				t.Errorf("end %d: %+v, want %+v", i, g, w)
			}
		}
	}
	pt := func(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }
	w := square60(holeWant{20, 20, 3.2, 0}, holeWant{40, 20, 3.2, 6})
	w.area = 0
	t.Run("one gap", func(t *testing.T) {
		p, r := one(t, "gap", dxf(line(0, 0, 60, 0), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0.5), holes), Options{}, w)
		// The first line begins in the file's line 5; the fourth 3·16 lines later.
		ends(t, p, OpenEnd{pt(0, 0), pt(0, 0.5), 0.5, 5}, OpenEnd{pt(0, 0.5), pt(0, 0), 0.5, 53})
		if s := strings.Join(r.Warnings, "\n"); !strings.Contains(s, "open end at (0.000, 0.500), drawn in line 53, 0.5000 mm from the next at (0.000, 0.000)") {
			t.Errorf("warnings %q", s)
		}
	})
	t.Run("a gap just over the tolerance", func(t *testing.T) {
		p, _ := one(t, "gap", dxf(line(0, 0, 60, 0), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0.0015), holes), Options{}, w)
		ends(t, p, OpenEnd{pt(0, 0), pt(0, 0.0015), 0.0015, 0}, OpenEnd{pt(0, 0.0015), pt(0, 0), 0.0015, 0})
	})
	t.Run("two gaps", func(t *testing.T) {
		p, _ := one(t, "gaps", dxf(line(0, 0, 60, 0), line(60, 0, 60, 39), line(60, 40, 0, 40), line(0, 40, 0, 0.5), holes), Options{}, w)
		ends(t, p, OpenEnd{pt(0, 0), pt(0, 0.5), 0.5, 0}, OpenEnd{pt(60, 39), pt(60, 40), 1, 0}, OpenEnd{pt(60, 40), pt(60, 39), 1, 0}, OpenEnd{pt(0, 0.5), pt(0, 0), 0.5, 0})
	})
	t.Run("closed parts beside it", func(t *testing.T) {
		d, _ := mustRead(t, "beside", dxf(line(0, 0, 60, 0), line(60, 0, 60, 40), line(60, 40, 0, 40), line(0, 40, 0, 0.5), holes, lw(1, 100, 0, 0, 120, 0, 0, 120, 10, 0, 100, 10, 0)), Options{})
		if len(d.Parts) != 2 || d.Parts[0].Closed() || !d.Parts[1].Closed() || math.Abs(d.Parts[1].Area()-200) > 1e-9 {
			t.Fatalf("parts %v", d.Parts)
		}
		compare(t, &d.Parts[0], w)
	})
	t.Run("with a tail that touches a hole", func(t *testing.T) {
		// The open edge hangs on the hole by a line, so that all of it is one dead end.
		_, r, err := Read("tail", []byte(dxf(line(0, 0, 60, 0), line(60, 0, 60, 40), line(60, 40, 0, 40), line(60, 20, 22, 20), circle(20, 20, 4))), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if s := strings.Join(r.Warnings, "\n"); !strings.Contains(s, "leads nowhere") {
			t.Errorf("warnings %q", s)
		}
	})
}

// Several parts in one file are listed, the largest first; a part in a hole is a part.
func TestSeveralParts(t *testing.T) {
	arm := func(x float64) string {
		return lw(1, x, 0, 0, x+10, 0, 0, x+10, 30, 0, x, 30, 0) + circle(x+5, 25, 3) + circle(x+5, 15, 3)
	}
	d, _ := mustRead(t, "parts", dxf(arm(100), box60(), arm(200), circle(20, 20, 20), circle(20, 20, 18), circle(20, 20, 4), lw(1, 35, 5, 0, 55, 5, 0, 55, 35, 0, 35, 35, 0), lw(1, 40, 10, 0, 50, 10, 0, 50, 20, 0, 40, 20, 0), circle(45, 15, 4)), Options{})
	// In the box: a hole of 20, in it a ring of 18 with a hole of 4 (which is less than a quarter
	// of 18: a washer, not a countersink); a window of 20 x 30 with a plate of 10 x 10 in it.
	want := []string{
		"part 1: 60.00 x 40.00 mm, 1485.8 mm², 2 holes", // 2400 - 100π - 600
		"part 2: 18.00 x 18.00 mm, 241.9 mm², 1 hole",   // 81π - 4π
		"part 3: 10.00 x 30.00 mm, 285.9 mm², 2 holes",  // 300 - 2·2.25π
		"part 4: 10.00 x 30.00 mm, 285.9 mm², 2 holes",
		"part 5: 10.00 x 10.00 mm, 87.4 mm², 1 hole", // 100 - 4π
	}
	if len(d.Parts) != len(want) {
		t.Fatalf("%d parts, want %d: %v", len(d.Parts), len(want), d.Parts)
	}
	byText := map[string]int{}
	for _, p := range d.Parts {
		byText[p.String()]++
	}
	for _, w := range want {
		if byText[w] != 1 {
			t.Errorf("no part is %q: %v", w, d.Parts)
		}
	}
	if d.Part("part 2") != &d.Parts[1] || d.Part("") != &d.Parts[0] || d.Part("part 9") != nil {
		t.Error("parts are not found by name")
	}
}

// A hole that touches the edge is told; the outline is delivered.
func TestFaultyPart(t *testing.T) {
	p, r := func() (*Part, *Report) {
		d, r := mustRead(t, "fault", dxf(box60(), lw(1, 30, 0, 0, 33, 6, 0, 27, 6, 0)), Options{})
		return &d.Parts[0], r
	}()
	if !strings.Contains(p.Fault, "touches") || !strings.Contains(strings.Join(r.Warnings, "\n"), "part 1 cannot be cut as it is") {
		t.Errorf("fault %q, warnings %q", p.Fault, r.Warnings)
	}
	// An outline drawn twice, the second 0.1 inside: a hole of 59.8 x 39.8 leaves 2400 - 2380.04
	// over a perimeter of 199.2, a rim of 0.100 mm.
	_, r = mustRead(t, "twice", dxf(box60(), lw(1, .1, .1, 0, 59.9, .1, 0, 59.9, 39.9, 0, .1, 39.9, 0)), Options{})
	if s := strings.Join(r.Warnings, "\n"); !strings.Contains(s, "leaves a rim of 0.100 mm") {
		t.Errorf("warnings %q", r.Warnings)
	}
}
