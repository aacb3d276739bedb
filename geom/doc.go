// Package geom is planar and solid geometry on lines and circular arcs: exact
// distances, booleans and offsets that keep arcs, upright and tilted bodies, an
// index of boxes and shortest paths.
//
// Lengths are millimetres, areas square millimetres, angles [s1.Angle] counted
// counter-clockwise. In the plane x points right and y up; in space z points up and
// the frame is right-handed. Outer loops run counter-clockwise and holes clockwise.
// Sets are closed: shapes that touch are at distance 0. No function returns NaN.
//
// # Planar distances
//
// A [Loop] is a closed chain of lines and arcs, a [Region] an outer loop and its holes.
// [Distance] tells how far two regions lie apart, or how deep they overlap and which move
// parts them, with the two points that are nearest or meet; [Separation], [IsCloser] and
// [Intersects] answer less and stop sooner. Arcs are never replaced by chords, except that
// arcs of more than 100 km radius are followed by chords within 2e-9 mm.
//
// What is promised for shapes of 0.1 mm to 2 m at coordinates up to 10 m, and what the
// tests measure there:
//
//	quantity                               promised       measured   how
//	distance of regions, of points         1e-6 mm        7e-10 mm   known gaps, any pose
//	least depth, both regions convex       1e-6 mm        2e-9 mm    known overlaps, any pose
//	depth, a region concave                upper bound    parts      moved and measured again
//	distance against an all-pairs twin     -              1e-12 mm   random loops
//	protrusion (Inside)                    1e-6 mm        2e-7 mm    hand-worked cases, samples
//	witness points                         1e-7 mm        1e-7 mm    measured again
//
// A distance up to 1e-9 mm is 0 and a point within 1e-9 mm of a boundary lies on it; see
// tol.go for how this and every other tolerance follows from the rounding of coordinates.
// Signs that decide on which side of a line a point lies are exact ([Orient]).
package geom
