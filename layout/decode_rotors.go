package layout

import (
	"cmp"
	"slices"
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// seat is a rotor's place in a layout.
type seat struct {
	name    string
	bearing float64 // degrees from forward, counter-clockwise
}

// seats lists a layout's rotors counter-clockwise from the nose. pointed says that one
// rotor of six or eight stands straight ahead.
func seats(layout string, pointed bool) []seat {
	switch layout {
	case LayoutCross, LayoutStretched:
		return []seat{{"front-left", 45}, {"rear-left", 135}, {"rear-right", 225}, {"front-right", 315}}
	case LayoutPlus:
		return []seat{{"front", 0}, {"left", 90}, {"rear", 180}, {"right", 270}}
	case LayoutThree:
		return []seat{{"front-left", 60}, {"rear", 180}, {"front-right", 300}}
	case LayoutSix:
		if pointed {
			return []seat{{"front", 0}, {"front-left", 60}, {"rear-left", 120}, {"rear", 180}, {"rear-right", 240}, {"front-right", 300}}
		}
		return []seat{{"front-left", 30}, {"left", 90}, {"rear-left", 150}, {"rear-right", 210}, {"right", 270}, {"front-right", 330}}
	case LayoutEight:
		if pointed {
			return []seat{{"front", 0}, {"front-left", 45}, {"left", 90}, {"rear-left", 135},
				{"rear", 180}, {"rear-right", 225}, {"right", 270}, {"front-right", 315}}
		}
		return []seat{{"front-left", 22.5}, {"left-front", 67.5}, {"left-rear", 112.5}, {"rear-left", 157.5},
			{"rear-right", 202.5}, {"right-rear", 247.5}, {"right-front", 292.5}, {"front-right", 337.5}}
	}
	return nil
}

// allSeats lists every name that some layout uses.
func allSeats() []string {
	var out []string
	for _, l := range []string{LayoutCross, LayoutPlus, LayoutThree, LayoutSix, LayoutEight} {
		for _, pointed := range []bool{false, true} {
			for _, s := range seats(l, pointed) {
				if !slices.Contains(out, s.name) {
					out = append(out, s.name)
				}
			}
		}
	}
	return out
}

const (
	clockwise        = "clockwise"
	counterClockwise = "counter-clockwise"
	belowSuffix      = "-below"
)

// rotors reads the section rotors.
func (d *decoder) rotors(n *read.Node) {
	if n == nil {
		return
	}
	f := d.diags.Fields(n, "the section rotors")
	if !f.OK() {
		d.lost["rotors"] = true
		return
	}
	set := &RotorSet{Pos: n.Pos()}
	d.b.Rotors = set
	ln := f.Need("layout", "cross, plus, stretched, three, six, eight or by-hand")
	if ln != nil {
		set.Layout, _ = d.diags.Enum(ln, LayoutCross, LayoutPlus, LayoutStretched, LayoutThree, LayoutSix, LayoutEight, LayoutByHand)
	}
	pointed, doubt := d.rotorSizes(f, set)
	if p := f.Get("pairs"); p != nil {
		word, _ := d.diags.Enum(p, "none", "coaxial")
		set.Coaxial = word == "coaxial"
		if set.Coaxial && set.Layout == LayoutByHand {
			d.diags.At(p, "with `layout: by-hand` pairs are not made, each rotor is written", "", "give the two rotors of a pair the same `at:`")
			set.Coaxial = false
		}
	}
	d.ref(f.Get("on"), &set.On, wantPlate())

	common := d.rotorOver(f, rotorDefaults{})
	each := f.Get("each")
	switch {
	case set.Layout == "" || doubt:
		// The layout is in doubt, so no name can be judged.
		d.lost["rotors"] = true
		f.Also(allSeats()...)
		f.Also("turns")
		d.rotorEach(each, common)
	case set.Layout == LayoutByHand:
		d.rotorsByHand(f, set, each, common)
	default:
		d.rotorsOnLayout(f, set, seats(set.Layout, pointed), each, common)
	}
	d.rotorsNeed(f, set, each)
	f.Done()
}

// rotorSizes reads the figures that place the rotors of a layout and refuses those that
// belong to another one. It tells whether one rotor of six or eight points ahead, and
// whether that is in doubt.
func (d *decoder) rotorSizes(f *read.Fields, set *RotorSet) (pointed, doubt bool) {
	size := shapes.SizeMM()
	circle := func() bool { return set.Layout != LayoutStretched && set.Layout != LayoutByHand }
	wb, length, width := f.Get("wheelbase"), f.Get("length"), f.Get("width")
	set.Wheelbase = d.dim(wb, "wheelbase", size)
	set.Length = d.dim(length, "rotors length", size)
	set.Width = d.dim(width, "rotors width", size)
	d.known(wb, set.Wheelbase)
	d.known(length, set.Length)
	d.known(width, set.Width)
	switch {
	case set.Layout == "":
	case circle():
		if wb == nil {
			f.Lack("wheelbase", "the rotors need `wheelbase:`", "the diameter of the circle through the rotors, such as 220 mm", "")
		}
		for _, no := range []*read.Node{length, width} {
			if no != nil {
				d.diags.At(no, "`length:` and `width:` belong to `layout: stretched`", "", "with `layout: "+set.Layout+"` the wheelbase says it all")
				break
			}
		}
		set.Length, set.Width = nil, nil
	case set.Layout == LayoutStretched:
		if length == nil {
			f.Lack("length", "stretched rotors need `length:`", "the distance of the motor axes from front to rear", "")
		}
		if width == nil {
			f.Lack("width", "stretched rotors need `width:`", "the distance of the motor axes from left to right", "")
		}
		if wb != nil {
			d.diags.At(wb, "a stretched layout has no circle, so no wheelbase", "", "write `length:` (front to rear) and `width:` (left to right)")
		}
		set.Wheelbase = nil
	default:
		for _, no := range []*read.Node{wb, length, width} {
			if no != nil {
				d.diags.At(no, "with `layout: by-hand` each rotor has its own place", "", "write `at:` for each rotor under `each:`")
				break
			}
		}
		set.Wheelbase, set.Length, set.Width = nil, nil, nil
	}
	first := f.Get("first")
	if first == nil {
		return false, slip(f.Node(), "first")
	}
	flat := map[string]float64{LayoutSix: 30, LayoutEight: 22.5}[set.Layout]
	switch v, ok := d.fixed(first, shapes.AngleDeg(), "write the angle alone"); {
	case set.Layout == "" || !ok:
		return false, true
	case flat < 1:
		d.diags.At(first, "`first:` belongs to the layouts six and eight", "", "delete it")
	case v > -0.001 && v < 0.001:
		return true, false
	case v < flat-0.001 || v > flat+0.001:
		d.diags.At(first, first.Describe()+" is not a first bearing of this layout",
			"0 deg (one rotor straight ahead) or "+map[string]string{LayoutSix: "30", LayoutEight: "22.5"}[set.Layout]+" deg (flat front)",
			"for any other use `layout: by-hand`")
		return false, true
	}
	return false, false
}

// rotorDefaults is what may be said once for all rotors or again for one.
type rotorDefaults struct {
	motor, prop *shapes.Part
	below       bool
	clocking    float64
	nut         string
	screw       *ScrewSpec
	propScrew   *ScrewSpec
}

// rotorOver reads the keys over defaults.
func (d *decoder) rotorOver(f *read.Fields, c rotorDefaults) rotorDefaults {
	if n := f.Get("motor"); n != nil {
		c.motor = d.part(n, "a motor", shapes.MotorKind)
	}
	if n := f.Get("prop"); n != nil {
		c.prop = d.part(n, "a prop", shapes.PropKind)
	}
	if n := f.Get("side"); n != nil {
		word, _ := d.diags.Enum(n, "above", "below")
		c.below = word == "below"
	}
	c.clocking = d.angle(f, "clocking", c.clocking)
	c.nut = f.Enum("nut", c.nut, "insert", "plain", "left-hand")
	if n := f.Get("screw"); n != nil {
		c.screw = d.screw(n, "motor screw")
	}
	if n := f.Get("prop-screw"); n != nil {
		c.propScrew = d.screw(n, "prop screw")
	}
	return c
}

// rotorsOnLayout makes the rotors of a fixed layout.
func (d *decoder) rotorsOnLayout(f *read.Fields, set *RotorSet, ring []seat, each *read.Node, common rotorDefaults) {
	cw := d.rotorTurns(f, ring)
	turns := f.Get("turns")
	var eachNames []string
	for _, s := range ring {
		upper := &RotorSpec{Name: s.name, Bearing: s.bearing, Clockwise: cw[s.name], Pos: set.Pos}
		upper.fill(common)
		set.Rotors = append(set.Rotors, upper)
		eachNames = append(eachNames, s.name)
		if set.Coaxial {
			lower := &RotorSpec{Name: s.name + belowSuffix, Bearing: s.bearing, Clockwise: !upper.Clockwise, Coaxial: s.name, Pos: set.Pos}
			lower.fill(common)
			lower.Below = !upper.Below
			upper.Coaxial = lower.Name
			set.Rotors = append(set.Rotors, lower)
			eachNames = append(eachNames, lower.Name)
		}
	}
	said := map[string]*read.Node{}
	if turns != nil {
		for _, e := range d.rotorNames(turns, "turns", eachNames) {
			if word, ok := d.diags.Enum(e.Value, clockwise, counterClockwise); ok {
				set.find(e.Key).Clockwise = word == clockwise
			}
			said[e.Key] = e.Value
		}
		// The lower rotor of a pair turns against the upper one unless it is said.
		for _, r := range set.Rotors {
			if strings.HasSuffix(r.Name, belowSuffix) && said[r.Name] == nil {
				r.Clockwise = !set.find(r.Coaxial).Clockwise
			}
		}
	}
	if each == nil {
		return
	}
	for _, e := range d.rotorNames(each, "each", eachNames) {
		r := set.find(e.Key)
		ef := d.diags.Fields(e.Value, "a rotor")
		if t := ef.Get("turn"); t != nil && said[e.Key] != nil {
			d.diags.AtRelated(t, "the turn of "+e.Key+" is said twice", "", "delete one of the two", read.Related{Pos: said[e.Key].Pos(), Text: "the other one"})
		}
		d.rotorOne(ef, r)
	}
}

// rotorTurns decides who turns which way: from the one rotor that is named at the top of
// the section, else from the front right (or front) one, counter-clockwise, neighbours
// are opposed all round. With three the rear one turns as the rotor that is named.
func (d *decoder) rotorTurns(f *read.Fields, ring []seat) map[string]bool {
	start, startCW := 0, false
	for i, s := range ring {
		if s.name == "front-right" {
			start = i
		}
	}
	var said []*read.Node
	for i, s := range ring {
		n := f.Get(s.name)
		if n == nil {
			continue
		}
		if word, ok := d.diags.Enum(n, clockwise, counterClockwise); ok && len(said) == 0 {
			start, startCW = i, word == clockwise
		}
		said = append(said, n)
	}
	slices.SortFunc(said, func(a, b *read.Node) int {
		return cmp.Or(cmp.Compare(a.Pos().Line, b.Pos().Line), cmp.Compare(a.Pos().Col, b.Pos().Col))
	})
	for i, n := range said {
		if i > 0 {
			d.diags.AtRelated(n, "one rotor's turn decides all the others, and it is said already",
				"", "to say it rotor by rotor write `turns: {front-left: clockwise, ...}`", read.Related{Pos: said[0].Pos(), Text: "here"})
		}
	}
	cw := map[string]bool{}
	for k := range ring {
		cw[ring[(start+k)%len(ring)].name] = startCW == (k%2 == 0)
	}
	if len(ring) == 3 {
		// An odd ring cannot alternate: the two front ones are opposed, the rear one turns
		// as the named front one, and if it is named itself as the front right one.
		switch ring[start].name {
		case "rear":
			cw["rear"], cw["front-right"], cw["front-left"] = startCW, startCW, !startCW
		case "front-left":
			cw["front-left"], cw["front-right"], cw["rear"] = startCW, !startCW, startCW
		default:
			cw["front-right"], cw["front-left"], cw["rear"] = startCW, !startCW, startCW
		}
	}
	return cw
}

// rotorNames returns the entries whose keys are rotors of the layout and reports others.
func (d *decoder) rotorNames(n *read.Node, key string, names []string) []read.Entry {
	if n.Kind() != read.Map {
		d.diags.At(n, "`"+key+":` is a map of rotors, not "+n.Describe(), key+": {"+names[0]+": ...}", "")
		return nil
	}
	var out []read.Entry
	for _, e := range n.Entries() {
		if slices.Contains(names, e.Key) {
			out = append(out, e)
			continue
		}
		d.diags.AtKey(n, e, read.Quote(e.Key)+" is not a rotor of this layout", "one of "+strings.Join(names, ", "), read.DidYouMean(e.Key, names))
	}
	return out
}

// rotorOne reads what is said of one rotor.
func (d *decoder) rotorOne(f *read.Fields, r *RotorSpec) {
	if f.Node() != nil {
		r.Pos = f.Node().Pos()
	}
	c := d.rotorOver(f, rotorDefaults{motor: r.Motor, prop: r.Prop, below: r.Below, clocking: r.Clocking, nut: r.Nut,
		screw: r.Screw, propScrew: r.PropScrew})
	r.fill(c)
	if n := f.Get("at"); n != nil {
		at := d.point(n)
		r.At = &at
	}
	if n := f.Get("turn"); n != nil {
		if word, ok := d.diags.Enum(n, clockwise, counterClockwise); ok {
			r.Clockwise = word == clockwise
		}
	}
	r.Hand = f.Enum("hand", "", clockwise, counterClockwise)
	if n := f.Get("height"); n != nil {
		r.Height = d.dim(n, r.Name+" height", shapes.OffsetMM())
		d.known(n, r.Height)
	}
	f.Done()
}

// rotorEach reads `each:` when the layout is in doubt, for the mistakes inside.
func (d *decoder) rotorEach(each *read.Node, common rotorDefaults) {
	for _, e := range each.Entries() {
		r := &RotorSpec{Name: e.Key}
		r.fill(common)
		d.rotorOne(d.diags.Fields(e.Value, "a rotor"), r)
	}
}

func (d *decoder) rotorsByHand(f *read.Fields, set *RotorSet, each *read.Node, common rotorDefaults) {
	for _, name := range append(allSeats(), "turns") {
		f.Refuse(name, "with `layout: by-hand` each rotor says its own turn", "write `turn:` for each rotor under `each:`")
	}
	if each == nil {
		f.Lack("each", "rotors placed by hand need `each:`", "each: {nose: {at: [90, 0], turn: clockwise}, ...}", "")
		d.lost["rotors"] = true
		return
	}
	for _, e := range d.named(f, "each") {
		r := &RotorSpec{Name: e.Key}
		r.fill(common)
		set.Rotors = append(set.Rotors, r)
		ef := d.diags.Fields(e.Value, "a rotor")
		for _, must := range []struct{ key, want string }{{"at", placeForm}, {"turn", "clockwise or counter-clockwise, seen from above"}} {
			ef.Need(must.key, must.want)
		}
		d.rotorOne(ef, r)
	}
	for i, r := range set.Rotors {
		for _, o := range set.Rotors[:i] {
			if r.At != nil && o.At != nil && r.At.P.Sub(o.At.P).Norm() < 1e-6 && r.Coaxial == "" && o.Coaxial == "" && r.Below != o.Below {
				r.Coaxial, o.Coaxial = o.Name, r.Name
			}
		}
	}
	if len(set.Rotors) == 0 && each.Kind() == read.Map && len(each.Entries()) == 0 {
		d.diags.At(each, "there is no rotor under `each:`", "each: {nose: {at: [90, 0], turn: clockwise}, ...}", "")
	}
}

// rotorsNeed reports rotors without a motor or a prop: once for the set when all lack it.
func (d *decoder) rotorsNeed(f *read.Fields, set *RotorSet, each *read.Node) {
	if len(set.Rotors) == 0 {
		return
	}
	for _, want := range []string{"motor", "prop"} {
		if f.Has(want) {
			continue
		}
		misnamed := slices.ContainsFunc(each.Entries(), func(e read.Entry) bool {
			return set.find(e.Key) == nil && e.Value.Get(want) != nil
		})
		if misnamed {
			continue // reported by its name; with it mended nothing may be lacking
		}
		var bare []string
		for _, r := range set.Rotors {
			if own := each.Get(r.Name); own.Get(want) == nil && !slip(own, want) {
				bare = append(bare, r.Name)
			}
		}
		switch {
		case len(bare) == 0:
		case len(bare) == len(set.Rotors):
			f.Lack(want, "the rotors need `"+want+":`", "the name of a "+want+", from `parts:` or from the catalogue", "")
		default:
			f.Lack(want, "no `"+want+":` is said for "+strings.Join(bare, ", "), "the name of a "+want+", for all rotors or for these under `each:`", "")
		}
	}
}

func (r *RotorSpec) fill(c rotorDefaults) {
	r.Motor, r.Prop, r.Below, r.Clocking, r.Nut = c.motor, c.prop, c.below, c.clocking, c.nut
	r.Screw, r.PropScrew = c.screw, c.propScrew
}

func (s *RotorSet) find(name string) *RotorSpec {
	for _, r := range s.Rotors {
		if r.Name == name {
			return r
		}
	}
	return nil
}
