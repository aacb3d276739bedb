package geom_test

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/golang/geo/r1"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// numbersOf reads numbers from fuzz input: small ones on a grid, ordinary ones and any
// bit pattern, by a tag. wild: a number under a micrometre, but not 0, has come up, which
// may have made a body too slender for the promised error.
type numbersOf struct {
	b    []byte
	wild bool
}

func (n *numbersOf) tag() byte {
	if len(n.b) == 0 {
		return 0
	}
	t := n.b[0]
	n.b = n.b[1:]
	return t
}

func (n *numbersOf) next() float64 {
	switch t := n.tag(); t % 4 {
	case 0:
		return float64(int8(n.tag())) / 8
	case 1:
		return float64(int16(uint16(n.tag())<<8|uint16(n.tag()))) / 16
	case 2:
		return float64(int8(n.tag())) * math.Pow(10, float64(int(n.tag()%9))-3)
	default:
		var b [8]byte
		n.b = n.b[copy(b[:], n.b):]
		v := math.Float64frombits(binary.LittleEndian.Uint64(b[:]))
		n.wild = n.wild || v != 0 && math.Abs(v) < 1e-3
		return v
	}
}

func (n *numbersOf) vector() r3.Vector { return vec(n.next(), n.next(), n.next()) }

// body reads a convex body, empty where the numbers make none.
func (n *numbersOf) body() geom.Convex {
	kind := n.tag()
	p := geom.RotZ(s1.Angle(n.next())).Then(geom.RotX(s1.Angle(n.next()))).Then(geom.RotZ(s1.Angle(n.next())))
	p.T = n.vector()
	var c geom.Convex
	switch kind % 6 {
	case 0:
		c, _ = geom.NewBox(n.vector(), p)
	case 1:
		c, _ = geom.NewCylinder(n.next(), n.next(), p)
	case 2:
		c, _ = geom.NewCapsule(n.vector(), n.vector(), n.next())
	case 3:
		l, err := geom.NewLoop([]geom.Vertex{
			{P: pt(n.next(), n.next()), Bulge: n.next()}, {P: pt(n.next(), n.next()), Bulge: n.next()}, {P: pt(n.next(), n.next())}})
		if err == nil {
			c, _ = geom.NewPrism(l, r1.Interval{Lo: n.next(), Hi: n.next()}, p)
		}
	case 4:
		var pts []r3.Vector
		for range n.tag()%7 + 1 {
			pts = append(pts, n.vector())
		}
		c, _ = geom.NewHull(pts)
	case 5:
		c, _ = geom.NewSphere(n.vector(), n.next())
	}
	if kind&64 != 0 {
		if out, err := geom.SweepSlide(c, n.vector(), 1); err == nil && len(out) == 1 {
			c = out[0].(geom.Convex)
		}
	}
	if kind&128 != 0 {
		if g, err := c.Grow(n.next()); err == nil {
			c = g
		}
	}
	return c
}

func FuzzConvex(f *testing.F) {
	for _, s := range []string{
		"", "\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x10\x00\x10\x00\x10\x00\x00\x00\x00\x00\x00\x00\x10\x00\x10\x00\x10\x00\x10\x00\x10\x00\x10",
		"\x01\x00\x01\x00\x02\x00\x03\x00\x04\x00\x05\x00\x06\x00\x20\x00\x20\x01\x00\x01\x00\x02\x00\x03\x00\x04\x00\x05\x00\x06\x00\x20\x00\x20",
		"\x44\x04\x02\x01\x02\x01\x02\x01\x02\x01\x02\x01\x82\x04\x02\x01\x02\x01\x02\x01\x02\x01\x02\x01",
		"\x03\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x04\x00\x20\x00\x00\x00\x04\x00\x00\x00\x20\x00\x00\x00\x10",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		n := &numbersOf{b: data}
		a, b := n.body(), n.body()
		g := geom.DistanceBodies(a, b)
		if a.IsEmpty() || b.IsEmpty() {
			if !math.IsInf(g.Dist, 1) {
				t.Fatalf("distance of nothing: %v", g)
			}
			return
		}
		for _, v := range []float64{g.Dist, g.A.Norm(), g.B.Norm(), g.Push.Norm(), geom.SeparationBodies(a, b)} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("not finite: %+v", g)
			}
		}
		if e := math.Abs(g.Push.Norm() - 1); e > 1e-9 {
			t.Fatalf("push is not a unit vector: %+v", g)
		}
		// Errors are promised for bodies of up to 2 m within 10 m.
		size := a.Bound().Union(b.Bound())
		wide := max(a.Bound().Size().Norm(), b.Bound().Size().Norm())
		if max(size.Lo.Norm(), size.Hi.Norm()) > 2e4 || wide > 4e3 || n.wild {
			return
		}
		const tol = 1e-6
		h := geom.DistanceBodies(b, a)
		if g.Exact && h.Exact && math.Abs(g.Dist-h.Dist) > 2*tol {
			t.Fatalf("exchanged: %+v\n%+v", g, h)
		}
		width := b.Support(g.Push.Mul(-1)).Dot(g.Push) - a.Support(g.Push).Dot(g.Push)
		if g.Exact && math.Abs(width-g.Dist) > tol {
			t.Fatalf("the planes across Push are apart by %v: %+v", width, g)
		}
		if d := geom.SeparationBodies(a, b); math.Abs(d-max(0, g.Dist)) > tol {
			t.Fatalf("separation %v: %+v", d, g)
		}
		if g.Dist < 0 {
			for _, u := range sphere {
				if w := a.Support(u).Dot(u) - b.Support(u.Mul(-1)).Dot(u); w < -g.Dist-tol {
					t.Fatalf("%v along %v is a shorter move: %+v", w, u, g)
				}
			}
		}
	})
}

// loop reads any loop, valid or not; the empty one where the numbers make none.
func (n *numbersOf) loop() geom.Loop {
	v := make([]geom.Vertex, n.tag()%8+2)
	for i := range v {
		v[i].P = pt(n.next(), n.next())
		if n.tag()%2 == 1 {
			v[i].Bulge = n.next()
		}
	}
	l, _ := geom.NewLoop(v)
	return l
}

// Upright bodies over whatever plan, crossing itself or not, against convex ones: no
// answer is asked for but numbers, and in time.
func FuzzUpright(f *testing.F) {
	f.Add([]byte(""))
	f.Add([]byte("\x02\x00\x00\x00\x00\x00\x00\x40\x00\x00\x00\x00\x40\x00\x40\x00\x00\x00\x00\x40\x00\x01\x00\x00\x00\x00\x00\x10\x00\x00\x00\x02\x00\x08\x00\x08\x00\x01\x00\x02\x00\x03\x00\x04\x00\x05\x00\x06\x00\x20\x00\x20"))
	f.Fuzz(func(t *testing.T, data []byte) {
		n := &numbersOf{b: data}
		var u geom.Upright
		for range n.tag()%2 + 1 {
			r := geom.Region{Outer: n.loop()}
			if n.tag()%2 == 1 {
				r.Holes = append(r.Holes, n.loop())
			}
			u.Plan = append(u.Plan, r)
		}
		u.Z = r1.Interval{Lo: n.next(), Hi: n.next()}
		var b geom.Body = n.body()
		if n.tag()%4 == 0 {
			b = geom.Upright{Plan: []geom.Region{{Outer: n.loop()}}, Z: r1.Interval{Lo: n.next(), Hi: n.next()}}
		}
		g := geom.DistanceBodies(u, b)
		d := geom.SeparationBodies(u, b)
		if u.IsEmpty() || b.IsEmpty() {
			if !math.IsInf(g.Dist, 1) || !math.IsInf(d, 1) {
				t.Fatalf("distance of nothing: %v, %+v", d, g)
			}
			return
		}
		for _, v := range []float64{g.Dist, g.A.Norm(), g.B.Norm(), g.Push.Norm(), d} {
			if math.IsNaN(v) {
				t.Fatalf("not a number: %v, %+v", d, g)
			}
		}
	})
}
