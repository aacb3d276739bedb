package render

import (
	"math"
	"slices"

	"dryfit/geom"
	"dryfit/layout"
)

// sight says how a stretch of a wire is seen from above.
type sight uint8

const (
	inSight  sight = iota
	beneath        // something lies over it: dashed
	takenOff       // it lies on what is taken off: chain line
)

// stretch is a piece of a circuit's way in plan that is seen alike and lies on one level.
type stretch struct {
	no    int // index of the circuit
	leg   int
	z     float64 // mm, of its middle
	sight sight
	path  []geom.Seg // mm, body frame
	cuts  []gap      // where it is left out because something crosses over it, in order
}

// gap is a stretch of lengths along a path, mm.
type gap struct{ from, to float64 }

func (s *stretch) length() float64 {
	sum := 0.0
	for _, g := range s.path {
		sum += g.Length()
	}
	return sum
}

// between returns the piece of a path between two lengths along it.
func between(path []geom.Seg, from, to float64) []geom.Seg {
	var out []geom.Seg
	at := 0.0
	for _, g := range path {
		n := g.Length()
		a, b := math.Max(from-at, 0), math.Min(to-at, n)
		if n > 0 && b-a > 1e-9 {
			out = append(out, g.Part(a/n, b/n))
		}
		at += n
	}
	return out
}

// chain returns the vertices of consecutive pieces.
func chain(path []geom.Seg) []geom.Vertex {
	var out []geom.Vertex
	for _, g := range path {
		out = append(out, geom.Vertex{P: g.A, Bulge: g.Bulge})
	}
	if n := len(path); n > 0 {
		out = append(out, geom.Vertex{P: path[n-1].B})
	}
	return out
}

// stretches cuts the ways of all circuits where something begins or ends to cover them.
// What lies on or over a plate that is taken off counts as taken off.
func stretches(circuits []*layout.Circuit, sc *scene, ceiling float64) []stretch {
	var out []stretch
	for no, c := range circuits {
		if c.Route == nil || c.Route.Blocked != nil {
			continue
		}
		for i := range c.Route.Legs {
			leg := &c.Route.Legs[i]
			z := (leg.Z0 + leg.Z1) / 2
			var run stretch
			for _, seg := range leg.Path.Segs {
				for _, p := range sc.seenParts(seg, z) {
					s := inSight
					switch {
					case z > ceiling:
						s = takenOff
					case p.hidden:
						s = beneath
					}
					if len(run.path) > 0 && run.sight != s {
						out = append(out, run)
						run.path = nil
					}
					run = stretch{no: no, leg: i, z: z, sight: s, path: append(run.path, p.seg)}
				}
			}
			if len(run.path) > 0 {
				out = append(out, run)
			}
		}
	}
	return out
}

type seenPart struct {
	seg    geom.Seg
	hidden bool
}

// seenParts cuts a piece at height z where bodies over it begin and end.
func (sc *scene) seenParts(seg geom.Seg, z float64) []seenPart {
	own := geom.EdgeOf(seg)
	cuts := []float64{0, 1}
	var over []*shadow
	for i := range sc.shadows {
		s := &sc.shadows[i]
		if !s.hides || s.far < z-same || !s.box.Intersects(own.Box) {
			continue
		}
		over = append(over, s)
		for k := range s.sides {
			if s.sides[k].Box.Intersects(own.Box) {
				cuts = own.Cuts(&s.sides[k], cuts)
			}
		}
	}
	slices.Sort(cuts)
	var out []seenPart
	from := 0.0
	for i := 0; i+1 < len(cuts); i++ {
		if cuts[i+1]-cuts[i] < 1e-7 {
			continue
		}
		mid := seg.At((cuts[i] + cuts[i+1]) / 2)
		hidden := slices.ContainsFunc(over, func(s *shadow) bool { return s.box.Contains(mid) && s.covers(mid) })
		if n := len(out); n > 0 && out[n-1].hidden == hidden {
			out[n-1].seg = seg.Part(from, cuts[i+1])
			continue
		}
		from = cuts[i]
		out = append(out, seenPart{seg.Part(from, cuts[i+1]), hidden})
	}
	return out
}
