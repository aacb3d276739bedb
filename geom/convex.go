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
		if turn < -1e-9 || turn > math.Pi-1e-9 {
			return false, nil
		}
		total += turn
	}
	if math.Abs(total-2*math.Pi) > 1e-6 {
		return false, nil
	}
	fan := make([]corner, 0, 2*n)
	angle := 0.0
	put := func(c r2.Point, r float64, tangent r2.Point, width float64) {
		// The outer normal is the tangent turned right.
		fan = append(fan, corner{cx: c.X, cy: c.Y, r: r, nx: tangent.Y, ny: -tangent.X, angle: angle})
		angle += width
	}
	arc := func(s Seg) {
		// In ranges of at most a quarter turn, so that cross products tell what is within.
		c, r, sweep := s.Center(), s.Radius(), 4*math.Atan(s.Bulge)
		if r > fanRadius {
			n := s.chords(fanSagitta)
			// Each vertex of the chords owns the normals to either side of it.
			put(s.A, 0, s.Tangent(0), sweep/n/2)
			for i := 1.0; i < n; i++ {
				put(s.At(i/n), 0, s.Tangent((i-0.5)/n), sweep/n)
			}
			put(s.B, 0, s.Tangent(1-0.5/n), sweep/n/2)
			return
		}
		k := math.Ceil(sweep / (math.Pi/2 + 1e-9))
		for i := 0.0; i < k; i++ {
			put(c, r, s.Tangent(i/k), sweep/k)
		}
	}
	t0 := seg(0).Tangent(0)
	angle = math.Atan2(-t0.X, t0.Y)
	for i := range n {
		s, next := seg(i), seg(i+1)
		if s.Bulge > 0 {
			arc(s)
		}
		if turn := angleFrom(s.Tangent(1), next.Tangent(0)); turn > 1e-12 {
			put(s.B, 0, s.Tangent(1), turn)
		}
	}
	return true, fan
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
	// Start at a's first normal; find the corner of b whose opposite range holds it.
	i, j := 0, 0
	start := a[0].angle
	// offset brings b's angles, turned by half a turn, to the walk's own.
	rel := func(k int) float64 { // angle of b's normal k after start, within 0..2π
		x := math.Mod(b[k].angle+math.Pi-start, turn)
		if x < 0 {
			x += turn
		}
		return x
	}
	// The range that holds the start begins at the greatest angle counted from there.
	far := -1.0
	for k := range b {
		if x := rel(k); x > far {
			far, j = x, k
		}
	}
	best, bestU := math.Inf(1), r2.Point{}
	nx, ny := a[0].nx, a[0].ny
	na, nb := 0, 0 // normals passed of a and b
	for na < len(a) || nb < len(b) {
		// The range from (nx, ny) to the next normal of either.
		p, q := &a[i], &b[j]
		i1, j1 := i+1, j+1
		ta := turn
		if i1 < len(a) {
			ta = a[i1].angle - start
		} else {
			i1 = 0
		}
		if j1 == len(b) {
			j1 = 0
		}
		tb := turn
		if nb < len(b) {
			tb = rel(j1)
		}
		if na == len(a) {
			ta = math.Inf(1)
		}
		if nb == len(b) {
			tb = math.Inf(1)
		}
		wx, wy := p.cx-q.cx-s.X, p.cy-q.cy-s.Y
		r := p.r + q.r
		if h := wx*nx + wy*ny + r; h < best {
			best, bestU = h, r2.Point{X: nx, Y: ny}
		}
		ex, ey := a[i1].nx, a[i1].ny
		if tb < ta {
			ex, ey = -b[j1].nx, -b[j1].ny
		}
		if r > 0 && wx*ny-wy*nx >= 0 && wy*ex-wx*ey >= 0 {
			// -w lies between n and e.
			if n := math.Sqrt(wx*wx + wy*wy); n > 0 && r-n < best && -(wx*nx+wy*ny) >= 0 {
				best, bestU = r-n, r2.Point{X: -wx / n, Y: -wy / n}
			}
		}
		nx, ny = ex, ey
		if tb < ta {
			j, nb = j1, nb+1
		} else {
			i, na = i1, na+1
		}
	}
	return best, bestU
}

// convexLoopGap returns the gap of two overlapping convex loops, b moved by s.
func convexLoopGap(a, b *loopData, s r2.Point) Gap {
	d, u := depth(a.fan, b.fan, s)
	// The points that meet lie on the two sides facing each other, where these run beside
	// each other: in the middle of what they share.
	ha, a0, a1 := support(a.fan, u)
	_, b0, b1 := support(b.fan, u.Mul(-1))
	shift := s.Y*u.X - s.X*u.Y
	b0, b1 = shift-b1, shift-b0
	m := (max(a0, b0) + min(a1, b1)) / 2
	on := func(h, t float64) r2.Point { return r2.Point{X: h*u.X - t*u.Y, Y: h*u.Y + t*u.X} }
	g := Gap{Dist: -d, Push: u, Exact: true}
	g.A = on(ha, max(a0, min(a1, m)))
	g.B = on(ha-d, max(b0, min(b1, m))).Sub(s)
	if d <= Coincident {
		g.Dist = 0
	}
	return g
}
