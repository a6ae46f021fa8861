package slopewright

import (
	"math"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/stair"
)

// Certainty is how well the plan is known from its readings: ± figures that
// hold nineteen times in twenty when the readings are as good as their
// accuracy says.
type Certainty struct {
	Riser   unit.Length `json:"riser" doc:"± of the riser height"`
	CutBank unit.Volume `json:"cut_bank" doc:"± of the cut"`
	Fill    unit.Volume `json:"fill_compacted" doc:"± of the fill"`
	Errors  int         `json:"errors" doc:"readings whose errors were tried"`
	Says    string      `json:"says"`
}

// maxErrors bounds the work: each error is a survey and a dig.
const maxErrors = 1000

// certainty tries a full error of each reading in turn and adds what it makes
// of the plan in squares. The layout stays as it is staked, its treads as
// planned; the risers share what the rise turns out to be. Steps that stand are
// taken to be where they were levelled.
func (m *maker) certainty() *Certainty {
	n := m.readings.Errors()
	if n > maxErrors {
		return nil
	}
	base, ok := m.outcomeOf(m.survey)
	if !ok {
		return nil
	}
	c := Certainty{Errors: n}
	var riser, cut, fill float64
	e := make([]float64, n)
	for i := range e {
		for _, sign := range []float64{1, -1} {
			e[i] = sign
			s, err := m.readings.With(e).Survey()
			if err != nil {
				continue // out of order, say: try the other way
			}
			x, ok := m.outcomeOf(s)
			if !ok {
				continue
			}
			riser += square(x.riser - base.riser)
			cut += square(x.cut - base.cut)
			fill += square(x.fill - base.fill)
			break
		}
		e[i] = 0
	}
	c.Riser = unit.Length(math.Sqrt(riser))
	c.CutBank = unit.Volume(math.Sqrt(cut))
	c.Fill = unit.Volume(math.Sqrt(fill))
	c.Says = "From readings as good as their accuracy, nineteen times in twenty: risers known to " + m.words.give(c.Riser) +
		", digging to ±" + m.words.volume(c.CutBank) + "."
	if m.unseen() {
		c.Says = "From readings as good as their accuracy, nineteen times in twenty: risers known to " + m.words.give(c.Riser) +
			". The digging is not known from two numbers."
	}
	return &c
}

func square(x float64) float64 { return float64(x * x) }

// outcome is what the plan comes to on one ground.
type outcome struct{ riser, cut, fill float64 }

// outcomeOf lays the layout as staked on another survey of the same hill.
func (m *maker) outcomeOf(s earthwork.Survey) (outcome, bool) {
	g := reaching(s.Ground, m.foot.Station, m.head.Station)
	level := func(e End, station unit.Length) (unit.Length, bool) {
		if e.Level != nil {
			return e.Level.Length, true
		}
		return g.LevelAt(station)
	}
	foot, ok1 := level(m.plan.Path.Foot, m.foot.Station)
	lay := stair.Lay
	if m.layout.FirstStands {
		// The steps that stand were levelled by themselves, and are where they are.
		foot, ok1, lay = m.foot.Level, true, stair.LayBehind
	}
	head, ok2 := level(m.plan.Path.Head, m.head.Station)
	if !ok1 || !ok2 {
		return outcome{}, false
	}
	l, err := lay(m.layout.Foot, stair.Point{Station: m.layout.Head.Station, Level: head - foot}, m.layout.Wash, flightsOf(m.layout))
	if err != nil {
		return outcome{}, false
	}
	_, total, _, err := m.digOn(g.Shift(m.foot.Station, foot), l)
	if err != nil {
		return outcome{}, false
	}
	return outcome{l.Riser.Meters(), total.Cut.CubicMeters(), total.Fill.CubicMeters()}, true
}

// reaching lengthens a ground to stations a little beyond its ends, at the
// grades it ends with: an error in a station may leave it that much short.
func reaching(g earthwork.Ground, from, to unit.Length) earthwork.Ground {
	p := g.Points()
	n := len(p)
	extend := func(end, inner earthwork.Point, station unit.Length) earthwork.Point {
		grade := float64(end.Level-inner.Level) / float64(end.Station-inner.Station)
		return earthwork.Point{Station: station, Level: end.Level + unit.Length(grade*float64(station-end.Station)), Crossfall: end.Crossfall}
	}
	if p[n-1].Station < to {
		p = append(p, extend(p[n-1], p[n-2], to+unit.Millimeter))
	}
	if p[0].Station > from {
		p = append([]earthwork.Point{extend(p[0], p[1], from-unit.Millimeter)}, p...)
	}
	longer, err := earthwork.NewGround(p)
	if err != nil {
		return g
	}
	return longer
}
