package shapes

import (
	"fmt"
	"math"

	"dryfit/shapes/read"
)

// Sane is what a field of a file may hold.
type Sane struct {
	Unit   Unit
	Lo, Hi float64 // of the value and its extremes
	Above  bool    // the value must be over Lo, not on it
}

// The usual fields. They are functions of nothing so that no package state can change.

// SizeMM is a length over 0 and up to 2 m: larger than any craft this is for.
func SizeMM() Sane { return Sane{Unit: MM, Lo: 0, Hi: 2000, Above: true} }

// LengthMM is a length from 0 up to 2 m.
func LengthMM() Sane { return Sane{Unit: MM, Lo: 0, Hi: 2000} }

// OffsetMM is a signed length up to 2 m either way.
func OffsetMM() Sane { return Sane{Unit: MM, Lo: -2000, Hi: 2000} }

// MassG is a mass from 0 to 20 kg.
func MassG() Sane { return Sane{Unit: Gram, Lo: 0, Hi: 20000} }

// AngleDeg is an angle within a full turn either way.
func AngleDeg() Sane { return Sane{Unit: Deg, Lo: -360, Hi: 360} }

// CurrentA is a current from 0 to 1000 A.
func CurrentA() Sane { return Sane{Unit: Amp, Lo: 0, Hi: 1000} }

// VoltageV is a voltage from 0 to 100 V.
func VoltageV() Sane { return Sane{Unit: Volt, Lo: 0, Hi: 100} }

// ChargeMAh is a charge over 0 and up to 100 Ah.
func ChargeMAh() Sane { return Sane{Unit: MAh, Lo: 0, Hi: 100000, Above: true} }

// ThrustGf is a thrust from 0 to 50 kgf.
func ThrustGf() Sane { return Sane{Unit: Gf, Lo: 0, Hi: 50000} }

// CapacitanceUF is a capacitance over 0 and up to 100 mF.
func CapacitanceUF() Sane { return Sane{Unit: MicroFarad, Lo: 0, Hi: 100000, Above: true} }

// SharePct is a share from 0 to 100 %.
func SharePct() Sane { return Sane{Unit: Ratio, Lo: 0, Hi: 100} }

// Between narrows s to lo..hi.
func (s Sane) Between(lo, hi float64) Sane { s.Lo, s.Hi, s.Above = lo, hi, false; return s }

// String says what is wanted: "a length from 0 to 2000 mm".
func (s Sane) String() string {
	from := "from"
	if s.Above {
		from = "over"
	}
	return fmt.Sprintf("%s %s %g to %g %s", s.Unit.measures(), from, s.Lo, s.Hi, s.Unit)
}

// ParseDim reads a dimension from a text (see [ParseQuantity]) or from a map
//
//	{typ: 3.3, range: [2.5, 5]}   {typ: 7.2, tol: 0.3}   {range: [2, 4]}
//
// with optional conf: and src:. name is what reports call it. The result is never nil:
// after a mistake, which ds then holds, it is a Missing one. The source is Given; without
// a tolerance in the file HasTol is false and TolSource Assumed.
func ParseDim(ds *read.Diags, n *read.Node, name string, want Sane) *Dim {
	d := &Dim{Name: name, Unit: want.Unit, TolSource: Assumed, Pos: n.Pos()}
	var q Quantity
	ok := false
	switch n.Kind() {
	case read.Scalar:
		q, ok = parseScalar(ds, n, want)
	case read.Map:
		q, ok = parseDimMap(ds, n, d, want)
	default:
		ds.At(n, want.Unit.measures()+" is wanted here, not "+n.Describe(), want.String(), "")
	}
	if !ok || !sane(ds, n, q, want) || q.Unknown {
		d.Missing = true
		return d
	}
	d.Value, d.Plus, d.Minus, d.HasTol, d.Range = q.Value, q.Plus, q.Minus, q.HasTol, q.Range
	if d.HasTol {
		d.TolSource = Given
	}
	return d
}

func parseScalar(ds *read.Diags, n *read.Node, want Sane) (Quantity, bool) {
	if n.Kind() != read.Scalar {
		ds.At(n, want.Unit.measures()+" is wanted here, not "+n.Describe(), want.String(), "")
		return Quantity{}, false
	}
	q, err := ParseQuantity(n.Raw(), want.Unit)
	if err != nil {
		ds.At(n, read.Quote(n.Raw())+" "+err.Why, want.String(), err.Hint)
		return q, false
	}
	return q, true
}

func parseDimMap(ds *read.Diags, n *read.Node, d *Dim, want Sane) (Quantity, bool) {
	f := ds.Fields(n, "a dimension")
	before := ds.Count()
	q := Quantity{}
	typ, rng, tol := f.Get("typ"), f.Get("range"), f.Get("tol")
	if conf := f.Get("conf"); conf != nil {
		d.Conf, _ = ds.Enum(conf, confidences()...)
	}
	d.Kind = f.Text("src", "")
	if typ != nil {
		q, _ = parseScalar(ds, typ, want)
	}
	switch {
	case typ == nil && rng == nil:
		ds.At(n, "a dimension needs `typ:`, `range:` or both", "{typ: 3.3, range: [2.5, 5]}", "")
	case rng != nil && tol != nil:
		ds.At(tol, "a dimension has a range or a tolerance, not both", "", "delete `range:` or `tol:`")
	case q.HasTol && (rng != nil || tol != nil):
		ds.At(typ, "the tolerance is written twice", "", "keep `typ:` a plain number")
	case rng != nil:
		rangeInto(ds, rng, typ != nil, &q, want)
	case tol != nil:
		tolInto(ds, tol, &q, want)
	}
	f.Done()
	return q, ds.Count() == before
}

// rangeInto reads [lo, hi] into q; without a typical value the middle is taken.
func rangeInto(ds *read.Diags, n *read.Node, hasTyp bool, q *Quantity, want Sane) {
	items, ok := ds.List(n)
	if !ok {
		return
	}
	if len(items) != 2 {
		ds.At(n, fmt.Sprintf("a range has two ends, not %d", len(items)), "[2.5, 5]", "")
		return
	}
	lo, ok1 := parseScalar(ds, items[0], want)
	hi, ok2 := parseScalar(ds, items[1], want)
	if !ok1 || !ok2 || q.Unknown {
		return
	}
	if !hasTyp {
		q.Value = (lo.Value + hi.Value) / 2
	}
	switch {
	case lo.Value > hi.Value:
		ds.At(n, "the range runs backwards", "the smaller number first", "")
	case q.Value < lo.Value || q.Value > hi.Value:
		ds.At(n, fmt.Sprintf("the typical value %g lies outside its range", q.Value), "", "")
	default:
		q.Plus, q.Minus, q.HasTol, q.Range = clean(hi.Value-q.Value), clean(q.Value-lo.Value), true, true
	}
}

func tolInto(ds *read.Diags, n *read.Node, q *Quantity, want Sane) {
	t, ok := parseScalar(ds, n, Sane{Unit: want.Unit})
	if !ok {
		return
	}
	if t.HasTol || t.Unknown || t.Value < 0 {
		ds.At(n, read.Quote(n.Raw())+" is not the size of a tolerance", "a plain number from 0", "")
		return
	}
	q.Plus, q.Minus, q.HasTol = t.Value, t.Value, true
}

// sane reports a value out of its range. An extreme that lies outside counts too: a
// thickness of 3 ±5 mm is a slip of the pen.
func sane(ds *read.Diags, n *read.Node, q Quantity, want Sane) bool {
	const rounding = 1e-9
	switch {
	case q.Unknown:
	case want.Above && q.Value <= want.Lo, q.Value < want.Lo, q.Value > want.Hi:
		hint := ""
		if q.Value < 0 && want.Lo >= 0 {
			hint = "write it without the minus sign"
		}
		ds.At(n, fmt.Sprintf("%s is out of range", valueText(n, q.Value, want.Unit)), want.String(), hint)
		return false
	case q.Value-q.Minus < want.Lo-rounding, q.Value+q.Plus > want.Hi+rounding:
		ds.At(n, fmt.Sprintf("with its tolerance this runs from %g to %g %s", round6(q.Value-q.Minus), round6(q.Value+q.Plus), want.Unit),
			want.String(), "check the tolerance")
		return false
	}
	return true
}

func valueText(n *read.Node, v float64, u Unit) string {
	if n.Kind() == read.Scalar {
		return read.Quote(n.Raw())
	}
	return fmt.Sprintf("%g %s", v, u)
}

func round6(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// confidences lists how well a catalogue figure may be known: S an open standard or
// plain arithmetic, C met on a public page, K trade knowledge, K- weak: measure it.
func confidences() []string { return []string{"S", "C", "K", "K-"} }

// ParseSpan reads a closed range of a quantity such as 6..36 or 5 V; a single value is a
// range of itself.
func ParseSpan(ds *read.Diags, n *read.Node, want Sane) (Span, bool) {
	q, ok := parseScalar(ds, n, want)
	if !ok || !sane(ds, n, q, want) {
		return Span{}, false
	}
	if q.Unknown || (q.HasTol && !q.Range) {
		ds.At(n, read.Quote(n.Raw())+" is not a range", "such as 6..36", "")
		return Span{}, false
	}
	return Span{Lo: q.Value - q.Minus, Hi: q.Value + q.Plus}, true
}

// ParseGauge reads a wire gauge: a bare number or one with AWG, or a copper section in
// mm². It returns AWG, from the diameter formula of ASTM B258:
// d = 0.127 mm · 92^((36 − n)/39).
func ParseGauge(ds *read.Diags, n *read.Node) (float64, bool) {
	want := Sane{Unit: AWG, Lo: 0, Hi: 40}
	if n.Kind() == read.Scalar {
		area := Sane{Unit: MM2, Lo: 0.005, Hi: 60}
		if q, err := ParseQuantity(n.Raw(), MM2); err == nil && !q.HasTol && !q.Unknown {
			if _, bare, _ := read.ParseNumber(n.Raw()); bare != "" { // a unit is written
				if !sane(ds, n, q, area) {
					return 0, false
				}
				d := math.Sqrt(4 * q.Value / math.Pi)
				return 36 - 39*math.Log(d/0.127)/math.Log(92), true
			}
		}
	}
	q, ok := parseScalar(ds, n, want)
	if !ok || !sane(ds, n, q, want) {
		return 0, false
	}
	if q.HasTol || q.Unknown {
		ds.At(n, read.Quote(n.Raw())+" is not one gauge", "such as 18 AWG", "")
		return 0, false
	}
	return q.Value, true
}
