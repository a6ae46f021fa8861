package stair

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/martinlindhe/unit"
)

// framedProfile is a site for tests with both kinds of flight: framed flights clear
// the ground by a depth, dig what stands higher, and stand on footings and
// supports.
type framedProfile struct {
	*profile
	depth, dig  float64 // clearance below the surface; cost of the area dug
	deepest     float64 // that a framed flight may dig
	riserOf     float64 // each framed riser
	deck        float64 // each platform; below 0: none
	credit      float64 // what it saves of the flight on it
	boxStart    float64 // the path's first riser
	frameStart  float64
	deckCells   float64 // each metre of it
	foot, post  float64 // each framed flight; each support
	span, reach float64 // between supports; the longest framed flight
	boxFlight   float64 // each box flight
}

func (f *framedProfile) FramedRiser(unit.Length) float64 { return f.riserOf }
func (f *framedProfile) Platform() (float64, bool)       { return f.deck - f.credit, f.deck >= 0 }

func (f *framedProfile) Start(k Kind, r unit.Length) float64 {
	if k == Framed {
		return f.frameStart
	}
	return f.boxStart
}

func (f *framedProfile) FramedCells(at []unit.Length, l Line, cost []float64, ok []bool) {
	p := *f.profile
	p.cut, p.fill, p.holes = f.dig, 0, nil
	p.maxCut, p.maxRaise = f.deepest, math.Inf(1)
	l.Level -= unit.Length(f.depth)
	p.Cells(at, l, cost, ok)
}

func (f *framedProfile) PlatformCells(at []unit.Length, l Line, cost []float64, ok []bool) {
	f.FramedCells(at, l, cost, ok)
	for i := range cost {
		cost[i] += float64(f.deckCells * float64(at[i+1]-at[i]))
	}
}

func (f *framedProfile) FlightsPriced(k Kind) bool { return k != Box || f.boxFlight != 0 }

func (f *framedProfile) Flight(s Shape) (float64, bool) {
	if s.Kind == Box {
		return f.boxFlight, true
	}
	if float64(s.Run) > f.reach+1e-9 {
		return 0, false
	}
	return f.foot + float64(f.post*math.Floor(float64(s.Run)/f.span+1e-9)), true
}

// bounded is a framedProfile that tells what its flights cost at least.
type bounded struct{ *framedProfile }

func (b bounded) FlightLeast(k Kind, tread unit.Length) (open, each float64, ok bool) {
	if k == Box {
		return b.boxFlight, 0, true
	}
	if b.foot < b.post {
		return 0, 0, true
	}
	return b.foot - b.post, float64(b.post * float64(tread) / b.span), true
}

// choice is one layout the exhaustive search tried.
type choice struct {
	cost      int64
	flights   []planned
	n         int
	pair      int
	foot, hd  Point
	run, rise float64
}

// before is the order that Task.Fit says it keeps.
func (a choice) before(b choice) bool {
	if a.cost != b.cost {
		return a.cost < b.cost
	}
	if len(a.flights) != len(b.flights) {
		return len(a.flights) < len(b.flights)
	}
	if a.n != b.n {
		return a.n < b.n
	}
	if a.pair != b.pair {
		return a.pair < b.pair
	}
	for i := len(a.flights) - 1; i >= 0; i-- {
		x, y := a.flights[i], b.flights[i]
		if x.deck != y.deck {
			return !x.deck
		}
		if math.Abs(x.landing-y.landing) > 1e-7 {
			return x.landing < y.landing
		}
		if x.kind != y.kind {
			return x.kind < y.kind
		}
		if math.Abs(x.tread-y.tread) > 1e-7 {
			return x.tread < y.tread
		}
		if x.risers != y.risers {
			return x.risers < y.risers
		}
	}
	return false
}

func (a choice) String() string {
	s := fmt.Sprintf("%.4f..%.4f: ", float64(a.foot.Station), float64(a.hd.Station))
	for i, f := range a.flights {
		s += fmt.Sprintf("%s %d×%.6f ", kindNames[f.kind], f.risers, f.tread)
		if i < len(a.flights)-1 {
			s += fmt.Sprintf("[%.6f %v] ", f.landing, f.deck)
		}
	}
	return s
}

func describeAll(l Layout) string {
	c := choice{foot: l.Foot, hd: l.Head}
	for i, f := range l.Flights {
		p := planned{kind: kindIndex(f.Kind), risers: f.Risers, tread: float64(f.Tread)}
		if i < len(l.Landings) {
			p.landing, p.deck = float64(l.Landings[i].Depth), l.Landings[i].Kind == Framed
		}
		c.flights = append(c.flights, p)
	}
	return c.String()
}

// tryAll tries every layout of a task in the plainest way, one piece after the
// other from the foot up.
func tryAll(t Task) (best *choice, per map[int]int64, count int) {
	per = map[int]int64{}
	const eps = 1e-9
	lim := t.Limits
	grid := float64(lim.Grid)
	quanta := func(c float64) int64 { return int64(math.Floor(c/1e-9 + 0.5)) }
	pace := float64(t.Pace)
	if pace == 0 {
		pace = 0.6604
	}
	kinds := lim.Kinds
	if len(kinds) == 0 {
		kinds = []Kind{Box}
	}
	framer, _ := t.Site.(Framer)
	pricer, _ := t.Site.(FlightPricer)
	pair := -1
	for _, foot := range t.Foot.Points {
		for _, head := range t.Head.Points {
			run, rise := float64(head.Station-foot.Station), float64(head.Level-foot.Level)
			climb := rise - lim.Wash*run
			if run <= eps || climb <= eps {
				continue
			}
			pair++
			cells := int(math.Floor(run/grid + 1e-9))
			rest := run - float64(cells)*grid
			if rest < 1e-9 {
				rest = 0
			}
			station := func(i int) unit.Length { return foot.Station + unit.Length(float64(i)*grid) }
			back := func(i int) unit.Length { return head.Station - unit.Length(float64(i)*grid) }
			for n := 1; n <= 60; n++ {
				rising := n
				if lim.FirstStands {
					rising--
				}
				if rising == 0 {
					continue
				}
				r := climb / float64(rising)
				type rules struct {
					Limits
					kind int
				}
				var may []rules
				for ki, k := range kindNames {
					l := lim
					if k == Framed && lim.Framed != nil {
						f := *lim.Framed
						if f.RiserMin != 0 {
							l.RiserMin = f.RiserMin
						}
						if f.RiserMax != 0 {
							l.RiserMax = f.RiserMax
						}
						if f.TreadMin != 0 {
							l.TreadMin = f.TreadMin
						}
						if f.TreadMax != 0 {
							l.TreadMax = f.TreadMax
						}
						if f.MaxFlightRisers != 0 {
							l.MaxFlightRisers = f.MaxFlightRisers
						}
						if f.MinFlightRisers != 0 {
							l.MinFlightRisers = f.MinFlightRisers
						}
					}
					if l.MinFlightRisers == 0 {
						l.MinFlightRisers = 2
					}
					wanted := false
					for _, x := range kinds {
						wanted = wanted || x == k
					}
					if !wanted || r > float64(l.RiserMax)+eps || r < float64(l.RiserMin)-eps {
						continue
					}
					if k == Box && lim.Courses != nil {
						// Some whole number of courses makes it.
						c, can := lim.Courses, false
						for i := 1; i < 100; i++ {
							h := float64(i) * float64(c.Height)
							if h+float64(c.MaxBedding) >= r-eps && (c.MaxBuried == 0 || h-r <= float64(c.MaxBuried)+eps) {
								can = true
							}
						}
						if !can {
							continue
						}
					}
					may = append(may, rules{l, ki})
				}
				if len(may) == 0 {
					continue
				}
				each := [2]float64{math.Inf(1), math.Inf(1)}
				for _, m := range may {
					each[m.kind] = t.Site.Riser(unit.Length(r))
					if m.kind == onFrame {
						each[m.kind] = framer.FramedRiser(unit.Length(r))
					}
				}
				cheap := math.Min(each[0], each[1])
				base := quanta(float64(rising) * cheap)
				line := func(k int) Line {
					if lim.FirstStands {
						k--
					}
					return Line{foot.Station, foot.Level + unit.Length(float64(k)*r), lim.Wash}
				}
				one := func(what, k int, a, b unit.Length) (int64, bool) {
					c, ok := [1]float64{}, [1]bool{}
					switch what {
					case onBox:
						t.Site.Cells([]unit.Length{a, b}, line(k), c[:], ok[:])
					case onFrame:
						framer.FramedCells([]unit.Length{a, b}, line(k), c[:], ok[:])
					case onDeck:
						framer.PlatformCells([]unit.Length{a, b}, line(k), c[:], ok[:])
					}
					return quanta(c[0]), ok[0]
				}
				memo := map[[3]int]int64{}
				stretch := func(what, k, i, j int) (int64, bool) {
					sum := int64(0)
					for ; i < j; i++ {
						v, have := memo[[3]int{what, k, i}]
						if !have {
							b := station(i + 1)
							if i+1 == cells && rest == 0 {
								b = head.Station
							}
							c, ok := one(what, k, station(i), b)
							if v = c; !ok {
								v = -1
							}
							memo[[3]int{what, k, i}] = v
						}
						if v < 0 {
							return 0, false
						}
						sum += v
					}
					return sum, true
				}
				onBend := func(kind int, a, b float64) bool { // whether it may lie there
					sum, touches := 0.0, false
					for _, c := range lim.Bends {
						x := math.Min(b, float64(c.To)) - math.Max(a, float64(c.From))
						if x <= eps {
							continue
						}
						touches = true
						if c.Right {
							sum += x / float64(c.Radius)
						} else {
							sum -= x / float64(c.Radius)
						}
					}
					if !touches {
						return true
					}
					if kind == onFrame {
						return false
					}
					for _, c := range lim.Bends {
						if math.Min(b, float64(c.To))-math.Max(a, float64(c.From)) <= eps {
							continue
						}
						at := func(fromInner float64) float64 {
							return b - a - (float64(c.Width)/2-fromInner)*math.Abs(sum)
						}
						walk := float64(c.Walkline)
						if walk == 0 || walk >= float64(c.Width) {
							walk = float64(c.Width) / 2
						}
						if at(0) < -eps || c.MinInner > 0 && at(0) < float64(c.MinInner)-eps || c.MinWalkline > 0 && at(walk) < float64(c.MinWalkline)-eps {
							return false
						}
					}
					return true
				}
				// What a flight costs beside cells, and whether there may be one.
				flight := func(m rules, first bool, risers int, tread float64) (int64, bool) {
					if risers > 1 {
						if tread < float64(m.TreadMin)-eps || tread > float64(m.TreadMax)+eps {
							return 0, false
						}
						if lim.PitchMax != 0 && math.Atan(r/tread+lim.Wash) > float64(lim.PitchMax)+eps {
							return 0, false
						}
						if s := 2*r + tread; m.StepRule != nil && (s < float64(m.StepRule.Min)-eps || m.StepRule.Max > 0 && s > float64(m.StepRule.Max)+eps) {
							return 0, false
						}
					}
					if risers < m.MinFlightRisers && !(first && lim.FirstStands) || m.MaxFlightRisers > 0 && risers > m.MaxFlightRisers {
						return 0, false
					}
					if up := float64(risers)*r + lim.Wash*float64(risers-1)*tread; m.MaxFlightRise > 0 && up > float64(m.MaxFlightRise)+eps {
						return 0, false
					}
					sum := int64(0)
					if each[m.kind] > cheap {
						sum += int64(risers) * quanta(each[m.kind]-cheap)
						if first && lim.FirstStands {
							sum -= quanta(each[m.kind] - cheap)
						}
					}
					if x, ok := t.Site.(Starter); ok && first && !lim.FirstStands {
						sum += quanta(x.Start(kindNames[m.kind], unit.Length(r)))
					}
					if pricer != nil {
						c, ok := pricer.Flight(Shape{Kind: kindNames[m.kind], Risers: risers, Tread: unit.Length(tread), Riser: unit.Length(r),
							Run: unit.Length(float64(risers-1) * tread), Rise: unit.Length(float64(risers)*r + float64(risers-1)*lim.Wash*tread)})
						if !ok {
							return 0, false
						}
						sum += quanta(c)
					}
					if t.Walking > 0 && risers > 1 {
						miss := math.Inf(1)
						for p := 1; p < 50; p++ {
							miss = math.Min(miss, math.Abs(2*r+tread-float64(p)*pace))
						}
						sum += int64(risers-1) * quanta(t.Walking*miss)
					}
					return sum, true
				}
				landing := func(depth, tread float64, deck bool) (int64, bool) {
					if deck && lim.PlatformMax != 0 && depth > float64(lim.PlatformMax)+eps {
						return 0, false
					}
					if lim.LandingMin == 0 || depth < float64(lim.LandingMin)-eps || lim.LandingMax != 0 && depth > float64(lim.LandingMax)+eps {
						return 0, false
					}
					if t.Walking == 0 || depth > 2.5+eps {
						return 0, true
					}
					miss := math.Inf(1)
					for p := 0; p < 50; p++ {
						miss = math.Min(miss, math.Abs(depth-tread-float64(p)*pace))
					}
					return quanta(t.Walking * miss), true
				}
				deck, decks := int64(0), false
				if framer != nil {
					if c, ok := framer.Platform(); ok {
						if deck, decks = quanta(math.Abs(c)), true; c < 0 {
							deck = -deck
						}
					}
				}
				keep := func(cost int64, flights []planned) {
					count++
					if v, have := per[n]; !have || cost < v {
						per[n] = cost
					}
					c := choice{cost: cost, flights: append([]planned(nil), flights...), n: n, pair: pair, foot: foot, hd: head}
					if best == nil || c.before(*best) {
						best = &c
					}
				}
				for _, m := range may { // one flight
					tread := run / float64(n-1)
					if n < 2 {
						continue
					}
					sum, ok := flight(m, true, n, tread)
					for k := 1; k < n && ok; k++ {
						a, b := foot.Station+unit.Length(float64(k-1)*tread), foot.Station+unit.Length(float64(k)*tread)
						if k == n-1 {
							b = head.Station
						}
						var c int64
						c, ok = one(m.kind, k, a, b)
						ok = ok && onBend(m.kind, float64(a), float64(b))
						sum += c
					}
					if ok {
						keep(base+sum, []planned{{risers: n, tread: tread, kind: m.kind}})
					}
				}
				var more func(k, i int, sum int64, below []planned)
				// The flight that begins with riser k+1 at cell i, and what comes
				// above it; the uppermost is measured from the head.
				more = func(k, i int, sum int64, below []planned) {
					for _, m := range may {
						if len(below) > 0 && below[len(below)-1].deck && m.kind != onFrame {
							continue // only framed flights begin behind a platform
						}
						for risers := 1; k+risers <= n; risers++ {
							for c := 0; c <= cells; c++ {
								if (risers == 1) != (c == 0) {
									continue
								}
								tread := float64(c) * grid
								cost, ok := flight(m, k == 0, risers, tread)
								if !ok || i+(risers-1)*c > cells {
									continue
								}
								me := planned{risers: risers, tread: tread, kind: m.kind}
								if k+risers < n {
									for q := 1; q < risers && ok; q++ {
										a := i + (q-1)*c
										var x int64
										x, ok = stretch(m.kind, k+q, a, a+c)
										ok = ok && onBend(m.kind, float64(station(a)), float64(station(a+c)))
										cost += x
									}
									if !ok {
										continue
									}
									e := i + (risers-1)*c
									for _, d := range []bool{false, true} {
										what, fixed := onBox, int64(0)
										if d {
											if m.kind != onFrame || !decks {
												continue
											}
											what, fixed = onDeck, deck
										}
										// Up to a flight below the uppermost one.
										for j := e + 1; j <= cells; j++ {
											miss, good := landing(float64(j-e)*grid, tread, d)
											if !good {
												continue
											}
											x, good := stretch(what, k+risers, e, j)
											if !good {
												break
											}
											g := me
											g.landing, g.deck = float64(j-e)*grid, d
											more(k+risers, j, sum+cost+miss+x+fixed, append(append([]planned(nil), below...), g))
										}
										// Up to the uppermost flight.
										for _, u := range may {
											if d && u.kind != onFrame {
												continue
											}
											top := n - k - risers
											for uc := 0; uc <= cells; uc++ {
												if (top == 1) != (uc == 0) || (top-1)*uc > cells {
													continue
												}
												j := cells - (top-1)*uc
												if j < e {
													continue
												}
												ut := float64(uc) * grid
												total, good := flight(u, false, top, ut)
												if !good {
													continue
												}
												depth := float64(j-e)*grid + rest
												miss, good := landing(depth, tread, d)
												if !good {
													continue
												}
												x, good := stretch(what, k+risers, e, j)
												total += x + miss + fixed
												if good && rest > 0 {
													x, good = one(what, k+risers, station(j), back((top-1)*uc))
													total += x
												}
												for q := 1; q < top && good; q++ {
													a, b := back(q*uc), back((q-1)*uc)
													x, good = one(u.kind, n-q, a, b)
													good = good && onBend(u.kind, float64(a), float64(b))
													total += x
												}
												if good {
													g := me
													g.landing, g.deck = depth, d
													keep(base+sum+cost+total, append(append([]planned(nil), below...), g, planned{risers: top, tread: ut, kind: u.kind}))
												}
											}
										}
									}
								}
							}
						}
					}
				}
				if lim.LandingMin > 0 {
					more(0, 0, 0, nil)
				}
			}
		}
	}
	return best, per, count
}

// smallTask is a task small enough to try everything on.
func smallTask(r *rand.Rand) Task {
	grid := []float64{0.01, 0.0127, 0.008}[r.IntN(3)]
	cells := 8 + r.IntN(10)
	run := float64(cells) * grid
	if r.IntN(2) == 0 {
		run += grid * (0.05 + 0.9*r.Float64())
	}
	n := 3 + r.IntN(4)
	rise := float64(n) * (0.004 + 0.004*r.Float64())
	at := Point{unit.Length(float64(r.IntN(3)) * 1.25), unit.Length(float64(r.IntN(3)) * -0.75)}
	lim := Limits{
		RiserMin: unit.Length(rise / (float64(n) + 0.6)), RiserMax: unit.Length(rise / (float64(n) - 1.4)),
		TreadMin: unit.Length(grid * float64(1+r.IntN(2))), Grid: unit.Length(grid),
		LandingMin: unit.Length(grid * (1.5 + 3*r.Float64())),
	}
	lim.TreadMax = lim.TreadMin + unit.Length(grid*float64(1+r.IntN(3)))
	if r.IntN(3) == 0 {
		lim.LandingMax = lim.LandingMin + unit.Length(grid*4*r.Float64())
	}
	if r.IntN(3) == 0 {
		lim.PlatformMax = unit.Length(grid * (1 + 4*r.Float64()))
	}
	if r.IntN(3) == 0 {
		lim.Wash = 0.02
	}
	switch r.IntN(4) {
	case 0:
		lim.MaxFlightRisers = 2 + r.IntN(3)
	case 1:
		lim.MaxFlightRise = unit.Length(rise * (0.4 + 0.3*r.Float64()))
	}
	if r.IntN(4) == 0 {
		lim.PitchMax = unit.Angle(math.Atan(float64(lim.RiserMax)/float64(lim.TreadMin)) * (0.7 + 0.35*r.Float64()))
	}
	switch r.IntN(5) {
	case 0:
		lim.MinFlightRisers = 1
	case 1:
		if lim.MaxFlightRisers == 0 || lim.MaxFlightRisers >= 3 {
			lim.MinFlightRisers = 3
		}
	}
	p := randomProfile(r, run, rise, rise*0.3)
	p.riser = []float64{0, 1e-6, 1e-5}[r.IntN(3)]
	for i := range p.x {
		p.x[i] += float64(at.Station)
		p.y[i] += float64(at.Level)
	}
	area := run * rise
	site := &framedProfile{
		profile: p, depth: rise * 0.3 * r.Float64(), dig: 1, deepest: rise * 0.4, riserOf: area * 0.02 * r.Float64(),
		deck: area * 0.02 * r.Float64(), deckCells: rise * 0.05 * r.Float64(), foot: area * 0.03 * r.Float64(), post: area * 0.02 * r.Float64(),
		span: grid * float64(2+r.IntN(4)), reach: run * (0.3 + r.Float64()),
	}
	if r.IntN(4) == 0 {
		site.deck = -1
	}
	if r.IntN(4) == 0 {
		site.boxFlight = area * 0.02 * r.Float64()
	}
	switch r.IntN(4) {
	case 0:
		p.maxCut, p.maxRaise = rise*0.35, rise*0.35
	case 1:
		for range 1 + r.IntN(4) {
			x, y := float64(at.Station)+run*r.Float64(), float64(at.Level)+rise*r.Float64()*1.1
			p.holes = append(p.holes, hole{x, x + run*0.2*r.Float64(), y, y + rise*0.4*r.Float64()})
		}
	case 2: // coarse costs, so that layouts tie
		if r.IntN(2) == 0 {
			p.cut, p.fill, site.dig = 0, 0, 0
			site.riserOf, site.deck, site.foot, site.post, site.deckCells, site.boxFlight = p.riser, 1e-6, 1e-6, 1e-6, 0, 0
			site.credit = 0
		}
	}
	if r.IntN(3) == 0 {
		site.credit = (site.deck + site.foot) * r.Float64()
		if site.credit > site.deck {
			site.credit = min(site.credit, max(site.deck, 0)+site.foot)
		}
		site.boxStart, site.frameStart = area*0.02*r.Float64(), area*0.02*r.Float64()
	}
	t := Task{Limits: lim, Site: site}
	switch r.IntN(5) {
	case 0:
	case 1:
		t.Limits.Kinds = []Kind{Framed}
	default:
		t.Limits.Kinds = []Kind{Framed, Box}
		if r.IntN(2) == 0 {
			t.Limits.Framed = &FramedLimits{TreadMin: lim.TreadMin + unit.Length(grid), MaxFlightRisers: 3}
			t.Limits.Framed.TreadMax = t.Limits.Framed.TreadMin + unit.Length(grid)
			t.Limits.Framed.MinFlightRisers = 2
			if r.IntN(2) == 0 {
				t.Limits.Framed.RiserMax = unit.Length(rise / (float64(n) - 0.4))
			}
		}
	}
	t.Foot.Points = []Point{at}
	t.Head.Points = []Point{{at.Station + unit.Length(run), at.Level + unit.Length(rise)}}
	switch r.IntN(4) {
	case 0:
		t.Foot.Points = append(t.Foot.Points, Point{at.Station + unit.Length(grid), at.Level + unit.Length(0.002)})
	case 1:
		h := t.Head.Points[0]
		t.Head.Points = []Point{{h.Station - unit.Length(2*grid), h.Level - 0.001}, h, {h.Station - unit.Length(grid*0.7), h.Level - 0.001}}
	}
	switch r.IntN(3) {
	case 0:
		t.Limits.FirstStands = true
	case 1:
		h := unit.Length(rise / float64(n) * (0.5 + r.Float64()))
		t.Limits.Courses = &Courses{Height: max(h, 0.01), MaxBedding: h / 5 * unit.Length(r.Float64()), MaxBuried: unit.Length(0.004 * r.Float64())}
		if h < 0.01 {
			t.Limits.Courses.MaxBuried = unit.Length(0.004 + 0.003*r.Float64())
		}
	}
	if r.IntN(3) == 0 {
		x := at.Station + unit.Length(run*r.Float64())
		b := Bend{From: x, To: x + unit.Length(run*0.4*r.Float64()+0.001), Radius: unit.Length(run * (0.3 + r.Float64())), Right: r.IntN(2) == 0}
		b.Width = b.Radius * unit.Length(1.2*r.Float64())
		b.Walkline = b.Width * unit.Length(0.6*r.Float64())
		b.MinInner, b.MinWalkline = unit.Length(grid*r.Float64()*1.2), unit.Length(grid*(1+r.Float64()))
		t.Limits.Bends = []Bend{b}
		if r.IntN(2) == 0 {
			c := b
			c.From, c.To, c.Right = b.To, b.To+unit.Length(run*0.3*r.Float64()+0.001), r.IntN(2) == 0
			t.Limits.Bends = append(t.Limits.Bends, c)
		}
	}
	if r.IntN(2) == 0 {
		t.Walking = rise * []float64{0.01, 0.1, 1, 100}[r.IntN(4)]
		t.Pace = unit.Length(0.1)
		if r.IntN(3) == 0 {
			t.Pace = unit.Length(0.1 + 0.05*r.Float64())
		}
		if r.IntN(3) == 0 { // the walker alone
			p.cut, p.fill, site.dig, p.riser = 0, 0, 0, 0
			site.riserOf, site.deck, site.foot, site.post, site.deckCells, site.boxFlight = 0, min(site.deck, 0), 0, 0, 0, 0
			site.credit, site.boxStart, site.frameStart = 0, 0, 0
		}
	}
	return t
}

// TestTaskEqualsExhaustiveSearch compares fits of both kinds of flight, free
// ends, bends, courses and the walker with trying everything.
func TestTaskEqualsExhaustiveSearch(t *testing.T) {
	t.Parallel()
	var fits, nothing, mixed, decks, layouts, moved, bent, coursed, standing, walked, mixedWalk int
	for seed := uint64(0); seed < 1500; seed++ {
		task := smallTask(rand.New(rand.NewPCG(seed, 3)))
		want, per, count := tryAll(task)
		layouts += count
		got, err := task.Fit()
		if want == nil {
			if err == nil {
				t.Errorf("seed %d: fit found %s, there is nothing", seed, describeAll(got.Layout))
			}
			nothing++
			continue
		}
		if err != nil {
			t.Errorf("seed %d: %v; want %v", seed, err, want)
			continue
		}
		fits++
		kinds := map[int]bool{}
		for _, f := range want.flights {
			kinds[f.kind] = true
			if f.deck {
				decks++
			}
		}
		count1 := func(n *int, is bool) {
			if is {
				*n++
			}
		}
		count1(&mixed, len(kinds) == 2)
		count1(&moved, want.pair > 0)
		count1(&bent, len(task.Limits.Bends) > 0)
		count1(&coursed, task.Limits.Courses != nil)
		count1(&standing, task.Limits.FirstStands)
		count1(&walked, task.Walking > 0)
		count1(&mixedWalk, task.Walking > 0 && len(kinds) == 2)
		// The walker's misfit is rounded to quanta from sums made in another
		// order: a quantum for each tread at most.
		within := 1e-12
		if task.Walking > 0 {
			within = 1e-9 * float64(want.n+1)
		}
		if d := got.Cost - float64(want.cost)*1e-9; math.Abs(d) > within {
			t.Errorf("seed %d: cost %v, want %v\n got %s\nwant %s", seed, got.Cost, float64(want.cost)*1e-9, describeAll(got.Layout), want)
		} else if g := describeAll(got.Layout); g != want.String() && task.Walking == 0 {
			t.Errorf("seed %d (%d layouts):\n got %s\nwant %s", seed, count, g, want)
		}
		if err := got.Layout.Validate(); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
		every := task
		every.EveryCount = true
		full, err := every.Fit()
		if err != nil || full.Cost != got.Cost || !reflect.DeepEqual(full.Layout, got.Layout) {
			t.Errorf("seed %d: every count: %v, %s at %v, otherwise %s at %v", seed, err, describeAll(full.Layout), full.Cost, describeAll(got.Layout), got.Cost)
		}
		bound := task
		bound.Site = bounded{task.Site.(*framedProfile)}
		if told, err := bound.Fit(); err != nil || told.Cost != got.Cost || !reflect.DeepEqual(told.Layout, got.Layout) {
			t.Errorf("seed %d: flights bounded beforehand: %v, %s at %v, otherwise %s at %v", seed, err, describeAll(told.Layout), told.Cost, describeAll(got.Layout), got.Cost)
		}
		for _, c := range append(got.Considered, full.Considered...) {
			v, have := per[c.Risers]
			switch w := float64(v) * 1e-9; {
			case c.AtLeast:
				if have && w < c.Cost-within {
					t.Errorf("seed %d: %d risers: said to cost at least %v, cost %v", seed, c.Risers, c.Cost, w)
				}
			case c.OK != have:
				t.Errorf("seed %d: %d risers: ok %v (%s), want %v", seed, c.Risers, c.OK, c.Why, have)
			case c.OK && math.Abs(c.Cost-w) > within:
				t.Errorf("seed %d: %d risers: cost %v, want %v", seed, c.Risers, c.Cost, w)
			}
		}
	}
	t.Logf("%d fits, %d tasks with none, %d layouts tried; %d mixed, %d platforms, %d at other ends, %d with bends, %d with courses, %d on a standing riser, %d walked (%d of them mixed)",
		fits, nothing, layouts, mixed, decks, moved, bent, coursed, standing, walked, mixedWalk)
	for _, n := range []int{fits / 10, mixed, decks, moved, bent, coursed, standing, walked, mixedWalk} {
		if n < 30 {
			t.Errorf("the tasks are too alike")
			break
		}
	}
}
