package slopewright

import (
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/stair"
)

// A limit of the plan's own is told of where a step more of it leaves a quarter less to
// dig, and no less than two or three barrows: what it saves must be worth changing it for. Bounds of our own.
const (
	heldShare = 0.25
	heldLeast = 0.1 * unit.CubicMeter
)

// mostMade is the most made ground that is ever proposed: three hand-tamped lifts. What
// stands higher settles, and is somebody's to design who can look at it. Common practice.
const mostMade = 3 * defaultMaxRaise

// HeldBack says which limits of the plan's own the digging hangs on: a sentence for each
// that, a step wider, leaves at least a quarter less to dig, with how much. Each is
// fitted anew, by itself, for the least digging. A step is a tamped lift of made ground, up
// to three lifts; half as deep a cut again, but no deeper than is usual; half an inch or
// 10 mm of riser; an inch or 25 mm of tread, each to a whole one. What a rule set allows
// is not passed, nor is a limit missed that the plan meets. Nothing is said of a plan with
// its own layout, or of one that will not do.
func HeldBack(p Plan) []string {
	if len(p.Steps.Fixed) > 0 {
		return nil
	}
	base, err := digsLeast(p)
	if err != nil {
		return nil
	}
	var out []string
	w := base.words
	for _, x := range base.wider() {
		if x.to == nil {
			continue
		}
		wide := p
		x.set(&wide.Steps, x.to)
		m, err := digsLeast(wide)
		if err != nil || m.stops() > base.stops() {
			continue
		}
		less := base.total.Cut - m.total.Cut
		if less < heldLeast || float64(less) < heldShare*float64(base.total.Cut) {
			continue
		}
		s := x.says + " " + w.length(x.to.Length) + " instead of " + w.length(x.from) + " (" + x.field + ") would leave " + w.volume(m.total.Cut) +
			" to dig, " + number(100*float64(less/base.total.Cut), 0) + " % less"
		if more := m.total.Fill - base.total.Fill; more > heldLeast/10 {
			s += ", with " + w.volume(m.total.Fill) + " of tamped earth under the steps instead of " + w.volume(base.total.Fill)
			if brought := m.balance.BorrowBank; brought > heldLeast/10 {
				s += ", for which " + w.volume(brought) + " in the bank is brought"
			}
		}
		out = append(out, s+".")
	}
	return out
}

// digsLeast is a plan fitted for the least digging, and all that follows from it.
func digsLeast(p Plan) (*maker, error) {
	p.Steps.Prefer = "digging"
	return reckon(p)
}

// stops is how many limits the plan misses.
func (m *maker) stops() (n int) {
	for _, f := range m.findings() {
		if f.Severity == "stop" {
			n++
		}
	}
	return n
}

// wider is a limit a step wider; to is nil where it is wide enough.
type wider struct {
	says, field string
	from        unit.Length
	to          *Length
	set         func(*Steps, *Length)
}

func (m *maker) wider() []wider {
	s := m.plan.Steps
	lift := m.either(4*unit.Inch, defaultMaxRaise)
	raised := m.maxRaise + lift
	if m.maxRaise == defaultMaxRaise { // 4 in, to a person who thinks in inches
		raised = 2 * lift
	}
	all := []wider{
		{"Ground made up by up to", "max_raise", m.maxRaise, ownLength(raised, raised <= mostMade+10*unit.Millimeter),
			func(s *Steps, to *Length) { s.MaxRise = to }},
		{"Digging up to", "max_cut", m.maxCut, nil, func(s *Steps, to *Length) { s.MaxCut = to }},
	}
	if m.maxCut < defaultMaxCut {
		mark := m.either(unit.Inch, 10*unit.Millimeter)
		deep := unit.Length(math.Ceil(1.5*float64(m.maxCut/mark)-1e-6)) * mark
		if deep > defaultMaxCut {
			deep = defaultMaxCut
		}
		all[1].to = ownLength(deep, true)
	}
	// The rule set narrows what the plan asks for when it is read.
	if r := s.Riser; r != nil && r.Max != nil {
		mark := m.either(unit.Inch/2, 10*unit.Millimeter)
		high := unit.Length(math.Floor(float64(m.limits.RiserMax/mark)+1+1e-6)) * mark
		all = append(all, wider{"Risers of up to", "riser.max", m.limits.RiserMax, ownLength(high, m.allowed(func(s *Steps) { s.Riser = nil }).RiserMax >= high),
			func(s *Steps, to *Length) { s.Riser = &Between{Min: r.Min, Max: to} }})
	}
	if t := s.Tread; t != nil && t.Min != nil {
		mark := m.either(unit.Inch, 25*unit.Millimeter)
		low := unit.Length(math.Ceil(float64(m.limits.TreadMin/mark)-1-1e-6)) * mark
		all = append(all, wider{"Treads from", "tread.min", m.limits.TreadMin, ownLength(low, low >= m.allowed(func(s *Steps) { s.Tread = nil }).TreadMin && low > 0),
			func(s *Steps, to *Length) { s.Tread = &Between{Min: to, Max: t.Max} }})
	}
	return all
}

// allowed are the limits of the plan without one of its wishes.
func (m *maker) allowed(without func(*Steps)) stair.Limits {
	p := m.plan
	without(&p.Steps)
	var x maker
	x.read(p) // as the plan was read
	return x.limits
}

func ownLength(l unit.Length, ok bool) *Length {
	if !ok {
		return nil
	}
	return &Length{Length: l}
}
