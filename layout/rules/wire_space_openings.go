package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"dryfit/layout"
	"dryfit/shapes"
)

const (
	openingPlay = 0.5 // mm, so that the last wire can be drawn past the others
	edgeTape    = 0.2 // mm: tape round a rim, two layers of 0.1 at most
)

// passage is an opening of a plate and all that goes through it.
type passage struct {
	plate    *layout.Plate
	hole     *layout.Hole
	circuits []*layout.Circuit
	ods      []*shapes.Dim // of single wires, and of bundles in a sleeve
	wires    int
	tape     float64 // mm that the guard takes of the opening at either rim
}

// passages lists the openings that routed wires go through, in the order of the circuits.
func (p *Pass) passages() []*passage {
	var out []*passage
	for _, c := range p.Asm.Circuits {
		if !routed(c) {
			continue
		}
		for i := range c.Route.Edges {
			e := &c.Route.Edges[i]
			pl := p.plate(e.Plate)
			if e.Hole == "" || pl == nil {
				continue
			}
			k := slices.IndexFunc(out, func(o *passage) bool { return o.plate == pl && o.hole.Name == e.Hole })
			if k < 0 {
				h := slices.IndexFunc(pl.Holes, func(h layout.Hole) bool { return h.Name == e.Hole })
				if h < 0 {
					continue
				}
				k = len(out)
				out = append(out, &passage{plate: pl, hole: &pl.Holes[h]})
			}
			o := out[k]
			if !slices.Contains(o.circuits, c) {
				o.circuits = append(o.circuits, c)
			}
			o.wires += len(c.Wires)
			if c.Spec != nil && c.Spec.Edge == "tape" {
				o.tape = edgeTape
			}
			if isSleeved(c) {
				o.ods = append(o.ods, sleeved(c))
				continue
			}
			for _, w := range c.Wires {
				o.ods = append(o.ods, w.Gauge.Wire.OD)
			}
		}
	}
	return out
}

func (p *Pass) fullOpenings() {
	for _, o := range p.passages() {
		p.Report(p.fills(o))
	}
}

func (p *Pass) fills(o *passage) layout.Finding {
	c := o.circuits[0]
	f := wireFinding(c)
	f.Subjects = append(f.Subjects[:1], o.plate.ID)
	at := lift(o.hole.At, (o.plate.Bottom.Nominal()+o.plate.Top.Nominal())/2)
	f.HasPlace, f.A, f.B = true, at, at
	what := wiresOf(c)
	if len(o.circuits) > 1 {
		var names []string
		for _, d := range o.circuits {
			names = append(names, d.Label)
		}
		what = fmt.Sprintf("the %d wires of %s", o.wires, speak(names))
		f.Near = "wires " + speak(names)
	}
	where := spoken(o.hole.Name) + " of " + p.call(o.plate.ID)
	width := o.width()
	clear := layout.Of(width).Shift(-2 * o.tape)
	if o.hole.Length <= 0 && o.hole.Diameter != nil {
		all := layout.WiresOD("all wires through "+o.hole.Name, o.ods)
		f = f.Judge(clear.Sub(layout.Of(all)), p.playNeed())
		switch {
		case f.Verdict == layout.Unknown:
			f.Message = fmt.Sprintf("whether %s fit through %s hangs on a dimension that is missing", what, where)
		default:
			need, have := "need", "have"
			if o.wires == 1 {
				need, have = "needs", "has"
			}
			f.Message = fmt.Sprintf("%s %s a circle of %s and %s %s in %s: %s, %s needed",
				what, need, mm(all.Value), have, mm(clear.Nominal()), where, play(f.Measured), mm(f.Needed))
		}
		f.Fix = unknownFix(&f)
		if mustMend(&f) {
			f.Fix = fmt.Sprintf("make it %s in place of %s, or lead %s elsewhere with `via:`", mm(up(width.Value-f.Worst, 0.1)), num(width.Value), one(o))
		}
		return f
	}
	thick := slices.MaxFunc(o.ods, func(a, b *shapes.Dim) int { return cmp.Compare(largest(a), largest(b)) })
	across := f.Judge(clear.Sub(layout.Of(thick)), p.playNeed())
	widest := "the thickest of " + what
	if len(o.ods) == 1 {
		widest = "the sleeve with " + what
		if o.wires == 1 {
			widest = what
		}
	}
	across.Message = fmt.Sprintf("%s, %s, has %s across %s, %s wide, %s needed",
		widest, mm(thick.Value), play(across.Measured), where, mm(clear.Nominal()), mm(across.Needed))
	if mustMend(&across) {
		across.Fix = fmt.Sprintf("make it %s wide in place of %s, or lead %s elsewhere with `via:`", mm(up(width.Value-across.Worst, 0.1)), num(width.Value), one(o))
	}
	row, length := o.row(width), o.length()
	along := f.Judge(deviation(layout.Of(width)).Shift(length-2*o.tape).Sub(layout.Of(row)), p.playNeed())
	along.Message = fmt.Sprintf("%s take %s of the length of %s, %s by %s: %s, %s needed",
		what, mm(row.Value), where, mm(length-2*o.tape), mm(clear.Nominal()), play(along.Measured), mm(along.Needed))
	if mustMend(&along) {
		along.Fix = fmt.Sprintf("make it %s long in place of %s, or lead %s elsewhere with `via:`", mm(up(length-along.Worst, 0.1)), num(length), one(o))
	}
	out := across
	if worse(&along, &across) {
		out = along
	}
	if out.Verdict == layout.Unknown {
		out.Message = fmt.Sprintf("whether %s fit through %s hangs on a dimension that is missing", what, where)
		out.Fix = unknownFix(&out)
	}
	return out
}

// play says how much room is left.
func play(v float64) string {
	if v < -0.005 {
		return mm(-v) + " too little"
	}
	return mm(v) + " of play"
}

// one is what to lead elsewhere.
func one(o *passage) string {
	if len(o.circuits) > 1 {
		return "one of them"
	}
	return themOrIt(o.circuits[0])
}

func largest(d *shapes.Dim) float64 {
	if d == nil || d.Missing {
		return math.Inf(1)
	}
	return d.Value + d.Plus
}

// width is the diameter of a round opening, the width of a slot, and the narrower side of the box round any other.
func (o *passage) width() *shapes.Dim {
	if o.hole.Diameter != nil {
		return drilled(o.plate, o.hole.Diameter)
	}
	size := o.hole.Loop.Bound().Size()
	d := &shapes.Dim{Name: o.hole.Name + " width", Value: math.Min(size.X, size.Y), Unit: shapes.MM}
	if tol := o.plate.CutTol; tol != nil {
		d.Plus, d.Minus, d.HasTol, d.TolSource = tol.Plus, tol.Minus, true, tol.TolSource
	}
	return d
}

// length is how long an opening is that is not round, mm.
func (o *passage) length() float64 {
	if o.hole.Length > 0 {
		return o.hole.Length
	}
	size := o.hole.Loop.Bound().Size()
	return math.Max(size.X, size.Y)
}

// row is how much of the length of a slot all that goes through takes, mm, at the least and greatest of its width
// and of all wires as well.
func (o *passage) row(width *shapes.Dim) *shapes.Dim {
	out := &shapes.Dim{Name: "all wires through " + o.hole.Name, Unit: shapes.MM, Source: shapes.Catalogue, TolSource: shapes.Catalogue, HasTol: true, Range: true}
	if isMissing(width) || slices.ContainsFunc(o.ods, isMissing) {
		out.Missing = true
		return out
	}
	at := func(k float64) float64 {
		w := width.Value - 2*o.tape
		ds := make([]float64, len(o.ods))
		for i, d := range o.ods {
			ds[i] = d.Value
			if k > 0 {
				ds[i] += d.Plus
			} else if k < 0 {
				ds[i] -= d.Minus
			}
		}
		if k > 0 {
			w -= width.Minus
		} else if k < 0 {
			w += width.Plus
		}
		return sideBySide(ds, w, o.hole.Length > 0)
	}
	out.Value = at(0)
	out.Plus, out.Minus = math.Max(0, at(1)-out.Value), math.Max(0, out.Value-at(-1))
	return out
}

// sideBySide is a length of a slot w wide that holds wires of these diameters for certain, mm: the shortest of three
// ways to lay them. As a round bundle, where that is no wider than the slot. In a zigzag, each taken as thick as the
// thickest, where a wire is √(d² − (w−d)²) farther on than the one before it, d/2 at the least. In columns, thick
// ones first, as many across as the width holds. In round ends a wire beside the middle line lies farther from the
// end, in the worst case by half of what it lacks of the width.
func sideBySide(ds []float64, w float64, rounded bool) float64 {
	if len(ds) == 0 {
		return 0
	}
	ds = slices.Clone(ds)
	slices.SortFunc(ds, func(a, b float64) int { return cmp.Compare(b, a) })
	d, thin := ds[0], ds[len(ds)-1]
	side := math.Max(0, math.Min(w-d, d))
	zigzag := d + float64(len(ds)-1)*math.Max(d/2, math.Sqrt(math.Max(0, d*d-side*side)))
	columns, filled, widest := 0.0, 0.0, 0
	n := 0
	for _, x := range ds {
		if n > 0 && filled+x <= w+touch {
			filled += x
			n++
		} else {
			columns, filled, n = columns+x, x, 1
		}
		widest = max(widest, n)
	}
	if rounded && len(ds) > 1 {
		zigzag += side
		if widest > 1 {
			columns += w - thin
		}
	}
	out := math.Min(zigzag, columns)
	as := make([]*shapes.Dim, len(ds))
	for i, x := range ds {
		if as[i] = (&shapes.Dim{Value: x}); i > 0 && x-ds[0] >= -1e-9 {
			as[i] = as[0] // equal wires
		}
	}
	if round := layout.WiresOD("", as).Value; round <= w+touch {
		out = math.Min(out, round)
	}
	return out
}
