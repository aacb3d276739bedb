package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

func TestZeroLoopIsEmpty(t *testing.T) {
	var l geom.Loop
	if !l.IsEmpty() || l.Len() != 0 || l.Area() != 0 || l.Perimeter() != 0 || l.IsConvex() || l.Contains(pt(0, 0)) {
		t.Error("the zero loop is not empty")
	}
	if !l.Bound().IsEmpty() || l.Vertices() != nil || len(l.Flatten(1)) != 0 || l.Validate() != nil {
		t.Error("the zero loop has a boundary")
	}
	if _, d := l.Nearest(pt(0, 0)); !math.IsInf(d, 1) {
		t.Errorf("the zero loop is at %g", d)
	}
	if l.Reverse() != l || l.CCW() != l || l.Transform(geom.Pose2{Turn: 1}) != l || l.Vertex(3) != (geom.Vertex{}) || l.Seg(-1) != (geom.Seg{}) {
		t.Error("the zero loop turns into something")
	}
}

func TestLoopIndexIsCyclic(t *testing.T) {
	l := mustLoop(t, 0, 0, 0, 4, 0, 0.5, 4, 4, 0)
	if l.Vertex(-1).P != pt(4, 4) || l.Vertex(4).P != pt(4, 0) || l.Seg(2).B != pt(0, 0) || l.Seg(-2).Bulge != 0.5 {
		t.Errorf("vertices %v", l.Vertices())
	}
}

// TestNewLoopDropsNothings: doubled vertices vanish, the bulge of the piece that goes on
// from them stays.
func TestNewLoopDropsNothings(t *testing.T) {
	l := mustLoop(t, 0, 0, 0, 4, 0, 0.3, 4, 0, 0.5, 4, 4, 0, 0, 4, 0, 0, 0, 0.25)
	want := []geom.Vertex{{P: pt(0, 0)}, {P: pt(4, 0), Bulge: 0.5}, {P: pt(4, 4)}, {P: pt(0, 4)}}
	got := l.Vertices()
	if len(got) != len(want) {
		t.Fatalf("got %v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("vertex %d: %v, want %v", i, got[i], want[i])
		}
	}
}

func TestReverseAndMirror(t *testing.T) {
	l := mustLoop(t, 0, 0, 0, 4, 0, 0.5, 4, 4, -0.25, 0, 4, 0)
	r := l.Reverse()
	near(t, "reversed area", r.Area(), -l.Area(), 1e-12)
	near(t, "perimeter", r.Perimeter(), l.Perimeter(), 1e-12)
	if back := r.Reverse(); back.Vertex(0) != l.Vertex(0) || back.Vertex(2) != l.Vertex(2) {
		t.Errorf("twice reversed %v, was %v", back.Vertices(), l.Vertices())
	}
	m := l.Transform(geom.Pose2{Mirror: true})
	near(t, "mirrored area", m.Area(), -l.Area(), 1e-12)
	near(t, "mirrored centroid y", m.Centroid().Y, -l.Centroid().Y, 1e-12)
	if l.CCW() != l || r.CCW().Area() != l.Area() {
		t.Error("CCW does not turn the right ones")
	}
	if far := l.Transform(geom.Pose2{Shift: pt(2e7, 0)}); !far.IsEmpty() {
		t.Errorf("moved out of range: %v", far)
	}
}

// TestIsConvexByHand: what turns left all the way round, once.
func TestIsConvexByHand(t *testing.T) {
	star := make([]float64, 0, 15) // five corners, joined two apart: turns left, but twice round
	for i := range 5 {
		s, c := math.Sincos(float64(i) * 4 * math.Pi / 5)
		star = append(star, c, s, 0)
	}
	tests := []struct {
		name string
		l    geom.Loop
		want bool
	}{
		{"square", geom.Rectangle(pt(0, 0), 2, 2), true},
		{"square, clockwise", geom.Rectangle(pt(0, 0), 2, 2).Reverse(), true},
		{"square with a vertex amid a side", mustLoop(t, 0, 0, 0, 1, 0, 0, 2, 0, 0, 2, 2, 0, 0, 2, 0), true},
		{"rounded rectangle", geom.RoundedRectangle(pt(9, 9), 3, 2, 0.5), true},
		{"capsule", geom.Capsule(pt(0, 0), pt(3, 4), 1), true},
		{"lens", mustLoop(t, 0, 0, 0.5, 4, 0, 0.5), true},
		{"three quarter disk and chord", mustLoop(t, 1, 0, math.Tan(3*math.Pi/8), 0, -1, 0), true},
		{"crescent", mustLoop(t, 0, 0, 0.5, 4, 0, -0.2), false},
		{"dented square", mustLoop(t, 0, 0, 0, 4, 0, 0, 4, 4, 0, 2, 3, 0, 0, 4, 0), false},
		{"star polygon", mustLoop(t, star...), false},
		{"spike back and forth", mustLoop(t, 0, 0, 0, 4, 0, 0, 2, 0, 0), false},
	}
	for _, tt := range tests {
		if got := tt.l.IsConvex(); got != tt.want {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
}

// TestFlattenKeepsItsPromise: no chord is farther from its arc than asked, and points lie
// on the loop.
func TestFlattenKeepsItsPromise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := genLoop().Draw(t, "loop")
		tol := rapid.SampledFrom([]float64{1, 0.1, 0.01, 1e-3, 0, -1, math.NaN()}).Draw(t, "tol")
		pts := l.Flatten(tol)
		if !(tol > 0) {
			tol = 0.01 // the stated default
		}
		for i, p := range pts {
			if _, d := l.Nearest(p); d > 1e-9 {
				t.Fatalf("point %v lies %g off", p, d)
			}
			q := pts[(i+1)%len(pts)]
			if _, d := l.Nearest(p.Add(q).Mul(0.5)); d > tol*(1+1e-9)+1e-9 {
				t.Fatalf("chord %v-%v lies %g off, tolerance %g", p, q, d, tol)
			}
		}
	})
}

// TestNearestAgainstChords compares with the nearest point of a fine polygon.
func TestNearestAgainstChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := genLoop().Draw(t, "loop")
		p := genPoint(15).Draw(t, "p")
		n, d := l.Nearest(p)
		if math.Abs(dist(n, p)-d) > 1e-9 {
			t.Fatalf("nearest %v is at %g, not %g", n, dist(n, p), d)
		}
		pts := l.Flatten(1e-3)
		want := polyDistance([][]r2.Point{pts}, [][]r2.Point{{p, p.Add(pt(1e-9, 0))}})
		if polyContains([][]r2.Point{pts}, p) {
			want = math.Inf(1)
			for i := range pts {
				want = math.Min(want, sideDistance(pts[i], pts[(i+1)%len(pts)], p, p.Add(pt(1e-9, 0))))
			}
		}
		if math.Abs(d-want) > 1e-3+1e-8 {
			t.Fatalf("nearest at %g, by chords %g", d, want)
		}
	})
}
