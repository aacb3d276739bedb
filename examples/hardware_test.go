package examples

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"dryfit/layout"
	"dryfit/render/report"
)

// TestHardwareAddsUp counts the screws of the examples by hand and wants as many joints,
// and as many pieces in the list.
func TestHardwareAddsUp(t *testing.T) {
	counted := map[string]map[layout.JointKind]int{
		// Four motors of four, props on two screws each, four posts, four bolts, a camera of two.
		"shoreline": {layout.MotorScrew: 16, layout.PropScrew: 8, layout.PostScrew: 8, layout.StackBolt: 4, layout.CameraScrew: 2},
		// Four motors, four props, four screws at either end of the spacers; the camera is clipped.
		"attic": {layout.MotorScrew: 16, layout.PropScrew: 8, layout.SpacerScrew: 8},
		// Six motors with a nut each; four legs held at one end, four posts and two of the mast at both; two bolts an arm.
		"orchard": {layout.MotorScrew: 24, layout.PropNut: 6, layout.PostScrew: 4 + 8 + 4, layout.StackBolt: 4, layout.PlateBolt: 12},
		// Four motors of four, props on two screws each, four posts, four bolts with flat heads, a camera of two.
		"quarry": {layout.MotorScrew: 16, layout.PropScrew: 8, layout.PostScrew: 8, layout.StackBolt: 4, layout.CameraScrew: 2},
		// Four motors with a nut each, four posts, four bolts, a camera of two.
		"riverbank": {layout.MotorScrew: 16, layout.PropNut: 4, layout.PostScrew: 8, layout.StackBolt: 4, layout.CameraScrew: 2},
		// As riverbank.
		"riverbank-draft": {layout.MotorScrew: 16, layout.PropNut: 4, layout.PostScrew: 8, layout.StackBolt: 4, layout.CameraScrew: 2},
		// As shoreline.
		"shoreline-draft": {layout.MotorScrew: 16, layout.PropScrew: 8, layout.PostScrew: 8, layout.StackBolt: 4, layout.CameraScrew: 2},
	}
	for _, name := range all() {
		want := counted[name]
		asm := load(t, path(name), text(t, name))
		got := map[layout.JointKind]int{}
		all := 0
		for _, j := range asm.Joints {
			got[j.Kind]++
			if j.Length != nil {
				all++
			}
		}
		for k, n := range want {
			if got[k] != n {
				t.Errorf("%s: %d of %s, want %d", name, got[k], k, n)
			}
			delete(got, k)
		}
		for k, n := range got {
			t.Errorf("%s: %d of %s, want none", name, n, k)
		}
		screws, mass := 0, 0.0
		for _, l := range asm.Hardware() {
			if l.Kind == layout.Screws || l.Kind == layout.Studs {
				screws += l.Count
			}
			if !l.Sure && name != draft {
				t.Errorf("%s: %s is not sure to be right", name, l.Label())
			}
			mass += l.MassEach * float64(l.Count)
		}
		if screws != all {
			t.Errorf("%s: the list has %d screws, the joints %d", name, screws, all)
		}
		// Without them the craft is so much lighter at take-off.
		with, _ := asm.TakeOffMass()
		for _, c := range asm.Components {
			switch c.Kind {
			case "screws", "post", "spacer", "fastener":
				c.Mass = layout.Mass{}
			}
		}
		without, _ := asm.TakeOffMass()
		if d := with.Nominal() - without.Nominal(); math.Abs(d-mass) > 1e-6 || mass <= 0 {
			t.Errorf("%s: the list weighs %.3f g, what it lists %.3f g of the take-off mass", name, mass, d)
		}
	}
}

// TestHardwareIsTheSameEverywhere: the text, the CSV, the JSON and the table on the sheets
// of every example have the same lines with the same counts, keys, locks and torques.
func TestHardwareIsTheSameEverywhere(t *testing.T) {
	for _, name := range all() {
		asm := load(t, path(name), text(t, name))
		lines := asm.Hardware()
		var plain, sheet bytes.Buffer
		if err := report.HardwareText(&plain, asm); err != nil {
			t.Fatal(err)
		}
		if err := report.HardwareCSV(&sheet, asm); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&sheet).ReadAll()
		if err != nil || len(rows) != len(lines)+1 {
			t.Fatalf("%s: %d rows for %d lines: %v", name, len(rows), len(lines), err)
		}
		column := map[string]int{}
		for i, head := range rows[0] {
			column[head] = i
		}
		var obj struct {
			Hardware []struct {
				Count, Spares int
				Key, Lock     string
				Uses          []struct{ Count int }
			}
			Joints []struct{ ID string }
		}
		data, err := report.HardwareJSON(asm)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, &obj); err != nil {
			t.Fatal(err)
		}
		if len(obj.Hardware) != len(lines) || len(obj.Joints) != len(asm.Joints) {
			t.Fatalf("%s: %d lines and %d joints in the JSON, want %d and %d", name, len(obj.Hardware), len(obj.Joints), len(lines), len(asm.Joints))
		}
		var drawn strings.Builder
		for file, svg := range output(t, asm, nil) {
			if strings.Contains(file, "-list") {
				drawn.Write(svg)
			}
		}
		for i := range lines {
			l := &lines[i]
			row := rows[i+1]
			if row[column["count"]] != strconv.Itoa(l.Count) || row[column["spares"]] != strconv.Itoa(l.Spares) || row[column["key"]] != l.Key || row[column["lock"]] != l.Lock {
				t.Errorf("%s: CSV %q, want %+v", name, row, l)
			}
			j := obj.Hardware[i]
			uses := 0
			for _, u := range j.Uses {
				uses += u.Count
			}
			if j.Count != l.Count || uses != l.Count || j.Spares != l.Spares || j.Key != l.Key || j.Lock != l.Lock {
				t.Errorf("%s: JSON %+v, want %+v", name, j, l)
			}
			if !strings.Contains(plain.String(), "\n"+strconv.Itoa(l.Count)+" ") || !strings.Contains(plain.String(), "  "+l.Label()) {
				t.Errorf("%s: the text lacks %d %s", name, l.Count, l.Label())
			}
			if !regexp.MustCompile(">" + regexp.QuoteMeta(l.Label()) + `(<| \(| !)`).MatchString(drawn.String()) {
				t.Errorf("%s: no sheet lists %s", name, l.Label())
			}
			// A tenth, at least two.
			if want := max(2, (l.Count+9)/10); l.Spares != want {
				t.Errorf("%s: %d spares of %d, want %d", name, l.Spares, l.Count, want)
			}
			metal := map[string]bool{"steel": true, "aluminium": true, "brass": true, "titanium": true}
			if strings.HasPrefix(l.Lock, "threadlocker") && !metal[l.Material] {
				t.Errorf("%s: threadlocker on %s of %s", name, l.Label(), l.Material)
			}
			if l.Kind == layout.Screws && (l.Key == "" || l.Lock == "" || l.Torque <= 0) {
				t.Errorf("%s: %s has no key, lock or torque: %+v", name, l.Label(), l)
			}
		}
	}
}
