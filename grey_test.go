//go:build !js || whole

package slopewright

import (
	"encoding/xml"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
)

// inked is an element of a drawing with the looks it has or inherits.
type inked struct {
	name string
	attr map[string]string
}

func inkOf(t testing.TB, svg string) (out []inked) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	var stack []map[string]string
	for {
		token, err := d.Token()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		switch x := token.(type) {
		case xml.StartElement:
			a := map[string]string{}
			if n := len(stack); n > 0 {
				for _, k := range []string{"fill", "stroke"} {
					a[k] = stack[n-1][k]
				}
			}
			for _, v := range x.Attr {
				a[v.Name.Local] = v.Value
			}
			stack = append(stack, a)
			out = append(out, inked{x.Name.Local, a})
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		}
	}
}

// greyOf is the luminance of a colour on white, as a copier without colour sees
// it: WCAG 2.1, relative luminance, after the colour's opacity.
func greyOf(t testing.TB, colour, opacity string) float64 {
	t.Helper()
	if colour == "currentColor" || colour == "" {
		colour = "#000000"
	}
	a := 1.0
	if opacity != "" {
		a, _ = strconv.ParseFloat(opacity, 64)
	}
	l := 0.0
	for i, w := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		if err != nil {
			t.Fatalf("%q is no colour", colour)
		}
		v := 1 - a + a*float64(n)/255
		if v <= 0.03928 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		l += w * v
	}
	return l
}

// contrast of two luminances: WCAG 2.1, contrast ratio.
func contrast(a, b float64) float64 { return (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05) }

// In a copy without colour every text has a contrast of 4.5 to 1 and every line
// and hatch one of 3 to 1 against the paper (WCAG 2.1, 1.4.3 and 1.4.11); what the
// key of a drawing explains is told apart by dash, width or hatch.
func TestDrawingsInGrey(t *testing.T) {
	// Fine lines behind the drawing that only lead the eye: the staff has the same
	// marks in full.
	guides := map[string]bool{"sw-level": true}
	bench, r, _ := readDemo(t, "testdata/plans/bench.json")
	var err error
	if r.Choices, err = Choices(bench); err != nil {
		t.Fatal(err)
	}
	results := map[string]Result{"bench": r, "steepening, framed": framedDemo(t, "steepening")}
	for _, n := range []string{"terrace", "orchard", "halfway"} {
		_, results[n], _ = readDemo(t, "testdata/plans/"+n+".json")
	}
	lines, texts, keys := 0, 0, 0
	for name, r := range results {
		for _, n := range Drawings() {
			for i, svg := range []string{r.Draw(Drawing{Name: n, Width: 900}), r.DrawToScale(Drawing{Name: n}, 25)} {
				if svg == "" {
					continue
				}
				where := name + ", " + n
				type look struct{ what, dash, pattern, width string }
				key := map[look]string{}
				for _, e := range inkOf(t, svg) {
					class, stroke, fill := e.attr["class"], e.attr["stroke"], e.attr["fill"]
					if e.name == "text" {
						texts++
						// The worst that text may lie on is a tint.
						for _, ground := range []float64{1, greyOf(t, "#bf2f2a", "0.14"), greyOf(t, "#1c8577", "0.14")} {
							if c := contrast(greyOf(t, fill, ""), ground); c < 4.5 {
								t.Errorf("%s: text %s has contrast %.2f", where, class, c)
							}
						}
						continue
					}
					if !guides[class] && stroke != "" && stroke != "none" {
						lines++
						if c := contrast(greyOf(t, stroke, e.attr["stroke-opacity"]), 1); c < 3 {
							t.Errorf("%s: line %s has contrast %.2f", where, class, c)
						}
					}
					if strings.HasSuffix(class, "-hatch") {
						tint := 1.0
						if i == 0 {
							tint = greyOf(t, stroke, "0.14")
						}
						if c := contrast(greyOf(t, stroke, ""), tint); c < 3 {
							t.Errorf("%s: %s has contrast %.2f on its tint", where, class, c)
						}
					}
					if i == 1 && (strings.HasPrefix(fill, "#") || strings.HasPrefix(stroke, "#")) && strings.Contains(class, "tint") {
						t.Errorf("%s: %s has a colour in ink", where, class)
					}
					// What the key shows is as wide as its samples are.
					num := func(k string) float64 { v, _ := strconv.ParseFloat(e.attr[k], 64); return v }
					sample := e.name == "line" && math.Abs(num("x2")-num("x1")-22) < 0.02 && num("y1") == num("y2") || e.name == "rect" && num("width") == 22
					if !sample {
						continue
					}
					keys++
					l := look{e.name, e.attr["stroke-dasharray"], strings.TrimPrefix(fill, "url(#sw-"), e.attr["stroke-width"]}
					if e.name == "rect" {
						l.width = ""
					}
					if old, ok := key[l]; ok && old != class {
						t.Errorf("%s: %s and %s look alike in the key", where, old, class)
					}
					key[l] = class
				}
			}
		}
	}
	if lines < 1000 || texts < 1000 || keys < 100 {
		t.Errorf("only %d lines, %d texts and %d samples are looked at", lines, texts, keys)
	}
}

// Hatches that stand for different earth differ in more than colour: in the
// slant, in how far apart their lines are, or in being dots.
func TestHatchesInGrey(t *testing.T) {
	_, r, _ := readDemo(t, "testdata/plans/bench.json")
	for _, n := range []string{"section", "step", "across", "view"} {
		have := map[string]string{}
		in := ""
		for _, e := range inkOf(t, r.DrawToScale(Drawing{Name: n}, 20)) {
			if e.name == "pattern" {
				in = e.attr["id"]
				have[in] = e.attr["patternTransform"] + " " + e.attr["width"]
				continue
			}
			if in != "" && (strings.Contains(e.attr["class"], "gravel") || strings.Contains(e.attr["class"], "dash")) {
				have[in] += " " + e.name + e.attr["r"]
			} else if !strings.Contains(e.attr["class"], "hatch") && !strings.Contains(e.attr["class"], "tint") {
				in = ""
			}
		}
		seen := map[string]string{}
		for id, how := range have {
			if other, ok := seen[how]; ok {
				t.Errorf("%s: %s and %s are hatched alike", n, id, other)
			}
			seen[how] = id
		}
		if len(have) < 3 {
			t.Errorf("%s has %d hatches", n, len(have))
		}
	}
}
