package layout

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// decoder turns the tree of a build file into a Build. References are noted while the
// sections are read and found once all names are known, so that sections may stand in
// any order.
type decoder struct {
	dir      fs.FS // the build's folder, nil without one
	diags    *read.Diags
	lib      *shapes.Library
	b        *Build
	faulty   map[string]bool // own parts with mistakes of their own: taken on trust
	unnamed  map[string]bool // things whose name was refused: references to them are let pass
	lost     map[string]bool // sections that could not be read at all: likewise
	pending  []pendingRef
	strays   []stray
	reported map[string]bool        // names that nothing bears, reported
	nodes    map[*Target]*read.Node // where references stand
	perRotor map[string]bool        // mounts that stand on the arms
	placed   map[string]bool        // plates that say where they stand
	root     *read.Node

	plateEntries []read.Entry
}

func newDecoder(b *Build, lib *shapes.Library, root *read.Node, diags *read.Diags) *decoder {
	set := func() map[string]bool { return map[string]bool{} }
	return &decoder{diags: diags, lib: lib, b: b, faulty: set(), unnamed: set(), lost: set(), reported: set(), perRotor: set(), placed: set(),
		nodes: map[*Target]*read.Node{}, root: root}
}

// decodeBuild reads the sections; parts are in the library already.
func (d *decoder) decodeBuild(f *read.Fields) {
	b := d.b
	b.Pos = f.Node().Pos()
	d.misspeltSections(f.Node())
	d.readFormat(f)
	if n := f.Need("name", "a short name for the build, such as shoreline"); n != nil {
		if s, ok := d.diags.Text(n); ok {
			b.Name = strings.TrimSpace(s)
			if b.Name == "" {
				d.diags.At(n, "the name is empty", "a short name for the build, such as shoreline", "")
			}
		}
	}
	b.About = f.Text("about", "")
	d.rotors(f.Get("rotors"))
	d.plates(f)
	d.posts(f)
	d.stacks(f)
	d.boltSets(f)
	d.mounts(f)
	d.batteries(f)
	d.cameras(f)
	d.antennas(f)
	d.cutting(f.Get("cutting"))
	d.mass(f.Get("mass"))
	d.guard(f)
	d.needs(f.Get("needs"))
	d.touching(f)
	ports, wires := f.Get("ports"), f.Get("wires")
	f.Done()

	ix := d.makeIndex()
	d.findRefs(ix)
	d.ports(ports, ix)
	d.wires(wires, ix)
	d.afterRefs()
	if d.diags.Count() == 0 && b.Rotors == nil && len(b.Plates) == 0 {
		d.diags.At(f.Node(), "the build has neither `rotors:` nor `plates:`, so there is nothing to check",
			"at least one of the two", "see `dryfit new` for a file to start from")
	}
}

// misspeltSections marks the sections that stand in the file under a wrong word. The word
// is reported; what refers into them need not be.
func (d *decoder) misspeltSections(root *read.Node) {
	sections := []string{"parts", "part-files", "rotors", "plates", "posts", "stacks", "mounts", "battery", "batteries", "cameras", "antennas"}
	for _, e := range root.Entries() {
		near := read.Nearest(e.Key, sections)
		switch {
		case slices.Contains(sections, e.Key) || near == "" || root.Get(near) != nil:
		case near == "part-files":
			d.lost["parts"] = true
		default:
			d.lost[near] = true
		}
	}
}

// slip tells whether a key of the map is a misspelling of one of these. The key itself is
// reported with all unknown keys; what seems to be lacking without it need not be.
func slip(n *read.Node, keys ...string) bool {
	for _, e := range n.Entries() {
		if !slices.Contains(keys, e.Key) && read.Nearest(e.Key, keys) != "" {
			return true
		}
	}
	return false
}

// readFormat checks `dryfit: 1`, which build files and part files begin with.
func (d *decoder) readFormat(f *read.Fields) {
	n := f.Need("dryfit", "dryfit: 1, the number of the file format")
	if n == nil {
		return
	}
	if n.Kind() != read.Scalar || n.Raw() != "1" || n.Quoted() {
		d.diags.At(n, n.Describe()+" is not a file format that this version reads", "dryfit: 1", "")
	}
}

// dim reads a length or another dimension.
func (d *decoder) dim(n *read.Node, name string, want shapes.Sane) *shapes.Dim {
	if n == nil {
		return nil
	}
	return shapes.ParseDim(d.diags, n, name, want)
}

// fixed reads a value whose field takes neither a tolerance nor `unknown`; why says what
// counts in its place.
func (d *decoder) fixed(n *read.Node, want shapes.Sane, why string) (float64, bool) {
	if n == nil {
		return 0, false
	}
	before := d.diags.Count()
	if n.Kind() != read.Scalar {
		d.diags.At(n, "a single value is wanted here, not "+n.Describe(), want.String(), "")
		return 0, false
	}
	dim := shapes.ParseDim(d.diags, n, "", want)
	switch {
	case d.diags.Count() > before:
		return 0, false
	case dim.Missing:
		d.diags.At(n, "this must be known to place the parts", want.String(), "")
		return 0, false
	case dim.HasTol:
		d.diags.At(n, read.Quote(n.Raw())+" has a tolerance, which is not used here", want.String(), why)
		return 0, false
	}
	return dim.Value, true
}

// known reports a dimension that the word `unknown` stands for, where nothing can be
// placed without it.
func (d *decoder) known(n *read.Node, dim *shapes.Dim) {
	if n != nil && dim != nil && n.Raw() == "unknown" {
		d.diags.At(n, "this must be known to place the parts", shapes.SizeMM().String(), "measure it, or write the figure of the drawing")
	}
}

func (d *decoder) angle(f *read.Fields, key string, def float64) float64 {
	return d.angleOf(f.Get(key), shapes.AngleDeg(), def)
}

func (d *decoder) angleOf(n *read.Node, want shapes.Sane, def float64) float64 {
	if v, ok := d.fixed(n, want, "write the angle alone"); ok {
		return v
	}
	return def
}

const placeForm = "[x, y] in mm: x forward, y left"

// point reads [x, y].
func (d *decoder) point(n *read.Node) Point {
	p := Point{Pos: n.Pos()}
	if n == nil {
		return p
	}
	items := n.Items()
	if n.Kind() != read.List || len(items) != 2 {
		what := n.Describe()
		if n.Kind() == read.List {
			what = fmt.Sprintf("a list of %d", len(items))
		}
		d.diags.At(n, "a place is a pair of numbers, not "+what, placeForm, "")
		return p
	}
	const why = "a place has none of its own: how well a hole is cut or a part is set by hand is counted already"
	x, _ := d.fixed(items[0], shapes.OffsetMM(), why)
	y, _ := d.fixed(items[1], shapes.OffsetMM(), why)
	p.P = r2.Point{X: x, Y: y}
	return p
}

// places reads `at:` and `mirror:`: [x, y], a list of them or, where there are rotors to
// repeat a thing at, the word rotors. Without `at:` it is the origin.
func (d *decoder) places(f *read.Fields, rotors bool) Places {
	n := f.Get("at")
	p := Places{Pos: n.Pos()}
	m := f.Get("mirror")
	if m != nil {
		switch word, _ := d.diags.Enum(m, "left-right", "front-back", "both"); word {
		case "left-right":
			p.Mirror = MirrorLeftRight
		case "front-back":
			p.Mirror = MirrorFrontBack
		case "both":
			p.Mirror = MirrorBoth
		}
	}
	switch {
	case n == nil:
		p.Pos = f.Node().Pos()
		p.Points = []Point{{Pos: p.Pos}}
	case n.Kind() == read.Scalar && n.Raw() == "rotors" && rotors:
		p.Rotors = true
		if m != nil {
			d.diags.At(m, "`mirror:` does not go with `at: rotors`", "", "delete one of the two: each rotor has its copy already")
		}
	case n.Kind() == read.Scalar && n.Raw() == "rotors":
		d.diags.At(n, "`at: rotors` is of no use here", placeForm, "")
	case n.Kind() != read.List:
		want := placeForm + ", or a list of such pairs"
		if rotors {
			want += ", or rotors"
		}
		d.diags.At(n, n.Describe()+" is not a place", want, "")
	case len(n.Items()) == 0:
		d.diags.At(n, "the list of places is empty", placeForm, "")
	case slices.ContainsFunc(n.Items(), func(i *read.Node) bool { return i.Kind() == read.List }):
		for _, item := range n.Items() {
			p.Points = append(p.Points, d.point(item))
		}
	default:
		p.Points = []Point{d.point(n)}
	}
	return p
}

// named returns the entries of a section in the order of their names, so that the order
// of keys in the file means nothing. Names must be free of dots, which divide references.
func (d *decoder) named(f *read.Fields, section string) []read.Entry {
	n := f.Get(section)
	if n == nil {
		return nil
	}
	if n.Kind() != read.Map {
		d.lost[section] = true
	}
	for _, e := range n.Entries() {
		d.unnamed[e.Key] = true
	}
	all, _ := d.diags.Named(n)
	out := make([]read.Entry, 0, len(all))
	for _, e := range all {
		switch {
		case strings.Contains(e.Key, "."):
			d.diags.AtKey(n, e, read.Quote(e.Key)+" is no name for one of the "+section+`: it has a "."`,
				"small letters, digits and hyphens", "dots divide the steps of a reference such as stacks.main.top; write "+strings.ReplaceAll(e.Key, ".", "-"))
			continue
		case reserved(e.Key):
			d.diags.AtKey(n, e, read.Quote(e.Key)+" has a meaning of its own in references and cannot name one of the "+section,
				"another name, such as base or deck for a plate, main or tail for other things", "")
			out = append(out, e) // for the mistakes inside
			continue
		}
		delete(d.unnamed, e.Key)
		out = append(out, e)
	}
	slices.SortFunc(out, func(a, b read.Entry) int { return strings.Compare(a.Key, b.Key) })
	return out
}

func reserved(name string) bool {
	switch name {
	case "parts", "rotors", "plates", "posts", "stacks", "mounts", "battery", "batteries", "cameras", "antennas",
		"ports", "arms", "motors", "strap", "wires", "top", "bottom":
		return true
	}
	return false
}

// part finds the part that n names; kinds are those that fit, want says them in words
// ("a motor"). It returns nil after a mistake.
func (d *decoder) part(n *read.Node, want string, kinds ...shapes.Kind) *shapes.Part {
	if n == nil {
		return nil
	}
	p := d.findPart(n, want, kinds...)
	if p == nil || d.faulty[p.Name] || slices.Contains(kinds, p.Kind) || len(kinds) == 0 {
		return p
	}
	d.diags.At(n, read.Quote(p.Name)+" is "+thing(p.Kind)+", not "+want, want, d.exampleOf(kinds...))
	return nil
}

func (d *decoder) findPart(n *read.Node, want string, kinds ...shapes.Kind) *shapes.Part {
	name, ok := d.diags.Text(n)
	if !ok {
		return nil
	}
	p, ok := d.lib.Find(name)
	if ok {
		return p
	}
	if d.unnamed[name] || d.lost["parts"] || d.lib.Has(name) {
		return nil // its entry has been reported
	}
	hint := ""
	var near []string
	for _, k := range kinds {
		for _, p := range d.lib.ByKind(k) {
			near = append(near, p.Name)
		}
	}
	if hint = read.DidYouMean(name, near); hint == "" {
		if s := d.lib.Suggest(name); s != "" {
			hint = "did you mean " + s + "?"
		} else if len(kinds) > 0 {
			hint = d.exampleOf(kinds...)
		}
	}
	if sides := sidesText(name); sides && slices.Contains(kinds, shapes.MotorKind) {
		hint = patternAdvice
	}
	d.diags.At(n, read.Quote(name)+" is not a part", "the name of "+want+", from `parts:` or from the catalogue", hint)
	return nil
}

// exampleOf names one part of the kinds, for advice.
func (d *decoder) exampleOf(kinds ...shapes.Kind) string {
	for _, k := range kinds {
		if ps := d.lib.ByKind(k); len(ps) > 0 {
			return "such as " + ps[0].Name + "; `dryfit parts` lists them"
		}
	}
	return ""
}

// thing names a kind with its article.
func thing(k shapes.Kind) string {
	switch k {
	case shapes.EscFour:
		return "a four-in-one speed controller"
	case shapes.AllInOne:
		return "an all-in-one board"
	case shapes.EscSingle:
		return "a single speed controller"
	case shapes.Controller:
		return "a flight controller"
	case shapes.PadKind:
		return "a pad"
	case shapes.TieKind:
		return "a cable tie"
	case shapes.ThreadKind:
		return "a screw thread"
	case shapes.VideoTx:
		return "a video transmitter"
	case shapes.PowerBoard:
		return "a power board"
	case shapes.GPS:
		return "a GPS receiver"
	case shapes.AntennaKind:
		return "an antenna"
	case shapes.Block:
		return "a plain block"
	}
	return "a " + string(k)
}

// patternAdvice clears up the one confusion that scraps plates.
const patternAdvice = "a board's holes are given by the sides of their square (`square: 30.5`), a motor's by the circle through them (`circle: 16`); " +
	"two numbers with an x between them mean the one to some and the other to others"

// sidesText tells whether a text looks like 16x16 or 30.5 x 30.5.
func sidesText(s string) bool {
	a, b, found := strings.Cut(strings.NewReplacer("×", "x", "X", "x", "mm", "").Replace(s), "x")
	if !found {
		return false
	}
	_, why1, _ := read.ParseNumber(strings.TrimSpace(a))
	_, why2, _ := read.ParseNumber(strings.TrimSpace(b))
	return why1 == "" && why2 == ""
}
