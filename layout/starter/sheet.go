package starter

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"text/template"

	"dryfit/geom"
	"dryfit/shapes"
)

// sheet is what the page is filled with.
type sheet struct {
	o Options
	c choice
	plan
}

func newSheet(o Options, c choice, p plan) *sheet { return &sheet{o, c, p} }

// Num prints a length with at most two decimals and no trailing zeros.
func (s *sheet) Num(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}

// Measured prints a class figure as one would note a measured one.
func (s *sheet) Measured(d *shapes.Dim, tol float64) string {
	return s.Num(figure(d)) + " ±" + s.Num(tol)
}

// Quoted prints the craft's name so that YAML reads it as text.
func (s *sheet) Quoted() string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s.o.Name) + `"`
}

// Heading says in words what the build is.
func (s *sheet) Heading() string {
	where := "speed controllers on the arms"
	if s.o.ESC == FourInOne {
		where = "four-in-one speed controller"
		if s.c.escBoards > 1 {
			where = "two four-in-one speed controllers"
		}
	}
	camera := ""
	if s.Camera() {
		camera = ", camera in front"
	}
	return fmt.Sprintf("%s-inch craft with %d rotors and %d cells, %s%s", s.c.size.prop, s.o.Rotors, s.o.Cells, where, camera)
}

// Layout is the word for the rotors' layout.
func (s *sheet) Layout() string {
	return map[int]string{3: "three", 4: "cross", 6: "six", 8: "eight"}[s.o.Rotors]
}

// TipGap works the gap between the tips of neighbours out in a comment: the chord between
// two axes less a real diameter.
func (s *sheet) TipGap() string {
	real := figure(s.c.prop.Prop.RealD)
	return fmt.Sprintf("%s x sin(180°/%d) - %s = %s", s.Num(s.wheelbase), s.o.Rotors, s.Num(real),
		strconv.FormatFloat(geom.PolygonSide(s.wheelbase/2, s.o.Rotors)-real, 'f', 1, 64))
}

func (s *sheet) Camera() bool  { return s.c.camera != nil }
func (s *sheet) Four() bool    { return s.o.ESC == FourInOne }
func (s *sheet) Arms() bool    { return s.o.ESC == OnArms }
func (s *sheet) Small() bool   { return s.c.small }
func (s *sheet) Cells() int    { return s.o.Cells }
func (s *sheet) Prop() string  { return s.c.size.prop }
func (s *sheet) Grams() string { return s.Num(math.Max(3, math.Round(0.05*s.dry()))) }

// dry is a rough mass of the craft for the allowance of wire and solder: motors, pack and
// boards.
func (s *sheet) dry() float64 {
	return float64(s.o.Rotors)*(figure(s.c.motor.Mass)+figure(s.c.prop.Mass)) + figure(s.c.pack.Mass) + figure(s.c.controller.Mass)
}

// Part is one class.
func (s *sheet) Part(name string) *shapes.Part {
	return map[string]*shapes.Part{
		"motor": s.c.motor, "prop": s.c.prop, "pack": s.c.pack, "esc": s.c.esc, "controller": s.c.controller,
		"power": s.c.power, "spacer": s.c.spacer, "grommet": s.c.grommet, "receiver": s.c.receiver,
		"strap": s.c.strap, "camera": s.c.camera, "sender": s.c.sender, "antenna": s.c.antenna, "post": s.post,
	}[name]
}

// Stock is the name of the carbon that the plates are cut from.
func (s *sheet) Stock() string {
	if s.c.small {
		return "plate-carbon"
	}
	return "carbon"
}

// MotorHole is the hole for a motor or stack screw: ISO 273 fine fit for M3, and for M2 as
// much as its small head still covers.
func (s *sheet) MotorHole() string {
	if s.c.small {
		return "2.15 ±0.05"
	}
	return "3.3"
}

// StackHole is the hole for a stack screw.
func (s *sheet) StackHole() string {
	if s.c.small {
		return "2.3"
	}
	return "3.3"
}

// Pattern is the side of the stack's holes.
func (s *sheet) Pattern() string { return s.Num(figure(s.c.controller.Square.X)) }

// Corner is the width over the corners of spacers of a measured lot: what the boards keep
// free round their holes, less a little.
func (s *sheet) Corner() string {
	if s.c.small {
		return "4.4 ±0.05"
	}
	return "5.77 ±0.05"
}

// PadZone is how long the rows of motor pads may be so that the corners of the spacers
// beside them keep their air: half the pattern, less half a corner, less 0.8, twice.
func (s *sheet) PadZone() string {
	most := 0.0
	for _, z := range s.c.esc.Body.Zones {
		if strings.HasPrefix(z.Name, "motor-pads") {
			most = z.Area.Bound().Size().X
		}
	}
	corner := 5.77
	if s.c.small {
		corner = 4.4
	}
	return s.Num(math.Min(most, math.Floor(figure(s.c.esc.Square.X)-corner-1.6)))
}

// Zone is the middle of one of a four-in-one's zones of pads, and its height.
func (s *sheet) Zone(name string) map[string]string {
	for _, z := range s.c.esc.Body.Zones {
		if z.Name == name {
			b := z.Area.Bound()
			return map[string]string{
				"x": s.Num(b.Center().X), "y": s.Num(b.Center().Y), "long": s.Num(b.Size().X), "wide": s.Num(b.Size().Y),
				"height": s.Num(figure(z.Height)) + " ±" + s.Num(solderTop),
			}
		}
	}
	return nil
}

// Stub is the length of the motor's stub over the prop seat: that of its class, or, to half
// a millimetre, one on which the hub leaves 5 mm for the nut.
func (s *sheet) Stub() string {
	need := figure(s.c.prop.Prop.HubT) + 5 + 2*measured
	return s.Num(math.Max(figure(s.c.motor.Motor.Stub), math.Ceil(2*need)/2))
}

// Pad is how thick the pad under the pack must be to keep it off the heads of the post
// screws beneath it: the head, its spread and the pad's.
func (s *sheet) Pad() string {
	head := 2.0
	if h := s.c.bolt.Thread.UsualHead(); h != nil {
		head = math.Max(head, h.H)
	}
	return s.Num(half(head + 2*measured))
}

// Amps sets the controller's rating beside what the motor draws, as a comment.
func (s *sheet) Amps() string {
	peak := figure(s.c.motor.Motor.MaxCurrent)
	return fmt.Sprintf("the motor peaks at about %s A: take one for %s A or more", s.Num(peak), s.Num(math.Ceil(escMargin*peak)))
}

// Zones names the zones of a four-in-one that are written out.
func (s *sheet) Zones() []string { return []string{"motor-pads-left", "motor-pads-right", "pack-pads"} }

// Measured0 prints a figure alone.
func (s *sheet) Measured0(d *shapes.Dim) string { return s.Num(figure(d)) }

// Third is a third of the allowance, its spread.
func (s *sheet) Third() string {
	return s.Num(math.Max(1, math.Round(0.05*s.dry()/3)))
}

// Unused lists the sockets of the flight board that stay empty in flight.
func (s *sheet) Unused() []string {
	var out []string
	for _, p := range s.c.controller.Ports {
		use := map[string]bool{"receiver": true, "esc": s.Four(), "video": s.Camera(), "camera": s.Camera(), "usb": true}
		if p.Plug != "" && !use[p.Name] {
			out = append(out, "flight-board."+p.Name)
		}
	}
	return out
}

// Stack lists spacers and boards.
func (s *sheet) Stack() []spaced { return s.stack }

// N prints one of the plan's lengths.
func (s *sheet) N(name string) string {
	v, ok := map[string]float64{
		"base": s.base, "roof": s.roof, "post": s.postLength, "long": 2 * s.halfX, "wide": 2 * s.halfY, "postX": s.postX, "postY": s.postY,
		"slotY": s.slotY, "slotLength": s.slotLength, "slotWidth": s.slotWidth, "arm": s.arm, "pad": s.pad, "wheelbase": s.wheelbase,
		"slide": s.slide, "pivotX": s.pivotX, "pivotZ": s.pivotZ, "receiverX": s.receiverX, "senderX": s.senderX,
		"antennaX": s.antennaX, "fromMotor": s.fromMotor, "tiltLo": s.tiltLo, "tiltHi": s.tiltHi, "cameraSlot": s.cameraSlot,
		"button": -math.Round(figure(s.c.controller.Body.Length) / 4),
	}[name]
	if !ok {
		panic("the page asks for " + name) // a fault of ours, which every test would meet
	}
	return s.Num(v)
}

var page = template.Must(template.New("build").Parse(pageText))
