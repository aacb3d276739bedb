package layout

import (
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// batteries reads `battery:` or `batteries:`.
func (d *decoder) batteries(f *read.Fields) {
	if n := f.Get("battery"); n != nil {
		b := &BatterySpec{Pos: n.Pos()}
		d.b.Batteries = append(d.b.Batteries, b)
		bf := d.diags.Fields(n, "the battery")
		if bf.OK() {
			d.battery(bf, b)
			bf.Done()
		}
		if many := f.Get("batteries"); many != nil {
			d.diags.AtRelated(many, "`battery:` and `batteries:` both stand here", "", "put all packs under `batteries:`, each with a name",
				read.Related{Pos: n.Pos(), Text: "the other one"})
			return
		}
	}
	for _, e := range d.named(f, "batteries") {
		b := &BatterySpec{Name: e.Key, Pos: e.KeyPos}
		d.b.Batteries = append(d.b.Batteries, b)
		bf := d.diags.Fields(e.Value, "a battery")
		if bf.OK() {
			d.battery(bf, b)
			bf.Done()
		}
	}
}

func (d *decoder) battery(f *read.Fields, b *BatterySpec) {
	b.Part = d.part(f.Need("part", "a battery, such as pack-4s-1300"), "a battery", shapes.Battery)
	d.ref(f.Need("on", "the face that carries it, such as roof.top or base.bottom"), &b.On, wantPackFace())
	b.At.Pos = b.Pos
	if n := f.Get("at"); n != nil {
		b.At = d.point(n)
	}
	b.Turn = d.angle(f, "turn", 0)
	b.Hold = d.hold(f.Get("hold"), b.ID()+" hold")
	b.Slide = d.dim(f.Get("slide"), b.ID()+" slide", shapes.LengthMM().Between(0, 200))
	b.Limit = d.dim(f.Get("limit"), b.ID()+" current limit", shapes.CurrentA().Between(1, 1000))
	b.Lead = f.Enum("lead", "", "front", "rear", "left", "right")
	if n := f.Get("strap"); n != nil {
		b.Strap = d.strap(n)
	}
}

// strap reads the name of a strap, or a map with what it goes through.
func (d *decoder) strap(n *read.Node) *StrapSpec {
	s := &StrapSpec{Count: 1, Pos: n.Pos()}
	if n.Kind() == read.Scalar {
		s.Part = d.part(n, "a strap", shapes.StrapKind)
		return s
	}
	f := d.diags.Fields(n, "the strap")
	if !f.OK() {
		return s
	}
	s.Part = d.part(f.Need("part", "a strap, such as strap-20"), "a strap", shapes.StrapKind)
	d.ref(f.Get("through"), &s.Through, wantHole())
	s.Count = f.Int("count", 1, 4, 1)
	f.Done()
	return s
}

// cameras reads the section cameras.
func (d *decoder) cameras(f *read.Fields) {
	for _, e := range d.named(f, "cameras") {
		c := &CameraSpec{Name: e.Key, Pos: e.KeyPos}
		d.b.Cameras = append(d.b.Cameras, c)
		cf := d.diags.Fields(e.Value, "a camera")
		if cf.OK() {
			d.camera(cf, c)
			cf.Done()
		}
	}
}

func (d *decoder) camera(f *read.Fields, c *CameraSpec) {
	c.Part = d.part(f.Need("part", "a camera, such as camera-19"), "a camera", shapes.CameraKind)
	if n := f.Need("at", "the place of its side screws: "+placeForm); n != nil {
		c.At = d.point(n)
	}
	above, below := f.Get("above"), f.Get("below")
	switch {
	case above != nil && below != nil:
		d.diags.AtRelated(below, "a camera is above a face or below one, not both", "", "delete one of the two", read.Related{Pos: above.Pos(), Text: "the other one"})
		d.ref(above, &c.From, wantPlateFace())
	case above != nil:
		d.ref(above, &c.From, wantPlateTop())
	case below != nil:
		d.ref(below, &c.From, wantPlateBottom())
	case !slip(f.Node(), "below"):
		f.Lack("above", "a camera needs `above:`", "the face from which its height counts, such as base.top", "for a hanging camera write `below: base.bottom`")
	}
	by := f.Need("by", "the height of its side screws over that face, such as 13 mm")
	c.By = d.dim(by, "camera "+c.Name+" height", shapes.LengthMM().Between(0, 300))
	d.known(by, c.By)
	if n := f.Get("tilt"); n != nil {
		c.TiltLo, c.TiltHi = d.tilt(n)
	}
	c.Yaw = d.angle(f, "yaw", 0)
	c.Slot = d.dim(f.Get("slot"), "camera "+c.Name+" slot", shapes.SizeMM().Between(3, 200))
	if n := f.Get("screw"); n != nil {
		c.Screw, c.Cheek = d.cameraScrew(n, c.Name)
	}
}

// tilt reads one angle or a range of angles.
func (d *decoder) tilt(n *read.Node) (lo, hi float64) {
	want := shapes.AngleDeg().Between(-100, 130)
	span, ok := shapes.ParseSpan(d.diags, n, want)
	if !ok {
		return 0, 0
	}
	return span.Lo, span.Hi
}

// antennas reads the section antennas.
func (d *decoder) antennas(f *read.Fields) {
	for _, e := range d.named(f, "antennas") {
		a := &AntennaSpec{Name: e.Key, Pos: e.KeyPos}
		d.b.Antennas = append(d.b.Antennas, a)
		af := d.diags.Fields(e.Value, "an antenna")
		if !af.OK() {
			continue
		}
		a.Part = d.part(af.Need("part", "an antenna, such as antenna-24-whip"), "an antenna", shapes.AntennaKind)
		d.ref(af.Need("on", "the face that its base stands on, such as roof.top"), &a.On, wantFace())
		a.At.Pos = a.Pos
		if n := af.Get("at"); n != nil {
			a.At = d.point(n)
		}
		a.Lean = d.angleOf(af.Get("lean"), shapes.AngleDeg().Between(0, 120), 0)
		a.Towards = d.angle(af, "towards", 0)
		if !af.Has("towards") && a.Lean > 0 && !slip(e.Value, "towards") {
			d.diags.At(af.Get("lean"), "which way does it lean?", "`towards:` with an angle in plan: 0 forward, 90 left, 180 back", "")
		}
		af.Done()
	}
}
