package slopewright

import (
	"strconv"

	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/internal/fault"
	"github.com/slopewright/slopewright/internal/tape"
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

const (
	cubicYard    = 0.764554857984     // m³
	poundPerFoot = 16.018463373960138 // kg/m³: 0.45359237 kg in 0.3048³ m³
)

// In says which unit the field of the quantity is in.
func (q *Quantity) In(unit string) { q.unit = unit }

// ReadNode reads a number of the field's unit, or a number with one of the units that
// there are for it.
func (q *Quantity) ReadNode(n docjson.Node) error {
	ok := false
	switch n.Kind {
	case docjson.Number:
		x, err := strconv.ParseFloat(n.Text, 64)
		q.Value, ok = x, err == nil
	case docjson.String:
		q.Value, ok = tape.ParseQuantity(n.Text, q.unit)
		q.Text = n.Text
	}
	if ok {
		return nil
	}
	fix := "write one, or in quotation marks a number with its unit: " + q.unit
	for i, x := range tape.Units(q.unit) {
		if i > 0 && i%2 == 0 {
			fix += ", " + x
		}
	}
	return fault.Fault{Problem: "is not a number of " + q.unit, Fix: fix}
}

// JSONSchema is the schema of a quantity in a document.
func (q *Quantity) JSONSchema() map[string]any {
	return map[string]any{
		"anyOf": []any{
			map[string]any{"type": "number"},
			map[string]any{"type": "string", "minLength": 3, "maxLength": 64},
		},
		"$comment": "a number of " + q.unit + `; text: "80 ` + tape.Units(q.unit)[2] + `"`,
	}
}

// SI is the quantity in its field's unit, as a document's number is.
func (q *Quantity) SI() float64 { return q.Value }

// SetSI makes it so much of its field's unit.
func (q *Quantity) SetSI(x float64) { q.Value, q.Text = x, "" }

// Bound writes a bound in both systems.
func (q *Quantity) Bound(x float64) string {
	other := tape.Units(q.unit)[2:4]
	by, _ := strconv.ParseFloat(other[1], 64)
	return number(x, 3) + " " + q.unit + " (" + number(x/by, places(x/by, 1)) + " " + other[0] + ")"
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
