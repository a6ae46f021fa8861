package materials

import "slices"

// Fewest different patterns at the cost of the best plan. Which patterns there
// are is found by improvement: two of the plan's patterns are recut as one,
// three as two, four as three, over and over. Then the whole is searched for
// one pattern fewer; where that search runs to its end, or the number meets a
// plain bound, the fewest are proven.

// Bounds on the search for fewer patterns, counted in its own steps and not by
// the clock.
const (
	patternSteps    = 12_000 // of all recutting
	recutSteps      = 400    // of one recutting
	proveSteps      = 12_000 // of the search of the whole
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
	left := recutting
	for recut := true; recut && len(sol.cuts) > 1; {
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
	least := leastPatterns(p)
	all := make([]int, len(sol.cuts))
	for left = proving; len(sol.cuts) > least; {
		all = all[:len(sol.cuts)]
		for i := range all {
			all[i] = i
		}
		s := sol.patternSearch(p, all, left)
		found := s.cover(len(sol.cuts) - 1)
		if left = s.left; !found {
			sol.fewestPatterns = sol.proven && left > 0
			return
		}
		sol.cuts = joinCuts(s.found)
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

// recut puts k patterns in place of those picked, if that can be.
func (sol *cutSolution) recut(p *cutProblem, pick []int, k int, left *int) bool {
	most := recutSteps
	if *left < most {
		most = *left
	}
	s := sol.patternSearch(p, pick, most)
	found := s.cover(k)
	*left -= most - s.left + 1
	if !found {
		return false
	}
	cuts := s.found
	at := 0
	for i, c := range sol.cuts {
		if at < len(pick) && pick[at] == i {
			at++
			continue
		}
		cuts = append(cuts, c)
	}
	sol.cuts = joinCuts(cuts)
	return true
}

// patternSearch covers a need exactly, by few patterns.
type patternSearch struct {
	p      *cutProblem
	need   []int
	rest   int64 // length of the need
	cost   int64 // that may be spent
	boards int   // that may be used
	avail  []int
	rate   float64 // least cost by length
	long   int64   // longest board
	left   int     // steps
	found  []cut
	room   [][]itemCount // the pattern tried with so many left
}

// patternSearch sets up the search for what the picked patterns cut, with their
// cost and their boards.
func (sol *cutSolution) patternSearch(p *cutProblem, pick []int, steps int) *patternSearch {
	s := &patternSearch{p: p, need: make([]int, len(p.items)), avail: make([]int, len(p.stocks)), left: steps}
	for t, st := range p.stocks {
		s.avail[t] = unbounded
		if st.avail != 0 {
			s.avail[t] = st.avail
		}
		if r := float64(st.cost) / float64(st.len); t == 0 || r < s.rate {
			s.rate = r
		}
		if st.len > s.long {
			s.long = st.len
		}
	}
	at, pieces := 0, 0
	for i, c := range sol.cuts {
		if at < len(pick) && pick[at] == i {
			at++
			s.cost += p.stocks[c.stock].cost * int64(c.times)
			s.boards += c.times
			for _, ic := range c.items {
				s.need[ic.item] += ic.n * c.times
				s.rest += int64(ic.n*c.times) * p.items[ic.item].len
				pieces += ic.n * c.times
			}
			continue
		}
		if s.avail[c.stock] != unbounded {
			s.avail[c.stock] -= c.times
		}
	}
	if p.anyBoards {
		s.boards = pieces
	}
	return s
}

// cover looks for at most k patterns that cut the need exactly. Where left ends
// at 0 it has not looked everywhere.
func (s *patternSearch) cover(k int) bool {
	if s.rest == 0 {
		return true
	}
	if s.left--; s.left <= 0 || k == 0 {
		return false
	}
	// What no boards for the money, or no so many, can hold.
	if float64(s.rate*float64(s.rest)) > float64(s.cost)*(1+1e-9)+1e-9 || s.rest > int64(s.boards)*s.long {
		return false
	}
	if k == 1 {
		return s.single()
	}
	top := 0
	for s.need[top] == 0 {
		top++
	}
	count := make([]int, len(s.need))
	for t, st := range s.p.stocks {
		if s.avail[t] <= 0 || s.boards <= 0 || st.cost > s.cost || st.len < s.p.items[top].len {
			continue
		}
		// A pattern that leaves more room than all the money leaves is none.
		least := int64(0)
		if s.rate > 0 {
			spare := float64(s.cost)/s.rate - float64(s.rest)
			least = int64(float64(st.cost)/s.rate-spare-float64(s.rest)*1e-9) - 1
		}
		if s.fill(k, t, top, top, st.len, st.ends, st.len-least, count) {
			return true
		}
		if s.left <= 0 {
			return false
		}
	}
	return false
}

// fill makes the patterns of stock t that have the item top, and goes on with
// each. most is the room that may be left over.
func (s *patternSearch) fill(k, t, top, i int, room int64, ends int, most int64, count []int) bool {
	if s.left--; s.left <= 0 {
		return false
	}
	for i < len(s.need) && (s.need[i] == 0 || s.p.items[i].len > room) {
		i++
	}
	if i == len(s.need) {
		return room <= most && s.repeat(k, t, count)
	}
	it := s.p.items[i]
	n := int(room / it.len)
	if n > s.need[i] {
		n = s.need[i]
	}
	takes := 0
	if it.end {
		if takes = 1; n > ends {
			n = ends
		}
	}
	fewest := 0
	if i == top {
		fewest = 1
	}
	for ; n >= fewest; n-- {
		count[i] = n
		if s.fill(k, t, top, i+1, room-int64(n)*it.len, ends-n*takes, most, count) {
			return true
		}
		if s.left <= 0 {
			break
		}
	}
	count[i] = 0
	return false
}

// repeat cuts one pattern as often as can be, or less, and covers the rest.
func (s *patternSearch) repeat(k, t int, count []int) bool {
	for len(s.room) <= k {
		s.room = append(s.room, nil)
	}
	items := s.room[k][:0]
	times, length := s.boards, int64(0)
	if s.avail[t] < times {
		times = s.avail[t]
	}
	cost := s.p.stocks[t].cost
	if cost > 0 && s.cost/cost < int64(times) {
		times = int(s.cost / cost)
	}
	for i, n := range count {
		if n > 0 {
			items = append(items, itemCount{i, n})
			length += int64(n) * s.p.items[i].len
			if m := s.need[i] / n; m < times {
				times = m
			}
		}
	}
	s.room[k] = items
	for ; times > 0; times-- {
		s.apply(t, items, length, times)
		if s.cover(k - 1) {
			s.found = append(s.found, cut{t, slices.Clone(items), times})
			return true
		}
		s.apply(t, items, length, -times)
		if s.left <= 0 {
			return false
		}
	}
	return false
}

func (s *patternSearch) apply(t int, items []itemCount, length int64, times int) {
	for _, ic := range items {
		s.need[ic.item] -= ic.n * times
	}
	s.rest -= length * int64(times)
	s.cost -= s.p.stocks[t].cost * int64(times)
	s.boards -= times
	if s.avail[t] != unbounded {
		s.avail[t] -= times
	}
}

// single covers all the need by one pattern.
func (s *patternSearch) single() bool {
	g, ended := int64(0), 0
	for i, n := range s.need {
		g = gcd(g, int64(n))
		if s.p.items[i].end {
			ended += n
		}
	}
	for times := int(g); times > 0; times-- {
		if int(g)%times != 0 || times > s.boards {
			continue
		}
		for t, st := range s.p.stocks {
			if s.avail[t] < times || st.cost*int64(times) > s.cost || s.rest/int64(times) > st.len || ended/times > st.ends {
				continue
			}
			var items []itemCount
			for i, n := range s.need {
				if n > 0 {
					items = append(items, itemCount{i, n / times})
				}
			}
			s.found = append(s.found, cut{t, items, times})
			return true
		}
	}
	return false
}
