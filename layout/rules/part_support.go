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
	// supportShare is how much of a part's footprint must lie on its carrier, in percent.
	// Adhesive foam holds by area; with half of it in the air the part peels off from the
	// free end.
	supportShare = 50.0
	// levelOut is how far apart in height two things may lie that a part rests on at once,
	// mm, when it is not held by foam that is thicker.
	levelOut = 0.2
)

var partSupport = &Rule{
	Name:     "part-support",
	Group:    "parts",
	Question: "does each mounted part lie on what carries it, with its weight inside",
	Why:      "A part that hangs over an edge or a cut-out peels off its tape, and its leads carry it until they break.",
	Need:     "At least half of the footprint on the carrier (foam and tape hold by area), and the part's centre over the carrier or between the places where it rests.",
	How:      "Area of the footprint in plan that meets what it rests on (plates with their holes and cut-outs; of boards and parts what reaches as high as the part's foot, foam counted), as a share of the footprint, in %. The place by hand may take from it as much as a shift that far would in the worst of eight directions.",
	Fix:      "Move the part inwards, or turn it.",
	Run:      runPartSupport,
}

func runPartSupport(p *Pass) {
	parts := append([]*layout.Component(nil), p.Asm.Mounts...)
	for _, pack := range p.Asm.Packs {
		parts = append(parts, pack.Component)
	}
	judged := 0
	for _, c := range parts {
		if carrier := p.component(c.On); carrier != nil && p.support(c, carrier) {
			judged++
		}
	}
	if judged == 0 {
		p.Nothing("no part or pack is mounted on a face")
	}
}

// support judges one part on its carrier; false if it has no body.
func (p *Pass) support(c, carrier *layout.Component) bool {
	body := mainBody(c)
	if body == nil || areaOf(body.Plan) <= 0 {
		return false
	}
	at := centreOf(body.Plan)
	spot := lift(at, c.Base.Nominal())
	f := layout.Finding{
		Unit: shapes.Ratio, Subjects: []string{c.ID, carrier.ID}, Pos: c.Pos, HasPlace: true,
		A: spot, B: spot, Near: "on " + p.call(carrier.ID),
	}
	name, on := p.call(c.ID), p.call(carrier.ID)
	face := p.restsOn(c, carrier)
	blur := ownBlur(body, carrier)
	if missing := append(body.Blur.Missing(), missingIn(face)...); len(missing) > 0 {
		f.Verdict, f.Missing = layout.Unknown, missing
		f.Message = fmt.Sprintf("how much of %s lies on %s hangs on a dimension that is missing", name, on)
		f.Fix = unknownFix(&f)
		p.Report(f)
		return true
	}
	ground := unionOf(face)
	both := shared(body.Plan, ground, r2.Point{})
	need := p.Need(supportShare)
	area := areaOf(body.Plan)
	share := 100 * areaOf(both) / area
	least := share
	if slip := reachOfBlur(blur); slip > 0 {
		// A shift bares at most a strip as wide as it is long, over the breadth of the part.
		least = math.Max(0, share-100*slip*diagonal(body.Plan)/area)
		if least < need.Nominal() && share >= need.Nominal() {
			least = share
			for k := range 8 {
				sin, cos := math.Sincos(float64(k) * math.Pi / 4)
				moved := shared(body.Plan, ground, r2.Point{X: cos, Y: sin}.Mul(slip))
				least = math.Min(least, 100*areaOf(moved)/area)
			}
		}
	}
	measure := layout.Fixed(share)
	if share-least > 1e-9 {
		measure = measure.Plus(&shapes.Dim{
			Name: "place of " + c.Label, Unit: shapes.Ratio, Minus: share - least, Source: shapes.Assumed, TolSource: shapes.Assumed, HasTol: true,
		}, 1)
	}
	f = f.Judge(measure, need)
	f.Message = fmt.Sprintf("%s %% of the footprint of %s lies on %s, %s %% needed", num(math.Round(10*share)/10), name, on, num(f.Needed))
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("move %s further over %s, or turn it so that it lies along it", name, on)
	}
	p.Report(f)
	if f.Verdict != layout.Fail && len(both) > 0 && !rests(both, at) {
		tip := f
		tip.HasMeasure, tip.Verdict = false, layout.Fail
		tip.Message = fmt.Sprintf("the centre of %s lies beyond the places where it rests on %s", name, on)
		tip.Fix = fmt.Sprintf("move %s until its centre lies over %s", name, on)
		p.Report(tip)
	}
	return true
}

// unionOf returns all that bodies cover in plan.
func unionOf(bodies []*layout.Body) []geom.Region {
	if len(bodies) == 1 {
		return bodies[0].Plan
	}
	plans := make([][]geom.Region, len(bodies))
	for i, b := range bodies {
		plans[i] = b.Plan
	}
	all, err := geom.UnionAll(plans...)
	if err != nil {
		panic(err) // a fault of ours, told as such by the frame
	}
	return all
}

// diagonal is the diagonal of the box round a plan.
func diagonal(plan []geom.Region) float64 {
	box := geom.EmptyRect()
	for _, g := range plan {
		box = box.Union(g.Bound())
	}
	return box.Size().Norm()
}

// mainBody returns the body of a part that lies on its carrier: the bare board of a
// board, else the part itself.
func mainBody(c *layout.Component) *layout.Body {
	for _, b := range c.Bodies {
		switch b.Kind {
		case layout.PartBody, layout.PackBody, layout.PcbBody:
			if !b.Swept {
				return b
			}
		}
	}
	return nil
}

// restsOn returns the bodies of a carrier that a part rests on: the plate, or of a board
// or part all that reaches as high as the foot of the part, as foam under it levels out.
func (p *Pass) restsOn(c, carrier *layout.Component) []*layout.Body {
	if pl := p.plate(carrier.ID); pl != nil {
		return []*layout.Body{plateBody(pl)}
	}
	var foot layout.Form
	give, found := levelOut, false
	for _, b := range c.Bodies {
		if b.Kind == layout.LeadBody {
			continue
		}
		low := b.Bottom
		if c.Flip {
			low = b.Top.Scale(-1)
		}
		if !found || low.Nominal() < foot.Nominal() {
			foot, found = low, true
		}
		if b.Kind == layout.CushionBody && b.Part != nil && b.Part.Kind == shapes.PadKind || b.ID == c.ID+".hold" {
			give = math.Max(give, b.Top.Sub(b.Bottom).Nominal())
		}
	}
	var out []*layout.Body
	for _, b := range carrier.Bodies {
		switch b.Kind {
		case layout.PcbBody, layout.ZoneBody, layout.PartBody, layout.PackBody, layout.CushionBody:
			high := b.Top
			if c.Flip {
				high = b.Bottom.Scale(-1)
			}
			if found && foot.Sub(high).Nominal() <= give+touch {
				out = append(out, b)
			}
		}
	}
	return out
}

// ownBlur is what may move a body on its carrier: its motions less those of the carrier.
func ownBlur(b *layout.Body, carrier *layout.Component) (out layout.Form) {
	var shared []*shapes.Dim
	for _, o := range carrier.Bodies {
		shared = append(shared, o.Rides...)
	}
	for _, d := range b.Rides {
		if !holds(shared, d) {
			out = out.Plus(d, coefOf(b.Blur, d))
		}
	}
	return out
}

// missingIn lists what is missing of the outlines of bodies.
func missingIn(bodies []*layout.Body) (out []*shapes.Dim) {
	for _, b := range bodies {
		out = append(out, b.Blur.Missing()...)
	}
	return out
}

// shared returns what a footprint moved by d has in common with the ground.
func shared(foot, ground []geom.Region, d r2.Point) []geom.Region {
	moved := foot
	if d != (r2.Point{}) {
		moved = make([]geom.Region, len(foot))
		for i := range foot {
			moved[i] = foot[i].Transform(geom.Pose2{Shift: d})
		}
	}
	both, err := geom.Intersection(moved, ground)
	if err != nil {
		panic(err) // a fault of ours, told as such by the frame
	}
	return both
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
