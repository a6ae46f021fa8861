package slopewright

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/stair"
)

// lay fits the steps to the ground, or lays the plan's own. Afterwards the foot
// of the path is the origin, wherever in its window the fit has put it.
func (m *maker) lay() error {
	if len(m.plan.Steps.Fixed) > 0 {
		return m.layOwn()
	}
	l, err := m.leastLayout()
	if err != nil {
		return m.withSlip(m.fitFaults(err))
	}
	if m.plan.Steps.Prefer == "cost" && !m.costless() {
		l = m.cheapest(l)
	}
	m.fitted = true
	return m.settle(l)
}

func (m *maker) leastLayout() (stair.Layout, error) {
	task := m.task()
	site := m.site(m.weights())
	task.Site, task.Walking, task.Earlier = site, m.walking(), m.earlier
	fit, err := task.Fit()
	if err == nil {
		err = site.err
	}
	return fit.Layout, err
}

// cheapest is, of the layout that costs least by the rates and those that dig least, take
// the fewest hours and walk best, the one with the lowest bill: the rates know of no whole
// boards, packs and banks to hold. What leaves more without a price is no cheaper.
func (m *maker) cheapest(l stair.Layout) stair.Layout {
	best, err := reckoned(m.plan, l)
	if err != nil {
		return l // told when it is reckoned
	}
	for _, prefer := range [...]string{"digging", "hours", "walking"} {
		x := maker{}
		p := m.plan
		p.Steps.Prefer = prefer
		if x.read(p) != nil {
			continue
		}
		other, err := x.leastLayout()
		if err != nil {
			continue
		}
		of, err := reckoned(m.plan, other)
		if err == nil && of.bill.Total.LessThan(best.bill.Total) && allAmong(of.withoutPrice(), best.withoutPrice()) {
			best, l = of, other
		}
	}
	return l
}

// allAmong is whether all of some are among others.
func allAmong(some, others []string) bool {
	for _, x := range some {
		if !slices.Contains(others, x) {
			return false
		}
	}
	return true
}

// reckoned is a plan with a layout that was fitted to it, to the bill.
func reckoned(p Plan, l stair.Layout) (*maker, error) {
	x := new(maker)
	err := x.read(p)
	x.fitted = true
	if err == nil {
		err = x.settle(l)
	}
	if err == nil {
		err = x.dig()
	}
	if err == nil {
		err = x.build()
	}
	return x, err
}

// fitFaults gives the faults of a fit the fields of the document, and the plan's measure
// alone: they are long. A limit that the plan does not give is no field of anybody's: it is
// the steps, or the rise and the run where there is no other ground, that it stands against.
func (m *maker) fitFaults(err error) error {
	err = under("steps", err)
	for _, x := range [][2]string{
		{"steps.site", "steps"}, {"steps.bends", "path.bends"},
		{"steps.riser_min", "steps.riser.min"}, {"steps.riser_max", "steps.riser.max"},
		{"steps.tread_min", "steps.tread.min"}, {"steps.tread_max", "steps.tread.max"},
		{"steps.landing_min", "steps.landing.min"}, {"steps.landing_max", "steps.landing.max"},
		{"steps.max_flight_risers", "steps.landing.every"}, {"steps.min_flight_risers", "steps.landing.fewest"},
	} {
		err = rename(err, x[0], x[1])
	}
	all, _ := err.(Faults)
	s := &m.plan.Steps
	for i := range all {
		f := &all[i]
		for _, x := range [...]*string{&f.Got, &f.Problem, &f.Fix} {
			*x = m.words.inOne(*x, true)
		}
		for _, x := range [...]struct {
			limit, to string
			own       bool
		}{
			{"steps.riser", "ground.rise", s.Riser != nil}, {"steps.tread.min", "ground.run", s.Tread != nil && s.Tread.Min != nil},
			{"steps.tread.max", "ground.run", s.Tread != nil && s.Tread.Max != nil}, {"steps.landing", "ground.run", s.Landing != nil},
			{"steps.step_rule", "ground.run", false}, {"steps.pitch_max", "ground.run", false}, {"steps.wash", "ground.rise", s.Wash != nil},
		} {
			if !x.own && strings.HasPrefix(f.Field, x.limit) {
				f.Field = x.to
				if m.plan.Ground.Method != "total" {
					f.Field = "steps"
				}
				if x.limit == "steps.wash" { // it was taken, not given
					f.Problem, f.Got = "the forward fall of the treads, "+f.Got+", "+f.Problem, ""
				}
			}
		}
	}
	return err
}

func (m *maker) layOwn() error {
	var flights []stair.FixedFlight
	for _, f := range m.plan.Steps.Fixed {
		kind := stair.Box
		if f.Kind == "framed" {
			kind = stair.Framed
		}
		flights = append(flights, stair.FixedFlight{
			Kind: kind, Platform: f.Platform, Risers: f.Risers, Tread: lengthOr(f.Tread, 0), Landing: lengthOr(f.Landing, 0),
		})
	}
	if m.stretch {
		stretched(flights, m.ownHead.Station-m.ownFoot.Station)
	}
	l, err := stair.Lay(m.ownFoot, m.ownHead, m.limits.Wash, flights)
	if err != nil {
		m.endsMove(err, flights)
		return m.withSlip(named(rename(under("steps", err), "steps.flights", "steps.fixed"), "flights[", "steps.fixed["))
	}
	return m.settle(l)
}

// endsMove adds to what is said of flights that miss the run how the ends would have to
// lie, where these may move: those of one's own layout lie where the plan says, or else
// in the middle of what they may.
func (m *maker) endsMove(err error, flights []stair.FixedFlight) {
	path := m.plan.Path
	low, high := lengthOr(path.Foot.Slack, 0), lengthOr(path.Head.Slack, 0)
	all, _ := err.(Faults)
	if len(all) != 1 || all[0].Field != "flights" || low+high == 0 || len(m.plan.Built) > 0 {
		return
	}
	ground, run := m.survey.Ground, runOf(flights)
	head := math.Min(math.Min(float64(m.head.Station+high), float64(ground.Head().Station)), math.Max(float64(m.head.Station-high), float64(m.foot.Station+run)))
	foot := head - float64(run)
	if math.Abs(foot-float64(m.foot.Station)) > float64(low+tolerance) || foot < float64(ground.Foot().Station) {
		all[0].Fix += "; slack counts once steps.fixed_foot and steps.fixed_head say where the ends lie, and is too little"
		return
	}
	all[0].Fix += ", or put the ends where the flights reach: steps.fixed_foot " + m.words.length(unit.Length(foot)) + " and steps.fixed_head " + m.words.length(unit.Length(head))
}

func runOf(flights []stair.FixedFlight) (long unit.Length) {
	for _, f := range flights {
		long += unit.Length(unit.Length(f.Risers-1)*f.Tread) + f.Landing
	}
	return long
}

// stretched makes flights as long together as a run, by as much in each tread and
// landing.
func stretched(flights []stair.FixedFlight, run unit.Length) {
	long := runOf(flights)
	if long <= 0 || math.Abs(float64(run-long)) < 1e-9 {
		return
	}
	for i := range flights {
		flights[i].Tread *= run / long
		flights[i].Landing *= run / long
	}
}

// task is the fit that the plan asks for, without what it makes least.
func (m *maker) task() stair.Task {
	return stair.Task{
		Foot: stair.End{Points: m.feet}, Head: stair.End{Points: m.heads}, Limits: m.limits, Pace: stair.OutdoorPace,
	}
}

// settle takes a layout for the plan's, with its foot as the origin. A path
// that is half built keeps the origin of its foot.
func (m *maker) settle(l stair.Layout) error {
	if len(m.plan.Built) == 0 {
		var err error
		by := l.Foot
		if l, err = moved(l, by); err != nil {
			return under("steps", err)
		}
		m.ground = m.ground.Shift(by.Station, by.Level)
		m.foot.Station += by.Station
		m.foot.Level += by.Level
		m.bends = shifted(m.bends, by.Station)
	}
	m.head = earthwork.Point{Station: m.foot.Station + l.Head.Station, Level: m.foot.Level + l.Head.Level}
	m.layout = l
	var err error
	m.wedges, err = l.Wedges(m.bends)
	return under("path", err)
}

// moved is a layout with another point of its plane as the origin.
func moved(l stair.Layout, by stair.Point) (stair.Layout, error) {
	if by == (stair.Point{}) {
		return l, nil
	}
	head := stair.Point{Station: l.Head.Station - by.Station, Level: l.Head.Level - by.Level}
	return stair.Lay(stair.Point{Station: l.Foot.Station - by.Station, Level: l.Foot.Level - by.Level}, head, l.Wash, flightsOf(l))
}

// flightsOf is a layout as one lays one's own.
func flightsOf(l stair.Layout) []stair.FixedFlight {
	var out []stair.FixedFlight
	for i, f := range l.Flights {
		x := stair.FixedFlight{Kind: f.Kind, Risers: f.Risers, Tread: f.Tread}
		if i < len(l.Landings) {
			x.Landing = l.Landings[i].Depth
			x.Platform = l.Landings[i].Kind == stair.Framed
		}
		out = append(out, x)
	}
	return out
}

func shifted(bends []stair.Bend, by unit.Length) []stair.Bend {
	out := append([]stair.Bend(nil), bends...)
	for i := range out {
		out[i].From -= by
		out[i].To -= by
	}
	return out
}

// tolerance keeps a limit met exactly from failing by rounding.
const tolerance = 1e-9 * unit.Meter

// maxEnds bounds the stations that a free end is tried at.
const maxEnds = 13

// window is the points that an end may lie at: its own, and, where it has slack,
// others on the grid to both sides, in steps that make no more than maxEnds. Coordinates are those
// of the ground, whose origin is the foot's own place.
func (m *maker) window(e End, own stair.Point) []stair.Point {
	points := []stair.Point{own}
	slack := lengthOr(e.Slack, 0)
	if slack <= 0 {
		return points
	}
	step := m.limits.Grid
	for float64(2*slack) > float64(maxEnds-1)*float64(step) {
		step += m.limits.Grid
	}
	first, last := m.ground.Foot().Station, m.ground.Head().Station
	for k := 1; unit.Length(k)*step <= slack+tolerance; k++ {
		for _, sign := range []unit.Length{-1, 1} {
			x := own.Station + unit.Length(sign*unit.Length(k)*step)
			if x < first || x > last {
				continue
			}
			points = append(points, m.end(e, own, x))
		}
	}
	return points
}

// end is where an end of the path comes to lie at another station.
func (m *maker) end(e End, own stair.Point, x unit.Length) stair.Point {
	p := stair.Point{Station: x, Level: own.Level}
	if e.Level == nil {
		p.Level, _ = m.ground.LevelAt(x)
	}
	return p
}

// ownEnd is where an end of the plan's own layout lies.
func (m *maker) ownEnd(name string, e End, own stair.Point, at *Length, all *Faults) stair.Point {
	if at == nil {
		return own
	}
	if m.stretch {
		all = new(Faults) // what may lie nowhere else lies at the path's own end
	}
	field := "steps.fixed_" + name
	x, slack := at.Length-m.foot.Station, lengthOr(e.Slack, 0)
	switch {
	case len(m.plan.Steps.Fixed) == 0:
		all.Add(field, at.Text, "is the end of no layout", "leave it out, or write the flights in steps.fixed")
	case math.Abs(float64(x-own.Station)) > float64(slack)+1e-6:
		all.Add(field, m.words.length(at.Length), "is further from path."+name+".at than path."+name+".slack, "+m.words.length(slack), "write a station within it, or more slack")
	case x < m.ground.Foot().Station-tolerance || x > m.ground.Head().Station+tolerance:
		all.Add(field, m.words.length(at.Length), "is not on the ground of the readings", "write a station between the first and the last of them")
	default:
		return m.end(e, own, x)
	}
	return own
}

// weights says what the fit makes least, by the measure of each.
type weights struct{ digging, hours, cost float64 }

func (m *maker) weights() weights {
	if m.costless() {
		return weights{digging: 1}
	}
	switch m.plan.Steps.Prefer {
	case "hours":
		return weights{hours: 1}
	case "cost":
		return m.money()
	case "walking":
		// Of layouts that walk alike, the one that digs less: 1 m³ counts as
		// a tenth of a millimetre out of step.
		return weights{digging: 1e-4}
	}
	return weights{digging: 1}
}

// money is what makes the bill least: materials, and labour where it is paid by
// the plan's own hours. Of layouts that cost alike the one that takes fewer of them.
func (m *maker) money() weights {
	hour := m.wage()
	if hour == 0 {
		hour = m.ownHour()
	}
	return weights{cost: 1, hours: hour}
}

// timberPriced reports whether the timbers that a layout may be made of have
// prices: without them cost says nothing.
func (m *maker) timberPriced() bool { return m.priceless() == "" }

// priceless is the first of those that has none.
func (m *maker) priceless() string {
	all := []string{m.detail.Timber.Name}
	if m.framing() {
		all = append(all, m.framed.Stringer.Name, m.framed.Tread.Name)
	}
	for _, section := range all {
		if m.perMetre(section) == 0 {
			return section
		}
	}
	return ""
}

// costless reports whether there is nothing to tell layouts apart by in money: neither
// timber nor work has a price. What costs least is then taken to be what digs least.
func (m *maker) costless() bool {
	return m.plan.Steps.Prefer == "cost" && m.wage() == 0 && !m.timberPriced()
}

func (m *maker) walking() float64 {
	if m.plan.Steps.Prefer == "walking" {
		return 1
	}
	return 0
}

// site prices the path for the fit in a sum of three measures: m³ dug in the
// bank, person-hours, and the money of the materials. Hours and money are the
// linear estimates of rates; what the chosen layout takes is reckoned in full
// afterwards.
type site struct {
	m      *maker
	w      weights
	ground earthwork.Ground // as it is while the fit is at work
	leeway leeway
	rates  *rates

	cut, cut2        []unit.Volume
	refill           []unit.Volume
	deepest, highest []unit.Length
	clear            []bool
	under            struct { // what the slices above were last measured of for framed flights
		at   []unit.Length
		line stair.Line
	}
	err error
}

func (m *maker) site(w weights) *site {
	return &site{m: m, w: w, ground: m.ground}
}

// rate gives the rates, worked out when they are first wanted: a fit that makes
// digging least never asks. Framed flights are asked for even where there are
// to be none, to say whether one would help.
func (s *site) rate() *rates {
	if s.rates == nil {
		s.rates = s.m.rates()
	}
	return s.rates
}

func (s *site) framedRate() *rates {
	r := s.rate()
	if r.flights == nil {
		r.flights = map[stair.Shape]flightExtra{}
		s.m.framedRates(r)
	}
	return r
}

// framing reports whether framed flights are allowed.
func (m *maker) framing() bool {
	for _, k := range m.limits.Kinds {
		if k == stair.Framed {
			return true
		}
	}
	return false
}

// Cells implements [stair.Site]: steps that bear on the ground.
func (s *site) Cells(at []unit.Length, l stair.Line, cost []float64, bears []bool) {
	m := s.m
	formation := earthwork.Line{Station: l.Station, Level: l.Level - m.buildUp, Grade: l.Grade}
	if !s.measure(m.section, at, formation) {
		return
	}
	for i := range s.cut {
		deeper, higher := s.leeway.of(at[i], at[i+1])
		bears[i] = s.deepest[i] <= m.maxCut+deeper+tolerance && s.highest[i] <= m.maxRaise+higher+tolerance && s.clear[i]
		cost[i] = s.w.digging * float64(s.cut[i]) // cubic metres
	}
	if s.w.hours == 0 && s.w.cost == 0 {
		return
	}
	if s.w.hours > 0 { // what goes back counts for the hours alone
		if cap(s.refill) < len(s.cut) {
			s.refill = make([]unit.Volume, cap(s.cut2))
		}
		s.refill = s.refill[:len(s.cut)]
		if err := s.ground.RefillCells(m.section, at, formation, m.buildUp, bears, s.refill); err != nil {
			s.err = under("ground", err)
			return
		}
	}
	for i := range s.cut {
		if bears[i] || s.w.hours == 0 {
			cost[i] += s.boxCell(i, float64(at[i+1]-at[i]))
		}
	}
}

// measure finds what the cells of a formation cut, and how deep.
func (s *site) measure(sec earthwork.Section, at []unit.Length, formation earthwork.Line) bool {
	n := len(at) - 1
	if cap(s.cut2) < n {
		s.cut2, s.deepest, s.highest, s.clear = make([]unit.Volume, n), make([]unit.Length, n), make([]unit.Length, n), make([]bool, n)
	}
	s.under.at = s.under.at[:0]
	s.cut, s.deepest, s.highest, s.clear = s.cut2[:n], s.deepest[:n], s.highest[:n], s.clear[:n]
	err := s.ground.CutCells(sec, at, formation, s.cut, s.deepest, s.highest)
	if err == nil {
		if len(s.m.bends) == 0 {
			for i := range s.clear {
				s.clear[i] = true
			}
		} else {
			err = s.ground.BendsClear(sec, at, formation, s.clear)
		}
	}
	if err != nil {
		s.err = under("ground", err)
	}
	return err == nil
}

// boxCell is the hours and the money of a cell of box steps.
func (s *site) boxCell(i int, long float64) float64 {
	r := s.rate()
	cost := float64(s.w.cost * float64(r.boxMetre*long))
	if s.w.hours == 0 {
		return cost
	}
	cut, refill := s.cut[i], s.refill[i]
	moved := cut - s.m.soil.BankOfCompacted(refill)
	if moved < 0 {
		moved = -moved
	}
	hours := float64(r.cut*cut.CubicMeters()) + float64(r.moved*moved.CubicMeters()) +
		float64(r.fill*refill.CubicMeters()) + float64(r.metre*long)
	return float64(s.w.hours*hours) + cost
}

// Riser implements [stair.Site]: the trench under each riser timber and the making
// of the box.
func (s *site) Riser(r unit.Length) float64 {
	dig := s.m.trench(r, false).CubicMeters()
	cost := float64(s.w.digging * dig)
	if s.w.hours > 0 || s.w.cost > 0 {
		x := s.rate()
		cost += float64(s.w.hours*(x.box+float64(x.cut*dig))) + float64(s.w.cost*s.m.boxMoney(r))
	}
	return cost
}

// Start implements [stair.Starter]: the trench at the foot is deeper, there is no box in
// front of it.
func (s *site) Start(k stair.Kind, r unit.Length) float64 {
	if k == stair.Framed {
		return 0
	}
	dig := s.m.trench(r, true).CubicMeters() - s.m.trench(r, false).CubicMeters()
	cost := float64(s.w.digging * dig)
	if s.w.hours > 0 {
		cost += float64(s.w.hours * float64(s.rate().cut*dig))
	}
	return cost
}

// FramedCells implements [stair.Framer]: what is dug so that the stringers
// clear the ground, stepped under each tread.
func (s *site) FramedCells(at []unit.Length, l stair.Line, cost []float64, ok []bool) {
	m := s.m
	// Platforms are asked for right after flights at the same place.
	if s.under.line != l || !slices.Equal(s.under.at, at) {
		formation := earthwork.Line{Station: l.Station, Level: l.Level - m.clearance, Grade: l.Grade}
		if !s.measure(m.under, at, formation) {
			return
		}
		s.under.at, s.under.line = append(s.under.at[:0], at...), l
	}
	for i := range s.cut {
		deeper, higher := s.leeway.of(at[i], at[i+1])
		ok[i] = s.deepest[i] <= m.maxCut+deeper+tolerance && s.highest[i] <= maxFramed+higher && s.clear[i]
		v := float64(s.cut[i])
		cost[i] = float64(s.w.digging * v)
		if s.w.hours > 0 {
			x := s.rate()
			cost[i] += float64(s.w.hours * float64((x.cut+x.moved)*v))
		}
	}
}

// maxFramed is the most that the ground may lie below the clearance of a
// framed flight: posts above that are for an engineer. Common practice.
const maxFramed = 3 * unit.Meter

// FramedRiser implements [stair.Framer].
func (s *site) FramedRiser(r unit.Length) float64 {
	return float64(s.w.hours*s.m.framingHours().riser) + float64(s.w.cost*s.framedRate().framedRiser)
}

// Sunk implements [stair.Sinker]: a lower formation is dug deeper and wider, while
// less or more goes back. In a bend, a dig so wide that it reaches the centre is
// counted otherwise.
func (s *site) Sunk(k stair.Kind, at []unit.Length, cost []float64) bool {
	if len(s.m.bends) > 0 {
		return false
	}
	if k == stair.Framed || s.w.hours == 0 {
		return true
	}
	r := s.rate()
	for i := range cost {
		hours := float64(r.cut*s.cut[i].CubicMeters()) + float64(r.metre*float64(at[i+1]-at[i]))
		cost[i] = float64(s.w.digging*float64(s.cut[i])) + float64(s.w.hours*hours) + float64(s.w.cost*float64(r.boxMetre*float64(at[i+1]-at[i])))
	}
	return true
}

// Blend implements [stair.Blender]: what is weighed is weighed in sum.
func (s *site) Blend(sites []stair.Site, by []float64) stair.Site {
	var w weights
	for i, x := range sites {
		other, ok := x.(*site)
		if !ok || other.m != s.m {
			return nil
		}
		w.digging += float64(by[i] * other.w.digging)
		w.hours += float64(by[i] * other.w.hours)
		w.cost += float64(by[i] * other.w.cost)
	}
	blend := s.m.site(w)
	blend.rates = s.rate()
	return blend
}

// FlightsPriced implements [stair.FlightPricer].
func (s *site) FlightsPriced(k stair.Kind) bool { return k == stair.Framed }

// Flight implements [stair.FlightPricer]: the footings of a framed flight and
// what it takes beyond its risers.
func (s *site) Flight(x stair.Shape) (float64, bool) {
	if x.Kind != stair.Framed {
		return 0, true
	}
	e, ok := s.framedRate().flight(s.m, x, s.w.cost > 0)
	return float64(s.w.digging*e.dig) + float64(s.w.hours*e.hours) + float64(s.w.cost*e.cost), ok
}

// FlightLeast implements [stair.FlightBounder]: the pad at the foot, and the
// supports that the span limit asks for. What the timber costs is asked of the
// flights that come into question: it takes long, and as a line it bounds little.
func (s *site) FlightLeast(k stair.Kind, tread unit.Length) (open, each float64, ok bool) {
	if k != stair.Framed {
		return 0, 0, true
	}
	r := s.framedRate()
	if !r.framable { // none can be made
		return 0, 0, true
	}
	least, support, perTread := r.least(s.m, tread)
	open = float64(s.w.digging*least.dig) + float64(s.w.hours*least.hours)
	more := float64(s.w.digging*support.dig) + float64(s.w.hours*support.hours)
	// Supports are as many as spans begun, less one.
	if open < more {
		return 0, open * perTread, true
	}
	return open - more, more * perTread, true
}

// Platform implements [stair.Framer]: a framed landing on posts.
func (s *site) Platform() (float64, bool) {
	e := s.framedRate().platform
	return float64(s.w.digging*e.dig) + float64(s.w.hours*e.hours) + float64(s.w.cost*e.cost), true
}

// PlatformCells implements [stair.Framer].
func (s *site) PlatformCells(at []unit.Length, l stair.Line, cost []float64, ok []bool) {
	s.FramedCells(at, l, cost, ok)
	if s.w.hours > 0 || s.w.cost > 0 {
		x := s.framedRate()
		metre := s.m.framingHours().metre
		for i := range cost {
			long := float64(at[i+1] - at[i])
			cost[i] += float64(s.w.hours*float64(metre*long)) + float64(s.w.cost*float64(x.platformMetre*long))
		}
	}
}

// readPath frees the ends that have slack, takes the bends, and moves the foot
// to the last step that stands.
func (m *maker) readPath(all *Faults) {
	if m.head.Level <= m.foot.Level { // one of them was not found
		return
	}
	m.readBends(all)
	head := stair.Point{Station: m.head.Station - m.foot.Station, Level: m.head.Level - m.foot.Level}
	m.heads = m.window(m.plan.Path.Head, head)
	m.feet = m.window(m.plan.Path.Foot, stair.Point{})
	m.ownFoot = m.ownEnd("foot", m.plan.Path.Foot, m.feet[0], m.plan.Steps.FixedFoot, all)
	m.ownHead = m.ownEnd("head", m.plan.Path.Head, m.heads[0], m.plan.Steps.FixedHead, all)
	if len(m.plan.Built) > 0 {
		m.readBuilt(all)
	}
}

func (m *maker) readBends(all *Faults) {
	var on []earthwork.Bend
	walkline, atWalkline, inner := m.wedgeRules()
	before, first, last := len(*all), m.survey.Ground.Foot().Station, m.survey.Ground.Head().Station
	below := first // where the bend below ends
	for i, b := range m.plan.Path.Bends {
		from := b.At.Length - m.foot.Station
		long := unit.Length(b.Radius.Length * unit.Length(math.Abs(b.Turn)*(math.Pi/180)))
		switch end, field := b.At.Length+long, fmt.Sprintf("path.bends[%d].", i); {
		case b.At.Length < first-tolerance || b.At.Length > last+tolerance:
			all.Add(field+"at", m.words.length(b.At.Length), "is outside the ground that was measured",
				"write a station from "+m.words.length(first)+" to "+m.words.length(last)+", or measure further")
		case end > last+tolerance:
			all.Add(field+"at", m.words.length(b.At.Length), "leads the bend out of the ground that was measured: it ends at "+m.words.length(end),
				"begin it lower down, turn less or in a smaller radius, or measure further than "+m.words.length(last))
		case long < unit.Millimeter:
			all.Add(field+"turn", fmt.Sprint(b.Turn), "makes no bend", "write the angle it turns, or leave the bend out")
		case b.At.Length < below-tolerance:
			all.Add(field+"at", m.words.length(b.At.Length), "lies before the end of the bend below, "+m.words.length(below), "write bends from the foot up that do not overlap")
		default:
			below = end
		}
		e := earthwork.Bend{From: from, To: from + long, Radius: b.Radius.Length, Right: b.Turn > 0}
		on = append(on, e)
		m.bends = append(m.bends, stair.Bend{
			From: e.From, To: e.To, Radius: e.Radius, Right: e.Right, Width: m.section.Width,
			Walkline: walkline, MinWalkline: atWalkline, MinInner: inner,
		})
	}
	if len(on) == 0 {
		return
	}
	if len(*all) > before {
		m.bends = nil // steps that do not fit without them do not with them
		return
	}
	g, err := m.ground.WithBends(on)
	if err != nil {
		m.bends = nil
		all.Put("path", err)
		return
	}
	m.ground = g
	m.limits.Bends = m.bends
}

// wedgeRules is what the rule set asks of wedge treads.
func (m *maker) wedgeRules() (walkline, atWalkline, inner unit.Length) {
	for _, r := range m.rules.Of(stair.WedgeWalkline) {
		if r.Severity == stair.Stop && r.Min.SI() > float64(atWalkline) {
			atWalkline = unit.Length(r.Min.SI())
			if r.Walkline != nil && m.section.Width >= r.Walkline.MidBelow {
				walkline = r.Walkline.Offset
			}
		}
	}
	for _, r := range m.rules.Of(stair.WedgeNarrow) {
		if r.Severity == stair.Stop && r.Min.SI() > float64(inner) {
			inner = unit.Length(r.Min.SI())
		}
	}
	return walkline, atWalkline, inner
}

// readBuilt checks the steps that stand and makes the last of them the foot of
// what is still to be fitted.
func (m *maker) readBuilt(all *Faults) {
	before := earthwork.Point{Station: m.foot.Station, Level: m.foot.Level}
	for i, b := range m.plan.Built {
		field := fmt.Sprintf("built[%d]", i)
		if b.Riser != i+1 {
			all.Add(field+".riser", fmt.Sprint(b.Riser), fmt.Sprintf("is not the next riser, %d", i+1), "list every riser that stands, from the foot up")
		}
		if i > 0 && b.At.Length <= before.Station || b.At.Length < before.Station {
			all.Add(field+".at", typed(&b.At, m.words), "is not uphill of what is below it", "write the station of the riser's face")
		}
		if b.Level.Length <= before.Level {
			all.Add(field+".level", typed(&b.Level, m.words), "is not above what is below it", "write the level of the riser's top")
		}
		before = earthwork.Point{Station: b.At.Length, Level: b.Level.Length}
	}
	if before.Station >= m.head.Station || before.Level >= m.head.Level {
		all.Add(fmt.Sprintf("built[%d]", len(m.plan.Built)-1), "", "reaches the head: nothing is left to plan", "leave out the last riser, or move the head")
		return
	}
	m.feet = []stair.Point{{Station: before.Station - m.foot.Station, Level: before.Level - m.foot.Level}}
	m.limits.FirstStands = true
}
