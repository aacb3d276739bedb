package rules

import (
	"fmt"

	"dryfit/layout"
	"dryfit/shapes"
)

// headsOnBoards judges metal heads and washers that lie straight on a board against the
// ring that the board keeps free round its holes: beyond it lie tracks and pads, and the
// board's lacquer is no insulation. Nuts, washers and spacers that are items of a stack are
// judged by standoff-against-parts. It returns on how many kinds of joints it had to say.
func (p *Pass) headsOnBoards() int {
	var found perPart
	for _, j := range p.Asm.Joints {
		if j.Head == nil || j.Own || j.Level || j.Material == "nylon" || len(j.Layers) == 0 {
			continue
		}
		first := 0
		for first < len(j.Layers)-1 && j.Layers[first].Kind == "washer" {
			first++
		}
		c := p.component(j.Layers[first].Component)
		if j.Layers[first].Kind != "board" || c == nil || c.Part == nil || c.Part.Square == nil {
			continue
		}
		wide, what := headDim(j), "head"
		if first > 0 {
			wide, what = washerDim(j), "washer"
		}
		found.add(fmt.Sprintf("%p %s", j.Fastening, c.ID), p.overRing(j, c, wide, what))
	}
	for i := range found.list {
		p.Report(found.list[i])
	}
	return len(found.list)
}

// overRing judges one metal head or washer on a board. The screw stands anywhere in its
// hole, so that the head may reach further by its play.
func (p *Pass) overRing(j *layout.Joint, c *layout.Component, wide *shapes.Dim, what string) layout.Finding {
	sq := c.Part.Square
	hole, clear := known(sq.Hole, c.Label+" hole"), known(sq.Clear, c.Label+" free ring round its holes")
	play := &shapes.Dim{
		Name: "play of " + j.Size + " in the holes of " + c.Label, Plus: max(0, hole.Value+hole.Plus-screwSize(j.Size)) / 2, Unit: shapes.MM,
		HasTol: true, Missing: hole.Missing,
	}
	z := j.Face.Nominal()
	f := layout.Finding{
		Subjects: []string{c.ID, j.Owner.ID}, Pos: c.Pos, HasPlace: true, A: lift(j.At, z), B: lift(j.At, z), Near: p.nearJoints(j.Fastening),
	}
	f = f.Judge(layout.Of(clear).Scale(0.5).Sub(layout.Of(wide).Scale(0.5)).Sub(layout.Of(play)), layout.Form{})
	f.B.X += wide.Value / 2
	who := fmt.Sprintf("the metal %s of %s", what, j.Label())
	on := p.call(c.ID)
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether %s stays within the free ring round the holes of %s hangs on a dimension that is missing", who, on)
		f.Fix = unknownFix(&f)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s, %s across, reaches %s beyond the %s that %s keeps free round its holes, onto tracks and parts", who, mm(wide.Value), mm(-f.Measured), mm(clear.Value), on)
	default:
		f.Message = fmt.Sprintf("%s, %s across, stays %s within the %s that %s keeps free round its holes", who, mm(wide.Value), mm(f.Measured), mm(clear.Value), on)
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("take nylon screws or washers of at most %s there, or rubber grommets in %s", mm(down(wide.Value+2*f.Worst, 0.1)), on)
	}
	return f
}
