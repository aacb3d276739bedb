package read

import (
	"errors"
	"strings"
	"testing"
)

// TestDiagPrints the form that reports show.
func TestDiagPrints(t *testing.T) {
	root, ds := Load("shore.yaml", []byte("stacks:\n  main:\n    items: [a, flight-bord]\n"))
	n := root.Get("stacks").Get("main").Get("items").Items()[1]
	ds.AtRelated(n, Quote(n.Raw())+" is not a part", "the name of a board", "did you mean flight-board?", Related{Pos{"shore.yaml", 1, 1}, "the stacks"})
	want := `shore.yaml:3:16: stacks.main.items[1]: "flight-bord" is not a part
     3 |     items: [a, flight-bord]
       |                ^
  expected: the name of a board
  did you mean flight-board?
  shore.yaml:1:1: the stacks`
	if got := ds.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestDiagsSortAndDedupe(t *testing.T) {
	var ds Diags
	for _, d := range []Diag{
		{Pos: Pos{"b", 1, 1}, Message: "z"},
		{Pos: Pos{"a", 2, 1}, Message: "y"},
		{Pos: Pos{"a", 1, 9}, Message: "x"},
		{Pos: Pos{"a", 1, 2}, Message: "w"},
		{Pos: Pos{"a", 1, 9}, Message: "x", Path: "by another way"},
	} {
		ds.Add(d)
	}
	var got []string
	for _, d := range ds.Sorted() {
		got = append(got, d.Message)
	}
	if strings.Join(got, "") != "wxyz" {
		t.Errorf("%v", got)
	}
	var p *Problems
	if err := ds.Err(); !errors.As(err, &p) || p.Diags.Len() != 4 {
		t.Errorf("%v", err)
	}
}

func TestWarningsAreNoErrors(t *testing.T) {
	var ds Diags
	ds.Add(Diag{Severity: Warning, Message: "beware", Pos: Pos{"a", 1, 1}})
	if ds.Err() != nil || ds.HasErrors() || ds.Len() != 1 {
		t.Error("a warning counts as an error")
	}
	if got := ds.String(); got != "a:1:1: warning: beware" {
		t.Errorf("%q", got)
	}
}

func TestDiagsAreBounded(t *testing.T) {
	var ds Diags
	for i := range 2 * maxDiags {
		ds.Add(Diag{Pos: Pos{"a", i + 1, 1}, Message: "m"})
	}
	if ds.Len() != maxDiags || !strings.HasSuffix(ds.String(), "and 500 more") {
		t.Errorf("%d kept, ends in %q", ds.Len(), ds.String()[len(ds.String())-20:])
	}
}

// TestLongLinesAreCut: the caret stays under its character.
func TestLongLinesAreCut(t *testing.T) {
	line := strings.Repeat("é", 500) + "X" + strings.Repeat("b", 500)
	d := Diag{Pos: Pos{"a", 1, 501}, Message: "m", Line: line}
	rows := strings.Split(d.String(), "\n")
	text, mark := []rune(rows[1]), []rune(rows[2])
	if at := len(mark) - 1; at >= len(text) || text[at] != 'X' || len(text) > 120 {
		t.Errorf("%s\n%s", rows[1], rows[2])
	}
}

func TestNearest(t *testing.T) {
	words := []string{"above", "below", "pcb", "square", "ports"}
	for word, want := range map[string]string{"abve": "above", "abvoe": "above", "belwo": "below", "squre": "square", "pbc": "pcb", "zebra": "", "x": "", "": ""} {
		if got := Nearest(word, words); got != want {
			t.Errorf("%q: %q, want %q", word, got, want)
		}
	}
	// A word that was begun, or gone on from, tells more than one that is spelt like it.
	parts := []string{"motor-2206", "motor-2806.5", "motor-2806.55", "carbon", "glass"}
	for word, want := range map[string]string{"motor-2806": "motor-2806.5", "carbon fibre": "carbon", "motor-2207": "motor-2206", "car": ""} {
		if got := Nearest(word, parts); got != want {
			t.Errorf("%q: %q, want %q", word, got, want)
		}
	}
}
