package route_test

import (
	"testing"

	"dryfit/layout/route"
)

// TestLimit: 80 straight along a plate, within a limit of 80 and far beyond one of 70.
func TestLimit(t *testing.T) {
	s := &route.Space{Sheets: []route.Sheet{plate("base", rect(-60, -60, 60, 60))}}
	b := route.Bundle{ID: "w", OD: 2, From: route.End{At: pt(-40, 0), Z: 3}, To: route.End{At: pt(40, 0), Z: 3}, Limit: 80}
	wantLength(t, route.Find(s, b), 80, 1e-6)
	b.Limit = 70
	if w := route.Find(s, b); w.Blocked == nil || !w.Blocked.Enclosed {
		t.Errorf("%+v, want none within 70", w)
	}
}
