package layout_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
)

// joint returns what the joint with this ID shares with its equals.
func joint(t *testing.T, asm *layout.Assembly, id string) *layout.Fastening {
	t.Helper()
	var all []string
	for _, j := range asm.Joints {
		if j.ID == id {
			return j.Fastening
		}
		all = append(all, j.ID)
	}
	t.Fatalf("no joint %q; there are %s", id, strings.Join(all, " "))
	return nil
}

// wantJoint is a joint worked out by hand: how deep its end reaches at worst, and the
// worst-case room to both limits. A limit that there is none of is +Inf.
type wantJoint struct {
	id, label   string
	lo, hi      float64 // depth
	short, long float64
	found       bool
}

func checkJoint(t *testing.T, asm *layout.Assembly, w wantJoint) {
	t.Helper()
	f := joint(t, asm, w.id)
	if f.Label() != w.label || f.Found != w.found {
		t.Errorf("%s: %s, found %v; want %s, %v", w.id, f.Label(), f.Found, w.label, w.found)
		return
	}
	lo, hi := f.Depth().Worst()
	short, _ := f.Depth().Sub(f.Into.Least).Worst()
	long := math.Inf(1)
	if f.Into.HasMost {
		long, _ = f.Into.Most.Sub(f.Depth()).Worst()
	}
	for _, v := range []struct {
		what      string
		got, want float64
	}{{"least depth", lo, w.lo}, {"greatest depth", hi, w.hi}, {"room to the least", short, w.short}, {"room to the most", long, w.long}} {
		if !(math.Abs(v.got-v.want) < 1e-6) && !(math.IsInf(v.got, 1) && math.IsInf(v.want, 1)) {
			t.Errorf("%s: %s %.4f, want %.4f", w.id, v.what, v.got, v.want)
		}
	}
}

const motorBuild = `
dryfit: 1
name: motor
parts:
  m: {kind: motor, mass: 30 ±1, bell: 28 ±0.2, body-height: 20 ±0.2, circle: {diameter: 16, screw: M3}, thread-usable: 3.2 ±0.1, mounts: [m5]}
  p: {kind: prop, mass: 4 ±0.1, diameter: 100 ±0.5, hub-thickness: 6 ±0.2, mounts: [m5], bores: [5]}
rotors: {layout: cross, wheelbase: 200, motor: m, prop: p SCREW}
plates:
  base: {material: carbon, thickness: 5 ±0.15, outline: {circle: 260}, holes: [{for: motors, hole: 3.2 HOLE}]}
`

// TestMotorScrewLengths: M3 into a motor with 3.2 ±0.1 of thread: at least 1.5 and at most
// 3.2 - 0.5 = 2.7 ±0.1 deep, 2 aimed for. Lengths to js15: 5 ±0.24, 7 ±0.29, 8 ±0.29.
func TestMotorScrewLengths(t *testing.T) {
	const id = "rotors.front-left.motor-screws[1]"
	for _, c := range []struct {
		name, screw, hole string
		want              wantJoint
	}{
		// 7 - 5 = 2, ±(0.29 + 0.15); 1.56 - 1.5; 2.6 - 2.44.
		{"plain", "", "", wantJoint{id, "M3x7 button", 1.56, 2.44, 0.06, 0.16, true}},
		// 8 - 5 = 3, ±0.44: 2.6 - 3.44.
		{"given", ", screw: {length: 8}", "", wantJoint{id, "M3x8 button", 2.56, 3.44, 1.06, -0.84, false}},
		// Its own limits in place of js15: ±(0.05 + 0.15).
		{"measured", ", screw: {length: 7.5 ±0.05}", "", wantJoint{id, "M3x7.5 button", 2.3, 2.7, 0.8, -0.1, false}},
		// A washer of 0.5 ±0.05: 7 gives 1.5 ±0.49, 0.49 short of 1.5 at worst; 8 gives 2.5 ±0.49,
		// 2.99 - 2.6 = 0.39 too long at worst. Both hold as drawn, 8 misses less.
		{"washer", ", screw: {washer: true}", "", wantJoint{id, "M3x8 button", 2.01, 2.99, 0.51, -0.39, false}},
		// Counterbored by 2 ±0.1: 3 ±0.25 are left. 5 - 3 = 2, ±(0.24 + 0.25).
		{"counterbore", "", ", counterbore: {diameter: 5.8, depth: 2 ±0.1}", wantJoint{id, "M3x5 button", 1.51, 2.49, 0.01, 0.11, true}},
		// On the wrong face it takes no head: as the plain one.
		{"counterbore on top", "", ", counterbore: {diameter: 5.8, depth: 2 ±0.1}, face: top", wantJoint{id, "M3x7 button", 1.56, 2.44, 0.06, 0.16, true}},
		// A countersink of 6.72 ±0.1 brings the head of 6.72 flush, ±0.05: the length counts the
		// head. 7 - 5 = 2, ±(0.29 + 0.15 + 0.05).
		{"countersunk", "", ", countersink: {diameter: 6.72 ±0.1}", wantJoint{id, "M3x7 countersunk", 1.51, 2.49, 0.01, 0.11, true}},
		// One of 7.12 lets it 0.2 in: 2.2, ±0.44 ±0.02/2.
		{"deep countersink", "", ", countersink: {diameter: 7.12 ±0.02}", wantJoint{id, "M3x7 countersunk", 1.75, 2.65, 0.25, -0.05, false}},
	} {
		text := strings.NewReplacer("SCREW", c.screw, "HOLE", c.hole).Replace(motorBuild)
		asm := layouttest.MustLoad(t, text)
		t.Run(c.name, func(t *testing.T) { checkJoint(t, asm, c.want) })
		if f := joint(t, asm, id); len(f.Members) != 16 {
			t.Errorf("%s: %d joints are alike, want 4 motors of 4", c.name, len(f.Members))
		}
	}
}

// TestNearestMisses: the lengths that lie next to being right, of the joint with a washer
// above.
func TestNearestMisses(t *testing.T) {
	asm := layouttest.MustLoad(t, strings.NewReplacer("SCREW", ", screw: {washer: true}", "HOLE", "").Replace(motorBuild))
	short, long := joint(t, asm, "rotors.rear-left.motor-screws[3]").Misses()
	if short == nil || short.Length != 7 || math.Abs(short.Short+0.49) > 1e-6 {
		t.Errorf("too short: %+v, want 7 by 0.49", short)
	}
	if long == nil || long.Length != 8 || math.Abs(long.Long+0.39) > 1e-6 {
		t.Errorf("too long: %+v, want 8 by 0.39", long)
	}
}

const frameBuild = `
dryfit: 1
name: frame
parts:
  post: {like: standoff-m3-round, thread-depth: 8 ±0.5}
  nylon: {like: standoff-m3-hex-nylon, thread-depth: 7 ±0.2}
  board: {kind: controller, size: [36 ±0.2, 36 ±0.2], square: {side: 30.5, hole: 3.2 ±0.08, screw: M3, clear: 6.5}, pcb: 1.6 ±0.1, above: 3 ±0.2, below: 1 ±0.2, mass: 8 ±0.1}
  cam: {like: camera-19, mass: 7 ±0.1, width: 19 ±0.1}
  m: {kind: motor, mass: 10 ±1, bell: 18 ±0.2, body-height: 14 ±0.2, circle: {diameter: 9, screw: M2}, thread-usable: 3 ±0.1, bell-thread: 2.8 ±0.1, mounts: [t-1.5]}
  p: {kind: prop, mass: 2 ±0.1, diameter: 60 ±0.5, hub-thickness: 5 ±0.1, mounts: [t-1.5], bores: [1.5]}
rotors: {layout: cross, wheelbase: 200, motor: m, prop: p}
plates:
  base: {material: carbon, thickness: 3 ±0.1, outline: {circle: 240}, holes: [{for: motors}, {for: posts.main}, {for: posts.low}, {for: stacks.tall}, {for: stacks.small}, {hole: 3.2, at: [0, 90], name: bolt}]}
  roof: {material: carbon, thickness: 2 ±0.1, on: posts.main, outline: {circle: 140}, holes: [{for: posts.main}]}
  lid: {material: carbon, thickness: 2 ±0.1, on: posts.low, outline: {rectangle: [60, 20], at: [0, 95]}, holes: [{for: posts.low}]}
  skid: {material: carbon, thickness: 2 ±0.1, under: base, outline: {rectangle: [20, 20], at: [0, 90]}, holes: [{hole: 4.5, at: [0, 90], press-nut: true}]}
posts:
  main: {part: post, length: 30 ±0.1, from: base.top, at: [60, 5], mirror: both}
  low: {part: post, length: 10 ±0.1, from: base.top, at: [20, 95], mirror: front-back}
stacks:
  tall:
    from: base.top
    at: [25, 0]
    items: [spacer nylon 6 ±0.2, board, nut nylon]
  small:
    from: base.top
    at: [-25, 0]
    items: [{spacer: nylon, length: 20 ±0.2, part: nylon}, {board: board, as: other}]
cameras:
  nose: {part: cam, at: [100, 0], above: base.top, by: 12, screw: {cheek: 2 ±0.1}}
screws:
  skid: {through: base.bolt, from: above, nut: press}
`

// TestFrameJoints: one of each further kind.
func TestFrameJoints(t *testing.T) {
	asm := layouttest.MustLoad(t, frameBuild)
	for _, w := range []wantJoint{
		// M2 through 3 ±0.1 with 3 ±0.1 of thread: 5 - 3 = 2 ±0.34; at least 1.3, at most 2.5 ±0.1.
		{"rotors.rear-left.motor-screws[1]", "M2x5 socket", 1.66, 2.34, 0.36, 0.06, true},
		// A hub of 5 ±0.1, M2x7 as it comes with props: 2 ±0.39; the bell has 2.8 ±0.1.
		{"rotors.rear-left.prop-screws[2]", "M2x7 socket", 1.61, 2.39, 0.31, 0.31, true},
		// Into aluminium at least 3, 4.5 aimed for, at most 8 - 0.5 = 7.5 ±0.5. 8 - 3 = 5 ±0.39: as near
		// to 4.5 as any (M3x7 is not sold loose).
		{"posts.main.bottom-screws[1]", "M3x8 button", 4.61, 5.39, 1.61, 1.61, true},
		// Through the roof of 2 ±0.1: 6 - 2 = 4 ±0.34.
		{"posts.main.top-screws[4]", "M3x6 button", 3.66, 4.34, 0.66, 2.66, true},
		// A post of 10 is tapped right through: each at most 10 - 1 = 9 ±0.1.
		{"posts.low.bottom-screws[1]", "M3x8 button", 4.61, 5.39, 1.61, 3.51, true},
		{"posts.low.top-screws[2]", "M3x6 button", 3.66, 4.34, 0.66, 4.56, true},
		// 3 ±0.1, 6 ±0.2, 1.6 ±0.1: 10.6 ±0.4. The nut is 2.4 (down to 2.15), one turn of 0.5 beyond: 2.9
		// at most. 14 - 10.6 = 3.4, less 0.35 + 0.4: 2.65, too little. 16 - 10.6 = 5.4 ±0.75: 4.65. The roof's underside
		// is 30 ±0.1 over the base, 30 - 7.6 = 22.4 over the board, less 1 of air: 21.4, ±(0.1 + 0.2 + 0.1);
		// the end moves with spacer and board, which cancel: 21.4 - 5.4 - (0.1 + 0.35 + 0.1) of post, bolt, base.
		{"stacks.tall.bolts[1]", "M3x16 button", 4.65, 6.15, 1.75, 15.45, true},
		// Nylon at least 1.5 x 3 = 4.5, aimed 7.5, at most 7 - 0.5 = 6.5 ±0.2. 8 - 3 = 5 ±0.39 from below: 0.11, 0.91.
		{"stacks.small.plate-screws[1]", "M3x8 button", 4.61, 5.39, 0.11, 0.91, true},
		// From above through the board of 1.6 ±0.1: 6 gives 4.4, too little; 8 gives 6.4, ±0.39: too long by
		// 0.1 + 0.39... 6.3 - 6.79 = -0.49 at worst. Both stand, 8 holds as drawn.
		{"stacks.small.top-screws[1]", "M3x8 button", 6.01, 6.79, 1.51, -0.49, false},
		// A cheek of 2 ±0.1 and 2.5 before the sensor: 4 - 2 = 2 ±0.34.
		{"cameras.nose.screws[1]", "M2x4 socket", 1.66, 2.34, 0.66, 0.16, true},
		// From above through base and skid, 5 ±0.2, into a press nut whose flange is 0.8 (0.5 to 1.2): 6 gives
		// 1, less 0.24 + 0.2: 0.56, short of 1.2; 8 gives 3 ±0.49.
		{"screws.skid[1]", "M3x8 button", 2.51, 3.49, 1.31, math.Inf(1), true},
	} {
		t.Run(w.id, func(t *testing.T) { checkJoint(t, asm, w) })
	}
	// Two screws in one post: 10 - 5 - 4 = 1, ±(0.1 + 0.29 + 0.1 + 0.24 + 0.1).
	free, ok := joint(t, asm, "posts.low.bottom-screws[1]").Free()
	lo, hi := free.Worst()
	if !ok || math.Abs(lo-0.17) > 1e-6 || math.Abs(hi-1.83) > 1e-6 {
		t.Errorf("free in the low posts %.3f to %.3f, want 0.17 to 1.83", lo, hi)
	}
	// 4 motors of 4, 4 props of 2, 4 and 2 posts of 2, stacks of 4 and 8, 2 at the camera, 1 at the skid.
	if n := len(asm.Joints); n != 16+8+8+4+4+8+2+1 {
		t.Errorf("%d joints, want 51", n)
	}
}

// TestTwinsShareAPost: in a post of 9 the screws that each end would take alone, 5 and 4
// deep as above, are too long together. With a base of 2 the pair M3x6, 4 deep, and M3x6,
// 4 deep, leaves 9 - 8 = 1 as drawn and never surely; only a post of 12 takes it: 12 - 8 -
// 1 = 3 less 0.78.
func TestTwinsShareAPost(t *testing.T) {
	for length, sure := range map[string]bool{"9": false, "12": true} {
		text := strings.NewReplacer("thickness: 3 ±0.1", "thickness: 2 ±0.1", "length: 10 ±0.1", "length: "+length+" ±0.1").Replace(frameBuild)
		f := joint(t, layouttest.MustLoad(t, text), "posts.low.bottom-screws[1]")
		free, ok := f.Free()
		lo, _ := free.Worst()
		if f.Label() != "M3x6 button" || f.Twin.Label() != "M3x6 button" || !ok || (lo >= 1) != sure {
			t.Errorf("post of %s: %s and %s leave %.2f at worst", length, f.Label(), f.Twin.Label(), lo)
		}
	}
}

// TestHeadsAreBodies: heads lie outside the plate, those in counterbores only with what
// stands out, flat ones not at all.
func TestHeadsAreBodies(t *testing.T) {
	build := func(screw, hole string) *layout.Assembly {
		return layouttest.MustLoad(t, strings.NewReplacer("SCREW", screw, "HOLE", hole).Replace(motorBuild))
	}
	heights := func(asm *layout.Assembly, id string) (float64, float64) {
		b := layouttest.Body(t, asm, id)
		if b.Kind != layout.FastenBody || !b.Conducts {
			t.Errorf("%s: kind %s, conducts %v", id, b.Kind, b.Conducts)
		}
		return b.Bottom.Nominal(), b.Top.Nominal()
	}
	const head = "rotors.front-left.motor-screws.head[1]"
	// A button head is 1.65 high.
	if lo, hi := heights(build("", ""), head); math.Abs(lo+1.65) > 1e-9 || math.Abs(hi) > 1e-9 {
		t.Errorf("head %.3f to %.3f, want -1.65 to 0", lo, hi)
	}
	// On a washer of 0.5.
	asm := build(", screw: {washer: true}", "")
	if lo, hi := heights(asm, head); math.Abs(lo+2.15) > 1e-9 || math.Abs(hi+0.5) > 1e-9 {
		t.Errorf("head on a washer %.3f to %.3f, want -2.15 to -0.5", lo, hi)
	}
	if lo, hi := heights(asm, "rotors.front-left.motor-screws.washer[1]"); math.Abs(lo+0.5) > 1e-9 || math.Abs(hi) > 1e-9 {
		t.Errorf("washer %.3f to %.3f, want -0.5 to 0", lo, hi)
	}
	// In a counterbore of 1: 0.65 stands out.
	if lo, hi := heights(build("", ", counterbore: {diameter: 5.8, depth: 1}"), head); math.Abs(lo+0.65) > 1e-9 || math.Abs(hi) > 1e-9 {
		t.Errorf("head in a counterbore %.3f to %.3f, want -0.65 to 0", lo, hi)
	}
	for _, hole := range []string{", counterbore: {diameter: 5.8, depth: 2}", ", countersink: {diameter: 6.72}"} {
		for _, b := range build("", hole).Bodies {
			if strings.HasPrefix(b.ID, "rotors.front-left.motor-screws") {
				t.Errorf("%s: %s stands out", hole, b.ID)
			}
		}
	}
}

// TestLevelHeadsAreBodies: the heads of a camera's side screws lie outside its cheeks, those
// of a prop's screws turn with it.
func TestLevelHeadsAreBodies(t *testing.T) {
	asm := layouttest.MustLoad(t, frameBuild)
	// A camera of 19 at (100, 0), 12 over the base's top at 2 of skid and 3 of its own, in cheeks of 2: heads from 11.5 to 13.5 beside
	// the middle (an M2 socket head is 2 high and 3.8 across), 15.1 to 18.9 high.
	left := layouttest.Body(t, asm, "cameras.nose.screws.head[1]")
	box := left.Tilted.Bound()
	for _, v := range []struct {
		what      string
		got, want float64
	}{
		{"front", box.Hi.X, 101.9}, {"rear", box.Lo.X, 98.1}, {"inner face", box.Lo.Y, 11.5}, {"outer face", box.Hi.Y, 13.5},
		{"bottom", box.Lo.Z, 15.1}, {"top", box.Hi.Z, 18.9}, {"lower height", left.Bottom.Nominal(), 15.1}, {"upper height", left.Top.Nominal(), 18.9},
	} {
		if math.Abs(v.got-v.want) > 1e-6 {
			t.Errorf("%s at %.3f, want %.1f", v.what, v.got, v.want)
		}
	}
	if right := layouttest.Body(t, asm, "cameras.nose.screws.head[2]").Tilted.Bound(); math.Abs(right.Lo.Y+13.5) > 1e-6 || math.Abs(right.Hi.Y+11.5) > 1e-6 {
		t.Errorf("right head from %.3f to %.3f, want -13.5 to -11.5", right.Lo.Y, right.Hi.Y)
	}
	// A washer of 0.3 and 5 across lies under it (ISO 7089).
	asm = layouttest.MustLoad(t, strings.Replace(frameBuild, "screw: {cheek: 2 ±0.1}", "screw: {cheek: 2 ±0.1, washer: true}", 1))
	if w, h := layouttest.Body(t, asm, "cameras.nose.screws.washer[1]").Tilted.Bound(), layouttest.Body(t, asm, "cameras.nose.screws.head[1]").Tilted.Bound(); math.Abs(w.Hi.Y-11.8) > 1e-6 || math.Abs(h.Lo.Y-11.8) > 1e-6 || math.Abs(w.Hi.Z-19.5) > 1e-6 {
		t.Errorf("washer to %.3f, %.3f high, head from %.3f", w.Hi.Y, w.Hi.Z, h.Lo.Y)
	}
	// Heads of 3.8 whose middles are 5 apart sweep a disc of 8.8 on the hub: the motor stands 5 over the skid's underside and is
	// 14 high, the hub 5.
	b := layouttest.Body(t, asm, "rotors.front-left.prop-screws.heads")
	size := b.Plan[0].Bound().Size()
	if math.Abs(size.X-8.8) > 1e-6 || math.Abs(b.Bottom.Nominal()-24) > 1e-6 || math.Abs(b.Top.Nominal()-26) > 1e-6 {
		t.Errorf("prop screws' heads %.2f across from %.2f to %.2f, want 8.8, 24 to 26", size.X, b.Bottom.Nominal(), b.Top.Nominal())
	}
}
