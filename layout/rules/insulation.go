package rules

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

var insulation = &Rule{
	Name:     "insulation",
	Group:    "plates",
	Question: "does no metal lead from the pack to carbon, or lie on tracks",
	Why:      "Carbon conducts. A steel bolt that ties a rail to it heats the frame, blows tracks, melts nylon spacers and, with a second contact anywhere, shorts the pack.",
	Need:     "No chain of touching metal and carbon from a board's hole rings, or from what is at the pack's potential, to a plate that conducts. Rings are joined to ground on some boards and to nothing on others: which, must be measured or be without consequence. Metal heads and washers that lie straight on a board stay within the ring that it keeps free round its holes, wherever the screw stands in its hole.",
	How: "Plates that conduct, metal posts, spacers, nuts, washers and screws are joined where they touch by design or by their drawn places; a screw touches every plate that it goes through and the rings of boards that it clamps without rubber, spacers and nuts the rings of boards that they lie on. " +
		"Rubber, nylon, foam and air part. From each board's rings, and from each drawn zone at the pack's potential, the shortest chain to a conducting plate is looked for. What `square: {ring: isolated}` says of a board is believed. Heads and washers count at the greatest size of the standard, in mm, with the play of the screw in the board's hole. How near bare parts come without touching is for the rules on gaps.",
	Fix: "Nylon screws or rubber grommets at that board, nylon spacers and posts, or distance.",
	Run: runInsulation,
}

func runInsulation(p *Pass) {
	carbon := false
	for _, pl := range p.Asm.Plates {
		carbon = carbon || conducts(pl)
	}
	judged := p.headsOnBoards()
	if !carbon {
		if judged == 0 {
			p.Nothing("no plate conducts")
		}
		return
	}
	w := p.wiring()
	for _, s := range p.Asm.Stacks {
		for i := range s.Levels {
			if l := &s.Levels[i]; l.Board && l.Component.Part != nil && l.Component.Part.Square != nil {
				judged++
				p.ringsOf(w, s, i)
			}
		}
	}
	for _, b := range p.Asm.Bodies {
		if b.Live && b.Kind == layout.ZoneBody {
			judged++
			p.liveZone(w, b)
		}
	}
	if judged == 0 {
		p.Nothing("no board is screwed down, and no zone is said to be live")
	}
}

// conducts reports whether a plate's sheet conducts.
func conducts(pl *layout.Plate) bool {
	return pl.Material != nil && pl.Material.Material != nil && pl.Material.Material.Conducts
}

// conductor is one piece of metal or carbon.
type conductor struct {
	name   string
	id     string // component ID
	carbon bool
	at     r2.Point
	screw  *layout.Joint
	bodies []*layout.Body
	next   []int // what it touches
}

// wiring is all that conducts, with what touches what.
type wiring struct{ list []conductor }

func (w *wiring) join(i, k int) {
	if i == k || hasInt(w.list[i].next, k) {
		return
	}
	w.list[i].next = append(w.list[i].next, k)
	w.list[k].next = append(w.list[k].next, i)
}

func hasInt(list []int, v int) bool {
	for _, e := range list {
		if e == v {
			return true
		}
	}
	return false
}

// wiring lists what conducts, in the order of plates, bodies and joints, and joins what
// touches.
func (p *Pass) wiring() *wiring {
	w := &wiring{}
	for _, pl := range p.Asm.Plates {
		if conducts(pl) {
			w.list = append(w.list, conductor{name: p.call(pl.ID), id: pl.ID, carbon: true, bodies: pl.Bodies})
		}
	}
	for _, b := range p.Asm.Bodies {
		c := p.component(b.Of)
		single := b.Kind == layout.PostBody || b.Kind == layout.SpacerBody || b.Kind == layout.FastenBody && c != nil && c.Kind != "screws"
		if b.Conducts && single && len(b.Plan) > 0 {
			name := "metal " + strings.TrimPrefix(p.callBody(b), "the ")
			w.list = append(w.list, conductor{name: name, id: b.Of, at: b.Plan[0].Bound().Center(), bodies: []*layout.Body{b}})
		}
	}
	for _, j := range p.Asm.Joints {
		if j.Level || j.Own || j.Material == "nylon" || j.Kind == layout.PropNut || j.Kind == layout.PropScrew {
			continue
		}
		n := conductor{name: fmt.Sprintf("%s %s", j.Material, j.Label()), id: j.Owner.ID, at: j.At, screw: j}
		number := j.ID[strings.LastIndex(j.ID, "["):]
		for _, b := range j.Owner.Bodies {
			if b.Conducts && strings.HasSuffix(b.ID, number) {
				n.bodies = append(n.bodies, b)
			}
		}
		w.list = append(w.list, n)
	}
	for i := range w.list {
		for k := i + 1; k < len(w.list); k++ {
			if touches(&w.list[i], &w.list[k]) {
				w.join(i, k)
			}
		}
	}
	return w
}

// touches reports whether two conductors touch: by what a screw goes through or into, or
// by their places.
func touches(a, b *conductor) bool {
	if a.screw == nil && b.screw != nil {
		a, b = b, a
	}
	if j := a.screw; j != nil && b.screw == nil {
		passes := j.Into.Component != "" && j.Into.Component == b.id
		for i := range j.Layers {
			passes = passes || j.Layers[i].Component == b.id
		}
		if b.carbon && passes {
			return true
		}
		// A post or spacer that the screw goes through or into stands on its axis.
		axis := len(b.bodies) > 0 && !b.carbon && b.at.Sub(a.at).Norm() < 0.5
		if axis && (passes || b.bodies[0].Kind == layout.PostBody && meetsPost(j, b.bodies[0])) {
			return true
		}
	}
	for _, x := range a.bodies {
		for _, y := range b.bodies {
			if bodiesTouch(x, y) {
				return true
			}
		}
	}
	return false
}

// meetsPost reports whether a screw ends in a post or begins at it: its last clamped face is
// the post's end.
func meetsPost(j *layout.Joint, post *layout.Body) bool {
	if j.Kind != layout.PostScrew && j.Kind != layout.PostStud {
		return false
	}
	way := 1.0
	if !j.Up {
		way = -1
	}
	z := j.Seat.Add(j.Grip.Scale(way)).Nominal()
	return z > post.Bottom.Nominal()-1e-3 && z < post.Top.Nominal()+1e-3
}

// bodiesTouch reports whether two bodies touch or overlap as drawn.
func bodiesTouch(a, b *layout.Body) bool {
	if a.Bottom.Nominal() > b.Top.Nominal()+touch || b.Bottom.Nominal() > a.Top.Nominal()+touch {
		return false
	}
	if !boundsOf(a.Plan).Expand(touch).Intersects(boundsOf(b.Plan)) {
		return false
	}
	for _, x := range a.Plan {
		for _, y := range b.Plan {
			if geom.IsCloser(x, y, touch) {
				return true
			}
		}
	}
	return false
}

// toCarbon returns the shortest chain from one of the starting conductors to a plate that
// conducts, by their numbers; nil if there is none.
func (w *wiring) toCarbon(starts []int) []int {
	from := make([]int, len(w.list))
	for i := range from {
		from[i] = -2
	}
	var queue []int
	for _, s := range starts {
		if from[s] == -2 {
			from[s] = -1
			queue = append(queue, s)
		}
	}
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		if w.list[i].carbon {
			var chain []int
			for ; i >= 0; i = from[i] {
				chain = append([]int{i}, chain...)
			}
			return chain
		}
		for _, k := range w.list[i].next {
			if from[k] == -2 {
				from[k] = i
				queue = append(queue, k)
			}
		}
	}
	return nil
}

// told writes a chain as a sentence does.
func (w *wiring) told(first string, chain []int) string {
	words := []string{first}
	for _, i := range chain {
		words = append(words, w.list[i].name)
	}
	return strings.Join(words, " > ")
}

// ringsOf judges the hole rings of one board of a stack.
func (p *Pass) ringsOf(w *wiring, s *layout.Stack, level int) {
	l := &s.Levels[level]
	c := l.Component
	at := lift(c.Pose.Shift, l.FaceUp.Nominal())
	f := layout.Finding{Subjects: []string{c.ID}, Pos: c.Pos, HasPlace: true, A: at, B: at, Near: "stack " + spoken(s.Name)}
	name := p.call(c.ID)
	var starts []int
	if l.Grommet == nil {
		for i := range w.list {
			if onRings(&w.list[i], s, level) {
				starts = append(starts, i)
			}
		}
	}
	chain := w.toCarbon(starts)
	ring := c.Part.Square.Ring
	switch {
	case chain == nil && l.Grommet != nil:
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("rubber keeps the hole rings of %s off all metal", name)
	case chain == nil:
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("no metal leads from the hole rings of %s to carbon", name)
	case ring == "isolated":
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("the hole rings of %s are joined to nothing, as the build says", name)
	default:
		f.Message = w.told("hole rings of "+name, chain)
		f.Subjects = append(f.Subjects, w.list[chain[len(chain)-1]].id)
		f.Fix = p.breakChain(w, s, chain, name)
		if ring == "" {
			f.Verdict = layout.Unknown
			f.Missing = []*shapes.Dim{known(nil, "what the hole rings of "+name+" are joined to")}
			f.Message = "whether this ties the pack to carbon hangs on the board: " + f.Message
			f.Fix = "measure with a meter from a ring to both pack pads and write `square: {ring: isolated}` if there is no contact, else " + f.Fix
			break
		}
		f.Verdict = layout.Fail
		rail := map[string]string{"ground": "the pack's negative side", "pack": "the pack's positive side"}[ring]
		f.Message = fmt.Sprintf("%s is tied to carbon: %s", rail, f.Message)
	}
	p.Report(f)
}

// breakChain says where a chain from a board's rings is broken most easily.
func (p *Pass) breakChain(w *wiring, s *layout.Stack, chain []int, board string) string {
	if first := &w.list[chain[0]]; first.screw != nil {
		return fmt.Sprintf("take nylon screws in stack %s (`bolts: {material: nylon}`), or rubber grommets in %s", spoken(s.Name), board)
	}
	return fmt.Sprintf("take nylon in place of %s, or rubber grommets in %s", w.list[chain[0]].name, board)
}

// onRings reports whether a conductor touches the hole rings of a hard board: a screw that
// clamps it, or a spacer, nut or washer that lies against it.
func onRings(n *conductor, s *layout.Stack, level int) bool {
	l := &s.Levels[level]
	if n.screw != nil {
		for i := range n.screw.Layers {
			if n.screw.Layers[i].Component == l.Component.ID {
				return true
			}
		}
		return false
	}
	for _, k := range []int{level - 1, level + 1} {
		if k >= 0 && k < len(s.Levels) && s.Levels[k].Component.ID == n.id {
			return true
		}
	}
	return false
}

// liveZone judges what touches a zone at the pack's potential.
func (p *Pass) liveZone(w *wiring, b *layout.Body) {
	var starts []int
	for i := range w.list {
		for _, x := range w.list[i].bodies {
			if bodiesTouch(b, x) {
				starts = append(starts, i)
				break
			}
		}
	}
	at := lift(boundsOf(b.Plan).Center(), b.Top.Nominal())
	f := layout.Finding{Subjects: []string{b.Of}, Pos: b.Pos, HasPlace: true, A: at, B: at, Near: p.call(b.Of), Verdict: layout.OK}
	chain := w.toCarbon(starts)
	if chain == nil {
		f.Message = fmt.Sprintf("nothing joins %s to carbon", p.piece(b))
		p.Report(f)
		return
	}
	f.Verdict = layout.Fail
	first := &w.list[chain[0]]
	f.Subjects = append(f.Subjects, first.id)
	f.Message = "the pack is tied to carbon: " + w.told(strings.TrimPrefix(p.piece(b), "the "), chain)
	f.Fix = fmt.Sprintf("move %s away from %s, or take nylon in its place", first.name, p.piece(b))
	if first.carbon {
		f.Fix = fmt.Sprintf("raise %s off %s", p.piece(b), first.name)
	}
	p.Report(f)
}
