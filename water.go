package slopewright

import (
	"math"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/materials"
)

// Water is the rain that the hill sends down to the path, and what leads it off
// across the hill above the head.
type Water struct {
	_           [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Length      Length    `json:"length" need:"true" range:"(0,1000]" doc:"write how far up the hill the ground reaches that drains to the path"`
	Width       Length    `json:"width" need:"true" range:"(0,1000]" doc:"write how broad that ground is, across the hill"`
	Rain        Length    `json:"rain" need:"true" range:"(0,1]" doc:"write the rain of one hour in the storm to be safe against, such as 50 mm or 2 in: a figure of the weather service"`
	Years       int       `json:"years,omitempty" range:"[1,1000]" doc:"that storm comes once in so many years, on the mean"`
	Cover       string    `json:"cover,omitempty" one:"lawn woodland pasture cultivated unimproved paving roof" doc:"what the ground is covered with; default lawn"`
	Slope       *Slope    `json:"slope,omitempty" range:"[0,10]" doc:"how steep it is; default as the path"`
	Coefficient *float64  `json:"coefficient,omitempty" range:"(0,1]" doc:"part of the rain that runs off at once; default the highest of the tables for cover, slope and soil"`
	Drain       string    `json:"drain,omitempty" one:"swale pipe none" doc:"what leads it off; default swale"`
	Run         *Length   `json:"run,omitempty" range:"(0,500]" doc:"how long that is, to where the water may be let go; default width"`
	Fall        *Slope    `json:"fall,omitempty" range:"[0.001,0.5]" doc:"its fall along its length; default 2 %"`
	Bottom      *Length   `json:"bottom,omitempty" range:"[0,5]" doc:"breadth of the swale's bottom; default 12 in or 300 mm"`
	Side        *float64  `json:"side,omitempty" range:"[0.5,10]" doc:"how far the swale's sides lean out, horizontal per vertical; default 2"`
}

// WaterResult is what runs down to the path, and what leads it off. Flows are m³/s.
type WaterResult struct {
	_           [0]func()   // not comparable, which spares code: see DEVELOPERS.md
	Area        unit.Area   `json:"area" doc:"that drains to the path"`
	Coefficient float64     `json:"coefficient" doc:"part of the rain that runs off at once"`
	Flow        float64     `json:"flow" doc:"m³/s in the storm, by the rational method"`
	Drain       string      `json:"drain" doc:"swale, pipe or none"`
	Length      unit.Length `json:"length,omitempty"`
	Fall        float64     `json:"fall,omitempty" doc:"per length"`
	Bottom      unit.Length `json:"bottom,omitempty" doc:"of the swale"`
	Top         unit.Length `json:"top,omitempty"`
	Depth       unit.Length `json:"depth,omitempty" doc:"to dig; of a pipe, its trench"`
	Runs        unit.Length `json:"runs,omitempty" doc:"how deep the water runs in the swale when it is overgrown"`
	Diameter    unit.Length `json:"diameter,omitempty" doc:"of the pipe, inside"`
	Carries     float64     `json:"carries,omitempty" doc:"m³/s when full"`
	Bank        unit.Volume `json:"bank,omitempty" doc:"dug for it, part of dig.cut_bank"`
	Says        []string    `json:"says"`
	Source      string      `json:"source"`
}

const (
	defaultFall     = 0.02 // common practice
	defaultSide     = 2.0  // common practice: what a mower goes over is flatter still
	grownRoughness  = 0.050
	bareRoughness   = 0.022
	pipeRoughness   = 0.011
	pipeWall        = 6 * unit.Millimeter // of smooth drain pipe, common practice
	gallonPerMinute = 3.785411784e-3 / 60
)

// pipeSizes are those drains come in, inside.
var pipeSizes = [...]unit.Length{0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5}

// flow writes a flow: litres a second, or gallons a minute.
func (w words) flow(q float64) string {
	if w.imperial {
		x := q / gallonPerMinute
		return number(x, decimals(x)) + " gal a minute"
	}
	return number(1000*q, decimals(1000*q)) + " l/s"
}

// coefficient is the part of the rain that runs off, from the tables.
func (m *maker) coefficient(w *Water, slope float64) (c float64, source string) {
	if w.Coefficient != nil {
		return *w.Coefficient, "this plan"
	}
	cover, ground := textOr(w.Cover, "lawn"), ""
	light := m.soil.Family() == "sand" || m.soil.ID == "gravel"
	switch cover {
	case "lawn":
		if ground = "heavy"; light {
			ground = "sandy"
		}
	case "woodland", "pasture", "cultivated":
		switch {
		case light:
			ground = "sandy-loam"
		case m.soil.ID == "loam" || m.soil.ID == "topsoil":
			ground = "silt-loam"
		default:
			ground = "tight-clay"
		}
	}
	row, beyond, _ := earthwork.RunoffCoefficientOf(cover, ground, slope)
	source = row.Source
	if beyond {
		source += "; the ground is steeper than its rows: more may run off"
	}
	return row.High, source
}

// leadOff works out the water of the hill, and digs what leads it off.
func (m *maker) leadOff() error {
	w := m.plan.Water
	if w == nil {
		return nil
	}
	area := float64(w.Length.Length) * float64(w.Width.Length)
	c, source := m.coefficient(w, slopeOr(w.Slope, float64(m.layout.Rise)/float64(m.layout.Run)))
	q, err := earthwork.Runoff(unit.Speed(float64(w.Rain.Length)/3600), earthwork.Surface{Coefficient: c, Area: unit.Area(area)})
	if err != nil {
		return under("water", err)
	}
	r := &WaterResult{
		Area: unit.Area(area), Coefficient: c, Flow: float64(q), Drain: textOr(w.Drain, "swale"),
		Source: "rational method, Q = CiA, Schwab et al., Soil and Water Conservation Engineering, 4th ed.; C: " + source + "; Manning's formula: Chow, Open-Channel Hydraulics (from memory)",
	}
	m.water = r
	words := m.words
	s := words.length(w.Rain.Length) + " of rain in an hour"
	if w.Years > 0 {
		s += ", as comes once in " + count(w.Years, "year", "years") + ","
	}
	r.Says = []string{s + " on " + words.area(r.Area) + " sends " + words.flow(r.Flow) + " down to the path: " + words.slope(c) + " of it runs off at once."}
	if r.Drain == "none" {
		return nil
	}
	r.Fall, r.Length = slopeOr(w.Fall, defaultFall), lengthOr(w.Run, w.Width.Length)
	if r.Drain == "pipe" {
		return m.layPipe(r)
	}
	channel := earthwork.Channel{Bottom: lengthOr(w.Bottom, m.either(12*unit.Inch, 300*unit.Millimeter)), Side: numberOr(w.Side, defaultSide), Grade: r.Fall, Roughness: grownRoughness}
	if r.Runs, err = channel.DepthFor(q); err != nil {
		return under("water", err)
	}
	// A hand's breadth to spare, and no less than a shovel makes: common practice.
	mark := m.either(unit.Inch, 10*unit.Millimeter)
	r.Depth = unit.Length(math.Ceil(float64((r.Runs+m.either(4*unit.Inch, 100*unit.Millimeter))/mark)-1e-9)) * mark
	if least := m.either(6*unit.Inch, 150*unit.Millimeter); r.Depth < least {
		r.Depth = least
	}
	r.Bottom = channel.Bottom
	r.Top = r.Bottom + unit.Length(2*channel.Side*float64(r.Depth))
	channel.Depth = r.Depth
	full, err := channel.Flow()
	if err != nil {
		return under("water", err)
	}
	r.Carries = float64(full)
	trench := earthwork.Trench{Depth: r.Depth, Breadth: r.Bottom, Length: r.Length, Batter: channel.Side}
	r.Bank = trench.Volume()
	r.Says = append(r.Says, "A swale across the hill above the head carries it: "+words.length(r.Bottom)+" wide at the bottom, "+words.length(r.Top)+" at the top, "+words.length(r.Depth)+" deep, "+
		words.distance(r.Length)+" long, falling "+words.slope(r.Fall)+". The water then runs "+words.length(words.round(r.Runs))+" deep when it is overgrown.")
	// Bare, on the day it is finished, the water runs faster than later in the grass.
	channel.Roughness = bareRoughness
	m.waterChecks, err = earthwork.CheckChannel(channel, q, m.soil)
	m.digDrain(r.Bank)
	return under("water", err)
}

// layPipe chooses the least pipe that carries the water, and the trench for it.
func (m *maker) layPipe(r *WaterResult) error {
	words := m.words
	pipe := earthwork.Pipe{Grade: r.Fall, Roughness: pipeRoughness}
	for _, d := range pipeSizes {
		pipe.Diameter = d
		q, err := pipe.Flow()
		if err != nil {
			return under("water", err)
		}
		r.Carries = float64(q)
		if r.Carries >= r.Flow {
			break
		}
	}
	var err error
	if m.waterChecks, err = earthwork.CheckPipe(pipe, earthwork.Flow(r.Flow)); err != nil {
		return under("water", err)
	}
	r.Diameter = pipe.Diameter
	d := materials.DefaultDrain(r.Length, unit.Length(r.Fall*float64(r.Length)))
	d.Pipe = pipe.Diameter + 2*pipeWall
	if least := d.Pipe + 2*d.Over; d.Width < least {
		d.Width = least // 6 in of stone all round: UFC 3-270-04, 12.6
	}
	r.Depth = d.Under + d.Pipe + d.Over
	r.Bank = earthwork.Trench{Depth: r.Depth, Breadth: d.Width, Length: r.Length}.Volume()
	m.drain = &d
	r.Says = append(r.Says, "A drain across the hill above the head carries it: a pipe of "+words.length(r.Diameter)+" in stone, in a trench "+words.length(words.round(d.Width))+" wide and "+
		words.length(words.round(r.Depth))+" deep, "+words.distance(r.Length)+" long, falling "+words.slope(r.Fall)+". It takes what soaks in from the ground; a grating or stone to the surface takes the rest.")
	m.digDrain(r.Bank)
	return nil
}

// digDrain reckons what is dug above the head to the last step.
func (m *maker) digDrain(v unit.Volume) {
	s := &m.steps[len(m.steps)-1]
	s.drain += v
	s.CutBank += v
	m.total.Cut += v
}

// drainItems adds a drain's pipe and stone to a take-off.
func (m *maker) drainItems(t materials.Takeoff) (materials.Takeoff, error) {
	if m.drain == nil {
		return t, nil
	}
	items, _, err := m.drain.Items()
	if err != nil {
		return t, under("water", err)
	}
	return materials.Merge(t, materials.Takeoff{Items: items}), nil
}

// checked makes findings of the cautions of package earthwork, with their figures.
// Before is what they are about, where they do not say so themselves.
func (m *maker) checked(before string, found []earthwork.Caution, err error) []Finding {
	if err != nil {
		return nil
	}
	w := m.words
	var out []Finding
	for _, c := range found {
		f := Finding{Severity: "caution", Rule: c.ID, Source: cited(c.Source, c.FromMemory), Limit: w.cautioned(c.Quantity, c.Limit), Actual: w.cautioned(c.Quantity, c.Actual)}
		if c.Severity == earthwork.Stop {
			f.Severity = "stop"
		}
		f.Says = sentence(before + c.Says)
		f.Says = strings.TrimSuffix(f.Says, ".") + " (here " + f.Actual + "; limit " + f.Limit + ")."
		out = append(out, f)
	}
	return out
}

// cautioned writes a figure of a caution.
func (w words) cautioned(q earthwork.Quantity, x float64) string {
	switch q {
	case earthwork.OfLength:
		return w.length(unit.Length(x))
	case earthwork.OfSlope:
		return w.slope(x)
	case earthwork.OfBatter:
		return number(x, 2) + " to 1"
	case earthwork.OfMass:
		return w.mass(unit.Mass(x))
	case earthwork.OfVolume:
		return w.volume(unit.Volume(x))
	case earthwork.OfFlow:
		return w.flow(x)
	case earthwork.OfSpeed:
		if w.imperial {
			return number(x/0.3048, 1) + " ft a second"
		}
		return number(x, 1) + " m/s"
	}
	return strconv.FormatFloat(x, 'g', 3, 64)
}
