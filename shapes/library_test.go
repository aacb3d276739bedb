package shapes

import (
	"strings"
	"sync"
	"testing"
)

func TestSearchAndSuggest(t *testing.T) {
	lib := builtin(t)
	var names []string
	for _, h := range lib.Search("XT60") {
		names = append(names, h.Name)
	}
	if got := strings.Join(names, " "); got != "xt60 xt60-board" {
		t.Errorf("xt60: %s", got)
	}
	hits := lib.Search("digital camera")
	if len(hits) == 0 || hits[0].Name != "camera-digital-20" {
		t.Errorf("digital camera: %+v", hits)
	}
	for _, h := range lib.Search("motor", "5-inch") {
		if h.Kind != MotorKind || !strings.Contains(h.Title, "5-inch") {
			t.Errorf("motor 5-inch finds %+v", h)
		}
	}
	if got := lib.Search("no such thing"); len(got) != 0 {
		t.Errorf("%+v", got)
	}
	if got := lib.Suggest("contorller-30.5"); got != "controller-30.5" {
		t.Errorf("suggests %q", got)
	}
	// Two of its three pieces, 7 of 11 letters.
	if got := lib.Suggest("esc-4in1-30.5"); got != "esc4-30.5-45a" {
		t.Errorf("suggests %q for a name of the same pieces", got)
	}
	if got := lib.Suggest("zeppelin"); got != "" {
		t.Errorf("suggests %q", got)
	}
}

func TestListIsSortedAndHoldsOwnParts(t *testing.T) {
	lib, ds := own(t, head+"  aaa: {like: prop-5, title: my prop}\n  prop-5: {like: prop-5}\n  broken: {kind: no}\n")
	if ds.Len() != 1 {
		t.Fatal(ds)
	}
	list := lib.List()
	if list[0].Name != "aaa" || !list[0].Own || list[0].Title != "my prop" {
		t.Errorf("%+v", list[0])
	}
	count := 0
	for i, h := range list {
		if i > 0 && list[i-1].Name >= h.Name {
			t.Errorf("%s before %s", list[i-1].Name, h.Name)
		}
		if h.Name == "prop-5" {
			count++
			if !h.Own {
				t.Error("the catalogue's prop-5 is listed")
			}
		}
	}
	if count != 1 {
		t.Errorf("prop-5 is listed %d times", count)
	}
	if !lib.Has("broken") || len(lib.Own()) != 2 {
		t.Errorf("has broken: %v, own: %d", lib.Has("broken"), len(lib.Own()))
	}
	if _, ok := lib.Find("broken"); ok {
		t.Error("a broken part is found")
	}
}

// TestFindFromManyGoroutines: one pointer for all (run with -race).
func TestFindFromManyGoroutines(t *testing.T) {
	lib := builtin(t)
	names := lib.Names()[:40]
	got := make([][]*Part, 4)
	var wg sync.WaitGroup
	for g := range got {
		wg.Go(func() {
			for _, n := range names {
				p, _ := lib.Find(n)
				got[g] = append(got[g], p)
			}
		})
	}
	wg.Wait()
	for g := range got {
		for i := range names {
			if got[g][i] == nil || got[g][i] != got[0][i] {
				t.Errorf("%s: pointers differ", names[i])
			}
		}
	}
}

// TestFiguresAreStable: the same list at each call, and its main figures by label.
func TestFiguresAreStable(t *testing.T) {
	lib := builtin(t)
	p, _ := lib.Find("motor-1507")
	var a, b []string
	for _, f := range p.Figures() {
		a = append(a, f.Label+f.Text)
	}
	for _, f := range p.Figures() {
		b = append(b, f.Label+f.Text)
	}
	if strings.Join(a, ";") != strings.Join(b, ";") {
		t.Error("two orders")
	}
	if got := strings.Join(a[:6], ";"); got != "mass;stator1507;bell;body height;overall height;bell gap" {
		t.Errorf("%s", got)
	}
}

// FuzzDecodePart: whatever the text of a part, decoding ends, and nothing is both without
// an error and without a part.
func FuzzDecodePart(f *testing.F) {
	for _, s := range []string{"like: controller-20", "kind: motor\ncircle: 16\nbell: 20\nbody-height: 10", "kind: block\nsize: [1, 2, 3]\nzones: [{size: [1, 1], height: 2}]",
		"kind: prop\ndiameter: {typ: 5 in, range: [4 in, 6 in]}", "kind: controller\noutline: {polygon: [[0, 0], [9, 0, 1], [4, 7]]}\nports: {a: {plug: usb-c, edge: left}}", "kind: thread\nsize: M3\nheads: [{form: pan}]"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		text := head + "  x:\n    " + strings.ReplaceAll(s, "\n", "\n    ") + "\n"
		root, ds := readLoad(text)
		if root == nil {
			return
		}
		lib := builtin(t).With(ds, PartEntries(ds, root))
		p, ok := lib.Find("x")
		if ok {
			p.Figures()
		} else if lib.Has("x") && ds.Err() == nil {
			t.Fatalf("no part and no error:\n%s", text)
		}
	})
}
