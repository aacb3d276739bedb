package render_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/render"
)

// Where levels are drawn apart, each wire that ends on a board of the stack is drawn in the pane of
// the level that the end lies on, and no circuit is drawn in a pane at whose heights it never is.
func TestLevelsShowWhatRunsThere(t *testing.T) {
	drawn := 0
	for _, c := range cases(t) {
		sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{})
		if err != nil {
			t.Fatal(err)
		}
		titles, inPane := map[string]string{}, map[string]map[string]bool{} // by prefix
		for _, s := range sheets {
			if !strings.HasPrefix(s.Name, "wiring-levels") {
				continue
			}
			for _, it := range s.List.Items {
				id := ""
				switch v := it.(type) {
				case render.Text:
					if p, ok := strings.CutSuffix(v.ID, "pane.title"); ok {
						titles[p] = v.S
					}
					continue
				case render.Strand:
					id = v.ID
				case render.Circle:
					id = v.ID
				}
				if prefix, circuit, ok := strings.Cut(id, ".wires."); ok {
					if inPane[prefix+"."] == nil {
						inPane[prefix+"."] = map[string]bool{}
					}
					inPane[prefix+"."]["wires."+circuit] = true
				}
			}
		}
		if len(titles) > 0 {
			drawn++
		}
		for prefix, title := range titles {
			lo, hi := heightsOf(c.asm, title)
			for _, k := range c.asm.Circuits {
				there, ends := false, false
				for _, w := range k.Wires {
					for _, e := range [2]*layout.Terminal{w.From, w.To} {
						if e != nil && e.Z.Nominal() > lo && e.Z.Nominal() < hi {
							there = true
							ends = ends || onStack(c.asm, e.Owner)
						}
					}
				}
				if k.Route != nil {
					for _, leg := range k.Route.Legs {
						there = there || math.Max(leg.Z0, leg.Z1) > lo && math.Min(leg.Z0, leg.Z1) < hi
					}
				}
				if got := inPane[prefix][k.ID]; got && !there || ends && !got {
					t.Errorf("%s, %s: %s is drawn: %v; it ends there on the stack: %v; it is there at all: %v", c.name, title, k.ID, got, ends, there)
				}
			}
		}
	}
	if drawn == 0 {
		t.Error("no case has its levels drawn")
	}
}

func onStack(asm *layout.Assembly, c *layout.Component) bool {
	for i := range asm.Stacks {
		for _, l := range asm.Stacks[i].Levels {
			if l.Component == c {
				return true
			}
		}
	}
	return false
}

// heightsOf reads a pane's title: under, between or over boards, counted from their middles.
func heightsOf(asm *layout.Assembly, title string) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	middle := func(name string) float64 {
		for _, c := range asm.Components {
			if c.Label == name && c.Kind == "board" {
				for _, b := range c.Bodies {
					if b.Kind == layout.PcbBody {
						return (b.Bottom.Nominal() + b.Top.Nominal()) / 2
					}
				}
			}
		}
		return math.NaN()
	}
	if s, ok := strings.CutPrefix(title, "Under "); ok {
		hi = middle(s)
	} else if s, ok := strings.CutPrefix(title, "Over "); ok {
		lo = middle(s)
	} else if a, b, ok := strings.Cut(strings.TrimPrefix(title, "Between "), " and "); ok {
		lo, hi = middle(a), middle(b)
	}
	return lo, hi
}
