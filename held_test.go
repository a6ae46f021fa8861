//go:build !js || whole

package slopewright

import (
	"strings"
	"testing"
)

// A limit of the plan's own that the digging hangs on is told, with what the plan then
// digs, as the plan with that limit does; one that saves little, that a rule set
// does not let go or that is of no fit is not.
func TestHeldBack(t *testing.T) {
	defer func() { missing = nil }()
	missing = func(text string) { t.Errorf("no Spanish for %q", text) }
	const upTo = "Ground made up by up to "
	for _, c := range [...][3]string{
		{"steepening", `{}`, upTo + "200 mm instead of 100 mm (max_raise) would leave 0.61 m³ to dig, 61 % less, with 1.09 m³ of tamped earth under the steps instead of 0.22 m³, for which 0.87 m³ in the bank is brought."},
		{"steepening", `{"units": "imperial"}`, upTo + "8 in instead of 3 15/16 in (max_raise) would leave "},
		{"steepening", `{"steps": {"max_raise": "0.3 m"}}`, ""},
		{"steepening", `{"steps": {"fixed": [{"risers": 5, "tread": "400 mm"}]}}`, ""},
		{"steepening", `{"steps": {"max_raise": "0.3 m", "riser": {"max": "200 mm"}, "tread": {"min": "300 mm"}}}`, ""},
		{"gentle", `{}`, ""},
		{"bench", `{"steps": {"max_cut": "400 mm"}}`, "Digging up to 2 ft 0 in instead of 1 ft 3 3/4 in (max_cut) would leave 1.79 cu yd to dig, "},
		{"bench", `{"steps": {"riser": {"max": "140 mm"}}}`, "Risers of up to 6 in instead of 5 1/2 in (riser.max) would leave 1.79 cu yd to dig, "},
		{"bench", `{"steps": {"tread": {"min": "380 mm"}}}`, "Treads from 1 ft 2 in instead of 1 ft 2 15/16 in (tread.min) would leave "},
	} {
		p := patchedPlan(t, c[0], c[1])
		says := strings.Join(HeldBack(p), " ")
		if !strings.Contains(says, c[2]) || c[2] == "" && says != "" {
			t.Errorf("%s %s: %q", c[0], c[1], says)
		}
		Language("es").Result(Result{Choices: []ChoiceResult{{Says: says}}}, p)
	}
	all, err := Choices(patchedPlan(t, "steepening", `{}`))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(all[0].Says, upTo) {
		t.Errorf("the choice that digs least: %s", all[0].Says)
	}
}
