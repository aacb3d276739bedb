package layout

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// boltAir is what must stay free between the end of a bolt and whatever lies beyond it.
const boltAir = 1.0

// stackBolts finds the bolts of a stack.
func (r *resolver) stackBolts(st *Stack) {
	plan := r.stackNamed(st.Name)
	if plan == nil || len(st.Levels) == 0 {
		return
	}
	spec := plan.spec
	w := &boltWalk{r: r, st: st, spec: spec, out: 1, levels: st.Levels}
	if st.Down {
		w.out = -1
	}
	// Nuts at the open end are what the bolts are screwed into.
	if n := len(w.levels); w.levels[n-1].Item.Kind == ItemNut {
		w.nut, w.levels = &w.levels[n-1], w.levels[:n-1]
	}
	kind := spec.BoltKind
	if kind == "" {
		kind = "through"
		if w.nut == nil && len(w.threaded()) > 0 {
			kind = "short"
		}
	}
	if kind == "short" && len(w.threaded()) == 0 {
		r.note("stack %s: no spacer has a thread of its own, so its bolts go right through", st.Name)
		kind = "through"
	}
	if kind == "short" {
		w.short()
		return
	}
	w.through()
}

// boltWalk makes the bolts of one stack.
type boltWalk struct {
	r      *resolver
	st     *Stack
	spec   *StackSpec
	out    float64 // +1 when the stack stands
	levels []Level // without the nuts at the open end
	nut    *Level  // those nuts, nil for none
}

// threaded lists the levels of spacers that screws go into.
func (w *boltWalk) threaded() []int {
	var out []int
	for i := range w.levels {
		if it := w.levels[i].Item; it.Kind == ItemSpacer && it.Part != nil && it.Part.Standoff != nil {
			out = append(out, i)
		}
	}
	return out
}

// near and far are a level's faces towards and away from the plate.
func (w *boltWalk) near(l *Level) Form {
	if w.out < 0 {
		return l.To
	}
	return l.From
}

func (w *boltWalk) far(l *Level) Form {
	if w.out < 0 {
		return l.From
	}
	return l.To
}

// foot is the face of the plate that the stack stands on.
func (w *boltWalk) foot() Form {
	for _, p := range w.r.asm.Plates {
		if p.ID == w.st.On {
			if w.out < 0 {
				return p.Bottom
			}
			return p.Top
		}
	}
	return w.near(&w.st.Levels[0])
}

// layersOf lists levels from a to b (exclusive) as layers, with the gaps between them and
// after `from`.
func (w *boltWalk) layersOf(a, b int, from Form) []Layer {
	var out []Layer
	for i := a; i < b; i++ {
		l := &w.levels[i]
		if gap := w.near(l).Sub(from).Scale(w.out); gap.Nominal() > settle {
			out = append(out, Layer{Name: "gap", Kind: "gap", Thickness: gap})
		}
		from = w.far(l)
		it := l.Item
		kind := it.Kind.word()
		switch {
		case l.Grommet != nil:
			kind = "grommet"
		case it.Kind == ItemNut, it.Kind == ItemWasher:
			kind = "fastener"
		}
		out = append(out, Layer{Name: l.Component.Label, Kind: kind, Thickness: l.To.Sub(l.From), Component: l.Component.ID, Conducts: metal(it.Material)})
	}
	return out
}

// bolt starts a joint of the stack.
func (w *boltWalk) bolt(kind JointKind) *Fastening {
	f := w.r.screwOf(kind, w.st.Screw, w.spec.Bolts, "stack", w.st.Pos)
	f.set = w.st.Name
	return f
}

// through makes bolts through plate and stack with a nut at the end, or with the head
// there and the nut behind the plate.
func (w *boltWalk) through() {
	r := w.r
	fromPlate := true
	switch w.spec.BoltFrom {
	case "above":
		fromPlate = w.out < 0
	case "below":
		fromPlate = w.out > 0
	}
	owner := r.owner("stacks."+w.st.Name+".bolts", w.st.Name+" bolts", w.st.Pos, w.st.On, w.st.Float)
	for _, s := range w.st.Screws {
		f := w.bolt(StackBolt)
		plates := reversed(r.column(s.At, w.foot(), -w.out, f.headSize()))
		rest := w.layersOf(0, len(w.levels), w.foot())
		top := w.far(&w.levels[len(w.levels)-1])
		var face, seat Form
		if fromPlate {
			if len(plates) == 0 {
				face = w.foot()
				seat = face
			} else {
				face, seat = r.clamp(f, plates, w.out < 0)
			}
			f.Layers = append(f.Layers, rest...)
		} else {
			face, seat = top, top
			if f.Washer && f.Thread != nil {
				wd := assumed(f.Size+" washer thickness", f.Thread.WasherT, washerTol)
				f.Layers = append(f.Layers, Layer{Name: "washer", Kind: "washer", Thickness: Of(wd), Conducts: metal(f.Material)})
				seat = seat.Plus(wd, w.out)
			}
			for i := len(rest) - 1; i >= 0; i-- {
				f.Layers = append(f.Layers, rest[i])
			}
			probe := w.bolt(StackBolt)
			r.clamp(probe, plates, w.out < 0)
			for i := len(probe.Layers) - 1; i >= 0; i-- {
				if probe.Layers[i].Kind != "washer" {
					f.Layers = append(f.Layers, probe.Layers[i])
				}
			}
		}
		f.sum()
		up := fromPlate == (w.out > 0)
		w.endIn(f, s.At, up, fromPlate, plates)
		r.heads(r.join(owner, r.groupShared(f), s.At, face, seat, up))
	}
	r.weigh(owner)
}

// endIn says what a through bolt's end goes into.
func (w *boltWalk) endIn(f *Fastening, at r2.Point, up, fromPlate bool, plates []passed) {
	var nut *NutUse
	var least Form
	if fromPlate && w.nut != nil {
		it := w.nut.Item
		nut = &NutUse{Kind: "plain", Material: it.Material, Item: w.nut.Component.ID, Height: w.nut.To.Sub(w.nut.From)}
		least = nut.Height
		turns := 1.0
		if it.Insert {
			nut.Kind, turns = "insert", 2
		}
		if f.Thread != nil {
			least = least.Shift(turns * f.Thread.Pitch)
		}
	} else {
		nut, least = nutFor(f, "insert", "steel")
	}
	f.Nut = nut
	f.Into = Engagement{What: "a nut", Material: nut.Material, Least: least, Aim: least.Nominal(), LeastWhy: "the nut and a turn of thread"}
	if nut.Kind == "insert" {
		f.Into.LeastWhy = "the nut and two turns of thread past its insert"
	}
	bear := w.far(&w.levels[len(w.levels)-1])
	if !fromPlate {
		bear = w.foot()
		if n := len(plates); n > 0 {
			bear = plates[0].plate.Bottom
			if w.out < 0 {
				bear = plates[0].plate.Top
			}
		}
	}
	if b := w.r.beyond(at, bear, up, majorOf(f.Size), w.st); b != nil {
		f.Into.HasMost, f.Into.Against = true, b.Of
		f.Into.Most = b.Bottom.Sub(bear).Shift(-boltAir)
		if !up {
			f.Into.Most = bear.Sub(b.Top).Shift(-boltAir)
		}
		f.Into.MostWhy = "what lies beyond, less 1.0 of air"
	}
}

// beyond returns the nearest body past a face in the way of a screw's end, nil for none.
// What belongs to the stack itself is not in its way.
func (r *resolver) beyond(at r2.Point, face Form, up bool, d float64, st *Stack) *Body {
	own := map[string]bool{}
	if st != nil {
		for i := range st.Levels {
			own[st.Levels[i].Component.ID] = true
		}
	}
	spot := geom.RegionOf(geom.Circle(at, d/2))
	z := face.Nominal()
	var best *Body
	least := math.Inf(1)
	for _, b := range r.asm.Bodies {
		if own[b.Of] || b.Soft || b.Kind == FastenBody || b.Kind == CushionBody {
			continue
		}
		gap := b.Bottom.Nominal() - z
		if !up {
			gap = z - b.Top.Nominal()
		}
		if gap < -settle || gap >= least-settle || !near(b.Plan, spot, 0.5) {
			continue
		}
		best, least = b, gap
	}
	return best
}

// near reports whether one of the regions lies within mm of another.
func near(list []geom.Region, other geom.Region, mm float64) bool {
	box := other.Bound()
	for _, g := range list {
		if g.Bound().Distance(box) <= mm && geom.Separation(g, other) <= mm {
			return true
		}
	}
	return false
}

// groupShared is [resolver.group] for bolts of one stack, of which one may have less room
// beyond it than the others: they are all as long as that one allows.
func (r *resolver) groupShared(f *Fastening) *Fastening {
	for _, g := range r.asm.Fastenings {
		if g.Kind != f.Kind || g.Pos != f.Pos {
			continue
		}
		same := *f
		same.Into.HasMost, same.Into.Most = g.Into.HasMost, g.Into.Most
		if !g.alike(&same) {
			continue
		}
		if f.Into.HasMost && (!g.Into.HasMost || f.Into.Most.Nominal() < g.Into.Most.Nominal()-settle) {
			g.Into.HasMost, g.Into.Most, g.Into.MostWhy, g.Into.Against = true, f.Into.Most, f.Into.MostWhy, f.Into.Against
			given := g.Given
			g.Length, g.Found, g.Given = nil, false, false
			g.choose()
			g.Given = given
		}
		return g
	}
	f.choose()
	r.asm.Fastenings = append(r.asm.Fastenings, f)
	return f
}

// short makes screws from both ends into the spacers, and studs between spacers.
func (w *boltWalk) short() {
	r := w.r
	at := w.threaded()
	first, last := &w.levels[at[0]], &w.levels[at[len(at)-1]]
	part := func(l *Level) *shapes.Part { return l.Component.Part }
	length := func(l *Level) *shapes.Dim { return w.lengthOf(l) }
	tip := last.Item

	lowOwner := r.owner("stacks."+w.st.Name+".plate-screws", w.st.Name+" screws in the plate", w.st.Pos, w.st.On, w.st.Float)
	var midOwner, topOwner *Component
	for _, s := range w.st.Screws {
		low := w.bolt(SpacerScrew)
		plates := reversed(r.column(s.At, w.foot(), -w.out, low.headSize()))
		face, seat := w.foot(), w.foot()
		if len(plates) > 0 {
			face, seat = r.clamp(low, plates, w.out < 0)
		}
		low.Layers = append(low.Layers, w.layersOf(0, at[0], w.foot())...)
		low.sum()
		low.Into = spacerThread(part(first), length(first), first)

		// The open end: a screw, or the spacer's stud and a nut.
		top := w.bolt(SpacerScrew)
		over := w.layersOf(at[len(at)-1]+1, len(w.levels), w.far(last))
		open := w.far(last)
		if n := len(w.levels); n > 0 {
			open = w.far(&w.levels[n-1])
		}
		stud := part(last).Standoff.Stud
		none := len(over) == 0 && w.nut == nil
		var topFace, topSeat Form
		topUp := w.out < 0
		switch {
		case none:
			top = nil
		case w.nut != nil && stud != nil:
			top.Kind, top.Head, top.Washer, top.Own, top.Length, top.spec = StackNut, nil, false, true, stud, nil
			top.Layers = over
			top.sum()
			it := w.nut.Item
			top.Nut = &NutUse{Kind: "plain", Material: it.Material, Item: w.nut.Component.ID, Height: w.nut.To.Sub(w.nut.From)}
			if it.Insert {
				top.Nut.Kind = "insert"
			}
			least := top.Nut.Height
			top.Into = Engagement{What: "a nut", Material: it.Material, Least: least, Aim: least.Nominal(), LeastWhy: "the whole nut"}
			topFace, topSeat, topUp = w.far(last), w.far(last), w.out > 0
		default:
			if w.nut != nil {
				r.note("stack %s: %s has no stud for the nuts at its end, so screws are taken there", w.st.Name, tip.Name)
			}
			topFace, topSeat = open, open
			if top.Washer && top.Thread != nil {
				wd := assumed(top.Size+" washer thickness", top.Thread.WasherT, washerTol)
				top.Layers = append(top.Layers, Layer{Name: "washer", Kind: "washer", Thickness: Of(wd), Conducts: metal(top.Material)})
				topSeat = topSeat.Plus(wd, w.out)
			}
			if top.Head != nil && top.Head.Form == "countersunk" {
				top.Head = top.Thread.UsualHead() // flat heads have nothing to sink into on a board
			}
			for i := len(over) - 1; i >= 0; i-- {
				top.Layers = append(top.Layers, over[i])
			}
			top.sum()
			top.Into = spacerThread(part(last), length(last), last)
		}
		low, top = w.settleEnds(low, top, first == last, first)
		r.heads(r.join(lowOwner, low, s.At, face, seat, w.out > 0))
		if top != nil {
			if topOwner == nil {
				topOwner = r.owner("stacks."+w.st.Name+".top-screws", w.st.Name+" screws at the open end", w.st.Pos, w.levels[len(w.levels)-1].Component.ID, w.st.Float)
			}
			r.heads(r.join(topOwner, top, s.At, topFace, topSeat, topUp))
		}
		for k := 0; k+1 < len(at); k++ {
			mid := w.stud(at[k], at[k+1])
			if midOwner == nil {
				midOwner = r.owner("stacks."+w.st.Name+".studs", w.st.Name+" studs", w.st.Pos, w.levels[at[k]].Component.ID, w.st.Float)
			}
			r.join(midOwner, r.group(mid), s.At, w.far(&w.levels[at[k]]), w.far(&w.levels[at[k]]), w.out > 0)
		}
	}
	for _, c := range []*Component{lowOwner, midOwner, topOwner} {
		r.weigh(c)
	}
}

// lengthOf is the length of a spacer as the stack has it.
func (w *boltWalk) lengthOf(l *Level) *shapes.Dim {
	f := l.To.Sub(l.From)
	if len(f.Terms) == 1 {
		return f.Terms[0].Dim
	}
	return missing(l.Component.Label + " length")
}

func spacerThread(part *shapes.Part, length *shapes.Dim, l *Level) Engagement {
	e := postThread(part, length)
	e.What, e.Component = "the spacer", l.Component.ID
	return e
}

// settleEnds finds or chooses the screws at both ends; those in one spacer together.
func (w *boltWalk) settleEnds(low, top *Fastening, one bool, sp *Level) (*Fastening, *Fastening) {
	if !one || top == nil || top.Kind != SpacerScrew {
		low = w.r.group(low)
		if top != nil {
			top = w.r.group(top)
		}
		return low, top
	}
	for _, g := range w.r.asm.Fastenings {
		if g.Twin != nil && g.alike(low) && g.Twin.alike(top) {
			return g, g.Twin
		}
	}
	chooseTwins(low, top, sp.To.Sub(sp.From))
	w.r.asm.Fastenings = append(w.r.asm.Fastenings, low, top)
	return low, top
}

// stud joins two spacers through what lies between them: the lower one's own stud, else a
// headless screw.
func (w *boltWalk) stud(a, b int) *Fastening {
	f := w.bolt(StackStud)
	f.Head, f.Washer, f.spec = nil, false, nil
	lo, hi := &w.levels[a], &w.levels[b]
	f.Layers = w.layersOf(a+1, b, w.far(lo))
	if gap := w.near(hi).Sub(w.far(&w.levels[b-1])).Scale(w.out); b-1 > a && gap.Nominal() > settle {
		f.Layers = append(f.Layers, Layer{Name: "gap", Kind: "gap", Thickness: gap})
	}
	f.sum()
	into := spacerThread(hi.Component.Part, w.lengthOf(hi), hi)
	if s := lo.Component.Part.Standoff.Stud; s != nil {
		f.Own, f.Length, f.Into = true, s, into
		return f
	}
	under := spacerThread(lo.Component.Part, w.lengthOf(lo), lo)
	f.Into = Engagement{
		What: fmt.Sprintf("%s and %s", lo.Component.Label, hi.Component.Label), Component: hi.Component.ID, Material: into.Material,
		Least: into.Least.Add(under.Least), Most: into.Most.Add(under.Most), HasMost: true, Aim: into.Aim + under.Aim,
		LeastWhy: "what both threads need", MostWhy: "what both threads take",
	}
	return f
}
