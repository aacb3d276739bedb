package layout

import (
	"strings"

	"dryfit/shapes"
)

// plateLevel is the height of a plate as written (all copies of an arm plate share it).
type plateLevel struct {
	spec        *PlateSpec
	thick       *shapes.Dim
	material    *shapes.Part
	bottom, top Form
	done        bool
}

// postLevel is the height of a set of posts.
type postLevel struct {
	spec        *PostSpec
	part        *shapes.Part
	length      *shapes.Dim
	bottom, top Form
	done        bool
	// spots are the places of the posts in the body frame, with what moves each.
	spots []postSpot
}

// levels finds the heights of all plates and posts. The plate that rests on nothing is
// the ground from which they are summed; if posts under it carry a plate that comes out
// lower, the origin moves to the underside of that one.
func (r *resolver) levels() {
	for _, s := range r.b.Plates {
		t := *s.Thickness
		fillTol(&t, stockTolerance(t.Value))
		r.plates[s.Name] = &plateLevel{spec: s, thick: &t, material: r.fill.part(s.Material)}
	}
	for _, s := range r.b.Posts {
		l := *s.Length
		part := r.fill.part(s.Part)
		fillTol(&l, postTol(part, ""))
		r.posts[s.Name] = &postLevel{spec: s, part: part, length: &l}
	}
	if !r.oneGround() {
		return
	}
	r.walkLevels()
	if r.diags.HasErrors() {
		return
	}
	lowest := Form{}
	for _, s := range r.b.Plates {
		lowest = lower(lowest, r.plates[s.Name].bottom)
	}
	if lowest.Nominal() < -1e-9 {
		r.rootBottom = lowest.Scale(-1)
		for _, p := range r.plates {
			p.done = false
		}
		for _, p := range r.posts {
			p.done = false
		}
		r.walkLevels()
	}
}

// postTol is the tolerance of a length cut from this class of standoff, by its material
// when there is none.
func postTol(p *shapes.Part, material string) float64 {
	if p != nil && p.Standoff != nil {
		if t := p.Standoff.LengthTol; t != nil && max(t.Plus, t.Minus) > 0 {
			return max(t.Plus, t.Minus)
		}
		material = p.Standoff.Material
	}
	return standoffTolerance(material)
}

// oneGround checks that exactly one plate rests on nothing.
func (r *resolver) oneGround() bool {
	var ground *PlateSpec
	ok := true
	for _, s := range r.b.Plates {
		if s.On != nil || s.Under != nil {
			continue
		}
		if ground == nil {
			ground = s
			continue
		}
		ok = false
		r.fail(s.Pos, "plates."+s.Name, "plates "+ground.Name+" and "+s.Name+" both rest on nothing",
			"one plate on which all others rest, and `on:` or `under:` for each other one",
			"say what "+s.Name+" lies on, such as `on: "+ground.Name+"` or `on: posts.NAME`")
	}
	return ok
}

func (r *resolver) walkLevels() {
	for _, s := range r.b.Plates {
		r.levelOf(TargetPlate, s.Name, nil)
	}
	for _, s := range r.b.Posts {
		r.levelOf(TargetPosts, s.Name, nil)
	}
}

// step is one carrier on the way to the ground.
type step struct {
	kind TargetKind
	name string
}

// levelOf finds the height of a plate or a set of posts after those of what carries it.
// path is the way so far; coming back to it is a circle.
func (r *resolver) levelOf(kind TargetKind, name string, path []step) (bottom, top Form, ok bool) {
	for i, s := range path {
		if s.kind == kind && s.name == name {
			r.circle(path[i:])
			return Form{}, Form{}, false
		}
	}
	path = append(path, step{kind, name})
	if kind == TargetPosts {
		p := r.posts[name]
		if p == nil {
			return Form{}, Form{}, false
		}
		if !p.done {
			lo, hi, ok := r.levelOf(TargetPlate, p.spec.From.Name, path)
			if !ok {
				return Form{}, Form{}, false
			}
			if p.spec.From.Face == shapes.Bottom {
				p.top, p.bottom = lo, lo.Plus(p.length, -1)
			} else {
				p.bottom, p.top = hi, hi.Plus(p.length, 1)
			}
			p.done = true
		}
		return p.bottom, p.top, true
	}
	p := r.plates[name]
	if p == nil {
		return Form{}, Form{}, false
	}
	if !p.done {
		switch {
		case p.spec.On != nil:
			_, hi, ok := r.levelOf(p.spec.On.Kind, p.spec.On.Name, path)
			if !ok {
				return Form{}, Form{}, false
			}
			p.bottom, p.top = hi, hi.Plus(p.thick, 1)
		case p.spec.Under != nil:
			lo, _, ok := r.levelOf(p.spec.Under.Kind, p.spec.Under.Name, path)
			if !ok {
				return Form{}, Form{}, false
			}
			p.top, p.bottom = lo, lo.Plus(p.thick, -1)
		default:
			p.bottom, p.top = r.rootBottom, r.rootBottom.Plus(p.thick, 1)
		}
		p.done = true
	}
	return p.bottom, p.top, true
}

// circle reports carriers that go round.
func (r *resolver) circle(path []step) {
	words := make([]string, 0, len(path)+1)
	for _, s := range path {
		words = append(words, stepID(s))
	}
	// Begin at the name that sorts first, so that the circle is reported once however
	// it is entered.
	first := 0
	for i := range words {
		if words[i] < words[first] {
			first = i
		}
	}
	s := path[first]
	words = append(append(append([]string{}, words[first:]...), words[:first]...), words[first])
	pos := r.b.Pos
	switch {
	case s.kind == TargetPosts && r.posts[s.name] != nil:
		pos = r.posts[s.name].spec.Pos
	case s.kind == TargetPlate && r.plates[s.name] != nil:
		pos = r.plates[s.name].spec.Pos
	}
	r.fail(pos, stepID(s), "what carries what goes round in a circle: "+strings.Join(words, " rests on "),
		"a way from every plate down to one that rests on nothing", "take one `on:`, `under:` or `from:` out of the circle")
}

func stepID(s step) string {
	if s.kind == TargetPosts {
		return "posts." + s.name
	}
	return "plates." + s.name
}
