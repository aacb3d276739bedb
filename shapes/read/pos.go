// Package read loads YAML strictly: every mistake with its file, line and column, the
// line itself, what was expected and what to do.
package read

import "fmt"

// Pos is a place in a file; lines and columns count from 1, columns in characters.
// The zero value is "nowhere".
type Pos struct {
	File string
	Line int
	Col  int
}

// IsZero reports whether the place is unknown.
func (p Pos) IsZero() bool { return p.Line == 0 }

// String prints file:line:col, or the file alone when the line is unknown.
func (p Pos) String() string {
	if p.IsZero() {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}
