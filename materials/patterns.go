package materials

import "slices"

// Fewest different patterns at the cost of the best plan. Every purchase that
// costs as much is searched for one pattern fewer, over and over; where that ends
// without a find, or the number meets a plain bound, the fewest are proven. Where
// it does not end they are found by improvement: two of the plan's patterns are
// recut as one, three as two, four as three.

// Bounds on the search for fewer patterns, counted in its own steps and not by
// the clock.
const (
	patternSteps    = 12_000 // of all recutting
	recutSteps      = 400    // of one recutting
	proveSteps      = 25_000 // of the search of the whole
	offcutSteps     = 12_000 // of the search for the longest offcut
	maxPatternItems = 60
	maxPatternCuts  = 40
)

// fewerPatterns recuts the plan so that it has fewer different patterns, for no
// more money and, but where any number will do, no more boards.
func (sol *cutSolution) fewerPatterns(p *cutProblem) {
	sol.fewerPatternsIn(p, patternSteps, proveSteps)
}

func (sol *cutSolution) fewerPatternsIn(p *cutProblem, recutting, proving int) {
	if len(sol.cuts) < 2 {
		sol.fewestPatterns = sol.proven
		return
	}
	if len(p.items) > maxPatternItems || len(sol.cuts) > maxPatternCuts {
		return
	}
	least := leastPatterns(p)
	sol.fewestInAll(p, least, proving)
	left := recutting
	for recut := !sol.fewestPatterns; recut && len(sol.cuts) > least; {
		recut = false
		for size := 2; size <= 4 && !recut && size <= len(sol.cuts); size++ {
			pick := make([]int, size)
			for i := range pick {
				pick[i] = i
			}
			for more := true; more && left > 0; more = nextSubset(pick, len(sol.cuts)) {
				if sol.recut(p, pick, size-1, &left) {
					recut = true
					break
				}
			}
		}
	}
	if !sol.fewestPatterns && left < recutting {
		sol.fewestInAll(p, least, proving)
	}
}

// fewestInAll searches the purchases for fewer patterns, till that ends or least
// are found.
func (sol *cutSolution) fewestInAll(p *cutProblem, least, left int) {
	for len(sol.cuts) > least {
		found := false
		for _, x := range sol.purchases {
			kinds := 0
			for _, n := range x.n {
				if n > 0 {
					kinds++
				}
			}
			if kinds >= len(sol.cuts) {
				continue
			}
			s := newPatternSearch(p, sol.measures, p.need(), slices.Clone(x.n), left)
			found = s.cover(len(sol.cuts)-1, 0)
			if left = s.left; found {
				sol.cuts = joinCuts(s.found)
				break
			}
		}
		if !found {
			sol.fewestPatterns = sol.proven && left > 0 && sol.purchases != nil
			return
		}
	}
	sol.fewestPatterns = sol.proven
}

// leastPatterns is a plain bound: no pattern has more different items than fit
// the longest board one of each.
func leastPatterns(p *cutProblem) int {
	most := 0
	for _, s := range p.stocks {
		n, used := 0, int64(0)
		for i := len(p.items) - 1; i >= 0 && used+p.items[i].len <= s.len; i-- {
			used += p.items[i].len
			n++
		}
		if n > most {
			most = n
		}
	}
	if most == 0 {
		return 0
	}
	return (len(p.items) + most - 1) / most
}

// nextSubset goes on to the next subset of n things, in order.
func nextSubset(pick []int, n int) bool {
	k := len(pick)
	for i := k - 1; i >= 0; i-- {
		if pick[i] < n-k+i {
			pick[i]++
			for j := i + 1; j < k; j++ {
				pick[j] = pick[j-1] + 1
			}
			return true
		}
	}
	return false
}

// recut puts k patterns in place of those picked, of the same boards, if that
// can be.
func (sol *cutSolution) recut(p *cutProblem, pick []int, k int, left *int) bool {
	most := recutSteps
	if *left < most {
		most = *left
	}
	need, have := make([]int, len(p.items)), make([]int, len(p.stocks))
	var cuts []cut
	at := 0
	for i, c := range sol.cuts {
		if at == len(pick) || pick[at] != i {
			cuts = append(cuts, c)
			continue
		}
		at++
		have[c.stock] += c.times
		for _, ic := range c.items {
			need[ic.item] += ic.n * c.times
		}
	}
	measures := sol.measures
	if sol.purchases == nil {
		measures = []*measure{p.byLength()}
	}
	s := newPatternSearch(p, measures, need, have, most)
	found := s.cover(k, 0)
	*left -= most - s.left + 1
	if found {
		sol.cuts = joinCuts(append(cuts, s.found...))
	}
	return found
}

// patternSearch covers a need by boards that are there, all of which it takes, cut
// by few patterns: those that are cut most often first, then, where the boards are
// no more than the patterns may be, board by board. What the boards hold beyond
// the need by any of the measures bounds what a pattern may leave.
type patternSearch struct {
	p          *cutProblem
	measures   []*measure
	need, have []int
	boards     int
	left       int // steps
	found      []cut
	tries      []try                       // the patterns picked, and the one that is tried
	spare      []int64                     // of each measure, before each of them
	failed     map[uint64]bool             // what cannot be covered board by board
	radix      []uint64                    // of the codes for it
	short      func(need, have []int) bool // proves that there is no way
	room       int64                       // that one pattern must leave
	roomy      int                         // patterns picked that do
}

// try is a pattern, cut so many times.
type try struct {
	stock, times int
	count, most  []int
}

func newPatternSearch(p *cutProblem, measures []*measure, need, have []int, steps int) *patternSearch {
	s := &patternSearch{p: p, measures: measures, need: need, have: have, left: steps}
	codes := 1.0
	for _, n := range need {
		codes *= float64(n + 1)
	}
	for _, n := range have {
		s.boards += n
		codes *= float64(n + 1)
	}
	for _, m := range measures {
		s.spare = append(s.spare, m.spare(need, have))
	}
	if codes < 1<<62 {
		s.failed = map[uint64]bool{}
		for _, n := range need {
			s.radix = append(s.radix, uint64(n+1))
		}
		for _, n := range have {
			s.radix = append(s.radix, uint64(n+1))
		}
	}
	return s
}

// listItems lists what is not nought.
func listItems(count []int) (items []itemCount) {
	for i, n := range count {
		if n > 0 {
			items = append(items, itemCount{i, n})
		}
	}
	return items
}

// code tells what is left apart.
func (s *patternSearch) code() (c uint64) {
	for i, n := range s.need {
		c = c*s.radix[i] + uint64(n)
	}
	for t, n := range s.have {
		c = c*s.radix[len(s.need)+t] + uint64(n)
	}
	return c
}

// cover looks for at most k patterns that cut the need from the boards; depth of
// them are picked. Where left ends at 0 it has not looked everywhere.
func (s *patternSearch) cover(k, depth int) bool {
	top := 0
	for s.need[top] == 0 {
		if top++; top == len(s.need) {
			return s.room == 0 || s.roomy > 0
		}
	}
	if k == 0 || s.boards == 0 {
		return false
	}
	if len(s.tries) == depth {
		s.tries = append(s.tries, try{count: make([]int, len(s.need)), most: make([]int, len(s.need))})
	}
	if s.room > 0 && s.roomy == 0 {
		if s.room > s.spare[len(s.spare)-len(s.measures)+1] {
			return false
		}
		if k >= s.boards {
			// The board that leaves it first, then the others.
			for t, n := range s.have {
				if n > 0 && s.fill(k, depth, t, 1, -1) {
					return true
				}
			}
			return false
		}
	}
	if k >= s.boards {
		code := uint64(0)
		if s.failed != nil {
			if code = s.code(); s.failed[code] {
				return false
			}
		}
		if s.short != nil && s.short(s.need, s.have) {
			if s.failed != nil {
				s.failed[code] = true
			}
			return false
		}
		for t, n := range s.have {
			if n > 0 && s.p.stocks[t].len >= s.p.items[top].len && s.fill(k, depth, t, 1, top) {
				return true
			}
		}
		if s.failed != nil && s.left > 0 {
			s.failed[code] = true
		}
		return false
	}
	most, kinds := 0, 0
	for _, n := range s.have {
		if n > 0 {
			kinds++
		}
		if n > most {
			most = n
		}
	}
	if kinds > k {
		return false
	}
	if depth > 0 && s.tries[depth-1].times < most {
		most = s.tries[depth-1].times
	}
	for times := most; times*k >= s.boards; times-- {
		for t, n := range s.have {
			if n >= times && s.fill(k, depth, t, times, -1) {
				return true
			}
		}
	}
	return false
}

// fill makes the patterns of stock t that are cut so many times, and goes on
// with each. Where top is not negative they have that item, and are full.
func (s *patternSearch) fill(k, depth, t, times, top int) bool {
	y := &s.tries[depth]
	y.stock, y.times = t, times
	single := k >= s.boards
	f := filler{p: s.p, m: s.measures[0], count: y.count, top: top, full: single, left: &s.left}
	f.most = y.most
	for i, n := range s.need {
		y.count[i], y.most[i] = 0, n/times
	}
	f.least = f.m.most[t] - s.spare[len(s.spare)-len(s.measures)]/int64(times)
	found := false
	f.take = func(int64) bool {
		found = s.cut(k, depth)
		return !found
	}
	i := 0
	if top > 0 {
		i = top
	}
	room := s.p.stocks[t].len
	if single && top < 0 {
		room -= s.room
	}
	f.walk(i, room, 0, s.p.stocks[t].ends)
	return found
}

// filler makes the patterns of a board.
type filler struct {
	p           *cutProblem
	m           *measure
	least       int64 // that they are worth
	most, count []int // of each item
	top         int   // an item that they have, or -1
	full        bool  // nothing that is wanted fits beside
	left        *int  // steps
	take        func(room int64) bool
}

// walk goes through the patterns while take wants more and steps are left.
func (f *filler) walk(i int, room, value int64, ends int) bool {
	if *f.left--; *f.left <= 0 {
		return false
	}
	items := f.p.items
	for i < len(items) && (f.most[i] == 0 || items[i].len > room) {
		i++
	}
	if i == len(items) {
		if value < f.least {
			return true
		}
		if f.full {
			for k := len(items) - 1; k >= 0 && items[k].len <= room; k-- {
				if f.count[k] < f.most[k] && (!items[k].end || ends > 0) {
					return true
				}
			}
		}
		return f.take(room)
	}
	if float64(value)+float64(f.m.rate[i]*float64(room))+1 < float64(f.least) {
		return true
	}
	n := int(room / items[i].len)
	if n > f.most[i] {
		n = f.most[i]
	}
	takes := 0
	if items[i].end {
		if takes = 1; n > ends {
			n = ends
		}
	}
	fewest := 0
	if i == f.top {
		fewest = 1
	}
	more := true
	for ; n >= fewest && more; n-- {
		f.count[i] = n
		more = f.walk(i+1, room-int64(n)*items[i].len, value+int64(n)*f.m.value[i], ends-n*takes)
	}
	if more {
		f.count[i] = 0
	}
	return more
}

// cut goes on with the pattern that is tried, if it is one to go on with.
func (s *patternSearch) cut(k, depth int) bool {
	y := s.tries[depth]
	if k < s.boards && depth > 0 && s.tries[depth-1].times == y.times && !after(y, s.tries[depth-1]) {
		return false
	}
	now := len(s.spare) - len(s.measures)
	any, roomy := false, s.roomy
	for j, m := range s.measures {
		v := -m.most[y.stock]
		for i, n := range y.count {
			v += int64(n) * m.value[i]
			any = any || n > 0
		}
		if j == 1 && -v >= s.room {
			roomy++
		}
		if v = s.spare[now+j] + int64(y.times)*v; v < 0 {
			s.spare = s.spare[:now+len(s.measures)]
			return false
		}
		s.spare = append(s.spare, v)
	}
	found := false
	if any {
		s.apply(y, 1)
		roomy, s.roomy = s.roomy, roomy
		found = s.cover(k-1, depth+1)
		if s.roomy = roomy; found {
			s.found = append(s.found, cut{y.stock, listItems(y.count), y.times})
		}
		s.apply(y, -1)
	}
	s.spare = s.spare[:now+len(s.measures)]
	return found
}

func (s *patternSearch) apply(y try, sign int) {
	times := sign * y.times
	for i, n := range y.count {
		s.need[i] -= n * times
	}
	s.have[y.stock] -= times
	s.boards -= times
}

// after says that a pattern is tried after another one.
func after(a, b try) bool {
	if a.stock != b.stock {
		return a.stock > b.stock
	}
	for i, n := range a.count {
		if n != b.count[i] {
			return n < b.count[i]
		}
	}
	return false
}

// longestOffcut recuts the plan, of no more patterns, so that it leaves a longer
// single offcut, as long as steps are left; where the search ends the longest is
// proven.
func (sol *cutSolution) longestOffcut(p *cutProblem, steps int) {
	if len(sol.purchases) == 0 || len(sol.cuts) > maxPatternCuts {
		return
	}
	// A shorter board for no more stands for another one, though that leaves more.
	sol.longest = true
	for _, a := range p.stocks {
		for _, b := range p.stocks {
			sol.longest = sol.longest && (a.avail == 0 || b.len >= a.len || b.cost > a.cost)
		}
	}
	low := int64(0) // there is one as long
	for _, c := range sol.cuts {
		room := p.stocks[c.stock].len
		for _, ic := range c.items {
			room -= int64(ic.n) * p.items[ic.item].len
		}
		if room > low {
			low = room
		}
	}
	high := int64(0)
	for _, x := range sol.purchases {
		if v := sol.measures[1].spare(p.need(), x.n); v > high {
			high = v
		}
	}
	for low < high && steps > 0 {
		found, sure := false, true
		room := low + (high-low+1)/2
		for _, x := range sol.purchases {
			s := newPatternSearch(p, sol.measures, p.need(), slices.Clone(x.n), (steps+1)/2)
			s.room = room
			found = s.cover(len(sol.cuts), 0)
			steps -= (steps+1)/2 - s.left
			sure = sure && s.left > 0
			if found {
				sol.cuts = joinCuts(s.found)
				break
			}
		}
		if found {
			low = room
		} else {
			high = room - 1
			sol.longest = sol.longest && sure
		}
	}
	sol.longest = sol.longest && low >= high
}
