package stair

import "math"

// landingTable is what landings of every depth in cells cost by their misfit,
// after flights of each tread. It depends on the grid and the pace alone.
type landingTable struct {
	rows map[landingKey][]int64
	// The rows after flights of one riser, without and with the remainder of the
	// run.
	single [2][]int64
	// What landings after flights of one tread cost more at most than after flights
	// of another, by the cells of both.
	overs [2][]int64
	wide  int
	s     *solver
}

type landingKey struct {
	cells int     // the tread of the flight below
	rest  float64 // what the landing takes up besides
}

// pacings makes the table ready.
func (s *solver) pacings() {
	if s.walking == 0 {
		return
	}
	if s.misfit.rows == nil {
		s.misfit = landingTable{rows: map[landingKey][]int64{}, wide: s.misfit.wide, s: s}
	}
	for i, rest := range [2]float64{0, s.rest} {
		s.misfit.single[i] = s.misfit.row(0, rest)
		for kind := range s.flight {
			all := s.flight[kind].all
			for ti := range all {
				all[ti].landing[i] = s.misfit.row(all[ti].cells, rest)
			}
		}
	}
}

// long is the least number of cells that with rest make a landing on which the
// walker finds the rhythm anew.
func (t *landingTable) long(rest float64) int {
	n := int(math.Floor((longLanding-rest)/t.s.grid)) - 1
	for float64(float64(n)*t.s.grid)+rest <= longLanding+tol {
		n++
	}
	return max(n, 0)
}

// row is the costs of landings of 0, 1, … cells.
func (t *landingTable) row(cells int, rest float64) []int64 {
	key := landingKey{cells, rest}
	row, ok := t.rows[key]
	if !ok {
		s := t.s
		row = make([]int64, t.long(rest))
		for d := range row {
			row[d] = s.pacingLanding(float64(float64(d)*s.grid)+rest, float64(float64(cells)*s.grid))
		}
		t.rows[key] = row
	}
	return row
}

// over is the most that a landing after flights of tread a costs more than after
// flights of tread b, of any depth; with the remainder of the run where with is 1.
func (t *landingTable) over(a, b *tread, with int) int64 {
	if a.cells >= t.wide || b.cells >= t.wide {
		t.wide = max(a.cells, b.cells) + 32
		t.overs = [2][]int64{}
	}
	overs := t.overs[with]
	if len(overs) == 0 {
		overs = growValues(overs, t.wide*t.wide)[:t.wide*t.wide]
		for i := range overs {
			overs[i] = none
		}
		t.overs[with] = overs
	}
	most := &overs[a.cells*t.wide+b.cells]
	if *most == none {
		*most = -none
		x := a.landing[with]
		y := b.landing[with][:len(x)]
		for d, v := range x {
			if v -= y[d]; v > *most {
				*most = v
			}
		}
	}
	return *most
}

// pacingLanding is what a landing's misfit costs.
func (s *solver) pacingLanding(depth, t float64) int64 {
	if s.walking == 0 {
		return 0
	}
	return s.toValue(s.walking * landingMisfit(depth, t, s.pace))
}

// paced is where the values of flights that end with riser k are kept apart by
// tread: width of them for each, none yet; nil when the walker does not count.
func (s *solver) paced(kind, width int) []int64 {
	if s.walking == 0 {
		return nil
	}
	n := len(s.flight[kind].treads) * width
	rows := growValues(s.byTread[kind], n)[:n]
	s.byTread[kind] = rows
	for i := range rows {
		rows[i] = none
	}
	return rows
}

// crossPaced takes landings of lo..hi cells behind a level's riser, with what
// their misfit costs.
func (s *solver) crossPaced(l *level, t *strip, ends, out []int64, from, to, base, lo, hi int, plus int64, lt int, rest float64) {
	if l.from > l.to || lo > hi {
		return
	}
	width := l.to - l.from + 1
	with := 0
	if rest > 0 {
		with = 1
	}
	for kind := range s.flight {
		f := &s.flight[kind]
		if !f.on || lt == onPlatform && kind != onFrame {
			continue
		}
		if s.fewest(kind, l.k) == 1 && f.single < some {
			row := s.misfit.single[with]
			for i := l.from; i <= l.to; i++ {
				s.scatter(l, t, i, l.begin[kind][i-l.lo]+f.single+s.opening(kind, l.k), row, out, from, to, base, lo, hi, plus)
			}
		}
		// Of the flights that end at a place the cheapest is as good as any but
		// those whose landings come cheaper by what they cost more.
		best := growPositions(s.queue, width)[:width]
		s.queue = best[:0]
		for i := range best {
			best[i] = 0
		}
		for ti := 1; ti < len(f.treads); ti++ {
			for i, v := range s.byTread[kind][ti*width : (ti+1)*width] {
				if v < s.byTread[kind][int(best[i])*width+i] {
					best[i] = int32(ti)
				}
			}
		}
		for ti := range f.treads {
			row := f.treads[ti].landing[with]
			values := s.byTread[kind][ti*width : (ti+1)*width]
			for i, v := range values {
				if v >= some || v+l.ahead[kind][l.from+i-l.lo] > s.limit {
					continue
				}
				bi := int(best[i])
				if bi != ti && v >= s.byTread[kind][bi*width+i]+s.misfit.over(&f.treads[bi], &f.treads[ti], with) {
					continue
				}
				s.scatter(l, t, l.from+i, v, row, out, from, to, base, lo, hi, plus)
			}
		}
	}
}

func (s *solver) scatter(l *level, t *strip, i int, v int64, row, out []int64, from, to, base, lo, hi int, plus int64) {
	if v >= some || i > t.edge {
		return
	}
	a, z := max(i+lo, from), min(i+hi, to, int(t.reach[i-l.lo]))
	if a > z {
		return
	}
	s.updates += int64(z - a + 1)
	scatterRow(out[a-base:z+1-base], t.sum[a-l.lo:z+1-l.lo], row[a-i:z+1-i], v-t.sum[i-l.lo]+plus)
}

//go:noinline
func scatterRow(out, sum, misfit []int64, v int64) {
	sum, misfit = sum[:len(out)], misfit[:len(out)]
	for i := range out {
		if x := v + sum[i] + misfit[i]; x < out[i] {
			out[i] = x
		}
	}
}
