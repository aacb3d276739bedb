package layout_test

import (
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
)

func mustResolve(t *testing.T, b *layout.Build) *layout.Assembly {
	t.Helper()
	asm, diags := layout.Resolve(b)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return asm
}

// The strap over the pack on the roof (30..), through slots at y ±19.5.
func TestStrap(t *testing.T) {
	asm := layouttest.MustLoad(t, crossBuild)
	over := layouttest.Body(t, asm, "battery.strap")
	// From the roof over the pack (62) plus 1.8; 35 wide and 1.8 on either side.
	nearMM(t, "over top", over.Top.Nominal(), 63.8)
	nearMM(t, "over bottom", over.Bottom.Nominal(), 30)
	nearMM(t, "over width", over.Plan[0].Bound().Size().Y, 38.6)
	nearMM(t, "over length", over.Plan[0].Bound().Size().X, 20)
	under := layouttest.Body(t, asm, "battery.strap.under")
	nearMM(t, "under top", under.Top.Nominal(), 28)
	nearMM(t, "under bottom", under.Bottom.Nominal(), 26.2)
	nearMM(t, "under width", under.Plan[0].Bound().Size().Y, 39)
	nearMM(t, "buckle top", layouttest.Body(t, asm, "battery.strap.buckle").Top.Nominal(), 65)
	if !over.Soft || asm.Packs[0].StrapCount != 1 {
		t.Error("one strap, and soft")
	}
}

// A pack under the base, a quarter turn, with its leads to the left.
func TestPackBelow(t *testing.T) {
	yaml := strings.Replace(crossBuild, "on: roof.top, hold: pad 2 mm ±0.5, slide: 15, lead: rear, strap: {part: belt, through: roof.strap}",
		"on: base.bottom, at: [4, 0], turn: 90, hold: pad 2 mm ±0.5, lead: left", 1)
	asm := layouttest.MustLoad(t, yaml)
	p := asm.Packs[0]
	if !p.Below || !p.Flip {
		t.Error("the pack hangs")
	}
	nearMM(t, "top", p.Body.Top.Nominal(), -2)
	nearMM(t, "bottom", p.Body.Bottom.Nominal(), -32)
	b := p.Body.Plan[0].Bound()
	nearMM(t, "length along y", b.Hi.Y, 36)
	nearMM(t, "width along x", b.Hi.X, 4+17.5)
	// Nothing is said of the slide: 15 each way along its length.
	nearMM(t, "slide", p.SweptBody.Plan[0].Bound().Hi.Y, 51)
	lead := layouttest.Body(t, asm, "battery.lead").Plan[0].Bound()
	nearMM(t, "lead from", lead.Lo.Y, 36)
	nearMM(t, "lead to", lead.Hi.Y, 46)
	nearMM(t, "lead end", p.LeadEnd.Y, 1)
	if len(asm.Notes) != 1 || !strings.Contains(asm.Notes[0], "may creep 15 mm") {
		t.Errorf("notes: %v", asm.Notes)
	}
}

// Two packs side by side, and two straps on one of them, dealt out over four slots.
func TestTwoPacks(t *testing.T) {
	yaml := strings.NewReplacer(
		"battery: {part: pack, on: roof.top, hold: pad 2 mm ±0.5, slide: 15, lead: rear, strap: {part: belt, through: roof.strap}}",
		"batteries: {left: {part: pack, on: roof.top, at: [0, 20], slide: 10}, right: {part: pack, on: roof.top, at: [0, -20], slide: 10, strap: {part: belt, through: roof.strap, count: 2}}}",
		"{slot: [22, 3], at: [0, 19.5], mirror: left-right, for: strap, name: strap}",
		"{slot: [10, 3], at: [[25, 19], [-20, 19]], mirror: left-right, for: strap, name: strap}",
	).Replace(crossBuild)
	asm := layouttest.MustLoad(t, yaml)
	if len(asm.Packs) != 2 || asm.Packs[0].ID != "batteries.left" || asm.Packs[1].ID != "batteries.right" {
		t.Fatalf("packs: %v", asm.Packs)
	}
	for i, x := range []float64{-20, 25} {
		b := layouttest.Body(t, asm, []string{"batteries.right.strap[1]", "batteries.right.strap[2]"}[i])
		nearMM(t, b.ID, b.Plan[0].Bound().Center().X, x)
	}
	// On the plate's other side the strap runs from slot to slot, y -19 to 19.
	u := layouttest.Body(t, asm, "batteries.right.strap[1].under").Plan[0].Bound()
	nearMM(t, "under from", u.Lo.Y, -19)
	nearMM(t, "under to", u.Hi.Y, 19)
}
