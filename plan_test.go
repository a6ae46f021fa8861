package slopewright

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/slopewright/slopewright/internal/docjson"
)

var update = flag.Bool("update", false, "write the published schemas again")

// The demo sites: a gentle rise, a bench in the middle, a hill that steepens.
var demos = []string{"gentle", "bench", "steepening"}

func demo(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", "plans", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// What a person typed comes back as it was typed.
func TestPlanIsKeptAsTyped(t *testing.T) {
	for _, name := range demos {
		src := demo(t, name)
		p, err := ReadPlan(src)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out, err := p.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		var want, got any
		if err := json.Unmarshal(src, &want); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(out, &got); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s changed when written again (-read +written):\n%s", name, d)
		}
	}
}

// badBase is the plan that each row of bad.json spoils.
const badBase = `{
  "format": "slopewright.plan/1",
  "units": "metric",
  "ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "2 m", "level": "0.5 m"}, {"at": "4 m", "level": "1.2 m"}]},
  "path": {"width": "1.2 m"}
}`

type badRow struct {
	Name  string            `json:"name"`
	Patch json.RawMessage   `json:"patch"`
	Raw   map[string]string `json:"raw"`
	Field string            `json:"field"`
	Says  string            `json:"says"`
}

func badRows(t testing.TB) []badRow {
	t.Helper()
	var rows []badRow
	if err := json.Unmarshal(demo(t, "bad"), &rows); err != nil {
		t.Fatal(err)
	}
	return rows
}

func (r badRow) document(t testing.TB) []byte {
	t.Helper()
	doc := badBase
	for from, to := range r.Raw {
		if !strings.Contains(doc, from) {
			t.Fatalf("%s: the base plan has no %s", r.Name, from)
		}
		doc = strings.Replace(doc, from, to, 1)
	}
	if r.Patch == nil {
		return []byte(doc)
	}
	var base, patch any
	if err := json.Unmarshal([]byte(doc), &base); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(r.Patch, &patch); err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(merge(base, patch))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// merge is JSON Merge Patch, RFC 7396.
func merge(target, patch any) any {
	p, ok := patch.(map[string]any)
	if !ok {
		return patch
	}
	t, ok := target.(map[string]any)
	if !ok {
		t = map[string]any{}
	}
	for k, v := range p {
		if v == nil {
			delete(t, k)
		} else {
			t[k] = merge(t[k], v)
		}
	}
	return t
}

func TestBadDocuments(t *testing.T) {
	rows := badRows(t)
	if len(rows) < 60 {
		t.Fatalf("%d rows", len(rows))
	}
	if _, err := answer(t, []byte(badBase)); err != nil {
		t.Fatalf("the base plan itself fails: %v", err)
	}
	for _, r := range rows {
		t.Run(r.Name, func(t *testing.T) {
			_, faults := answer(t, r.document(t))
			if len(faults) == 0 {
				t.Fatal("no fault was found")
			}
			for _, f := range faults {
				if f.Problem == "" {
					t.Errorf("a fault without a problem: %+v", f)
				}
				if strings.HasPrefix(f.Field, r.Field) && (r.Field != "" || f.Field == "") && strings.Contains(f.Error(), r.Says) {
					return
				}
			}
			t.Errorf("no fault at %q that says %q; there are:\n%v", r.Field, r.Says, Faults(faults))
		})
	}
}

// answer calls the one door and tells result and faults apart.
func answer(t testing.TB, doc []byte) (json.RawMessage, Faults) {
	t.Helper()
	out := Call(doc)
	var e ErrorDocument
	if err := json.Unmarshal(out, &e); err != nil {
		t.Fatalf("the answer is not JSON: %v\n%s", err, out)
	}
	switch e.Format {
	case ErrorFormat:
		if len(e.Faults) == 0 {
			t.Fatal("an error document without faults")
		}
		return nil, e.Faults
	case ResultFormat, AboutFormat:
		return out, nil
	}
	t.Fatalf("unknown answer %s", out)
	return nil, nil
}

// All faults of a document are reported at once.
func TestAllFaultsAtOnce(t *testing.T) {
	_, faults := answer(t, []byte(`{
	  "format": "slopewright.plan/1", "units": "furlongs", "colour": 1,
	  "ground": {"method": "string", "readings": [{"at": "0 ft", "drop": "7 fft"}, {"at": "x", "drop": "2 ft"}]},
	  "path": {"width": "-1 ft"}, "soil": {"class": 4}}`))
	var fields []string
	for _, f := range faults {
		fields = append(fields, f.Field)
	}
	want := []string{"units", "colour", "ground.readings[0].drop", "ground.readings[1].at", "path.width", "soil.class"}
	if d := cmp.Diff(want, fields); d != "" {
		t.Errorf("faulted fields differ (-want +got):\n%s", d)
	}
}

// What a document gets wrong and what only the whole plan tells are reported
// together, but nothing that may only follow from another fault.
func TestFaultsOfBothReadings(t *testing.T) {
	doc := `{
	  "format": "slopewright.plan/1", "units": "cubits", "colour": "red",
	  "ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "2 m", "level": "0.5 m"}, {"at": "4 m", "level": "1.2 m"}]},
	  "path": {"width": "1.2 m", "head": {"at": "9 m"}},
	  "steps": {"prefer": "speed", "rules": "gardn", "landing": {"every": 3, "fewest": 5}},
	  "soil": {"class": "mud", "density": 900, "loose_density": 5000, "tpye": "A"},
	  "build": {"timber": "7x7x7", "face": "none"}, "stock": [{"section": "8x9x", "length": "3 m"}, {"section": "6x6"}],
	  "prices": {"items": [{"item": "topping", "price": "x", "per": "m3"}]},
	  "crew": {"start": "yesterday", "days": ["mon", "funday"]}}`
	want := []string{
		"units", "colour", "steps.prefer", "soil.loose_density", "soil.tpye", "stock[1].length", "prices.items[0].price", "crew.days[1]",
		"path.head.at", "steps.rules", "steps.landing.fewest", "soil.class", "crew.start", "build.timber", "build.face", "stock[0].section",
	}
	for _, doc := range []string{doc, `{"format": "slopewright.request/1", "plan": ` + doc + `}`} {
		_, faults := answer(t, []byte(doc))
		var fields []string
		for _, f := range faults {
			fields = append(fields, f.Field)
		}
		if d := cmp.Diff(want, fields); d != "" {
			t.Errorf("faulted fields differ (-want +got):\n%s", d)
		}
	}
	for _, doc := range []string{
		// Without its reading the hill goes down; without its width the path has none.
		`{"format": "slopewright.plan/1", "ground": {"method": "levels", "readings": [{"at": 0, "level": "1 m"}, {"at": "2 m", "level": "2 mm m"}]}, "path": {"width": "1.2 m"}}`,
		`{"format": "slopewright.plan/1", "ground": {"method": "string", "from": "top", "readings": [{"at": 0, "drop": "0 m"}, {"at": "2 m", "drop": "1 m"}]}, "path": {"width": "1.2 m"}}`,
		`{"format": "slopewright.plan/1", "ground": {"method": "slope", "readings": [{"length": 1}]}, "path": {"width": "1.2 m"}}`,
		`{"format": "slopewright.plan/1", "ground": {"method": "total", "rise": 1, "run": 3}, "path": {"width": "wide"}, "steps": {"kinds": ["framed"], "rules": "ncc-public"}}`,
		`{"format": "slopewright.request/1", "plan": 7}`,
	} {
		if _, faults := answer(t, []byte(doc)); len(faults) != 1 {
			t.Errorf("one thing is wrong, and there are %d faults:\n%v\n%s", len(faults), faults, doc)
		}
	}
}

// A field that cannot be read hides the checks that need it, and no others of its part.
func TestFaultsBesideOneThatCannotBeRead(t *testing.T) {
	const ground = `"ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "2 m", "level": "0.5 m"}, {"at": "4 m", "level": "1.2 m"}]}`
	for doc, want := range map[string]string{
		ground + `, "crew": {"people": "two", "start": "in May", "days": ["mon", "sat"], "days_per_week": 3}`:                                                                                                                          "crew.people crew.days_per_week crew.start",
		ground + `, "soil": {"repose": "steep", "swell": 0.2, "loose_density": 1300, "places": [{"name": "lawn"}, {"name": "lawn"}]}`:                                                                                                  "soil.repose soil.loose_density soil.places[1].name",
		ground + `, "soil": {"density": "heavy", "loose_density": 1700, "places": [{"name": "lawn"}, {"name": "lawn"}]}`:                                                                                                               "soil.density soil.places[1].name",
		ground + `, "soil": {"loose_density": 1700, "clas": "clay"}`:                                                                                                                                                                   "soil.clas",
		ground + `, "prices": {"items": [{"item": "topping", "price": 7, "per": "m3"}, {"item": "toping", "price": "1", "per": "m3"}, {"item": "spikes", "price": "1", "per": "bushel"}], "labour": [{"rate": "40"}, {"rate": "60"}]}`: "prices.items[0].price prices.items[1].item prices.items[2].item prices.labour[1].hours prices.items[2].per",
		ground + `, "steps": {"wash": "steep", "landing": {"every": 4, "fewest": 5}, "riser": {"min": "180 mm", "max": "120 mm"}}`:                                                                                                     "steps.wash steps.riser.min steps.landing.fewest",
		ground + `, "steps": {"riser": {"min": "180 mm", "max": "low"}, "fixed": [{"risers": 3}]}`:                                                                                                                                     "steps.riser.max steps.fixed[0].tread",
		ground + `, "build": {"pin": "2 fft", "base": 0, "topping": 0, "face": "plank", "framed": {"post": "bamboo"}}`:                                                                                                                 "build.pin build.face build.base build.framed.post",
		ground + `, "build": {"base": "2 fft", "topping": 0}`:                                                                                                                                                                          "build.base",
		ground + `, "stock": [{"section": "100x200", "length": "thin"}, {"section": "log", "length": "3 m"}, {"section": "6x6", "length": "8 ft", "thickness": "150 mm", "width": "140 mm"}]`:                                          "stock[0].length stock[2].thickness stock[1].section",
		`"ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "2 m", "level": "half"}, {"at": "4 m", "level": "1.2 m"}, {"at": "3 m", "level": "1.5 m"}]}`:                                                        "ground.readings[1].level ground.readings[3].at",
		`"ground": {"method": "levels", "readings": [{"at": 0, "level": 2}, {"at": "2 m", "level": "half"}, {"at": "4 m", "level": "1.2 m"}]}`:                                                                                         "ground.readings[1].level path.head.level",
		`"ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "2 m", "level": "1 m"}, {"at": "4 m", "level": "up"}]}`:                                                                                             "ground.readings[2].level",
		`"ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "two", "level": "1 m"}, {"at": "4 m", "level": "2 m"}]}, "built": [{"riser": 2, "at": "0.3 m", "level": "0.1 m"}]`:                                  "ground.readings[1].at built[0].riser",
		`"ground": {"method": "rod", "readings": [{"back": "1.5 m", "bench": 0}, {"at": 0, "mid": "1.4 fm"}, {"at": "2 m"}, {"at": "4 m", "fore": "0.2 m"}]}`:                                                                          "ground.readings[1].mid ground.readings[2]",
		`"ground": {"method": "rod", "readings": [{"back": "1.5", "bench": 0}, {"at": 0, "mid": "1.4 m"}, {"at": "4 m", "mid": "0.2 m"}, {"fore": "1 m", "bench": 0}]}`:                                                                "ground.readings[0].back",
		`"ground": {"method": "string", "from": "top", "readings": [{"at": 0, "drop": "1 m"}, {"at": "2 m", "drop": "-1 m"}]}`:                                                                                                         "ground.from ground.readings[1].drop",
		ground + `, "prices": {"items": [{"item": "topping", "price": "2,5O", "per": "m3"}]}, "crew": {"people": "two"}, "soil": {"class": "cheese"}, "steps": {"riser": {"max": "low"}, "fixed": [{"risers": 9, "tread": "400 mm"}]}`: "prices.items[0].price crew.people steps.riser.max soil.class steps.fixed",
		ground + `, "prices": {"items": [{"item": "toping", "price": "1", "per": "m3"}]}, "steps": {"max_cut": "0 m", "max_raise": "0 m"}`:                                                                                             "prices.items[0].item steps steps",
		ground + `, "prices": {"items": [{"item": "toping", "price": "1", "per": "m3"}]}, "steps": {"max_cut": "0 m", "prefer": "cost"}`:                                                                                               "prices.items[0].item steps steps",
		ground + `, "stock": [{"section": "100x200", "length": "1 m", "price": "l0"}], "steps": {"prefer": "cost"}`:                                                                                                                    "stock[0].price",
		ground + `, "stock": [{"section": "100x200", "length": "1 m", "price": "l0"}], "crew": {"start": "in May"}`:                                                                                                                    "stock[0].price crew.start stock",
		ground + `, "path": {"width": "4 fft", "head": {"at": "9 m"}}`:                                                                                                                                                                 "path.width path.head.at",
	} {
		if !strings.Contains(doc, `"path"`) {
			doc += `, "path": {"width": "1.25 m"}`
		}
		doc = `{"format": "slopewright.plan/1", "units": "metric", ` + doc + "}"
		_, faults := answer(t, []byte(doc))
		var fields []string
		for _, f := range faults {
			fields = append(fields, f.Field)
		}
		if got := strings.Join(fields, " "); got != want {
			t.Errorf("faults of %s\nwant    %s\n%s", got, want, faults)
		}
	}
}

// And so are all those that only the making of the plan can find.
func TestAllFaultsOfMakingAtOnce(t *testing.T) {
	_, faults := answer(t, []byte(`{
	  "format": "slopewright.plan/1",
	  "ground": {"method": "levels", "readings": [{"at": 3, "level": 0}, {"at": 3, "level": 1}, {"at": 2, "level": 1}]},
	  "path": {"width": 1}, "soil": {"class": "cheese"}, "steps": {"rules": "none"}, "build": {"timber": "1x1"}}`))
	text := Faults(faults).Error()
	for _, want := range []string{"ground.readings[1].at", "ground.readings[2].at", "soil.class", "steps.rules", "build.timber"} {
		if !strings.Contains(text, want) {
			t.Errorf("no fault at %s in:\n%s", want, text)
		}
	}
}

func TestHugeAndDeepDocuments(t *testing.T) {
	for name, doc := range map[string][]byte{
		"10 MB of text":      []byte(`{"format":"slopewright.plan/1","title":"` + strings.Repeat("x", 10<<20) + `"}`),
		"10 MB of nothing":   bytes.Repeat([]byte(" "), 10<<20),
		"a million brackets": bytes.Repeat([]byte("["), 1<<20),
		"a million objects":  bytes.Repeat([]byte(`{"a":`), 1<<18),
		"4 MB of fields":     []byte(`{"a0":1` + strings.Repeat(`,"b":1`, 600_000) + `}`),
		"4 MB of readings":   []byte(`{"format":"slopewright.plan/1","path":{"width":1},"ground":{"method":"levels","readings":[` + strings.Repeat(`{"at":0,"level":0},`, 200_000) + `{}]}}`),
		"100 000 bad names":  manyNames(100_000),
		"invalid UTF-8":      []byte("{\"format\":\"slopewright.plan/1\",\"title\":\"\xff\xfe\"}"),
		"nothing":            nil,
		"null":               []byte("null"),
		"a number":           []byte("12"),
	} {
		t.Run(name, func(t *testing.T) {
			if _, faults := answer(t, doc); len(faults) == 0 || len(faults) > docjson.MaxFaults+1 {
				t.Errorf("%d faults", len(faults))
			}
		})
	}
}

func manyNames(n int) []byte {
	var b bytes.Buffer
	b.WriteString(`{"format":"slopewright.plan/1"`)
	for i := range n {
		b.WriteString(`,"n` + strings.Repeat("o", i%7) + string(rune('a'+i%26)) + string(rune('a'+i/26%26)) + string(rune('a'+i/676%26)) + string(rune('a'+i/17576)) + `":{}`)
	}
	b.WriteString("}")
	return b.Bytes()
}

func FuzzCall(f *testing.F) {
	for _, name := range append(slices.Clone(demos), "earth") {
		f.Add(demo(f, name))
	}
	for _, r := range badRows(f) {
		f.Add(r.document(f))
	}
	f.Fuzz(func(t *testing.T, doc []byte) {
		if len(doc) > 20_000 {
			t.Skip()
		}
		answer(t, doc)
	})
}

// The published schemas are those of the Go types. Run with -update to write
// them after changing a type.
func TestPublishedSchemas(t *testing.T) {
	for name, want := range map[string][]byte{
		"plan-1.schema.json":    PlanSchema(),
		"result-1.schema.json":  ResultSchema(),
		"sketch-1.schema.json":  SketchSchema(),
		"request-1.schema.json": RequestSchema(),
	} {
		path := filepath.Join("site", "schema", name)
		if *update {
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s is not what the Go types say; run go test -run TestPublishedSchemas -update .", path)
		}
	}
}

// What is told of plans in feet has feet first, and nothing in metres alone but what
// shows how lengths can be written, and what is priced by the metre.
func TestPlansUnitsEverywhere(t *testing.T) {
	aside := regexp.MustCompile(`\([^()]*\)|"[^"]*"`)
	metric := regexp.MustCompile(`[0-9] ?(mm|cm|m|km|m³|m²|kg|t|l|N|kN|m2|m3|kN/m2)([ ,;:.]|$)`)
	check := func(where, text string) {
		if strings.HasPrefix(text, "write ") && strings.Contains(text, "4 mm or 4 m") || strings.HasPrefix(text, "write a length like") ||
			strings.Contains(text, "such as 50 mm or 2 in") || strings.Contains(text, "for every metre of width, or ") {
			return
		}
		if metric.MatchString(aside.ReplaceAllString(text, "")) {
			t.Errorf("%s: %s", where, text)
		}
	}
	imperial := strings.NewReplacer(`"units":"metric"`, `"units":"imperial"`, `"units": "metric"`, `"units": "imperial"`)
	docs := []string{
		`{"format": "slopewright.plan/1", "path": {"width": 1}, "ground": {"method": "string", "readings": [{"at": 0, "drop": 120}, {"at": 400, "drop": 1}]}}`,
		`{"format": "slopewright.plan/1", "path": {"width": 1}, "ground": {"method": "string", "readings": [{"at": 0, "drop": 2}, {"at": 0.0004, "drop": -1}]}}`,
		`{"format": "slopewright.plan/1", "path": {"width": 1}, "ground": {"method": "slope", "readings": [{"length": 0.004, "angle": 5}]}}`,
		`{"format": "slopewright.plan/1", "path": {"width": 1}, "ground": {"method": "total", "rise": 1, "run": 3}, "steps": {"fixed": [{"risers": 5, "tread": 0.002}]}}`,
		`{"format": "slopewright.plan/1", "path": {"width": 1}, "ground": {"method": "rod", "readings": [{"back": 1.5, "bench": 0}, {"at": 0, "mid": 1.4, "booked": 0.1}, {"at": 4, "mid": 0.2, "booked": 1.5}, {"fore": 1.5, "bench": 0, "booked": 0}]}}`,
		`{"format": "slopewright.plan/1", "path": {"width": 1}, "ground": {"method": "rod", "readings": [{"back": 1.5, "bench": 0}, {"at": 0, "mid": 1.4}, {"at": 4, "mid": 0.2}, {"fore": 1.0, "bench": 0}]}}`,
	}
	for _, r := range badRows(t) {
		docs = append(docs, string(r.document(t)))
	}
	files, _ := filepath.Glob("testdata/plans/*.json")
	for _, file := range files {
		docs = append(docs, string(demo(t, strings.TrimSuffix(filepath.Base(file), ".json"))))
	}
	missing = func(text string) { t.Errorf("no Spanish for %q", text) }
	defer func() { missing = nil }()
	for _, doc := range docs {
		if doc = imperial.Replace(doc); !strings.Contains(doc, `"units"`) {
			doc = strings.Replace(doc, "{", `{"units": "imperial", `, 1)
		}
		out, faults := answer(t, []byte(doc))
		if strings.HasPrefix(doc, "[") || strings.Contains(doc, "cubits") {
			continue
		}
		Language("es").Faults(faults)
		for _, f := range faults {
			check(f.Field, f.Problem)
			check(f.Field, f.Fix)
		}
		var r struct {
			Ground struct {
				Checks []struct{ Says string }
				Notes  []string
			}
			Findings []struct{ Says string }
			Answer   []struct{ Says string }
		}
		if out != nil {
			if err := json.Unmarshal(out, &r); err != nil {
				t.Fatal(err)
			}
		}
		for _, x := range append(append(r.Ground.Checks, r.Findings...), r.Answer...) {
			check("result", x.Says)
		}
		for _, x := range r.Ground.Notes {
			check("note", x)
		}
	}
}

// A plan in feet is told of its faults in feet, with the metres behind.
func TestFaultsInThePlansUnits(t *testing.T) {
	for want, doc := range map[string]string{
		"steps.fixed: end 27 ft 2 3/4 in (8.300 m) beyond the head; take 27 ft 2 3/4 in (8.300 m) out of the treads": `"path": {"width": "4 ft"},
			"steps": {"fixed": [{"risers": 3, "tread": "300 mm", "landing": "1 m"}, {"risers": 40, "tread": "300 mm"}]}`,
		"a landing of 10 ft 10 11/16 in (3.320 m) at steps.fixed[0].landing fills the run of 16 ft 4 7/8 in (5.000 m)": `"path": {"width": "4 ft"},
			"steps": {"kinds": ["framed"], "fixed": [{"kind": "framed", "platform": true, "risers": 4, "tread": "280 mm", "landing": "4 m"}, {"kind": "framed", "risers": 4, "tread": "280 mm"}]}`,
		"write a value from 11 13/16 in (0.3 m) to 19 ft 8 1/4 in (6 m)": `"path": {"width": "40 ft"}`,
	} {
		doc = `{"format": "slopewright.plan/1", "units": "imperial", "ground": {"method": "total", "rise": "1.5 m", "run": "5 m"}, ` + doc + "}"
		for _, d := range []string{doc, `{"format": "slopewright.request/1", "plan": ` + doc + "}"} {
			if _, faults := answer(t, []byte(d)); len(faults) == 0 || !strings.Contains(faults.Error(), want) {
				t.Errorf("not said: %s\n%v", want, faults)
			}
		}
		if _, faults := answer(t, []byte(strings.Replace(doc, "imperial", "metric", 1))); strings.Contains(faults.Error(), "in (") {
			t.Errorf("a metric plan: %v", faults)
		}
	}
	w := words{imperial: true}
	for _, same := range []string{"", "(", "a ( b", "3 m (of it)", "x (3 in)", "about m (3 in)", "5 m² (3 ft)", "10 mm (3/8 inch)"} {
		if got := w.turned(same); got != same {
			t.Errorf("%q becomes %q", same, got)
		}
	}
	if got := w.turned("from -1.500 m (-4 ft 11 1/16 in) to 863.6 mm (34 in), 6.000 m (19.69 ft)."); got != "from -4 ft 11 1/16 in (-1.500 m) to 34 in (863.6 mm), 19.69 ft (6.000 m)." {
		t.Error(got)
	}
}

// A bend that will not do is told once, and does not hide that the hill is too steep.
func TestBendHidesNoHill(t *testing.T) {
	const doc = `{"format": "slopewright.plan/1", "ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "3 m", "level": "3 m"}]},
		"path": {"width": "1.2 m", "bends": [{"at": "4 m", "radius": "2 m", "turn": 30}]}}`
	_, faults := answer(t, []byte(doc))
	if len(faults) != 2 || faults[0].Field != "path.bends[0].at" || faults[1].Field != "steps" {
		t.Error(faults)
	}
}

// What a program does something about is marked, in any language.
func TestKindsOfFaults(t *testing.T) {
	_, err := ReadPlan([]byte(`{"format": "slopewright.plan/1", "colour": "red", "path": {"width": "4"}, "ground": {"method": "total", "rise": "2 m", "run": "O.96 m"}}`))
	for _, err := range []error{err, Language("es").Faults(err)} {
		kinds := map[string]string{}
		for _, f := range err.(Faults) {
			kinds[f.Field] = f.Kind
		}
		if kinds["colour"] != "field" || kinds["path.width"] != "unit" || kinds["ground.run"] != "" || len(kinds) != 3 {
			t.Error(kinds)
		}
	}
}

// What was typed is quoted as it was typed, and what was probably meant is said.
func TestFaultsSayWhatWasMeant(t *testing.T) {
	const ground = `"ground": {"method": "levels", "readings": [{"at": 0, "level": "0.2 m"}, {"at": "2 m", "level": "0.5 m"}, {"at": "4.0 m", "level": "1.2 m"}]}`
	item := func(price, per string) string {
		return ground + `, "prices": {"items": [{"item": "base-gravel", "price": "` + price + `", "per": "` + per + `"}]}`
	}
	for doc, want := range map[string]string{
		ground + `, "path": {"width": "1 m", "head": {"level": "-0.18 m"}}`: `path.head.level: "-0.18 m" is not above the foot`,
		ground + `, "path": {"width": "1 m", "head": {"at": "7.50 m"}}`:     `path.head.at: "7.50 m" is outside`,
		ground + `, "path": {"width": "l.2O m"}`:                            `path.width: "l.2O m" is not a length: it has a letter for a figure in it; write 1.20 m`,
		ground + `, "prices": {"currency": "euro"}`:                         `prices.currency: "euro" is not a currency code; write its code of three capitals, such as EUR, USD or GBP`,
		ground + `, "crew": {"start": "next Monday"}`:                       `crew.start: "next Monday" is not a day of the calendar; write year, month and day, such as 2026-05-02`,
		ground + `, "prices": {"tax": "8.25"}`:                              `prices.tax: "8.25" is a number without a unit; write 8.25 %`,
		item("2,50", "m3"):                                                  "",
		item("2,5", "m3"):                                                   "",
		item("1,200", "m3"):                                                 `prices.items[0].price: "1,200" may mean 1200 or 1.200: the comma may part thousands or decimals; write 1200 or 1.200`,
		item("1.200,50", "m3"):                                              "is not an amount of money",
		item("1,2,3", "m3"):                                                 "is not an amount of money",
		item("2,", "m3"):                                                    "is not an amount of money",
		item("2.5O", "m3"):                                                  `"2.5O" is not an amount of money: it has a letter for a figure in it; write 2.50`,
		item("7", "bag"):                                                    `prices.items[0].per: "bag" does not tell how much one holds; give in holds how much`,
	} {
		if !strings.Contains(doc, `"path"`) {
			doc += `, "path": {"width": "1 m"}`
		}
		_, faults := answer(t, []byte(`{"format": "slopewright.plan/1", "units": "metric", `+doc+"}"))
		if got := Faults(faults).Error(); (got == "") != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%s\nwant %s\n got %s", doc, want, got)
		}
	}
	p, err := ReadPlan([]byte(`{"format": "slopewright.plan/1", "path": {"width": "1 m"}, ` + item("2,50", "m3") + "}"))
	if err != nil || p.Prices.Items[0].Price.String() != "2.5" {
		t.Errorf("2,50 is %v, %v", p.Prices.Items[0].Price, err)
	}
}
