package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// Orient returns +1 if a, b, c turn counter-clockwise, -1 if clockwise and 0 if they lie
// on one line. The sign is exact for coordinates that are 0 or of a magnitude from 1e-100
// to 1e150, whose products neither overflow nor underflow. Where a coordinate is larger or
// not finite it is 0.
//
// The determinant is first evaluated in floating point with Shewchuk's bound (Adaptive
// Precision Floating-Point Arithmetic, 1997, section 4.3, the A stage); where that does
// not decide, as an exact expansion. Neither allocates.
func Orient(a, b, c r2.Point) int {
	l := float64((a.X - c.X) * (b.Y - c.Y))
	r := float64((a.Y - c.Y) * (b.X - c.X))
	det := l - r
	const bound = (3 + 16*0x1p-53) * 0x1p-53
	if e := bound * (math.Abs(l) + math.Abs(r)); det > e {
		return 1
	} else if -det > e {
		return -1
	}
	return orientExact(a, b, c)
}

// orientExact sums the six products of the determinant without rounding.
func orientExact(a, b, c r2.Point) int {
	if s := math.Abs(a.X) + math.Abs(a.Y) + math.Abs(b.X) + math.Abs(b.Y) + math.Abs(c.X) + math.Abs(c.Y); !(s < 1e150) {
		return 0
	}
	var e expansion
	e.addProduct(a.X, b.Y)
	e.addProduct(-a.X, c.Y)
	e.addProduct(-c.X, b.Y)
	e.addProduct(-a.Y, b.X)
	e.addProduct(a.Y, c.X)
	e.addProduct(c.Y, b.X)
	return e.sign()
}

// An expansion is a sum of floats that do not overlap, smallest first: an exact number.
type expansion struct {
	term [12]float64
	n    int
}

// addProduct adds x·y: the rounded product and its rounding error, which is a float and
// which the fused multiply-add yields exactly.
func (e *expansion) addProduct(x, y float64) {
	p := float64(x * y)
	e.add(math.FMA(x, y, -p))
	e.add(p)
}

// add adds one float (Shewchuk, Grow-Expansion).
func (e *expansion) add(q float64) {
	n := 0
	for i := 0; i < e.n; i++ {
		t := e.term[i]
		s := q + t
		v := s - q
		r := (q - (s - v)) + (t - v)
		if r != 0 {
			e.term[n] = r
			n++
		}
		q = s
	}
	if q != 0 {
		e.term[n] = q
		n++
	}
	e.n = n
}

// sign is that of the last and largest term, since terms do not overlap.
func (e *expansion) sign() int {
	switch {
	case e.n == 0:
		return 0
	case e.term[e.n-1] > 0:
		return 1
	}
	return -1
}
