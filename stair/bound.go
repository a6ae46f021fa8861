package stair

// What a way costs at least, whatever its treads, and what that leaves of the
// places it can pass.

// merged is whether treads and landings need not be told apart in bounds: one
// kind of flight that costs nothing but its cells and risers.
func (s *solver) merged() bool {
	f := &s.flight[onBox]
	return !s.flight[onFrame].on && f.open+f.each == 0
}

// steps is the least depths of treads of each kind, and of landings, for bounds.
func (s *solver) steps() (treads [2]int, landing int) {
	landing, _ = s.landingCells(s.rest) // may have a cell less than the others
	landing = max(landing, 1)
	for kind := range s.flight {
		treads[kind] = max(s.flight[kind].tmin, 1)
	}
	if s.merged() && (len(s.flight[onBox].all) == 0 || landing < treads[onBox]) {
		treads[onBox] = landing
	}
	return treads, landing
}

// lookAhead fills ahead: what the way from a riser to the head costs at least,
// whatever the treads. It reports whether there is a way from the foot at all.
func (s *solver) lookAhead() bool {
	treads, landing := s.steps()
	for k := s.top; k >= 1; k-- {
		l := &s.levels[k]
		width := l.hi - l.lo + 1
		size := l.edge - l.lo + 1
		var u *level
		if k < s.top {
			u = &s.levels[k+1]
		}
		s.updates += int64(size)
		if s.merged() {
			l.ahead[onBox] = s.arena.fill(width, none)
			l.open = l.ahead[onBox]
			next := s.nextRow(0, l, u, size, func(u *level) []int64 { return u.ahead[onBox] }, 0)
			s.meet(next, l, onGround)
			sweepBack(l, &l.strips[onBox], treads[onBox], 0, next, l.ahead[onBox])
			continue
		}
		l.open = s.arena.fill(width, none)
		open := func(u *level) []int64 { return u.open }
		ground := s.nextRow(0, l, u, size, open, 1)
		s.meet(ground, l, onGround)
		byGround := s.clear(1, width)
		sweepBack(l, &l.strips[onBox], landing, 0, ground, byGround)
		s.updates += int64(2 * size)
		for kind := range s.flight {
			f := &s.flight[kind]
			if !f.on {
				continue
			}
			l.ahead[kind] = s.arena.fill(width, none)
			copy(l.ahead[kind], byGround)
			if len(f.all) > 0 {
				next := s.nextRow(2, l, u, size, func(u *level) []int64 { return u.ahead[kind] }, 0)
				sweepBack(l, &l.strips[kind], treads[kind], f.each, next, l.ahead[kind])
			}
			if kind == onFrame && s.decks {
				next := s.nextRow(2, l, u, size, func(u *level) []int64 { return u.ahead[onFrame] }, f.open+f.extra+1)
				s.meet(next, l, onPlatform)
				sweepBack(l, &l.strips[onDeck], landing, s.platform, next, l.ahead[kind])
				s.updates += int64(size)
			}
			for i, v := range l.ahead[kind] {
				if v += f.open + f.extra; v < l.open[i] {
					l.open[i] = v
				}
			}
		}
	}
	return s.fromFoot() < some
}

// fromFoot is the least that any layout of the case costs.
func (s *solver) fromFoot() int64 {
	least := none
	for kind := range s.flight {
		f := &s.flight[kind]
		if !f.on {
			continue
		}
		if v := s.levels[1].ahead[kind][0] + f.open + s.opening(kind, 1); v < least {
			least = v
		}
	}
	if least >= some {
		return none
	}
	return s.base + least
}

// clear gives scratch row i, n long, all none.
func (s *solver) clear(i, n int) []int64 {
	row := growValues(s.sweep[i], n)[:n]
	s.sweep[i] = row
	for i := range row {
		row[i] = none
	}
	return row
}

// nextRow is what the way costs from the riser above a level at each position of
// it, more than which it costs at least by plus.
func (s *solver) nextRow(i int, l, u *level, size int, of func(*level) []int64, plus int64) []int64 {
	next := s.clear(i, size)
	if u == nil {
		return next
	}
	ahead := of(u)
	for j := max(u.lo, l.lo); j <= u.hi && j <= l.edge; j++ {
		next[j-l.lo] = ahead[j-u.lo] + plus
	}
	return next
}

// meet takes the arrivals by a kind of landing into a row.
func (s *solver) meet(next []int64, l *level, lt int) {
	for i := range l.arrivals {
		a := &l.arrivals[i]
		if a.value[lt] < next[a.j-l.lo] {
			next[a.j-l.lo] = a.value[lt]
		}
	}
}

// sweepBack lowers out[i] to what it costs at least to cross step cells or more
// of a strip and go on, and plus.
func sweepBack(l *level, t *strip, step int, plus int64, next, out []int64) {
	least := none
	for j := t.edge; j >= l.lo+step; j-- {
		if j < t.edge && int(t.reach[j-l.lo]) == j {
			least = none // the cell behind j does not bear
		}
		if v := next[j-l.lo]; v < some && v+t.sum[j-l.lo] < least {
			least = v + t.sum[j-l.lo]
		}
		if i := j - step; i <= l.hi && least < some && int(t.reach[i-l.lo]) >= j {
			if v := least - t.sum[i-l.lo] + plus; v < out[i-l.lo] {
				out[i-l.lo] = v
			}
		}
	}
}

// narrow leaves of every level only the positions that a path of free treads
// can pass within the limit.
func (s *solver) narrow() {
	treads, landing := s.steps()
	merged := s.merged()
	var was [2][]int64
	for kind := range s.flight {
		if f := &s.flight[kind]; f.on {
			was[kind] = s.clear(kind+2, 1)
			was[kind][0] = s.base + 1 + f.open + s.opening(kind, 1)
			if merged {
				was[kind][0] = s.base
			}
		}
	}
	s.levels[1].from, s.levels[1].to = 0, 0
	s.dropArrivals(&s.levels[1], was)
	for k := 2; k <= s.top; k++ {
		d, l := &s.levels[k-1], &s.levels[k]
		width := l.hi - l.lo + 1
		s.updates += int64(width)
		var now [2][]int64
		for kind := range s.flight {
			if f := &s.flight[kind]; f.on {
				now[kind] = s.clear(kind+2*(k&1), width)
				if merged || len(f.all) > 0 {
					sweepOn(d, l, &d.strips[kind], treads[kind], f.each, was[kind], now[kind])
				}
			}
		}
		if !merged {
			// By a landing: from whatever flight to whatever flight.
			s.updates += int64(3 * width)
			any := s.clear(4, d.hi-d.lo+1)
			for kind := range s.flight {
				if s.flight[kind].on {
					takeLess(any, was[kind])
				}
			}
			by := s.clear(5, width)
			sweepOn(d, l, &d.strips[onBox], landing, 1, any, by)
			for kind := range s.flight {
				f := &s.flight[kind]
				if !f.on {
					continue
				}
				if kind == onFrame && s.decks {
					sweepOn(d, l, &d.strips[onDeck], landing, s.platform+f.open+f.extra+1, was[kind], now[kind])
				}
				for i, v := range by {
					if v += f.open + f.extra; v < now[kind][i] {
						now[kind][i] = v
					}
				}
			}
		}
		from, to := 0, -1
		for kind := range s.flight {
			if !s.flight[kind].on {
				continue
			}
			ahead, row := l.ahead[kind], now[kind]
			for i, v := range row {
				if v >= some || v+ahead[i] > s.limit {
					row[i] = none
					continue
				}
				if to < from || l.lo+i < from {
					from = l.lo + i
				}
				to = max(to, l.lo+i)
			}
		}
		if to < from {
			s.top = k - 1
			break
		}
		l.from, l.to = from, to
		was = now
		s.dropArrivals(l, was)
	}
}

// dropArrivals leaves of a level's arrivals those that can be reached within the
// limit, when was is what it costs at least to come to its riser.
func (s *solver) dropArrivals(l *level, was [2][]int64) {
	if len(l.arrivals) == 0 {
		return
	}
	step, _ := s.landingCells(s.rest)
	// What it costs at least to come to a place or one below it from which all
	// bears, less the sum there.
	var least [2][]int64
	for lt, what := range under {
		if !s.needs(what) || l.from > l.to {
			continue
		}
		t := &l.strips[what]
		row := growValues(s.cheapest[lt], l.to-l.from+1)[:l.to-l.from+1]
		s.cheapest[lt] = row
		so := none
		for i := range row {
			x := l.from - l.lo + i
			if i > 0 && int(t.reach[x-1]) < l.lo+x {
				so = none // the cell before does not bear
			}
			for kind := range s.flight {
				if s.flight[kind].on && was[kind][x] < some {
					so = min(so, was[kind][x]-t.sum[x])
				}
			}
			row[i] = so
		}
		least[lt] = row
	}
	kept := l.arrivals[:0]
	for _, a := range l.arrivals {
		ok := false
		for lt, what := range under {
			if a.value[lt] >= some || ok {
				continue
			}
			t := &l.strips[what]
			plus := a.value[lt] + t.sum[a.j-l.lo]
			if lt == onPlatform {
				plus += s.platform
			}
			s.updates += int64((l.to - l.from + 1) / 4)
			if i := min(l.to, a.j-step); i >= l.from && int(t.reach[i-l.lo]) >= a.j {
				so := least[lt][i-l.from]
				ok = so < some && so+plus <= s.limit
			}
		}
		if ok {
			kept = append(kept, a)
		}
	}
	l.arrivals = kept
}

// sweepOn lowers out[j], for positions of level l, to what it costs at least to
// come there over step cells or more of a strip behind level d's riser, and plus.
func sweepOn(d, l *level, t *strip, step int, plus int64, was, out []int64) {
	least, i := none, d.from
	for j := d.from; j <= l.hi && j <= t.edge; j++ {
		if j > d.from && int(t.reach[j-1-d.lo]) < j {
			least = none // the cell before j does not bear
			if i < j {
				i = j
			}
		}
		for ; i <= j-step && i <= d.to; i++ {
			if v := was[i-d.lo]; v < some && v-t.sum[i-d.lo] < least {
				least = v - t.sum[i-d.lo]
			}
		}
		if j < l.lo || least >= some {
			continue
		}
		if v := least + t.sum[j-d.lo] + plus; v < out[j-l.lo] {
			out[j-l.lo] = v
		}
	}
}
