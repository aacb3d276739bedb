package layout

import (
	"reflect"
	"sync"

	"dryfit/shapes"
)

// Default tolerances: what is taken for a dimension when the file gives a figure and
// no tolerance. Each is marked Assumed, so that reports can tell.
//
// Figures of the trade, sorted by how they are made:
//
//   - carbon stock runs ±0.1 up to 2.5 mm, ±0.15 up to 4 mm and ±0.2 above;
//   - routed edges, hole diameters and hole positions come out within ±0.1;
//   - board stock runs ±10 % of its thickness, routed board outlines ±0.2, holes in
//     boards ±0.08 in diameter and ±0.1 in place;
//   - turned metal standoffs are ±0.1 long, moulded nylon ones ±0.25;
//   - a height, length or diameter taken with callipers over parts, solder or sleeve is
//     good to ±0.2, a soft pack to ±0.5;
//   - a part stuck down by hand lies within ±1.0 of where it was meant;
//   - a motor lies within ±0.2 of its place: screw float plus hole position;
//   - a real prop runs within 1.2 % of its label.
const (
	tolMeasured  = 0.2
	tolPack      = 0.5
	tolPcbShare  = 0.10
	tolOutline   = 0.2
	tolBoardHole = 0.08
	tolPlace     = 0.1
	tolCut       = 0.1
	tolHole      = 0.1
	tolMetal     = 0.1
	tolNylon     = 0.25
	tolByHand    = 1.0
	tolMotor     = 0.2
	tolPropShare = 0.012

	// softTravel is how far a board in rubber grommets gives way when pushed: builders
	// leave 0.5 to 1.0 each way.
	softTravel = 0.5
	// escLeadRoom is the straight lead with its bend at each end of a single speed
	// controller: 8 to 12.
	escLeadRoom, escLeadTol = 10.0, 2.0
	// nutHeightMinus: nuts of ISO 4032 are up to 0.25 lower than the figure given, which
	// is the greatest; washers of ISO 7089 vary by ±0.05 in thickness.
	nutHeightMinus = 0.25
	washerTol      = 0.05
)

// stockTolerance returns the tolerance of sheet stock of thickness t in mm.
func stockTolerance(t float64) float64 {
	switch {
	case t <= 2.5:
		return 0.1
	case t <= 4:
		return 0.15
	}
	return 0.2
}

// standoffTolerance returns the length tolerance of a post or spacer by its material.
func standoffTolerance(material string) float64 {
	switch material {
	case "aluminium", "brass", "steel", "titanium":
		return tolMetal
	}
	return tolNylon
}

// tolRule is a default tolerance: abs in the unit of the dimension, share of its value.
type tolRule struct{ abs, share float64 }

// defaultTolerances says which figures of a part get which default. Figures that are
// not named (currents, masses, nominal hole circles) stay as they are.
func defaultTolerances() map[string]tolRule {
	measured := tolRule{abs: tolMeasured}
	return map[string]tolRule{
		"Body.Length": measured, "Body.Width": measured, "Body.Diameter": measured, "Body.Height": measured,
		"Body.Pcb": {share: tolPcbShare}, "Body.Above": measured, "Body.Below": measured,
		"Body.Edge": {abs: tolOutline}, "Zone.Height": measured,
		"SquarePattern.Hole": {abs: tolBoardHole}, "SquarePattern.Place": {abs: tolPlace},
		"Port.Axis": measured, "Port.Overhang": measured,
		"Motor.BellD": measured, "Motor.BodyH": measured, "Motor.OverallH": measured, "Motor.BellGap": measured,
		"Motor.BaseD": measured, "Motor.Stub": measured, "Motor.Shoulder": measured, "Motor.ThreadUsable": measured,
		"Prop.RealD": measured, "Prop.HubT": measured, "Prop.HubD": measured, "Prop.BelowHub": measured,
		"Prop.NominalD": {share: tolPropShare},
		"Camera.Width":  measured, "Camera.Height": measured, "Camera.Depth": measured, "Camera.LensD": measured,
		"Camera.LensLength": measured, "Camera.PivotBack": measured,
		"Antenna.Rod": measured, "Antenna.RodD": measured, "Antenna.Head": measured, "Antenna.HeadD": measured, "Antenna.Span": measured,
		"Pack.LeadRoom": measured,
		"Standoff.OD":   {abs: tolMetal}, "Standoff.Corner": {abs: tolMetal},
		"Grommet.Tight": measured, "Grommet.Free": measured, "Grommet.Below": measured, "Grommet.Above": measured, "Grommet.OD": measured,
		"Strap.Thickness": measured, "Strap.BuckleT": measured, "Strap.BuckleW": measured, "Strap.Width": measured,
		"Tie.Thickness": measured, "Tie.HeadH": measured, "Tie.Width": measured,
		"Cushion.Free": measured, "Cushion.Tight": measured,
		"Sleeve.Wall":     {abs: 0.1},
		"Material.CutTol": {abs: tolCut}, "Material.HoleTol": {abs: tolHole}, "Material.PlaceTol": {abs: tolPlace},
	}
}

// copyPlan says which fields of a struct are dimensions, and which are slices of
// structs that hold some.
type copyPlan struct {
	dims   []plannedDim
	slices []plannedSlice
}

type plannedDim struct {
	index int
	rule  tolRule
	known bool
}

type plannedSlice struct {
	index int
	plan  *copyPlan
}

// copyPlans lists the plan of every block of a part, made once.
var copyPlans = sync.OnceValue(func() map[reflect.Type]*copyPlan {
	rules := defaultTolerances()
	dim := reflect.TypeFor[*shapes.Dim]()
	plans := map[reflect.Type]*copyPlan{}
	var plan func(t reflect.Type) *copyPlan
	plan = func(t reflect.Type) *copyPlan {
		p := &copyPlan{}
		for i := range t.NumField() {
			f := t.Field(i)
			switch {
			case f.Type == dim:
				rule, known := rules[t.Name()+"."+f.Name]
				p.dims = append(p.dims, plannedDim{i, rule, known})
			case f.Type.Kind() == reflect.Slice && f.Type.Elem().Kind() == reflect.Struct:
				if q := plan(f.Type.Elem()); len(q.dims) > 0 {
					p.slices = append(p.slices, plannedSlice{i, q})
				}
			case f.Type.Kind() == reflect.Pointer && f.Type.Elem().Kind() == reflect.Struct && t == reflect.TypeFor[shapes.Part]():
				plans[f.Type.Elem()] = plan(f.Type.Elem())
			}
		}
		return p
	}
	t := reflect.TypeFor[shapes.Part]()
	plans[t] = plan(t)
	return plans
})

// filler copies parts for one assembly with the default tolerances filled in.
//
// Every use of a part gets dimensions of its own: two spacers of one kind are cut
// apart and their errors do not cancel. Figures whose spread is what a buyer meets
// across makers (Range) are shared by all uses, since the four motors of a craft are
// of one make.
type filler struct {
	shared map[*shapes.Dim]*shapes.Dim
}

// part returns a copy of p for one place in the assembly, nil for nil.
func (f *filler) part(p *shapes.Part) *shapes.Part {
	if p == nil {
		return nil
	}
	c := *p
	plans := copyPlans()
	v := reflect.ValueOf(&c).Elem()
	f.fields(v, plans[v.Type()])
	for i := range v.NumField() {
		b := v.Field(i)
		if b.Kind() != reflect.Pointer || b.IsNil() {
			continue
		}
		plan := plans[b.Type().Elem()]
		if plan == nil || len(plan.dims)+len(plan.slices) == 0 {
			continue
		}
		own := reflect.New(b.Type().Elem())
		own.Elem().Set(b.Elem())
		f.fields(own.Elem(), plan)
		b.Set(own)
	}
	f.complete(&c)
	return &c
}

func (f *filler) fields(v reflect.Value, plan *copyPlan) {
	for _, d := range plan.dims {
		at := v.Field(d.index)
		if !at.IsNil() {
			at.Set(reflect.ValueOf(f.dim(at.Interface().(*shapes.Dim), d.rule)))
		}
	}
	for _, s := range plan.slices {
		at := v.Field(s.index)
		if at.Len() == 0 {
			continue
		}
		own := reflect.MakeSlice(at.Type(), at.Len(), at.Len())
		reflect.Copy(own, at)
		for i := range own.Len() {
			f.fields(own.Index(i), s.plan)
		}
		at.Set(own)
	}
}

// dim returns the dimension to use in place of d: with a tolerance, if d has none.
func (f *filler) dim(d *shapes.Dim, t tolRule) *shapes.Dim {
	if d == nil {
		return nil
	}
	if d.Range {
		if s := f.shared[d]; s != nil {
			return s
		}
	}
	c := *d
	fillTol(&c, max(t.abs, t.share*abs(d.Value)))
	if d.Range {
		if f.shared == nil {
			f.shared = map[*shapes.Dim]*shapes.Dim{}
		}
		f.shared[d] = &c
	}
	return &c
}

// fillTol gives d the tolerance ± tol if the file gave it none.
func fillTol(d *shapes.Dim, tol float64) {
	if d.HasTol || d.Missing || tol <= 0 || d.Plus > 0 || d.Minus > 0 {
		return
	}
	d.Plus, d.Minus = tol, tol
	d.TolSource = shapes.Assumed
	d.HasTol = true
}

// complete adds the figures that follow from others, or that every part of the kind
// has.
func (f *filler) complete(p *shapes.Part) {
	if b := p.Body; b != nil && b.Shape == shapes.BoardBody && b.Edge == nil {
		b.Edge = assumed(p.Name+" outline", 0, tolOutline)
	}
	if s := p.Square; s != nil && s.Place == nil {
		s.Place = assumed(p.Name+" hole position", 0, tolPlace)
	}
	if q := p.Prop; q != nil && q.RealD == nil && q.NominalD != nil {
		d := *q.NominalD
		d.Name = p.Name + " real diameter"
		fillTol(&d, tolPropShare*d.Value)
		q.RealD = &d
	}
	if m := p.Material; m != nil {
		if m.CutTol == nil {
			m.CutTol = assumed(p.Name+" cut edge", 0, tolCut)
		}
		if m.HoleTol == nil {
			m.HoleTol = assumed(p.Name+" hole diameter", 0, tolHole)
		}
		if m.PlaceTol == nil {
			m.PlaceTol = assumed(p.Name+" hole position", 0, tolPlace)
		}
	}
}

// assumed makes a dimension of the tool's own: value ± tol in mm.
func assumed(name string, value, tol float64) *shapes.Dim {
	return &shapes.Dim{
		Name: name, Value: value, Plus: tol, Minus: tol, Unit: shapes.MM,
		Source: shapes.Assumed, TolSource: shapes.Assumed, HasTol: true,
	}
}

// missing makes a dimension that nobody gave: verdicts that need it are unknown.
func missing(name string) *shapes.Dim {
	return &shapes.Dim{Name: name, Unit: shapes.MM, Missing: true, Source: shapes.Assumed}
}

// or returns d, or a missing dimension of that name in its place.
func or(d *shapes.Dim, name string) *shapes.Dim {
	if d == nil {
		return missing(name)
	}
	return d
}

// value returns the nominal figure of d, 0 for nil.
func value(d *shapes.Dim) float64 {
	if d == nil {
		return 0
	}
	return d.Value
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
