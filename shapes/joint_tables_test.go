package shapes

import (
	"math"
	"testing"
)

// TestLengthLimit: half of the IT15 widths of ISO 286-1 (0.40 to 3, 0.48 to 6, 0.58 to
// 10, 0.70 to 18, 0.84 to 30, 1.00 to 50, 1.20 to 80).
func TestLengthLimit(t *testing.T) {
	for _, c := range []struct{ length, want float64 }{
		{0, 0.2}, {3, 0.2}, {4, 0.24}, {6, 0.24}, {7, 0.29}, {10, 0.29}, {12, 0.35}, {18, 0.35}, {20, 0.42}, {30, 0.42}, {35, 0.5}, {50, 0.5}, {60, 0.6}, {90, 0.7},
	} {
		if got := LengthLimit(c.length); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g: %g, want %g", c.length, got, c.want)
		}
	}
}

func TestEngagement(t *testing.T) {
	for _, c := range []struct {
		material   string
		least, aim float64
	}{{"steel", 0.8, 1}, {"aluminium", 1, 1.5}, {"brass", 1, 1.3}, {"nylon", 1.5, 2.5}, {"", 1.5, 2.5}} {
		if least, aim := LeastEngagement(c.material); least != c.least || aim != c.aim {
			t.Errorf("%s: %g and %g, want %g and %g", c.material, least, aim, c.least, c.aim)
		}
	}
	for major, want := range map[float64]float64{1.4: 1, 1.6: 1, 2: 1.3, 2.5: 1.5, 3: 1.5, 4: 2} {
		if got := MotorEngagement(major); math.Abs(got-want) > 1e-12 {
			t.Errorf("M%g in a motor: %g, want %g", major, got, want)
		}
	}
}

func TestPressNuts(t *testing.T) {
	for size, hole := range map[string]float64{"M2": 3.5, "M2.5": 4, "M3": 4.5} {
		n, ok := PressNutFor(size)
		if !ok || n.Hole.Value != hole {
			t.Errorf("%s: %+v", size, n)
		}
	}
	if _, ok := PressNutFor("M5"); ok {
		t.Error("a press nut for M5")
	}
}

func TestTorque(t *testing.T) {
	for _, c := range []struct {
		size, screw, thread string
		want                float64
	}{
		{"M3", "steel", "aluminium", 1.25}, {"M3", "steel", "nylon", 0.32}, {"M3", "nylon", "steel", 0.18}, {"M3", "aluminium", "aluminium", 0.5},
		{"M3", "titanium", "aluminium", 1.0}, {"M3", "steel", "steel", 1.3}, {"M2", "steel", "aluminium", 0.3}, {"M2", "steel", "nylon", 0.1},
		{"M2", "nylon", "nylon", 0.04}, {"M2.5", "steel", "aluminium", 0.5}, {"M1.4", "steel", "aluminium", 0.08}, {"M5", "steel", "steel", 0},
	} {
		if got := TorqueMost(c.size, c.screw, c.thread); got != c.want {
			t.Errorf("%s %s in %s: %g, want %g", c.size, c.screw, c.thread, got, c.want)
		}
	}
}

// TestNylonStrength: M3 is the figure itself, M2.5 by section: 170 (2.5/3)² = 118.06.
func TestNylonStrength(t *testing.T) {
	for _, c := range []struct{ major, tension, shear float64 }{{3, 170, 120}, {2, 60, 42.353}, {2.5, 118.056, 83.333}} {
		tension, shear := NylonStrength(c.major)
		if math.Abs(tension-c.tension) > 0.01 || math.Abs(shear-c.shear) > 0.01 {
			t.Errorf("M%g: %g and %g, want %g and %g", c.major, tension, shear, c.tension, c.shear)
		}
	}
}

func TestUsualHeads(t *testing.T) {
	lib := builtin(t)
	for name, want := range map[string]string{"m1.4": "pan", "m1.6": "socket", "m2": "socket", "m2.5": "button", "m3": "button", "m4": "button"} {
		p, _ := lib.Find(name)
		h := p.Thread.UsualHead()
		if h == nil || h.Form != want {
			t.Errorf("%s: %+v, want %s", name, h, want)
		}
	}
	var none *Thread
	if none.UsualHead() != nil || none.HeadNamed("pan") != nil {
		t.Error("heads of no thread")
	}
}
