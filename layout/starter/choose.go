package starter

import (
	"fmt"
	"math"
	"strings"

	"dryfit/shapes"
)

// Packs in the catalogue have 1 to 6 cells; boards on 20 and 30.5 holes take 2 and more.
const (
	fewestCells = 2
	mostCells   = 6
)

// size is a prop with the motor classes that turn it, the usual one first.
type size struct {
	prop   string
	inch   float64
	motors []string
}

// sizes lists the props in inches. Which stator goes with which prop is trade knowledge;
// a second class stands in where the first is not wound for the cells.
func sizes() []size {
	return []size{
		{"2", 2, []string{"motor-1105"}},
		{"2.5", 2.5, []string{"motor-1106"}},
		{"3", 3, []string{"motor-1404", "motor-1303"}},
		{"3.5", 3.5, []string{"motor-1404", "motor-1303"}},
		{"4", 4, []string{"motor-1507", "motor-1404"}},
		{"5", 5, []string{"motor-2306", "motor-2205"}},
		{"5.1", 5.1, []string{"motor-2207"}},
		{"6", 6, []string{"motor-2206", "motor-2407"}},
		{"7", 7, []string{"motor-2806.5"}},
		{"8", 8, []string{"motor-2807"}},
		{"9", 9, []string{"motor-2812", "motor-2212"}},
		{"10", 10, []string{"motor-3110", "motor-2212"}},
	}
}

func sizeOf(prop string) (size, bool) {
	for _, s := range sizes() {
		if s.prop == strings.TrimSpace(prop) {
			return s, true
		}
	}
	return size{}, false
}

// motorFor returns the first class of a size that is wound for so many cells.
func motorFor(lib *shapes.Library, s size, cells int) (*shapes.Part, bool) {
	for _, name := range s.motors {
		if p, ok := lib.Find(name); ok && p.Motor != nil && p.Motor.CellsLo <= cells && cells <= p.Motor.CellsHi {
			return p, true
		}
	}
	return nil, false
}

// choice is the classes of a build.
type choice struct {
	size              size
	small             bool // M2 hardware and boards on 20 holes, else M3 and 30.5
	motor, prop, pack *shapes.Part
	esc               *shapes.Part // four-in-one or single
	escBoards         int          // four-in-one boards in the stack
	controller        *shapes.Part
	power             *shapes.Part // nil: written out, or none
	spacer, grommet   *shapes.Part
	posts             []*shapes.Part // that may be used, the slimmest first
	receiver          *shapes.Part
	strap             *shapes.Part
	usb, bolt         *shapes.Part // the plug; the stack's thread
	camera, sender    *shapes.Part // nil without a camera
	antenna           *shapes.Part
	leadOut           float64 // mm that the antenna's plug and lead stand out behind the transmitter
}

// escMargin: a speed controller is rated 1.2 to 1.3 times what its motor draws at full
// throttle, measured (figure of the trade).
const escMargin = 1.2

// packShare is the mass of the pack as a share of the thrust of all motors: crafts of the
// trade that fly well lie between 3 and 6 %.
const packShare = 0.04

// choose picks the classes. Motors with M2 screws belong to the small family: its boards
// have 20 holes and M2 hardware. All the others take 30.5 holes and M3.
func choose(lib *shapes.Library, o Options) (choice, error) {
	s, _ := sizeOf(o.Prop)
	c := choice{size: s}
	var missing []string
	find := func(name string) *shapes.Part {
		p, ok := lib.Find(name)
		if !ok {
			missing = append(missing, name)
			return &shapes.Part{Name: name}
		}
		return p
	}
	motor, ok := motorFor(lib, s, o.Cells)
	if !ok || len(motor.Motor.Circles) == 0 {
		return c, fmt.Errorf("the catalogue has no motor for %s-inch props on %d cells", s.prop, o.Cells)
	}
	c.motor = motor
	c.small = motor.Motor.Circles[0].Screw == "M2"
	c.prop, c.usb = find("prop-"+s.prop), find("usb-c")
	if c.small {
		c.controller, c.spacer, c.grommet = find("controller-20"), find("standoff-m2-hex-nylon"), find("grommet-m2")
		c.posts = []*shapes.Part{find("standoff-m2-round"), find("standoff-m3-round")}
		c.receiver, c.strap, c.bolt = find("rx-ceramic"), find("strap-15"), find("m2")
	} else {
		c.controller, c.spacer, c.grommet = find("controller-30.5"), find("standoff-m3-hex-nylon"), find("grommet-m3")
		c.posts = []*shapes.Part{find("standoff-m3-round")}
		c.receiver, c.strap, c.bolt = find("rx-ceramic"), find("strap-20"), find("m3")
	}
	if o.Camera {
		c.camera, c.sender, c.antenna = find("camera-19"), find("vtx-analog-20"), find("antenna-58-mmcx")
		if s.inch < 4 {
			c.camera, c.sender, c.antenna = find("camera-14"), find("vtx-analog-bare"), find("antenna-58-whip")
		}
	}
	if c.sender != nil {
		for _, p := range c.sender.Ports {
			if plug, ok := lib.Find(p.Plug); ok && plug.Plug != nil && !p.Upward {
				c.leadOut = math.Max(c.leadOut, most(p.Overhang)+most(plug.Plug.Beyond)+most(plug.Plug.Bend))
			}
		}
	}
	switch o.ESC {
	case FourInOne:
		c.escBoards = (o.Rotors + 3) / 4
		if c.small {
			c.esc = c.rated(o.Cells, find("esc4-20-35a"), find("esc4-20-50a"))
		} else {
			c.esc = c.rated(o.Cells, find("esc4-30.5-45a"), find("esc4-30.5-60a"))
		}
	case OnArms:
		c.esc = c.rated(o.Cells, find("esc-10a"), find("esc-20a"), find("esc-35a"), find("esc-45a"), find("esc-60a"))
		if !c.small {
			c.power = find("power-board-30.5")
		}
	}
	c.pack = c.packFor(lib, o)
	switch {
	case len(missing) > 0:
		return c, fmt.Errorf("the catalogue lacks %s", strings.Join(missing, ", "))
	case c.esc == nil:
		return c, fmt.Errorf("the catalogue has no speed controller for %s on %d cells", motor.Name, o.Cells)
	case c.pack == nil:
		return c, fmt.Errorf("the catalogue has no pack of %d cells", o.Cells)
	}
	return c, nil
}

// rated returns the first speed controller, in order of size, whose class is sold for the
// motor's current with its margin on a pack of so many cells (3.5 to 4.2 V each). Where the
// largest is not, it is enough that it carries the current: the page says both figures.
func (c *choice) rated(cells int, list ...*shapes.Part) *shapes.Part {
	for _, margin := range []float64{escMargin, 1} {
		for _, p := range list {
			if p.Amps != nil && p.Volts != nil && p.Amps.Value+p.Amps.Plus >= margin*c.motor.Motor.MaxCurrent.Value &&
				p.Volts.Lo <= 3.5*float64(cells) && float64(cells)*4.2 <= p.Volts.Hi+1e-9 {
				return p
			}
		}
	}
	return nil
}

// packFor returns the soft pack of the cells asked for whose mass is nearest to its
// share of the thrust.
func (c *choice) packFor(lib *shapes.Library, o Options) *shapes.Part {
	want := packShare * float64(o.Rotors) * c.motor.Motor.MaxThrust.Value
	var best *shapes.Part
	for _, p := range lib.ByKind(shapes.Battery) {
		if p.Pack == nil || p.Pack.Cells != o.Cells || p.Mass == nil || p.Amps != nil { // with a current of their own: cylindrical cells
			continue
		}
		if best == nil || math.Abs(p.Mass.Value-want) < math.Abs(best.Mass.Value-want) {
			best = p
		}
	}
	return best
}
