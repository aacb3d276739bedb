package rules

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"dryfit/geom"
	"dryfit/layout"
	"dryfit/shapes"
)

// Needs between parts that are not made to touch, mm: 0.5 so that nothing rubs, 1.5
// round a soft-mounted board, which travels 0.5 to 1.0 each way.
const (
	gapPlain  = 0.5
	gapTravel = 1.5
	// gapTold is how near two parts must come to be told of.
	gapTold = 6.0
)

var bodyGap = &Rule{
	Name:     "body-gap",
	Group:    "parts",
	Question: "do parts that are not made to touch keep apart",
	Why:      "What overlaps on the drawing does not go together on the bench; what only just clears rubs through its sleeve in flight.",
	Need:     "0.5 mm between any two parts, 1.5 mm round a soft-mounted board, which travels.",
	How:      "Every pair of bodies of different parts nearer than 6 mm, in space, in mm: in plan where heights overlap, in height where one lies over the other. Pairs that touch by design (a part and its carrier, a post and its plates) and pairs that a rule of their own judges (board over board, post beside board, motor on arm, camera between plates) are left out.",
	Fix:      "Move one of the two, or excuse the pair under touching: with the reason.",
	Run:      runBodyGap,
}

func runBodyGap(p *Pass) {
	asm := p.Asm
	by := map[string]*layout.Component{}
	for _, c := range asm.Components {
		by[c.ID] = c
	}
	soft := softBoards(asm)
	bodies := make([]geom.Body, len(asm.Bodies))
	for i, b := range asm.Bodies {
		bodies[i] = solid(b)
	}
	type found struct {
		m    apart
		a, b *layout.Body
		need float64
	}
	best := map[[2]string]found{}
	for _, pair := range geom.PairsCloser(bodies, gapTold) {
		a, b := asm.Bodies[pair.I], asm.Bodies[pair.J]
		if a.Of == b.Of || !judgeable(a) || !judgeable(b) || byDesign(asm, by, a, b) {
			continue
		}
		need := gapPlain
		if soft[a.Of] || soft[b.Of] {
			need = gapTravel
		}
		m := separation(a, b)
		if math.IsInf(m.worst, 1) {
			continue
		}
		key := [2]string{a.Of, b.Of}
		if key[0] > key[1] {
			key[0], key[1] = key[1], key[0]
		}
		if old, ok := best[key]; !ok || m.worst-need < old.m.worst-old.need-1e-9 {
			best[key] = found{m, a, b, need}
		}
	}
	keys := make([][2]string, 0, len(best))
	for k := range best {
		keys = append(keys, k)
	}
	sort.Slice(keys, func(i, j int) bool {
		return keys[i][0] < keys[j][0] || keys[i][0] == keys[j][0] && keys[i][1] < keys[j][1]
	})
	for _, k := range keys {
		t := best[k]
		a, b := t.a, t.b
		if movable(by[b.Of]) && !movable(by[a.Of]) {
			a, b = b, a
			t.m.a, t.m.b = t.m.b, t.m.a
		}
		f := layout.Finding{
			Unit: shapes.MM, Subjects: []string{a.Of, b.Of}, HasPlace: true, A: t.m.a, B: t.m.b,
			Near: fmt.Sprintf("x %.1f, y %.1f, z %.1f", t.m.a.X, t.m.a.Y, t.m.a.Z),
		}.Judge(t.m.form, p.Need(t.need))
		if c := by[a.Of]; c != nil {
			f.Pos = c.Pos
		}
		f.Message = fmt.Sprintf("%s and %s are %.2f mm apart", bodyName(a), bodyName(b), f.Measured)
		if f.Measured < 0 {
			f.Message = fmt.Sprintf("%s and %s overlap by %.2f mm", bodyName(a), bodyName(b), -f.Measured)
		}
		if f.Verdict == layout.Fail || f.Verdict == layout.Tight {
			d := t.m.a.Sub(t.m.b)
			way := "away"
			if t.m.over {
				way = "up"
				if a.Bottom.Nominal() < b.Bottom.Nominal() {
					way = "down"
				}
			} else if math.Hypot(d.X, d.Y) > 1e-9 {
				if f.Measured < 0 {
					d = d.Mul(-1)
				}
				way = direction(d.X, d.Y)
			}
			f.Fix = fmt.Sprintf("move %s %s %s, or excuse the pair under touching: if they may touch", short(a.Of), mm(up(-f.Worst, 0.1)), way)
		} else {
			f.Fix = unknownFix(&f)
		}
		p.Report(f)
	}
	if len(keys) == 0 {
		p.Nothing("no two parts of %d bodies come nearer than %.0f mm to each other, but for those that touch by design or have a rule of their own", len(bodies), gapTold)
	}
}

// bodyName names a body with the part that it belongs to.
func bodyName(b *layout.Body) string {
	w := words(b)
	if w == short(b.Of) {
		return w
	}
	return w + " of " + short(b.Of)
}

// judgeable tells the bodies that this rule compares: soft things give way, and swept
// copies of packs and cameras are compared where they stand still by their own rules.
func judgeable(b *layout.Body) bool {
	switch b.Kind {
	case layout.StrapBody, layout.CushionBody, layout.GrommetBody, layout.HubBody, layout.LeadBody:
		return false
	}
	return !b.Soft
}

// movable tells parts that a builder would sooner move than the other of a pair.
func movable(c *layout.Component) bool {
	return c != nil && c.Kind != "plate" && c.Kind != "post" && c.Kind != "motor"
}

// softBoards lists the IDs of boards on grommets.
func softBoards(asm *layout.Assembly) map[string]bool {
	out := map[string]bool{}
	for _, s := range asm.Stacks {
		for _, l := range s.Levels {
			if l.Board && l.Grommet != nil && l.Component != nil {
				out[l.Component.ID] = true
			}
		}
	}
	return out
}

// byDesign reports whether two bodies touch by design, or are judged by a rule that
// knows more about them.
func byDesign(asm *layout.Assembly, by map[string]*layout.Component, a, b *layout.Body) bool {
	ca, cb := by[a.Of], by[b.Of]
	if ca == nil || cb == nil {
		return true
	}
	if ca.On == cb.ID || cb.On == ca.ID {
		// A part that sits on a board must still keep off what stands on it.
		return !(namedZone(a) && cb.Kind == "part" || namedZone(b) && ca.Kind == "part")
	}
	sa, sb := stackOf(asm, ca.ID), stackOf(asm, cb.ID)
	switch {
	case sa != nil && sa == sb:
		return true // board-gap, standoff-against-parts
	case sa != nil && risesBeside(sa, plateOf(asm, cb.ID)), sb != nil && risesBeside(sb, plateOf(asm, ca.ID)):
		return false // a duct or rim round the boards, which no other rule measures
	case sa != nil && (cb.Kind == "plate" || cb.Kind == "post"), sb != nil && (ca.Kind == "plate" || ca.Kind == "post"):
		return true // stack-height, board-gap, standoff-against-parts, hole-match
	case ca.Kind == "plate" && cb.Kind == "plate":
		// One lies on the other, or both are cut to one level, such as arms.
		return a.Bottom.Nominal() >= b.Top.Nominal()-touch || b.Bottom.Nominal() >= a.Top.Nominal()-touch
	case ca.Kind == "plate" && cb.Kind == "post", ca.Kind == "post" && cb.Kind == "plate":
		return true
	case a.Kind == layout.CameraBody && cb.Kind == "plate", b.Kind == layout.CameraBody && ca.Kind == "plate":
		return true // camera-tilt
	case a.Kind == layout.CameraBody || b.Kind == layout.CameraBody:
		return true // camera-tilt
	case ca.Kind == "motor" && (cb.Kind == "plate" || onArm(asm, cb)), cb.Kind == "motor" && (ca.Kind == "plate" || onArm(asm, ca)):
		return true // motor-on-arm, esc-on-arm
	case ca.Kind == "prop" || cb.Kind == "prop":
		return true // prop-sweep
	}
	return false
}

// risesBeside reports whether a plate starts at or below the foot of a stack and reaches
// up past it (down past it, for stacks that hang), so that it stands beside the stack and
// not over it, where stack-height judges.
func risesBeside(s *layout.Stack, pl *layout.Plate) bool {
	if pl == nil {
		return false
	}
	if s.Down {
		return pl.Top.Nominal() >= s.Top.Nominal() && pl.Bottom.Nominal() < s.Top.Nominal()-touch
	}
	return pl.Bottom.Nominal() <= s.Bottom.Nominal() && pl.Top.Nominal() > s.Bottom.Nominal()+touch
}

func namedZone(b *layout.Body) bool {
	return b.Kind == layout.ZoneBody && !strings.HasSuffix(b.ID, ".above") && !strings.HasSuffix(b.ID, ".below")
}

func stackOf(asm *layout.Assembly, id string) *layout.Stack {
	for _, s := range asm.Stacks {
		for _, l := range s.Levels {
			if l.Component != nil && l.Component.ID == id {
				return s
			}
		}
	}
	return nil
}

// onArm reports whether a component rides on the plate that carries a motor.
func onArm(asm *layout.Assembly, c *layout.Component) bool {
	for _, r := range asm.Rotors {
		if c.On != "" && c.On == r.Arm {
			return true
		}
	}
	return false
}
