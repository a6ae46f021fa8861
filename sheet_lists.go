//go:build !js || whole

package slopewright

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/internal/sheet"
	"github.com/slopewright/slopewright/materials"
)

// suppliers are who sells what, in the order they are visited; what none of
// them names is bought from the last.
var suppliers = []struct {
	name  string
	items []string
}{
	{"Timber yard", []string{"board", materials.ItemRiserTimber, materials.ItemSideTimber, materials.ItemCrossPiece}},
	{"Gravel yard", []string{materials.ItemBase, materials.ItemFill, materials.ItemTopping, materials.ItemDrainStone}},
	{"Builders' merchant", nil},
}

// charges are the lines of a bill that nobody sells in a shop.
var charges = []string{materials.ItemDelivery, materials.ItemMarkup, materials.ItemLabour, materials.ItemLabourMarkup}

func supplierOf(item string) int {
	for i, s := range suppliers {
		for _, x := range s.items {
			if x == item {
				return i
			}
		}
	}
	return len(suppliers) - 1
}

// coins writes an amount with the decimals of the currency.
func (r Result) coins(d decimal.Decimal) string {
	return d.StringFixed(materials.CoinDigits(r.Bill.Currency))
}

func (s *sheetMaker) shopping() {
	d, r := s.d, s.r
	d.Whole("Shopping list")
	rows := make([][][]string, len(suppliers))
	sums := make([]decimal.Decimal, len(suppliers))
	var after [][]string
	for _, l := range r.Bill.Lines {
		i := supplierOf(l.Item)
		charge := slices.Contains(charges, l.Item)
		price, cost := "no price", ""
		if l.Cost != nil && l.Price == nil {
			price = "" // a mark-up
		}
		if l.Price != nil {
			price = r.coins(l.Price.Decimal)
			if l.Price.Exponent() < -materials.CoinDigits(r.Bill.Currency) {
				price = l.Price.String()
			}
		}
		if l.Cost != nil {
			cost = r.coins(l.Cost.Decimal)
			if !charge {
				sums[i] = sums[i].Add(l.Cost.Decimal)
			}
		}
		if charge {
			after = append(after, []string{"", l.Name, "", l.Need, l.Buy, price, cost})
			continue
		}
		rows[i] = append(rows[i], []string{"", l.Name, s.note(l.Item), l.Need, l.Buy, price, cost})
	}
	var all [][]string
	for i, x := range suppliers {
		if len(rows[i]) == 0 {
			continue
		}
		all = append(all, []string{x.name})
		all = append(all, rows[i]...)
		if sums[i].IsPositive() {
			all = append(all, []string{"=", x.name + ", in all", "", "", "", "", r.coins(sums[i])})
		}
	}
	if len(after) > 0 {
		all = append(append(all, []string{"Delivery, mark-up and labour"}), after...)
		all = append(all, []string{"=", "Subtotal", "", "", "", "", r.coins(r.Bill.Subtotal.Decimal)})
	}
	if !r.Bill.Total.IsZero() {
		if r.Bill.Tax.IsPositive() {
			all = append(all, []string{"=", "Tax", "", "", "", "", r.coins(r.Bill.Tax.Decimal)})
		}
		all = append(all, []string{"=", "Total, " + r.Bill.Currency, "", "", "", "", r.coins(r.Bill.Total.Decimal)})
	}
	d.Table(class(all, 22), []sheet.Column{{Set: "box"}, {Head: "Item", Set: "w"}, {Head: "What it is for"}, {Head: "Need", Set: "n"}, {Head: "Buy", Set: "n"}, {Head: "Price", Set: "n"}, {Head: "Cost", Set: "n"}}, all)
	if n := r.Bill.Unpriced; len(n) > 0 {
		d.Small(withoutPrice(n))
	}
	d.Small("Need is in place: gravel tamped. Gravel is sold loose and is bought with waste. Rounding: " + r.Bill.Rounding + ".")
	for _, n := range r.Bill.Notes {
		d.Small(n)
	}
}

// withoutPrice names what the bill has no price for.
func withoutPrice(names []string) string {
	return "Without a price, and not in the total: " + list(distinct(names)) + "."
}

// class is that of a table with so many rows that they are set closer.
func class(rows [][]string, many int) string {
	if len(rows) > many {
		return "tight"
	}
	return ""
}

// note says what an item is.
func (s *sheetMaker) note(item string) string {
	for _, t := range s.r.Takeoff {
		if t.Item != item {
			continue
		}
		text := t.Note
		if i := strings.Index(text, ": need is"); i > 0 {
			text = text[:i]
		}
		if t.Section != "" && t.Count > 0 && t.Length != nil && supplierOf(item) != 0 {
			text = t.Section + ", " + s.w.length(*t.Length/unit.Length(t.Count)) + " long; " + text
		}
		return text
	}
	if item == "board" {
		return "cut as the cut plan shows"
	}
	return ""
}

func (s *sheetMaker) cutting() {
	d, r := s.d, s.r
	if len(r.CutPlan.Boards) == 0 {
		return
	}
	// A drawing is kept on one page, so a long plan is drawn in parts.
	_, tall := s.paper.Room()
	per := int((tall - 40) / (42 * mmPerPx))
	strips := r.strips("")
	// One that is longer than a page begins where the list before it ends.
	if float64(float64(len(strips.Boards))*42*mmPerPx)+float64(float64(len(s.marks))*4.7)+50 < tall {
		d.Whole("Cut plan")
	} else {
		d.Part("Cut plan", false, false)
	}
	d.Paragraph("Chalk the letter on each piece as it is cut. Boards are cut from the left; a letter's boards are in the table below.")
	wide, _ := s.paper.Room()
	for i, first := 0, true; i < len(strips.Boards); i += per {
		part := strips
		part.Boards = strips.Boards[i:min(i+per, len(strips.Boards))]
		prefix := "cut"
		if !first {
			prefix += strconv.Itoa(i)
		}
		d.Figure(part.SVG(wide/mmPerPx, s.r.inLanguage(look(prefix))))
		first = false
	}
	d.Heading("Pieces")
	s.pieces(10, "")
	switch {
	case r.CutPlan.Proven && r.CutPlan.By == "cost":
		d.Small("No other way of buying and cutting these pieces is cheaper.")
	case r.CutPlan.Proven && r.CutPlan.By == "both":
		d.Small("Nothing is cheaper of what has a price, and nothing of the rest takes less length.")
	case r.CutPlan.Proven:
		d.Small("No other way of cutting these pieces takes less length; there were no prices to go by.")
	}
	for _, n := range r.CutPlan.Notes {
		d.Small(n)
	}
}

// pieces is the table of them by their letters, set tight where it is long.
func (s *sheetMaker) pieces(long int, more string) {
	var rows [][]string
	for _, m := range s.marks {
		boards := "board "
		if len(m.boards) > 1 || strings.Contains(m.boards[0], "–") {
			boards = "boards "
		}
		rows = append(rows, []string{m.mark, itemName(m.use), m.section, s.w.length(m.length), strconv.Itoa(m.count), boards + list(m.boards)})
	}
	s.d.Table(class(rows, long)+more, []sheet.Column{{Head: "Letter"}, {Head: "Piece", Set: "w"}, {Head: "Section"}, {Head: "Length", Set: "n"}, {Head: "How many", Set: "n"}, {Head: "Cut from"}}, rows)
}

func (s *sheetMaker) earth() {
	d, r, w := s.d, s.r, s.w
	d.Part("Earth: how much, and where it goes", false, false)
	g := r.Dig
	back := w.shares(g.CutBank-g.TopsoilBank, g.ReusedBank, g.SpoilBank)
	rows := [][]string{
		{"Dug, measured in the bank", w.volume(g.CutBank), "of it " + w.volume(g.TrenchBank) + " from trenches under riser timbers"},
		{"Goes back, measured in the bank", back[0], w.volume(g.FillCompacted) + " tamped under formation, " + w.volume(g.BackfillCompacted) + " tamped beside the boxes"},
		{"Left over, measured in the bank", back[1], w.volume(g.SpoilLoose) + " loose, " + w.mass(g.SpoilMass)},
	}
	if g.BorrowBank > 0 {
		rows = append(rows, []string{"To be brought, in the bank", w.volume(g.BorrowBank), "more goes back than comes out"})
	}
	for _, l := range g.Loads {
		name := "By " + l.Carrier
		says := "away, as one of the ways to take it"
		if l.Carrier == "barrow" {
			says = "down the slope"
		}
		rows = append(rows, []string{name, count(l.Count, "load", "loads"), says + "; " + l.Full})
	}
	d.Table("keep", []sheet.Column{{Head: "Earth", Set: "w"}, {Head: "How much", Set: "n"}, {Head: ""}}, rows)
	if len(g.Parts) > 0 {
		d.Heading("What is dug")
		rows = nil
		for _, p := range g.Parts {
			rows = append(rows, []string{strings.TrimSuffix(sentence(p.Name), "."), p.Says})
		}
		d.Table("tight", []sheet.Column{{Head: "Part"}, {Head: "In the bank", Set: "n"}}, rows)
	}
	if len(g.States) > 1 {
		// Topsoil is kept apart from what lies under it.
		var items []sheet.Item
		for _, x := range g.States {
			items = append(items, sheet.Item{Says: x.Says})
		}
		d.List("dots", items)
	}
	s.haul()
	d.Heading("Each step")
	rows = nil
	cut, fill, backfill := r.StepVolumes()
	for i, x := range g.Steps {
		rows = append(rows, []string{strconv.Itoa(x.Riser), cut[i], fill[i], backfill[i], s.depth(x.Riser)})
	}
	rows = append(rows, []string{"=all", w.volume(g.CutBank), w.volume(g.FillCompacted), w.volume(g.BackfillCompacted), w.length(g.Deepest.Depth)})
	d.Table("tight", []sheet.Column{{Head: "Riser", Set: "n"}, {Head: "Dug, in the bank", Set: "n"}, {Head: "Fill under formation", Set: "n"}, {Head: "Backfill beside", Set: "n"}, {Head: "Deepest", Set: "n"}}, rows)
	if c, ok := r.haulCurve(); ok {
		wide, _ := s.paper.Room()
		d.Figure(c.SVG(wide/mmPerPx, s.r.inLanguage(look("haul"))))
	}
	soil := sheet.Kept + r.say("Soil: "+g.Soil.Name)
	for _, f := range g.Soil.Figures {
		name, value := f.Name, f.Value
		if w.imperial {
			for _, x := range [...]struct {
				metric, imperial string
				by               float64
			}{{", kg/m³", ", lb/cu ft", poundPerFoot}, {", m³ in the bank per", ", cu yd in the bank per", cubicYard}} {
				if before, after, ok := strings.Cut(name, x.metric); ok {
					name, value = before+x.imperial+after, value/x.by
				}
			}
		}
		places := 3
		if value >= 50 { // a density
			places = 0
		}
		soil += "; " + r.say(name) + " " + r.say(number(value, places)) + " (" + r.say(f.Source) + ")"
	}
	d.Small(soil + ".")
}

// StepVolumes writes what is dug, filled and backfilled at each step, rounded so that each
// column adds up to the sum of all as [Result.Volume] writes it.
func (r Result) StepVolumes() (cut, fill, backfill []string) {
	column := func(whole unit.Volume, of func(StepDig) unit.Volume) []string {
		parts := make([]unit.Volume, len(r.Dig.Steps))
		for i, x := range r.Dig.Steps {
			parts[i] = of(x)
		}
		return r.words().shares(whole, parts...)
	}
	return column(r.Dig.CutBank, func(x StepDig) unit.Volume { return x.CutBank }),
		column(r.Dig.FillCompacted, func(x StepDig) unit.Volume { return x.FillCompacted }),
		column(r.Dig.BackfillCompacted, func(x StepDig) unit.Volume { return x.BackfillCompacted })
}

// haul is where the earth goes, lot by lot, and the mass-haul curve.
func (s *sheetMaker) haul() {
	d, h := s.d, s.r.Haul
	if len(h.Moves)+len(h.Places) > 0 {
		d.Heading("Where it goes")
		var items []sheet.Item
		for _, m := range h.Moves {
			if strings.HasPrefix(s.w.little(m.Loose), "0 ") {
				continue // a handful: it is in the sums
			}
			items = append(items, sheet.Item{Says: m.Says})
		}
		for _, p := range h.Places {
			items = append(items, sheet.Item{Lead: sentence(p.Name), Says: p.Says})
		}
		d.List("dots", items)
	}
}

// time is the hours by kind of work.
func (s *sheetMaker) time() {
	d, r := s.d, s.r
	if len(r.Hours.Work) == 0 {
		return
	}
	d.Heading("Time, in person-hours")
	var rows [][]string
	hours := func(h Hours) string { return strconv.FormatFloat(float64(h), 'f', 1, 64) }
	all := r.Hours.InTenths()
	for _, a := range append(all.Work, Activity{Name: "=all", Low: all.Low, Likely: all.Likely, High: all.High}) {
		rows = append(rows, []string{a.Name, hours(a.Likely), hours(a.Low) + " to " + hours(a.High)})
	}
	d.Table("keep", []sheet.Column{{Head: "Work"}, {Head: "Likely", Set: "n"}, {Head: "Low to high", Set: "n"}}, rows)
}

// InTenths is the hours rounded to tenths of an hour for a table: its lines add up to
// its whole. What rounding leaves over goes to the longest work, where it matters least.
func (h HoursResult) InTenths() HoursResult {
	h.Work = append([]Activity(nil), h.Work...)
	for _, column := range [...]struct {
		of    func(*Activity) *Hours
		whole *Hours
	}{
		{func(a *Activity) *Hours { return &a.Low }, &h.Low},
		{func(a *Activity) *Hours { return &a.Likely }, &h.Likely},
		{func(a *Activity) *Hours { return &a.High }, &h.High},
	} {
		// The whole is rounded, and not what the lines add up to: in another order they
		// may come to the other side of a twentieth.
		whole := int(math.Round(10 * float64(*column.whole)))
		*column.whole = Hours(float64(whole) / 10)
		tenths, rest := make([]int, len(h.Work)), whole
		for i := range h.Work {
			tenths[i] = int(math.Round(10 * float64(*column.of(&h.Work[i]))))
			rest -= tenths[i]
		}
		for rest != 0 && len(tenths) > 0 {
			longest := 0
			for i := range tenths {
				if tenths[i] > tenths[longest] {
					longest = i
				}
			}
			give := max(rest, -tenths[longest]) // nothing takes less than no time
			tenths[longest] += give
			rest -= give
		}
		for i := range h.Work {
			*column.of(&h.Work[i]) = Hours(float64(tenths[i]) / 10)
		}
	}
	return h
}

// typed is what somebody typed, with the mark before its decimals that the language
// has, as all about it.
func (s *sheetMaker) typed(text string) string { return sheet.Kept + s.r.said.Measure(text) }

// typedOr is what somebody typed, or another text.
func (s *sheetMaker) typedOr(text, other string) string {
	if text == "" {
		return other
	}
	return s.typed(text)
}

func (s *sheetMaker) readings() {
	d, r, w := s.d, s.r, s.w
	d.Part("The readings, as booked", false, false)
	if s.o.Plan != nil && len(s.o.Plan.Ground.Readings) > 0 {
		s.booked(s.o.Plan.Ground)
	} else {
		d.Paragraph("The ground along the path, from the foot's finished surface.")
		var rows [][]string
		for _, p := range r.Ground.Points {
			rows = append(rows, []string{w.length(p.Station), w.length(p.Level), w.slope(p.Crossfall)})
		}
		d.Table("", []sheet.Column{{Head: "From foot", Set: "n"}, {Head: "Level", Set: "n"}, {Head: "Crossfall", Set: "n"}}, rows)
	}
	d.Heading("Checks of the readings")
	var items []sheet.Item
	for _, c := range r.Ground.Checks {
		lead := "Passed."
		if !c.OK {
			lead = "Failed."
		}
		items = append(items, sheet.Item{Lead: lead, Says: c.Says, Source: c.Source})
	}
	for _, n := range r.Ground.Notes {
		items = append(items, sheet.Item{Says: n})
	}
	d.List("dots", items)
	if x := s.says("certainty"); x != "" {
		d.Paragraph(x)
	}
}

// booked sets the readings as they were typed; the rod's with the book's
// arithmetic beside them.
func (s *sheetMaker) booked(g Ground) {
	w := s.w
	type column struct {
		head string
		cell func(i int, x Reading) string
	}
	length := func(head string, f func(x Reading) *Length) column {
		return column{head, func(_ int, x Reading) string {
			if l := f(x); l != nil && l.Text != "" {
				return s.typed(l.Text)
			}
			return typed(f(x), w)
		}}
	}
	columns := []column{{"Line", func(i int, _ Reading) string { return strconv.Itoa(i + 1) }},
		length("At", func(x Reading) *Length { return x.At }),
		length("Drop", func(x Reading) *Length { return x.Drop }),
		length("Back", func(x Reading) *Length { return x.Back }),
		length("Mid", func(x Reading) *Length { return x.Mid }),
		length("Fore", func(x Reading) *Length { return x.Fore }),
		length("Bench", func(x Reading) *Length { return x.Bench }),
		length("Booked", func(x Reading) *Length { return x.Booked }),
		length("Along the slope", func(x Reading) *Length { return x.Length }),
		{"Angle", func(_ int, x Reading) string {
			if x.Angle == nil {
				return ""
			}
			return s.typedOr(x.Angle.Text, number(x.Angle.Degrees(), 2)+"°")
		}},
		{"Grade", func(_ int, x Reading) string {
			if x.Grade == nil {
				return ""
			}
			return s.typedOr(x.Grade.Text, w.slope(x.Grade.Ratio))
		}},
		length("Level", func(x Reading) *Length { return x.Level }),
		{"Crossfall", func(_ int, x Reading) string {
			if x.Crossfall == nil {
				return ""
			}
			return s.typedOr(x.Crossfall.Text, w.slope(x.Crossfall.Ratio))
		}},
	}
	if book := s.r.Ground.Book; len(book) > 0 {
		of := func(i int) (BookLine, bool) {
			for _, b := range book {
				if b.Line == i {
					return b, true
				}
			}
			return BookLine{}, false
		}
		reduced := func(head string, f func(b BookLine) *unit.Length) {
			columns = append(columns, column{head, func(i int, _ Reading) string {
				if b, ok := of(i); ok {
					if l := f(b); l != nil {
						return w.length(*l)
					}
				}
				return ""
			}})
		}
		reduced("Rise", func(b BookLine) *unit.Length { return b.Rise })
		reduced("Fall", func(b BookLine) *unit.Length { return b.Fall })
		reduced("Reduced", func(b BookLine) *unit.Length { return &b.Level })
		reduced("Corrected", func(b BookLine) *unit.Length { return &b.Correct })
	}
	var heads []sheet.Column
	rows := make([][]string, len(g.Readings))
	for _, c := range columns {
		cells, any := make([]string, len(rows)), false
		for i, x := range g.Readings {
			cells[i] = c.cell(i, x)
			any = any || cells[i] != ""
		}
		if !any {
			continue
		}
		heads = append(heads, sheet.Column{Head: c.head, Set: "n"})
		for i := range rows {
			rows[i] = append(rows[i], cells[i])
		}
	}
	says := map[string]string{
		"string": "Drops of the ground below a level string, distances from the " + textOr(g.From, "foot") + ".",
		"rod":    "A level book: rod readings, and the levels they come to by rise and fall.",
		"slope":  "Taped along the slope with a clinometer, from the foot.",
		"levels": "Stations and levels as given.",
	}[g.Method]
	if says != "" {
		s.d.Paragraph(says)
	}
	s.d.Table("book", heads, rows)
}
