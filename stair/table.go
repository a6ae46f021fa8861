package stair

import (
	"math"

	"github.com/martinlindhe/unit"
)

// What is tabled of a case: the cells behind every riser.

// strip is what is tabled of one kind of underlay behind a riser, for the cells
// from the level's lo to edge.
type strip struct {
	edge  int
	sum   []int64 // sum[i-lo]: cost of the cells lo..i, for i up to edge
	reach []int32 // reach[i-lo]: how far the cells from i on bear, a position
	// Of a rough look: begun[i-lo] is what to take from sums for a stretch that
	// begins somewhere in long cell i after a stretch of the same kind, nil where that
	// is after the cell.
	begun []int64
}

// level is what is tabled for the level behind riser k, for positions lo..hi of
// that riser.
type level struct {
	k        int
	lo, hi   int
	from, to int // what of lo..hi is still of use
	edge     int // of the strip that goes furthest
	strips   [3]strip
	begin    [2][]int64   // for lo..hi, by the kind of flight that begins there
	end      [2][]int64   // by the kind that ends there
	ahead    [2][]int64   // by the kind under way: what the way to the head costs at least
	group    [2][][]int64 // the same for each group of treads; nil where not worked out
	open     []int64      // the least of them with what a flight costs to open
	last     [2][]int64   // for lo..edge, by kind of landing: reached by it, the uppermost flight to begin there
	arrivals []arrival
}

// arrival is an uppermost flight whose landing lies behind a level's riser: it
// begins at position j (and the remainder of the run).
type arrival struct {
	kind   int
	cells  int
	risers int
	j      int
	value  [2]int64 // of the flight and of the remainder of the landing, by its kind
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

// landingOn is the range of the depth of a kind of landing.
func (s *solver) landingOn(lt int, rest float64) (lo, hi int) {
	lo, hi = s.landingCells(rest)
	if lt == onPlatform && s.platformMax != 0 {
		if x := math.Floor((s.platformMax - rest + tol) / s.grid); x < float64(hi) {
			hi = int(x)
		}
	}
	return lo, hi
}

// needs is whether a kind of underlay is tabled.
func (s *solver) needs(what int) bool {
	switch what {
	case onFrame:
		return s.flight[onFrame].on
	case onDeck:
		return s.flight[onFrame].on && s.decks
	}
	return true // flights or the landings between them
}

// reaches is the range of what may lie on a kind of underlay, in cells; hi is 0
// when nothing may.
func (s *solver) reaches(what int) (lo, hi int) {
	lo, hi = math.MaxInt, 0
	if what != onDeck && len(s.flight[what].all) > 0 {
		lo, hi = s.flight[what].tmin, s.flight[what].tmax
	}
	if what != onFrame {
		lt := onGround
		if what == onDeck {
			lt = onPlatform
		}
		a, b := s.landingOn(lt, 0)
		lo, hi = min(lo, a), max(hi, b)
	}
	return max(lo, 1), hi
}

// table prices the levels below the uppermost flight, each only where a path
// can get to over what bears. It reports whether there is any position to begin
// the uppermost flight's landing from.
func (s *solver) table() bool {
	s.arena.reset()
	lastLanding, _ := s.landingCells(s.rest)
	step, tmin, treads := math.MaxInt, math.MaxInt, 0
	for what := range 3 {
		if s.needs(what) {
			lo, _ := s.reaches(what)
			step = min(step, lo)
		}
	}
	for kind := range s.flight {
		if f := &s.flight[kind]; len(f.all) > 0 {
			tmin = min(tmin, f.tmin)
			treads += len(f.all)
		}
	}
	if tmin == math.MaxInt {
		tmin = 0
	}
	above := s.n - s.minAny(2) // uppermost riser that can end a flight below the uppermost one
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
		a, z := s.band.reach(k)
		lo, hi = max(lo, a), min(hi, z)
		limit = min(limit, s.band.ends(k+1))
		if limit < hi {
			hi = limit
		}
		if lo > hi {
			break
		}
		l := level{k: k, lo: lo, hi: hi, from: lo, to: hi, arrivals: s.levels[k].arrivals[:0]}
		for what := range l.strips {
			if !s.needs(what) {
				continue
			}
			s.price(k, what, &l, limit, s.band.only(what, k), s.at, &s.arena, false)
			l.edge = max(l.edge, l.strips[what].edge)
			entries += l.strips[what].edge - l.lo + 1
			if s.err != nil {
				return false
			}
		}
		if w := l.hi - l.lo + 1; w > s.width {
			s.width = w
		}
		if entries > maxTable || s.width*treads > maxTable {
			s.err = s.tooMuch("table")
			return false
		}
		s.levels[k] = l
		s.top = k
		if lo, hi = s.next(&l); lo < 0 {
			break
		}
	}
	return s.top > 0
}

// next is where the riser above a level can be; lo is −1 when nowhere.
func (s *solver) next(l *level) (lo, hi int) {
	lo, hi = -1, -1
	for what := range l.strips {
		if !s.needs(what) {
			continue
		}
		step, most := s.reaches(what)
		t := &l.strips[what]
		first := true
		for i := l.lo; i <= l.hi && i < t.edge && most > 0; i++ {
			r := int(t.reach[i-l.lo])
			if r < i+step {
				continue
			}
			if first && (lo < 0 || i+step < lo) {
				lo = i + step
			}
			first = false
			if i+most < r {
				r = i + most
			}
			if r > hi {
				hi = r
			}
		}
	}
	return lo, hi
}

// price fills a level's sums and reach of one kind from l.lo to at most limit,
// as far as the cells bear beyond l.hi. Cells that do not lie from only.first up
// to only.last are not asked for and do not bear.
func (s *solver) price(k, what int, l *level, limit int, only stretch, at []unit.Length, mem *arena, rough bool) {
	line := s.surface(k)
	s.cost = grow(s.cost, limit-l.lo)
	s.bears = growBools(s.bears, limit-l.lo)
	from, chunk := min(max(l.lo, only.first), limit), l.hi-l.lo+64
	for i := l.lo; i < from; i++ {
		s.bears[i-l.lo] = false
	}
	limit = max(l.hi, min(limit, only.last))
	edge := limit
	sinks := rough && s.sinker != nil && what != onDeck
	if sinks {
		s.sunk = grow(s.sunk, limit-l.lo)
	}
pricing:
	for from < limit {
		to := from + chunk
		if to > limit {
			to = limit
		}
		if from >= only.last {
			for i := from; i < limit; i++ {
				s.bears[i-l.lo] = false
			}
			break
		}
		if to > only.last {
			to = only.last
		}
		s.priced += to - from
		if s.overworked() {
			s.err = s.tooMuch("price")
			return
		}
		s.cellsOn(what, at[from:to+1], line, s.cost[from-l.lo:to-l.lo], s.bears[from-l.lo:to-l.lo])
		if sinks {
			sunk := s.sunk[from-l.lo : to-l.lo]
			copy(sunk, s.cost[from-l.lo:])
			sinks = s.sinker.Sunk(kindNames[what], at[from:to+1], sunk)
		}
		for i := from; i < to; i++ {
			if i >= l.hi && !s.bears[i-l.lo] {
				edge = i
				break pricing
			}
		}
		from, chunk = to, 128
	}
	t := &l.strips[what]
	t.edge = edge
	t.sum = mem.values(edge - l.lo + 1)
	t.reach = mem.positions(edge - l.lo + 1)
	s.sums(s.cost[:edge-l.lo], s.bears, t.sum)
	s.add(t.sum[edge-l.lo])
	if sinks {
		t.begun = mem.values(edge - l.lo + 1)
		s.begunSums(s.sunk[:edge-l.lo], t.sum, t.begun)
	}
	r := int32(edge)
	t.reach[edge-l.lo] = r
	for i := edge - 1; i >= l.lo; i-- {
		if !s.bears[i-l.lo] {
			r = int32(i)
		}
		t.reach[i-l.lo] = r
	}
}

// sums fills sum with what the cells before each cost, and all of them.
func (s *solver) sums(cost []float64, bears []bool, sum []int64) {
	const most = float64(maxValue >> flightBits)
	bears, sum = bears[:len(cost)], sum[:len(cost)+1]
	all := int64(0)
	for i, c := range cost {
		sum[i] = all
		if !bears[i] {
			continue
		}
		if q := c/s.quantum + 0.5; q >= 0.5 && q < most { // as toValue does
			all += int64(q) << flightBits
		} else {
			all += s.toValue(c)
		}
	}
	sum[len(cost)] = all
}

// begunSums fills begun with the sums after each cell less what a cell costs of which
// the beginning is sunk.
func (s *solver) begunSums(sunk []float64, sum, begun []int64) {
	const most = float64(maxValue >> flightBits)
	sum, begun = sum[:len(sunk)+1], begun[:len(sunk)+1]
	for i, c := range sunk {
		q := c/s.quantum + 0.5
		if !(q >= 0.5 && q < most) {
			q = 0 // less than it is, which a bound may be
		}
		begun[i] = sum[i+1] - int64(q)<<flightBits
	}
	begun[len(sunk)] = sum[len(sunk)]
}

// arrivals notes the uppermost flights within the limit at the levels of their
// landings.
func (s *solver) arrivals() {
	for i := range s.band.tops {
		if t := &s.band.tops[i]; t.least <= s.limit {
			s.arrival(t)
		}
	}
}

// arrival notes an uppermost flight at the level of its landing, if
// its landing can end there.
func (s *solver) arrival(t *uppermost) {
	k := s.n - t.risers // the riser below its landing
	if k < 1 || k > s.top {
		return
	}
	l := &s.levels[k]
	a := arrival{kind: t.kind, cells: t.cells, risers: t.risers, j: t.j}
	can := false
	for lt, what := range under {
		a.value[lt] = none
		if !s.needs(what) || lt == onPlatform && t.kind != onFrame {
			continue
		}
		p := &l.strips[what]
		if a.j <= l.lo || a.j > p.edge || int(p.reach[a.j-1-l.lo]) < a.j {
			continue
		}
		a.value[lt] = t.value
		if s.rest > 0 {
			c, ok := s.whole(what, k, s.at[a.j], s.back((t.risers-1)*t.cells))
			if !ok {
				a.value[lt] = none
				continue
			}
			a.value[lt] += c
		}
		can = true
	}
	if can {
		l.arrivals = append(l.arrivals, a)
	}
}

// back is the station some cells before the head.
func (s *solver) back(cells int) unit.Length {
	return unit.Length(float64(s.head.Station) - float64(float64(cells)*s.grid))
}

// arena hands out slices that live until the next riser count.
type arena struct {
	v     []int64
	p     []int32
	given int // values given out
}

func (a *arena) reset() { a.v, a.p, a.given = a.v[:0], a.p[:0], 0 }

// values gives n values, not cleared.
func (a *arena) values(n int) []int64 {
	if len(a.v)+n > cap(a.v) {
		// Slices handed out keep the old block alive.
		a.v = make([]int64, 0, max(2*cap(a.v), n, 1<<14))
	}
	a.given += n
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

func growPositions(s []int32, n int) []int32 {
	if cap(s) < n {
		return make([]int32, n)
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
