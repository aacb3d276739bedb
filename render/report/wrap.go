package report

import (
	"strings"
	"unicode/utf8"
)

// Width is the longest line of a report in characters: what a terminal and a printed page
// of small type both hold.
const Width = 100

// Wrap sets text into lines of at most width characters: the first starts with first, the
// others with rest. Runs of blanks become one; a word that is too long stands alone on a
// line that is; a unit stays with its number. The last line has no line end.
func Wrap(first, rest, text string, width int) string {
	var b strings.Builder
	b.WriteString(first)
	at, bare := utf8.RuneCountInString(first), true
	for _, w := range Words(text) {
		n := utf8.RuneCountInString(w)
		if !bare && at+1+n > width {
			b.WriteString("\n" + rest)
			at, bare = utf8.RuneCountInString(rest), true
		}
		if !bare {
			b.WriteByte(' ')
			at++
		}
		b.WriteString(w)
		at += n
		bare = false
	}
	return strings.TrimRight(b.String(), " ")
}

// Words returns the words of a text, units joined to the numbers before them, so that no
// line ends in "2" and the next begins with "mm".
func Words(text string) []string {
	var out []string
	for _, w := range strings.Fields(text) {
		if n := len(out); n > 0 && isUnit(w) && endsInDigit(out[n-1]) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func isUnit(w string) bool {
	switch strings.TrimRight(w, ",.;:)") {
	case "mm", "g", "kg", "%", "deg", "degrees", "inch", "in", "A", "V", "mAh", "gf":
		return true
	}
	return false
}

func endsInDigit(w string) bool { return w[len(w)-1] >= '0' && w[len(w)-1] <= '9' }
