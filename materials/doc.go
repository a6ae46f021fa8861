// Package materials turns box steps and framed flights into what has to be
// bought: a take-off ([TakeOff], [FramedTakeOff]), a cut plan at proven least
// cost ([Cut]) and a bill ([MakeBill]). Each can be used alone: the cut plan
// will cut any list of pieces, and the bill will price any take-off.
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
// stock, often the pins, are left to the price list. [Merge] puts take-offs
// together, so that all the timber of a section is cut from one stock.
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
// Ends butt unless the detail has another [Joint]; [BoxDetail.EndIn] is what it
// adds to a piece at each end, and the wood that it lays bare is treated. A box
// may also have boards before its riser, a timber across the back of a landing,
// courses on its sides that hold the cut bank up to [BoxDetail.BankTo], and, the
// first of them, a [Footing]. All of these are left out unless they are asked
// for. The path's bends take boxes with sides of two lengths and mitred ends:
// [Wedge], [WedgePieces].
//
// # Framed flights
//
// A [FramedFlight] stands on stringers, cut out or solid, from a pad, a landing
// or the ground to a deck's edge. [FramedFlight.Stringer] is its layout: marks,
// throat, length, the drop of the bottom riser. [FramedFlight.Checks] holds
// every member against a guide's figures and against calculation ([Beam]), each
// with its source; what only a tested assembly can settle is left open and said
// so. [FramedTakeOff] lists stringers, treads, posts, footings, guards and
// handrails, [TreatFramed] their preservative, and [FramedClearance] says how
// deep the flight reaches below its treads.
//
// # Edging, drains and lights
//
// [Edging.Items], [Drain.Items] and [Lights.Items] give more items for a
// take-off's list; lights come with the voltage at each lamp.
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
// At equal cost the plan has the fewest boards, or with the goal
// [FewestPatterns] does not count them; then the fewest different patterns; and
// then what is left is gathered in one offcut without making more patterns.
// [CutGroup.FewestBoards] and [CutGroup.FewestPatterns] say whether those were
// proved as well; the offcut is never proved to be the longest there is.
//
// Offcuts on hand are stock at price 0 of which so many are available. They are
// used wherever that saves money, or where prices are missing wherever it saves
// length. What may not be brought or carried is passed over
// ([CutOptions].LongestBoard and HeaviestBoard), and pieces can be held to keep
// factory ends.
//
// # Money
//
// Prices and sums are decimals from end to end. A line's cost is what is bought
// times the price, rounded to the currency's smallest coin, half up unless
// another [Rounding] is asked for; tax is rounded once, on the sum of what is
// taxed. [Bill.Rounding] says so in words. Deliveries, by the load or at once,
// mark-ups and labour are lines like any other. A line without a price is left
// out of the total and named in [Bill.Unpriced]. [CompareBills] sets two bills
// side by side.
//
// # Tables
//
// [ReadPrices] reads a price list from comma-separated values and names every
// fault by its line. [Takeoff.CSV], [Takeoff.PiecesCSV], [CutPlan.CSV],
// [Bill.CSV] and [PricesCSV] write tables after RFC 4180 that are safe to open
// in a spreadsheet: no cell begins a formula.
//
// # Faults and limits
//
// Errors are [Faults]: all that is wrong, each with its field. Any input ends in
// bounded time and memory: at most [MaxBoxes], [MaxPieceEntries],
// [MaxPieceCount], [MaxStockEntries], [MaxStockLengths], [MaxPrices],
// [MaxCharges], [MaxPriceFile] and [MaxFlights]; more than 250 different lengths of one section get a plan and a bound without the
// search. The same input gives the same output, bit for bit, on every platform.
package materials
