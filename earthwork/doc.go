// Package earthwork turns what was read on a hillside into the ground, and the
// ground into earth to move.
//
// It is the manual of two jobs that follow one another, and either can be used
// without the other: read the ground, then dig it. The package needs no other
// public package of the module.
//
// # Coordinates
//
// Station is the horizontal distance along the centreline of the path, uphill
// positive. Level is the height above a datum. Crossfall is the side slope of
// the ground, rise per unit width, positive up to the right looking uphill.
// Lengths are unit.Length values (github.com/martinlindhe/unit) and so may be given in metres, feet or
// inches; crossfalls, grades and batters are plain ratios. Crossfall always is
// as seen looking uphill, whichever end the readings begin at.
//
// # Ground
//
// [Ground] is the surface before the work: points of station and level,
// straight in between. [NewGround] makes one from points. It never changes, and
// [Ground.Shift] gives the same ground from another origin. Nothing is known
// beyond the first and last point, so [Ground.LevelAt] has no level there.
//
// # Reading the ground
//
// There are five ways to read a hillside. Each is a struct with a Survey method
// that gives the [Ground], a rise and a run with their ±, the checks the
// readings were put to, and notes:
//
//	TotalReadings   rise and run, nothing between    a straight line, and a note of what that hides
//	StringReadings  drops from a level string        sag, tilt
//	RodReadings     a level book                     arithmetic, misclose, levels the user booked
//	SlopeReadings   tape up the slope, clinometer    slope length against run
//	LevelReadings   stations and levels as given     only that they go uphill
//
// Where a ground begins and what its levels are above:
//
//   - total, string and slope: the lower end of the readings is at station 0 and
//     level 0. A string is turned round when it was read from the head, and
//     slope legs when they go downhill all told.
//   - rod: stations as given; levels above the datum of the first bench, else
//     of the first level booked, else of the ground point of least station.
//   - levels: both as given.
//
// A [Check] that fails leaves the ground usable and says what would do. What
// cannot be right is an error: a [Faults] that names every fault at once. Those
// are readings out of order or twice at one station, negative or not finite
// where that means nothing, and beyond what anyone reads (mostly millimetres
// given as metres); a string whose foot comes out above its head; a level book
// with a cell missing, with a booked level that does not follow, or that misses
// a bench by more than levelling allows.
//
// # How good the readings are
//
// Accuracy is the ± of one reading; the ± of a rise or run follows from it by
// adding independent errors in squares, and carries the same odds. Left at 0
// each accuracy has a default, which is common practice and no published
// figure:
//
//	method   one reading                      rise ±                              run ±
//	total    a = 25 mm                        a                                   a
//	string   drop a = 5 mm, tilt g = 0.002    √(2a² + (g·run)²)                   √2·t
//	rod      a = 3 mm, k set-ups between      a·√(2k)                             √2·t
//	slope    leg a = 10 mm, angle δ = 0.5°    √Σ((a·sin θ)² + (δ·s·cos θ)²)       √Σ((a·cos θ)² + (δ·s·sin θ)²)
//	levels   a = 5 mm                         √2·a                                √2·t
//
// t, the ± of one station, is 10 mm.
//
// # The string
//
// A string sags: w·L²/(8T) in the middle of a span L, under the pull T, when it
// weighs w per length (from memory). The check compares that with the accuracy of
// a drop and says what pull or what span would do. Defaults: 1.4 g/m, a No. 18
// twisted nylon line (from memory); 50 N of pull and a line level of 20 g (common
// practice). A level hung x off mid-span tilts the string x·(w·L + W)/T from end
// to end, W being its weight. The string level is for short distances, with the
// string tight, and is tested by turning it end for end on the string (Nichols &
// Day, Moving the Earth, p 2.40).
//
// # The level book
//
// One line of [RodReadings] is one place the rod stood. The first line has a
// back, the last a fore; a turning point has both, the fore read from the old
// set-up and the back from the new one; every other line has a mid. A reading
// below 0 was read with the rod upside down. Lines with At are ground on the
// path, lines with Bench have a known level.
//
// The book is reduced by rise and fall and always shows ΣBS − ΣFS =
// Σrise − Σfall = last level − first. That checks the arithmetic, and catches a
// level the user booked wrong; only a second bench catches a misread rod. The
// misclose there may be m·√n for n set-ups, m being 5 mm (construction; Uren &
// Price, Surveying for Engineers, from memory), and is then shared out equally
// per set-up (NAVEDTRA 14071, Level computations). [Closings] has the limits by
// distance.
//
// # The tape
//
// [SlopeCorrection], [SagShortening], [MidSag], [HandLevelRise], [PaceLength] and
// [PacedDistance] are the small sums of the field: each takes and gives lengths.
//
// # Sections and volumes
//
// [Section] is the dig seen along the path: a level formation as wide as the path
// and the working space beside it, and sides at a batter. [Ground.Dig] measures a
// [Stretch] of it against the ground by exact integration; [Ground.CutCells] does
// so for many short cells at once, for a fit that tries many paths.
//
// [Ground.DigParts] takes a cut apart by what it makes room for: each layer of the
// build-up, what is above them, the working space, the sides cut back, and the
// topsoil if that is kept apart, for which see also [Ground.StripTopsoil]. [Trench],
// [Pit] and [PostHole] are holes below the formation. All are [Parts], bank measure,
// which add up.
//
// # Bends
//
// [Ground.WithBends] makes the path turn in plan, in arcs of its centreline. Stations
// go on along the centreline and sections stay square to it, so that what lies y
// to the right of the centreline of a bend of radius R to the right is 1 − y/R as
// long: a section moves its area times the way its centroid goes (Pappus), and
// [Ground.Dig] and [Ground.CutCells] reckon so. The dig must stay on its side of the
// centre of the bend.
//
// A part of a cut lies on one side of the centreline, and [Section.Centroids] says how
// far; what runs beside the path is as long as [Ground.ParallelLength].
//
// # Soil
//
// Earth has three measures and a volume always says which it is in: bank, as it
// lies; loose, as it is carried; compacted, as it is rammed in place. What a soil
// does between them, and what it weighs, is in [Soils].
//
// [HaulPlan] says where it goes: the mass-haul curve, and the cheapest way there is
// to take what is over at some steps to those that want it and to the places for the
// rest. Its volumes are loose, and they balance to the last bit: what leaves a step and
// what stays on it is what was cut there.
//
// # Water
//
// [Runoff] is what a storm sends down onto the path, by the rational method
// Q = C·i·A with the coefficients of [RunoffCoefficients] (ASCE; Schwab et al., Soil
// and Water Conservation Engineering, 4th ed.). [Channel] and [Pipe] carry it off by
// Manning's formula, Q = 1/n·A·R^(2/3)·√S, with the roughnesses of [Roughnesses] (Chow,
// Open-Channel Hydraulics, from memory). The storm is the user's to find: it is a
// figure of the place. Of steep ground the coefficients of the books are too low.
//
// # Cautions
//
// The Check functions hold facts of a plan against published limits, and return a
// [Caution] for each that is passed, with limit, actual figure and source:
//
//	CheckBank      height and slope of a bank that is not held    29 CFR 1926 Subpart P
//	CheckPile      a heap and the edge of the cut                  29 CFR 1926.651(j)(2)
//	CheckRetained  permit, engineer and guard for what is held     IRC R105.2, R404.4; local limits
//	CheckSlopes    steep ground, slopes that stay, boundaries      IBC Appendix J; UBC 1997 Appendix 33, from memory
//	CheckChannel   room for the water, and bare soil it wears      Manning; Fortier and Scobey, from memory
//	CheckPipe      room for the water, and the least fall          Manning; UFC 3-270-04
//	CheckLift      a lift, alone or in a team                      NIOSH 94-110; HSE L23
//
// A limit met exactly is met (protection at 5 ft begins at 5 ft, as its rule says). No
// caution means that no limit here is passed, not that a thing is safe.
//
// # Errors
//
// Field paths are the names of the struct's fields in lower snake case, counted
// from 0: readings[3].drop. Nothing an input holds makes this package panic, and
// counts are bounded (10 000 points, readings or steps), so that work is too.
package earthwork
