package layout_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
)

func lineOf(t *testing.T, list []layout.HardwareLine, label string) layout.HardwareLine {
	t.Helper()
	var all []string
	for i := range list {
		if list[i].Label() == label {
			return list[i]
		}
		all = append(all, list[i].Label())
	}
	t.Fatalf("no line %q; there are %s", label, strings.Join(all, ", "))
	return layout.HardwareLine{}
}

// TestHardware: the list of the frame of joint_test.go, counted by hand: four motors of
// four M2x5, four props of two M2x7, four long posts with M3x8 below and M3x6 above, two
// low ones likewise, four bolts M3x16, a stack of four spacers with M3x8 at both ends, two
// M2x4 at the camera, one M3x8 in a press nut.
func TestHardware(t *testing.T) {
	asm := layouttest.MustLoad(t, frameBuild)
	list := asm.Hardware()
	for _, w := range []struct {
		label          string
		count, spares  int
		material, lock string
		torque         float64
	}{
		{"M2x4 socket screw", 2, 2, "steel", "no threadlocker: plastic cheeks", 0.3},
		{"M2x5 socket screw", 16, 2, "steel", "threadlocker, medium", 0.3},
		{"M2x7 socket screw", 8, 2, "steel", "no threadlocker: plastic hub", 0.2},
		{"M3x6 button screw", 4 + 2, 2, "steel", "threadlocker, medium", 0.8}, // on carbon: 0.8 of the 1.25 that aluminium bears
		{"M3x16 button screw", 4, 2, "steel", "no threadlocker: plastic", 0.32},
		{"M3 plain nut", 4, 2, "nylon", "no threadlocker: plastic", 0.32},
		{"M3 press nut", 1, 2, "steel", "", 0},
		{"M3x30 standoff", 4, 2, "aluminium", "", 0},
		{"M3x10 standoff", 2, 2, "aluminium", "", 0},
		{"M3x20 spacer", 4, 2, "nylon", "", 0},
		{"M3x6 spacer", 4, 2, "nylon", "", 0},
	} {
		l := lineOf(t, list, w.label)
		if l.Count != w.count || l.Spares != w.spares || l.Material != w.material || l.Lock != w.lock || math.Abs(l.Torque-w.torque) > 1e-9 {
			t.Errorf("%s: %d + %d, %s, %q, %g N·m; want %d + %d, %s, %q, %g", w.label, l.Count, l.Spares, l.Material, l.Lock, l.Torque,
				w.count, w.spares, w.material, w.lock, w.torque)
		}
	}
	// M3x8 below the posts, at both ends of the small stack and in the press nut: into aluminium, nylon and
	// steel. The weakest rules its torque.
	l := lineOf(t, list, "M3x8 button screw")
	if l.Count != 4+2+8+1 || l.Spares != 2 || l.Torque != 0.32 || l.Sure || l.Key != "hex 2" {
		t.Errorf("M3x8: %+v", l)
	}
	if l.Lock != "threadlocker, medium; no threadlocker: plastic" || !l.Mixed() || l.Uses[0].Lock != "threadlocker, medium" {
		t.Errorf("M3x8 is locked by %q", l.Lock)
	}
	var where []string
	for _, u := range l.Uses {
		where = append(where, u.Where)
	}
	if got := strings.Join(where, " "); got != "posts.low.bottom-screws posts.main.bottom-screws stacks.small.plate-screws stacks.small.top-screws screws.skid" {
		t.Errorf("M3x8 goes to %s", got)
	}
}

// TestHardwareCountsTheJoints: every screw of every joint stands in the list once, at its
// place.
func TestHardwareCountsTheJoints(t *testing.T) {
	asm := layouttest.MustLoad(t, frameBuild)
	want := map[string]int{}
	for _, j := range asm.Joints {
		want[j.Label()+" screw at "+j.Owner.ID]++
	}
	for _, l := range asm.Hardware() {
		if l.Kind != layout.Screws {
			continue
		}
		sum := 0
		for _, u := range l.Uses {
			want[l.Label()+" at "+u.Where] -= u.Count
			sum += u.Count
		}
		if sum != l.Count {
			t.Errorf("%s: %d at its places, %d in all", l.Label(), sum, l.Count)
		}
	}
	for what, n := range want {
		if n != 0 {
			t.Errorf("%s: %d more joints than screws", what, n)
		}
	}
}

// TestScrewMasses against weighed figures of the trade, g: they are good to about 8 %.
func TestScrewMasses(t *testing.T) {
	build := func(head string, length string) layout.HardwareLine {
		asm := layouttest.MustLoad(t, strings.NewReplacer("SCREW", ", screw: {head: "+head+", length: "+length+"}", "HOLE", "").Replace(motorBuild))
		return lineOf(t, asm.Hardware(), "M3x"+length+" "+head+" screw")
	}
	for _, c := range []struct {
		head, length string
		grams        float64
	}{
		{"socket", "5", 0.71}, {"socket", "8", 0.84}, {"socket", "16", 1.20}, {"socket", "30", 1.81},
		{"button", "6", 0.46}, {"button", "10", 0.63}, {"button", "20", 1.07}, {"button", "30", 1.51},
	} {
		if l := build(c.head, c.length); math.Abs(l.MassEach-c.grams) > 0.08*c.grams {
			t.Errorf("M3x%s %s: %.3f g, want %.2f to 8 %%", c.length, c.head, l.MassEach, c.grams)
		}
	}
}

// TestScrewsWeighOnce: the screws of a component weigh what its lines say.
func TestScrewsWeighOnce(t *testing.T) {
	asm := layouttest.MustLoad(t, frameBuild)
	each := map[string]float64{}
	for _, l := range asm.Hardware() {
		if l.Kind == layout.Standoffs || l.Kind == layout.Spacers || l.Kind == layout.Grommets {
			continue
		}
		for _, u := range l.Uses {
			each[u.Where] += l.MassEach * float64(u.Count)
		}
	}
	seen := 0
	for _, c := range asm.Components {
		if c.Kind != "screws" {
			continue
		}
		seen++
		if got := c.Mass.Grams.Nominal(); math.Abs(got-each[c.ID]) > 1e-9 || got <= 0 {
			t.Errorf("%s weighs %.4f g, its lines %.4f", c.ID, got, each[c.ID])
		}
	}
	if seen != 4+4+2+2+1+2+1+1 {
		t.Errorf("%d sets of screws", seen)
	}
}
