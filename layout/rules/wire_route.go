package rules

import (
	"fmt"
	"strings"

	"dryfit/layout"
	"dryfit/shapes"
)

var wireRoute = &Rule{
	Name:     "wire-route",
	Group:    "wires",
	Question: "is there a way for every wire through the craft as built",
	Why:      "A wire that finds no way is led over the stack, under a screw head or through a disc when everything else is already soldered.",
	Need:     "The bundle's width with its clearance to what it passes: none from foam, straps and bare boards, 0.3 mm from posts, cases and boards' parts, 0.5 from metal and within the edge of the plate that it lies on, 2 from what is hot or turns.",
	How:      "The shortest way from pad to pad, over the faces of plates, over and under boards, round plate edges and through openings, with the bend that the gauge allows; where there is none, the gap that would have to open least, in mm.",
	Fix:      "Open a slot, raise the board, turn it so that its pads face the lead, or lead the wire another way with `via:`.",
	Run:      runWireRoute,
}

func runWireRoute(p *Pass) {
	if len(p.Asm.Circuits) == 0 {
		p.Nothing("the build has no `wires:`")
		return
	}
	for _, c := range p.Asm.Circuits {
		p.Report(p.route(c))
	}
}

// wireFinding is what all findings on a circuit have in common.
func wireFinding(c *layout.Circuit) layout.Finding {
	f := layout.Finding{Pos: c.Pos, Near: "wires " + c.Label}
	if routed(c) && c.Kind != layout.CoaxCircuit { // the others have no mass, and are no component of their own
		f.Subjects = append(f.Subjects, c.ID)
	}
	for _, end := range []*layout.Component{c.From, c.To} {
		if end != nil {
			f.Subjects = append(f.Subjects, end.ID)
		}
	}
	return f
}

// fromTo names both ends of a circuit.
func (p *Pass) fromTo(c *layout.Circuit) string {
	return fmt.Sprintf("%s, from %s to %s", wiresOf(c), p.call(c.From.ID), p.call(c.To.ID))
}

// wiresOf is what a sentence calls a circuit: "the 3 wires motor-front-left".
func wiresOf(c *layout.Circuit) string {
	if len(c.Wires) == 1 {
		return "the wire " + c.Label
	}
	return fmt.Sprintf("the %d wires %s", len(c.Wires), c.Label)
}

// does gives a verb the form that goes with one wire or several: "runs", "run".
func does(c *layout.Circuit, verb string) string {
	if len(c.Wires) == 1 {
		return verb + "s"
	}
	return verb
}

// routed reports whether a circuit has a way, so that rules can measure along it; wire-route
// tells of those that have none.
func routed(c *layout.Circuit) bool {
	return c.Route != nil && c.Route.Blocked == nil && len(c.Route.Legs) > 0 && len(unplaced(c)) == 0
}

func (p *Pass) route(c *layout.Circuit) layout.Finding {
	f := wireFinding(c)
	if missing := unplaced(c); len(missing) > 0 {
		f.Verdict, f.Missing = layout.Unknown, missing
		f.Message = fmt.Sprintf("where %s %s hangs on a dimension that is missing", p.fromTo(c), does(c, "run"))
		f.Fix = unknownFix(&f)
		return f
	}
	if b := c.Route.Blocked; b != nil {
		f.HasPlace, f.A, f.B = true, lift(b.At[0], b.Z), lift(b.At[1], b.Z)
		f = f.Judge(layout.Fixed(b.Gap), layout.Fixed(b.Need))
		one, two := p.standing(b.Of[0]), p.standing(b.Of[1])
		f.Verdict = layout.Fail
		what := fmt.Sprintf("%s %s no way", p.fromTo(c), does(c, "find"))
		switch {
		case b.Of[0] == "" && b.Of[1] == "":
			f.Message = fmt.Sprintf("%s: nothing %s wide leads from where one end lies to the other", what, mm(b.Need))
			f.Fix = "open a slot in the plate between the two, or put an end elsewhere"
		case b.Enclosed || one == two:
			f.Message = fmt.Sprintf("%s: %s stands all round one end, with no gap of %s", what, one, mm(b.Need))
			f.Fix = fmt.Sprintf("move %s off that end, or put the end elsewhere", one)
			if strings.HasPrefix(b.Of[0], "plates.") {
				f.Fix = fmt.Sprintf("open %s there, or put the end elsewhere", one)
			}
		case b.Gap < touch:
			f.Message = fmt.Sprintf("%s: there is no gap between %s and %s, and %s is needed", what, one, two, mm(b.Need))
			f.Fix = fmt.Sprintf("move them %s apart, or lead the wires another way with `via:`", mm(up(b.Need, 0.1)))
		default:
			f.Message = fmt.Sprintf("%s: the gap between %s and %s is %s wide and %s is needed", what, one, two, mm(b.Gap), mm(b.Need))
			f.Fix = fmt.Sprintf("open that gap by %s, or lead the wires another way with `via:`", mm(up(b.Need-b.Gap, 0.1)))
		}
		return f
	}
	f.Verdict = layout.OK
	if line := c.Route.Line(); len(line) > 0 {
		at := line[len(line)/2]
		f.HasPlace, f.A, f.B = true, at, at
	}
	f.Message = fmt.Sprintf("%s %s %s%s", p.fromTo(c), does(c, "run"), mm(c.Route.Length), p.course(c.Route))
	return f
}

// unplaced lists the dimensions without which nobody knows where the ends of a circuit are or
// how thick it is.
func unplaced(c *layout.Circuit) []*shapes.Dim {
	var out []*shapes.Dim
	add := func(list []*shapes.Dim) {
		for _, d := range list {
			if !holds(out, d) {
				out = append(out, d)
			}
		}
	}
	if c.Route == nil {
		add([]*shapes.Dim{known(nil, c.Label+" ends")})
	}
	for _, w := range c.Wires {
		add(w.From.Z.Missing())
		add(w.To.Z.Missing())
	}
	if isMissing(c.OD) {
		add([]*shapes.Dim{known(c.OD, c.Label+" bundle")})
	}
	return out
}

// standing is what a sentence calls a body, by its ID; IDs of components do as well.
func (p *Pass) standing(id string) string {
	for _, b := range p.Asm.Bodies {
		if b.ID == id {
			return p.piece(b)
		}
	}
	if id == "" {
		return "the craft's edge"
	}
	if sheet, face, ok := strings.Cut(strings.TrimPrefix(id, "plates."), "."); ok && (face == "top" || face == "bottom") {
		return "the " + spoken(sheet) + " plate"
	}
	return p.call(id)
}

// course tells how a route runs in words: what it goes round and through.
func (p *Pass) course(r *layout.Route) string {
	var words []string
	for i := range r.Edges {
		e := &r.Edges[i]
		if e.Hole != "" {
			words = append(words, "through "+spoken(e.Hole)+" of "+p.call(e.Plate))
			continue
		}
		words = append(words, "over the edge of "+p.call(e.Plate))
	}
	if len(words) == 0 {
		return ""
	}
	return ", " + speak(words)
}
