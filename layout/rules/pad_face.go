package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

const (
	sideTurn    = 135.0 // degrees between a pad's side and where its lead comes from
	sideTurnTol = 45.0
	sideNear    = 20.0 // mm: nearer than this a direction means nothing
	thickGauge  = 20.0 // AWG: wires from here on need 5 mm and more to turn
	moundOver   = 1.5  // mm of solder over a lead that lies on its pad
	moundTol    = 0.5
)

var padFace = &Rule{
	Name:     "pad-face",
	Group:    "wires",
	Question: "do pads face where their leads come from, with room for the solder",
	Why:      "A board whose pack pads face the nose makes a thick lead loop over the whole stack; a lead on a face without room stands against the board above, and its solder goes through the insulation.",
	Need:     "A pad's side within 90° of the direction in which its thick lead runs, 135° at most; over each soldered lead its own diameter and 1 to 2 mm of solder to the next thing. Both are habits of builders.",
	How:      "Degrees in plan between the way out of the pads and the line to the other end, for pack and motor leads of 20 AWG or thicker that run 20 mm or more sideways; the quarter turn of the board that mends it is told. In mm from the pad's face to the next body over it, as high as that is there.",
	Fix:      "Turn the board and set its angle in the firmware, solder on the other face, or bring the lead in low from the side.",
	Run:      runPadFace,
}

func runPadFace(p *Pass) {
	if p.noWires() {
		return
	}
	worst := map[string]*worstOf{}
	var owners []string
	for _, c := range p.Asm.Circuits {
		thick := isThick(c)
		for _, from := range []bool{true, false} {
			ends, far := endsOf(c, from)
			if len(ends) == 0 || ends[0].Pad == nil || ends[0].Port != nil {
				continue
			}
			if thick {
				p.faces(c, ends, far)
			}
			for i, t := range ends {
				f, ok := p.moundRoom(c, t, c.Wires[i])
				if !ok {
					continue
				}
				if worst[t.Owner.ID] == nil {
					worst[t.Owner.ID] = &worstOf{}
					owners = append(owners, t.Owner.ID)
				}
				worst[t.Owner.ID].add(f)
			}
		}
	}
	for _, id := range owners {
		p.Report(worst[id].f)
	}
	if len(p.findings) == 0 {
		p.Nothing("no thick lead is soldered to a pad that faces sideways, and nothing lies over a soldered one")
	}
}

// isThick reports whether a circuit is of motor or pack leads that need room to turn.
func isThick(c *layout.Circuit) bool {
	if c.Kind != layout.PackCircuit && c.Kind != layout.MotorCircuit {
		return false
	}
	for _, w := range c.Wires {
		if w.Gauge != nil && w.Gauge.Wire != nil && w.Gauge.Wire.Gauge > 0 && w.Gauge.Wire.Gauge <= thickGauge {
			return true
		}
	}
	return false
}

// endsOf returns the terminals of a circuit at one end, and those at the other.
func endsOf(c *layout.Circuit, from bool) (near, far []*layout.Terminal) {
	for _, w := range c.Wires {
		a, b := w.From, w.To
		if !from {
			a, b = b, a
		}
		near, far = append(near, a), append(far, b)
	}
	return near, far
}

func centre(list []*layout.Terminal) r2.Point {
	var sum r2.Point
	for _, t := range list {
		sum = sum.Add(t.At)
	}
	return sum.Mul(1 / float64(len(list)))
}

// angleOff is the angle in degrees, 0 to 180, between a direction and the way to a point.
func angleOff(dir, from, to r2.Point) float64 {
	d := to.Sub(from)
	return math.Abs(geom.Turn(dir, d).Degrees())
}

// faces judges whether the pads of one end look towards the other.
func (p *Pass) faces(c *layout.Circuit, ends, far []*layout.Terminal) {
	t := ends[0]
	here, there := centre(ends), centre(far)
	if t.Dir.Norm() < 0.5 || there.Sub(here).Norm() < sideNear || t.Owner.Kind == "camera" {
		return
	}
	off := angleOff(t.Dir, here, there)
	f := p.circuitAt(c, shapes.Deg)
	f.Subjects = []string{t.Owner.ID, far[0].Owner.ID}
	f.Near = "at " + p.call(t.Owner.ID)
	f.AtMost = true
	f = at(f.Judge(layout.Fixed(off), limitOf("turn of a lead at its pad", sideTurn, 0, sideTurnTol, shapes.Deg)), t, far[0])
	f.Message = fmt.Sprintf("the pads of %s for %s face %s, and the lead runs %s", p.call(t.Owner.ID), p.call(far[0].Owner.ID), looking(t.Dir), heading(there.Sub(here)))
	if r := c.Route; r != nil && r.Blocked == nil {
		straight := spot(t).Sub(spot(far[0])).Norm()
		f.Message += fmt.Sprintf(": its way is %s long, the straight line %s", mm(r.Length), mm(straight))
	}
	if mustMend(&f) {
		f.Fix = p.quarterTurn(t, here, there, off)
	}
	p.Report(f)
}

// quarterTurn says which turn of a board brings its pads nearest to looking at the other
// end.
func (p *Pass) quarterTurn(t *layout.Terminal, here, there r2.Point, now float64) string {
	best, turn := now, 0
	for _, k := range []int{90, 180, 270} {
		pose := geom.Pose2{Turn: s1.Angle(float64(k)) * s1.Degree}
		pivot := t.Owner.Pose.Shift
		at := pose.Apply(here.Sub(pivot)).Add(pivot)
		if off := angleOff(pose.Direction(t.Dir), at, there); off < best-1e-6 {
			best, turn = off, k
		}
	}
	who := p.call(t.Owner.ID)
	way := map[int]string{90: "a quarter to the left", 180: "half round", 270: "a quarter to the right"}[turn]
	if way == "" {
		return fmt.Sprintf("bring the lead to %s from the side that its pads face", who)
	}
	s := fmt.Sprintf("turn %s %s", who, way)
	if part := t.Owner.Part; part != nil && (part.Kind == shapes.Controller || part.Kind == shapes.AllInOne) {
		s += " and set the angle in the firmware"
	}
	return s
}

// moundRoom judges the room between a soldered pad and the next thing over it. ok is false
// where nothing lies over it.
func (p *Pass) moundRoom(c *layout.Circuit, t *layout.Terminal, w *layout.Wire) (layout.Finding, bool) {
	if t.Up == 0 || w.Gauge == nil || w.Gauge.Wire == nil {
		return layout.Finding{}, false
	}
	var gap layout.Form
	var over *layout.Body
	reach := math.Max(t.Size/2, 0.5)
	most, z := math.Inf(1), t.Z.Nominal()
	for _, b := range p.Asm.Bodies {
		if b.Of == t.Owner.ID || b.Soft || b.Kind == layout.CushionBody || b.Kind == layout.LeadBody {
			continue
		}
		// Most bodies are told by their nominal heights alone.
		rough := b.Bottom.Nominal() - z
		if t.Up < 0 {
			rough = z - b.Top.Nominal()
		}
		if rough < -2*touch || rough > most+touch || !nearPlan(b.Plan, t.At, reach) {
			continue
		}
		g := b.Bottom.Sub(t.Z)
		if t.Up < 0 {
			g = t.Z.Sub(b.Top)
		}
		if g.Nominal() < -touch || over != nil && g.Nominal() >= gap.Nominal() {
			continue
		}
		if _, dist, inside := edgeOf(b.Plan, t.At); inside || dist < reach {
			gap, over, most = g, b, g.Nominal()
		}
	}
	if over == nil {
		return layout.Finding{}, false
	}
	od := layout.Of(figure(w.Gauge.Wire.OD, w.Gauge.Name+" outside", shapes.MM))
	f := p.circuitAt(c, shapes.MM)
	f.Subjects = []string{t.Owner.ID, over.Of}
	f.Near = "at " + p.call(t.Owner.ID)
	f = f.Judge(gap, od.Add(limitOf("solder over a lead on its pad", moundOver, moundTol, moundTol, shapes.MM)))
	f.HasPlace = true
	f.A = spot(t)
	f.B = lift(t.At, f.A.Z+float64(t.Up)*gap.Nominal())
	f.Message = fmt.Sprintf("%s to %s has %s between its pad and %s", wireWords(w), p.call(t.Owner.ID), mm(gap.Nominal()), p.piece(over))
	f.Fix = unknownFix(&f)
	if mustMend(&f) {
		f.Fix = fmt.Sprintf("%s more between the two, or the lead brought in low from the side and soldered flat", mm(up(-f.Worst, 0.5)))
	}
	return f, true
}

// nearPlan reports whether the box of a plan comes as near to a point as that.
func nearPlan(plan []geom.Region, at r2.Point, mm float64) bool {
	for i := range plan {
		if b := plan[i].Bound().Expand(mm); b.Contains(at) {
			return true
		}
	}
	return false
}

func wireWords(w *layout.Wire) string {
	if w.Gauge.Wire.Gauge > 0 {
		return fmt.Sprintf("%s of %s AWG", spoken(w.Way), num(w.Gauge.Wire.Gauge))
	}
	return spoken(w.Way)
}
