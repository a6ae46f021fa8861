//go:build !js || whole

package slopewright

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
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
	told := func(r Result) bool {
		for _, s := range r.Answer {
			if s.Key == "money" {
				return strings.HasSuffix(s.Says, "While timber has no price, the steps are those that dig least.")
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
}
