package rules

import (
	"fmt"
	"math"
	"sort"

	"github.com/golang/geo/r3"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

const (
	besideNear  = 10.0 // mm between middles within which leads count as side by side
	besideStep  = 1.0  // mm between the places looked at
	besideEnds  = 10.0 // mm at both ends that do not count: at their pads all leads are close
	besideAlong = 0.85 // cosine of the angle up to which two leads run along each other: 32°
)

var signalBesidePower = &Rule{
	Name:     "signal-beside-power",
	Group:    "wires",
	Question: "how far do signal and video leads run beside motor and pack leads",
	Why:      "Motor and pack leads carry hard pulses: beside them a camera's picture gets lines and a serial line errors.",
	Need:     "None of its own: the trade names no distance. Where a part states one (`quiet:`), its signal and video leads must keep it; else the longest runs side by side are told with what has nothing to judge.",
	How:      "Along the routed middles, in steps of 1 mm: where the two run within 32° of each other, 10 mm from either end of the signal's lead on, the distance of the middles in mm. Side by side means within 10 mm.",
	Fix:      "Another side of the arm, the other face of the plate, or a crossing at right angles.",
	Run:      runSignalBesidePower,
}

// beside is how one signal lead runs beside one power lead.
type beside struct {
	quiet, loud *layout.Circuit
	long        float64 // mm within besideNear
	least       float64 // mm, +Inf if they never run along each other
	a, b        r3.Vector
}

func runSignalBesidePower(p *Pass) {
	if p.noWires() {
		return
	}
	var told []beside
	quiet, unrouted := 0, 0
	for _, c := range p.Asm.Circuits {
		if !isQuiet(c) {
			continue
		}
		quiet++
		if c.Route == nil || c.Route.Blocked != nil {
			unrouted++
		}
		need := quietNeed(c)
		if need != nil && (c.Route == nil || c.Route.Blocked != nil) {
			f := p.circuitAt(c, shapes.MM).Judge(layout.Of(figure(nil, "route of "+c.Label, shapes.MM)), layout.Of(need))
			f.Message = fmt.Sprintf("%s have no way yet, so how near they come to power leads cannot be told", p.bundle(c))
			f.Fix = "find them a way: see wire-route"
			p.Report(f)
			continue
		}
		var worst beside
		for _, d := range p.Asm.Circuits {
			if d.Kind != layout.MotorCircuit && d.Kind != layout.PackCircuit {
				continue
			}
			b, ok := runsBeside(c, d)
			if !ok {
				continue
			}
			if b.long > 0 {
				told = append(told, b)
			}
			if worst.quiet == nil || b.least < worst.least {
				worst = b
			}
		}
		if need != nil {
			p.keepsOff(c, worst, need)
		}
	}
	if len(p.findings) > 0 {
		return
	}
	switch {
	case quiet == 0:
		p.Nothing("no wires carry signals or video")
	case unrouted == quiet:
		p.Nothing("no part states how far its signals must stay from power leads, and no signal lead has a route")
	case len(told) == 0:
		p.Nothing("no part states how far its signals must stay from power leads, and none runs within %s of one", mm(besideNear))
	default:
		sort.SliceStable(told, func(i, j int) bool { return tidy(told[i].long) > tidy(told[j].long) })
		var words []string
		for _, b := range told[:min(3, len(told))] {
			words = append(words, fmt.Sprintf("%s %s beside %s", b.quiet.Label, mm(math.Round(b.long)), b.loud.Label))
		}
		p.Nothing("no part states how far its signals must stay from power leads; within %s run %s", mm(besideNear), speak(words))
	}
}

// isQuiet reports whether a circuit carries signals or video.
func isQuiet(c *layout.Circuit) bool {
	if c.Kind == layout.MotorCircuit || c.Kind == layout.PackCircuit || c.Kind == layout.SupplyCircuit {
		return false
	}
	for _, w := range c.Wires {
		switch w.Role {
		case shapes.SignalRole, shapes.VideoRole:
			return true
		}
	}
	return false
}

// quietNeed is the greater of what the parts at both ends ask for; nil if neither does.
func quietNeed(c *layout.Circuit) *shapes.Dim {
	var out *shapes.Dim
	for _, e := range []*layout.Component{c.From, c.To} {
		if e.Part != nil && e.Part.Quiet != nil && (out == nil || e.Part.Quiet.Value > out.Value) {
			out = e.Part.Quiet
		}
	}
	return out
}

func (p *Pass) keepsOff(c *layout.Circuit, b beside, need *shapes.Dim) {
	f := p.circuitAt(c, shapes.MM)
	if b.quiet == nil || math.IsInf(b.least, 1) {
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("%s run beside no motor or pack lead", p.bundle(c))
		p.Report(f)
		return
	}
	f = f.Judge(layout.Fixed(b.least), layout.Of(need))
	f.HasPlace, f.A, f.B = true, b.a, b.b
	f.Message = fmt.Sprintf("%s come within %s of those from %s to %s, and run beside them for %s", p.bundle(c), mm(b.least), p.call(b.loud.From.ID), p.call(b.loud.To.ID), mm(math.Round(b.long)))
	f.Fix = unknownFix(&f)
	if mustMend(&f) {
		f.Fix = "route them over another side with `via:`, or let them cross at right angles"
	}
	p.Report(f)
}

// runsBeside measures how the quiet circuit runs beside the loud one; ok is false where one
// of them has no route.
func runsBeside(quiet, loud *layout.Circuit) (beside, bool) {
	q, l := quiet.Route.Line(), loud.Route.Line()
	if len(q) < 2 || len(l) < 2 {
		return beside{}, false
	}
	var total float64
	for i := 1; i < len(q); i++ {
		total += q[i].Sub(q[i-1]).Norm()
	}
	out := beside{quiet: quiet, loud: loud, least: math.Inf(1)}
	var done float64
	for i := 1; i < len(q); i++ {
		d := q[i].Sub(q[i-1])
		length := d.Norm()
		n := max(1, int(math.Ceil(length/besideStep)))
		step := length / float64(n)
		for k := range n {
			s := done + (float64(k)+0.5)*step
			if s < besideEnds || s > total-besideEnds {
				continue
			}
			at := q[i-1].Add(d.Mul((float64(k) + 0.5) / float64(n)))
			foot, dist := nearestAlong(l, at, d)
			if math.IsInf(dist, 1) {
				continue
			}
			if dist <= besideNear {
				out.long += step
			}
			if dist < out.least {
				out.least, out.a, out.b = dist, at, foot
			}
		}
		done += length
	}
	return out, true
}

// nearestAlong returns the point of a chain that is nearest to p among its pieces that run
// along dir; +Inf if none does.
func nearestAlong(line []r3.Vector, p, dir r3.Vector) (foot r3.Vector, dist float64) {
	dist = math.Inf(1)
	for i := 1; i < len(line); i++ {
		e := line[i].Sub(line[i-1])
		n := e.Norm()
		if n < 1e-9 || math.Abs(e.Dot(dir)) < besideAlong*n*dir.Norm() {
			continue
		}
		if q, _, d := (geom.Line3{A: line[i-1], B: line[i]}).Nearest(p); d < dist {
			foot, dist = q, d
		}
	}
	return foot, dist
}
