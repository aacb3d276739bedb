package layout

import (
	"cmp"
	"slices"
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// wanting says what a reference may point at.
type wanting struct {
	kinds []TargetKind
	face  faceWant
	whole bool   // an arm plate as a whole will do, not only one of its copies
	arms  bool   // the word arms will do as well
	say   string // what was expected
}

// faceWant says whether a face is written behind the name.
type faceWant uint8

const (
	noFace faceWant = iota
	aFace
	topOnly
	bottomOnly
)

// What the places of references want.

func wantPlate() wanting {
	return wanting{kinds: []TargetKind{TargetPlate}, whole: true, say: "the name of a plate"}
}

func wantCarrier() wanting {
	return wanting{kinds: []TargetKind{TargetPlate, TargetPosts}, whole: true, say: "a plate or a set of posts, such as base or posts.main"}
}

func wantPlateFace() wanting {
	return wanting{kinds: []TargetKind{TargetPlate}, face: aFace, say: "a face of a plate, such as base.top or roof.bottom"}
}

func wantPlateTop() wanting {
	return wanting{kinds: []TargetKind{TargetPlate}, face: topOnly, say: "the top of a plate, such as base.top"}
}

func wantPlateBottom() wanting {
	return wanting{kinds: []TargetKind{TargetPlate}, face: bottomOnly, say: "the bottom of a plate, such as base.bottom"}
}

func wantFace() wanting {
	return wanting{kinds: []TargetKind{TargetPlate, TargetBoard, TargetMount, TargetBattery}, face: aFace,
		say: "a face, such as roof.top, stacks.main.BOARD.top, mounts.NAME.top or battery.top"}
}

func wantMountFace() wanting {
	w := wantFace()
	w.arms = true
	w.say += ", or arms"
	return w
}

func wantPackFace() wanting {
	return wanting{kinds: []TargetKind{TargetPlate, TargetMount, TargetBattery}, face: aFace, say: "a face of a plate, such as roof.top or base.bottom"}
}

func wantHole() wanting {
	return wanting{kinds: []TargetKind{TargetHole}, whole: true, say: "a named entry of a plate's holes, such as roof.strap"}
}

func wantHoleFor() wanting {
	return wanting{kinds: []TargetKind{TargetMotors, TargetPosts, TargetStack, TargetStrap, TargetWires}, whole: true,
		say: "motors, posts.NAME, stacks.NAME, strap or wires"}
}

func wantAnything() wanting {
	return wanting{kinds: []TargetKind{TargetPlate, TargetPosts, TargetStack, TargetBoard, TargetMount, TargetBattery, TargetCamera, TargetAntenna, TargetRotor},
		whole: true, say: "something that the build names, such as mounts.receiver, stacks.main.BOARD, battery or rotors.front-left.prop"}
}

// pendingRef is a reference that waits until all names are known.
type pendingRef struct {
	node *read.Node
	dest **Target
	want wanting
}

// ref notes a reference; dest is filled by findRefs and stays nil after a mistake.
func (d *decoder) ref(n *read.Node, dest **Target, want wanting) {
	if n != nil {
		d.pending = append(d.pending, pendingRef{n, dest, want})
	}
}

func (d *decoder) findRefs(ix *index) {
	for _, p := range d.pending {
		t := d.findRef(p.node, p.want, ix)
		*p.dest = t
		if t != nil {
			d.nodes[t] = p.node
		}
	}
	d.pending = nil
	d.reportStrays()
}

// stray is a reference to nothing.
type stray struct {
	name             string // without its face
	node             *read.Node
	text, want, hint string
}

// reportStrays reports each name that nothing bears once, at its first place in the
// file, with the other places beside it.
func (d *decoder) reportStrays() {
	slices.SortStableFunc(d.strays, func(a, b stray) int {
		p, q := a.node.Pos(), b.node.Pos()
		return cmp.Or(cmp.Compare(p.Line, q.Line), cmp.Compare(p.Col, q.Col))
	})
	done := map[string]bool{}
	for i, s := range d.strays {
		if done[s.name] {
			continue
		}
		done[s.name], d.reported[s.name] = true, true
		var also []read.Related
		for _, o := range d.strays[i+1:] {
			if o.name == s.name {
				also = append(also, read.Related{Pos: o.node.Pos(), Text: "here as well"})
			}
		}
		d.diags.AtRelated(s.node, read.Quote(s.text)+" is nothing that this build has", s.want, s.hint, also...)
	}
	d.strays = nil
}

// index holds everything that references may point at, by the texts that mean it.
type index struct {
	byText map[string]*Target
	order  []string
}

func (ix *index) add(t Target, texts ...string) {
	for _, text := range texts {
		if _, taken := ix.byText[text]; taken {
			continue
		}
		one := t
		ix.byText[text] = &one
		ix.order = append(ix.order, text)
	}
}

func (ix *index) find(text string) *Target { return ix.byText[text] }

// texts lists what may be written for the kinds, in the order of the index.
func (ix *index) texts(kinds ...TargetKind) []string {
	var out []string
	for _, text := range ix.order {
		if slices.Contains(kinds, ix.byText[text].Kind) {
			out = append(out, text)
		}
	}
	return out
}

// makeIndex collects the names of the build.
func (d *decoder) makeIndex() *index {
	ix := &index{byText: map[string]*Target{}}
	b := d.b
	var rotors []string
	if b.Rotors != nil {
		for _, r := range b.Rotors.Rotors {
			rotors = append(rotors, r.Name)
		}
	}
	for _, p := range b.Plates {
		ix.add(Target{Kind: TargetPlate, Name: p.Name}, p.Name, "plates."+p.Name)
		if p.EachRotor {
			for _, r := range rotors {
				ix.add(Target{Kind: TargetPlate, Name: p.Name, Rotor: r}, p.Name+"."+r, "plates."+p.Name+"."+r)
			}
		}
		for _, h := range p.Holes {
			if !onlyDigits(h.Name) {
				ix.add(Target{Kind: TargetHole, Name: p.Name, Item: h.Name}, p.Name+"."+h.Name, "plates."+p.Name+"."+h.Name)
			}
		}
	}
	for _, p := range b.Posts {
		ix.add(Target{Kind: TargetPosts, Name: p.Name}, "posts."+p.Name)
	}
	short := map[string]int{}
	for _, s := range b.Stacks {
		ix.add(Target{Kind: TargetStack, Name: s.Name}, "stacks."+s.Name)
		for _, it := range s.Items {
			if it.Kind == ItemBoard {
				ix.add(Target{Kind: TargetBoard, Name: s.Name, Item: it.Name}, "stacks."+s.Name+"."+it.Name)
				short[it.Name]++
			}
		}
	}
	for _, m := range b.Mounts {
		ix.add(Target{Kind: TargetMount, Name: m.Name}, "mounts."+m.Name)
		if d.perRotor[m.Name] {
			for _, r := range rotors {
				ix.add(Target{Kind: TargetMount, Name: m.Name, Rotor: r}, "mounts."+m.Name+"."+r)
			}
		}
	}
	for _, p := range b.Batteries {
		ix.add(Target{Kind: TargetBattery, Name: p.Name}, p.ID())
	}
	for _, c := range b.Cameras {
		ix.add(Target{Kind: TargetCamera, Name: c.Name}, "cameras."+c.Name)
	}
	for _, a := range b.Antennas {
		ix.add(Target{Kind: TargetAntenna, Name: a.Name}, "antennas."+a.Name)
	}
	for _, r := range rotors {
		ix.add(Target{Kind: TargetRotor, Rotor: r}, "rotors."+r)
		ix.add(Target{Kind: TargetRotor, Rotor: r, Item: "motor"}, "rotors."+r+".motor")
		ix.add(Target{Kind: TargetRotor, Rotor: r, Item: "prop"}, "rotors."+r+".prop")
	}
	ix.add(Target{Kind: TargetArms}, "arms")
	ix.add(Target{Kind: TargetMotors}, "motors")
	ix.add(Target{Kind: TargetStrap}, "strap")
	ix.add(Target{Kind: TargetWires}, "wires")
	// A board may be named alone where only one stack has it.
	for _, s := range b.Stacks {
		for _, it := range s.Items {
			if it.Kind == ItemBoard && short[it.Name] == 1 {
				ix.add(Target{Kind: TargetBoard, Name: s.Name, Item: it.Name}, it.Name)
			}
		}
	}
	return ix
}

func onlyDigits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// letPass tells that a reference may well mean something that has been reported, so that
// another complaint would be noise.
func (d *decoder) letPass(text string) bool {
	steps := strings.Split(text, ".")
	for name := range d.unnamed {
		if name == text || slices.Contains(steps, name) || strings.HasPrefix(text, name+".") {
			return true
		}
	}
	switch steps[0] {
	case "plates", "posts", "stacks", "mounts", "battery", "batteries", "cameras", "antennas", "rotors":
		return d.lost[steps[0]] || (len(steps) > 2 && d.lost["rotors"])
	}
	return d.lost["plates"] || (len(steps) > 1 && d.lost["rotors"]) || d.lost["stacks"]
}

// findRef finds what n points at.
func (d *decoder) findRef(n *read.Node, want wanting, ix *index) *Target {
	text, ok := d.diags.Text(n)
	if !ok {
		return nil
	}
	if t := ix.find(text); t != nil && want.face == noFace {
		return d.fits(n, text, t, want, ix)
	} else if t != nil {
		return d.withoutFace(n, text, t, want)
	}
	cut := strings.LastIndex(text, ".")
	var t *Target
	if cut > 0 {
		t = ix.find(text[:cut])
	}
	if t == nil || !hasFaces(t.Kind) {
		d.notFound(n, text, want, ix)
		return nil
	}
	base, word := text[:cut], text[cut+1:]
	if word != "top" && word != "bottom" {
		d.noSuchStep(n, base, word, t, want, ix)
		return nil
	}
	if want.face == noFace {
		if slices.Contains(want.kinds, t.Kind) {
			d.diags.At(n, read.Quote(text)+" names a face, and the whole is meant here", want.say, "write "+base)
		} else {
			d.diags.At(n, read.Quote(text)+" is "+t.describe(), want.say, "")
		}
		return nil
	}
	t = d.fits(n, base, t, want, ix)
	if t == nil {
		return nil
	}
	t.Text = text
	t.HasFace, t.Face = true, shapes.Top
	if word == "bottom" {
		t.Face = shapes.Bottom
	}
	return d.faceFits(n, base, t, want)
}

// faceFits checks that the face can carry something.
func (d *decoder) faceFits(n *read.Node, base string, t *Target, want wanting) *Target {
	switch {
	case t.Face == shapes.Bottom && (t.Kind == TargetMount || t.Kind == TargetBattery):
		d.diags.At(n, "the bottom of "+base+" lies on what carries it", base+".top, the face away from its carrier", "")
	case t.Face == shapes.Bottom && want.face == topOnly:
		d.diags.At(n, "`above:` counts from the top of a plate", want.say, "write `below: "+t.Text+"` for a camera that hangs")
	case t.Face == shapes.Top && want.face == bottomOnly:
		d.diags.At(n, "`below:` counts from the bottom of a plate", want.say, "write `above: "+t.Text+"` for a camera that stands")
	default:
		return t
	}
	return nil
}

// fits checks the kind of what was found and returns a copy with its place in the file.
func (d *decoder) fits(n *read.Node, text string, t *Target, want wanting, ix *index) *Target {
	if !slices.Contains(want.kinds, t.Kind) {
		hint := ""
		if t.Kind == TargetBoard || t.Kind == TargetStack {
			hint = read.DidYouMean(text, ix.texts(want.kinds...))
		}
		d.diags.At(n, read.Quote(text)+" is "+t.describe(), want.say, hint)
		return nil
	}
	if t.Kind == TargetPlate && t.Rotor == "" && !want.whole && d.standsAtRotors(t.Name) {
		hint := ""
		if rs := d.b.Rotors; rs != nil && len(rs.Rotors) > 0 {
			hint = "such as " + t.Name + "." + rs.Rotors[0].Name
			if want.face != noFace {
				hint += ".top"
			}
		}
		d.diags.At(n, t.Name+" stands at every rotor; which one is meant?", "one copy of the plate", hint)
		return nil
	}
	found := *t
	found.Text, found.Pos = text, n.Pos()
	return &found
}

func (d *decoder) standsAtRotors(plate string) bool {
	for _, p := range d.b.Plates {
		if p.Name == plate {
			return p.EachRotor
		}
	}
	return false
}

// withoutFace reports a name where a face of it is meant.
func (d *decoder) withoutFace(n *read.Node, text string, t *Target, want wanting) *Target {
	switch {
	case !slices.Contains(want.kinds, t.Kind):
		d.diags.At(n, read.Quote(text)+" is "+t.describe(), want.say, "")
	case t.Kind == TargetMount || t.Kind == TargetBattery || want.face == topOnly:
		d.diags.At(n, read.Quote(text)+" does not say which face", want.say, "write "+text+".top")
	case want.face == bottomOnly:
		d.diags.At(n, read.Quote(text)+" does not say which face", want.say, "write "+text+".bottom")
	default:
		d.diags.At(n, read.Quote(text)+" does not say which face", want.say, "write "+text+".top or "+text+".bottom")
	}
	return nil
}

func hasFaces(k TargetKind) bool {
	switch k {
	case TargetPlate, TargetBoard, TargetMount, TargetBattery:
		return true
	}
	return false
}

// noSuchStep reports a last step that is neither a face nor anything else there.
func (d *decoder) noSuchStep(n *read.Node, base, word string, t *Target, want wanting, ix *index) {
	if d.letPass(base + "." + word) {
		return
	}
	if want.face == noFace {
		d.notFound(n, base+"."+word, want, ix)
		return
	}
	steps := []string{"top", "bottom"}
	say := base + ".top or " + base + ".bottom"
	if t.Kind == TargetMount || t.Kind == TargetBattery {
		steps, say = steps[:1], base+".top"
	}
	hint := ""
	if near := read.Nearest(word, steps); near != "" {
		hint = "did you mean " + base + "." + near + "?"
	}
	d.diags.At(n, base+" has no face "+read.Quote(word), say, hint)
}

// notFound reports a reference to nothing.
func (d *decoder) notFound(n *read.Node, text string, want wanting, ix *index) {
	if d.letPass(text) {
		return
	}
	var words []string
	for _, t := range ix.texts(want.kinds...) {
		if want.face == noFace || !hasFaces(ix.find(t).Kind) {
			words = append(words, t)
			continue
		}
		words = append(words, t+".top")
		if k := ix.find(t).Kind; k == TargetPlate || k == TargetBoard {
			words = append(words, t+".bottom")
		}
	}
	if want.arms {
		words = append(words, "arms")
	}
	name := text
	if want.face != noFace {
		name = strings.TrimSuffix(strings.TrimSuffix(text, ".top"), ".bottom")
	}
	d.strays = append(d.strays, stray{strings.TrimPrefix(name, "plates."), n, text, want.say, read.DidYouMean(text, words)})
}

// describe says what a target is, with its article.
func (t *Target) describe() string {
	switch t.Kind {
	case TargetPlate:
		return "a plate"
	case TargetPosts:
		return "a set of posts"
	case TargetStack:
		return "a stack"
	case TargetBoard:
		return "a board of a stack"
	case TargetMount:
		return "a mounted part"
	case TargetBattery:
		return "a battery"
	case TargetCamera:
		return "a camera"
	case TargetAntenna:
		return "an antenna"
	case TargetRotor:
		return "a rotor"
	case TargetHole:
		return "a hole entry"
	case TargetArms:
		return "the word for all arms"
	case TargetMotors:
		return "the word for all motors"
	}
	return "a word for holes"
}
