//go:build !js || whole

package slopewright

import (
	"math"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"

	"github.com/slopewright/slopewright/internal/draw"
	"github.com/slopewright/slopewright/internal/sheet"
)

// SheetOptions say what sheet [Result.Sheet] makes.
type SheetOptions struct {
	// Kind is "build", the sheet to build from, "field", the pages of it needed on the hill, two for up to 32 risers, or "quote", a contractor's
	// quote. Default build.
	Kind string
	// Paper is "a4" or "letter". Default letter for imperial plans, otherwise
	// a4.
	Paper string
	// Plan is the document the result was made from: with it the sheet shows
	// the readings as they were booked, and the notes. It may be nil.
	Plan *Plan
	// Quote is what a quote says beside what the result does.
	Quote Quote
}

// Quote is who offers the work, and how.
type Quote struct {
	// Name is the contractor's, Contact how to reach them, Client who asked.
	Name, Contact, Client string
	// Number and Date of the quote, as they are to be printed.
	Number, Date string
	// ValidUntil is how long the price holds.
	ValidUntil string
	// Rate is the price of one person-hour; nil leaves labour out of the price.
	Rate *Money
	// Markup is added to materials and labour, as a fraction; 0 to 10.
	Markup float64
	// Terms and Exclusions are printed as they are, Exclusions after those that
	// follow from the plan.
	Terms, Exclusions []string
}

// texts are what stands in a quote as it was typed.
func (q Quote) texts() []string {
	out := []string{q.Name, q.Contact, q.Client, q.Number, q.Date, q.ValidUntil}
	return append(append(out, q.Terms...), q.Exclusions...)
}

// filled takes from the document what the options leave empty.
func (q Quote) filled(o Offer) Quote {
	for _, x := range []struct {
		to   *string
		from string
	}{{&q.Name, o.From}, {&q.Contact, o.Contact}, {&q.Client, o.For}, {&q.Number, o.Number}, {&q.Date, o.Date}, {&q.ValidUntil, o.ValidUntil}} {
		if *x.to == "" {
			*x.to = x.from
		}
	}
	if len(q.Terms) == 0 {
		q.Terms = o.Terms
	}
	if len(q.Exclusions) == 0 {
		q.Exclusions = o.Exclusions
	}
	return q
}

// Sheet writes the result as one HTML document to be printed: A4 or Letter,
// its own style inside, no script, nothing from outside. Everything on it
// follows from the result and the options; what is unknown in the options is
// taken as the default.
func (r Result) Sheet(o SheetOptions) []byte {
	if r.english != nil {
		return r.english.Sheet(o)
	}
	if r.said != nil {
		r.said.Keep(o.Quote.texts()...)
	}
	name := o.Paper
	if _, ok := sheet.PaperByName(name); !ok {
		name = "a4"
		if r.Units == "imperial" {
			name = "letter"
		}
	}
	paper, _ := sheet.PaperByName(name)
	s := sheetMaker{r: r, w: r.words(), o: o, paper: paper}
	s.box, s.marks = r.Build.Box, r.pieceMarks()
	if o.Plan != nil && o.Plan.Quote != nil {
		s.o.Quote = o.Quote.filled(*o.Plan.Quote)
	}
	switch o.Kind {
	case "quote":
		return s.quote()
	case "field":
		return s.field()
	}
	return s.build()
}

// sheetMaker is a sheet being made.
type sheetMaker struct {
	r     Result
	w     words
	o     SheetOptions
	paper sheet.Paper
	d     *sheet.Doc
	box   *BoxMake // nil where there is no box to build
	marks []pieceMark
}

const mmPerPx = 25.4 / 96 // CSS Values and Units, level 4, section 6.2

func (s *sheetMaker) title() string { return textOr(strings.TrimSpace(s.r.Title), "Stepped path") }

func (s *sheetMaker) build() []byte {
	s.d = sheet.New(s.title()+": build sheet", "Build sheet. Measure twice; stop where the hill differs from the sheet.", s.paper, s.r.tongue())
	s.summary()
	s.left()
	s.before()
	s.order()
	s.boxStep()
	s.toScale()
	s.stakeOut()
	s.cards()
	s.framed()
	s.view()
	s.shopping()
	s.cutting()
	s.earth()
	s.time()
	s.readings()
	return s.d.Bytes()
}

func (s *sheetMaker) says(key string) string {
	for _, a := range s.r.Answer {
		if a.Key == key {
			return a.Says
		}
	}
	return ""
}

// fit draws to fit a room in millimetres: as wide as it is, or narrower so that
// the drawing is no taller.
func (s *sheetMaker) fit(name string, wide, tall float64) string {
	w := wide / mmPerPx
	for {
		svg := s.r.drawing(Drawing{Name: name, Width: w}, draw.Look{Prefix: "fit-" + name, NoTitle: true})
		if _, h := drawnSize(svg); h*mmPerPx <= tall || w <= 330 {
			return svg
		}
		w = math.Max(w*0.94, 330)
	}
}

// scales that a scale rule has: an architect's or an engineer's, by the foot, and
// the metric one.
func (s *sheetMaker) scales() []float64 {
	if s.w.imperial {
		return []float64{4, 8, 12, 16, 24, 32, 36, 48, 60, 64, 72, 96, 120, 128, 192, 240, 360, 384, 480, 768}
	}
	return []float64{5, 10, 20, 25, 30, 40, 50, 75, 100, 125, 200, 250, 300, 400, 500, 1000}
}

// scaled draws several drawings at the largest scale at which each fits the
// room, in millimetres; none fits, and they are drawn to fit.
func (s *sheetMaker) scaled(wide, tall float64, names ...string) []string {
	for _, scale := range s.scales() {
		out, w, h := s.atScale(scale, 0, names...)
		if len(out) == len(names) && w <= wide && largest(h) <= tall {
			return out
		}
	}
	var out []string
	for _, n := range names {
		out = append(out, s.fit(n, wide, tall))
	}
	return out
}

// atScale draws to scale, those of a framed flight where one is given; and says
// how wide the widest is and how tall each, in millimetres.
func (s *sheetMaker) atScale(scale float64, flight int, names ...string) (out []string, wide float64, tall []float64) {
	prefix := "scale-"
	if flight > 0 {
		prefix += strconv.Itoa(flight) + "-"
	}
	for _, n := range names {
		svg := s.r.drawing(Drawing{Name: n, Flight: flight}, draw.Look{Prefix: prefix + n, Scale: scale, ScaleText: s.r.scaleText(scale)})
		if svg == "" {
			return nil, 0, nil
		}
		w, h := drawnSize(svg)
		out, wide, tall = append(out, svg), math.Max(wide, w), append(tall, h)
	}
	return out, wide, tall
}

func largest(v []float64) float64 {
	m := 0.0
	for _, x := range v {
		m = math.Max(m, x)
	}
	return m
}

const (
	underFigure  = 3.5  // mm, that the style leaves below a figure, and a hair
	underHeading = 10.0 // mm, that a part's heading takes
	// smaller is how much smaller drawings may be for both to stand on one page.
	smaller = 1.45
)

// pages sets drawings to scale under a heading: on one page, upright or on its
// side, with room below for so many millimetres more; or each on its own where
// that makes them much larger.
func (s *sheetMaker) pages(heading string, flight int, below float64, names ...string) {
	wide, tall := s.paper.Room()
	far, low := s.paper.RoomAcross()
	// Each by itself, the first under the heading, the last over what is below.
	apart, across := make([]string, len(names)), make([]bool, len(names))
	most := 0.0
	for i, n := range names {
		for _, scale := range s.scales() {
			out, w, h := s.atScale(scale, flight, n)
			if len(out) == 0 {
				continue
			}
			t := h[0] + underFigure + underHeading
			if i == len(names)-1 {
				t += below
			}
			if on := w <= far && t <= low; on || w <= wide && t <= tall {
				apart[i], across[i], most = out[0], on, math.Max(most, scale)
				break
			}
		}
	}
	for _, scale := range s.scales() {
		if most > 0 && scale > most*smaller || len(names) == 1 {
			break
		}
		out, w, h := s.atScale(scale, flight, names...)
		sum := underHeading + below
		for _, x := range h {
			sum += x + underFigure
		}
		upright := w <= wide && sum <= tall
		if len(out) > 0 && (upright || w <= far && sum <= low) {
			s.d.Part(heading, true, !upright)
			for _, x := range out {
				s.d.Figure(x)
			}
			return
		}
	}
	for i, n := range names {
		svg, on := apart[i], across[i]
		switch {
		case svg != "":
		case flight > 0:
			on, svg = true, s.r.drawing(Drawing{Name: n, Flight: flight, Width: far / mmPerPx}, look("fit-"+strconv.Itoa(flight)+"-"+n))
		default:
			on, svg = true, s.fit(n, far, low-underHeading)
		}
		s.d.Part(heading, true, on)
		s.d.Figure(svg)
		heading = ""
	}
}

// drawnSize reads the width and the height that a drawing gives itself, in the
// unit it gives them in.
func drawnSize(svg string) (w, h float64) {
	read := func(name string) float64 {
		_, rest, ok := strings.Cut(svg, " "+name+`="`)
		if !ok {
			return 0
		}
		text, _, _ := strings.Cut(rest, `"`)
		v, err := strconv.ParseFloat(strings.TrimSuffix(text, "mm"), 64)
		if err != nil {
			return 0
		}
		return v
	}
	return read("width"), read("height")
}

// barrows is the spoil in barrow loads.
func (s *sheetMaker) barrows() (int, bool) {
	for _, l := range s.r.Dig.Loads {
		if l.Carrier == "barrow" {
			return l.Count, true
		}
	}
	return 0, false
}

func (s *sheetMaker) summary() {
	d, r, w := s.d, s.r, s.w
	d.Part("", false, false)
	under := ""
	if s.o.Plan != nil {
		under = s.o.Plan.Notes
	}
	d.Title("Build sheet", s.title(), under)
	facts := [][2]string{
		{"Steps", strconv.Itoa(r.Layout.Risers) + " risers of " + w.length(r.Layout.Riser)},
		{"Rise and run", w.length(r.Layout.Rise) + " over " + w.length(r.Layout.Run)},
	}
	if r.Build.Width > 0 {
		facts = append(facts, [2]string{"Width", w.length(r.Build.Width)})
	}
	facts = append(facts, [2]string{"Deepest dig", w.length(r.Dig.Deepest.Depth) + " behind riser " + strconv.Itoa(r.Dig.Deepest.Riser)},
		[2]string{"To dig, in the bank", w.volume(r.Dig.CutBank)})
	if n, ok := s.barrows(); ok {
		facts = append(facts, [2]string{"Spoil to barrow away", count(n, "barrow load", "barrow loads")})
	}
	if n := r.boardsBought(); n > 0 {
		facts = append(facts, [2]string{"Timber to buy", count(n, "board", "boards")})
	}
	facts = append(facts, [2]string{"Time", count(r.Hours.People, "person", "people") + ", " + count(r.Hours.Days.Likely, "day", "days")})
	d.Facts(facts)
	d.Raw(`<div class="note">`)
	d.Heading("Check first, in this order")
	d.List("steps", s.first())
	d.Raw("</div>\n")
	wide, tall := s.paper.Room()
	d.Figure(s.fit("section", wide, 0.4*tall))
	d.Heading("The plan in words")
	for _, a := range r.Answer {
		d.Paragraph(a.Says)
	}
}

// first is what to check before anything is dug.
func (s *sheetMaker) first() []sheet.Item {
	r, w := s.r, s.w
	items := []sheet.Item{
		{Lead: "Buried pipes and cables located and marked.", Says: "No digging before that."},
		{Lead: "Permits.", Says: "The building office has said whether any is needed."},
	}
	if n := len(r.Layout.Steps); n > 0 {
		last := r.Layout.Steps[n-1]
		items = append(items, sheet.Item{Lead: "The hill is as measured.", Says: "With the setting-out string level at the finished head, the foot lies " +
			w.length(last.Level) + " below it and " + w.length(last.Station) + " away on the level. If either is out by more than " + s.doubt() + ", measure again and make a new sheet."})
	}
	for _, c := range r.Ground.Checks {
		if !c.OK {
			items = append(items, sheet.Item{Lead: "A check of the readings failed:", Says: c.Says})
		}
	}
	for _, f := range r.Findings {
		if f.Severity == "stop" {
			items = append(items, sheet.Item{Lead: "A limit is passed:", Says: f.Says, Source: f.Source})
		}
	}
	return items
}

// doubt is how far the hill may differ before the sheet is no longer its: what
// the readings are known to, but no less than what a string and tape can tell.
func (s *sheetMaker) doubt() string {
	least := 10 * unit.Millimeter
	if s.w.imperial {
		least = unit.Inch / 2
	}
	for _, p := range []Plus{s.r.Ground.Rise, s.r.Ground.Run} {
		if p.PlusMinus > least {
			least = p.PlusMinus
		}
	}
	return s.w.length(least)
}

func (s *sheetMaker) before() {
	d := s.d
	d.Part("Before you start: cautions and permits", false, false)
	var cautions, findings []sheet.Item
	words := map[string]string{
		"buried-services": "Buried services.", "local-codes": "Permits and codes.", "cut-bank": "Cut banks.", "spoil": "Spoil.",
		"ground-steep": "Steep ground.", "wet-weather": "Wet weather.", "lifting": "Lifting.", "treated-timber": "Treated timber.", "unfinished-steps": "Unfinished steps.",
	}
	for _, f := range s.r.Findings {
		item := sheet.Item{Says: f.Says, Source: f.Source}
		if f.Severity == "caution" {
			if item.Lead = words[f.Rule]; item.Lead == "" {
				item.Lead = sentence(itemName(f.Rule))
			}
			cautions = append(cautions, item)
			continue
		}
		item.Lead = map[string]string{"stop": "Stop:", "warn": "Warning:", "note": "Note:"}[f.Severity]
		if f.Clause != "" {
			item.Source = f.Clause + "; " + f.Source
		}
		if f.Where != "" {
			item.Says = f.Where + ": " + item.Says
		}
		findings = append(findings, item)
	}
	d.List("checks", cautions)
	if len(findings) > 0 {
		d.Heading("What the rules and the readings say of this plan")
		d.List("checks", findings)
	}
}

func (s *sheetMaker) toScale() {
	if s.r.Build.Width <= 0 {
		s.pages("Long section to scale", 0, 0, "section")
		return
	}
	s.pages("Long section and plan to scale", 0, 0, "section", "plan")
}

func (s *sheetMaker) stakeOut() {
	if len(s.r.StakeOut) > 0 {
		s.d.Part("Stake-out", true, false)
		s.stakes()
	}
}

func (s *sheetMaker) stakes() {
	d, r, w := s.d, s.r, s.w
	d.Paragraph("Stretch the setting-out string, level at the height of the finished head, from the head out over the foot. Tape on the level from the foot; the distance from the head is the check. " +
		"Every mark is measured from the datum and rounded once: never tape from step to step.")
	book := r.Ground.Method == "rod" || r.Ground.Method == "levels"
	columns := []sheet.Column{{Head: "", Set: "box"}, {Head: "Riser", Set: "n"}, {Head: "From foot", Set: "n"}, {Head: "From head", Set: "n"},
		{Head: "Top, below string", Set: "n"}}
	level := sheet.Column{Head: "Top, above foot", Set: "n"}
	if book {
		level.Head = "Top, level as in the book"
		if r.Ground.Method == "levels" {
			level.Head = "Top, in the levels given"
		}
	}
	columns = append(columns, level)
	columns = append(columns, sheet.Column{Head: "Dig to, below string", Set: "n"}, sheet.Column{Head: "Deepest dig behind it", Set: "n"},
		sheet.Column{Head: "Built, below string", Set: "write"}, sheet.Column{Head: "Off", Set: "write"})
	var rows [][]string
	levels := map[int]unit.Length{}
	for _, x := range r.Layout.Steps {
		levels[x.Riser] = x.Level
	}
	for _, m := range r.StakeOut {
		row := []string{"", strconv.Itoa(m.Riser), m.Text.Station, m.Text.FromHead, m.Text.Drop, m.Text.Level}
		if book {
			row[5] = w.length(r.Ground.Datum.Level + levels[m.Riser])
		}
		rows = append(rows, append(row, m.Text.DigTo, s.depth(m.Riser)))
	}
	class := "stake"
	if n := len(rows); n > stakesWide && n <= stakesOnPage {
		class += " close"
	}
	// Feet and sixteenths in all columns leave little room to write in.
	figures := 0
	for c := 2; c < len(columns)-2; c++ {
		most := 0
		for _, row := range rows {
			most = max(most, len(row[c]))
		}
		figures += most
	}
	if figures > 88 {
		class += " long"
	}
	d.Table(class, columns, rows)
	d.Small("Top is the front edge of the tread, at the face of the riser. Dig to is formation at that face" + s.fallSays() +
		". Deepest dig is the deepest cut on the middle line between this riser and the next, behind the last to the end of its box. Built and Off are for levels measured when a step is done.")
}

func (s *sheetMaker) fallSays() string {
	if s.r.Layout.Wash == 0 {
		return ""
	}
	return "; behind it formation rises " + s.w.slope(s.r.Layout.Wash) + " with the tread"
}

// depth is the deepest dig under a tread.
func (s *sheetMaker) depth(riser int) string {
	for _, x := range s.r.Dig.Steps {
		if x.Riser == riser {
			if x.Depth <= 0 {
				return "none"
			}
			return s.w.length(x.Depth)
		}
	}
	return ""
}

func (s *sheetMaker) order() {
	d, r, w := s.d, s.r, s.w
	d.Part("Order of work, from the bottom up", false, false)
	var items []sheet.Item
	for _, o := range r.Order {
		items = append(items, sheet.Item{Says: o.Says})
	}
	if len(items) > 0 {
		d.List("checks", items)
		d.Heading("How each step is made")
		items = nil
	}
	add := func(lead, says string) { items = append(items, sheet.Item{Lead: lead, Says: says}) }
	add("Clear the way.", "Services marked, permits in hand, path closed to others. Stack timber and gravel where they need not be carried twice.")
	add("Set out.", "String, stakes and drops from the stake-out table. Mark the edges of formation, "+w.length(r.Dig.FormationWidth)+" apart, from foot to head"+s.edges()+".")
	items = append(items, s.trenches()...)
	add("Dig one step.", "To the dig-to mark at the riser's face"+s.fallSays()+". Sides back at "+number(r.Dig.Batter, 2)+" horizontal to 1 upright. Do not dig below the mark: what is dug too deep is filled with base gravel, not with earth.")
	if r.Dig.FillCompacted > 0.005*unit.CubicMeter {
		add("Make up low ground.", "Where formation stands above the ground, tamp in earth in thin lifts: "+w.volume(r.Dig.FillCompacted)+" in all, in place.")
	}
	if det := s.box; det != nil {
		base := "Fabric over formation, then " + w.length(det.Layers[2]) + " of base gravel, tamped."
		if det.Layers[2] == 0 {
			base = "Fabric over formation."
		}
		add("Lay the base.", base)
		set := "Lowest course first, " + count(det.Courses, "course", "courses") + " of " + det.Timber + s.lie() + "."
		switch {
		case w.round(det.Bedding) > 0:
			set += " Bed it on " + w.length(det.Bedding) + " of tamped gravel above the surface in front."
		case w.round(det.Buried) > 0:
			set += " Its underside lies " + w.length(det.Buried) + " below the surface in front."
		}
		add("Set the riser.", set+" Top level across and at its drop below the string.")
		slot := ""
		if w.round(det.Buried) == 0 {
			slot = " Where they run on under the next riser, cut a slot for their ends, which is not counted in the digging."
		}
		add("Close the box.", "Sides butt behind the riser timber, tops to the fall of the tread."+slot+" Measure both diagonals, screw, then drive the pins. Brush preservative on every sawn end before it goes in.")
		add("Check before backfilling.", "Drop of the top below the string, level across, both diagonals alike, ends brushed, pins driven: the boxes on the step's card.")
		fill := "Fill and tamp"
		if det.Layers[1] > 0 {
			fill += " " + w.length(det.Layers[1]) + " of fill gravel, then"
		}
		add("Fill.", fill+" "+w.length(det.Layers[0])+" of topping, flush with the timbers"+s.wash()+". Tamp earth in beside the box in thin lifts, both sides alike.")
	}
	spoil := "Nothing is left over."
	if n, ok := s.barrows(); ok {
		spoil = w.volume(r.Dig.SpoilLoose) + " loose, " + count(n, "barrow load", "barrow loads") + " down the slope. None on the edge of the cut."
	}
	add("Take the spoil away as you go.", spoil)
	add("Write down what was built.", "The level of each finished step goes into the stake-out table before the next is begun: where one comes out wrong, the rest can be planned anew from it.")
	d.List("steps", items)
	if len(r.Notes) > 0 {
		d.Heading("To mind in the making")
		var notes []sheet.Item
		for _, n := range r.Notes {
			item := sheet.Item{Says: n.Says}
			if n.Where != "" {
				item.Lead = sentence(n.Where)
			}
			notes = append(notes, item)
		}
		d.List("dots", notes)
	}
}

// trenches is how deep those of riser timbers are.
func (s *sheetMaker) trenches() (items []sheet.Item) {
	if s.box == nil {
		return nil
	}
	w, broad := s.w, s.box.TrenchWidth
	if deep := s.box.FirstTrench; deep > 0 && s.r.Build.Boxes[0].Riser == 1 {
		items = append(items, sheet.Item{Lead: "Dig the first trench.", Says: "For riser 1: " + w.length(deep) + " below the finished surface in front, " + w.length(broad) + " along the path, as long as formation is wide."})
	}
	if deep := s.box.Trench; deep > 0 {
		items = append(items, sheet.Item{Lead: "Later trenches.", Says: "For every other riser: " + w.length(deep) + " below the formation in front, " + w.length(broad) + " along the path."})
	}
	return items
}

func (s *sheetMaker) wash() string {
	if s.r.Layout.Wash == 0 {
		return ""
	}
	return ", falling " + s.w.slope(s.r.Layout.Wash) + " to the front"
}

// lie says how a timber that is not square lies.
func (s *sheetMaker) lie() string {
	switch b := s.box; {
	case b.Course == b.Breadth:
		return ""
	case b.OnEdge:
		return " on edge"
	}
	return " laid flat"
}

func (s *sheetMaker) edges() string {
	if s.r.Build.Width <= 0 {
		return ""
	}
	return ", and the edges of the steps, " + s.w.length(s.r.Build.Width) + " apart"
}

func (s *sheetMaker) boxStep() {
	if s.box == nil || s.r.typicalTread() <= 0 {
		return
	}
	wide, tall := s.paper.Room()
	s.d.Whole("How a box step is built")
	for _, n := range []string{"step", "across"} {
		for _, x := range s.scaled(wide, 0.48*tall, n) {
			s.d.Figure(x)
		}
	}
}

func (s *sheetMaker) view() {
	if s.r.Build.Width <= 0 {
		return
	}
	wide, tall := s.paper.Room()
	s.d.Whole("The path in the hill")
	s.d.Figure(s.fit("view", wide, tall-22))
}
