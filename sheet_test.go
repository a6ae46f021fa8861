//go:build !js || whole

package slopewright

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/materials"
)

func readDemo(t testing.TB, name string) (Plan, Result, maker) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := ReadPlan(data)
	if err != nil {
		t.Fatal(err)
	}
	r, m := made(t, p)
	return p, r, m
}

func made(t testing.TB, p Plan) (Result, maker) {
	t.Helper()
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	var m maker
	if err := m.read(p); err != nil {
		t.Fatal(err)
	}
	return r, m
}

func sheetDemos(t testing.TB) []string {
	t.Helper()
	var out []string
	for _, n := range []string{"bench", "steepening", "gentle", "first", "total", "terrace", "orchard", "halfway", "earth", "offer"} {
		out = append(out, filepath.Join("testdata", "plans", n+".json"))
	}
	return out
}

// What the result says of the making is what it was made with: the detail of
// the boxes, and pieces that are those of the cut plan, no more and no less.
func TestBuildResult(t *testing.T) {
	length := func(text string) *Length {
		l, err := ParseLength(text)
		if err != nil {
			t.Fatal(err)
		}
		return &l
	}
	for _, name := range sheetDemos(t) {
		for i, change := range []func(p *Plan){
			func(*Plan) {},
			func(p *Plan) { p.Build.Fill = length("60 mm") },
			func(p *Plan) { p.Build.Base, p.Build.Topping = length("0 mm"), length("80 mm") },
			func(p *Plan) { p.Build.Topping, p.Build.Fill = length("0 mm"), length("70 mm") },
			func(p *Plan) {
				p.Build.Timber, p.Build.OnEdge, p.Build.Working = "100x200", !p.Build.OnEdge, length("0 mm")
			},
			func(p *Plan) {
				p.Build.HeadReturn, p.Build.Pin, p.Build.Bedding = length("0.9 m"), length("0.8 m"), length("10 mm")
			},
			func(p *Plan) { p.Steps.Kinds = []string{"framed"} },
			func(p *Plan) { p.Steps.Kinds, p.Build.Framed.Solid = []string{"framed"}, true },
			func(p *Plan) { p.Steps.Kinds, p.Steps.Prefer = []string{"box", "framed"}, "hours" },
			func(p *Plan) { p.Path.Width = *length("2 m") },
		} {
			// Framed flights have many sections to cut; some sites are enough.
			if i >= 6 && !strings.Contains(name, "first") && !strings.Contains(name, "total") {
				continue
			}
			if i >= 1 && i < 6 && strings.Contains(name, "terrace") {
				continue
			}
			p, _, _ := readDemo(t, name)
			p.Stock = nil
			change(&p)
			r, err := Make(p)
			if err != nil {
				continue // no steps are possible so
			}
			_, m := made(t, p)
			near := func(what string, got, want float64) {
				t.Helper()
				if math.Abs(got-want) > 1e-12 {
					t.Errorf("%s, change %d: %s is %v, want %v", name, i, what, got, want)
				}
			}
			near("width", r.Build.Width.Meters(), m.section.Width.Meters())
			if b := r.Build.Box; b != nil {
				near("base", b.Layers[2].Meters(), m.detail.Base.Meters())
				near("fill", b.Layers[1].Meters(), m.detail.Fill.Meters())
				near("topping", b.Layers[0].Meters(), m.detail.Topping.Meters())
				near("build-up", (b.Layers[0] + b.Layers[1] + b.Layers[2]).Meters(), r.Dig.BuildUp.Meters())
				near("courses and bedding", b.Course.Meters()*float64(b.Courses)+(b.Bedding-b.Buried).Meters(), r.Layout.Riser.Meters())
				near("head return", b.HeadReturn.Meters(), m.detail.HeadReturn.Meters())
				trench := b.Trench
				if r.Dig.Steps[0].Riser == r.Build.Boxes[0].Riser && !r.Layout.Steps[0].Stands {
					trench = b.FirstTrench
				}
				at := 0
				for k, x := range r.Dig.Steps {
					if x.Riser == r.Build.Boxes[0].Riser {
						at = k
					}
				}
				if !r.Layout.Steps[at].Stands && r.Layout.Steps[at].Kind != "framed" {
					near("trench", trench.Meters()*b.TrenchWidth.Meters()*r.Dig.FormationWidth.Meters(), r.Dig.Steps[at].TrenchBank.CubicMeters())
				}
			} else if len(r.Build.Boxes) > 0 || len(r.Build.Framed) == 0 {
				t.Errorf("%s, change %d: nothing is said of %d boxes", name, i, len(r.Build.Boxes))
			}
			type key struct {
				use, section string
				length       int64
			}
			left := map[key]int{}
			add := func(use, section string, l float64, n int) {
				left[key{use, section, int64(math.Round(l * 1e6))}] += n
			}
			for _, b := range r.CutPlan.Boards {
				for _, p := range b.Pieces {
					add(p.Use, b.Section, p.Length.Meters(), b.Count)
				}
			}
			take := func(all []PieceResult) {
				for _, p := range all {
					if s, err := materials.FramedSectionByName(p.Section); err == nil && s.Round {
						continue // bars are bought cut
					}
					add(p.Use, p.Section, p.Length.Meters(), -p.Count)
				}
			}
			for _, b := range r.Build.Boxes {
				take(b.Pieces)
			}
			for _, f := range r.Build.Framed {
				take(f.Pieces)
			}
			for k, n := range left {
				if n != 0 {
					t.Errorf("%s, change %d: %d of %v are cut and not told, or told and not cut", name, i, n, k)
				}
			}
		}
	}
}

// Every drawing is made, to scale and to fit, and its risers stand where the
// result has them.
func TestDrawings(t *testing.T) {
	riser := regexp.MustCompile(`class="sw-riser"[^>]* d="([^"]*)"`)
	moves := regexp.MustCompile(`M(-?[0-9.]+) (-?[0-9.]+)L(-?[0-9.]+) (-?[0-9.]+)`)
	for _, name := range sheetDemos(t) {
		p, r, m := readDemo(t, name)
		for _, n := range Drawings() {
			has := (n != "flight" && n != "stringer" || len(r.Build.Framed) > 0) && (n != "step" && n != "across" || r.Build.Box != nil) && n != "choices" && (n != "haul" || len(r.Haul.Curve) > 0)
			for _, svg := range []string{r.Draw(Drawing{Name: n, Width: 700}), r.DrawToScale(Drawing{Name: n}, 50)} {
				if has != strings.HasPrefix(svg, "<svg ") || strings.Contains(svg, "NaN") || has && !strings.Contains(svg, "<desc") {
					t.Errorf("%s: %s is %.80q", name, n, svg)
				}
			}
		}
		svg := r.DrawToScale(Drawing{Name: "plan"}, 20)
		found := riser.FindStringSubmatch(svg)
		if found == nil {
			t.Fatalf("%s: the plan has no risers", name)
		}
		lines := moves.FindAllStringSubmatch(found[1], -1)
		var stations []float64
		for _, b := range p.Built[:max(len(p.Built)-1, 0)] {
			stations = append(stations, (b.At.Length - r.Ground.Datum.Station).Meters())
		}
		for _, x := range r.Layout.Steps {
			stations = append(stations, x.Station.Meters())
		}
		if len(lines) != len(stations) {
			t.Fatalf("%s: %d risers drawn, want %d", name, len(lines), len(stations))
		}
		num := func(s string) float64 {
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			return v * mmPerPx * 20 / 1000 // metres of the work at 1:20
		}
		half := m.section.Width.Meters() / 2
		x0, y0 := num(lines[0][1]), num(lines[0][2])
		fx, fy := walked(p, r, stations[0], -half)
		for i, l := range lines {
			for j, offset := range []float64{-half, half} {
				wx, wy := walked(p, r, stations[i], offset)
				gx, gy := num(l[1+2*j])-x0, num(l[2+2*j])-y0
				if math.Hypot(gx-(wx-fx), gy-(wy-fy)) > 1e-3 {
					t.Errorf("%s: end %d of riser %d lies at %.4f, %.4f m from the first, want %.4f, %.4f", name, j, i+1, gx, gy, wx-fx, wy-fy)
				}
			}
		}
	}
	if s := (Result{}).Draw(Drawing{Name: "plan"}); s != "" {
		t.Errorf("a result of nothing has a plan: %.80q", s)
	}
}

// walked finds a place of the path by walking it in steps of a tenth of a
// millimetre, turning on the document's own bends.
func walked(p Plan, r Result, station, offset float64) (x, y float64) {
	const step = 1e-4
	heading := 0.0
	n := int(math.Round(math.Abs(station) / step))
	if station < 0 {
		return station, offset
	}
	datum := r.Ground.Datum.Station.Meters()
	for i := range n {
		s := (float64(i) + 0.5) * station / float64(n)
		turn := 0.0
		for _, b := range p.Path.Bends {
			from := b.At.Meters() - datum
			long := b.Radius.Meters() * math.Abs(b.Turn) * math.Pi / 180
			if s > from && s < from+long {
				turn = math.Copysign(1/b.Radius.Meters(), b.Turn)
			}
		}
		heading += turn * station / float64(n) / 2
		x += math.Cos(heading) * station / float64(n)
		y += math.Sin(heading) * station / float64(n)
		heading += turn * station / float64(n) / 2
	}
	return x - offset*math.Sin(heading), y + offset*math.Cos(heading)
}

var tags = regexp.MustCompile(`<[^>]*>`)
var spaces = regexp.MustCompile(`[\s\x{a0}]+`)

var parted = regexp.MustCompile(`<(?:p|li|dd|td)><bdi>[^<]*\d (?:mm|m|ft|in|m³|cu yd)[ .,;<]`)

// plain is what a reader sees of a sheet, list numbers included.
func plain(doc []byte) string {
	_, s, _ := strings.Cut(string(doc), "<body>")
	for {
		a, rest, ok := strings.Cut(s, `<ol class="steps">`)
		if !ok {
			break
		}
		inside, after, _ := strings.Cut(rest, "</ol>")
		for n := 1; strings.Contains(inside, "<li>"); n++ {
			inside = strings.Replace(inside, "<li>", "<p>"+strconv.Itoa(n)+". ", 1)
		}
		s = a + inside + after
	}
	s = strings.NewReplacer("<strong>", "", "</strong>", "", "<bdi>", "", "</bdi>", "", "<small>", "", "</small>", "", "<wbr>", "").Replace(s)
	s = tags.ReplaceAllString(s, " ")
	s = strings.NewReplacer("&lt;", "<", "&gt;", ">", "&quot;", `"`, "&#39;", "'", "&amp;", "&").Replace(s)
	return spaces.ReplaceAllString(s, " ")
}

// A reader with only the sheet can answer the questions.
func TestSheetAnswers(t *testing.T) {
	files, err := filepath.Glob("testdata/sheet/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no questions", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var q struct {
			Plan      string
			Questions []struct {
				Ask, Answer string
				Between     [2]string
			}
		}
		if err := json.Unmarshal(data, &q); err != nil || len(q.Questions) < 5 {
			t.Fatal(err, len(q.Questions))
		}
		p, r, _ := readDemo(t, q.Plan)
		for _, paper := range []string{"a4", "letter"} {
			text := plain(r.Sheet(SheetOptions{Paper: paper, Plan: &p}))
			for _, x := range q.Questions {
				_, rest, ok := strings.Cut(text, x.Between[0])
				if !ok {
					t.Errorf("%s: %q is not on the sheet", x.Ask, x.Between[0])
					continue
				}
				rest, _, ok = strings.Cut(rest, x.Between[1])
				if !ok || !strings.Contains(rest, x.Answer) {
					t.Errorf("%s The sheet has no %q between %q and %q, but %.300q", x.Ask, x.Answer, x.Between[0], x.Between[1], rest)
				}
			}
		}
	}
}

// Every riser, piece, item, caution and reading is on the sheet.
func TestSheetHasAll(t *testing.T) {
	for _, name := range sheetDemos(t) {
		p, r, _ := readDemo(t, name)
		doc := r.Sheet(SheetOptions{Plan: &p})
		checkHTML(t, string(doc))
		text := plain(doc)
		has := func(what, s string) {
			if !strings.Contains(text, spaces.ReplaceAllString(s, " ")) {
				t.Errorf("%s: the sheet has no %s %q", name, what, s)
			}
		}
		if x := parted.FindString(string(doc)); x != "" {
			t.Errorf("%s: a number may be parted from its unit at the end of a line: %s", name, x)
		}
		for _, m := range r.StakeOut {
			has("mark", strconv.Itoa(m.Riser)+" "+m.Text.Station+" "+m.Text.FromHead+" "+m.Text.Drop)
			has("card", "Riser "+strconv.Itoa(m.Riser)+" ")
			if d := stepDig(r, m.Riser).Depth; d > 0 {
				has("depth", "deepest "+r.Length(d))
			} else {
				has("depth", "deepest none")
			}
		}
		pieces := 0
		for _, x := range r.pieceMarks() {
			has("piece", x.mark+" "+itemName(x.use)+" "+x.section+" "+r.Length(x.length)+" "+strconv.Itoa(x.count))
			pieces += x.count
		}
		want := 0
		for _, b := range r.CutPlan.Boards {
			want += b.Count * len(b.Pieces)
		}
		if pieces != want {
			t.Errorf("%s: %d pieces have a letter, want %d", name, pieces, want)
		}
		for _, l := range r.Bill.Lines {
			has("item", l.Need+" "+l.Buy)
			has("item", l.Name)
		}
		for _, f := range r.Findings {
			has("finding", f.Says)
		}
		for _, c := range r.Ground.Checks {
			has("check", c.Says)
		}
		if strings.Contains(text, "readings[") {
			t.Errorf("%s: the sheet names a reading as the document does, not by its line", name)
		}
		for _, x := range p.Ground.Readings {
			for _, l := range []*Length{x.At, x.Drop, x.Back, x.Mid, x.Fore, x.Length} {
				if l != nil {
					has("reading", typed(l, r.words()))
				}
			}
		}
		if strings.Contains(text, " ? ") || strings.Contains(text, "× ?") {
			t.Errorf("%s: a piece has no letter", name)
		}
	}
}

func stepDig(r Result, riser int) StepDig {
	for _, x := range r.Dig.Steps {
		if x.Riser == riser {
			return x
		}
	}
	return StepDig{}
}

// The pieces on the cards are those of the cut plan, letter by letter.
func TestCardsAddUp(t *testing.T) {
	for _, name := range sheetDemos(t) {
		p, r, _ := readDemo(t, name)
		_, text, _ := strings.Cut(plain(r.Sheet(SheetOptions{Plan: &p})), "Step by step")
		text, _, _ = strings.Cut(text, " Shopping list ")
		got := map[string]int{}
		for _, m := range regexp.MustCompile(`(\d+) × ([A-Z]+),`).FindAllStringSubmatch(text, -1) {
			n, _ := strconv.Atoi(m[1])
			got[m[2]] += n
		}
		for _, x := range r.pieceMarks() {
			if x.use != "pin" && got[x.mark] != x.count {
				t.Errorf("%s: the cards have %d of %s, the cut plan %d", name, got[x.mark], x.mark, x.count)
			}
		}
	}
}

// checkHTML checks that every tag is closed in order, and that nothing is run
// or fetched.
func checkHTML(t *testing.T, doc string) {
	t.Helper()
	tag := regexp.MustCompile(`<(/?)([a-zA-Z][a-zA-Z0-9]*)([^<>]*?)(/?)>`)
	var open []string
	for _, m := range tag.FindAllStringSubmatch(doc, -1) {
		name := m[2]
		switch {
		case name == "script" || name == "img" || name == "link" || name == "iframe" || name == "object" || name == "a":
			t.Errorf("the sheet has a %s", m[0])
		case regexp.MustCompile(`(?i)\s(on\w+|href|src|style)\s*=`).MatchString(m[3]):
			t.Errorf("the sheet has %s", m[0])
		}
		switch {
		case m[4] == "/" || name == "meta" || name == "wbr":
		case m[1] == "/":
			if len(open) == 0 || open[len(open)-1] != name {
				t.Fatalf("%s closes %v", m[0], open)
			}
			open = open[:len(open)-1]
		default:
			open = append(open, name)
		}
	}
	if len(open) > 0 {
		t.Errorf("not closed: %v", open)
	}
	// Every < begins one of those tags, or the doctype.
	if n, want := strings.Count(doc, "<"), len(tag.FindAllString(doc, -1))+1; n != want {
		t.Errorf("%d < in the sheet, %d of them tags", n, want-1)
	}
	for _, bad := range []string{"@import", "url(http", "javascript:"} {
		if strings.Contains(doc, bad) {
			t.Errorf("the sheet has %s", bad)
		}
	}
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(doc, -1) {
		if ids[m[1]] {
			t.Errorf("id %q is there twice", m[1])
		}
		ids[m[1]] = true
	}
}

var hostile = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `'; } body { display: none } /*`, `</style><script>x</script>`, `</title><b>`,
	"\u202egnp.exe \u2066abc", "שלום <b>עולם</b>", "🏞️ 👷🏽‍♀️ steps & <b>", strings.Repeat("W", 10_000), strings.Repeat("long words ", 1000), "a\x00b\x1bc\xff", "=1+1", "&lt;b&gt;",
}

func TestSheetHostile(t *testing.T) {
	_, base, _ := readDemo(t, "testdata/plans/bench.json")
	plan, _, _ := readDemo(t, "testdata/plans/bench.json")
	for _, h := range hostile {
		r, p := base, plan
		r.Title, p.Notes = h, h
		r.Findings = append([]Finding{{Severity: "caution", Rule: "spoil", Says: h, Source: h}}, r.Findings...)
		r.Bill.Lines = append([]BillLine{{Item: h, Name: h, Need: h, Buy: h}}, r.Bill.Lines...)
		p.Ground.Readings = append([]Reading{{At: &Length{Text: h}}}, p.Ground.Readings...)
		q := Quote{Name: h, Contact: h, Client: h, Number: h, Date: h, Terms: []string{h}, Exclusions: []string{h}}
		for _, kind := range []string{"build", "quote"} {
			doc := string(r.Sheet(SheetOptions{Kind: kind, Plan: &p, Quote: q}))
			checkHTML(t, doc)
			if strings.ContainsAny(doc, "\u202e\u2066\x00\x1b") || len(doc) > 1_500_000 {
				t.Errorf("%.20q: the sheet of %d bytes carries what it should not", h, len(doc))
			}
		}
	}
	doc := string(func() Result { r := base; r.Title = hostile[0]; return r }().Sheet(SheetOptions{}))
	if !strings.Contains(doc, "<h1><bdi>&lt;script&gt;alert(1)&lt;/script&gt;</bdi></h1>") {
		t.Error("the title cannot be read")
	}
}

func TestPrice(t *testing.T) {
	_, r, _ := readDemo(t, "testdata/plans/bench.json")
	rate := Money{Decimal: decimal.RequireFromString("45")}
	p := r.Price(Quote{Rate: &rate, Markup: 0.15})
	// 69 hours at 45 are 3105.00; 15 % of 1593.86 + 3105.00 is 704.829; tax of
	// the bill 127.51.
	for _, c := range []struct {
		what string
		got  Money
		want string
	}{{"materials", p.Materials, "1593.86"}, {"labour", p.Labour, "3105"}, {"markup", p.Markup, "704.83"}, {"tax", p.Tax, "127.51"}, {"total", p.Total, "5531.20"}} {
		if !c.got.Equal(decimal.RequireFromString(c.want)) {
			t.Errorf("%s is %s, want %s", c.what, c.got, c.want)
		}
	}
	text := plain(r.Sheet(SheetOptions{Kind: "quote", Quote: Quote{Name: "Hill & Daughter", Rate: &rate, Markup: 0.15, Terms: []string{"Valid for 30 days."}}}))
	for _, want := range []string{"Hill & Daughter", "Labour, 69 person-hours at 45.00 3105.00", "Total, USD 5531.20", "Valid for 30 days.", "Permits, fees and inspections", "Before any digging"} {
		if !strings.Contains(text, want) {
			t.Errorf("the quote has no %q", want)
		}
	}
	if p := r.Price(Quote{}); !p.Total.Equal(r.Bill.Total.Decimal) {
		t.Errorf("without labour the price is %s, want the bill's %s", p.Total, r.Bill.Total)
	}
	// What is tamped back is the sum of the two figures of the build sheet.
	if want := "Earth tamped back, in place " + r.words().sum(r.Dig.FillCompacted, r.Dig.BackfillCompacted); !strings.Contains(text, want) {
		t.Errorf("the quote has no %q", want)
	}
	if w := (words{}); w.sum(0.004, 0.014, 12.34) != "12.31 m³" {
		t.Errorf("0 + 0.01 + 12.3 m³ are %s", w.sum(0.004, 0.014, 12.34))
	}
	if text := plain((Result{}).Sheet(SheetOptions{Kind: "quote"})); !strings.Contains(text, "to be agreed") {
		t.Error("a quote of nothing has a price")
	}
}

func TestLetters(t *testing.T) {
	seen := map[string]bool{}
	for i := range 2000 {
		s := letters(i)
		if seen[s] || strings.ContainsAny(s, "IO") || s == "" {
			t.Fatalf("letters(%d) = %q", i, s)
		}
		seen[s] = true
	}
	if letters(0) != "A" || letters(23) != "Z" || letters(24) != "AA" {
		t.Error(letters(0), letters(23), letters(24))
	}
}

// lookOver makes a page tell what lies wrong on it: text of drawings on other text
// or outside, and what is wider than it has room for.
const lookOver = `<script>addEventListener("load", () => { let out = [];
for (const svg of document.querySelectorAll("svg")) { const all = [...svg.querySelectorAll("text")].map((e) => [e.textContent, e.getBoundingClientRect()]); const s = svg.getBoundingClientRect();
 for (const [t, b] of all) if (b.left < s.left - 1 || b.right > s.right + 1 || b.bottom > s.bottom + 1) out.push("out of " + svg.getAttribute("class") + ": " + t);
 for (let i = 0; i < all.length; i++) for (let j = 0; j < i; j++) { const a = all[i][1], b = all[j][1]; const dy = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top), dx = Math.min(a.right, b.right) - Math.max(a.left, b.left); if (dx > 1 && dy > 3) out.push("overlap in " + svg.getAttribute("class") + ": " + all[i][0] + " / " + all[j][0]); } }
const main = document.querySelector("main"), edge = main && main.getBoundingClientRect().right;
for (const e of document.querySelectorAll("main *")) { if (e.closest("svg")) continue;
 if (e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).overflow !== "hidden" && getComputedStyle(e).display !== "inline") out.push("too wide: " + e.tagName + " " + e.className);
 if (e.getBoundingClientRect().right > edge + 0.5 && !e.closest(".across")) out.push("over the edge: " + e.tagName + " " + e.className + " " + e.textContent.slice(0, 30)); }
if (window.ran) out.push("a text of the plan was run");
parent.found[window.name] = out.slice(0, 9); });</script>`

// lookedOver opens pages in the browser and gives what lookOver finds on each.
func lookedOver(t *testing.T, browser string, docs ...string) []string {
	t.Helper()
	var b strings.Builder
	b.WriteString("<!doctype html><meta charset=utf-8><script>window.found = []; addEventListener('load', () => { document.title = 'FOUND' + JSON.stringify(found); });</script><body>")
	for i, doc := range docs {
		doc = strings.Replace(doc, "</body>", lookOver+"</body>", 1)
		b.WriteString(`<iframe name="` + strconv.Itoa(i) + `" width="1200" height="900" srcdoc="` + strings.NewReplacer("&", "&amp;", `"`, "&quot;").Replace(doc) + `"></iframe>`)
	}
	file := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(file, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--window-size=1300,900", "--dump-dom", file).Output()
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(string(out), "<title>FOUND")
	text, _, _ = strings.Cut(text, "</title>")
	text = strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&").Replace(text)
	var found [][]string
	if err := json.Unmarshal([]byte(text), &found); err != nil || len(found) != len(docs) {
		t.Fatalf("%d of %d pages were looked over: %v", len(found), len(docs), err)
	}
	all := make([]string, len(docs))
	for i, f := range found {
		all[i] = strings.Join(f, "; ")
	}
	return all
}

// asPrinted is a sheet as a page of its paper's width on the screen.
func asPrinted(doc, paper string) string {
	doc = regexp.MustCompile(`<meta http-equiv[^>]*>`).ReplaceAllString(doc, "")
	doc = strings.Replace(doc, "@media print", "@media all", -1)
	wide := map[string]string{"a4": "182mm", "letter": "187.9mm"}[paper]
	return strings.Replace(doc, "</style>", "main { width: "+wide+"; max-width: none !important; }</style>", 1)
}

// Printed by a browser, no text lies on another, nothing sticks out of its page
// and drawings keep their scale. Set CHROMIUM to the browser.
func TestSheetInBrowser(t *testing.T) {
	browser := os.Getenv("CHROMIUM")
	if browser == "" {
		t.Skip("CHROMIUM names no browser")
	}
	t.Parallel() // another browser runs beside
	for _, name := range sheetDemos(t) {
		p, r, _ := readDemo(t, name)
		var docs []string
		for _, paper := range []string{"a4", "letter"} {
			for _, kind := range []string{"build", "quote"} {
				docs = append(docs, asPrinted(string(r.Sheet(SheetOptions{Kind: kind, Paper: paper, Plan: &p})), paper))
			}
		}
		// Spanish is longer.
		plan, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, paper := range []string{"a4", "letter"} {
			var answer struct{ Sheets map[string]string }
			request := `{"format":"slopewright.request/1","lang":"es","plan":` + string(plan) + `,"sheets":[{"kind":"build","paper":"` + paper + `"},{"kind":"quote","paper":"` + paper + `"}]}`
			if err := json.Unmarshal(Call([]byte(request)), &answer); err != nil || len(answer.Sheets) != 2 {
				t.Fatal(name, len(answer.Sheets), err)
			}
			for _, kind := range []string{"build", "quote"} {
				docs = append(docs, asPrinted(answer.Sheets[kind], paper))
			}
		}
		for i, found := range lookedOver(t, browser, docs...) {
			if found != "" {
				t.Errorf("%s, sheet %d: %s", name, i, found)
			}
		}
	}
}

// Whatever is written in a plan, its sheet is laid out as any other, and nothing
// of it runs. Set CHROMIUM to the browser.
func TestSheetHostileInBrowser(t *testing.T) {
	browser := os.Getenv("CHROMIUM")
	if browser == "" {
		t.Skip("CHROMIUM names no browser")
	}
	t.Parallel() // another browser runs beside
	_, base, _ := readDemo(t, "testdata/plans/bench.json")
	plan, _, _ := readDemo(t, "testdata/plans/bench.json")
	texts := append(hostile, `<script>window.ran = true</script>`, `<img src=x onerror="window.ran = true">`)
	var docs []string
	for _, h := range texts {
		r, p := base, plan
		r.Title, p.Notes = h, h
		r.Findings = append([]Finding{{Severity: "caution", Rule: "spoil", Says: h, Source: h}}, r.Findings...)
		r.Bill.Lines = append([]BillLine{{Item: h, Name: h, Need: "1", Buy: "1"}}, r.Bill.Lines...)
		r.Haul.Places = append([]HaulPlace{{Name: h, Says: h, Breadth: r.Haul.Places[0].Breadth}}, r.Haul.Places...)
		q := Quote{Name: h, Contact: h, Client: h, Number: h, Date: h, ValidUntil: h, Terms: []string{h}, Exclusions: []string{h}}
		for _, kind := range []string{"build", "quote"} {
			docs = append(docs, asPrinted(string(r.Sheet(SheetOptions{Kind: kind, Paper: "a4", Plan: &p, Quote: q})), "a4"))
		}
	}
	for i, found := range lookedOver(t, browser, docs...) {
		if found != "" {
			t.Errorf("%.20q: %s", texts[i/2], found)
		}
	}
}

// Every drawing of every demo, on a telephone, on a screen and to scale: no text
// lies on another or sticks out. Set CHROMIUM to the browser.
func TestDrawingsInBrowser(t *testing.T) {
	browser := os.Getenv("CHROMIUM")
	if browser == "" {
		t.Skip("CHROMIUM names no browser")
	}
	t.Parallel() // another browser runs beside
	for _, name := range sheetDemos(t) {
		p, r, _ := readDemo(t, name)
		if strings.Contains(name, "bench") || strings.Contains(name, "gentle") {
			var err error
			if r.Choices, err = Choices(p); err != nil {
				t.Fatal(err)
			}
		}
		var b strings.Builder
		b.WriteString("<!doctype html><meta charset=utf-8><body>\n")
		for _, n := range Drawings() {
			for i, svg := range []string{r.Draw(Drawing{Name: n, Width: 340}), r.Draw(Drawing{Name: n, Width: 900}), r.DrawToScale(Drawing{Name: n}, 25)} {
				b.WriteString("<div>" + strings.ReplaceAll(svg, `id="`, `id="`+strconv.Itoa(i)) + "</div>\n")
			}
		}
		if found := lookedOver(t, browser, b.String()+"</body>"); found[0] != "" {
			t.Errorf("%s: %s", name, found[0])
		}
	}
}

// A path on stringers has a section without gravel, with no more formation than
// is dug, and a sheet with every mark and piece.
func TestSheetFramed(t *testing.T) {
	p, _, _ := readDemo(t, "testdata/plans/steepening.json")
	p.Steps.Kinds, p.Stock = []string{"framed"}, nil
	r, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	svg := r.Draw(Drawing{Name: "section", Width: 900})
	if strings.Contains(svg, `class="sw-gravel"`) || strings.Contains(svg, `class="sw-fill"`) || !strings.Contains(svg, `class="sw-cut"`) {
		t.Error("the section shows gravel or made ground under stringers, or no cut")
	}
	doc := r.Sheet(SheetOptions{Plan: &p})
	checkHTML(t, string(doc))
	text := plain(doc)
	for _, m := range r.StakeOut {
		if !strings.Contains(text, strconv.Itoa(m.Riser)+" "+m.Text.Station+" "+m.Text.FromHead) {
			t.Errorf("no mark for riser %d", m.Riser)
		}
	}
	for _, x := range r.pieceMarks() {
		if !strings.Contains(text, x.mark+" "+itemName(x.use)+" "+x.section+" "+r.Length(x.length)) {
			t.Errorf("no piece %s", x.mark)
		}
	}
	if strings.Contains(text, "Lay the base.") {
		t.Error("boxes are built where there are none")
	}
}
