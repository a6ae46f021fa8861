// Package stair lays out stepped paths: the geometry of risers, treads, flights
// and landings between a foot and a head, the layout that costs least on the
// real ground, the rules it is measured by, and the table a builder sets it out
// from. It knows nothing of earth or timber: what a tread costs on the ground
// comes from the caller, through [Site].
//
// # Words
//
// Station is the horizontal distance along the path's centreline, uphill
// positive; level is the height above the datum. Foot and head are the path's
// lower and upper ends, each with a finished level. A flight is an unbroken
// series of risers with one tread depth; landings part flights. Wash is the
// forward fall of treads, and of landings, so that they drain: 0.02 is 2 in 100.
//
// # Geometry
//
// All n risers of a path are equal. Between n risers there are n−1 treads and
// landings; the first riser stands at the foot, and the n-th lands on the head.
// The treads rise a little from nosing to nosing when there is a wash w, so that
//
//	riser = (rise − w·run)/n
//
// and the finished surface behind riser k is the line
//
//	L(x) = foot level + k·riser + w·(x − foot station)
//
// [Lay] works a layout of your own out. [Layout.SurfaceAt] and [Layout.Surface]
// give finished levels, [Layout.StakeOut] the marks, each rounded once from its
// datum, and [Layout.Walk] how it walks: two risers and a tread against whole
// paces, and whether the same foot leads.
//
// # The fit
//
// [Fit] searches every layout that keeps to [Limits]: every number of risers,
// every parting into flights, every tread and landing on a grid of 10 mm or so,
// and finds the one of least cost on a [Site]. The answer is exact, the same that
// trying everything would give, and so are ties, which break in a stated order.
// When there is none it says which limits clash and what smallest single change
// would do.
//
// A site is asked two things of a cell of the path at a finished level: what it
// costs, and whether the path may stand there. Digging limits belong to the
// second. Costs are in any one measure: volume dug, hours, money.
//
// [Task] is the fit in full: ends that are free among several points, box and
// framed flights mixed along the path and parted by landings, platforms between
// framed flights, flights that cost something as wholes ([FlightPricer]), and
// what uneven walking costs. Of [Limits], Courses ties riser heights to what
// timbers make, Bends asks for depth where treads are wedges ([Layout.Wedges]),
// and FirstStands begins on a riser that was built before. [Choices] gives the
// layouts worth choosing between under several measures, [Price] what any layout
// costs on a site.
//
// How long it takes: 12 m of path with 20 readings some hundredths of a second
// or less; the work grows with something between the square and the cube of the
// number of risers, and a hillside of a thousand takes some tens of seconds and
// less than 256 MB. The walker and free ends add most to it.
//
// # Rules
//
// A [RuleSet] is data: each figure with its clause, edition and source, and
// whether it is only remembered. [RuleSet.Limits] makes limits for a fit of it,
// [RuleSet.Check] measures a layout against it. A finding compares two figures;
// it does not say that something is permitted. Mind what a rule set applies to:
// the building codes mostly bind stairs that belong to a building, not a
// free-standing garden path.
//
// # Errors
//
// Every error is a [Faults], with all that is wrong at once. Field paths are
// relative to what was passed in: foot.station, flights[1].tread, riser_max.
// Lengths are metres, SI throughout; NaN, infinities and absurd sizes are faults
// and never panics. Time and memory of a fit are capped.
package stair
