package slopewright

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"
)

var fitsFile = flag.String("fits", "", "write the requests of BenchmarkFits and their native times to this file, for a browser to run beside")

// fitRequest is one request of the benchmark, with what it took.
type fitRequest struct {
	Name    string          `json:"name"`
	Request json.RawMessage `json:"request"`
	Ms      float64         `json:"ms"`
	Allocs  uint64          `json:"allocs"`
	Bytes   uint64          `json:"bytes"`
}

// fitRequests are fits of a 12 m site with 20 readings: each kind of flight and
// both, fixed and free ends, every objective, and the choices.
func fitRequests() []fitRequest {
	const priced = `"stock":[{"section":"100x200","length":"2.4 m","price":"31.90"},{"section":"100x200","length":"3 m","price":"41.50"},` +
		`{"section":"2x12","length":"3.6 m","price":"29.80"},{"section":"2x12","length":"4.8 m","price":"41.20"},` +
		`{"section":"2x6","length":"3.6 m","price":"12.40"}],`
	ask := func(name, op, steps, path, more string) fitRequest {
		doc := string(site12())
		doc = strings.Replace(doc, `"rules":"own"`, `"rules":"own"`+steps, 1)
		doc = strings.Replace(doc, `"width":"1.2 m"`, `"width":"1.2 m"`+path, 1)
		doc = strings.Replace(doc, `"units"`, priced+`"units"`, 1)
		return fitRequest{Name: name, Request: fmt.Appendf(nil, `{"format":%q,"op":%q,"plan":%s%s}`, RequestFormat, op, doc, more)}
	}
	kinds := []struct{ name, steps string }{
		{"boxes", ""}, {"framed", `,"kinds":["framed"]`}, {"both kinds", `,"kinds":["box","framed"]`},
	}
	ends := []struct{ name, path string }{
		{"", ""}, {", free ends", `,"foot":{"slack":"0.01 m"},"head":{"slack":"0.01 m"}`},
	}
	var all []fitRequest
	for _, k := range kinds {
		for _, e := range ends {
			for _, prefer := range []string{"digging", "hours", "cost", "walking"} {
				all = append(all, ask(k.name+e.name+", "+prefer, "sketch", k.steps+`,"prefer":"`+prefer+`"`, e.path, ""))
			}
		}
		all = append(all, ask(k.name+", choices", "plan", k.steps, "", `,"choices":true`))
	}
	return all
}

// BenchmarkFits is the interactive case in all its kinds. The reference run is
// BenchmarkReadingOnly; make bench-fits runs the same in a browser beside it.
func BenchmarkFits(b *testing.B) {
	for _, r := range fitRequests() {
		b.Run(strings.ReplaceAll(r.Name, ", ", "/"), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if out := Call(r.Request); strings.Contains(string(out[:60]), "error") {
					b.Fatal(string(out))
				}
			}
		})
	}
}

// TestFitsForBrowser writes the requests and what they take here.
func TestFitsForBrowser(t *testing.T) {
	if *fitsFile == "" {
		t.Skip("no -fits FILE: make bench-fits gives one")
	}
	all := fitRequests()
	for i := range all {
		r := &all[i]
		var before, after runtime.MemStats
		for run := 0; run < 3; run++ {
			runtime.ReadMemStats(&before)
			start := time.Now()
			out := Call(r.Request)
			ms := time.Since(start).Seconds() * 1000
			runtime.ReadMemStats(&after)
			if strings.Contains(string(out[:60]), "error") {
				t.Fatalf("%s: %s", r.Name, out)
			}
			if run == 0 || ms < r.Ms {
				r.Ms = ms
			}
			r.Allocs, r.Bytes = after.Mallocs-before.Mallocs, after.TotalAlloc-before.TotalAlloc
			if ms > 2000 {
				break
			}
		}
	}
	text, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(*fitsFile, text, 0o644); err != nil {
		t.Fatal(err)
	}
}
