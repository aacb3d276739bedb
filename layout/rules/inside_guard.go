package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// lensBehind is how far the lens must stay behind the line of the foremost plates, mm:
// it is the first thing to hit otherwise.
const lensBehind = 1.5

var insideGuard = &Rule{
	Name:     "inside-guard",
	Group:    "parts",
	Question: "does the lens stay behind the line of the foremost plates",
	Why:      "A lens that leads the frame is the first thing to hit: the first gate breaks it.",
	Need:     "1.5 mm behind the straight line between the foremost points of the plates under and over the lens, over the whole tilt range.",
	How:      "Along the way the camera looks: the rim of the lens front at the worst tilt of the range, against the line from the foremost plate under the pivot to the foremost over it, in mm. Of a plate counts what lies ahead of the pivot within the camera's width to either side of it (a notch between two prongs counts as filled), so that arms do not guard a lens between them. With plates on one side only their reach counts. Plates: those under guard:, else all.",
	Fix:      "Move the pivot back, or lengthen the plates.",
	Run:      runInsideGuard,
}

func runInsideGuard(p *Pass) {
	judged := 0
	for _, c := range p.Asm.Cameras {
		if p.lensInside(c) {
			judged++
		}
	}
	switch {
	case len(p.Asm.Cameras) == 0:
		p.Nothing("the build has no camera")
	case judged == 0:
		p.Nothing("no plate reaches past a camera's pivot to guard it")
	}
}

// front is how far a plate reaches ahead of a pivot.
type front struct {
	plate *layout.Plate
	reach float64
}

// lensRim is the foremost point of the rim of a lens at one angle of tilt, from the
// side-screw axis: ahead of it and over it.
type lensRim struct {
	ahead  layout.Form
	height float64
	tilt   float64
}

// lensRims lists the upper and lower rim at every tilt at which one of them may be nearest
// to the line between the fronts or beyond it farthest. With d from the axis to the lens front
// and r the lens radius they lie d·cos t ∓ r·sin t ahead and d·sin t ± r·cos t over the axis
// at tilt t.
func lensRims(c *layout.CameraPlace, under, over *front) (out []lensRim) {
	cam, name := c.Cam, c.Label
	depth, lens := known(cam.Depth, name+" depth"), known(cam.LensD, name+" lens diameter")
	back := known(cam.PivotBack, name+" pivot back")
	front := layout.Of(depth).Plus(back, -1)
	if back.Missing { // drawn in the middle of the case
		front = front.Shift((known(cam.LensLength, "").Value - depth.Value) / 2)
	}
	_, far := front.Worst()
	for _, side := range []float64{1, -1} {
		drawn := r2.Point{X: front.Nominal(), Y: side * lens.Value / 2}
		largest := r2.Point{X: far, Y: side * (lens.Value + lens.Plus) / 2}
		for _, t := range guardTilts(c, under, over, drawn, largest) {
			sin, cos := geom.SinCos(t)
			out = append(out, lensRim{
				ahead:  front.Scale(cos).Plus(lens, -side*sin/2),
				height: front.Nominal()*sin + side*lens.Value/2*cos,
				tilt:   t.Degrees(),
			})
		}
	}
	return out
}

// guardTilts lists the tilts at which a point of the rim, as drawn or at its largest, may be
// worst to the line between the fronts. The line has three straight pieces: upright under
// and over the gap between the plates, sloped in it. To each the point is nearest where it
// turns farthest along its normal, at an end of the range, or where it passes from one
// piece to the next.
func guardTilts(c *layout.CameraPlace, under, over *front, drawn, largest r2.Point) []s1.Angle {
	lo, hi := s1.Angle(c.TiltLo)*s1.Degree, s1.Angle(c.TiltHi)*s1.Degree
	tilts := []s1.Angle{lo, hi}
	normals := []r2.Point{{X: 1}}
	if under != nil && over != nil {
		z0, z1 := under.plate.Top.Nominal(), over.plate.Bottom.Nominal()
		normals = append(normals, r2.Point{X: 1, Y: (under.reach - over.reach) / math.Max(z1-z0, 1e-9)})
		for _, z := range []float64{z0, z1} {
			tilts = append(tilts, geom.SwingMeets(drawn, r2.Point{Y: 1}, z-c.PivotZ.Nominal(), lo, hi)...)
		}
	}
	for _, n := range normals {
		for _, p := range []r2.Point{drawn, largest} {
			_, t := geom.Swing(p, n, lo, hi)
			tilts = append(tilts, t)
		}
	}
	return tilts
}

func (p *Pass) lensInside(c *layout.CameraPlace) bool {
	if c.Cam == nil {
		return false
	}
	half := known(c.Cam.LensD, "").Value / 2
	wide := math.Max(known(c.Cam.Width, "").Value, 2*half)
	var under, over *front
	for _, pl := range p.Asm.Plates {
		if !p.guards(pl) {
			continue
		}
		fr := front{pl, reachAhead(pl, c.Pose, wide, half)}
		if !(fr.reach > 0) {
			continue
		}
		switch low := (pl.Bottom.Nominal()+pl.Top.Nominal())/2 < c.PivotZ.Nominal(); {
		case low && (under == nil || fr.reach > under.reach+1e-9):
			under = &fr
		case !low && (over == nil || fr.reach > over.reach+1e-9):
			over = &fr
		}
	}
	if under == nil && over == nil {
		return false
	}
	name := p.call(c.ID)
	var worst worstOf
	for _, rim := range lensRims(c, under, over) {
		line, plate := guardLine(under, over, c.PivotZ.Nominal()+rim.height)
		f := layout.Finding{Subjects: []string{c.ID, plate.ID}, Pos: c.Pos, HasPlace: true, Near: "before " + name}
		measure := line.Sub(rim.ahead)
		for _, b := range c.Bodies {
			for _, d := range b.Rides {
				if coefOf(measure, d) == 0 {
					measure = measure.Plus(d, -1)
				}
			}
			break
		}
		z := c.PivotZ.Nominal() + rim.height
		f.A = lift(c.Pose.Apply(r2.Point{X: rim.ahead.Nominal()}), z)
		f.B = lift(c.Pose.Apply(r2.Point{X: line.Nominal()}), z)
		worst.add(f.Judge(measure, p.Need(lensBehind)))
	}
	f := worst.f
	var what string
	switch {
	case under == nil:
		what = p.call(over.plate.ID)
	case over == nil:
		what = p.call(under.plate.ID)
	default:
		what = fmt.Sprintf("the line from %s to %s", p.call(under.plate.ID), p.call(over.plate.ID))
	}
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether the lens of %s stays behind %s hangs on a dimension that is missing", name, what)
	case f.Measured < 0:
		f.Message = fmt.Sprintf("the lens of %s leads %s by %s, %s behind it needed", name, what, mm(-f.Measured), mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("the lens of %s stays %s behind %s, %s needed", name, mm(f.Measured), what, mm(f.Needed))
	}
	if mustMend(&f) {
		grow := p.call(f.Subjects[1])
		if under != nil && over != nil {
			grow = p.call(under.plate.ID) + " and " + p.call(over.plate.ID)
		}
		f.Fix = fmt.Sprintf("move the pivot of %s back by %s, or lengthen %s by as much", name, mm(up(-f.Worst, 0.1)), grow)
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
	return true
}

// guardLine reads the line between the fronts of two plates at a height, with the cutting
// tolerance of both, and names the plate that is nearer to it there. Beyond the plates, or
// with one alone, the nearer plate counts.
func guardLine(under, over *front, z float64) (layout.Form, *layout.Plate) {
	t := 0.0
	switch {
	case under == nil:
		t = 1
	case over != nil:
		z0, z1 := under.plate.Top.Nominal(), over.plate.Bottom.Nominal()
		t = math.Max(0, math.Min(1, (z-z0)/math.Max(z1-z0, 1e-9)))
	}
	var line layout.Form
	add := func(fr *front, share float64) {
		if fr == nil || share <= 0 {
			return
		}
		line = line.Shift(share * fr.reach)
		if d := fr.plate.CutTol; d != nil {
			line = line.Plus(d, -share).Shift(share * d.Value)
		}
	}
	add(under, 1-t)
	add(over, t)
	if under == nil || over != nil && t > 0.5 {
		return line, over.plate
	}
	return line, under.plate
}

// guards tells the plates that guard: those that the build names, or all of them.
func (p *Pass) guards(pl *layout.Plate) bool {
	if p.Asm.GuardAll || len(p.Asm.Guard) == 0 {
		return true
	}
	for _, id := range p.Asm.Guard {
		if id == pl.ID {
			return true
		}
	}
	return false
}

// reachAhead returns how far a plate reaches ahead of a pivot, along x of its pose: the
// least reach over the lens (half wide to either side) of the hull of all that lies ahead
// of the pivot within wide mm to either side. 0 if nothing does.
func reachAhead(pl *layout.Plate, pose geom.Pose2, wide, half float64) float64 {
	const far = 1e4
	back := pose.Inverse()
	own := make([]geom.Region, len(pl.Solid))
	for i := range pl.Solid {
		own[i] = pl.Solid[i].Transform(back)
	}
	box := geom.RegionOf(geom.Rectangle(r2.Point{X: far / 2}, far, 2*wide))
	ahead, err := geom.Intersection(own, []geom.Region{box})
	if err != nil {
		panic(err) // a fault of ours, told as such by the frame
	}
	var loops []geom.Loop
	for _, g := range ahead {
		loops = append(loops, g.Outer)
	}
	if len(loops) == 0 {
		return 0
	}
	hull := geom.ConvexHull(loops...)
	least := math.Inf(1)
	for _, y := range []float64{-half, 0, half} {
		least = math.Min(least, frontAt(hull, y))
	}
	return math.Max(least, 0)
}

// frontAt returns the greatest x of a loop on the line of that y, -Inf if they do not
// meet.
func frontAt(l geom.Loop, y float64) float64 {
	box := l.Bound().Expand(1)
	line := geom.Seg{A: r2.Point{X: box.Lo.X, Y: y}, B: r2.Point{X: box.Hi.X, Y: y}}
	best := math.Inf(-1)
	var store [6]r2.Point
	for _, s := range l.Segs() {
		for _, p := range line.Meet(s, geom.Coincident, store[:0]) {
			best = math.Max(best, p.X)
		}
	}
	return best
}

// lacking lists those of the named sizes that nobody gave.
func lacking(sizes ...*shapes.Dim) (out []*shapes.Dim) {
	for _, d := range sizes {
		if isMissing(d) {
			out = append(out, d)
		}
	}
	return out
}
