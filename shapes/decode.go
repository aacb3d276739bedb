package shapes

import (
	"strings"

	"dryfit/shapes/read"
)

// decoder reads one part. Every mistake goes to ds with its place.
type decoder struct {
	ds        *read.Diags
	lib       *Library
	name      string
	source    Source
	conf      string // of every figure that has none of its own
	from      string // kind of source, likewise
	resolving []string
}

// DecodePart reads the part called name from its map. lib is where `like:` looks, nil for
// nowhere. It returns nil when the part is so wrong that nothing can be said about it;
// ds then holds the reason, as it holds every smaller mistake.
func DecodePart(name string, n *read.Node, lib *Library, ds *read.Diags) *Part {
	return decodePart(name, n, lib, ds, Given, nil)
}

func decodePart(name string, n *read.Node, lib *Library, ds *read.Diags, source Source, resolving []string) *Part {
	d := &decoder{ds: ds, lib: lib, name: name, source: source, resolving: append(resolving, name)}
	f := ds.Fields(n, "the part "+name)
	if !f.OK() {
		return nil
	}
	p := d.start(f)
	if p == nil {
		return nil
	}
	f = d.retitle(f, p.Kind)
	d.common(f, p)
	d.blocks(f, p)
	f.Done()
	finish(d, f, p)
	return p
}

// retitle makes messages speak of the kind: "diametr" is not a key of a prop.
func (d *decoder) retitle(f *read.Fields, k Kind) *read.Fields {
	g := d.ds.Fields(f.Node(), k.article())
	g.Also("kind", "like")
	return g
}

// article returns the kind with its article.
func (k Kind) article() string {
	if strings.ContainsRune("aeiou", rune(k[0])) {
		return "an " + string(k)
	}
	return "a " + string(k)
}

// start returns the part to fill: empty of the kind named, or a copy of the one that
// `like:` names.
func (d *decoder) start(f *read.Fields) *Part {
	like, kind := f.Get("like"), f.Get("kind")
	var p *Part
	if like != nil {
		base := d.base(like)
		if base == nil {
			return nil
		}
		p = base.copyAs(d.name)
		p.Like = base.Name
		p.Note = "" // a note speaks of its own part
		p.Title = base.Title
	}
	if kind != nil {
		word, ok := d.ds.Enum(kind, kindWords()...)
		if !ok {
			return nil
		}
		if p != nil && p.Kind != Kind(word) {
			d.ds.At(kind, d.name+" is like "+p.Like+", which is "+p.Kind.article()+", not "+Kind(word).article(),
				"", "delete `kind:`, or name a part of that kind behind `like:`")
			return nil
		}
		if p == nil {
			p = &Part{Kind: Kind(word)}
		}
	}
	if p == nil {
		d.ds.At(f.Node(), "the part "+d.name+" needs `kind:` or `like:`", "kind: one of "+strings.Join(kindWords(), ", "),
			"`like:` starts from a part of the catalogue")
		return nil
	}
	p.Name, p.Source, p.Pos = d.name, d.source, f.Node().Pos()
	return p
}

func (d *decoder) base(like *read.Node) *Part {
	word, ok := d.ds.Name(like)
	if !ok {
		return nil
	}
	for i, r := range d.resolving {
		if r == word && d.source == Given {
			chain := append(append([]string(nil), d.resolving[i:]...), word)
			// A part of one's own may start from the catalogue part of the same name.
			if i == len(d.resolving)-1 && d.lib.below() != nil {
				if base, ok := d.lib.below().Find(word); ok {
					return base
				}
			}
			d.ds.At(like, "`like:` runs in a circle: "+strings.Join(chain, " is like "), "", "let one of them stand on its own")
			return nil
		}
	}
	base, known := d.lib.find(word, d.ds, d.resolving)
	if base == nil && !known {
		hint := ""
		if near := d.lib.Suggest(word); near != "" {
			hint = "did you mean " + near + "?"
		} else {
			hint = "`dryfit parts search` with a word or two looks for one"
		}
		d.ds.At(like, read.Quote(word)+" is not a part", "the name of a part of the catalogue or of `parts:`", hint)
	}
	return base
}

// kindWords lists the kinds in the order in which people look for them.
func kindWords() []string {
	var out []string
	for _, k := range Kinds() {
		out = append(out, string(k))
	}
	return out
}

// Kinds lists every kind of part, electronics first, then hardware.
func Kinds() []Kind {
	return []Kind{
		Controller, EscFour, AllInOne, EscSingle, PowerBoard, Regulator, Receiver, VideoTx, CameraKind,
		AntennaKind, GPS, Buzzer, Capacitor, Light, Payload, Battery, MotorKind, PropKind, Connector,
		ThreadKind, StandoffKind, GrommetKind, StrapKind, TieKind, PadKind, SleeveKind, MaterialKind,
		WireKind, Block,
	}
}

// common reads the keys that every part may have.
func (d *decoder) common(f *read.Fields, p *Part) {
	p.Title = f.Text("title", p.Title)
	p.Note = f.Text("note", p.Note)
	if n := f.Get("conf"); n != nil {
		d.conf, _ = d.ds.Enum(n, confidences()...)
	}
	if n := f.Get("src"); n != nil {
		d.from = d.sourceKind(n)
	}
	p.NoMass = f.Text("no-mass", p.NoMass)
	d.dim(f, "mass", &p.Mass, MassG())
	d.dim(f, "amps", &p.Amps, CurrentA())
	if p.Kind.bodied() || p.Kind == CameraKind {
		d.dim(f, "draw", &p.Draw, CurrentA())
		d.dim(f, "clamp", &p.Clamp, VoltageV())
		d.rails(f, p)
		d.dim(f, "quiet", &p.Quiet, LengthMM().Between(0, 200))
		p.Compass = f.Bool("compass", p.Compass)
	}
	if p.Kind == Capacitor {
		d.dim(f, "capacitance", &p.Capacitance, CapacitanceUF())
	}
	if n := f.Get("volts"); n != nil {
		if s, ok := ParseSpan(d.ds, n, VoltageV()); ok {
			p.Volts = &s
		}
	}
}

// sourceKind reads where figures come from; the catalogue keeps to a list of words.
func (d *decoder) sourceKind(n *read.Node) string {
	if d.source != Catalogue {
		s, _ := d.ds.Text(n)
		return s
	}
	s, _ := d.ds.Enum(n, SourceKinds()...)
	return s
}

// SourceKinds lists the words for where the catalogue's figures come from.
func SourceKinds() []string {
	return []string{
		"standard",          // an open published standard, or arithmetic
		"open-hardware",     // public open-hardware designs
		"part-library",      // public libraries of parts with coded dimensions
		"footprint-library", // public libraries of board footprints
		"tutorial",          // public buying and building guides
		"thread",            // public discussions of builders
		"vendor-sheet",      // specification sheets
		"stack-docs",        // hardware pages of open flight software
		"cut-shop",          // design guides of cutting services
		"trade",             // trade knowledge, typical
		"estimate",          // an educated guess that rules need: measure the part
	}
}

// dim reads a dimension, when its key is there, into the place given.
func (d *decoder) dim(f *read.Fields, key string, into **Dim, want Sane) {
	if n := f.Get(key); n != nil {
		*into = d.dimAt(n, words(key), want)
	}
}

// dimAt reads a dimension with the decoder's source and defaults.
func (d *decoder) dimAt(n *read.Node, what string, want Sane) *Dim {
	out := ParseDim(d.ds, n, d.name+" "+what, want)
	d.credit(out)
	return out
}

// credit notes the source of a figure that was just read.
func (d *decoder) credit(out *Dim) {
	out.Source = d.source
	if out.HasTol {
		out.TolSource = d.source
	}
	if out.Conf == "" {
		out.Conf = d.conf
	}
	if out.Kind == "" {
		out.Kind = d.from
	}
}

// plain reads a number that takes no tolerance; def when the key is absent or wrong.
func (d *decoder) plain(f *read.Fields, key string, def float64, want Sane) float64 {
	if n := f.Get(key); n != nil {
		if v, ok := ParsePlain(d.ds, n, want); ok {
			return v
		}
	}
	return def
}

// ParsePlain reads a quantity without tolerance.
func ParsePlain(ds *read.Diags, n *read.Node, want Sane) (float64, bool) {
	q, ok := parseScalar(ds, n, want)
	if !ok || !sane(ds, n, q, want) {
		return 0, false
	}
	if q.Unknown || q.HasTol {
		ds.At(n, read.Quote(n.Raw())+" is not one plain number", want.String(), "write the number without a tolerance")
		return 0, false
	}
	return q.Value, true
}

// plains reads a list of plain numbers, or a single one.
func (d *decoder) plains(f *read.Fields, key string, into *[]float64, want Sane) {
	n := f.Get(key)
	if n == nil {
		return
	}
	items := []*read.Node{n}
	if n.Kind() == read.List {
		items = n.Items()
	}
	var out []float64
	for _, it := range items {
		if v, ok := ParsePlain(d.ds, it, want); ok {
			out = append(out, v)
		}
	}
	*into = out
}

// words turns a key into the words of a message: body-height -> body height.
func words(key string) string { return strings.ReplaceAll(key, "-", " ") }

// thread reads a metric thread size such as M3.
func (d *decoder) thread(f *read.Fields, key, def string) string {
	n := f.Get(key)
	if n == nil {
		return def
	}
	s := n.Raw()
	if !isThread(s) {
		hint := ""
		if isThread(strings.ToUpper(s)) {
			hint = "write " + strings.ToUpper(s)
		}
		d.ds.At(n, n.Describe()+" is not a thread size", "M1.4, M1.6, M2, M2.5, M3, M4, M5 or M6", hint)
		return def
	}
	return s
}

func isThread(s string) bool {
	switch s {
	case "M1.4", "M1.6", "M2", "M2.5", "M3", "M4", "M5", "M6":
		return true
	}
	return false
}

// connector reads the name of a connector part.
func (d *decoder) connector(f *read.Fields, key, def string) string {
	n := f.Get(key)
	if n == nil {
		return def
	}
	word, ok := d.ds.Name(n)
	if !ok {
		return def
	}
	if d.lib != nil && !d.lib.Has(word) {
		hint := ""
		if near := d.lib.Suggest(word); near != "" {
			hint = "did you mean " + near + "?"
		}
		d.ds.At(n, read.Quote(word)+" is not a connector", "the name of a connector such as usb-c, jst-sh-8 or xt60", hint)
		return def
	}
	return word
}

// assumed makes a figure that nobody gave but for which a sound default exists.
func (d *decoder) assumed(what string, value, tol float64) *Dim {
	return &Dim{Name: d.name + " " + what, Value: value, Plus: tol, Minus: tol, Unit: MM,
		Source: Assumed, TolSource: Assumed, HasTol: true, Conf: "K", Kind: "trade"}
}

// lacking makes the figure that nobody gave and that nobody can guess.
func (d *decoder) lacking(what string, u Unit) *Dim {
	return &Dim{Name: d.name + " " + what, Unit: u, Source: d.source, TolSource: Assumed, Missing: true}
}
