package render

import (
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// wirePlan is what the wiring sheets show: the craft from above as thin grey outlines with
// the roof taken off, and on it every circuit where it runs.
type wirePlan struct {
	asm     *layout.Assembly
	scene   *scene
	box     geom.Rect // mm, of the outlines and the wires
	ceiling float64   // mm: what lies higher is on what is taken off
	ends    map[string]bool
	body    *bodyPlan // nil: nothing is taken off and no arm broken off
	all     []stretch
	inset   *geom.Rect // mm: what a sheet of its own shows larger, nil for nothing
	level   *gap       // mm: the heights between which wires are shown, nil for all
}

// onLevel reports whether the plan shows what lies at a height.
func (w *wirePlan) onLevel(z float64) bool {
	return w.level == nil || z > w.level.from && z < w.level.to
}

// newWirePlan chooses the outlines for the wires of an assembly.
func newWirePlan(asm *layout.Assembly, top *scene) *wirePlan {
	w := &wirePlan{asm: asm, ceiling: math.Inf(1), ends: map[string]bool{}, body: newBodyPlan(asm, top)}
	for _, c := range asm.Circuits {
		for _, k := range [2]*layout.Component{c.From, c.To} {
			if k != nil {
				w.ends[k.ID] = true
			}
		}
	}
	if w.body != nil && len(w.body.lids) > 0 {
		w.ceiling = math.Inf(1)
		for _, p := range w.body.lids {
			w.ceiling = math.Min(w.ceiling, p.Bottom.Nominal())
		}
	}
	w.scene = w.ghosts(top, false)
	w.box = w.scene.box
	for _, c := range asm.Circuits {
		w.box = w.box.Union(wayBox(c))
	}
	w.all = stretches(asm.Circuits, w.scene, w.ceiling)
	return w
}

// ghosts returns the scene as thin outlines: with the roof off, without props, and with
// narrow without what the arms carry.
func (w *wirePlan) ghosts(top *scene, narrow bool) *scene {
	sc := &scene{view: fromAbove, box: geom.EmptyRect()}
	kept := top.shadows
	if w.body != nil {
		kept = w.body.scene.shadows
		if !narrow {
			kept = slices.Clone(kept)
			for _, s := range top.shadows {
				if onArm(w.asm, s.id) && s.body.Kind != layout.PlateBody {
					kept = append(kept, s)
				}
			}
		}
		for _, s := range top.shadows { // what stands on the roof and is wired
			if s.body.Kind != layout.AntennaBody && w.ends[s.id] && w.body.off[s.id] && !slices.ContainsFunc(kept, func(k shadow) bool { return k.id == s.id }) {
				s.shown, s.hidden, s.hides = Sweep, false, false
				kept = append(kept, s)
			}
		}
	}
	for _, s := range kept {
		switch s.body.Kind {
		case layout.HubBody, layout.LeadBody, layout.CushionBody, layout.StrapBody:
			continue
		case layout.AntennaBody: // a rod as long as the craft, of which only the foot counts
			if w.ends[s.id] {
				continue
			}
		case layout.FastenBody:
			if strings.HasPrefix(s.id, "rotors.") {
				continue
			}
		}
		if s.shown == Sweep && s.body.Swept {
			continue
		}
		if s.shown != Sweep {
			s.shown = Ghost
		}
		s.hidden = false
		sc.shadows = append(sc.shadows, s)
		sc.box = sc.box.Union(s.box)
	}
	slices.SortStableFunc(sc.shadows, func(a, b shadow) int {
		switch {
		case a.near > b.near:
			return -1
		case a.near < b.near:
			return 1
		}
		return 0
	})
	return sc
}

// wayBox is the box of a circuit's way and its pads in plan.
func wayBox(c *layout.Circuit) geom.Rect {
	box := geom.EmptyRect()
	for _, w := range c.Wires {
		for _, t := range [2]*layout.Terminal{w.From, w.To} {
			if t != nil {
				box = box.Add(t.At)
			}
		}
	}
	if c.Route == nil {
		return box
	}
	half := 0.0
	if c.OD != nil {
		half = c.OD.Value / 2
	}
	for i := range c.Route.Legs {
		for _, s := range c.Route.Legs[i].Path.Segs {
			box = box.Union(s.Bound().Expand(half))
		}
	}
	return box
}

// routed reports whether a circuit has a way.
func routed(c *layout.Circuit) bool { return c.Route != nil && c.Route.Blocked == nil }

// endOf is where a circuit's way begins or, with last, ends in plan; of a circuit without a
// way it is the middle of its pads there.
func endOf(c *layout.Circuit, last bool) (r2.Point, bool) {
	if routed(c) {
		legs := c.Route.Legs
		for i := range legs {
			leg := &legs[i]
			if last {
				leg = &legs[len(legs)-1-i]
			}
			if n := len(leg.Path.Segs); n > 0 {
				if last {
					return leg.Path.Segs[n-1].B, true
				}
				return leg.Path.Segs[0].A, true
			}
		}
		if len(legs) > 0 {
			return legs[0].At, true
		}
	}
	var sum r2.Point
	n := 0
	for _, w := range c.Wires {
		if t := terminalOf(w, last); t != nil {
			sum = sum.Add(t.At)
			n++
		}
	}
	if n == 0 {
		return r2.Point{}, false
	}
	return sum.Mul(1 / float64(n)), true
}

func terminalOf(w *layout.Wire, last bool) *layout.Terminal {
	if last {
		return w.To
	}
	return w.From
}

// diameter is a circuit's width in mm.
func diameter(c *layout.Circuit) float64 {
	if c.OD == nil {
		return 0
	}
	return c.OD.Value
}
