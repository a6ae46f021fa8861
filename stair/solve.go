package stair

import (
	"errors"
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// How the fit is solved.
//
// Positions are counted in grid cells from the foot, 0 to N; the run is N cells
// and a remainder. For each riser count n the levels of the treads are fixed,
// and so what a tread or landing costs depends on its level and its two ends
// only: a difference of prefix sums. Three tables are filled from the foot up:
//
//	start[k][i]  the least that a path up to riser k, at i, can cost if a flight begins there
//	end[k][i]    the same if a flight ends there
//	along t      the same if a flight of treads t is under way there
//
// end follows from start along the diagonals (k, i), (k+1, i+t), …; start from
// end by a landing, a sliding minimum along a row. The uppermost flight ends on
// the head, which fixes all its stations once its tread and number of risers
// are chosen, so those few are tried one by one; that also puts the remainder of
// the run into the landing below it.
//
// What a path of free treads would still cost at least, from any riser at any
// position up to the head, is cheap to tell beforehand; where that and what was
// spent to get there is more than a layout already found costs, the search goes
// no further. A first search with a few of the tread depths finds such a layout.
//
// A value is cost<<flightBits | number of flights: comparing values compares
// costs first and flights second. Sums are of whole numbers and exact, and the
// way back needs no record of choices: it looks for the first choice, in the
// order of ties, whose sum is the value.

const (
	flightBits = 11
	none       = int64(1) << 61 // no path
	some       = int64(1) << 60 // below this there is one: sums onto none stay above
	maxValue   = int64(1) << 58 // what costs may add up to
)

// errScale says that the costs add up to more than values can hold.
var errScale = errors.New("costs too large for the quantum")

// answer is one layout found.
type answer struct {
	value int64
	n     int
	plan  []planned // nil: none yet
}

// outcome is what was found for one riser count.
type outcome struct {
	value   int64
	atLeast bool
}

type solver struct {
	*problem
	quantum float64
	cells   int     // N
	rest    float64 // remainder of the run, 0 to below one cell
	at      []unit.Length
	best    answer
	found   []outcome // by riser count less the least one
	least   int
	err     error

	priced, updates int // work done so far

	// For one riser count:
	n      int
	riser  float64
	base   int64 // what the risers cost
	limit  int64 // a value that can be had: more is of no interest
	treads []tread
	coarse []tread
	levels []level // 1..top; [0] is not used
	top    int     // uppermost riser with positions on the grid
	step   int     // least depth of a tread or landing in cells
	width  int     // of the widest level, positions of its riser
	total  int64   // what all cells tabled and priced add up to
	arena  arena
	rows   [2][]int64
	queue  []int32
	sweep  [2][]int64
	pair   [2]unit.Length
	cost   []float64
	bears  []bool
}

// tread is one tread depth to be tried at one riser height.
type tread struct {
	cells  int
	risers int // the most risers a flight of it may have
}

// level is what is tabled for the level behind riser k, for positions lo..hi of
// that riser and the cells from lo to edge.
type level struct {
	lo, hi, edge int
	from, to     int     // what of lo..hi is still of use
	sum          []int64 // sum[i-lo]: cost of the cells lo..i, for i up to edge
	reach        []int32 // reach[i-lo]: how far the cells from i on bear, a position
	start, end   []int64 // for lo..hi
	ahead        []int64 // for lo..hi: what the way to the head costs at least
	last         []int64 // for lo..edge: reached by a landing behind riser k, the uppermost flight to begin there
	arrivals     []arrival
}

// arrival is an uppermost flight whose landing lies behind a level's riser: it
// begins at position j (and the remainder of the run).
type arrival struct {
	tread  tread
	risers int
	j      int
	value  int64 // of the flight and of the remainder of the landing
}

func newSolver(p *problem, quantum float64, lo, hi int) *solver {
	s := &solver{problem: p, quantum: quantum, least: lo, best: answer{value: none}}
	for n := lo; n <= hi; n++ {
		s.found = append(s.found, outcome{value: none})
	}
	s.cells = int(math.Floor(p.run/p.grid + 1e-9))
	s.rest = p.run - float64(float64(s.cells)*p.grid)
	if s.rest < tol {
		s.rest = 0
	}
	return s
}

// stations fills at, the grid from foot to head.
func (s *solver) stations() {
	if s.at != nil {
		return
	}
	if s.cells > maxCells {
		s.err = s.tooMuch("table")
		return
	}
	s.at = make([]unit.Length, s.cells+1)
	for i := range s.at {
		s.at[i] = unit.Length(float64(s.foot.Station) + float64(float64(i)*s.grid))
	}
	if s.rest == 0 {
		s.at[s.cells] = s.head.Station
	}
}

// value of a cost in quanta, and back.
func (s *solver) toCost(v int64) float64 { return float64(v>>flightBits) * s.quantum }

func (s *solver) toValue(cost float64) int64 {
	if !(cost >= 0) || math.IsInf(cost, 0) {
		if s.err == nil {
			s.err = Faults{{Field: "site", Got: fmt.Sprint(cost), Problem: "is not a cost", Fix: "price every cell and riser at 0 or more, finite"}}
		}
		return 0
	}
	q := math.Floor(cost/s.quantum + 0.5)
	if q >= float64(maxValue>>flightBits) {
		if s.err == nil {
			s.err = errScale
		}
		return 0
	}
	return int64(q) << flightBits
}

// add counts a cost towards what all costs may add up to.
func (s *solver) add(v int64) {
	s.total += v
	if s.total >= maxValue && s.err == nil {
		s.err = errScale
	}
}

// whole prices one stretch behind riser k as a single cell.
func (s *solver) whole(k int, from, to unit.Length) (v int64, ok bool) {
	s.pair = [2]unit.Length{from, to}
	s.cost = grow(s.cost, 1)
	s.bears = growBools(s.bears, 1)
	if s.priced++; s.priced > maxPriced {
		s.err = s.tooMuch("price")
		return 0, false
	}
	s.site.Cells(s.pair[:], s.surface(k), s.cost[:1], s.bears[:1])
	if !s.bears[0] {
		return 0, false
	}
	v = s.toValue(s.cost[0])
	s.add(v)
	return v, s.err == nil
}

func (s *solver) surface(k int) Line {
	return surface(s.foot, unit.Length(s.riser), s.wash, k)
}

// begin sets the solver to n risers and gives what they cost.
func (s *solver) begin(n int) {
	s.n, s.riser, s.total = n, s.climb/float64(n), 0
	s.base = s.toValue(float64(n) * s.site.Riser(unit.Length(s.riser)))
	s.add(s.base)
}

// treadRange is the range of tread depths at riser height r.
func (b *bounds) treadRange(r float64) (lo, hi float64) {
	lo, hi = b.treadMin, b.treadMax
	if x := b.stepMin - float64(2*r); b.stepMin != 0 && x > lo {
		lo = x
	}
	if x := b.stepMax - float64(2*r); b.stepMax != 0 && x < hi {
		hi = x
	}
	return lo, hi
}

// flightRisers is the most risers a flight with treads of t may have, at riser
// height r, of n.
func (b *bounds) flightRisers(r, t float64, n int) int {
	if b.maxRisers != 0 && b.maxRisers < n {
		n = b.maxRisers
	}
	if b.maxRise != 0 {
		// m risers and the wash of m−1 treads: m·r + (m−1)·w·t
		w := float64(b.wash * t)
		if m := math.Floor((b.maxRise + tol + w) / (r + w)); m < float64(n) {
			n = int(m)
		}
	}
	return n
}

// keep takes a layout of the present count into account.
func (s *solver) keep(v int64, plan func() []planned) {
	o := &s.found[s.n-s.least]
	if v < o.value {
		*o = outcome{value: v}
	}
	if v < s.best.value || (v == s.best.value && s.n < s.best.n) {
		s.best = answer{value: v, n: s.n, plan: plan()}
	}
}

// straight tries n risers in one flight.
func (s *solver) straight(n int) {
	if s.err != nil || n < 2 {
		return
	}
	s.begin(n)
	t := s.run / float64(n-1)
	lo, hi := s.treadRange(s.riser)
	if t < lo-tol || t > hi+tol || n < s.minRisers || s.flightRisers(s.riser, t, n) < n {
		return
	}
	v := s.base + 1
	from := s.foot.Station
	for k := 1; k < n; k++ {
		to := unit.Length(float64(s.foot.Station) + float64(float64(k)*t))
		if k == n-1 {
			to = s.head.Station
		}
		c, ok := s.whole(k, from, to)
		if !ok {
			return
		}
		v, from = v+c, to
	}
	s.keep(v, func() []planned { return []planned{{risers: n, tread: t}} })
}

// parted tries n risers in two flights or more.
func (s *solver) parted(n int) {
	if s.err != nil || s.landingMin == 0 || n < 2*s.minRisers {
		return
	}
	s.begin(n)
	s.treads = s.treads[:0]
	lo, hi := s.treadRange(s.riser)
	// Deeper treads than leave room for a landing are of no use.
	if room := s.run - s.landingMin; hi > room {
		hi = room
	}
	for c := int(math.Ceil((lo - tol) / s.grid)); float64(float64(c)*s.grid) <= hi+tol; c++ {
		if m := s.flightRisers(s.riser, float64(float64(c)*s.grid), n); m >= 2 && m >= s.minRisers {
			s.treads = append(s.treads, tread{cells: c, risers: m})
		}
	}
	if len(s.treads) == 0 && s.minRisers > 1 {
		return
	}
	if !s.partable(n) {
		return
	}
	if s.stations(); s.err != nil {
		return
	}
	if !s.table() {
		return
	}
	s.arrivals()
	if s.err != nil || !s.lookAhead() {
		return
	}
	own := &s.found[s.n-s.least]
	s.limit = own.value
	if s.updates > s.full && s.best.value < s.limit {
		// Too much work to find what every count costs at best: it is enough to
		// see whether this one can be as good as the best.
		s.limit = s.best.value
		if least := s.base + s.levels[1].ahead[0] + 1; least > s.limit {
			if least < own.value { // else one flight is the least, and known
				own.giveUp(least)
			}
			return
		}
	}
	shared := s.limit < own.value
	if all := s.treads; len(all) > 3*few {
		s.treads = s.coarse[:0]
		for i := 0; i < few; i++ {
			s.treads = append(s.treads, all[i*(len(all)-1)/(few-1)])
		}
		s.coarse = s.treads
		if a, _, v := s.search(); a != nil {
			s.limit = v
		}
		s.treads = all
	}
	s.narrow()
	if a, k, v := s.search(); a != nil && v < own.value {
		s.keep(v, func() []planned { return s.wayBack(a, k) })
	} else if shared {
		own.giveUp(s.best.value)
	}
}

// giveUp notes that the layouts of a count all cost at least a value, and that
// none is better than the best.
func (o *outcome) giveUp(value int64) {
	*o = outcome{value: value, atLeast: true}
}

// few is how many tread depths the first search takes.
const few = 7

// partable is whether several flights of n risers can cover the run at all.
func (s *solver) partable(n int) bool {
	spans, _ := s.spans(n)
	for _, p := range spans {
		if p.flights > 1 && s.run >= p.lo-tol && s.run <= p.hi+tol {
			return true
		}
	}
	return false
}

// landingCells is the range of a landing's depth in cells when it takes up rest
// besides; hi is past N when there is no upper limit.
func (s *solver) landingCells(rest float64) (lo, hi int) {
	lo, hi = int(math.Ceil((s.landingMin-rest-tol)/s.grid)), s.cells+1
	if lo < 0 {
		lo = 0
	}
	if s.landingMax != 0 {
		if x := math.Floor((s.landingMax - rest + tol) / s.grid); x < float64(hi) {
			hi = int(x)
		}
	}
	return lo, hi
}

// table prices the levels below the uppermost flight, each only where a path
// can get to over ground that bears. It reports whether there is any position
// to begin the uppermost flight's landing from.
func (s *solver) table() bool {
	s.arena.reset()
	landing, most := s.landingCells(0)
	lastLanding, _ := s.landingCells(s.rest)
	step, tmin, tmax := landing, 0, 0
	if len(s.treads) > 0 {
		tmin, tmax = s.treads[0].cells, s.treads[len(s.treads)-1].cells
		if tmin < step {
			step = tmin
		}
		if tmax > most {
			most = tmax
		}
	}
	if step < 1 {
		step = 1
	}
	s.step = step
	above := s.n - s.minRisers // uppermost riser that can end a flight below the uppermost one
	for len(s.levels) <= above {
		s.levels = append(s.levels, level{})
	}
	s.top = 0
	lo, hi, entries := 0, 0, 0
	s.width = 0
	for k := 1; k <= above; k++ {
		// What lies behind riser k ends where a flight of n−k risers can begin
		// the last stretch, or where riser k+1 can be with a landing still to
		// come above it. Above riser k there are n−k treads and landings.
		limit := s.cells - (s.n-k-1)*tmin
		if x := s.cells - lastLanding - (s.n-k-2)*step; k < above && x > limit {
			limit = x
		}
		if x := s.cells - lastLanding - (s.n-k-1)*step; x < hi {
			hi = x
		}
		if limit < hi {
			hi = limit
		}
		if lo > hi {
			break
		}
		l := level{lo: lo, hi: hi, from: lo, to: hi, arrivals: s.levels[k].arrivals[:0]}
		s.price(k, &l, limit)
		if s.err != nil {
			return false
		}
		entries += l.edge - l.lo + 1
		if w := l.hi - l.lo + 1; w > s.width {
			s.width = w
		}
		if entries > maxTable || s.width*len(s.treads) > maxTable {
			s.err = s.tooMuch("table")
			return false
		}
		s.levels[k] = l
		s.top = k
		// Where riser k+1 can be.
		next, far := -1, -1
		for i := l.lo; i <= l.hi && i < l.edge; i++ {
			if r := int(l.reach[i-l.lo]); r >= i+step {
				if next < 0 {
					next = i + step
				}
				far = r // never less than for the i before
				if i+most < far {
					far = i + most
				}
			}
		}
		if next < 0 {
			break
		}
		lo, hi = next, far
	}
	return s.top > 0
}

// price fills a level's sums and reach from l.lo to at most limit, as far as
// the cells bear beyond l.hi.
func (s *solver) price(k int, l *level, limit int) {
	line := s.surface(k)
	from, chunk := l.lo, l.hi-l.lo+64
	s.cost = grow(s.cost, limit-l.lo)
	s.bears = growBools(s.bears, limit-l.lo)
	edge := limit
pricing:
	for from < limit {
		to := from + chunk
		if to > limit {
			to = limit
		}
		s.priced += to - from
		if s.priced > maxPriced {
			s.err = s.tooMuch("price")
			return
		}
		s.site.Cells(s.at[from:to+1], line, s.cost[from-l.lo:to-l.lo], s.bears[from-l.lo:to-l.lo])
		for i := from; i < to; i++ {
			if i >= l.hi && !s.bears[i-l.lo] {
				edge = i
				break pricing
			}
		}
		from, chunk = to, 128
	}
	l.edge = edge
	l.sum = s.arena.values(edge - l.lo + 1)
	l.reach = s.arena.positions(edge - l.lo + 1)
	sum := int64(0)
	for i := l.lo; i < edge; i++ {
		l.sum[i-l.lo] = sum
		if s.bears[i-l.lo] {
			sum += s.toValue(s.cost[i-l.lo])
		}
	}
	l.sum[edge-l.lo] = sum
	s.add(sum)
	r := int32(edge)
	l.reach[edge-l.lo] = r
	for i := edge - 1; i >= l.lo; i-- {
		if !s.bears[i-l.lo] {
			r = int32(i)
		}
		l.reach[i-l.lo] = r
	}
}

// arrivals prices every uppermost flight that ends on the head.
func (s *solver) arrivals() {
	if s.minRisers == 1 {
		s.arrival(tread{}, 1, 0)
	}
	for _, t := range s.treads {
		flight := int64(0)
		to := s.head.Station
		for m := 2; m <= t.risers && m < s.n && s.err == nil; m++ {
			if (m-1)*t.cells > s.cells {
				break
			}
			from := s.back((m - 1) * t.cells)
			c, ok := s.whole(s.n-m+1, from, to)
			flight += c
			if !ok || s.base+flight+2 > s.found[s.n-s.least].value {
				break
			}
			to = from
			if m >= s.minRisers {
				s.arrival(t, m, flight)
			}
		}
	}
}

// arrival notes an uppermost flight of m risers at the level of its landing, if
// its landing can end there.
func (s *solver) arrival(t tread, m int, flight int64) {
	k := s.n - m // the riser below its landing
	if k < 1 || k > s.top {
		return
	}
	l := &s.levels[k]
	j := s.cells - (m-1)*t.cells
	if j <= l.lo || j > l.edge || int(l.reach[j-1-l.lo]) < j {
		return
	}
	if s.rest > 0 {
		c, ok := s.whole(k, s.at[j], s.back((m-1)*t.cells))
		if !ok {
			return
		}
		flight += c
	}
	l.arrivals = append(l.arrivals, arrival{t, m, j, flight})
}

// back is the station some cells before the head.
func (s *solver) back(cells int) unit.Length {
	return unit.Length(float64(s.head.Station) - float64(float64(cells)*s.grid))
}

// lookAhead fills ahead: what the way from a riser to the head costs at least,
// whatever the treads. It reports whether there is a way from the foot at all.
func (s *solver) lookAhead() bool {
	step := s.step
	if x, _ := s.landingCells(s.rest); x < step {
		step = x // the landing that takes up the remainder may have a cell less
	}
	for k := s.top; k >= 1; k-- {
		l := &s.levels[k]
		l.ahead = s.arena.fill(l.hi-l.lo+1, none)
		s.updates += l.edge - l.lo + 1
		// next[j]: the least from the end of the tread or landing at j on.
		next := growValues(s.sweep[0], l.edge-l.lo+1)[:l.edge-l.lo+1]
		s.sweep[0] = next
		for i := range next {
			next[i] = none
		}
		if k < s.top {
			u := &s.levels[k+1]
			for j := u.lo; j <= u.hi && j <= l.edge; j++ {
				if j >= l.lo {
					next[j-l.lo] = u.ahead[j-u.lo]
				}
			}
		}
		for _, a := range l.arrivals {
			if a.value < next[a.j-l.lo] {
				next[a.j-l.lo] = a.value
			}
		}
		least := none
		for j := l.edge; j >= l.lo+step; j-- {
			if j < l.edge && int(l.reach[j-l.lo]) == j {
				least = none // the cell behind j does not bear
			}
			if v := next[j-l.lo]; v < some && v+l.sum[j-l.lo] < least {
				least = v + l.sum[j-l.lo]
			}
			if i := j - step; i <= l.hi && least < some && int(l.reach[i-l.lo]) >= j {
				l.ahead[i-l.lo] = least - l.sum[i-l.lo]
			}
		}
	}
	return s.levels[1].ahead[0] < some
}

// narrow leaves of every level only the positions that a path of free treads
// can pass within the limit.
func (s *solver) narrow() {
	was := growValues(s.sweep[0], 1)
	was[0] = s.base
	s.sweep[0] = was
	s.levels[1].from, s.levels[1].to = 0, 0
	for k := 2; k <= s.top; k++ {
		d, l := &s.levels[k-1], &s.levels[k]
		s.updates += l.hi - l.lo + 1
		now := growValues(s.sweep[(k-1)&1], l.hi-l.lo+1)[:l.hi-l.lo+1]
		s.sweep[(k-1)&1] = now
		was := s.sweep[k&1]
		from, to, least, i := 0, -1, none, d.from
		for j := d.from; j <= l.hi; j++ {
			if j > d.edge || j > d.from && int(d.reach[j-1-d.lo]) < j {
				least = none // the cell before j does not bear
				if i < j {
					i = j
				}
			}
			for ; i <= j-s.step && i <= d.to; i++ {
				if v := was[i-d.lo]; v < some && v-d.sum[i-d.lo] < least {
					least = v - d.sum[i-d.lo]
				}
			}
			if j < l.lo {
				continue
			}
			now[j-l.lo] = none
			if least >= some || j > d.edge {
				continue
			}
			if v := least + d.sum[j-d.lo]; v+l.ahead[j-l.lo] <= s.limit {
				now[j-l.lo] = v
				if to < from {
					from = j
				}
				to = j
			}
		}
		if to < from {
			s.top = k - 1
			break
		}
		l.from, l.to = from, to
	}
}

// search fills start and end of every level, from the foot up, and gives the
// best arrival, the riser below its landing, and the value, which is at most
// the limit; nil when there is none.
func (s *solver) search() (best *arrival, riser int, value int64) {
	unlimited := s.minRisers <= 2
	for _, t := range s.treads {
		if t.risers < s.top {
			unlimited = false
		}
	}
	for k := 1; k <= s.top; k++ {
		l := &s.levels[k]
		if l.start == nil {
			l.start = s.arena.values(l.hi - l.lo + 1)
			l.end = s.arena.values(l.hi - l.lo + 1)
		}
		for i := range l.start {
			l.start[i], l.end[i] = none, none
		}
	}
	s.levels[1].start[0] = s.base + 1
	lo, hi := s.landingCells(0)
	restLo, restHi := s.landingCells(s.rest)
	value = s.limit
	for k := 1; k <= s.top && s.err == nil; k++ {
		l := &s.levels[k]
		if k > 1 {
			s.landing(&s.levels[k-1], l.start, l.from, l.to, l.lo, lo, hi)
			s.prune(l, l.start)
		}
		if s.minRisers == 1 {
			takeLess(l.end, l.start)
		}
		if unlimited {
			s.alongStep(k)
		} else {
			s.alongFrom(k)
		}
		s.prune(l, l.end)
		if len(l.arrivals) == 0 {
			continue
		}
		l.last = s.arena.fill(l.edge-l.lo+1, none)
		s.landing(l, l.last, l.lo, l.edge, l.lo, restLo, restHi)
		for i := range l.arrivals {
			a := &l.arrivals[i]
			if l.last[a.j-l.lo] >= some {
				continue
			}
			v := l.last[a.j-l.lo] + a.value
			if v < value || v == value && (best == nil || a.before(best)) {
				best, riser, value = a, k, v
			}
		}
	}
	return best, riser, value
}

// before is the order of ties between uppermost flights.
func (a *arrival) before(b *arrival) bool {
	if a.tread.cells != b.tread.cells {
		return a.tread.cells < b.tread.cells
	}
	return a.risers < b.risers
}

// prune drops what cannot come to the head within the limit.
func (s *solver) prune(l *level, v []int64) {
	if l.from > l.to {
		return
	}
	v, ahead := v[l.from-l.lo:l.to+1-l.lo], l.ahead[l.from-l.lo:l.to+1-l.lo]
	for i, x := range v {
		if x+ahead[i] > s.limit {
			v[i] = none
		}
	}
}

// landing sets out[j−base] for positions from..to to the least value of a path
// that crosses a landing of lo..hi cells behind a level's riser and arrives at
// j; a new flight begins there.
func (s *solver) landing(l *level, out []int64, from, to, base, lo, hi int) {
	s.updates += to - l.from + 1
	q := s.queue[:0] // candidates i, ascending, their end−sum ascending
	head, next := 0, l.from
	less := func(i int) int64 { return l.end[i-l.lo] - l.sum[i-l.lo] }
	first := l.from // least i from which all cells up to j bear
	for j := l.from; j <= to && j <= l.edge; j++ {
		if j > l.from && int(l.reach[j-1-l.lo]) == j-1 {
			first = j // the cell before j does not bear
		}
		for ; next <= j-lo && next <= l.to; next++ {
			if l.end[next-l.lo] >= some {
				continue
			}
			// At equal value the later one, the shorter landing, is kept.
			for len(q) > head && less(int(q[len(q)-1])) >= less(next) {
				q = q[:len(q)-1]
			}
			q = append(q, int32(next))
		}
		for head < len(q) && (int(q[head]) < first || int(q[head]) < j-hi) {
			head++
		}
		if j >= from && head < len(q) {
			out[j-base] = less(int(q[head])) + l.sum[j-l.lo] + 1
		}
	}
	s.queue = q[:0]
}

// alongStep takes flights of any number of risers one tread further, from
// level k−1 to k. rows[…] hold, for each tread depth and position of the level,
// the least value of a path with a flight of that tread under way, less the
// level's sum.
func (s *solver) alongStep(k int) {
	l := &s.levels[k]
	width := s.width
	for i := range s.rows {
		s.rows[i] = growValues(s.rows[i], len(s.treads)*width)
	}
	span := l.to - l.from + 1
	begin := growValues(s.sweep[0], span)[:span]
	s.sweep[0] = begin
	for i := range begin {
		begin[i] = l.start[l.from-l.lo+i] - l.sum[l.from-l.lo+i]
	}
	for ti, t := range s.treads {
		now := s.rows[k&1][ti*width : (ti+1)*width]
		copy(now, begin)
		if k == 1 {
			continue
		}
		d := &s.levels[k-1]
		from, to := d.from+t.cells, d.to+t.cells
		if from < l.from {
			from = l.from
		}
		if to > l.to {
			to = l.to
		}
		if to > d.edge {
			to = d.edge
		}
		if from > to {
			continue
		}
		s.updates += to - from + 1
		was := s.rows[1-k&1][ti*width : (ti+1)*width]
		stepRow(now[from-l.from:to+1-l.from], was[from-t.cells-d.from:to+1-t.cells-d.from], d.sum[from-d.lo:to+1-d.lo], l.sum[from-l.lo:to+1-l.lo],
			l.end[from-l.lo:to+1-l.lo], d.reach[from-t.cells-d.lo:to+1-t.cells-d.lo], int32(from))
	}
	if s.updates > maxUpdates {
		s.err = s.tooMuch("search")
	}
}

// stepRow is the inner loop: one tread depth, one level. It is a function of
// its own, with all slices cut to one length, because that is much faster in
// WebAssembly.
//
//go:noinline
func stepRow(now, was, below, here, end []int64, reach []int32, at int32) {
	was, below, here, end, reach = was[:len(now)], below[:len(now)], here[:len(now)], end[:len(now)], reach[:len(now)]
	for i := range now {
		if reach[i] < at+int32(i) {
			continue
		}
		v := was[i] + below[i]
		if v < end[i] {
			end[i] = v
		}
		v -= here[i]
		if v < now[i] {
			now[i] = v
		}
	}
}

// alongFrom takes the flights that begin at riser a all the way, where their
// risers are limited in number.
func (s *solver) alongFrom(a int) {
	l := &s.levels[a]
	lo, hi := l.from-l.lo, l.to-l.lo
	for lo <= hi && l.start[lo] >= some {
		lo++
	}
	for lo <= hi && l.start[hi] >= some {
		hi--
	}
	s.rows[0] = growValues(s.rows[0], len(l.start))
	for _, t := range s.treads {
		from, to := lo+l.lo, hi+l.lo // positions of riser a still of use
		v := s.rows[0][:len(l.start)]
		copy(v, l.start)
		for m := 2; m <= t.risers && a+m-1 <= s.top; m++ {
			d, u := &s.levels[a+m-2], &s.levels[a+m-1]
			by := (m - 1) * t.cells // from riser a to the flight's riser m
			if x := u.from - by; x > from {
				from = x
			}
			if x := u.to - by; x < to {
				to = x
			}
			if x := d.edge - by; x < to {
				to = x
			}
			if x := d.from - by + t.cells; x > from {
				from = x
			}
			if x := d.to - by + t.cells; x < to {
				to = x
			}
			if from > to {
				break
			}
			s.updates += to - from + 1
			end := u.end[from+by-u.lo : to+1+by-u.lo]
			if !fromRow(v[from-l.lo:to+1-l.lo], d.sum[from+by-t.cells-d.lo:], d.sum[from+by-d.lo:], end,
				d.reach[from+by-t.cells-d.lo:], int32(from+by), m >= s.minRisers) {
				break
			}
		}
	}
	if s.updates > maxUpdates {
		s.err = s.tooMuch("search")
	}
}

// fromRow takes flights one tread further, in place: v is by where they began.
// It reports whether any is still possible.
//
//go:noinline
func fromRow(v, front, back, end []int64, reach []int32, at int32, may bool) bool {
	front, back, end, reach = front[:len(v)], back[:len(v)], end[:len(v)], reach[:len(v)]
	any := false
	for i := range v {
		x := v[i]
		if x >= some {
			continue
		}
		if reach[i] < at+int32(i) {
			v[i] = none
			continue
		}
		any = true
		x += back[i] - front[i]
		v[i] = x
		if may && x < end[i] {
			end[i] = x
		}
	}
	return any
}

// wayBack is the layout below an uppermost flight, found again from the tables.
func (s *solver) wayBack(a *arrival, k int) []planned {
	plan := []planned{{risers: a.risers, tread: float64(float64(a.tread.cells) * s.grid)}}
	j := a.j
	lo, hi := s.landingCells(s.rest)
	rest := s.rest
	value := s.levels[k].last[j-s.levels[k].lo]
	for {
		l := &s.levels[k]
		i := j - lo
		if i > l.hi {
			i = l.hi
		}
		for ; ; i-- {
			if i < l.lo || i < j-hi {
				return nil // cannot be: the tables hold the sum looked for
			}
			if int(l.reach[i-l.lo]) >= j && l.end[i-l.lo] < some && l.end[i-l.lo]+l.sum[j-l.lo]-l.sum[i-l.lo]+1 == value {
				break
			}
		}
		a, x, f := s.flightTo(k, i, l.end[i-l.lo])
		if a == 0 {
			return nil
		}
		f.landing = float64(float64(j-i)*s.grid) + rest
		plan = append(plan, f)
		if a == 1 {
			break
		}
		value = s.levels[a].start[x-s.levels[a].lo]
		k, j = a-1, x
		lo, hi = s.landingCells(0)
		rest = 0
	}
	for i, j := 0, len(plan)-1; i < j; i, j = i+1, j-1 {
		plan[i], plan[j] = plan[j], plan[i]
	}
	return plan
}

// flightTo finds the flight that ends with riser k at i for a value, and gives
// its first riser and where that is.
func (s *solver) flightTo(k, i int, value int64) (a, at int, f planned) {
	l := &s.levels[k]
	if s.minRisers == 1 && l.start[i-l.lo] == value {
		return k, i, planned{risers: 1}
	}
	for _, t := range s.treads {
		x, cost := i, int64(0)
		for m := 2; m <= t.risers && m <= k; m++ {
			d := &s.levels[k-m+1]
			to := x
			x -= t.cells
			if x < d.lo || x > d.hi || to > d.edge || int(d.reach[x-d.lo]) < to {
				break
			}
			cost += d.sum[to-d.lo] - d.sum[x-d.lo]
			if m >= s.minRisers && d.start[x-d.lo] < some && d.start[x-d.lo]+cost == value {
				return k - m + 1, x, planned{risers: m, tread: float64(float64(t.cells) * s.grid)}
			}
		}
	}
	return 0, 0, planned{}
}

// takeLess sets each value to the lesser of the two.
func takeLess(a, b []int64) {
	for i, v := range b {
		if v < a[i] {
			a[i] = v
		}
	}
}

// tooMuch is the fault for a fit beyond the caps.
func (s *solver) tooMuch(what string) error {
	fix := "plan the path in two parts"
	if s.grid < float64(maxGrid)-tol {
		fix = fmt.Sprintf("take a coarser grid, up to %s, or narrow the riser and tread limits", text(maxGrid))
	}
	return Faults{{Field: "grid", Got: text(unit.Length(s.grid)),
		Problem: fmt.Sprintf("makes too many places to %s on a run of %s", what, text(unit.Length(s.run))), Fix: fix}}
}

// considered lists what was found by riser count.
func (s *solver) considered() []PerCount {
	out := make([]PerCount, len(s.found))
	for i, o := range s.found {
		n := s.least + i
		c := PerCount{Risers: n, Riser: unit.Length(s.climb / float64(n))}
		switch {
		case o.atLeast:
			c.AtLeast, c.Cost = true, s.toCost(o.value)
		case o.value < some:
			c.OK, c.Cost, c.Flights = true, s.toCost(o.value), int(o.value&(1<<flightBits-1))
		default:
			c.Why = s.why(n)
		}
		out[i] = c
	}
	return out
}

// arena hands out slices that live until the next riser count.
type arena struct {
	v []int64
	p []int32
}

func (a *arena) reset() { a.v, a.p = a.v[:0], a.p[:0] }

// values gives n values, not cleared.
func (a *arena) values(n int) []int64 {
	if len(a.v)+n > cap(a.v) {
		// Slices handed out keep the old block alive.
		a.v = make([]int64, 0, max(2*cap(a.v), n, 1<<14))
	}
	a.v = a.v[:len(a.v)+n]
	return a.v[len(a.v)-n : len(a.v) : len(a.v)]
}

func (a *arena) positions(n int) []int32 {
	if len(a.p)+n > cap(a.p) {
		a.p = make([]int32, 0, max(2*cap(a.p), n, 1<<14))
	}
	a.p = a.p[:len(a.p)+n]
	return a.p[len(a.p)-n : len(a.p) : len(a.p)]
}

// fill gives n values, each v.
func (a *arena) fill(n int, v int64) []int64 {
	s := a.values(n)
	for i := range s {
		s[i] = v
	}
	return s
}

func growValues(s []int64, n int) []int64 {
	if cap(s) < n {
		return make([]int64, n)
	}
	return s[:cap(s)]
}

func grow(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:cap(s)]
}

func growBools(s []bool, n int) []bool {
	if cap(s) < n {
		return make([]bool, n)
	}
	return s[:cap(s)]
}
