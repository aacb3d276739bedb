package render_test

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// craft is an assembly put together by hand: a five-inch cross of wheelbase 220 with two
// plates on four posts, a stack of two boards, a battery, a camera, an antenna and a
// receiver. Its figures are chosen so that tests can work out distances without the
// loader.
type craft struct {
	asm *layout.Assembly
}

func dim(v float64) *shapes.Dim { return &shapes.Dim{Name: "d", Value: v, Plus: 0.1, Minus: 0.1} }

func (c *craft) component(id, label, kind string, part *shapes.Part, grams float64) *layout.Component {
	k := &layout.Component{ID: id, Label: label, Kind: kind, Part: part, Count: 1}
	k.Mass.Grams = layout.Fixed(grams)
	c.asm.Components = append(c.asm.Components, k)
	return k
}

func (c *craft) body(k *layout.Component, name string, kind layout.Kind, plan []geom.Region, lo, hi float64) *layout.Body {
	b := &layout.Body{ID: k.ID + "." + name, Of: k.ID, Kind: kind, Part: k.Part, Plan: plan, Bottom: layout.Fixed(lo), Top: layout.Fixed(hi)}
	k.Bodies = append(k.Bodies, b)
	c.asm.Bodies = append(c.asm.Bodies, b)
	return b
}

func solid(l geom.Loop, holes ...geom.Loop) []geom.Region {
	return []geom.Region{geom.RegionOf(l, holes...)}
}

func xy(x, y float64) r2.Point { return r2.Point{X: x, Y: y} }

// crossOutline is a body plate with four arms to the rotors, as one loop: an X of bars
// round a square, corner by corner.
func crossOutline(reach, half, hub float64) geom.Loop {
	var pts []r2.Point
	for i := range 4 {
		a := math.Pi/4 + float64(i)*math.Pi/2
		u := xy(math.Cos(a), math.Sin(a))
		n := xy(-u.Y, u.X)
		pts = append(pts,
			u.Mul(hub).Sub(n.Mul(half)), u.Mul(reach).Sub(n.Mul(half)),
			u.Mul(reach).Add(n.Mul(half)), u.Mul(hub).Add(n.Mul(half)))
	}
	l, err := geom.Polygon(pts, nil)
	if err != nil {
		panic(err)
	}
	return l
}

const (
	fixWheelbase = 220.0
	fixProp      = 127.0
)

func newCraft() *craft {
	c := &craft{asm: &layout.Assembly{Name: "bench five", About: "a fixture", Wheelbase: dim(fixWheelbase), RotorLayout: "cross"}}
	asm := c.asm
	carbon := &shapes.Part{Name: "carbon", Kind: shapes.MaterialKind, Material: &shapes.Material{Conducts: true}}

	plate := func(name string, outline geom.Loop, lo, hi float64, holes ...geom.Loop) {
		k := c.component("plates."+name, name, "plate", nil, 40)
		k.Mass.Guess = true
		plan := solid(outline, holes...)
		c.body(k, "sheet", layout.PlateBody, plan, lo, hi)
		asm.Plates = append(asm.Plates, &layout.Plate{Component: k, Name: name, Material: carbon, Thickness: dim(hi - lo),
			Outline: plan, Solid: solid(outline), Bottom: layout.Fixed(lo), Top: layout.Fixed(hi)})
	}
	var holes []geom.Loop
	for i := range 4 {
		a := math.Pi/4 + float64(i)*math.Pi/2
		holes = append(holes, geom.Circle(xy(15.25*math.Sqrt2*math.Cos(a), 15.25*math.Sqrt2*math.Sin(a)), 1.6))
		holes = append(holes, geom.Circle(xy(fixWheelbase/2*math.Cos(a), fixWheelbase/2*math.Sin(a)), 3))
	}
	plate("base", crossOutline(fixWheelbase/2+13, 7, 40), 0, 5, holes...)
	plate("roof", geom.RoundedRectangle(xy(0, 0), 110, 44, 8), 30, 32,
		geom.Capsule(xy(-10, 17), xy(10, 17), 3), geom.Capsule(xy(-10, -17), xy(10, -17), 3))

	post := &shapes.Part{Name: "standoff-m3-round", Title: "Round aluminium standoff M3", Kind: shapes.StandoffKind}
	for i, at := range []r2.Point{xy(40, 16), xy(40, -16), xy(-40, 16), xy(-40, -16)} {
		k := c.component(fmt.Sprintf("posts.main[%d]", i+1), "posts main", "post", post, 1.1)
		c.body(k, "post", layout.PostBody, solid(geom.Circle(at, 2.5)), 5, 30)
	}

	st := &layout.Stack{Name: "main"}
	z := 5.0
	for i, name := range []string{"esc-board", "flight-board"} {
		sp := c.component(fmt.Sprintf("stacks.main.spacer-%d", i+1), "spacer", "spacer", nil, 0.3)
		for _, x := range []float64{-15.25, 15.25} {
			for _, y := range []float64{-15.25, 15.25} {
				c.body(sp, fmt.Sprintf("at %v %v", x, y), layout.SpacerBody, solid(geom.Circle(xy(x, y), 2.5)), z, z+5)
			}
		}
		z += 5
		k := c.component("stacks.main."+name, name, "board", &shapes.Part{Name: name + "-30.5", Title: name + " with 30.5 mm hole pattern"}, 9)
		c.body(k, "pcb", layout.PcbBody, solid(geom.RoundedRectangle(xy(0, 0), 36, 38, 3)), z, z+1.6)
		c.body(k, "top", layout.ZoneBody, solid(geom.Rectangle(xy(2, 1), 22, 20)), z+1.6, z+1.6+3)
		c.body(k, "under", layout.ZoneBody, solid(geom.Rectangle(xy(-3, 0), 20, 20)), z-2, z)
		st.Levels = append(st.Levels, layout.Level{Component: k, Board: true, FaceDown: layout.Fixed(z), FaceUp: layout.Fixed(z + 1.6)})
		if i == 1 {
			plug := &shapes.Part{Name: "usb", Plug: &shapes.Plug{Width: dim(12), Height: dim(7), Beyond: dim(22)}}
			asm.Ports = append(asm.Ports, &layout.PortPlace{ID: k.ID + ".usb", Owner: k, Plug: plug, Port: &shapes.Port{Name: "usb"},
				Mouth: xy(0, -19), Dir: xy(0, -1), Axis: layout.Fixed(z + 3.2)})
		}
		z += 1.6
	}
	asm.Stacks = append(asm.Stacks, st)

	motor := &shapes.Part{Name: "motor-2207", Title: "Motor 2207", Motor: &shapes.Motor{BellD: dim(27.7), BodyH: dim(19.5), Circles: []shapes.BoltCircle{{Diameter: dim(16), Count: 4}}}}
	prop := &shapes.Part{Name: "prop-5", Title: "Five-inch three-blade prop", Prop: &shapes.Prop{RealD: dim(fixProp)}}
	for i, name := range []string{"front-left", "rear-left", "rear-right", "front-right"} {
		a := math.Pi/4 + float64(i)*math.Pi/2
		at := xy(fixWheelbase/2*math.Cos(a), fixWheelbase/2*math.Sin(a))
		m := c.component("rotors."+name+".motor", name+" motor", "motor", motor, 33)
		c.body(m, "bell", layout.MotorBody, solid(geom.Circle(at, 13.85)), 5, 24.5)
		p := c.component("rotors."+name+".prop", name+" prop", "prop", prop, 4)
		c.body(p, "hub", layout.HubBody, solid(geom.Circle(at, 6.5)), 24.5, 31.5)
		asm.Rotors = append(asm.Rotors, &layout.Rotor{Name: name, At: at, Clockwise: i%2 == 0, Motor: m, Prop: p,
			MountZ: layout.Fixed(5), Seat: layout.Fixed(24.5), Lo: layout.Fixed(24), Hi: layout.Fixed(31.5),
			SweptLo: layout.Fixed(21), SweptHi: layout.Fixed(35), Radius: layout.Fixed(fixProp / 2)})
	}

	rx := c.component("mounts.receiver", "receiver", "part", &shapes.Part{Name: "rx-16x11", Title: "Receiver 16 x 11"}, 1.2)
	c.body(rx, "block", layout.PartBody, solid(geom.Rectangle(xy(-46, 0), 11, 16)), 5, 9)
	asm.Mounts = append(asm.Mounts, rx)

	bat := c.component("battery", "battery", "battery", &shapes.Part{Name: "pack-6s-1300", Title: "Pack 6 cells 1300 mAh"}, 210)
	bb := c.body(bat, "pack", layout.PackBody, solid(geom.RoundedRectangle(xy(-6, 0), 76, 38, 3)), 34, 72)
	asm.Packs = append(asm.Packs, &layout.Pack{Component: bat, Body: bb})

	cam := c.component("cameras.nose", "camera", "camera", &shapes.Part{Name: "camera-19", Title: "Camera 19 mm wide"}, 8)
	box, err := geom.NewBox(r3.Vector{X: 20, Y: 19, Z: 19}, geom.RotY(s1.Angle(-30)*s1.Degree).Then(geom.Shift3(r3.Vector{X: 56, Z: 17})))
	if err != nil {
		panic(err)
	}
	cb := c.body(cam, "case", layout.CameraBody, solid(geom.Rectangle(xy(56, 0), 26, 19)), 4, 30)
	cb.Tilted = &box
	asm.Cameras = append(asm.Cameras, &layout.CameraPlace{Component: cam, Pivot: xy(56, 0), PivotZ: layout.Fixed(17), TiltLo: 20, TiltHi: 40,
		Cam: &shapes.Camera{Fov: dim(150)}, LensFront: layout.Fixed(13)})

	ant := c.component("antennas.video", "video antenna", "antenna", &shapes.Part{Name: "antenna-58", Title: "Antenna for 5.8 GHz"}, 5)
	rod, err := geom.NewCapsule(r3.Vector{X: -52, Z: 32}, r3.Vector{X: -80, Z: 80}, 3)
	if err != nil {
		panic(err)
	}
	ab := c.body(ant, "rod", layout.AntennaBody, solid(geom.Capsule(xy(-52, 0), xy(-80, 0), 6)), 32, 80)
	ab.Tilted = &rod
	asm.Antennas = append(asm.Antennas, &layout.AntennaPlace{Component: ant, Base: [3]float64{-52, 0, 32}, Tip: [3]float64{-80, 0, 80}})
	return c
}

// faults are three outcomes with one finding of each verdict that is drawn, and one that
// holds.
func faults() []layout.Outcome {
	return []layout.Outcome{
		{Rule: "body-gap", Status: layout.Judged, Findings: []layout.Finding{{
			Rule: "body-gap", Verdict: layout.Fail, Subjects: []string{"stacks.main.flight-board", "plates.roof"}, Unit: shapes.MM,
			HasMeasure: true, Measured: 8.8, Needed: 10, Margin: -1.2, Worst: -1.6, HasPlace: true,
			A: r3.Vector{X: 2, Y: 1, Z: 21.2}, B: r3.Vector{X: 2, Y: 1, Z: 30}, Near: "under the roof",
			Message: "The tallest part of the flight-board stands 8.80 mm under the roof; 10.00 mm are needed.", Fix: "Take posts of 28 mm, the next length sold."}}},
		{Rule: "prop-tip-gap", Status: layout.Judged, Findings: []layout.Finding{{
			Rule: "prop-tip-gap", Verdict: layout.Tight, Subjects: []string{"rotors.front-left.prop", "rotors.front-right.prop"}, Unit: shapes.MM,
			HasMeasure: true, Measured: 28.56, Needed: 28, Margin: 0.56, Worst: -0.2, HasPlace: true,
			A: r3.Vector{X: 77.78, Y: 14.28, Z: 28}, B: r3.Vector{X: 77.78, Y: -14.28, Z: 28},
			Message: "The tips of the front props pass 28.56 mm from each other.", Fix: "Use the smaller prop or lengthen the arms by 1 mm."}, {
			Rule: "prop-tip-gap", Verdict: layout.OK, HasMeasure: true, Measured: 28.56, Needed: 3, Margin: 25.56, Worst: 25}}},
		{Rule: "connector-exit", Status: layout.Judged, Findings: []layout.Finding{{
			Rule: "connector-exit", Verdict: layout.Unknown, Subjects: []string{"stacks.main.flight-board.usb"}, Unit: shapes.MM,
			HasMeasure: true, Needed: 22, HasPlace: true, A: r3.Vector{Y: -19, Z: 19.2}, B: r3.Vector{Y: -41, Z: 19.2},
			Message: "How far the plug reaches is not known.", Fix: "Measure the plug beyond the socket."}}},
		{Rule: "balance", Status: layout.Nothing, Reason: "no masses"},
	}
}
