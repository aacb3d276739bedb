package layout

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// JSON returns the assembly for other programs: what is where, so that every verdict can
// be worked out again without this one.
//
// It is one object; every list in it has one entry a line. Lengths are mm, angles
// degrees, masses g, in the body frame (x forward, y left, z up). Numbers have at most
// six decimals. The bytes depend on the build alone, not on the order of its keys, its
// place on disk or the machine.
//
//	dryfit      format number, 1
//	name, about as in the build
//	rotors      name, at [x, y], turn, side, plate, clocking, mount and seat heights,
//	            radius, rest and swept [bottom, top] of the band, motor, prop
//	cutting     diameter of the cutter, width of the cut, whether the build gives them
//	plates      id, material, thickness, bottom, top, outline (regions), holes with what is
//	            sunk into them; the tolerances of the cut edge, of the diameters of holes and
//	            of their places, as greatest deviations
//	posts       id, at, part, bottom, top, lower and upper plate
//	stacks      name, on, face, at, turn, pattern [x, y], screw, screws, float, levels; of
//	            boards the diameter of the holes, the diameter round them that is free of
//	            parts, and what the copper of their rings is joined to: "isolated" nothing,
//	            "ground" and "pack" the pack's sides, "" nobody looked
//	ports       id, mouth, direction, height of the axis, used, plug, corridor
//	packs       id, slide, swept outline, strap, slots, lead end
//	cameras     id, pivot, yaw, tilt range, reach of the lens front
//	antennas    id, base, tip, soft
//	joints      id, kind, screw, at, seat (height of the head's bearing), up, form and
//	            diameter of the head, diameter of a washer under it, layers from the head to
//	            the thread, grip, length, depth beyond it, least and most that
//	            are wanted, whether the length is given and whether it is sure; of prop
//	            nuts no lengths
//	terminals   id, owner, name, way, what it carries, at [x, y], height, direction in which a
//	            wire leaves [x, y], up (1, -1, 0 sideways), soldered or the port, size across,
//	            takes [least, most] V, draws A: of those that wires end at, each once
//	circuits    id, kind, from, to, diameter, least bend radius, slack, plugs at the ends, pair of
//	            plugs within and lead that comes with a part; wires (id, way, from and to
//	            terminal, what it carries, gauge, colour, cut length, strips, grams, whether the
//	            tool chose the gauge or added the wire); route (length, legs, ties, edges), or
//	            blocked with the gap, or neither when nothing was routed
//	components  id, kind, part, on, face, turn, mass and its centre
//	bodies      id, of, kind, plan (regions), bottom, top, blur and marks
//	needs, touching, guard, mass-limit, allowance, notes
//
// A height is an object: nominal, least and most at worst case, and the dimensions that
// nobody gave under unknown. A region is outer and holes, each a list of vertices
// [x, y, bulge]: a bulge is the tangent of a quarter of the sweep of the arc to the next
// vertex, positive counter-clockwise, 0 for a line; outer loops run counter-clockwise.
// A blur is the radius by which a body's edge may lie elsewhere in plan at worst. For
// tilted bodies plan, bottom and top enclose the body, and `tilted` is true.
func (a *Assembly) JSON() []byte {
	w := &jsonWriter{}
	w.open()
	w.field("dryfit", 1)
	w.field("name", a.Name)
	w.field("about", a.About)
	if a.Wheelbase != nil {
		w.field("wheelbase", jnum(a.Wheelbase.Value))
	}
	w.field("rotor-layout", a.RotorLayout)
	w.list("rotors", len(a.Rotors), func(i int) any { return jsonRotor(a.Rotors[i]) })
	w.field("cutting", jobj{{"cutter", jform(Of(a.Cutting.Cutter))}, {"kerf", jform(Of(a.Cutting.Kerf))}, {"given", a.Cutting.Given}})
	w.list("plates", len(a.Plates), func(i int) any { return jsonPlate(a.Plates[i]) })
	w.list("posts", len(a.Posts), func(i int) any { return jsonPost(a.Posts[i]) })
	w.list("stacks", len(a.Stacks), func(i int) any { return jsonStack(a.Stacks[i]) })
	w.list("ports", len(a.Ports), func(i int) any { return jsonPort(a.Ports[i]) })
	w.list("packs", len(a.Packs), func(i int) any { return jsonPack(a.Packs[i]) })
	w.list("cameras", len(a.Cameras), func(i int) any { return jsonCamera(a.Cameras[i]) })
	w.list("antennas", len(a.Antennas), func(i int) any { return jsonAntenna(a.Antennas[i]) })
	w.list("joints", len(a.Joints), func(i int) any { return jsonJoint(a.Joints[i]) })
	ends := a.terminals()
	w.list("terminals", len(ends), func(i int) any { return jsonTerminal(ends[i]) })
	w.list("circuits", len(a.Circuits), func(i int) any { return jsonCircuit(a.Circuits[i]) })
	w.list("components", len(a.Components), func(i int) any { return jsonComponent(a.Components[i]) })
	w.list("bodies", len(a.Bodies), func(i int) any { return jsonBody(a.Bodies[i]) })
	if a.MassLimit != nil {
		w.field("mass-limit", jform(Of(a.MassLimit)))
	}
	if a.Extra != nil {
		w.field("allowance", jform(Of(a.Extra)))
	}
	w.field("guard", orEmpty(a.Guard))
	needs := make([]jobj, 0, len(a.Needs))
	for _, rule := range sortedNeeds(a.Needs) {
		needs = append(needs, jobj{{"rule", rule}, {"mm", jform(Of(a.Needs[rule].MM))}})
	}
	w.list("needs", len(needs), func(i int) any { return needs[i] })
	w.list("touching", len(a.Excuses), func(i int) any {
		e := a.Excuses[i]
		return jobj{{"pair", []string{e.A, e.B}}, {"why", e.Why}}
	})
	w.list("notes", len(a.Notes), func(i int) any { return a.Notes[i] })
	return w.close()
}

func sortedNeeds(needs map[string]Need) []string {
	var out []string
	for rule := range needs {
		out = append(out, rule)
	}
	sortBy(out, func(s string) string { return s })
	return out
}

func jsonRotor(r *Rotor) jobj {
	turn, side := "counter-clockwise", "above"
	if r.Clockwise {
		turn = "clockwise"
	}
	if r.Below {
		side = "below"
	}
	return jobj{
		{"name", r.Name}, {"at", jpoint(r.At)}, {"turn", turn}, {"side", side}, {"plate", r.Arm},
		{"clocking", jnum(r.Clocking)}, {"mount", jform(r.MountZ)}, {"seat", jform(r.Seat)}, {"radius", jform(r.Radius)},
		{"rest", []jobj{jform(r.Lo), jform(r.Hi)}}, {"swept", []jobj{jform(r.SweptLo), jform(r.SweptHi)}},
		{"motor", partName(r.Motor.Part)}, {"prop", partName(r.Prop.Part)}, {"coaxial", r.Coaxial}, {"off-place", jnum(tolOf(r.Place))},
	}
}

func jsonPlate(p *Plate) jobj {
	holes := make([]jobj, 0, len(p.Holes))
	for i := range p.Holes {
		h := &p.Holes[i]
		o := jobj{{"name", h.Name}, {"for", h.For}, {"at", jpoint(h.At)}, {"diameter", jform(Of(h.Diameter))}}
		if h.Length > 0 {
			o = append(o, jfield{"length", jnum(h.Length)}, jfield{"turn", jnum(h.Turn)})
		}
		if k := h.Sink; k != nil {
			sink := jobj{{"diameter", jform(Of(k.Diameter))}}
			if k.Angle > 0 {
				sink = append(sink, jfield{"angle", jnum(k.Angle)})
			} else {
				sink = append(sink, jfield{"depth", jform(Of(k.Depth))})
			}
			if k.HasFace {
				sink = append(sink, jfield{"face", faceName(k.Face)})
			}
			o = append(o, jfield{"sink", sink})
		}
		if h.Press {
			o = append(o, jfield{"press-nut", true})
		}
		holes = append(holes, append(o, jfield{"loop", jloop(h.Loop)}))
	}
	return jobj{
		{"id", p.ID}, {"material", partName(p.Material)}, {"thickness", jform(Of(p.Thickness))},
		{"bottom", jform(p.Bottom)}, {"top", jform(p.Top)}, {"arm-of", p.ArmOf},
		{"cut-tolerance", jnum(tolOf(p.CutTol))}, {"hole-tolerance", jnum(tolOf(p.HoleTol))}, {"place-tolerance", jnum(tolOf(p.PlaceTol))},
		{"outline", jplan(p.Outline)}, {"holes", holes},
	}
}

func jsonPost(p *Post) jobj {
	return jobj{
		{"id", p.ID}, {"at", jpoint(p.At)}, {"part", partName(p.Part)}, {"bottom", jform(p.Bottom)}, {"top", jform(p.Top)},
		{"lower", p.Lower}, {"upper", p.Upper},
	}
}

func jsonStack(s *Stack) jobj {
	screws := make([]any, len(s.Screws))
	for i, c := range s.Screws {
		screws[i] = jpoint(c.At)
	}
	levels := make([]jobj, len(s.Levels))
	for i := range s.Levels {
		l := &s.Levels[i]
		o := jobj{{"id", l.Component.ID}, {"from", jform(l.From)}, {"to", jform(l.To)}}
		if l.Board {
			o = append(o, jfield{"board", partName(l.Component.Part)}, jfield{"turn", jnum(l.Turn)}, jfield{"flip", l.Flip},
				jfield{"face-down", jform(l.FaceDown)}, jfield{"face-up", jform(l.FaceUp)}, jfield{"grommet", partName(l.Grommet)})
			if c := l.Component; c.Part != nil && c.Part.Square != nil {
				sq := c.Part.Square
				o = append(o, jfield{"hole", jform(Of(or(sq.Hole, c.Label+" hole")))},
					jfield{"free-ring", jform(Of(or(sq.Clear, c.Label+" free ring round its holes")))}, jfield{"ring", sq.Ring})
			}
		} else {
			o = append(o, jfield{"width", jform(Of(l.Width))})
		}
		levels[i] = o
	}
	return jobj{
		{"name", s.Name}, {"on", s.On}, {"face", faceName(s.OnFace)}, {"at", jpoint(s.Pose.Shift)}, {"turn", jnum(inDegrees(s.Pose.Turn))},
		{"pattern", []jnum{jnum(value(s.Pattern.X)), jnum(value(s.Pattern.Y))}}, {"screw", s.Screw}, {"screws", screws},
		{"float", jnum(tolOf(s.Float))}, {"bottom", jform(s.Bottom)}, {"top", jform(s.Top)}, {"levels", levels},
	}
}

func jsonPort(p *PortPlace) jobj {
	o := jobj{
		{"id", p.ID}, {"mouth", jpoint(p.Mouth)}, {"direction", jpoint(p.Dir)}, {"up", p.Up}, {"axis", jform(p.Axis)},
		{"used", p.Used}, {"angled", p.Angled}, {"button", p.Port.Button}, {"reach", p.Port.Reach}, {"plug", partName(p.Plug)},
	}
	if plan, lo, hi, ok := p.Corridor(); ok {
		o = append(o, jfield{"corridor", jobj{{"plan", jloop(plan)}, {"bottom", jform(lo)}, {"top", jform(hi)}}})
	}
	return o
}

func jsonPack(p *Pack) jobj {
	slots := make([]string, 0, len(p.SlotHoles))
	for _, h := range p.SlotHoles {
		slots = append(slots, h.Name)
	}
	side := "above"
	if p.Below {
		side = "below"
	}
	return jobj{
		{"id", p.ID}, {"side", side}, {"slide", jnum(p.Slide)}, {"bottom", jform(p.Body.Bottom)}, {"top", jform(p.Body.Top)},
		{"swept", jplan(p.SweptBody.Plan)}, {"strap", partName(p.Strap)}, {"straps", p.StrapCount}, {"slots", slots}, {"lead-end", jpoint(p.LeadEnd)},
	}
}

func jsonCamera(c *CameraPlace) jobj {
	return jobj{
		{"id", c.ID}, {"pivot", jpoint(c.Pivot)}, {"height", jform(c.PivotZ)}, {"yaw", jnum(c.Yaw)},
		{"tilt", []jnum{jnum(c.TiltLo), jnum(c.TiltHi)}}, {"slot", jform(Of(c.Slot))}, {"lens-front", jform(c.LensFront)},
	}
}

func jsonAntenna(a *AntennaPlace) jobj {
	p := func(v [3]float64) []jnum { return []jnum{jnum(v[0]), jnum(v[1]), jnum(v[2])} }
	return jobj{{"id", a.ID}, {"base", p(a.Base)}, {"tip", p(a.Tip)}, {"soft", a.Ant != nil && a.Ant.Soft}}
}

func jsonJoint(j *Joint) jobj {
	o := jobj{
		{"id", j.ID}, {"kind", string(j.Kind)}, {"screw", j.Label()}, {"thread", j.Size}, {"material", j.Material}, {"step", j.Step},
		{"at", jpoint(j.At)}, {"seat", jform(j.Seat)}, {"up", j.Up}, {"level", j.Level},
	}
	if h := j.Head; h != nil {
		o = append(o, jfield{"head", h.Form}, jfield{"head-diameter", jnum(h.D)})
	}
	if j.Washer && j.Thread != nil {
		o = append(o, jfield{"washer-diameter", jnum(j.Thread.WasherOD)})
	}
	layers := make([]jobj, 0, len(j.Layers))
	for _, l := range j.Layers {
		layers = append(layers, jobj{{"name", l.Name}, {"kind", l.Kind}, {"component", l.Component}, {"thickness", jform(l.Thickness)}, {"conducts", l.Conducts}})
	}
	o = append(o, jfield{"layers", layers}, jfield{"into", j.Into.What}, jfield{"into-component", j.Into.Component})
	if j.Nut != nil {
		o = append(o, jfield{"nut", j.Nut.Kind}, jfield{"nut-material", j.Nut.Material})
	}
	if j.Length == nil {
		return o
	}
	o = append(o, jfield{"grip", jform(j.Grip)}, jfield{"length", jform(Of(j.Length))}, jfield{"depth", jform(j.Depth())}, jfield{"least", jform(j.Into.Least)})
	if j.Into.HasMost {
		o = append(o, jfield{"most", jform(j.Into.Most)})
	}
	return append(o, jfield{"given", j.Given}, jfield{"sure", j.Found})
}

func jsonComponent(c *Component) jobj {
	return jobj{
		{"id", c.ID}, {"label", c.Label}, {"kind", c.Kind}, {"part", partName(c.Part)}, {"on", c.On}, {"face", faceName(c.OnFace)},
		{"at", jpoint(c.Pose.Shift)}, {"turn", jnum(inDegrees(c.Pose.Turn))}, {"flip", c.Flip}, {"base", jform(c.Base)}, {"count", c.Count},
		{"mass", jform(c.Mass.Grams)}, {"mass-at", []jnum{jnum(c.Mass.X), jnum(c.Mass.Y), jnum(c.Mass.Z)}}, {"mass-guessed", c.Mass.Guess},
	}
}

func jsonBody(b *Body) jobj {
	o := jobj{
		{"id", b.ID}, {"of", b.Of}, {"kind", string(b.Kind)}, {"part", partName(b.Part)}, {"plan", jplan(b.Plan)},
		{"bottom", jform(b.Bottom)}, {"top", jform(b.Top)},
	}
	lo, hi := b.Blur.Worst()
	o = append(o, jfield{"blur", jnum(max(hi, -lo))})
	if b.Kind == ZoneBody {
		o = append(o, jfield{"face", faceName(b.Face)})
	}
	for _, m := range []struct {
		name string
		on   bool
	}{{"tilted", b.Tilted != nil}, {"soft", b.Soft}, {"conducts", b.Conducts}, {"hot", b.Hot}, {"live", b.Live}, {"swept", b.Swept}} {
		if m.on {
			o = append(o, jfield{m.name, true})
		}
	}
	return o
}

func partName(p *shapes.Part) string {
	if p == nil {
		return ""
	}
	return p.Name
}

func faceName(f shapes.Face) string {
	if f == shapes.Bottom {
		return "bottom"
	}
	return "top"
}

// tolOf is how far a dimension may lie from its value.
func tolOf(d *shapes.Dim) float64 {
	if d == nil {
		return 0
	}
	return max(d.Plus, d.Minus)
}

// jnum is a number with at most six decimals and without -0.
type jnum float64

// MarshalJSON writes the number; what is not finite becomes null.
func (n jnum) MarshalJSON() ([]byte, error) { return n.append(nil), nil }

func (n jnum) append(b []byte) []byte {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, "null"...)
	}
	s := strconv.FormatFloat(v, 'f', 6, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		s = "0"
	}
	return append(b, s...)
}

// jobj is an object whose keys keep their order.
type jobj []jfield

type jfield struct {
	key string
	val any
}

// MarshalJSON writes the object on one line.
func (o jobj) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, f := range o {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(strconv.Quote(f.key))
		b.WriteString(": ")
		v, err := marshal(f.val)
		if err != nil {
			return nil, err
		}
		b.Write(v)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// marshal is json.Marshal without the escapes meant for web pages.
func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimRight(b.Bytes(), "\n"), nil
}

func jpoint(p r2.Point) []jnum { return []jnum{jnum(p.X), jnum(p.Y)} }

func jform(f Form) jobj {
	lo, hi := f.Worst()
	o := jobj{{"nominal", jnum(f.Nominal())}, {"least", jnum(lo)}, {"most", jnum(hi)}}
	if gone := f.Missing(); len(gone) > 0 {
		var names []string
		for _, d := range gone {
			names = append(names, d.Name)
		}
		o = append(o, jfield{"unknown", names})
	}
	return o
}

func jloop(l geom.Loop) [][3]jnum {
	out := make([][3]jnum, 0, l.Len())
	for _, v := range l.Vertices() {
		out = append(out, [3]jnum{jnum(v.P.X), jnum(v.P.Y), jnum(v.Bulge)})
	}
	return out
}

func jplan(plan []geom.Region) []jobj {
	out := make([]jobj, 0, len(plan))
	for i := range plan {
		holes := make([][][3]jnum, 0, len(plan[i].Holes))
		for _, h := range plan[i].Holes {
			holes = append(holes, jloop(h))
		}
		out = append(out, jobj{{"outer", jloop(plan[i].Outer)}, {"holes", holes}})
	}
	return out
}

func orEmpty(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}

// jsonWriter writes an object with one field a line, and in lists one entry a line.
type jsonWriter struct {
	b     bytes.Buffer
	first bool
}

func (w *jsonWriter) open() {
	w.b.WriteString("{\n")
	w.first = true
}

func (w *jsonWriter) key(k string) {
	if !w.first {
		w.b.WriteString(",\n")
	}
	w.first = false
	w.b.WriteString("  " + strconv.Quote(k) + ": ")
}

func (w *jsonWriter) value(v any) {
	b, err := marshal(v)
	if err != nil {
		// Only a value that JSON does not know can fail; there is none among ours.
		b = []byte("null")
	}
	w.b.Write(b)
}

func (w *jsonWriter) field(k string, v any) {
	w.key(k)
	w.value(v)
}

func (w *jsonWriter) list(k string, n int, at func(i int) any) {
	w.key(k)
	if n == 0 {
		w.b.WriteString("[]")
		return
	}
	w.b.WriteString("[\n")
	for i := range n {
		w.b.WriteString("    ")
		w.value(at(i))
		if i < n-1 {
			w.b.WriteByte(',')
		}
		w.b.WriteByte('\n')
	}
	w.b.WriteString("  ]")
}

func (w *jsonWriter) close() []byte {
	w.b.WriteString("\n}\n")
	return w.b.Bytes()
}
