package materials

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"
	"time"
)

type pricedFile struct {
	Instances []struct {
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
}

func readPriced(t testing.TB) pricedFile {
	t.Helper()
	var f pricedFile
	data, err := os.ReadFile("../testdata/materials/priced.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &f); err != nil {
		t.Fatal(err)
	}
	return f
}

func TestSolvePriced(t *testing.T) {
	for _, in := range readPriced(t).Instances {
		p := &cutProblem{effort: DefaultEffort}
		for _, x := range in.Pieces {
			p.items = append(p.items, cutItem{len: x.Len + in.Kerf, n: x.N, id: x.Len})
		}
		for i, x := range in.Stock {
			p.stocks = append(p.stocks, cutStock{len: x.Len + in.Kerf, cost: x.Price, id: i})
		}
		t0 := time.Now()
		sol := p.solve()
		t.Logf("%s: %d bound %d proven %v fewest %v, want %d, %v", in.ID, sol.cost, sol.bound, sol.proven, sol.fewest, in.Optimum, time.Since(t0))
		if sol.cost != in.Optimum || !sol.proven {
			t.Errorf("%s: %d (bound %d, proven %v), want %d", in.ID, sol.cost, sol.bound, sol.proven, in.Optimum)
		}
	}
}

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
	for _, in := range list {
		p := &cutProblem{effort: DefaultEffort}
		for _, x := range in.Pieces {
			p.items = append(p.items, cutItem{len: x[0] + in.Kerf, n: int(x[1]), id: x[0]})
		}
		sortItems(p)
		for i, x := range in.Stock {
			p.stocks = append(p.stocks, cutStock{len: x.Len + in.Kerf, cost: x.Cost, id: i})
		}
		t0 := time.Now()
		sol := p.solve()
		t.Logf("%s: %d bound %d proven %v, want %d, %v", in.ID, sol.cost, sol.bound, sol.proven, in.Optimum, time.Since(t0))
		if sol.cost != in.Optimum || !sol.proven {
			t.Errorf("%s: %d (bound %d, proven %v), want %d", in.ID, sol.cost, sol.bound, sol.proven, in.Optimum)
		}
	}
}

var binOptima = map[string][]int64{
	"u120": {48, 49, 46, 49, 50, 48, 48, 49, 50, 46, 52, 49, 48, 49, 50, 48, 52, 52, 49, 49},
	"u250": {99, 100, 102, 100, 101, 101, 102, 103, 105, 101, 105, 101, 105, 103, 100, 105, 97, 100, 100, 102},
}

func TestSolveFalkenauer(t *testing.T) {
	for name, optima := range binOptima {
		f, err := os.Open("../../shared/reference/cutting/" + name + ".txt")
		if err != nil {
			t.Skip("the public instances u120 and u250 are not here")
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
			p := &cutProblem{effort: DefaultEffort}
			for l, c := range need {
				p.items = append(p.items, cutItem{len: l, n: c, id: l})
			}
			sortItems(p)
			p.stocks = []cutStock{{len: int64(capacity), cost: 1}}
			t0 := time.Now()
			sol := p.solve()
			t.Logf("%s: %d bound %d proven %v, want %d, %v", id, sol.cost, sol.bound, sol.proven, optima[i], time.Since(t0))
			if sol.cost != optima[i] || !sol.proven {
				t.Errorf("%s: %d (bound %d, proven %v), want %d", id, sol.cost, sol.bound, sol.proven, optima[i])
			}
		}
	}
}
