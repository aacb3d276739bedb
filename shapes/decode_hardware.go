package shapes

import "dryfit/shapes/read"

func (d *decoder) threadPart(f *read.Fields, p *Part) {
	if p.Thread == nil {
		p.Thread = &Thread{}
	}
	t := p.Thread
	small := SizeMM().Between(0.05, 60)
	t.Size = d.thread(f, "size", t.Size)
	t.Major = d.plain(f, "major", t.Major, small)
	t.Pitch = d.plain(f, "pitch", t.Pitch, small)
	t.TapDrill = d.plain(f, "tap-drill", t.TapDrill, small)
	t.NutAF = d.plain(f, "nut-across-flats", t.NutAF, small)
	t.NutCorner = d.plain(f, "nut-across-corners", t.NutCorner, small)
	t.NutH = d.plain(f, "nut-height", t.NutH, small)
	d.dim(f, "lock-nut-height", &t.LockNutH, small)
	t.WasherID = d.plain(f, "washer-inside", t.WasherID, small)
	t.WasherOD = d.plain(f, "washer-outside", t.WasherOD, small)
	t.WasherT = d.plain(f, "washer-thickness", t.WasherT, small)
	t.HoleFine = d.plain(f, "hole-fine", t.HoleFine, small)
	t.HoleMedium = d.plain(f, "hole-medium", t.HoleMedium, small)
	d.dim(f, "plate-hole", &t.PlateHole, small)
	d.plains(f, "lengths", &t.Lengths, SizeMM().Between(1, 200))
	d.plains(f, "kit-lengths", &t.KitLengths, SizeMM().Between(1, 200))
	if n := f.Get("heads"); n != nil {
		t.Heads = nil
		items, _ := d.ds.List(n)
		for _, it := range items {
			t.Heads = append(t.Heads, d.head(it))
		}
	}
	if t.Size == "" || t.Major <= 0 {
		d.ds.At(f.Node(), "a thread needs `size:` and `major:`", "size: M3, major: 3", "")
	}
}

func (d *decoder) head(n *read.Node) Head {
	f := d.ds.Fields(n, "a screw head")
	small := SizeMM().Between(0.1, 60)
	h := Head{
		Form:     f.Enum("form", "", "socket", "button", "countersunk", "pan", "flanged"),
		D:        d.plain(f, "diameter", 0, small),
		H:        d.plain(f, "height", 0, small),
		Key:      f.Text("key", ""),
		Standard: f.Text("standard", ""),
		Conf:     d.conf,
	}
	if c := f.Get("conf"); c != nil {
		h.Conf, _ = d.ds.Enum(c, confidences()...)
	}
	f.Done()
	return h
}

func (d *decoder) standoff(f *read.Fields, p *Part) {
	if p.Standoff == nil {
		p.Standoff = &Standoff{}
	}
	s := p.Standoff
	s.Thread = d.thread(f, "thread", s.Thread)
	s.Material = f.Enum("material", s.Material, "aluminium", "brass", "steel", "nylon", "rubber", "plastic")
	d.dim(f, "across", &s.OD, SizeMM().Between(1, 60))
	s.Hex = f.Bool("hex", s.Hex)
	d.dim(f, "corners", &s.Corner, SizeMM().Between(1, 60))
	d.plains(f, "lengths", &s.Lengths, SizeMM().Between(1, 200))
	d.dim(f, "length-tolerance", &s.LengthTol, OffsetMM())
	d.dim(f, "stud", &s.Stud, LengthMM().Between(0, 60))
	d.dim(f, "thread-depth", &s.ThreadDepth, LengthMM().Between(0, 200))
	s.Through = d.plain(f, "tapped-through", s.Through, LengthMM().Between(0, 200))
	s.MassPerMM = f.Number("mass-per-mm", 0, 10, s.MassPerMM)
	switch s.Material {
	case "aluminium", "brass", "steel":
		s.Conducts = true
	default:
		s.Conducts = false
	}
	s.Conducts = f.Bool("conducts", s.Conducts)
	d.needed(f, p, s.OD, "across", "the diameter; across flats for a hex")
	if s.Thread == "" && !f.Has("thread") {
		d.ds.At(f.Node(), "a standoff needs `thread:`", "thread: M3", "")
	}
}

func (d *decoder) grommet(f *read.Fields, p *Part) {
	if p.Grommet == nil {
		p.Grommet = &Grommet{}
	}
	g := p.Grommet
	small := SizeMM().Between(0.2, 60)
	d.dim(f, "board-hole", &g.BoardHole, small)
	d.dim(f, "groove", &g.Groove, small)
	d.dim(f, "outside", &g.OD, small)
	d.dim(f, "bore", &g.Bore, small)
	d.dim(f, "free", &g.Free, small)
	d.dim(f, "tight", &g.Tight, small)
	d.dim(f, "below", &g.Below, LengthMM().Between(0, 60))
	d.dim(f, "above", &g.Above, LengthMM().Between(0, 60))
	d.needed(f, p, g.Tight, "tight", "its height once the nut is tightened")
	d.needed(f, p, g.BoardHole, "board-hole", "the hole that it sits in")
}

func (d *decoder) strap(f *read.Fields, p *Part) {
	if p.Strap == nil {
		p.Strap = &Strap{}
	}
	s := p.Strap
	d.dim(f, "width", &s.Width, SizeMM().Between(2, 100))
	d.dim(f, "thickness", &s.Thickness, SizeMM().Between(0.1, 20))
	d.dim(f, "buckle-thickness", &s.BuckleT, LengthMM().Between(0, 30))
	d.dim(f, "buckle-width", &s.BuckleW, LengthMM().Between(0, 100))
	d.plains(f, "lengths", &s.Lengths, SizeMM())
	d.needed(f, p, s.Width, "width", "such as 20")
}

func (d *decoder) tie(f *read.Fields, p *Part) {
	if p.Tie == nil {
		p.Tie = &Tie{}
	}
	t := p.Tie
	small := SizeMM().Between(0.1, 60)
	d.dim(f, "width", &t.Width, small)
	d.dim(f, "thickness", &t.Thickness, small)
	d.dim(f, "head-length", &t.HeadL, small)
	d.dim(f, "head-width", &t.HeadW, small)
	d.dim(f, "head-height", &t.HeadH, small)
	d.plains(f, "lengths", &t.Lengths, SizeMM())
	d.needed(f, p, t.Width, "width", "such as 2.5")
}

func (d *decoder) cushion(f *read.Fields, p *Part) {
	if p.Cushion == nil {
		p.Cushion = &Cushion{}
	}
	c := p.Cushion
	d.dim(f, "free", &c.Free, SizeMM().Between(0.05, 60))
	d.dim(f, "tight", &c.Tight, SizeMM().Between(0.05, 60))
	d.needed(f, p, c.Free, "free", "its thickness as sold")
	if c.Tight == nil {
		c.Tight = c.Free
	}
}

func (d *decoder) sleeve(f *read.Fields, p *Part) {
	if p.Sleeve == nil {
		p.Sleeve = &Sleeve{}
	}
	s := p.Sleeve
	d.dim(f, "supplied", &s.Supplied, SizeMM().Between(0.2, 200))
	d.dim(f, "recovered", &s.Recovered, SizeMM().Between(0.1, 200))
	d.dim(f, "wall", &s.Wall, SizeMM().Between(0.05, 10))
	d.needed(f, p, s.Supplied, "supplied", "its inside before shrinking")
	d.needed(f, p, s.Recovered, "recovered", "its inside after shrinking free")
}

func (d *decoder) material(f *read.Fields, p *Part) {
	if p.Material == nil {
		p.Material = &Material{}
	}
	m := p.Material
	d.dim(f, "density", &m.Density, Sane{Unit: GramPerCM3, Lo: 0.02, Hi: 25})
	m.Conducts = f.Bool("conducts", m.Conducts)
	m.Printed = f.Bool("printed", m.Printed)
	d.plains(f, "thicknesses", &m.Thicknesses, SizeMM().Between(0.05, 100))
	d.dim(f, "cut-tolerance", &m.CutTol, OffsetMM())
	d.dim(f, "hole-tolerance", &m.HoleTol, OffsetMM())
	d.dim(f, "place-tolerance", &m.PlaceTol, OffsetMM())
	d.needed(f, p, m.Density, "density", "in g/cm³, such as 1.55")
}

func (d *decoder) wire(f *read.Fields, p *Part) {
	if p.Wire == nil {
		p.Wire = &Wire{}
	}
	w := p.Wire
	if n := f.Get("gauge"); n != nil {
		if g, ok := ParseGauge(d.ds, n); ok {
			w.Gauge = g
		}
	}
	w.Coax = f.Bool("coax", w.Coax)
	d.dim(f, "outside", &w.OD, SizeMM().Between(0.1, 60))
	d.dim(f, "mass-per-metre", &w.MassPerM, MassG())
	w.OhmPerKm = f.Number("ohm-per-km", 0, 1e5, w.OhmPerKm)
	p.Amps = nil
	d.dim(f, "amps", &w.Amps, CurrentA())
	d.dim(f, "burst", &w.Burst, CurrentA())
	d.dim(f, "bend", &w.MinBend, LengthMM())
	d.needed(f, p, w.OD, "outside", "the diameter over its insulation")
}
