package materials

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// MaxPriceFile is the most bytes of a price list that are read.
const MaxPriceFile = 1 << 20

// priceColumns are the columns of a price list, as a file and as faults name
// them.
var priceColumns = []string{"item", "name", "price", "per", "pack", "least", "holds", "holds_per"}

// ReadPrices reads a price list from a table: comma-separated values after RFC
// 4180, or with semicolons or tabs in place of the commas. The first line names
// the columns, in any order: item, price and per, and where wanted name, pack,
// least, holds and holds_per, each as the field of [Price]. A line without a
// price is left out: its item is not priced.
//
// Numbers have a point. Where semicolons or tabs part the cells, a comma
// before one, two or four decimals is read as one too. An apostrophe that a
// table was made safe with is taken off.
//
// The error is a [Faults] with every fault; each names its line, counted from
// 1, and its column: "line 3, price".
func ReadPrices(data []byte) ([]Price, error) {
	var faults Faults
	if len(data) > MaxPriceFile {
		faults.Add("", strconv.Itoa(len(data))+" bytes", fmt.Sprintf("is more than %d", MaxPriceFile), "leave out what is not wanted")
		return nil, faults
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	r.ReuseRecord = true
	r.Comma = separator(text)
	comma := r.Comma != ','

	var columns []int // of each cell, the index in priceColumns or -1
	var list []Price
	lines := map[string]int{}
	for {
		record, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			var bad *csv.ParseError
			if !errors.As(err, &bad) {
				return nil, Faults{{Problem: err.Error()}}
			}
			faults.Add(fmt.Sprintf("line %d", bad.Line), "", "has a quote that is not closed, or stands inside a cell", `put the whole cell in quotes and write a quote in it twice`)
			continue
		}
		line, _ := r.FieldPos(0)
		if blank(record) {
			continue
		}
		if columns == nil {
			columns = readHeader(record, line, &faults)
			continue
		}
		if len(list) == MaxPrices {
			faults.Add(fmt.Sprintf("line %d", line), "", fmt.Sprintf("is after %d prices", MaxPrices), "leave out what is not wanted")
			break
		}
		if p, ok := readPrice(record, columns, line, comma, &faults); ok {
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
		return nil, faults
	}
	return list, nil
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

func readHeader(record []string, line int, f *Faults) []int {
	columns := make([]int, len(record))
	var have [8]bool
	for i, c := range record {
		name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(c)), " ", "_")
		columns[i] = -1
		for k, want := range priceColumns {
			if name == want {
				columns[i] = k
			}
		}
		at := fmt.Sprintf("line %d", line)
		switch k := columns[i]; {
		case k < 0 && name == "": // a column without a name may only be empty
		case k < 0:
			f.Add(at, c, "is not a column", "write "+strings.Join(priceColumns, ", "))
		case have[k]:
			f.Add(at, c, "is a column already", "name each column once")
		default:
			have[k] = true
		}
	}
	for k, ok := range have[:] {
		if name := priceColumns[k]; !ok && (name == "item" || name == "price" || name == "per") {
			f.Add(fmt.Sprintf("line %d", line), "", "has no column "+name, "name the columns in the first line: item,price,per")
		}
	}
	return columns
}

// readPrice reads one line. It reports whether there is a price on it.
func readPrice(record []string, columns []int, line int, comma bool, f *Faults) (Price, bool) {
	at := func(column string) string { return fmt.Sprintf("line %d, %s", line, column) }
	var cells [8]string
	for i, c := range record {
		c = strings.TrimSpace(c)
		if i >= len(columns) || columns[i] < 0 {
			if c != "" {
				f.Add(fmt.Sprintf("line %d", line), c, "has no column", "put a cell with a comma in it in quotes, or name the column")
			}
			continue
		}
		cells[columns[i]] = bare(c)
	}
	if cells[2] == "" {
		return Price{}, false
	}
	ok := true
	amount := func(k int) decimal.Decimal {
		if cells[k] == "" {
			return decimal.Decimal{}
		}
		d, why := readDecimal(cells[k], comma)
		if why != "" {
			f.Add(at(priceColumns[k]), cells[k], why, "write a plain number, as 12.50")
			ok = false
		}
		return d
	}
	p := Price{Item: cells[0], Name: cells[1], Per: cells[3], HoldsPer: cells[7]}
	p.Price, p.Pack, p.Least, p.Holds = amount(2), amount(4), amount(5), amount(6)
	if ok {
		p.check(at, f)
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

// readDecimal reads a plain number, or says why it is none. A decimal comma is
// understood where commas do not part the cells.
func readDecimal(s string, comma bool) (d decimal.Decimal, why string) {
	if whole, part, found := strings.Cut(s, ","); found {
		if !comma {
			return d, "is not a number"
		}
		switch len(part) {
		case 1, 2, 4:
			s = whole + "." + part
		default:
			return d, "may be thousands or decimals"
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
	d, err := decimal.NewFromString(s)
	if err != nil {
		return d, "is not a number"
	}
	return d, ""
}

// PricesCSV writes a price list as [ReadPrices] reads it.
func PricesCSV(list []Price) []byte {
	var c csvTable
	c.row(priceColumns...)
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
		c.row(p.Item, p.Name, price, p.Per, amount(p.Pack), amount(p.Least), amount(p.Holds), p.HoldsPer)
	}
	return []byte(c.b.String())
}
