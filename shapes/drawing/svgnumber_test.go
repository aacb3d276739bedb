package drawing

import (
	"strconv"
	"testing"
)

// num prints a number for a file made by a test, in full.
func num(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func TestNumberScanner(t *testing.T) {
	in := numberScanner{s: " 1.5.5-3e2,+.25 7.e-1-0 1e 2"}
	for i, want := range []float64{1.5, .5, -300, .25, .7, 0, 1} {
		if got, ok := in.number(); !ok || got != want {
			t.Fatalf("number %d: %v %v, want %v", i, got, ok, want)
		}
	}
	if v, ok := in.number(); ok {
		t.Errorf("a bare e gave %v", v)
	}
	in = numberScanner{s: "01,1 0x"}
	for i, want := range []bool{false, true, true, false} {
		if got, ok := in.flag(); !ok || got != want {
			t.Errorf("flag %d: %v %v, want %v", i, got, ok, want)
		}
	}
	if _, ok := in.flag(); ok {
		t.Error("x is a flag")
	}
	for s, want := range map[string]float64{"5": 5, "5px": 5, " 5 mm ": 5 * 96 / 25.4, "1in": 96, "72pt": 96, "2.54cm": 96, "6pc": 96, "40Q": 10 * 96 / 25.4, "50%": 100} {
		l, ok := parseLength(s)
		if got := l.user(200, 96); !ok || got < want-1e-9 || got > want+1e-9 {
			t.Errorf("%q: %v user units, want %v", s, got, want)
		}
	}
	for _, s := range []string{"", "mm", "5 furlong", "1e999", "--5"} {
		if l, ok := parseLength(s); ok {
			t.Errorf("%q is a length: %v", s, l)
		}
	}
}
