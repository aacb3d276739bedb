package layout

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/shapes"
)

// postSpot is the place of one post.
type postSpot struct {
	at    r2.Point
	place *shapes.Dim
}

// planPosts finds where the posts stand in plan. A post may be off by the position of
// its hole and by the play of its screw in it.
func (r *resolver) planPosts() {
	for _, s := range r.b.Posts {
		p := r.posts[s.Name]
		play := 0.0
		if t := r.thread(threadOf(p.part)); t != nil && t.Thread.PlateHole != nil {
			play = max(0, t.Thread.PlateHole.Value-t.Thread.Major) / 2
		}
		if r.tooMany(len(s.At.Points), s.Pos, "posts."+s.Name, "posts") {
			continue
		}
		for i, pose := range s.At.Poses(s.Turn) {
			p.spots = append(p.spots, postSpot{
				at:    pose.Shift,
				place: assumed(fmt.Sprintf("posts.%s[%d] position", s.Name, i+1), 0, tolPlace+play),
			})
		}
	}
}

func threadOf(p *shapes.Part) string {
	if p == nil || p.Standoff == nil {
		return ""
	}
	return p.Standoff.Thread
}

// thread returns the thread part of a size ("M3"), nil if the catalogue has none.
func (r *resolver) thread(size string) *shapes.Part {
	p := r.shared(lowerCase(size))
	if p == nil || p.Thread == nil {
		return nil
	}
	return p
}

// placePosts makes the posts' bodies and says which plates each set joins.
func (r *resolver) placePosts() {
	for _, s := range r.b.Posts {
		p := r.posts[s.Name]
		face := s.From.Face
		c := &Component{
			ID: "posts." + s.Name, Label: s.Name + " posts", Kind: "post", Part: p.part, Pos: s.Pos,
			On: "plates." + s.From.Name, OnFace: face, Flip: face == shapes.Bottom,
			Base: p.bottom, Count: len(p.spots),
		}
		if c.Flip {
			c.Base = p.top
		}
		if s.From.Rotor != "" {
			c.On += "." + s.From.Rotor
		}
		r.add(c, "")
		below, above := r.joined(s)
		wide := postWidth(p.part)
		for i, spot := range p.spots {
			id := fmt.Sprintf("%s[%d]", c.ID, i+1)
			b := r.body(c, &Body{
				ID: id, Kind: PostBody, Part: p.part, Plan: one(disc(spot.at, wide)),
				Bottom: p.bottom, Top: p.top, Conducts: p.part != nil && p.part.Standoff != nil && p.part.Standoff.Conducts,
			}, sizeBlur(wide))
			b.Blur = b.Blur.Plus(spot.place, 1)
			b.Rides = append(append([]*shapes.Dim(nil), b.Rides...), spot.place)
			r.asm.Posts = append(r.asm.Posts, &Post{
				ID: id, Set: s.Name, At: spot.at, Part: p.part, Length: p.length,
				Bottom: p.bottom, Top: p.top, Body: b,
				Lower: r.plateAt(below, spot.at), Upper: r.plateAt(above, spot.at), Pos: s.Pos,
			})
		}
		c.Mass = postMass(p, len(p.spots))
	}
}

// joined lists the plates at the lower and at the upper end of a set of posts.
func (r *resolver) joined(s *PostSpec) (below, above []string) {
	if s.From.Face == shapes.Bottom {
		above = append(above, s.From.Name)
	} else {
		below = append(below, s.From.Name)
	}
	for _, q := range r.b.Plates {
		if q.On != nil && q.On.Kind == TargetPosts && q.On.Name == s.Name {
			above = append(above, q.Name)
		}
		if q.Under != nil && q.Under.Kind == TargetPosts && q.Under.Name == s.Name {
			below = append(below, q.Name)
		}
	}
	return below, above
}

// plateAt returns the ID of the first of the named plates that reaches p, else of the
// nearest copy of the first, "" for none.
func (r *resolver) plateAt(names []string, at r2.Point) string {
	best, dist := "", math.Inf(1)
	for _, n := range names {
		for _, p := range r.asm.Plates {
			if p.Name != n {
				continue
			}
			if covers(p.Solid, at) {
				return p.ID
			}
			if d := boundOf(p.Solid).Distance(geom.Rect{Lo: at, Hi: at}); d < dist {
				best, dist = p.ID, d
			}
		}
	}
	return best
}

// postWidth is the dimension across a post that can meet its neighbours: the diameter,
// or the corners of a hexagon, which comes to rest at any angle when it is screwed down.
func postWidth(p *shapes.Part) *shapes.Dim {
	if p == nil || p.Standoff == nil {
		return missing("post diameter")
	}
	s := p.Standoff
	switch {
	case !s.Hex:
		return or(s.OD, p.Name+" diameter")
	case s.Corner != nil:
		return s.Corner
	}
	return cornerOf(s.OD, p.Name)
}

// cornerOf is the width across corners of a hexagon: 2/√3 of that across flats.
func cornerOf(flats *shapes.Dim, name string) *shapes.Dim {
	if flats == nil {
		return missing(name + " across corners")
	}
	c := *flats
	k := geom.AcrossCorners(1, 6)
	c.Name = name + " across corners"
	c.Value, c.Plus, c.Minus = k*c.Value, k*c.Plus, k*c.Minus
	return &c
}
