package earthwork

import (
	"math"
	"testing"

	"github.com/martinlindhe/unit"
)

func TestPublishedWater(t *testing.T) {
	var v struct {
		About  string
		Runoff []struct {
			ID, Source                         string
			Coefficient, Inches, Acres, Cfs    float64
			Millimetres, Hectares, M3s, Within float64
		}
		Channels []struct {
			ID, Source                       string
			Bottom, Depth, Side, Grade       float64
			Roughness, Area, Perimeter, Flow float64
			Within                           float64
		}
	}
	readVectors(t, "water.json", &v)
	if len(v.Runoff) < 3 || len(v.Channels) < 3 {
		t.Fatal("too few read")
	}
	for _, r := range v.Runoff {
		intensity, area := r.Inches*0.0254/3600, r.Acres*4046.8564224
		if r.Millimetres > 0 {
			intensity, area = r.Millimetres*1e-3/3600, r.Hectares*1e4
		}
		q, err := Runoff(unit.Speed(intensity), Surface{r.Coefficient, unit.Area(area)})
		if err != nil {
			t.Fatal(err)
		}
		if r.Cfs > 0 && !near(q.CubicFeetPerSecond()/(43560.0/12/3600), r.Cfs, r.Within*r.Cfs) || r.M3s > 0 && !near(q.CubicMetersPerSecond(), r.M3s, r.Within) {
			t.Errorf("%s: %v", r.ID, q)
		}
	}
	for _, r := range v.Channels {
		c := Channel{unit.Length(r.Bottom), unit.Length(r.Depth), r.Side, r.Grade, r.Roughness}
		q, err := c.Flow()
		if err != nil {
			t.Fatal(err)
		}
		if !near(c.Area().SquareMeters(), r.Area, 1e-5) || !near(c.Perimeter().Meters(), r.Perimeter, 1e-5) || !near(float64(q), r.Flow, r.Within) {
			t.Errorf("%s: area %v perimeter %v flow %v", r.ID, c.Area(), c.Perimeter(), q)
		}
		depth, err := c.DepthFor(q)
		if err != nil || !near(float64(depth), r.Depth, 1e-12) {
			t.Errorf("%s: runs %v deep, %v", r.ID, depth, err)
		}
		speed, err := c.Velocity()
		if err != nil || !near(float64(speed), r.Flow/r.Area, 1e-3) {
			t.Errorf("%s: %v %v", r.ID, speed, err)
		}
	}
}

func TestRunoffAddsSurfacesUp(t *testing.T) {
	rain := unit.Speed(50e-3 / 3600)
	a, b := Surface{0.3, 100}, Surface{0.8, 40}
	q, err := Runoff(rain, a, b)
	if err != nil || !near(q.LitersPerSecond(), 62.0*50/3600, 1e-12) {
		t.Errorf("%v %v", q.LitersPerSecond(), err)
	}
	if q, err := Runoff(rain); q != 0 || err != nil {
		t.Errorf("%v %v", q, err)
	}
	nan := math.NaN()
	_, err = Runoff(unit.Speed(nan), Surface{nan, -1}, Surface{1.1, unit.Area(math.Inf(1))})
	wantFault(t, "runoff", err, "intensity", "surfaces[0].coefficient", "surfaces[0].area", "surfaces[1].coefficient", "surfaces[1].area")
	_, err = Runoff(1, make([]Surface, 1001)...)
	wantFault(t, "many", err, "intensity", "surfaces")
}

func TestRunoffCoefficients(t *testing.T) {
	for _, r := range RunoffCoefficients() {
		if !(r.Low > 0 && r.Low <= r.High && r.High < 1) || r.Source == "" || r.Cover == "" || r.To != 0 && r.To <= r.From {
			t.Errorf("%+v", r)
		}
	}
	for _, r := range []struct {
		cover, ground string
		slope         float64
		low, high     float64
		beyond, ok    bool
	}{
		{"lawn", "sandy", 0.019, 0.05, 0.10, false, true},
		{"lawn", "sandy", 0.02, 0.10, 0.15, false, true},
		{"lawn", "heavy", 3, 0.25, 0.35, false, true},
		{"woodland", "silt-loam", 0.05, 0.35, 0.35, false, true},
		{"woodland", "tight-clay", 0.3, 0.60, 0.60, false, true},
		{"pasture", "sandy-loam", 0.31, 0.22, 0.22, true, true},
		{"cultivated", "tight-clay", 0, 0.60, 0.60, false, true},
		{"roof", "", 1, 0.75, 0.95, false, true},
		{"moon", "", 1, 0, 0, false, false},
		{"lawn", "", 1, 0, 0, false, false},
		{"lawn", "sandy", math.NaN(), 0, 0, false, false},
		{"lawn", "sandy", -1, 0, 0, false, false},
	} {
		c, beyond, ok := RunoffCoefficientOf(r.cover, r.ground, r.slope)
		if c.Low != r.low || c.High != r.high || beyond != r.beyond || ok != r.ok {
			t.Errorf("%+v: %+v %v %v", r, c, beyond, ok)
		}
	}
	for _, r := range Roughnesses() {
		if !(r.Low > 0.005 && r.Low <= r.High && r.High < 1) || r.Source == "" || r.ID == "" || r.Name == "" {
			t.Errorf("%+v", r)
		}
	}
}

func TestChannels(t *testing.T) {
	// The water of a depth found runs at that flow, deeper for more.
	for i, r := range rands(51, 300) {
		c := Channel{Bottom: unit.Length(r.Float64()), Side: 3 * r.Float64(), Grade: 1e-4 + 0.3*r.Float64(), Roughness: 0.01 + 0.2*r.Float64()}
		q := Flow(1e-6 + 2*r.Float64()*r.Float64())
		depth, err := c.DepthFor(q)
		if err != nil {
			t.Fatal(err)
		}
		c.Depth = depth
		got, err := c.Flow()
		if err != nil || !near(float64(got), float64(q), 1e-12*float64(q)) {
			t.Fatalf("%d: %v at %v of %+v, want %v, %v", i, got, depth, c, q, err)
		}
		more, err := c.DepthFor(q * 1.01)
		if err != nil || more <= depth {
			t.Fatalf("%d: %v then %v, %v", i, depth, more, err)
		}
	}
	// A pipe is as a channel of its wetted size: a square one of plumb sides, not wet above.
	p := Pipe{Diameter: 0.1, Grade: 0.01, Roughness: 0.01}
	q, err := p.Flow()
	if want := math.Pi / 4 * 0.01 * math.Pow(0.025, 2.0/3) * 0.1 / 0.01; err != nil || !near(float64(q), want, 1e-12) {
		t.Errorf("%v %v, want %v", q, err, want)
	}
	nan := unit.Length(math.NaN())
	_, err = Channel{nan, nan, -1, 0, math.Inf(1)}.Flow()
	wantFault(t, "channel", err, "bottom", "depth", "side", "grade", "roughness")
	_, err = Channel{0, 1, 0, 2, 0}.Velocity()
	wantFault(t, "channel", err, "bottom", "grade", "roughness")
	_, err = Channel{Grade: -1, Roughness: 0.03}.DepthFor(Flow(math.NaN()))
	wantFault(t, "depth", err, "bottom", "grade", "flow")
	_, err = Channel{Bottom: 0.1, Grade: 1e-6, Roughness: 1}.DepthFor(1e6)
	wantFault(t, "depth", err, "flow")
	_, err = Pipe{nan, 0, 0}.Flow()
	wantFault(t, "pipe", err, "diameter", "grade", "roughness")
}

func TestWaterCautions(t *testing.T) {
	loam, _ := SoilByID("loam")
	swale := Channel{Bottom: 0.2, Depth: 0.1, Side: 2, Grade: 0.01, Roughness: 0.03}
	full, err := swale.Flow()
	if err != nil {
		t.Fatal(err)
	}
	wantCautions(t, "full", must(CheckChannel(swale, full, loam)))
	wantCautions(t, "more than full", must(CheckChannel(swale, full*1.001, loam)), "water-too-much")
	steep := swale
	steep.Grade = 0.05
	full, _ = steep.Flow()
	wantCautions(t, "scours", must(CheckChannel(steep, full, loam)), "water-scours")
	rock, _ := SoilByID("rock")
	wantCautions(t, "rock", must(CheckChannel(steep, full, rock)))
	_, err = CheckChannel(Channel{}, -1, loam)
	wantFault(t, "channel", err, "bottom", "depth", "grade", "roughness", "flow")
	wantCautions(t, "dry", must(CheckChannel(swale, 0, loam)))
	_, err = CheckChannel(swale, -1, loam)
	wantFault(t, "flow", err, "flow")

	pipe := Pipe{0.1, 0.0015, 0.011}
	q, _ := pipe.Flow()
	wantCautions(t, "pipe", must(CheckPipe(pipe, q)))
	wantCautions(t, "pipe", must(CheckPipe(pipe, q*1.01)), "water-too-much")
	pipe.Grade = 0.00149
	wantCautions(t, "flat", must(CheckPipe(pipe, 0)), "drain-flat")
	_, err = CheckPipe(Pipe{}, -1)
	wantFault(t, "pipe", err, "diameter", "grade", "roughness", "flow")
}
