package layout

import (
	"slices"
	"strings"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/shapes"
)

// sleeveOver is how far heat-shrink reaches beyond each end of what it covers: sleeves
// come out 2 to 4 longer than the part.
const sleeveOver = 1.5

// mountState says which mounts and batteries are placed.
type mountState struct {
	perRotor map[string]bool // mounts with one copy at each rotor
	done     map[string]bool // by key: "mounts.x", "battery"
	upright  map[string]bool // component IDs of parts that stand on their end
}

// placeMounts places mounts and batteries, each after what carries it.
func (r *resolver) placeMounts() {
	m := &r.mounts
	m.perRotor, m.done, m.upright = map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, s := range r.b.Mounts {
		m.perRotor[s.Name] = r.standsOnArms(s, 0)
	}
	for _, s := range r.b.Batteries {
		r.placeBatteryOnce(s, nil)
	}
	for _, s := range r.b.Mounts {
		r.placeMountOnce(s, nil)
	}
	for _, s := range r.b.Mounts {
		for _, c := range r.asm.Components {
			if c.ID == "mounts."+s.Name || strings.HasPrefix(c.ID, "mounts."+s.Name+".") {
				r.asm.Mounts = append(r.asm.Mounts, c)
			}
		}
	}
	sortBy(r.asm.Packs, func(p *Pack) string { return p.ID })
}

// standsOnArms reports whether a mount has one copy at each rotor: it stands on the
// arms, or on a mount that does.
func (r *resolver) standsOnArms(s *MountSpec, depth int) bool {
	if s.On == nil || depth > len(r.b.Mounts) {
		return false
	}
	switch s.On.Kind {
	case TargetArms:
		return true
	case TargetMount:
		q := r.mountSpec(s.On.Name)
		return q != nil && s.On.Rotor == "" && r.standsOnArms(q, depth+1)
	}
	return false
}

func (r *resolver) mountSpec(name string) *MountSpec {
	for _, s := range r.b.Mounts {
		if s.Name == name {
			return s
		}
	}
	return nil
}

// ready places the mount or battery that t names if it is not yet placed; false after
// an error.
func (m *mountState) ready(r *resolver, t *Target, path []string) bool {
	switch t.Kind {
	case TargetMount:
		if s := r.mountSpec(t.Name); s != nil {
			return r.placeMountOnce(s, path)
		}
	case TargetBattery:
		for _, s := range r.b.Batteries {
			if s.Name == t.Name {
				return r.placeBatteryOnce(s, path)
			}
		}
	}
	return true
}

// enter notes that the thing with this key is being placed. again is true when there is
// nothing more to do; ok false when its carriers go round in a circle.
func (r *resolver) enter(key string, spec posed, path []string) (next []string, again, ok bool) {
	if i := slices.Index(path, key); i >= 0 {
		ring := path[i:]
		first := 0
		for j := range ring {
			if ring[j] < ring[first] {
				first = j
			}
		}
		words := append(append(append([]string{}, ring[first:]...), ring[:first]...), ring[first])
		r.fail(spec.place(), key, "what carries what goes round in a circle: "+strings.Join(words, " sits on "),
			"a way from every mount down to a plate", "put one of them on a plate or board")
		return nil, true, false
	}
	if r.mounts.done[key] {
		return nil, true, r.comps[key] != nil || r.mounts.perRotor[strings.TrimPrefix(key, "mounts.")]
	}
	return append(path, key), false, true
}

func (r *resolver) placeMountOnce(s *MountSpec, path []string) bool {
	key := "mounts." + s.Name
	path, again, ok := r.enter(key, s, path)
	if again {
		return ok
	}
	if !r.mounts.perRotor[s.Name] {
		ok = r.placeMount(s, key, "", path)
	} else {
		for _, rot := range r.asm.Rotors {
			if r.rotorNamed(rot.Name).first {
				ok = r.placeMount(s, key+"."+rot.Name, rot.Name, path) && ok
			}
		}
	}
	r.mounts.done[key] = true
	return ok
}

// placeMount puts one copy of a mount on its face.
func (r *resolver) placeMount(s *MountSpec, id, rotor string, path []string) bool {
	g, ok := r.groundOf(s.On, rotor, s.At.P, path)
	if !ok {
		return false
	}
	part := r.fill.part(s.Part)
	at := s.At.P
	if s.FromMotor != nil {
		at = r2.Point{X: -(s.FromMotor.Value + lengthAlong(part, s)/2), Y: s.At.P.Y}
	}
	label := strings.TrimPrefix(id, "mounts.")
	c := &Component{
		ID: id, Label: label, Kind: "part", Part: part, Pos: s.Pos, On: g.id, OnFace: s.On.Face,
		Pose: g.poseOn(at, s.Turn), Flip: g.up < 0,
	}
	r.mounts.upright[id] = s.Upright
	r.add(c, g.id, assumed(label+" set by hand", 0, tolByHand))
	if part.Body == nil {
		return true
	}
	r.mountBodies(c, s, &g)
	c.Mass = partMass(c)
	return true
}

// lengthAlong is how long the part is along the arm.
func lengthAlong(p *shapes.Part, s *MountSpec) float64 {
	b := boundOf(one(footprint(p.Body, s.Upright))).Size()
	sin, cos := geom.SinCos(degrees(s.Turn))
	return abs(b.X*cos) + abs(b.Y*sin)
}

// footprint is what a part covers in plan, in its own frame; upright parts stand with
// their x axis up.
func footprint(b *shapes.Body, upright bool) geom.Loop {
	switch {
	case b == nil:
		return geom.Loop{}
	case b.Shape == shapes.CanBody && upright:
		return disc(zero2, b.Diameter)
	case b.Shape == shapes.BlockBody && upright:
		return geom.Rectangle(zero2, drawn(b.Height), drawn(b.Width))
	}
	return bodyOutline(b)
}

// edge is the blur of the edge of the mounted part: of the two sizes that lie in plan.
func (s *MountSpec) edge(b *shapes.Body) Form {
	switch {
	case b == nil || !s.Upright:
		return bodyBlur(b)
	case b.Shape == shapes.CanBody:
		return sizeBlur(b.Diameter)
	case b.Shape == shapes.BlockBody && b.Edge == nil:
		return sizeBlur(b.Height, b.Width)
	}
	return bodyBlur(b)
}

// heightOf is the dimension by which a part rises from the face that it lies on.
func heightOf(p *shapes.Part, upright bool) *shapes.Dim {
	b := p.Body
	switch {
	case upright:
		return or(b.Length, p.Name+" length")
	case b.Shape == shapes.CanBody:
		return or(b.Diameter, p.Name+" diameter")
	}
	return or(b.Height, p.Name+" height")
}

// mountBodies makes the bodies of a mounted part from the face outwards: what holds it,
// the sleeve's wall, the part, the wall again, and a tie over all.
func (r *resolver) mountBodies(c *Component, s *MountSpec, g *ground) {
	body := c.Part.Body
	foot := footprint(body, s.Upright)
	plan := move(one(foot), c.Pose)
	face := g.rest(plan)
	at := face
	if s.Hold != nil {
		thick := *s.Hold.Thickness
		fillTol(&thick, tolMeasured)
		b := r.slab(c, "hold", CushionBody, plan, at, at.Plus(&thick, g.up), s.edge(body))
		b.Soft, b.Part = true, s.Hold.Part
		at = at.Plus(&thick, g.up)
	}
	inner := at
	var wall *shapes.Dim
	if s.Sleeve != nil {
		w := *s.Sleeve
		fillTol(&w, 0.1)
		wall = &w
		at = at.Plus(wall, g.up)
	}
	c.Base = at
	top := r.partBodies(c, s, at, g.up)
	if wall != nil {
		size := foot.Bound().Size()
		over := geom.Rectangle(foot.Bound().Center(), size.X+2*sleeveOver, size.Y+2*wall.Value)
		top = top.Plus(wall, g.up)
		b := r.slab(c, "sleeve", CushionBody, move(one(over), c.Pose), inner, top, s.edge(body).Plus(wall, 1).Shift(-wall.Value))
		b.Soft = true
	}
	if s.Tie != nil {
		r.tieBodies(c, s, g, foot, face, top, wall)
	}
	if c.Part.Kind == shapes.EscSingle {
		r.escLeads(c, foot, at, top)
	}
}

// partBodies makes the body or bodies of the part itself and returns the height of its
// outer face.
func (r *resolver) partBodies(c *Component, s *MountSpec, at Form, up float64) Form {
	body := c.Part.Body
	bare := s.Sleeve == nil
	if body.Shape == shapes.BoardBody {
		pcb := or(body.Pcb, c.Part.Name+" thickness")
		// The board rests on the lowest thing of its underside.
		stand := at.Plus(deepest(body), up)
		down, top := stand, stand.Plus(pcb, 1)
		if up < 0 {
			down, top = stand.Plus(pcb, -1), stand
		}
		c.Base = stand
		r.boardBodies(c, down, top)
		end := at
		for _, b := range c.Bodies {
			if b.Kind == PcbBody || b.Kind == ZoneBody {
				if up > 0 {
					end = higher(end, b.Top)
				} else {
					end = lower(end, b.Bottom)
				}
			}
		}
		return end
	}
	end := at.Plus(heightOf(c.Part, s.Upright), up)
	b := r.slab(c, "", PartBody, move(one(footprint(body, s.Upright)), c.Pose), at, end, s.edge(body))
	b.Conducts = bare && bareParts(c.Part.Kind)
	b.Hot = c.Part.Kind == shapes.VideoTx
	if body.Shape == shapes.CanBody && !s.Upright {
		b.Tilted = lyingCan(c.Pose, value(body.Diameter), value(body.Length), (at.Nominal()+end.Nominal())/2)
	}
	return end
}

// lyingCan is a cylinder with its axis along the part's x axis.
func lyingCan(p geom.Pose2, d, l, z float64) *geom.Convex {
	turn := geom.RotY(degrees(90)).Then(p.Lift(z))
	c, err := geom.NewCylinder(d/2, l, turn)
	if err != nil {
		return nil
	}
	return &c
}

// bareParts reports whether parts of this kind show bare metal when nothing is shrunk
// over them.
func bareParts(k shapes.Kind) bool {
	switch k {
	case shapes.EscSingle, shapes.Regulator, shapes.Receiver, shapes.VideoTx, shapes.GPS, shapes.Light:
		return true
	}
	return false
}

// deepest is the height of the tallest thing under a board, nil if its underside is
// bare.
func deepest(b *shapes.Body) *shapes.Dim {
	d := b.Below
	for i := range b.Zones {
		if z := &b.Zones[i]; z.Face == shapes.Bottom && z.Height != nil && (d == nil || z.Height.Value > d.Value) {
			d = z.Height
		}
	}
	return d
}

// tieBodies adds a cable tie across the middle of a part: its band over the part, its
// head on top of that, and on plates the band on the other side.
func (r *resolver) tieBodies(c *Component, s *MountSpec, g *ground, foot geom.Loop, face, top Form, wall *shapes.Dim) {
	t := r.fill.part(s.Tie)
	if t.Tie == nil {
		return
	}
	thick := or(t.Tie.Thickness, t.Name+" thickness")
	wide := value(t.Tie.Width)
	across := foot.Bound().Size().Y + 2*(value(wall)+thick.Value)
	band := move(one(geom.Rectangle(foot.Bound().Center(), wide, across)), c.Pose)
	over := top.Plus(thick, g.up)
	blur := s.edge(c.Part.Body)
	add := func(name string, plan []geom.Region, a, b Form) {
		body := r.slab(c, name, CushionBody, plan, a, b, blur)
		body.Soft, body.Part = true, t
	}
	add("tie", band, face, over)
	if t.Tie.HeadH != nil && value(t.Tie.HeadL) > 0 && value(t.Tie.HeadW) > 0 {
		head := geom.Rectangle(foot.Bound().Center(), t.Tie.HeadW.Value, t.Tie.HeadL.Value)
		add("tie.head", move(one(head), c.Pose), top, top.Plus(t.Tie.HeadH, g.up))
	}
	if g.on == nil && strings.HasPrefix(g.id, "plates.") {
		add("tie.under", band, g.far, g.far.Plus(thick, -g.up))
	}
}

// escLeads keeps room for the leads at both ends of a single speed controller.
func (r *resolver) escLeads(c *Component, foot geom.Loop, at, top Form) {
	size := foot.Bound().Size()
	room := assumed(c.Part.Name+" lead room", escLeadRoom, escLeadTol)
	for i, side := range []float64{1, -1} {
		mid := r2.Point{X: side * (size.X + room.Value) / 2}
		name := []string{"lead.front", "lead.rear"}[i]
		b := r.slab(c, name, LeadBody, move(one(geom.Rectangle(mid, room.Value, size.Y)), c.Pose), at, top,
			bodyBlur(c.Part.Body).Plus(room, 1).Shift(-room.Value))
		b.Soft = true
	}
}

var zero2 r2.Point

// upright is the plain geometry of a body: its plan between its nominal heights.
func (b *Body) Upright() geom.Upright {
	return geom.Upright{Plan: b.Plan, Z: r1.Interval{Lo: b.Bottom.Nominal(), Hi: b.Top.Nominal()}}
}

// Solid is the nominal solid: the tilted one where there is one, else the upright one.
func (b *Body) Solid() geom.Body {
	if b.Tilted != nil {
		return *b.Tilted
	}
	return b.Upright()
}

// vec makes a point in space.
func vec(p r2.Point, z float64) r3.Vector { return r3.Vector{X: p.X, Y: p.Y, Z: z} }
