//go:build !js || whole

package slopewright

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

// TestCostWithoutPrices: where nothing has a price, what costs least is what digs
// least, and that is said; with a wage or the price of timber, cost is cost.
func TestCostWithoutPrices(t *testing.T) {
	p, _, _ := readDemo(t, "testdata/plans/steepening.json")
	p.Prices, p.Stock, p.Steps.Kinds = Prices{}, nil, []string{"box", "framed"}
	of := func(prefer string, p Plan) Result {
		t.Helper()
		p.Steps.Prefer = prefer
		r, _ := made(t, p)
		return r
	}
	unpriced := "100x200"
	told := func(r Result) bool {
		for _, s := range r.Answer {
			if s.Key == "money" {
				return strings.HasSuffix(s.Says, "While "+unpriced+" has no price, the steps are those that dig least.")
			}
		}
		return false
	}
	cost, digging := of("cost", p), of("digging", p)
	if d := cmp.Diff(digging.Layout, cost.Layout); d != "" {
		t.Errorf("what digs least is another (-digging +cost):\n%s", d)
	}
	if !told(cost) || told(digging) {
		t.Errorf("said of cost %v, of digging %v", told(cost), told(digging))
	}
	priced, _, _ := readDemo(t, "testdata/plans/steepening.json")
	if len(priced.Stock) == 0 {
		t.Fatal("the demo has no prices")
	}
	if told(of("cost", priced)) {
		t.Error("said of a plan with the price of timber")
	}
	// What has no price counts as nothing, and bills are in whole boards.
	whole := priced
	whole.Prices.Items = append(slices.Clip(priced.Prices.Items), ItemPrice{Item: "preservative", Price: Money{Decimal: decimal.NewFromInt(9)}, Per: "l"})
	for says, q := range map[string]Plan{"counted as nothing": priced, "has a lower bill": whole} {
		for _, prefer := range []string{"cost", "digging"} {
			r := of(prefer, q)
			i := slices.IndexFunc(r.Answer, func(s Sentence) bool { return s.Key == "money" })
			if got := strings.Contains(r.Answer[i].Says, says); got != (prefer == "cost") {
				t.Errorf("%s: %q of %s: %v", says, r.Answer[i].Says, prefer, got)
			}
		}
	}
}

// Of layouts that cost alike the one that takes fewer hours is the one that costs least,
// though no hour has a price; with a wage the hours cost what it says.
func TestAlikeInCost(t *testing.T) {
	p, _, _ := readDemo(t, "testdata/plans/steepening.json")
	p.Steps.Prefer = "cost"
	own, _ := made(t, p)
	p.Steps.Prefer = "hours"
	hours, _ := made(t, p)
	if x, least := own.Hours.Likely, hours.Hours.Likely; float64(x) > 1.1*float64(least) {
		t.Errorf("boxes cost the same shallow or deep, and yet least cost takes %v hours where %v would do", x, least)
	}
}

// Whatever else is made least, no bill is lower than that of the least cost, unless more
// of it has no price.
func TestLowestBill(t *testing.T) {
	for _, name := range []string{"bench", "gentle", "offer", "orchard", "steepening", "terrace"} {
		p, _, _ := readDemo(t, "testdata/plans/"+name+".json")
		p.Steps.Fixed = nil
		of := func(prefer string) Result {
			p.Steps.Prefer = prefer
			r, _ := made(t, p)
			return r
		}
		least := of("cost")
		for _, prefer := range []string{"digging", "hours", "walking"} {
			if r := of(prefer); r.Bill.Total.LessThan(least.Bill.Total.Decimal) && allAmong(r.Bill.Unpriced, least.Bill.Unpriced) {
				t.Errorf("%s: least cost costs %v, and least %s %v", name, least.Bill.Total, prefer, r.Bill.Total)
			}
		}
	}
}

// Of choices with the same bill the one that digs less is the one that costs least, then
// the one that takes fewer hours, then the one that walks better, whichever the fit found.
func TestTieOfBills(t *testing.T) {
	bill := func(amount string) *Money { return &Money{Decimal: decimal.RequireFromString(amount)} }
	for want, all := range map[int][]ChoiceResult{
		1: {{BestFor: []string{"cost"}, Cost: bill("100.00"), CutBank: 3, Hours: 5}, {Cost: bill("100.00"), CutBank: 2, Hours: 6}},
		2: {{BestFor: []string{"cost"}, Cost: bill("100.00"), CutBank: 2, Hours: 5, Misfit: 2}, {Cost: bill("100.01"), CutBank: 1}, {Cost: bill("100"), CutBank: 2, Hours: 5, Misfit: 1}},
		0: {{BestFor: []string{"cost"}, Cost: bill("100.00"), CutBank: 2, Hours: 4}, {Cost: bill("100.00"), CutBank: 2, Hours: 5, Misfit: -1}},
	} {
		oneBest(all, "cost")
		for i, c := range all {
			if (len(c.BestFor) == 1) != (i == want) {
				t.Errorf("choice %d is best for %v, and %d costs least", i, c.BestFor, want)
			}
		}
	}
}
