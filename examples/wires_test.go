package examples

import (
	"math"
	"testing"
)

// TestCutListsAddUp checks the cut list of every example: the totals are the sums over the
// wires, no wire is shorter than the straight line between its ends with what is bared, and
// what weighs is what the list weighs.
func TestCutListsAddUp(t *testing.T) {
	for _, name := range all() {
		asm := load(t, path(name), text(t, name))
		list := asm.CutList()
		wires := 0
		for _, c := range asm.Circuits {
			wires += len(c.Wires)
		}
		if len(list.Lines) != wires {
			t.Errorf("%s: %d lines for %d wires", name, len(list.Lines), wires)
		}
		var sum [2]struct {
			wires     int
			mm, grams float64
		}
		for i := range list.Lines {
			l := &list.Lines[i]
			if !l.Routed {
				continue
			}
			k := 0
			if l.Lead != nil {
				k = 1
			}
			sum[k].wires++
			sum[k].mm += l.Cut
			sum[k].grams += l.Grams
			if l.Cut < l.Length-1e-6 || l.Cut >= l.Length+1 || l.Cut > math.Round(l.Cut)+1e-9 {
				t.Errorf("%s: %s is %v mm long and cut at %v", name, l.Wire.ID, l.Length, l.Cut)
			}
			a, b := l.Wire.From, l.Wire.To
			straight := math.Hypot(a.At.Sub(b.At).Norm(), a.Z.Nominal()-b.Z.Nominal())
			have := l.Length
			if c := l.Circuit; c.Mate != nil && c.Hung != nil {
				have += c.Hung.Value // the pack's own lead up to the plug
			}
			if have < straight-1e-6 {
				t.Errorf("%s: %s is %.2f mm long, its ends are %.2f apart", name, l.Wire.ID, have, straight)
			}
		}
		for k, lead := range [2]bool{false, true} {
			n, mm, grams := list.Total(lead)
			if n != sum[k].wires || math.Abs(mm-sum[k].mm) > 1e-6 || math.Abs(grams-sum[k].grams) > 1e-9 {
				t.Errorf("%s: totals %d wires, %v mm, %v g; the lines sum to %+v", name, n, mm, grams, sum[k])
			}
		}
		sleeves := 0
		for _, c := range asm.Circuits {
			if c.Spec != nil && c.Spec.Sleeve != nil && c.Route != nil && c.Route.Blocked == nil {
				sleeves++
			}
		}
		pieces := 0
		for _, s := range list.Sleeves {
			pieces += s.Pieces
		}
		if pieces != sleeves {
			t.Errorf("%s: %d pieces of sleeve for %d circuits in one", name, pieces, sleeves)
		}
	}
}
