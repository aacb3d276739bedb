package layout

import (
	"fmt"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/shapes"
)

// plateBolts finds the screws of the sets that the build names.
func (r *resolver) plateBolts() {
	for _, s := range r.b.Bolts {
		if s.Through == nil {
			continue
		}
		entry := s.Through.Name + "." + s.Through.Item
		var owner *Component
		for _, p := range r.asm.Plates {
			for i := range p.Holes {
				if h := &p.Holes[i]; h.Group == entry && h.Length <= 0 {
					if owner == nil {
						owner = r.owner("screws."+s.Name, s.Name+" screws", s.Pos, p.ID)
					}
					r.plateBolt(s, owner, p, h)
				}
			}
		}
		if owner == nil {
			r.note("screws.%s: %s has no round holes", s.Name, entry)
			continue
		}
		r.weigh(owner)
	}
}

// plateBolt is one screw through all plates that lie on one another at a hole.
func (r *resolver) plateBolt(s *BoltSpec, owner *Component, p *Plate, h *Hole) {
	size := s.Thread
	if size == "" {
		size = r.threadFor(value(h.Diameter))
	}
	f := r.screwOf(PlateBolt, size, s.Screw, "frame", s.Pos)
	up := r.column(h.At, p.Bottom, 1, f.headSize())
	down := r.column(h.At, p.Top, -1, f.headSize())
	if len(up) == 0 || len(down) == 0 {
		return
	}
	// From the lowest to the highest; p stands in both.
	plates := append(reversed(down), up[1:]...)
	if s.Above {
		plates = reversed(plates)
	}
	face, seat := r.clamp(f, plates, s.Above)
	last := plates[len(plates)-1].plate
	kind, material := s.Nut, "steel"
	if s.Nut == "nylon" {
		kind, material = "plain", "nylon"
	}
	bear := last.Top
	if s.Above {
		bear = last.Bottom
	}
	f.Nut, f.Into.Least = nutFor(f, kind, material)
	f.Into.What, f.Into.Material, f.Into.Component = "a nut", material, last.ID
	f.Into.Aim = f.Into.Least.Nominal()
	f.Into.LeastWhy = map[string]string{
		"insert": "the nut and two turns of thread past its insert", "press": "the whole press nut", "plain": "the nut and a turn of thread",
	}[kind]
	if b := r.beyond(h.At, bear, !s.Above, majorOf(size), nil); b != nil {
		f.Into.HasMost, f.Into.Against, f.Into.MostWhy = true, b.Of, "what lies beyond, less 1.0 of air"
		f.Into.Most = b.Bottom.Sub(bear).Shift(-boltAir)
		if s.Above {
			f.Into.Most = bear.Sub(b.Top).Shift(-boltAir)
		}
	}
	r.heads(r.join(owner, r.groupShared(f), h.At, face, seat, !s.Above))
}

// threadFor is the largest thread of the catalogue that goes through a hole.
func (r *resolver) threadFor(hole float64) string {
	best, major := "M3", 0.0
	if r.b.Parts == nil {
		return best
	}
	for _, p := range r.b.Parts.ByKind(shapes.ThreadKind) {
		if p.Thread != nil && p.Thread.Major > major && p.Thread.Major < hole-0.05 {
			best, major = p.Thread.Size, p.Thread.Major
		}
	}
	return best
}

// A camera's cheek is taken as 2 mm thick when the build says nothing; its side screws
// must hold by at least 1.0 mm of thread.
const (
	cheekThick  = 2.0
	cameraLeast = 1.0
	cameraAim   = 1.75
)

// cameraScrews finds the two side screws of every camera that has some.
func (r *resolver) cameraScrews() {
	for _, c := range r.asm.Cameras {
		var spec *CameraSpec
		for _, s := range r.b.Cameras {
			if "cameras."+s.Name == c.ID {
				spec = s
			}
		}
		if spec == nil || c.Cam == nil || !c.Cam.SideScrews || c.Cam.SideScrew == "" {
			continue
		}
		owner := r.owner(c.ID+".screws", c.Label+" camera's screws", spec.Pos, c.ID)
		cheek := assumed("camera "+spec.Name+" cheek", cheekThick, tolMeasured)
		if spec.Cheek != nil {
			own := *spec.Cheek
			fillTol(&own, tolMeasured)
			cheek = &own
		}
		for _, side := range []float64{1, -1} {
			f := r.screwOf(CameraScrew, c.Cam.SideScrew, spec.Screw, "camera", spec.Pos)
			if f.Washer && f.Thread != nil {
				w := assumed(f.Size+" washer thickness", f.Thread.WasherT, washerTol)
				f.Layers = append(f.Layers, Layer{Name: "washer", Kind: "washer", Thickness: Of(w), Conducts: metal(f.Material)})
			}
			f.Layers = append(f.Layers, Layer{Name: "cheek", Kind: "cheek", Thickness: Of(cheek)})
			f.sum()
			f.Into = Engagement{
				What: "the camera", Component: c.ID, Material: "aluminium", Least: Fixed(cameraLeast), HasMost: true, Aim: cameraAim,
				Most:     Of(or(c.Cam.ScrewMax, c.Part.Name+" side screw depth")),
				LeastWhy: "what a side screw must at least have", MostWhy: "how far a side screw may enter before the sensor board",
			}
			half := value(c.Cam.Width)/2 + cheek.Value
			yaw := bearing(c.Yaw + 90)
			j := r.join(owner, r.group(f), c.Pivot.Add(r2.Point{X: yaw.X, Y: yaw.Y}.Mul(side*half)), c.PivotZ, c.PivotZ, false)
			j.Level = true
			r.levelHead(j, c, r2.Point{X: yaw.X, Y: yaw.Y}.Mul(side))
		}
		r.weigh(owner)
	}
}

// levelHead makes bodies of the washer and the head of a screw that lies level, outside the
// cheek that it passes. out is the unit direction from the camera to the head.
func (r *resolver) levelHead(j *Joint, c *CameraPlace, out r2.Point) {
	if j.Head == nil {
		return
	}
	n := fmt.Sprintf("[%d]", j.Owner.Count)
	from := 0.0
	add := func(name string, d, t float64) {
		pose := geom.RotX(degrees(90))
		turn := geom.RotZ(geom.Heading(out) - degrees(90))
		mid := j.At.Add(out.Mul(from + t/2))
		pose = pose.Then(turn).Then(geom.Shift3(r3.Vector{X: mid.X, Y: mid.Y, Z: j.Seat.Nominal()}))
		solid, err := geom.NewCylinder(d/2, t, pose)
		if err != nil {
			r.note("%s: its %s could not be placed (%v)", j.ID, name, err)
			return
		}
		box := solid.Bound()
		size := box.Size()
		from += t
		r.metal(r.body(j.Owner, &Body{
			ID: j.Owner.ID + "." + name + n, Kind: FastenBody, Tilted: &solid,
			Plan:   one(geom.Rectangle(mid, size.X, size.Y)),
			Bottom: j.Seat.Shift(-d / 2), Top: j.Seat.Shift(d / 2),
		}, sizeBlur(c.Cam.Width)), j.Material)
	}
	if j.Washer && j.Thread != nil {
		add("washer", j.Thread.WasherOD, j.Thread.WasherT)
	}
	add("head", j.Head.D, j.Head.H)
}

// screwMass is the mass of a screw in g: the head's volume less its socket, and a cylinder
// of the pitch diameter d - 0.6495 P (ISO 724), by the density of the material. It is good
// to about 8 %; the Dim holds 10.
func screwMass(f *Fastening) *shapes.Dim {
	t := f.Thread
	if t == nil {
		// A thread that the catalogue lacks: a shank of 0.87 d with a head of 1.8 d by 0.6 d,
		// the proportions of button heads.
		d := majorOf(f.Size)
		v := geom.DiscArea(0.87*d)*f.Length.Value + geom.DiscArea(1.8*d)*0.6*d
		return gramsOf(f.Label()+" screw", v*hardwareDensity(f.Material)/1000)
	}
	shank := f.Length.Value
	v := 0.0
	if h := f.Head; h != nil {
		const socket = 0.45 // depth of the key's socket as a share of the head's height
		a := h.D / 2
		key := keySize(h.Key)
		hole := geom.RegularPolygonArea(key, 6) * socket * h.H
		switch h.Form {
		case "button": // a spherical cap
			v = geom.CapVolume(a, h.H) - hole
		case "countersunk": // a frustum down to the shank; the length counts it
			v = geom.FrustumVolume(a, t.Major/2, h.H) - hole
			shank -= h.H
		case "pan": // a cylinder with a rounded top, about 0.85 of it
			v = 0.85*geom.DiscArea(h.D)*h.H - hole
		default:
			v = geom.DiscArea(h.D)*h.H - hole
		}
	}
	d2 := t.Major - 0.6495*t.Pitch
	v += geom.DiscArea(d2) * max(0, shank)
	return gramsOf(f.Label()+" screw", v*hardwareDensity(f.Material)/1000)
}

// gramsOf is the mass of a small piece by its drawing, to 10 %.
func gramsOf(name string, g float64) *shapes.Dim {
	d := assumed(name+" mass", g, 0.1*g)
	d.Unit = shapes.Gram
	return d
}

// keySize reads the width across flats of a key written "hex 2.5"; others count as half of
// their drive number's circle, 0 when it is not known.
func keySize(key string) float64 {
	var word string
	var v float64
	if n, _ := fmt.Sscanf(key, "%s %g", &word, &v); n != 2 {
		return 0
	}
	if word == "hex" {
		return v
	}
	return 0.24 * v // hexalobular 6 is 1.7 across, 10 is 2.7
}

// nutMass is the mass of a nut in g: a hexagon less its bore. Prop nuts have a flange of
// 11 that adds about a fifth.
func nutMass(f *Fastening) *shapes.Dim {
	t, n := f.Thread, f.Nut
	if f.Kind == PropNut {
		flats, bore := 8.0, 5.0
		if f.Size == "M6" {
			flats, bore = 10, 6
		}
		v := 1.2 * (geom.RegularPolygonArea(flats, 6) - geom.DiscArea(bore)) * n.Height.Nominal()
		d := gramsOf(f.Size+" prop nut", v*hardwareDensity(n.Material)/1000)
		d.Minus = 0.65 * d.Value // aluminium ones weigh a third
		return d
	}
	if t == nil {
		d := majorOf(f.Size) // 1.8 d across flats and 0.8 d high, as nuts of ISO 4032 are
		return gramsOf(f.Size+" nut", (geom.RegularPolygonArea(1.8*d, 6)-geom.DiscArea(d))*0.8*d*hardwareDensity(n.Material)/1000)
	}
	v := (geom.RegularPolygonArea(t.NutAF, 6) - geom.DiscArea(t.Major)) * n.Height.Nominal()
	if n.Kind == "press" {
		if p, ok := shapes.PressNutFor(f.Size); ok {
			v = geom.RingArea(p.FlangeD, t.Major)*p.FlangeT.Value +
				geom.RingArea(p.Hole.Value, t.Major)*p.Barrel.Value
		}
	}
	return gramsOf(f.Size+" "+n.Kind+" nut", v*hardwareDensity(n.Material)/1000)
}

func washerMass(f *Fastening) *shapes.Dim {
	t := f.Thread
	v := geom.RingArea(t.WasherOD, t.WasherID) * t.WasherT
	return gramsOf(f.Size+" washer", v*hardwareDensity(f.Material)/1000)
}

// weigh sums what the screws, washers and nuts of one owner weigh, at the middle of their
// places. Studs that are part of a post, and nuts that are items of a stack, weigh there.
func (r *resolver) weigh(c *Component) {
	if c == nil || c.Count == 0 {
		return
	}
	m := Mass{Guess: true}
	n := 0.0
	for _, j := range r.asm.Joints {
		if j.Owner != c {
			continue
		}
		if !j.Own && j.Length != nil {
			m.Grams = m.Grams.Plus(r.piece("screw", j.Fastening, screwMass), 1)
		}
		if j.Washer && j.Thread != nil && (j.Head == nil || j.Head.Form != "countersunk") {
			m.Grams = m.Grams.Plus(r.piece("washer", j.Fastening, washerMass), 1)
		}
		if j.Nut != nil && j.Nut.Item == "" {
			m.Grams = m.Grams.Plus(r.piece("nut", j.Fastening, nutMass), 1)
		}
		m.X, m.Y, m.Z = m.X+j.At.X, m.Y+j.At.Y, m.Z+j.Seat.Nominal()
		n++
	}
	m.X, m.Y, m.Z = m.X/n, m.Y/n, m.Z/n
	c.Mass = m
	c.Pose.Shift = r2.Point{X: m.X, Y: m.Y}
}

// piece is the mass of one piece of a joint, the same Dim for all that are equal.
func (r *resolver) piece(what string, f *Fastening, of func(*Fastening) *shapes.Dim) *shapes.Dim {
	key := pieceKey{what, f}
	if d := r.pieces[key]; d != nil {
		return d
	}
	if r.pieces == nil {
		r.pieces = map[pieceKey]*shapes.Dim{}
	}
	d := of(f)
	r.pieces[key] = d
	return d
}

type pieceKey struct {
	what string
	of   *Fastening
}
