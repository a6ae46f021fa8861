package materials

import (
	"encoding/json"
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
