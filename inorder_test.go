package slopewright

import (
	"errors"
	"strings"
	"testing"
)

// TestFaultsInOrder: faults stand as the document has their fields, whichever check found
// them; a metric plan has metres and millimetres first in what would do.
func TestFaultsInOrder(t *testing.T) {
	doc := []byte(`{"format": "slopewright.plan/1", "units": "metric", "crew": {"people": 0},
		"steps": {"riser": {"min": "200 mm", "max": "150 mm"}, "max_cut": "20 m"},
		"soil": {"class": "mud", "carry": "x"}, "build": {"timber": "9x9x9", "base": "-5 mm", "trim": true},
		"ground": {"method": "levels", "readings": [{"at": "0 m"}, {"at": "2 m", "level": "0,2,2"}, {"at": "4 m", "level": "1.9 m"}, {"level": "2.1 ftt"}]},
		"path": {"width": "12 m"}}`)
	_, err := ReadPlan(doc)
	var all Faults
	if !errors.As(InOrder(doc, err), &all) {
		t.Fatal(err)
	}
	want := []string{"crew.people", "steps.riser.min", "steps.max_cut", "soil.class", "soil.carry", "build.timber", "build.base", "build.trim",
		"ground.readings[0].level", "ground.readings[1].level", "ground.readings[3].level", "ground.readings[3].at", "path.width"}
	var got []string
	for _, f := range all {
		got = append(got, f.Field)
		for _, x := range [][2]string{{"1610 mm", "5' 3"}, {`"1.61 m"`, "5 ft"}, {"100x200", "6x6"}} {
			if a, b := strings.Index(f.Fix, x[0]), strings.Index(f.Fix, x[1]); a > b || a < 0 && b >= 0 {
				t.Errorf("inches first: %s", f.Fix)
			}
		}
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("got %s\nwant %s", got, want)
	}
	if err := errors.New("no fault"); InOrder(doc, err) != err {
		t.Error("another error is not given back")
	}
	feet := []byte(strings.Replace(string(doc), `"metric"`, `"imperial"`, 1))
	_, err = ReadPlan(feet)
	if says := err.Error(); !strings.Contains(says, `5' 3 3/8", 9.5 in, 1.61 m or 1610 mm`) || !strings.Contains(says, "write one of 2x4") {
		t.Error(says)
	}
}

// TestSlipStaysFirst of the faults that may come of it.
func TestSlipStaysFirst(t *testing.T) {
	doc := []byte(`{"format": "slopewright.plan/1", "units": "metric", "steps": {}, "path": {"width": "1.2 m", "head": {"at": "6 m"}},
		"ground": {"method": "levels", "readings": [{"at": "0 m", "level": "0 m"}, {"at": "1 m", "level": "0.3 m"}, {"at": "2 m", "level": "0.6 m"}, {"at": "3 m", "level": "9.0 m"},
			{"at": "4 m", "level": "1.2 m"}, {"at": "5 m", "level": "1.5 m"}, {"at": "6 m", "level": "1.8 m"}]}}`)
	p, err := ReadPlan(doc)
	if err == nil {
		_, err = Make(p)
	}
	var all Faults
	if !errors.As(InOrder(doc, err), &all) || len(all) < 2 || all[0].Field != "ground.readings[3].level" || !strings.HasPrefix(all[1].Field, "steps") {
		t.Errorf("%v", err)
	}
}
