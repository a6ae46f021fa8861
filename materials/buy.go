package materials

import (
	"math"
	"slices"
	"sort"
)

// A plan buys so many boards of each length. The purchases that cost no less than
// the relaxation and less than the best plan are gone through from the cheapest
// up; the first from which the pieces can be cut is the least cost.
//
// A purchase is out when by some measure it holds less than the pieces come to:
// by length, by the duals of the relaxation, or by the duals that put another
// purchase out. What no measure puts out is searched board by board; where that
// is long, plans are looked for by dives, and then the search goes on with the
// relaxation at each step.

// Bounds on what is looked at.
const (
	fewPatterns  = 300    // listed at once, for the relaxation
	fewWalk      = 50_000 // steps of listing the purchases
	mostWalk     = 3_000_000
	maxPurchases = 4000
	probeSteps   = 400 // of the first look at a purchase
	buySteps     = 20_000
	deepSteps    = 2_000_000
	fewListed    = 2500    // patterns within the gap
	maxListed    = 100_000 // in a deep search
	maxBuyBoards = 300     // searched board by board
	maxMeasures  = 40
)

// purchase is how many boards are bought of each stock.
type purchase struct {
	cost   int64
	boards int
	n      []int
}

// measure values the items. most is what a board of each stock holds of that at
// most, sum what all the pieces come to.
type measure struct {
	value, most []int64
	sum         int64
	rate        []float64 // best value by length from each item on
}

func (p *cutProblem) newMeasure(value, most []int64) *measure {
	m := &measure{value: value, most: most, rate: make([]float64, len(value)+1)}
	for i := len(value) - 1; i >= 0; i-- {
		m.sum += value[i] * int64(p.items[i].n)
		m.rate[i] = float64(value[i]) / float64(p.items[i].len) * (1 + 1e-9)
		if m.rate[i+1] > m.rate[i] {
			m.rate[i] = m.rate[i+1]
		}
	}
	return m
}

// byLength measures by length.
func (p *cutProblem) byLength() *measure {
	value, most := make([]int64, len(p.items)), make([]int64, len(p.stocks))
	for i, it := range p.items {
		value[i] = it.len
	}
	for t, st := range p.stocks {
		most[t] = st.len
	}
	return p.newMeasure(value, most)
}

// byValue measures by value over the listed patterns.
func (s *solver) byValue(value []int64) *measure {
	most := make([]int64, len(s.cost))
	for _, c := range s.cols {
		v := int64(0)
		for _, ic := range c.items {
			v += value[ic.item] * int64(ic.n)
		}
		if v > most[c.stock] {
			most[c.stock] = v
		}
	}
	return s.p.newMeasure(value, most)
}

// spare is what boards hold beyond a need.
func (m *measure) spare(need, have []int) (v int64) {
	for t, n := range have {
		v += int64(n) * m.most[t]
	}
	for i, n := range need {
		v -= int64(n) * m.value[i]
	}
	return v
}

// buyer goes through the purchases.
type buyer struct {
	s        *solver
	g        *generation // with the best bound; none where all patterns are listed
	measures []*measure  // of the relaxation, of length, of purchases that are out
	need     []int
	order    []int    // stocks, the cheapest by length first
	walk     int      // steps that listing the purchases may take
	low      int64    // the bound of the relaxation
	high     int64    // patterns are listed for purchases of this cost
	limit    int      // of their number
	lp       *lp      // over them, once it is wanted
	pool     []column // that dives start with
}

// buy finds the least cost, and the purchases that come to it. It returns the
// bound.
func (s *solver) buy(bound int64) int64 {
	b := s.newBuyer()
	if v := b.low; v > bound {
		bound = v
	}
	bound = b.cheapest(bound)
	for turn := 0; turn < maxDives && bound < s.bestCost && s.effort > 0; turn++ {
		b.dive(turn, bound, nil)
	}
	if s.best == nil || bound < s.bestCost {
		return bound
	}
	if b.high < s.bestCost && b.g != nil {
		b.measures = b.measures[:2] // of patterns for less than that
	}
	if list, ok := b.purchases(s.bestCost, s.bestCost); ok {
		for i := range list {
			if b.holds(&list[i]) {
				s.purchases = append(s.purchases, list[i])
			}
		}
		s.measures = b.measures
	}
	return bound
}

// cheapest goes through the purchases from a cost up to the first that will do,
// and takes that. It returns the bound.
func (b *buyer) cheapest(from int64) int64 {
	s := b.s
	dived := false
	// The cheaper ones first, few at a time: mostly that will do.
	for step := (s.bestCost - from) / 8; from < s.bestCost; step *= 2 {
		if b.high = s.bestCost - 1; b.high-from > step {
			b.high = from + step
		}
		if b.g != nil {
			b.lp, b.limit, b.measures = nil, fewListed, b.measures[:2]
		}
		list, ok := b.purchases(from, b.high)
		switch {
		case ok:
		case !dived:
			// A better plan bounds them, and a better bound.
			dived = true
			for turn := 0; turn < fewDives && from < s.bestCost; turn++ {
				b.dive(turn, from, nil)
			}
			from = b.raise(from)
			step = (s.bestCost - from) / 16
			continue
		case len(list) == maxPurchases && b.short(b.need, list[0].n):
			continue
		case len(list) < maxPurchases && b.walk < mostWalk:
			b.walk *= 8
			step /= 2
			continue
		case step == 0:
			return from
		default:
			step /= 8
			continue
		}
		for i := range list {
			if !b.cut(&list[i]) {
				return list[i].cost
			}
			if s.bestCost <= list[i].cost {
				return s.bestCost
			}
		}
		from = b.high + 1
	}
	return s.bestCost
}

// raise raises a bound by the relaxations with a board counted for more or less
// beside the cost.
func (b *buyer) raise(from int64) int64 {
	s := b.s
	low := func(coins, board int64) int64 {
		cost := make([]int64, len(s.cost))
		for t, c := range s.cost {
			cost[t] = c/s.boards*coins + board
		}
		r := newSolver(s.p, cost, s.effort)
		r.setUnit()
		v := r.newBuyer().low
		s.effort = r.effort
		return v
	}
	if s.boards == 1 {
		return from
	}
	if v := low(1, 0) * s.boards; v > from {
		from = v
	}
	coins := s.bestCost / s.boards
	for k := s.boards; k > 0 && from/s.boards == coins; k /= 4 {
		if v := low(k, 1) + coins*(s.boards-k); v > from {
			from = v
		}
	}
	return from
}

// newBuyer solves the relaxation.
func (s *solver) newBuyer() *buyer {
	b := &buyer{s: s, need: s.p.need(), walk: fewWalk, limit: fewListed, order: append([]int(nil), s.useful...)}
	sort.SliceStable(b.order, func(i, j int) bool { return s.cheaper(b.order[i], b.order[j]) })
	b.relax(fewPatterns)
	b.measures = append(b.measures, s.p.byLength())
	return b
}

// relax solves the relaxation, over all patterns where they are few, for the bound
// and the measure of its duals.
func (b *buyer) relax(few int) {
	s := b.s
	sum := int64(0)
	var m *measure
	if s.list(s.p.byLength(), nil, few) {
		l := s.listedLP(s.prices())
		l.stockedWith(s.stocked())
		if l.start(b.need); l.run() {
			l.cover()
		}
		value := make([]int64, len(b.need))
		l.whole(value, s.scale*float64(s.unit))
		m = s.byValue(value)
		sum = s.bounded(m.sum, m.most, s.stocked())
		b.pool = append(b.pool, s.cols...)
	} else {
		b.g = s.newGeneration()
		b.g.run(true)
		m, sum = s.p.newMeasure(b.g.value, b.g.most), b.g.sum
		b.pool = append(b.pool, b.g.lp.cols...)
	}
	b.measures = []*measure{m}
	if sum > 0 {
		b.low = (sum + s.unit - 1) / s.unit
	}
}

// purchases lists those that cost from lo to hi and are not put out by a measure,
// the cheapest first.
func (b *buyer) purchases(lo, hi int64) (list []purchase, ok bool) {
	s := b.s
	pieces := 0
	for _, n := range b.need {
		pieces += n
	}
	// The least cost for each measure from each stock of the order on.
	rates := make([][]float64, len(b.order)+1)
	for i := len(b.order); i >= 0; i-- {
		rates[i] = make([]float64, len(b.measures))
		for j, m := range b.measures {
			rates[i][j] = math.Inf(1)
			if i == len(b.order) {
				continue
			}
			t := b.order[i]
			rates[i][j] = rates[i+1][j]
			if w := m.most[t]; w > 0 {
				if r := float64(s.cost[t]) / float64(w) * (1 - 1e-9); r < rates[i][j] {
					rates[i][j] = r
				}
			}
		}
	}
	n := make([]int, len(s.cost))
	steps := 0
	// What is missing of each measure before each stock of the order.
	miss := make([][]int64, len(b.order)+1)
	for i := range miss {
		miss[i] = make([]int64, len(b.measures))
	}
	for j, m := range b.measures {
		miss[0][j] = -m.spare(b.need, n)
	}
	var walk func(i, boards int, cost int64) bool
	walk = func(i, boards int, cost int64) bool {
		if steps++; steps > b.walk {
			return false
		}
		for j, v := range miss[i] {
			if v > 0 && float64(cost)+float64(rates[i][j]*float64(v)) > float64(hi) {
				return true
			}
		}
		if i == len(b.order) {
			if len(list) == maxPurchases {
				return false
			}
			list = append(list, purchase{cost, boards, slices.Clone(n)})
			return true
		}
		t := b.order[i]
		most := pieces - boards
		if up := s.p.stocks[t].avail; up != 0 && up < most {
			most = up
		}
		c := 0
		if i == len(b.order)-1 && cost < lo {
			if s.cost[t] == 0 {
				return true
			}
			c = int((lo - cost + s.cost[t] - 1) / s.cost[t])
		}
		for ; c <= most && cost+int64(c)*s.cost[t] <= hi; c++ {
			n[t] = c
			for j, m := range b.measures {
				miss[i+1][j] = miss[i][j] - int64(c)*m.most[t]
			}
			if !walk(i+1, boards+c, cost+int64(c)*s.cost[t]) {
				return false
			}
		}
		n[t] = 0
		return true
	}
	ok = walk(0, 0, 0)
	s.effort -= int64(steps) / 20
	sort.SliceStable(list, func(i, j int) bool { return list[i].cost < list[j].cost })
	return list, ok
}

// holds says that no measure puts a purchase out.
func (b *buyer) holds(x *purchase) bool {
	for _, m := range b.measures {
		if m.spare(b.need, x.n) < 0 {
			return false
		}
	}
	return true
}

// cut looks for a plan that cuts all from a purchase, and takes it. It returns
// false where it neither finds one nor that there is none.
func (b *buyer) cut(x *purchase) bool {
	s := b.s
	if s.effort < 0 {
		return false
	}
	if !b.holds(x) || b.search(x, probeSteps, nil) || b.short(b.need, x.n) || b.search(x, buySteps, nil) {
		return true
	}
	for turn := 0; turn < maxDives && s.effort > 0; turn++ {
		if b.dive(turn, x.cost, x); s.bestCost <= x.cost {
			return true
		}
	}
	if b.lp == nil {
		b.limit = maxListed
	}
	return b.search(x, deepSteps, b.short)
}

// search looks for a plan board by board. It returns whether it looked at all
// there is to look at, or found one.
func (b *buyer) search(x *purchase, steps int, short func(need, have []int) bool) bool {
	if x.boards > maxBuyBoards {
		return false
	}
	d := newPatternSearch(b.s.p, b.measures, slices.Clone(b.need), slices.Clone(x.n), steps)
	d.short = short
	found := d.cover(x.boards, 0)
	b.s.effort -= int64(steps-d.left) / 20
	if found {
		b.s.take(d.found)
	}
	return found || d.left > 0
}

// short says that the relaxation over the listed patterns does not cover a need
// from boards, and keeps the measure that shows it.
func (b *buyer) short(need, have []int) bool {
	s := b.s
	if b.lp == nil {
		if b.limit == 0 || b.g != nil && !s.within(b.g, b.high, b.limit) {
			b.limit = 0
			return false
		}
		b.lp = s.listedLP(make([]float64, len(s.cost)))
		b.lp.penalty = 1
	}
	b.lp.stockedWith(have)
	if b.lp.start(need); !b.lp.run() || b.lp.artificial() < 1e-7 {
		return false
	}
	value := make([]int64, len(need))
	b.lp.whole(value, 1<<20)
	m := s.byValue(value)
	if m.spare(need, have) >= 0 {
		return false
	}
	if len(b.measures) < maxMeasures {
		b.measures = append(b.measures, m)
	}
	return true
}
