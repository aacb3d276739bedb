package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

const (
	// alikeWithin is how far two outlines may be apart and still be the same, mm: what
	// routed edges and hole places differ by anyway.
	alikeWithin = 0.1
	// plainlyOther is how much a plate must differ from its mirror image for people to see
	// which way round it goes, mm.
	plainlyOther = 0.5
)

var handedParts = &Rule{
	Name:     "handed-parts",
	Group:    "plates",
	Question: "is it plain for every plate which way up it goes",
	Why:      "Four equal arms are cut where two left and two right ones were needed; a plate that is nearly the same from both sides goes in upside down and its holes miss; counterbores end up on the wrong face.",
	Need:     "A plate is either the same from both sides within 0.1 mm, or plainly another, by 0.5 mm somewhere; and its counterbores and countersinks are all on one face, since the machine reaches one face only. 0.1 mm is what routed edges differ by, 0.5 what eyes see.",
	How: "The finished outline with its holes against its mirror image, over every axis through its middle that its corners, edges and holes suggest: the greatest distance between the two at the best axis, in mm. " +
		"Copies of an arm plate are laid on one another, as they are and mirrored, and counted by hand. Printed parts, which have a top anyway, are not judged.",
	Fix: "Make it alike on both sides, or differ plainly; mark the top face; let both hands be cut.",
	Run: runHandedParts,
}

func runHandedParts(p *Pass) {
	plates := p.fromSheet()
	var done []string
	for _, pl := range plates {
		if hasWord(done, pl.Name) {
			continue
		}
		done = append(done, pl.Name)
		var copies []*layout.Plate
		for _, q := range plates {
			if q.Name == pl.Name {
				copies = append(copies, q)
			}
		}
		p.hands(copies)
	}
	if len(done) == 0 {
		p.Nothing(noSheet)
	}
}

// hands judges a plate, or the copies of an arm plate.
func (p *Pass) hands(copies []*layout.Plate) {
	pl := copies[0]
	name := p.plateName(pl)
	f := layout.Finding{Subjects: []string{pl.ID}, Pos: pl.Pos, Near: name}
	faces := p.machined(pl)
	if len(faces) > 1 {
		f.Verdict = layout.Fail
		f.Message = fmt.Sprintf("%s has counterbores or countersinks on both faces, and a machine reaches one", name)
		f.Fix = "put them all on one face, or use washers on the other"
		p.Report(f)
		return
	}
	miss, axis := mirrorMiss(pl.Outline)
	if miss > alikeWithin && miss < plainlyOther && len(faces) == 0 {
		at := pl.Outline[0].Outer.Centroid()
		f.HasPlace, f.A, f.B = true, lift(at, pl.Top.Nominal()), lift(at.Add(axis.Mul(10)), pl.Top.Nominal())
		f = f.Judge(layout.Fixed(miss), layout.Fixed(plainlyOther))
		f.Message = fmt.Sprintf("%s differs from its mirror image by %s only, too little to see which way up it goes and too much to fit both ways", name, mm(miss))
		f.Fix = fmt.Sprintf("move what is off by %s to where it is alike, or make the difference %s or more", mm(miss), mm(plainlyOther))
		p.Report(f)
		return
	}
	f.Verdict = layout.OK
	sides := "is the same from both sides"
	if miss > alikeWithin {
		sides = "is not the same from both sides: mark its top face"
	}
	if len(faces) == 1 {
		face := "top"
		if faces[0] == shapes.Bottom {
			face = "bottom"
		}
		sides = fmt.Sprintf("is machined on its %s face: mark that face", face)
	}
	f.Message = name + " " + sides
	if pl.ArmOf != "" && len(copies) > 1 {
		f.Message = p.handsOf(copies, sides)
	}
	p.Report(f)
}

// handsOf counts the copies of an arm plate by their form.
func (p *Pass) handsOf(copies []*layout.Plate, sides string) string {
	name := spoken(copies[0].Name)
	// A mirror image of the second as it lies on the first is laid there by the pose of the first.
	first := copies[0]
	isFirst := func(c *layout.Plate, t geom.Pose2) bool {
		there := c.Pose.Inverse().Then(t).Then(first.Pose)
		return missOf(c.Outline, there, first.Outline, alikeWithin) <= alikeWithin &&
			missOf(first.Outline, there.Inverse(), c.Outline, alikeWithin) <= alikeWithin
	}
	same, other, odd := 0, 0, 0
	for _, c := range copies {
		switch {
		case isFirst(c, geom.Pose2{}):
			same++
		case isFirst(c, geom.Pose2{Mirror: true}):
			other++
		default:
			odd++
		}
	}
	switch {
	case odd > 0:
		return fmt.Sprintf("the %d %s plates are not all alike: %d as the first, %d its mirror image, %d of other forms; each %s", len(copies), name, same, other, odd, sides)
	case other > 0:
		return fmt.Sprintf("the %d %s plates are %d of one hand and %d of the other: cut both hands; each %s", len(copies), name, same, other, sides)
	}
	return fmt.Sprintf("the %d %s plates are alike, and each %s", len(copies), name, sides)
}

// machined lists the faces of a plate that have counterbores or countersinks: those said in
// the build, else those of the screws' heads.
func (p *Pass) machined(pl *layout.Plate) []shapes.Face {
	var top, bottom bool
	for i := range pl.Holes {
		h := &pl.Holes[i]
		if h.Sink == nil {
			continue
		}
		face := p.Asm.SinkFace(pl, h)
		top = top || face == shapes.Top
		bottom = bottom || face == shapes.Bottom
	}
	var out []shapes.Face
	if top {
		out = append(out, shapes.Top)
	}
	if bottom {
		out = append(out, shapes.Bottom)
	}
	return out
}

// mirrorMiss returns by how much a plate differs from its mirror image at best, in mm, and
// the direction of that axis.
func mirrorMiss(regions []geom.Region) (miss float64, axis r2.Point) {
	if len(regions) == 0 {
		return 0, r2.Point{X: 1}
	}
	g := regions[0]
	c := g.Outer.Centroid()
	miss = math.Inf(1)
	for _, d := range g.MirrorAxes(c, 0.5, plainlyOther) {
		// A mirror in an axis is one in x followed by a turn of twice its angle.
		t := geom.Pose2{Shift: c.Mul(-1)}.Then(geom.Pose2{Mirror: true, Turn: 2 * geom.Heading(d)}).Then(geom.Pose2{Shift: c})
		if m := missOf(regions, t, regions, miss); m < miss-1e-9 {
			miss, axis = m, d
		}
	}
	return miss, axis
}

// missOf is the greatest distance of points of one plate's edges, moved by t, from those of the other,
// outer edges against outer, holes against holes, in mm; a hole without any counterpart
// counts as far as the outlines reach. It stops at the first point that is farther off than
// enough, and tells that one's distance.
func missOf(a []geom.Region, t geom.Pose2, b []geom.Region, enough float64) float64 {
	if len(a) != len(b) {
		return math.Inf(1)
	}
	out := 0.0
	for i := range a {
		s := b[i].Bound().Size()
		far := math.Max(s.X, s.Y)
		out = edgesMiss([]geom.Loop{a[i].Outer}, t, []geom.Loop{b[i].Outer}, far, out, enough)
		out = edgesMiss(a[i].Holes, t, b[i].Holes, far, out, enough)
	}
	return out
}

// edgesMiss is the greatest distance of points of some loops, moved by t, from others, far if there are
// none, and at least least. It stops at the first that is farther off than enough.
func edgesMiss(a []geom.Loop, t geom.Pose2, b []geom.Loop, far, least, enough float64) float64 {
	const parts = 4
	for _, l := range a {
		for _, s := range l.Segs() {
			for k := range parts {
				p := t.Apply(s.At(float64(k) / parts))
				box := geom.Rect{Lo: p, Hi: p}
				near := far
				for _, m := range b {
					if near <= least {
						break // no farther than a point before it
					}
					if m.Bound().Distance(box) >= near {
						continue
					}
					_, d := m.Nearest(p)
					near = math.Min(near, d)
				}
				if least = math.Max(least, near); least > enough {
					return least
				}
			}
		}
	}
	return least
}
