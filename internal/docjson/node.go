// Package docjson reads JSON documents into Go structs in a way that suits
// documents people write by hand: every fault is found in one reading, each
// with the path of its field; unknown and repeated fields are faults; size,
// depth and the number of faults are bounded. From the same Go types it makes
// the JSON Schema that is published, so that the two cannot drift apart.
//
// The struct tags it understands:
//
//	json:"name"            the field's name; every field needs one
//	need:"true"            the field must be there
//	for:"string! levels"   the field belongs to these variants (values of the
//	                       enclosing field tagged variant:"true"); ! = needed there
//	variant:"true"         this string field names the variant
//	one:"a b c"            the string must be one of these
//	range:"(0,200]"        numbers and lengths: the interval allowed, SI units
//	most:"40"              greatest length of a string or of a list
//	doc:"…"                one sentence for the schema, with the default
package docjson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/slopewright/slopewright/internal/fault"
)

// Bounds on what is read. A plan of a thousand readings is under 100 kB.
const (
	MaxBytes  = 4 << 20
	MaxDepth  = 16
	MaxFaults = 100
)

// Kind is what a JSON value is.
type Kind int

// The kinds of a JSON value.
const (
	Null Kind = iota
	Bool
	Number
	String
	List
	Object
)

// Node is one JSON value.
type Node struct {
	Kind   Kind
	Bool   bool
	Text   string // of a String; the literal of a Number
	Items  []Node // of a List
	Fields []Field
}

// Field is one member of an object, in the order written.
type Field struct {
	Name  string
	Value Node
}

// Get returns the member called name.
func (n Node) Get(name string) (Node, bool) {
	for _, f := range n.Fields {
		if f.Name == name {
			return f.Value, true
		}
	}
	return Node{}, false
}

// Describe names the value for a message.
func (n Node) Describe() string {
	switch n.Kind {
	case Null:
		return "null"
	case Bool:
		if n.Bool {
			return "true"
		}
		return "false"
	case Number, String:
		return n.Text
	case List:
		return "a list"
	}
	return "an object"
}

// Parse reads one JSON value and nothing after it. The error is a fault.List
// whose first entry says where in the text the reading stopped.
func Parse(data []byte) (Node, error) {
	if len(data) > MaxBytes {
		return Node{}, fault.List{{
			Problem: fmt.Sprintf("the document has %d bytes; at most %d are read", len(data), MaxBytes),
			Fix:     "leave out what is not part of the plan",
		}}
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	p := parser{d: d}
	n, err := p.value("", 0)
	if err == nil {
		if _, e := d.Token(); !errors.Is(e, io.EOF) {
			err = errors.New("there is more text after the end of the document")
		}
	}
	if err != nil {
		return Node{}, fault.List{{Problem: place(data, d.InputOffset(), err)}}
	}
	return n, p.faults.Err()
}

// place says what stopped the reading and where, as line and column.
func place(data []byte, at int64, err error) string {
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		at = syntax.Offset
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		if len(bytes.TrimSpace(data)) == 0 {
			return "the document is empty; a plan is a JSON object that begins {\"format\": \"slopewright.plan/1\", …"
		}
		return "the document ends too early: a bracket or a quotation mark is not closed"
	}
	if at > int64(len(data)) {
		at = int64(len(data))
	}
	before := data[:at]
	line := 1 + bytes.Count(before, []byte("\n"))
	column := len(before) - bytes.LastIndexByte(before, '\n') - 1
	text := err.Error()
	text = strings.TrimPrefix(text, "json: ")
	return fmt.Sprintf("line %d, column %d: not JSON: %s", line, column, text)
}

type parser struct {
	d      *json.Decoder
	faults fault.List
}

func (p *parser) value(path string, depth int) (Node, error) {
	t, err := p.d.Token()
	if err != nil {
		return Node{}, err
	}
	if delim, ok := t.(json.Delim); ok && depth >= MaxDepth {
		return Node{}, fmt.Errorf("%q opens level %d; a plan is at most %d deep", delim.String(), depth+1, MaxDepth)
	}
	switch v := t.(type) {
	case nil:
		return Node{Kind: Null}, nil
	case bool:
		return Node{Kind: Bool, Bool: v}, nil
	case json.Number:
		return Node{Kind: Number, Text: v.String()}, nil
	case string:
		return Node{Kind: String, Text: v}, nil
	case json.Delim:
		if v == '[' {
			return p.list(path, depth)
		}
		return p.object(path, depth)
	}
	return Node{}, fmt.Errorf("unexpected %v", t)
}

func (p *parser) list(path string, depth int) (Node, error) {
	n := Node{Kind: List}
	for p.d.More() {
		v, err := p.value(fmt.Sprintf("%s[%d]", path, len(n.Items)), depth+1)
		if err != nil {
			return n, err
		}
		n.Items = append(n.Items, v)
	}
	_, err := p.d.Token()
	return n, err
}

func (p *parser) object(path string, depth int) (Node, error) {
	n := Node{Kind: Object}
	seen := map[string]bool{}
	for p.d.More() {
		t, err := p.d.Token()
		if err != nil {
			return n, err
		}
		name, ok := t.(string)
		if !ok {
			return n, fmt.Errorf("%v where a field name belongs", t)
		}
		v, err := p.value(fault.Join(path, name), depth+1)
		if err != nil {
			return n, err
		}
		if seen[name] {
			if len(p.faults) < MaxFaults {
				p.faults.Add(fault.Join(path, fault.Shorten(name)), "", "is written twice", "keep one of the two")
			}
			continue
		}
		seen[name] = true
		n.Fields = append(n.Fields, Field{name, v})
	}
	_, err := p.d.Token()
	return n, err
}
