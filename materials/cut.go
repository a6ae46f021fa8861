package materials

import (
	"fmt"
	"math"
	"sort"
	"strconv"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
)

// Limits of a cut plan. More than these is a fault, so that any input takes
// bounded time and memory.
const (
	MaxPieceEntries = 100_000
	MaxPieceCount   = 1_000_000
	MaxStockEntries = 1000
	MaxStockLengths = 100 // of one section
)

// Stock is a length that can be bought, or an offcut on hand at price 0.
type Stock struct {
	Section string
	// Length is from 10 mm to 100 m.
	Length unit.Length
	// Price of one, at most a million with four decimals. Ignored when Unpriced is set.
	Price    decimal.Decimal
	Unpriced bool
	// Available is how many there are; 0 is as many as are wanted.
	Available int
}

// CutOptions say how boards are cut and how hard to look for the best plan.
// The zero value saws without kerf or trim at the default effort.
type CutOptions struct {
	// Kerf is the width of a saw cut, Trim what is cut off one end of every
	// board to square it, its own saw cut included. n pieces fit a board when
	// their lengths and n-1 kerfs are at most the board less the trim. Both
	// from 0 to 100 mm.
	Kerf, Trim unit.Length
	// Effort bounds the search for the whole plan, counted in steps of the
	// search and not by the clock, so that the same input gives the same plan
	// everywhere. A step is a few thousand operations, a few microseconds of a
	// desktop computer of 2025. 0 is [DefaultEffort].
	Effort int
}

// DefaultEffort is the effort where none is given: a few seconds at most, and
// most plans need less than a hundredth of it.
const DefaultEffort = 1_000_000

// CutPlan says what to buy and how to cut it.
type CutPlan struct {
	// Boards in order of section, then as bought: longest stock first.
	Boards []Board
	// Groups has one entry a section, in order of the sections' names.
	Groups []CutGroup
	// Cost is that of the priced boards, Bound what no plan can undercut, and
	// Proven whether every section's plan is the best there is.
	Cost, Bound decimal.Decimal
	Proven      bool
	// Unstocked are the pieces for whose section no stock was given.
	Unstocked []Piece
	Notes     []Note
}

// CutGroup is the outcome for one section.
type CutGroup struct {
	Section string
	// Priced is false where a price is missing: then the plan buys the least
	// length, and Cost and Bound are 0.
	Priced      bool
	Cost, Bound decimal.Decimal
	// Bought, Used and Left are lengths: of the boards, of the pieces, and of
	// the offcuts; what is missing went into kerfs and trim. Least is the bound on Bought
	// where that was the aim.
	Bought, Used, Left, Least unit.Length
	Boards                    int
	// Proven says that no plan costs less; FewestBoards that at this cost none
	// has fewer boards.
	Proven, FewestBoards bool
}

// Board is a stock length and the pieces cut from it, in the order of cutting;
// Count boards are cut alike.
type Board struct {
	Section  string
	Stock    unit.Length
	Price    decimal.Decimal
	Unpriced bool
	// OnHand: an offcut that is there already.
	OnHand bool
	Count  int
	Pieces []BoardPiece
	// Offcut is what is left after the last saw cut, 0 where nothing is.
	Offcut unit.Length
	trim   bool
	whole  bool
}

// BoardPiece is one piece of a board.
type BoardPiece struct {
	Length unit.Length
	Use    string
}

// CutEnds is the number of piece ends of one board that the saw makes: every
// end but those that the board came with.
func (b Board) CutEnds() int {
	n := 2 * len(b.Pieces)
	if n == 0 {
		return 0
	}
	if !b.trim {
		n--
	}
	if b.whole {
		n--
	}
	return n
}

// tick is the unit in which lengths are cut: 1/24384 in, which is 1/960 mm. It
// holds 1/64 in, 1/12 in and 0.1 mm exactly, so that kerfs add up without error.
const tick = 0.0254 / 24384

// ticks turns a length into ticks; exact says that nothing was rounded.
func ticks(l unit.Length, up bool) (n int64, exact bool) {
	x := l.Meters() / tick
	r := math.Round(x)
	if math.Abs(x-r) < 1e-3 {
		return int64(r), true
	}
	if up {
		return int64(math.Ceil(x)), false
	}
	return int64(math.Floor(x)), false
}

// Cut finds the cheapest boards to buy for the pieces, and how to cut them.
// Each section is its own problem. Where all the stock of a section that is
// wanted has a price the plan costs the least; else it buys the least length
// and says so. At equal cost it prefers fewer boards, and then offcuts in one
// piece; the last without proof.
//
// Stock without a price is passed over, with a note, where the priced stock
// alone will do. Lengths off the grid of 1/960 mm are rounded to the safe
// side, with a note.
//
// The error is a [Faults]; a piece that fits no board of its section is one.
func Cut(pieces []Piece, stock []Stock, o CutOptions) (CutPlan, error) {
	var faults Faults
	checkCut(pieces, stock, o, &faults)
	if len(faults) > 0 {
		return CutPlan{}, faults
	}
	plan := CutPlan{Proven: true}
	mine := map[string][]int{}
	var names []string
	for i, p := range pieces {
		if p.Count == 0 {
			continue
		}
		if mine[p.Section] == nil {
			names = append(names, p.Section)
		}
		mine[p.Section] = append(mine[p.Section], i)
	}
	sort.Strings(names)
	ours := map[string][]int{}
	for i, s := range stock {
		ours[s.Section] = append(ours[s.Section], i)
	}
	left := 0 // sections that are still to share the effort
	for _, name := range names {
		if len(ours[name]) > 0 {
			left++
		}
	}
	effort := int64(o.Effort)
	if effort == 0 {
		effort = DefaultEffort
	}
	for _, name := range names {
		if len(ours[name]) == 0 {
			for _, i := range mine[name] {
				plan.Unstocked = append(plan.Unstocked, pieces[i])
			}
			continue
		}
		share := effort / int64(left)
		effort -= cutSection(name, mine[name], ours[name], pieces, stock, o, share, &plan, &faults)
		left--
	}
	if len(faults) > 0 {
		return CutPlan{}, faults
	}
	for _, g := range plan.Groups {
		plan.Cost = plan.Cost.Add(g.Cost)
		plan.Bound = plan.Bound.Add(g.Bound)
		plan.Proven = plan.Proven && g.Proven
	}
	return plan, nil
}

func checkCut(pieces []Piece, stock []Stock, o CutOptions, f *Faults) {
	checkLength("kerf", o.Kerf, 0, 100*unit.Millimeter, f)
	checkLength("trim", o.Trim, 0, 100*unit.Millimeter, f)
	checkCount("effort", o.Effort, 0, 1_000_000_000, f)
	if len(pieces) > MaxPieceEntries {
		f.Add("pieces", strconv.Itoa(len(pieces)), fmt.Sprintf("is more than %d entries", MaxPieceEntries), "join equal pieces, or split the list")
		return
	}
	if len(stock) > MaxStockEntries {
		f.Add("stock", strconv.Itoa(len(stock)), fmt.Sprintf("is more than %d entries", MaxStockEntries), "leave out lengths that are not wanted")
		return
	}
	total := 0
	used := map[string]bool{}
	for i, p := range pieces {
		if len(*f) > 100 { // enough to show what is wrong with the list
			return
		}
		at := fmt.Sprintf("pieces[%d].", i)
		if p.Section == "" {
			f.Add(at+"section", "", "is missing", "name the section, as 6x6")
		}
		used[p.Section] = true
		checkLength(at+"length", p.Length, unit.Millimeter, 100*unit.Meter, f)
		if checkCount(at+"count", p.Count, 0, MaxPieceCount, f) {
			total += p.Count
		}
	}
	if total > MaxPieceCount {
		f.Add("pieces", strconv.Itoa(total), fmt.Sprintf("is more than %d pieces", MaxPieceCount), "split the list")
	}
	type key struct {
		section string
		length  int64
	}
	seen := map[key]int{}
	lengths := map[string]int{}
	for i, s := range stock {
		if len(*f) > 100 {
			return
		}
		at := fmt.Sprintf("stock[%d].", i)
		if s.Section == "" {
			f.Add(at+"section", "", "is missing", "name the section, as 6x6")
		} else if !used[s.Section] {
			if _, err := SectionByName(s.Section); err != nil {
				f.Add(at+"section", s.Section, "is neither the section of a piece nor one known by name", "write it as in the pieces")
			}
		}
		if !checkLength(at+"length", s.Length, 10*unit.Millimeter, 100*unit.Meter, f) {
			continue
		}
		checkCount(at+"available", s.Available, 0, MaxPieceCount, f)
		if !s.Unpriced {
			checkPrice(at+"price", s.Price, f)
		}
		if lengths[s.Section]++; lengths[s.Section] == MaxStockLengths+1 {
			f.Add(at+"section", s.Section, fmt.Sprintf("has more than %d lengths", MaxStockLengths), "leave out lengths that are not wanted")
		}
		n, _ := ticks(s.Length, false)
		// An offcut on hand may be as long as a stock length that is bought.
		if s.Available == 0 {
			k := key{s.Section, n}
			if j, ok := seen[k]; ok {
				f.Add(at+"length", show(s.Length), fmt.Sprintf("of %s is given twice, as stock[%d] already", s.Section, j), "give each length one price")
			}
			seen[k] = i
		}
	}
}

// maxPrice keeps whole numbers of the smallest coin within 64 bits.
var maxPrice = decimal.New(1, 6)

func checkPrice(field string, p decimal.Decimal, f *Faults) {
	switch {
	case !plain(p):
		f.Add(field, showDecimal(p), "is not an amount of money", "give up to a million with at most four decimals")
	case p.IsNegative():
		f.Add(field, showDecimal(p), "is negative", "give 0 or more")
	case p.GreaterThan(maxPrice):
		f.Add(field, showDecimal(p), "is more than 1000000", "give the price of one")
	case !p.Truncate(4).Equal(p):
		f.Add(field, showDecimal(p), "has more than four decimals", "round it")
	}
}

// plain says that a number can be worked with: an exponent of a billion, which
// a text may hold, would take a billion digits to add or compare.
func plain(d decimal.Decimal) bool {
	return d.Exponent() >= -20 && d.Exponent() <= 20 && d.Coefficient().BitLen() <= 128
}

// showDecimal writes a number without unfolding an enormous one.
func showDecimal(d decimal.Decimal) string {
	if plain(d) {
		return d.String()
	}
	digits := "many digits"
	if c := d.Coefficient(); c.BitLen() <= 128 {
		digits = c.String()
	}
	return digits + "e" + strconv.Itoa(int(d.Exponent()))
}

// cutSection plans one section: the pieces mine from the stock all. It returns
// the effort spent.
func cutSection(name string, mine, all []int, pieces []Piece, stock []Stock, o CutOptions, effort int64, plan *CutPlan, faults *Faults) (spent int64) {
	kerf, exact := ticks(o.Kerf, true)
	trim, ok := ticks(o.Trim, true)
	exact = exact && ok

	// Equal lengths are one item; which piece is which is settled at the end.
	need := map[int64]int{}
	for _, i := range mine {
		n, ok := ticks(pieces[i].Length, true)
		exact = exact && ok
		need[n] += pieces[i].Count
	}
	var priced []int
	lengths := make([]int64, len(stock))
	for _, i := range all {
		n, ok := ticks(stock[i].Length, false)
		exact = exact && ok
		lengths[i] = n - trim
		if !stock[i].Unpriced {
			priced = append(priced, i)
		}
	}
	longest := int64(0)
	for _, i := range all {
		if lengths[i] > longest {
			longest = lengths[i]
		}
	}
	bad := false
	for _, i := range mine {
		if n, _ := ticks(pieces[i].Length, true); n > longest {
			faults.Add(fmt.Sprintf("pieces[%d].length", i), show(pieces[i].Length), fmt.Sprintf("fits no stock of %s, the longest is %s", name, show(unit.Length(float64(longest)*tick))),
				"give a longer stock or splice the piece")
			bad = true
		}
	}
	if bad {
		return 0
	}
	if !exact {
		plan.Notes = append(plan.Notes, Note{Says: fmt.Sprintf("lengths of %s are not all whole 1/64 in, 1/12 in or 0.1 mm: pieces and kerf were rounded up and stock down, by at most 1/960 mm", name)})
	}

	// The problem in whole numbers: pieces l+k on boards L+k.
	build := func(from []int, byPrice bool) *cutProblem {
		p := &cutProblem{effort: effort}
		for n, count := range need {
			p.items = append(p.items, cutItem{len: n + kerf, n: count, id: n})
		}
		sortItems(p)
		scale := priceScale(from, stock)
		for _, i := range from {
			if lengths[i] <= 0 {
				continue
			}
			c := cutStock{len: lengths[i] + kerf, avail: stock[i].Available, id: i}
			if byPrice {
				c.cost = stock[i].Price.Shift(scale).IntPart()
			} else {
				c.cost, _ = ticks(stock[i].Length, false)
			}
			p.stocks = append(p.stocks, c)
		}
		// Boards hold whole multiples of what all the pieces are multiples of.
		p.grain = 0
		for _, it := range p.items {
			p.grain = gcd(p.grain, it.len)
		}
		for i := range p.items {
			p.items[i].len /= p.grain
		}
		for i := range p.stocks {
			p.stocks[i].len /= p.grain
		}
		return p
	}
	from, byPrice := priced, len(priced) > 0
	var p *cutProblem
	var sol *cutSolution
	if byPrice {
		p = build(priced, true)
		sol = p.solve()
		spent += p.spent
	}
	if sol == nil {
		from, byPrice = all, len(priced) == len(all)
		if p = build(all, byPrice); !byPrice {
			sol = p.solve()
			spent += p.spent
		}
	}
	if sol == nil {
		faults.Add("stock", "", fmt.Sprintf("of %s: no way was found to cut all the pieces from the boards that are available", name), "raise what is available, or add a length")
		return spent
	}
	if len(from) < len(all) {
		plan.Notes = append(plan.Notes, Note{Says: fmt.Sprintf("stock of %s without a price was passed over", name)})
	}
	if !byPrice {
		plan.Notes = append(plan.Notes, Note{Says: fmt.Sprintf("prices of %s are missing: the plan buys the least length", name)})
	}
	group := CutGroup{Section: name, Priced: byPrice, Proven: sol.proven, FewestBoards: sol.fewest}
	if byPrice {
		scale := priceScale(from, stock)
		group.Cost = decimal.New(sol.cost, -scale)
		group.Bound = decimal.New(sol.bound, -scale)
	} else {
		group.Least = unit.Length(float64(sol.bound) * tick)
	}
	sol.tidy(p)
	writeBoards(name, mine, pieces, stock, lengths, kerf, trim, byPrice, p, sol, plan, &group)
	plan.Groups = append(plan.Groups, group)
	return spent
}

// priceScale is how many decimals the prices have.
func priceScale(from []int, stock []Stock) int32 {
	var scale int32
	for _, i := range from {
		if stock[i].Unpriced {
			continue
		}
		p := stock[i].Price
		for scale < 4 && !p.Truncate(scale).Equal(p) {
			scale++
		}
	}
	return scale
}

// writeBoards turns the solution into boards: real pieces in place of items,
// longest first on the board, equal boards counted together.
func writeBoards(name string, mine []int, pieces []Piece, stock []Stock, lengths []int64, kerf, trim int64, byPrice bool, p *cutProblem, sol *cutSolution, plan *CutPlan, group *CutGroup) {
	// Pieces of each length wait in input order.
	type wait struct{ piece, left int }
	queue := map[int64][]wait{}
	for _, i := range mine {
		n, _ := ticks(pieces[i].Length, true)
		queue[n] = append(queue[n], wait{i, pieces[i].Count})
	}
	sort.SliceStable(sol.cuts, func(i, j int) bool {
		a, b := sol.cuts[i], sol.cuts[j]
		if x, y := p.stocks[a.stock].len, p.stocks[b.stock].len; x != y {
			return x > y
		}
		return lessItems(a.items, b.items)
	})
	for _, c := range sol.cuts {
		s := stock[p.stocks[c.stock].id]
		stockLen := lengths[p.stocks[c.stock].id]
		for left := c.times; left > 0; {
			// As many boards as can take the same pieces from the queues.
			run := left
			var parts []BoardPiece
			sum := -kerf
			for _, ic := range c.items {
				it := p.items[ic.item]
				sum += int64(ic.n) * it.len * p.grain
				rest := ic.n
				for k := range queue[it.id] {
					w := &queue[it.id][k]
					if w.left == 0 {
						continue
					}
					take := rest
					if w.left < take {
						take = w.left
					}
					if take > 0 && w.left/take < run {
						run = w.left / take
					}
					rest -= take
					if rest == 0 {
						break
					}
				}
			}
			for _, ic := range c.items {
				it := p.items[ic.item]
				rest := ic.n
				q := queue[it.id]
				for len(q) > 0 && q[0].left == 0 {
					q = q[1:]
				}
				queue[it.id] = q
				for k := range q {
					if rest == 0 {
						break
					}
					w := &q[k]
					take := rest
					if w.left < take {
						take = w.left
					}
					piece := pieces[w.piece]
					for j := 0; j < take; j++ {
						parts = append(parts, BoardPiece{Length: piece.Length, Use: piece.Use})
					}
					w.left -= take * run
					rest -= take
				}
			}
			spare := stockLen - sum
			if s.Unpriced {
				s.Price = decimal.Decimal{} // it was not looked at
			}
			b := Board{Section: name, Stock: s.Length, Price: s.Price, Unpriced: s.Unpriced, Count: run, Pieces: parts, trim: trim > 0, whole: spare == 0}
			if spare > kerf {
				b.Offcut = unit.Length(float64(spare-kerf) * tick)
			}
			plan.Boards = append(plan.Boards, b)
			left -= run
			group.Boards += run
			group.Bought += unit.Length(float64(run) * s.Length.Meters())
			group.Left += unit.Length(float64(run) * b.Offcut.Meters())
			for _, x := range parts {
				group.Used += unit.Length(float64(run) * x.Length.Meters())
			}
		}
	}
}
