package rules

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// Needs between parts that are not made to touch, mm: 0.5 so that nothing rubs. A board
// in grommets keeps 1.0 of air beyond the 0.5 that it gives sideways, which is in its
// uncertainty in plan, and 1.5 in height. Where one part lies over another, bare metal
// keeps as far off as boards do (1.5, 2.0 when soft-mounted), since the frame flexes.
const (
	gapPlain   = 0.5
	gapTravel  = 1.5
	gapAir     = 1.0
	gapTold    = 6.0 // how near two parts must come to be told of
	weightSlow = 4   // from this rank on a thing is what others are moved away from
)

var bodyGap = &Rule{
	Name:     "body-gap",
	Group:    "parts",
	Question: "do parts that are not made to touch keep apart",
	Why:      "What overlaps on the drawing does not go together on the bench; what only just clears rubs through its sleeve in flight.",
	Need:     "0.5 mm between any two parts; 1.0 round a board in grommets beyond the 0.5 that it gives sideways, 1.5 over and under it; 1.5 where bare metal lies over bare metal (2.0 when either is in grommets); 1.0 from a part to a plate over or under it, 3.0 if the part is hot; plates side by side may touch.",
	How:      "Every pair of bodies of different parts nearer than 6 mm, in space, in mm: in plan where heights overlap, in height where one lies over the other. A pack counts over all of its travel. Pairs that touch by design (a part and its carrier, a post and its plates) and pairs that a rule of their own judges (board over board, stack under roof, post beside board, motor on arm, camera, pack under a plate) are left out.",
	Fix:      "Move one of the two, or excuse the pair under touching: with the reason.",
	Run:      runBodyGap,
}

// neighbours is what body-gap knows of an assembly.
type neighbours struct {
	*Pass
	by    map[string]*layout.Component
	stack map[string]*layout.Stack // of its boards, spacers and nuts
	soft  map[string]bool          // boards in grommets
	motor map[string]*layout.Rotor
}

func runBodyGap(p *Pass) {
	n := &neighbours{
		Pass: p, by: map[string]*layout.Component{}, stack: map[string]*layout.Stack{},
		soft: map[string]bool{}, motor: map[string]*layout.Rotor{},
	}
	for _, c := range p.Asm.Components {
		n.by[c.ID] = c
	}
	for _, s := range p.Asm.Stacks {
		for _, l := range s.Levels {
			if l.Component != nil {
				n.stack[l.Component.ID] = s
				n.soft[l.Component.ID] = l.Board && l.Grommet != nil
			}
		}
	}
	for _, r := range p.Asm.Rotors {
		if r.Motor != nil {
			n.motor[r.Motor.ID] = r
		}
	}
	var bodies, screws []*layout.Body
	for _, b := range p.Asm.Bodies {
		b = p.slid(b)
		c := n.by[b.Of]
		switch {
		case c == nil || !judgeable(b):
		case c.Kind == "screws":
			screws = append(screws, b)
		default:
			bodies = append(bodies, b)
		}
	}
	keys := n.pairs(bodies, func(*layout.Component, *layout.Component) bool { return true }, func(f *layout.Finding) bool { return f.Verdict != layout.Unknown })
	// Heads and nuts are many and small: they are told of where they are in the way.
	n.pairs(append(screws, bodies...), func(a, b *layout.Component) bool { return a.Kind == "screws" || b.Kind == "screws" }, mustMend)
	unknown := n.unmeasured(bodies)
	if keys == 0 && len(p.findings) == 0 && unknown == 0 {
		p.Nothing("no two parts of %d bodies come nearer than %s to each other, but for those that touch by design or have a rule of their own", len(bodies), mm(gapTold))
	}
}

// slid returns a pack over all of its travel, and any other body as it is.
func (p *Pass) slid(b *layout.Body) *layout.Body {
	for _, k := range p.Asm.Packs {
		if k.Body == b && k.SweptBody != nil {
			return k.SweptBody
		}
	}
	return b
}

// pairs judges every pair of bodies of two components that `of` lets through and reports
// the worst of each that `tell` lets through, by the names of the two. It returns how many
// pairs of components came near enough to be judged.
func (n *neighbours) pairs(bodies []*layout.Body, of func(a, b *layout.Component) bool, tell func(*layout.Finding) bool) int {
	solids := make([]geom.Body, len(bodies))
	for i, b := range bodies {
		solids[i] = solid(b)
	}
	var keys [][2]string
	best := map[[2]string]*worstOf{}
	geom.EachCloser(solids, gapTold, func(i, j int, _ float64) bool {
		a, b := bodies[i], bodies[j]
		if !of(n.by[a.Of], n.by[b.Of]) {
			return true
		}
		f, ok := n.judge(a, b)
		if !ok {
			return true
		}
		key := [2]string{min(a.Of, b.Of), max(a.Of, b.Of)}
		if best[key] == nil {
			best[key] = &worstOf{}
			keys = append(keys, key)
		}
		best[key].add(f)
		return true
	})
	slices.SortFunc(keys, func(a, b [2]string) int { return slices.Compare(a[:], b[:]) })
	for _, k := range keys {
		if tell(&best[k].f) {
			n.Report(best[k].f)
		}
	}
	return len(keys)
}

// unmeasured tells each part once whose size or place is missing where something else
// might be in its way, however far off it is as drawn.
func (n *neighbours) unmeasured(bodies []*layout.Body) (told int) {
	var order []string
	worst := map[string]*worstOf{}
	for _, a := range bodies {
		if len(a.Blur.Missing())+len(a.Bottom.Missing())+len(a.Top.Missing()) == 0 {
			continue
		}
		for _, b := range bodies {
			f, ok := n.judge(a, b)
			if !ok || f.Verdict != layout.Unknown {
				continue
			}
			if worst[a.Of] == nil {
				worst[a.Of] = &worstOf{}
				order = append(order, a.Of)
			}
			// The part itself comes first, whichever of the two is sooner moved.
			f.Subjects = []string{a.Of, b.Of}
			f.Pos = n.by[a.Of].Pos
			worst[a.Of].add(f)
		}
	}
	slices.Sort(order)
	for _, id := range order {
		f := worst[id].f
		f.Message = fmt.Sprintf("how far %s keeps off its neighbours, such as %s, hangs on a dimension that is missing", n.call(id), n.call(f.Subjects[1]))
		n.Report(f)
	}
	return len(order)
}

// judge measures two bodies; false if they are no pair of this rule.
func (n *neighbours) judge(a, b *layout.Body) (f layout.Finding, ok bool) {
	p := n.Pass
	if a.Of == b.Of || n.byDesign(a, b) {
		return f, false
	}
	if weight(n.by[b.Of]) < weight(n.by[a.Of]) {
		a, b = b, a
	}
	all := separations(a, b)
	if m := greatest(all); math.IsInf(m.worst, 1) || n.elsewhere(a, b, &m) {
		return f, false
	}
	f, m := judged(layout.Finding{Subjects: []string{a.Of, b.Of}, Pos: n.by[a.Of].Pos}, all,
		func(over bool) layout.Form { return p.Need(n.need(a, b, over)) })
	f.Near = fmt.Sprintf("x %s, y %s, z %s", num(m.a.X), num(m.a.Y), num(m.a.Z))
	what, other := n.piece(a), n.piece(b)
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("%s and %s overlap by %s, %s apart needed", what, other, mm(-f.Measured), mm(f.Needed))
	} else {
		f.Message = fmt.Sprintf("%s and %s are %s apart, %s needed", what, other, mm(f.Measured), mm(f.Needed))
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("move %s %s, or excuse the pair under touching: if they may touch", n.call(a.Of), away(m.way, -f.Worst))
	} else {
		f.Fix = unknownFix(&f)
	}
	return f, true
}

// away says how to move the first of two things so that lack mm more are between them;
// way is the unit direction from it to the other. It goes straight up or down, or level.
func away(way r3.Vector, lack float64) string {
	level := math.Hypot(way.X, way.Y)
	if math.Abs(way.Z) <= level {
		return mm(up(lack/math.Max(level, 0.5), 0.1)) + " " + heading(r2.Point{X: -way.X, Y: -way.Y})
	}
	word := " up"
	if way.Z > 0 {
		word = " down"
	}
	return mm(up(lack/math.Abs(way.Z), 0.1)) + word
}

// judgeable tells the bodies that this rule compares: soft things give way, and what
// turns or holds is judged with what it is part of.
func judgeable(b *layout.Body) bool {
	switch b.Kind {
	case layout.StrapBody, layout.CushionBody, layout.GrommetBody, layout.HubBody, layout.LeadBody, layout.CameraBody:
		return false
	}
	return !b.Soft
}

// weight tells which of a pair a builder would sooner move: the lighter.
func weight(c *layout.Component) int {
	switch c.Kind {
	case "part", "antenna", "camera":
		return 0
	case "battery":
		return 1
	case "post", "screws":
		return weightSlow
	case "motor", "prop":
		return weightSlow + 1
	case "plate":
		return weightSlow + 2
	}
	return 2 // what is stacked
}

// need is how far apart two bodies must be, in height or sideways.
func (n *neighbours) need(a, b *layout.Body, over bool) float64 {
	soft := n.soft[a.Of] || n.soft[b.Of]
	plates := a.Kind == layout.PlateBody || b.Kind == layout.PlateBody
	switch {
	case a.Kind == b.Kind && plates:
		return 0
	case n.still(a, b):
		return 0
	case soft && !over:
		return gapAir
	case !over:
		return gapPlain
	case plates && (boarded(a) || boarded(b)):
		if a.Hot || b.Hot {
			return airHot
		}
		return airHard
	case boarded(a) && boarded(b) && a.Conducts && b.Conducts:
		if soft {
			return gapSoft
		}
		return gapHard
	case soft:
		return gapTravel
	}
	return gapPlain
}

// still reports whether a head or nut stands beside something as firm as itself, which it
// may touch.
func (n *neighbours) still(a, b *layout.Body) bool {
	firm := func(c *layout.Component) bool {
		return c.Kind == "screws" || c.Kind == "post" || c.Kind == "plate" || c.Kind == "spacer" || c.Kind == "fastener"
	}
	ca, cb := n.by[a.Of], n.by[b.Of]
	return (ca.Kind == "screws" || cb.Kind == "screws") && firm(ca) && firm(cb)
}

// boarded tells boards, what stands on them, and parts.
func boarded(b *layout.Body) bool {
	return b.Kind == layout.PcbBody || b.Kind == layout.ZoneBody || b.Kind == layout.PartBody
}

// byDesign reports whether two bodies touch by design, or are judged by a rule that knows
// more about them, wherever they are.
func (n *neighbours) byDesign(a, b *layout.Body) bool {
	ca, cb := n.by[a.Of], n.by[b.Of]
	sa, sb := n.stack[ca.ID], n.stack[cb.ID]
	switch {
	case n.fastens(ca, cb) || n.fastens(cb, ca):
		return true
	case sa != nil && sa == sb:
		return true // board-gap, standoff-against-parts
	case ca.On == cb.ID:
		return !onBoard(a, b)
	case cb.On == ca.ID:
		return !onBoard(b, a)
	case ca.Kind == "prop" || cb.Kind == "prop", ca.Kind == "camera" || cb.Kind == "camera":
		return true // prop-sweep, camera-tilt
	case ca.Kind == "board" && cb.Kind == "post", cb.Kind == "board" && ca.Kind == "post":
		return true // standoff-against-parts
	}
	for _, s := range []struct {
		stack *layout.Stack
		other string
	}{{sa, cb.ID}, {sb, ca.ID}} {
		if s.stack == nil {
			continue
		}
		on, pl := plateOf(n.Asm, s.stack.On), plateOf(n.Asm, s.other)
		if on != nil && pl != nil && on.Name == pl.Name {
			return true // hole-match, board-gap
		}
	}
	return n.withMotor(ca, cb) || n.withMotor(cb, ca)
}

// fastens reports whether a set of screws holds another component, goes through it or into
// it, or lies under a pack, which heads-under-pack judges.
func (n *neighbours) fastens(screws, c *layout.Component) bool {
	if screws.Kind != "screws" {
		return false
	}
	if c.Kind == "battery" || screws.On == c.ID {
		return true
	}
	for _, j := range n.Asm.Joints {
		if j.Owner != screws {
			continue
		}
		if j.Into.Component == c.ID || n.same(j.Into.Against, c.ID) || // screw-reach
			j.Nut != nil && j.Nut.Item == c.ID {
			return true
		}
		for _, l := range j.Layers {
			if l.Component == c.ID {
				return true
			}
		}
	}
	return false
}

// same reports whether two IDs mean one component, or copies of one arm plate.
func (n *neighbours) same(a, b string) bool {
	p, q := plateOf(n.Asm, a), plateOf(n.Asm, b)
	return a == b || p != nil && q != nil && p.Name == q.Name
}

// onBoard reports whether a part on a board is to be measured against what stands on that
// board. It may rest on it.
func onBoard(part, carrier *layout.Body) bool {
	if carrier.Kind != layout.ZoneBody || part.Kind == layout.AntennaBody {
		return false
	}
	high := math.Max(part.Bottom.Sub(carrier.Top).Nominal(), carrier.Bottom.Sub(part.Top).Nominal())
	return high < -touch || !overlapInPlan(part.Plan, carrier.Plan)
}

// withMotor reports whether a motor and another component are judged by the rules of
// arms, or share an axis.
func (n *neighbours) withMotor(m, c *layout.Component) bool {
	r := n.motor[m.ID]
	if r == nil {
		return false
	}
	if o := n.motor[c.ID]; o != nil {
		return o.Coaxial == r.Name || r.Coaxial == o.Name
	}
	return c.ID == r.Arm || c.On == r.Arm && c.Part != nil && c.Part.Kind == shapes.EscSingle
}

// elsewhere reports whether another rule judges two bodies because of how they lie to
// each other.
func (n *neighbours) elsewhere(a, b *layout.Body, m *apart) bool {
	ca, cb := n.by[a.Of], n.by[b.Of]
	if cb.Kind != "plate" && ca.Kind == "plate" {
		a, b, ca, cb = b, a, cb, ca
	}
	flat := func() bool { return overlapInPlan(a.Plan, b.Plan) }
	if r := n.motor[ca.ID]; r != nil && cb.On == r.Arm || n.motor[cb.ID] != nil && ca.On == n.motor[cb.ID].Arm {
		return flat() // motor-on-arm, under the bell
	}
	if cb.Kind != "plate" {
		return false
	}
	over := m.over || flat()
	switch {
	case ca.Kind == "plate":
		// One lies on the other, or both are cut to one level, such as arms.
		return a.Bottom.Nominal() >= b.Top.Nominal()-touch || b.Bottom.Nominal() >= a.Top.Nominal()-touch
	case ca.Kind == "post":
		return m.over // ends at the plate
	case ca.Kind == "battery":
		return over // strap-and-slot
	}
	if on := plateOf(n.Asm, ca.On); on != nil && m.over {
		pl := plateOf(n.Asm, cb.ID)
		if math.Abs(pl.Top.Sub(on.Top).Nominal()) < touch || math.Abs(pl.Bottom.Sub(on.Bottom).Nominal()) < touch {
			return true // laid across two plates of one level
		}
	}
	if s := n.stack[ca.ID]; s != nil {
		// Over a stack stack-height judges; what it lies over board-gap does.
		return m.over || over && overStack(n.Asm, s, plateOf(n.Asm, cb.ID))
	}
	return false
}
