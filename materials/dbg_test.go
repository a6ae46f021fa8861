package materials
import ("testing";"time")
func TestDbg(t *testing.T) {
	p := &cutProblem{effort: DefaultEffort}
	for _, x := range [][2]int64{{10,1},{14,1},{17,1},{19,2},{24,1},{29,1},{32,1},{33,1},{36,1},{38,1},{40,1},{50,1},{54,1},{55,1},{63,1},{66,1},{71,1},{77,2},{79,1},{83,1},{92,1},{95,1},{99,1}} {
		p.items = append(p.items, cutItem{len:x[0], n:int(x[1]), id:x[0]})
	}
	sortItems(p)
	p.stocks = []cutStock{{100,100,0,0},{120,120,0,1},{150,150,0,2}}
	c := []int64{10,12,15}
	t0 := time.Now()
		s := newSolver(p, c, p.effort)
		b := s.search()
		t.Log("items", len(p.items), "stocks", len(s.useful), "cols", len(s.cols), "nodes", s.nodes, "best", s.bestCost, "bound", b, "effort", p.effort-s.effort, time.Since(t0))
	sol := &cutSolution{cuts: s.best, cost: s.bestCost * 10, proven:true}
	t0 = time.Now()
		p.fewerBoards(sol, c)
	t.Log(sol.fewest, time.Since(t0))
	for _, in := range readPriced(t).Instances {
		p := &cutProblem{effort: DefaultEffort}
		for _, x := range in.Pieces {
			p.items = append(p.items, cutItem{len: x.Len + in.Kerf, n: x.N, id: x.Len})
		}
		for i, x := range in.Stock {
			p.stocks = append(p.stocks, cutStock{len: x.Len + in.Kerf, cost: x.Price, id: i})
		}
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
		t.Log(in.ID, "items", len(p.items), "stocks", len(s.useful), "g", g, "cols", len(s.cols), "nodes", s.nodes, "best", s.bestCost, "bound", b, "effort", p.effort-s.effort, t1.Sub(t0), "fewest", sol.fewest, time.Since(t1))
	}
}
