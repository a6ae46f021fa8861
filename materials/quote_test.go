package materials

import (
	"slices"
	"strings"
	"testing"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
)

// A contractor's quote, worked by hand. Invented prices.
//
//	boards      3 × 32.50                                    97.50
//	base        2.2 yd³ ordered, half yards: 2.5 × 38.00      95.00
//	topping     0.3 yd³ ordered, least 1: 1 × 44.00           44.00
//	concrete    7 bags × 6.15                                 43.05
//	pins        no price
//	goods                                                    279.55
//	gravel      loads of 2 yd³: base 2, topping 1; 3 × 60.00 180.00
//	timber      once                                          35.00, untaxed
//	mark-up     15 % of 494.55 = 74.1825                      74.18
//	labour      12.5 h × 48.00                               600.00
//	helper      no rate
//	mark-up     10 % of 600                                   60.00
//	subtotal                                                1228.73
//	taxed       279.55 + 180 + 74.18 = 533.73; 8.25 %         44.03 (44.032725)
func TestMakeBillQuote(t *testing.T) {
	yd3 := unit.CubicYard
	off := Takeoff{Items: []Item{
		{ID: ItemBase, Need: Quantity{Volume: 1.6 * yd3, Mass: 2700}, Order: Quantity{Volume: 2.2 * yd3, Mass: 2950}},
		{ID: ItemTopping, Need: Quantity{Volume: 0.2 * yd3, Mass: 300}, Order: Quantity{Volume: 0.3 * yd3, Mass: 400}},
		{ID: ItemConcreteBag, Need: Quantity{Count: 6, Volume: 0.1}, Order: Quantity{Count: 7, Volume: 0.11}},
		{ID: ItemPin, Need: Quantity{Count: 12}, Order: Quantity{Count: 13}},
	}}
	plan := CutPlan{Boards: []Board{
		{Section: "6x6", Stock: in(96), Price: money("32.50"), Count: 3},
		{Section: "6x6", Stock: in(40), Count: 1, OnHand: true},
	}}
	list := PriceList{Currency: "USD", Tax: money("0.0825"),
		Items: []Price{
			{Item: ItemBase, Price: money("38"), Per: PerYd3, Pack: money("0.5")},
			{Item: ItemTopping, Price: money("44"), Per: PerYd3, Pack: money("0.5"), Least: money("1")},
			{Item: ItemConcreteBag, Price: money("6.15"), Per: PerBag},
		},
		Deliveries: []Delivery{
			{Name: "gravel truck", Price: money("60"), Items: []string{ItemBase, ItemFill, ItemTopping}, Load: money("2"), Per: PerYd3},
			{Name: "timber", Price: money("35"), Items: []string{ItemBoard}, Untaxed: true},
			{Name: "crane", Price: money("400"), Items: []string{ItemDrainPipe}},
		},
		Markup: money("0.15"),
		Labour: []Labour{{Hours: money("12.5"), Rate: money("48")}, {Name: "helper", Hours: money("6"), Unpriced: true}}, LabourMarkup: money("0.10"),
	}
	bill, err := MakeBill(off, plan, list)
	if err != nil {
		t.Fatal(err)
	}
	want := []struct{ item, buy, per, cost string }{
		{ItemBoard, "3", PerEach, "97.50"}, {ItemBoard, "1", PerEach, "0"}, {ItemBase, "2.5", PerYd3, "95"}, {ItemTopping, "1", PerYd3, "44"},
		{ItemConcreteBag, "7", PerBag, "43.05"}, {ItemPin, "13", PerEach, "0"},
		{ItemDelivery, "3", PerEach, "180"}, {ItemDelivery, "1", PerEach, "35"}, {ItemMarkup, "15", PerPercent, "74.18"},
		{ItemLabour, "12.5", PerHour, "600"}, {ItemLabour, "6", PerHour, "0"}, {ItemLabourMarkup, "10", PerPercent, "60"},
	}
	if len(bill.Lines) != len(want) {
		t.Fatalf("%+v", bill.Lines)
	}
	for i, w := range want {
		if l := bill.Lines[i]; l.Item != w.item || !l.Buy.Equal(money(w.buy)) || l.Per != w.per || !l.Cost.Equal(money(w.cost)) {
			t.Errorf("line %d: %+v, want %+v", i, l, w)
		}
	}
	for name, c := range map[string]struct {
		got  decimal.Decimal
		want string
	}{
		"goods": {bill.Goods, "279.55"}, "deliveries": {bill.Deliveries, "215"}, "mark-ups": {bill.Markups, "134.18"}, "labour": {bill.Labour, "600"},
		"subtotal": {bill.Subtotal, "1228.73"}, "taxed": {bill.Taxed, "533.73"}, "tax": {bill.Tax, "44.03"}, "total": {bill.Total, "1272.76"},
	} {
		if !c.got.Equal(money(c.want)) {
			t.Errorf("%s: %v, want %s", name, c.got, c.want)
		}
	}
	if strings.Join(bill.Unpriced, " ") != "pin helper" || len(bill.Notes) != 1 || !strings.Contains(bill.Notes[0].Says, "crane, deliveries[2]") {
		t.Errorf("unpriced %v, notes %v", bill.Unpriced, bill.Notes)
	}
	if !strings.Contains(bill.Lines[8].Note, "without a price") || !strings.Contains(bill.Lines[11].Note, "without a price") {
		t.Errorf("the mark-ups do not say that prices are missing: %q, %q", bill.Lines[8].Note, bill.Lines[11].Note)
	}

	// With labour taxed: 533.73 + 660 = 1193.73, 8.25 % is 98.482725.
	list.TaxLabour = true
	if bill, _ = MakeBill(off, plan, list); !bill.Tax.Equal(money("98.48")) {
		t.Errorf("tax with labour %v", bill.Tax)
	}
	// Loads by mass: base 2950 kg × 2.5/2.2 is 3352.3 kg, topping 400 × 1/0.3 is
	// 1333.3 kg; at 1.3 t a load 3 and 2.
	list.Deliveries[0].Load, list.Deliveries[0].Per = money("1.3"), PerTonne
	if bill, _ = MakeBill(off, plan, list); !bill.Lines[6].Buy.Equal(money("5")) {
		t.Errorf("%v loads by mass, want 5", bill.Lines[6].Buy)
	}
	// What has no such measure is said.
	list.Deliveries[0].Items = append(list.Deliveries[0].Items, ItemPin)
	if bill, _ = MakeBill(off, plan, list); !bill.Lines[6].Buy.Equal(money("6")) || !strings.Contains(bill.Lines[6].Note, "pin is not measured in t") {
		t.Errorf("%+v", bill.Lines[6])
	}
}

// The three roundings told apart by 1.005, 1.015 and 1.011.
func TestRounding(t *testing.T) {
	for _, c := range []struct {
		r    Rounding
		want []string
	}{
		{RoundHalfUp, []string{"1.01", "1.02", "1.01"}},
		{RoundHalfEven, []string{"1.00", "1.02", "1.01"}},
		{RoundUp, []string{"1.01", "1.02", "1.02"}},
	} {
		for i, price := range []string{"1.005", "1.015", "1.011"} {
			bill, err := MakeBill(Takeoff{Items: []Item{{ID: ItemPin, Need: Quantity{Count: 1}, Order: Quantity{Count: 1}}}}, CutPlan{},
				PriceList{Currency: "USD", Rounding: c.r, Items: []Price{{Item: ItemPin, Price: money(price), Per: PerEach}}})
			if err != nil || !bill.Total.Equal(money(c.want[i])) || bill.Rounding == "" {
				t.Errorf("%q of %s: %v (%v), want %s; %q", c.r, price, bill.Total, err, c.want[i], bill.Rounding)
			}
		}
	}
}

func TestCompareBills(t *testing.T) {
	board := func(length float64, count int64, cost string, priced bool) Line {
		return Line{Item: ItemBoard, Section: "6x6", Length: in(length), Name: "6x6", Buy: decimal.NewFromInt(count), Cost: money(cost), Priced: priced}
	}
	a := Bill{Currency: "USD", Lines: []Line{
		board(96, 3, "90", true), board(120, 1, "41", true),
		{Item: ItemBase, Cost: money("76"), Priced: true}, {Item: ItemPin, Name: "pin", Cost: money("30"), Priced: true},
		{Item: ItemDelivery, Name: "truck", Cost: money("60"), Priced: true},
	}, Goods: money("237"), Deliveries: money("60"), Tax: money("3"), Total: money("300")}
	b := Bill{Currency: "USD", Lines: []Line{
		board(96, 5, "150", true),
		{Item: ItemBase, Cost: money("57"), Priced: true}, {Item: ItemPin, Name: "pin"},
		{Item: ItemFabric, Cost: money("12"), Priced: true},
		{Item: ItemDelivery, Name: "van", Cost: money("20"), Priced: true},
	}, Goods: money("219"), Deliveries: money("20"), Tax: money("2"), Total: money("241")}
	c, err := CompareBills(a, b)
	if err != nil {
		t.Fatal(err)
	}
	// Without the pins, which only a prices: 241 − (300 − 30) = −29.
	if !c.More.Equal(money("-29")) || !c.Goods.Equal(money("12")) || !c.Deliveries.Equal(money("-40")) || !c.Tax.Equal(money("-1")) {
		t.Errorf("%+v", c)
	}
	if len(c.Open) != 1 || c.Open[0] != "pin" {
		t.Errorf("open %v", c.Open)
	}
	want := []struct {
		item     string
		inA, inB bool
		more     string
	}{
		{ItemBoard, true, true, "60"}, {ItemBoard, true, false, "-41"}, {ItemBase, true, true, "-19"}, {ItemPin, true, true, "0"},
		{ItemDelivery, true, false, "-60"}, {ItemFabric, false, true, "12"}, {ItemDelivery, false, true, "20"},
	}
	if len(c.Lines) != len(want) {
		t.Fatalf("%+v", c.Lines)
	}
	sum := c.Tax
	for i, w := range want {
		l := c.Lines[i]
		if l.Item != w.item || l.InA != w.inA || l.InB != w.inB || !l.More.Equal(money(w.more)) || l.Open != (w.item == ItemPin) {
			t.Errorf("line %d: %+v, want %+v", i, l, w)
		}
		sum = sum.Add(l.More)
	}
	if !sum.Equal(c.More) {
		t.Errorf("the lines come to %v, the whole is %v", sum, c.More)
	}
	// The tax on the pins is left out with them: 8 % of 25.01 − (67.5 − 30) is 2.01 − 3,
	// up to the coin where that is how the bill was rounded.
	a.taxRate, a.Taxed, a.Tax = money("0.08"), money("67.5"), money("5.4")
	b.taxRate, b.Taxed, b.Tax, b.taxedBy = money("0.08"), money("25.01"), money("2.01"), RoundUp
	a.Total, b.Total = money("302.4"), money("241.01")
	if c, err = CompareBills(a, b); err != nil || !c.Tax.Equal(money("-0.99")) || !c.More.Equal(money("-28.99")) {
		t.Errorf("tax %v, in all %v more, %v", c.Tax, c.More, err)
	}
	a.Lines[3].Untaxed = true
	if c, err = CompareBills(a, b); err != nil || !c.Tax.Equal(money("-3.39")) {
		t.Errorf("tax %v more, %v: what carries none leaves none out", c.Tax, err)
	}
	// And the mark-up on them, with its tax: a's 10 % of 297 is 29.7, of 267 without the
	// pins 26.7; b's 20 % of 239 is 47.8.
	a.Lines[3].Untaxed = false
	percent := func(n int64, on string, untaxed bool) Line {
		l := Line{Item: ItemMarkup, Buy: decimal.NewFromInt(n), Per: PerPercent, Price: money(on).Shift(-2), Priced: true, Untaxed: untaxed}
		l.Cost = l.Buy.Mul(l.Price)
		return l
	}
	for _, x := range []struct {
		untaxed bool
		tax     string // 8 % of 25.01 + 47.8 up to the coin, less 8 % of 67.5 + 29.7 − 30 − 3; without the mark-ups as above
	}{{false, "0.69"}, {true, "-0.99"}} {
		p, q := a, b
		p.Lines, q.Lines = append(slices.Clone(a.Lines), percent(10, "297", x.untaxed)), append(slices.Clone(b.Lines), percent(20, "239", x.untaxed))
		p.Markups, q.Markups = money("29.7"), money("47.8")
		if !x.untaxed {
			p.Taxed, q.Taxed = p.Taxed.Add(p.Markups), q.Taxed.Add(q.Markups)
		}
		p.Tax, q.Tax = p.taxWithout(money("0")), q.taxWithout(money("0"))
		p.Total, q.Total = money("297").Add(p.Markups).Add(p.Tax), money("239").Add(q.Markups).Add(q.Tax)
		c, err := CompareBills(p, q)
		if err != nil || !c.Markups.Equal(money("21.1")) || !c.Tax.Equal(money(x.tax)) || !c.More.Equal(money("-28").Add(money("21.1")).Add(money(x.tax))) {
			t.Errorf("mark-up %v, tax %v, in all %v more, %v, want 21.1 and %s", c.Markups, c.Tax, c.More, err, x.tax)
		}
		sum := c.Tax
		for _, l := range c.Lines {
			sum = sum.Add(l.More)
		}
		if !sum.Equal(c.More) || !c.Goods.Add(c.Deliveries).Add(c.Markups).Add(c.Labour).Add(c.Tax).Equal(c.More) {
			t.Errorf("the lines come to %v, the whole is %v", sum, c.More)
		}
	}
	b.Currency = "EUR"
	_, err = CompareBills(a, b)
	wantFault(t, err, "currency")
}
