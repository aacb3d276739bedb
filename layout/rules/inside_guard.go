package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

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
	How:      "Along the way the camera looks in plan: the reach of the guard plates (all plates, or those under guard:) at the height of the lens, by the line from the plate under it to the plate over it, less the reach of the lens front; mm.",
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
		p.Nothing("no plate reaches past the camera's pivot to guard it")
	}
}

// front is how far a plate reaches along a direction, with the point that does.
type front struct {
	plate *layout.Plate
	reach float64
	at    r2.Point
}

func (p *Pass) lensInside(c *layout.CameraPlace) bool {
	yaw := c.Yaw * math.Pi / 180
	dir := r2.Point{X: math.Cos(yaw), Y: math.Sin(yaw)}
	var under, over *front
	for _, pl := range p.Asm.Plates {
		if !p.guards(pl) {
			continue
		}
		fr := reachAlong(pl, c.Pivot, dir)
		if fr.plate == nil || fr.reach <= 0 {
			continue
		}
		mid := (pl.Bottom.Nominal() + pl.Top.Nominal()) / 2
		if mid < c.PivotZ.Nominal() {
			if under == nil || fr.reach > under.reach {
				under = &fr
			}
		} else if over == nil || fr.reach > over.reach {
			over = &fr
		}
	}
	if under == nil && over == nil {
		return false
	}
	// The lens front lies between the two plates at the height of the pivot, near enough:
	// a tilted lens rises towards the upper plate, so the line is read at both ends of the
	// tilt and the shorter reach counts.
	line, name, plate := math.Inf(1), "", (*layout.Plate)(nil)
	read := func(z float64) {
		switch {
		case under == nil:
			line, name, plate = over.reach, "plate "+over.plate.Name, over.plate
		case over == nil:
			line, name, plate = under.reach, "plate "+under.plate.Name, under.plate
		default:
			z0, z1 := under.plate.Top.Nominal(), over.plate.Bottom.Nominal()
			t := 0.5
			if z1 > z0 {
				t = math.Max(0, math.Min(1, (z-z0)/(z1-z0)))
			}
			if l := under.reach + t*(over.reach-under.reach); l < line {
				line, plate = l, under.plate
				if over.reach < under.reach {
					plate = over.plate
				}
				name = fmt.Sprintf("the line from plate %s to plate %s", under.plate.Name, over.plate.Name)
			}
		}
	}
	long := c.LensFront.Nominal()
	for _, tilt := range []float64{c.TiltLo, c.TiltHi} {
		read(c.PivotZ.Nominal() + long*math.Sin(tilt*math.Pi/180))
	}
	measure := layout.Fixed(line).Sub(c.LensFront)
	if plate.CutTol != nil {
		measure = measure.Plus(plate.CutTol, -1)
	}
	at := c.Pivot.Add(dir.Mul(long))
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{c.ID, plate.ID}, Pos: c.Pos, HasPlace: true,
		Near: "at the nose",
		A:    r3.Vector{X: at.X, Y: at.Y, Z: c.PivotZ.Nominal()},
	}.Judge(measure, p.Need(lensBehind))
	tip := c.Pivot.Add(dir.Mul(line))
	f.B = r3.Vector{X: tip.X, Y: tip.Y, Z: c.PivotZ.Nominal()}
	f.Message = fmt.Sprintf("the lens of %s stays %.2f mm behind %s", c.Label, f.Measured, name)
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("the lens of %s leads %s by %.2f mm", c.Label, name, -f.Measured)
	}
	if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
		f.Fix = fmt.Sprintf("move the pivot of %s back by %s, or lengthen plate %s by as much", c.Label, mm(up(-f.Worst, 0.1)), plate.Name)
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
	return true
}

// guards tells the plates that guard: names, or all of them when it names none.
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

// reachAlong returns how far a plate reaches from a point along a unit direction.
func reachAlong(pl *layout.Plate, from, dir r2.Point) (out front) {
	best := math.Inf(-1)
	for _, g := range pl.Solid {
		for _, s := range g.Outer.Segs() {
			pts := []r2.Point{s.A}
			if s.IsArc() {
				// The arc's foremost point, where it lies on the arc.
				c, r := s.Center(), s.Radius()
				for _, q := range []r2.Point{c.Add(dir.Mul(r)), c.Sub(dir.Mul(r))} {
					if onArc(q, s.A, s.B, c, s.Sweep().Radians()) {
						pts = append(pts, q)
					}
				}
			}
			for _, q := range pts {
				if d := q.Sub(from).Dot(dir); d > best+1e-9 {
					best, out = d, front{pl, d, q}
				}
			}
		}
	}
	return out
}

// onArc reports whether a point of the arc's circle lies on the arc from a by sweep
// radians (positive counter-clockwise) about c.
func onArc(p, a, b, c r2.Point, sweep float64) bool {
	turn := func(v, w r2.Point) float64 {
		t := math.Atan2(v.X*w.Y-v.Y*w.X, v.Dot(w))
		if sweep < 0 {
			t = -t
		}
		if t < -1e-9 {
			t += 2 * math.Pi
		}
		return t
	}
	return turn(a.Sub(c), p.Sub(c)) <= math.Abs(sweep)+1e-9
}
