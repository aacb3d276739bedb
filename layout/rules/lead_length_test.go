package rules

import (
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/shapes"
)

func TestLeadLength(t *testing.T) { testRule(t, leadLength, "ok tight fail unknown nothing") }

func escPart() *shapes.Part {
	return &shapes.Part{Kind: shapes.EscFour, Volts: &shapes.Span{Lo: 6, Hi: 30}}
}

func capPart(micro, volts float64) *shapes.Part {
	p := &shapes.Part{Kind: shapes.Capacitor, Volts: &shapes.Span{Hi: volts}}
	if micro > 0 {
		p.Capacitance = &shapes.Dim{Name: "capacitance", Value: micro, Plus: micro / 5, Minus: micro / 5, Unit: shapes.MicroFarad}
	}
	return p
}

func TestLeadLengthByHand(t *testing.T) {
	for _, c := range []struct {
		name       string
		lead, cut  float64
		want, asks string
	}{
		// 20 + 25 = 45 of 80, and of 50 at worst.
		{"short", 20, 25, "ok 35.00", ""},
		// 30 + 40 = 70: 10 left, but some want 50.
		{"between", 30, 40, "tight 10.00", "100 µF"},
		// 80 + 100 = 180: 100 too long, of which 220 µF; from 50 on it would be 130·2.2 = 286.
		{"long", 80, 100, "fail -100.00", "290 µF"},
	} {
		b := newBench()
		b.join(layout.PackCircuit, b.pack(4, c.lead), b.part("esc", escPart()), supplyPair(), copper(5, 4.5), path(r2.Point{}, r2.Point{X: c.cut}, 0), c.cut)
		out := b.told(t, leadLength, c.want)
		if !strings.Contains(out.Findings[0].Fix, c.asks) {
			t.Errorf("%s: to do %q, want %q in it", c.name, out.Findings[0].Fix, c.asks)
		}
	}
}

func TestCapacitorByHand(t *testing.T) {
	for _, c := range []struct {
		name             string
		micro, volts, at float64 // at: its legs in mm
		want             string
	}{
		// 180 mm of lead: 100 over 80 ask for 220, from 50 on for 286. 470 - 94 = 376 holds: 250 left.
		// 25 - 1.2·16.8 = 4.84. Legs 4: 6 left of 10, 1 of 5.
		{"good", 470, 25, 4, "ok 4.84, ok 6.00, ok 250.00"},
		// 330: 110 left, but 264 are 22 short of 286.
		{"small", 330, 25, 4, "tight 110.00, ok 4.84, ok 6.00"},
		// 150: -70.
		{"too small", 150, 25, 4, "fail -70.00, ok 4.84, ok 6.00"},
		// Rated 16 V: 16 - 20.16 = -4.16.
		{"low", 470, 16, 4, "fail -4.16, ok 6.00, ok 250.00"},
		// Legs of 8: 2 left of 10, 3 over 5; of 14: 4 over.
		{"on legs", 470, 25, 8, "tight 2.00, ok 4.84, ok 250.00"},
		{"on stilts", 470, 25, 14, "fail -4.00, ok 4.84, ok 250.00"},
		{"no figure", 0, 25, 4, "unknown, ok 4.84, ok 6.00"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := newBench()
			esc := b.part("esc", escPart())
			b.join(layout.PackCircuit, b.pack(4, 80), esc, supplyPair(), copper(5, 4.5), path(r2.Point{}, r2.Point{X: 100}, 0), 100)
			b.join(layout.PackCircuit, b.part("can", capPart(c.micro, c.volts)), esc, supplyPair(), copper(5, 1), path(r2.Point{}, r2.Point{X: c.at}, 0), c.at+13)
			b.told(t, leadLength, c.want)
		})
	}
}

// TestLeadLengthAlongTheWay: from the pack over a board to a controller on an arm all leads
// count, and a capacitor on the board starts anew.
func TestLeadLengthAlongTheWay(t *testing.T) {
	bed := func(can bool) *bench {
		b := newBench()
		board := b.part("board", &shapes.Part{Kind: shapes.PowerBoard, Volts: &shapes.Span{Lo: 6, Hi: 30}})
		b.join(layout.PackCircuit, b.pack(4, 80), board, supplyPair(), copper(5, 4.5), path(r2.Point{}, r2.Point{X: 50}, 0), 50)
		b.join(layout.PackCircuit, board, b.part("esc", &shapes.Part{Kind: shapes.EscSingle, Volts: &shapes.Span{Lo: 6, Hi: 30}}), supplyPair(), copper(13, 3), path(r2.Point{}, r2.Point{X: 40}, 0), 40)
		if can {
			b.join(layout.PackCircuit, b.part("can", capPart(470, 25)), board, supplyPair(), copper(5, 1), path(r2.Point{}, r2.Point{X: 3}, 0), 16)
		}
		return b
	}
	// 80 + 50 + 40 = 170: 90 over.
	bed(false).told(t, leadLength, "fail -90.00")
	// To the board 130: 50 over ask for 110: 470 - 110 = 360, at worst 376 - 176. From there 40 of 80, 10 left of 50.
	// 25 - 20.16; legs of 3: 7.
	bed(true).told(t, leadLength, "ok 4.84, ok 7.00, ok 40.00, ok 360.00")
}
