package earthwork

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/martinlindhe/unit"
)

// Books in order are not cried wolf at, nor those with a point that was taken later; a
// station ten times what it is, or a tenth, is found and mended.
func TestFindStationBlunder(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 13))
	told, right, wrong := 0, 0, 0
	for k := range 3000 {
		var at []unit.Length
		for _, p := range hillWithBanks(r) {
			at = append(at, p.Station)
		}
		meant := func(i int) []unit.Length { return []unit.Length{at[i] / 10, at[i] * 10, at[i] / 100, at[i] * 100} }
		anyOrder := k%2 == 0
		if k%4 == 0 {
			slices.Reverse(at)
		}
		if i, _, _, ok := FindStationBlunder(at, anyOrder, meant); ok {
			t.Fatalf("hill %d: %d of %v", k, i, at)
		}
		if anyOrder {
			was := at
			at = append(slices.Clone(at), 0.05+unit.Length(r.Float64())*at[len(at)/2])
			if i, _, _, ok := FindStationBlunder(at, true, meant); ok {
				t.Fatalf("hill %d with a point taken later: %d of %v", k, i, at)
			}
			at = was
		}
		i := r.IntN(len(at))
		station := at[i]
		if station < 1 {
			continue
		}
		at[i] *= [...]unit.Length{10, 0.1}[r.IntN(2)]
		told++
		if j, which, _, ok := FindStationBlunder(at, anyOrder, meant); ok {
			if x := meant(j)[which]; i == j && x > station-1e-9 && x < station+1e-9 {
				right++
			} else {
				wrong++
			}
		}
	}
	t.Logf("%d slips: %d found, %d wrongly", told, right, wrong)
	if right < told*6/10 || wrong > told/100 {
		t.Errorf("%d of %d found, %d wrongly", right, told, wrong)
	}
}
