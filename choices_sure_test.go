//go:build !js || whole

package slopewright

import (
	"strings"
	"testing"
)

// A difference in digging that is less than the readings tell is said to be one, once.
func TestChoicesWithinTheReadings(t *testing.T) {
	for accuracy, want := range map[string]int{"2 mm": 0, "50 mm": 1} {
		all, err := Choices(patchedPlan(t, "gentle", `{"ground": {"accuracy": "`+accuracy+`"}}`))
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for i, c := range all {
			if strings.Contains(c.Says, " from these readings: a choice that differs by less digs as much.") {
				if n++; i > 0 {
					t.Errorf("%s: told of choice %d: %s", accuracy, i, c.Says)
				}
			}
		}
		if n != want {
			t.Errorf("%s: told %d times: %s", accuracy, n, all[0].Says)
		}
	}
}

// Where there is little to choose between, it is said why.
func TestFewChoicesSayWhy(t *testing.T) {
	missing = func(text string) { t.Errorf("no Spanish for %q", text) }
	defer func() { missing = nil }()
	for name, few := range map[string]bool{"earth": true, "gentle": false} {
		p, err := ReadPlan(demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		var r Result
		if r.Choices, err = Choices(p); err != nil {
			t.Fatal(err)
		}
		says := r.Choices[0].Says
		if strings.HasSuffix(says, " However digging, hours and walking were weighed against each other, no other steps came out best.") != few || few != (len(r.Choices) < 3) {
			t.Errorf("%s, %d choices: %s", name, len(r.Choices), says)
		}
		Language("es").Result(r, p)
	}
}
