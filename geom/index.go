package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// Index finds boxes near boxes. It is a tree over the boxes in the order of a
// space-filling curve (Morton order of their middles, four children a node), built in
// about n log n and asked in about log n. Asking does not change it, so that many
// goroutines may ask at once; [Index.Update] must be alone.
//
// Every answer comes in ascending order of index, whatever the shape of the tree, so
// that an updated index and a new one answer alike. Empty boxes are never found. The
// zero value is an index of nothing.
type Index struct {
	boxes []Box   // by item
	items []int32 // by leaf: its item
	leaf  []int32 // by item: its leaf, -1 for an empty box
	// tree holds the leaves' boxes, then the nodes over them level by level, the root
	// last; level[k] is where level k begins.
	tree  []Box
	level []int32

	cost, costBuilt float64 // sum of the half surfaces of the lowest nodes: now, when built
	moves           int     // updates since it was built
}

const fanOut = 4

// NewIndex returns an index of the boxes; item i is boxes[i]. The slice is copied.
func NewIndex(boxes []Box) *Index {
	x := &Index{boxes: slices.Clone(boxes)}
	x.build()
	return x
}

// Len returns the number of items, empty ones included.
func (x *Index) Len() int { return len(x.boxes) }

// Box returns the box of item i, the empty box if there is no such item.
func (x *Index) Box(i int) Box {
	if i < 0 || i >= len(x.boxes) {
		return EmptyBox()
	}
	return x.boxes[i]
}

type coded struct {
	code uint64
	item int32
}

func (x *Index) build() {
	x.moves = 0
	total := EmptyBox()
	n := 0
	for i := range x.boxes {
		if !x.boxes[i].IsEmpty() {
			total = total.Union(x.boxes[i])
			n++
		}
	}
	order := make([]coded, 0, n)
	x.leaf = make([]int32, len(x.boxes))
	grid := func(lo, hi float64) (float64, float64) { // origin and cells a mm
		lo, hi = max(lo, -MaxCoord), min(hi, MaxCoord)
		if !(hi > lo) {
			return lo, 0
		}
		return lo, (1<<21 - 1) / (hi - lo)
	}
	ox, kx := grid(total.Lo.X, total.Hi.X)
	oy, ky := grid(total.Lo.Y, total.Hi.Y)
	oz, kz := grid(total.Lo.Z, total.Hi.Z)
	// One scale for all axes keeps the cells cubes.
	k := math.Inf(1)
	for _, s := range [3]float64{kx, ky, kz} {
		if s > 0 {
			k = min(k, s)
		}
	}
	if math.IsInf(k, 1) {
		k = 0
	}
	for i := range x.boxes {
		x.leaf[i] = -1
		if b := &x.boxes[i]; !b.IsEmpty() {
			code := spread(cell((b.Lo.X/2+b.Hi.X/2-ox)*k)) |
				spread(cell((b.Lo.Y/2+b.Hi.Y/2-oy)*k))<<1 |
				spread(cell((b.Lo.Z/2+b.Hi.Z/2-oz)*k))<<2
			order = append(order, coded{code, int32(i)})
		}
	}
	sortCoded(order)
	x.items = make([]int32, n)
	size := n
	for m := n; m > 1; {
		m = (m + fanOut - 1) / fanOut
		size += m
	}
	x.tree = make([]Box, size)
	x.level = x.level[:0]
	for i, c := range order {
		x.items[i], x.leaf[c.item], x.tree[i] = c.item, int32(i), x.boxes[c.item]
	}
	x.level = append(x.level, 0)
	x.cost = 0
	lo, hi := 0, n
	for hi-lo > 1 {
		x.level = append(x.level, int32(hi))
		at := hi
		for i := lo; i < hi; i += fanOut {
			x.tree[at] = unionOf(x.tree[i:min(i+fanOut, hi)])
			if lo == 0 {
				x.cost += halfSurface(&x.tree[at])
			}
			at++
		}
		lo, hi = hi, at
	}
	x.level = append(x.level, int32(hi))
	x.costBuilt = x.cost
}

// cell clamps a grid coordinate to 21 bits.
func cell(v float64) uint64 {
	if !(v > 0) {
		return 0
	}
	return uint64(min(v, 1<<21-1))
}

// spread puts two zero bits between the bits of a 21-bit number.
func spread(v uint64) uint64 {
	v = (v | v<<32) & 0x1f00000000ffff
	v = (v | v<<16) & 0x1f0000ff0000ff
	v = (v | v<<8) & 0x100f00f00f00f00f
	v = (v | v<<4) & 0x10c30c30c30c30c3
	return (v | v<<2) & 0x1249249249249249
}

// sortCoded sorts by code, stably, so by item where codes agree.
func sortCoded(a []coded) {
	if len(a) < 256 {
		slices.SortFunc(a, func(p, q coded) int {
			return cmp.Or(cmp.Compare(p.code, q.code), cmp.Compare(p.item, q.item))
		})
		return
	}
	// Six passes over 11 bits each cover the 63 bits; a pass in which all agree is skipped.
	b := make([]coded, len(a))
	for shift := 0; shift < 63; shift += 11 {
		var count [1<<11 + 1]int32
		for i := range a {
			count[a[i].code>>shift&(1<<11-1)+1]++
		}
		if count[a[0].code>>shift&(1<<11-1)+1] == int32(len(a)) {
			continue
		}
		for i := 1; i < len(count); i++ {
			count[i] += count[i-1]
		}
		for i := range a {
			d := a[i].code >> shift & (1<<11 - 1)
			b[count[d]] = a[i]
			count[d]++
		}
		copy(a, b)
	}
}

func unionOf(b []Box) Box {
	u := b[0]
	for i := 1; i < len(b); i++ {
		c := &b[i]
		u.Lo = r3.Vector{X: min(u.Lo.X, c.Lo.X), Y: min(u.Lo.Y, c.Lo.Y), Z: min(u.Lo.Z, c.Lo.Z)}
		u.Hi = r3.Vector{X: max(u.Hi.X, c.Hi.X), Y: max(u.Hi.Y, c.Hi.Y), Z: max(u.Hi.Z, c.Hi.Z)}
	}
	return u
}

func halfSurface(b *Box) float64 {
	s := b.Hi.Sub(b.Lo)
	return s.X*s.Y + s.Y*s.Z + s.Z*s.X
}

// Query calls yield with every item whose box shares a point with box (touching
// counts), in ascending order, until yield returns false. Up to 64 finds it does not
// allocate.
func (x *Index) Query(box Box, yield func(i int) bool) {
	var buf [64]int32
	for _, i := range x.collect(buf[:0], &box, -1) {
		if !yield(int(i)) {
			return
		}
	}
}

// collect appends the items above after whose boxes meet box, in ascending order.
func (x *Index) collect(dst []int32, box *Box, after int32) []int32 {
	if len(x.tree) == 0 || box.IsEmpty() {
		return dst
	}
	from := len(dst)
	type visit struct{ level, node int32 }
	var stack [fanOut * 20]visit // 20 levels hold 4^20 leaves
	top := len(x.level) - 2
	stack[0] = visit{int32(top), x.level[top]}
	n := 1
	if !x.tree[x.level[top]].Intersects(*box) {
		return dst
	}
	for n > 0 {
		n--
		v := stack[n]
		if v.level == 0 {
			if i := x.items[v.node]; i > after {
				dst = append(dst, i)
			}
			continue
		}
		below := x.level[v.level-1]
		first := below + (v.node-x.level[v.level])*fanOut
		last := min(first+fanOut, x.level[v.level])
		for c := first; c < last; c++ {
			t := &x.tree[c]
			if t.Lo.X <= box.Hi.X && box.Lo.X <= t.Hi.X && t.Lo.Y <= box.Hi.Y && box.Lo.Y <= t.Hi.Y &&
				t.Lo.Z <= box.Hi.Z && box.Lo.Z <= t.Hi.Z {
				if v.level == 1 {
					if i := x.items[c]; i > after {
						dst = append(dst, i)
					}
					continue
				}
				stack[n] = visit{v.level - 1, c}
				n++
			}
		}
	}
	slices.Sort(dst[from:])
	return dst
}

// Pairs calls yield with every pair i < j of items whose boxes lie at most limit mm
// apart, in ascending order of i and then of j, until yield returns false. Limit 0
// gives the boxes that touch or overlap; a negative or NaN limit gives none. The cost
// is about n log n for boxes of like size that do not pile up, and grows with the number
// of pairs found.
func (x *Index) Pairs(limit float64, yield func(i, j int) bool) {
	if !(limit >= 0) {
		return
	}
	limit2 := limit * limit
	var found []int32
	for i := range x.boxes {
		b := &x.boxes[i]
		if x.leaf[i] < 0 {
			continue
		}
		reach := b.Expand(limit)
		found = x.collect(found[:0], &reach, int32(i))
		for _, j := range found {
			// Box against box, not against the grown box with its corners.
			if d := b.distance2(x.boxes[j]); d > limit2 && d > 0 {
				continue
			}
			if !yield(i, int(j)) {
				return
			}
		}
	}
}

// Nearest returns the item that measure says is nearest, and its distance; the lowest
// index among equals; -1 and +Inf if there is none at a finite distance. measure must
// never be less than the distance between the item's box and box, and is called for
// few items; it may return +Inf to pass an item over. With measure nil the distance
// between the boxes is taken.
func (x *Index) Nearest(box Box, measure func(i int) float64) (int, float64) {
	best, at := math.Inf(1), -1
	if len(x.tree) > 0 && !box.IsEmpty() {
		top := int32(len(x.level) - 2)
		x.nearest(&box, measure, top, x.level[top], &best, &at)
	}
	return at, best
}

func (x *Index) nearest(box *Box, measure func(i int) float64, level, node int32, best *float64, at *int) {
	if level == 0 {
		i := int(x.items[node])
		d := 0.0
		if measure != nil {
			d = measure(i)
		} else {
			d = math.Sqrt(box.distance2(x.tree[node]))
		}
		if d < *best || d == *best && i < *at {
			*best, *at = d, i
		}
		return
	}
	first := x.level[level-1] + (node-x.level[level])*fanOut
	last := min(first+fanOut, x.level[level])
	var d2 [fanOut]float64
	var order [fanOut]int32
	n := 0
	for c := first; c < last; c++ {
		d := box.distance2(x.tree[c])
		k := n
		for ; k > 0 && d2[k-1] > d; k-- {
			d2[k], order[k] = d2[k-1], order[k-1]
		}
		d2[k], order[k] = d, c
		n++
	}
	for k := 0; k < n; k++ {
		// A hair of slack: measure may round below the box.
		if math.Sqrt(d2[k]) > *best+1e-9 {
			return
		}
		x.nearest(box, measure, level-1, order[k], best, at)
	}
}

// Update gives item i a new box. It costs about log n; after many moves that spoil the
// tree it builds it anew, which evens out to about log n a move. It reports whether
// there is an item i.
func (x *Index) Update(i int, box Box) bool {
	if i < 0 || i >= len(x.boxes) {
		return false
	}
	was := x.leaf[i] >= 0
	x.boxes[i] = box
	if was == box.IsEmpty() {
		x.build() // an item comes or goes
		return true
	}
	if !was {
		return true
	}
	x.moves++
	at := x.leaf[i]
	x.tree[at] = box
	for level := 1; level < len(x.level)-1; level++ {
		below := x.level[level-1]
		k := (at - below) / fanOut
		first := below + k*fanOut
		at = x.level[level] + k
		u := unionOf(x.tree[first:min(first+fanOut, x.level[level])])
		if level == 1 {
			x.cost += halfSurface(&u) - halfSurface(&x.tree[at])
		}
		x.tree[at] = u
	}
	if x.moves > 16+len(x.items)/8 && x.cost > 2*x.costBuilt {
		x.build()
	}
	return true
}
