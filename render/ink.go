package render

import (
	"math"
	"math/bits"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// cell is the side in mm of the squares in which a field remembers ink. Two lines nearer
// than this print as one.
const cell = 0.5

// field remembers which squares of a sheet hold ink: one bit a square, rows of words.
type field struct {
	w, h, words int
	bits        []uint64
}

func newField(w, h float64) *field {
	f := &field{w: int(w/cell) + 1, h: int(h/cell) + 1}
	f.words = (f.w + 63) / 64
	f.bits = make([]uint64, f.words*f.h)
	return f
}

func (f *field) set(p r2.Point) {
	if p.X < 0 || p.Y < 0 {
		return
	}
	x, y := int(p.X/cell), int(p.Y/cell)
	if x >= f.w || y >= f.h {
		return
	}
	f.bits[y*f.words+x>>6] |= 1 << (x & 63)
}

func (f *field) has(p r2.Point) bool {
	if p.X < 0 || p.Y < 0 {
		return false
	}
	x, y := int(p.X/cell), int(p.Y/cell)
	if x >= f.w || y >= f.h {
		return false
	}
	return f.bits[y*f.words+x>>6]&(1<<(x&63)) != 0
}

// near reports whether there is ink in the square of p or one of its eight neighbours.
func (f *field) near(p r2.Point) bool {
	return !f.free(geom.Rect{Lo: r2.Point{X: p.X - cell, Y: p.Y - cell}, Hi: r2.Point{X: p.X + cell, Y: p.Y + cell}})
}

// span returns the cells that a box touches, clamped to the sheet.
func (f *field) span(b geom.Rect) (x0, y0, x1, y1 int) {
	x0, y0 = max(int(math.Floor(b.Lo.X/cell)), 0), max(int(math.Floor(b.Lo.Y/cell)), 0)
	x1, y1 = min(int(math.Floor(b.Hi.X/cell)), f.w-1), min(int(math.Floor(b.Hi.Y/cell)), f.h-1)
	return
}

// rowMask returns the mask of the bits of word k that lie in x0..x1.
func rowMask(k, x0, x1 int) uint64 {
	m := ^uint64(0)
	if lo := x0 - k*64; lo > 0 {
		m &= ^uint64(0) << lo
	}
	if hi := x1 - k*64; hi < 63 {
		m &= 1<<(hi+1) - 1
	}
	return m
}

// free reports whether no square that the box touches holds ink.
func (f *field) free(b geom.Rect) bool {
	x0, y0, x1, y1 := f.span(b)
	return f.clear(x0, y0, x1, y1)
}

// clear reports whether no square of a block of columns x0..x1 and rows y0..y1 holds ink.
func (f *field) clear(x0, y0, x1, y1 int) bool {
	x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(x1, f.w-1), min(y1, f.h-1)
	if x0 > x1 {
		return true
	}
	for k := x0 >> 6; k <= x1>>6; k++ {
		m := rowMask(k, x0, x1)
		for i := y0*f.words + k; i <= y1*f.words+k; i += f.words {
			if f.bits[i]&m != 0 {
				return false
			}
		}
	}
	return true
}

// count returns how many squares with ink the box touches.
func (f *field) count(b geom.Rect) int {
	x0, y0, x1, y1 := f.span(b)
	n := 0
	if x0 > x1 {
		return 0
	}
	for k := x0 >> 6; k <= x1>>6; k++ {
		m := rowMask(k, x0, x1)
		for y := y0; y <= y1; y++ {
			n += bits.OnesCount64(f.bits[y*f.words+k] & m)
		}
	}
	return n
}

// block fills a box.
func (f *field) block(b geom.Rect) {
	x0, y0, x1, y1 := f.span(b)
	if x0 > x1 {
		return
	}
	for k := x0 >> 6; k <= x1>>6; k++ {
		m := rowMask(k, x0, x1)
		for y := y0; y <= y1; y++ {
			f.bits[y*f.words+k] |= m
		}
	}
}

// stroke marks the squares along a piece, sampled at half a square.
func (f *field) stroke(s geom.Seg) {
	if !curved(s) {
		d := s.B.Sub(s.A)
		n := int(d.Norm()/(cell/2)) + 1
		step := d.Mul(1 / float64(n))
		p := s.A
		for range n + 1 {
			f.set(p)
			p = p.Add(step)
		}
		return
	}
	c := s.Center()
	n := int(s.Length()/(cell/2)) + 1
	sn, cs := math.Sincos(float64(s.Sweep()) / float64(n))
	d := s.A.Sub(c)
	for range n + 1 {
		f.set(c.Add(d))
		d = r2.Point{X: cs*d.X - sn*d.Y, Y: sn*d.X + cs*d.Y}
	}
}

// band marks the squares within half mm of a piece.
func (f *field) band(s geom.Seg, half float64) {
	if half <= cell/2 {
		f.stroke(s)
		return
	}
	n := int(s.Length()/cell) + 1
	for i := range n + 1 {
		p := s.At(float64(i) / float64(n))
		f.block(geom.Rect{Lo: p, Hi: p}.Expand(half))
	}
}

// hits reports whether a straight line meets ink.
func (f *field) hits(a, b r2.Point) bool {
	d := b.Sub(a)
	n := int(d.Norm()/(cell/2)) + 1
	step := d.Mul(1 / float64(n))
	p := a
	for range n + 1 {
		if f.has(p) {
			return true
		}
		p = p.Add(step)
	}
	return false
}

// steps counts how often a straight line runs into ink.
func (f *field) steps(a, b r2.Point) int {
	d := b.Sub(a)
	k := int(d.Norm()/(cell/2)) + 1
	step := d.Mul(1 / float64(k))
	p, on, n := a, true, 0 // it starts on the thing itself
	for range k + 1 {
		h := f.has(p)
		if h && !on {
			n++
		}
		on = h
		p = p.Add(step)
	}
	return n
}

// draw marks everything that an item prints: its strokes on f; its texts, balloons and
// marks, as boxes, on labels.
func (f *field) draw(it Item, labels *field) {
	expand(it, func(p Item) {
		switch v := p.(type) {
		case Text:
			labels.block(v.box().Expand(labelAir))
		case Strand:
			segsOf(p, func(s geom.Seg) { f.band(s, v.Width/2) })
		default:
			segsOf(p, f.stroke)
		}
	})
	switch v := it.(type) {
	case Mark:
		w, h := v.size()
		labels.block(geom.Rect{Lo: v.At, Hi: v.At}.Expand(0).Add(r2.Point{X: v.At.X - w, Y: v.At.Y - h}).Add(r2.Point{X: v.At.X + w, Y: v.At.Y + h}))
	case Balloon:
		labels.block(geom.Rect{Lo: v.At, Hi: v.At}.Expand(balloonR))
	}
}

// labelAir is the room in mm kept free round a label.
const labelAir = 0.5

// segsOf hands the pieces of a line, arc, path or circle to yield.
func segsOf(it Item, yield func(geom.Seg)) {
	switch v := it.(type) {
	case Line:
		yield(geom.Seg{A: v.A, B: v.B})
	case Arc:
		yield(geom.Seg{A: v.A, B: v.B, Bulge: v.Bulge})
	case Circle:
		a, b := r2.Point{X: v.C.X + v.R, Y: v.C.Y}, r2.Point{X: v.C.X - v.R, Y: v.C.Y}
		yield(geom.Seg{A: a, B: b, Bulge: 1})
		yield(geom.Seg{A: b, B: a, Bulge: 1})
	case Strand:
		segsOf(v.path(), yield)
	case Path:
		n := len(v.V)
		last := n - 1
		if v.Closed {
			last = n
		}
		for i := range max(last, 0) {
			yield(geom.Seg{A: v.V[i].P, B: v.V[(i+1)%n].P, Bulge: v.V[i].Bulge})
		}
	}
}
