package layout_test

import (
	"math"
	"testing"

	"dryfit/layout/layouttest"
	"dryfit/shapes"
)

// mountedOn is crossBuild with these mounts and a few more parts.
func mountedOn(mounts string) string {
	return crossBuild + `
  strip: {kind: tie, width: 2.5, thickness: 1.1 ±0.1, head-length: 4.6, head-width: 4.8, head-height: 3.6 ±0.2}
  can: {kind: capacitor, diameter: 10 ±0.5, length: 20 ±0.5, mass: 2}
  radio: {kind: video-transmitter, size: [28, 28], pcb: 1.6 ±0.1, above: 3, below: 1, zones: [{name: coil, face: bottom, at: [4, 6], size: [8, 8], height: 4 ±0.2}], mass: 5}
  speed: {kind: esc, size: [24 ±1, 12 ±0.5, 5 ±0.3], mass: 4}
mounts:
` + mounts
}

// A brick of 24 x 12 x 5 on 1.5 of foam on the roof (top at 30), a quarter turn, and
// a second one on top of it, 3 forward in the first one's frame.
func TestMountOnAMount(t *testing.T) {
	asm := layouttest.MustLoad(t, mountedOn(`
  first: {part: brick, on: roof.top, at: [30, 5], turn: 90, hold: foam 1.5 mm ±0.3}
  second: {part: brick, on: mounts.first.top, at: [3, 0], hold: tape 1 mm ±0.1}
`))
	first := layouttest.Body(t, asm, "mounts.first")
	formIs(t, "first bottom", first.Bottom, 31.5, 31.5-0.6, 31.5+0.6)
	nearMM(t, "first top", first.Top.Nominal(), 36.5)
	b := first.Plan[0].Bound()
	// Turned: 12 along x, 24 along y, about (30, 5).
	nearMM(t, "first x", b.Lo.X, 24)
	nearMM(t, "first y", b.Hi.Y, 17)
	second := layouttest.Body(t, asm, "mounts.second")
	formIs(t, "second bottom", second.Bottom, 37.5, 37.5-(0.6+0.3+0.1), 37.5+(0.6+0.3+0.1))
	// 3 along the first one's length is 3 to the left in the body frame.
	c := second.Plan[0].Bound().Center()
	nearMM(t, "second x", c.X, 30)
	nearMM(t, "second y", c.Y, 8)
	if layouttest.Component(t, asm, "mounts.second").On != "mounts.first" {
		t.Error("the second one does not rest on the first")
	}
	// Set by hand ±1 each; the second one rides on the first. Half the size's tolerance,
	// ±0.25 of 24 ±0.5, is the edge's own.
	formIs(t, "first blur", first.Blur, 0, -1.25, 1.25)
	formIs(t, "second blur", second.Blur, 0, -2.25, 2.25)
	if len(second.Rides) != 2 || second.Rides[0] != first.Rides[0] {
		t.Error("the second one does not ride with the first")
	}
	hold := layouttest.Body(t, asm, "mounts.first.hold")
	nearMM(t, "foam", hold.Top.Sub(hold.Bottom).Nominal(), 1.5)
	if !hold.Soft {
		t.Error("foam gives way")
	}
}

// On a board's face a part rests on the tallest thing under it.
func TestMountOnABoard(t *testing.T) {
	asm := layouttest.MustLoad(t, mountedOn(`
  over: {part: brick, on: stacks.main.upper.top, at: [0, 0]}
  under: {part: brick, on: stacks.main.upper.bottom, at: [5, 8]}
`))
	// Upper board 18.6..20.2, parts over it 2.5; the brick is in the middle, on them.
	nearMM(t, "over", layouttest.Body(t, asm, "mounts.over").Bottom.Nominal(), 22.7)
	// Under the board the zone at (5, 8) hangs 4 and carries it: 14.6 down to 9.6.
	under := layouttest.Body(t, asm, "mounts.under")
	nearMM(t, "under top", under.Top.Nominal(), 14.6)
	nearMM(t, "under bottom", under.Bottom.Nominal(), 9.6)
	c := layouttest.Component(t, asm, "mounts.under")
	if !c.Flip || c.OnFace != shapes.Bottom {
		t.Error("a part under a board hangs upside down")
	}
	// It rides with the board: the stack's screws, the board on its screws, the hand.
	if len(under.Rides) != 3 || under.Rides[0] != asm.Stacks[0].Float {
		t.Errorf("it rides on %d dimensions", len(under.Rides))
	}
}

// Speed controllers on the arms: 24 long, 18 from the axis to the near end, so the middle
// is 30 from the axis, inwards along the arm. Wall of the sleeve 0.5.
func TestMountOnArms(t *testing.T) {
	asm := layouttest.MustLoad(t, mountedOn(`
  esc: {part: speed, on: arms, from-motor: 18, sleeve: 0.5 ±0.1, tie: strip}
  low: {part: brick, on: arms, face: bottom, from-motor: 40}
`))
	c := layouttest.Component(t, asm, "mounts.esc.front-left")
	k := (90 - 30) / math.Sqrt2
	nearMM(t, "x", c.Pose.Shift.X, k)
	nearMM(t, "y", c.Pose.Shift.Y, k)
	nearMM(t, "turn", c.Pose.Turn.Degrees(), 45)
	part := layouttest.Body(t, asm, "mounts.esc.front-left")
	// Arm top at 3, wall 0.5, part 5, wall 0.5.
	formIs(t, "bottom", part.Bottom, 3.5, 3.3, 3.7)
	sleeve := layouttest.Body(t, asm, "mounts.esc.front-left.sleeve")
	nearMM(t, "sleeve from", sleeve.Bottom.Nominal(), 3)
	// The wall is passed twice: ±0.2 of it, plate ±0.1, part ±0.3.
	formIs(t, "sleeve to", sleeve.Top, 9, 9-0.6, 9+0.6)
	nearMM(t, "sleeve area", sleeve.Plan[0].Area(), (24+3)*(12+1))
	nearMM(t, "tie", layouttest.Body(t, asm, "mounts.esc.front-left.tie").Top.Nominal(), 10.1)
	nearMM(t, "tie head", layouttest.Body(t, asm, "mounts.esc.front-left.tie.head").Top.Nominal(), 12.6)
	nearMM(t, "tie under the arm", layouttest.Body(t, asm, "mounts.esc.front-left.tie.under").Bottom.Nominal(), -1.1)
	// Lead room: 10 beyond each end.
	lead := layouttest.Body(t, asm, "mounts.esc.front-left.lead.front").Plan[0]
	m := lead.Moments().Centroid
	nearMM(t, "lead from the axis", math.Hypot(m.X, m.Y), 60+12+5)
	low := layouttest.Component(t, asm, "mounts.low.rear-right")
	if low.On != "plates.base" || !low.Flip || low.OnFace != shapes.Bottom {
		t.Errorf("low one: %+v", low)
	}
	nearMM(t, "low one", low.Bodies[0].Top.Nominal(), 0)
	nearMM(t, "low x", low.Pose.Shift.X, -(90-52)/math.Sqrt2)
	if len(asm.Mounts) != 8 {
		t.Errorf("%d mounts, want two for each of four arms", len(asm.Mounts))
	}
}

// A can lies along x or stands; lying it is a true cylinder.
func TestCans(t *testing.T) {
	asm := layouttest.MustLoad(t, mountedOn(`
  lying: {part: can, on: roof.top, at: [0, 0], turn: 90}
  standing: {part: can, on: base.top, at: [-30, 0], stand: upright}
`))
	l := layouttest.Body(t, asm, "mounts.lying")
	nearMM(t, "lying top", l.Top.Nominal(), 40)
	nearMM(t, "lying length", l.Plan[0].Bound().Size().Y, 20)
	if l.Tilted == nil {
		t.Fatal("a lying can is a cylinder")
	}
	box := l.Tilted.Bound()
	nearMM(t, "cylinder bottom", box.Lo.Z, 30)
	nearMM(t, "cylinder top", box.Hi.Z, 40)
	nearMM(t, "cylinder left end", box.Hi.Y, 10)
	s := layouttest.Body(t, asm, "mounts.standing")
	nearMM(t, "standing top", s.Top.Nominal(), 23)
	nearMM(t, "standing area", s.Plan[0].Area(), math.Pi*25)
}

// A board taped under the roof hangs upside down: it rests on the deepest thing of its
// underside (the zone, 4), its tallest parts reach lowest.
func TestBoardAsMount(t *testing.T) {
	asm := layouttest.MustLoad(t, mountedOn(`
  sender: {part: radio, on: roof.bottom, at: [-28, 0], hold: tape 1 mm ±0.1}
`))
	// Roof's underside 28, tape to 27, zone to 23, board to 21.4, parts over it to 18.4.
	pcb := layouttest.Body(t, asm, "mounts.sender.pcb")
	nearMM(t, "zone top", layouttest.Body(t, asm, "mounts.sender.zone.coil").Top.Nominal(), 27)
	nearMM(t, "board top", pcb.Top.Nominal(), 23)
	nearMM(t, "board bottom", pcb.Bottom.Nominal(), 21.4)
	nearMM(t, "parts", layouttest.Body(t, asm, "mounts.sender.above").Bottom.Nominal(), 18.4)
	// Upside down about its length, the zone at (4, 6) comes to lie at y -6.
	c := layouttest.Body(t, asm, "mounts.sender.zone.coil").Plan[0].Bound().Center()
	nearMM(t, "zone x", c.X, -24)
	nearMM(t, "zone y", c.Y, -6)
	nearMM(t, "base", layouttest.Component(t, asm, "mounts.sender").Base.Nominal(), 23)
}

// Gel is held to like foam: as thick as the build says, or, named alone, the usual pad of the
// catalogue, which is 3 thick as sold and 2.4 under a part. The roof's top is at 30.
func TestMountOnGel(t *testing.T) {
	asm := layouttest.MustLoad(t, mountedOn(`
  said: {part: brick, on: roof.top, at: [30, 0], hold: gel 2 mm ±0.2}
  usual: {part: brick, on: roof.top, at: [-30, 0], hold: gel}
`))
	foam := layouttest.MustLoad(t, mountedOn(`
  said: {part: brick, on: roof.top, at: [30, 0], hold: foam 2 mm ±0.2}
  usual: {part: brick, on: roof.top, at: [-30, 0], hold: foam 2.4 mm ±0.1}
`))
	said := layouttest.Body(t, asm, "mounts.said").Bottom
	lo, hi := layouttest.Body(t, foam, "mounts.said").Bottom.Worst()
	formIs(t, "gel as said", said, 32, lo, hi)
	nearMM(t, "usual gel", layouttest.Body(t, asm, "mounts.usual").Bottom.Nominal(), 32.4)
	hold := layouttest.Body(t, asm, "mounts.usual.hold")
	if !hold.Soft {
		t.Error("gel gives way")
	}
	for _, term := range hold.Top.Sub(hold.Bottom).Terms {
		if term.Dim.Source != shapes.Catalogue || term.Dim.Conf == "" {
			t.Errorf("%s is %v of confidence %q, want a class figure", term.Dim.Name, term.Dim.Source, term.Dim.Conf)
		}
	}
}
