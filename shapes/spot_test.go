package shapes

import "testing"

// TestCatalogueSpotChecks compares the catalogue with figures copied by hand from the
// trade's tables: value, lower end, upper end (0, 0: no spread is known), confidence.
func TestCatalogueSpotChecks(t *testing.T) {
	lib := builtin(t)
	part := func(name string) *Part {
		p, ok := lib.Find(name)
		if !ok {
			t.Fatalf("no part %s", name)
		}
		return p
	}
	check := func(d *Dim, value, lo, hi float64, conf string) {
		t.Helper()
		if d == nil || d.Missing {
			t.Errorf("missing, want %g", value)
			return
		}
		if !near(d.Value, value) || d.Conf != conf {
			t.Errorf("%s is %g (%s), want %g (%s)", d.Name, d.Value, d.Conf, value, conf)
		}
		if lo == 0 && hi == 0 {
			if d.HasTol {
				t.Errorf("%s has a tolerance", d.Name)
			}
			return
		}
		if !near(d.Value-d.Minus, lo) || !near(d.Value+d.Plus, hi) {
			t.Errorf("%s runs from %g to %g, want %g to %g", d.Name, d.Value-d.Minus, d.Value+d.Plus, lo, hi)
		}
	}
	m := part("motor-1507").Motor
	check(m.BellD, 19.3, 18.8, 20.2, "K")
	check(m.BodyH, 17.8, 17, 19, "K")
	check(m.OverallH, 23, 22, 31, "K")
	check(m.ThreadUsable, 2.5, 2, 3.2, "K")
	check(m.CentreHole, 5, 0, 0, "K")
	check(m.Circles[0].Diameter, 12, 0, 0, "C")
	m = part("motor-2207").Motor
	check(m.BellD, 27.7, 27, 28.5, "K")
	check(m.MaxCurrent, 41, 33, 48, "K")
	check(m.MaxThrust, 1650, 1400, 1900, "C")
	check(m.Circles[0].Diameter, 16, 0, 0, "K")
	check(m.Circles[1].Across, 19, 0, 0, "C")
	check(part("motor-2207").Mass, 33, 30, 37, "C")
	check(part("motor-3115").Motor.BodyH, 32, 30, 34, "K")
	check(part("motor-2205").Motor.Stub, 14, 0, 0, "C")
	check(part("motor-0802").Motor.Circles[0].Diameter, 6.6, 6, 7, "C")

	q := part("prop-5.1").Prop
	check(q.NominalD, 129.54, 0, 0, "S") // 5.1 · 25.4
	check(q.RealD, 129.5, 128, 131, "K")
	check(q.HubT, 6.6, 6, 7.5, "K")
	check(q.FlexUp, 3.7, 1.9, 6.3, "K-")
	check(q.BelowHub, 1.5, 0, 4, "K-")
	q = part("prop-4").Prop
	check(q.RealD, 101.6, 100.5, 103, "K")
	check(q.HubD, 12, 0, 0, "K")
	check(q.FlexDown, 2, 1, 3.4, "K-")
	check(part("prop-10").Mass, 17.5, 13, 22, "C")

	b := part("controller-30.5").Body
	check(b.Length, 37, 35.5, 41, "C")
	check(b.Above, 3.3, 2.5, 5, "K")
	check(b.Below, 2.2, 1.2, 4.5, "K")
	check(part("controller-30.5").Square.Hole, 4, 3.9, 4.3, "K")
	check(part("controller-30.5").Port("usb").Overhang, 0.8, -0.5, 2, "K")
	b = part("esc4-30.5-60a").Body
	check(b.Length, 47, 40, 58, "C")
	check(b.Width, 42, 38, 50, "C")
	check(b.Above, 3, 1.8, 7, "K")
	check(part("esc4-20-35a").Body.Above, 2.2, 1.4, 4.3, "K")
	check(part("aio-25.5-20a").Body.Above, 4, 3, 6, "K")
	check(part("esc-20a").Body.Length, 24, 20, 28, "K")
	check(part("esc-20a").Body.Height, 4.8, 4, 6, "K")
	check(part("power-board-30.5").Body.Above, 3.5, 2, 5, "K")
	check(part("rx-diversity").Body.Length, 22, 15.7, 24, "C")
	check(part("vtx-digital-compact").Body.Height, 10, 7, 14.5, "K")
	check(part("camera-19").Camera.Width, 19, 18.8, 19.3, "C")
	check(part("camera-19").Camera.LensD, 14, 10, 17, "K")
	check(part("camera-19").Camera.PivotBack, 8, 4, 11.5, "K-")
	check(part("antenna-24-whip").Antenna.Active, 31, 30, 32, "C")
	check(part("antenna-58-mmcx").Antenna.Head, 17, 13, 22, "K")
	check(part("gps-mast").Body.Diameter, 55, 50, 60, "K")
	check(part("cap-470-35").Body.Diameter, 10.5, 8.5, 10.5, "K") // 10 and 8, sleeve 0.5
	check(part("cap-470-35").Body.Length, 17.5, 17.5, 22, "K")    // 16 + 1.5, 20 + 2
	check(part("pack-4s-1300").Body.Length, 72, 67, 77, "C")
	check(part("pack-4s-1300").Mass, 153, 142, 164, "C")
	check(part("pack-2s-2200").Body.Width, 34, 32.3, 35.7, "C") // ±5 %
	check(part("xt60").Plug.Width, 15.75, 15.5, 16, "C")
	check(part("usb-c").Plug.Width, 12.35, 0, 0, "S")
	check(part("usb-c").Plug.Beyond, 40, 30, 50, "K")
	check(part("jst-sh-8").Plug.Width, 10, 0, 0, "K")     // ways + 2
	check(part("jst-gh-6").Plug.Width, 10.75, 0, 0, "K")  // 1.25 · 5 + 4.5
	check(part("balance-4s").Plug.Width, 14.8, 0, 0, "K") // 2.5 · 4 + 4.8
	check(part("grommet-m3").Grommet.Tight, 6, 5, 7, "K")
	check(part("standoff-m3-round").Standoff.OD, 5, 4.8, 6, "C")
	check(part("standoff-m3-hex-nylon").Standoff.LengthTol, 0, -0.25, 0.25, "K")
	check(part("strap-20").Strap.BuckleW, 25, 24, 26, "K")
	check(part("tie-2.5").Tie.HeadH, 3.6, 0, 0, "K")
	check(part("foam-1.6").Cushion.Tight, 1.2, 1, 1.4, "K")
	check(part("sleeve-1-2-in").Sleeve.Supplied, 12.7, 0, 0, "S")
	check(part("carbon").Material.Density, 1.55, 1.48, 1.62, "K")
	check(part("wire-18").Wire.OD, 2.3, 2.2, 2.6, "K")
	check(part("wire-18").Wire.Amps, 16, 0, 0, "K")
	if th := part("m3").Thread; !near(th.Major, 3) || !near(th.Heads[0].D, 5.5) || !near(th.Heads[1].H, 1.65) || !near(th.NutCorner, 6.01) || !near(th.HoleFine, 3.2) {
		t.Errorf("m3: %+v", th)
	}
	if v := part("controller-30.5-8s").Volts; !near(v.Lo, 6) || !near(v.Hi, 36) {
		t.Errorf("8-cell controller: %+v", v)
	}
}
