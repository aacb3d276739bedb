package shapes

import (
	"fmt"
	"math"
	"strings"

	"dryfit/shapes/read"
)

// Quantity is a number as a file writes it, turned into base units.
type Quantity struct {
	Value       float64
	Plus, Minus float64
	HasTol      bool // a tolerance or a range was written
	Range       bool // a range was written: what a buyer meets, not one part's tolerance
	Unknown     bool // the word `unknown`
}

// unitScale is one way to write a unit.
type unitScale struct {
	word  string
	base  Unit
	scale float64 // base units in one of it
}

// unitWords lists every unit that files may use. The inch is exactly 25.4 mm (the
// international yard and pound agreement of 1959).
func unitWords() []unitScale {
	return []unitScale{
		{"mm", MM, 1}, {"cm", MM, 10}, {"m", MM, 1000}, {"in", MM, 25.4},
		{"g", Gram, 1}, {"kg", Gram, 1000},
		{"V", Volt, 1}, {"mV", Volt, 1e-3},
		{"A", Amp, 1}, {"mA", Amp, 1e-3},
		{"mAh", MAh, 1}, {"Ah", MAh, 1000},
		{"deg", Deg, 1}, {"°", Deg, 1},
		{"AWG", AWG, 1},
		{"mm²", MM2, 1}, {"mm2", MM2, 1},
		{"%", Ratio, 1},
		{"µF", MicroFarad, 1}, {"uF", MicroFarad, 1},
		{"gf", Gf, 1}, {"kgf", Gf, 1000},
		{"g/cm³", GramPerCM3, 1}, {"g/cm3", GramPerCM3, 1},
	}
}

// What a unit measures, for messages.
func (u Unit) measures() string {
	switch u {
	case MM:
		return "a length"
	case Gram:
		return "a mass"
	case Volt:
		return "a voltage"
	case Amp:
		return "a current"
	case MAh:
		return "a charge"
	case Deg:
		return "an angle"
	case AWG:
		return "a wire gauge"
	case MM2:
		return "an area"
	case Gf:
		return "a thrust"
	case GramPerCM3:
		return "a density"
	case MicroFarad:
		return "a capacitance"
	default:
		return "a share"
	}
}

// accepted lists the words for a unit: "mm, cm, m or in".
func (u Unit) accepted() string {
	var words []string
	for _, w := range unitWords() {
		if w.base == u && w.word != "mm2" && w.word != "uF" && w.word != "g/cm3" && w.word != "°" {
			words = append(words, w.word)
		}
	}
	if len(words) == 1 {
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// QuantityError tells why a text is no quantity, as words to follow the quoted text.
type QuantityError struct{ Why, Hint string }

// Error says what is wrong with the text.
func (e *QuantityError) Error() string { return e.Why }

func wrong(hint, format string, args ...any) *QuantityError {
	return &QuantityError{Why: fmt.Sprintf(format, args...), Hint: hint}
}

// ParseQuantity reads a quantity in the base unit given. The forms:
//
//	7.2        7.2 mm      5.1 in      5/8 in           the bare number is in the base unit
//	7.2 ±0.3   7.2 +-0.3   7.2 ±5 %    25 +0.1 -0.3     with a tolerance
//	2..4       3.3 (2.5..5)                             what buyers meet: a range, with or without a typical value
//	unknown                                             nobody has measured it
//
// A unit stands behind the number or behind the whole; a tolerance without one is in the
// unit of the number before it. The middle of a bare range is its value.
func ParseQuantity(text string, unit Unit) (Quantity, *QuantityError) {
	s := strings.TrimSpace(text)
	if s == "" {
		return Quantity{}, wrong("write a number, or unknown", "is empty")
	}
	if s == "unknown" {
		return Quantity{Unknown: true}, nil
	}
	if len(s) > 80 {
		return Quantity{}, wrong("", "is too long for a quantity")
	}
	p := &quantityParser{rest: s, base: unit, scale: 1}
	q, err := p.parse()
	if err != nil {
		return Quantity{}, err
	}
	for _, v := range []float64{q.Value, q.Plus, q.Minus} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return Quantity{}, wrong("", "is not a finite number")
		}
	}
	return q, nil
}

type quantityParser struct {
	rest  string
	base  Unit
	scale float64 // of the unit last written
}

func (p *quantityParser) skip() { p.rest = strings.TrimLeft(p.rest, " \t\u00a0") }

func (p *quantityParser) take(token string) bool {
	p.skip()
	if strings.HasPrefix(p.rest, token) {
		p.rest = p.rest[len(token):]
		return true
	}
	return false
}

func (p *quantityParser) parse() (Quantity, *QuantityError) {
	lo, err := p.number()
	if err != nil {
		return Quantity{}, err
	}
	if p.take("..") {
		return p.bareRange(lo)
	}
	if _, err := p.unit(); err != nil {
		return Quantity{}, err
	}
	if p.take("..") { // 2 mm..4 mm
		lo *= p.scale
		p.scale = 1
		hi, err := p.scaled()
		if err != nil {
			return Quantity{}, err
		}
		return p.rangeOf((lo+hi)/2, lo, hi)
	}
	q := Quantity{Value: lo * p.scale}
	switch {
	case p.take("("):
		return p.typicalRange(q.Value)
	case p.take("±"), p.take("+-"), p.take("+/-"):
		t, err := p.tolerance(q.Value)
		if err != nil {
			return Quantity{}, err
		}
		q.Plus, q.Minus, q.HasTol = t, t, true
	case p.take("+"):
		err = p.twoSided(&q, &q.Plus, &q.Minus, "-")
	case p.take("-"), p.take("−"):
		err = p.twoSided(&q, &q.Minus, &q.Plus, "+")
	}
	if err != nil {
		return Quantity{}, err
	}
	return q, p.end()
}

// twoSided reads the two halves of +a -b; the first sign is already taken.
func (p *quantityParser) twoSided(q *Quantity, first, second *float64, other string) *QuantityError {
	a, err := p.tolerance(q.Value)
	if err != nil {
		return err
	}
	if !p.take(other) && !(other == "-" && p.take("−")) {
		return wrong("write ±0.3 or +0.1 -0.3", "has a tolerance with one side only")
	}
	b, err := p.tolerance(q.Value)
	if err != nil {
		return err
	}
	*first, *second, q.HasTol = a, b, true
	return nil
}

func (p *quantityParser) bareRange(lo float64) (Quantity, *QuantityError) {
	hi, err := p.scaled()
	if err != nil {
		return Quantity{}, err
	}
	lo *= p.scale
	return p.rangeOf((lo+hi)/2, lo, hi)
}

func (p *quantityParser) typicalRange(typ float64) (Quantity, *QuantityError) {
	lo, err := p.number()
	if err != nil {
		return Quantity{}, err
	}
	if !p.take("..") {
		return Quantity{}, wrong("write 3.3 (2.5..5)", "has brackets without a range in them")
	}
	hi, err := p.scaled()
	if err != nil {
		return Quantity{}, err
	}
	lo *= p.scale
	if !p.take(")") {
		return Quantity{}, wrong("write 3.3 (2.5..5)", "has an open bracket")
	}
	q, err := p.rangeOf(typ, lo, hi)
	if err != nil {
		return q, err
	}
	if typ < lo || typ > hi {
		return q, wrong("the number before the brackets lies in the range", "lies outside its own range")
	}
	return q, nil
}

func (p *quantityParser) rangeOf(typ, lo, hi float64) (Quantity, *QuantityError) {
	if lo > hi {
		return Quantity{}, wrong("write the smaller number first", "is a range that runs backwards")
	}
	return Quantity{Value: typ, Plus: clean(hi - typ), Minus: clean(typ - lo), HasTol: true, Range: true}, p.end()
}

// clean takes the rounding noise of a subtraction off: 5 - 3.3 is 1.7, not
// 1.7000000000000002.
func clean(v float64) float64 { return math.Round(v*1e9) / 1e9 }

func (p *quantityParser) end() *QuantityError {
	p.skip()
	if p.rest == "" {
		return nil
	}
	return wrong("forms such as 7.2, 7.2 mm, 7.2 ±0.3, 25 +0.1 -0.3, 2..4, 3.3 (2.5..5)", "has something left over: %s", read.Quote(p.rest))
}

// scaled reads a number and its unit.
func (p *quantityParser) scaled() (float64, *QuantityError) {
	v, err := p.number()
	if err != nil {
		return 0, err
	}
	if _, err := p.unit(); err != nil {
		return 0, err
	}
	return v * p.scale, nil
}

// tolerance reads a tolerance: a number with a unit, without one, or in percent of value.
func (p *quantityParser) tolerance(value float64) (float64, *QuantityError) {
	v, err := p.number()
	if err != nil {
		return 0, err
	}
	if v < 0 {
		return 0, wrong("write the size of the tolerance without a sign", "has a negative tolerance")
	}
	if p.base != Ratio && p.take("%") {
		return math.Abs(value) * v / 100, nil
	}
	if _, err := p.unit(); err != nil {
		return 0, err
	}
	return v * p.scale, nil
}

// number reads a decimal number or a fraction of whole numbers.
func (p *quantityParser) number() (float64, *QuantityError) {
	p.skip()
	v, err := p.decimal()
	if err != nil {
		return 0, err
	}
	if !p.take("/") {
		return v, nil
	}
	d, err := p.decimal()
	if err != nil {
		return 0, err
	}
	if d <= 0 || v > math.Trunc(v) || d > math.Trunc(d) {
		return 0, wrong("write 5/8", "is not a fraction of two whole numbers")
	}
	return v / d, nil
}

func (p *quantityParser) decimal() (float64, *QuantityError) {
	p.skip()
	end := 0
	for end < len(p.rest) {
		c := p.rest[end]
		isSign := (c == '+' || c == '-') && end == 0
		// Letters and odd signs inside a number ("0x10", "1_000", "7,2", ".nan") belong
		// to it, so that the complaint is about the number.
		if c == '.' && strings.HasPrefix(p.rest[end:], "..") {
			break
		}
		if !isSign && c != '.' && c != ',' && c != '_' && c != ':' && (c < '0' || c > '9') {
			break
		}
		end++
	}
	token := p.rest[:end]
	lower := strings.ToLower(strings.TrimLeft(p.rest, "+-"))
	for _, odd := range []string{".nan", "nan", ".inf", "inf", "0x", "0b", "0o"} {
		if strings.HasPrefix(lower, odd) {
			token, _, _ = strings.Cut(p.rest, " ")
		}
	}
	if token == "" {
		return 0, wrong("forms such as 7.2, 7.2 mm, 7.2 ±0.3, 25 +0.1 -0.3, 2..4, 3.3 (2.5..5), or unknown", "has no number where one is wanted")
	}
	v, why, hint := read.ParseNumber(token)
	if why != "" {
		return 0, wrong(hint, "%s", why)
	}
	p.rest = p.rest[end:]
	return v, nil
}

// unit reads a unit word, if there is one, and keeps its scale for what follows.
func (p *quantityParser) unit() (bool, *QuantityError) {
	p.skip()
	end := strings.IndexAny(p.rest, " \t\u00a0().±+-−")
	if end < 0 {
		end = len(p.rest)
	}
	word := p.rest[:end]
	if word == "" {
		return false, nil
	}
	if p.base == Gf && (word == "g" || word == "kg") { // thrust as the trade quotes it
		word += "f"
	}
	var other *unitScale
	for _, w := range unitWords() {
		if w.word != word {
			continue
		}
		if w.base == p.base {
			p.rest = p.rest[end:]
			p.scale = w.scale
			return true, nil
		}
		other = &w
	}
	if other != nil {
		return false, wrong("write it in "+p.base.accepted(), "is %s (%s); %s is wanted here", other.base.measures(), other.word, p.base.measures())
	}
	if word == `"` || word == "″" || word == "inch" || word == "inches" {
		return false, wrong("write in for inches", "has the unit %s, which is not one of ours", read.Quote(word))
	}
	if word[0] >= '0' && word[0] <= '9' {
		return false, p.end()
	}
	if exponent := strings.TrimLeft(word[1:], "+-"); (word[0] == 'e' || word[0] == 'E') && strings.Trim(exponent, "0123456789") == "" && exponent != "" {
		return false, wrong("write all its digits", "is written with a power of ten")
	}
	hint := ""
	for _, w := range unitWords() {
		if strings.EqualFold(w.word, word) && w.base == p.base {
			hint = "write " + w.word
		}
	}
	if hint == "" {
		hint = "write it in " + p.base.accepted()
	}
	return false, wrong(hint, "has the unit %s, which is not one of ours", read.Quote(word))
}
