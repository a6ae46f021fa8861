// Command sheet prints the plan of a hillside as a sheet to build from, or as a
// contractor's quote: one HTML document for the browser to print.
//
//	go run ./examples/sheet testdata/plans/bench.json > sheet.html
//	go run ./examples/sheet -kind quote -paper a4 -name "A. Builder" -rate 45 my-plan.json > quote.html
//
// Without a file, or with -, it reads standard input. It exits with 2 when the command
// line or the document will not do, every fault listed on standard error, and with 1 when
// a file cannot be read or written.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

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
	flags.StringVar(&o.Kind, "kind", "build", "sheet to write, `KIND`: build, to build from; field, the pages of it needed on the hill; quote, a contractor's quote")
	flags.StringVar(&o.Paper, "paper", "", "`PAPER`: a4 or letter; default letter for plans in feet, a4 for others")
	flags.StringVar(&o.Quote.Name, "name", "", "contractor's `NAME` on a quote")
	flags.StringVar(&o.Quote.Contact, "contact", "", "how to reach the contractor of a quote: `TEXT`")
	flags.StringVar(&o.Quote.Client, "client", "", "who a quote is for: `NAME`")
	flags.StringVar(&o.Quote.Number, "number", "", "`NUMBER` of a quote, any text")
	flags.StringVar(&o.Quote.Date, "date", "", "`DATE` of a quote, any text")
	flags.StringVar(&rate, "rate", "", "`PRICE` of a person-hour, as 45 or 45.50, for all hours, in place of the plan's labour")
	flags.Float64Var(&markup, "markup", 0, "mark-up on goods, deliveries and labour, a `FRACTION` from 0 to 10 (0.15 for 15 %), in place of the plan's")
	flags.Var((*lines)(&o.Quote.Terms), "term", "a `LINE` of a quote's terms, in place of the plan's; may be given several times")
	flags.Var((*lines)(&o.Quote.Exclusions), "exclude", "a `LINE` of what is not in a quote's price, in place of the plan's; may be given several times")
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
	marked := false
	flags.Visit(func(f *flag.Flag) {
		switch f.Name {
		case "markup":
			marked = true
		case "name", "contact", "client", "number", "date", "term", "exclude":
			if o.Kind != "quote" {
				wrong = append(wrong, "-"+f.Name+": stands on a quote alone; write -kind quote, or leave it out")
			}
		}
	})
	if !(markup >= 0 && markup <= 10) {
		wrong = append(wrong, fmt.Sprintf("-markup: %v is not a fraction from 0 to 10; write 15 %% as 0.15", markup))
	}
	var hour *slopewright.Money
	if rate != "" {
		d, err := slopewright.ParseMoney(rate)
		if err != nil {
			wrong = append(wrong, fmt.Sprintf("-rate: %.40q is not a price; write 45 or 45.50", rate))
		}
		hour = &d
	}
	if len(wrong) > 0 {
		fmt.Fprintln(complaints, strings.Join(wrong, "\n"))
		return 2
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
		if marked {
			share := slopewright.Slope{Ratio: markup, Text: strconv.FormatFloat(100*markup, 'f', -1, 64) + " %"}
			plan.Prices.Markup, plan.Prices.LabourMarkup = &share, &share
		}
		result, err = slopewright.Make(plan)
	}
	if err != nil {
		var faults slopewright.Faults
		if !errors.As(slopewright.InOrder(data, err), &faults) {
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
