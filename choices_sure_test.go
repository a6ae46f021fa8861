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
