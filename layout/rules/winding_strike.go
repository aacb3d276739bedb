package rules

import "dryfit/layout"

var windingStrike = &Rule{
	Name:     "winding-strike",
	Group:    "arms",
	Question: "do motor screws hold, and end before the winding",
	Why:      "A motor screw that touches the winding burns motor and speed controller minutes after the first hover; one that holds by a thread lets the motor shift and pulls the thread out.",
	Need:     "At least 1.0 mm into the motor's base for M1.4 and M1.6, 1.3 for M2, 1.5 for M3; at most the usable thread less 0.5 mm.",
	How:      "Length of the screw less all that it clamps (washers, plates, what a counterbore leaves), in mm; a countersunk screw's length counts its head. At worst the longest screw in the thinnest plates and the shortest in the thickest; lengths by tolerance class js15. Equal joints are told once.",
	Fix:      "The length that is named, a washer under the head, or a measured usable thread; meter every screw to a phase before power.",
	Run:      runWindingStrike,
}

func runWindingStrike(p *Pass) {
	list := p.fastenings(layout.MotorScrew)
	for _, f := range list {
		p.reaches(f)
	}
	if len(list) == 0 {
		p.Nothing("no motor is screwed to a plate")
	}
}
