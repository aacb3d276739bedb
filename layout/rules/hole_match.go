package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/layout"
	"dryfit/shapes"
)

// grommetGive is how much further a board in rubber grommets can be pulled to its
// screws, mm: the low end of the 0.3 to 0.5 that builders count on.
const grommetGive = 0.3

var holeMatch = &Rule{
	Name:     "hole-match",
	Group:    "stack",
	Question: "do board holes, plate holes and screws of a stack agree",
	Why:      "A 20 board does not go on a 30.5 plate, a 25.5 one not on 26.5; or the pattern agrees and the screw does not go through the hole.",
	Need:     "The play of the screw in both holes, (plate hole − screw)/2 + (board hole − screw)/2, plus 0.3 mm where a grommet gives, must cover the distance between the hole centres and the position error of both parts.",
	How:      "At each corner of the pattern: the distance from the board's hole to the nearest hole of each plate that the screws pass, in mm, against the play. Hole diameters and positions carry their tolerances.",
	Fix:      "Another pattern of holes, an adapter plate, a sleeve grommet, or re-drill.",
	Run:      runHoleMatch,
}

func runHoleMatch(p *Pass) {
	judged := 0
	for _, s := range p.Asm.Stacks {
		for _, b := range boardLevels(s) {
			if p.boardOnScrews(s, b) {
				judged++
			}
			if plate := plateOf(p.Asm, s.On); plate != nil && b.Component.Part.Square != nil {
				p.boardOnPlate(s, b, plate)
				judged++
			}
		}
	}
	if judged == 0 {
		p.Nothing("no stack holds a board with a hole pattern")
	}
}

// major returns the major diameter of a thread: the number in its name, "M3" is 3 mm.
func major(thread string) (float64, bool) {
	var d float64
	if n, err := fmt.Sscanf(thread, "M%g", &d); n != 1 || err != nil || d <= 0 {
		return 0, false
	}
	return d, true
}

// cornersOf returns the hole centres of a board in the body frame.
func cornersOf(c *layout.Component) []r2.Point {
	sq := c.Part.Square
	var out []r2.Point
	turn := sq.Turn * math.Pi / 180
	sin, cos := math.Sincos(turn)
	for i, q := range [][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		if sq.Count > 0 && i >= sq.Count {
			break
		}
		x, y := q[0]*sq.X.Value/2, q[1]*sq.Y.Value/2
		out = append(out, c.Pose.Apply(r2.Point{X: cos*x - sin*y, Y: sin*x + cos*y}))
	}
	return out
}

// boardOnScrews judges the board's own pattern and holes against the stack's screws.
func (p *Pass) boardOnScrews(s *layout.Stack, b *layout.Level) bool {
	sq := b.Component.Part.Square
	if sq == nil {
		p.Report(layout.Finding{
			Verdict: layout.Fail, Subjects: []string{b.Component.ID}, Pos: b.Component.Pos, Near: "stack " + s.Name,
			Message: fmt.Sprintf("%s has no hole pattern but sits on the screws of stack %s", b.Component.Label, s.Name),
			Fix:     "give the board a pattern (square: ...), or mount it with tape or foam under mounts:",
		})
		return true
	}
	d, ok := major(s.Screw)
	if !ok {
		return false
	}
	hole := sq.Hole
	if hole == nil {
		hole = &shapes.Dim{Name: b.Component.Label + " hole", Missing: true, Unit: shapes.MM, Source: shapes.Assumed}
	}
	if b.Grommet != nil && b.Grommet.Grommet != nil && b.Grommet.Grommet.Bore != nil {
		p.grommetInHole(s, b, hole)
		hole = b.Grommet.Grommet.Bore
	}
	worst, at := 0.0, r2.Point{}
	for _, c := range cornersOf(b.Component) {
		near := math.Inf(1)
		for _, sc := range s.Screws {
			near = math.Min(near, sc.At.Sub(c).Norm())
		}
		if near > worst || at == (r2.Point{}) {
			worst, at = math.Max(worst, near), c
		}
	}
	play := layout.Form{Const: -d / 2}.Plus(hole, 0.5)
	if b.Grommet != nil {
		play = play.Shift(grommetGive)
	}
	play = play.Plus(sq.Place, -1)
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{b.Component.ID}, Pos: b.Component.Pos, HasPlace: true,
		A: r3.Vector{X: at.X, Y: at.Y, Z: b.FaceUp.Nominal()}, B: r3.Vector{X: at.X, Y: at.Y, Z: b.FaceUp.Nominal()},
		Near: "stack " + s.Name,
	}.Judge(play, layout.Fixed(worst))
	f.Message = fmt.Sprintf("%s: hole pattern %s on the stack's %s, %s screws in %.4g mm holes: off by %.2f mm, play %.2f mm",
		b.Component.Label, side(sq), side(s.Pattern), s.Screw, hole.Value, worst, f.Measured)
	if f.Verdict == layout.Fail && worst > 0.5 {
		f.Fix = fmt.Sprintf("use a board on %s holes, or an adapter plate", side(s.Pattern))
	} else {
		f.Fix = holeFix(&f, "the holes of "+b.Component.Label, hole.Value)
	}
	p.Report(f)
	return true
}

// grommetInHole judges whether the grommet's groove goes into the board's hole.
func (p *Pass) grommetInHole(s *layout.Stack, b *layout.Level, hole *shapes.Dim) {
	g := b.Grommet.Grommet
	if g.BoardHole == nil {
		return
	}
	// Rubber goes into a hole that is up to a tenth smaller than its groove was made for,
	// and rattles in one that is more than that larger.
	off := math.Abs(hole.Value - g.BoardHole.Value)
	give := math.Max(0.1*g.BoardHole.Value, math.Max(g.BoardHole.Plus, g.BoardHole.Minus))
	v := layout.Finding{
		Unit: shapes.MM, AtMost: true, Subjects: []string{b.Component.ID}, Pos: b.Component.Pos, Near: "stack " + s.Name,
	}.Judge(layout.Fixed(off), layout.Fixed(give))
	v.Message = fmt.Sprintf("%s: a %s for %.4g mm holes sits in a %.4g mm hole", b.Component.Label, b.Grommet.Name, g.BoardHole.Value, hole.Value)
	if v.Verdict == layout.Fail {
		v.Fix = fmt.Sprintf("use a grommet made for %.4g mm holes", hole.Value)
	}
	p.Report(v)
}

// boardOnPlate judges the board's holes against those of the plate that it stands on.
func (p *Pass) boardOnPlate(s *layout.Stack, b *layout.Level, plate *layout.Plate) {
	d, ok := major(s.Screw)
	if !ok {
		return
	}
	sq := b.Component.Part.Square
	corners := cornersOf(b.Component)
	// The corner that is off most decides: the four screws go in together.
	worst, at := -1.0, r2.Point{}
	var hole *layout.Hole
	for _, c := range corners {
		h, off := nearestHole(plate, c)
		if h == nil {
			worst = math.Inf(1)
			break
		}
		if off > worst {
			worst, at, hole = off, c, h
		}
	}
	f := layout.Finding{
		Unit: shapes.MM, Subjects: []string{b.Component.ID, plate.ID}, Pos: b.Component.Pos,
		Near: fmt.Sprintf("stack %s on plate %s", s.Name, plate.Name),
	}
	if hole == nil || math.IsInf(worst, 1) {
		f.Verdict = layout.Fail
		f.Message = fmt.Sprintf("plate %s has no holes for %s", plate.Name, b.Component.Label)
		f.Fix = fmt.Sprintf("add to its holes: {for: stacks.%s}", s.Name)
		p.Report(f)
		return
	}
	bore := sq.Hole
	if b.Grommet != nil && b.Grommet.Grommet != nil && b.Grommet.Grommet.Bore != nil {
		bore = b.Grommet.Grommet.Bore
	}
	play := layout.Form{Const: -d}.Plus(hole.Diameter, 0.5).Plus(bore, 0.5).
		Plus(plate.HoleTol, -0.5).Plus(plate.PlaceTol, -1).Plus(sq.Place, -1)
	if b.Grommet != nil {
		play = play.Shift(grommetGive)
	}
	f.HasPlace = true
	f.A = r3.Vector{X: at.X, Y: at.Y, Z: plate.Top.Nominal()}
	f.B = r3.Vector{X: hole.At.X, Y: hole.At.Y, Z: plate.Top.Nominal()}
	f = f.Judge(play, layout.Fixed(worst))
	f.Message = fmt.Sprintf("%s holes of %s and the nearest holes of plate %s are %.2f mm off centre, %s screws have %.2f mm of play",
		side(sq), b.Component.Label, plate.Name, worst, s.Screw, f.Measured)
	switch {
	case hole.Diameter != nil && hole.Diameter.Value < d:
		f.Verdict = layout.Fail
		f.Message = fmt.Sprintf("%s screws do not go through the %.4g mm holes of plate %s under %s", s.Screw, hole.Diameter.Value, plate.Name, b.Component.Label)
		f.Fix = fmt.Sprintf("drill %s to %.4g mm", hole.Name, d+0.2)
	case f.Verdict == layout.Fail && worst > 0.5:
		f.Fix = fmt.Sprintf("add to the holes of plate %s: {for: stacks.%s}, or use a board on its pattern", plate.Name, s.Name)
	default:
		f.Fix = holeFix(&f, "the holes of plate "+plate.Name, hole.Diameter.Value)
	}
	p.Report(f)
}

// nearestHole returns the round hole of the plate nearest to a point and how far their
// centres are apart; nil if the plate has none.
func nearestHole(plate *layout.Plate, at r2.Point) (*layout.Hole, float64) {
	var best *layout.Hole
	dist := math.Inf(1)
	for i := range plate.Holes {
		h := &plate.Holes[i]
		if h.Length > 0 || h.Diameter == nil {
			continue
		}
		if d := h.At.Sub(at).Norm(); d < dist-1e-9 {
			best, dist = h, d
		}
	}
	return best, dist
}

// side names a square pattern by its side, in the words of the trade.
func side(sq *shapes.SquarePattern) string {
	if sq == nil || sq.X == nil {
		return "unknown"
	}
	if sq.Y == nil || sq.Y == sq.X || math.Abs(sq.X.Value-sq.Y.Value) < 1e-9 {
		return fmt.Sprintf("%.4g", sq.X.Value)
	}
	return fmt.Sprintf("%.4g by %.4g", sq.X.Value, sq.Y.Value)
}

func holeFix(f *layout.Finding, what string, now float64) string {
	if f.Verdict != layout.Fail && f.Verdict != layout.Tight {
		return unknownFix(f)
	}
	return fmt.Sprintf("drill %s to %s in place of %.4g", what, mm(up(now-2*f.Worst, 0.05)), now)
}
