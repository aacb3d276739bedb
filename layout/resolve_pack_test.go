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
