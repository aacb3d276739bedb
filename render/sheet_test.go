package render_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/render"
	"dryfit/render/report"
)

var update = flag.Bool("update", false, "rewrite the golden drawings")

// allText gathers the texts of all sheets, by sheet.
func allText(sheets []render.Sheet) map[string]string {
	out := map[string]string{}
	for _, s := range sheets {
		for _, it := range s.List.Items {
			switch v := it.(type) {
			case render.Text:
				out[s.Name] += v.S + "\n"
			case render.Dim:
				out[s.Name] += v.S + "\n"
			}
		}
	}
	return out
}

// Every finding that does not hold and has a place carries a mark in a view; every number
// stands in the table.
func TestEveryFindingHasAMark(t *testing.T) {
	for _, c := range cases(t) {
		for _, p := range papers {
			sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{Paper: p})
			if err != nil {
				t.Fatal(err)
			}
			inViews, inTable := map[int]layout.Verdict{}, map[int]layout.Verdict{}
			for _, s := range sheets {
				for _, it := range s.List.Items {
					if m, ok := it.(render.Mark); ok {
						if m.ID == "findings" {
							inTable[m.No] = m.Verdict
						} else {
							inViews[m.No] = m.Verdict
						}
					}
				}
			}
			placed := 0
			for _, o := range c.outcomes {
				for _, f := range o.Findings {
					if f.Verdict == layout.OK || f.Excuse != nil {
						continue
					}
					if f.HasPlace {
						placed++
					}
				}
			}
			if placed > 0 && len(inViews) == 0 {
				t.Errorf("%s on %s: %d findings with a place and no mark", c.name, p, placed)
			}
			for _, n := range report.Number(c.outcomes) {
				shown := slices.ContainsFunc(n.All, func(f *layout.Finding) bool { return f.HasPlace })
				if _, ok := inViews[n.No]; shown && !ok {
					t.Errorf("%s on %s: finding %d, %s, has a place and no mark", c.name, p, n.No, n.All[0].Rule)
				}
			}
			for no, v := range inViews {
				if inTable[no] != v {
					t.Errorf("%s on %s: mark %d is %s in a view and %q in the table", c.name, p, no, v, inTable[no])
				}
			}
			for no := 1; no <= len(inTable); no++ {
				if _, ok := inTable[no]; !ok {
					t.Errorf("%s on %s: number %d is left out of the table", c.name, p, no)
				}
			}
		}
	}
}

// The three findings of the hand-made craft stand where their figures say.
func TestFindingsOfTheBenchCraft(t *testing.T) {
	sheets, err := render.Sheets(newCraft().asm, faults(), render.Options{Paper: render.A4})
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]string{} // ID to sheet
	for _, s := range sheets {
		for _, it := range s.List.Items {
			if m, ok := it.(render.Mark); ok && m.ID != "findings" {
				at[m.ID] = s.Name
			}
			d, ok := it.(render.Dim)
			if !ok || !strings.HasPrefix(d.ID, "finding-") {
				continue
			}
			// Lengths on paper: 8.8 mm of height at 1:1; 28.56 mm and 22 mm in plan at 1:2.
			want := map[string]float64{"finding-1": 8.8, "finding-2": 28.56 / 2, "finding-3": 11}[d.ID]
			if got := d.Q.Sub(d.P).Norm(); math.Abs(got-want) > 0.01 {
				t.Errorf("%s is %.3f mm long on paper, want %.3f", d.ID, got, want)
			}
		}
	}
	// The first is a height and is seen from the side, the others in plan.
	for id, sheet := range map[string]string{"finding-1": "side", "finding-2": "top", "finding-3": "top"} {
		if at[id] != sheet {
			t.Errorf("%s is marked on %q, want %q", id, at[id], sheet)
		}
	}
	text := allText(sheets)
	if !strings.Contains(text["side"], "8.80 (10 min.)") || !strings.Contains(text["top"], "28.56 (28 min.)") {
		t.Error("measured and needed values do not stand beside the marks")
	}
}

// Main dimensions, worked out from the fixture: wheelbase 220; spacing 220/√2 = 155.56; tip
// gap 155.56 − 127 = 28.56. The base reaches 123 along the diagonals and is 14 wide at the
// tips, so it is 2·(123 + 7)/√2 = 183.85 long and wide. From the base's underside to the
// top of the antenna's rod, 80 + 3, it is 83 high.
func TestMainDimensions(t *testing.T) {
	sheets, err := render.Sheets(newCraft().asm, nil, render.Options{Paper: render.A4})
	if err != nil {
		t.Fatal(err)
	}
	text := allText(sheets)
	for _, s := range []string{"Ø220 wheelbase", "155.56 rotor spacing", "28.56 tip gap", "Ø127 prop", "183.85 base", "83 overall", "nose"} {
		if !strings.Contains(text["top"], s+"\n") {
			t.Errorf("the plan lacks %q", s)
		}
	}
	// The heights of the levels, from the figures of the fixture.
	for _, s := range []string{"0", "+5.00", "+10.00", "+11.60", "+16.60", "+18.20", "+24.50", "+30.00", "+32.00", "+34.00", "+72.00", "+80.00"} {
		if !strings.Contains(text["side"], s+"\n") {
			t.Errorf("the ladder lacks the height %s", s)
		}
	}
}

func TestCautionsStandWhereTheyApply(t *testing.T) {
	const props, pack, carbon = "take the propellers off", "lithium packs burn", "carbon dust"
	text := func(c *craft) map[string]string {
		sheets, err := render.Sheets(c.asm, nil, render.Options{Paper: render.A3})
		if err != nil {
			t.Fatal(err)
		}
		return allText(sheets)
	}
	full := text(newCraft())
	if !strings.Contains(full["top"], props) || !strings.Contains(full["top"], carbon) || !strings.Contains(full["side"], pack) {
		t.Error("cautions for props, carbon and packs are not all on their sheets")
	}
	if !strings.Contains(full["top"]+full["side"]+full["list"], "local codes") {
		t.Error("no sheet says that local codes decide flight limits")
	}
	bare := newCraft()
	bare.asm.Packs, bare.asm.Rotors = nil, nil
	for _, p := range bare.asm.Plates {
		p.Material = nil
	}
	got := text(bare)
	if all := got["top"] + got["side"] + got["list"]; strings.Contains(all, props) || strings.Contains(all, pack) || strings.Contains(all, carbon) {
		t.Error("cautions stand on a craft without props, packs and carbon")
	}
}

// A clean build shows its smallest margins instead of findings.
func TestCleanBuildShowsMargins(t *testing.T) {
	ok := layout.Finding{Rule: "prop-tip-gap", Verdict: layout.OK, HasMeasure: true, Measured: 28.56, Needed: 3, Margin: 25.56, Worst: 25.1, Subjects: []string{"rotors.front-left.prop"}}
	less := ok
	less.Measured, less.Margin, less.Worst = 8, 5, 4.5
	sheets, err := render.Sheets(newCraft().asm, []layout.Outcome{{Rule: "prop-tip-gap", Status: layout.Judged, Findings: []layout.Finding{ok, less}}}, render.Options{Paper: render.A4})
	if err != nil {
		t.Fatal(err)
	}
	all := ""
	for _, s := range allText(sheets) {
		all += s
	}
	if !strings.Contains(all, "smallest margins") || !strings.Contains(all, "+5.00\n") || !strings.Contains(all, "+4.50\n") {
		t.Error("the smallest margin of the rule is not listed")
	}
	if strings.Contains(all, "+25.56") {
		t.Error("a larger margin of the same rule is listed too")
	}
}

// Every row of the parts list has one balloon in the views of the whole craft together, but the
// wires, which have sheets of their own; the detail of the body repeats those that it shows.
func TestBalloons(t *testing.T) {
	for _, c := range cases(t) {
		sheets, err := render.Sheets(c.asm, c.outcomes, render.Options{Paper: render.A3})
		if err != nil {
			t.Fatal(err)
		}
		seen := map[int]int{}
		rows, wires := 0, 0
		for _, comp := range c.asm.Components {
			if comp.Kind == "wires" {
				wires = 1
			}
		}
		for _, s := range sheets {
			if s.Name == "body" {
				continue
			}
			for _, it := range s.List.Items {
				switch v := it.(type) {
				case render.Balloon:
					seen[v.No]++
				case render.Text:
					if n, err := strconv.Atoi(v.S); err == nil && v.ID == "parts" && v.Align == render.Middle {
						rows = max(rows, n)
					}
				}
			}
		}
		for no := 1; no <= rows-wires; no++ { // their row is the last
			if seen[no] != 1 {
				t.Errorf("%s: row %d of %d has %d balloons", c.name, no, rows, seen[no])
			}
		}
		if rows == 0 {
			t.Errorf("%s: no parts list", c.name)
		}
	}
}

func TestDumpNamesEveryItem(t *testing.T) {
	sheets, err := render.Sheets(newCraft().asm, faults(), render.Options{Paper: render.A4})
	if err != nil {
		t.Fatal(err)
	}
	d := sheets[0].List.Dump()
	if got, want := strings.Count(d, "\n"), len(sheets[0].List.Items)+1; got != want {
		t.Errorf("%d lines for %d items", got, want-1)
	}
	for _, s := range []string{"sheet 210 x 297\n", "tight finding-2 dim ", `"28.56 (28 min.)"`, "sweep top.rotors.front-left.prop circle "} {
		if !strings.Contains(d, s) {
			t.Errorf("the dump lacks %q", s)
		}
	}
}

// The drawings of the hand-made craft, and its wiring sheets when it is wired, compared token by token with numbers equal within
// 0.0015 mm.
func TestGolden(t *testing.T) {
	sheets, err := render.Sheets(newCraft().asm, faults(), render.Options{Paper: render.A4, Date: "2026-01-31"})
	if err != nil {
		t.Fatal(err)
	}
	wired, err := render.Sheets(newWired().asm, wireFaults(), render.Options{Paper: render.A4, Date: "2026-01-31"})
	if err != nil {
		t.Fatal(err)
	}
	made := map[string]bool{}
	for i, s := range append(sheets, wired...) {
		name := "bench-five-" + s.Name + ".svg"
		if i >= len(sheets) {
			if name = "bench-wired-" + s.Name + ".svg"; !strings.Contains(s.Name, "wiring") && s.Name != "schematic" {
				continue // the other sheets are those of the craft without wires
			}
		}
		made[name] = true
		got, err := s.SVG()
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join("testdata", name)
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatalf("%v (run with -update, then look at the drawing)", err)
		}
		if diff := compare(got, want); diff != "" {
			t.Errorf("%s: %s (run with -update, then look at the drawing)", name, diff)
		}
	}
	files, err := filepath.Glob("testdata/*.svg")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !made[filepath.Base(f)] {
			t.Errorf("%s: no test makes this drawing", f)
		}
	}
}

var numberRE = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

// compare returns the first difference between two drawings, "" for none.
func compare(a, b []byte) string {
	da, db := xml.NewDecoder(bytes.NewReader(a)), xml.NewDecoder(bytes.NewReader(b))
	for i := 1; ; i++ {
		ta, ea := da.Token()
		tb, eb := db.Token()
		if errors.Is(ea, io.EOF) && errors.Is(eb, io.EOF) {
			return ""
		}
		if ea != nil || eb != nil {
			return fmt.Sprintf("token %d: %v against %v", i, ea, eb)
		}
		sa, sb := fmt.Sprintf("%s", ta), fmt.Sprintf("%s", tb)
		if numberRE.ReplaceAllString(sa, "#") != numberRE.ReplaceAllString(sb, "#") {
			return fmt.Sprintf("token %d: %s against %s", i, sa, sb)
		}
		na, nb := numberRE.FindAllString(sa, -1), numberRE.FindAllString(sb, -1)
		for k := range na {
			x, _ := strconv.ParseFloat(na[k], 64)
			y, _ := strconv.ParseFloat(nb[k], 64)
			if math.Abs(x-y) > 0.0015 {
				return fmt.Sprintf("token %d: %s against %s", i, sa, sb)
			}
		}
	}
}
