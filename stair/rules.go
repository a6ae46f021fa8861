package stair

import (
	"fmt"
	"math"
	"strconv"

	"github.com/martinlindhe/unit"
)

// Quantity is what a rule is about.
type Quantity string

// The quantities rules are about.
const (
	RiserHeight    Quantity = "riser"           // of each riser
	RiserSpread    Quantity = "riser_spread"    // largest less smallest riser of a flight, as built
	RiserAdjacent  Quantity = "riser_adjacent"  // difference of two risers that follow each other, as built
	TreadDepth     Quantity = "tread"           // of each flight's treads, riser face to riser face
	TreadSpread    Quantity = "tread_spread"    // largest less smallest tread of a flight, as built, wedges left out
	TreadAdjacent  Quantity = "tread_adjacent"  // difference of two treads that follow each other, as built
	StepSum        Quantity = "step_sum"        // 2 × riser + tread, of each flight
	FlightPitch    Quantity = "pitch"           // of the line through a flight's nosings, from horizontal
	FlightRise     Quantity = "flight_rise"     // of each flight, its treads' wash included
	FlightRisers   Quantity = "flight_risers"   // in each flight
	EqualFlights   Quantity = "equal_flights"   // most less fewest risers of the flights
	PathRisers     Quantity = "risers"          // of the whole path; asks for a turn
	LandingDepth   Quantity = "landing"         // of each landing
	LandingAsWide  Quantity = "landing_width"   // a landing is as deep as the path is wide; Max, when set, is all that is asked for
	LandingBreadth Quantity = "landing_breadth" // across the path: as broad as the path is wide
	LandingWash    Quantity = "landing_wash"    // of landings
	EndLanding     Quantity = "end_landing"     // of the level places at foot and head
	EndSlope       Quantity = "end_slope"       // of the ground that serves as landing at foot or head
	TreadWash      Quantity = "wash"            // of treads and landings, along the path
	Outslope       Quantity = "outslope"        // of treads and landings across the path, to whichever side
	Drainage       Quantity = "drainage"        // the larger of wash and outslope
	PathWidth      Quantity = "width"           // clear width of the path
	RailWidth      Quantity = "rail_width"      // clear width at and below handrails on Sides sides
	PathHeadroom   Quantity = "headroom"        // above the line of nosings
	PathSlope      Quantity = "path_slope"      // rise over run of the whole path
	HandrailAt     Quantity = "handrail"        // risers in a flight that call for a handrail on Sides sides
	GuardAt        Quantity = "guard"           // drop beside the path that calls for a guard
	GuardRisers    Quantity = "guard_risers"    // risers in a flight that call for a guard
	NosingAt       Quantity = "nosing"          // tread depth that calls for a nosing where risers are solid
	NosingDepth    Quantity = "nosing_depth"    // by which a nosing overhangs the tread below
	OpenRiserCount Quantity = "open_risers"     // in a flight
	RiserGap       Quantity = "riser_gap"       // opening of an open riser: what a sphere must not pass
	WedgeWalkline  Quantity = "wedge_walkline"  // depth of a wedge tread on the walkline
	WedgeSpread    Quantity = "wedge_spread"    // largest less smallest of a flight's wedges on the walkline
	WedgeStraight  Quantity = "wedge_straight"  // a wedge on the walkline is as deep as the straight treads of its flight
	WedgeNarrow    Quantity = "wedge_narrow"    // depth of a wedge tread at its narrow end
	Scope          Quantity = "scope"           // no figure: what the rule set binds
)

// Op is how a rule's bounds are to be read.
type Op string

// The ways a rule can bound a quantity. From, Over and Under ask for something
// when the quantity is there, and are no bounds on the quantity itself; Binds
// and BindsAll go with [Scope] and have no figure.
const (
	AtLeast  Op = "min"       // Min or more
	AtMost   Op = "max"       // Max or less
	Within   Op = "range"     // Min to Max
	MoreThan Op = "more"      // above Min
	LessThan Op = "less"      // below Max
	From     Op = "from"      // asks from Min on
	Over     Op = "over"      // asks above Min
	Under    Op = "under"     // asks below Min
	Binds    Op = "binds"     // what is attached to a building: of a path of both kinds, the framed flights
	BindsAll Op = "binds_all" // all of a path that is attached to a building or leads to its entrance
)

// Measure is what an [Amount] is an amount of.
type Measure string

// The measures of amounts.
const (
	OfLength Measure = "length"
	OfRatio  Measure = "ratio"
	OfCount  Measure = "count"
	OfAngle  Measure = "angle"
)

// Amount is a limit or an actual value: a length, a ratio, a count or an angle,
// as Of says. The zero Amount is no amount.
type Amount struct {
	Of     Measure     `json:"of,omitempty"`
	Length unit.Length `json:"length,omitempty"`
	Ratio  float64     `json:"ratio,omitempty"`
	Count  int         `json:"count,omitempty"`
	Angle  unit.Angle  `json:"angle,omitempty"`
}

// SI is the amount as a bare number: metres, a ratio, a count or radians.
func (a Amount) SI() float64 {
	switch a.Of {
	case OfLength:
		return float64(a.Length)
	case OfRatio:
		return a.Ratio
	case OfCount:
		return float64(a.Count)
	case OfAngle:
		return float64(a.Angle)
	}
	return 0
}

// String gives the amount for reading: lengths in millimetres or metres with
// the inches, ratios as 1:n and in percent, angles in degrees.
func (a Amount) String() string {
	switch a.Of {
	case OfLength:
		return text(a.Length)
	case OfRatio:
		pc := strconv.FormatFloat(math.Round(a.Ratio*1e4)/100, 'f', -1, 64) + " %"
		if a.Ratio > 0 {
			return fmt.Sprintf("1:%s (%s)", strconv.FormatFloat(math.Round(10/a.Ratio)/10, 'f', -1, 64), pc)
		}
		return pc
	case OfCount:
		return strconv.Itoa(a.Count)
	case OfAngle:
		return strconv.FormatFloat(math.Round(float64(a.Angle)*1800/math.Pi)/10, 'f', -1, 64) + "°"
	}
	return ""
}

func length(l unit.Length) Amount { return Amount{Of: OfLength, Length: l} }
func ratio(r float64) Amount      { return Amount{Of: OfRatio, Ratio: r} }
func count(n int) Amount          { return Amount{Of: OfCount, Count: n} }
func degrees(d float64) Amount    { return Amount{Of: OfAngle, Angle: unit.Angle(d * math.Pi / 180)} }

// Severity is how much a finding matters.
type Severity string

// The severities of findings.
const (
	Stop Severity = "stop" // a figure of the rule set is not kept
	Warn Severity = "warn" // advice is not kept, or something is asked for that is not there
	Note Severity = "note" // worth knowing, or not checked for want of a fact
)

// Rule is one figure of a rule set.
type Rule struct {
	_        [0]func() // not comparable, which spares code: see DEVELOPERS.md
	ID       string    `json:"id"`
	Quantity Quantity  `json:"quantity"`
	Op       Op        `json:"op"`
	Min      Amount    `json:"min,omitzero"`    // for AtLeast, Within, MoreThan, From, Over, Under
	Max      Amount    `json:"max,omitzero"`    // for AtMost, Within, LessThan
	Sides    int       `json:"sides,omitempty"` // of a handrail
	// When narrows the rule to some flights or paths; nil does not.
	When *When `json:"when,omitempty"`
	// Walkline is where a rule of wedge treads measures them.
	Walkline *Walkline `json:"walkline,omitempty"`
	// Severity is that of the finding when the rule is not kept. Rules of
	// severity Stop are limits of the fit where [Limits] has a field for their
	// quantity, the others are not.
	Severity   Severity `json:"severity"`
	Clause     string   `json:"clause"`
	Edition    string   `json:"edition"`
	Source     string   `json:"source"`
	Remembered bool     `json:"remembered,omitempty"` // the figure is from memory: look it up before relying on it
	Text       string   `json:"text,omitempty"`       // what to know about it
}

// When is what a rule holds for. Every bound that is not 0 must be met.
type When struct {
	TreadFrom  unit.Length `json:"tread_from,omitempty"`  // flights of treads this deep or deeper
	TreadUnder unit.Length `json:"tread_under,omitempty"` // flights of treads less deep than this
	WidthFrom  unit.Length `json:"width_from,omitempty"`  // paths this wide or wider
	DropOver   unit.Length `json:"drop_over,omitempty"`   // places more than this above the ground beside; so held when the drop is not known
	Faces      Faces       `json:"faces,omitempty"`       // flights whose risers are solid, or open
}

// Faces is whether risers are closed by a board or timber.
type Faces string

// What risers can be.
const (
	Solid Faces = "solid"
	Open  Faces = "open"
)

// SetKind is what sort of document a rule set is from.
type SetKind string

// The kinds of rule sets.
const (
	Code          SetKind = "code"          // law, or what is held to keep it, for stairs that belong to a building
	Specification SetKind = "specification" // what somebody asks of work they pay for or maintain
	Advice        SetKind = "advice"        // handbooks
	OwnLimits     SetKind = "own"           // to be changed
)

// RuleSet is the figures of one code, specification or habit, and what it is
// written for.
type RuleSet struct {
	ID      string  `json:"id"`
	Name    string  `json:"name"`
	Kind    SetKind `json:"kind"`
	Place   string  `json:"place,omitempty"` // where it is from
	Applies string  `json:"applies"`         // what it binds, and what it does not
	Rules   []Rule  `json:"rules"`
}

// Of is the rules of the set about a quantity, in their order.
func (s RuleSet) Of(q Quantity) []Rule {
	var out []Rule
	for _, r := range s.Rules {
		if r.Quantity == q {
			out = append(out, r)
		}
	}
	return out
}

// Attachment is what a path is part of.
type Attachment string

// Building is the attachment of a path that is within, joined to or the way
// into a building, porch or deck.
const Building Attachment = "building"

// Facts is what the rules ask about a path beside its layout. What is 0 is not
// known. Where a rule needs it for any path (its width, the landings at its
// ends) or for this one (the drop beside a framed flight, the gap of open
// risers), the rule is then reported as not checked.
type Facts struct {
	Width          unit.Length `json:"width"`                     // clear width of the path
	RailWidth      unit.Length `json:"rail_width,omitempty"`      // clear width at and below the handrails
	Headroom       unit.Length `json:"headroom,omitempty"`        // least, above the line of nosings
	Drop           unit.Length `json:"drop"`                      // greatest drop beside the path, within 36 in (914 mm) of its edge
	Handrails      int         `json:"handrails"`                 // sides with a handrail: 0, 1 or 2
	Guard          bool        `json:"guard"`                     // whether there is a guard where the drop is
	FootLanding    unit.Length `json:"foot_landing"`              // depth of the level place below the first riser
	HeadLanding    unit.Length `json:"head_landing"`              // and behind the last
	EndSlope       *float64    `json:"end_slope,omitempty"`       // greatest slope of either, a ratio
	LandingBreadth unit.Length `json:"landing_breadth,omitempty"` // of the landings across the path; 0 is the path's width
	Outslope       *float64    `json:"outslope,omitempty"`        // slope of treads and landings across the path, a ratio; the side does not matter

	Nosing     unit.Length `json:"nosing,omitempty"`      // by which treads overhang the one below; 0 is none or not known
	OpenRisers bool        `json:"open_risers,omitempty"` // of the framed flights, or of all when none is framed
	RiserGap   unit.Length `json:"riser_gap,omitempty"`   // opening of an open riser, between tread and tread

	// BuiltRisers and BuiltTreads are the heights of risers 1, 2, … and the
	// depths behind them as built. Where they are missing or 0 the layout's
	// stand. See [RuleSet.Uniform] for a flight that is no flight of a layout.
	BuiltRisers []unit.Length `json:"built_risers,omitempty"`
	BuiltTreads []unit.Length `json:"built_treads,omitempty"`

	// Wedges are the treads that a bend makes wedges of.
	Wedges []Wedge `json:"wedges,omitempty"`

	// AttachedTo is what the path is part of: [Building], or anything else for
	// a path that stands free. A code gives a note where it does not bind.
	AttachedTo Attachment `json:"attached_to,omitempty"`

	// Only has just the flights of one kind checked, and the landings that
	// touch them: so that a path's boxes can be held to one rule set and its
	// framed flights to another. "" is every flight.
	Only Kind `json:"only,omitempty"`
}

// Finding is one thing a rule set has to say about a layout. It compares
// figures; whether the work is permitted is for the local authority.
type Finding struct {
	_          [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Severity   Severity  `json:"severity"`
	Rule       string    `json:"rule"` // its ID
	Clause     string    `json:"clause"`
	Edition    string    `json:"edition"`
	Source     string    `json:"source"`
	Remembered bool      `json:"remembered,omitempty"`
	Says       string    `json:"says"`
	Limit      Amount    `json:"limit,omitzero"`
	Actual     Amount    `json:"actual,omitzero"`
	Where      string    `json:"where"`
}

// Limits is the rule set's figures as limits of the fit: its rules of severity
// Stop. Where it says nothing, the widest of what is common practice for
// outdoor steps stands: risers of 100 to 200 mm, treads of 250 to 1000 mm,
// landings from 36 in, or what a rule of severity Warn asks for. The fewest risers
// of a flight that such a rule asks for are wished for. The wash is 0; choose one before the fit.
func (s RuleSet) Limits() Limits { return s.LimitsFor(Facts{}) }

// LimitsFor is Limits for a path of which facts are known: rules that ask for
// landings as deep as the path is wide need its width. Of rules that hold for
// some tread depths only, the strictest stands for all; wash and width are no
// limits of the fit.
func (s RuleSet) LimitsFor(f Facts) Limits {
	var l Limits
	sum := StepRule{}
	landing := usualLanding
	for _, r := range s.Rules {
		if r.Severity == Warn && r.When == nil {
			// Defaults are none that the set warns of.
			switch {
			case r.Quantity == FlightRisers:
				l.WishedFlightRisers = max(l.WishedFlightRisers, r.Min.Count)
			case r.Quantity == LandingDepth && r.Min.Length > landing:
				landing = r.Min.Length
			}
		}
		if r.Severity != Stop {
			continue
		}
		lo, hi := r.Min, r.Max
		if r.Op == LessThan && hi.Of == OfLength {
			hi.Length -= unit.Micrometer
		}
		switch r.Quantity {
		case RiserHeight:
			atLeast(&l.RiserMin, lo)
			atMost(&l.RiserMax, hi)
		case TreadDepth:
			atLeast(&l.TreadMin, lo)
			atMost(&l.TreadMax, hi)
		case FlightPitch:
			if hi.Of == OfAngle && (l.PitchMax == 0 || hi.Angle < l.PitchMax) {
				l.PitchMax = hi.Angle
			}
		case StepSum:
			atLeast(&sum.Min, lo)
			atMost(&sum.Max, hi)
			l.StepRule = &sum
		case FlightRise:
			atMost(&l.MaxFlightRise, hi)
		case FlightRisers:
			if lo.Count > l.MinFlightRisers {
				l.MinFlightRisers = lo.Count
			}
			if hi.Of != "" && (l.MaxFlightRisers == 0 || hi.Count < l.MaxFlightRisers) {
				l.MaxFlightRisers = hi.Count
			}
		case LandingDepth:
			atLeast(&l.LandingMin, lo)
			atMost(&l.LandingMax, hi)
		case LandingAsWide:
			atLeast(&l.LandingMin, length(asWide(r, f.Width)))
		}
	}
	// Defaults give way to what the rules say.
	defaults := func(lo, hi *unit.Length, a, b unit.Length) {
		if *lo == 0 {
			if *lo = a; *hi != 0 && *hi < a {
				*lo = *hi
			}
		}
		if *hi == 0 {
			if *hi = b; *hi < *lo {
				*hi = *lo
			}
		}
	}
	defaults(&l.RiserMin, &l.RiserMax, 100*unit.Millimeter, 200*unit.Millimeter)
	defaults(&l.TreadMin, &l.TreadMax, 250*unit.Millimeter, 1000*unit.Millimeter)
	if l.LandingMin == 0 {
		l.LandingMin = landing
	}
	return l
}

// usualLanding is the shallowest that landings are commonly made: 36 in (Beall,
// Masonry and Concrete, 2004, p. 284).
const usualLanding = 36 * unit.Inch

func atLeast(l *unit.Length, a Amount) {
	if a.Of != "" && a.Length > *l {
		*l = a.Length
	}
}

func atMost(l *unit.Length, a Amount) {
	if a.Of != "" && (*l == 0 || a.Length < *l) {
		*l = a.Length
	}
}

// asWide is how deep a landing of a path of some width is to be.
func asWide(r Rule, width unit.Length) unit.Length {
	if !(width > 0) || math.IsInf(float64(width), 0) {
		return 0
	}
	if r.Max.Of != "" && width > r.Max.Length {
		return r.Max.Length
	}
	return width
}
