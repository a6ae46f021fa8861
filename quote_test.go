//go:build !js || whole

package slopewright

import (
	"encoding/json"
	"math/big"
	"slices"
	"strings"
	"testing"
)

// patched makes a demo plan after a merge patch of its document.
func patched(t testing.TB, name, patch string) Result {
	t.Helper()
	r, err := Make(patchedPlan(t, name, patch))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return r
}

func patchedPlan(t testing.TB, name, patch string) Plan {
	t.Helper()
	var base, p any
	for _, x := range []struct {
		in  []byte
		out *any
	}{{demo(t, name), &base}, {[]byte(patch), &p}} {
		if err := json.Unmarshal(x.in, x.out); err != nil {
			t.Fatal(err)
		}
	}
	b, err := json.Marshal(merge(base, p))
	if err != nil {
		t.Fatal(err)
	}
	plan, err := ReadPlan(b)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// A contractor's quote, reckoned again in whole cents: every line is buy times
// price, mark-ups are of what they say, tax is of what is taxed, and the parts
// add up to the total.
func TestContractorsQuote(t *testing.T) {
	const quote = `{"prices": {
	  "deliveries": [{"name": "gravel truck", "price": "85.00", "items": ["base-gravel", "topping"], "load": 3, "per": "yd3"}, {"name": "van", "price": "45.50", "items": ["board"], "untaxed": true}, {"name": "crane", "price": "900.00", "items": ["stringer"]}],
	  "labour": [{"name": "crew", "rate": "42.35"}, {"name": "setting out", "hours": 4.5, "rate": "61.25"}],
	  "markup": "12.5 %", "labour_markup": "9.7 %", "tax": "8.375 %", "rounding": "ROUND", "tax_labour": TAXED}}`
	for _, rounding := range []string{"half-up", "half-even", "up"} {
		for _, taxed := range []string{"true", "false"} {
			r := patched(t, "bench", strings.NewReplacer("ROUND", rounding, "TAXED", taxed).Replace(quote))
			b := r.Bill
			round := func(x *big.Rat) *big.Int { return roundedCents(x, rounding) }
			rat := func(s string) *big.Rat {
				x, ok := new(big.Rat).SetString(s)
				if !ok {
					t.Fatalf("%q is no number", s)
				}
				return x
			}
			cents := func(m Money) *big.Int { return roundedCents(rat(m.String()), "half-up") }
			sums := map[string]*big.Int{}
			add := func(to string, n *big.Int) {
				if sums[to] == nil {
					sums[to] = new(big.Int)
				}
				sums[to].Add(sums[to], n)
			}
			for _, l := range b.Lines {
				if l.Cost == nil {
					t.Errorf("%s: %s has no price", rounding, l.Name)
					continue
				}
				cost := cents(*l.Cost)
				amount, _, _ := strings.Cut(l.Buy, " ")
				part, want := "goods", new(big.Int)
				switch l.Item {
				case "mark-up":
					part, want = "mark-up", round(new(big.Rat).Mul(rat("0.125"), money(sums["goods"], sums["delivery"])))
				case "labour-mark-up":
					part, want = "mark-up", round(new(big.Rat).Mul(rat("0.097"), money(sums["labour"])))
				default:
					if l.Item == "delivery" || l.Item == "labour" {
						part = l.Item
					}
					want = round(new(big.Rat).Mul(rat(amount), rat(l.Price.String())))
				}
				if cost.Cmp(want) != 0 {
					t.Errorf("%s: %s costs %v cents, want %v", rounding, l.Name, cost, want)
				}
				add(part, cost)
				if l.Name != "van" && (taxed == "true" || part != "labour" && l.Item != "labour-mark-up") {
					add("taxed", cost)
				}
			}
			for _, x := range []struct {
				name string
				got  Money
				want *big.Int
			}{
				{"goods", b.Goods, sums["goods"]}, {"deliveries", b.Deliveries, sums["delivery"]}, {"markups", b.Markups, sums["mark-up"]}, {"labour", b.Labour, sums["labour"]},
				{"taxed", b.Taxed, sums["taxed"]}, {"tax", b.Tax, round(new(big.Rat).Mul(rat("0.08375"), money(sums["taxed"])))},
			} {
				if cents(x.got).Cmp(x.want) != 0 {
					t.Errorf("%s, tax on labour %s: %s is %v, want %v cents", rounding, taxed, x.name, x.got, x.want)
				}
			}
			sub := new(big.Int)
			for _, part := range []string{"goods", "delivery", "mark-up", "labour"} {
				sub.Add(sub, sums[part])
			}
			if cents(b.Subtotal).Cmp(sub) != 0 || cents(b.Total).Cmp(sub.Add(sub, cents(b.Tax))) != 0 {
				t.Errorf("%s: subtotal %v, tax %v, total %v do not add up to %v", rounding, b.Subtotal, b.Tax, b.Total, sub)
			}
			if !slices.ContainsFunc(b.Notes, func(n string) bool { return strings.Contains(n, "Crane") || strings.Contains(n, "crane") }) {
				t.Errorf("no note of the delivery that brings nothing: %q", b.Notes)
			}
			crew := b.Lines[slices.IndexFunc(b.Lines, func(l BillLine) bool { return l.Name == "crew" })]
			if want := number(float64(r.Hours.Likely), 0) + " h"; crew.Buy != want {
				t.Errorf("the crew works %s, the plan takes %s", crew.Buy, want)
			}
			// The quote's page has the same total.
			if p := r.Price(Quote{}); !p.Total.Equal(b.Total.Decimal) {
				t.Errorf("the quote comes to %v, the bill to %v", p.Total, b.Total)
			}
		}
	}
}

// money is a sum of cents as an amount.
func money(cents ...*big.Int) *big.Rat {
	sum := new(big.Int)
	for _, c := range cents {
		if c != nil {
			sum.Add(sum, c)
		}
	}
	return new(big.Rat).SetFrac(sum, big.NewInt(100))
}

// roundedCents rounds an amount of nothing or more to whole cents.
func roundedCents(x *big.Rat, rounding string) *big.Int {
	x = new(big.Rat).Mul(x, big.NewRat(100, 1))
	q, rest := new(big.Int).QuoRem(x.Num(), x.Denom(), new(big.Int))
	half := new(big.Int).Lsh(rest, 1).Cmp(x.Denom())
	up := half >= 0
	switch rounding {
	case "half-even":
		up = half > 0 || half == 0 && q.Bit(0) == 1
	case "up":
		up = rest.Sign() > 0
	}
	if up {
		q.Add(q, big.NewInt(1))
	}
	return q
}

// Where labour is paid by the plan's own hours, cost is what materials and hours
// come to together: dear hours never make the layout of least cost take more.
func TestCostHoldsLabour(t *testing.T) {
	hours := func(rate string) Result {
		return patched(t, "steepening", `{"steps": {"prefer": "cost"}, "prices": {"labour": [{"rate": "`+rate+`"}]}}`)
	}
	cheap, dear := hours("0.00"), hours("400.00")
	if dear.Hours.Likely > cheap.Hours.Likely {
		t.Errorf("at 400 an hour the work takes %v hours, at nothing %v", dear.Hours.Likely, cheap.Hours.Likely)
	}
}

// Offcuts on hand are cut before anything is bought, cost nothing, and are not
// among what is to buy; a limit on what can be brought is kept.
func TestStockOnHand(t *testing.T) {
	r := patched(t, "bench", `{"stock": [
	  {"section": "6x6", "length": "8 ft", "price": "34.98"}, {"section": "6x6", "length": "12 ft", "price": "54.75"}, {"section": "6x6", "length": "16 ft", "price": "60.00"},
	  {"section": "6x6", "length": "5 ft 2 in", "on_hand": 3, "cut_ends": 1}], "cut": {"longest_board": "12 ft", "keep_from": "3 in"}}`)
	plain := patched(t, "bench", `{"stock": [{"section": "6x6", "length": "8 ft", "price": "34.98"}, {"section": "6x6", "length": "12 ft", "price": "54.75"}]}`)
	here := 0
	for _, b := range r.CutPlan.Boards {
		if b.OnHand {
			here += b.Count
		}
		if b.Length.Feet() > 12.01 {
			t.Errorf("a board of %v ft is bought, 12 ft can be brought", b.Length.Feet())
		}
	}
	if here != 3 || !r.CutPlan.Cost.LessThan(plain.CutPlan.Cost.Decimal) {
		t.Errorf("%d offcuts are used; the timber costs %v, without them %v", here, r.CutPlan.Cost, plain.CutPlan.Cost)
	}
	i := slices.IndexFunc(r.Bill.Lines, func(l BillLine) bool { return l.OnHand })
	if i < 0 || r.Bill.Lines[i].Buy != "0" || !r.Bill.Lines[i].Cost.IsZero() {
		t.Errorf("the bill has no line of nothing to buy for what is on hand: %+v", r.Bill.Lines)
	}
	if len(r.CutPlan.Kept) == 0 {
		t.Error("no offcut of 3 in is kept")
	}
	for _, k := range r.CutPlan.Kept {
		if k.Length.Inches() < 2.999 {
			t.Errorf("an offcut of %v in is kept", k.Length.Inches())
		}
	}
}

// The contractor's offer of the demo hill asks for all that a box step and its
// bill can have, and nothing of it is left without a price.
func TestOffer(t *testing.T) {
	r := patched(t, "offer", `{}`)
	if len(r.Bill.Unpriced) != 0 || len(r.Bill.Notes) != 0 {
		t.Errorf("unpriced %q, notes %q", r.Bill.Unpriced, r.Bill.Notes)
	}
	for _, id := range []string{"face-board", "landing-timber", "bank-timber", "spike", "pier-bracket", "concrete-bag", "edging", "edging-stake", "light", "light-cable", "transformer"} {
		itemOf(t, r, id)
	}
	for _, part := range []Money{r.Bill.Goods, r.Bill.Deliveries, r.Bill.Markups, r.Bill.Labour, r.Bill.Tax} {
		if !part.IsPositive() {
			t.Errorf("a part of the bill is nothing: %+v", r.Bill)
		}
	}
	if !r.CutPlan.Proven || r.CutPlan.By != "cost" {
		t.Errorf("the cut plan is by %s, proven %v", r.CutPlan.By, r.CutPlan.Proven)
	}
}

// Where only some of the timber has a price, of that the cost is made least and of the rest
// the length, and that is said.
func TestCutForBoth(t *testing.T) {
	p, _, _ := readDemo(t, "testdata/plans/offer.json")
	for i := range p.Stock {
		if p.Stock[i].Section == "2x6" {
			p.Stock[i].Price = nil
		}
	}
	r, _ := made(t, p)
	if says := strings.Join(r.CutPlan.Notes, " "); r.CutPlan.By != "both" || !strings.Contains(says, "no prices of 2x6: of that timber the plan buys the least length") {
		t.Errorf("the cut plan is by %s: %s", r.CutPlan.By, says)
	}
	for i := range p.Stock {
		p.Stock[i].Price = nil
	}
	if r, _ = made(t, p); r.CutPlan.By != "length" {
		t.Errorf("without any price it is by %s", r.CutPlan.By)
	}
}

// What is needed is rounded up to what a person reads; the table has it to the thousandth.
func TestNeedToRead(t *testing.T) {
	r := makeDemo(t, "bench")
	for item, want := range map[string]string{"fabric": "221.9 sq ft", "base-gravel": "1.08 cu yd", "pin": "128"} {
		for _, l := range r.Bill.Lines {
			if l.Item == item && l.Need != want {
				t.Errorf("%s: %s, want %s", item, l.Need, want)
			}
		}
	}
}

// A price may have its currency with it, and a unit the words a yard has for it.
func TestPricesAsAYardWritesThem(t *testing.T) {
	total := func(patch string) string {
		p := patchedPlan(t, "gentle", patch)
		r, err := Make(p)
		if err != nil {
			t.Fatalf("%s: %v", patch, err)
		}
		return r.Bill.Total.String()
	}
	for currency, prices := range map[string][]string{
		"EUR": {"9.75", "€9.75", "9,75 €", "EUR 9.75", "9.75EUR"}, "USD": {"9.75", "$9.75", "$ 9.75", "9.75 USD"}, "NZD": {"9.75", "$9.75"}, "GBP": {"9.75", "£9.75"},
	} {
		want := ""
		for i, price := range prices {
			for j, per := range []string{"yd3", "cu yd", "cubic yard", "yd³"} {
				got := total(`{"stock": null, "prices": {"currency": "` + currency + `", "tax": null, "items": [{"item": "topping", "price": "` + price + `", "per": "` + per + `"}]}}`)
				if i+j == 0 {
					want = got
				}
				if got != want || got == "0" {
					t.Errorf("%s %s a %s comes to %s, want %s", currency, price, per, got, want)
				}
			}
		}
	}
	p := patchedPlan(t, "gentle", `{"prices": {"currency": "USD", "items": [{"item": "topping", "price": "$48.00", "per": "cu yd"}]}}`)
	if b, err := p.Bytes(); err != nil || !strings.Contains(string(b), `"$48.00"`) || !strings.Contains(string(b), `"cu yd"`) {
		t.Errorf("written again: %s %v", b, err)
	}
}
