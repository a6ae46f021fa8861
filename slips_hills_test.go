package slopewright

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

// ordinaryHill is ground as paths are built on, from the foot up: terraces, banks up to
// 60°, walls, dips and what lies between, read at every break.
func ordinaryHill(r *rand.Rand) (at, level []float64) {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	at, level = []float64{0}, []float64{0}
	for range 3 + r.IntN(12) {
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
		n := len(at) - 1
		at, level = append(at, at[n]+long), append(level, level[n]+grade*long+0.01*r.NormFloat64())
	}
	return at, level
}

// hillPlan is a plan with the readings of an ordinary hill, as they are written: along a
// string from its foot or its head, as levels, as legs with a clinometer, in a level book.
func hillPlan(r *rand.Rand, method string, imperial bool) Plan {
	at, level := ordinaryHill(r)
	n := len(at)
	high := 0.0
	for _, x := range level {
		high = math.Max(high, x)
	}
	long := func(x float64) *Length {
		s := fmt.Sprintf("%.2f m", x)
		if imperial {
			s = words{imperial: true}.length(unit.Length(x))
		}
		l, err := ParseLength(s)
		if err != nil {
			panic(s)
		}
		return &l
	}
	p := Plan{Format: PlanFormat, Units: "metric"}
	if imperial {
		p.Units = "imperial"
	}
	p.Path.Width = Metres(1.2)
	p.Ground.Method = method
	switch method {
	case "foot", "head":
		p.Ground.Method, p.Ground.From = "string", method
		for i := range at {
			j, from := i, at[i]
			if method == "head" {
				j = n - 1 - i
				from = at[n-1] - at[j]
			}
			p.Ground.Readings = append(p.Ground.Readings, Reading{At: long(from), Drop: long(high - level[j])})
		}
	case "levels":
		for i := range at {
			p.Ground.Readings = append(p.Ground.Readings, Reading{At: long(at[i]), Level: long(level[i])})
		}
	case "slope":
		for i := 1; i < n; i++ {
			x, y := at[i]-at[i-1], level[i]-level[i-1]
			q := Reading{Length: long(math.Hypot(x, y))}
			if r.IntN(2) == 0 {
				a := math.Round(2*math.Atan2(y, x)*180/math.Pi) / 2
				q.Angle = &Angle{unit.Angle(a) * unit.Degree, fmt.Sprintf("%g°", a)}
			} else {
				s, _ := ParseSlope(fmt.Sprintf("%.0f %%", 100*y/x))
				q.Grade = &s
			}
			p.Ground.Readings = append(p.Ground.Readings, q)
		}
	case "rod":
		// The level stands where it sees over the next point and the one after.
		var sight float64
		setUp := func(i int) *Length {
			sight = level[i] + 0.2
			for _, x := range level[i:min(i+3, n)] {
				sight = math.Max(sight, x+0.2)
			}
			return long(sight - level[i])
		}
		b := []Reading{{Back: setUp(0), Bench: long(0)}}
		for i := range at {
			x := Reading{At: long(at[i])}
			y := long(sight - level[i])
			if x.Mid = y; i == n-1 {
				x.Mid, x.Fore = nil, y
			} else if r.IntN(4) == 0 || level[i+1] > sight-0.1 || level[i+1] < sight-5 {
				x.Mid, x.Fore, x.Back = nil, y, setUp(i)
			}
			b = append(b, x)
		}
		p.Ground.Readings = b
	}
	return p
}

// In a book in metres a reading by another tape is not blamed for its unit, nor in one in
// feet; where its figure is read in the wrong one, and stands out, it is.
func TestOneReadingByAnotherTape(t *testing.T) {
	for _, method := range []string{"foot", "head", "levels", "rod"} {
		r := rand.New(rand.NewPCG(9, 11))
		right, wrong, told := 0, 0, 0
		for k := range 600 {
			imperial := k%2 == 1
			n := -1
			for _, slip := range []bool{false, true} {
				p := hillPlan(rand.New(rand.NewPCG(uint64(k), 3)), method, imperial)
				if n < 0 {
					n = 1 + r.IntN(len(p.Ground.Readings)-2)
				}
				q := &p.Ground.Readings[n]
				l := q.Drop
				for _, x := range []*Length{q.Level, q.Mid, q.Fore} {
					if x != nil {
						l = x
					}
				}
				was := l.Length
				if l.Length == 0 || imperial && slip {
					continue
				}
				s := words{imperial: !imperial}.length(was)
				if slip {
					s = fmt.Sprintf("%.2f ft", float64(was))
				}
				*l, _ = ParseLength(s)
				var m maker
				_ = m.read(p)
				f, at := m.slip()
				switch {
				case !slip && at > 0:
					wrong++
					t.Logf("%s, hill %d: %v", method, k, f)
				case slip && at == n+1 && f.Problem == otherUnit:
					right++
				}
				if slip {
					told++
				}
			}
		}
		if wrong > 0 || right == 0 {
			t.Errorf("%s: %d of 600 that are right are blamed, %d of %d slips found", method, wrong, right, told)
		}
		t.Logf("%s: %d of %d slips found", method, right, told)
	}
}

// TestOrdinaryHillsHaveNoSlips: steep hills with banks and walls are not cried wolf at,
// however they were measured.
func TestOrdinaryHillsHaveNoSlips(t *testing.T) {
	for _, method := range []string{"foot", "head", "levels", "slope", "rod"} {
		r := rand.New(rand.NewPCG(7, 11))
		for k := range 1500 {
			var m maker
			_ = m.read(hillPlan(r, method, k%2 == 1))
			if f, n := m.slip(); n > 0 {
				t.Errorf("%s, hill %d: %v", method, k, f)
			}
		}
	}
}
