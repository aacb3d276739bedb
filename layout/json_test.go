package layout_test

import (
	"encoding/json"
	"strings"
	"testing"

	"dryfit/layout/layouttest"
)

// The order of keys in maps means nothing: the same bytes come out.
func TestJSONIgnoresKeyOrder(t *testing.T) {
	reordered := strings.NewReplacer(
		"rotors: {layout: cross, wheelbase: 180, motor: mot, prop: blade, front-right: clockwise}",
		"rotors: {front-right: clockwise, prop: blade, motor: mot, wheelbase: 180, layout: cross}",
		"post, length: 25 ±0.1, from: base.top", "post, from: base.top, length: 25 ±0.1",
	).Replace(crossBuild)
	// Put the roof before the base, and the parts before everything else.
	base, rest, ok1 := strings.Cut(reordered, "  roof:\n")
	roof, tail, ok2 := strings.Cut(rest, "posts:\n")
	head, basePlate, ok3 := strings.Cut(base, "  base:\n")
	posts, own, ok4 := strings.Cut(tail, "\nparts:")
	if !ok1 || !ok2 || !ok3 || !ok4 {
		t.Fatal("the build is not laid out as this test thinks")
	}
	reordered = "parts:" + own + "\n" + head + "  roof:\n" + roof + "  base:\n" + basePlate + "posts:\n" + posts
	a := string(layouttest.MustLoad(t, crossBuild).JSON())
	b := string(layouttest.MustLoad(t, reordered).JSON())
	if a != b {
		t.Errorf("the bytes differ first in the line\n%s", firstUnlike(a, b))
	}
	if again := string(layouttest.MustLoad(t, crossBuild).JSON()); again != a {
		t.Error("two runs give different bytes")
	}
}

func firstUnlike(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range x {
		if i >= len(y) || x[i] != y[i] {
			return x[i] + "\n" + y[min(i, len(y)-1)]
		}
	}
	return y[len(x)]
}

// The JSON holds every list of the assembly, and of the figures the ones that were
// summed by hand in TestPlainBuild.
func TestJSONIsComplete(t *testing.T) {
	type height struct{ Nominal, Least, Most float64 }
	type region struct {
		Outer [][3]float64
		Holes [][][3]float64
	}
	var got struct {
		Dryfit int
		Name   string
		Rotors []struct {
			Name, Turn, Side, Plate string
			At                      [2]float64
			Radius, Seat            height
			Rest, Swept             [2]height
		}
		Plates []struct {
			ID      string
			Bottom  height
			Outline []region
			Holes   []struct {
				Name, For string
				At        [2]float64
				Loop      [][3]float64
			}
		}
		Posts, Components []map[string]any
		Stacks            []struct {
			Levels []struct{ From, To height }
		}
		Ports []struct {
			ID        string
			Mouth     [2]float64
			Direction [2]float64
			Corridor  struct {
				Plan        [][3]float64
				Bottom, Top height
			}
		}
		Packs  []map[string]any
		Bodies []struct {
			ID, Of, Kind string
			Plan         []region
			Bottom, Top  height
			Blur         float64
		}
	}
	asm := layouttest.MustLoad(t, crossBuild)
	data := asm.JSON()
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatalf("not JSON: %v\n%s", err, data)
	}
	if strings.Contains(string(data), "-0,") || strings.Contains(string(data), "-0]") || strings.Contains(string(data), "null") {
		t.Error("the JSON holds a -0 or a null")
	}
	if got.Dryfit != 1 || got.Name != "plain" {
		t.Errorf("head is %d %q", got.Dryfit, got.Name)
	}
	for _, n := range []struct {
		what      string
		got, want int
	}{
		{"rotors", len(got.Rotors), 4}, {"plates", len(got.Plates), 2}, {"posts", len(got.Posts), 4}, {"stacks", len(got.Stacks), 1},
		{"ports", len(got.Ports), 1}, {"packs", len(got.Packs), 1}, {"bodies", len(got.Bodies), len(asm.Bodies)},
		{"components", len(got.Components), len(asm.Components)},
		// Base: 4 stack holes, 4 motors of 4 and a centre, 4 posts. Roof: 4 posts, 2 slots.
		{"holes of base", len(got.Plates[0].Holes), 4 + 4*5 + 4}, {"holes of roof", len(got.Plates[1].Holes), 6},
		{"holes of base's outline", len(got.Plates[0].Outline[0].Holes), 28},
	} {
		if n.got != n.want {
			t.Errorf("%d %s, want %d", n.got, n.what, n.want)
		}
	}
	r := got.Rotors[0]
	nearMM(t, "x to six decimals", r.At[0], 63.63961)
	nearMM(t, "swept top at most", r.Swept[1].Most, 28.6)
	if r.Turn != "counter-clockwise" || r.Side != "above" || r.Plate != "plates.base" {
		t.Errorf("rotor is %+v", r)
	}
	nearMM(t, "roof bottom least", got.Plates[1].Bottom.Least, 27.8)
	// A round hole is two half turns, bulge ±1.
	if l := got.Plates[0].Holes[0].Loop; len(l) != 2 || l[0][2] != 1 || l[1][2] != 1 {
		t.Errorf("hole is %v", l)
	}
	// The socket sits on the left edge (y 18), 3 forward, 0.8 further out; its plug is 12
	// wide and reaches 40; the axis is 1.6 over the board's top face (20.2).
	p := got.Ports[0]
	nearMM(t, "mouth x", p.Mouth[0], 3)
	nearMM(t, "mouth y", p.Mouth[1], 18.8)
	nearMM(t, "direction y", p.Direction[1], 1)
	nearMM(t, "corridor bottom", p.Corridor.Bottom.Nominal, 20.2+1.6-3.5)
	far := 0.0
	for _, v := range p.Corridor.Plan {
		far = max(far, v[1])
	}
	nearMM(t, "corridor reaches", far, 58.8)
	for _, b := range got.Bodies {
		if len(b.Plan) == 0 || b.Of == "" || b.Kind == "" || b.Top.Nominal <= b.Bottom.Nominal {
			t.Errorf("body %s is %+v", b.ID, b)
		}
	}
}
