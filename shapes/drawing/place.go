package drawing

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// Placement says which point of a part becomes the origin. A file's own origin is
// arbitrary.
type Placement struct {
	// By is "box" (the middle of the box), "centroid" (the centre of area), "pattern" (the
	// centre of a hole pattern), "hole" (the centre of a hole) or "file" (as drawn). Empty: box.
	By string

	// Name is that of the hole ("hole 3") or of the pattern ("30.5 mm square"). Of several
	// patterns of one name "30.5 mm square 2" is the second of the list. Empty: the first.
	Name string

	// Straight turns the part so that the sides of the pattern lie along x and y.
	Straight bool

	// Turn is applied last, counter-clockwise, about the new origin.
	Turn s1.Angle
}

// Place returns the motion that takes the part to its place; apply it with
// [geom.Region.Transform]. It fails if the part has no such hole or pattern, or if the
// outline that a box or centroid needs is not closed.
func (p *Part) Place(w Placement) (geom.Pose2, error) {
	var at r2.Point
	straight := s1.Angle(0)
	switch w.By {
	case "file":
	case "", "box":
		at = p.Box().Center()
	case "centroid":
		if !p.Closed() {
			return geom.Pose2{}, fault("", 0, p.Name+" has no centre of area: its outline is not closed", "box, pattern or hole", "")
		}
		at = p.Region().Moments().Centroid
	case "hole":
		name := w.Name
		if name == "" {
			name = "hole 1"
		}
		h := p.Hole(name)
		if h == nil {
			return geom.Pose2{}, fault("", 0, fmt.Sprintf("%s has no hole %q", p.Name, name),
				fmt.Sprintf("hole 1 to hole %d", len(p.Holes)), "list the part's holes to see which is which")
		}
		at = h.Center
	case "pattern":
		q := p.Pattern(w.Name)
		if q == nil {
			var names []string
			for _, q := range p.Patterns {
				names = append(names, q.Name)
			}
			want := "one of: " + strings.Join(names, ", ")
			if len(names) == 0 {
				want = "box, centroid or hole: no pattern was recognised"
			}
			what := p.Name + " has no hole pattern"
			if w.Name != "" {
				what += fmt.Sprintf(" %q", w.Name)
			}
			return geom.Pose2{}, fault("", 0, what, want, "")
		}
		at = q.Center
		if w.Straight {
			straight = -q.Turn
		}
	default:
		return geom.Pose2{}, fault("", 0, fmt.Sprintf("%q is no way to place a part", w.By), "box, centroid, pattern, hole or file", "")
	}
	move := geom.Pose2{Shift: at.Mul(-1)}
	return move.Then(geom.Pose2{Turn: straight + w.Turn}), nil
}

// Pattern returns the pattern of that name, or nil: the first of several, or with a number
// behind the name that one. An empty name means the first of all.
func (p *Part) Pattern(name string) *Pattern {
	seen := map[string]int{}
	for i := range p.Patterns {
		q := &p.Patterns[i]
		seen[q.Name]++
		if name == "" || name == q.Name || name == fmt.Sprintf("%s %d", q.Name, seen[q.Name]) {
			return q
		}
	}
	return nil
}
