// Package drawing reads outlines of flat parts from DXF and SVG files, dirty as they come,
// and gives loops of lines and arcs with the holes named.
//
// [Read] goes through these stages, each in files of its own:
//
//	text -> curves    dxf*.go, svg*.go: what the file draws, in its own unit
//	     -> segments  fit.go: splines and ellipses as arcs, in millimetres
//	     -> graph     weld.go, meet.go, graph.go: ends joined, doubles dropped, cut where pieces meet
//	     -> loops     trace.go: dead ends pruned, the outer face of each block kept
//	     -> parts     nest.go, circle.go, pattern.go: holes, countersinks, hole patterns
//
// Everything that was left out, moved or guessed on the way is counted in the [Report].
// Lengths are millimetres, x to the right and y up; an SVG file, whose y points down, is
// mirrored for it. The origin is the file's own: [Part.Place] gives a useful one.
package drawing
