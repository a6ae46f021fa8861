// Command estimate prices a list of jobs: a job a line on standard input, an
// answer a line on standard output, in the same order. Whatever runs programs
// over lines can run it; it needs no plan document, only the packages stair and
// materials. The jobs beside it and their prices are invented.
//
//	go run ./examples/estimate < examples/estimate/jobs.ndjson
//	go run ./examples/estimate -h
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"runtime"
	"sort"

	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/materials"
)

const usage = `estimate prices stepped paths: jobs in, a JSON object a line, on standard input;
answers out, a line each and in the same order, on standard output. Blank lines
are passed over, but counted.

  estimate [-workers N] [-sum] < jobs.ndjson > answers.ndjson

A job, with * where a field must be there. Lengths are metres; money, and what
is sold by, are decimals in quotes.

  id            a string or a number, handed back with the answer
  rise, run     * from foot to head, the run level and at most 100 (a longer path in
                parts); the ground between is straight
  width         * over the timbers' ends
  rules         * the rule set, as garden or irc-2021
  limits        in the place of the rule set's: riser_min, riser_max, tread_min,
                tread_max, landing_min (0: no landings), landing_max,
                min_flight_risers, max_flight_risers, max_flight_rise,
                step_rule {min, max}; and wash (0.02 if not given) and grid
  max_cut       deepest dig, 1.2 if not given
  max_raise     highest the gravel's bed may stand over the ground, 0.1 if not given
  timber        * section of the boxes, as 6x6 or 100x200; on_edge: true stands it up
  layers        {topping, fill, base}: gravel, from the tread down
  stock         * [{section, length, price, available}]: every * but available
  kerf          of the saw, 0.003 if not given
  currency      * as USD
  tax           a fraction, as "0.2"
  prices        [{item, price, per, pack, least, holds, holds_per, name}]: what is
                not timber, as {"item": "pin", "price": "2.79", "per": "each"}

An answer has the line's number and the job's id, and then either the layout,
pieces, boards, bill and findings, or all the faults of the job, each with its
field, what it got, the problem and a fix. A bad job stops no other. It plans,
it does not approve: local codes and licensed practice decide.

The exit code is 0 when every line was answered, 2 when the input cannot be
read, 1 when the output cannot be written.

`

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func run(args []string, in io.Reader, out, messages io.Writer) int {
	flags := flag.NewFlagSet("estimate", flag.ContinueOnError)
	flags.SetOutput(messages)
	workers := flags.Int("workers", runtime.GOMAXPROCS(0), "jobs worked on at once")
	sum := flags.Bool("sum", false, "write the number of jobs and the total of each currency to standard error at the end")
	flags.Usage = func() {
		fmt.Fprint(messages, usage)
		flags.PrintDefaults()
	}
	switch err := flags.Parse(args); {
	case err == flag.ErrHelp:
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *workers < 1 || *workers > 1024:
		fmt.Fprintln(messages, "estimate reads standard input, with 1 to 1024 workers; -h says how")
		return 2
	}
	t := totals{money: map[string]decimal.Decimal{}}
	readErr, writeErr := stream(in, out, *workers, t.add)
	if *sum {
		t.write(messages)
	}
	switch {
	case readErr != nil:
		fmt.Fprintln(messages, "cannot read the jobs:", readErr)
		return 2
	case writeErr != nil:
		fmt.Fprintln(messages, "cannot write the answers:", writeErr)
		return 1
	}
	return 0
}

// totals adds up the answers, a sum for each currency.
type totals struct {
	jobs, faulty int
	money        map[string]decimal.Decimal
}

func (t *totals) add(a answer) {
	t.jobs++
	if a.estimate == nil {
		t.faulty++
		return
	}
	t.money[a.Bill.Currency] = t.money[a.Bill.Currency].Add(a.total)
}

func (t *totals) write(to io.Writer) {
	fmt.Fprintf(to, "%d jobs, %d of them with faults\n", t.jobs, t.faulty)
	var codes []string
	for code := range t.money {
		codes = append(codes, code)
	}
	sort.Strings(codes)
	for _, code := range codes {
		fmt.Fprintln(to, code, t.money[code].StringFixed(materials.CoinDigits(code)))
	}
}
