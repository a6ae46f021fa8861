package materials

import (
	"math"
	"sort"
)

// generate bounds the cost by column generation, looks for a plan that meets
// the bound by diving, and settles what is left over the patterns within the
// gap. It returns the bound.
func (s *solver) generate(bound int64) int64 {
	m := len(s.p.items)
	need := make([]int, m)
	for i, it := range s.p.items {
		need[i] = it.n
	}
	g := s.newGeneration(need, make([]int, len(s.p.stocks)))
	for _, c := range s.best {
		g.add(column{c.stock, c.items})
	}
	ok := g.run(true)
	if v := s.roundUp(g.low()); v > bound {
		bound = v
	}
	if bound >= s.bestCost {
		return bound
	}
	pool := append([]column(nil), g.lp.cols...)
	for turn := 0; turn < maxDives && s.effort > 0; turn++ {
		if turn == fewDives && ok && s.within(g, fewListed) {
			return s.settle(bound)
		}
		pool = s.dive(pool, turn, bound)
		if bound >= s.bestCost {
			return bound
		}
	}
	if ok && s.effort > 0 && s.within(g, maxListed) {
		return s.settle(bound)
	}
	return bound
}

// within lists the patterns that can be part of a better plan: one further from
// the best of its stock than the gap cannot. It reports whether they were at
// most limit.
func (s *solver) within(g *generation, limit int) bool {
	if s.bestCost == noPlan || g.sum <= noBound {
		return false
	}
	gap := (s.bestCost-1)*s.unit - g.sum
	least := make([]int64, len(s.cost))
	for _, t := range s.useful {
		least[t] = g.most[t] - gap
		if r := s.unit*s.cost[t] - g.most[t]; r > 0 {
			least[t] += r
		}
	}
	return s.list(g.value, least, limit)
}

// generation is a relaxation whose patterns are made as they are wanted.
type generation struct {
	s     *solver
	lp    *lp
	need  []int
	avail []int // boards left of each stock, unbounded where any number
	seen  map[string]bool
	value []int64 // whole-number duals of the best bound
	most  []int64 // and the greatest value of a pattern of each stock
	sum   int64   // the bound in units of 1/unit
}

func (s *solver) newGeneration(need, used []int) *generation {
	price := make([]float64, len(s.cost))
	for t, c := range s.cost {
		price[t] = float64(c) / s.scale
	}
	g := &generation{s: s, need: need, seen: map[string]bool{}, sum: math.MinInt64}
	g.lp = newLP(price, len(need), &s.effort)
	g.avail = make([]int, len(s.cost))
	for _, t := range s.useful {
		g.avail[t] = unbounded
		g.lp.stockUp[t] = forever
		if a := s.p.stocks[t].avail; a != 0 {
			g.avail[t] = a - used[t]
			g.lp.stockUp[t] = float64(a - used[t])
		}
	}
	// A board of each length filled with one item starts it off.
	for i, it := range s.p.items {
		if need[i] == 0 {
			continue
		}
		for _, t := range s.useful {
			n := int(s.p.stocks[t].len / it.len)
			if ends := s.p.stocks[t].ends; it.end && n > ends {
				n = ends
			}
			if n > 0 {
				if n > need[i] {
					n = need[i]
				}
				g.add(column{t, []itemCount{{i, n}}})
			}
		}
	}
	return g
}

// add adds a pattern unless it is there already or cuts more than the need.
func (g *generation) add(c column) bool {
	for _, ic := range c.items {
		if ic.n > g.need[ic.item] {
			return false
		}
	}
	k := patternKey(c)
	if g.seen[k] {
		return false
	}
	g.seen[k] = true
	g.lp.add(c, forever)
	return true
}

func patternKey(c column) string {
	b := make([]byte, 0, 4+8*len(c.items))
	put := func(n int) { b = append(b, byte(n), byte(n>>8), byte(n>>16)) }
	put(c.stock)
	for _, ic := range c.items {
		put(ic.item)
		put(ic.n)
	}
	return string(b)
}

// run solves the relaxation; bounding says that the bound is wanted and not
// only the values. It returns whether nothing more could be gained.
func (g *generation) run(bounding bool) bool {
	s := g.s
	rhs := make([]float64, g.lp.rows)
	for i, n := range g.need {
		rhs[i] = float64(n)
	}
	g.lp.start(rhs)
	k := s.scale * float64(s.unit)
	value := make([]int64, len(g.need))
	most := make([]int64, len(s.cost))
	for round := 0; round < 20_000; round++ {
		if !g.lp.run() {
			return false
		}
		sum := int64(0)
		for i := range value {
			y := g.lp.y[i] * k
			if !(y > 0) {
				y = 0
			}
			if top := maxDual * k; y > top {
				y = top
			}
			value[i] = int64(y)
			sum += value[i] * int64(g.need[i])
		}
		added, sure := false, true
		pack := newKnapsack(s.p, value, g.need, s.useful)
		for _, t := range s.useful {
			items, best, over, ok := pack.best(t)
			s.effort -= pack.steps / 100
			pack.steps = 0
			sure = sure && ok
			most[t] = over
			// The price of the stock's row is what a board may cost now.
			if price := float64(-g.lp.y[len(g.need)+t] * k); float64(best) > price+float64(1e-8*k) && g.avail[t] > 0 {
				added = g.add(column{t, items}) || added
			}
		}
		if bounding {
			for _, t := range s.useful {
				r := s.unit*s.cost[t] - most[t]
				if r < 0 {
					n := s.mostBoards(t)
					if g.avail[t] != unbounded && int64(g.avail[t]) < n {
						n = int64(g.avail[t])
					}
					sum = addBound(sum, r, n)
				}
			}
			if sum > g.sum {
				g.sum = sum
				g.value = append(g.value[:0], value...)
				g.most = append(g.most[:0], most...)
			}
			if s.roundUp(g.low()) >= s.bestCost {
				return true
			}
		}
		if !added {
			if bounding && sure && g.lp.cover() {
				continue // the duals are others now
			}
			return sure
		}
		if s.effort < 0 {
			return false
		}
	}
	return false
}

// low is the bound in whole coins.
func (g *generation) low() int64 {
	if g.sum <= 0 {
		return 0
	}
	return (g.sum + g.s.unit - 1) / g.s.unit
}

// dive rounds the relaxation step by step to a plan: whole boards at once, else
// one board of the pattern nearest to one. turn picks where it departs from
// that to try something else. It returns the pool with the patterns made.
func (s *solver) dive(pool []column, turn int, bound int64) []column {
	p := s.p
	need := make([]int, len(p.items))
	rest := 0
	for i, it := range p.items {
		need[i] = it.n
		rest += it.n
	}
	used := make([]int, len(p.stocks))
	var cuts []cut
	base := int64(0)
	known := map[string]bool{}
	for _, c := range pool {
		known[patternKey(c)] = true
	}
	for step := 0; rest > 0; step++ {
		g := s.newGeneration(need, used)
		for _, c := range pool {
			g.add(c)
		}
		g.run(false)
		if s.effort < 0 {
			return pool
		}
		type frac struct {
			col int
			x   float64
		}
		var xs []frac
		cost := 0.0
		g.lp.values(func(t int, v float64) { cost += float64(v * float64(s.cost[t])) }, func(c int, v float64) {
			if v > 1e-6 {
				xs = append(xs, frac{c, v})
			}
		})
		if s.bestCost != noPlan && float64(base)+cost > float64(s.bestCost)-1+1e-6 {
			return pool // no better plan this way
		}
		for _, c := range g.lp.cols {
			if k := patternKey(c); !known[k] {
				known[k] = true
				pool = append(pool, c)
			}
		}
		sort.SliceStable(xs, func(i, j int) bool { return xs[i].x > xs[j].x })
		fix := func(f frac, n int) {
			c := g.lp.cols[f.col]
			for _, ic := range c.items {
				if most := need[ic.item] / ic.n; n > most {
					n = most
				}
			}
			if a := g.avail[c.stock]; n > a {
				n = a
			}
			if n <= 0 {
				return
			}
			cuts = append(cuts, cut{c.stock, c.items, n})
			base += int64(n) * s.cost[c.stock]
			used[c.stock] += n
			if g.avail[c.stock] != unbounded {
				g.avail[c.stock] -= n
			}
			for _, ic := range c.items {
				need[ic.item] -= n * ic.n
				rest -= n * ic.n
			}
		}
		before := rest
		for _, f := range xs {
			if n := int(math.Floor(f.x + 1e-6)); n > 0 {
				fix(f, n)
			}
		}
		if rest == before && len(xs) > 0 {
			pick := 0
			if turn > 0 && step == (turn-1)/2%8 {
				pick = 1 + (turn-1)%2
			}
			if pick >= len(xs) {
				pick = 0
			}
			fix(xs[pick], 1)
		}
		left := append([]int(nil), need...)
		if more, ok := s.complete(left, append([]int(nil), used...), -1); ok {
			s.take(append(append([]cut(nil), cuts...), more...))
			if s.bestCost <= bound {
				return pool
			}
		}
		if rest == before {
			return pool
		}
	}
	s.take(cuts)
	return pool
}

// knapsack finds the pattern of the greatest value for a board.
type knapsack struct {
	p     *cutProblem
	order []int // items of value, best value per length first
	value []int64
	need  []int
	count []int
	bestN []int
	steps int64

	longest int64 // board
	// By table, where boards are short: the best value over capacities, one
	// table for each number of a board's ends that may be taken.
	tables [][]int64
	choice [][][]bool // by ends, part, capacity
	parts  []knapPart
	levels int
}

type knapPart struct {
	item, n int
	len     int64
	value   int64
	ends    int
}

// A table is made at once where it is small, and where the walk takes too long
// and it is not too large.
const (
	tableSteps = 30_000
	tableMost  = 4_000_000
	walkShort  = 20_000
	walkSteps  = 300_000
)

func newKnapsack(p *cutProblem, value []int64, need []int, useful []int) *knapsack {
	k := &knapsack{p: p, value: value, need: need, count: make([]int, len(value)), bestN: make([]int, len(value))}
	for i, v := range value {
		if v > 0 && need[i] > 0 {
			k.order = append(k.order, i)
		}
	}
	longest := int64(0)
	for _, t := range useful {
		if l := p.stocks[t].len; l > longest {
			longest = l
		}
	}
	k.levels = 1
	for _, i := range k.order {
		most, end := int(longest/p.items[i].len), 0
		if need[i] < most {
			most = need[i]
		}
		if p.items[i].end {
			k.levels, end = maxEnds+1, 1
			if most > maxEnds {
				most = maxEnds
			}
		}
		for n := 1; most > 0; n *= 2 {
			if n > most {
				n = most
			}
			k.parts = append(k.parts, knapPart{i, n, int64(n) * p.items[i].len, int64(n) * value[i], n * end})
			most -= n
		}
	}
	k.longest = longest
	if k.fits(tableSteps) {
		k.fill(int(longest))
		return k
	}
	rate := make([]float64, len(value))
	for _, i := range k.order {
		rate[i] = float64(value[i]) / float64(p.items[i].len)
	}
	sort.SliceStable(k.order, func(a, b int) bool { return rate[k.order[a]] > rate[k.order[b]] })
	return k
}

// fits says that a table of at most so many steps will do.
func (k *knapsack) fits(most int64) bool {
	return k.longest < most && int64(len(k.parts)*k.levels)*k.longest <= most
}

func (k *knapsack) fill(longest int) {
	for e := 0; e < k.levels; e++ {
		k.tables = append(k.tables, make([]int64, longest+1))
		k.choice = append(k.choice, make([][]bool, len(k.parts)))
	}
	for j, q := range k.parts {
		// From the most ends down: a table reads those that are not done yet.
		for e := k.levels - 1; e >= 0; e-- {
			took := make([]bool, longest+1)
			if q.len <= int64(longest) && q.ends <= e {
				to, from := k.tables[e], k.tables[e-q.ends]
				for c := longest; c >= int(q.len); c-- {
					if v := from[c-int(q.len)] + q.value; v > to[c] {
						to[c] = v
						took[c] = true
					}
				}
			}
			k.choice[e][j] = took
		}
	}
	k.steps += int64(len(k.parts)*k.levels) * int64(longest) / 8
}

// best returns the pattern, its value, a value that no pattern exceeds, and
// whether the search was complete.
func (k *knapsack) best(t int) (items []itemCount, best, over int64, ok bool) {
	room, ends := k.p.stocks[t].len, k.p.stocks[t].ends
	for i := range k.bestN {
		k.bestN[i], k.count[i] = 0, 0
	}
	ok = true
	if k.tables == nil {
		limit := int64(walkSteps)
		if k.fits(tableMost) {
			limit = walkShort
		}
		if best, over, ok = k.walk(room, limit, ends); !ok && limit == walkShort {
			for i := range k.bestN {
				k.bestN[i] = 0
			}
			k.fill(int(k.longest))
			ok = true
		}
	}
	if k.tables != nil {
		c, e := int(room), ends
		if e >= k.levels {
			e = k.levels - 1
		}
		best = k.tables[e][c]
		over = best
		for j := len(k.parts) - 1; j >= 0; j-- {
			if k.choice[e][j][c] {
				k.bestN[k.parts[j].item] += k.parts[j].n
				c -= int(k.parts[j].len)
				e -= k.parts[j].ends
			}
		}
	}
	for i, n := range k.bestN {
		if n > 0 {
			items = append(items, itemCount{i, n})
		}
	}
	return items, best, over, ok
}

// walk searches depth first, best value per length first. Branches that could
// gain less than a billionth are cut; the returned bound allows for it.
func (k *knapsack) walk(room, limit int64, ends int) (best, over int64, ok bool) {
	if len(k.order) == 0 {
		return 0, 0, true
	}
	items := k.p.items
	i0 := k.order[0]
	all := float64(k.value[i0]) / float64(items[i0].len) * float64(room) * (1 + 1e-9)
	slack := int64(all*1e-9) + 1
	steps := int64(0)
	var step func(at int, room, v int64, ends int) bool
	step = func(at int, room, v int64, ends int) bool {
		steps++
		if v > best {
			best = v
			copy(k.bestN, k.count)
		}
		if steps > limit {
			return false
		}
		for ; at < len(k.order); at++ {
			i := k.order[at]
			l := items[i].len
			if float64(v)+float64(float64(k.value[i])/float64(l)*float64(room)) <= float64(best+slack/2) {
				return true
			}
			n := int(room / l)
			if n > k.need[i] {
				n = k.need[i]
			}
			taken := 0
			if items[i].end {
				if taken = 1; n > ends {
					n = ends
				}
			}
			for ; n > 0; n-- {
				k.count[i] = n
				if !step(at+1, room-int64(n)*l, v+int64(n)*k.value[i], ends-n*taken) {
					return false
				}
			}
			k.count[i] = 0
		}
		return true
	}
	ok = step(0, room, 0, ends)
	k.steps += steps
	if !ok {
		return best, int64(all) + 1, false
	}
	return best, best + slack, true
}
