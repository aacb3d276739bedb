package rules

import (
	"strings"

	"dryfit/layout"
)

// words names a body as a person would: the last part of its ID, without the sections
// of the file.
func words(b *layout.Body) string {
	id := strings.TrimPrefix(b.ID, b.Of)
	id = strings.TrimPrefix(id, ".")
	id = strings.TrimPrefix(id, "zone.")
	switch {
	case strings.HasPrefix(id, "["):
		return "post " + short(b.ID)
	case id == "" || id == "body":
		return short(b.Of)
	case id == "pcb" || id == "board":
		return "the board"
	case id == "above":
		return "the top side"
	case id == "below":
		return "the underside"
	}
	return id
}

// short is a component ID without the section of the file that it stands in.
func short(id string) string {
	for _, p := range []string{"plates.", "mounts.", "rotors.", "cameras.", "antennas.", "posts.", "stacks.", "batteries."} {
		if s, ok := strings.CutPrefix(id, p); ok {
			return s
		}
	}
	return id
}

// unknownFix says what to measure when a verdict is unknown, and is empty otherwise.
func unknownFix(f *layout.Finding) string {
	if f.Verdict != layout.Unknown || len(f.Missing) == 0 {
		return ""
	}
	var names []string
	for _, d := range f.Missing {
		names = append(names, d.Name)
	}
	return "measure " + speak(names) + " and write it down"
}
