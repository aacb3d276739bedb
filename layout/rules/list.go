package rules

import (
	"errors"
	"fmt"
	"strings"
)

// All lists every rule in the order in which reports tell them. Nothing may change it.
//
// Not among them: the efficiency of closely spaced props and the view of a camera past
// the discs, which no figure of the trade makes a fault; they are for the advice and the
// drawings to tell.
var All = []*Rule{
	// rotors
	propTipGap,
	propSweep,
	propUnderside,
	propMount,
	rotorHands,
	propScrew,
	// arms
	escOnArm,
	motorOnArm,
	windingStrike,
	// frame
	standoffGrip,
	pressNut,
	// stack
	holeMatch,
	stackHeight,
	boardGap,
	standoffAgainstParts,
	screwReach,
	softMount,
	nylonStrength,
	// parts
	bodyGap,
	partSupport,
	insideGuard,
	strapAndSlot,
	cameraTilt,
	cameraScrew,
	headsUnderPack,
	// plates
	plateOutline,
	webWidth,
	holeEdge,
	insideCorner,
	smallestFeature,
	sheetThickness,
	handedParts,
	headSeatRule,
	driverAccess,
	insulation,
	// ports
	connectorExit,
	exitToProp,
	buttonReach,
	// wires
	wireRoute,
	wireSpace,
	wireSweep,
	wireLength,
	edgeGuard,
	strapOverLead,
	sleeveSize,
	wireGauge,
	leadLength,
	pinOrder,
	plugFamily,
	padFace,
	signalBesidePower,
	compassDistance,
	// supply
	railVoltage,
	railCurrent,
	escCurrent,
	batteryCurrent,
	plugCurrent,
	// mass
	takeOffMass,
	balance,
}

// Named returns the rule of that name, nil if there is none.
func Named(name string) *Rule {
	for _, r := range All {
		if r.Name == name {
			return r
		}
	}
	return nil
}

// maxQuestion is the length in letters that keeps a rule's question on one line of a list.
const maxQuestion = 70

// Validate reports what is wrong with the rules of a list: names that are not
// kebab-case or stand twice, fields left empty, questions that do not fit on a line.
func Validate(list []*Rule) error {
	var errs []error
	seen := map[string]bool{}
	for i, r := range list {
		if r == nil {
			errs = append(errs, fmt.Errorf("rule %d is nil", i))
			continue
		}
		bad := func(format string, args ...any) {
			errs = append(errs, fmt.Errorf("%s: %s", r.Name, fmt.Sprintf(format, args...)))
		}
		if !isKebab(r.Name) {
			bad("the name is not in lower case with hyphens")
		}
		if seen[r.Name] {
			bad("the name stands twice")
		}
		seen[r.Name] = true
		for _, f := range []struct{ name, text string }{
			{"Group", r.Group}, {"Question", r.Question}, {"Why", r.Why}, {"Need", r.Need}, {"How", r.How}, {"Fix", r.Fix},
		} {
			if strings.TrimSpace(f.text) == "" || strings.TrimSpace(f.text) != f.text || strings.ContainsAny(f.text, "\n|") {
				bad("%s is empty, starts or ends with a space, or breaks a table", f.name)
			}
		}
		if r.Question != "" && (r.Question[0] < 'a' || r.Question[0] > 'z') || strings.HasSuffix(r.Question, ".") || len([]rune(r.Question)) > maxQuestion {
			bad("the question does not start in lower case, ends in a full stop, or is longer than %d letters", maxQuestion)
		}
		if r.Run == nil {
			bad("there is nothing to run")
		}
	}
	return errors.Join(errs...)
}

// isKebab reports whether s is words of lower-case letters and digits with single
// hyphens between.
func isKebab(s string) bool {
	for _, w := range strings.Split(s, "-") {
		if w == "" || strings.Trim(w, "abcdefghijklmnopqrstuvwxyz0123456789") != "" {
			return false
		}
	}
	return true
}

// Table returns the list as a Markdown table, for the README.
func Table() string {
	var b strings.Builder
	b.WriteString("| group | rule | asks |\n|---|---|---|\n")
	for _, r := range All {
		fmt.Fprintf(&b, "| %s | `%s` | %s? |\n", r.Group, r.Name, r.Question)
	}
	return b.String()
}
