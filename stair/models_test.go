package stair

import (
	"encoding/json"
	"flag"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/martinlindhe/unit"
)

var modelsFile = flag.String("models", "", "write fits and what they were given to this file, for a general solver to check")

// model is one fit as an integer programme needs it: for each riser count the
// cost of every cell behind every riser, in whole billionths, and where it bears.
type model struct {
	Treads     [2]int       `json:"treads"` // in cells
	Landing    int          `json:"landing"`
	LandingMax int          `json:"landing_max"`
	MinRisers  int          `json:"min_risers"` // of a flight
	MaxRisers  int          `json:"max_risers"`
	Counts     []modelCount `json:"counts"`
	Best       *int64       `json:"best"` // nil: nothing fits
}

type modelCount struct {
	Risers int       `json:"risers"`
	Riser  int64     `json:"riser"` // cost of each
	Cost   [][]int64 `json:"cost"`  // by riser, then by cell; -1 does not bear
}

// TestModelsForSolver makes coarse fits and, with -models, writes them out;
// site/test/fitting.highs.mjs solves the same with a general solver.
func TestModelsForSolver(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 34))
	var out []model
	fitted := 0
	for range 16 {
		const grid = 0.01
		cells := 18 + r.IntN(14)
		run := float64(cells) * grid
		lim := Limits{
			RiserMin: 0.01, RiserMax: 0.024, TreadMin: 0.02, TreadMax: unit.Length(0.04 + 0.01*float64(r.IntN(3))),
			LandingMin: 0.05, LandingMax: 0.12, MaxFlightRisers: 3, MinFlightRisers: 2,
			Wash: 0.02 * float64(r.IntN(2)), Grid: grid,
		}
		rise := 0.08 + 0.05*r.Float64()
		site := randomProfile(r, run, rise, 0.02)
		site.maxCut, site.maxRaise, site.riser = 0.03+0.04*r.Float64(), 0.03+0.02*r.Float64(), 1e-4*r.Float64()
		foot, head := Point{}, Point{Station: unit.Length(run), Level: unit.Length(rise)}
		f, err := Fit(foot, head, lim, site)
		m := model{Treads: [2]int{2, int(math.Round(float64(lim.TreadMax) / grid))}, Landing: 5, LandingMax: 12, MinRisers: 2, MaxRisers: lim.MaxFlightRisers}
		if err == nil {
			fitted++
			v := int64(math.Round(f.Cost * 1e9))
			m.Best = &v
		}
		climb := rise - float64(lim.Wash*run)
		for n := 4; n <= 40; n++ {
			h := climb / float64(n)
			// One flight would take treads off the grid, which a model on the
			// grid has not; the limit on risers rules it out.
			if h < 0.01-1e-12 || h > 0.024+1e-12 || n <= lim.MaxFlightRisers {
				continue
			}
			c := modelCount{Risers: n, Riser: int64(math.Round(site.riser * 1e9))}
			at := make([]unit.Length, cells+1)
			for i := range at {
				at[i] = unit.Length(float64(i) * grid)
			}
			cost, bears := make([]float64, cells), make([]bool, cells)
			for k := 1; k < n; k++ {
				site.Cells(at, Line{Level: unit.Length(float64(k) * h), Grade: lim.Wash}, cost, bears)
				row := make([]int64, cells)
				for i := range row {
					row[i] = -1
					if bears[i] {
						row[i] = int64(math.Round(cost[i] * 1e9))
					}
				}
				c.Cost = append(c.Cost, row)
			}
			m.Counts = append(m.Counts, c)
		}
		out = append(out, m)
	}
	if fitted < 8 {
		t.Errorf("only %d of %d sites have a fit", fitted, len(out))
	}
	if *modelsFile == "" {
		return
	}
	b, err := json.Marshal(out)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(*modelsFile, b, 0o644); err != nil {
		t.Fatal(err)
	}
}
