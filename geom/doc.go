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
//
// # Booleans and offsets
//
// [Union], [Difference], [Intersection] and [Offset] put boundaries together to a graph in
// which nearly coincident things are one thing:
//
//	tolerance                   mm                   why
//	weld distance w             1e-9 up to 1 m,      a thousand roundings of a crossing, a
//	                            in proportion on     thousandth of the promise, and what
//	                                                 counts as touching elsewhere
//	depth of a touch            w/4                  curves no deeper in or further off touch in
//	                                                 one point; below w, so that an end beside
//	                                                 it is welded to it
//	arc taken as its chord      height w             moves the boundary by no more than welding
//	settled                     w/8                  see below
//	tiny links                  w, later 2w to 4w    in later rounds, so that clusters settle
//	change of area              16 w per length      more is refused: parts went astray
//	area of a loop simplified   2 w per length       more is refused: corners went astray
//	other attempts              8 w, w/8, 64 w       in turn, if one fails
//	result against operands     32 w                 see below
//
// Welding moves a boundary by about w, so an area may be wrong by w times the perimeter:
// 1e-6 mm² for each metre of it. Pieces and gaps of a mean width up to 2w vanish.
//
// Why a result has no wrong region. The boundaries are cut where they meet and ends within w
// are welded; the links that this gives are cut and welded once more, until a round
// moves nothing by more than w/8. Then
//
//   - an end that is not welded to a curve was further than w from it, and is still further
//     than 3w/4, as both have moved by no more than w/8; so links that have no node in
//     common do not cross, nor do they run within 3w/4 of each other's ends;
//   - links from one node may cross unseen only while they run within w of each other. At
//     the nearer of their ends they lie w/2 apart, or that is a reason for a further round;
//     there it shows which one lies on the left, as it does half way for two links
//     between the same nodes that are not one.
//
// So the order of links round the nodes is that of a drawing in the plane, from which the
// links differ by no more than w. Round every node the winding numbers follow from those
// whole numbers by which they change across links; on the way round they must agree, at
// two corners of each connected part they must tell the same outside, and the
// rays that count the parts around it must agree upward and downward. When the wanted boundary is put
// together, walks must close, holes lie in loops and areas stay. A contradiction in any
// of these, or no end of rounds, leads to the next weld distance and at last to a
// [Failure] with the place. No area is compared with those of other operations: by Green's
// theorem the winding numbers times the areas of faces sum up to the areas of the operands,
// however the faces are labelled, so that would prove nothing.
//
// Whatever the argument is worth, every result is compared with its operands by a way of its own:
// along lines of x the winding numbers of the operands say what belongs to it, and where a point
// further than 32w from all boundaries belongs to one and not to the other, there and 16w to its
// left or right, there is no result. There are two such lines if the first round settled all, else 64,
// through the widest loops and curves. Pieces of the operands too short for the graph count on these lines
// too, so that they meet closed curves. A wrong region that none of them meets would pass, and so would
// one narrower than 16w.
//
// # Bodies
//
// Upright bodies are measured in the plane and in height, within 1e-9 mm beyond what the
// plane adds. All else is searched between two bounds, until they meet within a tolerance:
//
//	tolerance                   mm                   why
//	distance, both convex       1e-8                 a hundredth of the promise, 1e-6; rounding
//	                                                 of support points is 1e-12 at 10 m
//	depth, both convex          1e-7                 a tenth of the promise; after 4000 points
//	                                                 of a body the upper bound so far is kept
//	arc under a tilted body     2e-8, 1.3e-7,        a part of an arc so near its chord counts
//	                            8.5e-7               as reached; with the 1e-8 above still
//	                                                 within the promise
//	swept body                  chosen, >= 1e-6      the cover reaches no further beyond the
//	                                                 sweep, and never short of it
//
// The depth of a concave body and a tilted one is an upper bound: a move proven to part
// them. Where much of an arc is all but equally near, it may need a still wider tolerance;
// then the gap says that it is not exact.
//
// # Index and shortest paths
//
// Pairs of n bodies nearer than a limit cost about n log n: 390, 755 and 1000 ns a body at
// n = 100, 1000 and 10 000 of even density, so 1.6 times n log n's growth over the whole
// range, most of it the caches'.
//
// Paths are taut: straight lines between tangents, arcs round obstacles grown by the
// clearance. Their tolerances follow from the promise that a length errs by less than
// 1e-6 mm over 10 m:
//
//	tolerance                   value                why
//	slack of clearances         1e-7 mm              ten weld distances, so that a slot twice the
//	                                                 clearance wide stays open; a tenth of the promise
//	least clearance             1e-6 mm              less counts as 0
//	circles touch               1e-11 mm             rounding must not make a line of its square
//	                                                 root; bending that early costs its cube
//	play of a tangent, arcs     1e-7 rad             moves a point by no more than the slack, or
//	                                                 2^-48 of the coordinates over the radius
//	play of a tangent, corners  1e-4 rad             harmless: it is the same point
//	longer way to a place       1e-9 mm              dropped from there on: more than rounding
//	turn that is no bend        1e-4 rad             with a bend radius only
//
// Proof obligations, each held by a test: a path keeps off every obstacle by the clearance
// less the slack (sampled along its whole length); it is no shorter than the straight
// line; it is as long as a brute-force search over all tangents finds; a NoWay's gap, when
// widened by what it lacks, opens a way.
//
// # Beside other libraries
//
// The command in peerbench runs published workloads for planar and solid geometry, in the
// form of their own programs, so that all stand in one run on one machine. One such run,
// one processor, the better of two rounds, nanoseconds an operation; arcs is this package
// on the true arcs from which the chords of the workload came:
//
//	workload                     here       arcs     fastest other     times
//	distance, disc and disc      1507       225      geos 7619         5.1
//	distance, plate and part     925-3920   440-828  geos 6922-30140   4.5-10
//	distance, plate and plate    1571-2653  629-794  geos 40100-103800 26-39
//	nearer than a limit          2.8-1987   2.8-652  geos, boost       1.9-29
//	union of a plate's parts     330000     137000   clipper 335400    1.02
//	grow, shrink a whole plate   296400     125800   geos 1102000      3.7
//	                             583100     152500   clipper 828300    1.4
//	grow, shrink its outline     39410      42610    geos 44760        1.14
//	                             31700      36720    geos 41560        1.31
//	pairs of 100 to 10000        38840 to   28850    fcl, geos 159900  2.3-4.1
//	                             11190000   8511000  to 26110000
//	distance, box and box        307                 bullet 322        1.05
//	  box and capsule            251                 bullet 269        1.07
//	  box, cylinder, capsule     846-1518            fcl, bullet       1.4-1.6
//	  hull and hull              1262                bullet 1409       1.12
//	  capsule and capsule        34                  fcl 61            1.8
//	shortest path, 10 to 200     1661 to             boost 29680       18-114
//	                             56460               to 6454000
//	  with clearance             2959 to             boost 173500      59-442
//	                             82230               to 36330000
//	  all tangents of 200 first  31900000            boost 21800000    0.68
//
// Behind are all tangents
// at once of 200 obstacles without clearance, since polygons have many more corners that see each other
// than a search ever asks for: tangents are worked out when a query needs them, which
// takes 5 ms there. Regions whose boxes are farther apart than the limit take 3.1 ns, most of which is
// the call, against 6.1 of geos.
package geom
