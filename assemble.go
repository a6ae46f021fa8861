package slopewright

import (
	"math"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
	"github.com/slopewright/slopewright/stair"
)

// dugOut puts together what the stages up to the digging found.
func (m *maker) dugOut() Result {
	r := Result{
		Format: ResultFormat, Version: Version,
		Title: m.plan.Title, Units: "metric",
		Ground: m.groundResult(), Layout: m.layoutResult(), Dig: m.digResult(), Haul: m.haulResult(), Water: m.water,
	}
	if m.words.imperial {
		r.Units = "imperial"
	}
	return r
}

// result puts together what the stages found.
func (m *maker) result() Result {
	r := m.dugOut()
	r.Hours, r.Takeoff, r.CutPlan = m.hoursResult(), m.takeoffResult(), m.cutplanResult()
	r.Build, r.Bill, r.StakeOut = m.buildResult(), m.billResult(), m.stakeOut()
	r.Order = m.order()
	r.Certain = m.certain
	r.Answer = m.answer()
	r.Notes = m.notesResult()
	r.Findings = append(m.findings(), m.cautions()...)
	for i := range r.Findings {
		r.Findings[i].Says = m.words.turned(r.Findings[i].Says)
	}
	return r
}

func (m *maker) groundResult() GroundResult {
	s := m.survey
	out := GroundResult{
		Method: s.Method,
		Datum:  GroundPoint{Station: m.foot.Station, Level: m.foot.Level},
		Rise:   Plus{m.layout.Rise, s.Rise.PlusMinus},
		Run:    Plus{m.layout.Run, s.Run.PlusMinus},
	}
	for _, x := range s.Notes {
		out.Notes = append(out.Notes, m.words.turned(x))
	}
	for _, p := range m.ground.Points() {
		out.Points = append(out.Points, GroundPoint{p.Station, p.Level, p.Crossfall})
	}
	for _, c := range s.Checks {
		out.Checks = append(out.Checks, Check{c.Name, m.words.turned(c.Says), c.Value, c.Limit, c.OK, c.Source})
	}
	for _, b := range s.Book {
		line := BookLine{Line: b.Line, Level: b.Level, Correct: b.Corrected}
		if b.Rise != 0 {
			line.Rise = &b.Rise
		}
		if b.Fall != 0 {
			line.Fall = &b.Fall
		}
		out.Book = append(out.Book, line)
	}
	return out
}

func (m *maker) layoutResult() LayoutResult {
	l, n := m.layout, m.below()
	walk := l.Walk(stair.OutdoorPace)
	out := LayoutResult{
		Risers: l.Risers, Riser: l.Riser, Run: l.Run, Rise: l.Rise, Wash: l.Wash, Fitted: m.fitted,
		Landings: []LandingResult{}, Misfit: walk.Misfit, Built: m.builtResult(),
	}
	if l.FirstStands {
		out.Risers--
	}
	for _, f := range l.Flights {
		out.Flights = append(out.Flights, FlightResult{string(f.Kind), f.First + n, f.Risers, f.Tread, f.Start, f.End})
	}
	for _, x := range l.Landings {
		out.Landings = append(out.Landings, LandingResult{string(x.Kind), x.After + n, x.Start, x.End, x.Depth, x.Level})
	}
	for i, s := range l.Steps {
		out.Steps = append(out.Steps, StepResult{s.Riser + n, string(s.Kind), s.Station, s.Level, s.Tread, s.Landing, i == 0 && l.FirstStands})
	}
	for _, f := range walk.Flights {
		out.StepRule = append(out.StepRule, f.StepSum)
	}
	for _, w := range m.wedges {
		out.Wedges = append(out.Wedges, WedgeResult{w.Riser + n, w.Inner, w.Outer})
	}
	out.Bends = m.bendResults()
	return out
}

// builtResult is the steps that stand: their risers and treads as measured, the
// wash of the treads left out of the risers.
func (m *maker) builtResult() *BuiltResult {
	if len(m.plan.Built) == 0 {
		return nil
	}
	b := &BuiltResult{Risers: len(m.plan.Built)}
	b.Heights, b.Treads = m.asBuilt()
	b.Spread = stair.SpreadOf(append(append([]unit.Length(nil), b.Heights...), m.layout.Riser)).Difference
	return b
}

func (m *maker) asBuilt() (risers, treads []unit.Length) {
	at, level := m.foot.Station, m.foot.Level
	for i, x := range m.plan.Built {
		wash := unit.Length(m.limits.Wash * float64(x.At.Length-at))
		if i == 0 {
			wash = 0
		} else {
			treads = append(treads, x.At.Length-at)
		}
		risers = append(risers, x.Level.Length-level-wash)
		at, level = x.At.Length, x.Level.Length
	}
	return risers, treads
}

func (m *maker) digResult() DigResult {
	banks := make([]unit.Volume, len(m.earth.parts))
	for i, p := range m.earth.parts {
		banks[i] = p.Bank
	}
	for i, says := range m.words.shares(m.total.Cut, banks...) {
		m.earth.parts[i].Says = says
	}
	out := DigResult{
		CutBank: m.total.Cut, TopsoilBank: m.earth.topsoil, FillCompacted: m.total.Fill, BackfillCompacted: m.total.Backfill,
		ReusedBank: m.balance.ReusedBank, SpoilBank: m.balance.SpoilBank, BorrowBank: m.balance.BorrowBank,
		SpoilLoose: m.balance.SpoilLoose, SpoilMass: m.balance.SpoilMass, TrenchBank: m.trenches, FootingBank: m.footings,
		RiseOverRun: m.equal, Bow: m.bow, AverageEndArea: m.total.AverageEndArea, Prismoidal: m.total.Prismoidal,
		Deepest: m.deepest, FormationWidth: m.section.Formation(), Batter: m.section.Batter, BuildUp: m.buildUp,
		Steps: m.steps, Parts: m.earth.parts, States: m.soilStates(), Loads: []Load{}, Soil: m.soilResult(),
	}
	out.Loads = append(out.Loads, m.loads()...)
	out.Lines = m.earthLines()
	return out
}

// checkNames are what the rules of the trade are checks of, and those.
var checkNames = [...][2]string{
	{"cut_bank", "Dug out, without trenches, footings and drain"},
	{"average_end_area", "The same, by average end areas"},
	{"prismoidal", "The same, by the prismoidal formula"},
}

// earthLines tells where the earth comes from and goes, leaving out what there
// is none of.
func (m *maker) earthLines() []EarthLine {
	b := m.balance
	w := m.words
	out := []EarthLine{{"cut_bank", "Dug out", w.volume(m.total.Cut), "in the bank"}}
	for _, p := range m.earth.parts {
		out = append(out, EarthLine{"parts." + p.Part, "of it, " + p.Name, p.Says, "in the bank"})
	}
	back := m.backAndLeft()
	for i, x := range []struct {
		key, name, state string
		v                unit.Volume
	}{
		{"fill_compacted", "Tamped in under the steps", "tamped", m.total.Fill},
		{"backfill_compacted", "Tamped in beside the steps", "tamped", m.total.Backfill},
		{"reused_bank", "Goes back", "in the bank", b.ReusedBank},
		{"borrow_bank", "To be brought", "in the bank", b.BorrowBank},
		{"spoil_bank", "Left over", "in the bank", b.SpoilBank},
		{"spoil_loose", "Left over, to move", "loose", b.SpoilLoose},
	} {
		says := w.volume(x.v)
		switch i {
		case 2:
			says = back[0]
		case 4:
			says = back[1]
		}
		if x.v > 0 {
			out = append(out, EarthLine{x.key, x.name, says, x.state})
		}
	}
	// The rules of the trade, beside what they are checks of.
	exact := m.total.Cut - m.trenches - m.footings
	if m.water != nil {
		exact -= m.water.Bank
	}
	if exact >= 0.01*unit.CubicMeter {
		for i, v := range [...]unit.Volume{exact, m.total.AverageEndArea, m.total.Prismoidal} {
			says, off := w.volume(v), number(100*math.Abs(float64(v/exact-1)), 1)
			more := " % more"
			if v < exact {
				more = " % less"
			}
			if off != "0" {
				says += ", " + off + more
			}
			out = append(out, EarthLine{checkNames[i][0], checkNames[i][1], says, "in the bank"})
		}
	}
	return out
}

func (m *maker) soilResult() SoilResult {
	s := m.soil
	out := SoilResult{Class: s.ID, Name: s.Name}
	add := func(name string, f earthwork.Figure) {
		out.Figures = append(out.Figures, SoilFigure{name, f.Value, cited(f.Source, f.FromMemory)})
	}
	add("dig class (1 light, 5 rock)", s.DigClass)
	add("swell", s.Swell)
	add("shrinkage, 1 less compacted over bank", s.Shrink)
	add("density in the bank, kg/m³", s.BankDensity)
	add("density loose, kg/m³", earthwork.Figure{Value: s.LooseDensity(), Source: "density in the bank over 1 + swell"})
	add("digging, m³ in the bank per person-hour", s.Digging)
	add("batter, horizontal per vertical", m.batter)
	add("slope it lies at when tipped, degrees", s.Repose)
	return out
}

func (m *maker) takeoffResult() []TakeoffItem {
	w := m.words
	out := []TakeoffItem{}
	for _, i := range m.takeoff.Items {
		x := TakeoffItem{Item: i.ID, Name: itemName(i.ID), Section: i.Section, Count: i.Need.Count, Waste: i.Waste, Note: i.Note}
		q := i.Need
		if q.Length > 0 {
			x.Length = &q.Length
		}
		if q.Area > 0 {
			x.Area = &q.Area
		}
		if q.Volume > 0 {
			x.Volume = &q.Volume
		}
		if q.Mass > 0 {
			x.Mass = &q.Mass
		}
		x.Says = w.quantity(i.ID, q)
		if v := i.Order.Volume; v > 0 && v != q.Volume {
			x.Order = &v
			switch i.ID {
			case materials.ItemBase, materials.ItemFill, materials.ItemTopping, materials.ItemDrainStone:
				x.Says += " in place, " + w.ordered(v) + " loose to order"
			}
		}
		out = append(out, x)
	}
	return out
}

// quantity writes how much of an item there is.
func (w words) quantity(id string, q materials.Quantity) string {
	switch {
	case id == materials.ItemPreservative && w.imperial:
		return needed(q.Volume.USLiquidGallons(), " gal")
	case id == materials.ItemPreservative:
		return needed(q.Volume.Liters(), " l")
	case q.Count > 0 && q.Length > 0:
		return count(q.Count, "piece", "pieces") + ", " + w.distance(q.Length) + " in all"
	case q.Count > 0:
		return number(float64(q.Count), 0)
	case q.Length > 0 && w.imperial:
		return needed(q.Length.Feet(), " ft")
	case q.Length > 0:
		return needed(q.Length.Meters(), " m")
	case q.Area > 0 && w.imperial:
		return needed(q.Area.SquareFeet(), " sq ft")
	case q.Area > 0:
		return needed(q.Area.SquareMeters(), " m²")
	case q.Volume > 0:
		return w.ordered(q.Volume)
	}
	return "none"
}

// by is what the cut plan made least: cost, or length where a price is missing.
func (m *maker) by() string {
	switch without := len(m.unpricedTimber()); {
	case without == 0:
		return "cost"
	case without < len(m.cutplan.Groups):
		return "both"
	}
	return "length"
}

// stakeOut is the table the work is set out from. Every mark is measured from
// the foot or the head of the whole path and rounded once.
func (m *maker) stakeOut() []Mark {
	var out []Mark
	l := m.layout
	for i, s := range l.StakeOut(m.words.round) {
		if i == 0 && l.FirstStands {
			continue
		}
		// The stake-out's own "up" is from its foot; ours is from the path's.
		x := Mark{Riser: s.Riser + m.below(), Station: s.Station, FromHead: s.FromHead, Level: s.Level, Drop: s.Drop}
		x.DigTo = m.words.round(l.Head.Level - m.steps[i].Formation)
		x.Text = MarkText{
			Station: m.words.length(x.Station), FromHead: m.words.length(x.FromHead), Level: m.words.length(x.Level),
			Drop: m.words.length(x.Drop), DigTo: m.words.length(x.DigTo),
		}
		out = append(out, x)
	}
	return out
}

// findings are the limits of the rule set that the layout passes or misses,
// and what the readings and the cut plan leave in doubt.
func (m *maker) findings() []Finding {
	var out []Finding
	for _, f := range m.rules.Check(m.layout, m.facts()) {
		x := m.finding(f, sourceOf(f))
		if m.wishless(f) {
			x.Says += " Nothing fits with as many in every flight: the fit went on without."
		}
		out = append(out, x)
	}
	out = append(out, m.framedFindings()...)
	out = append(append(out, m.bankFindings()...), m.doubts...)
	out = append(out, m.builtFindings()...)
	for _, c := range m.survey.Checks {
		if !c.OK {
			out = append(out, Finding{Severity: "warn", Rule: "readings", Source: c.Source, Says: c.Says})
		}
	}
	out = append(m.slipFindings(out), m.haulFindings()...)
	if m.balance.BorrowBank > 0.01*unit.CubicMeter {
		out = append(out, Finding{Severity: "note", Rule: "borrow", Source: "this plan",
			Says: "More earth goes back than comes out: " + m.words.volume(m.balance.BorrowBank) + " in the bank must be brought, or a lower max_raise chosen."})
	}
	return out
}

// wishless is whether a finding is of a flight with fewer risers than the rule set
// asks for because no layout has as many in each.
func (m *maker) wishless(f stair.Finding) bool {
	wished := m.limits.WishedFlightRisers
	return m.fitted && wished > 0 && f.Limit.Count == wished && f.Actual.Count > 0 && f.Actual.Count < wished
}

func sourceOf(f stair.Finding) string {
	source := f.Source
	if f.Edition != "" {
		source += ", " + f.Edition
	}
	return cited(source, f.Remembered)
}

// cited is a source, marked where its figure was only remembered.
func cited(source string, fromMemory bool) string {
	if fromMemory {
		return source + " (from memory)"
	}
	return source
}

func (m *maker) finding(f stair.Finding, source string) Finding {
	return Finding{
		Severity: string(f.Severity), Rule: f.Rule, Clause: f.Clause, Source: source, Says: sentence(f.Says),
		Limit: m.words.ruled(f.Limit), Actual: m.words.ruled(f.Actual), Where: f.Where,
	}
}

// framedRule begins the name of every check of a framed flight.
const framedRule = "framed-"

// framedFindings are how the framed flights stand against the guide and the
// wood's design values: what fails, and what nobody can tell from here.
func (m *maker) framedFindings() []Finding {
	var out []Finding
	for _, p := range m.parts {
		for _, c := range p.Checks {
			if c.OK {
				continue
			}
			out = append(out, m.checkFinding(framedRule, c, "flight from riser "+strconv.Itoa(p.First)))
		}
	}
	return out
}

// builtFindings hold the steps that stand, and those still to come, against the
// rule set's tolerances for what should be equal.
func (m *maker) builtFindings() []Finding {
	if len(m.plan.Built) == 0 {
		return nil
	}
	risers, treads := m.asBuilt()
	first := m.layout.Flights[0]
	for range first.Risers - 1 {
		risers = append(risers, m.layout.Riser)
		treads = append(treads, first.Tread)
	}
	var out []Finding
	for _, f := range m.rules.Uniform(1, risers, treads) {
		out = append(out, m.finding(f, sourceOf(f)))
	}
	return out
}

// facts are what the rules ask about the path beside its layout.
func (m *maker) facts() stair.Facts {
	f := stair.Facts{
		Width: m.section.Width,
		// The finished surface stands at most so far above the ground beside it.
		Drop:   m.total.HighestEdge + m.buildUp,
		Wedges: m.wedges,
	}
	for _, x := range m.flights {
		if x.Drop > f.Drop {
			f.Drop = x.Drop
		}
	}
	if len(m.flights) > 0 {
		f.OpenRisers = m.framed.RiserBoard.Name == ""
		f.RiserGap = m.layout.Riser - m.framed.Tread.Thickness
	}
	if m.plan.Steps.Joined {
		f.AttachedTo = stair.Building
	}
	return f
}

// ruled writes the value of a rule in the plan's units.
func (w words) ruled(a stair.Amount) string {
	if a.Of == stair.OfLength {
		return w.length(a.Length)
	}
	return a.String()
}

// Length writes a length in the plan's units.
func (r Result) Length(l unit.Length) string { return r.words().length(l) }

// Volume writes a volume in the plan's units.
func (r Result) Volume(v unit.Volume) string { return r.words().volume(v) }

// SmallVolume writes a volume that may be no more than a few shovels: below a tenth of a
// cubic metre or yard in litres or cubic feet.
func (r Result) SmallVolume(v unit.Volume) string { return r.words().little(v) }

func (r Result) words() words { return words{imperial: r.Units == "imperial"} }

// amount writes money with the decimals of its currency's coin and the code:
// 812.40 USD.
func (m *maker) amount(d decimal.Decimal) string {
	return d.StringFixed(materials.CoinDigits(m.prices.Currency)) + " " + m.prices.Currency
}

// coins gives an amount with at least the decimals of its currency's coin.
func (m *maker) coins(d decimal.Decimal) Money {
	digits := materials.CoinDigits(m.prices.Currency)
	if -d.Exponent() >= digits {
		return Money{Decimal: d}
	}
	return Money{Decimal: decimal.NewFromBigInt(d.Shift(digits).BigInt(), -digits)}
}

// measured writes a quantity with its measure: 12, 3.5 m³.
func measured(d decimal.Decimal, per string) string {
	sign := map[string]string{
		materials.PerM2: "m²", materials.PerFt2: "sq ft", materials.PerYd2: "sq yd",
		materials.PerM3: "m³", materials.PerFt3: "cu ft", materials.PerYd3: "cu yd", materials.PerEach: "",
	}
	s, ok := sign[per]
	switch {
	case per == materials.PerBag && !d.Equal(decimal.NewFromInt(1)):
		s = "bags"
	case !ok:
		s = per
	}
	return strings.TrimSpace(d.String() + " " + s)
}

// loads is the spoil by the carriers it is likely to leave in: up or down the
// slope by barrow, away by pickup or truck.
func (m *maker) loads() []Load {
	var out []Load
	for _, c := range earthwork.Carriers() {
		if c.Name == "barrow on the level" {
			continue
		}
		name, source, assumed := strings.TrimSuffix(c.Name, " on a slope"), c.Source, true
		if own := m.outputs().Barrow; own != nil && name == "barrow" {
			c.Volume, c.Payload, source, assumed = unit.Volume(own.Value), 0, thisPlan, false
		}
		l, err := m.balance.Loads(c)
		if err != nil || l.Count == 0 || c.Name == m.otherSkip() {
			continue
		}
		x := Load{Carrier: name, Count: l.Count, Binds: string(l.Binds), Source: source, Assumed: assumed, holds: m.words.little(c.Volume)}
		if own := m.outputs().Barrow; own != nil && name == "barrow" && own.Text != "" {
			x.holds = own.Text
		}
		x.Full = "full at "
		if l.Binds == earthwork.ByPayload {
			x.holds = m.words.mass(c.Payload)
			x.Full = "at its limit with "
		}
		if x.Full += x.holds; assumed {
			x.Full += " (assumed)"
		} else {
			x.Full += " (your own)"
		}
		out = append(out, x)
	}
	return out
}

func (m *maker) hoursResult() HoursResult {
	hours := func(d unit.Duration) Hours { return Hours(d.Hours()) }
	t := m.hours.Total
	out := HoursResult{
		Work: []Activity{}, Low: hours(t.Low), Likely: hours(t.Likely), High: hours(t.High), People: m.crew.People,
		Days: Span(m.schedule.Days), Weeks: Span(m.schedule.Weeks), Notes: m.hours.Notes,
	}
	for _, a := range m.hours.Activities {
		out.Work = append(out.Work, Activity{a.Name, hours(a.Time.Low), hours(a.Time.Likely), hours(a.Time.High), cited(a.Source, a.FromMemory)})
	}
	return out
}
