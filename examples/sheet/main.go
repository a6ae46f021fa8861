// Command sheet prints the plan of a hillside as a sheet to build from, or as a
// contractor's quote: one HTML document for the browser to print.
//
//	go run ./examples/sheet testdata/plans/bench.json > sheet.html
//	go run ./examples/sheet -kind quote -paper a4 -name "A. Builder" -rate 45 my-plan.json > quote.html
//
// Without a file, or with -, it reads standard input. It exits with 2 when the
// document will not do, every fault listed on standard error.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright"
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// lines is a flag that may be given several times.
type lines []string

func (l *lines) String() string     { return "" }
func (l *lines) Set(s string) error { *l = append(*l, s); return nil }

func run(args []string, in io.Reader, out, complaints io.Writer) int {
	flags := flag.NewFlagSet("sheet", flag.ContinueOnError)
	flags.SetOutput(complaints)
	var o slopewright.SheetOptions
	var rate string
	var markup float64
	flags.StringVar(&o.Kind, "kind", "build", "`build`, field or quote")
	flags.StringVar(&o.Paper, "paper", "", "`a4` or letter; default by the plan's units")
	flags.StringVar(&o.Quote.Name, "name", "", "contractor's name on a quote")
	flags.StringVar(&o.Quote.Contact, "contact", "", "how to reach the contractor")
	flags.StringVar(&o.Quote.Client, "client", "", "who the quote is for")
	flags.StringVar(&o.Quote.Number, "number", "", "number of the quote")
	flags.StringVar(&o.Quote.Date, "date", "", "date of the quote")
	flags.StringVar(&rate, "rate", "", "price of a person-hour, in place of the plan's labour")
	flags.Float64Var(&markup, "markup", 0, "mark-up on goods, deliveries and labour, as a fraction, in place of the plan's")
	flags.Var((*lines)(&o.Quote.Terms), "term", "a line of the terms; may be given several times")
	flags.Var((*lines)(&o.Quote.Exclusions), "exclude", "a line of what is not in the price; may be given several times")
	flags.Usage = func() {
		fmt.Fprintln(complaints, "usage: sheet [flags] [FILE.json | -] > sheet.html")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	var wrong []string
	if flags.NArg() > 1 {
		if next := flags.Arg(1); strings.HasPrefix(next, "-") && next != "-" {
			wrong = append(wrong, next+": stands after the file; write options before it")
		} else {
			wrong = append(wrong, next+": is a second file; give one plan at a time")
		}
	}
	if o.Kind != "build" && o.Kind != "field" && o.Kind != "quote" {
		wrong = append(wrong, fmt.Sprintf("-kind: %q is no kind of sheet; write build, field or quote", o.Kind))
	}
	if o.Paper != "" && o.Paper != "a4" && o.Paper != "letter" {
		wrong = append(wrong, fmt.Sprintf("-paper: %q is no paper known here; write a4 or letter, or leave it out", o.Paper))
	}
	if len(wrong) > 0 {
		fmt.Fprintln(complaints, strings.Join(wrong, "\n"))
		return 2
	}
	var hour *slopewright.Money
	if rate != "" {
		d, err := decimal.NewFromString(rate)
		if err != nil || d.IsNegative() {
			fmt.Fprintf(complaints, "rate: %q is not a price; write 45 or 45.50\n", rate)
			return 2
		}
		hour = &slopewright.Money{Decimal: d}
	}
	data, err := read(flags.Arg(0), in)
	if err != nil {
		fmt.Fprintln(complaints, err)
		return 1
	}
	plan, err := slopewright.ReadPlan(data)
	var result slopewright.Result
	if err == nil {
		// What is asked for here stands in place of the plan's own.
		if hour != nil {
			plan.Prices.Labour = []slopewright.LabourRate{{Name: "Labour", Rate: hour}}
		}
		if markup > 0 {
			share := slopewright.Slope{Ratio: markup, Text: strconv.FormatFloat(100*markup, 'f', -1, 64) + " %"}
			plan.Prices.Markup, plan.Prices.LabourMarkup = &share, &share
		}
		result, err = slopewright.Make(plan)
	}
	if err != nil {
		var faults slopewright.Faults
		if !errors.As(err, &faults) {
			fmt.Fprintln(complaints, err)
			return 2
		}
		noun := "faults"
		if len(faults) == 1 {
			noun = "fault"
		}
		fmt.Fprintf(complaints, "This plan has %d %s:\n", len(faults), noun)
		for _, f := range faults {
			fmt.Fprintln(complaints, "  "+f.Error())
		}
		return 2
	}
	o.Plan = &plan
	if _, err := out.Write(result.Sheet(o)); err != nil {
		fmt.Fprintln(complaints, err)
		return 1
	}
	return 0
}

func read(name string, in io.Reader) ([]byte, error) {
	if name == "" || name == "-" {
		return io.ReadAll(in)
	}
	return os.ReadFile(name)
}
