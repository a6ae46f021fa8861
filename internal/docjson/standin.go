package docjson

import (
	"math"
	"reflect"
	"strconv"
	"strings"
)

// Settable is a Ranged that can be given a value, in SI units.
type Settable interface {
	Ranged
	SetSI(float64)
}

// StandIns is how many different values StandIn has for a field.
const StandIns = 3

// StandIn gives the field at path of what out points to, a struct, one of several
// values that its tags allow, so that what does not depend on the field can be told
// from what does. In a list a measure lies between those of the entries beside it. It
// reports whether there is such a field and it holds one value.
func StandIn(out any, path string, which int) bool {
	v := reflect.ValueOf(out).Elem()
	var list reflect.Value // the last one on the way, and where in it
	at := 0
	for {
		part, rest, more := strings.Cut(path, ".")
		name, indexes, _ := strings.Cut(part, "[")
		if v.Kind() != reflect.Struct {
			return false
		}
		i := indexOf(tagsIn(v.Type()), name)
		if i < 0 {
			return false
		}
		tag := tagsIn(v.Type())[i]
		v = v.Field(i)
		for indexes != "" {
			n, _, _ := strings.Cut(indexes, "]")
			_, indexes, _ = strings.Cut(indexes, "[")
			k, err := strconv.Atoi(n)
			if err != nil || v.Kind() != reflect.Slice || k < 0 || k >= v.Len() {
				return false
			}
			list, at = v, k
			v = v.Index(k)
			tag.scope = ""
		}
		if v.Kind() == reflect.Pointer {
			if v.IsNil() {
				v.Set(reflect.New(v.Type().Elem()))
			}
			v = v.Elem()
		}
		if !more {
			var beside [2]float64
			of := 0
			if list.IsValid() {
				beside, of = besides(list, at, name)
			}
			return standIn(v, tag, which, beside, of)
		}
		path = rest
	}
}

// At is a pointer to what out, a pointer to a struct, has at path, or nil where it has
// nothing.
func At(out any, path string) any {
	v := reflect.ValueOf(out).Elem()
	for _, name := range strings.FieldsFunc(path, func(c rune) bool { return c == '.' || c == '[' || c == ']' }) {
		if v.Kind() == reflect.Pointer {
			v = v.Elem() // of a nil one, nothing
		}
		i := -1
		switch v.Kind() {
		case reflect.Struct:
			if i = indexOf(tagsIn(v.Type()), name); i >= 0 {
				v = v.Field(i)
			}
		case reflect.Slice:
			var err error
			if i, err = strconv.Atoi(name); err != nil || i >= v.Len() {
				return nil
			}
			if i >= 0 {
				v = v.Index(i)
			}
		}
		if i < 0 {
			return nil
		}
	}
	if v.Kind() == reflect.Pointer {
		return v.Interface()
	}
	return v.Addr().Interface()
}

// besides is a measure of the nearest entries before and after one that have it, and
// which of the two there are.
func besides(list reflect.Value, at int, name string) (beside [2]float64, of int) {
	for side, step := range [...]int{-1, 1} {
		for k := at + step; k >= 0 && k < list.Len(); k += step {
			x := list.Index(k)
			if x.Kind() != reflect.Struct {
				return beside, of
			}
			i := indexOf(tagsIn(x.Type()), name)
			if i < 0 {
				return beside, of
			}
			x = x.Field(i)
			if x.Kind() == reflect.Pointer && !x.IsNil() {
				x = x.Elem()
			}
			if s, ok := x.Addr().Interface().(Settable); ok {
				beside[side] = s.SI()
				of |= 1 << side
				break
			}
		}
	}
	return beside, of
}

func standIn(v reflect.Value, tag tags, which int, beside [2]float64, of int) bool {
	x := [StandIns]float64{0.3, 1.1, 7}[which]
	part := float64(which+1) / (StandIns + 1)
	switch of {
	case 1:
		x += beside[0]
	case 2:
		x = beside[1] - x
	case 3:
		x = beside[0] + float64((beside[1]-beside[0])*part)
	}
	if tag.scope != "" {
		r := parseRange(tag.scope)
		least, most := r.low+float64(0.02*(r.high-r.low)), r.high-float64(0.02*(r.high-r.low))
		if of == 0 && which == StandIns-1 {
			x = most
		}
		x = math.Max(least, math.Min(most, x))
	}
	switch s := v.Addr().Interface().(type) {
	case Settable:
		s.SetSI(x)
		return true
	case Scalar:
		n := Node{Kind: Number, Text: strconv.Itoa(which + 1)}
		if s.ReadNode(n) != nil {
			n.Kind = String // an amount of money
		}
		return s.ReadNode(n) == nil
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(strconv.Itoa(which))
		if n := len(tag.one); n > 0 {
			v.SetString(tag.one[which*(n-1)/(StandIns-1)])
		}
	case reflect.Bool:
		v.SetBool(which == 1)
	case reflect.Int:
		v.SetInt(int64(math.Ceil(x)))
	case reflect.Float64:
		v.SetFloat(x)
	default:
		return false
	}
	return true
}
