package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/shapes"
)

// grommetGive is how far a board in rubber grommets can be pulled to its screws, mm: the
// low end of the 0.3 to 0.5 that builders count on.
const grommetGive = 0.3

// How much of a hole that comes out too narrow a screw makes up for, mm of diameter. Screws
// of tolerance 6g are at most 0.02 under their name (ISO 965-1: M2 1.981, M3 2.980). A metal
// one that is turned through a plate cuts 0.05 of it: holes drawn 0.05 over the screw are
// used with success, though small ones come out up to 0.1 under their size.
const (
	thinScrew = 0.02
	cutsPlate = 0.05
)

// patternShare is how much of the position error of a part's holes counts between holes of
// one pattern: they are made in one clamping, and what they err together moves the board
// and no more.
const patternShare = 0.5

var holeMatch = &Rule{
	Name:     "hole-match",
	Group:    "stack",
	Question: "do board holes, plate holes and screws of a stack agree",
	Why:      "A 20 board does not go on a 30.5 plate, a 25.5 one not on 26.5; or the pattern agrees and the screw does not go through the hole.",
	Need:     "The play of the screw in both holes, (plate hole − screw)/2 + (board hole − screw)/2, must cover the distance between the hole centres and what the holes of one pattern err against each other: half of the position error of both parts, 0.05 mm each, since the rest moves the whole board. A screw makes up for 0.02 mm of a hole that comes out too narrow, being thinner than its name (ISO 965-1, 6g), and a metal one for 0.05 mm more of plate, which it cuts. In a grommet the rubber gives 0.3 mm in place of the board hole's play; it goes into holes a tenth narrower or wider than it was made for.",
	How:      "At each corner of the pattern: from the board's hole to the nearest hole or slot of each plate that the screws pass, in mm. Holes more than twice as wide as the screw hold none. Diameters and positions carry their tolerances. A board on another pattern than its stack's is told once.",
	Fix:      "Another pattern of holes, an adapter plate, a sleeve grommet, or re-drill.",
	Run:      runHoleMatch,
}

func runHoleMatch(p *Pass) {
	judged := 0
	for _, s := range p.Asm.Stacks {
		judged += p.matchStack(s)
	}
	if judged == 0 {
		p.Nothing("no stack holds a board with a hole pattern")
	}
}

// matchStack judges the boards and plates of one stack and returns on how many boards it
// had something to say.
func (p *Pass) matchStack(s *layout.Stack) (judged int) {
	d := screwSize(s.Screw)
	groups := p.pierced(s)
	bare := make([]bool, len(groups)) // plates told to have no holes: once is enough for all boards
	for _, b := range boardLevels(s) {
		if b.Component.Part.Square == nil {
			continue
		}
		judged++
		f := layout.Finding{Subjects: []string{b.Component.ID, s.On}, Pos: b.Component.Pos, Near: "stack " + spoken(s.Name)}
		if d <= 0 {
			f.Verdict = layout.Unknown
			f.Missing = []*shapes.Dim{known(nil, "screw size of stack "+s.Name)}
			f.Message = fmt.Sprintf("whether %s goes on its screws hangs on their size, which is missing", p.call(b.Component.ID))
			f.Fix = "say the stack's screw, such as M3"
			p.Report(f)
			continue
		}
		if !p.boardHoles(f, b, s.Screw, d) || !p.boardOnPattern(f, s, b, d) {
			continue
		}
		for i, group := range groups {
			p.boardOnPlate(f, s, b, group, d, &bare[i])
		}
	}
	if judged > 0 && d > 0 {
		for _, group := range groups {
			p.screwsThrough(s, group, d)
		}
	}
	return judged
}

// cornersOf returns the hole centres of a board in the body frame. A pattern of three
// leaves out the right rear corner.
func cornersOf(c *layout.Component) []r2.Point {
	sq := c.Part.Square
	sin, cos := math.Sincos(sq.Turn * math.Pi / 180)
	var out []r2.Point
	for i, q := range [][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		if sq.Count == 3 && i == 2 {
			continue
		}
		x, y := q[0]*known(sq.X, "").Value/2, q[1]*known(sq.Y, "").Value/2
		out = append(out, c.Pose.Apply(r2.Point{X: cos*x - sin*y, Y: sin*x + cos*y}))
	}
	return out
}

// sideError is how far a hole may lie off its corner because the side of the pattern is
// not exact, as terms of nominal 0: half the error in x and half the error in y.
func sideError(sq *shapes.SquarePattern, name string) (out layout.Form) {
	share := 0.5
	sides := []*shapes.Dim{known(sq.X, name+" hole side"), known(sq.Y, name+" hole side")}
	if sq.X == sq.Y || sq.Y == nil {
		sides, share = sides[:1], math.Sqrt2/2
	}
	for _, s := range sides {
		if most := math.Max(s.Plus, s.Minus); most > 0 || s.Missing {
			e := *s
			e.Value, e.Plus, e.Minus = 0, most, most
			out = out.Plus(&e, share)
		}
	}
	return out
}

// holePlay is the play of a screw of d mm in a board's holes: none in rubber, which sits
// tight on the screw and gives. Whether it goes through at all is told by itself.
func holePlay(b *layout.Level, d float64) layout.Form {
	if b.Grommet != nil {
		return layout.Fixed(grommetGive)
	}
	return playIn(known(b.Component.Part.Square.Hole, b.Component.Label+" hole"), d, thinScrew)
}

// playIn is half of what a hole is wider than a screw of d mm, none in one that is too
// narrow for it; made is how much of a narrow one the screw makes up for.
func playIn(hole *shapes.Dim, d, made float64) layout.Form {
	if hole.Value < d && !hole.Missing {
		return layout.Form{}
	}
	return layout.Fixed(-d/2).Plus(forced(hole, made), 0.5)
}

// forced is a hole whose shortfall a screw makes up for by so much.
func forced(hole *shapes.Dim, made float64) *shapes.Dim {
	if hole.Missing {
		return hole
	}
	c := *hole
	c.Minus = math.Max(0, c.Minus-made)
	return &c
}

// throughPlate is how much of a plate hole that comes out too narrow the screws of a stack
// make up for.
func (p *Pass) throughPlate(s *layout.Stack) float64 {
	for _, j := range p.Asm.Joints {
		if p.stackOf(j) == s && !j.Own && j.Material == "nylon" {
			return thinScrew
		}
	}
	return thinScrew + cutsPlate
}

// boardHoles judges the board's own holes: whether the screws go through, or whether the
// grommets sit in them; false if that hangs on a dimension that is missing, as would all
// the rest.
func (p *Pass) boardHoles(f layout.Finding, b *layout.Level, screw string, d float64) bool {
	name := p.call(b.Component.ID)
	hole := known(b.Component.Part.Square.Hole, b.Component.Label+" hole")
	at := lift(cornersOf(b.Component)[0], b.FaceUp.Nominal())
	f.HasPlace, f.A, f.B = true, at, at
	if b.Grommet == nil {
		f = f.Judge(layout.Of(forced(hole, thinScrew)), layout.Fixed(d))
		f.Message = fmt.Sprintf("%s screws go through the %s holes of %s", screw, mm(hole.Value), name)
		if f.Margin < 0 {
			f.Message = fmt.Sprintf("%s screws do not go through the %s holes of %s", screw, mm(hole.Value), name)
		}
		if mustMend(&f) {
			f.Fix = fmt.Sprintf("screw the stack with M%s or less, or take a board with holes of %s; tracks run round the holes, so do not drill them out",
				num(down(d+f.Worst, 0.5)), mm(up(d+f.Margin-f.Worst, 0.05)))
		}
	} else {
		g := b.Grommet.Grommet
		if g == nil {
			return true
		}
		made := known(g.BoardHole, b.Grommet.Name+" board hole")
		// The sign makes a hole that is off the figure come out positive, whichever way.
		sign, give := 1.0, math.Max(0.1*made.Value, made.Plus)
		if hole.Value < made.Value {
			sign, give = -1, math.Max(0.1*made.Value, made.Minus)
		}
		off := layout.Fixed(-sign*made.Value).Plus(hole, sign)
		if hole.Range && !hole.Missing {
			off = layout.Fixed(off.Nominal()) // boards of a class come with grommets of their own
		}
		if made.Missing {
			off = off.Plus(made, -sign)
		}
		f.AtMost = true
		f = f.Judge(off, layout.Fixed(give))
		f.Message = fmt.Sprintf("grommets for holes of %s sit in holes of %s in %s", mm(made.Value), mm(hole.Value), name)
		if mustMend(&f) {
			f.Fix = fmt.Sprintf("take grommets made for holes of %s", mm(hole.Value))
		}
	}
	if f.Verdict == layout.Unknown {
		f.Message = fmt.Sprintf("whether the holes of %s suit the screws hangs on a dimension that is missing", name)
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
	return f.Verdict != layout.Unknown
}

// boardOnPattern judges whether the board has the pattern of its stack at all. It reports
// only what does not hold, since the plates are judged next; false if there is no use in
// that.
func (p *Pass) boardOnPattern(f layout.Finding, s *layout.Stack, b *layout.Level, d float64) bool {
	sq := b.Component.Part.Square
	var off float64
	var at r2.Point
	for i, c := range cornersOf(b.Component) {
		near := math.Inf(1)
		for _, sc := range s.Screws {
			near = math.Min(near, sc.At.Sub(c).Norm())
		}
		if i == 0 || near > off+1e-9 {
			off, at = near, c
		}
	}
	play := holePlay(b, d)
	if s.Float != nil {
		play = play.Shift(s.Float.Plus)
	}
	f = f.Judge(play.Add(sideError(sq, b.Component.Label)), layout.Fixed(off))
	f.HasPlace, f.A, f.B = true, lift(at, b.FaceUp.Nominal()), lift(at, b.FaceUp.Nominal())
	switch {
	case f.Verdict == layout.Unknown && isMissing(sq.X), f.Verdict == layout.Unknown && isMissing(sq.Y):
		f.Message = fmt.Sprintf("whether %s has the pattern of its stack hangs on a dimension that is missing", p.call(b.Component.ID))
		f.Fix = unknownFix(&f)
	case f.Verdict == layout.Fail && off > 1e-6:
		f.Message = fmt.Sprintf("%s has its holes at %s, the screws of stack %s stand at %s: %s off with %s of play",
			p.call(b.Component.ID), side(sq), spoken(s.Name), side(s.Pattern), mm(off), mm(f.Measured))
		f.Fix = fmt.Sprintf("take a board with holes at %s, put an adapter plate under it, or say the stack's own `pattern:`", side(s.Pattern))
	default:
		return true
	}
	p.Report(f)
	return false
}

// pierced lists the plates that the screws of a stack pass: first the copies of the one
// that it stands on, then those that lie against its other side and have holes where the
// screws are.
func (p *Pass) pierced(s *layout.Stack) [][]*layout.Plate {
	on := plateOf(p.Asm, s.On)
	if on == nil {
		return nil
	}
	groups := [][]*layout.Plate{{}}
	index := map[string]int{on.Name: 0}
	for _, pl := range p.Asm.Plates {
		k, ok := index[pl.Name]
		if !ok {
			far := on.Bottom.Sub(pl.Top).Nominal()
			if s.Down {
				far = pl.Bottom.Sub(on.Top).Nominal()
			}
			if math.Abs(far) > touch || !hasHoleAt(pl, s) {
				continue
			}
			k, groups = len(groups), append(groups, nil)
			index[pl.Name] = k
		}
		groups[k] = append(groups[k], pl)
	}
	return groups
}

// hasHoleAt reports whether a screw of the stack stands in a hole of the plate.
func hasHoleAt(pl *layout.Plate, s *layout.Stack) bool {
	for _, sc := range s.Screws {
		for i := range pl.Holes {
			if pl.Holes[i].Loop.Contains(sc.At) {
				return true
			}
		}
	}
	return false
}

// seat is the plate hole nearest to a corner of a board.
type seat struct {
	corner r2.Point
	plate  *layout.Plate
	hole   *layout.Hole
	off    float64 // mm, from the corner to the middle of the hole or the middle line of the slot
}

// nearestHole returns the hole or slot of the plates nearest to a point that a screw of d
// mm may be in; hole is nil if they have none.
func nearestHole(plates []*layout.Plate, at r2.Point, d float64) seat {
	out := seat{corner: at, off: math.Inf(1)}
	for _, pl := range plates {
		for i := range pl.Holes {
			h := &pl.Holes[i]
			if h.Diameter == nil || h.Diameter.Value > 2*d {
				continue
			}
			if off := axisOf(h, at).Sub(at).Norm(); off < out.off-1e-9 {
				out.plate, out.hole, out.off = pl, h, off
			}
		}
	}
	return out
}

// boardOnPlate judges a board's holes against those of a plate that the screws pass. The
// corner with the least to spare decides: the screws go in together. That the plate has no
// holes for the stack is told once, as bare holds.
func (p *Pass) boardOnPlate(f layout.Finding, s *layout.Stack, b *layout.Level, plates []*layout.Plate, d float64, bare *bool) {
	sq := b.Component.Part.Square
	name, on := p.call(b.Component.ID), p.call(plates[0].ID)
	if on0 := plateOf(p.Asm, s.On); on0 != nil && on0.Name == plates[0].Name {
		on = p.call(s.On)
	}
	var worst worstOf
	var at seat
	for _, c := range cornersOf(b.Component) {
		t := nearestHole(plates, c, d)
		if t.hole == nil && *bare {
			return
		}
		if t.hole == nil {
			*bare = true
			f.Verdict = layout.Fail
			f.Message = fmt.Sprintf("%s has no holes for %s", on, name)
			f.Fix = fmt.Sprintf("add to its holes: {for: stacks.%s}", s.Name)
			p.Report(f)
			return
		}
		play := holePlay(b, d).Add(playIn(t.hole.Diameter, d, p.throughPlate(s))).
			Add(deviation(layout.Form{}.Plus(t.plate.PlaceTol, -patternShare).Plus(sq.Place, -patternShare))).
			Add(sideError(sq, b.Component.Label).Scale(-1))
		g := f
		g.Subjects = []string{b.Component.ID, t.plate.ID}
		z := t.plate.Top.Nominal()
		g.HasPlace, g.A, g.B = true, lift(c, z), lift(t.hole.At, z)
		if worst.add(g.Judge(play, layout.Fixed(t.off))) {
			at = t
		}
	}
	g := worst.f
	none := mustMend(&g) && at.off > (at.hole.Diameter.Value+d)/2
	if none && *bare {
		return
	}
	*bare = *bare || none
	g.Message = fmt.Sprintf("the holes of %s and of %s are %s apart, %s screws have %s of play", name, on, mm(at.off), s.Screw, mm(g.Measured))
	switch {
	case !mustMend(&g):
		g.Fix = unknownFix(&g)
	case none:
		g.Message = fmt.Sprintf("%s has no holes for %s, the nearest is %s off", on, name, mm(at.off))
		g.Fix = fmt.Sprintf("add to its holes: {for: stacks.%s}", s.Name)
	default:
		g.Fix = "make the holes of " + on + " " + mm(wider(at, &g, p.throughPlate(s))) + " in place of " + mm(at.hole.Diameter.Value)
		if head := headOf(d); head != nil && wider(at, &g, p.throughPlate(s)) > head.Value-head.Minus-2*headSeat {
			g.Fix += ", with washers under the heads"
		}
	}
	p.Report(g)
}

// wider is the drawn diameter of a plate hole that makes a finding on its play hold at
// worst case. A class figure in its place gives way to the tolerance of the plate's
// holes; a tolerance that the file gives stays.
func wider(t seat, f *layout.Finding, made float64) float64 {
	h := t.hole.Diameter
	under := h.Minus
	if (h.TolSource != shapes.Given || h.Range) && t.plate.HoleTol != nil {
		under = math.Max(t.plate.HoleTol.Plus, t.plate.HoleTol.Minus)
	}
	return up(h.Value-math.Max(0, h.Minus-made)+math.Max(0, under-made)-2*f.Worst, 0.05)
}

// screwsThrough judges whether the screws go through the holes of a plate.
func (p *Pass) screwsThrough(s *layout.Stack, plates []*layout.Plate, d float64) {
	var worst worstOf
	var at seat
	for _, sc := range s.Screws {
		t := nearestHole(plates, sc.At, d)
		if t.hole == nil || t.off > (t.hole.Diameter.Value+d)/2 {
			continue // told with the boards
		}
		z := lift(t.hole.At, t.plate.Top.Nominal())
		f := layout.Finding{
			Subjects: []string{t.plate.ID}, Pos: t.hole.Pos, HasPlace: true, A: z, B: z, Near: "stack " + spoken(s.Name),
		}
		if worst.add(f.Judge(layout.Of(forced(t.hole.Diameter, p.throughPlate(s))), layout.Fixed(d))) {
			at = t
		}
	}
	if !worst.found {
		return
	}
	f := worst.f
	f.Message = fmt.Sprintf("%s screws go through the %s holes of %s", s.Screw, mm(at.hole.Diameter.Value), p.call(at.plate.ID))
	if f.Margin < 0 {
		f.Message = fmt.Sprintf("%s screws do not go through the %s holes of %s", s.Screw, mm(at.hole.Diameter.Value), p.call(at.plate.ID))
	}
	if mustMend(&f) {
		half := f
		half.Worst /= 2 // the whole of a diameter counts here, not half of it
		f.Fix = fmt.Sprintf("make the holes %s", mm(wider(at, &half, p.throughPlate(s))))
	} else {
		f.Fix = unknownFix(&f)
	}
	p.Report(f)
}

// side names a square pattern by its side, in the words of the trade.
func side(sq *shapes.SquarePattern) string {
	if sq == nil || sq.X == nil {
		return "an unknown pattern"
	}
	if sq.Y == nil || sq.Y == sq.X || math.Abs(sq.X.Value-sq.Y.Value) < 1e-9 {
		return num(sq.X.Value)
	}
	return num(sq.X.Value) + " by " + num(sq.Y.Value)
}
