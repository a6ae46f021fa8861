package materials

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"
)

type pricedInstance struct {
	ID    string
	Kerf  int64
	Stock []struct {
		Len   int64
		Price int64 `json:"price_cents"`
	}
	Pieces []struct {
		Len int64
		N   int
	}
	Optimum int64 `json:"optimum_cents"`
}

func (in pricedInstance) problem() *cutProblem {
	p := &cutProblem{effort: DefaultEffort}
	for _, x := range in.Pieces {
		p.items = append(p.items, cutItem{len: x.Len + in.Kerf, n: x.N, id: x.Len})
	}
	sortItems(p)
	for i, x := range in.Stock {
		p.stocks = append(p.stocks, cutStock{len: x.Len + in.Kerf, cost: x.Price, id: i})
	}
	return p
}

type pricedFile struct{ Instances []pricedInstance }

func readPriced(t testing.TB) (f pricedFile) {
	t.Helper()
	data, err := os.ReadFile("../testdata/materials/priced.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

// checkSolution recounts a solution: what it cuts, what it costs.
func checkSolution(t *testing.T, id string, p *cutProblem, sol *cutSolution, optimum int64) {
	t.Helper()
	if sol == nil {
		t.Errorf("%s: no plan", id)
		return
	}
	cost := int64(0)
	have := make([]int, len(p.items))
	for _, c := range sol.cuts {
		cost += p.stocks[c.stock].cost * int64(c.times)
		room := p.stocks[c.stock].len
		for _, ic := range c.items {
			have[ic.item] += ic.n * c.times
			room -= int64(ic.n) * p.items[ic.item].len
		}
		if room < 0 {
			t.Errorf("%s: a board holds too much", id)
		}
	}
	for i, it := range p.items {
		if have[i] != it.n {
			t.Errorf("%s: %d of length %d, want %d", id, have[i], it.len, it.n)
		}
	}
	if cost != sol.cost || cost != optimum || sol.bound != optimum || !sol.proven {
		t.Errorf("%s: %d (boards come to %d), bound %d, proven %v, want %d", id, sol.cost, cost, sol.bound, sol.proven, optimum)
	}
}

// The 24 priced problems, their optima proved by two other models (see the
// file's own note).
func TestSolvePriced(t *testing.T) {
	list := readPriced(t).Instances
	if len(list) != 24 {
		t.Fatalf("%d problems", len(list))
	}
	for _, in := range list {
		p := in.problem()
		checkSolution(t, in.ID, p, p.solve(), in.Optimum)
	}
}

// Seven worked examples of textbooks, with their sources in the file.
func TestSolveTextbook(t *testing.T) {
	var list []struct {
		ID    string
		Stock []struct{ Len, Cost int64 }
		// Each piece is its length and how many.
		Pieces  [][2]int64
		Kerf    int64
		Optimum int64
	}
	data, err := os.ReadFile("../testdata/materials/textbook.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &list); err != nil {
		t.Fatal(err)
	}
	if len(list) != 7 {
		t.Fatalf("%d problems", len(list))
	}
	for _, in := range list {
		p := &cutProblem{effort: DefaultEffort}
		for _, x := range in.Pieces {
			p.items = append(p.items, cutItem{len: x[0] + in.Kerf, n: int(x[1]), id: x[0]})
		}
		sortItems(p)
		for i, x := range in.Stock {
			p.stocks = append(p.stocks, cutStock{len: x.Len + in.Kerf, cost: x.Cost, id: i})
		}
		checkSolution(t, in.ID, p, p.solve(), in.Optimum)
	}
}

// binOptima are the optima of Falkenauer's uniform class (1996); the data are
// public and stay out of the repository.
var binOptima = map[string][]int64{
	"u120": {48, 49, 46, 49, 50, 48, 48, 49, 50, 46, 52, 49, 48, 49, 50, 48, 52, 52, 49, 49},
	"u250": {99, 100, 102, 100, 101, 101, 102, 103, 105, 101, 105, 101, 105, 103, 100, 105, 97, 100, 100, 102},
}

func TestSolveFalkenauer(t *testing.T) {
	for _, name := range []string{"u120", "u250"} {
		t.Run(name, func(t *testing.T) {
			f, err := os.Open("../../shared/reference/cutting/" + name + ".txt")
			if err != nil {
				t.Skip("the public problems u120 and u250 are not here")
			}
			defer f.Close()
			var n int
			fmt.Fscan(f, &n)
			for i := 0; i < n; i++ {
				var id string
				var capacity float64
				var items, bins int
				fmt.Fscan(f, &id, &capacity, &items, &bins)
				need := map[int64]int{}
				for j := 0; j < items; j++ {
					var l float64
					fmt.Fscan(f, &l)
					need[int64(l)]++
				}
				p := &cutProblem{effort: DefaultEffort, stocks: []cutStock{{len: int64(capacity), cost: 1}}}
				for l, c := range need {
					p.items = append(p.items, cutItem{len: l, n: c, id: l})
				}
				sortItems(p)
				checkSolution(t, id, p, p.solve(), binOptima[name][i])
			}
		})
	}
}
