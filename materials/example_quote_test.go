package materials_test

import (
	"fmt"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/materials"
)

// A price list from a table, a contractor's quote, and the same with gravel in
// bags. The prices are invented.
func ExampleCompareBills() {
	bulk, err := materials.ReadPrices([]byte("item,price,per,pack,least\nbase-gravel,38.00,yd3,0.5,1\npin,2.79,each,,\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	bags, err := materials.ReadPrices([]byte("item;price;per;holds;holds_per\nbase-gravel;4,85;bag;0,5;ft3\npin;2,79;each\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	off := materials.Takeoff{Items: []materials.Item{
		{ID: materials.ItemBase, Need: materials.Quantity{Volume: 0.3 * unit.CubicMeter}, Order: materials.Quantity{Volume: 0.4 * unit.CubicMeter}},
		{ID: materials.ItemPin, Need: materials.Quantity{Count: 18}, Order: materials.Quantity{Count: 19}},
	}}
	money := decimal.RequireFromString
	list := materials.PriceList{Currency: "USD", Tax: money("0.08"), Items: bulk,
		Deliveries: []materials.Delivery{{Name: "tip truck", Price: money("65"), Items: []string{materials.ItemBase}}},
		Markup:     money("0.15"),
		Labour:     []materials.Labour{{Hours: money("6.5"), Rate: money("48")}},
	}
	a, err := materials.MakeBill(off, materials.CutPlan{}, list)
	if err != nil {
		fmt.Println(err)
		return
	}
	list.Items, list.Deliveries = bags, nil
	b, err := materials.MakeBill(off, materials.CutPlan{}, list)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range a.Lines {
		fmt.Println(l.Name, l.Buy, l.Per, l.Cost.StringFixed(2))
	}
	fmt.Println("tax", a.Tax.StringFixed(2), "total", a.Total.StringFixed(2))
	c, err := materials.CompareBills(a, b)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("in bags", c.More.StringFixed(2), "more: goods", c.Goods.StringFixed(2), "deliveries", c.Deliveries.StringFixed(2))
	// Output:
	// base-gravel 1 yd3 38.00
	// pin 19 each 53.01
	// tip truck 1 each 65.00
	// mark-up on goods and deliveries 15 % 23.40
	// labour 6.5 h 312.00
	// tax 14.35 total 505.76
	// in bags 46.77 more: goods 102.65 deliveries -65.00
}

// Posts keep the board's own end; what is worth keeping is listed.
func ExampleCut_factoryEnds() {
	plan, err := materials.Cut(
		[]materials.Piece{{Section: "4x4", Length: 40 * unit.Inch, Count: 2, Use: "guard-post"}, {Section: "4x4", Length: 30 * unit.Inch, Count: 1, Use: "rail"}},
		[]materials.Stock{{Section: "4x4", Length: 10 * unit.Foot, Price: decimal.NewFromInt(20)}},
		materials.CutOptions{Kerf: unit.Inch / 8, KeepFrom: 6 * unit.Inch, FactoryEnds: []materials.FactoryEnds{{Use: "guard-post", Ends: 1}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range plan.Boards[0].Pieces {
		fmt.Println(p.Use, p.FactoryEnds)
	}
	fmt.Printf("kept: %d of %g in, patterns %d, fewest proven: %v\n", plan.Kept[0].Count, plan.Kept[0].Length.Inches(), plan.Groups[0].Patterns, plan.Groups[0].FewestPatterns)
	// Output:
	// guard-post 1
	// rail 0
	// guard-post 1
	// kept: 1 of 9.625 in, patterns 1, fewest proven: true
}
