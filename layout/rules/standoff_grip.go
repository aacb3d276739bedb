package rules

import (
	"fmt"

	"dryfit/layout"
)

// postEven is by how much posts under one plate may differ in length, mm: two lots of metal
// posts differ by as much, and more makes the plate rock.
const postEven = 0.2

var standoffGrip = &Rule{
	Name:     "standoff-grip",
	Group:    "frame",
	Question: "do screws hold in posts without meeting, and are posts alike",
	Why:      "When two screws meet inside a post, the last one will not pull down and the post spins; a screw with too little thread pulls it out; posts of unlike length rock or bend the plate.",
	Need:     "At least 1 diameter of thread in aluminium and brass, 0.8 in steel, 1.5 in nylon; at most the depth of the thread less 0.5 mm, in posts that are tapped right through the length less 1.0; 1.0 mm free between two screws; posts under one plate alike to 0.2 mm.",
	How:      "Length of each screw less the plates and washers that it clamps, in mm, at worst case on both sides; the length of the post less both; the gap between the end of a post and a plate that is drilled for it but lies on other posts. Equal joints are told once.",
	Fix:      "Shorter or longer screws as named; sort or shim posts.",
	Run:      runStandoffGrip,
}

func runStandoffGrip(p *Pass) {
	list := p.fastenings(layout.PostScrew, layout.PostStud, layout.PostNut)
	for _, f := range list {
		p.reaches(f)
		p.freeBetween(f, "the post")
	}
	told := len(list) + p.unevenPosts()
	if told == 0 {
		p.Nothing("no screw goes into a post")
	}
}

// unevenPosts judges posts that end near a plate which is drilled for them and lies on
// others, one a set.
func (p *Pass) unevenPosts() (told int) {
	seen := map[string]bool{}
	for _, post := range p.Asm.Posts {
		for _, pl := range p.Asm.Plates {
			key := post.Set + " " + pl.ID
			if seen[key] || pl.ID == post.Lower || pl.ID == post.Upper {
				continue
			}
			gap, where := pl.Bottom.Sub(post.Top), "under"
			if post.Upper != "" {
				gap, where = post.Bottom.Sub(pl.Top), "over"
			}
			if n := gap.Nominal(); n < -3 || n > 3 || !drilledAt(pl, post) {
				continue
			}
			seen[key] = true
			told++
			f := layout.Finding{
				Subjects: []string{post.Body.Of, pl.ID}, Pos: post.Pos, AtMost: true, HasPlace: true,
				A: lift(post.At, post.Top.Nominal()), B: lift(post.At, pl.Bottom.Nominal()), Near: p.call(post.ID),
			}
			beyond := gap.Nominal() < 0
			if beyond {
				gap = gap.Scale(-1)
			}
			f = f.Judge(gap, layout.Fixed(postEven))
			words := fmt.Sprintf("%s %s", where, p.call(pl.ID))
			if beyond {
				words = "beyond the face of " + p.call(pl.ID)
			}
			f.Message = fmt.Sprintf("posts %s end %s %s, which lies on others and is drilled for them, %s allowed", spoken(post.Set), mm(f.Measured), words, mm(postEven))
			switch {
			case f.Verdict == layout.Unknown:
				f.Fix = unknownFix(&f)
			case mustMend(&f):
				f.Fix = "take posts of one length and one lot, or shim the shorter ones by what is missing"
			}
			p.Report(f)
		}
	}
	return told
}

// drilledAt reports whether a plate has a hole on the axis of a post.
func drilledAt(pl *layout.Plate, post *layout.Post) bool {
	for i := range pl.Holes {
		h := &pl.Holes[i]
		if h.Length <= 0 && h.Diameter != nil && h.At.Sub(post.At).Norm() < h.Diameter.Value/2 {
			return true
		}
	}
	return false
}
