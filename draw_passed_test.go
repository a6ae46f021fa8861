package slopewright

import (
	"strings"
	"testing"
)

// A landing or a flight of a layout of one's own that passes a limit is marked in the section.
func TestPassedLimitsAreMarkedInTheSection(t *testing.T) {
	for rules, want := range map[string]string{"irc-2021": "! landing 700 mm", "garden": "! 4 × 500 mm", "trail-timber": ""} {
		p, err := ReadPlan([]byte(`{"format": "slopewright.plan/1", "units": "metric", "path": {"width": "1.2 m"}, "ground": {"method": "levels", "readings": [
			{"at": 0, "level": 0}, {"at": "2 m", "level": "0.5 m"}, {"at": "4.5 m", "level": "1.1 m"}, {"at": "6 m", "level": "1.6 m"}]},
			"steps": {"rules": "` + rules + `", "fixed": [{"kind": "box", "risers": 5, "tread": "500 mm", "landing": "700 mm"}, {"kind": "box", "risers": 6, "tread": "660 mm"}]}}`))
		if err != nil {
			t.Fatal(err)
		}
		r, err := Make(p)
		if err != nil {
			t.Fatal(err)
		}
		svg := r.Draw(Drawing{Name: "section", Width: 900})
		if !strings.Contains(svg, want) || want == "" && strings.Contains(svg, ">! ") {
			t.Errorf("%s: not %q, or other marks", rules, want)
		}
		if strings.Contains(svg, ">Passes a limit<") != (want != "") {
			t.Errorf("%s: the key does not explain the marks there are", rules)
		}
		if svg = Language("es").Result(r, p).Draw(Drawing{Name: "section", Width: 900}); want != "" && !strings.Contains(svg, "! ") || strings.Contains(svg, "! landing") || strings.Contains(svg, ">Pasa de un límite<") != (want != "") {
			t.Errorf("%s: not so in Spanish", rules)
		}
	}
}

// Where the title leaves no room above the staff, its unit stands beside it.
func TestStaffNamesItsUnitOnTheNarrowestPage(t *testing.T) {
	for name, want := range map[string]string{"earth": ">m<", "offer": ">ft<"} {
		r := makeDemo(t, name)
		for _, width := range []float64{320, 326, 340, 400} {
			if svg := r.Draw(Drawing{Name: "section", Width: width}); !strings.Contains(svg, want) {
				t.Errorf("%s, %g px: no %s", name, width, want)
			}
		}
	}
}
