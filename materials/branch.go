package materials

import "math"

// settle proves the least cost over the listed patterns by branch and bound,
// and returns the bound.
func (s *solver) settle(bound int64) int64 {
	if len(s.cols) == 0 {
		return s.bestCost
	}
	b := s.newBrancher(bound)
	b.node(0)
	if s.effort < 0 || b.stopped {
		// What was left open bounds the rest; what was closed costs at least
		// as much as the best plan.
		v := b.open
		if s.bestCost < v {
			v = s.bestCost
		}
		if v < bound {
			v = bound
		}
		return v
	}
	return s.bestCost
}

// newBrancher sets up the search over the listed patterns.
func (s *solver) newBrancher(bound int64) *brancher {
	p := s.p
	m := len(p.items)
	price := make([]float64, len(p.stocks))
	for t, c := range s.cost {
		price[t] = float64(c) / s.scale
	}
	b := &brancher{s: s, lp: newLP(price, m, &s.effort), bound: bound}
	b.colMin = make([]int, len(s.cols))
	b.colMax = make([]int, len(s.cols))
	for i, c := range s.cols {
		b.colMax[i] = unbounded
		b.lp.add(c, forever)
	}
	b.stockMin = make([]int, len(p.stocks))
	b.stockMax = make([]int, len(p.stocks))
	useful := make([]bool, len(p.stocks))
	for _, t := range s.useful {
		useful[t] = true
	}
	for t, st := range p.stocks {
		b.stockMax[t] = unbounded
		if st.avail != 0 {
			b.stockMax[t] = st.avail
		}
		if !useful[t] {
			b.stockMax[t] = 0
		}
	}
	b.fixed, b.stockX = make([]int, len(p.stocks)), make([]float64, len(p.stocks))
	b.rhs = make([]float64, b.lp.rows)
	b.need = make([]int64, m)
	b.value = make([]int64, m)
	b.open = noPlan
	return b
}

const unbounded = math.MaxInt32

// brancher is the state of the search: bounds on the boards of each stock and
// on the boards cut to each pattern.
type brancher struct {
	s                  *solver
	lp                 *lp
	colMin, colMax     []int
	stockMin, stockMax []int
	rhs                []float64
	need, value        []int64
	bound              int64 // of the whole
	open               int64 // least bound of a node left unexplored
	stopped            bool
	nodes              int
	fixed              []int // of the node at hand, as are these
	stockX             []float64
	xs                 []frac
}

// frac is how often a pattern is cut in a relaxation.
type frac struct {
	col int
	x   float64
}

// node explores the problem within the present bounds.
func (b *brancher) node(depth int) {
	s, p, l := b.s, b.s.p, b.lp
	b.nodes++
	s.nodes++
	if s.bestCost <= b.bound {
		return
	}
	if s.effort < 0 || depth > 2000 {
		b.stopped = true
		b.open = b.bound
		return
	}
	// Boards fixed so far, and what they leave.
	m := len(p.items)
	// Nothing of these is looked at once the search goes deeper.
	fixed, stockX, xs := b.fixed, b.stockX, b.xs[:0]
	for t := range fixed {
		fixed[t], stockX[t] = 0, 0
	}
	for i, it := range p.items {
		b.need[i] = int64(it.n)
	}
	for c, n := range b.colMin {
		if n > 0 {
			fixed[s.cols[c].stock] += n
			for _, ic := range s.cols[c].items {
				b.need[ic.item] -= int64(ic.n * n)
			}
		}
	}
	base := int64(0)
	for t := range p.stocks {
		base += s.cost[t] * int64(fixed[t])
		if fixed[t] > b.stockMax[t] || b.stockMin[t] > b.stockMax[t] {
			return
		}
		b.rhs[m+t] = float64(b.stockMin[t] - fixed[t])
		l.stockUp[t] = forever
		if b.stockMax[t] != unbounded {
			l.stockUp[t] = float64(b.stockMax[t] - b.stockMin[t])
		}
	}
	if base >= s.bestCost {
		return
	}
	for i := range b.need {
		if b.need[i] < 0 {
			b.need[i] = 0
		}
		b.rhs[i] = float64(b.need[i])
	}
	for c := range s.cols {
		l.colUp[c] = forever
		if b.colMax[c] != unbounded {
			l.colUp[c] = float64(b.colMax[c] - b.colMin[c])
		}
	}
	var ok bool
	leave := func(low int64) {
		b.stopped = true
		if low < b.open {
			b.open = low
		}
	}
	l.start(b.rhs)
	ok = l.run()
	s.effort -= int64(len(s.cols)) / 100
	low := s.roundUp(b.safeBound(base, fixed))
	if low < s.bestCost && ok && l.cover() {
		if v := s.roundUp(b.safeBound(base, fixed)); v > low {
			low = v
		}
	}
	if low >= s.bestCost {
		return
	}
	if ok && l.artificial() > 1e-7 {
		// Nothing may fit these bounds: prove it, or give the node up.
		restore := l.feasibility()
		ok = l.run() && l.artificial() < 1e-7
		sum := b.safeSum(nil, fixed)
		restore()
		if sum > 0 {
			return
		}
		if ok {
			l.penalty = 4096
			ok = l.run() && l.artificial() < 1e-7
			if low = s.roundUp(b.safeBound(base, fixed)); low >= s.bestCost {
				l.penalty = 64
				return
			}
			l.penalty = 64
		}
	}
	if !ok {
		leave(low)
		return
	}

	// Values of the relaxation.
	l.values(func(t int, v float64) { stockX[t] = v }, func(c int, v float64) {
		if v > 1e-9 {
			xs = append(xs, frac{c, v})
		}
	})
	b.xs = xs
	const near = 1e-6
	split, splitDist := -1, near
	for t := range stockX {
		v := stockX[t] + float64(b.stockMin[t])
		d := math.Abs(v - math.Round(v))
		if d > splitDist {
			split, splitDist = t, d
		}
	}
	splitCol, splitX, colDist := -1, 0.0, near
	for _, f := range xs {
		d := math.Abs(f.x - math.Round(f.x))
		if d > colDist {
			splitCol, splitX, colDist = f.col, f.x, d
		}
	}
	// A plan from this: the whole part of it, and the rest by the greedy way.
	if b.nodes <= 40 || b.nodes%16 == 0 || (split < 0 && splitCol < 0) {
		var cuts []cut
		left := make([]int, m)
		used := append([]int(nil), fixed...)
		for i, it := range p.items {
			left[i] = it.n
		}
		put := func(c, n int) {
			if n == 0 {
				return
			}
			cuts = append(cuts, cut{stock: s.cols[c].stock, items: s.cols[c].items, times: n})
			for _, ic := range s.cols[c].items {
				left[ic.item] -= ic.n * n
			}
		}
		for c, n := range b.colMin {
			put(c, n)
		}
		for _, f := range xs {
			n := int(math.Floor(f.x + near))
			put(f.col, n)
			used[s.cols[f.col].stock] += n
		}
		for i := range left {
			if left[i] < 0 {
				left[i] = 0
			}
		}
		if more, ok := s.complete(left, used, -1); ok {
			s.take(append(cuts, more...))
		}
		s.effort -= int64(m*len(p.stocks))/50 + 1
		if low >= s.bestCost {
			return
		}
	}
	switch {
	case split >= 0:
		v := stockX[split] + float64(b.stockMin[split])
		down := int(math.Floor(v))
		lo, hi := b.stockMin[split], b.stockMax[split]
		first, second := func() { b.stockMax[split] = down; b.node(depth + 1); b.stockMax[split] = hi },
			func() { b.stockMin[split] = down + 1; b.node(depth + 1); b.stockMin[split] = lo }
		if v-float64(down) > 0.5 {
			first, second = second, first
		}
		first()
		second()
	case splitCol >= 0:
		down := int(math.Floor(splitX))
		lo, hi := b.colMin[splitCol], b.colMax[splitCol]
		b.colMin[splitCol] = lo + down + 1
		b.node(depth + 1)
		b.colMin[splitCol], b.colMax[splitCol] = lo, lo+down
		b.node(depth + 1)
		b.colMax[splitCol] = hi
	default:
		// Whole, but the plan was not accepted: rounding in the simplex.
		if low < s.bestCost {
			leave(low)
		}
	}
}

// safeBound turns the duals into a bound that holds exactly. With whole-number
// item values V any plan within the bounds has
//
//	unit × cost >= Σ V need + Σ_t n_t (unit × cost_t − most_t) − Σ_c up_c × over_c
//
// where most_t is the greatest value of a pattern of t without an upper bound
// and over_c what a bounded one is worth beyond it.
func (b *brancher) safeBound(base int64, fixed []int) int64 {
	s := b.s
	sum := b.safeSum(s.cost, fixed)
	if sum <= 0 {
		return base
	}
	return base + (sum+s.unit-1)/s.unit
}

// safeSum is that bound in units of 1/unit without the boards fixed. With no
// costs (nil) more than nought proves that no plan keeps within the bounds.
func (b *brancher) safeSum(cost []int64, fixed []int) int64 {
	s, l := b.s, b.lp
	k := s.scale * float64(s.unit)
	sum := int64(0)
	for i := range b.value {
		y := l.y[i] * k
		if !(y > 0) {
			y = 0
		}
		if most := maxDual * k; y > most {
			y = most
		}
		b.value[i] = int64(y)
		sum += b.value[i] * b.need[i]
	}
	most := make([]int64, len(s.cost))
	for c := range s.cols {
		if b.colMax[c] == unbounded {
			if v := b.worth(c); v > most[s.cols[c].stock] {
				most[s.cols[c].stock] = v
			}
		}
	}
	for c := range s.cols {
		if b.colMax[c] != unbounded {
			if over := b.worth(c) - most[s.cols[c].stock]; over > 0 {
				sum = addBound(sum, -over, int64(b.colMax[c]-b.colMin[c]))
			}
		}
	}
	for _, t := range s.useful {
		r := -most[t]
		if cost != nil {
			r += s.unit * cost[t]
		}
		n := int64(b.stockMin[t] - fixed[t])
		if n < 0 {
			n = 0
		}
		if r < 0 {
			if b.stockMax[t] != unbounded {
				n = int64(b.stockMax[t] - fixed[t])
			} else {
				n = s.mostBoards(t)
			}
		}
		sum = addBound(sum, r, n)
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
	if c := s.cost[t]; c > 0 && s.bestCost != noPlan && s.bestCost/c < pieces {
		return s.bestCost / c
	}
	return pieces
}

func (b *brancher) worth(c int) int64 {
	v := int64(0)
	for _, ic := range b.s.cols[c].items {
		v += b.value[ic.item] * int64(ic.n)
	}
	return v
}
