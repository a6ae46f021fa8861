package materials

import (
	"fmt"
	"math"

	"github.com/martinlindhe/unit"
)

// Bag is premixed concrete in bags.
type Bag struct {
	_    [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Name string
	Mass unit.Mass
	// Yield is the concrete that one makes.
	Yield      unit.Volume
	Source     string
	FromMemory bool
}

// Bags returns the bags of concrete known; the figures are the makers' and
// the label governs. The caller may change the slice.
func Bags() []Bag {
	const label = "makers' labels of premixed concrete"
	return []Bag{
		{Name: "80 lb bag", Mass: 80 * pound, Yield: 0.60 * cubicFoot, Source: label, FromMemory: true},
		{Name: "60 lb bag", Mass: 60 * pound, Yield: 0.45 * cubicFoot, Source: label, FromMemory: true},
		{Name: "50 lb bag", Mass: 50 * pound, Yield: 0.375 * cubicFoot, Source: label, FromMemory: true},
		{Name: "25 kg bag", Mass: 25 * unit.Kilogram, Yield: 0.0125 * unit.CubicMeter, Source: label, FromMemory: true},
		{Name: "20 kg bag", Mass: 20 * unit.Kilogram, Yield: 0.010 * unit.CubicMeter, Source: label, FromMemory: true},
	}
}

// FramedSections returns sections that framed flights use beside those of
// [Sections]. The caller may change the slice.
func FramedSections() []Section {
	s := func(name string, t, w float64, source string, memory bool) Section {
		return Section{Name: name, Thickness: unit.Length(t) * inch, Width: unit.Length(w) * inch, Source: source, FromMemory: memory}
	}
	return []Section{
		s("1x6", 0.75, 5.5, sourceBoards, true),
		s("1x8", 0.75, 7.25, sourceBoards, true),
		s("5/4x6", 1, 5.5, "common practice: radius-edge decking is 1 in thick", true),
		s("2x2", 1.5, 1.5, sourceDimension, false),
	}
}

// FramedSectionByName is [SectionByName] that knows [FramedSections] as well.
func FramedSectionByName(name string) (Section, error) {
	key := sectionKey(name)
	for _, s := range FramedSections() {
		if s.Name == key {
			return s, nil
		}
	}
	return SectionByName(name)
}

// FramedWaste holds allowances, each a fraction of the need from 0 to 1.
// Timbers have none: the cut plan says what is bought.
type FramedWaste struct{ Screws, Concrete, Gravel, Preservative float64 }

// FramedDetail says how framed flights are built. [DefaultFramedDetail] gives
// one to start from; the zero value is refused because it names no timber.
type FramedDetail struct {
	// Solid: treads are housed in or hung between solid stringers; else the
	// steps are cut out of them. Housing is the depth of the grooves that hold
	// them; 0 is on brackets.
	Solid    bool
	Housing  unit.Length
	Stringer Section
	// Wood is the grade of stringers, treads, joists and beams, as
	// [WoodFor] knows it; where empty, Values are its design values.
	Wood    string
	Values  Wood
	Service Service
	// Live and Dead load and Snow by level area; TreadLoad is one person's at the
	// middle of one tread board.
	Live, Dead, Snow unit.Pressure
	TreadLoad        unit.Force
	// Spacing is the most between cut stringers' centres, or clear between
	// solid ones; 0 is 18 in and 36 in, and 8 in under composite treads.
	// SpanLimit is the most between bearings on the level; 0 is 6 ft cut,
	// 13 ft 3 in solid. MinThroat is what must be left of a cut stringer.
	Spacing, SpanLimit, MinThroat unit.Length
	// Above is how far a solid stringer's edge stands above the nosings,
	// square to it. Gap is the air wanted under the stringers.
	Above, Gap unit.Length
	// Bearing is the length of a stringer's bearing at its ends.
	Bearing unit.Length
	// EndAllowance is added to each stringer for squaring its ends.
	EndAllowance unit.Length

	// Tread is the tread board, laid flat, TreadGap the gap between boards.
	// The boards together may leave BackGap open at the back of a tread.
	Tread             Section
	TreadGap, BackGap unit.Length
	// CompositeTread: the boards are no lumber; their maker's span governs.
	CompositeTread bool
	// RiserBoard closes the risers; with no name they are open.
	RiserBoard Section

	// Ledger: stringers stand on a ledger strip at the head; else each hangs
	// in a connector.
	Ledger      bool
	LedgerBoard Section

	// PadLength is the pad's size along the path, PadBeyond how far it goes on
	// beyond the flight on either side, PadDepth its concrete, PadGravel the
	// gravel under that.
	PadLength, PadBeyond, PadDepth, PadGravel unit.Length
	PadAggregate                              Aggregate
	// SoilBearing is what the ground may be loaded with.
	SoilBearing unit.Pressure

	// Post and Beam, of BeamPlies boards side by side, carry platforms and
	// stringers on the way; posts stand no more than PostSpacing apart, each on
	// a round footing.
	Post                          Section
	Beam                          Section
	BeamPlies                     int
	PostSpacing                   unit.Length
	FootingDiameter, FootingDepth unit.Length

	// Joists span a platform along the path, JoistSpacing apart at most;
	// Decking lies across them.
	Joist        Section
	JoistSpacing unit.Length
	Decking      Section

	// A flight or platform that drops more than GuardFrom has a guard on
	// GuardSides sides, its top GuardHeight above nosings and surface, posts no
	// more than GuardSpacing apart along it. Balusters leave no more than
	// StairOpening on a flight, Opening on a platform. The bottom rail stands
	// RailGap off, square to the nosing line.
	GuardFrom             unit.Length
	GuardSides            int
	GuardHeight           unit.Length
	GuardPost             Section
	GuardSpacing          unit.Length
	GuardRail, Baluster   Section
	StairOpening, Opening unit.Length
	RailGap               unit.Length
	// GuardLoad is the load along a guard's top.
	GuardLoad unit.Force

	// A flight of HandrailFrom risers or more has a handrail on HandrailSides
	// sides, HandrailHeight above the nosings, in one run from over the first
	// riser to over the last, HandrailTop and HandrailBottom beyond, with a
	// return of HandrailReturn at both ends, on brackets.
	Handrail                                    Section
	HandrailFrom, HandrailSides                 int
	HandrailHeight                              unit.Length
	HandrailTop, HandrailBottom, HandrailReturn unit.Length
	BracketSpacing                              unit.Length

	// ScrewsPerBearing hold each board on each member under it, ScrewsPerBaluster
	// a baluster, NailsPerHanger a hanger, BoltsPerPost a guard post.
	ScrewsPerBearing, ScrewsPerBaluster, NailsPerHanger, BoltsPerPost int

	// Bag is the concrete's; with no Yield it is ordered by volume.
	Bag             Bag
	ConcreteDensity Density

	// LongestTimber is the longest that can be had or carried. 0 is no limit.
	LongestTimber unit.Length
	// LongestRail is that of handrails, since 2x2 is seldom sold longer than 8 ft (from memory); 0 is LongestTimber.
	LongestRail   unit.Length
	TimberDensity Density
	// Coats of preservative on cut ends and notches, and the area that one
	// litre covers once.
	Coats    int
	Coverage unit.Area
	Waste    FramedWaste

	// Words writes lengths in notes; without it they are written in metres.
	Words func(unit.Length) string
}

func (d FramedDetail) show(l unit.Length) string { return inWords(d.Words, l) }

// DefaultFramedDetail is a detail to start from: cut 2x12 stringers of Southern
// Pine No. 2, two 2x6 to a tread, closed risers, a concrete pad at the foot.
//
// Sources. Stringers 2x12, throat 5 in, cut 18 in apart and 6 ft long at most,
// solid 36 in and 13 ft 3 in; guard posts 4x4 6 ft apart with two 1/2 in
// bolts; posts 6x6; two fasteners at each bearing of a tread: AWC DCA 6-2015,
// from memory. Live load 40 psf and 300 lb on a tread: IRC Table R301.5.
// Dead load 10 psf and a pad for both: DCA 6 and an article on deck stairs in
// the Journal of Light Construction. Pad 12 in deep: IRC R403.1.4. Soil
// 1500 psf: IRC Table R401.4.1, the least, from memory. Guards over 30 in, 36
// in high (stairs 34 in at least), openings 4 in and 4 3/8 in: IRC R312.1;
// load 200 lb: IRC Table R301.5. Handrail from four risers, 34 to 38 in high:
// IRC R311.7.8. Gap of 2 in under the stringers, 1/4 in between boards, 1/2 in
// at a tread's back, pad 16 in along the path and 2 in beyond the stringers,
// 4 in of gravel, footings 12 in across and deep, joists 16 in and posts 6 ft
// apart, rail 1 in off the nosings, returns 4 in, brackets 4 ft apart, four
// screws a baluster, ten nails a hanger, concrete at 145 lb/ft³, wastes:
// common practice, from memory. Timber, coats and coverage as
// [DefaultBoxDetail] has them. Footings must go below frost where the local
// code asks for it.
func DefaultFramedDetail() FramedDetail {
	sec := func(name string) Section {
		s, _ := FramedSectionByName(name)
		return s
	}
	box := DefaultBoxDetail()
	return FramedDetail{
		Stringer: sec("2x12"), Wood: "southern-pine-2", Service: Service{Wet: true},
		Live: unit.Pressure(40 * psf), Dead: unit.Pressure(10 * psf), TreadLoad: unit.Force(300 * poundForce),
		MinThroat: 5 * inch, Above: 1 * inch, Gap: 2 * inch, Bearing: 1.5 * inch, EndAllowance: 1 * inch,
		Tread: sec("2x6"), TreadGap: 0.25 * inch, BackGap: 0.5 * inch, RiserBoard: sec("1x8"),
		LedgerBoard: sec("2x4"),
		PadLength:   16 * inch, PadBeyond: 2 * inch, PadDepth: 12 * inch, PadGravel: 4 * inch, PadAggregate: box.BaseGravel,
		SoilBearing: unit.Pressure(1500 * psf),
		Post:        sec("6x6"), Beam: sec("2x8"), BeamPlies: 2, PostSpacing: 6 * foot,
		FootingDiameter: 12 * inch, FootingDepth: 12 * inch,
		Joist: sec("2x8"), JoistSpacing: 16 * inch, Decking: sec("2x6"),
		GuardFrom: 30 * inch, GuardSides: 2, GuardHeight: 36 * inch, GuardPost: sec("4x4"), GuardSpacing: 6 * foot,
		GuardRail: sec("2x4"), Baluster: sec("2x2"), StairOpening: 4.375 * inch, Opening: 4 * inch, RailGap: 1 * inch,
		GuardLoad: unit.Force(200 * poundForce),
		Handrail:  sec("2x2"), HandrailFrom: 4, HandrailSides: 1, HandrailHeight: 36 * inch, HandrailReturn: 4 * inch, BracketSpacing: 4 * foot,
		ScrewsPerBearing: 2, ScrewsPerBaluster: 4, NailsPerHanger: 10, BoltsPerPost: 2,
		Bag: Bags()[0], ConcreteDensity: 145 * poundsPerCubicFoot,
		LongestTimber: 16 * foot, LongestRail: 8 * foot, TimberDensity: box.TimberDensity, Coats: box.Coats, Coverage: box.Coverage,
		Waste: FramedWaste{Screws: 0.05, Concrete: 0.10, Gravel: 0.10, Preservative: 0.10},
	}
}

// Check reports what is wrong with the detail.
func (d FramedDetail) Check() error {
	var f Faults
	d.check("", &f)
	return f.Err()
}

func (d FramedDetail) check(at string, f *Faults) {
	c := below(at, f)
	const m = unit.Meter
	for _, s := range []struct {
		name  string
		s     Section
		maybe bool
	}{
		{"stringer", d.Stringer, false}, {"tread", d.Tread, false}, {"riser_board", d.RiserBoard, true},
		{"ledger_board", d.LedgerBoard, !d.Ledger}, {"post", d.Post, false}, {"beam", d.Beam, false},
		{"joist", d.Joist, false}, {"decking", d.Decking, false}, {"guard_post", d.GuardPost, false},
		{"guard_rail", d.GuardRail, false}, {"baluster", d.Baluster, false}, {"handrail", d.Handrail, false},
	} {
		if s.maybe && s.s.Name == "" {
			continue
		}
		s.s.check(c.at+s.name, f)
	}
	for _, l := range []struct {
		name        string
		l           unit.Length
		least, most unit.Length
	}{
		{"spacing", d.Spacing, 0, 2 * m}, {"span_limit", d.SpanLimit, 0, 10 * m}, {"min_throat", d.MinThroat, 0, m},
		{"above", d.Above, 0, m}, {"gap", d.Gap, 0, 2 * m}, {"bearing", d.Bearing, unit.Millimeter, m},
		{"end_allowance", d.EndAllowance, 0, m}, {"tread_gap", d.TreadGap, 0, 100 * unit.Millimeter}, {"back_gap", d.BackGap, 0, 100 * unit.Millimeter},
		{"pad_length", d.PadLength, 10 * unit.Millimeter, 5 * m}, {"pad_beyond", d.PadBeyond, 0, 5 * m}, {"pad_depth", d.PadDepth, 0, 5 * m}, {"pad_gravel", d.PadGravel, 0, 2 * m},
		{"post_spacing", d.PostSpacing, 100 * unit.Millimeter, 10 * m},
		{"footing_diameter", d.FootingDiameter, 50 * unit.Millimeter, 3 * m}, {"footing_depth", d.FootingDepth, 0, 5 * m},
		{"joist_spacing", d.JoistSpacing, 100 * unit.Millimeter, 2 * m},
		{"guard_from", d.GuardFrom, 0, 100 * m}, {"guard_height", d.GuardHeight, 500 * unit.Millimeter, 3 * m}, {"guard_spacing", d.GuardSpacing, 200 * unit.Millimeter, 10 * m},
		{"stair_opening", d.StairOpening, 10 * unit.Millimeter, 2 * m}, {"opening", d.Opening, 10 * unit.Millimeter, 2 * m}, {"rail_gap", d.RailGap, 0, 150 * unit.Millimeter},
		{"handrail_height", d.HandrailHeight, 300 * unit.Millimeter, 3 * m}, {"handrail_top", d.HandrailTop, 0, 5 * m},
		{"handrail_bottom", d.HandrailBottom, 0, 5 * m}, {"handrail_return", d.HandrailReturn, 0, m}, {"bracket_spacing", d.BracketSpacing, 100 * unit.Millimeter, 10 * m},
		{"longest_timber", d.LongestTimber, 0, 50 * m}, {"longest_rail", d.LongestRail, 0, 50 * m},
	} {
		c.length(l.name, l.l, l.least, l.most)
	}
	if d.Spacing > 0 && d.Spacing < 100*unit.Millimeter {
		c.wrong("spacing", d.Spacing, "is less than 0.1 m", "give 0 for the usual one, or 0.1 m or more")
	}
	if d.SpanLimit > 0 && d.SpanLimit < 300*unit.Millimeter {
		c.wrong("span_limit", d.SpanLimit, "is less than 0.3 m", "give 0 for the usual one, or 0.3 m or more")
	}
	for _, l := range [...]struct {
		name string
		l    unit.Length
	}{{"longest_timber", d.LongestTimber}, {"longest_rail", d.LongestRail}} {
		if l.l > 0 && l.l < 600*unit.Millimeter {
			c.wrong(l.name, l.l, "is less than 0.6 m", "give 0 for no limit, or 0.6 m or more")
		}
	}
	if c.length("housing", d.Housing, 0, m) && d.Solid && d.Housing.Meters() > d.Stringer.Thickness.Meters()/3+1e-9 {
		c.wrong("housing", d.Housing, "is more than a third of the stringer's thickness", "give less, or 0 for brackets")
	}
	if d.Solid && d.Above >= d.Stringer.Width {
		c.wrong("above", d.Above, "is more than the stringer's depth", "give less")
	}
	for _, n := range []struct {
		name        string
		n           int
		least, most int
	}{
		{"beam_plies", d.BeamPlies, 1, 6}, {"guard_sides", d.GuardSides, 0, 2}, {"handrail_from", d.HandrailFrom, 0, 1000}, {"handrail_sides", d.HandrailSides, 0, 2},
		{"screws_per_bearing", d.ScrewsPerBearing, 0, 20}, {"screws_per_baluster", d.ScrewsPerBaluster, 0, 20},
		{"nails_per_hanger", d.NailsPerHanger, 0, 100}, {"bolts_per_post", d.BoltsPerPost, 0, 20}, {"coats", d.Coats, 0, 10},
	} {
		c.count(n.name, n.n, n.least, n.most)
	}
	for _, x := range []struct {
		name        string
		x           float64
		least, most float64
	}{
		{"live", d.Live.Pascals(), 0, 1e5}, {"dead", d.Dead.Pascals(), 0, 1e5}, {"snow", d.Snow.Pascals(), 0, 1e5}, {"tread_load", d.TreadLoad.Newtons(), 0, 1e5}, {"guard_load", d.GuardLoad.Newtons(), 0, 1e5},
		{"soil_bearing", d.SoilBearing.Pascals(), 1e3, 1e8},
		{"timber_density", float64(d.TimberDensity), 100, 2000}, {"concrete_density", float64(d.ConcreteDensity), 300, 5000},
		{"waste.screws", d.Waste.Screws, 0, 1}, {"waste.concrete", d.Waste.Concrete, 0, 1}, {"waste.gravel", d.Waste.Gravel, 0, 1}, {"waste.preservative", d.Waste.Preservative, 0, 1},
	} {
		c.number(x.name, x.x, x.least, x.most)
	}
	if y := d.Bag.Yield.CubicMeters(); y != 0 {
		c.number("bag.yield", y, 1e-4, 10)
		c.number("bag.mass", d.Bag.Mass.Kilograms(), 0, 1e5)
	}
	if d.Coats > 0 {
		c.number("coverage", d.Coverage.SquareMeters(), 0.01, 1000)
	}
	if d.PadGravel > 0 {
		d.PadAggregate.check(c.at+"pad_aggregate", f)
	}
	if d.Service.Duration != 0 {
		c.number("service.duration", d.Service.Duration, 0.9, 2)
	}
	if d.Wood == "" {
		d.Values.check(c.at+"values", f)
		return
	}
	for _, s := range []struct {
		name string
		s    Section
		skip bool
	}{{"stringer", d.Stringer, false}, {"tread", d.Tread, d.CompositeTread}, {"beam", d.Beam, false}, {"joist", d.Joist, false}} {
		if _, err := WoodFor(d.Wood, s.s); err != nil && !s.skip {
			c.add("wood", d.Wood, "has no design values for the "+s.name+", "+s.s.Name, err.(Faults)[0].Fix)
			return
		}
	}
}

// wood gives the design values for a section of the detail; it has been
// checked that there are some.
func (d FramedDetail) wood(s Section) Wood {
	if d.Wood == "" {
		return d.Values
	}
	w, _ := WoodFor(d.Wood, s)
	return w
}

// Limits where the detail gives none.
const (
	cutSpacing       = 18 * inch
	solidSpacing     = 36 * inch
	compositeSpacing = 8 * inch
	cutSpan          = 6 * foot
	solidSpan        = 13.25 * foot
)

const sourceDCA6 = "AWC DCA 6-2015, stair stringers"

func (d FramedDetail) spacingLimit() unit.Length {
	switch {
	case d.Spacing > 0:
		return d.Spacing
	case d.CompositeTread:
		return compositeSpacing
	case d.Solid:
		return solidSpacing
	}
	return cutSpacing
}

func (d FramedDetail) spanLimit() unit.Length {
	switch {
	case d.SpanLimit > 0:
		return d.SpanLimit
	case d.Solid:
		return solidSpan
	}
	return cutSpan
}

// spaces is how many equal spaces of at most the limit make up a length.
func spaces(length, limit float64) int {
	n := int(math.Ceil(length/limit - 1e-9))
	if n < 1 {
		n = 1
	}
	return n
}

// Stringers is how many stringers a flight of the width takes, and how far
// apart their centres are. Cut ones count by centres, solid ones by the clear
// width between them.
func (d FramedDetail) Stringers(width unit.Length) (n int, spacing unit.Length) {
	w, b, limit := width.Meters(), d.Stringer.Thickness.Meters(), d.spacingLimit().Meters()
	if !finite(w) || !(w > b) || !(limit > 0) {
		return 0, 0
	}
	between := w - b
	gaps := spaces(between, limit)
	if d.Solid {
		gaps = spaces(between, limit+b)
	}
	return gaps + 1, unit.Length(between / float64(gaps))
}

// TreadBoards is how many boards make a tread, and how far they together go
// beyond the tread's depth: the nosing. Negative is open at the back, no more
// than [FramedDetail.BackGap].
func (d FramedDetail) TreadBoards(tread unit.Length) (n int, beyond unit.Length) {
	w, gap := d.Tread.Width.Meters(), d.TreadGap.Meters()
	if !(w > 0) || !finite(tread.Meters()) || tread.Meters() > 100 {
		return 0, 0
	}
	n = spaces(tread.Meters()+gap-d.BackGap.Meters(), w+gap)
	return n, unit.Length(float64(float64(n)*(w+gap)) - gap - tread.Meters())
}

// stringerBeam is one stringer over one bay as a beam on two supports, of a cut
// one only what its notches leave. A stringer that runs on over a support bends
// no more than that.
func (f FramedFlight) stringerBeam(d FramedDetail, bay unit.Length) Beam {
	n, spacing := d.Stringers(f.Width)
	tributary := spacing
	if n == 2 {
		tributary = unit.Length(f.Width.Meters() / 2)
	}
	depth := d.Stringer.Width
	if !d.Solid {
		depth -= f.notch()
	}
	breadth := d.Stringer.Thickness.Meters()
	if d.Solid {
		// Grooves weaken it, on both sides where treads are on both.
		breadth -= d.Housing.Meters()
		if n > 2 {
			breadth -= d.Housing.Meters()
		}
	}
	return Beam{Name: "stringer", Words: d.Words, Wood: d.wood(d.Stringer), Breadth: unit.Length(breadth), Depth: depth, Graded: d.Stringer.Width,
		Span: bay, Slope: f.up().Meters() / f.Tread.Meters(), Live: d.Live, Dead: d.Dead, Snow: d.Snow, Tributary: tributary, Bearing: d.Bearing, Service: d.Service}
}

// Supports is how many supports the stringers need between foot and head, and
// the equal level span that this leaves: the fewest with which the span limit
// is kept, no part of a stringer is longer than the longest timber, and bending, shear, bearing and deflection are within what the wood
// may take. Where no number helps, it is that of the span limit.
func (f FramedFlight) Supports(d FramedDetail) (n int, bay unit.Length, err error) {
	if _, err := f.Stringer(d); err != nil {
		return 0, 0, err
	}
	n, bay = f.supports(d)
	return n, bay, nil
}

func (f FramedFlight) supports(d FramedDetail) (int, unit.Length) {
	going := f.Going().Meters()
	least := spaces(going, d.spanLimit().Meters())
	if d.LongestTimber > 0 {
		if n := spaces((f.outline(d).Length + d.EndAllowance).Meters(), d.LongestTimber.Meters()); n > least {
			least = n
		}
	}
	for bays := least; bays <= 2*least+4 && bays < f.Risers; bays++ {
		bay := unit.Length(going / float64(bays))
		if f.stringerBeam(d, bay).holds() {
			return bays - 1, bay
		}
	}
	return least - 1, unit.Length(going / float64(least))
}

// guarded says whether the flight and its platform have guards.
func (f FramedFlight) guarded(d FramedDetail) bool { return d.GuardSides > 0 && f.Drop > d.GuardFrom }

// posts is how many posts carry a beam as long as the flight is wide, and the
// span between them.
func (f FramedFlight) posts(d FramedDetail) (int, unit.Length) {
	between := f.Width.Meters() - d.Post.Width.Meters()
	if between < 0 {
		return 1, f.Width
	}
	gaps := spaces(between, d.PostSpacing.Meters())
	return gaps + 1, unit.Length(between / float64(gaps))
}

// Pad is the footing that the flight's foot bears on.
type Pad struct {
	Length, Width, Depth unit.Length
	Concrete, Gravel     unit.Volume
	// Load is what comes on it, live and dead, and Pressure that load and the
	// pad's own weight over its area.
	Load     unit.Force
	Pressure unit.Pressure
}

// load is the most that comes on an area: what is live, snow, or a part of both,
// and the dead load.
func (d FramedDetail) load() unit.Pressure {
	most := d.Live
	for _, p := range []unit.Pressure{d.Snow, together(d.Live, d.Snow)} {
		if d.Snow > 0 && p > most {
			most = p
		}
	}
	return most + d.Dead
}

// Pad works out the footing of the flight's foot.
//
// The error is a [Faults].
func (f FramedFlight) Pad(d FramedDetail) (Pad, error) {
	if _, err := f.Stringer(d); err != nil {
		return Pad{}, err
	}
	return f.pad(d), nil
}

func (f FramedFlight) pad(d FramedDetail) Pad {
	_, bay := f.supports(d)
	return f.padUnder(d, bay)
}

func (f FramedFlight) padUnder(d FramedDetail, bay unit.Length) Pad {
	p := Pad{Length: d.PadLength, Width: unit.Length(f.Width.Meters() + 2*d.PadBeyond.Meters()), Depth: d.PadDepth}
	area := p.Length.Meters() * p.Width.Meters()
	p.Concrete = unit.Volume(area * p.Depth.Meters())
	p.Gravel = unit.Volume(area * d.PadGravel.Meters())
	load := d.load().Pascals() * f.Width.Meters() * bay.Meters() / 2
	p.Load = unit.Force(load)
	p.Pressure = unit.Pressure(load/area + float64(float64(d.ConcreteDensity)*9.80665*p.Depth.Meters()))
	return p
}

// GuardTriangle is the largest ball that passes the triangle of riser, tread
// and a bottom rail that stands gap off the nosing line, square to it: the
// triangle's inscribed circle.
func GuardTriangle(riser, tread, gap unit.Length) unit.Length {
	r, t := riser.Meters(), tread.Meters()
	h := hypotenuse(r, t)
	notch := r * t / h
	return unit.Length((notch + gap.Meters()) / notch * (r + t - h))
}

// Balusters is how many balusters stand in a clear width so that no opening is
// more than the limit, and the opening that this leaves.
func Balusters(clear, baluster, limit unit.Length) (n int, opening unit.Length) {
	c, b, o := clear.Meters(), baluster.Meters(), limit.Meters()
	if !(c > 0) || !(b > 0) || !(o > 0) || !finite(c) || c > 1e4 || b+o < 1e-3 {
		return 0, 0
	}
	if c > o {
		n = int(math.Ceil((c-o)/(b+o) - 1e-9))
	}
	return n, unit.Length((c - float64(float64(n)*b)) / float64(n+1))
}

// Checks holds the flight against the prescriptive guide's limits and against
// the wood's design values, each bay of a stringer as a simple span. Where the
// same member is loaded in two ways the worse is reported.
//
// The error is a [Faults].
func (f FramedFlight) Checks(d FramedDetail) ([]Check, error) {
	s, err := f.Stringer(d)
	if err != nil {
		return nil, err
	}
	return f.checks(d, s), nil
}

func (f FramedFlight) checks(d FramedDetail, s Stringer) []Check {
	var out []Check
	add := func(c Check) { out = append(out, c.check()) }
	guide := func(name string, limit, actual unit.Length, least bool, source, says string) {
		add(Check{Name: name, Limit: lengthOf(limit), Actual: lengthOf(actual), AtLeast: least, Says: says, Source: source, Remembered: true})
	}
	n, spacing := d.Stringers(f.Width)
	supports, bay := f.supports(d)
	guide("stringer-depth", 11.25*inch, d.Stringer.Width, true, sourceDCA6+": 2x12 at least", "")
	if !d.Solid {
		guide("stringer-throat", d.MinThroat, s.Throat, true, sourceDCA6+": 5 in", fmt.Sprintf("%s less the notch of %s", d.show(s.Depth), d.show(s.Notch)))
	}
	apart := spacing
	if d.Solid {
		apart -= d.Stringer.Thickness
	}
	source := sourceDCA6 + ": cut 18 in between centres, solid 36 in clear"
	if d.CompositeTread {
		source = "common practice: makers of composite treads ask for 8 to 16 in"
	}
	guide("stringer-spacing", d.spacingLimit(), apart, false, source, fmt.Sprintf("%d stringers", n))
	guide("stringer-span", d.spanLimit(), bay, false, sourceDCA6+": cut 6 ft, solid 13 ft 3 in, on the level", fmt.Sprintf("%d supports on the way", supports))
	out = append(out, f.stringerBeam(d, bay).checks()...)

	if d.CompositeTread {
		out = append(out, Check{Name: "tread-span", Actual: lengthOf(spacing), Open: true, Says: "composite treads: their maker says what they may span", Source: "common practice"})
	} else {
		tread := Beam{Name: "tread", Words: d.Words, Wood: d.wood(d.Tread), Breadth: d.Tread.Width, Depth: d.Tread.Thickness, Span: spacing,
			Bearing: d.Stringer.Thickness, Service: d.Service, LiveDeflection: 180}
		one, all := tread, tread
		one.Point = d.TreadLoad
		all.Live, all.Dead, all.Snow, all.Tributary = d.Live, d.Dead, d.Snow, d.Tread.Width
		list := worst(one.checks(), all.checks())
		for i := range list {
			list[i].Says = "one board, the worse of " + showFloat(d.TreadLoad.Newtons()/poundForce) + " lb at its middle and the load by area; " + list[i].Says
		}
		out = append(out, list...)
	}

	soil := func(name string, p unit.Pressure, says string) {
		add(Check{Name: name, Limit: pressureOf(d.SoilBearing), Actual: pressureOf(p), Says: says, Source: "IRC Table R401.4.1: 1500 psf for clay, more for sand and gravel", Remembered: true})
	}
	if !f.OnLanding {
		pad := f.pad(d)
		soil("pad-bearing", pad.Pressure, "live and dead load of the lowest bay and the pad itself")
		add(Check{Name: "pad-depth", Limit: lengthOf(12 * inch), Actual: lengthOf(pad.Depth), AtLeast: true,
			Says: "below undisturbed ground; deeper where the local code asks for frost depth", Source: "IRC R403.1.4"})
	}
	out = append(out, f.frameChecks(d, supports, bay, soil)...)
	if f.guarded(d) {
		out = append(out, f.guardChecks(d, s)...)
	}
	if d.HandrailSides > 0 && f.Risers >= d.HandrailFrom {
		guide("handrail-height-least", 34*inch, d.HandrailHeight, true, "IRC R311.7.8.1", "above the nosings")
		guide("handrail-height-most", 38*inch, d.HandrailHeight, false, "IRC R311.7.8.1", "above the nosings")
		out = append(out, Check{Name: "handrail-load", Open: true, Actual: Amount{Of: OfForce, Force: d.GuardLoad},
			Says:   "at any point along it: choose a rail and brackets that are rated for it; a knotty 2x2 between brackets far apart is not strong enough",
			Source: "IRC Table R301.5", Remembered: true})
	}
	return out
}

// worst takes, name by name, the check that uses more of its limit.
func worst(a, b []Check) []Check {
	out := append([]Check(nil), a...)
	for i, c := range b {
		if i < len(out) && c.use() > out[i].use() {
			out[i] = c
		}
	}
	return out
}

// frameChecks is about beams, joists and their footings.
func (f FramedFlight) frameChecks(d FramedDetail, supports int, bay unit.Length, soil func(string, unit.Pressure, string)) []Check {
	var out []Check
	if supports == 0 && f.Platform == 0 {
		return nil
	}
	posts, span := f.posts(d)
	beam := Beam{Name: "beam", Words: d.Words, Wood: d.wood(d.Beam), Breadth: unit.Length(float64(d.BeamPlies) * d.Beam.Thickness.Meters()), Depth: d.Beam.Width,
		Span: span, Live: d.Live, Dead: d.Dead, Snow: d.Snow, Bearing: unit.Length(d.Post.Thickness.Meters() / 2), Service: d.Service}
	carries := 0.0
	if supports > 0 {
		// A stringer running through puts 5/4 of a bay on the support between.
		carries = 1.25 * bay.Meters()
	}
	if f.Platform > 0 {
		joist := Beam{Name: "joist", Words: d.Words, Wood: d.wood(d.Joist), Breadth: d.Joist.Thickness, Depth: d.Joist.Width, Span: f.Platform,
			Live: d.Live, Dead: d.Dead, Snow: d.Snow, Tributary: d.JoistSpacing, Bearing: 1.5 * inch, Service: d.Service}
		out = append(out, joist.checks()...)
		if c := f.Platform.Meters()/2 + bay.Meters()/2; c > carries {
			carries = c
		}
	}
	beam.Tributary = unit.Length(carries)
	out = append(out, beam.checks()...)
	area := pi / 4 * d.FootingDiameter.Meters() * d.FootingDiameter.Meters()
	share := span.Meters()
	if posts == 2 {
		share = f.Width.Meters() / 2
	}
	load := d.load().Pascals() * carries * share
	soil("footing-bearing", unit.Pressure(load/area+float64(float64(d.ConcreteDensity)*9.80665*d.FootingDepth.Meters())), "the post with the most load, and the footing itself")
	return out
}

func (f FramedFlight) guardChecks(d FramedDetail, s Stringer) []Check {
	var out []Check
	add := func(name string, limit, actual unit.Length, least bool, source string, memory bool, says string) {
		out = append(out, Check{Name: name, Limit: lengthOf(limit), Actual: lengthOf(actual), AtLeast: least, Says: says, Source: source, Remembered: memory}.check())
	}
	g := f.stairGuard(d)
	add("guard-height", 34*inch, d.GuardHeight, true, "IRC R312.1.2, open side of a stair", false, "above the nosings")
	add("guard-post-spacing", 6*foot, g.spacing, false, "AWC DCA 6-2015, guards", true, fmt.Sprintf("%d posts a side, along the slope", g.posts))
	add("guard-opening", 4.375*inch, g.opening, false, "IRC R312.1.3, open side of a stair", false, fmt.Sprintf("%d balusters in a bay", g.perBay))
	add("guard-triangle", 6*inch, GuardTriangle(f.Riser, f.Tread, d.RailGap), false, "IRC R312.1.3", false, "the ball that passes between riser, tread and bottom rail")
	if f.Platform > 0 {
		add("platform-guard-height", 36*inch, d.GuardHeight, true, "IRC R312.1.2", false, "above the platform")
		p := f.platformGuard(d)
		add("platform-guard-opening", 4*inch, p.opening, false, "IRC R312.1.3", false, fmt.Sprintf("%d balusters in a bay", p.perBay))
	}
	lever := d.GuardHeight.Meters() + d.Tread.Thickness.Meters()
	out = append(out, Check{Name: "guard-post-moment", Open: true, Actual: Amount{Of: OfMoment, Moment: Moment(d.GuardLoad.Newtons() * lever)},
		Says: "needs a tested connection: the load at the guard's top turns the post about the stringer's upper edge, and a hold-down of 1800 lb at least is asked for with 1/2 in bolts; " +
			"no post is notched there, and no screw holds in end grain",
		Source: "AWC DCA 6-2015 (1800 lb); IRC Table R301.5 (200 lb); IRC 2021 R507.10", Remembered: true},
		Check{Name: "guard-rail-load", Open: true, Actual: Amount{Of: OfForce, Force: d.GuardLoad},
			Says:   "at any point of the top rail, and 50 lb on a square foot of balusters: build rails and infill as a tested or prescribed assembly",
			Source: "IRC Table R301.5", Remembered: true})
	return out
}

// guardRun is one side's guard.
type guardRun struct {
	posts, perBay, balusters int
	spacing, opening         unit.Length
	rail, baluster, post     unit.Length
}

// stairGuard is the guard of one side of the flight: posts from over the first
// riser to over the last.
func (f FramedFlight) stairGuard(d FramedDetail) guardRun {
	r, t := f.up().Meters(), f.Tread.Meters()
	h := hypotenuse(r, t)
	long := float64(float64(f.Risers-1) * h)
	bays := spaces(long, d.GuardSpacing.Meters())
	g := guardRun{posts: bays + 1, spacing: unit.Length(long / float64(bays))}
	clear := f.Going().Meters()/float64(bays) - d.GuardPost.Width.Meters()
	g.perBay, g.opening = Balusters(unit.Length(clear), d.Baluster.Width, d.StairOpening)
	g.balusters = bays * g.perBay
	g.rail = unit.Length(long + float64(d.GuardPost.Width.Meters()*h)/t)
	g.baluster = unit.Length(d.GuardHeight.Meters() - float64(d.RailGap.Meters()*h)/t + float64(d.Baluster.Width.Meters()*r)/t)
	under := d.Stringer.Width.Meters() * h / t
	if d.Solid {
		under -= d.Above.Meters() * h / t
	} else {
		under += d.Tread.Thickness.Meters()
	}
	g.post = unit.Length(d.GuardHeight.Meters() + under)
	return g
}

// platformGuard is the guard of one side of the platform along the path. Its
// first post is the flight's last, and not counted.
func (f FramedFlight) platformGuard(d FramedDetail) guardRun {
	long := f.Platform.Meters()
	bays := spaces(long, d.GuardSpacing.Meters())
	g := guardRun{posts: bays, spacing: unit.Length(long / float64(bays)), rail: f.Platform}
	clear := long/float64(bays) - d.GuardPost.Width.Meters()
	g.perBay, g.opening = Balusters(unit.Length(clear), d.Baluster.Width, d.Opening)
	g.balusters = bays * g.perBay
	g.baluster = d.GuardHeight - d.RailGap
	g.post = d.GuardHeight + d.Decking.Thickness + d.Joist.Width
	return g
}
