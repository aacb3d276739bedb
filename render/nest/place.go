package nest

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// laid is a turned piece with the lower left corner of its box at a place.
type laid struct {
	t  *turned
	at r2.Point
}

func (l *laid) box() geom.Rect { return geom.Rect{Lo: l.at, Hi: l.at.Add(l.t.size)} }

// sheet is one sheet with what lies on it.
type sheet struct {
	Sheet
	laid []laid
	// resume is, for each turned piece, the first place of the grid that it might take: what
	// does not fit once never does, since pieces are only added.
	resume []int
}

func (s *sheet) add(l laid) { s.laid = append(s.laid, l) }

// inside reports whether the box of a piece keeps the margin.
func (s *sheet) inside(t *turned, at r2.Point) bool {
	return at.X >= s.Margin-slack && at.Y >= s.Margin-slack &&
		at.X+t.size.X <= s.Width-s.Margin+slack && at.Y+t.size.Y <= s.Height-s.Margin+slack
}

// fits reports whether a piece keeps the margin and the gap at a place.
func (s *sheet) fits(t *turned, at r2.Point) bool {
	if !s.inside(t, at) {
		return false
	}
	own := laid{t, at}
	box := own.box().Expand(s.Gap - slack)
	for i := range s.laid {
		o := &s.laid[i]
		if box.Intersects(o.box()) && o.t.shape.IsCloserAt(t.shape, at.Sub(o.at), s.Gap-slack) {
			return false
		}
	}
	return true
}

// best returns the place with the lowest top, of several the leftmost, that any of the
// turns takes; nil if there is none.
func (s *sheet) best(turns []*turned) *laid {
	const same = 1e-6
	var best *laid
	top, right := math.Inf(1), math.Inf(1)
	offer := func(t *turned, at r2.Point) {
		at = s.settle(t, s.slide(t, at))
		y, x := at.Y+t.size.Y, at.X+t.size.X
		if y < top-same || y < top+same && x < right-same {
			best, top, right = &laid{t, at}, y, x
		}
	}
	for _, t := range turns {
		for _, at := range s.corners(t) {
			if s.fits(t, at) {
				offer(t, at)
			}
		}
		if at, ok := s.onGrid(t); ok {
			offer(t, at)
		}
	}
	return best
}

// corners lists the places beside the boxes of what lies on the sheet: in its corner, to the
// right of and above each, level with it or at the sheet's edge.
func (s *sheet) corners(t *turned) []r2.Point {
	m := s.Margin
	out := []r2.Point{{X: m, Y: m}}
	for i := range s.laid {
		b := s.laid[i].box()
		x, y := b.Hi.X+s.Gap, b.Hi.Y+s.Gap
		out = append(out, r2.Point{X: x, Y: m}, r2.Point{X: x, Y: b.Lo.Y}, r2.Point{X: m, Y: y}, r2.Point{X: b.Lo.X, Y: y})
	}
	return out
}

// onGrid returns the lowest place of a grid that takes the piece, of several the leftmost.
func (s *sheet) onGrid(t *turned) (r2.Point, bool) {
	step := max(1, min(s.Width, s.Height)/80, max(s.Width, s.Height)/400)
	nx := int(math.Floor((s.Width-2*s.Margin-t.size.X+slack)/step)) + 1
	ny := int(math.Floor((s.Height-2*s.Margin-t.size.Y+slack)/step)) + 1
	if nx < 1 || ny < 1 {
		return r2.Point{}, false
	}
	for k := s.resume[t.number]; k < nx*ny; k++ {
		at := r2.Point{X: s.Margin + float64(k%nx)*step, Y: s.Margin + float64(k/nx)*step}
		if s.fits(t, at) {
			s.resume[t.number] = k
			return at, true
		}
	}
	s.resume[t.number] = nx * ny
	return r2.Point{}, false
}

// slide moves a piece down and to the left by turns as far as it goes.
func (s *sheet) slide(t *turned, at r2.Point) r2.Point {
	const rounds = 12
	for range rounds {
		from := at
		at = s.push(t, at, r2.Point{Y: -1})
		at = s.push(t, at, r2.Point{X: -1})
		if from.Sub(at).Norm() < 1e-4 {
			break
		}
	}
	return at
}

// settle moves a piece onto whole micrometres where it fits there as well, so that rounding of
// the way it came does not show: to the nearest, or up and to the right of where it is.
func (s *sheet) settle(t *turned, at r2.Point) r2.Point {
	const um = 1000
	nearest := r2.Point{X: math.Round(at.X*um) / um, Y: math.Round(at.Y*um) / um}
	for _, p := range [...]r2.Point{
		nearest,
		{X: math.Ceil(at.X*um) / um, Y: nearest.Y}, {X: nearest.X, Y: math.Ceil(at.Y*um) / um},
		{X: math.Ceil(at.X*um) / um, Y: math.Ceil(at.Y*um) / um},
	} {
		if s.fits(t, p) {
			return p
		}
	}
	return at
}

// push moves a piece along a direction until something is in the way. As far as it keeps
// from everything it may always go: no point of it moves farther than that.
func (s *sheet) push(t *turned, at, dir r2.Point) r2.Point {
	const steps, least = 60, 1e-5
	for range steps {
		own := laid{t, at}
		box := own.box()
		free := box.Lo.X - s.Margin
		if dir.Y != 0 {
			free = box.Lo.Y - s.Margin
		}
		// What the piece would sweep on its way to the edge.
		way := box.Union(geom.Rect{Lo: box.Lo.Add(dir.Mul(free)), Hi: box.Hi.Add(dir.Mul(free))}).Expand(s.Gap)
		for i := range s.laid {
			o := &s.laid[i]
			if free > least && way.Intersects(o.box()) && o.box().Distance(box)-s.Gap < free {
				free = min(free, o.t.shape.SeparationAt(t.shape, at.Sub(o.at))-s.Gap)
			}
		}
		if free < least {
			break
		}
		at = at.Add(dir.Mul(free))
	}
	return at
}
