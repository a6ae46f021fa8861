// Command plan prints the plan of a hillside as a person would want to read it:
// the answer first, then the earth, the stake-out table, what to buy, and what
// to mind.
//
//	go run ./examples/plan testdata/plans/bench.json
//	go run ./examples/plan -json < my-plan.json
//	go run ./examples/plan -section section.svg my-plan.json
//	go run ./examples/plan -prices yard.csv -compare other.json my-plan.json
//	go run ./examples/plan -table bill my-plan.json > bill.csv
//
// Prices of the list take the place of the plan's; -table prices writes such a list:
// what the plan has prices of, and a line to fill in for everything that has none yet.
//
// Without a file, or with -, it reads standard input. It exits with 2 when the command
// line, the document or the price list will not do, every fault listed on standard error,
// and with 1 when a file cannot be read or written.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/slopewright/slopewright"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

func run(args []string, in io.Reader, out, complaints io.Writer) int {
	flags := flag.NewFlagSet("plan", flag.ContinueOnError)
	flags.SetOutput(complaints)
	asJSON := flags.Bool("json", false, "print the result document instead of text")
	choices := flags.Bool("choices", false, "also give the layouts to choose between, which takes some twenty fits")
	section := flags.String("section", "", "also write the long section to `FILE.svg`, 1200 pixels wide")
	prices := flags.String("prices", "", "take the prices in `FILE.csv`, comma-separated values with a heading, in place of the plan's of the same items: item,price,per for goods, section,length,price for timber; not those of the plan to compare with")
	other := flags.String("compare", "", "also set the bill of the plan in `FILE.json` beside this one's")
	tableName := flags.String("table", "", "print the table `NAME` instead, as comma-separated values: "+strings.Join(slopewright.TableNames(), ", ")+"; prices is what the plan has prices of and, without one, what has yet to be priced: a list to fill in for -prices")
	flags.Usage = func() {
		fmt.Fprintln(complaints, "usage: plan [-json] [-choices] [-section FILE.svg] [-prices FILE.csv] [-compare FILE.json] [-table NAME] [FILE.json | -]")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	if wrong := misused(flags, *tableName); wrong != "" {
		fmt.Fprintln(complaints, wrong)
		return 2
	}
	data, err := read(flags.Arg(0), in)
	if err != nil {
		fmt.Fprintln(complaints, err)
		return 1
	}
	plan, err := slopewright.ReadPlan(data)
	if err != nil {
		return complain(complaints, "This plan", slopewright.InOrder(data, err))
	}
	if *prices != "" {
		list, err := os.ReadFile(*prices)
		if err != nil {
			fmt.Fprintln(complaints, err)
			return 1
		}
		prices, err := slopewright.ReadPriceTable(list)
		if err != nil {
			return complain(complaints, "This price list", err)
		}
		plan.Take(prices)
	}
	if *tableName != "" {
		tables, err := slopewright.Tables(plan, *tableName)
		if err != nil {
			return complain(complaints, "This plan", slopewright.InOrder(data, err))
		}
		if _, err := io.WriteString(out, tables[*tableName]); err != nil {
			fmt.Fprintln(complaints, err)
			return 1
		}
		return 0
	}
	result, err := slopewright.Make(plan)
	if err == nil && *choices {
		result.Choices, err = slopewright.Choices(plan)
	}
	if err == nil && *other != "" {
		data, readErr := os.ReadFile(*other)
		if readErr != nil {
			fmt.Fprintln(complaints, readErr)
			return 1
		}
		otherPlan, readErr := slopewright.ReadPlan(data)
		if readErr != nil {
			return complain(complaints, *other, slopewright.InOrder(data, readErr))
		}
		var c slopewright.ComparisonResult
		if c, err = slopewright.Compare(plan, otherPlan); err == nil {
			result.Comparison = &c
		} else if err := theOthers(err); err != nil {
			return complain(complaints, *other, slopewright.InOrder(data, err))
		}
	}
	if err != nil {
		return complain(complaints, "This plan", slopewright.InOrder(data, err))
	}
	if *section != "" {
		svg := result.Draw(slopewright.Drawing{Name: "section", Width: 1200})
		if err := os.WriteFile(*section, []byte(svg), 0o644); err != nil {
			fmt.Fprintln(complaints, err)
			return 1
		}
	}
	if *asJSON {
		data, err := result.Bytes()
		if err == nil {
			_, err = out.Write(data)
		}
		if err != nil {
			fmt.Fprintln(complaints, err)
			return 1
		}
		return 0
	}
	var held []string
	if !*choices { // which tell it themselves
		held = slopewright.HeldBack(plan)
	}
	if _, err := io.WriteString(out, sheet(result, held...)); err != nil {
		fmt.Fprintln(complaints, err)
		return 1
	}
	return 0
}

// misused says what is wrong with the command line and what would do, or nothing.
func misused(flags *flag.FlagSet, table string) string {
	var wrong []string
	if flags.NArg() > 1 {
		if next := flags.Arg(1); strings.HasPrefix(next, "-") && next != "-" {
			wrong = append(wrong, next+": stands after the file; write options before it")
		} else {
			wrong = append(wrong, fmt.Sprintf("%s: is a second file; give one plan, or set two side by side with -compare %[1]s %s", next, flags.Arg(0)))
		}
	}
	if table != "" {
		if !slices.Contains(slopewright.TableNames(), table) {
			wrong = append(wrong, fmt.Sprintf("-table: %q is not a table; write one of %s", table, strings.Join(slopewright.TableNames(), ", ")))
		}
		flags.Visit(func(f *flag.Flag) {
			switch f.Name {
			case "json", "choices", "section", "compare":
				if f.Value.String() != f.DefValue {
					wrong = append(wrong, "-"+f.Name+": does not go with -table, which prints that table alone; leave out one of them")
				}
			}
		})
	}
	return strings.Join(wrong, "\n")
}

func read(name string, in io.Reader) ([]byte, error) {
	if name == "" || name == "-" {
		return io.ReadAll(in)
	}
	return os.ReadFile(name)
}

// theOthers gives the faults of the plan compared with the fields of its own document;
// nil where they are none of it.
func theOthers(err error) error {
	var all, its slopewright.Faults
	errors.As(err, &all)
	for _, f := range all {
		if rest, ok := strings.CutPrefix(f.Field, "compare."); ok {
			f.Field = rest
			its = append(its, f)
		}
	}
	return its.Err()
}

// complain lists every fault of a document.
func complain(w io.Writer, what string, err error) int {
	var faults slopewright.Faults
	if errors.As(err, &faults) {
		noun := "faults"
		if len(faults) == 1 {
			noun = "fault"
		}
		fmt.Fprintf(w, "%s has %d %s:\n", what, len(faults), noun)
		for _, f := range faults {
			fmt.Fprintln(w, "  "+f.Error())
		}
		return 2
	}
	fmt.Fprintln(w, err)
	return 2
}
