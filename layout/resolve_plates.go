package layout

import (
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// cutPlates draws every plate: its outline from shapes joined and cut, its holes, and
// for arm plates one copy at each rotor.
func (r *resolver) cutPlates() {
	for _, s := range r.b.Plates {
		lvl := r.plates[s.Name]
		if !s.EachRotor {
			solid, ok := r.solidOf(s, nil)
			if ok {
				r.addPlate(lvl, nil, solid, r.holesOf(lvl, nil))
			}
			continue
		}
		r.cutArmPlates(s, lvl)
	}
	sortBy(r.asm.Plates, func(p *Plate) string { return p.ID })
	sortStable(r.asm.Plates, func(a, b *Plate) bool { return a.Bottom.Nominal() < b.Bottom.Nominal()-1e-9 })
}

// cutArmPlates makes the copies of an arm plate. The outline is drawn once, in the
// rotor's frame, unless it has arms in it, whose length depends on the rotor.
func (r *resolver) cutArmPlates(s *PlateSpec, lvl *plateLevel) {
	var drawn []geom.Region
	same := true
	for _, sh := range append(append([]shapes.Shape{}, s.Outline.Join...), s.Outline.Cut...) {
		same = same && sh.Kind != shapes.ArmsShape
	}
	for _, rot := range r.rotors {
		if !rot.first {
			continue
		}
		if drawn == nil || !same {
			var ok bool
			if drawn, ok = r.solidOf(s, rot); !ok {
				return
			}
		}
		if !r.addPlate(lvl, rot, move(drawn, rot.armFrame()), r.holesOf(lvl, rot)) {
			return // the other copies have the same fault
		}
	}
}

// solidOf draws the outline of a plate without its holes: in the body frame, or for an
// arm plate in the frame of its rotor.
func (r *resolver) solidOf(s *PlateSpec, arm *rotorPlan) ([]geom.Region, bool) {
	path := "plates." + s.Name + ".outline"
	if s.Drawn != nil {
		return move([]geom.Region{s.Drawn.Region}, geom.Pose2{Shift: s.Shift.P}), true
	}
	join, ok1 := r.draw(s.Outline.Join, path, arm)
	cut, ok2 := r.draw(s.Outline.Cut, path, arm)
	if !ok1 || !ok2 {
		return nil, false
	}
	solid, err := geom.UnionAll(join)
	if err == nil && len(cut) > 0 {
		solid, err = geom.Difference(solid, cut)
	}
	if err == nil && s.Outline.Fillet > 0 {
		solid, err = geom.FilletInside(solid, s.Outline.Fillet)
	}
	if err == nil && s.Outline.Round > 0 {
		solid, err = geom.FilletOutside(solid, s.Outline.Round)
	}
	pos := s.Outline.Pos
	if pos.IsZero() {
		pos = s.Pos
	}
	switch {
	case err != nil:
		r.fail(pos, path, "the outline cannot be made: "+why(err), "shapes whose edges cross or overlap clearly",
			"move or resize the shape there by a tenth of a millimetre")
		return nil, false
	case len(solid) == 0:
		r.fail(pos, path, "nothing is left of the plate", "an outline with some area",
			"look for a shape under `cut:` that covers all, or a `round:` larger than half the width")
		return nil, false
	case len(solid) > 1:
		c := solid[1].Bound().Center()
		r.fail(pos, path, fmt.Sprintf("the outline falls into %d pieces; one lies about (%s, %s)", len(solid), mm(c.X), mm(c.Y)),
			"one connected plate", "make the shapes under `join:` overlap, or make plates of their own of the pieces")
		return nil, false
	}
	if s.Shift.P != (r2.Point{}) {
		solid = move(solid, geom.Pose2{Shift: s.Shift.P})
	}
	return solid, true
}

// why says in words why geometry failed, with the place.
func why(err error) string {
	var f *geom.Failure
	if errors.As(err, &f) {
		return fmt.Sprintf("%s at (%s, %s)", f.Why, mm(f.At.X), mm(f.At.Y))
	}
	var v *geom.Violation
	if errors.As(err, &v) {
		return fmt.Sprintf("%v at (%s, %s)", v.Kind, mm(v.At.X), mm(v.At.Y))
	}
	return err.Error()
}

// draw returns the regions of shapes at all their places.
func (r *resolver) draw(list []shapes.Shape, path string, arm *rotorPlan) ([]geom.Region, bool) {
	var out []geom.Region
	ok := true
	for i := range list {
		if r.tooMany(len(list[i].At)+len(out), list[i].Pos, path, "shapes") {
			return nil, false
		}
		got, err := r.drawOne(&list[i], arm)
		if err != nil {
			r.fail(list[i].Pos, path, "this shape cannot be drawn: "+why(err), "", "")
			ok = false
			continue
		}
		for _, g := range got {
			if g.IsEmpty() {
				r.fail(list[i].Pos, path, "this shape encloses nothing", "a shape with some area", "")
				ok = false
				break
			}
		}
		out = append(out, got...)
	}
	return out, ok
}

func (r *resolver) drawOne(s *shapes.Shape, arm *rotorPlan) ([]geom.Region, error) {
	switch {
	case s.Kind == shapes.ArmsShape:
		return r.drawArms(s, arm), nil
	case s.AtRotors:
		local := *s
		local.AtRotors = false
		base, err := local.Regions()
		if err != nil {
			return nil, err
		}
		var out []geom.Region
		for _, rot := range r.rotors {
			if rot.first {
				out = append(out, move(base, rot.armFrame())...)
			}
		}
		return out, nil
	}
	return s.Regions()
}

// drawArms draws one bar from near the centre to every rotor axis, and a pad round the
// axis if there is one; in an arm plate only its own, in the rotor's frame.
func (r *resolver) drawArms(s *shapes.Shape, arm *rotorPlan) []geom.Region {
	var out []geom.Region
	bar := func(from, to r2.Point) {
		out = append(out, geom.RegionOf(geom.Bar(from, to, s.RootWidth, s.Width)))
		if s.Pad > 0 {
			out = append(out, geom.RegionOf(geom.Circle(to, s.Pad/2)))
		}
	}
	if arm != nil {
		bar(r2.Point{X: s.Start - arm.at.Norm()}, r2.Point{})
		return out
	}
	for _, rot := range r.rotors {
		if rot.first {
			bar(rot.dir.Mul(s.Start), rot.at)
		}
	}
	return out
}

// addPlate cuts the holes and adds the plate; false after a mistake. Holes are in the
// body frame.
func (r *resolver) addPlate(lvl *plateLevel, arm *rotorPlan, solid []geom.Region, holes []Hole) bool {
	s := lvl.spec
	id, label := "plates."+s.Name, s.Name
	var pose geom.Pose2
	armOf := ""
	if arm != nil {
		armOf = arm.spec.Name
		id, label, pose = id+"."+armOf, label+" "+armOf, arm.armFrame()
	}
	inset, ok := r.holesFit(id, arm, solid, holes)
	if !ok {
		return false
	}
	outline, ok := r.drill(s, id, solid, holes, inset)
	if !ok {
		return false
	}
	c := &Component{
		ID: id, Label: label, Kind: "plate", Part: lvl.material, Pos: s.Pos, Pose: pose, Base: lvl.bottom,
	}
	switch {
	case s.On != nil:
		c.On = s.On.ID()
	case s.Under != nil:
		c.On, c.OnFace = s.Under.ID(), shapes.Bottom
	}
	p := &Plate{
		Component: c, Name: s.Name, Material: lvl.material, Thickness: lvl.thick,
		Outline: outline, Solid: solid, Holes: holes, Bottom: lvl.bottom, Top: lvl.top, ArmOf: armOf, Grain: s.Grain,
	}
	conducts := false
	if m := lvl.material.Material; m != nil {
		p.CutTol, p.HoleTol, p.PlaceTol = m.CutTol, m.HoleTol, m.PlaceTol
		conducts = m.Conducts
	}
	r.add(c, "")
	b := r.slab(c, "", PlateBody, outline, lvl.bottom, lvl.top, edgeBlur(p.CutTol))
	b.Conducts = conducts
	c.Mass = plateMass(p)
	r.asm.Plates = append(r.asm.Plates, p)
	return true
}

// holesFit reports holes that lie outside their plate or run out over its edge, those of
// an arm plate in the frame that it is drawn in. For the others it returns how far each keeps from the edge.
func (r *resolver) holesFit(id string, arm *rotorPlan, solid []geom.Region, holes []Hole) (inset []float64, ok bool) {
	ok = true
	inset = make([]float64, len(holes))
	said := map[read.Pos]bool{}
	for i := range holes {
		h := &holes[i]
		inset[i] = math.Inf(-1)
		for k := range solid {
			inset[i] = max(inset[i], geom.Inside(solid[k], geom.RegionOf(h.Loop)).Dist)
		}
		if inset[i] >= -1e-9 || said[h.Pos] {
			continue
		}
		ok = false
		said[h.Pos] = true
		what := "lies outside the plate"
		if overlap(solid, one(h.Loop)) {
			what = "runs out over the edge of the plate"
		}
		at, where := h.At, ""
		if arm != nil {
			at, where = arm.armFrame().Inverse().Apply(at), " from the motor's axis"
		}
		whose, hint := r.holeCause(h, arm)
		r.fail(h.Pos, id, fmt.Sprintf("the hole at (%s, %s)%s%s %s", mm(at.X), mm(at.Y), where, whose, what),
			"every hole wholly within "+id, hint)
	}
	return inset, ok
}

// holeCause says whose hole it is that its plate does not hold, and what to mend: holes that
// follow something are not moved where they are written.
func (r *resolver) holeCause(h *Hole, arm *rotorPlan) (whose, hint string) {
	switch {
	case h.follows == "motors":
		var near *rotorPlan
		for _, p := range r.rotors {
			if near == nil || p.at.Sub(h.At).Norm() < near.at.Sub(h.At).Norm()-1e-9 {
				near = p
			}
		}
		if arm != nil {
			return "", "draw the arm round the motor's axis, from which its outline counts, far enough for the holes"
		}
		return fmt.Sprintf(" for the %s motor, whose axis is at (%s, %s),", near.spec.Name, mm(near.at.X), mm(near.at.Y)),
			"draw an arm to the motor (`arms:` in the outline draws one to each, with a `pad:` round its holes), or mend its place under `rotors:`"
	case h.follows != "":
		return " for " + h.follows, "the hole follows " + h.follows + ": move that, or widen the outline there"
	}
	return "", "move the hole, or widen the outline there; an open notch is drawn under `cut:` of the outline"
}

// drill takes the holes out of the outline, which is one region. Holes that keep clear
// of its edge and of each other, which is nearly always so, need no boolean.
func (r *resolver) drill(s *PlateSpec, id string, solid []geom.Region, holes []Hole, inset []float64) ([]geom.Region, bool) {
	const clear = 1e-6
	meets := make([]bool, len(holes))
	for i := range holes {
		meets[i] = meets[i] || inset[i] <= clear
		box := holes[i].Loop.Bound().Expand(clear)
		for j := i + 1; j < len(holes); j++ {
			if box.Intersects(holes[j].Loop.Bound()) && geom.DistanceLoops(holes[i].Loop, holes[j].Loop).Dist <= clear {
				meets[i], meets[j] = true, true
			}
		}
	}
	own := append([]geom.Loop(nil), solid[0].Holes...)
	var cut []geom.Region
	for i := range holes {
		if meets[i] {
			cut = append(cut, geom.RegionOf(holes[i].Loop))
		} else {
			own = append(own, holes[i].Loop)
		}
	}
	out := []geom.Region{geom.RegionOf(solid[0].Outer, own...)}
	if len(cut) == 0 {
		return out, true
	}
	got, err := geom.Difference(out, cut)
	switch {
	case err != nil:
		r.fail(s.Pos, id, "the holes cannot be cut: "+why(err), "holes that cross or overlap clearly, or keep apart", "")
		return nil, false
	case len(got) != 1:
		r.fail(s.Pos, id, fmt.Sprintf("the holes cut the plate into %d pieces", len(got)), "one connected plate", "")
		return nil, false
	}
	return got, true
}
