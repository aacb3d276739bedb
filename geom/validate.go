package geom

import (
	"math"

	"github.com/golang/geo/r2"
)

// jointReach is the distance in mm from a common vertex within which neighbouring pieces
// may meet again: where they join tangentially, rounding finds crossings up to the root of
// the rounding error, 1e-6 mm, away.
const jointReach = 1e-5

// Validate returns nil if the loop encloses an area and neither crosses, touches nor runs
// along itself; otherwise a [*Violation] with the place. Meeting itself at a vertex is
// reported as touching, even if it crosses there. The empty loop is valid.
func (l Loop) Validate() error {
	if l.d == nil {
		return nil
	}
	flat := !(math.Abs(l.d.area) > Coincident*l.Perimeter())
	var touch *Violation
	n := len(l.d.ready().pieces)
	for k := range l.d.pieces {
		p := &l.d.pieces[k]
		var cross *Violation
		l.d.eachNear(p, r2.Point{}, func(j int, q *piece) bool {
			if j <= k {
				return true
			}
			next, prev := j == k+1, k == 0 && j == n-1
			if meets, at, proper := meeting(p, q, next, prev); meets {
				v := &Violation{Kind: SelfTouching, At: at, Index: int(p.seg)}
				if proper {
					v.Kind = SelfCrossing
					cross = v
					return false
				}
				if touch == nil {
					touch = v
				}
			}
			return true
		})
		if cross != nil {
			return cross
		}
	}
	if flat { // and no crossing is to blame, as in a figure of eight
		return &Violation{Kind: NoArea, At: l.d.v[0].P}
	}
	if touch != nil {
		return touch
	}
	return nil
}

// meeting reports whether two pieces meet other than at the vertex that they share (the
// end of p if next, its start if prev), where, and whether they cross at inner points.
func meeting(p, q *piece, next, prev bool) (meets bool, where r2.Point, proper bool) {
	var at [maxMeet]r2.Point
	for m := range meetPieces(p, q, Coincident, &at) {
		x := at[m]
		if next && dist(x, p.b()) <= jointReach || prev && dist(x, p.a()) <= jointReach {
			continue
		}
		meets, where = true, x
		if properAt(p, q, x) {
			return true, x, true
		}
	}
	return meets, where, false
}

// properAt reports whether x is an inner point of both pieces at which their directions
// differ.
func properAt(p, q *piece, x r2.Point) bool {
	for _, e := range [4]r2.Point{p.a(), p.b(), q.a(), q.b()} {
		if dist(x, e) <= 2*Coincident {
			return false
		}
	}
	u, v := p.directionAt(x), q.directionAt(x)
	return math.Abs(u.X*v.Y-u.Y*v.X) > 1e-9
}

// directionAt returns the unit direction of the piece at a point of it.
func (p *piece) directionAt(x r2.Point) r2.Point {
	u := r2.Point{X: p.bx - p.ax, Y: p.by - p.ay}
	if p.r != 0 {
		u = r2.Point{X: p.cy - x.Y, Y: x.X - p.cx}
		if !p.ccw {
			u = u.Mul(-1)
		}
	}
	if l := math.Hypot(u.X, u.Y); l > 0 {
		return u.Mul(1 / l)
	}
	return u
}

// Validate returns nil if every loop is valid, the holes lie inside the outer loop and
// apart from it and from each other; otherwise a [*Violation] with the place; its Index is
// that of the hole, or of the segment where a loop itself is at fault. The empty region
// without holes is valid.
func (r Region) Validate() error {
	if r.Outer.d == nil {
		if len(r.Holes) > 0 {
			return &Violation{Kind: EmptyOuter}
		}
		return nil
	}
	for l := range r.Loops() {
		if err := l.Validate(); err != nil {
			return err
		}
	}
	outer := [1]Region{{Outer: r.Outer}}
	for i, h := range r.Holes {
		if h.d == nil {
			continue
		}
		if v := holeInOuter(&outer[0], h); v != nil {
			v.Index = i
			return v
		}
		for j := range i {
			if v := holesApart(r.Holes[j], h); v != nil {
				v.Index = i
				return v
			}
		}
	}
	return nil
}

// holeInOuter returns how hole h fails to lie inside outer, or nil.
func holeInOuter(outer *Region, h Loop) *Violation {
	c := contact{d2: math.Inf(1)}
	c.nearestPieces(outer.Outer.d, h.d, r2.Point{}, 0)
	if c.d2 > Coincident*Coincident {
		if !outer.Outer.d.encloses(h.d.v[0].P) {
			return &Violation{Kind: HoleOutside, At: h.d.v[0].P}
		}
		return nil
	}
	at, _, _ := c.feet(r2.Point{})
	v := &Violation{Kind: HoleTouching, At: at}
	in, out := false, false
	hole := Region{Outer: h}
	outers := [1]Region{*outer}
	eachSpan(&hole, outers[:], r2.Point{}, func(m r2.Point) bool {
		switch outer.locate(m) {
		case within:
			in = true
		case outside:
			out = true
		}
		return !(in && out)
	})
	switch {
	case out && in:
		v.Kind = HoleCrosses
	case out:
		v.Kind = HoleOutside
	}
	return v
}

// holesApart returns how two holes fail to lie apart, or nil.
func holesApart(a, b Loop) *Violation {
	if a.d == nil || !a.boxNear(b, r2.Point{}, Coincident) {
		return nil // boxes apart: neither meets the other, nor holds it
	}
	ra, rb := Region{Outer: a}, Region{Outer: b}
	c := rimContact(&ra, &rb)
	if c.d2 > Coincident*Coincident {
		switch {
		case a.d.encloses(b.d.v[0].P):
			return &Violation{Kind: HoleInHole, At: b.d.v[0].P}
		case b.d.encloses(a.d.v[0].P):
			return &Violation{Kind: HoleInHole, At: a.d.v[0].P}
		}
		return nil
	}
	at, _, _ := c.feet(r2.Point{})
	as, bs := [1]Region{ra}, [1]Region{rb}
	if interiorsMeet(as[:], bs[:], r2.Point{}) {
		return &Violation{Kind: HoleCrosses, At: at}
	}
	return &Violation{Kind: HoleTouching, At: at}
}
