package drawing

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/golang/geo/r2"
)

// Count is how often something was met.
type Count struct {
	What string
	N    int
}

// tally counts things by name.
type tally map[string]int

// list returns the counts, the most frequent first and equal ones by name.
func (t tally) list() []Count {
	out := make([]Count, 0, len(t))
	for what, n := range t {
		out = append(out, Count{what, n})
	}
	slices.SortFunc(out, func(a, b Count) int {
		return cmp.Or(cmp.Compare(b.N, a.N), cmp.Compare(a.What, b.What))
	})
	return out
}

// Report tells what was found in a file and what was done to it.
type Report struct {
	Name   string // of the file, as given to Read
	Format string // "DXF" or "SVG"

	Unit     string   // of the file: "mm", "in", "px at 96 dpi", ...
	UnitFrom string   // where it comes from: "as given", "by the file's header", "assumed", ...
	MMPerOne float64  // mm for one of the file's units, the scale included
	Size     r2.Point // box of everything read, mm

	Read    []Count // what was read, by kind
	Skipped []Count // what was left out, by kind and reason
	Layers  []Count // visible layers that something was read from, by pieces

	Changes  Changes
	Warnings []string // whole sentences, each with what to do
}

// Changes counts what was done to the pieces to get loops from them. Pieces are single
// lines and arcs; one polyline is many of them.
type Changes struct {
	Pieces     int // lines and arcs that the work began with
	Curves     int // splines and ellipses replaced by arcs
	CurveArcs  int // lines and arcs made of them
	Closed     int // filled SVG shapes closed by their missing last line
	MovedEnds  int // ends moved to meet another within the end tolerance
	MostMoved  float64
	Short      int // pieces no longer than the end tolerance, dropped
	Doubles    int // pieces drawn twice, dropped
	OnOthers   int // pieces or parts of pieces that lay on others, dropped
	Touches    int // pieces cut where an end of another touched them
	Crossings  int // places where two pieces were cut because they crossed
	DeadEnds   int // pieces that led nowhere, dropped (overshoots, loose lines at a loop)
	LongestEnd float64
	EndAt      r2.Point // the open end of the longest
	Bridges    int      // lines between two loops, dropped
	Inner      int      // pieces across the inside of a loop, dropped
	Crumbs     int      // lone pieces under 0.05 mm, dropped
	CrumbsAt   r2.Point // the first of them
	Slivers    int      // loops without width, dropped
	Circles    int      // loops of arcs or splines taken as circles
	Sunk       int      // holes with circles round them, made one hole each
}

// Lines prints the report as people read it, one fact a line, warnings last.
func (r *Report) Lines() []string {
	out := []string{
		fmt.Sprintf("%s: %s, 1 unit is %.6g mm (%s, %s)", r.Name, r.Format, r.MMPerOne, r.Unit, r.UnitFrom),
		fmt.Sprintf("size found: %.2f x %.2f mm", r.Size.X, r.Size.Y),
	}
	list := func(title string, counts []Count) {
		if len(counts) == 0 {
			return
		}
		s := title
		for i, c := range counts {
			if i == 12 {
				s += fmt.Sprintf(", and %d more kinds", len(counts)-i)
				break
			}
			if i > 0 {
				s += ","
			}
			s += fmt.Sprintf(" %d %s", c.N, c.What)
		}
		out = append(out, s)
	}
	list("read:", r.Read)
	list("layers:", r.Layers)
	list("left out:", r.Skipped)
	out = append(out, r.Changes.lines()...)
	for _, w := range r.Warnings {
		out = append(out, "warning: "+w)
	}
	return out
}

func (c *Changes) lines() []string {
	var out []string
	say := func(n int, format string, args ...any) {
		if n > 0 {
			out = append(out, fmt.Sprintf(format, args...))
		}
	}
	say(c.Curves, "%s became %s", plural(c.Curves, "spline or ellipse", "splines and ellipses"), plural(c.CurveArcs, "arc", "arcs"))
	say(c.Closed, "closed %s that the file leaves open", plural(c.Closed, "filled shape", "filled shapes"))
	say(c.MovedEnds, "joined %s, moved by up to %.4f mm", plural(c.MovedEnds, "end", "ends"), c.MostMoved)
	say(c.Short, "dropped %s shorter than the end tolerance", plural(c.Short, "piece", "pieces"))
	say(c.Doubles, "dropped %s drawn twice", plural(c.Doubles, "piece", "pieces"))
	say(c.OnOthers, "dropped %s lying on others", plural(c.OnOthers, "piece", "pieces"))
	say(c.Touches, "cut at %s", plural(c.Touches, "touch", "touches"))
	say(c.Crossings, "cut at %s", plural(c.Crossings, "crossing", "crossings"))
	say(c.DeadEnds, "dropped %s that led nowhere, the longest %.3f mm to (%.3f, %.3f)",
		plural(c.DeadEnds, "piece", "pieces"), c.LongestEnd, c.EndAt.X, c.EndAt.Y)
	say(c.Bridges, "dropped %s between loops", plural(c.Bridges, "line", "lines"))
	say(c.Inner, "dropped %s across the inside of a loop", plural(c.Inner, "piece", "pieces"))
	say(c.Crumbs, "dropped %s under %.2f mm, the first at (%.3f, %.3f)", plural(c.Crumbs, "lone crumb", "lone crumbs"), CrumbLength, c.CrumbsAt.X, c.CrumbsAt.Y)
	say(c.Slivers, "dropped %s without width", plural(c.Slivers, "loop", "loops"))
	say(c.Circles, "took %s of arcs for circles", plural(c.Circles, "loop", "loops"))
	say(c.Sunk, "took circles round %s for countersinks", plural(c.Sunk, "hole", "holes"))
	return out
}

func (r *Report) warn(format string, args ...any) {
	r.Warnings = append(r.Warnings, fmt.Sprintf(format, args...))
}
