package materials

import (
	"math/rand/v2"
	"testing"
)

// tradeProblem is the timber of one section for a path: 2 to 13 lengths, up to
// about 120 pieces, 3 to 6 stock lengths priced a little unevenly by the foot.
func tradeProblem(r *rand.Rand) *cutProblem {
	p := &cutProblem{effort: DefaultEffort}
	feet := []int64{8, 10, 12, 14, 16, 20}
	r.Shuffle(len(feet), func(i, j int) { feet[i], feet[j] = feet[j], feet[i] })
	for i, f := range feet[:3+r.IntN(4)] {
		price := f * (150 + r.Int64N(40))
		if r.IntN(2) == 0 {
			price = price/100*100 + 49
		}
		p.stocks = append(p.stocks, cutStock{len: f*192 + 2, cost: price, id: i})
	}
	seen := map[int64]bool{}
	for i := 2 + r.IntN(12); i > 0; i-- {
		l := int64(16*(10+r.IntN(80))+r.IntN(16)*r.IntN(2)) + 2
		if !seen[l] {
			seen[l] = true
			p.items = append(p.items, cutItem{len: l, n: 1 + r.IntN(10), id: l})
		}
	}
	sortItems(p)
	return p
}

// Problems of the trade are proved within the default effort.
func TestSolveTrade(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for n := 0; n < 120; n++ {
		p := tradeProblem(r)
		sol := p.solve()
		if sol == nil || !sol.proven || sol.cost != sol.bound {
			t.Errorf("case %d: not proven: %+v", n, sol)
		}
	}
}

func BenchmarkSolveTrade(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	var list []*cutProblem
	for n := 0; n < 100; n++ {
		list = append(list, tradeProblem(r))
	}
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		list[i%len(list)].solve()
	}
}

func BenchmarkSolvePriced(b *testing.B) {
	var list []*cutProblem
	for _, in := range readPriced(b).Instances {
		list = append(list, in.problem())
	}
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		list[i%len(list)].solve()
	}
}

func BenchmarkTakeOff(b *testing.B) {
	d := DefaultBoxDetail()
	boxes := make([]Box, 30)
	for i := range boxes {
		boxes[i] = Box{Number: i + 1, Riser: in(6), Tread: in(40), Width: in(48)}
	}
	for i := 0; i < b.N; i++ {
		if _, err := TakeOff(boxes, d); err != nil {
			b.Fatal(err)
		}
	}
}
