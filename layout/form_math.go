package layout

import "math"

// Times returns the product f × g, linear about the nominal values of both:
// f₀·g + g₀·f − f₀·g₀. What that leaves out is the product of both deviations.
func (f Form) Times(g Form) Form {
	a, b := f.Nominal(), g.Nominal()
	return f.Scale(b).Add(g.Scale(a)).Shift(-a * b)
}

// Over returns the quotient f / g, likewise linear: q₀ + (f − f₀)/g₀ − q₀·(g − g₀)/g₀ with
// q₀ = f₀/g₀. A g of 0 gives the form 0 with the terms of both, so that what is missing
// stays known.
func (f Form) Over(g Form) Form {
	a, b := f.Nominal(), g.Nominal()
	if math.Abs(b) < 1e-12 {
		sum := f.Add(g)
		return sum.Shift(-sum.Nominal())
	}
	return f.Scale(1 / b).Add(g.Scale(-a / (b * b))).Shift(a / b)
}

// ToThe returns f to the power p, likewise linear: f₀^p + p·f₀^(p−1)·(f − f₀). Where f₀ is not
// above 0 it gives the form 0 with the terms of f.
func (f Form) ToThe(p float64) Form {
	a := f.Nominal()
	if a <= 0 {
		return f.Shift(-a)
	}
	v := math.Pow(a, p)
	k := p * v / a
	return f.Scale(k).Shift(v - k*a)
}
