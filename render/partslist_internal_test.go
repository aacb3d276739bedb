package render

import (
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/layout"
)

// From the right a receiver of 20 x 6 stands before a buzzer that is 2 higher, on foam 1 thick:
//
//	   +----+
//	+--+ bz +--+ 7     the strip of the buzzer from 7 to 9 alone is seen
//	| receiver |
//	+----------+ 1
//	|  foam    | 0
//
// Balloons end where their own part is seen, not on the one before it and not on the foam.
func TestAnchorsOnWhatIsSeen(t *testing.T) {
	foam := slab("receiver", box(-10, -8, 10, -4), 0, 1)
	foam.Kind = layout.CushionBody
	asm := &layout.Assembly{Bodies: []*layout.Body{slab("receiver", box(-10, -8, 10, -4), 1, 7), foam, slab("buzzer", box(-4, 2, 4, 10), 0, 9)}}
	v := &view{facing: fromRight, scale: 1, scene: newScene(asm, fromRight)}
	for _, c := range []struct {
		id     string
		lo, hi float64
	}{{"buzzer", 7, 9}, {"receiver", 1, 7}} {
		got := anchors(v, []*layout.Component{{ID: c.id}})
		if len(got) == 0 {
			t.Errorf("%s: no place for a balloon", c.id)
		}
		for _, p := range got {
			if z := -p.Y; z < c.lo || z > c.hi { // sheets count downwards, the origin is at 0
				t.Errorf("%s: a balloon may end at height %.2f, want %g to %g", c.id, z, c.lo, c.hi)
			}
		}
	}
	// What is seen of foam alone is better than nothing.
	sole := slab("pad", box(-1, -1, 1, 1), 0, 1)
	sole.Kind = layout.CushionBody
	alone := &view{facing: fromRight, scale: 1, scene: newScene(&layout.Assembly{Bodies: []*layout.Body{sole}}, fromRight), origin: r2.Point{}}
	if len(anchors(alone, []*layout.Component{{ID: "pad"}})) == 0 {
		t.Error("a part of foam alone has no balloon")
	}
}

// A hanging part: 3 thick under 1.1 of foam under a face at 25. Its top is at 23.9.
func TestTopOf(t *testing.T) {
	foam := slab("r", box(0, 0, 1, 1), 23.9, 25)
	foam.Kind = layout.CushionBody
	c := &layout.Component{ID: "r", Bodies: []*layout.Body{slab("r", box(0, 0, 1, 1), 20.9, 23.9), foam}}
	want(t, "top", topOf(c), 23.9)
}
