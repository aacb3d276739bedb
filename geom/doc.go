// Package geom is planar and solid geometry on lines and circular arcs: exact
// distances, booleans and offsets that keep arcs, upright and tilted bodies, an
// index of boxes and shortest paths.
//
// Lengths are millimetres, areas square millimetres, angles [s1.Angle] counted
// counter-clockwise. In the plane x points right and y up; in space z points up and
// the frame is right-handed. Outer loops run counter-clockwise and holes clockwise.
// Sets are closed: shapes that touch are at distance 0. No function returns NaN.
package geom
