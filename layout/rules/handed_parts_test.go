package rules

import (
	"strings"
	"testing"
)

func TestHandedParts(t *testing.T) { testRule(t, handedParts, "ok fail nothing") }

// TestHandedPartsSaysWhichWay holds the words, which are what a shop needs.
func TestHandedPartsSaysWhichWay(t *testing.T) {
	for _, c := range []struct{ file, old, new, want string }{
		{"alike", "", "", "the knee plate is the same from both sides"},
		{"alike", "", "", "the disc plate is the same from both sides"},
		{"alike", "[[30, 0], [0, 30]]", "[[30, 0], [0, 25], [0, -30]]", "the disc plate is not the same from both sides: mark its top face"},
		{"other-hand", "", "", "the base plate is not the same from both sides: mark its top face"},
		{"other-hand", "", "", "the lid plate is the same from both sides"},
		{"faces", "", "", "the base plate is machined on its bottom face: mark that face"},
		{"arms", "", "", "the 4 arm plates are 2 of one hand and 2 of the other: cut both hands; each is not the same from both sides"},
		// All posts on one arm's middle line; the post of the other arms too.
		{"arms", "at: [32, 28]", "at: [30, 30]", "the 4 arm plates are alike, and each is the same from both sides"},
		// A post at one arm alone.
		{"arms", ", mirror: both}", "}", "the 4 arm plates are not all alike: 1 as the first, 0 its mirror image, 3 of other forms"},
	} {
		var text string
		if c.old == "" {
			text = changed(t, handedParts, c.file)
		} else {
			text = changed(t, handedParts, c.file, c.old, c.new)
		}
		var all []string
		found := false
		for _, f := range judgeText(t, handedParts, text).Findings {
			all = append(all, f.Message)
			found = found || strings.Contains(f.Message, c.want)
		}
		if !found {
			t.Errorf("%s: want %q in\n%s", c.file, c.want, strings.Join(all, "\n"))
		}
	}
	testChanges(t, handedParts, []change{{"nearly", "[-19.7, -10]", "[-19, -10]", "ok"}})
	wantFix(t, handedParts, changed(t, handedParts, "nearly"), "move what is off by 0.3 mm")
	wantFix(t, handedParts, changed(t, handedParts, "faces"), "put them all on one face")
}
