package layout_test

import (
	"math"
	"testing"

	"dryfit/layout/layouttest"
)

func TestMasses(t *testing.T) {
	asm := layouttest.MustLoad(t, crossBuild)
	grams := func(id string) float64 { return layouttest.Component(t, asm, id).Mass.Grams.Nominal() }
	nearMM(t, "motor", grams("rotors.front-left.motor"), 17)
	nearMM(t, "prop", grams("rotors.front-left.prop"), 2.5)
	nearMM(t, "board", grams("stacks.main.upper"), 7)
	nearMM(t, "pack", grams("battery"), 150)
	// Four posts of 25 mm at 0.034 g/mm.
	nearMM(t, "posts", grams("posts.main"), 4*25*0.034)
	c := layouttest.Component(t, asm, "posts.main")
	nearMM(t, "posts' centre x", c.Mass.X, 0)
	nearMM(t, "posts' centre z", c.Mass.Z, 3+12.5)
	// Roof: 90 x 44 with corners of 6, less four holes of 3.2 and two slots of 22 x 3.
	area := 90*44 - (4-math.Pi)*36 - 4*math.Pi*1.6*1.6 - 2*(19*3+math.Pi*2.25)
	if got := grams("plates.roof"); math.Abs(got-area*2*1.5/1000) > 1e-6 {
		t.Errorf("roof %v g, want %v", got, area*2*1.5/1000)
	}
	// Motor: middle of base, bell and nothing else, 3..18.
	m := layouttest.Component(t, asm, "rotors.front-left.motor").Mass
	nearMM(t, "motor z", m.Z, 10.5)
	nearMM(t, "motor x", m.X, 90/math.Sqrt2)
	// Pack: 32..62.
	nearMM(t, "pack z", layouttest.Component(t, asm, "battery").Mass.Z, 47)
	// Nylon hexagons by volume: (√3/2·5.5² - π/4·(0.55·5.5)²) mm² · 6 mm · 1.14 g/cm³ · 4,
	// flats 6.35·√3/2 = 5.499.
	flats := 6.35 * math.Sqrt(3) / 2
	want := (math.Sqrt(3)/2*flats*flats - math.Pi/4*0.55*0.55*flats*flats) * 6 * 1.14 / 1000 * 4
	nearMM(t, "spacers", grams("stacks.main.spacer-1"), want)
	for _, c := range asm.Components {
		if len(c.Mass.Grams.Missing()) > 0 {
			t.Errorf("%s has no mass", c.ID)
		}
	}
}
