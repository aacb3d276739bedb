package layout_test

import (
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
)

// portBuild is a build with one board that has ports of every kind.
func portBuild(uses string) string {
	return stackOn("base.top", "[{spacer: nylon, length: 6 ±0.25}, hub]") + `
  lead: {kind: connector, family: pack, width: 16, height: 8, beyond: 22 ±2, bend: 12 ±3, angled: 10 ±1}
  hub:
    kind: controller
    size: [36, 36]
    square: {side: 30.5, hole: 3.2, clear: 6.5}
    pcb: 1.6 ±0.1
    above: 3
    below: 1
    mass: 8
    ports:
      usb: {plug: usb, edge: front, along: -4, axis: 1.6 ±0.2, overhang: 0.8 ±0.3, reach: true}
      pack: {plug: lead, edge: right, face: bottom, axis: 4 ±0.2, overhang: -1 ±0.3}
      boot: {button: true, at: [10, 5], reach: true}
      whip: {plug: lead, at: [-8, -6], up: true}
` + uses
}

func TestPortDefaults(t *testing.T) {
	asm := layouttest.MustLoad(t, portBuild(""))
	got := map[string]*layout.PortPlace{}
	for _, p := range asm.Ports {
		got[p.Port.Name] = p
	}
	usb, pack, boot, whip := got["usb"], got["pack"], got["boot"], got["whip"]
	if usb.Used || boot.Used || !pack.Used || !whip.Used {
		t.Error("sockets for the bench and buttons are not in use in flight, leads are")
	}
	// Board from 9 to 10.6.
	nearMM(t, "usb x", usb.Mouth.X, 18.8)
	nearMM(t, "usb y", usb.Mouth.Y, -4)
	formIs(t, "usb axis", usb.Axis, 12.2, 12.2-0.65, 12.2+0.65)
	nearMM(t, "usb reach", usb.Reach().Nominal(), 40)
	nearMM(t, "pack y", pack.Mouth.Y, -17)
	nearMM(t, "pack axis", pack.Axis.Nominal(), 5)
	nearMM(t, "pack reach", pack.Reach().Nominal(), 34)
	plan, lo, hi, ok := pack.Corridor()
	if !ok {
		t.Fatal("no corridor")
	}
	// 8 high about the axis at 5, 16 wide, from y -17 to -51.
	nearMM(t, "corridor bottom", lo.Nominal(), 1)
	nearMM(t, "corridor top", hi.Nominal(), 9)
	nearMM(t, "corridor end", plan.Bound().Lo.Y, -51)
	nearMM(t, "corridor width", plan.Bound().Size().X, 16)
	if boot.Up != 1 || boot.Plug != nil || boot.Dir.Norm() > 0 {
		t.Error("a button is pressed straight onto its face and takes no plug")
	}
	if whip.Up != 1 || whip.Dir.Norm() > 0 {
		t.Errorf("the upward port looks %v, %d", whip.Dir, whip.Up)
	}
	nearMM(t, "upward mouth", whip.Axis.Nominal(), 10.6)
}

func TestPortUses(t *testing.T) {
	asm := layouttest.MustLoad(t, portBuild(`
ports:
  stacks.main.hub.usb: {used: true}
  stacks.main.hub.pack: {angled: true, reach: true}
`))
	for _, p := range asm.Ports {
		switch p.Port.Name {
		case "usb":
			if !p.Used {
				t.Error("usb is said to be used")
			}
		case "pack":
			if !p.Angled || !p.Port.Reach || p.Owner.Part.Ports[0].Reach && p.Owner.Part.Ports[0].Name == "pack" {
				t.Errorf("pack: %+v", p.Port)
			}
			nearMM(t, "angled reach", p.Reach().Nominal(), 10)
		}
	}
}

// A port that opens away from a block does so in its outer face: 2 thick plate, 1 of foam, 4 of block, so 7 over the
// ground for one that lies, and under a plate at 40 it is 40 - 1 - 4 = 35 for one that hangs. A port at the side counts
// its height from the foot of the block: 2 + 1 + 1.5 = 4.5, and 40 - 1 - 1.5 = 37.5.
func TestPortsOfBlocks(t *testing.T) {
	asm := layouttest.MustLoad(t, `
		dryfit: 1
		name: blocks
		parts:
		  radio:
		    kind: receiver
		    size: [16, 10, 4]
		    mass: 1 g
		    ports: {whip: {plug: micro-coax, up: true, at: [5, 0]}, data: {plug: jst-sh-4, edge: back, axis: 1.5}, bind: {button: true, at: [-5, 0]}}
		plates:
		  base: {material: carbon, thickness: 2, outline: {rectangle: [80, 40]}}
		  roof: {material: carbon, thickness: 2, on: posts.main, outline: {rectangle: [80, 40]}}
		posts: {main: {part: standoff-m3-round, length: 38, from: base.top, at: [30, 12], mirror: both}}
		mounts:
		  lies: {part: radio, on: base.top, hold: foam 1 mm}
		  hangs: {part: radio, on: roof.bottom, hold: foam 1 mm}`)
	want := map[string]struct {
		axis float64
		up   int
	}{
		"mounts.lies.whip": {7, 1}, "mounts.lies.bind": {7, 1}, "mounts.lies.data": {4.5, 0},
		"mounts.hangs.whip": {35, -1}, "mounts.hangs.bind": {35, -1}, "mounts.hangs.data": {37.5, 0},
	}
	for _, p := range asm.Ports {
		w, ok := want[p.ID]
		if !ok {
			continue
		}
		delete(want, p.ID)
		nearMM(t, p.ID, p.Axis.Nominal(), w.axis)
		if p.Up != w.up {
			t.Errorf("%s opens %d, want %d", p.ID, p.Up, w.up)
		}
	}
	for id := range want {
		t.Errorf("no port %s", id)
	}
}
