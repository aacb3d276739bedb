package layout

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// JointKind says what a screw holds, so that rules can choose the ones they are about.
type JointKind string

// Kinds of joints.
const (
	MotorScrew  JointKind = "motor-screw"  // through the arm into the motor's base
	PropScrew   JointKind = "prop-screw"   // through the hub into the bell (T-mounts)
	PropNut     JointKind = "prop-nut"     // a nut on the motor's stub
	PostScrew   JointKind = "post-screw"   // through plates into a post
	PostStud    JointKind = "post-stud"    // joins two posts through plates
	PostNut     JointKind = "post-nut"     // a post's own stud through plates, with a nut
	StackBolt   JointKind = "stack-bolt"   // through a stack, with a nut
	SpacerScrew JointKind = "spacer-screw" // from an end of a stack into a spacer
	StackStud   JointKind = "stack-stud"   // joins two spacers through a board
	StackNut    JointKind = "stack-nut"    // a spacer's own stud through boards, with a nut
	PlateBolt   JointKind = "plate-bolt"   // through plates, with a nut
	CameraScrew JointKind = "camera-screw" // through a cheek into a camera
)

// Layer is one thing that a screw clamps, or passes.
type Layer struct {
	Name      string // "base plate", "washer"
	Kind      string // "washer", "plate", "counterbored plate", "countersunk plate", "grommet", "spacer", "board", "fastener", "gap", "cheek", "hub"
	Thickness Form   // mm under the head; what a counterbore or a head in a countersink leaves of a plate
	Component string // its component ID, "" if it has none
	Conducts  bool
}

// Engagement is what a screw's end goes into. Depths count from the last clamped face.
type Engagement struct {
	What      string // "the motor", "the post", "a nut"
	Component string // component ID, "" if it has none
	Material  string // of the thread: "aluminium", "nylon", ...
	Least     Form   // the end must reach so far at least
	Most      Form   // and no further, when HasMost
	HasMost   bool
	Aim       float64 // depth that builders aim for, mm
	LeastWhy  string  // where the two limits come from, in words
	MostWhy   string
	Against   string // component ID of what lies in the way beyond, "" for none
}

// NutUse is the nut of a joint.
type NutUse struct {
	Kind     string // "plain", "insert", "press", "flange"
	Material string
	Height   Form
	Item     string // component ID of the item of a stack that it is, "" when it comes with the joint
}

// Try is one length that was looked at.
type Try struct {
	Length float64 // mm
	Short  float64 // depth less the least needed, at worst case; negative: too short
	Long   float64 // the most allowed less the depth, at worst case; negative: too long; +Inf without a limit
}

// Fastening is what all equal joints of a build share.
type Fastening struct {
	Kind     JointKind
	Size     string         // thread, "M3"
	Thread   *shapes.Thread // nil when the catalogue lacks it
	Head     *shapes.Head   // nil: none (studs, nuts), or not known
	Material string         // of the screw
	Layers   []Layer        // from the head to the thread
	Grip     Form           // Σ of the layers
	Into     Engagement
	Washer   bool
	Nut      *NutUse
	Length   *shapes.Dim // as sold; nil for prop nuts
	Own      bool        // the stud of a post or spacer: nothing to buy
	Given    bool        // the build says the length
	Found    bool        // the length is right at worst case on both sides
	Tries    []Try       // every length that is sold, shortest first; the given one alone
	Step     string      // when it is turned: "motors", "frame", "stack", "camera", "props"
	Members  []string    // IDs of the joints
	Twin     *Fastening  // the screws at the other end of the same posts or spacers
	Between  Form        // length of that post or spacer
	Pos      read.Pos

	spec *ScrewSpec
	set  string // joints of different sets of posts or stacks are told apart
}

// Joint is one screw or nut in its place.
type Joint struct {
	ID    string // "rotors.front-left.motor-screws[1]"
	Owner *Component
	At    r2.Point
	Seat  Form // height of the face that the head bears on
	Face  Form // height of the plate's face on the head's side; differs from Seat in a counterbore
	Up    bool // the end points up
	Level bool // lies level, as side screws do: Seat is the height of its axis, Face and Up mean nothing
	*Fastening
}

// Depth is how far the end stands beyond the last clamped face: length less grip.
func (f *Fastening) Depth() Form { return Of(f.Length).Sub(f.Grip) }

// Label names the screw as a shop does: "M3x8 button", "M3 stud 10 mm", "M5 nut".
func (f *Fastening) Label() string {
	if f.Length == nil {
		return f.Size + " nut"
	}
	return ScrewLabel(f.Size, f.Length.Value, f.Head)
}

// ScrewLabel names a screw as a shop does, "M3x8 button". Without a head it is a stud.
func ScrewLabel(size string, length float64, h *shapes.Head) string {
	if h == nil {
		return fmt.Sprintf("%sx%s stud", size, mm(length))
	}
	return fmt.Sprintf("%sx%s %s", size, mm(length), h.Form)
}

// soldLength is a screw's length as sold, with the limits of the standard.
func soldLength(size string, length float64) *shapes.Dim {
	limit := shapes.LengthLimit(length)
	return &shapes.Dim{
		Name: fmt.Sprintf("%sx%s length", size, mm(length)), Value: length, Plus: limit, Minus: limit,
		Unit: shapes.MM, HasTol: true, Conf: "S", Kind: "standard",
	}
}

// attempt measures the joint with a screw of this length.
func (f *Fastening) attempt(length *shapes.Dim) Try {
	depth := Of(length).Sub(f.Grip)
	t := Try{Length: length.Value, Long: math.Inf(1)}
	t.Short, _ = depth.Sub(f.Into.Least).Worst()
	if f.Into.HasMost {
		t.Long, _ = f.Into.Most.Sub(depth).Worst()
	}
	return t
}

// Right reports whether the length holds at worst case on both sides.
func (t Try) Right() bool { return t.Short >= -settle && t.Long >= -settle }

// Misses returns the two lengths sold next to being right: the longest that is too short
// at worst case and the shortest that is too long. Either is nil if there is none.
func (f *Fastening) Misses() (short, long *Try) {
	for _, t := range f.Sold() {
		if t.Short < -settle {
			short = &t
		}
		if t.Long < -settle && long == nil {
			long = &t
		}
	}
	return short, long
}

// Sold tries every length that is sold, also where the build says one.
func (f *Fastening) Sold() []Try {
	var out []Try
	for _, d := range f.sold() {
		out = append(out, f.attempt(d))
	}
	return out
}

// usualLengths are the nominal lengths of ISO 888 up to 60 mm, for threads of which the
// catalogue does not say what is sold.
func usualLengths() []float64 {
	return []float64{3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60}
}

// choices lists the lengths that the joint may have: the given one, or all that are sold.
func (f *Fastening) choices() []*shapes.Dim {
	if f.Length != nil {
		return []*shapes.Dim{f.Length}
	}
	if f.spec != nil && f.spec.Length != nil {
		d := *f.spec.Length
		fillTol(&d, shapes.LengthLimit(d.Value))
		f.Given = true
		return []*shapes.Dim{&d}
	}
	return f.sold()
}

// sold lists the lengths that can be bought for the joint.
func (f *Fastening) sold() []*shapes.Dim {
	sold := usualLengths()
	if f.Thread != nil && len(f.Thread.Lengths) > 0 {
		sold = f.Thread.Lengths
		if f.Kind == MotorScrew || f.Kind == PropScrew {
			sold = append(slices.Clone(sold), f.Thread.KitLengths...)
			slices.Sort(sold)
		}
	}
	var out []*shapes.Dim
	for _, l := range sold {
		out = append(out, soldLength(f.Size, l))
	}
	return out
}

// choose picks the length. Of those that are right at worst case it takes the one whose
// depth is nearest to the aim; where none is, or where a figure is missing, of those that
// hold as drawn, and else of all, the one that misses least.
func (f *Fastening) choose() {
	list := f.choices()
	f.Tries = f.Tries[:0]
	best, rank, merit := -1, -1, math.Inf(-1)
	for i, d := range list {
		t := f.attempt(d)
		f.Tries = append(f.Tries, t)
		k, m := 0, math.Min(t.Short, t.Long)
		switch {
		case f.open():
			k, m = 1, -f.far(d)
		case t.Right():
			k, m = 2, -f.far(d)
		case f.drawn(d):
			k = 1
		}
		if k > rank || k == rank && m > merit+settle {
			best, rank, merit = i, k, m
		}
	}
	f.Length, f.Found = list[best], rank == 2
}

// drawn reports whether the length holds with every figure at its nominal value.
func (f *Fastening) drawn(length *shapes.Dim) bool {
	depth := length.Value - f.Grip.Nominal()
	return depth >= f.Into.Least.Nominal()-settle && (!f.Into.HasMost || depth <= f.Into.Most.Nominal()+settle)
}

// open reports whether a dimension is missing without which no length can be said to be
// right.
func (f *Fastening) open() bool {
	return len(f.Grip.Missing())+len(f.Into.Least.Missing())+len(f.Into.Most.Missing()) > 0
}

func (f *Fastening) far(length *shapes.Dim) float64 {
	return math.Abs(length.Value - f.Grip.Nominal() - f.Into.Aim)
}

// apartInPost is how much of a post or spacer must stay free between two screws, mm.
const apartInPost = 1.0

// Free is what the screws at both ends of a post or spacer leave free between them; ok is
// false when there is no other screw.
func (f *Fastening) Free() (free Form, ok bool) {
	if f.Twin == nil {
		return Form{}, false
	}
	return f.Between.Sub(f.Depth()).Sub(f.Twin.Depth()), true
}

// chooseTwins picks the lengths of the screws at both ends of a post or spacer. Either
// may be nil.
func chooseTwins(a, b *Fastening, between Form) {
	if a == nil || b == nil {
		for _, f := range []*Fastening{a, b} {
			if f != nil {
				f.choose()
			}
		}
		return
	}
	a.Twin, b.Twin, a.Between, b.Between = b, a, between, between
	la, lb := a.choices(), b.choices()
	bestA, bestB, best := -1, -1, math.Inf(1)
	for i, da := range la {
		if !a.attempt(da).Right() {
			continue
		}
		for k, db := range lb {
			if !b.attempt(db).Right() {
				continue
			}
			free := between.Sub(Of(da).Sub(a.Grip)).Sub(Of(db).Sub(b.Grip)).Shift(-apartInPost)
			if lo, _ := free.Worst(); lo < -settle {
				continue
			}
			if far := a.far(da) + b.far(db); far < best-settle {
				bestA, bestB, best = i, k, far
			}
		}
	}
	if bestA < 0 || a.open() || b.open() || len(between.Missing()) > 0 {
		a.choose()
		b.choose()
		return
	}
	for _, s := range []struct {
		f    *Fastening
		list []*shapes.Dim
		at   int
	}{{a, la, bestA}, {b, lb, bestB}} {
		for _, d := range s.list {
			s.f.Tries = append(s.f.Tries, s.f.attempt(d))
		}
		s.f.Length, s.f.Found = s.list[s.at], true
	}
}

// alike reports whether two joints are the same but for their place.
func (f *Fastening) alike(g *Fastening) bool {
	if f == nil || g == nil {
		return f == g
	}
	if f.Kind != g.Kind || f.set != g.set || f.Size != g.Size || f.Head != g.Head || f.Material != g.Material || f.Washer != g.Washer ||
		len(f.Layers) != len(g.Layers) || f.spec != g.spec || (f.Nut == nil) != (g.Nut == nil) || !sameForm(f.Grip, g.Grip) ||
		!sameForm(f.Into.Least, g.Into.Least) || f.Into.HasMost != g.Into.HasMost || !sameForm(f.Into.Most, g.Into.Most) ||
		f.Into.What != g.Into.What || (f.Own && f.Length != g.Length) {
		return false
	}
	if f.Nut != nil && (f.Nut.Kind != g.Nut.Kind || f.Nut.Material != g.Nut.Material || f.Nut.Item != g.Nut.Item) {
		return false
	}
	for i := range f.Layers {
		if f.Layers[i].Kind != g.Layers[i].Kind {
			return false
		}
	}
	return true
}

// sameForm reports whether two forms rest in the same way on the same dimensions, or on
// dimensions with the same names and figures: those of four motors of one make.
func sameForm(a, b Form) bool {
	if math.Abs(a.Const-b.Const) > settle || len(a.Terms) != len(b.Terms) {
		return false
	}
	same := func(x, y float64) bool { return math.Abs(x-y) < settle }
	for i, t := range a.Terms {
		u := b.Terms[i]
		d, e := t.Dim, u.Dim
		if !same(t.Coef, u.Coef) || d != e && (d.Name != e.Name || !same(d.Value, e.Value) || !same(d.Plus, e.Plus) || !same(d.Minus, e.Minus) || d.Missing != e.Missing) {
			return false
		}
	}
	return true
}
