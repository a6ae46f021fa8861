//go:build !js || whole

package slopewright

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

// records reads a table and finds a column by its name.
func records(t *testing.T, table string) (rows [][]string, column func(string) int) {
	t.Helper()
	r := csv.NewReader(strings.NewReader(table))
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%v in\n%s", err, table)
	}
	head := rows[0]
	return rows[1:], func(name string) int {
		i := slices.Index(head, name)
		if i < 0 {
			t.Fatalf("no column %s in %q", name, head)
		}
		return i
	}
}

// asked answers a request made of a demo plan and more fields.
func asked(t *testing.T, name, more string) Result {
	t.Helper()
	var r Result
	out := Call([]byte(`{"format": "slopewright.request/1", "plan": ` + string(demo(t, name)) + more + `}`))
	if err := json.Unmarshal(out, &struct {
		Tables     *map[string]string
		Comparison **ComparisonResult
	}{&r.Tables, &r.Comparison}); err != nil {
		t.Fatalf("%v in %.300s", err, out)
	}
	if bytes.Contains(out[:60], []byte("slopewright.error")) {
		t.Fatalf("%.600s", out)
	}
	return r
}

// The tables hold what the result tells: as many pieces cut as taken off, the
// bill's lines adding up to its total, every item of the take-off.
func TestTables(t *testing.T) {
	for _, name := range demos {
		tables := asked(t, name, `, "tables": ["takeoff", "pieces", "cutplan", "bill", "prices"]`).Tables
		direct, err := Tables(patchedPlan(t, name, `{}`), TableNames()...)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(direct, tables); d != "" {
			t.Errorf("%s: Tables and Call differ:\n%s", name, d)
		}
		r := makeDemo(t, name)

		rows, column := records(t, tables["takeoff"])
		if len(rows) != len(r.Takeoff) {
			t.Errorf("%s: %d items in the table, %d in the result", name, len(rows), len(r.Takeoff))
		}
		for i, row := range rows {
			if x := r.Takeoff[i]; row[column("item")] != x.Item || row[column("need_count")] != strconv.Itoa(x.Count) && x.Count > 0 {
				t.Errorf("%s: row %q for %s, %d", name, row, x.Item, x.Count)
			}
		}
		count := func(table, use, n string) map[string]int {
			rows, column := records(t, tables[table])
			out := map[string]int{}
			for _, row := range rows {
				k, err := strconv.Atoi(row[column(n)])
				if err != nil {
					t.Fatalf("%s: %q", name, row)
				}
				out[row[column(use)]] += k
			}
			delete(out, "offcut")
			return out
		}
		want := count("pieces", "use", "count")
		got := count("cutplan", "use", "boards")
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s: pieces taken off and cut (-off +cut):\n%s", name, d)
		}

		rows, column = records(t, tables["bill"])
		sum := decimal.Zero
		for _, row := range rows {
			d, err := decimal.NewFromString(textOr(row[column("cost")], "0"))
			if err != nil {
				t.Fatal(err)
			}
			switch row[column("item")] {
			case "subtotal":
				if !d.Equal(sum) || !d.Equal(r.Bill.Subtotal.Decimal) {
					t.Errorf("%s: subtotal %v, lines %v, result %v", name, d, sum, r.Bill.Subtotal)
				}
			case "tax":
				sum = sum.Add(d)
			case "total":
				if !d.Equal(sum) || !d.Equal(r.Bill.Total.Decimal) {
					t.Errorf("%s: total %v, lines and tax %v, result %v", name, d, sum, r.Bill.Total)
				}
			default:
				sum = sum.Add(d)
			}
		}
	}
}

// A price list goes out, comes back and changes nothing; filled in, it leaves
// nothing unpriced.
func TestPriceList(t *testing.T) {
	plan := patchedPlan(t, "bench", `{"prices": {"items": [{"item": "pin", "price": "3.10", "per": "each", "name": "No. 4 bar, 24\""}, {"item": "topping", "price": "6.80", "per": "bag", "holds": 0.5, "holds_per": "ft3", "least": 10}]}}`)
	out, err := Tables(plan, "prices")
	if err != nil {
		t.Fatal(err)
	}
	items, err := ReadPriceList([]byte(out["prices"]))
	if err != nil {
		t.Fatal(err)
	}
	before, again := plan, plan
	again.Prices.Items = nil
	again.Prices.Take(items)
	same := func(a, b Plan) {
		t.Helper()
		x, err1 := Make(a)
		y, err2 := Make(b)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if d := cmp.Diff(x.Bill, y.Bill, cmp.Comparer(func(a, b Money) bool { return a.Equal(b.Decimal) })); d != "" {
			t.Error(d)
		}
	}
	same(before, again)

	var filled strings.Builder
	for _, line := range strings.Split(out["prices"], "\r\n") {
		filled.WriteString(strings.Replace(line, ",,,", ",,1.25,", 1) + "\n")
	}
	list, _ := json.Marshal(strings.ReplaceAll(filled.String(), ",", ";"))
	answer := Call([]byte(`{"format": "slopewright.request/1", "op": "prices", "price_list": ` + string(list) + `}`))
	var doc PricesDocument
	var raw struct {
		Format string
		Items  []map[string]any
	}
	if err := json.Unmarshal(answer, &raw); err != nil || raw.Format != PricesFormat {
		t.Fatalf("%v: %.300s", err, answer)
	}
	if doc.Items, err = ReadPriceList([]byte(filled.String())); err != nil {
		t.Fatal(err)
	}
	if len(doc.Items) != len(raw.Items) {
		t.Errorf("%d items by commas, %d by semicolons", len(doc.Items), len(raw.Items))
	}
	again.Prices.Take(doc.Items)
	r, err := Make(again)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Bill.Unpriced) != 0 {
		t.Errorf("no price for %q", r.Bill.Unpriced)
	}
	priced := Call([]byte(`{"format": "slopewright.request/1", "price_list": ` + string(list) + `, "plan": ` + string(demo(t, "bench")) + `}`))
	if !bytes.Contains(priced, []byte(`"unpriced":[]`)) {
		t.Errorf("a request with the list leaves something unpriced: %.300s", priced)
	}
	bad := Call([]byte(`{"format": "slopewright.request/1", "op": "prices", "price_list": "item,price,per\npin,many,each\n"}`))
	if !bytes.Contains(bad, []byte(`"price_list.line 2, price"`)) {
		t.Errorf("%s", bad)
	}
}

// Two plans side by side: every line of both, and the differences add up.
func TestCompare(t *testing.T) {
	walk := patchedPlan(t, "bench", `{"title": "The easy walk", "steps": {"prefer": "walking"}, "prices": {"deliveries": [{"price": "60"}], "markup": "10 %"}}`)
	doc, err := walk.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	c := asked(t, "bench", `, "compare": `+string(doc))
	if c.Comparison == nil {
		t.Fatal("no comparison")
	}
	a := makeDemo(t, "bench")
	b, err := Make(walk)
	if err != nil {
		t.Fatal(err)
	}
	x := c.Comparison
	more, err := decimal.NewFromString(x.More)
	if err != nil {
		t.Fatal(err)
	}
	if len(x.Open) == 0 && !more.Equal(b.Bill.Total.Sub(a.Bill.Total.Decimal)) {
		t.Errorf("more is %v, totals are %v and %v", more, a.Bill.Total, b.Bill.Total)
	}
	sum := decimal.RequireFromString(x.Tax)
	for _, l := range x.Lines {
		if l.More != "" {
			sum = sum.Add(decimal.RequireFromString(l.More))
		}
	}
	if !sum.Equal(more) {
		t.Errorf("lines and tax make %v, more is %v", sum, more)
	}
	here, there := 0, 0
	for _, l := range x.Lines {
		if l.Buy != "" {
			here++
		}
		if l.Other != "" {
			there++
		}
	}
	if here != len(a.Bill.Lines) || there != len(b.Bill.Lines) {
		t.Errorf("%d and %d lines of %d and %d", here, there, len(a.Bill.Lines), len(b.Bill.Lines))
	}
	if !strings.Contains(x.Says, "more than") && !strings.Contains(x.Says, "less than") || !strings.Contains(x.Says, x.Other) {
		t.Error(x.Says)
	}
	same, err := Compare(patchedPlan(t, "bench", `{}`), patchedPlan(t, "bench", `{}`))
	if err != nil || !decimal.RequireFromString(same.More).IsZero() || !strings.HasPrefix(same.Says, "The other plan costs the same as this plan") {
		t.Errorf("%v, %+v", err, same.Says)
	}
	// A plan without prices has no currency of its own.
	priced, bare := patchedPlan(t, "gentle", `{}`), patchedPlan(t, "first", `{}`)
	for _, x := range [][2]Plan{{priced, bare}, {bare, priced}} {
		c, err := Compare(x[0], x[1])
		if err != nil || c.Currency != "EUR" || !strings.Contains(c.Says, "plan has no prices, so") {
			t.Errorf("%v, %s", err, c.Says)
		}
	}
	// Boards of the other plan only are in its units, as what it buys is.
	for _, x := range [][3]string{{"bench", "steepening", "100x200 of 3 m"}, {"steepening", "bench", "6x6 of 12 ft"}} {
		this, other := patchedPlan(t, x[0], `{"prices": {"currency": "EUR"}}`), patchedPlan(t, x[1], `{"prices": {"currency": "EUR"}}`)
		if c, err := Compare(this, other); err != nil || !slices.ContainsFunc(c.Lines, func(l ComparedLine) bool { return l.Name == x[2] && l.Buy == "" }) {
			t.Errorf("%s is not in %v, %v", x[2], c.Lines, err)
		}
	}
	if c, err := Compare(bare, bare); err != nil || !strings.HasPrefix(c.Says, "Neither plan has prices") {
		t.Errorf("%v, %s", err, c.Says)
	}
	_, err = Compare(priced, patchedPlan(t, "bench", `{"prices": {"currency": null}}`))
	if err == nil || !strings.Contains(err.Error(), "where none is written") {
		t.Errorf("a currency nobody wrote: %v", err)
	}
	_, err = Compare(patchedPlan(t, "bench", `{}`), patchedPlan(t, "bench", `{"prices": {"currency": "EUR"}}`))
	if err == nil || !strings.Contains(err.Error(), "compare.prices.currency") {
		t.Errorf("two currencies: %v", err)
	}
	_, err = Compare(patchedPlan(t, "bench", `{}`), patchedPlan(t, "bench", `{"soil": {"class": "cheese"}}`))
	if err == nil || !strings.Contains(err.Error(), "compare.soil.class") {
		t.Errorf("a bad plan: %v", err)
	}
}

// The demo price lists, whose prices are invented, price demo plans.
func TestPriceListFile(t *testing.T) {
	for name, plan := range map[string]string{"yard": "bench", "first": "first"} {
		data, err := os.ReadFile(filepath.Join("testdata", "plans", name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		list, err := ReadPriceTable(data)
		if err != nil {
			t.Fatal(err)
		}
		p := patchedPlan(t, plan, `{"prices": {"items": []}}`)
		p.Take(list)
		r, err := Make(p)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Bill.Unpriced) != 0 || !r.Bill.Total.IsPositive() {
			t.Errorf("%s: %v, unpriced %q", name, r.Bill.Total, r.Bill.Unpriced)
		}
	}
}

// One list has goods and timber: it goes out, comes back and changes nothing; timber
// without a price is there to be priced; what is wrong is told by line and column.
func TestPriceListOfTimber(t *testing.T) {
	for _, name := range []string{"offer", "steepening", "bench"} {
		p, err := ReadPlan(demo(t, name))
		if err != nil {
			t.Fatal(err)
		}
		p.Stock = append(p.Stock, Stock{Section: p.Stock[0].Section, Length: p.Stock[0].Length, OnHand: 2, CutEnds: 1})
		out, err := Tables(p, "prices")
		if err != nil {
			t.Fatal(err)
		}
		list, err := ReadPriceTable([]byte(out["prices"]))
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, out["prices"])
		}
		bare := p
		bare.Stock, bare.Prices.Items = nil, nil
		bare.Take(list)
		if d := cmp.Diff(p.Stock, bare.Stock, cmp.Comparer(func(a, b Money) bool { return a.Equal(b.Decimal) }), cmpopts()); d != "" {
			t.Errorf("%s: the timber came back otherwise (-out +back):\n%s", name, d)
		}
		again, err := Tables(bare, "prices", "bill")
		if err != nil {
			t.Fatal(err)
		}
		if again["prices"] != out["prices"] {
			t.Errorf("%s: the list came back otherwise:\n%s\n%s", name, out["prices"], again["prices"])
		}
		n := len(p.Stock)
		if p.Take(list); len(p.Stock) != n {
			t.Errorf("%s: %d lengths taken twice", name, len(p.Stock)-n)
		}
	}
	p, err := ReadPlan(demo(t, "first"))
	if err != nil {
		t.Fatal(err)
	}
	out, err := Tables(p, "prices")
	if err != nil {
		t.Fatal(err)
	}
	if want := "board,,,each,,,,,6x6,12 ft 0 in,,,,,\r\n"; !strings.Contains(out["prices"], want) {
		t.Errorf("no %q in\n%s", want, out["prices"])
	}
	if list, err := ReadPriceTable([]byte(out["prices"])); err != nil || len(list.Items)+len(list.Stock) > 0 {
		t.Errorf("a list without prices gives %v, %v", list, err)
	}
	list, err := ReadPriceTable([]byte("section;length;price;on_hand\n6x6;12 ft;39,90;\n6x6;7 ft;;2\n"))
	if err != nil || len(list.Stock) != 2 || list.Stock[0].Price.String() != "39.9" || list.Stock[1].OnHand != 2 || list.Stock[1].Price != nil {
		t.Errorf("a list of timber alone: %+v, %v", list, err)
	}
	_, err = ReadPriceTable([]byte("item,section,length,price,per,on_hand\nboard,7z7,12 ft,5,each,\n,6x6,twelve,5,,\npin,6x6,8 ft,5,each,\n,6x6,8 ft,5,m,x\n,6x6,,5,,\npin,,,x,each,\n"))
	var fields []string
	for _, f := range asFaults(err) {
		fields = append(fields, f.Field)
	}
	if d := cmp.Diff([]string{"line 4, item", "line 5, per", "line 7, price", "line 2, section", "line 3, length", "line 5, on_hand", "line 6, length"}, fields); d != "" {
		t.Errorf("faulted lines differ (-want +got):\n%s\n%v", d, err)
	}
}

// cmpopts compares lengths by what they are.
func cmpopts() cmp.Option {
	return cmp.Comparer(func(a, b Length) bool { return math.Abs(float64(a.Length-b.Length)) < 1e-9 })
}

// An item goes by its name in the bill as well; a mistyped one is a fault, other
// goods of a yard are none.
func TestItemsByName(t *testing.T) {
	list, err := ReadPriceTable([]byte("item,price,per\nBase gravel,40,m3\ntie,3,each\nsod,2,m2\n"))
	if err != nil || len(list.Items) != 3 || list.Items[0].Item != "base-gravel" || list.Items[1].Item != "tie" {
		t.Errorf("%+v, %v", list.Items, err)
	}
	_, err = ReadPriceTable([]byte("item,price,per\npin,3,each\nspikes,3,each\nbase gravle,3,m3\n"))
	if err == nil || !strings.Contains(err.Error(), "line 3, item: \"spikes\" is not an item of a take-off; perhaps spike was meant") || !strings.Contains(err.Error(), "line 4, item") {
		t.Errorf("%v", err)
	}
	r := changed(t, "first", func(p *Plan) {
		p.Prices.Items = []ItemPrice{{Item: "base gravel", Price: Money{Decimal: decimal.RequireFromString("40")}, Per: "m3"}}
	})
	for _, l := range r.Bill.Lines {
		if l.Item == "base-gravel" && l.Cost == nil {
			t.Errorf("base gravel has no price: %+v", l)
		}
	}
}
