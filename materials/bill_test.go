package materials

import (
	"errors"
	"fmt"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
)

func TestMakeBill(t *testing.T) {
	off := Takeoff{Items: []Item{
		{ID: ItemRiserTimber, Section: "6x6", Need: Quantity{Count: 3}, Order: Quantity{Count: 3}},
		{ID: ItemPin, Section: "no4-bar", Need: Quantity{Count: 12}, Order: Quantity{Count: 13}},
		{ID: ItemScrew, Need: Quantity{Count: 20}, Order: Quantity{Count: 21}},
		{ID: ItemBase, Need: Quantity{Volume: 1 * unit.CubicYard, Mass: 3700 * unit.AvoirdupoisPound},
			Order: Quantity{Volume: 1.38 * unit.CubicYard, Mass: 4070 * unit.AvoirdupoisPound}},
		{ID: ItemFill, Need: Quantity{Volume: 0.1 * unit.CubicMeter}, Order: Quantity{Volume: 0.13 * unit.CubicMeter}},
		{ID: ItemFabric, Need: Quantity{Area: 10 * unit.SquareMeter}, Order: Quantity{Area: 10.5 * unit.SquareMeter}},
	}}
	plan := CutPlan{Boards: []Board{
		{Section: "6x6", Stock: in(96), Price: money("32.50"), Count: 2},
		{Section: "6x6", Stock: in(120), Price: money("41.255"), Count: 1},
		{Section: "6x6", Stock: in(96), Price: money("32.50"), Count: 1},
	}}
	list := PriceList{Currency: "USD", Tax: money("0.0825"), Items: []Price{
		{Item: ItemScrew, Price: money("0.89"), Per: PerEach, Pack: money("12")},
		{Item: ItemBase, Price: money("38.00"), Per: PerYd3, Pack: money("0.5")},
		{Item: ItemFill, Price: money("4.25"), Per: PerBag, Holds: money("0.5"), HoldsPer: PerFt3},
		{Item: ItemPin, Price: money("3.19"), Per: PerEach},
	}}
	bill, err := MakeBill(off, plan, list)
	if err != nil {
		t.Fatal(err)
	}
	want := []struct{ item, need, order, buy, cost string }{
		{ItemBoard, "3", "3", "3", "97.50"},
		{ItemBoard, "1", "1", "1", "41.26"}, // 41.255, half up
		{ItemPin, "12", "13", "13", "41.47"},
		{ItemScrew, "20", "21", "24", "21.36"},
		{ItemBase, "1", "1.38", "1.5", "57.00"},
		{ItemFill, "7.063", "9.182", "10", "42.50"}, // 0.13 m³ is 4.591 ft³
		{ItemFabric, "10", "10.5", "10.5", "0"},
	}
	if len(bill.Lines) != len(want) {
		t.Fatalf("%+v", bill.Lines)
	}
	for i, w := range want {
		l := bill.Lines[i]
		if l.Item != w.item || !l.Need.Equal(money(w.need)) || !l.Order.Equal(money(w.order)) || !l.Buy.Equal(money(w.buy)) || !l.Cost.Equal(money(w.cost)) {
			t.Errorf("line %d: %+v, want %+v", i, l, w)
		}
	}
	// 97.50 + 41.26 + 41.47 + 21.36 + 57.00 + 42.50 = 301.09; 8.25 % of it is
	// 24.839925.
	if !bill.Subtotal.Equal(money("301.09")) || !bill.Tax.Equal(money("24.84")) || !bill.Total.Equal(money("325.93")) {
		t.Errorf("subtotal %v, tax %v, total %v", bill.Subtotal, bill.Tax, bill.Total)
	}
	if len(bill.Unpriced) != 1 || bill.Unpriced[0] != ItemFabric || bill.Lines[6].Priced {
		t.Errorf("unpriced %v", bill.Unpriced)
	}
}

// A measure that an item has none of leaves the line unpriced and says so.
func TestMakeBillWrongMeasure(t *testing.T) {
	off := Takeoff{Items: []Item{{ID: ItemFabric, Need: Quantity{Area: 10}, Order: Quantity{Area: 10}}}}
	bill, err := MakeBill(off, CutPlan{}, PriceList{Items: []Price{{Item: ItemFabric, Price: money("3"), Per: PerTonne}}})
	if err != nil || bill.Lines[0].Priced || bill.Lines[0].Note == "" || bill.Lines[0].Per != PerM2 || len(bill.Unpriced) != 1 || !bill.Total.IsZero() {
		t.Errorf("%+v %v", bill, err)
	}
}

// Totals equal the same sums in whole numbers, to the coin.
func TestMakeBillExact(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	half := func(x, unit *big.Int) *big.Int { // x / unit rounded half up
		q := new(big.Int).Add(new(big.Int).Mul(x, big.NewInt(2)), unit)
		return q.Div(q, new(big.Int).Mul(unit, big.NewInt(2)))
	}
	for n := 0; n < 300; n++ {
		digits, currency := int64(2), "EUR"
		switch r.IntN(3) {
		case 0:
			digits, currency = 0, "JPY"
		case 1:
			digits, currency = 3, "KWD"
		}
		coins := new(big.Int).Exp(big.NewInt(10), big.NewInt(4-digits), nil) // prices have four decimals
		sum := new(big.Int)
		var off Takeoff
		var plan CutPlan
		bought := map[string]int64{}
		list := PriceList{Currency: currency, Tax: decimal.New(r.Int64N(3000), -4)}
		for i, id := range []string{"a", "b", "c", "d", "e"} {
			price := r.Int64N(1_000_000_0000)
			if r.IntN(2) == 0 {
				count := 1 + r.IntN(5000)
				plan.Boards = append(plan.Boards, Board{Section: id, Stock: in(float64(90 + i)), Price: decimal.New(price, -4), Count: count})
				sum.Add(sum, half(new(big.Int).Mul(big.NewInt(price), big.NewInt(int64(count))), coins))
				continue
			}
			count, pack := 1+r.IntN(5000), 1+r.IntN(60)
			off.Items = append(off.Items, Item{ID: id, Need: Quantity{Count: count}, Order: Quantity{Count: count}})
			list.Items = append(list.Items, Price{Item: id, Price: decimal.New(price, -4), Per: PerEach, Pack: decimal.NewFromInt(int64(pack))})
			least := 0
			if r.IntN(3) == 0 {
				least = 1 + r.IntN(3000)
				list.Items[len(list.Items)-1].Least = decimal.NewFromInt(int64(least))
			}
			if count < least {
				count = least
			}
			buy := (count + pack - 1) / pack * pack
			sum.Add(sum, half(new(big.Int).Mul(big.NewInt(price), big.NewInt(int64(buy))), coins))
			bought[id] = int64(buy)
		}
		// A contractor's lines: loads of what is counted, hours in quarters,
		// mark-ups in hundredths of a per cent.
		goods := new(big.Int).Set(sum)
		untaxed := new(big.Int)
		for i := 0; i < r.IntN(3); i++ {
			d := Delivery{Name: fmt.Sprint("trip ", i), Price: decimal.New(r.Int64N(500_0000), -4), Untaxed: r.IntN(2) == 0}
			trips := int64(1)
			if len(bought) > 0 && r.IntN(2) == 0 {
				load := 1 + r.Int64N(900)
				d.Load, d.Per = decimal.NewFromInt(load), PerEach
				trips = 0
				for _, id := range []string{"a", "b", "c", "d", "e"} {
					if n := bought[id]; n > 0 {
						d.Items = append(d.Items, id)
						trips += (n + load - 1) / load
					}
				}
			}
			list.Deliveries = append(list.Deliveries, d)
			cost := half(new(big.Int).Mul(d.Price.Shift(4).BigInt(), big.NewInt(trips)), coins)
			sum.Add(sum, cost)
			if d.Untaxed {
				untaxed.Add(untaxed, cost)
			}
		}
		list.Markup = decimal.New(r.Int64N(5000)*r.Int64N(2), -4)
		markup := half(new(big.Int).Mul(sum, list.Markup.Shift(4).BigInt()), big.NewInt(10000))
		sum.Add(sum, markup)
		list.TaxLabour = r.IntN(2) == 0
		labour := new(big.Int)
		for i := 0; i < r.IntN(3); i++ {
			quarters, rate := r.Int64N(400), r.Int64N(90_0000)
			list.Labour = append(list.Labour, Labour{Name: fmt.Sprint(i), Hours: decimal.New(quarters*25, -2), Rate: decimal.New(rate, -4)})
			labour.Add(labour, half(new(big.Int).Mul(big.NewInt(quarters), big.NewInt(rate)), new(big.Int).Mul(coins, big.NewInt(4))))
		}
		list.LabourMarkup = decimal.New(r.Int64N(5000)*r.Int64N(2), -4)
		labour.Add(labour, half(new(big.Int).Mul(labour, list.LabourMarkup.Shift(4).BigInt()), big.NewInt(10000)))
		sum.Add(sum, labour)
		if !list.TaxLabour {
			untaxed.Add(untaxed, labour)
		}
		bill, err := MakeBill(off, plan, list)
		if err != nil {
			t.Fatal(err)
		}
		tax := half(new(big.Int).Mul(new(big.Int).Sub(sum, untaxed), list.Tax.Shift(4).BigInt()), big.NewInt(10000))
		total := new(big.Int).Add(sum, tax)
		if bill.Goods.Shift(int32(digits)).BigInt().Cmp(goods) != 0 || bill.Tax.Shift(int32(digits)).BigInt().Cmp(tax) != 0 {
			t.Errorf("case %d: goods %v, tax %v, want %v and %v in whole coins", n, bill.Goods, bill.Tax, goods, tax)
		}
		if parts := bill.Goods.Add(bill.Deliveries).Add(bill.Markups).Add(bill.Labour); !parts.Equal(bill.Subtotal) {
			t.Errorf("case %d: the parts come to %v, the subtotal is %v", n, parts, bill.Subtotal)
		}
		for _, l := range bill.Lines {
			if !l.Cost.Equal(l.Buy.Mul(l.Price).Round(int32(digits))) {
				t.Errorf("case %d: %+v costs not what it buys", n, l)
			}
		}
		if got := bill.Total.Shift(int32(digits)); !got.IsInteger() || got.BigInt().Cmp(total) != 0 {
			t.Errorf("case %d: total %v %s, in whole coins %v", n, bill.Total, currency, total)
		}
	}
}

func TestMakeBillFaults(t *testing.T) {
	for _, c := range []struct {
		field string
		list  PriceList
	}{
		{"currency", PriceList{Currency: "dollars"}},
		{"tax", PriceList{Tax: money("8")}},
		{"tax", PriceList{Tax: decimal.New(1, -2_000_000_000)}},
		{"items[0].price", PriceList{Items: []Price{{Item: "pin", Price: money("-1"), Per: PerEach}}}},
		{"items[0].per", PriceList{Items: []Price{{Item: "pin", Per: "furlong"}}}},
		{"items[1].item", PriceList{Items: []Price{{Item: "pin", Per: PerEach}, {Item: "pin", Per: PerEach}}}},
		{"items[0].pack", PriceList{Items: []Price{{Item: "pin", Per: PerEach, Pack: money("-1")}}}},
		{"items[0].pack", PriceList{Items: []Price{{Item: "pin", Per: PerEach, Pack: decimal.New(1, 2_000_000_000)}}}},
		{"items[0].least", PriceList{Items: []Price{{Item: "pin", Per: PerEach, Least: money("-1")}}}},
		{"markup", PriceList{Markup: money("15")}},
		{"labour_markup", PriceList{LabourMarkup: decimal.New(1, -2_000_000_000)}},
		{"rounding", PriceList{Rounding: "down"}},
		{"deliveries", PriceList{Deliveries: make([]Delivery, MaxCharges+1)}},
		{"labour", PriceList{Labour: make([]Labour, MaxCharges+1)}},
		{"deliveries[0].price", PriceList{Deliveries: []Delivery{{Price: money("-4")}}}},
		{"deliveries[0].items[0]", PriceList{Deliveries: []Delivery{{Items: []string{""}}}}},
		{"deliveries[0].load", PriceList{Deliveries: []Delivery{{Load: money("-4"), Per: PerYd3}}}},
		{"deliveries[0].per", PriceList{Deliveries: []Delivery{{Load: money("4"), Per: PerBag}}}},
		{"labour[0].hours", PriceList{Labour: []Labour{{Hours: money("-4")}}}},
		{"labour[0].rate", PriceList{Labour: []Labour{{Rate: money("1.00001")}}}},
		{"items[0].holds_per", PriceList{Items: []Price{{Item: "fill-gravel", Per: PerBag, Holds: money("1")}}}},
		{"items[0].holds", PriceList{Items: []Price{{Item: "fill-gravel", Per: PerBag, HoldsPer: PerLitre}}}},
	} {
		_, err := MakeBill(Takeoff{}, CutPlan{}, c.list)
		var faults Faults
		if !errors.As(err, &faults) || faults[0].Field != c.field {
			t.Errorf("%+v: %v, want a fault in %s", c.list, err, c.field)
		}
	}
}

// An item without a price is billed by the measure that it has.
func TestMakeBillNaturalMeasure(t *testing.T) {
	edging, err := Edging{Runs: []unit.Length{3, 2.5}}.Items()
	if err != nil {
		t.Fatal(err)
	}
	strips, err := Edging{Runs: []unit.Length{3, 2.5}, Piece: 2}.Items()
	if err != nil {
		t.Fatal(err)
	}
	drain, _, err := DefaultDrain(10, 1).Items()
	if err != nil {
		t.Fatal(err)
	}
	lights, _, err := DefaultLights([]unit.Length{3, 6}, 5*unit.Watt).Items()
	if err != nil {
		t.Fatal(err)
	}
	off := Takeoff{Items: append(append(append(edging, strips...), drain...), lights...)}
	off.Items = append(off.Items, Item{ID: "ballast", Need: Quantity{Mass: 20 * unit.Kilogram}, Order: Quantity{Mass: 22 * unit.Kilogram}})
	bill, err := MakeBill(off, CutPlan{}, PriceList{})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][]string{
		ItemEdging: {PerMetre, PerEach}, ItemDrainPipe: {PerMetre}, ItemDrainStone: {PerM3}, ItemFabric: {PerM2}, ItemDrainFitting: {PerEach},
		ItemLightCable: {PerMetre}, "ballast": {PerKg},
	}
	seen := map[string]int{}
	for _, l := range bill.Lines {
		if w := want[l.Item]; w != nil {
			if l.Per != w[seen[l.Item]] || !l.Need.IsPositive() || l.Buy.LessThan(l.Need) {
				t.Errorf("%+v, want it per %s", l, w[seen[l.Item]])
			}
			seen[l.Item]++
		}
		if !l.Need.IsPositive() {
			t.Errorf("nothing is needed of %+v", l)
		}
	}
	if len(seen) != len(want) || seen[ItemEdging] != 2 {
		t.Errorf("only %v", seen)
	}
}
