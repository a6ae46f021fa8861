package slopewright

import (
	"math"
	"slices"
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/materials"
)

// Edging is strip along the path's sides.
type Edging struct {
	_          [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Side       string    `json:"side,omitempty" one:"both left right" doc:"looking uphill; default both"`
	Piece      *Length   `json:"piece,omitempty" range:"[0.1,30]" doc:"length of one strip; default sold by length"`
	StakeEvery *Length   `json:"stake_every,omitempty" range:"[0,10]" doc:"most between stakes, 0 is none; default 3 ft or 1 m"`
}

// Lights is one run of low-voltage lights along the path.
type Lights struct {
	_     [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Every Length    `json:"every" need:"true" range:"[0.3,50]" doc:"write the most between two lights: there is one at each end of the path"`
	Watts *float64  `json:"watts,omitempty" range:"[0.1,500]" doc:"of one light; default 3"`
	Gauge int       `json:"gauge,omitempty" range:"[8,18]" doc:"of the two-wire cable, stranded copper, American gauge; default 12"`
	Volts *float64  `json:"volts,omitempty" range:"[5,30]" doc:"of the transformer; default 12"`
	Least *float64  `json:"least_volts,omitempty" range:"[0,30]" doc:"that each light must get; default 10.5 of 12, seven eighths"`
	From  string    `json:"from,omitempty" one:"foot head" doc:"the end that the transformer stands at; default head"`
	Lead  *Length   `json:"lead,omitempty" range:"[0,500]" doc:"cable from the transformer to the first light; default none"`
}

// readFittings holds edging and lights against the tables.
func (m *maker) readFittings(all *Faults) {
	l := m.plan.Build.Lights
	if l == nil {
		return
	}
	if l.Gauge != 0 {
		if _, ok := materials.CableByGauge(l.Gauge, true); !ok {
			all.Add("build.lights.gauge", strconv.Itoa(l.Gauge), "is not a gauge in the tables", "write 8, 10, 12, 14, 16 or 18")
		}
	}
	if v := numberOr(l.Volts, 12); l.Least != nil && *l.Least >= v {
		all.Add("build.lights.least_volts", number(*l.Least, 3), "is not less than the transformer's "+number(v, 3), "write what a light needs")
	}
}

// fit adds edging and lights to the take-off.
func (m *maker) fit(t *materials.Takeoff) error {
	b := m.plan.Build
	if e := b.Edging; e != nil {
		left, right := m.edges()
		runs := []unit.Length{left, right}
		switch e.Side {
		case "left":
			runs = runs[:1]
		case "right":
			runs = runs[1:]
		}
		items, err := materials.Edging{
			Runs: runs, Piece: lengthOr(e.Piece, 0), StakeEvery: lengthOr(e.StakeEvery, m.either(3*unit.Foot, unit.Meter)),
			Waste: slopeOr(b.Waste.Edging, 0.05), Words: m.words.length,
		}.Items()
		if err != nil {
			return under("build.edging", err)
		}
		t.Items = append(t.Items, items...)
	}
	if b.Lights != nil {
		return under("build.lights", m.light(t))
	}
	return nil
}

// edges is how long the path's sides are, along the ground: on a bend the
// outside is longer than the inside.
func (m *maker) edges() (left, right unit.Length) {
	left, right = m.layout.Run, m.layout.Run
	for _, b := range m.bends {
		more := (b.To - b.From) * m.section.Width / (2 * b.Radius)
		if b.Right {
			more = -more
		}
		left, right = left-more, right+more
	}
	climb := float64(m.layout.Rise)
	along := func(x unit.Length) unit.Length {
		return unit.Length(math.Sqrt(float64(x*x) + float64(climb*climb)))
	}
	return along(left), along(right)
}

// light sets the lights out, from foot to head, and says what they get.
func (m *maker) light(t *materials.Takeoff) error {
	l := m.plan.Build.Lights
	run := m.layout.Run
	at := materials.SpreadLights(0, run, l.Every.Length)
	slope := math.Sqrt(float64(run*run)+float64(m.layout.Rise*m.layout.Rise)) / float64(run)
	cable := make([]unit.Length, len(at))
	for i, x := range at {
		if l.From != "foot" {
			x = run - x
		}
		cable[i] = lengthOr(l.Lead, 0) + unit.Length(slope*float64(x))
	}
	lights := materials.DefaultLights(cable, unit.Power(numberOr(l.Watts, 3)))
	lights.Supply = unit.Voltage(numberOr(l.Volts, 12))
	lights.Least = unit.Voltage(numberOr(l.Least, float64(lights.Supply)*7/8))
	lights.Slack = m.either(unit.Foot, 300*unit.Millimeter)
	lights.Waste = slopeOr(m.plan.Build.Waste.Cable, lights.Waste)
	if l.Gauge != 0 {
		lights.Cable, _ = materials.CableByGauge(l.Gauge, true)
	}
	items, checks, err := lights.Items()
	if err != nil {
		return err
	}
	t.Items = append(t.Items, items...)
	says := count(len(at), "light", "lights") + " from foot to head, " + m.words.length(run/unit.Length(max(1, len(at)-1))) + " apart"
	for _, c := range checks {
		if c.Name == "lamp-voltage" {
			says += "; the last on the cable gets " + m.words.amount(c.Actual)
		}
		if c.OK {
			continue
		}
		f := m.checkFinding("lights-", c, "lights")
		f.Severity = "warn"
		if thin, ok, _ := lights.ThinnestCable(); c.Name == "lamp-voltage" && ok {
			f.Says += " Cable of " + strconv.Itoa(thin.Gauge) + " gauge would do."
		}
		m.doubts = append(m.doubts, f)
	}
	t.Notes = append(slices.Clip(t.Notes), materials.Note{Item: materials.ItemLight, Says: says})
	return nil
}
