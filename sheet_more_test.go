//go:build !js || whole

package slopewright

import (
	"encoding/json"
	"encoding/xml"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/slopewright/slopewright/internal/draw"
)

// Every drawing of every demo is well-formed XML.
func TestDrawingsWellFormed(t *testing.T) {
	for _, name := range sheetDemos(t) {
		p, r, _ := readDemo(t, name)
		var err error
		if r.Choices, err = Choices(p); err != nil && len(p.Built) == 0 && len(p.Steps.Fixed) == 0 {
			t.Fatal(name, err)
		}
		for _, n := range Drawings() {
			for _, svg := range []string{r.Draw(Drawing{Name: n, Width: 360}), r.DrawToScale(Drawing{Name: n}, 20)} {
				if svg == "" {
					continue
				}
				d := xml.NewDecoder(strings.NewReader(svg))
				for {
					_, err := d.Token()
					if err == io.EOF {
						break
					}
					if err != nil {
						t.Fatalf("%s: %s is not well formed: %v", name, n, err)
					}
				}
			}
		}
	}
}

// A renderer of SVG that is no browser takes every drawing. Skipped where
// rsvg-convert is not installed.
func TestDrawingsRendered(t *testing.T) {
	renderer, err := exec.LookPath("rsvg-convert")
	if err != nil || testing.Short() {
		t.Skip("no rsvg-convert")
	}
	for _, name := range []string{"bench", "terrace", "orchard", "earth", "halfway"} {
		_, r, _ := readDemo(t, filepath.Join("testdata", "plans", name+".json"))
		for _, n := range Drawings() {
			svg := r.Draw(Drawing{Name: n, Width: 500})
			if svg == "" {
				continue
			}
			c := exec.Command(renderer, "-f", "png")
			c.Stdin = strings.NewReader(svg)
			if out, err := c.CombinedOutput(); err != nil || !strings.HasPrefix(string(out), "\x89PNG") {
				t.Errorf("%s: %s is not rendered: %v %.200q", name, n, err, out)
			}
		}
	}
}

// The stringer that the drawing has marked out is the one that the take-off
// cuts, and climbs as the layout does.
func TestStringerDrawing(t *testing.T) {
	for _, solid := range []bool{false, true} {
		p, _, _ := readDemo(t, "testdata/plans/terrace.json")
		p.Build.Framed.Solid = solid
		r, m := made(t, p)
		if err := m.lay(); err != nil {
			t.Fatal(err)
		}
		if err := m.dig(); err != nil {
			t.Fatal(err)
		}
		if len(m.parts) == 0 || len(m.parts) != len(r.Build.Framed) {
			t.Fatalf("%d flights are made, %d are told", len(m.parts), len(r.Build.Framed))
		}
		for i, b := range r.Build.Framed {
			want, f := m.parts[i].Layout, r.frame(b)
			got := f.Measures()
			for _, c := range []struct {
				what      string
				got, want float64
			}{
				{"step", got.Step, want.Step.Meters()}, {"throat", got.Throat, want.Throat.Meters()}, {"length", got.Length, want.Length.Meters()},
				{"first riser", got.FirstRiser, want.FirstRiser.Meters()}, {"seat", got.Seat, want.Seat.Meters()},
				{"head bearing", got.Head, want.HeadBearing.Meters()}, {"pitch", got.Pitch, want.Pitch.Degrees()},
			} {
				if math.Abs(c.got-c.want) > 1e-9 {
					t.Errorf("solid %v: %s is drawn as %v, cut as %v", solid, c.what, c.got, c.want)
				}
			}
			for k, mark := range want.Marks {
				level := 0.0
				for _, x := range r.Layout.Steps {
					if x.Riser == b.First+k {
						level = x.Level.Meters() - f.At.Level
					}
				}
				if math.Abs(level-mark.Rise.Meters()) > 1e-9 {
					t.Errorf("solid %v: mark %d is %v above the bearing, the step %v", solid, k+1, mark.Rise.Meters(), level)
				}
			}
			if !solid {
				checkStringerPath(t, r, f, i+1)
			}
		}
	}
}

// checkStringerPath reads the cut line back out of the drawing at 1:20.
func checkStringerPath(t *testing.T, r Result, f draw.Frame, flight int) {
	t.Helper()
	svg := r.DrawToScale(Drawing{Name: "stringer", Flight: flight}, 20)
	found := regexp.MustCompile(`class="sw-stringer"[^>]* d="([^"]*)"`).FindStringSubmatch(svg)
	if found == nil {
		t.Fatal("no stringer is drawn")
	}
	var x, y []float64
	for _, m := range regexp.MustCompile(`[ML](-?[0-9.]+) (-?[0-9.]+)`).FindAllStringSubmatch(found[1], -1) {
		a, _ := strconv.ParseFloat(m[1], 64)
		b, _ := strconv.ParseFloat(m[2], 64)
		x, y = append(x, a*mmPerPx*20/1000), append(y, b*mmPerPx*20/1000)
	}
	if len(x) != 2*f.Risers+1 {
		t.Fatalf("%d corners are cut, want %d", len(x), 2*f.Risers+1)
	}
	long := func(i, j int) float64 { return math.Hypot(x[j]-x[i], y[j]-y[i]) }
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 2e-4 {
			t.Errorf("%s measures %v m, want %v", what, got, want)
		}
	}
	near("the first riser", long(0, 1), f.Riser-f.Board)
	for k := 1; k < f.Risers; k++ {
		near("a level cut", long(2*k-1, 2*k), f.Tread*math.Sqrt(1+f.Wash*f.Wash))
		if k > 1 {
			near("a plumb cut", long(2*k-2, 2*k-1), f.Riser)
			near("the edge", y[2*k-1], y[1])
		}
	}
	near("the seat", long(len(x)-1, 0), f.Measures().Seat)
	near("the head", long(len(x)-3, len(x)-2), f.Measures().Head)
}

// The curve in the drawing is the result's.
func TestHaulDrawing(t *testing.T) {
	_, r, _ := readDemo(t, "testdata/plans/orchard.json")
	svg := r.Draw(Drawing{Name: "haul", Width: 900})
	points := regexp.MustCompile(`class="sw-point" cx="([0-9.]+)" cy="([0-9.]+)"`).FindAllStringSubmatch(svg, -1)
	if len(points) != len(r.Haul.Curve)+1 || len(points) < 5 {
		t.Fatalf("%d points are drawn of %d", len(points), len(r.Haul.Curve))
	}
	at := func(i, j int) float64 { v, _ := strconv.ParseFloat(points[i][j], 64); return v }
	c := r.Haul.Curve
	n := len(c) - 1
	kx := (at(n+1, 1) - at(0, 1)) / c[n].Station.Meters()
	most := 0
	for i := range c {
		if math.Abs(c[i].Cumulative.CubicMeters()) > math.Abs(c[most].Cumulative.CubicMeters()) {
			most = i
		}
	}
	ky := (at(0, 2) - at(most+1, 2)) / c[most].Cumulative.CubicMeters()
	if ky <= 0 {
		t.Fatalf("the curve is drawn at %v px to the cubic metre", ky)
	}
	for i, p := range c {
		if math.Abs(at(i+1, 1)-at(0, 1)-kx*p.Station.Meters()) > 0.02 || math.Abs(at(0, 2)-at(i+1, 2)-ky*p.Cumulative.CubicMeters()) > 0.02 {
			t.Errorf("riser %d lies at %v, %v px", p.Riser, at(i+1, 1), at(i+1, 2))
		}
	}
}

// Choices have a point each, further right for more digging and further up for
// more hours.
func TestChoicesDrawing(t *testing.T) {
	p, r, _ := readDemo(t, "testdata/plans/bench.json")
	if svg := r.Draw(Drawing{Name: "choices"}); svg != "" {
		t.Error("choices are drawn that were not asked for")
	}
	var err error
	if r.Choices, err = Choices(p); err != nil {
		t.Fatal(err)
	}
	svg := r.Draw(Drawing{Name: "choices"})
	points := regexp.MustCompile(`class="sw-point" cx="([0-9.]+)" cy="([0-9.]+)"`).FindAllStringSubmatch(svg, -1)
	if len(points) != len(r.Choices) {
		t.Fatalf("%d of %d choices are drawn", len(points), len(r.Choices))
	}
	at := func(i, j int) float64 { v, _ := strconv.ParseFloat(points[i][j], 64); return v }
	for i, a := range r.Choices {
		for j, b := range r.Choices {
			if a.CutBank < b.CutBank && at(i, 1) > at(j, 1) || a.Hours < b.Hours && at(i, 2) < at(j, 2) {
				t.Errorf("choices %d and %d are drawn the wrong way round", i, j)
			}
		}
	}
}

// Call answers sheets, and says what it will not make.
func TestCallSheets(t *testing.T) {
	plan, err := os.ReadFile("testdata/plans/terrace.json")
	if err != nil {
		t.Fatal(err)
	}
	ask := func(sheets string) (r struct {
		Sheets map[string]string
		Faults []Fault
	}) {
		if err := json.Unmarshal(Call([]byte(`{"format":"slopewright.request/1","plan":`+string(plan)+`,"sheets":`+sheets+`}`)), &r); err != nil {
			t.Fatal(err)
		}
		return r
	}
	r := ask(`[{"kind":"build","paper":"a4"},{"kind":"quote"}]`)
	for kind, want := range map[string]string{"build": "size: A4;", "quote": "size: letter;"} {
		if doc := r.Sheets[kind]; !strings.HasPrefix(doc, "<!doctype html>") || !strings.Contains(doc, want) {
			t.Errorf("the %s sheet is %.60q", kind, doc)
		}
	}
	if len(ask(`[{"kind":"bill"}]`).Faults) != 1 || len(ask(`[{"kind":"build","paper":"a3"}]`).Faults) != 1 {
		t.Error("sheets that there are none of are answered")
	}
	text := plain([]byte(r.Sheets["quote"]))
	_, made, _ := readDemo(t, "testdata/plans/terrace.json")
	labour := made.Bill.Lines[len(made.Bill.Lines)-1]
	for _, want := range []string{
		"From Banks and Treads (invented firm)", "For A. Client (invented)", "Number 2026-041", "Price holds until 31 December 2026",
		"A third on order", "The deck itself and its ledger.", "Digging and carpentry, " + labour.Buy, labour.Cost.StringFixed(2),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the quote has no %q", want)
		}
	}
}

// The sheet of a half-built path says what is left and how the built steps lie.
func TestSheetLeft(t *testing.T) {
	p, r, _ := readDemo(t, "testdata/plans/halfway.json")
	text := plain(r.Sheet(SheetOptions{Plan: &p}))
	pieces := 0
	for _, b := range r.Build.Boxes {
		for _, x := range b.Pieces {
			if x.Use != "pin" {
				pieces += x.Count
			}
		}
	}
	p.Built = nil
	before, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	planned := before.Layout.Steps[2]
	for _, want := range []string{
		"Steps left " + strconv.Itoa(r.Layout.Risers) + " of " + strconv.Itoa(r.Layout.Risers+4),
		"Pieces left to cut " + strconv.Itoa(pieces), "Earth left to dig, in the bank " + r.Volume(r.Dig.CutBank),
		"Days left " + strconv.Itoa(r.Hours.Days.Likely) + " days",
		// Riser 3 is 0.402 less 0.262 less 2 % of 0.39 high: 132.2 mm; its top is
		// booked as 402 mm and its face as 790 mm.
		"3 132 mm", "402 mm " + before.Length(planned.Level), "790 mm " + before.Length(planned.Station),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet has no %q", want)
		}
	}
}

// Printed, every page has the size of its paper, upright or on its side, what is
// to scale measures so, and there are no more pages than a person would carry up
// the hill. Set CHROMIUM to
// the browser.
func TestSheetPrinted(t *testing.T) {
	browser := os.Getenv("CHROMIUM")
	if browser == "" {
		t.Skip("CHROMIUM names no browser")
	}
	t.Parallel() // another browser runs beside
	box := regexp.MustCompile(`/MediaBox \[0 0 ([0-9.]+) ([0-9.]+)\]`)
	for _, name := range []string{"bench", "steepening", "gentle", "terrace", "orchard", "offer"} {
		p, r, _ := readDemo(t, filepath.Join("testdata", "plans", name+".json"))
		for paper, size := range map[string][2]float64{"a4": {210, 297}, "letter": {215.9, 279.4}} {
			doc := r.Sheet(SheetOptions{Paper: paper, Plan: &p})
			data := printSheet(t, browser, doc)
			checkScale(t, name+" on "+paper, r, string(doc), readPrinted(t, data))
			pages := box.FindAllSubmatch(data, -1)
			if len(pages) < 8 || len(pages) > 40 {
				t.Errorf("%s on %s has %d pages", name, paper, len(pages))
			}
			// 21 cards, two beside each other: the last does not lie on a page by itself.
			if name == "offer" && paper == "letter" && len(pages) > 18 {
				t.Errorf("%s on %s has %d pages", name, paper, len(pages))
			}
			across := 0
			for i, m := range pages {
				w, _ := strconv.ParseFloat(string(m[1]), 64)
				h, _ := strconv.ParseFloat(string(m[2]), 64)
				if w > h {
					across++
					w, h = h, w
				}
				// A point is 1/72 in; browsers round a page to whole pixels.
				if math.Abs(w*25.4/72-size[0]) > 0.6 || math.Abs(h*25.4/72-size[1]) > 0.6 {
					t.Errorf("%s on %s: page %d is %.1f by %.1f mm", name, paper, i+1, w*25.4/72, h*25.4/72)
				}
			}
			if across > 6 {
				t.Errorf("%s on %s has %d pages on their side", name, paper, across)
			}
		}
	}
}

// The field sheet has every riser, every letter and every caution, and no more than
// that: the build sheet has the rest.
func TestFieldSheet(t *testing.T) {
	for _, name := range []string{"bench", "terrace", "gentle", "halfway", "total"} {
		p, r, _ := readDemo(t, "testdata/plans/"+name+".json")
		html := r.Sheet(SheetOptions{Kind: "field", Plan: &p})
		checkHTML(t, string(html))
		text := plain(html)
		for _, m := range r.StakeOut {
			if want := strconv.Itoa(m.Riser) + " " + m.Text.Station + " " + m.Text.FromHead; !strings.Contains(text, want) {
				t.Errorf("%s: no stake %q", name, want)
			}
		}
		for _, m := range r.pieceMarks() {
			if want := m.mark + " " + itemName(m.use) + " " + m.section; !strings.Contains(text, want) {
				t.Errorf("%s: no piece %q", name, want)
			}
		}
		for _, f := range r.Findings {
			if f.Severity == "caution" && !strings.Contains(text, strings.Join(strings.Fields(f.Says), " ")) {
				t.Errorf("%s: not cautioned: %s", name, f.Says)
			}
		}
		if build := r.Sheet(SheetOptions{Plan: &p}); len(html)*3 > len(build) {
			t.Errorf("%s: %d bytes for the field, %d to build from", name, len(html), len(build))
		}
	}
}
