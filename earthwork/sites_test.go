package earthwork

import (
	"encoding/json"
	"flag"
	"os"
	"testing"
	"time"
)

var sitesFile = flag.String("sites", "", "write random sites and their volumes to this file, for a general geometry library")

// TestSitesForGeometry digs random sites, straight and in bends, and, with -sites, writes
// each out with its volumes and the time they took; site/test/volumes.clip.mjs works them out
// again with a general polygon clipper and a general quadrature.
func TestSitesForGeometry(t *testing.T) {
	type piece struct {
		From  float64 `json:"from"`
		To    float64 `json:"to"`
		Kappa float64 `json:"kappa"` // curvature of the path, positive to the right
	}
	type model struct {
		Ground     [][3]float64 `json:"ground"` // station, level, crossfall
		Width      float64      `json:"width"`
		Working    float64      `json:"working"`
		Batter     float64      `json:"batter"`
		FillBatter float64      `json:"fill_batter"`
		Formation  [3]float64   `json:"formation"` // station, level, grade
		BuildUp    float64      `json:"build_up"`
		Pieces     []piece      `json:"pieces"`
		Volumes    [3]float64   `json:"volumes"` // cut, fill, backfill
		Seconds    float64      `json:"seconds"`
	}
	var out []model
	kinds := map[string]int{}
	for i, r := range rands(41, 800) {
		s := randomSite(t, r)
		if i >= 540 {
			s, _ = bendSite(t, r, s)
			kinds["bent"]++
		}
		const times = 20
		var d Dug
		began := time.Now()
		for range times {
			var err error
			if d, err = s.ground.Dig(s.sec, s.st); err != nil {
				t.Fatalf("site %d: %v", i, err)
			}
		}
		m := model{
			Seconds: time.Since(began).Seconds() / times,
			Width:   s.sec.Width.Meters(), Working: s.sec.Working.Meters(), Batter: s.sec.Batter, FillBatter: s.sec.FillBatter,
			Formation: [3]float64{s.st.Formation.Station.Meters(), s.st.Formation.Level.Meters(), s.st.Formation.Grade},
			BuildUp:   s.st.BuildUp.Meters(), Volumes: [3]float64{d.Cut.CubicMeters(), d.Fill.CubicMeters(), d.Backfill.CubicMeters()},
		}
		for _, p := range s.ground.Points() {
			m.Ground = append(m.Ground, [3]float64{p.Station.Meters(), p.Level.Meters(), p.Crossfall})
		}
		for _, p := range s.pieces() {
			m.Pieces = append(m.Pieces, piece{p.st.From.Meters(), p.st.To.Meters(), p.kappa})
		}
		out = append(out, m)
		switch c := s.ground.Foot().Crossfall; {
		case c < 0:
			kinds["falls to the right"]++
		case c > 0:
			kinds["rises to the right"]++
		default:
			kinds["level"]++
		}
		switch {
		case s.sec.Batter == 0:
			kinds["plumb"]++
		case s.sec.Batter > 1.5:
			kinds["flat"]++
		}
	}
	for _, k := range []string{"bent", "falls to the right", "rises to the right", "level", "plumb", "flat"} {
		if kinds[k] < 100 {
			t.Errorf("only %d sites are %s: %v", kinds[k], k, kinds)
		}
	}
	if *sitesFile == "" {
		return
	}
	b, err := json.Marshal(out)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(*sitesFile, b, 0o644); err != nil {
		t.Fatal(err)
	}
}
