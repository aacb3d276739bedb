package starter

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// Clearances of a starter, mm. They lie a little over what the rules ask for, so that
// tolerances do not eat them and the first change does not tip a verdict.
const (
	plugRoom  = 10.5 // a 1.0 mm pitch side plug with its bent wires: 1.5 + 8, overhang and air
	handAir   = 2.0  // beside a part that is stuck down by hand, which lies within 1
	edgeWeb   = 3.0  // plate left outside a post or a strap slot
	hardAir   = 1.5  // between board edges, posts and plates in plan
	leadRoom  = 14.0 // straight lead with its bend at each end of a single controller: 8 to 12, and its spread
	solderTop = 0.4  // spread of a solder mound's height, as measured
	measured  = 0.2  // spread of what callipers tell
	sleeve    = 0.35 // wall of the heat-shrink round a single controller
	tape      = 0.5  // under it
)

// Needs of the trade by the prop's label in inches, in mm, as the rules of the rotors
// have them; each starter adds a spread.
func tipNeed(in float64) float64   { return between(in, 3, 3, 4, 5, 5, 5, 6, 8, 7, 8, 8, 12) }
func sweepNeed(in float64) float64 { return between(in, 3, 3, 5, 5, 7, 8) }
func underNeed(in float64) float64 { return between(in, 3, 3, 5, 5, 7, 8, 10, 10) }

// between reads a table of x, y, x, y with x ascending: linear inside, level outside.
func between(x float64, table ...float64) float64 {
	if x <= table[0] {
		return table[1]
	}
	for i := 2; i < len(table); i += 2 {
		if x0, y0, x1, y1 := table[i-2], table[i-1], table[i], table[i+1]; x <= x1 {
			return y0 + (y1-y0)*(x-x0)/(x1-x0)
		}
	}
	return table[len(table)-1]
}

// spaced is a spacer and the board over it.
type spaced struct {
	Length float64
	Board  string // name in the stack
}

// plan is the worked-out geometry, mm.
type plan struct {
	base, roof   float64 // thicknesses
	stack        []spaced
	post         *shapes.Part
	postLength   float64
	halfX, halfY float64 // of base body and roof
	postX, postY float64
	slotY        float64 // middle of the strap slots
	slotLength   float64
	slotWidth    float64
	arm, pad     float64 // width of an arm, diameter of a motor pad
	wheelbase    float64
	slide        float64
	pivotX       float64 // side-screw axis of the camera
	pivotZ       float64 // over the base
	receiverX    float64
	senderX      float64
	antennaX     float64
	fromMotor    float64 // to the near end of a controller on its arm
	tiltLo       float64
	tiltHi       float64
	cameraSlot   float64
}

// newPlan works the geometry out, from the inside outwards: stack and posts in height,
// what lies on the plates in plan, the plates round it, and the rotors round the plates.
func newPlan(o Options, c choice) plan {
	p := plan{tiltLo: 10, tiltHi: 30, slide: math.Max(5, math.Min(10, 2*math.Floor(c.size.inch)))}
	p.plates(c)
	p.heights(o, c)
	p.body(o, c)
	p.rotors(o, c)
	return p
}

// plates takes carbon of about a millimetre for each inch of prop under the motors (3 at
// least, 7 at most), in whole millimetres, for which motor screws are sold, and less over
// them, in thicknesses that are sold.
func (p *plan) plates(c choice) {
	stock := []float64{1.5, 2, 2.5, 3}
	p.base = nearest([]float64{3, 4, 5, 6, 7}, c.size.inch)
	p.roof = nearest(stock, math.Min(3, 1+0.3*c.size.inch))
}

// heights stacks the boards: each spacer is the shortest sold that keeps what hangs under
// a board off what stands on the one below, and 2 mm off bare carbon. The posts are the
// shortest sold that pass over the stack and the ends of its bolts with 1 mm of air, over the
// USB plug with the strap between, and over the camera's swing.
func (p *plan) heights(o Options, c choice) {
	lengths := c.spacer.Standoff.Lengths
	const toCarbon, hard, soft, spread = 2.0, 1.5, 2.0, 0.5
	var top float64 // over the base
	under := func(b *shapes.Part) float64 { return figure(b.Body.Below) + measured }
	below := toCarbon
	add := func(b *shapes.Part, name string, over float64) {
		need := below + under(b) + spread
		l := atLeast(lengths, need)
		p.stack = append(p.stack, spaced{l, name})
		top += l + figure(b.Body.Pcb)
		below = over
	}
	for i := range c.escBoards {
		over := tallest(c.esc) + hard
		if i == c.escBoards-1 {
			over += soft - hard
		}
		name := "esc-board"
		if c.escBoards > 1 {
			name = []string{"esc-lower", "esc-upper"}[i]
		}
		add(c.esc, name, over)
	}
	if o.ESC == OnArms {
		b := powerBoard(c)
		add(b, "power-board", tallest(b)+soft)
	}
	add(c.controller, "flight-board", 0)
	pcb := figure(c.controller.Body.Pcb)
	tight := figure(c.grommet.Grommet.Tight) + 1
	face := top + (tight-pcb)/2 // of the controller
	loose := spread + measured*float64(len(p.stack))
	need := math.Max(top+tight-pcb+nutHeight(c), face+figure(c.controller.Body.Above)+measured) + 1 + loose
	// The bolts go from under the base through the stack: the shortest sold that fill their
	// nuts with a turn of thread to spare, and what stands out beyond them.
	through := p.base + top - pcb + figure(c.grommet.Grommet.Tight) + nutHeight(c) + c.bolt.Thread.Pitch + loose + 0.1
	if c.small { // a washer under the head
		through += c.bolt.Thread.WasherT
	}
	need = math.Max(need, atLeast(c.bolt.Thread.Lengths, through)-p.base+1+loose)
	for _, port := range c.controller.Ports {
		if port.Reach && !port.Button { // its plug passes under the strap
			need = math.Max(need, face+most(port.Axis)+most(c.usb.Plug.Height)/2+0.3+most(c.strap.Strap.Thickness)+loose)
		}
	}
	if c.camera != nil {
		up, down := swing(c.camera.Camera, p.tiltLo, p.tiltHi)
		p.pivotZ = math.Ceil(down + hardAir)
		need = math.Max(need, p.pivotZ+up+hardAir)
	}
	for _, class := range c.posts {
		p.post, p.postLength = class, atLeast(class.Standoff.Lengths, need)
		if p.postLength >= need {
			break
		}
	}
	if c.camera != nil { // half way between the lowest and the highest that it may sit
		up, _ := swing(c.camera.Camera, p.tiltLo, p.tiltHi)
		p.pivotZ = math.Floor((p.pivotZ + p.postLength - up - hardAir) / 2)
	}
}

// body lays the parts out along the craft: the stack in the middle with room for its plugs
// before and behind, the camera in front, receiver and transmitter behind, the pack on top.
// The plates reach round all of it, with the posts in their corners. The strap goes
// through the roof under the edges of the pack, so that the roof may be narrower than that.
func (p *plan) body(o Options, c choice) {
	long, _ := boardHalves(o, c)
	core := long + plugRoom
	r := figure(p.post.Standoff.OD)/2 + 0.5
	behindCore := func(b *shapes.Body) (at, end float64) {
		at = half(core + handAir + figure(b.Length)/2)
		return at, at + figure(b.Length)/2
	}
	at, rear := behindCore(c.receiver.Body)
	p.receiverX = -at
	if c.sender != nil {
		at, end := behindCore(c.sender.Body)
		p.senderX, rear = -at, math.Max(rear, end)
	}
	p.halfX = rear + handAir + 2*r + edgeWeb

	var ahead float64
	if c.camera != nil {
		cam := c.camera.Camera
		ahead = half(lensAhead(cam) + 1.5 + 1.2) // behind the line of the plates' fronts, with its spread
		p.halfX = math.Max(p.halfX, core+hardAir+behind(cam)+ahead)
		p.cameraSlot = half(figure(cam.Width) + 0.5)
	}
	end := figure(c.pack.Body.Length)/2 + p.slide + figure(c.pack.Pack.LeadRoom)
	if c.antenna != nil {
		end += 8 // its foot, out of the way of the leads
		p.antennaX = -math.Ceil(end - 3)
	}
	p.halfX = math.Ceil(math.Max(p.halfX, end))
	if c.camera != nil {
		p.pivotX = p.halfX - ahead
	}

	free := 8.0 // half of what stays free between posts: plugs pass
	if c.camera != nil {
		free = p.cameraSlot/2 + 3 // camera, its cheeks and a millimetre
	}
	p.slotLength, p.slotWidth = figure(c.strap.Strap.Width)+3, 3.5
	bolts := figure(c.controller.Square.Y)/2 + c.bolt.Thread.Major/2 + edgeWeb
	p.halfY = math.Ceil(math.Max(math.Max(free+2*r+edgeWeb, bolts), figure(c.pack.Body.Width)/2-2))
	p.slotY = p.halfY - edgeWeb - p.slotWidth/2
	p.postX, p.postY = p.halfX-r-edgeWeb, p.halfY-r-edgeWeb
}

// half rounds up to half a millimetre.
func half(v float64) float64 { return math.Ceil(2*v) / 2 }

// envelope is a rectangle round the origin that the tips keep off.
type envelope struct{ x, y, need float64 }

// envelopes lists what the discs pass: plates and posts, the pack slid as far as it
// goes with its leads, the antenna, and the plugs of the boards. Soft things need twice the
// distance of hard ones, a pack 8 mm (figures of the trade).
func (p *plan) envelopes(o Options, c choice) []envelope {
	hard := sweepNeed(c.size.inch)
	long, wide := boardHalves(o, c)
	packX, packY := most(c.pack.Body.Length)/2+1, most(c.pack.Body.Width)/2+1 // set by hand within 1
	out := []envelope{
		{p.halfX, p.halfY, hard},
		{long, wide, hard},
		{long + plugRoom, 8, 2 * hard},
		{8, wide + plugRoom, 2 * hard},
		{packX + p.slide, packY, 8},
		{packX + most(c.pack.Pack.LeadRoom) + 1, packY, 2 * hard},
	}
	if c.antenna != nil {
		r := figure(c.antenna.Antenna.HeadD)/2 + handAir
		out = append(out, envelope{-p.antennaX + r, r, 2 * hard})
	}
	if c.sender != nil { // the plug and lead of its antenna
		out = append(out, envelope{-p.senderX + figure(c.sender.Body.Length)/2 + c.leadOut + handAir, 3, 2 * hard})
	}
	return out
}

// rotors takes the smallest circle, to 2 mm, on which the tips clear each other and the
// discs clear the craft; and, with controllers on the arms, on which each has room for its
// leads.
func (p *plan) rotors(o Options, c choice) {
	in := c.size.inch
	radius := figure(c.prop.Prop.RealD)/2 + 0.3
	p.pad = math.Ceil(figure(c.motor.Motor.BaseD) + 6)
	p.arm = math.Ceil(armWidth0 + armPerInch*in)

	ring := geom.PolygonRadius(2*radius+tipNeed(in)+1.5, o.Rotors)
	for _, a := range bearings(o.Rotors) {
		for _, e := range p.envelopes(o, c) {
			ring = math.Max(ring, outside(a, e.x, e.y, radius+e.need+hardAir))
		}
	}
	if o.ESC == OnArms {
		ring = math.Max(ring, p.onArms(o, c, radius))
	}
	p.wheelbase = 2 * math.Ceil(ring)
}

// An arm is armWidth0 and armPerInch for each inch of prop wide: 8 mm for 2 inch, 14 for 5,
// 24 for 10, as they are cut.
const (
	armWidth0  = 4.0
	armPerInch = 2.0
)

// onArms puts the controllers behind the motors' leads if the blades pass over them with
// their need and 2 mm more, else so far in that their leads end before the tips. It widens
// the arms to carry them and returns the circle on which the room at both ends is there.
func (p *plan) onArms(o Options, c choice, radius float64) float64 {
	motor, esc := c.motor.Motor, c.esc.Body
	const spread = 1.2 // of motor, blade root, tape, sleeve and controller, one upon the other
	p.arm = math.Max(p.arm, math.Ceil(figure(esc.Width)+2*sleeve+3))
	top := tape + 2*sleeve + figure(esc.Height)
	blades := figure(motor.BodyH) - figure(c.prop.Prop.BelowHub)
	p.fromMotor = math.Ceil(figure(motor.BellD)/2 + leadRoom)
	if blades-top < underNeed(c.size.inch)+2+spread {
		p.fromMotor = math.Ceil(math.Max(p.fromMotor, radius+leadRoom+handAir))
	}
	hub := 0.0
	for _, a := range bearings(o.Rotors) {
		hub = math.Max(hub, along(a, p.halfX, p.halfY, figure(esc.Width)+2*sleeve))
	}
	return hub + leadRoom + figure(esc.Length) + handAir + p.fromMotor
}

// bearings of the rotors from forward, in radians: a flat front, so that the camera looks
// out between two discs; with three, one to the rear.
func bearings(n int) []float64 {
	var out []float64
	for i := range n {
		a := (float64(i) + 0.5) * 2 * math.Pi / float64(n)
		out = append(out, a)
	}
	return out
}

// outside returns how far out along a bearing a point comes clear of a rectangle of half
// sides a and b round the origin by a distance.
func outside(bearing, a, b, clear float64) float64 {
	sin, cos := math.Sincos(bearing)
	return geom.RoundedRectangle(r2.Point{}, 2*(a+clear), 2*(b+clear), clear).Leaves(r2.Point{}, r2.Point{X: cos, Y: sin})
}

// along returns how far out along a bearing a strip of that width leaves a rectangle of
// half sides a and b.
func along(bearing, a, b, width float64) float64 {
	sin, cos := math.Sincos(bearing)
	dir := r2.Point{X: cos, Y: sin}
	strip := geom.Bar(r2.Point{}, dir.Mul(a+b+width), width, width)
	most := 0.0
	rest, err := geom.Intersection([]geom.Region{geom.RegionOf(strip)}, []geom.Region{geom.RegionOf(geom.Rectangle(r2.Point{}, 2*a, 2*b))})
	if err != nil {
		return a + b // no nearer than the farthest corner
	}
	for _, g := range rest {
		most = max(most, g.Outer.Support(dir).Dot(dir))
	}
	return most
}
