package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

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
	How:      "Moment sum over all components, in mm in plan from the mean of the rotor axes. Uncertain masses enter with their lever arm, the pack's slide with its share of the whole mass.",
	Fix:      "Slide the pack, or move the stack or camera the other way.",
	Run:      runBalance,
}

func runBalance(p *Pass) {
	asm := p.Asm
	if len(asm.Rotors) == 0 {
		p.Nothing("the build has no rotors, so there is no thrust centre")
		return
	}
	var cx, cy, mx, my, mz, m float64
	for _, r := range asm.Rotors {
		cx += r.At.X / float64(len(asm.Rotors))
		cy += r.At.Y / float64(len(asm.Rotors))
	}
	for _, c := range asm.Components {
		g := c.Mass.Grams.Nominal()
		m += g
		mx += g * c.Mass.X
		my += g * c.Mass.Y
		mz += g * c.Mass.Z
	}
	if m <= 0 {
		p.Nothing("no component has a mass")
		return
	}
	gx, gy, gz := mx/m, my/m, mz/m
	off := math.Hypot(gx-cx, gy-cy)
	measure := layout.Fixed(off)
	if off > 1e-9 {
		measure = measure.Add(massSpread(asm, cx, cy, off, m, r2.Point{X: (gx - cx) / off, Y: (gy - cy) / off}))
	} else {
		// Balanced as drawn: the spread may push the centre any way, so take the worst way.
		worst := 0.0
		for k := range 8 {
			a := float64(k) * math.Pi / 8
			s := massSpread(asm, cx, cy, 0, m, r2.Point{X: math.Cos(a), Y: math.Sin(a)})
			lo, hi := s.Worst()
			if w := math.Max(hi, -lo); w > worst {
				worst, measure = w, layout.Fixed(off).Add(s)
			}
		}
	}
	base := span(asm)
	f := layout.Finding{
		Unit: shapes.MM, AtMost: true, HasPlace: true,
		A: r3.Vector{X: gx, Y: gy, Z: gz}, B: r3.Vector{X: cx, Y: cy, Z: gz},
		Near: "centre of mass", Subjects: heaviest(asm),
	}
	if len(asm.Packs) > 0 {
		f.Subjects = []string{asm.Packs[0].ID}
		f.Pos = asm.Packs[0].Pos
	}
	f = f.Judge(measure, p.Need(balanceBad*base))
	f.Message = fmt.Sprintf("centre of mass %.1f mm from the thrust centre (%s), %.1f %% of the %.0f mm wheelbase",
		off, direction(gx-cx, gy-cy), 100*off/base, base)
	if off > balanceGood*base && f.Verdict == layout.OK {
		f.Message += "; 3 % or less flies better"
	}
	if f.Verdict != layout.OK && len(asm.Packs) > 0 {
		pack := asm.Packs[0]
		f.Fix = fmt.Sprintf("move %s %.0f mm %s, or as much moment of something else", pack.ID,
			off*m/pack.Mass.Grams.Nominal(), direction(cx-gx, cy-gy))
	} else if f.Verdict != layout.OK {
		f.Fix = fmt.Sprintf("move %.0f g mm of moment %s", off*m, direction(cx-gx, cy-gy))
	}
	p.Report(f)
}

// massSpread returns what moves the centre of mass along the unit direction u: a gram
// more at a place t mm along u from the thrust centre moves a centre at off by
// (t - off)/m, the derivative of Σmt/Σm. A Dim that several components share (four
// motors of one class) enters once with the sum of its levers. The pack's slide enters
// with the pack's share of the whole mass. All terms have the nominal 0.
func massSpread(asm *layout.Assembly, cx, cy, off, m float64, u r2.Point) layout.Form {
	var levers layout.Form
	for _, c := range asm.Components {
		t := (c.Mass.X-cx)*u.X + (c.Mass.Y-cy)*u.Y
		for _, term := range c.Mass.Grams.Terms {
			levers = levers.Plus(term.Dim, term.Coef*(t-off)/m)
		}
	}
	var out layout.Form
	for _, t := range levers.Terms {
		d := *t.Dim
		d.Value = 0
		out = out.Plus(&d, t.Coef)
	}
	for _, pack := range asm.Packs {
		if pack.Slide <= 0 {
			continue
		}
		along := math.Abs(pack.Pose.Direction(r2.Point{X: 1}).Dot(u))
		creep := &shapes.Dim{
			Name: pack.ID + " slide", Unit: shapes.MM, Plus: pack.Slide, Minus: pack.Slide,
			Source: shapes.Given, HasTol: true, Pos: pack.Pos,
		}
		out = out.Plus(creep, along*pack.Mass.Grams.Nominal()/m)
	}
	return out
}

// span returns the wheelbase in mm: as the build gives it, else the greatest distance
// between two rotor axes.
func span(asm *layout.Assembly) float64 {
	if asm.Wheelbase != nil && asm.Wheelbase.Value > 0 {
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

// direction names a horizontal direction in the words of the craft.
func direction(x, y float64) string {
	if math.Hypot(x, y) < 1e-9 {
		return "nowhere"
	}
	switch a := math.Atan2(y, x) * 180 / math.Pi; {
	case a > -22.5 && a <= 22.5:
		return "forward"
	case a > 22.5 && a <= 67.5:
		return "forward left"
	case a > 67.5 && a <= 112.5:
		return "left"
	case a > 112.5 && a <= 157.5:
		return "rear left"
	case a > -67.5 && a <= -22.5:
		return "forward right"
	case a > -112.5 && a <= -67.5:
		return "right"
	case a > -157.5 && a <= -112.5:
		return "rear right"
	}
	return "to the rear"
}
