package layout

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
)

// Stretch is a piece of a routed bundle between two places that hold it: joints, plugs, ties.
type Stretch struct {
	Lo, Hi float64   // mm along the route
	A, B   r3.Vector // its ends
	Hangs  bool      // a pair of plugs hangs in it and can swing

	circuit *Circuit
	share   float64 // of the circuit's slack
	way     []r3.Vector
	flat    []float64 // how high it is between two places of way, 0 for as thick as it is
	on      [2]string // plates on whose faces its ends lie
	more    float64   // mm of lead beyond way and slack: a pack's own lead is not cut
}

// Stretches cuts a routed circuit at its ties. It is empty without a way.
func (a *Assembly) Stretches(c *Circuit) []Stretch {
	if c.Route == nil || len(c.Route.Legs) == 0 {
		return nil
	}
	t := newTrack(c.Route)
	var out []Stretch
	lo := 0.0
	for _, tie := range c.Route.Ties {
		if tie.Along > lo+1e-6 && tie.Along < t.total-1e-6 {
			out = append(out, t.stretch(c, lo, tie.Along))
			lo = tie.Along
		}
	}
	return append(out, t.stretch(c, lo, t.total))
}

// Place is the place along a route's middle, mm from its start.
func (r *Route) Place(along float64) r3.Vector {
	p, z, _ := newTrack(r).at(along)
	return r3.Vector{X: p.X, Y: p.Y, Z: z}
}

func (t *track) stretch(c *Circuit, lo, hi float64) Stretch {
	p, z, from := t.at(lo)
	q, w, to := t.at(hi)
	s := Stretch{Lo: lo, Hi: hi, A: r3.Vector{X: p.X, Y: p.Y, Z: z}, B: r3.Vector{X: q.X, Y: q.Y, Z: w}, circuit: c}
	s.on = [2]string{from.onPlate(), to.onPlate()}
	if t.total > 0 {
		s.share = (hi - lo) / t.total
	}
	for i, n := 0, int(min(max(1, math.Ceil(hi-lo)), 400)); i <= n; i++ {
		u, h, _ := t.at(lo + (hi-lo)*float64(i)/float64(n))
		s.way = append(s.way, r3.Vector{X: u.X, Y: u.Y, Z: h})
		if _, _, leg := t.at(lo + (hi-lo)*(float64(i)-0.5)/float64(n)); i > 0 && leg != nil {
			s.flat = append(s.flat, leg.Flat)
		}
	}
	if c.Mate == nil {
		return s
	}
	at, hung := c.plugs(t.total), 0.0
	if c.Hung != nil {
		hung = c.Hung.Value
	}
	if lo <= at && at <= hi {
		s.more = max(0, hung+leastPigtail-t.total-slackValue(c))
		s.Hangs = hi-lo+s.more > pairHeld
	}
	return s
}

// pairHeld is how far apart, in mm, places may be to hold a pair of plugs between them so that it cannot swing: an XT60 is
// 38 long when mated, an XT30 25.
const pairHeld = 38.0

func slackValue(c *Circuit) float64 {
	if c.Slack == nil {
		return 0
	}
	return c.Slack.Value
}

// Surplus is by how much, in mm, a pack's own lead with the shortest piece behind its plug is longer than the way and its slack, in
// the stretch in which its plug lies.
func (s *Stretch) Surplus() float64 { return s.more }

// Length is how long the bundle is between the two places, in mm: the way with its share of
// that slack of the circuit.
func (s *Stretch) Length(slack float64) float64 { return s.Hi - s.Lo + s.more + s.share*slack }

// SweepNeed is the least gap in mm from what a prop of d mm sweeps to hard parts: 3 mm up to
// 3 inch, 5 at 5 inch, 8 from 7 inch, linear in between. Usual figures of the trade.
func SweepNeed(d float64) float64 {
	in := d / 25.4
	return min(max(3, in, 5+(in-5)*1.5), 8)
}

// LabelD is the diameter in mm by which a rotor's needs are scaled: the label of its prop, or
// the real diameter where that is not known.
func (r *Rotor) LabelD() float64 {
	if r.Prop != nil && r.Prop.Part != nil && r.Prop.Part.Prop != nil {
		if d := r.Prop.Part.Prop.NominalD; d != nil && !d.Missing {
			return d.Value
		}
	}
	return 2 * r.Radius.Nominal()
}

// SweepNeed is the gap to a rotor's disc that a stretch needs. Its greatest bulge is measured, so
// it needs no more than hard parts; twice that where plugs hang in it and can swing.
func (s *Stretch) SweepNeed(r *Rotor) float64 {
	need := SweepNeed(r.LabelD())
	if s.Hangs {
		need *= 2
	}
	return need
}

// DiscGap is the gap between what a stretch can reach and what a rotor sweeps, with the middle
// place of the stretch that comes nearest. Negative: the stretch reaches into the disc.
//
// A length L between places at a distance d stays within the ellipsoid of revolution round
// them that [geom.Slack] describes. It is cut across into short pieces, each taken as an
// upright body: its line in plan grown by the radius there, and its height more and less that
// radius. The plates over and under it confine it, but for what comes round their edges: with
// a radius b and an edge w away √(b² − w²). Where a piece is beside the disc and over
// or under it as well, the gap is the straight line between the two, else the greater of those
// in plan and in height; of the pieces' gaps the least counts. Half the bundle's thickness is taken off.
//
// Under the blades, on the motor's side, the gap is to the blades at rest, as for all that
// stands there; at full flex they must not touch, so that the gap is no greater than the need
// and what is left to them then.
func (a *Assembly) DiscGap(s *Stretch, r *Rotor) (Form, r3.Vector) {
	slack := slackValue(s.circuit)
	gap, at, band := a.discGap(s, r, slack)
	f := Fixed(gap+s.circuit.OD.Value/2).Plus(s.circuit.OD, -0.5)
	if d := s.circuit.Slack; d != nil && d.Plus > 0 {
		more, _, _ := a.discGap(s, r, slack+d.Plus)
		k := (more - gap) / d.Plus
		f = f.Plus(d, k).Shift(-k * slack)
	}
	off := band.face
	if band.side != 0 && (s.on[0] == r.Arm || s.on[1] == r.Arm) {
		off = off.Sub(r.MountZ) // what moves the plate moves both
	}
	off = off.Shift(-off.Nominal())
	switch {
	case band.side == 0:
		f = f.Sub(off).Plus(r.Place, -1)
	case band.side < 0:
		f = f.Add(off)
	default:
		f = f.Sub(off)
	}
	return f, at
}

// discFace is a face of what a prop sweeps, and on which side of it a bundle lies.
type discFace struct {
	face Form // height, or the radius
	side int  // -1 under it, +1 over it, 0 beside it
}

// upright is the gap in height between what lies from lo to hi high and a rotor's blades.
func (r *Rotor) upright(lo, hi, need float64) (float64, discFace) {
	under, over := r.SweptLo.Nominal()-hi, lo-r.SweptHi.Nominal()
	below, above := discFace{r.SweptLo, -1}, discFace{r.SweptHi, 1}
	if !r.Below {
		under += need
		if rest := r.Lo.Nominal() - hi; rest < under {
			under, below.face = rest, r.Lo
		}
	} else {
		over += need
		if rest := lo - r.Hi.Nominal(); rest < over {
			over, above.face = rest, r.Hi
		}
	}
	if under > over {
		return under, below
	}
	return over, above
}

// reachStep is the length in mm of the pieces into which a reach is cut.
const reachStep = 2.0

func (a *Assembly) discGap(s *Stretch, r *Rotor, slack float64) (gap float64, at r3.Vector, band discFace) {
	d := s.B.Sub(s.A).Norm()
	length := max(s.Length(slack), d)
	half := s.circuit.OD.Value / 2
	radius, need := r.Radius.Nominal(), s.SweepNeed(r)
	held := geom.Slack{A: s.A, B: s.B, Length: length}
	if s.circuit.Bend > 0 {
		held.Bend = s.circuit.Bend + half
	}
	n := int(min(max(1, math.Ceil(d/reachStep)), 100))
	point := func(t float64) r3.Vector { return s.A.Add(s.B.Sub(s.A).Mul(t)) }
	gap = math.Inf(1)
	near := func(p, q r3.Vector, b, high float64) {
		mid := p.Add(q).Mul(0.5)
		_, _, off := geom.Seg{A: r2.Point{X: p.X, Y: p.Y}, B: r2.Point{X: q.X, Y: q.Y}}.Nearest(r.At)
		flat := off - radius - b - half
		if flat > gap {
			return
		}
		lo, hi := a.confine(r2.Point{X: mid.X, Y: mid.Y}, q.Sub(p).Norm()/2, min(p.Z, q.Z), max(p.Z, q.Z), b, half, high)
		height, face := r.upright(lo, hi, need)
		g := height
		if flat > 0 && height > 0 {
			g = math.Hypot(flat, height) // beside and over or under it
		} else if flat > height {
			g = flat
		}
		if flat >= height {
			face = discFace{face: r.Radius}
		}
		if g < gap {
			gap, at, band = g, mid, face
		}
	}
	for i := range n {
		t0, t1 := float64(i)/float64(n), float64(i+1)/float64(n)
		near(point(t0), point(t1), held.Reach(t0, t1), s.high(t0, t1, half))
	}
	for i := 1; i < len(s.way); i++ {
		near(s.way[i-1], s.way[i], 0, s.high(float64(i-1)/float64(len(s.way)-1), float64(i)/float64(len(s.way)-1), half))
	}
	return gap, at, band
}

// high is half the height of the bundle between two shares of a stretch.
func (s *Stretch) high(from, to, half float64) float64 {
	n := len(s.flat)
	high := 0.0
	for i := int(from*float64(n) + 1e-9); i < n && float64(i) < to*float64(n)-1e-9; i++ {
		if s.flat[i] <= 0 || s.flat[i]/2 >= half {
			return half
		}
		high = max(high, s.flat[i]/2)
	}
	if high > 0 {
		return high
	}
	return half
}

// confine is the height that a piece of a bundle can take, which is half long to either side of
// p, has its middle from z0 to z1 high and can move by b, between the plates over and under it: half as thick, half as high.
func (a *Assembly) confine(p r2.Point, long, z0, z1, b, thick, half float64) (lo, hi float64) {
	const lies = 0.3 // mm by which a bundle may be drawn into the plate that it lies on
	lo, hi = z0-b-half, z1+b+half
	for _, pl := range a.Plates {
		top, bottom := pl.Top.Nominal(), pl.Bottom.Nominal()
		under, over := top <= z0-half+lies && top > lo, bottom >= z1+half-lies && bottom < hi
		if !under && !over {
			continue
		}
		w, inside := withinPlate(pl, p, 4*thick)
		if w -= long; !inside || w <= 0 {
			continue
		}
		round := geom.RoundEdge(b, w)
		if under {
			lo = max(lo, min(top, z0-round-half))
		} else {
			hi = min(hi, max(bottom, z1+round+half))
		}
	}
	return lo, hi
}

// withinPlate tells whether p lies within a plate, and how far from the nearest edge that a
// bundle laid double, so wide, can get round or through.
func withinPlate(pl *Plate, p r2.Point, wide float64) (float64, bool) {
	for _, g := range pl.Outline {
		if !g.Outer.Contains(p) {
			continue
		}
		_, d := g.Outer.Nearest(p)
		for _, h := range g.Holes {
			if size := h.Bound().Size(); min(size.X, size.Y) < wide {
				continue
			}
			if h.Contains(p) {
				return 0, false
			}
			_, e := h.Nearest(p)
			d = min(d, e)
		}
		return d, true
	}
	return 0, false
}

// nearDiscs tells whether a stretch of a circuit can come too near to a disc when everything is
// as far off as it may be.
func (a *Assembly) nearDiscs(s *Stretch) bool {
	for _, r := range a.Rotors {
		need := s.SweepNeed(r)
		if n, ok := a.Needs["wire-sweep"]; ok && n.MM != nil {
			_, need = Of(n.MM).Worst()
		}
		if s.Beyond(r, need) {
			continue
		}
		gap, _ := a.DiscGap(s, r)
		if least, _ := gap.Worst(); least < need {
			return true
		}
	}
	return false
}

// Beyond tells that the gap between what a stretch can reach and what a rotor sweeps is more than mm in plan alone,
// whatever the tolerances: far quicker than [Assembly.DiscGap], and false where that has to say. With d between its ends and b its greatest bulge, a point of a ball of b round their line has at most
// d + 2b to both together, and no less than the two have to any point less twice what lies between that and it.
func (s *Stretch) Beyond(r *Rotor, mm float64) bool {
	slack, more := slackValue(s.circuit), 0.0
	if d := s.circuit.Slack; d != nil {
		more = max(0, d.Plus)
	}
	d := s.B.Sub(s.A).Norm()
	length := max(s.Length(slack+more), d)
	off := r2.Point{X: s.A.X, Y: s.A.Y}.Sub(r.At).Norm() + r2.Point{X: s.B.X, Y: s.B.Y}.Sub(r.At).Norm()
	flat := (off-d)/2 - geom.SlackReach(length, d) - r.Radius.Nominal() - s.circuit.OD.Value/2
	if flat <= mm {
		return false
	}
	for _, f := range []Form{Of(s.circuit.OD), r.Radius, r.SweptLo, r.SweptHi, r.Lo, r.Hi, r.MountZ} {
		if len(f.Missing()) > 0 {
			return false
		}
		lo, hi := f.Worst()
		flat -= hi - lo
	}
	return flat-tolOf(r.Place) > mm
}
