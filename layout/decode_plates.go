package layout

import (
	"strconv"
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// plates reads the section plates.
func (d *decoder) plates(f *read.Fields) {
	for _, e := range d.named(f, "plates") {
		p := &PlateSpec{Name: e.Key, Pos: e.KeyPos}
		d.b.Plates = append(d.b.Plates, p)
		d.plateEntries = append(d.plateEntries, e)
		pf := d.diags.Fields(e.Value, "a plate")
		if !pf.OK() {
			d.lost["plates"] = true
			continue
		}
		d.plate(pf, p)
		pf.Done()
	}
}

func (d *decoder) plate(f *read.Fields, p *PlateSpec) {
	p.Material = d.part(f.Need("material", "what it is cut from, such as carbon"), "a material", shapes.MaterialKind)
	tn := f.Need("thickness", "the thickness of the sheet, such as 2 mm")
	p.Thickness = d.dim(tn, p.Name+" thickness", shapes.SizeMM().Between(0.2, 50))
	if on := f.Need("outline", "shapes to join and to cut, such as {join: [{rectangle: [100, 40], corner: 6}]}"); on != nil {
		if fromFile(on) {
			d.outlineFile(on, p)
		} else if o, ok := shapes.ParseOutline(d.diags, on); ok {
			p.Outline = &o
		}
	}
	if n := f.Get("each-rotor"); n != nil {
		var ok bool
		if p.EachRotor, ok = d.diags.Bool(n); !ok {
			d.unnamed[p.Name] = true
		}
	}
	if p.EachRotor && d.b.Rotors == nil && !d.lost["rotors"] {
		d.diags.At(f.Get("each-rotor"), "there are no rotors to repeat the plate at", "", "add `rotors:`, or delete `each-rotor:`")
	}
	on, under := f.Get("on"), f.Get("under")
	d.placed[p.Name] = on != nil || under != nil || slip(f.Node(), "on", "under")
	if slip(f.Node(), "holes", "each-rotor") {
		d.unnamed[p.Name] = true // what it would have is not known
	}
	if on != nil && under != nil {
		d.diags.AtRelated(under, "a plate stands on something or hangs under something, not both", "", "delete one of the two",
			read.Related{Pos: on.Pos(), Text: "the other one"})
		under = nil
	}
	d.ref(on, &p.On, wantCarrier())
	d.ref(under, &p.Under, wantCarrier())
	if n := f.Get("shift"); n != nil {
		p.Shift = d.point(n)
	}
	switch f.Enum("grain", "", "x", "y") {
	case "x":
		p.Grain = GrainX
	case "y":
		p.Grain = GrainY
	}
	names := map[string]read.Pos{}
	for i, n := range f.List("holes") {
		h := d.hole(n, p, i+1)
		p.Holes = append(p.Holes, h)
		if first, twice := names[h.Name]; twice {
			d.diags.AtRelated(n.Get("name"), "two entries of holes have the name "+read.Quote(h.Name), "a name of its own",
				"holes of one entry can stand at several places: `at: [[x, y], ...]`", read.Related{Pos: first, Text: "the first one"})
		}
		names[h.Name] = h.Pos
	}
}

// hole reads one entry of a plate's holes.
func (d *decoder) hole(n *read.Node, p *PlateSpec, number int) *HoleSpec {
	h := &HoleSpec{Name: strconv.Itoa(number), Pos: n.Pos()}
	f := d.diags.Fields(n, "a hole entry")
	if !f.OK() {
		return h
	}
	size := shapes.SizeMM()
	label := p.Name + " hole " + h.Name
	if nn := f.Get("name"); nn != nil {
		switch s, ok := d.diags.Name(nn); {
		case ok && onlyDigits(s):
			d.diags.At(nn, read.Quote(s)+" is a number, and numbers name the entries without a name", "a word such as strap", "")
		case ok:
			h.Name, label = s, p.Name+" "+s
		default:
			d.unnamed[p.Name] = true
		}
	}
	if slip(n, "name") {
		d.unnamed[p.Name] = true
	}
	form := d.holeForm(f, n)
	forNode := f.Get("for")
	d.ref(forNode, &h.For, wantHoleFor())
	switch form {
	case "square":
		h.Form = HoleSquare
		h.SideX, h.SideY = d.sides(f.Get("square"), label+" side", "the side of the square between hole centres, such as 30.5")
	case "circle":
		h.Form = HoleCircle
		h.Circle = d.circle(f.Get("circle"), label+" circle")
		h.Count = f.Int("count", 1, 24, 4)
	case "slot":
		h.Form = HoleSlot
		h.Length, h.Width = d.slot(f.Get("slot"), label)
	case "for":
		h.Form = HoleOf
		d.holeOf(f, forNode)
	}
	hole := f.Get("hole")
	h.Hole = d.dim(hole, label+" diameter", size.Between(0.3, 100))
	switch {
	case form == "slot" && hole != nil:
		d.diags.At(hole, "a slot has no diameter", "", "its second number is the width: `slot: [22, 3]`")
	case (form == "square" || form == "circle") && hole == nil:
		f.Lack("hole", "a hole pattern needs `hole:`", "the diameter of its holes, such as 3.2", "")
	}
	h.Centre = d.dim(f.Get("centre"), label+" centre", size.Between(0.3, 200))
	if h.Centre != nil && (form == "slot" || form == "hole") && !slip(n, "for") {
		d.diags.At(f.Get("centre"), "`centre:` is a further hole in the middle of a pattern, and this entry is none", "", "write a hole of its own")
	}
	d.tab(f.Get("tab"), h, form, label)
	d.sink(f, h, form, label)
	if form != "for" && form != "" {
		h.At = d.places(f, !p.EachRotor)
		h.Turn = d.angle(f, "turn", 0)
	}
	if form == "" {
		f.Also("at", "turn", "mirror", "count")
	}
	f.Done()
	return h
}

// holeForm finds what kind of entry it is: "square", "circle", "slot", "hole" (one round
// hole), "for" (wherever something needs them) or "" after a mistake.
func (d *decoder) holeForm(f *read.Fields, n *read.Node) string {
	var have []string
	for _, k := range []string{"square", "circle", "slot"} {
		if f.Has(k) {
			have = append(have, k)
		}
	}
	switch {
	case len(have) == 1:
		return have[0]
	case len(have) == 0 && slip(n, "square", "circle", "slot", "hole", "for", "at"):
		return ""
	case len(have) > 1:
		hint := "make two entries of it"
		if have[0] == "square" && have[1] == "circle" {
			hint = patternAdvice
		}
		d.diags.At(f.Get(have[1]), "a hole entry is of one form, and this has `"+have[0]+":` and `"+have[1]+":`", "", hint)
		return ""
	case f.Has("at") && f.Has("hole"):
		return "hole"
	case f.Has("for") && d.needsOwnFigures(f.Get("for")):
		d.diags.At(n, "holes for "+f.Get("for").Raw()+" need a form", "slot: [length, width] or hole: diameter, with at: [x, y]", "")
		return ""
	case f.Has("for"):
		return "for"
	case f.Has("hole"):
		return "hole" // at the origin
	}
	d.diags.At(n, "a hole entry needs a form", "one of square, circle, slot, hole or for", "")
	return ""
}

// needsOwnFigures tells of `for: strap` and `for: wires`, from which no hole follows.
func (d *decoder) needsOwnFigures(n *read.Node) bool { return n.Raw() == "strap" || n.Raw() == "wires" }

// holeOf checks an entry that takes its places from what it is for.
func (d *decoder) holeOf(f *read.Fields, forNode *read.Node) {
	for _, k := range []string{"at", "turn", "mirror", "count"} {
		hint := "delete it, or give the entry a form of its own"
		if forNode.Raw() == "motors" && k == "turn" {
			hint = "delete it; `clocking:` of the rotors turns the motors and their holes"
		}
		if n := f.Get(k); n != nil {
			d.diags.At(n, "the places of these holes follow from "+read.Quote(forNode.Raw())+", so `"+k+":` has no meaning", "", hint)
		}
	}
	ofOthers := strings.HasPrefix(forNode.Raw(), "posts.") || strings.HasPrefix(forNode.Raw(), "stacks.")
	if c := f.Get("centre"); c != nil && ofOthers {
		d.diags.At(c, "`centre:` is the hole under a motor's shaft", "", "delete it, or write a hole of its own")
	}
}

// sides reads the side of a square, or two sides.
func (d *decoder) sides(n *read.Node, name, want string) (x, y *shapes.Dim) {
	size := shapes.SizeMM().Between(3, 500)
	if n.Kind() == read.Scalar && sidesText(n.Raw()) {
		d.diags.At(n, n.Describe()+" can be read in two ways", want, patternAdvice)
		return nil, nil
	}
	if n.Kind() != read.List {
		x = d.dim(n, name, size)
		d.known(n, x)
		return x, x
	}
	if len(n.Items()) != 2 {
		d.diags.At(n, "a hole pattern has one side or two", "30.5 or [30.5, 20]", "")
		return nil, nil
	}
	x, y = d.dim(n.Items()[0], name+" along x", size), d.dim(n.Items()[1], name+" along y", size)
	d.known(n.Items()[0], x)
	d.known(n.Items()[1], y)
	return x, y
}

func (d *decoder) circle(n *read.Node, name string) *shapes.Dim {
	const want = "the diameter of the circle through the hole centres, such as 16"
	if n.Kind() == read.Scalar && sidesText(n.Raw()) {
		d.diags.At(n, n.Describe()+" can be read in two ways", want, patternAdvice)
		return nil
	}
	if n.Kind() == read.List {
		d.diags.At(n, "a circle has one diameter, not a list", want, "for two circles write two entries")
		return nil
	}
	c := d.dim(n, name, shapes.SizeMM().Between(1, 500))
	d.known(n, c)
	return c
}

func (d *decoder) slot(n *read.Node, label string) (length, width *shapes.Dim) {
	items := n.Items()
	if n.Kind() != read.List || len(items) != 2 {
		d.diags.At(n, "a slot is a pair of numbers, not "+n.Describe(), "[overall length, width], such as [22, 3]", "")
		return nil, nil
	}
	before := d.diags.Count()
	length = d.dim(items[0], label+" length", shapes.SizeMM())
	width = d.dim(items[1], label+" width", shapes.SizeMM())
	d.known(items[0], length)
	d.known(items[1], width)
	if d.diags.Count() == before && length.Value < width.Value {
		d.diags.At(n, "the slot is shorter than it is wide", "[overall length, width], such as [22, 3]", "`turn: 90` makes it run across")
	}
	return length, width
}
