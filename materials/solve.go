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
// exactly, so that no rounding of the simplex can spoil a proof. Then:
//
//   - few patterns in all: every one that can be part of a better plan becomes
//     a column, and branch and bound on the boards of each length and on the
//     patterns settles it;
//   - too many: columns are generated, dives look for a plan that meets the
//     bound, and where they miss, the patterns whose reduced cost is within
//     the gap are listed and branched on as above.
//
// A bound is rounded up to the next amount that can be paid with these prices.

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
	maxPatterns   = 120 // all patterns as columns at once
	maxWays       = 12  // ways of being greedy
	maxDives      = 24
	fewDives      = 2 // before the patterns are listed, where they are few
	fewListed     = 1500
	maxListed     = 100000 // patterns within the gap
)

// solver is one search: for the least cost, or for the fewest boards at it.
type solver struct {
	p      *cutProblem
	cost   []int64 // of each stock, in units of the coin they share
	useful []int   // stocks worth looking at
	scale  float64 // price of 1 in the relaxation
	unit   int64   // whole-number duals are in units of 1/unit
	total  int64   // length of all items

	best     []cut
	bestCost int64
	payable  []bool // amounts that boards can add up to
	payFrom  int64

	cols   []column
	live   alive
	effort int64
	known  int64 // a bound known beforehand
	nodes  int
}

const noPlan = math.MaxInt64

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
	s := newSolver(p, cost, p.effort)
	bound := s.search()
	p.spent = p.effort - s.effort
	if s.best == nil {
		return nil
	}
	sol := &cutSolution{cuts: s.best, cost: s.bestCost * g, bound: bound * g, proven: bound >= s.bestCost}
	if sol.proven {
		p.fewerBoards(sol, cost)
	}
	return sol
}

// fewerBoards looks for the fewest boards at the proven least cost: each board
// costs one more where a coin counts for many.
func (p *cutProblem) fewerBoards(sol *cutSolution, cost []int64) {
	boards, same := int64(0), true
	for _, c := range sol.cuts {
		boards += int64(c.times)
	}
	for i := range cost {
		same = same && cost[i] == cost[0]
	}
	if same && cost[0] > 0 {
		sol.fewest = true // the cost counts the boards
		return
	}
	least := p.leastBoards()
	if boards <= least {
		sol.fewest = true
		return
	}
	spent := int64(0)
	for _, c := range sol.cuts {
		spent += cost[c.stock] * int64(c.times)
	}
	if p.anyBoards || !(float64(boards+1)*float64(spent+1) < 1e12) {
		return
	}
	k := boards + 1
	both := make([]int64, len(cost))
	for i, c := range cost {
		both[i] = c*k + 1
	}
	s := newSolver(p, both, p.effort/10)
	s.best, s.bestCost = sol.cuts, spent*k+boards
	s.known = spent*k + least
	s.payable = nil
	bound := s.search()
	p.spent += p.effort/10 - s.effort
	sol.cuts = s.best
	sol.fewest = bound >= s.bestCost
}

// leastBoards is a plain bound: total length over the longest board.
func (p *cutProblem) leastBoards() int64 {
	var total, longest int64
	for _, it := range p.items {
		total += it.len * int64(it.n)
	}
	for _, s := range p.stocks {
		if s.len > longest {
			longest = s.len
		}
	}
	return (total + longest - 1) / longest
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func newSolver(p *cutProblem, cost []int64, effort int64) *solver {
	s := &solver{p: p, cost: cost, bestCost: noPlan, effort: effort}
	shortest, ended := p.items[len(p.items)-1].len, p.ended()
	for _, it := range p.items {
		s.total += it.len * int64(it.n)
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
	if s.known > bound {
		bound = s.known
	}
	if s.best == nil {
		// Only where boards are few; the search may still find a plan.
		if len(s.p.items) > maxExactItems {
			return bound
		}
	}
	s.setUnit()
	if s.known == 0 && bound < s.bestCost {
		s.setPayable()
	}
	bound = s.roundUp(bound)
	if bound >= s.bestCost || len(s.p.items) > maxExactItems {
		return bound
	}
	if s.list(nil, nil, maxPatterns) {
		return s.settle(bound)
	}
	return s.generate(bound)
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
		most += float64(it.n) * s.scale
	}
	if s.bestCost != noPlan && float64(s.bestCost) > most {
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

// setPayable tabulates the amounts that whole boards can add up to and that
// buy enough length.
func (s *solver) setPayable() {
	s.payable = nil
	if s.bestCost > 1<<20 {
		return
	}
	if s.total < math.MaxInt32 {
		s.payable = payTable[int32](s)
	} else {
		s.payable = payTable[int64](s)
	}
}

// payTable makes the table with lengths in as few bits as hold them: no more
// than the total is of any use.
func payTable[T int32 | int64](s *solver) []bool {
	// room[v] is the greatest length that v buys.
	room := make([]T, s.bestCost+1)
	for v := range room {
		room[v] = -1
	}
	room[0] = 0
	total := T(s.total)
	for _, t := range s.useful {
		c, st := s.cost[t], s.p.stocks[t]
		length := total
		if st.len < s.total {
			length = T(st.len)
		}
		if c == 0 {
			n := int64(st.avail)
			if n == 0 {
				return nil
			}
			for v := range room {
				if room[v] >= 0 {
					if all := int64(room[v]) + n*st.len; all < s.total {
						room[v] = T(all)
					} else {
						room[v] = total
					}
				}
			}
			continue
		}
		for from, to := room, room[min(c, s.bestCost+1):]; len(to) > 0; {
			// Runs of c at a time, so that bounds are checked once.
			n := len(to)
			if int64(n) > c {
				n = int(c)
			}
			a, b := from[:n], to[:n]
			for i, r := range a {
				if r >= 0 {
					if r > total-length {
						r = total - length
					}
					if r += length; r > b[i] {
						b[i] = r
					}
				}
			}
			from, to = from[n:], to[n:]
		}
	}
	payable := make([]bool, len(room))
	for v, r := range room {
		payable[v] = r == total
	}
	return payable
}

// roundUp raises a bound to the next amount that can be paid.
func (s *solver) roundUp(v int64) int64 {
	if v < s.known {
		v = s.known
	}
	if v < 0 {
		v = 0
	}
	for s.payable != nil && v < s.bestCost && v < int64(len(s.payable)) && !s.payable[v] {
		v++
	}
	return v
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
	used := make([]int, len(s.p.stocks))
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
			for t := range used {
				used[t] = 0
			}
			if cuts, ok := s.complete(left, used, way); ok {
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
func (s *solver) complete(left, used []int, way int) (cuts []cut, ok bool) {
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
			if st.len < p.items[top].len || (st.avail != 0 && used[t] >= st.avail) {
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
		run := 1 << 30
		if a := p.stocks[pick].avail; a != 0 {
			run = a - used[pick]
		}
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
		used[pick] += run
		cuts = append(cuts, cut{stock: pick, items: slices.Clone(items), times: run})
	}
	return cuts, true
}

// list makes a column of every full pattern that can be part of a better plan:
// those worth at least least[t] at the duals; with no duals, all.
// It reports whether they were at most limit.
func (s *solver) list(value, least []int64, limit int) bool {
	p := s.p
	s.cols = s.cols[:0]
	m, ended := len(p.items), p.ended()
	// rate[i] is the best value per length from item i on.
	rate := make([]float64, m+1)
	if value != nil {
		for i := m - 1; i >= 0; i-- {
			rate[i] = float64(value[i]) / float64(p.items[i].len)
			if rate[i+1] > rate[i] {
				rate[i] = rate[i+1]
			}
		}
	}
	count := make([]int, m)
	steps := 0
	for _, t := range s.useful {
		st := p.stocks[t]
		// A shorter board for no more does as well.
		spare := int64(-1)
		for _, u := range s.useful {
			if b := p.stocks[u]; b.avail == 0 && b.len < st.len && s.cost[u] <= s.cost[t] && b.len > spare && (!ended || b.ends >= st.ends) {
				spare = b.len
			}
		}
		var walk func(i int, room, v int64, ends int) bool
		walk = func(i int, room, v int64, ends int) bool {
			if steps++; steps > 50*limit+10000 {
				return false
			}
			if value != nil && float64(v)+float64(rate[i]*float64(room)*(1+1e-9))+1 < float64(least[t]) {
				return true
			}
			if i == m || room < p.items[m-1].len {
				if value != nil && v < least[t] {
					return true
				}
				if st.len-room <= spare {
					return true
				}
				// Full: nothing that is wanted fits beside it.
				for k := m - 1; k >= 0 && p.items[k].len <= room; k-- {
					if count[k] < p.items[k].n && (!p.items[k].end || ends > 0) {
						return true
					}
				}
				if len(s.cols) == limit {
					return false
				}
				kinds := 0
				for _, n := range count {
					if n > 0 {
						kinds++
					}
				}
				items := make([]itemCount, 0, kinds)
				for k, n := range count {
					if n > 0 {
						items = append(items, itemCount{k, n})
					}
				}
				s.cols = append(s.cols, column{stock: t, items: items})
				return true
			}
			it := p.items[i]
			n := int(room / it.len)
			if n > it.n {
				n = it.n
			}
			if it.end && n > ends {
				n = ends
			}
			for ; n >= 0; n-- {
				count[i] = n
				next, free := v, ends
				if value != nil {
					next += int64(n) * value[i]
				}
				if it.end {
					free -= n
				}
				if !walk(i+1, room-int64(n)*it.len, next, free) {
					count[i] = 0
					return false
				}
			}
			count[i] = 0
			return true
		}
		if !walk(0, st.len, 0, st.ends) {
			s.effort -= int64(steps) / 20
			return false
		}
	}
	s.effort -= int64(steps) / 20
	return true
}
