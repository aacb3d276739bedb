package drawing

import (
	"fmt"
	"math"
	"slices"
)

// warnings adds what looks wrong in a drawing that could be read.
func warnings(d *Drawing, rep *Report, opt *Options) {
	size := rep.Size
	big, small := max(size.X, size.Y), min(size.X, size.Y)
	switch {
	case big > 1000:
		rep.warn("the drawing is %.0f x %.0f mm, over 1 m: check the unit%s", size.X, size.Y, alternatives(rep, opt, big))
	case big < 10:
		rep.warn("the drawing is %.3f x %.3f mm, under 10 mm: check the unit%s", size.X, size.Y, alternatives(rep, opt, big))
	case small < 1:
		rep.warn("the drawing is %.3f mm narrow: check that the outline is in it", small)
	}
	var tiny, huge []Hole
	for _, p := range d.Parts {
		for _, h := range p.Holes {
			switch {
			case h.Round() && h.Diameter < 1:
				tiny = append(tiny, h)
			case h.Round() && h.Diameter > 60:
				huge = append(huge, h)
			}
		}
		for _, e := range p.Open {
			rep.warn("%s does not close: %v", p.Name, e)
		}
		if p.Fault != "" {
			rep.warn("%s cannot be cut as it is: %s", p.Name, p.Fault)
		}
		for i := range p.Holes {
			if h := &p.Holes[i]; p.Closed() && h.Loop.Area() > 0.95*p.Outline.Area() {
				rep.warn("%s of %s leaves a rim of %.3f mm at most: the outline may be drawn twice", h.Name, p.Name,
					(p.Outline.Area()-h.Loop.Area())/h.Loop.Perimeter())
			}
		}
	}
	if n := len(tiny); n > 0 {
		rep.warn("%s under 1 mm, the first of %.3f mm at (%.2f, %.2f): no screw fits; check the unit", plural(n, "round hole", "round holes"),
			tiny[0].Diameter, tiny[0].Center.X, tiny[0].Center.Y)
	}
	if n := len(huge); n > 0 {
		rep.warn("%s over 60 mm, the first of %.1f mm at (%.2f, %.2f): check the unit", plural(n, "round hole", "round holes"),
			huge[0].Diameter, huge[0].Center.X, huge[0].Center.Y)
	}
	scaleHint(d, rep)
}

// alternatives tells how large the drawing would be in other units.
func alternatives(rep *Report, opt *Options, big float64) string {
	s := ""
	for _, unit := range []string{"mm", "cm", "in", "m"} {
		k, _ := unitSize(unit, opt.DPI)
		v := big / rep.MMPerOne * k * opt.Scale
		if v >= 10 && v <= 1000 && math.Abs(k*opt.Scale-rep.MMPerOne) > 1e-9 {
			if s != "" {
				s += ","
			}
			word := unit
			if unit == "in" {
				word = "inch"
			}
			s += fmt.Sprintf(" in %s it would be %.0f mm long", word, v)
		}
	}
	if s == "" {
		return ""
	}
	return ";" + s
}

// scaleHint looks for sets of holes that are usual ones at another scale, where none is at
// this one.
func scaleHint(d *Drawing, rep *Report) {
	for _, p := range d.Parts {
		for _, q := range p.Patterns {
			if q.Usual {
				return
			}
		}
	}
	for _, p := range d.Parts {
		for _, k := range []float64{2, 0.5, 25.4, 1 / 25.4, 10, 0.1} {
			holes := slices.Clone(p.Holes)
			for i := range holes {
				holes[i].Center = holes[i].Center.Mul(k)
				holes[i].Diameter *= k
			}
			for _, q := range findPatterns(holes) {
				h := p.Hole(q.Holes[0])
				if q.Usual && h.Diameter*k >= 1.4 && h.Diameter*k <= 5.6 {
					rep.warn("no usual hole pattern was found, but at a scale of %.4g %s to %s would be a %s: check the unit and the scale",
						k, q.Holes[0], q.Holes[len(q.Holes)-1], q.Name)
					return
				}
			}
		}
	}
}
