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

// Stock is a length that can be bought, or an offcut on hand: one at price 0
// of which so many are Available.
type Stock struct {
	Section string
	// Length is from 10 mm to 100 m.
	Length unit.Length
	// Price of one, at most a million with four decimals. Ignored when Unpriced is set.
	Price    decimal.Decimal
	Unpriced bool
	// Available is how many there are; 0 is as many as are wanted.
	Available int
	// CutEnds is how many of its two ends were sawn before, as an offcut's are:
	// 0 to 2. A piece that must keep a factory end cannot have those.
	CutEnds int
}

// onHand says that it is there already.
func (s Stock) onHand() bool { return !s.Unpriced && s.Price.IsZero() && s.Available > 0 }

// FactoryEnds says that every piece of a use must keep ends that the board came
// with: 1, or 2, which takes a whole board of just that length.
type FactoryEnds struct {
	Use  string
	Ends int
}

// Goal is what is made least at equal cost.
type Goal string

// Goals: fewest boards and then fewest patterns, which is the zero value, or
// fewest patterns whatever the boards.
const (
	FewestBoards   Goal = ""
	FewestPatterns Goal = "patterns"
)

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
	// KeepFrom is the least offcut that is worth keeping: those are listed. 0
	// lists none.
	KeepFrom unit.Length
	// FactoryEnds names the uses whose pieces must keep factory ends. The trim
	// takes one end of a board, if that was not sawn already.
	FactoryEnds []FactoryEnds
	// LongestBoard is the longest that can be brought, as on a car's roof, and
	// HeaviestBoard the mass that can be carried; longer and heavier stock is
	// passed over, with a note, but not what is on hand. 0 is no limit. Mass is
	// reckoned with Density, where that is 0 with [WetTimber], and bars with
	// [SteelDensity]; the section must be one known by name.
	LongestBoard  unit.Length
	HeaviestBoard unit.Mass
	Density       Density
	// Dressed are sections that measure otherwise than the tables say, for their mass.
	Dressed Dressed
	// Then is the goal at equal cost.
	Then Goal
}

// DefaultEffort is the effort where none is given: a few seconds at most, and
// most plans need less than a hundredth of it.
const DefaultEffort = 1_000_000

// Items of a cut plan's notes that are about a whole section.
const (
	NoteRounded  = "rounded"  // its lengths are not all on the grid
	NoteUnpriced = "unpriced" // the least length of it is bought
)

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
	// Kept are the offcuts worth keeping, by section, longest first.
	Kept  []Offcut
	Notes []Note
}

// Offcut is what is left of Count boards, from [CutOptions].KeepFrom up.
type Offcut struct {
	Section string
	Length  unit.Length
	Count   int
	// FactoryEnd: one of its ends was never sawn.
	FactoryEnd bool
}

// CutGroup is the outcome for one section.
type CutGroup struct {
	_       [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Section string
	// Priced is false where a price is missing: then the plan buys the least
	// length, and Cost and Bound are 0.
	Priced      bool
	Cost, Bound decimal.Decimal
	// Bought, Used and Left are lengths: of the boards, of the pieces, and of
	// the offcuts; what is missing went into kerfs and trim. OnHand is what of
	// Bought was there already, Kept what of Left is worth keeping. Least is the
	// bound on Bought less OnHand where that was the aim. Longest is the longest
	// offcut.
	Bought, OnHand, Used, Left, Kept, Least, Longest unit.Length
	// Boards is their number, those on hand too, Patterns how many different
	// ways they are cut.
	Boards, Patterns int
	// Proven says that no plan costs less; FewestBoards that at this cost none
	// has fewer boards; FewestPatterns that none of this cost and no more boards
	// has fewer patterns, or, where that was the goal, none of this cost.
	Proven, FewestBoards, FewestPatterns bool
	// LongestOffcut says that none of this cost, with these boards and so many
	// patterns, has a longer single offcut.
	LongestOffcut bool
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
	// Count is how many are cut so.
	Count  int
	Pieces []BoardPiece
	// Offcut is what is left after the last saw cut, 0 where nothing is.
	Offcut unit.Length
	// FarEnd: the last piece keeps the board's far end; the offcut lies before
	// it.
	FarEnd bool
	trim   bool
	whole  bool
}

// BoardPiece is one piece of a board.
type BoardPiece struct {
	Length unit.Length
	Use    string
	// FactoryEnds is how many of its ends had to be the board's own, and are.
	FactoryEnds int
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
	if b.whole || b.FarEnd {
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
// and says so; what is on hand counts as nothing. At equal cost it prefers
// fewer boards, then fewer different patterns, and then the longest single
// offcut, each proven where [CutGroup] says so. Of plans equal in all that it
// tells the same one everywhere.
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
	sort.Slice(names, func(i, j int) bool { return names[i] < names[j] })
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
	c := below("", f)
	c.length("kerf", o.Kerf, 0, 100*unit.Millimeter)
	c.length("trim", o.Trim, 0, 100*unit.Millimeter)
	c.count("effort", o.Effort, 0, 1_000_000_000)
	c.length("keep_from", o.KeepFrom, 0, 100*unit.Meter)
	c.length("longest_board", o.LongestBoard, 0, 100*unit.Meter)
	c.number("heaviest_board", o.HeaviestBoard.Kilograms(), 0, 1e6)
	if o.Density != 0 {
		c.number("density", float64(o.Density), 100, 2000)
	}
	if o.Then != FewestBoards && o.Then != FewestPatterns {
		f.Add("then", string(o.Then), "is not a goal", "leave it out for the fewest boards, or write patterns")
	}
	if n := len(o.FactoryEnds); n > 1000 {
		f.Add("factory_ends", strconv.Itoa(n), "is more than 1000 uses", "leave out what is not wanted")
		return
	}
	named := map[string]int{}
	for i, e := range o.FactoryEnds {
		c := &checker{fmt.Sprintf("factory_ends[%d].", i), f}
		c.count("ends", e.Ends, 0, maxEnds)
		if j, ok := named[e.Use]; ok {
			c.add("use", e.Use, fmt.Sprintf("is there already, as factory_ends[%d]", j), "give each use once")
		}
		named[e.Use] = i
	}
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
		c := &checker{fmt.Sprintf("pieces[%d].", i), f}
		if p.Section == "" {
			c.add("section", "", "is missing", "name the section, as 6x6")
		}
		used[p.Section] = true
		c.length("length", p.Length, unit.Millimeter, 100*unit.Meter)
		if c.count("count", p.Count, 0, MaxPieceCount) {
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
		c := &checker{fmt.Sprintf("stock[%d].", i), f}
		if s.Section == "" {
			c.add("section", "", "is missing", "name the section, as 6x6")
		} else if !used[s.Section] {
			if _, err := FramedSectionByName(s.Section); err != nil {
				c.add("section", s.Section, "is neither the section of a piece nor one known by name", "write it as in the pieces")
			}
		}
		if !c.length("length", s.Length, 10*unit.Millimeter, 100*unit.Meter) {
			continue
		}
		c.count("available", s.Available, 0, MaxPieceCount)
		c.count("cut_ends", s.CutEnds, 0, maxEnds)
		if o.HeaviestBoard > 0 && used[s.Section] && !s.onHand() {
			if _, err := FramedSectionByName(s.Section); err != nil {
				c.add("section", s.Section, "is not known by name, so that its weight is not", "leave heaviest_board out, or write a section of the list")
			}
		}
		if !s.Unpriced {
			checkPrice(c.at+"price", s.Price, f)
		}
		if lengths[s.Section]++; lengths[s.Section] == MaxStockLengths+1 {
			c.add("section", s.Section, fmt.Sprintf("has more than %d lengths", MaxStockLengths), "leave out lengths that are not wanted")
		}
		n, _ := ticks(s.Length, false)
		// An offcut on hand may be as long as a stock length that is bought.
		if s.Available == 0 {
			k := key{s.Section, n}
			if j, ok := seen[k]; ok {
				c.wrong("length", s.Length, fmt.Sprintf("of %s is given twice, as stock[%d] already", s.Section, j), "give each length one price")
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

// sectionCut is the cutting problem of one section, from its pieces and stock
// to whole numbers.
type sectionCut struct {
	name       string
	pieces     []Piece
	stock      []Stock
	mine       []int // pieces
	all        []int // stock
	kerf, trim int64
	lengths    []int64 // of stock, less trim
	ends       []int   // of pieces, that must be factory ends
	o          CutOptions
	whole      []wholeBoard
	wholeCost  int64
}

// wholeBoard is a board that a piece is, with both its ends.
type wholeBoard struct{ piece, stock, times int }

// freeEnds is how many of a board's ends a piece can still keep.
func (c *sectionCut) freeEnds(s Stock) int {
	gone := s.CutEnds
	if gone == 0 && c.trim > 0 {
		gone = 1
	}
	return maxEnds - gone
}

// fits says that a piece can be cut from a board.
func (c *sectionCut) fits(piece, board int) bool {
	n, _ := ticks(c.pieces[piece].Length, true)
	if c.ends[piece] == maxEnds {
		whole, _ := ticks(c.stock[board].Length, false)
		return n == whole && c.freeEnds(c.stock[board]) == maxEnds
	}
	return n <= c.lengths[board] && c.ends[piece] <= c.freeEnds(c.stock[board])
}

// itemKey tells items of one length apart by whether they take an end.
func itemKey(ticks int64, ends int) int64 {
	if ends > 0 {
		return ticks*2 + 1
	}
	return ticks * 2
}

// carry leaves out of the stock what cannot be brought or carried, and says so.
func (c *sectionCut) carry(plan *CutPlan) {
	o := c.o
	if o.LongestBoard == 0 && o.HeaviestBoard == 0 {
		return
	}
	section, _ := o.Dressed.ByName(c.name)
	density := o.Density
	if density == 0 {
		density = WetTimber
	}
	if section.Round {
		density = SteelDensity
	}
	var may []int
	for _, i := range c.all {
		s := c.stock[i]
		long := o.LongestBoard > 0 && s.Length > o.LongestBoard+unit.Micrometer
		heavy := o.HeaviestBoard > 0 && density.Of(section.Volume(s.Length)).Kilograms() > o.HeaviestBoard.Kilograms()*(1+1e-9)
		if s.onHand() || !(long || heavy) {
			may = append(may, i)
		}
	}
	if len(may) < len(c.all) {
		plan.Notes = append(plan.Notes, Note{Item: c.name, Says: fmt.Sprintf("stock of %s that is too long to bring or too heavy to carry was passed over", c.name)})
	}
	c.all = may
}

// build makes the problem in whole numbers, pieces l+k on boards L+k, of some
// of the stock. It returns nil where whole boards are wanted that are not there.
func (c *sectionCut) build(from []int, byPrice bool, effort int64) *cutProblem {
	p := &cutProblem{effort: effort, anyBoards: c.o.Then == FewestPatterns}
	scale := priceScale(from, c.stock)
	cost := func(i int) int64 {
		switch s := c.stock[i]; {
		case byPrice:
			return s.Price.Shift(scale).IntPart()
		case s.onHand():
			return 0
		default:
			n, _ := ticks(s.Length, false)
			return n
		}
	}
	avail := map[int]int{}
	for _, i := range from {
		avail[i] = unbounded
		if n := c.stock[i].Available; n > 0 {
			avail[i] = n
		}
	}
	// Pieces that are whole boards take the cheapest; the others of that length
	// are as good for anything else.
	need := map[int64]cutItem{}
	c.whole, c.wholeCost = nil, 0
	for _, i := range c.mine {
		want := c.pieces[i].Count
		n, _ := ticks(c.pieces[i].Length, true)
		if c.ends[i] < maxEnds {
			key := itemKey(n, c.ends[i])
			need[key] = cutItem{len: n + c.kerf, n: need[key].n + want, id: key, end: c.ends[i] > 0}
			continue
		}
		for want > 0 {
			best := -1
			for _, t := range from {
				if avail[t] > 0 && c.fits(i, t) && (best < 0 || cost(t) < cost(best)) {
					best = t
				}
			}
			if best < 0 {
				return nil
			}
			times := want
			if avail[best] < times {
				times = avail[best]
			}
			if avail[best] != unbounded {
				avail[best] -= times
			}
			want -= times
			c.wholeCost += cost(best) * int64(times)
			c.whole = append(c.whole, wholeBoard{i, best, times})
		}
	}
	for _, it := range need {
		p.items = append(p.items, it)
	}
	sortItems(p)
	for _, i := range from {
		if c.lengths[i] <= 0 || avail[i] == 0 {
			continue
		}
		s := cutStock{len: c.lengths[i] + c.kerf, cost: cost(i), id: i, ends: c.freeEnds(c.stock[i])}
		if avail[i] != unbounded {
			s.avail = avail[i]
		}
		p.stocks = append(p.stocks, s)
	}
	// Boards hold whole multiples of what all the pieces are multiples of.
	for _, it := range p.items {
		p.grain = gcd(p.grain, it.len)
	}
	if p.grain == 0 {
		p.grain = 1
	}
	for i := range p.items {
		p.items[i].len /= p.grain
	}
	for i := range p.stocks {
		p.stocks[i].len /= p.grain
	}
	return p
}

// cutSection plans one section: the pieces mine from the stock all. It returns
// the effort spent.
func cutSection(name string, mine, all []int, pieces []Piece, stock []Stock, o CutOptions, effort int64, plan *CutPlan, faults *Faults) (spent int64) {
	c := sectionCut{name: name, pieces: pieces, stock: stock, mine: mine, all: all, o: o, lengths: make([]int64, len(stock)), ends: make([]int, len(pieces))}
	var exact, ok bool
	c.kerf, exact = ticks(o.Kerf, true)
	c.trim, ok = ticks(o.Trim, true)
	exact = exact && ok
	for _, i := range mine {
		_, ok := ticks(pieces[i].Length, true)
		exact = exact && ok
		for _, e := range o.FactoryEnds {
			if e.Use == pieces[i].Use {
				c.ends[i] = e.Ends
			}
		}
	}
	c.carry(plan)
	all = c.all
	var priced []int
	longest := int64(0)
	for _, i := range all {
		n, ok := ticks(stock[i].Length, false)
		exact = exact && ok
		if c.lengths[i] = n - c.trim; c.lengths[i] > longest {
			longest = c.lengths[i]
		}
		if !stock[i].Unpriced {
			priced = append(priced, i)
		}
	}
	bad := false
	for _, i := range mine {
		fits := false
		for _, t := range all {
			fits = fits || c.fits(i, t)
		}
		if fits {
			continue
		}
		bad = true
		n, _ := ticks(pieces[i].Length, true)
		at, got := fmt.Sprintf("pieces[%d].length", i), show(pieces[i].Length)
		switch {
		case len(all) == 0:
			faults.Add(at, got, fmt.Sprintf("has no stock of %s that can be brought and carried", name), "raise the limit, or add a shorter stock")
		case n > longest:
			faults.Add(at, got, fmt.Sprintf("fits no stock of %s, the longest is %s", name, show(unit.Length(float64(longest)*tick))),
				"give a longer stock or splice the piece")
		case c.ends[i] == maxEnds:
			faults.Add(at, got, fmt.Sprintf("must keep both ends of a board, and no stock of %s is just as long with both", name), "give such a length, untrimmed, or ask for one factory end")
		default:
			faults.Add(at, got, fmt.Sprintf("must keep a factory end, and no stock of %s that is long enough has one", name), "give one with such an end, or let the piece be sawn at both")
		}
	}
	if bad {
		return 0
	}
	if !exact {
		plan.Notes = append(plan.Notes, Note{Item: NoteRounded, Says: fmt.Sprintf("lengths of %s are not all whole 1/64 in, 1/12 in or 0.1 mm: pieces and kerf were rounded up and stock down, by at most 1/960 mm", name)})
	}

	from, byPrice := priced, len(priced) > 0
	var p *cutProblem
	var sol *cutSolution
	solve := func(from []int, byPrice bool) {
		if p = c.build(from, byPrice, effort); p != nil {
			sol = p.solve()
			spent += p.spent
		}
	}
	if byPrice {
		solve(priced, true)
	}
	if sol == nil {
		from, byPrice = all, len(priced) == len(all)
		if !byPrice {
			solve(all, false)
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
		plan.Notes = append(plan.Notes, Note{Item: NoteUnpriced, Says: fmt.Sprintf("prices of %s are missing: the plan buys the least length", name)})
	}
	sol.fewerPatterns(p)
	sol.tidy(p)
	sol.longestOffcut(p, offcutSteps)
	group := CutGroup{Section: name, Priced: byPrice, Proven: sol.proven, FewestBoards: sol.fewest, FewestPatterns: sol.fewestPatterns, LongestOffcut: sol.longest}
	if byPrice {
		scale := priceScale(from, stock)
		group.Cost = decimal.New(sol.cost+c.wholeCost, -scale)
		group.Bound = decimal.New(sol.bound+c.wholeCost, -scale)
	} else {
		group.Least = unit.Length(float64(sol.bound+c.wholeCost) * tick)
	}
	c.writeBoards(p, sol, plan, &group)
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

// pieceWait is how many of an entry of pieces are still to be cut.
type pieceWait struct{ piece, left int }

// writeBoards turns the solution into boards: real pieces in place of items,
// longest first on the board, equal boards counted together.
func (c *sectionCut) writeBoards(p *cutProblem, sol *cutSolution, plan *CutPlan, group *CutGroup) {
	// Pieces of each length wait in input order.
	queue := map[int64][]pieceWait{}
	for _, i := range c.mine {
		if n, _ := ticks(c.pieces[i].Length, true); c.ends[i] < maxEnds {
			key := itemKey(n, c.ends[i])
			queue[key] = append(queue[key], pieceWait{i, c.pieces[i].Count})
		}
	}
	sort.SliceStable(sol.cuts, func(i, j int) bool {
		a, b := sol.cuts[i], sol.cuts[j]
		if x, y := p.stocks[a.stock].len, p.stocks[b.stock].len; x != y {
			return x > y
		}
		return lessItems(a.items, b.items)
	})
	group.Patterns = len(sol.cuts)
	kept := map[Offcut]int{}
	for _, w := range c.whole {
		piece := c.pieces[w.piece]
		group.Patterns++
		c.board(w.stock, w.times, []BoardPiece{{piece.Length, piece.Use, maxEnds}}, 0, plan, group, kept)
	}
	for _, x := range sol.cuts {
		id := p.stocks[x.stock].id
		for left := x.times; left > 0; {
			// As many boards as can take the same pieces from the queues.
			run := left
			var parts []BoardPiece
			sum := -c.kerf
			for _, ic := range x.items {
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
			for _, ic := range x.items {
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
					piece := c.pieces[w.piece]
					for j := 0; j < take; j++ {
						parts = append(parts, BoardPiece{Length: piece.Length, Use: piece.Use, FactoryEnds: c.ends[w.piece]})
					}
					w.left -= take * run
					rest -= take
				}
			}
			c.board(id, run, parts, c.lengths[id]-sum, plan, group, kept)
			left -= run
		}
	}
	at := len(plan.Kept)
	for o, n := range kept {
		o.Count = n
		plan.Kept = append(plan.Kept, o)
	}
	mine := plan.Kept[at:]
	sort.Slice(mine, func(i, j int) bool {
		if mine[i].Length != mine[j].Length {
			return mine[i].Length > mine[j].Length
		}
		return mine[i].FactoryEnd && !mine[j].FactoryEnd
	})
}

// board appends boards cut alike. spare is what the pieces and the cuts between
// them leave.
func (c *sectionCut) board(id, times int, parts []BoardPiece, spare int64, plan *CutPlan, group *CutGroup, kept map[Offcut]int) {
	s := c.stock[id]
	if s.Unpriced {
		s.Price = decimal.Decimal{} // it was not looked at
	}
	b := Board{Section: c.name, Stock: s.Length, Price: s.Price, Unpriced: s.Unpriced, OnHand: s.onHand(), Count: times, trim: c.trim > 0, whole: spare == 0}
	free := c.freeEnds(s)
	b.Pieces, b.FarEnd = orderEnds(parts, free == maxEnds)
	if spare > c.kerf {
		b.Offcut = unit.Length(float64(spare-c.kerf) * tick)
	}
	// Of entries that are the same the boards are too.
	if n := len(plan.Boards) - 1; n >= 0 && plan.Boards[n].cutAs(&b) {
		plan.Boards[n].Count += times
	} else {
		plan.Boards = append(plan.Boards, b)
	}
	group.Boards += times
	of := func(l unit.Length) unit.Length { return unit.Length(float64(times) * l.Meters()) }
	group.Bought += of(s.Length)
	if b.OnHand {
		group.OnHand += of(s.Length)
	}
	group.Left += of(b.Offcut)
	for _, x := range parts {
		group.Used += of(x.Length)
	}
	if b.Offcut > group.Longest {
		group.Longest = b.Offcut
	}
	if c.o.KeepFrom > 0 && b.Offcut >= c.o.KeepFrom {
		group.Kept += of(b.Offcut)
		kept[Offcut{Section: c.name, Length: b.Offcut, FactoryEnd: free > 0 && !b.FarEnd}] += times
	}
}

// cutAs is whether a board is cut like another one, of the same price.
func (b *Board) cutAs(x *Board) bool {
	if b.Section != x.Section || b.Stock != x.Stock || b.OnHand != x.OnHand || b.FarEnd != x.FarEnd || b.Offcut != x.Offcut || b.Unpriced != x.Unpriced || b.whole != x.whole || !b.Price.Equal(x.Price) || len(b.Pieces) != len(x.Pieces) {
		return false
	}
	for i, p := range b.Pieces {
		if p != x.Pieces[i] {
			return false
		}
	}
	return true
}

// orderEnds puts a piece that must keep an end first, where the first end is
// the board's own, and another one last; far says that there is a last one.
func orderEnds(parts []BoardPiece, firstEnd bool) (order []BoardPiece, far bool) {
	var first, last []BoardPiece
	for _, x := range parts {
		switch {
		case x.FactoryEnds == 0:
			order = append(order, x)
		case firstEnd && len(first) == 0:
			first = append(first, x)
		default:
			last = append(last, x)
		}
	}
	return append(append(first, order...), last...), len(last) > 0
}
