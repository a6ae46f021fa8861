package materials

import (
	"math"

	"github.com/martinlindhe/unit"
)

// Item ids of what a box may have besides. Price lists use the same words.
const (
	ItemFaceBoard     = "face-board"
	ItemLandingTimber = "landing-timber"
	ItemFootTimber    = "foot-timber"
	ItemBankTimber    = "bank-timber"
	ItemSpike         = "spike"
	ItemPierBracket   = "pier-bracket"
	ItemAnchorBolt    = "anchor-bolt"
)

// Joint is how the ends of sides, cross pieces and landing timbers meet the
// timber across them.
type Joint string

// The joints. Butt, the zero value, ends at the other timber's face. A half-lap
// runs on over its whole breadth, each cut to half its height; a rebate runs on
// into a recess of [BoxDetail.JointDepth] in it.
const (
	JointButt    Joint = ""
	JointHalfLap Joint = "half-lap"
	JointRebate  Joint = "rebate"
)

// FootingKind is what keeps the bottom step from creeping downhill.
type FootingKind string

// The footings. None is the zero value.
const (
	FootingNone     FootingKind = ""
	FootingPiers    FootingKind = "piers"    // round concrete piers with a bracket each
	FootingBuried   FootingKind = "buried"   // courses of timber below the bottom riser, pinned through
	FootingConcrete FootingKind = "concrete" // a concrete strip with anchor bolts
)

// Footing is under the riser timber of the first box, across the whole path.
// [DefaultFooting] gives one of each kind to start from; the zero Footing is
// none.
type Footing struct {
	_    [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Kind FootingKind
	// Courses is how many timbers are buried; 0 is 1.
	Courses int
	// Width of a pier's diameter or of the strip along the path, Depth of its
	// concrete.
	Width, Depth unit.Length
	// Spacing is the most between piers or anchors, End how far the outer ones'
	// centres are from the timber's ends.
	Spacing, End unit.Length
	// Screws through each pier's bracket.
	Screws int
	// Bag is the concrete's; with no Yield it is ordered by volume.
	Bag             Bag
	ConcreteDensity Density
}

// DefaultFooting is a footing to start from. Piers 8 in across and 24 in deep,
// no more than 4 ft apart and 6 in from the ends, four screws a bracket; one
// buried timber; a strip 12 in wide and 8 in deep: common practice, from
// memory. Anchors within 12 in of the ends: IRC R403.1.6, from memory; 4 ft
// apart: common practice. Footings go below frost where the local code asks
// for it.
func DefaultFooting(kind FootingKind) Footing {
	f := Footing{Kind: kind}
	switch kind {
	case FootingPiers:
		f.Width, f.Depth, f.Spacing, f.End, f.Screws = 8*inch, 24*inch, 48*inch, 6*inch, 4
	case FootingBuried:
		f.Courses = 1
		return f
	case FootingConcrete:
		f.Width, f.Depth, f.Spacing, f.End = 12*inch, 8*inch, 48*inch, 12*inch
	default:
		return f
	}
	f.Bag, f.ConcreteDensity = Bags()[0], 145*poundsPerCubicFoot
	return f
}

// FootingPart is the footing of a box: Count holes of Length across the path by
// Width along it and Depth below the lowest course, piers round.
type FootingPart struct {
	Kind                 FootingKind
	Count                int
	Length, Width, Depth unit.Length
	// Anchors are brackets or anchor bolts.
	Anchors int
	// Pins go through buried timbers, each PinLength long.
	Pins      int
	PinLength unit.Length
	// Concrete in place.
	Concrete unit.Volume
}

// bankTo is the most that side timbers hold where the detail says nothing, and
// bankMost the most it may say.
const (
	bankTo   = 24 * inch
	bankMost = 48 * inch
)

const sourceBank = "IRC 2006 R404.5 and 2009 R404.4: walls with more than 24 in of unbalanced fill need an engineered design; 48 in in later editions, from memory"

// bankLimit is how high a bank side timbers may hold.
func (d BoxDetail) bankLimit() unit.Length { return orElse(d.BankTo, bankTo) }

func orTwoFeet(l unit.Length) unit.Length { return orElse(l, 24*inch) }

// jointDepth is how deep a rebate is.
func (d BoxDetail) jointDepth() unit.Length {
	return orElse(d.JointDepth, unit.Length(d.Breadth().Meters()/3))
}

// EndIn is what a joint adds to the length of a piece at each jointed end.
func (d BoxDetail) EndIn() unit.Length {
	switch d.Joint {
	case JointHalfLap:
		return d.Breadth()
	case JointRebate:
		return d.jointDepth()
	}
	return 0
}

// notch is the wood laid bare by one joint: of a half-lap the cheek and the
// shoulder on both timbers, of a rebate its back and its two shoulders, or the
// one that it has at a timber's end.
func (d BoxDetail) notch(atEnd bool) float64 {
	w, h := d.Breadth().Meters(), d.Course().Meters()
	switch d.Joint {
	case JointHalfLap:
		return 2*float64(w*w) + float64(w*h)
	case JointRebate:
		shoulders := 2.0
		if atEnd {
			shoulders = 1
		}
		return float64(w*h) + float64(shoulders*d.jointDepth().Meters()*h)
	}
	return 0
}

// spliceNotch is the wood laid bare by one lapped splice: two cheeks and two
// shoulders.
func (d BoxDetail) spliceNotch() float64 {
	w, h := d.Breadth().Meters(), d.Course().Meters()
	if d.SpliceLap == 0 {
		return 0
	}
	return 2*float64(d.SpliceLap.Meters()*w) + float64(w*h)
}

// splice is the equal parts that a timber is made of, and the length of each,
// laps included.
func (d BoxDetail) splice(l unit.Length) (parts int, each unit.Length) {
	if d.LongestTimber == 0 || l <= d.LongestTimber {
		return 1, l
	}
	lap := d.SpliceLap.Meters()
	parts = int(math.Ceil((l.Meters() - lap - 1e-6) / (d.LongestTimber.Meters() - lap)))
	return parts, unit.Length((l.Meters() + float64(float64(parts-1)*lap)) / float64(parts))
}

func (d BoxDetail) checkMore(c *checker) {
	half := unit.Length(d.Breadth().Meters() / 2)
	switch d.Joint {
	case JointButt, JointHalfLap:
	case JointRebate:
		if c.length("joint_depth", d.JointDepth, 0, unit.Meter) && d.JointDepth > half {
			c.wrong("joint_depth", d.JointDepth, "is more than half the timber", "give less, or 0 for a third")
		}
	default:
		c.add("joint", string(d.Joint), "is not a joint", "leave it out for butt, or write half-lap or rebate")
	}
	if c.length("splice_lap", d.SpliceLap, 0, 5*unit.Meter) && d.LongestTimber > 0 && 2*d.SpliceLap > d.LongestTimber {
		c.wrong("splice_lap", d.SpliceLap, "is more than half the longest timber", "give a shorter lap")
	}
	if d.Face.Name != "" {
		d.Face.check(c.at+"face", c.f)
		if c.length("face_rebate", d.FaceRebate, 0, unit.Meter) && d.FaceRebate > half {
			c.wrong("face_rebate", d.FaceRebate, "is more than half the timber", "give less")
		}
		c.spacing("face_screw_every", d.FaceScrewEvery)
	}
	c.spacing("landing_every", d.LandingEvery)
	d.checkBank(c)
	p := d.Footing
	c = &checker{c.at + "footing.", c.f}
	switch p.Kind {
	case FootingNone:
		return
	case FootingBuried:
		c.count("courses", p.Courses, 0, 10)
		if d.Pin.Name == "" {
			c.add("kind", string(p.Kind), "is held by pins, and the detail has none", "name a pin, or choose piers or concrete")
		}
		return
	case FootingPiers, FootingConcrete:
	default:
		c.add("kind", string(p.Kind), "is not a footing", "leave it out for none, or write piers, buried or concrete")
		return
	}
	c.length("width", p.Width, 50*unit.Millimeter, 2*unit.Meter)
	c.length("depth", p.Depth, 50*unit.Millimeter, 3*unit.Meter)
	c.length("spacing", p.Spacing, 100*unit.Millimeter, 10*unit.Meter)
	c.length("end", p.End, 0, 2*unit.Meter)
	c.count("screws", p.Screws, 0, 100)
	c.number("concrete_density", float64(p.ConcreteDensity), 300, 5000)
	if y := p.Bag.Yield.CubicMeters(); y != 0 {
		c.number("bag.yield", y, 1e-4, 10)
		c.number("bag.mass", p.Bag.Mass.Kilograms(), 0, 1e5)
	}
}

// footing works out what is under the first riser timber.
func (d BoxDetail) footing(p BoxPart) FootingPart {
	f := FootingPart{Kind: d.Footing.Kind, Count: 1, Length: p.RiserTimber, Width: d.Footing.Width, Depth: d.Footing.Depth}
	anchors := func() int {
		between := p.RiserTimber.Meters() - 2*d.Footing.End.Meters()
		if between <= 0 {
			return 1
		}
		return spaces(between, d.Footing.Spacing.Meters()) + 1
	}
	switch f.Kind {
	case FootingPiers:
		f.Anchors = anchors()
		f.Count, f.Length = f.Anchors, f.Width
		f.Concrete = unit.Volume(float64(f.Count) * float64(pi/4*f.Width.Meters()*f.Width.Meters()) * f.Depth.Meters())
	case FootingConcrete:
		f.Anchors = anchors()
		f.Concrete = unit.Volume(f.Length.Meters() * f.Width.Meters() * f.Depth.Meters())
	case FootingBuried:
		n := d.Footing.Courses
		if n == 0 {
			n = 1
		}
		f.Width, f.Depth = d.Breadth(), unit.Length(float64(n)*d.Course().Meters())
		f.Pins = d.pins(p.RiserTimber)
		f.PinLength = d.PinLength
		if least := unit.Length(float64(p.Courses)*d.Course().Meters()) + f.Depth + d.PinGround; least > f.PinLength {
			f.PinLength = least
		}
	default:
		return FootingPart{}
	}
	return f
}

// inBox is the plan area of the footing behind the riser timber's face: the
// footing is centred under that timber.
func (f FootingPart) inBox(breadth, depth float64) float64 {
	behind := (f.Width.Meters() + breadth) / 2
	if behind > depth {
		behind = depth
	}
	if behind > f.Width.Meters() {
		behind = f.Width.Meters()
	}
	if f.Kind == FootingPiers {
		// A round pier as a strip of its own area.
		return float64(f.Count) * float64(pi/4*f.Width.Meters()) * behind
	}
	return f.Length.Meters() * behind
}

// face works out the boards before the riser.
func (d BoxDetail) face(p *BoxPart, riser unit.Length) {
	if d.Face.Name == "" {
		return
	}
	p.FaceBoard = p.RiserTimber
	// The bedding under the lowest timber is left open.
	high := float64(p.Courses) * d.Course().Meters()
	if riser.Meters() < high {
		high = riser.Meters()
	}
	p.FaceBoards = spaces(high, d.Face.Width.Meters())
	p.FaceScrews = p.FaceBoards * 2 * (spaces(p.FaceBoard.Meters(), orTwoFeet(d.FaceScrewEvery).Meters()) + 1)
	if d.FaceRebate > 0 {
		p.Notched += unit.Area(p.RiserTimber.Meters() * (riser.Meters() + d.FaceRebate.Meters()))
	}
}

// FaceProud is how far face boards stand before the riser timber: so much less
// deep are the treads before them.
func (d BoxDetail) FaceProud() unit.Length {
	if d.Face.Name == "" || d.FaceRebate >= d.Face.Thickness {
		return 0
	}
	return d.Face.Thickness - d.FaceRebate
}
