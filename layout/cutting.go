package layout

import (
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// usualCutter is the diameter in mm of the cutter that small shops put in for carbon plate:
// a trade figure; inside corners with a radius of 1.05 are met in published plates, which
// a 2 mm cutter leaves. General router services use 3.175.
const usualCutter = 2.0

// cutting reads what plates are cut with.
func (d *decoder) cutting(n *read.Node) {
	if n == nil {
		return
	}
	f := d.diags.Fields(n, "the cutting")
	if !f.OK() {
		return
	}
	s := &CuttingSpec{Pos: n.Pos()}
	size := shapes.SizeMM().Between(0.05, 12)
	s.Cutter = d.dim(f.Get("cutter"), "cutter diameter", size)
	s.Kerf = d.dim(f.Get("kerf"), "width of the cut", size)
	f.Done()
	if s.Cutter == nil && s.Kerf == nil {
		d.diags.At(n, "`cutting:` says nothing", "{cutter: 2 mm} for a router, {kerf: 1 mm} for a jet", "")
	}
	if s.Cutter != nil && s.Kerf != nil && !s.Cutter.Missing && !s.Kerf.Missing && s.Kerf.Value < s.Cutter.Value-settle {
		d.diags.AtRelated(f.Get("kerf"), "the cut is narrower than the cutter that makes it", "the cutter's diameter or a little more",
			"leave `cutter:` out for a jet or a beam", read.Related{Pos: f.Get("cutter").Pos(), Text: "the cutter"})
	}
	d.b.Cutting = s
}

// cuttingOf fills in what the build does not say of its cutting. A jet or beam that has
// no cutter rounds inside corners as a cutter of the width of its cut does.
func cuttingOf(s *CuttingSpec) Cutting {
	own := func(d *shapes.Dim) *shapes.Dim {
		if d == nil || d.Missing {
			return nil
		}
		c := *d
		fillTol(&c, 0)
		return &c
	}
	var c Cutting
	if s != nil {
		c.Cutter, c.Kerf = own(s.Cutter), own(s.Kerf)
	}
	c.Given = c.Cutter != nil || c.Kerf != nil
	if c.Cutter == nil {
		c.Cutter = c.Kerf
	}
	if c.Cutter == nil {
		c.Cutter = assumed("cutter diameter", usualCutter, 0)
	}
	if c.Kerf == nil {
		c.Kerf = c.Cutter
	}
	return c
}
