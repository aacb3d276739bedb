package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

var wireSpace = &Rule{
	Name:     "wire-space",
	Group:    "wires",
	Question: "do all the wires together fit where they run",
	Why:      "Each bundle fits for itself, and the last one does not go through the slot; where two cross under a board, they are pressed against its solder joints and short them in the first crash.",
	Need:     "0.5 mm of play in an opening, so that the last wire can be drawn past the others; 0.3 mm to boards' parts and all that is hard over them, so that it is not pressed on them, nothing to bare boards, plates, foam and packs.",
	How:      "In mm. Round openings against the least circle round all wires that go through: equal ones exactly, unlike ones as 3 parts of wire to 1 of air. Slots in width against the thickest, and in length against all of them one beside the other. Along plates and boards the thickness of a bundle, and of both where two cross, against the room up to what is over them, as sums of the same heights; up to four loose wires lie flat where they cross others. Heat, straps and props are for other rules to tell.",
	Fix:      "A larger opening, a higher spacer, or lead one of them elsewhere with `via:`.",
	Run:      runWireSpace,
}

const (
	airOver = 0.3 // mm to hard things over a wire
	grazes  = 0.1 // mm: what reaches less far over a wire stands beside it, as it may
	fanned  = 4   // so many loose wires lie side by side where they cross others, more as a bundle
)

// spaceNear is how near to a bundle what is over it is told of, mm.
const spaceNear = 10.0

func runWireSpace(p *Pass) {
	var first *layout.Circuit
	for _, c := range p.Asm.Circuits {
		if first == nil && routed(c) {
			first = c
		}
	}
	p.fullOpenings()
	laid := p.laidRuns()
	var least worstOf // of all that hold, only the tightest is told
	for _, c := range p.Asm.Circuits {
		p.tellUnder(&least, p.underOne(laid, c))
	}
	for i, c := range p.Asm.Circuits {
		for _, d := range p.Asm.Circuits[i+1:] {
			p.tellUnder(&least, p.underTwo(laid, c, d))
		}
	}
	if least.found {
		p.Report(least.f)
	}
	switch {
	case len(p.Asm.Circuits) == 0:
		p.Nothing("the build has no `wires:`")
	case first == nil:
		p.Nothing("no wire has a way yet, as wire-route tells")
	case len(p.findings) == 0:
		f := wireFinding(first)
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("no wire goes through an opening, or less than %s under anything", mm(spaceNear))
		p.Report(f)
	}
}

// playNeed is the play that what goes through an opening needs.
func (p *Pass) playNeed() layout.Form { return p.Need(openingPlay) }

func (p *Pass) tellUnder(least *worstOf, w worstOf) {
	switch {
	case !w.found:
	case w.f.Verdict == layout.OK:
		least.add(w.f)
	default:
		p.Report(w.f)
	}
}

// laidRun is a straight piece of a bundle on a face, or a chord of a bent one.
type laidRun struct {
	c    *layout.Circuit
	seg  geom.Seg
	plan geom.Region
	face layout.Form // what it lies on
	up   bool        // on a face that looks up
}

func (p *Pass) laidRuns() []laidRun {
	var out []laidRun
	for _, c := range p.Asm.Circuits {
		if !routed(c) {
			continue
		}
		for i := range c.Route.Legs {
			leg := &c.Route.Legs[i]
			if leg.Kind != layout.LegAlong {
				continue
			}
			up := !strings.HasSuffix(leg.Level, ".bottom")
			face := p.faceUnder(leg, c.OD.Value/2, up)
			for _, s := range leg.Path.Segs {
				n := 1
				if s.IsArc() {
					n = 8
				}
				for k := range n {
					a, b := s.At(float64(k)/float64(n)), s.At(float64(k+1)/float64(n))
					if b.Sub(a).Norm() < touch {
						continue
					}
					out = append(out, laidRun{c: c, seg: geom.Seg{A: a, B: b}, plan: geom.RegionOf(geom.Capsule(a, b, math.Max(c.OD.Value-2*grazes, touch))), face: face, up: up})
				}
			}
		}
	}
	return out
}

// faceUnder is the height of what a leg lies on: of a plate's face, or of the top of a board with its parts.
func (p *Pass) faceUnder(leg *layout.Leg, r float64, up bool) layout.Form {
	at := leg.Z0 - r
	if !up {
		at = leg.Z0 + r
	}
	is := func(f layout.Form) bool { return math.Abs(f.Nominal()-at) < 0.01 }
	for _, pl := range p.Asm.Plates {
		switch {
		case up && leg.Level == pl.ID+".top" && is(pl.Top):
			return pl.Top
		case !up && leg.Level == pl.ID+".bottom" && is(pl.Bottom):
			return pl.Bottom
		}
	}
	if owner, ok := strings.CutPrefix(leg.Level, "over "); ok {
		for _, b := range p.Asm.Bodies {
			if b.Of == owner && is(b.Top) {
				return b.Top
			}
		}
	}
	return layout.Fixed(at)
}

// over calls yield with all that faces the plan from the side that the face looks to and stands beyond mid, with
// the height between the two and how far a wire keeps off it. Bodies that lean and what props sweep are left out.
func (p *Pass) over(plan geom.Region, face layout.Form, up bool, mid float64, yield func(b *layout.Body, room layout.Form, keep float64)) {
	box := plan.Bound()
	for _, b := range p.Asm.Bodies {
		keep, is := layout.KeepOff(b)
		if b.Kind == layout.PlateBody {
			keep, is = 0, true
		}
		if !is || b.Tilted != nil || b.Kind == layout.StrapBody {
			continue
		}
		keep = math.Min(keep, airOver)
		room := b.Bottom.Sub(face)
		if !up {
			room = face.Sub(b.Top)
		}
		if n := room.Nominal(); n <= mid || n > 2*spaceNear+mid {
			continue
		}
		if slices.ContainsFunc(b.Plan, func(g geom.Region) bool { return box.Intersects(g.Bound()) && geom.Intersects(plan, g) }) {
			yield(b, room, keep)
		}
	}
}

// underOne judges the room of one circuit for itself.
func (p *Pass) underOne(laid []laidRun, c *layout.Circuit) worstOf {
	var worst worstOf
	for _, r := range laid {
		if r.c != c {
			continue
		}
		p.over(r.plan, r.face, r.up, c.OD.Value/2, func(b *layout.Body, room layout.Form, keep float64) {
			at, ok := meetInPlan([]geom.Region{r.plan}, b.Plan)
			if q := r.seg.At(0.5); !ok || !inAny(b.Plan, at) {
				at = q
			}
			p.inRoom(&worst, []*layout.Circuit{c}, b, r.face, room, keep, at)
		})
	}
	return worst
}

// underTwo judges the room where two circuits cross on one face: one lies over the other there.
func (p *Pass) underTwo(laid []laidRun, c, d *layout.Circuit) worstOf {
	const steep = 0.17 // sine of 10°: flatter ones can lie side by side
	var worst worstOf
	for _, r := range laid {
		if r.c != c {
			continue
		}
		for _, s := range laid {
			if s.c != d || r.up != s.up || math.Abs(r.face.Sub(s.face).Nominal()) > 0.01 || !r.seg.Bound().Intersects(s.seg.Bound()) {
				continue
			}
			if math.Abs(math.Sin(geom.Turn(r.seg.Tangent(0), s.seg.Tangent(0)).Radians())) < steep {
				continue
			}
			thin := math.Min(c.OD.Value, d.OD.Value)
			for _, at := range r.seg.Meet(s.seg, 0, nil) {
				p.over(geom.RegionOf(geom.Circle(at, thin/2)), r.face, r.up, thin/2, func(b *layout.Body, room layout.Form, keep float64) {
					p.inRoom(&worst, []*layout.Circuit{c, d}, b, r.face, room, keep, at)
				})
			}
		}
	}
	return worst
}

// inRoom judges one circuit, or two of which one lies over the other, in the room under a body.
func (p *Pass) inRoom(worst *worstOf, cs []*layout.Circuit, b *layout.Body, face, room layout.Form, keep float64, at r2.Point) {
	thick := layout.Form{}
	for _, c := range cs {
		if len(cs) > 1 {
			thick = thick.Plus(flatOD(c), 1)
			continue
		}
		thick = thick.Plus(c.OD, 1)
	}
	free := room.Sub(thick)
	if free.Nominal() > spaceNear {
		return
	}
	f := wireFinding(cs[0])
	f.Subjects = f.Subjects[:1]
	for _, c := range cs[1:] {
		f.Subjects = append(f.Subjects, wireFinding(c).Subjects[0])
		f.Near += " and " + c.Label
	}
	f.Subjects = append(f.Subjects, b.Of)
	z := face.Nominal()
	far := b.Bottom.Nominal()
	if far < z {
		far = b.Top.Nominal()
	}
	f.HasPlace, f.A, f.B = true, lift(at, z), lift(at, far)
	f = f.Judge(free, p.Need(keep))
	what := fmt.Sprintf("%s, %s thick, %s", wiresOf(cs[0]), mm(thick.Nominal()), runs(cs[0]))
	if len(cs) > 1 {
		what = fmt.Sprintf("%s and %s cross, %s high together,", wiresOf(cs[0]), wiresOf(cs[1]), mm(thick.Nominal()))
	}
	side := "under"
	if far < z {
		side = "over"
	}
	name := p.piece(b)
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("whether what lies %s %s fits there hangs on a dimension that is missing", side, name)
	case f.Measured < -0.005:
		f.Message = fmt.Sprintf("%s %s %s, where there are %s: %s too few, and %s of air is needed", what, side, name, mm(room.Nominal()), mm(-f.Measured), mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s %s %s, where there are %s: %s of air, %s needed", what, side, name, mm(room.Nominal()), mm(f.Measured), mm(f.Needed))
	}
	f.Fix = unknownFix(&f)
	if mustMend(&f) {
		one := themOrIt(cs[0])
		if len(cs) > 1 {
			one = "one of the two"
		}
		f.Fix = fmt.Sprintf("lead %s elsewhere with `via:`, or make room with a higher spacer, by %s", one, mm(up(-f.Worst, 0.1)))
	}
	worst.add(f)
}

// flatOD is how thick a circuit is where it crosses another: a few loose wires lie side by side there.
func flatOD(c *layout.Circuit) *shapes.Dim {
	if c.Spec != nil && c.Spec.Sleeve != nil || len(c.Wires) > fanned {
		return c.OD
	}
	thick := c.Wires[0].Gauge.Wire.OD
	for _, w := range c.Wires[1:] {
		if largest(w.Gauge.Wire.OD) > largest(thick) {
			thick = w.Gauge.Wire.OD
		}
	}
	return thick
}

func inAny(plan []geom.Region, at r2.Point) bool {
	return slices.ContainsFunc(plan, func(g geom.Region) bool { return g.Contains(at) })
}

// isSleeved reports whether a circuit goes over edges in a sleeve, which keeps its wires together.
func isSleeved(c *layout.Circuit) bool {
	return c.Spec != nil && (c.Spec.Sleeve != nil || c.Spec.Edge == "sleeve")
}

// sleeved is how thick a circuit is in its sleeve: one of the stock is in its thickness; of another nobody knows
// more than that walls of heat-shrink come out 0.4 to 0.6 mm thick when shrunk.
func sleeved(c *layout.Circuit) *shapes.Dim {
	if c.Spec.Sleeve != nil {
		return c.OD
	}
	const wall, off = 0.5, 0.1
	d := *c.OD
	d.Name += " in its sleeve"
	d.Value, d.Plus, d.Minus, d.HasTol = d.Value+2*wall, d.Plus+2*off, d.Minus+2*off, true
	return &d
}
