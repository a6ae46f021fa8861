package slopewright

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// Loads of the document reach the checks of framed flights, in either system, and
// are written back as they were typed.
func TestLoads(t *testing.T) {
	of := func(loads string) (*maker, Result) {
		plan := strings.Replace(string(demo(t, "terrace")), `"timber": "6x6"`, `"timber": "6x6", "framed": {`+loads+`}`, 1)
		p, err := ReadPlan([]byte(plan))
		if err != nil {
			t.Fatal(err)
		}
		data, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if loads != "" && !strings.Contains(string(data), strings.ReplaceAll(loads, ": ", ":")) {
			t.Errorf("%s is written as %s", loads, data)
		}
		m, err := reckon(p)
		if err != nil {
			t.Fatal(err)
		}
		return m, m.result()
	}
	for _, x := range []struct {
		loads      string
		live, snow float64 // kPa
	}{
		{"", 40 * psf, 0},
		{`"live_load": "100 psf"`, 100 * psf, 0},
		{`"live_load": "5 kN/m²"`, 5, 0},
		{`"live_load": "3 kPa"`, 3, 0},
		{`"snow_load": 2.5`, 40 * psf, 2.5},
		{`"live_load": "60 psf","snow_load": "70 psf"`, 60 * psf, 70 * psf},
	} {
		m, _ := of(x.loads)
		d := m.framed
		if math.Abs(d.Live.Kilopascals()-x.live) > 1e-9 || math.Abs(d.Snow.Kilopascals()-x.snow) > 1e-9 {
			t.Errorf("%s: live %v kPa, snow %v kPa", x.loads, d.Live.Kilopascals(), d.Snow.Kilopascals())
		}
		if len(m.parts) == 0 {
			t.Fatal("no framed flight")
		}
		want, err := m.flights[0].Checks(d)
		if err != nil {
			t.Fatal(err)
		}
		for i, c := range m.parts[0].Checks {
			if c.Actual.Pressure != want[i].Actual.Pressure {
				t.Errorf("%s: %s is %v, want %v", x.loads, c.Name, c.Actual, want[i].Actual)
			}
		}
	}
	// Under deep snow there are more supports, and what they stand on is said.
	bare, _ := of("")
	deep, r := of(`"snow_load": "20 kN/m2"`)
	if deep.parts[0].Supports <= bare.parts[0].Supports {
		t.Errorf("%d supports under snow, %d without", deep.parts[0].Supports, bare.parts[0].Supports)
	}
	said := false
	for _, c := range deep.parts[0].Checks {
		said = said || c.Name == "stringer-bending" && strings.Contains(c.Says, "under snow") && strings.Contains(c.Source, "ASCE 7-16")
	}
	stops := false
	for _, f := range r.Findings {
		stops = stops || f.Rule == "framed-footing-bearing" && f.Severity == "stop"
	}
	if !said || !stops {
		t.Errorf("20 kN/m² of snow: checked %v, said %v", said, stops)
	}
	if pounds := 1 / psf; math.Abs(pounds-20.885434) > 1e-5 {
		t.Errorf("1 kN/m² is %v psf", pounds)
	}
}
