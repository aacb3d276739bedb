package shapes

import "dryfit/shapes/read"

func (d *decoder) camera(f *read.Fields, p *Part) {
	if p.Camera == nil {
		p.Camera = &Camera{SideScrews: true}
	}
	c := p.Camera
	d.dim(f, "width", &c.Width, SizeMM().Between(2, 200))
	d.dim(f, "height", &c.Height, SizeMM().Between(2, 200))
	d.dim(f, "depth", &c.Depth, SizeMM().Between(2, 300))
	d.dim(f, "lens-diameter", &c.LensD, SizeMM().Between(1, 100))
	d.dim(f, "lens-length", &c.LensLength, LengthMM().Between(0, 200))
	d.dim(f, "pivot-back", &c.PivotBack, OffsetMM().Between(-50, 200))
	d.dim(f, "fov", &c.Fov, AngleDeg().Between(10, 220))
	c.SideScrew = d.thread(f, "side-screw", c.SideScrew)
	d.dim(f, "screw-max", &c.ScrewMax, LengthMM().Between(0, 20))
	c.SideScrews = f.Bool("side-screws", c.SideScrews)
	d.needed(f, p, c.Width, "width", "between the side faces that the screws go into")
	d.needed(f, p, c.Depth, "depth", "from the back of the case to the front of the lens")
}

func (d *decoder) antenna(f *read.Fields, p *Part) {
	if p.Antenna == nil {
		p.Antenna = &Antenna{}
	}
	a := p.Antenna
	d.dim(f, "rod", &a.Rod, LengthMM())
	d.dim(f, "rod-diameter", &a.RodD, SizeMM().Between(0.2, 60))
	d.dim(f, "head", &a.Head, LengthMM())
	d.dim(f, "head-diameter", &a.HeadD, SizeMM().Between(0.5, 200))
	d.dim(f, "active", &a.Active, LengthMM())
	d.dim(f, "span", &a.Span, LengthMM())
	a.Soft = f.Bool("soft", a.Soft)
	a.Plug = d.connector(f, "plug", a.Plug)
	d.needed(f, p, a.Rod, "rod", "the length of the stem without the head")
}

func (d *decoder) pack(f *read.Fields, p *Part) {
	if p.Pack == nil {
		p.Pack = &Pack{CellFull: 4.2}
	}
	k := p.Pack
	k.Cells = f.Int("cells", 1, 14, k.Cells)
	d.dim(f, "capacity", &k.Capacity, ChargeMAh())
	k.CellFull = d.plain(f, "cell-full", k.CellFull, VoltageV().Between(2, 5))
	k.Discharge = f.Number("discharge", 0, 500, k.Discharge)
	k.Plug = d.connector(f, "plug", k.Plug)
	d.dim(f, "lead-room", &k.LeadRoom, LengthMM())
	d.dim(f, "lead-length", &k.LeadLength, LengthMM())
	if n := f.Get("lead-gauge"); n != nil {
		if g, ok := ParseGauge(d.ds, n); ok {
			k.LeadGauge = g
		}
	}
	d.dim(f, "swell", &k.Swell, LengthMM().Between(0, 50))
	if k.Cells == 0 {
		d.ds.At(f.Node(), "a battery needs `cells:`", "cells: 4", "")
	}
	d.needed(f, p, k.Capacity, "capacity", "such as 1300 mAh")
}

func (d *decoder) plug(f *read.Fields, p *Part) {
	if p.Plug == nil {
		p.Plug = &Plug{}
	}
	g := p.Plug
	g.Family = f.Text("family", g.Family)
	g.Ways = f.Int("ways", 1, 60, g.Ways)
	d.dim(f, "width", &g.Width, SizeMM().Between(0.5, 200))
	d.dim(f, "height", &g.Height, SizeMM().Between(0.5, 200))
	d.dim(f, "beyond", &g.Beyond, LengthMM())
	d.dim(f, "angled", &g.Angled, LengthMM())
	d.dim(f, "bend", &g.Bend, LengthMM())
	d.dim(f, "hand", &g.Hand, LengthMM())
	g.Rated = d.plain(f, "rated", g.Rated, CurrentA())
	g.Peak = d.plain(f, "peak", g.Peak, CurrentA())
	d.dim(f, "mass-pair", &g.MassPair, MassG())
	d.needed(f, p, g.Width, "width", "of the plug, along the edge that it is plugged into")
	d.needed(f, p, g.Height, "height", "of the plug, across the board")
	d.needed(f, p, g.Beyond, "beyond", "how far the plug stands out of the socket's face")
}
