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

// MaxPrices is the most entries of a price list.
const MaxPrices = 1000

// Price is what one measure of an item costs.
type Price struct {
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
	// Holds is how much of HoldsPer (a measure of volume or mass) a bag holds;
	// wanted only per bag.
	Holds    decimal.Decimal
	HoldsPer string
}

// PriceList is what things cost.
type PriceList struct {
	// Currency is the ISO 4217 code, "USD". It sets how many decimals money is
	// rounded to: 2, but 0 for the likes of JPY and 3 for the likes of KWD.
	Currency string
	// Tax is a fraction of the subtotal, 0 to 1.
	Tax   decimal.Decimal
	Items []Price
}

// Line is one line of a bill. Quantities are in Per.
type Line struct {
	// Item is the take-off item's id, or "board" for a stock length.
	Item, Section, Name string
	// Length is that of a board, 0 for other items.
	Length unit.Length
	// Need is what the work takes and Order with its waste, both rounded up to
	// a thousandth; Buy is Order rounded up to what is sold.
	Need, Order, Buy decimal.Decimal
	Per              string
	Price, Cost      decimal.Decimal
	Priced           bool
	Note             string
}

// Bill is the take-off with prices.
type Bill struct {
	Currency             string
	Lines                []Line
	Subtotal, Tax, Total decimal.Decimal
	// Unpriced names the lines without a price: the total is without them.
	Unpriced []string
}

// ItemBoard is the item of a bill's line for a stock length.
const ItemBoard = "board"

// MakeBill prices the boards of the cut plan and the other items of the
// take-off. Money is decimal throughout: each line is rounded half up to the
// currency's smallest coin, the tax once on the subtotal.
//
// The error is a [Faults].
func MakeBill(t Takeoff, plan CutPlan, list PriceList) (Bill, error) {
	var faults Faults
	list.check(&faults)
	if len(faults) > 0 {
		return Bill{}, faults
	}
	digits := CoinDigits(list.Currency)
	bill := Bill{Currency: list.Currency}
	add := func(l Line) {
		if l.Priced {
			l.Cost = l.Buy.Mul(l.Price).Round(digits)
			bill.Subtotal = bill.Subtotal.Add(l.Cost)
		} else {
			bill.Unpriced = append(bill.Unpriced, l.Name)
		}
		bill.Lines = append(bill.Lines, l)
	}
	stocked := boardLines(plan, add)
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
			p = Price{Item: it.ID, Per: naturalPer(it)}
		}
		l := Line{Item: it.ID, Section: it.Section, Name: p.Name, Per: p.Per, Priced: ok, Price: p.Price}
		if l.Name == "" {
			l.Name = it.ID
		}
		need, _ := it.Need.in(p)
		order, can := it.Order.in(p)
		if !can {
			l.Priced, l.Per = false, naturalPer(it)
			l.Note = fmt.Sprintf("a price per %s does not fit this item", p.Per)
			p = Price{Per: l.Per}
			need, _ = it.Need.in(p)
			order, _ = it.Order.in(p)
		}
		l.Need, l.Order = thousandths(need), thousandths(order)
		l.Buy = p.packs(l.Order)
		add(l)
	}
	bill.Tax = bill.Subtotal.Mul(list.Tax).Round(digits)
	bill.Total = bill.Subtotal.Add(bill.Tax)
	return bill, nil
}

// boardLines adds one line a stock length and says which sections have stock.
func boardLines(plan CutPlan, add func(Line)) map[string]bool {
	stocked := map[string]bool{}
	var lines []Line
	at := map[string]int{}
	for _, b := range plan.Boards {
		stocked[b.Section] = true
		n, _ := ticks(b.Stock, false)
		key := b.Section + "/" + strconv.FormatInt(n, 10) + "/" + b.Price.String() + "/" + strconv.FormatBool(b.Unpriced)
		count := decimal.NewFromInt(int64(b.Count))
		if i, ok := at[key]; ok {
			lines[i].Buy = lines[i].Buy.Add(count)
			continue
		}
		at[key] = len(lines)
		lines = append(lines, Line{Item: ItemBoard, Section: b.Section, Length: b.Stock, Name: b.Section + " × " + show(b.Stock), Buy: count, Per: PerEach, Price: b.Price, Priced: !b.Unpriced})
	}
	for _, l := range lines {
		l.Need, l.Order = l.Buy, l.Buy
		add(l)
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
			f.Add("currency", list.Currency, "is not a currency code", "write three capitals, as USD or GBP")
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
		at := fmt.Sprintf("items[%d].", i)
		if p.Item == "" {
			f.Add(at+"item", "", "is missing", "name the item, as base-gravel")
		} else if j, ok := seen[p.Item]; ok {
			f.Add(at+"item", p.Item, fmt.Sprintf("is priced twice, in items[%d] already", j), "give each item one price")
		}
		seen[p.Item] = i
		checkPrice(at+"price", p.Price, f)
		if _, ok := measures[p.Per]; !ok {
			f.Add(at+"per", p.Per, "is not a measure", "write each, m, ft, m2, ft2, yd2, m3, yd3, ft3, l, gal, kg, lb, t, ton or bag")
		}
		if !plain(p.Pack) || p.Pack.IsNegative() || p.Pack.GreaterThan(maxPrice) || p.Pack.Exponent() < -6 {
			f.Add(at+"pack", showDecimal(p.Pack), "is not a quantity to sell by", "give 0, or the least that is sold, as 0.5")
		}
		if p.Per == PerBag {
			k := measures[p.HoldsPer].kind
			if k != kindVolume && k != kindMass {
				f.Add(at+"holds_per", p.HoldsPer, "is not a measure of volume or mass", "write l, ft3, kg or lb")
			}
			if !plain(p.Holds) || !p.Holds.IsPositive() || p.Holds.GreaterThan(maxPrice) || p.Holds.Exponent() < -6 {
				f.Add(at+"holds", showDecimal(p.Holds), "is not what a bag holds", "give more than 0")
			}
		}
	}
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
	if m.kind == kindBag {
		m = measures[p.HoldsPer]
		m.size *= p.Holds.InexactFloat64()
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

// naturalPer is the measure of an item without a price.
func naturalPer(it Item) string {
	switch it.ID {
	case ItemPreservative:
		return PerLitre
	case ItemFabric:
		return PerM2
	}
	if it.Need.Count > 0 {
		return PerEach
	}
	return PerM3
}

// thousandths rounds up to three decimals; a billionth over is forgiven.
func thousandths(x float64) decimal.Decimal {
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
	n, rest := order.QuoRem(pack, 0)
	if rest.IsPositive() {
		n = n.Add(decimal.NewFromInt(1))
	}
	return n.Mul(pack)
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
