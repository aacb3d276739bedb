package layout

import (
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
	"dryfit/shapes"
)

// routeWires finds the way of every circuit, all of them together, so that they share
// channels.
func (r *resolver) routeWires() {
	a := r.asm
	if len(a.Circuits) == 0 {
		return
	}
	space := a.wireSpace()
	var bundles []route.Bundle
	var routed []*Circuit
	for _, c := range a.Circuits {
		b := r.bundle(c)
		if legs, ok := c.legsOf(space, b); ok { // shorter than any other way: level and upright add up on all of them
			c.Route = a.routeOf(c, b, legs)
			c.measure(b)
			continue
		}
		bundles, routed = append(bundles, b), append(routed, c)
	}
	ways := findWays(a.awayFromDiscs(space), space, a.besideDiscs(space), bundles, routed)
	for i, c := range routed {
		if i >= len(ways) {
			break
		}
		c.Route = a.routeOf(c, bundles[i], ways[i])
		c.measure(bundles[i])
	}
}

// routeOf turns what the router found into a route with its edges and ties.
func (a *Assembly) routeOf(c *Circuit, bundle route.Bundle, w route.Way) *Route {
	if w.Blocked != nil {
		b := Blocked(*w.Blocked)
		return &Route{Blocked: &b}
	}
	out := &Route{Length: w.Length}
	run := 0.0
	for _, l := range w.Legs {
		leg := Leg{Level: l.Level, Path: l.Path, At: l.At, Z0: l.Z0, Z1: l.Z1, Length: l.Length, Lane: l.Lane}
		switch l.Kind {
		case route.Leave:
			leg.Kind = LegLeave
		case route.Along:
			leg.Kind = LegAlong
		case route.Drop:
			leg.Kind = LegDrop
		case route.Edge:
			leg.Kind, leg.Through = LegEdge, l.Sheet
		case route.Hole:
			leg.Kind, leg.Through = LegHole, l.Opening
		}
		if leg.Kind == LegEdge || leg.Kind == LegHole {
			out.Edges = append(out.Edges, EdgePlace{
				Plate: l.Sheet, Hole: l.Opening, At: l.At, Along: run + l.Length/2,
				Sharp: c.Spec.Edge == "" && c.Spec.Sleeve == nil && sharp(a.plate(l.Sheet)),
			})
		}
		run += l.Length
		out.Legs = append(out.Legs, leg)
	}
	out.flatten(0, 1, bundle.From.Thick)
	out.flatten(len(out.Legs)-1, -1, bundle.To.Thick)
	out.Ties = a.ties(c, out)
	return out
}

// flatten notes how high the legs are by which the route leaves its pads: level from leg i on, and then upright.
func (r *Route) flatten(i, step int, thick float64) {
	for _, kind := range []LegKind{LegLeave, LegDrop} {
		if i < 0 || i >= len(r.Legs) || r.Legs[i].Kind != kind {
			return
		}
		r.Legs[i].Flat = thick
		i += step
	}
}

// sharp tells the plates whose edges cut insulation: carbon and glass, which fray into
// needles, and metal. Those of plastics and wood, at most 1.3 g/cm³, do not.
func sharp(p *Plate) bool {
	if p == nil || p.Material == nil || p.Material.Material == nil {
		return false
	}
	m := p.Material.Material
	return m.Conducts || !m.Printed && value(m.Density) > 1.4
}

// Ties, in mm of lead.
const (
	tieFree  = 30.0 // leads up to this length hold themselves, unless they can reach a disc
	tieEnd   = 15.0 // from the joint
	tieEdge  = 5.0  // from a plate's edge, on either side
	tieGap   = 40.0 // at most, along plates and arms
	tieNear  = 10.0 // two ties nearer than this are one
	tieSwept = 5.0  // the same where the lead can reach a disc: there it is taped down all along
)

// ties proposes where a circuit is tied down, or finds the places along it that are nearest to
// those of the build.
//
// A lead that is longer than 30 mm is tied 15 mm from either joint, 5 mm before and behind
// plate edges, and every 40 mm between; then further where what the lead between two ties can
// reach, by [Assembly.DiscGap], comes too near to a prop's disc. A pack's own lead is only held for that last reason.
func (a *Assembly) ties(c *Circuit, out *Route) []TiePlace {
	t := newTrack(out)
	r := max(c.OD.Value, leastOD) / 2
	if c.Spec.Ties != nil {
		var ties []TiePlace
		for _, p := range c.Spec.Ties {
			tie := a.tie(t, t.nearest(p.P), r)
			tie.Asked, tie.Opens = true, c.ofPack(tie.Along, t.total)
			ties = append(ties, tie)
		}
		slices.SortStableFunc(ties, func(x, y TiePlace) int { return compareFloat(x.Along, y.Along) })
		return ties
	}
	var at []float64
	apart := tieNear
	add := func(s float64) {
		if s, ok := t.tieable(s); ok && !slices.ContainsFunc(at, func(x float64) bool { return abs(x-s) < apart }) {
			at = append(at, s)
		}
	}
	swept := func(lo, hi float64) bool {
		s := t.stretch(c, lo, hi)
		return a.nearDiscs(&s)
	}
	if out.Length <= tieFree && !swept(0, out.Length) {
		return nil
	}
	fix := func(s float64) {
		if !c.ofPack(s, t.total) {
			add(s)
		}
	}
	fix(tieEnd)
	fix(out.Length - tieEnd)
	run := 0.0
	for _, l := range out.Legs {
		if l.Kind == LegEdge || l.Kind == LegHole {
			fix(run - tieEdge)
			fix(run + l.Length + tieEdge)
		}
		run += l.Length
	}
	for range 64 { // each round adds at least one
		slices.Sort(at)
		stops := append(append([]float64{0}, at...), out.Length)
		grown := false
		for i := 1; i < len(stops); i++ {
			lo, hi := stops[i-1], stops[i]
			n := len(at)
			if hi-lo > tieGap+1e-9 {
				parts := math.Ceil((hi - lo) / tieGap)
				for k := 1.0; k < parts; k++ {
					fix(lo + (hi-lo)*k/parts)
				}
			}
			if len(at) == n && hi-lo > 2*tieSwept && swept(lo, hi) {
				apart = tieSwept
				add((lo + hi) / 2)
				if s, ok := a.besides(t, lo, hi, r); ok && len(at) == n {
					at = append(at, s)
				}
				apart = tieNear
			}
			grown = grown || len(at) > n
		}
		if !grown {
			break
		}
	}
	slices.Sort(at)
	var ties []TiePlace
	for _, s := range at {
		tie := a.tie(t, s, r)
		tie.Opens = c.ofPack(s, t.total)
		ties = append(ties, tie)
	}
	return ties
}

// ofPack reports whether what lies at a length along a way of so many mm is the pack's own lead with its plug.
func (c *Circuit) ofPack(along, total float64) bool {
	if c.Mate == nil {
		return false
	}
	at := c.plugs(total)
	if c.To != nil && c.To.Part != nil && c.To.Part.Pack != nil {
		return along >= at
	}
	return along <= at
}

// plugs is where along a way of so many mm a pack's plug is: where its own lead ends, at the latest a short
// lead before the other end; in the middle, where nobody knows the length of its lead.
func (c *Circuit) plugs(total float64) float64 {
	at := total / 2
	if c.Hung != nil {
		at = max(0, min(c.Hung.Value, total-leastPigtail))
	}
	if c.To != nil && c.To.Part != nil && c.To.Part.Pack != nil {
		at = total - at
	}
	return at
}

func compareFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// track walks along a route.
type track struct {
	spans []span
	total float64
}

// span is a piece of a route with one kind of run.
type span struct {
	from, to float64 // along the route
	seg      geom.Seg
	flat     bool
	at       r2.Point // upright pieces
	z0, z1   float64
	leg      *Leg
}

func newTrack(r *Route) *track {
	t := &track{}
	for i := range r.Legs {
		l := &r.Legs[i]
		if len(l.Path.Segs) == 0 {
			t.spans = append(t.spans, span{from: t.total, to: t.total + l.Length, at: l.At, z0: l.Z0, z1: l.Z1, leg: l})
			t.total += l.Length
			continue
		}
		for _, s := range l.Path.Segs {
			d := s.Length()
			t.spans = append(t.spans, span{from: t.total, to: t.total + d, seg: s, flat: true, z0: l.Z0, z1: l.Z1, leg: l})
			t.total += d
		}
	}
	return t
}

// at returns the place at a distance along the route.
func (t *track) at(s float64) (p r2.Point, z float64, leg *Leg) {
	if len(t.spans) == 0 {
		return p, 0, nil
	}
	i := 0
	for i < len(t.spans)-1 && t.spans[i].to < s {
		i++
	}
	sp := &t.spans[i]
	share := 0.0
	if sp.to > sp.from {
		share = min(1, max(0, (s-sp.from)/(sp.to-sp.from)))
	}
	z = sp.z0 + share*(sp.z1-sp.z0)
	if sp.flat {
		return sp.seg.At(share), z, sp.leg
	}
	return sp.at, z, sp.leg
}

// nearest is the distance along the route of its place nearest to p in plan.
func (t *track) nearest(p r2.Point) float64 {
	best, where := math.Inf(1), 0.0
	for i := range t.spans {
		sp := &t.spans[i]
		d, s := sp.at.Sub(p).Norm(), sp.from
		if sp.flat {
			var share float64
			_, share, d = sp.seg.Nearest(p)
			s = sp.from + share*(sp.to-sp.from)
		}
		if d < best-1e-9 {
			best, where = d, s
		}
	}
	return where
}

// onPlate is the plate on whose face a leg lies, "" for all other legs.
func (l *Leg) onPlate() string {
	if l == nil || l.Kind != LegAlong {
		return ""
	}
	if p, ok := strings.CutSuffix(l.Level, ".top"); ok {
		return p
	}
	if p, ok := strings.CutSuffix(l.Level, ".bottom"); ok {
		return p
	}
	return ""
}

// tieable moves a place along the route to the nearest at which there is a plate to tie to, no
// further than two tie distances.
func (t *track) tieable(s float64) (float64, bool) {
	best, found := 0.0, false
	for i := range t.spans {
		sp := &t.spans[i]
		if sp.leg.onPlate() == "" {
			continue
		}
		const inside = 1e-6 // so that it lies on this piece and not on the next
		q := min(max(s, sp.from+inside), sp.to-inside)
		if abs(q-s) <= 2*tieNear && (!found || abs(q-s) < abs(best-s)-1e-9) {
			best, found = q, true
		}
	}
	return best, found
}

// Where no plate's face is under a lead it is tied to what else is within reach.
const (
	tieAcross = 10.0 // mm in height to a plate, and in plan to a post
	tieSpacer = 5.0  // mm in plan to the spacer of a stack: a tie has to come in round it between boards
	tieOn     = 3.0  // mm over a board or part: tape
)

// besides is the place nearest to the middle between lo and hi, and no nearer to either than
// two ties may be, at which there is something to tie to other than the face of a plate.
func (a *Assembly) besides(t *track, lo, hi, r float64) (float64, bool) {
	mid := (lo + hi) / 2
	for d := 0.0; mid-d >= lo+tieSwept; d++ {
		for _, s := range []float64{mid - d, mid + d} {
			if p, z, leg := t.at(s); leg != nil && leg.Kind != LegEdge && leg.Kind != LegHole && a.holdfast(p, z, r) != "" {
				return s, true
			}
		}
	}
	return 0, false
}

// holdfast is what a bundle of radius r off the faces of plates can be tied or taped to: a
// plate, a post or a stack's spacer near by, or the board or part that it lies on; its ID, ""
// where there is none.
func (a *Assembly) holdfast(p r2.Point, z, r float64) string {
	for _, q := range a.Plates {
		if off := max(q.Bottom.Nominal()-z, z-q.Top.Nominal()) - r; off >= 0 && off <= tieAcross && covers(q.Solid, p) {
			return q.ID
		}
	}
	for _, q := range a.Posts {
		if q.Body != nil && z > q.Bottom.Nominal() && z < q.Top.Nominal() && q.At.Sub(p).Norm()-r <= tieAcross {
			return q.ID
		}
	}
	for _, b := range a.Bodies {
		if b.Kind == SpacerBody && z > b.Bottom.Nominal() && z < b.Top.Nominal() && off(b.Plan, p)-r <= tieSpacer {
			return b.Of
		}
	}
	for _, b := range a.Bodies {
		off := z - r - b.Top.Nominal()
		if (b.Kind == PcbBody || b.Kind == PartBody || b.Kind == ZoneBody) && !b.Hot && abs(off) <= tieOn && covers(b.Plan, p) {
			return b.Of
		}
	}
	return ""
}

// off is how far p lies off the nearest of some regions in mm, 0 in one of them and infinite
// without any.
func off(rs []geom.Region, p r2.Point) float64 {
	least := math.Inf(1)
	for _, g := range rs {
		d := 0.0
		if !g.Contains(p) {
			_, d = g.Outer.Nearest(p)
		}
		least = min(least, d)
	}
	return least
}

// tie is a tie at a distance along the route: to the plate on whose face the bundle of radius r
// lies there. Faces of one height are one level, so the level's name does not tell which.
func (a *Assembly) tie(t *track, s, r float64) TiePlace {
	const near = 0.01
	p, z, leg := t.at(s)
	tie := TiePlace{At: p, Z: z, To: leg.onPlate(), Along: s}
	if tie.To == "" {
		if tie.To = a.holdfast(p, z, r); tie.To == "" && leg != nil {
			tie.To = strings.TrimPrefix(leg.Level, "over ")
		}
		return tie
	}
	for _, q := range a.Plates {
		lies := abs(q.Top.Nominal()+r-z) < near
		if strings.HasSuffix(leg.Level, ".bottom") {
			lies = abs(q.Bottom.Nominal()-r-z) < near
		}
		if lies && covers(q.Solid, p) {
			tie.To = q.ID
			return tie
		}
	}
	return tie
}

// laidShare is how much longer a lead is than the way that is measured for it: laid by hand it
// is never quite taut.
const laidShare = 0.02

// measure works out what to cut of each wire and what it weighs.
//
// A wire is as long as its circuit's way, with the straight piece to its own terminal where
// that lies beside the bundle's end, the slack, and what is bared at its soldered ends. Of a
// lead that comes with a part this is what is used of it; a pack's own lead is not cut, so
// the wire begins at the plug that it is mated with, and is at least 30 mm long.
func (c *Circuit) measure(b route.Bundle) {
	if c.Route == nil || c.Route.Blocked != nil {
		return
	}
	way := &shapes.Dim{Name: c.Label + " way", Value: c.Route.Length, Plus: laidShare * c.Route.Length, Unit: shapes.MM,
		Source: shapes.Assumed, TolSource: shapes.Assumed, HasTol: true}
	for _, w := range c.Wires {
		f := Of(way).Shift(beside(w.From, b.From)+beside(w.To, b.To)).Plus(c.Slack, 1)
		if c.Mate != nil {
			f = f.Plus(c.Hung, -1)
			if short := leastPigtail - f.Nominal(); short > 0 {
				f = f.Shift(short)
			}
			f = f.Plus(stripDim(w), 1) // into the plug's cup
		}
		for _, bared := range []float64{w.StripA, w.StripB} {
			if bared > 0 {
				f = f.Plus(stripDim(w), 1)
			}
		}
		w.Cut = f
		if m := w.Gauge.Wire.MassPerM; m != nil {
			// Linear in both about their nominal values: m·L with L in mm and m in g a metre.
			n := f.Nominal()
			w.Grams = f.Scale(m.Value/1000).Shift(-n*m.Value/1000).Plus(m, n/1000)
		}
	}
}

// leastPigtail is the shortest lead that a plug can be soldered to and still be gripped.
const leastPigtail = 30.0

// stripDim is what is bared at one soldered end: 3 (2..5) mm.
func stripDim(w *Wire) *shapes.Dim {
	return &shapes.Dim{Name: w.ID + " strip", Value: stripLength, Plus: 2, Minus: 1, Unit: shapes.MM, Source: shapes.Assumed, TolSource: shapes.Assumed,
		HasTol: true, Range: true, Conf: "K", Kind: "trade"}
}

// beside is how far a terminal lies from the end of the bundle, where it is not among those
// that leave there together.
func beside(t *Terminal, e route.End) float64 {
	if d := t.At.Sub(e.At).Norm(); d > nearTerminals {
		return math.Hypot(d, t.Z.Nominal()-e.Z)
	}
	return 0
}
