package render

import (
	"math"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"dryfit/layout"
	"dryfit/shapes"
)

func TestPickScale(t *testing.T) {
	for _, c := range []struct {
		w, h, roomW, roomH float64
		want               string
	}{
		{100, 100, 100, 100, "1:1"},
		{100.1, 100, 100, 100, "1:2"},
		{50, 10, 100, 100, "2:1"},
		{49, 21, 100, 100, "2:1"},
		{300, 200, 150, 100, "1:2"},
		{300, 260, 150, 120, "1:5"},
		{1e6, 1, 100, 100, "1:100"},
	} {
		if _, got := pickScale(c.w, c.h, c.roomW, c.roomH); got != c.want {
			t.Errorf("%v x %v into %v x %v: %s, want %s", c.w, c.h, c.roomW, c.roomH, got, c.want)
		}
	}
}

func finding(v layout.Verdict, got, need float64, near string) layout.Finding {
	return layout.Finding{Rule: "body-gap", Verdict: v, Unit: shapes.MM, HasMeasure: true, Measured: got, Needed: need,
		Margin: got - need, HasPlace: true, Near: near, Subjects: []string{"mounts.a"}}
}

func TestNumberFindings(t *testing.T) {
	kind := layout.Finding{Rule: "rotor-hands", Verdict: layout.Fail, Message: "turns the wrong way"}
	excused := finding(layout.Fail, 0, 1, "x")
	excused.Excuse = &layout.Excuse{Why: "meant"}
	got := numberFindings([]layout.Outcome{
		{Rule: "body-gap", Findings: []layout.Finding{
			finding(layout.Tight, 2, 1, "rear"), finding(layout.Fail, 0.5, 1, "left"), finding(layout.Fail, 0.5, 1, "right"),
			finding(layout.OK, 9, 1, "far"), finding(layout.Unknown, 0, 1, "nose"), excused}},
		{Rule: "rotor-hands", Findings: []layout.Finding{kind}},
	})
	var s []string
	for _, n := range got {
		s = append(s, n.first().Verdict.String())
	}
	if strings.Join(s, " ") != "fail fail tight unknown" {
		t.Fatalf("order is %v, want fails of both rules, then tight, then unknown", s)
	}
	if len(got[0].all) != 2 || got[0].no != 1 || got[3].no != 4 {
		t.Errorf("numbers or gathering wrong: %+v", got)
	}
	if e := elsewhere(got[0].all); e != "Also: right" {
		t.Errorf("elsewhere = %q", e)
	}
}

func TestAgainst(t *testing.T) {
	least := finding(layout.Fail, 2.8, 4, "")
	if got := against(&least); got != "2.80 (4 min.)" {
		t.Errorf("got %q", got)
	}
	most := finding(layout.Tight, 248.5, 250, "")
	most.AtMost, most.Unit = true, shapes.Gram
	if got := against(&most); got != "248.50 g (250 g max.)" {
		t.Errorf("got %q", got)
	}
	deep := finding(layout.Fail, -1.25, 0, "")
	if got := against(&deep); got != "−1.25 (0 min.)" {
		t.Errorf("got %q", got)
	}
	open := finding(layout.Unknown, 0, 22, "")
	if got := against(&open); got != "22 min." {
		t.Errorf("got %q", got)
	}
	if got := against(&layout.Finding{Verdict: layout.Fail}); got != "" {
		t.Errorf("a finding without measure prints %q", got)
	}
}

// TestLongNeedIsWrapped: a need with its unit that is wider than its column goes on two lines, whole.
func TestLongNeedIsWrapped(t *testing.T) {
	f := finding(layout.Fail, 25, 1230.24, "")
	f.Unit = shapes.Volt
	for _, r := range findingTable([]numbered{{no: 1, all: []layout.Finding{f}}}).rows {
		if got := strings.Join(r.cells[3], " | "); got != "1230.24 V | min." {
			t.Errorf("needed is written %q", got)
		}
	}
}

func TestFromSide(t *testing.T) {
	for _, c := range []struct {
		d    r3.Vector
		want bool
	}{{r3.Vector{Z: 3}, true}, {r3.Vector{X: 3}, false}, {r3.Vector{X: 3, Y: 4, Z: 5}, false}, {r3.Vector{X: 3, Z: -4}, true}, {r3.Vector{}, false}} {
		f := layout.Finding{A: r3.Vector{X: 1, Y: 2, Z: 3}}
		f.B = f.A.Add(c.d)
		if got := fromSide(&f); got != c.want {
			t.Errorf("fromSide along %v = %v", c.d, got)
		}
	}
	f := layout.Finding{HasPlace: true, A: r3.Vector{X: math.NaN()}}
	if finitePlace(&f) {
		t.Error("a place that is not a number was taken")
	}
}

// A table of rows of 5.6 mm (one line of 4.1 and 1.5 of air) in 40 mm: title 6.5 and head
// 5.2 leave 28.3 mm, five rows; the other two go on.
func TestTableFlows(t *testing.T) {
	tb := table{id: "t", title: "T", cols: []column{{"A", 50, Left}}}
	for range 7 {
		tb.rows = append(tb.rows, row{cells: [][]string{{"x"}}})
	}
	l := &List{W: 100, H: 100}
	next, used := tb.draw(l, r2.Point{}, 40, 0)
	if next != 5 || math.Abs(used-(11.7+5*5.6)) > 1e-9 {
		t.Errorf("drew %d rows in %.2f mm, want 5 in 39.70", next, used)
	}
	next, _ = tb.draw(l, r2.Point{}, 40, next)
	if next != 7 {
		t.Errorf("second part ends at %d, want 7", next)
	}
	before := len(l.Items)
	if next, used := tb.draw(l, r2.Point{}, 12, 0); next != 0 || used != 0 || len(l.Items) != before {
		t.Errorf("no row fits into 12 mm, but %d rows took %v", next, used)
	}
}
