package materials

import (
	"fmt"
	"strconv"

	"github.com/shopspring/decimal"
)

// Items of a bill's lines that are no goods.
const (
	ItemDelivery     = "delivery"
	ItemLabour       = "labour"
	ItemMarkup       = "mark-up"
	ItemLabourMarkup = "labour-mark-up"
)

// MaxCharges is the most deliveries, and the most kinds of labour, of a price
// list.
const MaxCharges = 100

// Rounding is how money is rounded to the smallest coin.
type Rounding string

// The ways of rounding. Half up is the zero value.
const (
	RoundHalfUp   Rounding = ""
	RoundHalfEven Rounding = "half-even"
	RoundUp       Rounding = "up"
)

func (r Rounding) round(d decimal.Decimal, digits int32) decimal.Decimal {
	switch r {
	case RoundHalfEven:
		return d.RoundBank(digits)
	case RoundUp:
		return d.RoundCeil(digits)
	}
	return d.Round(digits)
}

func (r Rounding) says() string {
	how := "half up"
	switch r {
	case RoundHalfEven:
		how = "to the nearest, halves to the even coin,"
	case RoundUp:
		how = "up"
	}
	return "each line is rounded " + how + " to the smallest coin, the tax once on the sum of what is taxed"
}

// Delivery is what bringing goods costs: once, or for every load.
type Delivery struct {
	// Name is free text; empty is "delivery".
	Name string
	// Price of one; Unpriced says that it is not known.
	Price    decimal.Decimal
	Unpriced bool
	// Items are the ids of what it brings, [ItemBoard] for timber; none is all
	// goods. What is on hand is not brought.
	Items []string
	// Load is the most of one item that comes at once, in Per, any measure of a
	// price but bag; different items do not share a load. 0 is everything at
	// once.
	Load decimal.Decimal
	Per  string
	// Untaxed leaves it out of the tax.
	Untaxed bool
}

// Labour is work paid by the hour.
type Labour struct {
	// Name is free text; empty is "labour".
	Name string
	// Hours, up to a million, and the rate for one; Unpriced says that the rate
	// is not known.
	Hours, Rate decimal.Decimal
	Unpriced    bool
}

// biller makes a bill line by line.
type biller struct {
	list   PriceList
	digits int32
	bill   Bill
	order  []Quantity // of each line of goods
}

// add appends a line and returns its cost.
func (b *biller) add(l Line) decimal.Decimal {
	if l.Priced {
		l.Cost = b.list.Rounding.round(l.Buy.Mul(l.Price), b.digits)
		b.bill.Subtotal = b.bill.Subtotal.Add(l.Cost)
		if !l.Untaxed {
			b.bill.Taxed = b.bill.Taxed.Add(l.Cost)
		}
	} else {
		l.Price = decimal.Decimal{} // it was not looked at
		b.bill.Unpriced = append(b.bill.Unpriced, l.Name)
	}
	b.bill.Lines = append(b.bill.Lines, l)
	return l.Cost
}

func (b *biller) goods(l Line, order Quantity) {
	b.order = append(b.order, order)
	b.bill.Goods = b.bill.Goods.Add(b.add(l))
}

// charges adds what is not goods, and the tax.
func (b *biller) charges() {
	for i, d := range b.list.Deliveries {
		if l, ok := b.delivery(d); ok {
			b.bill.Deliveries = b.bill.Deliveries.Add(b.add(l))
		} else {
			b.bill.Notes = append(b.bill.Notes, Note{Item: ItemDelivery, Says: fmt.Sprintf("%s, deliveries[%d], brings nothing that is on this bill: it is left out", d.name(), i)})
		}
	}
	hundred := decimal.NewFromInt(100)
	markup := func(item, name string, fraction, on decimal.Decimal, untaxed bool, upTo int) {
		if fraction.IsZero() {
			return
		}
		l := Line{Item: item, Name: name, Per: PerPercent, Price: on.Shift(-2), Priced: true, Untaxed: untaxed}
		l.Buy = fraction.Mul(hundred)
		l.Need, l.Order = l.Buy, l.Buy
		if upTo > 0 {
			l.Note = "nothing on lines without a price"
		}
		b.bill.Markups = b.bill.Markups.Add(b.add(l))
	}
	markup(ItemMarkup, "mark-up on goods and deliveries", b.list.Markup, b.bill.Goods.Add(b.bill.Deliveries), false, len(b.bill.Unpriced))
	before := len(b.bill.Unpriced)
	for _, w := range b.list.Labour {
		name := w.Name
		if name == "" {
			name = "labour"
		}
		b.bill.Labour = b.bill.Labour.Add(b.add(Line{Item: ItemLabour, Name: name, Need: w.Hours, Order: w.Hours, Buy: w.Hours, Per: PerHour,
			Price: w.Rate, Priced: !w.Unpriced, Untaxed: !b.list.TaxLabour}))
	}
	markup(ItemLabourMarkup, "mark-up on labour", b.list.LabourMarkup, b.bill.Labour, !b.list.TaxLabour, len(b.bill.Unpriced)-before)
	b.bill.taxRate, b.bill.taxedBy = b.list.Tax, b.list.Rounding
	b.bill.Tax = b.bill.taxWithout(decimal.Decimal{})
	b.bill.Total = b.bill.Subtotal.Add(b.bill.Tax)
}

func (d Delivery) name() string {
	if d.Name == "" {
		return "delivery"
	}
	return d.Name
}

// delivery works out how often it comes. It reports whether it comes at all.
func (b *biller) delivery(d Delivery) (Line, bool) {
	brings := map[string]bool{}
	for _, id := range d.Items {
		brings[id] = true
	}
	one := decimal.NewFromInt(1)
	loads := decimal.Zero
	l := Line{Item: ItemDelivery, Name: d.name(), Per: PerEach, Price: d.Price, Priced: !d.Unpriced, Untaxed: d.Untaxed}
	for i, order := range b.order {
		g := b.bill.Lines[i]
		if g.OnHand || !g.Buy.IsPositive() || (len(d.Items) > 0 && !brings[g.Item]) {
			continue
		}
		if d.Load.IsZero() {
			loads = one
			continue
		}
		amount := g.Buy
		if g.Per != d.Per {
			x, ok := order.in(Price{Per: d.Per})
			if !ok || !g.Order.IsPositive() {
				l.Note = fmt.Sprintf("%s is not measured in %s: taken as one load", g.Name, d.Per)
				loads = loads.Add(one)
				continue
			}
			amount = thousandths(x * nearest(g.Buy) / nearest(g.Order))
		}
		loads = loads.Add(wholes(amount, d.Load))
	}
	l.Need, l.Order, l.Buy = loads, loads, loads
	return l, loads.IsPositive()
}

func (list PriceList) checkCharges(f *Faults) {
	ten := decimal.NewFromInt(10)
	for _, m := range []struct {
		field string
		x     decimal.Decimal
	}{{"markup", list.Markup}, {"labour_markup", list.LabourMarkup}} {
		if !plain(m.x) || m.x.IsNegative() || m.x.GreaterThan(ten) || m.x.Exponent() < -6 {
			f.Add(m.field, showDecimal(m.x), "is not a fraction from 0 to 10", "write 15 % as 0.15")
		}
	}
	switch list.Rounding {
	case RoundHalfUp, RoundHalfEven, RoundUp:
	default:
		f.Add("rounding", string(list.Rounding), "is not a way of rounding", "leave it out for half up, or write half-even or up")
	}
	if n := len(list.Deliveries); n > MaxCharges {
		f.Add("deliveries", strconv.Itoa(n), fmt.Sprintf("is more than %d", MaxCharges), "leave out what is not wanted")
		return
	}
	if n := len(list.Labour); n > MaxCharges {
		f.Add("labour", strconv.Itoa(n), fmt.Sprintf("is more than %d", MaxCharges), "add up hours of one rate")
		return
	}
	for i, d := range list.Deliveries {
		c := &checker{fmt.Sprintf("deliveries[%d].", i), f}
		if !d.Unpriced {
			checkPrice(c.at+"price", d.Price, f)
		}
		if len(d.Items) > MaxPrices {
			c.add("items", strconv.Itoa(len(d.Items)), fmt.Sprintf("is more than %d items", MaxPrices), "name none for all goods")
			continue
		}
		for j, id := range d.Items {
			if id == "" {
				f.Add(fmt.Sprintf("%sitems[%d]", c.at, j), "", "is missing", "name the item, as base-gravel")
			}
		}
		checkSold(c.at+"load", d.Load, f)
		if m, ok := measures[d.Per]; plain(d.Load) && d.Load.IsPositive() && (!ok || m.kind == kindBag) {
			c.add("per", d.Per, "is not a measure of a load", "write m3, yd3, t, ton or the like")
		}
	}
	for i, w := range list.Labour {
		c := &checker{fmt.Sprintf("labour[%d].", i), f}
		if !plain(w.Hours) || w.Hours.IsNegative() || w.Hours.GreaterThan(maxPrice) || w.Hours.Exponent() < -6 {
			c.add("hours", showDecimal(w.Hours), "is not a number of hours", "write 12 h 30 min as 12.5")
		}
		if !w.Unpriced {
			checkPrice(c.at+"rate", w.Rate, f)
		}
	}
}
