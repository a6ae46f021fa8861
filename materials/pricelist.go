package materials

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/internal/fault"
)

// MaxPriceFile is the most bytes of a price list that are read.
const MaxPriceFile = 1 << 20

// priceColumns are the columns of a price list, as a file and as faults name
// them; those from section on are of timber.
var priceColumns = [...]string{"item", "name", "price", "per", "pack", "least", "holds", "holds_per",
	"section", "length", "available", "on_hand", "cut_ends", "thickness", "width"}

// columnSection is the first column of timber.
const columnSection = 8

// TimberPrice is a line of a price list that prices a length of timber: its cells as
// they are written, by the names of their columns, a decimal comma of the price as a
// point.
type TimberPrice struct {
	Line  int
	Cells [][2]string
}

// ReadPrices is [ReadPriceTable] without the timber.
func ReadPrices(data []byte) ([]Price, error) {
	list, _, err := ReadPriceTable(data)
	return list, err
}

// ReadPriceTable reads a price list from a table: comma-separated values after RFC
// 4180, or with semicolons or tabs in place of the commas. The first line names
// the columns, in any order: item, price and per, and where wanted name, pack,
// least, holds and holds_per, each as the field of [Price]. A line without a
// price is left out: its item is not priced.
//
// A line with a section prices timber of a length, and is given beside faults as well: section, length and price, and
// where wanted available, on_hand, cut_ends, thickness and width; its item is board,
// or left out. It needs no price where there is some on hand.
//
// Numbers have a point or a decimal comma, and no marks between thousands; where commas part
// the cells, one with a comma in it is in quotes. A comma before three figures may part
// thousands and is refused, but after a nought. An apostrophe that a
// table was made safe with is taken off.
//
// The error is a [Faults] with every fault; each names its line, counted from
// 1, and its column: "line 3, price".
func ReadPriceTable(data []byte) ([]Price, []TimberPrice, error) {
	var faults Faults
	if len(data) > MaxPriceFile {
		faults.Add("", strconv.Itoa(len(data))+" bytes", fmt.Sprintf("is more than %d", MaxPriceFile), "leave out what is not wanted")
		return nil, nil, faults
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	r.ReuseRecord = true
	r.Comma = separator(text)

	var columns []int                   // of each cell, the index in priceColumns, or below 0
	var lacking [len(priceColumns)]bool // columns that a faulty heading may be
	var list []Price
	var timber []TimberPrice
	lines := map[string]int{}
	for {
		record, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			var bad *csv.ParseError
			if !errors.As(err, &bad) {
				return nil, nil, Faults{{Problem: err.Error()}}
			}
			faults.Add(fmt.Sprintf("line %d", bad.Line), "", "has a quote that is not closed, or stands inside a cell", `put the whole cell in quotes and write a quote in it twice`)
			continue
		}
		line, _ := r.FieldPos(0)
		if blank(record) {
			continue
		}
		if columns == nil {
			columns, lacking = readHeader(record, line, &faults)
			continue
		}
		if len(list)+len(timber) == MaxPrices {
			faults.Add(fmt.Sprintf("line %d", line), "", fmt.Sprintf("is after %d prices", MaxPrices), "leave out what is not wanted")
			break
		}
		if t, is := readTimber(record, columns, lacking, line, &faults); is {
			if t.Cells != nil {
				timber = append(timber, t)
			}
			continue
		}
		if p, ok := readPrice(record, columns, lacking, line, &faults); ok {
			if before, twice := lines[p.Item]; twice {
				faults.Add(fmt.Sprintf("line %d, item", line), p.Item, fmt.Sprintf("is priced in line %d already", before), "give each item one price")
			}
			lines[p.Item] = line
			list = append(list, p)
		}
	}
	if columns == nil && len(faults) == 0 {
		faults.Add("", "", "is empty", "name the columns in the first line: item,price,per")
	}
	if len(faults) > 0 {
		return nil, timber, faults
	}
	return list, timber, nil
}

// separator is what parts the cells: what the first line has most of.
func separator(text string) rune {
	head, _, _ := strings.Cut(strings.TrimLeft(text, "\r\n"), "\n")
	best, most := ',', strings.Count(head, ",")
	for _, c := range []rune{';', '\t'} {
		if n := strings.Count(head, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}

func blank(record []string) bool {
	for _, c := range record {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// What a cell is under, beside a column.
const (
	noHeading  = -1 // nothing, or below a heading without a name
	badHeading = -2 // a heading that was faulted: its cells are not
)

// readHeader finds the columns. A misspelt heading is a fault and is read as what was
// perhaps meant: the column that its name is near to, or the only one that is wanting.
// Where neither is known, lacking are the columns it may be, and no more is said of them.
func readHeader(record []string, line int, f *Faults) (columns []int, lacking [len(priceColumns)]bool) {
	columns = make([]int, len(record))
	var have [len(priceColumns)]bool
	at := fmt.Sprintf("line %d", line)
	unknown := 0
	for i, c := range record {
		name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(c)), " ", "_")
		columns[i] = noHeading
		for k, want := range priceColumns {
			if name == want {
				columns[i] = k
			}
		}
		switch k := columns[i]; {
		case k < 0 && name == "": // a column without a name may only be empty
		case k < 0:
			columns[i] = badHeading
			unknown++
		case have[k]:
			f.Add(at, c, "is a column already", "name each column once")
			columns[i] = badHeading
		default:
			have[k] = true
		}
	}
	// Goods need item and per, timber section and length; one of the two there must be.
	wanting := func() (names []string) {
		of := [...]string{"item", "per"}
		goods, timber := have[0] && have[3], have[columnSection] && have[columnSection+1]
		if have[columnSection] != have[columnSection+1] {
			of = [...]string{"section", "length"}
		}
		for k, name := range priceColumns {
			if !have[k] && (name == "price" || !goods && !timber && (name == of[0] || name == of[1])) {
				names = append(names, name)
				lacking[k] = true
			}
		}
		return names
	}
	for i, c := range record {
		if columns[i] != badHeading || unknown == 0 {
			continue
		}
		name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(c)), " ", "_")
		var free []string
		same := false
		for k, want := range priceColumns {
			if !have[k] {
				free = append(free, want)
			}
			same = same || name == want
		}
		if same {
			continue // told already
		}
		meant := fault.Nearest(name, free, max(1, len(name)/3))
		if want := wanting(); meant == "" && unknown == 1 && len(want) == 1 {
			meant = want[0]
		}
		if meant == "" {
			f.Add(at, c, "is not a column", "write "+strings.Join(priceColumns[:], ", "))
			continue
		}
		f.Add(at, c, "is not a column", "perhaps "+meant+" was meant")
		for k, want := range priceColumns {
			if want == meant {
				columns[i], have[k] = k, true
			}
		}
		unknown--
	}
	lacking = [len(priceColumns)]bool{}
	for _, name := range wanting() {
		if unknown == 0 {
			f.Add(at, "", "has no column "+name, "name the columns in the first line: item,price,per for goods, section,length,price for timber")
		}
	}
	for k := range lacking {
		lacking[k] = lacking[k] || unknown > 0 && !have[k]
	}
	return columns, lacking
}

// cellsOf sorts the cells of a line by their columns.
func cellsOf(record []string, columns []int, line int, f *Faults) (cells [len(priceColumns)]string) {
	for i, c := range record {
		c = strings.TrimSpace(c)
		if i >= len(columns) || columns[i] < 0 {
			if c != "" && (i >= len(columns) || columns[i] == noHeading) {
				f.Add(fmt.Sprintf("line %d", line), c, "has no column", "put a cell with a comma in it in quotes, or name the column")
			}
			continue
		}
		cells[columns[i]] = bare(c)
	}
	return cells
}

// readTimber reads a line that prices timber; is is false for any other. What was told
// of already has something that would do in its place, so that the rest is looked at.
func readTimber(record []string, columns []int, lacking [len(priceColumns)]bool, line int, f *Faults) (t TimberPrice, is bool) {
	var unread Faults // told where it is a line of goods
	cells := cellsOf(record, columns, line, &unread)
	if cells[columnSection] == "" {
		return t, false
	}
	*f = append(*f, unread...)
	if item := cells[0]; item != "" && item != ItemBoard {
		f.Add(fmt.Sprintf("line %d, item", line), item, "is not timber, and the line has a section", "write board, or leave the section out")
	}
	if per := cells[3]; per != "" && per != PerEach {
		f.Add(fmt.Sprintf("line %d, per", line), per, "is not how timber of a length is priced", "write each, or leave it out")
	}
	if cells[2] == "" && cells[columnSection+3] == "" && !lacking[2] {
		return t, true // left out
	}
	if lacking[columnSection+1] {
		cells[columnSection+1] = "1 m"
	}
	if cells[2] != "" {
		if _, why := readDecimal(cells[2]); why != "" {
			f.Add(fmt.Sprintf("line %d, price", line), cells[2], why, plainNumber(cells[2], why))
			cells[2] = "1"
		}
		cells[2] = strings.Replace(cells[2], ",", ".", 1)
	}
	t.Line = line
	for k, c := range cells {
		if c != "" && (k == 2 || k >= columnSection) {
			t.Cells = append(t.Cells, [2]string{priceColumns[k], c})
		}
	}
	return t, true
}

// readPrice reads one line. It reports whether there is a price on it. What cannot be
// read, or has no column, hides the checks of its own.
func readPrice(record []string, columns []int, lacking [len(priceColumns)]bool, line int, f *Faults) (Price, bool) {
	at := func(column string) string { return fmt.Sprintf("line %d, %s", line, column) }
	cells := cellsOf(record, columns, line, f)
	if cells[2] == "" && !lacking[2] {
		return Price{}, false
	}
	unread := lacking
	amount := func(k int) decimal.Decimal {
		if cells[k] == "" {
			return decimal.Decimal{}
		}
		d, why := readDecimal(cells[k])
		if why != "" {
			f.Add(at(priceColumns[k]), cells[k], why, plainNumber(cells[k], why))
			unread[k] = true
		}
		return d
	}
	if item, known := ItemCalled(cells[0]); known {
		cells[0] = item
	} else if !lacking[0] {
		f.Add(at("item"), cells[0], "is not an item of a take-off", "perhaps "+item+" was meant")
		unread[0] = true
	}
	p := Price{Item: cells[0], Name: cells[1], Per: cells[3], HoldsPer: cells[7]}
	p.Price, p.Pack, p.Least, p.Holds = amount(2), amount(4), amount(5), amount(6)
	var checked Faults
	p.check(at, &checked)
next:
	for _, x := range checked {
		for k, no := range unread[:] {
			if no && x.Field == at(priceColumns[k]) {
				continue next
			}
		}
		*f = append(*f, x)
	}
	return p, true
}

// bare takes off the apostrophe of a cell made safe.
func bare(c string) string {
	if rest, ok := strings.CutPrefix(c, "'"); ok {
		for _, r := range rest {
			if formulaBegins(r) {
				return rest
			}
			break
		}
	}
	return c
}

const thousandsOrDecimals = "may be thousands or decimals"

// plainNumber is what would do for a cell that is no number.
func plainNumber(s, why string) string {
	if why == thousandsOrDecimals {
		return "write " + strings.Replace(s, ",", "", 1) + " or " + strings.Replace(s, ",", ".", 1)
	}
	return "write a plain number, as 12.50"
}

// readDecimal reads a plain number, or says why it is none.
func readDecimal(s string) (d decimal.Decimal, why string) {
	if whole, part, found := strings.Cut(s, ","); found {
		if s = whole + "." + part; len(part) == 3 && strings.Trim(whole, "-0") != "" {
			why = thousandsOrDecimals
		}
	}
	digits, points := 0, 0
	for i, c := range s {
		switch {
		case c >= '0' && c <= '9':
			digits++
		case c == '.':
			points++
		case c == '-' && i == 0: // refused later, as negative
		default:
			return d, "is not a number"
		}
	}
	if digits == 0 || points > 1 || digits > 30 {
		return d, "is not a number"
	}
	if why != "" {
		return d, why
	}
	d, err := decimal.NewFromString(s)
	if err != nil {
		return d, "is not a number"
	}
	return d, ""
}

// PricesCSV writes a price list as [ReadPriceTable] reads it.
func PricesCSV(list []Price, timber ...TimberPrice) []byte {
	var c csvTable
	c.row(priceColumns[:]...)
	amount := func(d decimal.Decimal) string {
		if d.IsZero() || !plain(d) {
			return ""
		}
		return d.String()
	}
	for _, p := range list {
		price := ""
		if plain(p.Price) {
			price = p.Price.String()
		}
		c.row(p.Item, p.Name, price, p.Per, amount(p.Pack), amount(p.Least), amount(p.Holds), p.HoldsPer, "", "", "", "", "", "", "")
	}
	for _, t := range timber {
		row := [len(priceColumns)]string{0: ItemBoard, 3: PerEach}
		for _, x := range t.Cells {
			for k, name := range priceColumns {
				if name == x[0] {
					row[k] = x[1]
				}
			}
		}
		c.row(row[:]...)
	}
	return []byte(c.b.String())
}
