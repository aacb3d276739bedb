package layout_test

import (
	"testing"

	"dryfit/layout"
)

func TestExcuseCovers(t *testing.T) {
	for _, tt := range []struct {
		a, b   string
		x, y   string
		covers bool
	}{
		{"mounts.receiver", "stacks.main.hub", "mounts.receiver", "stacks.main.hub", true},
		{"mounts.receiver", "stacks.main.hub", "stacks.main.hub", "mounts.receiver", true},
		{"receiver", "hub", "mounts.receiver", "stacks.main.hub", true},
		{"mounts.receiver", "stacks.main.hub", "mounts.receiver", "stacks.main.lower", false},
		{"mounts.receiver", "stacks.main", "mounts.receiver", "stacks.main.lower", true},
		{"posts.main", "battery", "posts.main[3]", "battery", true},
		{"posts.main", "battery", "posts.main-rear[3]", "battery", false},
		{"rotors.front-left", "battery", "battery", "rotors.front-left.prop", true},
		{"mounts.esc", "battery", "battery", "mounts.esc.rear-right", true},
		{"", "battery", "battery", "mounts.esc", false},
	} {
		e := &layout.Excuse{A: tt.a, B: tt.b}
		if got := e.Covers(tt.x, tt.y); got != tt.covers {
			t.Errorf("%q with %q covers %q with %q: %v", tt.a, tt.b, tt.x, tt.y, got)
		}
	}
}
