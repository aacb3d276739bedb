package route

import (
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A stop is a place to pass, made ready.
type stop struct {
	at          r2.Point
	box         geom.Rect  // the bundle passes somewhere in it
	z           [2]float64 // of the levels below and above an opening's sheet
	sheet, hole int        // -1: a point
}

// stopAt makes a stop ready. It reports whether there is such an opening.
func (c *class) stopAt(v Stop) (stop, bool) {
	if v.Opening == "" {
		return stop{at: v.At, box: geom.Rect{Lo: v.At, Hi: v.At}, sheet: -1, hole: -1}, true
	}
	for i := range c.space.Sheets {
		sh := &c.space.Sheets[i]
		name, ok := strings.CutPrefix(v.Opening, sh.ID+".")
		if !ok {
			continue
		}
		for k := range sh.Holes {
			if sh.Holes[k].Name == name && !sh.Holes[k].Loop.IsEmpty() {
				b := sh.Holes[k].Loop.Bound()
				return stop{at: b.Center(), box: b, z: [2]float64{sh.Lo - c.r, sh.Hi + c.r}, sheet: i, hole: k}, true
			}
		}
	}
	return stop{}, false
}

// A rest is the least that lies between a stop and one of the entries of To: in plan from the stop's box, and in height
// once an opening has been left to the level below or above.
type rest struct {
	plan  float64
	climb [2]float64
}

// makeRests works out what is ahead behind each stop, from the last one on.
func (s *search) makeRests() {
	n := len(s.to)
	s.rests = append(s.rests[:0], make([]rest, len(s.stops)*n)...)
	for i := len(s.stops) - 1; i >= 0; i-- {
		st := &s.stops[i]
		for k := range s.to {
			r := &s.rests[i*n+k]
			if i+1 < len(s.stops) {
				r.plan = st.box.Distance(s.stops[i+1].box) + s.rests[(i+1)*n+k].plan
			} else {
				r.plan = st.box.Away(s.to[k].at)
			}
			for side, z := range st.z {
				r.climb[side] = s.climb(z, i+1, k)
			}
		}
	}
}

// climb returns the least that runs upright from a height to an entry of To, through the openings that are still to be
// passed one after the other.
func (s *search) climb(z float64, stage, to int) float64 {
	for i := stage; i < len(s.stops); i++ {
		st := &s.stops[i]
		if st.hole < 0 {
			continue
		}
		r := &s.rests[i*len(s.to)+to]
		return st.z[1] - st.z[0] + min(math.Abs(z-st.z[0])+r.climb[1], math.Abs(z-st.z[1])+r.climb[0])
	}
	return math.Abs(z - s.c.levels[s.to[to].level].z)
}

// aheadOfStop returns the least length to the end by way of a stop to which it is so far in plan.
func (s *search) aheadOfStop(d, z float64, stage int) float64 {
	best := math.Inf(1)
	for k := range s.to {
		best = min(best, s.rests[stage*len(s.to)+k].plan+s.climb(z, stage, k)+s.to[k].cost)
	}
	return d + best
}

// passesBetween reports whether the next stop is an opening between the two levels.
func (s *search) passesBetween(a, b *level, stage int16) bool {
	if int(stage) >= len(s.stops) {
		return false
	}
	st := &s.stops[stage]
	return st.hole >= 0 && a.sheet == st.sheet && b.sheet == st.sheet
}

// behind returns the stage behind a place of the group.
func (s *search) behind(g *group, stage int16) int16 {
	if int(stage) < len(s.stops) && g.kind == Hole && s.stops[stage].hole == g.hole && s.stops[stage].sheet == g.sheet {
		return stage + 1
	}
	return stage
}
