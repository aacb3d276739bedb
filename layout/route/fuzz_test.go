package route_test

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/geom"
	"dryfit/layout/route"
)

// FuzzFindAll reads a space and bundles from bytes, with numbers of all sorts, and asks that nothing panics, that ways
// are either found or blocked, and that lengths are numbers no shorter than the straight line.
func FuzzFindAll(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{2, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 110, 120, 130})
	f.Add([]byte{1, 0, 0, 0, 0, 0, 0, 0, 255, 255, 255, 255, 0, 128, 128, 7, 7, 7, 7})
	f.Add([]byte("a plate, a post and a bundle that ends within it, again and again and again and again"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 400 {
			return
		}
		next := func() byte {
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			return b
		}
		num := func() float64 {
			switch b := next(); b {
			case 255:
				return math.NaN()
			case 254:
				return math.Inf(1)
			case 253:
				return 1e9
			case 252: // any bits
				var v [8]byte
				for i := range v {
					v[i] = next()
				}
				return math.Float64frombits(binary.LittleEndian.Uint64(v[:]))
			default:
				return float64(int(b)-126) / 4
			}
		}
		size := func() float64 { return math.Abs(num()) }
		s := &route.Space{Edge: num()}
		for range next() % 4 {
			sh := route.Sheet{ID: "s", Lo: num()}
			sh.Hi = sh.Lo + num()
			hole := geom.Circle(pt(num(), num()), size())
			sh.Plan = []geom.Region{{Outer: geom.Rectangle(pt(num(), num()), size(), size())}}
			if next()%2 == 0 {
				sh.Plan[0].Holes = []geom.Loop{hole}
			}
			sh.Holes = []route.Opening{{Name: "h", Loop: hole, Taken: num()}}
			s.Sheets = append(s.Sheets, sh)
		}
		for range next() % 6 {
			so := route.Solid{ID: "b", Owner: string(rune('a' + next()%3)), Lo: num(), Keep: num(), Level: next()%3 == 0, Forbidden: next()%5 == 0}
			so.Hi = so.Lo + num()
			so.Plan = []geom.Region{geom.RegionOf(geom.Rectangle(pt(num(), num()), size(), size()))}
			s.Solids = append(s.Solids, so)
		}
		var bs []route.Bundle
		for range next()%3 + 1 {
			end := func() route.End {
				return route.End{At: pt(num(), num()), Z: num(), Dir: pt(num(), num()), Owner: string(rune('a' + next()%4))}
			}
			b := route.Bundle{OD: size(), Bend: num(), From: end(), To: end()}
			switch next() % 4 {
			case 0:
				b.Via = []route.Stop{{Opening: "s.h"}}
			case 1:
				b.Via = []route.Stop{{At: pt(num(), num())}}
			}
			bs = append(bs, b)
		}
		ways := route.FindAll(s, bs)
		if len(ways) != len(bs) {
			t.Fatalf("%d ways of %d bundles", len(ways), len(bs))
		}
		for i, w := range ways {
			if w.Blocked != nil {
				continue
			}
			a, b := bs[i].From, bs[i].To
			straight := math.Hypot(norm(a.At.Sub(b.At)), a.Z-b.Z)
			if !(w.Length >= straight-1e-6*(1+straight)) || math.IsInf(w.Length, 0) {
				t.Fatalf("length %g of way %d, straight %g: %+v", w.Length, i, straight, w.Legs)
			}
		}
		route.Crossings(ways)
	})
}

func norm(p r2.Point) float64 { return math.Hypot(p.X, p.Y) }

// TestNothingToRun: what cannot be routed is blocked, and nothing panics.
func TestNothingToRun(t *testing.T) {
	nan := math.NaN()
	s := &route.Space{Sheets: []route.Sheet{plate("base", rect(-50, -50, 50, 50))}}
	ok := route.Bundle{OD: 2, From: route.End{At: pt(-5, 0), Z: 3}, To: route.End{At: pt(5, 0), Z: 3}}
	wantLength(t, route.Find(s, ok), 10, 1e-9)
	for name, b := range map[string]route.Bundle{
		"no thickness":  {OD: 0, From: ok.From, To: ok.To},
		"no number":     {OD: nan, From: ok.From, To: ok.To},
		"nowhere":       {OD: 2, From: route.End{At: pt(nan, 0), Z: 3}, To: ok.To},
		"no height":     {OD: 2, From: route.End{At: pt(0, 0), Z: nan}, To: ok.To},
		"no such place": {OD: 2, From: ok.From, To: ok.To, Via: []route.Stop{{Opening: "base.slot"}}},
		"via nowhere":   {OD: 2, From: ok.From, To: ok.To, Via: []route.Stop{{At: pt(nan, 0)}}},
		"bend":          {OD: 2, Bend: -1, From: ok.From, To: ok.To},
	} {
		if w := route.Find(s, b); w.Blocked == nil || len(w.Legs) > 0 {
			t.Errorf("%s: %+v", name, w)
		}
	}
	for name, s := range map[string]*route.Space{
		"no space": nil, "nothing in it": {}, "upside down": {Sheets: []route.Sheet{{ID: "base", Plan: s.Sheets[0].Plan, Lo: 2, Hi: 0}}},
	} {
		if w := route.Find(s, ok); w.Blocked == nil {
			t.Errorf("%s: %+v", name, w)
		}
	}
	if ways := route.FindAll(s, nil); len(ways) != 0 {
		t.Errorf("%d ways of no bundle", len(ways))
	}
	// An end within a body: it may only come out if that is its own.
	s.Solids = []route.Solid{{ID: "b", Owner: "board", Plan: []geom.Region{rect(-8, -3, 0, 3)}, Lo: 2, Hi: 9}}
	if w := route.Find(s, ok); w.Blocked == nil || w.Blocked.Of[0] != "b" {
		t.Errorf("out of another one's body: %+v", w)
	}
	ok.From.Owner, ok.From.Dir = "board", pt(1, 0)
	wantLength(t, route.Find(s, ok), 10, 1e-6)
	// From the same place to the same place there is nothing to run.
	s.Solids = nil
	ok.From = ok.To
	wantLength(t, route.Find(s, ok), 0, 1e-9)
}
