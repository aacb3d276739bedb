package render

import (
	"cmp"
	"math"
	"slices"
)

// Heights are counted in half rows of the grid, so that a layer can be moved off the rows of
// its neighbour.
const (
	rowHalves = 2
	nodeGap   = 2 // between nodes of a layer
)

// size returns the height of a node and sets the rows of its ends: a title, then on each side
// for each row or plug its name, if it is a plug, and its pads, each as often as wires leave it.
func (n *snode) size() int {
	top := 0
	if n.comp != nil {
		top = 1
	}
	most := top
	for _, side := range [2][]*sgroup{n.left, n.right} {
		at := top
		for _, g := range side {
			if g.plug {
				at++
			}
			for _, p := range g.pins {
				for _, e := range p.ends {
					e.row = at
					at++
				}
			}
		}
		most = max(most, at)
	}
	return most * rowHalves
}

// level is the middle of an end's row on the grid, in half rows.
func (e *send) level() int { return e.node.row + e.row*rowHalves + rowHalves/2 }

// stack gives every node its height on the grid, none overlapping, within most half rows if
// the fullest layer allows it: each as near as may be to where its wires would run straight.
// It returns the height used.
func (s *schematic) stack(most int) int {
	sizes := map[*snode]int{}
	for _, l := range s.layers {
		sum := -nodeGap
		for _, n := range l {
			sizes[n] = n.size()
			sum += sizes[n] + nodeGap
		}
		most = max(most, sum)
	}
	for _, l := range s.layers {
		at := 0
		for _, n := range l {
			n.row = at
			at += sizes[n] + nodeGap
		}
	}
	for pass := range 8 {
		for i := range s.layers {
			k := i
			if pass%2 == 1 {
				k = len(s.layers) - 1 - i
			}
			s.settle(s.layers[k], sizes, most, pass%2 == 0, pass < 4)
		}
	}
	low, high := math.MaxInt, 0
	for _, l := range s.layers {
		for _, n := range l {
			low, high = min(low, n.row), max(high, n.row+sizes[n])
		}
	}
	for _, l := range s.layers {
		for _, n := range l {
			n.row -= low
		}
	}
	return max(high-low, 0)
}

// settle moves the nodes of a layer towards the heights at which most of their wires run
// straight: those to the left, to the right or, if not only one side counts, both. The least
// sum of squares under a fixed order is found by pooling those that would overlap (Ayer et al.
// 1955, the pool-adjacent-violators algorithm).
func (s *schematic) settle(layer []*snode, sizes map[*snode]int, most int, left, oneSide bool) {
	type pool struct {
		sum, weight float64
		n           int
	}
	var pools []pool
	offset := 0
	for _, n := range layer {
		want, weight := n.wanted(left, oneSide)
		pools = append(pools, pool{(want - float64(offset)) * weight, weight, 1})
		for len(pools) > 1 {
			a, b := &pools[len(pools)-2], &pools[len(pools)-1]
			if a.sum/a.weight <= b.sum/b.weight {
				break
			}
			a.sum, a.weight, a.n = a.sum+b.sum, a.weight+b.weight, a.n+b.n
			pools = pools[:len(pools)-1]
		}
		offset += sizes[n] + nodeGap
	}
	room := float64(most - (offset - nodeGap))
	offset = 0
	i := 0
	for _, p := range pools {
		at := math.Max(0, math.Min(room, p.sum/p.weight))
		at = math.Round(at/rowHalves) * rowHalves
		for range p.n {
			layer[i].row = int(at) + offset
			offset += sizes[layer[i]] + nodeGap
			i++
		}
	}
}

// wanted is the height of a node's top at which as many as possible of its wires run straight
// or nearly so: the median over the wires.
func (n *snode) wanted(left, oneSide bool) (top, weight float64) {
	var tops []int
	for _, l := range [2]bool{left, !left} {
		for _, g := range n.side(l) {
			for _, p := range g.pins {
				for _, e := range p.ends {
					tops = append(tops, e.far().level()-(e.level()-n.row))
				}
			}
		}
		if oneSide && len(tops) > 0 {
			break
		}
	}
	if len(tops) == 0 {
		return float64(n.row), 0.1
	}
	slices.Sort(tops)
	return float64(tops[len(tops)/2]), float64(len(tops))
}

// channel lists the links between a layer and the next, from top to bottom on the left.
func (s *schematic) channel(k int) []*slink {
	var out []*slink
	for _, e := range endsOf(s.layers[k], false) {
		out = append(out, e.link)
	}
	return out
}

// assignTracks gives the upright part of each link a track of its own, so that no two wires
// lie on each other and few cross, and returns how many tracks each channel has. Where two
// wires would change places on the same rows, which no order of tracks allows, the layers to
// the right move down by half a row.
func (s *schematic) assignTracks() []int {
	var counts []int
	for k := 0; k+1 < len(s.layers); k++ {
		links := s.channel(k)
		order, ok := trackOrder(links)
		if !ok {
			for _, l := range s.layers[k+1:] {
				for _, n := range l {
					n.row++
				}
			}
			order, _ = trackOrder(links)
		}
		counts = append(counts, compact(order))
	}
	return counts
}

// straight reports whether a link needs no upright part.
func (l *slink) straight() bool { return l.a.level() == l.b.level() }

// span returns the heights between which a link's upright part runs.
func (l *slink) span() (lo, hi int) {
	return min(l.a.level(), l.b.level()), max(l.a.level(), l.b.level())
}

// barred is the cost of an order in which two wires would lie on each other.
const barred = 1000

// orderCost counts the crossings of two links when the track of i lies left of that of j.
func orderCost(i, j *slink) int {
	n := 0
	lo, hi := i.span()
	if y := j.a.level(); lo < y && y < hi {
		n++
	}
	lo, hi = j.span()
	if y := i.b.level(); lo < y && y < hi {
		n++
	}
	if i.b.level() == j.a.level() {
		n += barred
	}
	return n
}

// trackOrder orders the links that need a track from left to right with few crossings; ok is
// false where two lie on each other in every order that was looked at.
func trackOrder(links []*slink) (order []*slink, ok bool) {
	for _, l := range links {
		if !l.straight() {
			order = append(order, l)
		}
	}
	// Those that go down from below, then those that go up from above: neighbours nest.
	slices.SortStableFunc(order, func(a, b *slink) int {
		down := func(l *slink) bool { return l.b.level() > l.a.level() }
		if down(a) != down(b) {
			return cmp.Compare(b2i(!down(a)), b2i(!down(b)))
		}
		if down(a) {
			return cmp.Compare(b.a.level(), a.a.level())
		}
		return cmp.Compare(a.a.level(), b.a.level())
	})
	for range 30 {
		better := false
		for i := range order {
			better = moveBest(order, i) || better
		}
		if !better {
			break
		}
	}
	for i, a := range order {
		for _, b := range order[i+1:] {
			if orderCost(a, b) >= barred {
				return order, false
			}
		}
	}
	return order, true
}

// moveBest moves one link to the place in the order where it costs least, and reports whether
// that saved anything.
func moveBest(order []*slink, i int) bool {
	l := order[i]
	best, gain := i, 0
	sum := 0
	for k := i + 1; k < len(order); k++ { // to the right
		sum += orderCost(order[k], l) - orderCost(l, order[k])
		if sum < gain {
			best, gain = k, sum
		}
	}
	sum = 0
	for k := i - 1; k >= 0; k-- {
		sum += orderCost(l, order[k]) - orderCost(order[k], l)
		if sum < gain {
			best, gain = k, sum
		}
	}
	for ; i < best; i++ {
		order[i], order[i+1] = order[i+1], order[i]
	}
	for ; i > best; i-- {
		order[i], order[i-1] = order[i-1], order[i]
	}
	return gain < 0
}

// compact lets links whose upright parts are apart share a track, keeps the order of all others,
// and returns the number of tracks.
func compact(order []*slink) int {
	count := 0
	for i, l := range order {
		l.track = 0
		lo, hi := l.span()
		for _, o := range order[:i] {
			if a, b := o.span(); a <= hi && b >= lo {
				l.track = max(l.track, o.track+1)
			}
		}
		count = max(count, l.track+1)
	}
	return count
}
