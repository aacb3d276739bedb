package report_test

import (
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/render/report"
	"dryfit/shapes"
)

func grouped(group string, o layout.Outcome) layout.Outcome {
	o.Group = group
	return o
}

// TestHolding: rules of a group share lines that break between rules alone; the figure is that
// of the least room at worst case; a rule that fails somewhere stands under "in part".
func TestHolding(t *testing.T) {
	ok := func(rule string, worst float64, u shapes.Unit) layout.Finding {
		f := finding(rule, layout.OK, worst, 0, 0, "m")
		f.Unit = u
		return f
	}
	var outs []layout.Outcome
	add := func(group, rule string, list ...layout.Finding) {
		outs = append(outs, grouped(group, judged(rule, list...)))
	}
	add("rotors", "prop-tip-gap", ok("", 33.017, shapes.MM), ok("", 2.5, shapes.MM))
	add("rotors", "prop-sweep", ok("", 9.999, shapes.MM))
	add("stack", "standoff-against-parts", ok("", 0, shapes.MM))
	add("rotors", "rotor-hands", layout.Finding{Verdict: layout.OK, Message: "m"})
	add("stack", "nylon-strength", ok("", 110.99, shapes.Newton))
	add("stack", "first-long-name-of-a-rule", ok("", 1.25, shapes.MM))
	add("stack", "second-long-name-of-a-rule", ok("", 1.5, shapes.MM))
	add("parts", "body-gap", ok("", 4, shapes.MM), finding("body-gap", layout.Fail, -1, 0.5, 0, "m"))
	add("", "no-group", ok("", 31.9, "%"))
	outs = append(outs, layout.Outcome{Rule: "balance", Group: "mass", Status: layout.Nothing, Reason: "no parts"})
	const want = `
holds, with the least room at worst case (mm where no unit stands; --all says where)
  rotors   prop-tip-gap 2.5, prop-sweep 10, rotor-hands
  stack    standoff-against-parts 0, nylon-strength 110 N, first-long-name-of-a-rule 1.25,
           second-long-name-of-a-rule 1.5
  other    no-group 31 %
  in part  body-gap 4
nothing to judge for balance (--all says why)
`
	got := text(t, outs, report.Options{})
	_, got, _ = strings.Cut(got, "\nholds,")
	got, _, _ = strings.Cut("\nholds,"+got, "\nnumbers:")
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
