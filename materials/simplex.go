package materials

import "math"

// lp is the linear relaxation of a cutting problem: rows for the items, each
// covered at least its need, and one row a stock length that counts the boards
// bought of it. It is a bounded primal simplex with a dense inverse: problems
// have at most a few hundred rows and columns come in as they are made.
//
// Variables in order: an artificial for each row, a surplus for each item, the
// count of each stock, then the patterns.
type lp struct {
	items, stocks, rows int
	price               []float64 // of each stock, scaled to at most 1
	penalty             float64   // of an artificial
	covered             bool      // artificials are held at nought, and free
	cols                []column
	stockUp             []float64 // boards that there are

	inv    []float64 // rows × rows
	basis  []int
	where  []int8 // by variable: 0 at lower bound, 1 at upper, 2 in the basis
	x      []float64
	y      []float64
	alpha  []float64
	some   []int // of a row, where it is not nought
	effort *int64

	// hot are the patterns that have been of use: they are priced before all
	// the others are.
	hot   []int
	isHot []bool
}

// column is a pattern: what is cut from one board of a stock.
type column struct {
	stock int
	items []itemCount
}

const (
	lpEps   = 1e-9
	pivEps  = 1e-7
	forever = 1e30
)

func newLP(price []float64, items int, effort *int64) *lp {
	l := &lp{items: items, stocks: len(price), rows: items + len(price), price: price, penalty: 64, effort: effort}
	r := l.rows
	l.inv = make([]float64, r*r)
	l.basis = make([]int, r)
	l.x = make([]float64, r)
	l.y = make([]float64, r)
	l.alpha = make([]float64, r)
	l.stockUp = make([]float64, l.stocks)
	l.where = make([]int8, r+r)
	return l
}

func (l *lp) first() int { return l.rows + l.rows } // index of the first pattern

func (l *lp) add(c column) {
	l.cols = append(l.cols, c)
	l.where = append(l.where, 0)
	l.isHot = append(l.isHot, false)
}

// stockedWith sets how many boards there are of each stock.
func (l *lp) stockedWith(have []int) {
	for t, n := range have {
		l.stockUp[t] = forever
		if n != unbounded {
			l.stockUp[t] = float64(n)
		}
	}
}

// unbounded is how many boards there are where any number can be had.
const unbounded = math.MaxInt32

// start sets up the basis of artificials and slacks for a need of each item.
func (l *lp) start(need []int) {
	r := l.rows
	l.covered = false
	for i := range l.inv {
		l.inv[i] = 0
	}
	for i := range l.where {
		l.where[i] = 0
	}
	for i := 0; i < r; i++ {
		b, sign := r+i, -1.0
		l.x[i] = 0
		if i < l.items && need[i] > 0 {
			b, sign = i, 1
			l.x[i] = float64(need[i])
		}
		l.basis[i] = b
		l.where[b] = 2
		l.inv[i*r+i] = sign
	}
	l.duals()
}

func (l *lp) cost(v int) float64 {
	switch {
	case v < l.rows:
		if l.covered {
			return 0
		}
		return l.penalty
	case v >= l.rows+l.items && v < l.first():
		return l.price[v-l.rows-l.items]
	}
	return 0
}

func (l *lp) upper(v int) float64 {
	switch {
	case v >= l.rows+l.items && v < l.first():
		return l.stockUp[v-l.rows-l.items]
	case v < l.rows && l.covered:
		return 0
	}
	return forever
}

// cover goes on to the optimum with the artificials held at nought, where some
// are left in the basis at nought: with their penalty in the duals those are no
// bound to speak of. It returns false where there was nothing to do, or no way.
func (l *lp) cover() bool {
	if l.covered || l.artificial() > 1e-7 {
		return false
	}
	for _, b := range l.basis {
		if b < l.rows {
			l.covered = true
			l.duals()
			return l.run()
		}
	}
	return false
}

// duals computes the prices of the rows afresh.
func (l *lp) duals() {
	r := l.rows
	for j := range l.y {
		l.y[j] = 0
	}
	for i, b := range l.basis {
		c := l.cost(b)
		if c == 0 {
			continue
		}
		row := l.inv[i*r : i*r+r]
		for j, v := range row {
			l.y[j] += float64(c * v)
		}
	}
}

// whole gives the duals of the items in whole numbers of 1/k.
func (l *lp) whole(value []int64, k float64) {
	top := maxDual * k
	for i := range value {
		y := l.y[i] * k
		if !(y > 0) {
			y = 0
		}
		if y > top {
			y = top
		}
		value[i] = int64(y)
	}
}

// reduced is the reduced cost of pattern p.
func (l *lp) reduced(p int) float64 {
	c, y := &l.cols[p], l.y
	d := -y[l.items+c.stock]
	for _, ic := range c.items {
		d -= float64(float64(ic.n) * y[ic.item])
	}
	return d
}

// run goes on from the present basis to the optimum over the present columns.
// It returns false when it gives up; the duals then still give a bound.
func (l *lp) run() bool {
	r := l.rows
	stuck := 0
	for iter := 0; iter < 20_000; iter++ {
		if iter%64 == 63 {
			l.duals()
		}
		*l.effort -= int64(r*r+4*len(l.hot))/1000 + 1
		if *l.effort < 0 {
			return false
		}
		bland := stuck > 40
		enter, best := -1, lpEps
		try := func(v int, d float64) bool {
			switch l.where[v] {
			case 2:
				return false
			case 1:
				d = -d
			}
			if l.upper(v) <= 0 {
				return false
			}
			if -d > best {
				enter = v
				if bland {
					return true
				}
				best = -d
			}
			return false
		}
		done := false
		for i := 0; i < l.items && !done; i++ {
			done = try(r+i, l.y[i])
		}
		for t := 0; t < l.stocks && !done; t++ {
			done = try(r+l.items+t, l.price[t]+l.y[l.items+t])
		}
		first := l.first()
		for i := 0; i < len(l.hot) && !done; i++ {
			if p := l.hot[i]; l.where[first+p] != 2 {
				// Most are no better than the best so far: that is soon seen.
				if d := l.reduced(p); d < -best {
					done = try(first+p, d)
				}
			}
		}
		if enter < 0 {
			*l.effort -= int64(4*len(l.cols)) / 1000
			for p := 0; p < len(l.cols) && !done; p++ {
				if l.where[first+p] != 2 {
					if d := l.reduced(p); d < -best {
						done = try(first+p, d)
					}
				}
			}
			if p := enter - first; p >= 0 && !l.isHot[p] {
				l.isHot[p] = true
				l.hot = append(l.hot, p)
			}
		}
		if enter < 0 {
			return true
		}
		if l.pivot(enter, bland) {
			stuck = 0
		} else {
			stuck++
		}
	}
	return false
}

// pivot brings a variable in and reports whether anything moved. Where bland is
// set the lowest of the variables that may leave does, which ends any circling.
func (l *lp) pivot(enter int, bland bool) bool {
	r, alpha := l.rows, l.alpha
	var d float64
	switch {
	case enter >= l.first():
		c := &l.cols[enter-l.first()]
		d = l.reduced(enter - l.first())
		for i := 0; i < r; i++ {
			row := l.inv[i*r : i*r+r]
			a := row[l.items+c.stock]
			for _, ic := range c.items {
				a += float64(float64(ic.n) * row[ic.item])
			}
			alpha[i] = a
		}
	default:
		j := enter - r
		d = l.cost(enter) + l.y[j]
		for i := 0; i < r; i++ {
			alpha[i] = -l.inv[i*r+j]
		}
	}
	dir := 1.0
	if l.where[enter] == 1 {
		dir = -1
	}
	step, leave, size := l.upper(enter), -1, 0.0
	toUpper := false
	for i := 0; i < r; i++ {
		a := dir * alpha[i]
		var limit float64
		up := false
		switch {
		case a > pivEps:
			limit = l.x[i] / a
		case a < -pivEps:
			u := l.upper(l.basis[i])
			if u >= forever {
				continue
			}
			limit = (u - l.x[i]) / -a
			up = true
		default:
			continue
		}
		if limit < 0 {
			limit = 0
		}
		if a < 0 {
			a = -a
		}
		better := a > size
		if bland && leave >= 0 {
			better = l.basis[i] < l.basis[leave]
		}
		if limit < step-1e-12 || (limit < step+1e-12 && better && leave >= 0) {
			step, leave, size, toUpper = limit, i, a, up
		}
	}
	if step >= forever {
		return false
	}
	for i := 0; i < r; i++ {
		l.x[i] -= float64(float64(dir*step) * alpha[i])
	}
	if leave < 0 { // it goes from one of its bounds to the other
		l.where[enter] = 1 - l.where[enter]
		return true
	}
	out := l.basis[leave]
	l.where[out] = 0
	if toUpper {
		l.where[out] = 1
	}
	value := step
	if dir < 0 {
		value = l.upper(enter) - step
	}
	l.basis[leave] = enter
	l.where[enter] = 2
	l.x[leave] = value
	// The inverse and the duals follow.
	prow := l.inv[leave*r : leave*r+r]
	f := 1 / alpha[leave]
	for j := range prow {
		prow[j] *= f
	}
	// Most of the row is nought: what is not is looked up once.
	some := l.some[:0]
	for j, v := range prow {
		if v != 0 {
			some = append(some, j)
			l.y[j] += float64(d * v)
		}
	}
	l.some = some
	for i := 0; i < r; i++ {
		a := alpha[i]
		if i == leave || a == 0 {
			continue
		}
		row := l.inv[i*r : i*r+r][:len(prow)]
		for _, j := range some {
			row[j] -= float64(a * prow[j])
		}
	}
	return step > 1e-12
}

// artificial is the sum of the artificials: more than nought means that the
// columns do not cover the needs.
func (l *lp) artificial() float64 {
	sum := 0.0
	for i, b := range l.basis {
		if b < l.rows {
			sum += l.x[i]
		}
	}
	return sum
}

// values calls f for every variable that is not nought among the stocks
// (pattern < 0) and the patterns (stock < 0).
func (l *lp) values(stock func(t int, v float64), pattern func(p int, v float64)) {
	give := func(v int, x float64) {
		switch {
		case v >= l.first():
			pattern(v-l.first(), x)
		case v >= l.rows+l.items:
			stock(v-l.rows-l.items, x)
		}
	}
	for i, b := range l.basis {
		give(b, l.x[i])
	}
	for v, w := range l.where {
		if w == 1 {
			give(v, l.upper(v))
		}
	}
}
