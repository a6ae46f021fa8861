package materials

import (
	"fmt"
	"sort"
	"strconv"

	"github.com/martinlindhe/unit"
)

// Item ids of lights. Price lists use the same words.
const (
	ItemLight          = "light"
	ItemLightCable     = "light-cable"
	ItemLightConnector = "light-connector"
	ItemTransformer    = "transformer"
)

// OhmsPerMetre is the resistance of one conductor by length.
type OhmsPerMetre float64

const perThousandFeet = OhmsPerMetre(1 / 304.8)

// Cable is a two-wire copper cable.
type Cable struct {
	// Gauge is the American wire gauge; a larger one is thinner.
	Gauge    int
	Stranded bool
	// Resistance of one conductor at 75 °C.
	Resistance OhmsPerMetre
	// CircularMils is the conductor's area in the trade's measure, 0 where not
	// known.
	CircularMils int
	Source       string
	FromMemory   bool
}

// Customary is the conductor's resistance by the trade's formula with K = 12.9
// ohm circular mils a foot, and 0 where the area is not known.
func (c Cable) Customary() OhmsPerMetre {
	if c.CircularMils <= 0 {
		return 0
	}
	return OhmsPerMetre(12.9 / float64(c.CircularMils) / 0.3048)
}

// Cables returns the cables known, thinnest first, solid before stranded.
// Landscape cable is stranded. The caller may change the slice.
func Cables() []Cable {
	var list []Cable
	for _, r := range []struct {
		gauge           int
		solid, stranded OhmsPerMetre
		cmil            int
	}{
		{18, 7.77, 7.95, 0}, {16, 4.89, 4.99, 2580}, {14, 3.07, 3.14, 4110}, {12, 1.93, 1.98, 6530}, {10, 1.21, 1.24, 10380}, {8, 0.764, 0.778, 16510},
	} {
		c := Cable{Gauge: r.gauge, Resistance: r.solid * perThousandFeet, CircularMils: r.cmil,
			Source: "NEC Chapter 9, Table 8, uncoated copper, direct current, 75 °C", FromMemory: true}
		list = append(list, c)
		c.Stranded, c.Resistance = true, r.stranded*perThousandFeet
		list = append(list, c)
	}
	return list
}

// CableByGauge returns the cable of that gauge and whether there is one.
func CableByGauge(gauge int, stranded bool) (Cable, bool) {
	for _, c := range Cables() {
		if c.Gauge == gauge && c.Stranded == stranded {
			return c, true
		}
	}
	return Cable{}, false
}

// SpreadLights places lights from one station to another, equally and no
// further apart than most, one at each end: the top landing wants one (IRC
// R303.8, from memory). At most 1000; nil for what is no length.
func SpreadLights(from, to, most unit.Length) []unit.Length {
	a, b, m := from.Meters(), to.Meters(), most.Meters()
	if !finite(a) || !finite(b) || !finite(m) || !(m > 0) || b < a || (b-a)/m > 999 {
		return nil
	}
	if a == b {
		return []unit.Length{from}
	}
	n := spaces(b-a, m)
	at := make([]unit.Length, n+1)
	for i := range at {
		at[i] = unit.Length(a + float64((b-a)*float64(i))/float64(n))
	}
	at[n] = to
	return at
}

// Lamp is one light on a cable.
type Lamp struct {
	// At is its distance along the cable from the transformer.
	At    unit.Length
	Power unit.Power
}

// Lights is one run of cable with lamps on it. [DefaultLights] gives one to
// start from.
type Lights struct {
	Lamps []Lamp
	Cable Cable
	// Supply is the transformer's voltage, Least what the lamps must get.
	Supply, Least unit.Voltage
	// Loading is the part of a transformer's size that may be used.
	Loading float64
	// Slack is cable added at each lamp for its connection.
	Slack unit.Length
	Waste float64
}

// DefaultLights is lamps of the power at the distances on stranded 12-gauge
// cable at 12 V.
//
// Sources: 10.5 V at the lamp, a transformer loaded to four fifths, 12 in of
// cable at each lamp, 5 % waste: common practice, from memory.
func DefaultLights(at []unit.Length, each unit.Power) Lights {
	cable, _ := CableByGauge(12, true)
	l := Lights{Cable: cable, Supply: 12 * unit.Volt, Least: 10.5 * unit.Volt, Loading: 0.8, Slack: 12 * inch, Waste: 0.05}
	for _, a := range at {
		l.Lamps = append(l.Lamps, Lamp{At: a, Power: each})
	}
	return l
}

func (l Lights) check() Faults {
	var f Faults
	if len(l.Lamps) == 0 {
		f.Add("lamps", "", "is empty", "give at least one lamp")
	}
	if len(l.Lamps) > 1000 {
		f.Add("lamps", strconv.Itoa(len(l.Lamps)), "is more than 1000 lamps", "split the run")
		return f
	}
	for i, lamp := range l.Lamps {
		c := &checker{fmt.Sprintf("lamps[%d].", i), &f}
		c.length("at", lamp.At, 0, 10*unit.Kilometer)
		c.number("power", lamp.Power.Watts(), 0.01, 10000)
	}
	c := below("", &f)
	c.number("cable.resistance", float64(l.Cable.Resistance), 1e-6, 10)
	c.number("supply", l.Supply.Volts(), 1, 1000)
	c.number("least", l.Least.Volts(), 0, 1000)
	c.number("loading", l.Loading, 0.05, 1)
	c.length("slack", l.Slack, 0, 100*unit.Meter)
	c.number("waste", l.Waste, 0, 1)
	return f
}

// LampVoltage is what one lamp gets.
type LampVoltage struct {
	At            unit.Length
	Drop, Voltage unit.Voltage
}

// Voltages works the run out section by section, lamps in order of distance:
// each section carries the currents of the lamps beyond it, and drops twice its
// length (there and back) times the resistance. A lamp's current is fixed, its
// power over the supply.
//
// The error is a [Faults].
func (l Lights) Voltages() ([]LampVoltage, error) {
	if f := l.check(); len(f) > 0 {
		return nil, f
	}
	return l.voltages(), nil
}

func (l Lights) voltages() []LampVoltage {
	lamps := append([]Lamp(nil), l.Lamps...)
	sort.SliceStable(lamps, func(i, j int) bool { return lamps[i].At < lamps[j].At })
	supply := l.Supply.Volts()
	beyond := make([]float64, len(lamps)+1)
	for i := len(lamps) - 1; i >= 0; i-- {
		beyond[i] = beyond[i+1] + lamps[i].Power.Watts()/supply
	}
	out := make([]LampVoltage, len(lamps))
	drop, from := 0.0, 0.0
	for i, lamp := range lamps {
		drop += float64(2 * (lamp.At.Meters() - from) * beyond[i] * float64(l.Cable.Resistance))
		from = lamp.At.Meters()
		out[i] = LampVoltage{At: lamp.At, Drop: unit.Voltage(drop), Voltage: unit.Voltage(supply - drop)}
	}
	return out
}

// transformerSizes are what the trade sells, in VA, from memory.
var transformerSizes = [...]float64{45, 60, 100, 120, 150, 200, 300, 600, 900, 1200}

// TransformerSize is the smallest usual transformer of which the load takes no
// more than the part, and how many of the largest where one will not do. Sizes
// are VA, given as watts, from memory.
func TransformerSize(load unit.Power, loading float64) (size unit.Power, n int) {
	w := load.Watts()
	if !(w > 0) || !(loading > 0) || !finite(w) || w/loading > 1e9 {
		return 0, 0
	}
	for _, s := range transformerSizes {
		if w <= s*loading*(1+1e-9) {
			return unit.Power(s), 1
		}
	}
	largest := transformerSizes[len(transformerSizes)-1]
	return unit.Power(largest), spaces(w, largest*loading)
}

// Items is what the run takes, and its checks.
//
// The error is a [Faults].
func (l Lights) Items() ([]Item, []Check, error) {
	if f := l.check(); len(f) > 0 {
		return nil, nil, f
	}
	volts := l.voltages()
	last := volts[len(volts)-1]
	n := len(l.Lamps)
	load := 0.0
	for _, lamp := range l.Lamps {
		load += lamp.Power.Watts()
	}
	cable := last.At.Meters() + float64(float64(n)*l.Slack.Meters())
	size, transformers := TransformerSize(unit.Power(load), l.Loading)
	items := []Item{
		{ID: ItemLight, Need: Quantity{Count: n}, Order: Quantity{Count: n}},
		{ID: ItemLightCable, Need: Quantity{Length: unit.Length(cable)}, Waste: l.Waste, Order: Quantity{Length: unit.Length(cable * (1 + l.Waste))},
			Note: fmt.Sprintf("two-wire, %d gauge, buried 6 in (NEC Table 300.5, from memory)", l.Cable.Gauge)},
		{ID: ItemLightConnector, Need: Quantity{Count: n}, Order: Quantity{Count: n}, Note: "one a lamp, for direct burial"},
		{ID: ItemTransformer, Need: Quantity{Count: transformers}, Order: Quantity{Count: transformers}, Note: fmt.Sprintf("%s VA for a load of %s W", showFloat(size.Watts()), showFloat(load))},
	}
	checks := []Check{
		Check{Name: "lamp-voltage", Limit: Amount{Of: OfVoltage, Voltage: l.Least}, Actual: Amount{Of: OfVoltage, Voltage: last.Voltage}, AtLeast: true,
			Says: "at the last lamp", Source: "common practice: 10.5 to 12 V at a 12 V lamp", Remembered: true}.check(),
		Check{Name: "supply-voltage", Limit: Amount{Of: OfVoltage, Voltage: 30 * unit.Volt}, Actual: Amount{Of: OfVoltage, Voltage: l.Supply},
			Says: "low-voltage lighting", Source: "NEC Article 411", Remembered: true}.check(),
		Check{Name: "transformer-load", Limit: Amount{Of: OfPower, Power: unit.Power(size.Watts() * l.Loading * float64(transformers))}, Actual: Amount{Of: OfPower, Power: unit.Power(load)},
			Says: "the lamps against the part of the transformer that may be used", Source: "common practice: four fifths of its size", Remembered: true}.check(),
	}
	return items, checks, nil
}

// ThinnestCable is the thinnest known cable, solid or stranded as the run's
// is, with which every lamp gets the least voltage; false where none will do.
//
// The error is a [Faults].
func (l Lights) ThinnestCable() (Cable, bool, error) {
	if f := l.check(); len(f) > 0 {
		return Cable{}, false, f
	}
	for _, c := range Cables() {
		if c.Stranded != l.Cable.Stranded {
			continue
		}
		try := l
		try.Cable = c
		v := try.voltages()
		if v[len(v)-1].Voltage.Volts() >= l.Least.Volts()-1e-9 {
			return c, true, nil
		}
	}
	return Cable{}, false, nil
}
