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
	Need:     "The bundle's width with its clearance to what it passes: 0.5 mm from insulated things, 1 mm from bare metal and from carbon edges.",
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
	f := layout.Finding{Subjects: []string{c.ID}, Pos: c.Pos, Near: "wires " + c.Label}
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

// routed reports whether a circuit has a way, so that rules can measure along it; wire-route
// tells of those that have none.
func routed(c *layout.Circuit) bool {
	return c.Route != nil && c.Route.Blocked == nil && len(c.Route.Legs) > 0
}

func (p *Pass) route(c *layout.Circuit) layout.Finding {
	f := wireFinding(c)
	if c.Route == nil {
		f.Verdict = layout.Unknown
		f.Missing = []*shapes.Dim{known(nil, c.Label+" ends")}
		f.Message = fmt.Sprintf("%s: no way was looked for, since the place of an end is not known", p.fromTo(c))
		f.Fix = "give the parts at both ends a size and their pads a place"
		return f
	}
	if b := c.Route.Blocked; b != nil {
		f.HasPlace, f.A, f.B = true, lift(b.At[0], b.Z), lift(b.At[1], b.Z)
		f = f.Judge(layout.Fixed(b.Gap), layout.Fixed(b.Need))
		one, two := p.standing(b.Of[0]), p.standing(b.Of[1])
		if b.Enclosed || b.Of[0] == b.Of[1] || b.Of[1] == "" {
			f.Verdict = layout.Fail
			f.Message = fmt.Sprintf("%s find no way: %s stands all round one end, with no gap of %s", p.fromTo(c), one, mm(b.Need))
			f.Fix = fmt.Sprintf("open %s there, or put the end elsewhere", one)
			return f
		}
		f.Verdict = layout.Fail
		f.Message = fmt.Sprintf("%s find no way: the gap between %s and %s is %s wide and %s is needed", p.fromTo(c), one, two, mm(b.Gap), mm(b.Need))
		f.Fix = fmt.Sprintf("open that gap by %s, or lead the wires another way with `via:`", mm(up(b.Need-b.Gap, 0.1)))
		return f
	}
	f.Verdict = layout.OK
	if line := c.Route.Line(); len(line) > 0 {
		at := line[len(line)/2]
		f.HasPlace, f.A, f.B = true, at, at
	}
	f.Message = fmt.Sprintf("%s run %s%s", p.fromTo(c), mm(c.Route.Length), p.course(c.Route))
	return f
}

// standing is what a sentence calls a body, by its ID; IDs of components do as well.
func (p *Pass) standing(id string) string {
	for _, b := range p.Asm.Bodies {
		if b.ID == id {
			return p.part(b)
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
