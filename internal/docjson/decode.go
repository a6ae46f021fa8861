package docjson

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/slopewright/slopewright/internal/fault"
)

// Scalar is a type that reads itself from one JSON value: a length, a slope, an
// amount of money. ReadNode returns what is wrong with the value, its Field
// empty, or nil. JSONSchema is the schema of the values it takes.
type Scalar interface {
	ReadNode(Node) error
	JSONSchema() map[string]any
}

// Unitary is a Scalar that is told first which unit its field is in, by the tag unit.
type Unitary interface{ In(unit string) }

// Ranged is a Scalar whose SI value can be held against a range tag. Bound
// writes a bound of the range as a person would read it.
type Ranged interface {
	SI() float64
	Bound(si float64) string
}

// Decode reads a document into out, a pointer to a struct. The error is a
// fault.List of everything that is wrong.
func Decode(n Node, out any) error {
	d := decoder{root: "a " + strings.ToLower(reflect.TypeOf(out).Elem().Name())}
	d.object("", n, reflect.ValueOf(out).Elem(), "")
	if d.more > 0 {
		d.faults.Addf("", "and %d more faults", d.more)
	}
	return d.faults.Err()
}

type decoder struct {
	root   string // what the whole is, for people: a plan, a request
	faults fault.List
	more   int
}

// seen are the structs whose tags were read.
var seen sync.Map

// tagsIn reads the tags of a struct once: a list has thousands of one type, and
// documents come one after the other.
func tagsIn(t reflect.Type) []tags {
	if all, ok := seen.Load(t); ok {
		return all.([]tags)
	}
	all := make([]tags, t.NumField())
	for i := range all {
		all[i] = tagsOf(t.Field(i))
	}
	seen.Store(t, all)
	return all
}

func (d *decoder) fault(field, got, problem, fix string) {
	d.put(fault.Fault{Field: field, Got: got, Problem: problem, Fix: fix})
}

func (d *decoder) put(f fault.Fault) {
	if len(d.faults) >= MaxFaults {
		d.more++
		return
	}
	f.Got = fault.Shorten(f.Got)
	d.faults = append(d.faults, f)
}

// tags are the struct tags of one field, read.
type tags struct {
	name    string
	need    bool
	forAll  bool
	variant bool
	one     []string
	most    int
	scope   string
	doc     string
	unit    string
	has     map[string]bool // variant → needed there
	order   []string
}

func tagsOf(f reflect.StructField) tags {
	t := tags{
		need:    f.Tag.Get("need") == "true",
		variant: f.Tag.Get("variant") == "true",
		scope:   f.Tag.Get("range"),
		doc:     f.Tag.Get("doc"),
		unit:    f.Tag.Get("unit"),
	}
	t.name, _, _ = strings.Cut(f.Tag.Get("json"), ",")
	if s := f.Tag.Get("one"); s != "" {
		t.one = strings.Fields(s)
	}
	t.most, _ = strconv.Atoi(f.Tag.Get("most"))
	s, limited := f.Tag.Lookup("for")
	t.forAll = !limited
	if limited {
		t.has = map[string]bool{}
		for _, v := range strings.Fields(s) {
			name := strings.TrimSuffix(v, "!")
			t.has[name] = name != v
			t.order = append(t.order, name)
		}
	}
	return t
}

// belongs reports whether the field exists in the variant, and whether it is
// needed there.
func (t tags) belongs(variant string) (ok, need bool) {
	if t.forAll || variant == "" {
		return true, t.need
	}
	need, ok = t.has[variant]
	return ok, need
}

func (d *decoder) object(path string, n Node, v reflect.Value, variant string) {
	if n.Kind != Object {
		d.fault(path, n.Describe(), "is not an object", "write { … } with the fields of "+d.placeName(path))
		return
	}
	all := tagsIn(v.Type())
	for _, tag := range all {
		if tag.variant {
			if x, ok := n.Get(tag.name); ok && x.Kind == String && contains(tag.one, x.Text) {
				variant = x.Text
			}
		}
	}
	for _, f := range n.Fields {
		i := indexOf(all, f.Name)
		if i < 0 {
			// A hostile document may hold a million of these: after the first
			// hundred they are only counted.
			if len(d.faults) >= MaxFaults {
				d.more++
				continue
			}
			d.put(fault.Fault{Field: fault.Join(path, fault.Shorten(f.Name)), Problem: noField + d.placeName(path), Fix: d.nearest(f.Name, all, variant), Kind: fault.Stray})
			continue
		}
		tag := all[i]
		if ok, _ := tag.belongs(variant); !ok {
			fix := v.Type().Field(i).Tag.Get("else")
			if fix == "" {
				fix = "leave it out, or choose method " + strings.Join(tag.order, " or ")
			}
			d.fault(fault.Join(path, f.Name), f.Value.Describe(), NotUsed+strconv.Quote(variant), fix)
			continue
		}
		d.value(fault.Join(path, f.Name), f.Value, v.Field(i), tag, variant)
	}
	for _, tag := range all {
		if _, ok := n.Get(tag.name); ok {
			continue
		}
		if ok, need := tag.belongs(variant); ok && need {
			fix := tag.doc
			if len(tag.one) > 0 {
				fix = "write one of " + strings.Join(tag.one, ", ")
			}
			d.fault(fault.Join(path, tag.name), "", "is missing", fix)
		}
	}
}

// indexOf is the index of the field called name, or -1.
func indexOf(all []tags, name string) int {
	for i, t := range all {
		if t.name == name && name != "" { // what no document can name has none
			return i
		}
	}
	return -1
}

func (d *decoder) value(path string, n Node, v reflect.Value, tag tags, variant string) {
	if n.Kind == Null {
		d.fault(path, "null", "is not a value", "leave the field out instead")
		return
	}
	if v.Kind() == reflect.Pointer {
		p := reflect.New(v.Type().Elem())
		before := len(d.faults) + d.more
		d.value(path, n, p.Elem(), tag, variant)
		if len(d.faults)+d.more == before {
			v.Set(p)
		}
		return
	}
	if s, ok := v.Addr().Interface().(Scalar); ok {
		if u, ok := s.(Unitary); ok {
			u.In(tag.unit)
		}
		if err := s.ReadNode(n); err != nil {
			f, _ := err.(fault.Fault)
			if f.Problem == "" {
				f = fault.Fault{Problem: err.Error()}
			}
			f.Field, f.Got = path, orElse(f.Got, n.Describe())
			d.put(f)
			return
		}
		if r, ok := s.(Ranged); ok && tag.scope != "" {
			d.within(path, n.Describe(), r.SI(), tag.scope, r.Bound)
		}
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		d.object(path, n, v, variant)
	case reflect.Slice:
		d.list(path, n, v, tag, variant)
	case reflect.String:
		d.text(path, n, v, tag)
	case reflect.Bool:
		if n.Kind != Bool {
			d.fault(path, n.Describe(), "is neither true nor false", "write true or false, without quotation marks")
			return
		}
		v.SetBool(n.Bool)
	case reflect.Int:
		x, err := strconv.ParseInt(n.Text, 10, 32)
		if n.Kind != Number || err != nil {
			d.fault(path, n.Describe(), "is not a whole number", "write one such as 4, without quotation marks")
			return
		}
		if d.within(path, n.Text, float64(x), tag.scope, plain) {
			v.SetInt(x)
		}
	case reflect.Float64:
		x, err := strconv.ParseFloat(n.Text, 64)
		if n.Kind != Number || err != nil {
			d.fault(path, n.Describe(), "is not a number", "write one such as 1.5, without quotation marks")
			return
		}
		if d.within(path, n.Text, x, tag.scope, plain) {
			v.SetFloat(x)
		}
	default:
		panic("docjson: no reading for " + v.Type().String())
	}
}

func (d *decoder) list(path string, n Node, v reflect.Value, tag tags, variant string) {
	if n.Kind != List {
		d.fault(path, n.Describe(), "is not a list", "write [ … ]")
		return
	}
	if tag.most > 0 && len(n.Items) > tag.most {
		d.fault(path, fmt.Sprintf("%d entries", len(n.Items)), "is too long", fmt.Sprintf("at most %d are read", tag.most))
		return
	}
	out := reflect.MakeSlice(v.Type(), len(n.Items), len(n.Items))
	inner := tag
	inner.scope = ""
	inner.most = 0
	for i, item := range n.Items {
		d.value(path+"["+strconv.Itoa(i)+"]", item, out.Index(i), inner, variant)
	}
	v.Set(out)
}

func (d *decoder) text(path string, n Node, v reflect.Value, tag tags) {
	if n.Kind != String {
		d.fault(path, n.Describe(), "is not text", "write it in quotation marks")
		return
	}
	if len(tag.one) > 0 && !contains(tag.one, n.Text) {
		d.fault(path, n.Text, NoChoice, fault.OneOf(n.Text, tag.one))
		return
	}
	most := tag.most
	if most == 0 {
		most = 200
	}
	if utf8.RuneCountInString(n.Text) > most {
		d.fault(path, n.Text, "is too long", fmt.Sprintf("at most %d characters are kept", most))
		return
	}
	v.SetString(n.Text)
}

// within holds x against a range such as "(0,200]"; an empty range allows every
// finite number.
func (d *decoder) within(path, got string, x float64, scope string, bound func(float64) string) bool {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		d.fault(path, got, "is not a finite number", "")
		return false
	}
	if scope == "" {
		return true
	}
	r := parseRange(scope)
	if (x > r.low || !r.openLow && x == r.low) && (x < r.high || !r.openHigh && x == r.high) {
		return true
	}
	from := "from "
	if r.openLow {
		from = "more than "
	}
	to := " to "
	if r.openHigh {
		to = " to less than "
	}
	d.fault(path, got, "is out of range", "write a value "+from+bound(r.low)+to+bound(r.high))
	return false
}

type interval struct {
	low, high         float64
	openLow, openHigh bool
}

func parseRange(s string) interval {
	low, high, ok := strings.Cut(strings.Trim(s, "()[]"), ",")
	a, err1 := strconv.ParseFloat(low, 64)
	b, err2 := strconv.ParseFloat(high, 64)
	if !ok || err1 != nil || err2 != nil {
		panic("docjson: bad range tag " + s)
	}
	return interval{a, b, s[0] == '(', s[len(s)-1] == ')'}
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// nearest suggests the field that was probably meant, or lists those there are.
func (d *decoder) nearest(name string, all []tags, variant string) string {
	var names []string
	for _, tag := range all {
		if ok, _ := tag.belongs(variant); ok && tag.name != "" {
			names = append(names, tag.name)
		}
	}
	if best := fault.Nearest(name, names, 2); best != "" {
		return "perhaps " + best + " was meant"
	}
	return "the fields here are " + strings.Join(names, ", ")
}

func (d *decoder) placeName(path string) string {
	switch path {
	case "":
		return d.root
	case "plan": // of a request
		return "a plan"
	}
	return path
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func orElse(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
