package docjson

import (
	"bytes"
	"fmt"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/slopewright/slopewright/internal/fault"
)

// This reader and the writer beside it stand in for encoding/json, which would
// add 70 kB to what every visitor of the page loads. The tests hold both
// against it.

// Parse reads one JSON value (RFC 8259) and nothing after it. Invalid UTF-8 in
// text becomes U+FFFD. The error is a fault.List whose first entry says where
// in the text the reading stopped, or that lists the fields written twice; in
// the second case the Node is whole.
func Parse(data []byte) (Node, error) {
	if len(data) > MaxBytes {
		return Node{}, fault.List{{
			Problem: fmt.Sprintf("the document has %d bytes; at most %d are read", len(data), MaxBytes),
			Fix:     "leave out what is not part of the plan",
		}}
	}
	p := parser{data: data}
	n, ok := p.value("", 0)
	if ok {
		if p.space(); p.at < len(data) {
			ok = p.fail("there is more text after the end of the document")
		}
	}
	if !ok {
		return Node{}, fault.List{{Problem: p.complaint()}}
	}
	return n, p.faults.Err()
}

type parser struct {
	data   []byte
	at     int
	why    string // what stopped the reading
	faults fault.List
}

func (p *parser) fail(format string, args ...any) bool {
	if p.why == "" {
		p.why = fmt.Sprintf(format, args...)
	}
	return false
}

// complaint says what stopped the reading and where, as line and column.
func (p *parser) complaint() string {
	if len(bytes.TrimSpace(p.data)) == 0 {
		return `the document is empty; a plan is a JSON object that begins {"format": "slopewright.plan/1", …`
	}
	if p.at >= len(p.data) {
		return "the document ends too early: a bracket or a quotation mark is not closed"
	}
	before := p.data[:p.at]
	line := 1 + bytes.Count(before, []byte("\n"))
	column := len(before) - bytes.LastIndexByte(before, '\n')
	return fmt.Sprintf("line %d, column %d: not JSON: %s", line, column, p.why)
}

func (p *parser) space() {
	for p.at < len(p.data) {
		switch p.data[p.at] {
		case ' ', '\t', '\n', '\r':
			p.at++
		default:
			return
		}
	}
}

// next gives the byte that comes next, 0 at the end.
func (p *parser) next() byte {
	if p.at < len(p.data) {
		return p.data[p.at]
	}
	return 0
}

// here names the character that stands where it should not.
func (p *parser) here() string {
	r, _ := utf8.DecodeRune(p.data[p.at:])
	return strconv.Quote(string(r))
}

func (p *parser) value(path string, depth int) (Node, bool) {
	p.space()
	if p.at == len(p.data) {
		return Node{}, p.fail("the text ends")
	}
	switch c := p.data[p.at]; c {
	case '{', '[':
		if depth >= MaxDepth {
			return Node{}, p.fail("%q opens level %d; a plan is at most %d deep", c, depth+1, MaxDepth)
		}
		if p.at++; c == '[' {
			return p.list(path, depth)
		}
		return p.object(path, depth)
	case '"':
		s, ok := p.text()
		return Node{Kind: String, Text: s}, ok
	case 't':
		return Node{Kind: Bool, Bool: true}, p.word("true")
	case 'f':
		return Node{Kind: Bool}, p.word("false")
	case 'n':
		return Node{Kind: Null}, p.word("null")
	}
	return p.number()
}

func (p *parser) word(w string) bool {
	if !bytes.HasPrefix(p.data[p.at:], []byte(w)) {
		return p.fail("%s where a value belongs", p.here())
	}
	p.at += len(w)
	return true
}

func (p *parser) number() (Node, bool) {
	start := p.at
	if p.next() == '-' {
		p.at++
	}
	switch c := p.next(); {
	case c == '0':
		p.at++
	case c >= '1' && c <= '9':
		p.digits()
	default:
		if p.at < len(p.data) {
			p.fail("%s where a value belongs", p.here())
		}
		return Node{}, false
	}
	if p.next() == '.' {
		if p.at++; !p.digits() {
			return Node{}, p.fail("a number ends with its decimal point")
		}
	}
	if c := p.next(); c == 'e' || c == 'E' {
		p.at++
		if c := p.next(); c == '+' || c == '-' {
			p.at++
		}
		if !p.digits() {
			return Node{}, p.fail("a number has no exponent after its e")
		}
	}
	return Node{Kind: Number, Text: string(p.data[start:p.at])}, true
}

func (p *parser) digits() bool {
	start := p.at
	for c := p.next(); c >= '0' && c <= '9'; c = p.next() {
		p.at++
	}
	return p.at > start
}

// text reads a string from its opening quotation mark.
func (p *parser) text() (string, bool) {
	p.at++
	start := p.at
	// Most strings hold nothing to be undone.
	for p.at < len(p.data) {
		c := p.data[p.at]
		if c == '"' {
			p.at++
			return string(p.data[start : p.at-1]), true
		}
		if c == '\\' || c < ' ' || c >= utf8.RuneSelf {
			break
		}
		p.at++
	}
	out := append([]byte(nil), p.data[start:p.at]...)
	for p.at < len(p.data) {
		c := p.data[p.at]
		switch {
		case c == '"':
			p.at++
			return string(out), true
		case c < ' ':
			return "", p.fail("a control character in text; write it as an escape")
		case c == '\\':
			p.at++
			r, ok := p.escape()
			if !ok {
				return "", false
			}
			out = utf8.AppendRune(out, r)
		case c < utf8.RuneSelf:
			out = append(out, c)
			p.at++
		default:
			r, size := utf8.DecodeRune(p.data[p.at:])
			out = utf8.AppendRune(out, r)
			p.at += size
		}
	}
	return "", p.fail("text is not closed")
}

// escape reads what follows a backslash.
func (p *parser) escape() (rune, bool) {
	c := p.next()
	p.at++
	switch c {
	case '"', '\\', '/':
		return rune(c), true
	case 'b':
		return '\b', true
	case 'f':
		return '\f', true
	case 'n':
		return '\n', true
	case 'r':
		return '\r', true
	case 't':
		return '\t', true
	case 'u':
		r, ok := p.hex()
		if !ok {
			return 0, false
		}
		if utf16.IsSurrogate(r) {
			if bytes.HasPrefix(p.data[p.at:], []byte(`\u`)) {
				back := p.at
				p.at += 2
				low, ok := p.hex()
				if !ok {
					return 0, false
				}
				if both := utf16.DecodeRune(r, low); both != utf8.RuneError {
					return both, true
				}
				p.at = back
			}
			return utf8.RuneError, true
		}
		return r, true
	}
	p.at--
	if p.at < len(p.data) {
		p.fail("%s after a backslash", p.here())
	}
	return 0, false
}

func (p *parser) hex() (rune, bool) {
	if len(p.data)-p.at < 4 {
		p.at = len(p.data)
		return 0, false
	}
	v, err := strconv.ParseUint(string(p.data[p.at:p.at+4]), 16, 16)
	if err != nil {
		return 0, p.fail(`four hexadecimal digits belong after \u`)
	}
	p.at += 4
	return rune(v), true
}

func (p *parser) list(path string, depth int) (Node, bool) {
	n := Node{Kind: List}
	if p.space(); p.next() == ']' {
		p.at++
		return n, true
	}
	for {
		v, ok := p.value(path+"["+strconv.Itoa(len(n.Items))+"]", depth+1)
		if !ok {
			return n, false
		}
		n.Items = append(n.Items, v)
		if done, ok := p.after(']'); !ok || done {
			return n, ok
		}
	}
}

// after reads the comma or the bracket that follows an entry.
func (p *parser) after(close byte) (done, ok bool) {
	p.space()
	switch c := p.next(); {
	case c == close && p.at < len(p.data):
		p.at++
		return true, true
	case c == ',':
		p.at++
		return false, true
	case p.at < len(p.data):
		p.fail("%s where a comma or %q belongs", p.here(), close)
	}
	return false, false
}

func (p *parser) object(path string, depth int) (Node, bool) {
	n := Node{Kind: Object}
	if p.space(); p.next() == '}' {
		p.at++
		return n, true
	}
	seen := map[string]bool{}
	for {
		if p.space(); p.next() != '"' {
			if p.at < len(p.data) {
				p.fail("%s where a field name in quotation marks belongs", p.here())
			}
			return n, false
		}
		name, ok := p.text()
		if !ok {
			return n, false
		}
		if p.space(); p.next() != ':' {
			if p.at < len(p.data) {
				p.fail("%s where a colon belongs", p.here())
			}
			return n, false
		}
		p.at++
		v, ok := p.value(fault.Join(path, name), depth+1)
		if !ok {
			return n, false
		}
		if seen[name] {
			if len(p.faults) < MaxFaults {
				p.faults.Add(fault.Join(path, fault.Shorten(name)), "", "is written twice", "keep one of the two")
			}
		} else {
			seen[name] = true
			n.Fields = append(n.Fields, Field{name, v})
		}
		if done, ok := p.after('}'); !ok || done {
			return n, ok
		}
	}
}
