package slopewright

import (
	"math"
	"strconv"
	"strings"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/internal/docjson"
	"github.com/slopewright/slopewright/internal/fault"
	"github.com/slopewright/slopewright/internal/tape"
)

// Length is a length as a document holds it: its value, and the text it was
// typed as, which is kept so that nothing a person wrote is lost. The zero
// Length is 0 m.
type Length struct {
	unit.Length
	// Text is the tape reading as typed, or "" for a number in metres.
	Text string
}

// Metres is a Length of so many metres, written to a document as a number.
func Metres(m float64) Length { return Length{Length: unit.Length(m) * unit.Meter} }

// ParseLength reads a length as people write it: 5' 3 3/8", 5 ft 3 3/8 in,
// 5-3 3/8, 9.5 in, 1.61 m, 1610 mm, 1 m 5 cm. The error is a [Fault].
func ParseLength(text string) (Length, error) {
	l, err := tape.ParseLength(text)
	if err != nil {
		return Length{}, err
	}
	return Length{l, text}, nil
}

// ReadNode reads a tape reading or a number of metres.
func (l *Length) ReadNode(n docjson.Node) error {
	switch n.Kind {
	case docjson.Number:
		m, err := strconv.ParseFloat(n.Text, 64)
		if err != nil || math.Abs(m) > maxMetres {
			return fault.Fault{Problem: "is not a length of this world", Fix: "write metres between -1000000 and 1000000"}
		}
		*l = Metres(m)
		return nil
	case docjson.String:
		v, err := tape.ParseLength(n.Text)
		if err != nil {
			return err
		}
		*l = Length{v, n.Text}
		return nil
	}
	return fault.Fault{Problem: "is not a length", Fix: `write a tape reading in quotation marks such as "5 ft 3 in" or "1.61 m", or a number of metres`}
}

const maxMetres = 1e6

// JSONSchema is the schema of a length in a document.
func (*Length) JSONSchema() map[string]any {
	return map[string]any{
		"anyOf": []any{
			map[string]any{"type": "number", "minimum": -maxMetres, "maximum": maxMetres},
			map[string]any{"type": "string", "minLength": 2, "maxLength": 64},
		},
		"$comment": `a tape reading such as "5' 3 3/8\"", "9.5 in", "1.61 m"; a number is metres`,
	}
}

// SI is the length in metres.
func (l *Length) SI() float64 { return l.Meters() }

// SetSI makes it a length of so many metres.
func (l *Length) SetSI(m float64) { *l = Metres(m) }

// Bound writes a bound in both systems, for a message.
func (*Length) Bound(m float64) string {
	if m == 0 {
		return "0"
	}
	return strconv.FormatFloat(m, 'g', 6, 64) + " m (" + tape.Style{Imperial: true}.Length(unit.Length(m)) + ")"
}

// AppendJSON appends the length as it was typed, or as a number of metres.
func (l Length) AppendJSON(b []byte) []byte { return appendTyped(b, l.Text, l.Meters()) }

// MarshalJSON implements json.Marshaler.
func (l Length) MarshalJSON() ([]byte, error) { return l.AppendJSON(nil), nil }

// appendTyped appends the text typed, or the number where there is none; a
// number that JSON cannot hold is written as null.
func appendTyped(b []byte, text string, number float64) []byte {
	if text != "" {
		return docjson.AppendString(b, text)
	}
	out, ok := docjson.AppendFloat(b, number)
	if !ok {
		return append(b, "null"...)
	}
	return out
}

// Slope is a ratio of rise to run, or of fall to run, with the text it was
// typed as. The zero Slope is level.
type Slope struct {
	Ratio float64
	Text  string
}

// ParseSlope reads a slope as people write it: 2 %, 1:48, 1/4 in per ft, 12°.
// The error is a [Fault].
func ParseSlope(text string) (Slope, error) {
	r, err := tape.ParseSlope(text)
	if err != nil {
		return Slope{}, err
	}
	return Slope{r, text}, nil
}

// ReadNode reads a slope in words or a ratio as a number.
func (s *Slope) ReadNode(n docjson.Node) error {
	switch n.Kind {
	case docjson.Number:
		r, err := strconv.ParseFloat(n.Text, 64)
		if err != nil {
			return fault.Fault{Problem: "is not a slope", Fix: "write a ratio such as 0.02"}
		}
		*s = Slope{Ratio: r}
		return nil
	case docjson.String:
		r, err := tape.ParseSlope(n.Text)
		if err != nil {
			return err
		}
		*s = Slope{r, n.Text}
		return nil
	}
	return fault.Fault{Problem: "is not a slope", Fix: `write "2 %", "1:48", "1/4 in per ft" or a ratio such as 0.02`}
}

// JSONSchema is the schema of a slope in a document.
func (*Slope) JSONSchema() map[string]any {
	return map[string]any{
		"anyOf": []any{
			map[string]any{"type": "number"},
			map[string]any{"type": "string", "minLength": 2, "maxLength": 64},
		},
		"$comment": `"2 %", "1:48", "1/4 in per ft", "12°"; a number is a ratio`,
	}
}

// SI is the ratio.
func (s *Slope) SI() float64 { return s.Ratio }

// SetSI makes it that ratio.
func (s *Slope) SetSI(ratio float64) { *s = Slope{Ratio: ratio} }

// Bound writes a bound as a percentage.
func (*Slope) Bound(r float64) string { return strconv.FormatFloat(r*100, 'g', 6, 64) + " %" }

// AppendJSON appends the slope as it was typed, or as a ratio.
func (s Slope) AppendJSON(b []byte) []byte { return appendTyped(b, s.Text, s.Ratio) }

// MarshalJSON implements json.Marshaler.
func (s Slope) MarshalJSON() ([]byte, error) { return s.AppendJSON(nil), nil }

// Angle is an angle above the horizontal with the text it was typed as.
type Angle struct {
	unit.Angle
	Text string
}

// ReadNode reads an angle in words or a number of degrees.
func (a *Angle) ReadNode(n docjson.Node) error {
	switch n.Kind {
	case docjson.Number:
		d, err := strconv.ParseFloat(n.Text, 64)
		if err != nil {
			return fault.Fault{Problem: "is not an angle", Fix: "write degrees such as 12.5"}
		}
		*a = Angle{Angle: unit.Angle(d) * (math.Pi / 180)}
		return nil
	case docjson.String:
		v, err := tape.ParseAngle(n.Text)
		if err != nil {
			return err
		}
		*a = Angle{v, n.Text}
		return nil
	}
	return fault.Fault{Problem: "is not an angle", Fix: `write "12.5°" or a number of degrees`}
}

// JSONSchema is the schema of an angle in a document.
func (*Angle) JSONSchema() map[string]any {
	return map[string]any{
		"anyOf": []any{
			map[string]any{"type": "number"},
			map[string]any{"type": "string", "minLength": 2, "maxLength": 64},
		},
		"$comment": `"12.5°", "12 deg"; a number is degrees above the horizontal`,
	}
}

// SI is the angle in radians.
func (a *Angle) SI() float64 { return float64(a.Angle) }

// SetSI makes it an angle of so many radians.
func (a *Angle) SetSI(rad float64) { *a = Angle{Angle: unit.Angle(rad)} }

// Bound writes a bound in degrees.
func (*Angle) Bound(r float64) string {
	return strconv.FormatFloat(math.Round(r*180/math.Pi), 'g', 6, 64) + "°"
}

// AppendJSON appends the angle as it was typed, or in degrees.
func (a Angle) AppendJSON(b []byte) []byte {
	return appendTyped(b, a.Text, float64(a.Angle)*180/math.Pi)
}

// MarshalJSON implements json.Marshaler.
func (a Angle) MarshalJSON() ([]byte, error) { return a.AppendJSON(nil), nil }

// Money is an amount of money: a decimal, exact to the last digit typed.
type Money struct {
	decimal.Decimal
	// Sign is what it was written in, where that was written with it: $, €, £ or a code
	// of three capitals. A plan's own prices are in the plan's currency.
	Sign string
}

// dollars are currencies whose sign is $.
const dollars = "USD,CAD,AUD,NZD,HKD,SGD,TWD,MXN,ARS,CLP,COP,UYU,DOP"

// in is whether the amount may be in a currency.
func (m *Money) in(currency string) bool {
	switch m.Sign {
	case "$":
		return strings.Contains(dollars, currency)
	case "€":
		return currency == "EUR"
	case "£":
		return currency == "GBP"
	}
	return m.Sign == "" || m.Sign == currency
}

// moneyFix is what would do for an amount of money.
const moneyFix = `write an amount in quotation marks with a decimal point, such as "12.50"`

// ParseMoney reads an amount of money of up to twelve digits and six decimals, with a
// point or, before one or two decimals, a comma: 1,200 may be thousands; with or without
// its currency, as $9.75, 9,75 € or 9.75 CAD. The error is a [Fault].
func ParseMoney(amount string) (Money, error) {
	sign, amount := tape.CutSign(amount)
	text := amount
	if whole, part, comma := strings.Cut(text, ","); comma && !strings.Contains(whole, ".") {
		switch text = whole + "." + part; {
		case len(part) == 3:
			if _, ok := readDecimal(text); ok {
				return Money{}, fault.Fault{Problem: "may mean " + whole + part + " or " + text + ": the comma may part thousands or decimals", Fix: "write " + whole + part + " or " + text}
			}
		case len(part) > 3:
			text = amount
		}
	}
	d, ok := readDecimal(text)
	if !ok {
		if meant := tape.Figures(text); meant != text {
			if _, ok = readDecimal(meant); ok {
				return Money{}, fault.Fault{Problem: "is not an amount of money: it has a letter for a figure in it", Fix: "write " + meant}
			}
		}
		return Money{}, fault.Fault{Problem: "is not an amount of money", Fix: moneyFix}
	}
	if d.IsNegative() {
		return Money{}, fault.Fault{Problem: "is less than nothing", Fix: moneyFix}
	}
	return Money{d, sign}, nil
}

// ReadNode reads an amount written as a string. A JSON number is refused: 12.30 is not the
// same amount in every reader of numbers.
func (m *Money) ReadNode(n docjson.Node) (err error) {
	if n.Kind != docjson.String {
		return fault.Fault{Problem: "is not an amount of money", Fix: moneyFix}
	}
	*m, err = ParseMoney(n.Text)
	return err
}

// readDecimal reads up to 12 digits before the point and 6 after it; no
// exponent, so that "1e999999999" cannot ask for a billion zeros.
func readDecimal(s string) (decimal.Decimal, bool) {
	digits, point := 0, -1
	for i, c := range []byte(s) {
		switch {
		case c >= '0' && c <= '9':
			digits++
		case c == '.' && point < 0:
			point = i
		case c == '-' && i == 0:
		default:
			return decimal.Decimal{}, false
		}
	}
	after := 0
	if point >= 0 {
		after = len(s) - point - 1
	}
	if after > 6 || digits-after > 12 || digits == after || point >= 0 && after == 0 {
		return decimal.Decimal{}, false
	}
	d, err := decimal.NewFromString(s)
	return d, err == nil
}

// JSONSchema is the schema of an amount in a document.
func (*Money) JSONSchema() map[string]any {
	return map[string]any{"type": "string", "pattern": `^(([A-Z]{3}|[$€£]) *)?[0-9]{1,12}(\.[0-9]{1,6}|,[0-9]{1,2})?( *([A-Z]{3}|[$€£]))?$`}
}

// AppendJSON appends the amount as a decimal string with the digits it was
// typed with, and its sign: 48.00 stays 48.00.
func (m Money) AppendJSON(b []byte) []byte {
	places := -m.Exponent()
	if places < 0 {
		places = 0
	}
	return docjson.AppendString(b, m.Sign+m.StringFixed(places))
}

// MarshalJSON implements json.Marshaler.
func (m Money) MarshalJSON() ([]byte, error) { return m.AppendJSON(nil), nil }
