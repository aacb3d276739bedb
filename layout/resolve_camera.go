package layout

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/shapes"
)

// cameraPlay is how far a camera on its two side screws may sit off its place.
const cameraPlay = 0.2

// placeCameras sets the cameras on their side screws and covers what case and lens
// sweep over the range of tilt.
func (r *resolver) placeCameras() {
	for _, s := range r.b.Cameras {
		g, ok := r.groundOf(s.From, "", s.At.P, nil)
		if !ok {
			continue
		}
		part := r.fill.part(s.Part)
		by := *s.By
		fillTol(&by, tolMeasured)
		id := "cameras." + s.Name
		c := &Component{
			ID: id, Label: s.Name + " camera", Kind: "camera", Part: part, Pos: s.Pos, On: g.id, OnFace: s.From.Face,
			Pose: geom.Pose2{Turn: degrees(s.Yaw), Shift: s.At.P}, Base: g.flat.Plus(&by, g.up),
		}
		r.add(c, g.id, assumed(s.Name+" camera on its screws", 0, cameraPlay))
		slot := s.Slot
		if slot != nil {
			own := *slot
			fillTol(&own, tolMeasured)
			slot = &own
		}
		p := &CameraPlace{
			Component: c, Pivot: s.At.P, PivotZ: c.Base, Yaw: s.Yaw, TiltLo: s.TiltLo, TiltHi: s.TiltHi,
			Slot: slot, Cam: part.Camera,
		}
		if cam := part.Camera; cam != nil {
			r.cameraBodies(p, cam)
		}
		c.Mass = Mass{Grams: massOf(part)}
		c.Mass.X, c.Mass.Y, c.Mass.Z = s.At.P.X, s.At.P.Y, p.PivotZ.Nominal()
		r.asm.Cameras = append(r.asm.Cameras, p)
	}
}

// cameraFigures are the sizes of a camera from its side-screw axis, in mm.
type cameraFigures struct {
	back, caseFront, lensFront float64 // along the lens axis
	width, height, lens        float64
}

// figuresOf reads a camera's sizes. Without a lens length the case reaches to the front;
// without its place the side-screw axis is in the middle of the case.
func figuresOf(cam *shapes.Camera) cameraFigures {
	f := cameraFigures{width: value(cam.Width), height: value(cam.Height), lens: value(cam.LensD)}
	box := value(cam.Depth) - value(cam.LensLength)
	pivot := box / 2
	if cam.PivotBack != nil && !cam.PivotBack.Missing {
		pivot = cam.PivotBack.Value
	}
	f.back, f.caseFront, f.lensFront = -pivot, box-pivot, value(cam.Depth)-pivot
	return f
}

// cameraBodies covers the sweep of the case (a box) and of the lens (a cylinder) about
// the side-screw axis.
func (r *resolver) cameraBodies(p *CameraPlace, cam *shapes.Camera) {
	f := figuresOf(cam)
	if f.width > 0 && f.height > 0 && f.caseFront > f.back {
		r.sweep(p, "case", boxCorners(f), cam)
	}
	if f.lens > 0 && f.lensFront > f.caseFront {
		r.sweep(p, "lens", lensRims(f), cam)
	}
	p.LensFront = lensFront(cam, p.TiltLo, p.TiltHi)
}

// sweep adds the cover of one piece of the camera over the range of tilt.
func (r *resolver) sweep(p *CameraPlace, name string, points []r3.Vector, cam *shapes.Camera) {
	blur := sizeBlur(cam.Width, cam.Depth)
	at := p.Pose.Lift(p.PivotZ.Nominal())
	pieces, err := tiltCover(points, p.TiltLo, p.TiltHi)
	if err != nil {
		r.note("%s: what its %s sweeps could not be covered (%v)", p.ID, name, err)
		return
	}
	for i, piece := range pieces {
		solid, err := piece.Transform(at)
		if err != nil {
			r.note("%s: its %s could not be placed (%v)", p.ID, name, err)
			return
		}
		p.Solids = append(p.Solids, &solid)
		box := solid.Bound()
		r.body(p.Component, &Body{
			ID: fmt.Sprintf("%s.%s[%d]", p.ID, name, i+1), Kind: CameraBody, Part: p.Part, Tilted: &solid,
			Plan:   one(boxPlan(piece.Bound(), p.Pose)),
			Bottom: spread(p.PivotZ, box.Lo.Z, cam.Height, -1), Top: spread(p.PivotZ, box.Hi.Z, cam.Height, 1),
			Swept: p.TiltHi > p.TiltLo,
		}, blur)
	}
}

// spread is the height z of a point of a body that hangs on a pivot: as far from the
// pivot as drawn, and half the height's tolerance less sure.
func spread(pivot Form, z float64, height *shapes.Dim, side float64) Form {
	out := pivot.Shift(z - pivot.Nominal())
	if height == nil {
		return out
	}
	return out.Plus(height, side*0.5).Shift(-side * 0.5 * height.Value)
}

// boxPlan is the plan of a box in the frame of pose.
func boxPlan(b geom.Box, pose geom.Pose2) geom.Loop {
	c, s := b.Center(), b.Size()
	return geom.Rectangle(r2.Point{X: c.X, Y: c.Y}, s.X, s.Y).Transform(pose)
}

// lensFront is how far the lens front reaches beyond the side-screw axis in plan over a
// range of tilt: the upper or lower rim of the front, whichever comes farther ahead.
func lensFront(cam *shapes.Camera, lo, hi float64) Form {
	d := figuresOf(cam)
	ahead := r2.Point{X: 1}
	best, at := geom.Swing(r2.Point{X: d.lensFront, Y: d.lens / 2}, ahead, degrees(lo), degrees(hi))
	if v, t := geom.Swing(r2.Point{X: d.lensFront, Y: -d.lens / 2}, ahead, degrees(lo), degrees(hi)); v > best {
		at = t
	}
	tilt := at.Degrees()
	s, c := math.Sincos(math.Abs(tilt) * math.Pi / 180)
	f := Form{}.Plus(cam.Depth, c).Plus(cam.LensD, 0.5*s)
	if cam.PivotBack != nil {
		return f.Plus(cam.PivotBack, -c)
	}
	return f.Plus(cam.Depth, -0.5*c).Plus(cam.LensLength, 0.5*c)
}
