package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
)

// Swing returns how far p reaches in the direction dir while it turns about the origin
// through the angles from..to, and at which of them: the greatest of dir·R(t)p. It is
// reached where the turned p points along dir, or at the end of the range where it comes
// nearest to that. The range may be empty or reversed (then only from counts) and longer
// than a turn; dir need not be a unit vector and scales the result.
func Swing(p, dir r2.Point, from, to s1.Angle) (most float64, at s1.Angle) {
	value := func(t s1.Angle) float64 {
		s, c := SinCos(t)
		return float64((float64(c*p.X)-float64(s*p.Y))*dir.X) + float64((float64(s*p.X)+float64(c*p.Y))*dir.Y)
	}
	most, at = value(from), from
	if !(to > from) {
		return most, at
	}
	if v := value(to); v > most {
		most, at = v, to
	}
	top := s1.Angle(math.Atan2(dir.Y, dir.X) - math.Atan2(p.Y, p.X))
	turn := s1.Angle(2 * math.Pi)
	top += turn * s1.Angle(math.Ceil(float64((from-top)/turn)))
	if top <= to {
		if v := value(top); v > most {
			most, at = v, top
		}
	}
	return most, at
}

// SwingMeets returns, ascending, the angles of from..to at which p, turning about the origin,
// reaches just level in the direction dir: dir·R(t)p = level. With A = |dir||p| and top
// the angle at which p points along dir they are top ± acos(level/A), and whole turns from
// there. None if the range is empty or longer than 100 turns, if level is out of reach, or
// if p or dir is 0.
func SwingMeets(p, dir r2.Point, level float64, from, to s1.Angle) []s1.Angle {
	const turn = s1.Angle(2 * math.Pi)
	most := p.Norm() * dir.Norm()
	if !(most > 0) || !(math.Abs(level) <= most) || !(to >= from) || to-from > 100*turn {
		return nil
	}
	top := s1.Angle(math.Atan2(dir.Y, dir.X) - math.Atan2(p.Y, p.X))
	off := s1.Angle(math.Acos(level / most))
	var out []s1.Angle
	for _, t := range [2]s1.Angle{top - off, top + off} {
		for t += turn * s1.Angle(math.Ceil(float64((from-t)/turn))); t <= to; t += turn {
			out = append(out, t)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// FarthestSum returns the point farthest from the origin among the sums of start and one
// point of each of the moves, which are straight pieces from their first to their second
// point. Those sums fill a convex polygon (a zonotope); the farthest is one of its corners,
// which are met in the order of the directions of the moves, in time n log n. Of equally far corners
// the same one is returned every time.
func FarthestSum(start r2.Point, moves [][2]r2.Point) r2.Point {
	// From the lowest corner (of those the leftmost) the boundary runs along all moves, each
	// turned upwards, by ascending direction, and back along them.
	at := start
	var up []r2.Point
	for _, m := range moves {
		d := m[1].Sub(m[0])
		if d.Y < 0 || d.Y == 0 && d.X < 0 {
			at = at.Add(m[1])
			d = d.Mul(-1)
		} else {
			at = at.Add(m[0])
		}
		if d != (r2.Point{}) {
			up = append(up, d)
		}
	}
	slices.SortStableFunc(up, func(a, b r2.Point) int { return cmp.Compare(0, Orient(r2.Point{}, a, b)) })
	best := at
	for _, sign := range [2]float64{1, -1} {
		for _, d := range up {
			at = at.Add(d.Mul(sign))
			if at.Dot(at) > best.Dot(best) {
				best = at
			}
		}
	}
	return best
}

// Leaves returns how far from p, a point inside or outside, the ray along dir last touches the loop, in units of
// dir's length; 0 if it does not meet it.
func (l Loop) Leaves(p, dir r2.Point) float64 {
	most := 0.0
	n := dir.Dot(dir)
	if n == 0 {
		return 0
	}
	var pts []r2.Point
	for _, s := range l.Segs() {
		e := EdgeOf(s)
		pts = e.MeetLine(p, dir, pts[:0])
		for _, q := range pts {
			most = max(most, q.Sub(p).Dot(dir)/n)
		}
	}
	return most
}
