package rules

import (
	"fmt"
	"strings"

	"dryfit/layout"
)

// piece is what a sentence calls one body: its component, and for what stands on a board
// the face or the zone.
func (p *Pass) piece(b *layout.Body) string {
	if b.Kind != layout.ZoneBody {
		return p.callBody(b)
	}
	return p.part(b) + " of " + p.call(b.Of)
}

// part is what a sentence calls what stands on a board, when it names the board itself.
func (p *Pass) part(b *layout.Body) string {
	_, zone, named := strings.Cut(b.ID, ".zone.")
	switch {
	case b.Kind != layout.ZoneBody:
		return "the board"
	case named:
		return "the " + spoken(zone)
	case strings.HasSuffix(b.ID, ".below"):
		return "the underside"
	}
	return "the top side"
}

// isDrawnZone reports whether a body is a zone that the board's height map draws, and not
// all the rest of a face.
func isDrawnZone(b *layout.Body) bool {
	return b.Kind == layout.ZoneBody && strings.Contains(b.ID, ".zone.")
}

// unknownFix says what to measure when a verdict is unknown, and is empty otherwise.
func unknownFix(f *layout.Finding) string {
	if f.Verdict != layout.Unknown {
		return ""
	}
	return "measure " + dimNames(f.Missing)
}

// unroutedFix is what to do about a finding that is unknown because a circuit has no way or a length on it is missing.
func unroutedFix(f *layout.Finding, c *layout.Circuit) string {
	if f.Verdict == layout.Unknown && c.Route != nil && c.Route.Blocked != nil {
		return fmt.Sprintf("make a way for %s first, as wire-route tells", c.Label)
	}
	return unknownFix(f)
}

// worstOf keeps the finding that should be told first: the graver verdict, then the
// smaller margin.
type worstOf struct {
	f     layout.Finding
	found bool
}

// add reports whether the finding is the worst so far.
func (w *worstOf) add(f layout.Finding) bool {
	if w.found && !worse(&f, &w.f) {
		return false
	}
	w.f, w.found = f, true
	return true
}

// mustMend reports whether a verdict calls for a change.
func mustMend(f *layout.Finding) bool {
	return f.Verdict == layout.Fail || f.Verdict == layout.Tight
}
