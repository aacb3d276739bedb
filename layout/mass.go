package layout

import (
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// partMass is the mass of a part as given, with its centre in the middle of its bodies.
// A part without a mass has a missing one: sums that need it are unknown.
func partMass(c *Component) Mass {
	m := Mass{Grams: massOf(c.Part)}
	m.X, m.Y, m.Z = middle(c)
	return m
}

func massOf(p *shapes.Part) Form {
	switch {
	case p.Mass != nil:
		return Of(p.Mass)
	case p.NoMass != "":
		return Form{}
	}
	d := missing(p.Name + " mass")
	d.Unit = shapes.Gram
	return Of(d)
}

// middle is the middle of the box round the solid bodies of a component; leads, ties
// and straps do not count.
func middle(c *Component) (x, y, z float64) {
	box := geom.EmptyRect()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, b := range c.Bodies {
		switch b.Kind {
		case CushionBody, StrapBody, LeadBody, GrommetBody:
			continue
		}
		box = box.Union(boundOf(b.Plan))
		lo, hi = min(lo, b.Bottom.Nominal()), max(hi, b.Top.Nominal())
	}
	if box.IsEmpty() || lo > hi {
		return c.Pose.Shift.X, c.Pose.Shift.Y, c.Base.Nominal()
	}
	m := box.Center()
	return m.X, m.Y, (lo + hi) / 2
}

// volumeMass is volume by density, linear in both about their nominal values:
// m = V·ρ/1000 with V in mm³ and ρ in g/cm³, dm = (V·dρ + ρ·A·dt)/1000.
func volumeMass(area float64, t, density *shapes.Dim) Form {
	if t == nil || density == nil {
		return Of(missing("density"))
	}
	k := area / 1000
	f := Form{Const: -k * t.Value * density.Value}
	return f.Plus(t, k*density.Value).Plus(density, k*t.Value)
}

// plateMass is the mass of a cut plate and its centre of area.
func plateMass(p *Plate) Mass {
	var area float64
	var sum r2.Point
	for i := range p.Outline {
		m := p.Outline[i].Moments()
		area += m.Area
		sum = sum.Add(m.Centroid.Mul(m.Area))
	}
	m := Mass{Guess: true, Z: (p.Bottom.Nominal() + p.Top.Nominal()) / 2}
	if area > 0 {
		m.X, m.Y = sum.X/area, sum.Y/area
	}
	var density *shapes.Dim
	if p.Material != nil && p.Material.Material != nil {
		density = p.Material.Material.Density
	}
	m.Grams = volumeMass(area, p.Thickness, density)
	return m
}

// postMass is the mass of a set of posts by their mass per length.
func postMass(p *postLevel, n int) Mass {
	m := Mass{Guess: true, Z: (p.bottom.Nominal() + p.top.Nominal()) / 2}
	for _, s := range p.spots {
		m.X += s.at.X / float64(n)
		m.Y += s.at.Y / float64(n)
	}
	switch {
	case p.part != nil && p.part.Standoff != nil && p.part.Standoff.MassPerMM > 0:
		m.Grams = Form{}.Plus(p.length, p.part.Standoff.MassPerMM*float64(n))
	case p.part != nil && p.part.Mass != nil:
		m.Grams, m.Guess = Form{}.Plus(p.part.Mass, float64(n)), false
	default:
		m.Grams = Of(missing("posts mass"))
	}
	return m
}

// density of hardware in g/cm³: ISO and handbook values of the plain materials.
func hardwareDensity(material string) float64 {
	switch material {
	case "steel":
		return 7.85
	case "aluminium":
		return 2.70
	case "brass":
		return 8.5
	case "titanium":
		return 4.43
	}
	return 1.14 // nylon 66
}

// spacerMass is the mass of the spacers of one level: by their class, else as hexagons
// with a bore.
func spacerMass(c *Component, it *Item, part *shapes.Part, length, wide *shapes.Dim) Mass {
	m := Mass{Guess: true}
	m.X, m.Y, m.Z = middle(c)
	n := float64(c.Count)
	if part != nil && part.Standoff != nil && part.Standoff.MassPerMM > 0 {
		m.Grams = Form{}.Plus(length, part.Standoff.MassPerMM*n)
		return m
	}
	flats := geom.AcrossFlats(wide.Value, 6)
	bore := 0.55 * flats // M3 in 5.5 across flats
	area := geom.RegularPolygonArea(flats, 6) - geom.DiscArea(bore)
	m.Grams = Form{}.Plus(length, n*area*hardwareDensity(it.Material)/1000)
	return m
}

// fastenerMass is the mass of nuts or washers: plain hexagon or disc less the bore.
func fastenerMass(c *Component, it *Item, t *shapes.Part, thick *shapes.Dim) Mass {
	m := Mass{Guess: true}
	m.X, m.Y, m.Z = middle(c)
	if t == nil {
		m.Grams = Of(missing(c.Label + " mass"))
		return m
	}
	area := geom.RegularPolygonArea(t.Thread.NutAF, 6) - geom.DiscArea(t.Thread.Major)
	if it.Kind == ItemWasher {
		area = geom.RingArea(t.Thread.WasherOD, t.Thread.Major)
	}
	m.Grams = Form{}.Plus(thick, float64(c.Count)*area*hardwareDensity(it.Material)/1000)
	return m
}

// wireShare is the allowance for wire, solder, tape and ties when the build gives none:
// the middle of the 4 to 8 % by which lists of parts run low, as a Dim of 6 ± 2 % of the
// listed mass.
const (
	wireShare    = 0.06
	wireShareTol = 0.02
)

// TakeOffMass returns the sum of all components in g with the allowance for wire, solder
// and ties, and that allowance: the build's own, else 6 ± 2 % of the rest. What the wires
// weigh that are counted one by one is taken out of it.
func (a *Assembly) TakeOffMass() (sum Form, allowance *shapes.Dim) {
	for _, c := range a.Components {
		sum = sum.Add(c.Mass.Grams)
	}
	allowance = a.Extra
	if allowance == nil {
		listed := sum.Nominal() - a.WireMass.Nominal()
		allowance = &shapes.Dim{
			Name: "wire, solder and ties", Unit: shapes.Gram,
			Value: wireShare * listed, Plus: wireShareTol * listed, Minus: wireShareTol * listed,
			Source: shapes.Assumed, TolSource: shapes.Assumed, HasTol: true,
		}
	}
	_, allowance = a.allowanceLeft(allowance)
	return sum.Plus(allowance, 1), allowance
}
