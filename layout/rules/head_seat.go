package rules

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/shapes"
)

// underHead is how much plate in mm must stay under a head that sits in a counterbore: a
// trade figure.
const underHead = 1.2

var headSeatRule = &Rule{
	Name:     "head-seat",
	Group:    "plates",
	Question: "does every screw head, washer and nut have plate to sit on",
	Why:      "A head or nut on a hole that is too wide, or half over a slot, pulls through the plate when it is tightened or in the first crash.",
	Need:     "0.8 mm of plate all round under the head, washer or nut, also towards the next hole, cut-out or edge; a counterbore no narrower than the head that goes into it and 1.2 mm of plate under it. The same 0.8 mm of board under heads and nuts that lie straight on one; 0.4 mm of plate under the foot of a post. Usual figures of the trade; `needs:` sets the 0.8.",
	How: "For every screw whose head bears on a plate, in mm: half of head (or washer) less hole; from the hole to the next opening or edge where that lies under or beside the head; from the rim of a countersink likewise; counterbore against " +
		"head; plate left under it. Heads are taken at the greatest size of the standard or the trade. Motor screws of which the build says nothing special are judged by motor-on-arm. Nuts count across their flats, at the least that the standard allows; press nuts are judged by press-nut. Feet of posts are told only where they do not hold. One finding a set of equal screws and plate tells the least.",
	Fix: "Washers, a smaller hole, or move the slot.",
	Run: runHeadSeat,
}

func runHeadSeat(p *Pass) {
	var found perPart
	need := p.Need(headSeat)
	for _, j := range p.Asm.Joints {
		p.nutSeats(j, need, &found)
		p.onBoards(j, need, &found)
		if j.Level || j.Own || j.Kind == layout.MotorScrew && !saidOfHead(j) {
			continue
		}
		layer := seatLayer(j)
		if layer == nil {
			continue
		}
		pl := p.plate(layer.Component)
		if pl == nil {
			continue
		}
		for _, f := range p.seatOf(j, pl, layer) {
			found.add(fmt.Sprintf("%p %s", j.Fastening, pl.Name), f)
		}
	}
	p.postFeet(&found)
	if len(found.list) == 0 {
		p.Nothing("no screw's head bears on a plate")
	}
	for i := range found.list {
		p.Report(found.list[i])
	}
}

// seatLayer is the plate that a joint's head or washer bears on; nil if it bears on
// something else, or has no head.
func seatLayer(j *layout.Joint) *layout.Layer {
	if j.Head == nil && j.Thread != nil || j.Kind == layout.PropNut {
		return nil
	}
	for i := range j.Layers {
		l := &j.Layers[i]
		if l.Kind == "washer" {
			continue
		}
		if strings.HasSuffix(l.Kind, "plate") {
			return l
		}
		return nil
	}
	return nil
}

// saidOfHead reports whether a screw has another seat than the plain one of its usual
// head: a washer, another head, or a sunk one.
func saidOfHead(j *layout.Joint) bool {
	l := seatLayer(j)
	usual := j.Thread.UsualHead()
	return j.Washer || l != nil && l.Kind != "plate" || usual != nil && j.Head != nil && usual.Form != j.Head.Form
}

// headDim is the diameter of a joint's head with what the trade's heads lack of it.
func headDim(j *layout.Joint) *shapes.Dim {
	if j.Head == nil {
		return known(nil, j.Size+" screw head")
	}
	if d := headOf(screwSize(j.Size)); d != nil && math.Abs(d.Value-j.Head.D) < 0.01 {
		return d
	}
	return &shapes.Dim{
		Name: j.Size + " " + j.Head.Form + " head", Value: j.Head.D, Unit: shapes.MM, HasTol: true, Source: shapes.Catalogue, TolSource: shapes.Catalogue,
	}
}

// holeUnder is the hole of a plate that a screw at this place goes through, nil for none.
func holeUnder(pl *layout.Plate, at r2.Point) *layout.Hole {
	for i := range pl.Holes {
		if pl.Holes[i].Loop.Contains(at) {
			return &pl.Holes[i]
		}
	}
	return nil
}

// seatOf judges all that is asked of the seat of one screw.
func (p *Pass) seatOf(j *layout.Joint, pl *layout.Plate, layer *layout.Layer) []layout.Finding {
	h := holeUnder(pl, j.At)
	if h == nil {
		return nil // told by the rules about holes
	}
	head := headDim(j)
	hole := drilled(pl, h.Diameter)
	wide, what := head, "head"
	if j.Washer && j.Thread != nil && layer.Kind != "countersunk plate" {
		wide, what = washerDim(j), "washer"
	}
	z := j.Face.Nominal()
	base := layout.Finding{
		Subjects: []string{pl.ID, j.Owner.ID}, Pos: h.Pos, HasPlace: true, A: lift(j.At, z), B: lift(j.At, z), Near: p.nearJoints(j.Fastening),
	}
	who := fmt.Sprintf("the %s of %s on %s", what, j.Label(), p.plateName(pl))
	if j.Head == nil || isMissing(wide) {
		base.Verdict, base.Missing = layout.Unknown, []*shapes.Dim{wide}
		base.Message = fmt.Sprintf("whether %s has a seat hangs on its size, of which nothing is known", who)
		base.Fix = unknownFix(&base)
		return []layout.Finding{base}
	}
	var out []layout.Finding
	var rim layout.Form // radius of what is open round the axis
	switch layer.Kind {
	case "countersunk plate":
		rim = layout.Of(head).Scale(0.5)
		if h.Sink != nil && h.Sink.Angle > 0 {
			rim = layout.Of(h.Sink.Diameter).Scale(0.5)
		}
		who = fmt.Sprintf("the countersink for %s in %s", j.Label(), p.plateName(pl))
	case "counterbored plate":
		out = append(out, p.inBore(base, j, pl, layer, h, wide, what)...)
		rim = layout.Of(hole).Scale(0.5)
	default:
		rim = layout.Of(hole).Scale(0.5)
	}
	if layer.Kind != "countersunk plate" {
		f := base.Judge(layout.Of(wide).Scale(0.5).Sub(rim), p.Need(headSeat))
		f.B = lift(j.At.Add(r2.Point{X: wide.Value / 2}), z)
		f.Message = fmt.Sprintf("%s sits on %s of plate round a hole of %s, %s needed", who, mm(f.Measured), mm(h.Diameter.Value), mm(f.Needed))
		p.mendSeat(&f, j, h, wide)
		out = append(out, f)
	}
	at, far, edge := p.besideHole(pl, h, j.At)
	if layer.Kind != "countersunk plate" && far >= wide.Value/2+p.Need(headSeat).Nominal() {
		return out
	}
	f := base.Judge(layout.Fixed(far).Sub(rim).Sub(edge), p.Need(headSeat))
	f.B = lift(at, z)
	f.Message = fmt.Sprintf("%s has %s of plate between its hole and the next opening or edge, %s needed", who, mm(f.Measured), mm(f.Needed))
	if layer.Kind == "countersunk plate" {
		f.Message = fmt.Sprintf("%s leaves %s of plate to the next opening or edge, %s needed", who, mm(f.Measured), mm(f.Needed))
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("move that opening or edge %s away from the screw", mm(up(-f.Worst, 0.05)))
	} else {
		f.Fix = unknownFix(&f)
	}
	return append(out, f)
}

// besideHole returns the nearest point to c on any edge of the plate but that of its own
// hole, how far it is, and by how much the two may come nearer: by the cut or by the
// diameter of the other opening, and by the places of both.
func (p *Pass) besideHole(pl *layout.Plate, own *layout.Hole, c r2.Point) (at r2.Point, dist float64, edge layout.Form) {
	dist = math.Inf(1)
	for _, g := range pl.Solid {
		if q, d := g.Outer.Nearest(c); d < dist {
			at, dist, edge = q, d, deviation(layout.Of(pl.CutTol))
		}
	}
	for _, o := range p.openings(pl) {
		if o.hole == own {
			continue
		}
		if q, d := o.loop.Nearest(c); d < dist {
			at, dist, edge = q, d, o.edge
		}
	}
	return at, dist, edge.Add(deviation(layout.Of(placeOf(pl, own))))
}

// mendSeat says what to do about a hole that is too wide for its head: a washer if that
// helps, else a smaller hole.
func (p *Pass) mendSeat(f *layout.Finding, j *layout.Joint, h *layout.Hole, wide *shapes.Dim) {
	if !mustMend(f) {
		f.Fix = unknownFix(f)
		return
	}
	smaller := down(h.Diameter.Value+2*f.Worst, 0.05)
	var ways []string
	if t := j.Thread; t != nil && !j.Washer && t.WasherOD-wide.Value >= -2*f.Worst-touch {
		ways = append(ways, fmt.Sprintf("put washers of %s under the heads", mm(t.WasherOD)))
	}
	if smaller > screwSize(j.Size) {
		ways = append(ways, fmt.Sprintf("make the hole %s", mm(smaller)))
	}
	if len(ways) == 0 {
		ways = append(ways, fmt.Sprintf("take a head or washer of %s or more", mm(up(wide.Value-2*f.Worst, 0.1))))
	}
	f.Fix = strings.Join(ways, ", or ")
}

// inBore judges a head in its counterbore: whether it goes in, and what is left under it.
func (p *Pass) inBore(base layout.Finding, j *layout.Joint, pl *layout.Plate, layer *layout.Layer, h *layout.Hole, wide *shapes.Dim, what string) []layout.Finding {
	in := base.Judge(layout.Of(h.Sink.Diameter), layout.Of(wide))
	in.Message = fmt.Sprintf("the %s of %s, %s across, goes into the counterbore of %s in %s", what, j.Label(), mm(wide.Value), mm(h.Sink.Diameter.Value), p.plateName(pl))
	if in.Margin < 0 {
		in.Message = fmt.Sprintf("the %s of %s, %s across, does not go into the counterbore of %s in %s", what, j.Label(), mm(wide.Value), mm(h.Sink.Diameter.Value), p.plateName(pl))
	}
	if mustMend(&in) {
		in.Fix = fmt.Sprintf("make the counterbore %s wide", mm(up(h.Sink.Diameter.Value-in.Worst, 0.1)))
	}
	left := base.Judge(layer.Thickness, layout.Fixed(underHead))
	left.Message = fmt.Sprintf("%s of %s is left under the %s of %s in its counterbore, %s needed", mm(left.Measured), p.plateName(pl), what, j.Label(), mm(left.Needed))
	if mustMend(&left) {
		left.Fix = fmt.Sprintf("make the counterbore %s deep or less", mm(down(h.Sink.Depth.Value+left.Worst, 0.05)))
	} else {
		left.Fix = unknownFix(&left)
	}
	return []layout.Finding{in, left}
}
