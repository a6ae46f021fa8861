package materials

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// tryAllEnds is [tryAll] where some pieces take an end of the board. It gives
// the least cost, the fewest boards at it, and the fewest different patterns at
// both and at the cost alone. It knows nothing of the solver.
func tryAllEnds(p *cutProblem) (cost, boards int64, patterns, patternsAny int, ok bool) {
	cost, boards, patterns, patternsAny, _, ok = tryAllOffcuts(p)
	return
}

// tryAllOffcuts gives the longest that one board leaves, too, at the least cost
// with the fewest boards and patterns.
func tryAllOffcuts(p *cutProblem) (cost, boards int64, patterns, patternsAny int, longest int64, ok bool) {
	rooms := map[string]int64{}
	need, used := make([]int, len(p.items)), make([]int, len(p.stocks))
	for i, it := range p.items {
		need[i] = it.n
	}
	seen := map[string]int{}
	var rec func(spent, n int64)
	rec = func(spent, n int64) {
		if ok && spent > cost {
			return
		}
		top := -1
		for i, c := range need {
			if c > 0 {
				top = i
				break
			}
		}
		if top < 0 {
			different, room := 0, int64(0)
			for k, c := range seen {
				if c > 0 {
					different++
					room = max(room, rooms[k])
				}
			}
			if !ok || spent < cost {
				ok, cost, boards, patterns, patternsAny, longest = true, spent, n, different, different, room
			}
			if n < boards || (n == boards && different < patterns) {
				boards, patterns, longest = n, different, room
			}
			if n == boards && different == patterns {
				longest = max(longest, room)
			}
			if different < patternsAny {
				patternsAny = different
			}
			return
		}
		for t, s := range p.stocks {
			if s.avail != 0 && used[t] == s.avail {
				continue
			}
			used[t]++
			pattern := make([]int, len(need))
			var fill func(i int, room int64, ends int)
			fill = func(i int, room int64, ends int) {
				if i == len(need) {
					k := fmt.Sprint(t, pattern)
					seen[k]++
					rooms[k] = room
					rec(spent+s.cost, n+1)
					seen[k]--
					return
				}
				least, have := 0, need[i]
				if i == top {
					least = 1
				}
				for c := least; c <= have && int64(c)*p.items[i].len <= room; c++ {
					free := ends
					if p.items[i].end {
						if free -= c; free < 0 {
							break
						}
					}
					need[i], pattern[i] = have-c, c
					fill(i+1, room-int64(c)*p.items[i].len, free)
				}
				need[i], pattern[i] = have, 0
			}
			fill(top, s.len, s.ends)
			used[t]--
		}
	}
	rec(0, 0)
	return
}

// endedProblem is small enough for tryAllEnds, with ends that matter.
func endedProblem(r *rand.Rand, ended bool) *cutProblem {
	p := &cutProblem{effort: DefaultEffort}
	pieces := 0
	for i := 2 + r.IntN(3); i > 0 && pieces < 7; i-- {
		l, end := int64(20+r.IntN(40)), ended && r.IntN(2) == 0
		twice := false
		for _, it := range p.items {
			twice = twice || (it.len == l && it.end == end)
		}
		if twice {
			continue
		}
		n := 1 + r.IntN(3)
		pieces += n
		p.items = append(p.items, cutItem{len: l, n: n, id: itemKey(l, 0), end: end})
	}
	sortItems(p)
	even := r.IntN(2) == 0 // prices by the length: many ways at one cost
	for i := 1 + r.IntN(3); i > 0; i-- {
		l := int64(60 + r.IntN(60))
		s := cutStock{len: l, cost: l/10 + r.Int64N(3), id: i, ends: maxEnds}
		if even {
			s.len = 60 + 30*r.Int64N(3)
			s.cost = s.len / 30
		}
		if ended {
			s.ends = r.IntN(maxEnds + 1)
		}
		if r.IntN(4) == 0 {
			s.avail = 1 + r.IntN(3)
		}
		p.stocks = append(p.stocks, s)
	}
	return p
}

// patternsFit says that every pattern can be sawn.
func patternsFit(p *cutProblem, sol *cutSolution) bool {
	have := make([]int, len(p.items))
	for _, c := range sol.cuts {
		room, ends := p.stocks[c.stock].len, p.stocks[c.stock].ends
		for _, ic := range c.items {
			room -= int64(ic.n) * p.items[ic.item].len
			if p.items[ic.item].end {
				ends -= ic.n
			}
			have[ic.item] += ic.n * c.times
		}
		if room < 0 || ends < 0 {
			return false
		}
	}
	for i, it := range p.items {
		if have[i] != it.n {
			return false
		}
	}
	return true
}

func TestSolveWithEndsEqualsTryingAll(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 5))
	solved, infeasible, bound := 0, 0, 0
	for n := 0; n < 500; n++ {
		p := endedProblem(r, true)
		cost, boards, _, _, ok := tryAllEnds(p)
		sol := p.solve()
		if !ok {
			infeasible++
			if sol != nil {
				t.Fatalf("case %d: found a plan where there is none: %+v", n, p)
			}
			continue
		}
		if sol == nil {
			t.Fatalf("case %d: found no plan, there is one at %d: %+v", n, cost, p)
		}
		got := int64(0)
		for _, c := range sol.cuts {
			got += int64(c.times)
		}
		if sol.cost != cost || !sol.proven || !patternsFit(p, sol) || (sol.fewest && got != boards) || !sol.fewest {
			t.Errorf("case %d: %d for %d boards (proven %v), want %d for %d: %+v", n, sol.cost, got, sol.proven, cost, boards, p)
		}
		solved++
		free := *p
		free.stocks = append([]cutStock(nil), p.stocks...)
		for i := range free.stocks {
			free.stocks[i].ends = maxEnds
		}
		free.items = append([]cutItem(nil), p.items...)
		for i := range free.items {
			free.items[i].end = false
		}
		if c, _, _, _, _ := tryAllEnds(&free); c < cost {
			bound++
		}
		sol.tidy(p)
		if !patternsFit(p, sol) {
			t.Errorf("case %d: gathering the offcuts spoiled the plan", n)
		}
	}
	if solved < 250 || infeasible < 30 || bound < 30 {
		t.Errorf("%d solved, %d infeasible, in %d the ends cost something", solved, infeasible, bound)
	}
}

// The walk finds the pattern of the greatest value, and the search ends at the
// least cost, where ends are taken.
func TestEndsByEachRoad(t *testing.T) {
	r := rand.New(rand.NewPCG(52, 5))
	compared := 0
	for n := 0; n < 300; n++ {
		p := endedProblem(r, true)
		value, need := make([]int64, len(p.items)), make([]int, len(p.items))
		for i, it := range p.items {
			value[i], need[i] = r.Int64N(1000), it.n
		}
		k := newKnapsack(p, value, need)
		for s, st := range p.stocks {
			items, best, over, ok := k.best(s)
			var most func(i int, room int64, ends int) int64
			most = func(i int, room int64, ends int) int64 {
				if i == len(p.items) {
					return 0
				}
				v := int64(0)
				for n := 0; n <= need[i] && int64(n)*p.items[i].len <= room; n++ {
					free := ends
					if p.items[i].end {
						free -= n
					}
					if free >= 0 {
						v = max(v, int64(n)*value[i]+most(i+1, room-int64(n)*p.items[i].len, free))
					}
				}
				return v
			}
			if want := most(0, st.len, st.ends); !ok || best != want || over < best {
				t.Errorf("case %d: %d (over %d), want %d: %+v", n, best, over, want, p)
			}
			sum, ends, room := int64(0), 0, st.len
			for _, ic := range items {
				sum += int64(ic.n) * value[ic.item]
				room -= int64(ic.n) * p.items[ic.item].len
				if p.items[ic.item].end {
					ends += ic.n
				}
			}
			if sum != best || ends > st.ends || room < 0 {
				t.Errorf("case %d: %v is worth %d, not %d, and takes %d ends of %d", n, items, sum, best, ends, st.ends)
			}
			compared++
		}
		cost, _, _, _, ok := tryAllEnds(p)
		if !ok {
			continue
		}
		costs := make([]int64, len(p.stocks))
		for i, s := range p.stocks {
			costs[i] = s.cost
		}
		for _, few := range []int{0, maxListed} {
			s := newSolver(p, costs, DefaultEffort)
			s.setUnit()
			b := &buyer{s: s, need: need, walk: mostWalk, order: s.useful}
			b.relax(few)
			b.measures = append(b.measures, p.byLength())
			if bound := b.cheapest(b.low); b.low > cost || s.bestCost != cost || bound != cost {
				t.Errorf("case %d: %d, bound %d, relaxation %d, the least cost is %d", n, s.bestCost, bound, b.low, cost)
			}
		}
	}
	if compared < 300 {
		t.Errorf("only %d patterns were compared", compared)
	}
}

// Fewest patterns: what is claimed is so, and mostly it is claimed.
func TestFewestPatterns(t *testing.T) {
	r := rand.New(rand.NewPCG(53, 5))
	claimed, missed, fewer, anyFewer := 0, 0, 0, 0
	for n := 0; n < 600; n++ {
		p := endedProblem(r, n%3 == 0)
		p.anyBoards = n%2 == 0
		_, boards, atBoards, any, ok := tryAllEnds(p)
		if !ok {
			continue
		}
		sol := p.solve()
		before := len(sol.cuts)
		sol.fewerPatterns(p)
		got := int64(0)
		for _, c := range sol.cuts {
			got += int64(c.times)
		}
		want := atBoards
		if p.anyBoards {
			want = any
		} else if sol.fewest && got != boards {
			t.Errorf("case %d: %d boards, want %d", n, got, boards)
		}
		cost := int64(0)
		for _, c := range sol.cuts {
			cost += p.stocks[c.stock].cost * int64(c.times)
		}
		if !patternsFit(p, sol) || cost != sol.cost || len(sol.cuts) > before || len(sol.cuts) < want {
			t.Errorf("case %d: %d patterns, before %d, least %d, cost %d of %d: %+v", n, len(sol.cuts), before, want, cost, sol.cost, sol.cuts)
		}
		if sol.fewestPatterns {
			claimed++
			if len(sol.cuts) != want {
				t.Errorf("case %d: %d patterns are claimed to be the fewest, %d are: %+v", n, len(sol.cuts), want, p)
			}
		} else if len(sol.cuts) > want {
			missed++
		}
		if len(sol.cuts) < before {
			fewer++
		}
		if any < atBoards {
			anyFewer++
		}
		sol.tidy(p)
		if len(sol.cuts) > before || !patternsFit(p, sol) {
			t.Errorf("case %d: gathering the offcuts made more patterns", n)
		}
	}
	if claimed < 300 || missed > 0 || fewer < 10 || anyFewer < 2 {
		t.Errorf("claimed %d, missed %d, fewer %d, fewer with more boards %d", claimed, missed, fewer, anyFewer)
	}
}

// The longest single offcut: what is claimed is so, and mostly it is claimed.
func TestLongestOffcut(t *testing.T) {
	r := rand.New(rand.NewPCG(55, 5))
	claimed, missed, longer := 0, 0, 0
	for n := 0; n < 600; n++ {
		p := endedProblem(r, n%3 == 0)
		_, boards, patterns, _, longest, ok := tryAllOffcuts(p)
		if !ok {
			continue
		}
		sol := p.solve()
		sol.fewerPatterns(p)
		sol.tidy(p)
		most := func() (room int64) {
			for _, c := range sol.cuts {
				left := p.stocks[c.stock].len
				for _, ic := range c.items {
					left -= int64(ic.n) * p.items[ic.item].len
				}
				room = max(room, left)
			}
			return room
		}
		before, cuts := most(), len(sol.cuts)
		sol.longestOffcut(p, []int{offcutSteps, 1 + r.IntN(40)}[n%2])
		got, cost := int64(0), int64(0)
		for _, c := range sol.cuts {
			got += int64(c.times)
			cost += p.stocks[c.stock].cost * int64(c.times)
		}
		if got != boards || cost != sol.cost || !patternsFit(p, sol) || len(sol.cuts) != cuts || most() < before {
			t.Errorf("case %d: %d boards, %d patterns, cost %d, offcut %d before: %+v", n, got, cuts, cost, before, sol)
		}
		if most() > before {
			longer++
		}
		switch {
		case len(sol.cuts) != patterns:
		case sol.longest:
			claimed++
			if most() != longest {
				t.Errorf("case %d: %d is claimed to be the longest offcut, %d is: %+v", n, most(), longest, p)
			}
		case most() < longest:
			missed++
		}
	}
	if claimed < 250 || longer < 5 {
		t.Errorf("claimed %d, missed %d, longer %d", claimed, missed, longer)
	}
}

// Cut short, the search for fewer patterns claims nothing that is not so.
func TestFewestPatternsCutShort(t *testing.T) {
	r := rand.New(rand.NewPCG(54, 5))
	open := 0
	for n := 0; n < 500; n++ {
		p := endedProblem(r, n%2 == 0)
		_, _, want, _, ok := tryAllEnds(p)
		if !ok {
			continue
		}
		sol := p.solve()
		sol.fewerPatternsIn(p, r.IntN(4), 1+r.IntN(4))
		if sol.fewestPatterns && len(sol.cuts) != want {
			t.Errorf("case %d: %d patterns are claimed to be the fewest, %d are: %+v", n, len(sol.cuts), want, p)
		}
		if !sol.fewestPatterns {
			open++
		}
	}
	if open < 50 {
		t.Errorf("only %d were left open", open)
	}
}

// Two posts of 40 in must keep a factory end, four of 30 need not: a board of
// 120 in has two such ends, so that both posts come from one board, at its
// ends, and what is left lies between.
func TestCutFactoryEnds(t *testing.T) {
	pieces := []Piece{{"4x4", in(40), 2, "post"}, {"4x4", in(30), 1, "rail"}}
	stock := []Stock{{Section: "4x4", Length: in(120), Price: money("20")}}
	o := CutOptions{Kerf: in(0.125), KeepFrom: in(5), FactoryEnds: []FactoryEnds{{"post", 1}}}
	plan, err := Cut(pieces, stock, o)
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, pieces, stock, o, plan)
	b := plan.Boards[0]
	if len(plan.Boards) != 1 || !b.FarEnd || b.Pieces[0].Use != "post" || b.Pieces[1].Use != "rail" || b.Pieces[2].Use != "post" || b.CutEnds() != 4 {
		t.Errorf("%+v, %d ends cut", plan.Boards, b.CutEnds())
	}
	// 120 − 110 − 3 kerfs; neither end of it is a factory one.
	if len(plan.Kept) != 1 || !near(plan.Kept[0].Length.Meters(), in(9.625).Meters(), 1e-9) || plan.Kept[0].FactoryEnd {
		t.Errorf("kept %+v", plan.Kept)
	}
	if text := string(plan.CSV(CSVStyle{Imperial: true})); !strings.Contains(text, "3,9.625,offcut,\r\n1,1,4x4,120,20,4,40,post,keeps a factory end") {
		t.Errorf("%s", text)
	}
	// Trimmed at one end, a board has one: two boards.
	o.Trim = in(0.25)
	plan, err = Cut(pieces, stock, o)
	if err != nil || plan.Groups[0].Boards != 2 || !plan.Proven {
		t.Errorf("%+v %v", plan.Groups, err)
	}
	checkPlan(t, pieces, stock, o, plan)
	o.Trim = 0
	// An offcut sawn at both ends serves only the rail.
	stock = append(stock, Stock{Section: "4x4", Length: in(41), Available: 5, CutEnds: 2})
	pieces = append(pieces, Piece{"4x4", in(36), 1, "rail"})
	plan, err = Cut(pieces, stock, o)
	if err != nil || !plan.Cost.Equal(money("20")) {
		t.Errorf("%+v %v", plan.Groups, err)
	}
	checkPlan(t, pieces, stock, o, plan)
	for _, b := range plan.Boards {
		for _, x := range b.Pieces {
			if b.OnHand && x.Use == "post" {
				t.Errorf("a post from %+v", b)
			}
		}
	}
	if _, err = Cut(pieces[:1], stock[1:], o); err == nil || !strings.Contains(err.Error(), "must keep a factory end") {
		t.Errorf("%v", err)
	}
	// Both ends: a whole board just as long.
	o.FactoryEnds = []FactoryEnds{{"post", 2}}
	_, err = Cut(pieces, stock, o)
	wantFault(t, err, "pieces[0].length")
	stock = append(stock, Stock{Section: "4x4", Length: in(40), Price: money("9")}, Stock{Section: "4x4", Length: in(40), Available: 1})
	plan, err = Cut(pieces, stock, o)
	if err != nil || !plan.Cost.Equal(money("9")) || !plan.Proven || plan.Groups[0].Boards != 4 {
		t.Errorf("%+v %v", plan.Groups, err)
	}
	checkPlan(t, pieces, stock, o, plan)
	if plan.Boards[0].CutEnds() != 0 {
		t.Errorf("a whole board has %d ends cut", plan.Boards[0].CutEnds())
	}
}

// What is on hand counts as nothing where prices are missing: 31 in on hand
// serves a piece of 30, and one board less is bought.
func TestCutOnHandUnpriced(t *testing.T) {
	pieces := []Piece{{"6x6", in(60), 1, "a"}, {"6x6", in(40), 1, "b"}}
	stock := []Stock{{Section: "6x6", Length: in(72), Unpriced: true}, {Section: "6x6", Length: in(100), Unpriced: true}, {Section: "6x6", Length: in(66), Available: 1}}
	plan, err := Cut(pieces, stock, CutOptions{})
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, pieces, stock, CutOptions{}, plan)
	g := plan.Groups[0]
	// 60 from the offcut of 66 and 40 from 72, not 100 for both.
	if g.Priced || !g.Proven || !near(g.OnHand.Meters(), in(66).Meters(), 1e-9) || !near((g.Bought-g.OnHand).Meters(), in(72).Meters(), 1e-9) || !near(g.Least.Meters(), in(72).Meters(), 1e-6) {
		t.Errorf("%+v", g)
	}
	bill, err := MakeBill(Takeoff{}, plan, PriceList{Deliveries: []Delivery{{Price: money("10"), Load: money("1"), Per: PerEach}}})
	if err != nil || len(bill.Lines) != 3 || !bill.Lines[2].Buy.Equal(money("1")) || len(bill.Unpriced) != 1 {
		t.Errorf("%+v %v", bill, err)
	}
}

// What cannot be brought or carried is not bought; what is here is used.
func TestCutCarry(t *testing.T) {
	pieces := []Piece{{"6x6", in(40), 6, "a"}}
	stock := []Stock{
		{Section: "6x6", Length: in(96), Price: money("30")}, {Section: "6x6", Length: in(144), Price: money("31")},
		{Section: "6x6", Length: in(130), Available: 1},
	}
	o := CutOptions{Kerf: in(0.125), LongestBoard: in(96)}
	plan, err := Cut(pieces, stock, o)
	// Three from what is here, two and one from 96 in.
	if err != nil || !plan.Cost.Equal(money("60")) || len(plan.Notes) != 1 || !strings.Contains(plan.Notes[0].Says, "passed over") {
		t.Errorf("%v %v %v", plan.Cost, plan.Notes, err)
	}
	checkPlan(t, pieces, stock, o, plan)
	// 12 ft of wet 6x6 is 5.5² · 144 in³ at 72.9 lb/ft³: 183.8 lb; 8 ft 122.5 lb.
	lb := 0.45359237
	for _, c := range []struct {
		pounds float64
		cost   string
	}{{183.7, "60"}, {183.9, "31"}} {
		o = CutOptions{Kerf: in(0.125), HeaviestBoard: unit.Mass(c.pounds*lb) * unit.Kilogram}
		if plan, err = Cut(pieces, stock, o); err != nil || !plan.Cost.Equal(money(c.cost)) {
			t.Errorf("at %v lb: %v %v, want %s", c.pounds, plan.Cost, err, c.cost)
		}
	}
	_, err = Cut(pieces, stock[:2], CutOptions{LongestBoard: in(50)})
	wantFault(t, err, "pieces[0].length")
	_, err = Cut([]Piece{{"6x6", in(100), 1, "a"}}, stock[:2], CutOptions{LongestBoard: in(96)})
	wantFault(t, err, "pieces[0].length")
	_, err = Cut([]Piece{{"oak", in(40), 1, "a"}}, []Stock{{Section: "oak", Length: in(96)}}, CutOptions{HeaviestBoard: 40 * unit.Kilogram})
	wantFault(t, err, "stock[0].section")
	nan := unit.Length(0)
	nan /= nan
	for field, o := range map[string]CutOptions{
		"longest_board": {LongestBoard: -1}, "heaviest_board": {HeaviestBoard: unit.Mass(nan)}, "keep_from": {KeepFrom: nan}, "density": {Density: -4}, "then": {Then: "luck"},
		"factory_ends[1].use": {FactoryEnds: []FactoryEnds{{"a", 1}, {"a", 1}}}, "factory_ends[0].ends": {FactoryEnds: []FactoryEnds{{"a", 3}}}, "factory_ends": {FactoryEnds: make([]FactoryEnds, 1001)},
	} {
		_, err := Cut(pieces, stock, o)
		wantFault(t, err, field)
	}
}
