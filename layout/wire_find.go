package layout

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
)

// awayFromDiscs is the space with the clearance of hard parts round the discs.
func (a *Assembly) awayFromDiscs(space *route.Space) *route.Space {
	return a.offDiscs(space, func(r *Rotor) float64 { return max(keepSpin, SweepNeed(r.LabelD())+keepBulge) })
}

// besideDiscs is the space with no more than hard things want round the discs, and nothing round
// straps: what is led there is so near that another rule tells of it, but it has a way.
func (a *Assembly) besideDiscs(space *route.Space) *route.Space {
	out := a.offDiscs(space, func(*Rotor) float64 { return keepHard })
	for _, b := range a.Bodies {
		if b.Kind != StrapBody {
			continue
		}
		for i := range out.Solids {
			if out.Solids[i].ID == b.ID {
				out.Solids[i].Keep = keepSoft
			}
		}
	}
	return out
}

func (a *Assembly) offDiscs(space *route.Space, keep func(*Rotor) float64) *route.Space {
	out := *space
	out.Solids = slices.Clone(space.Solids)
	for i := range out.Solids {
		for _, r := range a.Rotors {
			if s := &out.Solids[i]; s.ID == discID(r) {
				s.Keep = keep(r)
			}
		}
	}
	return &out
}

// findWays routes the bundles off the discs by what hard parts need, and those that begin nearer, find no way so, or only a
// much longer one, nearer, and what still has none as near as may be; all so that they run beside each other. A wire leaves a pad over the edge of its part; where there is no way from
// there, or only one much longer than the straight line, it is led straight off the pad, as builders do
// with leads that have no room behind a board. The bundles' ends are set to what was taken.
func findWays(off, near, beside *route.Space, bundles []route.Bundle, all []*Circuit) []route.Way {
	wide, tight := route.NewFinder(off), route.NewFinder(near)
	f := &wayFinder{all: all, over: slices.Clone(bundles), bundles: bundles, finders: make([]*route.Finder, len(bundles))}
	f.begins = make([]bool, len(bundles))
	for i := range bundles {
		f.finders[i], f.begins[i] = wide, beginsNear(off, &bundles[i])
		if f.begins[i] {
			f.finders[i] = tight
		}
	}
	f.ways = route.Together(f.finders, bundles)
	f.straightOff(wide)
	f.nearer(tight)
	f.straightOff(tight)
	f.blockedOnly = true
	f.nearer(wide) // of those that begin near, which may still leave
	f.straightOff(wide)
	if len(f.doubtful()) > 0 {
		last := route.NewFinder(beside)
		f.nearer(last)
		f.straightOff(last)
	}
	if f.changed {
		return route.Together(f.finders, bundles)
	}
	return f.ways
}

// beginsNear tells that an end of a bundle lies nearer to a disc than hard parts may. It has to be near, whatever
// way it goes.
func beginsNear(off *route.Space, b *route.Bundle) bool {
	for i := range off.Solids {
		s := &off.Solids[i]
		for _, e := range [2]*route.End{&b.From, &b.To} {
			if !s.Forbidden || e.Z+b.OD/2 <= s.Lo-s.Keep || e.Z-b.OD/2 >= s.Hi+s.Keep {
				continue
			}
			if slices.ContainsFunc(s.Plan, func(g geom.Region) bool { return geom.IsCloserPoint(g, e.At, s.Keep+b.OD/2) }) {
				return true
			}
		}
	}
	return false
}

// A wayFinder holds what has been found so far.
type wayFinder struct {
	all     []*Circuit
	over    []route.Bundle // over the edges of parts
	bundles []route.Bundle // as they are led so far
	finders []*route.Finder
	begins  []bool      // near to a disc: it is led so from the start
	ways    []route.Way // before the bundles that changed are spread again
	changed bool

	blockedOnly bool // a long way is no longer in doubt
}

// roundabout tells a way that is so much longer than the straight line that another one is looked for.
func roundabout(b *route.Bundle, length float64) bool {
	return length > 1.5*vec(b.From.At, b.From.Z).Sub(vec(b.To.At, b.To.Z)).Norm()+30
}

// muchShorter is the share of the length of a way that another one, straight off the pads or nearer to the discs, must not
// exceed to be taken instead.
const muchShorter = 0.75

// doubtful lists the bundles that have no way yet or one that is much longer than the straight line.
func (f *wayFinder) doubtful() []int {
	var out []int
	for i, w := range f.ways {
		if w.Blocked != nil || !f.blockedOnly && roundabout(&f.bundles[i], w.Length) {
			out = append(out, i)
		}
	}
	return out
}

// nearer looks for ways of the doubtful ones in the space of another finder.
func (f *wayFinder) nearer(by *route.Finder) {
	var tries []route.Bundle
	var of []int
	for _, i := range f.doubtful() {
		if f.finders[i] != by {
			tries, of = append(tries, f.over[i]), append(of, i)
		}
	}
	f.better(by, tries, of)
}

// straightOff looks for ways of the doubtful ones straight off the pads at one end or both.
func (f *wayFinder) straightOff(by *route.Finder) {
	var tries []route.Bundle // together, as bundles of one diameter share what is worked out for it
	var of []int
	for _, i := range f.doubtful() {
		if f.begins[i] && f.finders[i] != by && !f.blockedOnly {
			continue
		}
		from, okFrom := uprightEnd(f.all[i].ends(false), f.over[i].From)
		to, okTo := uprightEnd(f.all[i].ends(true), f.over[i].To)
		for _, try := range []struct{ from, to bool }{{true, false}, {false, true}, {true, true}} {
			if try.from && !okFrom || try.to && !okTo {
				continue
			}
			b := f.over[i]
			if try.from {
				b.From = from
			}
			if try.to {
				b.To = to
			}
			tries, of = append(tries, b), append(of, i)
		}
	}
	f.better(by, tries, of)
}

// better takes the ways of tries that are better than those had so far: a way where there was none, one that is
// much shorter, and of what blocks them the gap that lacks least.
func (f *wayFinder) better(by *route.Finder, tries []route.Bundle, of []int) {
	for k, i := range of {
		if was := &f.ways[i]; was.Blocked == nil {
			tries[k].Limit = muchShorter * was.Length
		}
	}
	for k, w := range by.FindAll(tries) {
		i := of[k]
		tries[k].Limit = 0
		was := &f.ways[i]
		is := w.Blocked == nil && w.Length <= muchShorter*was.Length
		if was.Blocked != nil {
			is = w.Blocked == nil || lacks(w.Blocked) < lacks(was.Blocked)-1e-9
		}
		if is {
			f.bundles[i], f.finders[i], f.ways[i], f.changed = tries[k], by, w, true
		}
	}
}

// lacks is by how much the gap that blocks a way is too narrow, infinite where there is none.
func lacks(b *route.Blocked) float64 {
	if b.Enclosed {
		return math.Inf(1)
	}
	return b.Need - b.Gap
}

// leastOD is the diameter in mm that a bundle counts with at least, also where none is known.
const leastOD = 0.5

// bundle is a circuit as one body for the router.
func (r *resolver) bundle(c *Circuit) route.Bundle {
	od := max(c.OD.Value, leastOD)
	b := route.Bundle{ID: c.ID, OD: od, Bend: c.Bend}
	b.From, _ = bundleEnd(c.ends(false), od, c.thickest(od))
	b.To, _ = bundleEnd(c.ends(true), od, c.thickest(od))
	at := b.From.At
	for i, v := range c.Spec.Via {
		if v.HasAt {
			b.Via = append(b.Via, route.Stop{At: v.At.P})
			at = v.At.P
			continue
		}
		next := b.To.At
		for _, q := range c.Spec.Via[i+1:] {
			if q.HasAt {
				next = q.At.P
				break
			}
		}
		if plate, h := r.asm.holeNear(v.Hole, at, next); h != nil {
			b.Via = append(b.Via, route.Stop{At: h.At, Opening: plate.ID + "." + h.Name})
			at = h.At
		}
	}
	return b
}

// thickest is the diameter in mm of the thickest wire, od where it is not known of one.
func (c *Circuit) thickest(od float64) float64 {
	most := 0.0
	for _, w := range c.Wires {
		if w.Gauge == nil || w.Gauge.Wire == nil || w.Gauge.Wire.OD == nil || w.Gauge.Wire.OD.Missing {
			return od
		}
		most = max(most, w.Gauge.Wire.OD.Value)
	}
	if most < leastOD {
		return od
	}
	return min(most, od)
}

func (c *Circuit) ends(to bool) []*Terminal {
	out := make([]*Terminal, len(c.Wires))
	for i, w := range c.Wires {
		out[i] = w.From
		if to {
			out[i] = w.To
		}
	}
	return out
}

// holeNear finds, of the holes of an entry, the one that makes the straight way from a to b
// the least longer.
func (a *Assembly) holeNear(t *Target, from, to r2.Point) (*Plate, *Hole) {
	var plate *Plate
	var best *Hole
	least := math.Inf(1)
	for _, p := range a.Plates {
		for i := range p.Holes {
			h := &p.Holes[i]
			if h.Group != t.Name+"."+t.Item {
				continue
			}
			if d := h.At.Sub(from).Norm() + h.At.Sub(to).Norm(); d < least-1e-9 {
				plate, best, least = p, h, d
			}
		}
	}
	return plate, best
}
