package rules

import (
	"testing"

	"github.com/golang/geo/r2"

	"dryfit/layout"
	"dryfit/shapes"
)

func TestCompassDistance(t *testing.T) { testRule(t, compassDistance, "ok tight fail nothing") }

// TestCompassFieldByHand: a pack lead of 8 m with its middle under the compass, at a depth of r.
func TestCompassFieldByHand(t *testing.T) {
	bed := func(r, amps float64, loose bool) *bench {
		b := newBench()
		puck := b.part("puck", &shapes.Part{Kind: shapes.GPS, Compass: true})
		puck.Mass.Z = r
		c := b.join(layout.PackCircuit, b.pack(4, 80), b.load("board", amps), supplyPair(), copper(5, 5), path(r2.Point{X: -4000}, r2.Point{X: 4000}, 0), 8000)
		c.Spec.Loose = loose
		c.OD = &shapes.Dim{Name: "bundle", Value: 10}
		return b
	}
	// Tied, 5 apart, 40 A: 200·40·5/(100² + 6.25) = 3.9975 µT at 100 mm: 12.0025 under 16, just under 4. The bundle of 10 is 95
	// away: 45 over 50. What a board draws it draws hovering too.
	bed(100, 40, false).told(t, compassDistance, "ok 12.00, ok 45.00")
	// At 50: 40000/2506.25 = 15.960: 0.04 under 16. 45: -5.
	bed(50, 40, false).told(t, compassDistance, "fail -5.00, tight 0.04")
	// Loose, 10 apart, at 100: 80000/10025 = 7.980.
	bed(100, 40, true).told(t, compassDistance, "tight 8.02, ok 45.00")
	// Twice the current at 50: 31.92: -15.92.
	bed(50, 80, false).told(t, compassDistance, "fail -15.92, fail -5.00")
	// Far off both: 40000/(200² + 6.25) = 0.99984: 15.0; 195 - 50.
	bed(200, 40, false).told(t, compassDistance, "ok 15.00, ok 145.00")
	// No way: nothing to add up.
	b := bed(100, 40, false)
	b.asm.Circuits[0].Route = nil
	b.told(t, compassDistance, "unknown")
}

// TestCompassOverScrews: a compass at a height of 24, 7 beside a steel screw of 10. One that lies level at 0 is √(7² + 24²) = 25 away,
// of 30: -5. One with its head at 14 and its end down is √(7² + 10²) = 12.207 away: -17.793; with its end up it reaches the
// compass's height: 7: -23.
func TestCompassOverScrews(t *testing.T) {
	bed := func(j layout.Joint) *bench {
		b := newBench()
		puck := b.part("puck", &shapes.Part{Kind: shapes.GPS, Compass: true})
		puck.Mass.Z = 24
		j.Owner, j.At = puck, r2.Point{X: 7}
		j.Fastening = &layout.Fastening{Material: "steel", Length: &shapes.Dim{Name: "screw", Value: 10, Unit: shapes.MM}}
		b.asm.Joints = append(b.asm.Joints, &j)
		return b
	}
	bed(layout.Joint{Level: true}).told(t, compassDistance, "fail -5.00")
	bed(layout.Joint{Seat: layout.Fixed(14)}).told(t, compassDistance, "fail -17.79")
	bed(layout.Joint{Seat: layout.Fixed(14), Up: true}).told(t, compassDistance, "fail -23.00")
}
