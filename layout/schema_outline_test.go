package layout_test

import (
	"fmt"
	"testing"
	"testing/fstest"

	"go.yaml.in/yaml/v4"

	"dryfit/layout"
)

// Schema and loader take and refuse the same values of every key of an outline from a file.
// The file is a box of 60 x 40 with a hole, which no value here makes unreadable.
func TestSchemaAgreesOnOutlineFiles(t *testing.T) {
	const file = `<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 80 60"><g id="cut" fill="none" stroke="black"><rect width="60" height="40"/><circle cx="20" cy="20" r="2"/></g></svg>`
	dir := fstest.MapFS{"plate.svg": {Data: []byte(file)}, "cut/plate.svg": {Data: []byte(file)}}
	schema := compiledSchema(t)
	odd := []string{"true", "-1", "x", "[1]", "{a: 1}", `""`, "1.5", "null"}
	for key, values := range map[string][]string{
		"file":     {"plate.svg", "cut/plate.svg", "./plate.svg", "../plate.svg", "/plate.svg", `'a\b.svg'`, ".", "..", "[plate.svg]", "{file: plate.svg}", `""`},
		"unit":     {"mm", "cm", "m", "in", "ft", "mil", "pt", "px", "inch", "MM", "km"},
		"scale":    {"1", "2", "0.5", "0.01", "10000", "10001", "0", "0.00001"},
		"dpi":      {"96", "90", "72", "10", "2400", "9", "2401"},
		"layer":    {"cut", "CUT"},
		"part":     {"1", "0", "10001"},
		"place":    {"box", "centroid", "hole", "file", "middle", "Box"},
		"straight": {"true", "false", "yes", "no"},
		"turn":     {"0", "90", "-90", "360", "-360", "361", "-361"},
		"sinks":    {"none", "{}", "{face: top}", "{face: bottom}", "{face: left}", "{angle: 90 deg}", "{angle: 90}", "{angle: wide}", "{depth: 1.5}", "{depth: 1.5 ±0.1}", "{depth: deep}", "{face: top, depth: 1 mm}", "{angle: 90 deg, depth: 1}", "{width: 3}", "some"},
		"other":    {"1"},
	} {
		if key != "file" && key != "layer" {
			values = append(values, odd...)
		}
		for _, v := range values {
			outline := fmt.Sprintf("{file: plate.svg, %s: %s}", key, v)
			if key == "file" {
				outline = "{file: " + v + "}"
			}
			text := "dryfit: 1\nname: agreement\nplates: {base: {material: carbon, thickness: 2, outline: " + outline + "}}\n"
			_, diags := layout.LoadBytes("build.yaml", []byte(text), dir, nil)
			var tree any
			if err := yaml.Unmarshal([]byte(text), &tree); err != nil {
				t.Fatalf("%s: %v", outline, err)
			}
			seen := schema.Validate(plain(tree))
			if (seen != nil) != diags.HasErrors() {
				t.Errorf("%s: the schema says %v, the loader %q", outline, seen, diags.String())
			}
		}
	}
}
