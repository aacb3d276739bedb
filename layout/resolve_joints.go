package layout

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// placeJoints finds every screw of the build, with what it clamps and what it goes into,
// picks the lengths that the build does not say, and makes bodies of heads, nuts and ends.
func (r *resolver) placeJoints() {
	for _, rot := range r.asm.Rotors {
		r.motorScrews(rot)
		r.propScrews(rot)
	}
	r.postScrews()
	for _, s := range r.asm.Stacks {
		r.stackBolts(s)
	}
	r.plateBolts()
	r.cameraScrews()
}

// passed is a plate that a screw goes through.
type passed struct {
	plate *Plate
	hole  *Hole // nil: it is not drilled there
}

// column walks from a height through plates that lie on one another, in the direction dir
// (+1 up, -1 down), as far as a screw there can clamp them. The first plate counts even
// where it has no hole, since something else judges that; it ends before a further one
// without a hole, or with one through which the head would fall.
func (r *resolver) column(at r2.Point, from Form, dir, head float64) []passed {
	var out []passed
	z := from.Nominal()
	for {
		best := passed{}
		for _, p := range r.asm.Plates {
			near, far := p.Bottom, p.Top
			if dir < 0 {
				near, far = far, near
			}
			if math.Abs(near.Nominal()-z) > settle || (far.Nominal()-z)*dir <= 0 || !covers(p.Solid, at) {
				continue
			}
			h := p.holeAt(at)
			if best.plate == nil || best.hole == nil && h != nil {
				best = passed{p, h}
			}
		}
		if best.plate == nil {
			return out
		}
		if len(out) > 0 && (best.hole == nil || head > 0 && value(best.hole.Diameter) >= head) {
			return out
		}
		out = append(out, best)
		z = best.plate.Top.Nominal()
		if dir < 0 {
			z = best.plate.Bottom.Nominal()
		}
	}
}

// holeAt returns the hole that a screw at this place goes through, nil if there is none.
func (p *Plate) holeAt(at r2.Point) *Hole {
	for i := range p.Holes {
		h := &p.Holes[i]
		if h.Length <= 0 && h.At.Sub(at).Norm() < value(h.Diameter)/2 || h.Length > 0 && h.Loop.Contains(at) {
			return h
		}
	}
	return nil
}

// screwOf starts a joint by its thread and by what the build says of the screw.
func (r *resolver) screwOf(kind JointKind, size string, spec *ScrewSpec, step string, pos read.Pos) *Fastening {
	f := &Fastening{Kind: kind, Size: size, Material: "steel", Step: step, spec: spec, Pos: pos}
	if t := r.thread(size); t != nil {
		f.Thread = t.Thread
	}
	f.Head = f.Thread.UsualHead()
	if spec != nil {
		f.Washer = spec.Washer
		if spec.Material != "" {
			f.Material = spec.Material
		}
		if spec.Head != "" {
			f.Head = f.Thread.HeadNamed(spec.Head)
			if f.Head == nil && f.Thread != nil {
				f.Head = f.Thread.UsualHead()
				if f.Head != nil {
					r.note("%s: no %s head of %s is in the catalogue; %s is taken", size, spec.Head, size, f.Head.Form)
				}
			}
		}
	}
	return f
}

// headSize is the diameter of the head, 0 if it is not known.
func (f *Fastening) headSize() float64 {
	if f.Head == nil {
		return 0
	}
	return f.Head.D
}

// clamp adds layers under the head: the washer, then plates from the head inwards.
// headUp says that the head is on the upper side. It returns the heights of the face of the first plate and of the
// face that the head bears on.
func (r *resolver) clamp(f *Fastening, plates []passed, headUp bool) (face, seat Form) {
	sign := 1.0
	if headUp {
		sign = -1
	}
	for i, p := range plates {
		l := Layer{Name: p.plate.Label + " plate", Kind: "plate", Thickness: Of(p.plate.Thickness), Component: p.plate.ID}
		if m := p.plate.Material; m != nil && m.Material != nil {
			l.Conducts = m.Material.Conducts
		}
		if i > 0 {
			f.Layers = append(f.Layers, l)
			continue
		}
		face = p.plate.Bottom
		if headUp {
			face = p.plate.Top
		}
		seat = face
		sink := headSink(p.hole, headUp)
		if sink != nil && sink.Angle > 0 && f.Thread != nil && (f.spec == nil || f.spec.Head == "") {
			if h := f.Thread.HeadNamed("countersunk"); h != nil {
				f.Head = h
			}
		}
		var in Form
		switch {
		case f.Head != nil && f.Head.Form == "countersunk":
			l.Kind = "countersunk plate"
			in = r.flush(f, sink)
		case sink != nil && sink.Angle <= 0:
			l.Kind = "counterbored plate"
			in = Of(sink.Depth)
		}
		l.Thickness = l.Thickness.Sub(in)
		seat = seat.Add(in.Scale(sign))
		f.Layers = append(f.Layers, l)
	}
	if f.Washer && f.Thread != nil && (f.Head == nil || f.Head.Form != "countersunk") {
		w := assumed(f.Size+" washer thickness", f.Thread.WasherT, washerTol)
		f.Layers = append([]Layer{{Name: "washer", Kind: "washer", Thickness: Of(w), Conducts: metal(f.Material)}}, f.Layers...)
		seat = seat.Plus(w, -sign)
	}
	f.sum()
	return face, seat
}

// sum adds the layers up.
func (f *Fastening) sum() {
	f.Grip = Form{}
	for _, l := range f.Layers {
		f.Grip = f.Grip.Add(l.Thickness)
	}
}

// headSink is the sink of a hole if it is on the head's side.
func headSink(h *Hole, headUp bool) *Sink {
	if h == nil || h.Sink == nil || h.Sink.HasFace && (h.Sink.Face == shapes.Top) != headUp {
		return nil
	}
	return h.Sink
}

// flush is how far the top of a countersunk head lies below the face of its plate. In a
// cone of diameter D at the face and full angle a, a head of theoretical diameter d comes
// to rest (D - d)/2 / tan(a/2) below it. Without a cone in the build it is taken as made
// to bring the head flush, to 0.1.
func (r *resolver) flush(f *Fastening, sink *Sink) Form {
	if sink == nil || sink.Angle <= 0 {
		return Of(assumed(f.Size+" countersink depth", 0, tolCut))
	}
	k := 0.5 / math.Tan(sink.Angle/2*math.Pi/180)
	return Form{Const: -k * f.Head.D}.Plus(sink.Diameter, k)
}

// sinkOf is what is sunk into the holes of an entry; all its holes share the dimensions.
func (r *resolver) sinkOf(s *HoleSpec) *Sink {
	if s.Sink == nil {
		return nil
	}
	if k := r.sinks[s]; k != nil {
		return k
	}
	k := &Sink{Angle: s.Sink.Angle, Face: s.Face, HasFace: s.HasFace}
	own := func(d *shapes.Dim, tol float64) *shapes.Dim {
		if d == nil {
			return nil
		}
		c := *d
		fillTol(&c, tol)
		return &c
	}
	k.Diameter, k.Depth = own(s.Sink.Diameter, tolHole), own(s.Sink.Depth, tolCut)
	if r.sinks == nil {
		r.sinks = map[*HoleSpec]*Sink{}
	}
	r.sinks[s] = k
	return k
}

// group returns the joints alike to f that the build has already, or f with its length
// chosen.
func (r *resolver) group(f *Fastening) *Fastening {
	for _, g := range r.asm.Fastenings {
		if g.Twin == nil && g.alike(f) {
			return g
		}
	}
	f.choose()
	r.asm.Fastenings = append(r.asm.Fastenings, f)
	return f
}

// owner makes the component of the screws of one place. on is what carries them.
func (r *resolver) owner(id, label string, pos read.Pos, on string, rides ...*shapes.Dim) *Component {
	c := &Component{ID: id, Label: label, Kind: "screws", Pos: pos, On: on}
	r.add(c, "", rides...)
	c.Count = 0
	return c
}

// join adds a joint to its owner, with the bodies of what can be seen of it.
func (r *resolver) join(c *Component, f *Fastening, at r2.Point, face, seat Form, up bool) *Joint {
	c.Count++
	j := &Joint{ID: fmt.Sprintf("%s[%d]", c.ID, c.Count), Owner: c, At: at, Face: face, Seat: seat, Up: up, Fastening: f}
	f.Members = append(f.Members, j.ID)
	r.asm.Joints = append(r.asm.Joints, j)
	return j
}

// heads makes bodies of the head, the washer, the nut and the free end of a joint.
func (r *resolver) heads(j *Joint) {
	out := 1.0 // from the seat away from the end
	if j.Up {
		out = -1
	}
	n := fmt.Sprintf("[%d]", j.Owner.Count)
	if h := j.Head; h != nil && h.Form != "countersunk" {
		wide := assumed(j.Size+" head diameter", h.D, 0)
		top := j.Seat.Plus(assumed(j.Size+" head height", h.H, 0), out)
		from := j.Seat
		if j.Washer && j.Thread != nil {
			w := assumed(j.Size+" washer diameter", j.Thread.WasherOD, 0)
			r.metal(r.between(j.Owner, "washer"+n, FastenBody, disc(j.At, w), j.Face, j.Seat, sizeBlur(w)), j.Material)
		} else if (j.Face.Nominal()-j.Seat.Nominal())*out > 0 {
			from = j.Face // in a counterbore: what stands out of it
		}
		if (top.Nominal()-from.Nominal())*out > settle {
			r.metal(r.between(j.Owner, "head"+n, FastenBody, disc(j.At, wide), from, top, sizeBlur(wide)), j.Material)
		}
	}
	if j.Nut == nil || j.Length == nil {
		return
	}
	bear := j.Seat.Add(j.Grip.Scale(-out))
	end := j.Seat.Plus(j.Length, -out)
	far := bear.Add(j.Nut.Height.Scale(-out))
	if j.Nut.Item == "" && j.Thread != nil {
		wide := assumed(j.Size+" nut across corners", j.Thread.NutCorner, 0)
		if j.Nut.Kind == "press" {
			if p, ok := shapes.PressNutFor(j.Size); ok {
				wide = assumed(j.Size+" press nut flange", p.FlangeD, 0)
			}
		}
		r.metal(r.between(j.Owner, "nut"+n, FastenBody, disc(j.At, wide), bear, far, sizeBlur(wide)), j.Nut.Material)
	}
	if (end.Nominal()-far.Nominal())*-out > settle && !j.Length.Missing {
		d := assumed(j.Size+" diameter", majorOf(j.Size), 0)
		r.metal(r.between(j.Owner, "end"+n, FastenBody, geom.Circle(j.At, d.Value/2), far, end, sizeBlur(d)), j.Material)
	}
}

func (r *resolver) metal(b *Body, material string) { b.Conducts = metal(material) }

// nutFor is a nut of a kind that comes with the joint, and how deep the end must reach to
// hold in it: through the whole nut and one turn of thread, two turns past an insert.
func nutFor(f *Fastening, kind, material string) (n *NutUse, least Form) {
	n = &NutUse{Kind: kind, Material: material}
	turns := 1.0
	t := f.Thread
	switch {
	case t == nil:
		n.Height = Of(missing(f.Size + " nut height"))
		return n, n.Height
	case kind == "press":
		turns = 0
		p, ok := shapes.PressNutFor(f.Size)
		if !ok {
			n.Height = Of(missing(f.Size + " press nut flange"))
			break
		}
		n.Height = Of(p.FlangeT)
	case kind == "insert":
		turns = 2
		n.Height = Of(or(t.LockNutH, f.Size+" insert nut height"))
	default:
		h := assumed(f.Size+" nut height", t.NutH, 0)
		h.Minus = nutHeightMinus
		n.Height = Of(h)
	}
	return n, n.Height.Shift(turns * t.Pitch)
}
