package layout

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout/route"
)

// leaningPiece is how long, in mm in plan, the upright pieces are by which a leaning rod counts: a lead passes
// under it where it has risen far enough.
const leaningPiece = 3.0

// leaning cuts the stem or head of a leaning antenna into upright pieces, each as high as its piece of the rod.
func (a *Assembly) leaning(b *Body, whole route.Solid) []route.Solid {
	for _, p := range a.Antennas {
		if p.ID != b.Of || p.Ant == nil {
			continue
		}
		rod, head := value(p.Ant.Rod), value(p.Ant.Head)
		if rod+head <= 0 {
			break
		}
		base := r3.Vector{X: p.Base[0], Y: p.Base[1], Z: p.Base[2]}
		all := r3.Vector{X: p.Tip[0], Y: p.Tip[1], Z: p.Tip[2]}.Sub(base)
		at := func(s float64) r3.Vector { return base.Add(all.Mul(s / (rod + head))) }
		from, to, d := 0.0, rod, max(value(p.Ant.RodD), 0.5)
		switch b.ID {
		case p.ID + ".stem":
		case p.ID + ".head":
			from, to, d = rod, rod+head, value(p.Ant.HeadD)
		default:
			return []route.Solid{whole}
		}
		flat := math.Hypot(all.X, all.Y) / (rod + head)
		n := int(min(max(1, math.Ceil(flat*(to-from)/leaningPiece)), 100))
		var out []route.Solid
		for i := range n {
			u, v := at(from+(to-from)*float64(i)/float64(n)), at(from+(to-from)*float64(i+1)/float64(n))
			piece := whole
			piece.Plan = one(geom.Capsule(r2.Point{X: u.X, Y: u.Y}, r2.Point{X: v.X, Y: v.Y}, d))
			piece.Lo, piece.Hi = max(whole.Lo, min(u.Z, v.Z)-d/2*flat), min(whole.Hi, max(u.Z, v.Z)+d/2*flat)
			out = append(out, piece)
		}
		return out
	}
	return []route.Solid{whole}
}

// tiltBand is how high, in mm, the upright pieces are by which a tilting camera counts: its corners lie at one height
// only.
const tiltBand = 4.0

// tilting cuts what a tilting camera sweeps into upright boxes one over the other, in the directions of its pose.
func (a *Assembly) tilting(b *Body, whole route.Solid) []route.Solid {
	var pose geom.Pose2
	for _, c := range a.Cameras {
		if c.ID == b.Of {
			pose = c.Pose
		}
	}
	n := int(math.Ceil((whole.Hi - whole.Lo) / tiltBand))
	if n < 2 || n > 100 {
		return []route.Solid{whole}
	}
	x, y := pose.Direction(r2.Point{X: 1}), pose.Direction(r2.Point{Y: 1})
	var out []route.Solid
	for i := range n {
		piece := whole
		piece.Lo = whole.Lo + (whole.Hi-whole.Lo)*float64(i)/float64(n)
		piece.Hi = whole.Lo + (whole.Hi-whole.Lo)*float64(i+1)/float64(n)
		ahead, back := reachOf(b.Tilted, x, piece.Lo, piece.Hi), -reachOf(b.Tilted, x.Mul(-1), piece.Lo, piece.Hi)
		left, right := reachOf(b.Tilted, y, piece.Lo, piece.Hi), -reachOf(b.Tilted, y.Mul(-1), piece.Lo, piece.Hi)
		if ahead <= back || left <= right {
			continue // nothing of it is so high
		}
		mid := x.Mul((ahead + back) / 2).Add(y.Mul((left + right) / 2))
		turned := geom.Pose2{Turn: pose.Turn, Shift: mid}
		piece.Plan = one(geom.Rectangle(r2.Point{}, ahead-back, left-right).Transform(turned))
		out = append(out, piece)
	}
	return out
}

// reachOf is how far a convex body reaches in a direction in plan between two heights, -∞ where there is nothing of it. At one
// height z that is the least of h(u, k) - k·z over all k, with h how far it reaches in the direction (u, k) in space (the
// duality of convex functions); each k gives no less.
func reachOf(c *geom.Convex, u r2.Point, lo, hi float64) float64 {
	box := c.Bound()
	if box.Hi.Z < lo || box.Lo.Z > hi {
		return math.Inf(-1)
	}
	dir := func(k float64) r3.Vector { return r3.Vector{X: u.X, Y: u.Y, Z: k} }
	far := c.Support(dir(0))
	z := min(max(far.Z, lo), hi) // the reach falls to either side of where it is greatest
	z = min(max(z, box.Lo.Z), box.Hi.Z)
	if math.Abs(z-far.Z) < 1e-9 {
		return far.Dot(dir(0))
	}
	best := math.Inf(1)
	down, up := -1e3, 1e3
	for range 60 {
		k := (down + up) / 2
		p := c.Support(dir(k))
		best = min(best, p.Dot(dir(k))-k*z)
		if p.Z < z {
			down = k
		} else {
			up = k
		}
	}
	return best
}
