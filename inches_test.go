//go:build !js || whole

package slopewright

import (
	"strings"
	"testing"
)

// TestSoldInInches: a plan in millimetres whose framed flights are of the usual sections
// says so where it shops; not of sections that are its own, nor in feet.
func TestSoldInInches(t *testing.T) {
	doc := strings.Replace(string(demo(t, "terrace")), `"imperial"`, `"metric"`, 1)
	told := func(doc string) string {
		t.Helper()
		p, err := ReadPlan([]byte(doc))
		if err != nil {
			t.Fatal(err)
		}
		r, err := Make(p)
		if err != nil {
			t.Fatal(err)
		}
		if spanish := strings.Join(Language("es").Result(r, p).Bill.Notes, " "); strings.Contains(spanish, "inches") || strings.Contains(spanish, "timber") {
			t.Errorf("in Spanish: %q", spanish)
		}
		for _, n := range r.Bill.Notes {
			if strings.HasPrefix(n, "Sold and named in inches: ") {
				if sheet := string(r.Sheet(SheetOptions{Plan: &p})); !strings.Contains(sheet, "Sold and named in inches: ") {
					t.Error("the shopping list does not say so")
				}
				return n
			}
		}
		return ""
	}
	if n := told(doc); !strings.Contains(n, "2x12 (38 mm by 286 mm; next 47 mm by 295 mm)") || !strings.Contains(n, "6x6 (140 mm by 140 mm; next 145 mm by 145 mm)") || !strings.Contains(n, "1x8 (19 mm by 184 mm)") {
		t.Errorf("said: %q", n)
	}
	own := strings.Replace(doc, `"build": {"timber": "6x6"}`, `"build": {"timber": "100x200", "framed": {"stringer": "45x290", "board": "45x145", "decking": "45x145", "riser_board": "20x195",
		"post": "120x120", "beam": "45x195", "joist": "45x195", "guard_post": "90x90", "guard_rail": "45x95", "baluster": "45x45", "handrail": "45x45"}}`, 1)
	if n := told(own); n != "" {
		t.Errorf("of its own sections: %q", n)
	}
	if n := told(string(demo(t, "terrace"))); n != "" {
		t.Errorf("in feet: %q", n)
	}
}
