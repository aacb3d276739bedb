package layout

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"

	"dryfit/layout/route"
)

// awayFromDiscs is the space with the clearance of hard parts round the discs.
func (a *Assembly) awayFromDiscs(space *route.Space) *route.Space {
	out := *space
	out.Solids = slices.Clone(space.Solids)
	for i := range out.Solids {
		for _, r := range a.Rotors {
			if s := &out.Solids[i]; s.ID == discID(r) {
				s.Keep = max(s.Keep, SweepNeed(r.LabelD())+keepBulge)
			}
		}
	}
	return &out
}

// findWays routes the bundles. A wire leaves a pad over the edge of its part; where there is
// no way from there, it is led straight off the pad, as builders do with leads that have no
// room behind a board.
func findWays(space *route.Space, bundles []route.Bundle, all []*Circuit) []route.Way {
	finder := route.NewFinder(space)
	ways := finder.FindAll(bundles)
	var tries []route.Bundle // together, as bundles of one diameter share what is worked out for it
	var of []int
	for i, w := range ways {
		if w.Blocked == nil {
			continue
		}
		from, okFrom := uprightEnd(all[i].ends(false), bundles[i].From)
		to, okTo := uprightEnd(all[i].ends(true), bundles[i].To)
		for _, try := range []struct{ from, to bool }{{true, false}, {false, true}, {true, true}} {
			if try.from && !okFrom || try.to && !okTo {
				continue
			}
			b := bundles[i]
			if try.from {
				b.From = from
			}
			if try.to {
				b.To = to
			}
			tries, of = append(tries, b), append(of, i)
		}
	}
	if len(tries) == 0 {
		return ways
	}
	changed := map[int]bool{}
	for k, w := range finder.FindAll(tries) {
		if i := of[k]; w.Blocked == nil && !changed[i] {
			bundles[i], changed[i] = tries[k], true
		}
	}
	if len(changed) > 0 {
		return finder.FindAll(bundles)
	}
	return ways
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
