package slopewright

import (
	"slices"
	"strconv"
	"strings"

	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/internal/fault"
)

// Quantity is a density, an output of work or the like as a document holds it, in the
// unit that its field is in, with the text it was typed as.
type Quantity struct {
	_     [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Value float64
	// Text is the quantity as typed, or "" for a number.
	Text string
	unit string
}

// quantities are the units that those of a field can be written in, with their sizes: a row
// for each unit of fields, which is the first; the second is what bounds are told in beside it.
var quantities = [...]string{
	"kg/m3 1 lb/ft3 16.018463373960138 lb/yd3 0.5932764212577829 t/m3 1000",
	"m3/h 1 yd3/h 0.764554857984 ft3/h 0.028316846592",
	"m2/h 1 ft2/h 0.09290304 yd2/h 0.83612736",
	"m3 1 ft3 0.028316846592 yd3 0.764554857984 l 0.001",
	"m/min 1 ft/min 0.3048",
	"m2/l 1 ft2/gal 0.02454238674711116",
	"h/m 1 h/ft 3.280839895013123",
}

const (
	cubicYard    = 0.764554857984     // m³
	poundPerFoot = 16.018463373960138 // kg/m³: 0.45359237 kg in 0.3048³ m³
)

// unitWords are words and signs of units, of which the first of a row stands for the others.
var unitWords = [...]string{
	"/|per|a|an|por", "h|hr|hrs|hour|hours|hora", "min|minute|minutes|minuto", "lb|lbs|pound|pounds|libra|libras", "kg|kilos", "t|tonnes|toneladas",
	"ft|foot|feet|pie|pies", "yd|yds|yard|yards|yarda|yardas", "m|metre|meter|metres|meters|metro|metros", "gal|gallon|gallons|galón|galones", "l|litre|liter|litres|liters|litro|litros",
	"3|cúbico|cúbicos|cúbica|cúbicas", "2|cuadrado|cuadrados|cuadrada|cuadradas",
}

// measures are the units of the field.
func (q *Quantity) measures() (all []measure) {
	for _, row := range quantities {
		words := strings.Fields(row)
		for i := 0; i < len(words) && words[0] == q.unit; i += 2 {
			by, _ := strconv.ParseFloat(words[i+1], 64)
			all = append(all, measure{words[i], by})
		}
	}
	return all
}

// In says which unit the field of the quantity is in.
func (q *Quantity) In(unit string) { q.unit = unit }

// ReadNode reads a number of the field's unit, or a number with one of the units that
// there are for it.
func (q *Quantity) ReadNode(n docjson.Node) (err error) {
	all := q.measures()
	var names []string
	for _, x := range all {
		names = append(names, x.name)
	}
	text := n.Text
	if n.Kind == docjson.String {
		n.Text = plainUnit(text)
	}
	q.Value, err = readMeasure(n, &q.Text, fault.Fault{
		Problem: "is not a number of " + q.unit,
		Fix:     "write one, or in quotation marks a number with its unit: " + strings.Join(names, ", "),
	}, all...)
	if q.Text != "" {
		q.Text = text
	}
	return err
}

// plainUnit puts a number and a unit as they are said into signs: 80 lb per cu ft is
// 80 lb/ft3.
func plainUnit(text string) string {
	text = strings.ToLower(strings.TrimSpace(text))
	end := 0
	for end < len(text) && strings.IndexByte("0123456789.,-", text[end]) >= 0 {
		end++
	}
	figure := text[:end]
	if at := strings.IndexByte(figure, ','); at >= 0 && (len(figure)-at == 2 || len(figure)-at == 3) {
		figure = figure[:at] + "." + figure[at+1:]
	}
	text = strings.ReplaceAll(strings.ReplaceAll(text[end:], "/", " / "), ".", " ")
	text = strings.ReplaceAll(strings.ReplaceAll(text, "²", "2"), "³", "3")
	out, power := figure+" ", ""
	for _, word := range strings.Fields(text) {
		switch word {
		case "cu", "cubic":
			power = "3"
			continue
		case "sq", "square":
			power = "2"
			continue
		}
		bare := strings.TrimRight(word, "23")
		for _, row := range unitWords {
			if known := strings.Split(row, "|"); slices.Contains(known, bare) {
				word = known[0] + word[len(bare):]
			}
		}
		out, power = out+word+power, ""
	}
	return out
}

// JSONSchema is the schema of a quantity in a document.
func (q *Quantity) JSONSchema() map[string]any {
	return map[string]any{
		"anyOf": []any{
			map[string]any{"type": "number"},
			map[string]any{"type": "string", "minLength": 3, "maxLength": 64},
		},
		"$comment": "a number of " + q.unit + `; text: "80 ` + q.measures()[1].name + `"`,
	}
}

// SI is the quantity in its field's unit, as a document's number is.
func (q *Quantity) SI() float64 { return q.Value }

// SetSI makes it so much of its field's unit.
func (q *Quantity) SetSI(x float64) { q.Value, q.Text = x, "" }

// Bound writes a bound in both systems.
func (q *Quantity) Bound(x float64) string {
	other := q.measures()[1]
	return number(x, 3) + " " + q.unit + " (" + number(x/other.by, places(x/other.by, 1)) + " " + other.name + ")"
}

// AppendJSON appends the quantity as it was typed, or as a number.
func (q Quantity) AppendJSON(b []byte) []byte { return appendTyped(b, q.Text, q.Value) }

// MarshalJSON implements json.Marshaler.
func (q Quantity) MarshalJSON() ([]byte, error) { return q.AppendJSON(nil), nil }

// value is the number, nil where there is none.
func (q *Quantity) value() *float64 {
	if q == nil {
		return nil
	}
	return &q.Value
}

func quantityOr(q *Quantity, other float64) float64 {
	if q == nil {
		return other
	}
	return q.Value
}
