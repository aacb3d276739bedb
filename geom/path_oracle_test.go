package geom_test

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"pgregory.net/rapid"

	"dryfit/geom"
)

// The oracle shares nothing with the engine: obstacles are polygons and discs held here,
// distances are worked out edge by edge, and the path is sought in the full visibility graph
// of points on circles about all corners, with no thought of tangents.

// sides is the number of oracle points on a circle of the grown radius. They lie on it at
// 1/cos(π/sides) of the radius, so that the lines between neighbours touch the circle.
const sides = 48

// body is a polygon, or a disc of radius r about its only corner.
type body struct {
	corners []r2.Point
	r       float64
}

// pointGap is the distance from p to the line from a to b.
func pointGap(p, a, b r2.Point) float64 {
	d := b.Sub(a)
	t := 0.0
	if n := d.Dot(d); n > 0 {
		t = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/n))
	}
	return p.Sub(a.Add(d.Mul(t))).Norm()
}

// lineGap is the distance of two lines, 0 if they cross.
func lineGap(a, b, c, d r2.Point) float64 {
	s := func(p, q, r r2.Point) float64 { return q.Sub(p).Cross(r.Sub(p)) }
	if s(a, b, c)*s(a, b, d) < 0 && s(c, d, a)*s(c, d, b) < 0 {
		return 0
	}
	return math.Min(math.Min(pointGap(a, c, d), pointGap(b, c, d)), math.Min(pointGap(c, a, b), pointGap(d, a, b)))
}

// gap is the distance from the body to the line from p to q, 0 if it reaches inside.
func (o *body) gap(p, q r2.Point) float64 {
	n := len(o.corners)
	if n == 1 {
		return math.Max(0, pointGap(o.corners[0], p, q)-o.r)
	}
	best := math.Inf(1)
	in := false
	for i := range n {
		a, b := o.corners[i], o.corners[(i+1)%n]
		best = math.Min(best, lineGap(a, b, p, q))
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	if in {
		return 0
	}
	return best
}

// visibilityPath is the length of the shortest way over oracle points whose lines keep the
// clearance from every body; +Inf if there is none.
func visibilityPath(bodies []body, clearance float64, a, b r2.Point) float64 {
	free := func(p, q r2.Point) bool {
		for i := range bodies {
			if bodies[i].gap(p, q) < clearance-1e-9 {
				return false
			}
		}
		return true
	}
	nodes := []r2.Point{a, b}
	for _, o := range bodies {
		for _, c := range o.corners {
			R := (o.r + clearance) / math.Cos(math.Pi/sides)
			if R == 0 {
				nodes = append(nodes, c)
				continue
			}
			for k := range sides {
				s, t := math.Sincos(2 * math.Pi * float64(k) / sides)
				if p := c.Add(pt(R*t, R*s)); free(p, p) {
					nodes = append(nodes, p)
				}
			}
		}
	}
	dist := make([]float64, len(nodes))
	done := make([]bool, len(nodes))
	for i := range dist {
		dist[i] = math.Inf(1)
	}
	dist[0] = 0
	for {
		u := -1
		for i := range nodes {
			if !done[i] && dist[i] < math.Inf(1) && (u < 0 || dist[i]+nodes[i].Sub(b).Norm() < dist[u]+nodes[u].Sub(b).Norm()) {
				u = i
			}
		}
		if u < 0 || u == 1 {
			return dist[1]
		}
		done[u] = true
		for v := range nodes {
			if d := dist[u] + nodes[v].Sub(nodes[u]).Norm(); !done[v] && d < dist[v] && free(nodes[u], nodes[v]) {
				dist[v] = d
			}
		}
	}
}

// asRegions returns the bodies as regions.
func asRegions(t rapid.TB, bodies []body) []geom.Region {
	var rs []geom.Region
	for _, o := range bodies {
		if len(o.corners) == 1 {
			rs = append(rs, geom.RegionOf(geom.Circle(o.corners[0], o.r)))
			continue
		}
		v := make([]geom.Vertex, len(o.corners))
		for i, p := range o.corners {
			v[i].P = p
		}
		l, err := geom.NewLoop(v)
		if err != nil {
			t.Fatal(err)
		}
		rs = append(rs, geom.RegionOf(l))
	}
	return rs
}

// TestPathAgainstVisibilityGraph: a way of the oracle keeps the clearance, so the engine's
// path, which does too, is no longer. And the oracle's polygons lie within circles of
// 1/cos(π/sides) of the grown radii, so its way is no longer than the engine's path round
// bodies with clearances that give those radii.
func TestPathAgainstVisibilityGraph(t *testing.T) {
	found, bent := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		var bodies []body
		for range rapid.IntRange(1, 4).Draw(t, "bodies") {
			c := genPoint(16).Draw(t, "centre")
			if rapid.Bool().Draw(t, "disc") {
				bodies = append(bodies, body{corners: []r2.Point{c}, r: genNumber(1, 6).Draw(t, "r")})
				continue
			}
			n := rapid.IntRange(3, 6).Draw(t, "corners")
			turn := float64(genTurn(t))
			var o body
			for k := range n {
				s, x := math.Sincos(turn + 2*math.Pi*float64(k)/float64(n))
				r := genNumber(1, 8).Draw(t, "reach")
				o.corners = append(o.corners, c.Add(pt(r*x, r*s)))
			}
			bodies = append(bodies, o)
		}
		clearance := rapid.SampledFrom([]float64{0.02, 0.5, 2}).Draw(t, "clearance")
		a, b := genPoint(24).Draw(t, "a"), genPoint(24).Draw(t, "b")
		if rapid.Bool().Draw(t, "across") {
			a.X, b.X = -24, 24
		}
		for i := range bodies {
			if bodies[i].gap(a, a) <= clearance+0.1 {
				a = a.Add(pt(-60, 0))
			}
			if bodies[i].gap(b, b) <= clearance+0.1 {
				b = b.Add(pt(60, 0))
			}
		}
		rs := asRegions(t, bodies)
		f, err := geom.NewField(rs, clearance)
		if err != nil {
			t.Fatal(err)
		}
		got := length(t, f, a, b)
		want := visibilityPath(bodies, clearance, a, b)
		if got > want+1e-6 {
			t.Fatalf("length %.9g, the visibility graph has %.9g", got, want)
		}
		var wider []geom.Keep
		for i, o := range bodies {
			wider = append(wider, geom.Keep{Region: rs[i], Clearance: (o.r+clearance)/math.Cos(math.Pi/sides) - o.r})
		}
		g, err := geom.NewField(nil, 0, wider...)
		if err != nil {
			t.Fatal(err)
		}
		if g.Corners() == 0 {
			t.Fatal("no corners")
		}
		most := math.Inf(1)
		if p, err := g.Path(a, b, geom.PathOptions{Strict: true}); err == nil {
			most = p.Length
		}
		if want > most+1e-6 {
			t.Fatalf("the visibility graph has %.9g, round slightly larger bodies it is %.9g", want, most)
		}
		if !math.IsInf(want, 1) {
			found++
			if want > a.Sub(b).Norm()+1e-6 {
				bent++
			}
		}
	})
	t.Logf("%d paths, %d of them bent", found, bent)
	if found == 0 || bent == 0 {
		t.Errorf("%d paths, %d of them bent", found, bent)
	}
}
