package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// A corner of a convex loop is a vertex (r = 0) or an arc, over the normals from one
// direction to that of the next corner. The support of the loop in a direction u within
// that range is c + r·u.
type corner struct {
	cx, cy, r float64
	nx, ny    float64 // the first normal of the range, unit
	angle     float64 // its angle, rising from the first corner over less than 2π
}

// fan reports whether the loop is convex, and if so returns its corners in the order of
// their normals. The range of a corner ends where that of the next begins.
func (l Loop) fan() (bool, []corner) {
	n := l.Len()
	sign := 1.0
	if l.Area() < 0 {
		sign = -1
	}
	if !(math.Abs(l.Area()) > 0) {
		return false, nil
	}
	seg := func(i int) Seg {
		if sign > 0 {
			return l.Seg(i)
		}
		return l.Seg(-i - 1).Reverse()
	}
	// All corners and arcs must turn left, and by one full turn in all.
	total := 0.0
	for i := range n {
		s, next := seg(i), seg(i+1)
		if s.Bulge < 0 {
			return false, nil
		}
		if total += 4 * math.Atan(s.Bulge); total > 2*math.Pi+1e-6 {
			return false, nil
		}
		turn := angleFrom(s.Tangent(1), next.Tangent(0))
		if turn > math.Pi-1e-9 {
			return false, nil
		}
		// A turn to the right makes a dent about as deep as the turn times the shorter side.
		if turn < -1e-3 || -turn*min(s.chord(), next.chord()) > maxDent {
			return false, nil
		}
		total += turn
	}
	if math.Abs(total-2*math.Pi) > 1e-6 {
		return false, nil
	}
	fan := make([]corner, 0, 2*n)
	put := func(c r2.Point, r float64, tangent r2.Point) {
		// The outer normal is the tangent turned right. Normals must not turn back: at a
		// corner that rounding has made a dent, the support is that of the side before.
		k := corner{cx: c.X, cy: c.Y, r: r, nx: tangent.Y, ny: -tangent.X}
		if len(fan) == 0 {
			k.angle = math.Atan2(k.ny, k.nx)
		} else {
			last := &fan[len(fan)-1]
			w := angleFrom(r2.Point{X: last.nx, Y: last.ny}, r2.Point{X: k.nx, Y: k.ny})
			if w < 0 {
				k.nx, k.ny, w = last.nx, last.ny, 0
			}
			k.angle = last.angle + w
		}
		fan = append(fan, k)
	}
	for i := range n {
		s, next := seg(i), seg(i+1)
		if s.Bulge > 0 {
			putArc(s, max(1, float64(maxFollowLoop/n)), put)
		}
		// After a line always: its normal is exact, that of a short arc beside it is not.
		if turn := angleFrom(s.Tangent(1), next.Tangent(0)); turn > 1e-12 || s.Bulge == 0 {
			put(s.B, 0, s.Tangent(1))
		}
	}
	end := fan[0].angle + 2*math.Pi
	for k := len(fan) - 1; k > 0 && fan[k].angle > end; k-- {
		fan[k].nx, fan[k].ny, fan[k].angle = fan[0].nx, fan[0].ny, end
	}
	return true, fan
}

// putArc puts the ranges of an arc, each of at most a quarter turn, so that cross products
// tell what is within. Arcs of very large radius are put as the corners
// of chords, at most most of them.
func putArc(s Seg, most float64, put func(c r2.Point, r float64, tangent r2.Point)) {
	c, r := s.Center(), s.Radius()
	if r > fanRadius {
		// Each corner owns the normals to either side of it.
		n := min(most, s.chords(fanSagitta))
		put(s.A, 0, s.Tangent(0))
		for i := 1.0; i <= n; i++ {
			put(s.At(i/n), 0, s.Tangent((i-0.5)/n))
		}
		return
	}
	k := math.Ceil(4 * math.Atan(s.Bulge) / (math.Pi/2 + 1e-9))
	for i := 0.0; i < k; i++ {
		put(c, r, s.Tangent(i/k))
	}
}

// angleFrom returns the angle from u to v, within ±π.
func angleFrom(u, v r2.Point) float64 {
	return math.Atan2(float64(u.X*v.Y)-float64(u.Y*v.X), float64(u.X*v.X)+float64(u.Y*v.Y))
}

// support returns max(u·x) over a convex loop and the range of τ·x, with τ = u turned
// left, over the points that reach it within the tolerance.
func support(fan []corner, u r2.Point) (h, lo, hi float64) {
	h = math.Inf(-1)
	eachExtreme(fan, u, func(x, y float64) { h = max(h, x*u.X+y*u.Y) })
	lo, hi = math.Inf(1), math.Inf(-1)
	eachExtreme(fan, u, func(x, y float64) {
		if x*u.X+y*u.Y >= h-Coincident {
			t := y*u.X - x*u.Y
			lo, hi = min(lo, t), max(hi, t)
		}
	})
	return h, lo, hi
}

// eachExtreme calls yield with points of the loop among which are the farthest along u:
// the vertices, the ends of arcs, and the point of an arc whose normal is u.
func eachExtreme(fan []corner, u r2.Point, yield func(x, y float64)) {
	for i := range fan {
		c, n := &fan[i], &fan[0]
		if i+1 < len(fan) {
			n = &fan[i+1]
		}
		yield(c.cx+c.r*c.nx, c.cy+c.r*c.ny)
		if c.r == 0 {
			continue
		}
		yield(c.cx+c.r*n.nx, c.cy+c.r*n.ny)
		if c.nx*u.Y-c.ny*u.X >= 0 && u.X*n.ny-u.Y*n.nx >= 0 {
			yield(c.cx+c.r*u.X, c.cy+c.r*u.Y)
		}
	}
}

// depth returns the length and direction of the least move of b (already moved by s) that
// parts two convex loops: the distance from the origin to the boundary of the difference
// body a - b. A negative length means that they are apart (then it is not a distance).
//
// The support of a - b in the direction u is that of a in u plus that of b in -u. Between
// two neighbouring normals of a and -b it is w·u + r, with w the difference of two centres
// and r the sum of two radii, so its least value lies at such a normal or, where w points
// away from a normal within the range, at u = -w/|w|. All ranges are visited by merging
// the two fans, in time proportional to their length.
func depth(a, b []corner, s r2.Point) (float64, r2.Point) {
	const turn = 2 * math.Pi
	width := func(f []corner, k int) float64 {
		if k+1 < len(f) {
			return f[k+1].angle - f[k].angle
		}
		return max(0, f[0].angle+turn-f[k].angle)
	}
	// Start at a's first normal, in the range of b that begins, turned by half a turn, at
	// the greatest angle counted from there.
	i, j := 0, 0
	tb := -1.0
	for k := range b {
		x := math.Mod(b[k].angle+math.Pi-a[0].angle, turn)
		if x < 0 {
			x += turn
		}
		if x > tb {
			tb, j = x, k
		}
	}
	// ta and tb are the angles, from the start, at which the ranges of i and j end.
	ta := width(a, i)
	tb += width(b, j) - turn
	for k := 0; tb < -1e-9 && k < len(b); k++ { // ranges without width before the one sought
		j = (j + 1) % len(b)
		tb += width(b, j)
	}
	tb = max(0, tb)
	best, bestU := math.Inf(1), r2.Point{}
	nx, ny := a[0].nx, a[0].ny
	for na, nb := 0, 0; na < len(a) || nb < len(b); {
		p, q := &a[i], &b[j]
		wx, wy := p.cx-q.cx-s.X, p.cy-q.cy-s.Y
		r := p.r + q.r
		if h := wx*nx + wy*ny + r; h < best {
			best, bestU = h, r2.Point{X: nx, Y: ny}
		}
		nextA := nb == len(b) || na < len(a) && ta <= tb
		i1, j1 := (i+1)%len(a), (j+1)%len(b)
		ex, ey := a[i1].nx, a[i1].ny
		if !nextA {
			ex, ey = -b[j1].nx, -b[j1].ny
		}
		if r > 0 && wx*ny-wy*nx >= 0 && wy*ex-wx*ey >= 0 && wx*nx+wy*ny <= 0 {
			// -w lies between the normals n and e.
			if n := math.Sqrt(wx*wx + wy*wy); n > 0 && r-n < best {
				best, bestU = r-n, r2.Point{X: -wx / n, Y: -wy / n}
			}
		}
		nx, ny = ex, ey
		if nextA {
			i = i1
			na++
			ta += width(a, i)
		} else {
			j = j1
			nb++
			tb += width(b, j)
		}
	}
	return best, bestU
}

// convexLoopGap returns the gap of two overlapping convex loops, b moved by s.
func convexLoopGap(a, b *loopData, s r2.Point) Gap {
	d, u := depth(a.corners(), b.corners(), s)
	// The points that meet lie on the two sides facing each other, where these run beside
	// each other: in the middle of what they share.
	ha, a0, a1 := support(a.corners(), u)
	_, b0, b1 := support(b.corners(), u.Mul(-1))
	shift := s.Y*u.X - s.X*u.Y
	b0, b1 = shift-b1, shift-b0
	m := (max(a0, b0) + min(a1, b1)) / 2
	on := func(h, t float64) r2.Point { return r2.Point{X: h*u.X - t*u.Y, Y: h*u.Y + t*u.X} }
	g := Gap{Dist: -d, Push: u, Exact: true}
	g.A = on(ha, max(a0, min(a1, m)))
	g.B = on(ha-d, max(b0, min(b1, m))).Sub(s)
	if max(a0, b0) > min(a1, b1)+Coincident {
		// Several directions do equally well within rounding; ask where they then touch.
		c := contact{d2: math.Inf(1)}
		moved := s.Add(u.Mul(d))
		c.nearestPieces(a, b, moved, 0)
		g.A, g.B, _ = c.feet(moved)
	}
	if d <= Coincident {
		g.Dist = 0
	}
	return g
}
