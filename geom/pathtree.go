package geom

import (
	"errors"

	"github.com/golang/geo/r2"
)

// A Tree joins several terminals by paths.
type Tree struct {
	Paths  []Path
	Ends   [][2]int // the terminals that each path joins, the first of them joined before
	Length float64  // mm
}

// Tree joins the terminals by shortest paths between pairs of them, of least total length:
// a minimum spanning tree of the paths' lengths (Prim 1957). No branching off between
// terminals is tried, so a net with such branches may be shorter: the tree is at most
// 2 - 2/k times as long as the shortest net of k terminals (Kou, Markowsky, Berman 1981). It
// asks for k(k-1)/2 paths; opt.Via applies to none and must be empty.
//
// One terminal or none gives the empty tree. Where no tree is possible it fails with the
// [*NoWay], or other error of [Field.Path], between the first terminal that cannot be
// joined and terminal 0.
func (f *Field) Tree(terminals []r2.Point, opt PathOptions) (Tree, error) {
	if len(opt.Via) > 0 {
		return Tree{}, &Failure{Op: "path", At: opt.Via[0], Why: "a tree has no waypoints"}
	}
	if len(terminals) == 0 {
		return Tree{}, nil
	}
	if err := f.check(terminals, opt.Bend); err != nil {
		return Tree{}, err
	}
	n := len(terminals)
	in := make([]bool, n)
	best := make([]Path, n) // the shortest way to the tree so far
	from := make([]int, n)  // where it begins, -1 if there is none yet
	why := make([]error, n)
	for i := range from {
		from[i] = -1
	}
	var t Tree
	last := 0
	in[0] = true
	for range n - 1 {
		next := -1
		for i := range terminals {
			if in[i] {
				continue
			}
			p, err := f.Path(terminals[last], terminals[i], opt)
			switch {
			case err != nil && !isShut(err):
				return Tree{}, err
			case err != nil && why[i] == nil:
				why[i] = err
			case err == nil && (from[i] < 0 || p.Length < best[i].Length):
				best[i], from[i] = p, last
			}
			if from[i] >= 0 && (next < 0 || best[i].Length < best[next].Length) {
				next = i
			}
		}
		if next < 0 {
			for i := range terminals {
				if !in[i] {
					return Tree{}, why[i]
				}
			}
		}
		in[next] = true
		t.Paths = append(t.Paths, best[next])
		t.Ends = append(t.Ends, [2]int{from[next], next})
		t.Length += best[next].Length
		last = next
	}
	return t, nil
}

// isShut reports whether an error says that there is no path, rather than that the
// question is wrong.
func isShut(err error) bool {
	var n *NoWay
	var b *NoBend
	return errors.As(err, &n) || errors.As(err, &b)
}
