package materials

import (
	"math"
	"sort"
)

// within lists the patterns that can be part of a plan that costs no more than
// high: one further from the best of its stock than the gap cannot. It reports
// whether they were at most limit.
func (s *solver) within(g *generation, high int64, limit int) bool {
	if g.sum <= noBound {
		return false
	}
	gap := high*s.unit - g.sum
	least := make([]int64, len(s.cost))
	for _, t := range s.useful {
		least[t] = g.most[t] - gap
		if r := s.unit*s.cost[t] - g.most[t]; r > 0 {
			least[t] += r
		}
	}
	return s.list(s.p.newMeasure(g.value, g.most), least, limit)
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

// newGeneration is for the whole problem, with the patterns of the best plan.
func (s *solver) newGeneration() *generation {
	g := s.generationOf(s.p.need(), s.stocked())
	for _, c := range s.best {
		g.add(column{c.stock, c.items})
	}
	return g
}

// stocked is how many boards there are of each stock.
func (s *solver) stocked() []int {
	have := make([]int, len(s.cost))
	for _, t := range s.useful {
		if have[t] = s.p.stocks[t].avail; have[t] == 0 {
			have[t] = unbounded
		}
	}
	return have
}

// generationOf is for a need, with the boards that there are.
func (s *solver) generationOf(need, have []int) *generation {
	g := &generation{s: s, need: need, avail: have, seen: map[string]bool{}, sum: math.MinInt64}
	g.lp = newLP(s.prices(), len(need), &s.effort)
	g.lp.stockedWith(have)
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
	g.lp.add(c)
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
	g.lp.start(g.need)
	k := s.scale * float64(s.unit)
	value := make([]int64, len(g.need))
	most := make([]int64, len(s.cost))
	for round := 0; round < 20_000; round++ {
		if !g.lp.run() {
			return false
		}
		sum := int64(0)
		g.lp.whole(value, k)
		for i, v := range value {
			sum += v * int64(g.need[i])
		}
		added, sure := false, true
		pack := newKnapsack(s.p, value, g.need)
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
			if sum = s.bounded(sum, most, g.avail); sum > g.sum {
				g.sum = sum
				g.value = append(g.value[:0], value...)
				g.most = append(g.most[:0], most...)
			}
			if g.sum > 0 && (g.sum-1)/s.unit >= s.bestCost-1 {
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

// bounded takes off a bound what boards could save that are worth more than their
// cost.
func (s *solver) bounded(sum int64, most []int64, have []int) int64 {
	for _, t := range s.useful {
		if r := s.unit*s.cost[t] - most[t]; r < 0 {
			n := s.mostBoards(t)
			if int64(have[t]) < n {
				n = int64(have[t])
			}
			sum = addBound(sum, r, n)
		}
	}
	return sum
}

// mostBoards is how many boards of a stock a plan better than the best can
// have.
func (s *solver) mostBoards(t int) int64 {
	pieces := int64(0)
	for _, it := range s.p.items {
		pieces += int64(it.n)
	}
	if c := s.cost[t]; c > 0 && s.bestCost/c < pieces {
		return s.bestCost / c
	}
	return pieces
}

// prices are those of the relaxation.
func (s *solver) prices() []float64 {
	price := make([]float64, len(s.cost))
	for t, c := range s.cost {
		price[t] = float64(c) / s.scale
	}
	return price
}

// listedLP is a relaxation over the listed patterns.
func (s *solver) listedLP(price []float64) *lp {
	l := newLP(price, len(s.p.items), &s.effort)
	for _, c := range s.cols {
		l.add(c)
	}
	return l
}

// frac is how often a pattern is cut in a relaxation.
type frac struct {
	col int
	x   float64
}

// dive rounds the relaxation step by step to a plan: whole boards at once, else
// one board of the pattern nearest to one. turn picks where it departs from
// that to try something else. It keeps to a purchase where there is one, and the
// rest is searched after each step; else it is cut the greedy way, till the bound
// is met.
func (b *buyer) dive(turn int, bound int64, x *purchase) {
	s := b.s
	p := s.p
	need, have := p.need(), s.stocked()
	if x != nil {
		copy(have, x.n)
	}
	rest := 0
	for _, n := range need {
		rest += n
	}
	var cuts []cut
	base := int64(0)
	known := map[string]bool{}
	for _, c := range b.pool {
		known[patternKey(c)] = true
	}
	for step := 0; rest > 0; step++ {
		g := s.generationOf(need, have)
		for _, c := range b.pool {
			g.add(c)
		}
		g.run(false)
		if s.effort < 0 {
			return
		}
		var xs []frac
		cost := 0.0
		g.lp.values(func(t int, v float64) { cost += float64(v * float64(s.cost[t])) }, func(c int, v float64) {
			if v > 1e-6 {
				xs = append(xs, frac{c, v})
			}
		})
		if float64(base)+cost > float64(s.bestCost)-1+1e-6 {
			return // no better plan this way
		}
		for _, c := range g.lp.cols {
			if k := patternKey(c); !known[k] {
				known[k] = true
				b.pool = append(b.pool, c)
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
			if have[c.stock] != unbounded {
				have[c.stock] -= n
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
		if x != nil {
			d := newPatternSearch(p, b.measures, left, append([]int(nil), have...), probeSteps)
			if d.boards <= maxBuyBoards && d.cover(d.boards, 0) {
				s.take(append(append([]cut(nil), cuts...), d.found...))
				return
			}
		} else if more, ok := s.complete(left, append([]int(nil), have...), -1); ok {
			s.take(append(append([]cut(nil), cuts...), more...))
			if s.bestCost <= bound {
				return
			}
		}
		if rest == before {
			return
		}
	}
	s.take(cuts)
}

// knapsack finds the pattern of the greatest value for a board.
type knapsack struct {
	p            *cutProblem
	order        []int // items of value, best value per length first
	value        []int64
	need         []int
	count, bestN []int
	steps        int64
}

// walkSteps bounds the search for one pattern.
const walkSteps = 300_000

func newKnapsack(p *cutProblem, value []int64, need []int) *knapsack {
	k := &knapsack{p: p, value: value, need: need, count: make([]int, len(value)), bestN: make([]int, len(value))}
	rate := make([]float64, len(value))
	for i, v := range value {
		if v > 0 && need[i] > 0 {
			k.order = append(k.order, i)
		}
		rate[i] = float64(v) / float64(p.items[i].len)
	}
	sort.SliceStable(k.order, func(a, b int) bool { return rate[k.order[a]] > rate[k.order[b]] })
	return k
}

// best returns the pattern, its value, a value that no pattern exceeds, and
// whether the search was complete.
func (k *knapsack) best(t int) (items []itemCount, best, over int64, ok bool) {
	for i := range k.bestN {
		k.bestN[i], k.count[i] = 0, 0
	}
	best, over, ok = k.walk(k.p.stocks[t].len, k.p.stocks[t].ends)
	return listItems(k.bestN), best, over, ok
}

// walk searches depth first, best value per length first. Branches that could
// gain less than a billionth are cut; the returned bound allows for it.
func (k *knapsack) walk(room int64, ends int) (best, over int64, ok bool) {
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
		if steps > walkSteps {
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
