package layout

import "strings"

// Covers reports whether the excuse names this pair, in either order. An excuse may
// name a component by its full ID or by the last words of it.
func (e *Excuse) Covers(a, b string) bool {
	return names(e.A, a) && names(e.B, b) || names(e.A, b) && names(e.B, a)
}

func names(short, id string) bool {
	return short == id || strings.HasSuffix(id, "."+short)
}
