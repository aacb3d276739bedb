package layout

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"dryfit/geom"
	"dryfit/shapes"
	"dryfit/shapes/drawing"
	"dryfit/shapes/read"
)

// DrawnOutline is a plate's outline out of a drawing file, moved to its place.
type DrawnOutline struct {
	File   string
	Region geom.Region // outer edge, and openings that are no circles
	Holes  []DrawnHole // round holes
	Sinks  DrawnSinks
}

// DrawnHole is a round hole of a drawing file.
type DrawnHole struct {
	At       r2.Point
	Diameter *shapes.Dim // mm
	Sink     *shapes.Dim // mm, diameter of the largest circle round it; nil without one
}

const outlineFileForm = "the name of a DXF or SVG file in the build's folder, such as hull.dxf"

// fromFile tells an outline out of a drawing by its keys: by any of them where `file:` is
// misspelt or forgotten.
func fromFile(n *read.Node) bool {
	if n.Kind() != read.Map {
		return false
	}
	for _, k := range []string{"file", "unit", "scale", "dpi", "layer", "part", "place", "of", "straight", "sinks"} {
		if n.Get(k) != nil {
			return true
		}
	}
	for _, k := range []string{"join", "cut", "fillet", "round"} { // of which fillet looks like a slip for file
		if n.Get(k) != nil {
			return false
		}
	}
	return slip(n, "file")
}

// outlineFile reads an outline of the form {file: hull.dxf, ...}.
func (d *decoder) outlineFile(n *read.Node, p *PlateSpec) {
	p.Outline = &shapes.Outline{Pos: n.Pos()}
	before := d.diags.Count()
	f := d.diags.Fields(n, "an outline from a file")
	if !f.OK() {
		return
	}
	f.Need("file", outlineFileForm)
	file := f.Text("file", "")
	opt := drawing.Options{
		Unit:  f.Enum("unit", "", "mm", "cm", "m", "in", "ft", "mil", "pt", "px"),
		Scale: f.Number("scale", 1e-4, 1e4, 1),
		DPI:   f.Number("dpi", 10, 2400, 96),
	}
	if l := f.Text("layer", ""); l != "" {
		opt.Layers = []string{l}
	}
	number := f.Int("part", 1, 10000, 0)
	to := drawing.Placement{
		By:   f.Enum("place", "box", "box", "centroid", "pattern", "hole", "file"),
		Name: f.Text("of", ""),
	}
	to.Straight = f.Bool("straight", false)
	to.Turn = s1.Angle(f.Number("turn", -360, 360, 0)) * s1.Degree
	sinks := d.drawnSinks(f.Get("sinks"), p.Name)
	f.Done()
	if d.diags.Count() > before {
		return
	}
	at := f.Get("file")
	fail := func(message, want, hint string) { d.diags.At(at, message, want, hint) }
	clean := path.Clean(file)
	switch {
	case file == "" || strings.Contains(file, `\`) || path.IsAbs(file) || filepath.IsAbs(file) || !fs.ValidPath(clean) || clean == ".":
		fail(read.Quote(file)+" leaves the build's folder", outlineFileForm, "copy the file beside the build; write folders with /")
		return
	case d.dir == nil:
		fail("outline files cannot be read here: the build is not in a folder", "", "save the build beside "+file+" and name it")
		return
	}
	data, err := readUnder(d.dir, clean, drawing.MaxBytes)
	if err != nil {
		fail(read.Quote(file)+" cannot be read: "+plainCause(err), outlineFileForm, "")
		return
	}
	look := "look at it with `dryfit outline " + file + "`"
	got, found, err := drawing.Read(file, data, opt)
	if err != nil {
		message, want := err.Error(), ""
		var bad *drawing.Fault
		if errors.As(err, &bad) {
			message, want = bad.Message, bad.Want
		}
		fail(read.Quote(file)+" gives no outline: "+message, want, look)
		return
	}
	if number == 0 && len(got.Parts) > 1 || number > len(got.Parts) {
		var list []string
		for i := range got.Parts[:min(4, len(got.Parts))] {
			s := got.Parts[i].Box().Size()
			list = append(list, fmt.Sprintf("%d is %.1f x %.1f mm", i+1, s.X, s.Y))
		}
		fail(fmt.Sprintf("%s holds %d parts", read.Quote(file), len(got.Parts)), "part: a number, the largest part first", strings.Join(list, ", ")+"; "+look)
		return
	}
	part := &got.Parts[max(number, 1)-1]
	switch {
	case !part.Closed():
		message := "the outline in " + read.Quote(file) + " does not close"
		if len(part.Open) > 0 {
			message += ": " + part.Open[0].String()
		}
		fail(message, "one closed outline", "close it in the drawing; "+look)
		return
	case part.Fault != "":
		fail("the outline in "+read.Quote(file)+" cannot be cut: "+part.Fault, "", look)
		return
	}
	pose, err := part.Place(to)
	if err != nil {
		message, want := err.Error(), ""
		var bad *drawing.Fault
		if errors.As(err, &bad) {
			message, want = bad.Message, bad.Want
		}
		d.diags.At(n, "the part cannot be placed: "+message, want, look)
		return
	}
	out := &DrawnOutline{File: file, Sinks: sinks}
	sizes := drawnSizes{plate: p.Name, pos: at.Pos()}
	var openings []geom.Loop
	sunk := 0
	for _, h := range part.Holes {
		if !h.Round() {
			openings = append(openings, h.Loop.Transform(pose))
			continue
		}
		own := DrawnHole{At: pose.Apply(h.Center), Diameter: sizes.of("hole", h.Diameter)}
		if s := h.Countersink(); s > 0 && !sinks.None {
			sunk++
			own.Sink = sizes.of("sink", s)
		}
		out.Holes = append(out.Holes, own)
	}
	out.Region = geom.RegionOf(part.Outline.Transform(pose), openings...)
	for _, w := range found.Warnings {
		d.diags.WarnAt(at, read.Quote(file)+": "+w, "", look)
	}
	if sunk > 0 && !sinks.Given {
		d.diags.WarnAt(at, fmt.Sprintf("%s: the circles round %d of its holes are taken for countersinks of %.0f°, from the side of the screws' heads", read.Quote(file), sunk, sinks.Angle),
			"", "say what they are: "+sinksForm+"; "+look)
	}
	p.Drawn = out
}
