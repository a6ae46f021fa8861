package stair

// The search of one case: its tables from the foot up, and the way back.

// search fills begin and end of every level, from the foot up, and gives the
// best arrival, the riser below its landing, the kind of that, and the value,
// which is at most the limit; nil when there is none.
func (s *solver) search() (best *arrival, riser, by int, value int64) {
	for kind := range s.flight {
		f := &s.flight[kind]
		f.limited = f.minRisers > 2
		for i := range f.treads {
			if f.treads[i].whole != nil || f.treads[i].risers < s.top {
				f.limited = true
			}
		}
	}
	for k := 1; k <= s.top; k++ {
		l := &s.levels[k]
		for kind := range s.flight {
			if !s.flight[kind].on {
				continue
			}
			if l.begin[kind] == nil {
				l.begin[kind] = s.arena.values(l.hi - l.lo + 1)
				l.end[kind] = s.arena.values(l.hi - l.lo + 1)
			}
			for i := range l.begin[kind] {
				l.begin[kind][i], l.end[kind][i] = none, none
			}
		}
	}
	for kind := range s.flight {
		if s.flight[kind].on {
			s.levels[1].begin[kind][0] = s.base + 1
		}
	}
	value = s.limit
	for k := 1; k <= s.top && s.err == nil; k++ {
		l := &s.levels[k]
		for kind := range s.flight {
			f := &s.flight[kind]
			if !f.on {
				continue
			}
			if k > 1 {
				s.prune(l, l.begin[kind], l.open)
			}
			if s.fewest(kind, k) == 1 && f.single < some {
				takeLessPlus(l.end[kind], l.begin[kind], f.single+s.opening(kind, k))
			}
			switch {
			case !f.limited:
				s.alongStep(k, kind)
			case s.walking > 0:
				s.alongTo(k, kind)
			default:
				s.alongFrom(k, kind)
			}
			s.prune(l, l.end[kind], l.ahead[kind])
		}
		s.landings(k)
		for i := range l.arrivals {
			a := &l.arrivals[i]
			for lt := range under {
				if l.last[lt] == nil || l.last[lt][a.j-l.lo] >= some || a.value[lt] >= some {
					continue
				}
				v := l.last[lt][a.j-l.lo] + a.value[lt]
				if v < value || v == value && (best == nil || a.before(best)) {
					best, riser, by, value = a, k, lt, v
				}
			}
		}
	}
	return best, riser, by, value
}

// before is the order of ties between uppermost flights.
func (a *arrival) before(b *arrival) bool {
	if a.kind != b.kind {
		return a.kind < b.kind
	}
	if a.cells != b.cells {
		return a.cells < b.cells
	}
	return a.risers < b.risers
}

// prune drops what cannot come to the head within the limit.
func (s *solver) prune(l *level, v, ahead []int64) {
	if l.from > l.to {
		return
	}
	v, ahead = v[l.from-l.lo:l.to+1-l.lo], ahead[l.from-l.lo:l.to+1-l.lo]
	for i, x := range v {
		if x+ahead[i] > s.limit {
			v[i] = none
		}
	}
}

// landings crosses the landings behind riser k, to the riser above and to the
// uppermost flights.
func (s *solver) landings(k int) {
	l := &s.levels[k]
	l.last = [2][]int64{}
	for lt, what := range under {
		if !s.needs(what) {
			continue
		}
		lo, hi := s.landingOn(lt, 0)
		restLo, restHi := s.landingOn(lt, s.rest)
		plus := int64(1)
		ends := l.end[onFrame]
		switch {
		case lt == onPlatform:
			plus += s.platform
		case !s.flight[onFrame].on:
			ends = l.end[onBox]
		case s.flight[onBox].on:
			ends = append(s.sweep[0][:0], l.end[onBox]...)
			s.sweep[0] = ends
			takeLess(ends, l.end[onFrame])
		}
		if k < s.top {
			u := &s.levels[k+1]
			out := u.begin[onBox]
			if lt == onPlatform || !s.flight[onBox].on {
				out = u.begin[onFrame]
			}
			s.cross(l, &l.strips[what], ends, out, u.from, u.to, u.lo, lo, hi, plus, lt, 0)
			if lt == onGround && s.flight[onFrame].on && s.flight[onBox].on {
				takeLess(u.begin[onFrame], out)
			}
		}
		if len(l.arrivals) > 0 {
			from, to := l.edge, l.lo
			for i := range l.arrivals {
				from, to = min(from, l.arrivals[i].j), max(to, l.arrivals[i].j)
			}
			l.last[lt] = s.arena.values(l.edge - l.lo + 1)
			for i := from; i <= to; i++ {
				l.last[lt][i-l.lo] = none
			}
			s.cross(l, &l.strips[what], ends, l.last[lt], from, to, l.lo, restLo, restHi, plus, lt, s.rest)
		}
	}
}

// cross takes landings of a kind, of lo..hi cells and rest, from a level to
// positions from..to of out, which begins at base.
func (s *solver) cross(l *level, t *strip, ends, out []int64, from, to, base, lo, hi int, plus int64, lt int, rest float64) {
	if lo > hi {
		return
	}
	if s.walking == 0 {
		s.landing(l, t, ends, out, from, to, base, lo, hi, plus)
		return
	}
	// Landings that are deep enough for the walker to find the rhythm anew.
	if long := s.misfit.long(rest); hi >= long {
		s.landing(l, t, ends, out, from, to, base, max(lo, long), hi, plus)
		hi = long - 1
	}
	s.crossPaced(l, t, ends, out, from, to, base, lo, hi, plus, lt, rest)
}

// landing lowers out[j−base] for positions from..to to the least value of a path
// that crosses a landing of lo..hi cells behind a level's riser and arrives at
// j; a new flight begins there.
func (s *solver) landing(l *level, t *strip, ends, out []int64, from, to, base, lo, hi int, plus int64) {
	s.updates += int64(to - l.from + 1)
	q := s.queue[:0] // candidates i, ascending, their end−sum ascending
	head, next := 0, l.from
	less := func(i int) int64 { return ends[i-l.lo] - t.sum[i-l.lo] }
	first := l.from // least i from which all cells up to j bear
	for j := l.from; j <= to && j <= t.edge; j++ {
		if j > l.from && int(t.reach[j-1-l.lo]) == j-1 {
			first = j // the cell before j does not bear
		}
		for ; next <= j-lo && next <= l.to; next++ {
			if ends[next-l.lo] >= some {
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
			if v := less(int(q[head])) + t.sum[j-l.lo] + plus; v < out[j-base] {
				out[j-base] = v
			}
		}
	}
	s.queue = q[:0]
}

// alongStep takes flights of any number of risers one tread further, from
// level k−1 to k. rows[…] hold, for each tread depth and position of the level,
// the least value of a path with a flight of that tread under way, less the
// level's sum.
func (s *solver) alongStep(k, kind int) {
	f, l := &s.flight[kind], &s.levels[k]
	width := s.width
	rows := &s.rows[kind]
	for i := range rows {
		rows[i] = growValues(rows[i], len(f.treads)*width)
	}
	if l.from > l.to {
		return
	}
	t := &l.strips[kind]
	span := l.to - l.from + 1
	// A tread that cannot come here from the level below has begun here: what all
	// of those have is kept once.
	begun := &s.begun[kind]
	begin := growValues(begun[k&1], span)[:span]
	begun[k&1] = begin
	opening := s.opening(kind, k)
	for i := range begin {
		begin[i] = l.begin[kind][l.from-l.lo+i] + opening - t.sum[l.from-l.lo+i]
	}
	alone := &s.alone[kind]
	for i := range alone {
		alone[i] = growBools(alone[i], len(f.treads))
	}
	end := l.end[kind][l.from-l.lo : l.to+1-l.lo]
	paced := s.paced(kind, span)
	for ti := range f.treads {
		tr := &f.treads[ti]
		alone[k&1][ti] = true
		if k == 1 {
			continue
		}
		d := &s.levels[k-1]
		dt := &d.strips[kind]
		from, to := max(d.from+tr.cells, l.from), min(d.to+tr.cells, l.to, dt.edge)
		if from > to {
			continue
		}
		s.updates += int64(to - from + 1)
		alone[k&1][ti] = false
		now := rows[k&1][ti*width : ti*width+span]
		copy(now, begin)
		ends := end
		if paced != nil {
			ends = paced[ti*span : (ti+1)*span]
		}
		was := rows[1-k&1][ti*width : (ti+1)*width]
		if alone[1-k&1][ti] {
			if len(tr.barred) == 0 {
				was = begun[1-k&1]
			} else {
				copy(was, begun[1-k&1])
			}
		}
		bar(was, d.from, d.to, tr.barred)
		stepRow(now[from-l.from:to+1-l.from], was[from-tr.cells-d.from:to+1-tr.cells-d.from], dt.sum[from-d.lo:to+1-d.lo], t.sum[from-l.lo:to+1-l.lo],
			ends[from-l.from:to+1-l.from], dt.reach[from-tr.cells-d.lo:to+1-tr.cells-d.lo], int32(from), tr.each)
		if paced != nil {
			takeLess(end, ends)
		}
	}
	if s.overworked() {
		s.err = s.tooMuch("search")
	}
}

// overworked is whether a fit has taken as much work as it may.
func (s *solver) overworked() bool {
	return s.updates > maxUpdates || s.priced > maxPriced || s.cap > 0 && s.updates+10*int64(s.priced) > s.cap
}

// bar drops values of a row of positions from..to where no tread may begin.
func bar(row []int64, from, to int, barred []stretch) {
	for _, b := range barred {
		for i := max(b.first, from); i <= b.last && i <= to; i++ {
			row[i-from] = none
		}
	}
}

// stepRow is the inner loop: one tread depth, one level. It is a function of
// its own, with all slices cut to one length, because that is much faster in
// WebAssembly.
//
//go:noinline
func stepRow(now, was, below, here, end []int64, reach []int32, at int32, each int64) {
	was, below, here, end, reach = was[:len(now)], below[:len(now)], here[:len(now)], end[:len(now)], reach[:len(now)]
	for i := range now {
		if reach[i] < at+int32(i) {
			continue
		}
		v := was[i] + below[i] + each
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
// number of risers is limited or counts.
func (s *solver) alongFrom(a, kind int) {
	f, l := &s.flight[kind], &s.levels[a]
	lo, hi := l.from-l.lo, l.to-l.lo
	for lo <= hi && l.begin[kind][lo] >= some {
		lo++
	}
	for lo <= hi && l.begin[kind][hi] >= some {
		hi--
	}
	if lo > hi {
		return
	}
	row := growValues(s.sweep[1], hi-lo+1)[:hi-lo+1]
	s.sweep[1] = row
	lo, hi = lo+l.lo, hi+l.lo
	opening, fewest := s.opening(kind, a), s.fewest(kind, a)
	for ti := range f.treads {
		t := &f.treads[ti]
		from, to := lo, hi // positions of riser a still of use
		for i := range row {
			row[i] = l.begin[kind][lo-l.lo+i] + opening
		}
		for m := 2; m <= t.risers && a+m-1 <= s.top; m++ {
			d, u := &s.levels[a+m-2], &s.levels[a+m-1]
			dt := &d.strips[kind]
			by := (m - 1) * t.cells // from riser a to the flight's riser m
			from = max(from, u.from-by, d.from-by+t.cells)
			to = min(to, u.to-by, dt.edge-by, d.to-by+t.cells)
			if from > to {
				break
			}
			s.updates += int64(to - from + 1)
			x := from + by - t.cells // of the tread's front
			bar(row[from-lo:to+1-lo], x, to+by-t.cells, t.barred)
			whole := none
			if m >= fewest {
				whole = s.wholeOf(kind, t, m)
			}
			ahead := u.ahead[kind]
			if u.group[kind] != nil {
				ahead = u.group[kind][t.group]
			}
			first, last := fromRow(row[from-lo:to+1-lo], dt.sum[x-d.lo:], dt.sum[from+by-d.lo:], u.end[kind][from+by-u.lo:],
				ahead[from+by-u.lo:], dt.reach[x-d.lo:], int32(from+by), t.each, whole, s.limit)
			if first > last {
				break
			}
			from, to = from+first, from+last
		}
	}
	if s.overworked() {
		s.err = s.tooMuch("search")
	}
}

// fromRow takes flights one tread further, in place: v is by where they began.
// It gives the first and the last of them that are still of use.
//
//go:noinline
func fromRow(v, front, back, end, ahead []int64, reach []int32, at int32, each, whole, limit int64) (first, last int) {
	front, back, end, ahead, reach = front[:len(v)], back[:len(v)], end[:len(v)], ahead[:len(v)], reach[:len(v)]
	first, last = len(v), -1
	for i := range v {
		x := v[i]
		if x >= some {
			continue
		}
		x += back[i] - front[i] + each
		if reach[i] < at+int32(i) || x+ahead[i] > limit {
			v[i] = none
			continue
		}
		if last < 0 {
			first = i
		}
		last = i
		v[i] = x
		if x += whole; x < end[i] {
			end[i] = x
		}
	}
	return first, last
}

// alongTo finds the flights that end with riser k, where their tread counts for
// the landing behind them: from each end back, riser by riser,
// to where they may begin.
func (s *solver) alongTo(k, kind int) {
	f, l := &s.flight[kind], &s.levels[k]
	if l.from > l.to {
		return
	}
	width := l.to - l.from + 1
	end := l.end[kind][l.from-l.lo : l.to+1-l.lo]
	ahead := l.ahead[kind][l.from-l.lo : l.to+1-l.lo]
	row := growValues(s.sweep[1], width)[:width]
	s.sweep[1] = row
	// What the treads of a flight that ends there may cost.
	room := growValues(s.sweep[2], width)[:width]
	s.sweep[2] = room
	for i := range room {
		room[i] = s.limit - s.base - ahead[i]
	}
	paced := s.paced(kind, width)
	for ti := range f.treads {
		t := &f.treads[ti]
		to := end
		if paced != nil {
			to = paced[ti*width : (ti+1)*width]
		}
		for i := range row {
			row[i] = 0
		}
		from, last := l.from, l.to // positions of riser k still of use
		for m := 2; m <= t.risers && m <= k; m++ {
			d := &s.levels[k-m+1]
			dt := &d.strips[kind]
			by := (m - 1) * t.cells // from the flight's first riser to riser k
			if x := d.from + by; x > from {
				from = x
			}
			if x := d.to + by; x < last {
				last = x
			}
			if x := dt.edge - t.cells + by; x < last {
				last = x
			}
			if from > last {
				break
			}
			s.updates += int64(last - from + 1)
			bar(row[from-l.from:last+1-l.from], from-by, last-by, t.barred)
			whole := none
			if m >= s.fewest(kind, k-m+1) {
				whole = s.wholeOf(kind, t, m)
			}
			if whole < some {
				whole += s.opening(kind, k-m+1)
			}
			a, z := toRow(row[from-l.from:last+1-l.from], dt.sum[from-by-d.lo:], dt.sum[from-by+t.cells-d.lo:],
				dt.reach[from-by-d.lo:], d.begin[kind][from-by-d.lo:], to[from-l.from:], room[from-l.from:],
				int32(from-by+t.cells), t.each, whole)
			if a > z {
				break
			}
			last = from + z
			from += a
		}
		if paced != nil {
			takeLess(end, to)
		}
	}
	if s.overworked() {
		s.err = s.tooMuch("search")
	}
}

// toRow takes flights back by one tread, in place: v is what the treads passed
// so far cost, by where the flight ends. It gives the first and the last of them
// that are still of use.
//
//go:noinline
func toRow(v, front, back []int64, reach []int32, begin, end, room []int64, at int32, each, whole int64) (first, last int) {
	front, back, reach, begin, end, room = front[:len(v)], back[:len(v)], reach[:len(v)], begin[:len(v)], end[:len(v)], room[:len(v)]
	first, last = len(v), -1
	for i := range v {
		x := v[i]
		if x >= some {
			continue
		}
		x += back[i] - front[i] + each
		if reach[i] < at+int32(i) || x > room[i] {
			v[i] = none
			continue
		}
		if last < 0 {
			first = i
		}
		last = i
		v[i] = x
		if y := begin[i] + x + whole; y < end[i] {
			end[i] = y
		}
	}
	return first, last
}

// wayBack is the layout below an uppermost flight, found again from the tables;
// lt is the kind of landing below it.
func (s *solver) wayBack(a *arrival, k, lt int) []planned {
	plan := []planned{{risers: a.risers, tread: float64(float64(a.cells) * s.grid), kind: a.kind}}
	value, j, rest := s.levels[k].last[lt][a.j-s.levels[k].lo], a.j, s.rest
	for {
		a, x, f, ok := s.below(k, j, lt, value, rest)
		if !ok {
			if lt == onGround && plan[len(plan)-1].kind == onFrame && len(plan) > 1 {
				lt = onPlatform
				continue
			}
			return nil // cannot be: the tables hold the sum looked for
		}
		plan = append(plan, f)
		if a == 1 {
			break
		}
		value = s.levels[a].begin[f.kind][x-s.levels[a].lo]
		k, j, lt, rest = a-1, x, onGround, 0
	}
	for i, j := 0, len(plan)-1; i < j; i, j = i+1, j-1 {
		plan[i], plan[j] = plan[j], plan[i]
	}
	return plan
}

// below finds the landing of a kind behind riser k that ends at j, and the flight
// below it, for a value of a path with a flight to begin at j.
func (s *solver) below(k, j, lt int, value int64, rest float64) (a, at int, f planned, ok bool) {
	what := under[lt]
	if !s.needs(what) {
		return 0, 0, f, false
	}
	l := &s.levels[k]
	t := &l.strips[what]
	lo, hi := s.landingOn(lt, rest)
	plus := int64(1)
	if lt == onPlatform {
		plus += s.platform
	}
	for i := min(j-lo, l.hi); i >= l.lo && i >= j-hi && j <= t.edge; i-- {
		if int(t.reach[i-l.lo]) < j {
			break
		}
		end := value - plus - (t.sum[j-l.lo] - t.sum[i-l.lo])
		depth := float64(float64(j-i)*s.grid) + rest
		if a, at, f = s.flightTo(k, i, lt, end, depth); a > 0 {
			f.landing, f.deck = depth, lt == onPlatform
			return a, at, f, true
		}
	}
	return 0, 0, f, false
}

// flightTo finds the flight that ends with riser k at i for a value, with a
// landing of a kind and depth above it, and gives its first riser and where that
// is.
func (s *solver) flightTo(k, i, lt int, value int64, depth float64) (a, at int, f planned) {
	l := &s.levels[k]
	for kind := range s.flight {
		fl := &s.flight[kind]
		if !fl.on || lt == onPlatform && kind != onFrame {
			continue
		}
		end := l.end[kind][i-l.lo]
		if end >= some || end > value || s.walking == 0 && end != value {
			continue
		}
		if s.fewest(kind, k) == 1 && fl.single < some && l.begin[kind][i-l.lo] < some &&
			l.begin[kind][i-l.lo]+fl.single+s.opening(kind, k)+s.pacingLanding(depth, 0) == value {
			return k, i, planned{risers: 1, kind: kind}
		}
		for ti := range fl.treads {
			t := &fl.treads[ti]
			x, cost := i, s.pacingLanding(depth, float64(float64(t.cells)*s.grid))
			for m := 2; m <= t.risers && m <= k; m++ {
				a := k - m + 1
				d := &s.levels[a]
				dt := &d.strips[kind]
				to := x
				x -= t.cells
				if x < d.lo || x > d.hi || to > dt.edge || int(dt.reach[x-d.lo]) < to || within(t.barred, x) {
					break
				}
				cost += dt.sum[to-d.lo] - dt.sum[x-d.lo] + t.each
				if b := d.begin[kind][x-d.lo]; m >= s.fewest(kind, a) && b < some && b+cost+s.wholeOf(kind, t, m)+s.opening(kind, a) == value {
					return a, x, planned{risers: m, tread: float64(float64(t.cells) * s.grid), kind: kind}
				}
			}
		}
	}
	return 0, 0, planned{}
}

func within(barred []stretch, i int) bool {
	for _, b := range barred {
		if i >= b.first && i <= b.last {
			return true
		}
	}
	return false
}

// takeLess sets each value to the lesser of the two.
func takeLess(a, b []int64) {
	for i, v := range b {
		if v < a[i] {
			a[i] = v
		}
	}
}

func takeLessPlus(a, b []int64, plus int64) {
	for i, v := range b {
		if v += plus; v < a[i] {
			a[i] = v
		}
	}
}
