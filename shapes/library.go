package shapes

import (
	"slices"
	"strings"
	"sync"

	"dryfit/shapes/read"
)

// Library finds parts by name: those of a build first, then those of the catalogue.
// Parts are read when they are first asked for and are the same pointer ever after. Two
// libraries never share a part, so that what one build does to its figures cannot reach
// another's. It is safe for use by several goroutines.
type Library struct {
	base    *Library // what lies under own parts, nil for the catalogue
	index   *index   // nil over a base
	mu      *sync.Mutex
	done    map[string]*Part
	pending map[string]*read.Node // own parts as written
	own     []string              // names in the order of the file
}

// Builtin returns the catalogue. It costs well under a millisecond; each part costs some
// tens of microseconds at its first use.
func Builtin() (*Library, error) {
	ix, err := catalogueIndex()
	if err != nil {
		return nil, err
	}
	return newLibrary(ix), nil
}

func newLibrary(ix *index) *Library {
	return &Library{index: ix, mu: &sync.Mutex{}, done: map[string]*Part{}}
}

// With returns a library in which the parts of entries (the map `parts:` of a build or
// part file) stand over those of l. All are read at once; mistakes go to ds. A part that
// could not be read is known by name (Has) but not found (Find), so that its users need
// not be blamed as well.
func (l *Library) With(ds *read.Diags, entries []read.Entry) *Library {
	over := &Library{base: l, mu: &sync.Mutex{}, done: map[string]*Part{}, pending: map[string]*read.Node{}}
	keys := map[string]read.Pos{}
	for _, e := range entries {
		if first, twice := keys[e.Key]; twice {
			d := read.Diag{Pos: e.KeyPos, Path: e.Value.Path(), Message: "the part " + read.Quote(e.Key) + " is defined twice",
				Want: "each part once", Related: []read.Related{{Pos: first, Text: "the first one"}}}
			ds.Add(d)
			continue
		}
		keys[e.Key] = e.KeyPos
		over.pending[e.Key] = e.Value
		over.own = append(over.own, e.Key)
	}
	for _, name := range over.own {
		over.find(name, ds, nil)
	}
	return over
}

// PartEntries returns the parts of a part file: a map with `dryfit: 1` and `parts:`.
func PartEntries(ds *read.Diags, root *read.Node) []read.Entry {
	if root == nil { // its mistake is told already
		return nil
	}
	f := ds.Fields(root, "a part file")
	if n := f.Need("dryfit", "dryfit: 1"); n != nil {
		ds.Int(n, 1, 1)
	}
	f.Need("parts", "parts: {name: {...}}")
	entries := f.Named("parts")
	f.Done()
	return entries
}

// Find returns the part called name.
func (l *Library) Find(name string) (*Part, bool) {
	if l == nil {
		return nil, false
	}
	ds := &read.Diags{}
	p, _ := l.find(name, ds, nil)
	return p, p != nil
}

// Has tells whether there is a part of that name, readable or not.
func (l *Library) Has(name string) bool {
	for ; l != nil; l = l.base {
		if l.index != nil {
			if _, ok := l.index.byName[name]; ok {
				return true
			}
		}
		if l.pending[name] != nil {
			return true
		}
	}
	return false
}

// below is the library that own parts stand over, nil for the catalogue itself.
func (l *Library) below() *Library {
	if l == nil {
		return nil
	}
	return l.base
}

// find returns the part and whether there is one of that name. resolving are the parts
// being read now, outermost first.
func (l *Library) find(name string, ds *read.Diags, resolving []string) (*Part, bool) {
	if l == nil {
		return nil, false
	}
	l.mu.Lock()
	p, ready := l.done[name]
	node := l.pending[name]
	l.mu.Unlock()
	switch {
	case ready:
		return p, true
	case node != nil:
		p = decodePart(name, node, l, ds, Given, resolving)
	case l.index != nil:
		i, ok := l.index.byName[name]
		if !ok {
			return nil, false
		}
		p = l.index.list[i].decode(l, ds, resolving)
	default:
		return l.base.find(name, ds, nil)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if first, raced := l.done[name]; raced { // another goroutine was faster: one pointer for all
		return first, true
	}
	l.done[name] = p
	return p, true
}

// decode reads the entry's text. A mistake in it is a fault of ours; the catalogue's
// test finds it.
func (e entry) decode(l *Library, ds *read.Diags, resolving []string) *Part {
	root, found := read.LoadFrom(e.file, e.text, e.first)
	ds.Merge(found)
	if root == nil || len(root.Entries()) != 1 {
		return nil
	}
	return decodePart(e.name, root.Entries()[0].Value, l, ds, Catalogue, resolving)
}

// Names lists every part, sorted.
func (l *Library) Names() []string {
	var out []string
	for _, h := range l.List() {
		out = append(out, h.Name)
	}
	return out
}

// Own lists the parts of the build in the order of its file, those that could be read.
func (l *Library) Own() []*Part {
	var out []*Part
	for _, name := range l.own {
		if p := l.done[name]; p != nil {
			out = append(out, p)
		}
	}
	return out
}

// Listed is a part in a list.
type Listed struct {
	Name  string
	Kind  Kind
	Title string
	Own   bool // of the build, not of the catalogue
}

// List lists every part, sorted by name, without reading those of the catalogue.
func (l *Library) List() []Listed { return l.list(func(Kind) bool { return true }) }

// list lists the parts of some kinds, sorted by name.
func (l *Library) list(of func(Kind) bool) []Listed {
	var out []Listed
	seen := map[string]bool{}
	for ; l != nil; l = l.base {
		for _, name := range l.own {
			if p := l.done[name]; p != nil && !seen[name] {
				seen[name] = true
				if of(p.Kind) {
					out = append(out, Listed{p.Name, p.Kind, p.Title, true})
				}
			}
		}
		if l.index == nil {
			continue
		}
		for _, e := range l.index.list {
			if of(e.kind) && !seen[e.name] {
				out = append(out, Listed{e.name, e.kind, e.title, false})
			}
		}
	}
	slices.SortFunc(out, func(a, b Listed) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// ByKind returns the parts of one kind, sorted by name.
func (l *Library) ByKind(k Kind) []*Part {
	var out []*Part
	for _, h := range l.list(func(of Kind) bool { return of == k }) {
		if p, ok := l.Find(h.Name); ok {
			out = append(out, p)
		}
	}
	return out
}

// Suggest returns the name of the part that was most likely meant by a name that no part has: the
// nearest in spelling, else the one that has most of its pieces (esc4-30.5-45a for
// esc-4in1-30.5), the first of several; "" where none is near.
func (l *Library) Suggest(name string) string {
	all := l.Names()
	if near := read.Nearest(name, all); near != "" {
		return near
	}
	pieces := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == '-' || r == ' ' || r == '_' })
	letters, best, most := 0, "", 0
	for _, p := range pieces {
		letters += len(p)
	}
	for _, cand := range all {
		shared, met := 0, 0
		for _, p := range pieces {
			if len(p) > 1 && strings.Contains(strings.ToLower(cand), p) {
				shared, met = shared+len(p), met+1
			}
		}
		if met > 1 && 2*shared >= letters && shared > most {
			best, most = cand, shared
		}
	}
	return best
}

// Search lists the parts that hold every word in their name, kind or title; capitals do
// not matter. Parts whose names hold all the words come first.
func (l *Library) Search(query ...string) []Listed {
	var need []string
	for _, q := range query {
		need = append(need, strings.Fields(strings.ToLower(q))...)
	}
	var first, rest []Listed
	for _, h := range l.List() {
		name := strings.ToLower(h.Name)
		all := name + " " + string(h.Kind) + " " + strings.ToLower(h.Title)
		switch {
		case holdsAll(name, need):
			first = append(first, h)
		case holdsAll(all, need):
			rest = append(rest, h)
		}
	}
	return append(first, rest...)
}

func holdsAll(text string, need []string) bool {
	for _, w := range need {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}
