package slopewright

import (
	"encoding/json"
	"math/rand/v2"
	"testing"
)

// No volume, area or hour of any plan that is accepted is negative, infinite or not a
// number, and no earth is made or lost.
func FuzzEarth(f *testing.F) {
	for _, name := range []string{"earth", "bench", "steepening", "halfway", "offer"} {
		f.Add(demo(f, name))
	}
	rng := rand.New(rand.NewPCG(9, 9))
	for range 12 {
		b, err := json.Marshal(wild(rng))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, doc []byte) {
		if len(doc) > 20_000 {
			t.Skip()
		}
		p, err := ReadPlan(doc)
		if err != nil {
			return
		}
		r, err := Make(p)
		if err != nil {
			return
		}
		soundEarth(t, r)
		soundOrder(t, r)
	})
}
