package stair

import (
	"math"

	"github.com/martinlindhe/unit"
)

// A rough look at a case, on cells some times as long as those of the grid. A
// stretch costs at least what the long cells cost that lie in it whole, and bears
// only if they do; a riser is known to lie in some long cell only. That bounds
// what a case costs from below at a fraction of the work, and where its risers
// can be within a limit.
//
// Where lower costs more, the long cell that a riser lies in counts as well: as
// if the riser were at its beginning, since what lies before the riser lies lower
// and costs as much at least. That is much the better bound, and so close that
// the rounding of costs is allowed for.

// How many cells of the grid a long one has, about: at the first look, at every
// case, and at the second, at those that may be the best.
var lookAt = [2]int{12, 3}

// longCell is how many cells of the grid a long one has at a look at the case at
// hand: of so many, or a third less or more, that into which the shallowest tread
// goes with the least remainder. The remainder is what a look gives away of every
// tread.
func (s *solver) longCell(look int) int {
	about, tread := lookAt[look], math.MaxInt
	for kind := range s.flight {
		if f := &s.flight[kind]; f.on && f.tmin > 0 {
			tread = min(tread, f.tmin)
		}
	}
	best := about
	for f := about + about/3; f >= about-about/3; f-- {
		if tread%f < tread%best {
			best = f
		}
	}
	return best
}

// maxKept is the most cases whose first look is kept for when their turn comes.
const maxKept = 64

// glance is a rough look at a case.
type glance struct {
	skip   int          // long cells at the beginning of a tread that do not count, 0 or 1
	slack  int64        // what it may cost too much by rounding
	factor int          // cells to a long one
	levels []roughLevel // 1..n
	at     []unit.Length
	arena  *arena
}

// roughLevel is what is tabled of the long cells behind a riser, for the long
// cells lo..hi that the riser may be in.
type roughLevel struct {
	level
	was    [2][]int64 // by kind: what it costs at least to come there
	framed stretch    // where framed flights can be within the limit
}

// roughly bounds the case at hand: what it costs at least. in is what another
// look leaves of it; nil is all.
func (s *solver) roughly(v, in *glance) int64 {
	if !s.roughTable(v, in) {
		return none
	}
	return s.roughBack(v)
}

// look gives a look at the case at hand, not taken yet.
func (s *solver) look(i int) *glance {
	v := &s.looks[i]
	s.roughArena[i].reset()
	v.factor, v.arena = s.longCell(i), &s.roughArena[i]
	return v
}

// lookTwice sets band to where risers can be within the limit; it reports false
// when nowhere.
func (s *solver) lookTwice() bool {
	v := s.look(0)
	if s.trying.kept > 0 {
		v = &s.kept[s.trying.kept-1]
	} else if s.roughly(v, nil) > s.limit {
		return false
	}
	if !s.roughBand(v) {
		return false
	}
	// Where the first look leaves most of the places a second one leaves as many.
	all, left := 0, 0
	for k := 1; k < s.n; k++ {
		l := &v.levels[k]
		all, left = all+l.hi-l.lo+1, left+l.to-l.from+1
	}
	if s.band = v; 3*left > 2*all {
		return s.err == nil
	}
	w := s.look(1)
	if s.roughly(w, v) > s.limit || !s.roughBand(w) {
		return false
	}
	s.band = w
	return s.err == nil
}

// roughSteps is the least and the most long cells from one riser to the next over
// a kind of underlay.
func (s *solver) roughSteps(v *glance, what int) (lo, hi int) {
	lo, hi = s.reaches(what)
	if what != onFrame {
		landing, _ := s.landingCells(s.rest)
		lo = min(lo, landing)
	}
	return lo / v.factor, hi/v.factor + 1
}

func (s *solver) roughTable(v, in *glance) bool {
	if v.skip, v.slack = 1, 0; s.sinks && s.merged() {
		v.skip, v.slack = 0, int64(s.cells+s.n)<<flightBits
	}
	last := s.cells / v.factor // the long cell that the head is in
	v.at = v.at[:0]
	for i := 0; i <= last; i++ {
		v.at = append(v.at, s.at[i*v.factor])
	}
	step := math.MaxInt
	for what := range 3 {
		if s.needs(what) {
			lo, _ := s.reaches(what)
			step = min(step, lo)
		}
	}
	step = max(step-1, 0) // the last landing may have a cell less
	for len(v.levels) <= s.n {
		v.levels = append(v.levels, roughLevel{})
	}
	lo, hi := 0, 0
	for k := 1; k < s.n; k++ {
		if x := (s.cells - (s.n-k)*step + 1) / v.factor; x < hi {
			hi = x
		}
		limit := min(last, (s.cells-(s.n-k-1)*step+1)/v.factor)
		if in != nil {
			a, z := in.reach(k)
			lo, hi = max(lo, a/v.factor), min(hi, z/v.factor)
			_, z = in.reach(k + 1)
			limit = min(limit, z/v.factor)
		}
		if lo > hi {
			return false
		}
		l := &v.levels[k]
		l.level = level{k: k, lo: lo, hi: hi, from: lo, to: hi}
		for what := range l.strips {
			if s.needs(what) {
				s.price(k, what, &l.level, max(limit, hi), in.only(what, k, v.factor), v.at, v.arena)
				l.edge = max(l.edge, l.strips[what].edge)
			}
		}
		if s.err != nil {
			return false
		}
		next, far := -1, -1
		for what := range l.strips {
			if !s.needs(what) {
				continue
			}
			t := &l.strips[what]
			a, z := s.roughSteps(v, what)
			for i := l.lo; i <= l.hi; i++ {
				r := min(i+z, t.far(l.lo, i), last)
				if r < i+a {
					continue
				}
				if next < 0 || i+a < next {
					next = i + a
				}
				far = max(far, r)
			}
		}
		if next < 0 {
			return false
		}
		lo, hi = next, far
	}
	v.levels[s.n].level = level{k: s.n, lo: last, hi: last, from: last, to: last, edge: last}
	return lo <= last && hi >= last
}

// far is the long cell up to which all between it and i bear.
func (t *strip) far(lo, i int) int {
	if i+1 > t.edge {
		return i + 1
	}
	return max(i+1, int(t.reach[i+1-lo]))
}

// past is what the long cells from lo up to j cost.
func (t *strip) past(lo, j int) int64 {
	return t.sum[min(j, t.edge)-lo]
}

// roughBack fills ahead and gives what the case costs at least.
func (s *solver) roughBack(v *glance) int64 {
	merged := s.merged()
	top := &v.levels[s.n]
	top.open = v.arena.fill(1, none)
	for kind := range s.flight {
		f := &s.flight[kind]
		if !f.on {
			continue
		}
		top.ahead[kind] = v.arena.fill(1, 0)
		top.open[0] = min(top.open[0], f.open+f.extra)
	}
	if merged {
		top.open[0] = 0
	}
	for k := s.n - 1; k >= 1; k-- {
		l, u := &v.levels[k].level, &v.levels[k+1].level
		width := l.hi - l.lo + 1
		s.updates += int64(width)
		l.open = v.arena.fill(width, none)
		for kind := range s.flight {
			f := &s.flight[kind]
			if !f.on {
				continue
			}
			l.ahead[kind] = v.arena.fill(width, none)
			s.roughSweepBack(v, l, u, onBox, u.open, 1, l.ahead[kind])
			if merged {
				l.open = l.ahead[kind]
				continue
			}
			if len(f.all) > 0 {
				s.roughTreadBack(v, l, u, kind, u.ahead[kind], f.each, l.ahead[kind])
			}
			if kind == onFrame && s.decks {
				s.roughSweepBack(v, l, u, onDeck, u.ahead[onFrame], s.platform+f.open+f.extra+1, l.ahead[kind])
			}
			for i, x := range l.ahead[kind] {
				if x += f.open + f.extra; x < l.open[i] {
					l.open[i] = x
				}
			}
		}
	}
	least := none
	for kind := range s.flight {
		f := &s.flight[kind]
		if f.on {
			least = min(least, v.levels[1].ahead[kind][0]+f.open+s.opening(kind, 1))
		}
	}
	if least >= some {
		return none
	}
	return max(0, s.base+least-v.slack)
}

// roughLanding is the least long cells of a landing, or in merged bounds of a
// tread.
func (s *solver) roughLanding(v *glance) int {
	treads, landing := s.steps()
	if s.merged() {
		landing = min(landing, treads[onBox])
	}
	return landing / v.factor
}

func (s *solver) roughSweepBack(v *glance, l, u *level, what int, next []int64, plus int64, out []int64) {
	if s.merged() {
		plus = 0
	}
	roughRowBack(l, u, &l.strips[what], s.roughLanding(v), v.skip, next, plus, out)
}

func (s *solver) roughTreadBack(v *glance, l, u *level, kind int, next []int64, plus int64, out []int64) {
	roughRowBack(l, u, &l.strips[kind], s.flight[kind].tmin/v.factor, v.skip, next, plus, out)
}

// roughRowBack lowers out[i] to what it costs at least to go on from long cell i
// by step of them or more, and plus. The first skip of them cost nothing.
func roughRowBack(l, u *level, t *strip, step, skip int, next []int64, plus int64, out []int64) {
	least, j := none, u.hi // least of next and sum, of those from j+1 on that are reached
	for i := l.hi; i >= l.lo; i-- {
		if i+1 > t.edge || int(t.reach[i+1-l.lo]) == i+1 {
			least = none // the long cell above i does not bear
			j = min(j, i+1)
		}
		for ; j >= i+max(step, 1) && j >= u.lo; j-- {
			if v := next[j-u.lo]; v < some && v+t.past(l.lo, j) < least {
				least = v + t.past(l.lo, j)
			}
		}
		v := none
		if least < some {
			v = least - t.past(l.lo, i+skip) + plus
		}
		if step == 0 && i >= u.lo && i <= u.hi && next[i-u.lo]+plus < v {
			v = next[i-u.lo] + plus
		}
		if v < out[i-l.lo] {
			out[i-l.lo] = v
		}
	}
}

// roughBand leaves of every rough level the long cells that a path within the
// limit can have its riser in. It reports whether there are any.
func (s *solver) roughBand(v *glance) bool {
	merged := s.merged()
	first := &v.levels[1]
	for kind := range s.flight {
		if f := &s.flight[kind]; f.on {
			first.framed = stretch{0, 0}
			first.was[kind] = v.arena.fill(1, s.base+f.open+s.opening(kind, 1))
		}
	}
	for k := 2; k <= s.n; k++ {
		d, l := &v.levels[k-1], &v.levels[k]
		width := l.hi - l.lo + 1
		s.updates += int64(width)
		open := v.arena.fill(d.hi-d.lo+1, none)
		for kind := range s.flight {
			if s.flight[kind].on {
				takeLess(open, d.was[kind])
			}
		}
		from, to := 0, -1
		l.framed = stretch{0, -1}
		for kind := range s.flight {
			f := &s.flight[kind]
			if !f.on {
				continue
			}
			row := v.arena.fill(width, none)
			plus := f.open + f.extra + 1
			if merged {
				plus = 0
			}
			roughRowOn(&d.level, &l.level, &d.strips[onBox], s.roughLanding(v), v.skip, open, plus, row)
			if !merged && len(f.all) > 0 {
				roughRowOn(&d.level, &l.level, &d.strips[kind], f.tmin/v.factor, v.skip, d.was[kind], f.each, row)
			}
			if kind == onFrame && s.decks {
				roughRowOn(&d.level, &l.level, &d.strips[onDeck], s.roughLanding(v), v.skip, d.was[kind], plus+s.platform, row)
			}
			for i, x := range row {
				if x >= some || x+l.ahead[kind][i]-v.slack > s.limit {
					row[i] = none
					continue
				}
				if to < from || l.lo+i < from {
					from = l.lo + i
				}
				to = max(to, l.lo+i)
				if kind == onFrame {
					if l.framed.last < l.framed.first {
						l.framed.first = l.lo + i
					}
					l.framed.last = l.lo + i
				}
			}
			l.was[kind] = row
		}
		if to < from {
			return false
		}
		l.from, l.to = from, to
	}
	return true
}

// roughRowOn lowers out[j] to what it costs at least to come to long cell j over
// step of them or more behind level d's riser, and plus. The first skip of them
// cost nothing.
func roughRowOn(d, l *level, t *strip, step, skip int, was []int64, plus int64, out []int64) {
	least, i := none, d.from
	for j := d.from; j <= l.hi; j++ {
		if j-1 >= t.edge || j > d.lo && int(t.reach[j-1-d.lo]) == j-1 {
			least = none // the long cell below j does not bear
			i = max(i, j-1)
		}
		for ; i <= d.to && i <= j-max(step, 1); i++ {
			if v := was[i-d.lo]; v < some && v-t.past(d.lo, i+skip) < least {
				least = v - t.past(d.lo, i+skip)
			}
		}
		if j < l.lo {
			continue
		}
		v := none
		if least < some {
			v = least + t.past(d.lo, j) + plus
		}
		if step == 0 && j <= d.to && was[j-d.lo]+plus < v {
			v = was[j-d.lo] + plus
		}
		if v < out[j-l.lo] {
			out[j-l.lo] = v
		}
	}
}

// reach is where riser k can be, on the grid, on a path within the limit.
func (v *glance) reach(k int) (lo, hi int) {
	l := &v.levels[k]
	return l.from * v.factor, l.to*v.factor + v.factor - 1
}

// only is which cells of a kind of underlay behind riser k a path within the
// limit can need, on cells of so many of the grid: from the first on, up to the
// last.
func (v *glance) only(what, k, factor int) stretch {
	if v == nil || what == onBox {
		return stretch{0, math.MaxInt}
	}
	a, z := v.levels[k].framed, v.levels[k+1].framed
	if a.last < a.first || z.last < z.first {
		return stretch{0, -1}
	}
	return stretch{a.first * v.factor / factor, (z.last+1)*v.factor/factor + 1}
}
