package rules

import "dryfit/layout"

var propScrew = &Rule{
	Name:     "prop-screw",
	Group:    "rotors",
	Question: "do the screws of T-mount props hold, and end before the stator",
	Why:      "Too long a screw scrapes the stator from above, too short a one lets the prop go.",
	Need:     "At least 1.3 mm into the bell, 2 to 2.5 aimed for; at most the usable thread of the bell (2.5, of 2 to 3.5, when the motor does not say it).",
	How:      "Length of the screw less the thickness of the prop's hub, in mm, at worst case on both sides.",
	Fix:      "Choose the screws by the hub, not by the kit: M2x7 or M2x8.",
	Run:      runPropScrew,
}

func runPropScrew(p *Pass) {
	list := p.fastenings(layout.PropScrew)
	for _, f := range list {
		p.reaches(f)
	}
	if len(list) == 0 {
		p.Nothing("no prop is held by screws beside the shaft")
	}
}
