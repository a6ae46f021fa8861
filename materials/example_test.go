package materials_test

import (
	"fmt"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/materials"
)

// From boxes to a bill. The prices are invented.
func Example() {
	detail := materials.DefaultBoxDetail()
	off, err := materials.TakeOff([]materials.Box{
		{Number: 1, Riser: 6 * unit.Inch, Tread: 40 * unit.Inch, Width: 4 * unit.Foot},
		{Number: 2, Riser: 6 * unit.Inch, Tread: 40 * unit.Inch, Width: 4 * unit.Foot},
		{Number: 3, Riser: 6 * unit.Inch, Width: 4 * unit.Foot},
	}, detail)
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := materials.Cut(off.Pieces, []materials.Stock{
		{Section: "6x6", Length: 8 * unit.Foot, Price: decimal.RequireFromString("31.80")},
		{Section: "6x6", Length: 10 * unit.Foot, Price: decimal.RequireFromString("41.25")},
		{Section: "6x6", Length: 12 * unit.Foot, Price: decimal.RequireFromString("52.40")},
	}, materials.CutOptions{Kerf: unit.Inch / 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("timber", plan.Cost.StringFixed(2), "proven:", plan.Proven)
	for _, b := range plan.Boards {
		fmt.Printf("%d × %g ft:", b.Count, b.Stock.Feet())
		for _, p := range b.Pieces {
			fmt.Printf(" %.4g", p.Length.Inches())
		}
		fmt.Printf(", %.4g in left\n", b.Offcut.Inches())
	}
	bill, err := materials.MakeBill(off.Treat(plan), plan, materials.PriceList{Currency: "USD", Items: []materials.Price{
		{Item: materials.ItemBase, Price: decimal.RequireFromString("36"), Per: materials.PerYd3, Pack: decimal.RequireFromString("0.5")},
		{Item: materials.ItemPin, Price: decimal.RequireFromString("2.79"), Per: materials.PerEach},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range bill.Lines {
		if l.Priced {
			fmt.Println(l.Item, "need", l.Need, "buy", l.Buy, l.Per, l.Cost.StringFixed(2))
		}
	}
	fmt.Println("total", bill.Total.StringFixed(2), "without", bill.Unpriced)
	// Output:
	// timber 127.20 proven: true
	// 3 × 8 ft: 48 40, 7.75 in left
	// 1 × 8 ft: 40 24 24, 7.625 in left
	// board need 4 buy 4 each 127.20
	// pin need 18 buy 19 each 53.01
	// base-gravel need 0.388 buy 1 yd3 36.00
	// total 216.21 without [structural-screw fill-gravel topping fabric preservative]
}

// Three pieces take two saw cuts; a third parts the offcut.
func ExampleCut() {
	plan, err := materials.Cut(
		[]materials.Piece{{Section: "6x6", Length: 31.5 * unit.Inch, Count: 3, Use: "riser-timber"}},
		[]materials.Stock{{Section: "6x6", Length: 96 * unit.Inch, Price: decimal.NewFromInt(30)}},
		materials.CutOptions{Kerf: unit.Inch / 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	b := plan.Boards[0]
	fmt.Printf("%d board, %d pieces, %g in left, %s\n", b.Count, len(b.Pieces), b.Offcut.Inches(), plan.Cost)
	// Output: 1 board, 3 pieces, 1.125 in left, 30
}

func ExampleBoxDetail_Courses() {
	d := materials.DefaultBoxDetail()
	for _, riser := range []float64{5.5, 6, 7} {
		n, bedding, buried := d.Courses(unit.Length(riser) * unit.Inch)
		fmt.Printf("%g in: %d of %g in, bedding %.3g in, buried %.3g in\n", riser, n, d.Course().Inches(), bedding.Inches(), buried.Inches())
	}
	// Output:
	// 5.5 in: 1 of 5.5 in, bedding 0 in, buried 0 in
	// 6 in: 1 of 5.5 in, bedding 0.5 in, buried 0 in
	// 7 in: 2 of 5.5 in, bedding 0 in, buried 4 in
}

func ExampleSectionByName() {
	s, _ := materials.SectionByName("6 x 8")
	fmt.Printf("%g × %g in\n", s.Thickness.Inches(), s.Width.Inches())
	// Output: 5.5 × 7.5 in
}
