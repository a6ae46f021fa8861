package earthwork

import (
	"encoding/json"
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/martinlindhe/unit"
)

// plain is a soil that keeps its volume.
var plain = func() Soil {
	s, _ := SoilByID("loam")
	s.Swell.Value, s.Shrink.Value = 0, 0
	return s
}()

func TestPublishedMeanHaul(t *testing.T) {
	var v struct {
		About string
		Means []struct {
			ID, Source         string
			Volumes, Distances []float64
			Sum, Mean, Within  float64
		}
	}
	readVectors(t, "haul.json", &v)
	if len(v.Means) < 1 {
		t.Fatal("nothing read")
	}
	for _, r := range v.Means {
		var steps []HaulStep
		for i := range r.Volumes {
			steps = append(steps, HaulStep{Riser: i + 1, Station: unit.Length(r.Distances[i]) * unit.Foot, CutBank: unit.Volume(r.Volumes[i]) * unit.CubicYard})
		}
		h, err := HaulPlan(plain, steps, []Place{{Name: "heap"}}, HaulCost{})
		if err != nil {
			t.Fatal(err)
		}
		if !near(h.MeanDistance.Feet(), r.Mean, r.Within) || !near(h.Cost/float64(unit.CubicYard*unit.Volume(unit.Foot)), r.Sum, r.Sum*1e-9) {
			t.Errorf("%s: mean %v ft, cost %v", r.ID, h.MeanDistance.Feet(), h.Cost)
		}
	}
}

// haulCase is a random path: few steps with whole volumes, or many.
type haulCase struct {
	soil   Soil
	steps  []HaulStep
	places []Place
	cost   HaulCost
}

func randomHaul(r *rand.Rand, most int, whole bool) haulCase {
	c := haulCase{soil: plain, cost: HaulCost{float64(r.IntN(3)) * 4 * r.Float64()}}
	volume := func(chance, size float64) unit.Volume {
		if r.Float64() > chance {
			return 0
		}
		v := size * r.Float64()
		if whole {
			v = float64(1 + r.IntN(3))
		}
		return unit.Volume(v)
	}
	if !whole {
		c.soil = soils[r.IntN(len(soils))]
	}
	x, y := 10*r.Float64(), r.Float64()
	cuts, fills := r.Float64(), r.Float64()
	for i := range 1 + r.IntN(most) {
		x += 0.3 + 2*r.Float64()
		y += 0.2 * (r.Float64() - 0.1) // mostly up
		c.steps = append(c.steps, HaulStep{
			Riser: i + 1, Station: unit.Length(x), Level: unit.Length(y),
			CutBank: volume(cuts, 1.5), FillCompacted: volume(fills, 1), BackfillCompacted: volume(fills/2, 0.3),
		})
	}
	for i := range 1 + r.IntN(3) {
		for _, borrow := range []bool{false, true} {
			p := Place{Name: string(rune('A'+i)) + map[bool]string{true: " pit", false: " heap"}[borrow], Borrow: borrow,
				Station: unit.Length((x + 4) * r.Float64()), Offset: unit.Length(6 * r.Float64()), Rise: unit.Length(2*r.Float64() - 1)}
			if r.IntN(4) == 0 {
				p.Extra = unit.Length(20 * r.Float64())
			}
			if r.IntN(2) == 0 && i > 0 { // the first one takes or gives whatever comes
				p.Capacity = volume(1, 2)
			}
			c.places = append(c.places, p)
		}
	}
	return c
}

// end is one side of a dense transport problem: how much, and where.
type end struct {
	amount, most float64 // of a place: from 0 to most
	step, place  int
}

// dense writes the problem down as a table, on its own: what is over or lacking at each
// step, and the cost of every way, step by step along the path.
func (c haulCase) dense() (from, to []end, cost [][]float64) {
	sum := 0.0
	var nets []float64
	for _, s := range c.steps {
		net := float64(s.CutBank-(s.FillCompacted+s.BackfillCompacted)/unit.Volume(1-c.soil.Shrink.Value)) * (1 + c.soil.Swell.Value)
		nets = append(nets, net)
		sum += net
	}
	for i, net := range nets {
		if net > 0 {
			from = append(from, end{net, net, i, -1})
		} else if net < 0 {
			to = append(to, end{-net, -net, i, -1})
		}
	}
	for i, p := range c.places {
		most := float64(p.Capacity)
		if most == 0 {
			most = math.Abs(sum)
		}
		if sum > 0 && !p.Borrow {
			to = append(to, end{0, most, -1, i})
		}
		if sum < 0 && p.Borrow {
			from = append(from, end{0, most, -1, i})
		}
	}
	at := func(e end) (x, y float64) {
		if e.step >= 0 {
			return float64(c.steps[e.step].Station), float64(c.steps[e.step].Level)
		}
		x = float64(c.places[e.place].Station)
		n := len(c.steps)
		if x <= float64(c.steps[0].Station) {
			return x, float64(c.steps[0].Level)
		}
		for k := 1; k < n; k++ {
			a, b := c.steps[k-1], c.steps[k]
			if x < float64(b.Station) {
				return x, float64(a.Level) + float64(b.Level-a.Level)*(x-float64(a.Station))/float64(b.Station-a.Station)
			}
		}
		return x, float64(c.steps[n-1].Level)
	}
	way := func(a, b end) float64 {
		x0, y0 := at(a)
		x1, y1 := at(b)
		d := math.Abs(x1 - x0)
		climb, y := 0.0, y0
		step := func(to float64) { climb += math.Max(to-y, 0); y = to }
		if x1 >= x0 {
			for _, s := range c.steps {
				if float64(s.Station) > x0 && float64(s.Station) < x1 {
					step(float64(s.Level))
				}
			}
		} else {
			for k := len(c.steps) - 1; k >= 0; k-- {
				if s := c.steps[k]; float64(s.Station) < x0 && float64(s.Station) > x1 {
					step(float64(s.Level))
				}
			}
		}
		step(y1)
		if a.place >= 0 {
			p := c.places[a.place]
			d += float64(p.Offset + p.Extra)
			climb += math.Max(-float64(p.Rise), 0)
		}
		if b.place >= 0 {
			p := c.places[b.place]
			d += float64(p.Offset + p.Extra)
			climb += math.Max(float64(p.Rise), 0)
		}
		return d + c.cost.Climb*climb
	}
	for _, a := range from {
		var row []float64
		for _, b := range to {
			row = append(row, way(a, b))
		}
		cost = append(cost, row)
	}
	return from, to, cost
}

// cheapest tries every way to share whole volumes out.
func cheapest(from, to []end, cost [][]float64) float64 {
	best := math.Inf(1)
	room := make([]float64, len(to))
	for j, b := range to {
		room[j] = b.most
	}
	var send func(i, j int, left, spent float64)
	send = func(i, j int, left, spent float64) {
		if spent >= best {
			return
		}
		if i == len(from) {
			for j, b := range to {
				if b.most-room[j] < b.amount {
					return
				}
			}
			best = spent
			return
		}
		if j == len(to) {
			if left > 0 && from[i].step >= 0 {
				return
			}
			next := 0.0
			if i+1 < len(from) {
				next = from[i+1].most
			}
			send(i+1, 0, next, spent)
			return
		}
		for v := 0.0; v <= math.Min(left, room[j]); v++ {
			room[j] -= v
			send(i, j+1, left-v, spent+v*cost[i][j])
			room[j] += v
		}
	}
	first := 0.0
	if len(from) > 0 {
		first = from[0].most
	}
	send(0, 0, first, 0)
	return best
}

func TestHaulPlansAgreeWithTryingEverything(t *testing.T) {
	spoils, borrows, shared := 0, 0, 0
	for i, r := range rands(31, 1200) {
		c := randomHaul(r, 5, true)
		h, err := HaulPlan(c.soil, c.steps, c.places, c.cost)
		if err != nil {
			t.Fatalf("%d: %v", i, err)
		}
		want := cheapest(c.dense())
		if !near(h.Cost, want, 1e-5*(1+want)) {
			t.Errorf("%d: cost %v, of all plans the least %v\n%+v\n%+v", i, h.Cost, want, c, h.Moves)
		}
		if h.Spoil > 0 {
			spoils++
		}
		if h.Borrow > 0 {
			borrows++
		}
		used := map[string]bool{}
		for _, m := range h.Moves {
			used[m.FromPlace+m.ToPlace] = true
		}
		if len(used) > 2 {
			shared++
		}
	}
	if spoils < 100 || borrows < 100 || shared < 40 {
		t.Errorf("%d spoil, %d borrow, %d use several places", spoils, borrows, shared)
	}
}

// transport is the least cost of a transport problem by another road: cheapest
// augmenting paths on the dense table, found by relaxing edges over and over.
func transport(from, to []end, cost [][]float64) float64 {
	n, m := len(from), len(to)
	flow := make([][]float64, n)
	for i := range flow {
		flow[i] = make([]float64, m)
	}
	left, room := make([]float64, n), make([]float64, m)
	for i, a := range from {
		left[i] = a.most
	}
	for j, b := range to {
		room[j] = b.most
	}
	const tiny = 1e-12
	// What must go (steps) is sent first to where it must go; a bonus on ends that
	// are steps makes the cheapest paths serve them before places.
	bonus := 1e4
	price := func(i, j int) float64 {
		p := cost[i][j]
		if from[i].step >= 0 {
			p -= bonus
		}
		if to[j].step >= 0 {
			p -= bonus
		}
		return p
	}
	for {
		dist, back := make([]float64, n+m), make([]int, n+m)
		for k := range dist {
			dist[k], back[k] = math.Inf(1), -1
			if k < n && left[k] > tiny {
				dist[k] = 0
			}
		}
		for changed := true; changed; {
			changed = false
			for i := range n {
				for j := range m {
					if d := dist[i] + price(i, j); d < dist[n+j]-1e-10 {
						dist[n+j], back[n+j], changed = d, i, true
					}
					if d := dist[n+j] - price(i, j); flow[i][j] > tiny && d < dist[i]-1e-10 {
						dist[i], back[i], changed = d, n+j, true
					}
				}
			}
		}
		last := -1
		for j := range m {
			if room[j] > tiny && (last < 0 || dist[n+j] < dist[n+last]) {
				last = j
			}
		}
		if last < 0 || !(dist[n+last] < 0) {
			break
		}
		size := room[last]
		for k := n + last; ; {
			p := back[k]
			if p < 0 {
				size = math.Min(size, left[k])
				break
			}
			if k < n {
				size = math.Min(size, flow[k][p-n])
			}
			k = p
		}
		room[last] -= size
		for k := n + last; ; {
			p := back[k]
			if p < 0 {
				left[k] -= size
				break
			}
			if k >= n {
				flow[p][k-n] += size
			} else {
				flow[k][p-n] -= size
			}
			k = p
		}
	}
	sum := 0.0
	for i := range n {
		for j := range m {
			sum += flow[i][j] * cost[i][j]
		}
	}
	return sum
}

func TestHaulPlansAreTheCheapest(t *testing.T) {
	for i, r := range rands(32, 300) {
		c := randomHaul(r, 40, false)
		h, err := HaulPlan(c.soil, c.steps, c.places, c.cost)
		if err != nil {
			t.Fatalf("%d: %v", i, err)
		}
		want := transport(c.dense())
		if !near(h.Cost, want, 1e-6*(0.01+want)) {
			t.Errorf("%d: cost %.12g, of the transport problem %.12g (%d steps, %+v)", i, h.Cost, want, len(c.steps), c.places)
		}
	}
}

// What is dug goes somewhere, and what is filled comes from somewhere, to the last bit.
func TestHaulConserves(t *testing.T) {
	for i, r := range rands(33, 400) {
		c := randomHaul(r, 60, false)
		h, err := HaulPlan(c.soil, c.steps, c.places, c.cost)
		if err != nil {
			t.Fatal(err)
		}
		out, in := map[int]unit.Volume{}, map[int]unit.Volume{}
		held := map[string]unit.Volume{}
		var loose, spoil, borrow unit.Volume
		var far float64
		for _, m := range h.Moves {
			if !(m.Loose > 0) || !(m.Distance >= 0) || !(m.Climb >= 0) || (m.FromRiser > 0) == (m.FromPlace != "") || (m.ToRiser > 0) == (m.ToPlace != "") {
				t.Fatalf("%d: %+v", i, m)
			}
			loose += m.Loose
			far += float64(m.Loose) * float64(m.Distance)
			if m.FromRiser > 0 {
				out[m.FromRiser] += m.Loose
			} else {
				borrow += m.Loose
				held[m.FromPlace] += m.Loose
			}
			if m.ToRiser > 0 {
				in[m.ToRiser] += m.Loose
			} else {
				spoil += m.Loose
				held[m.ToPlace] += m.Loose
			}
		}
		var cumulative, cut, fill unit.Volume
		for k, p := range h.Curve {
			if p.Stays+out[p.Riser] != p.Cut || p.Stays+in[p.Riser] != p.Need {
				t.Fatalf("%d: step %+v sends %v and gets %v", i, p, out[p.Riser], in[p.Riser])
			}
			if out[p.Riser] > 0 && in[p.Riser] > 0 {
				t.Fatalf("%d: step %+v sends and gets", i, p)
			}
			cumulative += p.Cut - p.Need
			if cumulative != p.Cumulative {
				t.Fatalf("%d: curve at %+v, summed %v", i, p, cumulative)
			}
			s := c.steps[k]
			cut += s.CutBank
			fill += s.FillCompacted + s.BackfillCompacted
			if want := c.soil.Loose(s.CutBank); !near(float64(p.Cut), float64(want), 1e-11) {
				t.Fatalf("%d: cut %v, given %v", i, p.Cut, want)
			}
		}
		if loose != h.Loose || spoil != h.Spoil || borrow != h.Borrow || spoil > 0 && borrow > 0 || cumulative != spoil-borrow {
			t.Fatalf("%d: moves %v, spoil %v, borrow %v, left %v; %+v", i, loose, spoil, borrow, cumulative, h)
		}
		b := c.soil.Balance(cut, fill, 0)
		if !near(float64(b.SpoilLoose), float64(spoil), 1e-9*(1+float64(spoil))) || !near(float64(b.BorrowLoose), float64(borrow), 1e-9*(1+float64(borrow))) {
			t.Fatalf("%d: spoil %v and borrow %v, of the balance %v and %v", i, spoil, borrow, b.SpoilLoose, b.BorrowLoose)
		}
		if loose > 0 && !near(float64(h.MeanDistance)*float64(loose), far, 1e-9*(1+far)) {
			t.Fatalf("%d: mean %v", i, h.MeanDistance)
		}
		for _, p := range c.places {
			if p.Capacity > 0 && float64(held[p.Name]) > float64(p.Capacity)*(1+1e-9)+1e-9 {
				t.Fatalf("%d: %v of %v in %s", i, held[p.Name], p.Capacity, p.Name)
			}
		}
		again, err := HaulPlan(c.soil, c.steps, c.places, c.cost)
		if diff := cmp.Diff(h, again); diff != "" || err != nil {
			t.Fatalf("%d: not the same twice: %s", i, diff)
		}
	}
}

// The area between the mass-haul curve and its axis is the haul, where nothing
// leaves the path on the way.
func TestHaulIsTheAreaOfTheCurve(t *testing.T) {
	for i, r := range rands(34, 100) {
		c := randomHaul(r, 30, false)
		last := c.steps[len(c.steps)-1].Station
		c.cost.Climb = 0
		c.places = []Place{{Name: "heap", Station: last + 1}, {Name: "pit", Station: last + 1, Borrow: true}}
		h, err := HaulPlan(c.soil, c.steps, c.places, c.cost)
		if err != nil {
			t.Fatal(err)
		}
		var area float64
		for k, p := range h.Curve {
			next := last + 1
			if k+1 < len(h.Curve) {
				next = h.Curve[k+1].Station
			}
			area += math.Abs(float64(p.Cumulative)) * float64(next-p.Station)
		}
		if !near(h.Cost, area, 1e-9*(1+area)) {
			t.Errorf("%d: cost %v, area %v", i, h.Cost, area)
		}
	}
}

func TestHaulGoesUphillOnlyWhenItPays(t *testing.T) {
	steps := []HaulStep{{Riser: 1, Station: 0, Level: 0}, {Riser: 2, Station: 10, Level: 3, CutBank: 1}, {Riser: 3, Station: 18, Level: 6}}
	places := []Place{{Name: "below", Station: 0, Offset: 1}, {Name: "above", Station: 18, Offset: 1}}
	for _, r := range []struct {
		climb float64
		want  Move
		cost  float64
	}{
		{0, Move{FromRiser: 2, ToPlace: "above", Loose: 1, Distance: 9, Climb: 3}, 9},
		{0.6, Move{FromRiser: 2, ToPlace: "above", Loose: 1, Distance: 9, Climb: 3}, 10.8},
		{0.7, Move{FromRiser: 2, ToPlace: "below", Loose: 1, Distance: 11}, 11},
		{5, Move{FromRiser: 2, ToPlace: "below", Loose: 1, Distance: 11}, 11},
	} {
		h, err := HaulPlan(plain, steps, places, HaulCost{r.climb})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([]Move{r.want}, h.Moves); diff != "" || !near(h.Cost, r.cost, 1e-12) {
			t.Errorf("climb %v: cost %v %s", r.climb, h.Cost, diff)
		}
		if m := h.Moves[0]; !near(float64(HaulCost{r.climb}.Of(m.Distance, m.Climb)), r.cost, 1e-12) {
			t.Errorf("%v costs %v", m, HaulCost{r.climb}.Of(m.Distance, m.Climb))
		}
	}
	// The place that is nearer fills first.
	places[1].Capacity = 0.25
	h, err := HaulPlan(plain, steps, places, HaulCost{})
	if err != nil || len(h.Moves) != 2 || !near(float64(h.Moves[0].Loose), 0.75, 1e-9) || !near(float64(h.MeanDistance), 10.5, 1e-9) {
		t.Errorf("%+v %v", h, err)
	}
}

func TestHaulFaults(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := []HaulStep{{Riser: 1, CutBank: 1}, {Riser: 2, Station: 1, Level: 1}}
	heap := []Place{{Name: "heap"}}
	short := []HaulStep{{Riser: 1, FillCompacted: 1}}
	for _, r := range []struct {
		name   string
		soil   Soil
		steps  []HaulStep
		places []Place
		climb  float64
		fields []string
	}{
		{"no steps", plain, nil, heap, 0, []string{"steps"}},
		{"too many", plain, make([]HaulStep, maxHaulSteps+1), heap, 0, []string{"steps"}},
		{"no soil", Soil{}, nil, heap, 0, []string{"soil.density", "soil.digging", "soil.fast", "soil.slow", "soil.repose", "steps"}},
		{"bad step", plain, []HaulStep{{0, unit.Length(nan), unit.Length(inf), -1, unit.Volume(nan), unit.Volume(inf)}}, heap, 0,
			[]string{"steps[0].riser", "steps[0].station", "steps[0].level", "steps[0].cut_bank", "steps[0].fill_compacted", "steps[0].backfill_compacted"}},
		{"downhill", plain, []HaulStep{{Riser: 1, Station: 2}, {Riser: 2, Station: 2}, {Riser: 3, Station: 1}}, heap, 0, []string{"steps[1].station", "steps[2].station"}},
		{"too many places", plain, good, make([]Place, maxPlaces+1), 0, []string{"places"}},
		{"bad place", plain, good, []Place{{"", unit.Length(nan), -1, 1e5, -1, -1, false}, {Name: "a"}, {Name: "a", Capacity: unit.Volume(inf)}}, 0,
			[]string{"places[0].name", "places[0].station", "places[0].offset", "places[0].rise", "places[0].extra", "places[0].capacity", "places[2].name", "places[2].capacity"}},
		{"climb", plain, good, heap, nan, []string{"climb"}},
		{"nowhere", plain, good, nil, 0, []string{"places"}},
		{"only a pit", plain, good, []Place{{Name: "pit", Borrow: true}}, 0, []string{"places"}},
		{"too small", plain, good, []Place{{Name: "a", Capacity: 0.4}, {Name: "b", Capacity: 0.5}}, 0, []string{"places"}},
		{"nothing to bring", plain, short, heap, 0, []string{"places"}},
		{"too little to bring", plain, short, []Place{{Name: "pit", Borrow: true, Capacity: 0.9}}, 0, []string{"places"}},
	} {
		_, err := HaulPlan(r.soil, r.steps, r.places, HaulCost{r.climb})
		wantFault(t, r.name, err, r.fields...)
	}
	// Just room, nothing to do, and nothing at all.
	if _, err := HaulPlan(plain, good, []Place{{Name: "a", Capacity: 0.4}, {Name: "b", Capacity: 0.6}}, HaulCost{}); err != nil {
		t.Error(err)
	}
	h, err := HaulPlan(plain, []HaulStep{{Riser: 1, CutBank: 1, FillCompacted: 1}}, nil, HaulCost{})
	if err != nil || len(h.Moves) != 0 || h.Curve[0].Stays != 1 || h.MeanDistance != 0 {
		t.Errorf("%+v %v", h, err)
	}
	h, err = HaulPlan(plain, []HaulStep{{Riser: 1}}, nil, HaulCost{})
	if err != nil || len(h.Moves) != 0 || h.Cost != 0 {
		t.Errorf("%+v %v", h, err)
	}
}

func BenchmarkHaulPlan(b *testing.B) {
	for _, n := range []int{30, 1000, 10000} {
		r := rand.New(rand.NewPCG(35, 0))
		var steps []HaulStep
		for i := range n {
			steps = append(steps, HaulStep{Riser: i + 1, Station: unit.Length(i), Level: unit.Length(float64(i) * 0.05), CutBank: unit.Volume(r.Float64()), FillCompacted: unit.Volume(0.8 * r.Float64())})
		}
		var places []Place
		for i := range 10 {
			places = append(places, Place{Name: string(rune('a' + i)), Station: unit.Length(n * i / 10), Offset: 5, Capacity: unit.Volume(n)})
		}
		b.Run(map[int]string{30: "30", 1000: "1000", 10000: "10000"}[n], func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := HaulPlan(plain, steps, places, HaulCost{4}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

var haulModels = flag.String("haul-models", "", "write haul plans and their transport problems to this file, for a general solver")

// TestHaulModelsForSolver plans random paths and, with -haul-models, writes the
// transport problems out with what the plans cost; site/test/haul.highs.mjs solves the
// same with a general solver.
func TestHaulModelsForSolver(t *testing.T) {
	type model struct {
		From [][2]float64 `json:"from"` // least and most that goes out
		To   [][2]float64 `json:"to"`
		Cost [][]float64  `json:"cost"`
		Best float64      `json:"best"`
	}
	var out []model
	for i, r := range rands(36, 300) {
		c := randomHaul(r, 6+i/10, false)
		h, err := HaulPlan(c.soil, c.steps, c.places, c.cost)
		if err != nil {
			t.Fatalf("%d: %v", i, err)
		}
		from, to, cost := c.dense()
		m := model{Cost: cost, Best: h.Cost}
		for _, e := range from {
			m.From = append(m.From, [2]float64{e.amount, e.most})
		}
		for _, e := range to {
			m.To = append(m.To, [2]float64{e.amount, e.most})
		}
		if len(from) > 0 && len(to) > 0 {
			out = append(out, m)
		}
	}
	if len(out) < 250 {
		t.Errorf("only %d problems", len(out))
	}
	if *haulModels == "" {
		return
	}
	b, err := json.Marshal(out)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(*haulModels, b, 0o644); err != nil {
		t.Fatal(err)
	}
}
