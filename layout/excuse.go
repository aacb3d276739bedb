package layout

import "strings"

// Covers reports whether the excuse names this pair, in either order. An excuse may
// name a component by its full ID or by the last words of it; naming what has parts or
// copies names all of them ("rotors.front-left" its motor and prop, "posts.main" every
// post, "stacks.main" every level, "mounts.esc" the one at each rotor).
func (e *Excuse) Covers(a, b string) bool {
	return names(e.A, a) && names(e.B, b) || names(e.A, b) && names(e.B, a)
}

func names(short, id string) bool {
	if short == "" {
		return false
	}
	return short == id || strings.HasSuffix(id, "."+short) ||
		strings.HasPrefix(id, short+".") || strings.HasPrefix(id, short+"[")
}
