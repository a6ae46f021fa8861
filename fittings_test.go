package slopewright

import (
	"math"
	"strings"
	"testing"
)

// Edging and lights on the plan whose counts are made by hand: a run of 4.4 m that
// climbs 0.72 m, 4.4585 m along the slope.
func TestEdgingAndLights(t *testing.T) {
	const slope = 4.458519934
	r := handMade(t, `{"edging": {"side": "left", "piece": "2 m", "stake_every": "1 m"}, "lights": {"every": "1.5 m", "watts": 12, "gauge": 18, "lead": "10 m", "least_volts": 11}, "waste": {"edging": "10 %", "cable": 0}}`)
	edging := itemOf(t, r, "edging")
	if l := edging.Length.Meters(); math.Abs(l-slope) > 1e-6 || edging.Count != 3 {
		t.Errorf("%v m of edging in %d strips, want %v in 3", l, edging.Count, slope)
	}
	// Spaces of at most 1 m: 5, and a stake more.
	if n := itemOf(t, r, "edging-stake").Count; n != 6 {
		t.Errorf("%d stakes", n)
	}
	if both := handMade(t, `{"edging": {}}`); math.Abs(itemOf(t, both, "edging").Length.Meters()-2*slope) > 1e-6 {
		t.Errorf("%v m of edging on both sides", itemOf(t, both, "edging").Length.Meters())
	}
	// Spaces of at most 1.5 m in 4.4 m: 3, and so 4 lights. Cable to the furthest and
	// 300 mm at each.
	if n := itemOf(t, r, "light").Count; n != 4 {
		t.Errorf("%d lights", n)
	}
	if l := itemOf(t, r, "light-cable").Length.Meters(); math.Abs(l-(10+slope+4*0.3)) > 1e-6 {
		t.Errorf("%v m of cable", l)
	}
	// 7.95 ohm a 1000 ft, there and back: 4 A over 10 m, then 3, 2 and 1 A over a
	// third of the slope each.
	ohms := 7.95 / 304.8
	want := 12 - 2*ohms*(4*10+(3+2+1)*slope/3)
	for _, f := range r.Findings {
		if f.Rule == "lights-lamp-voltage" {
			if f.Severity != "warn" || f.Actual != number(want, 2)+" V" || !strings.Contains(f.Says, "gauge would do") {
				t.Errorf("%+v, want %v V", f, want)
			}
			return
		}
	}
	t.Errorf("%v V at the last lamp, 11 wanted, is no finding", want)
}

// On a bend the outside edge is longer by the turn times the width.
func TestEdgingOnABend(t *testing.T) {
	plan := strings.Replace(strings.Replace(handPlan, "BUILD", `, "build": {"edging": {"side": "SIDE", "stake_every": 0}}`, 1), `{"width": "1.2 m"}`, `{"width": "1.2 m", "bends": [{"at": "1.8 m", "radius": "3 m", "turn": 30}]}`, 1)
	long := func(side string) float64 {
		l := itemOf(t, handMadeFrom(t, strings.Replace(plan, "SIDE", side, 1)), "edging").Length.Meters()
		return math.Sqrt(l*l - 0.72*0.72)
	}
	turn := 30 * math.Pi / 180
	for side, sign := range map[string]float64{"left": 1, "right": -1} {
		if got, want := long(side), 4.4+sign*turn*0.6; math.Abs(got-want) > 1e-6 {
			t.Errorf("%s: %v m on the level, want %v", side, got, want)
		}
	}
}

// What a framed flight is made of where the plan names no section: in a metric plan the
// smallest of its stock in millimetres that is no smaller than the inch size, and no more
// than a third larger; in any other, and where the inch size is in the stock, that one.
func TestFramedFlightsOfTheStock(t *testing.T) {
	const stock = `{"section":"100x200","length":"3 m"},{"section":"6x6","length":"3 m"},{"section":"45x290","length":"4.8 m"},{"section":"45x195","length":"4.8 m"},{"section":"45x190","length":"4.8 m"},{"section":"75x150","length":"3 m"}`
	for _, c := range []struct{ units, stock, framed, want string }{
		{"metric", stock, ``, "45x290 2x6 45x190"},
		{"metric", stock + `,{"section":"2x12","length":"4.8 m"}`, ``, "2x12 2x6 45x190"},
		{"metric", stock, `"stringer":"4x12","joist":"45x195"`, "4x12 2x6 45x195"},
		{"metric", strings.Replace(stock, `"4.8 m"`, `"4.8 m","on_hand":1`, 1), ``, "2x12 2x6 45x190"},
		{"imperial", stock, ``, "2x12 2x6 2x8"},
	} {
		p, err := ReadPlan([]byte(`{"format":"slopewright.plan/1","units":"` + c.units + `","ground":{"method":"total","rise":"2 m","run":"4 m"},"path":{"width":"1.2 m"},"steps":{"kinds":["framed"]},"build":{"framed":{` + c.framed + `}},"stock":[` + c.stock + `]}`))
		if err != nil {
			t.Fatal(err)
		}
		var m maker
		if err := m.read(p); err != nil {
			t.Fatal(err)
		}
		if got := m.framed.Stringer.Name + " " + m.framed.Tread.Name + " " + m.framed.Joist.Name; got != c.want {
			t.Errorf("%s %s: %s, not %s", c.units, c.framed, got, c.want)
		}
	}
}
