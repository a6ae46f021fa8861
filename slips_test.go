package slopewright

import (
	"path/filepath"
	"strings"
	"testing"
)

// TestSlips: a slip of the pen is pointed at, with what was perhaps meant, whether
// or not steps still fit.
func TestSlips(t *testing.T) {
	imperial := `"units":"imperial","ground":{"method":"string","from":"foot","readings":[{"at":"0 ft","drop":"6 ft 2 in"},
		{"at":"3 ft","drop":"5 ft 5 in"},{"at":"6 ft","drop":"4 ft 2 in"},{"at":"9 ft","drop":"3 ft 4 in"},{"at":"13 ft","drop":"9 in"}]}`
	metric := `"units":"metric","ground":{"method":"levels","readings":[{"at":0,"level":"0.12 m"},{"at":"1 m","level":"0.41 m"},
		{"at":"2 m","level":"0.85 m"},{"at":"3 m","level":"1.25 m"},{"at":"4 m","level":"1.42 m"},{"at":"5 m","level":"1.9 m"}]}`
	book := `"units":"metric","ground":{"method":"rod","readings":[{"back":"2.80 m","bench":"0 m"},{"at":0,"mid":"2.80 m"},{"at":"1 m","mid":"2.40 m"},
		{"at":"2 m","mid":"2.10 m"},{"at":"3 m","mid":"1.72 m"},{"at":"4 m","mid":"1.35 m"},{"at":"5 m","mid":"1.02 m"},{"fore":"2.80 m"}]}`
	for _, c := range []struct{ ground, from, to, field, meant string }{
		{imperial, `"9 ft"`, `"9 ft"`, "", ""},
		{metric, `"1 m"`, `"1 m"`, "", ""},
		{book, `"1 m"`, `"1 m"`, "", ""},
		{imperial, `"4 ft 2 in"`, `"42 ft"`, "ground.readings[2].drop", "4 ft 2 in was"},
		{imperial, `"6 ft 2 in"`, `"62 ft"`, "ground.readings[0].drop", "6 ft 2 in was"},
		{imperial, `"drop":"9 in"`, `"drop":"9 ft"`, "ground.readings[4].drop", "9 in was"},
		{imperial, `"5 ft 5 in"`, `"5 in"`, "ground.readings[1].drop", ""},
		{metric, `"1.25 m"`, `"12.5 m"`, "ground.readings[3].level", "1.25"},
		{metric, `"0.41 m"`, `"4.1 m"`, "ground.readings[1].level", "410 mm was"},
		{metric, `"1.25 m"`, `"-1.25 m"`, "ground.readings[3].level", "1.25"},
		{metric, `"1.25 m"`, `"2.15 m"`, "ground.readings[3].level", "1.25"},
		{book, `"1.72 m"`, `"7.12 m"`, "ground.readings[4].mid", "1.72"},
	} {
		if !strings.Contains(c.ground, c.from) {
			t.Fatal(c.from)
		}
		doc := `{"format":"slopewright.plan/1","path":{"width":"1.25 m"},` + strings.Replace(c.ground, c.from, c.to, 1) + `}`
		said, where := "", ""
		p, err := ReadPlan([]byte(doc))
		if err != nil {
			t.Fatal(err)
		}
		if r, err := Make(p); err != nil {
			for _, f := range err.(Faults) {
				if strings.Contains(f.Problem, "off the line") {
					said, where = f.Error(), f.Field
				}
			}
		} else {
			for _, f := range r.Findings {
				if strings.Contains(f.Says, "off the line") {
					said, where = f.Says, f.Where
				}
			}
		}
		line := strings.NewReplacer("ground.readings[0].drop", "reading 1", "ground.readings[1].drop", "reading 2", "ground.readings[1].level", "reading 2",
			"ground.readings[2].drop", "reading 3", "ground.readings[3].level", "reading 4", "ground.readings[4].mid", "reading 5").Replace(c.field)
		if where != c.field && where != line || !strings.Contains(said, c.meant) || (said == "") != (c.field == "") {
			t.Errorf("%s for %s: told of %q: %s", c.to, c.from, where, said)
		}
	}
	files, _ := filepath.Glob("testdata/plans/*.json")
	for _, file := range files {
		if name := strings.TrimSuffix(filepath.Base(file), ".json"); name != "bad" {
			for _, f := range makeDemo(t, name).Findings {
				if strings.Contains(f.Says, "off the line") {
					t.Errorf("%s: %s", name, f.Says)
				}
			}
		}
	}
}
