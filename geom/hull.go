package geom

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
)

// farArc is a part of a support function: for outward directions from the angle from up
// to the next part's, the set reaches furthest on the circle about c (a point for r = 0).
type farArc struct {
	from float64
	c    r2.Point
	r    float64
	a, b r2.Point // ends of the arc
}

// ConvexHull returns the least convex loop round the filled loops, counter-clockwise from
// its lowest vertex; arcs on it stay arcs. Orientations do not matter. Without any loop
// that is not empty the hull is empty.
//
// The hull is found as the greatest of the support functions of all vertices and arcs. Two
// of them, |d|·cos(θ-φ) + r apart, change places at no more than two angles, which gives
// the ends of the bridging lines in closed form. Merging halves takes n log n steps in
// all. Corners that turn by less than 1e-11 are left out. The error is a few roundings of
// the coordinates and of the largest radius: 1e-8 mm for an arc so flat that its radius is
// 10 km. Arcs of more than 100 km come out as chords within 2e-9 mm.
func ConvexHull(rs ...Loop) Loop {
	n := 0
	box := EmptyRect()
	for _, l := range rs {
		n += l.Len()
		box = box.Union(l.Bound())
	}
	if n == 0 {
		return Loop{}
	}
	mid := box.Center() // angles are the more exact the nearer the shapes to the origin
	parts := make([][]farArc, 0, n)
	for _, l := range rs {
		for _, s := range l.CCW().Segs() {
			a, b := sub2(s.A, mid), sub2(s.B, mid)
			if s.Bulge <= 0 { // the set is hollow there: the ends are enough
				parts = append(parts, []farArc{{c: a}})
				continue
			}
			if s.Radius() > followRadius { // its centre is too far away to tell where it runs
				m := min(max(1, float64(maxFollowLoop/n)), s.chords(followSagitta))
				for k := range int(m) {
					parts = append(parts, []farArc{{c: sub2(s.At(float64(k)/m), mid)}})
				}
				parts = append(parts, []farArc{{c: b}})
				continue
			}
			parts = append(parts, arcSupport(a, b, sub2(s.Center(), mid), s.Radius(), float64(s.Sweep())))
		}
	}
	for len(parts) > 1 {
		k := 0
		for i := 0; i < len(parts); i += 2 {
			if i+1 < len(parts) {
				parts[k] = greater(parts[i], parts[i+1])
			} else {
				parts[k] = parts[i]
			}
			k++
		}
		parts = parts[:k]
	}
	return outline2(parts[0], mid)
}

// arcSupport returns the support function of a counter-clockwise arc: its circle over the
// arc's own directions, and half of the others for each end.
func arcSupport(a, b, c r2.Point, r, sweep float64) []farArc {
	from := turnFrom0(math.Atan2(a.Y-c.Y, a.X-c.X))
	out := []farArc{
		{from: from, c: c, r: r, a: a, b: b},
		{from: turnFrom0(from + sweep), c: b},
		{from: turnFrom0(from + sweep/2 + math.Pi), c: a},
	}
	slices.SortStableFunc(out, func(p, q farArc) int {
		if p.from < q.from {
			return -1
		}
		return 1
	})
	if out[0].from > 0 { // what ends the turn also begins it
		last := out[2]
		last.from = 0
		out = slices.Insert(out, 0, last)
	}
	return out
}

func turnFrom0(a float64) float64 {
	a = math.Mod(a, 2*math.Pi)
	if a < 0 {
		a += 2 * math.Pi
	}
	if a >= 2*math.Pi {
		a = 0
	}
	return a
}

// greater returns the greater of two support functions.
func greater(f, g []farArc) []farArc {
	out := make([]farArc, 0, len(f)+len(g))
	put := func(from float64, s farArc) {
		if n := len(out); n > 0 && out[n-1].c == s.c && out[n-1].r-s.r == 0 {
			return
		}
		s.from = from
		out = append(out, s)
	}
	i, j := 0, 0
	for from := 0.0; i < len(f) && j < len(g); {
		to, nextI, nextJ := 2*math.Pi, i, j
		if i+1 < len(f) {
			to = f[i+1].from
		}
		if j+1 < len(g) && g[j+1].from < to {
			to = g[j+1].from
			nextJ++
		} else {
			nextI++
		}
		p, q := f[i], g[j]
		d := sub2(p.c, q.c)
		n := math.Hypot(d.X, d.Y)
		cuts := [4]float64{from, from, from, to}
		k := 1
		if x := (q.r - p.r) / n; n > 0 && math.Abs(x) < 1 {
			phi, w := math.Atan2(d.Y, d.X), math.Acos(x)
			s, t := turnFrom0(phi-w), turnFrom0(phi+w)
			if t < s {
				s, t = t, s
			}
			// Where they are equal at an end, as an arc and its own end are, an angle found
			// beside it is rounding: they do not part in between.
			eps := 1e-13 * (norm(p.c) + norm(q.c) + p.r + q.r)
			same := func(a float64) bool {
				sn, cs := math.Sincos(a)
				return math.Abs(d.X*cs+d.Y*sn+p.r-q.r) <= eps
			}
			atFrom, atTo := same(from), same(to)
			for _, c := range [2]float64{s, t} {
				if c > from && c < to && !(atFrom && same((from+c)/2)) && !(atTo && same((c+to)/2)) {
					cuts[k] = c
					k++
				}
			}
		}
		cuts[k] = to
		for m := range k {
			if !(cuts[m+1] > cuts[m]) {
				continue
			}
			sn, cs := math.Sincos((cuts[m] + cuts[m+1]) / 2)
			if d.X*cs+d.Y*sn+p.r-q.r >= 0 {
				put(cuts[m], p)
			} else {
				put(cuts[m], q)
			}
		}
		from, i, j = to, nextI, nextJ
	}
	return out
}

// outline2 returns the loop of a support function about mid.
func outline2(s []farArc, mid r2.Point) Loop {
	const least = 1e-11 // the smallest turn that makes a corner
	n := len(s)
	if n > 1 && s[0].c == s[n-1].c && s[0].r-s[n-1].r == 0 { // one part across the angle 0
		s[0].from = s[n-1].from - 2*math.Pi
		n--
		s = s[:n]
	}
	var v []Vertex
	for i := range s {
		to := s[0].from + 2*math.Pi
		if i+1 < n {
			to = s[i+1].from
		}
		turn := to - s[i].from
		p := s[i].c.Add(mid)
		switch {
		case turn < least:
		case s[i].r == 0:
			v = append(v, clean(p, 0))
		case n == 1:
			v = append(v, clean(r2.Point{X: p.X - s[i].r, Y: p.Y}, 1), clean(r2.Point{X: p.X + s[i].r, Y: p.Y}, 1))
		default:
			at := func(a float64) r2.Point {
				sn, cs := math.Sincos(a)
				q := r2.Point{X: p.X + float64(s[i].r*cs), Y: p.Y + float64(s[i].r*sn)}
				// The arc's own ends are the more exact ones, the larger the radius.
				for _, e := range [2]r2.Point{s[i].a.Add(mid), s[i].b.Add(mid)} {
					if near2(q, e, 1e-13+1e-14*s[i].r) {
						return e
					}
				}
				return q
			}
			if turn > 1.5*math.Pi {
				m := math.Tan(turn / 8)
				v = append(v, clean(at(s[i].from), m), clean(at(s[i].from+turn/2), m), clean(at(to), 0))
			} else {
				v = append(v, clean(at(s[i].from), math.Tan(turn/4)), clean(at(to), 0))
			}
		}
	}
	l, err := NewLoop(startLowest(v))
	if err != nil {
		return Loop{} // all on one line
	}
	return l
}

func norm(p r2.Point) float64 { return math.Sqrt(p.X*p.X + p.Y*p.Y) }
