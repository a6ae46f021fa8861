package slopewright

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/earthwork"
)

// soundEarth holds the earth of a result to what is true of any: parts add up, every
// soil is conserved, the haul plan moves just what is over, and nothing is negative.
func soundEarth(t *testing.T, r Result) {
	t.Helper()
	d, h := r.Dig, r.Haul
	near := func(what string, got, want unit.Volume) {
		t.Helper()
		if math.Abs(float64(got-want)) > 1e-9*(1+math.Abs(float64(want))) {
			t.Errorf("%s is %.12f m³, want %.12f", what, float64(got), float64(want))
		}
	}
	sums := map[string]unit.Volume{}
	for _, s := range d.Steps {
		var sum unit.Volume
		for _, p := range s.Parts {
			sum += p.Bank
			sums[p.Part] += p.Bank
		}
		near("the sum of a step's parts", sum, s.CutBank)
	}
	var all unit.Volume
	for _, p := range d.Parts {
		near("part "+p.Part, p.Bank, sums[p.Part])
		all += p.Bank
		if p.Name == "" || p.Says == "" {
			t.Errorf("part %s has no name", p.Part)
		}
	}
	near("the sum of the parts", all, d.CutBank)

	var cut, left unit.Volume
	for _, s := range d.States {
		near(s.Soil+" dug and brought", s.CutBank+s.BroughtBank, s.ReusedBank+s.LeftBank)
		cut += s.CutBank
		left += s.LeftLoose
	}
	near("the soils' cut", cut, d.CutBank)

	near("the plan's spoil", h.Spoil, d.SpoilLoose)
	var moved, spoil, fetched, need, over unit.Volume
	for _, x := range h.Moves {
		moved += x.Loose
		if x.ToPlace != "" {
			spoil += x.Loose
		}
		if x.FromPlace != "" {
			fetched += x.Loose
		}
		if !(x.Loose > 0 && x.Distance >= 0 && x.Climb >= 0) || math.IsNaN(float64(x.Rise)) || x.Says == "" {
			t.Errorf("a move is %+v", x)
		}
	}
	near("all moves", moved, h.Moved)
	near("moves to places", spoil, h.Spoil)
	near("moves from places", fetched, h.Fetch)
	for _, p := range h.Curve {
		over += p.Cut
		need += p.Need
		near("the curve", p.Cumulative, over-need)
	}
	near("cut less need", over-need, h.Spoil-h.Fetch)
	soil := d.States[0]
	near("what is dug, loose", over, unit.Volume(float64(soil.CutBank)*(1+figure(t, r, "swell"))))
	near("what is wanted, loose", need, unit.Volume(float64(soil.ReusedBank)*(1+figure(t, r, "swell"))))
	placed := unit.Volume(0)
	for _, p := range h.Places {
		placed += p.Loose
	}
	near("what the places take and give", placed, h.Spoil+h.Fetch)
	noneNegative(t, reflect.ValueOf(r.Dig), "dig")
	noneNegative(t, reflect.ValueOf(r.Hours), "hours")
	noneNegative(t, reflect.ValueOf(r.Haul.Places), "haul.places")
	noneNegative(t, reflect.ValueOf(r.Water), "water")
	noneNegative(t, reflect.ValueOf(r.Order), "order")
}

func figure(t *testing.T, r Result, name string) float64 {
	for _, f := range r.Dig.Soil.Figures {
		if f.Name == name {
			return f.Value
		}
	}
	t.Fatalf("no %s", name)
	return 0
}

// noneNegative finds a number below nothing, or none at all, in a value. Levels and
// shrinkage may be negative.
func noneNegative(t *testing.T, v reflect.Value, at string) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); !(x >= 0) || math.IsInf(x, 0) {
			t.Errorf("%s is %v", at, x)
		}
	case reflect.Int:
		if v.Int() < 0 {
			t.Errorf("%s is %d", at, v.Int())
		}
	case reflect.Pointer:
		if !v.IsNil() {
			noneNegative(t, v.Elem(), at)
		}
	case reflect.Slice:
		for i := range v.Len() {
			noneNegative(t, v.Index(i), at)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if n := v.Type().Field(i).Name; n != "Formation" && n != "Station" && n != "Soil" && n != "deepestAt" && n != "Deepest" {
				noneNegative(t, v.Field(i), at+"."+n)
			}
		}
	}
}

// wild is a random plan with every field of the earth in use.
func wild(rng *rand.Rand) map[string]any {
	run := 1.5 + 4*rng.Float64()
	readings := []map[string]any{}
	level, n := 0.0, 2+rng.IntN(8)
	maybe := func(doc map[string]any, field string, v any) {
		if rng.IntN(2) == 0 {
			doc[field] = v
		}
	}
	r3 := func(x float64) float64 { return math.Round(1000*x) / 1000 }
	for j := range n + 1 {
		readings = append(readings, map[string]any{
			"at": r3(run * float64(j) / float64(n)), "level": r3(level), "crossfall": r3(1.2 * (rng.Float64() - 0.5)),
		})
		level += (0.7*rng.Float64() - 0.05) * run / float64(n)
	}
	soils := soilChoices()
	soil := map[string]any{"class": soils[rng.IntN(len(soils))].ID}
	maybe(soil, "topsoil", r3(0.3*rng.Float64()))
	maybe(soil, "spread", r3(0.02+0.3*rng.Float64()))
	maybe(soil, "haul", r3(200*rng.Float64()))
	maybe(soil, "unload", "head")
	maybe(soil, "batter", r3(1.5*rng.Float64()))
	maybe(soil, "seen", []string{"water"})
	maybe(soil, "loose_density", r3(900+400*rng.Float64()))
	maybe(soil, "density", r3(1400+700*rng.Float64()))
	maybe(soil, "repose", r3(5+55*rng.Float64()))
	maybe(soil, "type", []string{"A", "B", "C", "stable-rock"}[rng.IntN(4)])
	var places []map[string]any
	for i := range rng.IntN(4) {
		p := map[string]any{"name": string(rune('A' + i))}
		maybe(p, "at", r3(run*(2*rng.Float64()-0.5)))
		maybe(p, "off", r3(30*rng.Float64()))
		maybe(p, "rise", r3(6*rng.Float64()-3))
		maybe(p, "room", map[string]any{"length": r3(0.1 + rng.Float64()), "width": 1, "depth": "200 mm"})
		maybe(p, "extra", r3(50*rng.Float64()))
		maybe(p, "away", true)
		maybe(p, "fetch", rng.IntN(2) == 0)
		places = append(places, p)
	}
	if places != nil {
		soil["places"] = places
	}
	steps := map[string]any{"max_raise": r3(0.05 + 0.9*rng.Float64()), "grid": "12 mm"}
	maybe(steps, "kinds", []string{"box", "framed"})
	if rng.IntN(3) == 0 {
		steps = map[string]any{"max_raise": steps["max_raise"], "grid": "12 mm", "rules": "own"}
	}
	doc := map[string]any{
		"format": PlanFormat, "units": []string{"metric", "imperial"}[rng.IntN(2)],
		"ground": map[string]any{"method": "levels", "readings": readings},
		"path":   map[string]any{"width": r3(0.6 + 1.4*rng.Float64())},
		"steps":  steps, "soil": soil,
	}
	if rng.IntN(2) == 0 {
		water := map[string]any{"length": r3(1 + 400*rng.Float64()), "width": r3(1 + 100*rng.Float64()), "rain": r3(0.001 + 0.2*rng.Float64())}
		maybe(water, "drain", []string{"pipe", "none"}[rng.IntN(2)])
		maybe(water, "cover", "woodland")
		maybe(water, "fall", r3(0.001+0.3*rng.Float64()))
		maybe(water, "bottom", 0)
		maybe(water, "run", r3(1+30*rng.Float64()))
		doc["water"] = water
	}
	crew := map[string]any{"people": 1 + rng.IntN(4)}
	maybe(crew, "days_per_week", r3(0.2+6.8*rng.Float64()))
	maybe(crew, "start", "2027-12-30")
	maybe(crew, "rates", map[string]any{"loading": 2, "box": r3(0.1 + rng.Float64()), "framing": 3, "barrow": 0.05, "carrying": 20, "topsoil": 0.3, "filling": 1, "practised": r3(1 + 4*rng.Float64()), "slow": r3(0.2 + 0.8*rng.Float64()),
		"barrow_trip": r3(0.01 + 5*rng.Float64()), "carry_trip": 0.5, "climb": r3(20 * rng.Float64()), "footing": 2, "edging": 0.05, "drain": r3(0.001 + rng.Float64()), "light": 0.5})
	build := map[string]any{}
	maybe(build, "edging", map[string]any{"side": "left"})
	maybe(build, "lights", map[string]any{"every": "2 m"})
	maybe(build, "footing", map[string]any{"kind": []string{"piers", "buried", "concrete"}[rng.IntN(3)]})
	doc["build"] = build
	doc["crew"] = crew
	return doc
}

// Whatever a plan asks of its earth, volumes, areas and hours are amounts, and no
// earth is made or lost.
func TestEarthOfRandomPlans(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 14))
	made, fetches, rooms, topsoils := 0, 0, 0, 0
	for range 120 {
		b, err := json.Marshal(wild(rng))
		if err != nil {
			t.Fatal(err)
		}
		p, err := ReadPlan(b)
		if err != nil {
			t.Fatalf("%v\n%s", err, b)
		}
		r, err := Make(p)
		if err != nil {
			continue
		}
		made++
		sound(t, r)
		if t.Failed() {
			t.Fatalf("with\n%s", b)
		}
		if r.Haul.Fetch > 0 {
			fetches++
		}
		if r.Dig.TopsoilBank > 0 {
			topsoils++
		}
		for _, f := range r.Findings {
			if f.Rule == "room" {
				rooms++
			}
		}
	}
	if made < 60 || fetches < 4 || rooms < 4 || topsoils < 20 {
		t.Errorf("%d made, %d fetch earth, %d have no room, %d strip topsoil", made, fetches, rooms, topsoils)
	}
}

// A plane hill and one known flight, all by hand: the parts, the topsoil, the ways.
func TestEarthByHand(t *testing.T) {
	doc := `{"format":"slopewright.plan/1",
	 "ground":{"method":"levels","readings":[{"at":0,"level":0},{"at":4,"level":2}]},
	 "path":{"width":1,"head":{"at":"3 m"}},
	 "steps":{"rules":"own","wash":0,"fixed":[{"risers":10,"tread":"333.333333333 mm"}]},
	 "soil":{"class":"loam","batter":0,"topsoil":"100 mm","haul":"20 m"},
	 "build":{"working":"0.1 m","topping":"50 mm","base":"100 mm","head_return":"600 mm"}}`
	p, err := ReadPlan([]byte(doc))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, r)
	// Ten risers of 150 mm, nine treads of 1/3 m on a slope of 1 in 2. Behind riser 4
	// the tread is at 600 mm and the formation at 450, the ground from 500 to 667. Stripped
	// of 100 mm it is 50 mm below the formation in front and 117 above it at the back: it
	// crosses it after 0.3 of the tread.
	tread := 1.0 / 3
	part := map[string]float64{}
	for _, x := range r.Dig.Steps[3].Parts {
		part[x.Part] = float64(x.Bank)
	}
	sub := 0.7 * tread * (0.35 / 3) / 2
	for _, c := range []struct {
		part string
		want float64
	}{
		{"topsoil", 0.1 * 1.2 * tread}, // 1 m and two working spaces of 0.1 m
		{"bench", sub}, {"working", 0.2 * sub},
	} {
		if math.Abs(part[c.part]-c.want) > 1e-6 {
			t.Errorf("%s of a step is %v m³, want %v", c.part, part[c.part], c.want)
		}
	}
	// The fill in front is a wedge 1 m wide, and to each side a shoulder at 1.5 to 1.
	if got, want := float64(r.Dig.Steps[3].FillCompacted), 0.3*tread*(0.05/2+1.5*0.05*0.05/3); math.Abs(got-want) > 1e-6 {
		t.Errorf("fill of a step is %v, want %v", got, want)
	}
	// What lay beside the path goes back there.
	top := r.Dig.States[1]
	if want := float64(top.CutBank) / 6; math.Abs(float64(top.ReusedBank)-want) > 1e-6 {
		t.Errorf("%v of the topsoil goes back, want %v", top.ReusedBank, want)
	}
	if top.Soil != "topsoil" || math.Abs(float64(top.CutBank)-0.1*1.2*3.6) > 1e-6 {
		t.Errorf("%+v", top)
	}
}

// Two places: the nearer is filled first, then the other, then what is left has none.
func TestPlaces(t *testing.T) {
	soil := func(places string) Result {
		return changed(t, "gentle", func(p *Plan) {
			n := `{"format":"slopewright.plan/1","ground":{"method":"total","rise":1,"run":2},"path":{"width":1},"soil":{"places":` + places + `}}`
			q, err := ReadPlan([]byte(n))
			if err != nil {
				t.Fatal(err)
			}
			p.Soil.Places = q.Soil.Places
		})
	}
	near := `{"name":"hollow","off":"5 m","room":{"length":"1 m","width":"0.5 m","depth":"400 mm"}}`
	far := `{"name":"skip","off":"30 m","away":true}`
	r := soil("[" + far + "," + near + "]")
	sound(t, r)
	got := map[string]float64{}
	for _, p := range r.Haul.Places {
		got[p.Name] = float64(p.Loose)
	}
	if math.Abs(got["hollow"]-0.2) > 1e-6 || math.Abs(got["skip"]-float64(r.Dig.SpoilLoose)+0.2) > 1e-6 || len(got) != 2 {
		t.Errorf("the places take %v of %v", got, r.Dig.SpoilLoose)
	}
	r = soil("[" + near + "]")
	if f := finding(r, "room"); !strings.Contains(f.Says, "no room") || f.Severity != "warn" {
		t.Errorf("nobody says that there is no room: %+v", r.Findings)
	}
	// Further to barrow takes longer.
	long := soil(`[{"name":"field","off":"200 m"}]`)
	if short := soil(`[{"name":"field","off":"2 m"}]`); short.Hours.Likely >= long.Hours.Likely {
		t.Errorf("%v hours to a heap close by, %v to one far off", short.Hours.Likely, long.Hours.Likely)
	}
	up := soil(`[{"name":"field","off":"20 m","rise":"5 m"}]`)
	if level := soil(`[{"name":"field","off":"20 m"}]`); level.Hours.Likely >= up.Hours.Likely {
		t.Errorf("%v hours on the level, %v up", level.Hours.Likely, up.Hours.Likely)
	}
}

func finding(r Result, rule string) Finding {
	for _, f := range r.Findings {
		if f.Rule == rule {
			return f
		}
	}
	return Finding{}
}

// A heap in the result is Nunnally's cone, and keeps the 2 ft of 29 CFR 1926.651(j)(2).
func TestHeap(t *testing.T) {
	r := makeDemo(t, "bench")
	soil, _ := earthwork.SoilByID(r.Dig.Soil.Class)
	p := r.Haul.Places[0]
	d, h := soil.Cone(p.Loose)
	if p.Breadth != d || p.Height != h || math.Abs((p.KeepBack-d/2).Feet()-2) > 1e-9 {
		t.Errorf("%+v, want a cone of %v by %v", p, d, h)
	}
	if v := float64(p.SpreadArea) * float64(p.SpreadDepth); math.Abs(v-float64(p.Loose)) > 1e-12 {
		t.Errorf("%v spread of %v", v, p.Loose)
	}
	// The terrace is a wedge of what is left, tamped.
	v := float64(p.TerraceLength) * float64(p.TerraceDepth) * float64(p.TerraceHeight) / 2
	if want := float64(soil.Compacted(soil.BankOfLoose(p.Loose))); math.Abs(v-want) > 1e-9 {
		t.Errorf("a terrace of %v m³ of %v", v, want)
	}
}
