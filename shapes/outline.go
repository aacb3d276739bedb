package shapes

import (
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/shapes/read"
)

// ShapeKind is the form of an outline's shape.
type ShapeKind string

// The forms, with the figures that each uses.
const (
	RectangleShape ShapeKind = "rectangle" // Length, Width, Corner
	CircleShape    ShapeKind = "circle"    // Diameter
	CapsuleShape   ShapeKind = "capsule"   // From, To, Width
	BarShape       ShapeKind = "bar"       // From, To, Width, EndWidth
	PolygonShape   ShapeKind = "polygon"   // Points, Radii
	RingShape      ShapeKind = "ring"      // Inner, Diameter
	ArmsShape      ShapeKind = "arms"      // Width, RootWidth, Pad, Start: one bar and pad a rotor
)

// Shape is one shape of an outline, drawn round its own origin and then turned, put at
// each of its places and mirrored. Lengths in mm, angles in degrees.
type Shape struct {
	Kind     ShapeKind
	Length   float64 // along x
	Width    float64 // along y; of bars and capsules: across
	Corner   float64
	Diameter float64 // circles; rings: outside
	Inner    float64 // rings: inside diameter
	From, To r2.Point
	EndWidth float64 // bars: width at To
	Points   []r2.Point
	Radii    []float64 // of each corner

	RootWidth float64 // arms: width where they start
	Pad       float64 // arms: diameter of the disc under the motor, 0 for none
	Start     float64 // arms: distance of their start from the centre

	At       []r2.Point // places; empty: the origin
	AtRotors bool       // one at each rotor; the places are not known here
	Turn     float64
	Mirror   string // "", "left-right" (y to -y), "front-back" (x to -x), "both"
	Pos      read.Pos
}

// Outline is a flat form: shapes joined, shapes cut out of them, corners rounded.
type Outline struct {
	Join, Cut []Shape
	Fillet    float64 // radius put into inside corners, mm, 0 for none
	Round     float64 // radius put on outside corners, mm, 0 for none
	Pos       read.Pos
}

// shapeKinds lists the forms in the order in which messages offer them.
func shapeKinds() []ShapeKind {
	return []ShapeKind{RectangleShape, CircleShape, CapsuleShape, BarShape, PolygonShape, RingShape, ArmsShape}
}

// ParseOutline reads {join: [shapes], cut: [shapes], fillet: r, round: r}. A single shape
// or a list of shapes in its place is joined. ok is false after any mistake.
func ParseOutline(ds *read.Diags, n *read.Node) (Outline, bool) {
	before := ds.Count()
	o := Outline{Pos: n.Pos()}
	switch {
	case n.Kind() == read.List:
		o.Join = parseShapes(ds, n)
	case n.Kind() == read.Map && n.Get("join") == nil && isShape(n):
		if s, ok := ParseShape(ds, n); ok {
			o.Join = []Shape{s}
		}
	default:
		f := ds.Fields(n, "an outline")
		if j := f.Need("join", "a list of shapes, such as {rectangle: [90, 44], corner: 6}"); j != nil {
			o.Join = parseShapes(ds, j)
		}
		if c := f.Get("cut"); c != nil {
			o.Cut = parseShapes(ds, c)
		}
		o.Fillet = plainField(ds, f, "fillet", LengthMM().Between(0, 200))
		o.Round = plainField(ds, f, "round", LengthMM().Between(0, 200))
		f.Done()
	}
	if ds.Count() == before && len(o.Join) == 0 {
		ds.At(n, "an outline needs at least one shape", "{rectangle: [90, 44], corner: 6}", "")
	}
	return o, ds.Count() == before
}

func plainField(ds *read.Diags, f *read.Fields, key string, want Sane) float64 {
	if n := f.Get(key); n != nil {
		v, _ := ParsePlain(ds, n, want)
		return v
	}
	return 0
}

// isShape tells a map with the key of a form, be it misspelt.
func isShape(n *read.Node) bool {
	var kinds []string
	for _, k := range shapeKinds() {
		kinds = append(kinds, string(k))
	}
	for _, e := range n.Entries() {
		if read.Nearest(e.Key, kinds) != "" {
			return true
		}
	}
	return false
}

func parseShapes(ds *read.Diags, n *read.Node) []Shape {
	items := []*read.Node{n}
	if n.Kind() == read.List {
		items = n.Items()
	}
	var out []Shape
	for _, it := range items {
		if s, ok := ParseShape(ds, it); ok {
			out = append(out, s)
		}
	}
	return out
}

// ParseShape reads one shape: a map with the key of its form and, where wanted, at:,
// turn: and mirror:. ok is false after any mistake.
func ParseShape(ds *read.Diags, n *read.Node) (Shape, bool) {
	f := ds.Fields(n, "a shape")
	if !f.OK() {
		return Shape{}, false
	}
	before := ds.Count()
	s := Shape{Pos: n.Pos()}
	var body *read.Node
	for _, k := range shapeKinds() {
		v := f.Get(string(k))
		switch {
		case v == nil:
		case body != nil:
			ds.At(v, fmt.Sprintf("a shape has one form, not both %s and %s", s.Kind, k), "", "make two shapes of them")
		default:
			s.Kind, body = k, v
		}
	}
	if body == nil && len(n.Entries()) == 0 {
		ds.At(n, "an empty map is no shape", "{circle: 20}", "")
	}
	if body != nil {
		s.figures(ds, f, body)
	} else {
		f.Also("corner")
	}
	s.placing(ds, f)
	if body == nil && ds.Count() == before && len(n.Entries()) > 0 {
		f.Done()
		if ds.Count() == before {
			ds.At(n, "a shape needs a form", "rectangle, circle, capsule, bar, polygon, ring or arms", "")
		}
		return s, false
	}
	f.Done()
	return s, ds.Count() == before
}

func (s *Shape) placing(ds *read.Diags, f *read.Fields) {
	if at := f.Get("at"); at != nil {
		items := at.Items()
		switch {
		case at.Raw() == "rotors":
			s.AtRotors = true
		case len(items) > 0 && items[0].Kind() == read.List:
			for _, it := range items {
				if p, ok := ParsePoint(ds, it, OffsetMM()); ok {
					s.At = append(s.At, p)
				}
			}
		default:
			if p, ok := ParsePoint(ds, at, OffsetMM()); ok {
				s.At = []r2.Point{p}
			}
		}
	}
	s.Turn = plainField(ds, f, "turn", AngleDeg())
	s.Mirror = f.Enum("mirror", "", "left-right", "front-back", "both")
	if s.Kind == ArmsShape && (len(s.At) > 0 || s.AtRotors || s.Mirror != "") {
		ds.At(f.Node(), "arms run from the centre to every rotor by themselves", "", "delete `at:` and `mirror:`")
	}
}

func (s *Shape) figures(ds *read.Diags, f *read.Fields, n *read.Node) {
	corner := func() float64 { return plainField(ds, f, "corner", LengthMM().Between(0, 1000)) }
	switch s.Kind {
	case RectangleShape:
		if isCross(n.Raw()) {
			ds.At(n, read.Quote(n.Raw())+" is not a size", "a list such as [90, 44]", "")
			return
		}
		p, ok := ParsePoint(ds, n, SizeMM())
		s.Length, s.Width = p.X, p.Y
		s.Corner = corner()
		if ok && s.Corner > min(p.X, p.Y)/2 {
			ds.At(f.Get("corner"), fmt.Sprintf("a corner radius of %g does not fit the rectangle", s.Corner), fmt.Sprintf("at most %g", min(p.X, p.Y)/2), "")
		}
	case CircleShape:
		s.Diameter, _ = ParsePlain(ds, n, SizeMM())
	case RingShape:
		p, ok := ParsePoint(ds, n, SizeMM())
		s.Inner, s.Diameter = p.X, p.Y
		if ok && s.Inner >= s.Diameter {
			ds.At(n, "the inside of the ring is not smaller than its outside", "[inside diameter, outside diameter]", "")
		}
	case PolygonShape:
		s.polygon(ds, n, corner())
	case CapsuleShape, BarShape:
		s.bar(ds, n)
	case ArmsShape:
		g := ds.Fields(n, "arms")
		if w := g.Need("width", "of each arm at the rotor"); w != nil {
			s.Width, _ = ParsePlain(ds, w, SizeMM())
		}
		s.RootWidth = s.Width
		if w := g.Get("root-width"); w != nil {
			s.RootWidth, _ = ParsePlain(ds, w, SizeMM())
		}
		s.Pad = plainField(ds, g, "pad", SizeMM())
		s.Start = plainField(ds, g, "from", LengthMM())
		g.Done()
	}
}

func (s *Shape) bar(ds *read.Diags, n *read.Node) {
	g := ds.Fields(n, "a "+string(s.Kind))
	ok := g.OK()
	for _, end := range []struct {
		key  string
		into *r2.Point
	}{{"from", &s.From}, {"to", &s.To}} {
		if v := g.Need(end.key, "[x, y]"); v != nil {
			p, fine := ParsePoint(ds, v, OffsetMM())
			*end.into, ok = p, ok && fine
		} else {
			ok = false
		}
	}
	if w := g.Need("width", "such as 12"); w != nil {
		s.Width, _ = ParsePlain(ds, w, SizeMM())
	}
	s.EndWidth = s.Width
	if s.Kind == BarShape {
		if w := g.Get("end-width"); w != nil {
			s.EndWidth, _ = ParsePlain(ds, w, SizeMM())
		}
	}
	g.Done()
	if ok && s.From.Sub(s.To).Norm() < 1e-6 {
		ds.At(n, fmt.Sprintf("the %s runs from a point to itself", s.Kind), "two different ends", "a disc is written {circle: 12}")
	}
}

// polygon reads [[x, y], [x, y, corner], ...]; corner is that of the points without.
func (s *Shape) polygon(ds *read.Diags, n *read.Node, corner float64) {
	items, ok := ds.List(n)
	if ok && len(items) < 3 {
		ds.At(n, fmt.Sprintf("a polygon has at least three points, not %d", len(items)), "[[0, 0], [30, 0], [0, 20]]", "")
		return
	}
	for _, it := range items {
		xy := it.Items()
		if it.Kind() != read.List || len(xy) < 2 || len(xy) > 3 {
			ds.At(it, "a point is wanted here, not "+it.Describe(), "[x, y], or [x, y, corner radius]", "")
			continue
		}
		x, ok1 := ParsePlain(ds, xy[0], OffsetMM())
		y, ok2 := ParsePlain(ds, xy[1], OffsetMM())
		r, ok3 := corner, true
		if len(xy) == 3 {
			r, ok3 = ParsePlain(ds, xy[2], LengthMM())
		}
		if ok1 && ok2 && ok3 {
			s.Points = append(s.Points, r2.Point{X: x, Y: y})
			s.Radii = append(s.Radii, r)
		}
	}
	if len(s.Points) != len(items) {
		return
	}
	loop, err := geom.Polygon(s.Points, s.Radii)
	if err == nil {
		err = loop.Validate()
	}
	if err != nil {
		ds.At(n, "this polygon cannot be used: "+err.Error(), "a closed outline that does not cross itself", "")
	}
}

// ErrNoPlace tells that a shape's places are not known without the rotors.
var ErrNoPlace = errors.New("this shape is placed by the rotors")

// Base returns the shape as drawn round its own origin. Arms have none: ErrNoPlace.
func (s Shape) Base() (geom.Region, error) {
	origin := r2.Point{}
	switch s.Kind {
	case RectangleShape:
		if s.Corner > 0 {
			return geom.RegionOf(geom.RoundedRectangle(origin, s.Length, s.Width, s.Corner)), nil
		}
		return geom.RegionOf(geom.Rectangle(origin, s.Length, s.Width)), nil
	case CircleShape:
		return geom.RegionOf(geom.Circle(origin, s.Diameter/2)), nil
	case CapsuleShape:
		return geom.RegionOf(geom.Capsule(s.From, s.To, s.Width)), nil
	case BarShape:
		return geom.RegionOf(geom.Bar(s.From, s.To, s.Width, s.EndWidth)), nil
	case RingShape:
		return geom.NewRegion(geom.Circle(origin, s.Diameter/2), geom.Circle(origin, s.Inner/2))
	case PolygonShape:
		loop, err := geom.Polygon(s.Points, s.Radii)
		if err != nil {
			return geom.Region{}, err
		}
		if loop.Area() < 0 {
			loop = loop.Reverse()
		}
		return geom.RegionOf(loop), nil
	default:
		return geom.Region{}, ErrNoPlace
	}
}

// Poses returns the motions that take the base to each place, each followed by its
// mirrored copies. A shape at the rotors has none: ErrNoPlace.
func (s Shape) Poses() ([]geom.Pose2, error) {
	if s.AtRotors || s.Kind == ArmsShape {
		return nil, ErrNoPlace
	}
	places := s.At
	if len(places) == 0 {
		places = []r2.Point{{}}
	}
	flips := []geom.Pose2{{}}
	leftRight := geom.Pose2{Mirror: true}
	frontBack := geom.Pose2{Mirror: true, Turn: s1.Angle(math.Pi)}
	switch s.Mirror {
	case "left-right":
		flips = append(flips, leftRight)
	case "front-back":
		flips = append(flips, frontBack)
	case "both":
		flips = append(flips, leftRight, frontBack, geom.Pose2{Turn: s1.Angle(math.Pi)})
	}
	var out []geom.Pose2
	for _, at := range places {
		pose := geom.Pose2{Turn: s1.Angle(s.Turn * math.Pi / 180), Shift: at}
		for _, flip := range flips {
			out = append(out, pose.Then(flip))
		}
	}
	return out, nil
}

// Regions returns the shape at all its places; they may overlap.
func (s Shape) Regions() ([]geom.Region, error) {
	base, err := s.Base()
	if err != nil {
		return nil, err
	}
	poses, err := s.Poses()
	if err != nil {
		return nil, err
	}
	out := make([]geom.Region, 0, len(poses))
	for _, pose := range poses {
		out = append(out, base.Transform(pose))
	}
	return out, nil
}
