package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

const (
	// cornerSpare is what a round cutter needs beside its own radius to go round an inside
	// corner without dwelling in it, mm: a trade figure.
	cornerSpare = 0.05
	// leftOver is how much a cutter may leave in a corner before anybody notices, mm: a
	// fifth of what a routed edge may lie off.
	leftOver = 0.02
)

var insideCorner = &Rule{
	Name:     "inside-corner",
	Group:    "plates",
	Question: "are inside corners as round as the cutter leaves them",
	Why:      "A round cutter cannot cut a sharp inside corner: it comes out round, and the tab, plate or part that should sit in it does not. Carbon also starts to crack there.",
	Need:     "A radius of half of the cutter and 0.05 mm. Without `cutting:` in the build a cutter of 2 mm is taken, which small shops use; general shops have 3.175. Where carbon is loaded across the weave, 2 mm is better.",
	How: "The smallest radius of the drawn outline and its cut-outs at which the plate turns inwards, 0 for a sharp corner, in mm. Corners in which the cutter would leave " +
		"less than 0.02 mm do not count. Holes and slots are judged by smallest-feature, printed parts not at all. One finding a plate.",
	Fix: "Round the corner, relieve it with a hole if something square must sit in it, or have it cut with a thinner cutter.",
	Run: runInsideCorner,
}

func runInsideCorner(p *Pass) {
	plates := p.fromSheet()
	var found perPart
	for _, pl := range plates {
		for _, c := range insideCorners(pl) {
			if c.left(p.Asm.Cutting.Cutter.Value/2+cornerSpare) < leftOver {
				continue
			}
			found.add(pl.Name, p.corner(pl, c))
		}
	}
	switch {
	case len(plates) == 0:
		p.Nothing(noSheet)
	case len(found.list) == 0:
		p.Nothing("no plate has an inside corner")
	}
	for i := range found.list {
		p.Report(found.list[i])
	}
}

// turnIn is a place where the edge of a plate turns into it.
type turnIn struct {
	at     r2.Point
	radius float64 // mm, 0 for a sharp corner
	turn   float64 // radians, over 0
	inner  bool    // of a cut-out
}

// left is how far from the drawn corner a cutter of this radius stays at least: a circle
// that touches both legs of a corner lies r/cos(φ/2) - r off the corner, φ being the
// angle by which the edge turns. Turns of half a circle and more hold the cutter off for
// good.
func (c *turnIn) left(radius float64) float64 {
	if c.turn >= math.Pi-1e-6 {
		return math.Inf(1)
	}
	if c.radius >= radius {
		return math.Inf(1) // nothing is left over; the radius itself is judged
	}
	return (radius - c.radius) * (1/math.Cos(c.turn/2) - 1)
}

// insideCorners lists where the drawn edge of a plate turns into it. Round cut-outs have
// no corner.
func insideCorners(pl *layout.Plate) []turnIn {
	var out []turnIn
	for _, g := range pl.Solid {
		out = append(out, turnsIn(g.Outer.CCW(), false)...)
		for _, l := range g.Holes {
			if !isRound(l) {
				out = append(out, turnsIn(l.CCW().Reverse(), true)...)
			}
		}
	}
	return out
}

// isRound reports whether a loop is one circle.
func isRound(l geom.Loop) bool {
	s := l.Bound().Size()
	d := (s.X + s.Y) / 2
	return math.Abs(s.X-s.Y) < 1e-6 && math.Abs(math.Abs(l.Area())-geom.DiscArea(d)) < 1e-6*d*d
}

// turnsIn follows a loop that has the plate on its left. Pieces of one arc count as one.
func turnsIn(l geom.Loop, inner bool) []turnIn {
	var out []turnIn
	n := l.Len()
	for i := range n {
		s, prev := l.Seg(i), l.Seg((i+n-1)%n)
		if a := l.Turn(i).Radians(); a < -1e-6 {
			out = append(out, turnIn{at: s.A, turn: -a, inner: inner})
		}
		if !s.IsArc() || s.Sweep() >= 0 {
			continue
		}
		c := turnIn{at: s.At(0.5), radius: s.Radius(), turn: -s.Sweep().Radians(), inner: inner}
		if k := len(out) - 1; k >= 0 && prev.IsArc() && prev.Sweep() < 0 && prev.Center().Sub(s.Center()).Norm() < 1e-6 && out[k].radius > 0 {
			out[k].turn += c.turn
			continue
		}
		out = append(out, c)
	}
	return out
}

// corner judges one inside corner.
func (p *Pass) corner(pl *layout.Plate, c turnIn) layout.Finding {
	cutter := p.Asm.Cutting.Cutter
	at := lift(c.at, pl.Top.Nominal())
	f := layout.Finding{Subjects: []string{pl.ID}, Pos: pl.Pos, HasPlace: true, A: at, B: at, Near: p.platePlace(pl, c.at)}
	f = f.Judge(layout.Fixed(c.radius), layout.Form{}.Plus(cutter, 0.5).Shift(cornerSpare))
	what := "the edge"
	if c.inner {
		what = "a cut-out"
	}
	if c.radius <= 0 {
		f.Message = fmt.Sprintf("%s of %s has a sharp inside corner, and a cutter of %s leaves a radius of %s", what, p.plateName(pl), mm(cutter.Value), mm(f.Needed))
	} else {
		f.Message = fmt.Sprintf("the smallest inside corner at %s of %s has a radius of %s, and a cutter of %s needs %s", what, p.plateName(pl), mm(c.radius), mm(cutter.Value), mm(f.Needed))
	}
	if mustMend(&f) {
		radius := num(up(f.Needed+f.Margin-f.Worst, 0.05))
		f.Fix = fmt.Sprintf("round it to %s mm or more, such as with `fillet: %s` in the outline", radius, radius)
		if c.inner {
			f.Fix = fmt.Sprintf("round it to %s mm or more, such as with `corner: %s` at the shape that is cut out", radius, radius)
		}
		if thinner := down(2*(c.radius-cornerSpare), 0.1); thinner >= 0.8 {
			f.Fix += fmt.Sprintf(", or have it cut with a cutter of %s", mm(thinner))
		} else {
			f.Fix += ", or relieve it with a hole if something square must sit there"
		}
	}
	return f
}
