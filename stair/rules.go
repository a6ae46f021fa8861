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
	RiserHeight   Quantity = "riser"         // of each riser
	TreadDepth    Quantity = "tread"         // of each flight's treads, riser face to riser face
	StepSum       Quantity = "step_sum"      // 2 × riser + tread, of each flight
	FlightPitch   Quantity = "pitch"         // of the line through a flight's nosings, from horizontal
	FlightRise    Quantity = "flight_rise"   // of each flight, its treads' wash included
	FlightRisers  Quantity = "flight_risers" // in each flight
	LandingDepth  Quantity = "landing"       // of each landing
	LandingAsWide Quantity = "landing_width" // a landing is as deep as the path is wide; Max, when set, is all that is asked for
	EndLanding    Quantity = "end_landing"   // of the level places at foot and head
	TreadWash     Quantity = "wash"          // of treads and landings
	PathWidth     Quantity = "width"         // clear width of the path
	PathSlope     Quantity = "path_slope"    // rise over run of the whole path
	HandrailAt    Quantity = "handrail"      // risers in a flight that call for a handrail on Sides sides
	GuardAt       Quantity = "guard"         // drop beside the path that calls for a guard
	NosingAt      Quantity = "nosing"        // tread depth that calls for a nosing where risers are solid
)

// Op is how a rule's bounds are to be read.
type Op string

// The ways a rule can bound a quantity. The last three ask for something when
// the quantity is there, and are no bounds on the quantity itself.
const (
	AtLeast Op = "min"   // Min or more
	AtMost  Op = "max"   // Max or less
	Within  Op = "range" // Min to Max
	From    Op = "from"  // asks from Min on
	Over    Op = "over"  // asks above Min
	Under   Op = "under" // asks below Min
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
	ID       string   `json:"id"`
	Quantity Quantity `json:"quantity"`
	Op       Op       `json:"op"`
	Min      Amount   `json:"min"`             // for AtLeast, Within, From, Over, Under
	Max      Amount   `json:"max"`             // for AtMost, Within
	Sides    int      `json:"sides,omitempty"` // of a handrail
	// Severity is that of the finding when the rule is not kept. Rules of
	// severity Stop are limits of the fit, the others are not.
	Severity   Severity `json:"severity"`
	Clause     string   `json:"clause"`
	Edition    string   `json:"edition"`
	Source     string   `json:"source"`
	Remembered bool     `json:"remembered,omitempty"` // the figure is from memory: look it up before relying on it
	Text       string   `json:"text,omitempty"`       // what to know about it
}

// RuleSet is the figures of one code, specification or habit, and what it is
// written for.
type RuleSet struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Applies string `json:"applies"` // what it binds, and what it does not
	Rules   []Rule `json:"rules"`
}

// Facts is what the rules ask about a path beside its layout. What is 0 is not
// known; a rule that needs it is then reported as not checked.
type Facts struct {
	Width       unit.Length `json:"width"`        // clear width of the path
	Drop        unit.Length `json:"drop"`         // greatest drop beside the path, within 36 in (914 mm) of its edge
	Handrails   int         `json:"handrails"`    // sides with a handrail: 0, 1 or 2
	Guard       bool        `json:"guard"`        // whether there is a guard where the drop is
	FootLanding unit.Length `json:"foot_landing"` // depth of the level place below the first riser
	HeadLanding unit.Length `json:"head_landing"` // and behind the last
}

// Finding is one thing a rule set has to say about a layout. It compares
// figures; whether the work is permitted is for the local authority.
type Finding struct {
	Severity   Severity `json:"severity"`
	Rule       string   `json:"rule"` // its ID
	Clause     string   `json:"clause"`
	Edition    string   `json:"edition"`
	Source     string   `json:"source"`
	Remembered bool     `json:"remembered,omitempty"`
	Says       string   `json:"says"`
	Limit      Amount   `json:"limit"`
	Actual     Amount   `json:"actual"`
	Where      string   `json:"where"`
}

// Limits is the rule set's figures as limits of the fit: its rules of severity
// Stop. Where it says nothing, the widest of what is common practice for
// outdoor steps stands: risers of 100 to 200 mm, treads of 250 to 1000 mm,
// landings from 900 mm. The wash is 0; choose one before the fit.
func (s RuleSet) Limits() Limits { return s.LimitsFor(Facts{}) }

// LimitsFor is Limits for a path of which facts are known: rules that ask for
// landings as deep as the path is wide need its width.
func (s RuleSet) LimitsFor(f Facts) Limits {
	var l Limits
	sum := StepRule{}
	for _, r := range s.Rules {
		if r.Severity != Stop {
			continue
		}
		lo, hi := r.Min, r.Max
		switch r.Quantity {
		case RiserHeight:
			atLeast(&l.RiserMin, lo)
			atMost(&l.RiserMax, hi)
		case TreadDepth:
			atLeast(&l.TreadMin, lo)
			atMost(&l.TreadMax, hi)
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
		l.LandingMin = 900 * unit.Millimeter
	}
	return l
}

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

// Check compares a layout with every rule of the set and gives what is not
// kept, what is asked for, and what could not be checked, in the order of the
// rules and then from the foot up. Limits are inclusive, compared within 1e-9
// (of a metre, a ratio, a radian).
func (s RuleSet) Check(l Layout, f Facts) []Finding {
	var out []Finding
	for _, r := range s.Rules {
		out = append(out, r.check(l, f)...)
	}
	return out
}

// place is one value of a rule's quantity and where on the path it is.
type place struct {
	what, where string
	v           Amount
}

// places are the values of a quantity on a layout, from the foot up; missing
// names the fact that would be needed and is not known.
func (r Rule) places(l Layout, f Facts) (at []place, missing string) {
	flight := func(g Flight) string {
		if g.Risers == 1 {
			return fmt.Sprintf("riser %d", g.First)
		}
		return fmt.Sprintf("risers %d to %d", g.First, g.First+g.Risers-1)
	}
	treads := func(what string, v func(Flight) Amount) {
		for _, g := range l.Flights {
			if g.Risers > 1 {
				at = append(at, place{what, flight(g), v(g)})
			}
		}
	}
	fact := func(what, where string, v unit.Length) {
		if !(v > 0) {
			missing = what
			return
		}
		at = append(at, place{what, where, length(v)})
	}
	switch r.Quantity {
	case RiserHeight:
		if l.Risers > 0 {
			at = append(at, place{"the riser", "each riser", length(l.Riser)})
		}
	case TreadDepth, NosingAt:
		treads("the tread", func(g Flight) Amount { return length(g.Tread) })
	case StepSum:
		treads("two risers and a tread", func(g Flight) Amount { return length(2*l.Riser + g.Tread) })
	case FlightPitch:
		treads("the pitch", func(g Flight) Amount {
			return Amount{Of: OfAngle, Angle: unit.Angle(math.Atan(float64(l.Riser)/float64(g.Tread) + l.Wash))}
		})
	case FlightRise:
		for _, g := range l.Flights {
			rise := float64(float64(g.Risers)*float64(l.Riser)) + float64(l.Wash*float64(g.End-g.Start))
			at = append(at, place{"the rise of the flight", flight(g), length(unit.Length(rise))})
		}
	case FlightRisers:
		for _, g := range l.Flights {
			at = append(at, place{"the number of risers in the flight", flight(g), count(g.Risers)})
		}
	case HandrailAt:
		if f.Handrails < r.Sides {
			for _, g := range l.Flights {
				at = append(at, place{"the number of risers in the flight", flight(g), count(g.Risers)})
			}
		}
	case LandingDepth, LandingAsWide:
		for _, g := range l.Landings {
			at = append(at, place{"the landing", fmt.Sprintf("landing behind riser %d", g.After), length(g.Depth)})
		}
		if r.Quantity == LandingAsWide && len(at) > 0 && !(f.Width > 0) {
			return nil, "the width of the path"
		}
	case EndLanding:
		fact("the landing at the foot", "foot", f.FootLanding)
		fact("the landing at the head", "head", f.HeadLanding)
		if len(at) == 0 {
			missing = "the depth of the level places at foot and head"
		}
	case TreadWash:
		at = append(at, place{"the wash", "treads and landings", ratio(l.Wash)})
	case PathWidth:
		fact("the width of the path", "path", f.Width)
	case PathSlope:
		if l.Run > 0 {
			at = append(at, place{"the slope of the whole path", "path", ratio(float64(l.Rise) / float64(l.Run))})
		}
	case GuardAt:
		if !f.Guard && f.Drop > 0 {
			at = append(at, place{"the drop beside the path", "where the drop is", length(f.Drop)})
		}
	}
	return at, missing
}

func (r Rule) check(l Layout, f Facts) []Finding {
	var out []Finding
	find := func(sev Severity, says string, limit, actual Amount, where string) {
		if r.Text != "" {
			says += " (" + r.Text + ")"
		}
		out = append(out, Finding{Severity: sev, Rule: r.ID, Clause: r.Clause, Edition: r.Edition, Source: r.Source,
			Remembered: r.Remembered, Says: says, Limit: limit, Actual: actual, Where: where})
	}
	at, missing := r.places(l, f)
	if r.Quantity == LandingAsWide && f.Width > 0 {
		r.Min = length(asWide(r, f.Width))
		r.Max = Amount{}
	}
	if missing != "" {
		limit := r.Min
		if limit.Of == "" {
			limit = r.Max
		}
		find(Note, missing+" is not given and was not checked", limit, Amount{}, "")
	}
	for _, p := range at {
		v := p.v.SI()
		lo, hi := r.Min.SI(), r.Max.SI()
		low := r.Min.Of != "" && v < lo-tol
		high := r.Max.Of != "" && v > hi+tol
		switch r.Op {
		case From:
			if v >= lo-tol {
				find(r.Severity, r.asks(p), r.Min, p.v, p.where)
			}
		case Over:
			if v > lo+tol {
				find(r.Severity, r.asks(p), r.Min, p.v, p.where)
			}
		case Under:
			if v < lo-tol {
				find(r.Severity, r.asks(p), r.Min, p.v, p.where)
			}
		default:
			if low {
				find(r.Severity, fmt.Sprintf("%s, %s, is less than %s", p.what, p.v, r.Min), r.Min, p.v, p.where)
			}
			if high {
				find(r.Severity, fmt.Sprintf("%s, %s, is more than %s", p.what, p.v, r.Max), r.Max, p.v, p.where)
			}
		}
	}
	return out
}

// asks is the words of a rule that asks for something.
func (r Rule) asks(p place) string {
	thing := "something"
	switch r.Quantity {
	case HandrailAt:
		if thing = "a handrail on one side"; r.Sides > 1 {
			thing = "handrails on both sides"
		}
	case GuardAt:
		thing = "a guard"
	case NosingAt:
		thing = "a nosing where risers are solid"
	}
	word := map[Op]string{From: "from", Over: "above", Under: "below"}[r.Op]
	return fmt.Sprintf("%s is %s: %s is asked for %s %s", p.what, p.v, thing, word, r.Min)
}
