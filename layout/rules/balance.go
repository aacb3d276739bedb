package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// Shares of the wheelbase by which the centre of mass may miss the thrust centre: up to
// 3 % flies well, at 6 % front and rear motors run at clearly different speeds.
const (
	balanceGood = 0.03
	balanceBad  = 0.06
)

var balance = &Rule{
	Name:     "balance",
	Group:    "mass",
	Question: "is the centre of mass near the thrust centre, wherever the pack creeps",
	Why:      "Off centre, front and rear motors run at different speeds: one pair gets hot, the nose drops, tuning drifts.",
	Need:     "At most 6 % of the wheelbase in plan; 3 % or less is good and the message says when it is more.",
	How:      "Moment sum over all components, in mm in plan from the mean of the rotor axes. Uncertain masses enter with their lever arm, the pack's slide with its share of the whole mass; the worst case is the farthest place that all of them together can push the centre to.",
	Fix:      "Slide the pack, or move the stack or camera the other way.",
	Run:      runBalance,
}

// push is what one dimension can do to the centre of mass: it moves by way (mm in plan)
// for each unit of the dimension.
type push struct {
	dim *shapes.Dim // nominal 0
	way r2.Point
}

func runBalance(p *Pass) {
	asm := p.Asm
	base := span(asm)
	switch {
	case len(asm.Rotors) == 0:
		p.Nothing("the build has no rotors, so there is no thrust centre")
		return
	case base <= touch:
		p.Nothing("all rotors share one axis, so there is no wheelbase to measure by")
		return
	}
	var thrust, sum r2.Point
	var high, m float64
	for _, r := range asm.Rotors {
		thrust = thrust.Add(r.At.Mul(1 / float64(len(asm.Rotors))))
	}
	for _, c := range asm.Components {
		g := c.Mass.Grams.Nominal()
		m += g
		sum = sum.Add(r2.Point{X: c.Mass.X, Y: c.Mass.Y}.Mul(g))
		high += g * c.Mass.Z
	}
	if m <= 0 {
		p.Nothing("no component has a mass")
		return
	}
	centre := sum.Mul(1 / m)
	off := centre.Sub(thrust)
	pushes := pushesOn(asm, centre, m)
	far, way := farthest(off, pushes)
	measure := layout.Fixed(off.Norm())
	spread := spreadAlong(pushes, way)
	if _, hi := spread.Worst(); hi > touch {
		// Along the way to the farthest place the centre as drawn is no farther than off.
		spread = spread.Scale((far - off.Norm()) / hi)
	}
	f := layout.Finding{
		Unit: shapes.MM, AtMost: true, HasPlace: true, Near: "centre of mass",
		A: lift(centre, high/m), B: lift(thrust, high/m), Subjects: heaviest(asm), Pos: asm.Rotors[0].Pos,
	}
	if len(asm.Packs) > 0 {
		f.Subjects, f.Pos = []string{asm.Packs[0].ID}, asm.Packs[0].Pos
	}
	f = f.Judge(measure.Add(spread), p.Need(balanceBad*base))
	f.Message = fmt.Sprintf("the centre of mass lies %s from the thrust centre, %s %% of the wheelbase of %s, %s at most", mm(f.Measured),
		num(math.Round(1000*f.Measured/base)/10), mm(base), mm(f.Needed))
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = "where the centre of mass lies hangs on a dimension that is missing"
		f.Fix = unknownFix(&f)
	case f.Measured > balanceGood*base+touch && f.Verdict == layout.OK:
		f.Message += "; 3 % or less flies better"
	}
	if mustMend(&f) {
		f.Fix = p.rebalance(off, m, pushes, f.Needed)
	}
	p.Report(f)
}

// pushesOn lists what moves the centre of mass. A gram more at r moves the centre c of m
// grams by (r - c)/m, the derivative of Σmr/Σm. A dimension that several components share
// (four motors of one class) enters once with all of its levers. A pack that slides moves
// it by the pack's share of the whole mass.
func pushesOn(asm *layout.Assembly, c r2.Point, m float64) (out []push) {
	index := map[*shapes.Dim]int{}
	var dims []*shapes.Dim
	for _, q := range asm.Components {
		lever := r2.Point{X: q.Mass.X, Y: q.Mass.Y}.Sub(c).Mul(1 / m)
		for _, t := range q.Mass.Grams.Terms {
			k, ok := index[t.Dim]
			if !ok {
				k = len(out)
				index[t.Dim] = k
				dims = append(dims, t.Dim)
				out = append(out, push{})
			}
			out[k].way = out[k].way.Add(lever.Mul(t.Coef))
		}
	}
	for k := range out {
		d := *dims[k]
		d.Value = 0
		out[k].dim = &d
	}
	for _, pack := range asm.Packs {
		if pack.Slide <= 0 {
			continue
		}
		creep := &shapes.Dim{
			Name: pack.ID + " slide", Unit: shapes.MM, Plus: pack.Slide, Minus: pack.Slide,
			Source: shapes.Given, HasTol: true, Pos: pack.Pos,
		}
		share := pack.Mass.Grams.Nominal() / m
		out = append(out, push{creep, pack.Pose.Direction(r2.Point{X: 1}).Mul(share)})
	}
	return out
}

// spreadAlong returns the pushes as a form along a unit direction, of nominal 0.
func spreadAlong(pushes []push, u r2.Point) (out layout.Form) {
	for _, q := range pushes {
		k := q.way.Dot(u)
		if q.dim.Missing && math.Abs(k) < 1e-9 {
			k = 1e-9 // what is missing stays in the sum, however it lies
		}
		out = out.Plus(q.dim, k)
	}
	return out
}

// farthest returns how far from the thrust centre the pushes can bring a centre of mass
// that is off by this much, and in which direction.
func farthest(off r2.Point, pushes []push) (most float64, way r2.Point) {
	moves := make([][2]r2.Point, len(pushes))
	for i, q := range pushes {
		moves[i] = [2]r2.Point{q.way.Mul(-q.dim.Minus), q.way.Mul(q.dim.Plus)}
	}
	at := geom.FarthestSum(off, moves)
	return at.Norm(), unit(at, r2.Point{X: 1})
}

// rebalance says how to bring the centre of mass back: by moving the pack, if it is enough
// to centre it, else by letting it creep less.
func (p *Pass) rebalance(off r2.Point, m float64, pushes []push, need float64) string {
	back := heading(off.Mul(-1))
	if len(p.Asm.Packs) == 0 {
		return fmt.Sprintf("move %s g mm of moment %s, such as %s g by 10 mm", num(math.Ceil(off.Norm()*m)), back, num(math.Ceil(off.Norm()*m/10)))
	}
	pack := p.Asm.Packs[0]
	share := pack.Mass.Grams.Nominal() / m
	name := p.call(pack.ID)
	var ways []string
	if share > 0 && off.Norm() > touch {
		ways = append(ways, fmt.Sprintf("move %s %s %s", name, mm(math.Round(10*off.Norm()/share)/10), back))
	}
	if left, _ := farthest(r2.Point{}, pushes); left > need && share > 0 && pack.Slide > 0 {
		if slide := down(pack.Slide-(left-need)/share, 0.5); slide >= 0 {
			ways = append(ways, fmt.Sprintf("let it creep %s at most (two straps, a rough pad, stop posts)", mm(slide)))
		}
	}
	if len(ways) == 0 {
		return fmt.Sprintf("move as much moment as %s g by 10 mm %s", num(math.Ceil(off.Norm()*m/10)), back)
	}
	return speak(ways)
}

// span returns the wheelbase in mm: as the build gives it, else the greatest distance
// between two rotor axes.
func span(asm *layout.Assembly) float64 {
	if !isMissing(asm.Wheelbase) && asm.Wheelbase.Value > 0 {
		return asm.Wheelbase.Value
	}
	most := 0.0
	for i, a := range asm.Rotors {
		for _, b := range asm.Rotors[i+1:] {
			most = math.Max(most, a.At.Sub(b.At).Norm())
		}
	}
	return most
}
