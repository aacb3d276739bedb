package cut

import (
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// bench is a plate of 40 x 20 with rounded corners, a slot and a sunk hole.
func bench() Drawing {
	return Drawing{Title: "bench plate", Notes: []string{"Finished size 40 x 20 mm.", "ø < 3 & µ"}, Shapes: []Shape{
		{Layer: Outline, Loop: geom.RoundedRectangle(r2.Point{X: 5, Y: 1}, 40, 20, 3)},
		{Layer: Holes, Loop: geom.Capsule(r2.Point{X: 0, Y: 5}, r2.Point{X: 10, Y: 5}, 3)},
		Circle(Holes, r2.Point{X: -8, Y: -2}, 3.2),
		Circle(Countersinks, r2.Point{X: -8, Y: -2}, 6),
	}}
}

// pairs splits a DXF text into its codes and values.
func pairs(t *testing.T, data []byte) (codes []int, values []string) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(data), "\r\n"), "\r\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines make no pairs", len(lines))
	}
	for i := 0; i < len(lines); i += 2 {
		c, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		codes, values = append(codes, c), append(values, lines[i+1])
	}
	return codes, values
}

// The outline has eight vertices, every second with a quarter turn of bulge tan(90°/4) =
// 0.414213562373095; the slot four with two half turns of bulge 1.
func TestDXFHoldsTrueArcs(t *testing.T) {
	d := bench()
	data, err := d.DXF()
	if err != nil {
		t.Fatal(err)
	}
	codes, values := pairs(t, data)
	count := map[string]int{}
	bulges := map[string]int{}
	layer := ""
	for i, c := range codes {
		switch c {
		case 0:
			count[values[i]]++
		case 8:
			layer = values[i]
		case 42:
			bulges[layer+" "+values[i]]++
		}
	}
	for what, want := range map[string]int{"POLYLINE": 2, "CIRCLE": 2, "VERTEX": 12, "SEQEND": 2, "LAYER": 3, "SECTION": 3, "ENDSEC": 3, "EOF": 1, "LWPOLYLINE": 0, "ARC": 0} {
		if count[what] != want {
			t.Errorf("%d %s, want %d", count[what], what, want)
		}
	}
	quarter := bulge(math.Tan(math.Pi / 8))
	if bulges["outline "+quarter] != 4 || bulges["holes 1"] != 2 || len(bulges) != 2 {
		t.Errorf("bulges %v, want four of %s and two of 1", bulges, quarter)
	}
	if values[0] != "bench plate" || values[2] != `\U+00F8 < 3 & \U+00B5` {
		t.Errorf("comments %q", values[:3])
	}
}

func TestSVGIsTrueSize(t *testing.T) {
	d := bench()
	data, err := d.SVG()
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	// The box runs from -15 to 25 and from -9 to 11; with 5 of margin the page is 50 x 30 and
	// begins at -20 and, y down, at -16.
	for _, want := range []string{`width="50mm" height="30mm" viewBox="-20 -16 50 30"`, `<g id="outline"`, `<g id="holes"`, `<g id="countersinks"`,
		`<circle cx="-8" cy="2" r="1.6"/>`, "Finished size 40 x 20 mm.", "ø &lt; 3 &amp; µ", `fill="none"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the file does not hold %s", want)
		}
	}
	for x := xml.NewDecoder(strings.NewReader(text)); ; {
		if _, err := x.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

func TestRefusals(t *testing.T) {
	for name, d := range map[string]Drawing{
		"nothing":         {Title: "x"},
		"a shape of none": {Title: "x", Shapes: []Shape{{Layer: Outline}}},
		"no such layer":   {Title: "x", Shapes: []Shape{Circle("paint", r2.Point{}, 2)}},
		"not finite":      {Title: "x", Shapes: []Shape{Circle(Holes, r2.Point{X: math.NaN()}, 2)}},
		"far away":        {Title: "x", Shapes: []Shape{Circle(Holes, r2.Point{X: 1e7}, 2)}},
	} {
		if _, err := d.DXF(); err == nil {
			t.Errorf("%s: DXF was written", name)
		}
		if _, err := d.SVG(); err == nil {
			t.Errorf("%s: SVG was written", name)
		}
	}
}

func TestNum(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -1e-12: "0", 1.5: "1.5", -2: "-2", 100: "100", 1.0 / 3: "0.333333333"} {
		if got := num(v); got != want {
			t.Errorf("num(%v) = %s, want %s", v, got, want)
		}
	}
}
