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
// line that is. The last line has no line end.
func Wrap(first, rest, text string, width int) string {
	var b strings.Builder
	b.WriteString(first)
	at, bare := utf8.RuneCountInString(first), true
	for _, w := range strings.Fields(text) {
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
