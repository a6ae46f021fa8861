package slopewright

import (
	"regexp"
	"strings"
	"testing"
)

// A bank that steps fit when it may be dug or made up a little more.
const bankPlan = `{"format": "slopewright.plan/1", "units": "metric",
	"ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": 2, "level": 0.2}, {"at": 4, "level": 1.9}, {"at": 6, "level": 2}, {"at": 8, "level": 2.1}]},
	"path": {"width": "1.2 m"}, "steps": {}}`

// TestDigDeeper: where nothing fits, the depth of digging that would do is told, and
// the height of made ground; each does, and a step of the tape less does not.
func TestDigDeeper(t *testing.T) {
	fits := func(units, limit, is, also string) error {
		t.Helper()
		doc := strings.Replace(strings.Replace(bankPlan, `"metric"`, `"`+units+`"`, 1), `"steps": {}`, `"steps": {"`+limit+`": "`+is+`"`+also+`}`, 1)
		p, err := ReadPlan([]byte(doc))
		if err != nil {
			t.Fatal(err)
		}
		_, err = Make(p)
		return err
	}
	for _, c := range []struct{ units, limit, is, also, says, would, less string }{
		{"metric", "max_cut", "0.62 m", "", `digging up to ([0-9.]+ mm) deep instead of 620 mm`, "870 mm", "860 mm"},
		{"imperial", "max_cut", "2 ft", "", `digging up to (2 ft 11 in) deep instead of 2 ft 0 in`, "2 ft 11 in", "2 ft 10 in"},
		{"metric", "max_raise", "105 mm", `, "max_cut": "0.62 m"`, `ground made up by up to ([0-9.]+ mm) instead of 105 mm`, "150 mm", "140 mm"},
		{"metric", "max_raise", "0 mm", `, "max_cut": "0.95 m"`, `ground made up by up to ([0-9.]+ mm) instead of 0 mm`, "80 mm", "70 mm"},
	} {
		err := fits(c.units, c.limit, c.is, c.also)
		if err == nil {
			t.Errorf("%s of %s fits already", c.limit, c.is)
			continue
		}
		m := regexp.MustCompile(c.says).FindStringSubmatch(err.Error())
		if m == nil || m[1] != c.would {
			t.Errorf("%s of %s: %v, want %s in %q", c.limit, c.is, m, c.would, err)
			continue
		}
		if err := fits(c.units, c.limit, c.would, c.also); err != nil {
			t.Errorf("%s of %s does not do: %v", c.limit, c.would, err)
		}
		if fits(c.units, c.limit, c.less, c.also) == nil {
			t.Errorf("%s of %s would do already", c.limit, c.less)
		}
	}
	err := fits("metric", "max_cut", "0.3 m", "")
	if err == nil || !strings.Contains(err.Error(), "no single limit of risers, treads, landings, flights, digging or made ground changed by half would do") {
		t.Errorf("far too little digging: %v", err)
	}
}
