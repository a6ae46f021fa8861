package materials

import (
	"fmt"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
)

// Comparison sets two bills side by side.
type Comparison struct {
	Currency string
	// Lines in the order of the first bill, then those that only the second has.
	Lines []LinePair
	// More is what the second bill's total has over the first's, negative where
	// it is less; Goods, Deliveries, Markups, Labour and Tax are its parts.
	Goods, Deliveries, Markups, Labour, Tax, More decimal.Decimal
	// Open names the lines that lack a price on either bill: More is without
	// them, the mark-up on them and the tax. With any it does not say which bill is
	// dearer.
	Open []string
}

// LinePair is one line of two bills.
type LinePair struct {
	Item, Section, Name string
	Length              unit.Length
	// A and B are the lines; InA and InB say which bill has one.
	A, B     Line
	InA, InB bool
	// More is what B costs over A; a line that is not there costs nothing, and a
	// mark-up nothing on open lines.
	More decimal.Decimal
	// Open is set where a line lacks its price: then More is 0.
	Open bool
}

// CompareBills sets b beside a, line by line: boards by section and length,
// deliveries and labour by name, all else by item. Lines that are equal so are
// paired in order.
//
// The error is a [Faults]; different currencies are one.
func CompareBills(a, b Bill) (Comparison, error) {
	if a.Currency != b.Currency {
		return Comparison{}, Faults{{Field: "currency", Got: shorten(b.Currency), Problem: "is not the currency of the other bill, " + shorten(a.Currency), Fix: "price both in one currency"}}
	}
	c := Comparison{
		Currency: a.Currency,
		Goods:    b.Goods.Sub(a.Goods), Deliveries: b.Deliveries.Sub(a.Deliveries), Markups: b.Markups.Sub(a.Markups), Labour: b.Labour.Sub(a.Labour),
		Tax: b.Tax.Sub(a.Tax), More: b.Total.Sub(a.Total),
	}
	waiting := map[string][]int{} // pairs without a second line, by key
	for _, l := range a.Lines {
		k := l.pairKey()
		waiting[k] = append(waiting[k], len(c.Lines))
		c.Lines = append(c.Lines, LinePair{Item: l.Item, Section: l.Section, Name: l.Name, Length: l.Length, A: l, InA: true})
	}
	for _, l := range b.Lines {
		k := l.pairKey()
		if w := waiting[k]; len(w) > 0 {
			waiting[k] = w[1:]
			c.Lines[w[0]].B, c.Lines[w[0]].InB = l, true
			continue
		}
		c.Lines = append(c.Lines, LinePair{Item: l.Item, Section: l.Section, Name: l.Name, Length: l.Length, B: l, InB: true})
	}
	var leftA, leftB leftOut
	for i := range c.Lines {
		p := &c.Lines[i]
		if (p.InA && !p.A.Priced) || (p.InB && !p.B.Priced) {
			p.Open = true
			c.Open = append(c.Open, p.Name)
			// What the total of the other bill has of it is no difference.
			c.leaveOut(p)
			leftA.take(p.A)
			leftB.take(p.B)
			continue
		}
		p.More = p.B.Cost.Sub(p.A.Cost)
	}
	for i := range c.Lines {
		p := &c.Lines[i]
		if p.Open || p.A.Per != PerPercent && p.B.Per != PerPercent {
			continue
		}
		more := b.markedUp(p.B, &leftB).Sub(a.markedUp(p.A, &leftA))
		off := p.More.Sub(more)
		p.More, c.Markups, c.More = more, c.Markups.Sub(off), c.More.Sub(off)
	}
	tax := b.taxWithout(leftB.taxed).Sub(a.taxWithout(leftA.taxed))
	c.Tax, c.More = tax, c.More.Add(tax).Sub(c.Tax)
	return c, nil
}

// leftOut is what a bill costs of the lines that are left out: goods with their
// deliveries, labour, and what of all that is taxed.
type leftOut struct{ goods, labour, taxed decimal.Decimal }

func (x *leftOut) take(l Line) {
	if l.Item == ItemLabour {
		x.labour = x.labour.Add(l.Cost)
	} else {
		x.goods = x.goods.Add(l.Cost)
	}
	x.taxed = x.taxed.Add(l.taxed())
}

// markedUp is what a mark-up comes to without the lines left out, which are then also
// without the tax on that.
func (b *Bill) markedUp(l Line, left *leftOut) decimal.Decimal {
	without := left.goods
	if l.Item == ItemLabourMarkup {
		without = left.labour
	}
	if without.IsZero() {
		return l.Cost
	}
	rest := b.taxedBy.round(l.Buy.Mul(l.Price.Sub(without.Shift(-2))), CoinDigits(b.Currency))
	if !l.Untaxed {
		left.taxed = left.taxed.Add(l.Cost.Sub(rest))
	}
	return rest
}

// taxed is what of a line's cost the tax is reckoned on.
func (l Line) taxed() decimal.Decimal {
	if l.Untaxed {
		return decimal.Decimal{}
	}
	return l.Cost
}

// taxWithout is the tax on a bill without so much of what is taxed.
func (b *Bill) taxWithout(left decimal.Decimal) decimal.Decimal {
	if b.taxRate.IsZero() {
		return b.Tax
	}
	return b.taxedBy.round(b.Taxed.Sub(left).Mul(b.taxRate), CoinDigits(b.Currency))
}

// leaveOut takes the cost of a line that is priced on one bill only out of the
// differences.
func (c *Comparison) leaveOut(p *LinePair) {
	d := p.B.Cost.Sub(p.A.Cost)
	if d.IsZero() {
		return
	}
	c.More = c.More.Sub(d)
	switch p.Item {
	case ItemDelivery:
		c.Deliveries = c.Deliveries.Sub(d)
	case ItemMarkup, ItemLabourMarkup:
		c.Markups = c.Markups.Sub(d)
	case ItemLabour:
		c.Labour = c.Labour.Sub(d)
	default:
		c.Goods = c.Goods.Sub(d)
	}
}

// pairKey is what two lines must have in common to be compared.
func (l Line) pairKey() string {
	switch l.Item {
	case ItemBoard:
		n, _ := ticks(l.Length, false)
		return fmt.Sprintf("%s/%s/%d/%v", l.Item, l.Section, n, l.OnHand)
	case ItemDelivery, ItemLabour:
		return l.Item + "/" + l.Name
	}
	return l.Item + "/" + l.Section
}
