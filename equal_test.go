package slopewright

import (
	"strings"
	"testing"
)

// Rise over run is told as it is: other steps that dig more, as much, or the same steps.
func TestRiseOverRunIsToldAsItIs(t *testing.T) {
	for name, want := range map[string]string{
		"gentle":  "Rise over run would make every tread 960 mm and look like 2.58 m³ of digging; on this ground those steps would dig 3.53 m³.",
		"first":   "Rise over run would make every tread 1 ft 3 5/8 in and look like 1.49 cu yd of digging; on this ground those steps would dig 0.79 cu yd and stand on 0.09 cu yd of made ground, as much as these dig.",
		"orchard": "Rise over run makes the same steps, but would look like 1.74 m³ of digging; on this ground those steps would dig 1.2 m³.",
	} {
		r, told := makeDemo(t, name), ""
		for _, a := range r.Answer {
			if strings.HasPrefix(a.Says, "Rise over run") {
				told = a.Says
			}
		}
		if told != want {
			t.Errorf("%s: %s", name, told)
		}
	}
}
