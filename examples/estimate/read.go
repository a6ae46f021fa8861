package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"sort"

	"github.com/martinlindhe/unit"
	"github.com/shopspring/decimal"

	"github.com/slopewright/slopewright/stair"
)

// object reads a JSON object field by field. It goes on past what will not do
// and collects it, so that a job is told all its faults at once; a value that
// is not there or will not do stays what it was.
type object struct {
	at     string // its path with a dot, "" for the job itself
	fields map[string]json.RawMessage
	faults *stair.Faults
}

// readObject takes an object apart; ok is false when it is none.
func readObject(at string, raw []byte, faults *stair.Faults) (o object, ok bool) {
	o = object{at: at, faults: faults}
	if at != "" {
		o.at += "."
	}
	err := json.Unmarshal(raw, &o.fields)
	if err == nil && o.fields != nil {
		return o, true
	}
	problem := "is not a JSON object"
	if syntax, is := err.(*json.SyntaxError); is {
		problem = fmt.Sprintf("is not JSON: %v, at byte %d", syntax, syntax.Offset)
	}
	faults.Add(at, string(raw), problem, `write an object, as {"rise": 1.8}`)
	return o, false
}

// end finds what nobody has asked for.
func (o object) end() {
	var names []string
	for name := range o.fields {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		o.add(name, string(o.fields[name]), "is not a field here", "leave it out; estimate -h lists the fields")
	}
}

func (o object) add(name, got, problem, fix string) { o.faults.Add(o.at+name, got, problem, fix) }

// take is a field's value. Null is as if it were not there.
func (o object) take(name string, need bool) (json.RawMessage, bool) {
	raw, ok := o.fields[name]
	delete(o.fields, name)
	if ok = ok && !bytes.Equal(raw, []byte("null")); !ok && need {
		o.add(name, "", "is missing", "write it; estimate -h says what it is")
	}
	return raw, ok
}

// read decodes a field into of, which wants what.
func (o object) read(name string, need bool, of any, what string) bool {
	raw, ok := o.take(name, need)
	if ok && json.Unmarshal(raw, of) != nil {
		o.add(name, string(raw), "is not "+what, "write "+what)
		ok = false
	}
	return ok
}

func (o object) number(name string, need bool, of *float64, least, most float64, what string) {
	x := *of
	if !o.read(name, need, &x, what) {
		return
	}
	if math.IsNaN(x) || x < least || x > most {
		o.add(name, fmt.Sprint(x), fmt.Sprintf("is not from %v to %v", least, most), fmt.Sprintf("write %s from %v to %v", what, least, most))
		return
	}
	*of = x
}

func (o object) length(name string, need bool, of *unit.Length, least, most float64) {
	x := of.Meters()
	o.number(name, need, &x, least, most, "a number of metres")
	*of = unit.Length(x) * unit.Meter
}

func (o object) count(name string, of *int, least, most int) {
	x := float64(*of)
	o.number(name, false, &x, float64(least), float64(most), "a whole number")
	if x != math.Trunc(x) {
		o.add(name, fmt.Sprint(x), "is not a whole number", fmt.Sprintf("write %v or %v", math.Floor(x), math.Ceil(x)))
		return
	}
	*of = int(x)
}

func (o object) text(name string, need bool, of *string) bool {
	return o.read(name, need, of, "a text in quotes")
}

// maxDecimal is the longest decimal that is read.
const maxDecimal = 40

// decimal reads a number in quotes, so that no cent is lost on the way here.
func (o object) decimal(name string, need bool, of *decimal.Decimal) {
	const what = `a decimal in quotes, as "12.50"`
	var text string
	if !o.read(name, need, &text, what) {
		return
	}
	if len(text) > maxDecimal { // reading figures takes the square of their number
		o.add(name, text, fmt.Sprintf("is longer than %d characters", maxDecimal), "write "+what)
		return
	}
	d, err := decimal.NewFromString(text)
	if err != nil {
		o.add(name, text, "is not a decimal", "write "+what)
		return
	}
	*of = d
}

// object reads an object within this one.
func (o object) object(name string, read func(object)) {
	if raw, ok := o.take(name, false); ok {
		if inner, ok := readObject(o.at+name, raw, o.faults); ok {
			read(inner)
			inner.end()
		}
	}
}

// list reads a list of objects.
func (o object) list(name string, need bool, read func(i int, x object)) {
	var list []json.RawMessage
	if !o.read(name, need, &list, "a list") {
		return
	}
	for i, raw := range list {
		if inner, ok := readObject(fmt.Sprintf("%s%s[%d]", o.at, name, i), raw, o.faults); ok {
			read(i, inner)
			inner.end()
		}
	}
}
