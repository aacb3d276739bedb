package geom

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// silhouetteNear is the distance in mm up to which neighbouring points of a silhouette are one.
const silhouetteNear = 0.02

// Silhouette returns the outline of a convex body as it is seen along u × v: the points that lie
// furthest in n directions, as a polygon in the coordinates along the unit vectors u and v, mm,
// counter-clockwise. Directions lie half a step off u and v, where the furthest point of an
// upright box is a corner.
//
// The polygon lies within the true outline. What it leaves out beyond a side of length d lies in
// the triangle between the side and the supporting lines at its ends, which turn by 2π/n from
// one to the other: at most d/2·tan(π/n) off, for a circle of radius r no more than
// r·(1 - cos(π/n)), 0.1 % for n = 72; besides, points within 0.02 mm of the one before are left
// out. The loop is empty where less than three points, or no area, are left.
func (c Convex) Silhouette(u, v r3.Vector, n int) Loop {
	var pts []Vertex
	near := func(p, q r2.Point) bool { return p.Sub(q).Norm() < silhouetteNear }
	for i := range n {
		sn, cs := math.Sincos((float64(i) + 0.5) * 2 * math.Pi / float64(n))
		s := c.Support(u.Mul(cs).Add(v.Mul(sn)))
		p := r2.Point{X: s.Dot(u), Y: s.Dot(v)}
		if k := len(pts); k > 0 && near(pts[k-1].P, p) {
			continue
		}
		pts = append(pts, Vertex{P: p})
	}
	if k := len(pts); k > 1 && near(pts[0].P, pts[k-1].P) {
		pts = pts[:k-1]
	}
	l, err := NewLoop(pts)
	if err != nil {
		return Loop{}
	}
	return l
}
