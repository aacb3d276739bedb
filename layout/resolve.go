package layout

import (
	"fmt"
	"math"
	"sort"
	"sync"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/shapes"
	"dryfit/shapes/read"
)

// Resolve places everything that the build names in the body frame: heights as linear
// forms of named dimensions, plan positions with what may move them. It never changes
// the build and may be called any number of times.
//
// It finds what can only be seen with everything in place: carriers that go round in a
// circle, outlines that fall apart or cross themselves, holes beyond their plate, motors
// with no arm. On any such error the assembly is nil.
//
// Named things come sorted by name (plates lowest first, rotors as the layout has
// them), lists in the order of the file: so the keys of the file may stand in any order.
// Components come by group: plates, posts, stacks, rotors, packs, mounts, cameras,
// antennas.
func Resolve(b *Build) (*Assembly, *read.Diags) {
	r := &resolver{
		b: b, diags: &read.Diags{},
		comps:  map[string]*Component{},
		rides:  map[string][]*shapes.Dim{},
		plates: map[string]*plateLevel{},
		posts:  map[string]*postLevel{},
		own:    map[string]*shapes.Part{},
	}
	r.asm = &Assembly{
		Name: b.Name, About: b.About, File: b.File, Builtin: b.Builtin,
		Cutting: cuttingOf(b.Cutting), MassLimit: b.MassLimit, Extra: b.Allowance, Needs: map[string]Need{},
	}
	r.planRotors()
	r.levels()
	r.planStacks()
	r.planPosts()
	if r.diags.HasErrors() {
		return nil, r.diags
	}
	r.cutPlates()
	if r.diags.HasErrors() {
		return nil, r.diags
	}
	r.placeRotors()
	r.placePosts()
	r.placeStacks()
	r.placeMounts()
	r.placeCameras()
	r.placeAntennas()
	r.placePorts()
	r.placeJoints()
	r.placeWires()
	if r.diags.HasErrors() {
		return nil, r.diags
	}
	r.routeWires()
	r.weighWires()
	r.stockSleeves()
	r.settle()
	if r.diags.HasErrors() {
		return nil, r.diags
	}
	r.asm.supply = sync.OnceValue(r.asm.workOutSupply)
	return r.asm, r.diags
}

// resolver holds what is placed so far.
type resolver struct {
	b     *Build
	asm   *Assembly
	diags *read.Diags
	fill  filler

	comps  map[string]*Component
	rides  map[string][]*shapes.Dim // by component ID: what moves it in plan as a whole
	rotors []*rotorPlan
	plates map[string]*plateLevel
	posts  map[string]*postLevel
	stacks []*stackPlan
	mounts mountState
	own    map[string]*shapes.Part // parts used once for the whole craft (plugs, threads), by name
	rest   map[restKey][]geom.Region
	holes  map[string]*shapes.Dim // plain holes by thread
	sinks  map[*HoleSpec]*Sink
	tabs   map[*HoleSpec]*shapes.Dim
	bell   *shapes.Dim              // usable thread in bells that do not say it
	pieces map[pieceKey]*shapes.Dim // masses of screws, washers and nuts

	rootBottom Form // underside of the plate on which all others rest
}

// fail adds an error at a place of the file.
func (r *resolver) fail(pos read.Pos, path, message, want, hint string, related ...read.Related) {
	r.diags.Add(read.Diag{Pos: pos, Path: path, Message: message, Want: want, Hint: hint, Line: r.b.line(pos), Related: related})
}

// note records what was assumed in placing.
func (r *resolver) note(format string, args ...any) {
	r.asm.Notes = append(r.asm.Notes, fmt.Sprintf(format, args...))
}

// shared returns the filled-in copy of a part of the library of which the whole craft
// uses one set of figures, nil if there is none of that name.
func (r *resolver) shared(name string) *shapes.Part {
	if name == "" || r.b.Parts == nil {
		return nil
	}
	if p, ok := r.own[name]; ok {
		return p
	}
	p, ok := r.b.Parts.Find(name)
	if !ok {
		p = nil
	}
	c := r.fill.part(p)
	r.own[name] = c
	return c
}

// add records a component and its bodies. carrier is the component that it rides on
// ("" for none), more are the dimensions that move it beside those of its carrier.
func (r *resolver) add(c *Component, carrier string, more ...*shapes.Dim) {
	if c.Count == 0 {
		c.Count = 1
	}
	r.comps[c.ID] = c
	r.asm.Components = append(r.asm.Components, c)
	rides := append([]*shapes.Dim(nil), r.rides[carrier]...)
	for _, d := range more {
		if d != nil {
			rides = append(rides, d)
		}
	}
	if len(rides) > 0 {
		r.rides[c.ID] = rides
	}
}

// body adds a body to a component; it takes the component's motion and the blur of
// its own.
func (r *resolver) body(c *Component, b *Body, own Form) *Body {
	b.Of = c.ID
	if b.ID == "" {
		b.ID = c.ID
	}
	if b.Pos.IsZero() {
		b.Pos = c.Pos
	}
	b.Blur, b.Rides = rideBlur(r.rides[c.ID], own)
	c.Bodies = append(c.Bodies, b)
	r.asm.Bodies = append(r.asm.Bodies, b)
	return b
}

// settle puts the lists of the assembly in their lasting order.
func (r *resolver) settle() {
	a := r.asm
	sort.SliceStable(a.Bodies, func(i, j int) bool { return a.Bodies[i].ID < a.Bodies[j].ID })
	at := map[*Component]int{}
	for i, c := range a.Mounts {
		at[c] = i
	}
	sort.SliceStable(a.Components, func(i, j int) bool {
		c, d := a.Components[i], a.Components[j]
		if p, q := groupRank(c.ID), groupRank(d.ID); p != q {
			return p < q
		}
		return at[c] < at[d]
	})
	if r.b.Guard == nil {
		a.GuardAll = true
		for _, p := range a.Plates {
			a.Guard = append(a.Guard, p.ID)
		}
	}
	for _, t := range r.b.Guard {
		for _, p := range a.Plates {
			if p.Name == t.Name && (t.Rotor == "" || t.Rotor == p.ArmOf) {
				a.Guard = append(a.Guard, p.ID)
			}
		}
	}
	for _, n := range r.b.Needs {
		a.Needs[n.Rule] = n
	}
	for _, t := range r.b.Touching {
		a.Excuses = append(a.Excuses, &Excuse{A: t.A.ID(), B: t.B.ID(), Why: t.Why, Pos: t.Pos})
	}
	sort.Strings(a.Guard)
	sort.Strings(a.Notes)
}

// degrees makes an angle.
func degrees(d float64) s1.Angle { return s1.Angle(d) * s1.Angle(math.Pi/180) }

// inDegrees returns an angle in degrees, -180 < d <= 180, clean to 1e-9.
func inDegrees(a s1.Angle) float64 {
	d := math.Mod(a.Radians()*180/math.Pi, 360)
	if d > 180 {
		d -= 360
	}
	if d <= -180 {
		d += 360
	}
	return math.Round(d*1e9)/1e9 + 0
}

// bearing returns the unit vector at d degrees from forward, counter-clockwise. It is
// exact at multiples of 90°, and mirrored bearings give mirrored vectors to the bit.
func bearing(d float64) r2.Point {
	d = math.Mod(d, 360)
	if d < 0 {
		d += 360
	}
	q := math.Floor(d / 90)
	rest := d - 90*q
	swap := rest > 45
	if swap {
		rest = 90 - rest
	}
	var s, c float64
	switch rest {
	case 0:
		s, c = 0, 1
	case 45:
		s, c = math.Sqrt2/2, math.Sqrt2/2
	case 30:
		s, c = 0.5, math.Sqrt(3)/2
	default:
		s, c = math.Sincos(rest * math.Pi / 180)
	}
	if swap {
		s, c = c, s
	}
	switch int(q) % 4 {
	case 0:
		return r2.Point{X: c, Y: s}
	case 1:
		return r2.Point{X: -s, Y: c}
	case 2:
		return r2.Point{X: -c, Y: -s}
	default:
		return r2.Point{X: s, Y: -c}
	}
}

// frame returns the motion that takes a frame with x along dir (a unit vector) and its
// origin at p into the body frame.
func frame(p, dir r2.Point) geom.Pose2 {
	return geom.Pose2{Turn: geom.Heading(dir), Shift: p}
}

// move applies a pose to a plan.
func move(plan []geom.Region, p geom.Pose2) []geom.Region {
	out := make([]geom.Region, len(plan))
	for i := range plan {
		out[i] = plan[i].Transform(p)
	}
	return out
}

// one is the plan of one loop.
func one(l geom.Loop) []geom.Region {
	if l.IsEmpty() {
		return nil
	}
	return []geom.Region{geom.RegionOf(l)}
}

// boundOf returns the box of a plan.
func boundOf(plan []geom.Region) geom.Rect {
	b := geom.EmptyRect()
	for i := range plan {
		b = b.Union(plan[i].Bound())
	}
	return b
}

// higher returns the form with the greater nominal value, a on a tie.
func higher(a, b Form) Form {
	if b.Nominal() > a.Nominal()+1e-12 {
		return b
	}
	return a
}

// lower returns the form with the lesser nominal value, a on a tie.
func lower(a, b Form) Form {
	if b.Nominal() < a.Nominal()-1e-12 {
		return b
	}
	return a
}
