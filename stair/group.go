package stair

// groupCells is how many cells treads may differ in to go together in a bound.
const groupCells = 4

// heavyWork is the work of a search from which better bounds pay.
const heavyWork = 1_500_000

// work is about what a search takes, in steps of the programme.
func (s *solver) work() int {
	sum := 0
	for k := 1; k <= s.top; k++ {
		sum += s.levels[k].to - s.levels[k].from + 1
	}
	work := 0
	for kind := range s.flight {
		f := &s.flight[kind]
		for i := range f.all {
			n := 1
			if f.all[i].whole != nil || f.all[i].risers < s.top {
				n = min(f.all[i].risers, s.top)/2 + 1
			}
			work += n * sum
		}
	}
	return work
}

// bounded narrows a case that is much work by better bounds. It reports whether
// there is anything left of it within the limit.
func (s *solver) bounded() bool {
	if s.err != nil || s.work() < s.heavy {
		return true
	}
	s.groupAhead(groupCells)
	if s.fromFoot() > s.limit {
		return false
	}
	s.narrow()
	return true
}

// groupAhead fills ahead with better bounds: treads go in groups of nearly equal
// depth, and a flight keeps to one group, free within it.
func (s *solver) groupAhead(size int) {
	_, landing := s.steps()
	type group struct {
		lo, hi int // cells
		each   int64
	}
	var of [2][]group
	for kind := range s.flight {
		f := &s.flight[kind]
		if !f.on || len(f.all) == 0 {
			continue
		}
		least := none
		for i := range f.all {
			least = min(least, f.all[i].each)
		}
		for i := range f.all {
			t := &f.all[i]
			t.group = (t.cells - f.tmin) / size
			each := t.each + f.each - least
			if t.group == len(of[kind]) {
				of[kind] = append(of[kind], group{t.cells, t.cells, each})
			}
			g := &of[kind][t.group]
			g.hi, g.each = t.cells, min(g.each, each)
		}
		for i := range f.treads {
			f.treads[i].group = (f.treads[i].cells - f.tmin) / size
		}
	}
	for k := s.top; k >= 1; k-- {
		l := &s.levels[k]
		width, all := l.hi-l.lo+1, l.edge-l.lo+1
		var u *level
		if k < s.top {
			u = &s.levels[k+1]
		}
		s.updates += int64(2 * all)
		ground := s.nextRow(0, l, u, all, func(u *level) []int64 { return u.open }, 1)
		s.meet(ground, l, onGround)
		byGround := s.clear(1, width)
		sweepBack(l, &l.strips[onBox], landing, 0, ground, byGround)
		open := s.arena.fill(width, none)
		for kind := range s.flight {
			f := &s.flight[kind]
			if !f.on {
				continue
			}
			land := byGround
			if kind == onFrame && s.decks {
				land = append(s.sweep[3][:0], byGround...)
				s.sweep[3] = land
				next := s.nextRow(2, l, u, all, func(u *level) []int64 { return u.ahead[onFrame] }, f.open+f.extra+1)
				s.meet(next, l, onPlatform)
				sweepBack(l, &l.strips[onDeck], landing, s.platform, next, land)
			}
			ahead := s.arena.fill(width, none)
			rows := make([][]int64, len(of[kind]))
			for g, bounds := range of[kind] {
				row := s.arena.fill(width, none)
				if l.from <= l.to {
					copy(row[l.from-l.lo:l.to+1-l.lo], land[l.from-l.lo:])
				}
				if u != nil {
					s.groupRow(l, u, &l.strips[kind], bounds.lo, bounds.hi, bounds.each, u.group[kind][g], row)
				}
				takeLess(ahead, row)
				rows[g] = row
			}
			if len(rows) == 0 && l.from <= l.to {
				copy(ahead[l.from-l.lo:l.to+1-l.lo], land[l.from-l.lo:])
			}
			l.group[kind], l.ahead[kind] = rows, ahead
			takeLessPlus(open, ahead, f.open+f.extra)
		}
		l.open = open
	}
}

// groupRow lowers out to what it costs at least to go on by a tread of lo..hi
// cells, and each.
func (s *solver) groupRow(l, u *level, t *strip, lo, hi int, each int64, next, out []int64) {
	// least[j]: the least of next and sum from j to the end of its block; row[j]
	// from the beginning of its block to j. A window of the length of a block
	// takes the end of one and the beginning of the next.
	from, to := max(u.from, l.from+lo), min(u.to, t.edge)
	if from > to || l.from > l.to {
		return
	}
	n, block := to-from+1, hi-lo+1
	s.updates += int64(n)
	row := growValues(s.sweep[4], n)[:n]
	least := growValues(s.sweep[5], n)[:n]
	s.sweep[4], s.sweep[5] = row, least
	v := next[from-u.lo : to+1-u.lo]
	sum := t.sum[from-l.lo : to+1-l.lo]
	blockMins(v, sum, least, row, block)
	plus := each
	for i := max(l.from, from-hi); i <= l.to; i++ {
		// As far as whole windows go.
		if a := i + lo - from; a >= 0 {
			whole := min(l.to, to-hi) - i + 1
			if whole > 0 {
				i += windowRow(out[i-l.lo:i-l.lo+whole], t.sum[i-l.lo:], t.reach[i-l.lo:], least[a:], row[a+block-1:], int32(i+hi), plus)
			}
			if i > l.to {
				break
			}
		}
		a, z := max(i+lo-from, 0), min(min(i+hi, int(t.reach[i-l.lo]))-from, n-1)
		if a > z {
			continue
		}
		x := none
		if a/block == z/block {
			for j := a; j <= z; j++ {
				x = min(x, v[j]+sum[j])
			}
		} else { // at most a block, that lies on two
			x = min(least[a], row[z])
		}
		if x < some {
			if x += plus - t.sum[i-l.lo]; x < out[i-l.lo] {
				out[i-l.lo] = x
			}
		}
	}
}

// blockMins fills first with the least of v+sum from the beginning of each block
// on, and last with the least to its end.
//
//go:noinline
func blockMins(v, sum, last, first []int64, block int) {
	sum, last, first = sum[:len(v)], last[:len(v)], first[:len(v)]
	for a := 0; a < len(v); a += block {
		z := a + block
		if z > len(v) {
			z = len(v)
		}
		least := none
		for i := a; i < z; i++ {
			x := v[i] + sum[i]
			last[i] = x
			if x < least {
				least = x
			}
			first[i] = least
		}
		least = none
		for i := z - 1; i >= a; i-- {
			if last[i] < least {
				least = last[i]
			}
			last[i] = least
		}
	}
}

// windowRow lowers out to the least of a whole window, plus and less the sum, as
// far as all of each window is reached; it gives how far that was.
//
//go:noinline
func windowRow(out, sum []int64, reach []int32, last, first []int64, end int32, plus int64) int {
	sum, reach, last, first = sum[:len(out)], reach[:len(out)], last[:len(out)], first[:len(out)]
	for i := range out {
		if reach[i] < end+int32(i) {
			return i
		}
		x := last[i]
		if first[i] < x {
			x = first[i]
		}
		if x += plus - sum[i]; x < out[i] {
			out[i] = x
		}
	}
	return len(out)
}
