package route

import (
	"errors"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// A blame is why there was no way on a level.
type blame struct {
	level int
	err   error
}

// blocked names the gap that lacks the least.
func (c *class) blocked(b Bundle, why []blame) *Blocked {
	best := &Blocked{At: [2]r2.Point{b.From.At, b.To.At}, Z: b.From.Z, Need: b.OD, Enclosed: true}
	lacks := math.Inf(1)
	for _, w := range why {
		var n *geom.NoWay
		if !errors.As(w.err, &n) {
			continue
		}
		if d := n.Need - n.Gap; !n.Solid && d < lacks || math.IsInf(lacks, 1) {
			l := c.levels[w.level]
			if !n.Solid {
				lacks = d
			}
			best = &Blocked{At: n.At, Z: l.z, Gap: n.Gap, Need: n.Need, Level: l.name, Enclosed: n.Solid,
				Of: [2]string{c.nameOf(l, n.Of[0]), c.nameOf(l, n.Of[1])}}
		}
	}
	return best
}

// nameOf returns the ID of an obstacle of a level's field.
func (c *class) nameOf(l *level, i int) string {
	first := 1
	if k, err := c.limits(l); err == nil {
		first = len(k)
	}
	if i -= first; i >= 0 && i < len(l.walls) {
		if t := l.walls[i].of; t.sheet {
			return c.space.Sheets[t.index].ID
		} else {
			return c.space.Solids[t.index].ID
		}
	}
	if l.sheet >= 0 {
		return c.space.Sheets[l.sheet].ID
	}
	return l.owner
}
