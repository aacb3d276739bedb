package layout

import (
	"cmp"
	"math"
	"slices"

	"dryfit/shapes"
)

// Term is one dimension of a linear form with its coefficient.
type Term struct {
	Dim  *shapes.Dim
	Coef float64
}

// Form is a length as a sum: Const + Σ Coef × Dim. Every height of the assembly is
// one, so that dimensions which two heights share cancel in their difference. The
// zero value is the length 0. Terms keep the order in which they came; no Dim stands
// twice and none with coefficient 0.
type Form struct {
	Const float64
	Terms []Term
}

// Fixed returns the form without uncertainty.
func Fixed(mm float64) Form { return Form{Const: mm} }

// Of returns the form 1 × d. A nil Dim gives the form 0.
func Of(d *shapes.Dim) Form { return Form{}.Plus(d, 1) }

// Plus returns f + coef × d.
func (f Form) Plus(d *shapes.Dim, coef float64) Form {
	if d == nil || coef == 0 {
		return f
	}
	terms := append(make([]Term, 0, len(f.Terms)+1), f.Terms...)
	return Form{Const: f.Const, Terms: plus(terms, d, coef)}
}

// Add returns f + g.
func (f Form) Add(g Form) Form { return f.addScaled(g, 1) }

// Sub returns f − g; shared dimensions cancel.
func (f Form) Sub(g Form) Form { return f.addScaled(g, -1) }

// addScaled returns f + k × g, its terms in the order in which adding one after the other
// leaves them. Forms are added far more often than anything else is done with them, so the
// result is built in one piece.
func (f Form) addScaled(g Form, k float64) Form {
	out := f
	out.Const += k * g.Const
	if len(g.Terms) == 0 {
		return out
	}
	out.Terms = append(make([]Term, 0, len(f.Terms)+len(g.Terms)), f.Terms...)
	for _, t := range g.Terms {
		out.Terms = plus(out.Terms, t.Dim, k*t.Coef)
	}
	return out
}

// plus adds coef × d to terms in place.
func plus(terms []Term, d *shapes.Dim, coef float64) []Term {
	if d == nil || coef == 0 {
		return terms
	}
	for i := range terms {
		if terms[i].Dim != d {
			continue
		}
		terms[i].Coef += coef
		if math.Abs(terms[i].Coef) < 1e-12 {
			terms = append(terms[:i], terms[i+1:]...)
		}
		return terms
	}
	return append(terms, Term{d, coef})
}

// Shift returns f + mm.
func (f Form) Shift(mm float64) Form {
	f.Const += mm
	return f
}

// Scale returns k × f.
func (f Form) Scale(k float64) Form {
	return Form{}.addScaled(f, k)
}

// Nominal returns the value with every dimension at its nominal figure. Missing
// dimensions count with the value they hold (0 unless a guess was recorded).
func (f Form) Nominal() float64 {
	v := f.Const
	for _, t := range f.Terms {
		v += t.Coef * t.Dim.Value
	}
	return v
}

// Worst returns the least and the greatest value over all tolerances: nominal ∓
// Σ|coef|·tolerance, each dimension at the end that hurts.
func (f Form) Worst() (lo, hi float64) {
	lo = f.Nominal()
	hi = lo
	for _, t := range f.Terms {
		up, down := t.Coef*t.Dim.Plus, t.Coef*t.Dim.Minus
		if t.Coef < 0 {
			up, down = -down, -up
		}
		lo -= down
		hi += up
	}
	return lo, hi
}

// Mean and spread of the form as a random sum: each dimension is taken as normal
// about the middle of its tolerance band, whose half width is three standard
// deviations, and independent of the others (root-sum-square).
func (f Form) Stat() (mean, sigma float64) {
	mean = f.Nominal()
	var ss float64
	for _, t := range f.Terms {
		mean += t.Coef * (t.Dim.Plus - t.Dim.Minus) / 2
		s := t.Coef * (t.Dim.Plus + t.Dim.Minus) / 6
		ss += s * s
	}
	return mean, math.Sqrt(ss)
}

// ChanceBelow returns the chance that the sum lies below limit, by [Form.Stat]; 0 or 1
// when nothing is uncertain.
func (f Form) ChanceBelow(limit float64) float64 {
	mean, sigma := f.Stat()
	if sigma < 1e-12 {
		if mean < limit-1e-9 {
			return 1
		}
		return 0
	}
	return 0.5 * math.Erfc((mean-limit)/(sigma*math.Sqrt2))
}

// Missing lists the dimensions of the form that nobody gave.
func (f Form) Missing() []*shapes.Dim {
	var out []*shapes.Dim
	for _, t := range f.Terms {
		if t.Dim.Missing {
			out = append(out, t.Dim)
		}
	}
	return out
}

// Share is what one dimension can take from a margin at worst.
type Share struct {
	Dim *shapes.Dim
	MM  float64
}

// Eaters returns the dimensions by how much of the form they can eat on the low side,
// largest first; equal ones by name.
func (f Form) Eaters() []Share {
	var out []Share
	for _, t := range f.Terms {
		down := t.Coef * t.Dim.Minus
		if t.Coef < 0 {
			down = -t.Coef * t.Dim.Plus
		}
		if down > 1e-12 {
			out = append(out, Share{t.Dim, down})
		}
	}
	slices.SortStableFunc(out, func(a, b Share) int {
		if math.Abs(a.MM-b.MM) > 1e-12 {
			return cmp.Compare(b.MM, a.MM)
		}
		return cmp.Compare(a.Dim.Name, b.Dim.Name)
	})
	return out
}
