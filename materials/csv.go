package materials

import (
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"
)

// CSVStyle is how quantities are written to a table. The zero value writes
// millimetres, metres, kilograms; Imperial inches, feet, cubic yards, pounds.
// The column's name has the measure. Numbers have a point and no thousands.
//
// Say, if there is one, says the headings, names and notes in another language;
// items, sections and measures stay codes.
type CSVStyle struct {
	Imperial bool
	Say      func(string) string
}

func (s CSVStyle) say(text string) string {
	if s.Say == nil || text == "" {
		return text
	}
	return s.Say(text)
}

// heading says the names of columns.
func (s CSVStyle) heading(t *csvTable, names ...string) {
	for i, x := range names {
		names[i] = s.say(x)
	}
	t.row(names...)
}

// csvTable writes records after RFC 4180: cells apart by commas, lines ended by
// CR LF, cells with a comma, quote or line end in quotes.
type csvTable struct {
	b strings.Builder
}

func (t *csvTable) row(cells ...string) {
	for i, c := range cells {
		if i > 0 {
			t.b.WriteByte(',')
		}
		t.b.WriteString(csvCell(c))
	}
	t.b.WriteString("\r\n")
}

// csvCell makes a cell that a spreadsheet takes for text: one that begins with
// a character that begins a formula, or has one after what some spreadsheets
// take for the end of a cell, gets an apostrophe before it.
func csvCell(s string) string {
	var b strings.Builder
	ended := false
	for i, c := range s {
		space := c == '\t' || c == '\r' || c == '\n'
		if formulaBegins(c) && (i == 0 || ended && !space) {
			b.WriteByte('\'')
		}
		b.WriteRune(c)
		ended = space || c == ',' || c == ';'
	}
	s = b.String()
	if strings.ContainsAny(s, ",;\"\t\r\n") {
		return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return s
}

func formulaBegins(c rune) bool {
	switch c {
	case '=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠':
		return true
	}
	return false
}

// number writes a figure with at most so many decimals.
func number(x float64, decimals int) string {
	if !finite(x) {
		return ""
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// some is number, or nothing for 0.
func some(x float64, decimals int) string {
	if x == 0 {
		return ""
	}
	return number(x, decimals)
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// short is the name of the measure of short lengths; shortly writes one.
func (s CSVStyle) short() string {
	if s.Imperial {
		return "in"
	}
	return "mm"
}

func (s CSVStyle) shortly(l unit.Length) string {
	if s.Imperial {
		return some(l.Inches(), 4)
	}
	return some(l.Meters()*1000, 1)
}

// CSV writes the items of the take-off, one a line: need, waste allowance and
// order in every measure that each has.
func (t Takeoff) CSV(s CSVStyle) []byte {
	type column struct {
		name string
		of   func(Quantity) string
	}
	columns := []column{
		{"count", func(q Quantity) string { return count(q.Count) }},
		{"m", func(q Quantity) string { return some(q.Length.Meters(), 3) }},
		{"m2", func(q Quantity) string { return some(q.Area.SquareMeters(), 3) }},
		{"m3", func(q Quantity) string { return some(q.Volume.CubicMeters(), 4) }},
		{"kg", func(q Quantity) string { return some(q.Mass.Kilograms(), 1) }},
	}
	if s.Imperial {
		columns = []column{
			{"count", func(q Quantity) string { return count(q.Count) }},
			{"ft", func(q Quantity) string { return some(q.Length.Feet(), 3) }},
			{"ft2", func(q Quantity) string { return some(q.Area.SquareFeet(), 3) }},
			{"yd3", func(q Quantity) string { return some(q.Volume.CubicYards(), 4) }},
			{"lb", func(q Quantity) string { return some(q.Mass.Kilograms()/0.45359237, 1) }},
		}
	}
	var c csvTable
	row := []string{"item", "section"}
	for _, k := range columns {
		row = append(row, "need_"+k.name)
	}
	row = append(row, "waste_percent")
	for _, k := range columns {
		row = append(row, "order_"+k.name)
	}
	s.heading(&c, append(row, "note")...)
	for _, it := range t.Items {
		row := []string{it.ID, it.Section}
		for _, k := range columns {
			row = append(row, k.of(it.Need))
		}
		row = append(row, number(it.Waste*100, 2))
		for _, k := range columns {
			row = append(row, k.of(it.Order))
		}
		c.row(append(row, s.say(it.Note))...)
	}
	return []byte(c.b.String())
}

// PiecesCSV writes the pieces of the take-off, one a line.
func (t Takeoff) PiecesCSV(s CSVStyle) []byte {
	var c csvTable
	s.heading(&c, "use", "section", "count", "length_"+s.short())
	for _, p := range t.Pieces {
		c.row(p.Use, p.Section, strconv.Itoa(p.Count), s.shortly(p.Length))
	}
	return []byte(c.b.String())
}

// CSV writes the cut plan: every piece of every pattern, in the order of
// cutting, and what is left. A pattern is sawn boards times.
func (p CutPlan) CSV(s CSVStyle) []byte {
	var c csvTable
	s.heading(&c, "pattern", "boards", "section", "board_"+s.short(), "price", "cut", "length_"+s.short(), "use", "note")
	for i, b := range p.Boards {
		price := b.Price.String()
		if b.Unpriced {
			price = ""
		}
		board := []string{strconv.Itoa(i + 1), strconv.Itoa(b.Count), b.Section, s.shortly(b.Stock), price}
		row := func(cut int, l unit.Length, use, note string) {
			c.row(append(append([]string(nil), board...), strconv.Itoa(cut), s.shortly(l), use, s.say(note))...)
		}
		on := ""
		if b.OnHand {
			on = "board on hand"
		}
		cut := 0
		for j, x := range b.Pieces {
			if b.FarEnd && j == len(b.Pieces)-1 && b.Offcut > 0 {
				cut++
				row(cut, b.Offcut, s.say("offcut"), on)
			}
			cut++
			note := on
			if x.FactoryEnds > 0 {
				note = strings.TrimPrefix(on+"; keeps a factory end", "; ")
			}
			row(cut, x.Length, x.Use, note)
		}
		if b.Offcut > 0 && !b.FarEnd {
			row(cut+1, b.Offcut, s.say("offcut"), on)
		}
	}
	for _, u := range p.Unstocked {
		c.row("", strconv.Itoa(u.Count), u.Section, "", "", "", s.shortly(u.Length), u.Use, s.say("no stock of this section"))
	}
	return []byte(c.b.String())
}

// CSV writes the bill: its lines, then subtotal, tax and total. Money has at
// least the decimals of the currency's coin. Where lines have no price the
// total says so.
func (b Bill) CSV(s CSVStyle) []byte {
	digits := CoinDigits(b.Currency)
	money := func(d decimal.Decimal) string {
		if -d.Exponent() > digits && !d.Truncate(digits).Equal(d) {
			return d.String()
		}
		return d.StringFixed(digits)
	}
	var c csvTable
	s.heading(&c, "item", "section", "length_"+s.short(), "name", "need", "order", "buy", "per", "price", "cost", "note")
	for _, l := range b.Lines {
		price, cost, note := money(l.Price), money(l.Cost), l.Note
		if !l.Priced {
			price, cost = "", ""
			note = strings.TrimPrefix(note+"; no price", "; ")
		}
		c.row(l.Item, l.Section, s.shortly(l.Length), s.say(l.Name), l.Need.String(), l.Order.String(), l.Buy.String(), l.Per, price, cost, s.say(note))
	}
	without := ""
	if n := len(b.Unpriced); n > 0 {
		without = "without " + strings.Join(b.Unpriced, ", ")
	}
	sum := func(item string, d decimal.Decimal, note string) {
		c.row(item, "", "", "", "", "", "", b.Currency, "", money(d), s.say(note))
	}
	sum("subtotal", b.Subtotal, "")
	sum("tax", b.Tax, b.Rounding)
	sum("total", b.Total, without)
	return []byte(c.b.String())
}
