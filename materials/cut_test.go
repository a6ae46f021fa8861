package materials

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
)

func in(x float64) unit.Length { return unit.Length(x) * unit.Inch }
func mm(x float64) unit.Length { return unit.Length(x / 1000) }

func money(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// checkPlan recounts a plan from scratch: every board can be sawn, every piece
// is there once, and the sums are right.
func checkPlan(t *testing.T, pieces []Piece, stock []Stock, o CutOptions, plan CutPlan) {
	t.Helper()
	type key struct {
		section, use string
		ticks        int64
	}
	want := map[key]int{}
	for _, p := range pieces {
		n, _ := ticks(p.Length, true)
		want[key{p.Section, p.Use, n}] += p.Count
	}
	for _, p := range plan.Unstocked {
		n, _ := ticks(p.Length, true)
		want[key{p.Section, p.Use, n}] -= p.Count
	}
	kerf, _ := ticks(o.Kerf, true)
	trim, _ := ticks(o.Trim, true)
	cost := decimal.Zero
	used := map[string]int{}
	ends := map[string]int{}
	for _, e := range o.FactoryEnds {
		ends[e.Use] = e.Ends
	}
	cutEnds := map[string]int{}
	for _, s := range stock {
		n, _ := ticks(s.Length, false)
		cutEnds[fmt.Sprint(s.Section, n, s.Price)] = s.CutEnds
	}
	kept := map[Offcut]int{}
	longest := map[string]unit.Length{}
	patterns := map[string]map[string]bool{}
	for i, b := range plan.Boards {
		sum := trim
		pattern := map[string]int{}
		for j, p := range b.Pieces {
			n, _ := ticks(p.Length, true)
			pattern[fmt.Sprint(n, p.FactoryEnds)]++
			if p.FactoryEnds != ends[p.Use] {
				t.Errorf("board %d: %+v, want %d factory ends", i, p, ends[p.Use])
			}
			// The first end is the board's own unless it was sawn or is trimmed,
			// the far one unless both were sawn.
			l, _ := ticks(b.Stock, false)
			gone := cutEnds[fmt.Sprint(b.Section, l, b.Price)]
			have := 0
			if j == 0 && gone == 0 && trim == 0 {
				have++
			}
			if j == len(b.Pieces)-1 && gone < 2 && (b.FarEnd || b.whole) {
				have++
			}
			if have < p.FactoryEnds {
				t.Errorf("board %d, piece %d keeps %d factory ends: %+v", i, j, have, b)
			}
		}
		if patterns[b.Section] == nil {
			patterns[b.Section] = map[string]bool{}
		}
		patterns[b.Section][fmt.Sprint(b.Stock, b.Price, pattern)] = true
		if b.Offcut > longest[b.Section] {
			longest[b.Section] = b.Offcut
		}
		if o.KeepFrom > 0 && b.Offcut >= o.KeepFrom {
			kept[Offcut{Section: b.Section, Length: b.Offcut}] += b.Count
		}
		for j, p := range b.Pieces {
			n, _ := ticks(p.Length, true)
			want[key{b.Section, p.Use, n}] -= b.Count
			sum += n
			if j > 0 {
				sum += kerf
			}
		}
		l, _ := ticks(b.Stock, false)
		if sum > l || b.Count < 1 || len(b.Pieces) == 0 {
			t.Errorf("board %d cannot be cut: %+v", i, b)
		}
		off, _ := ticks(b.Offcut, true)
		if rest := l - sum - kerf; (rest > 0 && off != rest) || (rest <= 0 && off != 0) {
			t.Errorf("board %d: offcut %d, want %d", i, off, rest)
		}
		cost = cost.Add(b.Price.Mul(decimal.NewFromInt(int64(b.Count))))
		used[fmt.Sprint(b.Section, l, b.Price)] += b.Count
	}
	for i, k := range plan.Kept {
		if kept[Offcut{Section: k.Section, Length: k.Length}] -= k.Count; k.Count < 1 {
			t.Errorf("kept %d: %+v", i, k)
		}
	}
	for k, n := range kept {
		if n != 0 {
			t.Errorf("%d of %+v are not among the offcuts kept", n, k)
		}
	}
	for k, n := range want {
		if n != 0 {
			t.Errorf("%v: %d too few (or, negative, too many)", k, n)
		}
	}
	for _, s := range stock {
		l, _ := ticks(s.Length, false)
		if n := used[fmt.Sprint(s.Section, l, s.Price)]; s.Available > 0 && n > s.Available {
			t.Errorf("%d boards of %v, there are %d", n, s, s.Available)
		}
	}
	allPriced := true
	for _, g := range plan.Groups {
		allPriced = allPriced && g.Priced
		left := g.Bought - g.Used - g.Left
		if g.Patterns != len(patterns[g.Section]) || g.Longest != longest[g.Section] {
			t.Errorf("%s: %d patterns of %d, longest offcut %v of %v", g.Section, g.Patterns, len(patterns[g.Section]), g.Longest, longest[g.Section])
		}
		if left < -unit.Micrometer {
			t.Errorf("%s: more used and left than bought: %+v", g.Section, g)
		}
		if g.Bound.GreaterThan(g.Cost) || (g.Priced && g.Proven != g.Bound.Equal(g.Cost)) {
			t.Errorf("%s: cost %v, bound %v, proven %v", g.Section, g.Cost, g.Bound, g.Proven)
		}
	}
	if allPriced && !cost.Equal(plan.Cost) {
		t.Errorf("cost %v, the boards come to %v", plan.Cost, cost)
	}
}

// tryAll finds the least cost, and the fewest boards at it, by trying every
// board for the longest piece that is left. It knows nothing of the solver.
func tryAll(lengths []int64, need []int, stock []cutStock) (cost, boards int64, ok bool) {
	type answer struct {
		cost, boards int64
		ok           bool
	}
	memo := map[string]answer{}
	used := make([]int, len(stock))
	var rec func() answer
	rec = func() answer {
		top := -1
		for i, n := range need {
			if n > 0 {
				top = i
				break
			}
		}
		if top < 0 {
			return answer{ok: true}
		}
		k := fmt.Sprint(need, used)
		if a, done := memo[k]; done {
			return a
		}
		var best answer
		for t, s := range stock {
			if s.len < lengths[top] || (s.avail != 0 && used[t] == s.avail) {
				continue
			}
			used[t]++
			var fill func(i int, room int64)
			fill = func(i int, room int64) {
				if i == len(need) {
					if a := rec(); a.ok {
						c := answer{a.cost + s.cost, a.boards + 1, true}
						if !best.ok || c.cost < best.cost || (c.cost == best.cost && c.boards < best.boards) {
							best = c
						}
					}
					return
				}
				least := 0
				if i == top {
					least = 1
				}
				have := need[i]
				for n := least; n <= have && int64(n)*lengths[i] <= room; n++ {
					need[i] = have - n
					fill(i+1, room-int64(n)*lengths[i])
				}
				need[i] = have
			}
			fill(top, s.len)
			used[t]--
		}
		memo[k] = best
		return best
	}
	a := rec()
	return a.cost, a.boards, a.ok
}

func TestSolveEqualsTryingAll(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	limited, infeasible := 0, 0
	for n := 0; n < 400; n++ {
		p := &cutProblem{effort: DefaultEffort}
		var lengths []int64
		var need []int
		seen := map[int64]bool{}
		for i := 1 + r.IntN(4); i > 0; i-- {
			l := int64(10 + r.IntN(60))
			if seen[l] {
				continue
			}
			seen[l] = true
			p.items = append(p.items, cutItem{len: l, n: 1 + r.IntN(3), id: l})
		}
		sortItems(p)
		for _, it := range p.items {
			lengths = append(lengths, it.len)
			need = append(need, it.n)
		}
		for i := 1 + r.IntN(3); i > 0; i-- {
			l := int64(50 + r.IntN(100))
			s := cutStock{len: l, cost: int64(r.IntN(3)) + l/int64(4+r.IntN(3)), id: i}
			if r.IntN(4) == 0 {
				s.avail = 1 + r.IntN(3)
				limited++
			}
			if r.IntN(12) == 0 {
				s.cost = 0
				s.avail = 1
			}
			p.stocks = append(p.stocks, s)
		}
		cost, boards, ok := tryAll(lengths, need, p.stocks)
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
		if sol.cost != cost || !sol.proven || sol.bound != cost {
			t.Errorf("case %d: %d (bound %d, proven %v), want %d: %+v", n, sol.cost, sol.bound, sol.proven, cost, p)
		}
		if sol.fewest && got != boards {
			t.Errorf("case %d: %d boards, want %d: %+v", n, got, boards, p)
		}
		if !sol.fewest {
			t.Errorf("case %d: fewest boards not proven: %+v", n, p)
		}
	}
	if limited < 50 || infeasible < 5 {
		t.Errorf("only %d limited and %d infeasible cases", limited, infeasible)
	}
}

// Least cost one above the rounded-up relaxation: two 44, three 33 and six 12
// on bars of 132 sum to 259 < 2 × 132, and the relaxation over unlimited
// patterns is 2/3 + 3/4 + 6/11 = 1.96, yet three bars are needed (a published
// kind of instance; checked here by trying all). Adding whole bars of one
// length keeps the gap.
func TestSolveAboveRoundedBound(t *testing.T) {
	for _, more := range [][3]int{{0, 0, 0}, {3, 0, 0}, {3, 4, 0}, {0, 4, 11}, {3, 4, 11}} {
		lengths, need := []int64{44, 33, 12}, []int{2 + more[0], 3 + more[1], 6 + more[2]}
		p := &cutProblem{effort: DefaultEffort, stocks: []cutStock{{len: 132, cost: 1}}}
		for i, l := range lengths {
			p.items = append(p.items, cutItem{len: l, n: need[i], id: l})
		}
		cost, _, _ := tryAll(lengths, need, p.stocks)
		sol := p.solve()
		if sol.cost != cost || !sol.proven {
			t.Errorf("%v: %d (bound %d, proven %v), want %d", need, sol.cost, sol.bound, sol.proven, cost)
		}
		if more == [3]int{} && cost != 3 {
			t.Errorf("trying all gives %d bars, published is 3", cost)
		}
	}
}

// Triplets: three pieces fill each bar exactly, so the optimum is a third of
// their number and any waste is wrong.
func TestSolveTriplets(t *testing.T) {
	for _, n := range []int{60, 120, 249} {
		r := rand.New(rand.NewPCG(3, uint64(n)))
		p := &cutProblem{effort: DefaultEffort, stocks: []cutStock{{len: 1000, cost: 1}}}
		need := map[int64]int{}
		for i := 0; i < n/3; i++ {
			a := 380 + r.Int64N(110)
			b := 250 + r.Int64N((1000-a)/2-250+1)
			need[a]++
			need[b]++
			need[1000-a-b]++
		}
		for l, c := range need {
			p.items = append(p.items, cutItem{len: l, n: c, id: l})
		}
		sortItems(p)
		sol := p.solve()
		if sol.cost != int64(n/3) || !sol.proven {
			t.Errorf("%d: %d (bound %d, proven %v), want %d", n, sol.cost, sol.bound, sol.proven, n/3)
		}
	}
}

// The kerf is exact: n pieces take n-1 kerfs. timber.md C-8 and C-9 worked by
// hand: 3 × 31 7/8 + 2 × 1/8 = 95 7/8 in fits 96 in; 3 × 31 15/16 + 1/4 does
// not; two of 48 in do not.
func TestCutKerf(t *testing.T) {
	stock := []Stock{{Section: "6x6", Length: in(96), Price: money("20")}}
	for _, c := range []struct {
		length unit.Length
		count  int
		kerf   unit.Length
		boards int
		offcut unit.Length
	}{
		{in(31.875), 3, in(0.125), 1, 0},
		{in(31.9375), 3, in(0.125), 2, 0},
		{in(48), 2, in(0.125), 2, 0},
		{in(48), 2, 0, 1, 0},
		{in(47.9375), 2, in(0.125), 1, 0},
		{in(30), 3, in(0.125), 1, in(96 - 90 - 3*0.125)},
		{in(96), 1, in(0.125), 1, 0},
		// 95.75/3 in is off every scale: 31 11/12.
		{in(95.75 / 3), 3, in(0.125), 1, 0},
	} {
		pieces := []Piece{{Section: "6x6", Length: c.length, Count: c.count, Use: ItemRiserTimber}}
		o := CutOptions{Kerf: c.kerf}
		plan, err := Cut(pieces, stock, o)
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, pieces, stock, o, plan)
		if plan.Groups[0].Boards != c.boards {
			t.Errorf("%d of %v: %d boards, want %d", c.count, c.length, plan.Groups[0].Boards, c.boards)
		}
		if c.boards == 1 && c.offcut != 0 && !near(plan.Boards[0].Offcut.Meters(), c.offcut.Meters(), 1e-9) {
			t.Errorf("%d of %v: offcut %v, want %v", c.count, c.length, plan.Boards[0].Offcut, c.offcut)
		}
	}
}

func near(a, b, tol float64) bool { return a-b <= tol && b-a <= tol }

// Booher 2014, a landscape-timber wall: the author gives about 58 dollars as
// the least; 57.84 is one 12 ft and one 8 ft (textbook.json).
func TestCutLandscapeTimbers(t *testing.T) {
	pieces := []Piece{{"6x6", in(48.875), 1, "a"}, {"6x6", in(44.5), 3, "b"}, {"6x6", in(43.125), 1, "c"}}
	stock := []Stock{
		{Section: "6x6", Length: in(96), Price: money("20.57")},
		{Section: "6x6", Length: in(120), Price: money("29.97")},
		{Section: "6x6", Length: in(144), Price: money("37.27")},
	}
	o := CutOptions{Kerf: in(0.125)}
	plan, err := Cut(pieces, stock, o)
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, pieces, stock, o, plan)
	if !plan.Cost.Equal(money("57.84")) || !plan.Proven {
		t.Errorf("cost %v, proven %v, want 57.84", plan.Cost, plan.Proven)
	}
}

// randomCut makes a case of the trade: several sections, priced lengths, some
// offcuts on hand.
func randomCut(r *rand.Rand) ([]Piece, []Stock, CutOptions) {
	var pieces []Piece
	var stock []Stock
	for s := 0; s < 1+r.IntN(4); s++ {
		name := []string{"4x4", "6x6", "2x10", "no4-bar"}[s]
		for i := 1 + r.IntN(8); i > 0; i-- {
			pieces = append(pieces, Piece{Section: name, Length: in(float64(96+r.IntN(96*14)) / 16), Count: 1 + r.IntN(6), Use: []string{"riser-timber", "side-timber"}[r.IntN(2)]})
		}
		if r.IntN(9) == 0 {
			continue // nothing in stock
		}
		for _, ft := range []float64{8, 10, 12, 16} {
			if ft > 8 && r.IntN(3) == 0 {
				continue
			}
			stock = append(stock, Stock{Section: name, Length: in(12 * ft), Price: decimal.New(int64(ft)*150+r.Int64N(200), -2)})
		}
		if r.IntN(2) == 0 {
			stock = append(stock, Stock{Section: name, Length: in(float64(20 + r.IntN(70))), Available: 1 + r.IntN(2), CutEnds: r.IntN(3)})
		}
	}
	o := CutOptions{Kerf: in(0.125), Trim: in(float64(r.IntN(2)) / 4)}
	if r.IntN(3) == 0 {
		o.FactoryEnds = []FactoryEnds{{"side-timber", 1}}
	}
	if r.IntN(2) == 0 {
		o.KeepFrom = in(float64(10 + r.IntN(20)))
	}
	if r.IntN(4) == 0 {
		o.Then = FewestPatterns
	}
	return pieces, stock, o
}

func TestCutProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 4))
	for n := 0; n < 150; n++ {
		pieces, stock, o := randomCut(r)
		plan, err := Cut(pieces, stock, o)
		if err != nil {
			t.Fatalf("case %d: %v", n, err)
		}
		checkPlan(t, pieces, stock, o, plan)
		if !plan.Proven {
			t.Errorf("case %d: not proven: %+v", n, plan.Groups)
		}
		again, _ := Cut(pieces, stock, o)
		if !reflect.DeepEqual(plan, again) {
			t.Errorf("case %d: the same input gave another plan", n)
		}
		// A dearer world costs no less, a kerf of nothing no more.
		o.Kerf = 0
		if free, err := Cut(pieces, stock, o); err != nil || free.Cost.GreaterThan(plan.Cost) {
			t.Errorf("case %d: without kerf %v, with %v (%v)", n, free.Cost, plan.Cost, err)
		}
	}
}

func TestCutUnpriced(t *testing.T) {
	pieces := []Piece{{"6x6", in(60), 2, "a"}, {"6x6", in(40), 2, "b"}}
	stock := []Stock{{Section: "6x6", Length: in(96), Unpriced: true}, {Section: "6x6", Length: in(120), Unpriced: true}}
	plan, err := Cut(pieces, stock, CutOptions{})
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, pieces, stock, CutOptions{}, plan)
	g := plan.Groups[0]
	// 60+60 on 120 and 40+40 on 96 is 216 in; 60+40 twice needs 240.
	if g.Priced || !near(g.Bought.Meters(), in(216).Meters(), 1e-9) || !near(g.Least.Meters(), g.Bought.Meters(), 1e-6) || len(plan.Notes) != 1 {
		t.Errorf("%+v %v", g, plan.Notes)
	}
	// One price is enough where that length will do.
	stock[1].Unpriced, stock[1].Price = false, money("11")
	plan, err = Cut(pieces, stock, CutOptions{})
	if err != nil || !plan.Cost.Equal(money("22")) || len(plan.Notes) != 1 || !strings.Contains(plan.Notes[0].Says, "passed over") {
		t.Errorf("%v %v %v", plan.Cost, plan.Notes, err)
	}
	// It will not do for the longer pieces alone.
	stock[0].Unpriced, stock[0].Price = false, money("9")
	stock[1].Unpriced = true
	pieces = append(pieces, Piece{"6x6", in(110), 1, "c"})
	plan, err = Cut(pieces, stock, CutOptions{})
	if err != nil || plan.Groups[0].Priced || !plan.Cost.IsZero() {
		t.Errorf("%v %+v %v", plan.Cost, plan.Groups, err)
	}
}

func TestCutOffcutsOnHandFirst(t *testing.T) {
	pieces := []Piece{{"6x6", in(30), 3, "a"}}
	stock := []Stock{{Section: "6x6", Length: in(96), Price: money("20")}, {Section: "6x6", Length: in(31), Available: 3}}
	plan, err := Cut(pieces, stock, CutOptions{Kerf: in(0.125)})
	if err != nil || !plan.Cost.IsZero() || plan.Groups[0].Boards != 3 {
		t.Errorf("%+v %v", plan, err)
	}
	stock[1].Available = 2
	plan, err = Cut(pieces, stock, CutOptions{Kerf: in(0.125)})
	// One board must be bought, and it takes all three.
	if err != nil || !plan.Cost.Equal(money("20")) || plan.Groups[0].Boards != 1 || !plan.Groups[0].FewestBoards {
		t.Errorf("%+v %v", plan, err)
	}
}

// What is left over comes in one piece where it can: 40+40 and 30 on two
// boards of 100 leave 20 and 70, not 60 and 30.
func TestCutGathersOffcuts(t *testing.T) {
	p := &cutProblem{items: []cutItem{{len: 40, n: 2}, {len: 30, n: 1}}, stocks: []cutStock{{len: 100, cost: 1}}}
	sol := &cutSolution{cuts: []cut{{0, []itemCount{{0, 1}, {1, 1}}, 1}, {0, []itemCount{{0, 1}}, 1}}}
	sol.tidy(p)
	longest := int64(0)
	have := make([]int, 2)
	for _, c := range sol.cuts {
		spare := int64(100)
		for _, ic := range c.items {
			spare -= int64(ic.n) * p.items[ic.item].len
			have[ic.item] += ic.n * c.times
		}
		if spare > longest {
			longest = spare
		}
	}
	if longest != 70 || have[0] != 2 || have[1] != 1 {
		t.Errorf("longest offcut %d, pieces %v, want 70, [2 1]", longest, have)
	}
}

func TestCutFaults(t *testing.T) {
	ok := []Piece{{"6x6", in(40), 2, "a"}}
	stock := []Stock{{Section: "6x6", Length: in(96), Price: money("20")}}
	nan := unit.Length(0)
	nan /= nan
	for _, c := range []struct {
		name   string
		pieces []Piece
		stock  []Stock
		o      CutOptions
		field  string
	}{
		{"too long", []Piece{{"6x6", in(97), 1, ""}}, stock, CutOptions{}, "pieces[0].length"},
		{"too long once trimmed", []Piece{{"6x6", in(96), 1, ""}}, stock, CutOptions{Trim: in(0.25)}, "pieces[0].length"},
		{"no length", []Piece{{"6x6", 0, 1, ""}}, stock, CutOptions{}, "pieces[0].length"},
		{"not a number", []Piece{{"6x6", nan, 1, ""}}, stock, CutOptions{}, "pieces[0].length"},
		{"negative count", []Piece{{"6x6", in(40), -1, ""}}, stock, CutOptions{}, "pieces[0].count"},
		{"no section", []Piece{{"", in(40), 1, ""}}, stock, CutOptions{}, "pieces[0].section"},
		{"huge count", []Piece{{"6x6", in(40), 1 << 40, ""}}, stock, CutOptions{}, "pieces[0].count"},
		{"too many in all", []Piece{{"6x6", in(40), 600_000, ""}, {"6x6", in(41), 600_000, ""}}, stock, CutOptions{}, "pieces"},
		{"twice", ok, append(stock, stock[0]), CutOptions{}, "stock[1].length"},
		{"unknown section", ok, append(stock, Stock{Section: "7x6", Length: in(96)}), CutOptions{}, "stock[1].section"},
		{"negative price", ok, []Stock{{Section: "6x6", Length: in(96), Price: money("-1")}}, CutOptions{}, "stock[0].price"},
		{"absurd price", ok, []Stock{{Section: "6x6", Length: in(96), Price: decimal.New(1, 2_000_000_000)}}, CutOptions{}, "stock[0].price"},
		{"price too fine", ok, []Stock{{Section: "6x6", Length: in(96), Price: decimal.New(1, -2_000_000_000)}}, CutOptions{}, "stock[0].price"},
		{"no stock length", ok, []Stock{{Section: "6x6"}}, CutOptions{}, "stock[0].length"},
		{"negative kerf", ok, stock, CutOptions{Kerf: -in(1)}, "kerf"},
		{"vast trim", ok, stock, CutOptions{Trim: in(20)}, "trim"},
		{"not enough", []Piece{{"6x6", in(90), 3, ""}}, []Stock{{Section: "6x6", Length: in(96), Price: money("20"), Available: 2}}, CutOptions{}, "stock"},
	} {
		_, err := Cut(c.pieces, c.stock, c.o)
		var faults Faults
		if !errors.As(err, &faults) || len(faults) == 0 || faults[0].Field != c.field {
			t.Errorf("%s: %v, want a fault in %s", c.name, err, c.field)
		}
	}
	plan, err := Cut([]Piece{{"no4-bar", in(24), 6, "pin"}, {"6x6", in(24), 1, ""}}, stock, CutOptions{})
	if err != nil || len(plan.Unstocked) != 1 || plan.Unstocked[0].Count != 6 {
		t.Errorf("pieces without stock: %+v %v", plan.Unstocked, err)
	}
	if plan, err := Cut(nil, nil, CutOptions{}); err != nil || !plan.Proven || !plan.Cost.IsZero() {
		t.Errorf("nothing to cut: %+v %v", plan, err)
	}
}

// Very many pieces end in bounded time, with a plan, a bound and no claim.
func TestCutBounded(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	var pieces []Piece
	for i := 0; i < MaxPieceEntries; i++ {
		pieces = append(pieces, Piece{"6x6", unit.Length(0.2 + r.Float64()*4), 1, "a"})
	}
	var stock []Stock
	for i := 0; i < MaxStockLengths; i++ {
		stock = append(stock, Stock{Section: "6x6", Length: mm(float64(4200 + 20*i)), Price: decimal.New(int64(1000+5*i+r.IntN(9)), -2)})
	}
	o := CutOptions{Kerf: mm(3)}
	plan, err := Cut(pieces, stock, o)
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, pieces, stock, o, plan)
	if g := plan.Groups[0]; g.Bound.IsZero() || g.Bound.LessThan(g.Cost.Mul(money("0.9"))) {
		t.Errorf("bound %v, cost %v", g.Bound, g.Cost)
	}
	// The same with a hundred lengths wanted by the thousand.
	pieces = pieces[:200]
	for i := range pieces {
		pieces[i].Count = 4000
	}
	plan, err = Cut(pieces, stock, o)
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, pieces, stock, o, plan)
}

// randomProblem is small enough for tryAll, with many ways to fill a board.
func randomProblem(r *rand.Rand) (p *cutProblem, lengths []int64, need []int) {
	p = &cutProblem{effort: DefaultEffort}
	seen := map[int64]bool{}
	for i := 3 + r.IntN(2); i > 0; i-- {
		if l := int64(14 + r.IntN(40)); !seen[l] {
			seen[l] = true
			p.items = append(p.items, cutItem{len: l, n: 1 + r.IntN(4), id: l})
		}
	}
	sortItems(p)
	for _, it := range p.items {
		lengths = append(lengths, it.len)
		need = append(need, it.n)
	}
	for i := 1 + r.IntN(3); i > 0; i-- {
		l := int64(60 + r.IntN(70))
		s := cutStock{len: l, cost: l + int64(r.IntN(9)), id: i}
		if r.IntN(5) == 0 {
			s.avail = 1 + r.IntN(3)
		}
		p.stocks = append(p.stocks, s)
	}
	return
}

// Each road to the optimum alone ends at the same cost, without a plan to start
// from: the relaxation over all patterns and over those that are made as they are
// wanted, purchases searched board by board, with the relaxation at each step and
// without, and dives. What a measure puts out cannot be cut.
func TestSolveByEachRoad(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 3))
	listed, dived, out := 0, 0, 0
	for n := 0; n < 400; n++ {
		p, lengths, need := randomProblem(r)
		cost, _, ok := tryAll(lengths, need, p.stocks)
		if !ok {
			continue
		}
		var costs []int64
		limited := false
		for _, s := range p.stocks {
			costs = append(costs, s.cost)
			limited = limited || s.avail != 0
		}
		for road := 0; road < 5; road++ {
			s := newSolver(p, costs, DefaultEffort)
			s.setUnit()
			b := &buyer{s: s, need: p.need(), walk: mostWalk, order: s.useful}
			b.relax([]int{maxListed, 0}[road%2])
			b.measures = append(b.measures, p.byLength())
			if b.low > cost {
				t.Errorf("case %d: the relaxation gives %d, the least cost is %d", n, b.low, cost)
			}
			list, ok := b.purchases(b.low, cost)
			if !ok {
				t.Fatalf("case %d: too many purchases", n)
			}
			b.high, b.limit = cost, maxListed
			for i := range list {
				x := &list[i]
				short := road != 3 && b.short(b.need, x.n)
				if b.holds(x) == short && short {
					t.Errorf("case %d: %v is put out by no measure", n, x)
				}
				if short {
					out++
				}
				switch road {
				case 0, 1:
					b.search(x, deepSteps, nil)
				case 2:
					b.search(x, deepSteps, b.short)
				case 3:
					if !b.search(x, deepSteps, nil) {
						t.Errorf("case %d: the search was not finished", n)
					}
				case 4:
					for turn := 0; turn < maxDives && s.bestCost > x.cost; turn++ {
						b.dive(turn, x.cost, x)
					}
					if s.bestCost == cost {
						dived++
					}
				}
				// Where boards are limited a shorter one for as much stands for another.
				if short && s.bestCost <= x.cost && !limited {
					t.Errorf("case %d: %v is put out and can be cut", n, x)
				}
				if s.bestCost <= x.cost {
					break
				}
			}
			if s.bestCost != cost && road != 4 {
				t.Errorf("case %d, road %d: %d, want %d", n, road, s.bestCost, cost)
			}
			listed += len(list)
		}
	}
	if listed < 1000 || dived < 100 || out < 50 {
		t.Errorf("hardly tried: %d purchases, %d out, %d found by dives", listed, out, dived)
	}
}

// The bound never passes the least cost, however early the search ends.
func TestSolveStoppedEarly(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	open := 0
	for n := 0; n < 300; n++ {
		p, lengths, need := randomProblem(r)
		cost, _, ok := tryAll(lengths, need, p.stocks)
		if !ok {
			continue
		}
		p.effort = int64(1 + r.IntN(60))
		sol := p.solve()
		if sol == nil {
			continue
		}
		if sol.bound > cost || sol.cost < cost || sol.proven != (sol.bound == sol.cost) {
			t.Errorf("case %d, effort %d: %d, bound %d, proven %v, the least is %d", n, p.effort, sol.cost, sol.bound, sol.proven, cost)
		}
		if !sol.proven {
			open++
		}
	}
	if open < 10 {
		t.Errorf("only %d were left open", open)
	}
}

// Boards that are cut alike are one line, in however many entries their pieces came.
func TestCutCountsAlikeBoardsTogether(t *testing.T) {
	var pieces []Piece
	for range 3 {
		pieces = append(pieces, Piece{Section: "6x6", Length: 4 * unit.Foot, Count: 4, Use: "side-timber"}, Piece{Section: "6x6", Length: 2 * unit.Foot, Count: 2, Use: "riser-timber"})
	}
	plan, err := Cut(pieces, []Stock{{Section: "6x6", Length: 10*unit.Foot + unit.Inch, Price: decimal.NewFromInt(30)}}, CutOptions{Kerf: unit.Inch / 8})
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Boards) != 1 || plan.Boards[0].Count != 6 || len(plan.Boards[0].Pieces) != 3 {
		t.Errorf("%+v", plan.Boards)
	}
}
