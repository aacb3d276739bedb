package layout

import (
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// screw reads what is said of the screws of a joint. what names the joint in reports.
func (d *decoder) screw(n *read.Node, what string) *ScrewSpec {
	if n == nil {
		return nil
	}
	f := d.diags.Fields(n, "a screw")
	s := d.screwKeys(f, n, what)
	f.Done()
	return s
}

// screwKeys reads the keys that all screws have.
func (d *decoder) screwKeys(f *read.Fields, n *read.Node, what string) *ScrewSpec {
	s := &ScrewSpec{Pos: n.Pos()}
	if l := f.Get("length"); l != nil && l.Raw() != "auto" {
		s.Length = d.dim(l, what+" length", shapes.SizeMM().Between(1, 120))
		if s.Length.Missing {
			s.Length = nil // unknown: the tool picks one
		}
	}
	s.Head = f.Enum("head", "", "socket", "button", "countersunk", "pan")
	s.Material = f.Enum("material", "", "steel", "titanium", "aluminium", "nylon")
	s.Washer = f.Bool("washer", false)
	if w := f.Get("washer"); w != nil && s.Washer && s.Head == "countersunk" {
		d.diags.At(w, "a countersunk head sits in the plate, not on a washer", "", "delete `washer:`, or take another head")
		s.Washer = false
	}
	return s
}

// postScrews reads the screws of a set of posts: for both ends, or for each.
func (d *decoder) postScrews(n *read.Node, p *PostSpec) {
	if n == nil {
		return
	}
	f := d.diags.Fields(n, "the posts' screws")
	bottom, top := f.Get("bottom"), f.Get("top")
	if bottom == nil && top == nil {
		what := "posts " + p.Name + " screw"
		s := d.screwKeys(f, n, what)
		p.Bottom, p.Top = s, s
	} else {
		p.Bottom = d.screw(bottom, "posts "+p.Name+" bottom screw")
		p.Top = d.screw(top, "posts "+p.Name+" top screw")
		for _, k := range []string{"length", "head", "material", "washer"} {
			f.Refuse(k, "`"+k+":` stands beside the ends that it might belong to", "put it under `bottom:` or `top:`")
		}
	}
	f.Done()
}

// bolts reads what is said of a stack's bolts.
func (d *decoder) bolts(n *read.Node, s *StackSpec) {
	if n == nil {
		return
	}
	f := d.diags.Fields(n, "the stack's bolts")
	s.Bolts = d.screwKeys(f, n, "stack "+s.Name+" bolt")
	s.BoltKind = f.Enum("kind", "", "through", "short")
	s.BoltFrom = f.Enum("from", "", "below", "above")
	if from := f.Get("from"); from != nil && s.BoltKind == "short" {
		d.diags.At(from, "short screws come from both ends, so `from:` has no meaning", "", "delete it, or write `kind: through`")
	}
	f.Done()
}

// cameraScrew reads a camera's side screws and the cheek that they go through.
func (d *decoder) cameraScrew(n *read.Node, camera string) (*ScrewSpec, *shapes.Dim) {
	f := d.diags.Fields(n, "a camera's screws")
	s := d.screwKeys(f, n, "camera "+camera+" screw")
	cheek := d.dim(f.Get("cheek"), "camera "+camera+" cheek", shapes.SizeMM().Between(0.3, 30))
	f.Done()
	return s, cheek
}

// sink reads what is done to the holes of an entry beside drilling them.
func (d *decoder) sink(f *read.Fields, h *HoleSpec, form, label string) {
	bore, cone := f.Get("counterbore"), f.Get("countersink")
	press, face := f.Get("press-nut"), f.Get("face")
	if form == "slot" {
		for _, k := range []struct {
			key  string
			node *read.Node
		}{{"counterbore", bore}, {"countersink", cone}, {"press-nut", press}, {"face", face}} {
			if k.node != nil {
				d.diags.At(k.node, "a slot takes no `"+k.key+":`", "", "write a hole entry of its own for the screws")
				return
			}
		}
		return
	}
	if bore != nil && cone != nil {
		d.diags.AtRelated(cone, "holes are counterbored or countersunk, not both", "", "delete one of the two", read.Related{Pos: bore.Pos(), Text: "the other one"})
		cone = nil
	}
	size := shapes.SizeMM().Between(0.5, 60)
	switch {
	case bore != nil:
		sf := d.diags.Fields(bore, "a counterbore")
		h.Sink = &SinkSpec{
			Diameter: d.dim(sf.Need("diameter", "such as 5.8, for an M3 button head"), label+" counterbore", size),
			Depth:    d.dim(sf.Need("depth", "such as 1.5"), label+" counterbore depth", shapes.SizeMM().Between(0.1, 30)),
			Pos:      bore.Pos(),
		}
		sf.Done()
	case cone != nil:
		sf := d.diags.Fields(cone, "a countersink")
		h.Sink = &SinkSpec{
			Diameter: d.dim(sf.Need("diameter", "at the face of the plate, such as 6.7 for M3"), label+" countersink", size),
			Angle:    d.angleOf(sf.Get("angle"), shapes.AngleDeg().Between(60, 150), 90), Pos: cone.Pos(),
		}
		sf.Done()
	}
	if h.Sink != nil && (h.Sink.Diameter == nil || h.Sink.Diameter.Missing || h.Sink.Angle <= 0 && (h.Sink.Depth == nil || h.Sink.Depth.Missing)) {
		h.Sink = nil // reported, or said to be unknown: then nothing can be cut
	}
	h.Press = f.Bool("press-nut", false)
	if face != nil {
		word, ok := d.diags.Enum(face, "top", "bottom")
		h.HasFace = ok
		if word == "bottom" {
			h.Face = shapes.Bottom
		}
		if bore == nil && cone == nil && press == nil && !slip(f.Node(), "counterbore", "countersink", "press-nut") {
			d.diags.At(face, "nothing of these holes has a face", "", "`face:` belongs to `counterbore:`, `countersink:` or `press-nut:`")
		}
	}
}

// boltSets reads the section screws.
func (d *decoder) boltSets(f *read.Fields) {
	for _, e := range d.named(f, "screws") {
		b := &BoltSpec{Name: e.Key, Pos: e.KeyPos}
		d.b.Bolts = append(d.b.Bolts, b)
		bf := d.diags.Fields(e.Value, "a set of screws")
		if !bf.OK() {
			continue
		}
		d.ref(bf.Need("through", "the holes that they go through, such as hub.bolts"), &b.Through, wantHole())
		if n := bf.Get("thread"); n != nil {
			b.Thread, _ = d.thread(n)
		}
		b.Screw = d.screwKeys(bf, e.Value, "screws "+b.Name)
		b.Above = bf.Enum("from", "below", "below", "above") == "above"
		b.Nut = bf.Enum("nut", "insert", "insert", "plain", "nylon", "press")
		bf.Done()
	}
}
