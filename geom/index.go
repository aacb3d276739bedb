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

const fanOut = 4 // join counts on 4

// NewIndex returns an index of the boxes; item i is boxes[i]. The slice is copied.
func NewIndex(boxes []Box) *Index {
	return indexOf(slices.Clone(boxes))
}

// indexOf is NewIndex without the copy.
func indexOf(boxes []Box) *Index {
	x := &Index{boxes: boxes}
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
			total.include(&x.boxes[i])
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

// sortCoded sorts by the leading bits of the code, as many as the number of items can make
// use of, and by item where those agree.
func sortCoded(a []coded) {
	// Digits of a size that goes with the number of items; 32 bits tell enough cells apart
	// for thousands of them.
	digit, digits := 8, 4
	switch {
	case len(a) > 1<<14:
		digit, digits = 11, 5
	case len(a) > 1<<11:
		digit, digits = 11, 3
	}
	low := 63 - digit*digits
	if len(a) < 100 {
		slices.SortFunc(a, func(p, q coded) int {
			return cmp.Or(cmp.Compare(p.code>>low, q.code>>low), cmp.Compare(p.item, q.item))
		})
		return
	}
	mask := uint64(1)<<digit - 1
	b := make([]coded, len(a))
	from, to := a, b
	for shift := low; shift < 63; shift += digit {
		var count [1<<11 + 1]int32
		for i := range from {
			count[from[i].code>>shift&mask+1]++
		}
		if count[from[0].code>>shift&mask+1] == int32(len(a)) {
			continue // all agree
		}
		for i := 1; i <= 1<<digit; i++ {
			count[i] += count[i-1]
		}
		for i := range from {
			d := from[i].code >> shift & mask
			to[count[d]] = from[i]
			count[d]++
		}
		from, to = to, from
	}
	if &from[0] != &a[0] {
		copy(a, from)
	}
}

func unionOf(b []Box) Box {
	u := b[0]
	for i := 1; i < len(b); i++ {
		u.include(&b[i])
	}
	return u
}

// include grows the box to hold c, which is not empty. Plain comparisons are several
// times as quick here as the built-in min and max, which look after NaN and signed zeros.
func (b *Box) include(c *Box) {
	if c.Lo.X < b.Lo.X {
		b.Lo.X = c.Lo.X
	}
	if c.Lo.Y < b.Lo.Y {
		b.Lo.Y = c.Lo.Y
	}
	if c.Lo.Z < b.Lo.Z {
		b.Lo.Z = c.Lo.Z
	}
	if c.Hi.X > b.Hi.X {
		b.Hi.X = c.Hi.X
	}
	if c.Hi.Y > b.Hi.Y {
		b.Hi.Y = c.Hi.Y
	}
	if c.Hi.Z > b.Hi.Z {
		b.Hi.Z = c.Hi.Z
	}
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
	found := x.join(limit)
	// Sort by i by counting, and the few of each i by j.
	start := make([]int32, len(x.boxes)+1)
	for _, p := range found {
		start[p.i+1]++
	}
	for i := 1; i < len(start); i++ {
		start[i] += start[i-1]
	}
	second := make([]int32, len(found))
	for _, p := range found {
		second[start[p.i]] = p.j
		start[p.i]++
	}
	lo := int32(0)
	for i := range x.boxes {
		hi := start[i]
		js := second[lo:hi]
		if len(js) > 1 {
			slices.Sort(js)
		}
		for _, j := range js {
			if !yield(i, int(j)) {
				return
			}
		}
		lo = hi
	}
}

type couple struct{ i, j int32 } // i < j

// outward is b grown by limit and by what rounding may take from that sum and from the
// difference of two sides, 2^-51 of what goes in: nothing that lies within limit is left out.
func outward(b Box, limit float64) Box {
	lo := func(v float64) float64 { return v - limit - 0x1p-51*(math.Abs(v)+limit) }
	hi := func(v float64) float64 { return v + limit + 0x1p-51*(math.Abs(v)+limit) }
	return Box{
		Lo: r3.Vector{X: lo(b.Lo.X), Y: lo(b.Lo.Y), Z: lo(b.Lo.Z)},
		Hi: r3.Vector{X: hi(b.Hi.X), Y: hi(b.Hi.Y), Z: hi(b.Hi.Z)},
	}
}

// join finds the pairs of boxes within limit of each other, in any order: every lowest
// node is held against all from itself on, so that one way down the tree serves all its
// items.
func (x *Index) join(limit float64) (found []couple) {
	n := int32(len(x.items))
	if n < 2 {
		return nil
	}
	limit2 := limit * limit
	top := int32(len(x.level) - 2)
	groups := (n + fanOut - 1) / fanOut
	type visit struct{ level, node int32 }
	var stack [fanOut * 20]visit
	for g := range groups {
		box := outward(x.tree[x.level[1]+g], limit)
		mine := x.tree[g*fanOut : min((g+1)*fanOut, n)]
		stack[0] = visit{top, x.level[top]}
		for depth := 1; depth > 0; {
			depth--
			v := stack[depth]
			if v.level > 1 {
				below := x.level[v.level-1]
				first := (v.node - x.level[v.level]) * fanOut
				last := min(first+fanOut, x.level[v.level]-below)
				// Nodes wholly before g have met it already.
				least := g >> (2 * (v.level - 2))
				for c := max(first, least); c < last; c++ {
					t := &x.tree[below+c]
					if t.Lo.X <= box.Hi.X && box.Lo.X <= t.Hi.X && t.Lo.Y <= box.Hi.Y && box.Lo.Y <= t.Hi.Y &&
						t.Lo.Z <= box.Hi.Z && box.Lo.Z <= t.Hi.Z {
						stack[depth] = visit{v.level - 1, below + c}
						depth++
					}
				}
				continue
			}
			h := v.node - x.level[1]
			for c := h * fanOut; c < min((h+1)*fanOut, n); c++ {
				t := &x.tree[c]
				if !(t.Lo.X <= box.Hi.X && box.Lo.X <= t.Hi.X && t.Lo.Y <= box.Hi.Y && box.Lo.Y <= t.Hi.Y &&
					t.Lo.Z <= box.Hi.Z && box.Lo.Z <= t.Hi.Z) {
					continue
				}
				for k := range mine {
					a := g*fanOut + int32(k)
					if a >= c {
						break
					}
					if d := mine[k].distance2(t); d > limit2 && d > 0 {
						continue
					}
					i, j := x.items[a], x.items[c]
					found = append(found, couple{min(i, j), max(i, j)})
				}
			}
		}
	}
	return found
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
			d = math.Sqrt(box.distance2(&x.tree[node]))
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
		d := box.distance2(&x.tree[c])
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
