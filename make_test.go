package slopewright

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"reflect"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

func makeDemo(t testing.TB, name string) Result {
	t.Helper()
	p, err := ReadPlan(demo(t, name))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Make(p)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return r
}

// sound holds a result to what must be true of every result.
func sound(t *testing.T, r Result) {
	t.Helper()
	l := r.Layout

	// Risers and wash make up the rise, to 0.01 mm.
	climbed := float64(l.Risers)*l.Riser.Meters() + l.Wash*l.Run.Meters()
	if math.Abs(climbed-l.Rise.Meters()) > 1e-5 {
		t.Errorf("%d risers and the wash climb %.6f m of %.6f", l.Risers, climbed, l.Rise.Meters())
	}

	// Treads and landings make up the run, step by step and flight by flight.
	sum := 0.0
	for _, s := range l.Steps {
		sum += s.Tread.Meters()
	}
	if math.Abs(sum-l.Run.Meters()) > 1e-9 {
		t.Errorf("treads and landings make %.9f m of a run of %.9f", sum, l.Run.Meters())
	}
	risers := 0
	for i, f := range l.Flights {
		if f.First != risers+1 {
			t.Errorf("flight %d begins at riser %d after %d risers", i, f.First, risers)
		}
		risers += f.Risers
	}
	if risers != l.Risers || len(l.Steps) != l.Risers || len(l.Landings) != len(l.Flights)-1 {
		t.Errorf("%d risers in %d flights with %d landings, %d steps; the layout says %d risers", risers, len(l.Flights), len(l.Landings), len(l.Steps), l.Risers)
	}

	for i, s := range r.Dig.Steps {
		if s.Kind == "box" && math.Abs((s.Formation+r.Dig.BuildUp-l.Steps[i].Level).Meters()) > 1e-9 {
			t.Errorf("riser %d: dug to %v for a tread at %v", s.Riser, s.Formation, l.Steps[i].Level)
		}
	}

	// Marks are rounded once each from the datum.
	for i, m := range r.StakeOut {
		s := l.Steps[i]
		unit := 0.0005
		if r.Units == "imperial" {
			unit = 0.0254 / 32
		}
		for _, d := range []struct {
			what         string
			mark, actual float64
		}{
			{"station", m.Station.Meters(), s.Station.Meters()},
			{"from the head", m.FromHead.Meters(), l.Run.Meters() - s.Station.Meters()},
			{"level", m.Level.Meters(), s.Level.Meters()},
			{"drop", m.Drop.Meters(), l.Rise.Meters() - s.Level.Meters()},
			{"dig to", m.DigTo.Meters(), l.Rise.Meters() - r.Dig.Steps[i].Formation.Meters()},
		} {
			if math.Abs(d.mark-d.actual) > unit+1e-9 {
				t.Errorf("riser %d: %s is marked %.5f m, and is %.5f", m.Riser, d.what, d.mark, d.actual)
			}
		}
	}

	// Earth in is earth out, in bank measure; the steps add up to the whole.
	soundEarth(t, r)
	soundOrder(t, r)
	d := r.Dig
	if out, in := (d.CutBank + d.BorrowBank).CubicMeters(), (d.TopsoilBank + d.ReusedBank + d.SpoilBank).CubicMeters(); math.Abs(out-in) > 1e-12*(1+out) {
		t.Errorf("%.12f m³ come out or are brought, %.12f go back or away", out, in)
	}
	cut, fill, back := 0.0, 0.0, 0.0
	for _, s := range d.Steps {
		cut += s.CutBank.CubicMeters()
		fill += s.FillCompacted.CubicMeters()
		back += s.BackfillCompacted.CubicMeters()
	}
	if math.Abs(cut-d.CutBank.CubicMeters()) > 1e-9 || math.Abs(fill-d.FillCompacted.CubicMeters()) > 1e-9 || math.Abs(back-d.BackfillCompacted.CubicMeters()) > 1e-9 {
		t.Errorf("the steps dig %.9f, fill %.9f, backfill %.9f m³; the whole says %v, %v, %v", cut, fill, back, d.CutBank, d.FillCompacted, d.BackfillCompacted)
	}

	// The boards hold the pieces, kerf by kerf, and every piece needed is cut.
	need := map[string]int{}
	for _, i := range r.Takeoff {
		if i.Section != "" {
			need[i.Item] += i.Count
		}
	}
	got := map[string]int{}
	for _, b := range r.CutPlan.Boards {
		used := b.Offcut.Meters()
		for _, p := range b.Pieces {
			used += p.Length.Meters()
			got[p.Use] += b.Count
		}
		if used > b.Length.Meters()+1e-6 {
			t.Errorf("a board of %v holds %.4f m of pieces and offcut", b.Length, used)
		}
	}
	for use, n := range need {
		if use == "pin" {
			continue // bought cut to length
		}
		if got[use] < n {
			t.Errorf("%d pieces of %s are cut, %d are needed", got[use], use, n)
		}
	}

	// The bill adds up, to the cent.
	total := r.Bill.Tax.Decimal
	for _, line := range r.Bill.Lines {
		if line.Cost != nil {
			total = total.Add(line.Cost.Decimal)
		}
	}
	if !total.Equal(r.Bill.Total.Decimal) {
		t.Errorf("the lines and the tax make %s, the total says %s", total, r.Bill.Total)
	}
	if r.CutPlan.Cost != nil && r.CutPlan.Bound.GreaterThan(r.CutPlan.Cost.Decimal) {
		t.Errorf("bound %s above cost %s", r.CutPlan.Bound, r.CutPlan.Cost)
	}
	finite(t, r)
}

// finite checks that no number of the result is negative where it must not be,
// or none at all: encoding/json refuses NaN and infinities.
func finite(t *testing.T, r Result) {
	t.Helper()
	if _, err := r.Bytes(); err != nil {
		t.Error(err)
	}
	for _, v := range []float64{
		r.Dig.CutBank.CubicMeters(), r.Dig.FillCompacted.CubicMeters(), r.Dig.SpoilLoose.CubicMeters(), r.Dig.SpoilMass.Kilograms(),
		r.Dig.BorrowBank.CubicMeters(), float64(r.Hours.Low), float64(r.Hours.High),
	} {
		if v < 0 || math.IsNaN(v) {
			t.Errorf("a quantity is %v", v)
		}
	}
}

func TestDemos(t *testing.T) {
	for _, name := range append(demos, "first", "total", "earth") {
		t.Run(name, func(t *testing.T) {
			r := makeDemo(t, name)
			sound(t, r)
			if !r.CutPlan.Proven {
				t.Error("the cut plan is not proven")
			}
			if len(r.Answer) < 8 || len(r.Findings) < 5 {
				t.Errorf("%d sentences, %d findings", len(r.Answer), len(r.Findings))
			}
			for _, f := range r.Findings {
				if f.Source == "" || f.Says == "" {
					t.Errorf("a finding without a source or words: %+v", f)
				}
				if strings.Contains(strings.ToLower(f.Says), "is legal") {
					t.Errorf("a finding says what is legal: %s", f.Says)
				}
			}
		})
	}
}

// Random hills, by random methods, with random wishes: every plan that is made
// is sound, and what cannot be made says why.
func TestRandomHills(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	rules := ruleChoices()
	soils := soilChoices()
	made := 0
	for i := range 150 {
		run := 2 + 10*rng.Float64()
		readings := []map[string]any{}
		level, n := 0.0, 2+rng.IntN(12)
		for j := range n + 1 {
			readings = append(readings, map[string]any{
				"at": math.Round(1000*run*float64(j)/float64(n)) / 1000, "level": math.Round(1000*level) / 1000,
				"crossfall": math.Round(100*(rng.Float64()-0.5)) / 200,
			})
			level += (0.7*rng.Float64() - 0.05) * run / float64(n)
		}
		doc := map[string]any{
			"format": PlanFormat, "units": []string{"metric", "imperial"}[i%2],
			"ground": map[string]any{"method": "levels", "readings": readings},
			"path":   map[string]any{"width": 0.8 + math.Round(10*rng.Float64())/10},
			"steps":  map[string]any{"rules": rules[rng.IntN(len(rules))].ID, "max_raise": 0.3},
			"soil":   map[string]any{"class": soils[rng.IntN(len(soils))].ID},
		}
		b, err := json.Marshal(doc)
		if err != nil {
			t.Fatal(err)
		}
		p, err := ReadPlan(b)
		if err != nil {
			t.Fatalf("%v\n%s", err, b)
		}
		r, err := Make(p)
		if err != nil {
			for _, f := range err.(Faults) {
				if f.Problem == "" || f.Field == "" && f.Fix == "" {
					t.Errorf("a fault that does not help: %+v", f)
				}
			}
			continue
		}
		made++
		sound(t, r)
		if t.Failed() {
			t.Fatalf("with\n%s", b)
		}
	}
	if made < 60 {
		t.Errorf("only %d of 150 hills had a plan", made)
	}
}

// The same document gives the same bytes.
func TestReproducible(t *testing.T) {
	for _, name := range demos {
		first := string(Call(demo(t, name)))
		for range 3 {
			if string(Call(demo(t, name))) != first {
				t.Fatalf("%s: two calls differ", name)
			}
		}
	}
}

// What a hill may hide between two points holds what a straight one digs, and
// the bow keeps the parabola rising.
func TestBow(t *testing.T) {
	r := makeDemo(t, "total")
	b := r.Dig.Bow
	if b == nil || b.Least > r.Dig.CutBank || b.Most < r.Dig.CutBank || b.Least == b.Most {
		t.Fatalf("bow is %+v around %v", b, r.Dig.CutBank)
	}
	if want := r.Layout.Run / 20; math.Abs(float64(b.Bow-want)) > 1e-12 {
		t.Errorf("the bow is %v of a run of %v", b.Bow, r.Layout.Run)
	}
	flat, faults := answer(t, []byte(`{"format":"slopewright.plan/1","ground":{"method":"total","rise":"600 mm","run":"10 m"},"path":{"width":1},"steps":{"rules":"own","wash":0}}`))
	if faults != nil {
		t.Fatal(faults)
	}
	if err := json.Unmarshal(flat, &r); err != nil {
		t.Fatal(err)
	}
	if got := r.Dig.Bow.Bow.Meters(); math.Abs(got-0.15) > 1e-12 {
		t.Errorf("on a gentle hill the bow is %v m, want a quarter of the rise", got)
	}
	if makeDemo(t, "gentle").Dig.Bow != nil {
		t.Error("a measured hill has a bow")
	}
}

// A fitted layout written back as the plan's own gives the same earth: the two
// ways through the program meet.
func TestFixedAgreesWithFit(t *testing.T) {
	for _, name := range demos {
		p, err := ReadPlan(demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		fit, err := Make(p)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range fit.Layout.Flights {
			x := Fixed{Risers: f.Risers}
			if f.Risers > 1 {
				x.Tread = &Length{Length: f.Tread}
			}
			if i < len(fit.Layout.Landings) {
				x.Landing = &Length{Length: fit.Layout.Landings[i].Depth}
			}
			p.Steps.Fixed = append(p.Steps.Fixed, x)
		}
		own, err := Make(p)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if own.Layout.Fitted {
			t.Error("an own layout was fitted")
		}
		if d := math.Abs(own.Dig.CutBank.CubicMeters() - fit.Dig.CutBank.CubicMeters()); d > 1e-6 {
			t.Errorf("%s: the same layout digs %.9f m³ less or more", name, d)
		}
	}
}

// The units of a plan change how results are shown, never what they are.
func TestUnitsOnlyShow(t *testing.T) {
	p, err := ReadPlan(demo(t, "gentle"))
	if err != nil {
		t.Fatal(err)
	}
	// The grid and the details are named, because their defaults go by units.
	grid, wash := Metres(0.01), Slope{Ratio: 0.02}
	landing := Metres(0.95)
	p.Steps.Grid, p.Steps.Wash, p.Steps.Landing = &grid, &wash, &LandingWish{Min: &landing}
	mm := func(x float64) *Length { l := Metres(x / 1000); return &l }
	p.Build = Build{Timber: "100x200", OnEdge: true, Base: mm(100), Topping: mm(50), Bedding: mm(25), HeadReturn: mm(600), Pin: mm(600), Kerf: mm(3)}
	metric, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	p.Units = "imperial"
	imperial, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	if metric.Dig.CutBank != imperial.Dig.CutBank || metric.Layout.Riser != imperial.Layout.Riser || !metric.Bill.Total.Equal(imperial.Bill.Total.Decimal) {
		t.Errorf("metric and imperial plans differ: %v %v, %v %v, %s %s", metric.Dig.CutBank, imperial.Dig.CutBank,
			metric.Layout.Riser, imperial.Layout.Riser, metric.Bill.Total, imperial.Bill.Total)
	}
	if metric.Answer[0].Says == imperial.Answer[0].Says {
		t.Error("both answers are in the same units")
	}
}

func TestPricesMissing(t *testing.T) {
	p, err := ReadPlan(demo(t, "gentle"))
	if err != nil {
		t.Fatal(err)
	}
	p.Prices.Items = p.Prices.Items[:2]
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Bill.Unpriced) == 0 {
		t.Error("nothing is said to be without a price")
	}
	for _, s := range r.Answer {
		if s.Key == "money" && !strings.Contains(s.Says, "no price") {
			t.Errorf("the total does not say what it leaves out: %s", s.Says)
		}
	}
	p.Stock[0].Price = nil
	if r, err = Make(p); err != nil {
		t.Fatal(err)
	}
	if r.CutPlan.Cost != nil && r.CutPlan.By == "cost" && r.CutPlan.Cost.Equal(decimal.Zero) {
		t.Error("a cut plan without prices is said to cost nothing")
	}
}

func TestAbout(t *testing.T) {
	out, faults := answer(t, []byte(`{"format":"slopewright.request/1","op":"about"}`))
	if faults != nil {
		t.Fatal(faults)
	}
	var a About
	if err := json.Unmarshal(out, &a); err != nil {
		t.Fatal(err)
	}
	if len(a.Rules) < 6 || len(a.Soils) != 13 || len(a.Sections) < 10 || a.Version != Version {
		t.Errorf("about says %+v", a)
	}
}

// Faults of a request's plan have the paths of the plan document.
func TestRequest(t *testing.T) {
	doc := `{"format":"slopewright.request/1","plan":` + string(demo(t, "bench")) + `,"drawings":[{"name":"section","width":800,"prefix":"a"}]}`
	out, faults := answer(t, []byte(doc))
	if faults != nil {
		t.Fatal(faults)
	}
	var r Result
	if err := json.Unmarshal(out, &r); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(r.Drawings["section"], "<svg") && !strings.HasPrefix(r.Drawings["section"], "<?xml") {
		t.Errorf("the drawing begins %.40q", r.Drawings["section"])
	}
	_, faults = answer(t, []byte(strings.Replace(doc, `"4 ft"`, `"4 fx"`, 1)))
	if len(faults) != 1 || faults[0].Field != "path.width" {
		t.Errorf("faults are %v", faults)
	}
	if _, faults = answer(t, []byte(`{"format":"slopewright.request/1"}`)); len(faults) != 1 || faults[0].Field != "plan" {
		t.Errorf("faults are %v", faults)
	}
}

// The programs in examples run as a stranger would run them.
func TestExamples(t *testing.T) {
	if testing.Short() {
		t.Skip("builds programs")
	}
	dir := t.TempDir()
	if out, err := exec.Command("go", "build", "-o", dir+"/", "./examples/plan", "./examples/library").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, name := range demos {
		out, err := exec.Command(dir+"/plan", "testdata/plans/"+name+".json").CombinedOutput()
		if err != nil || !strings.Contains(string(out), "Stake-out") || !strings.Contains(string(out), "Cautions") {
			t.Errorf("plan %s: %v\n%s", name, err, out)
		}
	}
	bad := exec.Command(dir + "/plan")
	bad.Stdin = strings.NewReader(`{"format":"slopewright.plan/1","ground":{"method":"total","rise":"7 fft"},"path":{"width":-1}}`)
	out, err := bad.CombinedOutput()
	if code := bad.ProcessState.ExitCode(); err == nil || code != 2 {
		t.Errorf("a bad plan exits with %d", code)
	}
	for _, want := range []string{"3 faults", "ground.rise", "7 fft", "ground.run: is missing", "path.width"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("the complaint does not say %q:\n%s", want, out)
		}
	}
	asJSON := exec.Command(dir+"/plan", "-json", "-section", dir+"/s.svg", "-")
	asJSON.Stdin = strings.NewReader(string(demo(t, "gentle")))
	if out, err := asJSON.Output(); err != nil || !json.Valid(out) {
		t.Errorf("-json: %v\n%.200s", err, out)
	}
	if svg, err := os.ReadFile(dir + "/s.svg"); err != nil || !strings.Contains(string(svg), "</svg>") {
		t.Errorf("-section: %v", err)
	}
	for name, section := range map[string]string{"first": "6x6", "orchard": "100x200"} { // its own timber is cut
		out, err = exec.Command(dir+"/library", "testdata/plans/"+name+".json").CombinedOutput()
		if err != nil || !strings.Contains(string(out), "proven true") || !strings.Contains(string(out), " "+section+" of ") {
			t.Errorf("library %s: %v\n%s", name, err, out)
		}
	}
}

// A site of 12 m with 20 readings, the interactive case.
func site12() []byte {
	var b strings.Builder
	b.WriteString(`{"format":"slopewright.plan/1","units":"metric","path":{"width":"1.2 m"},"steps":{"rules":"own"},"ground":{"method":"levels","readings":[`)
	for i := range 20 {
		x := 12 * float64(i) / 19
		y := 0.28*x + 0.25*math.Sin(x*0.9)
		if i > 0 {
			b.WriteString(",")
		}
		fmt.Fprintf(&b, `{"at":%.3f,"level":%.3f}`, x, y)
	}
	b.WriteString(`]}}`)
	return []byte(b.String())
}

func BenchmarkSketch(b *testing.B) {
	request := fmt.Appendf(nil, `{"format":%q,"op":"sketch","plan":%s,"drawings":[{"name":"section"}]}`, RequestFormat, site12())
	b.ReportAllocs()
	for b.Loop() {
		Call(request)
	}
}

func BenchmarkWholePlan(b *testing.B) {
	doc := site12()
	if _, faults := answer(b, doc); faults != nil {
		b.Fatal(faults)
	}
	b.ReportAllocs()
	for b.Loop() {
		Call(doc)
	}
}

// The reference run: reading and answering alone, the plan not made.
func BenchmarkReadingOnly(b *testing.B) {
	doc := site12()
	for b.Loop() {
		if _, err := ReadPlan(doc); err != nil {
			b.Fatal(err)
		}
	}
}

// A sketch tells what the plan tells, only less of it.
func TestSketchIsPartOfThePlan(t *testing.T) {
	for _, name := range []string{"gentle", "bench", "steepening", "first", "total"} {
		ask := func(op string) (out map[string]any) {
			request := fmt.Sprintf(`{"format":%q,"op":%q,"plan":%s,"drawings":[{"name":"section","width":700}]}`, RequestFormat, op, demo(t, name))
			if err := json.Unmarshal(Call([]byte(request)), &out); err != nil {
				t.Fatal(err)
			}
			return out
		}
		plan, sketch := ask("plan"), ask("sketch")
		if sketch["format"] != SketchFormat || len(sketch) != 8 {
			t.Fatalf("%s: %v", name, sketch["faults"])
		}
		for key, have := range sketch {
			want := plan[key]
			if key == "answer" {
				want = want.([]any)[:len(have.([]any))]
			}
			if key != "format" && !reflect.DeepEqual(have, want) {
				t.Errorf("%s: %s is not the plan's", name, key)
			}
		}
	}
	if out := string(Call([]byte(`{"format":"slopewright.request/1","op":"sketch","plan":{"format":"slopewright.plan/1"}}`))); !strings.Contains(out, `"field":"ground"`) {
		t.Error(out)
	}
}
