package slopewright

import (
	"strings"
	"testing"
)

// Where there is no ground but a rise and a run, it is these that are blamed, unless the
// plan itself gives the limit; and the fault is in the plan's measure alone.
func TestTotalsAreBlamed(t *testing.T) {
	for _, c := range []struct{ ground, steps, field, says, fix string }{
		{`"rise":"6 ft","run":"5 ft"`, `{}`, "ground.run", "the run of 5 ft 0 in is too short for a rise of 6 ft 0 in", "9 ft 3 1/4 in of run at least"},
		{`"rise":"6 ft","run":"5 ft"`, `{"tread":{"min":"11 in"}}`, "steps.tread.min", "too short", "more run"},
		{`"rise":"10 ft","run":"700 ft"`, `{}`, "ground.rise", "the forward fall of the treads, 2 %, climbs 14 ft 0 in over the run", "needs no steps"},
		{`"rise":"10 ft","run":"700 ft"`, `{"wash":"2 %"}`, "steps.wash", "all of the rise of 10 ft 0 in", "below 1.4 %"},
		{`"rise":"4 in","run":"14 ft"`, `{}`, "ground.rise", "the climb of 5/8 in with risers", "needs no steps"},
	} {
		_, faults := answer(t, []byte(`{"format":"slopewright.plan/1","units":"imperial","ground":{"method":"total",`+c.ground+`},"path":{"width":"4 ft"},"steps":`+c.steps+`}`))
		if len(faults) != 1 || faults[0].Field != c.field || !strings.Contains(faults[0].Problem, c.says) || !strings.Contains(faults[0].Fix, c.fix) || strings.Contains(faults[0].Error(), " mm") {
			t.Errorf("%s %s: %v", c.ground, c.steps, faults)
		}
	}
}

// Two readings far apart say no more of the ground between than a rise and a run.
func TestTwoReadingsCannotShowTheGround(t *testing.T) {
	const says = "Two numbers cannot show the ground between"
	for readings, want := range map[string]bool{
		`{"at":"0 m","drop":"4.05 m"},{"at":"7.5 m","drop":"5 cm"}`:                             true,
		`{"at":"0 m","drop":"4.05 m"},{"at":"4 m","drop":"2.2 m"},{"at":"7.5 m","drop":"5 cm"}`: false,
		`{"at":"0 m","drop":"1.05 m"},{"at":"2.5 m","drop":"5 cm"}`:                             false,
	} {
		p, err := ReadPlan([]byte(`{"format":"slopewright.plan/1","units":"metric","ground":{"method":"string","readings":[` + readings + `]},"path":{"width":"1 m"}}`))
		if err != nil {
			t.Fatal(err)
		}
		r, err := Make(p)
		if err != nil {
			t.Fatal(err)
		}
		told := false
		for _, a := range r.Answer {
			told = told || strings.Contains(a.Says, says)
		}
		if told != want || told != (r.Dig.Bow != nil) || told == (r.Dig.RiseOverRun != nil) || told != strings.Contains(r.Certain.Says, "The digging is not known from two numbers") {
			t.Errorf("%s: told is %v", readings, told)
		}
	}
}
