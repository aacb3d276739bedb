package geom

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"
)

func TestSwing(t *testing.T) {
	deg := func(d float64) s1.Angle { return s1.Angle(d * math.Pi / 180) }
	for _, c := range []struct {
		name     string
		p, dir   r2.Point
		from, to float64
		want, at float64
	}{
		// (3, 4) is 5 long and stands at 53.13 degrees: turned by 36.87 it points up.
		{"points along", r2.Point{X: 3, Y: 4}, r2.Point{Y: 1}, 0, 90, 5, 36.8698976458},
		// By 10 degrees it reaches 3·sin 10 + 4·cos 10 = 0.52094 + 3.93923.
		{"end of the range", r2.Point{X: 3, Y: 4}, r2.Point{Y: 1}, 0, 10, 4.4601757, 10},
		{"only one angle", r2.Point{X: 3, Y: 4}, r2.Point{Y: 1}, 90, 90, 3, 90},
		// Two turns on it points up again: 360 + 36.87.
		{"a turn later", r2.Point{X: 3, Y: 4}, r2.Point{Y: 1}, 180, 540, 5, 396.8698976458},
	} {
		got, at := Swing(c.p, c.dir, deg(c.from), deg(c.to))
		if math.Abs(got-c.want) > 1e-6 || math.Abs(at.Degrees()-c.at) > 1e-6 {
			t.Errorf("%s: %.7f at %.7f, want %.7f at %.7f", c.name, got, at.Degrees(), c.want, c.at)
		}
	}
}

func TestSwingMeets(t *testing.T) {
	for _, c := range []struct {
		name            string
		p, dir          r2.Point
		level, from, to float64
		want            []float64
	}{
		// (2, 0) turned by t is 2·sin t high: 1 at 30 and 150 degrees.
		{"both", r2.Point{X: 2}, r2.Point{Y: 1}, 1, 0, 180, []float64{30, 150}},
		{"one in the range", r2.Point{X: 2}, r2.Point{Y: 1}, 1, 0, 90, []float64{30}},
		{"a turn on", r2.Point{X: 2}, r2.Point{Y: 1}, 1, 360, 540, []float64{390, 510}},
		{"just the top", r2.Point{X: 2}, r2.Point{Y: 1}, 2, 0, 180, []float64{90}},
		{"out of reach", r2.Point{X: 2}, r2.Point{Y: 1}, 2.1, 0, 180, nil},
		{"no range", r2.Point{X: 2}, r2.Point{Y: 1}, 1, 90, 0, nil},
		{"no point", r2.Point{}, r2.Point{Y: 1}, 0, 0, 90, nil},
	} {
		got := SwingMeets(c.p, c.dir, c.level, s1.Angle(c.from)*s1.Degree, s1.Angle(c.to)*s1.Degree)
		ok := len(got) == len(c.want)
		for i := 0; ok && i < len(got); i++ {
			ok = math.Abs(got[i].Degrees()-c.want[i]) < 1e-6
		}
		if !ok {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Between two steps that lie on either side of the level there is an angle told, and at
// each told the point is level.
func TestSwingMeetsEveryCrossing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-5, 5)
		p := r2.Point{X: coord.Draw(t, "x"), Y: coord.Draw(t, "y")}
		dir := r2.Point{X: coord.Draw(t, "dx"), Y: coord.Draw(t, "dy")}
		level := coord.Draw(t, "level")
		from := s1.Angle(coord.Draw(t, "from"))
		to := from + s1.Angle(rapid.Float64Range(0, 8).Draw(t, "range"))
		value := func(a s1.Angle) float64 {
			s, c := math.Sincos(float64(a))
			return dir.Dot(r2.Point{X: c*p.X - s*p.Y, Y: s*p.X + c*p.Y}) - level
		}
		got := SwingMeets(p, dir, level, from, to)
		for _, a := range got {
			if a < from || a > to || math.Abs(value(a)) > 1e-6 {
				t.Fatalf("at %v it is %v off", a, value(a))
			}
		}
		const steps = 500
		step := (to - from) / steps
		for i := range steps {
			a, b := from+step*s1.Angle(i), from+step*s1.Angle(i+1)
			if math.Min(math.Abs(value(a)), math.Abs(value(b))) < 1e-6 || value(a)*value(b) > 0 {
				continue
			}
			found := false
			for _, g := range got {
				found = found || g >= a-1e-9 && g <= b+1e-9
			}
			if !found {
				t.Fatalf("crosses between %v and %v, told %v", a, b, got)
			}
		}
	})
}

// A brute-force twin tries both ends of every move: the farthest sum is one of those.
func TestFarthestSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.OneOf(rapid.Float64Range(-5, 5), rapid.Map(rapid.IntRange(-3, 3), func(i int) float64 { return float64(i) }))
		pt := func(n string) r2.Point { return r2.Point{X: coord.Draw(t, n), Y: coord.Draw(t, n)} }
		start := pt("start")
		moves := make([][2]r2.Point, rapid.IntRange(0, 9).Draw(t, "n"))
		for i := range moves {
			moves[i] = [2]r2.Point{pt("from"), pt("to")}
		}
		want := 0.0
		for mask := range 1 << len(moves) {
			at := start
			for i, m := range moves {
				at = at.Add(m[mask>>i&1])
			}
			want = math.Max(want, at.Norm())
		}
		if got := FarthestSum(start, moves).Norm(); math.Abs(got-want) > 1e-9 {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

func TestLoopLeaves(t *testing.T) {
	square := Rectangle(r2.Point{X: 5}, 4, 4) // x from 3 to 7
	for _, c := range []struct {
		p, dir r2.Point
		want   float64
	}{
		{r2.Point{}, r2.Point{X: 1}, 7},
		{r2.Point{X: 5}, r2.Point{X: 1}, 2},
		{r2.Point{X: 5}, r2.Point{Y: 0.5}, 4}, // 2 mm in steps of 0.5
		{r2.Point{X: 9}, r2.Point{X: 1}, 0},   // it lies behind
		{r2.Point{}, r2.Point{Y: 1}, 0},
		{r2.Point{}, r2.Point{}, 0},
	} {
		if got := square.Leaves(c.p, c.dir); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("from %v along %v: %v, want %v", c.p, c.dir, got, c.want)
		}
	}
}
