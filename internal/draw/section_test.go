package draw

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// elem is an element of a drawing read back.
type elem struct {
	name string
	attr map[string]string
	text string
}

// read parses a drawing and fails the test when it is not well formed.
func read(t testing.TB, svg string) []elem {
	t.Helper()
	var all []elem
	var open []int
	dec := xml.NewDecoder(strings.NewReader(svg))
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return all
		}
		if err != nil {
			t.Fatalf("drawing is not well formed: %v\n%s", err, svg)
		}
		switch v := tok.(type) {
		case xml.StartElement:
			e := elem{name: v.Name.Local, attr: map[string]string{}}
			for _, a := range v.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			open = append(open, len(all))
			all = append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				all[open[len(open)-1]].text += string(v)
			}
		case xml.ProcInst, xml.Directive, xml.Comment:
			t.Fatalf("drawing has %v", v)
		}
	}
}

func (e elem) num(t testing.TB, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attr[name], 64)
	if err != nil {
		t.Fatalf("%s %s: attribute %s is %q", e.name, e.attr["class"], name, e.attr[name])
	}
	return v
}

// of gives the elements of a class, without those of the key and the patterns.
func of(all []elem, name, class string) []elem {
	var out []elem
	for _, e := range all {
		if e.name == name && e.attr["class"] == class {
			out = append(out, e)
		}
	}
	return out
}

var pathStep = regexp.MustCompile(`([ML])(-?[0-9.]+) (-?[0-9.]+)|Z`)

type point struct{ x, y float64 }

// subpaths reads the d attribute of a path.
func subpaths(t testing.TB, d string) [][]point {
	t.Helper()
	if rest := pathStep.ReplaceAllString(d, ""); rest != "" {
		t.Fatalf("path %q has %q in it", d, rest)
	}
	var out [][]point
	for _, m := range pathStep.FindAllStringSubmatch(d, -1) {
		if m[0] == "Z" {
			continue
		}
		x, _ := strconv.ParseFloat(m[2], 64)
		y, _ := strconv.ParseFloat(m[3], 64)
		if m[1] == "M" {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], point{x, y})
	}
	return out
}

// lay lays n risers on the given treads with build-up d, foot at 0, 0.
func lay(n int, tread func(k int) float64, rise, wash, d float64) Section {
	var s Section
	run := 0.0
	for k := 1; k < n; k++ {
		run += tread(k)
	}
	s.Head = XY{run, rise}
	r := (rise - wash*run) / float64(n)
	x := 0.0
	for k := 1; k <= n; k++ {
		level := float64(k)*r + wash*x
		st := Step{Riser: k, Station: x, Level: level, TreadEnd: x, EndLevel: level}
		if k < n {
			w := tread(k)
			st.TreadEnd, st.EndLevel, st.Landing = x+w, level+wash*w, w > 1.05
			s.Formation = append(s.Formation, Piece{XY{x, level - d}, XY{x + w, st.EndLevel - d}})
			x += w
		}
		s.Steps = append(s.Steps, st)
	}
	return s
}

// bank is a hillside of our own invention: cut in its lower half, made ground
// in its upper, a landing on the seventh tread.
func bank() Section {
	s := lay(14, func(k int) float64 {
		if k == 7 {
			return 1.3
		}
		return 0.45
	}, 2.1, 0.02, 0.15)
	s.Title = "Back bank, kitchen door to orchard (invented readings)"
	s.Desc = "A bank with fourteen steps"
	s.Ground = []XY{{-0.6, -0.1}, {0, 0.02}, {1, 0.55}, {2, 1.05}, {3, 1.25}, {3.6, 1.2}, {4.4, 1.0}, {5.4, 1.1}, {6.2, 1.9}, {6.9, 2.15}, {7.4, 2.2}}
	s.String = &LevelString{2.5, 0, 6.7}
	s.Readings = []float64{0, 1, 2, 3, 3.6, 4.4, 5.4, 6.2, 6.7}
	s.Deepest = &Deepest{2, 1.05 - s.Formation[4].at(2)}
	return s
}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

// The drawing is compared with the section as geometry: coordinates are read
// back and must be the section's at one scale in both directions.
func TestSectionGeometry(t *testing.T) {
	for _, feet := range []bool{false, true} {
		for _, width := range []float64{320, 360, 1100, 2000} {
			t.Run(fmt.Sprintf("%v/feet=%v", width, feet), func(t *testing.T) {
				s := bank()
				s.Feet = feet
				checkGeometry(t, s, width)
			})
		}
	}
}

func checkGeometry(t *testing.T, s Section, width float64) {
	const tol = 0.011 // coordinates have two decimals
	all := read(t, s.SVG(width, Look{Prefix: "p"}))
	if w := all[0].num(t, "width"); w != width {
		t.Errorf("drawing is %v px wide, want %v", w, width)
	}

	// The scale is told by the ground's ends, and everything else must agree.
	ground := subpaths(t, of(all, "path", "sw-ground")[0].attr["d"])[0]
	if len(ground) != len(s.Ground) {
		t.Fatalf("ground has %d points, want %d", len(ground), len(s.Ground))
	}
	first, last := s.Ground[0], s.Ground[len(s.Ground)-1]
	g0, g1 := ground[0], ground[len(ground)-1]
	k := (g1.x - g0.x) / (last.Station - first.Station)
	X := func(x float64) float64 { return g0.x + k*(x-first.Station) }
	Y := func(y float64) float64 { return g0.y - k*(y-first.Level) }
	if k < 0.75*(width-100)/(last.Station-first.Station) {
		t.Errorf("scale of %v px per metre does not use the width", k)
	}
	// What the root says of the datum and the scale, for what is laid over it.
	if x, y := all[0].num(t, "data-x0"), all[0].num(t, "data-y0"); !near(x, X(0), tol) || !near(y, Y(0), tol) {
		t.Errorf("datum said to be at %v, %v px, want %v, %v", x, y, X(0), Y(0))
	}
	if said := all[0].num(t, "data-scale"); !near(said*(last.Station-first.Station), g1.x-g0.x, 2*tol) {
		t.Errorf("said to be drawn at %v px per metre, want %v", said, k)
	}
	at := func(what string, p point, want XY) {
		t.Helper()
		if !near(p.x, X(want.Station), tol) || !near(p.y, Y(want.Level), tol) {
			t.Errorf("%s at %v px, want %v, %v for %v", what, p, X(want.Station), Y(want.Level), want)
		}
	}
	for i, p := range ground {
		at("ground", p, s.Ground[i])
	}

	var want []XY
	want = append(want, s.Foot)
	for _, st := range s.Steps {
		for _, v := range []XY{{st.Station, st.Level}, {st.TreadEnd, st.EndLevel}} {
			if v != want[len(want)-1] {
				want = append(want, v)
			}
		}
	}
	if h := want[len(want)-1]; h != s.Head {
		want = append(want, s.Head)
	}
	steps := subpaths(t, of(all, "path", "sw-steps")[0].attr["d"])[0]
	if len(steps) != len(want) {
		t.Fatalf("steps have %d points, want %d", len(steps), len(want))
	}
	for i, p := range steps {
		at("step", p, want[i])
	}

	formation := subpaths(t, of(all, "path", "sw-formation")[0].attr["d"])
	if len(formation) != len(s.Formation) {
		t.Fatalf("%d pieces of formation, want %d", len(formation), len(s.Formation))
	}
	for i, p := range formation {
		at("formation", p[0], s.Formation[i].From)
		at("formation", p[1], s.Formation[i].To)
	}

	// Areas against sums over fine slices, in m².
	cut, fill, gravel := 0.0, 0.0, 0.0
	for i, p := range s.Formation {
		const n = 20_000
		dx := (p.To.Station - p.From.Station) / n
		for j := range n {
			x := p.From.Station + (float64(j)+0.5)*dx
			if h := levelAt(s.Ground, x) - p.at(x); h > 0 {
				cut += h * dx
			} else {
				fill -= h * dx
			}
			st := s.Steps[i]
			gravel += (between(XY{st.Station, st.Level}, XY{st.TreadEnd, st.EndLevel}, x) - p.at(x)) * dx
		}
	}
	for _, c := range []struct {
		class string
		want  float64
	}{{"sw-cut", cut}, {"sw-fill", fill}, {"sw-gravel", gravel}} {
		got := 0.0
		for _, poly := range subpaths(t, of(all, "path", c.class)[0].attr["d"]) {
			var v []XY
			for _, p := range poly {
				v = append(v, XY{p.x / k, p.y / k})
			}
			got += math.Abs(area(v))
		}
		if c.want < 0.1 || !near(got, c.want, 2/(k*k)) {
			t.Errorf("%s is %v m², want %v", c.class, got, c.want)
		}
	}

	// The earth symbol hangs from the ground line.
	ticks := subpaths(t, of(all, "path", "sw-earth")[0].attr["d"])
	if len(ticks) < 6 {
		t.Errorf("earth symbol has %d strokes", len(ticks))
	}
	for _, p := range ticks {
		level := func(p point) float64 { return levelAt(s.Ground, first.Station+(p.x-g0.x)/k) }
		if !near(p[0].y, Y(level(p[0])), 0.05) {
			t.Errorf("stroke of the earth symbol begins at %v, off the ground", p[0])
		}
	}

	line := subpaths(t, of(all, "path", "sw-rise")[0].attr["d"])[0]
	if !near(line[0].y, Y(s.Foot.Level), tol) || !near(line[1].y, Y(s.Head.Level), tol) {
		t.Errorf("rise is measured from %v to %v px", line[0], line[1])
	}
	line = subpaths(t, of(all, "path", "sw-run")[0].attr["d"])[0]
	if !near(line[0].x, X(s.Foot.Station), tol) || !near(line[1].x, X(s.Head.Station), tol) {
		t.Errorf("run is measured from %v to %v px", line[0], line[1])
	}
	deep := subpaths(t, of(all, "path", "sw-deepest")[0].attr["d"])[0]
	top := XY{s.Deepest.Station, levelAt(s.Ground, s.Deepest.Station)}
	at("top of deepest cut", deep[0], top)
	at("foot of deepest cut", deep[1], XY{top.Station, top.Level - s.Deepest.Depth})
	str := of(all, "line", "sw-string")[0]
	at("level string", point{str.num(t, "x1"), str.num(t, "y1")}, XY{s.String.From, s.String.Level})
	at("level string", point{str.num(t, "x2"), str.num(t, "y2")}, XY{s.String.To, s.String.Level})

	// Labels stand where they say.
	unit := 1.0
	if s.Feet {
		unit = footMetres
	}
	graduations := 0
	for _, e := range of(all, "text", "sw-level-text") {
		if v, err := strconv.ParseFloat(e.text, 64); err == nil {
			graduations++
			if !near(e.num(t, "y")-4, Y(v*unit), tol) {
				t.Errorf("graduation %s at %s px, want %v", e.text, e.attr["y"], Y(v*unit)+4)
			}
		}
	}
	if graduations < 3 {
		t.Errorf("staff has %d graduations", graduations)
	}
	stations := of(all, "text", "sw-station-text")
	for _, e := range stations {
		v, err := strconv.ParseFloat(strings.TrimSuffix(e.text, " m"), 64)
		if err != nil || !near(e.num(t, "x"), X(v), tol) {
			t.Errorf("station %q at %s px, want %v", e.text, e.attr["x"], X(v))
		}
	}
	if len(stations) < 3 || width >= 1100 && len(stations) < len(s.Readings)-1 {
		t.Errorf("only %d stations are labelled at %v px", len(stations), width)
	}
	bar := 0.0
	for _, e := range of(all, "rect", "sw-scale") {
		bar += e.num(t, "width")
	}
	word := " m"
	if s.Feet {
		word = " ft"
	}
	said := ""
	for _, e := range of(all, "text", "sw-scale-text") {
		if n, ok := strings.CutSuffix(e.text, word); ok {
			said = n
		}
	}
	if v, err := strconv.ParseFloat(said, 64); err != nil || !near(bar, v*unit*k, 0.05) {
		t.Errorf("scale bar of %v px says %q%s at %v px per metre", bar, said, word, k)
	}
}

// Text sizes stay the same, whatever the width.
func TestTextSize(t *testing.T) {
	for _, w := range []float64{320, 800, 2000} {
		for _, e := range read(t, bank().SVG(w, Look{})) {
			if e.name == "text" {
				if size := e.num(t, "font-size"); size < 11 || size > 13 {
					t.Errorf("text %q is %v px at %v", e.text, size, w)
				}
			}
		}
	}
}

var rotated = regexp.MustCompile(`^rotate\(-90 (\S+) (\S+)\)$`)

// checkText reads all text back and checks that none lies on another or runs
// out of the drawing.
func checkText(t *testing.T, svg string) int {
	t.Helper()
	all := read(t, svg)
	w, h := all[0].num(t, "width"), all[0].num(t, "height")
	var boxes []box
	var texts []string
	for _, e := range all {
		if e.name != "text" {
			continue
		}
		x, y, size := e.num(t, "x"), e.num(t, "y"), e.num(t, "font-size")
		wide := textWidth(e.text, size)
		a := x
		switch e.attr["text-anchor"] {
		case "middle":
			a = x - wide/2
		case "end":
			a = x - wide
		}
		b := box{a, y - 0.75*size, a + wide, y + 0.2*size}
		if tr := e.attr["transform"]; tr != "" {
			if m := rotated.FindStringSubmatch(tr); m == nil || m[1] != e.attr["x"] || m[2] != e.attr["y"] {
				t.Fatalf("text %q is turned by %q", e.text, tr)
			}
			b = box{x - 0.75*size, y + (x - a) - wide, x + 0.2*size, y + (x - a)}
		}
		if b.x0 < -0.5 || b.x1 > w+0.5 || b.y0 < -0.5 || b.y1 > h+0.5 {
			t.Errorf("text %q at %v runs out of the drawing of %v x %v", e.text, b, w, h)
		}
		for i, o := range boxes {
			if b.overlaps(o) {
				t.Errorf("text %q at %v lies on %q at %v", e.text, b, texts[i], o)
			}
		}
		boxes, texts = append(boxes, b), append(texts, e.text)
	}
	for _, e := range of(all, "path", "sw-extension") {
		for _, p := range subpaths(t, e.attr["d"]) {
			for i, b := range boxes {
				if len(p) == 2 && p[0].x == p[1].x && (segment{p[0].x, p[0].y, p[1].x, p[1].y}).crosses(box{b.x0 + 0.5, b.y0 + 0.5, b.x1 - 0.5, b.y1 - 0.5}) {
					t.Errorf("a line at %v goes through %q at %v", p, texts[i], b)
				}
			}
		}
	}
	return len(boxes)
}

// random makes sections of every shape, many of them hardly drawable.
func random(rng *rand.Rand) Section {
	n := 1 + rng.IntN(60)
	tread := 0.2 + rng.Float64()
	rise := (rng.Float64() - 0.1) * float64(n) * 0.25
	s := lay(n, func(k int) float64 {
		if k%9 == 4 {
			return tread + 1
		}
		return tread
	}, rise, 0.02*rng.Float64(), 0.1+0.2*rng.Float64())
	if n == 1 {
		s.Head.Station = rng.Float64()
	}
	run := s.Head.Station + 0.5
	points := 2 + rng.IntN(40)
	for i := range points {
		x := -0.5 + (run+0.5)*float64(i)/float64(points-1)
		s.Ground = append(s.Ground, XY{x, rise*x/run + (rng.Float64()-0.5)*0.8})
		s.Readings = append(s.Readings, x)
	}
	if rng.IntN(2) == 0 {
		s.String = &LevelString{rise + rng.Float64(), 0, run}
	}
	x := run * rng.Float64()
	s.Deepest = &Deepest{x, rng.Float64()}
	s.Feet = rng.IntN(2) == 0
	s.Title = strings.Repeat("A long title of a drawing ", rng.IntN(12))
	if rng.IntN(3) == 0 {
		s.LengthText = func(m float64) string { return fmt.Sprintf("%d ft %d 15/16 in", int(m/0.3048), 11) }
	}
	if rng.IntN(4) == 0 {
		s.Words = Words{Rise: strings.Repeat("Höhenunterschied ", 3), Run: strings.Repeat("Länge", 9), Landing: "Zwischenpodest", Feet: strings.Repeat("W", 50), Metres: strings.Repeat("漢", 50), TrueScale: strings.Repeat("漢", 60)}
	}
	return s
}

func TestTextNeverOverlaps(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	for i := range 400 {
		s := random(rng)
		for _, w := range []float64{320, 360, 320 + 1680*rng.Float64()} {
			checkText(t, s.SVG(w, Look{}))
			if t.Failed() {
				t.Fatalf("section %d at %v px", i, w)
			}
		}
	}
	// The bank's own labels must not be bought by leaving most of them out.
	for w, least := range map[float64]int{1100: 40, 360: 30} {
		if n := checkText(t, bank().SVG(w, Look{})); n < least {
			t.Errorf("%d texts at %v px, want %d or more", n, w, least)
		}
	}
}

// Every label that matters is there at any width.
func TestLabelsKept(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	for range 100 {
		s := random(rng)
		s.LengthText, s.Words = nil, Words{}
		if s.Head.Station <= 0 {
			continue
		}
		for _, w := range []float64{320, 900} {
			svg := s.SVG(w, Look{})
			for _, want := range []string{"Rise ", "Run ", "Ground", "Finished steps", "one scale"} {
				if !strings.Contains(svg, want) {
					t.Errorf("no %q at %v px", want, w)
				}
			}
			if _, maxX, _, _ := s.extent(); s.Deepest.Station < maxX && !strings.Contains(svg, ">Deepest cut ") {
				t.Errorf("deepest cut at %v is not named", s.Deepest.Station)
			}
		}
	}
}

func TestWordsAreTranslatable(t *testing.T) {
	w := Words{Ground: "w1", Finished: "w2", Formation: "w3", Cut: "w4", Fill: "w5", Gravel: "w6", String: "w7", Rise: "w8", Run: "w9",
		DeepestCut: "v1", Landing: "v2", TrueScale: "v3", Feet: "v4", Metres: "v5", Nothing: "v6"}
	s := bank()
	s.Words, s.Title, s.Desc = w, "", ""
	s.LengthText = func(float64) string { return "0" }
	svg := s.SVG(1100, Look{})
	s.Feet = true
	svg += s.SVG(1100, Look{})
	s.Ground = nil
	svg += s.SVG(1100, Look{})
	for _, word := range []string{"w1", "w2", "w3", "w4", "w5", "w6", "w7", "w8", "w9", "v1", "v2", "v3", "v4", "v5", "v6"} {
		if !regexp.MustCompile(`>[^<]*` + word + `\b[^<]*</text>`).MatchString(svg) {
			t.Errorf("word %s is not in the drawing", word)
		}
	}
	for _, m := range regexp.MustCompile(`<text[^>]*>([^<]*)</text>`).FindAllStringSubmatch(svg, -1) {
		if left := regexp.MustCompile(`[wv][1-9]`).ReplaceAllString(m[1], ""); strings.ContainsFunc(left, func(c rune) bool { return c >= 'A' && c <= 'z' }) {
			t.Errorf("text %q has a word that is not among Words", m[1])
		}
	}
}

// The key explains what the drawing has and nothing else.
func TestKey(t *testing.T) {
	s := bank()
	key := func(s Section) (words []string) {
		for _, e := range of(read(t, s.SVG(1100, Look{})), "text", "sw-key-text") {
			words = append(words, e.text)
		}
		return words
	}
	if got, want := key(s), []string{"Ground", "Finished steps", "Formation (dug to)", "Cut", "Made ground", "Gravel"}; !slices.Equal(got, want) {
		t.Errorf("key %q, want %q", got, want)
	}
	for i := range s.Formation { // all below the ground
		s.Formation[i].From.Level -= 2
		s.Formation[i].To.Level -= 2
	}
	if got := key(s); slices.Contains(got, "Made ground") {
		t.Errorf("key %q has made ground; there is none", got)
	}
	if got, want := key(Section{Ground: s.Ground}), []string{"Ground"}; !slices.Equal(got, want) {
		t.Errorf("key %q, want %q", got, want)
	}
}

// allowed are the elements and attributes of SVG 1.1 that a drawing may use.
var allowed = map[string]string{
	"svg":     "xmlns version class width height viewBox role aria-labelledby font-family data-x0 data-y0 data-scale",
	"title":   "id",
	"desc":    "id",
	"defs":    "",
	"pattern": "id patternUnits width height patternTransform",
	"g":       "fill",
	"rect":    "class x y width height fill fill-opacity stroke stroke-width",
	"circle":  "class cx cy r fill fill-opacity stroke stroke-width",
	"line":    "class x1 y1 x2 y2 stroke stroke-width stroke-opacity stroke-dasharray",
	"path":    "class d fill stroke stroke-width stroke-opacity stroke-dasharray stroke-linejoin fill-opacity",
	"text":    "class x y font-size font-weight text-anchor transform fill",
}

func checkPlain(t *testing.T, svg, prefix string) {
	t.Helper()
	if !utf8.ValidString(svg) || strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
		t.Errorf("drawing has what is no text or no number:\n%s", svg)
	}
	ids := map[string]bool{}
	all := read(t, svg)
	for _, e := range all {
		names, ok := allowed[e.name]
		if !ok {
			t.Errorf("element %s", e.name)
		}
		for a, v := range e.attr {
			if !slices.Contains(strings.Fields(names), a) {
				t.Errorf("%s has an attribute %s", e.name, a)
			}
			if a == "id" {
				if !strings.HasPrefix(v, prefix+"-") || ids[v] {
					t.Errorf("id %q is not prefixed with %q, or is there twice", v, prefix)
				}
				ids[v] = true
			}
		}
	}
	for _, e := range all {
		for a, v := range e.attr {
			if u, ok := strings.CutPrefix(v, "url("); ok && (a != "fill" || !ids[strings.TrimSuffix(strings.TrimPrefix(u, "#"), ")")]) {
				t.Errorf("%s %s refers to %s, which is not in the drawing", e.name, a, v)
			}
		}
	}
	for _, id := range strings.Fields(all[0].attr["aria-labelledby"]) {
		if !ids[id] {
			t.Errorf("named by %s, which is not in the drawing", id)
		}
	}
}

func TestPlainSVG(t *testing.T) {
	s := bank()
	for look, prefix := range map[Look]string{
		{}:                                "sw",
		{Prefix: "plan-2_a"}:              "plan-2_a",
		{Prefix: `x"/><script>`}:          "sw",
		{Prefix: "9a"}:                    "sw",
		{Prefix: "é"}:                     "sw",
		{Prefix: "a", Ink: true}:          "a",
		{Prefix: strings.Repeat("a", 41)}: "sw",
	} {
		checkPlain(t, s.SVG(700, look), prefix)
	}
	if svg := s.SVG(700, Look{Ink: true}); strings.Contains(svg, cutRed) || strings.Contains(svg, fillTeal) {
		t.Error("a drawing in ink has colours")
	}
	// Cut and made ground lean against each other, for black and white.
	turns := map[string]string{}
	for _, e := range read(t, s.SVG(700, Look{Ink: true})) {
		if e.name == "pattern" {
			turns[e.attr["id"]] = e.attr["patternTransform"]
		}
	}
	if turns["sw-cut"] != "rotate(45)" || turns["sw-fill"] != "rotate(-45)" {
		t.Errorf("hatchings are turned %v", turns)
	}
}

func TestStrings(t *testing.T) {
	for _, title := range []string{
		`</title><script>alert(1)</script>`, `"'&<>`, "a\x00b\x1bc\x7f\u0085d", "\xff\xfe\xc3", "\ufffe\uffff\ud7ff", "שביל במדרון", "درج على المنحدر",
		"\u202eturned", strings.Repeat("漢字", 500), strings.Repeat("e\u0301", 500), strings.Repeat("x", 1<<20), "\n\t lines \r\n of text ",
	} {
		s := bank()
		s.Title, s.Desc = title, title
		s.LengthText = func(float64) string { return title }
		s.Words = Words{Ground: title, Finished: title, Cut: title, Landing: title, Feet: title, Metres: title, Rise: title, Run: title, DeepestCut: title}
		for _, w := range []float64{320, 1100} {
			svg := s.SVG(w, Look{})
			checkPlain(t, svg, "sw")
			checkText(t, svg)
			if len(svg) > 100_000 {
				t.Errorf("title %.20q makes a drawing of %d bytes", title, len(svg))
			}
		}
	}
	if got := clean(" a\x00 b\n\tc\u202e ", 100); got != "a b c" {
		t.Errorf("cleaned to %q", got)
	}
	if got := clean("abcdef", 3); got != "abc…" {
		t.Errorf("cleaned to %q", got)
	}
	if got := clip("a title", 1000, 12); got != "a title" {
		t.Errorf("clipped to %q, though there is room", got)
	}
	long := clip(strings.Repeat("mn ", 100), 100, 12)
	if w := textWidth(long, 12); !strings.HasSuffix(long, "…") || w > 100 || w < 75 {
		t.Errorf("clipped to %q, %v px", long, w)
	}
	if got := clip("e\u0301e\u0301e\u0301", 1.8*12, 12); got != "e\u0301…" {
		t.Errorf("clipped to %+q, want the accent kept with its letter", got)
	}
	if got := clip("漢字", 1, 12); got != "…" {
		t.Errorf("clipped to %q", got)
	}
}

func TestNothing(t *testing.T) {
	ok := []XY{{0, 0}, {1, 1}}
	for name, s := range map[string]Section{
		"zero":             {},
		"one point":        {Ground: ok[:1]},
		"descending":       {Ground: []XY{{1, 0}, {0, 1}}},
		"standing":         {Ground: []XY{{0, 0}, {0, 1}}},
		"NaN":              {Ground: []XY{{0, 0}, {1, math.NaN()}}},
		"infinite":         {Ground: []XY{{math.Inf(-1), 0}, {1, 0}}},
		"far":              {Ground: []XY{{0, 0}, {1e7, 0}}},
		"NaN foot":         {Ground: ok, Foot: XY{math.NaN(), 0}},
		"NaN step":         {Ground: ok, Steps: []Step{{Level: math.NaN()}}},
		"tread back":       {Ground: ok, Steps: []Step{{Station: 1, TreadEnd: 0}}},
		"step back":        {Ground: ok, Steps: []Step{{TreadEnd: 1}, {Station: 0.5, TreadEnd: 1}}},
		"NaN formation":    {Ground: ok, Formation: []Piece{{XY{0, 0}, XY{1, math.NaN()}}}},
		"formation back":   {Ground: ok, Formation: []Piece{{XY{1, 0}, XY{0, 0}}}},
		"NaN reading":      {Ground: ok, Readings: []float64{math.NaN()}},
		"NaN string":       {Ground: ok, String: &LevelString{Level: math.Inf(1)}},
		"NaN depth":        {Ground: ok, Deepest: &Deepest{0, math.NaN()}},
		"too many":         {Ground: make([]XY, maxPoints+1)},
		"too many steps":   {Ground: ok, Steps: make([]Step, maxSteps+1)},
		"too many reading": {Ground: ok, Readings: make([]float64, maxPoints+1)},
	} {
		svg := s.SVG(500, Look{})
		checkPlain(t, svg, "sw")
		if !strings.Contains(svg, English().Nothing) {
			t.Errorf("%s: drawing does not say that there is none", name)
		}
	}
	// What is odd but can be drawn is.
	for name, s := range map[string]Section{
		"flat":       {Ground: []XY{{0, 0}, {10, 0}}},
		"tiny":       {Ground: []XY{{0, 0}, {1e-9, 1e-9}}},
		"cliff":      {Ground: []XY{{0, 0}, {0.1, 1e6}}, Head: XY{0.1, 1e6}, Readings: []float64{0, 0.1}},
		"long":       {Ground: []XY{{-1e6, 0}, {1e6, 1}}, Head: XY{1e6, 1}},
		"far away":   {Ground: []XY{{999_990, 999_990}, {999_999, 999_999}}, Foot: XY{999_990, 999_990}, Head: XY{999_999, 999_999}},
		"descending": {Ground: []XY{{0, 0}, {10, -3}}, Head: XY{10, -3}},
		"elsewhere":  {Ground: []XY{{0, 0}, {1, 0}}, Formation: []Piece{{XY{5, 0}, XY{6, 0}}}, Readings: []float64{9}, Deepest: &Deepest{9, 1}},
	} {
		for _, feet := range []bool{false, true} {
			for _, w := range []float64{math.NaN(), -1, 0, 320, 2000, math.Inf(1)} {
				s.Feet = feet
				svg := s.SVG(w, Look{})
				checkPlain(t, svg, "sw")
				checkText(t, svg)
				e := read(t, svg)[0]
				if ww, h := e.num(t, "width"), e.num(t, "height"); strings.Contains(svg, English().Nothing) || ww < 320 || ww > 2000 || h > 1600 {
					t.Errorf("%s at %v px: drawing of %v x %v", name, w, ww, h)
				}
			}
		}
	}
}

// The largest section allowed, with ground as wild as can be, is drawn in
// bounded time and space.
func TestLargest(t *testing.T) {
	s := lay(maxSteps, func(k int) float64 { return 0.3 }, 300, 0, 0.15)
	for i := range maxPoints {
		x := float64(i) * 0.06
		s.Ground = append(s.Ground, XY{x, 200 * float64(i%2)})
		s.Readings = append(s.Readings, x)
	}
	began := time.Now()
	svg := s.SVG(2000, Look{})
	if d := time.Since(began); d > 10*time.Second || len(svg) > 4<<20 {
		t.Errorf("largest section took %v and %d bytes", d, len(svg))
	}
	checkText(t, svg)
}

func TestSameTwice(t *testing.T) {
	if bank().SVG(777, Look{}) != bank().SVG(777, Look{}) {
		t.Error("the same section is drawn in two ways")
	}
}

// Cut less fill is the ground less the formation, whatever crosses what.
func TestAreas(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 4))
	sum := func(polys [][]XY) (a float64) {
		for _, p := range polys {
			v := area(p)
			for _, q := range p {
				if math.IsNaN(q.Station) || math.IsNaN(q.Level) {
					t.Fatalf("polygon %v", p)
				}
			}
			a += math.Abs(v)
		}
		return a
	}
	for range 2000 {
		var line []XY
		x := 0.0
		for range 2 + rng.IntN(12) {
			line = append(line, XY{x, float64(rng.IntN(5))})
			x += 0.1 + rng.Float64()
		}
		a := x * rng.Float64()
		p := Piece{XY{a, float64(rng.IntN(5))}, XY{a + (x-a)*rng.Float64(), float64(rng.IntN(5))}}
		cut, fill := areas(line, []Piece{p})
		// The integral of the difference, by trapezia between all bends.
		last := math.Min(p.To.Station, line[len(line)-1].Station)
		xs := []float64{p.From.Station, last}
		for _, v := range line {
			if v.Station > p.From.Station && v.Station < last {
				xs = append(xs, v.Station)
			}
		}
		slices.Sort(xs)
		want := 0.0
		for i := 1; i < len(xs) && last > p.From.Station; i++ {
			h := func(x float64) float64 { return levelAt(line, x) - p.at(x) }
			want += (xs[i] - xs[i-1]) * (h(xs[i-1]) + h(xs[i])) / 2
		}
		if got := sum(cut) - sum(fill); !near(got, want, 1e-9) {
			t.Fatalf("cut %v less fill %v is %v, want %v\nline %v\npiece %v", sum(cut), sum(fill), got, want, line, p)
		}
		for _, poly := range cut {
			if area(poly) > 1e-12 { // along the ground and back: clockwise
				t.Fatalf("cut %v turns the wrong way", poly)
			}
		}
	}
}

func TestInterval(t *testing.T) {
	for _, c := range []struct {
		k, least float64
		feet     bool
		want     float64
	}{
		{100, 20, false, 0.2}, {100, 21, false, 0.5}, {100, 50, false, 0.5}, {100, 51, false, 1}, {1, 20, false, 20}, {1, 21, false, 50},
		{100, 15, true, 0.5}, {100, 16, true, 1}, {100, 31, true, 2}, {100, 62, true, 5}, {1, 20, true, 100},
	} {
		if got := interval(c.k, c.least, c.feet); !near(got, c.want, 1e-9) {
			t.Errorf("interval(%v, %v, %v) = %v, want %v", c.k, c.least, c.feet, got, c.want)
		}
	}
	for v, want := range map[float64]string{0: "0", 0.2 * 3: "0.6", -0.5: "-0.5", -0.0001: "0", 20: "20"} {
		if got := plainNumber(v); got != want {
			t.Errorf("%v is written %q, want %q", v, got, want)
		}
	}
}

// The colours are read on white paper and on a dark page: contrast of 3:1 or
// more, as WCAG 2.1 asks of graphics (success criterion 1.4.11).
func TestContrast(t *testing.T) {
	luminance := func(c string) float64 {
		l := 0.0
		for i, w := range []float64{0.2126, 0.7152, 0.0722} {
			n, err := strconv.ParseUint(c[1+2*i:3+2*i], 16, 8)
			if err != nil {
				t.Fatal(err)
			}
			v := float64(n) / 255
			if v <= 0.03928 {
				v /= 12.92
			} else {
				v = math.Pow((v+0.055)/1.055, 2.4)
			}
			l += w * v
		}
		return l
	}
	for _, c := range []string{cutRed, fillTeal} {
		for _, paper := range []string{"#ffffff", "#15171a"} {
			a, b := luminance(c), luminance(paper)
			if r := (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05); r < 3 {
				t.Errorf("%s on %s has contrast %.2f", c, paper, r)
			}
		}
	}
}

func FuzzSection(f *testing.F) {
	f.Add("title", "1 ft 2 in", 360.0, 2.5, uint64(1))
	f.Add("</title>\xff", "\u202e&", 0.0, -1.0, uint64(2))
	f.Fuzz(func(t *testing.T, title, length string, width, depth float64, seed uint64) {
		s := random(rand.New(rand.NewPCG(seed, 0)))
		s.Title, s.Desc, s.Deepest.Depth = title, title, depth
		s.LengthText = func(float64) string { return length }
		svg := s.SVG(width, Look{})
		checkPlain(t, svg, "sw")
		checkText(t, svg)
	})
}

func BenchmarkSection(b *testing.B) {
	s := bank()
	for b.Loop() {
		s.SVG(1100, Look{})
	}
}

// TestChainAtAnyWidth: each part of the chain is named, on the narrowest page too, and no
// leader goes through a text. Where a page lays a mark on a reading stands no number.
func TestChainAtAnyWidth(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 17))
	for i := range 200 {
		s := random(rng)
		s.LengthText, s.Words = nil, Words{}
		if !s.hasPath() {
			continue
		}
		for k := 0; k < len(s.Steps)-1; {
			from := s.Steps[k]
			for k++; k < len(s.Steps)-1 && !s.Steps[k].Landing && !from.Landing; k++ {
			}
			s.Chain = append(s.Chain, Span{From: from.Station, To: s.Steps[k].Station, Text: fmt.Sprintf("part %d of the chain", len(s.Chain)), Short: fmt.Sprintf("part %d", len(s.Chain))})
		}
		if len(s.Chain) > 24 {
			continue // no path has so many
		}
		for _, w := range []float64{320, 340 + 1000*rng.Float64()} {
			all := read(t, s.SVG(w, Look{}))
			checkText(t, s.SVG(w, Look{}))
			texts := of(all, "text", "sw-chain-text")
			if len(texts) != len(s.Chain) {
				t.Errorf("section %d at %v px: %d of %d parts are named", i, w, len(texts), len(s.Chain))
			}
			for _, e := range of(all, "path", "sw-chain-leader") {
				for _, line := range subpaths(t, e.attr["d"]) {
					for j := 1; j < len(line); j++ {
						for _, x := range texts {
							l := label{text: x.text, x: x.num(t, "x"), y: x.num(t, "y"), size: x.num(t, "font-size"), anchor: anchor(x.attr["text-anchor"])}
							if b := l.box(); (segment{line[j-1].x, line[j-1].y, line[j].x, line[j].y - 1}).crosses(box{b.x0 + 1, b.y0 + 2, b.x1 - 1, b.y1 - 1}) {
								t.Errorf("section %d at %v px: a leader goes through %q", i, w, x.text)
							}
						}
					}
				}
			}
			x0, y0, k := all[0].num(t, "data-x0"), all[0].num(t, "data-y0"), all[0].num(t, "data-scale")
			last := math.Inf(-1)
			for _, r := range s.Readings {
				x, y := x0+r*k, y0-levelAt(s.Ground, r)*k
				if x-last < 5 {
					continue // drawn with the one before
				}
				last = x
				for _, e := range of(all, "text", "sw-riser-text") {
					l := label{text: e.text, x: e.num(t, "x"), y: e.num(t, "y"), size: e.num(t, "font-size"), anchor: anchor(e.attr["text-anchor"])}
					if b := l.box(); b.x0 < x && x < b.x1 && b.y0 < y+5 && b.y1 > y-5 {
						t.Errorf("section %d at %v px: number %s lies on the reading at %v", i, w, e.text, r)
					}
				}
			}
			if t.Failed() {
				t.FailNow()
			}
		}
	}
}

// TestLongTitle: a title takes as many lines as it must, up to three.
func TestLongTitle(t *testing.T) {
	s := bank()
	s.Title = "The long way up from the boathouse past the old pear tree to the terrace door"
	for width, lines := range map[float64]int{320: 2, 900: 1} {
		var all []string
		for _, e := range of(read(t, s.SVG(width, Look{})), "text", "sw-title") {
			all = append(all, e.text)
		}
		if len(all) < lines || strings.Join(all, " ") != s.Title {
			t.Errorf("at %v px: %q", width, all)
		}
	}
	s.Title = strings.Repeat(s.Title+" ", 5)
	if all := of(read(t, s.SVG(320, Look{})), "text", "sw-title"); len(all) != 3 || !strings.HasSuffix(all[2].text, "…") {
		t.Errorf("%d lines of a title that is longer", len(all))
	}
}
