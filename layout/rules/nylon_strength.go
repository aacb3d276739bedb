package rules

import (
	"fmt"
	"math"

	"dryfit/layout"
	"dryfit/shapes"
)

// A crash stops a craft with 100 to 200 times its weight; 150 is taken.
const (
	shock   = 150.0
	gravity = 9.81 // m/s²
)

var nylonStrength = &Rule{
	Name:     "nylon-strength",
	Group:    "stack",
	Question: "do nylon screws, spacers, nuts and posts bear a crash",
	Why:      "After a crash the stack is loose and the boards hang on the harness: nylon sheared.",
	Need:     "150 times the weight that they carry, spread over the screws, must stay under what nylon bears: 120 N in shear for M3, 42 for M2; 170 and 60 N in tension for nylon nuts on metal bolts. The figures are weak: 30 % below counts as possible.",
	How:      "Mass of boards and of all that is mounted on them (for posts: of the plates on them and what these carry) x 9.81 x 150 / number of screws, in N. Metal bolts that go right through take the shear of a stack.",
	Fix:      "Steel bolts with grommets, metal posts, or less mass on them.",
	Run:      runNylonStrength,
}

func runNylonStrength(p *Pass) {
	told := 0
	for _, s := range p.Asm.Stacks {
		told += p.nylonStack(s)
	}
	var sets []string
	for _, post := range p.Asm.Posts {
		if post.Part == nil || post.Part.Standoff == nil || post.Part.Standoff.Material != "nylon" || hasWord(sets, post.Set) {
			continue
		}
		sets = append(sets, post.Set)
		told += p.nylonPosts(post)
	}
	if told == 0 {
		p.Nothing("nothing of nylon holds a stack or a plate")
	}
}

// nylonStack judges what holds a stack: its bolts, or the spacers that short screws go
// into, in shear; nylon nuts on metal bolts in tension.
func (p *Pass) nylonStack(s *layout.Stack) int {
	what, tension, count := "", false, len(s.Screws)
	subject := ""
	for _, f := range p.Asm.Fastenings {
		j := p.firstOf(f)
		if j == nil || j.Owner.ID != "stacks."+s.Name+".bolts" && j.Owner.ID != "stacks."+s.Name+".plate-screws" {
			continue
		}
		switch {
		case f.Material == "nylon":
			what = "nylon screws"
		case f.Kind == layout.SpacerScrew && f.Into.Material == "nylon":
			what = "nylon spacers"
		case f.Kind == layout.StackBolt && f.Nut != nil && f.Nut.Material == "nylon":
			what, tension = "nylon nuts", true
		}
		subject = j.Owner.ID
	}
	if what == "" || count == 0 {
		return 0
	}
	var mass layout.Form
	for _, c := range stackComponents(p.Asm, s) {
		mass = mass.Add(c.Mass.Grams)
	}
	at := lift(s.Screws[0].At, s.Bottom.Nominal())
	p.bears(layout.Finding{
		Subjects: []string{subject}, Pos: s.Pos, HasPlace: true, A: at, B: at, Near: "stack " + spoken(s.Name),
	}, mass, count, what, s.Screw, tension, "the stack")
	return 1
}

// nylonPosts judges a set of nylon posts by what the plates on them carry.
func (p *Pass) nylonPosts(post *layout.Post) int {
	carried := map[string]bool{post.Body.Of: true}
	var mass layout.Form
	for grown := true; grown; {
		grown = false
		for _, c := range p.Asm.Components {
			if !carried[c.ID] && carried[c.On] && c.Kind != "screws" {
				carried[c.ID], grown = true, true
				mass = mass.Add(c.Mass.Grams)
			}
		}
	}
	if mass.Nominal() <= 0 && len(mass.Missing()) == 0 {
		return 0
	}
	n := 0
	for _, q := range p.Asm.Posts {
		if q.Set == post.Set {
			n++
		}
	}
	at := lift(post.At, post.Bottom.Nominal())
	p.bears(layout.Finding{
		Subjects: []string{post.Body.Of}, Pos: post.Pos, HasPlace: true, A: at, B: at, Near: "posts " + spoken(post.Set),
	}, mass, n, "nylon posts", post.Part.Standoff.Thread, false, "what lies on them")
	return 1
}

// bears judges the force of a crash on each of n pieces of nylon.
func (p *Pass) bears(f layout.Finding, mass layout.Form, n int, what, size string, tension bool, load string) {
	t, s := shapes.NylonStrength(screwSize(size))
	word, v := "in shear", s
	if tension {
		word, v = "in tension", t
	}
	strength := &shapes.Dim{
		Name: "strength of " + size + " " + what, Value: v, Minus: 0.3 * v, Unit: shapes.Newton, HasTol: true, Range: true,
		Source: shapes.Catalogue, TolSource: shapes.Catalogue, Conf: "K-", Kind: "estimate",
	}
	f.AtMost, f.Unit = true, shapes.Newton
	f = f.Judge(mass.Scale(gravity*shock/1000/float64(n)), layout.Of(strength))
	f.Message = fmt.Sprintf("%s of %s g at 150 times its weight puts %s N on each of %d %s, which bear %s N %s",
		load, grams(mass.Nominal()), num(math.Round(10*f.Measured)/10), n, what, num(math.Round(v)), word)
	switch {
	case f.Verdict == layout.Unknown:
		f.Message = fmt.Sprintf("what a crash puts on the %s hangs on a mass that is missing", what)
		f.Fix = "weigh it and give its `mass:`"
	case mustMend(&f):
		f.Fix = "take metal ones: they bear more than ten times as much"
	}
	p.Report(f)
}
