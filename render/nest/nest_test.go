package nest

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// check measures what Pack promises: every copy once, none nearer to another than the gap,
// all within the sheet less its margin.
func check(t fataler, pieces []Piece, s Sheet, res Result) {
	t.Helper()
	placed := make([]int, len(pieces))
	shapes := make([]geom.Region, len(res.Placed))
	for i, p := range res.Placed {
		placed[p.Piece]++
		if p.Copy != placed[p.Piece] && res.Sheets == 1 {
			t.Fatalf("copy %d of %s is number %d", placed[p.Piece], pieces[p.Piece].Name, p.Copy)
		}
		if p.Sheet < 0 || p.Sheet >= res.Sheets {
			t.Fatalf("a copy lies on sheet %d of %d", p.Sheet, res.Sheets)
		}
		shapes[i] = pieces[p.Piece].Shape.Transform(p.Pose)
		if math.Abs(shapes[i].Area()-pieces[p.Piece].Shape.Area()) > 1e-6 {
			t.Fatalf("a copy of %s has another area", pieces[p.Piece].Name)
		}
		b := shapes[i].Bound()
		if b.Lo.X < s.Margin-1e-6 || b.Lo.Y < s.Margin-1e-6 || b.Hi.X > s.Width-s.Margin+1e-6 || b.Hi.Y > s.Height-s.Margin+1e-6 {
			t.Fatalf("%s lies from %v to %v on a sheet of %v x %v with a margin of %v", pieces[p.Piece].Name, b.Lo, b.Hi, s.Width, s.Height, s.Margin)
		}
		for k := range i {
			if res.Placed[k].Sheet != p.Sheet {
				continue
			}
			if d := geom.Distance(shapes[k], shapes[i]).Dist; d < s.Gap-1e-6 {
				t.Fatalf("%s and %s are %.9f apart, the gap is %v", pieces[res.Placed[k].Piece].Name, pieces[p.Piece].Name, d, s.Gap)
			}
		}
	}
	for i, p := range pieces {
		if placed[i]+res.Left[i] != p.Count {
			t.Fatalf("%s: %d placed and %d left over of %d", p.Name, placed[i], res.Left[i], p.Count)
		}
	}
}

func square(side float64) geom.Region { return geom.RegionOf(geom.Rectangle(r2.Point{}, side, side)) }

// Four squares of 50 on 106 x 106: 2 + 50 + 2 + 50 + 2 = 106 both ways. A tenth less, or a
// fifth square, needs another sheet.
func TestExactFit(t *testing.T) {
	s := Sheet{Width: 106, Height: 106, Margin: 2, Gap: 2}
	for _, c := range []struct {
		count  int
		width  float64
		sheets int
		on     []int // of the first sheets
	}{{4, 106, 1, []int{4}}, {5, 106, 2, []int{4, 1}}, {4, 105.9, 2, []int{2, 2}}, {4, 53.9, 0, nil}, {1, 54, 1, []int{1}}} {
		s.Width = c.width
		pieces := []Piece{{Name: "square", Shape: square(50), Count: c.count}}
		res, err := Pack(pieces, s)
		if err != nil {
			t.Fatal(err)
		}
		check(t, pieces, s, res)
		got := make([]int, res.Sheets)
		for _, p := range res.Placed {
			got[p.Sheet]++
		}
		if res.Sheets != c.sheets || fmt.Sprint(got) != fmt.Sprint(append([]int{}, c.on...)) {
			t.Errorf("%d squares on %v x 106: %v on %d sheets, want %v", c.count, c.width, got, res.Sheets, c.on)
		}
	}
}

// What may turn by half turns only stays along the sheet: a bar of 90 x 20 does not go onto a sheet
// of 40 x 110, and turned by a quarter it does.
func TestGrain(t *testing.T) {
	s := Sheet{Width: 40, Height: 110, Margin: 5, Gap: 2}
	bar := geom.RegionOf(geom.Rectangle(r2.Point{}, 90, 20))
	for _, c := range []struct {
		turns []int
		left  int
	}{{nil, 0}, {[]int{0, 180}, 1}, {[]int{90, 270}, 0}} {
		pieces := []Piece{{Name: "bar", Shape: bar, Count: 1, Turns: c.turns}}
		res, err := Pack(pieces, s)
		if err != nil {
			t.Fatal(err)
		}
		check(t, pieces, s, res)
		if res.Left[0] != c.left {
			t.Errorf("turned by %v: %d left over, want %d", c.turns, res.Left[0], c.left)
		}
		for _, p := range res.Placed {
			if p.Turn != 90 && p.Turn != 270 {
				t.Errorf("it lies turned by %d", p.Turn)
			}
		}
	}
}

// Two L of 60 x 60 with arms 20 wide reach into each other: with gap and margin of 2 their boxes would need 2 + 60 + 2 +
// 60 + 2 = 126, but the second L, turned by half, fits into the bay of the first, 20 + 2 up and to the right: 2 + 22 + 60 + 2
// = 86 both ways.
func TestPiecesReachIntoBays(t *testing.T) {
	l, err := geom.Polygon([]r2.Point{{}, {X: 60}, {X: 60, Y: 20}, {X: 20, Y: 20}, {X: 20, Y: 60}, {Y: 60}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	pieces := []Piece{{Name: "corner", Shape: geom.RegionOf(l), Count: 2}}
	s := Sheet{Width: 86, Height: 86, Margin: 2, Gap: 2}
	res, err := Pack(pieces, s)
	if err != nil {
		t.Fatal(err)
	}
	check(t, pieces, s, res)
	if res.Sheets != 1 {
		t.Errorf("%d sheets, want one: %+v", res.Sheets, res.Placed)
	}
	// A disc of 30 lies in a window of 40.
	frame := geom.RegionOf(geom.Rectangle(r2.Point{}, 60, 60), geom.Rectangle(r2.Point{}, 40, 40).Reverse())
	pieces = []Piece{{Name: "frame", Shape: frame, Count: 1}, {Name: "disc", Shape: geom.RegionOf(geom.Circle(r2.Point{}, 15)), Count: 1}}
	s = Sheet{Width: 64, Height: 64, Margin: 2, Gap: 2}
	if res, err = Pack(pieces, s); err != nil {
		t.Fatal(err)
	}
	check(t, pieces, s, res)
	if res.Sheets != 1 {
		t.Errorf("the disc does not lie in the window: %+v", res.Placed)
	}
}

func TestPackRefuses(t *testing.T) {
	good := Sheet{Width: 100, Height: 100, Margin: 2, Gap: 2}
	one := []Piece{{Name: "square", Shape: square(10), Count: 1}}
	for name, c := range map[string]struct {
		pieces []Piece
		s      Sheet
	}{
		"no width":        {one, Sheet{Height: 100, Gap: 1}},
		"not a number":    {one, Sheet{Width: math.NaN(), Height: 100, Gap: 1}},
		"without end":     {one, Sheet{Width: math.Inf(1), Height: 100, Gap: 1}},
		"no gap":          {one, Sheet{Width: 100, Height: 100}},
		"margin below 0":  {one, Sheet{Width: 100, Height: 100, Gap: 1, Margin: -1}},
		"an empty piece":  {[]Piece{{Name: "nothing", Count: 1}}, good},
		"too many":        {[]Piece{{Name: "square", Shape: square(10), Count: MaxCopies + 1}}, good},
		"too many in all": {[]Piece{{Name: "a", Shape: square(1), Count: MaxCopies}, {Name: "b", Shape: square(1), Count: 1}}, good},
		"less than none":  {[]Piece{{Name: "square", Shape: square(10), Count: -1}}, good},
	} {
		if _, err := Pack(c.pieces, c.s); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if res, err := Pack(nil, good); err != nil || res.Sheets != 0 {
		t.Errorf("nothing at all: %+v, %v", res, err)
	}
}

// Plates of any form, turned and mixed: the promises hold, and a second run lays them the
// same way.
func TestPackKeepsItsPromises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(4, 70)
		var pieces []Piece
		for i := range rapid.IntRange(1, 4).Draw(t, "kinds") {
			w, h := size.Draw(t, "w"), size.Draw(t, "h")
			c := r2.Point{X: rapid.Float64Range(-90, 90).Draw(t, "x"), Y: rapid.Float64Range(-90, 90).Draw(t, "y")}
			var shape geom.Region
			switch rapid.IntRange(0, 4).Draw(t, "form") {
			case 0:
				shape = geom.RegionOf(geom.Rectangle(c, w, h))
			case 1:
				shape = geom.RegionOf(geom.RoundedRectangle(c, w, h, min(w, h)/3), geom.Circle(c, min(w, h)/4))
			case 2:
				shape = geom.RegionOf(geom.Circle(c, w/2))
			case 3:
				shape = geom.RegionOf(geom.Bar(c, c.Add(r2.Point{X: w, Y: h}), 3, 1+w/9))
			default:
				l, err := geom.Polygon([]r2.Point{c, c.Add(r2.Point{X: w}), c.Add(r2.Point{X: w, Y: h / 4}), c.Add(r2.Point{X: w / 4, Y: h / 3}), c.Add(r2.Point{Y: h})}, nil)
				if err != nil {
					t.Skip("no polygon")
				}
				shape = geom.RegionOf(l)
			}
			p := Piece{Name: fmt.Sprint("piece ", i), Shape: shape, Count: rapid.IntRange(0, 5).Draw(t, "count")}
			if rapid.Bool().Draw(t, "grain") {
				p.Turns = []int{0, 180}
			}
			pieces = append(pieces, p)
		}
		s := Sheet{Width: rapid.Float64Range(30, 200).Draw(t, "sheet w"), Height: rapid.Float64Range(30, 200).Draw(t, "sheet h"),
			Margin: rapid.Float64Range(0, 8).Draw(t, "margin"), Gap: rapid.Float64Range(0.2, 6).Draw(t, "gap")}
		res, err := Pack(pieces, s)
		if err != nil {
			t.Fatal(err)
		}
		check(t, pieces, s, res)
		for _, p := range res.Placed {
			if len(pieces[p.Piece].Turns) > 0 && p.Turn%180 != 0 {
				t.Fatalf("%s lies across its grain", pieces[p.Piece].Name)
			}
		}
		for i, p := range pieces {
			// Left over is only what no empty sheet takes: its box is too large both ways.
			b := p.Shape.Bound().Size()
			w, h := s.Width-2*s.Margin, s.Height-2*s.Margin
			small := b.X <= w-1e-6 && b.Y <= h-1e-6 || len(p.Turns) == 0 && b.Y <= w-1e-6 && b.X <= h-1e-6
			if small && res.Left[i] > 0 {
				t.Fatalf("%s of %v is left over from a sheet of %v x %v", p.Name, b, w, h)
			}
		}
		again, err := Pack(pieces, s)
		if err != nil || fmt.Sprint(again) != fmt.Sprint(res) {
			t.Fatalf("two runs differ: %v, %v", again, res)
		}
	})
}

// As many copies as are taken, on a sheet of a workshop, in seconds at most.
func TestManyCopies(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	l := geom.Bar(r2.Point{}, r2.Point{X: 90, Y: 12}, 16, 11)
	pieces := []Piece{{Name: "arm", Shape: geom.RegionOf(l, geom.Circle(r2.Point{X: 80, Y: 10}, 3)), Count: MaxCopies}}
	s := Sheet{Width: 600, Height: 400, Margin: 5, Gap: 3}
	start := time.Now()
	res, err := Pack(pieces, s)
	if err != nil {
		t.Fatal(err)
	}
	took := time.Since(start)
	check(t, pieces, s, res)
	t.Logf("%d copies on %d sheets in %v", len(res.Placed), res.Sheets, took)
	if took > time.Minute { // some ten times what an idle machine takes
		t.Errorf("it took %v", took)
	}
}
