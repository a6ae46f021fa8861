package materials
import ("testing";"time";"math/rand/v2";"sort")
func tradeCase(r *rand.Rand) *cutProblem {
	p := &cutProblem{effort: DefaultEffort}
	ft := []int64{8,10,12,14,16,20}
	n := 3 + r.IntN(4)
	r.Shuffle(6, func(i,j int){ft[i],ft[j]=ft[j],ft[i]})
	ft = ft[:n]
	for i, f := range ft {
		price := f*(150+int64(r.IntN(40)))
		if r.IntN(2)==0 { price = price/100*100+49 }
		p.stocks = append(p.stocks, cutStock{len: f*192+2, cost: price, id: i})
	}
	m := 2 + r.IntN(12)
	seen := map[int64]bool{}
	for i:=0;i<m;i++ {
		l := int64(16*(10+r.IntN(80)) + r.IntN(16)*r.IntN(2)) + 2
		if seen[l] {continue}; seen[l]=true
		p.items = append(p.items, cutItem{len:l, n: 1+r.IntN(10), id:l})
	}
	sortItems(p)
	return p
}
func TestDbg(t *testing.T) {
	r := rand.New(rand.NewPCG(1,2))
	var ds []float64
	bad := 0
	for i:=0;i<400;i++ {
		p := tradeCase(r)
		t0 := time.Now()
		sol := p.solve()
		d := time.Since(t0)
		ds = append(ds, d.Seconds()*1e3)
		pc := 0
		for _, it := range p.items { pc += it.n }
		if sol != nil && !sol.proven { bad++ }
		if sol == nil || !sol.proven || d > 40*time.Millisecond { t.Log(i, len(p.items), pc, len(p.stocks), sol != nil && sol.proven, sol.cost, sol.bound, sol.fewest, d) }
	}
	sort.Float64s(ds)
	t.Log("median", ds[200], "p90", ds[360], "p99", ds[396], "max", ds[399], "bad", bad)
}
func TestDbg2(t *testing.T) {
	r := rand.New(rand.NewPCG(1,2))
	for i:=0;i<400;i++ {
		p := tradeCase(r)
		if i != 169 && i != 191 && i != 118 && i != 380 { continue }
		g := int64(0)
		for _, s := range p.stocks { g = gcd(g, s.cost) }
		c := make([]int64, len(p.stocks))
		for i, s := range p.stocks { c[i] = s.cost / g }
		s := newSolver(p, c, p.effort)
		t0 := time.Now()
		b := s.search()
		t1 := time.Now()
		sol := &cutSolution{cuts: s.best, cost: s.bestCost * g, proven:true}
		p.fewerBoards(sol, c)
		t.Log(i, "items", len(p.items), "stocks", len(s.useful), "g", g, "cols", len(s.cols), "nodes", s.nodes, "best", s.bestCost, "bound", b, "effort", p.effort-s.effort, t1.Sub(t0), "fewest", sol.fewest, time.Since(t1))
	}
}
