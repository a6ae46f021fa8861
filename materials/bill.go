package materials

import (
	"fmt"
	"math"
	"strconv"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
)

// Measures that a price can be for. A ton is 2000 lb, a tonne 1000 kg; a
// gallon is the US one of 231 in³.
const (
	PerEach  = "each"
	PerMetre = "m"
	PerFoot  = "ft"
	PerM2    = "m2"
	PerFt2   = "ft2"
	PerYd2   = "yd2"
	PerM3    = "m3"
	PerYd3   = "yd3"
	PerFt3   = "ft3"
	PerLitre = "l"
	PerGal   = "gal"
	PerKg    = "kg"
	PerLb    = "lb"
	PerTonne = "t"
	PerTon   = "ton"
	PerBag   = "bag"
)

// Measures of a bill's lines that no price is for.
const (
	PerHour    = "h"
	PerPercent = "%"
)

// MaxPrices is the most entries of a price list.
const MaxPrices = 1000

// Price is what one measure of an item costs.
type Price struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Item is the id of a take-off item. Timbers are priced by the stock of
	// the cut plan, not here; a price here serves only pieces without stock.
	Item string
	// Name is the trade name, free text.
	Name string
	// Price is for one of Per, at least 0, at most four decimals.
	Price decimal.Decimal
	Per   string
	// Pack: the measure is sold in multiples of it, half a yard or a box of
	// 50. 0 is whole ones of each and bag, and hundredths of other measures.
	Pack decimal.Decimal
	// Least is the least that is sold at all; 0 is one pack.
	Least decimal.Decimal
	// Holds is how much of HoldsPer (a measure of volume or mass) a bag holds;
	// wanted only per bag. Concrete by the bag is counted in bags: it needs
	// neither.
	Holds    decimal.Decimal
	HoldsPer string
}

// PriceList is what things cost.
type PriceList struct {
	// Currency is the ISO 4217 code, "USD". It sets how many decimals money is
	// rounded to: 2, but 0 for the likes of JPY and 3 for the likes of KWD.
	Currency string
	// Tax is a fraction of what is taxed, 0 to 1: goods, deliveries and the
	// mark-up on them; labour only where TaxLabour is set.
	Tax   decimal.Decimal
	Items []Price
	// Deliveries are what bringing the goods costs.
	Deliveries []Delivery
	// Labour, Markup and LabourMarkup make a contractor's quote of the bill.
	// The mark-ups are fractions, 0 to 10: Markup of goods and deliveries,
	// LabourMarkup of labour. Each is a line of its own.
	Labour               []Labour
	TaxLabour            bool
	Markup, LabourMarkup decimal.Decimal
	// Rounding is how lines and tax are rounded to the smallest coin.
	Rounding Rounding
	// Imperial: what has no price is measured in yd³, ft², ft, gal and lb, not
	// in m³, m², m, l and kg.
	Imperial bool
	// Words writes the lengths of boards in their names; without it they are in
	// metres.
	Words func(unit.Length) string
}

// Line is one line of a bill. Quantities are in Per.
type Line struct {
	_ [0]func() // not comparable, which spares code: see DEVELOPERS.md
	// Item is the take-off item's id, or one of [ItemBoard], [ItemDelivery],
	// [ItemLabour], [ItemMarkup] and [ItemLabourMarkup].
	Item, Section, Name string
	// Length is that of a board, 0 for other items.
	Length unit.Length
	// Need is what the work takes and Order with its waste, both rounded up to
	// a thousandth; Buy is Order rounded up to what is sold.
	Need, Order, Buy decimal.Decimal
	Per              string
	// Cost is Buy times Price, rounded. A mark-up is bought by the percent.
	Price, Cost decimal.Decimal
	Priced      bool
	// Untaxed lines are left out of the tax, OnHand is not bought at all.
	Untaxed, OnHand bool
	Note            string
}

// Bill is the take-off with prices.
type Bill struct {
	Currency string
	// Lines in order: boards, other goods, deliveries, mark-up, labour, mark-up
	// on labour.
	Lines []Line
	// Goods, Deliveries, Labour and Markups add up to Subtotal; Taxed is what
	// of it the tax is reckoned on.
	Goods, Deliveries, Labour, Markups decimal.Decimal
	Subtotal, Taxed, Tax, Total        decimal.Decimal
	// Unpriced names the lines without a price: the total is without them.
	Unpriced []string
	// Rounding says how lines and tax were rounded.
	Rounding string
	Notes    []Note
	// What Tax was reckoned by; of a bill that was not made here nothing is known of it.
	taxRate decimal.Decimal
	taxedBy Rounding
}

// ItemBoard is the item of a bill's line for a stock length.
const ItemBoard = "board"

// MakeBill prices the boards of the cut plan and the other items of the
// take-off, then what the price list says of deliveries, mark-up and labour.
// Money is decimal throughout: each line is rounded to the currency's smallest
// coin, and the tax once on what is taxed.
//
// The error is a [Faults].
func MakeBill(t Takeoff, plan CutPlan, list PriceList) (Bill, error) {
	var faults Faults
	list.check(&faults)
	if len(faults) > 0 {
		return Bill{}, faults
	}
	b := biller{list: list, digits: CoinDigits(list.Currency), bill: Bill{Currency: list.Currency, Rounding: list.Rounding.says()}}
	stocked := b.boards(plan)
	prices := map[string]Price{}
	for _, p := range list.Items {
		prices[p.Item] = p
	}
	for _, it := range t.Items {
		if it.Section != "" && stocked[it.Section] {
			continue // bought as boards
		}
		p, ok := prices[it.ID]
		if !ok {
			p = Price{Item: it.ID, Per: list.naturalPer(it)}
		}
		l := Line{Item: it.ID, Section: it.Section, Name: p.Name, Per: p.Per, Priced: ok, Price: p.Price}
		if l.Name == "" {
			l.Name = it.ID
		}
		need, _ := it.Need.in(p)
		order, can := it.Order.in(p)
		if !can {
			l.Priced, l.Per = false, list.naturalPer(it)
			l.Note = fmt.Sprintf("a price per %s does not fit this item", p.Per)
			p = Price{Per: l.Per}
			need, _ = it.Need.in(p)
			order, _ = it.Order.in(p)
		}
		l.Need, l.Order = thousandths(need), thousandths(order)
		l.Buy = p.packs(l.Order)
		b.goods(l, it.Order)
	}
	b.charges()
	return b.bill, nil
}

// boards adds one line a stock length and says which sections have stock.
func (b *biller) boards(plan CutPlan) map[string]bool {
	stocked := map[string]bool{}
	var lines []Line
	at := map[string]int{}
	for _, x := range plan.Boards {
		stocked[x.Section] = true
		n, _ := ticks(x.Stock, false)
		key := x.Section + "/" + strconv.FormatInt(n, 10) + "/" + x.Price.String() + "/" + strconv.FormatBool(x.Unpriced) + strconv.FormatBool(x.OnHand)
		count := decimal.NewFromInt(int64(x.Count))
		if i, ok := at[key]; ok {
			lines[i].Buy = lines[i].Buy.Add(count)
			continue
		}
		at[key] = len(lines)
		l := Line{Item: ItemBoard, Section: x.Section, Length: x.Stock, Name: x.Section + " × " + inWords(b.list.Words, x.Stock), Buy: count, Per: PerEach, Price: x.Price, Priced: !x.Unpriced, OnHand: x.OnHand}
		if x.OnHand {
			l.Note = "on hand"
		}
		lines = append(lines, l)
	}
	for _, l := range lines {
		l.Need, l.Order = l.Buy, l.Buy
		b.goods(l, Quantity{})
	}
	return stocked
}

// Check holds the list against its ranges. The error is a [Faults].
func (list PriceList) Check() error {
	var f Faults
	list.check(&f)
	return f.Err()
}

func (list PriceList) check(f *Faults) {
	if list.Currency != "" {
		ok := len(list.Currency) == 3
		for _, c := range list.Currency {
			ok = ok && c >= 'A' && c <= 'Z'
		}
		if !ok {
			f.Add("currency", list.Currency, "is not a currency code", "write its code of three capitals, such as EUR, USD or GBP")
		}
	}
	if !plain(list.Tax) || list.Tax.IsNegative() || list.Tax.GreaterThan(decimal.NewFromInt(1)) {
		f.Add("tax", showDecimal(list.Tax), "is not a fraction from 0 to 1", "write 8 % as 0.08")
	}
	if len(list.Items) > MaxPrices {
		f.Add("items", strconv.Itoa(len(list.Items)), fmt.Sprintf("is more than %d prices", MaxPrices), "leave out what is not wanted")
		return
	}
	seen := map[string]int{}
	for i, p := range list.Items {
		at := func(name string) string { return fmt.Sprintf("items[%d].%s", i, name) }
		if j, ok := seen[p.Item]; ok && p.Item != "" {
			f.Add(at("item"), p.Item, fmt.Sprintf("is priced twice, in items[%d] already", j), "give each item one price")
		}
		seen[p.Item] = i
		p.check(at, f)
	}
	list.checkCharges(f)
}

// check holds one price against its ranges; at is the path of a field.
func (p Price) check(at func(string) string, f *Faults) {
	if p.Item == "" {
		f.Add(at("item"), "", "is missing", "name the item, as base-gravel")
	}
	checkPrice(at("price"), p.Price, f)
	if _, ok := measures[p.Per]; !ok {
		f.Add(at("per"), p.Per, "is not a measure", "write each, m, ft, m2, ft2, yd2, m3, yd3, ft3, l, gal, kg, lb, t, ton or bag")
	}
	checkSold(at("pack"), p.Pack, f)
	checkSold(at("least"), p.Least, f)
	switch {
	case p.Per != PerBag || p.countsBags():
	case p.HoldsPer == "" && p.Holds.IsZero():
		f.Add(at("per"), p.Per, "does not tell how much one holds", "give in holds how much, and in holds_per of what: l, ft3, kg or lb; or price it by another measure")
	default:
		k := measures[p.HoldsPer].kind
		if k != kindVolume && k != kindMass {
			f.Add(at("holds_per"), p.HoldsPer, "is not a measure of volume or mass", "write l, ft3, kg or lb")
		}
		if !plain(p.Holds) || !p.Holds.IsPositive() || p.Holds.GreaterThan(maxPrice) || p.Holds.Exponent() < -6 {
			f.Add(at("holds"), showDecimal(p.Holds), "is not what a bag holds", "give more than 0")
		}
	}
}

// checkSold adds a fault unless a quantity can be sold by.
func checkSold(field string, q decimal.Decimal, f *Faults) {
	if !plain(q) || q.IsNegative() || q.GreaterThan(maxPrice) || q.Exponent() < -6 {
		f.Add(field, showDecimal(q), "is not a quantity to sell by", "give 0, or the least that is sold, as 0.5")
	}
}

// countsBags says that the item itself is counted in bags.
func (p Price) countsBags() bool {
	return p.Item == ItemConcreteBag && p.HoldsPer == "" && p.Holds.IsZero()
}

type kind int

const (
	kindNone kind = iota
	kindCount
	kindLength
	kindArea
	kindVolume
	kindMass
	kindBag
)

// measures: what each measures, and its size in SI.
var measures = map[string]struct {
	kind kind
	size float64
}{
	PerEach: {kindCount, 1}, PerBag: {kindBag, 1},
	PerMetre: {kindLength, 1}, PerFoot: {kindLength, 0.3048},
	PerM2: {kindArea, 1}, PerFt2: {kindArea, 0.3048 * 0.3048}, PerYd2: {kindArea, 0.9144 * 0.9144},
	PerM3: {kindVolume, 1}, PerFt3: {kindVolume, 0.3048 * 0.3048 * 0.3048}, PerYd3: {kindVolume, 0.9144 * 0.9144 * 0.9144},
	PerLitre: {kindVolume, 0.001}, PerGal: {kindVolume, 0.003785411784},
	PerKg: {kindMass, 1}, PerLb: {kindMass, 0.45359237}, PerTonne: {kindMass, 1000}, PerTon: {kindMass, 907.18474},
}

// in gives the quantity in the measure of a price, and whether it has one.
func (q Quantity) in(p Price) (float64, bool) {
	m := measures[p.Per]
	if m.kind == kindBag && p.countsBags() {
		m.kind = kindCount
	} else if m.kind == kindBag {
		m = measures[p.HoldsPer]
		m.size *= nearest(p.Holds)
	}
	var x float64
	switch m.kind {
	case kindCount:
		x = float64(q.Count)
	case kindLength:
		x = q.Length.Meters()
	case kindArea:
		x = q.Area.SquareMeters()
	case kindVolume:
		x = q.Volume.CubicMeters()
	case kindMass:
		x = q.Mass.Kilograms()
	default:
		return 0, false
	}
	return x / m.size, x > 0
}

// naturalPer is the measure of an item without a price: the first that it has
// of each, m³, m², m and kg, or the imperial ones. Preservative, whose count is
// of ends, goes by the litre or gallon.
func (list PriceList) naturalPer(it Item) string {
	q := it.Need
	per := func(metric, imperial string) string {
		if list.Imperial {
			return imperial
		}
		return metric
	}
	switch {
	case it.ID == ItemPreservative:
		return per(PerLitre, PerGal)
	case q.Count > 0:
		return PerEach
	case q.Volume > 0:
		return per(PerM3, PerYd3)
	case q.Area > 0:
		return per(PerM2, PerFt2)
	case q.Length > 0:
		return per(PerMetre, PerFoot)
	case q.Mass > 0:
		return per(PerKg, PerLb)
	}
	return PerEach
}

// thousandths rounds up to three decimals; a billionth over is forgiven. It
// stops at nine thousand billion.
func thousandths(x float64) decimal.Decimal {
	if !(x < 9e12) {
		x = 9e12
	}
	return decimal.New(int64(math.Ceil(float64(x*1000)-1e-6)), -3)
}

// packs rounds a quantity up to what is sold.
func (p Price) packs(order decimal.Decimal) decimal.Decimal {
	pack := p.Pack
	if pack.IsZero() {
		switch p.Per {
		case PerEach, PerBag:
			pack = decimal.NewFromInt(1)
		default:
			pack = decimal.New(1, -2)
		}
	}
	if order.IsPositive() && order.LessThan(p.Least) {
		order = p.Least
	}
	return wholes(order, pack).Mul(pack)
}

// nearest is the float64 nearest to a decimal. Decimal.Float64 goes by big.Rat,
// which is 7 kB of the browser's program.
func nearest(d decimal.Decimal) float64 {
	x, _ := strconv.ParseFloat(d.String(), 64)
	return x
}

// wholes is how many of a size hold a quantity.
func wholes(quantity, size decimal.Decimal) decimal.Decimal {
	n, rest := quantity.QuoRem(size, 0)
	if rest.IsPositive() {
		n = n.Add(decimal.NewFromInt(1))
	}
	return n
}

// CoinDigits is how many decimals the currency's coins have (ISO 4217).
func CoinDigits(code string) int32 {
	switch code {
	case "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF":
		return 0
	case "BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND":
		return 3
	}
	return 2
}
