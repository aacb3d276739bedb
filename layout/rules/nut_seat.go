package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

// footSeat is how much plate in mm must lie under the foot of a post all round its hole:
// half of what a head needs, since the screw pulls the plate against it and not through.
const footSeat = 0.4

// bearing is one thing that presses on a plate round a hole: a nut, or the foot of a post.
type bearing struct {
	what   string // "the nut of M3x16 button"
	wide   *shapes.Dim
	need   layout.Form
	top    bool // it lies on the plate's upper face
	washer float64
}

// acrossFlats is how wide a nut bears: across its flats, which ISO 4032 lets be 0.18 less
// up to M3 and 0.22 less above.
func acrossFlats(j *layout.Joint) *shapes.Dim {
	if j.Thread == nil || j.Thread.NutAF <= 0 {
		return known(nil, j.Size+" nut across flats")
	}
	less := 0.18
	if j.Thread.Major > 3 {
		less = 0.22
	}
	return &shapes.Dim{
		Name: j.Size + " nut across flats", Value: j.Thread.NutAF, Minus: less, Unit: shapes.MM, HasTol: true, Range: true,
		Source: shapes.Catalogue, TolSource: shapes.Catalogue, Conf: "S", Kind: "standard",
	}
}

// nutSeats judges the nuts of a joint: those that bear on a plate like heads there, those
// that bear on a board held hard like heads on it. Press nuts, whose flange lies round
// their own hole, and nuts of props are judged by rules of their own.
func (p *Pass) nutSeats(j *layout.Joint, need layout.Form, found *perPart) {
	n := j.Nut
	if n == nil || n.Kind == "press" || j.Kind == layout.PropNut || len(j.Layers) == 0 {
		return
	}
	last := &j.Layers[len(j.Layers)-1]
	if pl := p.plate(last.Component); pl != nil {
		b := bearing{what: "the nut of " + j.Label(), wide: acrossFlats(j), need: need, top: j.Up}
		if j.Thread != nil {
			b.washer = j.Thread.WasherOD
		}
		for _, f := range p.bearsOn(j, pl, b) {
			found.add(fmt.Sprintf("nut %p %s", j.Fastening, pl.Name), f)
		}
	}
}

// onBoards judges what a joint clamps a board with, where it lies straight on the board:
// the head at one end, the nut at the other.
func (p *Pass) onBoards(j *layout.Joint, need layout.Form, found *perPart) {
	if len(j.Layers) == 0 {
		return
	}
	first := 0
	for first < len(j.Layers)-1 && j.Layers[first].Kind == "washer" {
		first++
	}
	last := len(j.Layers) - 1
	if j.Layers[first].Kind == "board" && j.Head != nil && !j.Own {
		wide, what := headDim(j), "the head of "+j.Label()
		if first > 0 && j.Thread != nil {
			wide, what = washerDim(j), "the washer of "+j.Label()
		}
		p.onBoard(j, j.Layers[first].Component, what, wide, need, found)
	}
	if j.Layers[last].Kind == "board" && j.Nut != nil {
		p.onBoard(j, j.Layers[last].Component, "the nut of "+j.Label(), acrossFlats(j), need, found)
	}
}

// onBoard judges one head, washer or nut on a board.
func (p *Pass) onBoard(j *layout.Joint, id, what string, wide *shapes.Dim, need layout.Form, found *perPart) {
	c := p.component(id)
	if c == nil || c.Part == nil || c.Part.Square == nil {
		return
	}
	hole := known(c.Part.Square.Hole, c.Label+" hole")
	z := c.Base.Nominal()
	f := layout.Finding{
		Subjects: []string{c.ID, j.Owner.ID}, Pos: c.Pos, HasPlace: true, A: lift(j.At, z), B: lift(j.At, z), Near: p.nearJoints(j.Fastening),
	}
	f = f.Judge(layout.Of(wide).Scale(0.5).Sub(layout.Of(hole).Scale(0.5)), need)
	f.B.X += wide.Value / 2
	who := fmt.Sprintf("%s on %s", what, p.call(id))
	f.Message = fmt.Sprintf("%s sits on %s of board round a hole of %s, %s needed", who, mm(f.Measured), mm(hole.Value), mm(f.Needed))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s has a seat hangs on a dimension that is missing", who)
		f.Fix = unknownFix(&f)
	case mustMend(&f):
		f.Fix = "put grommets or washers between, which holes as wide as that are made for"
	}
	found.add(fmt.Sprintf("board %s %p %s", what, j.Fastening, id), f)
}

// postFeet judges the feet of posts where the plate under them is open: by a wide hole, or
// by another opening or the edge beside it. Only what does not hold is told.
func (p *Pass) postFeet(found *perPart) {
	for _, post := range p.Asm.Posts {
		if post.Part == nil || post.Part.Standoff == nil || post.Body == nil {
			continue
		}
		for _, end := range []struct {
			plate string
			top   bool
		}{{post.Lower, true}, {post.Upper, false}} {
			pl := p.plate(end.plate)
			j := p.postJoint(post, end.plate)
			if pl == nil || j == nil {
				continue
			}
			b := bearing{
				what: "the foot of " + p.call(post.ID), wide: known(post.Part.Standoff.OD, post.Part.Name+" width"), need: layout.Fixed(footSeat), top: end.top,
			}
			for _, f := range p.bearsOn(j, pl, b) {
				if mustMend(&f) {
					found.add(fmt.Sprintf("foot %s %s", post.Set, pl.Name), f)
				}
			}
		}
	}
}

// postJoint is the joint that holds a post on a plate, nil for none.
func (p *Pass) postJoint(post *layout.Post, plate string) *layout.Joint {
	for _, j := range p.Asm.Joints {
		if j.At.Sub(post.At).Norm() > touch || j.Level {
			continue
		}
		for i := range j.Layers {
			if j.Layers[i].Component == plate {
				return j
			}
		}
	}
	return nil
}

// bearsOn judges what presses on a plate round the hole of a joint: how much of it lies on
// plate there, and, where the next opening or edge lies under it or near, how much is left
// between.
func (p *Pass) bearsOn(j *layout.Joint, pl *layout.Plate, b bearing) []layout.Finding {
	h := holeUnder(pl, j.At)
	if h == nil {
		return nil // told by the rules about holes
	}
	z := pl.Bottom.Nominal()
	if b.top {
		z = pl.Top.Nominal()
	}
	base := layout.Finding{
		Subjects: []string{pl.ID, j.Owner.ID}, Pos: h.Pos, HasPlace: true, A: lift(j.At, z), B: lift(j.At, z), Near: p.nearJoints(j.Fastening),
	}
	who := fmt.Sprintf("%s on %s", b.what, p.plateName(pl))
	rim, wide := drilled(pl, h.Diameter), b.wide
	if s := h.Sink; s != nil && s.HasFace && (s.Face == shapes.Top) == b.top && !isMissing(s.Diameter) {
		if s.Angle <= 0 && s.Diameter.Value >= wide.Value/math.Cos(math.Pi/6) {
			return nil // it goes in, corners and all
		}
		rim = s.Diameter
	}
	f := base.Judge(layout.Of(wide).Scale(0.5).Sub(layout.Of(rim).Scale(0.5)), b.need)
	f.B.X += wide.Value / 2
	f.Message = fmt.Sprintf("%s sits on %s of plate round a hole of %s, %s needed", who, mm(f.Measured), mm(rim.Value), mm(f.Needed))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s has a seat hangs on its size, of which nothing is known", who)
		f.Fix = unknownFix(&f)
		return []layout.Finding{f}
	case mustMend(&f):
		f.Fix = fmt.Sprintf("make the hole %s", mm(down(rim.Value+2*f.Worst, 0.05)))
		if smaller := down(rim.Value+2*f.Worst, 0.05); smaller <= screwSize(j.Size) {
			f.Fix = fmt.Sprintf("take one of %s or more across", mm(up(wide.Value-2*f.Worst, 0.1)))
		}
		if b.washer-wide.Value >= -2*f.Worst-touch {
			f.Fix = fmt.Sprintf("put washers of %s under the nuts, or %s", mm(b.washer), f.Fix)
		}
	}
	out := []layout.Finding{f}
	at, far, edge := p.besideHole(pl, h, j.At)
	if far >= wide.Value/2+b.need.Nominal() {
		return out
	}
	f = base.Judge(layout.Fixed(far).Sub(layout.Of(rim).Scale(0.5)).Sub(edge), b.need)
	f.B = lift(at, z)
	f.Message = fmt.Sprintf("%s has %s of plate between its hole and the next opening or edge, %s needed", who, mm(f.Measured), mm(f.Needed))
	f.Fix = unknownFix(&f)
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("move that opening or edge %s away from the screw", mm(up(-f.Worst, 0.05)))
	}
	return append(out, f)
}

// washerDim is the diameter of a joint's washer.
func washerDim(j *layout.Joint) *shapes.Dim {
	if j.Thread == nil || j.Thread.WasherOD <= 0 {
		return known(nil, j.Size+" washer")
	}
	return &shapes.Dim{Name: j.Size + " washer", Value: j.Thread.WasherOD, Unit: shapes.MM, HasTol: true, Source: shapes.Catalogue, TolSource: shapes.Catalogue}
}
