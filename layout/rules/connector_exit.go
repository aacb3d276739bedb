package rules

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/shapes"
)

// plugAir is what a plug needs round its housing, mm: a corridor 13.0 wide for a housing
// that may be 12.35.
const plugAir = 0.3

var connectorExit = &Rule{
	Name:     "connector-exit",
	Group:    "ports",
	Question: "can every plug go in, and its lead turn away, with nothing to take off",
	Why:      "The bench cable will not go in, stops before it latches or goes in askew and tears the socket off; a lead bent over its own housing breaks at the crimp.",
	Need:     "0.3 mm all round the plug's housing over its length from the socket's mouth (a corridor of 13.0 mm for a housing of 12.35), and over the bend of the lead behind it.",
	How:      "A box of the plug's greatest section along the port's axis, from the mouth outwards by the length of plug and bend (of an angled plug by its own), against every other hard body, and straps for ports that must be reachable; distances in mm. Judged for ports that must be reachable on the assembled craft and for those that are used in flight.",
	Fix:      "Turn the board by a quarter, cut a relief, move the post, or use an angled plug.",
	Run:      runConnectorExit,
}

func runConnectorExit(p *Pass) {
	judged := 0
	for _, port := range p.Asm.Ports {
		if port.Port.Button || port.Port.Card || !(port.Port.Reach || port.Used) {
			continue
		}
		p.plugWay(port)
		judged++
	}
	if judged == 0 {
		p.Nothing("no part has a port that is used or must be reachable")
	}
}

// plugRoom is the room that a mated plug takes, angled or straight.
func plugRoom(port *layout.PortPlace, angled bool) *wayOut {
	mated := *port
	mated.Angled = angled
	plug := port.Plug.Plug
	long := mated.Reach()
	if o := port.Port.Overhang; o != nil { // the plug ends as far off as its socket does
		long = long.Add(deviation(layout.Of(o)))
	}
	return &wayOut{
		port: port, long: long,
		wide: known(plug.Width, port.Plug.Name+" width"), high: known(plug.Height, port.Plug.Name+" height"),
	}
}

// portFinding starts a finding on a port.
func (p *Pass) portFinding(port *layout.PortPlace) layout.Finding {
	return layout.Finding{
		Subjects: []string{port.Owner.ID}, Pos: port.Owner.Pos,
		Near: fmt.Sprintf("%s of %s, %s", spoken(port.Port.Name), p.call(port.Owner.ID), facingWords(port)),
	}
}

func (p *Pass) plugWay(port *layout.PortPlace) {
	f := p.portFinding(port)
	who := spoken(port.Port.Name) + " of " + p.call(port.Owner.ID)
	if port.Plug == nil || port.Plug.Plug == nil {
		f.Verdict = layout.Unknown
		f.Missing = []*shapes.Dim{known(nil, port.ID+" plug")}
		f.Message = fmt.Sprintf("which plug goes into %s is missing", who)
		f.Fix = "name it in the part's ports: {plug: ...}"
		p.Report(f)
		return
	}
	angled := port.Angled && port.Plug.Plug.Angled != nil
	room := plugRoom(port, angled)
	if missing := room.lacks(); len(missing) > 0 {
		f.Verdict, f.Missing = layout.Unknown, missing
		f.Message = fmt.Sprintf("whether the plug of %s goes in hangs on a dimension that is missing", who)
		f.Fix = unknownFix(&f)
		p.Report(f)
		return
	}
	how := "straight"
	if angled {
		how = "angled"
	}
	what := fmt.Sprintf("the %s plug in %s (%s, %s by %s, %s out)", how, who, port.Plug.Name, num(room.wide.Value), num(room.high.Value), mm(room.long.Nominal()))
	g, m, body := p.blocked(room, f, p.Need(plugAir))
	if body == nil {
		f.Verdict = layout.OK
		f.Message = fmt.Sprintf("%s has nothing within %s of it", what, mm(exitTold))
		p.Report(f)
		return
	}
	switch {
	case g.Verdict == layout.Unknown:
		g.Message = fmt.Sprintf("how far %s keeps off %s hangs on a dimension that is missing", what, p.piece(body))
	case g.Measured < 0:
		g.Message = fmt.Sprintf("%s runs %s into %s, %s apart needed", what, mm(-g.Measured), p.piece(body), mm(g.Needed))
	default:
		g.Message = fmt.Sprintf("%s passes %s from %s, %s needed", what, mm(g.Measured), p.piece(body), mm(g.Needed))
	}
	if mustMend(&g) {
		g.Fix = p.exitFix(room, angled, body, &m, &g)
	} else {
		g.Fix = unknownFix(&g)
	}
	p.Report(g)
}

// exitFix proposes what mends a blocked plug at worst case: an angled plug, a turn of the
// board, or room where it is blocked.
func (p *Pass) exitFix(room *wayOut, angled bool, body *layout.Body, m *apart, f *layout.Finding) string {
	port, need := room.port, p.Need(plugAir)
	owner := p.call(port.Owner.ID)
	var ways []string
	if !angled && port.Plug.Plug.Angled != nil && !isMissing(port.Plug.Plug.Angled) {
		bent := plugRoom(port, true)
		if g, _, hit := p.blocked(bent, layout.Finding{}, need); hit == nil || g.Verdict == layout.OK {
			ways = append(ways, fmt.Sprintf("use an angled plug, %s out", mm(bent.long.Nominal())))
		}
	}
	if turn := p.turnThatClears(room, need); turn != "" {
		ways = append(ways, fmt.Sprintf("turn %s by %s", owner, turn))
	}
	lack := mm(up(-f.Worst, 0.1))
	switch body.Kind {
	case layout.PlateBody:
		ways = append(ways, fmt.Sprintf("cut a relief %s deep into %s", lack, p.call(body.Of)))
		if math.Abs(m.way.Z) > 0.5 {
			ways[len(ways)-1] = fmt.Sprintf("bring %s %s further from %s", owner, lack, p.call(body.Of))
		}
	case layout.PostBody:
		ways = append(ways, fmt.Sprintf("move %s %s aside", p.call(body.ID), lack))
	default:
		ways = append(ways, fmt.Sprintf("move %s %s aside", p.call(body.Of), lack))
	}
	return oneOf(ways)
}

// oneOf joins ways out of which one is enough.
func oneOf(ways []string) string {
	out := ways[0]
	for i, w := range ways[1:] {
		if i == len(ways)-2 {
			out += ", or " + w
		} else {
			out += ", " + w
		}
	}
	return out
}

func facingWords(port *layout.PortPlace) string {
	switch {
	case port.Up > 0:
		return "facing up"
	case port.Up < 0:
		return "facing down"
	}
	return "facing " + looking(r2.Point{X: port.Dir.X, Y: port.Dir.Y})
}
