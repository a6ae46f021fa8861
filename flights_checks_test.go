package slopewright

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// A result has every check of its framed flights that was decided, with what was
// reckoned, the limit and its source; those that failed are findings too, with
// the same figures.
func TestFramedChecksInResult(t *testing.T) {
	passed, failed := 0, 0
	doc, err := os.ReadFile(filepath.Join("testdata", "plans", "terrace.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, build := range []string{"", `, "framed": {"stringer": "2x10"}`, `, "framed": {"solid": true, "stringer": "2x8"}`} {
		p, err := ReadPlan([]byte(strings.Replace(string(doc), `{"timber": "6x6"}`, `{"timber": "6x6"`+build+`}`, 1)))
		if err != nil {
			t.Fatal(err)
		}
		r, err := Make(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.Build.Framed {
			where := "flight from riser " + strconv.Itoa(f.First)
			found := map[string]Finding{}
			for _, x := range r.Findings {
				if x.Where == where {
					found[x.Rule] = x
				}
			}
			for _, c := range f.Checks {
				x, ok := found[c.Rule]
				if c.Source == "" || c.Actual == "" || c.Limit == "" || ok == c.OK || (ok && (x.Actual != c.Actual || x.Limit != c.Limit)) {
					t.Errorf("%s: %+v, finding %+v", where, c, x)
				}
				if c.OK {
					passed++
				} else {
					failed++
				}
			}
		}
	}
	if passed < 20 || failed < 2 {
		t.Errorf("%d passed, %d failed", passed, failed)
	}
}

// What a layout of one's own cannot be built of is told by the fields one wrote.
func TestOwnLayoutIsFaultedByItsFields(t *testing.T) {
	const box, flight = `{"kind": "box", "risers": 3, "tread": "300 mm", "landing": "1 m"}`, `{"kind": "framed", "risers": 6, "tread": "480 mm"}`
	for _, c := range []struct{ width, box, flight, field string }{
		{"1.25 m", box, flight, ""},
		{"1.25 m", box, `{"kind": "framed", "risers": 2, "tread": "2.4 m"}`, "steps.fixed[1].tread"},
		{"1.25 m", `{"kind": "box", "risers": 3, "tread": "90 mm", "landing": "1 m"}`, `{"kind": "framed", "risers": 6, "tread": "564 mm"}`, "steps.fixed[0].tread"},
		{"1.25 m", `{"kind": "box", "risers": 3, "tread": "300 mm", "landing": "80 mm"}`, `{"kind": "framed", "risers": 6, "tread": "664 mm"}`, "steps.fixed[0].landing"},
		{"1.25 m", `{"kind": "box", "risers": 3, "tread": "300 mm", "landing": "1 m"}`, `{"kind": "framed", "risers": 41, "tread": "60 mm"}`, "steps.fixed[1].risers steps.fixed[1].tread"},
		{"0.3 m", box, flight, "path.width"},
		{"0.3 m", flight[:len(flight)-1] + `, "landing": "1 m"}`, `{"kind": "box", "risers": 3, "tread": "300 mm"}`, "path.width"},
	} {
		_, faults := answer(t, []byte(`{"format": "slopewright.plan/1", "units": "metric", "path": {"width": "`+c.width+`"}, "ground": {"method": "total", "rise": "1.5 m", "run": "4 m"},
			"steps": {"rules": "own", "kinds": ["box", "framed"], "fixed": [`+c.box+", "+c.flight+`]}}`))
		var fields []string
		for _, f := range faults {
			fields = append(fields, f.Field)
		}
		if got := strings.Join(fields, " "); got != c.field {
			t.Errorf("%s, %s: faults of %q, not %q: %v", c.box, c.flight, got, c.field, faults)
		}
	}
}
