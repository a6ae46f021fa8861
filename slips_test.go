package slopewright

import (
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// TestSlips: a slip of the pen is pointed at, with what was perhaps meant, whether
// or not steps still fit.
func TestSlips(t *testing.T) {
	missing = func(text string) { t.Errorf("no Spanish for %q", text) }
	defer func() { missing = nil }()
	es := Language("es")
	imperial := `"units":"imperial","ground":{"method":"string","from":"foot","readings":[{"at":"0 ft","drop":"6 ft 2 in"},
		{"at":"3 ft","drop":"5 ft 5 in"},{"at":"6 ft","drop":"4 ft 2 in"},{"at":"9 ft","drop":"3 ft 4 in"},{"at":"13 ft","drop":"9 in"}]}`
	metric := `"units":"metric","ground":{"method":"levels","readings":[{"at":0,"level":"0.12 m"},{"at":"1 m","level":"0.41 m"},
		{"at":"2 m","level":"0.85 m"},{"at":"3 m","level":"1.25 m"},{"at":"4 m","level":"1.42 m"},{"at":"5 m","level":"1.9 m"}]}`
	book := `"units":"metric","ground":{"method":"rod","readings":[{"back":"2.80 m","bench":"0 m"},{"at":0,"mid":"2.80 m"},{"at":"1 m","mid":"2.40 m"},
		{"at":"2 m","mid":"2.10 m"},{"at":"3 m","mid":"1.72 m"},{"at":"4 m","mid":"1.35 m"},{"at":"5 m","mid":"1.02 m"},{"fore":"2.80 m"}]}`
	head := `"units":"metric","ground":{"method":"string","from":"head","readings":[{"at":0,"drop":"0.32 m"},{"at":"2 m","drop":"0.63 m"},
		{"at":"4 m","drop":"1.05 m"},{"at":"6 m","drop":"1.40 m"},{"at":"8 m","drop":"1.83 m"}]}`
	three := `"units":"imperial","ground":{"method":"string","from":"foot","readings":[{"at":"0 ft","drop":"6 ft 2 in"},{"at":"6 ft","drop":"4 ft 2 in"},{"at":"13 ft","drop":"9 in"}]}`
	closed := `"units":"metric","ground":{"method":"rod","readings":[{"back":"2.80 m","bench":"10 m"},{"at":0,"mid":"2.80 m"},{"at":"1 m","mid":"2.40 m"},
		{"at":"2 m","fore":"1.27 m","back":"2.61 m"},{"at":"3 m","mid":"2.22 m"},{"at":"4 m","mid":"1.85 m"},{"at":"5 m","mid":"1.52 m"},{"fore":"4.14 m","bench":"10 m"}]}`
	open := strings.Replace(book, `,{"fore":"2.80 m"}`, `,{"at":"6 m","fore":"0.63 m"}`, 1)
	turned := `"units":"metric","ground":{"method":"rod","readings":[{"back":"1.80 m","bench":"10 m"},{"at":0,"mid":"1.80 m"},{"at":"1 m","mid":"1.40 m"},{"at":"2 m","mid":"1.02 m"},
		{"at":"3 m","fore":"0.68 m","back":"2.61 m"},{"at":"4 m","mid":"2.22 m"},{"at":"5 m","mid":"1.85 m"},{"at":"6 m","fore":"1.52 m"}]}`
	beside := strings.Replace(turned, `{"at":"3 m","fore":"0.68 m","back":"2.61 m"}`, `{"at":"3 m","mid":"0.68 m"},{"fore":"0.91 m","back":"0.84 m"},{"at":"3.5 m","mid":"0.43 m"}`, 1)
	beside = strings.NewReplacer("2.22", "0.22", "1.85", "0.15", "1.52", "0.05").Replace(beside)
	down := `"units":"metric","ground":{"method":"rod","readings":[{"at":"6 m","back":"0.40 m"},{"at":"5 m","mid":"0.75 m"},{"at":"4 m","mid":"1.08 m"},
		{"at":"3 m","fore":"1.45 m","back":"0.52 m"},{"at":"2 m","mid":"0.86 m"},{"at":"1 m","mid":"1.20 m"},{"at":"0 m","fore":"1.55 m"}]}`
	legs := `"units":"metric","ground":{"method":"slope","readings":[{"length":"4.2 m","angle":"8°"},{"length":"3.5 m","grade":"26 %"},
		{"length":"5.1 m","angle":"12.5°"},{"length":"4.4 m","angle":"26°"},{"length":"6 m","angle":"6.1°"}]}`
	gentle := `"units":"metric","ground":{"method":"string","from":"head","readings":[{"at":"0 m","drop":"0.32 m"},{"at":"1 m","drop":"0.41 m"},
		{"at":"2 m","drop":"0.63 m"},{"at":"3 m","drop":"0.80 m"},{"at":"4.8 m","drop":"0.96 m"},{"at":"6 m","drop":"1.19 m"},{"at":"7 m","drop":"1.43 m"}]}`
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
		{imperial, `"drop":"9 in"`, `"drop":"90 in"`, "ground.readings[4].drop", "9 in was"},
		{head, `"4 m"`, `"4 m"`, "", ""},
		{head, `"1.83 m"`, `"0.183 m"`, "ground.readings[4].drop", "1.830 m was"},
		{head, `"1.83 m"`, `"18.3 m"`, "ground.readings[4].drop", "1.830 m was"},
		{head, `"0.32 m"`, `"3.2 m"`, "ground.readings[0].drop", "320 mm was"},
		{three, `"13 ft"`, `"13 ft"`, "", ""},
		{three, `"4 ft 2 in"`, `"42 ft"`, "ground.readings[1].drop", "4 ft 2 in was"},
		{three, `"drop":"9 in"`, `"drop":"90 in"`, "ground.readings[2].drop", "9 in was"},
		{open, `"1 m"`, `"1 m"`, "", ""},
		{open, `"0.63 m"`, `"6.3 m"`, "ground.readings[7].fore", "630 mm was"},
		{closed, `"1 m"`, `"1 m"`, "", ""},
		{closed, `"1.27 m"`, `"1.72 m"`, "ground.readings[3].fore", "1.270 m was"},
		{closed, `"4.14 m"`, `"1.44 m"`, "ground.readings[7].fore", "4.140 m was"},
		{closed, `"4.14 m"`, `"4.31 m"`, "", ""}, // misread, and no slip of the pen
		{imperial, `"at":"9 ft"`, `"at":"90 ft"`, "ground.readings[3].at", "9 ft 0 in was"},
		{imperial, `"at":"13 ft"`, `"at":"130 ft"`, "ground.readings[4].at", "13 ft 0 in was"},
		{metric, `"at":"3 m"`, `"at":"30 m"`, "ground.readings[3].at", "3.000 m was"},
		{metric, `"at":"3 m"`, `"at":"0.3 m"`, "ground.readings[3].at", "3.000 m was"},
		{metric, `"at":"5 m"`, `"at":"50 m"`, "ground.readings[5].at", "5.000 m was"},
		{metric, `"at":"5 m"`, `"at":"9 m"`, "", ""},
		{metric, `"at":"3 m"`, `"at":"1.7 m"`, "", ""}, // out of order, and no slip of the pen
		{head, `"at":"4 m"`, `"at":"40 m"`, "ground.readings[2].at", "4.000 m was"},
		{book, `"at":"3 m"`, `"at":"30 m"`, "ground.readings[4].at", "3.000 m was"},
		{book, `"at":"3 m"`, `"at":"0.3 m"`, "ground.readings[4].at", "3.000 m was"},
		{book, `"at":"5 m"`, `"at":"50 m"`, "ground.readings[6].at", "5.000 m was"},
		{down, `"at":"3 m"`, `"at":"30 m"`, "ground.readings[3].at", "3.000 m was"},
		{down, `"at":"6 m"`, `"at":"60 m"`, "ground.readings[0].at", "6.000 m was"},
		{down, `"1 m"`, `"1 m"`, "", ""},
		{turned, `"1 m"`, `"1 m"`, "", ""},
		{turned, `"0.68 m"`, `"6.8 m"`, "ground.readings[4].fore", "680 mm was"},
		{turned, `"2.61 m"`, `"2.16 m"`, "", ""}, // no more than the ground's own steps
		{beside, `"1 m"`, `"1 m"`, "", ""},
		{beside, `"0.91 m"`, `"9.1 m"`, "ground.readings[5].fore", "910 mm was"},
		{beside, `"0.84 m"`, `"8.4 m"`, "ground.readings[5].back", "840 mm was"},
		{down, `"1.45 m"`, `"0.145 m"`, "", ""},
		{down, `"0.52 m"`, `"5.2 m"`, "ground.readings[3].back", "520 mm was"},
		{legs, `"6 m"`, `"6 m"`, "", ""},
		{legs, `"5.1 m"`, `"51 m"`, "ground.readings[2].length", "5.100 m was"},
		{legs, `"6.1°"`, `"61°"`, "ground.readings[4].angle", "6.1° was"},
		{legs, `"26°"`, `"62°"`, "", ""}, // a bank may be so
		{legs, `"6 m","angle":"6.1°"`, `"60 m","angle":"6.1°"`, "ground.readings[4].length", "6.000 m was"},
		{gentle, `"1 m"`, `"1 m"`, "", ""},
		{gentle, `"0.96 m"`, `"0.96 mm"`, "ground.readings[4].drop", "0.96 m was"},
		{gentle, `"0.96 m"`, `"0.96 cm"`, "ground.readings[4].drop", "0.96 m was"},
		{gentle, `"0.96 m"`, `"96 cm"`, "", ""},
		{gentle, `"0.96 m"`, `"960 mm"`, "", ""},
		{gentle, `"0.32 m"`, `"0.32 mm"`, "ground.readings[0].drop", "0.32 m was"},
		{gentle, `"0.32 m"`, `"12 mm"`, "", ""}, // the end of the string may be so low
		{gentle, `"0.32 m"`, `"3.2 cm"`, "", ""},
		{gentle, `"0.32 m"`, `"0.02 mm"`, "", ""}, // nor would it lie among the others in metres
		{gentle, `"0 m"`, `"0 mm"`, "", ""},
		{gentle, `"1.19 m"`, `"1.19 ft"`, "ground.readings[5].drop", "1.19 m was"},
		{gentle, `"1.43 m"`, `"1.43'"`, "ground.readings[6].drop", "1.43 m was"},
		{gentle, `"0.80 m"`, `"0.80 yd"`, "", ""}, // no more than the ground's own steps
		{gentle, `"1.43 m"`, `"1.43 yards"`, "", ""},
		{gentle, `"0.96 m"`, `"3.15 ft"`, "", ""}, // the same by another tape
		{gentle, `"0.96 m"`, `"3 ft 1 3/4 in"`, "", ""},
		{gentle, `"3 m"`, `"3 ft"`, "ground.readings[3].at", "3.000 m was"},
		{gentle, `"3 m"`, `"9.84 ft"`, "", ""},
		{metric, `"1.25 m"`, `"1.25 ft"`, "ground.readings[3].level", "1.25 m was"},
		{book, `"2.10 m"`, `"2.10 ft"`, "ground.readings[3].mid", "2.10 m was"},
		{closed, `"4.14 m"`, `"4.14 ft"`, "ground.readings[7].fore", "4.140 m was"},
		{imperial, `"4 ft 2 in"`, `"4.17 m"`, "ground.readings[2].drop", "4.17 ft was"},
		{gentle, `"1 m"`, `"1 mm"`, "ground.readings[1].at", "1 m was"},
		{gentle, `"6 m"`, `"6 mm"`, "ground.readings[5].at", "6 m was"},
		{strings.NewReplacer("0.", "", "1.", "1", " m", " cm").Replace(gentle), `"119 cm"`, `"119 m"`, "ground.readings[5].drop", "119 cm was"},
		{book, `"1.72 m"`, `"1.72 mm"`, "ground.readings[4].mid", "1.72 m was"},
		{legs, `"5.1 m"`, `"5.1 mm"`, "ground.readings[2].length", "5.1 m was"},
		{down, `"at":"3 m"`, `"at":"3 mm"`, "ground.readings[3].at", "3 m was"},
		{imperial, `"4 ft 2 in"`, `"50 in"`, "", ""},
		{strings.ReplaceAll(three, `"13 ft"`, `"13 ft","drop":"3 ft"},{"at":"16 ft"`), `"at":"13 ft"`, `"at":"13 in"`, "ground.readings[2].at", "13 ft 0 in was"},
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
			es.Faults(err)
			for i, f := range err.(Faults) {
				switch {
				case strings.Contains(f.Fix, " was perhaps meant: measure it again"):
					if said, where = f.Error(), f.Field; i > 0 {
						t.Errorf("%s for %s: the slip is told after %v", c.to, c.from, err)
					}
				case said != "" && f.Fix != "" && !strings.HasPrefix(f.Fix, "if that reading is right: "):
					t.Errorf("%s for %s: the slip is told, and yet %q", c.to, c.from, f.Fix)
				}
				if strings.Contains(f.Problem, "off the line") {
					said, where = f.Error(), f.Field
				}
			}
		} else {
			es.Result(r, p)
			for _, f := range r.Findings {
				if f.Rule == "readings" {
					said, where = f.Says, f.Where
				}
			}
		}
		line := ""
		if n, _, ok := strings.Cut(strings.TrimPrefix(c.field, "ground.readings["), "]"); ok {
			i, _ := strconv.Atoi(n)
			line = "reading " + strconv.Itoa(i+1)
		}
		if where != c.field && where != line || !strings.Contains(said, c.meant) || (said == "") != (c.field == "") {
			t.Errorf("%s for %s: told of %q: %s", c.to, c.from, where, said)
		}
	}
	files, _ := filepath.Glob("testdata/plans/*.json")
	for _, file := range files {
		if name := strings.TrimSuffix(filepath.Base(file), ".json"); name != "bad" {
			for _, f := range makeDemo(t, name).Findings {
				if f.Rule == "readings" {
					t.Errorf("%s: %s", name, f.Says)
				}
			}
		}
	}
}

// A slip is told with what else is wrong with a plan, and once.
func TestSlipIsToldAtOnce(t *testing.T) {
	const readings = `"readings":[{"at":"0 ft","drop":"6 ft 2 in"},{"at":"3 ft","drop":"5 ft 5 in"},{"at":"6 ft","drop":"42 ft"},{"at":"9 ft","drop":"3 ft 4 in"},{"at":"13 ft","drop":"9 in"}]`
	for doc, want := range map[string]string{
		`"path":{"width":"4 ft"},"crew":{"start":"in May"},"ground":{"method":"string",` + readings + `}`:                     "ground.readings[2].drop crew.start",
		`"path":{"width":"4 fft"},"ground":{"method":"string",` + readings + `}`:                                              "path.width ground.readings[2].drop",
		`"path":{"width":"4 ft"},"ground":{"method":"string",` + strings.Replace(readings, `"3 ft 4 in"`, `"3 fft"`, 1) + `}`: "ground.readings[3].drop",
		`"path":{"width":"4 ft","head":{"at":"90 ft"}},"ground":{"method":"string",` + readings + `}`:                         "ground.readings[2].drop path.head.at",
	} {
		_, faults := answer(t, []byte(`{"format":"slopewright.plan/1","units":"imperial",`+doc+"}"))
		var fields []string
		for _, f := range faults {
			fields = append(fields, f.Field)
		}
		if got := strings.Join(fields, " "); got != want {
			t.Errorf("%s\nis faulted at %q, not %q: %v", doc, got, want, faults)
		}
	}
}

// Heights in the column of distances and distances in that of heights are told as that,
// before what comes of it; ground that is as steep and can be no other is not.
func TestExchangedColumns(t *testing.T) {
	missing = func(text string) { t.Errorf("no Spanish for %q", text) }
	defer func() { missing = nil }()
	const foot = `"method":"string","readings":[{"at":"2.1 m","drop":"0 m"},{"at":"1.7 m","drop":"1.2 m"},{"at":"0.6 m","drop":"4 m"},{"at":"0 m","drop":"5.2 m"}]`
	for _, c := range []struct{ ground, more, fields, says string }{
		{foot, ``, "ground.readings", "distances and drops look exchanged; exchange the two: the ground then rises 2.100 m over 5.200 m"},
		{foot, `,"crew":{"start":"in May"}`, "ground.readings crew.start", "distances and drops look exchanged"},
		{`"method":"string","from":"head","readings":[{"at":"0.1 m","drop":"0 m"},{"at":"0.9 m","drop":"2.6 m"},{"at":"2.1 m","drop":"5.2 m"}]`, ``, "ground.readings steps", "distances and drops look exchanged"},
		{`"method":"levels","readings":[{"at":"0 m","level":"0 m"},{"at":"0.9 m","level":"2.6 m"},{"at":"2.1 m","level":"5.2 m"}]`, ``, "ground.readings steps", "distances and levels look exchanged"},
		{`"method":"levels","readings":[{"at":"0 m","level":"0 m"},{"at":"2.1 m","level":"5.2 m"}]`, `,"steps":{"fixed":[{"risers":13,"tread":"400 mm"}]}`, "ground.readings steps.fixed", "distances and levels look exchanged"},
		{`"method":"total","rise":"5.2 m","run":"2.1 m"`, ``, "ground.run ground.run", "the rise and the run look exchanged"},
		{`"method":"total","rise":"5.2 m","run":"5.1 m"`, ``, "ground.run", "no layout fits"},
	} {
		_, faults := answer(t, []byte(`{"format":"slopewright.plan/1","units":"metric","path":{"width":"1 m"},"ground":{`+c.ground+`}`+c.more+`}`))
		var fields []string
		for _, f := range faults {
			fields = append(fields, f.Field)
		}
		if got := strings.Join(fields, " "); got != c.fields || !strings.Contains(faults.Error(), c.says) {
			t.Errorf("%s%s is faulted at %q, not %q: %v", c.ground, c.more, got, c.fields, faults)
		}
		Language("es").Faults(faults)
	}
}
