package drawing

import (
	"fmt"
	"strings"

	"dryfit/shapes/read"
)

// Fault is why a file cannot be used: one sentence with the place, what was expected there
// and what to do.
type Fault struct{ read.Diag }

// Error prints the fault as people read it, see [read.Diag.String].
func (f *Fault) Error() string { return f.Diag.String() }

// fault makes a Fault; line 0 means the file as a whole.
func fault(name string, line int, message, want, hint string) *Fault {
	p := read.Pos{File: name}
	if line > 0 {
		p.Line, p.Col = line, 1
	}
	return &Fault{read.Diag{Pos: p, Message: message, Want: want, Hint: hint}}
}

// clip shortens text of a file for a message and makes it printable UTF-8: bytes that are
// not are taken for Latin-1.
func clip(s string) string {
	s = strings.TrimSpace(utf8Of(s))
	r := []rune(s)
	for i, c := range r {
		if c < ' ' || c == 0x7f || c >= 0x80 && c < 0xa0 {
			r[i] = ' '
		}
	}
	if len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return string(r)
}

// utf8Of returns s as UTF-8, read as Latin-1 if it is not UTF-8 already.
func utf8Of(s string) string {
	if strings.ToValidUTF8(s, "") == s {
		return s
	}
	var b strings.Builder
	for i := range len(s) {
		b.WriteRune(rune(s[i]))
	}
	return b.String()
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
