// Package layout is a build: what the file says, where everything is, and what was
// found out about it.
//
// A file is decoded to a [Build] (as written, with positions), resolved to an
// [Assembly] (every body in the body frame, every height a linear form of named
// dimensions) and judged by the rules of package layout/rules into findings.
//
// Body frame: x forward, y left, z up; origin at the centre of the rotor circle on
// the underside of the lowest plate; angles counter-clockwise seen from above.
package layout
