package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/shapes"
)

// HardwareKind says what a line of the hardware list is. The order of the constants is
// that of the list.
type HardwareKind string

// Kinds of hardware.
const (
	Screws    HardwareKind = "screw"
	Studs     HardwareKind = "headless screw"
	Nuts      HardwareKind = "nut"
	Washers   HardwareKind = "washer"
	PressNuts HardwareKind = "press nut"
	PropNuts  HardwareKind = "prop nut"
	Standoffs HardwareKind = "standoff"
	Spacers   HardwareKind = "spacer"
	Grommets  HardwareKind = "grommet"
)

// Use is one place of the craft that a line of the hardware list goes to.
type Use struct {
	Where string // "rotors.front-left.motor-screws": IDs of its joints begin so
	Count int
	Lock  string // what keeps it from turning there
}

// HardwareLine is what to buy of one thing.
type HardwareLine struct {
	Kind     HardwareKind
	Thread   string  // "M3"
	Length   float64 // mm, 0 where it has none
	Head     string  // form of the head; of nuts "plain", "insert"
	Material string
	Part     string // class of standoffs, spacers and grommets
	Count    int    // that the build needs
	Spares   int    // on top: a tenth, at least two
	MassEach float64
	Key      string // "hex 2", "8 across flats"
	Uses     []Use
	Lock     string  // what keeps it from turning
	Torque   float64 // greatest, N·m; 0: no figure
	Note     string
	Given    bool // every length is the build's own
	Sure     bool // every length is right at worst case
}

// Mixed reports whether a piece is locked in one way here and in another there: the same
// screw in metal and in plastic.
func (h *HardwareLine) Mixed() bool {
	return slices.ContainsFunc(h.Uses, func(u Use) bool { return u.Lock != h.Uses[0].Lock })
}

// Label names the line in words: "M3x8 button screw".
func (h *HardwareLine) Label() string {
	out := h.Thread
	if h.Length > 0 {
		out += "x" + mm(h.Length)
	}
	switch h.Kind {
	case Screws, Nuts:
		out += " " + h.Head
	}
	return strings.TrimSpace(out + " " + string(h.Kind))
}

// Hardware lists what holds the craft together, by kind, thread, length and material. The
// screws of the list are those of the joints, each once.
func (a *Assembly) Hardware() []HardwareLine {
	h := &hardware{at: map[string]int{}}
	for _, j := range a.Joints {
		h.joint(j)
	}
	for _, s := range a.Stacks {
		h.stack(a, s)
	}
	h.posts(a)
	for i := range h.lines {
		l := &h.lines[i]
		l.Spares = max(2, int(math.Ceil(0.1*float64(l.Count)-1e-9)))
	}
	rank := []HardwareKind{Screws, Studs, Nuts, Washers, PressNuts, PropNuts, Standoffs, Spacers, Grommets}
	slices.SortStableFunc(h.lines, func(x, y HardwareLine) int {
		return cmp.Or(cmp.Compare(slices.Index(rank, x.Kind), slices.Index(rank, y.Kind)), cmp.Compare(majorOf(x.Thread), majorOf(y.Thread)),
			cmp.Compare(x.Length, y.Length), cmp.Compare(x.Head, y.Head), cmp.Compare(x.Material, y.Material), cmp.Compare(x.Part, y.Part))
	})
	return h.lines
}

// hardware gathers lines.
type hardware struct {
	lines []HardwareLine
	at    map[string]int
}

// add counts n pieces of a line at a place.
func (h *hardware) add(l HardwareLine, where string, n int) {
	key := fmt.Sprintf("%s|%s|%.6f|%s|%s|%s", l.Kind, l.Thread, l.Length, l.Head, l.Material, l.Part)
	i, ok := h.at[key]
	if !ok {
		i = len(h.lines)
		h.at[key] = i
		h.lines = append(h.lines, l)
	} else {
		old := &h.lines[i]
		old.Given, old.Sure = old.Given && l.Given, old.Sure && l.Sure
		if l.Torque > 0 && (old.Torque <= 0 || l.Torque < old.Torque) {
			old.Torque = l.Torque // the weakest of its threads
		}
		if old.Lock != l.Lock {
			for _, w := range strings.Split(l.Lock, "; ") {
				if !slices.Contains(strings.Split(old.Lock, "; "), w) {
					old.Lock += "; " + w
				}
			}
		}
		if old.Note == "" {
			old.Note = l.Note
		}
	}
	o := &h.lines[i]
	o.Count += n
	for k := range o.Uses {
		if o.Uses[k].Where == where {
			o.Uses[k].Count += n
			return
		}
	}
	o.Uses = append(o.Uses, Use{where, n, l.Lock})
}

func (h *hardware) joint(j *Joint) {
	where := j.Owner.ID
	f := j.Fastening
	if f.Length != nil && !f.Own {
		l := HardwareLine{
			Kind: Studs, Thread: f.Size, Length: f.Length.Value, Material: f.Material, MassEach: screwMass(f).Value,
			Lock: locking(f), Torque: torque(f), Given: f.Given, Sure: f.Found,
		}
		if f.Head != nil {
			l.Kind, l.Head, l.Key = Screws, f.Head.Form, f.Head.Key
		}
		if soft(f) {
			l.Note = "over grommets: tighten to first contact, then until they are a tenth to a fifth shorter"
		}
		h.add(l, where, 1)
	}
	if f.Washer && f.Thread != nil && (f.Head == nil || f.Head.Form != "countersunk") {
		h.add(HardwareLine{Kind: Washers, Thread: f.Size, Material: f.Material, MassEach: washerMass(f).Value, Given: true, Sure: true}, where, 1)
	}
	n := f.Nut
	if n == nil || n.Item != "" {
		return // nuts that are items of a stack are counted there
	}
	l := HardwareLine{Kind: Nuts, Thread: f.Size, Head: n.Kind, Material: n.Material, MassEach: nutMass(f).Value, Given: true, Sure: true}
	switch {
	case f.Kind == PropNut:
		l.Kind, l.Torque = PropNuts, 3.0
		l.Key, l.Lock = "8 across flats", "its insert: no threadlocker"
		if n.Kind != "insert" {
			l.Lock = "a washer with grip: no threadlocker"
		}
		if f.Size == "M6" {
			l.Key = "10 across flats"
		}
	case n.Kind == "press":
		l.Kind, l.Note = PressNuts, "pressed in from the side away from the head"
	default:
		if f.Thread != nil {
			l.Key = mm(f.Thread.NutAF) + " across flats"
		}
		l.Lock, l.Torque = locking(f), torque(f)
	}
	h.add(l, where, 1)
}

// soft tells joints that squeeze grommets.
func soft(f *Fastening) bool {
	for _, l := range f.Layers {
		if l.Kind == "grommet" {
			return true
		}
	}
	return false
}

// locking says what keeps a screw from turning. Threadlocker is for metal on metal; it
// cracks plastics, and creeps onto what lies beside.
func locking(f *Fastening) string {
	switch {
	case f.Nut != nil && f.Nut.Kind == "insert":
		return "the nut's insert"
	case f.Kind == PropScrew:
		return "no threadlocker: plastic hub"
	case f.Kind == CameraScrew:
		return "no threadlocker: plastic cheeks"
	case !metal(f.Material) || !metal(f.Into.Material):
		return "no threadlocker: plastic"
	}
	return "threadlocker, medium"
}

// clampCarbon is the greatest torque for a small head straight on carbon plate, N·m: more
// crushes it; a washer spreads the load.
const clampCarbon = 0.8

// torque is the greatest torque for a joint: the weaker of its materials rules.
func torque(f *Fastening) float64 {
	if f.Kind == PropScrew {
		return 0.2
	}
	t := shapes.TorqueMost(f.Size, f.Material, f.Into.Material)
	if t > clampCarbon && !f.Washer {
		for _, l := range f.Layers {
			if strings.HasSuffix(l.Kind, "plate") && l.Conducts {
				return clampCarbon
			}
		}
	}
	return t
}

// stack counts what sits between the boards of a stack.
func (h *hardware) stack(a *Assembly, s *Stack) {
	for i := range s.Levels {
		l := &s.Levels[i]
		if l.Item == nil {
			continue
		}
		where, n := l.Component.ID, len(s.Screws)
		each := 0.0
		if g := l.Component.Mass.Grams; len(g.Missing()) == 0 && n > 0 {
			each = g.Nominal() / float64(n)
		}
		switch {
		case l.Board && l.Grommet != nil:
			h.add(HardwareLine{Kind: Grommets, Thread: s.Screw, Material: "rubber", Part: l.Grommet.Name, Given: true, Sure: true}, where, n)
		case l.Board:
		case l.Component.Kind == "spacer":
			line := HardwareLine{Kind: Spacers, Thread: s.Screw, Length: thickness(l), Material: l.Item.Material, MassEach: each, Given: true, Sure: true}
			if p := l.Component.Part; p != nil {
				line.Part = p.Name
			}
			h.add(line, where, n)
		case l.Item.Kind == ItemWasher:
			h.add(HardwareLine{Kind: Washers, Thread: s.Screw, Material: l.Item.Material, MassEach: each, Given: true, Sure: true}, where, n)
		default:
			lock, kind := "threadlocker, medium", "plain"
			switch {
			case l.Item.Insert:
				lock, kind = "the nut's insert", "insert"
			case !metal(l.Item.Material):
				lock = "no threadlocker: plastic"
			}
			key := ""
			for _, j := range a.Joints {
				if j.Nut != nil && j.Nut.Item == where && j.Thread != nil {
					key = mm(j.Thread.NutAF) + " across flats"
				}
			}
			h.add(HardwareLine{
				Kind: Nuts, Thread: s.Screw, Head: kind, Material: l.Item.Material, MassEach: each, Lock: lock, Key: key,
				Torque: shapes.TorqueMost(s.Screw, "steel", l.Item.Material), Given: true, Sure: true,
			}, where, n)
		}
	}
}

func thickness(l *Level) float64 {
	return math.Round(l.To.Sub(l.From).Nominal()*1e6) / 1e6
}

// posts counts standoffs.
func (h *hardware) posts(a *Assembly) {
	for _, p := range a.Posts {
		if p.Part == nil || p.Part.Standoff == nil || p.Body == nil {
			continue
		}
		s := p.Part.Standoff
		each := s.MassPerMM * p.Length.Value
		if each <= 0 && p.Part.Mass != nil {
			each = p.Part.Mass.Value
		}
		h.add(HardwareLine{
			Kind: Standoffs, Thread: s.Thread, Length: p.Length.Value, Material: s.Material, Part: p.Part.Name, MassEach: each, Given: true, Sure: true,
		}, p.Body.Of, 1)
	}
}
