package report_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/layout/layouttest"
	"dryfit/render/report"
)

// A pack of four cells on a board that makes 5 V for a receiver which draws 0.1 A.
const wired = `
dryfit: 1
name: wired
parts:
  mat: {kind: material, density: 1.5 ±0, cut-tolerance: 0 ±0.1}
  pack: {kind: battery, size: [70, 35, 30], mass: 200 g ±0, cells: 4, capacity: 1500 mAh ±0, discharge: 40, plug: xt60, lead-gauge: 12 AWG, lead-length: 80 ±0}
  power: {kind: block, size: [30, 30, 5], mass: 10 g, volts: 6..25, rails: {5: {amps: 2 A ±0, dropout: 1 V}}, pads: {in: {at: [-13, 5], role: pack}, in-ground: {at: [-13, -5], role: ground}, five: {at: [13, 5], role: supply-5}, five-ground: {at: [13, -5], role: ground}}}
  ear: {kind: receiver, size: [15, 10, 4], mass: 2 g, volts: 4.5..5.5, draw: 0.1 A ±0, pads: {supply: {at: [-6, 3], role: feed}, ground: {at: [-6, -3], role: ground}}}
plates:
  base: {material: mat, thickness: 2 ±0, outline: {rectangle: [200, 120]}}
mounts:
  power: {part: power, on: base.top, at: [0, 0]}
  ear: {part: ear, on: base.top, at: [50, 0]}
battery: {part: pack, on: base.bottom, at: [0, 0]}
wires:
  - {from: battery, to: power}
  - {from: power.five, to: ear.supply}
`

func TestSupplyInTheReport(t *testing.T) {
	asm := layouttest.MustLoad(t, wired)
	var all, short bytes.Buffer
	if err := report.Text(&all, asm, nil, report.Options{All: true}); err != nil {
		t.Fatal(err)
	}
	if err := report.Text(&short, asm, nil, report.Options{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"\nsupply\n", "battery: 16.8 V full (4 x 4.2), 13.2 V sagging, gives 30 A steadily", "5 V of power: 0.1 A of 2 A", "    ear 0.1 A",
		"caution: Take the props off", "caution: Check polarity", "current-limited",
	} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("no %q in\n%s", want, all.String())
		}
	}
	if strings.Contains(short.String(), "supply") {
		t.Error("the short report tells the supply")
	}
	for i, line := range strings.Split(all.String(), "\n") {
		if len([]rune(line)) > report.Width {
			t.Errorf("line %d is %d letters long: %s", i+1, len([]rune(line)), line)
		}
	}
	bare, _, _ := strings.Cut(wired, "wires:")
	all.Reset()
	if err := report.Text(&all, layouttest.MustLoad(t, bare), nil, report.Options{All: true}); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(all.String(), "\nsupply\n") {
		t.Error("a build without wires tells its supply")
	}
}

func TestSupplyInJSON(t *testing.T) {
	data, err := report.JSON(layouttest.MustLoad(t, wired), []layout.Outcome{})
	if err != nil {
		t.Fatal(err)
	}
	var r struct {
		Supply struct {
			Packs []struct {
				Packs  []string
				Full   float64 `json:"full-volts"`
				Steady struct{ Nominal float64 }
			}
			Rails []struct {
				Volts float64
				Load  struct{ Nominal, Most float64 }
			}
			Leads []struct {
				Wire string
				Drop *struct{ Nominal float64 }
			}
			Nets     []struct{ Kind string }
			Cautions []string
		}
	}
	if err := json.Unmarshal(data, &r); err != nil {
		t.Fatal(err)
	}
	s := r.Supply
	if len(s.Packs) != 1 || s.Packs[0].Packs[0] != "battery" || s.Packs[0].Full != 16.8 || s.Packs[0].Steady.Nominal != 30 {
		t.Errorf("packs: %+v", s.Packs)
	}
	if len(s.Rails) != 1 || s.Rails[0].Volts != 5 || s.Rails[0].Load.Nominal != 0.1 {
		t.Errorf("rails: %+v", s.Rails)
	}
	// Supply and ground of the pack's pair and of the receiver's.
	if len(s.Leads) != 4 || s.Leads[0].Drop == nil || !(s.Leads[0].Drop.Nominal > 0) {
		t.Errorf("leads: %+v", s.Leads)
	}
	kinds := ""
	for _, n := range s.Nets {
		kinds += n.Kind + " "
	}
	if kinds != "pack ground rail " || len(s.Cautions) == 0 {
		t.Errorf("nets %q, %d cautions", kinds, len(s.Cautions))
	}
}
