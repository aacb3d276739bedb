package rules

import (
	"fmt"
	"math"

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
	Need:     "The slot at least as wide as the camera and at most 1.0 mm wider (0.5 per side), for cameras with side screws; 1.0 mm of air round the case and lens over the whole tilt range.",
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

// cheeks judges the slot that the side screws hold the camera in.
func (p *Pass) cheeks(c *layout.CameraPlace) {
	name := p.call(c.ID)
	f := layout.Finding{Subjects: []string{c.ID}, Pos: c.Pos, Near: "between the cheeks of " + name}
	width := known(c.Cam.Width, c.Label+" width")
	slot := known(c.Slot, c.Label+" slot width")
	if missing := lacking(slot, width); len(missing) > 0 {
		f.Verdict, f.Missing = layout.Unknown, missing
		f.Message = fmt.Sprintf("whether %s goes between its cheeks hangs on a dimension that is missing", name)
		f.Fix = unknownFix(&f)
		if slot.Missing {
			f.Fix = "measure between the cheeks and give it as `slot:`"
		}
		p.Report(f)
		return
	}
	play := layout.Of(slot).Plus(width, -1)
	in := f.Judge(play, layout.Form{})
	in.Message = fmt.Sprintf("%s, %s wide, goes into a slot of %s with %s of play", name, mm(width.Value), mm(slot.Value), mm(in.Measured))
	if in.Measured < 0 {
		in.Message = fmt.Sprintf("%s, %s wide, does not go into a slot of %s", name, mm(width.Value), mm(slot.Value))
	}
	if mustMend(&in) {
		in.Fix = fmt.Sprintf("make the slot %s wide, or take a camera of %s or less", mm(up(slot.Value-in.Worst, 0.1)), mm(down(width.Value+in.Worst, 0.1)))
	}
	p.Report(in)
	f.AtMost = true
	loose := f.Judge(play, layout.Fixed(cheekMost))
	loose.Message = fmt.Sprintf("%s has %s of play between its cheeks, %s at most", name, mm(loose.Measured), mm(loose.Needed))
	if mustMend(&loose) {
		loose.Fix = fmt.Sprintf("fit washers or adapter cheeks of %s on each side", mm(up(-loose.Worst/2, 0.1)))
	}
	p.Report(loose)
}

// swing judges the camera over its whole tilt against every other body but soft ones.
func (p *Pass) swing(c *layout.CameraPlace) {
	name := p.call(c.ID)
	tilts := fmt.Sprintf("from %s to %s degrees", num(c.TiltLo), num(c.TiltHi))
	if c.TiltHi-c.TiltLo < 1e-9 {
		tilts = fmt.Sprintf("at %s degrees", num(c.TiltLo))
	}
	f := layout.Finding{Subjects: []string{c.ID}, Pos: c.Pos, Near: name + ", tilt " + tilts}
	if missing := p.cameraLacks(c); len(missing) > 0 {
		f.Verdict, f.Missing = layout.Unknown, missing
		f.Message = fmt.Sprintf("whether %s tilts freely hangs on a dimension that is missing", name)
		f.Fix = unknownFix(&f)
		p.Report(f)
		return
	}
	var worst worstOf
	var hit *layout.Body
	var way apart
	for _, b := range p.Asm.Bodies {
		if b.Of == c.ID || b.Of == c.ID+".screws" || b.Soft {
			continue
		}
		box := solid(b).Bound()
		for _, own := range c.Bodies {
			if own.Tilted == nil || own.Tilted.Bound().Distance(box) > exitTold {
				continue
			}
			m := solidSeparation(own, b)
			if math.IsInf(m.worst, 1) {
				continue
			}
			g := f
			g.Subjects = []string{c.ID, b.Of}
			g.HasPlace, g.A, g.B = true, m.a, m.b
			if worst.add(g.Judge(m.form, p.Need(swingAir))) {
				hit, way = b, m
			}
		}
	}
	if hit == nil {
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("%s tilts %s with nothing within %s of it", name, tilts, mm(exitTold))
		p.Report(f)
		return
	}
	f = worst.f
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s keeps off %s hangs on a dimension that is missing", name, p.piece(hit))
	case f.Measured < 0:
		f.Message = fmt.Sprintf("%s runs %s into %s when it tilts %s, %s apart needed", name, mm(-f.Measured), p.piece(hit), tilts, mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s passes %s from %s when it tilts %s, %s needed", name, mm(f.Measured), p.piece(hit), tilts, mm(f.Needed))
	}
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("move the pivot of %s %s, or narrow the range of tilt", name, away(way.way, -f.Worst))
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
}

// cameraLacks lists the sizes without which nobody can tell what a camera sweeps.
func (p *Pass) cameraLacks(c *layout.CameraPlace) []*shapes.Dim {
	if c.Cam == nil {
		return []*shapes.Dim{known(nil, c.Label+" size")}
	}
	sizes := []*shapes.Dim{
		known(c.Cam.Width, c.Label+" width"), known(c.Cam.Height, c.Label+" height"), known(c.Cam.Depth, c.Label+" depth"),
		known(c.Cam.PivotBack, c.Label+" pivot back"), known(c.Cam.LensLength, c.Label+" lens length"),
	}
	if l := c.Cam.LensLength; isMissing(l) || l.Value > 0 {
		sizes = append(sizes, known(c.Cam.LensD, c.Label+" lens diameter"))
	}
	return lacking(sizes...)
}
