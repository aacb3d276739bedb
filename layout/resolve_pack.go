package layout

import (
	"fmt"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes/read"
)

// packSlide is how far a strapped pack is taken to creep each way when the build does
// not say: builders allow for 15 mm.
const packSlide = 15.0

// posed is what has a place in the file.
type posed interface{ place() read.Pos }

func (s *MountSpec) place() read.Pos   { return s.Pos }
func (s *BatterySpec) place() read.Pos { return s.Pos }

func (r *resolver) placeBatteryOnce(s *BatterySpec, path []string) bool {
	key := s.ID()
	path, again, ok := r.enter(key, s, path)
	if again {
		return ok
	}
	ok = r.placeBattery(s, key, path)
	r.mounts.done[key] = true
	return ok
}

// placeBattery puts a pack on its face: the pad under it, the pack, the room for its
// leads, and the strap.
func (r *resolver) placeBattery(s *BatterySpec, id string, path []string) bool {
	g, ok := r.groundOf(s.On, "", s.At.P, path)
	if !ok {
		return false
	}
	part := r.fill.part(s.Part)
	label := "battery"
	if s.Name != "" {
		label = s.Name
	}
	c := &Component{
		ID: id, Label: label, Kind: "battery", Part: part, Pos: s.Pos, On: g.id, OnFace: s.On.Face,
		Pose: g.poseOn(s.At.P, s.Turn), Flip: g.up < 0,
	}
	r.add(c, g.id, assumed(label+" set by hand", 0, tolByHand))
	p := &Pack{Component: c, Below: g.up < 0, StrapCount: 0}
	foot := footprint(part.Body, false)
	plan := move(one(foot), c.Pose)
	face := g.rest(plan)
	at := face
	if s.Hold != nil {
		thick := *s.Hold.Thickness
		fillTol(&thick, tolMeasured)
		p.Cushion = &thick
		b := r.slab(c, "hold", CushionBody, plan, at, at.Plus(&thick, g.up), bodyBlur(part.Body))
		b.Soft, b.Part = true, s.Hold.Part
		at = at.Plus(&thick, g.up)
	}
	c.Base = at
	top := at.Plus(heightOf(part, false), g.up)
	p.Body = r.slab(c, "", PackBody, plan, at, top, bodyBlur(part.Body))
	p.Body.ID = c.ID + ".pack"
	p.Body.Live = true

	p.Limit = limitOf(s.Limit)
	p.Slide = packSlide
	if s.Slide != nil {
		p.Slide = s.Slide.Value
	} else {
		r.note("%s: it may creep %g mm each way along its length, as the build does not say", id, packSlide)
	}
	size := foot.Bound().Size()
	sweep := geom.Rectangle(foot.Bound().Center(), size.X+2*p.Slide, size.Y)
	swept := *p.Body
	swept.ID, swept.Plan, swept.Swept = c.ID+".slide", move(one(sweep), c.Pose), true
	p.SweptBody = &swept

	r.packLeads(p, s, foot, at, top)
	if s.Strap != nil {
		r.strapBodies(p, s, &g, foot, face, top)
	}
	c.Mass = partMass(c)
	r.asm.Packs = append(r.asm.Packs, p)
	return true
}

// packLeads keeps room for the leads at the end of the pack that looks towards the
// side that the build names.
func (r *resolver) packLeads(p *Pack, s *BatterySpec, foot geom.Loop, at, top Form) {
	dir, said := map[string]r2.Point{"front": {X: 1}, "rear": {X: -1}, "left": {Y: 1}, "right": {Y: -1}}[s.Lead]
	if !said {
		return
	}
	p.LeadEnd = dir
	q := p.Part.Pack
	if q == nil || q.LeadRoom == nil {
		return
	}
	// In the pack's own frame the leads leave over the side that is nearest to dir.
	own := p.Pose.Inverse().Direction(dir)
	size, room := foot.Bound().Size(), q.LeadRoom.Value
	var l geom.Loop
	if abs(own.X) >= abs(own.Y) {
		l = geom.Rectangle(r2.Point{X: sign(own.X) * (size.X + room) / 2}, room, size.Y)
	} else {
		l = geom.Rectangle(r2.Point{Y: sign(own.Y) * (size.Y + room) / 2}, size.X, room)
	}
	b := r.slab(p.Component, "lead", LeadBody, move(one(l), p.Pose), at, top,
		bodyBlur(p.Part.Body).Plus(q.LeadRoom, 1).Shift(-room))
	b.Soft, b.Live = true, true
}

// strapBodies lays the straps round pack and plate: over the pack, between the slots on
// the other side of the plate, and the buckle on top.
func (r *resolver) strapBodies(p *Pack, s *BatterySpec, g *ground, foot geom.Loop, face, top Form) {
	p.Strap = r.fill.part(s.Strap.Part)
	p.StrapCount = s.Strap.Count
	p.SlotHoles = r.slotsOf(s.Strap.Through)
	st := p.Strap.Strap
	if st == nil {
		return
	}
	thick := or(st.Thickness, p.Strap.Name+" thickness")
	wide := value(st.Width)
	size := foot.Bound().Size()
	blur := bodyBlur(p.Part.Body)
	put := func(name string, plan geom.Loop, a, b Form) {
		body := r.slab(p.Component, name, StrapBody, move(one(plan), p.Pose), a, b, blur)
		body.Soft, body.Part = true, p.Strap
	}
	for i, run := range p.strapRuns(size) {
		name := "strap"
		if p.StrapCount > 1 {
			name = fmt.Sprintf("strap[%d]", i+1)
		}
		over := geom.Rectangle(r2.Point{X: run.x}, wide, size.Y+2*thick.Value)
		put(name, over, face, top.Plus(thick, g.up))
		if st.BuckleT != nil {
			bw := max(value(st.BuckleW), wide)
			put(name+".buckle", geom.Rectangle(r2.Point{X: run.x}, bw, bw), top, top.Plus(st.BuckleT, g.up))
		}
		if strings.HasPrefix(g.id, "plates.") && g.on == nil {
			under := geom.Rectangle(r2.Point{X: run.x, Y: (run.lo + run.hi) / 2}, wide, run.hi-run.lo)
			put(name+".under", under, g.far, g.far.Plus(thick, -g.up))
		}
	}
}

// strapRun is the line of one strap across a pack, in the pack's frame.
type strapRun struct{ x, lo, hi float64 }

// strapRuns says where the straps cross: through the slots, dealt out along the pack to
// as many straps as there are; without slots they are spread evenly.
func (p *Pack) strapRuns(size r2.Point) []strapRun {
	n := max(1, p.StrapCount)
	inv := p.Pose.Inverse()
	var at []r2.Point
	for i := range p.SlotHoles {
		at = append(at, inv.Apply(p.SlotHoles[i].At))
	}
	slices.SortStableFunc(at, func(a, b r2.Point) int {
		switch {
		case a.X < b.X-1e-9:
			return -1
		case a.X > b.X+1e-9:
			return 1
		}
		return 0
	})
	runs := make([]strapRun, n)
	for i := range runs {
		run := strapRun{x: size.X * (float64(i+1)/float64(n+1) - 0.5), lo: -size.Y / 2, hi: size.Y / 2}
		if mine := at[i*len(at)/n : (i+1)*len(at)/n]; len(mine) > 0 {
			run = strapRun{lo: mine[0].Y, hi: mine[0].Y}
			for _, q := range mine {
				run.x += q.X / float64(len(mine))
				run.lo, run.hi = min(run.lo, q.Y), max(run.hi, q.Y)
			}
			if run.hi-run.lo < 1e-6 {
				run.lo, run.hi = min(run.lo, -size.Y/2), max(run.hi, size.Y/2)
			}
		}
		runs[i] = run
	}
	return runs
}

// slotsOf returns the holes of the entry that t names.
func (r *resolver) slotsOf(t *Target) []Hole {
	if t == nil {
		return nil
	}
	var out []Hole
	for _, p := range r.asm.Plates {
		if p.Name != t.Name {
			continue
		}
		for i := range p.Holes {
			if p.Holes[i].Group == p.Name+"."+t.Item {
				out = append(out, p.Holes[i])
			}
		}
	}
	return out
}

func sign(x float64) float64 {
	if x < 0 {
		return -1
	}
	return 1
}
