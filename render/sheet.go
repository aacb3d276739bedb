package render

import (
	"fmt"
	"strings"
	"sync"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout"
)

// Paper is the size of the sheets. The zero value is Auto.
type Paper uint8

// Sizes of paper (ISO 216).
const (
	Auto Paper = iota // A4 unless that would make the plan smaller than half size and A3 helps
	A4
	A3
)

// ParsePaper reads "auto", "A4" or "A3", in any case; "" is auto.
func ParsePaper(s string) (Paper, error) {
	switch strings.ToLower(s) {
	case "", "auto":
		return Auto, nil
	case "a4":
		return A4, nil
	case "a3":
		return A3, nil
	}
	return Auto, fmt.Errorf("paper %q is not known: A4, A3 or auto", s)
}

// String returns the name of the size.
func (p Paper) String() string {
	switch p {
	case A4:
		return "A4"
	case A3:
		return "A3"
	}
	return "auto"
}

// Options say how to draw.
type Options struct {
	Paper Paper
	Date  string // date of issue for the title block, "" leaves the field empty
}

// Sheet is one drawing.
type Sheet struct {
	Name  string // "top", "body", "side", "wiring", "wiring-body", "wiring-levels", "wiring-pads", "schematic", "list", "list-2"
	Title string
	Desc  string
	Scale string // "1:2", "" for lists
	List  List
}

// Borders of ISO 5457: 20 mm at the filing edge, 10 mm elsewhere.
const (
	borderLeft = 20.0
	border     = 10.0
)

// page is a sheet in the making.
type page struct {
	sheet  Sheet
	frame  geom.Rect
	paper  Paper
	scale  string
	second string // second line of the title
}

func newPage(name, title string, paper Paper, wide bool) *page {
	w, h := 210.0, 297.0
	if paper == A3 {
		w, h = 297, 420
	}
	if wide {
		w, h = h, w
	}
	p := &page{paper: paper, second: title}
	p.sheet = Sheet{Name: name, Title: title, List: List{W: w, H: h}}
	p.frame = geom.Rect{Lo: r2.Point{X: borderLeft, Y: border}, Hi: r2.Point{X: w - border, Y: h - border}}
	p.sheet.List.add(rectPath(Head{Layer: Frame, ID: "frame", Group: "frame"}, p.frame))
	return p
}

// Sheets draws an assembly and its findings: the plan with the side view in projection
// where it fits, the body in detail where the plan is small, the side view with the heights of all levels, where the wires run, and as many lists as the
// tables need. Sheets are A4 or A3, at scales of ISO 5455.
//
// It fails only on an assembly that cannot be drawn: nil, or with figures that are not
// finite.
func Sheets(asm *layout.Assembly, outcomes []layout.Outcome, opt Options) ([]Sheet, error) {
	if asm == nil {
		return nil, fmt.Errorf("there is no assembly to draw")
	}
	d := newDrawing(asm, outcomes, opt)
	if err := d.check(); err != nil {
		return nil, err
	}
	d.draw((*drawing).topSheet, (*drawing).bodySheet, (*drawing).sideSheet, (*drawing).wireSheet, (*drawing).levelSheets, (*drawing).padSheets, (*drawing).schemSheet)
	d.lists()
	out := make([]Sheet, len(d.pages))
	for i, p := range d.pages {
		tb := titleBlock{title: asm.Name, subtitle: p.second, number: asm.Name, sheet: i + 1, of: len(d.pages),
			scale: orDash(p.scale), paper: p.paper.String(), date: opt.Date}
		tb.draw(&p.sheet.List, p.frame.Hi)
		p.sheet.Scale = p.scale
		p.sheet.Title = asm.Name + ": " + p.second
		p.sheet.Desc = d.describe(p)
		out[i] = p.sheet
	}
	return out, nil
}

// draw makes sheets side by side: none needs what another found. Each works on a copy of the
// drawing, whose pages and free columns are then added in the order of the sheets. A panic of
// one comes out here.
func (d *drawing) draw(sheets ...func(*drawing)) {
	parts := make([]drawing, len(sheets))
	faults := make([]any, len(sheets))
	var work sync.WaitGroup
	for i, sheet := range sheets {
		parts[i] = *d
		work.Go(func() {
			defer func() { faults[i] = recover() }()
			sheet(&parts[i])
		})
	}
	work.Wait()
	for _, f := range faults {
		if f != nil {
			panic(f)
		}
	}
	for _, p := range parts {
		d.pages = append(d.pages, p.pages...)
		d.spare = append(d.spare, p.spare...)
		d.left = append(d.left, p.left...)
	}
}

// drawing is the work on all sheets of one assembly.
type drawing struct {
	asm      *layout.Assembly
	outcomes []layout.Outcome
	paper    Paper
	auto     bool // the paper was not asked for
	top      *scene
	side     *scene
	planBox  geom.Rect // with discs
	sideBox  geom.Rect // with discs
	coreBox  geom.Rect // from the side, discs broken off
	found    []numbered
	rows     []partRow
	onTop    []bool // rows whose balloon is on the plan
	pages    []*page
	spare    []spare
	left     []table // of which rows are still to be put on lists
}

// spare is a free column on a page that tables may flow into.
type spare struct {
	page *page
	area geom.Rect
}

func newDrawing(asm *layout.Assembly, outcomes []layout.Outcome, opt Options) *drawing {
	d := &drawing{asm: asm, outcomes: outcomes, paper: opt.Paper, auto: opt.Paper == Auto}
	d.top = newScene(asm, fromAbove)
	d.side = newScene(asm, fromRight)
	d.planBox = discBox(asm, d.top.box)
	d.sideBox = bandBox(asm, d.side.box, true)
	d.coreBox = bandBox(asm, d.side.box, false)
	d.found = numberFindings(outcomes)
	d.rows = partRows(asm)
	if d.paper == Auto {
		d.paper = A4
		if a, _ := d.planScale(A4); a < 0.5 {
			if b, _ := d.planScale(A3); b > a {
				d.paper = A3
			}
		}
	}
	d.chooseViews()
	return d
}

// check refuses what cannot be put on paper.
func (d *drawing) check() error {
	for _, b := range [...]geom.Rect{d.planBox, d.sideBox} {
		if b.IsEmpty() {
			return fmt.Errorf("the build %q has nothing to draw: no plate, part or rotor has a size", d.asm.Name)
		}
		s := b.Size()
		if !(s.X < 1e5 && s.Y < 1e5) {
			return fmt.Errorf("the build %q is %.0f x %.0f mm large: that cannot be drawn", d.asm.Name, s.X, s.Y)
		}
	}
	return nil
}

// chooseViews decides on which view each row of the parts list gets its balloon: on the
// plan if at least a third of it can be seen there, else from the side.
func (d *drawing) chooseViews() {
	v := &view{facing: fromAbove, scale: 1, scene: d.top}
	d.onTop = make([]bool, len(d.rows))
	for i, r := range d.rows {
		d.onTop[i] = shareSeen(v, r.all) > 0.34
	}
}

// Margins round the plan for dimensions and a little air, mm. What stands right of it
// depends on the nose arrow.
const (
	planLeft   = 5 + 2*dimRow + 1
	planTop    = 5 + dimRow + 2
	planBottom = 7 + 2*dimRow
	strip      = 11.0 // above the title block: scale bar and cautions
)

// planRoom is the room for the plan and, under it, the side view.
func planRoom(p Paper, wide bool) (w, h float64) {
	switch {
	case p == A3:
		return 390 - titleW - 6, 277 - 12
	case wide:
		return 267, 190 - titleH - strip
	}
	return 180, 277 - titleH - strip - 8
}

// planRight is the room right of the plan: the nose arrow stands there if it has no room
// between the discs.
func (d *drawing) planRight() float64 {
	if d.noseInside() {
		return 5
	}
	return 13
}

// noseInside reports whether the nose arrow finds room within the plan's box, in front of
// the craft: nothing there reaches the middle line.
func (d *drawing) noseInside() bool {
	k := d.plainScale()
	front := geom.Rect{Lo: r2.Point{X: d.planBox.Hi.X - 13/k, Y: -2 / k}, Hi: r2.Point{X: d.planBox.Hi.X, Y: 5 / k}}
	for _, r := range d.asm.Rotors {
		if front.Distance(geom.Rect{Lo: r.At, Hi: r.At}) < r.Radius.Nominal() {
			return false
		}
	}
	for i := range d.top.shadows {
		if d.top.shadows[i].box.Intersects(front) {
			return false
		}
	}
	return true
}

// plainScale is a first guess of the plan's scale.
func (d *drawing) plainScale() float64 {
	s := d.planBox.Size()
	w, h := planRoom(d.paper, false)
	k, _ := pickScale(s.X, s.Y, w-planLeft-5, h-planTop-planBottom)
	return k
}

// planScale is the largest scale of the plan on a paper, and whether it lies across.
func (d *drawing) planScale(p Paper) (k float64, wide bool) {
	s := d.planBox.Size()
	w, h := planRoom(p, false)
	k, _ = pickScale(s.X, s.Y, w-planLeft-d.planRight(), h-planTop-planBottom)
	if p == A3 {
		return k, true
	}
	w, h = planRoom(p, true)
	if kw, _ := pickScale(s.X, s.Y, w-planLeft-d.planRight(), h-planTop-planBottom); kw > k {
		return kw, true
	}
	return k, false
}

// topSheet draws the plan and, where it fits at the same scale, the side view under it in
// third-angle projection: what is nearest to the viewer of the side view, the right-hand
// side of the craft, is nearest to it on the sheet.
func (d *drawing) topSheet() {
	k, wide := d.planScale(d.paper)
	p := newPage("top", "Top view", d.paper, wide)
	l := &p.sheet.List
	w, h := planRoom(d.paper, wide)
	area := geom.Rect{Lo: p.frame.Lo.Add(r2.Point{X: 2, Y: 2}), Hi: p.frame.Lo.Add(r2.Point{X: w, Y: h})}
	if w >= p.frame.Size().X {
		area.Hi.X = p.frame.Hi.X - 2
	}
	ps, ss := d.planBox.Size().Mul(k), d.sideBox.Size().Mul(k)
	both := planTop+ps.Y+planBottom+ss.Y+12 <= h
	tall := planTop + ps.Y + planBottom
	if both {
		tall += ss.Y + 8
		p.second = "Top view and side view"
	}
	slackX := w - planLeft - d.planRight() - ps.X
	slackY := h - tall
	top := 0.5
	if both {
		top = 1.0 / 3
	}
	v := &view{facing: fromAbove, scale: k, scene: d.top}
	v.origin = r2.Point{
		X: p.frame.Lo.X + planLeft + slackX/2 - d.planBox.Lo.X*k,
		Y: p.frame.Lo.Y + planTop + slackY*top + d.planBox.Hi.Y*k,
	}
	topGeometry(l, d.asm, v)
	f := v.frame(d.planBox)
	above, below, left := topSpans(d.asm)
	v.spansAcross(l, "top.dimensions", above, f.Lo.Y-5, -dimRow)
	v.spansAcross(l, "top.dimensions", below, f.Hi.Y+8, dimRow)
	v.spansUp(l, "top.dimensions", left, f.Lo.X-5, -dimRow)
	if both {
		u := &view{facing: fromRight, scale: k, scene: d.side}
		u.origin = r2.Point{X: v.origin.X, Y: f.Hi.Y + planBottom + slackY/3 + 4 + d.sideBox.Hi.Y*k}
		sideGeometry(l, d.asm, u, window{d.sideBox.Lo.X - 4/k, d.sideBox.Hi.X + 4/k})
		overallHeight(l, d.asm, u, u.frame(d.sideBox).Hi.X+6)
	}
	p.scale = scaleText(k)
	d.strip(p, d.cautionsTop())

	gap, tips := tipGap(l, d.asm, v)
	places := drawFindings(l, v, "", d.offWires(), inPlan)
	pl := newPlacer(l, area)
	nose(pl, v, d.planBox, d.noseInside())
	rotorNames(pl, d.asm, v)
	if gap != "" {
		pl.note(Head{Layer: Dimension, ID: "dim.tip-gap", Group: "top.dimensions"}, []string{gap}, tips, 7, true)
	}
	topLabels(pl, d.asm, v)
	pl.labelAll(places)
	for i, r := range d.rows {
		if d.onTop[i] {
			pl.balloon(fmt.Sprintf("balloon-%d", r.no), "top.balloons", r.no, anchors(v, r.all))
		}
	}
	d.pages = append(d.pages, p)
	if d.paper == A3 {
		d.spare = append(d.spare, spare{p, geom.Rect{
			Lo: r2.Point{X: p.frame.Hi.X - tableW - 2, Y: p.frame.Lo.Y + 2},
			Hi: r2.Point{X: p.frame.Hi.X - 2, Y: p.frame.Hi.Y - titleH - 4}}})
	}
}

func scaleText(k float64) string {
	for _, s := range isoScales {
		if s.k == k {
			return s.text
		}
	}
	return ""
}

// strip puts the cautions and the scale bar above (on A4 across and A3: left of) the
// title block.
func (d *drawing) strip(p *page, lines []string) {
	l := &p.sheet.List
	f := p.frame
	if f.Size().X < titleW+60 {
		y := f.Hi.Y - titleH - 3
		scaleBar(l, r2.Point{X: f.Hi.X - 54, Y: y})
		width := f.Size().X - 66
		notes(l, "cautions", "", r2.Point{X: f.Lo.X + 2, Y: y - notesHeight("", width, lines) + 0.8}, width, lines)
		return
	}
	width := f.Size().X - titleW - 6
	scaleBar(l, r2.Point{X: f.Lo.X + 4, Y: f.Hi.Y - 3})
	if p.paper == A3 {
		width -= 62
		notes(l, "cautions", "", r2.Point{X: f.Lo.X + 64, Y: f.Hi.Y - 2 - notesHeight("", width, lines)}, width, lines)
		return
	}
	notes(l, "cautions", "", r2.Point{X: f.Lo.X + 2, Y: f.Hi.Y - 11 - notesHeight("", width, lines)}, width, lines)
}

// describe is the text for readers who cannot see the sheet.
func (d *drawing) describe(p *page) string {
	count := map[layout.Verdict]int{}
	for _, n := range d.found {
		count[n.first().Verdict] += len(n.all)
	}
	return fmt.Sprintf("%s of %s, %s, scale %s. Findings: %d fail, %d tight, %d unknown.", p.second, d.asm.Name,
		p.paper, orDash(p.scale), count[layout.Fail], count[layout.Tight], count[layout.Unknown])
}
