package materials

import "sort"

// maxTidyBoards bounds the boards among which offcuts are gathered.
const maxTidyBoards = 200

// tidy moves pieces between the boards of a plan so that what is left over is
// gathered in one long offcut, without changing what is bought. Every board is
// tried as the one that keeps it: its pieces go where they fit, or change
// places with shorter ones, while that is possible. This is a search by
// improvement: a longer offcut may exist. It makes no more patterns than there
// are.
func (sol *cutSolution) tidy(p *cutProblem) {
	boards := 0
	for _, c := range sol.cuts {
		boards += c.times
	}
	if boards < 2 || boards > maxTidyBoards || len(p.items) > maxExactItems {
		return
	}
	var start []benchBoard
	longest := int64(0)
	for _, c := range sol.cuts {
		for n := 0; n < c.times; n++ {
			b := benchBoard{stock: c.stock, spare: p.stocks[c.stock].len, ends: p.stocks[c.stock].ends, count: make([]int, len(p.items))}
			for _, ic := range c.items {
				b.count[ic.item] = ic.n
				b.spare -= int64(ic.n) * p.items[ic.item].len
				if p.items[ic.item].end {
					b.ends -= ic.n
				}
			}
			if b.spare > longest {
				longest = b.spare
			}
			start = append(start, b)
		}
	}
	var best []cut
	for keep := range start {
		if keep > 0 && sameBoard(start[keep], start[keep-1]) {
			continue
		}
		bench := make([]benchBoard, len(start))
		for i, b := range start {
			bench[i] = b
			bench[i].count = append([]int(nil), b.count...)
		}
		for gather(p, bench, keep) {
		}
		// Never empty: a board that could be spared would have been.
		if bench[keep].spare > longest && bench[keep].spare < p.stocks[bench[keep].stock].len {
			if cuts := benchCuts(bench); len(cuts) <= len(sol.cuts) {
				best, longest = cuts, bench[keep].spare
			}
		}
	}
	if best != nil {
		sol.cuts = best
	}
}

// benchCuts counts equal boards together.
func benchCuts(bench []benchBoard) []cut {
	var cuts []cut
	for _, b := range bench {
		cuts = append(cuts, cut{b.stock, listItems(b.count), 1})
	}
	return joinCuts(cuts)
}

// benchBoard is one board with its pieces.
type benchBoard struct {
	stock int
	spare int64
	ends  int // of its own that no piece takes
	count []int
}

func sameBoard(a, b benchBoard) bool {
	if a.stock != b.stock {
		return false
	}
	for i, n := range a.count {
		if n != b.count[i] {
			return false
		}
	}
	return true
}

// gather makes the move that adds most to the spare length of one board, and
// reports whether there was one.
func gather(p *cutProblem, bench []benchBoard, keep int) bool {
	k := &bench[keep]
	takes := func(i int) int {
		if p.items[i].end {
			return 1
		}
		return 0
	}
	gain, from, to, back := int64(0), -1, -1, -1
	for i, n := range k.count {
		if n == 0 {
			continue
		}
		l := p.items[i].len
		for j := range bench {
			if j == keep {
				continue
			}
			o := &bench[j]
			if l <= o.spare && l > gain && takes(i) <= o.ends {
				gain, from, to, back = l, i, j, -1
			}
			// The longest exchange is with the shortest piece that makes room.
			for s := len(o.count) - 1; s > i; s-- {
				d := l - p.items[s].len
				if e := takes(i) - takes(s); o.count[s] == 0 || d > o.spare || e > o.ends || -e > k.ends {
					continue
				}
				if d > gain {
					gain, from, to, back = d, i, j, s
				}
			}
		}
	}
	if from < 0 {
		return false
	}
	o := &bench[to]
	ends := takes(from)
	k.count[from]--
	o.count[from]++
	if back >= 0 {
		o.count[back]--
		k.count[back]++
		ends -= takes(back)
	}
	k.ends += ends
	o.ends -= ends
	k.spare += gain
	o.spare -= gain
	return true
}

// sortItems puts the items of a problem in falling order of length; of two as
// long, the one that takes an end is first.
func sortItems(p *cutProblem) {
	sort.Slice(p.items, func(i, j int) bool {
		a, b := p.items[i], p.items[j]
		if a.len != b.len {
			return a.len > b.len
		}
		return a.end && !b.end
	})
}
