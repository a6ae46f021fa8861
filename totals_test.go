package slopewright

import (
	"strings"
	"testing"
)

// Where there is no ground but a rise and a run, it is these that are blamed, unless the
// plan itself gives the limit; and the fault is in the plan's measure alone.
func TestTotalsAreBlamed(t *testing.T) {
	for _, c := range []struct{ ground, steps, field, says, fix string }{
		{`"rise":"6 ft","run":"3 ft"`, `{}`, "ground.run", "9 ft 2 3/8 in of run at least, and there are 3 ft 0 in", "more run"},
		{`"rise":"6 ft","run":"3 ft"`, `{"tread":{"min":"11 in"}}`, "steps.tread.min", "of run at least", "more run"},
		{`"rise":"10 ft","run":"700 ft"`, `{}`, "ground.rise", "14 ft 0 in over the run, at 2 %", "needs no steps"},
		{`"rise":"10 ft","run":"700 ft"`, `{"wash":"2 %"}`, "steps.wash", "all of the rise of 10 ft 0 in", "below 1.4 %"},
		{`"rise":"4 in","run":"14 ft"`, `{}`, "ground.rise", "the climb of 5/8 in with risers", "needs no steps"},
	} {
		_, faults := answer(t, []byte(`{"format":"slopewright.plan/1","units":"imperial","ground":{"method":"total",`+c.ground+`},"path":{"width":"4 ft"},"steps":`+c.steps+`}`))
		if len(faults) != 1 || faults[0].Field != c.field || !strings.Contains(faults[0].Problem, c.says) || !strings.Contains(faults[0].Fix, c.fix) || strings.Contains(faults[0].Error(), " mm") {
			t.Errorf("%s %s: %v", c.ground, c.steps, faults)
		}
	}
}
