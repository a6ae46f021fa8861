// Command library is what README shows of the library, to be run: the
// whole plan from a document, and one package by itself, on that plan's pieces.
//
//	go run ./examples/library testdata/plans/first.json
package main

import (
	"fmt"
	"io"
	"os"
	"strings"

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
	read := func() ([]byte, error) { return io.ReadAll(os.Stdin) }
	if len(args) > 0 {
		read = func() ([]byte, error) { return os.ReadFile(args[0]) }
	}
	document, err := read()
	if err != nil {
		return err
	}
	result, err := whole(document)
	if err != nil {
		return err
	}
	return timber(result)
}

// whole makes a plan from its document.
func whole(document []byte) (result slopewright.Result, err error) {
	plan, err := slopewright.ReadPlan(document)
	if err != nil {
		return result, err // a slopewright.Faults: every field that will not do
	}
	result, err = slopewright.Make(plan)
	if err != nil {
		return result, err
	}
	fmt.Printf("%d risers of %s, %s to dig\n",
		result.Layout.Risers, result.Length(result.Layout.Riser), result.Volume(result.Dig.CutBank))
	return result, nil
}

// timber buys and cuts the pieces of a plan from the lengths that its timber is
// usually sold in.
func timber(result slopewright.Result) error {
	var pieces []materials.Piece
	var stock []materials.Stock
	known := map[string]bool{}
	for _, b := range result.CutPlan.Boards {
		for _, p := range b.Pieces {
			pieces = append(pieces, materials.Piece{Section: b.Section, Length: p.Length, Count: b.Count})
		}
		section, err := materials.FramedSectionByName(b.Section)
		if err != nil {
			return err
		}
		for _, s := range materials.UsualStock(section) {
			if !known[b.Section] {
				s.Unpriced, s.Price = false, decimal.NewFromFloat(14.5*s.Length.Meters()).Round(2) // invented: 14.50 a metre
				stock = append(stock, s)
			}
		}
		known[b.Section] = true
	}
	cut, err := materials.Cut(pieces, stock, materials.CutOptions{Kerf: unit.Inch / 8})
	if err != nil {
		return err
	}
	for _, b := range cut.Boards {
		var cuts []string
		for _, p := range b.Pieces {
			cuts = append(cuts, result.Length(p.Length))
		}
		fmt.Printf("%d %s of %s: %s; %s left\n", b.Count, b.Section, result.Length(b.Stock), strings.Join(cuts, " + "), result.Length(b.Offcut))
	}
	fmt.Println("cost", cut.Cost.StringFixed(2), "proven", cut.Proven)
	return nil
}
