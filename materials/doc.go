// Package materials turns box steps into what has to be bought: a take-off
// ([TakeOff]), a cut plan at proven least cost ([Cut]) and a bill ([MakeBill]).
// Each can be used alone: the cut plan will cut any list of pieces, and the
// bill will price any take-off.
//
// # Words
//
// A section is what a timber measures across, dressed and not nominal: a 6x6 is
// 5.5 by 5.5 in ([Sections]). A course is one layer of timbers. A riser made of
// courses is made up by bedding, gravel tamped under it, or is buried, its
// lowest course standing below the surface in front ([BoxDetail.Courses]). The
// build-up is topping, fill and base together. Loose is a volume in the truck,
// compacted one in place ([Aggregate]).
//
// # From boxes to a bill
//
//	off, err := materials.TakeOff(boxes, materials.DefaultBoxDetail())
//	plan, err := materials.Cut(off.Pieces, stock, materials.CutOptions{Kerf: unit.Inch / 8})
//	bill, err := materials.MakeBill(off.Treat(plan), plan, prices)
//
// Every item of a take-off shows what the work needs, the waste allowed and what
// to order, apart. [Takeoff.Treat] adds the preservative for the ends that the
// plan cuts on site, so it comes after the cut plan. Pieces whose section has no
// stock, often the pins, are left to the price list.
//
// # The geometry of a box
//
// The timbers of a box stand in its upper layers, on the base where courses and
// layers agree. Measured along the path from the face of the riser timber:
//
//	0 … w          riser timber, its breadth w, across the full width
//	w … tread      two side timbers against its back, as many courses
//	tread … + lap  the sides run on under the next riser timber, unless that
//	               one is buried; then they stop at its face
//
// The last riser's sides run a return into the bank. Treads are reckoned level:
// a wash of 2 % lengthens a side by a fiftieth of a per cent.
//
// # The cut plan
//
// n pieces fit a board when their lengths and n−1 kerfs are at most the board
// less its trim; lengths are whole numbers of 1/960 mm, which holds 1/64 in,
// 1/12 in and 0.1 mm exactly. Each section is solved on its own: patterns by
// column generation after Gilmore and Gomory, then branch and bound. The bound
// is computed in whole numbers, so [CutGroup.Proven] is a proof and does not
// hang on rounding. Where the effort ends before the proof does, the plan is
// the best found and the bound says how far from the best it can be at most.
//
// At equal cost the plan has the fewest boards ([CutGroup.FewestBoards] says
// whether that was proved too) and then gathers what is left in one offcut,
// which is not proved to be the longest there is.
//
// # Money
//
// Prices and sums are decimals from end to end. A line's cost is what is bought
// times the price, rounded half up to the currency's smallest coin; tax is
// rounded once, on the subtotal. A line without a price is left out of the
// total and named in [Bill.Unpriced].
//
// # Faults and limits
//
// Errors are [Faults]: all that is wrong, each with its field. Any input ends in
// bounded time and memory: at most [MaxBoxes], [MaxPieceEntries],
// [MaxPieceCount], [MaxStockEntries], [MaxStockLengths] and [MaxPrices]; more
// than 250 different lengths of one section get a plan and a bound without the
// search. The same input gives the same output, bit for bit, on every platform.
package materials
