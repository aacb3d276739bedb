package geom

// The tolerances of the plane, all in millimetres. They are constants: an answer never
// depends on a setting somewhere else.
//
// A coordinate of 10 m is 1e4 mm and is stored to 2^-53 * 1e4 = 1.1e-12 mm. A distance
// adds up about ten such roundings, so 1e-11 mm is the noise floor of this package and
// 1e-6 mm, the promised error, lies five powers of ten above it. Everything that must
// decide "the same" sits between the two, at 1e-9 mm: a hundred times the noise and a
// thousandth of the promise.
const (
	// MaxCoord is the largest coordinate accepted,
	// 10 km; also how far an arc may reach. Up there a coordinate is still stored to 2e-9 mm.
	MaxCoord = 1e7

	// Coincident is the distance up to which two points are one point: shorter pieces
	// are dropped, distances below it are reported as 0 (the shapes touch), and a point
	// this near to a boundary counts as on it.
	Coincident = 1e-9

	// flatSagitta is the height over its chord up to which an arc is taken as its chord.
	// The error made is the height itself, 1e-10 mm, ten thousand times under the promise.
	flatSagitta = 1e-10

	// maxBulge is the largest bulge accepted, a sweep of 2π - 4e-6: the ends of such an arc
	// lie 4e-6 radii apart. A full circle is two arcs.
	maxBulge = 1e6

	// shallowRadius is the radius in mm from which the distance to an arc is computed from
	// its chord and bulge instead of its centre. Below, |p - c| - r loses at most
	// 2^-52 * 1e5 = 2e-11 mm.
	shallowRadius = 1e5

	// followRadius is the radius in mm beyond which an arc is followed by chords: centres so
	// far away leave only 2^-52 * 1e8 = 2e-8 mm. Such an arc over a chord of 1 m is at most
	// 1.3 µm high. The chords stay within followSagitta mm of it, or within the share
	// followShare of its chord if that is more, which it is from 0.2 m on: over 2 m that is
	// 2e-9 mm and takes at most 1600 chords.
	followRadius  = 1e8
	followSagitta = 2e-10
	followShare   = 1e-12

	// maxFollow and maxFollowLoop bound the number of chords of one arc and of one loop, so
	// that bad input cannot eat memory. They bind beyond 2 m, or from 65 such arcs a loop
	// on; then the chords of n arcs stay within 1/min(2048, 131072/n)² of the arc's height.
	maxFollow     = 1 << 11
	maxFollowLoop = 1 << 17

	// fanRadius and fanSagitta are the same for overlap depths, which add up distances to
	// centres: 2^-52 * 1e7 = 2e-9 mm is what a centre leaves.
	fanRadius  = 1e7
	fanSagitta = 1e-8

	// maxDent is the depth of a dent up to which a loop counts as convex: what rounding does
	// to the joints of lines and arcs, and the error that depths may have by it.
	maxDent = 1e-10
)
