package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// Pattern is a set of equal round holes evenly round a circle: the holes of a motor or of
// a board.
type Pattern struct {
	// Name is what the trade calls it: "30.5 mm square" where the holes are the corners of a
	// square of a usual board, "16 mm bolt circle" for a usual motor; for other sizes the
	// measure found, as a square for sets of four and as a bolt circle for others.
	Name   string
	Square float64  // side of the square in mm, nominal if Usual; 0 for a bolt circle
	Circle float64  // diameter of the circle through the holes, mm; nominal if Usual
	Found  float64  // the same as measured
	Off    float64  // how far the worst hole lies from its place in the pattern as named, mm
	Usual  bool     // one of the sizes that boards and motors have
	Center r2.Point // mm
	Turn   s1.Angle // of the side of a square, or of the direction of the first hole, against x: [0, 90°) for four holes
	Holes  []string // names, counter-clockwise
}

// The usual sizes: sides of the squares of flight controllers, speed controllers and video
// transmitters, and bolt circles of motors, in mm.
func usualSquares() []float64 { return []float64{16, 20, 25.5, 30.5} }
func usualCircles() []float64 { return []float64{6.6, 9, 12, 16, 19, 25} }

// Limits of the search.
const (
	maxPatternHoles = 400  // round holes of a part; more are a lattice, not a pattern
	sameDiameter    = 0.15 // mm: holes of one pattern differ by no more
	mostOdd         = 45   // mm: a set that is no usual one is named up to this circle
	leastCircle     = 4    // mm
)

// findPatterns names the bolt circles and squares among the holes. Each hole belongs to at
// most one: usual sizes come first, then the better fit.
func findPatterns(holes []Hole) []Pattern {
	var found []Pattern
	for _, c := range candidates(holes) {
		if p, ok := c.name(holes); ok {
			found = append(found, p)
		}
	}
	slices.SortStableFunc(found, func(a, b Pattern) int {
		rank := func(p Pattern) int {
			if p.Usual {
				return 0
			}
			return 1
		}
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(len(b.Holes), len(a.Holes)),
			cmp.Compare(math.Round(a.Off*1e4), math.Round(b.Off*1e4)), cmp.Compare(math.Round(a.Found*1e4), math.Round(b.Found*1e4)))
	})
	taken := map[string]bool{}
	var out []Pattern
	for _, p := range found {
		free := true
		for _, h := range p.Holes {
			free = free && !taken[h]
		}
		if !free {
			continue
		}
		for _, h := range p.Holes {
			taken[h] = true
		}
		out = append(out, p)
	}
	key := func(v float64) float64 { return math.Round(v * 100) }
	slices.SortStableFunc(out, func(a, b Pattern) int {
		return cmp.Or(cmp.Compare(key(b.Center.Y), key(a.Center.Y)), cmp.Compare(key(a.Center.X), key(b.Center.X)),
			cmp.Compare(key(a.Found), key(b.Found)))
	})
	return out
}

// candidate is a set of holes near the corners of a regular polygon, counter-clockwise.
type candidate struct{ holes []int }

// candidates finds sets of 3, 4 and 6 equal round holes: any two give, as neighbours (of
// three) or as opposites (of four and six), where the others must be.
func candidates(holes []Hole) []candidate {
	var round []int
	for i := range holes {
		if holes[i].Round() {
			round = append(round, i)
		}
	}
	if len(round) < 3 || len(round) > maxPatternHoles {
		return nil
	}
	slices.SortStableFunc(round, func(i, j int) int { return cmp.Compare(holes[i].Center.X, holes[j].Center.X) })
	find := func(like int, at r2.Point, reach float64) int {
		k, _ := slices.BinarySearchFunc(round, at.X-reach, func(i int, x float64) int { return cmp.Compare(holes[i].Center.X, x) })
		best, least := -1, reach
		for ; k < len(round) && holes[round[k]].Center.X <= at.X+reach; k++ {
			h := &holes[round[k]]
			if d := h.Center.Sub(at).Norm(); d <= least && math.Abs(h.Diameter-holes[like].Diameter) <= sameDiameter {
				best, least = round[k], d
			}
		}
		return best
	}
	var out []candidate
	seen := map[string]bool{}
	try := func(i, j, n int, center r2.Point) {
		v := holes[i].Center.Sub(center)
		c := candidate{}
		for k := range n {
			sn, cs := sinCosDeg(360 * float64(k) / float64(n))
			at := r2.Point{X: center.X + float64(cs*v.X) - float64(sn*v.Y), Y: center.Y + float64(sn*v.X) + float64(cs*v.Y)}
			h := find(i, at, 4*PatternTolerance)
			if h < 0 || slices.Contains(c.holes, h) {
				return
			}
			c.holes = append(c.holes, h)
		}
		// Start with the least index, so that a set is kept once.
		first := slices.Index(c.holes, slices.Min(c.holes))
		c.holes = append(c.holes[first:], c.holes[:first]...)
		key := fmt.Sprint(c.holes)
		if !seen[key] {
			seen[key] = true
			out = append(out, c)
		}
	}
	for x, i := range round {
		for _, j := range round[x+1:] {
			a, b := holes[i].Center, holes[j].Center
			d := b.Sub(a)
			n := d.Norm()
			if n < leastCircle/2 || math.Abs(holes[i].Diameter-holes[j].Diameter) > sameDiameter {
				continue
			}
			m := a.Add(b).Mul(0.5)
			try(i, j, 4, m)
			try(i, j, 6, m)
			// The third corner on either side: the centre is half the height, n/(2√3), away.
			up := r2.Point{X: -d.Y, Y: d.X}.Mul(1 / (2 * math.Sqrt(3)))
			try(i, j, 3, m.Add(up))
			try(i, j, 3, m.Sub(up))
		}
	}
	return out
}

// fit returns centre, radius and turn (of the first hole) of the regular polygon nearest to
// the holes.
func (c candidate) fit(holes []Hole) (center r2.Point, r, turn float64) {
	at := make([]r2.Point, len(c.holes))
	for k, i := range c.holes {
		at[k] = holes[i].Center
	}
	center, r, a := geom.FitRegular(at)
	return center, r, a.Radians()
}

// worst returns how far a hole lies from its place if the polygon has the radius r.
func (c candidate) worst(holes []Hole, center r2.Point, r, turn float64) float64 {
	off := 0.0
	for k, i := range c.holes {
		sn, cs := math.Sincos(turn + 2*math.Pi*float64(k)/float64(len(c.holes)))
		off = max(off, holes[i].Center.Sub(center).Sub(r2.Point{X: r * cs, Y: r * sn}).Norm())
	}
	return off
}

// name turns a candidate into a pattern, if it is a usual one or a small even one.
func (c candidate) name(holes []Hole) (Pattern, bool) {
	center, r, turn := c.fit(holes)
	n := len(c.holes)
	p := Pattern{Center: center, Circle: 2 * r, Off: math.Inf(1)}
	for _, i := range c.holes {
		p.Holes = append(p.Holes, holes[i].Name)
	}
	usual := func(circle, square float64, name string) {
		if off := c.worst(holes, center, circle/2, turn); off <= PatternTolerance && off < p.Off {
			p.Circle, p.Square, p.Off, p.Name, p.Usual = circle, square, off, name, true
			p.Found = 2 * r
			if square > 0 {
				p.Found = math.Sqrt2 * r
			}
		}
	}
	if n == 4 {
		for _, s := range usualSquares() {
			usual(s*math.Sqrt2, s, fmt.Sprintf("%g mm square", s))
		}
	}
	for _, d := range usualCircles() {
		usual(d, 0, fmt.Sprintf("%g mm bolt circle", d))
	}
	if !p.Usual {
		p.Found, p.Off = 2*r, c.worst(holes, center, r, turn)
		p.Name = fmt.Sprintf("%.2f mm bolt circle", p.Circle)
		if n == 4 {
			p.Square = math.Sqrt2 * r
			p.Found = p.Square
			p.Name = fmt.Sprintf("%.2f mm square", p.Square)
		}
		if p.Off > PatternTolerance || 2*r > mostOdd || 2*r < leastCircle {
			return p, false
		}
	}
	if p.Square > 0 {
		turn += math.Pi / 4 // of the sides
	}
	step := 2 * math.Pi / float64(n)
	turn = math.Mod(turn, step)
	if turn < 0 {
		turn += step
	}
	if step-turn < 1e-9 {
		turn = 0
	}
	p.Turn = s1.Angle(turn)
	return p, true
}
