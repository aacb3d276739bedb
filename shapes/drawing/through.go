package drawing

import "github.com/golang/geo/r2"

// through returns cubic Bézier curves through the points with continuous curvature, the
// parameter running as the chords are long: what a spline that gives only the points it
// passes through stands for. It leaves the first point along start and reaches the last one
// along end, both taken as directions; where one of them is zero that end is free of
// curvature.
func through(points []r2.Point, start, end r2.Point) []curve {
	var p []r2.Point
	for _, q := range points {
		if len(p) == 0 || q.Sub(p[len(p)-1]).Norm() > 1e-9 {
			p = append(p, q)
		}
	}
	n := len(p) - 1
	if n < 1 {
		return nil
	}
	u, clampedStart := direction(start)
	w, clampedEnd := direction(end)
	if n == 1 && !clampedStart && !clampedEnd {
		return []curve{lineTo(p[0], p[1])}
	}
	h := make([]float64, n)
	for i := range h {
		h[i] = p[i+1].Sub(p[i]).Norm()
	}
	// First derivatives m: the tridiagonal system of a cubic spline (lower, diagonal, upper
	// and right-hand side of each row), solved from the front and back. A free end has its
	// second derivative, 2m₀ + m₁ - 3·slope, at zero; a given one its first, of unit length
	// as the chords that the parameter runs along.
	b, upper, m := make([]float64, n+1), make([]float64, n+1), make([]r2.Point, n+1)
	slope := func(i int) r2.Point { return p[i+1].Sub(p[i]).Mul(1 / h[i]) }
	for i := 0; i <= n; i++ {
		lower, diag, rhs := 0.0, 1.0, u
		switch {
		case i > 0 && i < n:
			lower, diag, upper[i] = h[i], 2*(h[i-1]+h[i]), h[i-1]
			rhs = slope(i - 1).Mul(3 * h[i]).Add(slope(i).Mul(3 * h[i-1]))
		case i == 0 && !clampedStart:
			diag, upper[i], rhs = 2, 1, slope(0).Mul(3)
		case i == n && clampedEnd:
			rhs = w
		case i == n:
			lower, diag, rhs = 1, 2, slope(n-1).Mul(3)
		}
		b[i], m[i] = diag, rhs
		if i > 0 {
			f := lower / b[i-1]
			b[i] -= f * upper[i-1]
			m[i] = rhs.Sub(m[i-1].Mul(f))
		}
	}
	m[n] = m[n].Mul(1 / b[n])
	for i := n - 1; i >= 0; i-- {
		m[i] = m[i].Sub(m[i+1].Mul(upper[i])).Mul(1 / b[i])
	}
	out := make([]curve, n)
	for i := range out {
		out[i] = curve{kind: bezierCurve, p: [4]r2.Point{
			p[i], p[i].Add(m[i].Mul(h[i] / 3)), p[i+1].Sub(m[i+1].Mul(h[i] / 3)), p[i+1],
		}}
	}
	return out
}

// throughClosed returns the closed curve through the points that has no corner anywhere: the
// points are followed on past both ends until these have no effect. What is wrong at an end
// falls to 2 - √3 = 0.27 of it from each point to the next, so that after 16 points less than
// 1e-9 is left.
func throughClosed(points []r2.Point) []curve {
	const beyond = 16
	var p []r2.Point
	for _, q := range points {
		if len(p) == 0 || q.Sub(p[len(p)-1]).Norm() > 1e-9 {
			p = append(p, q)
		}
	}
	if n := len(p); n > 1 && p[n-1].Sub(p[0]).Norm() <= 1e-9 {
		p = p[:n-1]
	}
	n := len(p)
	if n < 3 {
		return through(append(p, points[0]), r2.Point{}, r2.Point{})
	}
	round := make([]r2.Point, 0, n+1+2*beyond)
	for i := -beyond; i <= n+beyond; i++ {
		round = append(round, p[((i%n)+n)%n])
	}
	return through(round, r2.Point{}, r2.Point{})[beyond : beyond+n]
}

// direction returns v at unit length; ok is false for one without length.
func direction(v r2.Point) (u r2.Point, ok bool) {
	n := v.Norm()
	if !(n > 1e-12) || !finite(n) {
		return u, false
	}
	return v.Mul(1 / n), true
}
