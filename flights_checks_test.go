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
