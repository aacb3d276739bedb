package route_test

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
	"dryfit/layout/route"
)

// genSpace draws small crafts: up to three plates of 40 x 30 or less, 2 thick, with openings and bores,
// what stands between them, a board or two, and a band that is forbidden.
func genSpace(t *rapid.T) *route.Space {
	num := func(name string, lo, hi float64) float64 {
		return lo + (hi-lo)*float64(rapid.IntRange(0, 64).Draw(t, name))/64
	}
	s := &route.Space{Edge: []float64{0, 0.5}[rapid.IntRange(0, 1).Draw(t, "edge")]}
	z := 0.0
	for i := range rapid.IntRange(1, 3).Draw(t, "sheets") {
		w, h := num("w", 14, 20), num("h", 9, 15)
		sh := route.Sheet{ID: fmt.Sprintf("s%d", i), Lo: z, Hi: z + 2}
		var holes []geom.Loop
		for k := range rapid.IntRange(0, 2).Draw(t, "holes") {
			c := pt(w*(float64(k)-0.5)+num("hx", -2, 2), num("hy", -3, 3))
			l := geom.Circle(c, num("hr", 1, 3.5))
			if rapid.Bool().Draw(t, "square") {
				l = geom.Rectangle(c, num("hw", 2, 7), num("hh", 2, 7))
			}
			holes = append(holes, l)
			sh.Holes = append(sh.Holes, route.Opening{Name: fmt.Sprintf("h%d", k), Loop: l, Taken: float64(rapid.IntRange(0, 1).Draw(t, "taken"))})
		}
		sh.Plan = []geom.Region{geom.RegionOf(geom.Rectangle(pt(0, 0), 2*w, 2*h), holes...)}
		s.Sheets = append(s.Sheets, sh)
		z += num("storey", 8, 16) + 2
	}
	for i := range rapid.IntRange(0, 7).Draw(t, "solids") {
		so := route.Solid{ID: fmt.Sprintf("b%d", i), Owner: fmt.Sprintf("o%d", i)}
		c := pt(num("x", -18, 18), num("y", -13, 13))
		sh := s.Sheets[rapid.IntRange(0, len(s.Sheets)-1).Draw(t, "on")]
		so.Lo = sh.Hi
		switch rapid.IntRange(0, 4).Draw(t, "sort") {
		case 0, 1: // a post or part on the plate
			so.Plan = []geom.Region{geom.RegionOf(geom.Circle(c, num("r", 1, 4)))}
			so.Hi = so.Lo + num("height", 1, 14)
			so.Keep = []float64{0, 0.3}[rapid.IntRange(0, 1).Draw(t, "keep")]
		case 2:
			so.Plan = []geom.Region{geom.RegionOf(geom.Rectangle(c, num("bw", 2, 12), num("bh", 2, 12)))}
			so.Hi = so.Lo + num("height", 1, 14)
			so.Keep = 0.4
		case 3: // a board on legs
			so.Plan = []geom.Region{geom.RegionOf(geom.Rectangle(c, num("bw", 6, 16), num("bh", 6, 16)))}
			so.Lo += num("legs", 2, 5)
			so.Hi = so.Lo + 1.5
			so.Level = true
		default: // hangs under the plate
			so.Plan = []geom.Region{geom.RegionOf(geom.Circle(c, num("r", 1, 4)))}
			so.Hi = sh.Lo
			so.Lo = so.Hi - num("height", 1, 8)
			so.Keep = 0.2
		}
		s.Solids = append(s.Solids, so)
	}
	if rapid.Bool().Draw(t, "prop") {
		s.Solids = append(s.Solids, route.Solid{ID: "prop", Owner: "prop", Forbidden: true, Keep: 1,
			Plan: []geom.Region{geom.RegionOf(geom.Circle(pt(num("px", -20, 20), num("py", -15, 15)), num("pr", 4, 12)))}, Lo: 3, Hi: 7})
	}
	return s
}

// genEnd draws an end that lies on a face of a plate or on a board.
func genEnd(t *rapid.T, s *route.Space, od float64) route.End {
	at := pt(float64(rapid.IntRange(-15, 15).Draw(t, "ex")), float64(rapid.IntRange(-10, 10).Draw(t, "ey")))
	for i := range s.Solids {
		if so := &s.Solids[i]; so.Level && rapid.Bool().Draw(t, "on board") {
			c := so.Plan[0].Bound().Center()
			return route.End{At: c, Z: so.Hi, Owner: so.Owner}
		}
	}
	sh := &s.Sheets[rapid.IntRange(0, len(s.Sheets)-1).Draw(t, "face")]
	if rapid.Bool().Draw(t, "top") {
		return route.End{At: at, Z: sh.Hi + od/2}
	}
	return route.End{At: at, Z: sh.Lo - od/2}
}

// A law is what a way may not break, told from the space alone.
type law struct {
	s *route.Space
	b route.Bundle
}

// tolerance of the law, in mm.
const slack = 2e-5

// walls reports a body that a bundle whose middle is at p between the heights is too near to; what
// the level rests on is below.
func (l law) walls(p r2.Point, z0, z1 float64, within float64) string {
	r := l.b.OD / 2
	lo, hi := math.Min(z0, z1)-r, math.Max(z0, z1)+r
	for _, so := range l.s.Solids {
		if so.Level && so.Hi <= lo+1e-6 { // lain on, or passed over
			continue
		}
		if so.Lo-so.Keep >= hi-1e-6 || so.Hi+so.Keep <= lo+1e-6 {
			continue
		}
		for _, g := range so.Plan {
			if d := geom.DistancePoint(g, p).Dist; d < so.Keep+r-within-slack {
				return fmt.Sprintf("%s at %v, height %g..%g: %g of %g", so.ID, p, z0, z1, d, so.Keep+r)
			}
		}
	}
	return ""
}

// breaks returns what a way breaks, "" for nothing.
func (l law) breaks(w route.Way) string {
	at, z := l.b.From.At, l.b.From.Z
	sum := 0.0
	r := l.b.OD / 2
	for i, leg := range w.Legs {
		sum += leg.Length
		if math.Abs(leg.Z0-z) > 1e-5 {
			return fmt.Sprintf("leg %d begins at height %g, the last one ended at %g", i, leg.Z0, z)
		}
		z = leg.Z1
		switch leg.Kind {
		case route.Along, route.Leave:
			n := 0.0
			for k, s := range leg.Path.Segs {
				n += s.Length()
				if dist(s.A, at) > 1e-5 {
					return fmt.Sprintf("leg %d, piece %d begins at %v, the last one ended at %v", i, k, s.A, at)
				}
				at = s.B
				if leg.Kind == route.Leave {
					continue
				}
				inside := false
				for _, x := range leg.Path.Inside {
					inside = inside || x == k
				}
				if inside {
					continue // out of the clearance of what is about the end
				}
				tail := k == 0 && i > 0 && w.Legs[i-1].Kind >= route.Edge || k == len(leg.Path.Segs)-1 && i+1 < len(w.Legs) && w.Legs[i+1].Kind >= route.Edge
				m := int(s.Length()/0.3) + 2
				for j := range m + 1 {
					p := s.At(float64(j) / float64(m))
					if why := l.walls(p, leg.Z0, leg.Z0, 0); why != "" {
						return fmt.Sprintf("leg %d: %s", i, why)
					}
					for _, sh := range l.s.Sheets {
						face := leg.Level == sh.ID+".top" || leg.Level == sh.ID+".bottom"
						d := geom.DistancePoint(geom.Region{Outer: sh.Plan[0].Outer}, p).Dist
						if face && !tail && d > -l.s.Edge-r+slack {
							return fmt.Sprintf("leg %d: %v lies %g within the edge of %s", i, p, -d, sh.ID)
						}
						if sh.Lo < leg.Z0+r-1e-6 && sh.Hi > leg.Z0-r+1e-6 && geom.DistancePoint(sh.Plan[0], p).Dist < r-slack {
							return fmt.Sprintf("leg %d: %v lies in %s", i, p, sh.ID)
						}
					}
				}
			}
			if math.Abs(n-leg.Length) > 1e-5 || math.Abs(n-leg.Path.Length) > 1e-5 {
				return fmt.Sprintf("leg %d: length %g, path %g, pieces %g", i, leg.Length, leg.Path.Length, n)
			}
		default:
			if dist(leg.At, at) > 1e-5 {
				return fmt.Sprintf("leg %d is at %v, the last one ended at %v", i, leg.At, at)
			}
			end := i == 0 || i == len(w.Legs)-1 || w.Legs[i-1].Kind == route.Leave || w.Legs[i+1].Kind == route.Leave
			if end && leg.Kind == route.Drop {
				break // from the pad
			}
			within := 0.0
			if leg.Kind == route.Edge {
				within = r // its middle runs that far outside of the edge
			}
			if why := l.walls(leg.At, leg.Z0, leg.Z1, within); why != "" {
				return fmt.Sprintf("leg %d, upright: %s", i, why)
			}
			if leg.Length < math.Abs(leg.Z1-leg.Z0)-1e-9 {
				return fmt.Sprintf("leg %d: length %g from %g to %g", i, leg.Length, leg.Z0, leg.Z1)
			}
			for _, sh := range l.s.Sheets {
				lo, hi := math.Min(leg.Z0, leg.Z1), math.Max(leg.Z0, leg.Z1)
				if sh.Lo >= hi || sh.Hi <= lo {
					continue
				}
				d := geom.DistancePoint(geom.Region{Outer: sh.Plan[0].Outer}, leg.At).Dist
				switch {
				case leg.Kind == route.Hole && leg.Sheet == sh.ID:
					for _, h := range sh.Holes {
						if h.Name == leg.Opening {
							if g := geom.DistancePoint(geom.RegionOf(h.Loop.CCW()), leg.At).Dist; g > -l.s.Edge-r+slack || h.Taken > 0 {
								return fmt.Sprintf("leg %d: %g within opening %s", i, -g, h.Name)
							}
						}
					}
				case leg.Kind == route.Edge && leg.Sheet == sh.ID:
					if d < -slack {
						return fmt.Sprintf("leg %d goes over the edge %g within it", i, -d)
					}
				case d < r-slack:
					return fmt.Sprintf("leg %d goes up or down through %s", i, sh.ID)
				}
			}
		}
	}
	if dist(at, l.b.To.At) > 1e-5 || math.Abs(z-l.b.To.Z) > 1e-5 {
		return fmt.Sprintf("it ends at %v %g", at, z)
	}
	if math.Abs(sum-w.Length) > 1e-6 || sum < math.Hypot(dist(l.b.From.At, l.b.To.At), l.b.From.Z-l.b.To.Z)-1e-6 {
		return fmt.Sprintf("length %g, legs %g", w.Length, sum)
	}
	return ""
}

func dist(a, b r2.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }
