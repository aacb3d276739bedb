package drawing

import (
	"fmt"
	"strings"
)

// collector takes what a reader finds, in the file's unit, and keeps the limits.
type collector struct {
	name string
	opt  *Options
	rep  *Report
	max  int // curves and visits of blocks or uses, together

	curves  []curve
	layers  []string
	byLayer map[string]int32
	read    tally
	skipped tally
	visits  int

	// What hints at something that is no outline.
	wide   int // strokes with a width of their own
	tilted int // things that leave the plane
	faces  int // facets of meshes
	solids int
	hidden int // things on layers or in groups that are not shown

	mmPerOne         float64 // by the file, before the builder's scale
	unit, unitFrom   string
	dpiHint          string
	lastSkippedPlace int // line of the last thing skipped as broken
}

func newCollector(name string, n int, opt *Options, rep *Report) *collector {
	return &collector{
		name: name, opt: opt, rep: rep, max: maxPieces(n),
		byLayer: map[string]int32{}, read: tally{}, skipped: tally{},
	}
}

// layer returns the index of a layer.
func (c *collector) layer(name string) int32 {
	if i, ok := c.byLayer[name]; ok {
		return i
	}
	i := int32(len(c.layers))
	c.layers = append(c.layers, name)
	c.byLayer[strings.Clone(name)] = i
	return i
}

// visit counts one step of an expansion that may draw nothing.
func (c *collector) visit(line int) error {
	if c.visits++; c.visits > c.max {
		return c.tooMany(line)
	}
	return nil
}

// add takes a curve as it stands.
func (c *collector) add(v curve, line int) error {
	if len(c.curves) >= c.max {
		return c.tooMany(line)
	}
	if !v.ok() {
		c.skipped["pieces with coordinates beyond 1e7"]++
		return nil
	}
	c.curves = append(c.curves, v)
	return nil
}

func (c *collector) tooMany(line int) error {
	return fault(c.name, line, fmt.Sprintf("the drawing expands to more than %d pieces", c.max),
		"the outline of a plate, which has some hundreds",
		"export the outline alone, without repeated blocks and fine polygons")
}
