package layout

import (
	"strings"

	"dryfit/shapes"
)

// postEnd is one end of a post, with what holds it.
type postEnd struct {
	post       *Post
	points     bool // the screw's end points up
	f          *Fastening
	face, seat Form
}

// postScrews finds the screws at both ends of every post.
func (r *resolver) postScrews() {
	pairs := [][2]*Fastening{}
	for _, spec := range r.b.Posts {
		var bottom, top *Component
		for _, p := range r.asm.Posts {
			if p.Set != spec.Name || p.Part == nil || p.Part.Standoff == nil {
				continue
			}
			low, high := r.postEnd(p, spec, false), r.postEnd(p, spec, true)
			if low == nil && high == nil {
				continue
			}
			var ends [2]*Fastening
			for i, e := range []*postEnd{low, high} {
				if e != nil {
					ends[i] = e.f
				}
			}
			known := false
			for _, q := range pairs {
				if q[0].alike(ends[0]) && q[1].alike(ends[1]) {
					ends, known = q, true
					break
				}
			}
			if !known {
				a, b := ends[0], ends[1]
				if a != nil && a.Kind != PostScrew || b != nil && b.Kind != PostScrew {
					for _, f := range []*Fastening{a, b} {
						chooseTwins(f, nil, Form{})
					}
				} else {
					chooseTwins(a, b, Of(p.Length))
				}
				pairs = append(pairs, ends)
				for _, f := range ends {
					if f != nil {
						r.asm.Fastenings = append(r.asm.Fastenings, f)
					}
				}
			}
			for i, e := range []*postEnd{low, high} {
				if e == nil {
					continue
				}
				c, word := &bottom, "bottom"
				if i == 1 {
					c, word = &top, "top"
				}
				if *c == nil {
					*c = r.owner("posts."+spec.Name+"."+word+"-screws", spec.Name+" posts' "+word+" screws", spec.Pos, "posts."+spec.Name)
				}
				r.heads(r.join(*c, ends[i], p.At, e.face, e.seat, e.points))
			}
		}
		r.weigh(bottom)
		r.weigh(top)
	}
}

// isBolt tells long screws that serve as posts themselves.
func isBolt(p *shapes.Part) bool {
	s := p.Standoff
	return s.Stud == nil && s.ThreadDepth == nil && s.Material == "steel" && value(s.OD) <= majorOf(s.Thread)+0.01
}

// postEnd finds what holds one end of a post: a screw through the plates there, a stud to
// a post beyond them, the post's own stud with a nut; nil for a free end, or where the
// joint belongs to the post below.
func (r *resolver) postEnd(p *Post, spec *PostSpec, up bool) *postEnd {
	s := p.Part.Standoff
	if isBolt(p.Part) {
		return nil
	}
	at, dir := p.Bottom, -1.0
	screw := spec.Bottom
	if up {
		at, dir, screw = p.Top, 1, spec.Top
	}
	f := r.screwOf(PostScrew, s.Thread, screw, "frame", p.Pos)
	f.set = p.Set
	plates := r.column(p.At, at, dir, f.headSize())
	if len(plates) == 0 {
		return nil
	}
	e := &postEnd{post: p, points: !up, f: f}
	// Studs point to the plate that the post stands on; rubber ones have two.
	foot := up == (spec.From.Face == shapes.Bottom)
	stud := s.Stud
	if !foot && s.Material != "rubber" {
		stud = nil
	}
	if other := r.postBeyond(p, plates, up); other != nil {
		if !up {
			return nil
		}
		return r.postToPost(e, plates, other, stud)
	}
	if stud != nil {
		return r.postNut(e, plates, stud, up)
	}
	e.face, e.seat = r.clamp(f, reversed(plates), up)
	f.Into = postThread(p.Part, p.Length)
	return e
}

// postThread is the thread of a post or spacer as a screw meets it: by its material at
// least so many diameters, at most the depth of the thread less 0.5, or, tapped right
// through, the length less the 1.0 that must stay free.
func postThread(part *shapes.Part, length *shapes.Dim) Engagement {
	s := part.Standoff
	least, aim := shapes.LeastEngagement(s.Material)
	d := majorOf(s.Thread)
	e := Engagement{What: "the post", Material: s.Material, Least: Fixed(least * d), Aim: aim * d, HasMost: true,
		LeastWhy: diameters(least) + " in " + orWord(s.Material, "plastic"), MostWhy: "the depth of its thread less 0.5"}
	switch {
	case s.Through > 0 && length != nil && length.Value <= s.Through+settle:
		e.Most, e.MostWhy = Of(length).Shift(-apartInPost), "its length less 1.0"
	default:
		e.Most = Of(or(s.ThreadDepth, part.Name+" thread depth")).Shift(-spareThread)
	}
	return e
}

// diameters writes a depth as diameters of the screw.
func diameters(n float64) string {
	if abs(n-1) < settle {
		return "1 diameter"
	}
	return mm(n) + " diameters"
}

func orWord(s, def string) string {
	if s == "" {
		return def
	}
	return s
}

// postBeyond returns the post that stands on the far side of the plates, nil for none.
func (r *resolver) postBeyond(p *Post, plates []passed, up bool) *Post {
	last := plates[len(plates)-1].plate
	far := last.Bottom
	if up {
		far = last.Top
	}
	for _, q := range r.asm.Posts {
		face := q.Top
		if up {
			face = q.Bottom
		}
		if q != p && q.At.Sub(p.At).Norm() < 0.5 && abs(face.Sub(far).Nominal()) < settle && q.Part != nil && q.Part.Standoff != nil && !isBolt(q.Part) {
			return q
		}
	}
	return nil
}

// postToPost joins two posts through plates: by a stud of one of them, else by a headless
// screw that both threads share in halves.
func (r *resolver) postToPost(e *postEnd, plates []passed, other *Post, stud *shapes.Dim) *postEnd {
	f := e.f
	f.Kind, f.Head, f.Washer, e.points = PostStud, nil, false, true
	e.face, e.seat = r.clamp(f, plates, false)
	e.seat = e.face
	if stud == nil {
		stud = other.Part.Standoff.Stud
		f.Into = postThread(e.post.Part, e.post.Length)
	} else {
		f.Into = postThread(other.Part, other.Length)
	}
	if stud != nil {
		f.Own, f.Length = true, stud
		return e
	}
	a, b := postThread(e.post.Part, e.post.Length), postThread(other.Part, other.Length)
	f.Into = Engagement{
		What: "both posts", Material: a.Material, Least: a.Least.Add(b.Least), Most: a.Most.Add(b.Most), HasMost: true, Aim: a.Aim + b.Aim,
		LeastWhy: "what both threads need", MostWhy: "what both threads take",
	}
	return e
}

// postNut holds a post by its own stud with a nut.
func (r *resolver) postNut(e *postEnd, plates []passed, stud *shapes.Dim, up bool) *postEnd {
	f := e.f
	f.Kind, f.Head, f.Washer, f.Own, f.Length, e.points = PostNut, nil, false, true, stud, up
	f.Material = orWord(strings.TrimSpace(e.post.Part.Standoff.Material), "steel")
	// The stud's root lies on the plate at the post; its end is where the nut sits.
	e.face, _ = r.clamp(f, plates, !up)
	e.seat = e.face
	nut, least := nutFor(f, "insert", "steel")
	f.Nut = nut
	f.Into = Engagement{What: "a nut", Material: "steel", Least: least, Aim: least.Nominal(), LeastWhy: "the nut and two turns of thread"}
	return e
}
