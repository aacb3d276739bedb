package shapes

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// TestDecodePads: rows, ways, supplies; what is inherited is changed key by key.
func TestDecodePads(t *testing.T) {
	lib, ds := own(t, head+`  board:
    like: esc4-30.5-45a
    draw: 0.3 A
    clamp: 24 V
    rails: {5: 2 A (1.5..3), 9: {amps: 1.5 A, dropout: 1 V}}
    pads:
      m1: {facing: 200}
      sense: {at: [2, 3], role: feed, takes: 4.5..5.5, draws: 80 mA, size: 1.2 ±0.1}
    ports:
      controller: {pins: [ground, pack, unused, data signal, {name: aux, role: feed, takes: 3..5}, m1, m2, m3]}
  copy: {like: board, rails: {5: none}}
`)
	if err := ds.Err(); err != nil {
		t.Fatal(err)
	}
	p, _ := lib.Find("board")
	base, _ := lib.Find("esc4-30.5-45a")
	m1 := p.Pad("m1")
	if m1.Ways != 3 || !near(m1.Pitch, 3.3) || m1.Role != MotorRole || !m1.HasFacing || !near(m1.Facing, 200) || m1.At != base.Pad("m1").At {
		t.Errorf("m1: %+v", m1)
	}
	if base.Pad("m1").HasFacing {
		t.Error("the catalogue part has changed")
	}
	sense := p.Pad("sense")
	if sense.Takes == nil || !near(sense.Takes.Lo, 4.5) || !near(sense.Takes.Hi, 5.5) || !near(sense.Draws.Value, 0.08) || sense.Draws.Name != "board sense draws" || sense.Ways != 1 {
		t.Errorf("sense: %+v", sense)
	}
	pins := p.Port("controller").Pins
	var roles []string
	for _, pin := range pins {
		roles = append(roles, pin.Name+"/"+string(pin.Role))
	}
	if got := strings.Join(roles, " "); got != "ground/ground pack/pack unused/ data/signal aux/feed m1/signal m2/signal m3/signal" {
		t.Errorf("pins %s", got)
	}
	if !near(p.Draw.Value, 0.3) || !near(p.Clamp.Value, 24) {
		t.Errorf("draw %+v clamp %+v", p.Draw, p.Clamp)
	}
	if len(p.Rails) != 2 || !near(p.Rails[0].Volts, 5) || !near(p.Rails[0].Amps.Plus, 1) || p.Rails[0].Dropout != nil || !near(p.Rails[1].Dropout.Value, 1) {
		t.Errorf("rails %+v", p.Rails)
	}
	q, _ := lib.Find("copy")
	if len(q.Rails) != 1 || !near(q.Rails[0].Volts, 9) || q.Rails[0].Amps == p.Rails[1].Amps || q.Rails[0].Amps.Name != "copy 9 V rail" {
		t.Errorf("copied rails %+v", q.Rails)
	}
}

func TestDecodePadMistakes(t *testing.T) {
	many := "{"
	for i := range 301 {
		many += fmt.Sprintf("p%d: {at: [0, 0]}, ", i)
	}
	for _, c := range []struct{ name, part, say, hint string }{
		{"too many pads", "  x: {like: esc-20a, pads: " + many + "}}\n", "301 pads are more than a part has", ""},
		{"row without pitch", "  x: {like: esc-20a, pads: {m9: {at: [1, 1], ways: 3}}}\n", "need `pitch:`", ""},
		{"pitch of one", "  x: {like: esc-20a, pads: {m9: {at: [1, 1], pitch: 3}}}\n", "a single pad has no `pitch:`", "ways: 3"},
		{"role", "  x: {like: esc-20a, pads: {m9: {at: [1, 1], role: sygnal}}}\n", "not one of the choices", "did you mean signal?"},
		{"draw of a signal", "  x: {like: esc-20a, pads: {m9: {at: [1, 1], role: signal, draws: 1 A}}}\n", "only what is fed draws a current", ""},
		{"takes in amperes", "  x: {like: esc-20a, pads: {m9: {at: [1, 1], role: feed, takes: 5 A}}}\n", "is a current", ""},
		{"role of a way", "  x: {like: controller-20, ports: {receiver: {pins: [ground, out suply-5, rx, tx]}}}\n", "not what a way can carry", "did you mean supply-5?"},
		{"supply of no voltage", "  x: {like: controller-20, ports: {receiver: {pins: [ground, supply, rx, tx]}}}\n", "does not say what it gives or takes", ""},
		{"ways of the plug", "  x: {like: controller-20, ports: {receiver: {pins: [ground, rx, tx]}}}\n", "3 ways are listed, and the plug jst-sh-4 has 4", "unused"},
		{"way twice", "  x: {like: controller-20, ports: {receiver: {pins: [ground, ground, rx, tx]}}}\n", "stands twice", ""},
		{"rail in amperes", "  x: {like: controller-20, rails: {5 A: 2 A}}\n", "not the voltage of a rail", ""},
		{"rail in volts", "  x: {like: controller-20, rails: {5: 2 V}}\n", "is a voltage", ""},
		{"rail without current", "  x: {like: controller-20, rails: {5: {dropout: 1 V}}}\n", "needs `amps:`", ""},
		{"clamp in amperes", "  x: {like: controller-20, clamp: 24 A}\n", "is a current", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, ds := own(t, head+c.part)
			got := ds.Sorted()
			if len(got) != 1 {
				t.Fatalf("%d diagnostics, want 1:\n%s", len(got), ds)
			}
			if !strings.Contains(got[0].Message, c.say) || !strings.Contains(got[0].Hint, c.hint) || got[0].Pos.Line != 3 {
				t.Errorf("says %q / %q at %s, want %q / %q", got[0].Message, got[0].Hint, got[0].Pos, c.say, c.hint)
			}
		})
	}
}

// padSpots lists the middles of all pads of a row.
func padSpots(pad *Pad) []r2.Point {
	var out []r2.Point
	s, c := math.Sincos((s1.Angle(pad.Row) * s1.Degree).Radians())
	for k := range pad.Ways {
		d := (float64(k) - float64(pad.Ways-1)/2) * pad.Pitch
		out = append(out, pad.At.Add(r2.Point{X: c, Y: s}.Mul(d)))
	}
	return out
}

// TestCataloguePads: pads lie on their part, apart from each other and from the room round
// its holes; supplies have their ground, rails what they come out of, plugs as many pins as
// ways.
func TestCataloguePads(t *testing.T) {
	lib := builtin(t)
	wired := 0
	for _, name := range lib.Names() {
		p, _ := lib.Find(name)
		grounds, roles := 0, map[Role]bool{}
		for i := range p.Pads {
			pad := &p.Pads[i]
			if pad.Role == "" {
				t.Errorf("%s: pad %s has no role", name, pad.Name)
			}
			roles[pad.Role] = true
			if pad.Role == GroundRole {
				grounds++
			}
			half := 0.0
			if pad.Size != nil {
				half = pad.Size.Value / 2
			}
			for k, at := range padSpots(pad) {
				onPart(t, p, pad, at, half)
				for j := i; j < len(p.Pads); j++ {
					q := &p.Pads[j]
					if q.Face != pad.Face || q.Size == nil && pad.Size != nil {
						continue
					}
					for m, other := range padSpots(q) {
						need := half
						if q.Size != nil {
							need += q.Size.Value / 2
						}
						if (i != j || m > k) && other.Sub(at).Norm() < max(need, 0.5)-1e-9 {
							t.Errorf("%s: pads %s and %s lie %.2f apart", name, pad.Name, q.Name, other.Sub(at).Norm())
						}
					}
				}
			}
		}
		for i := range p.Ports {
			port := &p.Ports[i]
			if port.Pins == nil {
				continue
			}
			plug, _ := lib.Find(port.Plug)
			if plug.Plug.Ways != len(port.Pins) {
				t.Errorf("%s: port %s has %d pins, its plug %d ways", name, port.Name, len(port.Pins), plug.Plug.Ways)
			}
			for _, pin := range port.Pins {
				roles[pin.Role] = true
				if pin.Role == GroundRole {
					grounds++
				}
			}
		}
		for r := range roles {
			wired++
			// What sounds between a supply and a controller's switch has its return there.
			twoLegs := len(p.Pads) == 2 && roles[FeedRole] && roles[SignalRole]
			if (r == PackRole || r == FeedRole || r.Gives() > 0) && grounds == 0 && !twoLegs {
				t.Errorf("%s: a supply and no ground", name)
			}
			passes := p.Volts != nil && roles[FeedRole] && p.Volts.Lo <= r.Gives() && p.Volts.Hi >= r.Gives()
			if v := r.Gives(); v > 0 && !hasRail(p, v) && !passes {
				t.Errorf("%s gives %g V and has no such rail", name, v)
			}
		}
	}
	if wired < 100 {
		t.Errorf("only %d roles seen", wired)
	}
}

func hasRail(p *Part, v float64) bool {
	for _, r := range p.Rails {
		if near(r.Volts, v) {
			return true
		}
	}
	return false
}

// onPart checks that a pad lies on its part and clear of its holes.
func onPart(t *testing.T, p *Part, pad *Pad, at r2.Point, half float64) {
	t.Helper()
	b := p.Body
	if b == nil {
		return
	}
	if b.Shape == CanBody {
		if math.Abs(at.X) > b.Length.Value/2+1e-9 && p.Kind != GPS || math.Abs(at.Y) > b.Diameter.Value/2 {
			t.Errorf("%s: pad %s lies off the can", p.Name, pad.Name)
		}
		return
	}
	box := geom.Rectangle(r2.Point{}, b.Length.Value-2*half, b.Width.Value-2*half).Bound()
	if !box.Contains(at) {
		t.Errorf("%s: pad %s at %v lies over the edge of %gx%g", p.Name, pad.Name, at, b.Length.Value, b.Width.Value)
	}
	if s := p.Square; s != nil && s.Clear != nil && !s.Clear.Missing {
		for _, h := range []r2.Point{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: -1, Y: -1}, {X: 1, Y: -1}} {
			h = r2.Point{X: h.X * s.X.Value / 2, Y: h.Y * s.Y.Value / 2}
			if d := h.Sub(at).Norm() - s.Clear.Value/2 - half; d < -1e-9 {
				t.Errorf("%s: pad %s reaches %.2f into the room round a hole", p.Name, pad.Name, -d)
			}
		}
	}
}
