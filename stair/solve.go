package stair

import (
	"errors"
	"fmt"
	"math"
	"sort"

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
	kept    int   // which of the looks kept is the first at it, from 1; 0 none
}

type solver struct {
	*problem
	quantum  float64
	ends     [][2]Point
	framer   Framer
	pricer   FlightPricer
	platform int64 // what a platform costs beside its cells, in quanta as a value
	cells    int   // N
	rest     float64
	at       []unit.Length
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
	flight [2]flights
	levels []level // 1..top; [0] is not used
	top    int     // uppermost riser with positions on the grid
	width  int     // of the widest level, positions of its riser
	total  int64   // what all cells tabled and priced add up to
	decks  bool

	looks      [2]glance
	kept       []glance // the first looks at cases, by order
	roughArena [3]arena
	band       *glance // where the risers can be; nil: anywhere

	arena   arena
	rows    [2][2][]int64 // by kind: of this level and the one below
	byTread [2][]int64    // values of the flights that end on a level, by tread, where the walker counts
	queue   []int32
	sweep   [6][]int64
	two     [2]unit.Length
	cost    []float64
	bears   []bool
	misfit  landingTable
}

// flights is what holds for flights of one kind in a case.
type flights struct {
	on        bool
	treads    []tread // on the grid, ascending
	all       []tread
	coarse    []tread
	minRisers int
	extra     int64 // what each riser costs beyond base
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
	whole  []int64   // by risers: what the flight costs as a whole, none where refused; nil: nothing
	barred []stretch // where none may begin
	// What landings of 0, 1, … cells behind it cost by their misfit, without and
	// with the remainder of the run; nil where the walker does not count.
	landing [2][]int64
}

// of is what a flight of m risers costs beside cells and risers.
func (t *tread) of(m int) int64 {
	if t.whole == nil {
		return 0
	}
	return t.whole[m]
}

// strip is what is tabled of one kind of underlay behind a riser, for the cells
// from the level's lo to edge.
type strip struct {
	edge  int
	sum   []int64 // sum[i-lo]: cost of the cells lo..i, for i up to edge
	reach []int32 // reach[i-lo]: how far the cells from i on bear, a position
}

// level is what is tabled for the level behind riser k, for positions lo..hi of
// that riser.
type level struct {
	k        int
	lo, hi   int
	from, to int // what of lo..hi is still of use
	edge     int // of the strip that goes furthest
	strips   [3]strip
	begin    [2][]int64   // for lo..hi, by the kind of flight that begins there
	end      [2][]int64   // by the kind that ends there
	ahead    [2][]int64   // by the kind under way: what the way to the head costs at least
	group    [2][][]int64 // the same for each group of treads; nil where not worked out
	open     []int64      // the least of them with what a flight costs to open
	last     [2][]int64   // for lo..edge, by kind of landing: reached by it, the uppermost flight to begin there
	arrivals []arrival
}

// arrival is an uppermost flight whose landing lies behind a level's riser: it
// begins at position j (and the remainder of the run).
type arrival struct {
	kind   int
	cells  int
	risers int
	j      int
	value  [2]int64 // of the flight and of the remainder of the landing, by its kind
}

func newSolver(p *problem, quantum float64) (*solver, error) {
	s := &solver{problem: p, quantum: quantum, ends: p.pairs, pair: -1}
	if s.ends == nil {
		s.ends = [][2]Point{{p.foot, p.head}}
	}
	s.best.value = none
	if p.framed {
		s.framer, _ = p.site.(Framer)
	}
	s.pricer, _ = p.site.(FlightPricer)
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
			s.decks, s.platform = true, s.toValue(c)
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
		s.rank(cases)
	}
	for _, c := range cases {
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
		s.parted(c.n)
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
		c.least = none
		if s.begin(c.n); c.n < s.minAny(1)+s.minAny(2) || !s.treads() || !s.partable(c.n) {
			continue
		}
		if s.stations(); s.err != nil {
			return
		}
		v := s.look(0)
		if len(cases) <= maxKept {
			s.kept = append(s.kept, glance{factor: lookAt[0], arena: &s.roughArena[2]})
			v = &s.kept[len(s.kept)-1]
			c.kept = len(s.kept)
		}
		c.least = s.roughly(v, nil)
		if s.err != nil {
			return
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
		f.extra = 0
		if !f.on {
			continue
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
	return s.flight[kind].extra
}

// fewest is the fewest risers of a flight that begins with riser a.
func (s *solver) fewest(kind, a int) int {
	if a == 1 && s.stands {
		return 1
	}
	return s.flight[kind].minRisers
}

// shape is a flight as its cost depends on it.
func (s *solver) shape(kind, m int, t float64) (value int64, ok bool) {
	if s.pricer == nil {
		return 0, true
	}
	c, ok := s.pricer.Flight(Shape{Kind: kindNames[kind], Risers: m, Tread: unit.Length(t), Riser: unit.Length(s.riser),
		Run: unit.Length(float64(m-1) * t), Rise: unit.Length(float64(float64(m)*s.riser) + float64(float64(m-1)*float64(s.wash*t)))})
	if !ok {
		return none, false
	}
	return s.toValue(c), true
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
	if s.err != nil || s.landingMin == 0 {
		return
	}
	if s.begin(n); n < s.minAny(1)+s.minAny(2) || !s.treads() || !s.partable(n) {
		return
	}
	if s.stations(); s.err != nil {
		return
	}
	s.bar()
	s.pacings()
	own := &s.found[s.n-s.least]
	s.limit = own.value
	if s.full < 0 && s.best.value < s.limit {
		s.limit = s.best.value
	}
	if s.band = nil; s.limit < none && !s.lookTwice() {
		if s.err == nil && s.limit < own.value {
			own.giveUp(s.limit)
		}
		return
	}
	if s.err != nil || !s.table() {
		if s.err == nil && s.limit < own.value {
			own.giveUp(s.limit)
		}
		return
	}
	s.arrivals()
	if s.err != nil {
		return
	}
	if !s.lookAhead() {
		if s.limit < own.value {
			own.giveUp(s.limit) // arrivals beyond the limit were left out
		}
		return
	}
	if s.updates > s.full && s.best.value <= s.limit {
		// Too much work to find what every count costs at best: it is enough to
		// see whether this one can be as good as the best.
		s.limit = s.best.value
		if least := s.fromFoot() + 1; least > s.limit {
			own.giveUp(least) // unless one flight is the least, and known
			return
		}
	}
	shared := s.limit < own.value
	s.narrow()
	// What is left of the tread depths is as good as all for a limit.
	if !shared && s.few() {
		if a, _, _, v := s.search(); a != nil && v < s.limit {
			s.limit = v
			s.narrow()
		}
	}
	if s.usable(); !s.bounded() {
		if shared {
			own.giveUp(s.limit)
		}
		return
	}
	if a, k, lt, v := s.search(); a != nil && (v < own.value || v == own.value && s.full < 0) {
		s.keep(v, func() []planned { return s.wayBack(a, k, lt) })
	} else if shared && a == nil {
		own.giveUp(s.best.value)
	}
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
	if s.pricer == nil {
		return
	}
	most, priced := 0, false
	for i := range f.all {
		t := &f.all[i]
		most = max(most, t.risers)
		t.whole = make([]int64, t.risers+1)
		for m := range t.whole {
			t.whole[m] = none
			if m >= 2 && (m >= f.minRisers || s.stands) {
				t.whole[m], _ = s.shape(kind, m, float64(float64(t.cells)*s.grid))
			}
			priced = priced || m >= 2 && t.whole[m] != 0
		}
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
	open := below(slope)
	for open < 0 {
		slope /= 2
		open = below(slope)
	}
	// The flight bits of a bound are for flights alone.
	f.open, f.each = open>>flightBits<<flightBits, f.each+slope>>flightBits<<flightBits
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

// landingCells is the range of a landing's depth in cells when it takes up rest
// besides; hi is past N when there is no upper limit.
func (s *solver) landingCells(rest float64) (lo, hi int) {
	lo, hi = int(math.Ceil((s.landingMin-rest-tol)/s.grid)), s.cells+1
	if lo < 0 {
		lo = 0
	}
	if s.landingMax != 0 {
		if x := math.Floor((s.landingMax - rest + tol) / s.grid); x < float64(hi) {
			hi = int(x)
		}
	}
	return lo, hi
}

// needs is whether a kind of underlay is tabled.
func (s *solver) needs(what int) bool {
	switch what {
	case onFrame:
		return s.flight[onFrame].on
	case onDeck:
		return s.flight[onFrame].on && s.decks
	}
	return true // flights or the landings between them
}

// reaches is the range of what may lie on a kind of underlay, in cells; hi is 0
// when nothing may.
func (s *solver) reaches(what int) (lo, hi int) {
	lo, hi = math.MaxInt, 0
	if what != onDeck && len(s.flight[what].all) > 0 {
		lo, hi = s.flight[what].tmin, s.flight[what].tmax
	}
	if what != onFrame {
		a, b := s.landingCells(0)
		lo, hi = min(lo, a), max(hi, b)
	}
	return max(lo, 1), hi
}

// table prices the levels below the uppermost flight, each only where a path
// can get to over what bears. It reports whether there is any position to begin
// the uppermost flight's landing from.
func (s *solver) table() bool {
	s.arena.reset()
	lastLanding, _ := s.landingCells(s.rest)
	step, tmin, treads := math.MaxInt, math.MaxInt, 0
	for what := range 3 {
		if s.needs(what) {
			lo, _ := s.reaches(what)
			step = min(step, lo)
		}
	}
	for kind := range s.flight {
		if f := &s.flight[kind]; len(f.all) > 0 {
			tmin = min(tmin, f.tmin)
			treads += len(f.all)
		}
	}
	if tmin == math.MaxInt {
		tmin = 0
	}
	above := s.n - s.minAny(2) // uppermost riser that can end a flight below the uppermost one
	for len(s.levels) <= above {
		s.levels = append(s.levels, level{})
	}
	s.top = 0
	lo, hi, entries := 0, 0, 0
	s.width = 0
	for k := 1; k <= above; k++ {
		// What lies behind riser k ends where a flight of n−k risers can begin
		// the last stretch, or where riser k+1 can be with a landing still to
		// come above it. Above riser k there are n−k treads and landings.
		limit := s.cells - (s.n-k-1)*tmin
		if x := s.cells - lastLanding - (s.n-k-2)*step; k < above && x > limit {
			limit = x
		}
		if x := s.cells - lastLanding - (s.n-k-1)*step; x < hi {
			hi = x
		}
		if s.band != nil {
			a, z := s.band.reach(k)
			lo, hi = max(lo, a), min(hi, z)
			_, z = s.band.reach(k + 1)
			limit = min(limit, z)
		}
		if limit < hi {
			hi = limit
		}
		if lo > hi {
			break
		}
		l := level{k: k, lo: lo, hi: hi, from: lo, to: hi, arrivals: s.levels[k].arrivals[:0]}
		for what := range l.strips {
			if !s.needs(what) {
				continue
			}
			s.price(k, what, &l, limit, s.band.only(what, k, 1), s.at, &s.arena)
			l.edge = max(l.edge, l.strips[what].edge)
			entries += l.strips[what].edge - l.lo + 1
			if s.err != nil {
				return false
			}
		}
		if w := l.hi - l.lo + 1; w > s.width {
			s.width = w
		}
		if entries > maxTable || s.width*treads > maxTable {
			s.err = s.tooMuch("table")
			return false
		}
		s.levels[k] = l
		s.top = k
		if lo, hi = s.next(&l); lo < 0 {
			break
		}
	}
	return s.top > 0
}

// next is where the riser above a level can be; lo is −1 when nowhere.
func (s *solver) next(l *level) (lo, hi int) {
	lo, hi = -1, -1
	for what := range l.strips {
		if !s.needs(what) {
			continue
		}
		step, most := s.reaches(what)
		t := &l.strips[what]
		first := true
		for i := l.lo; i <= l.hi && i < t.edge && most > 0; i++ {
			r := int(t.reach[i-l.lo])
			if r < i+step {
				continue
			}
			if first && (lo < 0 || i+step < lo) {
				lo = i + step
			}
			first = false
			if i+most < r {
				r = i + most
			}
			if r > hi {
				hi = r
			}
		}
	}
	return lo, hi
}

// price fills a level's sums and reach of one kind from l.lo to at most limit,
// as far as the cells bear beyond l.hi. Cells that do not lie from only.first up
// to only.last are not asked for and do not bear.
func (s *solver) price(k, what int, l *level, limit int, only stretch, at []unit.Length, mem *arena) {
	line := s.surface(k)
	s.cost = grow(s.cost, limit-l.lo)
	s.bears = growBools(s.bears, limit-l.lo)
	from, chunk := min(max(l.lo, only.first), limit), l.hi-l.lo+64
	for i := l.lo; i < from; i++ {
		s.bears[i-l.lo] = false
	}
	limit = max(l.hi, min(limit, only.last))
	edge := limit
pricing:
	for from < limit {
		to := from + chunk
		if to > limit {
			to = limit
		}
		if from >= only.last {
			for i := from; i < limit; i++ {
				s.bears[i-l.lo] = false
			}
			break
		}
		if to > only.last {
			to = only.last
		}
		s.priced += to - from
		if s.priced > maxPriced {
			s.err = s.tooMuch("price")
			return
		}
		s.cellsOn(what, at[from:to+1], line, s.cost[from-l.lo:to-l.lo], s.bears[from-l.lo:to-l.lo])
		for i := from; i < to; i++ {
			if i >= l.hi && !s.bears[i-l.lo] {
				edge = i
				break pricing
			}
		}
		from, chunk = to, 128
	}
	t := &l.strips[what]
	t.edge = edge
	t.sum = mem.values(edge - l.lo + 1)
	t.reach = mem.positions(edge - l.lo + 1)
	sum := int64(0)
	for i := l.lo; i < edge; i++ {
		t.sum[i-l.lo] = sum
		if s.bears[i-l.lo] {
			sum += s.toValue(s.cost[i-l.lo])
		}
	}
	t.sum[edge-l.lo] = sum
	s.add(sum)
	r := int32(edge)
	t.reach[edge-l.lo] = r
	for i := edge - 1; i >= l.lo; i-- {
		if !s.bears[i-l.lo] {
			r = int32(i)
		}
		t.reach[i-l.lo] = r
	}
}

// arrivals prices every uppermost flight that ends on the head.
func (s *solver) arrivals() {
	for kind := range s.flight {
		f := &s.flight[kind]
		if !f.on {
			continue
		}
		if f.minRisers == 1 && f.single < some {
			s.arrival(kind, tread{}, 1, f.single+f.extra)
		}
		for i := range f.all {
			t := &f.all[i]
			flight := f.extra
			to := s.head.Station
			for m := 2; m <= t.risers && m < s.n && s.err == nil; m++ {
				if (m-1)*t.cells > s.cells {
					break
				}
				from := s.back((m - 1) * t.cells)
				if !s.allows(kind, float64(from), float64(to)) {
					break
				}
				c, ok := s.whole(kind, s.n-m+1, from, to)
				flight += c + t.each
				if !ok || s.base+flight+2 > s.limit {
					break
				}
				to = from
				if m >= f.minRisers && t.of(m) < some {
					s.arrival(kind, *t, m, flight+t.of(m))
				}
			}
		}
	}
}

// arrival notes an uppermost flight of m risers at the level of its landing, if
// its landing can end there.
func (s *solver) arrival(kind int, t tread, m int, flight int64) {
	k := s.n - m // the riser below its landing
	if k < 1 || k > s.top {
		return
	}
	l := &s.levels[k]
	a := arrival{kind: kind, cells: t.cells, risers: m, j: s.cells - (m-1)*t.cells}
	can := false
	for lt, what := range under {
		a.value[lt] = none
		if !s.needs(what) || lt == onPlatform && kind != onFrame {
			continue
		}
		p := &l.strips[what]
		if a.j <= l.lo || a.j > p.edge || int(p.reach[a.j-1-l.lo]) < a.j {
			continue
		}
		a.value[lt] = flight
		if s.rest > 0 {
			c, ok := s.whole(what, k, s.at[a.j], s.back((m-1)*t.cells))
			if !ok {
				a.value[lt] = none
				continue
			}
			a.value[lt] += c
		}
		can = true
	}
	if can {
		l.arrivals = append(l.arrivals, a)
	}
}

// back is the station some cells before the head.
func (s *solver) back(cells int) unit.Length {
	return unit.Length(float64(s.head.Station) - float64(float64(cells)*s.grid))
}

// merged is whether treads and landings need not be told apart in bounds: one
// kind of flight that costs nothing but its cells and risers.
func (s *solver) merged() bool {
	f := &s.flight[onBox]
	return !s.flight[onFrame].on && f.open+f.each == 0
}

// steps is the least depths of treads of each kind, and of landings, for bounds.
func (s *solver) steps() (treads [2]int, landing int) {
	landing, _ = s.landingCells(s.rest) // may have a cell less than the others
	landing = max(landing, 1)
	for kind := range s.flight {
		treads[kind] = max(s.flight[kind].tmin, 1)
	}
	if s.merged() && (len(s.flight[onBox].all) == 0 || landing < treads[onBox]) {
		treads[onBox] = landing
	}
	return treads, landing
}

// lookAhead fills ahead: what the way from a riser to the head costs at least,
// whatever the treads. It reports whether there is a way from the foot at all.
func (s *solver) lookAhead() bool {
	treads, landing := s.steps()
	for k := s.top; k >= 1; k-- {
		l := &s.levels[k]
		width := l.hi - l.lo + 1
		size := l.edge - l.lo + 1
		var u *level
		if k < s.top {
			u = &s.levels[k+1]
		}
		s.updates += int64(size)
		if s.merged() {
			l.ahead[onBox] = s.arena.fill(width, none)
			l.open = l.ahead[onBox]
			next := s.nextRow(0, l, u, size, func(u *level) []int64 { return u.ahead[onBox] }, 0)
			s.meet(next, l, onGround)
			sweepBack(l, &l.strips[onBox], treads[onBox], 0, next, l.ahead[onBox])
			continue
		}
		l.open = s.arena.fill(width, none)
		open := func(u *level) []int64 { return u.open }
		ground := s.nextRow(0, l, u, size, open, 1)
		s.meet(ground, l, onGround)
		byGround := s.clear(1, width)
		sweepBack(l, &l.strips[onBox], landing, 0, ground, byGround)
		s.updates += int64(2 * size)
		for kind := range s.flight {
			f := &s.flight[kind]
			if !f.on {
				continue
			}
			l.ahead[kind] = s.arena.fill(width, none)
			copy(l.ahead[kind], byGround)
			if len(f.all) > 0 {
				next := s.nextRow(2, l, u, size, func(u *level) []int64 { return u.ahead[kind] }, 0)
				sweepBack(l, &l.strips[kind], treads[kind], f.each, next, l.ahead[kind])
			}
			if kind == onFrame && s.decks {
				next := s.nextRow(2, l, u, size, func(u *level) []int64 { return u.ahead[onFrame] }, f.open+f.extra+1)
				s.meet(next, l, onPlatform)
				sweepBack(l, &l.strips[onDeck], landing, s.platform, next, l.ahead[kind])
				s.updates += int64(size)
			}
			for i, v := range l.ahead[kind] {
				if v += f.open + f.extra; v < l.open[i] {
					l.open[i] = v
				}
			}
		}
	}
	return s.fromFoot() < some
}

// fromFoot is the least that any layout of the case costs.
func (s *solver) fromFoot() int64 {
	least := none
	for kind := range s.flight {
		f := &s.flight[kind]
		if !f.on {
			continue
		}
		if v := s.levels[1].ahead[kind][0] + f.open + s.opening(kind, 1); v < least {
			least = v
		}
	}
	if least >= some {
		return none
	}
	return s.base + least
}

// clear gives scratch row i, n long, all none.
func (s *solver) clear(i, n int) []int64 {
	row := growValues(s.sweep[i], n)[:n]
	s.sweep[i] = row
	for i := range row {
		row[i] = none
	}
	return row
}

// nextRow is what the way costs from the riser above a level at each position of
// it, more than which it costs at least by plus.
func (s *solver) nextRow(i int, l, u *level, size int, of func(*level) []int64, plus int64) []int64 {
	next := s.clear(i, size)
	if u == nil {
		return next
	}
	ahead := of(u)
	for j := max(u.lo, l.lo); j <= u.hi && j <= l.edge; j++ {
		next[j-l.lo] = ahead[j-u.lo] + plus
	}
	return next
}

// meet takes the arrivals by a kind of landing into a row.
func (s *solver) meet(next []int64, l *level, lt int) {
	for i := range l.arrivals {
		a := &l.arrivals[i]
		if a.value[lt] < next[a.j-l.lo] {
			next[a.j-l.lo] = a.value[lt]
		}
	}
}

// sweepBack lowers out[i] to what it costs at least to cross step cells or more
// of a strip and go on, and plus.
func sweepBack(l *level, t *strip, step int, plus int64, next, out []int64) {
	least := none
	for j := t.edge; j >= l.lo+step; j-- {
		if j < t.edge && int(t.reach[j-l.lo]) == j {
			least = none // the cell behind j does not bear
		}
		if v := next[j-l.lo]; v < some && v+t.sum[j-l.lo] < least {
			least = v + t.sum[j-l.lo]
		}
		if i := j - step; i <= l.hi && least < some && int(t.reach[i-l.lo]) >= j {
			if v := least - t.sum[i-l.lo] + plus; v < out[i-l.lo] {
				out[i-l.lo] = v
			}
		}
	}
}

// narrow leaves of every level only the positions that a path of free treads
// can pass within the limit.
func (s *solver) narrow() {
	treads, landing := s.steps()
	merged := s.merged()
	var was [2][]int64
	for kind := range s.flight {
		if f := &s.flight[kind]; f.on {
			was[kind] = s.clear(kind+2, 1)
			was[kind][0] = s.base + 1 + f.open + s.opening(kind, 1)
			if merged {
				was[kind][0] = s.base
			}
		}
	}
	s.levels[1].from, s.levels[1].to = 0, 0
	s.dropArrivals(&s.levels[1], was)
	for k := 2; k <= s.top; k++ {
		d, l := &s.levels[k-1], &s.levels[k]
		width := l.hi - l.lo + 1
		s.updates += int64(width)
		var now [2][]int64
		for kind := range s.flight {
			if f := &s.flight[kind]; f.on {
				now[kind] = s.clear(kind+2*(k&1), width)
				if merged || len(f.all) > 0 {
					sweepOn(d, l, &d.strips[kind], treads[kind], f.each, was[kind], now[kind])
				}
			}
		}
		if !merged {
			// By a landing: from whatever flight to whatever flight.
			s.updates += int64(3 * width)
			any := s.clear(4, d.hi-d.lo+1)
			for kind := range s.flight {
				if s.flight[kind].on {
					takeLess(any, was[kind])
				}
			}
			by := s.clear(5, width)
			sweepOn(d, l, &d.strips[onBox], landing, 1, any, by)
			for kind := range s.flight {
				f := &s.flight[kind]
				if !f.on {
					continue
				}
				if kind == onFrame && s.decks {
					sweepOn(d, l, &d.strips[onDeck], landing, s.platform+f.open+f.extra+1, was[kind], now[kind])
				}
				for i, v := range by {
					if v += f.open + f.extra; v < now[kind][i] {
						now[kind][i] = v
					}
				}
			}
		}
		from, to := 0, -1
		for kind := range s.flight {
			if !s.flight[kind].on {
				continue
			}
			ahead, row := l.ahead[kind], now[kind]
			for i, v := range row {
				if v >= some || v+ahead[i] > s.limit {
					row[i] = none
					continue
				}
				if to < from || l.lo+i < from {
					from = l.lo + i
				}
				to = max(to, l.lo+i)
			}
		}
		if to < from {
			s.top = k - 1
			break
		}
		l.from, l.to = from, to
		was = now
		s.dropArrivals(l, was)
	}
}

// dropArrivals leaves of a level's arrivals those that can be reached within the
// limit, when was is what it costs at least to come to its riser.
func (s *solver) dropArrivals(l *level, was [2][]int64) {
	if len(l.arrivals) == 0 {
		return
	}
	step, _ := s.landingCells(s.rest)
	kept := l.arrivals[:0]
	for _, a := range l.arrivals {
		ok := false
		for lt, what := range under {
			if a.value[lt] >= some || ok {
				continue
			}
			t := &l.strips[what]
			plus := a.value[lt] + t.sum[a.j-l.lo]
			if lt == onPlatform {
				plus += s.platform
			}
			s.updates += int64((l.to - l.from + 1) / 4)
			for i := min(l.to, a.j-step); i >= l.from && !ok && int(t.reach[i-l.lo]) >= a.j; i-- {
				for kind := range s.flight {
					if s.flight[kind].on && was[kind][i-l.lo] < some && was[kind][i-l.lo]-t.sum[i-l.lo]+plus <= s.limit {
						ok = true
					}
				}
			}
		}
		if ok {
			kept = append(kept, a)
		}
	}
	l.arrivals = kept
}

// sweepOn lowers out[j], for positions of level l, to what it costs at least to
// come there over step cells or more of a strip behind level d's riser, and plus.
func sweepOn(d, l *level, t *strip, step int, plus int64, was, out []int64) {
	least, i := none, d.from
	for j := d.from; j <= l.hi && j <= t.edge; j++ {
		if j > d.from && int(t.reach[j-1-d.lo]) < j {
			least = none // the cell before j does not bear
			if i < j {
				i = j
			}
		}
		for ; i <= j-step && i <= d.to; i++ {
			if v := was[i-d.lo]; v < some && v-t.sum[i-d.lo] < least {
				least = v - t.sum[i-d.lo]
			}
		}
		if j < l.lo || least >= some {
			continue
		}
		if v := least + t.sum[j-d.lo] + plus; v < out[j-l.lo] {
			out[j-l.lo] = v
		}
	}
}

// search fills begin and end of every level, from the foot up, and gives the
// best arrival, the riser below its landing, the kind of that, and the value,
// which is at most the limit; nil when there is none.
func (s *solver) search() (best *arrival, riser, by int, value int64) {
	for kind := range s.flight {
		f := &s.flight[kind]
		f.limited = f.minRisers > 2
		for i := range f.treads {
			if f.treads[i].whole != nil || f.treads[i].risers < s.top {
				f.limited = true
			}
		}
	}
	for k := 1; k <= s.top; k++ {
		l := &s.levels[k]
		for kind := range s.flight {
			if !s.flight[kind].on {
				continue
			}
			if l.begin[kind] == nil {
				l.begin[kind] = s.arena.values(l.hi - l.lo + 1)
				l.end[kind] = s.arena.values(l.hi - l.lo + 1)
			}
			for i := range l.begin[kind] {
				l.begin[kind][i], l.end[kind][i] = none, none
			}
		}
	}
	for kind := range s.flight {
		if s.flight[kind].on {
			s.levels[1].begin[kind][0] = s.base + 1
		}
	}
	value = s.limit
	for k := 1; k <= s.top && s.err == nil; k++ {
		l := &s.levels[k]
		for kind := range s.flight {
			f := &s.flight[kind]
			if !f.on {
				continue
			}
			if k > 1 {
				s.prune(l, l.begin[kind], l.open)
			}
			if s.fewest(kind, k) == 1 && f.single < some {
				takeLessPlus(l.end[kind], l.begin[kind], f.single+s.opening(kind, k))
			}
			switch {
			case !f.limited:
				s.alongStep(k, kind)
			case s.walking > 0:
				s.alongTo(k, kind)
			default:
				s.alongFrom(k, kind)
			}
			s.prune(l, l.end[kind], l.ahead[kind])
		}
		s.landings(k)
		for i := range l.arrivals {
			a := &l.arrivals[i]
			for lt := range under {
				if l.last[lt] == nil || l.last[lt][a.j-l.lo] >= some || a.value[lt] >= some {
					continue
				}
				v := l.last[lt][a.j-l.lo] + a.value[lt]
				if v < value || v == value && (best == nil || a.before(best)) {
					best, riser, by, value = a, k, lt, v
				}
			}
		}
	}
	return best, riser, by, value
}

// before is the order of ties between uppermost flights.
func (a *arrival) before(b *arrival) bool {
	if a.kind != b.kind {
		return a.kind < b.kind
	}
	if a.cells != b.cells {
		return a.cells < b.cells
	}
	return a.risers < b.risers
}

// prune drops what cannot come to the head within the limit.
func (s *solver) prune(l *level, v, ahead []int64) {
	if l.from > l.to {
		return
	}
	v, ahead = v[l.from-l.lo:l.to+1-l.lo], ahead[l.from-l.lo:l.to+1-l.lo]
	for i, x := range v {
		if x+ahead[i] > s.limit {
			v[i] = none
		}
	}
}

// landings crosses the landings behind riser k, to the riser above and to the
// uppermost flights.
func (s *solver) landings(k int) {
	l := &s.levels[k]
	lo, hi := s.landingCells(0)
	restLo, restHi := s.landingCells(s.rest)
	l.last = [2][]int64{}
	for lt, what := range under {
		if !s.needs(what) {
			continue
		}
		plus := int64(1)
		ends := l.end[onFrame]
		switch {
		case lt == onPlatform:
			plus += s.platform
		case !s.flight[onFrame].on:
			ends = l.end[onBox]
		case s.flight[onBox].on:
			ends = append(s.sweep[0][:0], l.end[onBox]...)
			s.sweep[0] = ends
			takeLess(ends, l.end[onFrame])
		}
		if k < s.top {
			u := &s.levels[k+1]
			out := u.begin[onBox]
			if lt == onPlatform || !s.flight[onBox].on {
				out = u.begin[onFrame]
			}
			s.cross(l, &l.strips[what], ends, out, u.from, u.to, u.lo, lo, hi, plus, lt, 0)
			if lt == onGround && s.flight[onFrame].on && s.flight[onBox].on {
				takeLess(u.begin[onFrame], out)
			}
		}
		if len(l.arrivals) > 0 {
			from, to := l.edge, l.lo
			for i := range l.arrivals {
				from, to = min(from, l.arrivals[i].j), max(to, l.arrivals[i].j)
			}
			l.last[lt] = s.arena.values(l.edge - l.lo + 1)
			for i := from; i <= to; i++ {
				l.last[lt][i-l.lo] = none
			}
			s.cross(l, &l.strips[what], ends, l.last[lt], from, to, l.lo, restLo, restHi, plus, lt, s.rest)
		}
	}
}

// cross takes landings of a kind, of lo..hi cells and rest, from a level to
// positions from..to of out, which begins at base.
func (s *solver) cross(l *level, t *strip, ends, out []int64, from, to, base, lo, hi int, plus int64, lt int, rest float64) {
	if s.walking == 0 {
		s.landing(l, t, ends, out, from, to, base, lo, hi, plus)
		return
	}
	// Landings that are deep enough for the walker to find the rhythm anew.
	if long := s.misfit.long(rest); hi >= long {
		s.landing(l, t, ends, out, from, to, base, max(lo, long), hi, plus)
		hi = long - 1
	}
	s.crossPaced(l, t, ends, out, from, to, base, lo, hi, plus, lt, rest)
}

// landing lowers out[j−base] for positions from..to to the least value of a path
// that crosses a landing of lo..hi cells behind a level's riser and arrives at
// j; a new flight begins there.
func (s *solver) landing(l *level, t *strip, ends, out []int64, from, to, base, lo, hi int, plus int64) {
	s.updates += int64(to - l.from + 1)
	q := s.queue[:0] // candidates i, ascending, their end−sum ascending
	head, next := 0, l.from
	less := func(i int) int64 { return ends[i-l.lo] - t.sum[i-l.lo] }
	first := l.from // least i from which all cells up to j bear
	for j := l.from; j <= to && j <= t.edge; j++ {
		if j > l.from && int(t.reach[j-1-l.lo]) == j-1 {
			first = j // the cell before j does not bear
		}
		for ; next <= j-lo && next <= l.to; next++ {
			if ends[next-l.lo] >= some {
				continue
			}
			// At equal value the later one, the shorter landing, is kept.
			for len(q) > head && less(int(q[len(q)-1])) >= less(next) {
				q = q[:len(q)-1]
			}
			q = append(q, int32(next))
		}
		for head < len(q) && (int(q[head]) < first || int(q[head]) < j-hi) {
			head++
		}
		if j >= from && head < len(q) {
			if v := less(int(q[head])) + t.sum[j-l.lo] + plus; v < out[j-base] {
				out[j-base] = v
			}
		}
	}
	s.queue = q[:0]
}

// alongStep takes flights of any number of risers one tread further, from
// level k−1 to k. rows[…] hold, for each tread depth and position of the level,
// the least value of a path with a flight of that tread under way, less the
// level's sum.
func (s *solver) alongStep(k, kind int) {
	f, l := &s.flight[kind], &s.levels[k]
	width := s.width
	rows := &s.rows[kind]
	for i := range rows {
		rows[i] = growValues(rows[i], len(f.treads)*width)
	}
	if l.from > l.to {
		return
	}
	t := &l.strips[kind]
	span := l.to - l.from + 1
	begin := growValues(s.sweep[0], span)[:span]
	s.sweep[0] = begin
	opening := s.opening(kind, k)
	for i := range begin {
		begin[i] = l.begin[kind][l.from-l.lo+i] + opening - t.sum[l.from-l.lo+i]
	}
	end := l.end[kind][l.from-l.lo : l.to+1-l.lo]
	paced := s.paced(kind, span)
	for ti := range f.treads {
		tr := &f.treads[ti]
		now := rows[k&1][ti*width : (ti+1)*width]
		copy(now, begin)
		if k == 1 {
			continue
		}
		ends := end
		if paced != nil {
			ends = paced[ti*span : (ti+1)*span]
		}
		d := &s.levels[k-1]
		dt := &d.strips[kind]
		from, to := max(d.from+tr.cells, l.from), min(d.to+tr.cells, l.to, dt.edge)
		if from > to {
			continue
		}
		s.updates += int64(to - from + 1)
		was := rows[1-k&1][ti*width : (ti+1)*width]
		bar(was, d.from, d.to, tr.barred)
		stepRow(now[from-l.from:to+1-l.from], was[from-tr.cells-d.from:to+1-tr.cells-d.from], dt.sum[from-d.lo:to+1-d.lo], t.sum[from-l.lo:to+1-l.lo],
			ends[from-l.from:to+1-l.from], dt.reach[from-tr.cells-d.lo:to+1-tr.cells-d.lo], int32(from), tr.each)
		if paced != nil {
			takeLess(end, ends)
		}
	}
	if s.updates > maxUpdates {
		s.err = s.tooMuch("search")
	}
}

// bar drops values of a row of positions from..to where no tread may begin.
func bar(row []int64, from, to int, barred []stretch) {
	for _, b := range barred {
		for i := max(b.first, from); i <= b.last && i <= to; i++ {
			row[i-from] = none
		}
	}
}

// stepRow is the inner loop: one tread depth, one level. It is a function of
// its own, with all slices cut to one length, because that is much faster in
// WebAssembly.
//
//go:noinline
func stepRow(now, was, below, here, end []int64, reach []int32, at int32, each int64) {
	was, below, here, end, reach = was[:len(now)], below[:len(now)], here[:len(now)], end[:len(now)], reach[:len(now)]
	for i := range now {
		if reach[i] < at+int32(i) {
			continue
		}
		v := was[i] + below[i] + each
		if v < end[i] {
			end[i] = v
		}
		v -= here[i]
		if v < now[i] {
			now[i] = v
		}
	}
}

// alongFrom takes the flights that begin at riser a all the way, where their
// number of risers is limited or counts.
func (s *solver) alongFrom(a, kind int) {
	f, l := &s.flight[kind], &s.levels[a]
	lo, hi := l.from-l.lo, l.to-l.lo
	for lo <= hi && l.begin[kind][lo] >= some {
		lo++
	}
	for lo <= hi && l.begin[kind][hi] >= some {
		hi--
	}
	if lo > hi {
		return
	}
	row := growValues(s.sweep[1], hi-lo+1)[:hi-lo+1]
	s.sweep[1] = row
	lo, hi = lo+l.lo, hi+l.lo
	opening, fewest := s.opening(kind, a), s.fewest(kind, a)
	for ti := range f.treads {
		t := &f.treads[ti]
		from, to := lo, hi // positions of riser a still of use
		for i := range row {
			row[i] = l.begin[kind][lo-l.lo+i] + opening
		}
		for m := 2; m <= t.risers && a+m-1 <= s.top; m++ {
			d, u := &s.levels[a+m-2], &s.levels[a+m-1]
			dt := &d.strips[kind]
			by := (m - 1) * t.cells // from riser a to the flight's riser m
			from = max(from, u.from-by, d.from-by+t.cells)
			to = min(to, u.to-by, dt.edge-by, d.to-by+t.cells)
			if from > to {
				break
			}
			s.updates += int64(to - from + 1)
			x := from + by - t.cells // of the tread's front
			bar(row[from-lo:to+1-lo], x, to+by-t.cells, t.barred)
			whole := none
			if m >= fewest {
				whole = t.of(m)
			}
			ahead := u.ahead[kind]
			if u.group[kind] != nil {
				ahead = u.group[kind][t.group]
			}
			first, last := fromRow(row[from-lo:to+1-lo], dt.sum[x-d.lo:], dt.sum[from+by-d.lo:], u.end[kind][from+by-u.lo:],
				ahead[from+by-u.lo:], dt.reach[x-d.lo:], int32(from+by), t.each, whole, s.limit)
			if first > last {
				break
			}
			from, to = from+first, from+last
		}
	}
	if s.updates > maxUpdates {
		s.err = s.tooMuch("search")
	}
}

// fromRow takes flights one tread further, in place: v is by where they began.
// It gives the first and the last of them that are still of use.
//
//go:noinline
func fromRow(v, front, back, end, ahead []int64, reach []int32, at int32, each, whole, limit int64) (first, last int) {
	front, back, end, ahead, reach = front[:len(v)], back[:len(v)], end[:len(v)], ahead[:len(v)], reach[:len(v)]
	first, last = len(v), -1
	for i := range v {
		x := v[i]
		if x >= some {
			continue
		}
		x += back[i] - front[i] + each
		if reach[i] < at+int32(i) || x+ahead[i] > limit {
			v[i] = none
			continue
		}
		if last < 0 {
			first = i
		}
		last = i
		v[i] = x
		if x += whole; x < end[i] {
			end[i] = x
		}
	}
	return first, last
}

// alongTo finds the flights that end with riser k, where their tread counts for
// the landing behind them: from each end back, riser by riser,
// to where they may begin.
func (s *solver) alongTo(k, kind int) {
	f, l := &s.flight[kind], &s.levels[k]
	if l.from > l.to {
		return
	}
	width := l.to - l.from + 1
	end := l.end[kind][l.from-l.lo : l.to+1-l.lo]
	ahead := l.ahead[kind][l.from-l.lo : l.to+1-l.lo]
	row := growValues(s.sweep[1], width)[:width]
	s.sweep[1] = row
	// What the treads of a flight that ends there may cost.
	room := growValues(s.sweep[2], width)[:width]
	s.sweep[2] = room
	for i := range room {
		room[i] = s.limit - s.base - ahead[i]
	}
	paced := s.paced(kind, width)
	for ti := range f.treads {
		t := &f.treads[ti]
		to := end
		if paced != nil {
			to = paced[ti*width : (ti+1)*width]
		}
		for i := range row {
			row[i] = 0
		}
		from, last := l.from, l.to // positions of riser k still of use
		for m := 2; m <= t.risers && m <= k; m++ {
			d := &s.levels[k-m+1]
			dt := &d.strips[kind]
			by := (m - 1) * t.cells // from the flight's first riser to riser k
			if x := d.from + by; x > from {
				from = x
			}
			if x := d.to + by; x < last {
				last = x
			}
			if x := dt.edge - t.cells + by; x < last {
				last = x
			}
			if from > last {
				break
			}
			s.updates += int64(last - from + 1)
			bar(row[from-l.from:last+1-l.from], from-by, last-by, t.barred)
			whole := none
			if m >= s.fewest(kind, k-m+1) {
				whole = t.of(m)
			}
			if whole < some {
				whole += s.opening(kind, k-m+1)
			}
			a, z := toRow(row[from-l.from:last+1-l.from], dt.sum[from-by-d.lo:], dt.sum[from-by+t.cells-d.lo:],
				dt.reach[from-by-d.lo:], d.begin[kind][from-by-d.lo:], to[from-l.from:], room[from-l.from:],
				int32(from-by+t.cells), t.each, whole)
			if a > z {
				break
			}
			last = from + z
			from += a
		}
		if paced != nil {
			takeLess(end, to)
		}
	}
	if s.updates > maxUpdates {
		s.err = s.tooMuch("search")
	}
}

// toRow takes flights back by one tread, in place: v is what the treads passed
// so far cost, by where the flight ends. It gives the first and the last of them
// that are still of use.
//
//go:noinline
func toRow(v, front, back []int64, reach []int32, begin, end, room []int64, at int32, each, whole int64) (first, last int) {
	front, back, reach, begin, end, room = front[:len(v)], back[:len(v)], reach[:len(v)], begin[:len(v)], end[:len(v)], room[:len(v)]
	first, last = len(v), -1
	for i := range v {
		x := v[i]
		if x >= some {
			continue
		}
		x += back[i] - front[i] + each
		if reach[i] < at+int32(i) || x > room[i] {
			v[i] = none
			continue
		}
		if last < 0 {
			first = i
		}
		last = i
		v[i] = x
		if y := begin[i] + x + whole; y < end[i] {
			end[i] = y
		}
	}
	return first, last
}

// wayBack is the layout below an uppermost flight, found again from the tables;
// lt is the kind of landing below it.
func (s *solver) wayBack(a *arrival, k, lt int) []planned {
	plan := []planned{{risers: a.risers, tread: float64(float64(a.cells) * s.grid), kind: a.kind}}
	value, j, rest := s.levels[k].last[lt][a.j-s.levels[k].lo], a.j, s.rest
	for {
		a, x, f, ok := s.below(k, j, lt, value, rest)
		if !ok {
			if lt == onGround && plan[len(plan)-1].kind == onFrame && len(plan) > 1 {
				lt = onPlatform
				continue
			}
			return nil // cannot be: the tables hold the sum looked for
		}
		plan = append(plan, f)
		if a == 1 {
			break
		}
		value = s.levels[a].begin[f.kind][x-s.levels[a].lo]
		k, j, lt, rest = a-1, x, onGround, 0
	}
	for i, j := 0, len(plan)-1; i < j; i, j = i+1, j-1 {
		plan[i], plan[j] = plan[j], plan[i]
	}
	return plan
}

// below finds the landing of a kind behind riser k that ends at j, and the flight
// below it, for a value of a path with a flight to begin at j.
func (s *solver) below(k, j, lt int, value int64, rest float64) (a, at int, f planned, ok bool) {
	what := under[lt]
	if !s.needs(what) {
		return 0, 0, f, false
	}
	l := &s.levels[k]
	t := &l.strips[what]
	lo, hi := s.landingCells(rest)
	plus := int64(1)
	if lt == onPlatform {
		plus += s.platform
	}
	for i := min(j-lo, l.hi); i >= l.lo && i >= j-hi && j <= t.edge; i-- {
		if int(t.reach[i-l.lo]) < j {
			break
		}
		end := value - plus - (t.sum[j-l.lo] - t.sum[i-l.lo])
		depth := float64(float64(j-i)*s.grid) + rest
		if a, at, f = s.flightTo(k, i, lt, end, depth); a > 0 {
			f.landing, f.deck = depth, lt == onPlatform
			return a, at, f, true
		}
	}
	return 0, 0, f, false
}

// flightTo finds the flight that ends with riser k at i for a value, with a
// landing of a kind and depth above it, and gives its first riser and where that
// is.
func (s *solver) flightTo(k, i, lt int, value int64, depth float64) (a, at int, f planned) {
	l := &s.levels[k]
	for kind := range s.flight {
		fl := &s.flight[kind]
		if !fl.on || lt == onPlatform && kind != onFrame {
			continue
		}
		end := l.end[kind][i-l.lo]
		if end >= some || end > value || s.walking == 0 && end != value {
			continue
		}
		if s.fewest(kind, k) == 1 && fl.single < some && l.begin[kind][i-l.lo] < some &&
			l.begin[kind][i-l.lo]+fl.single+s.opening(kind, k)+s.pacingLanding(depth, 0) == value {
			return k, i, planned{risers: 1, kind: kind}
		}
		for ti := range fl.treads {
			t := &fl.treads[ti]
			x, cost := i, s.pacingLanding(depth, float64(float64(t.cells)*s.grid))
			for m := 2; m <= t.risers && m <= k; m++ {
				a := k - m + 1
				d := &s.levels[a]
				dt := &d.strips[kind]
				to := x
				x -= t.cells
				if x < d.lo || x > d.hi || to > dt.edge || int(dt.reach[x-d.lo]) < to || within(t.barred, x) {
					break
				}
				cost += dt.sum[to-d.lo] - dt.sum[x-d.lo] + t.each
				if b := d.begin[kind][x-d.lo]; m >= s.fewest(kind, a) && t.of(m) < some && b < some && b+cost+t.of(m)+s.opening(kind, a) == value {
					return a, x, planned{risers: m, tread: float64(float64(t.cells) * s.grid), kind: kind}
				}
			}
		}
	}
	return 0, 0, planned{}
}

func within(barred []stretch, i int) bool {
	for _, b := range barred {
		if i >= b.first && i <= b.last {
			return true
		}
	}
	return false
}

// takeLess sets each value to the lesser of the two.
func takeLess(a, b []int64) {
	for i, v := range b {
		if v < a[i] {
			a[i] = v
		}
	}
}

func takeLessPlus(a, b []int64, plus int64) {
	for i, v := range b {
		if v += plus; v < a[i] {
			a[i] = v
		}
	}
}

// tooMuch is the fault for a fit beyond the caps.
func (s *solver) tooMuch(what string) error {
	fix := "plan the path in two parts"
	if s.grid < float64(maxGrid)-tol {
		fix = fmt.Sprintf("take a coarser grid, up to %s, or narrow the riser and tread limits", text(maxGrid))
	}
	return Faults{{Field: "grid", Got: text(unit.Length(s.grid)),
		Problem: fmt.Sprintf("makes too many places to %s on a run of %s", what, text(unit.Length(s.run))), Fix: fix}}
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

// arena hands out slices that live until the next riser count.
type arena struct {
	v []int64
	p []int32
}

func (a *arena) reset() { a.v, a.p = a.v[:0], a.p[:0] }

// values gives n values, not cleared.
func (a *arena) values(n int) []int64 {
	if len(a.v)+n > cap(a.v) {
		// Slices handed out keep the old block alive.
		a.v = make([]int64, 0, max(2*cap(a.v), n, 1<<14))
	}
	a.v = a.v[:len(a.v)+n]
	return a.v[len(a.v)-n : len(a.v) : len(a.v)]
}

func (a *arena) positions(n int) []int32 {
	if len(a.p)+n > cap(a.p) {
		a.p = make([]int32, 0, max(2*cap(a.p), n, 1<<14))
	}
	a.p = a.p[:len(a.p)+n]
	return a.p[len(a.p)-n : len(a.p) : len(a.p)]
}

// fill gives n values, each v.
func (a *arena) fill(n int, v int64) []int64 {
	s := a.values(n)
	for i := range s {
		s[i] = v
	}
	return s
}

func growValues(s []int64, n int) []int64 {
	if cap(s) < n {
		return make([]int64, n)
	}
	return s[:cap(s)]
}

func grow(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:cap(s)]
}

func growBools(s []bool, n int) []bool {
	if cap(s) < n {
		return make([]bool, n)
	}
	return s[:cap(s)]
}
