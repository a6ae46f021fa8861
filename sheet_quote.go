//go:build !js || whole

package slopewright

import (
	"math"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/internal/draw"
	"github.com/slopewright/slopewright/internal/sheet"
	"github.com/slopewright/slopewright/materials"
)

func look(prefix string) draw.Look { return draw.Look{Prefix: prefix} }

// Price is what a quote comes to.
type Price struct {
	Materials Money // before tax
	Labour    Money
	Markup    Money
	Tax       Money // on the materials, as the plan's price list has it
	Total     Money
}

// Price reckons the price of the work: the materials of the bill and their
// delivery, the likely hours at the rate, the markup on both, and the tax that
// the bill has. Each is rounded half up to the smallest coin. Labour and
// mark-ups that the plan's own price list has are taken from the bill; the
// quote's stand in where it has none.
func (r Result) Price(q Quote) Price {
	digits := materials.CoinDigits(r.Bill.Currency)
	p := Price{Materials: Money{Decimal: r.Bill.Goods.Add(r.Bill.Deliveries.Decimal)}, Labour: r.Bill.Labour, Markup: r.Bill.Markups, Tax: r.Bill.Tax}
	if q.Rate != nil && p.Labour.IsZero() {
		p.Labour = Money{Decimal: q.Rate.Mul(decimal.NewFromFloat(math.Round(float64(r.Hours.Likely)))).Round(digits)}
	}
	if q.Markup > 0 && q.Markup <= 10 && p.Markup.IsZero() {
		p.Markup = Money{Decimal: p.Materials.Add(p.Labour.Decimal).Mul(decimal.NewFromFloat(q.Markup)).Round(digits)}
	}
	p.Total = Money{Decimal: p.Materials.Add(p.Labour.Decimal).Add(p.Markup.Decimal).Add(p.Tax.Decimal)}
	return p
}

// quote is the contractor's offer: scope, quantities, price, what is not in it,
// and the cautions.
func (s *sheetMaker) quote() []byte {
	r, w, q := s.r, s.w, s.o.Quote
	s.d = sheet.New("Quote: "+s.title(), "Quote", s.paper, r.tongue())
	d := s.d
	d.Part("", false, false)
	d.Title("Quote", s.title(), "")
	var facts [][2]string
	for _, f := range [][2]string{{"From", q.Name}, {"Contact", q.Contact}, {"For", q.Client}, {"Number", q.Number}, {"Date", q.Date}, {"Price holds until", q.ValidUntil}} {
		if f[1] != "" {
			facts = append(facts, f)
		}
	}
	if len(facts) > 0 {
		d.Facts(facts)
	}
	d.Heading("Scope")
	scope := "A stepped path of " + strconv.Itoa(r.Layout.Risers) + " risers of " + w.length(r.Layout.Riser) + ", " + w.long(r.Layout.Rise) + " up over " + w.long(r.Layout.Run)
	if r.Build.Width > 0 {
		scope += ", " + w.length(r.Build.Width) + " wide"
	}
	if s.box != nil {
		scope += ", in boxes of " + s.box.Timber + " timber on " + w.length(r.Dig.BuildUp) + " of gravel"
	}
	for _, f := range r.Build.Framed {
		scope += ", " + r.frameNameOf(f) + " on stringers of " + f.Stringer
	}
	d.Paragraph(scope + ": setting out, digging, timber, gravel, backfilling and carrying the spoil to the place agreed.")
	if x := s.says("steps"); x != "" {
		d.Paragraph(x)
	}
	wide, tall := s.paper.Room()
	d.Figure(s.fit("section", wide, 0.4*tall))

	d.Heading("Quantities")
	rows := [][]string{
		{"Earth dug, in the bank", w.volume(r.Dig.CutBank)},
		{"Earth tamped back, in place", w.sum(r.Dig.FillCompacted, r.Dig.BackfillCompacted)},
		{"Spoil carried off, loose", w.volume(r.Dig.SpoilLoose)},
	}
	for _, t := range r.Takeoff {
		name := itemName(t.Name)
		if t.Section != "" {
			name += ", " + t.Section
		}
		rows = append(rows, []string{strings.TrimSuffix(sentence(name), "."), t.Says})
	}
	rows = append(rows, []string{"Work, likely", number(float64(r.Hours.Likely), 0) + " person-hours"})
	d.Table(class(rows, 14), []sheet.Column{{Head: "What"}, {Head: "How much", Set: "n"}}, rows)

	d.Part("Price", false, false)
	s.price(q)
	d.Heading("Not in the price")
	d.List("dots", s.exclusions(q))
	if len(q.Terms) > 0 {
		d.Heading("Terms")
		var items []sheet.Item
		for _, t := range q.Terms {
			items = append(items, sheet.Item{Says: t})
		}
		d.List("dots", items)
	}
	d.Heading("Cautions")
	var items []sheet.Item
	for _, f := range r.Findings {
		if f.Severity == "caution" || f.Severity == "stop" || f.Severity == "warn" {
			items = append(items, sheet.Item{Says: f.Says, Source: f.Source})
		}
	}
	d.List("dots", items)
	d.Blanks("For the contractor, date", "For the client, date")
	return d.Bytes()
}

func (s *sheetMaker) price(q Quote) {
	r, p := s.r, s.r.Price(q)
	rows := [][]string{}
	if p.Materials.IsPositive() {
		name := "Materials"
		if r.Bill.Deliveries.IsPositive() {
			name = "Materials and delivery"
		}
		rows = append(rows, []string{name, r.coins(p.Materials.Decimal)})
	}
	if !r.Bill.Labour.IsZero() {
		for _, l := range r.Bill.Lines {
			if l.Item == "labour" && l.Cost != nil {
				rows = append(rows, []string{strings.TrimSuffix(sentence(l.Name+", "+l.Buy), "."), r.coins(l.Cost.Decimal)})
			}
		}
	} else if q.Rate != nil {
		rows = append(rows, []string{"Labour, " + number(float64(r.Hours.Likely), 0) + " person-hours at " + r.coins(q.Rate.Decimal), r.coins(p.Labour.Decimal)})
	}
	if p.Markup.IsPositive() {
		name := "Overhead and profit"
		if r.Bill.Markups.IsZero() {
			name += ", " + number(100*q.Markup, 2) + " %"
		}
		rows = append(rows, []string{name, r.coins(p.Markup.Decimal)})
	}
	if p.Tax.IsPositive() {
		rows = append(rows, []string{"Tax", r.coins(p.Tax.Decimal)})
	}
	if len(rows) == 0 {
		s.d.Paragraph("The plan has no prices and no rate was given: the price is to be agreed.")
		return
	}
	rows = append(rows, []string{"=Total, " + r.Bill.Currency, r.coins(p.Total.Decimal)})
	s.d.Table("keep", []sheet.Column{{Head: "Price"}, {Head: r.Bill.Currency, Set: "n"}}, rows)
}

// exclusions are what the plan does not hold, then the contractor's own.
func (s *sheetMaker) exclusions(q Quote) []sheet.Item {
	r := s.r
	var out []sheet.Item
	add := func(says string) { out = append(out, sheet.Item{Says: says}) }
	add("Permits, fees and inspections; moving buried pipes or cables.")
	add("Ground of another class than " + r.Dig.Soil.Name + "; rock, water in the cut, roots thicker than a spade will cut.")
	add("Handrails, guards, lighting, drainage and planting, unless they stand in the quantities above.")
	add("Tipping charges, and carrying spoil further than the plan reckons with.")
	if q.Rate == nil && r.Bill.Labour.IsZero() {
		add("Labour.")
	}
	if n := r.Bill.Unpriced; len(n) > 0 {
		add(withoutPrice(n))
	}
	if r.Bill.Tax.IsZero() {
		add("Taxes.")
	} else {
		add("Taxes other than those above.")
	}
	for _, x := range q.Exclusions {
		add(x)
	}
	return out
}
