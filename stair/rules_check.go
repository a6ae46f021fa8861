package stair

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/martinlindhe/unit"
)

// Check compares a layout with every rule of the set and gives what is not
// kept, what is asked for, and what could not be checked, in the order of the
// rules and then from the foot up. Limits are inclusive unless their [Op] says
// otherwise, compared within 1e-9 (of a metre, a ratio, a radian).
func (s RuleSet) Check(l Layout, f Facts) []Finding {
	v := look(l, f)
	if f.Only != "" && len(v.flights) == 0 {
		return nil
	}
	var out []Finding
	for _, r := range s.Rules {
		out = append(out, r.check(v, f)...)
	}
	return out
}

// view is the part of a layout that is checked.
type view struct {
	Layout
	flights    []Flight
	landings   []Landing
	foot, head bool // whether the ends of the path belong to it
}

func look(l Layout, f Facts) view {
	if f.Only == "" {
		return view{l, l.Flights, l.Landings, true, true}
	}
	v := view{Layout: l}
	for i, g := range l.Flights {
		if g.Kind != f.Only {
			continue
		}
		v.flights = append(v.flights, g)
		v.foot = v.foot || i == 0
		v.head = v.head || i == len(l.Flights)-1
	}
	for _, p := range l.Landings {
		for _, g := range v.flights {
			if last := g.First + g.Risers - 1; p.After == last || p.After+1 == g.First {
				v.landings = append(v.landings, p)
				break
			}
		}
	}
	return v
}

// framed is the flights that do not bear on the ground.
func (v view) framed() []Flight {
	var out []Flight
	for _, g := range v.flights {
		if g.Kind != Box {
			out = append(out, g)
		}
	}
	return out
}

// open is whether the risers of a flight are open.
func (v view) open(g Flight, f Facts) bool {
	return f.OpenRisers && (g.Kind != Box || len(v.framed()) == 0)
}

// holds is whether a rule is for a flight.
func (w *When) holds(v view, g Flight, f Facts) bool {
	switch {
	case w == nil:
		return true
	case w.TreadFrom != 0 && float64(g.Tread) < float64(w.TreadFrom)-tol:
		return false
	case w.TreadUnder != 0 && float64(g.Tread) >= float64(w.TreadUnder)-tol:
		return false
	case w.Faces == Open && !v.open(g, f), w.Faces == Solid && v.open(g, f):
		return false
	}
	return true
}

// here is whether a rule is for the path at all.
func (w *When) here(f Facts) bool {
	switch {
	case w == nil:
		return true
	case w.WidthFrom != 0 && !(float64(f.Width) >= float64(w.WidthFrom)-tol):
		return false
	case w.DropOver != 0 && f.Drop > 0 && float64(f.Drop) <= float64(w.DropOver)+tol:
		return false
	}
	return true
}

// place is one value of a rule's quantity and where on the path it is.
type place struct {
	_           [0]func() // not comparable, which spares code: see DEVELOPERS.md
	what, where string
	v           Amount
	limit       Amount // the Min to use in place of the rule's, where it depends on the place
}

func whereFlight(g Flight) string {
	if g.Risers == 1 {
		return fmt.Sprintf("riser %d", g.First)
	}
	return fmt.Sprintf("risers %d to %d", g.First, g.First+g.Risers-1)
}

// places are the values of a quantity on a layout, from the foot up; missing
// names the fact that would be needed and is not known.
func (r Rule) places(v view, f Facts) (at []place, missing string) {
	if !r.When.here(f) {
		return nil, ""
	}
	put := func(what, where string, a Amount) { at = append(at, place{what: what, where: where, v: a}) }
	flights := func(what string, of func(Flight) Amount) {
		for _, g := range v.flights {
			if r.When.holds(v, g, f) {
				put(what, whereFlight(g), of(g))
			}
		}
	}
	treads := func(what string, of func(Flight) Amount) {
		for _, g := range v.flights {
			if g.Risers > 1 && r.When.holds(v, g, f) {
				put(what, whereFlight(g), of(g))
			}
		}
	}
	known := func(what, where string, l unit.Length) { // where not knowing is no matter
		if l > 0 {
			put(what, where, length(l))
		}
	}
	fact := func(what, where string, l unit.Length) {
		if known(what, where, l); !(l > 0) {
			missing = what
		}
	}
	risers := func(g Flight) Amount { return count(g.Risers) }
	const many = "the number of risers in the flight"

	switch r.Quantity {
	case RiserHeight:
		if v.Risers > 0 {
			put("the riser", "each riser", length(v.Riser))
		}
	case RiserSpread, RiserAdjacent:
		for _, g := range v.flights {
			at = append(at, r.uniform(builtRisers(v.Layout, g, f), whereFlight(g), "riser")...)
		}
	case TreadSpread, TreadAdjacent:
		for _, g := range v.flights {
			at = append(at, r.uniform(builtTreads(g, f), whereFlight(g), "tread")...)
		}
	case TreadDepth:
		treads("the tread", func(g Flight) Amount { return length(g.Tread) })
	case NosingAt:
		for _, g := range v.flights {
			if g.Risers > 1 && r.When.holds(v, g, f) && !v.open(g, f) && !(f.Nosing > 0) {
				put("the tread", whereFlight(g), length(g.Tread))
			}
		}
	case NosingDepth:
		treads("the nosing", func(Flight) Amount { return length(f.Nosing) })
		if !(f.Nosing > 0) {
			// Without one there is none to measure; under open risers some
			// overlap is a must.
			if len(at) > 0 && r.When != nil && r.When.Faces == Open {
				missing = "the overlap of treads over open risers"
			}
			at = nil
		}
	case OpenRiserCount:
		for _, g := range v.flights {
			if v.open(g, f) {
				put("the number of open risers", whereFlight(g), count(g.Risers))
			}
		}
	case RiserGap:
		for _, g := range v.flights {
			if g.Risers < 2 || !v.open(g, f) {
				continue
			}
			if !(f.RiserGap > 0) {
				return nil, "the opening of the open risers"
			}
			put("the opening of the risers", whereFlight(g), length(f.RiserGap))
		}
	case StepSum:
		treads("two risers and a tread", func(g Flight) Amount { return length(2*v.Riser + g.Tread) })
	case FlightPitch:
		treads("the pitch", func(g Flight) Amount {
			return Amount{Of: OfAngle, Angle: unit.Angle(math.Atan(float64(v.Riser)/float64(g.Tread) + v.Wash))}
		})
	case FlightRise:
		flights("the rise of the flight", func(g Flight) Amount {
			return length(unit.Length(float64(float64(g.Risers)*float64(v.Riser)) + float64(v.Wash*float64(g.End-g.Start))))
		})
	case FlightRisers:
		flights(many, risers)
	case EqualFlights:
		if len(v.flights) > 1 {
			few, most := v.flights[0].Risers, v.flights[0].Risers
			for _, g := range v.flights {
				few, most = min(few, g.Risers), max(most, g.Risers)
			}
			put("the difference between the flights with most and with fewest risers", "flights", count(most-few))
		}
	case PathRisers:
		n := 0
		for _, g := range v.flights {
			n += g.Risers
		}
		put("the number of risers", "path", count(n))
	case HandrailAt:
		if f.Handrails < r.Sides {
			flights(many, risers)
		}
	case GuardRisers:
		if !f.Guard {
			flights(many, risers)
		}
	case LandingDepth, LandingAsWide:
		for _, g := range v.landings {
			p := place{what: "the landing", where: fmt.Sprintf("landing behind riser %d", g.After), v: length(g.Depth)}
			if r.Quantity == LandingAsWide {
				p.limit = length(asWide(r, f.Width))
			}
			at = append(at, p)
		}
		if r.Quantity == LandingAsWide && len(at) > 0 && !(f.Width > 0) {
			return nil, "the width of the path"
		}
	case LandingBreadth:
		if len(v.landings) > 0 && f.LandingBreadth > 0 && f.Width > 0 {
			at = append(at, place{what: "the breadth of the landings", where: "landings", v: length(f.LandingBreadth), limit: length(f.Width)})
		}
	case LandingWash:
		if len(v.landings) > 0 {
			put("the wash of the landings", "landings", ratio(v.Wash))
		}
	case EndLanding:
		if v.foot {
			fact("the landing at the foot", "foot", f.FootLanding)
		}
		if v.head {
			fact("the landing at the head", "head", f.HeadLanding)
		}
		if v.foot && v.head && len(at) == 0 {
			missing = "the depth of the level places at foot and head"
		}
	case EndSlope:
		if f.EndSlope != nil && (v.foot || v.head) {
			put("the slope of the ground that serves as landing", "foot and head", ratio(math.Abs(*f.EndSlope)))
		}
	case TreadWash:
		put("the wash", "treads and landings", ratio(v.Wash))
	case Outslope:
		switch {
		case f.Outslope != nil:
			put("the outslope", "treads and landings", ratio(math.Abs(*f.Outslope)))
		case r.Min.Of != "":
			missing = "the slope of the treads across the path"
		}
	case Drainage:
		fall := math.Abs(v.Wash)
		if f.Outslope != nil && math.Abs(*f.Outslope) > fall {
			fall = math.Abs(*f.Outslope)
		}
		put("the fall that drains treads and landings", "treads and landings", ratio(fall))
	case PathWidth:
		fact("the width of the path", "path", f.Width)
	case RailWidth:
		if f.Handrails == r.Sides {
			known("the width at and below the handrails", "path", f.RailWidth)
		}
	case PathHeadroom:
		known("the headroom", "path", f.Headroom)
	case PathSlope:
		if v.Run > 0 {
			put("the slope of the whole path", "path", ratio(float64(v.Rise)/float64(v.Run)))
		}
	case GuardAt:
		switch {
		case f.Guard:
		case f.Drop > 0:
			put("the drop beside the path", "where the drop is", length(f.Drop))
		case len(v.framed()) > 0:
			missing = "the drop beside the framed flights"
		}
	case WedgeWalkline, WedgeNarrow, WedgeStraight:
		for _, w := range f.Wedges {
			g, ok := v.flightOf(w.Riser)
			if !ok {
				continue
			}
			if !w.usable() {
				missing = fmt.Sprintf("the wedge tread behind riser %d", w.Riser)
				continue
			}
			p := place{where: fmt.Sprintf("wedge tread behind riser %d, station %s", w.Riser, text(w.Station))}
			switch p.what, p.v = "the depth of the wedge tread on the walkline", length(w.Walk(r.Walkline)); r.Quantity {
			case WedgeNarrow:
				p.what, p.v = "the depth of the wedge tread at its narrow end", length(w.narrow())
			case WedgeStraight:
				if g.Risers < 2 {
					continue
				}
				p.limit = length(g.Tread)
			}
			at = append(at, p)
		}
	case WedgeSpread:
		for _, g := range v.flights {
			var x []unit.Length
			for _, w := range f.Wedges {
				if w.Riser >= g.First && w.Riser < g.First+g.Risers && w.usable() {
					x = append(x, w.Walk(r.Walkline))
				}
			}
			if len(x) > 1 {
				put("the deepest wedge tread on the walkline less the least deep", whereFlight(g), length(SpreadOf(x).Difference))
			}
		}
	}
	return at, missing
}

func (v view) flightOf(riser int) (Flight, bool) {
	for _, g := range v.flights {
		if riser >= g.First && riser < g.First+g.Risers {
			return g, true
		}
	}
	return Flight{}, false
}

func (r Rule) finding(sev Severity, says string, limit, actual Amount, where string) Finding {
	if r.Text != "" {
		says += " (" + r.Text + ")"
	}
	return Finding{Severity: sev, Rule: r.ID, Clause: r.Clause, Edition: r.Edition, Source: r.Source,
		Remembered: r.Remembered, Says: says, Limit: limit, Actual: actual, Where: where}
}

func (r Rule) check(v view, f Facts) []Finding {
	if r.Quantity == Scope {
		return r.scope(v, f)
	}
	at, missing := r.places(v, f)
	var out []Finding
	if missing != "" {
		limit := r.Min
		if limit.Of == "" {
			limit = r.Max
		}
		out = append(out, r.finding(Note, missing+" is not given and was not checked", limit, Amount{}, ""))
	}
	return append(out, r.judge(at)...)
}

// judge compares places with the rule.
func (r Rule) judge(at []place) []Finding {
	var out []Finding
	for _, p := range at {
		least, most := r.Min, r.Max
		if r.Quantity == LandingAsWide {
			most = Amount{} // it bounds what is asked for, not the landing
		}
		if p.limit.Of != "" {
			least = p.limit
		}
		v, lo, hi := p.v.SI(), least.SI(), most.SI()
		find := func(says string, limit Amount) {
			out = append(out, r.finding(r.Severity, says, limit, p.v, p.where))
		}
		switch r.Op {
		case From:
			if v >= lo-tol {
				find(r.asks(p), least)
			}
		case Over:
			if v > lo+tol {
				find(r.asks(p), least)
			}
		case Under:
			if v < lo-tol {
				find(r.asks(p), least)
			}
		case MoreThan:
			if v <= lo+tol {
				find(fmt.Sprintf("%s, %s, is not more than %s", p.what, p.v, least), least)
			}
		case LessThan:
			if v >= hi-tol {
				find(fmt.Sprintf("%s, %s, is not less than %s", p.what, p.v, most), most)
			}
		default:
			if least.Of != "" && v < lo-tol {
				find(fmt.Sprintf("%s, %s, is less than %s", p.what, p.v, least), least)
			}
			if most.Of != "" && v > hi+tol {
				find(fmt.Sprintf("%s, %s, is more than %s", p.what, p.v, most), most)
			}
		}
	}
	return out
}

// scope notes where the rule set does not bind and is only a yardstick.
func (r Rule) scope(v view, f Facts) []Finding {
	framed := v.framed()
	switch {
	case f.AttachedTo != Building:
		return []Finding{r.finding(Note, "this path is taken to stand free, and these rules do not bind it: their figures are used as a yardstick", Amount{}, Amount{}, "path")}
	case r.Op == Binds && len(framed) > 0 && len(framed) < len(v.flights):
		var names []string
		for _, g := range framed {
			names = append(names, whereFlight(g))
		}
		return []Finding{r.finding(Note, "framed flights attached to the building are bound, here "+strings.Join(names, " and ")+
			"; steps on the ground are compared with the same figures as a yardstick", Amount{}, Amount{}, strings.Join(names, ", "))}
	}
	return nil
}

// asks is the words of a rule that asks for something.
func (r Rule) asks(p place) string {
	thing := "something"
	switch r.Quantity {
	case HandrailAt:
		if thing = "a handrail on one side"; r.Sides > 1 {
			thing = "handrails on both sides"
		}
	case GuardAt, GuardRisers:
		thing = "a guard"
	case NosingAt:
		thing = "a nosing where risers are solid"
	case PathRisers:
		thing = "a turn in the path"
	}
	word := map[Op]string{From: "from", Over: "above", Under: "below"}[r.Op]
	verb := "is asked for"
	if r.Quantity == HandrailAt && r.Sides > 1 {
		verb = "are asked for"
	}
	return fmt.Sprintf("%s is %s: %s %s %s %s", p.what, p.v, thing, verb, word, r.Min)
}

// Spread is how far a row of risers or treads is from being equal.
type Spread struct {
	Largest    unit.Length `json:"largest"`
	Smallest   unit.Length `json:"smallest"`
	Difference unit.Length `json:"difference"` // largest less smallest
	Adjacent   unit.Length `json:"adjacent"`   // the largest difference of two that follow each other
	At         int         `json:"at"`         // index of the first of those two
}

// SpreadOf is the spread of a row of lengths; that of none or one is 0.
func SpreadOf(x []unit.Length) Spread {
	var s Spread
	for i, v := range x {
		if i == 0 || v > s.Largest {
			s.Largest = v
		}
		if i == 0 || v < s.Smallest {
			s.Smallest = v
		}
		if i > 0 {
			if d := unit.Length(math.Abs(float64(v - x[i-1]))); d > s.Adjacent {
				s.Adjacent, s.At = d, i-1
			}
		}
	}
	s.Difference = s.Largest - s.Smallest
	return s
}

// Uniform compares the risers and treads of one flight, as measured and in
// their order from the foot up, with the set's tolerances for what should be
// equal. Either may be empty. first is the number of the first of the risers.
func (s RuleSet) Uniform(first int, risers, treads []unit.Length) []Finding {
	where := whereFlight(Flight{First: first, Risers: max(len(risers), len(treads)+1)})
	row := func(x []unit.Length) row {
		r := row{at: make([]int, len(x)), x: x}
		for i := range x {
			r.at[i] = first + i
		}
		return r
	}
	var out []Finding
	for _, r := range s.Rules {
		switch r.Quantity {
		case RiserSpread, RiserAdjacent:
			out = append(out, r.judge(r.uniform(row(risers), where, "riser"))...)
		case TreadSpread, TreadAdjacent:
			out = append(out, r.judge(r.uniform(row(treads), where, "tread"))...)
		}
	}
	return out
}

// row is risers or treads of one flight that should be equal, and the numbers
// of the risers they are or lie behind, ascending.
type row struct {
	at []int
	x  []unit.Length
}

// uniform is the place of a rule of uniformity in a row, none where there is
// nothing to compare.
func (r Rule) uniform(w row, where, what string) []place {
	if r.Quantity == RiserSpread || r.Quantity == TreadSpread {
		if len(w.x) < 2 {
			return nil
		}
		return []place{{what: fmt.Sprintf("the largest %s less the smallest", what), where: where, v: length(SpreadOf(w.x).Difference)}}
	}
	most, at := -1.0, 0
	for i := 1; i < len(w.x); i++ {
		if d := math.Abs(float64(w.x[i] - w.x[i-1])); w.at[i] == w.at[i-1]+1 && d > most {
			most, at = d, w.at[i-1]
		}
	}
	if most < 0 {
		return nil
	}
	if where = fmt.Sprintf("risers %d and %d", at, at+1); what == "tread" {
		where = "treads behind " + where
	}
	return []place{{what: fmt.Sprintf("the difference of two %ss that follow each other", what), where: where, v: length(unit.Length(most))}}
}

// builtRisers is the risers of a flight, those built as built; empty when none
// of them is.
func builtRisers(l Layout, g Flight, f Facts) row {
	return built(f.BuiltRisers, g.First, g.Risers, l.Riser, nil)
}

// builtTreads is the same of a flight's treads, without the wedges: they need
// not be equal to the straight ones.
func builtTreads(g Flight, f Facts) row {
	return built(f.BuiltTreads, g.First, g.Risers-1, g.Tread, f.Wedges)
}

func built(x []unit.Length, first, n int, planned unit.Length, without []Wedge) row {
	if n < 1 || n > maxRisers || first < 1 {
		return row{}
	}
	var out row
	some := false
	for k := first; k < first+n; k++ {
		if slices.ContainsFunc(without, func(w Wedge) bool { return w.Riser == k }) {
			continue
		}
		v := planned
		if k <= len(x) && x[k-1] > 0 && finite(float64(x[k-1])) {
			v, some = x[k-1], true
		}
		out.at, out.x = append(out.at, k), append(out.x, v)
	}
	if !some {
		return row{}
	}
	return out
}

// Wedge is a tread that a bend makes deeper on one side than on the other.
type Wedge struct {
	Riser   int         `json:"riser"`   // the riser it lies behind
	Station unit.Length `json:"station"` // of that riser, on the centreline
	Inner   unit.Length `json:"inner"`   // depth at the inner edge of the clear width
	Outer   unit.Length `json:"outer"`   // depth at the outer edge
	Width   unit.Length `json:"width"`   // clear width of the path there
}

// DepthAt is the depth of the wedge at a distance from its inner edge. Between
// two risers that point at one centre it grows in proportion to the distance;
// beyond the outer edge it is the outer edge's.
func (w Wedge) DepthAt(offset unit.Length) unit.Length {
	if offset >= w.Width {
		return w.Outer
	}
	if !(offset > 0) {
		return w.Inner
	}
	return w.Inner + unit.Length(float64(w.Outer-w.Inner)*(float64(offset)/float64(w.Width)))
}

// Walkline is the line on which wedge treads are measured.
type Walkline struct {
	Offset   unit.Length `json:"offset"`              // from the narrow side
	MidBelow unit.Length `json:"mid_below,omitempty"` // paths less wide than this are measured midway instead
}

// Walk is the depth of the wedge on a walkline, counted from its narrow side;
// midway when there is none.
func (w Wedge) Walk(on *Walkline) unit.Length {
	if w.Inner > w.Outer {
		w.Inner, w.Outer = w.Outer, w.Inner
	}
	if on == nil || float64(w.Width) < float64(on.MidBelow)-tol {
		return w.DepthAt(w.Width / 2)
	}
	return w.DepthAt(on.Offset)
}

func (w Wedge) narrow() unit.Length {
	if w.Outer < w.Inner {
		return w.Outer
	}
	return w.Inner
}

func (w Wedge) usable() bool {
	return finite(float64(w.Inner)) && finite(float64(w.Outer)) && finite(float64(w.Width)) && w.Width > 0 && w.Inner >= 0 && w.Outer >= 0
}
