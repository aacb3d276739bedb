package route_test

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"dryfit/layout/route"
)

// TestWaysKeepTheLaw: no way enters a body or a forbidden band, leaves its plate or goes through one, and its legs
// follow each other and add up. Half the bundles ask for bends; several are routed together, which may not change that.
func TestWaysKeepTheLaw(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		s := genSpace(t)
		var bs []route.Bundle
		for i := range rapid.IntRange(1, 5).Draw(t, "bundles") {
			od := []float64{1, 1.6, 2.4}[rapid.IntRange(0, 2).Draw(t, "od")]
			b := route.Bundle{ID: fmt.Sprint(i), OD: od, From: genEnd(t, s, od), To: genEnd(t, s, od)}
			if rapid.Bool().Draw(t, "bend") {
				b.Bend = od
			}
			bs = append(bs, b)
		}
		ways := route.FindAll(s, bs)
		for i, w := range ways {
			if w.Blocked != nil {
				if len(w.Legs) > 0 || w.Length != 0 {
					t.Fatalf("bundle %d is blocked and has legs", i)
				}
				continue
			}
			found++
			if why := (law{s, bs[i]}).breaks(w); why != "" {
				t.Fatalf("bundle %d (od %g): %s\n%+v", i, bs[i].OD, why, w.Legs)
			}
		}
		again := route.FindAll(s, bs)
		if !reflect.DeepEqual(ways, again) {
			t.Fatalf("not the same twice:\n%v\n%v", ways, again)
		}
	})
	least := 50
	if testing.Short() { // a fifth of the spaces
		least = 10
	}
	if found < least {
		t.Errorf("only %d ways were found to look at", found)
	}
}

// TestCraftWithSixArms: every one of its bundles finds a way.
func TestCraftWithSixArms(t *testing.T) {
	s, bs := sixArms()
	for i, w := range route.FindAll(s, bs) {
		if w.Blocked != nil {
			t.Errorf("%s: %+v", bs[i].ID, *w.Blocked)
		}
		if w.Length > 300 {
			t.Errorf("%s: %g long", bs[i].ID, w.Length)
		}
	}
}
