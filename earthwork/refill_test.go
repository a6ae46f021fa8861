package earthwork

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
)

// What goes back in many cells at once is what Dig says of each.
func TestRefillCellsAreDug(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 1))
	level, sloping, full := 0, 0, 0
	for trial := range 400 {
		n := 2 + rng.IntN(6)
		points := make([]Point, n)
		x := 0.0
		flat := trial%3 != 0
		for i := range points {
			points[i] = Point{Station: unit.Length(x), Level: unit.Length(0.4*x + 0.6*rng.Float64())}
			if !flat && rng.IntN(2) == 0 {
				points[i].Crossfall = 0.4 * (rng.Float64() - 0.5)
			}
			x += 0.2 + 1.5*rng.Float64()
		}
		g, err := NewGround(points)
		if err != nil {
			t.Fatal(err)
		}
		sec := Section{Width: 1, Working: unit.Length(0.3 * rng.Float64()), Batter: float64(rng.IntN(3)) / 2, FillBatter: rng.Float64()}
		build := unit.Length(0.5 * rng.Float64())
		formation := Line{Level: unit.Length(0.5 * rng.Float64()), Grade: 0.4 * rng.Float64()}
		end := points[n-1].Station
		at := []unit.Length{0}
		for next := unit.Length(0); ; {
			if next += unit.Length(0.02 + rng.Float64()*rng.Float64()); next >= end {
				break
			}
			at = append(at, next)
		}
		at = append(at, end)
		got, wanted := make([]unit.Volume, len(at)-1), make([]bool, len(at)-1)
		for i := range wanted {
			wanted[i] = rng.IntN(8) > 0
		}
		if err := g.RefillCells(sec, at, formation, build, wanted, got); err != nil {
			t.Fatal(err)
		}
		for i := range got {
			if !wanted[i] {
				continue
			}
			d, err := g.Dig(sec, Stretch{From: at[i], To: at[i+1], Formation: formation, BuildUp: build})
			if err != nil {
				t.Fatal(err)
			}
			want := d.Fill + d.Backfill
			if diff := math.Abs(float64(got[i] - want)); diff > 1e-12+1e-9*float64(want) {
				t.Fatalf("trial %d, cell %v to %v: %v goes back, Dig says %v", trial, at[i], at[i+1], got[i], want)
			}
			if flat {
				level++
			} else {
				sloping++
			}
			if want > 0 {
				full++
			}
		}
	}
	if level < 1000 || sloping < 500 || full < 1000 {
		t.Errorf("%d level, %d sloping, %d with refill: the cases are too much alike", level, sloping, full)
	}
}
