package materials

import (
	"math"
	"slices"
	"sort"
)

// The cutting problem in whole numbers, and its exact solution.
//
// The least cost is bounded by the relaxation over all patterns (Gilmore and
// Gomory, Operations Research 9 (1961) 849-859 and 11 (1963) 863-888). Its
// duals are rounded to whole numbers and the bound is computed from those
// exactly, so that no rounding of the simplex can spoil a proof. What can be
// bought is then gone through from the bound up (buy.go).
//
// Of plans that are equal in cost, boards and patterns one is told, the same
// everywhere: the greedy one where nothing is better; else the first purchase
// in order of cost, boards, and the fewer of the length that is cheapest by the
// metre, then of the next; and of the ways to cut that the first that is found,
// boards that hold more of the longest piece, then of the next, being tried
// first.

type cutItem struct {
	len int64 // with a kerf
	n   int
	id  int64
	end bool // takes one of a board's own ends
}

type cutStock struct {
	len   int64 // with a kerf, less trim
	cost  int64
	avail int // 0 is any number
	id    int
	ends  int // of its own, 0 to maxEnds
}

// maxEnds is how many ends a board has.
const maxEnds = 2

type itemCount struct{ item, n int }

// cut is one pattern and how many boards are cut so.
type cut struct {
	stock int
	items []itemCount
	times int
}

type cutSolution struct {
	cuts           []cut
	cost, bound    int64
	proven, fewest bool
	fewestPatterns bool
	longest        bool       // no single offcut is longer
	purchases      []purchase // that are as good, where they are known
	measures       []*measure
}

// cutProblem: items are in falling order of length and distinct.
type cutProblem struct {
	items  []cutItem
	stocks []cutStock
	grain  int64 // what lengths were divided by
	effort int64 // that may be spent
	spent  int64
	// anyBoards: fewer boards at the same cost are not looked for.
	anyBoards bool
}

// need is how many there are of each item.
func (p *cutProblem) need() []int {
	need := make([]int, len(p.items))
	for i, it := range p.items {
		need[i] = it.n
	}
	return need
}

// ended says that some items take a board's end.
func (p *cutProblem) ended() bool {
	for _, it := range p.items {
		if it.end {
			return true
		}
	}
	return false
}

// Bounds on the size of what is solved exactly; larger problems get a greedy
// plan and the bound of total length.
const (
	maxExactItems = 250
	maxCoins      = 1e8 // of all pieces on boards of their own, at the finest
	maxWays       = 12  // ways of being greedy
	maxDives      = 24
	fewDives      = 3 // before purchases are listed that are many
)

// solver is one search.
type solver struct {
	p      *cutProblem
	cost   []int64 // of each stock, in units of the coin they share
	boards int64   // what of a cost is boards: the rest when divided by this
	useful []int   // stocks worth looking at
	scale  float64 // price of 1 in the relaxation
	unit   int64   // whole-number duals are in units of 1/unit
	total  int64   // length of all items

	best     []cut
	bestCost int64

	cols   []column
	live   alive
	effort int64

	purchases []purchase // that cost as much as the best plan
	measures  []*measure
}

// solve returns the best plan found, or nil when none was.
func (p *cutProblem) solve() *cutSolution {
	if len(p.items) == 0 {
		return &cutSolution{proven: true, fewest: true}
	}
	if len(p.stocks) == 0 {
		return nil
	}
	g := int64(0)
	for _, s := range p.stocks {
		g = gcd(g, s.cost)
	}
	if g == 0 {
		g = 1
	}
	cost := make([]int64, len(p.stocks))
	for i, s := range p.stocks {
		cost[i] = s.cost / g
	}
	// Each board costs one more where a coin counts for many: of plans at one
	// cost that with the fewest boards is the cheapest then.
	k, same := int64(1), true
	pieces, most := int64(1), int64(0)
	for _, c := range cost {
		same = same && c == cost[0] && c > 0
		if c > most {
			most = c
		}
	}
	for _, it := range p.items {
		pieces += int64(it.n)
	}
	if !same && !p.anyBoards && float64(pieces)*float64(most) < maxCoins {
		k = pieces
		for i := range cost {
			cost[i] = cost[i]*k + 1
		}
	}
	s := newSolver(p, cost, p.effort)
	s.boards = k
	bound := s.search()
	p.spent = p.effort - s.effort
	if s.best == nil {
		return nil
	}
	sol := &cutSolution{cuts: s.best, cost: s.bestCost / k * g, bound: bound / k * g, purchases: s.purchases, measures: s.measures}
	sol.proven = sol.bound >= sol.cost
	sol.fewest = bound >= s.bestCost && (k > 1 || same)
	return sol
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func newSolver(p *cutProblem, cost []int64, effort int64) *solver {
	s := &solver{p: p, cost: cost, effort: effort, boards: 1}
	shortest, ended := p.items[len(p.items)-1].len, p.ended()
	pieces := int64(0)
	for _, it := range p.items {
		s.total += it.len * int64(it.n)
		pieces += int64(it.n)
	}
	for _, c := range cost {
		if v := c*pieces + 1; v > s.bestCost {
			s.bestCost = v // more than any plan
		}
	}
	for i, a := range p.stocks {
		ok := a.len >= shortest
		for j, b := range p.stocks {
			// Another length does all that this one does for no more.
			if j == i || b.avail != 0 || b.len < a.len || cost[j] > cost[i] || (ended && b.ends < a.ends) {
				continue
			}
			if b.len > a.len || cost[j] < cost[i] || j < i || a.avail != 0 {
				ok = false
			}
		}
		if ok {
			s.useful = append(s.useful, i)
		}
		if c := float64(cost[i]); c > s.scale {
			s.scale = c
		}
	}
	if s.scale == 0 {
		s.scale = 1
	}
	return s
}

// search runs the whole of it and returns the bound.
func (s *solver) search() int64 {
	s.greedy()
	bound := s.lengthBound()
	if len(s.p.items) > maxExactItems {
		return bound
	}
	s.setUnit()
	return s.buy(bound)
}

// lengthBound buys the cheapest length by the metre for all the items.
func (s *solver) lengthBound() int64 {
	order := append([]int(nil), s.useful...)
	sort.SliceStable(order, func(i, j int) bool { return s.cheaper(order[i], order[j]) })
	left, sum := float64(s.total), 0.0
	for _, t := range order {
		st := s.p.stocks[t]
		n := left / float64(st.len)
		if st.avail != 0 && n > float64(st.avail) {
			n = float64(st.avail)
		}
		sum += float64(n * float64(s.cost[t]))
		left -= float64(n * float64(st.len))
		if left <= 0 {
			break
		}
	}
	return int64(math.Ceil(float64(sum*(1-1e-9)) - 1e-6))
}

// setUnit picks how finely whole-number duals are cut. A dual is taken at most
// maxDual times the dearest board, so their sum over all pieces, and the cost of
// any plan worth having, stay far inside 64 bits.
func (s *solver) setUnit() {
	most := 0.0
	for _, it := range s.p.items {
		most += float64(float64(it.n) * s.scale)
	}
	if float64(s.bestCost) > most {
		most = float64(s.bestCost)
	}
	s.unit = 1
	for s.unit < 1<<30 && float64(s.unit)*2*(most+1)*maxDual < 5e17 {
		s.unit *= 2
	}
}

const maxDual = 64

// noBound is what addBound returns when numbers grow out of all reason, as the
// duals of a search cut short may: it bounds nothing, and claims nothing.
const noBound = -1 << 62

// addBound adds r × n to a bound.
func addBound(sum, r, n int64) int64 {
	if sum <= noBound {
		return noBound
	}
	if x := float64(r) * float64(n); x > 2e18 || x < -2e18 {
		return noBound
	}
	return sum + r*n
}

// take keeps a plan when it is better and covers everything.
func (s *solver) take(cuts []cut) bool {
	cost := int64(0)
	have := make([]int, len(s.p.items))
	used := make([]int, len(s.p.stocks))
	for _, c := range cuts {
		cost += s.cost[c.stock] * int64(c.times)
		used[c.stock] += c.times
		for _, ic := range c.items {
			have[ic.item] += ic.n * c.times
		}
	}
	if cost >= s.bestCost {
		return false
	}
	for i, it := range s.p.items {
		if have[i] < it.n {
			return false
		}
	}
	for t, st := range s.p.stocks {
		if st.avail != 0 && used[t] > st.avail {
			return false
		}
	}
	s.best, s.bestCost = trimCuts(s.p, cuts), cost
	return true
}

// trimCuts leaves out what is cut beyond the need, and boards that are then
// empty.
func trimCuts(p *cutProblem, cuts []cut) []cut {
	left := make([]int, len(p.items))
	for i, it := range p.items {
		left[i] = it.n
	}
	var out []cut
	for _, c := range cuts {
		for times := c.times; times > 0; {
			run := times
			var items []itemCount
			for _, ic := range c.items {
				n := ic.n
				if n > left[ic.item] {
					n = left[ic.item]
				}
				if n > 0 {
					items = append(items, itemCount{ic.item, n})
					if r := left[ic.item] / n; r < run {
						run = r
					}
				}
			}
			if len(items) == 0 {
				// Kept: the plan pays for it, and dropping it can only help.
				break
			}
			for _, ic := range items {
				left[ic.item] -= ic.n * run
			}
			out = append(out, cut{stock: c.stock, items: items, times: run})
			times -= run
		}
	}
	return joinCuts(out)
}

// joinCuts adds up equal patterns, in a fixed order.
func joinCuts(cuts []cut) []cut {
	sort.SliceStable(cuts, func(i, j int) bool {
		if cuts[i].stock != cuts[j].stock {
			return cuts[i].stock < cuts[j].stock
		}
		return lessItems(cuts[i].items, cuts[j].items)
	})
	var out []cut
	for _, c := range cuts {
		if n := len(out); n > 0 && out[n-1].stock == c.stock && equalItems(out[n-1].items, c.items) {
			out[n-1].times += c.times
			continue
		}
		out = append(out, c)
	}
	return out
}

// lessItems puts patterns with longer items first.
func lessItems(a, b []itemCount) bool {
	for i := 0; i < len(a) && i < len(b); i++ {
		if a[i].item != b[i].item {
			return a[i].item < b[i].item
		}
		if a[i].n != b[i].n {
			return a[i].n > b[i].n
		}
	}
	return len(a) > len(b)
}

func equalItems(a, b []itemCount) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// alive finds the next item that is left, from item i on, by pointers that grow
// longer as items run out: a hundred thousand different ones are as nothing.
type alive []int

func newAlive(left []int, old alive) alive {
	a := old[:0]
	for i, n := range left {
		if n > 0 {
			a = append(a, i)
		} else {
			a = append(a, i+1)
		}
	}
	return append(a, len(left))
}

func (a alive) from(i int) int {
	for a[i] != i {
		if a[i] < len(a)-1 {
			a[i] = a[a[i]]
		}
		i = a[i]
	}
	return i
}

// fillBoard packs longest first what is left onto one board and returns the
// pattern and the length it uses.
func (s *solver) fillBoard(st cutStock, left []int, items []itemCount) (_ []itemCount, used int64) {
	p := s.p.items
	room, ends := st.len, st.ends
	i := 0
	for {
		// The first item that still fits: items fall in length.
		rest := room - used
		i += sort.Search(len(p)-i, func(k int) bool { return p[i+k].len <= rest })
		if i = s.live.from(i); i == len(p) {
			return items, used
		}
		n := int(rest / p[i].len)
		if n > left[i] {
			n = left[i]
		}
		if p[i].end {
			if n > ends {
				n = ends
			}
			if ends -= n; n == 0 {
				i++
				continue
			}
		}
		items = append(items, itemCount{i, n})
		used += int64(n) * p[i].len
		i++
	}
}

// greedy builds plans board by board, longest piece first, by several ways of
// choosing the board, and keeps the cheapest.
func (s *solver) greedy() {
	left := make([]int, len(s.p.items))
	ways := len(s.useful)
	if ways > maxWays {
		ways = maxWays
	}
	all := s.useful
	if len(s.p.items) > maxExactItems && len(all) > maxWays {
		// Of many lengths for very many pieces, those that are cheapest by the
		// metre and the longest.
		few := append([]int(nil), all...)
		sort.SliceStable(few, func(i, j int) bool { return s.cheaper(few[i], few[j]) })
		few = few[:maxWays]
		longest := all[0]
		for _, t := range all {
			if s.p.stocks[t].len > s.p.stocks[longest].len {
				longest = t
			}
		}
		s.useful = append(few, longest)
		ways = 1
	}
	for turn := 0; turn < 2; turn++ {
		for way := -1; way < ways; way++ {
			for i, it := range s.p.items {
				left[i] = it.n
			}
			if cuts, ok := s.complete(left, s.stocked(), way); ok {
				s.take(cuts)
			}
		}
		few := len(s.useful)
		s.useful = all
		if s.best != nil || few == len(all) {
			return
		}
		ways = 0
	}
}

// cheaper says that stock a is cheaper by length than b.
func (s *solver) cheaper(a, b int) bool {
	return float64(s.cost[a])*float64(s.p.stocks[b].len) < float64(s.cost[b])*float64(s.p.stocks[a].len)
}

// complete cuts all that is left. Boards are chosen by cost for length used,
// or, where way is not negative, that stock is taken while the longest piece
// fits it. The last piece of each plan goes on the cheapest board that holds
// all that is left.
func (s *solver) complete(left, have []int, way int) (cuts []cut, ok bool) {
	p := s.p
	rest := int64(0)
	for i, n := range left {
		rest += int64(n) * p.items[i].len
	}
	s.live = newAlive(left, s.live)
	var items, room []itemCount // the best board of those tried, and the one tried now
	for rest > 0 {
		top := s.live.from(0)
		pick := -1
		var pickRate float64
		for _, t := range s.useful {
			st := p.stocks[t]
			if st.len < p.items[top].len || have[t] == 0 {
				continue
			}
			c := float64(s.cost[t])
			got, length := s.fillBoard(st, left, room[:0])
			room = got
			if length == 0 {
				continue // only pieces that want an end are left
			}
			rate := c / float64(length)
			if length == rest {
				// Finishing is worth what it saves.
				rate = c / float64(length) * 0.999
			} else if way >= 0 && s.useful[way] == t {
				rate = -1
			}
			if pick < 0 || rate < pickRate {
				pick, pickRate = t, rate
				items, room = room, items
			}
		}
		if pick < 0 {
			return nil, false
		}
		run := have[pick]
		for _, ic := range items {
			if r := left[ic.item] / ic.n; r < run {
				run = r
			}
		}
		for _, ic := range items {
			left[ic.item] -= ic.n * run
			rest -= int64(ic.n*run) * p.items[ic.item].len
			if left[ic.item] == 0 {
				s.live[ic.item] = ic.item + 1
			}
		}
		if have[pick] != unbounded {
			have[pick] -= run
		}
		cuts = append(cuts, cut{stock: pick, items: slices.Clone(items), times: run})
	}
	return cuts, true
}

// list makes a column of every full pattern that can be part of a better plan:
// those worth at least least[t] by a measure; without least, all.
// It reports whether they were at most limit.
func (s *solver) list(m *measure, least []int64, limit int) bool {
	p := s.p
	s.cols = s.cols[:0]
	most := 50*limit + 10000
	left := most
	f := filler{p: p, m: m, most: p.need(), count: make([]int, len(p.items)), top: -1, full: true, left: &left}
	ended, ok := p.ended(), true
	for _, t := range s.useful {
		st := p.stocks[t]
		// A shorter board for no more does as well.
		spare := int64(-1)
		for _, u := range s.useful {
			if b := p.stocks[u]; b.avail == 0 && b.len < st.len && s.cost[u] <= s.cost[t] && b.len > spare && (!ended || b.ends >= st.ends) {
				spare = b.len
			}
		}
		f.take = func(room int64) bool {
			if st.len-room > spare {
				if ok = len(s.cols) < limit; ok {
					s.cols = append(s.cols, column{t, listItems(f.count)})
				}
			}
			return ok
		}
		if least != nil {
			f.least = least[t]
		}
		f.walk(0, st.len, 0, st.ends)
		for i := range f.count {
			f.count[i] = 0
		}
		if ok = ok && left > 0; !ok {
			break
		}
	}
	s.effort -= int64(most-left) / 20
	return ok
}
