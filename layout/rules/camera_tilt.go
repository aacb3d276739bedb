package rules

import (
	"fmt"
	"math"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

const (
	// swingAir is what the camera keeps from plates and parts over its whole tilt, mm.
	swingAir = 1.0
	// cheekMost is the most play per camera between its cheeks before it rattles, mm:
	// printed cheeks are made 0.3 to 0.5 wider per side.
	cheekMost = 1.0
)

var cameraTilt = &Rule{
	Name:     "camera-tilt",
	Group:    "parts",
	Question: "does the camera fit its slot and clear all through its tilt",
	Why:      "A camera wider than the slot does not go in, a narrower one rattles; a lens or tail that hits a plate stops the tilt short of what flying asks for.",
	Need:     "The slot at least as wide as the camera and at most 1.0 mm wider (0.5 per side); 1.0 mm of air round the case and lens over the whole tilt range.",
	How:      "Slot less camera width in mm; the case and lens turned about the side-screw axis over the tilt range, covered by convex solids, against every plate and part, in space.",
	Fix:      "Move the pivot, cut a relief, raise the roof, or use adapter cheeks.",
	Run:      runCameraTilt,
}

func runCameraTilt(p *Pass) {
	if len(p.Asm.Cameras) == 0 {
		p.Nothing("the build has no camera")
		return
	}
	for _, c := range p.Asm.Cameras {
		if c.Cam != nil && c.Cam.SideScrews {
			p.cheeks(c)
		}
		p.swing(c)
	}
}

func (p *Pass) cheeks(c *layout.CameraPlace) {
	f := layout.Finding{Unit: shapes.MM, Subjects: []string{c.ID}, Pos: c.Pos, Near: "between the cheeks"}
	if c.Slot == nil {
		f.Verdict = layout.Unknown
		f.Missing = []*shapes.Dim{{Name: c.Label + " slot width", Unit: shapes.MM, Missing: true, Source: shapes.Assumed}}
		f.Message = fmt.Sprintf("nobody said how wide the slot for %s is; the camera is %.4g mm wide", c.Label, c.Cam.Width.Value)
		f.Fix = "measure between the cheeks and give it as slot:"
		p.Report(f)
		return
	}
	width := known(c.Cam.Width, c.Label+" width")
	play := layout.Of(c.Slot).Plus(width, -1)
	in := f.Judge(play, layout.Fixed(0))
	in.Message = fmt.Sprintf("a camera %.4g mm wide goes into a slot of %.4g mm with %.2f mm of play", width.Value, c.Slot.Value, in.Measured)
	if in.Measured < 0 {
		in.Message = fmt.Sprintf("a camera %.4g mm wide does not go into a slot of %.4g mm", width.Value, c.Slot.Value)
	}
	if in.Verdict == layout.Fail || in.Verdict == layout.Tight {
		in.Fix = fmt.Sprintf("widen the slot to %s, or take a narrower camera", mm(up(c.Slot.Value-in.Worst, 0.1)))
	} else {
		in.Fix = unknownFix(&in)
	}
	p.Report(in)
	f.AtMost = true
	loose := f.Judge(play, layout.Fixed(cheekMost))
	loose.Message = fmt.Sprintf("%.2f mm of play between camera and cheeks", loose.Measured)
	if loose.Verdict == layout.Fail || loose.Verdict == layout.Tight {
		loose.Fix = fmt.Sprintf("fit adapter cheeks or washers of %.1f mm per side", math.Max(0.1, loose.Measured/2-cheekMost/4))
	} else {
		loose.Fix = unknownFix(&loose)
	}
	p.Report(loose)
}

// swing judges the camera over its whole tilt against every other body but soft ones.
func (p *Pass) swing(c *layout.CameraPlace) {
	var own *layout.Body
	for _, b := range c.Bodies {
		if b.Kind == layout.CameraBody {
			own = b
			break
		}
	}
	if own == nil || len(c.Solids) == 0 {
		p.Report(layout.Finding{
			Verdict: layout.Unknown, Subjects: []string{c.ID}, Pos: c.Pos,
			Missing: []*shapes.Dim{{Name: c.Label + " size", Unit: shapes.MM, Missing: true, Source: shapes.Assumed}},
			Message: fmt.Sprintf("the size of %s is not known, so its swing cannot be told", c.Label),
			Fix:     "measure its width, height and depth",
		})
		return
	}
	var best apart
	var hit *layout.Body
	for _, b := range p.Asm.Bodies {
		if b.Of == c.ID || b.Soft || b.Kind == layout.StrapBody {
			continue
		}
		for _, s := range c.Solids {
			if boxesApart(s.Bound(), solid(b).Bound()) > exitTold {
				continue
			}
			probe := *own
			probe.Tilted = s
			m := solidSeparation(&probe, b)
			if hit == nil || m.worst < best.worst-1e-9 {
				best, hit = m, b
			}
		}
	}
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{c.ID}, Pos: c.Pos,
		Near: fmt.Sprintf("tilt %.4g to %.4g degrees", c.TiltLo, c.TiltHi),
	}
	if hit == nil {
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("%s swings from %.4g to %.4g degrees with nothing within %.0f mm", c.Label, c.TiltLo, c.TiltHi, exitTold)
		p.Report(f)
		return
	}
	f.Subjects = append(f.Subjects, hit.Of)
	f.HasPlace, f.A, f.B = true, best.a, best.b
	f = f.Judge(best.form, p.Need(swingAir))
	f.Message = fmt.Sprintf("%s passes %s at %.2f mm while it tilts from %.4g to %.4g degrees", c.Label, bodyName(hit), f.Measured, c.TiltLo, c.TiltHi)
	if f.Measured < 0 {
		f.Message = fmt.Sprintf("%s runs %.2f mm into %s while it tilts from %.4g to %.4g degrees", c.Label, -f.Measured, bodyName(hit), c.TiltLo, c.TiltHi)
	}
	if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
		way := "away from"
		if d := best.b.Sub(best.a); math.Abs(d.Z) > math.Hypot(d.X, d.Y) {
			way = "up from"
			if d.Z > 0 == (f.Measured > 0) {
				way = "down from"
			}
		}
		f.Fix = fmt.Sprintf("move the pivot %s %s %s, or narrow the tilt range", mm(up(-f.Worst, 0.1)), way, short(hit.Of))
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
}

// boxesApart is the distance between two boxes, 0 if they share a point.
func boxesApart(a, b geom.Box) float64 {
	gap := func(alo, ahi, blo, bhi float64) float64 { return math.Max(0, math.Max(alo-bhi, blo-ahi)) }
	x := gap(a.Lo.X, a.Hi.X, b.Lo.X, b.Hi.X)
	y := gap(a.Lo.Y, a.Hi.Y, b.Lo.Y, b.Hi.Y)
	z := gap(a.Lo.Z, a.Hi.Z, b.Lo.Z, b.Hi.Z)
	return math.Sqrt(x*x + y*y + z*z)
}
