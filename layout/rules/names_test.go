package rules

import (
	"testing"

	"dryfit/layout"
)

func TestPieces(t *testing.T) {
	p := &Pass{}
	const board = "stacks.main.esc-board"
	for _, c := range []struct {
		body  layout.Body
		piece string
		part  string
	}{
		{layout.Body{ID: board + ".pcb", Of: board, Kind: layout.PcbBody}, "the esc board", "the board"},
		{layout.Body{ID: board + ".above", Of: board, Kind: layout.ZoneBody}, "the top side of the esc board", "the top side"},
		{layout.Body{ID: board + ".below", Of: board, Kind: layout.ZoneBody}, "the underside of the esc board", "the underside"},
		{layout.Body{ID: board + ".zone.pack-pads", Of: board, Kind: layout.ZoneBody}, "the pack pads of the esc board", "the pack pads"},
		// A zone that the file calls above is no rest of a face.
		{layout.Body{ID: board + ".zone.above", Of: board, Kind: layout.ZoneBody}, "the above of the esc board", "the above"},
		{layout.Body{ID: "posts.main[2]", Of: "posts.main", Kind: layout.PostBody}, "post main[2]", "the board"},
		{layout.Body{ID: "cameras.nose.case[1]", Of: "cameras.nose", Kind: layout.CameraBody}, "the nose camera", "the board"},
	} {
		if got := p.piece(&c.body); got != c.piece {
			t.Errorf("piece of %s is %q, want %q", c.body.ID, got, c.piece)
		}
		if got := p.part(&c.body); got != c.part {
			t.Errorf("part of %s is %q, want %q", c.body.ID, got, c.part)
		}
	}
	drawn := layout.Body{ID: board + ".zone.above", Kind: layout.ZoneBody}
	rest := layout.Body{ID: board + ".above", Kind: layout.ZoneBody}
	if !isDrawnZone(&drawn) || isDrawnZone(&rest) {
		t.Error("drawn zones and the rest of a face are not told apart")
	}
}

func TestWorstOfKeepsTheGravest(t *testing.T) {
	var w worstOf
	for i, f := range []layout.Finding{
		{Verdict: layout.OK, HasMeasure: true, Margin: 0.1},
		{Verdict: layout.Unknown},
		{Verdict: layout.OK, HasMeasure: true, Margin: -3}, // no graver for its number
		{Verdict: layout.Tight, HasMeasure: true, Margin: 2},
		{Verdict: layout.Tight, HasMeasure: true, Margin: 2}, // the first of equals stays
		{Verdict: layout.Fail, HasMeasure: true, Margin: -1},
		{Verdict: layout.Fail, HasMeasure: true, Margin: -0.5},
	} {
		if got, want := w.add(f), []bool{true, true, false, true, false, true, false}[i]; got != want {
			t.Errorf("finding %d: kept %v, want %v", i, got, want)
		}
	}
	if w.f.Verdict != layout.Fail || w.f.Margin != -1 {
		t.Errorf("kept %v %v, want the fail of -1", w.f.Verdict, w.f.Margin)
	}
}
