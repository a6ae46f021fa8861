//go:build !js || whole

package slopewright

import (
	"strconv"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/draw"
)

// haulCurve plots the mass-haul curve: what the digging has to spare, or wants,
// from the foot up to each station.
func (r Result) haulCurve() (draw.Chart, bool) {
	if len(r.Haul.Curve) == 0 {
		return draw.Chart{}, false
	}
	c := draw.Chart{
		Title: "Mass haul", Curve: true,
		Desc:  "Mass-haul curve: loose earth cut less earth filled, from the foot up to each step.",
		Above: "Over nought the steps below have earth to spare; where the line climbs more is cut than filled.",
	}
	along, volume := r.chartLength(), r.chartVolume()
	c.XName, c.YName = "From the foot, "+along.name, "Cut less filled so far, loose, "+volume.name
	r.sayChart(&c)
	c.Points = append(c.Points, draw.ChartPoint{X: 0, Y: 0})
	for _, p := range r.Haul.Curve {
		x := draw.ChartPoint{X: p.Station.Meters() / along.of, Y: p.Cumulative.CubicMeters() / volume.of}
		if p.Riser == 1 || p.Riser%5 == 0 {
			x.Mark = strconv.Itoa(p.Riser)
		}
		c.Points = append(c.Points, x)
	}
	return c, true
}

// choicesPlot sets the choices by what they dig and the hours they take.
func (r Result) choicesPlot() (draw.Chart, bool) {
	if len(r.Choices) == 0 {
		return draw.Chart{}, false
	}
	volume := r.chartVolume()
	c := draw.Chart{
		Title: "Layouts to choose between",
		Desc:  "The layouts that nothing else beats on digging, hours, cost and walking at once, by what they dig and the person-hours they take.",
		XName: "To dig, in the bank, " + volume.name, YName: "Person-hours, likely",
		Above: "Further to the left is less to dig, further down is less time; money and walking are in the list.",
	}
	r.sayChart(&c)
	for i, x := range r.Choices {
		c.Points = append(c.Points, draw.ChartPoint{X: x.CutBank.CubicMeters() / volume.of, Y: float64(x.Hours), Mark: draw.Letter(i), Text: r.say(x.Says)})
	}
	return c, true
}

// sayChart puts what stands around a chart into the result's language.
func (r Result) sayChart(c *draw.Chart) {
	for _, t := range []*string{&c.Title, &c.Desc, &c.XName, &c.YName, &c.Above, &c.Below} {
		*t = r.say(*t)
	}
	c.Words = draw.In(draw.English(), r.say)
}

// chartUnit is a unit that an axis is in.
type chartUnit struct {
	name string
	of   float64 // in SI
}

func (r Result) chartLength() chartUnit {
	if r.words().imperial {
		return chartUnit{"ft", unit.Foot.Meters()}
	}
	return chartUnit{"m", 1}
}

func (r Result) chartVolume() chartUnit {
	if r.words().imperial {
		return chartUnit{"cu yd", unit.CubicYard.CubicMeters()}
	}
	return chartUnit{"m³", 1}
}
