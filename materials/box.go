package materials

import (
	"fmt"
	"math"
	"strings"

	"github.com/martinlindhe/unit"
)

// Item ids of a take-off. Price lists use the same words.
const (
	ItemRiserTimber  = "riser-timber"
	ItemSideTimber   = "side-timber"
	ItemCrossPiece   = "cross-piece"
	ItemPin          = "pin"
	ItemScrew        = "structural-screw"
	ItemBase         = "base-gravel"
	ItemFill         = "fill-gravel"
	ItemTopping      = "topping"
	ItemFabric       = "fabric"
	ItemPreservative = "preservative"
)

// MaxBoxes is the most boxes one take-off may have.
const MaxBoxes = 1000

// Box is one step of the path: a timber frame bedded in a cut and filled.
type Box struct {
	// Number is the riser's number, 1 at the foot. Used in notes only.
	Number int
	// Riser is the height from the surface below to the nosing, 10 mm to 2 m.
	Riser unit.Length
	// Tread is the depth from this riser's face to the next riser's face, up
	// to 100 m. 0 is the last riser: its sides run [BoxDetail.HeadReturn] into
	// the bank.
	Tread unit.Length
	// Width is that of the path over the timbers' ends, 0.2 m to 20 m.
	Width unit.Length
	// Landing says that the tread is a landing. It is built like any other box
	// but for [BoxDetail.LandingBack] and LandingEvery, and its part says so.
	Landing bool
	// Radius is that of the centreline where the tread lies on a bend, whose
	// middle is to the right, looking uphill, where Right is set: [Wedge] says how
	// its sides are cut. 0 is straight, as the last riser is always built.
	Radius unit.Length
	Right  bool
	// BankLeft and BankRight are how high the cut bank stands above the tread at
	// either side, looking uphill, where it needs holding; 0 is not at all, up to
	// 10 m.
	BankLeft, BankRight unit.Length
}

// BoxDetail says how a box is built. [DefaultBoxDetail] gives one to start
// from; the zero value is refused because it names no timber.
type BoxDetail struct {
	// Timber is the section of risers, sides and cross pieces; it lies flat
	// unless OnEdge is set.
	Timber Section
	OnEdge bool
	// MaxBedding is the most gravel tamped under a riser timber to make up its
	// height. A riser that more courses than that would need gets one course
	// more and is buried by the difference. Default 1 in.
	MaxBedding unit.Length
	// Overlap is how far the side timbers run on under the next riser timber.
	// 0 is the timber's own breadth: the next riser timber bears fully.
	Overlap unit.Length
	// HeadReturn is the length of the last riser's sides. Default 24 in.
	HeadReturn unit.Length
	// CrossEvery: a box deeper than this gets cross pieces between its sides,
	// at most this far apart, in the lowest course. 0 is none. Default 4 ft.
	CrossEvery unit.Length
	// LongestTimber is the longest that can be had or carried; longer pieces
	// are spliced from equal parts, with a note. 0 is no limit. Default 16 ft.
	LongestTimber unit.Length

	// Pin is the section of the pins driven down through the courses; with no
	// name there are none. PinLength is the least length of one, PinGround how
	// far it must stand in the ground below the lowest course, PinEnd the
	// distance from a timber's end and PinSpacing the most between pins.
	Pin                                      Section
	PinLength, PinGround, PinEnd, PinSpacing unit.Length
	// ScrewsPerJoint is the structural screws in one joint: each course's two
	// corners, both ends of a cross piece, both bearings of a riser timber on
	// the sides below, and each splice. Default 2.
	ScrewsPerJoint int

	// Joint is how sides, cross pieces and landing timbers meet the timber
	// across them; [BoxDetail.EndIn] is what it adds to a piece. JointDepth is
	// the depth of a rebate, at most half the timber; 0 is a third. SpliceLap is
	// the lap of a splice, each part cut to half its height; 0 is butted.
	Joint                 Joint
	JointDepth, SpliceLap unit.Length
	// Face is a board over the risers' faces, as many of them as the timbers stand
	// above the surface in front, in a rebate FaceRebate deep in the riser timbers; with no name there
	// is none. Two screws hold it at every FaceScrewEvery; 0 is 24 in.
	Face                       Section
	FaceRebate, FaceScrewEvery unit.Length
	// LandingBack: a landing has a timber across its back between its sides, in
	// every course. LandingEvery is CrossEvery for landings; 0 is the same.
	LandingBack  bool
	LandingEvery unit.Length
	// Footing keeps the bottom step from creeping downhill.
	Footing Footing
	// BankTo is the highest bank that side timbers hold, at most 48 in; 0 is 24
	// in, over which IRC 2009 R404.4 wants a design. Each course is spiked to
	// the one below at both ends and every SpikeEvery; 0 is 24 in.
	BankTo, SpikeEvery unit.Length
	// Spike is the length of one; 0 is the timber's height and 4 to 5 in more.
	// BankBars: bars, cut from the section of the pins, go through three timbers
	// at a time in place of the spikes.
	Spike    unit.Length
	BankBars bool
	// A bank held that is higher than DeadmanFrom is tied back by deadmen; 0 is 24
	// in. They reach DeadmanLength into the bank behind the timbers, 0 is 48 in or
	// the bank's height; lie no more than DeadmanEvery apart along the box, 0 is 96
	// in; and end in a cross piece of DeadmanCross, 0 is 24 in. These and the spikes'
	// are common practice.
	NoDeadmen                                              bool
	DeadmanFrom, DeadmanLength, DeadmanEvery, DeadmanCross unit.Length

	// Topping, Fill and Base are the layers in place from the surface down;
	// together they are the build-up. Each may be 0.
	Topping, Fill, Base                   unit.Length
	ToppingGravel, FillGravel, BaseGravel Aggregate
	// TrenchBase is base gravel in trenches under the timbers, below the layers,
	// compacted; 0 to 1000 m³. How much is for whoever digs them to say.
	TrenchBase unit.Volume
	// Fabric lies under the base of every box; FabricLap is added to its
	// length at each box. No fabric when NoFabric is set.
	NoFabric  bool
	FabricLap unit.Length

	// TimberDensity gives the timbers' mass; wet ones weigh far more.
	TimberDensity Density
	// Coats of preservative on each end cut on site, and the area that one
	// litre covers once.
	Coats    int
	Coverage unit.Area // per litre

	// Waste is what is ordered over the need, as a fraction of it.
	Waste Waste

	// Words writes lengths in notes; without it they are written in metres.
	Words func(unit.Length) string
}

// Waste holds the allowances, each a fraction of the need from 0 to 1. Timbers
// have none: the cut plan says exactly what is bought and what is left.
type Waste struct{ Pins, Screws, Gravel, Fabric, Preservative, Concrete float64 }

// WetTimber is the density of freshly treated southern pine, 72.9 lb/ft³, from
// the same trade table as the dry figure of [DefaultBoxDetail]: what a carrier
// of a new timber should reckon with.
const WetTimber = 72.9 * poundsPerCubicFoot

// DefaultBoxDetail is a detail to start from: 6x6 timbers, No. 4 bar pins 24 in
// long, 1 in of topping, 3 in of fill and 4 in of base.
//
// Sources: pins No. 4, 24 in, two to a timber up to 6 ft and three over, about
// 4 ft apart and 6 to 12 in from the ends, 18 in in the ground; base 4 to 6 in;
// fabric lapped 12 in: all common practice, from memory. Drift pins of 1/2 in:
// USFS Trail Construction and Maintenance Notebook (2007), Fig. 77. Gravel
// waste 10 %: WSDOT Design Manual M 22-01, Exhibit 620-1, note on stockpile
// waste. Timber density 41.4 lb/ft³, air-dry treated longleaf pine: from a
// trade table of weights per foot (8.69 lb/ft for 6x6). End grain 50 to
// 100 ft²/gal a coat, two coats: from memory; the label governs.
func DefaultBoxDetail() BoxDetail {
	timber, _ := SectionByName("6x6")
	pin, _ := SectionByName("no4-bar")
	base, _ := AggregateByID("crushed-base")
	top, _ := AggregateByID("crushed-top")
	return BoxDetail{
		Timber:        timber,
		MaxBedding:    1 * inch,
		HeadReturn:    24 * inch,
		CrossEvery:    48 * inch,
		LongestTimber: 192 * inch,
		Pin:           pin, PinLength: 24 * inch, PinGround: 18 * inch, PinEnd: 12 * inch, PinSpacing: 48 * inch,
		ScrewsPerJoint: 2,
		Topping:        1 * inch, Fill: 3 * inch, Base: 4 * inch,
		ToppingGravel: top, FillGravel: base, BaseGravel: base,
		FabricLap:     12 * inch,
		TimberDensity: 41.4 * poundsPerCubicFoot,
		Coats:         2,
		Coverage:      endGrainCoverage,
		Waste:         Waste{Pins: 0.05, Screws: 0.05, Gravel: 0.10, Fabric: 0.05, Preservative: 0.10, Concrete: 0.10},
	}
}

// endGrainCoverage is 75 ft² a US gallon (231 in³), the middle of 50 to 100.
const endGrainCoverage = unit.Area(75 * 0.3048 * 0.3048 / 3.785411784)

// BuildUp is the depth of the layers together: surface to formation.
func (d BoxDetail) BuildUp() unit.Length { return d.Topping + d.Fill + d.Base }

// Course is the height of one course of timber.
func (d BoxDetail) Course() unit.Length {
	if d.OnEdge {
		return d.Timber.Width
	}
	return d.Timber.Thickness
}

// Breadth is the timber's other side, measured along the path in a riser.
func (d BoxDetail) Breadth() unit.Length {
	if d.OnEdge {
		return d.Timber.Thickness
	}
	return d.Timber.Width
}

func (d BoxDetail) overlap() unit.Length {
	if d.Overlap == 0 {
		return d.Breadth()
	}
	return d.Overlap
}

// maxCourses keeps a thin timber under a high riser bounded.
const maxCourses = 200

// Courses says how a riser of the height is made up: the courses of timber,
// the gravel bedded under them and how far they stand below the surface in
// front. One of the two is always 0.
func (d BoxDetail) Courses(riser unit.Length) (courses int, bedding, buried unit.Length) {
	h, r, most := d.Course().Meters(), riser.Meters(), d.MaxBedding.Meters()
	if !(h > 0) || !(r > 0) || r/h > maxCourses {
		return 0, 0, 0
	}
	// A micrometre forgives the last bits of a division.
	courses = int(math.Ceil((r - most - 1e-6) / h))
	if courses < 1 {
		courses = 1
	}
	gap := r - float64(float64(courses)*h)
	switch {
	case gap > 1e-6:
		bedding = unit.Length(gap)
	case gap < -1e-6:
		buried = unit.Length(-gap)
	}
	return courses, bedding, buried
}

// Check reports what is wrong with the detail.
func (d BoxDetail) Check() error {
	var f Faults
	d.check("", &f)
	return f.Err()
}

func (d BoxDetail) check(at string, f *Faults) {
	c := below(at, f)
	d.Timber.check(c.at+"timber", f)
	c.length("max_bedding", d.MaxBedding, 0, unit.Meter)
	c.length("overlap", d.Overlap, 0, unit.Meter)
	c.length("head_return", d.HeadReturn, 0, 20*unit.Meter)
	c.length("cross_every", d.CrossEvery, 0, 100*unit.Meter)
	if d.CrossEvery > 0 && d.CrossEvery < 100*unit.Millimeter {
		c.wrong("cross_every", d.CrossEvery, "is less than 0.1 m", "give 0 for none, or 0.1 m or more")
	}
	c.length("longest_timber", d.LongestTimber, 0, 50*unit.Meter)
	if d.LongestTimber > 0 && d.LongestTimber < 300*unit.Millimeter {
		c.wrong("longest_timber", d.LongestTimber, "is less than 0.3 m", "give 0 for no limit, or 0.3 m or more")
	}
	if d.Pin.Name != "" {
		d.Pin.check(c.at+"pin", f)
		c.length("pin_length", d.PinLength, 0, 5*unit.Meter)
		c.length("pin_ground", d.PinGround, 0, 5*unit.Meter)
		c.length("pin_end", d.PinEnd, 0, 5*unit.Meter)
		c.length("pin_spacing", d.PinSpacing, 50*unit.Millimeter, 20*unit.Meter)
		if d.PinLength == 0 && d.PinGround == 0 {
			c.add("pin_length", "", "is missing", "give the pins a length, or a depth in the ground")
		}
	}
	c.count("screws_per_joint", d.ScrewsPerJoint, 0, 100)
	layer := func(name string, t unit.Length, a Aggregate) {
		if c.length(name, t, 0, 2*unit.Meter) && t > 0 {
			a.check(c.at+name+"_gravel", f)
		}
	}
	layer("topping", d.Topping, d.ToppingGravel)
	layer("fill", d.Fill, d.FillGravel)
	layer("base", d.Base, d.BaseGravel)
	c.number("trench_base", d.TrenchBase.CubicMeters(), 0, 1000)
	c.length("fabric_lap", d.FabricLap, 0, 5*unit.Meter)
	c.number("timber_density", float64(d.TimberDensity), 100, 2000)
	c.count("coats", d.Coats, 0, 10)
	if d.Coats > 0 {
		c.number("coverage", d.Coverage.SquareMeters(), 0.01, 1000)
	}
	c.number("waste.pins", d.Waste.Pins, 0, 1)
	c.number("waste.screws", d.Waste.Screws, 0, 1)
	c.number("waste.gravel", d.Waste.Gravel, 0, 1)
	c.number("waste.fabric", d.Waste.Fabric, 0, 1)
	c.number("waste.preservative", d.Waste.Preservative, 0, 1)
	c.number("waste.concrete", d.Waste.Concrete, 0, 1)
	d.checkMore(c)
}

// Quantity is how much of an item, in every measure that means anything for
// it; the others are 0.
type Quantity struct {
	Count  int
	Length unit.Length
	Area   unit.Area
	Volume unit.Volume
	Mass   unit.Mass
}

// Item is one line of a take-off.
type Item struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// ID is one of the Item words; Section the section of timbers and pins.
	ID, Section string
	// Need is what the work takes. Gravel is measured in place, compacted.
	Need Quantity
	// Waste is the allowance, a fraction of the need.
	Waste float64
	// Order is what to ask for: the need and the waste, gravel as loose volume
	// in the truck. Of timbers it is the need; the cut plan says what to buy.
	Order Quantity
	// Note says how the quantity came about.
	Note string
}

// Piece is so many equal lengths to be cut.
type Piece struct {
	Section string
	Length  unit.Length
	Count   int
	// Use is the item's id, or any words of the caller's.
	Use string
}

// BoxPart is what one box takes.
type BoxPart struct {
	_       [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Number  int
	Landing bool
	Courses int
	// Bedding is the gravel tamped under the riser timbers, Buried how far
	// their underside lies below the surface in front. One of them is 0.
	Bedding, Buried unit.Length
	// RiserTimber, SideTimber, CrossPiece are lengths of one piece before any
	// splice, and Risers, Sides, Crosses how many of them.
	RiserTimber, SideTimber, CrossPiece unit.Length
	Risers, Sides, Crosses              int
	// On a bend SideTimber is that of the outside, and the inside has InnerSides
	// timbers of InnerSide; both are by the longer edge of their mitred ends.
	InnerSide  unit.Length
	InnerSides int
	// Pins is their number and PinLength the length of each.
	// Pins through a buried footing are the footing's.
	Pins      int
	PinLength unit.Length
	Screws    int
	// LandingTimber and BankTimber are lengths of one piece, of bank timbers the
	// longer, FaceBoard that of one board; the counts say how many. Spikes hold
	// bank timbers, FaceScrews the boards. Banks are those held, side by side.
	LandingTimber, BankTimber, FaceBoard    unit.Length
	LandingTimbers, BankTimbers, FaceBoards int
	Spikes, FaceScrews                      int
	Banks                                   []BankPart
	// Footing is that of the first box.
	Footing FootingPart
	// Notched is the wood that joints, lapped splices and rebates lay bare.
	Notched unit.Area
	// Topping, Fill and Base are compacted volumes, Timber that of the timbers
	// before they are notched.
	Topping, Fill, Base, Timber unit.Volume
	// Fabric is the area laid, laps included.
	Fabric unit.Area
	// Pieces are what is cut for the box, a piece too long for its timber as the
	// parts it is joined from.
	Pieces []Piece
	// HeaviestPiece is the mass of the heaviest single timber, dry; a freshly
	// treated one weighs by [WetTimber].
	HeaviestPiece unit.Mass
}

// Note is something the take-off has to say about an item or a box.
type Note struct {
	// Box is the box's number, or 0 for all.
	Box  int
	Item string
	Says string
}

// Takeoff is what the work needs.
type Takeoff struct {
	Items  []Item
	Pieces []Piece
	Boxes  []BoxPart
	Notes  []Note
	detail BoxDetail
}

func (d BoxDetail) show(l unit.Length) string { return inWords(d.Words, l) }

func (d BoxDetail) noteSplice(item string, length unit.Length, parts int) string {
	how := ""
	if d.SpliceLap > 0 {
		how = ", half-lapped by " + d.show(d.SpliceLap)
	}
	return tooLong(item, d.show(length), fmt.Sprintf("splice it from %d equal parts%s, each joint over firm bedding", parts, how))
}

// tooLong begins a note about pieces that no timber is long enough for: the box or flight
// that it stands under has several kinds of them.
func tooLong(item, length, instead string) string {
	return strings.ReplaceAll(item, "-", " ") + " of " + length + " is longer than the longest timber: " + instead
}
