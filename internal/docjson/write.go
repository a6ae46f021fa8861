package docjson

import (
	"errors"
	"maps"
	"math"
	"reflect"
	"sort"
	"strconv"
	"strings"
	"sync/atomic"
	"unicode/utf8"
)

// Writer is a type that writes itself as JSON: appended to b.
type Writer interface{ AppendJSON(b []byte) []byte }

var errNumber = errors.New("a number is infinite or none at all, which JSON cannot hold")

// Marshal writes a value as JSON the way encoding/json does, with the same
// struct tags (name, omitempty, omitzero), but <, > and & as they are. It takes
// structs, pointers, slices, maps from strings, and what is a number, a string
// or a bool; a type that is a [Writer] writes itself. A nonzero indent puts each
// entry on a line of its own, that many spaces deeper than what holds it.
func Marshal(v any, indent int) ([]byte, error) {
	w := writer{indent: indent}
	w.value(reflect.ValueOf(v))
	return w.b, w.err
}

// MarshalRounded is [Marshal] with numbers as [Round] has them.
func MarshalRounded(v any, indent int) ([]byte, error) {
	w := writer{indent: indent, round: true}
	w.value(reflect.ValueOf(v))
	return w.b, w.err
}

// Round is x to twelve significant digits and to no more than twelve decimals, as
// exactly as a float64 can be that; -0 is 0. In SI that is finer than anything can be
// built or measured, and 1.1999999999999993 is 1.2 again.
func Round(x float64) float64 {
	const most = 1e12
	a, by := math.Abs(x), most
	for limit := 1.0; a >= limit && by > 1; limit *= 10 {
		by /= 10
	}
	if !(a < most) { // nor is infinity, or what is no number
		return x
	}
	// A whole number and a power of ten are exact, and so the quotient is as near as can be.
	return math.Round(x*by)/by + 0
}

type writer struct {
	b      []byte
	indent int
	round  bool
	depth  int
	err    error
}

// form is how values of a type are written.
type form struct {
	itself  bool // it is a Writer
	members []member
}

// member is a field of a struct as it is written.
type member struct {
	index               int
	name                string
	omitEmpty, omitZero bool
}

var writes = reflect.TypeFor[Writer]()

// forms are the types that were looked at. It is replaced, not changed, so that
// looking one up, which every value does, takes no lock.
var forms atomic.Pointer[map[reflect.Type]*form]

// form looks at a type once.
func (w *writer) form(t reflect.Type) *form {
	known := forms.Load()
	if known != nil {
		if f := (*known)[t]; f != nil {
			return f
		}
	}
	out := &form{itself: t.Implements(writes)}
	if t.Kind() == reflect.Struct {
		for i := range t.NumField() {
			f := t.Field(i)
			if !f.IsExported() {
				continue
			}
			name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
			if name != "-" {
				out.members = append(out.members, member{i, name, options == "omitempty", options == "omitzero"})
			}
		}
	}
	// One that is added by another at the same time may be lost, and looked at again.
	more := map[reflect.Type]*form{t: out}
	if known != nil {
		maps.Copy(more, *known)
	}
	forms.Store(&more)
	return out
}

// line begins a new line where the document is indented.
func (w *writer) line() {
	if w.indent > 0 {
		w.b = append(w.b, '\n')
		for range w.depth * w.indent {
			w.b = append(w.b, ' ')
		}
	}
}

// entries writes what stands between two brackets, n times.
func (w *writer) entries(open, close byte, n int, entry func(i int)) {
	w.b = append(w.b, open)
	w.depth++
	for i := range n {
		if i > 0 {
			w.b = append(w.b, ',')
		}
		w.line()
		entry(i)
	}
	if w.depth--; n > 0 {
		w.line()
	}
	w.b = append(w.b, close)
}

func (w *writer) name(s string) {
	if w.b = append(AppendString(w.b, s), ':'); w.indent > 0 {
		w.b = append(w.b, ' ')
	}
}

func (w *writer) value(v reflect.Value) {
	if !v.IsValid() {
		w.b = append(w.b, "null"...)
		return
	}
	if k := v.Kind(); (k == reflect.Pointer || k == reflect.Interface) && v.IsNil() {
		w.b = append(w.b, "null"...)
		return
	}
	f := w.form(v.Type())
	if f.itself {
		w.b = v.Interface().(Writer).AppendJSON(w.b)
		return
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		w.value(v.Elem())
	case reflect.Bool:
		w.b = strconv.AppendBool(w.b, v.Bool())
	case reflect.Int, reflect.Int64, reflect.Int32:
		w.b = strconv.AppendInt(w.b, v.Int(), 10)
	case reflect.Float64:
		var ok bool
		x := v.Float()
		if w.round {
			x = Round(x)
		}
		if w.b, ok = AppendFloat(w.b, x); !ok {
			w.err = errNumber
		}
	case reflect.String:
		w.b = AppendString(w.b, v.String())
	case reflect.Slice:
		if v.IsNil() {
			w.b = append(w.b, "null"...)
			return
		}
		w.entries('[', ']', v.Len(), func(i int) { w.value(v.Index(i)) })
	case reflect.Map:
		keys := make([]string, 0, v.Len())
		for _, k := range v.MapKeys() {
			keys = append(keys, k.String())
		}
		sort.Slice(keys, func(i, j int) bool { return keys[i] < keys[j] }) // sort.Strings is 10 kB of the browser's program
		w.entries('{', '}', len(keys), func(i int) {
			w.name(keys[i])
			w.value(v.MapIndex(reflect.ValueOf(keys[i])))
		})
	case reflect.Struct:
		w.object(v, f.members)
	default:
		panic("docjson: no writing for " + v.Type().String())
	}
}

func (w *writer) object(v reflect.Value, members []member) {
	first := true
	w.b = append(w.b, '{')
	w.depth++
	for i := range members {
		m := &members[i]
		x := v.Field(m.index)
		if m.omitEmpty && empty(x) || m.omitZero && x.IsZero() {
			continue
		}
		if !first {
			w.b = append(w.b, ',')
		}
		first = false
		w.line()
		w.name(m.name)
		w.value(x)
	}
	if w.depth--; !first {
		w.line()
	}
	w.b = append(w.b, '}')
}

func empty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Map, reflect.String:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}

// AppendFloat appends a number as ECMAScript writes it, which is also how
// encoding/json does; ok is false where JSON has none.
func AppendFloat(b []byte, x float64) (_ []byte, ok bool) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return b, false
	}
	if a := math.Abs(x); a == 0 || a >= 1e-6 && a < 1e21 {
		return strconv.AppendFloat(b, x, 'f', -1, 64), true
	}
	b = strconv.AppendFloat(b, x, 'e', -1, 64)
	// e-09 is written e-9.
	if n := len(b); n >= 4 && b[n-4] == 'e' && b[n-3] == '-' && b[n-2] == '0' {
		b[n-2] = b[n-1]
		b = b[:n-1]
	}
	return b, true
}

// AppendString appends s as a JSON string. Invalid UTF-8 becomes U+FFFD.
func AppendString(b []byte, s string) []byte {
	const digits = "0123456789abcdef"
	b = append(b, '"')
	for i := 0; i < len(s); {
		c := s[i]
		if c < utf8.RuneSelf {
			i++
			switch {
			case c == '"' || c == '\\':
				b = append(b, '\\', c)
			case c == '\n':
				b = append(b, '\\', 'n')
			case c == '\t':
				b = append(b, '\\', 't')
			case c < ' ' || c == 0x7f:
				b = append(b, '\\', 'u', '0', '0', digits[c>>4], digits[c&15])
			default:
				b = append(b, c)
			}
			continue
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		i += size
		// The two line separators end a line in JavaScript of old.
		if r == '\u2028' || r == '\u2029' {
			b = append(b, `\u202`...)
			b = append(b, digits[r&15])
			continue
		}
		b = utf8.AppendRune(b, r)
	}
	return append(b, '"')
}
