package route

import (
	"errors"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// enclosed says that no way leads out of an end.
func (c *class) enclosed(b *Bundle, e End, w *wall) *Blocked {
	k := &Blocked{At: [2]r2.Point{e.At, e.At}, Z: e.Z, Need: b.OD, Enclosed: true}
	if w != nil {
		k.Of = [2]string{c.name(w), c.name(w)}
	}
	return k
}

// name returns the ID of what a wall stands for.
func (c *class) name(w *wall) string {
	if w.of.sheet {
		return c.space.Sheets[w.of.index].ID
	}
	return c.space.Solids[w.of.index].ID
}

// blame says what stands in the way on a level.
func (c *class) blame(b *Bundle, l *level, err error) *Blocked {
	var n *geom.NoWay
	if !errors.As(err, &n) {
		return &Blocked{At: [2]r2.Point{b.From.At, b.To.At}, Z: l.z, Need: b.OD, Level: l.name, Enclosed: true}
	}
	k := &Blocked{At: n.At, Z: l.z, Gap: n.Gap, Need: n.Need, Level: l.name, Enclosed: n.Solid}
	for i, o := range n.Of {
		if o--; o >= 0 && o < len(l.walls) {
			k.Of[i] = c.name(l.walls[o])
		}
	}
	return k
}

// blocked says which gap would have to open.
func (s *search) blocked() *Blocked {
	return &Blocked{At: [2]r2.Point{s.b.From.At, s.b.To.At}, Z: s.b.From.Z, Need: s.b.OD, Enclosed: true}
}
