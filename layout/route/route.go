package route

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"dryfit/geom"
)

// Find returns the way of one bundle, as [FindAll] does.
func Find(space *Space, b Bundle) Way { return FindAll(space, []Bundle{b})[0] }

// FindAll returns the ways of the bundles, in their order: each the shortest there is on the
// levels of the space, then moved aside where others are in the way.
//
// Levels are the faces of the sheets, with the middle of a bundle half its diameter (OD)
// from the face and at least Edge + OD/2 within the edge of the sheet and of its holes; holes narrower
// than the bundle are lain across. And what lies over solids marked Level, in the air as far
// as the nearest sheets below and above reach, and OD beyond. On a level a bundle keeps
// Keep + OD/2 from every solid whose height, grown by Keep, meets the bundle's, and OD/2 from other
// sheets. There the way is exact: see [geom.Field]. Between levels it goes
//
//   - upright (Drop), where a disc of the diameter is free all the way, through no sheet;
//   - round the edge of a sheet (Edge): straight to the edge, round it in two quarter turns of
//     OD/2 with the thickness between (thickness + π·OD/2), and straight back; or off the
//     edge and upright, OD/2 beside it, to another level;
//   - through an opening (Hole) that nothing else takes and in which a circle of OD + 2·Edge has
//     room: straight over its rim, upright (thickness + OD), and straight on.
//
// From an end it goes straight out in Dir, as high as the end is Thick, until it is free of the bodies of its Owner at that
// height (Leave), then upright to a level; an end without Dir goes upright at once, through what else of its owner lies
// there but not through a board, and so does one that something else stands before. An end that comes
// out beside all levels hangs through free air to the nearest place over or under one. Between
// stops, runs and legs the way may turn sharply; along a level its bends have at least Bend + OD/2,
// or else Leg.Tight is set.
//
// How near that comes to the shortest way: the places at which levels are changed are
// tried every 5 mm along all outlines, at all their corners, at the nearest place and on the line
// ahead, then moved until that gains less than 1e-3 mm. In tests it was never longer than 1.02 times what
// an exhaustive search finds. Of ways all but equally long (5e-4 of what hangs over boards) the one that lies on
// faces is taken.
//
// Bundles are then spread, thick ones first: places to change levels go beside each other along their
// outlines, and at common corners bundles get lanes side by side (Leg.Lane), inside who hugs the corner for longer, so that
// they cross only where they must. Where there is no room they stay on each other, and
// Leg.Stacked tells for how long. Paths and lengths are those of the lanes.
//
// A bundle whose OD is not positive, or with a number that is not finite or beyond 1e7, is Blocked and
// Enclosed without more; sheets and solids with such numbers, or upside down, count as not
// there, a Keep, Edge or clearance that is negative as 0. A nil space has nothing in it.
// Where there is no way, Blocked names the gap that lacks least, over all levels and openings. The
// result depends on nothing but the arguments.
func FindAll(space *Space, bundles []Bundle) []Way { return NewFinder(space).FindAll(bundles) }

// A Finder finds ways through one space, call by call. What is worked out for a diameter, and the ways
// of bundles that are asked for again, are kept. It is not for several goroutines.
type Finder struct {
	space *Space
	mu    sync.Mutex // of both maps: FindAll works on several diameters at once
	class map[float64]*class
	known map[string]found
}

// found is what a search came to, before bundles are spread.
type found struct {
	thread  *thread
	blocked *Blocked
}

// NewFinder returns a finder for a space, which must not change from then on.
func NewFinder(space *Space) *Finder {
	return &Finder{space: space.sound(), class: map[float64]*class{}, known: map[string]found{}}
}

// classOf returns what is worked out for a diameter.
func (f *Finder) classOf(od float64) *class {
	f.mu.Lock()
	c := f.class[od]
	f.mu.Unlock()
	if c == nil {
		c = newClass(f.space, od) // diameters are worked on by one goroutine each
		f.mu.Lock()
		f.class[od] = c
		f.mu.Unlock()
	}
	return c
}

// search returns the way of a bundle by itself.
func (f *Finder) search(c *class, s *search, b *Bundle) (*thread, *Blocked) {
	key := fmt.Sprint(b.OD, b.Bend, b.Limit, b.From, b.To, b.Via)
	f.mu.Lock()
	was, ok := f.known[key]
	f.mu.Unlock()
	if !ok {
		was.thread, was.blocked = c.thread(s, b)
		if was.blocked == nil {
			was.thread.refine()
		}
		f.mu.Lock()
		f.known[key] = was
		f.mu.Unlock()
	}
	if was.blocked != nil {
		why := *was.blocked
		return nil, &why
	}
	t := *was.thread
	t.b, t.knots = b, slices.Clone(t.knots)
	return &t, nil
}

// FindAll is the function [FindAll] for the finder's space.
func (f *Finder) FindAll(bundles []Bundle) []Way {
	return findAll(func(int) *Finder { return f }, bundles)
}

// Together is FindAll with a finder for each bundle, spaces that differ in nothing but how far bundles
// keep off: all of them are spread together.
func Together(finders []*Finder, bundles []Bundle) []Way {
	return findAll(func(i int) *Finder { return finders[i] }, bundles)
}

func findAll(finder func(int) *Finder, bundles []Bundle) []Way {
	ways := make([]Way, len(bundles))
	threads := make([]*thread, len(bundles))
	classes := byDiameter(bundles)
	searches := sync.Pool{New: func() any { return new(search) }}
	sideBySide(classes, func(of []int) {
		search := searches.Get().(*search)
		defer searches.Put(search)
		for _, i := range of {
			b := &bundles[i]
			if !b.sound() {
				ways[i].Blocked = &Blocked{Enclosed: true}
				continue
			}
			f := finder(i)
			t, blocked := f.search(f.classOf(b.OD), search, b)
			if blocked != nil {
				ways[i].Blocked = blocked
				continue
			}
			threads[i] = t
		}
	})
	spread(threads)
	sideBySide(classes, func(of []int) {
		for _, i := range of {
			if threads[i] == nil {
				continue
			}
			if ways[i].Blocked = threads[i].lay(); ways[i].Blocked != nil {
				threads[i] = nil
			}
		}
	})
	lanes(threads)
	for i, t := range threads {
		if t != nil {
			ways[i] = t.write()
		}
	}
	return ways
}

// byDiameter returns the numbers of the bundles, those of one diameter together: they share
// their levels and all that was looked at on them.
func byDiameter(bundles []Bundle) [][]int {
	var out [][]int
	at := map[float64]int{}
	for i := range bundles {
		od := bundles[i].OD
		k, ok := at[od]
		if !ok {
			k = len(out)
			at[od] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

// sideBySide does the work for every group, as many at once as there are processors. Groups have
// nothing in common that changes. A panic of one comes out here.
func sideBySide(groups [][]int, work func([]int)) {
	var next atomic.Int64
	faults := make([]any, len(groups))
	run := func() {
		for {
			k := int(next.Add(1)) - 1
			if k >= len(groups) {
				return
			}
			func() {
				defer func() { faults[k] = recover() }()
				work(groups[k])
			}()
		}
	}
	var others sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(groups)) - 1 {
		others.Go(run)
	}
	run()
	others.Wait()
	for _, f := range faults {
		if f != nil {
			panic(f)
		}
	}
}

// finite reports whether all numbers are within the range of geom.
func finite(v ...float64) bool {
	for _, x := range v {
		if !(math.Abs(x) <= geom.MaxCoord) {
			return false
		}
	}
	return true
}

// sound reports whether a bundle can be looked at.
func (b *Bundle) sound() bool {
	ok := finite(b.OD, b.Bend, b.Limit) && b.OD > 0 && b.Bend >= 0 && b.Limit >= 0
	for _, e := range [2]*End{&b.From, &b.To} {
		ok = ok && finite(e.At.X, e.At.Y, e.Z, e.Dir.X, e.Dir.Y, e.Thick)
	}
	for i := range b.Via {
		ok = ok && finite(b.Via[i].At.X, b.Via[i].At.Y)
	}
	return ok
}

// sound returns the space without what has no place or no size in it: sheets and solids
// whose heights are no numbers or lie the wrong way round. A negative or infinite distance
// to keep counts as none.
func (s *Space) sound() *Space {
	out := &Space{}
	if s == nil {
		return out
	}
	kept := func(d float64) float64 {
		if !finite(d) || d < 0 {
			return 0
		}
		return d
	}
	some := func(rs []geom.Region) []geom.Region {
		var k []geom.Region
		for _, r := range rs {
			if !r.IsEmpty() {
				k = append(k, r)
			}
		}
		return k
	}
	out.Edge = kept(s.Edge)
	for _, sh := range s.Sheets {
		if sh.Plan = some(sh.Plan); finite(sh.Lo, sh.Hi) && sh.Lo <= sh.Hi && len(sh.Plan) > 0 {
			out.Sheets = append(out.Sheets, sh)
		}
	}
	for _, so := range s.Solids {
		so.Keep = kept(so.Keep)
		if so.Plan = some(so.Plan); finite(so.Lo, so.Hi) && so.Lo <= so.Hi && len(so.Plan) > 0 {
			out.Solids = append(out.Solids, so)
		}
	}
	return out
}
