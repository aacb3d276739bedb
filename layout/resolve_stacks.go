package layout

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// stackPlan is a stack in plan, before its heights are known.
type stackPlan struct {
	spec    *StackSpec
	pose    geom.Pose2
	pattern *shapes.SquarePattern
	thread  *shapes.Part // nil when the catalogue lacks it
	screws  []StackScrew
}

// planStacks finds where the screws of every stack stand. Both `at` and `turn` are as
// seen from above, also for stacks that hang.
func (r *resolver) planStacks() {
	for _, s := range r.b.Stacks {
		p := &stackPlan{spec: s, pose: geom.Pose2{Turn: degrees(s.Turn), Shift: s.At.P}}
		p.pattern = &shapes.SquarePattern{X: s.SideX, Y: s.SideY, Screw: s.Screw, Count: 4}
		p.thread = r.thread(s.Screw)
		for _, c := range corners(value(s.SideX), value(s.SideY)) {
			p.screws = append(p.screws, StackScrew{At: p.pose.Apply(c)})
		}
		r.stacks = append(r.stacks, p)
	}
}

// corners lists the corners of a rectangle about the origin: front left first, then
// counter-clockwise.
func corners(x, y float64) []r2.Point {
	x, y = x/2, y/2
	return []r2.Point{{X: x, Y: y}, {X: -x, Y: y}, {X: -x, Y: -y}, {X: x, Y: -y}}
}

// stackNamed returns the plan of a stack, nil if there is none of that name.
func (r *resolver) stackNamed(name string) *stackPlan {
	for _, p := range r.stacks {
		if p.spec.Name == name {
			return p
		}
	}
	return nil
}

// placeStacks sums every stack up from its plate (or down from it).
func (r *resolver) placeStacks() {
	for _, p := range r.stacks {
		r.placeStack(p)
	}
}

// stackWalk is a stack while it grows.
type stackWalk struct {
	plan   *stackPlan
	stack  *Stack
	cursor Form    // the face that the next item is clamped against
	out    float64 // +1 when the stack stands, -1 when it hangs
	below  string  // component that carries the next item
	face   shapes.Face
}

func (r *resolver) placeStack(p *stackPlan) {
	s := p.spec
	lvl := r.plates[s.From.Name]
	w := &stackWalk{plan: p, out: 1, cursor: lvl.top, face: s.From.Face, below: r.plateCopy(s.From, s.At.P)}
	if s.From.Face == shapes.Bottom {
		w.out, w.cursor = -1, lvl.bottom
	}
	id := "stacks." + s.Name
	st := &Stack{
		Name: s.Name, On: w.below, OnFace: s.From.Face, Down: w.out < 0, Pose: p.pose,
		Pattern: p.pattern, Screw: s.Screw, Screws: p.screws, Pos: s.Pos,
	}
	w.stack = st
	st.Float = float(id+" screws in the plate", r.plateHole(p), r.major(p))
	st.Bottom, st.Top = w.cursor, w.cursor
	for _, it := range s.Items {
		switch it.Kind {
		case ItemBoard:
			r.stackBoard(w, it)
		case ItemSpacer:
			r.stackSpacer(w, it)
		case ItemNut, ItemWasher:
			r.stackFastener(w, it)
		case ItemGap:
			gap := *it.Length
			fillTol(&gap, tolMeasured)
			w.cursor = w.cursor.Plus(&gap, w.out)
		}
	}
	for i := range st.Levels {
		for _, b := range st.Levels[i].Component.Bodies {
			st.Bottom, st.Top = lower(st.Bottom, b.Bottom), higher(st.Top, b.Top)
		}
	}
	r.asm.Stacks = append(r.asm.Stacks, st)
}

// major is the diameter of the stack's screws.
func (r *resolver) major(p *stackPlan) float64 {
	if p.thread != nil {
		return p.thread.Thread.Major
	}
	return majorOf(p.spec.Screw)
}

// majorOf reads the diameter out of a thread's name: M3 is 3 mm.
func majorOf(size string) float64 {
	digits, ok := strings.CutPrefix(size, "M")
	if end := strings.IndexFunc(digits, func(r rune) bool { return (r < '0' || r > '9') && r != '.' }); end >= 0 {
		digits = digits[:end]
	}
	if d, err := strconv.ParseFloat(digits, 64); ok && err == nil && d > 0 && d < 50 {
		return d
	}
	return 0
}

// plateHole is the diameter of the plate's holes for the stack: as drilled, else by the
// practice for the thread.
func (r *resolver) plateHole(p *stackPlan) float64 {
	for _, pl := range r.asm.Plates {
		if pl.Name != p.spec.From.Name {
			continue
		}
		for i := range pl.Holes {
			if h := &pl.Holes[i]; h.For == "stacks."+p.spec.Name && h.Length <= 0 {
				return value(h.Diameter)
			}
		}
	}
	if p.thread != nil && p.thread.Thread.PlateHole != nil {
		return p.thread.Thread.PlateHole.Value
	}
	return r.major(p)
}

// level adds an item that is clamped over the length `thick`.
func (w *stackWalk) level(l Level, clamp Form) *Level {
	next := w.cursor.Add(clamp.Scale(w.out))
	l.From, l.To = w.cursor, next
	if w.out < 0 {
		l.From, l.To = next, w.cursor
	}
	w.cursor = next
	w.below, w.face = l.Component.ID, shapes.Top
	if w.out < 0 {
		w.face = shapes.Bottom
	}
	w.stack.Levels = append(w.stack.Levels, l)
	return &w.stack.Levels[len(w.stack.Levels)-1]
}

// stackBoard clamps a board. Hard, it is clamped over its own thickness. In grommets it
// is clamped over their tightened height, with the board in the middle of it; stepped
// grommets say how much is on which face.
func (r *resolver) stackBoard(w *stackWalk, it *Item) {
	part := r.fill.part(it.Part)
	id := "stacks." + w.plan.spec.Name + "." + it.Name
	c := &Component{
		ID: id, Label: it.Name, Kind: "board", Part: part, Pos: it.Pos, On: w.below, OnFace: w.face,
		Flip: it.Flip,
		Pose: geom.Pose2{Turn: w.plan.pose.Turn + degrees(it.Turn), Mirror: it.Flip, Shift: w.plan.pose.Shift},
	}
	pcb := missing(part.Name + " thickness")
	if part.Body != nil && part.Body.Pcb != nil {
		pcb = part.Body.Pcb
	}
	clamp, under := Of(pcb), Form{}
	var soft *shapes.Part
	travel := float(it.Name+" on its screws", value(boardHole(part)), r.major(w.plan))
	if it.Soft != nil {
		soft = r.fill.part(it.Soft)
		clamp, under = grommetClamp(soft, pcb)
		travel = assumed(it.Name+" in its grommets", 0, softTravel)
	}
	r.add(c, "", w.stack.Float, travel)
	at := w.cursor
	l := w.level(Level{Component: c, Item: it, Board: true, Turn: inDegrees(c.Pose.Turn), Flip: it.Flip, Grommet: soft}, clamp)
	// The grommet's long side is towards the plate, whichever way that is.
	if w.out > 0 {
		l.FaceDown = at.Add(under)
		l.FaceUp = l.FaceDown.Plus(pcb, 1)
	} else {
		l.FaceUp = at.Sub(under)
		l.FaceDown = l.FaceUp.Plus(pcb, -1)
	}
	c.Base = l.FaceDown
	if it.Flip {
		c.Base = l.FaceUp
	}
	r.boardBodies(c, l.FaceDown, l.FaceUp)
	if soft != nil && soft.Grommet != nil {
		od := or(soft.Grommet.OD, soft.Name+" diameter")
		for i, s := range w.plan.screws {
			b := r.between(c, fmt.Sprintf("grommet[%d]", i+1), GrommetBody, disc(s.At, od), l.From, l.To, sizeBlur(od))
			b.Soft, b.Part = true, soft
		}
	}
	c.Mass = partMass(c)
}

// boardHole is the diameter of a board's mounting holes, nil if it has none.
func boardHole(p *shapes.Part) *shapes.Dim {
	if p.Square == nil {
		return nil
	}
	return p.Square.Hole
}

// grommetClamp returns the clamped length of a soft mount and how far the board's face
// lies above the start of it: (tight - pcb)/2 for plain ones; for stepped ones the
// share on that face, with pcb and the other share on top.
func grommetClamp(g *shapes.Part, pcb *shapes.Dim) (clamp, under Form) {
	s := g.Grommet
	if s == nil {
		return Of(missing(g.Name + " tightened height")), Form{}
	}
	if s.Below != nil && s.Above != nil {
		return Of(s.Below).Plus(pcb, 1).Plus(s.Above, 1), Of(s.Below)
	}
	tight := or(s.Tight, g.Name+" tightened height")
	return Of(tight), Form{}.Plus(tight, 0.5).Plus(pcb, -0.5)
}

// stackSpacer clamps spacers, one on each screw.
func (r *resolver) stackSpacer(w *stackWalk, it *Item) {
	length := *it.Length
	part := r.fill.part(it.Part)
	fillTol(&length, postTol(part, it.Material))
	wide := r.spacerWidth(part, it, w.plan)
	c := r.stackPiece(w, it, "spacer", part)
	l := w.level(Level{Component: c, Item: it, Width: wide}, Of(&length))
	conducts := metal(it.Material) || part != nil && part.Standoff != nil && part.Standoff.Conducts
	r.atScrews(w, c, SpacerBody, l, wide, conducts)
	c.Mass = spacerMass(c, it, part, &length, wide)
}

// spacerWidth is how wide a spacer is: by its class, else the corners of the hexagon
// that is usual for its thread (5.5 across flats for M3, 4.5 for M2.5, 4 for M2).
func (r *resolver) spacerWidth(part *shapes.Part, it *Item, p *stackPlan) *shapes.Dim {
	if part != nil && part.Standoff != nil {
		return postWidth(part)
	}
	d := r.major(p)
	flats := map[float64]float64{3: 5.5, 2.5: 4.5, 2: 4}[d]
	if flats <= 0 {
		flats = 1.9 * d
	}
	return assumed(it.Name+" across corners", geom.AcrossCorners(flats, 6), tolMeasured)
}

// stackFastener clamps a nut or a washer on each screw; sizes are those of the
// standards for the thread.
func (r *resolver) stackFastener(w *stackWalk, it *Item) {
	c := r.stackPiece(w, it, "fastener", it.Part)
	t := w.plan.thread
	var thick, wide *shapes.Dim
	word := "nut"
	if it.Kind == ItemWasher {
		word = "washer"
	}
	name := w.plan.spec.Screw + " " + word
	switch {
	case t == nil:
		thick, wide = missing(name+" height"), missing(name+" width")
	case it.Kind == ItemWasher:
		thick = assumed(name+" thickness", t.Thread.WasherT, washerTol)
		wide = assumed(name+" diameter", t.Thread.WasherOD, 0)
	default:
		thick = assumed(name+" height", t.Thread.NutH, 0)
		thick.Minus = nutHeightMinus
		if it.Insert {
			thick = or(t.Thread.LockNutH, w.plan.spec.Screw+" insert nut height")
		}
		wide = assumed(name+" across corners", t.Thread.NutCorner, 0)
	}
	if it.Length != nil {
		own := *it.Length
		fillTol(&own, washerTol)
		thick = &own
	}
	l := w.level(Level{Component: c, Item: it, Width: wide}, Of(thick))
	r.atScrews(w, c, FastenBody, l, wide, metal(it.Material))
	c.Mass = fastenerMass(c, it, t, thick)
}

// stackPiece makes the component of the pieces that sit on all screws of a stack.
func (r *resolver) stackPiece(w *stackWalk, it *Item, kind string, part *shapes.Part) *Component {
	c := &Component{
		ID: "stacks." + w.plan.spec.Name + "." + it.Name, Label: it.Name, Kind: kind, Part: part, Pos: it.Pos,
		On: w.below, OnFace: w.face, Pose: w.plan.pose, Base: w.cursor, Count: len(w.plan.screws), Flip: w.out < 0,
	}
	r.add(c, "", w.stack.Float)
	return c
}

// atScrews makes one body at each screw of the stack.
func (r *resolver) atScrews(w *stackWalk, c *Component, k Kind, l *Level, wide *shapes.Dim, conducts bool) {
	for i, s := range w.plan.screws {
		r.body(c, &Body{
			ID: fmt.Sprintf("%s[%d]", c.ID, i+1), Kind: k, Part: c.Part, Conducts: conducts,
			Plan: one(disc(s.At, wide)), Bottom: l.From, Top: l.To,
		}, sizeBlur(wide))
	}
}

// metal reports whether hardware of this material conducts; "" is taken as nylon.
func metal(material string) bool {
	switch material {
	case "aluminium", "brass", "steel", "titanium":
		return true
	}
	return false
}
