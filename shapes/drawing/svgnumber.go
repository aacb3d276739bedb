package drawing

import (
	"strconv"
)

// numberScanner takes numbers out of lists as SVG writes them: parted by blanks, commas,
// signs or a second point.
type numberScanner struct {
	s string
	i int
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' }

// skip passes blanks and commas.
func (n *numberScanner) skip() {
	for n.i < len(n.s) && (isBlank(n.s[n.i]) || n.s[n.i] == ',') {
		n.i++
	}
}

func (n *numberScanner) done() bool {
	n.skip()
	return n.i >= len(n.s)
}

// number returns the next number; ok is false if none stands there.
func (n *numberScanner) number() (float64, bool) {
	n.skip()
	k, ok := numberLength(n.s[n.i:])
	if !ok {
		return 0, false
	}
	v, err := strconv.ParseFloat(n.s[n.i:n.i+k], 64)
	if err != nil || !finite(v) {
		return 0, false
	}
	n.i += k
	return v, true
}

// flag returns the next 0 or 1 of an arc, which may be glued to what follows.
func (n *numberScanner) flag() (bool, bool) {
	n.skip()
	if n.i < len(n.s) && (n.s[n.i] == '0' || n.s[n.i] == '1') {
		n.i++
		return n.s[n.i-1] == '1', true
	}
	return false, false
}

// numberLength returns the length of the number that s begins with.
func numberLength(s string) (int, bool) {
	i, digits := 0, 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	for ; i < len(s) && s[i] >= '0' && s[i] <= '9'; i++ {
		digits++
	}
	if i < len(s) && s[i] == '.' {
		i++
		for ; i < len(s) && s[i] >= '0' && s[i] <= '9'; i++ {
			digits++
		}
	}
	if digits == 0 {
		return 0, false
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if j < len(s) && s[j] >= '0' && s[j] <= '9' {
			for ; j < len(s) && s[j] >= '0' && s[j] <= '9'; j++ {
			}
			i = j
		}
	}
	return i, true
}
