package layout_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/layout/layouttest"
)

func withCamera(keys string) string {
	return crossBuild + `
  eye: {kind: camera, width: 19 ±0.2, height: 18 ±0.2, depth: 22 ±0.3, lens-diameter: 14 ±0.2, lens-length: 8 ±0.2, pivot-back: 6 ±0.2, side-screw: M2, screw-max: 2.5, mass: 7}
cameras:
  nose: {part: eye, at: [55, 2], above: base.top, by: 13 ±0.2, ` + keys + `}
`
}

// inAny reports whether p lies in one of the solids: the distance of the point (a ball
// of no radius) to it is 0.
func inAny(t *testing.T, solids []*geom.Convex, p r3.Vector) (bool, float64) {
	t.Helper()
	ball, err := geom.NewSphere(p, 0)
	if err != nil {
		t.Fatal(err)
	}
	least := math.Inf(1)
	for _, s := range solids {
		least = min(least, geom.DistanceBodies(*s, ball).Dist)
	}
	return least <= 1e-6, least
}

// The cover holds every point of the case and the lens at every tilt of a dense sweep,
// and reaches nowhere more than 0.05 and the rim's 0.005·7 beyond.
func TestCameraTiltCover(t *testing.T) {
	asm := layouttest.MustLoad(t, withCamera("tilt: 20..50, yaw: 30"))
	c := asm.Cameras[0]
	formIs(t, "pivot", c.PivotZ, 16, 16-0.3, 16+0.3)
	// Depth 22 with 8 of lens: case from -6 to 8, lens from 8 to 16 before the axis.
	place := func(p r3.Vector, tilt float64) r3.Vector {
		s, k := math.Sincos(tilt * math.Pi / 180)
		x, y, z := k*p.X-s*p.Z, p.Y, s*p.X+k*p.Z
		sy, cy := math.Sincos(math.Pi / 6)
		return r3.Vector{X: 55 + cy*x - sy*y, Y: 2 + sy*x + cy*y, Z: 16 + z}
	}
	var points []r3.Vector
	for _, x := range []float64{-6, 1, 8} {
		for _, y := range []float64{-9.5, 9.5} {
			for _, z := range []float64{-9, 0, 9} {
				points = append(points, r3.Vector{X: x, Y: y, Z: z})
			}
		}
	}
	for i := range 36 {
		s, k := math.Sincos(float64(i) * math.Pi / 18)
		points = append(points, r3.Vector{X: 8, Y: 7 * k, Z: 7 * s}, r3.Vector{X: 16, Y: 7 * k, Z: 7 * s})
	}
	far := math.Inf(-1)
	for tilt := 20.0; tilt <= 50; tilt += 0.5 {
		for _, p := range points {
			q := place(p, tilt)
			if in, off := inAny(t, c.Solids, q); !in {
				t.Fatalf("point %v at tilt %g lies %g outside the cover", p, tilt, off)
			}
			// Along the yaw direction, from the pivot.
			far = max(far, (q.X-55)*math.Cos(math.Pi/6)+(q.Y-2)*math.Sin(math.Pi/6))
		}
	}
	// The lens front reaches at most 16·cos t + 7·sin t = 17.464 at tan t = 7/16 (23.6°).
	nearMM(t, "lens front", c.LensFront.Nominal(), math.Hypot(16, 7))
	if math.Abs(far-math.Hypot(16, 7)) > 0.01 {
		t.Errorf("the sweep reaches %g, want %g", far, math.Hypot(16, 7))
	}
	reach, top := math.Inf(-1), math.Inf(-1)
	for _, s := range c.Solids {
		d := r3.Vector{X: math.Cos(math.Pi / 6), Y: math.Sin(math.Pi / 6)}
		p := s.Support(d)
		reach = max(reach, (p.X-55)*d.X+(p.Y-2)*d.Y)
		top = max(top, s.Support(r3.Vector{Z: 1}).Z)
	}
	if reach < far || reach > math.Hypot(16, 7)+0.1 {
		t.Errorf("the cover reaches %g, the sweep %g", reach, far)
	}
	// Highest at 50°: the lens rim, 16·sin 50° + 7·cos 50° = 16.756 over the pivot.
	rim := 16 + 16*math.Sin(50*math.Pi/180) + 7*math.Cos(50*math.Pi/180)
	if top < rim-1e-9 || top > rim+0.1 {
		t.Errorf("the cover is %g high, want %g", top, rim)
	}
	for _, b := range c.Bodies {
		if !b.Swept || b.Tilted == nil {
			t.Errorf("%s is not marked as swept", b.ID)
		}
		encloses(t, b)
	}
}

// encloses checks that plan and heights of a tilted body hold its solid.
func encloses(t *testing.T, b *layout.Body) {
	t.Helper()
	box := b.Tilted.Bound()
	if box.Lo.Z < b.Bottom.Nominal()-1e-9 || box.Hi.Z > b.Top.Nominal()+1e-9 {
		t.Errorf("%s: heights %g..%g do not hold %v", b.ID, b.Bottom.Nominal(), b.Top.Nominal(), box)
	}
	for i := range 64 {
		s, k := math.Sincos(2 * math.Pi * float64(i) / 64)
		p := b.Tilted.Support(r3.Vector{X: k, Y: s})
		best := math.Inf(-1)
		for _, r := range b.Plan {
			for _, v := range r.Outer.Flatten(1e-6) {
				best = max(best, k*v.X+s*v.Y)
			}
		}
		if k*p.X+s*p.Y > best+1e-5 {
			t.Errorf("%s: plan reaches %g towards %g°, the solid %g", b.ID, best, 360*float64(i)/64, k*p.X+s*p.Y)
		}
	}
}

// Without tilt the case is a box as drawn, and the lens front stands straight ahead.
func TestCameraWithoutTilt(t *testing.T) {
	asm := layouttest.MustLoad(t, withCamera("slot: 20 ±0.2"))
	c := asm.Cameras[0]
	formIs(t, "lens front", c.LensFront, 16, 16-0.5, 16+0.5)
	b := layouttest.Body(t, asm, "cameras.nose.case[1]")
	box := b.Tilted.Bound()
	nearMM(t, "back", box.Lo.X, 49)
	nearMM(t, "front", box.Hi.X, 63)
	nearMM(t, "left", box.Hi.Y, 11.5)
	nearMM(t, "bottom", box.Lo.Z, 7)
	if b.Swept || len(c.Bodies) != 2 {
		t.Errorf("%d bodies", len(c.Bodies))
	}
	nearMM(t, "slot", c.Slot.Value, 20)
}
