package render_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/render"
)

// leastText is the least height of capitals of ISO 3098 in mm.
const leastText = 1.8

// No lettering is lower than ISO 3098 has it, and nothing reaches over the frame of its sheet, which
// would be cut off by a printer.
func TestSheetsAreLegible(t *testing.T) {
	legible := func(t *testing.T, s render.Sheet) {
		if small := lowest(s.List); small < leastText-1e-6 {
			t.Errorf("%s: lettering %.2f mm high, want at least %.1f", s.Name, small, leastText)
		}
		for _, out := range outside(s.List) {
			t.Errorf("%s: %s", s.Name, out)
		}
	}
	eachSheet(t, func(t *testing.T, _ drawn, s render.Sheet, _ []byte) { legible(t, s) })
	eachPlateSheet(t, func(t *testing.T, _ drawn, s render.Sheet) { legible(t, s) })
	for _, c := range cases(t) {
		sheets, err := render.TemplateSheets(c.asm, render.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range sheets {
			legible(t, s)
		}
	}
}

func lowest(l render.List) float64 {
	least := math.Inf(1)
	for _, it := range l.Items {
		if v, ok := it.(render.Text); ok {
			least = math.Min(least, v.Size)
		}
	}
	return least
}

// outside lists texts and wires that reach over the frame: 20 mm from the left edge of the paper, 10
// from the others (ISO 5457).
func outside(l render.List) []string {
	var out []string
	frame := geom.Rect{Lo: r2.Point{X: 20, Y: 10}, Hi: r2.Point{X: l.W - 10, Y: l.H - 10}}.Expand(0.01)
	for _, it := range l.Items {
		switch v := it.(type) {
		case render.Text:
			w := render.TextWidth(v.S, v.Size)
			lo, hi := v.At, v.At
			if v.Quarter {
				lo.X, hi.Y = v.At.X-v.Size, v.At.Y
				switch v.Align {
				case render.Left:
					lo.Y -= w
				case render.Middle:
					lo.Y, hi.Y = lo.Y-w/2, hi.Y+w/2
				case render.Right:
					hi.Y += w
				}
			} else {
				lo.Y -= v.Size
				switch v.Align {
				case render.Left:
					hi.X += w
				case render.Middle:
					lo.X, hi.X = lo.X-w/2, hi.X+w/2
				case render.Right:
					lo.X -= w
				}
			}
			if !frame.Contains(lo) || !frame.Contains(hi) {
				out = append(out, fmt.Sprintf("%s %q from %v to %v lies outside the frame", v.ID, v.S, lo, hi))
			}
		case render.Strand:
			for _, p := range v.V {
				if !frame.Contains(p.P) {
					out = append(out, fmt.Sprintf("%s runs over the frame at %v", v.ID, p.P))
				}
			}
		}
	}
	return out
}

// crossings are the places where lines of different wires cross on a sheet without a bridge. Only
// the strands that pick lets pass are looked at. One that ends on another, within 0.1 mm, does not cross it.
func crossings(l render.List, pick func(render.Strand) bool) []string {
	type line struct {
		id         string
		a, b       r2.Point
		begin, end r2.Point // of its strand
	}
	var lines []line
	for _, it := range l.Items {
		v, ok := it.(render.Strand)
		if !ok || !pick(v) {
			continue
		}
		for i := 1; i < len(v.V); i++ {
			// Arcs by chords of a tenth: bulges are those of gentle bends.
			s := geom.Seg{A: v.V[i-1].P, B: v.V[i].P, Bulge: v.V[i-1].Bulge}
			n := 1
			if s.Bulge != 0 {
				n = 10
			}
			for k := range n {
				lines = append(lines, line{v.ID, s.At(float64(k) / float64(n)), s.At(float64(k+1) / float64(n)), v.V[0].P, v.V[len(v.V)-1].P})
			}
		}
	}
	var out []string
	seen := map[string]bool{}
	for i, p := range lines {
		for _, q := range lines[:i] {
			if p.id == q.id || seen[p.id+q.id] ||
				math.Max(p.a.X, p.b.X) < math.Min(q.a.X, q.b.X) || math.Max(q.a.X, q.b.X) < math.Min(p.a.X, p.b.X) {
				continue
			}
			side := func(o, d, x r2.Point) float64 { return d.Sub(o).Cross(x.Sub(o)) }
			if side(p.a, p.b, q.a)*side(p.a, p.b, q.b) < -1e-9 && side(q.a, q.b, p.a)*side(q.a, q.b, p.b) < -1e-9 {
				c, d := side(q.a, q.b, p.a), side(q.a, q.b, p.b)
				at := p.a.Add(p.b.Sub(p.a).Mul(c / (c - d)))
				if slices.ContainsFunc([]r2.Point{p.begin, p.end, q.begin, q.end}, func(e r2.Point) bool { return e.Sub(at).Norm() < 0.1 }) {
					continue
				}
				seen[p.id+q.id] = true
				out = append(out, fmt.Sprintf("%s crosses %s at %.1f, %.1f", p.id, q.id, p.a.X, p.a.Y))
			}
		}
	}
	return out
}

// Where wires cross one is left out: on the schematic, between the pads and their labels, and on
// the plan, where the middle lines of bundles are looked at.
func TestCrossingsAreBridged(t *testing.T) {
	eachSheet(t, func(t *testing.T, _ drawn, s render.Sheet, _ []byte) {
		pick := func(v render.Strand) bool { return v.Ink != "#ffffff" }
		switch {
		case s.Name == "schematic", strings.HasPrefix(s.Name, "wiring-pads"):
		case strings.HasPrefix(s.Name, "wiring"):
			pick = func(v render.Strand) bool { return v.Butt && v.Width < 0.4 && v.Ink != render.FailInk }
		default:
			return
		}
		for _, c := range crossings(s.List, pick) {
			t.Error(c)
		}
	})
}

func TestCrossingsAreFound(t *testing.T) {
	strand := func(id string, x0, y0, x1, y1 float64) render.Strand {
		return render.Strand{Head: render.Head{ID: id}, V: []geom.Vertex{{P: r2.Point{X: x0, Y: y0}}, {P: r2.Point{X: x1, Y: y1}}}}
	}
	all := func(render.Strand) bool { return true }
	for _, c := range []struct {
		name string
		a, b render.Strand
		want int
	}{
		{"a cross", strand("a", 0, 0, 10, 10), strand("b", 0, 10.7, 10, 0), 1},
		{"one wire over itself", strand("a", 0, 0, 10, 10), strand("a", 0, 10.7, 10, 0), 0},
		{"it ends before", strand("a", 0, 0, 10, 10), strand("b", 0, 10.7, 4, 6), 0},
	} {
		if got := len(crossings(render.List{Items: []render.Item{c.a, c.b}}, all)); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// Leaders of labels and balloons do not cross: on the sheets of the examples without findings at most
// one pair does on any.
func TestLeadersKeepApart(t *testing.T) {
	for _, c := range cases(t) {
		if strings.HasPrefix(c.name, "bench") || slices.ContainsFunc(c.outcomes, func(o layout.Outcome) bool {
			return slices.ContainsFunc(o.Findings, func(f layout.Finding) bool { return f.Verdict != layout.OK })
		}) {
			continue
		}
		sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range sheets {
			var leaders render.List
			for _, it := range s.List.Items {
				switch v := it.(type) {
				case render.Line:
					if v.Layer == render.Leader {
						leaders.Items = append(leaders.Items, render.Strand{Head: v.Head, V: []geom.Vertex{{P: v.A}, {P: v.B}}})
					}
				case render.Balloon:
					leaders.Items = append(leaders.Items, render.Strand{Head: v.Head, V: []geom.Vertex{{P: v.At}, {P: v.Dot}}})
				}
			}
			if got := crossings(leaders, func(render.Strand) bool { return true }); len(got) > 1 {
				t.Errorf("%s, %s: leaders cross: %q", c.name, s.Name, got)
			}
		}
	}
}

// soldered reports whether a wire's end is at a pad or plug of its own rather than at a lead that
// hangs on the part.
func soldered(e *layout.Terminal) bool {
	return e != nil && e.Owner != nil && (e.Pad != nil || e.Pin != nil || e.Port != nil)
}

// Every pad and way of a plug on which a wire ends is named once on the sheets of pads, with the
// letters of the wire's colour and the number of its circuit beside it; of parts that are wired alike one stands
// for all.
func TestEveryPadIsNamedOnce(t *testing.T) {
	for _, c := range cases(t) {
		if len(c.asm.Circuits) == 0 {
			continue
		}
		sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{})
		if err != nil {
			t.Fatal(err)
		}
		words, labels := map[string][]string{}, map[string]int{} // by pad
		for _, s := range sheets {
			if !strings.HasPrefix(s.Name, "wiring-pads") {
				continue
			}
			for _, it := range s.List.Items {
				switch v := it.(type) {
				case render.Text:
					words[v.ID] = append(words[v.ID], v.S)
				case render.Circle:
					labels[v.ID]++
				}
			}
		}
		n := 0
		for i, k := range c.asm.Circuits {
			for _, w := range k.Wires {
				for _, e := range [2]*layout.Terminal{w.From, w.To} {
					if !soldered(e) {
						continue
					}
					n++
					key := "wiring-pads." + e.ID
					said := words[key]
					if said == nil { // one that is wired alike stands for it
						for _, o := range c.asm.Components {
							if o.Part != nil && e.Owner.Part != nil && o.Part.Name == e.Owner.Part.Name && o != e.Owner && said == nil {
								key = "wiring-pads." + o.ID + strings.TrimPrefix(e.ID, e.Owner.ID)
								said = words[key]
							}
						}
					}
					numbered := false
					for _, s := range said {
						numbered = numbered || slices.Contains(unfold(s), i+1)
					}
					if len(said) < 3 || said[0] != e.FullLabel() || labels[key] != 1 || !numbered || !slices.Contains(said, letters[w.Colour]) {
						t.Errorf("%s: %s on circuit %d, %s: %q", c.name, e.ID, i+1, w.Colour, said)
					}
				}
			}
		}
		if n == 0 {
			t.Errorf("%s: no wire ends on a pad", c.name)
		}
	}
}

// letters are those of IEC 60757.
var letters = map[string]string{"black": "BK", "brown": "BN", "red": "RD", "orange": "OG", "yellow": "YE", "green": "GN",
	"blue": "BU", "violet": "VT", "grey": "GY", "white": "WH", "pink": "PK", "turquoise": "TQ"}

// unfold reads "1–3,7".
func unfold(s string) []int {
	var out []int
	for _, part := range strings.Split(s, ",") {
		a, b, ok := strings.Cut(part, "–")
		if !ok {
			b = a
		}
		lo, errLo := strconv.Atoi(a)
		hi, errHi := strconv.Atoi(b)
		if errLo != nil || errHi != nil {
			return nil
		}
		for n := lo; n <= hi; n++ {
			out = append(out, n)
		}
	}
	return out
}

// Of every build each wire of the cut list stands in the schematic with the letters of its colour at
// both ends, each circuit is drawn on the plan of all wires and bears its number there or on the detail.
func TestEveryWireIsDrawn(t *testing.T) {
	for _, c := range cases(t) {
		list := c.asm.CutList()
		if len(list.Lines) == 0 {
			continue
		}
		sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{})
		if err != nil {
			t.Fatal(err)
		}
		codes, lines, tags := map[string]int{}, map[string]bool{}, map[string]bool{}
		for _, s := range sheets {
			for _, it := range s.List.Items {
				switch v := it.(type) {
				case render.Text:
					codes[v.ID+" "+v.S]++
					if strings.HasPrefix(v.ID, s.Name+".tag-") {
						tags[v.S] = true
					}
				case render.Strand:
					lines[v.ID] = true
				case render.Circle: // a circuit that only goes down has no line in plan
					lines[v.ID] = true
				}
			}
		}
		for _, l := range list.Lines {
			if got := codes["schematic."+l.Wire.ID+" "+letters[l.Wire.Colour]]; got != 2 {
				t.Errorf("%s: %s has its letters %d times on the schematic, want 2", c.name, l.Wire.ID, got)
			}
			if !lines["schematic."+l.Wire.ID] {
				t.Errorf("%s: %s is not drawn on the schematic", c.name, l.Wire.ID)
			}
		}
		for i, k := range c.asm.Circuits {
			if !lines["wiring."+k.ID] {
				t.Errorf("%s: %s is not drawn on the plan", c.name, k.ID)
			}
			if !tags[strconv.Itoa(i+1)] {
				t.Errorf("%s: circuit %d, %s, has no number on the plan or the detail", c.name, i+1, k.ID)
			}
		}
	}
}
