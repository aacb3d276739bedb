package geom_test

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
)

// bulges that a byte of fuzz input chooses from: lines, common sweeps, extremes.
var fuzzBulges = [16]float64{0, 0, 0, 1, -1, 0.5, -0.5, math.Sqrt2 - 1, 1 - math.Sqrt2, 1e-3, -1e-6, 1e-9, 3, -20, 1e5, 0.1}

// fuzzRegion reads a region: a byte with the number of vertices and holes, then three
// bytes a vertex for x, y on a grid of a quarter and a bulge; a bulge byte above 240 is
// followed by two raw floats for x and y.
func fuzzRegion(data *[]byte) geom.Region {
	next := func() byte {
		if len(*data) == 0 {
			return 0
		}
		b := (*data)[0]
		*data = (*data)[1:]
		return b
	}
	raw := func() float64 {
		if len(*data) < 8 {
			return 0
		}
		v := math.Float64frombits(binary.LittleEndian.Uint64(*data))
		*data = (*data)[8:]
		return v
	}
	head := next()
	var loops []geom.Loop
	for range 1 + head>>6 {
		var v []geom.Vertex
		for range head & 15 {
			x, y, b := float64(int8(next()))/4, float64(int8(next()))/4, next()
			if b > 240 {
				x, y = raw(), raw()
			}
			v = append(v, geom.Vertex{P: r2.Point{X: x, Y: y}, Bulge: fuzzBulges[b%16]})
		}
		if l, err := geom.NewLoop(v); err == nil {
			loops = append(loops, l)
		}
	}
	if len(loops) == 0 {
		return geom.Region{}
	}
	return geom.RegionOf(loops[0], loops[1:]...)
}

func finite(v ...float64) bool {
	for _, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// FuzzDistance: whatever the loops, no query panics or returns NaN, distances are the same
// both ways and agree with the predicates; for valid regions gaps keep their promise.
func FuzzDistance(f *testing.F) {
	square := []byte{4, 0, 0, 0, 40, 0, 0, 40, 40, 0, 0, 40, 0}
	disk := []byte{2, 20, 0, 3, 236, 0, 3}
	lens := []byte{2, 0, 0, 5, 40, 0, 10}
	huge := append([]byte{3, 0, 0, 255}, make([]byte, 16)...)
	f.Add(append(append([]byte{}, square...), square...), 0.0, 0.0)
	f.Add(append(append([]byte{}, square...), disk...), 15.0, 2.5)
	f.Add(append(append([]byte{}, disk...), disk...), 10.0, 0.0)
	f.Add(append(append([]byte{}, lens...), square...), -3.0, 4.0)
	f.Add(append(append([]byte{}, huge...), lens...), 1e6, -1e6)
	f.Add([]byte{68, 0, 0, 0, 40, 0, 0, 40, 40, 0, 0, 40, 0, 8, 8, 0, 32, 8, 0, 32, 32, 0, 8, 32, 0, 2, 4, 4, 3, 8, 4, 3}, 2.0, 2.0)
	f.Fuzz(func(t *testing.T, data []byte, sx, sy float64) {
		if len(data) > 400 {
			return
		}
		a, b := fuzzRegion(&data), fuzzRegion(&data)
		b = b.Transform(geom.Pose2{Shift: r2.Point{X: sx, Y: sy}})
		va, vb := a.Validate(), b.Validate()
		g, h := geom.Distance(a, b), geom.Distance(b, a)
		in := geom.Inside(a, b)
		p := geom.DistancePoint(a, r2.Point{X: sx, Y: sy})
		if a.IsEmpty() || b.IsEmpty() {
			if !math.IsInf(g.Dist, 1) || geom.Intersects(a, b) || geom.IsCloser(a, b, 1e9) {
				t.Fatalf("gap %+v with nothing", g)
			}
			return
		}
		for _, x := range []geom.Gap{g, h, in} {
			if !finite(x.Dist, x.A.X, x.A.Y, x.B.X, x.B.Y, x.Push.X, x.Push.Y) {
				t.Fatalf("gap %+v is not finite", x)
			}
		}
		if math.IsNaN(p.Dist) || math.IsNaN(p.A.X+p.A.Y+p.Push.X+p.Push.Y) {
			t.Fatalf("point gap %+v", p)
		}
		m := a.Moments()
		if !finite(m.Area, m.Centroid.X, m.Centroid.Y, m.XX, m.YY, m.XY) {
			t.Fatalf("moments %+v", m)
		}
		// Tolerances grow with the coordinates: 2e-9 is the rounding at 1e7 mm.
		size := 1.0
		for _, r := range []geom.Region{a, b} {
			q := r.Bound()
			size = math.Max(size, math.Max(math.Max(-q.Lo.X, -q.Lo.Y), math.Max(q.Hi.X, q.Hi.Y)))
		}
		tol := 2e-9 + 1e-12*size
		if d := math.Abs(math.Max(0, g.Dist) - math.Max(0, h.Dist)); d > tol && va == nil && vb == nil {
			t.Fatalf("distance %.15g one way, %.15g the other", g.Dist, h.Dist)
		}
		if hit := geom.Intersects(a, b); hit != (g.Dist <= 0) {
			t.Fatalf("intersects %v at %g", hit, g.Dist)
		}
		if g.Dist > 0 && (!geom.IsCloser(a, b, g.Dist*1.001+tol) || geom.IsCloser(a, b, g.Dist*0.999-tol)) {
			t.Fatalf("IsCloser does not turn at %g", g.Dist)
		}
		if va == nil && vb == nil && size < 1e4 {
			checkGap(t, a, b, g)
		}
	})
}
