package shapes

import "strings"

// LengthLimit returns by how much the length of a screw may differ from its nominal
// length, either way, in mm: tolerance class js15 of ISO 286-1, which ISO 4759-1 gives
// for screws of product grade A with lengths up to 50 mm. Lengths of 0 or less count as
// the shortest step.
func LengthLimit(length float64) float64 {
	for _, s := range []struct{ upTo, limit float64 }{
		{3, 0.20}, {6, 0.24}, {10, 0.29}, {18, 0.35}, {30, 0.42}, {50, 0.50}, {80, 0.60},
	} {
		if length <= s.upTo {
			return s.limit
		}
	}
	return 0.70
}

// LeastEngagement returns how many diameters of thread a screw must at least have in a
// material, and how many builders aim for. Trade figures: steel 0.8 and 1, aluminium 1
// and 1.5, brass 1 and 1.3, plastics 1.5 and 2.5. A material that is not known counts as
// plastic, the weakest.
func LeastEngagement(material string) (least, aim float64) {
	switch material {
	case "steel", "titanium":
		return 0.8, 1.0
	case "aluminium":
		return 1.0, 1.5
	case "brass":
		return 1.0, 1.3
	}
	return 1.5, 2.5
}

// MotorEngagement returns how deep a screw of this diameter must at least reach into a
// motor's base, in mm: trade figures, 1.0 for M1.4 and M1.6, 1.3 for M2, 1.5 for M3. Those
// in between and above are scaled with the diameter from the figure for M3.
func MotorEngagement(major float64) float64 {
	switch {
	case major <= 1.6:
		return 1.0
	case major <= 2:
		return 1.3
	case major <= 3:
		return 1.5
	}
	return 0.5 * major
}

// PressNut is a nut that is pressed into a plate from the side away from the screw's head.
type PressNut struct {
	Hole    *Dim // in the plate
	FlangeD float64
	FlangeT *Dim // how far the flange stands on the plate
	Barrel  *Dim // what sits in the plate; the plate must not be thinner
}

// PressNutFor returns the press nut of a thread ("M3"), false for sizes that are not
// common. Holes were met in open hardware, the rest is trade knowledge.
func PressNutFor(size string) (PressNut, bool) {
	rows := map[string][2]float64{"M2": {3.5, 5}, "M2.5": {4, 5.5}, "M3": {4.5, 6}}
	r, ok := rows[strings.ToUpper(size)]
	if !ok {
		return PressNut{}, false
	}
	row := func(name string, v, minus, plus float64) *Dim {
		return &Dim{Name: size + " press nut " + name, Value: v, Plus: plus, Minus: minus, Unit: MM,
			Source: Catalogue, TolSource: Catalogue, HasTol: true, Range: plus+minus > 0, Conf: "K", Kind: "trade"}
	}
	return PressNut{
		Hole: row("hole", r[0], 0, 0), FlangeD: r[1], FlangeT: row("flange", 0.8, 0.3, 0.4), Barrel: row("barrel", 1.5, 0.5, 1),
	}, true
}

// TorqueMost returns the greatest torque in N·m for a screw of this size and material in
// a thread of another, 0 where the trade gives no figure. Trade figures; the weaker of
// the two materials rules, and a small head on carbon is not to be tightened beyond 0.8.
func TorqueMost(size, screw, thread string) float64 {
	weak := func(s string) bool { return s == "nylon" || s == "plastic" || s == "rubber" }
	var row [4]float64 // nylon screw; any screw in plastic; aluminium screw or thread; steel in steel
	switch strings.ToUpper(size) {
	case "M1.4", "M1.6":
		row = [4]float64{0, 0, 0.08, 0.08}
	case "M2":
		row = [4]float64{0.04, 0.1, 0.3, 0.3}
	case "M2.5":
		row = [4]float64{0, 0, 0.5, 0.5}
	case "M3":
		row = [4]float64{0.18, 0.32, 1.25, 1.3}
		if screw == "aluminium" {
			row[2], row[3] = 0.5, 0.5
		}
		if screw == "titanium" {
			row[2], row[3] = 1.0, 1.0
		}
	}
	switch {
	case weak(screw):
		return row[0]
	case weak(thread):
		return row[1]
	case thread == "aluminium" || screw == "aluminium":
		return row[2]
	}
	return row[3]
}

// NylonStrength returns the tension and the shear in N that one nylon screw or stud of
// this diameter bears. Weak trade figures: M3 170 N and 120 N, M2 60 N in tension; other
// sizes and the shear of M2 are scaled with the section and with the ratio of M3.
func NylonStrength(major float64) (tension, shear float64) {
	const m3Tension, m3Shear, m2Tension = 170.0, 120.0, 60.0
	tension = m3Tension * (major / 3) * (major / 3)
	if major <= 2 {
		tension = m2Tension * (major / 2) * (major / 2)
	}
	return tension, tension * m3Shear / m3Tension
}

// HeadNamed returns the head of this form, nil if the size is not made with it.
func (t *Thread) HeadNamed(form string) *Head {
	if t == nil {
		return nil
	}
	for i := range t.Heads {
		if t.Heads[i].Form == form {
			return &t.Heads[i]
		}
	}
	return nil
}

// UsualHead returns the head that builders take for the size when nothing is said: button
// heads from M2.5 up, socket heads for M1.6 and M2, whatever there is below; nil if the
// catalogue knows none.
func (t *Thread) UsualHead() *Head {
	if t == nil {
		return nil
	}
	form := "socket"
	if t.Major >= 2.5 {
		form = "button"
	}
	if h := t.HeadNamed(form); h != nil {
		return h
	}
	if len(t.Heads) > 0 {
		return &t.Heads[0]
	}
	return nil
}
