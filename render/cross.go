package render

import "dryfit/geom"

// curved reports whether a piece is an arc. Most pieces are lines with a bulge of exactly 0,
// which is told here without looking at their length.
func curved(s geom.Seg) bool { return s.Bulge != 0 && s.IsArc() }
