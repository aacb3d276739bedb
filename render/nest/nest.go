// Package nest lays copies of flat pieces out on sheets, so that each keeps a gap from
// every other and a margin from the sheet's edge.
//
// The way is that of bottom left: pieces are taken by area, the largest first, and each goes
// to the first sheet that has room, there to the place where its top lies lowest, of its
// turns the best. Places that are tried are beside the boxes of what lies there already and
// on a grid; from each the piece slides down and to the left as far as it goes. Boxes only
// propose places: whether a piece fits there is measured between the true shapes, so that
// pieces reach into each other's bays and windows. Nothing is left to chance: the same
// pieces come to lie the same way every time.
package nest

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// MaxCopies bounds the copies that are laid out in one call.
const MaxCopies = 250

// slack is what rounding may take from a gap or a margin, in mm.
const slack = 1e-9

// Piece is a shape to be cut, and how often.
type Piece struct {
	Name  string
	Shape geom.Region
	Count int
	Turns []int // degrees counter-clockwise by which it may lie; none: 0, 90, 180 and 270
}

// Sheet is what the pieces are cut from: its lower left corner is the origin. All in mm.
type Sheet struct {
	Width, Height float64 // along x, along y
	Margin        float64 // between any piece and the edge, at least 0
	Gap           float64 // between any two pieces, over 0
}

// Placed is one copy in its place.
type Placed struct {
	Piece int // index of the piece
	Copy  int // from 1
	Sheet int // from 0
	Turn  int // degrees
	Pose  geom.Pose2
}

// Result is what came of it.
type Result struct {
	Placed []Placed // by sheet, in the order in which they were laid
	Sheets int
	Left   []int // of each piece, the copies that no empty sheet takes
}

// Pack lays all copies of the pieces out on as many sheets as they need. A copy that does
// not fit on an empty sheet is left over. It fails if the sheet has no size or no gap, if a
// piece is empty, or for more than [MaxCopies] copies.
func Pack(pieces []Piece, s Sheet) (Result, error) {
	res := Result{Left: make([]int, len(pieces))}
	if !(s.Width > 0 && s.Height > 0 && s.Gap > 0 && s.Margin >= 0) || math.IsInf(s.Width+s.Height+s.Gap+s.Margin, 0) {
		return res, fmt.Errorf("a sheet of %g x %g mm with a gap of %g and a margin of %g is none", s.Width, s.Height, s.Gap, s.Margin)
	}
	copies := 0
	all := make([][]*turned, len(pieces))
	order := make([]int, len(pieces))
	area := make([]float64, len(pieces))
	shapes := 0
	for i, p := range pieces {
		if p.Shape.IsEmpty() {
			return res, fmt.Errorf("%q has no shape", p.Name)
		}
		// Counts are added with care: they may be anything.
		if p.Count < 0 || p.Count > MaxCopies || copies+p.Count > MaxCopies {
			return res, fmt.Errorf("more than %d pieces are to be laid out", MaxCopies)
		}
		copies += p.Count
		all[i] = turnsOf(p, &shapes)
		order[i], area[i] = i, p.Shape.Area()
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(area[b], area[a]), cmp.Compare(pieces[a].Name, pieces[b].Name))
	})
	var sheets []*sheet
	for _, i := range order {
		for n := range pieces[i].Count {
			at := -1
			var best *laid
			for k := 0; k <= len(sheets) && best == nil; k++ {
				on := (*sheet)(nil)
				if k < len(sheets) {
					on = sheets[k]
				} else {
					on = &sheet{Sheet: s, resume: make([]int, shapes)}
				}
				if best = on.best(all[i]); best != nil {
					if k == len(sheets) {
						sheets = append(sheets, on)
					}
					on.add(*best)
					at = k
				}
			}
			if best == nil {
				res.Left[i] = pieces[i].Count - n
				break
			}
			pose := best.t.pose.Then(geom.Pose2{Shift: best.at})
			res.Placed = append(res.Placed, Placed{Piece: i, Copy: n + 1, Sheet: at, Turn: best.t.degrees, Pose: pose})
		}
	}
	res.Sheets = len(sheets)
	slices.SortStableFunc(res.Placed, func(a, b Placed) int { return cmp.Compare(a.Sheet, b.Sheet) })
	return res, nil
}

// turned is a piece turned, its box in the corner of the axes.
type turned struct {
	shape   *geom.Prepared
	size    r2.Point // of its box
	pose    geom.Pose2
	degrees int
	number  int // among all turned pieces
}

func turnsOf(p Piece, number *int) []*turned {
	turns := p.Turns
	if len(turns) == 0 {
		turns = []int{0, 90, 180, 270}
	}
	var out []*turned
	for _, d := range turns {
		turn := geom.Pose2{Turn: s1.Angle(d) * s1.Degree}
		pose := turn.Then(geom.Pose2{Shift: p.Shape.Transform(turn).Bound().Lo.Mul(-1)})
		t := &turned{shape: geom.Prepare(p.Shape.Transform(pose)), pose: pose, degrees: d, number: *number}
		t.size = t.shape.Bound().Size()
		out = append(out, t)
		*number++
	}
	return out
}
