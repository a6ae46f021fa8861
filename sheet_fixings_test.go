//go:build !js || whole

package slopewright

import (
	"fmt"
	"regexp"
	"strconv"
	"testing"
)

// What the cards of the steps say of spikes, pins and bars is all that is to be
// bought, before the waste.
func TestFixingsOnTheCards(t *testing.T) {
	for _, bars := range []bool{false, true} {
		r := handMadeFrom(t, crossfallPlan("0.45", fmt.Sprintf(`{"bank_to": "1.2 m", "deadman_from": "250 mm", "bank_bars": %v}`, bars)))
		sheet := string(r.Sheet(SheetOptions{}))
		said := map[string]int{}
		for _, m := range regexp.MustCompile(`(\d+) (spike|pin|bar)s?( of [^,<]*)?[,<]`).FindAllStringSubmatch(sheet, -1) {
			n, _ := strconv.Atoi(m[1])
			if m[2] == "bar" {
				m[2] = "pin" // cut from the same stock
			}
			said[m[2]] += n
		}
		pins := 0
		for _, b := range r.Build.Boxes {
			for _, x := range b.Pieces {
				if x.Use == "pin" {
					pins += x.Count
				}
			}
		}
		spikes := itemOf(t, r, "spike").Count
		if spikes == 0 || said["spike"] != spikes || pins == 0 || said["pin"] != pins {
			t.Errorf("bars %v: the cards say %v, there are %d spikes and %d pins and bars", bars, said, spikes, pins)
		}
	}
}
