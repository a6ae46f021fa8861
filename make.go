package slopewright

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/internal/fault"
	"github.com/slopewright/slopewright/materials"
	"github.com/slopewright/slopewright/stair"
)

// Make makes the plan: readings to ground, ground to steps, steps to earth,
// timber, money and time. The error is a [Faults] that names every field that
// will not do; fields are those of the plan document.
func Make(p Plan) (Result, error) {
	m, err := reckon(p)
	if err != nil {
		return Result{}, err
	}
	return m.result(), nil
}

func reckon(p Plan) (*maker, error) {
	m := new(maker)
	err := m.read(p)
	if all, ok := err.(Faults); ok {
		err = append(all, m.furtherOn(all, nil)...)
	}
	for _, stage := range [...]func() error{m.lay, m.dig, m.build} {
		if err == nil {
			err = stage()
		}
	}
	if err != nil {
		return nil, m.tell(err)
	}
	m.certain = m.certainty()
	return m, nil
}

// maker carries the plan through its stages, one way: no stage looks back.
type maker struct {
	plan    Plan
	words   words
	earlier *stair.Earlier // of plans that are the same but for the ground; nil: none

	// From the readings.
	readings   earthwork.Readings
	survey     earthwork.Survey
	ground     earthwork.Ground // from the foot
	foot, head earthwork.Point  // in the coordinates of the readings, finished levels

	feet, heads []stair.Point // where the ends may lie, from the foot's own place
	// Where the ends of the plan's own layout lie.
	ownFoot, ownHead stair.Point
	bends            []stair.Bend

	// What is wanted.
	rules   stair.RuleSet
	limits  stair.Limits
	soil    earthwork.Soil
	haul    unit.Length
	carry   unit.Length
	topsoil unit.Length
	section earthwork.Section // of the dig for box steps
	under   earthwork.Section // and below framed flights
	batter  earthwork.Figure
	detail  materials.BoxDetail
	framed  materials.FramedDetail
	// What must be clear below the treads of a framed flight.
	clearance unit.Length
	buildUp   unit.Length
	maxCut    unit.Length
	maxRaise  unit.Length
	crew      earthwork.Crew
	stock     []materials.Stock
	stockFrom []int // of each, its entry in the plan
	dressed   materials.Dressed
	cut       materials.CutOptions
	prices    materials.PriceList

	// What follows.
	fitted   bool
	stretch  bool // the plan's own flights, to its ends
	layout   stair.Layout
	steps    []StepDig
	total    earthwork.Dug
	hauled   *HaulResult // told already
	trenches unit.Volume
	footings unit.Volume
	equal    *RiseOverRun
	bow      *Bow
	certain  *Certainty
	deepest  Deepest
	balance  earthwork.Balance
	earth    earth
	water    *WaterResult
	drain    *materials.Drain
	week     []int // days worked, from Monday
	start    int   // of the work, as dayOf; 0 where there is none
	// What the swale or the pipe does not hold.
	waterChecks []earthwork.Caution
	hours       earthwork.Hours
	schedule    earthwork.Schedule
	wedges      []stair.Wedge
	flights     []materials.FramedFlight
	parts       []materials.FramedPart
	ratesKept   *rates
	itemPrices  map[string]bool // items with a price of their own
	itemsMoney  map[ordered]float64
	metres      map[string]float64 // money for a metre, by section
	boxed       []materials.Box
	doubts      []Finding // of edging, drain and lights
	// The footing of the bottom step, and what of it lies in the base gravel.
	foundation    materials.FootingPart
	footingInBase unit.Volume
	takeoff       materials.Takeoff
	cutplan       materials.CutPlan
	bill          materials.Bill

	strangers [3]stranger // among the distances, legs and heights read
}

// The trade's and our own defaults; but for the clearance each is a field of
// the document.
const (
	defaultHaul     = 15 * unit.Meter   // common practice
	defaultWorking  = 0.15 * unit.Meter // common practice
	defaultMaxCut   = 1.2 * unit.Meter  // common practice: about 4 ft, below the 5 ft of 29 CFR 1926.652(a)(1)
	defaultMaxRaise = 0.1 * unit.Meter  // one hand-tamped lift: at most 4 in within 2 ft of a structure, NRCS AR-23A
	defaultWash     = 0.02              // 2 %: Beall, Masonry and Concrete (2004), p. 294
	// Beall, Masonry and Concrete (2004), p. 284; in metric the next 100 mm above it.
	defaultLanding       = 36 * unit.Inch
	defaultLandingMetric = unit.Meter
	trenchClearance      = 0.1 * unit.Meter // each side of a riser timber: 4-6 in in all, common practice
)

// inInches is whether the usual sizes are those of feet and inches.
func (m *maker) inInches() bool {
	if m.plan.Sizes != "" {
		return m.plan.Sizes == "imperial"
	}
	return m.words.imperial
}

// either is the imperial or the metric default, by the plan's usual sizes.
func (m *maker) either(imperial, metric unit.Length) unit.Length {
	if m.inInches() {
		return imperial
	}
	return metric
}

// read checks the plan and turns it into what the packages take.
func (m *maker) read(p Plan) error {
	var all Faults
	m.readAll(p, &all)
	return all.Err()
}

func (m *maker) readAll(p Plan, all *Faults) {
	m.plan = p
	m.words = words{imperial: p.Units == "imperial"}
	m.readGround(all)
	m.readSteps(all)
	m.readSoil(all)
	m.readBuild(all)
	m.readPrices(all)
	m.readPath(all)
	if len(*all) > 0 {
		m.alsoSlip(all)
	}
}

func lengthOr(l *Length, other unit.Length) unit.Length {
	if l == nil {
		return other
	}
	return l.Length
}

func numberOr(x *float64, other float64) float64 {
	if x == nil {
		return other
	}
	return *x
}

func slopeOr(s *Slope, other float64) float64 {
	if s == nil {
		return other
	}
	return s.Ratio
}

func textOr(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func (m *maker) readGround(all *Faults) {
	g := m.plan.Ground
	accuracy := lengthOr(g.Accuracy, 0)
	var s earthwork.Readings
	switch g.Method {
	case "total":
		s = earthwork.TotalReadings{Rise: lengthOr(g.Rise, 0), Run: lengthOr(g.Run, 0), Accuracy: accuracy}
	case "string":
		r := earthwork.StringReadings{From: earthwork.End(textOr(g.From, "foot")), Accuracy: accuracy}
		for _, x := range g.Readings {
			r.Readings = append(r.Readings, earthwork.StringReading{At: lengthOr(x.At, 0), Drop: lengthOr(x.Drop, 0), Crossfall: slopeOr(x.Crossfall, 0)})
		}
		s = r
	case "rod":
		s = m.rodReadings()
	case "slope":
		r := earthwork.SlopeReadings{Accuracy: accuracy}
		for i, x := range g.Readings {
			y := earthwork.SlopeReading{Length: lengthOr(x.Length, 0), Crossfall: slopeOr(x.Crossfall, 0)}
			switch {
			case x.Angle == nil && x.Grade == nil:
				all.Add(fmt.Sprintf("ground.readings[%d].angle", i), "", "is missing", "write the clinometer's angle (\"12.5°\") or its grade (\"22 %\")")
			case x.Angle != nil && x.Grade != nil:
				all.Add(fmt.Sprintf("ground.readings[%d].grade", i), x.Grade.Text, "is given beside an angle", "leave one of the two out")
			case x.Angle != nil:
				y.Angle = x.Angle.Angle
			default:
				y.Grade = &x.Grade.Ratio
			}
			r.Readings = append(r.Readings, y)
		}
		s = r
	case "levels":
		r := earthwork.LevelReadings{Accuracy: accuracy}
		for _, x := range g.Readings {
			r.Readings = append(r.Readings, earthwork.LevelReading{At: lengthOr(x.At, 0), Level: lengthOr(x.Level, 0), Crossfall: slopeOr(x.Crossfall, 0)})
		}
		s = r
	default:
		all.Add("ground.method", g.Method, "is not a way of measuring", "write total, string, rod, slope or levels")
		return
	}
	if len(*all) > 0 {
		return
	}
	m.readings = s
	survey, err := s.Survey()
	if err != nil {
		err = under("ground", err)
		if g.Method == "rod" {
			booked(err)
		}
		all.Put("", m.withSlip(err))
		return
	}
	m.survey = survey
	var ends Faults
	m.readEnds(&ends)
	all.Put("", m.withSlip(ends.Err()))
}

// booked gives faults of the levels of a level book the name that the document has for
// them.
func booked(err error) {
	all, ok := faultsOf(err)
	if ok {
		for i := range all {
			if of, ok := strings.CutSuffix(all[i].Field, "].level"); ok {
				all[i].Field = of + "].booked"
			}
		}
	}
}

// rodReadings is the level book of the plan.
func (m *maker) rodReadings() earthwork.RodReadings {
	r := earthwork.RodReadings{Accuracy: lengthOr(m.plan.Ground.Accuracy, 0), Feet: m.words.imperial}
	for _, x := range m.plan.Ground.Readings {
		r.Readings = append(r.Readings, earthwork.RodReading{
			At: bare(x.At), Back: bare(x.Back), Mid: bare(x.Mid), Fore: bare(x.Fore), Bench: bare(x.Bench), Level: bare(x.Booked),
			Crossfall: slopeOr(x.Crossfall, 0),
		})
	}
	return r
}

func bare(l *Length) *unit.Length {
	if l == nil {
		return nil
	}
	return &l.Length
}

// readEnds finds the foot and the head on the ground and moves the origin to
// the foot's finished surface.
func (m *maker) readEnds(all *Faults) {
	g := m.survey.Ground
	end := func(field string, e End, other earthwork.Point) (earthwork.Point, bool) {
		p := other
		if e.At != nil {
			p.Station = e.At.Length
			if p.Station < g.Foot().Station || p.Station > g.Head().Station {
				all.Add("path."+field+".at", m.words.length(p.Station), "is outside the ground that was measured",
					"write a station from "+m.words.length(g.Foot().Station)+" to "+m.words.length(g.Head().Station)+", or measure further")
				return p, false
			}
			p.Level, _ = g.LevelAt(p.Station)
		}
		if e.Level != nil {
			p.Level = e.Level.Length
		}
		return p, true
	}
	foot, ok1 := end("foot", m.plan.Path.Foot, g.Foot())
	head, ok2 := end("head", m.plan.Path.Head, g.Head())
	if !ok1 || !ok2 {
		return
	}
	if head.Station <= foot.Station {
		all.Add("path.head.at", m.words.length(head.Station), "is not uphill of the foot at "+m.words.length(foot.Station), "exchange the two")
		return
	}
	if head.Level <= foot.Level {
		all.Add("path.head.level", m.words.length(head.Level), "is not above the foot at "+m.words.length(foot.Level),
			"steps go up from foot to head: check the sign of the readings and the end they were taken from")
		return
	}
	m.foot, m.head = foot, head
	m.ground = g.Shift(foot.Station, foot.Level)
}

// ruleSets are the rule sets read so far, by ID. Nothing here changes them.
var ruleSets sync.Map

func ruleSet(id string) (stair.RuleSet, bool) {
	if known, ok := ruleSets.Load(id); ok {
		return known.(stair.RuleSet), true
	}
	rules, ok := stair.RuleSetByID(id)
	if ok {
		ruleSets.Store(id, rules)
	}
	return rules, ok
}

func (m *maker) readSteps(all *Faults) {
	s := m.plan.Steps
	id := textOr(s.Rules, "garden")
	rules, ok := ruleSet(id)
	if !ok {
		all.Add("steps.rules", id, "is not a rule set", fault.OneOf(id, ids(ruleChoices())))
		rules, _ = ruleSet("own") // the rest is read with
	}
	known := ok
	m.rules = rules
	facts := stair.Facts{Width: m.plan.Path.Width.Length}
	l := rules.LimitsFor(facts)
	if usual := m.either(defaultLanding, defaultLandingMetric); l.LandingMin < usual && !says(rules, stair.LandingDepth) && !says(rules, stair.LandingAsWide) {
		l.LandingMin = usual
	}
	l.Wash = slopeOr(s.Wash, defaultWash)
	l.Grid = lengthOr(s.Grid, m.either(unit.Inch/2, 10*unit.Millimeter))
	// The plan narrows what the rule set says; where that says nothing the
	// plan's own figures stand.
	narrow := func(field string, of stair.Quantity, b *Between, low, high *unit.Length) {
		if b == nil {
			return
		}
		if b.Min != nil && b.Max != nil && b.Min.Length > b.Max.Length {
			all.Add("steps."+field+".min", m.words.length(b.Min.Length), "is more than the greatest allowed, "+m.words.length(b.Max.Length), "exchange the two")
			return
		}
		if !known {
			return
		}
		ruled := says(rules, of)
		if b.Min != nil && (b.Min.Length > *low || !ruled) {
			*low = b.Min.Length
		}
		if b.Max != nil && (b.Max.Length < *high || *high == 0 || !ruled) {
			*high = b.Max.Length
		}
		switch {
		case *high == 0 || *low <= *high:
		case ruled:
			all.Add("steps."+field, "", fmt.Sprintf("leaves nothing of what rule set %s allows", id),
				"choose another rule set, or a range that meets it")
		case b.Min != nil:
			*high = *low
		default:
			*low = *high
		}
	}
	narrow("riser", stair.RiserHeight, s.Riser, &l.RiserMin, &l.RiserMax)
	narrow("tread", stair.TreadDepth, s.Tread, &l.TreadMin, &l.TreadMax)
	if w := s.Landing; w != nil {
		narrow("landing", stair.LandingDepth, &Between{Min: w.Min, Max: w.Max}, &l.LandingMin, &l.LandingMax)
		if w.Every > 0 && (l.MaxFlightRisers == 0 || w.Every < l.MaxFlightRisers) {
			l.MaxFlightRisers = w.Every
		}
		if w.Fewest > 0 { // what the plan says is kept to; what a rule set warns of is wished for
			l.WishedFlightRisers = 0
		}
		l.MinFlightRisers = max(l.MinFlightRisers, w.Fewest)
		if most := l.MaxFlightRisers; most > 0 && w.Fewest > most {
			all.Add("steps.landing.fewest", strconv.Itoa(w.Fewest), fmt.Sprintf("is more risers than a flight may have, %d", most),
				fmt.Sprintf("write %d at most, or allow longer flights", most))
		}
	}
	for _, k := range s.Kinds {
		kind := stair.Box
		if k == "framed" {
			kind = stair.Framed
		}
		l.Kinds = append(l.Kinds, kind)
		if kind == stair.Framed && l.LandingMax == 0 {
			l.LandingMax = framedLandingMost
		}
	}
	m.limits = l
	m.maxCut = lengthOr(s.MaxCut, defaultMaxCut)
	m.maxRaise = lengthOr(s.MaxRise, defaultMaxRaise)
	for i, f := range s.Fixed {
		if f.Risers > 1 && f.Tread == nil {
			all.Add(fmt.Sprintf("steps.fixed[%d].tread", i), "", "is missing", "write the tread depth of the flight")
		}
		if i == len(s.Fixed)-1 && f.Landing != nil {
			all.Add(fmt.Sprintf("steps.fixed[%d].landing", i), f.Landing.Text, "has no flight above it", "write the flight above it, or leave it out: the last flight ends at the head")
		}
		if i < len(s.Fixed)-1 && f.Landing == nil {
			all.Add(fmt.Sprintf("steps.fixed[%d].landing", i), "", "is missing", "write the depth of the landing above this flight")
		}
	}
}

// says reports whether a rule set has a limit for a quantity.
func says(s stair.RuleSet, q stair.Quantity) bool {
	for _, r := range s.Rules {
		if r.Quantity == q && r.Severity == stair.Stop {
			return true
		}
	}
	return false
}

func (m *maker) readSoil(all *Faults) {
	s := m.plan.Soil
	id := textOr(s.Class, "loam")
	soil, ok := earthwork.SoilByID(id)
	if !ok {
		all.Add("soil.class", id, "is not a class of soil", fault.OneOf(id, ids(soilChoices())))
		soil, _ = earthwork.SoilByID("loam") // the rest is read with
	}
	known := ok
	override := func(f *earthwork.Figure, x *float64) {
		if x != nil {
			*f = earthwork.Figure{Value: *x, Source: "this plan"}
		}
	}
	if s.Type != "" {
		soil.SafetyType = strings.Replace(s.Type, "-", " ", 1)
		soil.Batter = earthwork.Figure{Value: earthwork.Bank{Soil: soil}.SafeBatter(), Source: "29 CFR 1926 Subpart P, App. B table B-1; the type of soil by this plan"}
	}
	override(&soil.Repose, s.Repose)
	override(&soil.Swell, s.Swell)
	override(&soil.Shrink, s.Shrink)
	override(&soil.BankDensity, s.Density.value())
	if known {
		m.readLoose(all, &soil)
	}
	if s.Digging != nil {
		soil = soil.WithDigging(s.Digging.Value, "this plan")
	}
	override(&soil.Batter, s.Batter)
	override(&soil.ShallowBatter, s.Batter)
	if known {
		all.Put("soil", soil.Validate())
	}
	m.soil = soil
	m.haul = lengthOr(s.Haul, defaultHaul)
	m.carry = lengthOr(s.Carry, defaultHaul)
	m.topsoil = lengthOr(s.Topsoil, 0)
	m.readPlaces(all)
	m.readSection()
	c := m.plan.Crew
	m.crew = earthwork.Crew{People: c.People, HoursPerDay: numberOr(c.HoursPerDay, 6), DaysPerWeek: numberOr(c.DaysPerWeek, 2)}
	if m.crew.People == 0 {
		m.crew.People = 2
	}
	m.readWeek(all)
}

// readSection is what is dug across the path, to the depth that may be dug.
func (m *maker) readSection() {
	// A cut that may reach 5 ft is sloped as its soil type asks throughout.
	m.batter = m.soil.ShallowBatter
	if m.maxCut >= protectAt {
		m.batter = m.soil.Batter
	}
	m.section = earthwork.Section{
		Width:      m.plan.Path.Width.Length,
		Working:    lengthOr(m.plan.Build.Working, defaultWorking),
		Batter:     m.batter.Value,
		FillBatter: fillBatter,
	}
	m.under = m.section
	m.under.Working = 0
	m.under.FillBatter = 0 // stringers need no ground under them
}

// fillBatter is the slope of the shoulders of fill, horizontal per vertical:
// 1.5, the flattest of OSHA's three soil types (29 CFR 1926 Subpart P, App. B).
const fillBatter = 1.5

func (m *maker) readBuild(all *Faults) {
	m.readDressed(all)
	b := m.plan.Build
	name := b.Timber
	if name == "" {
		name = "100x200"
		if m.inInches() {
			name = "6x6"
		}
	}
	timber, err := materials.SectionByName(name)
	if err != nil || timber.Round {
		all.Add("build.timber", name, "is not a timber section in the tables", "write one of "+m.sections())
		timber, _ = materials.SectionByName("6x6") // the rest is read with
	}
	m.sized(&timber)
	d := materials.DefaultBoxDetail()
	d.Timber = timber
	d.OnEdge = b.OnEdge
	d.Topping = lengthOr(b.Topping, m.either(2*unit.Inch, 50*unit.Millimeter))
	d.Fill = lengthOr(b.Fill, 0)
	d.Base = lengthOr(b.Base, m.either(4*unit.Inch, 100*unit.Millimeter))
	d.MaxBedding = lengthOr(b.Bedding, m.either(1*unit.Inch, 25*unit.Millimeter))
	d.HeadReturn = lengthOr(b.HeadReturn, m.either(24*unit.Inch, 600*unit.Millimeter))
	d.PinLength = lengthOr(b.Pin, m.either(24*unit.Inch, 600*unit.Millimeter))
	m.readBox(&d, all)
	m.buildUp = d.BuildUp()
	if m.buildUp <= 0 {
		all.Add("build.base", "", "leaves the tread without any gravel", "write a thickness for base or topping")
	}
	m.detail = d
	m.readFittings(all)
	m.readFramed(all)
	if m.plan.Steps.Courses {
		m.limits.Courses = &stair.Courses{Height: d.Course(), MaxBedding: d.MaxBedding, MaxBuried: unit.Millimeter}
	}
	m.readCut(all)
}

// framedLandingMost is the deepest landing where some may be platforms, whose
// joists span so far at most. Common practice.
const framedLandingMost = 6 * unit.Meter

// framedTreadMost is the deepest tread of a framed flight unless the plan says
// otherwise: a board's worth of people stand on less. Common practice.
const framedTreadMost = 0.4 * unit.Meter

func (m *maker) readFramed(all *Faults) {
	b := m.plan.Build.Framed
	d := materials.DefaultFramedDetail()
	d.Wood = textOr(b.Wood, d.Wood)
	members := []*materials.Section{&d.Stringer, &d.Tread, &d.RiserBoard, &d.LedgerBoard, &d.Post, &d.Beam, &d.Joist, &d.Decking, &d.GuardPost, &d.GuardRail, &d.Baluster, &d.Handrail}
	m.fromStock(d.Wood, members)
	d.Solid = b.Solid
	section := func(field, name string, of *materials.Section) {
		if name == "" {
			return
		}
		s, err := materials.FramedSectionByName(name)
		if err != nil || s.Round {
			all.Add("build.framed."+field, name, "is not a section in the tables", "write one of "+m.sections())
			return
		}
		*of = s
	}
	section("stringer", b.Stringer, &d.Stringer)
	section("board", b.Board, &d.Tread)
	d.Gap = lengthOr(b.Gap, d.Gap)
	m.readFlight(&d, section)
	m.sized(members...)
	if err := d.Check(); err != nil {
		err = rename(err, "composite_tread", "composite")
		all.Put("build.framed", rename(err, "tread", "board"))
		return
	}
	m.framed = d
	f := stair.FramedLimits{TreadMin: m.limits.TreadMin, TreadMax: framedTreadMost}
	if b.Tread != nil {
		f.TreadMin, f.TreadMax = lengthOr(b.Tread.Min, f.TreadMin), lengthOr(b.Tread.Max, f.TreadMax)
	}
	if f.TreadMax > m.limits.TreadMax {
		f.TreadMax = m.limits.TreadMax
	}
	if f.TreadMin > f.TreadMax {
		if m.framing() && b.Tread != nil {
			all.Add("build.framed.tread", "", "leaves no tread between "+m.words.length(f.TreadMin)+" and "+m.words.length(f.TreadMax),
				"write the range of treads for framed flights")
		}
		f.TreadMax = f.TreadMin
	}
	m.limits.Framed = &f
	if m.framing() {
		// Where no platform at all is strong enough, the checks say so.
		if frames, err := materials.NewFrames(d); err == nil {
			m.limits.PlatformMax = frames.DeepestPlatform(m.section.Width, framedLandingMost)
		}
	}
	// The same clearance under every tread: that of the highest riser on the
	// shallowest tread, which reaches down furthest.
	m.clearance = materials.FramedClearance(d, m.limits.RiserMax, f.TreadMin)
}

// exact is the decimal that a person would write for x: 8 % is 0.08, not the
// nearest binary fraction.
func exact(x float64) decimal.Decimal { return decimal.NewFromFloat(x) }

// rename gives the faults below one field the name that the document has for
// it.
func rename(err error, from, to string) error {
	all, ok := faultsOf(err)
	if !ok {
		return err
	}
	for i, f := range all {
		if rest, ok := strings.CutPrefix(f.Field, from); ok {
			all[i].Field = to + rest
		}
	}
	return all
}

// named gives a field that faults tell of the name that the document has for it.
func named(err error, from, to string) error {
	all, ok := faultsOf(err)
	if ok {
		for i := range all {
			all[i].Fix = strings.ReplaceAll(all[i].Fix, from, to)
		}
	}
	return err
}

func under(field string, err error) error {
	if err == nil {
		return nil
	}
	var all Faults
	all.Put(field, err)
	return all
}

// trench is what is dug for a riser timber below the formation of the tread in
// front of it, with upright sides. There is no box in front of the first.
func (m *maker) trench(riser unit.Length, first bool) unit.Volume {
	length := m.section.Width + 2*m.section.Working
	return unit.Volume(float64(m.trenchDepth(riser, first)) * float64(m.trenchWidth()) * float64(length))
}

func (m *maker) trenchDepth(riser unit.Length, first bool) unit.Length {
	_, _, buried := m.detail.Courses(riser)
	depth := buried + m.detail.Base
	if !first {
		depth -= m.buildUp
	}
	if depth < 0 {
		return 0
	}
	return depth
}

func (m *maker) trenchWidth() unit.Length { return m.detail.Breadth() + 2*trenchClearance }

// trenchGravel is the base gravel in those trenches: what the timber in them
// leaves of it.
func (m *maker) trenchGravel() unit.Volume {
	r := m.layout.Riser
	_, _, buried := m.detail.Courses(r)
	var sum unit.Volume
	for i, s := range m.layout.Steps {
		if s.Kind == stair.Framed || i == 0 && m.layout.FirstStands {
			continue
		}
		v := m.trench(r, i == 0)
		below := buried // of the timber, below the formation in front
		if i > 0 {
			below -= m.buildUp
		}
		if v > 0 && below > 0 {
			v -= unit.Volume(float64(below) * float64(m.detail.Breadth()) * float64(m.section.Width))
		}
		sum += v
	}
	return sum
}

// dig measures the earth of the layout, step by step, and beside it what the
// sum of rise over run would have made of the same hill.
func (m *maker) dig() error {
	var err error
	if m.steps, m.total, m.trenches, err = m.digOn(m.ground, m.layout); err != nil {
		return err
	}
	for i, s := range m.steps {
		if i == 0 || s.Depth > m.deepest.Depth {
			m.deepest = Deepest{Depth: s.Depth, Station: s.deepestAt, Riser: s.Riser}
		}
	}
	if err := m.digTopsoil(); err != nil {
		return err
	}
	if err := m.digFootings(); err != nil {
		return err
	}
	if err := m.digBoxFooting(); err != nil {
		return err
	}
	if err := m.digDeadmen(); err != nil {
		return err
	}
	if err := m.leadOff(); err != nil {
		return err
	}
	if err := m.haulEarth(); err != nil {
		return err
	}
	if m.unseen() {
		return m.digBow()
	}
	return m.digRiseOverRun()
}

// digOn is the earth of a layout on a ground: by step, and in all with the
// trenches, which are also given apart.
func (m *maker) digOn(g earthwork.Ground, l stair.Layout) (steps []StepDig, total earthwork.Dug, trenches unit.Volume, err error) {
	for i, s := range l.Steps {
		d := StepDig{Riser: s.Riser + m.below(), Kind: string(m.bearing(l, i)), Formation: s.Level - m.buildUp}
		if s.Kind != stair.Framed && !(i == 0 && l.FirstStands) {
			d.TrenchBank = m.trench(l.Riser, i == 0)
		}
		d.CutBank = d.TrenchBank
		trenches += d.TrenchBank
		b, err := m.bed(g, l, i)
		if err != nil {
			return nil, total, 0, err
		}
		d.Formation += b.lower
		if b.dug {
			dug, err := b.ground.Dig(b.section, b.stretch)
			if err != nil {
				return nil, total, 0, under("ground", err)
			}
			if b.framed { // stringers need no ground under them
				dug.Fill, dug.Highest, dug.HighestEdge = 0, 0, 0
			}
			d.CutBank += dug.Cut
			d.FillCompacted, d.BackfillCompacted, d.Depth, d.deepestAt = dug.Fill, dug.Backfill, dug.Deepest, dug.DeepestAt
			total = total.Plus(dug)
		}
		steps = append(steps, d)
	}
	total.Cut += trenches
	return steps, total, trenches, nil
}

// below is how many risers stand below the first of the layout.
func (m *maker) below() int {
	if n := len(m.plan.Built); n > 0 {
		return n - 1
	}
	return 0
}

// bearing is what carries the tread behind step i: the ground, or stringers.
func (m *maker) bearing(l stair.Layout, i int) stair.Kind {
	if l.Steps[i].Landing {
		for _, x := range l.Landings {
			if x.After == l.Steps[i].Riser {
				return x.Kind
			}
		}
	}
	return l.Steps[i].Kind
}

func (m *maker) anyFramed() bool {
	for _, f := range m.layout.Flights {
		if f.Kind == stair.Framed {
			return true
		}
	}
	return false
}

// digFootings adds the holes for the pads and posts of framed flights to the
// first step of each, and works out what those flights take.
func (m *maker) digFootings() error {
	l := m.layout
	for i, f := range l.Flights {
		if f.Kind != stair.Framed {
			continue
		}
		x := materials.FramedFlight{First: f.First + m.below(), Risers: f.Risers, Riser: l.Riser, Tread: f.Tread, Width: m.section.Width, Wash: l.Wash}
		x.Drop, x.Under = m.standing(f)
		if i > 0 && l.Landings[i-1].Kind == stair.Framed {
			x.OnLanding = true
		}
		if i < len(l.Landings) && l.Landings[i].Kind == stair.Framed {
			p := l.Landings[i]
			x.Platform = p.Depth
			ground, _ := m.ground.LevelAt(p.Start)
			if x.PlatformHeight = p.Level - ground; x.PlatformHeight < unit.Meter/4 {
				x.PlatformHeight = unit.Meter / 4
			}
		}
		m.flights = append(m.flights, x)
	}
	if len(m.flights) == 0 {
		return nil
	}
	parts, err := materials.FramedParts(m.flights, m.framed)
	if err != nil {
		return m.madeFaults(err, "build.framed", nil)
	}
	m.parts = parts
	k := 0
	for _, f := range l.Flights {
		if f.Kind != stair.Framed {
			continue
		}
		p := parts[k]
		pad := unit.Volume(padHole(p.Pad, m.framed))
		hole := pad + unit.Volume(float64(float64(p.Posts)*m.footing()))
		k++
		at := f.First - 1
		m.steps[at].CutBank += hole
		m.steps[at].FootingBank, m.steps[at].pads, m.steps[at].posts = hole, pad, hole-pad
		m.total.Cut += hole
		m.footings += hole
	}
	return nil
}

// standing is the most that a framed flight stands above the ground beside it,
// and how high its stringers' underside is half-way.
func (m *maker) standing(f stair.Flight) (drop, under unit.Length) {
	for i := f.First - 1; i < f.First-1+f.Risers; i++ {
		s := m.layout.Steps[i]
		ground, ok := m.ground.LevelAt(s.Station)
		if !ok {
			continue
		}
		slope, _ := m.ground.CrossfallAt(s.Station)
		low := ground - unit.Length(math.Abs(slope)*float64(m.section.Width)/2)
		if d := s.Level - low; d > drop {
			drop = d
		}
		if i == f.First-1+f.Risers/2 {
			under = s.Level - m.clearance - ground
		}
	}
	if under < 0 {
		under = 0
	}
	return drop, under
}

// bed is what is dug behind one riser: where, and down to what. Lower is how much
// lower than under a box.
type bed struct {
	ground      earthwork.Ground
	section     earthwork.Section
	stretch     earthwork.Stretch
	framed, dug bool
	lower       unit.Length
}

// bed is that of step i. Behind the last riser the sides of its box run back into
// the bank under the head; ground that was not measured that far is taken to go on
// level.
func (m *maker) bed(g earthwork.Ground, l stair.Layout, i int) (bed, error) {
	s := l.Steps[i]
	b := bed{ground: g, section: m.section, dug: true}
	b.stretch = earthwork.Stretch{
		From: s.Station, BuildUp: m.buildUp,
		Formation: earthwork.Line{Station: s.Station, Level: s.Level - m.buildUp, Grade: l.Wash},
	}
	if i < len(l.Steps)-1 {
		b.stretch.To = l.Steps[i+1].Station
		if m.bearing(l, i) == stair.Framed {
			b.framed, b.section, b.lower = true, m.under, m.buildUp-m.clearance
			b.stretch.BuildUp = 0
			b.stretch.Formation.Level = s.Level - m.clearance
		}
		return b, nil
	}
	if s.Kind == stair.Framed {
		b.dug = false
		return b, nil
	}
	end := l.Head.Station + m.detail.HeadReturn
	b.stretch.From, b.stretch.To = l.Head.Station, end
	b.stretch.Formation = earthwork.Line{Station: l.Head.Station, Level: l.Head.Level - m.buildUp}
	var err error
	b.ground, err = behind(g, l.Head.Station, end)
	return b, err
}

// behind is the ground from the head of a path to the end of its last box.
func behind(g earthwork.Ground, head, end unit.Length) (earthwork.Ground, error) {
	at := func(x unit.Length) earthwork.Point {
		p := earthwork.Point{Station: x}
		var ok bool
		if p.Level, ok = g.LevelAt(x); !ok {
			p.Level, p.Crossfall = g.Head().Level, g.Head().Crossfall
			return p
		}
		p.Crossfall, _ = g.CrossfallAt(x)
		return p
	}
	points := []earthwork.Point{at(head)}
	for _, p := range g.Points() {
		// A point closer than grounds keep theirs apart adds nothing.
		if p.Station > head+2*unit.Millimeter && p.Station < end-2*unit.Millimeter {
			points = append(points, p)
		}
	}
	on, err := earthwork.NewGround(append(points, at(end)))
	return on, under("ground", err)
}

// digRiseOverRun digs the steps that rise over run gives, all treads alike from
// foot to head: once on the straight line that sum takes for the hill, once on
// the hill.
func (m *maker) digRiseOverRun() error {
	l := m.layout
	if l.Risers < 2 || l.FirstStands || m.anyFramed() {
		return nil
	}
	tread := l.Run / unit.Length(l.Risers-1)
	equal, err := stair.Lay(l.Foot, l.Head, l.Wash, []stair.FixedFlight{{Kind: stair.Box, Risers: l.Risers, Tread: tread}})
	if err != nil {
		return nil // no such steps: nothing to hold against
	}
	straight, err := earthwork.NewGround([]earthwork.Point{{}, {Station: l.Run, Level: l.Rise}})
	if err != nil {
		return nil
	}
	_, thought, _, err := m.digOn(straight, equal)
	if err != nil {
		return err
	}
	_, real, _, err := m.digOn(m.ground, equal)
	if err != nil {
		return err
	}
	m.equal = &RiseOverRun{Tread: tread, Thought: thought.Cut, CutBank: real.Cut, FillCompacted: real.Fill}
	return nil
}

// How far a hill may bow away from the straight line between foot and head: a
// twentieth of the run, common practice, since no published figure was found;
// but no more than leaves a parabola rising all the way, a quarter of the rise.
const bowPart, bowRise, bowPieces = 1.0 / 20, 1.0 / 4, 24

// unseenRun is what lies unread between two readings before more is asked for: common
// practice is a reading at every change of slope.
const unseenRun = 3 * unit.Meter

// unseen is whether the ground between the ends is not known: of a rise and a run, and
// of two readings far apart, which say no more.
func (m *maker) unseen() bool {
	return m.survey.Method == "total" || m.survey.Run.Value > unseenRun && len(m.survey.Ground.Points()) == 2
}

// digBow digs the steps on a hill bowed up and on one bowed down.
func (m *maker) digBow() error {
	l := m.layout
	b := Bow{Bow: l.Run * bowPart, Least: m.total.Cut, Most: m.total.Cut, Fill: m.total.Fill}
	if most := l.Rise * bowRise; b.Bow > most {
		b.Bow = most
	}
	for _, sign := range []float64{1, -1} {
		points := make([]earthwork.Point, bowPieces+1)
		for i := range points {
			x := float64(i) / bowPieces
			up := float64(x*float64(l.Rise)) + float64(4*sign*float64(b.Bow)*float64(x*(1-x)))
			points[i] = earthwork.Point{Station: unit.Length(x * float64(l.Run)), Level: unit.Length(up)}
		}
		points[bowPieces].Station = l.Run
		g, err := earthwork.NewGround(points)
		if err != nil {
			return under("ground", err)
		}
		_, total, _, err := m.digOn(g, l)
		if err != nil {
			return err
		}
		if total.Cut < b.Least {
			b.Least = total.Cut
		}
		if total.Cut > b.Most {
			b.Most = total.Cut
		}
		if total.Fill > b.Fill {
			b.Fill = total.Fill
		}
	}
	m.bow = &b
	return nil
}

// build takes off the materials, cuts the timber, prices it all and reckons the
// time.
func (m *maker) build() error {
	boxes := m.boxes()
	m.boxed = boxes
	m.usualTimber()
	if err := m.timberSuffices(boxes); err != nil {
		return err
	}
	if m.detail.TrenchBase = m.trenchGravel() - m.footingInBase; m.detail.TrenchBase < 0 {
		m.detail.TrenchBase = 0
	}
	takeoff, err := m.takeOff(boxes)
	if err != nil {
		return err
	}
	cutplan, err := materials.Cut(takeoff.Pieces, m.stock, m.cut)
	if err != nil {
		return m.cutFaults(err, takeoff.Pieces)
	}
	takeoff = takeoff.Treat(cutplan)
	if len(m.flights) > 0 {
		takeoff = materials.TreatFramed(takeoff, cutplan, m.flights, m.framed)
	}
	m.takeoff, m.cutplan = takeoff, cutplan
	if err := m.reckonTime(boxes); err != nil {
		return err
	}
	m.hire()
	m.bill, err = materials.MakeBill(takeoff, cutplan, m.prices)
	return under("prices", err)
}

// slopedPath is the mean grade from which barrows carry a slope's load: 1:12,
// the steepest a path is kept without steps (Scottish Forestry Grant Scheme,
// timber board and aggregate steps, 2015).
const slopedPath = 1.0 / 12

// framingTime is the time for framed flights, beside the digging.
func (m *maker) framingTime() []earthwork.Activity {
	if len(m.flights) == 0 {
		return nil
	}
	h := 0.0
	x := m.framingHours()
	for i, f := range m.flights {
		h += x.flight + float64(x.riser*float64(f.Risers)) + float64(x.support*float64(m.parts[i].Supports))
		if f.Platform > 0 {
			h += x.platform + float64(x.metre*f.Platform.Meters())
		}
	}
	if m.outputs().Framing != nil {
		return []earthwork.Activity{m.activity("framing", "building framed flights", h, thisPlan, false)}
	}
	hours := func(x float64) unit.Duration { return unit.Duration(x) * unit.Hour }
	return []earthwork.Activity{{
		ID: "framing", Name: "building framed flights", Source: "common practice",
		Time: earthwork.Range{Low: hours(h * framedLow), Likely: hours(h), High: hours(h * framedHigh)},
	}}
}

func (m *maker) reckonTime(boxes []materials.Box) error {
	w := earthwork.Work{
		CutBank: m.balance.CutBank, DigDepth: m.deepest.Depth,
		TrimArea:   unit.Area(float64(m.layout.Run) * float64(m.section.Formation())),
		SpoilLoose: m.balance.SpoilLoose, BorrowLoose: m.balance.BorrowLoose, HaulDistance: m.earth.way, HaulClimb: m.earth.climb,
		FillCompacted: m.total.Fill + m.total.Backfill, GravelDistance: m.earth.carry, GravelClimb: m.earth.carryClimb,
		Steep: m.steepPath(),
		Boxes: len(boxes), Other: append(append(m.earthTime(), m.framingTime()...), m.sundryTime()...),
	}
	for _, i := range m.takeoff.Items {
		switch i.ID {
		case materials.ItemBase, materials.ItemFill, materials.ItemTopping:
			w.GravelCompacted += i.Need.Volume
		}
	}
	m.rated(&w)
	if err := w.Validate(); err != nil {
		return under("", err)
	}
	m.hours = m.soil.Hours(w)
	var err error
	m.schedule, err = m.hours.Days(m.crew)
	return under("crew", err)
}

// timberSuffices sees to it that a riser timber can be cut in one piece.
func (m *maker) timberSuffices(boxes []materials.Box) error {
	if len(boxes) == 0 {
		return nil
	}
	name := m.detail.Timber.Name
	m.detail.LongestTimber = m.longest(name)
	if m.detail.LongestTimber == 0 && m.sold(name) {
		return Faults{{Field: "cut", Problem: "leaves no " + name + " that can be brought and carried", Fix: "raise longest_board or heaviest_board, or add a shorter length to stock"}}
	}
	if m.detail.LongestTimber == 0 {
		return Faults{{Field: "stock", Problem: "has no length of the timber " + name, Fix: "add its lengths, or leave stock out to use the usual ones"}}
	}
	if m.detail.LongestTimber < m.section.Width {
		return Faults{{Field: "stock", Got: m.words.length(m.detail.LongestTimber), Problem: "is the longest " + name + ", too short for a riser timber of " + m.words.length(m.section.Width),
			Fix: "add a longer one, or make the path narrower"}}
	}
	return nil
}

// boxes are the box steps to be built, from the foot. A framed flight needs
// none; the landing at its head is a box like another.
func (m *maker) boxes() []materials.Box {
	l := m.layout
	var out []materials.Box
	for i, s := range l.Steps {
		b := materials.Box{Number: s.Riser + m.below(), Riser: l.Riser, Tread: s.Tread, Width: m.section.Width, Landing: s.Landing}
		switch {
		case i == len(l.Steps)-1 && s.Kind == stair.Framed, i < len(l.Steps)-1 && m.bearing(l, i) == stair.Framed:
			continue
		}
		m.bank(&b, i)
		m.turn(&b, i)
		out = append(out, b)
	}
	return out
}

// takeOff lists what the boxes and the framed flights need.
func (m *maker) takeOff(boxes []materials.Box) (materials.Takeoff, error) {
	var t materials.Takeoff
	if len(boxes) > 0 {
		var err error
		if t, err = materials.TakeOff(boxes, m.detail); err != nil {
			return t, m.madeFaults(err, "build", boxes)
		}
		t.Notes = append(t.Notes, m.turnNotes()...)
		if m.standsRiser(t.Boxes[0].Number) {
			withoutRiser(&t)
		}
	}
	if len(m.flights) > 0 {
		f, err := materials.FramedTakeOff(m.flights, m.framed)
		if err != nil {
			return t, m.madeFaults(err, "build.framed", nil)
		}
		t = materials.Merge(t, f)
	}
	if err := m.fit(&t); err != nil {
		return t, err
	}
	t, err := m.drainItems(t)
	if err != nil {
		return t, err
	}
	return t, m.stockUp(t)
}

// withoutRiser takes the riser timbers of the lowest box out: they stand.
func withoutRiser(t *materials.Takeoff) {
	n := t.Boxes[0].Risers
	t.Boxes[0].Pieces = t.Boxes[0].Pieces[1:] // the riser's come first
	for i := range t.Pieces {
		if t.Pieces[i].Use == materials.ItemRiserTimber && t.Pieces[i].Length == t.Boxes[0].RiserTimber && t.Pieces[i].Count > n {
			t.Pieces[i].Count -= n
			break
		}
	}
	for i := range t.Items {
		q := &t.Items[i].Need
		if t.Items[i].ID == materials.ItemRiserTimber && q.Count > n {
			part := float64(n) / float64(q.Count)
			q.Count -= n
			q.Length -= unit.Length(unit.Length(float64(n)) * t.Boxes[0].RiserTimber)
			q.Volume -= unit.Volume(part * float64(q.Volume))
			q.Mass -= unit.Mass(part * float64(q.Mass))
			t.Items[i].Order = *q
			break
		}
	}
}

// stockUp gives every timber of the take-off that the plan has no stock of its
// usual lengths, without prices. Bars are bought cut.
func (m *maker) stockUp(t materials.Takeoff) error {
	have := map[string]bool{}
	for _, s := range m.stock {
		have[s.Section] = have[s.Section] || !onHand(s)
	}
	for _, p := range t.Pieces {
		if have[p.Section] {
			continue
		}
		have[p.Section] = true
		s, err := m.dressed.ByName(p.Section)
		if err != nil || s.Round {
			continue
		}
		m.stock = append(m.stock, materials.UsualStock(s)...)
	}
	return nil
}
