package stair

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"sync"

	"github.com/martinlindhe/unit"
)

// How the fit is solved.
//
// Positions are counted in grid cells from the foot, 0 to N; the run is N cells
// and a remainder. For each pair of ends and riser count n, a case, the levels of
// the treads are fixed, and so what a tread or landing costs depends on its
// level and its two ends only: a difference of prefix sums, of which there is one
// for each kind of what lies there. Three tables are filled from the foot up:
//
//	begin[k][i]  the least that a path up to riser k, at i, can cost if a flight begins there
//	end[k][i]    the same if a flight ends there
//	along t      the same if a flight of treads t is under way there
//
// end follows from begin along the diagonals (k, i), (k+1, i+t), …; begin from
// end by a landing, a sliding minimum along a row. The uppermost flight ends on
// the head, which fixes all its stations once its tread and number of risers
// are chosen, so those few are tried one by one; that also puts the remainder of
// the run into the landing below it.
//
// What a path of free treads would still cost at least, from any riser at any
// position up to the head, is cheap to tell beforehand; where that and what was
// spent to get there is more than a layout already found costs, the search goes
// no further. A first search with a few of the tread depths finds such a layout.
// Before the cells of a case are priced, the same is told roughly from cells many
// times as long (rough.go), which leaves few places to price; where a search
// would be long, it is told better from flights of nearly equal treads
// (group.go). Cases that promise most come first. None of this changes the
// answer: what is left out costs more than what is found.
//
// The walker's landings depend on the tread of the flight below; where they
// count, the flights that end on a level are kept apart by tread until their
// landings are crossed (paced.go).
//
// A value is cost<<flightBits | number of flights: comparing values compares
// costs first and flights second. Sums are of whole numbers and exact, and the
// way back needs no record of choices: it looks for the first choice, in the
// order of ties, whose sum is the value.

const (
	flightBits = 11
	none       = int64(1) << 61 // no path
	some       = int64(1) << 60 // below this there is one: sums onto none stay above
	maxValue   = int64(1) << 58 // what costs may add up to
)

// What can lie on the path. The first two are kinds of flight as well, the
// first and the third kinds of landing.
const (
	onBox   = 0
	onFrame = 1
	onDeck  = 2
)

// The two kinds of landing.
const (
	onGround   = 0
	onPlatform = 1
)

// under is what a kind of landing lies on.
var under = [2]int{onBox, onDeck}

// errScale says that the costs add up to more than values can hold.
var errScale = errors.New("costs too large for the quantum")

// outcome is what was found for one riser count.
type outcome struct {
	value   int64
	riser   float64
	tried   bool
	atLeast bool
}

// trying is one pair of ends and one riser count.
type trying struct {
	pair, n int
	least   int64 // what it costs at least
	kept    int   // which of the looks kept is the one at it, from 1; 0 none
}

type solver struct {
	*problem
	*scratch
	quantum  float64
	ends     [][2]Point
	framer   Framer
	pricer   FlightPricer
	starter  Starter
	sinker   Sinker // nil: none
	platform int64  // what a platform costs beside its cells, in quanta as a value
	cells    int    // N
	rest     float64
	pair     int // whose stations are at hand; −1 none

	best struct {
		value int64
		trying
		plan []planned // nil: none yet
	}
	found []outcome // by riser count less the least one
	least int
	err   error

	priced  int   // cells priced so far
	updates int64 // steps done so far

	// For one case:
	trying trying
	n      int
	riser  float64
	base   int64 // what the risers cost
	limit  int64 // a value that can be had: more is of no interest
	top    int   // uppermost riser with positions on the grid
	width  int   // of the widest level, positions of its riser
	total  int64 // what all cells tabled and priced add up to
	decks  bool

	// Of a fit that goes by an earlier one:
	strict   Resembler // nil: it does not
	now      *seen     // the same
	lenients []lenient

	band   *glance // where the risers can be
	two    [2]unit.Length
	misfit landingTable
}

// scratch is the room that a solver works in. One fit after the other, as while a
// point of the ground is moved, uses the same: making it anew takes as long as
// filling it.
type scratch struct {
	at     []unit.Length // the grid from foot to head
	flight [2]flights
	levels []level // 1..top; [0] is not used

	glance     glance   // a look at a case
	kept       []glance // looks that are kept, by order
	roughArena [2]arena // of each

	arena   arena
	rows    [2][2][]int64 // by kind: of this level and the one below
	begun   [2][2][]int64 // the same of flights that begin there
	alone   [2][2][]bool  // by tread: whether those are all
	byTread [2][]int64    // values of the flights that end on a level, by tread, where the walker counts
	queue   []int32
	sweep   [6][]int64
	// By kind of landing: what it costs at least to come to the places of a level.
	cheapest [2][]int64
	cost     []float64
	sunk     []float64
	bears    []bool
}

var scratches = sync.Pool{New: func() any { return new(scratch) }}

// clean makes scratch as good as new, but for the room it has.
func (x *scratch) clean() {
	x.at, x.kept = x.at[:0], x.kept[:0]
	for i := range x.flight {
		f := &x.flight[i]
		*f = flights{all: f.all[:0], coarse: f.coarse[:0]}
	}
	for i := range x.roughArena {
		x.roughArena[i].reset()
	}
}

// keepLook gives room for one more look that is kept.
func (x *scratch) keepLook(factor int) *glance {
	n := len(x.kept)
	if n == cap(x.kept) {
		x.kept = append(x.kept, glance{})
	}
	x.kept = x.kept[:n+1]
	v := &x.kept[n]
	*v = glance{factor: factor, levels: v.levels, at: v.at, tops: v.tops[:0], arena: &x.roughArena[1]}
	return v
}

// flights is what holds for flights of one kind in a case.
type flights struct {
	on        bool
	treads    []tread // on the grid, ascending
	all       []tread
	coarse    []tread
	minRisers int
	extra     int64 // what each riser costs beyond base
	start     int64 // what the path's first costs beyond that
	single    int64 // cost as a whole of a flight of one riser
	// What a flight costs at least beside its cells: to open it, and for each
	// tread.
	open, each int64
	tmin, tmax int // of treads
	limited    bool
}

// tread is one tread depth to be tried at one riser height.
type tread struct {
	cells  int
	risers int       // the most risers a flight of it may have
	group  int       // of treads that go together in bounds
	each   int64     // what each riser and tread after the first costs beside the cells
	whole  []int64   // by risers: what the flight costs as a whole, none where refused, unasked; nil: nothing
	barred []stretch // where none may begin
	// What landings of 0, 1, … cells behind it cost by their misfit, without and
	// with the remainder of the run; nil where the walker does not count.
	landing [2][]int64
}

// unasked is in place of a flight's cost that was not asked for yet.
const unasked = int64(-1)

// wholeOf is what a flight of m risers and a tread depth costs beside cells and risers.
func (s *solver) wholeOf(kind int, t *tread, m int) int64 {
	if t.whole == nil {
		return 0
	}
	if t.whole[m] == unasked {
		t.whole[m], _ = s.shape(kind, m, float64(float64(t.cells)*s.grid))
	}
	return t.whole[m]
}

func newSolver(p *problem, quantum float64) (*solver, error) {
	s := &solver{problem: p, scratch: scratches.Get().(*scratch), quantum: quantum, ends: p.pairs, pair: -1}
	s.clean()
	if s.ends == nil {
		s.ends = [][2]Point{{p.foot, p.head}}
	}
	if s.best.value = none; p.within > 0 && p.within < float64(maxValue>>flightBits)*quantum {
		s.best.value = s.toValue(p.within) | (1<<flightBits - 1)
	}
	if p.framed {
		s.framer, _ = p.site.(Framer)
	}
	s.pricer, _ = p.site.(FlightPricer)
	s.sinker, _ = p.site.(Sinker)
	s.starter, _ = p.site.(Starter)
	most := 0
	for i, e := range s.ends {
		s.take(e)
		lo, hi := s.counts()
		if lo <= hi && hi > maxRisers {
			return nil, Faults{{Field: "riser_min", Got: text(unit.Length(p.riserMin)),
				Problem: fmt.Sprintf("allows more than %d risers on a rise of %s", maxRisers, text(unit.Length(p.rise))),
				Fix:     "raise it, or plan the path in parts"}}
		}
		if i == 0 || lo < s.least {
			s.least = lo
		}
		if hi > most {
			most = hi
		}
	}
	s.take(s.ends[0])
	for n := s.least; n <= most; n++ {
		s.found = append(s.found, outcome{value: none})
	}
	return s, nil
}

// solve tries every case.
func (s *solver) solve() (Fitted, error) {
	if s.framer != nil {
		if c, ok := s.framer.Platform(); ok {
			s.decks = true
			if s.platform = s.toValue(math.Abs(c)); c < 0 {
				s.platform = -s.platform
			}
		}
	}
	var cases []trying
	for n := s.least; n < s.least+len(s.found); n++ {
		for i, e := range s.ends {
			if s.take(e); s.made(onBox, s.riserOf(n)) || s.made(onFrame, s.riserOf(n)) {
				cases = append(cases, trying{pair: i, n: n})
				if o := &s.found[n-s.least]; !o.tried {
					o.tried, o.riser = true, s.riserOf(n)
				}
			}
		}
	}
	for _, c := range cases {
		s.use(c)
		s.straight(c.n)
	}
	if s.full < 0 && len(cases) > 1 {
		if s.recollect(len(cases)); s.strict == nil {
			s.rank(cases)
		} else {
			s.on(s.leniently(wide))
			s.rank(cases)
			s.on(s.strict)
		}
	}
	for i, c := range cases {
		if s.err != nil {
			break
		}
		if s.full < 0 && c.least > s.best.value {
			if c.least < none {
				s.found[c.n-s.least].giveUp(c.least)
			}
			continue
		}
		s.use(c)
		if s.strict != nil && i > 0 && s.best.plan != nil {
			s.again(c)
		} else {
			s.parted(c.n)
		}
	}
	s.spent += s.updates + 10*int64(s.priced)
	s.take(s.ends[0])
	if s.err != nil {
		return Fitted{}, s.err
	}
	f := Fitted{Considered: s.considered()}
	if s.best.plan != nil {
		s.take(s.ends[s.best.pair])
		f.Cost = s.toCost(s.best.value)
		if s.earlier != nil {
			s.earlier.best = s.spot(s.best.trying)
		}
		f.Layout = build(s.foot, s.head, s.wash, s.run, s.rise, s.climb, s.stands, s.best.plan)
		s.take(s.ends[0])
	}
	return f, nil
}

// rank finds what the cases cost at least, roughly, and puts those first that
// promise most: a good layout found early spares much work.
func (s *solver) rank(cases []trying) {
	if s.landingMin == 0 {
		return
	}
	for i := range cases {
		c := &cases[i]
		s.use(*c)
		if s.strict != nil && s.spot(*c) == s.earlier.best {
			continue // which is tried first
		}
		if least, ok := s.recall(*c); ok {
			c.least = least
			continue
		}
		c.least = none
		if s.begin(c.n); c.n < s.minAny(1)+s.minAny(2) || !s.treads() || !s.partable(c.n) {
			continue
		}
		if s.stations(); s.err != nil {
			return
		}
		v := s.look()
		if s.roughArena[1].given < maxKept {
			v = s.keepLook(s.longCell())
			c.kept = len(s.kept)
		}
		if c.least = s.roughly(v); s.err != nil {
			return
		}
		if s.strict != nil {
			s.remember(*c, c.least, wide, s.nextLeeway(*c))
		}
	}
	sort.SliceStable(cases, func(i, j int) bool { return cases[i].least < cases[j].least })
}

// use makes a case the one at hand.
func (s *solver) use(c trying) {
	s.trying = c
	if s.pair == c.pair {
		return
	}
	s.take(s.ends[c.pair])
	s.pair = c.pair
	s.cells = int(math.Floor(s.run/s.grid + 1e-9))
	s.rest = s.run - float64(float64(s.cells)*s.grid)
	if s.rest < tol {
		s.rest = 0
	}
	s.at = s.at[:0]
	s.misfit.rows = nil
}

// stations fills at, the grid from foot to head.
func (s *solver) stations() {
	if len(s.at) > 0 {
		return
	}
	if s.cells > maxCells {
		s.err = s.tooMuch("table")
		return
	}
	for i := 0; i <= s.cells; i++ {
		s.at = append(s.at, unit.Length(float64(s.foot.Station)+float64(float64(i)*s.grid)))
	}
	if s.rest == 0 {
		s.at[s.cells] = s.head.Station
	}
}

// value of a cost in quanta, and back.
func (s *solver) toCost(v int64) float64 { return float64(v>>flightBits) * s.quantum }

func (s *solver) toValue(cost float64) int64 {
	if !(cost >= 0) || math.IsInf(cost, 0) {
		if s.err == nil {
			s.err = Faults{{Field: "site", Got: fmt.Sprint(cost), Problem: "is not a cost", Fix: "price every cell, riser and flight at 0 or more, finite"}}
		}
		return 0
	}
	q := math.Floor(cost/s.quantum + 0.5)
	if q >= float64(maxValue>>flightBits) {
		if s.err == nil {
			s.err = errScale
		}
		return 0
	}
	return int64(q) << flightBits
}

// add counts a cost towards what all costs may add up to.
func (s *solver) add(v int64) {
	s.total += v
	if s.total >= maxValue && s.err == nil {
		s.err = errScale
	}
}

// cellsOn prices cells of one kind of underlay.
func (s *solver) cellsOn(what int, at []unit.Length, l Line, cost []float64, bears []bool) {
	switch what {
	case onFrame:
		s.framer.FramedCells(at, l, cost, bears)
	case onDeck:
		s.framer.PlatformCells(at, l, cost, bears)
	default:
		s.site.Cells(at, l, cost, bears)
	}
}

// whole prices one stretch behind riser k as a single cell.
func (s *solver) whole(what, k int, from, to unit.Length) (v int64, ok bool) {
	s.two = [2]unit.Length{from, to}
	s.cost = grow(s.cost, 1)
	s.bears = growBools(s.bears, 1)
	if s.priced++; s.priced > maxPriced {
		s.err = s.tooMuch("price")
		return 0, false
	}
	s.cellsOn(what, s.two[:], s.surface(k), s.cost[:1], s.bears[:1])
	if !s.bears[0] {
		return 0, false
	}
	v = s.toValue(s.cost[0])
	s.add(v)
	return v, s.err == nil
}

func (s *solver) surface(k int) Line {
	if s.stands {
		k--
	}
	return surface(s.foot, unit.Length(s.riser), s.wash, k)
}

// begin sets the solver to n risers and gives what they cost.
func (s *solver) begin(n int) {
	s.n, s.riser, s.total = n, s.riserOf(n), 0
	r, least, first := unit.Length(s.riser), 0.0, true
	var each [2]float64
	for kind := range s.flight {
		f := &s.flight[kind]
		f.on = s.made(kind, s.riser)
		f.minRisers = s.of(kind).minRisers
		f.extra, f.start = 0, 0
		if !f.on {
			continue
		}
		if s.starter != nil {
			f.start = s.toValue(s.starter.Start(kindNames[kind], r))
			s.add(f.start)
		}
		if each[kind] = s.site.Riser(r); kind == onFrame {
			each[kind] = s.framer.FramedRiser(r)
		}
		if first || each[kind] < least {
			least, first = each[kind], false
		}
	}
	s.base = s.toValue(float64(s.rising(n)) * least)
	s.add(s.base)
	for kind := range s.flight {
		if f := &s.flight[kind]; f.on && each[kind] > least {
			f.extra = s.toValue(each[kind] - least)
			s.add(int64(n) * f.extra)
		}
	}
}

// opening is what the first riser of a flight that begins with riser a costs
// beyond base. One that stands already costs nothing.
func (s *solver) opening(kind, a int) int64 {
	if a == 1 && s.stands {
		return 0
	}
	if a == 1 {
		return s.flight[kind].extra + s.flight[kind].start
	}
	return s.flight[kind].extra
}

// fewest is the fewest risers of a flight that begins with riser a.
func (s *solver) fewest(kind, a int) int {
	if a == 1 && s.stands {
		return 1
	}
	return s.flight[kind].minRisers
}

// wholesPriced is whether flights of a kind may cost something as wholes.
func (s *solver) wholesPriced(kind int) bool {
	return s.pricer != nil && s.pricer.FlightsPriced(kindNames[kind])
}

// shape is a flight as its cost depends on it.
func (s *solver) shape(kind, m int, t float64) (value int64, ok bool) {
	if !s.wholesPriced(kind) {
		return 0, true
	}
	c, ok := s.pricer.Flight(Shape{Kind: kindNames[kind], Risers: m, Tread: unit.Length(t), Riser: unit.Length(s.riser),
		Run: unit.Length(float64(m-1) * t), Rise: unit.Length(float64(float64(m)*s.riser) + float64(float64(m-1)*float64(s.wash*t)))})
	if !ok {
		return none, false
	}
	return s.toValue(c), true
}

// atLeast is a value that a cost counts as at least, by itself or in a sum.
func (s *solver) atLeast(cost float64) int64 {
	return max(0, s.toValue(cost)-1<<flightBits)
}

// pacing is what a tread's misfit costs.
func (s *solver) pacing(t float64) int64 {
	if s.walking == 0 {
		return 0
	}
	return s.toValue(s.walking * treadMisfit(s.riser, t, s.pace))
}

// treadRange is the range of tread depths at riser height r.
func (b *flightBounds) treadRange(r float64) (lo, hi float64) {
	lo, hi = b.treadMin, b.treadMax
	if x := b.stepMin - float64(2*r); b.stepMin != 0 && x > lo {
		lo = x
	}
	if b.steepest != 0 {
		// The nosing line rises by a riser and the fall of a tread in each tread.
		if b.steepest <= b.wash {
			lo = math.Inf(1)
		} else if x := r / (b.steepest - b.wash); x > lo {
			lo = x
		}
	}
	if x := b.stepMax - float64(2*r); b.stepMax != 0 && x < hi {
		hi = x
	}
	return lo, hi
}

// flightRisers is the most risers a flight with treads of t may have, at riser
// height r, of n.
func (b *flightBounds) flightRisers(r, t float64, n int) int {
	if b.maxRisers != 0 && b.maxRisers < n {
		n = b.maxRisers
	}
	if b.maxRise != 0 {
		// m risers and the wash of m−1 treads: m·r + (m−1)·w·t
		w := float64(b.wash * t)
		if m := math.Floor((b.maxRise + tol + w) / (r + w)); m < float64(n) {
			n = int(m)
		}
	}
	return n
}

// keep takes a layout of the present case into account.
func (s *solver) keep(v int64, plan func() []planned) {
	o := &s.found[s.n-s.least]
	if v < o.value || v == o.value && o.atLeast {
		*o = outcome{value: v, riser: s.riser, tried: true}
	}
	b := &s.best
	better := v < b.value
	if v == b.value {
		better = s.n < b.n || s.n == b.n && s.trying.pair < b.pair
	}
	if better {
		b.value, b.trying, b.plan = v, s.trying, plan()
	}
}

// straight tries n risers in one flight.
func (s *solver) straight(n int) {
	if s.err != nil || n < 2 {
		return
	}
	s.begin(n)
	t := s.run / float64(n-1)
flight:
	for kind := range s.flight {
		b := s.of(kind)
		if !s.flight[kind].on {
			continue
		}
		lo, hi := b.treadRange(s.riser)
		if t < lo-tol || t > hi+tol || n < s.fewest(kind, 1) || b.flightRisers(s.riser, t, n) < n {
			continue
		}
		whole, ok := s.shape(kind, n, t)
		if !ok {
			continue
		}
		v := s.base + 1 + whole + s.opening(kind, 1) + int64(n-1)*(s.flight[kind].extra+s.pacing(t))
		from := s.foot.Station
		for k := 1; k < n; k++ {
			to := unit.Length(float64(s.foot.Station) + float64(float64(k)*t))
			if k == n-1 {
				to = s.head.Station
			}
			if !s.allows(kind, float64(from), float64(to)) {
				continue flight
			}
			c, ok := s.whole(kind, k, from, to)
			if !ok {
				continue flight
			}
			v, from = v+c, to
		}
		s.keep(v, func() []planned { return []planned{{risers: n, tread: t, kind: kind}} })
	}
}

// parted tries n risers in two flights or more.
func (s *solver) parted(n int) {
	if s.err != nil || !s.partings(n) {
		return
	}
	own := &s.found[s.n-s.least]
	most := own.value
	// Where it is too much work to find what every count costs at best, it is
	// enough to see whether this one can be as good as the best.
	if s.full < 0 || s.updates > s.full {
		most = min(most, s.best.value)
	}
	v := s.firstLook()
	if v == nil {
		return
	}
	times := int64(2)
	for limit := guess(v.least, times, most); s.err == nil; limit = guess(limit, times, most) {
		s.limit = limit
		if least := s.lookAt(v); least <= limit {
			// Most cases cost little more than this look tells. Where a case is only to be
			// shown not to be better than one found, that is not asked.
			if s.limit = least + least/8; s.limit < limit && (limit < most || s.best.plan == nil) && s.within(v) {
				return
			}
			if s.limit = limit; s.within(v) {
				return
			}
		}
		if limit == most {
			if s.err == nil && most < own.value {
				own.giveUp(most)
			}
			return
		}
		if times *= 2; times > maxGuess {
			times = none // and then whatever it costs
		}
	}
}

// partings makes ready for n risers in two flights or more. It reports whether there
// can be any.
func (s *solver) partings(n int) bool {
	if s.landingMin == 0 {
		return false
	}
	if s.begin(n); n < s.minAny(1)+s.minAny(2) || !s.treads() || !s.partable(n) {
		return false
	}
	if s.stations(); s.err != nil {
		return false
	}
	s.bar()
	s.pacings()
	return true
}

// guess is what a case may cost, to look within: some times what it costs at
// least, and at most as much as is of interest. The closer the limit, the less
// work; where there is nothing within, the next guess is higher.
func guess(least, times, most int64) int64 {
	// One that comes near what is of interest is not worth a look of its own.
	if least == 0 || least > most/times/2 {
		return most
	}
	return least * times
}

// maxGuess is how many times a guess the next one is at most.
const maxGuess = 8

// within looks for the best layout of the case at hand within the limit, and
// reports whether there is one.
func (s *solver) within(v *glance) bool {
	a, k, lt, value := s.find(v)
	if a == nil {
		return false
	}
	own := &s.found[s.n-s.least]
	if value < own.value || value == own.value && s.full < 0 {
		s.keep(value, func() []planned { return s.wayBack(a, k, lt) })
	}
	return true
}

// find gives the best layout of the case at hand within the limit, by its uppermost
// flight, the riser below its landing and the kind of that; nil when there is none.
func (s *solver) find(v *glance) (a *arrival, riser, lt int, value int64) {
	if s.err != nil || !s.roughBand(v) {
		return nil, 0, 0, 0
	}
	if s.band = v; !s.table() {
		return nil, 0, 0, 0
	}
	s.arrivals()
	if s.err != nil || !s.lookAhead() {
		return nil, 0, 0, 0
	}
	s.narrow()
	// What is left of the tread depths is as good as all for a limit.
	if s.work() > worthFew && s.few() {
		if a, _, _, v := s.search(); a != nil && v < s.limit {
			s.limit = v
			s.narrow()
		}
	}
	if s.usable(); !s.bounded() {
		return nil, 0, 0, 0
	}
	if a, riser, lt, value = s.search(); s.err != nil {
		return nil, 0, 0, 0
	}
	return a, riser, lt, value
}

// giveUp notes that the layouts of a count all cost at least a value, and that
// none is better than the best.
func (o *outcome) giveUp(value int64) {
	if value < o.value {
		o.value, o.atLeast = value, true
	}
}

// minAny is the fewest risers of a flight of any kind that begins with riser a.
func (s *solver) minAny(a int) int {
	least := maxRisers
	for kind := range s.flight {
		if m := s.fewest(kind, a); s.flight[kind].on && m < least {
			least = m
		}
	}
	return least
}

// treads lists the tread depths of every kind of flight. It reports whether
// there can be flights at all.
func (s *solver) treads() bool {
	any := false
	for kind := range s.flight {
		f, b := &s.flight[kind], s.of(kind)
		f.all, f.tmin, f.tmax, f.limited, f.open, f.each = f.all[:0], 0, 0, f.minRisers > 2, 0, 0
		if f.single = 0; f.minRisers == 1 || s.stands {
			f.single, _ = s.shape(kind, 1, 0)
		}
		if !f.on {
			f.treads = f.all
			continue
		}
		lo, hi := b.treadRange(s.riser)
		// Deeper treads than leave room for a landing are of no use.
		if room := s.run - s.landingMin; hi > room {
			hi = room
		}
		for c := int(math.Ceil((lo - tol) / s.grid)); float64(float64(c)*s.grid) <= hi+tol; c++ {
			t := float64(float64(c) * s.grid)
			m := b.flightRisers(s.riser, t, s.n)
			if m < 2 || m < f.minRisers && !s.stands {
				continue
			}
			f.all = append(f.all, tread{cells: c, risers: m, each: f.extra + s.pacing(t)})
		}
		s.wholes(kind)
		f.treads = f.all
		if len(f.all) > 0 {
			f.tmin, f.tmax = f.all[0].cells, f.all[len(f.all)-1].cells
			for i := range f.all {
				if f.all[i].whole != nil {
					f.limited = true
				}
			}
		}
		any = any || len(f.all) > 0 || f.minRisers == 1
	}
	return any && s.err == nil
}

// wholes asks what flights of a kind cost as wholes, and works out what a flight
// costs at least to open and for each tread.
func (s *solver) wholes(kind int) {
	f := &s.flight[kind]
	f.open, f.each = 0, none
	for i := range f.all {
		if x := f.all[i].each; x < f.each {
			f.each = x
		}
	}
	if f.each == none {
		f.each = 0
	}
	if !s.wholesPriced(kind) {
		return
	}
	open, each, bound := 0.0, 0.0, false
	if x, ok := s.pricer.(FlightBounder); ok && len(f.all) > 0 {
		open, each, bound = x.FlightLeast(kindNames[kind], unit.Length(float64(float64(f.all[0].cells)*s.grid)))
	}
	most, size, priced := 0, 0, false
	for i := range f.all {
		most = max(most, f.all[i].risers)
		size += f.all[i].risers + 1
	}
	room := make([]int64, size)
	for i := range f.all {
		t := &f.all[i]
		t.whole, room = room[:t.risers+1], room[t.risers+1:]
		for m := range t.whole {
			t.whole[m] = none
			if m >= 2 && (m >= f.minRisers || s.stands) {
				if t.whole[m] = unasked; !bound {
					s.wholeOf(kind, t, m)
				}
			}
			priced = priced || m >= 2 && t.whole[m] != 0
		}
	}
	if bound {
		if f.open = s.atLeast(open); f.minRisers == 1 || s.stands {
			f.open = min(f.open, f.single)
		}
		f.each += s.atLeast(each)
		return
	}
	if !priced && f.single == 0 {
		for i := range f.all {
			f.all[i].whole = nil
		}
		return
	}
	// The least by risers, and a line below it: open + each·(risers−1).
	least := make([]int64, most+1)
	least[0] = none
	for m := 1; m <= most; m++ {
		least[m] = none
		if m == 1 && (f.minRisers == 1 || s.stands) {
			least[m] = f.single
		}
		for i := range f.all {
			if t := &f.all[i]; m >= 2 && m <= t.risers && t.whole[m] < least[m] {
				least[m] = t.whole[m]
			}
		}
	}
	lo, hi := 0, 0
	for m := 1; m <= most; m++ {
		if least[m] < some {
			if lo == 0 {
				lo = m
			}
			hi = m
		}
	}
	if lo == 0 {
		return
	}
	slope := int64(0)
	if hi > lo && least[hi] > least[lo] {
		slope = (least[hi] - least[lo]) / int64(hi-lo)
	}
	below := func(slope int64) int64 {
		open := none
		for m := lo; m <= hi; m++ {
			if least[m] < some && least[m]-slope*int64(m-1) < open {
				open = least[m] - slope*int64(m-1)
			}
		}
		return open
	}
	begun := below(slope)
	for begun < 0 {
		slope /= 2
		begun = below(slope)
	}
	// The flight bits of a bound are for flights alone.
	f.open, f.each = begun>>flightBits<<flightBits, f.each+slope>>flightBits<<flightBits
}

// few leaves some of the tread depths for a first search: where the walker
// counts those that cost least, else from shallow to deep. It reports whether it
// left any out.
func (s *solver) few() bool {
	left := false
	for kind := range s.flight {
		f := &s.flight[kind]
		if len(f.all) <= 3*fewTreads {
			continue
		}
		left = true
		f.coarse = f.coarse[:0]
		if s.walking > 0 {
			for i := range f.all {
				below := 0
				for j := range f.all {
					if f.all[j].each < f.all[i].each || f.all[j].each == f.all[i].each && j < i {
						below++
					}
				}
				if below < fewTreads {
					f.coarse = append(f.coarse, f.all[i])
				}
			}
		} else {
			for i := 0; i < fewTreads; i++ {
				f.coarse = append(f.coarse, f.all[i*(len(f.all)-1)/(fewTreads-1)])
			}
		}
		f.treads = f.coarse
	}
	return left
}

// usable leaves the tread depths of which one tread alone does not cost more
// than the limit allows.
func (s *solver) usable() {
	least := s.fromFoot()
	for kind := range s.flight {
		f := &s.flight[kind]
		f.treads = f.all
		if s.walking == 0 || !f.on {
			continue
		}
		f.coarse = f.coarse[:0]
		for i := range f.all {
			if least+f.all[i].each-f.each <= s.limit {
				f.coarse = append(f.coarse, f.all[i])
			}
		}
		f.treads = f.coarse
	}
}

// fewTreads is how many tread depths of a kind the first search takes.
const fewTreads = 7

// worthFew is the work of a search from which a first search with few tread depths
// pays, though there is a limit.
const worthFew = 500_000

// bar finds where treads must not lie for the bends.
func (s *solver) bar() {
	if len(s.bends) == 0 {
		return
	}
	for kind := range s.flight {
		for i := range s.flight[kind].all {
			t := &s.flight[kind].all[i]
			t.barred = s.barred(kind, t.cells)
		}
	}
}

// partable is whether several flights of n risers can cover the run at all.
func (s *solver) partable(n int) bool {
	spans, _ := s.spans(n)
	for _, p := range spans {
		if p.flights > 1 && s.run >= p.lo-tol && s.run <= p.hi+tol {
			return true
		}
	}
	return false
}

// tooMuch is the fault for a fit beyond the caps; what would do is for advise to say.
func (s *solver) tooMuch(what string) error {
	return Faults{{Field: "grid", Got: text(unit.Length(s.grid)),
		Problem: fmt.Sprintf("makes too many places to %s on a run of %s", what, text(unit.Length(s.run)))}}
}

// considered lists what was found by riser count.
func (s *solver) considered() []PerCount {
	out := make([]PerCount, 0, len(s.found))
	for i, o := range s.found {
		n := s.least + i
		c := PerCount{Risers: n, Riser: unit.Length(o.riser)}
		if !o.tried {
			c.Riser = unit.Length(s.riserOf(n))
		}
		switch {
		case o.atLeast:
			c.AtLeast, c.Cost = true, s.toCost(o.value)
		case o.value < some:
			c.OK, c.Cost, c.Flights = true, s.toCost(o.value), int(o.value&(1<<flightBits-1))
		default:
			c.Why = s.why(n)
		}
		out = append(out, c)
	}
	return out
}
