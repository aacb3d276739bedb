package rules

import (
	"fmt"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// supportShare is how much of a part's footprint must lie on its carrier, in percent.
// Adhesive foam holds by area; with half of it in the air the part peels off from the
// free end.
const supportShare = 50.0

var partSupport = &Rule{
	Name:     "part-support",
	Group:    "parts",
	Question: "does each mounted part lie on what carries it, with its weight inside",
	Why:      "A part that hangs over an edge or a cut-out peels off its tape, and its leads carry it until they break.",
	Need:     "At least half of the footprint on the carrier (foam and tape hold by area), and the part's centre over the carrier or between the places where it rests.",
	How:      "Area of the footprint in plan that meets the carrier's face (plates with their holes and cut-outs, boards, other parts), as a share of the footprint, in %.",
	Fix:      "Move the part inwards, or turn it.",
	Run:      runPartSupport,
}

func runPartSupport(p *Pass) {
	judged := 0
	by := map[string]*layout.Component{}
	for _, c := range p.Asm.Components {
		by[c.ID] = c
	}
	parts := append([]*layout.Component(nil), p.Asm.Mounts...)
	for _, pack := range p.Asm.Packs {
		parts = append(parts, pack.Component)
	}
	for _, c := range parts {
		carrier := by[c.On]
		foot := footprint(c, layout.PartBody, layout.PackBody, layout.PcbBody)
		if carrier == nil || len(foot) == 0 {
			continue
		}
		face := faceOf(p.Asm, carrier)
		if len(face) == 0 {
			continue
		}
		both, err := geom.Intersection(foot, face)
		if err != nil {
			panic(err) // a fault of ours, told as such by the frame
		}
		share := 100 * areaOf(both) / areaOf(foot)
		at := centreOf(foot)
		z := c.Base.Nominal()
		f := layout.Finding{
			Unit: shapes.Ratio, Subjects: []string{c.ID, carrier.ID}, Pos: c.Pos, HasPlace: true,
			A: r3.Vector{X: at.X, Y: at.Y, Z: z}, B: r3.Vector{X: at.X, Y: at.Y, Z: z},
			Near: "on " + short(carrier.ID),
		}.Judge(layout.Fixed(share), p.Need(supportShare))
		f.Message = fmt.Sprintf("%.0f %% of the footprint of %s lies on %s", share, short(c.ID), short(carrier.ID))
		if f.Verdict == layout.OK && !rests(both, at) {
			f.Verdict = layout.Fail
			f.Message += ", but its centre lies beyond what it rests on"
		}
		if f.Verdict == layout.Fail {
			f.Fix = fmt.Sprintf("move %s over %s, or turn it so that it lies along it", short(c.ID), short(carrier.ID))
		}
		p.Report(f)
		judged++
	}
	if judged == 0 {
		p.Nothing("no part or pack is mounted on a face")
	}
}

// footprint returns the plans of a component's bodies of these kinds.
func footprint(c *layout.Component, kinds ...layout.Kind) []geom.Region {
	var out []geom.Region
	for _, b := range c.Bodies {
		if b.Swept {
			continue
		}
		for _, k := range kinds {
			if b.Kind == k && len(out) == 0 {
				out = b.Plan
			}
		}
	}
	return out
}

// faceOf returns what a component offers to sit on, in plan.
func faceOf(asm *layout.Assembly, c *layout.Component) []geom.Region {
	if pl := plateOf(asm, c.ID); pl != nil {
		return pl.Outline
	}
	return footprint(c, layout.PcbBody, layout.PartBody, layout.PackBody)
}

func areaOf(rs []geom.Region) float64 {
	sum := 0.0
	for _, r := range rs {
		sum += r.Area()
	}
	return sum
}

// centreOf returns the centre of area of regions that have one.
func centreOf(rs []geom.Region) (c r2.Point) {
	sum := areaOf(rs)
	if sum <= 0 {
		return c
	}
	for _, r := range rs {
		c = c.Add(r.Moments().Centroid.Mul(r.Area() / sum))
	}
	return c
}

// rests reports whether a point lies in the convex hull of regions: a part rests firmly
// when its centre does.
func rests(rs []geom.Region, p r2.Point) bool {
	var loops []geom.Loop
	for _, r := range rs {
		loops = append(loops, r.Outer)
	}
	return len(loops) > 0 && geom.ConvexHull(loops...).Contains(p)
}
