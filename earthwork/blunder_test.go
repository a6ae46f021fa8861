package earthwork

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

// hillWithBanks is a hill as paths are built on: terraces, banks up to 60°, walls,
// dips and what lies between, with readings at every break and a tape's errors.
func hillWithBanks(r *rand.Rand) []Point {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	points := []Point{{}}
	for range 5 + r.IntN(12) {
		long := [...]float64{0.3, 0.5, 1, 1, 1.5, 2, 2, 3}[r.IntN(8)]
		var grade float64
		switch u := r.Float64(); {
		case u < 0.25:
			grade = between(0, 0.1)
		case u < 0.4:
			grade, long = between(0.6, 1.8), math.Min(long, 1.5)
		case u < 0.47:
			grade, long = between(2, 8), between(0.1, 0.4)
		case u < 0.55:
			grade = -between(0, 0.3)
		default:
			grade = between(0.1, 0.6)
		}
		last := points[len(points)-1]
		points = append(points, Point{Station: last.Station + unit.Length(long), Level: last.Level + unit.Length(grade*long+0.01*r.NormFloat64())})
	}
	return points
}

// slipped are levels that one of these may have been meant to be.
func slipped(l unit.Length) []unit.Length { return []unit.Length{l / 10, l * 10, l / 12, -l} }

// Real-looking ground is not cried wolf at, banks and walls among it; a level ten
// times what it is is found where it stands out of the ground.
func TestFindBlunder(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	hills, alarms, told, right := 3000, 0, 0, 0
	for range hills {
		points := hillWithBanks(r)
		meant := func(i int) []unit.Length { return slipped(points[i].Level) }
		if _, ok := FindBlunder(points, meant); ok {
			alarms++
			continue
		}
		i := r.IntN(len(points))
		if points[i].Level < 0.5 || i == 0 {
			continue
		}
		points[i].Level *= 10
		told++
		if b, ok := FindBlunder(points, meant); ok && b.Index == i && b.Meant >= 0 && math.Abs(float64(meant(i)[b.Meant])-float64(points[i].Level)/10) < 1e-9 {
			right++
		}
	}
	if alarms > hills/200 {
		t.Errorf("%d of %d real-looking hills have a blunder", alarms, hills)
	}
	if right*5 < told*4 { // the others are no more than the banks there
		t.Errorf("of %d levels ten times too high %d are found", told, right)
	}
	t.Logf("%d false alarms in %d hills; %d of %d slips found", alarms, hills, right, told)
}

func TestFindBlunderOnBanks(t *testing.T) {
	for name, c := range map[string]struct {
		levels []float64 // a metre apart
		want   int
	}{
		"a wall":                        {[]float64{0, 0.1, 0.2, 1.9, 2, 2.1}, -1},
		"a bank at the head":            {[]float64{0, 0.1, 0.2, 0.3, 1.9}, -1},
		"a bank at the foot":            {[]float64{0, 1.6, 1.7, 1.8, 1.9}, -1},
		"a hump":                        {[]float64{0, 0.2, 0.4, 1, 0.8, 1}, -1},
		"a ditch":                       {[]float64{0, 0.2, 0.4, -0.1, 0.8, 1}, -1},
		"three readings":                {[]float64{0, 9, 1}, -1},
		"a peak that no soil stands at": {[]float64{0, 0.2, 0.4, 3, 0.8, 1}, 3},
		"a hole":                        {[]float64{0, 0.2, -3, 0.6, 0.8, 1}, 2},
	} {
		points := make([]Point, len(c.levels))
		for i, l := range c.levels {
			points[i] = Point{Station: unit.Length(i), Level: unit.Length(l)}
		}
		b, ok := FindBlunder(points, func(int) []unit.Length { return nil })
		if !ok {
			b.Index = -1
		}
		if b.Index != c.want {
			t.Errorf("%s: %+v, want reading %d", name, b, c.want)
		}
	}
}
