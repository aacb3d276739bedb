package shapes

import (
	"fmt"
	"strings"

	"dryfit/shapes/read"
)

// propMounts lists the ways in which props go on motors. A press fit is named by its
// shaft, a T-mount (two M2 screws beside the shaft) likewise, a stub by its thread.
func propMounts() []string {
	return []string{"press-0.8", "press-1.0", "press-1.5", "t-1.5", "t-2.0", "m5", "m6"}
}

func (d *decoder) mounts(f *read.Fields, key string, into *[]string) {
	n := f.Get(key)
	if n == nil {
		return
	}
	items := []*read.Node{n}
	if n.Kind() == read.List {
		items = n.Items()
	}
	var out []string
	for _, it := range items {
		if w, ok := d.ds.Enum(it, propMounts()...); ok {
			out = append(out, w)
		}
	}
	*into = out
}

func (d *decoder) motor(f *read.Fields, p *Part) {
	if p.Motor == nil {
		p.Motor = &Motor{}
	}
	m := p.Motor
	f.Refuse("square", "a motor has its holes on a circle, not in a square", patternAdvice)
	f.Refuse("pattern", "a motor has its holes on a circle", patternAdvice)
	f.Refuse("holes", "a motor has its holes on a circle", patternAdvice)
	m.Stator = f.Text("stator", m.Stator)
	d.dim(f, "bell", &m.BellD, SizeMM().Between(3, 120))
	d.dim(f, "body-height", &m.BodyH, SizeMM().Between(2, 120))
	d.dim(f, "overall-height", &m.OverallH, SizeMM().Between(2, 150))
	d.dim(f, "bell-gap", &m.BellGap, LengthMM().Between(0, 30))
	d.dim(f, "base", &m.BaseD, SizeMM().Between(2, 100))
	d.circles(f, m)
	d.dim(f, "thread-usable", &m.ThreadUsable, LengthMM().Between(0, 20))
	d.dim(f, "penetration", &m.Penetration, LengthMM().Between(0, 20))
	d.dim(f, "bell-thread", &m.BellThread, LengthMM().Between(0, 20))
	d.dim(f, "centre-hole", &m.CentreHole, LengthMM().Between(0, 40))
	f.Refuse("center-hole", "the key is spelt `centre-hole:`", "write centre-hole")
	d.dim(f, "shaft", &m.Shaft, SizeMM().Between(0.5, 12))
	d.mounts(f, "mounts", &m.Mounts)
	d.dim(f, "stub", &m.Stub, LengthMM().Between(0, 60))
	d.dim(f, "threaded-part", &m.ThreadedPart, LengthMM().Between(0, 60))
	d.dim(f, "shoulder", &m.Shoulder, LengthMM().Between(0, 40))
	m.LeftHand = f.Bool("left-hand", m.LeftHand)
	d.dim(f, "max-current", &m.MaxCurrent, CurrentA())
	d.dim(f, "max-thrust", &m.MaxThrust, ThrustGf())
	d.dim(f, "lead-length", &m.LeadLength, LengthMM())
	if n := f.Get("lead-gauge"); n != nil {
		if g, ok := ParseGauge(d.ds, n); ok {
			m.LeadGauge = g
		}
	}
	d.cells(f, &m.CellsLo, &m.CellsHi)
	d.needed(f, p, m.BellD, "bell", "the bell's diameter")
	d.needed(f, p, m.BodyH, "body-height", "from the mounting face to the top of the bell")
	if len(m.Circles) == 0 && !f.Has("circle") && !f.Has("circles") {
		d.ds.At(f.Node(), "a motor needs `circle:`", "circle: 16", patternAdvice)
	}
}

// needed reports a figure without which the part means nothing.
func (d *decoder) needed(f *read.Fields, p *Part, dim *Dim, key, what string) {
	if dim == nil {
		d.ds.At(f.Node(), p.Kind.article()+" needs `"+key+":`", what, "write `"+key+": unknown` if nobody has measured it")
	}
}

// cells reads a number of cells such as 4..6.
func (d *decoder) cells(f *read.Fields, lo, hi *int) {
	n := f.Get("cells")
	if n == nil {
		return
	}
	a, b, isRange := strings.Cut(n.Raw(), "..")
	if !isRange {
		b = a
	}
	l, why1, _ := read.ParseNumber(strings.TrimSpace(a))
	h, why2, _ := read.ParseNumber(strings.TrimSpace(b))
	if n.Kind() != read.Scalar || why1 != "" || why2 != "" || l < 1 || h > 14 || l > h || l > float64(int(l)) || h > float64(int(h)) {
		d.ds.At(n, n.Describe()+" is not a number of cells", "1 to 14, or a range such as 4..6", "")
		return
	}
	*lo, *hi = int(l), int(h)
}

// circles reads `circle:` (the one pattern) or `circles:` (the patterns that a class is
// sold with).
func (d *decoder) circles(f *read.Fields, m *Motor) {
	one, many := f.Get("circle"), f.Get("circles")
	if one != nil && many != nil {
		d.ds.At(many, "a motor has `circle:` or `circles:`, not both", "", "")
		return
	}
	var items []*read.Node
	switch {
	case one != nil:
		if one.Kind() == read.List {
			d.ds.At(one, "`circle:` takes one bolt circle", "circle: 16", "a list belongs behind `circles:`")
			return
		}
		items = []*read.Node{one}
	case many != nil:
		items, _ = d.ds.List(many)
	default:
		return
	}
	m.Circles = nil
	for _, it := range items {
		m.Circles = append(m.Circles, d.circle(it))
	}
}

func (d *decoder) circle(n *read.Node) BoltCircle {
	c := BoltCircle{Count: 4}
	if n.Kind() == read.Map {
		f := d.ds.Fields(n, "a bolt circle")
		f.Refuse("square", "a motor has its holes on a circle", patternAdvice)
		if v := f.Need("diameter", "diameter: 16"); v != nil {
			c.Diameter = d.diameter(v)
		}
		if v := f.Get("across"); v != nil {
			c.Across = d.diameter(v)
			c.Across.Name = d.name + " bolt circle across"
		}
		c.Count = f.Int("count", 2, 8, 4)
		c.Turn = d.plain(f, "turn", 0, AngleDeg())
		c.Screw = d.thread(f, "screw", "")
		f.Done()
	} else {
		c.Diameter = d.diameter(n)
	}
	if c.Diameter == nil {
		c.Diameter = d.lacking("bolt circle", MM)
	}
	return c
}

func (d *decoder) diameter(n *read.Node) *Dim {
	if isCross(n.Raw()) {
		parts := crossParts(n.Raw())
		hint := "write circle: " + parts[0]
		if len(parts) == 2 && parts[0] != parts[1] {
			hint = fmt.Sprintf("write circle: {diameter: %s, across: %s}", parts[0], parts[1])
		}
		d.ds.At(n, read.Quote(n.Raw())+" can mean two patterns", patternAdvice, hint)
		return d.lacking("bolt circle", MM)
	}
	return d.dimAt(n, "bolt circle", SizeMM().Between(2, 100))
}

func (d *decoder) prop(f *read.Fields, p *Part) {
	if p.Prop == nil {
		p.Prop = &Prop{Blades: 3}
	}
	q := p.Prop
	if f.Has("diameter") && !f.Has("real-diameter") {
		q.RealD = nil // a new label: the inherited real size no longer holds
	}
	d.dim(f, "diameter", &q.NominalD, SizeMM().Between(10, 1000))
	d.dim(f, "real-diameter", &q.RealD, SizeMM().Between(10, 1000))
	d.dim(f, "hub-thickness", &q.HubT, SizeMM().Between(0.5, 60))
	d.dim(f, "hub-diameter", &q.HubD, SizeMM().Between(0.5, 100))
	d.plains(f, "bores", &q.Bores, SizeMM().Between(0.3, 20))
	d.mounts(f, "mounts", &q.Mounts)
	d.dim(f, "flex-up", &q.FlexUp, LengthMM().Between(0, 200))
	d.dim(f, "flex-down", &q.FlexDown, LengthMM().Between(0, 200))
	d.dim(f, "below-hub", &q.BelowHub, LengthMM().Between(0, 60))
	q.Blades = f.Int("blades", 1, 12, q.Blades)
	d.needed(f, p, q.NominalD, "diameter", "the size on its label, such as 5.1 in")
	// The label's size stands in for a real one; its tolerance (about 1.2 % over or
	// under) is told by the class rows of the catalogue.
	if q.RealD == nil && q.NominalD != nil {
		real := *q.NominalD
		real.Name = d.name + " real diameter"
		if !real.HasTol && !real.Missing {
			real.Plus, real.Minus = 0.012*real.Value, 0.012*real.Value
			real.HasTol, real.TolSource = true, Assumed
		}
		q.RealD = &real
	}
}
