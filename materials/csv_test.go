package materials

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// records reads a table back with an independent reader and checks its shape.
func records(t *testing.T, data []byte) [][]string {
	t.Helper()
	if !bytes.HasSuffix(data, []byte("\r\n")) {
		t.Errorf("lines do not end in CR LF:\n%q", data)
	}
	list, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatalf("%v in\n%s", err, data)
	}
	return list
}

func TestCSVCell(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"plain", "plain"}, {"6x6 × 2.4 m", "6x6 × 2.4 m"}, {"", ""},
		{"a,b", `"a,b"`}, {`say "no"`, `"say ""no"""`}, {"two\r\nlines", "\"two\r\n" + `lines"`},
		{"=1+1", "'=1+1"}, {"+1", "'+1"}, {"-1", "'-1"}, {"@sum(a1)", "'@sum(a1)"}, {"\tx", "\"'\tx\""}, {"\rx", "\"'\rx\""}, {"\nx", "\"'\nx\""},
		{`=hyperlink("x")`, `"'=hyperlink(""x"")"`}, {"＝1", "'＝1"},
		{"a;=1", `"a;'=1"`}, {"a,-1", `"a,'-1"`}, {"a\t@b", "\"a\t'@b\""}, {"a\n=b", "\"a\n'=b\""},
		{"riser-timber", "riser-timber"}, {"a, -b", `"a, -b"`},
	} {
		if got := csvCell(c.in); got != c.want {
			t.Errorf("%q: %q, want %q", c.in, got, c.want)
		}
	}
}

// Whatever a user called things, no cell of any table begins a formula, also
// where a spreadsheet takes semicolons for the ends of cells.
func TestCSVSafe(t *testing.T) {
	for _, evil := range []string{"=cmd|' /C calc'!A0", "+1", "-1", "@x", "\t=1", "\r=1", "a;=1", "a\n=1", `"=1`, "a,=1"} {
		off := Takeoff{Items: []Item{{ID: evil, Section: evil, Note: evil, Need: Quantity{Count: 1}, Order: Quantity{Count: 1}}},
			Pieces: []Piece{{Section: evil, Use: evil, Length: in(40), Count: 1}}}
		plan := CutPlan{Boards: []Board{{Section: evil, Stock: in(96), Count: 1, Pieces: []BoardPiece{{Length: in(40), Use: evil}}, Offcut: in(50)}}, Unstocked: off.Pieces}
		bill := Bill{Currency: evil, Lines: []Line{{Item: evil, Section: evil, Name: evil, Per: evil, Note: evil}}, Unpriced: []string{evil}, Rounding: evil}
		for name, data := range map[string][]byte{
			"take-off": off.CSV(CSVStyle{}), "pieces": off.PiecesCSV(CSVStyle{}), "cut plan": plan.CSV(CSVStyle{}), "bill": bill.CSV(CSVStyle{}),
			"prices": PricesCSV([]Price{{Item: evil, Name: evil, Per: evil, HoldsPer: evil}}),
		} {
			begins := func(cell, with string) bool { return cell != "" && strings.ContainsRune(with, rune(cell[0])) }
			for _, row := range records(t, data) {
				for _, cell := range row {
					if begins(cell, "\t\r\n") {
						t.Errorf("%s: %q", name, cell)
					}
					for _, part := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(";,\t\r\n", r) }) {
						if begins(part, "=+-@") {
							t.Errorf("%s: %q in %q", name, part, cell)
						}
					}
				}
			}
		}
	}
}

func TestTablesByHand(t *testing.T) {
	off := Takeoff{
		Items: []Item{
			{ID: ItemRiserTimber, Section: "6x6", Need: Quantity{Count: 3, Length: in(144)}, Order: Quantity{Count: 3, Length: in(144)}, Note: "long, dry"},
			{ID: ItemBase, Need: Quantity{Volume: 1.5}, Waste: 0.1, Order: Quantity{Volume: 2, Mass: 4000}},
		},
		Pieces: []Piece{{Section: "6x6", Use: ItemRiserTimber, Length: in(48), Count: 3}},
	}
	plan := CutPlan{Boards: []Board{{Section: "6x6", Stock: in(120), Price: money("41.25"), Count: 2, Pieces: []BoardPiece{{Length: in(48), Use: ItemRiserTimber}, {Length: in(48), Use: ItemRiserTimber}}, Offcut: in(23.75)}}}
	bill := Bill{Currency: "USD", Rounding: RoundHalfUp.says(), Unpriced: []string{"fabric"}, Subtotal: money("82.5"), Total: money("82.5"), Lines: []Line{
		{Item: ItemBoard, Section: "6x6", Length: in(120), Name: "6x6 × 3.048 m", Need: money("2"), Order: money("2"), Buy: money("2"), Per: PerEach, Price: money("41.25"), Cost: money("82.5"), Priced: true},
		{Item: ItemFabric, Name: "fabric", Need: money("10"), Order: money("10.5"), Buy: money("10.5"), Per: PerM2},
	}}
	for _, c := range []struct {
		got  []byte
		want string
	}{
		{off.CSV(CSVStyle{}), `item,section,need_count,need_m,need_m2,need_m3,need_kg,waste_percent,order_count,order_m,order_m2,order_m3,order_kg,note
riser-timber,6x6,3,3.658,,,,0,3,3.658,,,,"long, dry"
base-gravel,,,,,1.5,,10,,,,2,4000,
`},
		{off.CSV(CSVStyle{Imperial: true}), `item,section,need_count,need_ft,need_ft2,need_yd3,need_lb,waste_percent,order_count,order_ft,order_ft2,order_yd3,order_lb,note
riser-timber,6x6,3,12,,,,0,3,12,,,,"long, dry"
base-gravel,,,,,1.9619,,10,,,,2.6159,8818.5,
`},
		{off.PiecesCSV(CSVStyle{Imperial: true}), "use,section,count,length_in\nriser-timber,6x6,3,48\n"},
		{off.PiecesCSV(CSVStyle{}), "use,section,count,length_mm\nriser-timber,6x6,3,1219.2\n"},
		{plan.CSV(CSVStyle{Imperial: true}), `pattern,boards,section,board_in,price,cut,length_in,use,note
1,2,6x6,120,41.25,1,48,riser-timber,
1,2,6x6,120,41.25,2,48,riser-timber,
1,2,6x6,120,41.25,3,23.75,offcut,
`},
		{bill.CSV(CSVStyle{}), `item,section,length_mm,name,need,order,buy,per,price,cost,note
board,6x6,3048,6x6 × 3.048 m,2,2,2,each,41.25,82.50,
fabric,,,fabric,10,10.5,10.5,m2,,,no price
subtotal,,,,,,,USD,,82.50,
tax,,,,,,,USD,,0.00,"each line is rounded half up to the smallest coin, the tax once on the sum of what is taxed"
total,,,,,,,USD,,82.50,without fabric
`},
	} {
		records(t, c.got)
		if got := strings.ReplaceAll(string(c.got), "\r\n", "\n"); got != c.want {
			t.Errorf("got\n%s\nwant\n%s", got, c.want)
		}
	}
}

func TestReadPrices(t *testing.T) {
	want := []Price{
		{Item: ItemBase, Name: "road base, 3/4 minus", Price: money("38.50"), Per: PerYd3, Pack: money("0.5"), Least: money("2")},
		{Item: ItemFill, Price: money("4.25"), Per: PerBag, Holds: money("0.5"), HoldsPer: PerFt3},
		{Item: ItemPin, Price: money("3"), Per: PerEach},
	}
	for name, text := range map[string]string{
		"plain": "item,name,price,per,pack,least,holds,holds_per\nbase-gravel,\"road base, 3/4 minus\",38.50,yd3,0.5,2,,\nfill-gravel,,4.25,bag,,,0.5,ft3\npin,,3,each,,,,\n",
		"other order, CRLF, BOM, blank lines, unpriced, ragged": "\ufeffPer,Price,Item,Name,pack,least,holds,holds per\r\n\r\nyd3,38.50,base-gravel,\"road base, 3/4 minus\",0.5,2\r\n" +
			"bag,4.25,fill-gravel,,,,0.5,ft3\r\nm2,,fabric\r\n,,,,\r\neach,3,pin\r\n",
		"semicolons":       "item;price;per;pack;least;holds;holds_per;name\nbase-gravel;38,50;yd3;0,5;2;;;road base, 3/4 minus\nfill-gravel;4,25;bag;;;0,5;ft3\npin;3;each\n",
		"commas in quotes": "item,price,per,pack,least,holds,holds_per,name\nbase-gravel,\"38,50\",yd3,\"0,500\",\"2,0\",,,\"road base, 3/4 minus\"\nfill-gravel,\"4,25\",bag,,,\"0,5\",ft3\npin,3,each\n",
		"tabs":             "item\tprice\tper\tpack\tleast\tholds\tholds_per\tname\nbase-gravel\t38.50\tyd3\t0.5\t2\t\t\troad base, 3/4 minus\nfill-gravel\t4.25\tbag\t\t\t0.5\tft3\npin\t3\teach\n",
	} {
		got, err := ReadPrices([]byte(text))
		if err != nil || !samePrices(got, want) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	again, err := ReadPrices(PricesCSV(want))
	if err != nil || !samePrices(again, want) {
		t.Errorf("written and read: %+v, %v", again, err)
	}
	odd := []Price{{Item: "=rope", Name: "-5 mm @ \"x\"", Price: money("0"), Per: PerEach}}
	if again, err = ReadPrices(PricesCSV(odd)); err != nil || !samePrices(again, odd) {
		t.Errorf("written and read: %+v, %v", again, err)
	}
}

func samePrices(a, b []Price) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		x, y := a[i], b[i]
		if !x.Price.Equal(y.Price) || !x.Pack.Equal(y.Pack) || !x.Least.Equal(y.Least) || !x.Holds.Equal(y.Holds) {
			return false
		}
		x.Price, x.Pack, x.Least, x.Holds = decimal.Decimal{}, decimal.Decimal{}, decimal.Decimal{}, decimal.Decimal{}
		y.Price, y.Pack, y.Least, y.Holds = decimal.Decimal{}, decimal.Decimal{}, decimal.Decimal{}, decimal.Decimal{}
		if !reflect.DeepEqual(x, y) {
			return false
		}
	}
	return true
}

// Every fault of a file, each with its line.
func TestReadPricesFaults(t *testing.T) {
	text := "item,price,per,pack\n" + // 1
		"pin,$3,each,\n" + // 2
		"\n" +
		"base-gravel,38,yard,-1\n" + // 4
		"fill-gravel,4,bag,\n" + // 5
		"\"two\nlines\",1e9,each,\n" + // 6 and 7
		"pin,4,each,,stray\n" + // 8
		",5,each,\n" + // 9
		"fabric,1.2345678,m2,\n" + // 10
		"a\"b,3,each,\n" + // 11
		"screw,\"1,200\",each,\n" // 12
	_, err := ReadPrices([]byte(text))
	faults, ok := err.(Faults)
	if !ok {
		t.Fatalf("%v", err)
	}
	var fields []string
	for _, f := range faults {
		fields = append(fields, f.Field)
		if f.Problem == "" || f.Fix == "" {
			t.Errorf("%+v", f)
		}
	}
	want := []string{"line 2, price", "line 4, per", "line 4, pack", "line 5, per", "line 6, price", "line 8", "line 8, item", "line 9, item", "line 10, price", "line 11", "line 12, price"}
	if !reflect.DeepEqual(fields, want) {
		t.Errorf("faults in %q, want %q\n%v", fields, want, err)
	} else if fix := faults[10].Fix; fix != "write 1200 or 1.200" {
		t.Errorf("of a comma that may be either: %q", fix)
	}
	for text, field := range map[string]string{
		"":                                         "",
		"\n\n":                                     "",
		"item,price\npin,3\n":                      "line 1",
		"item,price,per,pirce\n":                   "line 1",
		"item,price,per,price\n":                   "line 1",
		"item;price;per\npin;1,250;each\n":         "line 2, price",
		"item,price,per\n\"pin,3,each\n":           "line 2",
		"item,price,per\npin,1.2.3,each\n":         "line 2, price",
		"item,price,per\npin,0x10,each\n":          "line 2, price",
		"item,price,per\npin,.,each\n":             "line 2, price",
		"item,price,per\npin,\"1,234,567\",each\n": "line 2, price",
		"item,price,per\npin,\"1.234,50\",each\n":  "line 2, price",
		strings.Repeat("x", 1+MaxPriceFile):        "",
		"item,price,per\n" + strings.Repeat("p,1,each\n", MaxPrices+1): "line 3, item",
	} {
		_, err := ReadPrices([]byte(text))
		if faults, ok := err.(Faults); !ok || len(faults) == 0 || faults[0].Field != field {
			t.Errorf("%.40q: %v, want a fault in %q", text, err, field)
		}
	}
}

// A heading that is none is told, with what was perhaps meant, and nothing that follows
// from it alone; what is wrong besides is told with it.
func TestReadPricesHeadings(t *testing.T) {
	for text, want := range map[string]string{
		"item,pirce,per\npin,3,each\nfabric,4,m2\n":                   "line 1: \"pirce\" is not a column; perhaps price was meant",
		"itme,price,per\npin,3,each\nfabric,4,m2\n":                   "line 1: \"itme\" is not a column; perhaps item was meant",
		"item,price,pre\npin,3,each\n":                                "line 1: \"pre\" is not a column; perhaps per was meant",
		"item,price,unit\npin,3,each\nfabric,4,m2\n":                  "line 1: \"unit\" is not a column; perhaps per was meant",
		"item,price,per,hold,holds_per\nfill-gravel,4,bag,0.5,ft3\n":  "line 1: \"hold\" is not a column; perhaps holds was meant",
		"secton,length,price\n6x6,12 ft,30\n":                         "line 1: \"secton\" is not a column; perhaps section was meant",
		"section,long,price\n6x6,12 ft,30\n":                          "line 1: \"long\" is not a column; perhaps length was meant",
		"item,price,per,section,long\n,30,,6x6,12 ft\npin,3,each,,\n": "line 1: \"long\" is not a column; write item, name",
		"good,cost,each\npin,3,each\n":                                "line 1: \"good\" is not a column; write item|line 1: \"cost\" is not a column; write|line 1: \"each\" is not a column; write",
		"item,price\npin,3\n":                                         "line 1: has no column per",
		"item,pirce,per\npin,x,each\nspikes,3,each\npin,3,yard\n":     "line 1: \"pirce\" is not|line 2, price: \"x\" is not a number|line 3, item: \"spikes\"|line 4, per: \"yard\"|line 4, item: \"pin\" is priced in line 2",
		"item,price,per\nspikes,x,yard\n":                             "line 2, price: \"x\"|line 2, item: \"spikes\"|line 2, per: \"yard\"",
		"item,price,per,Price\npin,3,each,4\n":                        "line 1: \"Price\" is a column already",
	} {
		_, _, err := ReadPriceTable([]byte(text))
		got := strings.Split(fmt.Sprint(err), "\n")
		parts := strings.Split(want, "|")
		ok := len(got) == len(parts)
		for i := range parts {
			ok = ok && i < len(got) && strings.Contains(strings.Join(got, "\n"), parts[i])
		}
		if !ok {
			t.Errorf("%q\nwant %s\ngot  %v", text, want, err)
		}
	}
}

// Whatever the bytes, they are read or refused; what is read is a list that
// the bill takes, and is read again as it was written.
func FuzzReadPrices(f *testing.F) {
	f.Add([]byte("item,price,per\npin,3,each\n"))
	f.Add([]byte("item;price;per;holds;holds_per\nfill-gravel;4,25;bag;0,5;ft3\n"))
	f.Add([]byte("\ufeffitem\tprice\tper\r\n'=x\t0\tm\r\n\"a\"\"b\"\t1\tkg"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := ReadPrices(data)
		if err != nil {
			return
		}
		if err := (PriceList{Items: list}).Check(); err != nil {
			t.Fatalf("%q gives %+v: %v", data, list, err)
		}
		again, err := ReadPrices(PricesCSV(list))
		if err != nil || len(again) != len(list) {
			t.Fatalf("%q gives %+v, written and read %+v: %v", data, list, again, err)
		}
	})
}
