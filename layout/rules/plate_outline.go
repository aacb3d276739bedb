package rules

import (
	"errors"
	"fmt"
	"math"

	"dryfit/geom"
	"dryfit/layout"
)

// A plate of a small craft is no smaller and no larger than this, mm: what lies beyond is
// nearly always a drawing in another unit.
const (
	leastPlate = 10.0
	mostPlate  = 1000.0
	inch       = 25.4
)

var plateOutline = &Rule{
	Name:     "plate-outline",
	Group:    "plates",
	Question: "is every plate one closed outline of a likely size, cut once",
	Why:      "A shop refuses outlines that cross themselves, cuts doubled lines twice, and does not ask when a drawing in inches comes as millimetres: all holes are off by 25.4 then.",
	Need:     "One piece whose edges neither cross nor touch; 10 to 1000 mm along its longer side; no hole drawn within another. Usual limits of files from shops and drawings.",
	How:      "The finished outline with its holes. Size is that of the box round it, in mm. Holes that cross without lying within each other are told by web-width. Printed parts are judged as well.",
	Fix:      "Say the unit or scale of the drawing, or delete the double.",
	Run:      runPlateOutline,
}

func runPlateOutline(p *Pass) {
	var done []string
	for _, pl := range p.Asm.Plates {
		before := len(p.findings)
		p.doubles(pl, hasWord(done, pl.Name))
		if hasWord(done, pl.Name) {
			continue
		}
		done = append(done, pl.Name)
		p.outlineOf(pl, before)
	}
	if len(done) == 0 {
		p.Nothing("the build has no plate")
	}
}

// outlineOf judges the form and size of one plate; it tells that they hold only if nothing
// was told since before.
func (p *Pass) outlineOf(pl *layout.Plate, before int) {
	name := p.plateName(pl)
	base := layout.Finding{Subjects: []string{pl.ID}, Pos: pl.Pos, Near: name}
	box := geom.EmptyRect()
	holes := 0
	for _, g := range pl.Outline {
		box = box.Union(g.Bound())
		holes += len(g.Holes)
		var v *geom.Violation
		if err := g.Validate(); errors.As(err, &v) {
			f := base
			f.Verdict = layout.Fail
			f.HasPlace, f.A, f.B = true, lift(v.At, pl.Top.Nominal()), lift(v.At, pl.Top.Nominal())
			f.Near = p.platePlace(pl, v.At)
			f.Message = fmt.Sprintf("the outline of %s is no outline that can be cut: %v at (%s, %s)", name, v.Kind, num(v.At.X), num(v.At.Y))
			f.Fix = "redraw it there by a tenth of a millimetre or more"
			p.Report(f)
		}
	}
	if len(pl.Outline) != 1 {
		f := base
		f.Verdict = layout.Fail
		f.Message = fmt.Sprintf("%s is in %d pieces", name, len(pl.Outline))
		f.Fix = "join them, or make plates of their own of the pieces"
		p.Report(f)
	}
	if box.IsEmpty() {
		return
	}
	s := box.Size()
	long := math.Max(s.X, s.Y)
	size := fmt.Sprintf("%s is %s by %s", name, num(s.X), mm(s.Y))
	f := base
	f.HasPlace, f.A, f.B = true, lift(box.Lo, pl.Top.Nominal()), lift(box.Hi, pl.Top.Nominal())
	switch {
	case long < leastPlate:
		f = f.Judge(layout.Fixed(long), layout.Fixed(leastPlate))
		f.Message = size + ", less than any plate of a craft"
		f.Fix = fmt.Sprintf("say the unit of its drawing: in inches it would be %s by %s", num(s.X*inch), mm(s.Y*inch))
		p.Report(f)
	case long > mostPlate:
		f.AtMost = true
		f = f.Judge(layout.Fixed(long), layout.Fixed(mostPlate))
		f.Message = size + ", more than any plate of a small craft"
		f.Fix = fmt.Sprintf("say the unit or scale of its drawing: taken for inches by mistake it would be %s by %s", num(s.X/inch), mm(s.Y/inch))
		p.Report(f)
	case len(p.findings) == before:
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("%s, one closed outline with %s", size, counted(holes, "opening"))
		p.Report(f)
	}
}

// counted writes a number of things: "no openings", "one opening", "4 openings".
func counted(n int, thing string) string {
	switch n {
	case 0:
		return "no " + thing + "s"
	case 1:
		return "one " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// doubles tells holes that lie wholly within another opening: once a pair of entries. Of a
// further copy of an arm plate only what its other copies do not have is new, which the
// entries' names tell.
func (p *Pass) doubles(pl *layout.Plate, again bool) {
	list := p.openings(pl)
	var told []string
	for i := range list {
		for k := range list {
			a, b := &list[i], &list[k]
			if i == k || a.hole == nil || !a.loop.Bound().Intersects(b.loop.Bound()) || math.Abs(a.loop.Area()) > math.Abs(b.loop.Area())+touch {
				continue
			}
			same := math.Abs(math.Abs(a.loop.Area())-math.Abs(b.loop.Area())) <= touch
			if same && k > i {
				continue // the later one of equals is the double
			}
			in := geom.Inside(b.area, a.area)
			pair := a.group + " " + b.group
			if in.Dist < -touch || hasWord(told, pair) {
				continue
			}
			told = append(told, pair)
			if again && p.toldPair(pl, a.hole) {
				continue
			}
			at := lift(a.hole.At, pl.Top.Nominal())
			f := layout.Finding{
				Subjects: []string{pl.ID}, Pos: a.hole.Pos, Verdict: layout.Fail, HasPlace: true, A: at, B: at, Near: p.platePlace(pl, a.hole.At),
				Message: fmt.Sprintf("%s of %s is drawn within %s, so that nothing is left of it", a.called(), p.plateName(pl), b.called()),
				Fix:     "delete one of the two",
			}
			if same {
				f.Message = fmt.Sprintf("%s of %s is drawn twice, and would be cut twice", a.called(), p.plateName(pl))
			}
			p.Report(f)
		}
	}
}

// toldPair reports whether a copy of the plate has been told of the same entry.
func (p *Pass) toldPair(pl *layout.Plate, h *layout.Hole) bool {
	for i := range p.findings {
		if f := &p.findings[i]; f.Pos == h.Pos && f.Verdict == layout.Fail {
			if q := p.plate(f.Subjects[0]); q != nil && q.Name == pl.Name {
				return true
			}
		}
	}
	return false
}
