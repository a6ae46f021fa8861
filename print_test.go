//go:build !js || whole

package slopewright

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// printed is one page of a PDF: its rectangles and straight lines, in
// millimetres from its lower left corner.
type printed struct {
	rects [][4]float64 // x, y, wide, tall
	lines [][4]float64 // x0, y0, x1, y1
}

// matrix maps x, y to a·x + c·y + e, b·x + d·y + f (ISO 32000-1, section 8.3.4).
type matrix [6]float64

func (m matrix) then(o matrix) matrix {
	return matrix{
		m[0]*o[0] + m[1]*o[2], m[0]*o[1] + m[1]*o[3], m[2]*o[0] + m[3]*o[2], m[2]*o[1] + m[3]*o[3],
		m[4]*o[0] + m[5]*o[2] + o[4], m[4]*o[1] + m[5]*o[3] + o[5],
	}
}

func (m matrix) at(x, y float64) (float64, float64) {
	return m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]
}

// readPrinted reads what a PDF draws, stream by stream, each from the page's
// own coordinates; a browser writes one for each page.
func readPrinted(t *testing.T, data []byte) (pages []printed) {
	t.Helper()
	for _, m := range regexp.MustCompile(`/Filter /FlateDecode\s*/Length (\d+)>>\s*stream\r?\n`).FindAllSubmatchIndex(data, -1) {
		n, _ := strconv.Atoi(string(data[m[2]:m[3]]))
		z, err := zlib.NewReader(bytes.NewReader(data[m[1]:min(m[1]+n, len(data))]))
		if err != nil {
			continue
		}
		text, err := io.ReadAll(z)
		if err != nil || !bytes.Contains(text, []byte(" cm\n")) {
			continue
		}
		pages = append(pages, readPage(string(text)))
	}
	return pages
}

// readPage runs a content stream as far as lines and rectangles go.
func readPage(text string) (p printed) {
	const mm = 25.4 / 72
	now := matrix{1, 0, 0, 1, 0, 0}
	var saved []matrix
	var stack []float64
	var x0, y0 float64
	for _, w := range strings.Fields(text) {
		if v, err := strconv.ParseFloat(w, 64); err == nil {
			stack = append(stack, v)
			continue
		}
		n := len(stack)
		switch {
		case w == "q":
			saved = append(saved, now)
		case w == "Q" && len(saved) > 0:
			now, saved = saved[len(saved)-1], saved[:len(saved)-1]
		case w == "cm" && n >= 6:
			now = matrix(stack[n-6:]).then(now)
		case w == "re" && n >= 4:
			x, y := now.at(stack[n-4], stack[n-3])
			x1, y1 := now.at(stack[n-4]+stack[n-2], stack[n-3]+stack[n-1])
			p.rects = append(p.rects, [4]float64{math.Min(x, x1) * mm, math.Min(y, y1) * mm, math.Abs(x1-x) * mm, math.Abs(y1-y) * mm})
		case w == "m" && n >= 2:
			x0, y0 = now.at(stack[n-2], stack[n-1])
		case w == "l" && n >= 2:
			x, y := now.at(stack[n-2], stack[n-1])
			p.lines = append(p.lines, [4]float64{x0 * mm, y0 * mm, x * mm, y * mm})
			x0, y0 = x, y
		}
		stack = stack[:0]
	}
	return p
}

// bars are the lengths of the scale bars on a page: rectangles of a bar's
// height, side by side.
func (p printed) bars() (out []float64) {
	var end, y float64
	for _, r := range p.rects {
		if math.Abs(r[3]-4*mmPerPx) > 0.02 {
			continue
		}
		switch n := len(out); {
		case n > 0 && math.Abs(r[0]-end) < 0.02 && math.Abs(r[1]-y) < 0.02:
			out[n-1] += r[2]
		case n > 0 && math.Abs(r[0]+r[2]-end) < 0.02 && math.Abs(r[1]-y) < 0.02: // filled, then stroked
		default:
			out = append(out, r[2])
		}
		end, y = r[0]+r[2], r[1]
	}
	return out
}

// has says whether a page has a level or an upright line of a length, within
// half of one per cent.
func (p printed) has(length float64, upright bool) bool {
	for _, l := range p.lines {
		dx, dy := math.Abs(l[2]-l[0]), math.Abs(l[3]-l[1])
		if upright {
			dx, dy = dy, dx
		}
		if dy < 0.02 && math.Abs(dx-length) <= 0.005*length {
			return true
		}
	}
	return false
}

// printSheet prints a sheet with the browser.
func printSheet(t *testing.T, browser string, doc []byte) []byte {
	t.Helper()
	dir := t.TempDir()
	page, pdf := filepath.Join(dir, "sheet.html"), filepath.Join(dir, "sheet.pdf")
	if err := os.WriteFile(page, doc, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", "--print-to-pdf="+pdf, page).CombinedOutput(); err != nil {
		t.Fatal(err, string(out))
	}
	data, err := os.ReadFile(pdf)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// checkScale holds what is printed against the scales that the sheet states:
// every scale bar, and the run, the rise and the width of the path.
func checkScale(t *testing.T, name string, r Result, doc string, pages []printed) {
	t.Helper()
	scaleText := regexp.MustCompile(`>Scale 1:([0-9.]+)[^<]*<`)
	barText := regexp.MustCompile(`class="sw-scale-text"[^>]*>([0-9.]+) (ft|m)<`)
	bars := map[int][]float64{}
	for i, p := range pages {
		bars[i] = p.bars()
	}
	seen := map[string]bool{}
	for _, svg := range regexp.MustCompile(`(?s)<svg .*?</svg>`).FindAllString(doc, -1) {
		m, b := scaleText.FindStringSubmatch(svg), barText.FindStringSubmatch(svg)
		if m == nil {
			continue
		}
		kind := regexp.MustCompile(`class="([^"]*)"`).FindStringSubmatch(svg)[1]
		if b == nil {
			t.Errorf("%s: %s has a scale and no bar", name, kind)
			continue
		}
		scale, _ := strconv.ParseFloat(m[1], 64)
		long, _ := strconv.ParseFloat(b[1], 64)
		if b[2] == "ft" {
			long *= 0.3048
		}
		want := long * 1000 / scale
		at := -1
		for i := range pages {
			for k, got := range bars[i] {
				if at < 0 && math.Abs(got-want) <= 0.005*want {
					at = i
					bars[i] = append(append([]float64(nil), bars[i][:k]...), bars[i][k+1:]...)
					break
				}
			}
		}
		if at < 0 {
			t.Errorf("%s: no printed bar of %s measures the %.2f mm that %s %s are at 1:%v", name, kind, want, b[1], b[2], scale)
			continue
		}
		seen[kind] = true
		steps := r.Layout.Steps
		last := steps[len(steps)-1]
		mm := func(m float64) float64 { return m * 1000 / scale }
		switch kind {
		case "sw-section":
			run, rise := last.Station.Meters(), last.Level.Meters()
			if !pages[at].has(mm(run), false) || !pages[at].has(mm(rise), true) {
				t.Errorf("%s: no printed run of %.1f mm or rise of %.1f mm on page %d", name, mm(run), mm(rise), at+1)
			}
		case "sw-plan":
			if !pages[at].has(mm(r.Build.Width.Meters()), true) {
				t.Errorf("%s: no printed width of %.1f mm on page %d", name, mm(r.Build.Width.Meters()), at+1)
			}
		case "sw-across":
			if !pages[at].has(mm(r.Build.Width.Meters()), false) {
				t.Errorf("%s: no printed width of %.1f mm in the step on page %d", name, mm(r.Build.Width.Meters()), at+1)
			}
		}
	}
	if !seen["sw-section"] || !seen["sw-plan"] {
		t.Errorf("%s: only %v are printed to scale", name, seen)
	}
}
