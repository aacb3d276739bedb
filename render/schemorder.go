package render

import (
	"cmp"
	"slices"
)

// order improves the order of the nodes in each layer, of the rows and plugs on each side of a
// node and of the wires on each pad, so that few wires cross: sweeps by barycentre from left
// to right and back (Sugiyama), then swaps of neighbours while they help. The best order
// seen is kept.
func (s *schematic) order() {
	best := s.snapshot()
	least := s.crossings()
	for range 12 {
		for _, toRight := range [2]bool{true, false} {
			s.sweep(toRight)
			s.swapNodes()
			if n := s.crossings(); n < least {
				least, best = n, s.snapshot()
			}
		}
		if least == 0 {
			break
		}
	}
	best.restore(s)
}

// far returns the other end of an end's link.
func (e *send) far() *send {
	if e.link.a == e {
		return e.link.b
	}
	return e.link.a
}

// endsOf lists the ends on one side of a layer from top to bottom.
func endsOf(layer []*snode, left bool) []*send {
	var out []*send
	for _, n := range layer {
		for _, g := range n.side(left) {
			for _, p := range g.pins {
				out = append(out, p.ends...)
			}
		}
	}
	return out
}

func (n *snode) side(left bool) []*sgroup {
	if left {
		return n.left
	}
	return n.right
}

// places numbers the ends on one side of a layer.
func places(layer []*snode, left bool) map[*send]int {
	out := map[*send]int{}
	for i, e := range endsOf(layer, left) {
		out[e] = i
	}
	return out
}

// sweep orders each layer by the one before it, from left to right or from right to left.
func (s *schematic) sweep(toRight bool) {
	for i := range s.layers {
		k := i
		if !toRight {
			k = len(s.layers) - 1 - i
		}
		prev := k - 1
		if !toRight {
			prev = k + 1
		}
		if prev < 0 || prev >= len(s.layers) {
			continue
		}
		at := places(s.layers[prev], !toRight)
		for _, n := range s.layers[k] {
			n.orderSide(toRight, at)
			n.follow(toRight)
		}
		slices.SortStableFunc(s.layers[k], func(a, b *snode) int {
			x, okA := a.middle(toRight, at)
			y, okB := b.middle(toRight, at)
			if !okA || !okB {
				return 0
			}
			return cmp.Compare(x, y)
		})
	}
}

// middle is the mean place of what the ends on one side of a node are joined to.
func (n *snode) middle(left bool, at map[*send]int) (float64, bool) {
	sum, count := 0.0, 0
	for _, g := range n.side(left) {
		m, c := g.middle(at)
		sum += m * float64(c)
		count += c
	}
	if count == 0 {
		return 0, false
	}
	return sum / float64(count), true
}

func (g *sgroup) middle(at map[*send]int) (float64, int) {
	sum, count := 0, 0
	for _, p := range g.pins {
		for _, e := range p.ends {
			sum += at[e.far()]
			count++
		}
	}
	if count == 0 {
		return 0, 0
	}
	return float64(sum) / float64(count), count
}

// orderSide orders the rows and plugs on one side of a node by what they are joined to, and the
// wires on each pad. A row that faces the other way round is turned, a plug is not.
func (n *snode) orderSide(left bool, at map[*send]int) {
	groups := n.side(left)
	for _, g := range groups {
		for _, p := range g.pins {
			slices.SortStableFunc(p.ends, func(a, b *send) int { return cmp.Compare(at[a.far()], at[b.far()]) })
		}
		switch {
		case n.comp == nil:
			slices.SortStableFunc(g.pins, func(a, b *spin) int { return cmp.Compare(at[a.ends[0].far()], at[b.ends[0].far()]) })
		case !g.plug && len(g.pins) > 1:
			first, last := g.pins[0], g.pins[len(g.pins)-1]
			if at[first.ends[0].far()] > at[last.ends[0].far()] {
				slices.Reverse(g.pins)
			}
		}
	}
	slices.SortStableFunc(groups, func(a, b *sgroup) int {
		x, _ := a.middle(at)
		y, _ := b.middle(at)
		return cmp.Compare(x, y)
	})
}

// follow gives the lanes on the other side of a node that is passed the order of this side.
func (n *snode) follow(left bool) {
	if n.comp != nil {
		return
	}
	from, to := n.left[0], n.right[0]
	if !left {
		from, to = to, from
	}
	slices.SortStableFunc(to.pins, func(a, b *spin) int {
		return cmp.Compare(from.laneOf(a.ends[0].link.wire), from.laneOf(b.ends[0].link.wire))
	})
}

func (g *sgroup) laneOf(w *swire) int {
	return slices.IndexFunc(g.pins, func(p *spin) bool { return p.ends[0].link.wire == w })
}

// crossings counts the pairs of links that change their order between two layers.
func (s *schematic) crossings() int {
	n := 0
	for k := range s.layers {
		n += s.crossingsAfter(k)
	}
	return n
}

// crossingsAfter counts between a layer and the next.
func (s *schematic) crossingsAfter(k int) int {
	if k < 0 || k+1 >= len(s.layers) {
		return 0
	}
	at := places(s.layers[k+1], true)
	var to []int
	for _, e := range endsOf(s.layers[k], false) {
		to = append(to, at[e.far()])
	}
	n := 0
	for i, a := range to {
		for _, b := range to[i+1:] {
			if a > b {
				n++
			}
		}
	}
	return n
}

// swapNodes exchanges neighbours within layers, and neighbouring rows and plugs within a side, while that saves
// crossings.
func (s *schematic) swapNodes() {
	for range 20 {
		better := false
		for k, layer := range s.layers {
			around := func() int { return s.crossingsAfter(k-1) + s.crossingsAfter(k) }
			better = swaps(layer, around) || better
			for _, n := range layer {
				better = swaps(n.left, around) || better
				better = swaps(n.right, around) || better
			}
		}
		if !better {
			return
		}
	}
}

// swaps exchanges neighbours of a list where that lowers the cost.
func swaps[T any](list []T, cost func() int) bool {
	better := false
	for i := 0; i+1 < len(list); i++ {
		before := cost()
		if before == 0 {
			return better
		}
		list[i], list[i+1] = list[i+1], list[i]
		if cost() < before {
			better = true
			continue
		}
		list[i], list[i+1] = list[i+1], list[i]
	}
	return better
}

// snapshot is an order to come back to.
type snapshot struct {
	layers [][]*snode
	sides  map[*snode][2][]*sgroup
	pins   map[*sgroup][]*spin
	ends   map[*spin][]*send
}

func (s *schematic) snapshot() snapshot {
	o := snapshot{sides: map[*snode][2][]*sgroup{}, pins: map[*sgroup][]*spin{}, ends: map[*spin][]*send{}}
	for _, l := range s.layers {
		o.layers = append(o.layers, slices.Clone(l))
		for _, n := range l {
			o.sides[n] = [2][]*sgroup{slices.Clone(n.left), slices.Clone(n.right)}
			for _, side := range [2][]*sgroup{n.left, n.right} {
				for _, g := range side {
					o.pins[g] = slices.Clone(g.pins)
					for _, p := range g.pins {
						o.ends[p] = slices.Clone(p.ends)
					}
				}
			}
		}
	}
	return o
}

func (o snapshot) restore(s *schematic) {
	s.layers = o.layers
	for _, l := range s.layers {
		for _, n := range l {
			n.left, n.right = o.sides[n][0], o.sides[n][1]
			for _, side := range [2][]*sgroup{n.left, n.right} {
				for _, g := range side {
					g.pins = o.pins[g]
					for _, p := range g.pins {
						p.ends = o.ends[p]
					}
				}
			}
		}
	}
}
