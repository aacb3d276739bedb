package render

import (
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// drawnBodies returns the bodies that views show: those of the assembly, with each
// camera that tilts drawn in the middle of its range and, as extreme positions, at both
// ends, in place of the many pieces that cover its sweep.
func drawnBodies(asm *layout.Assembly) []*layout.Body {
	tilts := map[string]bool{}
	var extra []*layout.Body
	for _, c := range asm.Cameras {
		if c.Cam == nil || c.TiltHi <= c.TiltLo {
			continue
		}
		mid := cameraAt(c, (c.TiltLo+c.TiltHi)/2, false)
		if len(mid) == 0 {
			continue
		}
		tilts[c.ID] = true
		extra = append(extra, mid...)
		extra = append(extra, cameraAt(c, c.TiltLo, true)...)
		extra = append(extra, cameraAt(c, c.TiltHi, true)...)
	}
	var out []*layout.Body
	for _, b := range asm.Bodies {
		if !(b.Swept && tilts[b.Of]) {
			out = append(out, b)
		}
	}
	return append(out, extra...)
}

// cameraAt returns the case and the lens of a camera at a tilt in degrees, up positive.
// Sizes that are missing leave their piece out.
func cameraAt(c *layout.CameraPlace, tilt float64, swept bool) []*layout.Body {
	size := func(d *shapes.Dim) float64 {
		if d == nil {
			return 0
		}
		return d.Value
	}
	lens := size(c.Cam.LensLength)
	deep := size(c.Cam.Depth) - lens
	back := deep / 2
	if c.Cam.PivotBack != nil && !c.Cam.PivotBack.Missing {
		back = c.Cam.PivotBack.Value
	}
	wide := size(c.Cam.LensD)
	pose := geom.RotY(-deg(tilt)).Then(geom.RotZ(deg(c.Yaw))).
		Then(geom.Shift3(r3.Vector{X: c.Pivot.X, Y: c.Pivot.Y, Z: c.PivotZ.Nominal()}))
	var out []*layout.Body
	for _, p := range [2]struct {
		size r3.Vector
		x    float64 // middle, in front of the pivot
	}{
		{r3.Vector{X: deep, Y: size(c.Cam.Width), Z: size(c.Cam.Height)}, deep/2 - back},
		{r3.Vector{X: lens, Y: wide, Z: wide}, deep - back + lens/2},
	} {
		if !(p.size.X > 0 && p.size.Y > 0 && p.size.Z > 0) {
			continue
		}
		solid, err := geom.NewBox(p.size, geom.Shift3(r3.Vector{X: p.x}).Then(pose))
		if err != nil {
			continue
		}
		box := solid.Bound()
		out = append(out, &layout.Body{ID: c.ID + ".drawn", Of: c.ID, Kind: layout.CameraBody, Tilted: &solid, Swept: swept,
			Bottom: layout.Fixed(box.Lo.Z), Top: layout.Fixed(box.Hi.Z)})
	}
	return out
}
