//go:build !js || whole

package slopewright

import (
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"sort"
	"strings"
	"testing"

	"github.com/slopewright/slopewright/earthwork"
	"github.com/slopewright/slopewright/stair"
)

var untold = flag.String("untold", "", "file for the texts that the Spanish words do not have")

// toTell are the plans that between them have every feature, as patches of the
// test plans.
func toTell(t testing.TB) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	add := func(name, patch string) {
		key := name + " " + patch
		if len(key) > 120 {
			key = key[:120]
		}
		out[key] = spoilt(t, demo(t, name), patch)
	}
	files, err := filepath.Glob("testdata/plans/*.json")
	if err != nil {
		t.Fatal(err)
	}
	other := map[string]string{"imperial": "metric", "metric": "imperial"}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".json")
		if name == "bad" {
			continue
		}
		add(name, `{}`)
		p, err := ReadPlan(demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		add(name, `{"units": "`+textOr(other[p.Units], "imperial")+`"}`)
	}
	for _, s := range earthwork.Soils() {
		for _, u := range []string{"imperial", "metric"} {
			add("steepening", `{"units": "`+u+`", "soil": {"class": "`+s.ID+`", "seen": ["cracks", "dug-before", "water"], "topsoil": "100 mm", "spread": "100 mm"}}`)
		}
	}
	for _, r := range stair.RuleSets() {
		for _, u := range []string{"imperial", "metric"} {
			for _, name := range []string{"steepening", "gentle", "halfway", "terrace"} {
				if (name < "h") == (u == "metric") {
					continue
				}
				add(name, `{"units": "`+u+`", "steps": {"rules": "`+r.ID+`", "joined": true}}`)
				add(name, `{"units": "`+u+`", "steps": {"rules": "`+r.ID+`", "kinds": ["box", "framed"]}}`)
				add(name, `{"units": "`+u+`", "steps": {"rules": "`+r.ID+`", "fixed": [{"kind": "framed", "risers": 4, "tread": "200 mm", "landing": "0.7 m"}, {"risers": 3, "tread": "500 mm"}]}}`)
			}
		}
	}
	for i, w := range []string{
		`{"steps": {"prefer": "walking"}}`, `{"steps": {"prefer": "cost"}}`, `{"steps": {"prefer": "hours"}}`, `{"steps": {"courses": true}}`,
		`{"steps": {"wash": 0}}`, `{"steps": {"landing": {"every": 3}}}`, `{"path": {"foot": {"slack": "0.3 m"}, "head": {"slack": "0.3 m"}}}`,
		`{"soil": {"topsoil": "0.3 m", "haul": "40 m", "unload": "head", "swell": 0.3, "shrink": 0.2, "density": 1500, "batter": 0.2, "digging": 0.4}}`,
		`{"soil": {"places": [{"name": "compost corner", "off": "3 m", "room": {"length": "1 m", "width": "1 m", "depth": "0.3 m"}}, {"name": "skip", "away": true, "off": "20 m"}, {"name": "old bank", "fetch": true, "off": "30 m", "rise": "-1 m"}]}}`,
		`{"soil": {"batter": 0, "seen": ["cracks"]}}`, `{"soil": {"batter": 0.1}, "build": {"bank_to": "1.2 m"}}`, `{"soil": {"batter": 0.1}, "build": {"bank_to": "0.5 m", "bank_from": "0 m"}}`,
		`{"water": {"length": "60 m", "width": "30 m", "rain": "60 mm"}}`, `{"water": {"length": "60 m", "width": "30 m", "rain": "60 mm", "drain": "pipe", "years": 5}}`,
		`{"water": {"length": "6 m", "width": "3 m", "rain": "10 mm", "drain": "none", "cover": "woodland"}}`, `{"water": {"length": "600 m", "width": "300 m", "rain": "100 mm", "fall": "12 %", "side": 1, "cover": "paving"}}`,
		`{"water": {"length": "600 m", "width": "300 m", "rain": "100 mm", "fall": "0.3 %", "side": 1, "cover": "roof", "drain": "pipe"}}`,
		`{"build": {"edging": {"side": "left", "piece": "2 m"}, "lights": {"every": "2 m"}}}`, `{"build": {"edging": {}, "lights": {"every": "1 m", "watts": 20, "gauge": 18, "lead": "40 m", "from": "foot"}}}`,
		`{"build": {"joint": "half-lap", "splice_lap": "200 mm", "face": "2x6", "face_rebate": "20 mm", "landing_back": true}}`, `{"build": {"joint": "rebate", "face": "2x6", "cross_every": "0.5 m"}}`,
		`{"build": {"footing": {"kind": "piers"}, "on_edge": true, "fill": "100 mm"}}`, `{"build": {"footing": {"kind": "buried", "courses": 2}}}`, `{"build": {"footing": {"kind": "concrete"}, "bag": "none"}}`, `{"build": {"footing": {"kind": "concrete"}, "bag": "60lb"}}`,
		`{"build": {"no_pins": true, "no_fabric": true, "coats": 0, "topping": "0 m", "base": "0 m"}}`, `{"build": {"timber": "4x6", "on_edge": true, "pin": "0.5 m", "bar": "no5-bar"}}`, `{"build": {"timber": "4x6"}}`, `{"build": {"timber": "100x200"}}`, `{"build": {"timber": "8x8", "bedding": "0 m"}}`,
		`{"build": {"topping_gravel": "ballast", "fill_gravel": "drain-rock", "base_gravel": "drain-rock", "fill": "50 mm"}}`,
		`{"cut": {"factory_ends": [{"use": "side-timber", "ends": 1}], "then": "patterns", "heaviest_board": "80 kg", "keep_from": "100 mm"}}`,
		`{"stock": [{"section": "6x6", "length": "12 ft"}, {"section": "6x6", "length": "7 ft", "on_hand": 3, "cut_ends": 1}, {"section": "4x4", "length": "8 ft", "price": "3"}]}`,
		`{"stock": [{"section": "6x6", "length": "16 ft", "price": "40"}, {"section": "6x6", "length": "7 ft", "on_hand": 30}]}`,
		`{"stock": [{"section": "6x6", "length": "16 ft", "price": "40", "available": 4}, {"section": "6x6", "length": "10 ft", "price": "30"}], "prices": {"tax": "8 %", "items": [{"item": "topping", "price": "5", "per": "lb"}, {"item": "unicorn", "price": "5", "per": "each"}, {"item": "pin", "price": "5", "per": "m3"}, {"item": "base-gravel", "name": "3/4 crushed", "price": "40", "per": "yd3", "pack": 0.5, "least": 10}]}}`,
		`{"prices": {"deliveries": [{"name": "gravel truck", "price": "85.00", "items": ["base-gravel", "topping"], "load": 3, "per": "yd3"}, {"price": "45.50", "items": ["board"], "untaxed": true}, {"name": "crane", "items": ["stringer"]}, {"items": ["fabric"], "price": "3", "load": 1, "per": "m3"}], "labour": [{"rate": "42.35"}, {"name": "setting out", "hours": 4.5, "rate": "61.25"}, {"hours": 3}], "markup": "12.5 %", "labour_markup": "9.7 %", "tax": "8.375 %", "rounding": "half-even", "tax_labour": true}}`,
		`{"prices": {"labour": [{"name": "crew"}], "markup": "3 %", "rounding": "up", "tax": "5 %"}}`,
		`{"crew": {"people": 1, "hours_per_day": 8, "days_per_week": 5, "start": "2026-05-04", "rates": {"deep_digging": 0.2, "trimming": 3, "loading": 1, "barrow": 0.06, "wheeling": 50, "filling": 0.5, "gravel": 1, "spreading": 3, "topsoil": 0.5, "carrying": 30, "box": 2, "framing": 1}}}`,
		`{"crew": {"people": 4, "days_per_week": 2, "start": "2026-05-04"}}`,
		`{"steps": {"kinds": ["framed"]}}`, `{"steps": {"kinds": ["framed"]}, "build": {"framed": {"solid": true, "housing": "10 mm", "ledger": true}}}`, `{"steps": {"kinds": ["framed"]}, "build": {"framed": {"solid": true}}}`,
		`{"steps": {"kinds": ["framed"]}, "build": {"framed": {"composite": true, "open_risers": true, "guard_from": "0.2 m", "handrail_from": 2, "handrail_sides": 2, "handrail_top": "0.3 m", "handrail_bottom": "0.3 m"}}}`,
		`{"steps": {"kinds": ["framed"]}, "build": {"framed": {"ledger": true, "gap": "200 mm", "stringer": "2x12", "span_limit": "1.5 m", "min_throat": "100 mm"}, "bag": "80lb"}}`,
		`{"steps": {"kinds": ["box", "framed"], "max_cut": "0.2 m", "landing": {"max": "2 m"}}}`,
		`{"path": {"bends": [{"at": "1 m", "radius": "3 m", "turn": 20}]}}`, `{"path": {"bends": [{"at": "1 m", "radius": "1.5 m", "turn": -40}, {"at": "3 m", "radius": "2 m", "turn": 30}]}, "steps": {"kinds": ["box", "framed"]}}`,
		`{"steps": {"max_raise": "1 m", "fixed": [{"risers": 1, "landing": "3 m"}, {"risers": 4, "tread": "300 mm"}]}}`, `{"steps": {"fixed": [{"risers": 2, "tread": "1 m", "landing": "1 m"}, {"risers": 9, "tread": "300 mm"}]}}`,
		`{"steps": {"fixed": [{"risers": 1, "tread": "1 m"}]}}`,
		`{"steps": {"kinds": ["framed"]}, "build": {"framed": {"snow_load": "60 psf", "live_load": "100 psf"}}}`, `{"steps": {"kinds": ["framed"]}, "build": {"framed": {"snow_load": "250 psf", "live_load": "20 psf"}}}`,
		`{"path": {"width": "0.6 m"}}`, `{"path": {"width": "3 m"}}`,
	} {
		// Each wish of a few of the plans, in turn.
		all := []string{"gentle", "steepening", "bench", "earth", "offer", "total"}
		for k := range 3 {
			u := "imperial"
			if (i+k)%2 == 0 {
				u = "metric"
			}
			add(all[(i+2*k+i/6)%6], `{"units": "`+u+`"`+strings.Replace("###"+w, "###{", ", ", 1))
		}
	}
	for _, g := range []string{
		`{"method": "slope", "readings": [{"length": "2 m", "angle": "20°"}, {"length": "3 m", "angle": "31°", "crossfall": 0.1}, {"length": "2 m", "grade": "20 %"}]}`,
		`{"method": "slope", "readings": [{"length": "2 m", "angle": "46°"}, {"length": "3 m", "angle": "51°"}]}`,
		`{"method": "rod", "readings": [{"back": "3 m", "bench": "10 m"}, {"at": "0 m", "mid": "2.5 m"}, {"at": "2 m", "mid": "1.5 m", "booked": "11.6 m"}, {"at": "4 m", "mid": "0.6 m", "booked": "12.4 m"}, {"fore": "2.9 m", "bench": "10.2 m"}]}`,
		`{"method": "rod", "readings": [{"back": "3 m"}, {"at": "0 m", "mid": "2.5 m"}, {"at": "2 m", "fore": "1.5 m", "back": "2.4 m"}, {"at": "4 m", "fore": "0.6 m"}]}`,
		`{"method": "rod", "readings": [{"back": "3 m", "bench": "10 m"}, {"at": "0 m", "mid": "2.5 m"}, {"at": "4 m", "mid": "0.6 m"}, {"fore": "3.003 m", "bench": "10 m"}]}`,
		`{"method": "string", "from": "head", "readings": [{"at": "0 m", "drop": "0.1 m"}, {"at": "12 m", "drop": "1 m"}, {"at": "24 m", "drop": "4 m"}]}`,
		`{"method": "string", "from": "foot", "readings": [{"at": "0 m", "drop": "2 m"}, {"at": "2 m", "drop": "2.2 m"}, {"at": "9 m", "drop": "0.1 m"}]}`,
		`{"method": "levels", "readings": [{"at": "0 m", "level": "0 m"}, {"at": "3 m", "level": "2.9 m", "crossfall": 1}]}`,
		`{"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "1 m", "level": "0.5 m"}, {"at": "2 m", "level": "11 m"}, {"at": "3 m", "level": "1.5 m"}, {"at": "4 m", "level": "2 m"}, {"at": "5 m", "level": "2.5 m"}]}`,
		`{"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "1 m", "level": "0.5 m"}, {"at": "2 m", "level": "-0.4 m"}, {"at": "3 m", "level": "1.5 m"}, {"at": "4 m", "level": "2 m"}, {"at": "5 m", "level": "2.5 m"}]}`,
		`{"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "1 m", "level": "0.5 m"}, {"at": "2 m", "level": "2.7 m"}, {"at": "3 m", "level": "1.5 m"}, {"at": "4 m", "level": "2 m"}, {"at": "5 m", "level": "2.5 m"}]}`,
		`{"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "1 m", "level": "0.5 m"}, {"at": "2 m", "level": "10 m"}, {"at": "3 m", "level": "1.5 m"}, {"at": "4 m", "level": "2 m"}, {"at": "5 m", "level": "2.5 m"}]}`,
		`{"method": "levels", "readings": [{"at": "0 m", "level": "0 m", "crossfall": 0.6}, {"at": "10 m", "level": "2.9 m", "crossfall": 0.8}], "accuracy": "50 mm"}`,
	} {
		for _, u := range []string{"imperial", "metric"} {
			out["ground "+u+" "+g] = []byte(`{"format": "slopewright.plan/1", "units": "` + u + `", "ground": ` + g + `, "path": {"width": "1.1 m"}}`)
		}
	}
	// Banks tied back on either side, bends, and snow on a framed flight.
	both := func(name, plan string) {
		out[name] = []byte(plan)
		out[name+", imperial"] = []byte(strings.Replace(plan, `"units": "metric"`, `"units": "imperial"`, 1))
	}
	for _, fall := range []string{"0.45", "-0.45"} {
		for _, b := range []string{`{"bank_to": "1.2 m", "deadman_from": "250 mm"}`, `{"bank_to": "1.2 m", "deadman_from": "250 mm", "spike": "250 mm", "no_pins": true}`, `{"bank_to": "1.2 m", "deadman_from": "250 mm", "bank_bars": true}`} {
			both("bank "+fall+b, crossfallPlan(fall, b))
		}
	}
	both("a landing on a bend", strings.Replace(crossfallPlan("0.4", `{"bank_to": "1.2 m"}`), `"path": {"width": "1.2 m"}`, `"path": {"width": "1.2 m", "bends": [{"at": "0.9 m", "radius": "1.9 m", "turn": 80}]}`, 1))
	for _, l := range []string{`"snow_load": "60 psf"`, `"snow_load": "20 kN/m2"`, `"live_load": 5, "snow_load": 6`} {
		both("snow "+l, strings.Replace(string(demo(t, "terrace")), `"timber": "6x6"`, `"timber": "6x6", "framed": {`+l+`}`, 1))
	}
	return out
}

// Every text that the calculator says of any of these plans is in the Spanish
// words: results, faults, drawings, sheets, tables, what plans can name.
func TestAllIsSaidInSpanish(t *testing.T) {
	texts := map[string]string{}
	about := ""
	missing = func(text string) {
		if _, ok := texts[text]; !ok {
			texts[text] = about
		}
	}
	defer func() { missing = nil }()
	ask := func(more string) []byte {
		return Call([]byte(`{"format": "slopewright.request/1", "lang": "es", ` + more + `}`))
	}
	about = "about"
	ask(`"op": "about"`)
	plans := toTell(t)
	var names []string
	for name := range plans {
		names = append(names, name)
	}
	sort.Strings(names)
	for i, name := range names {
		if *untold == "" && i%4 != 0 {
			continue // the rest with -untold
		}
		about = name
		more := `"plan": ` + string(plans[name])
		if i%2 == 0 {
			more += `, "sheets": [{"kind": "build"}, {"kind": "field"}, {"kind": "quote"}], "tables": ["takeoff", "pieces", "cutplan", "bill"],
				"drawings": [{"name": "section"}, {"name": "plan"}, {"name": "view"}, {"name": "step"}, {"name": "across"}, {"name": "flight"}, {"name": "stringer"}, {"name": "haul"}]`
		}
		if strings.HasPrefix(name, "offer") {
			more += `, "compare": ` + string(demo(t, "bench"))
		}
		if i%60 == 0 {
			more += `, "choices": true`
		}
		ask(more)
	}
	for _, r := range badRows(t) {
		about = "bad: " + r.Name
		ask(`"plan": ` + string(r.document(t)))
	}
	var lines []string
	for text, name := range texts {
		lines = append(lines, text+"\t"+name)
	}
	sort.Strings(lines)
	if *untold != "" {
		if err := os.WriteFile(*untold, []byte(strings.Join(lines, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for i, l := range lines {
		if i == 50 {
			t.Errorf("and %d more", len(lines)-i)
			break
		}
		t.Errorf("not in the Spanish words: %s", l)
	}
	t.Logf("%d plans", len(plans))
}

// spoilt merges a patch into a document.
func spoilt(t testing.TB, doc []byte, patch string) []byte {
	t.Helper()
	var base, p any
	if err := json.Unmarshal(doc, &base); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(patch), &p); err != nil {
		t.Fatalf("%s: %v", patch, err)
	}
	b, err := json.Marshal(merge(base, p))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

var (
	textNode = regexp.MustCompile(`>([^<>]+)<`)
	sources  = regexp.MustCompile(`(?s)<span class="source">.*?</span>|<style>.*?</style>`)
	english  = regexp.MustCompile(`(?i)\b(the|and|from|with|below|above|each|boards?|risers?|treads?|steps?|timbers?|stringers?|landings?|dig|loose|ground|ends|none|left|height|width)\b`)
)

// What is drawn and printed in Spanish has no English in it but what somebody
// typed and the titles of sources; the English stays as it was.
func TestDrawnAndPrintedInSpanish(t *testing.T) {
	es := Language("es")
	for _, name := range []string{"bench", "terrace", "earth", "halfway", "offer", "total"} {
		p, err := ReadPlan(demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		p.Title, p.Notes, p.Quote = "", "", nil
		p.Soil.Places, p.Prices.Deliveries, p.Prices.Labour = nil, nil, nil
		for i := range p.Prices.Items {
			p.Prices.Items[i].Name = ""
		}
		r, err := Make(p)
		if err != nil {
			t.Fatal(err)
		}
		before, err := r.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		in := es.Result(r, p)
		if after, err := r.Bytes(); err != nil || string(after) != string(before) {
			t.Errorf("%s: the English result was changed", name)
		}
		texts := map[string]string{}
		for _, d := range Drawings() {
			texts[d] = in.Draw(Drawing{Name: d})
			if texts[d] != "" && texts[d] == r.Draw(Drawing{Name: d}) {
				t.Errorf("%s: %s is the same in both", name, d)
			}
		}
		for _, kind := range []string{"build", "quote"} {
			texts[kind] = string(in.Sheet(SheetOptions{Kind: kind, Plan: &p}))
			if !strings.Contains(texts[kind], `<html lang="es">`) {
				t.Errorf("%s: %s does not say its language", name, kind)
			}
			if s := string(r.Sheet(SheetOptions{Kind: kind, Plan: &p})); !strings.Contains(s, `<html lang="en">`) {
				t.Errorf("%s: the English %s does not say its language", name, kind)
			} else if n := len(english.FindAllString(sources.ReplaceAllString(s, ""), -1)); n < 40 {
				t.Errorf("%s: English words are looked for, and in the English %s there are %d", name, kind, n)
			}
		}
		for what, doc := range texts {
			for _, m := range textNode.FindAllStringSubmatch(sources.ReplaceAllString(doc, ""), -1) {
				// The paragraph of the soil is half sources.
				if english.MatchString(m[1]) && !strings.HasPrefix(m[1], "Suelo: ") {
					t.Errorf("%s: %s: %s", name, what, m[1])
				}
			}
		}
	}
}

// A request for Spanish is answered in it, whatever it asks; codes and what was
// typed stay.
func TestCallInSpanish(t *testing.T) {
	ask := func(more string) string {
		return string(Call([]byte(`{"format": "slopewright.request/1", "lang": "es", ` + more + `}`)))
	}
	plan := string(spoilt(t, demo(t, "bench"), `{"title": "the riser of Ground", "soil": {"places": [{"name": "the heap by the shed", "off": "20 ft"}]}}`))
	out := ask(`"plan": ` + plan + `, "tables": ["bill", "prices"]`)
	for _, want := range []string{`"title":"the riser of Ground"`, "the heap by the shed", "contrahuellas de", `"rule":"buried-services"`, `"item":"base-gravel"`, "partida,escuadría,", "item,name,price", `"name":"grava de base`} {
		if !strings.Contains(out, want) {
			t.Errorf("there is no %s", want)
		}
	}
	if out := ask(`"op": "sketch", "plan": ` + plan); !strings.Contains(out, "contrahuellas de") || !strings.Contains(out, "sketch/1") {
		t.Error("the sketch is not in Spanish")
	}
	if out := ask(`"op": "about"`); !strings.Contains(out, "Escalones de jardín") || !strings.Contains(out, `"id":"loam"`) {
		t.Error("what plans can name is not in Spanish")
	}
	if out := ask(`"plan": {"format": "slopewright.plan/1"}`); !strings.Contains(out, `"field":"ground","problem":"falta"`) {
		t.Errorf("the fault is not in Spanish: %s", out)
	}
	if out := string(Call([]byte(`{"format": "slopewright.request/1", "lang": "fr", "op": "about"}`))); !strings.Contains(out, "is not one of the choices") {
		t.Errorf("a language there is none of: %s", out)
	}
	for _, more := range []string{`"lang": "en", "op": "about"`, `"op": "about"`} {
		if out := string(Call([]byte(`{"format": "slopewright.request/1", ` + more + `}`))); !strings.Contains(out, "Garden steps") {
			t.Errorf("%s is not in English", more)
		}
	}
}

// BenchmarkSpanish puts a result into Spanish; beside it is how long it takes to
// make that result.
func BenchmarkSpanish(b *testing.B) {
	for _, name := range []string{"bench", "offer"} {
		p, err := ReadPlan(demo(b, name))
		if err != nil {
			b.Fatal(err)
		}
		r, err := Make(p)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name+"/say", func(b *testing.B) {
			for b.Loop() {
				Language("es").Result(r, p)
			}
		})
		b.Run(name+"/make", func(b *testing.B) {
			for b.Loop() {
				if _, err := Make(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func TestLanguageByTag(t *testing.T) {
	for _, tag := range []string{"es", "es-MX", "ES-419"} {
		if Language(tag) == nil {
			t.Errorf("%s has no words", tag)
		}
	}
	p, r, _ := readDemo(t, "testdata/plans/first.json")
	for _, tag := range []string{"", "en", "xx", "est"} {
		w := Language(tag)
		if w != nil {
			t.Errorf("%q has words", tag)
		}
		if !reflect.DeepEqual(w.Result(r, p).Answer, r.Answer) {
			t.Errorf("%q: the answer is another", tag)
		}
		if err := (Faults{{Field: "path", Problem: "is missing"}}); w.Faults(err).Error() != err.Error() {
			t.Errorf("%q: the faults are others", tag)
		}
	}
}

// A Spanish text has one mark before decimals, of plans in feet as well: what is told,
// drawn and printed, readings among it. Sources keep the numbers of their clauses.
func TestOneMarkBeforeDecimals(t *testing.T) {
	point := regexp.MustCompile(`[0-9]\.[0-9]`)
	tag := regexp.MustCompile(`<style[^>]*>[^<]*</style>|<[^>]*>`)
	clause := regexp.MustCompile(`\b(CFR|IRC|IBC|UBC|UFC|NEC|NDS|SPS|OBC|R|J|p|sección cinco|ASCE) ?[0-9.-]*|sección cinco|Table|Manual`)
	es := Language("es")
	for _, name := range []string{"bench", "first", "offer", "terrace", "steepening"} {
		p, err := ReadPlan(demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		for _, p.Units = range []string{"imperial", "metric"} {
			r, err := Make(p)
			if err != nil {
				t.Fatal(err)
			}
			r = es.Result(r, p)
			var texts []string
			for _, x := range r.Answer {
				texts = append(texts, x.Says)
			}
			for _, x := range r.Findings {
				texts = append(texts, x.Says)
			}
			for _, x := range r.Ground.Checks {
				texts = append(texts, x.Says)
			}
			for _, d := range Drawings() {
				texts = append(texts, tag.Split(r.Draw(Drawing{Name: d}), -1)...)
			}
			for _, kind := range []string{"build", "field", "quote"} {
				texts = append(texts, tag.Split(string(r.Sheet(SheetOptions{Kind: kind, Plan: &p})), -1)...)
			}
			for _, x := range texts {
				if point.MatchString(x) && !clause.MatchString(x) {
					t.Errorf("%s, %s: %s", name, p.Units, x)
				}
			}
		}
	}
	for doc, want := range map[string]string{
		`"units": "imperial", "ground": {"method": "string", "readings": [{"at": 0, "drop": 120}, {"at": 400, "drop": 1}]}`:                                           "393,70 ft",
		`"units": "metric", "ground": {"method": "levels", "readings": [{"at": 0, "level": 0}, {"at": "4.5 m", "level": "1.2 m"}, {"at": "3.25 m", "level": "2 m"}]}`: "3,25",
	} {
		_, faults := answer(t, []byte(`{"format": "slopewright.plan/1", "path": {"width": 1}, `+doc+"}"))
		said := es.Faults(faults).Error()
		if point.MatchString(said) || !strings.Contains(said, want) {
			t.Error(said)
		}
	}
}
