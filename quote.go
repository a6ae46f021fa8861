package slopewright

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/internal/tape"
	"github.com/slopewright/slopewright/materials"
)

// Delivery is what bringing goods costs.
type Delivery struct {
	Name    string   `json:"name,omitempty" most:"80" doc:"what the bill calls it; default delivery"`
	Price   *Money   `json:"price,omitempty" doc:"of one load; left out where it is not known yet"`
	Items   []string `json:"items,omitempty" most:"60" doc:"what it brings, by the items' names, board for timber; default all that is bought"`
	Load    *float64 `json:"load,omitempty" range:"(0,100000]" doc:"the most of one item that comes at once; default everything at once"`
	Per     string   `json:"per,omitempty" most:"12" doc:"the unit of the load: m3, yd3, t, ton and the like"`
	Untaxed bool     `json:"untaxed,omitempty" doc:"there is no tax on it"`
}

// LabourRate is work paid by the hour.
type LabourRate struct {
	Name  string   `json:"name,omitempty" most:"80" doc:"what the bill calls it; default labour"`
	Hours *float64 `json:"hours,omitempty" range:"[0,1000000]" doc:"default the plan's own likely person-hours, to the whole hour"`
	Rate  *Money   `json:"rate,omitempty" doc:"for one person-hour; left out where it is not known yet"`
}

func (m *maker) readPrices(all *Faults) {
	p := m.plan.Prices
	list := materials.PriceList{
		Currency: p.Currency, Tax: fraction(p.Tax), TaxLabour: p.TaxLabour, Imperial: m.words.imperial, Words: m.words.distanceSold,
		Markup: fraction(p.Markup), LabourMarkup: fraction(p.LabourMarkup),
	}
	if p.Currency == "" {
		list.Currency = "EUR"
		if m.inInches() {
			list.Currency = "USD"
		}
	}
	if p.Rounding != "half-up" {
		list.Rounding = materials.Rounding(p.Rounding)
	}
	called := func(name, field string) string {
		item, known := materials.ItemCalled(name)
		if known {
			return item
		}
		all.Add(field, name, "is not an item of a take-off", "perhaps "+item+" was meant")
		return name
	}
	for i, x := range p.Items {
		x.Item = called(x.Item, fmt.Sprintf("prices.items[%d].item", i))
		list.Items = append(list.Items, materials.Price{
			Item: x.Item, Name: x.Name, Price: x.Price.Decimal, Per: tape.Unit(x.Per), Pack: exact(numberOr(x.Pack, 0)),
			Least: exact(numberOr(x.Least, 0)), Holds: exact(numberOr(x.Holds, 0)), HoldsPer: tape.Unit(x.HoldsPer),
		})
	}
	known := materials.Items()
	for i, x := range p.Deliveries {
		d := materials.Delivery{Name: x.Name, Items: x.Items, Unpriced: x.Price == nil, Load: exact(numberOr(x.Load, 0)), Per: tape.Unit(x.Per), Untaxed: x.Untaxed}
		if x.Price != nil {
			d.Price = x.Price.Decimal
		}
		d.Items = slices.Clone(x.Items)
		for j, id := range x.Items {
			if item, ok := materials.ItemCalled(id); ok {
				id = item
				d.Items[j] = item
			}
			if id != materials.ItemBoard && !slices.Contains(known, id) {
				all.Add(fmt.Sprintf("prices.deliveries[%d].items[%d]", i, j), id, "is not an item of a take-off", "write board for timber, or an item such as base-gravel")
			}
		}
		list.Deliveries = append(list.Deliveries, d)
	}
	own := -1 // the entry that takes the plan's hours
	for i, x := range p.Labour {
		l := materials.Labour{Name: x.Name, Hours: exact(numberOr(x.Hours, 0)), Unpriced: x.Rate == nil}
		if x.Rate != nil {
			l.Rate = x.Rate.Decimal
		}
		if x.Hours == nil {
			if own >= 0 {
				all.Add(fmt.Sprintf("prices.labour[%d].hours", i), "", fmt.Sprintf("is missing, and labour[%d] has the plan's hours already", own), "write the hours of one of them")
			}
			own = i
		}
		list.Labour = append(list.Labour, l)
	}
	for i, x := range m.plan.Stock {
		m.ownMoney(fmt.Sprintf("stock[%d].price", i), x.Price, list.Currency, all)
	}
	for i := range p.Items {
		m.ownMoney(fmt.Sprintf("prices.items[%d].price", i), &p.Items[i].Price, list.Currency, all)
	}
	for i, x := range p.Deliveries {
		m.ownMoney(fmt.Sprintf("prices.deliveries[%d].price", i), x.Price, list.Currency, all)
	}
	for i, x := range p.Labour {
		m.ownMoney(fmt.Sprintf("prices.labour[%d].rate", i), x.Rate, list.Currency, all)
	}
	all.Put("prices", list.Check())
	m.prices = list
}

// ownMoney sees to it that a price is in the plan's currency.
func (m *maker) ownMoney(field string, price *Money, currency string, all *Faults) {
	if price != nil && !price.in(currency) {
		all.Add(field, price.Sign+price.String(), "is in another currency than the plan's, "+currency, "write what it is in "+currency+", or the plan's currency in prices.currency")
	}
}

// fraction is a slope's ratio as a decimal, without the last bits of its
// division: 9.7 % is 0.097.
func fraction(s *Slope) decimal.Decimal { return exact(slopeOr(s, 0)).Round(6) }

// nearest is the float64 nearest to a decimal. Decimal.Float64 goes by big.Rat,
// which is 7 kB of the browser's program.
func nearest(d decimal.Decimal) float64 {
	x, _ := strconv.ParseFloat(d.String(), 64)
	return x
}

// hire gives the labour that has no hours of its own the plan's.
func (m *maker) hire() {
	for i, x := range m.plan.Prices.Labour {
		if x.Hours == nil {
			m.prices.Labour[i].Hours = exact(m.hours.Total.Likely.Hours()).Round(0)
		}
	}
}

// wage is what the fit reckons an hour of the plan's own at: labour that has
// its hours from elsewhere does not change with the layout.
func (m *maker) wage() float64 {
	for i, x := range m.plan.Prices.Labour {
		if x.Hours == nil && x.Rate != nil {
			l := m.prices.Labour[i]
			return nearest(l.Rate.Mul(m.prices.LabourMarkup.Add(decimal.NewFromInt(1))))
		}
	}
	return 0
}

func (m *maker) billResult() BillResult {
	b := m.bill
	out := BillResult{
		Currency: b.Currency, Lines: []BillLine{}, Unpriced: []string{}, Rounding: b.Rounding,
		Goods: m.coins(b.Goods), Deliveries: m.coins(b.Deliveries), Markups: m.coins(b.Markups), Labour: m.coins(b.Labour),
		Subtotal: m.coins(b.Subtotal), Taxed: m.coins(b.Taxed), Tax: m.coins(b.Tax), Total: m.coins(b.Total),
	}
	for _, l := range b.Lines {
		x := m.billLine(l)
		if !l.Priced {
			out.Unpriced = append(out.Unpriced, x.Name)
		}
		out.Lines = append(out.Lines, x)
	}
	for _, n := range b.Notes {
		out.Notes = append(out.Notes, sentence(n.Says))
	}
	if n := m.inchesNote(); n != "" {
		out.Notes = append(out.Notes, n)
	}
	known := materials.Items()
	for _, p := range m.prices.Items {
		if !slices.Contains(known, p.Item) {
			out.Notes = append(out.Notes, sentence(p.Item+" has a price but is not an item of a take-off: the price is not used"))
		}
	}
	return out
}

// billLine writes a line of the bill.
func (m *maker) billLine(l materials.Line) BillLine {
	need := l.Need
	if slices.Contains(materials.Items(), l.Item) {
		// For people: rounded up to a tenth, or a hundredth where that would be much.
		digits := int32(1)
		if need.LessThan(decimal.NewFromInt(100)) {
			digits = 2
		}
		need = need.RoundCeil(digits)
	}
	x := BillLine{Item: l.Item, Section: l.Section, Name: l.Name, Need: measured(need, l.Per), Buy: measured(l.Buy, l.Per), Note: l.Note, OnHand: l.OnHand, Untaxed: l.Untaxed}
	switch {
	case l.Length > 0:
		x.Name = l.Section + " of " + m.words.distanceSold(l.Length)
		if l.OnHand {
			x.Name += ", on hand"
			x.Buy, x.Note = "0", "is here already"
		}
	case l.Name == l.Item:
		x.Name = itemName(l.Item)
	case slices.Contains(materials.Items(), l.Item):
		x.Name = itemName(l.Item) + ", " + l.Name
	}
	if l.Item == materials.ItemMarkup || l.Item == materials.ItemLabourMarkup {
		x.Need = ""
	}
	if l.Priced {
		price, cost := m.coins(l.Price), m.coins(l.Cost)
		if x.Cost = &cost; x.Need != "" {
			x.Price = &price
		}
	}
	return x
}

// sayTheMoney is the bill in a sentence. What has no price is named.
func (m *maker) sayTheMoney() string {
	s := m.sayTheBill()
	switch {
	case !m.fitted || m.plan.Steps.Prefer != "cost":
	case m.costless():
		s += " While " + m.priceless() + " has no price, the steps are those that dig least."
	case len(m.withoutPrice()) > 0:
		s += " What has no price counted as nothing when these steps were chosen: with all of it priced, others may cost less."
	default:
		// See maker.cheapest.
		s += " None of the steps that cost least by lengths and volumes, dig least, take the least time or walk best has a lower bill; the choices may show others that do."
	}
	return s
}

func (m *maker) sayTheBill() string {
	b := m.bill
	if len(b.Lines) > 0 && b.Total.IsZero() && len(b.Unpriced) > 0 {
		return "No prices were given, so there is no cost; add stock and prices to the plan."
	}
	s := "Materials cost "
	open := b.Goods.IsZero() && len(b.Unpriced) > 0
	if open {
		s = "Materials have no price yet; without them "
	}
	if b.Deliveries.IsZero() && b.Markups.IsZero() && b.Labour.IsZero() {
		s += m.amount(b.Total)
		if b.Tax.IsPositive() {
			s += ", " + m.amount(b.Tax) + " of it tax"
		}
	} else {
		var parts []string
		if !open {
			parts = []string{m.amount(b.Goods)}
		}
		for _, x := range []struct {
			name string
			of   decimal.Decimal
		}{{"delivery", b.Deliveries}, {"mark-up", b.Markups}, {"labour", b.Labour}, {"tax", b.Tax}} {
			if x.of.IsPositive() {
				parts = append(parts, x.name+" "+m.amount(x.of))
			}
		}
		if s += list(parts); len(parts) > 1 {
			s += ": " + m.amount(b.Total) + " in all"
		}
	}
	if without := m.withoutPrice(); len(without) > 0 && !open {
		s += ", without " + list(without) + " (no price)"
	}
	return s + "."
}

// withoutPrice is what of the bill has no price.
func (m *maker) withoutPrice() (without []string) {
	for _, l := range m.bill.Lines {
		switch {
		case l.Priced:
		case l.Item == materials.ItemBoard:
			without = append(without, l.Section)
		default:
			without = append(without, m.billLine(l).Name)
		}
	}
	return distinct(without)
}
