package render

import (
	"math"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// The widths agree with those of the font library's own measuring, without kerning, at a
// size of 100 units.
func TestTextWidth(t *testing.T) {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	const height = 10.0
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: 1000, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		t.Fatal(err)
	}
	caps := float64(face.Metrics().CapHeight) / 64
	for _, s := range []string{"", "H", "prop-tip-gap", "Ø220 wheelbase", "−1.20 (4 min.)", "front left → rear", "±0.3 ≥ 2°"} {
		var adv fixed.Int26_6
		for _, r := range s {
			a, ok := face.GlyphAdvance(r)
			if !ok {
				t.Fatalf("the face lacks %q", r)
			}
			adv += a
		}
		want := float64(adv) / 64 / caps * height
		if got := TextWidth(s, height); math.Abs(got-want) > 0.02 {
			t.Errorf("TextWidth(%q) = %.3f, want %.3f", s, got, want)
		}
	}
	// Runes that the face lacks count as one em.
	if got, want := TextWidth("漢", 1), 1000/caps; math.Abs(got-want) > 1e-3 {
		t.Errorf("a missing glyph is %.3f wide, want %.3f", got, want)
	}
}

func TestFit(t *testing.T) {
	s := "a rather long name of a part"
	for _, w := range []float64{0, 1, 5, 20, 40, 1000} {
		got := fit(s, small, w)
		if TextWidth(got, small) > w {
			t.Errorf("fit to %v is %v wide", w, TextWidth(got, small))
		}
		if got != s && got != "" && !strings.HasSuffix(got, "…") {
			t.Errorf("fit to %v gave %q: a cut text must say so", w, got)
		}
	}
	if fit(s, small, 1000) != s {
		t.Error("a text that fits was cut")
	}
}

func TestWrap(t *testing.T) {
	s := "the blade tips of the front left disc pass 0.2 mm from the roof plate"
	w := TextWidth("the blade tips of the", small) + 0.1
	got := wrap(s, small, w, 9)
	if strings.Join(got, " ") != s {
		t.Errorf("wrap lost words: %q", got)
	}
	if got[0] != "the blade tips of the" {
		t.Errorf("first line %q is not filled", got[0])
	}
	for _, l := range got {
		if TextWidth(l, small) > w {
			t.Errorf("line %q is %.1f wide, want at most %.1f", l, TextWidth(l, small), w)
		}
	}
	cut := wrap(s, small, w, 2)
	if len(cut) != 2 || !strings.HasSuffix(cut[1], "…") {
		t.Errorf("two lines of a longer text: %q, want the second cut", cut)
	}
	if got := wrap("lies 12 mm off", small, TextWidth("lies 12 m", small), 3); strings.Join(got, "|") != "lies|12 mm|off" {
		t.Errorf("a unit leaves its number: %q", got)
	}
	if got := wrap("standoff-against-parts", small, TextWidth("standoff-against-", small)+0.1, 2); strings.Join(got, "|") != "standoff-against-|parts" {
		t.Errorf("a long name is not broken after a hyphen: %q", got)
	}
	if got := wrap("", small, 10, 3); len(got) != 0 {
		t.Errorf("no text gave %q", got)
	}
}
