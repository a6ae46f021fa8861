// Command library is what README shows of the library, to be run: the
// whole plan from a document, and one package by itself. The lengths and prices
// are invented.
//
//	go run ./examples/library testdata/plans/first.json
package main

import (
	"fmt"
	"io"
	"os"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright"
	"github.com/slopewright/slopewright/materials"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func run(args []string) error {
	if len(args) > 0 {
		document, err := os.ReadFile(args[0])
		if err != nil {
			return err
		}
		if err := whole(document); err != nil {
			return err
		}
	} else if document, err := io.ReadAll(os.Stdin); err != nil {
		return err
	} else if err := whole(document); err != nil {
		return err
	}
	return timber()
}

// whole makes a plan from its document.
func whole(document []byte) error {
	plan, err := slopewright.ReadPlan(document)
	if err != nil {
		return err // a slopewright.Faults: every field that will not do
	}
	result, err := slopewright.Make(plan)
	if err != nil {
		return err
	}
	fmt.Printf("%d risers of %s, %s to dig\n",
		result.Layout.Risers, result.Length(result.Layout.Riser), result.Volume(result.Dig.CutBank))
	return nil
}

// timber buys and cuts pieces that the program knows already.
func timber() error {
	plan, err := materials.Cut(
		[]materials.Piece{
			{Section: "6x6", Length: 4 * unit.Foot, Count: 9, Use: "riser"},
			{Section: "6x6", Length: 31.5 * unit.Inch, Count: 14, Use: "side"},
		},
		[]materials.Stock{
			{Section: "6x6", Length: 8 * unit.Foot, Price: decimal.RequireFromString("34.98")},
			{Section: "6x6", Length: 12 * unit.Foot, Price: decimal.RequireFromString("54.75")},
		},
		materials.CutOptions{Kerf: unit.Inch / 8},
	)
	if err != nil {
		return err
	}
	for _, b := range plan.Boards {
		fmt.Printf("%d of %.0f ft: %d pieces, %.1f in left\n", b.Count, b.Stock.Feet(), len(b.Pieces), b.Offcut.Inches())
	}
	fmt.Println("cost", plan.Cost, "proven", plan.Proven)
	return nil
}
