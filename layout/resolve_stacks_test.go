package layout_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
)

// stackOn is a stack of these items on (or under) this face of the two plates.
func stackOn(from, items string) string {
	return `
dryfit: 1
name: stacked
plates:
  base: {material: mat, thickness: 3 ±0.1, outline: {rectangle: [90, 50]}, holes: [{for: posts.main}]}
  roof: {material: mat, thickness: 2 ±0.1, on: posts.main, outline: {rectangle: [90, 50]}}
posts:
  main: {part: post, length: 30 ±0.1, from: base.top, at: [40, 20], mirror: both}
stacks:
  main:
    from: ` + from + `
    pattern: 30.5
    items: ` + items + `
` + roundParts
}

// The gap between two boards over a shared base plate: plate and lower spacer are under
// both and cancel; what is left is four tolerances.
//
//	lower board's parts end at 3 + 6 + 1.6 + 3
//	upper board's parts begin at 3 + 6 + 1.6 + 8 - 2
//	gap = 8 - 2 - 3 = 3: spacer ±0.25, upper below ±0.2, lower above ±0.2.
//
// Both rest on plate (±0.1), spacer-1 (±0.25) and the lower pcb (±0.1): six terms each,
// three shared. For four terms the zone is taken: it hangs 4 ±0.3 under the upper board,
// and the gap to the bare lower board is 8 - 4 = 4: spacer ±0.25, zone ±0.3.
func TestGapsCancel(t *testing.T) {
	asm := layouttest.MustLoad(t, stackOn("base.top",
		"[{spacer: nylon, length: 6 ±0.25, part: hexagon}, lower, {spacer: nylon, length: 8 ±0.25, part: hexagon}, upper]"))
	low, up := layouttest.Body(t, asm, "stacks.main.lower.above"), layouttest.Body(t, asm, "stacks.main.upper.below")
	formIs(t, "top of the lower board's parts", low.Top, 13.6, 13.6-0.65, 13.6+0.65)
	gap := up.Bottom.Sub(low.Top)
	if len(gap.Terms) != 3 {
		t.Errorf("the gap rests on %d dimensions, want 3", len(gap.Terms))
	}
	formIs(t, "gap", gap, 3, 3-0.65, 3+0.65)
	// Each tolerance is three standard deviations: √(0.25² + 0.2² + 0.2²)/3 = 0.125831.
	mean, sigma := gap.Stat()
	nearMM(t, "mean gap", mean, 3)
	nearMM(t, "sigma", sigma, math.Sqrt(0.25*0.25+0.2*0.2+0.2*0.2)/3)

	// From the roof (3 + 30) down to the nut-less upper board's parts (20.2 + 2.5): the
	// plate cancels; posts ±0.1, two spacers ±0.25, two boards ±0.1, parts ±0.2.
	roof := asm.Plates[1].Bottom.Sub(layouttest.Body(t, asm, "stacks.main.upper.above").Top)
	formIs(t, "gap under the roof", roof, 33-22.7, 10.3-1.0, 10.3+1.0)
	mean, sigma = roof.Stat()
	nearMM(t, "mean gap under the roof", mean, 10.3)
	nearMM(t, "its sigma", sigma, math.Sqrt(0.01+2*0.0625+2*0.01+0.04)/3)

	zone := layouttest.Body(t, asm, "stacks.main.upper.zone.tall").Bottom.Sub(layouttest.Body(t, asm, "stacks.main.lower.pcb").Top)
	formIs(t, "gap under the zone", zone, 4, 4-0.55, 4+0.55)
}

// A board in a stack that hangs: items run down from the roof, which is at 33.
func TestHangingStack(t *testing.T) {
	asm := layouttest.MustLoad(t, stackOn("roof.bottom", "[{spacer: nylon, length: 5 ±0.25}, upper, nut nylon]"))
	st := asm.Stacks[0]
	if !st.Down || st.On != "plates.roof" {
		t.Fatalf("stack %+v", st)
	}
	l := st.Levels[1]
	// Spacer 33..28, board 28..26.4, its top face up.
	nearMM(t, "face up", l.FaceUp.Nominal(), 28)
	nearMM(t, "face down", l.FaceDown.Nominal(), 26.4)
	nearMM(t, "from", l.From.Nominal(), 26.4)
	nearMM(t, "to", l.To.Nominal(), 28)
	nearMM(t, "parts above", layouttest.Body(t, asm, "stacks.main.upper.above").Top.Nominal(), 30.5)
	nearMM(t, "parts below", layouttest.Body(t, asm, "stacks.main.upper.below").Bottom.Nominal(), 24.4)
	nearMM(t, "nut", layouttest.Body(t, asm, "stacks.main.nut-1[1]").Bottom.Nominal(), 24)
	// The roof and the posts are under all of it: the gap from the roof to the parts is
	// 5 - 2.5 = 2.5, with the spacer's and the parts' tolerance alone.
	gap := asm.Plates[1].Bottom.Sub(layouttest.Body(t, asm, "stacks.main.upper.above").Top)
	formIs(t, "gap to the roof", gap, 2.5, 2.5-0.45, 2.5+0.45)
}

// In grommets the clamp is as long as they are tight, 6 ±0.4, and the board, 1.6 ±0.1,
// lies in the middle: (6 - 1.6)/2 = 2.2 above the spacer.
func TestSoftMount(t *testing.T) {
	asm := layouttest.MustLoad(t, stackOn("base.top", "[{spacer: nylon, length: 6 ±0.25}, {board: upper, soft: rubber}, nut nylon]"))
	l := asm.Stacks[0].Levels[1]
	formIs(t, "clamp from", l.From, 9, 9-0.35, 9+0.35)
	formIs(t, "clamp to", l.To, 15, 15-0.75, 15+0.75)
	formIs(t, "face down", l.FaceDown, 11.2, 11.2-(0.35+0.2+0.05), 11.2+(0.35+0.2+0.05))
	// Its upper face is half the grommet and half the board above the clamp's start.
	formIs(t, "face up", l.FaceUp, 12.8, 12.8-(0.35+0.2+0.05), 12.8+(0.35+0.2+0.05))
	g := layouttest.Body(t, asm, "stacks.main.upper.grommet[1]")
	nearMM(t, "grommet", g.Top.Sub(g.Bottom).Nominal(), 6)

	// Stepped ones: 3.5 under the board, 3 over it; clamp 3.5 + 1.6 + 3 = 8.1. From the
	// roof the 3.5 is still on the plate's side.
	asm = layouttest.MustLoad(t, stackOn("base.top", "[{spacer: nylon, length: 6}, {board: upper, soft: stepped}]"))
	l = asm.Stacks[0].Levels[1]
	nearMM(t, "stepped face down", l.FaceDown.Nominal(), 12.5)
	nearMM(t, "stepped clamp", l.To.Sub(l.From).Nominal(), 8.1)
	asm = layouttest.MustLoad(t, stackOn("roof.bottom", "[{spacer: nylon, length: 6}, {board: upper, soft: stepped}]"))
	l = asm.Stacks[0].Levels[1]
	nearMM(t, "hanging stepped face up", l.FaceUp.Nominal(), 33-6-3.5)
}

// Turned by 90° the socket on the left edge looks to the rear; the board is 37 by 36.
func TestBoardTurned(t *testing.T) {
	for _, tt := range []struct {
		item                   string
		x, y, dx, dy           float64
		axis                   float64
		zoneX, zoneY, zoneFace float64
	}{
		// Board from 9 to 10.6. Socket 3 forward of the middle of the left edge (y 18),
		// 0.8 out, axis 1.6 over the top face. Zone at (5, 8), its end 4 under the board.
		{"upper", 3, 18.8, 0, 1, 12.2, 5, 8, 5},
		{"{board: upper, turn: 90}", -18.8, 3, -1, 0, 12.2, -8, 5, 5},
		{"{board: upper, turn: 180}", -3, -18.8, 0, -1, 12.2, -5, -8, 5},
		{"{board: upper, turn: 270}", 18.8, -3, 1, 0, 12.2, 8, -5, 5},
		// Upside down about its length: left becomes right, the socket hangs under the
		// board (9 - 1.6), the zone stands on it (10.6 + 4).
		{"{board: upper, flip: true}", 3, -18.8, 0, -1, 7.4, 5, -8, 14.6},
		// Flipped and then turned: (x, y) to (x, -y) to (y, x).
		{"{board: upper, flip: true, turn: 90}", 18.8, 3, 1, 0, 7.4, 8, 5, 14.6},
	} {
		t.Run(tt.item, func(t *testing.T) {
			asm := layouttest.MustLoad(t, stackOn("base.top", "[{spacer: nylon, length: 6}, "+tt.item+"]"))
			p := asm.Ports[0]
			nearMM(t, "mouth x", p.Mouth.X, tt.x)
			nearMM(t, "mouth y", p.Mouth.Y, tt.y)
			nearMM(t, "direction x", p.Dir.X, tt.dx)
			nearMM(t, "direction y", p.Dir.Y, tt.dy)
			nearMM(t, "axis", p.Axis.Nominal(), tt.axis)
			z := layouttest.Body(t, asm, "stacks.main.upper.zone.tall")
			c := z.Plan[0].Bound().Center()
			nearMM(t, "zone x", c.X, tt.zoneX)
			nearMM(t, "zone y", c.Y, tt.zoneY)
			end := z.Bottom
			if strings.Contains(tt.item, "flip") {
				end = z.Top
			}
			nearMM(t, "zone end", end.Nominal(), tt.zoneFace)
		})
	}
}

// The rest of a face leaves out the zones and the free circles round the holes.
func TestRestOfFace(t *testing.T) {
	asm := layouttest.MustLoad(t, stackOn("base.top", "[{spacer: nylon, length: 6}, upper]"))
	area := func(id string) float64 {
		sum := 0.0
		for _, r := range layouttest.Body(t, asm, id).Plan {
			sum += r.Area()
		}
		return sum
	}
	// 37 x 36 with corners of radius 3: 1332 - (4 - π)·9 = 1324.274. The holes are at
	// (±15.25, ±15.25); the centres of the corner arcs at (±15.5, ±15).
	board := 37*36 - (4-math.Pi)*9
	nearMM(t, "bare board", area("stacks.main.upper.pcb"), board-4*math.Pi*4)
	// A free circle of radius 3.25 about (15.25, 15.25) reaches x 18.5, the edge, and
	// y 18.5, beyond the edge at 18: what is cut is less than the whole circle. By
	// symmetry four times what the count of a fine grid over one corner gives.
	const n = 2000
	cut := 0
	for i := range n {
		for j := range n {
			x, y := 11+8*(float64(i)+0.5)/n, 11+8*(float64(j)+0.5)/n
			in := x < 18.5 && y < 18 && !(x > 15.5 && y > 15 && math.Hypot(x-15.5, y-15) > 3)
			if in && math.Hypot(x-15.25, y-15.25) < 3.25 {
				cut++
			}
		}
	}
	want := board - 4*64*float64(cut)/(n*n)
	if got := area("stacks.main.upper.above"); math.Abs(got-want) > 0.05 {
		t.Errorf("rest of the top face is %.3f mm², want %.3f by counting", got, want)
	}
	// Underneath the zone of 10 x 6 goes too; it keeps clear of the circles.
	if got := area("stacks.main.upper.below"); math.Abs(got-(want-60)) > 0.05 {
		t.Errorf("rest of the bottom face is %.3f mm², want %.3f", got, want-60)
	}
}

// What moves a board in plan: the stack's screws in the plate (shared by all its
// bodies), the board on its screws or in its grommets; its own edge does not ride.
func TestStackBlur(t *testing.T) {
	asm := layouttest.MustLoad(t, stackOn("base.top", "[{spacer: nylon, length: 6, part: hexagon}, lower, {spacer: nylon, length: 8}, {board: upper, soft: rubber}]"))
	low, up := layouttest.Body(t, asm, "stacks.main.lower.pcb"), layouttest.Body(t, asm, "stacks.main.upper.pcb")
	sp := layouttest.Body(t, asm, "stacks.main.spacer-1[1]")
	st := asm.Stacks[0]
	// Plate hole 3.2 by the thread's practice, screw 3: ±0.1. Lower board's hole 3.2: ±0.1;
	// its edge ±0.2. Upper board in rubber: ±0.5. Spacer 6.35 ±0.1 across corners: ±0.05.
	nearMM(t, "float", st.Float.Plus, 0.1)
	formIs(t, "lower board", low.Blur, 0, -0.4, 0.4)
	formIs(t, "upper board", up.Blur, 0, -0.8, 0.8)
	formIs(t, "spacer", sp.Blur, 0, -0.15, 0.15)
	for _, b := range []*layout.Body{low, up, sp} {
		if len(b.Rides) == 0 || b.Rides[0] != st.Float {
			t.Errorf("%s does not ride on the stack's float", b.ID)
		}
	}
	if len(low.Rides) != 2 || len(up.Rides) != 2 || low.Rides[1] == up.Rides[1] {
		t.Error("each board must have play of its own")
	}
}
