package shapes

import "strings"

// Describe says a dimension as files write it, "3.3 mm (2.5..5)" for a range across
// makers and "7.2 mm ±0.3" for a tolerance; "unknown" if nobody gave it.
func (d *Dim) Describe() string {
	if d == nil {
		return ""
	}
	if d.Missing {
		return "unknown"
	}
	s := strings.TrimSpace(trim(d.Value) + " " + string(d.Unit))
	same := d.Plus-d.Minus < 1e-9 && d.Minus-d.Plus < 1e-9
	switch {
	case d.Plus <= 0 && d.Minus <= 0:
		return s
	case d.Range:
		return s + " (" + trim(d.Value-d.Minus) + ".." + trim(d.Value+d.Plus) + ")"
	case same:
		return s + " ±" + trim(d.Plus)
	}
	return s + " +" + trim(d.Plus) + " -" + trim(d.Minus)
}

// Origin says in words where a dimension comes from and how well it is known.
func (d *Dim) Origin() string {
	if d == nil || d.Missing {
		return ""
	}
	words := []string{d.Source.String()}
	if d.Conf != "" {
		words = append(words, "confidence "+d.Conf)
	}
	if d.Kind != "" {
		words = append(words, "from "+strings.ReplaceAll(d.Kind, "-", " "))
	}
	return strings.Join(words, ", ")
}
