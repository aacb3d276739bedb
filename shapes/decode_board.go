package shapes

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes/read"
)

// board tells the kinds whose body is a circuit board with a height map.
func (k Kind) board() bool {
	switch k {
	case Controller, EscFour, AllInOne, PowerBoard:
		return true
	}
	return false
}

// bodied tells the kinds that have a body.
func (k Kind) bodied() bool {
	switch k {
	case EscSingle, Regulator, Receiver, VideoTx, GPS, Buzzer, Capacitor, Light, Payload, Block, Battery:
		return true
	}
	return k.board()
}

// body reads the room that a part takes.
func (d *decoder) body(f *read.Fields, p *Part) {
	if p.Body == nil {
		p.Body = &Body{Shape: BlockBody}
		if p.Kind.board() || (p.Kind == VideoTx && (f.Has("above") || f.Has("pcb"))) {
			p.Body.Shape = BoardBody
		}
		if f.Has("diameter") {
			p.Body.Shape = CanBody
		}
	}
	b := p.Body
	switch b.Shape {
	case CanBody:
		d.dim(f, "diameter", &b.Diameter, SizeMM())
		d.dim(f, "length", &b.Length, SizeMM())
		f.Refuse("height", "a can has no `height:`", "give its `diameter:` and its `length:` along the axis")
		f.Refuse("size", "a can has no `size:`", "give its `diameter:` and its `length:` along the axis")
		if b.Diameter == nil || b.Length == nil {
			d.ds.At(f.Node(), p.Kind.article()+" in the form of a can needs `diameter:` and `length:`", "", "")
		}
	case BoardBody:
		d.plan(f, b, "[37, 37]", 2)
		d.dim(f, "pcb", &b.Pcb, SizeMM().Between(0.2, 10))
		d.dim(f, "above", &b.Above, LengthMM())
		d.dim(f, "below", &b.Below, LengthMM())
		f.Refuse("height", "a board has no `height:`", "give `pcb:`, `above:` (tallest thing on top) and `below:` (deepest thing underneath)")
		f.Refuse("thickness", "a board has no `thickness:`", "give `pcb:` for the bare board, `above:` and `below:` for what sits on it")
	default:
		d.plan(f, b, "[20, 10, 5]", 3)
		d.dim(f, "height", &b.Height, SizeMM())
		if b.Height == nil {
			d.ds.At(f.Node(), p.Kind.article()+" needs a height", "size: [length, width, height], or `height:`", "")
		}
	}
	d.dim(f, "edge", &b.Edge, OffsetMM())
	d.zones(f, b)
}

// plan reads a body's extent in plan: size:, or length: and width:, or outline:.
func (d *decoder) plan(f *read.Fields, b *Body, form string, count int) {
	if n := f.Get("size"); n != nil {
		names := []string{"length", "width", "height"}[:count]
		into := []**Dim{&b.Length, &b.Width, &b.Height}
		items := n.Items()
		switch {
		case isCross(n.Raw()):
			d.ds.At(n, read.Quote(n.Raw())+" is not a size", "a list such as "+form, "write ["+strings.Join(crossParts(n.Raw()), ", ")+"]")
			for i := range names {
				*into[i] = d.lacking(names[i], MM)
			}
		case n.Kind() != read.List || len(items) != count:
			d.ds.At(n, fmt.Sprintf("a size is a list of %d lengths: %s", count, strings.Join(names, ", ")), "such as "+form, "")
			for i := range names { // told once: what it would have given is not asked for again
				*into[i] = d.lacking(names[i], MM)
			}
		default:
			for i, it := range items {
				*into[i] = d.dimAt(it, names[i], SizeMM())
			}
			b.Outline = nil
		}
	}
	d.dim(f, "length", &b.Length, SizeMM())
	d.dim(f, "width", &b.Width, SizeMM())
	b.Corner = d.plain(f, "corner", b.Corner, LengthMM())
	if n := f.Get("outline"); n != nil {
		d.partOutline(n, b)
	}
	if b.Length == nil && b.Width == nil && b.Outline == nil && !f.Has("size") && !f.Has("outline") {
		d.ds.At(f.Node(), "the part "+d.name+" needs a size", "size: "+form, "measure it over everything that sticks out in plan")
		return
	}
	if (b.Length == nil) != (b.Width == nil) && b.Outline == nil {
		d.ds.At(f.Node(), "the part "+d.name+" needs both length and width", "size: "+form, "")
	}
	if b.Length == nil || b.Width == nil || b.Outline != nil || b.Length.Missing || b.Width.Missing {
		return
	}
	if most := min(b.Length.Value, b.Width.Value) / 2; b.Corner > most {
		at := f.Get("corner")
		if at == nil { // inherited, and the size is not
			at = f.Node()
		}
		d.ds.At(at, fmt.Sprintf("a corner radius of %g does not fit the size", b.Corner), fmt.Sprintf("at most %g", most), "")
		b.Corner = 0
	}
}

// partOutline reads a drawn outline; length and width become those of its box.
func (d *decoder) partOutline(n *read.Node, b *Body) {
	s, ok := ParseShape(d.ds, n)
	if !ok {
		return
	}
	regions, err := s.Regions()
	if err != nil || len(regions) != 1 || len(regions[0].Holes) > 0 {
		why := "it is not one closed outline"
		if err != nil {
			why = err.Error()
		}
		d.ds.At(n, "this outline cannot be used: "+why, "one shape without holes", "")
		return
	}
	loop := regions[0].Outer
	box := loop.Bound().Size()
	b.Outline = &loop
	b.Length = &Dim{Name: d.name + " length", Value: box.X, Unit: MM, TolSource: Assumed, Pos: n.Pos()}
	b.Width = &Dim{Name: d.name + " width", Value: box.Y, Unit: MM, TolSource: Assumed, Pos: n.Pos()}
	d.credit(b.Length)
	d.credit(b.Width)
}

// zones reads the height map: a list of zones; one with the name of an inherited zone
// replaces it, `none` in place of the list drops all.
func (d *decoder) zones(f *read.Fields, b *Body) {
	n := f.Get("zones")
	if n == nil {
		return
	}
	if n.Raw() == "none" {
		b.Zones = nil
		return
	}
	items, _ := d.ds.List(n)
	seen := map[string]*read.Node{}
	for i, it := range items {
		z, ok := d.zone(it, i, b)
		if !ok {
			continue
		}
		if first := seen[z.Name]; first != nil {
			d.ds.AtRelated(it, "the zone name "+read.Quote(z.Name)+" stands twice", "each name once", "",
				read.Related{Pos: first.Pos(), Text: "the first one"})
			continue
		}
		seen[z.Name] = it
		placed := false
		for j := range b.Zones {
			if b.Zones[j].Name == z.Name {
				b.Zones[j], placed = z, true
			}
		}
		if !placed {
			b.Zones = append(b.Zones, z)
		}
	}
}

func (d *decoder) zone(n *read.Node, index int, b *Body) (Zone, bool) {
	f := d.ds.Fields(n, "a zone")
	if !f.OK() {
		return Zone{}, false
	}
	before := d.ds.Count()
	z := Zone{Name: f.Name("name", fmt.Sprintf("zone-%d", index+1)), Pos: n.Pos()}
	z.Face = d.face(f)
	z.Hot, z.Live = f.Bool("hot", false), f.Bool("live", false)
	at := d.point(f, "at")
	size, diameter := f.Get("size"), f.Get("diameter")
	switch {
	case size != nil && diameter != nil:
		d.ds.At(diameter, "a zone has `size:` or `diameter:`, not both", "", "")
	case diameter != nil:
		if v, ok := ParsePlain(d.ds, diameter, SizeMM()); ok {
			z.Area = geom.Circle(at, v/2)
		}
	case size != nil:
		if v, ok := d.pair(size, SizeMM()); ok {
			z.Area = geom.Rectangle(at, v.X, v.Y)
		}
	default:
		f.Lack("size", "a zone needs `size:` or `diameter:`", "size: [10, 4]", "")
	}
	if h := f.Need("height", "how far it stands off the board's face, such as 4.5"); h != nil {
		z.Height = d.dimAt(h, words(z.Name), LengthMM())
	}
	f.Done()
	return z, d.ds.Count() == before
}

func (d *decoder) face(f *read.Fields) Face {
	if f.Enum("face", "top", "top", "bottom") == "bottom" {
		return Bottom
	}
	return Top
}

// point reads [x, y]; absent means the origin.
func (d *decoder) point(f *read.Fields, key string) r2.Point {
	if n := f.Get(key); n != nil {
		if p, ok := d.pair(n, OffsetMM()); ok {
			return p
		}
	}
	return r2.Point{}
}

func (d *decoder) pair(n *read.Node, want Sane) (r2.Point, bool) { return ParsePoint(d.ds, n, want) }

// ParsePoint reads two plain lengths [x, y].
func ParsePoint(ds *read.Diags, n *read.Node, want Sane) (r2.Point, bool) {
	items := n.Items()
	if n.Kind() != read.List || len(items) != 2 {
		ds.At(n, "two lengths are wanted here, not "+n.Describe(), "a list such as [12, 4.5]", "")
		return r2.Point{}, false
	}
	x, ok1 := ParsePlain(ds, items[0], want)
	y, ok2 := ParsePlain(ds, items[1], want)
	return r2.Point{X: x, Y: y}, ok1 && ok2
}

// isCross tells texts such as 16x16, which people write for sizes and hole patterns.
func isCross(s string) bool {
	parts := crossParts(s)
	if len(parts) < 2 {
		return false
	}
	for _, p := range parts {
		if _, why, _ := read.ParseNumber(p); why != "" {
			return false
		}
	}
	return true
}

func crossParts(s string) []string {
	parts := strings.FieldsFunc(strings.TrimSuffix(s, "mm"), func(r rune) bool { return r == 'x' || r == '×' || r == 'X' || r == '*' })
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

// The two kinds of hole pattern are written with different keys, because the trade
// writes both as 16x16 and means different holes by it.
const patternAdvice = "boards are written `square: 30.5` (side of the square that the holes make), motors `circle: 16` (diameter of the circle that the holes lie on); a 16x16 motor is circle: 16"

// square reads a board's hole pattern.
func (d *decoder) square(f *read.Fields, p *Part) {
	for _, key := range []string{"circle", "circles", "pattern", "holes"} {
		f.Refuse(key, p.Kind.article()+" has its holes in a square, not in `"+key+":`", patternAdvice)
	}
	n := f.Get("square")
	if n == nil {
		return
	}
	if n.Raw() == "none" {
		p.Square = nil
		return
	}
	if p.Square == nil {
		p.Square = &SquarePattern{Count: 4}
	}
	s := p.Square
	if n.Kind() != read.Map {
		d.sides(n, s)
		return
	}
	g := d.ds.Fields(n, "a square hole pattern")
	g.Refuse("circle", "a board has its holes in a square", patternAdvice)
	side, sides := g.Get("side"), g.Get("sides")
	switch {
	case side != nil && sides != nil:
		d.ds.At(sides, "a pattern has `side:` or `sides:`, not both", "", "")
	case side != nil:
		d.sides(side, s)
	case sides != nil:
		items := sides.Items()
		if sides.Kind() != read.List || len(items) != 2 {
			d.ds.At(sides, "two sides are wanted here, not "+sides.Describe(), "[30.5, 20]", "")
			break
		}
		s.X = d.dimAt(items[0], "hole side x", SizeMM())
		s.Y = d.dimAt(items[1], "hole side y", SizeMM())
	}
	d.dim(g, "hole", &s.Hole, SizeMM().Between(0.5, 20))
	d.dim(g, "place", &s.Place, OffsetMM())
	d.dim(g, "clear", &s.Clear, SizeMM().Between(0.5, 40))
	s.Screw = d.thread(g, "screw", s.Screw)
	s.Turn = d.plain(g, "turn", s.Turn, AngleDeg())
	s.Count = g.Int("count", 3, 4, s.Count)
	s.Ring = g.Enum("ring", s.Ring, "isolated", "ground", "pack")
	g.Done()
	if s.X == nil && side == nil && sides == nil {
		d.ds.At(n, "a square hole pattern needs `side:`", "side: 30.5", "")
	}
}

func (d *decoder) sides(n *read.Node, s *SquarePattern) {
	if isCross(n.Raw()) {
		parts := crossParts(n.Raw())
		hint := "write square: " + parts[0]
		if len(parts) == 2 && parts[0] != parts[1] {
			hint = "write square: {sides: [" + strings.Join(parts, ", ") + "]}"
		}
		d.ds.At(n, read.Quote(n.Raw())+" can mean two patterns", patternAdvice, hint)
		s.X = d.lacking("hole side", MM)
		s.Y = s.X
		return
	}
	s.X = d.dimAt(n, "hole side", SizeMM().Between(5, 200))
	s.Y = s.X
}
