package report_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/render/report"
	"dryfit/shapes"
)

// pairOfWires is a craft with one supply pair of 24 AWG, 83.4 ±2 mm each, ground added, in a
// sleeve, and one lead of a motor, 110 mm as bought, that is cut at 84.
func pairOfWires() *layout.Assembly {
	wire := &shapes.Part{Name: "wire-24", Wire: &shapes.Wire{Gauge: 24}}
	board, sender, motor := &layout.Component{ID: "stacks.main.board", Label: "board"}, &layout.Component{ID: "mounts.sender", Label: "sender"}, &layout.Component{ID: "rotors.one.motor", Label: "one motor"}
	end := func(c *layout.Component, name string) *layout.Terminal {
		return &layout.Terminal{ID: c.ID + "." + name, Owner: c, Name: name, Pad: &shapes.Pad{}}
	}
	cut := layout.Of(&shapes.Dim{Value: 83.4, Plus: 2, Minus: 2})
	pair := &layout.Circuit{ID: "wires.sender", Label: "sender", From: board, To: sender, Kind: layout.SupplyCircuit, Route: &layout.Route{Length: 70},
		Spec: &layout.WireSpec{Sleeve: &shapes.Part{Name: "sleeve-1-8-in"}}}
	pair.Wires = []*layout.Wire{
		{ID: "wires.sender.supply", Way: "supply", From: end(board, "supply-9"), To: end(sender, "supply"), Role: shapes.Supply9Role, Gauge: wire, Chosen: true, Colour: "violet", Cut: cut, StripA: 3, StripB: 2, Grams: layout.Fixed(0.29)},
		{ID: "wires.sender.ground", Way: "ground", From: end(board, "ground"), To: end(sender, "ground"), Role: shapes.GroundRole, Gauge: wire, Chosen: true, Return: true, Colour: "black", Cut: cut, StripA: 3, StripB: 2, Grams: layout.Fixed(0.29)},
	}
	lead := &layout.Circuit{ID: "wires.motor-one", Label: "motor-one", From: motor, To: board, Kind: layout.MotorCircuit, Hung: &shapes.Dim{Value: 110}, Route: &layout.Route{Length: 71}}
	lead.Wires = []*layout.Wire{{ID: "wires.motor-one.1", Way: "phase 1", From: end(motor, "leads"), To: end(board, "m1"), Role: shapes.MotorRole, Gauge: wire, Colour: "blue", Cut: layout.Fixed(84), StripB: 3, Grams: layout.Fixed(0.3)}}
	return &layout.Assembly{Name: "pair", Circuits: []*layout.Circuit{pair, lead}}
}

// 83.4 becomes 84: two of them are 0.168 m; the lead leaves 110 − 84 = 26 mm.
func TestWiresText(t *testing.T) {
	var b bytes.Buffer
	if err := report.WiresText(&b, pairOfWires()); err != nil {
		t.Fatal(err)
	}
	got := strings.Join(strings.Fields(b.String()), " ")
	for _, want := range []string{
		"pair: 3 wires in 2 circuits; 2 to cut, 0.168 m, 0.6 g; 1 comes with its part, 0.084 m, 0.3 g",
		"1 sender supply board supply-9 sender supply 24 AWG * violet 84 ±2 3 / 2 0.29 in sleeve-1-8-in",
		"ground board ground sender ground 24 AWG * black 84 ±2 3 / 2 0.29 in sleeve-1-8-in; ground added",
		"2 motor-one phase 1 one motor leads board m1 24 AWG blue 84 – / 3 0.30 comes with one motor, 110 long: 26 spare",
		"24 AWG 2 wires 0.168 m 0.6 g to cut", "24 AWG 1 wire 0.084 m 0.3 g comes with its part", "sleeve-1-8-in 1 piece 0.070 m sleeve",
		"rounded up to whole millimetres", "check polarity", "current limit",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the list lacks %q:\n%s", want, b.String())
		}
	}
}

func TestWiresCSV(t *testing.T) {
	var b bytes.Buffer
	if err := report.WiresCSV(&b, pairOfWires()); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != 4 {
		t.Fatalf("%v, %d rows, want 4", err, len(rows))
	}
	col := map[string]int{}
	for i, h := range rows[0] {
		col[h] = i
	}
	for _, c := range []struct {
		row  int
		head string
		want string
	}{
		{1, "from", "stacks.main.board.supply-9"}, {1, "to", "mounts.sender.supply"}, {1, "cut mm", "84"}, {1, "plus mm", "2"}, {1, "gauge", "24 AWG"}, {1, "sleeve", "sleeve-1-8-in"},
		{2, "colour", "black"}, {3, "comes with", "rotors.one.motor"}, {3, "bought mm", "110"}, {3, "spare mm", "26"}, {3, "strip from mm", ""}, {3, "strip to mm", "3"},
	} {
		if got := rows[c.row][col[c.head]]; got != c.want {
			t.Errorf("row %d, %s: %q, want %q", c.row, c.head, got, c.want)
		}
	}
}

func TestWiresJSON(t *testing.T) {
	data, err := report.WiresJSON(pairOfWires())
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Wires []struct {
			ID    string
			Cut   float64
			Spare *float64
		}
		Gauges []struct {
			Length float64
			Lead   bool `json:"comes-with-parts"`
		}
	}
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Wires) != 3 || got.Wires[0].ID != "wires.sender.supply" || got.Wires[0].Cut < 84 || got.Wires[0].Cut > 84 || got.Wires[0].Spare != nil || got.Wires[2].Spare == nil {
		t.Errorf("wires %+v", got.Wires)
	}
	if len(got.Gauges) != 2 || got.Gauges[0].Length < 168 || got.Gauges[0].Length > 168 || !got.Gauges[1].Lead {
		t.Errorf("gauges %+v", got.Gauges)
	}
}

func TestWiresOfNone(t *testing.T) {
	var b bytes.Buffer
	if err := report.WiresText(&b, &layout.Assembly{Name: "bare"}); err != nil || !strings.HasPrefix(b.String(), "bare: no wires") {
		t.Errorf("%v: %q", err, b.String())
	}
}
