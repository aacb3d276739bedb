package drawing

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
)

// subpath is one run of a path without lifting the pen.
type subpath struct {
	curves []curve
	closed bool // by Z
}

// pathReader follows the commands of a path's d attribute.
type pathReader struct {
	in           numberScanner
	at, start    r2.Point
	control      r2.Point // of the last curve, for S and T
	last         byte     // the last command, upper case
	paths        []subpath
	most, curves int
}

// parsePath reads path data: every command, with numbers and flags glued as they come. The
// error says in a few words what is wrong and where in the text.
func parsePath(d string, most int) ([]subpath, error) {
	p := pathReader{in: numberScanner{s: d}, most: most}
	cmd := byte(0)
	for !p.in.done() {
		c := d[p.in.i]
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
		switch {
		case letter:
			cmd = c
			p.in.i++
		case cmd == 0:
			return p.paths, p.wrong("a path begins with the command M")
		case cmd == 'Z' || cmd == 'z':
			return p.paths, p.wrong("a command was expected after Z")
		case cmd == 'M':
			cmd = 'L' // further points of a move are lines
		case cmd == 'm':
			cmd = 'l'
		}
		if p.last == 0 && cmd != 'M' && cmd != 'm' {
			return p.paths, p.wrong("a path begins with the command M")
		}
		if err := p.step(cmd); err != nil {
			return p.paths, err
		}
		if p.curves > p.most {
			return p.paths, p.wrong("the path has too many pieces")
		}
	}
	return p.paths, nil
}

func (p *pathReader) wrong(what string) error {
	return fmt.Errorf("%s, at character %d of the path data", what, p.in.i+1)
}

// upper returns the command in upper case, and where its coordinates count from.
func (p *pathReader) upper(cmd byte) (byte, r2.Point) {
	if cmd >= 'a' {
		return cmd - 'a' + 'A', p.at
	}
	return cmd, r2.Point{}
}

// numbersOf returns how many numbers a command takes, -1 if there is none of that name.
func numbersOf(op byte) int {
	switch op {
	case 'M', 'L', 'T':
		return 2
	case 'H', 'V':
		return 1
	case 'S', 'Q':
		return 4
	case 'C':
		return 6
	case 'A':
		return 7
	case 'Z':
		return 0
	}
	return -1
}

func (p *pathReader) step(cmd byte) error {
	op, o := p.upper(cmd)
	var v [7]float64
	n := numbersOf(op)
	if n < 0 {
		return p.wrong(fmt.Sprintf("%q is no path command", string(rune(cmd))))
	}
	for i := range n {
		ok := false
		if op == 'A' && (i == 3 || i == 4) {
			var set bool
			if set, ok = p.in.flag(); set {
				v[i] = 1
			}
		} else {
			v[i], ok = p.in.number()
		}
		if !ok {
			return p.wrong(fmt.Sprintf("%s takes %d numbers, and number %d is missing", string(rune(cmd)), n, i+1))
		}
	}
	pt := func(i int) r2.Point { return r2.Point{X: o.X + v[i], Y: o.Y + v[i+1]} }
	// S and T start with the last control point mirrored, if such a curve came before.
	mirrored := func(a, b byte) r2.Point {
		if p.last == a || p.last == b {
			return p.at.Mul(2).Sub(p.control)
		}
		return p.at
	}
	before := p.last
	switch op {
	case 'M':
		p.at, p.start = pt(0), pt(0)
		p.paths = append(p.paths, subpath{})
		p.curves++
	case 'L':
		p.draw(lineTo(p.at, pt(0)), pt(0))
	case 'H':
		q := r2.Point{X: o.X + v[0], Y: p.at.Y}
		p.draw(lineTo(p.at, q), q)
	case 'V':
		q := r2.Point{X: p.at.X, Y: o.Y + v[0]}
		p.draw(lineTo(p.at, q), q)
	case 'C':
		p.draw(curve{kind: bezierCurve, p: [4]r2.Point{p.at, pt(0), pt(2), pt(4)}}, pt(4))
		p.control = pt(2)
	case 'S':
		c := mirrored('C', 'S')
		p.draw(curve{kind: bezierCurve, p: [4]r2.Point{p.at, c, pt(0), pt(2)}}, pt(2))
		p.control = pt(0)
	case 'Q':
		p.draw(quadratic(p.at, pt(0), pt(2)), pt(2))
		p.control = pt(0)
	case 'T':
		c := mirrored('Q', 'T')
		p.draw(quadratic(p.at, c, pt(0)), pt(0))
		p.control = c
	case 'A':
		q := pt(5)
		for _, c := range arcCurves(p.at, q, v[0], v[1], v[2], v[3] != 0, v[4] != 0) {
			p.draw(c, q)
		}
		p.at = q
	case 'Z':
		if before != 'M' && before != 'Z' {
			s := &p.paths[len(p.paths)-1]
			s.closed = true
			if p.at != p.start {
				p.draw(lineTo(p.at, p.start), p.start)
			}
		}
		p.at = p.start
	}
	p.last = op
	return nil
}

// draw appends a curve that ends at to. After Z a new run begins at the same start.
func (p *pathReader) draw(c curve, to r2.Point) {
	if p.last == 'Z' {
		p.paths = append(p.paths, subpath{})
		p.last = 'M'
	}
	s := &p.paths[len(p.paths)-1]
	s.curves = append(s.curves, c)
	p.at = to
	p.curves++
}

// arcCurves returns the elliptical arc of path command A from a to b, by the formulas of
// SVG 1.1, appendix F.6: radii too small are enlarged, and without a radius it is a line.
func arcCurves(a, b r2.Point, rx, ry, degrees float64, large, sweep bool) []curve {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if a == b {
		return nil
	}
	if rx == 0 || ry == 0 {
		return []curve{lineTo(a, b)}
	}
	if rx == ry {
		bulge := geom.ChordBulge(b.Sub(a).Norm(), rx)
		if large {
			bulge = 1 / bulge
		}
		if !sweep {
			bulge = -bulge
		}
		return []curve{arcTo(a, b, bulge)}
	}
	e, t0, t1 := geom.EllipseThrough(a, b, rx, ry, s1.Angle(math.Mod(degrees, 360)*math.Pi/180), large, sweep)
	return []curve{ellipsePart(e, t0, t1)}
}
