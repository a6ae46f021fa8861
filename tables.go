//go:build !js || whole

package slopewright

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/materials"
)

// written is the length as it was typed, or in millimetres.
func (l Length) written() string { return textOr(l.Text, words{}.length(l.Length)) }

// ReadPriceList is [ReadPriceTable] without the timber.
func ReadPriceList(data []byte) ([]ItemPrice, error) {
	t, err := ReadPriceTable(data)
	return t.Items, err
}

// ReadPriceTable reads a price list of goods and timber from comma-separated values,
// as [materials.ReadPriceTable] does, into what a plan document holds. The error is a
// [Faults] with every fault by its line.
func ReadPriceTable(data []byte) (PricesDocument, error) {
	list, timber, err := materials.ReadPriceTable(data)
	var all Faults
	all.Put("", err)
	out := PricesDocument{Format: PricesFormat, Items: make([]ItemPrice, 0, len(list))}
	for _, t := range timber {
		n := docjson.Node{Kind: docjson.Object}
		for _, c := range t.Cells {
			kind := docjson.String
			switch c[0] {
			case "available", "on_hand", "cut_ends":
				kind = docjson.Number
			}
			n.Fields = append(n.Fields, docjson.Field{Name: c[0], Value: docjson.Node{Kind: kind, Text: c[1]}})
		}
		var s Stock
		err := docjson.Decode(n, &s)
		if _, bad := materials.FramedSectionByName(s.Section); bad != nil && err == nil {
			err = Faults{{Field: "section", Got: s.Section, Problem: "is not a section in the tables", Fix: "write one of " + strings.Join(ids(sectionChoices()), ", ")}}
		}
		line := "line " + strconv.Itoa(t.Line)
		for _, f := range asFaults(err) {
			f.Field = line + ", " + f.Field
			all = append(all, f)
		}
		out.Stock = append(out.Stock, s)
	}
	amount := func(d decimal.Decimal) *float64 {
		if d.IsZero() {
			return nil
		}
		x := d.InexactFloat64()
		return &x
	}
	for _, p := range list {
		out.Items = append(out.Items, ItemPrice{
			Item: p.Item, Name: p.Name, Price: Money{Decimal: p.Price}, Per: p.Per, Pack: amount(p.Pack), Least: amount(p.Least),
			Holds: amount(p.Holds), HoldsPer: p.HoldsPer,
		})
	}
	if len(all) > 0 {
		return PricesDocument{}, all
	}
	return out, nil
}

func asFaults(err error) Faults {
	var all Faults
	all.Put("", err)
	return all
}

// Take puts a price list into the plan: its prices of goods as [Prices.Take] does, and
// its timber in place of what the plan has of the same section and length, bought or
// on hand, and beside the rest.
func (p *Plan) Take(list PricesDocument) {
	p.Prices.Take(list.Items)
	p.Stock = slices.Clone(p.Stock)
	for _, x := range list.Stock {
		i := slices.IndexFunc(p.Stock, func(y Stock) bool {
			return y.Section == x.Section && math.Abs(float64(y.Length.Length-x.Length.Length)) < 1e-6 && (y.OnHand > 0) == (x.OnHand > 0)
		})
		if i < 0 {
			p.Stock = append(p.Stock, x)
		} else {
			p.Stock[i] = x
		}
	}
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
// price, its timber by section and length.
func (m *maker) priceTable() string {
	var timber []materials.TimberPrice
	given := map[string]bool{}
	for _, x := range m.plan.Stock {
		given[x.Section] = true
		t := materials.TimberPrice{Cells: [][2]string{{"section", x.Section}, {"length", x.Length.written()}}}
		put := func(column, cell string) { t.Cells = append(t.Cells, [2]string{column, cell}) }
		if x.Price != nil {
			put("price", x.Price.String())
		}
		if x.Available != nil {
			put("available", strconv.Itoa(*x.Available))
		}
		if x.OnHand > 0 {
			put("on_hand", strconv.Itoa(x.OnHand))
		}
		if x.CutEnds > 0 {
			put("cut_ends", strconv.Itoa(x.CutEnds))
		}
		if x.Thickness != nil {
			put("thickness", x.Thickness.written())
		}
		if x.Width != nil {
			put("width", x.Width.written())
		}
		timber = append(timber, t)
	}
	for _, x := range m.stock { // the usual lengths of the rest, to be priced
		if !given[x.Section] && x.Unpriced {
			timber = append(timber, materials.TimberPrice{Cells: [][2]string{{"section", x.Section}, {"length", m.words.length(x.Length)}}})
		}
	}
	s := string(materials.PricesCSV(m.prices.Items, timber...))
	for _, l := range m.bill.Lines {
		if l.Priced || l.Item == materials.ItemBoard || l.Item == materials.ItemDelivery || l.Item == materials.ItemLabour {
			continue
		}
		if !slices.ContainsFunc(m.prices.Items, func(p materials.Price) bool { return p.Item == l.Item }) {
			s += l.Item + ",,," + l.Per + ",,,,,,,,,,,\r\n"
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
	a, b := m.bill, o.bill
	if a.Currency != b.Currency {
		// Of a plan without prices the currency is nothing that somebody chose.
		switch {
		case blank(b, other.Prices.Currency):
			b.Currency = a.Currency
		case blank(a, m.plan.Prices.Currency):
			a.Currency = b.Currency
			was := m.prices.Currency
			m.prices.Currency = b.Currency
			defer func() { m.prices.Currency = was }()
		default:
			problem := "is not the currency of the other bill, "
			if other.Prices.Currency == "" {
				problem = "is the usual one where none is written, and not that of the other bill, "
			}
			return ComparisonResult{}, Faults{{Field: "compare.prices.currency", Got: b.Currency, Problem: problem + a.Currency, Fix: "price both in one currency, and write it in both plans"}}
		}
	}
	c, err := materials.CompareBills(a, b)
	if err != nil {
		return ComparisonResult{}, under("compare.prices", err)
	}
	signed := func(d decimal.Decimal) string { return d.StringFixed(materials.CoinDigits(c.Currency)) }
	out := ComparisonResult{
		Currency: c.Currency, This: textOr(m.plan.Title, "this plan"), Other: textOr(other.Title, "the other plan"), Lines: []ComparedLine{},
		Goods: signed(c.Goods), Deliveries: signed(c.Deliveries), Markups: signed(c.Markups), Labour: signed(c.Labour), Tax: signed(c.Tax), More: signed(c.More),
		Total: signed(a.Total), OtherTotal: signed(b.Total),
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
			if !p.InA { // in the other plan's units
				x.Name = o.billLine(p.B).Name
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
	unpriced := ""
	switch none, others := blank(a, ""), blank(b, ""); {
	case none && others:
		unpriced = "neither plan has prices"
	case none:
		unpriced = out.This + " has no prices"
	case others:
		unpriced = out.Other + " has no prices"
	}
	if unpriced != "" {
		out.Says = sentence(unpriced + ", so which of the two costs more is not known")
	}
	return out, nil
}

// blank is whether a bill has no currency of its own and nothing priced.
func blank(b materials.Bill, currency string) bool {
	for _, l := range b.Lines {
		if l.Priced && !l.Cost.IsZero() {
			return false
		}
	}
	return currency == "" && len(b.Unpriced) > 0
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
	list, err := ReadPriceTable([]byte(q.PriceList))
	if err != nil {
		return under("price_list", err)
	}
	if q.Plan != nil {
		p := *q.Plan
		p.Take(list)
		q.Plan = &p
	}
	return nil
}

// pricesDocument answers op prices.
func (q *Request) pricesDocument() (any, error) {
	list, err := ReadPriceTable([]byte(q.PriceList))
	if err != nil {
		return nil, under("price_list", err)
	}
	return list, nil
}
