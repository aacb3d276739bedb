package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
)

var strapOverLead = &Rule{
	Name:     "strap-over-lead",
	Group:    "wires",
	Question: "do the straps of the pack keep off the leads",
	Why:      "A strap that is pulled tight over a lead, or drawn along it at each change of packs, tears the joint at its end: the motor stops in hard flight.",
	Need:     "1 mm: slots are 2 mm longer than the strap is wide, so that it wanders by 1 to either side.",
	How:      "From the outside of each routed bundle, as it is drawn, to what the strap takes up over the pack, beside it and on the other face of its plate, in mm. The pack's own lead comes off with it and is left out.",
	Fix:      "Lead the wires past the strap's line with `via:`, or give the strap slots elsewhere.",
	Run:      runStrapOverLead,
}

// strapPlay is how far a strap can wander in its slots, mm: plates get slots 2 mm longer
// than the strap is wide.
const strapPlay = 1.0

// strapNear is how far off each bundle is told of, mm; of those farther off only the nearest.
const strapNear = 10.0

func runStrapOverLead(p *Pass) {
	straps, ways := 0, 0
	for _, pack := range p.Asm.Packs {
		var all []*layout.Body
		for _, b := range pack.Bodies {
			if b.Kind == layout.StrapBody {
				if held := *b; len(pack.SlotHoles) > 0 { // the slots hold it, wherever the pack is set
					held.Blur, held.Rides = layout.Form{}, nil
					b = &held
				}
				all = append(all, b)
			}
		}
		if straps += len(all); len(all) == 0 {
			continue
		}
		before := len(p.findings)
		var nearest worstOf
		for _, c := range p.Asm.Circuits {
			if !routed(c) || c.From == pack.Component || c.To == pack.Component {
				continue
			}
			ways++
			if f, ok := p.leadByStrap(pack, all, c, strapNear); ok {
				p.Report(f)
			}
		}
		if len(p.findings) > before {
			continue
		}
		for _, c := range p.Asm.Circuits {
			if !routed(c) || c.From == pack.Component || c.To == pack.Component {
				continue
			}
			if f, ok := p.leadByStrap(pack, all, c, math.Inf(1)); ok {
				nearest.add(f)
			}
		}
		if nearest.found {
			p.Report(nearest.f)
		}
	}
	switch {
	case len(p.Asm.Packs) == 0:
		p.Nothing("the build has no pack")
	case straps == 0:
		p.Nothing("no pack has a strap")
	case len(p.Asm.Circuits) == 0:
		p.Nothing("the build has no `wires:`")
	case ways == 0:
		p.Nothing("no wire but the pack's own lead has a way")
	}
}

// leadByStrap judges one circuit against the straps of a pack; false if it comes no nearer
// than near mm.
func (p *Pass) leadByStrap(pack *layout.Pack, straps []*layout.Body, c *layout.Circuit, near float64) (layout.Finding, bool) {
	var worst worstOf
	half := c.OD.Value / 2
	line := c.Route.Line()
	for _, b := range straps {
		reach := geom.EmptyRect()
		for _, g := range b.Plan {
			reach = reach.Union(g.Bound())
		}
		reach = reach.Expand(near + half)
		h := heights(b)
		for i := 1; i < len(line); i++ {
			u, v := line[i-1], line[i]
			box := geom.EmptyRect().Add(pointOf(u)).Add(pointOf(v))
			if !box.Intersects(reach) || math.Min(u.Z, v.Z)-half > h.Hi+near || math.Max(u.Z, v.Z)+half < h.Lo-near {
				continue
			}
			m, ok := bundleToBody(u, v, half, b)
			if !ok || m.form.Nominal() > near {
				continue
			}
			f := wireFinding(c)
			f.Subjects = append(f.Subjects[:1], pack.ID)
			f.HasPlace, f.A, f.B = true, m.a, m.b
			worst.add(f.Judge(m.form.Shift(half).Plus(c.OD, -0.5), p.Need(strapPlay)))
		}
	}
	if !worst.found {
		return worst.f, false
	}
	f := worst.f
	strap := "the strap of " + p.call(pack.ID)
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("how far %s %s from %s hangs on a dimension that is missing", wiresOf(c), runs(c), strap)
	case f.Measured < 0.005:
		f.Message = fmt.Sprintf("%s %s against %s, which pulls at them; %s of air needed", wiresOf(c), lies(c), strap, mm(f.Needed))
	default:
		f.Message = fmt.Sprintf("%s %s %s from %s, %s needed", wiresOf(c), runs(c), mm(f.Measured), strap, mm(f.Needed))
	}
	if len(c.Wires) == 1 && f.Measured < 0.005 {
		f.Message = fmt.Sprintf("%s lies against %s, which pulls at it; %s of air needed", wiresOf(c), strap, mm(f.Needed))
	}
	f.Fix = unknownFix(&f)
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("lead %s past it with `via:`, %s farther off, or move the slots of the strap", themOrIt(c), mm(up(-f.Worst, 0.1)))
	}
	return f, true
}

// bundleToBody measures a straight piece of a bundle, half as thick, from a body, the bundle's
// own tolerance left out. A piece without length is a ball.
func bundleToBody(u, v r3.Vector, half float64, b *layout.Body) (apart, bool) {
	piece, err := geom.NewCapsule(u, v, half)
	if err != nil {
		return apart{}, false
	}
	q, w := r2.Point{X: u.X, Y: u.Y}, r2.Point{X: v.X, Y: v.Y}
	return solidSeparation(b, &layout.Body{
		Plan:   []geom.Region{geom.RegionOf(geom.Capsule(q, w, 2*half))},
		Bottom: layout.Fixed(math.Min(u.Z, v.Z) - half), Top: layout.Fixed(math.Max(u.Z, v.Z) + half), Tilted: &piece,
	}), true
}

func runs(c *layout.Circuit) string {
	if len(c.Wires) == 1 {
		return "runs"
	}
	return "run"
}

func lies(c *layout.Circuit) string {
	if len(c.Wires) == 1 {
		return "lies"
	}
	return "lie"
}
