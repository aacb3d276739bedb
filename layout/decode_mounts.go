package layout

import (
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// mounts reads the section mounts.
func (d *decoder) mounts(f *read.Fields) {
	for _, e := range d.named(f, "mounts") {
		m := &MountSpec{Name: e.Key, Pos: e.KeyPos}
		d.b.Mounts = append(d.b.Mounts, m)
		mf := d.diags.Fields(e.Value, "a mounted part")
		if !mf.OK() {
			continue
		}
		d.mount(mf, m)
		mf.Done()
	}
}

func (d *decoder) mount(f *read.Fields, m *MountSpec) {
	m.Part = d.mountable(f.Need("part", "the part that is mounted"))
	on := f.Need("on", "the face that carries it, such as roof.top or stacks.main.BOARD.top, or arms")
	arms := on.Kind() == read.Scalar && on.Raw() == "arms"
	m.At.Pos = m.Pos
	face := f.Get("face")
	from := f.Get("from-motor")
	if arms {
		m.On = &Target{Kind: TargetArms, HasFace: true, Face: shapes.Top, Text: "arms", Pos: on.Pos()}
		d.perRotor[m.Name] = true
		if d.b.Rotors == nil && !d.lost["rotors"] {
			d.diags.At(on, "there are no rotors, so there are no arms", "", "add `rotors:`, or name a plate's face")
		}
		if face != nil {
			if word, _ := d.diags.Enum(face, "top", "bottom"); word == "bottom" {
				m.On.Face = shapes.Bottom
			}
		}
		if from == nil {
			f.Lack("from-motor", "a part on the arms needs `from-motor:`", "the distance from the motor's axis to the near end of the part, such as 18 mm", "")
		}
		f.Refuse("at", "a part on the arms sits on the middle line of the arm, so `at:` has no meaning", "write `from-motor:`, the distance from the motor's axis to its near end")
	} else {
		d.ref(on, &m.On, wantMountFace())
		meansArms := on.Kind() != read.Scalar || read.Nearest(on.Raw(), []string{"arms"}) != ""
		if !meansArms && face != nil {
			d.diags.At(face, "`face:` belongs to parts on the arms", "", "write the face behind the name: `on: base.top`")
		}
		if !meansArms && from != nil {
			d.diags.At(from, "`from-motor:` belongs to parts on the arms", "", "write `on: arms`, or `at: [x, y]` in place of it")
		}
		if n := f.Get("at"); n != nil {
			m.At = d.point(n)
		}
	}
	m.FromMotor = d.dim(from, "mount "+m.Name+" from motor", shapes.LengthMM())
	d.known(from, m.FromMotor)
	m.Turn = d.angle(f, "turn", 0)
	m.Upright = f.Enum("stand", "lying", "lying", "upright") == "upright"
	m.Hold = d.hold(f.Get("hold"), "mount "+m.Name+" hold")
	m.Sleeve = d.sleeve(f.Get("sleeve"), "mount "+m.Name+" sleeve")
	m.Tie = d.part(f.Get("tie"), "a cable tie", shapes.TieKind)
}

// mountable finds a part that can sit on a face, and sends those with a section of their
// own there.
func (d *decoder) mountable(n *read.Node) *shapes.Part {
	p := d.part(n, "a part with a size")
	if p == nil || d.faulty[p.Name] {
		return p
	}
	section := ""
	switch p.Kind {
	case shapes.Battery:
		section = "battery"
	case shapes.CameraKind:
		section = "cameras"
	case shapes.AntennaKind:
		section = "antennas"
	case shapes.MotorKind, shapes.PropKind:
		section = "rotors"
	case shapes.StandoffKind:
		section = "posts"
	}
	if section != "" {
		d.diags.At(n, read.Quote(p.Name)+" is "+thing(p.Kind)+" and is not mounted like other parts", "a part such as a receiver, a capacitor or a speed controller",
			"put it under `"+section+":`")
		return nil
	}
	if p.Body == nil {
		d.diags.At(n, read.Quote(p.Name)+" is "+thing(p.Kind)+", which has no body to mount", "a part such as a receiver, a capacitor or a speed controller", "")
		return nil
	}
	return p
}

func holdWords() []string { return []string{"foam", "tape", "gel", "pad", "hook-and-loop", "glue"} }

// gelPad is the part that `hold: gel` without a thickness names: gel pads, unlike foams and
// tapes, are sold in one thickness.
const gelPad = "gel-3"

// hold reads what lies under a part: a word with a thickness (`foam 1.5 mm`), the name of a
// pad of the catalogue, or `gel` alone for the usual gel pad.
func (d *decoder) hold(n *read.Node, name string) *Hold {
	if n == nil {
		return nil
	}
	text, ok := d.diags.Text(n)
	if !ok {
		return nil
	}
	words := strings.Fields(text)
	h := &Hold{Pos: n.Pos(), Thickness: &shapes.Dim{Name: name, Unit: shapes.MM, TolSource: shapes.Assumed, Missing: true, Pos: n.Pos()}}
	for _, w := range holdWords() {
		if len(words) == 0 || words[0] != w {
			continue
		}
		h.Word = w
		rest := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(text), w))
		if p, ok := d.lib.Find(gelPad); ok && rest == "" && w == "gel" {
			h.lie(p)
			return h
		}
		if rest == "" {
			d.diags.At(n, "how thick is the "+w+" once the part sits on it?", "such as `"+w+" 1.5 mm`", "")
			return h
		}
		d.textDim(n, rest, h.Thickness, shapes.LengthMM().Between(0, 30))
		return h
	}
	if len(words) != 1 {
		d.diags.At(n, n.Describe()+" holds no part", "such as `foam 1.5 mm`, or the name of a pad; words: "+strings.Join(holdWords(), ", "),
			read.DidYouMean(first(words), holdWords()))
		return h
	}
	if near := read.Nearest(words[0], holdWords()); near != "" {
		if _, found := d.lib.Find(words[0]); !found {
			d.diags.At(n, n.Describe()+" holds no part", "such as `foam 1.5 mm`, or the name of a pad", "did you mean "+near+"?")
			return h
		}
	}
	h.lie(d.part(n, "a pad", shapes.PadKind))
	return h
}

// lie takes a pad's thickness under a mounted part, else its thickness as sold.
func (h *Hold) lie(p *shapes.Part) {
	if p == nil || p.Cushion == nil {
		return
	}
	h.Word, h.Part = p.Name, p
	switch {
	case p.Cushion.Tight != nil:
		h.Thickness = p.Cushion.Tight
	case p.Cushion.Free != nil:
		h.Thickness = p.Cushion.Free
	}
}

func first(words []string) string {
	if len(words) == 0 {
		return ""
	}
	return words[0]
}

// textDim reads a quantity out of a longer text into dim.
func (d *decoder) textDim(n *read.Node, text string, dim *shapes.Dim, want shapes.Sane) {
	q, err := shapes.ParseQuantity(text, want.Unit)
	switch {
	case err != nil:
		d.diags.At(n, read.Quote(text)+" "+err.Why, want.String(), err.Hint)
	case q.Unknown:
	case q.Value-q.Minus < want.Lo || q.Value+q.Plus > want.Hi:
		d.diags.At(n, read.Quote(text)+" is out of range", want.String(), "")
	default:
		dim.Missing = false
		dim.Value, dim.Plus, dim.Minus, dim.HasTol, dim.Range = q.Value, q.Plus, q.Minus, q.HasTol, q.Range
		if q.HasTol {
			dim.TolSource = shapes.Given
		}
	}
}

// sleeve reads heat-shrink: the wall as shrunk, or the name of a sleeve of the catalogue.
func (d *decoder) sleeve(n *read.Node, name string) *shapes.Dim {
	if n == nil {
		return nil
	}
	if n.Kind() == read.Scalar {
		if d.lib.Has(n.Raw()) {
			p := d.part(n, "a sleeve", shapes.SleeveKind)
			if p == nil || p.Sleeve == nil {
				return nil
			}
			return p.Sleeve.Wall
		}
	}
	before := d.diags.Count()
	dim := d.dim(n, name, shapes.LengthMM())
	if d.diags.Count() == before && dim.Value+dim.Plus > 3 {
		d.diags.At(n, read.Quote(n.Raw())+" is too thick for the wall of a sleeve", "the wall as shrunk, such as 0.5 mm, or the name of a sleeve part",
			"a tube's bore as sold belongs to a sleeve part")
		dim.Missing = true
	}
	return dim
}
