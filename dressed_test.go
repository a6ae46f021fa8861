//go:build !js || whole

package slopewright

import (
	"math"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
)

// Timber that is dressed otherwise than the tables say: a plan with sizes in its
// stock is the plan with a section of that size, but for the name.
func TestDressedSizesOfTheStock(t *testing.T) {
	for _, c := range []struct{ build, stock, other string }{
		{`{"timber": "6x6"}`, `{"section": "6x6", "length": "2.4 m", "thickness": "125 mm", "width": "130 mm"}, {"section": "6x6", "length": "3 m"}`, "125x130"},
		{`{"timber": "6x6", "on_edge": true, "face": "2x6"}`, `{"section": "6x6", "length": "3 m", "width": "150 mm", "thickness": "5 in"}`, "127x150"},
	} {
		of := func(name, stock string) Result {
			p := strings.Replace(handPlan, "BUILD", `, "build": `+strings.ReplaceAll(c.build, "6x6", name), 1)
			return handMadeFrom(t, strings.Replace(p, `{"section": "100x200", "length": "3 m", "price": "30.00"}`, stock, 1))
		}
		plain := c.stock
		for _, size := range []string{`, "thickness": "125 mm", "width": "130 mm"`, `, "width": "150 mm", "thickness": "5 in"`} {
			plain = strings.ReplaceAll(plain, size, "")
		}
		a, b, tables := of("6x6", c.stock), of(c.other, strings.ReplaceAll(plain, "6x6", c.other)), of("6x6", plain)
		if a.Build.Box.Course != b.Build.Box.Course || a.Build.Box.Breadth != b.Build.Box.Breadth || a.Build.Box.Course == tables.Build.Box.Course {
			t.Errorf("courses of %v and %v, of the other section %v and %v, of the tables %v", a.Build.Box.Course, a.Build.Box.Breadth, b.Build.Box.Course, b.Build.Box.Breadth, tables.Build.Box.Course)
		}
		if a.Dig.CutBank != b.Dig.CutBank || len(a.Build.Dressed) != 1 || a.Build.Dressed[0].Section != "6x6" || len(b.Build.Dressed) != 0 {
			t.Errorf("dug %v, with the other section %v; %+v", a.Dig.CutBank, b.Dig.CutBank, a.Build.Dressed)
		}
		if len(a.CutPlan.Boards) == 0 || len(a.CutPlan.Boards) != len(b.CutPlan.Boards) {
			t.Errorf("%d boards, with the other section %d", len(a.CutPlan.Boards), len(b.CutPlan.Boards))
		}
		for i := range a.Takeoff {
			x, y := a.Takeoff[i], b.Takeoff[i]
			if x.Item != y.Item || (x.Volume != nil && math.Abs(float64(*x.Volume-*y.Volume)) > 1e-12) {
				t.Errorf("%+v, with the other section %+v", x, y)
			}
		}
	}
}

// A framed flight is reckoned and drawn with the sizes of the stock.
func TestDressedSizesOfAFlight(t *testing.T) {
	_, was, _ := readDemo(t, "testdata/plans/terrace.json")
	p := patchedPlan(t, "terrace", `{"stock": [{"section": "6x6", "length": "12 ft"}, {"section": "2x12", "length": "12 ft", "thickness": "1.4 in", "width": "11 in"}]}`)
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	if len(was.Build.Framed) == 0 || len(r.Build.Framed) == 0 {
		t.Fatal("no framed flight")
	}
	depth := func(r Result) string {
		for _, c := range r.Build.Framed[0].Checks {
			if c.Rule == "framed-stringer-depth" {
				return c.Actual
			}
		}
		return ""
	}
	if depth(was) != "11 1/4 in" || depth(r) != "11 in" {
		t.Errorf("stringers %s deep, of the tables %s", depth(r), depth(was))
	}
	if d := r.frame(r.Build.Framed[0]).Depth; math.Abs(d-(11*unit.Inch).Meters()) > 1e-12 {
		t.Errorf("drawn %v m deep", d)
	}
}
