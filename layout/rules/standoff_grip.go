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
	How:      "Length of each screw less the plates and washers that it clamps, in mm, at worst case on both sides; the length of the post less both; the gap between the end of a post and a plate that is drilled for it but lies on other posts; of four and more posts between the same plates, the longest less the shortest that one lot may hold, since three always carry a plate without rocking. Equal joints are told once.",
	Fix:      "Shorter or longer screws as named; sort or shim posts.",
	Run:      runStandoffGrip,
}

func runStandoffGrip(p *Pass) {
	list := p.fastenings(layout.PostScrew, layout.PostStud, layout.PostNut)
	for _, f := range list {
		p.reaches(f)
		p.freeBetween(f, "the post")
	}
	told := len(list) + p.unevenPosts() + p.lotSpread()
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

// lotSpread judges what the lengths of posts of one set between the same two plates may
// differ by: they come from one bag, but each has a tolerance of its own. Three posts
// carry any plate evenly; four rock or bend it.
func (p *Pass) lotSpread() (told int) {
	var order []string
	count := map[string]int{}
	first := map[string]*layout.Post{}
	for _, post := range p.Asm.Posts {
		if post.Lower == "" || post.Upper == "" || post.Length == nil || post.Body == nil {
			continue
		}
		key := post.Set + " " + post.Lower + " " + post.Upper
		if count[key]++; count[key] == 1 {
			order, first[key] = append(order, key), post
		}
	}
	for _, key := range order {
		if count[key] < 4 {
			continue
		}
		told++
		post := first[key]
		long, short := *post.Length, *post.Length
		at := lift(post.At, post.Top.Nominal())
		f := layout.Finding{
			Subjects: []string{post.Body.Of, post.Upper}, Pos: post.Pos, AtMost: true, HasPlace: true, A: at, B: at, Near: "posts " + spoken(post.Set),
		}
		f = f.Judge(layout.Of(&long).Sub(layout.Of(&short)), layout.Fixed(postEven))
		most := long.Plus + short.Minus
		f.Message = fmt.Sprintf("the %d posts %s of %s may differ by %s in one lot, %s allowed", count[key], spoken(post.Set), mm(long.Value), mm(most), mm(postEven))
		switch {
		case f.Verdict == layout.Unknown:
			f.Message = fmt.Sprintf("by how much the posts %s may differ hangs on a dimension that is missing", spoken(post.Set))
			f.Fix = unknownFix(&f)
		case mustMend(&f):
			f.Fix = fmt.Sprintf("sort them to %s with callipers and say so (`length: %s ±%s`), shim the short ones, or take metal ones", mm(postEven), num(long.Value), num(postEven/2))
		}
		p.Report(f)
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
