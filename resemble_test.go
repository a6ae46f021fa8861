package slopewright

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/stair"
)

// TestSiteTellsWhatDiffers: on ground of which a point was moved, what bears does so
// on the earlier ground with the leeway told, cells cost less by no more than is told,
// and nothing differs elsewhere.
func TestSiteTellsWhatDiffers(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	told, within, closest := 0, 0, 0.0
	for _, text := range sitePlans {
		p, err := ReadPlan([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		readings := p.Ground.Readings
		on := func(w weights, level float64) *site {
			q := p
			q.Ground.Readings = append([]Reading(nil), readings...)
			l := *q.Ground.Readings[1].Level
			l.Length += unit.Length(level)
			q.Ground.Readings[1].Level = &l
			var m maker
			if err := m.read(q); err != nil {
				t.Fatal(err)
			}
			return m.site(w)
		}
		for range 300 {
			w := []weights{{digging: 1}, {cost: 1}, {digging: 0.3, cost: 0.02}}[r.IntN(3)]
			earlier, now := on(w, 0.3*(2*r.Float64()-1)), on(w, 0.3*(2*r.Float64()-1))
			d, ok := now.Differs(earlier)
			if !ok {
				t.Fatal("nothing is told")
			}
			told++
			lenient := earlier.Lenient(d.From, d.To, d.Higher, d.Lower).(*site)
			long := float64(now.m.head.Station - now.m.foot.Station)
			for range 40 {
				line := stair.Line{Level: unit.Length(3*r.Float64() - 0.3), Grade: 0.02 * r.Float64()}
				a, b := long*r.Float64(), long*r.Float64()
				at := []unit.Length{unit.Length(min(a, b)), unit.Length(max(a, b))}
				if r.IntN(4) == 0 {
					at = []unit.Length{d.From, d.To}
				}
				elsewhere := at[1] <= d.From || at[0] >= d.To
				for _, framed := range []bool{false, true} {
					ask := func(s *site) (float64, bool) {
						var c [1]float64
						var ok [1]bool
						if framed {
							s.FramedCells(at, line, c[:], ok[:])
						} else {
							s.Cells(at, line, c[:], ok[:])
						}
						return c[0], ok[0]
					}
					cost, bears := ask(now)
					was, bore := ask(earlier)
					if elsewhere && (cost != was || bears != bore) {
						t.Fatalf("%v differs beyond %v: %v %v, earlier %v %v", at, d, cost, bears, was, bore)
					}
					if !bears {
						continue
					}
					within++
					if _, ok := ask(lenient); !ok {
						t.Fatalf("%v at %v bears, not on the earlier ground with %v", at, line, d)
					}
					if was-cost > d.Less+1e-12 {
						t.Fatalf("%v at %v costs %v less, told is %v", at, line, was-cost, d.Less)
					}
					if d.Less > 0 {
						closest = math.Max(closest, (was-cost)/d.Less)
					}
				}
			}
		}
	}
	if told < 500 || within < 4000 || closest < 0.5 {
		t.Errorf("only %d differences and %d cells told of, the closest %v of what is told", told, within, closest)
	}
}

// TestSiteTellsNothing of differences that are not of the ground between its ends.
func TestSiteTellsNothing(t *testing.T) {
	_, sites := sitesOf(t, sitePlans[0])
	_, others := sitesOf(t, strings.Replace(sitePlans[0], `"level":"0 m"`, `"level":"0.05 m"`, 1))
	for name, x := range map[string][2]*site{
		"another measure": {sites[0], sites[3]}, "by hours": {sites[1], sites[1]}, "the foot of the ground": {sites[0], others[0]},
	} {
		if d, ok := x[0].Differs(x[1]); ok {
			t.Errorf("%s: %v", name, d)
		}
	}
	if _, ok := sites[0].Differs(nil); ok {
		t.Error("of no site something is told")
	}
}

// dragged is a request of which a ground point is moved, time after time.
func dragged(t testing.TB, request []byte, r *rand.Rand, moves int, far float64) (all [][]byte) {
	t.Helper()
	var doc map[string]any
	if err := json.Unmarshal(request, &doc); err != nil {
		t.Fatal(err)
	}
	plan := doc
	if p, ok := doc["plan"].(map[string]any); ok {
		plan = p
	}
	readings := plan["ground"].(map[string]any)["readings"].([]any)
	i := 1 + r.IntN(len(readings)-2)
	reading := readings[i].(map[string]any)
	field := "level"
	if reading[field] == nil {
		field = "drop"
	}
	var from float64
	switch v := reading[field].(type) {
	case float64:
		from = v
	case string:
		if _, err := fmt.Sscanf(v, "%f m", &from); err != nil {
			return nil // feet are for others
		}
	default:
		return nil
	}
	for k := range moves {
		reading[field] = fmt.Sprintf("%.3f m", from+far*math.Sin(float64(k)/3)*r.Float64())
		text, err := json.Marshal(doc)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, text)
	}
	return all
}

// TestCallsAnswerAsCall: rows of sketches on ground of which one point after the other
// is moved are told as each by itself is, to the byte, and with less work.
func TestCallsAnswerAsCall(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 10))
	var calls Calls
	asked, faults := 0, 0
	row := func(name string, request []byte, far float64) {
		for _, text := range dragged(t, request, r, 10, far) {
			want, got := Call(text), calls.In(nil, text)
			if asked++; bytes.Contains(want[:min(len(want), 60)], []byte("error")) {
				faults++
			}
			if !bytes.Equal(want, got) {
				t.Fatalf("%s:\n%.300s\nby itself\n%.300s", name, got, want)
			}
		}
	}
	for _, q := range fitRequests() {
		if !strings.HasSuffix(q.Name, "digging") && q.Name != "boxes, cost" && q.Name != "boxes, hours" && q.Name != "boxes, free ends, walking" {
			continue // those take long
		}
		for _, far := range []float64{0.03, 0.2} {
			row(q.Name, q.Request, far)
		}
	}
	files, err := filepath.Glob("testdata/plans/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, file := range files {
		switch filepath.Base(file) {
		case "bad.json", "total.json":
			continue
		}
		plan, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !json.Valid(plan) || !bytes.Contains(plan, []byte(`"readings"`)) {
			t.Fatalf("%s is no plan with readings", file)
		}
		request := fmt.Appendf(nil, `{"format":%q,"op":"sketch","plan":%s}`, RequestFormat, plan)
		for range 4 {
			row(file, request, 0.1)
		}
	}
	t.Logf("%d sketches, faults in %d", asked, faults)
	if asked < 300 || faults*2 > asked {
		t.Errorf("%d sketches, faults in %d", asked, faults)
	}
}

// BenchmarkDrag is a row of sketches while a ground point is moved, on the site of
// BenchmarkFits; the reference run beside each is of the same sketches one by one.
func BenchmarkDrag(b *testing.B) {
	for _, q := range fitRequests() {
		if !strings.HasSuffix(q.Name, "digging") {
			continue
		}
		for _, far := range []float64{0.02, 0.1} {
			all := dragged(b, q.Request, rand.New(rand.NewPCG(11, 11)), 60, far)
			var calls Calls
			for _, x := range []struct {
				name string
				in   func(*Words, []byte) []byte
			}{{"row", calls.In}, {"one by one", CallIn}} {
				b.Run(fmt.Sprintf("%s/%v m/%s", strings.ReplaceAll(q.Name, ", ", "/"), far, x.name), func(b *testing.B) {
					for i := 0; b.Loop(); i++ {
						x.in(nil, all[i%len(all)])
					}
				})
			}
		}
	}
}
