package layout_test

import (
	"encoding/json"
	"math"
	"testing"

	"dryfit/layout/layouttest"
)

// TestWiresInJSON: another program can find every wire's ends, and the legs of a way add up.
func TestWiresInJSON(t *testing.T) {
	asm := layouttest.MustLoad(t, wired("driver", "battery: {part: pack, on: base.bottom, lead: rear}", "  - motor leads\n  - {from: battery, to: driver}\n  - {from: driver.controller, to: brain.esc}"))
	var doc struct {
		Terminals []struct {
			ID    string
			Owner string
			At    [2]float64
			Port  string
		}
		Circuits []struct {
			ID, Kind, From, To string
			Wires              []struct {
				ID, From, To, Gauge, Colour string
				Cut                         struct{ Nominal, Least, Most float64 }
			}
			Route *struct {
				Length float64
				Legs   []struct {
					Kind   string
					Length float64
					Path   [][3]float64
					At     *[2]float64
				}
				Ties []struct{ Along float64 }
			}
			Blocked *struct{ Gap, Need float64 }
		}
	}
	if err := json.Unmarshal(asm.JSON(), &doc); err != nil {
		t.Fatal(err)
	}
	ends := map[string][2]float64{}
	for _, e := range doc.Terminals {
		if _, twice := ends[e.ID]; twice {
			t.Errorf("the terminal %s stands twice", e.ID)
		}
		ends[e.ID] = e.At
	}
	if len(doc.Circuits) != len(asm.Circuits) || len(doc.Circuits) != 6 {
		t.Fatalf("%d circuits", len(doc.Circuits))
	}
	// 4 × 3 motor leads with a pad each, a pack's two leads with theirs, four ways at two plugs.
	if want := 24 + 4 + 8; len(doc.Terminals) != want {
		t.Errorf("%d terminals, want %d", len(doc.Terminals), want)
	}
	for _, c := range doc.Circuits {
		for _, w := range c.Wires {
			if _, ok := ends[w.From]; !ok {
				t.Errorf("%s begins at %q, which is no terminal", w.ID, w.From)
			}
			if _, ok := ends[w.To]; !ok {
				t.Errorf("%s ends at %q, which is no terminal", w.ID, w.To)
			}
			if w.Gauge == "" || w.Colour == "" {
				t.Errorf("%s: gauge %q, colour %q", w.ID, w.Gauge, w.Colour)
			}
		}
		if (c.Route == nil) == (c.Blocked == nil) {
			t.Errorf("%s has a route and is blocked, or neither", c.ID)
		}
		if c.Route == nil {
			continue
		}
		sum := 0.0
		for _, l := range c.Route.Legs {
			sum += l.Length
			if (l.At == nil) == (len(l.Path) < 2) {
				t.Errorf("%s: a %s leg with place %v and a path of %d", c.ID, l.Kind, l.At, len(l.Path))
			}
		}
		if math.Abs(sum-c.Route.Length) > 1e-3 {
			t.Errorf("%s: legs of %g, length %g", c.ID, sum, c.Route.Length)
		}
		for _, e := range c.Route.Ties {
			if e.Along < 0 || e.Along > c.Route.Length {
				t.Errorf("%s: a tie at %g of %g", c.ID, e.Along, c.Route.Length)
			}
		}
	}
}
