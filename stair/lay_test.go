package stair

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

func TestLay(t *testing.T) {
	l, err := Lay(Point{10, 100}, Point{15.2, 101.304}, 0.02, []FixedFlight{
		{Kind: Box, Risers: 4, Tread: 0.4, Landing: 1.6},
		{Risers: 6, Tread: 0.48},
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := l.Validate(); err != nil {
		t.Fatal(err)
	}
	near(t, "riser", float64(l.Riser), (1.304-0.104)/10, 1e-12)
	want := []struct {
		x, level, tread float64
		landing         bool
	}{
		{10, 100.12, 0.4, false}, {10.4, 100.248, 0.4, false}, {10.8, 100.376, 0.4, false}, {11.2, 100.504, 1.6, true},
		{12.8, 100.656, 0.48, false}, {13.28, 100.7856, 0.48, false}, {13.76, 100.9152, 0.48, false},
		{14.24, 101.0448, 0.48, false}, {14.72, 101.1744, 0.48, false}, {15.2, 101.304, 0, false},
	}
	for i, s := range l.Steps {
		w := want[i]
		near(t, "station", float64(s.Station), w.x, 1e-9)
		near(t, "level", float64(s.Level), w.level, 1e-9)
		near(t, "tread", float64(s.Tread), w.tread, 1e-9)
		if s.Riser != i+1 || s.Landing != w.landing {
			t.Errorf("step %d: %+v", i, s)
		}
	}
	if len(l.Landings) != 1 || l.Landings[0].After != 4 {
		t.Errorf("landings %+v", l.Landings)
	}
	for _, c := range []struct {
		x, want float64
		riser   int
		ok      bool
	}{
		{10, 100.12, 1, true}, {10.39, 100.1278, 1, true}, {12, 100.52, 4, true}, {12.8, 100.656, 5, true}, {15.2, 101.304, 10, true},
		{9.99, 0, 0, false}, {15.21, 0, 10, false}, {math.NaN(), 0, -1, false},
	} {
		y, ok := l.SurfaceAt(unit.Length(c.x))
		if ok != c.ok || (ok && math.Abs(float64(y)-c.want) > 1e-9) {
			t.Errorf("surface at %v: %v %v, want %v %v", c.x, y, ok, c.want, c.ok)
		}
		if k := l.RiserAt(unit.Length(c.x)); c.riser >= 0 && k != c.riser {
			t.Errorf("riser at %v: %d, want %d", c.x, k, c.riser)
		}
	}
}

// TestLayTakesUpAMillimetre: what a tape can't measure goes into the last
// landing, or is shared by the treads of a single flight.
func TestLayTakesUpAMillimetre(t *testing.T) {
	l, err := Lay(Point{}, Point{4.0009, 1}, 0, []FixedFlight{{Risers: 3, Tread: 0.5, Landing: 1.5}, {Risers: 4, Tread: 0.5}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "landing", float64(l.Landings[0].Depth), 1.5009, 1e-12)
	if l.Flights[1].Tread != 0.5 || l.Flights[0].Tread != 0.5 {
		t.Errorf("treads %+v", l.Flights)
	}
	l, err = Lay(Point{}, Point{4.0009, 1}, 0, []FixedFlight{{Risers: 9, Tread: 0.5}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tread", float64(l.Flights[0].Tread), 4.0009/8, 1e-12)
}

func TestLayFaults(t *testing.T) {
	ok := []FixedFlight{{Risers: 3, Tread: 0.5, Landing: 1.5}, {Risers: 4, Tread: 0.5}}
	foot, head := Point{}, Point{4, 1}
	for _, c := range []struct {
		name       string
		foot, head Point
		wash       float64
		flights    []FixedFlight
		fields     []string
		says       string
	}{
		{"no flights", foot, head, 0, nil, []string{"flights"}, "is empty"},
		{"downhill", head, foot, 0, ok, []string{"head.station", "head.level"}, "not above"},
		{"too short", foot, Point{4.5, 1}, 0, ok, []string{"flights"}, "500 mm (1 ft 7 11/16 in) short of the head; a landing of 2.000 m"},
		{"too long", foot, Point{3.9, 1}, 0, ok, []string{"flights"}, "100 mm (3 15/16 in) beyond the head; a landing of 1.400 m"},
		{"one flight", foot, head, 0, []FixedFlight{{Risers: 6, Tread: 0.5}}, []string{"flights"}, "treads of 800 mm"},
		{"wash climbs it all", foot, Point{4, 0.08}, 0.02, ok, []string{"wash"}, "leaves nothing for risers"},
		{"all at once", Point{unit.Length(math.NaN()), 0}, head, -1, []FixedFlight{{Kind: "rope", Risers: 0, Tread: -1, Landing: 0}, {Risers: 2, Tread: 0, Landing: 1}},
			[]string{"foot.station", "wash", "flights[0].kind", "flights[0].risers", "flights[0].tread", "flights[0].landing", "flights[1].tread", "flights[1].landing"}, ""},
	} {
		_, err := Lay(c.foot, c.head, c.wash, c.flights)
		var f Faults
		if !errors.As(err, &f) {
			t.Errorf("%s: error %v", c.name, err)
			continue
		}
		var fields []string
		for _, e := range f {
			if !slices.Contains(fields, e.Field) {
				fields = append(fields, e.Field)
			}
			if e.Fix == "" && c.name != "no flights" && e.Problem == "" {
				t.Errorf("%s: %+v says nothing", c.name, e)
			}
		}
		for _, want := range c.fields {
			if !slices.Contains(fields, want) {
				t.Errorf("%s: no fault at %s in %v", c.name, want, fields)
			}
		}
		if !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: does not say %q: %v", c.name, c.says, err)
		}
	}
}

// TestValidateSeesWhatIsWrong breaks a layout in one place at a time.
func TestValidateSeesWhatIsWrong(t *testing.T) {
	fresh := func() Layout {
		l, err := Lay(Point{}, Point{4, 1.08}, 0.02, []FixedFlight{{Risers: 3, Tread: 0.5, Landing: 1.5}, {Risers: 4, Tread: 0.5}})
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	if l := fresh(); l.Validate() != nil {
		t.Fatal(l.Validate())
	}
	for name, f := range map[string]func(*Layout){
		"head moved":       func(l *Layout) { l.Head.Station += 0.001 },
		"run":              func(l *Layout) { l.Run += 0.001 },
		"rise":             func(l *Layout) { l.Rise += 0.001 },
		"riser":            func(l *Layout) { l.Riser += 0.0001 },
		"wash":             func(l *Layout) { l.Wash = 0 },
		"risers":           func(l *Layout) { l.Risers++ },
		"none":             func(l *Layout) { *l = Layout{} },
		"no steps":         func(l *Layout) { l.Steps = nil },
		"no flights":       func(l *Layout) { l.Flights = nil },
		"no landings":      func(l *Layout) { l.Landings = nil },
		"flight kind":      func(l *Layout) { l.Flights[1].Kind = "rope" },
		"flight risers":    func(l *Layout) { l.Flights[1].Risers-- },
		"flight tread":     func(l *Layout) { l.Flights[1].Tread += 0.001 },
		"flight start":     func(l *Layout) { l.Flights[1].Start += 0.001 },
		"landing depth":    func(l *Layout) { l.Landings[0].Depth -= 0.001 },
		"landing level":    func(l *Layout) { l.Landings[0].Level -= 0.001 },
		"landing's riser":  func(l *Layout) { l.Landings[0].After = 2 },
		"step station":     func(l *Layout) { l.Steps[5].Station += 0.001 },
		"step level":       func(l *Layout) { l.Steps[5].Level += 0.001 },
		"step tread":       func(l *Layout) { l.Steps[5].Tread += 0.001 },
		"step landing":     func(l *Layout) { l.Steps[5].Landing = true },
		"not a number":     func(l *Layout) { l.Riser = unit.Length(math.NaN()) },
		"last step's step": func(l *Layout) { l.Steps[6].Tread = 0.5 },
	} {
		l := fresh()
		f(&l)
		if l.Validate() == nil {
			t.Errorf("%s: not seen", name)
		}
	}
}

// TestStakeOutRoundsOnce: marks rounded to 1/16 in differ from the true place by
// half of that at most, at the last riser as at the first.
func TestStakeOutRoundsOnce(t *testing.T) {
	l, err := Lay(Point{0.3, 2}, Point{0.3 + 39*0.3333, 2 + 5.4321}, 0, []FixedFlight{{Risers: 40, Tread: 0.3333}})
	if err != nil {
		t.Fatal(err)
	}
	sixteenth := 0.0254 / 16
	round := func(x unit.Length) unit.Length { return unit.Length(math.Round(float64(x)/sixteenth) * sixteenth) }
	for i, m := range l.StakeOut(round) {
		k := float64(i + 1)
		for _, c := range []struct {
			what      string
			got, want float64
		}{
			{"station", float64(m.Station), 0.3 + 0.3333*(k-1)},
			{"from foot", float64(m.FromFoot), 0.3333 * (k - 1)},
			{"from head", float64(m.FromHead), 0.3333 * (40 - k)},
			{"level", float64(m.Level), 2 + k*5.4321/40},
			{"base", float64(m.Base), 2 + (k-1)*5.4321/40},
			{"up", float64(m.Up), k * 5.4321 / 40},
			{"drop", float64(m.Drop), 5.4321 - k*5.4321/40},
		} {
			near(t, c.what, c.got, c.want, sixteenth/2+1e-9)
		}
		if m.Riser != i+1 || m.Kind != Box {
			t.Errorf("mark %+v", m)
		}
	}
	if m := l.StakeOut(nil); m[39].Drop != 0 || m[0].FromFoot != 0 {
		t.Errorf("first %+v, last %+v", m[0], m[39])
	}
}

// TestWalk: with P = 26 in and risers of 6 in, treads of 14, 40 and 66 in take
// one, two and three paces (derived from 2R + T = n·P); with two the same foot
// leads.
func TestWalk(t *testing.T) {
	in := unit.Inch
	for _, c := range []struct {
		tread unit.Length
		paces int
		same  bool
	}{{14 * in, 1, false}, {40 * in, 2, true}, {66 * in, 3, false}} {
		l, err := Lay(Point{}, Point{c.tread*4 + 2*26*in + c.tread, 36 * in}, 0, []FixedFlight{
			{Risers: 3, Tread: c.tread, Landing: c.tread + 2*26*in}, {Risers: 3, Tread: c.tread},
		})
		if err != nil {
			t.Fatal(err)
		}
		w := l.Walk(26 * in)
		for _, f := range w.Flights {
			if f.Paces != c.paces || f.SameFoot != c.same {
				t.Errorf("treads of %v: %+v", c.tread, f)
			}
			near(t, "off", float64(f.Off), 0, 1e-12)
		}
		if g := w.Landings[0]; g.Paces != 2 || g.After != 3 || math.Abs(float64(g.Off)) > 1e-12 {
			t.Errorf("landing %+v", g)
		}
	}
}
