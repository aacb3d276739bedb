package layout

import (
	"fmt"
	"strings"

	"dryfit/shapes"
	"dryfit/shapes/read"
)

// posts reads the section posts.
func (d *decoder) posts(f *read.Fields) {
	for _, e := range d.named(f, "posts") {
		p := &PostSpec{Name: e.Key, Pos: e.KeyPos}
		d.b.Posts = append(d.b.Posts, p)
		pf := d.diags.Fields(e.Value, "a set of posts")
		if !pf.OK() {
			continue
		}
		p.Part = d.part(pf.Need("part", "a standoff, such as standoff-m3-round"), "a standoff", shapes.StandoffKind)
		ln := pf.Need("length", "the length of one post, such as 25 mm")
		p.Length = d.dim(ln, "posts "+p.Name+" length", shapes.SizeMM().Between(1, 300))
		d.ref(pf.Need("from", "the face that they stand on, such as base.top"), &p.From, wantPlateFace())
		if pf.Need("at", placeForm+", or a list of such pairs") != nil {
			p.At = d.places(pf, false)
		}
		pf.Also("mirror")
		p.Turn = d.angle(pf, "turn", 0)
		d.postScrews(pf.Get("screw"), p)
		pf.Done()
	}
}

// stacks reads the section stacks.
func (d *decoder) stacks(f *read.Fields) {
	for _, e := range d.named(f, "stacks") {
		s := &StackSpec{Name: e.Key, Pos: e.KeyPos}
		d.b.Stacks = append(d.b.Stacks, s)
		sf := d.diags.Fields(e.Value, "a stack")
		if !sf.OK() {
			d.lost["stacks"] = true
			continue
		}
		d.stack(sf, s)
		sf.Done()
	}
}

func (d *decoder) stack(f *read.Fields, s *StackSpec) {
	d.ref(f.Need("from", "the face that it stands on or hangs from, such as base.top"), &s.From, wantPlateFace())
	s.At.Pos = s.Pos
	if n := f.Get("at"); n != nil {
		s.At = d.point(n)
	}
	s.Turn = d.angle(f, "turn", 0)
	if n := f.Get("pattern"); n != nil {
		s.SideX, s.SideY = d.sides(n, "stack "+s.Name+" side", "the side of the square between hole centres, such as 30.5")
	}
	screwOK := true
	if n := f.Get("screw"); n != nil {
		s.Screw, screwOK = d.thread(n)
	}
	d.bolts(f.Get("bolts"), s)
	if n := f.Need("items", "what is stacked, from the plate outwards: [spacer nylon 6 mm, BOARD, nut nylon]"); n != nil {
		d.items(n, s)
	} else {
		d.lost["stacks"] = true
	}
	// What is not said follows from the board nearest the plate.
	for _, it := range s.Items {
		if it.Kind != ItemBoard || it.Part == nil || it.Part.Square == nil {
			continue
		}
		sq := it.Part.Square
		if !f.Has("pattern") && s.SideX == nil {
			s.SideX, s.SideY = sq.X, sq.Y
		}
		if !f.Has("screw") && s.Screw == "" {
			s.Screw = sq.Screw
		}
	}
	if s.hasBoards() {
		d.spacerParts(s)
		return // a board that names no part or no pattern is reported there
	}
	if !f.Has("pattern") {
		f.Lack("pattern", "a stack without boards needs `pattern:`", "the side of the square between hole centres, such as 30.5", "")
	}
	if s.Screw == "" && screwOK {
		f.Lack("screw", "a stack without boards needs `screw:`", "the thread, such as M3", "")
	}
	d.spacerParts(s)
}

func (s *StackSpec) hasBoards() bool {
	for _, it := range s.Items {
		if it.Kind == ItemBoard {
			return true
		}
	}
	return len(s.Items) == 0 || s.doubt
}

// thread reads a thread's size.
func (d *decoder) thread(n *read.Node) (string, bool) {
	text, ok := d.diags.Text(n)
	if !ok {
		return "", false
	}
	var sizes []string
	for _, p := range d.lib.ByKind(shapes.ThreadKind) {
		if p.Thread == nil {
			continue
		}
		if strings.EqualFold(p.Thread.Size, text) {
			return p.Thread.Size, true
		}
		sizes = append(sizes, p.Thread.Size)
	}
	d.diags.At(n, read.Quote(text)+" is not a thread of the catalogue", "one of "+strings.Join(sizes, ", "), "")
	return "", false
}

// spacerParts finds the standoff class that each spacer without a part of its own is, by
// thread and material: the build's own part where there is just one, else of the
// catalogue's, hexagonal ones first for nylon, round ones for metal.
func (d *decoder) spacerParts(s *StackSpec) {
	var all []*shapes.Part
	for _, it := range s.Items {
		if it.Kind != ItemSpacer || it.Part != nil {
			continue
		}
		if all == nil {
			all = d.lib.ByKind(shapes.StandoffKind)
		}
		var own, class *shapes.Part
		owns := 0
		for _, p := range all {
			so := p.Standoff
			switch {
			case so == nil || !strings.EqualFold(so.Thread, s.Screw) || so.Material != it.Material:
			case p.Source == shapes.Given:
				own = p
				owns++
			case class == nil || class.Standoff.Hex != so.Hex && so.Hex == (it.Material == "nylon"):
				class = p
			}
		}
		it.Part = class
		if owns == 1 {
			it.Part = own
		}
	}
}

// items reads what is stacked.
func (d *decoder) items(n *read.Node, s *StackSpec) {
	list, ok := d.diags.List(n)
	if !ok {
		d.lost["stacks"] = true
		return
	}
	if len(list) == 0 {
		d.diags.At(n, "the stack is empty", "what is stacked, from the plate outwards", "")
	}
	first := map[string]*read.Node{}
	counts := map[ItemKind]int{}
	for _, node := range list {
		it := d.item(node, s)
		if it == nil {
			d.lost["stacks"] = true // it might be what a reference means
			s.doubt = true
			continue
		}
		s.Items = append(s.Items, it)
		if it.Name == "" {
			counts[it.Kind]++
			it.Name = fmt.Sprintf("%s-%d", it.Kind.word(), counts[it.Kind])
		}
		it.nameDims(s)
		if f, twice := first[it.Name]; twice {
			d.diags.AtRelated(node, "two items of this stack have the name "+read.Quote(it.Name), "a name of its own",
				"write {board: "+it.Name+", as: "+it.Name+"-2}", read.Related{Pos: f.Pos(), Text: "the first one"})
			continue
		}
		first[it.Name] = node
	}
}

func (k ItemKind) word() string {
	return [...]string{"board", "spacer", "nut", "washer", "gap"}[k]
}

func (it *Item) nameDims(s *StackSpec) {
	if it.Length != nil {
		it.Length.Name = "stack " + s.Name + " " + it.Name
	}
}

const itemForm = "a board's name, or such as `spacer nylon 6 mm`, `nut nylon`, `nut insert`, `washer steel 0.5 mm`, `gap 3 mm`"

// itemWords are the kinds that short items begin with.
func itemKind(word string) (ItemKind, bool) {
	switch word {
	case "spacer":
		return ItemSpacer, true
	case "nut":
		return ItemNut, true
	case "washer":
		return ItemWasher, true
	case "gap":
		return ItemGap, true
	}
	return ItemBoard, false
}

// item reads one item, in its short or its long form; nil after a mistake that leaves
// nothing of it.
func (d *decoder) item(n *read.Node, s *StackSpec) *Item {
	switch n.Kind() {
	case read.Map:
		return d.longItem(n, s)
	case read.Scalar:
		return d.shortItem(n)
	}
	d.diags.At(n, "an item of a stack is a short text or a map, not "+n.Describe(), itemForm, "")
	return nil
}

func (d *decoder) shortItem(n *read.Node) *Item {
	words := strings.Fields(n.Raw())
	if len(words) == 0 {
		d.diags.At(n, "the item is empty", itemForm, "")
		return nil
	}
	kind, ok := itemKind(words[0])
	switch {
	case ok:
		it := &Item{Kind: kind, Pos: n.Pos()}
		rest := words[1:]
		if len(rest) > 0 && kind != ItemGap && !startsNumber(rest[0]) {
			d.itemMaterial(n, it, rest[0])
			rest = rest[1:]
		}
		it.Length = d.itemLength(n, kind, strings.Join(rest, " "))
		d.itemWhole(n, it)
		return it
	case words[0] == "standoff" || words[0] == "post":
		d.diags.At(n, read.Quote(words[0])+" is no item of a stack", itemForm, "between the boards of a stack it is a spacer: `spacer nylon 6 mm`; between plates it belongs to `posts:`")
		return nil
	case len(words) > 1:
		d.diags.At(n, n.Describe()+" is no item of a stack", itemForm, read.DidYouMean(words[0], []string{"spacer", "nut", "washer", "gap"}))
		return nil
	}
	return d.board(n, &Item{Pos: n.Pos()})
}

// startsNumber tells a figure from a material.
func startsNumber(word string) bool {
	return strings.ContainsAny(word[:1], "0123456789+-.±") || word == "unknown"
}

// itemMaterial reads the word behind the kind of an item: a material, of nuts also
// "insert" for steel ones with a nylon insert.
func (d *decoder) itemMaterial(n *read.Node, it *Item, word string) {
	if it.Kind == ItemNut && word == "insert" {
		it.Material, it.Insert = "steel", true
		return
	}
	it.Material = d.materialWord(n, word, it.Kind == ItemNut)
}

func (d *decoder) materialWord(n *read.Node, word string, nut bool) string {
	known := []string{"nylon", "aluminium", "brass", "steel", "rubber", "plastic"}
	if nut {
		known = append(known, "insert")
	}
	for _, k := range known {
		if k == word {
			return k
		}
	}
	d.diags.At(n, read.Quote(word)+" is not a material of spacers, nuts and washers", strings.Join(known, ", "), read.DidYouMean(word, known))
	return "?"
}

// itemLength reads the length at the end of a short item.
func (d *decoder) itemLength(n *read.Node, kind ItemKind, text string) *shapes.Dim {
	if text == "" {
		return nil
	}
	want := itemSane(kind)
	q, err := shapes.ParseQuantity(text, shapes.MM)
	if err != nil {
		d.diags.At(n, read.Quote(text)+" "+err.Why, want.String(), err.Hint)
		return &shapes.Dim{Unit: shapes.MM, Missing: true, Pos: n.Pos()}
	}
	dim := &shapes.Dim{Value: q.Value, Plus: q.Plus, Minus: q.Minus, HasTol: q.HasTol, Range: q.Range, Missing: q.Unknown,
		Unit: shapes.MM, TolSource: shapes.Assumed, Pos: n.Pos()}
	if q.HasTol {
		dim.TolSource = shapes.Given
	}
	if !q.Unknown && (q.Value-q.Minus < want.Lo || q.Value+q.Plus > want.Hi) {
		d.diags.At(n, read.Quote(text)+" is out of range", want.String(), "")
		dim.Missing = true
	}
	return dim
}

func itemSane(kind ItemKind) shapes.Sane {
	switch kind {
	case ItemSpacer, ItemGap:
		return shapes.SizeMM().Between(0.1, 200)
	}
	return shapes.SizeMM().Between(0.1, 20)
}

// itemWhole checks that an item says all it must.
func (d *decoder) itemWhole(n *read.Node, it *Item) {
	switch {
	case it.Length == nil && slip(n, "length"):
	case it.Kind == ItemSpacer && it.Length == nil:
		d.diags.At(n, "a spacer needs a length", "such as `spacer nylon 6 mm`", "")
	case it.Kind == ItemGap && it.Length == nil:
		d.diags.At(n, "a gap needs a length", "such as `gap 3 mm`", "")
	case it.Kind == ItemSpacer && it.Material == "" && it.Part == nil:
		d.diags.At(n, "a spacer needs a material", "such as `spacer nylon 6 mm`", "the material decides whether it can short the board")
	}
	if (it.Kind == ItemNut || it.Kind == ItemWasher) && it.Material == "" {
		it.Material = "steel"
	}
}

// board fills the item with the board that n names.
func (d *decoder) board(n *read.Node, it *Item) *Item {
	it.Kind = ItemBoard
	if it.Name == "" && n.Kind() == read.Scalar {
		it.Name = n.Raw()
	}
	it.Part = d.part(n, "a board")
	p := it.Part
	if p == nil && it.Name == n.Raw() {
		d.lost["stacks"] = true // references may have the name that is meant
	}
	switch {
	case p == nil:
	case p.Body != nil && p.Body.Shape == shapes.BoardBody && p.Square != nil, d.faulty[p.Name]:
	case p.Body != nil:
		d.diags.At(n, read.Quote(p.Name)+" is "+thing(p.Kind)+" without a square of mounting holes", "a board with a hole pattern",
			"put it under `mounts:` with `on: stacks.NAME.BOARD.top`, or give it `square:` in `parts:`")
		it.Part = nil
	default:
		d.diags.At(n, read.Quote(p.Name)+" is "+thing(p.Kind)+", not a board", "a board with a hole pattern", "")
		it.Part = nil
	}
	return it
}

// longItem reads {board: ...}, {spacer: ...} and so on.
func (d *decoder) longItem(n *read.Node, s *StackSpec) *Item {
	f := d.diags.Fields(n, "an item of a stack")
	var have []string
	for _, k := range []string{"board", "spacer", "nut", "washer", "gap"} {
		if f.Has(k) {
			have = append(have, k)
		}
	}
	if len(have) != 1 {
		msg := "an item of a stack says what it is"
		if len(have) > 1 {
			msg = "an item of a stack is one thing, not " + strings.Join(have, " and ")
		}
		d.diags.At(n, msg, "one of board, spacer, nut, washer or gap", "")
		return nil
	}
	head := f.Get(have[0])
	it := &Item{Pos: n.Pos()}
	if as := f.Get("as"); as != nil {
		name, ok := d.diags.Name(as)
		it.Name = name
		d.lost["stacks"] = d.lost["stacks"] || !ok
	}
	d.lost["stacks"] = d.lost["stacks"] || slip(n, "as")
	kind, ok := itemKind(have[0])
	if !ok {
		d.board(head, it)
		it.Turn = d.angle(f, "turn", 0)
		it.Flip = f.Bool("flip", false)
		it.Soft = d.part(f.Get("soft"), "a grommet", shapes.GrommetKind)
		f.Done()
		return it
	}
	it.Kind = kind
	if kind == ItemGap {
		it.Length = d.dim(head, "", itemSane(kind))
	} else {
		if word, ok := d.diags.Text(head); ok {
			d.itemMaterial(head, it, word)
		} else {
			it.Material = "?"
		}
		it.Length = d.dim(f.Get("length"), "", itemSane(kind))
		if kind == ItemSpacer {
			it.Part = d.part(f.Get("part"), "a standoff", shapes.StandoffKind)
		}
	}
	d.itemWhole(n, it)
	f.Done()
	return it
}
