package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// A largeFile is an honest file of about 2 MB: one plate.
type largeFile struct {
	name, text string
	holes      int
	area       float64 // mm²
	within     float64
}

// largeFiles are rims of 200 mm as one polyline, as loose lines, as a path of lines and one of
// cubics, and a plate full of holes drawn as splines.
func largeFiles() []largeFile {
	// A wavy rim of n points; ½∮r²dφ of 100 + 3 sin is π(100² + 4.5).
	rim := func(n int, each func(x, y float64)) {
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			r := 100 + 3*math.Sin(40*a)
			each(r*math.Cos(a), r*math.Sin(a))
		}
	}
	const wavy = math.Pi * (10_000 + 4.5)
	var poly []float64
	rim(40_000, func(x, y float64) { poly = append(poly, x, y, 0) })
	var lines, path, cubics, splines strings.Builder
	x0, y0 := 100.0, 0.0
	rim(17_000, func(x, y float64) {
		lines.WriteString(line(x0, y0, x, y))
		x0, y0 = x, y
	})
	lines.WriteString(line(x0, y0, 100, 0))
	path.WriteString(`<path d="`)
	rim(110_000, func(x, y float64) {
		if path.Len() < 12 {
			fmt.Fprintf(&path, "M%.6f %.6f", x, y)
		} else {
			fmt.Fprintf(&path, "L%.6f %.6f", x, y)
		}
	})
	path.WriteString(`Z"/>`)
	// A circle of 100 as cubics whose control points lie on the tangents, a third of the arc on.
	const n = 39_000
	step := 2 * math.Pi / n
	on := func(a, ahead float64) (x, y float64) {
		sn, cs := math.Sincos(a)
		return 100*cs - 100*ahead*sn, 100*sn + 100*ahead*cs
	}
	cubics.WriteString(`<path d="M100 0`)
	for i := 1; i <= n; i++ {
		x1, y1 := on(float64(i-1)*step, step/3)
		x2, y2 := on(float64(i)*step, -step/3)
		x3, y3 := on(float64(i%n)*step, 0)
		fmt.Fprintf(&cubics, "C%.6f %.6f %.6f %.6f %.6f %.6f", x1, y1, x2, y2, x3, y3)
	}
	cubics.WriteString(`Z"/>`)
	holes := ""
	for i := range 1000 {
		holes += circle(float64(i%40)*3-60, float64(i/40)*3-36, 2)
	}
	splines.WriteString(lw(1, -5, -5, 0, 405, -5, 0, 405, 260, 0, -5, 260, 0))
	for i := range 4000 {
		splines.WriteString(circleSpline(float64(i%80)*5, float64(i/80)*5, 2, 0))
	}
	return []largeFile{
		{"polyline.dxf", dxf(lw(1, poly...), holes), 1000, wavy - 1000*math.Pi, 2},
		{"lines.dxf", dxf(lines.String(), holes), 1000, wavy - 1000*math.Pi, 2},
		{"path.svg", svgOf(path.String()), 0, wavy, 2},
		{"cubics.svg", svgOf(cubics.String()), 0, math.Pi * 10_000, 0.1},
		// Each of them bulges by up to 0.03 % of its radius, so that its area is up to 0.06 % more.
		{"splines.dxf", dxf(splines.String()), 4000, 410*265 - 4000*4*math.Pi, 30},
	}
}

// An honest file of 2 MB is read in well under a second of work; the limit here leaves room
// for a machine that is busy with other things.
func TestLargeFiles(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	for _, c := range largeFiles() {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			d, _ := mustRead(t, c.name, c.text, Options{})
			took := time.Since(start)
			t.Logf("%d bytes in %v", len(c.text), took)
			if len(d.Parts) != 1 || len(d.Parts[0].Holes) != c.holes {
				t.Fatalf("%v", d.Parts[:min(3, len(d.Parts))])
			}
			if a := d.Parts[0].Area(); math.Abs(a-c.area) > c.within {
				t.Errorf("area %.3f, want %.3f", a, c.area)
			}
			if took > 10*time.Second {
				t.Errorf("%d bytes took %v", len(c.text), took)
			}
		})
	}
}

// BenchmarkRead reads the large files.
func BenchmarkRead(b *testing.B) {
	for _, c := range largeFiles() {
		b.Run(c.name, func(b *testing.B) {
			data := []byte(c.text)
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := Read(c.name, data, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
