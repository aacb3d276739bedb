package drawing

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
)

// ringOf writes n holes of a diameter evenly round a circle, the k-th moved by off[k].
func ringOf(x, y, circleD float64, n int, turn, d float64, off ...[2]float64) string {
	s := ""
	for k := range n {
		a := (turn + 360*float64(k)/float64(n)) * math.Pi / 180
		p := [2]float64{x + circleD/2*math.Cos(a), y + circleD/2*math.Sin(a)}
		if k < len(off) {
			p[0] += off[k][0]
			p[1] += off[k][1]
		}
		s += circle(p[0], p[1], d)
	}
	return s
}

func bigPlate() string { return lw(1, 0, 0, 0, 200, 0, 0, 200, 100, 0, 0, 100, 0) }

func TestPatterns(t *testing.T) {
	sq := func(side float64) float64 { return side * math.Sqrt2 }
	for name, c := range map[string]struct {
		holes string
		want  []string // names
		turn  float64  // of the first, degrees
	}{
		"a motor":                         {ringOf(50, 50, 16, 4, 0, 3.2), []string{"16 mm bolt circle"}, 0},
		"a motor turned by 17°":           {ringOf(50, 50, 16, 4, 17, 3.2), []string{"16 mm bolt circle"}, 17},
		"a board":                         {ringOf(50, 50, sq(30.5), 4, 45, 3.2), []string{"30.5 mm square"}, 0},
		"a board turned by 10°":           {ringOf(50, 50, sq(30.5), 4, 55, 3.2), []string{"30.5 mm square"}, 10},
		"a board turned by 45°":           {ringOf(50, 50, sq(25.5), 4, 0, 2.2), []string{"25.5 mm square"}, 45},
		"off by 0.07 each":                {ringOf(50, 50, sq(20), 4, 45, 2.2, [2]float64{.07, 0}, [2]float64{0, .07}, [2]float64{-.05, -.05}, [2]float64{0, -.07}), []string{"20 mm square"}, 0},
		"16 mm as a square":               {ringOf(50, 50, sq(16), 4, 45, 2), []string{"16 mm square"}, 0},
		"three holes":                     {ringOf(50, 50, 6.6, 3, 90, 1.6), []string{"6.6 mm bolt circle"}, 90},
		"a square of no usual size":       {ringOf(50, 50, sq(23), 4, 45, 2.2), []string{"23.00 mm square"}, 0},
		"six holes":                       {ringOf(50, 50, 25, 6, 0, 3), []string{"25 mm bolt circle"}, 0},
		"two boards about one middle":     {ringOf(50, 50, sq(30.5), 4, 45, 3.2) + ringOf(50, 50, sq(20), 4, 45, 3.2), []string{"20 mm square", "30.5 mm square"}, 0},
		"two motors":                      {ringOf(30, 50, 16, 4, 45, 3.2) + ringOf(170, 50, 12, 4, 0, 2.2), []string{"16 mm bolt circle", "12 mm bolt circle"}, 45},
		"a motor with 16 and 19":          {ringOf(50, 50, 16, 4, 0, 3.2) + ringOf(50, 50, 19, 4, 45, 3.2), []string{"16 mm bolt circle", "19 mm bolt circle"}, 0},
		"holes of different size":         {circle(58, 50, 3.2) + circle(42, 50, 3.2) + circle(50, 58, 3.2) + circle(50, 42, 5), nil, 0},
		"one hole 0.3 off":                {ringOf(50, 50, 16, 4, 0, 3.2, [2]float64{.3, .3}), nil, 0},
		"a large square is no pattern":    {ringOf(100, 50, sq(60), 4, 45, 3.2), nil, 0},
		"a motor round its shaft hole":    {ringOf(50, 50, 16, 4, 0, 3.2) + circle(50, 50, 6), []string{"16 mm bolt circle"}, 0},
		"splines as holes":                {circleSpline(42, 50, 1.6, 0) + circleSpline(58, 50, 1.6, 0) + circleSpline(50, 42, 1.6, 0) + circleSpline(50, 58, 1.6, 0), []string{"16 mm bolt circle"}, 0},
		"a triangle of three of a square": {ringOf(50, 50, 16, 4, 0, 3.2)[len(circle(58, 50, 3.2)):], nil, 0},
	} {
		t.Run(name, func(t *testing.T) {
			d, _ := mustRead(t, name, dxf(bigPlate(), c.holes), Options{})
			var got []string
			for _, p := range d.Parts[0].Patterns {
				got = append(got, p.Name)
			}
			if strings.Join(got, "|") != strings.Join(c.want, "|") {
				t.Fatalf("patterns %q, want %q", got, c.want)
			}
			if len(got) > 0 {
				if p := d.Parts[0].Patterns[0]; math.Abs(math.Remainder(p.Turn.Degrees()-c.turn, 90)) > 0.3 && len(p.Holes) == 4 {
					t.Errorf("turned by %v, want %v°", p.Turn.Degrees(), c.turn)
				}
			}
		})
	}
}

// The pattern tells what was measured: corners at 10.07 and 9.93 from the middle on one
// diagonal and 10 on the other fit a circle of 20 with the worst 0.07 off.
func TestPatternMeasures(t *testing.T) {
	d, _ := mustRead(t, "measure", dxf(bigPlate(), circle(60.07, 50, 3), circle(50, 60, 3), circle(40.07, 50, 3), circle(50, 40, 3)), Options{})
	p := d.Parts[0].Patterns
	if len(p) != 1 || p[0].Usual {
		t.Fatalf("patterns %+v", p)
	}
	// The middle is (50.035/2 + ...): x = (60.07+50+40.07+50)/4 = 50.035, and the mean radius
	// stays 10, so each hole is 0.035 off; the side of the square is 10·√2 = 14.142.
	if math.Abs(p[0].Center.X-50.0350)+math.Abs(p[0].Center.Y-50) > 1e-6 || math.Abs(p[0].Off-0.035) > 1e-5 || math.Abs(p[0].Square-14.142136) > 1e-5 {
		t.Errorf("centre %v, off %v, side %v; want (50.035, 50), 0.035, 14.142", p[0].Center, p[0].Off, p[0].Square)
	}
	if p[0].Name != "14.14 mm square" || strings.Join(p[0].Holes, ",") != "hole 1,hole 2,hole 4,hole 3" {
		t.Errorf("%s of %v", p[0].Name, p[0].Holes)
	}
}

func TestPlace(t *testing.T) {
	// An L without symmetry: 60 x 40 less a corner of 30 x 20 at the upper right, and a motor
	// turned by 30° about (15, 12).
	text := dxf(lw(1, 0, 0, 0, 60, 0, 0, 60, 20, 0, 30, 20, 0, 30, 40, 0, 0, 40, 0), ringOf(15, 12, 12, 4, 30, 2), circle(45, 10, 5))
	d, _ := mustRead(t, "place", text, Options{})
	p := &d.Parts[0]
	at := func(w Placement, x, y float64) r2.Point {
		t.Helper()
		pose, err := p.Place(w)
		if err != nil {
			t.Fatal(err)
		}
		return pose.Apply(r2.Point{X: x, Y: y})
	}
	near := func(what string, got r2.Point, x, y float64) {
		t.Helper()
		if got.Sub(r2.Point{X: x, Y: y}).Norm() > 1e-9 {
			t.Errorf("%s: %v, want (%g, %g)", what, got, x, y)
		}
	}
	near("box", at(Placement{}, 60, 40), 30, 20)
	near("file", at(Placement{By: "file"}, 3, 4), 3, 4)
	// The area is 1800 - 4π - 6.25π; first moments: 60·20·(30, 10) + 30·20·(15, 30) less the
	// motor's 4π·(15, 12) and the hole's 6.25π·(45, 10).
	a := 1800 - 10.25*math.Pi
	cx := (36000 + 9000 - 60*math.Pi - 281.25*math.Pi) / a
	cy := (12000 + 18000 - 48*math.Pi - 62.5*math.Pi) / a
	near("centroid", at(Placement{By: "centroid"}, cx, cy), 0, 0)
	near("pattern", at(Placement{By: "pattern", Name: "12 mm bolt circle"}, 15, 12), 0, 0)
	// Straightened, the first hole of the motor, 6 mm from the middle at 30°, lies on x.
	near("straight", at(Placement{By: "pattern", Straight: true}, 15+6*math.Cos(math.Pi/6), 15), 6, 0)
	near("straight and turned", at(Placement{By: "pattern", Straight: true, Turn: math.Pi / 2}, 15+6*math.Cos(math.Pi/6), 15), 0, 6)
	h := ""
	for _, v := range p.Holes {
		if math.Abs(v.Diameter-5) < 1e-9 {
			h = v.Name
		}
	}
	near("hole", at(Placement{By: "hole", Name: h}, 46, 10), 1, 0)
	for _, w := range []Placement{{By: "hole", Name: "hole 9"}, {By: "pattern", Name: "30.5 mm square"}, {By: "corner"}} {
		if _, err := p.Place(w); err == nil || !strings.Contains(err.Error(), "expected: ") {
			t.Errorf("%+v: %v", w, err)
		}
	}
}

// A drawing at the wrong scale is told by its holes: at half size the board's square of
// 30.5 is 15.25.
func TestScaleHint(t *testing.T) {
	side := 15.25 * math.Sqrt2
	_, r := mustRead(t, "half", dxf(lw(1, 0, 0, 0, 90, 0, 0, 90, 30, 0, 0, 30, 0), ringOf(40, 15, side, 4, 45, 1.6)), Options{})
	if s := strings.Join(r.Warnings, "\n"); !strings.Contains(s, "at a scale of 2 ") || !strings.Contains(s, "would be a 30.5 mm square") {
		t.Errorf("warnings %q", s)
	}
	_, r = mustRead(t, "true", dxf(lw(1, 0, 0, 0, 90, 0, 0, 90, 50, 0, 0, 50, 0), ringOf(40, 25, 2*side, 4, 45, 3.2)), Options{})
	if len(r.Warnings) > 0 {
		t.Errorf("warnings %q", r.Warnings)
	}
}
