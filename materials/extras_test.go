package materials

import (
	"math"
	"testing"

	"github.com/martinlindhe/unit"
)

func feet(x ...float64) []unit.Length {
	var list []unit.Length
	for _, f := range x {
		list = append(list, unit.Length(f)*foot)
	}
	return list
}

// NEC Chapter 9 Table 8 and the trade's K = 12.9: one load at the end of 100
// ft, and four lamps of 5 W spread along it.
func TestVoltageDrop(t *testing.T) {
	for _, c := range []struct {
		gauge        int
		table, trade float64
	}{{12, 1.930, 1.975}, {10, 1.210, 1.243}} {
		cable, ok := CableByGauge(c.gauge, false)
		if !ok {
			t.Fatal(c.gauge)
		}
		l := DefaultLights(feet(100), 60*unit.Watt)
		l.Cable = cable
		v, err := l.Voltages()
		if err != nil {
			t.Fatal(err)
		}
		wants(t, "drop", v[0].Drop.Volts(), c.table, 0.0005)
		l.Cable.Resistance = cable.Customary()
		v, _ = l.Voltages()
		wants(t, "drop, K = 12.9", v[0].Drop.Volts(), c.trade, 0.0006)
	}
	l := DefaultLights(feet(100, 25, 75, 50), 5*unit.Watt) // in any order
	l.Cable, _ = CableByGauge(12, false)
	v, err := l.Voltages()
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0.1608, 0.2815, 0.3619, 0.4021} {
		wants(t, "drop", v[i].Drop.Volts(), want, 0.00005)
		wants(t, "at", v[i].At.Meters(), 25*float64(i+1)*0.3048, 1e-12)
	}
	wants(t, "last lamp", v[3].Voltage.Volts(), 11.598, 0.0005)
	// Stranded rows are about 2.5 % higher.
	for _, c := range Cables() {
		if c.Stranded {
			solid, _ := CableByGauge(c.Gauge, false)
			if f := float64(c.Resistance / solid.Resistance); f < 1.015 || f > 1.03 || c.Source == "" {
				t.Errorf("gauge %d: stranded is %v times solid", c.Gauge, f)
			}
		}
	}
}

func TestLightItems(t *testing.T) {
	at := SpreadLights(0, unit.Length(100)*foot, unit.Length(30)*foot)
	if len(at) != 5 || at[4] != unit.Length(100)*foot || !near(at[1].Meters(), 25*0.3048, 1e-12) {
		t.Fatalf("%v", at)
	}
	items, checks, err := DefaultLights(at, 5*unit.Watt).Items()
	if err != nil {
		t.Fatal(err)
	}
	// 5 lamps, 100 ft and five feet of slack; 25 W, four fifths of 45 VA is 36.
	if items[0].Need.Count != 5 || !near(items[1].Need.Length.Meters(), 105*0.3048, 1e-9) || items[2].Need.Count != 5 || items[3].Need.Count != 1 {
		t.Errorf("%+v", items)
	}
	for _, c := range checks {
		if !c.OK || c.Source == "" {
			t.Errorf("%+v", c)
		}
	}
	for _, c := range []struct {
		watts float64
		size  float64
		n     int
	}{{36, 45, 1}, {36.1, 60, 1}, {80, 100, 1}, {960, 1200, 1}, {961, 1200, 2}, {0, 0, 0}, {math.NaN(), 0, 0}, {math.Inf(1), 0, 0}} {
		if s, n := TransformerSize(unit.Power(c.watts), 0.8); s.Watts() != c.size || n != c.n {
			t.Errorf("%v W: %d of %v VA", c.watts, n, s)
		}
	}
	// 60 W at the end of 100 ft: stranded 14 gives 12 − 3.14 = 8.86, 12 gives
	// 10.02, 10 gives 10.76.
	l := DefaultLights(feet(100), 60*unit.Watt)
	if c, ok, err := l.ThinnestCable(); err != nil || !ok || c.Gauge != 10 {
		t.Errorf("%+v %v %v", c, ok, err)
	}
	if _, checks, _ := l.Items(); checks[0].OK {
		t.Errorf("%+v", checks[0])
	}
	l.Lamps[0].At = unit.Length(1000) * foot
	if _, ok, _ := l.ThinnestCable(); ok {
		t.Error("some cable carries 60 W over 1000 ft")
	}
	for _, bad := range []unit.Length{unit.Length(math.NaN()), unit.Length(math.Inf(1)), 0, -1} {
		if SpreadLights(0, unit.Meter, bad) != nil {
			t.Errorf("spread at %v", bad)
		}
	}
}

func TestConcreteBags(t *testing.T) {
	bag := Bags()[0]
	for ft3, want := range map[float64]int{0: 0, 0.59: 1, 0.6: 1, 0.61: 2, 6: 10, 27: 45} {
		if got := ConcreteBags(unit.Volume(ft3)*cubicFoot, bag); got != want {
			t.Errorf("%v ft³: %d bags, want %d", ft3, got, want)
		}
	}
	if ConcreteBags(1, Bag{}) != 0 || ConcreteBags(unit.Volume(math.NaN()), bag) != 0 || ConcreteBags(-1, bag) != 0 {
		t.Error("bags of nothing")
	}
}

// Two edges of 12.5 m in strips of 2.5 m with a stake a metre: 25 m are 10
// strips, 13 spaces and so 14 stakes a side; 10 % more is 27.5 m, 11 strips.
func TestEdging(t *testing.T) {
	items, err := Edging{Runs: []unit.Length{12.5, 0, 12.5}, Piece: 2.5, StakeEvery: 1, Waste: 0.1}.Items()
	if err != nil {
		t.Fatal(err)
	}
	if e := items[0]; e.Need.Count != 10 || e.Order.Count != 11 || !near(e.Need.Length.Meters(), 25, 1e-12) || !near(e.Order.Length.Meters(), 27.5, 1e-12) {
		t.Errorf("%+v", e)
	}
	if s := items[1]; s.Need.Count != 28 || s.Order.Count != 31 {
		t.Errorf("%+v", s)
	}
	if items, err := (Edging{}).Items(); err != nil || items != nil {
		t.Errorf("no edging: %v %v", items, err)
	}
	for field, e := range map[string]Edging{
		"runs[0]":     {Runs: []unit.Length{-1}},
		"piece":       {Runs: []unit.Length{1}, Piece: unit.Length(math.NaN())},
		"stake_every": {Runs: []unit.Length{1}, StakeEvery: 1e-9},
		"waste":       {Waste: 2},
		"runs":        {Runs: make([]unit.Length, 1001)},
	} {
		_, err := e.Items()
		wantFault(t, err, field)
	}
}

// 100 ft of the usual drain: 1 ft by 12.5 in of trench less the pipe of 4.5 in:
// 100 · (12 · 12.5 − π/4 · 4.5²)/144 = 93.12 ft³; fabric 2 · 24.5 + 6 = 55 in
// around: 458.3 ft².
func TestDrain(t *testing.T) {
	d := DefaultDrain(unit.Length(100)*foot, in(6))
	items, checks, err := d.Items()
	if err != nil {
		t.Fatal(err)
	}
	wants(t, "stone", items[1].Need.Volume.CubicMeters()/math.Pow(0.3048, 3), 93.12, 0.005)
	wants(t, "fabric", items[2].Need.Area.SquareMeters()/(0.3048*0.3048), 458.33, 0.005)
	if items[0].ID != ItemDrainPipe || items[3].Need.Count != 1 || !checks[0].OK {
		t.Errorf("%+v %+v", items, checks)
	}
	d.Fall = in(1)
	if _, checks, _ := d.Items(); checks[0].OK {
		t.Errorf("an inch in 100 ft: %+v", checks[0])
	}
	for field, with := range map[string]func(*Drain){
		"length": func(d *Drain) { d.Length = 0 },
		"pipe":   func(d *Drain) { d.Pipe = unit.Length(math.NaN()) },
		"width":  func(d *Drain) { d.Width = in(3) },
		"stone":  func(d *Drain) { d.Stone = Aggregate{} },
		"fall":   func(d *Drain) { d.Fall = -1 },
	} {
		bad := DefaultDrain(10, 1)
		with(&bad)
		_, _, err := bad.Items()
		wantFault(t, err, field)
	}
}

func TestLightFaults(t *testing.T) {
	for field, with := range map[string]func(*Lights){
		"lamps":            func(l *Lights) { l.Lamps = nil },
		"lamps[0].at":      func(l *Lights) { l.Lamps[0].At = -1 },
		"lamps[0].power":   func(l *Lights) { l.Lamps[0].Power = unit.Power(math.Inf(1)) },
		"cable.resistance": func(l *Lights) { l.Cable = Cable{} },
		"supply":           func(l *Lights) { l.Supply = 0 },
		"loading":          func(l *Lights) { l.Loading = 0 },
	} {
		l := DefaultLights(feet(10), 5*unit.Watt)
		with(&l)
		_, err := l.Voltages()
		wantFault(t, err, field)
	}
}
