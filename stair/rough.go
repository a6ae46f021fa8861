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
// Where lower costs more, or a part of it does, that part of the long cell that a
// riser lies in counts as well, bearing or not: as if the riser were at its
// beginning, since what lies before the riser lies lower and costs as much at least.
// That holds of boxes after boxes and of frames after frames, not where one follows
// the other. It is much the better bound, and so close that the rounding of costs is
// allowed for.
//
// With treads free one by one that is still far from what flights of equal treads
// cost. The uppermost flight, which ends on the head, is known in full once its
// treads are: those within the limit are priced as they are, and the look is taken
// again with them for its upper end. That leaves few cases and few places.

// longCells is how many cells of the grid a long one has, about.
const longCells = 12

// longCell is how many cells of the grid a long one has for the case at hand: of
// so many, or a third less or more, that into which the shallowest tread goes with
// the least remainder. The remainder is what a look gives away of every tread.
func (s *solver) longCell() int {
	about, tread := longCells, math.MaxInt
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

// maxKept is how much looks that are kept for when their case's turn comes may
// take, in values of 8 bytes.
const maxKept = 1 << 20

// glance is a rough look at a case.
type glance struct {
	slack    int64        // what it may cost too much by rounding
	factor   int          // cells to a long one
	levels   []roughLevel // 1..n
	at       []unit.Length
	arena    *arena
	least    int64 // what the case costs at least
	anchored bool  // ahead goes to the uppermost flights
	tops     []uppermost
}

// uppermost is an uppermost flight that a layout within the limit can have.
type uppermost struct {
	kind, cells, risers int
	j                   int   // the cell where it begins, the remainder of the run beyond that
	value               int64 // what it costs
	least               int64 // what a layout with it costs at least
}

// roughLevel is what is tabled of the long cells behind a riser, for the long
// cells lo..hi that the riser may be in.
type roughLevel struct {
	level
	was    [2][]int64 // by kind: what it costs at least to come there
	framed stretch    // where framed flights can be within the limit
	begins stretch    // where uppermost flights within the limit can begin
}

// roughly bounds the case at hand: what it costs at least.
func (s *solver) roughly(v *glance) int64 {
	if v.least = none; s.roughTable(v) {
		v.least = s.roughBack(v, false)
	}
	return v.least
}

// look gives a look at the case at hand, not taken yet.
func (s *solver) look() *glance {
	v := &s.glance
	s.roughArena[0].reset()
	v.factor, v.arena = s.longCell(), &s.roughArena[0]
	return v
}

// firstLook is the first look at the case at hand; nil when there is no way.
func (s *solver) firstLook() *glance {
	var v *glance
	if s.trying.kept > 0 {
		v = &s.kept[s.trying.kept-1]
	} else {
		v = s.look()
		s.roughly(v)
	}
	if v.least >= some || s.err != nil {
		return nil
	}
	return v
}

// lookAt finds the uppermost flights that can be part of a layout within the limit
// and gives what a layout with one of them costs at least; none when there is none
// within the limit.
func (s *solver) lookAt(v *glance) int64 {
	if v.least > s.limit {
		return none
	}
	if v.anchored { // to the uppermost flights within another limit
		s.roughBack(v, false)
	}
	if v.tops = v.tops[:0]; !s.roughBand(v) {
		return none
	}
	if s.findTops(v); len(v.tops) == 0 || s.err != nil {
		return none
	}
	return s.roughBack(v, true)
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

func (s *solver) roughTable(v *glance) bool {
	v.slack = int64(s.cells+s.n) << flightBits
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
		if lo > hi {
			return false
		}
		l := &v.levels[k]
		l.level = level{k: k, lo: lo, hi: hi, from: lo, to: hi}
		for what := range l.strips {
			if s.needs(what) {
				s.price(k, what, &l.level, max(limit, hi), stretch{0, math.MaxInt}, v.at, v.arena, true)
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

// roughBack fills ahead and gives what the case costs at least: with whatever
// uppermost flights, or, anchored, with those found to be within the limit.
func (s *solver) roughBack(v *glance, anchored bool) int64 {
	merged := s.merged()
	v.anchored = anchored
	top := &v.levels[s.n]
	top.open = v.arena.fill(1, none)
	for kind := range s.flight {
		f := &s.flight[kind]
		if !f.on {
			continue
		}
		top.ahead[kind] = v.arena.fill(1, none)
		if !anchored {
			top.ahead[kind][0] = 0
			top.open[0] = min(top.open[0], f.open+f.extra)
		}
	}
	if merged && !anchored {
		top.open[0] = 0
	}
	for k := s.n - 1; k >= 1; k-- {
		l, u := &v.levels[k].level, &v.levels[k+1].level
		width := l.hi - l.lo + 1
		s.updates += int64(width)
		open, deck := u.open, u.ahead[onFrame]
		if anchored {
			open, deck = s.meetTops(v, k+1)
		}
		l.open = v.arena.fill(width, none)
		for kind := range s.flight {
			f := &s.flight[kind]
			if !f.on {
				continue
			}
			l.ahead[kind] = v.arena.fill(width, none)
			s.roughSweepBack(v, l, u, onBox, kind, open, 1, l.ahead[kind])
			if merged {
				l.open = l.ahead[kind]
				continue
			}
			if len(f.all) > 0 {
				s.roughTreadBack(v, l, u, kind, u.ahead[kind], f.each, l.ahead[kind])
			}
			if kind == onFrame && s.decks {
				s.roughSweepBack(v, l, u, onDeck, kind, deck, s.platform+f.open+f.extra+1, l.ahead[kind])
			}
			for i, x := range l.ahead[kind] {
				if x += f.open + f.extra - footless(l, kind, i); x < l.open[i] {
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

// meetTops is what it costs at least to go on with riser k as the first of a
// flight, uppermost flights included: of any kind, and of a framed one beyond what
// it costs to open.
func (s *solver) meetTops(v *glance, k int) (open, deck []int64) {
	u := &v.levels[k]
	open, deck = u.open, u.ahead[onFrame]
	copied := false
	for i := range v.tops {
		t := &v.tops[i]
		at := t.j/v.factor - u.lo
		if s.n-t.risers+1 != k || t.least > s.limit || at < 0 || at > u.hi-u.lo {
			continue
		}
		if !copied {
			copied = true
			open = append(v.arena.values(len(open))[:0], open...)
			if deck != nil {
				deck = append(v.arena.values(len(deck))[:0], deck...)
			}
		}
		open[at] = min(open[at], t.value)
		if t.kind == onFrame {
			f := &s.flight[onFrame]
			deck[at] = min(deck[at], t.value-f.open-f.extra)
		}
	}
	return open, deck
}

// findTops finds the uppermost flights that can be part of a layout within the
// limit, as far as the look tells.
func (s *solver) findTops(v *glance) {
	for kind := range s.flight {
		f := &s.flight[kind]
		if !f.on {
			continue
		}
		if f.minRisers == 1 && f.single < some {
			s.noteTop(v, uppermost{kind: kind, risers: 1, j: s.cells, value: f.single + f.extra})
		}
		for i := range f.all {
			t := &f.all[i]
			flight := f.extra
			to := s.head.Station
			for m := 2; m <= t.risers && m < s.n && s.err == nil; m++ {
				j := s.cells - (m-1)*t.cells
				if j < 0 {
					break
				}
				from := s.back((m - 1) * t.cells)
				if v.toTop(s.n-m+1, kind, j, flight-f.extra) > s.limit || !s.allows(kind, float64(from), float64(to)) {
					break
				}
				c, ok := s.whole(kind, s.n-m+1, from, to)
				flight += c + t.each
				if !ok || s.base+flight+2 > s.limit {
					break
				}
				to = from
				if m < f.minRisers {
					continue
				}
				if whole := s.wholeOf(kind, t, m); whole < some {
					s.noteTop(v, uppermost{kind: kind, cells: t.cells, risers: m, j: j, value: flight + whole})
				}
			}
		}
	}
}

// toTop is what a path with riser k at a cell, in a flight under way, costs at
// least when the rest of it costs as much.
func (v *glance) toTop(k, kind, j int, rest int64) int64 {
	l := &v.levels[k]
	i := j / v.factor
	if i < l.lo || i > l.hi {
		return none
	}
	return l.was[kind][i-l.lo] + rest - v.slack
}

func (s *solver) noteTop(v *glance, t uppermost) {
	if t.least = v.toTop(s.n-t.risers+1, t.kind, t.j, t.value-s.flight[t.kind].extra-s.flight[t.kind].open); t.least <= s.limit {
		v.tops = append(v.tops, t)
	}
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

func (s *solver) roughSweepBack(v *glance, l, u *level, what, kind int, next []int64, plus int64, out []int64) {
	if s.merged() {
		plus = 0
	}
	roughRowBack(l, u, &l.strips[what], s.roughLanding(v), what == kind, next, plus, out)
}

func (s *solver) roughTreadBack(v *glance, l, u *level, kind int, next []int64, plus int64, out []int64) {
	roughRowBack(l, u, &l.strips[kind], s.flight[kind].tmin/v.factor, true, next, plus, out)
}

// footless is what must not count of the first tread of a flight that begins in
// long cell i after a landing on the ground: for a framed one that cell, which is
// no deeper dug for boxes below.
func footless(l *level, kind, i int) int64 {
	t := &l.strips[onFrame]
	if kind != onFrame || i+1 >= len(t.begun) {
		return 0
	}
	return t.sum[i+1] - t.begun[i]
}

// roughRowBack lowers out[i] to what it costs at least to go on from long cell i
// by step of them or more, and plus; same is whether what lies before is of the same
// kind.
func roughRowBack(l, u *level, t *strip, step int, same bool, next []int64, plus int64, out []int64) {
	lo, edge, low := l.lo, t.edge, u.lo
	sum, reach, begun := t.sum, t.reach, t.sum
	if same = same && t.begun != nil; same {
		begun = t.begun
	}
	far := max(step, 1)
	least, j := none, u.hi // least of next and sum, of those from j+1 on that are reached
	for i := l.hi; i >= lo; i-- {
		if i+1 > edge || int(reach[i+1-lo]) == i+1 {
			least = none // the long cell above i does not bear
			if j > i+1 {
				j = i + 1
			}
		}
		for ; j >= i+far && j >= low; j-- {
			at := j // beyond the edge nothing bears, and nothing counts
			if at > edge {
				at = edge
			}
			if v := next[j-low]; v < some && v+sum[at-lo] < least {
				least = v + sum[at-lo]
			}
		}
		v := none
		if least < some {
			at := i
			if !same && at < edge {
				at++
			}
			v = least - begun[at-lo] + plus
		}
		if step == 0 && i >= low && i <= u.hi && next[i-low]+plus < v {
			v = next[i-low] + plus
		}
		if v < out[i-lo] {
			out[i-lo] = v
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
		land := v.arena.fill(width, none)
		for kind := range s.flight {
			if s.flight[kind].on {
				roughRowOn(&d.level, &l.level, &d.strips[onBox], s.roughLanding(v), kind == onBox, d.was[kind], 0, land)
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
			for i, x := range land {
				if x < some {
					row[i] = x + plus - footless(&l.level, kind, i)
				}
			}
			if !merged && len(f.all) > 0 {
				roughRowOn(&d.level, &l.level, &d.strips[kind], f.tmin/v.factor, true, d.was[kind], f.each, row)
			}
			if kind == onFrame && s.decks {
				roughRowOn(&d.level, &l.level, &d.strips[onDeck], s.roughLanding(v), false, d.was[kind], plus+s.platform, row)
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
		if l.from, l.to = from, to; to >= from {
			continue
		}
		if !v.anchored || k == 2 && len(v.tops) == 0 {
			return false
		}
		for k++; k <= s.n; k++ { // none but uppermost flights
			l := &v.levels[k]
			l.from, l.to, l.framed = 0, -1, stretch{0, -1}
		}
	}
	for k := range v.levels {
		v.levels[k].begins = stretch{math.MaxInt, -1}
	}
	for i := range v.tops {
		if t := &v.tops[i]; t.least <= s.limit {
			b := &v.levels[s.n-t.risers+1].begins
			b.first, b.last = min(b.first, t.j/v.factor), max(b.last, t.j/v.factor)
		}
	}
	return true
}

// roughRowOn lowers out[j] to what it costs at least to come to long cell j over
// step of them or more behind level d's riser, and plus; same is whether what lies
// before is of the same kind.
func roughRowOn(d, l *level, t *strip, step int, same bool, was []int64, plus int64, out []int64) {
	lo, edge, from := d.lo, t.edge, l.lo
	sum, reach, begun := t.sum, t.reach, t.sum
	if same = same && t.begun != nil; same {
		begun = t.begun
	}
	far := max(step, 1)
	least, i := none, d.from
	for j := d.from; j <= l.hi; j++ {
		if j-1 >= edge || j > lo && int(reach[j-1-lo]) == j-1 {
			least = none // the long cell below j does not bear
			if i < j-1 {
				i = j - 1
			}
		}
		for ; i <= d.to && i <= j-far; i++ {
			at := i
			if !same && at < edge {
				at++
			}
			if v := was[i-lo]; v < some && v-begun[at-lo] < least {
				least = v - begun[at-lo]
			}
		}
		if j < from {
			continue
		}
		v := none
		if least < some {
			at := j
			if at > edge {
				at = edge
			}
			v = least + sum[at-lo] + plus
		}
		if step == 0 && j <= d.to && was[j-lo]+plus < v {
			v = was[j-lo] + plus
		}
		if v < out[j-from] {
			out[j-from] = v
		}
	}
}

// reach is where riser k can be, on the grid, on a path within the limit.
func (v *glance) reach(k int) (lo, hi int) {
	l := &v.levels[k]
	return l.from * v.factor, l.to*v.factor + v.factor - 1
}

// ends is how far what lies behind riser k−1 can go on a path within the limit.
func (v *glance) ends(k int) int {
	return max(v.levels[k].to, v.levels[k].begins.last)*v.factor + v.factor - 1
}

// only is which cells of a kind of underlay behind riser k a path within the
// limit can need: from the first on, up to the last.
func (v *glance) only(what, k int) stretch {
	if what == onBox {
		return stretch{0, math.MaxInt}
	}
	a, z := v.levels[k].framed, max(v.levels[k+1].framed.last, v.levels[k+1].begins.last)
	if a.last < a.first || z < 0 {
		return stretch{0, -1}
	}
	return stretch{a.first * v.factor, (z+1)*v.factor + 1}
}
