package layout

import (
	"dryfit/geom"
	"dryfit/shapes"
)

// boardBodies makes the bodies of a board: the bare board with its holes, one body for
// every zone, and for each face one for all the rest of it, as high as the tallest thing
// outside the zones. Round the mounting holes the rest leaves free what the board
// promises to leave free. down and up are the lower and upper face of the bare board.
func (r *resolver) boardBodies(c *Component, down, up Form) {
	body := c.Part.Body
	if body == nil {
		return
	}
	outline := bodyOutline(body)
	if outline.IsEmpty() {
		return
	}
	edge := bodyBlur(body)
	holes := boardHoles(c.Part)
	bare := geom.RegionOf(outline, holesInside(outline, holes)...)
	pcb := r.slab(c, "pcb", PcbBody, move([]geom.Region{bare}, c.Pose), down, up, edge)
	pcb.Conducts = true

	for i := range body.Zones {
		z := &body.Zones[i]
		from, to := outwards(c, z.Face, down, up, or(z.Height, c.Part.Name+" "+z.Name+" height"))
		b := r.slab(c, "zone."+z.Name, ZoneBody, move(one(z.Area), c.Pose), from, to, edge)
		b.Face, b.Hot, b.Live, b.Conducts = z.Face, z.Hot, z.Live, true
		if !z.Pos.IsZero() {
			b.Pos = z.Pos
		}
	}
	for _, f := range []shapes.Face{shapes.Top, shapes.Bottom} {
		height, name := body.Above, "above"
		if f == shapes.Bottom {
			height, name = body.Below, "below"
		}
		if height == nil || height.Value <= 0 && !height.Missing {
			continue
		}
		rest := r.restOfFace(c.Part, outline, f)
		if len(rest) == 0 {
			continue
		}
		from, to := outwards(c, f, down, up, height)
		b := r.slab(c, name, ZoneBody, move(rest, c.Pose), from, to, edge)
		b.Face, b.Conducts = f, true
		b.Hot = c.Part.Kind == shapes.VideoTx && f == shapes.Top
	}
}

// outwards returns the heights of something that stands `height` out from a face of a
// part that may be upside down.
func outwards(c *Component, f shapes.Face, down, up Form, height *shapes.Dim) (from, to Form) {
	if (f == shapes.Top) != c.Flip {
		return up, up.Plus(height, 1)
	}
	return down, down.Plus(height, -1)
}

// bodyOutline is the outline of a body in plan, in the part's frame: as drawn, or a
// rectangle with its corners rounded, or for a can the rectangle that it covers lying.
func bodyOutline(b *shapes.Body) geom.Loop {
	if b.Outline != nil {
		return b.Outline.CCW()
	}
	x, y := drawn(b.Length), drawn(b.Width)
	if b.Shape == shapes.CanBody {
		y = drawn(b.Diameter)
	}
	return geom.RoundedRectangle(zero2, x, y, min(b.Corner, min(x, y)/2))
}

// boardHoles lists the mounting holes of a board as loops in its frame; a pattern of
// three leaves out the right rear corner.
func boardHoles(p *shapes.Part) []geom.Loop {
	s := p.Square
	if s == nil || value(s.Hole) <= 0 {
		return nil
	}
	return patternCircles(s, s.Hole.Value)
}

func patternCircles(s *shapes.SquarePattern, diameter float64) []geom.Loop {
	var out []geom.Loop
	turn := geom.Pose2{Turn: degrees(s.Turn)}
	for i, at := range corners(value(s.X), value(s.Y)) {
		if s.Count == 3 && i == 2 {
			continue
		}
		out = append(out, geom.Circle(turn.Apply(at), diameter/2))
	}
	return out
}

// holesInside keeps the holes that lie within the outline: scalloped boards have
// holes that run out over the edge, and those are no holes of a region.
func holesInside(outline geom.Loop, holes []geom.Loop) []geom.Loop {
	var out []geom.Loop
	for _, h := range holes {
		b := h.Bound()
		c := b.Center()
		if _, d := outline.Nearest(c); outline.Contains(c) && d > b.Size().X/2+geom.Coincident {
			out = append(out, h)
		}
	}
	return out
}

// restOfFace is the part of a face outside its zones and outside the circles that are
// kept free round the mounting holes, in the part's frame. Parts of one name have the
// same rest, so it is worked out once.
func (r *resolver) restOfFace(p *shapes.Part, outline geom.Loop, f shapes.Face) []geom.Region {
	key := restKey{p.Name, f}
	if got, ok := r.rest[key]; ok {
		return got
	}
	var cut []geom.Region
	for i := range p.Body.Zones {
		if z := &p.Body.Zones[i]; z.Face == f && !z.Area.IsEmpty() {
			cut = append(cut, geom.RegionOf(z.Area.CCW()))
		}
	}
	if s := p.Square; s != nil && value(s.Clear) > 0 {
		for _, l := range patternCircles(s, s.Clear.Value) {
			cut = append(cut, geom.RegionOf(l))
		}
	}
	rest := []geom.Region{geom.RegionOf(outline)}
	if len(cut) > 0 {
		got, err := geom.Difference(rest, cut)
		if err != nil {
			// The whole face is the safe answer: it claims more room, never less.
			r.note("%s: the free circles and zones of its face could not be cut out (%v); the whole face counts", p.Name, err)
		} else {
			rest = got
		}
	}
	if r.rest == nil {
		r.rest = map[restKey][]geom.Region{}
	}
	r.rest[key] = rest
	return rest
}

// restKey names one face of one part.
type restKey struct {
	part string
	face shapes.Face
}
