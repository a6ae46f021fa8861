package slopewright

import (
	"math"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// wet is the orchard path with rain on 40 m by 25 m of pasture above it.
func wet(t *testing.T, change func(*Water)) Result {
	t.Helper()
	return changed(t, "gentle", func(p *Plan) {
		p.Water = &Water{Length: Metres(40), Width: Metres(25), Rain: Metres(0.045), Years: 10, Cover: "pasture"}
		change(p.Water)
	})
}

// By hand: 45 mm/h on 1000 m² of pasture on silt loam, 0.42 of it, is 5.25 l/s. It runs
// in a swale 300 mm wide with sides of 2 to 1, n 0.05, falling 2 %, as deep as Manning's
// formula says, and 100 mm are left above it.
func TestWaterByHand(t *testing.T) {
	r := wet(t, func(*Water) {})
	sound(t, r)
	w := r.Water
	if math.Abs(w.Flow-0.045/3600*1000*0.42) > 1e-12 || w.Coefficient != 0.42 {
		t.Fatalf("%+v", w)
	}
	y := w.Runs.Meters()
	a, p := (0.3+2*y)*y, 0.3+2*y*math.Sqrt(5)
	if q := a * math.Pow(a/p, 2.0/3) * math.Sqrt(0.02) / 0.05; math.Abs(q-w.Flow) > 1e-9 {
		t.Errorf("%v deep carries %v, want %v", y, q, w.Flow)
	}
	if d := w.Depth - w.Runs; d < 100*unit.Millimeter-1e-9 || d > 110*unit.Millimeter {
		t.Errorf("%v deep for %v of water", w.Depth, w.Runs)
	}
	if want := float64(w.Bottom+2*w.Depth) * float64(w.Depth) * 25; math.Abs(float64(w.Bank)-want) > 1e-9 {
		t.Errorf("%v dug, want %v", w.Bank, want)
	}
	dry := makeDemo(t, "gentle")
	if d := r.Dig.CutBank - dry.Dig.CutBank - w.Bank; math.Abs(float64(d)) > 1e-9 {
		t.Errorf("the swale is not in the digging: %v more", d)
	}
	if f := finding(r, "water"); !strings.Contains(f.Says, "5.25 l/s") {
		t.Errorf("%+v", f)
	}
	if finding(r, "water-outlet").Says == "" || finding(dry, "water").Says == "" || dry.Water != nil {
		t.Error("cautions of water are missing")
	}
}

// More rain takes a deeper swale or a wider pipe; a pipe is taken off, stone and all;
// what nothing carries is said.
func TestLeadingOff(t *testing.T) {
	small, big := wet(t, func(*Water) {}), wet(t, func(w *Water) { w.Rain = Metres(0.2) })
	if big.Water.Depth <= small.Water.Depth || big.Water.Carries < big.Water.Flow {
		t.Errorf("%+v, %+v", small.Water, big.Water)
	}
	pipe := wet(t, func(w *Water) { w.Drain = "pipe" })
	sound(t, pipe)
	if pipe.Water.Carries < pipe.Water.Flow || pipe.Water.Diameter != 100*unit.Millimeter {
		t.Errorf("%+v", pipe.Water)
	}
	items := map[string]bool{}
	for _, i := range pipe.Takeoff {
		items[i.Item] = true
	}
	if !items["drain-pipe"] || !items["drain-stone"] {
		t.Error("the drain is not taken off")
	}
	flood := wet(t, func(w *Water) {
		w.Drain, w.Length, w.Width, w.Rain, w.Fall = "pipe", Metres(1000), Metres(1000), Metres(0.3), &Slope{Ratio: 0.001}
	})
	if f := finding(flood, "water-too-much"); f.Severity != "stop" {
		t.Errorf("%+v", f)
	}
	if f := finding(flood, "drain-flat"); f.Rule == "" {
		t.Error("a flat drain is not said")
	}
	steep := wet(t, func(w *Water) { w.Rain, w.Fall = Metres(0.1), &Slope{Ratio: 0.2} })
	if f := finding(steep, "water-scours"); !strings.Contains(f.Says, "m/s") {
		t.Errorf("%+v", steep.Findings)
	}
	if none := wet(t, func(w *Water) { w.Drain = "none" }); none.Water.Bank != 0 || none.Water.Flow == 0 {
		t.Errorf("%+v", none.Water)
	}
}
