package slopewright

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
	"github.com/slopewright/slopewright/stair"
)

// Make makes the plan: readings to ground, ground to steps, steps to earth,
// timber, money and time. The error is a [Faults] that names every field that
// will not do; fields are those of the plan document.
func Make(p Plan) (Result, error) {
	var m maker
	if err := m.read(p); err != nil {
		return Result{}, err
	}
	if err := m.lay(); err != nil {
		return Result{}, err
	}
	if err := m.dig(); err != nil {
		return Result{}, err
	}
	if err := m.build(); err != nil {
		return Result{}, err
	}
	m.certain = m.certainty()
	return m.result(), nil
}

// maker carries the plan through its stages, one way: no stage looks back.
type maker struct {
	plan  Plan
	words words

	// From the readings.
	readings   earthwork.Readings
	survey     earthwork.Survey
	ground     earthwork.Ground // from the foot
	foot, head earthwork.Point  // in the coordinates of the readings, finished levels

	// What is wanted.
	rules    stair.RuleSet
	limits   stair.Limits
	soil     earthwork.Soil
	haul     unit.Length
	carry    unit.Length
	section  earthwork.Section
	batter   earthwork.Figure
	detail   materials.BoxDetail
	buildUp  unit.Length
	maxCut   unit.Length
	maxRaise unit.Length
	crew     earthwork.Crew
	stock    []materials.Stock
	cut      materials.CutOptions
	prices   materials.PriceList

	// What follows.
	fitted   bool
	layout   stair.Layout
	steps    []StepDig
	total    earthwork.Dug
	trenches unit.Volume
	equal    *RiseOverRun
	bow      *Bow
	certain  *Certainty
	deepest  Deepest
	balance  earthwork.Balance
	hours    earthwork.Hours
	schedule earthwork.Schedule
	takeoff  materials.Takeoff
	cutplan  materials.CutPlan
	bill     materials.Bill
}

// The trade's and our own defaults. Each is a field of the document.
const (
	defaultHaul     = 15 * unit.Meter
	defaultWorking  = 0.15 * unit.Meter
	defaultMaxCut   = 1.2 * unit.Meter
	defaultMaxRaise = 0.1 * unit.Meter // one hand-tamped lift: at most 4 in within 2 ft of a structure, NRCS AR-23A
	defaultWash     = 0.02             // 2 %: Beall, Masonry and Concrete (2004), p. 294
	trenchClearance = 0.1 * unit.Meter // each side of a riser timber: 4-6 in in all, common practice
)

// either is the imperial or the metric default, by the units of the plan.
func (m *maker) either(imperial, metric unit.Length) unit.Length {
	if m.words.imperial {
		return imperial
	}
	return metric
}

// read checks the plan and turns it into what the packages take.
func (m *maker) read(p Plan) error {
	m.plan = p
	m.words = words{imperial: p.Units == "imperial"}
	var all Faults
	m.readGround(&all)
	m.readSteps(&all)
	m.readSoil(&all)
	m.readBuild(&all)
	m.readPrices(&all)
	return all.Err()
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
		r := earthwork.RodReadings{Accuracy: accuracy}
		for _, x := range g.Readings {
			r.Readings = append(r.Readings, earthwork.RodReading{
				At: bare(x.At), Back: bare(x.Back), Mid: bare(x.Mid), Fore: bare(x.Fore), Bench: bare(x.Bench), Level: bare(x.Booked),
				Crossfall: slopeOr(x.Crossfall, 0),
			})
		}
		s = r
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
	survey, err := s.Survey()
	if err != nil {
		all.Put("ground", err)
		return
	}
	m.readings, m.survey = s, survey
	m.readEnds(all)
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

func (m *maker) readSteps(all *Faults) {
	s := m.plan.Steps
	id := textOr(s.Rules, "garden")
	rules, ok := stair.RuleSetByID(id)
	if !ok {
		all.Add("steps.rules", id, "is not a rule set", "write one of "+ids(ruleChoices()))
		return
	}
	m.rules = rules
	facts := stair.Facts{Width: m.plan.Path.Width.Length}
	l := rules.LimitsFor(facts)
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
	}
	m.limits = l
	m.maxCut = lengthOr(s.MaxCut, defaultMaxCut)
	m.maxRaise = lengthOr(s.MaxRise, defaultMaxRaise)
	for i, f := range s.Fixed {
		if f.Risers > 1 && f.Tread == nil {
			all.Add(fmt.Sprintf("steps.fixed[%d].tread", i), "", "is missing", "write the tread depth of the flight")
		}
		if i == len(s.Fixed)-1 && f.Landing != nil {
			all.Add(fmt.Sprintf("steps.fixed[%d].landing", i), f.Landing.Text, "has no flight above it", "leave it out: the last flight ends at the head")
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
		all.Add("soil.class", id, "is not a class of soil", "write one of "+ids(soilChoices()))
		return
	}
	override := func(f *earthwork.Figure, x *float64) {
		if x != nil {
			*f = earthwork.Figure{Value: *x, Source: "this plan"}
		}
	}
	override(&soil.Swell, s.Swell)
	override(&soil.Shrink, s.Shrink)
	override(&soil.BankDensity, s.Density)
	override(&soil.Digging, s.Digging)
	override(&soil.Batter, s.Batter)
	override(&soil.ShallowBatter, s.Batter)
	all.Put("soil", soil.Validate())
	m.soil = soil
	m.haul = lengthOr(s.Haul, defaultHaul)
	m.carry = lengthOr(s.Carry, defaultHaul)
	// A cut that may reach 5 ft is sloped as its soil type asks throughout.
	m.batter = soil.ShallowBatter
	if m.maxCut >= protectAt {
		m.batter = soil.Batter
	}
	m.section = earthwork.Section{
		Width:      m.plan.Path.Width.Length,
		Working:    lengthOr(m.plan.Build.Working, defaultWorking),
		Batter:     m.batter.Value,
		FillBatter: fillBatter,
	}
	c := m.plan.Crew
	m.crew = earthwork.Crew{People: c.People, HoursPerDay: numberOr(c.HoursPerDay, 6), DaysPerWeek: numberOr(c.DaysPerWeek, 2)}
	if m.crew.People == 0 {
		m.crew.People = 2
	}
}

// fillBatter is the slope of the shoulders of fill, horizontal per vertical:
// 1.5, the flattest of OSHA's three soil types (29 CFR 1926 Subpart P, App. B).
const fillBatter = 1.5

func (m *maker) readBuild(all *Faults) {
	b := m.plan.Build
	name := b.Timber
	if name == "" {
		name = "100x200"
		if m.words.imperial {
			name = "6x6"
		}
	}
	timber, err := materials.SectionByName(name)
	if err != nil || timber.Round {
		all.Add("build.timber", name, "is not a timber section in the tables", "write one of "+ids(sectionChoices()))
		return
	}
	d := materials.DefaultBoxDetail()
	d.Timber = timber
	d.OnEdge = b.OnEdge
	d.Topping = lengthOr(b.Topping, m.either(2*unit.Inch, 50*unit.Millimeter))
	d.Fill = lengthOr(b.Fill, 0)
	d.Base = lengthOr(b.Base, m.either(4*unit.Inch, 100*unit.Millimeter))
	d.MaxBedding = lengthOr(b.Bedding, m.either(1*unit.Inch, 25*unit.Millimeter))
	d.HeadReturn = lengthOr(b.HeadReturn, m.either(24*unit.Inch, 600*unit.Millimeter))
	d.PinLength = lengthOr(b.Pin, m.either(24*unit.Inch, 600*unit.Millimeter))
	m.buildUp = d.BuildUp()
	if m.buildUp <= 0 {
		all.Add("build.base", "", "leaves the tread without any gravel", "write a thickness for base or topping")
	}
	m.detail = d
	m.cut = materials.CutOptions{Kerf: lengthOr(b.Kerf, m.either(unit.Inch/8, 3*unit.Millimeter)), Trim: lengthOr(b.Trim, 0)}

	for i, s := range m.plan.Stock {
		section, err := materials.SectionByName(s.Section)
		if err != nil {
			all.Add(fmt.Sprintf("stock[%d].section", i), s.Section, "is not a section in the tables", "write one of "+ids(sectionChoices()))
			continue
		}
		x := materials.Stock{Section: section.Name, Length: s.Length.Length, Unpriced: s.Price == nil}
		if s.Price != nil {
			x.Price = s.Price.Decimal
		}
		if s.Available != nil {
			if *s.Available == 0 {
				continue
			}
			x.Available = *s.Available
		}
		m.stock = append(m.stock, x)
	}
}

func (m *maker) readPrices(all *Faults) {
	p := m.plan.Prices
	m.prices = materials.PriceList{Currency: p.Currency, Tax: exact(slopeOr(p.Tax, 0))}
	if p.Currency == "" {
		m.prices.Currency = "EUR"
		if m.words.imperial {
			m.prices.Currency = "USD"
		}
	}
	for _, x := range p.Items {
		m.prices.Items = append(m.prices.Items, materials.Price{
			Item: x.Item, Price: x.Price.Decimal, Per: x.Per, Pack: exact(numberOr(x.Pack, 0)),
		})
	}
	all.Put("prices", m.prices.Check())
}

// exact is the decimal that a person would write for x: 8 % is 0.08, not the
// nearest binary fraction.
func exact(x float64) decimal.Decimal { return decimal.NewFromFloat(x) }

// lay fits the steps to the ground, or lays the plan's own.
func (m *maker) lay() error {
	foot := stair.Point{}
	head := stair.Point{Station: m.head.Station - m.foot.Station, Level: m.head.Level - m.foot.Level}
	if len(m.plan.Steps.Fixed) > 0 {
		var flights []stair.FixedFlight
		for _, f := range m.plan.Steps.Fixed {
			flights = append(flights, stair.FixedFlight{Kind: stair.Box, Risers: f.Risers, Tread: lengthOr(f.Tread, 0), Landing: lengthOr(f.Landing, 0)})
		}
		l, err := stair.Lay(foot, head, m.limits.Wash, flights)
		m.layout = l
		return rename(under("steps", err), "steps.flights", "steps.fixed")
	}
	site := digging{m: m, rise: head.Level - unit.Length(float64(m.limits.Wash)*float64(head.Station))}
	fit, err := stair.Fit(foot, head, m.limits, &site)
	if err == nil {
		err = site.err
	}
	if err != nil {
		return under("steps", err)
	}
	m.layout = fit.Layout
	m.fitted = true
	return nil
}

// rename gives the faults below one field the name that the document has for
// it.
func rename(err error, from, to string) error {
	var all Faults
	if !errors.As(err, &all) {
		return err
	}
	for i, f := range all {
		if rest, ok := strings.CutPrefix(f.Field, from); ok {
			all[i].Field = to + rest
		}
	}
	return all
}

func under(field string, err error) error {
	if err == nil {
		return nil
	}
	var all Faults
	all.Put(field, err)
	return all
}

// digging prices a stretch of path by the earth dug for it, in m³ in the bank.
type digging struct {
	m                *maker
	rise             unit.Length // the part of the rise that the risers make
	cut              []unit.Volume
	deepest, highest []unit.Length
	err              error
}

// Cells implements [stair.Site].
func (d *digging) Cells(at []unit.Length, l stair.Line, cost []float64, bears []bool) {
	n := len(at) - 1
	if cap(d.cut) < n {
		d.cut, d.deepest, d.highest = make([]unit.Volume, n), make([]unit.Length, n), make([]unit.Length, n)
	}
	cut, deepest, highest := d.cut[:n], d.deepest[:n], d.highest[:n]
	formation := earthwork.Line{Station: l.Station, Level: l.Level - d.m.buildUp, Grade: l.Grade}
	if err := d.m.ground.CutCells(d.m.section, at, formation, cut, deepest, highest); err != nil {
		d.err = err
		return
	}
	for i := range cut {
		cost[i] = cut[i].CubicMeters()
		bears[i] = deepest[i] <= d.m.maxCut+tolerance && highest[i] <= d.m.maxRaise+tolerance
	}
}

// tolerance keeps a limit met exactly from failing by rounding.
const tolerance = 1e-9 * unit.Meter

// Riser implements [stair.Site]: the trench under each riser timber, shared
// evenly, the deeper one at the foot included.
func (d *digging) Riser(r unit.Length) float64 {
	n := math.Round(float64(d.rise) / float64(r))
	if n < 1 {
		n = 1
	}
	first := d.m.trench(r, true).CubicMeters()
	other := d.m.trench(r, false).CubicMeters()
	return (first + float64((n-1)*other)) / n
}

// trench is what is dug for a riser timber below the formation of the tread in
// front of it, with upright sides. There is no box in front of the first.
func (m *maker) trench(riser unit.Length, first bool) unit.Volume {
	_, _, buried := m.detail.Courses(riser)
	depth := buried + m.detail.Base
	if !first {
		depth -= m.buildUp
	}
	if depth <= 0 {
		return 0
	}
	breadth := m.detail.Breadth() + 2*trenchClearance
	length := m.section.Width + 2*m.section.Working
	return unit.Volume(float64(depth) * float64(breadth) * float64(length))
}

// trenchGravel is the base gravel in those trenches: what the timber in them
// leaves of it.
func (m *maker) trenchGravel() unit.Volume {
	r := m.layout.Riser
	_, _, buried := m.detail.Courses(r)
	var sum unit.Volume
	for i := range m.layout.Steps {
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
	m.balance = m.soil.Balance(m.total.Cut, m.total.Fill, m.total.Backfill)
	if m.survey.Method == "total" {
		return m.digBow()
	}
	return m.digRiseOverRun()
}

// digOn is the earth of a layout on a ground: by step, and in all with the
// trenches, which are also given apart.
func (m *maker) digOn(g earthwork.Ground, l stair.Layout) (steps []StepDig, total earthwork.Dug, trenches unit.Volume, err error) {
	for i, s := range l.Steps {
		d := StepDig{Riser: s.Riser, Formation: s.Level - m.buildUp}
		d.TrenchBank = m.trench(l.Riser, i == 0)
		d.CutBank = d.TrenchBank
		trenches += d.TrenchBank
		if i < len(l.Steps)-1 {
			dug, err := g.Dig(m.section, earthwork.Stretch{
				From: s.Station, To: l.Steps[i+1].Station, BuildUp: m.buildUp,
				Formation: earthwork.Line{Station: s.Station, Level: s.Level - m.buildUp, Grade: l.Wash},
			})
			if err != nil {
				return nil, total, 0, under("ground", err)
			}
			d.CutBank += dug.Cut
			d.FillCompacted = dug.Fill
			d.BackfillCompacted = dug.Backfill
			d.Depth = dug.Deepest
			d.deepestAt = dug.DeepestAt
			total = total.Plus(dug)
		} else {
			dug, err := m.digReturn(g, l)
			if err != nil {
				return nil, total, 0, err
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

// digReturn is the earth behind the last riser, where the sides of its box run
// back into the bank under the head. Ground that was not measured that far is
// taken to go on level.
func (m *maker) digReturn(g earthwork.Ground, l stair.Layout) (earthwork.Dug, error) {
	head := l.Head.Station
	end := head + m.detail.HeadReturn
	var points []earthwork.Point
	for _, p := range g.Points() {
		// A point closer than grounds keep theirs apart adds nothing.
		if p.Station > head+2*unit.Millimeter && p.Station < end-2*unit.Millimeter {
			points = append(points, p)
		}
	}
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
	behind, err := earthwork.NewGround(append(append([]earthwork.Point{at(head)}, points...), at(end)))
	if err != nil {
		return earthwork.Dug{}, under("ground", err)
	}
	dug, err := behind.Dig(m.section, earthwork.Stretch{
		From: head, To: end, BuildUp: m.buildUp,
		Formation: earthwork.Line{Station: head, Level: l.Head.Level - m.buildUp},
	})
	return dug, under("ground", err)
}

// digRiseOverRun digs the steps that rise over run gives, all treads alike from
// foot to head: once on the straight line that sum takes for the hill, once on
// the hill.
func (m *maker) digRiseOverRun() error {
	l := m.layout
	if l.Risers < 2 {
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
	l := m.layout
	boxes := make([]materials.Box, len(l.Steps))
	for i, s := range l.Steps {
		boxes[i] = materials.Box{Number: s.Riser, Riser: l.Riser, Tread: s.Tread, Width: m.section.Width, Landing: s.Landing}
	}
	if len(m.stock) == 0 {
		m.stock = materials.UsualStock(m.detail.Timber)
	}
	m.detail.LongestTimber = longest(m.stock, m.detail.Timber.Name)
	if m.detail.LongestTimber == 0 {
		return Faults{{Field: "stock", Problem: "has no length of the timber " + m.detail.Timber.Name, Fix: "add its lengths, or leave stock out to use the usual ones"}}
	}
	if m.detail.LongestTimber < m.section.Width {
		return Faults{{Field: "stock", Got: m.words.length(m.detail.LongestTimber), Problem: "is the longest " + m.detail.Timber.Name + ", too short for a riser timber of " + m.words.length(m.section.Width),
			Fix: "add a longer one, or make the path narrower"}}
	}
	m.detail.TrenchBase = m.trenchGravel()
	takeoff, err := materials.TakeOff(boxes, m.detail)
	if err != nil {
		return under("build", err)
	}
	cutplan, err := materials.Cut(takeoff.Pieces, m.stock, m.cut)
	if err != nil {
		return under("stock", err)
	}
	takeoff = takeoff.Treat(cutplan)
	bill, err := materials.MakeBill(takeoff, cutplan, m.prices)
	if err != nil {
		return under("prices", err)
	}
	m.takeoff, m.cutplan, m.bill = takeoff, cutplan, bill
	return m.reckonTime(boxes)
}

// slopedPath is the mean grade from which barrows carry a slope's load: 1:12,
// the steepest a path is kept without steps (Scottish Forestry Grant Scheme,
// timber board and aggregate steps, 2015).
const slopedPath = 1.0 / 12

func (m *maker) reckonTime(boxes []materials.Box) error {
	w := earthwork.Work{
		CutBank: m.total.Cut, DigDepth: m.deepest.Depth,
		TrimArea:   unit.Area(float64(m.layout.Run) * float64(m.section.Formation())),
		SpoilLoose: m.balance.SpoilLoose, BorrowLoose: m.balance.BorrowLoose, HaulDistance: m.haul,
		FillCompacted: m.total.Fill + m.total.Backfill, GravelDistance: m.carry,
		Steep: float64(m.layout.Rise) > float64(slopedPath*float64(m.layout.Run)),
		Boxes: len(boxes),
	}
	for _, i := range m.takeoff.Items {
		switch i.ID {
		case materials.ItemBase, materials.ItemFill, materials.ItemTopping:
			w.GravelCompacted += i.Need.Volume
		}
	}
	if err := w.Validate(); err != nil {
		return under("", err)
	}
	m.hours = m.soil.Hours(w)
	var err error
	m.schedule, err = m.hours.Days(m.crew)
	return under("crew", err)
}

func longest(stock []materials.Stock, section string) unit.Length {
	var most unit.Length
	for _, s := range stock {
		if s.Section == section && s.Length > most {
			most = s.Length
		}
	}
	return most
}
