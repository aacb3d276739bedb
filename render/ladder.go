package render

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// level is a height worth a rung of the ladder of ordinates.
type level struct {
	z     float64
	names []string
	x     float64 // where the feature ends on the ladder's side (view plane)
	rank  int     // of two at one height the lower rank is named first
}

// levels lists the heights of plates, boards, posts, motors, props, packs and tips.
func levels(asm *layout.Assembly, sc *scene) []level {
	left := map[string]float64{}
	for _, s := range sc.shadows {
		if x, ok := left[s.id]; !ok || s.box.Lo.X < x {
			left[s.id] = s.box.Lo.X
		}
	}
	var all []level
	add := func(rank int, z float64, id, name string) {
		x, ok := left[id]
		if !ok {
			return
		}
		all = append(all, level{z, []string{name}, x, rank})
	}
	for _, p := range asm.Plates {
		if p.ArmOf != "" {
			continue
		}
		add(0, p.Bottom.Nominal(), p.ID, p.Name+" under")
		add(0, p.Top.Nominal(), p.ID, p.Name+" top")
	}
	for _, s := range asm.Stacks {
		for _, lv := range s.Levels {
			if lv.Board && lv.Component != nil {
				add(1, lv.FaceDown.Nominal(), lv.Component.ID, lv.Component.Label+" under")
				add(1, lv.FaceUp.Nominal(), lv.Component.ID, lv.Component.Label+" top")
			}
		}
	}
	for i, r := range asm.Rotors {
		if r.Motor == nil || r.Prop == nil {
			continue
		}
		if i > 0 && sameHeight(r, asm.Rotors[i-1]) {
			continue
		}
		add(3, r.Seat.Nominal(), r.Motor.ID, "prop seat")
	}
	for _, p := range asm.Packs {
		if p.Body != nil {
			add(2, p.Body.Top.Nominal(), p.ID, p.Label+" top")
			add(4, p.Body.Bottom.Nominal(), p.ID, p.Label+" under")
		}
	}
	for _, c := range asm.Cameras {
		add(2, c.PivotZ.Nominal(), c.ID, c.Label+" pivot")
	}
	for _, a := range asm.Antennas {
		add(2, a.Tip[2], a.ID, a.Label+" tip")
	}
	for _, m := range asm.Mounts {
		if !strings.Contains(strings.TrimPrefix(m.ID, "mounts."), ".") {
			add(4, topOf(m), m.ID, m.Label+" top")
		}
	}
	slices.SortStableFunc(all, func(a, b level) int {
		if math.Abs(a.z-b.z) > 0.02 {
			return cmp.Compare(a.z, b.z)
		}
		return cmp.Compare(a.rank, b.rank)
	})
	var out []level
	for _, l := range all {
		if n := len(out); n > 0 && l.z-out[n-1].z < 0.02 {
			if len(out[n-1].names) < 2 && out[n-1].names[0] != l.names[0] {
				out[n-1].names = append(out[n-1].names, l.names[0])
			}
			out[n-1].x = math.Min(out[n-1].x, l.x)
			continue
		}
		out = append(out, l)
	}
	return out
}

func sameHeight(a, b *layout.Rotor) bool {
	return math.Abs(a.Seat.Nominal()-b.Seat.Nominal()) < 0.01
}

// topOf is the top of a part itself, without the foam that it hangs on and the tie over it.
func topOf(c *layout.Component) float64 {
	z := math.Inf(-1)
	for _, b := range c.Bodies {
		if !b.Swept && b.Kind != layout.CushionBody {
			z = math.Max(z, b.Top.Nominal())
		}
	}
	return z
}

// spread moves ascending positions apart to at least gap, as little as possible in the
// sense of least squares, and keeps them within lo..hi if they fit (pool adjacent
// violators; Ayer et al. 1955).
func spread(want []float64, gap, lo, hi float64) []float64 {
	type block struct {
		sum float64
		n   int
	}
	// With y[i] = want[i] - i·gap the task is isotonic regression.
	var blocks []block
	for i, w := range want {
		blocks = append(blocks, block{w - float64(i)*gap, 1})
		for len(blocks) > 1 {
			a, b := blocks[len(blocks)-2], blocks[len(blocks)-1]
			if a.sum/float64(a.n) <= b.sum/float64(b.n) {
				break
			}
			blocks = append(blocks[:len(blocks)-2], block{a.sum + b.sum, a.n + b.n})
		}
	}
	out := make([]float64, 0, len(want))
	for _, b := range blocks {
		for range b.n {
			out = append(out, b.sum/float64(b.n)+float64(len(out))*gap)
		}
	}
	n := len(out)
	if n == 0 {
		return out
	}
	if over := out[n-1] - hi; over > 0 {
		for i := n - 1; i >= 0; i-- {
			out[i] = math.Min(out[i], hi-float64(n-1-i)*gap)
		}
	}
	for i := range out {
		out[i] = math.Max(out[i], lo+float64(i)*gap)
	}
	return out
}

// ladderGap is the least distance of two rungs' lettering in mm.
const ladderGap = 4.2

// ladder draws the ordinates left of the view: from each level a line out to x, from
// there to its place in the column of figures, whose right end is at x - ladderBend.
func ladder(l *List, v *view, rungs []level, x float64, room geom.Rect) {
	var want []float64
	for i := len(rungs) - 1; i >= 0; i-- {
		want = append(want, v.at(0, rungs[i].z).Y) // downwards on the sheet
	}
	wide := 0.0
	for _, r := range rungs {
		wide = max(wide, TextWidth(level2(r.z), small))
	}
	ys := spread(want, ladderGap, room.Lo.Y+small, room.Hi.Y-1)
	for k, y := range ys {
		r := rungs[len(rungs)-1-k]
		h := Head{Layer: Dimension, ID: "dim.levels", Group: "side.levels"}
		a := v.at(r.x, r.z)
		if v.cut != nil {
			a = v.at(math.Max(r.x, v.cut.lo), r.z)
		}
		from := r2.Point{X: a.X - extGap, Y: a.Y}
		l.add(Path{Head: h, V: []geom.Vertex{
			{P: from}, {P: r2.Point{X: x, Y: a.Y}}, {P: r2.Point{X: x - ladderBend + 3, Y: y}}, {P: r2.Point{X: x - ladderBend, Y: y}}}})
		base := y + small/2
		right := x - ladderBend - 1.2
		value := level2(r.z)
		l.add(Text{Head: h, At: r2.Point{X: right, Y: base}, Size: small, S: value, Align: Right})
		edge := right - wide - 1.5
		names := strings.Join(r.names, " = ")
		if TextWidth(names, small) > edge-room.Lo.X {
			names = r.names[0]
		}
		l.add(Text{Head: h, At: r2.Point{X: edge, Y: base}, Size: small, S: fit(names, small, edge-room.Lo.X), Align: Right})
	}
}

// ladderBend is the width of the bend between a height and its figure, mm on the sheet;
// ladderNames is how wide the names may be.
const (
	ladderBend  = 8.0
	ladderNames = 38.0
)

// ladderWidth is the width that the ladder needs in mm on the sheet.
func ladderWidth(rungs []level) float64 {
	values, names := 0.0, 0.0
	for _, r := range rungs {
		values = max(values, TextWidth(level2(r.z), small))
		names = max(names, TextWidth(r.names[0], small))
	}
	return ladderBend + 1.2 + values + 1.5 + min(names, ladderNames) + 5
}

// level2 prints a height with two decimals; the datum is a plain 0.
func level2(z float64) string {
	if math.Abs(z) < 0.005 {
		return "0"
	}
	return signed(z)
}
