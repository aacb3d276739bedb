package geom

import (
	"cmp"
	"math"
	"slices"
)

// stretchBox is the box of a stretch, kept apart so that the sweep runs through memory.
type stretchBox struct {
	box4
	i int32
}

// orderByLeft returns the indices of the boxes by left sides, and by index where these
// agree: a counting sort into slots, evenly over the width, and then within each slot. For
// boxes spread about evenly this takes n steps.
func (ar *arrangement) orderByLeft(boxes []stretchBox) []int32 {
	n := len(boxes)
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range boxes {
		lo, hi = min(lo, boxes[i].lx), max(hi, boxes[i].lx)
	}
	slots := 2 * n
	scale := 0.0
	if hi-lo > ar.tol { // or the quotient might overflow
		scale = float64(slots-1) / (hi - lo)
	}
	ar.slots = cleared(ar.slots, slots+1)
	end := ar.slots
	for i := range boxes {
		end[int((boxes[i].lx-lo)*scale)+1]++
	}
	for i := range slots {
		end[i+1] += end[i]
	}
	ar.byLeft = cleared(ar.byLeft, n)
	order := ar.byLeft
	for i := range boxes {
		k := int((boxes[i].lx - lo) * scale)
		order[end[k]] = int32(i)
		end[k]++
	}
	from := int32(0)
	for k := range slots {
		slot := order[from:end[k]]
		from = end[k]
		if len(slot) > 24 {
			slices.SortStableFunc(slot, func(p, q int32) int { return cmp.Compare(boxes[p].lx, boxes[q].lx) })
			continue
		}
		for i := 1; i < len(slot); i++ {
			o := slot[i]
			x := boxes[o].lx
			j := i
			for ; j > 0 && x < boxes[slot[j-1]].lx; j-- {
				slot[j] = slot[j-1]
			}
			slot[j] = o
		}
	}
	return order
}

// meetAll finds where strands meet: it welds ends and notes cuts. Stretches are sorted by
// their left sides and dealt out to level strips; within a strip each is tried against
// those that begin before it ends and overlap it in y. A pair that shares several strips is
// tried in the one that holds the higher of the two lower sides.
//
// With about √n strips this takes about n·√n steps for n stretches that are short against
// the whole, at worst n² when all overlap in both directions.
func (ar *arrangement) meetAll() {
	ar.stretch()
	n := len(ar.stretches)
	if n == 0 {
		return
	}
	ar.boxes = cleared(ar.boxes, n)
	boxes := ar.boxes
	lo, hi := math.Inf(1), math.Inf(-1)
	tol := ar.tol
	for i := range boxes {
		s := &ar.stretches[i]
		b := ar.box(s, s.lo, s.hi)
		b.ly -= tol / 2
		b.hy += tol / 2
		b.hx += tol
		lo, hi = min(lo, b.ly), max(hi, b.hy)
		boxes[i] = stretchBox{b, int32(i)}
	}
	strips := 1 + int(math.Sqrt(float64(n))/2)
	scale := float64(strips) / (hi - lo) * (1 - 1e-9)
	strip := func(y float64) int { return max(0, int((y-lo)*scale)) }
	ar.end = cleared(ar.end, strips+1)
	end := ar.end
	for i := range boxes {
		for k := strip(boxes[i].ly); k <= strip(boxes[i].hy); k++ {
			end[k+1]++
		}
	}
	for k := range strips {
		end[k+1] += end[k]
	}
	ar.dealt = cleared(ar.dealt, int(end[strips]))
	dealt := ar.dealt
	for _, i := range ar.orderByLeft(boxes) {
		for k := strip(boxes[i].ly); k <= strip(boxes[i].hy); k++ {
			dealt[end[k]] = boxes[i]
			end[k]++
		}
	}
	from := int32(0)
	for k := range strips {
		in := dealt[from:end[k]]
		from = end[k]
		for i := range in {
			p := &in[i]
			hx, ly, hy := p.hx, p.ly, p.hy
			s := &ar.stretches[p.i]
			for j := i + 1; j < len(in); j++ {
				q := &in[j]
				if q.lx > hx {
					break
				}
				if q.ly <= hy && q.hy >= ly && strip(max(ly, q.ly)) == k {
					r := &ar.stretches[q.i]
					ar.meetStretches(s, s.lo, s.hi, &p.box4, r, r.lo, r.hi, &q.box4)
				}
			}
		}
	}
	if len(ar.crossed) > 0 {
		ar.meetCrossings(dealt, end, strip)
	}
}

// meetCrossings cuts the strands on which crossings of two others lie. Without that, where
// three curves come together so flatly that their crossings lie apart along them, two of
// them would pass beside each other within the rounding of a point.
func (ar *arrangement) meetCrossings(dealt []stretchBox, end []int32, strip func(float64) int) {
	ar.reach = cleared(ar.reach, len(dealt))
	reach := ar.reach // the greatest right side so far in the strip
	from := int32(0)
	for _, to := range end[:len(end)-1] {
		hx := math.Inf(-1)
		for i := from; i < to; i++ {
			hx = max(hx, dealt[i].hx)
			reach[i] = hx
		}
		from = to
	}
	for _, c := range ar.crossed {
		p := ar.pts[c.at]
		ly, hy := p.Y-ar.tol/2, p.Y+ar.tol/2 // boxes have the other half
		for k := strip(ly); k <= min(strip(hy), len(end)-2); k++ {
			first := int32(0)
			if k > 0 {
				first = end[k-1]
			}
			in := dealt[first:end[k]]
			n, _ := slices.BinarySearchFunc(in, p.X+ar.tol, func(b stretchBox, x float64) int { return cmp.Compare(b.lx, x) })
			for i := n - 1; i >= 0 && reach[first+int32(i)] >= p.X; i-- {
				b := &in[i]
				if b.hx >= p.X && b.ly <= hy && b.hy >= ly {
					s := &ar.stretches[b.i]
					ar.meetPoint(p, c.at, c.strand, s, s.lo, s.hi)
				}
			}
		}
	}
}
