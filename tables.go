//go:build !js || whole

package slopewright

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/materials"
)

// ReadPriceList reads a price list from comma-separated values, as
// [materials.ReadPrices] does, into what a plan document holds. The error is a
// [Faults] with every fault by its line.
func ReadPriceList(data []byte) ([]ItemPrice, error) {
	list, err := materials.ReadPrices(data)
	if err != nil {
		return nil, err
	}
	amount := func(d decimal.Decimal) *float64 {
		if d.IsZero() {
			return nil
		}
		x := d.InexactFloat64()
		return &x
	}
	out := make([]ItemPrice, 0, len(list))
	for _, p := range list {
		out = append(out, ItemPrice{
			Item: p.Item, Name: p.Name, Price: Money{p.Price}, Per: p.Per, Pack: amount(p.Pack), Least: amount(p.Least),
			Holds: amount(p.Holds), HoldsPer: p.HoldsPer,
		})
	}
	return out, nil
}

// Take puts the prices of a list in place of those that the plan has of the same
// items, and beside the others.
func (p *Prices) Take(list []ItemPrice) {
	p.Items = slices.Clone(p.Items)
	for _, x := range list {
		i := slices.IndexFunc(p.Items, func(y ItemPrice) bool { return y.Item == x.Item })
		if i < 0 {
			p.Items = append(p.Items, x)
		} else {
			p.Items[i] = x
		}
	}
}

// Tables makes the plan and writes tables of it as comma-separated values after
// RFC 4180: takeoff, pieces, cutplan, bill, and prices, the price list with a
// line for every item of the bill that has none. They are safe to open in a
// spreadsheet. The error is a [Faults].
func Tables(p Plan, names ...string) (map[string]string, error) {
	m, err := reckon(p)
	if err != nil {
		return nil, err
	}
	return m.tables(names, nil)
}

func (m *maker) tables(names []string, say func(string) string) (map[string]string, error) {
	var all Faults
	style := materials.CSVStyle{Imperial: m.words.imperial, Say: say}
	out := map[string]string{}
	for _, name := range names {
		switch name {
		case "takeoff":
			out[name] = string(m.takeoff.CSV(style))
		case "pieces":
			out[name] = string(m.takeoff.PiecesCSV(style))
		case "cutplan":
			out[name] = string(m.cutplan.CSV(style))
		case "bill":
			out[name] = string(m.bill.CSV(style))
		case "prices":
			out[name] = m.priceTable()
		default:
			all.Add("tables", name, "is not a table", "write one of "+strings.Join(TableNames(), ", "))
		}
	}
	return out, all.Err()
}

// priceTable is the plan's price list, to be filled in where an item has no
// price.
func (m *maker) priceTable() string {
	s := string(materials.PricesCSV(m.prices.Items))
	for _, l := range m.bill.Lines {
		if l.Priced || l.Item == materials.ItemBoard || l.Item == materials.ItemDelivery || l.Item == materials.ItemLabour {
			continue
		}
		if !slices.ContainsFunc(m.prices.Items, func(p materials.Price) bool { return p.Item == l.Item }) {
			s += l.Item + ",,," + l.Per + ",,,,\r\n"
		}
	}
	return s
}

// Compare makes two plans and sets the bill of the other beside this one's. The
// error is a [Faults]; those of the other plan are below compare.
func Compare(this, other Plan) (ComparisonResult, error) {
	m, err := reckon(this)
	if err != nil {
		return ComparisonResult{}, err
	}
	return m.compare(other)
}

func (m *maker) compare(other Plan) (ComparisonResult, error) {
	o, err := reckon(other)
	if err != nil {
		return ComparisonResult{}, under("compare", err)
	}
	c, err := materials.CompareBills(m.bill, o.bill)
	if err != nil {
		return ComparisonResult{}, under("compare.prices", err)
	}
	signed := func(d decimal.Decimal) string { return d.StringFixed(materials.CoinDigits(c.Currency)) }
	out := ComparisonResult{
		Currency: c.Currency, This: textOr(m.plan.Title, "this plan"), Other: textOr(other.Title, "the other plan"), Lines: []ComparedLine{},
		Goods: signed(c.Goods), Deliveries: signed(c.Deliveries), Markups: signed(c.Markups), Labour: signed(c.Labour), Tax: signed(c.Tax), More: signed(c.More),
		Open: []string{},
	}
	if out.This == out.Other {
		out.This, out.Other = "this plan", "the other plan"
	}
	for _, p := range c.Lines {
		x := ComparedLine{Item: p.Item}
		if p.InA {
			l := m.billLine(p.A)
			x.Name, x.Buy, x.Cost = l.Name, l.Buy, l.Cost
		}
		if p.InB {
			l := m.billLine(p.B)
			x.Other, x.Costs = l.Buy, l.Cost
			if !p.InA {
				x.Name = l.Name
			}
		}
		if p.Open {
			out.Open = append(out.Open, x.Name)
		} else {
			x.More = signed(p.More)
		}
		out.Lines = append(out.Lines, x)
	}
	out.Open = append([]string{}, distinct(out.Open)...)
	out.Says = m.sayTheDifference(c, out)
	return out, nil
}

func (m *maker) sayTheDifference(c materials.Comparison, out ComparisonResult) string {
	change := func(d decimal.Decimal) string {
		if d.IsNegative() {
			return m.amount(d.Abs()) + " less"
		}
		return m.amount(d) + " more"
	}
	s := out.Other + " costs "
	if c.More.IsZero() {
		s += "the same as " + out.This
	} else {
		s += change(c.More) + " than " + out.This
	}
	var parts []string
	for _, x := range []struct {
		name string
		d    decimal.Decimal
	}{{"goods", c.Goods}, {"delivery", c.Deliveries}, {"mark-up", c.Markups}, {"labour", c.Labour}, {"tax", c.Tax}} {
		if !x.d.IsZero() {
			parts = append(parts, x.name+" "+change(x.d))
		}
	}
	if len(parts) > 1 || len(parts) == 1 && c.More.IsZero() {
		s += ": " + list(parts)
	}
	if len(out.Open) > 0 {
		s += ", without " + list(out.Open) + " (no price)"
	}
	return sentence(s)
}

// priced reads the price list of a request.
func (q *Request) priced() error {
	if q.PriceList == "" {
		return nil
	}
	items, err := ReadPriceList([]byte(q.PriceList))
	if err != nil {
		return under("price_list", err)
	}
	if q.Plan != nil {
		p := *q.Plan
		p.Prices.Take(items)
		q.Plan = &p
	}
	return nil
}

// pricesDocument answers op prices.
func (q *Request) pricesDocument() (any, error) {
	items, err := ReadPriceList([]byte(q.PriceList))
	if err != nil {
		return nil, under("price_list", err)
	}
	return PricesDocument{Format: PricesFormat, Items: items}, nil
}
