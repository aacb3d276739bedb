package render

import (
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// bodyPlan is what the detail of the body shows: the scene from above without motors,
// props and what the arms carry, with the roof and all that stands on it taken off.
type bodyPlan struct {
	asm   *layout.Assembly
	scene *scene
	cuts  []armCut
	box   geom.Rect       // of everything drawn, with the rooms of plugs
	off   map[string]bool // components that are taken off
	on    map[string]bool // components that are drawn
	lids  []*layout.Plate // plates that are taken off, lowest first
}

// onArm reports whether a component goes with one rotor: motor and prop with their screws,
// a plate that is an arm, and parts that stand on every arm.
func onArm(asm *layout.Assembly, id string) bool {
	if strings.HasPrefix(id, "rotors.") {
		return true
	}
	w := strings.Split(id, ".")
	if w[0] != "plates" && w[0] != "mounts" || len(w) < 3 {
		return false
	}
	return slices.ContainsFunc(asm.Rotors, func(r *layout.Rotor) bool { return r.Name == w[2] })
}

// roofs are the plates over boards and parts that stand on a lower plate.
func roofs(asm *layout.Assembly) []*layout.Plate {
	var out []*layout.Plate
	floor := math.Inf(1)
	for _, p := range asm.Plates {
		if p.ArmOf != "" {
			continue
		}
		box := regionsBox(p.Solid)
		for _, b := range asm.Bodies {
			switch b.Kind {
			case layout.PcbBody, layout.PartBody, layout.CameraBody:
			default:
				continue
			}
			if onArm(asm, b.Of) || b.Bottom.Nominal() < floor-same || b.Top.Nominal() > p.Bottom.Nominal()+same {
				continue
			}
			if regionsBox(b.Plan).Intersects(box) {
				out = append(out, p)
				break
			}
		}
		floor = math.Min(floor, p.Top.Nominal())
	}
	return out
}

func regionsBox(rs []geom.Region) geom.Rect {
	box := geom.EmptyRect()
	for _, r := range rs {
		box = box.Union(r.Bound())
	}
	return box
}

// newBodyPlan chooses the bodies of the detail from the scene of the whole plan; nil if
// nothing but plates and screws would be left.
func newBodyPlan(asm *layout.Assembly, top *scene) *bodyPlan {
	b := &bodyPlan{asm: asm, off: map[string]bool{}, on: map[string]bool{}, box: geom.EmptyRect()}
	b.lids = roofs(asm)
	ceiling := math.Inf(1)
	outline := map[string]bool{} // drawn as what is taken off
	for _, p := range b.lids {
		ceiling = math.Min(ceiling, p.Bottom.Nominal())
		outline[p.ID] = true
	}
	for _, p := range asm.Packs {
		if p.Body != nil && (p.Body.Bottom.Nominal() >= ceiling-same || len(b.lids) == 0 && !p.Below) {
			b.off[p.ID], outline[p.ID] = true, true
		}
	}
	for _, c := range asm.Components {
		low := math.Inf(1)
		for _, x := range c.Bodies {
			low = math.Min(low, x.Bottom.Nominal())
		}
		if len(c.Bodies) > 0 && low >= ceiling-same || b.off[c.On] && c.Kind == "screws" {
			b.off[c.ID] = true
		}
	}
	sc := &scene{view: fromAbove, box: geom.EmptyRect()}
	parts := false
	for _, s := range top.shadows {
		kind := s.body.Kind
		switch {
		case onArm(asm, s.id) && kind != layout.PlateBody:
			continue
		case outline[s.id]:
			if kind != layout.PlateBody && kind != layout.PackBody || s.body.Swept {
				continue
			}
			s.shown, s.hidden, s.hides = Sweep, false, false
			s.loops = outer(s.loops)
			s.sides = sidesOf(s.loops)
		case b.off[s.id], s.far >= ceiling-same:
			continue
		case kind == layout.CushionBody && s.near >= ceiling-same:
			continue // between the roof and what hangs under it
		default:
			b.on[s.id] = true
			parts = parts || kind != layout.PlateBody && kind != layout.FastenBody
		}
		sc.shadows = append(sc.shadows, s)
	}
	if !parts {
		return nil
	}
	b.scene = sc
	b.cuts = armCuts(asm, sc)
	v := &view{scene: sc, scale: 1, arms: b.cuts}
	for i := range sc.shadows {
		s := &sc.shadows[i]
		if !v.breaksOff(s) {
			b.box = b.box.Union(s.box)
			continue
		}
		for _, l := range s.loops {
			for _, e := range v.left(s, l.Vertices(), true) {
				segsOf(Path{V: e.v, Closed: e.closed}, func(s geom.Seg) { b.box = b.box.Union(s.Bound()) })
			}
		}
	}
	for _, p := range asm.Ports {
		if b.shows(p) {
			b.box = b.box.Union(portBox(p))
		}
	}
	sc.box = b.box
	return b
}

// outer keeps the loops that lie in no other: holes are left out.
func outer(loops []geom.Loop) []geom.Loop {
	var out []geom.Loop
	for i, l := range loops {
		inside := false
		for j, o := range loops {
			inside = inside || i != j && o.Contains(l.Seg(0).A)
		}
		if !inside {
			out = append(out, l)
		}
	}
	return out
}

func sidesOf(loops []geom.Loop) []geom.Edge {
	var out []geom.Edge
	for _, l := range loops {
		for _, seg := range l.Segs() {
			out = append(out, geom.EdgeOf(seg))
		}
	}
	return out
}

// shows reports whether the owner of a port is drawn.
func (b *bodyPlan) shows(p *layout.PortPlace) bool {
	return p.Owner != nil && b.on[p.Owner.ID]
}

// portBox is the box of a port with the room of its plug, mm in plan.
func portBox(p *layout.PortPlace) geom.Rect {
	box := geom.Rect{Lo: p.Mouth, Hi: p.Mouth}
	long, width := plugRoom(p)
	if p.Up != 0 || long <= 0 || p.Dir.Norm() < 1e-9 {
		return box
	}
	half := r2.Point{X: -p.Dir.Y, Y: p.Dir.X}.Mul(width / 2)
	far := p.Mouth.Add(p.Dir.Mul(long))
	return box.Add(p.Mouth.Add(half)).Add(p.Mouth.Sub(half)).Add(far.Add(half)).Add(far.Sub(half))
}

// those are the components that the detail draws.
func (b *bodyPlan) those(all []*layout.Component) []*layout.Component {
	var out []*layout.Component
	for _, c := range all {
		if b.on[c.ID] && !onArm(b.asm, c.ID) {
			out = append(out, c)
		}
	}
	return out
}

// holds reports whether a finding lies in what the detail shows.
func (b *bodyPlan) holds(f *layout.Finding) bool {
	v := &view{arms: b.cuts}
	for _, q := range [2]r2.Point{{X: f.A.X, Y: f.A.Y}, {X: f.B.X, Y: f.B.Y}} {
		if !b.box.Contains(q) || v.gone(q) {
			return false
		}
	}
	// What lies on the roof is taken off with it.
	return len(b.lids) == 0 || math.Max(f.A.Z, f.B.Z) <= b.lids[0].Top.Nominal()+same
}
